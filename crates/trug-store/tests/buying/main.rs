//! Shopping lists: worked by hand, and replayed day by day on made-up farms.

mod made_up;
mod replay;
mod replayed;
mod texts;
mod worked;
