//! Items of all files to names, units, exact quantities and checks.

pub mod analysis;
mod check;
pub mod choice;
mod concerns;
pub mod exact;
mod farm;
pub mod findings;
mod groups;
mod judge;
mod known;
mod library;
mod near;
mod opened;
mod phases;
pub mod prices;
pub mod quantity;
pub mod ration;
mod rounds;
mod seen;
mod texts;
pub mod view;

pub use check::{Acceptances, More};
pub use concerns::{Concerns, composed, refuses, to_be_weighed};
pub use exact::Q;
pub use farm::table;
pub use farm::{Farm, ItemRef, Namespace, Settings};
pub use groups::{EatenBeside, Eats, Group, GroupOrder, PhaseOrder};
pub use judge::{LineWindow, LineWindowKind};
pub use known::{AddedTo, Counted, KnownName, namespace_of};
pub use library::{Edition, Library};
pub use opened::RationName;
pub use phases::{Phase, Placed};
pub use seen::joined;
pub use texts::{Absent, InMemory, LARGEST_TEXT, Texts};
pub use view::View;
