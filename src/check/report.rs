//! What the check has to say besides the plan: the faults it found and the defaults it took.

use super::defaults::Assumption;
use crate::diagnostics::{Code, Diagnostic, Place, Severity};
use crate::plan::Assumed;
use crate::units::System;

/// Faults and defaults, gathered on the way through plan and log.
pub(super) struct Report<'a> {
    faults: Vec<Diagnostic>,
    assumed: Vec<Assumed>,
    /// Whether something at or below a place was written and could not be used, so that it is not missing.
    was_refused: &'a dyn Fn(&Place) -> bool,
    /// Whether something that is needed was written and refused, so that there is no plan without it.
    is_lacking: bool,
}

impl<'a> Report<'a> {
    pub(super) fn new(was_refused: &'a dyn Fn(&Place) -> bool) -> Self {
        Self { faults: Vec::new(), assumed: Vec::new(), was_refused, is_lacking: false }
    }

    /// Notes a fault.
    pub(super) fn fault(&mut self, fault: Diagnostic) {
        self.faults.push(fault);
    }

    /// Notes that something is left out at the place where it would stand, unless it was written and refused.
    pub(super) fn missing(&mut self, message: impl Into<String>, place: Place, help: impl Into<String>) {
        if self.was_refused(&place) {
            self.is_lacking = true;
        } else {
            self.fault(Diagnostic::new(Code::MissingKey, message, place).help(help));
        }
    }

    /// Whether something at or below the place was written and refused, and a fault of it was noted before.
    pub(super) fn was_refused(&self, place: &Place) -> bool {
        (self.was_refused)(place)
    }

    /// Notes that a default is taken; one that is taken at several places is noted once for each.
    pub(super) fn assume(&mut self, assumption: &'static Assumption, place: Place, system: System) {
        let assumed = Assumed {
            place: Some(place),
            what: assumption.what,
            text: assumption.text_in(system),
            standing: assumption.standing,
            reason: assumption.reason,
        };
        self.note(assumed);
    }

    /// Notes what was assumed, once.
    pub(super) fn note(&mut self, assumed: Assumed) {
        if !self.assumed.contains(&assumed) {
            self.assumed.push(assumed);
        }
    }

    /// Whether the plan can be built.
    pub(super) fn is_sound(&self) -> bool {
        !self.is_lacking && self.faults.iter().all(|fault| fault.code.severity() != Severity::Error)
    }

    /// All that was assumed, taken out.
    pub(super) fn take_assumed(&mut self) -> Vec<Assumed> {
        std::mem::take(&mut self.assumed)
    }

    /// The faults.
    pub(super) fn into_faults(self) -> Vec<Diagnostic> {
        self.faults
    }
}
