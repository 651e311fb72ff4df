//! What the drawing shows and what a finger does on it. No web types but the words.

use std::ops::Deref;

use lodewright_planner::kit::{Drawn, Facing, PartId, Plan, SocketId, VariantId};
use yew::{AttrValue, Callback};

/// What a finger does on the bare drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tool {
    /// Picks and moves.
    Move,
    /// Puts sockets.
    Socket,
    /// Gives the sockets without a place one, one after the other.
    Place,
    /// Draws parts of a shape.
    Draw(Kind),
    /// Taps the ends of a known length in the picture.
    Measure,
    /// Moves the picture.
    Slide,
}

/// The shapes that are drawn, without what is only known once they are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// See [`Drawn::Box`].
    Box,
    /// See [`Drawn::Plate`].
    Plate,
    /// See [`Drawn::Barrel`].
    Barrel,
    /// See [`Drawn::Frame`].
    Frame,
    /// See [`Drawn::Figure`].
    Figure,
    /// See [`Drawn::Outline`].
    Outline,
}

impl Kind {
    /// All of them.
    pub const ALL: [Self; 6] = [
        Self::Box,
        Self::Plate,
        Self::Barrel,
        Self::Frame,
        Self::Figure,
        Self::Outline,
    ];

    /// The shape; an outline has no corners yet.
    pub fn drawn(self) -> Drawn {
        match self {
            Self::Box => Drawn::Box,
            Self::Plate => Drawn::Plate,
            Self::Barrel => Drawn::Barrel,
            Self::Frame => Drawn::Frame,
            Self::Figure => Drawn::Figure,
            Self::Outline => Drawn::Outline {
                seen_from: Facing::Left,
                points_mm: Vec::new(),
            },
        }
    }
}

/// Something that is picked.
#[derive(Clone, Debug, PartialEq)]
pub enum Picked {
    /// A socket.
    Socket(SocketId),
    /// A part.
    Part(PartId),
}

/// See the module.
#[derive(Clone, Debug, PartialEq)]
pub struct SketchState {
    /// The side that is looked at.
    pub side: Facing,
    /// The variant that stands there; none for the base alone.
    pub variant: Option<VariantId>,
    /// Another variant, to see what goes and what comes.
    pub other: Option<VariantId>,
    /// What a finger does.
    pub tool: Tool,
    /// What is picked.
    pub picked: Vec<Picked>,
    /// Whether a tap adds to what is picked.
    pub several: bool,
    /// Sockets that are to be placed later.
    pub put_off: Vec<SocketId>,
    /// Corners of an outline on its way, mm.
    pub outline: Vec<[f64; 2]>,
    /// Counts the wishes to have everything in sight.
    pub fits: u32,
    /// What was done last, in words.
    pub said: AttrValue,
}

impl SketchState {
    /// At the beginning: a plan without sockets asks for some, and sockets without a place for one.
    pub fn of(plan: &Plan) -> Self {
        Self {
            side: Facing::Left,
            variant: plan.variants.first().map(|v| v.id.clone()),
            other: None,
            tool: if plan.sockets.is_empty() {
                Tool::Socket
            } else if plan.sockets.iter().any(|s| !s.is_placed()) {
                Tool::Place
            } else {
                Tool::Move
            },
            put_off: Vec::new(),
            picked: Vec::new(),
            several: false,
            outline: Vec::new(),
            fits: 0,
            said: AttrValue::default(),
        }
    }

    /// Without what the plan no longer has.
    pub fn pruned(&self, plan: &Plan) -> Self {
        let there = |v: &VariantId| plan.variant(v).is_some();
        let mut next = self.clone();
        next.variant = next.variant.filter(there).or_else(|| {
            (self.variant.is_some()).then(|| Some(plan.variants.first()?.id.clone()))?
        });
        next.other = next
            .other
            .filter(|v| there(v) && next.variant.as_ref() != Some(v));
        next.picked.retain(|p| match p {
            Picked::Socket(id) => plan.socket(id).is_some(),
            Picked::Part(id) => plan.part(id).is_some(),
        });
        next
    }

    /// The picked sockets.
    pub fn sockets(&self) -> Vec<SocketId> {
        let of = |p: &Picked| match p {
            Picked::Socket(id) => Some(id.clone()),
            Picked::Part(_) => None,
        };
        self.picked.iter().filter_map(of).collect()
    }

    /// The picked parts.
    pub fn parts(&self) -> Vec<PartId> {
        let of = |p: &Picked| match p {
            Picked::Part(id) => Some(id.clone()),
            Picked::Socket(_) => None,
        };
        self.picked.iter().filter_map(of).collect()
    }

    /// The only picked socket.
    pub fn socket(&self) -> Option<SocketId> {
        match self.picked.as_slice() {
            [Picked::Socket(id)] => Some(id.clone()),
            _ => None,
        }
    }

    /// After a tap on something.
    pub fn tapped(&self, what: Picked) -> Self {
        let mut next = self.clone();
        let there = next.picked.iter().position(|p| *p == what);
        match (self.several, there) {
            (true, Some(n)) => drop(next.picked.remove(n)),
            (true, None) => next.picked.push(what),
            (false, _) => next.picked = vec![what],
        }
        next
    }

    /// With a change.
    pub fn with(&self, change: impl FnOnce(&mut Self)) -> Self {
        let mut next = self.clone();
        change(&mut next);
        next
    }

    /// With words for what was done.
    pub fn saying(&self, said: impl Into<AttrValue>) -> Self {
        self.with(|s| s.said = said.into())
    }

    /// With another tool; an outline on its way is dropped.
    pub fn taking(&self, tool: Tool) -> Self {
        self.with(|s| {
            s.tool = tool;
            s.outline.clear();
        })
    }

    /// Seen from another side; an outline on its way is dropped.
    pub fn seen_from(&self, side: Facing) -> Self {
        self.with(|s| {
            s.side = side;
            s.outline.clear();
        })
    }
}

/// The state as a component holds it, with the way to another.
#[derive(Clone, Debug, PartialEq)]
pub struct Sketch {
    state: SketchState,
    on_state: Callback<SketchState>,
}

impl Sketch {
    /// A state, and what takes another.
    pub fn new(state: SketchState, on_state: Callback<SketchState>) -> Self {
        Self { state, on_state }
    }

    /// Goes over to another state.
    pub fn set(&self, next: SketchState) {
        self.on_state.emit(next);
    }

    /// Changes the state.
    pub fn change(&self, change: impl FnOnce(&mut SketchState)) {
        self.set(self.state.with(change));
    }
}

impl Deref for Sketch {
    type Target = SketchState;

    fn deref(&self) -> &SketchState {
        &self.state
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn taps_pick_one_or_several() {
        let a = Picked::Socket("a".into());
        let b = Picked::Part("base".into());
        let mut state = SketchState::of(&Plan::empty("t"));
        assert_eq!(state.tool, Tool::Socket);
        state = state.tapped(a.clone()).tapped(b.clone());
        assert!(state.picked.as_slice() == std::slice::from_ref(&b));
        state.several = true;
        state = state.tapped(a);
        assert_eq!(state.picked.len(), 2);
        assert_eq!(state.tapped(b).picked.len(), 1);
        // The socket is not in this plan.
        assert_eq!(state.pruned(&Plan::empty("t")).picked.len(), 1);
    }
}
