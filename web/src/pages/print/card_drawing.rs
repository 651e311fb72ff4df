//! A variant drawn for its card: from its side and from above, what the owner puts on numbered as in the list.

use lodewright_planner::Card;
use lodewright_planner::kit::{Facing, Plan};
use yew::prelude::*;

use crate::projection::look::{Look, apart, bounds};
use crate::projection::scene::{Body, Scene};

/// Radius of a number's disc as a fraction of the drawing's longer side.
const NUMBER: f64 = 0.035;
/// Rounds in which numbers that lie on each other push apart.
const ROUNDS: usize = 60;

/// The card's variant from two sides; nothing where it cannot be put together.
pub fn drawing(plan: &Plan, card: &Card) -> Html {
    let Some(variant) = plan.variants.get(card.variant) else {
        return Html::default();
    };
    let [left, front] = [Facing::Left, Facing::Front]
        .map(|side| Scene::of(plan, Some(&variant.id), Look::from(side)));
    let side = if shown_mm2(&front) > shown_mm2(&left) {
        front
    } else {
        left
    };
    let above = Scene::of(plan, Some(&variant.id), Look::from(Facing::Up));
    html! {
        <div class="owner-views">
            { for [side, above].iter().map(|scene| view(scene, card)) }
        </div>
    }
}

/// How much paper a view covers, mm².
fn shown_mm2(scene: &Scene) -> f64 {
    bounds(scene.corners()).map_or(0.0, |(low, high)| (high[0] - low[0]) * (high[1] - low[1]))
}

/// A number, where its part is and where the number stands, mm to the right and up.
struct Number {
    number: usize,
    part: [f64; 2],
    at: [f64; 2],
}

fn view(scene: &Scene, card: &Card) -> Html {
    let Some((low, high)) = bounds(scene.corners()) else {
        return Html::default();
    };
    let size = [high[0] - low[0], high[1] - low[1]];
    let radius = NUMBER * size[0].max(size[1]).max(1.0);
    let number_of = |b: &Body| card.seats.iter().position(|s| s.index == b.part);
    let numbers = spread(
        scene
            .bodies
            .iter()
            .filter_map(|b| {
                let middle = [0, 1].map(|k| (b.low[k] + b.high[k]) / 2.0);
                Some((number_of(b)? + 1, middle))
            })
            .collect(),
        radius,
    );
    // Numbers may stand outside; paper has its y axis downwards.
    let around = numbers.iter().map(|n| n.at).chain([low, high]);
    let (low, high) = bounds(around).unwrap_or((low, high));
    let room = 1.6 * radius;
    let frame = format!(
        "{:.2} {:.2} {:.2} {:.2}",
        low[0] - room,
        -high[1] - room,
        high[0] - low[0] + 2.0 * room,
        high[1] - low[1] + 2.0 * room
    );
    let said = format!("{}, seen {}", names(card), from_words(scene.look.from));
    html! {
        <figure>
            <svg class="owner-view" viewBox={frame} role="img" aria-label={said}>
                { for scene.bodies.iter().map(|b| body(b, number_of(b).is_some(), radius / 6.0)) }
                { for numbers.iter().map(|n| number(n, radius)) }
            </svg>
            <figcaption>{ format!("Seen {}", from_words(scene.look.from)) }</figcaption>
        </figure>
    }
}

fn names(card: &Card) -> String {
    let names: Vec<&str> = card.seats.iter().map(|s| s.part.as_str()).collect();
    if names.is_empty() {
        "The model with nothing put on".to_owned()
    } else {
        format!("The model with {}", names.join(", "))
    }
}

fn from_words(side: Facing) -> String {
    match side {
        Facing::Up => "from above".to_owned(),
        Facing::Down => "from below".to_owned(),
        _ => format!("from the {}", side.word()),
    }
}

fn body(body: &Body, put_on: bool, line_mm: f64) -> Html {
    let (class, width) = if put_on {
        ("owner-put-on", line_mm * 1.2)
    } else {
        ("owner-stays", line_mm * 0.6)
    };
    let path = |outline: &Vec<[f64; 2]>| {
        let points = outline.iter().map(|[x, y]| format!("{x:.2},{:.2}", -y));
        html! { <polygon {class} points={points.collect::<Vec<_>>().join(" ")} /> }
    };
    html! { <g stroke-width={format!("{width:.2}")}>{ for body.outlines.iter().map(path) }</g> }
}

fn number(n: &Number, radius: f64) -> Html {
    let [x, y] = [n.at[0], -n.at[1]];
    let leads = apart(n.at, n.part) > radius;
    html! {
        <g>
            if leads {
                <line class="owner-lead" stroke-width={format!("{:.2}", radius / 9.0)} x1={format!("{x:.2}")} y1={format!("{y:.2}")} x2={format!("{:.2}", n.part[0])} y2={format!("{:.2}", -n.part[1])} />
            }
            <circle class="owner-number" cx={format!("{x:.2}")} cy={format!("{y:.2}")} r={format!("{radius:.2}")} />
            <text class="owner-digit" x={format!("{x:.2}")} y={format!("{:.2}", y + radius * 0.42)} font-size={format!("{:.2}", radius * 1.25)} text-anchor="middle">{ n.number }</text>
        </g>
    }
}

/// Numbers at the middles of their parts, pushed apart until none covers another.
fn spread(parts: Vec<(usize, [f64; 2])>, radius: f64) -> Vec<Number> {
    let mut all: Vec<Number> = parts
        .into_iter()
        .map(|(number, part)| Number {
            number,
            part,
            at: part,
        })
        .collect();
    let least = 2.3 * radius;
    for _ in 0..ROUNDS {
        let mut moved = false;
        for a in 0..all.len() {
            for b in a + 1..all.len() {
                let gap = apart(all[a].at, all[b].at);
                if gap >= least * 0.999 {
                    continue;
                }
                moved = true;
                // Numbers on one spot part upwards and downwards.
                let way = if gap > 1e-6 * radius {
                    [0, 1].map(|k| (all[b].at[k] - all[a].at[k]) / gap)
                } else {
                    [0.0, 1.0]
                };
                for (k, along) in way.into_iter().enumerate() {
                    let step = along * (least - gap) / 2.0;
                    all[a].at[k] -= step;
                    all[b].at[k] += step;
                }
            }
        }
        if !moved {
            break;
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_do_not_cover_each_other() {
        let parts = [[0.0, 0.0], [0.0, 0.0], [0.5, 0.0], [9.0, 0.0]];
        let all = spread(parts.into_iter().enumerate().collect(), 1.0);
        for (i, a) in all.iter().enumerate() {
            for b in &all[i + 1..] {
                assert!(apart(a.at, b.at) >= 2.0, "{} {}", a.number, b.number);
            }
        }
        assert_eq!(all[3].at, [9.0, 0.0]);
    }
}
