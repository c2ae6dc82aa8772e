//! What is spun and plied, and what it is checked and set by: weights per length on the way, limits, settings.

use super::aim::Aim;
use super::expression::Figure;
use super::kinds::{self, Spun};
use super::ledger::Book;
use super::matching::{TwistFate, fate_of_twist};
use super::settings::{Settings, settings};
use super::{assumed, fineness, folding, gates, thickness, twist};
use crate::diagnostics::{Code, Diagnostic, Place};
use crate::plan::{Construction, Match, Plan};
use crate::units::format::decimals;
use crate::units::{Angle, LinearDensity, Loft, Share, Twist};

/// Enters the checks and settings for spinning and plying; what the wheel cannot give is a fault.
/// Gives the kinds of singles, and what was settled for the wheel.
pub fn spin(book: &mut Book, plan: &Plan, aim: &Aim, faults: &mut Vec<Diagnostic>) -> (Vec<Spun>, Settings) {
    let fresh = fresh(book, plan, aim);
    let spun = kinds::kinds(book, plan, aim, fresh.bobbins());
    let too_heavy = too_heavy(plan, &spun);
    // Where a ply is left nothing, that it is too fine is no fault of its own, nor is what its twist asks of the wheel.
    let mut of_ply = Vec::new();
    fineness::fibres(book, plan, &spun, &mut of_ply);
    let step = gates::scale_step(book, plan);
    for kind in &spun {
        gates::weight_gate(book, plan, &kind.stage, &kind.noun, &kind.wound, &step);
        gates::wraps_gate(book, plan, &kind.stage, &kind.noun, &kind.wraps);
    }
    if let Some(plied) = &fresh.plied {
        let noun = if fresh.cabled.is_some() { "strand" } else { "plied yarn" };
        gates::weight_gate(book, plan, "plied", noun, plied, &step);
    }
    if let Some(cabled) = &fresh.cabled {
        gates::weight_gate(book, plan, "cabled", "cabled yarn", cabled, &step);
    }
    gates::washed_gates(book, plan, aim);
    for kind in &spun {
        gates::ply_back_gate(book, plan, &kind.stage, &kind.noun, &kind.fresh);
    }
    if let Some(plied) = &aim.plied_at_wheel {
        let (noun, of) = if fresh.cabled.is_some() { ("strand", "a strand") } else { ("ply", "the plied yarn") };
        gates::fresh_gate(book, plan, ("plied", noun), (plied, of), &aim.plies, &aim.stretch);
    }
    if let (Some(cabled), Some(strands)) = (&aim.cabled_at_wheel, &aim.strands) {
        gates::fresh_gate(book, plan, ("cabled", "cable"), (cabled, "the cabled yarn"), strands, &aim.stretch);
    }
    gates::washed_twist_gate(book, plan, &aim.last_twist);
    cross_checks(book, plan, aim, &spun);
    faults.extend(hard_twist(book, plan, aim));
    faults.extend(untwisted(book, plan));
    let mut of_wheel = Vec::new();
    let settings = settings(book, plan, aim, &spun, &mut of_wheel);
    // A whorl that is out of reach lets in a length that nobody will let in.
    let mut of_staple = Vec::new();
    fineness::staples(book, plan, &mut of_staple);
    if !of_wheel.iter().any(|fault| fault.code == Code::WhorlOutOfReach) {
        of_wheel.append(&mut of_staple);
    }
    match too_heavy {
        Some(fault) => faults.push(fault),
        None => faults.extend(of_ply.into_iter().chain(of_wheel)),
    }
    (spun, settings)
}

/// Linear densities of the fresh yarn as wound, at each stage that the construction has.
struct Fresh {
    singles: Option<Figure<LinearDensity>>,
    plied: Option<Figure<LinearDensity>>,
    cabled: Option<Figure<LinearDensity>>,
}

impl Fresh {
    /// What the bobbins of singles are plied to; in a yarn of singles that of the singles.
    fn bobbins(&self) -> &Figure<LinearDensity> {
        self.plied.as_ref().or(self.singles.as_ref()).expect("invariant: a yarn is plied or not")
    }
}

fn fresh(book: &mut Book, plan: &Plan, aim: &Aim) -> Fresh {
    let whole = folding::fresh(&aim.washed, &aim.keep, &aim.lightens);
    let plied = "weight per length of fresh plied yarn";
    match &plan.yarn.construction {
        Construction::Singles => Fresh { singles: Some(whole), plied: None, cabled: None },
        Construction::Bobbins | Construction::Chain | Construction::BothEnds => {
            // Where the plies say it, it is entered before what follows from it.
            let plied = book.find("plied.wound-tex").unwrap_or_else(|| book.enter("plied.wound-tex", plied, whole));
            Fresh { singles: None, plied: Some(plied), cabled: None }
        }
        Construction::Cabled(_) => {
            let cabled = book.enter("cabled.wound-tex", "weight per length of fresh cabled yarn", whole);
            let shortens = book.reading(&plan.yarn.cabling_shortens, "cabling shortens");
            let strands = aim.strands.as_ref().expect("invariant: a cabled yarn has strands");
            let strand = folding::equal_ply(&cabled, strands, &shortens);
            let strand = book.enter("plied.wound-tex", "weight per length of a fresh strand", strand);
            Fresh { singles: None, plied: Some(strand), cabled: Some(cabled) }
        }
    }
}

/// Plies of their own grist that leave nothing, or next to nothing, for the others.
fn too_heavy(plan: &Plan, spun: &[Spun]) -> Option<Diagnostic> {
    let left = (0..spun.len()).find(|&i| plan.singles[i].grist.is_none() && spun[i].share.value() < LEAST_SHARE)?;
    let ply_plan = &plan.ply_plans[plan.singles[left].ply_plan];
    let heaviest = ply_plan
        .plies
        .iter()
        .enumerate()
        .filter(|(_, ply)| plan.singles[ply.singles].grist.is_some())
        .max_by(|a, b| spun[a.1.singles].share.value().total_cmp(&spun[b.1.singles].share.value()))?;
    let (k, grist) = (heaviest.0, plan.singles[heaviest.1.singles].grist.as_ref()?);
    let yarn = plan.yarn.grist.as_ref().map(|grist| grist.place.clone());
    let yarn = yarn.or_else(|| plan.yarn.wraps.as_ref().map(|wraps| wraps.place.clone()));
    let own: f64 = ply_plan
        .plies
        .iter()
        .filter(|ply| plan.singles[ply.singles].grist.is_some())
        .map(|ply| spun[ply.singles].share.value())
        .sum();
    let fault = Diagnostic::new(
        Code::DoesNotAddUp,
        format!(
            "expected plies that leave something for the others, found {} % of the yarn's weight in those of their own grist",
            decimals(own * 100.0, 0)
        ),
        ply_plan.place.key("plies").index(k).key("grist"),
    )
    .label(format!("{} is as heavy as that", grist.text))
    .help("aim at a heavier yarn, give this ply a finer grist, or take the grist out so that it shares the weight equally");
    Some(fault.also(yarn.unwrap_or_else(|| Place::plan("yarn")), "this yarn"))
}

/// A ply that is a smaller part of the yarn than this is a slip; our choice.
const LEAST_SHARE: f64 = 0.02;

/// More twist than round plies of that thickness could take.
fn hard_twist(book: &mut Book, plan: &Plan, aim: &Aim) -> Option<Diagnostic> {
    let cabled = aim.strands.as_ref();
    let n = cabled.map_or(aim.plies.value(), Figure::value) as usize;
    let most = book.assume::<Share>(assumed::most_twist(n)?);
    let (wraps, shortens) = match cabled {
        Some(_) => (book.figure("plied.wraps"), book.reading(&plan.yarn.cabling_shortens, "cabling shortens")),
        None => (aim.singles_wraps.clone(), aim.plying_shortens.clone()),
    };
    let of_most = twist::of_most(&aim.last_twist, &wraps, &shortens, &most);
    let of_most = book.enter("washed.twist-of-most", "ply twist over the most of round plies", of_most);
    let place = place_of_twist(plan)?;
    (of_most.value() > 1.0).then(|| {
        Diagnostic::new(
            Code::HardTwist,
            format!(
                "expected less twist than round plies can take, found {} % of it",
                decimals(of_most.value() * 100.0, 0)
            ),
            place,
        )
        .label("this hard")
        .note("plies are softer than rope and give a little; the yarn will be wiry, and may kink before it takes this twist")
        .help("sample before you trust it, or aim at less twist or finer plies")
    })
}

/// Angle of the plies in a strand that is plied for cabling.
fn strand_angle(book: &mut Book, aim: &Aim) -> Figure<Angle> {
    let strand = book.figure::<Twist>("plied.twist");
    book.enter(
        "plied.angle",
        "angle of the plies in a strand",
        twist::ply_angle(&strand, &aim.singles_wraps, &aim.plies),
    )
}

/// Singles of which plying takes all the twist, so that they part before they lie in the yarn.
fn untwisted(book: &Book, plan: &Plan) -> Option<Diagnostic> {
    let left = book.find::<Twist>("singles.left-twist").filter(|left| left.value() <= 0.0)?;
    let place = place_of_twist(plan).unwrap_or_else(|| Place::plan("yarn"));
    Some(
        Diagnostic::new(
            Code::HardTwist,
            format!(
                "expected singles that keep some twist once they are plied, found {} turns to the centimetre",
                decimals(left.value() / 100.0, 1)
            ),
            place,
        )
        .label("so much ply twist takes all of theirs")
        .help("put more twist into the singles or less into the plying; they part where none is left"),
    )
}

/// What says the last twist, in the order in which it is taken: turns counted on the chosen sample, turns wished, an angle.
fn place_of_twist(plan: &Plan) -> Option<Place> {
    let yarn = &plan.yarn;
    let is_cabled = yarn.construction.strands().is_some();
    let sample = plan.chosen();
    let counted = sample.and_then(|sample| if is_cabled { &sample.cable_twist } else { &sample.ply_twist }.first());
    let wished = if is_cabled { yarn.cable_twist.as_ref() } else { yarn.ply_twist.as_ref() };
    let turns = counted.or(wished).map(|twist| twist.place.clone());
    let in_hand = yarn.matched.as_ref().map(|matched| (fate_of_twist(plan, matched), matched));
    let (in_turns, by_angle) = match in_hand {
        Some((TwistFate::Counted, matched)) => (matched.ply_twist.as_ref().map(|twist| twist.place.clone()), None),
        Some((TwistFate::ByAngle, Match { ply_twist: Some(twist), .. })) => (None, Some(twist.place.clone())),
        Some((TwistFate::ByAngle, matched)) => (None, matched.angle.as_ref().map(|angle| angle.place.clone())),
        Some((TwistFate::NotAimedAt, _)) | None => (None, None),
    };
    let sampled = || sample.and_then(|sample| sample.angle.first()).map(|angle| angle.place.clone());
    let wished = || yarn.angle.as_ref().map(|angle| angle.place.clone());
    turns.or(in_turns).or_else(sampled).or(by_angle).or_else(wished)
}

/// Figures that no sheet but the workings prints: for whoever compares with a mill or a book.
fn cross_checks(book: &mut Book, plan: &Plan, aim: &Aim, spun: &[Spun]) {
    for kind in spun {
        let (stage, noun) = (&kind.stage, &kind.noun);
        let factor = twist::twist_factor(&kind.fresh, &kind.at_rest);
        book.enter(format!("{stage}.twist-factor"), format!("twist factor of the {noun}"), factor);
    }
    book.enter(
        "washed.twist-factor",
        "twist factor of the plied yarn",
        twist::twist_factor(&aim.last_twist, &aim.washed),
    );
    for kind in spun {
        let (stage, noun) = (&kind.stage, &kind.noun);
        let fibres =
            if spun.len() == 1 { "angle of the fibres".to_owned() } else { format!("angle of the fibres in {noun}") };
        let angle = book.enter(format!("{stage}.angle"), fibres, twist::singles_angle(&kind.fresh, &kind.wraps));
        let taken = if spun.len() == 1 { "a single".to_owned() } else { noun.clone() };
        book.enter(
            format!("{stage}.contraction"),
            format!("length that twist takes from {taken}"),
            twist::contraction(&angle),
        );
    }
    if plan.yarn.construction.is_plied() {
        let angle = book.figure("washed.angle");
        book.enter("washed.aslant", "length that lying aslant would take", twist::aslant(&angle));
    }
    if plan.yarn.construction.is_plied() {
        let (fresh, ply) = (book.figure("singles.fresh-twist"), book.figure("plied.fresh-twist"));
        let angle = if aim.strands.is_some() { strand_angle(book, aim) } else { book.figure("washed.angle") };
        let left = twist::left_in_single(&fresh, &ply, &angle);
        book.enter("singles.left-twist", "twist left in the singles once plied", left);
    }
    let is_carded =
        plan.fibres.iter().any(|fibre| fibre.preparation.is_some_and(|preparation| preparation != "combed top"));
    let handbook = book.assume::<Loft>(if is_carded { &assumed::HANDBOOK_WOOLLEN } else { &assumed::HANDBOOK_LOFT });
    let grist = book.figure("washed.grist");
    book.enter(
        "washed.packed-diameter",
        "diameter by the mill handbooks",
        thickness::packed_diameter(&handbook, &grist),
    );
}
