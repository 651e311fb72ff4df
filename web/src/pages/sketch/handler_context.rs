//! Everything that a handler of the drawing reads, as it was at the last render.

use std::rc::Rc;

use lodewright_planner::kit::{Edit, Plan};
use web_sys::Element;
use yew::prelude::*;

use super::gestures::Sight;
use super::sketch_state::Sketch;
use crate::projection::look::{Camera, Screen};
use crate::projection::scene::Scene;
use crate::shared::Shared;
use crate::store::{Action, Store};

/// See the module.
#[derive(Clone)]
pub struct HandlerContext {
    /// The store.
    pub store: Store,
    /// The plan.
    pub plan: Shared<Plan>,
    /// What is drawn.
    pub scene: Rc<Scene>,
    /// What is shown and picked.
    pub sketch: Sketch,
    /// What is in sight.
    pub camera: Camera,
    /// Takes another sight.
    pub on_camera: Callback<Camera>,
    /// The drawing.
    pub svg: NodeRef,
}

impl HandlerContext {
    /// What is needed to read a finger.
    pub fn sight(&self) -> Option<Sight<'_>> {
        let rect = self.svg.cast::<Element>()?.get_bounding_client_rect();
        Some(Sight {
            plan: &self.plan,
            scene: &self.scene,
            state: &self.sketch,
            screen: Screen {
                corner: [rect.left(), rect.top()],
                size: [rect.width(), rect.height()],
            },
            camera: self.camera,
        })
    }

    /// Carries edits out as one.
    pub fn make(&self, label: &'static str, edits: impl IntoIterator<Item = Edit>) {
        let edits: Vec<_> = edits.into_iter().collect();
        if !edits.is_empty() {
            self.store.send(Action::EditAll { label, edits });
        }
    }
}
