//! Drilling templates in true size: cut out, laid on the face, marked through the crosses.

use lodewright_planner::joints::Owner;
use lodewright_planner::kit::{Facing, Patch};
use lodewright_planner::{Analysis, mm, place_words};
use yew::prelude::*;

/// One face with its holes, as one sees it when looking at that face; mm, y upwards.
#[derive(Clone, Debug, PartialEq)]
pub struct Template {
    /// `Base: socket Nose`.
    pub title: String,
    /// The contact patch.
    pub outline_mm: Vec<[f64; 2]>,
    /// The side of the part that is up on the paper, where it is known.
    pub up: Option<Facing>,
    /// The holes.
    pub holes: Vec<TemplateHole>,
}

/// One hole.
#[derive(Clone, Debug, PartialEq)]
pub struct TemplateHole {
    /// Its centre.
    pub at_mm: [f64; 2],
    /// The bit.
    pub bit_mm: f64,
    /// The pole that faces the eye, where there is one.
    pub pole: String,
    /// `2.1 deep`, `through`, or why it is not drilled from here.
    pub depth: String,
    /// Where it is on its part, in words.
    pub place: String,
}

/// Widest and highest template that a page of A4 or Letter takes, mm.
const PAPER_MM: [f64; 2] = [180.0, 230.0];
/// Paper round the outline, mm.
const RIM_MM: f64 = 4.0;

/// All faces that have a hole to drill.
pub fn templates(analysis: &Analysis) -> Vec<Template> {
    let mut list: Vec<(Owner, Template)> = Vec::new();
    for face in &analysis.holes().faces {
        let Some(drill) = analysis.drill_of(face.hole) else {
            continue;
        };
        // A mounting face is given as seen through its part, so x is mirrored for the eye.
        let mirror = if face.owner.is_socket() { 1.0 } else { -1.0 };
        let words = analysis.hole_words(face.hole);
        let shown = words.faces.get(usize::from(face.far));
        let hole = TemplateHole {
            at_mm: [mirror * face.at_mm[0], face.at_mm[1]],
            bit_mm: drill.bit_mm,
            pole: shown
                .and_then(|f| f.pole)
                .map(|p| p.letter().to_owned())
                .unwrap_or_default(),
            place: place_words(shown.and_then(|f| f.on_part)),
            depth: if drill.misfit.is_some() {
                "do not drill yet".to_owned()
            } else if words.faces.len() > 1 {
                "through".to_owned()
            } else if face.wall_mm > 0.0 {
                format!("from inside, {} wall", mm(face.wall_mm))
            } else {
                format!("{} deep", mm(drill.depth_mm))
            },
        };
        match list.iter_mut().find(|(owner, _)| *owner == face.owner) {
            Some((_, t)) => t.holes.push(hole),
            None => {
                let (title, outline) = head(analysis, face.owner);
                let outline_mm = outline.into_iter().map(|[x, y]| [mirror * x, y]).collect();
                list.push((
                    face.owner,
                    Template {
                        title,
                        outline_mm,
                        up: up(analysis, face.owner),
                        holes: vec![hole],
                    },
                ));
            }
        }
    }
    list.into_iter().map(|(_, t)| t).collect()
}

/// The side of its part that the second axis of a face points to.
fn up(analysis: &Analysis, owner: Owner) -> Option<Facing> {
    let board = analysis.board();
    let axes = match owner {
        Owner::Socket(s) => board.socket(s).frame(board.part(board.host(s))).axes,
        Owner::Plug(part, plug) => {
            let mut joints = board.joints.iter();
            let meets = joints.find(|j| (j.part, j.plug) == (part, plug))?;
            let part = board.part(part);
            let facing = board.socket(meets.socket).facing;
            part.plug_frame(&part.plugs[plug], facing).axes
        }
    };
    Some(Facing::nearest(axes[1]))
}

/// Title and outline of a socket or a mounting face. A mounting face without an outline of its own has that of the socket
/// that it meets.
fn head(analysis: &Analysis, owner: Owner) -> (String, Vec<[f64; 2]>) {
    let plan = analysis.plan();
    let (part, plug) = match owner {
        Owner::Socket(socket) => {
            let host = &plan.parts[analysis.board().host(socket)].name;
            let socket = &plan.sockets[socket];
            let title = format!("{host}: socket {}", socket.name);
            return (title, socket.patch.outline_mm());
        }
        Owner::Plug(part, plug) => (part, plug),
    };
    let mut joints = analysis.board().joints.iter();
    let meets = joints.find(|j| (j.part, j.plug) == (part, plug));
    let meets = meets.map(|j| &plan.sockets[j.socket]);
    let face = &plan.parts[part].plugs[plug];
    let outline = face.patch.as_ref().or(meets.map(|s| &s.patch));
    let to = meets.map_or_else(String::new, |s| format!(" to {}", s.name));
    (
        format!("{}: face{to}", plan.parts[part].name),
        outline.map(Patch::outline_mm).unwrap_or_default(),
    )
}

impl Template {
    /// Left, top, width, height of the drawing in the axes of the paper (y downwards), mm.
    pub fn frame_mm(&self) -> [f64; 4] {
        let (mut low, mut high) = ([-3.0_f64; 2], [3.0_f64; 2]);
        let mut take = |x: f64, y: f64, r: f64| {
            for (k, v) in [x, -y].into_iter().enumerate() {
                low[k] = low[k].min(v - r);
                high[k] = high[k].max(v + r);
            }
        };
        for [x, y] in &self.outline_mm {
            take(*x, *y, 0.0);
        }
        for h in &self.holes {
            take(h.at_mm[0], h.at_mm[1], h.bit_mm / 2.0 + 2.0);
        }
        [
            low[0] - RIM_MM,
            low[1] - RIM_MM,
            high[0] - low[0] + 2.0 * RIM_MM,
            high[1] - low[1] + 2.0 * RIM_MM,
        ]
    }

    /// Whether one page takes it.
    pub fn fits_paper(&self) -> bool {
        let [_, _, width, height] = self.frame_mm();
        (width <= PAPER_MM[0] && height <= PAPER_MM[1])
            || (height <= PAPER_MM[0] && width <= PAPER_MM[1])
    }
}

/// See the module.
pub fn sheet(analysis: &Analysis) -> Html {
    let list = templates(analysis);
    if list.is_empty() {
        return html! { <p>{ "No holes are drilled, so there is nothing to lay on." }</p> };
    }
    html! {
        <section>
            <h2>{ "Drilling templates, true size" }</h2>
            <p>{ "Check the control line first. Cut along the outline, lay the paper on the face with this side up, the long axis marks on the middle of the face, and mark each cross with a needle. The circle is the hole; the letter is the pole that faces you when it is glued in; a hole from inside is marked here only to show its place." }</p>
            <div class="templates">{ for list.iter().enumerate().map(one) }</div>
        </section>
    }
}

fn one((n, template): (usize, &Template)) -> Html {
    let [left, top, width, height] = template.frame_mm();
    let up = template
        .up
        .map(|up| format!("; up on the paper is its {}", up.way()));
    let caption = || html! { <figcaption><strong>{ &template.title }</strong>{ up.clone().unwrap_or_default() }</figcaption> };
    if !template.fits_paper() {
        return html! {
            <figure key={n} class="template">
                { caption() }
                <p class="sheet-small">{ format!("It is {} × {} mm and fits no single page: use the places in the list of holes.", mm(width), mm(height)) }</p>
            </figure>
        };
    }
    // Upright on the paper where it is too wide for it.
    let turned = width > PAPER_MM[0];
    let (w, h) = if turned {
        (height, width)
    } else {
        (width, height)
    };
    let turn = turned.then(|| "rotate(90)".to_owned());
    let view = if turned {
        [-(top + height), left, height, width]
    } else {
        [left, top, width, height]
    };
    let outline: Vec<String> = template
        .outline_mm
        .iter()
        .map(|[x, y]| format!("{x:.3},{:.3}", -y))
        .collect();
    html! {
        <figure key={n} class="template">
            { caption() }
            <svg class="template-drawing" data-test="template" width={format!("{w:.2}mm")} height={format!("{h:.2}mm")} viewBox={view.map(|v| format!("{v:.3}")).join(" ")} role="img" aria-label={format!("{}: {} holes", template.title, template.holes.len())}>
                <g transform={turn}>
                    if !outline.is_empty() {
                        <polygon class="template-outline" points={outline.join(" ")} />
                    }
                    <path class="template-axes" d={axes(left, top, width, height)} />
                    if let Some(up) = template.up {
                        <text class="template-letter" text-anchor="middle" x={format!("{:.3}", left + width / 2.0 + 9.0)} y={format!("{:.3}", top + 2.6)}>{ format!("\u{2191} {}", up.way()) }</text>
                    }
                    { for template.holes.iter().enumerate().map(hole) }
                </g>
            </svg>
            <ol class="template-holes">
                { for template.holes.iter().enumerate().map(|(n, h)| html! {
                    <li key={n}>{ format!("{} mm bit, {}{}; {}", mm(h.bit_mm), h.depth, if h.pole.is_empty() { String::new() } else { format!(", {} out", h.pole) }, h.place) }</li>
                }) }
            </ol>
        </figure>
    }
}

/// Short marks at the ends of both middle lines.
fn axes(left: f64, top: f64, width: f64, height: f64) -> String {
    let (right, bottom) = (left + width, top + height);
    format!(
        "M{left:.3} 0H{:.3}M{:.3} 0H{right:.3}M0 {top:.3}V{:.3}M0 {:.3}V{bottom:.3}",
        left + RIM_MM,
        right - RIM_MM,
        top + RIM_MM,
        bottom - RIM_MM
    )
}

fn hole((n, h): (usize, &TemplateHole)) -> Html {
    let ([x, y], r) = (h.at_mm, h.bit_mm / 2.0);
    let arm = r + 1.5;
    html! {
        <g key={n}>
            <circle class="template-hole" cx={format!("{x:.3}")} cy={format!("{:.3}", -y)} r={format!("{r:.3}")} />
            <path class="template-cross" d={format!("M{:.3} {:.3}h{:.3}M{x:.3} {:.3}v{:.3}", x - arm, -y, 2.0 * arm, -y - arm, 2.0 * arm)} />
            <text class="template-letter" x={format!("{:.3}", x + r * 0.75 + 0.4)} y={format!("{:.3}", -y - r * 0.75 - 0.4)}>{ format!("{}{}", n + 1, h.pole) }</text>
        </g>
    }
}

#[cfg(test)]
mod tests {
    use lodewright_planner::kit::{Edit, Plan};

    use super::*;

    #[test]
    fn a_template_is_as_large_as_the_face_and_mirrored_for_a_plug() {
        let grid = "\tWinter\tSummer\nNose\tPlough\tHook".to_owned();
        let mut plan = Plan::empty("t").edited(&Edit::PasteGrid(grid)).unwrap();
        plan.sockets[0].patch = Patch::Rectangle {
            width_mm: 30.0,
            height_mm: 14.0,
        };
        plan.sockets[0].sites[0].at_mm = [9.0, 1.0];
        for part in &mut plan.parts {
            part.size_mm = [40.0; 3];
        }
        let list = templates(&Analysis::of(plan).unwrap());
        assert_eq!(list.len(), 3);
        assert_eq!(list[0].title, "Base: socket Nose");
        assert_eq!(list[0].frame_mm(), [-19.0, -11.0, 38.0, 22.0]);
        assert_eq!(list[0].holes[0].at_mm, [9.0, 1.0]);
        assert_eq!(list[1].holes[0].at_mm, [-9.0, 1.0]);
        assert_eq!(list[1].title, "Plough: face to Nose");
        assert_eq!(list[0].up, Some(Facing::Left));
        assert_eq!(list[0].holes[0].place, "not placed yet");
        assert_eq!(
            list[1].holes[0].place,
            "11 mm from the front edge, 19 mm from the left edge of the underside"
        );
        // Mating poles differ, each as its own face shows it.
        assert_ne!(list[0].holes[0].pole, list[1].holes[0].pole);
        let mut large = list[0].clone();
        large.outline_mm[0] = [-400.0, 0.0];
        assert!(list[0].fits_paper() && !large.fits_paper());
    }
}
