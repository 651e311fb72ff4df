//! Glue answer, choice of magnets, drilling, buying, work order, swaps, masses, safety figures, times and quote, as prose.

use super::subject::Line::{Formula, Plain, Source, Trust};
use super::subject::Subject;

// Figures of accuracy are those that the tests of the crate named beside each subject assert.
pub const SUBJECTS: &[Subject] = &[
    // crates/assembly/tests/brute_force.rs
    Subject {
        id: "glue",
        title: "What may be glued, and how many models there are",
        lines: &[
            Plain(
                "A joint may be glued exactly if, in every model that the plan allows and in which either of its two parts occurs, both occur in this joint; never where its socket is marked to be kept apart, or its part must let go. Models are counted over all variants and free options without listing them; a model that two variants share counts once.",
            ),
            Trust(
                "exact: against every way to fill every socket, judged by the definition alone, in random small plans. Where there are too many situations to count, that is said and the joint is kept apart. Whether glue is wise is yours to judge: it cannot be undone.",
            ),
            Source("the definition; nothing else is needed."),
        ],
    },
    // crates/choice/tests/exact.rs, crates/planner/tests/fewest.rs
    Subject {
        id: "fewest",
        title: "The fewest magnets, and what \u{2018}proven\u{2019} means",
        lines: &[
            Plain(
                "Holes of one kind in one face take magnets of one size, or steel, or nothing (one bit, nothing to mix up: our custom, common practice, no source); a friction pin stands in where you allow it. For each joint every pair of such fillings is tried, and those stay with which it does all that is asked: holds, bears shaking, lets go, spares the glue, is comfortable, attracts; magnets that would feel each other where nobody wants it must keep apart. Then faces are taken out one after another, keeping for each combination of their neighbours the cheapest filling; what is left at the end is the least.",
            ),
            Plain(
                "Proven means: no choice within that custom, these sizes and these sites takes fewer, and other code than the search has read the proof and agrees. Not proven means: the search was stopped or the joints hang together too tightly; the choice still does all that is asked. It does not mean that the model holds better than the formulas say.",
            ),
            Trust(
                "exact: against enumeration of every choice in 1500 random problems and against published hitting sets; in the demo no single magnet of the proposal can be left out. More magnets than the least are often wise: a spare pair costs little.",
            ),
            Source(
                "bucket elimination: Dechter 1999, Bertel\u{e8} and Brioschi 1972; hitting sets: Fulkerson, Nemhauser and Trotter 1974, Pellegrino 1971 (from memory).",
            ),
        ],
    },
    Subject {
        id: "drilling",
        title: "Holes, bits and templates",
        lines: &[
            Formula(
                "bit \u{2265} diameter + 0.1 mm; depth = height + 0.1 mm; a 118\u{b0} point goes deeper by D / (2 tan 59\u{b0}) = 0.30 D",
            ),
            Plain(
                "A hole is held against the body of its part: its depth with the drill\u{2019}s point and 0.5 mm behind it against the plastic there, its rim against the sides of the part, the peg and the other holes. A hollow part has its wall there, unless you say at the hole what you measured; a part of which you have not said whether it is hollow is taken as full, so say it.",
            ),
            Plain(
                "The two tenths are settings. Bits are those at the desk where one is at most 0.3 mm over, else the metric series; larger holes are opened in steps. A hole may be out of place by what makes two magnets miss each other by a tenth of their diameter.",
            ),
            Trust(
                "0.1 mm over is the first safe size for discs of \u{b1}0.05 mm; measure one of each lot. A hand-held bit cuts a few hundredths over in plastic. Templates are as true as the printer: check the line of 100 mm beside them before you drill. How much wall may be left thin is your judgement; no source was found.",
            ),
            Source(
                "metric series: BS 328; number sizes: ASME B94.11M (from memory); bit tolerance h8: DIN 1414. Steps, first bit and least walls: common practice, no source.",
            ),
        ],
    },
    Subject {
        id: "packs",
        title: "Packs to buy",
        lines: &[
            Formula(
                "least \u{3a3} price \u{b7} packs with \u{3a3} pieces \u{b7} packs \u{2265} need + spares \u{2212} in hand",
            ),
            Trust(
                "exact for the packs and prices that you entered: the covering knapsack by dynamic programming; of equal cost the one with least left over. Postage and quantity discounts are not in it.",
            ),
            Source(
                "dynamic programming (any textbook); compared with recursion over all purchases. Ten per cent spares: common practice, no source.",
            ),
        ],
    },
    // crates/solve/tests/schedule.rs
    Subject {
        id: "order",
        title: "Work order and its bound",
        lines: &[
            Plain(
                "One pair of hands, steps that come before others, cures that pass meanwhile, and a change of bit between batches. An order is built by several rules, improved by moving steps, and searched to the end where it is short. The line below it, which no order can beat, is the same work with interruptions allowed, heads and tails kept.",
            ),
            Formula("gap = (this order \u{2212} bound) / bound"),
            Trust(
                "for six and seven steps equal to all orders tried; 300 invented steps stay within 5 % of the bound. Times are your rates: they decide more than the order does. Nights, drying weather and mistakes are not in it, and a maker's cure time comes before ours.",
            ),
            Source("Jackson's preemptive schedule, Carlier 1982 (from memory)."),
        ],
    },
    // crates/solve/src/route/tests.rs
    Subject {
        id: "swaps",
        title: "Swaps and the round through all variants",
        lines: &[
            Plain(
                "From one model to another, every part whose joint changes is taken off once and put on once, outermost first; no way can do with fewer. The round through all variants is a shortest round trip in that count.",
            ),
            Trust(
                "exact between two given models. The round is exact up to 17 variants for the models chosen, beyond that at most 3 % too long in published instances, with a bound. Free options are kept one socket at a time and improved in turn, which may cost a handling.",
            ),
            Source(
                "Held and Karp 1962 and 1970; instances of TSPLIB, Reinelt, ORSA J. Computing 3 (1991).",
            ),
        ],
    },
    // crates/solve/tests/stow.rs
    Subject {
        id: "stowing",
        title: "Where loose parts lie",
        lines: &[
            Plain(
                "Parts are taken as boxes with padding round them, laid in six turns (or upright only) by several rules and a seeded search; layers have nothing above one another.",
            ),
            Trust(
                "nothing overlaps or sticks out. That all fit is certain; that they do not is only \u{2018}not found\u{2019}: of a full box cut into 8, 20 and 60 pieces at least 95, 84 and 79 % of the volume goes back in. Real parts are smaller than their boxes, and lie better by hand.",
            ),
            Source(
                "cut-up boxes as the packing literature makes them; the rules are common practice.",
            ),
        ],
    },
    Subject {
        id: "masses",
        title: "Masses and their middles",
        lines: &[
            Formula(
                "m = \u{3c1} \u{b7} volume of the body; where it is not said whether a part is hollow, thicker than 3 mm: a shell of 1.2 mm wall",
            ),
            Trust(
                "the upper end counts: 2 % over when weighed, 15 % from a volume or a body, half as much again where it is not said whether it is hollow (common practice, no source). A part whose mass is guessed says so; weighing the heavy ones is the quickest way to a better answer. Filler, lead and wiring are not seen unless you enter them.",
            ),
            Source(
                "published densities: styrene 1.04, cured resin about 1.18 (from memory), white metal 7.1, brass 8.5, sintered NdFeB 7.5, steel 7.85 g/cm\u{b3}.",
            ),
        ],
    },
    // crates/field/tests/safety.rs
    Subject {
        id: "flux",
        title: "Flux index, reach of the field",
        lines: &[
            Formula(
                "flux index = (largest field over a pole face)\u{b2} \u{b7} area of that face, in kG\u{b2}mm\u{b2}",
            ),
            Plain(
                "Read as the toy rules read it, with a probe of 0.76 mm at 0.38 mm from the face, at the grade's high end. Above 50 a magnet that a child can swallow counts as hazardous in toys. The reach is where the field on the axis falls to 1 mT (at which pacemakers switch) and to 30 mT (which a weak card stripe bears).",
            ),
            Trust(
                "the index to 0.3 % of a separate field integration, the reach to 0.06 mm, both for one disc alone: stacks reach farther. A number below the limit does not make two magnets safe to swallow.",
            ),
            Source(
                "16 CFR 1262 (2022); EN 71-1 (second-hand); Canada, Toys Regulations SOR/2011-17, Schedule 10.",
            ),
        ],
    },
    Subject {
        id: "quote",
        title: "Times and quote",
        lines: &[
            Formula(
                "total = work + costs + margin + tax; each line = minutes \u{b7} rate per hour / 60, rounded by itself",
            ),
            Plain(
                "Minutes are steps times your rates; the clock on the bench page can put your own times in their place. Margin is a share of work and costs, tax a share of all three. The saving compares kits and pieces alone, without work.",
            ),
            Trust(
                "arithmetic on your entries, to the cent; the minutes at first are common practice, no source. Terms, taxes and what a client must be told are matters of local law.",
            ),
            Source("your own entries."),
        ],
    },
];
