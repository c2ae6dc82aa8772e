//! What turns, under `[wheel]` or `[plying]`: its drive, whorls and band, what it leads, its bobbin and its brake.

use indexmap::IndexMap;

use super::reading::{default, optional, reading, reading_of_text};
use super::report::Report;
use super::{defaults, limits, names, too_many};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Core, Drive, Groove, Lead, Machine, Origin, Reading, Whorl};
use crate::syntax::raw;
use crate::units::{Length, Ratio, Speed, System};

/// What a table says of the machine.
pub(super) struct Keys<'a> {
    /// `wheel` or `plying`.
    table: &'static str,
    drive: Option<raw::Drive>,
    whorls: &'a IndexMap<String, raw::Quantity>,
    flyer_speed: Option<&'a raw::Quantity>,
    lead: Option<raw::Lead>,
    brake: Option<&'a str>,
    bobbin_core: Option<&'a raw::Quantity>,
    bobbin_full: Option<&'a raw::Quantity>,
    drive_wheel: Option<&'a raw::Quantity>,
    band: Option<&'a raw::Quantity>,
    slip: Option<&'a raw::Quantity>,
}

macro_rules! keys_of {
    ($raw:expr, $table:literal) => {
        Keys {
            table: $table,
            drive: $raw.drive,
            whorls: &$raw.whorls,
            flyer_speed: $raw.flyer_speed.as_ref(),
            lead: $raw.lead,
            brake: $raw.brake.as_deref(),
            bobbin_core: $raw.bobbin_core.as_ref(),
            bobbin_full: $raw.bobbin_full.as_ref(),
            drive_wheel: $raw.drive_wheel.as_ref(),
            band: $raw.band.as_ref(),
            slip: $raw.slip.as_ref(),
        }
    };
}

impl<'a> Keys<'a> {
    /// Those of `[wheel]`.
    pub(super) fn of_wheel(raw: &'a raw::Wheel) -> Self {
        keys_of!(raw, "wheel")
    }

    /// Those of `[plying]`.
    pub(super) fn of_plying(raw: &'a raw::Plying) -> Self {
        keys_of!(raw, "plying")
    }

    /// Whether they are of a wheel of its own: what it is, or what its whorls are, is said.
    pub(super) fn say_a_machine(&self) -> bool {
        self.drive.is_some() || !self.whorls.is_empty()
    }

    /// What turns it; the feet where nothing is said.
    pub(super) fn driven_by(&self) -> raw::Drive {
        self.drive.unwrap_or(raw::Drive::Treadle)
    }

    fn place(&self, key: &str) -> Place {
        Place::plan(self.table).key(key)
    }

    /// What is said of the band, key by key.
    fn of_the_band(&self) -> [(&'static str, bool); 3] {
        [("drive-wheel", self.drive_wheel.is_some()), ("band", self.band.is_some()), ("slip", self.slip.is_some())]
    }

    /// What is said of a driven bobbin.
    fn of_the_bobbin(&self) -> [(&'static str, bool); 2] {
        [("bobbin-core", self.bobbin_core.is_some()), ("bobbin-full", self.bobbin_full.is_some())]
    }
}

/// A drive in plain words, after "on".
pub(super) fn words(drive: raw::Drive) -> &'static str {
    match drive {
        raw::Drive::Treadle => "a treadle wheel",
        raw::Drive::Electric => "an electric wheel",
        raw::Drive::Spindle => "a spindle",
    }
}

/// A machine by the keys of one table alone; `None` if it has a fault.
pub(super) fn machine(keys: &Keys, system: System, report: &mut Report) -> Option<Machine> {
    let is_unclear = keys.drive.is_none() && report.was_refused(&keys.place("drive"));
    let drive = match keys.driven_by() {
        _ if is_unclear => None,
        raw::Drive::Treadle => treadle(keys, system, report),
        raw::Drive::Electric => electric(keys, report),
        raw::Drive::Spindle => spindle(keys, report),
    };
    if matches!(keys.driven_by(), raw::Drive::Spindle) {
        return Some(Machine { drive: drive?, lead: Lead::Flyer, core: None, brake: None });
    }
    let lead = keys.lead.map(lead).unwrap_or_else(|| {
        report.assume(&defaults::LEAD, keys.place("lead"), system);
        Lead::Flyer
    });
    let core = core(keys, lead, None, system, report);
    let brake = names::text(keys.brake, &keys.place("brake"), report);
    Some(Machine { drive: drive?, lead, core: core?, brake })
}

/// The wheel with what `[plying]` says of it otherwise; nothing where it says nothing.
pub(super) fn set_otherwise(
    keys: &Keys,
    on: raw::Drive,
    wheel: Option<&Machine>,
    system: System,
    report: &mut Report,
) -> Option<Option<Machine>> {
    for (key, _) in keys.of_the_band().into_iter().filter(|(_, is_written)| *is_written) {
        idle(keys, key, format!("`{key}` is a matter of the wheel, which is the same for plying"), report)
            .said("write it under [wheel]; for another wheel, write its `whorls` here as well");
    }
    let is_fit = on == raw::Drive::Electric || !refuse_speed(keys, on, report);
    let speed = if is_fit { speed(keys, report) } else { None };
    if on == raw::Drive::Spindle {
        of_no_spindle(keys, report);
        return wheel.map(|_| None);
    }
    let brake = names::text(keys.brake, &keys.place("brake"), report);
    let lead = keys.lead.map(lead).or(wheel.map(|wheel| wheel.lead));
    let core = core(keys, lead?, wheel.and_then(|wheel| wheel.core.as_ref()), system, report)?;
    let wheel = wheel?;
    let drive = match (&wheel.drive, keys.flyer_speed.is_some()) {
        (Drive::Electric { .. }, true) => Drive::Electric { flyer_speed: speed? },
        (same, _) => same.clone(),
    };
    let is_otherwise = keys.flyer_speed.is_some() || keys.lead.is_some() || keys.brake.is_some() || has_bobbin(keys);
    let brake = brake.or_else(|| wheel.brake.clone());
    Some(is_otherwise.then(|| Machine { drive, lead: lead.unwrap_or(wheel.lead), core, brake }))
}

fn has_bobbin(keys: &Keys) -> bool {
    keys.of_the_bobbin().iter().any(|(_, is_written)| *is_written)
}

fn treadle(keys: &Keys, system: System, report: &mut Report) -> Option<Drive> {
    let is_fit = !refuse_speed(keys, raw::Drive::Treadle, report);
    let is_corrected = keys.drive_wheel.is_some() && keys.band.is_some();
    let whorls = whorls(keys, is_corrected, report);
    let groove = groove(keys, whorls.as_deref(), system, report);
    is_fit.then_some(Drive::Treadle { whorls: whorls?, groove: groove?.map(Box::new) })
}

fn electric(keys: &Keys, report: &mut Report) -> Option<Drive> {
    if !keys.whorls.is_empty() {
        idle(keys, "whorls", "an electric wheel is set by its flyer speed, and by no ratio", report)
            .said("leave them out, and count the flyer speed on the whorl that you use");
    }
    for (key, _) in keys.of_the_band().into_iter().filter(|(_, is_written)| *is_written) {
        idle(keys, key, format!("`{key}` changes nothing where the flyer speed is counted"), report)
            .said("leave it out; what is counted holds band and slip already");
    }
    if keys.flyer_speed.is_none() {
        report.missing(
            "how fast the flyer turns is not said",
            keys.place("flyer-speed"),
            format!(
                "count the turns of the flyer in a minute, while no yarn winds on, and write\n\
                 [{}]\ndrive = \"electric\"\nflyer-speed = \"900 turns/min\"",
                keys.table
            ),
        );
    }
    Some(Drive::Electric { flyer_speed: speed(keys, report)? })
}

fn spindle(keys: &Keys, report: &mut Report) -> Option<Drive> {
    let is_fit = !refuse_speed(keys, raw::Drive::Spindle, report);
    if !keys.whorls.is_empty() {
        idle(keys, "whorls", "a spindle has no whorls to choose from", report)
            .said("leave them out: turns are counted");
    }
    for (key, _) in keys.of_the_band().into_iter().filter(|(_, is_written)| *is_written) {
        idle(keys, key, "a spindle has no drive band", report).said("leave it out: turns are counted");
    }
    of_no_spindle(keys, report);
    is_fit.then_some(Drive::Spindle)
}

/// What belongs to a flyer and its bobbin.
fn of_no_spindle(keys: &Keys, report: &mut Report) {
    let [core, full] = keys.of_the_bobbin();
    for (key, is_written) in [("lead", keys.lead.is_some()), ("brake", keys.brake.is_some()), core, full] {
        if is_written {
            idle(keys, key, "a spindle has no flyer and no bobbin", report).said("leave it out: turns are counted");
        }
    }
}

fn speed(keys: &Keys, report: &mut Report) -> Option<Reading<Speed>> {
    optional(keys.flyer_speed, &keys.place("flyer-speed"), &limits::FLYER_SPEED, report)
}

/// A flyer speed means nothing where no motor keeps it: refuses one, and says whether there was one.
fn refuse_speed(keys: &Keys, on: raw::Drive, report: &mut Report) -> bool {
    if keys.flyer_speed.is_none() {
        return false;
    }
    let message = format!("expected no flyer speed on {}", words(on));
    let fault = Diagnostic::new(Code::Contradiction, message, keys.place("flyer-speed"));
    let fault = fault.label("only a motor keeps a speed").help(format!(
        "leave it out; for an electric wheel, write\n[{}]\ndrive = \"electric\"\nflyer-speed = \"900 turns/min\"",
        keys.table
    ));
    report.fault(match keys.drive {
        Some(_) => fault.also(keys.place("drive"), "what turns it"),
        None => fault,
    });
    true
}

fn whorls(keys: &Keys, is_corrected: bool, report: &mut Report) -> Option<Vec<Whorl>> {
    let place = keys.place("whorls");
    if keys.whorls.is_empty() {
        let table = keys.table;
        report.missing(
            "the wheel has no whorls",
            place,
            format!(
                "write the ratio of each whorl, under names of your own:\n\
                 [{table}]\nwhorls = {{ slow = \"6:1\", fast = \"8.5:1\" }}"
            ),
        );
        return None;
    }
    if !too_many(keys.whorls.len(), limits::MOST_ENTRIES, "whorls", &place, report) {
        return None;
    }
    let read: Vec<_> = keys
        .whorls
        .iter()
        .map(|(name, written)| whorl(name, &written.0, place.key(name), is_corrected, report))
        .collect();
    read.into_iter().collect()
}

fn whorl(name: &str, written: &str, place: Place, is_corrected: bool, report: &mut Report) -> Option<Whorl> {
    let is_named = names::check(name, &place, report);
    let ratio = ratio(written, &place, is_corrected, report)?;
    is_named.then(|| Whorl { name: name.to_owned(), ratio })
}

/// A ratio, after which "measured" may stand where the spinner counted it.
fn ratio(written: &str, place: &Place, is_corrected: bool, report: &mut Report) -> Option<Reading<Ratio>> {
    let Some(number) = written.trim().strip_suffix("measured") else {
        let nominal = if is_corrected { &limits::GROOVE_RATIO } else { &limits::NOMINAL_RATIO };
        return reading_of_text(written, place, nominal, report);
    };
    let mut ratio = reading_of_text::<Ratio>(number, place, &limits::MEASURED_RATIO, report)?;
    ratio.origin = Origin::Measured;
    ratio.text = written.trim().to_owned();
    Some(ratio)
}

/// What corrects a stated ratio; nothing where nothing of it is said, `None` where some of it is missing.
fn groove(keys: &Keys, whorls: Option<&[Whorl]>, system: System, report: &mut Report) -> Option<Option<Groove>> {
    let written: Vec<&str> = keys.of_the_band().into_iter().filter(|(_, is)| *is).map(|(key, _)| key).collect();
    let drive_wheel = optional(keys.drive_wheel, &keys.place("drive-wheel"), &limits::DRIVE_WHEEL, report);
    let band = optional(keys.band, &keys.place("band"), &limits::BAND, report);
    let slip = optional(keys.slip, &keys.place("slip"), &limits::SLIP, report);
    let Some(first) = written.first() else { return Some(None) };
    if whorls.is_some_and(|whorls| whorls.iter().all(|whorl| whorl.ratio.origin == Origin::Measured)) {
        for key in written {
            idle(keys, key, "every ratio is measured, and holds band and slip already", report).said("leave it out");
        }
        return Some(None);
    }
    for (key, what, is_written) in [
        ("drive-wheel", "the diameter of the drive wheel", keys.drive_wheel.is_some()),
        ("band", "the thickness of the band", keys.band.is_some()),
    ] {
        if !is_written {
            report.missing(
                format!("{what} is not said, which `{first}` leads nowhere without"),
                keys.place(key),
                format!(
                    "write both, measured at the groove:\n[{}]\ndrive-wheel = \"50 cm\"\nband = \"3 mm\"",
                    keys.table
                ),
            );
        }
    }
    let slip = match (slip, keys.slip) {
        (Some(slip), _) => slip,
        (None, Some(_)) => return None,
        (None, None) => default(&defaults::SLIP, keys.place("slip"), system, report),
    };
    Some(Some(Groove { drive_wheel: drive_wheel?, band: band?, slip }))
}

/// The bobbin that is driven, as said, as it is on the wheel, or as bobbins are; an entry without effect where the flyer is.
fn core(keys: &Keys, lead: Lead, of_wheel: Option<&Core>, system: System, report: &mut Report) -> Option<Option<Core>> {
    if lead != Lead::Bobbin {
        for (key, _) in keys.of_the_bobbin().into_iter().filter(|(_, is_written)| *is_written) {
            let message = "the diameter of the bobbin changes nothing where the flyer is driven";
            idle(keys, key, message, report).said("leave it out; only a driven bobbin loses a turn at each wrap");
        }
        return Some(None);
    }
    let mut one = |written: Option<&raw::Quantity>, key: &str, same: Option<&Reading<Length>>, measure, assumption| {
        let place = keys.place(key);
        match (written, same) {
            (Some(written), _) => reading(written, &place, measure, report),
            (None, Some(same)) => Some(same.clone()),
            (None, None) => Some(default::<Length>(assumption, place, system, report)),
        }
    };
    let empty = one(
        keys.bobbin_core,
        "bobbin-core",
        of_wheel.map(|core| &core.empty),
        &limits::BOBBIN_CORE,
        &defaults::BOBBIN_CORE,
    );
    let full = one(
        keys.bobbin_full,
        "bobbin-full",
        of_wheel.map(|core| &core.full),
        &limits::BOBBIN_FULL,
        &defaults::BOBBIN_FULL,
    );
    let core = Core { empty: empty?, full: full? };
    let is_wider = core.full.value > core.empty.value;
    if !is_wider {
        report.fault(no_room(keys, &core));
    }
    is_wider.then_some(Some(core))
}

fn no_room(keys: &Keys, core: &Core) -> Diagnostic {
    let message =
        format!("expected a full bobbin wider than its core of {}, found {}", core.empty.text, core.full.text);
    let (key, other) =
        if keys.bobbin_full.is_some() { ("bobbin-full", "bobbin-core") } else { ("bobbin-core", "bobbin-full") };
    Diagnostic::new(Code::Contradiction, message, keys.place(key)).label("no room for yarn").help(format!(
        "write both diameters, `{other}` as well:\n[{}]\nbobbin-core = \"2.5 cm\"\nbobbin-full = \"7.5 cm\"",
        keys.table
    ))
}

fn lead(written: raw::Lead) -> Lead {
    match written {
        raw::Lead::Flyer => Lead::Flyer,
        raw::Lead::Bobbin => Lead::Bobbin,
        raw::Lead::DoubleDrive => Lead::DoubleDrive,
    }
}

/// An entry without effect, to which what to do is still to be said.
struct Idle<'a, 'b> {
    fault: Diagnostic,
    report: &'a mut Report<'b>,
}

fn idle<'a, 'b>(keys: &Keys, key: &str, message: impl Into<String>, report: &'a mut Report<'b>) -> Idle<'a, 'b> {
    Idle { fault: Diagnostic::new(Code::Unused, message, keys.place(key)).label("not used"), report }
}

impl Idle<'_, '_> {
    fn said(self, help: &str) {
        self.report.fault(self.fault.help(help));
    }
}
