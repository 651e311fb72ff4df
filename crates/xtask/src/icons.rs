//! The app's icons as PNG, drawn from the one SVG at every build: home screens take no SVG.

use anyhow::{Context, Result};
use resvg::{tiny_skia, usvg};
use std::path::Path;

/// File, size in pixels, and the share of the size that the picture takes: a mask may cut away all but the middle four fifths.
const ICONS: [(&str, u32, f32); 4] = [
    ("icon-180.png", 180, 1.0),
    ("icon-192.png", 192, 1.0),
    ("icon-512.png", 512, 1.0),
    ("icon-maskable-512.png", 512, 0.8),
];
/// The picture's own ground, for what lies around a smaller one.
const GROUND: [u8; 3] = [0x24, 0x42, 0x4f];

/// Draws all of them from `icon.svg` in the folder.
pub fn draw(folder: &Path) -> Result<()> {
    let svg = std::fs::read(folder.join("icon.svg")).context("reading icon.svg")?;
    for (name, size, share) in ICONS {
        std::fs::write(folder.join(name), png(&svg, size, share)?)?;
    }
    Ok(())
}

fn png(svg: &[u8], size: u32, share: f32) -> Result<Vec<u8>> {
    let tree = usvg::Tree::from_data(svg, &usvg::Options::default())?;
    let mut picture = tiny_skia::Pixmap::new(size, size).context("an icon of no size")?;
    let [red, green, blue] = GROUND;
    picture.fill(tiny_skia::Color::from_rgba8(red, green, blue, 255));
    let scale = size as f32 * share / tree.size().width();
    let margin = size as f32 * (1.0 - share) / 2.0;
    let place = tiny_skia::Transform::from_scale(scale, scale).post_translate(margin, margin);
    resvg::render(&tree, place, &mut picture.as_mut());
    Ok(picture.encode_png()?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::workspace;

    #[test]
    fn icons_have_their_size_and_the_ground_in_every_corner() {
        let svg = std::fs::read(workspace::root().join("web/static/icon.svg")).unwrap();
        for (name, size, share) in ICONS {
            let bytes = png(&svg, size, share).unwrap();
            let picture = tiny_skia::Pixmap::decode_png(&bytes).unwrap();
            assert_eq!((picture.width(), picture.height()), (size, size), "{name}");
            let corner = picture.pixel(0, 0).unwrap();
            assert_eq!(
                [corner.red(), corner.green(), corner.blue()],
                GROUND,
                "{name}"
            );
            // The upper disc of the picture, which is not of the ground's colour.
            let disc = picture
                .pixel(
                    size / 2,
                    size * 3 / 10 + (size as f32 * (1.0 - share) * 0.1) as u32,
                )
                .unwrap();
            assert_ne!([disc.red(), disc.green(), disc.blue()], GROUND, "{name}");
        }
    }
}
