//! A small drawing of one mating face with the hole to drill in it, as one sees it when looking at that face.

use lodewright_planner::joints::{HoleIx, Owner};
use lodewright_planner::mm;
use yew::prelude::*;

use crate::store::Analysis;

/// What is drawn, mm, y upwards.
#[derive(Clone, Debug, PartialEq)]
pub struct HoleDrawing {
    /// What touches; empty where it is not known in these axes.
    pub outline_mm: Vec<[f64; 2]>,
    /// Centre of the hole.
    pub at_mm: [f64; 2],
    /// Its radius.
    pub radius_mm: f64,
}

impl HoleDrawing {
    /// The first face of a hole. A mounting face is given as seen through its part, so x is mirrored for the eye.
    pub fn of(analysis: &Analysis, hole: HoleIx) -> Option<Self> {
        let face = analysis.holes().face_of(hole, false)?;
        let line = analysis.drill_of(hole)?;
        let mirror = if face.owner.is_socket() { 1.0 } else { -1.0 };
        let seen = |[x, y]: [f64; 2]| [mirror * x, y];
        let here = analysis.joints().values().iter().find(|a| {
            let j = a.joint;
            match face.owner {
                Owner::Socket(socket) => j.socket == socket,
                Owner::Plug(part, plug) => (j.part, j.plug) == (part, plug) && j.pose.is_straight(),
            }
        });
        Some(Self {
            outline_mm: here
                .map(|a| a.contact_mm.iter().copied().map(seen).collect())
                .unwrap_or_default(),
            at_mm: seen(face.at_mm),
            radius_mm: line.bit_mm / 2.0,
        })
    }

    /// Half the side of a square about the origin that holds everything, mm.
    fn reach_mm(&self) -> f64 {
        let [x, y] = self.at_mm;
        let hole = x.abs().max(y.abs()) + self.radius_mm;
        let all = self
            .outline_mm
            .iter()
            .flatten()
            .map(|v| v.abs())
            .fold(hole, f64::max);
        if all.is_finite() {
            all.clamp(1.0, 1e4) * 1.15
        } else {
            1.0
        }
    }
}

/// Props of [`hole_drawing`].
#[derive(PartialEq, Properties)]
pub struct HoleDrawingProps {
    /// The analysis.
    pub analysis: Analysis,
    /// The hole.
    pub hole: HoleIx,
}

/// See the module. Drawn in units of a hundredth of its half side, so that lines and letters keep their size.
pub fn hole_drawing(props: &HoleDrawingProps) -> Html {
    let Some(drawing) = HoleDrawing::of(&props.analysis, props.hole) else {
        return Html::default();
    };
    let scale = 100.0 / drawing.reach_mm();
    let place = |[x, y]: [f64; 2]| (x * scale, -y * scale);
    let points: Vec<String> = drawing
        .outline_mm
        .iter()
        .map(|p| place(*p))
        .map(|(x, y)| format!("{x:.1},{y:.1}"))
        .collect();
    let (x, y) = place(drawing.at_mm);
    let radius = drawing.radius_mm * scale;
    let [at_x, at_y] = drawing.at_mm.map(mm);
    let label = format!(
        "The face as you look at it: hole {at_x} mm across and {at_y} mm up from the middle."
    );
    html! {
        <svg class="hole-sketch" viewBox="-104 -104 208 208" role="img" aria-label={label}>
            if !points.is_empty() {
                <polygon class="sketch-face" points={points.join(" ")} />
            }
            <path class="sketch-axes" d="M-100 0H100M0 -100V100" />
            <circle class="sketch-hole" cx={format!("{x:.1}")} cy={format!("{y:.1}")} r={format!("{radius:.1}")} />
            <path class="sketch-centre" d={format!("M{:.1} {y:.1}h12M{x:.1} {:.1}v12", x - 6.0, y - 6.0)} />
        </svg>
    }
}

#[cfg(test)]
mod tests {
    use lodewright_planner::kit::{Edit, Ix, Plan};

    use super::*;

    #[test]
    fn a_mounting_face_is_mirrored_and_a_socket_is_not() {
        let grid = "\tWinter\tSummer\nNose\tPlough\tHook".to_owned();
        let mut plan = Plan::empty("t").edited(&Edit::PasteGrid(grid)).unwrap();
        plan.sockets[0].sites[0].at_mm = [3.0, -2.0];
        let analysis = Analysis::of(plan).unwrap();
        let of = |part: &str| {
            let plan = analysis.plan();
            let (hole, _) = HoleIx::each(&analysis.holes().holes)
                .find(|(_, h)| plan.parts[h.part].name == part)
                .unwrap();
            HoleDrawing::of(&analysis, hole).unwrap()
        };
        assert_eq!(of("Base").at_mm, [3.0, -2.0]);
        assert_eq!(of("Plough").at_mm, [-3.0, -2.0]);
        assert!(of("Base").reach_mm() >= 6.0);
        assert!(HoleDrawing::of(&analysis, HoleIx::new(999)).is_none());
    }
}
