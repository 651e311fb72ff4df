//! What a plan comes to in a few figures, to stand beside another plan's.

use lodewright_joints::Filling;

use crate::Answers;

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

/// The figures of a plan's answers.
pub fn figures(answers: &Answers) -> Figures {
    let filled =
        |wanted: fn(&Filling) -> bool| answers.fillings.iter().filter(|f| wanted(f)).count();
    let weakest = answers
        .weakest
        .iter()
        .flatten()
        .min_by(|a, b| a.margin_g.total_cmp(&b.margin_g));
    Figures {
        magnets: filled(|f| matches!(f, Filling::Magnet(_))),
        steel: filled(|f| matches!(f, Filling::Steel(_))),
        separable: answers
            .joints
            .iter()
            .filter(|j| j.separable_since.is_some())
            .count(),
        cost_cents: answers.buy.cost_cents,
        hands_min: answers.order.hands_min,
        weakest: weakest.map(|w| {
            let words = answers.joints.get(w.joint).map(|j| j.words.clone());
            (w.margin_g, words.unwrap_or_default())
        }),
        contradictions: answers.contradictions.len(),
        models: answers.models,
    }
}

#[cfg(test)]
mod tests {
    use lodewright_kit::{Edit, Plan};

    use super::*;
    use crate::derive;

    fn plan() -> Plan {
        Plan::empty("t")
            .edited(&Edit::PasteGrid("\tA\tB\nNose\tPlough\tHook\n".to_owned()))
            .unwrap()
    }

    #[test]
    fn figures_are_those_of_the_answers() {
        let answers = derive(&plan()).unwrap();
        let f = figures(&answers);
        assert_eq!((f.magnets, f.separable, f.contradictions), (3, 2, 0));
        assert_eq!(f.models, Some(2));
        assert!(f.weakest.is_some() && f.cost_cents == answers.buy.cost_cents);
    }
}
