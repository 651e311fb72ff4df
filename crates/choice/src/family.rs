//! Families: sites that hang together through demands.

use crate::problem::Problem;

/// Sites and demands of each family, in the order of their lowest sites.
pub(crate) fn families(problem: &Problem) -> Vec<(Vec<usize>, Vec<usize>)> {
    let n = problem.sites.len();
    let mut root: Vec<usize> = (0..n).collect();
    for demand in &problem.demands {
        for pair in demand.sites.windows(2) {
            let (a, b) = (find(&mut root, pair[0]), find(&mut root, pair[1]));
            root[a.max(b)] = a.min(b);
        }
    }
    let mut place = vec![usize::MAX; n];
    let mut all: Vec<(Vec<usize>, Vec<usize>)> = Vec::new();
    for site in 0..n {
        let top = find(&mut root, site);
        if place[top] == usize::MAX {
            place[top] = all.len();
            all.push((Vec::new(), Vec::new()));
        }
        all[place[top]].0.push(site);
    }
    for (index, demand) in problem.demands.iter().enumerate() {
        // A demand on no site at all belongs to the first family, if there is one.
        let family = match demand.sites.first() {
            Some(site) => place[find(&mut root, *site)],
            None => 0,
        };
        if let Some(family) = all.get_mut(family) {
            family.1.push(index);
        }
    }
    all
}

fn find(root: &mut [usize], mut at: usize) -> usize {
    while root[at] != at {
        root[at] = root[root[at]];
        at = root[at];
    }
    at
}
