//! One mounting face of a part.

use lodewright_planner::kit::{
    Facing, Part, PartId, Patch, Plan, Plug, PlugId, PlugSiteRef, Site, SiteId,
};
use yew::prelude::*;

use super::patch_form::PatchForm;
use super::place::{axes_words, face, faces, fits};
use super::site_form::{SiteChange, SiteForm, SiteView, next_id};
use super::socket_form::xyz;
use crate::components::{
    Choice, NumberField, Segments, SelectField, Toggle, VectorFieldProps, vector_field,
};
use crate::shared::Shared;
use crate::store::{Edited, Store, use_store};

/// Props of [`PlugForm`].
#[derive(PartialEq, Properties)]
pub struct PlugFormProps {
    /// The plan.
    pub plan: Shared<Plan>,
    /// The part.
    pub part: PartId,
    /// The plug.
    pub plug: Plug,
}

/// A commit callback that changes one plug.
fn plug<V: 'static>(
    store: &Store,
    part: &PartId,
    id: &PlugId,
    change: impl Fn(&mut Plug, V) + 'static,
) -> Edited<V> {
    let id = id.clone();
    store.part(part, move |part: &mut Part, value| {
        if let Some(plug) = part.plugs.iter_mut().find(|p| p.id == id) {
            change(plug, value);
        }
    })
}

/// See the module. Keyed by the plug.
#[component]
pub fn PlugForm(props: &PlugFormProps) -> Html {
    let store = use_store();
    let (part, p) = (&props.part, &props.plug);
    let id = |word: &str| format!("plug-{}-{word}", p.id);
    let facing = plug(&store, part, &p.id, |p, word: AttrValue| {
        p.facing = face(&word)
    });
    let any_face: Vec<_> = std::iter::once(Choice::new("", "whichever meets the socket"))
        .chain(faces())
        .collect();
    html! {
        <>
            <SelectField id={id("face")} label={"Lies on the part\u{2019}s"} options={any_face} value={p.facing.map(|f| f.word()).unwrap_or_default()} on_commit={facing} />
            <Toggle id={id("peg")} label="Keeps its peg" value={p.keeps_peg} on_commit={plug(&store, part, &p.id, |p, v| p.keeps_peg = v)} hint="A peg that is cut off cannot be put back." />
            <NumberField id={id("thickness")} label="Thickness, where the part can be turned over on it" unit="mm" value={p.thickness_mm} placeholder="no"
                on_commit={plug(&store, part, &p.id, |p, v| p.thickness_mm = Some(v))} on_clear={plug(&store, part, &p.id, |p, ()| p.thickness_mm = None)} />
            { place(props, &store) }
            { outline(props, &store) }
            { sites(props, &store) }
        </>
    }
}

fn place(props: &PlugFormProps, store: &Store) -> Html {
    let (part, p) = (&props.part, &props.plug);
    let at = plug(store, part, &p.id, |p, (n, v): (usize, f64)| {
        let mut at = p.at_mm.unwrap_or_default();
        if let Some(x) = at.get_mut(n) {
            *x = v;
        }
        p.at_mm = Some(at);
    });
    html! {
        <>
            { vector_field(&yew::props!(VectorFieldProps { id: format!("plug-{}-at", p.id), label: "Middle of the face, in the part\u{2019}s axes", axes: xyz(), values: p.at_mm.map(Vec::from), unit: "mm", placeholder: "middle", on_commit: at, on_clear: plug(store, part, &p.id, |p, ()| p.at_mm = None) })) }
            <NumberField id={format!("plug-{}-spin", p.id)} label="Turned on the face by" unit={"\u{b0}"} value={p.spin_deg} on_commit={plug(store, part, &p.id, |p, v| p.spin_deg = v)} />
        </>
    }
}

fn outline(props: &PlugFormProps, store: &Store) -> Html {
    let (part, p) = (&props.part, &props.plug);
    let own = plug(store, part, &p.id, |p, own: bool| {
        p.patch = own.then_some(Patch::Rectangle {
            width_mm: 10.0,
            height_mm: 10.0,
        });
    });
    html! {
        <>
            <Toggle id={format!("plug-{}-own-patch", p.id)} label={"Touches on less than the socket\u{2019}s outline"} value={p.patch.is_some()} on_commit={own} />
            if let Some(patch) = &p.patch {
                <PatchForm id={format!("plug-{}-patch", p.id)} axes={axes(p)} patch={patch.clone()} on_change={plug(store, part, &p.id, |p, patch| p.patch = Some(patch))} />
            }
        </>
    }
}

fn sites(props: &PlugFormProps, store: &Store) -> Html {
    let (part, p) = (&props.part, &props.plug);
    let own = plug(store, part, &p.id, |p, key: AttrValue| {
        p.sites = (key == "own").then(|| vec![Site::plain(SiteId::new("a"))]);
    });
    let options = vec![
        Choice::new("facing", "One opposite each of the socket\u{2019}s"),
        Choice::new("own", "Places of its own"),
    ];
    let add = {
        let add = plug(store, part, &p.id, |p, ()| {
            let sites = p.sites.get_or_insert_default();
            let id = next_id(sites.iter().map(|s| &s.id));
            sites.push(Site::plain(id));
        });
        Callback::from(move |_: MouseEvent| {
            let _ = add.emit(());
        })
    };
    html! {
        <>
            <Segments id={format!("plug-{}-sites", p.id)} label="Sites" {options} value={if p.sites.is_some() { "own" } else { "facing" }} on_commit={own} />
            if let Some(sites) = &p.sites {
                { for sites.iter().map(|s| site(props, s, store)) }
                <div><button type="button" class="button" data-test={format!("plug-{}-add-site", p.id)} onclick={add}>{ "Add a site" }</button></div>
            }
        </>
    }
}

fn site(props: &PlugFormProps, site: &Site<PlugSiteRef>, store: &Store) -> Html {
    let (part, p) = (&props.part, &props.plug);
    let through = site
        .through
        .as_ref()
        .map(|f| format!("{}/{}", f.plug, f.site))
        .unwrap_or_default();
    let id = site.id.clone();
    let on_change = plug(store, part, &p.id, move |p, change: SiteChange| {
        let Some(site) = p.sites.iter_mut().flatten().find(|s| s.id == id) else {
            return;
        };
        match change {
            SiteChange::Through(key) => {
                site.through = key.split_once('/').map(|(plug, site)| PlugSiteRef {
                    plug: plug.into(),
                    site: site.into(),
                })
            }
            other => other.make(site),
        }
    });
    let drop_site = plug(store, part, &p.id, |p, id: SiteId| {
        if let Some(sites) = &mut p.sites {
            sites.retain(|s| s.id != id);
        }
    });
    html! {
        <SiteForm key={site.id.to_string()} id={format!("plug-{}-site-{}", p.id, site.id)} site={SiteView::of(site, through)} axes={axes(p)} fits={fits(&props.plan)}
            others={others(props)} {on_change} on_drop={Callback::from(move |id| { let _ = drop_site.emit(id); })} />
    }
}

/// The axes in words: those of the socket that it meets, which looks the other way.
fn axes(plug: &Plug) -> Vec<AttrValue> {
    axes_words(plug.facing.unwrap_or(Facing::Down).opposite())
}

/// Sites of the part's other plugs: the other ends that a hole can have.
fn others(props: &PlugFormProps) -> Vec<Choice> {
    let plugs = props
        .plan
        .part(&props.part)
        .map(|p| p.plugs.as_slice())
        .unwrap_or_default();
    let near = plugs.iter().filter(|o| o.id != props.plug.id);
    near.flat_map(|o| {
        o.sites.iter().flatten().map(|s| {
            Choice::new(
                format!("{}/{}", o.id, s.id),
                format!("plug {}, site {}", o.id, s.id),
            )
        })
    })
    .collect()
}
