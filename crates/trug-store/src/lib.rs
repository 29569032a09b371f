//! What is needed from the store, by when.
//!
//! What groups eat is mixed ahead of the day it is eaten (`mixes`): each mix takes what it is made of from the lots there are
//! (`store`), the one that expires first before any other. What is short then is to be bought, in whole sacks (`summary`). It only
//! counts: nothing here judges a ration, and what has an error is not counted and said (`eaten`).

mod buying;
mod eaten;
mod feeds;
mod lots;
mod mixes;
mod money;
mod store;
mod summary;
mod unfed;

pub use buying::{
    Beside, Buying, Daily, Expiring, Fed, Judged, Lasts, LeftOut, MixedAhead, Money, Purchase, Row,
    Sacks, Short, StockDay, Uncounted, Unfed, WhyLeftOut, WhyUncounted, buying,
};
