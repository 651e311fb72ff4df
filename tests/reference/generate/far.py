# Discs far from each other, where double precision cancels: point charges at Gauss's nodes of all faces, in 40 digits.
import math

from mpmath import cos, mp, mpf, pi as mp_pi, sin, sqrt

from coaxial import BR_T

SIZES = [(3, 1), (5, 2), (10, 1), (2, 8), (1, 0.5)]
AWAY = [60, 100, 170, 250, 400]
ABOVE = [0, 0.3, 2, 25, -80]
TILTS_DEG = [0, 0.7, 30, 180]
# Gauss's nodes and weights over -1..1 with three and four points.
THREE = [(-sqrt(mpf(3) / 5), mpf(5) / 9), (mpf(0), mpf(8) / 9), (sqrt(mpf(3) / 5), mpf(5) / 9)]


def four():
    inner, outer = (sqrt(mpf(3) / 7 + sign * mpf(2) / 7 * sqrt(mpf(6) / 5)) for sign in (-1, 1))
    heavy, light = (18 + sqrt(mpf(30))) / 36, (18 - sqrt(mpf(30))) / 36
    return [(-outer, light), (-inner, heavy), (inner, heavy), (outer, light)]


def charges(d, h, rings):
    """Points (x, y, z) and charges of both faces of a disc of unit polarisation, exact for polynomials to degree 4 n - 1."""
    spokes, radius = 4 * len(rings), mpf(str(d)) / 2
    area, out = mp_pi * radius**2, []
    for node, weight in rings:
        r = radius * sqrt((1 + node) / 2)
        for k in range(spokes):
            angle = 2 * mp_pi * k / spokes
            for sign in (1, -1):
                point = r * cos(angle), r * sin(angle), sign * mpf(str(h)) / 2
                out.append((point, sign * area * weight / 2 / spokes))
    return out


def load(row, rings):
    """Fx, Fy, Fz in N and Ty in N mm about the centroid."""
    with mp.workdps(40):
        d1, h1, d2, h2, away, above, tilt = (row[k] for k in Far.header[:7])
        t = mpf(str(tilt)) * mp_pi / 180
        first = charges(d1, h1, rings)
        fx = fz = ty = mpf(0)
        for (x, y, z), q2 in charges(d2, h2, rings):
            arm_x, arm_z = cos(t) * x + sin(t) * z, -sin(t) * x + cos(t) * z
            gx = gz = mpf(0)
            for (u, v, w), q1 in first:
                dx, dy, dz = mpf(str(away)) + arm_x - u, y - v, mpf(str(above)) + arm_z - w
                r2 = dx * dx + dy * dy + dz * dz
                k = q1 * q2 / (r2 * sqrt(r2))
                gx += k * dx
                gz += k * dz
            fx, fz, ty = fx + gx, fz + gz, ty + arm_z * gx - arm_x * gz
        scale = mpf(str(BR_T)) ** 2 / (4 * mp_pi * 4 * mp_pi * mpf(10) ** -7) * mpf(10) ** -6
        return [float(v * scale) for v in (fx, fz, ty)]


class Far:
    name = "far"
    values = ["Fx_on_2_N", "Fz_on_2_N", "Ty_on_2_about_centroid_Nmm"]
    header = ["D1_mm", "h1_mm", "D2_mm", "h2_mm", "dx_mm", "dz_mm", "tilt_deg_about_y", "Br_T", *values, "est_rel_error"]

    def draw(self, random):
        axes = SIZES, SIZES, AWAY, ABOVE, TILTS_DEG
        a, b, away, above, tilt = (random.choice(axis) for axis in axes)
        return dict(zip(self.header, [*a, *b, away, above, tilt, BR_T]))

    def compute(self, row):
        fine, coarse = load(row, four()), load(row, THREE)
        force = math.hypot(fine[0], fine[1])
        lever = force * (row["D2_mm"] + row["h2_mm"]) + abs(fine[2])
        error = max(abs(fine[0] - coarse[0]) / force, abs(fine[1] - coarse[1]) / force, abs(fine[2] - coarse[2]) / lever)
        return dict(zip(self.values, fine)) | {"est_rel_error": max(error, 1e-15)}

    def stated(self, row):
        force = math.hypot(row["Fx_on_2_N"], row["Fz_on_2_N"])
        lever = force * (row["D2_mm"] + row["h2_mm"]) + abs(row["Ty_on_2_about_centroid_Nmm"])
        return {name: row["est_rel_error"] * (lever if name.startswith("T") else force) for name in self.values}

    own = stated
