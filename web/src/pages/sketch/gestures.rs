//! Fingers, pen, mouse and wheel on the drawing, from touch to meaning. No web types.

use lodewright_planner::kit::{PartId, Plan, SocketId};

use super::sketch_state::{Kind, Picked, SketchState, Tool};
use crate::projection::look::{Camera, Screen, apart, within};
use crate::projection::scene::{Caught, STEP_MM, Scene, Seen, snapped};

/// What lies under a finger.
#[derive(Clone, Debug, PartialEq)]
pub enum Hit {
    /// Nothing.
    Bare,
    /// A socket's mark.
    Socket(SocketId),
    /// A part.
    Part(PartId),
    /// The corner by which the picked part is made larger.
    Corner,
}

impl Hit {
    /// Reads the mark of an element.
    pub fn read(mark: &str) -> Self {
        match mark.split_once(':') {
            Some(("s", id)) => Self::Socket(id.into()),
            Some(("p", id)) => Self::Part(id.into()),
            _ if mark == "corner" => Self::Corner,
            _ => Self::Bare,
        }
    }
}

/// What is on its way, as it is drawn.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Live {
    /// Nothing.
    #[default]
    Still,
    /// Sockets on the move, by so many millimetres.
    Move(Vec<SocketId>, [f64; 2], Caught),
    /// A frame around what is to be picked.
    Band([f64; 2], [f64; 2]),
    /// A part being drawn, from a corner to where the finger is.
    Draw([f64; 2], Caught),
    /// The picked part's corner.
    Size(PartId, Caught),
    /// A part on the move over its socket.
    Shift(PartId, [f64; 2]),
    /// The picture on the move.
    Slide([f64; 2]),
}

/// The fingers on the drawing.
#[derive(Debug, Default)]
pub struct Gestures {
    fingers: Vec<(i32, [f64; 2])>,
    from_px: [f64; 2],
    hit: Option<Hit>,
    moved: bool,
    /// Two fingers: the sight and the places at which they began.
    pinch: Option<(Camera, [[f64; 2]; 2])>,
    /// What is on its way.
    pub live: Live,
}

/// How far a finger may tremble within a tap, CSS pixels.
const TREMBLE_PX: f64 = 6.0;
/// How near a line catches a finger, CSS pixels.
const CATCH_PX: f64 = 7.0;
/// How much farther a socket that looks away seems to a finger, CSS pixels.
const AWAY_PX: f64 = 14.0;
/// How far outside a part's edge a tap still means that edge, CSS pixels.
pub const REACH_PX: f64 = 16.0;

/// What a finger that went away means.
#[derive(Clone, Debug, PartialEq)]
pub enum Meant {
    /// Nothing.
    Nothing,
    /// A tap on something at a place.
    Tap(Hit, [f64; 2]),
    /// A drag that came to this, begun on something.
    Done(Live, Hit),
}

/// What is needed to read a finger.
pub struct Sight<'a> {
    /// The plan.
    pub plan: &'a Plan,
    /// What is drawn.
    pub scene: &'a Scene,
    /// What is picked, and what a finger does.
    pub state: &'a SketchState,
    /// The drawing on the screen.
    pub screen: Screen,
    /// What of it is in sight.
    pub camera: Camera,
}

impl Sight<'_> {
    fn place(&self, px: [f64; 2]) -> [f64; 2] {
        self.screen.place(&self.camera, px)
    }

    fn caught(&self, at: [f64; 2], moving: &[SocketId]) -> Caught {
        let reach = CATCH_PX * self.screen.mm_per_px(&self.camera);
        snapped(at, &self.scene.lines(moving), reach)
    }

    /// What a finger means: of sockets whose marks lie over each other, the nearest, those that look away last.
    pub fn meant(&self, hit: Hit, px: [f64; 2]) -> Hit {
        let Hit::Socket(_) = hit else { return hit };
        let at = self.place(px);
        let px_mm = self.screen.mm_per_px(&self.camera);
        let off = |m: &&crate::projection::scene::Mark| {
            let hidden = if m.seen == Seen::Away { AWAY_PX } else { 0.0 };
            apart(m.at, at) / px_mm + hidden
        };
        let nearest = self
            .scene
            .marks
            .iter()
            .min_by(|a, b| off(a).total_cmp(&off(b)));
        nearest.map_or(hit, |m| Hit::Socket(m.id.clone()))
    }

    /// A place taken to a line or the step.
    pub fn taken(&self, at: [f64; 2]) -> [f64; 2] {
        self.caught(at, &[]).at
    }
}

impl Gestures {
    /// A finger comes down. Answers whether it is the only one.
    pub fn down(&mut self, id: i32, px: [f64; 2], hit: Hit, camera: Camera) -> bool {
        self.fingers.retain(|(f, _)| *f != id);
        self.fingers.push((id, px));
        self.live = Live::Still;
        self.pinch = None;
        match self.fingers.as_slice() {
            [_] => {
                self.from_px = px;
                self.hit = Some(hit);
                self.moved = false;
                true
            }
            [(_, a), (_, b)] => {
                // A second finger takes the drawing along; what the first began is dropped.
                self.hit = None;
                self.pinch = Some((camera, [*a, *b]));
                false
            }
            _ => false,
        }
    }

    /// A finger moves. Answers another sight where two fingers ask for one.
    pub fn moved(&mut self, id: i32, px: [f64; 2], sight: &Sight<'_>) -> Option<Camera> {
        let finger = self.fingers.iter_mut().find(|(f, _)| *f == id)?;
        finger.1 = px;
        if let (Some((camera, from)), [(_, a), (_, b)]) = (self.pinch, self.fingers.as_slice()) {
            return Some(pinched(&camera, &sight.screen, from, [*a, *b]));
        }
        let hit = self.hit.clone()?;
        let far = apart(px, self.from_px);
        self.moved |= far > TREMBLE_PX;
        if self.moved {
            self.live = drag(&hit, sight, sight.place(self.from_px), sight.place(px));
        }
        None
    }

    /// A finger goes away.
    pub fn up(&mut self, id: i32, sight: &Sight<'_>) -> Meant {
        self.fingers.retain(|(f, _)| *f != id);
        self.pinch = None;
        let live = std::mem::take(&mut self.live);
        match (self.hit.take(), self.moved) {
            (None, _) => Meant::Nothing,
            (Some(hit), false) => Meant::Tap(hit, sight.place(self.from_px)),
            (Some(hit), true) => Meant::Done(live, hit),
        }
    }

    /// The system takes the touch away: nothing was meant.
    pub fn lost(&mut self, id: i32) {
        self.fingers.retain(|(f, _)| *f != id);
        self.pinch = None;
        self.hit = None;
        self.live = Live::Still;
    }
}

fn pinched(camera: &Camera, screen: &Screen, from: [[f64; 2]; 2], to: [[f64; 2]; 2]) -> Camera {
    let wide = |[a, b]: [[f64; 2]; 2]| apart(a, b).max(1.0);
    let middle = |[a, b]: [[f64; 2]; 2]| [(a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0];
    let held = screen.place(camera, middle(from));
    let next = camera.zoomed(held, wide(from) / wide(to));
    let now = screen.place(&next, middle(to));
    next.panned([now[0] - held[0], now[1] - held[1]])
}

fn drag(hit: &Hit, sight: &Sight<'_>, from: [f64; 2], to: [f64; 2]) -> Live {
    let state = sight.state;
    let by = [to[0] - from[0], to[1] - from[1]];
    match state.tool {
        Tool::Measure => return Live::Still,
        Tool::Slide => return Live::Slide(by),
        _ => {}
    }
    if let Tool::Draw(kind) = state.tool {
        return match kind {
            Kind::Outline => Live::Still,
            _ => drawn(hit, sight, from, to),
        };
    }
    match hit {
        Hit::Corner => match state.picked.as_slice() {
            [Picked::Part(id)] => Live::Size(id.clone(), sight.caught(to, &[])),
            _ => Live::Still,
        },
        Hit::Socket(id) => {
            let picked = state.sockets();
            let ids = if picked.contains(id) {
                picked
            } else {
                vec![id.clone()]
            };
            let Some(mark) = sight.scene.mark(id) else {
                return Live::Still;
            };
            let caught = sight.caught([mark.at[0] + by[0], mark.at[1] + by[1]], &ids);
            let by = [caught.at[0] - mark.at[0], caught.at[1] - mark.at[1]];
            Live::Move(ids, by, caught)
        }
        Hit::Part(id)
            if state.picked.contains(&Picked::Part(id.clone())) && *id != sight.plan.base =>
        {
            let half_step = |v: f64| (v * 2.0).round() / 2.0;
            Live::Shift(id.clone(), by.map(half_step))
        }
        _ => Live::Band(from, to),
    }
}

/// A part on its way. Begun on a socket it grows evenly about it, and out of it along its normal.
fn drawn(hit: &Hit, sight: &Sight<'_>, from: [f64; 2], to: [f64; 2]) -> Live {
    let mark = match hit {
        Hit::Socket(id) => sight.scene.mark(id),
        _ => None,
    };
    let Some(mark) = mark else {
        return Live::Draw(sight.taken(from), sight.caught(to, &[]));
    };
    let n = sight.scene.look.flat(mark.frame.axes[2]);
    let finger = to;
    let mut to = sight.caught(to, std::slice::from_ref(&mark.id));
    for (k, finger) in finger.into_iter().enumerate() {
        // A line through the socket itself would leave nothing of a slender part.
        if (to.at[k] - mark.at[k]).abs() < STEP_MM {
            to.at[k] = (finger / STEP_MM).round() * STEP_MM;
            to.lines[k] = None;
        }
    }
    let from = std::array::from_fn(|k| {
        if n[k].abs() > 0.7 {
            mark.at[k]
        } else {
            2.0 * mark.at[k] - to.at[k]
        }
    });
    Live::Draw(from, to)
}

/// What a frame drawn around things picks: sockets whose middle, and parts whose whole box, lies within.
pub fn banded(scene: &Scene, a: [f64; 2], b: [f64; 2]) -> Vec<Picked> {
    let frame = [a, [b[0], a[1]], b, [a[0], b[1]]];
    let sockets = scene
        .marks
        .iter()
        .filter(|m| within(&frame, m.at))
        .map(|m| Picked::Socket(m.id.clone()));
    let parts = scene
        .bodies
        .iter()
        .filter(|p| p.seat.is_some() && within(&frame, p.low) && within(&frame, p.high))
        .map(|p| Picked::Part(p.id.clone()));
    sockets.chain(parts).collect()
}

#[cfg(test)]
mod tests {
    use lodewright_planner::kit::{Edit, Facing};

    use super::*;
    use crate::projection::look::Look;

    struct Table {
        plan: Plan,
        scene: Scene,
        state: SketchState,
    }

    impl Table {
        fn new() -> Self {
            let grid = Edit::PasteGrid("\tA\nRoof\tRack\nNose\t-\n".to_owned());
            let mut plan = Plan::empty("t").edited(&grid).unwrap();
            for socket in &mut plan.sockets {
                socket.at_mm = Some([0.0, 0.0, 15.0]);
            }
            let state = SketchState::of(&plan);
            let scene = Scene::of(&plan, state.variant.as_ref(), Look::from(Facing::Left));
            Self { plan, scene, state }
        }

        fn sight(&self) -> Sight<'_> {
            Sight {
                plan: &self.plan,
                scene: &self.scene,
                state: &self.state,
                screen: Screen {
                    corner: [0.0; 2],
                    size: [400.0; 2],
                },
                camera: Camera {
                    middle: [0.0; 2],
                    span: 100.0,
                },
            }
        }
    }

    #[test]
    fn a_trembling_finger_taps_and_a_moving_one_drags() {
        let table = Table::new();
        let sight = table.sight();
        let mut gestures = Gestures::default();
        let hit = Hit::Socket("roof".into());
        gestures.down(1, [200.0, 140.0], hit.clone(), sight.camera);
        gestures.moved(1, [203.0, 141.0], &sight);
        assert_eq!(gestures.up(1, &sight), Meant::Tap(hit.clone(), [0.0, 15.0]));
        gestures.down(1, [200.0, 140.0], hit.clone(), sight.camera);
        gestures.moved(1, [241.0, 140.0], &sight);
        // The roof and the nose begin at the same place: both middles are lines, but not the one on the move.
        assert!(
            matches!(&gestures.live, Live::Move(ids, by, _) if ids.len() == 1 && by[0] == 10.0)
        );
        assert!(matches!(gestures.up(1, &sight), Meant::Done(Live::Move(..), h) if h == hit));
    }

    #[test]
    fn a_part_begun_on_a_socket_grows_evenly_about_it() {
        let mut table = Table::new();
        table.state.tool = Tool::Draw(Kind::Box);
        let sight = table.sight();
        let begun = |hit: &Hit| drag(hit, &sight, [0.4, 15.0], [5.0, 27.0]);
        let Live::Draw(from, to) = begun(&Hit::Socket("roof".into())) else {
            panic!("a part is drawn");
        };
        assert_eq!((from, to.at), ([-5.0, 15.0], [5.0, 27.0]));
        let Live::Draw(from, _) = begun(&Hit::Bare) else {
            panic!("a part is drawn");
        };
        assert_eq!(from, [0.0, 15.0]);
    }

    #[test]
    fn two_fingers_zoom_and_pan_and_mean_nothing_else() {
        let table = Table::new();
        let sight = table.sight();
        let mut gestures = Gestures::default();
        assert!(gestures.down(1, [150.0, 200.0], Hit::Bare, sight.camera));
        assert!(!gestures.down(2, [250.0, 200.0], Hit::Bare, sight.camera));
        let camera = gestures.moved(2, [350.0, 200.0], &sight).unwrap();
        assert_eq!(camera.span, 50.0);
        // The place between the fingers went along with them.
        assert_eq!(sight.screen.place(&camera, [250.0, 200.0]), [0.0, 0.0]);
        assert_eq!(gestures.up(1, &sight), Meant::Nothing);
        assert_eq!(gestures.up(2, &sight), Meant::Nothing);
    }

    #[test]
    fn a_frame_picks_what_lies_within() {
        let table = Table::new();
        assert_eq!(
            banded(&table.scene, [-12.0, 10.0], [12.0, 40.0]),
            [
                Picked::Socket("roof".into()),
                Picked::Socket("nose".into()),
                Picked::Part("rack".into())
            ]
        );
        assert!(banded(&table.scene, [20.0, 20.0], [30.0, 30.0]).is_empty());
    }
}
