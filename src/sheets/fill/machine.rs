//! What is set for spinning or plying, in the words of what turns: whorl and treadles, flyer speed and seconds, turns.

use super::overview::fact;
use super::print::{In, Printer, Round, joined, some_unit};
use super::words::{self, hand_length};
use crate::figures::settings::{Settings, Way};
use crate::plan::{Drive, Lead, Machine, Origin, Reading, Whorl};
use crate::sheets::marks::{Amount, Setting};
use crate::sheets::overview::Panel;
use crate::sheets::wheel_card::Turns;
use crate::units::{Kind, Speed};

/// Spinning or plying, as it is set.
pub(super) struct Work<'a> {
    printer: &'a Printer<'a>,
    /// Before the dot of its figures.
    stage: String,
    machine: &'a Machine,
    way: Way,
    whorl: Option<usize>,
    /// What a length over which is counted is called, and with its article.
    noun: (&'static str, &'static str),
    /// What its length is called.
    length: &'static str,
    /// Whether the brake is printed.
    has_brake: bool,
}

impl<'a> Work<'a> {
    /// Spinning one kind of singles, by its index.
    pub(super) fn spinning(printer: &'a Printer<'a>, kind: usize, settings: &Settings) -> Self {
        let machine = &printer.plan.wheel.machine;
        Self {
            printer,
            stage: printer.plan.singles[kind].at_wheel(),
            machine,
            way: Way::of(machine, printer.plan.draw()),
            whorl: settings.singles[kind],
            noun: ("draft", "a draft"),
            length: "length of a draft",
            has_brake: true,
        }
    }

    /// Before the dot of its figures: `wheel`, `plying`.
    pub(super) fn stage(&self) -> &str {
        &self.stage
    }

    /// The first plying.
    pub(super) fn plying(printer: &'a Printer<'a>, settings: &Settings) -> Self {
        Self::once_more(printer, "plying", settings.plying)
    }

    /// The second one, which makes a cable.
    pub(super) fn cabling(printer: &'a Printer<'a>, settings: &Settings) -> Self {
        Self::once_more(printer, "cabling", settings.cabling)
    }

    fn once_more(printer: &'a Printer<'a>, stage: &str, whorl: Option<usize>) -> Self {
        let plan = printer.plan;
        Self {
            printer,
            stage: stage.to_owned(),
            machine: plan.plying_machine(),
            way: if plan.plying.length_per_treadle.is_some() { Way::EachTreadle } else { Way::Draft },
            whorl,
            noun: ("arm", "an arm"),
            length: if matches!(plan.plying_machine().drive, Drive::Spindle) {
                "length of an arm"
            } else {
                "yarn let in at a time"
            },
            // On the same wheel just as it spins, the card for spinning has it.
            has_brake: plan.plying.machine.is_some(),
        }
    }

    /// What turns and is seen to turn.
    pub(super) fn turns(&self) -> Turns {
        match self.machine.drive {
            Drive::Treadle { .. } => Turns::Wheel,
            Drive::Electric { .. } => Turns::Flyer,
            Drive::Spindle => Turns::Spindle,
        }
    }

    /// What is set, the machine first.
    pub(super) fn settings(&self) -> Vec<Setting> {
        self.of_machine().into_iter().chain(self.of_twist()).chain(self.brake()).collect()
    }

    /// More twist and less, for whoever finds the yarn soft or hard.
    pub(super) fn softer_and_harder(&self) -> [&'static str; 2] {
        match (&self.machine.drive, self.way) {
            (Drive::Treadle { .. }, Way::EachTreadle) => ["less yarn each treadle", "more yarn each treadle"],
            (Drive::Treadle { .. }, Way::Draft) => ["add a treadle", "drop a treadle"],
            (Drive::Electric { .. }, _) => ["wait longer", "wait less"],
            (Drive::Spindle, _) => ["more turns", "fewer turns"],
        }
    }

    /// The same in the fewest words.
    pub(super) fn more_and_less(&self) -> [&'static str; 2] {
        match (&self.machine.drive, self.way) {
            (Drive::Treadle { .. }, Way::Draft) => ["+ 1 treadle", "− 1 treadle"],
            (Drive::Treadle { .. }, Way::EachTreadle) => ["let in less", "let in more"],
            _ => self.softer_and_harder(),
        }
    }

    /// What to look at where the yarn is off, before the fibre.
    pub(super) fn suspects(&self) -> &'static str {
        let has_band = self.machine.lead == Lead::DoubleDrive;
        match self.machine.drive {
            Drive::Treadle { .. } if has_band => "whorl, band and",
            Drive::Treadle { .. } => "whorl, brake and",
            Drive::Electric { .. } if has_band => "flyer speed, band and",
            Drive::Electric { .. } => "flyer speed, brake and",
            Drive::Spindle => "turns, length of the draft and",
        }
    }

    pub(super) fn caution(&self) -> &'static str {
        match self.machine.drive {
            Drive::Treadle { .. } => words::CAUTION,
            Drive::Electric { .. } => words::CAUTION_ELECTRIC,
            Drive::Spindle => words::CAUTION_SPINDLE,
        }
    }

    /// What is done to the brake as the bobbin fills: its pull falls where it holds back the one and the band drives the other;
    /// common practice, read in a published craft text.
    pub(super) fn as_it_fills(&self) -> Option<String> {
        let is_braked = !matches!(self.machine.drive, Drive::Spindle) && self.machine.lead != Lead::DoubleDrive;
        is_braked.then(|| self.printer.as_written("tighten the brake a little at ¼, ½ and ¾"))
    }

    /// What winds on: "bobbin", or the spindle itself.
    pub(super) fn filled(&self) -> &'static str {
        if matches!(self.machine.drive, Drive::Spindle) { "spindle" } else { "bobbin" }
    }

    /// The line of the sample card that says the machine.
    pub(super) fn machine_in_short(&self) -> Option<(&'static str, String)> {
        match &self.machine.drive {
            Drive::Treadle { whorls, .. } => {
                Some(("whorl", self.printer.as_written(&whorls[self.whorl.expect(HAS_A_WHORL)].name)))
            }
            Drive::Electric { flyer_speed } => Some(("flyer speed", joined(&self.speed(flyer_speed), SPEED))),
            Drive::Spindle => None,
        }
    }

    /// The line of the sample card that says the twist.
    pub(super) fn twist_in_short(&self) -> (&'static str, String) {
        let (noun, _) = self.noun;
        let (lead, _) = hand_length(self.printer);
        let length = |name: &str| self.printer.chosen(&self.choice(name), Kind::Length, lead);
        match (&self.machine.drive, self.way) {
            (Drive::Treadle { .. }, Way::EachTreadle) => ("each treadle", length("length-per-treadle")),
            (drive, _) => {
                let (number, counted) = match drive {
                    Drive::Treadle { .. } => (self.counted("treadles"), "treadles"),
                    Drive::Electric { .. } => (self.seconds(), "s"),
                    Drive::Spindle => (self.counted("turns"), "turns"),
                };
                (noun, format!("{}, {}", length(noun), joined(&number.value, counted)))
            }
        }
    }

    /// The ratio of the whorl, the speed of the flyer, or nothing.
    fn of_machine(&self) -> Option<Setting> {
        match &self.machine.drive {
            Drive::Treadle { whorls, .. } => {
                let whorl = &whorls[self.whorl.expect(HAS_A_WHORL)];
                let ratio = self.printer.reading(&whorl.ratio, Kind::Ratio, In(":1", Round::Plain(3)));
                let said = if whorl.ratio.origin == Origin::Measured { "measured" } else { "as its maker says" };
                let corrected = format!("{}.ratio", self.stage);
                let in_use = self.printer.ledger.find(&corrected).map(|_| {
                    format!("; {} : 1 with band and slip", self.printer.value(&corrected, In(":1", Round::Plain(3))))
                });
                Some(Setting {
                    name: "whorl".to_owned(),
                    amount: Amount { value: self.printer.as_written(&whorl.name), unit: None, other: None },
                    note: Some(format!("{ratio} : 1, {said}{}", in_use.unwrap_or_default())),
                    tray_unit: None,
                })
            }
            Drive::Electric { flyer_speed } => Some(Setting {
                name: "flyer speed".to_owned(),
                amount: Amount { value: self.speed(flyer_speed), unit: None, other: None },
                note: Some(format!("{SPEED}, counted while nothing winds on")),
                tray_unit: Some(SPEED.to_owned()),
            }),
            Drive::Spindle => None,
        }
    }

    /// What is set for the twist: yarn for each treadle, or what is counted over a length.
    fn of_twist(&self) -> Vec<Setting> {
        let (noun, with_article) = self.noun;
        let (name, amount) = match (&self.machine.drive, self.way) {
            (Drive::Treadle { .. }, Way::EachTreadle) => {
                return vec![self.hand("yarn each treadle, one foot", "length-per-treadle")];
            }
            (Drive::Treadle { .. }, Way::Draft) => {
                (format!("treadles {with_article}, one foot"), self.counted("treadles"))
            }
            (Drive::Electric { .. }, _) => (format!("seconds {with_article}"), self.seconds()),
            (Drive::Spindle, _) => (format!("turns {with_article}"), self.counted("turns")),
        };
        let by_hand = matches!(self.machine.drive, Drive::Spindle);
        let note = by_hand.then(|| "or until the ply-back is like the tied one".to_owned());
        let tray_unit = matches!(self.machine.drive, Drive::Electric { .. }).then(|| "s".to_owned());
        vec![Setting { name, amount, note, tray_unit }, self.hand(self.length, noun)]
    }

    fn brake(&self) -> Option<Setting> {
        let brake = self.machine.brake.as_ref().filter(|_| self.has_brake)?;
        let note = match self.machine.lead {
            Lead::DoubleDrive => Lead::DoubleDrive.words().to_owned(),
            lead => format!("{} lead", lead.words()),
        };
        Some(Setting {
            name: "brake".to_owned(),
            amount: Amount { value: self.printer.as_written(brake), unit: None, other: None },
            note: Some(note),
            tray_unit: None,
        })
    }

    fn choice(&self, name: &str) -> String {
        format!("choice.{}.{name}", self.stage)
    }

    fn counted(&self, name: &str) -> Amount {
        chosen(self.printer, &self.choice(name), Kind::Count, In("", Round::Places(0)), None)
    }

    fn seconds(&self) -> Amount {
        chosen(self.printer, &self.choice("seconds"), Kind::Time, In("s", Round::Halves), None)
    }

    fn speed(&self, speed: &Reading<Speed>) -> String {
        self.printer.reading(speed, Kind::Speed, In(SPEED, Round::Places(0)))
    }

    fn hand(&self, name: &str, choice: &str) -> Setting {
        let (lead, other) = hand_length(self.printer);
        Setting {
            name: name.to_owned(),
            amount: chosen(self.printer, &self.choice(choice), Kind::Length, lead, Some(other)),
            note: self.core_to_rim(),
            tray_unit: Some(lead.0.to_owned()),
        }
    }

    /// How the twist changes as a driven bobbin fills.
    fn core_to_rim(&self) -> Option<String> {
        self.machine.core.as_ref()?;
        let unit = self.printer.lead(In("turns/cm", Round::Places(2)), In("tpi", Round::Places(1)));
        let empty = self.printer.value(&format!("{}.twist-empty", self.stage), unit);
        let full = self.printer.with_unit(&format!("{}.twist-full", self.stage), unit);
        Some(format!("empty {empty}, full {full}"))
    }
}

/// How speeds are printed.
const SPEED: &str = "turns/min";
const HAS_A_WHORL: &str = "invariant: a treadle wheel is set to a whorl";

/// What the singles are spun on, for a plan without a garment.
pub(super) fn panel(printer: &Printer) -> Panel {
    let plan = printer.plan;
    let draw = fact("draw", plan.draw().words().to_owned(), None);
    let (title, mut facts) = match &plan.wheel.machine.drive {
        Drive::Treadle { whorls, .. } => {
            let whorl = |whorl: &Whorl| {
                let ratio = printer.reading(&whorl.ratio, Kind::Ratio, In(":1", Round::Plain(3)));
                fact("whorl", format!("{}, {} : 1", printer.as_written(&whorl.name), ratio), None)
            };
            ("wheel", whorls.iter().take(5).map(whorl).collect())
        }
        Drive::Electric { flyer_speed } => {
            let speed = printer.reading(flyer_speed, Kind::Speed, In("turns/min", Round::Places(0)));
            ("wheel", vec![fact("flyer speed", joined(&speed, "turns/min"), None)])
        }
        Drive::Spindle => ("spindle", Vec::new()),
    };
    facts.push(draw);
    Panel { title: title.to_owned(), facts }
}

/// What gives another twist than is wished, and what to do about it.
pub(super) fn what_misses(machine: &Machine) -> (&'static str, &'static str) {
    match machine.drive {
        Drive::Treadle { .. } => (
            "The nearest whorl gives",
            "Choose another length for each treadle, or measure the ratios: makers’ ratios err.",
        ),
        Drive::Electric { .. } => {
            ("A round length in whole seconds gives", "Choose a longer draft, or a slower flyer.")
        }
        Drive::Spindle => ("A round length in whole turns gives", "Choose a longer draft."),
    }
}

/// A choice of the ledger as a number, its unit apart.
pub(super) fn chosen(printer: &Printer, place: &str, kind: Kind, lead: In, other: Option<In>) -> Amount {
    let text = printer.chosen(place, kind, lead);
    let value = text.trim_end_matches(lead.0).trim_end().to_owned();
    Amount { value, unit: some_unit(lead.0), other: other.map(|other| printer.chosen(place, kind, other)) }
}
