//! Whole answers.

use proptest::prelude::*;
use trug_model::Q;

use super::{answer, is_choice};
use crate::made_up::{Traits, bound, made_up, programme, q};
use crate::programme::{Answer, Chosen, End, Programme};
use crate::rounding::is_within_tolerance;
use crate::solve::{Stopped, Watch};

fn ask(programme: &Programme) -> Answer {
    answer(programme, &Watch::usual(&|| false))
}

fn chosen(programme: &Programme) -> Chosen {
    match ask(programme) {
        Answer::Chosen(chosen) => *chosen,
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_mash_of_maize_and_soya() {
    let mut mash = programme(
        &["92", "185"],
        vec![bound(&["0.08", "0.44"], End::AtLeast, "0.2")],
    );
    mash.shares[0].is_rest = true;
    let chosen = chosen(&mash);
    assert_eq!(chosen.shares, [q("2/3"), q("1/3")]);
    assert_eq!(chosen.rounded, [q("0.6666"), q("0.3334")]);
    assert_eq!(chosen.cost, q("123.0062"));
    assert_eq!(chosen.cost_bound, q("123"));
    assert_eq!(chosen.unproved, None);
    assert!(chosen.bounds[0].is_binding);
    // 93 for each whole of soya, which brings 0.36 of protein.
    assert_eq!(chosen.bounds[0].price, q("93") / q("0.36"));
}

#[test]
fn what_is_impossible_is_explained() {
    let mash = programme(
        &["90", "60"],
        vec![bound(&["0.08", "0.14"], End::AtLeast, "0.2")],
    );
    let Answer::Infeasible(conflict) = ask(&mash) else {
        panic!("14 % is the most there is")
    };
    assert_eq!(conflict.relaxations[0].to, q("0.14"));
}

#[test]
fn an_exact_third_is_said_not_to_be_written() {
    let exact = [End::AtLeast, End::AtMost].map(|end| bound(&["0", "3"], end, "1"));
    let chosen = chosen(&programme(&["10", "20"], exact.to_vec()));
    assert_eq!(chosen.rounded[1], q("1/3"));
    assert_eq!(chosen.cost, chosen.cost_bound);
    assert!(chosen.unproved.is_some());
}

#[test]
fn nothing_to_choose() {
    let empty = Programme {
        total: Q::ZERO,
        ..programme(&[], Vec::new())
    };
    assert!(chosen(&empty).rounded.is_empty());
    let short = programme(&[], Vec::new());
    assert!(matches!(ask(&short), Answer::Infeasible(conflict) if conflict.parts.len() == 1));
}

#[test]
fn work_that_is_cancelled_says_so() {
    let mash = programme(
        &["90", "60"],
        vec![bound(&["0.08", "0.14"], End::AtLeast, "0.1")],
    );
    let watch = Watch::usual(&|| true);
    assert_eq!(
        answer(&mash, &watch),
        Answer::Unanswered("the work was cancelled".to_owned())
    );
    assert_eq!(watch.stopped(), Some(Stopped::Cancelled));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn every_answer_holds_and_is_the_same_again(
        seed in any::<u64>(),
        shares in 2..10_usize,
        bounds in 0..7_usize,
        patterns in any::<bool>(),
        scatter in any::<bool>(),
        exact in any::<bool>(),
        strain in 0..40_i64,
    ) {
        let mut made_up = made_up(seed, Traits { shares, bounds, patterns, scatter, exact, strain: strain + 1 });
        let first = match ask(&made_up) {
            Answer::Chosen(chosen) => chosen,
            Answer::Infeasible(conflict) => {
                prop_assert!(!conflict.parts.is_empty());
                return Ok(());
            }
            Answer::Unanswered(why) => return Err(TestCaseError::fail(why)),
        };
        prop_assert!(is_choice(&made_up, &first.rounded));
        prop_assert!(first.unproved.is_some() || is_within_tolerance(&made_up, &first.cost, &first.cost_bound));
        for (share, amount) in made_up.shares.iter_mut().zip(&first.rounded) {
            share.now = Some(amount.clone());
        }
        let again = chosen(&made_up);
        prop_assert_eq!(again.rounded, first.rounded);
        prop_assert_eq!(again.cost_bound, first.cost_bound);
    }
}
