//! The formulas of a joint as text, and where they are from: written once, for the joint page and the page on method.

/// Gap between two faces, mm.
pub const GAP: &str = "g = walls + films + coats + fit + tolerance";
/// Pull of a pair, N.
pub const PULL: &str = "F = (J1 J2 / \u{b5}0) \u{d7} shape(D1, h1, D2, h2, g, offset); for steel twice the gap and a mirror image, less what thin steel cannot carry";
/// Tipping, multiples of the weight.
pub const TIP: &str = "\u{3bb} = \u{3a3} F\u{b7}d / (W \u{221a}(e\u{b2} + c\u{b2})), d each pull's distance from the edge, e the centre of mass's";
/// Sliding, multiples of the weight.
pub const SLIDE: &str = "\u{3bb} = \u{b5} \u{3a3}F / (W \u{221a}(1 + \u{b5}\u{b2}))";
/// Turning, multiples of the weight.
pub const TURN: &str = "\u{3bb} = \u{b5} r \u{3a3}F / (W \u{221a}(l\u{b2} + (\u{b5} r)\u{b2})), r the mean friction radius, l the lever of the weight";
/// Pulled straight off, multiples of the weight.
pub const STRAIGHT: &str = "\u{3bb} = \u{3a3}F / W";
/// Pulled off a snug peg, multiples of the weight.
pub const DROOPED: &str = "\u{3bb} = \u{3a3}F(gap + droop) / W";
/// Droop on a snug peg, degrees.
pub const DROOP: &str = "droop = atan(play / length)";
/// What the hand must overcome, N.
pub const HAND: &str =
    "H = \u{3a3}F at the strong end: high end of the grade, 20 \u{b0}C, gaps at their narrowest";
/// Stress on the glue, MPa.
pub const BOND: &str = "\u{3c4} = F / (\u{3c0} D\u{b2}/4 + \u{3c0} D h)";
/// Force that opens a joint at a reach, N.
pub const OPENS: &str = "F = \u{3a3}F \u{d7} farthest corner / reach";
/// Force that snaps the thinnest section, N.
pub const SNAPS: &str = "F = \u{3c3} Z / (L K); Z = \u{3c0} d\u{b3}/32 or b h\u{b2}/6";
/// Where the pull is from.
pub const PULL_SOURCE: &str = "Coaxial discs: Robertson, Cazzolato and Zander 2011; field of a disc: Derby and Olbert 2010. Low end of the grade, demagnetised by its own field, at the warmest. Steel: a model that stays under finite elements.";
/// Where the snapping force is from.
pub const SNAPS_SOURCE: &str =
    "Bending of a beam; design stress at the low end of published flexural strengths.";
/// Where the stress is from.
pub const BOND_SOURCE: &str =
    "Mean stress over the back and the rim of the hole; peeling at an edge is not in it.";
/// Where tipping is from.
pub const TIP_SOURCE: &str = "Moments about the edge; exact for rigid faces that can only press.";
/// Where the opening force is from.
pub const OPENS_SOURCE: &str = "Moments about the corner farthest from the middle of the pulls.";
/// Where sliding is from.
pub const STATICS: &str = "Statics of rigid bodies with dry (Coulomb) friction.";
/// Where turning is from, and how far it was tried.
pub const ESTIMATE: &str = "Dry friction about a centre of rotation, each pull at its least friction radius: an estimate that errs low. Against a linear program it lay above the true value in 8 of 6000 random joints.";
