//! Buying list: what is in hand first, the rest in packs at least cost.

use lodewright_joints::{Context, Filling, Fillings};
use lodewright_kit::{Ix, MagnetIx, Pack, SteelIx};
use lodewright_solve::packs::{Pack as SolvePack, cheapest_packs};
use serde::Serialize;

/// One size.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BuyLine {
    /// The size: a magnet or steel of the stock.
    pub filling: Filling,
    /// Pieces that the plan uses.
    pub used: u32,
    /// Spares on top.
    pub spares: u32,
    /// Pieces in hand.
    pub in_hand: u32,
    /// Packs to buy.
    pub bought: Vec<Bought>,
    /// Their price, hundredths of the currency.
    pub cost_cents: u64,
    /// Pieces left over at the end, spares included.
    pub left_over: u32,
    /// Whether pieces are missing that no pack is known for.
    pub no_pack_known: bool,
}

/// So many of one pack.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Bought {
    /// How many packs.
    pub packs: u32,
    /// Pieces in each.
    pub count: u32,
    /// Price of each, hundredths of the currency.
    pub price_cents: u32,
}

/// The whole list.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct BuyList {
    /// By size.
    pub lines: Vec<BuyLine>,
    /// Price of all, hundredths of the currency.
    pub cost_cents: u64,
}

/// Lists what to buy.
pub fn buy_list(context: &Context, fillings: &Fillings) -> BuyList {
    let plan = context.plan();
    let magnets = MagnetIx::each(&plan.stock.magnets);
    let steel = SteelIx::each(&plan.stock.steel);
    let sizes = magnets
        .map(|(i, m)| (Filling::Magnet(i), m.in_hand, m.packs.as_slice()))
        .chain(steel.map(|(i, s)| (Filling::Steel(i), s.in_hand, s.packs.as_slice())));
    let lines: Vec<BuyLine> = sizes
        .filter_map(|(filling, in_hand, packs)| {
            let used = fillings.values().iter().filter(|f| **f == filling).count() as u32;
            let spares = (f64::from(used) * plan.settings.spare_percent / 100.0).ceil() as u32;
            (used > 0).then(|| line(filling, used, spares, in_hand, packs))
        })
        .collect();
    BuyList {
        cost_cents: lines.iter().map(|l| l.cost_cents).sum(),
        lines,
    }
}

fn line(filling: Filling, used: u32, spares: u32, in_hand: u32, packs: &[Pack]) -> BuyLine {
    let need = (used + spares).saturating_sub(in_hand);
    let offers: Vec<_> = packs
        .iter()
        .map(|p| SolvePack {
            count: p.count,
            price_cents: p.price_cents.into(),
        })
        .collect();
    let purchase = if need == 0 {
        None
    } else {
        cheapest_packs(&offers, need).ok()
    };
    let bought: Vec<Bought> = purchase
        .iter()
        .flat_map(|p| p.packs.iter().zip(packs))
        .filter(|(n, _)| **n > 0)
        .map(|(n, pack)| Bought {
            packs: *n,
            count: pack.count,
            price_cents: pack.price_cents,
        })
        .collect();
    let pieces: u32 = bought.iter().map(|b| b.packs * b.count).sum();
    BuyLine {
        filling,
        used,
        spares,
        in_hand,
        cost_cents: purchase.as_ref().map_or(0, |p| p.total_cents),
        left_over: (in_hand + pieces).saturating_sub(used),
        no_pack_known: need > 0 && purchase.is_none(),
        bought,
    }
}
