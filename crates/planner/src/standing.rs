//! Where the parts of a variant stand, for drawings.

use lodewright_assembly::{Board, first_model, stand};
use lodewright_kit::{Frame, Plan, Pose, VariantId};

/// A part where it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    /// Index of the part.
    pub part: usize,
    /// Index of the socket that it sits in, and its pose there; `None` for the base.
    pub seat: Option<(usize, Pose)>,
    /// Its axes as seen from the base's.
    pub frame: Frame,
}

/// The parts of a variant as they stand, the base first: free options at their first choice. The base alone without a variant,
/// or where the variant cannot be put together; nothing where the plan has no base.
pub fn standing(plan: &Plan, variant: Option<&VariantId>) -> Vec<Standing> {
    let base = plan.parts.iter().position(|p| p.id == plan.base);
    let alone = base.map(|part| Standing {
        part,
        seat: None,
        frame: Frame::WORLD,
    });
    let mut all: Vec<_> = alone.into_iter().collect();
    let variant = variant.and_then(|id| plan.variants.iter().position(|v| v.id == *id));
    if let (Some(variant), Ok(board)) = (variant, Board::of(plan))
        && let Some(model) = first_model(&board, variant)
    {
        let frames = stand(&board, &model).parts;
        all.extend(model.joints.iter().flatten().filter_map(|j| {
            let joint = board.joints[*j];
            Some(Standing {
                part: joint.part,
                seat: Some((joint.socket, joint.pose)),
                frame: frames.get(joint.part).copied().flatten()?,
            })
        }));
    }
    all
}

#[cfg(test)]
mod tests {
    use lodewright_kit::Edit;

    use super::*;

    #[test]
    fn a_part_stands_on_its_face_and_a_variant_shows_only_its_own() {
        let plan = Plan::empty("t")
            .edited(&Edit::PasteGrid("\tA\tB\nRoof\tRack\t-\n".to_owned()))
            .unwrap();
        let a = standing(&plan, Some(&"a".into()));
        assert_eq!(a.len(), 2);
        // The base is 30 mm high and the rack 20 mm, each about its own middle.
        assert_eq!(a[1].frame.origin_mm, [0.0, 0.0, 25.0]);
        assert_eq!(standing(&plan, Some(&"b".into())).len(), 1);
        assert_eq!(standing(&plan, None).len(), 1);
    }
}
