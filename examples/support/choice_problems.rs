//! Problems of magnet choice from a seed: kits, and the families of problems on which solvers differ most.

use lodewright_choice::{Cost, Demand, Problem, Site};
use oorandom::Rand32;

/// What can go in a site: its pull on a like piece (invented numbers near those of real discs), N, and its price, cents.
#[derive(Clone, Copy)]
enum Piece {
    Nothing,
    Magnet { strength: f64, cents: u32 },
    Steel { share: f64, cents: u32 },
}

const STOCK: [Piece; 8] = [
    Piece::Magnet {
        strength: 0.55,
        cents: 14,
    },
    Piece::Magnet {
        strength: 0.95,
        cents: 16,
    },
    Piece::Magnet {
        strength: 1.35,
        cents: 19,
    },
    Piece::Magnet {
        strength: 1.9,
        cents: 23,
    },
    Piece::Magnet {
        strength: 2.4,
        cents: 28,
    },
    Piece::Magnet {
        strength: 2.9,
        cents: 34,
    },
    Piece::Steel {
        share: 0.45,
        cents: 5,
    },
    Piece::Steel {
        share: 0.6,
        cents: 8,
    },
];

fn pull(a: Piece, b: Piece) -> f64 {
    match (a, b) {
        (Piece::Magnet { strength: s, .. }, Piece::Magnet { strength: t, .. }) => s * t,
        (Piece::Magnet { strength, .. }, Piece::Steel { share, .. })
        | (Piece::Steel { share, .. }, Piece::Magnet { strength, .. }) => {
            strength * strength * share
        }
        _ => 0.0,
    }
}

fn cost(piece: Piece) -> Cost {
    match piece {
        Piece::Nothing => Cost(0, 0),
        Piece::Magnet { cents, .. } => Cost(1, cents),
        Piece::Steel { cents, .. } => Cost(0, cents),
    }
}

/// One to four sites a socket; most parts sit in one socket, some in two or three; now and then one hole goes right through
/// and serves two sockets; a part wants at least so much pull, and one in five must still let go.
pub fn kit(seed: u32, sockets: u32, parts: u32) -> Problem {
    let mut random = Rand32::new(u64::from(seed));
    let mut choices: Vec<Vec<Piece>> = Vec::new();
    let mut holes: Vec<Vec<usize>> = Vec::new();
    for socket in 0..sockets {
        let count = [1, 2, 2, 2, 3, 4][random.rand_range(0..6) as usize];
        let mut mine: Vec<usize> = (0..count)
            .map(|_| site(&mut random, count, &mut choices))
            .collect();
        if socket > 0 && random.rand_range(0..12) == 0 {
            // The neighbour's first hole goes right through.
            let neighbour = &holes[socket as usize - 1];
            mine[0] = neighbour[0];
        }
        holes.push(mine);
    }
    let mut demands = Vec::new();
    for _ in 0..parts {
        let first = random.rand_range(0..sockets) as usize;
        let many = [1, 1, 1, 1, 1, 1, 1, 1, 2, 3][random.rand_range(0..10) as usize];
        let width = holes[first].len();
        let own: Vec<usize> = (0..width)
            .map(|_| site(&mut random, width, &mut choices))
            .collect();
        let mut seats = vec![first];
        let alike: Vec<usize> = (0..sockets as usize)
            .filter(|s| *s != first && holes[*s].len() == width)
            .collect();
        while seats.len() < many && seats.len() <= alike.len() {
            let other = alike[random.rand_range(0..alike.len() as u32) as usize];
            if !seats.contains(&other) {
                seats.push(other);
            }
        }
        // So strong as the weakest of its seats can be made, less a share.
        let best = seats
            .iter()
            .map(|s| strongest(&holes[*s], &own, &choices))
            .fold(f64::INFINITY, f64::min);
        let wants = best * (0.1 + 0.5 * f64::from(random.rand_float()));
        let lets_go = seats.len() == 1 && random.rand_range(0..5) == 0;
        let most = if lets_go { wants * 5.0 } else { 1e3 };
        for socket in seats {
            demands.push(joint(&holes[socket], &own, wants, most, &choices));
        }
    }
    Problem {
        sites: choices
            .iter()
            .map(|options| Site {
                costs: options.iter().map(|p| cost(*p)).collect(),
            })
            .collect(),
        demands,
    }
}

/// The pull of a joint with the strongest pieces that its sites take.
fn strongest(host: &[usize], part: &[usize], choices: &[Vec<Piece>]) -> f64 {
    let best = |a: usize, b: usize| {
        let pairs = choices[a]
            .iter()
            .flat_map(|x| choices[b].iter().map(|y| pull(*x, *y)));
        pairs.fold(0.0, f64::max)
    };
    host.iter().zip(part).map(|(a, b)| best(*a, *b)).sum()
}

/// A fresh site: nothing, two to five sizes that fit it and a piece of steel; fewer where many sites meet.
fn site(random: &mut Rand32, width: usize, choices: &mut Vec<Vec<Piece>>) -> usize {
    let most = if width >= 3 { 2 } else { 4 };
    let smallest = random.rand_range(0..3) as usize;
    let count = 2 + random.rand_range(0..(most - 1)) as usize;
    let mut options = vec![Piece::Nothing];
    options.extend_from_slice(&STOCK[smallest..(smallest + count).min(6)]);
    options.push(STOCK[6 + random.rand_range(0..2) as usize]);
    choices.push(options);
    choices.len() - 1
}

/// Every row in which the pulls of all pairs add up to enough and not too much.
fn joint(host: &[usize], part: &[usize], wants: f64, most: f64, choices: &[Vec<Piece>]) -> Demand {
    let sites: Vec<usize> = host.iter().chain(part).copied().collect();
    let mut rows = Vec::new();
    let mut row = vec![0_u16; sites.len()];
    loop {
        let piece = |i: usize| choices[sites[i]][usize::from(row[i])];
        let sum: f64 = (0..host.len())
            .map(|i| pull(piece(i), piece(host.len() + i)))
            .sum();
        if sum >= wants && sum <= most {
            rows.push(row.clone());
        }
        let next = (0..row.len())
            .rev()
            .find(|i| usize::from(row[*i]) + 1 < choices[sites[*i]].len());
        let Some(i) = next else {
            return Demand { sites, rows };
        };
        row[i] += 1;
        row[i + 1..].fill(0);
    }
}

/// What a hole holds, before the size of the face's magnets is settled.
#[derive(Clone, Copy, PartialEq, Eq)]
enum State {
    Nothing,
    Magnet,
    Steel,
}

/// A face with its holes as one site: each hole has nothing, steel or a magnet, and all its magnets are of one size.
struct Face {
    options: Vec<Vec<Piece>>,
}

impl Face {
    /// A face that takes `sizes` sizes of magnet from the `first` on; up to two holes also mix magnets with steel.
    fn new(holes: u32, first: usize, sizes: usize, steel: usize) -> Self {
        let states = [State::Nothing, State::Magnet, State::Steel];
        let mut options = Vec::new();
        for pattern in 0..3_u32.pow(holes) {
            let pattern: Vec<State> = (0..holes)
                .map(|h| states[(pattern / 3_u32.pow(h) % 3) as usize])
                .collect();
            let magnets = pattern.contains(&State::Magnet);
            if holes > 2 && magnets && pattern.contains(&State::Steel) {
                continue;
            }
            for size in 0..if magnets { sizes } else { 1 } {
                let piece = |state: &State| match state {
                    State::Nothing => Piece::Nothing,
                    State::Magnet => STOCK[(first + size).min(5)],
                    State::Steel => STOCK[6 + steel],
                };
                options.push(pattern.iter().map(piece).collect());
            }
        }
        Self { options }
    }

    fn random(random: &mut Rand32, holes: u32) -> Self {
        let first = random.rand_range(0..4) as usize;
        let sizes = if holes > 2 { 2 } else { 3 };
        Self::new(holes, first, sizes, random.rand_range(0..2) as usize)
    }

    fn site(&self) -> Site {
        let sum = |pieces: &Vec<Piece>| {
            pieces
                .iter()
                .fold(Cost::default(), |sum, p| sum.plus(cost(*p)))
        };
        Site {
            costs: self.options.iter().map(sum).collect(),
        }
    }
}

/// The pull between two faces filled so, hole against hole.
fn pull_of(a: &[Piece], b: &[Piece]) -> f64 {
    a.iter().zip(b).map(|(x, y)| pull(*x, *y)).sum()
}

/// The pull of two faces with the strongest pieces that they take.
fn best_of(a: &Face, b: &Face) -> f64 {
    let pairs = a
        .options
        .iter()
        .flat_map(|x| b.options.iter().map(|y| pull_of(x, y)));
    pairs.fold(0.0, f64::max)
}

/// Every pair of options whose pull is enough and not too much.
fn between(faces: &[Face], [a, b]: [usize; 2], wants: f64, most: f64) -> Demand {
    let mut rows = Vec::new();
    for (i, x) in (0_u16..).zip(&faces[a].options) {
        for (j, y) in (0_u16..).zip(&faces[b].options) {
            let sum = pull_of(x, y);
            if sum >= wants && sum <= most {
                rows.push(vec![i, j]);
            }
        }
    }
    Demand {
        sites: vec![a, b],
        rows,
    }
}

/// Joints of parts with sockets: what a part wants is a share of what the weakest of its seats can do, and one in five that
/// has a single seat must still let go.
fn joints(random: &mut Rand32, faces: &[Face], seats: &[(usize, Vec<usize>)]) -> Problem {
    let mut demands = Vec::new();
    for (part, hosts) in seats {
        let best = hosts
            .iter()
            .map(|h| best_of(&faces[*h], &faces[*part]))
            .fold(f64::INFINITY, f64::min);
        let wants = best * (0.1 + 0.5 * f64::from(random.rand_float()));
        let lets_go = hosts.len() == 1 && random.rand_range(0..5) == 0;
        let most = if lets_go { wants * 5.0 } else { 1e3 };
        demands.extend(
            hosts
                .iter()
                .map(|host| between(faces, [*host, *part], wants, most)),
        );
    }
    Problem {
        sites: faces.iter().map(Face::site).collect(),
        demands,
    }
}

/// A kit by its variants: each puts a part in each socket, one in six a free choice of two; a part is new, or one that
/// another variant has there or in a socket alike.
pub fn variants(seed: u32, sockets: u32, count: u32) -> Problem {
    let mut random = Rand32::new(u64::from(seed));
    let mut faces = Vec::new();
    let mut holes = Vec::new();
    for _ in 0..sockets {
        holes.push([1, 2, 2, 2, 3, 4][random.rand_range(0..6) as usize]);
        faces.push(Face::random(&mut random, holes[holes.len() - 1]));
    }
    let mut seats: Vec<(usize, Vec<usize>)> = Vec::new();
    for _ in 0..count {
        for socket in 0..sockets as usize {
            let choices = match random.rand_range(0..12) {
                0..3 => 0,
                3..5 => 2,
                _ => 1,
            };
            for _ in 0..choices {
                let alike = |s: &usize| holes[*s] == holes[socket];
                let known: Vec<usize> = (0..seats.len())
                    .filter(|i| seats[*i].1.first().is_some_and(alike))
                    .collect();
                let here: Vec<usize> = known
                    .iter()
                    .copied()
                    .filter(|i| seats[*i].1.contains(&socket))
                    .collect();
                let from = match random.rand_range(0..20) {
                    0..8 => &here,
                    8..10 => &known,
                    _ => &Vec::new(),
                };
                if from.is_empty() {
                    faces.push(Face::random(&mut random, holes[socket]));
                    seats.push((faces.len() - 1, vec![socket]));
                } else {
                    let part = from[random.rand_range(0..from.len() as u32) as usize];
                    if !seats[part].1.contains(&socket) {
                        seats[part].1.push(socket);
                    }
                }
            }
        }
    }
    joints(&mut random, &faces, &seats)
}

/// Tools that each fit every mount. With an even seed all tools are alike, and all mounts but the first.
pub fn bipartite(seed: u32, tools: u32, mounts: u32, holes: u32) -> Problem {
    let mut random = Rand32::new(u64::from(seed));
    let count = (tools + mounts) as usize;
    let mut faces: Vec<Face> = (0..count)
        .map(|_| Face::random(&mut random, holes))
        .collect();
    if seed.is_multiple_of(2) {
        let mounts = mounts as usize;
        for i in (2..mounts).chain(mounts + 1..count) {
            let like = if i < mounts { 1 } else { mounts };
            faces[i].options = faces[like].options.clone();
        }
    }
    let mounts: Vec<usize> = (0..mounts as usize).collect();
    let seats: Vec<(usize, Vec<usize>)> = (mounts.len()..count)
        .map(|tool| (tool, mounts.clone()))
        .collect();
    joints(&mut random, &faces, &seats)
}

/// Single holes in rows and columns, each against its neighbours.
pub fn grid(seed: u32, rows: u32, columns: u32) -> Problem {
    let (rows, columns) = (rows as usize, columns as usize);
    let mut pairs = Vec::new();
    for at in 0..rows * columns {
        if at % columns + 1 < columns {
            pairs.push([at, at + 1]);
        }
        if at + columns < rows * columns {
            pairs.push([at, at + columns]);
        }
    }
    by_pairs(seed, rows * columns, &pairs)
}

/// Single holes, each against about `degree` others drawn at random.
pub fn random(seed: u32, sites: u32, degree: u32) -> Problem {
    let mut random = Rand32::new(u64::from(seed));
    let mut pairs: Vec<[usize; 2]> = Vec::new();
    let most = sites * (sites.saturating_sub(1)) / 2;
    while (pairs.len() as u32) < (sites * degree / 2).min(most) {
        let [a, b] = [(); 2].map(|()| random.rand_range(0..sites) as usize);
        let pair = [a.min(b), a.max(b)];
        if a != b && !pairs.contains(&pair) {
            pairs.push(pair);
        }
    }
    by_pairs(seed.wrapping_add(1), sites as usize, &pairs)
}

fn by_pairs(seed: u32, count: usize, pairs: &[[usize; 2]]) -> Problem {
    let mut random = Rand32::new(u64::from(seed));
    let faces: Vec<Face> = (0..count).map(|_| Face::random(&mut random, 1)).collect();
    let demand = |pair: &[usize; 2]| {
        let best = best_of(&faces[pair[0]], &faces[pair[1]]);
        let wants = best * (0.1 + 0.5 * f64::from(random.rand_float()));
        between(&faces, *pair, wants, 1e3)
    };
    Problem {
        demands: pairs.iter().map(demand).collect(),
        sites: faces.iter().map(Face::site).collect(),
    }
}
