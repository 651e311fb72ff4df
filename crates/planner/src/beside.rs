//! Two plans side by side: their figures, and what differs between them in words.

use lodewright_joints::Filling;
use lodewright_kit::{Part, Plan, Socket, Variant};

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

/// What differs from `a` to `b`, a sentence each: entries by their ids, those that are only in one of them and those that are
/// not the same in both.
pub fn differs(a: &Plan, b: &Plan) -> Vec<String> {
    let mut said = Vec::new();
    entries(&mut said, "part", &a.parts, &b.parts, |x, y| {
        Some(part_change(x, y))
    });
    entries(&mut said, "socket", &a.sockets, &b.sockets, |x, y| {
        Some(socket_change(x, y))
    });
    entries(&mut said, "variant", &a.variants, &b.variants, |x, y| {
        variant_change(a, b, x, y)
    });
    let whole = [
        (a.stock != b.stock, "The stock is not the same."),
        (
            a.materials != b.materials,
            "The materials are not the same.",
        ),
        (
            a.finish != b.finish,
            "The coats and films are not the same.",
        ),
        (
            a.settings != b.settings,
            "The targets and tolerances are not the same.",
        ),
        (a.rates != b.rates, "The rates are not the same."),
    ];
    said.extend(
        whole
            .into_iter()
            .filter(|(differs, _)| *differs)
            .map(|(_, words)| words.to_owned()),
    );
    said
}

trait Entry: PartialEq {
    fn key(&self) -> &str;
    fn label(&self) -> &str;
}

macro_rules! entry {
    ($kind:ty) => {
        impl Entry for $kind {
            fn key(&self) -> &str {
                self.id.as_str()
            }

            fn label(&self) -> &str {
                &self.name
            }
        }
    };
}

entry!(Part);
entry!(Socket);
entry!(Variant);

fn entries<E: Entry>(
    said: &mut Vec<String>,
    kind: &str,
    a: &[E],
    b: &[E],
    change: impl Fn(&E, &E) -> Option<String>,
) {
    for x in a {
        match b.iter().find(|y| y.key() == x.key()) {
            None => said.push(format!("The {kind} {} is only in the first.", x.label())),
            Some(y) if x != y => {
                said.extend(change(x, y).map(|c| format!("The {kind} {}: {c}.", x.label())));
            }
            Some(_) => {}
        }
    }
    for y in b.iter().filter(|y| a.iter().all(|x| x.key() != y.key())) {
        said.push(format!("The {kind} {} is only in the second.", y.label()));
    }
}

/// Names what is not the same, or says that something is.
fn named(list: &[(bool, &str)]) -> String {
    let words: Vec<_> = list
        .iter()
        .filter(|(differs, _)| *differs)
        .map(|(_, word)| *word)
        .collect();
    if words.is_empty() {
        "other details".to_owned()
    } else {
        format!("another {}", words.join(", another "))
    }
}

fn part_change(x: &Part, y: &Part) -> String {
    named(&[
        (x.name != y.name, "name"),
        (x.size_mm != y.size_mm, "size"),
        (x.mass != y.mass || x.material != y.material, "mass"),
        (x.plugs != y.plugs, "mounting face"),
        (x.thin != y.thin, "thin section"),
    ])
}

fn socket_change(x: &Socket, y: &Socket) -> String {
    named(&[
        (x.name != y.name, "name"),
        (x.host != y.host, "host"),
        (x.facing != y.facing || x.at_mm != y.at_mm, "place"),
        (x.patch != y.patch, "contact"),
        (x.peg != y.peg, "peg"),
        (x.attach != y.attach, "way of holding"),
        (x.sites != y.sites, "set of sites"),
    ])
}

/// What differs in sockets that both have; the others are told by themselves.
fn variant_change(a: &Plan, b: &Plan, x: &Variant, y: &Variant) -> Option<String> {
    let both = a.sockets.iter().filter(|s| b.socket(&s.id).is_some());
    let cells = both.filter_map(|socket| {
        if x.cell(&socket.id) == y.cell(&socket.id) {
            return None;
        }
        let word = |text: String| {
            if text.is_empty() {
                "nothing".to_owned()
            } else {
                text
            }
        };
        let (from, to) = (
            word(a.cell_text(&x.id, &socket.id)),
            word(b.cell_text(&y.id, &socket.id)),
        );
        Some(format!("{} holds {from}, and {to}", socket.name))
    });
    let cells: Vec<_> = cells.collect();
    if !cells.is_empty() {
        return Some(cells.join("; "));
    }
    (x.name != y.name).then(|| named(&[(true, "name")]))
}

#[cfg(test)]
mod tests {
    use lodewright_kit::Edit;

    use super::*;
    use crate::derive;

    fn plan() -> Plan {
        Plan::empty("t")
            .edited(&Edit::PasteGrid("\tA\tB\nNose\tPlough\tHook\n".to_owned()))
            .unwrap()
    }

    #[test]
    fn a_plan_does_not_differ_from_itself() {
        assert!(differs(&plan(), &plan()).is_empty());
    }

    #[test]
    fn what_differs_is_named() {
        let mut other = plan()
            .edited(&Edit::PasteGrid("\tA\nNose\tBell\n".to_owned()))
            .unwrap();
        other.parts[1].size_mm[0] = 7.0;
        other.sockets[0].at_mm = Some([1.0, 2.0, 15.0]);
        assert_eq!(
            differs(&plan(), &other),
            [
                "The part Plough: another size.",
                "The part Bell is only in the second.",
                "The socket Nose: another place.",
                "The variant A: Nose holds Plough, and Bell.",
            ]
        );
    }

    #[test]
    fn a_socket_that_only_one_has_is_told_once() {
        let more = plan()
            .edited(&Edit::PasteGrid("\tA\nRoof\tHook\n".to_owned()))
            .unwrap();
        assert_eq!(
            differs(&plan(), &more),
            ["The socket Roof is only in the second."]
        );
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
