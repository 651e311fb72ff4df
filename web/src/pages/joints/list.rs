//! All joints by socket, each with how it stands.

use lodewright_planner::kit::Plan;
use lodewright_planner::{Answers, JointAnswer};
use yew::prelude::*;

use super::names::{joint_key, pose_words, sides};
use super::status::{cautions, status, status_mark};
use crate::format;
use crate::routes::{Page, Route};
use crate::store::{Derived, PlanKey};

/// Props of [`JointList`].
#[derive(PartialEq, Properties)]
pub struct JointListProps {
    /// The open plan.
    pub plan_key: PlanKey,
    /// The answers.
    pub derived: Derived,
    /// The joint that is shown.
    pub chosen: Option<usize>,
}

/// See the module.
#[component]
pub fn JointList(props: &JointListProps) -> Html {
    let d = &props.derived;
    let group = |(socket, joints): (usize, Vec<usize>)| {
        let name = d
            .plan
            .sockets
            .get(socket)
            .map_or("?", |s| s.name.as_str())
            .to_owned();
        html! {
            <section key={socket} class="joint-group" aria-label={name.clone()}>
                <h2>{ name }</h2>
                <ul class="joint-rows">{ for joints.into_iter().map(|j| row(props, j)) }</ul>
            </section>
        }
    };
    html! {
        <div>
            <p class="quiet joint-sum">{ sum(&d.plan, &d.answers) }</p>
            { for by_socket(&d.answers).into_iter().map(group) }
        </div>
    }
}

/// The joints of every socket that has any, in the plan's order.
fn by_socket(answers: &Answers) -> Vec<(usize, Vec<usize>)> {
    let mut groups: Vec<(usize, Vec<usize>)> = Vec::new();
    for (i, joint) in answers.joints.iter().enumerate() {
        match groups
            .iter_mut()
            .find(|(socket, _)| *socket == joint.joint.socket)
        {
            Some((_, list)) => list.push(i),
            None => groups.push((joint.joint.socket, vec![i])),
        }
    }
    groups
}

/// How all joints stand together.
fn sum(plan: &Plan, answers: &Answers) -> String {
    let trouble = answers
        .joints
        .iter()
        .filter(|j| status(plan, j).is_trouble())
        .count();
    let glued = answers
        .joints
        .iter()
        .filter(|j| j.separable_since.is_none())
        .count();
    let all = format::count(answers.joints.len(), "joint", "joints");
    let look = match trouble {
        0 => "none in trouble".to_owned(),
        n => format!("{n} in trouble"),
    };
    let glued = match glued {
        0 => "none".to_owned(),
        n => n.to_string(),
    };
    format!("{all}: {look}, {glued} to glue for good.")
}

fn row(props: &JointListProps, index: usize) -> Html {
    let d = &props.derived;
    let Some(joint) = d.answers.joints.get(index) else {
        return Html::default();
    };
    let key = joint_key(&d.plan, joint);
    let href = Route::at(Page::Joints, &props.plan_key, &key).href();
    let current = (props.chosen == Some(index)).then_some("true");
    let extra = cautions(&d.plan, joint);
    html! {
        <li key={key}>
            <a class="joint-row" data-test="joint-row" {href} aria-current={current}>
                <span class="joint-name">{ name(&d.plan, joint) }</span>
                { status_mark(status(&d.plan, joint)) }
                if !extra.is_empty() {
                    <span class="joint-extra">{ extra.join(", ") }</span>
                }
            </a>
        </li>
    }
}

fn name(plan: &Plan, joint: &JointAnswer) -> Html {
    let Some((_, part, plug)) = sides(plan, joint) else {
        return Html::default();
    };
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
            let answers = lodewright_planner::derive(&plan).unwrap();
            let groups = by_socket(&answers);
            let mut all: Vec<usize> = groups.iter().flat_map(|(_, list)| list.clone()).collect();
            all.sort_unstable();
            assert_eq!(all, (0..answers.joints.len()).collect::<Vec<_>>());
            for (socket, list) in groups {
                assert!(
                    list.iter()
                        .all(|j| answers.joints[*j].joint.socket == socket)
                );
            }
        }
    }
}
