//! Steps of the work as sentences for the builder: the same words on a screen and on paper.

use lodewright_assembly::JointIx;
use lodewright_bench::{DrillFrom, DrillLine, Task, WorkStep};
use lodewright_joints::HoleIx;
use lodewright_kit::{PartIx, SocketIx, VariantIx};

use super::fits::misfit_words;
use super::holes::place_words;
use super::holes::{HoleWords, filling_words, pole_words};
use super::numbers::{all_of, list_mm, mm};
use crate::Analysis;

/// One step in words.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct StepWords {
    /// What to do, in one sentence.
    pub title: String,
    /// The same below a heading that says the kind of step and the bit: what is different from the step before.
    pub short: String,
    /// How, and what to look out for.
    pub detail: String,
}

/// Where a hole is drilled from.
pub fn from_words(from: DrillFrom) -> &'static str {
    match from {
        DrillFrom::MatingFace => "from the mating face",
        DrillFrom::Inside => "from inside, towards the mating face",
        DrillFrom::Through => "right through",
    }
}

impl Analysis {
    /// A step of the work in words, by its place in the order; `None` where the order is not so long.
    pub fn step_words(&self, place: usize) -> Option<StepWords> {
        let step = self.order().steps.get(place)?;
        let (title, detail) = self.task_words(step);
        let short = self.short(step);
        Some(match &step.own {
            Some(own) if step.task != Task::Own => StepWords {
                title: format!("{}: {title}", own.name),
                short: format!("{short}: {}", own.name),
                detail,
            },
            _ => StepWords {
                title,
                short,
                detail,
            },
        })
    }

    /// What to do, and how.
    fn task_words(&self, step: &WorkStep) -> (String, String) {
        match step.task {
            Task::Drill(hole) => self.drill(hole),
            Task::DryFit(variant) => (
                format!("Put {} together without glue.", self.variant_name(variant)),
                "Every part must seat, and every hole must face its mate. Fix anything that does not; gluing comes next."
                    .to_owned(),
            ),
            Task::PoleCheck(hole) => self.pole_check(hole),
            Task::CutPeg(part) => (
                format!("Cut the peg off {}.", self.part_name(part)),
                "Leave a little, then sand it flush: a peg that is off cannot be put back."
                    .to_owned(),
            ),
            Task::GluePiece(hole) => self.glue_piece(hole),
            Task::GlueJoint(joint) => self.glue_joint(joint),
            Task::MaskSocket(_) | Task::MaskPlug(_) => (
                self.mask(step.task),
                "The pull is worked out with bare faces: paint there would widen the gap.".to_owned(),
            ),
            Task::Paint(part) => {
                let names = self.painted(part);
                let piece = if names.len() > 1 {
                    "They are one glued piece. "
                } else {
                    ""
                };
                (
                    format!("Paint {}.", all_of(&names)),
                    format!("{piece}Leave it to dry before the finished fit."),
                )
            }
            Task::FinalFit(variant) => (
                format!("Put {} together, finished.", self.variant_name(variant)),
                "Over something soft: turn it upside down, give it a shake, take every part off once and put it back."
                    .to_owned(),
            ),
            Task::Own => (own_name(step), String::new()),
        }
    }

    /// What is different from the step before, below a heading that says the kind of step and the bit.
    fn short(&self, step: &WorkStep) -> String {
        match step.task {
            Task::Drill(hole) => {
                let place = self.hole_words(hole).said();
                match self.drill_of(hole) {
                    Some(line) => format!("{place}: {}", depth_words(line)),
                    None => place,
                }
            }
            Task::PoleCheck(hole) | Task::GluePiece(hole) => {
                let words = self.hole_words(hole);
                format!(
                    "{}, {}{}",
                    words.said(),
                    self.piece(hole),
                    with_poles(&words)
                )
            }
            Task::DryFit(variant) | Task::FinalFit(variant) => {
                self.variant_name(variant).to_owned()
            }
            Task::CutPeg(part) => self.part_name(part).to_owned(),
            Task::GlueJoint(joint) => self.glue_joint(joint).0,
            Task::MaskSocket(_) | Task::MaskPlug(_) => self.mask(step.task),
            Task::Paint(part) => all_of(&self.painted(part)),
            Task::Own => own_name(step),
        }
    }

    fn variant_name(&self, variant: VariantIx) -> &str {
        &self.plan().variants[variant].name
    }

    fn part_name(&self, part: PartIx) -> &str {
        &self.plan().parts[part].name
    }

    fn socket_name(&self, socket: SocketIx) -> &str {
        &self.plan().sockets[socket].name
    }

    /// The line of the drill list for a hole.
    pub fn drill_of(&self, hole: HoleIx) -> Option<&DrillLine> {
        self.drills().iter().find(|d| d.hole == hole)
    }

    fn piece(&self, hole: HoleIx) -> String {
        filling_words(self.plan(), self.fillings()[hole])
    }

    fn drill(&self, hole: HoleIx) -> (String, String) {
        let place = self.hole_words(hole).said();
        let Some(line) = self.drill_of(hole) else {
            return (format!("Drill {place}."), String::new());
        };
        let at = place_words(self.hole_place(hole, false));
        let mut detail = match line.pilots_mm.as_slice() {
            [] => format!("Where: {at}. "),
            pilots => format!("Where: {at}. First {} mm. ", list_mm(pilots)),
        };
        let point_mm = mm(line.point_mm);
        detail.push_str(&match line.from {
            DrillFrom::Inside if line.finish_flat => format!(
                "Stop {point_mm} mm short, so that the drill point does not go through, and finish with a flat cutter until {} mm of wall are left.",
                mm(line.wall_left_mm)
            ),
            DrillFrom::Inside => format!(
                "Stop with {} mm of wall left beside the drill point, which goes {point_mm} mm farther.",
                mm(line.wall_left_mm)
            ),
            DrillFrom::MatingFace if line.finish_flat => format!(
                "Stop {point_mm} mm short with the drill and finish the bottom with a flat cutter."
            ),
            DrillFrom::MatingFace => {
                format!("Depth is to the full diameter; the drill point goes {point_mm} mm deeper.")
            }
            DrillFrom::Through => {
                "Back the part with scrap, so that the edge does not break out.".to_owned()
            }
        });
        if let Some(misfit) = line.misfit {
            let [what, help] = misfit_words(misfit);
            return (
                format!("Do not drill {place} yet."),
                format!("{what} {help}"),
            );
        }
        let (bit, depth) = (mm(line.bit_mm), depth_words(line));
        (format!("Drill {place}: {bit} mm bit, {depth}."), detail)
    }

    fn pole_check(&self, hole: HoleIx) -> (String, String) {
        let (words, piece) = (self.hole_words(hole), self.piece(hole));
        let title = match pole_words(&words).as_str() {
            "" => format!("Mark a pole on the {piece} for {}.", words.said()),
            poles => format!("Mark the {piece} for {}: {poles}.", words.said()),
        };
        let detail = "Hold it to a magnet whose N side you have marked: what it pulls is S. Dot the side that will face out. The very first may be called N on either side: what counts is that all agree.";
        (title, detail.to_owned())
    }

    fn glue_piece(&self, hole: HoleIx) -> (String, String) {
        let (words, piece) = (self.hole_words(hole), self.piece(hole));
        let poles = with_poles(&words);
        let from = match self.drill_of(hole).map(|d| d.from) {
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
        let detail =
            format!("{check}{from}Keep other magnets and steel tools away until it is cured.");
        (
            format!("Glue the {piece} into {}{poles}.", words.said()),
            detail,
        )
    }

    fn glue_joint(&self, joint: JointIx) -> (String, String) {
        let j = self.board().joints[joint];
        let host = self.part_name(self.board().host(j.socket));
        let title = format!(
            "Glue {} to {host} at {} for good.",
            self.part_name(j.part),
            self.socket_name(j.socket)
        );
        let turned = match (j.pose.turn_deg == 0.0, j.pose.over) {
            (true, false) => String::new(),
            (false, false) => format!("Turned {}°. ", mm(j.pose.turn_deg)),
            (true, true) => "Turned over. ".to_owned(),
            (false, true) => format!("Turned over and {}°. ", mm(j.pose.turn_deg)),
        };
        (
            title,
            format!(
                "{turned}This closes the cavity: check once more that everything inside is in."
            ),
        )
    }

    fn mask(&self, task: Task) -> String {
        let board = self.board();
        match task {
            Task::MaskPlug(joint) => {
                let j = board.joints[joint];
                let (part, socket) = (self.part_name(j.part), self.socket_name(j.socket));
                format!("Mask the face of {part} that meets {socket}.")
            }
            Task::MaskSocket(socket) => {
                let host = self.part_name(board.host(socket));
                format!("Mask the socket {} on {host}.", self.socket_name(socket))
            }
            _ => String::new(),
        }
    }

    fn painted(&self, part: PartIx) -> Vec<String> {
        let group = self.glue().groups.iter().find(|g| g.contains(&part));
        let parts = group.map_or(std::slice::from_ref(&part), Vec::as_slice);
        parts
            .iter()
            .map(|p| self.part_name(*p).to_owned())
            .collect()
    }
}

fn own_name(step: &WorkStep) -> String {
    let own = step.own.as_ref();
    own.map_or_else(|| "A step of your own.".to_owned(), |own| own.name.clone())
}

fn with_poles(hole: &HoleWords) -> String {
    match pole_words(hole).as_str() {
        "" => String::new(),
        poles => format!(": {poles}"),
    }
}

/// `2.1 mm deep from inside`.
fn depth_words(line: &DrillLine) -> String {
    match line.from {
        DrillFrom::Through => "right through".to_owned(),
        DrillFrom::Inside => format!("{} mm deep from inside", mm(line.depth_mm)),
        DrillFrom::MatingFace => format!("{} mm deep", mm(line.depth_mm)),
    }
}

#[cfg(test)]
#[path = "tests.rs"]
mod tests;
