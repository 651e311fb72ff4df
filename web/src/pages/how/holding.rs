//! Judgement first; then forces, gaps, steel, holding, letting go, glue, hand, scatter, poles, as prose.

use lodewright_planner::formula_text as text;

use super::subject::Line::{Formula, Plain, Source, Trust};
use super::subject::Subject;

// Figures of accuracy are those that the tests of the crate named beside each subject assert.
pub const SUBJECTS: &[Subject] = &[
    Subject {
        id: "judgement",
        title: "Where judgement and local rules come first",
        lines: &[
            Plain(
                "Swallowed magnets: two, or one and a piece of steel, draw together across loops of bowel and perforate them. If it may have happened, go to an emergency department at once and do not wait for symptoms. Keep small magnets, and models with loose parts, from children.",
            ),
            Plain(
                "Pacemakers and implanted defibrillators: keep magnets 15 cm away, and let the clinic that looks after the device decide anything closer.",
            ),
            Plain(
                "Blades and drills slip: cut away from the fingers, never hold a part behind the drill. Plastic and resin dust: cut wet or wear a mask for fine dust. Glue vapour, solvents and spray: air the room, keep flames away, read the maker's safety data sheet. Uncured resin makes allergic: gloves and glasses.",
            ),
            Plain(
                "Posting: a carrier's rules and the law of each country decide what may be sent. Air freight limits the field outside the parcel, and packing like poles apart or magnets in pairs changes it; ask the carrier.",
            ),
            Plain(
                "A model that is sold or given to a child falls under toy law, which this program does not check. Money: quote, tax and terms are arithmetic on your own entries, not advice.",
            ),
            Source(
                "Hussain and others, J. Pediatr. Gastroenterol. Nutr. 55 (2012) 239, for swallowed magnets; Wolber and others, Heart Rhythm 4 (2007) 1, and Ryf and others, Technol. Health Care 16 (2008) 13, for implants; IATA packing instruction 953 and 49 CFR 173.21 for freight (the first read second-hand).",
            ),
        ],
    },
    // crates/field/tests/coaxial.rs, pairs.rs, outside.rs
    Subject {
        id: "force",
        title: "Pull between two magnets",
        lines: &[
            Plain(
                "A disc is taken as uniformly magnetised. On one axis the pull has a closed form in elliptic integrals; where the axes lie apart or lean, the exact field of one disc is summed over the walls of the other.",
            ),
            Formula(text::PULL),
            Plain(
                "J is what the disc has left of its grade's remanence after its own field and the warmth: J = Br (1 + a (T \u{2212} 20 \u{b0}C)) / (1 + N (\u{b5}r \u{2212} 1)), with a = \u{2212}0.12 % a kelvin, \u{b5}r = 1.05 and N the demagnetising factor of the disc. The weak end takes the grade's lowest remanence at the warmest, the strong end its highest at 20 \u{b0}C.",
            ),
            Trust(
                "the formula to a relative 1e-9 against tables made in 40 and more digits, offset and leaning discs to 1e-6 and 1e-5; against a measured field scan of a disc of 8 by 2 mm within 0.08 mT at a peak of 40. A real disc scatters by several per cent from its grade, and its size by 0.05 to 0.1 mm. Above its working limit (80 \u{b0}C, less for N50 and up and for thin discs) a magnet loses strength for good; that is not in the formula.",
            ),
            Source(
                "Robertson, Cazzolato and Zander, IEEE Trans. Magn. 47 (2011) 2045; Derby and Olbert, Am. J. Phys. 78 (2010) 229; Chen, Brug and Goldfarb, IEEE Trans. Magn. 27 (1991) 3601. Remanences: published producer tables, two agreeing within 0.02 T. Field scan: magpylib's documentation.",
            ),
        ],
    },
    Subject {
        id: "gap",
        title: "What lies between two faces",
        lines: &[
            Formula(text::GAP),
            Plain(
                "Walls left in front of a magnet, a recess, primer, colour and varnish on both faces (none where faces are masked), the film of glue in front of a magnet behind a wall, and air that the fit leaves. Holding is judged with the tolerance added, letting go with it taken off.",
            ),
            Trust(
                "as good as the entries. The first tenth of a millimetre costs most: a disc of 5 by 2 mm keeps about 84 % of its pull at a gap of 0.1 mm, one of 3 by 1 mm about 76 %. Measure your own coats once, on a scrap, with a caliper.",
            ),
            Source(
                "The plan's own entries, added up. Usual coats: 1.0 to 1.5 mil of colour and 0.6 to 1.2 mil of primer (Joseph, Paints and Coatings Resource Center, 2002); no measurement on miniatures was found.",
            ),
        ],
    },
    // crates/field/tests/steel.rs
    Subject {
        id: "steel",
        title: "Steel instead of a second magnet",
        lines: &[
            Formula("F(plate, g) = F(two like discs, 2 g)"),
            Plain(
                "Thick, wide steel is a mirror: the pull is that on the magnet's own image at twice the gap, with the magnet a little stronger before its image. A thin or small disc is bounded twice: by a share of the plate's pull, and, once full of flux at 1.9 T, by what the field's change across it pulls. The smaller one counts.",
            ),
            Trust(
                "errs low. Against non-linear finite elements (magnets 3 to 10 mm, steel of 1 to 3 diameters, 0.2 to 2 mm thick) never above, in the middle at most 12 % below, at worst 30 % below. Narrower steel, and steel off the axis, lie outside that table. Stainless cutlery steel and coated washers may be weaker or not magnetic at all: try one.",
            ),
            Source(
                "Image method; saturation of low-carbon steel 2.0 to 2.15 T in published B-H tables; the finite elements are this project's own, in tests/reference.",
            ),
        ],
    },
    // crates/solve/tests/hold.rs, hold_oracle.rs
    Subject {
        id: "hold",
        title: "Hold margin: tipping, sliding, turning",
        lines: &[
            Plain(
                "The margin \u{3bb} is the load, in multiples of the weight W that the joint carries, at which it first opens or slips, in whatever direction that load points. Everything outboard counts as carried, or the rest of the model where it is lifted by a part beyond the joint; weights at the upper end of their estimate, pulls F at their weak end. The smallest of these counts:",
            ),
            Formula(text::TIP),
            Formula(text::SLIDE),
            Formula(text::TURN),
            Formula(text::STRAIGHT),
            Plain(
                "One round peg stops sliding, two or a keyed one turning as well. A snug peg bears tipping too, but droops within its play, and then the wider gap counts:",
            ),
            Formula(text::DROOP),
            Formula(text::DROOPED),
            Trust(
                "tipping is exact for rigid flat faces (a linear program with friction agrees to 1e-7). Sliding and turning rest on a coefficient of friction that nobody knows for your paint; 0.3 is an assumption. Faces that rock, are dusty or bent hold less than rigid flat ones.",
            ),
            Plain(text::ESTIMATE),
            Source(
                "Statics of rigid bodies with Coulomb friction, as in Bretl and Lall, IEEE Trans. Robotics 24 (2008) 794; friction radius of a worn clutch plate (design handbooks, from memory). The target of 3 times the weight: common practice, no source.",
            ),
        ],
    },
    Subject {
        id: "shaken",
        title: "Turned over and shaken",
        lines: &[
            Plain(
                "In six attitudes of the model gravity pulls along its own direction, and shaking is added in the worst one. Each way of giving way is a straight line in the load, so that the worst shake is known exactly. M is the pulls' moment about an edge, m the load's lever vector, g gravity in weights, gt its part in the mating plane and gz the part that pulls off:",
            ),
            Formula(
                "s = (M / W \u{2212} g\u{b7}m) / |m| for tipping; s = (\u{b5} \u{3a3}F / W \u{2212} |gt| \u{2212} \u{b5} gz) / \u{221a}(1 + \u{b5}\u{b2}) for sliding",
            ),
            Trust(
                "against a linear program in random joints and attitudes to 1e-7 for tipping; sliding as good as the friction. A knock on a table edge is far more than a shake of the hand.",
            ),
            Source("Statics, as above. One g of shaking: common practice, no source."),
        ],
    },
    Subject {
        id: "letgo",
        title: "Letting go before something snaps",
        lines: &[
            Plain(
                "A thin part is caught at its reach. In the direction that opens the joint last, the force there must stay below the force that snaps the part's thinnest section, by the safety that the plan asks for (2: common practice, no source).",
            ),
            Formula(text::OPENS),
            Formula(text::SNAPS),
            Trust(
                "the moments are exact for rigid faces. The section's strength is a design figure (30 MPa for moulded styrene, whose published flexural strengths run from 29 to 62), and moulding flaws, old glue and cold make it less. Try on a sprue of the same kit.",
            ),
            Plain(text::SNAPS_SOURCE),
            Source(
                "Beam theory, any strength-of-materials text; stress raisers: a round hole in a wide plate raises it 3 times (Peterson).",
            ),
        ],
    },
    Subject {
        id: "bond",
        title: "Glue on a magnet",
        lines: &[
            Formula(text::BOND),
            Plain(text::BOND_SOURCE),
            Trust(
                "a mean, not a prediction: bonds fail by peeling from one edge, on greasy nickel, or before the glue has cured. 5 MPa is the low end of published shear figures on styrenics, and the plan keeps a quarter of it. A mating magnet asks for 0.2 to 0.5 MPa at contact, more than instant glue bears when it has only set: keep it away until the glue has cured for a day.",
            ),
            Source(
                "Handbook of Adhesives and Sealants, tables 10.16 and 10.17; fixture time by ASTM D1002 from a maker's data sheet.",
            ),
        ],
    },
    Subject {
        id: "hand",
        title: "Pulling apart by hand",
        lines: &[
            Formula(text::HAND),
            Trust(
                "errs high: a hand tips a part off at its edge with much less. 15 N as comfortable: common practice, no source. Set your own, and a child's or a client's if theirs count.",
            ),
            Source("the pulls above, straight off, the hardest way."),
        ],
    },
    // crates/planner/tests/scatter.rs
    Subject {
        id: "sure",
        title: "Tolerances and how sure it is",
        lines: &[
            Plain(
                "The margin is worked out with everything at its weak end at once. How often a joint reaches its target with a hand-held drill comes from thousands of seeded draws: holes wander, magnets sit deeper and lean, coats are thicker or thinner, each lot lies somewhere in its grade, parts within the spread of their mass. Which of these matters most is its share of the variance by itself.",
            ),
            Formula("share of source i = Var(E(\u{3bb} | i)) / Var(\u{3bb})"),
            Trust(
                "as good as the scatter that you put in (its defaults: common practice, no source). Where a closed form exists the draws meet it: the spread to 2 %, the shares to four standard errors. The pull comes from tables that are within half a per cent of the exact force. The same seed gives the same draws on every device.",
            ),
            Source(
                "Box and Muller 1958 for normal numbers; Sobol 1993 and Janon and others 2014 for the shares; binomial standard error.",
            ),
        ],
    },
    // crates/solve/tests/parity.rs, parity_repair.rs, signs.rs
    Subject {
        id: "poles",
        title: "Poles, contradictions and wrong placements",
        lines: &[
            Plain(
                "Each magnet shows N or S. Two that meet must show different poles; the two ends of a magnet that goes right through do; a part that is used in two poses ties its magnets together. Such a system can be solved exactly if no closed chain asks for an odd number of changes. Where one does, the shortest such chain is told as a story, with the cheapest ways out, each carried out on a copy of the plan and worked out anew before it is shown.",
            ),
            Plain(
                "Wrong placements: every socket and pose that a hand could try and no variant asks for, by the net straight force; the poles proposed push off as many as any choice can.",
            ),
            Trust(
                "exact, against exhaustive search on random systems and against named graphs. Where a search was cut short it says so and is not called proven. Tilting, and magnets that meet by their edges, are not looked at in wrong placements. The prices of ways out only order them: common practice, no source.",
            ),
            Source(
                "K\u{f6}nig 1936 and Harary 1953 (from memory) for the condition; maximum cut and odd cycle transversal for the repairs (Karp 1972; Reed, Smith and Vetta 2004, from memory).",
            ),
        ],
    },
];
