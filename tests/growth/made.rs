//! Rations to plan, to analyse and to ask an editor about, of any size.

use std::fmt::Write as _;

use crate::worst::Texts;

const YARD: &str = "\
nutrient protein in share

animal duck

scale letter 500 g by 0.1 g
scale bench 5 kg by 1 g
scale floor-scale 200 kg by 50 g

vessel cup 9 of 2 L
vessel tub 20 of 60 L

method shovel
  small          below 3 %
  pre-blend      20 %
  step           at most 1 in 20
  weigh          within 2 %
  floor          10 t

";

fn each(count: usize, item: impl Fn(&mut String, usize)) -> String {
    let mut text = String::new();
    for rank in 0..count {
        item(&mut text, rank);
    }
    text
}

fn ingredients(count: usize, lines: &str) -> String {
    each(count, |text, rank| {
        let _ = write!(
            text,
            "ingredient f{rank}\n  protein        9 %\n  bulk-density   0.7 kg/L\n{lines}\n"
        );
    })
}

fn ration(lines: &str) -> String {
    format!(
        "ration mash\n  for            duck\n  mix by         shovel\n  batch          10 t\n{lines}"
    )
}

/// A bulk ingredient a line.
pub(crate) fn bulks(count: usize) -> String {
    let lines = each(count, |text, rank| {
        let _ = writeln!(text, "  f{rank} 1 parts bulk");
    });
    format!("{YARD}{}{}", ingredients(count, ""), ration(&lines))
}

/// Two bulk ingredients, and so many small ones that make up a twentieth.
pub(crate) fn smalls(count: usize) -> String {
    let lines = each(count, |text, rank| {
        let _ = writeln!(text, "  f{rank} {} mg/kg", (40_000 + rank * 7) / count);
    });
    format!(
        "{YARD}{}ingredient maize\n  bulk-density   0.7 kg/L\ningredient bran\n  bulk-density   0.4 kg/L\n\n{}",
        ingredients(count, ""),
        ration(&format!("  maize 60 %\n  bran rest\n{lines}"))
    )
}

/// The same, each apart from the next.
pub(crate) fn pairs_apart(count: usize) -> String {
    let mut text = smalls(2 * count);
    for rank in 0..count {
        let (one, other) = (2 * rank, 2 * rank + 1);
        let head = format!("ingredient f{one}\n");
        text = text.replace(&head, &format!("{head}  apart from f{other}\n"));
    }
    text
}

/// As many ingredients with a dose, a ceiling and a scatter.
pub(crate) fn doses(count: usize) -> String {
    let lines = "  dose           0 .. 900 g/kg\n  ceiling        950 g/kg \"Harms.\"\n";
    let parts = each(count, |text, rank| {
        let _ = writeln!(text, "  f{rank} 1 parts");
    });
    format!("{YARD}{}{}", ingredients(count, lines), ration(&parts))
}

/// As many targets on one ration.
pub(crate) fn targets(count: usize) -> String {
    let targets = each(count, |text, rank| {
        let _ = writeln!(
            text,
            "targets t{rank} for duck\n  protein        at most {} %",
            10 + rank % 80
        );
    });
    let meets = each(count, |text, rank| {
        let _ = writeln!(text, "  meets          t{rank}");
    });
    format!(
        "{YARD}{}{targets}{}",
        ingredients(1, ""),
        ration(&format!("{meets}  f0 100 %\n"))
    )
}

/// A mistake a line.
pub(crate) fn mistakes(count: usize) -> Texts {
    vec![(
        "a.trug".to_owned(),
        format!("ingredient maize\n{}", "  ??? 9 kg\n".repeat(count)),
    )]
}
