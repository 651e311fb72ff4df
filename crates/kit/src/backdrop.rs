//! A picture behind the drawing, to trace over: kept small, and within the plan, never an address elsewhere.

use std::borrow::Cow;
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use crate::variant::is_false;
use crate::{Facing, Plan};

/// A picture laid behind the drawing of one side.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Backdrop {
    /// The picture.
    #[cfg_attr(feature = "schema", schemars(with = "String"))]
    pub picture: Picture,
    /// The side that it shows.
    pub seen_from: Facing,
    /// Its middle in the axes of that side, mm.
    pub middle_mm: [f64; 2],
    /// Its width, mm.
    pub width_mm: f64,
    /// Its height, mm.
    pub height_mm: f64,
    /// Whether it is left out of files that are handed on.
    #[serde(default, skip_serializing_if = "is_false")]
    pub stays_here: bool,
}

impl Backdrop {
    /// Moved over the drawing, to a tenth of a millimetre.
    pub fn moved(&self, by_mm: [f64; 2]) -> Self {
        let tenth = |v: f64| (v * 10.0).round() / 10.0;
        Self {
            middle_mm: std::array::from_fn(|k| tenth(self.middle_mm[k] + by_mm[k])),
            ..self.clone()
        }
    }

    /// Made `factor` times as large about a place that stays, to a hundredth of a millimetre.
    pub fn scaled(&self, about_mm: [f64; 2], factor: f64) -> Self {
        let hundredth = |v: f64| (v * 100.0).round() / 100.0;
        Self {
            middle_mm: std::array::from_fn(|k| {
                hundredth(about_mm[k] + (self.middle_mm[k] - about_mm[k]) * factor)
            }),
            width_mm: hundredth(self.width_mm * factor),
            height_mm: hundredth(self.height_mm * factor),
            ..self.clone()
        }
    }
}

/// A JPEG or PNG picture as a data address (RFC 2397) in base64. Shared between the states of a plan, since it is the largest
/// thing in it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(from = "String", into = "String")]
pub struct Picture(Arc<str>);

impl From<String> for Picture {
    fn from(text: String) -> Self {
        Self(text.into())
    }
}

impl From<Picture> for String {
    fn from(picture: Picture) -> Self {
        picture.0.as_ref().to_owned()
    }
}

/// How a picture may begin: its kind, and the first bytes of such a file (JPEG: ISO/IEC 10918-1, start of image and a marker;
/// PNG: W3C PNG specification, signature) in base64.
const BEGINNINGS: [&str; 2] = [
    "data:image/jpeg;base64,/9j/",
    "data:image/png;base64,iVBORw0KGgo",
];

impl Picture {
    /// The address, for an image element.
    pub fn address(&self) -> &str {
        &self.0
    }

    /// Whether it is a JPEG or PNG picture within the plan and nothing else; how long it may be is a limit of the plan.
    pub fn is_legal(&self) -> bool {
        let plain = |b: u8| b.is_ascii_alphanumeric() || matches!(b, b'+' | b'/' | b'=');
        BEGINNINGS.iter().any(|start| self.0.starts_with(start))
            && self
                .0
                .split_once(',')
                .is_some_and(|(_, data)| data.bytes().all(plain))
    }
}

impl Plan {
    /// The plan as it is handed on: without a picture that is to stay here.
    pub fn handed_on(&self) -> Cow<'_, Self> {
        match &self.backdrop {
            Some(backdrop) if backdrop.stays_here => Cow::Owned(Self {
                backdrop: None,
                ..self.clone()
            }),
            _ => Cow::Borrowed(self),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Edit, limits};

    fn backdrop(address: &str) -> Backdrop {
        Backdrop {
            picture: Picture::from(address.to_owned()),
            seen_from: Facing::Left,
            middle_mm: [0.0; 2],
            width_mm: 100.0,
            height_mm: 50.0,
            stays_here: false,
        }
    }

    fn taken(backdrop: Backdrop) -> Result<Plan, crate::Refusal> {
        Plan::empty("t").edited(&Edit::PutBackdrop(Some(Box::new(backdrop))))
    }

    const GOOD: &str = "data:image/jpeg;base64,/9j/4AAQSkZJRg==";

    #[test]
    fn only_pictures_within_the_plan_are_taken() {
        assert!(taken(backdrop(GOOD)).is_ok());
        assert!(taken(backdrop("data:image/png;base64,iVBORw0KGgoAAAA=")).is_ok());
        for bad in [
            "",
            "https://example.org/a.jpg",
            "data:image/svg+xml;base64,PHN2Zz4=",
            "data:text/html;base64,/9j/",
            "data:image/jpeg;base64,iVBORw0KGgo",
            "data:image/jpeg;base64,/9j/\"onload=",
            "data:image/jpeg,/9j/",
        ] {
            let message = taken(backdrop(bad)).unwrap_err().to_string();
            assert!(message.contains("JPEG or PNG"), "{message}");
        }
    }

    #[test]
    fn a_picture_that_is_too_large_is_refused_with_its_size() {
        let long = format!("{GOOD}{}", "A".repeat(limits::PICTURE));
        let message = taken(backdrop(&long)).unwrap_err().to_string();
        assert!(message.contains(&limits::PICTURE.to_string()), "{message}");
    }

    #[test]
    fn a_picture_is_moved_and_scaled_about_a_place_that_stays() {
        let b = Backdrop {
            middle_mm: [10.0, 0.0],
            ..backdrop(GOOD)
        };
        let next = b.scaled([-10.0, 5.0], 2.0);
        assert_eq!(next.middle_mm, [30.0, -5.0]);
        assert_eq!((next.width_mm, next.height_mm), (200.0, 100.0));
        assert_eq!(b.moved([1.04, -2.0]).middle_mm, [11.0, -2.0]);
    }

    #[test]
    fn a_picture_that_stays_here_is_not_handed_on() {
        let plan = taken(backdrop(GOOD)).unwrap();
        assert_eq!(*plan.handed_on(), plan);
        let mut here = plan;
        here.backdrop.as_mut().unwrap().stays_here = true;
        assert_eq!(here.handed_on().backdrop, None);
        assert_eq!(here.handed_on().parts, here.parts);
    }
}
