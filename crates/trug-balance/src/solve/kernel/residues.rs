//! A square of whole numbers solved modulo a few primes, and put together again (Chinese remainders, Garner 1959): words instead of
//! long fractions.
//!
//! No minor of the square is larger than the product of the lengths of its rows (Hadamard 1893), so with primes enough the
//! remainders say it exactly: what comes out is proved, not guessed.

use trug_model::Q;

use crate::solve::linear::Whole;

/// The primes are these below 2^61.
const BELOW: [u64; 24] = [
    1, 31, 45, 229, 259, 283, 339, 391, 403, 465, 531, 579, 675, 759, 799, 819, 829, 843, 859, 939,
    985, 1015, 1153, 1195,
];
/// Less than the bits of each.
const BITS: f64 = 60.9;
/// Primes more than the determinant needs, for what stands on the right side.
const SPARE: usize = 4;

/// A square in remainders.
#[derive(Clone, Debug)]
pub(super) struct Residues {
    fields: Vec<Factored>,
    /// `inverses[i][j]`: one over prime `j`, modulo prime `i`.
    inverses: Vec<Vec<u64>>,
    /// No minor has more.
    bits: f64,
    determinant: Q,
}

/// The remainders modulo one prime.
#[derive(Clone, Copy, Debug)]
struct Field {
    below: u64,
}

/// `PA = LU` modulo a prime; `L` has ones on its diagonal.
#[derive(Clone, Debug)]
struct Factored {
    field: Field,
    order: Vec<usize>,
    factors: Vec<Vec<u64>>,
    /// Of the diagonal.
    inverses: Vec<u64>,
    determinant: u64,
}

impl Residues {
    /// None where it may be singular, or has numbers too large.
    pub(super) fn of(matrix: &[Vec<Q>]) -> Option<Residues> {
        let bits = bits_of_minors(matrix);
        let count = primes_for(bits)? + SPARE;
        let mut fields: Vec<Factored> = Vec::new();
        for below in BELOW {
            if fields.len() < count {
                fields.push(Factored::of(Field { below }, matrix)?);
            }
        }
        let inverse_in =
            |field: Field, other: &Factored| field.inverse(field.take(other.field.prime()));
        let inverses = fields.iter().enumerate().map(|(rank, factored)| {
            let before = fields.iter().take(rank);
            before
                .map(|other| inverse_in(factored.field, other))
                .collect()
        });
        let mut residues = Residues {
            inverses: inverses.collect(),
            fields,
            bits,
            determinant: Q::ZERO,
        };
        let determinants: Vec<u64> = residues
            .fields
            .iter()
            .map(|field| field.determinant)
            .collect();
        residues.determinant = residues.whole(&determinants);
        (!residues.determinant.is_zero()).then_some(residues)
    }

    /// The `x` of `A x = right`, times a positive whole number that makes it whole.
    pub(super) fn solve(&self, right: &[Q]) -> Option<Whole> {
        self.with(right, Factored::solve)
    }

    /// The `y` of `y A = right`, in the same way.
    pub(super) fn solve_left(&self, right: &[Q]) -> Option<Whole> {
        self.with(right, Factored::solve_left)
    }

    fn with(&self, right: &[Q], solve: fn(&Factored, Vec<u64>) -> Vec<u64>) -> Option<Whole> {
        let size: f64 = right.iter().map(|number| number.to_f64().abs()).sum();
        let count = primes_for(self.bits + (1.0 + size).log2())?;
        let fields = self.fields.get(..count)?;
        let mut solved: Vec<Vec<u64>> = Vec::with_capacity(count);
        for factored in fields {
            let right: Option<Vec<u64>> = right
                .iter()
                .map(|number| factored.field.of(number))
                .collect();
            let values = solve(factored, right?).into_iter();
            let times = |value| factored.field.product(value, factored.determinant);
            solved.push(values.map(times).collect());
        }
        let is_turned = self.determinant.is_negative();
        let value = |rank: usize| {
            let remainders: Vec<u64> = solved.iter().map(|values| values[rank]).collect();
            let value = self.whole(&remainders);
            if is_turned { -value } else { value }
        };
        Some(Whole {
            values: (0..right.len()).map(value).collect(),
            times: self.determinant.abs(),
        })
    }

    /// The number nearest to zero that has these remainders.
    fn whole(&self, remainders: &[u64]) -> Q {
        let mut digits: Vec<u64> = Vec::with_capacity(remainders.len());
        for ((factored, inverses), remainder) in
            self.fields.iter().zip(&self.inverses).zip(remainders)
        {
            let field = factored.field;
            let mut rest = *remainder;
            for (digit, inverse) in digits.iter().zip(inverses) {
                rest = field.product(field.difference(rest, field.take(*digit)), *inverse);
            }
            digits.push(rest);
        }
        let (mut value, mut all) = (Q::ZERO, Q::ONE);
        for (digit, factored) in digits.iter().zip(&self.fields).rev() {
            let prime = word(factored.field.prime());
            value = value * &prime + word(*digit);
            all = all * prime;
        }
        if &value + &value > all {
            value - all
        } else {
            value
        }
    }
}

/// How many primes tell all whole numbers of so many bits, above and below zero, apart.
fn primes_for(bits: f64) -> Option<usize> {
    // One bit for the sign, and one to spare for what machine numbers round.
    let count = ((bits + 2.0) / BITS).ceil();
    let is_enough = count + (SPARE as f64) <= BELOW.len() as f64;
    is_enough.then_some(count as usize)
}

/// The product of the lengths of rows or of columns, the lesser, bounds every minor: none is shorter than one.
fn bits_of_minors(matrix: &[Vec<Q>]) -> f64 {
    let mut rows = 0.0;
    let mut columns = vec![0.0; matrix.len()];
    for row in matrix {
        let mut length = 0.0;
        for (column, entry) in columns.iter_mut().zip(row) {
            let entry = entry.to_f64();
            length += entry * entry;
            *column += entry * entry;
        }
        rows += f64::max(length, 1.0).log2() / 2.0;
    }
    let lengths = columns
        .into_iter()
        .map(|length| f64::max(length, 1.0).log2() / 2.0);
    f64::min(rows, lengths.sum())
}

fn word(value: u64) -> Q {
    Q::int(value.cast_signed())
}

impl Field {
    fn prime(self) -> u64 {
        (1 << 61) - self.below
    }

    fn take(self, value: u64) -> u64 {
        self.reduced(u128::from(value))
    }

    /// The remainder of a whole number.
    fn of(self, number: &Q) -> Option<u64> {
        if let Some((whole, _)) = number.parts() {
            return u64::try_from(whole.rem_euclid(i128::from(self.prime()))).ok();
        }
        let prime = word(self.prime());
        let rest = number - (number / &prime).floor() * prime;
        u64::try_from(rest.to_i64()?).ok()
    }

    /// 2^61 leaves what the prime is below it.
    fn reduced(self, value: u128) -> u64 {
        const MASK: u128 = (1 << 61) - 1;
        let below = u128::from(self.below);
        let once = (value & MASK) + (value >> 61) * below;
        let twice = ((once & MASK) + (once >> 61) * below) as u64;
        let prime = self.prime();
        if twice >= prime { twice - prime } else { twice }
    }

    fn product(self, one: u64, other: u64) -> u64 {
        self.reduced(u128::from(one) * u128::from(other))
    }

    fn difference(self, one: u64, other: u64) -> u64 {
        if one >= other {
            one - other
        } else {
            one + self.prime() - other
        }
    }

    /// `one - factor · other`.
    fn less(self, one: u64, factor: u64, other: u64) -> u64 {
        let opposite = u128::from(self.prime() - factor);
        self.reduced(u128::from(one) + opposite * u128::from(other))
    }

    /// By Fermat's little theorem.
    fn inverse(self, value: u64) -> u64 {
        let mut power = value;
        let mut result = 1;
        let mut exponent = self.prime() - 2;
        while exponent > 0 {
            if exponent & 1 == 1 {
                result = self.product(result, power);
            }
            power = self.product(power, power);
            exponent >>= 1;
        }
        result
    }
}

impl Factored {
    fn of(field: Field, matrix: &[Vec<Q>]) -> Option<Factored> {
        let residues = |row: &Vec<Q>| row.iter().map(|entry| field.of(entry)).collect();
        let mut factors: Vec<Vec<u64>> = matrix.iter().map(residues).collect::<Option<_>>()?;
        let size = factors.len();
        let mut order: Vec<usize> = (0..size).collect();
        let mut inverses = Vec::with_capacity(size);
        let mut determinant = 1;
        for step in 0..size {
            let chosen = (step..size).find(|row| factors[*row][step] != 0)?;
            if chosen != step {
                factors.swap(step, chosen);
                order.swap(step, chosen);
                determinant = field.difference(0, determinant);
            }
            let (done, below) = factors.split_at_mut(step + 1);
            let pivot_row = &done[step];
            let inverse = field.inverse(pivot_row[step]);
            determinant = field.product(determinant, pivot_row[step]);
            inverses.push(inverse);
            for row in below {
                if row[step] == 0 {
                    continue;
                }
                let factor = field.product(row[step], inverse);
                row[step] = factor;
                for (entry, pivot) in row[step + 1..].iter_mut().zip(&pivot_row[step + 1..]) {
                    *entry = field.less(*entry, factor, *pivot);
                }
            }
        }
        Some(Factored {
            field,
            order,
            factors,
            inverses,
            determinant,
        })
    }

    fn solve(&self, right: Vec<u64>) -> Vec<u64> {
        let mut result: Vec<u64> = self.order.iter().map(|row| right[*row]).collect();
        let size = result.len();
        for row in 0..size {
            for column in 0..row {
                result[row] =
                    self.field
                        .less(result[row], self.factors[row][column], result[column]);
            }
        }
        for row in (0..size).rev() {
            for column in row + 1..size {
                result[row] =
                    self.field
                        .less(result[row], self.factors[row][column], result[column]);
            }
            result[row] = self.field.product(result[row], self.inverses[row]);
        }
        result
    }

    fn solve_left(&self, mut result: Vec<u64>) -> Vec<u64> {
        let size = result.len();
        for row in 0..size {
            let (done, after) = result.split_at_mut(row + 1);
            done[row] = self.field.product(done[row], self.inverses[row]);
            self.take_off(after, &self.factors[row][row + 1..], done[row]);
        }
        for row in (0..size).rev() {
            let (before, rest) = result.split_at_mut(row);
            self.take_off(before, &self.factors[row][..row], rest[0]);
        }
        let mut in_place = vec![0; size];
        for (value, row) in result.into_iter().zip(&self.order) {
            in_place[*row] = value;
        }
        in_place
    }

    fn take_off(&self, values: &mut [u64], factors: &[u64], value: u64) {
        for (entry, factor) in values.iter_mut().zip(factors) {
            *entry = self.field.less(*entry, *factor, value);
        }
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "the inputs are fixed")]
mod tests {
    use super::{BELOW, Factored, Field, Residues};
    use crate::solve::kernel::factors::Factors;
    use trug_model::Q;

    #[test]
    fn all_are_primes() {
        for below in BELOW {
            let field = Field { below };
            // Miller (1976) and Rabin (1980) with these bases are certain below 2^64.
            let odd = (field.prime() - 1) >> (field.prime() - 1).trailing_zeros();
            for base in [2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37] {
                let mut power = power_of(field, base, odd);
                let mut passes = power == 1;
                for _ in 0..(field.prime() - 1).trailing_zeros() {
                    passes |= power == field.prime() - 1;
                    power = field.product(power, power);
                }
                assert!(passes, "2^61 - {below} is divisible, says {base}");
            }
        }
    }

    fn power_of(field: Field, base: u64, mut exponent: u64) -> u64 {
        let (mut power, mut result) = (base, 1);
        while exponent > 0 {
            if exponent & 1 == 1 {
                result = field.product(result, power);
            }
            power = field.product(power, power);
            exponent >>= 1;
        }
        result
    }

    #[test]
    fn rationals_say_the_same() {
        let mut state = 7_u64;
        let mut next = move || {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            i64::try_from(state >> 50).unwrap() - 8000
        };
        for size in [1, 2, 5, 9, 14] {
            let matrix: Vec<Vec<Q>> = (0..size)
                .map(|_| (0..size).map(|_| Q::int(next())).collect())
                .collect();
            let right: Vec<Q> = (0..size).map(|_| Q::int(next() * 1_000_003)).collect();
            let residues = Residues::of(&matrix).unwrap();
            let factors = Factors::of(matrix).unwrap();
            let quotients = |whole: super::Whole| -> Vec<Q> {
                whole
                    .values
                    .iter()
                    .map(|value| value / &whole.times)
                    .collect()
            };
            assert_eq!(
                quotients(residues.solve(&right).unwrap()),
                factors.solve(&right)
            );
            assert_eq!(
                quotients(residues.solve_left(&right).unwrap()),
                factors.solve_left(&right)
            );
        }
        let singular: Vec<Vec<Q>> = [[1, 2], [2, 4]]
            .map(|row| row.map(Q::int).to_vec())
            .to_vec();
        assert!(Residues::of(&singular).is_none());
        assert!(Factored::of(Field { below: 1 }, &singular).is_none());
    }
}
