//! Units of time, of temperature and of turning. Base: second, degree Celsius, turns per second.

use super::{Origin, SI, Standing, System, Unit};
use crate::units::Kind;
use System::{Inch, Metric, Neutral};

const BESIDE_SI: Origin =
    Origin("BIPM, The International System of Units, 9th edition, 2019, table 8", Standing::Standard);
const FAHRENHEIT: Origin = Origin("32 °F and 212 °F are 0 °C and 100 °C; from memory", Standing::FromMemory);
const TURNING: Origin = Origin("turns of the flyer; common practice, no source", Standing::CommonPractice);

pub(super) const TIME: &[Unit] = &[
    time("min", &["mins", "minute", "minutes"], 60.0, BESIDE_SI),
    time("h", &["hr", "hrs", "hour", "hours"], 3600.0, BESIDE_SI),
    time("s", &["sec", "secs", "second", "seconds"], 1.0, SI),
    time("days", &["d", "day"], 86_400.0, BESIDE_SI),
];

pub(super) const TEMPERATURE: &[Unit] = &[
    Unit::new(Kind::Temperature, "°C", &["C", "deg C", "degrees C", "Celsius"], 1.0, Metric, SI),
    fahrenheit("°F", &["F", "deg F", "degrees F", "Fahrenheit"]),
];

pub(super) const SPEED: &[Unit] = &[
    speed("turns/min", &["turn/min", "rpm", "turns/minute", "/min"], 1.0 / 60.0),
    speed("turns/s", &["turn/s", "/s"], 1.0),
];

const fn time(symbol: &'static str, also: &'static [&'static str], seconds: f64, origin: Origin) -> Unit {
    Unit::new(Kind::Time, symbol, also, seconds, Neutral, origin)
}

const fn speed(symbol: &'static str, also: &'static [&'static str], per_second: f64) -> Unit {
    Unit::new(Kind::Speed, symbol, also, per_second, Neutral, TURNING)
}

const fn fahrenheit(symbol: &'static str, also: &'static [&'static str]) -> Unit {
    let mut unit = Unit::new(Kind::Temperature, symbol, also, 5.0 / 9.0, Inch, FAHRENHEIT);
    unit.zero = -160.0 / 9.0;
    unit
}
