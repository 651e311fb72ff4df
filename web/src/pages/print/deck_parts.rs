//! Deck plans: each face of a part that carries sockets, to scale, with all its sockets and holes and where these are.

use lodewright_planner::geometry::{add, dot, scale, sub};
use lodewright_planner::joints::Owner;
use lodewright_planner::kit::{Facing, Frame, Ix, PartIx, SocketIx};
use lodewright_planner::{Analysis, mm, place_words};
use yew::prelude::*;

use crate::format;

/// One face with its sockets, as one sees it when looking at it; mm on the paper, y upwards, from the middle of the face.
#[derive(Clone, Debug, PartialEq)]
pub struct Deck {
    /// The part.
    pub part: String,
    /// The face.
    pub face: Facing,
    /// Paper over model: 0.5 for half size.
    pub scale: f64,
    /// The part as it is seen from there.
    pub outlines: Vec<Vec<[f64; 2]>>,
    /// The sockets on it.
    pub sockets: Vec<DeckSocket>,
    /// The holes in it.
    pub holes: Vec<DeckHole>,
}

/// A socket on a face.
#[derive(Clone, Debug, PartialEq)]
pub struct DeckSocket {
    /// Its name.
    pub name: String,
    /// What touches.
    pub outline: Vec<[f64; 2]>,
    /// Its middle.
    pub at: [f64; 2],
    /// The same in words.
    pub place: String,
}

/// A hole in a face.
#[derive(Clone, Debug, PartialEq)]
pub struct DeckHole {
    /// Its centre.
    pub at: [f64; 2],
    /// Its diameter on the paper.
    pub diameter: f64,
    /// The socket and the site.
    pub name: String,
    /// The bit, or that it cannot be drilled so.
    pub bit: String,
    /// Where it is, in words.
    pub place: String,
}

/// What a page of A4 or Letter takes beside its tables, mm.
const PAPER_MM: [f64; 2] = [176.0, 150.0];
/// Scales to choose from, the largest first.
const SCALES: [f64; 8] = [2.0, 1.0, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01];
/// Paper round the outline, mm.
const RIM_MM: f64 = 7.0;

/// Every face that carries a socket which is placed.
pub fn decks(analysis: &Analysis) -> Vec<Deck> {
    let mut faces: Vec<(PartIx, Facing)> = Vec::new();
    for (s, socket) in SocketIx::each(&analysis.plan().sockets) {
        let face = (analysis.board().host(s), socket.facing);
        if socket.is_placed() && !faces.contains(&face) {
            faces.push(face);
        }
    }
    let all = faces.into_iter();
    all.map(|(part, face)| deck(analysis, part, face)).collect()
}

fn deck(analysis: &Analysis, part: PartIx, face: Facing) -> Deck {
    let (plan, board) = (analysis.plan(), analysis.board());
    let host = board.part(part);
    let half_mm = face.half_extent_mm(host.size_mm);
    let middle = add(host.box_middle_mm, scale(face.normal(), half_mm));
    let frame = face.frame(middle, 0.0);
    let large = |axis: usize| dot(frame.axes[axis].map(f64::abs), host.size_mm);
    let fits = |s: &f64| (0..2).all(|k| large(k) * s <= PAPER_MM[k]);
    let scale = SCALES.into_iter().find(fits).unwrap_or(0.005);
    let flat = |p: [f64; 3]| seen(&frame, p).map(|v| v * scale);
    let on_face = |s: &SocketIx| {
        let socket = board.socket(*s);
        board.host(*s) == part && socket.facing == face && socket.is_placed()
    };
    let sockets = SocketIx::all(&plan.sockets).filter(on_face).map(|s| {
        let socket = board.socket(s);
        let own = socket.frame(host);
        let outline = socket.patch.outline_mm().into_iter();
        DeckSocket {
            name: socket.name.clone(),
            outline: outline
                .map(|[x, y]| flat(own.to_outer([x, y, 0.0])))
                .collect(),
            at: flat(own.origin_mm),
            place: place_words(analysis.socket_place(s)),
        }
    });
    let holes = analysis.holes().faces.iter().filter_map(|f| {
        let Owner::Socket(s) = f.owner else {
            return None;
        };
        let drill = analysis.drill_of(f.hole).filter(|_| on_face(&s))?;
        let place = analysis.hole_place(f.hole, f.far)?;
        let site = &analysis.holes().holes[f.hole].site;
        Some(DeckHole {
            at: flat(place.at_mm(host)),
            diameter: drill.bit_mm * scale,
            name: format!("{}, {site}", board.socket(s).name),
            bit: match drill.misfit {
                Some(_) => "do not drill yet".to_owned(),
                None => format!("{} mm bit", mm(drill.bit_mm)),
            },
            place: place_words(Some(place)),
        })
    });
    Deck {
        part: host.name.clone(),
        face,
        scale,
        outlines: board.body(part).silhouettes(flat),
        sockets: sockets.collect(),
        holes: holes.collect(),
    }
}

/// A point as it is seen when one looks at a face.
fn seen(face: &Frame, p_mm: [f64; 3]) -> [f64; 2] {
    let from = sub(p_mm, face.origin_mm);
    [dot(from, face.axes[0]), dot(from, face.axes[1])]
}

impl Deck {
    /// Which sides of the part lie to the right and up.
    fn sides(&self) -> [Facing; 2] {
        let [x, y, _] = self.face.frame([0.0; 3], 0.0).axes;
        [Facing::nearest(x), Facing::nearest(y)]
    }

    /// Half the width and height of the drawing, mm.
    fn half_mm(&self) -> [f64; 2] {
        let all = self
            .outlines
            .iter()
            .chain(self.sockets.iter().map(|s| &s.outline));
        let corners = all.flatten().chain(self.holes.iter().map(|h| &h.at));
        let most = corners.fold([5.0_f64; 2], |most, p| {
            [0, 1].map(|k| most[k].max(p[k].abs()))
        });
        most.map(|m| m + RIM_MM)
    }

    fn scale_words(&self) -> String {
        if self.scale >= 1.0 {
            format!("{} : 1", mm(self.scale))
        } else {
            format!("1 : {}", mm(1.0 / self.scale))
        }
    }
}

/// See the module.
pub fn sheet(analysis: &Analysis) -> Html {
    let all = decks(analysis);
    let unplaced: Vec<_> = analysis
        .unplaced()
        .into_iter()
        .map(|s| analysis.plan().sockets[s].name.clone())
        .collect();
    html! {
        <section>
            <h2>{ "Deck plans" }</h2>
            if all.is_empty() {
                <p>{ "No socket has a place yet, so there is nothing to draw." }</p>
            } else {
                <p>{ "Each face as you look at it. Measure from the edges that are named; a circle is a hole, its number leads to the list." }</p>
            }
            if !unplaced.is_empty() {
                <p><strong>{ "Not placed yet: " }</strong>{ format!("{}.", unplaced.join(", ")) }</p>
            }
            { for all.iter().enumerate().map(one) }
        </section>
    }
}

fn one((n, deck): (usize, &Deck)) -> Html {
    let [w, h] = deck.half_mm();
    let [right, up] = deck.sides();
    let title = format!("{}, {}", deck.part, deck.face.word());
    let label = format!(
        "{title}: {}, {}",
        format::count(deck.sockets.len(), "socket", "sockets"),
        format::count(deck.holes.len(), "hole", "holes")
    );
    html! {
        <figure key={n} class="deck" data-test="deck">
            <figcaption><strong>{ &title }</strong>{ format!(", {}", deck.scale_words()) }</figcaption>
            <svg class="deck-drawing" width={format!("{:.2}mm", 2.0 * w)} height={format!("{:.2}mm", 2.0 * h)} viewBox={format!("{:.3} {:.3} {:.3} {:.3}", -w, -h, 2.0 * w, 2.0 * h)} role="img" aria-label={label}>
                { for deck.outlines.iter().map(|o| html! { <polygon class="template-outline" points={points(o)} /> }) }
                { for deck.sockets.iter().map(socket) }
                { for deck.holes.iter().enumerate().map(hole) }
                { side(up, [0.0, h - 2.0]) }
                { side(up.opposite(), [0.0, 2.0 - h]) }
                { side(right, [w - RIM_MM / 2.0, 0.0]) }
                { side(right.opposite(), [RIM_MM / 2.0 - w, 0.0]) }
                { bar(deck.scale, [2.0 - w, 2.5 - h]) }
            </svg>
            { table(deck) }
        </figure>
    }
}

fn points(list: &[[f64; 2]]) -> String {
    let all: Vec<_> = list
        .iter()
        .map(|[x, y]| format!("{x:.3},{:.3}", -y))
        .collect();
    all.join(" ")
}

fn socket(s: &DeckSocket) -> Html {
    let [x, y] = s.at;
    html! {
        <g key={s.name.clone()}>
            <polygon class="deck-socket" points={points(&s.outline)} />
            <text class="template-letter" text-anchor="middle" x={format!("{x:.3}")} y={format!("{:.3}", -y - 1.0)}>{ &s.name }</text>
        </g>
    }
}

fn hole((n, h): (usize, &DeckHole)) -> Html {
    let ([x, y], r) = (h.at, h.diameter / 2.0);
    let arm = r + 0.8;
    html! {
        <g key={n}>
            <circle class="template-hole" cx={format!("{x:.3}")} cy={format!("{:.3}", -y)} r={format!("{r:.3}")} />
            <path class="template-cross" d={format!("M{:.3} {:.3}h{:.3}M{x:.3} {:.3}v{:.3}", x - arm, -y, 2.0 * arm, -y - arm, 2.0 * arm)} />
            <text class="template-letter" x={format!("{:.3}", x + r * 0.75 + 0.4)} y={format!("{:.3}", -y - r * 0.75 - 0.4)}>{ n + 1 }</text>
        </g>
    }
}

/// The word for a side, at the edge of the drawing; the front has a mark besides.
fn side(side: Facing, [x, y]: [f64; 2]) -> Html {
    let word = match side {
        Facing::Front => "\u{25b8} front",
        other => other.way(),
    };
    html! { <text class="deck-side" text-anchor="middle" x={format!("{x:.3}")} y={format!("{:.3}", -y + 1.0)}>{ word }</text> }
}

/// A bar that is a round length of the model.
fn bar(scale: f64, [x, y]: [f64; 2]) -> Html {
    let long_mm = if scale >= 1.0 { 10.0 } else { 10.0 / scale };
    let long = long_mm * scale;
    html! {
        <>
            <path class="template-axes" d={format!("M{x:.3} {:.3}v-1.2h0v0.6h{long:.3}m0-0.6v1.2", -y)} />
            <text class="deck-side" x={format!("{:.3}", x + long + 1.0)} y={format!("{:.3}", -y)}>{ format!("{} mm", mm(long_mm)) }</text>
        </>
    }
}

fn table(deck: &Deck) -> Html {
    html! {
        <table>
            <thead><tr><th scope="col">{ "No." }</th><th scope="col">{ "What" }</th><th scope="col">{ "Bit" }</th><th scope="col">{ "Place" }</th></tr></thead>
            <tbody>
                { for deck.holes.iter().enumerate().map(|(n, h)| html! {
                    <tr key={format!("h{n}")}><td>{ n + 1 }</td><th scope="row">{ &h.name }</th><td>{ &h.bit }</td><td>{ &h.place }</td></tr>
                }) }
                { for deck.sockets.iter().map(|s| html! {
                    <tr key={format!("s{}", s.name)}><td></td><th scope="row">{ format!("{}, its middle", s.name) }</th><td></td><td>{ &s.place }</td></tr>
                }) }
            </tbody>
        </table>
    }
}

#[cfg(test)]
mod tests {
    use lodewright_planner::kit::{Edit, Plan};

    use super::*;

    fn analysis(change: impl FnOnce(&mut Plan)) -> Analysis {
        let grid = "\tWinter\tSummer\nNose\tPlough\tHook\nRoof\tRack\t-\n".to_owned();
        let mut plan = Plan::empty("t").edited(&Edit::PasteGrid(grid)).unwrap();
        change(&mut plan);
        Analysis::of(plan).unwrap()
    }

    #[test]
    fn a_face_is_drawn_to_scale_with_what_is_on_it() {
        let found = analysis(|plan| {
            plan.sockets[0].at_mm = Some([20.0, -5.0, 15.0]);
            plan.sockets[0].sites[0].at_mm = [3.0, 1.0];
        });
        let all = decks(&found);
        // The roof has no place yet.
        assert_eq!(all.len(), 1);
        let deck = &all[0];
        assert_eq!(
            (deck.part.as_str(), deck.face, deck.scale),
            ("Base", Facing::Up, 2.0)
        );
        assert_eq!(deck.scale_words(), "2 : 1");
        assert_eq!(deck.sides(), [Facing::Front, Facing::Left]);
        // 80 by 40 mm at twice their size.
        let corners = deck.outlines[0].iter();
        assert!(
            corners
                .clone()
                .all(|[x, y]| x.abs() == 80.0 && y.abs() == 40.0)
        );
        assert_eq!(
            (deck.sockets[0].at, deck.holes[0].at),
            ([40.0, -10.0], [46.0, -8.0])
        );
        assert_eq!(
            deck.holes[0].place,
            "17 mm from the front edge, 16 mm from the right edge of the top"
        );
        assert_eq!(deck.holes[0].bit, "3.1 mm bit");
    }

    #[test]
    fn a_long_base_is_drawn_smaller_and_what_cannot_be_drilled_is_said() {
        let found = analysis(|plan| {
            plan.parts[0].size_mm = [400.0, 60.0, 2.0];
            plan.sockets[0].at_mm = Some([20.0, 0.0, 1.0]);
            plan.sockets[0].sites[0].fit = lodewright_planner::kit::Fit::Magnet("disc-6x3".into());
            plan.sockets[0].sites[0].max_depth_mm = 5.0;
            plan.sockets[0].sites[0].max_diameter_mm = 7.0;
        });
        let all = decks(&found);
        assert_eq!(all[0].scale_words(), "1 : 5");
        assert_eq!(all[0].holes[0].bit, "do not drill yet");
    }
}
