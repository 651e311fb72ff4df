//! Placing the sockets that have no place yet, one after the other: which comes next, and what a tap comes to. No web types.

use lodewright_planner::kit::{Edit, Facing, PartId, Plan, Socket, SocketId, Variant};

use super::edits::place_on;
use super::sketch_state::SketchState;
use crate::projection::scene::{Body, Scene};

/// The socket that is to be placed next: the first without a place that is not put off and whose host can be shown.
pub fn next<'p>(plan: &'p Plan, state: &SketchState) -> Option<&'p Socket> {
    let wanted = |s: &&Socket| !s.is_placed() && !state.put_off.contains(&s.id);
    let shown = |s: &&Socket| shows(plan, None, &s.host);
    plan.sockets.iter().filter(wanted).find(shown)
}

/// How many sockets have no place yet.
pub fn left(plan: &Plan) -> usize {
    plan.sockets.iter().filter(|s| !s.is_placed()).count()
}

/// The state with the variant that shows the host of the socket to be placed.
pub fn showing_host(plan: &Plan, state: SketchState) -> SketchState {
    let Some(host) = next(plan, &state).map(|s| s.host.clone()) else {
        return state;
    };
    let now = state.variant.as_ref().and_then(|id| plan.variant(id));
    let is_shown =
        |v: Option<&Variant>| host == plan.base || v.is_some_and(|v| shows(plan, Some(v), &host));
    if is_shown(now) {
        return state;
    }
    let other = plan.variants.iter().find(|v| is_shown(Some(v)));
    let variant = other.map(|v| v.id.clone());
    state.with(|s| s.variant = variant)
}

/// Whether a part stands on the drawing: by the first choices of a variant (of any one), on sockets that are placed.
fn shows(plan: &Plan, variant: Option<&Variant>, part: &PartId) -> bool {
    let mut at = part.clone();
    // No part stands on itself, but a plan in the making may say so.
    for _ in 0..plan.sockets.len() + 1 {
        if at == plan.base {
            return true;
        }
        let variants = match variant {
            Some(v) => std::slice::from_ref(v),
            None => plan.variants.as_slice(),
        };
        let cells = variants.iter().flat_map(|v| &v.cells);
        let mut hosts = cells
            .filter(|c| c.seats.first().is_some_and(|s| s.part == at))
            .filter_map(|c| plan.socket(&c.socket).filter(|s| s.is_placed()));
        match hosts.next() {
            Some(socket) => at = socket.host.clone(),
            None => return false,
        }
    }
    false
}

/// A tap on a face of a body: the socket sits there, or why not.
pub fn tapped(
    plan: &Plan,
    scene: &Scene,
    socket: &Socket,
    (body, face): (&Body, Facing),
    at: [f64; 2],
) -> Result<Edit, String> {
    let host = &plan.parts[body.part];
    if host.id != socket.host {
        let wanted = plan.part(&socket.host).map_or("", |p| &p.name);
        return Err(format!(
            "{} is on {wanted}, and that is {}. Tap on {wanted}, or say in Parts that it is on another part.",
            socket.name, host.name
        ));
    }
    let mut placed = socket.clone();
    (placed.facing, placed.at_mm) = (face, Some(place_on(host, &scene.look, body, face, at)));
    Ok(Edit::PutSocket(Box::new(placed)))
}

/// A socket in the middle of the face that it is on.
pub fn in_the_middle(plan: &Plan, id: &SocketId) -> Option<Edit> {
    let socket = plan.socket(id)?;
    let middle = Socket {
        at_mm: None,
        ..socket.clone()
    };
    let at_mm = Some(middle.frame(plan.part(&socket.host)?).origin_mm);
    Some(Edit::PutSocket(Box::new(Socket { at_mm, ..middle })))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pages::sketch::sketch_state::Tool;
    use crate::projection::look::Look;

    fn plan() -> Plan {
        let grid = "\tA\tB\nRoof\tRack\tRack\nNose\tPlough\tHook\nLamp\t-\tBulb\n".to_owned();
        let mut plan = Plan::empty("t").edited(&Edit::PasteGrid(grid)).unwrap();
        // The roof sits on the hook, which only the second variant has.
        plan.sockets[0].host = "hook".into();
        plan
    }

    fn name(plan: &Plan, state: &SketchState) -> String {
        next(plan, state).map_or(String::new(), |s| s.name.clone())
    }

    #[test]
    fn hosts_come_before_what_sits_on_them_and_are_shown() {
        let mut plan = plan();
        let state = SketchState::of(&plan);
        assert_eq!(state.tool, Tool::Place);
        assert_eq!((left(&plan), name(&plan, &state).as_str()), (3, "Nose"));
        let later = state.with(|s| s.put_off.push("nose".into()));
        assert_eq!(name(&plan, &later), "Lamp");
        plan = plan
            .edited(&in_the_middle(&plan, &"nose".into()).unwrap())
            .unwrap();
        assert_eq!(plan.sockets[1].at_mm, Some([0.0, 0.0, 15.0]));
        // Now the hook stands in the second variant, and the roof can be put on it.
        assert_eq!(name(&plan, &state), "Roof");
        let shown = showing_host(&plan, state.clone());
        assert_eq!(shown.variant, Some("b".into()));
        for id in ["roof", "lamp"] {
            plan = plan
                .edited(&in_the_middle(&plan, &id.into()).unwrap())
                .unwrap();
        }
        assert_eq!((left(&plan), name(&plan, &state).as_str()), (0, ""));
        assert_eq!(SketchState::of(&plan).tool, Tool::Move);
    }

    #[test]
    fn a_tap_places_it_on_its_own_host_only() {
        let mut plan = plan();
        let look = Look::from(Facing::Left);
        plan = plan
            .edited(&in_the_middle(&plan, &"nose".into()).unwrap())
            .unwrap();
        let scene = Scene::of(&plan, Some(&"b".into()), look);
        let (body, face) = scene.face_at([-20.0, 5.0], 3.0).unwrap();
        let lamp = plan.socket(&"lamp".into()).unwrap();
        let edit = tapped(&plan, &scene, lamp, (body, face), [-20.0, 5.0]).unwrap();
        let there = plan.edited(&edit).unwrap();
        let lamp = there.socket(&"lamp".into()).unwrap();
        assert_eq!(
            (lamp.facing, lamp.at_mm),
            (Facing::Left, Some([20.0, 20.0, 5.0]))
        );
        let roof = plan.socket(&"roof".into()).unwrap();
        let refused = tapped(&plan, &scene, roof, (body, face), [0.0; 2]).unwrap_err();
        assert!(
            refused.starts_with("Roof is on Hook, and that is Base."),
            "{refused}"
        );
    }
}
