//! Everything about one socket.

use lodewright_planner::kit::{
    Attach, Edit, PegKind, Plan, Site, SiteId, Socket, SocketId, SocketSiteRef,
};
use yew::prelude::*;

use super::patch_form::PatchForm;
use super::place::{axes_words, face, faces, fits, part_choices, patch_words};
use super::site_form::{SiteChange, SiteForm, SiteView, next_id};
use crate::components::{
    Choice, Disclosure, NumberField, Segments, SelectField, TextField, Toggle, VectorFieldProps,
    vector_field,
};
use crate::format;
use crate::pages::kept_apart::kept_apart;
use crate::pages::presets::Presets;
use crate::store::{Edited, OpenPlan, Store, use_store};

/// Props of [`SocketForm`].
#[derive(PartialEq, Properties)]
pub struct SocketFormProps {
    /// The open plan.
    pub open: OpenPlan,
    /// The socket.
    pub socket: Socket,
}

/// See the module. Keyed by the socket.
#[component]
pub fn SocketForm(props: &SocketFormProps) -> Html {
    let store = use_store();
    let (plan, s) = (&props.open.plan, &props.socket);
    let id = &s.id;
    let remove = {
        let (store, id) = (store.clone(), id.clone());
        Callback::from(move |_: MouseEvent| store.edit(Edit::DropSocket(id.clone())))
    };
    html! {
        <div class="form" data-test="socket-form">
            <div class="split-head"><h2>{ &s.name }</h2><button type="button" class="button is-small" data-test="socket-drop" onclick={remove}>{ "Remove the socket" }</button></div>
            <TextField id="socket-name" label="Name" value={s.name.clone()} on_commit={store.socket(id, |s, name: String| s.name = name.trim().to_owned())} />
            <div class="pair">
                <SelectField id="socket-host" label="On the part" options={part_choices(plan)} value={s.host.to_string()}
                    on_commit={store.socket(id, |s, key: AttrValue| s.host = key.as_str().into())} />
                <SelectField id="socket-face" label="On its" options={faces()} value={s.facing.word()}
                    on_commit={store.socket(id, |s, word: AttrValue| if let Some(f) = face(&word) { s.facing = f })} />
            </div>
            <Presets key={id.to_string()} socket={id.clone()} />
            { attach(s, &store) }
            { kept_apart(s, &store) }
            <div>
                <Disclosure id="socket-patch" title="What touches" summary={patch_words(&s.patch)} open={true}>{ patch(s, &store) }</Disclosure>
                <Disclosure id="socket-sites" title="Sites" summary={format::count(s.sites.len(), "place for a magnet or steel", "places for magnets or steel")} open={true}>{ sites(plan, s, &store) }</Disclosure>
                <Disclosure id="socket-peg" title="Pegs" summary={peg_word(s.peg.kind)}>{ peg(s, &store) }</Disclosure>
                <Disclosure id="socket-place" title="Where on the face" summary={place_words(s)}>{ place(s, &store) }</Disclosure>
            </div>
        </div>
    }
}

fn attach(s: &Socket, store: &Store) -> Html {
    let key = match s.attach {
        Attach::Magnets => "magnets",
        Attach::Friction(_) => "friction",
        Attach::Loose => "loose",
    };
    let options = vec![
        Choice::new("magnets", "Magnets or steel"),
        Choice::new("friction", "A snug pin"),
        Choice::new("loose", "Nothing"),
    ];
    let on_commit = store.socket(&s.id, |s, key: AttrValue| {
        s.attach = match key.as_str() {
            "friction" => Attach::Friction(1.0),
            "loose" => Attach::Loose,
            _ => Attach::Magnets,
        };
    });
    html! {
        <>
            <Segments id="socket-attach" label="Held by" {options} value={key} {on_commit} />
            if s.attach == Attach::Magnets {
                <NumberField id="socket-may-pin" label="A friction pin may stand in" unit="N" placeholder="magnets only" value={s.may_pin_n}
                    hint={"The pull that frees such a pin, by your own try. The search for the fewest magnets then takes the pin where it holds."}
                    on_commit={store.socket(&s.id, |s, v| s.may_pin_n = Some(v))} on_clear={store.socket(&s.id, |s, ()| s.may_pin_n = None)} />
            }
            if let Attach::Friction(pull_n) = s.attach {
                <NumberField id="socket-friction" label="Pull that frees the pin" unit="N" value={pull_n} on_commit={store.socket(&s.id, |s, v| s.attach = Attach::Friction(v))} />
            }
        </>
    }
}

fn patch(s: &Socket, store: &Store) -> Html {
    html! { <PatchForm id="socket-patch" axes={axes_words(s.facing)} patch={s.patch.clone()} on_change={store.socket(&s.id, |s, patch| s.patch = patch)} /> }
}

fn sites(plan: &Plan, s: &Socket, store: &Store) -> Html {
    let on_drop = dropped(&s.id, store);
    let add = {
        let add = store.socket(&s.id, |s, ()| {
            s.sites
                .push(Site::plain(next_id(s.sites.iter().map(|x| &x.id))))
        });
        Callback::from(move |_: MouseEvent| {
            let _ = add.emit(());
        })
    };
    let others = others(plan, s);
    let form = |site: &Site<SocketSiteRef>| {
        let through = site
            .through
            .as_ref()
            .map(|f| format!("{}/{}", f.socket, f.site))
            .unwrap_or_default();
        html! {
            <SiteForm key={site.id.to_string()} id={format!("site-{}", site.id)} site={SiteView::of(site, through)} axes={axes_words(s.facing)} fits={fits(plan)}
                others={others.clone()} on_change={changed(&s.id, &site.id, store)} on_drop={on_drop.clone()} />
        }
    };
    html! {
        <>
            { for s.sites.iter().map(form) }
            <div><button type="button" class="button" data-test="add-site" onclick={add}>{ "Add a site" }</button></div>
        </>
    }
}

/// Sites of other sockets on the same host: the other ends that a hole can have.
fn others(plan: &Plan, s: &Socket) -> Vec<Choice> {
    let near = plan
        .sockets
        .iter()
        .filter(|o| o.host == s.host && o.id != s.id);
    near.flat_map(|o| {
        o.sites.iter().map(|x| {
            Choice::new(
                format!("{}/{}", o.id, x.id),
                format!("{}, site {}", o.name, x.id),
            )
        })
    })
    .collect()
}

fn changed(socket: &SocketId, site: &SiteId, store: &Store) -> Edited<SiteChange> {
    let site = site.clone();
    store.socket(socket, move |s, change: SiteChange| {
        let Some(site) = s.sites.iter_mut().find(|x| x.id == site) else {
            return;
        };
        match change {
            SiteChange::Through(key) => {
                site.through = key.split_once('/').map(|(socket, site)| SocketSiteRef {
                    socket: socket.into(),
                    site: site.into(),
                })
            }
            other => other.make(site),
        }
    })
}

fn dropped(socket: &SocketId, store: &Store) -> Callback<SiteId> {
    let drop_site = store.socket(socket, |s, id: SiteId| s.sites.retain(|x| x.id != id));
    let store = store.clone();
    Callback::from(move |id| {
        if let Err(said) = drop_site.emit(id) {
            store.send(crate::store::Action::Tell(crate::store::Notice::refused(
                said,
            )));
        }
    })
}

const PEGS: [(PegKind, &str, &str); 4] = [
    (PegKind::None, "none", "None"),
    (PegKind::Round, "round", "One round"),
    (PegKind::Two, "two", "Two"),
    (PegKind::Keyed, "keyed", "Keyed"),
];

fn peg_word(kind: PegKind) -> &'static str {
    PEGS.iter()
        .find(|(k, ..)| *k == kind)
        .map_or("", |(_, _, word)| word)
}

fn peg(s: &Socket, store: &Store) -> Html {
    let key = PEGS
        .iter()
        .find(|(k, ..)| *k == s.peg.kind)
        .map_or("", |(_, key, _)| key);
    let options: Vec<_> = PEGS
        .iter()
        .map(|(_, key, word)| Choice::new(*key, *word))
        .collect();
    let kind = store.socket(&s.id, |s, key: AttrValue| {
        if let Some((kind, ..)) = PEGS.iter().find(|(_, k, _)| *k == key.as_str()) {
            s.peg.kind = *kind;
        }
    });
    html! {
        <>
            <Segments id="socket-peg-kind" label="Pegs" bare={true} {options} value={key} on_commit={kind} />
            if s.peg.kind != PegKind::None {
                { vector_field(&yew::props!(VectorFieldProps { id: "socket-peg-at", label: "Centre of the first peg, from the middle of the joint", axes: axes_words(s.facing), values: s.peg.at_mm.to_vec(), unit: "mm", on_commit: store.socket(&s.id, |s, (n, v): (usize, f64)| if let Some(at) = s.peg.at_mm.get_mut(n) { *at = v }) })) }
                <div class="pair">
                    <NumberField id="socket-peg-diameter" label="Across" unit="mm" value={s.peg.diameter_mm} on_commit={store.socket(&s.id, |s, v| s.peg.diameter_mm = v)} />
                    <NumberField id="socket-peg-length" label="Length in the hole" unit="mm" value={s.peg.length_mm} on_commit={store.socket(&s.id, |s, v| s.peg.length_mm = v)} />
                    <NumberField id="socket-peg-clearance" label="Clearance on the diameter" unit="mm" value={s.peg.clearance_mm} on_commit={store.socket(&s.id, |s, v| s.peg.clearance_mm = v)} />
                </div>
                <Toggle id="socket-peg-snug" label="Snug enough to carry tipping" value={s.peg.snug} on_commit={store.socket(&s.id, |s, v| s.peg.snug = v)} />
            }
        </>
    }
}

fn place_words(s: &Socket) -> String {
    let turned = if s.spin_deg == 0.0 {
        String::new()
    } else {
        format!(", turned by {}\u{b0}", format::number(s.spin_deg))
    };
    match s.at_mm {
        None => format!("not placed yet{turned}"),
        Some([x, y, z]) => format!(
            "{}; {}; {} mm{turned}",
            format::number(x),
            format::number(y),
            format::number(z)
        ),
    }
}

fn place(s: &Socket, store: &Store) -> Html {
    let on_commit = store.edited({
        let id = s.id.clone();
        move |plan: &Plan, (n, v): (usize, f64)| {
            let mut socket = plan.socket(&id)?.clone();
            let mut at = socket.frame(plan.part(&socket.host)?).origin_mm;
            *at.get_mut(n)? = v;
            socket.at_mm = Some(at);
            Some(Edit::PutSocket(Box::new(socket)))
        }
    });
    html! {
        <>
            { vector_field(&yew::props!(VectorFieldProps { id: "socket-at", label: "In the host\u{2019}s axes", axes: xyz(), values: s.at_mm.map(Vec::from), unit: "mm", placeholder: "not yet", hint: "As long as it has no place, nothing is worked out that needs one. The sketch places it by a tap.", on_commit, on_clear: store.socket(&s.id, |s, ()| s.at_mm = None) })) }
            <NumberField id="socket-spin" label="Turned on the face by" unit={"\u{b0}"} value={s.spin_deg} on_commit={store.socket(&s.id, |s, v| s.spin_deg = v)} />
        </>
    }
}

/// The three axes of a part in words.
pub fn xyz() -> Vec<AttrValue> {
    ["to the front", "to the left", "up"]
        .map(AttrValue::from)
        .to_vec()
}
