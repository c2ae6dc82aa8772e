//! What turns: settings of each drive and lead worked out by hand, what `[plying]` takes over from the wheel, and the sheets.

use wheelsheet::document::{self, Templates, Which};
use wheelsheet::plan::{Drive, Lead};
use wheelsheet::sheets::wheel_card::Turns;
use wheelsheet::{Worked, work_out};

use super::reference::assert_close;
use super::reference::ledgers::{of_texts, written};

/// A plan of ordinary yarn with the tables of what turns.
fn text(machine: &str) -> String {
    format!(
        "[plan]\ntitle = \"Machines\"\n[fibre.wool]\nkind = \"wool\"\nweight = \"200 g\"\n\
         [yarn]\nplies = 2\nwraps = \"12 wpi\"\nwinding-stretch = \"0 ± 0 %\"\n{machine}"
    )
}

const ELECTRIC: &str = "[wheel]\ndrive = \"electric\"\nflyer-speed = \"600 turns/min\"\nbrake = \"dial at 3\"\n";
const SPINDLE: &str = "[wheel]\ndrive = \"spindle\"\ndraft = \"60 cm\"\n";
const BOBBIN_LED: &str =
    "[wheel]\nwhorls = { one = \"8:1 measured\" }\nlead = \"bobbin\"\nbobbin-core = \"1 in\"\nbobbin-full = \"3 in\"\n";
const ANOTHER: &str = "[wheel]\nwhorls = { a = \"6:1\", b = \"9:1\" }\nlead = \"double drive\"\nbrake = \"loose\"\n\
    [plying]\ndrive = \"treadle\"\nwhorls = { c = \"5:1\", d = \"10:1\", e = \"4:1\" }\nwhorl = \"d\"\nlead = \"bobbin\"\n\
    drive-wheel = \"500 mm\"\nband = \"3 mm\"\nslip = \"0 ± 0 %\"\n";

/// Plans whose pages the tests of pages look at, beside the shipped projects.
pub(crate) fn machines() -> Vec<(String, Worked)> {
    [("electric", ELECTRIC), ("spindle", SPINDLE), ("bobbin-led", BOBBIN_LED), ("another", ANOTHER)]
        .into_iter()
        .map(|(name, machine)| {
            let outcome = work_out(&of_texts(&text(machine), ""));
            assert_eq!(outcome.diagnostics, Vec::new(), "{name}");
            (name.to_owned(), outcome.worked.expect("a plan without faults"))
        })
        .collect()
}

fn of(name: &str) -> Worked {
    machines().into_iter().find(|(known, _)| known == name).expect("a plan of that name").1
}

/// The settings of the card for spinning (0) or plying (1): name, value and unit.
fn settings(worked: &Worked, card: usize) -> Vec<(String, String)> {
    let card = wheelsheet::sheets(worked).wheel_card.cards.swap_remove(card);
    let shown = |setting: wheelsheet::sheets::marks::Setting| {
        let unit = setting.amount.unit.map_or(String::new(), |unit| format!(" {unit}"));
        (setting.name, format!("{}{unit}", setting.amount.value))
    };
    card.settings.into_iter().map(shown).collect()
}

fn names(settings: &[(String, String)]) -> Vec<&str> {
    settings.iter().map(|(name, _)| name.as_str()).collect()
}

#[test]
fn seconds_of_an_electric_wheel_are_twist_times_draft_over_speed() {
    let plan = written(&text(ELECTRIC));
    let (twist, speed) = (plan.value("singles.twist-at-wheel"), 10.0);
    let wished = twist * 0.45 / speed;
    assert_close(plan.value("wheel.seconds-wished"), wished, 1e-12, "45 cm, the default");
    let seconds = (2.0 * wished).round() / 2.0;
    let draft = (speed * seconds / twist * 200.0).round() / 200.0;
    assert_close(plan.value("wheel.twist-given"), speed * seconds / draft, 1e-12, "half seconds on half centimetres");
    let worked = of("electric");
    let set = settings(&worked, 0);
    assert_eq!(names(&set), ["flyer speed", "seconds a draft", "length of a draft", "brake"]);
    assert_eq!(set[0].1, "600");
    let half = if seconds.fract() == 0.5 { "½" } else { "" };
    assert_eq!(set[1].1, format!("{}{half} s", seconds.floor()));
    // Plied on the same wheel at the same speed: nothing is said anew.
    assert!(worked.plan.plying.machine.is_none() && worked.plan.plying.whorl.is_none());
    assert_eq!(names(&settings(&worked, 1)), ["flyer speed", "seconds an arm", "yarn let in at a time"]);
}

#[test]
fn turns_of_a_spindle_are_twist_times_draft() {
    let worked = of("spindle");
    let twist = worked.ledger.get("singles.twist-at-wheel").value;
    assert_close(worked.ledger.get("wheel.turns-wished").value, twist * 0.60, 1e-12, "60 cm");
    let set = settings(&worked, 0);
    assert_eq!(names(&set), ["turns a draft", "length of a draft"]);
    assert_eq!(set[0].1, format!("{}", (twist * 0.60).round()));
    let card = &wheelsheet::sheets(&worked).wheel_card.cards[0];
    assert_eq!(card.turns, Turns::Spindle);
    assert!(card.stations.also.is_none() && !card.caution.contains("flyer"));
    assert!(worked.ledger.find("wheel.ratio").is_none());
}

#[test]
fn half_of_a_load_fills_more_than_half_of_the_way_out() {
    // By hand: what is wound fills the ring between core and rim, so widths go with the square root; an empty bobbin is a third
    // of a full one where the plan says nothing.
    let plan = written(&text(&format!("{ELECTRIC}bobbin-holds = \"80 g\"\n")));
    let load = plan.value("bobbin.1.net") / 80.0;
    assert_close(plan.value("wheel.load"), load, 1e-12, "all bobbins are alike");
    for (name, part) in [("quarter", 0.25), ("half", 0.5), ("three-quarters", 0.75), ("all", 1.0)] {
        let width = ((1.0 + 8.0 * part * load) / 9.0).sqrt();
        assert_close(plan.value(&format!("wheel.width-{name}")), width, 1e-12, name);
    }
    assert!(plan.value("wheel.width-half") > (1.0 / 3.0 + plan.value("wheel.width-all")) / 2.0);
    // A driven bobbin says its own core: one inch of three.
    let led = written(&text(BOBBIN_LED));
    assert_close(led.value("wheel.width-empty"), 1.0 / 3.0, 1e-12, "1 in of 3 in");
    assert!(of("spindle").ledger.find("wheel.width-half").is_none(), "a spindle has no bobbin");
}

#[test]
fn a_driven_bobbin_turns_more_than_the_twist_and_less_as_it_fills() {
    let plan = written(&text(BOBBIN_LED));
    // Half of the yarn ends at √((1² + 3²) ÷ 2) in.
    let lost = |inches: f64| 1.0 / (std::f64::consts::PI * inches * 0.0254);
    let half = lost(5.0_f64.sqrt());
    assert_close(plan.value("wheel.lost"), half, 1e-12, "half full");
    assert_close(
        plan.value("wheel.length"),
        8.0 / (plan.value("singles.twist-at-wheel") + half),
        1e-12,
        "each treadle",
    );
    let length = (plan.value("wheel.length") * 200.0).round() / 200.0;
    assert_close(plan.value("wheel.twist-given"), 8.0 / length - half, 1e-12, "half full");
    assert_close(plan.value("wheel.twist-empty"), 8.0 / length - lost(1.0), 1e-12, "on the core");
    assert_close(plan.value("wheel.twist-full"), 8.0 / length - lost(3.0), 1e-12, "when full");
    // It is plied on as well.
    let arm = (plan.value("plying.arm") * 200.0).round() / 200.0;
    let treadles = plan.value("plying.treadles-wished").round();
    assert_close(plan.value("plying.twist-given"), 8.0 * treadles / arm - half, 1e-12, "plied");
}

#[test]
fn a_flyer_that_is_led_loses_no_turn() {
    let [flyer, double] = ["flyer", "double drive"]
        .map(|lead| written(&text(&format!("[wheel]\nwhorls = {{ one = \"8:1\" }}\nlead = \"{lead}\"\n"))));
    for plan in [&flyer, &double] {
        assert_close(plan.value("wheel.length") * plan.value("singles.twist-at-wheel"), 8.0, 1e-12, "the ratio");
        assert!(plan.ledger.find("wheel.lost").is_none());
    }
    // Double drive needs no hand at the brake as the bobbin fills.
    for (lead, is_braked) in [("flyer", true), ("bobbin", true), ("double drive", false)] {
        let machine = format!("[wheel]\nwhorls = {{ one = \"8:1\" }}\nlead = \"{lead}\"\n");
        let worked = work_out(&of_texts(&text(&machine), "")).worked.expect("a plan without faults");
        let also = &wheelsheet::sheets(&worked).wheel_card.cards[0].stations.also;
        assert_eq!(also.is_some(), is_braked, "{lead}: {also:?}");
    }
}

#[test]
fn another_wheel_for_plying_has_whorls_and_lead_of_its_own() {
    let worked = of("another");
    let machine = worked.plan.plying_machine();
    assert_eq!((machine.lead, machine.brake.as_deref()), (Lead::Bobbin, None));
    assert_eq!(worked.settings.plying, Some(1));
    assert_eq!(settings(&worked, 1)[0], ("whorl".to_owned(), "d".to_owned()));
    assert_close(worked.ledger.get("plying.ratio").value, 503.0 / 53.0, 1e-12, "10:1 by grooves of 500 and 50 mm");
    assert!(worked.ledger.find("wheel.ratio").is_none() && worked.ledger.find("wheel.lost").is_none());
    // Its core and rim were left out, and are said to be taken.
    let assumed: Vec<&str> =
        worked.plan.assumed.iter().filter_map(|one| one.place.as_ref()).map(|place| place.path.as_str()).collect();
    assert!(assumed.contains(&"plying.bobbin-core") && assumed.contains(&"plying.bobbin-full"), "{assumed:?}");
}

#[test]
fn the_same_wheel_may_be_set_otherwise_for_plying() {
    let wheel = "[wheel]\nwhorls = { a = \"6:1\", b = \"9:1\" }\nlead = \"flyer\"\nbrake = \"loose\"\n[plying]\n";
    let otherwise =
        |more: &str| work_out(&of_texts(&text(&format!("{wheel}{more}")), "")).worked.expect("a plan without faults");
    let tighter = otherwise("brake = \"tight\"\n");
    let machine = tighter.plan.plying_machine();
    assert_eq!((machine.lead, machine.brake.as_deref(), machine.whorls().len()), (Lead::Flyer, Some("tight"), 2));
    assert_eq!(tighter.settings.plying, Some(0), "the slowest");
    let led = otherwise("lead = \"bobbin\"\nbobbin-full = \"9 cm\"\nlength-per-treadle = \"8 cm\"\n");
    let core = led.plan.plying_machine().core.as_ref().expect("a driven bobbin");
    assert_close(core.full.value, 0.09, 1e-12, "as written");
    // Let in at each treadle, and so on the whorl nearest to the wish.
    let turned = led.ledger.get("plying.turned").value;
    let apart = |ratio: f64| (ratio / turned / 0.08).ln().abs();
    assert_eq!(led.settings.plying, Some(usize::from(apart(9.0) < apart(6.0))));
    let slower = work_out(&of_texts(&text(&format!("{ELECTRIC}[plying]\nflyer-speed = \"400 turns/min\"\n")), ""));
    let plan = slower.worked.expect("a plan without faults").plan;
    let speeds = [&plan.wheel.machine, plan.plying_machine()].map(|machine| match &machine.drive {
        Drive::Electric { flyer_speed } => flyer_speed.value * 60.0,
        other => panic!("{other:?} is not electric"),
    });
    assert_close(speeds[0], 600.0, 1e-12, "spinning");
    assert_close(speeds[1], 400.0, 1e-12, "plying");
}

#[test]
fn a_stated_ratio_is_doubted_less_once_its_band_is_known() {
    let plan = |machine: &str| written(&text(&format!("[wheel]\n{machine}")));
    let stated = plan("whorls = { one = \"10:1\" }\n");
    let ratio = |plan: &super::reference::ledgers::Worked| plan.plan.wheel.machine.whorls()[0].ratio.uncertainty;
    assert_close(ratio(&stated), 10.0 * 0.08 / 2.0, 1e-12, "8 %");
    let known = plan("whorls = { one = \"10:1\" }\ndrive-wheel = \"500 mm\"\nband = \"3 mm\"\n");
    assert_close(ratio(&known), 10.0 * 0.02 / 2.0, 1e-12, "2 %, of the grooves");
    let line = known.ledger.get("wheel.ratio");
    assert_close(line.value, 503.0 / 53.0 * 0.97, 1e-12, "with the slip that is assumed");
    assert!(line.uncertainty / line.value < 0.08 / 2.0 && line.uncertainty > 0.0);
    // A ratio that was counted holds band and slip already, whatever the others are.
    let counted =
        plan("whorls = { one = \"30:1\", two = \"10:1 measured\" }\ndrive-wheel = \"500 mm\"\nband = \"3 mm\"\n");
    assert!(counted.ledger.find("wheel.ratio").is_none());
    assert_close(counted.value("wheel.length") * counted.value("singles.twist-at-wheel"), 10.0, 1e-12, "as counted");
}

#[test]
fn the_sheets_of_every_machine_can_be_set() {
    for (name, worked) in machines() {
        let sheets = wheelsheet::sheets(&worked);
        let document = document::document(&sheets, Which::All, &Templates::Shipped);
        assert!(document.is_ok(), "{name}: {:?}", document.err());
        let short: Vec<&str> = sheets.sample_card.set_up.iter().map(|line| line.name.as_str()).collect();
        let first = match name.as_str() {
            "electric" => "flyer speed",
            "spindle" => "draw",
            _ => "whorl",
        };
        assert_eq!(short[0], first, "{name}");
    }
}

/// Half an inch is a fifth of what a short draw lets in; in quarters the twist keeps inside the limits of its own check.
#[test]
fn a_short_length_in_inches_is_read_to_quarters() {
    for wraps in [8, 10, 14, 18] {
        let plan = written(&format!(
            "[plan]\ntitle = \"Inches\"\nunits = \"imperial\"\n[fibre.wool]\nkind = \"wool\"\nweight = \"8 oz\"\n\
             [wheel]\nwhorls = {{ slow = \"6:1\", fast = \"10:1\" }}\n[yarn]\nplies = 2\nwraps = \"{wraps} wpi\"\n"
        ));
        let quarters = plan.ledger.source("choice.wheel.length-per-treadle").value / 0.0254 * 4.0;
        assert!((quarters - quarters.round()).abs() < 1e-9, "{wraps} wpi: {quarters} quarters");
        let miss = plan.value("wheel.twist-miss");
        assert!((miss - 1.0).abs() < 0.1, "{wraps} wpi: {miss}");
    }
}
