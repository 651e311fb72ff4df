//! What the work costs: time by kind of step, pieces, other costs, margin and tax; and what it saves.

use crate::Analysis;
use crate::words::minutes;
use lodewright_bench::StepKind;

/// A quote. Every amount is rounded by itself, so that the lines add up to the sums that stand below them.
#[derive(Clone, Debug, PartialEq)]
pub struct Quote {
    /// Work by kind.
    pub work: Vec<WorkLine>,
    /// Hands-on time of all work, min.
    pub work_min: f64,
    /// Its price, hundredths of the currency.
    pub work_cents: u64,
    /// The kit, magnets and steel, other costs.
    pub costs: Vec<CostLine>,
    /// Their price.
    pub cost_cents: u64,
    /// Margin on work and costs.
    pub margin_cents: u64,
    /// Tax on all of that.
    pub tax_cents: u64,
    /// The sum.
    pub total_cents: u64,
    /// One kit for each variant, for comparison.
    pub saving: Saving,
    /// What it rests on, in sentences.
    pub assumptions: Vec<String>,
}

/// Work of one kind.
#[derive(Clone, Debug, PartialEq)]
pub struct WorkLine {
    /// `Drilling`.
    pub what: &'static str,
    /// How many steps (changes of bit among them where it says so).
    pub count: usize,
    /// Hands-on time, min.
    pub hands_min: f64,
    /// Its price, hundredths of the currency.
    pub cents: u64,
}

/// Another cost.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CostLine {
    /// What it is.
    pub what: String,
    /// Its price, hundredths of the currency.
    pub cents: u64,
}

/// One convertible model against one kit for each variant: kits and pieces alone, no work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Saving {
    /// One kit for each variant, hundredths of the currency.
    pub kits_cents: u64,
    /// One kit and the magnets, steel and bits to buy.
    pub this_cents: u64,
}

impl Saving {
    /// What is saved; less than nothing where magnets cost more than the kits.
    pub fn saved_cents(&self) -> i64 {
        self.kits_cents as i64 - self.this_cents as i64
    }
}

const KINDS: [(StepKind, &str); 10] = [
    (StepKind::Drill, "Drilling"),
    (StepKind::DryFit, "Dry fits"),
    (StepKind::PoleCheck, "Finding poles"),
    (StepKind::CutPeg, "Cutting pegs"),
    (StepKind::GluePiece, "Gluing magnets and steel"),
    (StepKind::GlueJoint, "Gluing joints"),
    (StepKind::Mask, "Masking"),
    (StepKind::Paint, "Painting"),
    (StepKind::FinalFit, "Finished fits"),
    (StepKind::Own, "Own steps"),
];

impl Analysis {
    /// The quote.
    pub fn quote(&self) -> Quote {
        quote(self)
    }
}

/// Works the quote out.
pub(crate) fn quote(analysis: &Analysis) -> Quote {
    let (plan, order) = (analysis.plan(), analysis.order());
    let (rates, terms) = (&plan.rates, &plan.quote);
    let price = |min: f64| (min * f64::from(rates.hour_cents) / 60.0).round().max(0.0) as u64;
    let of = |kind: StepKind| order.steps.iter().filter(move |s| s.kind() == kind);
    let mut work: Vec<WorkLine> = KINDS
        .iter()
        .map(|(kind, what)| {
            let hands_min = of(*kind).map(|s| s.hands_min).sum();
            WorkLine {
                what,
                count: of(*kind).count(),
                hands_min,
                cents: price(hands_min),
            }
        })
        .filter(|l| l.count > 0)
        .collect();
    let steps_min: f64 = order.steps.iter().map(|s| s.hands_min).sum();
    let changes_min = (order.hands_min - steps_min).max(0.0);
    if changes_min > 0.05 && rates.bit_change_min > 0.0 {
        work.push(WorkLine {
            what: "Changing bits",
            count: (changes_min / rates.bit_change_min).round() as usize,
            hands_min: changes_min,
            cents: price(changes_min),
        });
    }
    let shop = analysis.shopping();
    let mut costs = Vec::new();
    if terms.with_kit && plan.kit.price_cents > 0 {
        costs.push(CostLine {
            what: "The kit".to_owned(),
            cents: plan.kit.price_cents.into(),
        });
    }
    costs.extend(shop.iter().filter(|l| l.cents > 0).map(|l| CostLine {
        what: l.what.clone(),
        cents: l.cents,
    }));
    costs.extend(terms.extras.iter().map(|e| CostLine {
        what: e.name.clone(),
        cents: e.cents.into(),
    }));
    let work_cents = work.iter().map(|l| l.cents).sum();
    let cost_cents = costs.iter().map(|l| l.cents).sum();
    let share = |cents: u64, percent: f64| (cents as f64 * percent / 100.0).round() as u64;
    let margin_cents = share(work_cents + cost_cents, terms.margin_percent);
    let tax_cents = share(work_cents + cost_cents + margin_cents, terms.tax_percent);
    let kit = u64::from(plan.kit.price_cents);
    Quote {
        work_min: work.iter().map(|l| l.hands_min).sum(),
        total_cents: work_cents + cost_cents + margin_cents + tax_cents,
        saving: Saving {
            kits_cents: kit * plan.variants.len() as u64,
            this_cents: kit + shop.iter().map(|l| l.cents).sum::<u64>(),
        },
        assumptions: assumptions(analysis),
        work,
        work_cents,
        costs,
        cost_cents,
        margin_cents,
        tax_cents,
    }
}

fn assumptions(analysis: &Analysis) -> Vec<String> {
    let plan = analysis.plan();
    let rates = &plan.rates;
    let mut list = vec![
        format!(
            "Work is counted by the step, from the builder's own rates: a hole takes {}, a glued magnet {}, a painted part {}.",
            minutes(rates.hole_min),
            minutes(rates.glue_magnet_min),
            minutes(rates.paint_part_min)
        ),
        "Only the work of making the model convertible, gluing its joints and painting the parts named here is in it; building the rest of the kit is not.".to_owned(),
        "Glue cures and paint dries meanwhile: waiting is not charged.".to_owned(),
        "Magnets and steel come in whole packs; what is in hand is used first and not charged.".to_owned(),
    ];
    if plan.variants.len() > 1 {
        let names: Vec<&str> = plan.variants.iter().map(|v| v.name.as_str()).collect();
        list.push(format!("One model that can stand as {}.", names.join(", ")));
    }
    let guessed = plan
        .parts
        .iter()
        .filter(|p| p.mass_estimate(1.0).guessed)
        .count();
    match guessed {
        0 => {}
        1 => list.push(
            "The mass of one part is guessed; weighing it may change the magnets.".to_owned(),
        ),
        n => list.push(format!(
            "The masses of {n} parts are guessed; weighing them may change the magnets."
        )),
    }
    if !analysis.contradictions().is_empty() || !analysis.nothing_fits().is_empty() {
        list.push(
            "The plan still has open questions; settling them may change the price.".to_owned(),
        );
    }
    list
}
