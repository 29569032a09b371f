//! Few steps for many small ingredients: the lightest are mixed first, with as many others as one step takes.
//!
//! Nothing is proved here; the plan says so.

use super::fill::{Filled, Root, Sketch, fill};
use super::question::Question;

/// Mixes on the way to one pre-blend, beyond one for each ingredient, after which the search gives up: nobody mixes so long by hand.
const MOST_MIXES: usize = 40;

/// A small ingredient or a mix, waiting to be mixed.
#[derive(Clone, Copy, Debug)]
struct Waiting {
    mass: i128,
    node: usize,
}

/// The better of one pre-blend and, where something is apart, separate ones.
pub(crate) fn search(question: &Question) -> Option<Filled> {
    let colours = colours(question);
    let single = single(question, &colours).and_then(|sketch| fill(question, &sketch));
    let separate = separate(question, &colours).and_then(|sketch| fill(question, &sketch));
    let steps = |filled: &Filled| (filled.steps(), filled.weighings());
    match (single, separate) {
        (Some(single), Some(separate)) if steps(&separate) < steps(&single) => Some(separate),
        (None, separate) => separate,
        (single, _) => single,
    }
}

/// A number for each ingredient such that no two that are apart have the same; 0 for those that are apart from none.
fn colours(question: &Question) -> Vec<usize> {
    let mut colours = vec![0; question.masses.len()];
    for rank in 0..colours.len() {
        let others = question.apart.iter().filter_map(|apart| match rank {
            _ if apart.one == rank => Some(apart.other),
            _ if apart.other == rank => Some(apart.one),
            _ => None,
        });
        let taken: Vec<usize> = others.map(|other| colours[other]).collect();
        let is_apart = question
            .apart
            .iter()
            .any(|apart| apart.one == rank || apart.other == rank);
        if is_apart {
            colours[rank] = (1..).find(|colour| !taken.contains(colour)).unwrap_or(0);
        }
    }
    colours
}

/// What an ingredient must be in before it meets what it is apart from.
fn floor(question: &Question, rank: usize) -> i128 {
    let floors = question.apart.iter().map(|apart| match rank {
        _ if apart.one == rank => apart.one_in,
        _ if apart.other == rank => apart.other_in,
        _ => 0,
    });
    floors.max().unwrap_or(0)
}

/// One pre-blend; those of one colour are diluted together before they meet the others.
fn single(question: &Question, colours: &[usize]) -> Option<Sketch> {
    let mut sketch = Sketch::default();
    let mut waiting = leaves(question, &mut sketch, colours, 0);
    let most = colours.iter().copied().max().unwrap_or(0);
    for colour in 1..=most {
        let alike = leaves(question, &mut sketch, colours, colour);
        let needs = (0..colours.len()).filter(|rank| colours[*rank] == colour);
        let need = needs.map(|rank| floor(question, rank)).max().unwrap_or(0);
        let diluted = gather(question, &mut sketch, alike, need, true)?;
        for mix in &diluted {
            sketch.raise_floor(mix.node, need);
        }
        waiting.extend(diluted);
    }
    let need = question.bound.least(question.output);
    let parts = gather(question, &mut sketch, waiting, need, false)?;
    sketch.roots.push(Root {
        parts: parts.iter().map(|part| part.node).collect(),
        low: question.output,
        high: question.output,
    });
    Some(sketch)
}

/// A pre-blend for each colour; those that are apart from none go with the first.
fn separate(question: &Question, colours: &[usize]) -> Option<Sketch> {
    let most = colours.iter().copied().max().unwrap_or(0);
    if most < 2 || !question.can_separate() {
        return None;
    }
    let merged: Vec<usize> = colours.iter().map(|colour| (*colour).max(1)).collect();
    let count = i128::try_from(most).ok()?;
    let mut sketch = Sketch::default();
    for colour in 1..=most {
        let members: Vec<usize> = (0..merged.len())
            .filter(|rank| merged[*rank] == colour)
            .collect();
        let least = members
            .iter()
            .map(|rank| floor(question, *rank).max(question.reach[*rank]))
            .max()
            .unwrap_or(0);
        let output = (question.output / count)
            .max(least)
            .max(question.spreadable);
        let waiting = leaves(question, &mut sketch, &merged, colour);
        let need = question.bound.least(output);
        let parts = gather(question, &mut sketch, waiting, need, false)?;
        let lightest = parts.iter().map(|part| part.mass).min()?;
        let together: i128 = parts.iter().map(|part| part.mass).sum();
        sketch.roots.push(Root {
            parts: parts.iter().map(|part| part.node).collect(),
            low: least.max(question.spreadable).max(together + 1),
            high: question.bound.most(lightest),
        });
    }
    Some(sketch)
}

fn leaves(
    question: &Question,
    sketch: &mut Sketch,
    colours: &[usize],
    colour: usize,
) -> Vec<Waiting> {
    let members = (0..colours.len()).filter(|rank| colours[*rank] == colour);
    members
        .map(|rank| Waiting {
            mass: question.masses[rank],
            node: sketch.leaf(rank, question.masses[rank], 0),
        })
        .collect()
}

/// Mixes until nothing that waits is lighter than `need`; where `into_one`, until only one mix waits.
fn gather(
    question: &Question,
    sketch: &mut Sketch,
    mut waiting: Vec<Waiting>,
    need: i128,
    into_one: bool,
) -> Option<Vec<Waiting>> {
    for _ in 0..MOST_MIXES + question.masses.len() {
        waiting.sort_by_key(|part| (part.mass, part.node));
        let Some(lightest) = waiting.first().copied() else {
            return Some(waiting);
        };
        if lightest.mass >= need && (!into_one || waiting.len() == 1) {
            return Some(waiting);
        }
        let (group, carrier) = next_mix(question, &waiting, need, into_one)?;
        let mass = group.iter().map(|part| part.mass).sum::<i128>() + carrier;
        let nodes: Vec<usize> = group.iter().map(|part| part.node).collect();
        waiting.retain(|part| !nodes.contains(&part.node));
        let node = sketch.mix(nodes, carrier > 0, mass, 0);
        waiting.push(Waiting { mass, node });
    }
    None
}

/// What to mix with the lightest, and how much carrier; none where nothing helps.
fn next_mix(
    question: &Question,
    waiting: &[Waiting],
    need: i128,
    into_one: bool,
) -> Option<(Vec<Waiting>, i128)> {
    let most = question.bound.most(waiting.first()?.mass);
    let light = waiting
        .iter()
        .take_while(|part| into_one || part.mass < need)
        .count();
    let mut group: Vec<Waiting> = Vec::new();
    let mut mass = 0;
    for part in &waiting[..light] {
        if mass + part.mass > most {
            break;
        }
        mass += part.mass;
        group.push(*part);
    }
    let left = &waiting[group.len()..light];
    if left.is_empty() {
        if mass >= need && group.len() > 1 {
            return Some((group, 0));
        }
        // A large small ingredient makes it heavy enough without a weighing more.
        let helps = |part: &&Waiting| mass + part.mass >= need && mass + part.mass <= most;
        if let Some(large) = waiting[light..].iter().find(helps) {
            group.push(*large);
            return Some((group, 0));
        }
        let carrier = carrier(question, need - mass, most - mass);
        return (carrier > 0 || group.len() > 1).then_some((group, carrier));
    }
    // Those left must be able to meet this mix in a next step.
    let rest: i128 = left.iter().map(|part| part.mass).sum();
    let (over, under) = question.bound.ratio;
    let wanted = if over > under {
        (rest * under + over - under - 1) / (over - under)
    } else {
        most
    };
    if mass >= wanted && group.len() > 1 {
        return Some((group, 0));
    }
    let carrier = carrier(question, wanted - mass, most - mass);
    (carrier > 0 || group.len() > 1).then_some((group, carrier))
}

/// As much carrier as is wanted, or as much as may be; nothing where the scales cannot give it.
fn carrier(question: &Question, wanted: i128, most: i128) -> i128 {
    let most = most.min(question.early);
    let enough = question
        .grid
        .at_least(wanted.max(1))
        .filter(|enough| *enough <= most);
    enough.or_else(|| question.grid.at_most(most)).unwrap_or(0)
}
