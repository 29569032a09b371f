//! Every code has a page, and both of its examples say what the page says.

use trug_findings::{Code, Finding, Severity};
use trug_plan::Request;
use trug_report::catalogue;
use trug_tests::page::{Block, blocks, paragraphs, texts};
use trug_tests::{answer, balance};

/// Codes that no single text raises, why, and where they are raised instead.
const NOT_IN_A_TEXT: [(&str, &str); 4] = [
    (
        "amount/many",
        "it takes over a thousand lines; `whole/texts.rs` raises it",
    ),
    (
        "syntax/text",
        "bytes that are no text; `whole/texts.rs` raises it",
    ),
    (
        "use/deep",
        "it takes over 64 texts; `whole/texts.rs` raises it",
    ),
    (
        "mix/keeps",
        "it takes an order for a group; `tests/suite/mix.txt` raises it",
    ),
];

fn block(code: &Code, info: &str) -> Option<Block> {
    blocks(code.page)
        .into_iter()
        .find(|block| block.info == info)
}

/// Families whose findings come with a plan.
const PLANNED: [&str; 3] = ["mix", "weigh", "vessel"];

/// Codes that are raised where open amounts are chosen.
const BALANCED: [&str; 1] = ["cost/unknown"];

/// What the tool says of an example: its check, and for the planner's codes the plan of each ration.
fn findings_of(code: &Code, block: &Block) -> Vec<Finding> {
    let owned = texts(block);
    let texts: Vec<_> = owned
        .iter()
        .map(|(path, text)| (path.as_str(), text.as_str()))
        .collect();
    if BALANCED.contains(&code.name) {
        let rations = answer::rations(&texts).into_iter();
        let balanced =
            rations.map(|(path, ration)| balance::balance_in(&texts, &path, &ration).findings);
        return balanced.flatten().collect();
    }
    if !PLANNED.contains(&code.family()) {
        return answer::check(&texts).findings;
    }
    let mut findings = Vec::new();
    for (path, ration) in answer::rations(&texts) {
        findings.extend(answer::plan_in(&texts, &path, &ration, &Request::default()).findings);
    }
    findings
}

fn told(findings: &[Finding]) -> String {
    let line = |it: &Finding| format!("{}[{}] {}", it.severity.word(), it.code.name, it.message);
    findings.iter().map(line).collect::<Vec<_>>().join("; ")
}

#[test]
fn every_code_has_a_page_of_four_parts() {
    for code in catalogue::codes() {
        let name = code.name;
        let prose = paragraphs(code.page);
        let head = format!("# {name}");
        assert_eq!(
            prose.first(),
            Some(&head),
            "the first line of the page of {name}"
        );
        assert!(
            prose.len() >= 3,
            "{name}: what it means, and what to do on the farm"
        );
        let infos: Vec<String> = blocks(code.page).into_iter().map(|it| it.info).collect();
        if !NOT_IN_A_TEXT.iter().any(|(unshown, _)| *unshown == name) {
            assert_eq!(
                infos,
                ["trug wrong", "trug right"],
                "the examples of {name}"
            );
        }
    }
}

#[test]
fn a_wrong_example_raises_its_code_and_nothing_else() {
    let mut wrong = Vec::new();
    for code in catalogue::codes() {
        let Some(block) = block(code, "trug wrong") else {
            continue;
        };
        if NOT_IN_A_TEXT
            .iter()
            .any(|(unshown, _)| *unshown == code.name)
        {
            continue;
        }
        let findings = findings_of(code, &block);
        let raised = findings.iter().any(|it| it.code.name == code.name);
        let is_other = |it: &&Finding| {
            it.is_open() && it.code.name != code.name && it.severity > Severity::Note
        };
        if !raised || findings.iter().any(|it| is_other(&it)) {
            wrong.push(format!("{}: {}", code.name, told(&findings)));
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn a_right_example_raises_nothing() {
    let mut wrong = Vec::new();
    for code in catalogue::codes() {
        let Some(block) = block(code, "trug right") else {
            continue;
        };
        let findings = findings_of(code, &block);
        if !findings.is_empty() {
            wrong.push(format!("{}: {}", code.name, told(&findings)));
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn a_page_says_nothing_that_a_finding_must_not_say() {
    for code in catalogue::codes() {
        for word in ["invalid", "illegal", "unexpected", "please"] {
            let page = code.page.to_lowercase();
            assert!(!page.contains(word), "{} says {word}", code.name);
        }
    }
}
