//! Steps of the work, holes and sizes as sentences for the builder: the same words on a screen and on paper.

use lodewright_bench::{DrillFrom, DrillLine, StepKind, WorkStep};
use lodewright_joints::{Face, Filling};
use lodewright_kit::{Plan, Pole};
use tiny_sort::stable::sort_by_key;

use crate::answers::Answers;

/// One step in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StepWords {
    /// What to do, in one sentence.
    pub title: String,
    /// The same below a heading that says the kind of step and the bit: what is different from the step before.
    pub short: String,
    /// How, and what to look out for.
    pub detail: String,
}

/// Where one face of a hole is.
#[derive(Clone, Debug, PartialEq)]
pub struct FaceWords {
    /// The socket that it is on, or the sockets that its mounting face meets: `Nose, hole a`.
    pub place: String,
    /// Whether it is on a mounting face: its coordinates are then seen through the part, onto the socket.
    pub through_part: bool,
    /// Coordinates in the mating plane, mm.
    pub at_mm: [f64; 2],
    /// The pole that shows there.
    pub pole: Option<Pole>,
}

/// Where a hole is.
#[derive(Clone, Debug, PartialEq)]
pub struct HoleWords {
    /// The part that it is drilled in.
    pub part: String,
    /// The faces that it shows, the first one first; two for a hole that goes right through.
    pub faces: Vec<FaceWords>,
}

impl HoleWords {
    /// The place of its first face.
    pub fn place(&self) -> &str {
        self.faces.first().map_or("hole", |f| &f.place)
    }

    /// `Plough, face to Nose, hole 1`.
    pub fn said(&self) -> String {
        format!("{}, {}", self.part, self.place())
    }
}

/// A length without noise: at most two digits behind the point.
pub fn mm(value: f64) -> String {
    let rounded = (value * 100.0).round() / 100.0;
    // Minus zero would show its sign.
    format!("{}", if rounded == 0.0 { 0.0 } else { rounded })
}

/// ` (0.201 in)` where the plan says inches too; exact, 1 in = 25.4 mm.
pub fn inch_words(plan: &Plan, value_mm: f64) -> String {
    if plan.settings.inches {
        format!(" ({})", lodewright_bench::inch_name(value_mm))
    } else {
        String::new()
    }
}

/// Minutes as a builder says them: `2 min`, `1 h 30 min`, `24 h`.
pub fn minutes(min: f64) -> String {
    let half = (min.max(0.0) * 2.0).round() / 2.0;
    if half < 60.0 {
        return format!("{half} min");
    }
    let (hours, rest) = ((half / 60.0).floor(), (half % 60.0).round());
    if rest == 0.0 {
        format!("{hours} h")
    } else {
        format!("{hours} h {rest} min")
    }
}

/// What goes into a hole: `5 × 2 mm N42 magnet`.
pub fn filling_words(plan: &Plan, filling: Filling) -> String {
    let size = |d, h| format!("{} × {} mm", mm(d), mm(h));
    let found = match filling {
        Filling::Empty => None,
        Filling::Magnet(i) => plan
            .stock
            .magnets
            .get(i)
            .map(|m| format!("{} {} magnet", size(m.diameter_mm, m.height_mm), m.grade)),
        Filling::Steel(i) => plan
            .stock
            .steel
            .get(i)
            .map(|s| format!("{} steel disc", size(s.diameter_mm, s.thickness_mm))),
    };
    found.unwrap_or_else(|| "nothing".to_owned())
}

/// Where a hole is, by index.
pub fn hole_words(plan: &Plan, answers: &Answers, hole: usize) -> HoleWords {
    let Some(found) = answers.holes.holes.get(hole) else {
        return HoleWords {
            part: "No part".to_owned(),
            faces: Vec::new(),
        };
    };
    let name = found.label.rsplit('/').next().unwrap_or("1");
    let first = answers.poles.get(hole).copied().flatten();
    let mut faces: Vec<&Face> = answers
        .holes
        .faces
        .iter()
        .filter(|f| f.hole == hole)
        .collect();
    sort_by_key(&mut faces, |f| f.far);
    HoleWords {
        part: part_name(plan, Some(found.part)),
        faces: faces
            .into_iter()
            .map(|face| FaceWords {
                place: format!("{}, hole {name}", face_words(plan, answers, face)),
                through_part: !face.on_socket,
                at_mm: face.at_mm,
                pole: first.map(|p| if face.far { p.other() } else { p }),
            })
            .collect(),
    }
}

fn face_words(plan: &Plan, answers: &Answers, face: &Face) -> String {
    if face.on_socket {
        return socket_name(plan, face.owner);
    }
    let mut met: Vec<String> = Vec::new();
    for joint in answers.joints.iter().map(|j| j.joint) {
        let name = socket_name(plan, joint.socket);
        if joint.part == face.owner && joint.plug == face.plug && !met.contains(&name) {
            met.push(name);
        }
    }
    match met.is_empty() {
        true => "mounting face".to_owned(),
        false => format!("face to {}", all_of(&met)),
    }
}

/// `a`, `a and b`, `a, b and c`.
pub fn all_of(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

fn part_name(plan: &Plan, part: Option<usize>) -> String {
    let part = part.and_then(|p| plan.parts.get(p));
    part.map_or_else(|| "the part".to_owned(), |p| p.name.clone())
}

fn socket_name(plan: &Plan, socket: usize) -> String {
    let socket = plan.sockets.get(socket);
    socket.map_or_else(|| "the socket".to_owned(), |s| s.name.clone())
}

/// Where a hole is drilled from.
pub fn from_words(from: DrillFrom) -> &'static str {
    match from {
        DrillFrom::MatingFace => "from the mating face",
        DrillFrom::Inside => "from inside, towards the mating face",
        DrillFrom::Through => "right through",
    }
}

/// Which pole shows where: `N out`; `N at Locker left, S at Locker right` for a hole that goes right through; nothing
/// for steel.
pub fn pole_words(hole: &HoleWords) -> String {
    let shown: Vec<String> = match hole.faces.as_slice() {
        [face] => face
            .pole
            .iter()
            .map(|p| format!("{} out", p.letter()))
            .collect(),
        faces => faces
            .iter()
            .filter_map(|f| Some(format!("{} at {}", f.pole?.letter(), f.place)))
            .collect(),
    };
    shown.join(", ")
}

/// One step of the work in words.
pub fn step_words(plan: &Plan, answers: &Answers, step: &WorkStep) -> StepWords {
    let (title, detail) = match step.kind {
        StepKind::Drill => drill(plan, answers, step),
        StepKind::DryFit => (
            format!("Put {} together without glue.", variant_name(plan, step)),
            "Every part must seat, and every hole must face its mate. Put right now what does not: gluing comes next."
                .to_owned(),
        ),
        StepKind::PoleCheck => pole_check(plan, answers, step),
        StepKind::CutPeg => (
            format!("Cut the peg off {}.", part_name(plan, step.part)),
            "Leave a little, then sand it flush: a peg that is off cannot be put back.".to_owned(),
        ),
        StepKind::GluePiece => glue_piece(plan, answers, step),
        StepKind::GlueJoint => glue_joint(plan, answers, step),
        StepKind::Mask => mask(plan, answers, step),
        StepKind::Paint => paint(plan, answers, step),
        StepKind::Own => (own_name(step), String::new()),
        StepKind::FinalFit => (
            format!("Put {} together, finished.", variant_name(plan, step)),
            "Over something soft: turn it upside down, give it a shake, take every part off once and put it back."
                .to_owned(),
        ),
    };
    let title = match &step.name {
        Some(go) if step.kind != StepKind::Own => format!("{go}: {title}"),
        _ => title,
    };
    let short = short(plan, answers, step);
    StepWords {
        short: match &step.name {
            Some(go) if step.kind != StepKind::Own => format!("{short}: {go}"),
            _ => short,
        },
        title,
        detail,
    }
}

fn short(plan: &Plan, answers: &Answers, step: &WorkStep) -> String {
    let hole = || hole_of(plan, answers, step);
    let with_poles = |hole: &HoleWords| match pole_words(hole).as_str() {
        "" => String::new(),
        poles => format!(": {poles}"),
    };
    match step.kind {
        StepKind::Drill => match drill_of(answers, step) {
            Some(line) => format!("{}: {}", hole().said(), depth_words(line)),
            None => hole().said(),
        },
        StepKind::PoleCheck | StepKind::GluePiece => {
            let hole = hole();
            format!(
                "{}, {}{}",
                hole.said(),
                piece(plan, answers, step),
                with_poles(&hole)
            )
        }
        StepKind::DryFit | StepKind::FinalFit => variant_name(plan, step),
        StepKind::CutPeg => part_name(plan, step.part),
        StepKind::GlueJoint => glue_joint(plan, answers, step).0,
        StepKind::Mask => mask(plan, answers, step).0,
        StepKind::Paint => all_of(&painted(plan, answers, step)),
        StepKind::Own => own_name(step),
    }
}

fn own_name(step: &WorkStep) -> String {
    step.name
        .clone()
        .unwrap_or_else(|| "A step of your own.".to_owned())
}

fn variant_name(plan: &Plan, step: &WorkStep) -> String {
    let variant = step.variant.and_then(|v| plan.variants.get(v));
    variant.map_or_else(|| "the variant".to_owned(), |v| v.name.clone())
}

/// The drill line of a step's hole.
pub fn drill_of<'a>(answers: &'a Answers, step: &WorkStep) -> Option<&'a DrillLine> {
    answers.drills.iter().find(|d| Some(d.hole) == step.hole)
}

fn hole_of(plan: &Plan, answers: &Answers, step: &WorkStep) -> HoleWords {
    hole_words(plan, answers, step.hole.unwrap_or(usize::MAX))
}

fn drill(plan: &Plan, answers: &Answers, step: &WorkStep) -> (String, String) {
    let hole = hole_of(plan, answers, step);
    let Some(line) = drill_of(answers, step) else {
        return (format!("Drill {}.", hole.said()), String::new());
    };
    let depth = depth_words(line);
    let mut detail = match line.pilots_mm.as_slice() {
        [] => String::new(),
        pilots => format!("First {} mm. ", list_mm(pilots)),
    };
    match line.from {
        DrillFrom::Inside => detail.push_str(&format!(
            "Stop with {} mm of wall left: the point of a twist bit reaches {} mm ahead, so finish the bottom with a flat cutter.",
            mm(line.wall_left_mm),
            mm(line.point_mm)
        )),
        DrillFrom::MatingFace => detail.push_str(&format!(
            "The depth counts to the full diameter; the point goes {} mm further.",
            mm(line.point_mm)
        )),
        DrillFrom::Through => detail.push_str("Back the part with scrap, so that the edge does not break out."),
    }
    (
        format!(
            "Drill {}: {} mm bit, {depth}.",
            hole.said(),
            mm(line.bit_mm)
        ),
        detail,
    )
}

/// `2.1 mm deep from inside`.
fn depth_words(line: &DrillLine) -> String {
    match line.from {
        DrillFrom::Through => "right through".to_owned(),
        DrillFrom::Inside => format!("{} mm deep from inside", mm(line.depth_mm)),
        DrillFrom::MatingFace => format!("{} mm deep", mm(line.depth_mm)),
    }
}

/// `1, 2.5 and 4`.
pub fn list_mm(values: &[f64]) -> String {
    let words: Vec<String> = values.iter().map(|v| mm(*v)).collect();
    all_of(&words)
}

fn piece(plan: &Plan, answers: &Answers, step: &WorkStep) -> String {
    let filling = step.hole.and_then(|h| answers.fillings.get(h)).copied();
    filling_words(plan, filling.unwrap_or_default())
}

fn pole_check(plan: &Plan, answers: &Answers, step: &WorkStep) -> (String, String) {
    let (hole, piece) = (hole_of(plan, answers, step), piece(plan, answers, step));
    let title = match pole_words(&hole).as_str() {
        "" => format!("Mark a pole on the {piece} for {}.", hole.said()),
        poles => format!("Mark the {piece} for {}: {poles}.", hole.said()),
    };
    let detail = "Hold it to a magnet whose N side you have marked: what it pulls is S. Dot the side that will face out. The very first may be called N on either side: what counts is that all agree.";
    (title, detail.to_owned())
}

fn glue_piece(plan: &Plan, answers: &Answers, step: &WorkStep) -> (String, String) {
    let (hole, piece) = (hole_of(plan, answers, step), piece(plan, answers, step));
    let poles = match pole_words(&hole).as_str() {
        "" => String::new(),
        poles => format!(": {poles}"),
    };
    let from = match drill_of(answers, step).map(|d| d.from) {
        Some(DrillFrom::Inside) => {
            "Press it against the wall, so that no gap stays in front of it. "
        }
        Some(DrillFrom::MatingFace) => "Set it flush with the face. ",
        Some(DrillFrom::Through) => "Set it flush on both sides. ",
        None => "",
    };
    let check = if poles.is_empty() {
        ""
    } else {
        "Check the pole once more before it goes in. "
    };
    let detail = format!("{check}{from}Keep other magnets and steel tools away until it is cured.");
    (
        format!("Glue the {piece} into {}{poles}.", hole.said()),
        detail,
    )
}

fn glue_joint(plan: &Plan, answers: &Answers, step: &WorkStep) -> (String, String) {
    let joint = step
        .joint
        .and_then(|j| answers.joints.get(j))
        .map(|a| a.joint);
    let (part, host) = (
        part_name(plan, step.part),
        joint.and_then(|j| plan.sockets.get(j.socket)),
    );
    let title = match host {
        Some(socket) => {
            let base = plan
                .part(&socket.host)
                .map_or("its host", |p| p.name.as_str());
            format!("Glue {part} to {base} at {} for good.", socket.name)
        }
        None => format!("Glue {part} for good."),
    };
    let pose = joint.map(|j| j.pose).unwrap_or_default();
    let turned = match (pose.turn_deg == 0.0, pose.over) {
        (true, false) => String::new(),
        (false, false) => format!("Turned {}°. ", mm(pose.turn_deg)),
        (true, true) => "Turned over. ".to_owned(),
        (false, true) => format!("Turned over and {}°. ", mm(pose.turn_deg)),
    };
    (
        title,
        format!(
            "{turned}What lies inside is closed from here on: look once more that nothing is missing."
        ),
    )
}

fn mask(plan: &Plan, answers: &Answers, step: &WorkStep) -> (String, String) {
    let joint = step
        .joint
        .and_then(|j| answers.joints.get(j))
        .map(|a| a.joint);
    let part = part_name(plan, step.part);
    let socket = joint.map_or_else(|| "the socket".to_owned(), |j| socket_name(plan, j.socket));
    let title = if joint.map(|j| j.part) == step.part {
        format!("Mask the face of {part} that meets {socket}.")
    } else {
        format!("Mask the socket {socket} on {part}.")
    };
    (
        title,
        "The pull is worked out with bare faces: paint there would widen the gap.".to_owned(),
    )
}

fn painted(plan: &Plan, answers: &Answers, step: &WorkStep) -> Vec<String> {
    let of = |p: usize| answers.groups.iter().find(|g| g.contains(&p));
    match step.part.and_then(of) {
        Some(group) => group.iter().map(|p| part_name(plan, Some(*p))).collect(),
        None => vec![part_name(plan, step.part)],
    }
}

fn paint(plan: &Plan, answers: &Answers, step: &WorkStep) -> (String, String) {
    let names = painted(plan, answers, step);
    let detail = if names.len() > 1 {
        "They are one glued piece. "
    } else {
        ""
    };
    (
        format!("Paint {}.", all_of(&names)),
        format!("{detail}Leave it to dry before the finished fit."),
    )
}

#[cfg(test)]
#[path = "words_tests.rs"]
mod tests;
