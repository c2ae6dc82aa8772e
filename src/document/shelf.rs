//! The templates and fonts in the binary.

macro_rules! shelf {
    ($include:ident, $($path:literal),* $(,)?) => {
        &[$(($path, $include!(concat!(env!("CARGO_MANIFEST_DIR"), "/templates/", $path)))),*]
    };
}

/// Templates by their path below `templates`.
pub const TEMPLATES: &[(&str, &str)] = shelf!(
    include_str,
    "lib.typ",
    "style.typ",
    "components/balance.typ",
    "components/bobbin.typ",
    "components/braid.typ",
    "components/check-bar.typ",
    "components/colour.typ",
    "components/cloth.typ",
    "components/cut.typ",
    "components/direction.typ",
    "components/drift.typ",
    "components/exercise.typ",
    "components/falls.typ",
    "components/formula.typ",
    "components/gate.typ",
    "components/index.typ",
    "components/kate.typ",
    "components/lens.typ",
    "components/notches.typ",
    "components/picture.typ",
    "components/settings.typ",
    "components/rows.typ",
    "components/rub.typ",
    "components/schematic.typ",
    "components/several.typ",
    "components/share-bar.typ",
    "components/sheet.typ",
    "components/standing.typ",
    "components/stations.typ",
    "components/strip.typ",
    "components/tie.typ",
    "components/tray.typ",
    "components/tries.typ",
    "components/warning.typ",
    "components/way.typ",
    "components/words.typ",
    "components/yarn.typ",
    "sheets/alternatives.typ",
    "sheets/answer-key.typ",
    "sheets/bobbin-checklist.typ",
    "sheets/colour-sheet.typ",
    "sheets/first-lesson.typ",
    "sheets/garment-sheet.typ",
    "sheets/key.typ",
    "sheets/lesson.typ",
    "sheets/overview.typ",
    "sheets/ply-plan.typ",
    "sheets/reorder-note.typ",
    "sheets/sample-card.typ",
    "sheets/samples.typ",
    "sheets/student-worksheet.typ",
    "sheets/swatch-card.typ",
    "sheets/tags.typ",
    "sheets/skein-log.typ",
    "sheets/wash-card.typ",
    "sheets/wheel-card.typ",
    "sheets/workings.typ",
);

/// The licence of the fonts, which goes where they go.
pub(super) const FONT_LICENCE: (&str, &str) =
    ("fonts/OFL.txt", include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/templates/fonts/OFL.txt")));

/// Fonts by their path below `templates`.
pub const FONTS: &[(&str, &[u8])] =
    shelf!(include_bytes, "fonts/IBMPlexSans_400Regular.ttf", "fonts/IBMPlexSans_700Bold.ttf");
