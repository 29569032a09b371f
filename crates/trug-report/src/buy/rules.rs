//! How a shopping list is counted, in the sentences that stand below it.

use trug_store::Buying;

/// What the tool says of itself; it never calls a feed safe.
pub(super) const CHECKED: &str = "This counts what the texts say is eaten and on hand, and nothing else of it. Product label, \
    veterinarian and local feed law decide what is bought and fed.";

/// By which rules it is counted; only those that matter here.
pub(super) fn rules(buying: &Buying) -> String {
    let now = || buying.fed.iter().filter(|fed| 0 < fed.days);
    let mut rules = Vec::new();
    if now().any(|fed| fed.mix_days.is_some()) {
        rules.push(
            "A mix takes all it needs on its first day, so that day decides by when something must be there; the first mix is made \
             on the first day, the last one is for the days that are left.",
        );
    }
    if now().any(|fed| fed.mix_days.is_none()) {
        rules.push(
            "Where neither group nor ration says how long a mix lasts, it is mixed day by day.",
        );
    }
    rules.push(
        "The lot that expires first is used first, and none after its last good day. What is bought is taken to keep. Feed already \
         mixed counts where a lot of it is written.",
    );
    rules.join(" ")
}
