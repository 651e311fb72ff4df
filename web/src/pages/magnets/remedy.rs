//! Edits that resolve a contradiction of poles: steel in one hole, or a pole no longer wished for.

use lodewright_planner::Answers;
use lodewright_planner::joints::{Face, Hole};
use lodewright_planner::kit::{
    Edit, Fit, Part, Plan, Plug, PlugSiteRef, Site, SiteId, SocketSiteRef, SteelStock,
};

/// The first steel of the stock that fits a hole with its allowances.
pub fn first_steel<'p>(plan: &'p Plan, hole: &Hole) -> Option<&'p SteelStock> {
    let glue_mm = if hole.through {
        0.0
    } else {
        plan.settings.glue_allowance_mm
    };
    plan.stock.steel.iter().find(|s| {
        s.diameter_mm + plan.settings.hole_allowance_mm <= hole.max_diameter_mm
            && s.thickness_mm + glue_mm <= hole.max_depth_mm
    })
}

/// The edit that fits steel in a hole. Holes that a plug only has because of its socket's sites are written down as
/// sites of its own first. `None` where no steel fits.
pub fn fit_steel(plan: &Plan, answers: &Answers, hole: usize) -> Option<Edit> {
    let steel = first_steel(plan, answers.holes.holes.get(hole)?)?;
    let fit = Fit::Steel(steel.id.clone());
    change_site(plan, answers, hole, &|place| match place {
        Place::Socket(site) => site.fit.clone_from(&fit),
        Place::Plug(site) => site.fit.clone_from(&fit),
    })
}

/// The edit that leaves the pole of a hole to the planner. `None` where none is wished for.
pub fn free_pole(plan: &Plan, answers: &Answers, hole: usize) -> Option<Edit> {
    answers.holes.holes.get(hole)?.pinned?;
    change_site(plan, answers, hole, &|place| match place {
        Place::Socket(site) => site.pole = None,
        Place::Plug(site) => site.pole = None,
    })
}

/// A site to be changed.
enum Place<'s> {
    Socket(&'s mut Site<SocketSiteRef>),
    Plug(&'s mut Site<PlugSiteRef>),
}

fn change_site(
    plan: &Plan,
    answers: &Answers,
    hole: usize,
    change: &dyn Fn(Place<'_>),
) -> Option<Edit> {
    let face = answers
        .holes
        .faces
        .iter()
        .find(|f| f.hole == hole && !f.far)?;
    let label = &answers.holes.holes.get(hole)?.label;
    let (_, site) = label.rsplit_once('/')?;
    if face.on_socket {
        let mut socket = plan.sockets.get(face.owner)?.clone();
        change(Place::Socket(
            socket.sites.iter_mut().find(|s| s.id.as_str() == site)?,
        ));
        return Some(Edit::PutSocket(Box::new(socket)));
    }
    let mut part: Part = plan.parts.get(face.owner)?.clone();
    let plug: &mut Plug = part.plugs.get_mut(face.plug)?;
    let sites = plug
        .sites
        .get_or_insert_with(|| implied_sites(answers, face));
    change(Place::Plug(
        sites.iter_mut().find(|s| s.id.as_str() == site)?,
    ));
    Some(Edit::PutPart(Box::new(part)))
}

/// The holes that a plug has opposite the sites of its sockets, as sites of its own.
fn implied_sites(answers: &Answers, of: &Face) -> Vec<Site<PlugSiteRef>> {
    let same = |f: &&Face| !f.on_socket && f.owner == of.owner && f.plug == of.plug;
    let site = |f: &Face| {
        let hole = answers.holes.holes.get(f.hole)?;
        let (_, id) = hole.label.rsplit_once('/')?;
        Some(Site {
            id: SiteId::new(id),
            at_mm: f.at_mm,
            max_diameter_mm: hole.max_diameter_mm,
            max_depth_mm: hole.max_depth_mm,
            wall_mm: f.wall_mm,
            through: None,
            fit: hole.fit.clone(),
            pole: hole.pinned,
        })
    };
    answers
        .holes
        .faces
        .iter()
        .filter(same)
        .filter_map(site)
        .collect()
}

#[cfg(test)]
mod tests {
    use lodewright_planner::derive;
    use lodewright_planner::joints::Filling;

    use super::*;
    use crate::pages::joints::samples;

    #[test]
    fn the_demo_contradiction_goes_when_steel_is_fitted() {
        let plan = samples::demo();
        let answers = derive(&plan).unwrap();
        assert!(
            !answers.contradictions.is_empty(),
            "the demo has one to resolve"
        );
        let holes = answers.contradictions[0].holes.clone();
        let resolved = holes
            .iter()
            .filter_map(|h| fit_steel(&plan, &answers, *h))
            .filter(|edit| {
                let after = derive(&plan.edited(edit).unwrap()).unwrap();
                after.contradictions.len() < answers.contradictions.len()
            });
        assert!(resolved.count() > 0);
    }

    #[test]
    fn writing_implied_holes_down_changes_that_hole_alone() {
        for plan in samples::plans() {
            let answers = derive(&plan).unwrap();
            let implied = answers
                .holes
                .faces
                .iter()
                .find(|f| !f.on_socket && plan.parts[f.owner].plugs[f.plug].sites.is_none());
            let Some(face) = implied else { continue };
            let Some(edit) = fit_steel(&plan, &answers, face.hole) else {
                continue;
            };
            let after_plan = plan.edited(&edit).unwrap();
            let after = derive(&after_plan).unwrap();
            assert_eq!(after.holes.holes.len(), answers.holes.holes.len());
            let label = &answers.holes.holes[face.hole].label;
            for (h, hole) in after.holes.holes.iter().enumerate() {
                let steel = matches!(after.fillings[h], Filling::Steel(_));
                let was = answers
                    .holes
                    .holes
                    .iter()
                    .position(|o| o.part == hole.part && o.label == hole.label);
                let was_steel =
                    was.is_some_and(|w| matches!(answers.fillings[w], Filling::Steel(_)));
                let this = hole.part == face.owner && hole.label == *label;
                assert_eq!(steel, this || was_steel, "{}", hole.label);
            }
        }
    }

    #[test]
    fn a_wished_pole_can_be_given_up() {
        let plan = samples::demo();
        let answers = derive(&plan).unwrap();
        let pinned = answers
            .holes
            .holes
            .iter()
            .position(|h| h.pinned.is_some())
            .unwrap();
        let after = derive(
            &plan
                .edited(&free_pole(&plan, &answers, pinned).unwrap())
                .unwrap(),
        )
        .unwrap();
        assert_eq!(after.holes.holes[pinned].pinned, None);
        let free = answers
            .holes
            .holes
            .iter()
            .position(|h| h.pinned.is_none())
            .unwrap();
        assert_eq!(free_pole(&plan, &answers, free), None);
    }
}
