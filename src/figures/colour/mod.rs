//! Colours: from the dye job of a braid to the yarn and the fabric.

pub mod lane;
pub mod tint;
