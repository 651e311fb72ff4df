//! A numbered, checksummed text: what stands in one slot. The first line is the head, in JSON; the rest is the text.

use crc::{CRC_32_ISO_HDLC, Crc, Table};
use serde::{Deserialize, Serialize};

/// The check sum of ISO 3309, as zip and PNG use it.
const SUM: Crc<u32, Table<1>> = Crc::<u32, Table<1>>::new(&CRC_32_ISO_HDLC);

/// A state of a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Record {
    /// Counts up with every state of the plan.
    pub number: u64,
    /// When it was written, milliseconds since 1970.
    pub at_ms: f64,
    /// The plan file; empty where the plan was deleted.
    pub text: String,
}

#[derive(Serialize, Deserialize)]
struct Head {
    number: u64,
    at_ms: f64,
    bytes: usize,
    crc32: String,
}

impl Record {
    /// Whether it says that the plan was deleted.
    pub fn is_gone(&self) -> bool {
        self.text.is_empty()
    }

    /// The number in the head of one text, unchecked.
    pub fn number_of(whole: &str) -> Option<u64> {
        let (head, _) = whole.split_once('\n')?;
        serde_json::from_str::<Head>(head).ok().map(|h| h.number)
    }

    /// As one text.
    pub fn write(&self) -> String {
        let head = Head {
            number: self.number,
            at_ms: self.at_ms,
            bytes: self.text.len(),
            crc32: sum_of(&self.text),
        };
        // A head of numbers and a short text always becomes JSON.
        let head = serde_json::to_string(&head).unwrap_or_default();
        format!("{head}\n{}", self.text)
    }

    /// From one text; none where it is torn or was never a record.
    pub fn read(whole: &str) -> Option<Self> {
        let (head, text) = whole.split_once('\n')?;
        let head: Head = serde_json::from_str(head).ok()?;
        (head.bytes == text.len() && head.crc32 == sum_of(text)).then(|| Self {
            number: head.number,
            at_ms: head.at_ms,
            text: text.to_owned(),
        })
    }
}

fn sum_of(text: &str) -> String {
    format!("{:08x}", SUM.checksum(text.as_bytes()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn record(text: &str) -> Record {
        Record {
            number: 7,
            at_ms: 1_764_000_000_000.0,
            text: text.to_owned(),
        }
    }

    #[test]
    fn the_sum_is_the_published_one() {
        // Check value of CRC-32/ISO-HDLC in the catalogue of parametrised CRC algorithms.
        assert_eq!(sum_of("123456789"), "cbf43926");
    }

    #[test]
    fn what_is_written_is_read() {
        for text in ["", "a\nb", "{\"n\": 1}\n", "\u{2013} \u{1f9f2}\n\n"] {
            assert_eq!(Record::read(&record(text).write()), Some(record(text)));
        }
        assert!(record("").is_gone() && !record("x").is_gone());
    }

    #[test]
    fn every_torn_copy_is_seen() {
        let whole = record("a plan of some length, with \u{fc} in it\n").write();
        for end in (0..whole.len()).filter(|n| whole.is_char_boundary(*n)) {
            assert_eq!(Record::read(&whole[..end]), None, "cut at {end}");
        }
        assert_eq!(Record::read(&whole.replace("plan", "plum")), None);
        assert_eq!(Record::read("{\"format\": \"a plan file\"}\n"), None);
    }
}
