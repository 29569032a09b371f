//! The dilution drawn: nothing of it meets anything else, and all of the plan is in it once.

use std::collections::BTreeMap;

use proptest::prelude::*;
use trug_model::Q;
use trug_plan::order::Order;
use trug_plan::plan::Plan;
use trug_report::sheet::picture::{Anchor, Picture, PictureWords, Point, Shape, picture, width_of};
use trug_report::sheet::svg::svg;
use trug_report::words::mass;

use crate::made_by_hand::{PLANS, json, plan};
use crate::planned::{cases, support};

/// The picture of a plan's first batch.
pub(crate) fn drawn(plan: &Plan, floor: &str) -> Picture {
    let batch = &plan.batches[0];
    let numbers = 1..=batch.steps.len();
    let words = PictureWords {
        title: "The dilution".to_owned(),
        description: "Step 1 goes into step 2.".to_owned(),
        steps: numbers.map(|number| format!("step {number}")).collect(),
        floor: floor.to_owned(),
        mass: &mass,
    };
    picture(plan, batch, &words)
}

proptest! {
    #![proptest_config(cases(300))]

    #[test]
    fn pictures_of_sensible_farms_are_clear(order in support::sensible(0..=9)) {
        check(order)?;
    }

    #[test]
    fn pictures_of_any_order_are_clear(order in support::order()) {
        check(order)?;
    }
}

#[test]
fn the_usual_plan_fits_a_phone() {
    for (name, _) in PLANS {
        let picture = drawn(&plan(&json(name)), "floor");
        assert!(
            picture.width <= 250 || name == "apart",
            "{name} is {} wide",
            picture.width
        );
        assert!(
            is_clear(&picture).is_ok(),
            "{name}: {:?}",
            is_clear(&picture)
        );
    }
}

#[test]
fn the_river_layer_is_drawn() {
    let picture = drawn(&plan(&json("river-layer")), "floor");
    insta::assert_snapshot!("river-layer-svg", svg(&picture, "dilution"));
}

#[test]
fn a_name_as_long_as_it_may_be_keeps_its_place() {
    let mut plan = plan(&json("river-layer"));
    let long = "கலவை-தொட்டி-".repeat(40);
    for vessel in &mut plan.order.vessels {
        vessel.name = format!("{}{long}", vessel.name);
    }
    for step in &mut plan.batches[0].steps {
        if step.vessel != "floor" {
            step.vessel.push_str(&long);
        }
    }
    let picture = drawn(&plan, &long);
    assert!(is_clear(&picture).is_ok(), "{:?}", is_clear(&picture));
    assert!(picture.width <= 300, "{}", picture.width);
}

#[test]
fn words_cannot_leave_their_place_in_the_page() {
    let hostile = "</text></svg><script>alert(1)</script>\u{202e}\u{0}\u{ffff}\"'&";
    let mut picture = drawn(&plan(&json("heap")), hostile);
    picture.title = hostile.to_owned();
    picture.description = hostile.to_owned();
    let svg = svg(&picture, "a\"><b");
    assert_eq!(svg.matches("</svg>").count(), 1);
    for tag in ["<script", "<b", "\u{202e}", "\u{0}", "\u{ffff}", "style"] {
        assert!(!svg.contains(tag), "{tag:?}");
    }
}

#[test]
fn a_plan_of_nothing_is_an_empty_picture() {
    let mut plan = plan(&json("heap"));
    plan.batches[0].steps.clear();
    let picture = drawn(&plan, "floor");
    assert!(picture.shapes.is_empty());
    assert!(svg(&picture, "empty").starts_with("<svg "));
}

fn check(order: Order) -> Result<(), TestCaseError> {
    let plan = trug_plan::plan(order);
    let picture = drawn(&plan, "floor");
    is_clear(&picture).map_err(TestCaseError::fail)?;
    is_whole(&plan, &picture).map_err(TestCaseError::fail)?;
    prop_assert_eq!(&picture, &drawn(&plan, "floor"));
    Ok(())
}

/// A piece of ground.
#[derive(Clone, Copy, Debug)]
struct Ground {
    left: u32,
    right: u32,
    top: u32,
    bottom: u32,
}

impl Ground {
    fn meets(self, other: Ground) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }
}

/// Where a text is: letters reach down a quarter of their height, and are four fifths of it above the line.
fn ground(at: Point, anchor: Anchor, size: u32, wide: u32) -> Result<Ground, String> {
    let left = match anchor {
        Anchor::Start => Some(at.x),
        Anchor::Middle => at.x.checked_sub(wide.div_ceil(2)),
        Anchor::End => at.x.checked_sub(wide),
    };
    let left = left.ok_or_else(|| format!("text at {at:?} leaves on the left"))?;
    Ok(Ground {
        left,
        right: left + wide,
        top: at.y - size * 4 / 5,
        bottom: at.y + size / 4,
    })
}

fn texts(picture: &Picture) -> Result<Vec<(Ground, String)>, String> {
    let mut texts = Vec::new();
    for shape in &picture.shapes {
        if let Shape::Text {
            at,
            anchor,
            size,
            is_bold,
            text,
        } = shape
        {
            let wide = width_of(text, *size, *is_bold);
            texts.push((ground(*at, *anchor, *size, wide)?, text.clone()));
        }
    }
    Ok(texts)
}

/// Nothing meets, nothing leaves, and every arrow ends on the rim of a tub.
fn is_clear(picture: &Picture) -> Result<(), String> {
    let texts = texts(picture)?;
    for (rank, (ground, text)) in texts.iter().enumerate() {
        if ground.right > picture.width || ground.bottom > picture.height {
            return Err(format!("{text} leaves the picture: {ground:?}"));
        }
        if let Some((_, other)) = texts[rank + 1..].iter().find(|(it, _)| it.meets(*ground)) {
            return Err(format!("{text} lies on {other}"));
        }
        for shape in &picture.shapes {
            match shape {
                Shape::Outline(points) if points.len() > 2 => is_in_or_out(*ground, points)?,
                Shape::Outline(points) | Shape::Arrow(points) => is_beside(*ground, points)?,
                Shape::Circle { middle, radius } => {
                    let is_own =
                        ground.left >= middle.x - radius && ground.right <= middle.x + radius;
                    let circle = around(&[
                        Point {
                            x: middle.x - radius,
                            y: middle.y - radius,
                        },
                        Point {
                            x: middle.x + radius,
                            y: middle.y + radius,
                        },
                    ]);
                    if !is_own && ground.meets(circle) {
                        return Err(format!("{text} lies on a circle"));
                    }
                }
                Shape::Text { .. } => {}
            }
        }
    }
    tubs_are_apart(picture)?;
    arrows_end_on_tubs(picture)
}

fn around(points: &[Point]) -> Ground {
    Ground {
        left: points.iter().map(|it| it.x).min().unwrap(),
        right: points.iter().map(|it| it.x).max().unwrap(),
        top: points.iter().map(|it| it.y).min().unwrap(),
        bottom: points.iter().map(|it| it.y).max().unwrap(),
    }
}

/// A text is in a tub with all its corners, or outside of it.
fn is_in_or_out(text: Ground, outline: &[Point]) -> Result<(), String> {
    if !text.meets(around(outline)) {
        return Ok(());
    }
    for y in [text.top, text.bottom] {
        let mut crossings: Vec<f64> = Vec::new();
        for (from, to) in outline.iter().zip(outline.iter().cycle().skip(1)) {
            let (from, to) = if from.y <= to.y {
                (from, to)
            } else {
                (to, from)
            };
            if from.y <= y && y < to.y {
                let part = f64::from(y - from.y) / f64::from(to.y - from.y);
                crossings.push(f64::from(from.x) + part * (f64::from(to.x) - f64::from(from.x)));
            }
        }
        crossings.sort_by(f64::total_cmp);
        let [left, right] = crossings[..] else {
            return Err(format!("text at {text:?} is not in {outline:?}"));
        };
        if f64::from(text.left) < left || f64::from(text.right) > right {
            return Err(format!("text at {text:?} lies on the side of {outline:?}"));
        }
    }
    Ok(())
}

/// A line, which is upright or level, does not go through a text.
fn is_beside(text: Ground, line: &[Point]) -> Result<(), String> {
    for pair in line.windows(2) {
        let mut stroke = around(pair);
        stroke.right += 1;
        stroke.bottom += 1;
        if text.meets(stroke) {
            return Err(format!("a line goes through the text at {text:?}"));
        }
    }
    Ok(())
}

fn tubs(picture: &Picture) -> Vec<Ground> {
    let outlines = picture.shapes.iter().filter_map(|shape| match shape {
        Shape::Outline(points) if points.len() > 2 => Some(around(points)),
        _ => None,
    });
    outlines.collect()
}

fn tubs_are_apart(picture: &Picture) -> Result<(), String> {
    let tubs = tubs(picture);
    for shape in &picture.shapes {
        let Shape::Circle { middle, radius } = shape else {
            continue;
        };
        let circle = around(&[
            Point {
                x: middle.x - radius,
                y: middle.y - radius,
            },
            Point {
                x: middle.x + radius,
                y: middle.y + radius,
            },
        ]);
        if tubs.iter().any(|tub| tub.meets(circle)) {
            return Err(format!("a circle touches a tub at {middle:?}"));
        }
    }
    for (rank, tub) in tubs.iter().enumerate() {
        if tub.right > picture.width || tub.bottom > picture.height {
            return Err(format!("a tub leaves the picture: {tub:?}"));
        }
        if tubs[rank + 1..].iter().any(|other| other.meets(*tub)) {
            return Err(format!("two tubs meet: {tub:?}"));
        }
    }
    Ok(())
}

fn arrows_end_on_tubs(picture: &Picture) -> Result<(), String> {
    let tubs = tubs(picture);
    for shape in &picture.shapes {
        let Shape::Arrow(points) = shape else {
            continue;
        };
        let end = points.last().unwrap();
        let is_on = |tub: &&Ground| tub.top == end.y && tub.left < end.x && end.x < tub.right;
        if tubs.iter().filter(is_on).count() != 1 {
            return Err(format!("the arrow to {end:?} ends on no tub"));
        }
    }
    Ok(())
}

/// Every weighing's number in a circle, its mass beside it, and what comes of every step: each once.
fn is_whole(plan: &Plan, picture: &Picture) -> Result<(), String> {
    let batch = &plan.batches[0];
    let mut bold: BTreeMap<&str, usize> = BTreeMap::new();
    let mut marked: BTreeMap<(u32, u32), &str> = BTreeMap::new();
    let mut labels: Vec<(u32, u32, &str)> = Vec::new();
    for shape in &picture.shapes {
        match shape {
            Shape::Text {
                is_bold: true,
                text,
                ..
            } => *bold.entry(text).or_default() += 1,
            Shape::Text {
                at,
                anchor: Anchor::Start,
                text,
                ..
            } => labels.push((at.x, at.y, text)),
            Shape::Text { at, text, .. } => {
                marked.insert((at.x, at.y), text);
            }
            _ => {}
        }
    }
    let mut outputs: BTreeMap<String, usize> = BTreeMap::new();
    for step in &batch.steps {
        *outputs.entry(mass(&step.output_g)).or_default() += 1;
    }
    let outputs: BTreeMap<&str, usize> = outputs
        .iter()
        .map(|(text, n)| (text.as_str(), *n))
        .collect();
    if bold != outputs {
        return Err(format!("{bold:?} for {outputs:?}"));
    }
    let mut weighed: Vec<(String, String)> = Vec::new();
    for shape in &picture.shapes {
        let Shape::Circle { middle, radius } = shape else {
            continue;
        };
        let number = marked
            .get(&(middle.x, middle.y + 3))
            .ok_or("a circle without a number")?;
        let beside = labels
            .iter()
            .find(|(x, y, _)| *y == middle.y + 3 && *x == middle.x + radius + 3);
        let (_, _, label) = beside.ok_or("a circle without a mass")?;
        weighed.push(((*number).to_owned(), (*label).to_owned()));
    }
    let number = |weighing: &(String, String)| weighing.0.parse::<usize>().unwrap();
    weighed.sort_by_key(number);
    let numbered = batch.weighings.iter().enumerate();
    let all: Vec<(String, String)> = numbered
        .map(|(rank, weighing)| ((rank + 1).to_string(), mass(&weighing.mass_g)))
        .collect();
    if weighed == all {
        Ok(())
    } else {
        Err(format!("{weighed:?} for {all:?}"))
    }
}

/// Twelve steps and thirty weighings, which no farm has.
#[test]
fn a_long_ladder_is_clear() {
    let mut plan = plan(&json("heap"));
    let batch = &mut plan.batches[0];
    let weighing = batch.weighings[0].clone();
    let step = batch.steps[0].clone();
    batch.weighings.clear();
    batch.steps.clear();
    for number in 1..=12_usize {
        let mut step = step.clone();
        step.id = format!("s{number}");
        step.inputs.clear();
        step.vessel = if number % 2 == 0 { "floor" } else { "basin" }.to_owned();
        step.output_g = Q::int(i64::try_from(number).unwrap() * 12_345);
        if number > 1 {
            step.inputs.push(trug_plan::plan::Input {
                source: trug_plan::plan::InputSource::Step(format!("s{}", number - 1)),
                mass_g: batch.steps[number - 2].output_g.clone(),
            });
        }
        let n_weighings = if number == 1 { 8 } else { 2 };
        for _ in 0..n_weighings {
            let mut weighing = weighing.clone();
            weighing.id = format!("w{}", batch.weighings.len() + 1);
            weighing.step.clone_from(&step.id);
            step.inputs.push(trug_plan::plan::Input {
                source: trug_plan::plan::InputSource::Weighing(weighing.id.clone()),
                mass_g: weighing.mass_g.clone(),
            });
            batch.weighings.push(weighing);
        }
        batch.steps.push(step);
    }
    assert_eq!(batch.weighings.len(), 30);
    let picture = drawn(&plan, "floor");
    is_clear(&picture).unwrap();
    is_whole(&plan, &picture).unwrap();
    assert!(picture.width <= 250, "{}", picture.width);
}
