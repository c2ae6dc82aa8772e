//! The sheets: for each, a record of finished text that a template sets.

pub mod bobbin_checklist;
pub mod marks;
pub mod overview;
pub mod ply_plan;
pub mod sample_card;
pub mod wheel_card;
pub mod workings;
