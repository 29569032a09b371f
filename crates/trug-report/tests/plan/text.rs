//! A plan as a page of text.

use trug_findings::{Code, Place, Severity};
use trug_model::Q;
use trug_report::analysis::Interval;
use trug_report::plan::{Bounded, DoseInterval};
use trug_report::words::columns;

use crate::made_by_hand::{PLANS, about, called, json, page_of, plan, sources};

fn page(name: &str, width: usize) -> String {
    let written = json(name);
    let sources = sources();
    page_of(&plan(&written), &about(&written, &sources), width)
}

#[test]
fn plans_made_by_hand_at_80_columns() {
    for (name, _) in PLANS {
        insta::assert_snapshot!(name, page(name, 80));
    }
}

#[test]
fn no_line_is_wider_than_asked() {
    for (name, _) in PLANS {
        for width in [72, 80, 132] {
            for line in page(name, width).lines() {
                assert!(columns(line) <= width, "{name} at {width}: {line}");
            }
        }
    }
}

/// A draft says so above and below; labels, lots, doses and help stand where they belong.
#[test]
fn a_draft_with_everything() {
    static COARSE: Code = Code::warning("weigh/coarse", "# weigh/coarse\n");
    let written = json("river-layer");
    let sources = sources();
    let mut plan = plan(&written);
    plan.findings.push(
        COARSE
            .at(Place::default())
            .says("bench reads lysine-hcl to 14 %; its dose could be passed")
            .weighing(Severity::Error)
            .help("weigh it on a scale that shows 0.1 g"),
    );
    let mut about = about(&written, &sources);
    about.label = Some("River layer mash".to_owned());
    about
        .labels
        .insert("lysine-hcl".to_owned(), called("L-lysine HCl, feed grade"));
    about
        .labels
        .insert("broken-rice".to_owned(), called("කැඩුනු සහල්"));
    about.doses.push(DoseInterval {
        ingredient: Some("lysine-hcl".to_owned()),
        what: Bounded::Dose { active: None },
        value: Q::ONE,
        unit: "g/kg".to_owned(),
        min: Some(Q::ratio(1, 5)),
        max: Some(Q::int(4)),
        interval: Interval {
            batch: Some((0.9992, 1.0008)),
            portion: Some((0.8, 1.2)),
        },
    });
    about.doses.push(DoseInterval {
        ingredient: None,
        what: Bounded::Law("selenium".to_owned()),
        value: Q::ratio(31, 100),
        unit: "mg/kg".to_owned(),
        min: None,
        max: Some(Q::ratio(1, 2)),
        interval: Interval::default(),
    });
    let text = page_of(&plan, &about, 80);
    assert!(text.starts_with("DRAFT") && text.trim_end().ends_with("under FOUND."));
    insta::assert_snapshot!("draft", text);
}

#[test]
fn what_others_wrote_cannot_steer_the_terminal() {
    let written = json("heap");
    let sources = sources();
    let mut about = about(&written, &sources);
    about
        .labels
        .insert("maize".to_owned(), called("\u{1b}[2Jmaize\u{202e}"));
    let text = page_of(&plan(&written), &about, 80);
    assert!(!text.contains('\u{1b}') && !text.contains('\u{202e}'));
}
