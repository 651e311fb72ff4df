//! A plan as the fragment of a link: deflated, in the letters that a link may hold.

use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use lodewright_kit::Plan;
use miniz_oxide::deflate::compress_to_vec_zlib;
use miniz_oxide::inflate::{TINFLStatus, decompress_to_vec_zlib_with_limit};

use crate::file::{Loaded, read_text, text_of, write_dense};
use crate::{MAX_BYTES, ReadError, WriteError};

/// The longest text of a link that is handed out or taken, characters. Messages and browsers take far more than this, but
/// not all of them do.
pub const MAX_LINK: usize = 30_000;

/// As hard as it gets: a plan is short.
const LEVEL: u8 = 9;

/// The plan as letters, digits, `-` and `_`: zlib (RFC 1950) in base64url (RFC 4648, section 5) without padding.
///
/// # Errors
/// Where the plan cannot be saved, or the text would be longer than [`MAX_LINK`].
///
/// # Examples
/// ```
/// use lodewright_kit::Plan;
/// use lodewright_planfile::{pack, unpack};
///
/// let plan = Plan::empty("Works railcar");
/// let fragment = pack(&plan).unwrap();
/// assert_eq!(unpack(&fragment).unwrap().plan, plan);
/// ```
pub fn pack(plan: &Plan) -> Result<String, WriteError> {
    let text = folded(plan)?;
    if text.len() > MAX_LINK {
        return Err(WriteError::LinkTooLong {
            characters: text.len(),
        });
    }
    Ok(text)
}

/// The plan of such a text.
///
/// # Errors
/// A [`ReadError`] that says what was given, what it must be and what to do.
pub fn unpack(text: &str) -> Result<Loaded, ReadError> {
    if text.len() > MAX_LINK {
        return Err(ReadError::LinkTooLong {
            characters: text.chars().count(),
        });
    }
    unfolded(text)
}

/// The same of any length.
pub(crate) fn folded(plan: &Plan) -> Result<String, WriteError> {
    let dense = write_dense(plan)?;
    Ok(URL_SAFE_NO_PAD.encode(compress_to_vec_zlib(dense.as_bytes(), LEVEL)))
}

/// The same of any length up to a file's; blanks and line ends within are passed over.
pub(crate) fn unfolded(text: &str) -> Result<Loaded, ReadError> {
    let letters: Vec<u8> = text.bytes().filter(|b| !b.is_ascii_whitespace()).collect();
    let packed = URL_SAFE_NO_PAD
        .decode(letters)
        .map_err(|_| ReadError::Damaged {
            message: "letters are missing at its end, or some were changed",
        })?;
    // Stops at the limit: a few bytes can unfold to a thousand times as many.
    let bytes =
        decompress_to_vec_zlib_with_limit(&packed, MAX_BYTES).map_err(|e| ReadError::Damaged {
            message: match e.status {
                TINFLStatus::HasMoreOutput => "it would unfold to more than any plan holds",
                TINFLStatus::Adler32Mismatch => "some letters were changed",
                _ => "it is not whole",
            },
        })?;
    read_text(text_of(&bytes)?)
}
