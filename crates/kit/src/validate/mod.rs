//! Whether the entries of a plan are legal and fit together.

mod check;
mod desk;
mod parts;
mod rules;
mod sockets;
mod stock;
mod structure;
mod variants;

use tiny_sort::stable::sort_by_key;

use crate::visible::can_be_seen;
use crate::{Plan, Problem, limits};
use check::{At, Check};

pub(crate) fn problems(plan: &Plan) -> Vec<Problem> {
    let mut check = Check::default();
    entries(plan, &mut check.top());
    // References of a plan with too many entries are not looked at: that is quick only within the limits.
    if !check.too_many {
        structure::check(plan, &mut check.top());
    }
    sort_by_key(&mut check.found, |p| p.severity);
    check.found
}

/// Each entry by itself: ids, labels, numbers, counts.
fn entries(plan: &Plan, at: &mut At<'_>) {
    at.label("title", &plan.title, limits::LABEL);
    if !plan.title.trim().is_empty() && !can_be_seen(&plan.title) {
        at.refuse(
            "title",
            "holds no character that can be seen.",
            "Type a title.",
        );
    }
    at.label("note", &plan.note, limits::NOTE);
    at.label("kit.name", &plan.kit.name, limits::LABEL);
    at.at_most("kit.price_cents", plan.kit.price_cents, limits::CENTS);
    if let Some(backdrop) = &plan.backdrop {
        parts::backdrop(&mut at.within("backdrop"), backdrop);
    }
    at.list(
        "parts",
        &plan.parts,
        limits::PARTS,
        |p| p.id.as_str(),
        parts::part,
    );
    at.list(
        "sockets",
        &plan.sockets,
        limits::SOCKETS,
        |s| s.id.as_str(),
        sockets::socket,
    );
    at.list(
        "variants",
        &plan.variants,
        limits::VARIANTS,
        |v| v.id.as_str(),
        variants::variant,
    );
    at.list(
        "materials",
        &plan.materials,
        limits::LIST,
        |m| m.id.as_str(),
        stock::material,
    );
    stock::stock(&mut at.within("stock"), &plan.stock);
    rules::finish(&mut at.within("finish"), &plan.finish);
    rules::settings(&mut at.within("settings"), &plan.settings);
    rules::rates(&mut at.within("rates"), &plan.rates);
    desk::check(plan, at);
}
