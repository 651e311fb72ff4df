//! What would help a joint: the plan is worked out again with one thing changed at a time, so that each piece of advice
//! comes with its number.

use lodewright_planner::derive;
use lodewright_planner::kit::{Patch, PegKind, Plan, Site};
use yew::prelude::*;

use super::names::{find_joint, joint_key, sides, times};
use super::status::worst;
use crate::routes::{Page, Route};
use crate::shared::Shared;
use crate::store::{Derived, use_plan};

/// One change and what becomes of the joint.
#[derive(Clone, Debug, PartialEq)]
pub struct Trial {
    /// The change in words.
    pub said: &'static str,
    /// Where it is made.
    pub page: Page,
    /// The smallest margin then, multiples of the weight.
    pub margin_g: f64,
}

/// A change that may help, and the plan after it.
type Change = (&'static str, Page, Plan);

/// Tries every change that applies; the most helpful first, those that help nothing left out.
pub fn trials(d: &Derived, joint: usize) -> Vec<Trial> {
    let Some(answer) = d.answers.joints.get(joint) else {
        return Vec::new();
    };
    let key = joint_key(&d.plan, answer);
    let now_g = worst(answer).map_or(0.0, |h| h.margin_g);
    let mut tried: Vec<Trial> = changes(d, joint)
        .into_iter()
        .filter_map(|(said, page, plan)| {
            let margin_g = margin_of(&plan, &key)?;
            Some(Trial {
                said,
                page,
                margin_g,
            })
        })
        .filter(|t| t.margin_g > now_g + 0.05)
        .collect();
    tried.sort_by(|a, b| b.margin_g.total_cmp(&a.margin_g));
    tried
}

fn margin_of(plan: &Plan, key: &str) -> Option<f64> {
    let answers = derive(plan).ok()?;
    let joint = find_joint(plan, &answers, key)?;
    worst(answers.joints.get(joint)?).map(|h| h.margin_g)
}

fn changes(d: &Derived, joint: usize) -> Vec<Change> {
    let mut all = Vec::new();
    let plan = &*d.plan;
    if !plan.finish.mask_mating_faces && plan.finish.coats_mm() > 0.0 {
        let mut masked = plan.clone();
        masked.finish.mask_mating_faces = true;
        all.push(("Mask the mating faces before painting", Page::Setup, masked));
    }
    let mut add = |said, changed: Option<Plan>| all.extend(changed.map(|p| (said, Page::Parts, p)));
    add(
        "Room for magnets 1 mm wider and 1 mm deeper",
        with_sites(
            d,
            joint,
            |_| true,
            |s| {
                s.0 += 1.0;
                s.1 += 1.0;
            },
        ),
    );
    add(
        "Walls in front of the magnets half as thick",
        with_sites(d, joint, |s| s.2 > 0.0, |s| s.2 /= 2.0),
    );
    add(
        "Contact a quarter wider in each direction",
        with_patch(d, joint),
    );
    add(
        "Two pegs, or a keyed one, that stay on the part",
        with_pegs(d, joint),
    );
    all
}

/// Largest diameter, largest depth and wall of a site, mm.
type Room = (f64, f64, f64);

/// The plan with the sites of the joint's socket and plug changed; `None` where none of them qualifies.
fn with_sites(
    d: &Derived,
    joint: usize,
    qualifies: impl Fn(&Room) -> bool,
    change: impl Fn(&mut Room),
) -> Option<Plan> {
    let answer = d.answers.joints.get(joint)?.joint;
    let mut plan = (*d.plan).clone();
    let mut any = false;
    let sockets = plan.sockets.get_mut(answer.socket)?.sites.iter_mut();
    sockets.for_each(|s| any |= widen(s, &qualifies, &change));
    let plug = plan
        .parts
        .get_mut(answer.part)?
        .plugs
        .get_mut(answer.plug)?;
    let plugs = plug.sites.iter_mut().flatten();
    plugs.for_each(|s| any |= widen(s, &qualifies, &change));
    any.then_some(plan)
}

fn widen<Far>(
    site: &mut Site<Far>,
    qualifies: &impl Fn(&Room) -> bool,
    change: &impl Fn(&mut Room),
) -> bool {
    let mut room = (site.max_diameter_mm, site.max_depth_mm, site.wall_mm);
    if !qualifies(&room) {
        return false;
    }
    change(&mut room);
    (site.max_diameter_mm, site.max_depth_mm, site.wall_mm) = room;
    true
}

fn with_patch(d: &Derived, joint: usize) -> Option<Plan> {
    let answer = d.answers.joints.get(joint)?.joint;
    let mut plan = (*d.plan).clone();
    stretch(&mut plan.sockets.get_mut(answer.socket)?.patch);
    let plug = plan
        .parts
        .get_mut(answer.part)?
        .plugs
        .get_mut(answer.plug)?;
    plug.patch.iter_mut().for_each(stretch);
    Some(plan)
}

fn stretch(patch: &mut Patch) {
    const BY: f64 = 1.25;
    match patch {
        Patch::Rectangle {
            width_mm,
            height_mm,
        } => {
            *width_mm *= BY;
            *height_mm *= BY;
        }
        Patch::Disc { diameter_mm } => *diameter_mm *= BY,
        Patch::Points(points) => points.iter_mut().flatten().for_each(|v| *v *= BY),
    }
}

fn with_pegs(d: &Derived, joint: usize) -> Option<Plan> {
    let (socket, _, plug) = sides(&d.plan, d.answers.joints.get(joint)?)?;
    let stops_both = matches!(socket.peg.kind, PegKind::Two | PegKind::Keyed);
    if stops_both && plug.keeps_peg {
        return None;
    }
    let answer = d.answers.joints.get(joint)?.joint;
    let mut plan = (*d.plan).clone();
    let peg = &mut plan.sockets.get_mut(answer.socket)?.peg;
    if !stops_both {
        peg.kind = PegKind::Two;
    }
    plan.parts
        .get_mut(answer.part)?
        .plugs
        .get_mut(answer.plug)?
        .keeps_peg = true;
    Some(plan)
}

/// Props of [`Advice`].
#[derive(PartialEq, Properties)]
pub struct AdviceProps {
    /// The answers.
    pub derived: Derived,
    /// Index of the joint.
    pub joint: usize,
}

/// What was tried, and on which plan and joint.
type Tried = (Derived, usize, Shared<Vec<Trial>>);

/// Offers to try the changes: that takes as long as working the plan out several times, so it waits to be asked.
#[component]
pub fn Advice(props: &AdviceProps) -> Html {
    let tried = use_state_eq(|| None::<Tried>);
    let key = use_plan().map(|p| p.key);
    let now = (*tried)
        .clone()
        .filter(|(d, joint, _)| *d == props.derived && *joint == props.joint);
    let onclick = {
        let (tried, d, joint) = (tried.clone(), props.derived.clone(), props.joint);
        Callback::from(move |_: MouseEvent| {
            tried.set(Some((d.clone(), joint, Shared::new(trials(&d, joint)))));
        })
    };
    let target_g = props.derived.plan.settings.hold_target_g;
    let row = |t: &Trial| {
        let reaches = if t.margin_g >= target_g {
            ", enough"
        } else {
            ", still under target"
        };
        let href = key.as_ref().map(|key| Route::of(t.page, key).href());
        html! {
            <li key={t.said}>
                <span>{ t.said }{ ": " }<strong>{ format!("{}\u{a0}\u{d7}\u{a0}weight", times(t.margin_g)) }</strong>{ reaches }</span>
                <a class="button is-small" {href}>{ format!("Change it in {}", t.page.title()) }</a>
            </li>
        }
    };
    html! {
        <section class="advice" aria-label="What would help">
            <h3>{ "What would help" }</h3>
            <div aria-live="polite">
                if let Some((_, _, list)) = &now {
                    if list.is_empty() {
                        <p>{ "None of the usual changes helps: neither masking, nor larger holes, thinner walls, a wider face or pegs. A further site, a lighter part or a site nearer the side that opens may." }</p>
                    } else {
                        <p>{ "Each change by itself, everything else as it is:" }</p>
                        <ul class="advice-list">{ for list.iter().map(row) }</ul>
                    }
                } else {
                    <p>{ "The planner can try masking, larger holes, thinner walls, a wider face and pegs, one at a time, and say what each would bring." }</p>
                }
            </div>
            if now.is_none() {
                <button type="button" class="button" data-test="try-changes" {onclick}>{ "Try the changes" }</button>
            }
        </section>
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pages::joints::samples;

    #[test]
    fn advice_helps_and_the_plan_stays_as_it_is() {
        let plan = samples::plans().remove(0);
        let before = plan.clone();
        let answers = derive(&plan).unwrap();
        let d = Derived {
            plan: Shared::new(plan),
            answers: Shared::new(answers),
        };
        let joint = d
            .answers
            .joints
            .iter()
            .position(|j| worst(j).is_some())
            .unwrap();
        let now_g = worst(&d.answers.joints[joint]).unwrap().margin_g;
        let list = trials(&d, joint);
        assert!(list.iter().all(|t| t.margin_g > now_g));
        assert!(list.windows(2).all(|w| w[0].margin_g >= w[1].margin_g));
        // A thinner gap can only pull harder, so masking never falls out where there is paint.
        assert!(d.plan.finish.coats_mm() > 0.0);
        assert!(list.iter().any(|t| t.said.starts_with("Mask")), "{list:?}");
        assert_eq!(*d.plan, before);
    }
}
