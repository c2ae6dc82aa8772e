//! One page as a picture.

use png::{BitDepth, ColorType, Encoder, PixelDimensions, Unit};
use typst::utils::Scalar;
use typst_layout::Page;
use typst_render::RenderOptions;
use typst_svg::SvgOptions;

/// The coarsest and the finest a picture may be, in pixels to the inch: below, the smallest words run together; above, a page of
/// A4 takes more than a hundred megabytes of memory. Our choice.
pub const PIXELS_PER_INCH: std::ops::RangeInclusive<u32> = 50..=600;

/// A page as PNG, on white. The file tells how large its pixels are, so that it is printed at its true size.
pub fn png(page: &Page, pixels_per_inch: u32) -> Vec<u8> {
    let fineness = f64::from(pixels_per_inch);
    let options = RenderOptions { pixel_per_pt: Scalar::new(fineness / 72.0), render_bleed: false };
    let drawn = typst_render::render(page, &options);
    // The page is white all over, so that nothing of it is left to see through.
    let opaque: Vec<u8> = drawn.data().chunks_exact(4).flat_map(|pixel| [pixel[0], pixel[1], pixel[2]]).collect();
    let per_metre = (fineness / 0.0254).round() as u32;
    let mut bytes = Vec::new();
    let mut encoder = Encoder::new(&mut bytes, drawn.width(), drawn.height());
    encoder.set_color(ColorType::Rgb);
    encoder.set_depth(BitDepth::Eight);
    encoder.set_pixel_dims(Some(PixelDimensions { xppu: per_metre, yppu: per_metre, unit: Unit::Meter }));
    let written = encoder.write_header().and_then(|mut writer| {
        writer.write_image_data(&opaque)?;
        writer.finish()
    });
    written.expect("invariant: writing to memory does not fail");
    bytes
}

/// A page as SVG. Its letters are outlines, so that it looks the same without the fonts.
pub fn svg(page: &Page) -> Vec<u8> {
    typst_svg::svg(page, &SvgOptions::default()).into_bytes()
}
