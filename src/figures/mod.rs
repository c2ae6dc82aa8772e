//! Plan and log to ledger: every number that a sheet prints, as an expression with its spread and its source.
pub mod expression;
pub mod fibre;
pub mod folding;
pub mod garment;
pub mod thickness;
pub mod twist;
pub mod wheel;
