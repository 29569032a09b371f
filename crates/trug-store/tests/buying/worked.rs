//! Lists worked by hand; the arithmetic stands beside each.

use jiff::civil::date;
use trug_store::{Lasts, WhyLeftOut, WhyUncounted};

use crate::texts::{bought, purchase, q, row};

const STORE: &str = "\
animal duck
ingredient maize \"Maize\"
  price          40 LKR/kg
  sold in        50 kg
ingredient bran
  price          25 LKR/kg
  sold in        40 kg
ingredient shell
ingredient grit
  sold in        10 kg
lot M-1 of maize
  best before    2026-12-01
  on hand        80 kg
lot M-2 of maize
  best before    2026-12-31
  on hand        120 kg
lot B-1 of bran
  best before    2026-12-04
  on hand        60 kg
";

const RATIONS: &str = "\
ration stones
  for            mixing
  shell          75 %
  grit           25 %
ration mash
  for            duck
  intake         150 g/day
  maize          60 %
  bran           30 %
  stones         10 %
";

const GROUP: &str = "\
group pond
  100 duck
  eats           mash
  mix for        at most 10 days
";

#[test]
fn a_month_of_one_flock() {
    // 100 ducks eat 150 g: 15 kg a day. 30 days from 2026-11-25 end on 2026-12-24. A mix of 10 days is 150 kg, made on 11-25,
    // 12-05 and 12-15: maize 90 kg, bran 45 kg, stones 15 kg, which are shell 11.25 kg and grit 3.75 kg.
    let list = bought(&[("f.trug", &format!("{STORE}{RATIONS}{GROUP}"))], 30);
    assert!(list.is_whole() && list.uncounted.is_empty());
    assert_eq!(list.last, date(2026, 12, 24));
    let fed = &list.fed[0];
    assert_eq!(
        (&fed.daily, fed.days, fed.mixes, fed.mix_days),
        (&q("15"), 30, 3, Some(10))
    );

    // Maize: 270 kg. 11-25: 80 of M-1, 10 of M-2. 12-05: 90 of M-2, 20 left. 12-15: these 20, and 70 are short: two sacks of
    // 50 kg for 100 × 40 = 4000, of which 30 kg are left over.
    let maize = row(&list, "maize");
    assert_eq!(
        (&maize.needed, &maize.used, &maize.on_hand),
        (&q("270"), &q("200"), &q("200"))
    );
    let buy = purchase(&list, "maize");
    assert_eq!(
        (buy.by, &buy.short, &buy.mass),
        (date(2026, 12, 15), &q("70"), &q("100"))
    );
    assert_eq!(buy.sacks.as_ref().unwrap().count, q("2"));
    assert_eq!(buy.cost.as_ref().unwrap().amount, q("4000"));
    assert_eq!((&maize.left, &maize.expired), (&q("30"), &q("0")));
    // The next mix is made on 12-25 and takes 90.
    assert_eq!(maize.lasts, Lasts::Until(date(2026, 12, 24)));
    let left: Vec<_> = maize
        .days
        .iter()
        .map(|day| (day.day, day.left.clone()))
        .collect();
    let evening = [
        ("110", date(2026, 11, 25)),
        ("20", date(2026, 12, 5)),
        ("30", date(2026, 12, 15)),
    ];
    assert_eq!(left, evening.map(|(left, day)| (day, q(left))));

    // Bran: 135 kg. 11-25: 45 of B-1. What is left of it, 15, is good to 12-04 and not there on 12-05: 90 are short from then,
    // three sacks of 40 kg for 120 × 25 = 3000, and 30 left over.
    let bran = row(&list, "bran");
    let buy = purchase(&list, "bran");
    assert_eq!(
        (buy.by, &buy.short, &buy.mass),
        (date(2026, 12, 5), &q("90"), &q("120"))
    );
    assert_eq!(
        (&bran.used, &bran.expired, &bran.left),
        (&q("45"), &q("15"), &q("30"))
    );
    let expiring = &list.expiring[0];
    assert_eq!((expiring.lot.as_str(), &expiring.left), ("B-1", &q("15")));
    assert_eq!(expiring.best_before, date(2026, 12, 4));

    // Shell: 33.75 kg and no sack, so 34 kg; no price. Grit: 11.25 kg in sacks of 10 kg: 20 kg.
    let shell = purchase(&list, "shell");
    assert_eq!(
        (&shell.mass, &shell.sacks, &shell.cost),
        (&q("34"), &None, &None)
    );
    assert!(!row(&list, "shell").is_stock_known && maize.is_stock_known);
    assert_eq!(purchase(&list, "grit").mass, q("20"));
    assert!(!list.is_priced());
    assert_eq!(list.totals.len(), 1);
    assert_eq!(list.totals[0].amount, q("7000"));
}

#[test]
fn a_short_last_mix_and_days_that_end() {
    // From 11-28 to 12-09 are 12 days: mixes of 10 and of 2 days. Maize 60 % of 15 kg is 9 kg a day: 90 on 11-28, 18 on 12-08.
    let group = GROUP.replace("mash\n", "mash from 2026-11-28 to 2026-12-09\n");
    let list = bought(&[("f.trug", &format!("{STORE}{RATIONS}{group}"))], 30);
    let maize = row(&list, "maize");
    // 80 of M-1 and 10 of M-2, then 18 of M-2: 92 of M-2 are left, and nothing eats them.
    assert_eq!(
        (&maize.needed, &maize.left, &maize.purchase),
        (&q("108"), &q("92"), &None)
    );
    assert_eq!(maize.lasts, Lasts::Eaten(date(2026, 12, 9)));
    let expiring: Vec<_> = list
        .expiring
        .iter()
        .map(|one| (one.lot.as_str(), one.left.clone()))
        .collect();
    assert_eq!(expiring, [("B-1", q("15")), ("M-2", q("92"))]);
    // What keeps for 4 days is mixed for 4.
    let keeping = RATIONS.replace("intake ", "keeps          4 days\n  intake ");
    let list = bought(&[("f.trug", &format!("{STORE}{keeping}{group}"))], 30);
    assert_eq!((list.fed[0].mixes, list.fed[0].mix_days), (3, Some(4)));
    // And where nothing says, day by day.
    let daily = group.replace("  mix for        at most 10 days\n", "");
    let list = bought(&[("f.trug", &format!("{STORE}{RATIONS}{daily}"))], 30);
    assert_eq!((list.fed[0].mixes, list.fed[0].mix_days), (12, None));
}

#[test]
fn what_comes_on_top_is_bought_too() {
    // 1 kg/t on top of the 100 %: of 100.1 kg finished feed it is 0.1 kg. 15 kg a day for 10 days are 150 kg.
    let mash = RATIONS.replace(
        "  stones         10 %\n",
        "  stones         10 %\n  salt 1 kg/t on top\n",
    );
    let text = format!("{STORE}ingredient salt\n  sold in 1 kg\n{mash}{GROUP}");
    let list = bought(&[("f.trug", &text)], 10);
    assert_eq!(row(&list, "salt").needed, q("150") * q("1/1001"));
    assert_eq!(row(&list, "maize").needed, q("150") * q("600/1001"));
}

#[test]
fn a_named_lot_is_kept_for_the_line_that_names_it() {
    // Two flocks eat 5 kg maize a day each; one names F-1, which has 40 kg. 8 days need 40 of F-1, so the other takes from F-2 alone.
    let text = "\
animal duck
ingredient maize
  sold in        10 kg
lot F-1 of maize
  best before    2026-12-10
  on hand        40 kg
lot F-2 of maize
  on hand        30 kg
ration named
  for            duck
  intake         100 g/day
  maize          100 % lot F-1
ration plain
  for            duck
  intake         100 g/day
  maize          100 %
group first
  50 duck
  eats           plain
group second
  50 duck
  eats           named
";
    let list = bought(&[("f.trug", text)], 8);
    let maize = row(&list, "maize");
    // plain: 40 needed, 30 of F-2, 10 short on the seventh day.
    let buy = purchase(&list, "maize");
    assert_eq!(
        (&maize.used, &buy.short, buy.by),
        (&q("70"), &q("10"), date(2026, 12, 1))
    );
    assert_eq!(buy.instead_of, []);
    // For 6 days F-1 is needed for 30, and its other 10 go first: they expire first.
    let list = bought(&[("f.trug", text)], 6);
    assert!(row(&list, "maize").purchase.is_none());
    assert_eq!(row(&list, "maize").left, q("10"));
    // For 10 days 10 kg of F-1 are missing; F-2 is not taken in its place.
    let list = bought(&[("f.trug", text)], 10);
    let buy = purchase(&list, "maize");
    assert_eq!(buy.instead_of, [("F-1".into(), q("10"))]);
    assert_eq!((&buy.short, &buy.mass), (&q("30"), &q("30")));
}

#[test]
fn what_is_mixed_ahead_is_used_first() {
    // 150 kg of mash on the first day hold 15 kg of stones, of which 12 are there; 3 are opened up: shell 2.25, grit 0.75. Of
    // mash itself 50 kg are there, so only 100 kg are mixed: 10 kg of stones, all of them there.
    let lots = "lot S-1 of stones\n  on hand 12 kg\n";
    let text = format!("{STORE}{lots}{RATIONS}{GROUP}");
    let list = bought(&[("f.trug", &text)], 10);
    assert_eq!(row(&list, "shell").needed, q("2.25"));
    assert_eq!(row(&list, "grit").needed, q("0.75"));
    assert_eq!(
        (&list.mixed[0].on_hand, &list.mixed[0].used),
        (&q("12"), &q("12"))
    );
    let text = format!("{text}lot A-1 of mash\n  on hand 50 kg\n");
    let list = bought(&[("f.trug", &text)], 10);
    assert_eq!(row(&list, "maize").needed, q("60"));
    assert!(!list.rows.iter().any(|row| row.name == "shell"));
}

#[test]
fn lots_that_come_later_are_past_or_unseen() {
    let lots = "\
lot M-3 of maize
  best before    2026-11-24
  on hand        500 kg
lot M-4 of maize
  received       2026-12-15
  on hand        60 kg
";
    let text = format!("{STORE}{lots}{RATIONS}{GROUP}");
    let other = "use \"f.trug\"\nlot M-9 of maize\n  on hand 900 kg\n";
    let list = bought(&[("f.trug", &text), ("g.trug", other)], 30);
    let maize = row(&list, "maize");
    // As above, but 60 of the 70 come on the day they are needed; what was past its day yesterday counts for nothing.
    assert_eq!((&maize.on_hand, &maize.coming), (&q("200"), &q("60")));
    assert_eq!(purchase(&list, "maize").short, q("10"));
    assert_eq!(
        (list.expiring[0].lot.as_str(), &list.expiring[0].left),
        ("M-3", &q("500"))
    );
    let left_out = &list.left_out[0];
    assert_eq!(
        (left_out.lot.as_str(), left_out.why),
        ("M-9", WhyLeftOut::NotSeen)
    );
    // A lot whose last good day cannot be read is not taken for one that keeps.
    let text = text.replace("best before    2026-12-31", "best before    next year");
    let list = bought(&[("f.trug", &text)], 30);
    assert_eq!(
        (list.left_out[0].lot.as_str(), list.left_out[0].why),
        ("M-2", WhyLeftOut::HasErrors)
    );
    assert_eq!(row(&list, "maize").on_hand, q("80"));
}

#[test]
fn what_cannot_be_counted_is_said() {
    let why = |text: &str| {
        let list = bought(&[("f.trug", text)], 30);
        assert!(!list.is_whole(), "{text}");
        list.uncounted[0].why
    };
    let with = |from: &str, to: &str| format!("{STORE}{RATIONS}{GROUP}").replace(from, to);
    assert_eq!(why(&with("60 %", "50 .. 60 %")), WhyUncounted::HasErrors);
    assert_eq!(why(&with("60 %", "61 %")), WhyUncounted::HasErrors);
    assert_eq!(
        why(&with("eats           mash", "eats           mush")),
        WhyUncounted::HasErrors
    );
    assert_eq!(why(&with("  100 duck\n", "")), WhyUncounted::NoAnimals);
    assert_eq!(
        why(&with("  intake         150 g/day\n", "")),
        WhyUncounted::NoIntake
    );
    assert_eq!(why(&with("group pond", "groop pond")), WhyUncounted::Unread);
    assert_eq!(
        why(&with("mix for        at most 10 days", "mix now and then")),
        WhyUncounted::HasErrors
    );
    // What is wrong with one ration stops no other that the group eats.
    let both = with(
        "eats           mash",
        "eats           mash\n  eats           mush 5 g/day",
    );
    let list = bought(&[("f.trug", &both)], 30);
    let stopped: Vec<_> = list
        .uncounted
        .iter()
        .map(|one| one.ration.as_deref())
        .collect();
    assert_eq!((list.fed.len(), stopped), (1, vec![Some("mush")]));
    // What is over, or begins later, stops nothing.
    let over = with("60 %", "61 %").replace("mash\n  mix", "mash to 2026-11-24\n  mix");
    assert!(bought(&[("f.trug", &over)], 30).uncounted.is_empty());
    let later = with("60 %", "61 %").replace("mash\n  mix", "mash from 2026-12-25\n  mix");
    let list = bought(&[("f.trug", &later)], 30);
    assert!(list.is_whole() && list.uncounted[0].is_later);
}

#[test]
fn one_shelf_serves_the_groups_of_several_texts() {
    // Both see the store and its lots; the group that stands in one text is counted once, though both texts are asked for.
    let first = format!("use \"store.trug\"\n{RATIONS}{GROUP}");
    let second =
        "use \"first.trug\"\ngroup bank\n  20 duck\n  eats mash\n  mix for at most 10 days\n";
    let list = bought(
        &[
            ("store.trug", STORE),
            ("first.trug", &first),
            ("second.trug", second),
        ],
        10,
    );
    // 120 ducks: 18 kg a day, 180 kg a mix, of which maize 108.
    assert_eq!(list.fed.len(), 2);
    assert_eq!(row(&list, "maize").needed, q("108"));
    assert_eq!(row(&list, "maize").on_hand, q("200"));
    assert_eq!(row(&list, "maize").left, q("92"));
}

#[test]
fn money_of_other_currencies_is_changed_where_a_rate_leads() {
    let text = format!("{STORE}{RATIONS}{GROUP}").replace("25 LKR/kg", "1 EUR/kg");
    let list = bought(&[("f.trug", &text)], 30);
    // Bran is bought first, for 120 EUR; no rate leads from LKR.
    let totals: Vec<_> = list
        .totals
        .iter()
        .map(|it| (it.currency.as_str(), it.amount.clone()))
        .collect();
    assert_eq!(totals, [("EUR", q("120")), ("LKR", q("4000"))]);
    let list = bought(&[("f.trug", &format!("rate 1 EUR = 400 LKR\n{text}"))], 30);
    let totals: Vec<_> = list
        .totals
        .iter()
        .map(|it| (it.currency.as_str(), it.amount.clone()))
        .collect();
    assert_eq!(totals, [("EUR", q("130"))]);
}
#[test]
fn what_is_eaten_beside_is_bought_where_it_is_sold_or_kept() {
    let with = RATIONS.replace(
        "  maize          60 %",
        "  beside         greens 20 g/day\n  maize          60 %",
    );
    let text = format!("{STORE}ingredient greens \"Greens\"\n{with}{GROUP}");
    // 100 × 20 g × 30 days = 60 kg.
    let list = bought(&[("f.trug", &text)], 30);
    assert_eq!(
        (list.beside[0].name.as_str(), &list.beside[0].mass),
        ("greens", &q("60"))
    );
    let text = text.replace("\"Greens\"\n", "\"Greens\"\n  price 5 LKR/kg\n");
    let list = bought(&[("f.trug", &text)], 30);
    assert!(list.beside.is_empty());
    assert_eq!(
        (
            row(&list, "greens").needed.clone(),
            purchase(&list, "greens").by
        ),
        (q("60"), crate::texts::TODAY)
    );
}
