# Pull of a disc magnet on a coaxial disc of mild steel: axisymmetric non-linear finite elements, two formulations.
#
# Everything is in magnet diameters: at one remanence the force goes with the square of the size, since saturation is local.
# The magnet lies on z = gap .. gap + height, the steel on z = -thickness .. 0; fields are in tesla (mu0 H beside B).
# Formulation "a" solves for the vector potential A_phi, "v" for the scalar potential. Their energies bracket the true one, so
# that their difference measures the error. The force is Maxwell's stress weighted over all the air, which is the derivative
# of the discrete energy by the magnet's place; in contact the stress of a vanishing film over the touching faces is added.
import math
from pathlib import Path

import numpy as np
from netgen.geom2d import SplineGeometry
from ngsolve import (CF, H1, BilinearForm, BSpline, GridFunction, IfPos, InnerProduct, Integrate, Mesh, Norm, SetNumThreads,
                     Variation, dx, grad, specialcf, sqrt, x, y)
from scipy.interpolate import PchipInterpolator

SetNumThreads(1)

MU0 = 4e-7 * math.pi
CURVE = Path(__file__).resolve().parent.parent / "bh_1010_like.csv"
# Outer boundary, in diameters of the larger disc or thrice the gap.
REACH = 10.0
STEPS_LIMIT = 60
# Layers of elements, each 0.15 of the last, about the rim of a contact.
CONTACT_LEVELS = 9


def magnetisation():
    """Knots (B, mu0 H) in T: monotone cubics through the table, the slope of vacuum beyond it, joined by straight pieces.

    Both formulations use the same pieces, so that their curves are exact inverses.
    """
    rows = np.genfromtxt(CURVE, delimiter=",", names=True)
    smooth = PchipInterpolator(rows["B_T"], rows["H_A_per_m"])
    last = rows["B_T"][-1]
    b = np.concatenate([np.linspace(0.0, 1.0, 26), np.linspace(1.0, last, 71)[1:], [last + 1.0, last + 30.0]])
    h = np.where(b <= last, smooth(np.minimum(b, last)) * MU0, rows["H_A_per_m"][-1] * MU0 + (b - last))
    return b, h


def spline(knots, values):
    """Straight pieces through the points, and their integral."""
    s = BSpline(2, [knots[0]] + list(knots) + [knots[-1]], list(values))
    return s, s.Integrate()


B_KNOTS, H_KNOTS = magnetisation()
H_OF_B, ENERGY_OF_B = spline(B_KNOTS, H_KNOTS)
B_OF_H, ENERGY_OF_H = spline(H_KNOTS, B_KNOTS)


def meshed(height, thickness, width, gap, fine):
    """Triangles, small at the corners and in thin layers. `fine` divides all lengths but the outermost."""
    outer = REACH * max(1.0, width, height, 3 * gap)
    rm, rs = 0.5, 0.5 * width
    geo = SplineGeometry()
    corner = 0.012 / fine
    near = min(0.12, 0.6 * max(gap, 0.02)) / fine
    points = {}

    def point(r, z, size):
        key = (round(r, 12), round(z, 12))
        if key not in points:
            points[key] = geo.AppendPoint(r, z, size, hpref=1.0 if gap == 0 and key == (min(rm, rs), 0.0) else 0.0)
        return points[key]

    def line(p, q, left, right, bc, size):
        geo.Append(["line", point(*p), point(*q)], leftdomain=left, rightdomain=right, bc=bc, maxh=size)

    air, magnet, steel = 1, 2, 3
    thin = min(0.15, 1.0 * thickness) / fine
    film = (min(0.15, 1.5 * gap) if gap > 0 else 0.06) / fine
    c_m = min(corner, 0.5 * height)
    c_s = min(corner, 0.3 * thickness) if thickness < 0.2 else corner
    c_f = min(corner, gap) if gap > 0 else corner
    m0, m1 = (0.0, gap, film), (rm, gap, c_f)
    m2, m3 = (rm, gap + height, c_m), (0.0, gap + height, 0.2)
    s0, s1 = (0.0, -thickness, thin), (rs, -thickness, c_s)
    s2, s3 = (rs, 0.0, min(c_s, c_f)), (0.0, 0.0, film)
    flank_m, flank_s = 0.15 / fine, thin
    # Counter-clockwise about the magnet and the steel.
    if gap > 0:
        line(m0, m1, magnet, air, "magnet", film)
        line(s2, s3, steel, air, "steel", film)
        line(s3, m0, 0, air, "axis", film)
    else:
        inner = min(rm, rs)
        touch = (inner, 0.0, corner)
        line((0.0, 0.0, film), touch, magnet, steel, "contact", 0.06 / fine)
        if rm > rs:
            line(touch, m1, magnet, air, "magnet", 0.06 / fine)
        elif rs > rm:
            line(s2, touch, steel, air, "steel", thin)
    line(m1, m2, magnet, air, "magnet", flank_m)
    line(m2, m3, magnet, air, "magnet", flank_m)
    line(m3, m0, magnet, 0, "axis", flank_m)
    line(s0, s1, steel, air, "steel", flank_s)
    line(s1, s2, steel, air, "steel", flank_s)
    line(s3, s0, steel, 0, "axis", flank_s)
    low, high = (0.0, -outer, outer / 5), (0.0, outer, outer / 5)
    line(m3, high, 0, air, "axis", outer / 5)
    line(low, s0, 0, air, "axis", outer / 5)
    # A half circle in two conic arcs.
    c1, e, c2 = (outer, -outer), (outer, 0.0), (outer, outer)
    ids = [point(*low), geo.AppendPoint(*c1), geo.AppendPoint(*e, outer / 5), geo.AppendPoint(*c2), point(*high)]
    for a, c, b in (ids[0:3], ids[2:5]):
        geo.Append(["spline3", a, c, b], leftdomain=air, rightdomain=0, bc="outer", maxh=outer / 5)
    for domain, name in ((air, "air"), (magnet, "magnet"), (steel, "steel")):
        geo.SetMaterial(domain, name)
    mesh = Mesh(geo.GenerateMesh(maxh=outer / 5, grading=0.35))
    if gap == 0:
        # The weight of the stress jumps where the faces cease to touch, and the field has a corner there.
        mesh.RefineHP(CONTACT_LEVELS, 0.15)
    mesh.Curve(2)
    return mesh


def newton(form, u, free, tolerance=1e-9):
    """Minimises the energy: Newton's method, halving steps that do not lower it. Number of steps."""
    residual, step, trial = (u.vec.CreateVector() for _ in range(3))
    energy = form.Energy(u.vec)
    for count in range(1, STEPS_LIMIT):
        form.Apply(u.vec, residual)
        form.AssembleLinearization(u.vec)
        step.data = form.mat.Inverse(free, inverse="sparsecholesky") * residual
        decrement = abs(InnerProduct(step, residual))
        if decrement <= tolerance * abs(energy):
            u.vec.data -= step
            return count
        scale = 1.0
        while True:
            trial.data = u.vec - scale * step
            new = form.Energy(trial)
            if new < energy - 1e-4 * scale * decrement or scale < 1e-4:
                break
            scale /= 2.0
        u.vec.data = trial
        energy = new
    raise RuntimeError("Newton's method does not end")


def vortex(a):
    """B of the vector potential; on the axis A/r is its slope."""
    return CF((-grad(a)[1], grad(a)[0] + IfPos(x - 1e-12, a / (x + 1e-300), grad(a)[0])))


class Problem:
    """One arrangement, to be solved for several remanences."""

    def __init__(self, height, thickness, width, gap, order=3, fine=1.0):
        self.gap, self.width = gap, width
        self.mesh = meshed(height, thickness, width, gap, fine)
        self.order = order
        shell = H1(self.mesh, order=2, dirichlet="magnet|steel|contact")
        weight = GridFunction(shell)
        weight.Set(1.0, definedon=self.mesh.Boundaries("magnet"))
        p, q = shell.TnT()
        # The weight is 1 at the magnet and 0 at the steel. It falls near the steel, where a wide gap leaves little field: the
        # magnet's own stress would drown the force.
        stiff = IfPos(y - 0.5 * gap, 1e4, 1) if gap > 0.1 else 1
        laplace = BilinearForm(stiff * x * grad(p) * grad(q) * dx("air")).Assemble()
        inside = shell.FreeDofs() & shell.GetDofs(self.mesh.Materials("air"))
        rest = weight.vec.CreateVector()
        rest.data = laplace.mat * weight.vec
        weight.vec.data -= laplace.mat.Inverse(inside, inverse="sparsecholesky") * rest
        self.slope = grad(weight)

    def stress(self, br, bz, film_br2, film_bz2):
        """Attraction over D^2 in T^2 / mu0 from the field in the air and, in contact, the squares in the film."""
        pull = br * bz * self.slope[0] + 0.5 * (bz * bz - br * br) * self.slope[1]
        total = 2 * math.pi * Integrate(x * pull, self.mesh, definedon=self.mesh.Materials("air"), order=2 * self.order + 2)
        if self.gap == 0:
            # The edges of the magnet's elements that touch the steel.
            touching = IfPos(1e-9 - y * y, 1, 0) * IfPos(0.5 * min(1.0, self.width) - x, 1, 0)
            film = 0.5 * touching * (film_bz2 - film_br2)
            rim = dx("magnet", element_boundary=True, bonus_intorder=2)
            total += 2 * math.pi * Integrate(x * film * rim, self.mesh)
        return total

    def vector_potential(self, remanences, mu_r):
        space = H1(self.mesh, order=self.order, dirichlet="axis|outer")
        u = space.TrialFunction()
        field = vortex(u)
        size = sqrt(InnerProduct(field, field) + 1e-16)
        a = GridFunction(space)
        out = []
        for br_t in remanences:
            form = BilinearForm(space, symmetric=True)
            form += Variation(x * 0.5 * InnerProduct(field, field) * dx("air"))
            off = field - CF((0, br_t))
            form += Variation(x * 0.5 / mu_r * InnerProduct(off, off) * dx("magnet"))
            form += Variation(x * ENERGY_OF_B(size) * dx("steel"))
            steps = newton(form, a, space.FreeDofs())
            b = vortex(a)
            # In the film B's normal part and H's tangential part are the magnet's.
            out.append((self.stress(b[0], b[1], (b[0] / mu_r) ** 2, b[1] ** 2), steps))
        return out

    def scalar_potential(self, remanences, mu_r):
        space = H1(self.mesh, order=self.order, dirichlet="outer")
        u = space.TrialFunction()
        h = -grad(u)
        size = sqrt(InnerProduct(h, h) + 1e-20)
        psi = GridFunction(space)
        out = []
        for br_t in remanences:
            form = BilinearForm(space, symmetric=True)
            form += Variation(x * 0.5 * InnerProduct(h, h) * dx("air"))
            form += Variation(x * (0.5 * mu_r * InnerProduct(h, h) + br_t * h[1]) * dx("magnet"))
            form += Variation(x * ENERGY_OF_H(size) * dx("steel"))
            steps = newton(form, psi, space.FreeDofs())
            f = -grad(psi)
            out.append((self.stress(f[0], f[1], f[0] ** 2, (mu_r * f[1] + br_t) ** 2), steps))
        return out


class Steel:
    """Rows of steel_fem.csv and of the tables that fit and test the model of the pull on steel."""
    name = "steel_fem"
    header = ["D_mm", "h_mm", "steel_D_mm", "steel_D_over_magnet_D", "steel_t_mm", "gap_mm", "Br_T", "magnet_mu_r",
              "attraction_N", "est_rel_error", "attraction_A_formulation_N", "attraction_scalar_potential_N"]
    values = ["attraction_N"]
    diameters_mm = [1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 15, 20]
    heights_mm = [0.5, 1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10]

    def draw(self, random):
        """Sizes as sold, between a twentieth of the diameter and four diameters high, on steel and over gaps at random."""
        d = random.choice(self.diameters_mm)
        h = random.choice([h for h in self.heights_mm if 0.05 <= h / d <= 4.0])
        thickness = round(math.exp(random.uniform(math.log(0.2), math.log(5.0))), 2)
        width = round(d * random.uniform(0.4, 3.0), 2)
        kind = random.random()
        gap = 0.0 if kind < 0.05 else round(random.uniform(0.0, 3.0) if kind < 0.5 else math.exp(random.uniform(-4.0, 1.1)), 3)
        return dict(zip(self.header, [d, h, width, width / d, thickness, gap, round(random.uniform(1.0, 1.5), 2), 1.05]))

    def compute(self, row, fine=2.0):
        d = row["D_mm"]
        shape = row["h_mm"] / d, row["steel_t_mm"] / d, row["steel_D_mm"] / d, row["gap_mm"] / d

        def both(fineness):
            problem, material = Problem(*shape, fine=fineness), ([row["Br_T"]], row["magnet_mu_r"])
            pulls = problem.vector_potential(*material)[0][0], problem.scalar_potential(*material)[0][0]
            return [pull / MU0 * (d * 1e-3) ** 2 for pull in pulls]
        coarse, (a, v) = self.solved(both, 0.7 * fine), self.solved(both, fine)
        mean = (a + v) / 2
        error = max(1e-4, abs(a - v) / mean, abs(sum(coarse) / 2 / mean - 1))
        return {"attraction_N": mean, "est_rel_error": error, "attraction_A_formulation_N": a, "attraction_scalar_potential_N": v}

    @staticmethod
    def solved(solve, fine):
        """Another mesh where the mesher or Newton's method gives up on one."""
        for change in (1.0, 1.1, 0.9, 1.25):
            try:
                return solve(change * fine)
            except Exception as failure:
                last = failure
        raise last

    def stated(self, row):
        return {"attraction_N": row["est_rel_error"] * row["attraction_N"]}

    own = stated


class SteelRows(Steel):
    """Rows that fit and test the model: of the first seed one half is for the fit and one for the test, others all test."""
    name = "steel_rows"
    header = [*Steel.header[:10], "use"]


class SteelGrid:
    """Pulls over D^2 in T^2 / mu0 at the nodes of a grid, in magnet diameters, for three remanences."""
    name = "steel_grid"
    remanences = (0.35, 1.1, 1.5)
    values = [f"pull_at_{br}_T" for br in remanences]
    header = ["height", "thickness", "width", "gap", *values]
    heights = [0.05, 0.1, 0.2, 0.4, 0.8, 1.6, 4.0]
    thicknesses = [0.01, 0.016, 0.025, 0.05, 0.063, 0.1, 0.2, 0.25, 0.4, 1.0]
    widths = [0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.1, 1.25, 1.6, 2.2, 3.0]
    gaps = [0, 0.005, 0.02, 0.06, 0.15, 0.35, 0.8, 1.6, 3.0]

    def draw(self, random):
        nodes = self.heights, self.thicknesses, self.widths, self.gaps
        return dict(zip(self.header, [random.choice(axis) for axis in nodes]))

    def compute(self, row):
        shape = [row[k] for k in self.header[:4]]

        def pulls(fine):
            found = Problem(*shape, fine=fine).vector_potential(self.remanences, 1.05)
            return np.array([pull for pull, _ in found])
        fine, coarse = Steel.solved(pulls, 1.5), Steel.solved(pulls, 1.0)
        return dict(zip(self.values, map(float, fine))) | {"apart": max(abs(coarse / fine - 1))}

    def stated(self, row):
        """One mesh and one formulation were used: 1 %, and where the steel hardly pulls a part of 1e-7."""
        return {name: 0.01 * abs(row[name]) + 1e-7 for name in self.values}

    def own(self, fresh):
        return {name: fresh["apart"] * abs(fresh[name]) for name in self.values}
