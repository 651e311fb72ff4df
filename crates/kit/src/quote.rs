//! What a quote adds to the work and the pieces: other costs, a margin, tax, and how long it stands.

use serde::{Deserialize, Serialize};

/// The builder's terms.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct QuoteTerms {
    /// Other costs, such as glue, paint or postage.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub extras: Vec<Extra>,
    /// Whether the kit's price is in it (not where the client brings the kit).
    pub with_kit: bool,
    /// Put on top of everything, percent.
    pub margin_percent: f64,
    /// Tax on all of it, percent.
    pub tax_percent: f64,
    /// Days for which it stands.
    pub valid_days: u32,
    /// Free words for the client.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

/// One other cost.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Extra {
    /// What it is.
    pub name: String,
    /// Hundredths of the currency.
    pub cents: u32,
}

impl Default for QuoteTerms {
    /// The kit in it, no margin, no tax, thirty days: common practice, no source.
    fn default() -> Self {
        Self {
            extras: Vec::new(),
            with_kit: true,
            margin_percent: 0.0,
            tax_percent: 0.0,
            valid_days: 30,
            note: String::new(),
        }
    }
}

impl QuoteTerms {
    /// Whether nothing was changed.
    pub fn is_usual(&self) -> bool {
        *self == Self::default()
    }
}
