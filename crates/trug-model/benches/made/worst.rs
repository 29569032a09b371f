//! The worst inputs known, made to any size: deep, wide, long, with many mistakes, and traps in which small steps multiply.

use std::fmt::Write as _;

/// Texts by their paths.
pub(crate) type Texts = Vec<(String, String)>;

/// A kind of bad input.
pub(crate) struct Worst {
    /// What it is.
    pub(crate) name: &'static str,
    /// Its size at 1×.
    pub(crate) size: usize,
    /// Makes one of so many.
    pub(crate) made: fn(usize) -> Texts,
}

const NUTRIENTS: &str = "nutrient protein in share\nnutrient ame in energy\n\n";

/// Each of them, with its size at 1×: at 10× none is refused for its size alone, and at 100× none is larger than a text may be.
pub(crate) static ALL: [Worst; 27] = [
    worst("rations in rations", 100, rations_in_rations),
    worst("rations in two rations each", 50, diamonds),
    worst("rations like rations", 100, rations_like_rations),
    worst("kinds of animals", 100, kinds_of_animals),
    worst("sums of sums of nutrients", 60, sums_of_sums),
    worst("measures of measures", 100, measures_of_measures),
    worst("a ration of many lines", 100, many_lines),
    worst("bounds on each of many ingredients", 100, bounds_on_each),
    worst("limits of a ration", 100, limits_of_a_ration),
    worst("open amounts", 100, open_amounts),
    worst("doses of many ingredients", 100, doses),
    worst("enemies of many ingredients", 100, enemies),
    worst("many ingredients", 1_000, many_ingredients),
    worst("many lots", 1_000, many_lots),
    worst("many rations", 200, many_rations),
    worst("many targets", 200, many_targets),
    worst("one ingredient on many lines", 100, one_on_many_lines),
    worst("a line of many words", 50_000, a_long_line),
    worst("a long name", 10_000, a_long_name),
    worst("a number of many digits", 50_000, many_digits),
    worst("a long comment", 50_000, a_long_comment),
    worst("unread lines", 1_000, unread_lines),
    worst("unknown names near to known ones", 100, near_names),
    worst("one name declared many times", 1_000, one_name),
    worst("a text that uses many", 30, uses_many),
    worst("a long table", 1_000, a_long_table),
    worst("a table and as many ingredients", 500, a_table_beside),
];

const fn worst(name: &'static str, size: usize, made: fn(usize) -> Texts) -> Worst {
    Worst { name, size, made }
}

fn alone(text: String) -> Texts {
    vec![("a.trug".to_owned(), format!("{NUTRIENTS}{text}"))]
}

/// The text of one item after the other.
fn each(count: usize, item: impl Fn(&mut String, usize)) -> String {
    let mut text = String::new();
    for rank in 0..count {
        item(&mut text, rank);
    }
    text
}

fn ingredients(count: usize, lines: &str) -> String {
    each(count, |text, rank| {
        let _ = write!(text, "ingredient f{rank}\n  protein        9 %\n{lines}");
    })
}

fn ration(lines: &str) -> String {
    format!("animal duck\n\nration mash\n  for            duck\n  batch          100 kg\n{lines}")
}

fn parts(count: usize) -> String {
    each(count, |text, rank| {
        let _ = writeln!(text, "  f{rank} 1 parts");
    })
}

fn rations_in_rations(count: usize) -> Texts {
    let chain = each(count, |text, rank| {
        let _ = writeln!(
            text,
            "ration r{}\n  for mixing\n  batch 100 kg\n  r{rank} 100 %",
            rank + 1
        );
    });
    alone(format!("ingredient r0\n  protein 9 %\n{chain}"))
}

fn diamonds(count: usize) -> Texts {
    let pairs = each(count, |text, rank| {
        for (own, first) in [("a", 50), ("b", 40)] {
            let next = rank + 1;
            let _ = writeln!(
                text,
                "ration {own}{next}\n  for mixing\n  a{rank} {first} %\n  b{rank} rest"
            );
        }
    });
    alone(format!("ingredient a0\ningredient b0\n{pairs}"))
}

fn rations_like_rations(count: usize) -> Texts {
    let chain = each(count, |text, rank| {
        let _ = writeln!(text, "ration r{} like r{rank}\n  batch 2 kg", rank + 1);
    });
    alone(format!(
        "ingredient maize\nration r0\n  for mixing\n  batch 1 kg\n  maize 100 %\n{chain}"
    ))
}

fn kinds_of_animals(count: usize) -> Texts {
    let chain = each(count, |text, rank| {
        let _ = writeln!(text, "animal a{} is a{rank}", rank + 1);
    });
    alone(format!(
        "animal a0\n{chain}ingredient maize\nration mash\n  for a{count}\n  batch 1 kg\n  maize 100 %\n"
    ))
}

/// Each sum holds the two before it, and they the two before those: 2 to the power of their number ways lead down.
fn sums_of_sums(count: usize) -> Texts {
    let chain = each(count, |text, rank| {
        let (next, after) = (2 * rank + 2, 2 * rank + 3);
        let _ = writeln!(text, "nutrient n{next} = n{} + n{}", next - 2, next - 1);
        let _ = writeln!(text, "nutrient n{after} = n{} + n{}", next - 2, next - 1);
    });
    alone(format!(
        "nutrient n0 in share\nnutrient n1 in share\n{chain}ingredient maize\n  n0 0 %\n  n1 0 %\n\
         animal duck\ntargets t for duck\n  n{} at most 5 %\n  n120 at most 5 %\nration mash\n  for duck\n  meets t\n  \
         batch 1 kg\n  maize 100 %\n",
        2 * count
    ))
}

fn measures_of_measures(count: usize) -> Texts {
    let chain = each(count, |text, rank| {
        let _ = writeln!(text, "unit u{} = 2 u{rank}", rank + 1);
    });
    alone(format!(
        "unit u0 = 1 kg\n{chain}ingredient maize\n  sold in 1 u{count}\n"
    ))
}

fn many_lines(count: usize) -> Texts {
    alone(ingredients(count, "") + &ration(&parts(count)))
}

fn bounds_on_each(count: usize) -> Texts {
    alone(ingredients(count, "  at most        70 %\n") + &ration(&parts(count)))
}

fn limits_of_a_ration(count: usize) -> Texts {
    let limits = each(count, |text, rank| {
        let _ = writeln!(text, "  limit f{rank} at most 99 %");
    });
    alone(ingredients(count, "") + &ration(&(parts(count) + &limits)))
}

fn open_amounts(count: usize) -> Texts {
    let lines = each(count, |text, rank| {
        let _ = writeln!(text, "  f{rank} 0 .. 10 %");
    });
    alone(ingredients(count, "  at most        70 %\n") + &ration(&lines))
}

fn doses(count: usize) -> Texts {
    let lines = "  dose           0 .. 700 g/kg\n  ceiling        900 g/kg \"Harms.\"\n";
    alone(ingredients(count, lines) + &ration(&parts(count)))
}

fn enemies(count: usize) -> Texts {
    let enemies = each(count, |text, rank| {
        let next = (rank + 1) % count;
        let _ = writeln!(
            text,
            "ingredient f{rank}\n  apart from     f{next}\n  never with     g{rank}\n\ningredient g{rank}"
        );
    });
    alone(enemies + &ration(&parts(count)))
}

fn many_ingredients(count: usize) -> Texts {
    alone(ingredients(count, ""))
}

fn many_lots(count: usize) -> Texts {
    let lots = each(count, |text, rank| {
        let _ = writeln!(
            text,
            "lot L-{rank} of f0\n  received 2026-10-30\n  best before 2026-11-01\n  on hand 1 kg"
        );
    });
    alone(ingredients(1, "") + &lots + &ration("  f0 100 %\n"))
}

fn many_rations(count: usize) -> Texts {
    let rations = each(count, |text, rank| {
        let _ = writeln!(
            text,
            "ration r{rank}\n  for duck\n  batch 100 kg\n  f0 60 %\n  f1 rest"
        );
    });
    alone(format!("animal duck\n{}{rations}", ingredients(2, "")))
}

fn many_targets(count: usize) -> Texts {
    let sets = each(count, |text, rank| {
        let _ = writeln!(text, "targets t{rank} for duck\n  protein at most 10 %");
    });
    let meets = each(count, |text, rank| {
        let _ = writeln!(text, "  meets t{rank}");
    });
    alone(ingredients(1, "") + &sets + &ration(&format!("  f0 100 %\n{meets}")))
}

fn one_on_many_lines(count: usize) -> Texts {
    alone(ingredients(1, "  at most 100 %\n") + &ration(&"  f0 1 parts\n".repeat(count)))
}

fn a_long_line(count: usize) -> Texts {
    alone(format!(
        "ingredient maize\n  protein 9 % {}\n",
        "x ".repeat(count / 2)
    ))
}

fn a_long_name(count: usize) -> Texts {
    let name = "m".repeat(count);
    alone(format!(
        "ingredient {name}\n{}",
        ration(&format!("  {name} 100 %\n"))
    ))
}

fn many_digits(count: usize) -> Texts {
    alone(format!(
        "ingredient maize\n  protein {} %\n",
        "1".repeat(count)
    ))
}

fn a_long_comment(count: usize) -> Texts {
    alone(format!(
        "ingredient maize\n  protein 9 % # {}\n",
        "c".repeat(count)
    ))
}

fn unread_lines(count: usize) -> Texts {
    alone(format!(
        "ingredient maize\n{}",
        "  ??? 9 kg\n".repeat(count)
    ))
}

fn near_names(count: usize) -> Texts {
    let lines = each(count, |text, rank| {
        let _ = writeln!(text, "  f{rank}x 1 kg");
    });
    alone(ingredients(count, "") + &ration(&lines))
}

fn one_name(count: usize) -> Texts {
    alone("ingredient maize\n".repeat(count))
}

fn uses_many(count: usize) -> Texts {
    let mut texts = alone(
        each(count, |text, rank| {
            let _ = writeln!(text, "use \"u{rank}.trug\"");
        }) + &ration("  f0 100 %\n"),
    );
    texts.extend((0..count).map(|rank| (format!("u{rank}.trug"), format!("ingredient f{rank}\n"))));
    texts
}

fn table(count: usize) -> (String, String) {
    let rows = each(count, |text, rank| {
        let _ = writeln!(text, "f{rank},{},{}", rank % 90 + 1, rank % 9 + 1);
    });
    (
        "p.csv".to_owned(),
        format!("ingredient,price LKR/kg,protein %\n{rows}"),
    )
}

fn a_long_table(count: usize) -> Texts {
    let mut texts = alone(format!("use \"p.csv\"\n{}", ration("  f0 100 %\n")));
    texts.push(table(count));
    texts
}

fn a_table_beside(count: usize) -> Texts {
    let named = each(count, |text, rank| {
        let _ = writeln!(text, "ingredient g{rank}");
    });
    let mut texts = alone(format!("use \"p.csv\"\n{named}{}", ration("  f0 100 %\n")));
    texts.push(table(count));
    texts
}
