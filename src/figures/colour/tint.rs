//! The arithmetic of colour: how light mixes, how far two colours differ, and how plies of several colours look
//! together.
//!
//! Plies side by side are too narrow to tell apart from where fabric is looked at, and the eye then takes in the mean
//! of their light; so colours are kept as light, and turned into hues and lightnesses only where those are asked for.

/// A colour, as the amounts of red, green and blue light that make it on a screen.
///
/// The amounts are linear-light sRGB with nothing at 0 and the screen's most at 1, so that twice the light is twice the
/// number.
///
/// # Source
/// IEC 61966-2-1, *Default RGB colour space, sRGB*.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tint([f64; 3]);

impl Tint {
    /// The colour written `#rrggbb`, in digits of either case. `None` for any other text.
    pub fn of_hex(text: &str) -> Option<Tint> {
        let digits = text.strip_prefix('#')?;
        // A number may also begin with a sign, which a colour must not.
        if digits.len() != 6 || !digits.bytes().all(|digit| digit.is_ascii_hexdigit()) {
            return None;
        }
        let code = u32::from_str_radix(digits, 16).ok()?;
        Some(Tint([16, 8, 0].map(|shift| light_of(f64::from((code >> shift) & 0xff) / 255.0))))
    }

    /// The nearest colour that can be written `#rrggbb`; light beyond what a screen has is cut off.
    pub fn hex(self) -> String {
        let [red, green, blue] = self.0.map(|light| (255.0 * signal_of(light.clamp(0.0, 1.0))).round() as u8);
        format!("#{red:02x}{green:02x}{blue:02x}")
    }

    /// What several colours look like from too far off to tell them apart: the mean of their light, each weighted by
    /// the width that it shows, in any one unit. Black and white of equal width give `#bcbcbc`.
    ///
    /// # Panics
    /// If no part shows any width, for then there is nothing to see.
    pub fn mixed(parts: &[(Tint, f64)]) -> Tint {
        let width: f64 = parts.iter().map(|(_, width)| width).sum();
        assert!(width > 0.0, "invariant: some part of a mixture shows");
        let mean = |channel: usize| parts.iter().map(|(tint, part)| tint.0[channel] * part).sum::<f64>() / width;
        Tint([mean(0), mean(1), mean(2)])
    }

    /// The colour in OKLab: lightness from 0 to 1, then how far it is red rather than green, and yellow rather than
    /// blue.
    ///
    /// # Source
    /// B. Ottosson, *A perceptual color space for image processing*, 2020.
    pub fn oklab(self) -> [f64; 3] {
        times(&OKLAB_OF_CONES, times(&CONES_OF_LIGHT, self.0).map(libm::cbrt))
    }

    /// The colour in CIELAB under daylight (D65, two-degree observer): L* from 0 to 100, then a* and b*.
    ///
    /// # Source
    /// CIE 015:2018, *Colorimetry*; the matrix to XYZ is derived from the primaries and the white of IEC 61966-2-1.
    pub fn lab(self) -> [f64; 3] {
        let xyz = times(&XYZ_OF_LIGHT, self.0);
        let [x, y, z] = [0, 1, 2].map(|axis| lab_root(xyz[axis] / WHITE[axis]));
        [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
    }

    /// How far two colours differ to the eye, by CIEDE2000; see [`difference`].
    pub fn difference(self, other: Tint) -> f64 {
        difference(self.lab(), other.lab())
    }

    /// How far two colours differ in lightness alone, on the OKLab scale where white is 1 above black.
    pub fn lightness_difference(self, other: Tint) -> f64 {
        (self.oklab()[0] - other.oklab()[0]).abs()
    }

    /// The colour that an eye without green-sensitive cones (deuteranopia) takes it for, as an eye with all cones sees
    /// it.
    ///
    /// # Source
    /// G. M. Machado, M. M. Oliveira and L. A. F. Fernandes, *A physiologically-based model for simulation of color
    /// vision deficiency*, 2009, the matrix of severity 1; it is applied to light, as the authors' model has it.
    pub fn without_green_cones(self) -> Tint {
        Tint(times(&DEUTERANOPIA, self.0))
    }

    /// How strong the colour is: its distance from grey in OKLab, where the strongest red of a screen has 0.26.
    fn chroma(self) -> f64 {
        let [_, a, b] = self.oklab();
        libm::hypot(a, b)
    }
}

/// Light of a channel whose signal is given, both from 0 to 1: IEC 61966-2-1.
fn light_of(signal: f64) -> f64 {
    if signal <= 0.04045 { signal / 12.92 } else { libm::pow((signal + 0.055) / 1.055, 2.4) }
}

/// Signal of a channel that gives so much light; what [`light_of`] undoes.
fn signal_of(light: f64) -> f64 {
    if light <= 0.04045 / 12.92 { 12.92 * light } else { 1.055 * libm::pow(light, 1.0 / 2.4) - 0.055 }
}

/// CIE XYZ of one unit of each channel's light, a row for each of X, Y and Z. It follows from the primaries (0.64,
/// 0.33), (0.30, 0.60), (0.15, 0.06) and the white, and is not rounded to the four digits of the standard's own table:
/// rounded, grey would have a hue.
const XYZ_OF_LIGHT: [[f64; 3]; 3] = [
    [0.4123907992659593, 0.357584339383878, 0.1804807884018343],
    [0.21263900587151024, 0.715168678767756, 0.07219231536073371],
    [0.01933081871559182, 0.11919477979462598, 0.9505321522496607],
];

/// CIE XYZ of the white that the eye is used to: daylight D65, chromaticity (0.3127, 0.3290), with Y at 1.
const WHITE: [f64; 3] = [0.3127 / 0.3290, 1.0, 0.3583 / 0.3290];

/// What the three kinds of cones take in of one unit of each channel's light: Ottosson 2020.
const CONES_OF_LIGHT: [[f64; 3]; 3] = [
    [0.4122214708, 0.5363325363, 0.0514459929],
    [0.2119034982, 0.6806995451, 0.1073969566],
    [0.0883024619, 0.2817188376, 0.6299787005],
];

/// OKLab of the cube roots of what the cones take in: Ottosson 2020.
const OKLAB_OF_CONES: [[f64; 3]; 3] = [
    [0.2104542553, 0.7936177850, -0.0040720468],
    [1.9779984951, -2.4285922050, 0.4505937099],
    [0.0259040371, 0.7827717662, -0.8086757660],
];

/// Light as an eye without green-sensitive cones takes it: Machado, Oliveira and Fernandes 2009.
const DEUTERANOPIA: [[f64; 3]; 3] =
    [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]];

fn times(matrix: &[[f64; 3]; 3], [x, y, z]: [f64; 3]) -> [f64; 3] {
    matrix.map(|row| row[0] * x + row[1] * y + row[2] * z)
}

/// The cube root by which CIELAB evens out light, with a straight foot near black: CIE 015:2018.
fn lab_root(light: f64) -> f64 {
    if light > 216.0 / 24389.0 { libm::cbrt(light) } else { light * 841.0 / 108.0 + 4.0 / 29.0 }
}

/// How far two CIELAB colours differ to the eye, by CIEDE2000 with all three weights at 1. About 1 is just seen on
/// smooth patches that touch (common practice, no source).
///
/// # Source
/// G. Sharma, W. Wu and E. N. Dalal, *The CIEDE2000 color-difference formula: implementation notes, supplementary test
/// data, and mathematical observations*, Color Research and Application 30 (2005), pp. 21-30, equations 2 to 22.
pub fn difference(one: [f64; 3], other: [f64; 3]) -> f64 {
    let mean_chroma = f64::midpoint(libm::hypot(one[1], one[2]), libm::hypot(other[1], other[2]));
    // Near grey, a step along a* is seen more than CIELAB has it.
    let stretch = 1.5 - 0.5 * strength(mean_chroma);
    let [one, other] = [one, other].map(|lab| Polar::of(lab, stretch));
    let chroma = f64::midpoint(one.chroma, other.chroma);
    let (turn, hue) = one.turn_to(other);
    let lightness = (other.lightness - one.lightness) / lightness_scale(f64::midpoint(one.lightness, other.lightness));
    let strong = (other.chroma - one.chroma) / (1.0 + 0.045 * chroma);
    let turned = 2.0 * (one.chroma * other.chroma).sqrt() * sine(turn / 2.0) / (1.0 + 0.015 * chroma * hue_scale(hue));
    (lightness * lightness + strong * strong + turned * turned + tilt(chroma, hue) * strong * turned).sqrt()
}

/// A CIELAB colour by its hue, in degrees from 0 to 360, and its distance from grey.
#[derive(Clone, Copy)]
struct Polar {
    lightness: f64,
    chroma: f64,
    hue: f64,
}

impl Polar {
    fn of([lightness, a, b]: [f64; 3], stretch: f64) -> Polar {
        let a = stretch * a;
        let hue = libm::atan2(b, a).to_degrees();
        Polar { lightness, chroma: libm::hypot(a, b), hue: if hue < 0.0 { hue + 360.0 } else { hue } }
    }

    /// The shorter turn from one hue to another, and the hue midway along it, in degrees. Grey has no hue, and leaves
    /// the other's to stand as it is.
    fn turn_to(self, other: Polar) -> (f64, f64) {
        let (turn, sum) = (other.hue - self.hue, self.hue + other.hue);
        if self.chroma == 0.0 || other.chroma == 0.0 {
            (0.0, sum)
        } else if turn.abs() <= HALF_TURN {
            (turn, sum / 2.0)
        } else {
            (turn - 360f64.copysign(turn), f64::midpoint(sum, if sum < 360.0 { 360.0 } else { -360.0 }))
        }
    }
}

/// Hues no further apart than this are met by the plain mean of their angles. Opposite hues have two hues midway, and
/// the paper takes that mean; the hair above 180° keeps the last bit of an angle from choosing for it (pair 14 of its
/// table).
const HALF_TURN: f64 = 180.0 + 1e-9;

/// How near a chroma is to the strong colours, from 0 to 1.
fn strength(chroma: f64) -> f64 {
    let cubed = chroma * chroma * chroma;
    let seventh = cubed * cubed * chroma;
    (seventh / (seventh + 6_103_515_625.0)).sqrt()
}

/// What a step of lightness is divided by; the eye is keenest at middle grey.
fn lightness_scale(lightness: f64) -> f64 {
    let off = (lightness - 50.0) * (lightness - 50.0);
    1.0 + 0.015 * off / (20.0 + off).sqrt()
}

/// How much less a turn of hue is seen, by the hue in degrees.
fn hue_scale(hue: f64) -> f64 {
    1.0 - 0.17 * cosine(hue - 30.0) + 0.24 * cosine(2.0 * hue) + 0.32 * cosine(3.0 * hue + 6.0)
        - 0.20 * cosine(4.0 * hue - 63.0)
}

/// How chroma and hue work together, which they do among the blues alone.
fn tilt(chroma: f64, hue: f64) -> f64 {
    let off = (hue - 275.0) / 25.0;
    -2.0 * strength(chroma) * sine(60.0 * libm::exp(-off * off))
}

fn sine(degrees: f64) -> f64 {
    libm::sin(degrees.to_radians())
}

fn cosine(degrees: f64) -> f64 {
    libm::cos(degrees.to_radians())
}

/// How plies that lie side by side look.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Look {
    /// All plies read as one colour.
    Clear,
    /// The plies melt into a colour that has something of each.
    Heathered,
    /// The plies melt, and their colours cancel: what is left is greyer than any of them would lead one to hope.
    Muddy,
    /// Light and dark plies stand apart as slanting stripes.
    BarberPole,
}

/// Plies that differ by less than this, in CIEDE2000, read as one colour: our choice. One just sees a difference of 1
/// on smooth patches; yarn has a shaded and a lit side, and wool that was dyed by hand wanders by several within a
/// hand's breadth (both common practice, no source). Of plausible wool colours, two baths of one madder (`#a23b2a`,
/// `#a8412d`: 2.0; `#ad4632`: 3.6), two whites of fleece (`#f2eee4`, `#e9e3d4`: 3.2) and two greys (`#8d8880`,
/// `#98938b`: 3.8) count as one; a green-grey and a brown-grey (`#7d8a70`, `#8a8a78`: 6.6) do not.
const ONE_COLOUR: f64 = 5.0;

/// Plies at least this far apart in OKLab lightness, where white is 1 above black, show as stripes: our choice. It is a
/// quarter of the way from black to white. White with a mid grey (`#f2eee4`, `#8d8880`: 0.32), that grey with charcoal
/// (`#3a3836`: 0.29) and indigo with a pale blue (`#2f4b7c`, `#9fb8d3`: 0.36) are stripes; white with a silver grey
/// (`#b9b5ad`: 0.18) and brown with brown-black (`#5b4030`, `#2b211c`: 0.14) are not. Gold with violet (`#c9a227`,
/// `#6a4c93`: 0.247) is just short of it.
const STRIPES: f64 = 0.25;

/// A mixture that keeps less than this share of the chroma of its parts is muddy: our choice, half. Heather with moss
/// (`#7b5f8a`, `#7d7a3c`) keeps 0.23, gold with blue (`#c9a227`, `#3f6fa5`) 0.24, rust with teal (`#b0562f`, `#2f7a7a`)
/// 0.38 and rose with sage (`#c0687a`, `#7fa07a`) 0.44: mud. Blue with green (`#3f6fa5`, `#4f8a5a`) keeps 0.60, madder
/// with a leaf green (`#a23b2a`, `#4f7a3a`) 0.62, which is a warm brown, and neighbours on the wheel over 0.85.
const KEPT_CHROMA: f64 = 0.5;

/// Parts whose chroma is on average below this, in OKLab, have none worth losing: our choice. A blue-grey with a
/// brown-grey (`#6f7c88`, `#8a7d70`: 0.025) keeps a twentieth of its chroma and yet nothing is missed; a brown with
/// oatmeal (`#5b4030`, `#c9b79c`) has 0.044. Muted dyes such as heather with lichen (`#7b5f8a`, `#aab58c`) have 0.066.
const CHROMA_WORTH_LOSING: f64 = 0.05;

/// How plies look side by side, each with its colour and the width that it shows, in any one unit. Plies of no width
/// are not seen, and fewer than two are one colour.
///
/// Where two words apply, the one that the eye meets first is given. Plies of one colour have no stripes and nothing to
/// mix, so `Clear` comes before all. Stripes of light and dark are seen from further off than stripes of hue (common
/// practice, no source), so plies that stand apart do not mix yet, and `BarberPole` comes before `Muddy`. `Heathered`
/// is what is left.
pub fn look(parts: &[(Tint, f64)]) -> Look {
    let seen: Vec<(Tint, f64)> = parts.iter().copied().filter(|(_, width)| *width > 0.0).collect();
    if greatest(&seen, Tint::difference) < ONE_COLOUR {
        Look::Clear
    } else if greatest(&seen, Tint::lightness_difference) >= STRIPES {
        Look::BarberPole
    } else if is_muddy(&seen) {
        Look::Muddy
    } else {
        Look::Heathered
    }
}

/// The greatest that any two of the parts differ by; 0 where there are no two.
fn greatest(parts: &[(Tint, f64)], differ: impl Fn(Tint, Tint) -> f64) -> f64 {
    let pairs = parts.iter().enumerate().flat_map(|(k, one)| parts[..k].iter().map(move |other| (one.0, other.0)));
    pairs.map(|(one, other)| differ(one, other)).fold(0.0, f64::max)
}

/// Whether a mixture has lost most of a chroma that was worth having.
fn is_muddy(parts: &[(Tint, f64)]) -> bool {
    let width: f64 = parts.iter().map(|(_, width)| width).sum();
    let chroma = parts.iter().map(|(tint, part)| tint.chroma() * part).sum::<f64>() / width;
    chroma >= CHROMA_WORTH_LOSING && Tint::mixed(parts).chroma() < KEPT_CHROMA * chroma
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::{ProptestConfig, any};
    use proptest::{prop_assert, prop_assert_eq, proptest};

    fn tint(hex: &str) -> Tint {
        Tint::of_hex(hex).unwrap_or_else(|| panic!("{hex} is a colour"))
    }

    fn of_bytes([red, green, blue]: [u8; 3]) -> Tint {
        tint(&format!("#{red:02x}{green:02x}{blue:02x}"))
    }

    fn assert_near(got: [f64; 3], expected: [f64; 3], room: f64) {
        assert!(got.iter().zip(expected).all(|(got, expected)| (got - expected).abs() <= room), "{got:?} {expected:?}");
    }

    fn alike(tints: &[&str]) -> Vec<(Tint, f64)> {
        tints.iter().map(|hex| (tint(hex), 1.0)).collect()
    }

    #[test]
    fn every_level_is_written_as_it_was_read() {
        for level in 0..=255u8 {
            let hex = format!("#{level:02x}{:02x}{:02x}", 255 - level, level ^ 0x5a);
            assert_eq!(tint(&hex).hex(), hex);
        }
        assert_eq!(tint("#A23B2A"), tint("#a23b2a"));
    }

    #[test]
    fn what_is_no_colour_is_not_read() {
        for text in ["", "#", "a23b2a", "#a23b2", "#a23b2a0", "#a23b2g", "#+23b2a", "# 23b2a", "#é3b2a", "##a23b2"] {
            assert_eq!(Tint::of_hex(text), None, "{text}");
        }
    }

    /// IEC 61966-2-1: the straight foot ends between the tenth and the eleventh of 255 levels.
    #[test]
    fn light_follows_the_standard_on_both_sides_of_its_threshold() {
        assert_eq!(tint("#0a0b00").0[0], 10.0 / 255.0 / 12.92);
        // ((11 ÷ 255 + 0.055) ÷ 1.055)^2.4 in forty digits, by Python's decimal.
        assert!((tint("#0a0b00").0[1] - 0.0033465357638991586).abs() < 1e-16);
        assert_eq!((tint("#ffffff").0, tint("#000000").0), ([1.0; 3], [0.0; 3]));
    }

    #[test]
    fn light_that_no_screen_has_is_cut_off() {
        assert_eq!(Tint([-0.2, 0.5, 1.7]).hex(), "#00bcff");
    }

    /// The matrix against what IEC 61966-2-1 gives: chromaticities of the primaries, and the white.
    #[test]
    fn the_matrix_has_the_primaries_and_the_white_of_the_standard() {
        for (channel, (x, y)) in [(0.64, 0.33), (0.30, 0.60), (0.15, 0.06)].into_iter().enumerate() {
            let [big_x, big_y, big_z] = XYZ_OF_LIGHT.map(|row| row[channel]);
            let sum = big_x + big_y + big_z;
            assert_near([big_x / sum, big_y / sum, 0.0], [x, y, 0.0], 1e-14);
        }
        assert_near(times(&XYZ_OF_LIGHT, [1.0; 3]), WHITE, 1e-14);
    }

    #[test]
    fn greys_have_a_lightness_and_no_hue() {
        assert_near(tint("#ffffff").oklab(), [1.0, 0.0, 0.0], 1e-7);
        assert_near(tint("#ffffff").lab(), [100.0, 0.0, 0.0], 1e-11);
        for level in 0..=255 {
            let grey = of_bytes([level; 3]);
            assert!(grey.chroma() < 1e-7, "{level}");
            assert_near([0.0, grey.lab()[1], grey.lab()[2]], [0.0; 3], 1e-11);
        }
    }

    /// CIE 015: the straight foot and the cube root meet, at L* 8.
    #[test]
    fn the_foot_of_cielab_meets_its_root() {
        let edge = 216.0 / 24389.0;
        assert!((lab_root(edge) - lab_root(edge * (1.0 + 1e-12))).abs() < 1e-12);
        assert!((116.0 * lab_root(edge) - 16.0 - 8.0).abs() < 1e-12);
    }

    #[test]
    fn mixtures_are_means_of_light_by_width() {
        let (black, white) = (tint("#000000"), tint("#ffffff"));
        assert_eq!(Tint::mixed(&[(black, 1.0), (white, 1.0)]).hex(), "#bcbcbc");
        // Derived: light of a quarter and of three quarters, through the curve of the standard.
        assert_eq!(Tint::mixed(&[(black, 3.0), (white, 1.0)]).hex(), "#898989");
        assert_eq!(Tint::mixed(&[(black, 0.5), (white, 1.5)]).hex(), "#e1e1e1");
        assert_eq!(Tint::mixed(&[(black, 0.0), (tint("#a23b2a"), 0.3)]).hex(), "#a23b2a");
    }

    #[test]
    #[should_panic(expected = "some part of a mixture shows")]
    fn nothing_does_not_mix() {
        Tint::mixed(&[(tint("#a23b2a"), 0.0)]);
    }

    /// Sharma, Wu and Dalal 2005, table 1, pairs 13 to 15: the mean hue jumps where hues are opposite.
    #[test]
    fn opposite_hues_are_met_by_the_plain_mean_of_their_angles() {
        for (b, printed) in [(0.0009, 4.8045), (0.0010, 4.8045), (0.0011, 4.7461)] {
            let got = difference([50.0, -0.0010, 2.4900], [50.0, b, -2.4900]);
            assert!((got - printed).abs() < 1e-4, "{b}: printed {printed}, got {got}");
        }
    }

    #[test]
    fn from_grey_a_colour_differs_by_its_strength_alone() {
        // Derived: no chroma on one side leaves no turn of hue, only C′ ÷ (1 + 0.045 × C′ ÷ 2) with C′ = 1.5 × a*, as G
        // is one half but for a millionth.
        let strong = 1.5 * 0.2;
        let expected = strong / (1.0 + 0.045 * strong / 2.0);
        assert!((difference([50.0, 0.0, 0.0], [50.0, 0.2, 0.0]) - expected).abs() < 1e-6);
    }

    #[test]
    fn lightness_differs_from_black_to_white_by_one() {
        assert!((tint("#000000").lightness_difference(tint("#ffffff")) - 1.0).abs() < 1e-7);
        // White with a red, by the published lightness of that red in this space, 0.627955.
        assert!((tint("#ffffff").lightness_difference(tint("#ff0000")) - 0.372045).abs() < 1e-6);
    }

    #[test]
    fn red_and_green_of_one_lightness_come_nearer_without_green_cones() {
        let [red, green] = [tint("#b5583e"), tint("#7c7a2e")].map(|tint| (tint, tint.without_green_cones()));
        assert!(red.1.difference(green.1) < red.0.difference(green.0) / 3.0);
        assert_eq!(tint("#8d8d8d").without_green_cones().hex(), "#8d8d8d", "greys stay as they are");
    }

    #[test]
    fn wool_colours_look_as_the_limits_say() {
        let expected = [
            (Look::Clear, ["#a23b2a", "#a8412d"], "two baths of madder"),
            (Look::Clear, ["#a23b2a", "#ad4632"], "two baths of madder, far apart"),
            (Look::Clear, ["#f2eee4", "#e9e3d4"], "two whites of fleece"),
            (Look::Clear, ["#8d8880", "#98938b"], "two greys"),
            (Look::Heathered, ["#7d8a70", "#8a8a78"], "green-grey and brown-grey"),
            (Look::Heathered, ["#6f7c88", "#8a7d70"], "blue-grey and brown-grey: no chroma to lose"),
            (Look::Heathered, ["#f2eee4", "#b9b5ad"], "white and silver grey"),
            (Look::Heathered, ["#5b4030", "#2b211c"], "brown and brown-black"),
            (Look::Heathered, ["#3f6fa5", "#6a5aa5"], "blue and violet"),
            (Look::Heathered, ["#3f6fa5", "#4f8a5a"], "blue and green"),
            (Look::Heathered, ["#a23b2a", "#4f7a3a"], "madder and leaf green"),
            (Look::Muddy, ["#7b5f8a", "#7d7a3c"], "heather and moss"),
            (Look::Muddy, ["#7b5f8a", "#aab58c"], "heather and lichen"),
            (Look::Muddy, ["#c9a227", "#3f6fa5"], "gold and blue"),
            (Look::Muddy, ["#c9a227", "#6a4c93"], "gold and violet"),
            (Look::Muddy, ["#b0562f", "#2f7a7a"], "rust and teal"),
            (Look::Muddy, ["#c0687a", "#7fa07a"], "rose and sage"),
            (Look::BarberPole, ["#f2eee4", "#8d8880"], "white and mid grey"),
            (Look::BarberPole, ["#8d8880", "#3a3836"], "mid grey and charcoal"),
            (Look::BarberPole, ["#2f4b7c", "#9fb8d3"], "indigo and pale blue"),
        ];
        for (expected, pair, what) in expected {
            assert_eq!(look(&alike(&pair)), expected, "{what}");
        }
    }

    #[test]
    fn the_two_plies_furthest_apart_say_how_three_look() {
        assert_eq!(look(&alike(&["#f2eee4", "#b9b5ad"])), Look::Heathered);
        assert_eq!(look(&alike(&["#f2eee4", "#b9b5ad", "#8d8880"])), Look::BarberPole);
        assert_eq!(look(&alike(&["#a23b2a", "#a8412d", "#4f7a3a"])), Look::Heathered);
    }

    #[test]
    fn stripes_come_before_mud() {
        let complements = alike(&["#d0aa2e", "#6a4c93"]);
        assert!(is_muddy(&complements));
        assert_eq!(look(&complements), Look::BarberPole);
    }

    #[test]
    fn width_decides_whether_colours_cancel() {
        let [heather, moss] = ["#7b5f8a", "#7d7a3c"].map(tint);
        assert_eq!(look(&[(heather, 1.0), (moss, 1.0)]), Look::Muddy);
        assert_eq!(look(&[(heather, 5.0), (moss, 1.0)]), Look::Heathered);
        assert_eq!(look(&[(heather, 1.0), (moss, 0.0)]), Look::Clear, "what has no width is not seen");
        assert_eq!((look(&[(heather, 1.0)]), look(&[])), (Look::Clear, Look::Clear));
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn differences_are_the_same_both_ways(one in any::<[u8; 3]>(), other in any::<[u8; 3]>()) {
            let (one, other) = (of_bytes(one), of_bytes(other));
            prop_assert!((one.difference(other) - other.difference(one)).abs() < 1e-9);
            prop_assert_eq!(one.difference(one), 0.0);
            prop_assert!(one == other || one.difference(other) > 0.0);
        }

        #[test]
        fn a_mixture_lies_between_its_parts(one in any::<[u8; 3]>(), other in any::<[u8; 3]>(), width in 0.01..100.0) {
            let (one, other) = (of_bytes(one), of_bytes(other));
            let mixed = Tint::mixed(&[(one, width), (other, 1.0)]);
            for channel in 0..3 {
                let (low, high) = (one.0[channel].min(other.0[channel]), one.0[channel].max(other.0[channel]));
                prop_assert!((low - 1e-15..=high + 1e-15).contains(&mixed.0[channel]));
            }
        }

        #[test]
        fn looks_do_not_hang_on_order_or_unit(plies in proptest::collection::vec((any::<[u8; 3]>(), 1u8..9), 2..5)) {
            let plies: Vec<_> = plies.into_iter().map(|(tint, width)| (of_bytes(tint), f64::from(width))).collect();
            let turned: Vec<_> = plies.iter().rev().map(|(tint, width)| (*tint, 0.25 * width)).collect();
            prop_assert_eq!(look(&plies), look(&turned));
        }
    }
}
