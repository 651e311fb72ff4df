//! Families: sites that hang together through demands.

use crate::problem::Problem;

/// Sites and demands of each family, in the order of their lowest sites.
pub(crate) fn families(problem: &Problem) -> Vec<(Vec<usize>, Vec<usize>)> {
    let n = problem.sites.len();
    let scopes = problem.demands.iter().map(|d| d.sites.as_slice());
    let together = components(n, scopes);
    let mut place = vec![0; n];
    for (family, sites) in together.iter().enumerate() {
        sites.iter().for_each(|s| place[*s] = family);
    }
    let mut all: Vec<(Vec<usize>, Vec<usize>)> = together
        .into_iter()
        .map(|sites| (sites, Vec::new()))
        .collect();
    for (index, demand) in problem.demands.iter().enumerate() {
        // A demand on no site at all belongs to the first family, if there is one.
        let family = match demand.sites.first() {
            Some(site) => place[*site],
            None => 0,
        };
        if let Some(family) = all.get_mut(family) {
            family.1.push(index);
        }
    }
    all
}

/// Numbers that hang together through any of the scopes, those of each lot rising, in the order of their lowest.
pub(crate) fn components<'a>(
    n: usize,
    scopes: impl Iterator<Item = &'a [usize]>,
) -> Vec<Vec<usize>> {
    let mut root: Vec<usize> = (0..n).collect();
    for scope in scopes {
        for pair in scope.windows(2) {
            let (a, b) = (find(&mut root, pair[0]), find(&mut root, pair[1]));
            root[a.max(b)] = a.min(b);
        }
    }
    let mut place = vec![usize::MAX; n];
    let mut all: Vec<Vec<usize>> = Vec::new();
    for at in 0..n {
        let top = find(&mut root, at);
        if place[top] == usize::MAX {
            place[top] = all.len();
            all.push(Vec::new());
        }
        all[place[top]].push(at);
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
