//! All joints by socket, each with how it stands.

use lodewright_planner::kit::{Ix, Plan, SocketIx};
use lodewright_planner::{JointAnswer, JointIx};
use yew::prelude::*;

use super::names::{joint_key, pose_words, sides};
use super::status::{cautions, status, status_mark};
use crate::format;
use crate::routes::{Page, Route};
use crate::store::{Analysis, PlanKey};

/// Props of [`JointList`].
#[derive(PartialEq, Properties)]
pub struct JointListProps {
    /// The open plan.
    pub plan_key: PlanKey,
    /// The analysis.
    pub analysis: Analysis,
    /// The joint that is shown.
    pub chosen: Option<JointIx>,
}

/// See the module.
#[component]
pub fn JointList(props: &JointListProps) -> Html {
    let d = &props.analysis;
    let group = |(socket, joints): (SocketIx, Vec<&JointAnswer>)| {
        let name = d.plan().sockets[socket].name.clone();
        html! {
            <section key={socket.get()} class="joint-group" aria-label={name.clone()}>
                <h2>{ name }</h2>
                <ul class="joint-rows">{ for joints.into_iter().map(|j| row(props, j)) }</ul>
            </section>
        }
    };
    html! {
        <div>
            <p class="quiet joint-sum">{ sum(d) }</p>
            { for by_socket(d).into_iter().map(group) }
        </div>
    }
}

/// The joints of every socket that has any, in the plan's order.
fn by_socket(analysis: &Analysis) -> Vec<(SocketIx, Vec<&JointAnswer>)> {
    let mut groups: Vec<(SocketIx, Vec<&JointAnswer>)> = Vec::new();
    for joint in analysis.joints().values() {
        let mine = joint.joint.socket;
        match groups.iter_mut().find(|(socket, _)| *socket == mine) {
            Some((_, list)) => list.push(joint),
            None => groups.push((mine, vec![joint])),
        }
    }
    groups
}

/// How all joints stand together.
fn sum(analysis: &Analysis) -> String {
    let joints = analysis.joints().values();
    let trouble = analysis.in_trouble().count();
    let glued = joints.iter().filter(|j| j.separable.is_none()).count();
    let all = format::count(joints.len(), "joint", "joints");
    let look = match trouble {
        0 => "no problems".to_owned(),
        n => format!("{n} in trouble"),
    };
    let glued = match glued {
        0 => "none".to_owned(),
        n => n.to_string(),
    };
    format!("{all}: {look}, {glued} to glue for good.")
}

fn row(props: &JointListProps, joint: &JointAnswer) -> Html {
    let plan = props.analysis.plan();
    let key = joint_key(plan, joint);
    let href = Route::at(Page::Joints, &props.plan_key, &key).href();
    let current = (props.chosen == Some(joint.at)).then_some("true");
    let extra = cautions(joint);
    html! {
        <li key={key}>
            <a class="joint-row" data-test="joint-row" {href} aria-current={current}>
                <span class="joint-name">{ name(plan, joint) }</span>
                { status_mark(status(joint)) }
                if !extra.is_empty() {
                    <span class="joint-extra">{ extra.join(", ") }</span>
                }
            </a>
        </li>
    }
}

fn name(plan: &Plan, joint: &JointAnswer) -> Html {
    let (_, part, plug) = sides(plan, joint);
    let plug = (part.plugs.len() > 1).then(|| format!("by its plug {}", plug.id));
    let pose = Some(pose_words(joint)).filter(|p| !p.is_empty());
    let more: Vec<_> = [plug, pose].into_iter().flatten().collect();
    html! {
        <>
            { &part.name }
            if !more.is_empty() {
                <span class="quiet">{ format!(" {}", more.join(", ")) }</span>
            }
        </>
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pages::joints::samples;

    #[test]
    fn every_joint_stands_in_one_group() {
        for plan in samples::plans() {
            let analysis = Analysis::of(plan.clone()).unwrap();
            let groups = by_socket(&analysis);
            let mut all: Vec<JointIx> = groups
                .iter()
                .flat_map(|(_, list)| list)
                .map(|j| j.at)
                .collect();
            all.sort_unstable();
            let mine: Vec<JointIx> = analysis.joints().iter().map(|(at, _)| at).collect();
            assert_eq!(all, mine);
            for (socket, list) in groups {
                assert!(list.iter().all(|j| j.joint.socket == socket));
            }
        }
    }
}
