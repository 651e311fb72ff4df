//! Magnet and steel sizes that can be bought, and what is in hand.

use serde::{Deserialize, Serialize};

use crate::StockId;

/// What can be fitted.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Stock {
    /// Disc magnets.
    pub magnets: Vec<MagnetStock>,
    /// Steel discs.
    #[serde(default)]
    pub steel: Vec<SteelStock>,
    /// Drill bits at the desk, mm. None at all means: any bit of the metric series.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub bits_mm: Vec<f64>,
    /// Whether the prices of the packs are made up: lists and papers then say so.
    #[serde(default, skip_serializing_if = "is_false")]
    pub prices_invented: bool,
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands a reference")]
fn is_false(b: &bool) -> bool {
    !b
}

/// A disc magnet size, polarised along its axis.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct MagnetStock {
    /// Its id.
    pub id: StockId,
    /// Diameter, mm.
    pub diameter_mm: f64,
    /// Height, mm.
    pub height_mm: f64,
    /// Grade as the seller writes it, such as `N42`.
    pub grade: String,
    /// Remanence from the seller's data sheet, T, where the grade does not say enough.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub br_by_hand_t: Option<f64>,
    /// How it is sold.
    #[serde(default)]
    pub packs: Vec<Pack>,
    /// Pieces in hand.
    #[serde(default)]
    pub in_hand: u32,
}

/// A steel disc size.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SteelStock {
    /// Its id.
    pub id: StockId,
    /// Diameter, mm.
    pub diameter_mm: f64,
    /// Thickness, mm.
    pub thickness_mm: f64,
    /// How it is sold.
    #[serde(default)]
    pub packs: Vec<Pack>,
    /// Pieces in hand.
    #[serde(default)]
    pub in_hand: u32,
}

/// A pack of one size.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Pack {
    /// Pieces in it.
    pub count: u32,
    /// Its price in hundredths of the plan's currency.
    pub price_cents: u32,
}

impl Default for Stock {
    /// Common small sizes with invented prices.
    fn default() -> Self {
        let magnet = |d: f64, h: f64, ten: u32, fifty: u32| MagnetStock {
            id: StockId::new(format!("disc-{d}x{h}")),
            diameter_mm: d,
            height_mm: h,
            grade: "N42".to_owned(),
            br_by_hand_t: None,
            packs: vec![
                Pack {
                    count: 10,
                    price_cents: ten,
                },
                Pack {
                    count: 50,
                    price_cents: fifty,
                },
            ],
            in_hand: 0,
        };
        let steel = |d: f64, t: f64, ten: u32| SteelStock {
            id: StockId::new(format!("steel-{d}x{t}")),
            diameter_mm: d,
            thickness_mm: t,
            packs: vec![Pack {
                count: 10,
                price_cents: ten,
            }],
            in_hand: 0,
        };
        Self {
            magnets: vec![
                magnet(2.0, 1.0, 180, 700),
                magnet(3.0, 1.0, 200, 800),
                magnet(3.0, 2.0, 240, 950),
                magnet(4.0, 2.0, 290, 1150),
                magnet(5.0, 2.0, 350, 1400),
                magnet(6.0, 2.0, 420, 1700),
                magnet(6.0, 3.0, 520, 2100),
            ],
            steel: vec![
                steel(5.0, 1.0, 150),
                steel(6.0, 1.0, 160),
                steel(8.0, 1.0, 190),
            ],
            bits_mm: Vec::new(),
            prices_invented: true,
        }
    }
}
