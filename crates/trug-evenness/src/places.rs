//! Where to take samples: in a spread heap, in bags, along a trough.
//!
//! Common practice of the trade, without a published source unless one is named: each sample stands for an equal part of the
//! batch, and is taken from the middle of it.

use trug_model::Q;

/// Where one sample is taken.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// Its number, from 1.
    pub number: usize,
    /// The row of the heap's field, from 1.
    pub row: usize,
    /// The field in its row, from 1.
    pub field: usize,
    /// How far along the heap, in percent of its length.
    pub along: Q,
    /// How far across it, in percent of its width.
    pub across: Q,
    /// How far along the trough, or through the emptying, in percent.
    pub through: Q,
}

/// So many places, in the order they are taken.
#[must_use]
pub fn places(samples: usize) -> Vec<Place> {
    let whole = Q::int(count(samples));
    let hundred = Q::int(100);
    let mut places = Vec::new();
    let mut before = 0;
    for (row, fields) in rows(samples).into_iter().enumerate() {
        // A row is as deep as it has fields, so that all fields are alike in size.
        let across = (Q::int(2 * count(before)) + Q::int(count(fields))) / (Q::int(2) * &whole);
        for field in 0..fields {
            let middle = |rank: usize, of: &Q| {
                let rank = Q::int(2 * count(rank) + 1) / Q::int(2);
                (&rank / of) * &hundred
            };
            places.push(Place {
                number: before + field + 1,
                row: row + 1,
                field: field + 1,
                along: middle(field, &Q::int(count(fields))),
                across: &across * &hundred,
                through: middle(before + field, &whole),
            });
        }
        before += fields;
    }
    places
}

/// In which bag each sample is taken, from 1, where the batch fills so many, in the order they were filled.
#[must_use]
pub fn bags(samples: usize, bags: usize) -> Vec<usize> {
    let bag = |rank: usize| (2 * rank + 1).saturating_mul(bags) / (2 * samples.max(1)) + 1;
    (0..samples)
        .map(|rank| bag(rank).min(bags.max(1)))
        .collect()
}

/// How many fields each row of the heap has: as near to squares as it can be.
#[must_use]
pub fn rows(samples: usize) -> Vec<usize> {
    let side = samples.isqrt().max(1);
    let mut tries = (1..=side).rev();
    // Rows alike where that leaves no long strips.
    let even = tries.find(|rows| samples.is_multiple_of(*rows) && samples / rows <= 3 * rows);
    let rows = even.unwrap_or(side);
    (0..rows)
        .map(|row| samples * (row + 1) / rows - samples * row / rows)
        .collect()
}

fn count(number: usize) -> i64 {
    i64::try_from(number).unwrap_or(i64::MAX / 4)
}

/// How much is taken at each place, and how often it is halved before it is bagged.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Portion {
    /// In grams.
    pub taken_g: u32,
    /// How often it is coned, quartered and halved.
    pub halvings: u32,
    /// The samples together are more than half of the batch.
    pub is_much: bool,
}

/// What goes to the laboratory of each place, in grams: about 100 g (World Food Programme, *Coefficient of Variation
/// Calculator*: at least ten samples of about 100 g).
pub const KEPT_G: u32 = 100;

/// How much to take at each of so many places of a batch of this mass in kg: four times what is kept, less of a small batch.
#[must_use]
pub fn portion(samples: usize, batch: Option<&Q>) -> Portion {
    let whole = Q::int(count(samples));
    let together = |grams: u32| &whole * &Q::ratio(i64::from(grams), 1000);
    let is_within = |grams: u32, parts: i64| {
        batch.is_none_or(|batch| together(grams) <= batch / &Q::int(parts))
    };
    let halvings = if is_within(4 * KEPT_G, 10) {
        2
    } else if is_within(2 * KEPT_G, 10) {
        1
    } else {
        0
    };
    Portion {
        taken_g: KEPT_G << halvings,
        halvings,
        is_much: !is_within(KEPT_G, 2),
    }
}
