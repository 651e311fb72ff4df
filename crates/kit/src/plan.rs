//! The plan itself.

use serde::{Deserialize, Serialize};

use crate::{
    Backdrop, Finish, Ix as _, Material, MaterialId, OwnWork, Part, PartId, PartIx, Progress,
    QuoteTerms, Rates, Settings, Socket, SocketId, SocketIx, Stock, Stowing, Variant, VariantId,
    VariantIx,
};

/// Everything that the builder has said: the ground from which all answers are computed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Plan {
    /// The plan's title.
    pub title: String,
    /// Free words, such as where the data come from.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// The box.
    pub kit: KitBox,
    /// The part that everything else sits on.
    pub base: PartId,
    /// Parts that take part in the change of variants, the base among them.
    pub parts: Vec<Part>,
    /// Sockets.
    pub sockets: Vec<Socket>,
    /// Variants.
    pub variants: Vec<Variant>,
    /// Magnets, steel, bits.
    #[serde(default)]
    pub stock: Stock,
    /// Materials.
    #[serde(default = "Material::usual")]
    pub materials: Vec<Material>,
    /// Coats and films.
    #[serde(default)]
    pub finish: Finish,
    /// Targets and tolerances.
    #[serde(default)]
    pub settings: Settings,
    /// Minutes and money.
    #[serde(default)]
    pub rates: Rates,
    /// The builder's own hand in the order of work.
    #[serde(default, skip_serializing_if = "OwnWork::is_empty")]
    pub own_work: OwnWork,
    /// Terms of a quote.
    #[serde(default, skip_serializing_if = "QuoteTerms::is_usual")]
    pub quote: QuoteTerms,
    /// Room for loose parts.
    #[serde(default, skip_serializing_if = "Stowing::is_usual")]
    pub stowing: Stowing,
    /// What is done.
    #[serde(default)]
    pub progress: Progress,
    /// A picture behind the drawing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub backdrop: Option<Backdrop>,
}

/// The kit as bought.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct KitBox {
    /// What the box says.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub name: String,
    /// Scale as a denominator: 32 for 1:32; 0 where not said.
    #[serde(default)]
    pub scale: u32,
    /// What one such kit costs, hundredths of the currency.
    #[serde(default)]
    pub price_cents: u32,
}

impl Plan {
    /// A plan with a base part and nothing else.
    ///
    /// ```
    /// use lodewright_kit::Plan;
    ///
    /// let plan = Plan::empty("Works railcar");
    /// assert_eq!(plan.parts[0].id, plan.base);
    /// assert!(plan.problems().is_empty());
    /// ```
    pub fn empty(title: impl Into<String>) -> Self {
        let mut base = Part::plain(PartId::new("base"), "Base".to_owned());
        base.plugs.clear();
        base.size_mm = [80.0, 40.0, 30.0];
        Self {
            title: title.into(),
            note: String::new(),
            kit: KitBox::default(),
            base: base.id.clone(),
            parts: vec![base],
            sockets: Vec::new(),
            variants: Vec::new(),
            stock: Stock::default(),
            materials: Material::usual(),
            finish: Finish::default(),
            settings: Settings::default(),
            rates: Rates::default(),
            own_work: OwnWork::default(),
            quote: QuoteTerms::default(),
            stowing: Stowing::default(),
            progress: Progress::default(),
            backdrop: None,
        }
    }

    /// The part of this id.
    pub fn part(&self, id: &PartId) -> Option<&Part> {
        self.parts.iter().find(|p| p.id == *id)
    }

    /// The socket of this id.
    pub fn socket(&self, id: &SocketId) -> Option<&Socket> {
        self.sockets.iter().find(|s| s.id == *id)
    }

    /// The variant of this id.
    pub fn variant(&self, id: &VariantId) -> Option<&Variant> {
        self.variants.iter().find(|v| v.id == *id)
    }

    /// The label of the variant at this place in the list; empty where there is none.
    pub fn variant_name(&self, index: usize) -> &str {
        self.variants.get(index).map_or("", |v| &v.name)
    }

    /// Where the part of this id stands.
    pub fn part_ix(&self, id: &PartId) -> Option<PartIx> {
        PartIx::find(&self.parts, |p| p.id == *id)
    }

    /// Where the socket of this id stands.
    pub fn socket_ix(&self, id: &SocketId) -> Option<SocketIx> {
        SocketIx::find(&self.sockets, |s| s.id == *id)
    }

    /// Where the variant of this id stands.
    pub fn variant_ix(&self, id: &VariantId) -> Option<VariantIx> {
        VariantIx::find(&self.variants, |v| v.id == *id)
    }

    /// The material of this id.
    pub fn material(&self, id: &MaterialId) -> Option<&Material> {
        self.materials.iter().find(|m| m.id == *id)
    }

    /// Everything that does not fit together, worst first; see [`crate::Problem`].
    pub fn problems(&self) -> Vec<crate::Problem> {
        crate::validate::problems(self)
    }
}
