//! A ration with open amounts to the cheapest choice of them, with its reasons and its proof.
//!
//! What may be chosen becomes a question in numbers alone (`question`, [`programme`]). It is solved (`solve`), rounded to amounts that can
//! be written (`rounding`), or shown to contradict itself (`conflict`); what comes out is checked once more, apart from all of these
//! (`answer`). Then it is a ration again (`balance`), and edits of its text (`rewrite`).

mod answer;
mod balance;
mod conflict;
pub mod findings;
mod left;
#[cfg(test)]
mod made_up;
pub mod programme;
mod question;
mod rewrite;
mod rounding;
mod settled;
mod solve;

pub use answer::answer;
pub use balance::{
    Amount, Balance, Balanced, BoundStanding, ConflictPart, Infeasible, LeftOut, Outcome, Refusal,
    Relax, SUM, balance_ration,
};
pub use left::{Settled, balance_found};
pub use solve::{Stopped, Watch, least_cost};
