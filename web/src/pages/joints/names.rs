//! Words for joints, holes and what is in them, and the word by which a joint is picked out in the address.

use lodewright_planner::joints::{Filling, HoleIx};
use lodewright_planner::kit::{Part, Plan, Plug, Pole, Socket};
use lodewright_planner::{Analysis, JointAnswer, JointIx};

use crate::format::{fixed, number};

/// The socket, part and plug of a joint of this plan.
pub fn sides<'p>(plan: &'p Plan, joint: &JointAnswer) -> (&'p Socket, &'p Part, &'p Plug) {
    let part = &plan.parts[joint.joint.part];
    (
        &plan.sockets[joint.joint.socket],
        part,
        &part.plugs[joint.joint.plug],
    )
}

/// A joint as a word: `socket/part/plug`, with `@degrees` and `+over` where it is turned or turned over.
pub fn joint_key(plan: &Plan, joint: &JointAnswer) -> String {
    let (socket, part, plug) = sides(plan, joint);
    let pose = joint.joint.pose;
    let turn = if pose.turn_deg == 0.0 {
        String::new()
    } else {
        format!("@{}", pose.turn_deg)
    };
    let over = if pose.over { "+over" } else { "" };
    format!("{}/{}/{}{turn}{over}", socket.id, part.id, plug.id)
}

/// The joint that a word picks out.
pub fn find_joint(analysis: &Analysis, key: &str) -> Option<JointIx> {
    let plan = analysis.plan();
    if key.is_empty() {
        return None;
    }
    let named = |key: &str| {
        let mut all = analysis.joints().values().iter();
        all.find(|j| joint_key(plan, j) == key).map(|j| j.at)
    };
    // Browsers may write some marks of an address as numbers.
    named(key).or_else(|| named(&key.replace("%40", "@").replace("%2B", "+")))
}

/// The pose in words; empty for a part that sits straight.
pub fn pose_words(joint: &JointAnswer) -> String {
    let pose = joint.joint.pose;
    let turn = (pose.turn_deg != 0.0).then(|| format!("turned {}\u{b0}", number(pose.turn_deg)));
    let over = pose.over.then(|| "turned over".to_owned());
    [turn, over]
        .into_iter()
        .flatten()
        .collect::<Vec<_>>()
        .join(", ")
}

/// What is in a hole, with its size: `magnet 5 × 2 mm, N42`.
pub fn piece_words(plan: &Plan, filling: Filling) -> String {
    let size = |d: f64, h: f64| format!("{}\u{a0}\u{d7}\u{a0}{}\u{a0}mm", number(d), number(h));
    match filling {
        Filling::Empty => "nothing".to_owned(),
        Filling::Magnet(i) => {
            let m = &plan.stock.magnets[i];
            format!("magnet {}, {}", size(m.diameter_mm, m.height_mm), m.grade)
        }
        Filling::Steel(i) => {
            let s = &plan.stock.steel[i];
            format!("steel {}", size(s.diameter_mm, s.thickness_mm))
        }
    }
}

/// A hole in words: `hole a at Nose, in Railcar hull`.
pub fn hole_words(d: &Analysis, hole: HoleIx) -> String {
    let words = d.hole_words(hole);
    format!("{} in {}", words.place(), words.part)
}

/// A pole in words.
pub fn pole_out(pole: Pole) -> &'static str {
    match pole {
        Pole::N => "N out",
        Pole::S => "S out",
    }
}

/// A multiple of the weight, cut and not rounded, so that it never promises more than was found.
pub fn times(margin_x_weight: f64) -> String {
    match margin_x_weight.max(0.0) {
        m if !m.is_finite() || m > 999.0 => "over 999".to_owned(),
        m if m >= 10.0 => fixed(m.floor(), 0),
        m => fixed((m * 10.0 + 1e-9).floor() / 10.0, 1),
    }
}

/// A force, N.
pub fn newtons(force_n: f64) -> String {
    let digits = if force_n.abs() < 0.0995 { 3 } else { 2 };
    format!("{}\u{a0}N", fixed(force_n, digits))
}

/// A mass, g.
pub fn grams(mass_g: f64) -> String {
    let digits = if mass_g.abs() < 9.95 { 1 } else { 0 };
    format!("{}\u{a0}g", fixed(mass_g, digits))
}

/// A length, mm.
pub fn millimetres(length_mm: f64) -> String {
    format!("{}\u{a0}mm", number((length_mm * 1000.0).round() / 1000.0))
}

/// The side of the host that an in-plane direction of a socket points to.
pub fn side_word(plan: &Plan, socket: &Socket, in_plane: [f64; 2]) -> &'static str {
    plan.part(&socket.host)
        .map_or("", |host| socket.side_of_host(host, in_plane).way())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pages::joints::samples;

    #[test]
    fn every_joint_is_found_by_its_word_and_no_two_share_one() {
        for plan in samples::plans() {
            let analysis = Analysis::of(plan.clone()).unwrap();
            for (i, joint) in analysis.joints().iter() {
                let key = joint_key(&plan, joint);
                assert_eq!(find_joint(&analysis, &key), Some(i), "{key}");
            }
            assert_eq!(find_joint(&analysis, ""), None);
            assert_eq!(find_joint(&analysis, "no/such/joint"), None);
        }
    }

    #[test]
    fn margins_are_cut_not_rounded() {
        for (margin_x_weight, said) in [
            (2.99, "2.9"),
            (3.0, "3.0"),
            (0.3, "0.3"),
            (12.9, "12"),
            (-1.0, "0.0"),
            (f64::INFINITY, "over 999"),
        ] {
            assert_eq!(times(margin_x_weight), said, "{margin_x_weight}");
        }
    }

    #[test]
    fn small_forces_keep_their_digits() {
        assert_eq!(newtons(0.0421), "0.042\u{a0}N");
        assert_eq!(newtons(1.239), "1.24\u{a0}N");
        assert_eq!(grams(4.31), "4.3\u{a0}g");
        assert_eq!(grams(43.1), "43\u{a0}g");
    }
}
