//! The units of the craft: every quantity, its units, the numbering systems of yarn, and how a spinner writes them.
//!
//! Foundation of every stage. A text becomes a [`Parsed`] quantity by [`parse`], a number becomes text in [`format`](mod@format) alone, and
//! constants of conversion live in the tables of units alone. What one kind times another gives is not said here.

mod convert;
mod error;
pub mod format;
mod gauge;
mod leading;
mod number;
mod quantity;
mod reading;
mod standing;
mod table;
mod unit;

pub use convert::{Row, convert};
pub use error::UnitError;
pub use gauge::{Gauge, Size, parse_gauge, parse_size};
pub use leading::leading;
pub use quantity::*;
pub use reading::{Parsed, parse, parse_any};
pub use standing::Standing;
pub use table::table;
pub use unit::{Folding, System, Unit, unit};
