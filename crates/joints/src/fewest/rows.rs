//! What one joint allows: every pair of fillings of its two faces with which it does all that is asked.

use std::collections::BTreeMap;

use lodewright_choice::Demand;
use lodewright_kit::Pole;

use super::groups::{Choice, Group};
use crate::pull::Filling;
use crate::scene::Scene;
use crate::study::JointModel;

/// A mating by the places of its holes in their groups.
struct Meeting {
    hole: [usize; 2],
    place: [usize; 2],
    /// Whether unlike poles at the two first faces attract.
    unlike: bool,
}

/// The rows of a joint.
pub(super) fn rows(
    scene: &Scene<'_, '_>,
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
    for mate in &scene.mates[joint] {
        let faces = [mate.socket_face, mate.plug_face].map(|f| &scene.holes.faces[f]);
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
    let mut judge = Judge {
        scene,
        joint,
        now: now.to_vec(),
        known: BTreeMap::new(),
    };
    let mut rows = Vec::new();
    for (i, on_host) in groups[host].options.iter().enumerate() {
        for (j, on_part) in groups[part].options.iter().enumerate() {
            if judge.allows(&meetings, on_host, on_part) {
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

struct Judge<'s, 'b, 'a> {
    scene: &'s Scene<'b, 'a>,
    joint: usize,
    /// Fillings of the whole plan, those of this joint as last tried.
    now: Vec<Filling>,
    /// By what lies in each pair: many fillings differ only in pieces that meet nothing.
    known: BTreeMap<Vec<[Filling; 2]>, bool>,
}

impl Judge<'_, '_, '_> {
    fn allows(&mut self, meetings: &[Meeting], host: &Choice, part: &Choice) -> bool {
        let pair = |m: &Meeting| [host.fillings[m.place[0]], part.fillings[m.place[1]]];
        let attracts = meetings.iter().all(|m| {
            let signs = host.signs[m.place[0]].zip(part.signs[m.place[1]]);
            signs.is_none_or(|(a, b): (Pole, Pole)| (a != b) == m.unlike)
        });
        if !attracts {
            return false;
        }
        let pulls = |[a, b]: [Filling; 2]| {
            !matches!(
                (a, b),
                (Filling::Empty, _) | (_, Filling::Empty) | (Filling::Steel(_), Filling::Steel(_))
            )
        };
        let key: Vec<[Filling; 2]> = meetings
            .iter()
            .map(|m| {
                if pulls(pair(m)) {
                    pair(m)
                } else {
                    [Filling::Empty; 2]
                }
            })
            .collect();
        if key.iter().all(|p| *p == [Filling::Empty; 2]) {
            return false;
        }
        if let Some(known) = self.known.get(&key) {
            return *known;
        }
        for (meeting, [a, b]) in meetings.iter().zip(&key) {
            self.now[meeting.hole[0]] = *a;
            self.now[meeting.hole[1]] = *b;
        }
        let poles = vec![None; self.now.len()];
        let good =
            JointModel::of(self.scene, self.joint, &self.now, &poles).is_some_and(|mut model| {
                for pair in &mut model.pairs {
                    pair.attracts = true;
                }
                model.account(self.scene.board.plan).is_good()
            });
        self.known.insert(key, good);
        good
    }
}
