//! A plan as a picture: its grid drawn as SVG, with the plan itself inside. Where a file is not taken, a picture often is.

use lodewright_kit::Plan;

use crate::file::{Loaded, text_of};
use crate::link::{folded, unfolded};
use crate::{MAX_BYTES, ReadError, WriteError, read};

/// Marks the element that carries the plan.
const MARK: &str = "id=\"lodewright-plan\"";

/// Rows and columns that are drawn; the plan inside is whole.
const ROWS: usize = 40;
const COLUMNS: usize = 8;

/// Characters of a label that fit a cell.
const FITTING: usize = 22;

const FIRST: usize = 170;
const WIDTH: usize = 190;
const HEIGHT: usize = 30;
const TOP: usize = 64;

/// Reads a plan file, or a picture that carries a plan: which, is told from the content.
///
/// # Errors
/// A [`ReadError`] that says what was given, what it must be and what to do.
pub fn open(bytes: &[u8]) -> Result<Loaded, ReadError> {
    if bytes.len() > MAX_BYTES {
        return Err(ReadError::TooLarge { bytes: bytes.len() });
    }
    if is_photo(bytes) {
        return Err(ReadError::NoPlanInPicture);
    }
    match text_of(bytes) {
        Ok(text) if text.trim_start().starts_with('<') => {
            unfolded(carried(text).ok_or(ReadError::NoPlanInPicture)?)
        }
        _ => read(bytes),
    }
}

/// PNG, JPEG, GIF and WebP by their first bytes, as their standards give them.
fn is_photo(bytes: &[u8]) -> bool {
    let heads: [&[u8]; 4] = [b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff", b"GIF8", b"RIFF"];
    heads.iter().any(|head| bytes.starts_with(head))
}

/// What stands in the marked element.
fn carried(text: &str) -> Option<&str> {
    let (_, after) = text.split_once(MARK)?;
    let (_, inside) = after.split_once('>')?;
    let (inside, _) = inside.split_once('<')?;
    Some(inside)
}

/// The grid of a plan as an SVG 1.1 picture that carries the plan; no script, no style, no address outside.
///
/// # Errors
/// Where the plan cannot be saved, or the picture would be longer than [`MAX_BYTES`].
pub fn picture(plan: &Plan) -> Result<String, WriteError> {
    let carried = folded(plan)?;
    let columns = plan.variants.len().min(COLUMNS);
    let rows = plan.sockets.len().min(ROWS);
    let (width, height) = (
        FIRST + WIDTH * columns.max(1) + 20,
        TOP + HEIGHT * (rows + 1) + 44,
    );
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}\" height=\"{height}\" viewBox=\"0 0 {width} {height}\" font-family=\"sans-serif\" font-size=\"14\">\n\
         <title>{title}</title>\n<metadata {MARK}>{carried}</metadata>\n\
         <rect width=\"{width}\" height=\"{height}\" fill=\"#ffffff\"/>\n",
        title = escaped(&plan.title),
    );
    out.push_str(&text(20, 36, 20, true, &plan.title, 60));
    for (c, variant) in plan.variants.iter().take(columns).enumerate() {
        out.push_str(&text(left(c), TOP + 20, 14, true, &variant.name, FITTING));
    }
    for (r, socket) in plan.sockets.iter().take(rows).enumerate() {
        let y = TOP + HEIGHT * (r + 1);
        out.push_str(&format!(
            "<path d=\"M20 {y}H{}\" stroke=\"#9aa3ab\"/>\n",
            width - 20
        ));
        out.push_str(&text(20, y + 20, 14, true, &socket.name, FITTING - 3));
        for (c, variant) in plan.variants.iter().take(columns).enumerate() {
            let words = plan.cell_text(&variant.id, &socket.id);
            out.push_str(&text(left(c), y + 20, 14, false, &words, FITTING));
        }
    }
    out.push_str(&text(20, height - 16, 12, false, &foot(plan), 120));
    out.push_str("</svg>\n");
    if out.len() > MAX_BYTES {
        return Err(WriteError::TooLarge { bytes: out.len() });
    }
    Ok(out)
}

fn left(column: usize) -> usize {
    FIRST + WIDTH * column
}

fn foot(plan: &Plan) -> String {
    let more = |n: usize, most: usize, one: &str, many: &str| match n.saturating_sub(most) {
        0 => String::new(),
        1 => format!(" 1 more {one}."),
        n => format!(" {n} more {many}."),
    };
    format!(
        "Open this picture in Lodewright: it carries the plan.{}{}",
        more(plan.sockets.len(), ROWS, "socket", "sockets"),
        more(plan.variants.len(), COLUMNS, "variant", "variants"),
    )
}

fn text(x: usize, y: usize, size: usize, bold: bool, words: &str, fitting: usize) -> String {
    if words.is_empty() {
        return String::new();
    }
    let mut shown: String = words.chars().take(fitting).collect();
    if words.chars().nth(fitting).is_some() {
        shown.push('…');
    }
    let weight = if bold { " font-weight=\"bold\"" } else { "" };
    format!(
        "<text x=\"{x}\" y=\"{y}\" font-size=\"{size}\"{weight} fill=\"#1d2329\">{}</text>\n",
        escaped(&shown)
    )
}

/// Text as XML 1.0 holds it: markup as references, characters that it does not allow replaced.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\n' => out.push(' '),
            // XML 1.0, production 2 (Char).
            '\u{fffe}' | '\u{ffff}' => out.push('\u{fffd}'),
            c if c.is_control() => out.push('\u{fffd}'),
            c => out.push(c),
        }
    }
    out
}
