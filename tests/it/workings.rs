//! Every line of the workings is true as printed.
//!
//! A reader with a pocket calculator has the numbers of the line and nothing else. So the line is read here by a parser of
//! its own, which knows signs, brackets and the names of functions and skips units, and never by the code that wrote it.

use wheelsheet::figures::expression::text::{Line, line};
use wheelsheet::units::System;

use super::reference::MORE;
use super::reference::ledgers::PROJECTS;

/// A line of arithmetic, read from left to right.
struct Reader<'a> {
    rest: &'a str,
}

/// The mean width of touching circles in a ring, with string and compass: the ring is closed by trying radii with the law of
/// cosines, many points are set on every circle, and the length of the string around all of them is taken.
fn mean_width(diameters: &[f64]) -> f64 {
    use std::f64::consts::{PI, TAU};
    let radii: Vec<f64> = diameters.iter().map(|diameter| diameter / 2.0).collect();
    let n = radii.len();
    let angle = |middle: f64, a: f64, b: f64| {
        let (x, y, z) = (middle + a, middle + b, a + b);
        ((x * x + y * y - z * z) / (2.0 * x * y)).clamp(-1.0, 1.0).acos()
    };
    let (mut least, mut most) = (0.0, 4.0 * radii.iter().sum::<f64>());
    for _ in 0..80 {
        let middle = 0.5 * (least + most);
        let turn: f64 = (0..n).map(|i| angle(middle, radii[i], radii[(i + 1) % n])).sum();
        if turn > TAU { least = middle } else { most = middle }
    }
    let middle = if n == 2 { 0.0 } else { least };
    let mut points: Vec<(f64, f64)> = Vec::new();
    let mut at = 0.0;
    for i in 0..n {
        let (x, y) = ((middle + radii[i]) * f64::cos(at), (middle + radii[i]) * f64::sin(at));
        points.extend(
            (0..40_000)
                .map(|k| TAU * f64::from(k) / 40_000.0)
                .map(|turn| (x + radii[i] * turn.cos(), y + radii[i] * turn.sin())),
        );
        at += angle(middle, radii[i], radii[(i + 1) % n]);
    }
    string_around(&mut points) / PI
}

/// Length of the string around points: their hull by the monotone chain of Andrew.
fn string_around(points: &mut [(f64, f64)]) -> f64 {
    points.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let turns_left =
        |a: (f64, f64), b: (f64, f64), c: (f64, f64)| (b.0 - a.0) * (c.1 - a.1) - (b.1 - a.1) * (c.0 - a.0) > 0.0;
    let chain = |points: &mut dyn Iterator<Item = (f64, f64)>| {
        let mut chain: Vec<(f64, f64)> = Vec::new();
        for point in points {
            while chain.len() > 1 && !turns_left(chain[chain.len() - 2], chain[chain.len() - 1], point) {
                chain.pop();
            }
            chain.push(point);
        }
        chain.windows(2).map(|pair| (pair[1].0 - pair[0].0).hypot(pair[1].1 - pair[0].1)).sum::<f64>()
    };
    chain(&mut points.iter().copied()) + chain(&mut points.iter().rev().copied())
}

#[test]
fn string_and_compass_find_the_hull_of_equal_circles() {
    for n in 2..=5_u32 {
        let width = mean_width(&vec![2.0; n as usize]);
        assert!((width - 2.0 * (1.0 + f64::from(n) / std::f64::consts::PI)).abs() < 1e-5, "{n}: {width}");
    }
}

/// What a line of arithmetic comes to, in the numbers printed. Angles are in radians; the sign ° turns degrees into them.
pub(crate) fn worked_out(text: &str) -> Result<f64, String> {
    let mut reader = Reader { rest: text };
    let value = reader.sum()?;
    reader.spaces();
    if reader.rest.is_empty() { Ok(value) } else { Err(format!("\"{}\" is left over of \"{text}\"", reader.rest)) }
}

impl Reader<'_> {
    fn spaces(&mut self) {
        self.rest = self.rest.trim_start_matches([' ', '\u{a0}', '\u{202f}']);
    }

    /// Takes a sign or a word if it is the next thing.
    fn takes(&mut self, sign: &str) -> bool {
        self.spaces();
        let after = self.rest.strip_prefix(sign);
        self.rest = after.unwrap_or(self.rest);
        after.is_some()
    }

    fn sum(&mut self) -> Result<f64, String> {
        let mut value = self.product()?;
        loop {
            if self.takes("+") {
                value += self.product()?;
            } else if self.takes("−") {
                value -= self.product()?;
            } else {
                return Ok(value);
            }
        }
    }

    fn product(&mut self) -> Result<f64, String> {
        let mut value = self.power()?;
        loop {
            if self.takes("×") {
                value *= self.power()?;
            } else if self.takes("÷") {
                value /= self.power()?;
            } else {
                return Ok(value);
            }
        }
    }

    fn power(&mut self) -> Result<f64, String> {
        let value = self.atom()?;
        if self.takes("^") {
            return Ok(libm::pow(value, self.atom()?));
        }
        Ok(if self.takes("²") { value * value } else { value })
    }

    fn atom(&mut self) -> Result<f64, String> {
        if self.takes("√(") {
            return Ok(self.closed()?.sqrt());
        }
        for (word, function) in
            [("arctan(", libm::atan as fn(f64) -> f64), ("tan(", libm::tan), ("sin(", libm::sin), ("cos(", libm::cos)]
        {
            if self.takes(word) {
                return Ok(function(self.closed()?));
            }
        }
        for (word, better) in [("least(", f64::min as fn(f64, f64) -> f64), ("greatest(", f64::max)] {
            if self.takes(word) {
                let mut value = self.sum()?;
                while self.takes(";") {
                    value = better(value, self.sum()?);
                }
                return if self.takes(")") { Ok(value) } else { Err(format!("no ) before \"{}\"", self.rest)) };
            }
        }
        if self.takes("mean width(") {
            let mut widths = vec![self.sum()?];
            while self.takes(";") {
                widths.push(self.sum()?);
            }
            return if self.takes(")") {
                Ok(mean_width(&widths))
            } else {
                Err(format!("no ) before \"{}\"", self.rest))
            };
        }
        if self.takes("(") {
            return self.closed();
        }
        if self.takes("π") {
            return Ok(std::f64::consts::PI);
        }
        if self.takes("−") {
            return Ok(-self.number()?);
        }
        self.number()
    }

    /// The rest of a bracket that is open.
    fn closed(&mut self) -> Result<f64, String> {
        let value = self.sum()?;
        if self.takes(")") { Ok(value) } else { Err(format!("no ) before \"{}\"", self.rest)) }
    }

    /// A number; the unit behind it is skipped, but for the sign of degrees and of per cent.
    fn number(&mut self) -> Result<f64, String> {
        self.spaces();
        let mut end = self.rest.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(self.rest.len());
        let power = self.rest[end..].strip_prefix('e').map_or(0, |after| {
            let digits = after.trim_start_matches('-').len()
                - after.trim_start_matches('-').trim_start_matches(|c: char| c.is_ascii_digit()).len();
            if digits == 0 { 0 } else { 1 + digits + usize::from(after.starts_with('-')) }
        });
        end += power;
        let (number, rest) = self.rest.split_at(end);
        let value: f64 = number.parse().map_err(|_| format!("no number before \"{}\"", self.rest))?;
        self.rest = rest;
        if self.takes("°") {
            return Ok(value.to_radians());
        }
        if self.takes("%") {
            return Ok(value / 100.0);
        }
        self.unit();
        Ok(value)
    }

    /// A unit begins with a letter and ends with a space, a semicolon or a bracket that it did not open.
    fn unit(&mut self) {
        let text = self.rest.trim_start_matches([' ', '\u{a0}']);
        if !text.starts_with(char::is_alphabetic) {
            return;
        }
        let mut open = 0;
        let ends = |c: char| {
            open += i32::from(c == '(') - i32::from(c == ')');
            c == ' ' || c == ';' || open < 0
        };
        self.rest = &text[text.find(ends).unwrap_or(text.len())..];
    }
}

/// Whether a line comes to its result, which is printed to so many significant digits.
pub(crate) fn is_true(line: &Line, digits: u32) -> Result<(), String> {
    let mut value = worked_out(&line.numbers)?;
    if line.unit == "°" {
        value = value.to_degrees();
    }
    let printed: f64 =
        line.result.replace('−', "-").parse().map_err(|_| format!("\"{}\" is no number", line.result))?;
    // What cancels to nothing leaves a few last bits behind when it is worked from decimals.
    let half_of_the_last = if printed == 0.0 {
        1e-9
    } else {
        0.5 * libm::pow(10.0, libm::log10(printed.abs()).floor() + 1.0 - f64::from(digits))
    };
    // Halves may go either way in binary, so the last bits of a half are given.
    if (value - printed).abs() <= half_of_the_last * (1.0 + 1e-9) {
        Ok(())
    } else {
        Err(format!("{} comes to {value}, and not to {} {}", line.numbers, line.result, line.unit))
    }
}

#[test]
fn every_line_is_true_as_printed() {
    let mut lines = 0;
    // The machines that no shipped project has are lines like any other.
    let machines = MORE.iter().filter(|plan| plan.plan.title == "Machines");
    assert!(machines.clone().count() >= 3, "a driven bobbin, an electric wheel, a spindle");
    for project in PROJECTS.iter().chain(machines) {
        for (name, node) in project.nodes() {
            for system in [System::Metric, System::Inch] {
                for digits in 2..=6 {
                    let line = line(node, system, digits);
                    is_true(&line, digits)
                        .unwrap_or_else(|wrong| panic!("{}, {name}, {digits} digits: {wrong}", project.name));
                    lines += 1;
                }
            }
        }
    }
    assert!(lines > 1000, "the projects have lines to check");
}

/// A factor that hides in the units would be the length of an inch in centimetres, a yard in metres, an ounce in grams,
/// a hundred, a thousand; or what a rounded input is off by.
const HIDDEN: [f64; 8] = [2.54, 0.9144, 28.349_523, 453.592_37, 100.0, 1000.0, 57.295_78, 1.01];

#[test]
fn a_hidden_factor_is_noticed() {
    for project in PROJECTS.iter() {
        for (name, node) in project.nodes().filter(|(_, node)| node.value().abs() > 1e-9) {
            let honest = line(node, project.plan.units, 4);
            for factor in HIDDEN.into_iter().flat_map(|factor| [factor, 1.0 / factor]) {
                let printed: f64 = honest.result.parse().expect("a number");
                let result = format!("{:.3e}", printed * factor);
                let result = result.parse::<f64>().expect("a number").to_string();
                let tampered = Line { result, ..honest.clone() };
                assert!(
                    is_true(&tampered, 4).is_err(),
                    "{}, {name}: {} passes for {}",
                    project.name,
                    tampered.result,
                    honest.result
                );
            }
        }
    }
}

#[test]
fn a_line_that_mixes_units_is_false() {
    let line = |numbers: &str, result: &str| Line {
        words: String::new(),
        numbers: numbers.to_owned(),
        result: result.to_owned(),
        unit: String::new(),
    };
    // Millimetres times turns per inch, and length times tex: what such lines come to only with a factor in mind.
    assert!(is_true(&line("π × 1.101 mm × 2.748 tpi", "0.3742"), 4).is_err());
    assert!(is_true(&line("1255 m × 547.2 tex", "686.7"), 4).is_err());
    assert!(is_true(&line("π × 1.101 mm × 2.748 tpi", "9.505"), 4).is_ok());
}

#[test]
fn arithmetic_is_read_as_on_paper() {
    let is = |text: &str, value: f64| {
        let got = worked_out(text).unwrap_or_else(|wrong| panic!("{text}: {wrong}"));
        assert!((got - value).abs() < 1e-12, "{text}: {got}");
    };
    is("2 + 3 × 4", 14.0);
    is("20 − 3 − 4", 13.0);
    is("20 ÷ 2 ÷ 5", 2.0);
    is("20 ÷ (2 × 5)", 2.0);
    is("(10 wpi)² × 2", 200.0);
    is("tan(45°) × 3", 3.0);
    is("arctan(1)", std::f64::consts::FRAC_PI_4);
    is("√(0.38 wpi/√(yd/lb) × 4)", (0.38f64 * 4.0).sqrt());
    is("least(3 g; 2 g; 5 g ÷ 5) + greatest(1; 2)", 3.0);
    is("(−2) × 3 °", (-2.0) * 3f64.to_radians());
    is("5e-7 m/g × 2", 1e-6);
    is("1.21^(2 × 0.25) × 3", 3.3);
    is("3 rows/in × 2 st/in", 6.0);
    for wrong in ["", "2 +", "(2", "2)", "√2 m", "sin 30°", "2 3", "× 2", "a × 2"] {
        assert!(worked_out(wrong).is_err(), "{wrong}");
    }
}
