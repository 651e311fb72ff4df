//! What one joint allows: every pair of fillings of its two faces with which nothing speaks against it.

use std::collections::BTreeMap;

use lodewright_assembly::JointIx;
use lodewright_choice::Demand;
use lodewright_kit::Pole;

use super::groups::{Choice, Group};
use crate::context::Context;
use crate::holes::HoleIx;
use crate::pull::{Filling, Fillings};

/// A mating by the places of its holes in their groups.
struct Meeting {
    holes: [HoleIx; 2],
    place: [usize; 2],
    /// Whether unlike poles at the two first faces attract.
    unlike: bool,
}

impl Meeting {
    fn pair(&self, host: &Choice, part: &Choice) -> [Filling; 2] {
        [host.fillings[self.place[0]], part.fillings[self.place[1]]]
    }
}

/// Whether two fillings that face each other pull or push.
fn pulls([a, b]: [Filling; 2]) -> bool {
    !matches!(
        (a, b),
        (Filling::Empty, _) | (_, Filling::Empty) | (Filling::Steel(_), Filling::Steel(_))
    )
}

/// The rows of a joint; `now` is what all other holes weigh. `pinned` is the same plan with a friction pin in every socket where one may stand in.
pub(super) fn rows(
    context: &Context,
    pinned: Option<&Context>,
    joint: JointIx,
    groups: &[Group],
    now: &Fillings,
) -> Demand {
    let place = |hole: HoleIx| {
        groups.iter().enumerate().find_map(|(g, group)| {
            let at = group.holes.iter().position(|h| *h == hole)?;
            Some((g, at))
        })
    };
    let mut meetings = Vec::new();
    let mut sides = [0, 0];
    for mate in &context.mates[joint] {
        let holes = mate.holes(&context.holes);
        let [Some((host, a)), Some((part, b))] = holes.map(place) else {
            continue;
        };
        sides = [host, part];
        let far = context.holes.faces[mate.socket_face].far;
        meetings.push(Meeting {
            holes,
            place: [a, b],
            unlike: !(far ^ mate.shows_back(&context.holes)),
        });
    }
    let [host, part] = sides;
    let mut trial = Trial::new(context, joint, now);
    let holds_by_pin = pinned.is_some_and(|p| Trial::new(p, joint, now).is_good_empty(&meetings));
    let socket = context.board.joints[joint].socket;
    let mut rows = Vec::new();
    for (i, on_host) in groups[host].options.iter().enumerate() {
        for (j, on_part) in groups[part].options.iter().enumerate() {
            let allowed = if on_host.pins.contains(&socket) {
                // The pin alone: a magnet that meets another there would be in its way.
                holds_by_pin && meetings.iter().all(|m| !pulls(m.pair(on_host, on_part)))
            } else {
                trial.allows(&meetings, on_host, on_part)
            };
            if allowed {
                rows.push(
                    [i, j]
                        .map(|o| u16::try_from(o).unwrap_or(u16::MAX))
                        .to_vec(),
                );
            }
        }
    }
    Demand {
        sites: vec![host, part],
        rows,
    }
}

/// Tries fillings of one joint.
struct Trial<'s> {
    context: &'s Context,
    joint: JointIx,
    /// Fillings of the whole plan, those of this joint as last tried.
    now: Fillings,
    /// By what lies in each pair: many fillings differ only in pieces that meet nothing.
    known: BTreeMap<Vec<[Filling; 2]>, bool>,
}

impl<'s> Trial<'s> {
    fn new(context: &'s Context, joint: JointIx, now: &Fillings) -> Self {
        Self {
            context,
            joint,
            now: now.clone(),
            known: BTreeMap::new(),
        }
    }

    fn allows(&mut self, meetings: &[Meeting], host: &Choice, part: &Choice) -> bool {
        let attracts = meetings.iter().all(|m| {
            let signs = host.signs[m.place[0]].zip(part.signs[m.place[1]]);
            signs.is_none_or(|(a, b): (Pole, Pole)| (a != b) == m.unlike)
        });
        if !attracts {
            return false;
        }
        let met = |m: &Meeting| Some(m.pair(host, part)).filter(|pair| pulls(*pair));
        let key: Vec<[Filling; 2]> = meetings
            .iter()
            .map(|m| met(m).unwrap_or_default())
            .collect();
        if let Some(known) = self.known.get(&key) {
            return *known;
        }
        for (meeting, pair) in meetings.iter().zip(&key) {
            for (hole, filling) in meeting.holes.into_iter().zip(pair) {
                self.now[hole] = *filling;
            }
        }
        let good = self.is_good();
        self.known.insert(key, good);
        good
    }

    /// The same with nothing in the joint's sites.
    fn is_good_empty(&mut self, meetings: &[Meeting]) -> bool {
        for hole in meetings.iter().flat_map(|m| m.holes) {
            self.now[hole] = Filling::Empty;
        }
        self.is_good()
    }

    fn is_good(&self) -> bool {
        let model = self.context.model(self.joint, &self.now, None);
        model.is_none_or(|m| m.is_good_so_far())
    }
}
