//! The one integration binary: each module is a kind of check; DEVELOPERS.md says which.

#![expect(clippy::disallowed_methods, reason = "tests read and write files of their own")]

#[path = "it/accessible.rs"]
mod accessible;
#[path = "it/allot.rs"]
mod allot;
#[path = "it/allotted.rs"]
mod allotted;
#[path = "it/arrangement.rs"]
mod arrangement;
#[path = "it/check_random.rs"]
mod check_random;
#[path = "it/class.rs"]
mod class;
#[path = "it/cli.rs"]
mod cli;
#[path = "it/codes.rs"]
mod codes;
#[path = "it/colours.rs"]
mod colours;
#[path = "it/constructions.rs"]
mod constructions;
#[path = "it/craft.rs"]
mod craft;
#[path = "it/drift.rs"]
mod drift;
#[path = "it/dye_properties.rs"]
mod dye_properties;
#[path = "it/forecast.rs"]
mod forecast;
#[path = "it/formats.rs"]
mod formats;
#[path = "it/garments.rs"]
mod garments;
#[path = "it/golden.rs"]
mod golden;
#[path = "it/layout.rs"]
mod layout;
#[path = "it/log_command.rs"]
mod log_command;
#[path = "it/log_entries.rs"]
mod log_entries;
#[path = "it/machines.rs"]
mod machines;
#[path = "it/origins.rs"]
mod origins;
#[path = "it/outline.rs"]
mod outline;
#[path = "it/own_templates.rs"]
mod own_templates;
#[path = "it/pages.rs"]
mod pages;
#[path = "it/pairing.rs"]
mod pairing;
#[path = "it/paper.rs"]
mod paper;
#[path = "it/pdf_tags.rs"]
mod pdf_tags;
#[path = "it/plans.rs"]
mod plans;
#[path = "it/properties.rs"]
mod properties;
#[path = "it/reference.rs"]
mod reference;
#[path = "it/simulated_knitter.rs"]
mod simulated_knitter;
#[path = "it/simulated_spinner.rs"]
mod simulated_spinner;
#[path = "it/spun.rs"]
mod spun;
#[path = "it/tidy.rs"]
mod tidy;
#[path = "it/ui.rs"]
mod ui;
#[path = "it/uncertainty.rs"]
mod uncertainty;
#[path = "it/units.rs"]
mod units;
#[path = "it/workings.rs"]
mod workings;
