//! Where the parts of a variant stand, for drawings.

use lodewright_assembly::{Joint, Model, first_model, placement};
use lodewright_kit::{Frame, PartIx, Pose, SocketIx, VariantIx};

use crate::Analysis;

/// A part where it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct PlacedPart {
    /// The part.
    pub part: PartIx,
    /// The socket that it sits in, and its pose there; `None` for the base.
    pub seat: Option<(SocketIx, Pose)>,
    /// Its axes as seen from the base's.
    pub frame: Frame,
}

impl Analysis {
    /// The joints of a variant: free choices at their first part; none where it cannot be put together.
    pub fn seated(&self, variant: VariantIx) -> Vec<Joint> {
        let board = self.board();
        let model = first_model(board, variant);
        let made = model.iter().flat_map(Model::made);
        made.map(|j| board.joints[j]).collect()
    }

    /// The parts of a variant as they stand, the base first: free choices at their first part, as far as their sockets are
    /// placed. The base alone without a variant, or where the variant cannot be put together.
    pub fn placement(&self, variant: Option<VariantIx>) -> Vec<PlacedPart> {
        let board = self.board();
        let mut all = vec![PlacedPart {
            part: board.base(),
            seat: None,
            frame: Frame::WORLD,
        }];
        if let Some(model) = variant.and_then(|v| first_model(board, v)) {
            let frames = placement(board, &model).parts;
            let is_placed = |mut part: PartIx| loop {
                let Some(joint) = model.joint_of_part(board, part) else {
                    return true;
                };
                let socket = board.joints[joint].socket;
                if !board.socket(socket).is_placed() {
                    return false;
                }
                part = board.host(socket);
            };
            all.extend(model.made().filter_map(|j| {
                let joint = board.joints[j];
                if !is_placed(joint.part) {
                    return None;
                }
                Some(PlacedPart {
                    part: joint.part,
                    seat: Some((joint.socket, joint.pose)),
                    frame: frames[joint.part]?,
                })
            }));
        }
        all
    }
}

#[cfg(test)]
mod tests {
    use lodewright_kit::{Edit, Ix, Plan};

    use super::*;

    #[test]
    fn a_part_stands_on_its_face_and_a_variant_shows_only_its_own() {
        let plan = Plan::empty("t")
            .edited(&Edit::PasteGrid("\tA\tB\nRoof\tRack\t-\n".to_owned()))
            .unwrap();
        let unplaced = Analysis::of(plan.clone()).unwrap();
        assert_eq!(unplaced.placement(Some(VariantIx::new(0))).len(), 1);
        let mut plan = plan;
        plan.sockets[0].at_mm = Some([0.0, 0.0, 15.0]);
        let analysis = Analysis::of(plan).unwrap();
        let a = analysis.placement(Some(VariantIx::new(0)));
        assert_eq!(a.len(), 2);
        // The base is 30 mm high and the rack 20 mm, each about its own middle.
        assert_eq!(a[1].frame.origin_mm, [0.0, 0.0, 25.0]);
        assert_eq!(analysis.placement(Some(VariantIx::new(1))).len(), 1);
        assert_eq!(analysis.placement(None).len(), 1);
    }
}
