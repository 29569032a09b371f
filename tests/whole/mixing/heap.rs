//! What lies in a vessel or on the floor, as a row of cells, and what a shovelful does to it.
//!
//! The model: what is put in comes by handfuls, each on a place by chance. A shovelful, a run of cells, lands on another run. Of
//! each two cells that meet, a part of the particles of either goes over to the other, each particle by chance. Nothing else
//! moves; a cell is even in itself.

use super::chance::Chance;

/// How the work is done.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Hand {
    /// Which part of what meets changes places: a half is the best there is.
    pub(super) exchange: f64,
    /// How far a shovelful is thrown one way or the other, in lengths of the heap: a half is anywhere.
    pub(super) reach: f64,
}

/// A shovelful, and a handful; of what is less than ten of them, a tenth is taken at a time.
pub(super) const SHOVELFUL_G: f64 = 4_000.0;
pub(super) const HANDFUL_G: f64 = 250.0;
/// Places in a heap where a handful may fall.
const BED: usize = 2_000;

/// What is taken at a time of so much.
pub(super) fn scoop_g(mass_g: f64) -> f64 {
    SHOVELFUL_G.min(mass_g / 10.0)
}

/// Something that was mixed or weighed: the particles of one ingredient in each of its cells.
#[derive(Clone, Debug)]
pub(super) struct Heap {
    cells: Vec<u64>,
    /// The mass of a cell.
    cell_g: f64,
}

impl Heap {
    /// Something weighed, with so many particles of the ingredient that is looked at.
    pub(super) fn weighed(mass_g: f64, particles: u64) -> Heap {
        Heap {
            cells: vec![particles],
            cell_g: mass_g,
        }
    }

    pub(super) fn mass_g(&self) -> f64 {
        self.cell_g * self.cells.len() as f64
    }

    /// These put into one, not mixed yet, and seen as so many cells: the largest lies there, the others come by handfuls.
    pub(super) fn put_together(mut parts: Vec<Heap>, cells: usize, chance: &mut Chance) -> Heap {
        let mass_g: f64 = parts.iter().map(Heap::mass_g).sum();
        let handful_g = HANDFUL_G.min(mass_g / 10.0);
        parts.sort_by(|one, other| other.mass_g().total_cmp(&one.mass_g()));
        let bed = parts[0].cut(BED, chance);
        let mut handfuls: Vec<(usize, Heap)> = Vec::new();
        for part in &parts[1..] {
            let count = (part.mass_g() / handful_g).ceil() as usize;
            for handful in part.cut(count, chance) {
                handfuls.push((chance.below(BED + 1), handful));
            }
        }
        handfuls.sort_by_key(|(place, _)| *place);
        let mut heap = Heap {
            cells: vec![0; cells],
            cell_g: mass_g / cells as f64,
        };
        let (mut from, mut lies) = (0.0, 0);
        for (place, handful) in &handfuls {
            for part in &bed[lies..*place] {
                heap.lay(part, &mut from, chance);
            }
            lies = *place;
            heap.lay(handful, &mut from, chance);
        }
        for part in &bed[lies..] {
            heap.lay(part, &mut from, chance);
        }
        heap
    }

    /// These one after the other, unmixed, seen as so many cells.
    pub(super) fn in_a_row(parts: &[Heap], cells: usize, chance: &mut Chance) -> Heap {
        let mass_g: f64 = parts.iter().map(Heap::mass_g).sum();
        let mut heap = Heap {
            cells: vec![0; cells],
            cell_g: mass_g / cells as f64,
        };
        let mut from = 0.0;
        for part in parts {
            heap.lay(part, &mut from, chance);
        }
        heap
    }

    /// Cut into pieces alike, one after the other.
    fn cut(&self, pieces: usize, chance: &mut Chance) -> Vec<Heap> {
        let mut seen = Heap {
            cells: vec![0; pieces],
            cell_g: self.mass_g() / pieces as f64,
        };
        seen.lay(self, &mut 0.0, chance);
        let piece = |particles| Heap::weighed(seen.cell_g, particles);
        seen.cells.iter().copied().map(piece).collect()
    }

    /// Lays something down from a place on, counted in grams.
    fn lay(&mut self, part: &Heap, from: &mut f64, chance: &mut Chance) {
        for particles in &part.cells {
            let to = *from + part.cell_g;
            self.put(*particles, *from / self.cell_g, to / self.cell_g, chance);
            *from = to;
        }
    }

    /// Puts an even run of particles between two places, counted in cells.
    fn put(&mut self, mut particles: u64, mut from: f64, to: f64, chance: &mut Chance) {
        let last = self.cells.len() - 1;
        while particles > 0 {
            let cell = (from as usize).min(last);
            let end = if cell == last {
                to
            } else {
                to.min(cell as f64 + 1.0)
            };
            let left = to - from;
            let part = if end >= to || left <= 0.0 {
                1.0
            } else {
                (end - from) / left
            };
            let here = chance.of(particles, part);
            self.cells[cell] += here;
            particles -= here;
            from = end;
        }
    }

    /// So many shovelfuls.
    pub(super) fn shovel(&mut self, shovelfuls: usize, hand: Hand, chance: &mut Chance) {
        let count = self.cells.len();
        let run = (scoop_g(self.mass_g()) / self.cell_g).round().max(1.0) as usize;
        let reach = ((count as f64 * hand.reach) as usize).max(1);
        for _ in 0..shovelfuls {
            let from = chance.below(count);
            let to = if hand.reach >= 0.5 {
                chance.below(count)
            } else {
                // As far one way as the other; what would fall beyond an end lies at the other, so that no place is special.
                (from + count + chance.below(2 * reach + 1) - reach) % count
            };
            for step in 0..run {
                self.meet((from + step) % count, (to + step) % count, hand, chance);
            }
        }
    }

    fn meet(&mut self, one: usize, other: usize, hand: Hand, chance: &mut Chance) {
        if one == other {
            return;
        }
        let goes = chance.of(self.cells[one], hand.exchange);
        let comes = chance.of(self.cells[other], hand.exchange);
        self.cells[one] = self.cells[one] - goes + comes;
        self.cells[other] = self.cells[other] - comes + goes;
    }

    /// The variance of what its cells hold over the square of the mean: the CV is its root.
    pub(super) fn unevenness(&self) -> f64 {
        let count = self.cells.len() as f64;
        let mean = self.cells.iter().sum::<u64>() as f64 / count;
        let square = |particles: &u64| (*particles as f64 - mean).powi(2);
        self.cells.iter().map(square).sum::<f64>() / count / (mean * mean)
    }

    pub(super) fn particles(&self) -> u64 {
        self.cells.iter().sum()
    }
}
