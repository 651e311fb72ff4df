//! One place for a magnet or a piece of steel.

use lodewright_planner::kit::{Fit, Pole, Site, SiteId};
use yew::prelude::*;

use super::place::{fit_key, fit_of, pole_of, poles};
use crate::components::{
    Choice, NumberField, Segments, SelectField, VectorFieldProps, vector_field,
};
use crate::store::Edited;

/// One change of a site; who holds the site makes the edit.
#[derive(Clone, Debug, PartialEq)]
pub enum SiteChange {
    /// One coordinate, mm.
    At(usize, f64),
    /// Largest hole, mm.
    MaxDiameter(f64),
    /// Deepest hole, mm.
    MaxDepth(f64),
    /// Material found behind the face, mm.
    Measured(Option<f64>),
    /// Wall left, mm.
    Wall(f64),
    /// What goes in.
    Fit(Fit),
    /// The pole that faces out.
    Pole(Option<Pole>),
    /// The other end of the hole, by the key that was offered; empty for none.
    Through(AttrValue),
}

impl SiteChange {
    /// Makes the change, where it needs nobody else: all but the other end of the hole.
    pub fn make<Far>(self, site: &mut Site<Far>) {
        match self {
            Self::At(n, v) => {
                if let Some(at) = site.at_mm.get_mut(n) {
                    *at = v;
                }
            }
            Self::MaxDiameter(v) => site.max_diameter_mm = v,
            Self::MaxDepth(v) => site.max_depth_mm = v,
            Self::Measured(v) => site.measured_mm = v,
            Self::Wall(v) => site.wall_mm = v,
            Self::Fit(fit) => site.fit = fit,
            Self::Pole(pole) => site.pole = pole,
            Self::Through(_) => {}
        }
    }
}

/// What the form shows of a site, whichever side it is on.
#[derive(Clone, Debug, PartialEq)]
pub struct SiteView {
    /// Its id.
    pub id: SiteId,
    at_mm: [f64; 2],
    max_diameter_mm: f64,
    max_depth_mm: f64,
    measured_mm: Option<f64>,
    wall_mm: f64,
    through: AttrValue,
    fit: Fit,
    pole: Option<Pole>,
}

impl SiteView {
    /// Of a site whose other end has this key.
    pub fn of<Far>(site: &Site<Far>, through: String) -> Self {
        Self {
            id: site.id.clone(),
            at_mm: site.at_mm,
            max_diameter_mm: site.max_diameter_mm,
            max_depth_mm: site.max_depth_mm,
            measured_mm: site.measured_mm,
            wall_mm: site.wall_mm,
            through: through.into(),
            fit: site.fit.clone(),
            pole: site.pole,
        }
    }
}

/// Props of [`SiteForm`].
#[derive(PartialEq, Properties)]
pub struct SiteFormProps {
    /// Begins the ids of the controls.
    pub id: AttrValue,
    /// The site.
    pub site: SiteView,
    /// The in-plane axes in words.
    pub axes: Vec<AttrValue>,
    /// What may go in.
    pub fits: Vec<Choice>,
    /// Sites that may be the other end of the same hole.
    pub others: Vec<Choice>,
    /// Takes a change.
    pub on_change: Edited<SiteChange>,
    /// Takes the site away.
    pub on_drop: Callback<SiteId>,
}

/// See the module.
#[component]
pub fn SiteForm(props: &SiteFormProps) -> Html {
    let site = &props.site;
    let id = |word: &str| format!("{}-{word}", props.id);
    let number = |word: &'static str,
                  label: &'static str,
                  value: f64,
                  make: fn(f64) -> SiteChange| {
        html! { <NumberField id={id(word)} {label} unit="mm" value={value} on_commit={props.on_change.reform(make)} /> }
    };
    let drop_site = {
        let (on_drop, site) = (props.on_drop.clone(), site.id.clone());
        Callback::from(move |_: MouseEvent| on_drop.emit(site.clone()))
    };
    html! {
        <div class="site" role="group" aria-label={format!("Site {}", site.id)}>
            <div class="site-head">
                <h3>{ format!("Site {}", site.id) }</h3>
                <button type="button" class="button is-quiet is-small" data-test={id("drop")} onclick={drop_site}>{ "Remove" }</button>
            </div>
            { vector_field(&yew::props!(VectorFieldProps { id: id("at"), label: "Centre, from the middle of the joint", axes: props.axes.clone(), values: site.at_mm.to_vec(), unit: "mm", on_commit: props.on_change.reform(|(n, v)| SiteChange::At(n, v)) })) }
            <div class="pair">
                { number("max-diameter", "Widest hole", site.max_diameter_mm, SiteChange::MaxDiameter) }
                { number("max-depth", "Deepest hole", site.max_depth_mm, SiteChange::MaxDepth) }
                { number("wall", "Wall left in front", site.wall_mm, SiteChange::Wall) }
                <NumberField id={id("measured")} label="Measured here" unit="mm" value={site.measured_mm} placeholder="from the part" hint="How much plastic a needle or a caliper finds behind the face."
                    on_commit={props.on_change.reform(|v| SiteChange::Measured(Some(v)))} on_clear={props.on_change.reform(|()| SiteChange::Measured(None))} />
            </div>
            <div class="pair">
                <SelectField id={id("fit")} label="What goes in" options={props.fits.clone()} value={fit_key(&site.fit)}
                    on_commit={props.on_change.reform(|key: AttrValue| SiteChange::Fit(fit_of(&key).unwrap_or_default()))} />
                if !props.others.is_empty() {
                    <SelectField id={id("through")} label="Goes right through to" options={with_none(&props.others)} value={&site.through}
                        on_commit={props.on_change.reform(SiteChange::Through)} />
                }
            </div>
            <Segments id={id("pole")} label="Pole, where it is glued already or wished for" options={poles()}
                value={site.pole.map(Pole::letter).unwrap_or_default()} on_commit={props.on_change.reform(|key: AttrValue| SiteChange::Pole(pole_of(&key)))} />
        </div>
    }
}

fn with_none(others: &[Choice]) -> Vec<Choice> {
    let none = Choice::new("", "nowhere: a blind hole");
    std::iter::once(none)
        .chain(others.iter().cloned())
        .collect()
}

/// The next free letter for a site.
pub fn next_id<'a>(taken: impl Iterator<Item = &'a SiteId> + Clone) -> SiteId {
    let words = ('a'..='z')
        .map(String::from)
        .chain((1..100).map(|n| format!("s{n}")));
    let free = words
        .into_iter()
        .find(|w| taken.clone().all(|t| t.as_str() != w));
    SiteId::new(free.unwrap_or_else(|| "a".to_owned()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_new_site_gets_the_next_letter() {
        let taken = ["a", "c"].map(SiteId::from);
        assert_eq!(next_id(taken.iter()).as_str(), "b");
        assert_eq!(next_id(std::iter::empty::<&SiteId>()).as_str(), "a");
    }
}
