//! The outline of what touches in a joint.

use lodewright_planner::kit::Patch;
use yew::prelude::*;

use super::place::{points_of, points_text};
use crate::components::{Choice, NumberField, Segments, TextField};
use crate::store::Edited;

/// Props of [`PatchForm`].
#[derive(PartialEq, Properties)]
pub struct PatchFormProps {
    /// Begins the ids of the controls.
    pub id: AttrValue,
    /// The outline.
    pub patch: Patch,
    /// The in-plane axes in words.
    pub axes: Vec<AttrValue>,
    /// Takes another one.
    pub on_change: Edited<Patch>,
}

/// An outline of what touches.
#[component]
pub fn PatchForm(props: &PatchFormProps) -> Html {
    let id = |word: &str| format!("{}-{word}", props.id);
    let along = |n: usize| format!("Size {}", props.axes.get(n).cloned().unwrap_or_default());
    let (key, fields) = match props.patch {
        Patch::Rectangle {
            width_mm,
            height_mm,
        } => (
            "rectangle",
            html! {
                <div class="pair">
                    <NumberField id={id("width")} label={along(0)} unit="mm" value={width_mm} on_commit={props.on_change.reform(move |width_mm| Patch::Rectangle { width_mm, height_mm })} />
                    <NumberField id={id("height")} label={along(1)} unit="mm" value={height_mm} on_commit={props.on_change.reform(move |height_mm| Patch::Rectangle { width_mm, height_mm })} />
                </div>
            },
        ),
        Patch::Disc { diameter_mm } => (
            "disc",
            html! {
                <NumberField id={id("diameter")} label="Diameter" unit="mm" value={diameter_mm} on_commit={props.on_change.reform(|diameter_mm| Patch::Disc { diameter_mm })} />
            },
        ),
        Patch::Points(ref points) => (
            "points",
            html! {
                <TextField id={id("points")} label="Corners, mm: two numbers a line" value={points_text(points)} lines={true}
                    on_commit={let on = props.on_change.clone(); Callback::from(move |text: String| on.emit(Patch::Points(points_of(&text)?)))} />
            },
        ),
    };
    let options = vec![
        Choice::new("rectangle", "Rectangle"),
        Choice::new("disc", "Disc"),
        Choice::new("points", "Corners"),
    ];
    let old = props.patch.clone();
    html! {
        <>
            <Segments id={id("kind")} label="Outline" bare={true} {options} value={key} on_commit={props.on_change.reform(move |key: AttrValue| shaped(&old, &key))} />
            { fields }
        </>
    }
}

/// Another kind of outline, as large as the old one.
fn shaped(old: &Patch, key: &str) -> Patch {
    let outline = old.outline_mm();
    let extent = |axis: usize| {
        let of = outline.iter().filter_map(|p| p.get(axis).copied());
        of.clone().fold(f64::MIN, f64::max) - of.fold(f64::MAX, f64::min)
    };
    let (width_mm, height_mm) = (extent(0).clamp(0.5, 5000.0), extent(1).clamp(0.5, 5000.0));
    match key {
        "disc" => Patch::Disc {
            diameter_mm: width_mm.min(height_mm),
        },
        "points" => Patch::Points(
            Patch::Rectangle {
                width_mm,
                height_mm,
            }
            .outline_mm(),
        ),
        _ => Patch::Rectangle {
            width_mm,
            height_mm,
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn another_kind_of_outline_keeps_the_size() {
        let old = Patch::Rectangle {
            width_mm: 12.0,
            height_mm: 8.0,
        };
        assert_eq!(shaped(&old, "disc"), Patch::Disc { diameter_mm: 8.0 });
        assert_eq!(shaped(&shaped(&old, "points"), "rectangle"), old);
    }
}
