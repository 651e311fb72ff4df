//! What a plan comes to in a few figures, to stand beside another plan's.

use lodewright_joints::Filling;

use crate::Analysis;

/// What a plan comes to, in a few figures.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures {
    /// Magnets that go in.
    pub magnets: usize,
    /// Pieces of steel that go in.
    pub steel: usize,
    /// Joints that come apart.
    pub separable: usize,
    /// What is to be bought, hundredths of the currency.
    pub cost_cents: u64,
    /// Work of the hands, minutes.
    pub hands_min: f64,
    /// The least margin of any joint in any variant, multiples of the weight, with the joint in words.
    pub weakest: Option<(f64, String)>,
    /// Sets of poles that cannot all attract.
    pub contradictions: usize,
    /// Distinct legal models; `None` where there are too many to count.
    pub models: Option<u128>,
}

impl Analysis {
    /// The figures of the plan.
    pub fn figures(&self) -> Figures {
        let steel = self.fillings().values().iter();
        let separable = self.glue().separable.values().iter();
        Figures {
            magnets: self.magnets(),
            steel: steel.filter(|f| matches!(f, Filling::Steel(_))).count(),
            separable: separable.flatten().count(),
            cost_cents: self.buy().cost_cents,
            hands_min: self.order().hands_min,
            weakest: self
                .weakest_of_all()
                .map(|w| (w.margin_x_weight, self.joint_words(w.joint))),
            contradictions: self.contradictions().len(),
            models: self.models(),
        }
    }
}

#[cfg(test)]
mod tests {
    use lodewright_kit::{Edit, Plan};

    use super::*;

    fn plan() -> Plan {
        Plan::empty("t")
            .edited(&Edit::PasteGrid("\tA\tB\nNose\tPlough\tHook\n".to_owned()))
            .unwrap()
    }

    #[test]
    fn figures_are_those_of_the_answers() {
        let analysis = Analysis::of(plan()).unwrap();
        let f = analysis.figures();
        assert_eq!((f.magnets, f.separable, f.contradictions), (3, 2, 0));
        assert_eq!(f.models, Some(2));
        assert!(f.weakest.is_some() && f.cost_cents == analysis.buy().cost_cents);
    }
}
