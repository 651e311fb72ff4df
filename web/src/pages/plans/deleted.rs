//! Plans that were deleted and can still be had back.

use lodewright_planner::planfile;
use tiny_sort::stable::sort_by;
use wasm_bindgen_futures::spawn_local;
use yew::prelude::*;

use crate::clock::day_and_time;
use crate::storage::{PastName, indexed_db};
use crate::store::{Action, Notice, Shelf, Store, use_save_state, use_shelf, use_store};

/// A deleted plan as it was last.
#[derive(Clone, PartialEq)]
struct Gone {
    state: PastName,
    title: AttrValue,
}

/// See the module; nothing where there is none.
#[component]
pub fn Deleted() -> Html {
    let (store, shelf, save) = (use_store(), use_shelf(), use_save_state());
    let found = use_state_eq(Vec::<Gone>::new);
    {
        let set = found.setter();
        // A deletion shows once it is written.
        use_effect_with((shelf, save), move |(shelf, _)| {
            let shelf = shelf.clone();
            spawn_local(async move { set.set(read(&shelf).await) });
        });
    }
    if found.is_empty() {
        return Html::default();
    }
    html! {
        <section class="section" aria-labelledby="deleted-title" data-test="deleted">
            <h2 id="deleted-title">{ "Deleted plans" }</h2>
            <p class="quiet">{ "Kept for 30 days where there is room, with their earlier states." }</p>
            <ul class="cards">{ for found.iter().map(|gone| row(&store, gone, &found.setter())) }</ul>
        </section>
    }
}

fn row(store: &Store, gone: &Gone, set: &UseStateSetter<Vec<Gone>>) -> Html {
    let key = &gone.state.plan;
    let back = {
        let (store, state) = (store.clone(), gone.state.clone());
        Callback::from(move |_: MouseEvent| bring_back(store.clone(), state.clone()))
    };
    let forget = {
        let (store, plan, set) = (store.clone(), key.clone(), set.clone());
        Callback::from(move |_: MouseEvent| forget(store.clone(), plan.clone(), set.clone()))
    };
    html! {
        <li key={key.clone()} class="card plan-card">
            <div class="plan-card-words">
                <h3>{ &gone.title }</h3>
                <p class="quiet">{ "changed " }{ day_and_time(gone.state.at_ms) }</p>
            </div>
            <div class="actions">
                <button type="button" class="button is-small" data-test={format!("restore-{key}")} onclick={back}>{ "Bring back" }</button>
                <button type="button" class="button is-small is-quiet" data-test={format!("forget-{key}")} onclick={forget}>{ "Delete for good" }</button>
            </div>
        </li>
    }
}

/// The last state of every plan that is not on the shelf, the one changed last first.
fn last_of_each(mut names: Vec<PastName>, shelf: &Shelf) -> Vec<PastName> {
    names.retain(|n| shelf.iter().all(|e| e.key != n.plan));
    sort_by(&mut names, |a, b| {
        b.at_ms
            .total_cmp(&a.at_ms)
            .then_with(|| b.number.cmp(&a.number))
    });
    let mut last: Vec<PastName> = Vec::new();
    for name in names {
        if last.iter().all(|n| n.plan != name.plan) {
            last.push(name);
        }
    }
    last
}

async fn read(shelf: &Shelf) -> Vec<Gone> {
    let names = indexed_db::past_names().await.unwrap_or_default();
    let mut all = Vec::new();
    for state in last_of_each(names, shelf) {
        let record = indexed_db::past_read(&state.name).await.ok().flatten();
        let plan = record.and_then(|r| planfile::read(r.text.as_bytes()).ok());
        let title = plan.map_or_else(|| state.plan.clone(), |loaded| loaded.plan.title);
        let title = title.into();
        all.push(Gone { state, title });
    }
    all
}

fn bring_back(store: Store, state: PastName) {
    spawn_local(async move {
        let record = indexed_db::past_read(&state.name).await.ok().flatten();
        let plan = record.map(|r| planfile::read(r.text.as_bytes()));
        store.send(match plan {
            Some(Ok(loaded)) => Action::Restore(state.plan.into(), Box::new(loaded.plan)),
            Some(Err(error)) => Action::Tell(Notice::refused(error.to_string())),
            None => Action::Tell(Notice::refused("This plan is not there any more.")),
        });
    });
}

/// Drops every state of a plan.
fn forget(store: Store, plan: String, set: UseStateSetter<Vec<Gone>>) {
    spawn_local(async move {
        let names = indexed_db::past_names().await.unwrap_or_default();
        let of_plan = names.into_iter().filter(|n| n.plan == plan);
        let of_plan: Vec<String> = of_plan.map(|n| n.name).collect();
        match indexed_db::past_drop(&of_plan).await {
            Ok(()) => set.set(read(&store.read(|s| (*s.shelf).clone())).await),
            Err(said) => store.send(Action::Tell(Notice::refused(said))),
        }
    });
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::Entry;
    use lodewright_planner::kit::Plan;

    #[test]
    fn the_last_state_of_each_plan_that_is_gone_is_offered() {
        let shelf = vec![Entry::of("here".into(), Plan::empty("Here"))];
        let names = [
            "here/9/90/1",
            "gone/1/10/1",
            "gone/3/30/1",
            "gone/2/30/1",
            "too/1/50/1",
        ];
        let names = names.map(|n| PastName::read(n).unwrap()).to_vec();
        let last = last_of_each(names, &shelf);
        let names: Vec<_> = last.iter().map(|n| n.name.as_str()).collect();
        assert_eq!(names, ["too/1/50/1", "gone/3/30/1"]);
    }
}
