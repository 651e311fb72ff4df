//! The formula behind every number of a joint, with the inputs that went in: what a page opens when a number is doubted.

use lodewright_joints::{End, JointModel, Verdict, gap_at};
use lodewright_kit::Plan;
use lodewright_solve::hold::{Mode, ModeMargin};

use super::formula_text as text;

/// One input of a formula.
#[derive(Clone, Debug, PartialEq)]
pub struct Input {
    /// Its sign in the formula.
    pub sign: &'static str,
    /// What it is.
    pub what: &'static str,
    /// Its value.
    pub value: f64,
    /// Its unit; empty for a pure number.
    pub unit: &'static str,
}

/// One number with its formula.
#[derive(Clone, Debug, PartialEq)]
pub struct Formula {
    /// What the number is.
    pub name: String,
    /// The formula as text.
    pub formula: &'static str,
    /// What went in.
    pub inputs: Vec<Input>,
    /// What came out.
    pub result: f64,
    /// Its unit.
    pub unit: &'static str,
    /// Where the formula is from and how far it may be trusted.
    pub source: &'static str,
}

fn input(sign: &'static str, what: &'static str, value: f64, unit: &'static str) -> Input {
    Input {
        sign,
        what,
        value,
        unit,
    }
}

/// Every number of a joint: each pair's gap and pull, each way in which the joint gives way, what the hand and the glue
/// bear, letting go, and the window between. The model is what [`Analysis::study`](crate::Analysis::study) gives.
pub fn formulas(plan: &Plan, model: &JointModel) -> Vec<Formula> {
    let verdict = model.judge();
    let mut all = Vec::new();
    pairs(plan, model, &mut all);
    modes(plan, model, &verdict, &mut all);
    by_hand(plan, model, &verdict, &mut all);
    letting_go(plan, model, &verdict, &mut all);
    all
}

fn pairs(plan: &Plan, model: &JointModel, all: &mut Vec<Formula>) {
    let settings = &plan.settings;
    for (i, pair) in model.pairs.iter().enumerate() {
        let gap_mm = gap_at(plan, pair.gap_mm, End::Weak);
        all.push(Formula {
            name: format!("Gap of pair {}, at its widest", i + 1),
            formula: text::GAP,
            inputs: vec![
                input(
                    "walls",
                    "walls and recesses",
                    pair.gap_mm - pair.coats_mm,
                    "mm",
                ),
                input("films", "films, coats and fit", pair.coats_mm, "mm"),
                input(
                    "tolerance",
                    "how much wider it may come out",
                    settings.gap_tolerance_mm,
                    "mm",
                ),
            ],
            result: gap_mm,
            unit: "mm",
            source: "The plan's own entries, added up.",
        });
        all.push(Formula {
            name: format!("Pull of pair {}, weak end", i + 1),
            formula: text::PULL,
            inputs: vec![
                input("g", "gap", gap_mm, "mm"),
                input("offset", "axes apart", pair.offset_mm(), "mm"),
                input("T", "warmest", settings.warmest_c, "\u{b0}C"),
            ],
            result: model.pair_n(pair, End::Weak, 0.0),
            unit: "N",
            source: text::PULL_SOURCE,
        });
    }
}

fn modes(plan: &Plan, model: &JointModel, verdict: &Verdict, all: &mut Vec<Formula>) {
    let Some(worst) = verdict.worst() else {
        return;
    };
    let (hold, load) = (&worst.account, &model.loads[worst.load]);
    let weight_n = load.weight_n();
    let common = || {
        vec![
            input(
                "W",
                "weight carried, at the upper end of its estimate",
                weight_n,
                "N",
            ),
            input("\u{3a3}F", "all pulls at the weak end", verdict.weak_n, "N"),
        ]
    };
    for mode in &hold.modes {
        let (name, formula, mut more, source) = described(plan, load.centre_mm, mode);
        let mut inputs = common();
        inputs.append(&mut more);
        all.push(Formula {
            name,
            formula,
            inputs,
            result: mode.margin_g,
            unit: "g",
            source,
        });
    }
    if let Some(droop_deg) = hold.droop_deg {
        all.push(Formula {
            name: "Droop of a part on its snug peg".to_owned(),
            formula: text::DROOP,
            inputs: vec![
                input("play", "hole less peg", model.peg.clearance_mm, "mm"),
                input(
                    "length",
                    "of the peg in its hole",
                    model.peg.length_mm,
                    "mm",
                ),
            ],
            result: droop_deg,
            unit: "\u{b0}",
            source: "Geometry of a stiff peg in a stiff hole.",
        });
    }
}

type Described = (String, &'static str, Vec<Input>, &'static str);

fn described(plan: &Plan, centre_mm: [f64; 3], mode: &ModeMargin) -> Described {
    let mu = || {
        input(
            "\u{b5}",
            "friction between the faces",
            plan.settings.friction,
            "",
        )
    };
    let out = || {
        input(
            "c",
            "centre of mass out of the mating plane",
            centre_mm[2],
            "mm",
        )
    };
    match mode.mode {
        Mode::Tip { from_mm, to_mm, .. } => (
            format!(
                "Tipping over the edge from {:.1}, {:.1} to {:.1}, {:.1} mm",
                from_mm[0], from_mm[1], to_mm[0], to_mm[1]
            ),
            text::TIP,
            vec![out()],
            text::TIP_SOURCE,
        ),
        Mode::Slide => ("Sliding".to_owned(), text::SLIDE, vec![mu()], text::STATICS),
        Mode::Turn => (
            "Turning in its plane".to_owned(),
            text::TURN,
            vec![mu()],
            text::ESTIMATE,
        ),
        Mode::SlideTurn => (
            "Sliding and turning".to_owned(),
            "the smallest \u{3bb} of turning over all centres of rotation",
            vec![mu()],
            text::ESTIMATE,
        ),
        Mode::StraightPull => (
            "Pulled straight off".to_owned(),
            text::STRAIGHT,
            Vec::new(),
            text::STATICS,
        ),
        Mode::DroopedPull => (
            "Pulled straight off when drooped on its peg".to_owned(),
            text::DROOPED,
            Vec::new(),
            "Statics; the gap that the droop opens at each pull is added to its gap.",
        ),
        Mode::NoPatch => (
            "No contact".to_owned(),
            "\u{3bb} = 0",
            Vec::new(),
            text::STATICS,
        ),
        Mode::NoPull => (
            "Nothing pulls".to_owned(),
            "\u{3bb} = 0",
            Vec::new(),
            text::STATICS,
        ),
    }
}

fn by_hand(plan: &Plan, model: &JointModel, verdict: &Verdict, all: &mut Vec<Formula>) {
    let settings = &plan.settings;
    all.push(Formula {
        name: "Pull that the hand must overcome".to_owned(),
        formula: text::HAND,
        inputs: vec![input(
            "limit",
            "comfortable, as the plan says",
            settings.hand_limit_n,
            "N",
        )],
        result: verdict.hand_n,
        unit: "N",
        source: "As the pulls above; straight off, the hardest way.",
    });
    if model.pin_n.is_some() {
        return;
    }
    all.push(Formula {
        name: "Stress on the glue of the most loaded magnet".to_owned(),
        formula: text::BOND,
        inputs: vec![
            input(
                "limit",
                "what the glue may bear",
                settings.glue_strength_mpa,
                "MPa",
            ),
            input("safety", "asked of it", settings.bond_safety, ""),
        ],
        result: verdict.bond_mpa,
        unit: "MPa",
        source: text::BOND_SOURCE,
    });
}

fn letting_go(plan: &Plan, model: &JointModel, verdict: &Verdict, all: &mut Vec<Formula>) {
    let thin = plan.parts[model.part].thin.as_ref();
    if let (Some(case), Some(thin)) = (&verdict.let_go, thin) {
        if let Some(opens) = case.opens {
            all.push(Formula {
                name: "Force at the reach that opens it, hardest direction".to_owned(),
                formula: text::OPENS,
                inputs: vec![
                    input(
                        "\u{3a3}F",
                        "all pulls at the strong end",
                        verdict.hand_n,
                        "N",
                    ),
                    input(
                        "reach",
                        "from the mating plane to where it is caught",
                        thin.reach_mm,
                        "mm",
                    ),
                ],
                result: opens.hardest_n,
                unit: "N",
                source: text::OPENS_SOURCE,
            });
        }
        all.push(Formula {
            name: "Force there that snaps the thinnest section".to_owned(),
            formula: text::SNAPS,
            inputs: vec![
                input(
                    "L",
                    "from the section to where it is caught",
                    thin.length_mm,
                    "mm",
                ),
                input(
                    "K",
                    "stress raised at a corner or hole",
                    thin.notch_factor,
                    "",
                ),
                input(
                    "safety",
                    "asked between the two",
                    plan.settings.snap_safety,
                    "",
                ),
            ],
            result: case.snaps_n,
            unit: "N",
            source: text::SNAPS_SOURCE,
        });
    }
    if let Some(window) = model
        .window()
        .filter(|w| w.most.is_finite() && w.least.is_finite())
    {
        all.push(Formula {
            name: "Window: pulls that hold and still let go".to_owned(),
            formula: "from target / \u{3bb} to the smaller of safety and comfort, as multiples of the present pulls",
            inputs: vec![input("from", "times the present pulls", window.least, "")],
            result: window.most,
            unit: "",
            source: "Margins and opening forces are both proportional to the pulls.",
        });
    }
}
