# Builds the table of the pull on steel that the field crate interpolates, from finite elements.
#
#   python tests/reference/generate/steel_table.py
#
# Reads steel_grid.csv (finite elements at the nodes of a grid, by `generate steel_grid`), steel_fem.csv and the rows of
# steel_rows.csv that are marked for the fit; writes crates/field/src/steel_table.rs.
#
# What is tabulated is the share of a thick plate's pull. A Gaussian process through the logarithms of all rows fills the
# table; its nodes are then lowered until linear interpolation lies under the process at 60,000 points, and made monotone:
# the share grows with thickness and width and falls with strength, the force falls with the gap. Interpolation in each
# direction keeps that. A margin covers what the process does not know.
import csv
import itertools
from pathlib import Path

import numpy as np
from scipy.special import ellipe, ellipk, ellipkm1

HERE = Path(__file__).resolve().parent.parent
OUT = HERE.parent.parent / "crates" / "field" / "src" / "steel_table.rs"
MU0 = 4e-7 * np.pi

# Nodes: height, thickness, width and gap in magnet diameters; remanence in T.
HEIGHTS = np.array([0.05, 0.1, 0.2, 0.5, 1.2, 4.0])
THICKNESSES = np.array([0.01, 0.016, 0.025, 0.04, 0.063, 0.1, 0.16, 0.3, 1.0])
WIDTHS = np.array([0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.1, 1.25, 1.6, 2.2, 3.0])
GAPS = np.array([0.0, 0.005, 0.02, 0.06, 0.15, 0.35, 0.8, 1.6])
REMANENCES = np.array([1.0, 1.5])
# Added to a gap before its logarithm.
GAP_SHIFT = 0.01
# Remanences of the grid's columns.
GRID_REMANENCES = (0.35, 1.1, 1.5)
# Scales of the process in the logarithms of height, thickness, width, gap and remanence.
SCALES = np.array([3.6, 1.8, 0.7, 3.3, 3.2])
# How far the table lies below the process: everywhere; more for narrow steel in contact and for thin wide sheets, where shares
# change fast between rows; and by how much interpolation may come nearer than that.
MARGIN, NARROW_MARGIN, WIDE_MARGIN, SLACK = 0.005, 0.25, 0.03, 0.008
# Smallest share, and the code's steps: share = exp(LEAST (code / 255)^2).
LEAST = -9.0


def ring_term(a):
    """The face term of two equal discs of radius 1/2 at distance a."""
    a = np.asarray(a, float)
    with np.errstate(invalid="ignore", divide="ignore"):
        value = a * np.sqrt(1 + a * a) * (ellipkm1(a * a / (1 + a * a)) - ellipe(1 / (1 + a * a)))
    return np.where(a == 0, 0.0, value)


def energy_length(length):
    """Demagnetising factor times length of a cylinder of diameter 1 (L. Lorenz 1879)."""
    length = np.asarray(length, float)
    d = np.sqrt(1 + length**2)
    with np.errstate(invalid="ignore", divide="ignore"):
        k, e = ellipk(1 / d**2), ellipe(1 / d**2)
        value = length - 4 / (3 * np.pi) * d * ((length / d) ** 2 * (k - e) * d**2 + e - 1 / d)
    return np.where(length <= 0, 0.0, value)


def plate(height, gap, br_t, mu_r=1.05):
    """Pull on a thick ideal plate over D^2, in T^2 / mu0, as plate_attraction_n of the field crate."""
    g = 2 * gap
    mutual = 0.5 * (energy_length(2 * height + g) + energy_length(g)) - energy_length(height + g)
    factor = np.clip((energy_length(height) + np.minimum(mutual, 0)) / height, 0, 1)
    j = br_t / (1 + factor * (mu_r - 1))
    return j * j * np.abs(ring_term(g + height) - 0.5 * (ring_term(g) + ring_term(g + 2 * height)))


def shares_of_grid():
    rows = np.genfromtxt(HERE / "steel_grid.csv", delimiter=",", skip_header=1)
    points = [np.c_[rows[:, :4], np.full(len(rows), br)] for br in GRID_REMANENCES]
    shares = [rows[:, 4 + i] / plate(rows[:, 0], rows[:, 3], br) for i, br in enumerate(GRID_REMANENCES)]
    return np.vstack(points), np.concatenate(shares)


def shares_of_rows(use):
    """Rows of steel_rows.csv for a use; for the fit those of steel_fem.csv besides."""
    with open(HERE / "steel_rows.csv", newline="") as file:
        rows = [r for r in csv.DictReader(file) if r["use"] == use]
    if use == "fit":
        with open(HERE / "steel_fem.csv", newline="") as file:
            rows += [{k: r[k] for k in rows[0] if k != "use"} for r in csv.DictReader(file)]
    n = {k: np.array([float(r[k]) for r in rows]) for k in rows[-1] if k != "use"}
    d = n["D_mm"]
    points = np.c_[n["h_mm"] / d, n["steel_t_mm"] / d, n["steel_D_mm"] / d, n["gap_mm"] / d, n["Br_T"]]
    pull = plate(points[:, 0], points[:, 3], points[:, 4]) / MU0 * (d * 1e-3) ** 2
    return points, n["attraction_N"] / pull


def coordinates(points):
    h, t, w, g, br = points.T
    return np.c_[np.log(h), np.log(t), np.log(w), np.log(g + GAP_SHIFT), np.log(br)]


class Process:
    """A Gaussian process about a plane, Matern 5/2."""

    def __init__(self, points, values, noise=3e-3, size=2.0):
        self.x = coordinates(points)
        self.size2 = size * size
        base = np.c_[np.ones(len(self.x)), self.x]
        self.plane = np.linalg.lstsq(base, values, rcond=None)[0]
        k = self.kernel(self.x)
        k[np.diag_indices(len(k))] += noise**2
        self.weights = np.linalg.solve(k, values - base @ self.plane)

    def kernel(self, x):
        a, b = x / SCALES, self.x / SCALES
        d2 = (a * a).sum(1)[:, None] + (b * b).sum(1)[None] - 2 * a @ b.T
        d = np.sqrt(5 * np.maximum(d2, 0))
        return self.size2 * (1 + d + d * d / 3) * np.exp(-d)

    def __call__(self, points):
        x = coordinates(points)
        parts = [x[i:i + 4000] for i in range(0, len(x), 4000)]
        return np.concatenate([np.c_[np.ones(len(p)), p] @ self.plane + self.kernel(p) @ self.weights for p in parts])


AXES = [np.log(HEIGHTS), np.log(THICKNESSES), np.log(WIDTHS), np.log(GAPS + GAP_SHIFT), REMANENCES]
SHAPE = [len(axis) for axis in AXES]


def corners(points):
    """Indices and weights of the nodes about each point."""
    x = coordinates(points)
    x[:, 4] = points[:, 4]
    index, weight = np.zeros((len(x), 1), int), np.ones((len(x), 1))
    for axis, column in zip(AXES, x.T):
        at = np.clip(column, axis[0], axis[-1])
        low = np.clip(np.searchsorted(axis, at, "right") - 1, 0, len(axis) - 2)
        part = ((at - axis[low]) / (axis[low + 1] - axis[low]))[:, None]
        n = len(axis)
        index = np.concatenate([index * n + low[:, None], index * n + low[:, None] + 1], 1)
        weight = np.concatenate([weight * (1 - part), weight * part], 1)
    return index, weight


def margin(points):
    narrow = np.clip((1.0 - points[:, 2]) / 0.1, 0, 1)
    wide = np.clip((points[:, 2] - 1.6) / 0.6, 0, 1) * np.clip(np.log(0.1 / points[:, 1]) / np.log(3), 0, 1)
    return MARGIN + NARROW_MARGIN * narrow * np.exp(-points[:, 3] / 0.01) + WIDE_MARGIN * wide


def sampled(count, seed):
    random = np.random.default_rng(seed)
    columns = [axis[0] + (axis[-1] - axis[0]) * u for axis, u in zip(AXES, random.random((5, count)))]
    return np.c_[np.exp(columns[0]), np.exp(columns[1]), np.exp(columns[2]), np.maximum(np.exp(columns[3]) - GAP_SHIFT, 0),
                 columns[4]]


def tabulated(process):
    nodes = np.array(list(itertools.product(HEIGHTS, THICKNESSES, WIDTHS, GAPS, REMANENCES)))
    table = process(nodes) - margin(nodes)
    points = sampled(60_000, 1)
    most = process(points) - margin(points)
    index, weight = corners(points)
    power = (weight**2).sum(1)
    for _ in range(80):
        over = np.maximum((table[index] * weight).sum(1) - most - SLACK, 0)
        bad = over > 0
        if not bad.any():
            break
        step = np.zeros(len(table))
        np.maximum.at(step, index[bad].ravel(), (over[bad] / power[bad])[:, None].repeat(32, 1).ravel() * weight[bad].ravel())
        table -= 0.3 * step
    table = table.reshape(SHAPE)
    for axis in (1, 2):
        table = np.flip(np.minimum.accumulate(np.flip(table, axis), axis), axis)
    table = np.minimum(np.minimum.accumulate(table, 4), 0)
    return coded(table, steepest_rises())


def steepest_rises():
    """How much the logarithm of a share may grow over each gap's cell so that the force, share times plate, still falls at
    every place in the cell; by height. A little less, for heights between the nodes."""
    rises = np.zeros((len(HEIGHTS), len(GAPS) - 1))
    for i, height in enumerate(HEIGHTS):
        for k, (low, high) in enumerate(zip(AXES[3], AXES[3][1:])):
            at = np.linspace(low, high, 400)
            fall = -np.diff(np.log(plate(height, np.exp(at) - GAP_SHIFT, 1.3))) / np.diff(at)
            rises[i, k] = 0.95 * fall.min() * (high - low)
    return rises[:, None, None, :, None]


def coded(table, rises):
    """Nearest codes, which keep the order of shares; then as much lower as it takes for the force to fall with the gap."""
    codes = np.clip(np.rint(255 * np.sqrt(table / LEAST)), 0, 255).astype(int)
    for _ in range(3):
        for gap in range(1, len(GAPS)):
            while True:
                rising = decoded(codes)[..., gap, :] > decoded(codes)[..., gap - 1, :] + rises[..., gap - 1, :]
                rising &= codes[..., gap, :] < 255
                if not rising.any():
                    break
                codes[..., gap, :] += rising
        for axis in (1, 2):
            codes = np.flip(np.maximum.accumulate(np.flip(codes, axis), axis), axis)
        codes = np.maximum.accumulate(codes, 4)
    return codes.astype(np.uint8)


def decoded(codes):
    return LEAST * (codes / 255.0) ** 2


def written(codes):
    def listed(name, what, values):
        text = ", ".join(repr(float(v)) for v in values)
        return f"/// {what}\npub(crate) const {name}: [f64; {len(values)}] = [{text}];\n"
    lines = ["//! Table of the pull on steel, written by `tests/reference/generate/steel_table.py` from finite elements: do not edit.\n",
             listed("HEIGHTS", "Heights of the magnet, in its diameters.", HEIGHTS),
             listed("THICKNESSES", "Thicknesses of the steel, in magnet diameters.", THICKNESSES),
             listed("WIDTHS", "Diameters of the steel, in magnet diameters.", WIDTHS),
             listed("GAPS", "Gaps, in magnet diameters.", GAPS),
             listed("REMANENCES", "Remanences, T.", REMANENCES),
             f"/// Added to a gap before its logarithm.\npub(crate) const GAP_SHIFT: f64 = {GAP_SHIFT!r};\n",
             f"/// The logarithm of a share is this times the square of its code over 255.\npub(crate) const LEAST: f64 = {LEAST!r};\n",
             "/// Codes of the shares of a thick plate's pull: by height, then thickness, width, gap, remanence."]
    # A byte string is a byte a code in the program, and the shortest that a source can hold.
    flat = codes.ravel()
    rows = ["".join(f"\\x{c:02x}" for c in flat[i:i + 28]) for i in range(0, len(flat), 28)]
    lines.append(f'#[rustfmt::skip]\npub(crate) static CODES: &[u8; {len(flat)}] = b"\\\n' + "\\\n".join(rows) + '";\n')
    return "\n".join(lines)


def main():
    points, shares = shares_of_grid()
    more, more_shares = shares_of_rows("fit")
    points, shares = np.vstack([points, more]), np.concatenate([shares, more_shares])
    used = (shares > 3e-4) & (points[:, 3] < 3.0)
    codes = tabulated(Process(points[used], np.log(shares[used])))
    OUT.write_text(written(codes))
    for use in ("fit", "test", "other", "fresh"):
        at, true = shares_of_rows(use)
        index, weight = corners(at)
        ratio = np.exp((decoded(codes).ravel()[index] * weight).sum(1)) / true
        inside = (at[:, 3] <= GAPS[-1]) & (at[:, 4] >= 1.0)
        low, tenth, median, top = np.quantile(ratio[inside], [0, 0.1, 0.5, 1])
        print(f"{use}: {inside.sum()} rows, least {low:.3f}, tenth {tenth:.3f}, median {median:.3f}, most {top:.3f}")


if __name__ == "__main__":
    main()
