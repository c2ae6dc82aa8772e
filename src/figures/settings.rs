//! What wheel and hands are set to: whorl, treadles, seconds or turns, lengths let in.
//!
//! Whole numbers and round lengths are chosen from nominal values and entered as exact choices; the twist that the rounding
//! brings stands beside them.

use super::aim::Aim;
use super::expression::{Figure, exact};
use super::kinds::Spun;
use super::ledger::{Book, number};
use super::wheel;
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Core, Drive, Groove, Machine, Origin, Plan, Reading, Whorl};
use crate::units::format::{decimals, significant, vulgar};
use crate::units::{Count, Kind, Length, Ratio, Speed, System, Time, Twist, unit};

/// What is settled for the wheel: whorls by their index, where the machine has whorls.
#[derive(Debug, Clone, PartialEq)]
pub struct Settings {
    /// For spinning each kind of singles.
    pub singles: Vec<Option<usize>>,
    /// For plying; nothing is plied in a yarn of singles.
    pub plying: Option<usize>,
    /// For cabling.
    pub cabling: Option<usize>,
}

/// How the twist is set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// By the yarn let in at each treadle, which only a treadle wheel can.
    EachTreadle,
    /// By whole treadles, half seconds or whole turns over a length.
    Draft,
}

impl Way {
    /// The way of a spinner who drafts so on this machine.
    pub fn of(machine: &Machine, draw: crate::plan::Draw) -> Self {
        if machine.lets_in_each_treadle(draw) { Self::EachTreadle } else { Self::Draft }
    }
}

/// Putting twist in: spinning, plying or cabling.
pub struct Operation<'a> {
    /// Before the dot of its figures: `wheel`, `wheel.silk`, `plying`, `cabling`.
    pub stage: String,
    /// What a length over which is counted is called: `draft`, `arm`.
    pub noun: &'a str,
    /// What turns.
    pub machine: &'a Machine,
    /// Twist that is to stay in, per length let in under tension.
    pub twist: Figure<Twist>,
    /// How it is set; only a treadle wheel lets yarn in at each treadle.
    pub way: Way,
    /// The length that is wished: at each treadle, or over which is counted.
    pub length: &'a Reading<Length>,
    /// The whorl, where plan or sample name one; else the nearest to the wish is taken.
    pub whorl: Option<usize>,
}

/// Whorl, treadles, seconds, turns and lengths, for each operation that the yarn takes.
pub(super) fn settings(
    book: &mut Book,
    plan: &Plan,
    aim: &Aim,
    spun: &[Spun],
    faults: &mut Vec<Diagnostic>,
) -> Settings {
    let machine = &plan.wheel.machine;
    let way = Way::of(machine, plan.draw());
    let spinning = |kind: &Spun| Operation {
        stage: kind.at_wheel.clone(),
        noun: "draft",
        machine,
        twist: kind.twist.clone(),
        way,
        length: if way == Way::Draft { &plan.wheel.draft } else { &plan.wheel.length_per_treadle },
        whorl: plan.chosen().and_then(|sample| sample.whorl),
    };
    let singles = spun.iter().map(|kind| operation(book, plan, &spinning(kind), faults)).collect();
    let mut once_more = |stage: &str, twist: &Option<Figure<Twist>>| {
        twist.as_ref().and_then(|twist| operation(book, plan, &plying(plan, stage, twist), faults))
    };
    let plying = once_more("plying", &aim.plied_at_wheel);
    let cabling = once_more("cabling", &aim.cabled_at_wheel);
    Settings { singles, plying, cabling }
}

/// Plying as the plan has it, under the name of a stage.
fn plying<'a>(plan: &'a Plan, stage: &str, twist: &Figure<Twist>) -> Operation<'a> {
    let (way, length) = match &plan.plying.length_per_treadle {
        Some(length) => (Way::EachTreadle, length),
        None => (Way::Draft, &plan.plying.arm),
    };
    let (stage, twist) = (stage.to_owned(), twist.clone());
    Operation { stage, noun: "arm", machine: plan.plying_machine(), twist, way, length, whorl: plan.plying.whorl }
}

/// Enters what is set for an operation, and says which whorl, where the machine has whorls.
pub(super) fn operation(book: &mut Book, plan: &Plan, of: &Operation, faults: &mut Vec<Diagnostic>) -> Option<usize> {
    let bobbin = of.machine.core.as_ref().map(|core| Bobbin::enter(book, of, core));
    let turned = bobbin.as_ref().map_or_else(|| of.twist.clone(), |bobbin| bobbin.turned.clone());
    let (set, whorl) = match &of.machine.drive {
        Drive::Treadle { whorls, groove } => {
            let at = of.whorl.unwrap_or_else(|| nearest(whorls, groove.as_deref(), of, turned.value()));
            let ratio = ratio(book, of, &whorls[at], groove.as_deref());
            (treadled(book, plan, of, &ratio, &turned, faults), Some(at))
        }
        Drive::Electric { flyer_speed } => {
            let speed = book.reading(flyer_speed, "flyer speed");
            (timed(book, plan, of, &speed, &turned, faults), None)
        }
        Drive::Spindle => (by_hand(book, plan, of, &turned), None),
    };
    twist_given(book, of, bobbin.as_ref(), set, faults);
    whorl
}

/// A driven bobbin: what it loses, and what it has to turn for the twist that is to stay.
struct Bobbin {
    empty: Figure<Twist>,
    half: Figure<Twist>,
    full: Figure<Twist>,
    turned: Figure<Twist>,
}

impl Bobbin {
    fn enter(book: &mut Book, of: &Operation, core: &Core) -> Self {
        let stage = &of.stage;
        let [empty, full] =
            [(&core.empty, "empty bobbin"), (&core.full, "full bobbin")].map(|(one, words)| book.reading(one, words));
        let half = book.enter(format!("{stage}.half-full"), "half full bobbin", wheel::half_full(&empty, &full));
        let mut lost = |suffix: &str, words: &str, diameter: &Figure<Length>| {
            book.enter(format!("{stage}.lost{suffix}"), format!("turns lost {words}"), wheel::lost(diameter))
        };
        let (empty, half, full) =
            (lost("-empty", "when empty", &empty), lost("", "half full", &half), lost("-full", "when full", &full));
        let turned =
            book.enter(format!("{stage}.turned"), "twist with the turns lost", wheel::with_lost(&of.twist, &half));
        Self { empty, half, full, turned }
    }
}

/// The whorl that comes nearest to the wish: by the length let in at each treadle, or by six treadles a draft.
fn nearest(whorls: &[Whorl], groove: Option<&Groove>, of: &Operation, turned: f64) -> usize {
    let distance = |whorl: &Whorl| {
        let stated = exact("ratio", whorl.ratio.value);
        let ratio = match corrected(whorl, groove) {
            Some(Groove { drive_wheel, band, slip }) => wheel::ratio_in_use(
                &stated,
                &exact("drive wheel", drive_wheel.value),
                &exact("band", band.value),
                &exact("slip", slip.value),
            ),
            None => stated,
        };
        let apart = match of.way {
            Way::Draft => turned * of.length.value / ratio.value() / 6.0,
            Way::EachTreadle => ratio.value() / turned / of.length.value,
        };
        libm::log(apart).abs()
    };
    let whorls = whorls.iter().enumerate();
    whorls
        .min_by(|a, b| distance(a.1).total_cmp(&distance(b.1)))
        .map(|(i, _)| i)
        .expect("invariant: a treadle wheel has a whorl")
}

/// What corrects the ratio of a whorl: nothing corrects one that was counted.
fn corrected<'a>(whorl: &Whorl, groove: Option<&'a Groove>) -> Option<&'a Groove> {
    groove.filter(|_| whorl.ratio.origin != Origin::Measured)
}

/// The ratio of a whorl as it works.
fn ratio(book: &mut Book, of: &Operation, whorl: &Whorl, groove: Option<&Groove>) -> Figure<Ratio> {
    let stated = book.reading(&whorl.ratio, &format!("ratio of {}", whorl.name));
    let Some(Groove { drive_wheel, band, slip }) = corrected(whorl, groove) else { return stated };
    let drive_wheel = book.reading(drive_wheel, "drive wheel");
    let band = book.reading(band, "thickness of the band");
    let slip = book.reading(slip, "slip of the band");
    let words = format!("ratio of {} with band and slip", whorl.name);
    book.enter(format!("{}.ratio", of.stage), words, wheel::ratio_in_use(&stated, &drive_wheel, &band, &slip))
}

/// What an operation was set to: what goes in, and what else is read off it.
struct Set {
    /// Turns that go into each length let in; of a driven bobbin, its own.
    turns: Figure<Twist>,
    /// Length for one treadle, where it is printed beside the length for several.
    each: Option<Figure<Length>>,
}

/// On a treadle wheel: a round length at each treadle, or whole treadles and the round length that makes them exact.
fn treadled(
    book: &mut Book,
    plan: &Plan,
    of: &Operation,
    ratio: &Figure<Ratio>,
    turned: &Figure<Twist>,
    faults: &mut Vec<Diagnostic>,
) -> Set {
    let stage = &of.stage;
    if of.way == Way::EachTreadle {
        let one = number(book, "one-treadle", "treadle", 1, "yarn is let in at each treadle");
        let length =
            book.enter(format!("{stage}.length"), "yarn for each treadle", wheel::length_per_treadle(ratio, turned));
        let place = format!("{stage}.length-per-treadle");
        let round = round_length(book, plan, &place, "yarn let in at each treadle", length.value());
        if of.is_spinning() && !SHORT_DRAWS.contains(&length.value()) {
            faults.push(out_of_reach(plan, of, turned));
        }
        return Set { turns: wheel::twist_given(ratio, &one, &round), each: None };
    }
    let wished = book.reading(of.length, &format!("{} wished", of.noun));
    let exact = book.enter(
        format!("{stage}.treadles-wished"),
        "treadles for the length wished",
        wheel::treadles(turned, &wished, ratio),
    );
    let treadles =
        whole(book, &format!("{stage}.treadles"), "whole treadles", &exact, "half a treadle cannot be counted");
    let round = round_draft(book, plan, of, "whole treadles", wheel::length_for(ratio, &treadles, turned));
    if of.is_spinning() && !TREADLES.contains(&treadles.value()) {
        faults.push(out_of_reach(plan, of, turned));
    }
    let each = (!of.is_spinning()).then(|| wheel::length_per_treadle(ratio, turned));
    Set { turns: wheel::twist_given(ratio, &treadles, &round), each }
}

/// On an electric wheel: whole or half seconds, and the round length that makes them exact.
fn timed(
    book: &mut Book,
    plan: &Plan,
    of: &Operation,
    speed: &Figure<Speed>,
    turned: &Figure<Twist>,
    faults: &mut Vec<Diagnostic>,
) -> Set {
    let stage = &of.stage;
    let wished = book.reading(of.length, &format!("{} wished", of.noun));
    let exact = book.enter(
        format!("{stage}.seconds-wished"),
        "seconds for the length wished",
        wheel::seconds(turned, &wished, speed),
    );
    if !SECONDS.contains(&exact.value()) {
        faults.push(out_of_time(of, exact.value()));
    }
    let seconds = (exact.value() * 2.0).round().max(1.0) / 2.0;
    let seconds: Figure<Time> = book.choose(
        &format!("{stage}.seconds"),
        "whole or half seconds",
        seconds,
        format!("{} s", vulgar(seconds, 2)),
        "what one can count aloud",
    );
    let length = wheel::length_for_seconds(speed, &seconds, turned);
    let round = round_draft(book, plan, of, "these seconds", length);
    Set { turns: wheel::twist_in_seconds(speed, &seconds, &round), each: None }
}

/// On a spindle: whole turns, and the round length that makes them exact.
fn by_hand(book: &mut Book, plan: &Plan, of: &Operation, turned: &Figure<Twist>) -> Set {
    let stage = &of.stage;
    let wished = book.reading(of.length, &format!("{} wished", of.noun));
    let exact =
        book.enter(format!("{stage}.turns-wished"), "turns for the length wished", wheel::turns(turned, &wished));
    let turns = whole(book, &format!("{stage}.turns"), "whole turns", &exact, "turns are counted");
    let round = round_draft(book, plan, of, "whole turns", wheel::length_for_turns(&turns, turned));
    Set { turns: wheel::twist_of_turns(&turns, &round), each: None }
}

/// The twist that goes in and stays, and how it changes as a driven bobbin fills.
fn twist_given(book: &mut Book, of: &Operation, bobbin: Option<&Bobbin>, set: Set, faults: &mut Vec<Diagnostic>) {
    let stage = &of.stage;
    let given = match bobbin {
        None => book.enter(format!("{stage}.twist-given"), "twist given", set.turns),
        Some(bobbin) => {
            let turns = book.enter(format!("{stage}.turns-given"), "turns of the bobbin given", set.turns);
            let mut stays = |suffix: &str, words: &str, lost: &Figure<Twist>| {
                book.enter(format!("{stage}.twist-{suffix}"), words, wheel::without_lost(&turns, lost))
            };
            let given = stays("given", "twist given", &bobbin.half);
            let empty = stays("empty", "twist given onto the empty bobbin", &bobbin.empty);
            stays("full", "twist given onto the full bobbin", &bobbin.full);
            if empty.value() <= 0.0 {
                // Spun and plied onto the same bobbin, it is the same fault.
                let fault = no_twist_left(of);
                if faults.iter().all(|other| other.message != fault.message) {
                    faults.push(fault);
                }
            }
            given
        }
    };
    book.enter(format!("{stage}.twist-miss"), "twist given over twist wished", wheel::miss(&given, &of.twist));
    if let Some(each) = set.each {
        book.enter(format!("{stage}.length"), "plied yarn for each treadle", each);
    }
}

impl Operation<'_> {
    /// Whether it makes singles, so that hands draft while feet tread.
    fn is_spinning(&self) -> bool {
        self.stage == "wheel" || self.stage.starts_with("wheel.")
    }
}

/// Lengths that a hand lets in at each treadle of a short draw: 0.8 to 20 cm, the last for thick singles that stay single; our choice.
const SHORT_DRAWS: std::ops::RangeInclusive<f64> = 0.008..=0.20;
/// Treadles that are counted for one draft; our choice.
const TREADLES: std::ops::RangeInclusive<f64> = 1.0..=20.0;
/// Seconds that are counted for one length; our choice.
const SECONDS: std::ops::RangeInclusive<f64> = 0.75..=90.0;

/// The whole number nearest to what is counted, at least one.
fn whole(book: &mut Book, place: &str, words: &str, exact: &Figure<Count>, reason: &'static str) -> Figure<Count> {
    let whole = exact.value().round().max(1.0);
    book.choose(place, words, whole, decimals(whole, 0), reason)
}

/// The length that makes what is counted exact, rounded to what a hand can tell.
fn round_draft(book: &mut Book, plan: &Plan, of: &Operation, counted: &str, exact: Figure<Length>) -> Figure<Length> {
    let (stage, noun) = (&of.stage, of.noun);
    let exact = book.enter(format!("{stage}.{noun}"), format!("{noun} for {counted}"), exact);
    round_length(book, plan, &format!("{stage}.{noun}"), &format!("{noun} used"), exact.value())
}

/// A length in half centimetres or half inches; a long one in whole ones, and a short one in quarters of an inch, since half of
/// one would be a fifth of it.
fn round_length(book: &mut Book, plan: &Plan, place: &str, words: &str, length: f64) -> Figure<Length> {
    let symbol = if plan.units == System::Inch { "in" } else { "cm" };
    let one = unit(Kind::Length, symbol).expect("invariant: the tables have centimetres and inches").factor;
    let parts = match plan.units {
        _ if length >= LONG => 1.0,
        System::Inch if length < SHORT => 4.0,
        _ => 2.0,
    };
    let n = ((length / one * parts).round() / parts).max(1.0 / parts);
    book.choose(place, words, n * one, format!("{} {symbol}", vulgar(n, 4)), "what a hand can tell apart")
}

/// From twenty centimetres on a length is long.
const LONG: f64 = 0.20;
/// A length of less than three inches is short.
const SHORT: f64 = 3.0 * 0.0254;

/// No whorl gives the twist: says what would.
fn out_of_reach(plan: &Plan, of: &Operation, turned: &Figure<Twist>) -> Diagnostic {
    let twist = turned.value();
    let wished = of.length.value * twist / if of.way == Way::Draft { 6.0 } else { 1.0 };
    Diagnostic::new(
        Code::WhorlOutOfReach,
        format!(
            "expected a whorl of about {}:1 for {} turns to the centimetre",
            decimals(wished, 1),
            decimals(twist / 100.0, 1)
        ),
        Place::plan("wheel.whorls"),
    )
    .label("none of these comes near")
    .note(format!(
        "with {} drafted, {} and the nearest whorl, no whole treadle gives that twist",
        plan.draw().words(),
        of.length.text
    ))
    .help("add the whorl that you would use, change the length let in, or aim at another twist")
}

/// At this speed no hand keeps the time: says which speed it would.
fn out_of_time(of: &Operation, seconds: f64) -> Diagnostic {
    let Drive::Electric { flyer_speed } = &of.machine.drive else {
        unreachable!("invariant: seconds are counted on an electric wheel")
    };
    let (label, at_most) = if seconds < 1.0 { ("too fast to count", 2.0) } else { ("too slow to wait for", 60.0) };
    let better = flyer_speed.unit.from_base(flyer_speed.value * seconds / at_most);
    Diagnostic::new(
        Code::SpeedOutOfReach,
        format!(
            "expected {} of {} in about {} seconds, found {}",
            of.length.text,
            of.noun,
            decimals(at_most, 0),
            significant(seconds, 2)
        ),
        flyer_speed.place.clone(),
    )
    .label(label)
    .help(format!(
        "turn the flyer at about {} {}, let in another length at a time, or aim at another twist",
        significant(better, 2),
        flyer_speed.unit.symbol
    ))
}

/// The core of a driven bobbin is so thin that its first wraps take all the twist.
fn no_twist_left(of: &Operation) -> Diagnostic {
    let core = of.machine.core.as_ref().expect("invariant: only a driven bobbin loses turns");
    let message = format!("expected twist to be left on a bobbin of {}, found none", core.empty.text);
    Diagnostic::new(Code::Impossible, message, core.empty.place.clone())
        .label("each wrap takes a turn")
        .note("a driven bobbin loses one turn at each wrap, and on so thin a core the wraps are more than the turns")
        .help("wind a thicker core onto it first, or aim at more twist")
}
