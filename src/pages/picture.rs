//! One page as a picture.

use png::{BitDepth, ColorType, Encoder, PixelDimensions, Unit};
use typst::utils::Scalar;
use typst_layout::Page;
use typst_render::RenderOptions;
use typst_svg::SvgOptions;

/// The coarsest and the finest a picture may be, in pixels to the inch: below, the smallest words run together; above, a page of
/// A4 takes more than a hundred megabytes of memory. Our choice.
pub const PIXELS_PER_INCH: std::ops::RangeInclusive<u32> = 50..=600;

/// A picture of more pixels than this is not drawn: A4 has thirty-five million at the finest. Our choice.
const MOST_PIXELS: f64 = 2e8;

/// A page as PNG, on white. The file tells how large its pixels are, so that it is printed at its true size.
///
/// # Errors
/// When the page is so large that its picture would not fit into memory, in words; only a template of the user's own makes such.
pub fn png(page: &Page, pixels_per_inch: u32) -> Result<Vec<u8>, String> {
    let fineness = f64::from(pixels_per_inch);
    let (width, height) = (page.frame.width().to_pt() * fineness / 72.0, page.frame.height().to_pt() * fineness / 72.0);
    if (width * height).is_nan() || width * height > MOST_PIXELS {
        return Err(format!(
            "a page of {width:.0} by {height:.0} pixels is too large for a PNG: make it smaller, or use --ppi"
        ));
    }
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
    Ok(bytes)
}

/// A page as SVG. Its letters are outlines, so that it looks the same without the fonts.
pub fn svg(page: &Page) -> Vec<u8> {
    typst_svg::svg(page, &SvgOptions::default()).into_bytes()
}
