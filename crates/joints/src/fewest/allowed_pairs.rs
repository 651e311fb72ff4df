//! What one joint allows: every pair of fillings of its two faces with which it does all that is asked.

use std::collections::BTreeMap;

use lodewright_choice::Demand;
use lodewright_kit::Pole;
use lodewright_solve::hold::{PegKind, bond_stress_mpa};

use super::groups::{Choice, Group};
use crate::joint_report::{let_go_of, thin_of};
use crate::pull::{End, Filling, filling_size};
use crate::context::{G_M_S2, Context};

/// A mating by the places of its holes in their groups.
struct Meeting {
    hole: [usize; 2],
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

/// The rows of a joint; `now` is what all other holes weigh. `pinned` is the same context with a friction pin in every socket where one may stand in.
pub(super) fn rows(
    context: &Context,
    pinned: Option<&Context>,
    joint: usize,
    groups: &[Group],
    now: &[Filling],
) -> Demand {
    let place = |hole: usize| {
        groups.iter().enumerate().find_map(|(g, group)| {
            let at = group.holes.iter().position(|h| *h == hole)?;
            Some((g, at))
        })
    };
    let mut meetings = Vec::new();
    let mut sides = [0, 0];
    for mate in &context.mates[joint] {
        let faces = [mate.socket_face, mate.plug_face].map(|f| &context.holes.faces[f]);
        let hole = faces.map(|f| f.hole);
        let [Some((host, a)), Some((part, b))] = hole.map(place) else {
            continue;
        };
        sides = [host, part];
        meetings.push(Meeting {
            hole,
            place: [a, b],
            unlike: !(faces[0].far ^ faces[1].far ^ mate.from_behind),
        });
    }
    let [host, part] = sides;
    let mut judge = Judge::new(context, joint, now);
    let holds_by_pin =
        pinned.is_some_and(|pinned| Judge::new(pinned, joint, now).does_empty(&meetings));
    let socket = context.board.joints[joint].socket;
    let mut rows = Vec::new();
    for (i, on_host) in groups[host].options.iter().enumerate() {
        for (j, on_part) in groups[part].options.iter().enumerate() {
            let allowed = if on_host.pins.contains(&socket) {
                // The pin alone: a magnet that meets another there would be in its way.
                holds_by_pin && meetings.iter().all(|m| !pulls(m.pair(on_host, on_part)))
            } else {
                judge.allows(&meetings, on_host, on_part)
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

/// Whether a joint does all that is asked with everything filled so.
pub(super) fn does_all(context: &Context, joint: usize, fillings: &[Filling]) -> bool {
    let judge = Judge::new(context, joint, fillings);
    judge.may_do() && judge.does()
}

/// Tries fillings of one joint.
struct Judge<'s, 'b, 'a> {
    context: &'s Context,
    joint: usize,
    /// Fillings of the whole plan, those of this joint as last tried.
    now: Vec<Filling>,
    /// Weight of the heaviest load without the joint's own pieces, N: what any filling carries at least.
    least_weight_n: f64,
    /// By what lies in each pair: many fillings differ only in pieces that meet nothing.
    known: BTreeMap<Vec<[Filling; 2]>, bool>,
}

impl<'s, 'b, 'a> Judge<'s, 'b, 'a> {
    fn new(context: &'s Context, joint: usize, now: &[Filling]) -> Self {
        let loads = context.loads.cases.iter().filter(|c| c.joint == joint);
        Self {
            context,
            joint,
            now: now.to_vec(),
            least_weight_n: loads
                .map(|c| c.mass_g / 1000.0 * G_M_S2)
                .fold(0.0, f64::max),
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
        let key: Vec<[Filling; 2]> = meetings
            .iter()
            .map(|m| {
                let pair = m.pair(host, part);
                if pulls(pair) {
                    pair
                } else {
                    [Filling::Empty; 2]
                }
            })
            .collect();
        if let Some(known) = self.known.get(&key) {
            return *known;
        }
        for (meeting, [a, b]) in meetings.iter().zip(&key) {
            self.now[meeting.hole[0]] = *a;
            self.now[meeting.hole[1]] = *b;
        }
        let good = self.may_do() && self.does();
        self.known.insert(key, good);
        good
    }

    /// Whether the joint does all that is asked with nothing in its sites.
    fn does_empty(&mut self, meetings: &[Meeting]) -> bool {
        for hole in meetings.iter().flat_map(|m| m.hole) {
            self.now[hole] = Filling::Empty;
        }
        self.may_do() && self.does()
    }

    /// Cheap tests that no good filling fails: the pulls together reach the target straight off and, without a peg, in
    /// sliding; and the hand bears them.
    fn may_do(&self) -> bool {
        let settings = &self.context.board.plan.settings;
        let sum = |end| -> f64 {
            let pulls = self.context.pulls(self.joint, &self.now, None, end);
            pulls.iter().map(|p| p.force_n).sum()
        };
        let needs_n = settings.hold_target_g * self.least_weight_n;
        let weak_n = sum(End::Weak);
        let mu = settings.friction;
        let slides = self.context.peg(self.joint).kind == PegKind::None;
        let grip_n = if slides {
            mu * weak_n / (1.0 + mu * mu).sqrt()
        } else {
            weak_n
        };
        // A hair under still counts: the sums here and there round differently.
        weak_n > 0.0
            && grip_n >= needs_n * (1.0 - 1e-9)
            && sum(End::Strong) <= settings.hand_limit_n * (1.0 + 1e-9)
    }

    /// All that is asked of the joint, cheapest questions first; pulls are remembered by the context from filling to filling.
    fn does(&self) -> bool {
        let (context, plan) = (self.context, self.context.board.plan);
        let strong = context.pulls(self.joint, &self.now, None, End::Strong);
        let part = context.board.joints[self.joint].part;
        let contact = &context.contact_mm[self.joint];
        let lets_go = thin_of(plan, part).is_none_or(|thin| {
            let_go_of(
                &thin,
                contact,
                &strong,
                context.peg(self.joint),
                &plan.settings,
            )
            .is_some_and(|case| case.lets_go)
        });
        lets_go
            && self.glue_bears()
            && context
                .loads
                .cases
                .iter()
                .filter(|c| c.joint == self.joint)
                .all(|case| {
                    let account = context.hold(case, &self.now, None);
                    account.is_ok_and(|a| a.margin_g >= plan.settings.hold_target_g)
                })
    }

    fn glue_bears(&self) -> bool {
        let plan = self.context.board.plan;
        self.context.mates[self.joint].iter().all(|mate| {
            let pull_n = self
                .context
                .mate_pull_n(mate, &self.now, None, End::Strong, 0.0);
            let holes = [mate.socket_face, mate.plug_face].map(|f| self.context.holes.faces[f].hole);
            holes.into_iter().all(|hole| {
                let Some((d, h)) = filling_size(plan, self.now[hole]) else {
                    return true;
                };
                let stress = bond_stress_mpa(pull_n.abs(), d, h).unwrap_or(0.0);
                stress * plan.settings.bond_safety <= plan.settings.glue_strength_mpa
            })
        })
    }
}
