//! Earlier states of plans: which are kept, within a stated share of what the browser grants.

use std::collections::{BTreeMap, BTreeSet};
use tiny_sort::stable::sort_by;

/// The most that all earlier states take together, bytes.
pub const SHARE_BYTES: f64 = 8e6;
/// And the most of what the browser grants the page.
pub const SHARE_OF_QUOTA: f64 = 0.05;

/// The name of an earlier state: `plan/number/at_ms/length`.
#[derive(Clone, Debug, PartialEq)]
pub struct PastName {
    /// As it is stored.
    pub name: String,
    /// Of which plan.
    pub plan: String,
    /// The number of the state.
    pub number: u64,
    /// When it was written, milliseconds since 1970.
    pub at_ms: f64,
    /// How long it is.
    pub length: f64,
}

impl PastName {
    /// From what is stored.
    pub fn read(name: &str) -> Option<Self> {
        let mut parts = name.rsplitn(4, '/');
        let length = parts.next()?.parse().ok()?;
        let at_ms = parts.next()?.parse().ok()?;
        let number = parts.next()?.parse().ok()?;
        Some(Self {
            name: name.to_owned(),
            plan: parts.next()?.to_owned(),
            number,
            at_ms,
            length,
        })
    }
}

/// Lengths of time for which one state is kept each, and how far back they reach: a minute for an hour, an hour for a day, a
/// day for a year. Milliseconds.
const GRAINS: [(f64, f64); 3] = [(6e4, 3.6e6), (3.6e6, 8.64e7), (8.64e7, 3.2e10)];

/// What was deleted stays so long, milliseconds.
const DELETED_MS: f64 = 30.0 * 86_400_000.0;

/// The names to forget: what is of a plan that was deleted (`gone`: when) long ago or is finer than its age asks for, and the oldest
/// until the rest fits the share. The last state of each plan comes first: it is all that is left of a deleted one.
pub fn to_forget(
    all: &[PastName],
    gone_ms: impl Fn(&str) -> Option<f64>,
    now_ms: f64,
    quota_bytes: Option<f64>,
) -> Vec<String> {
    let share = quota_bytes.map_or(SHARE_BYTES, |q| (q * SHARE_OF_QUOTA).min(SHARE_BYTES));
    let mut sorted: Vec<&PastName> = all.iter().collect();
    // The newest first, so that of each length of time the last state stays.
    sort_by(&mut sorted, |a, b| {
        b.at_ms
            .total_cmp(&a.at_ms)
            .then_with(|| a.name.cmp(&b.name))
    });
    let mut plans = BTreeSet::<&str>::new();
    let (newest, others): (Vec<&PastName>, Vec<&PastName>) =
        sorted.into_iter().partition(|n| plans.insert(&n.plan));
    let newest = newest.into_iter().map(|n| (true, n));
    let mut last: BTreeMap<&str, (usize, f64)> = BTreeMap::new();
    let mut bytes = 0.0;
    let mut gone = Vec::new();
    for (is_newest, state) in newest.chain(others.into_iter().map(|n| (false, n))) {
        let age = now_ms - state.at_ms;
        let grain = GRAINS.iter().position(|(_, reach)| age <= *reach);
        // The newest one stays whatever its age.
        let grain = grain.or(is_newest.then_some(GRAINS.len() - 1));
        let place = grain.map(|g| (g, (state.at_ms / GRAINS[g].0).floor()));
        let expired = gone_ms(&state.plan).is_some_and(|at| now_ms - at > DELETED_MS);
        let place = place.filter(|_| !expired);
        // A state takes two bytes a letter where one letter of it is no Latin one.
        let fits = bytes + 2.0 * state.length <= share;
        match place {
            Some(place) if fits && last.get(state.plan.as_str()) != Some(&place) => {
                last.insert(&state.plan, place);
                bytes += 2.0 * state.length;
            }
            _ => gone.push(state.name.clone()),
        }
    }
    gone
}

#[cfg(test)]
mod tests {
    use super::*;

    const NOW: f64 = 1.764e12;

    fn state(plan: &str, ago_ms: f64, length: u32) -> PastName {
        PastName::read(&format!("{plan}/3/{}/{length}", NOW - ago_ms)).unwrap()
    }

    #[test]
    fn names_are_read_from_the_end() {
        let name = PastName::read("a/b/12/1764000000000/345").unwrap();
        assert_eq!(
            (name.plan.as_str(), name.at_ms, name.length),
            ("a/b", NOW, 345.0)
        );
        assert_eq!(PastName::read("a/12"), None);
    }

    #[test]
    fn finer_steps_stay_for_newer_states() {
        let minutes: Vec<_> = (0..600)
            .map(|n| state("a", f64::from(n) * 6e4 + 1.0, 10))
            .collect();
        let gone = to_forget(&minutes, |_| None, NOW, None);
        let left = minutes.len() - gone.len();
        // Sixty of the last hour, then one each of nine hours.
        assert!((68..=72).contains(&left), "{left}");
    }

    #[test]
    fn the_share_holds_and_the_newest_stay() {
        let days: Vec<_> = (0..20)
            .map(|n| state("a", f64::from(n) * 8.64e7 + 1.0, 1_000_000))
            .collect();
        let gone = to_forget(&days, |_| None, NOW, None);
        assert_eq!(gone.len(), 16);
        assert!(!gone.contains(&days[0].name) && gone.contains(&days[19].name));
        assert_eq!(
            to_forget(&days, |_| None, NOW, Some(1e7)).len(),
            20,
            "a twentieth of little is nothing"
        );
    }

    #[test]
    fn a_deleted_plans_last_state_stays_for_thirty_days_however_old_it_is() {
        let day = 8.64e7;
        let states = [state("old", 400.0 * day, 10), state("old", 500.0 * day, 10)];
        let left = |deleted_ago: f64| {
            let gone = |plan: &str| (plan == "old").then_some(NOW - deleted_ago);
            states.len() - to_forget(&states, gone, NOW, None).len()
        };
        assert_eq!((left(29.0 * day), left(31.0 * day)), (1, 0));
    }

    #[test]
    fn the_last_state_of_a_deleted_plan_outlives_the_finer_steps_of_another() {
        let mut states: Vec<_> = (0..60)
            .map(|n| state("busy", f64::from(n) * 6e4 + 1.0, 1_000_000))
            .collect();
        states.push(state("gone", 20.0 * 8.64e7, 1_000_000));
        let forgotten = to_forget(&states, |_| None, NOW, None);
        assert!(!forgotten.contains(&states[60].name));
        assert_eq!(forgotten.len(), 61 - 4);
    }

    #[test]
    fn plans_do_not_push_each_other_out_of_their_minutes() {
        let two = [state("a", 1.0, 10), state("b", 2.0, 10)];
        assert!(to_forget(&two, |_| None, NOW, None).is_empty());
    }
}
