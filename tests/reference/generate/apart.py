# Discs with parallel axes out of line, side by side, and tilted: charges on pole faces, and sheet currents in a library's field.
import math

import numpy as np
from scipy.special import elliprd, elliprf, elliprj

from coaxial import BR_T, GAPS, PAIRS
from discs import MU0, charged_pairs, graded, panels, sheet_current

OFFSETS = [0, 0.1, 0.25, 0.5, 1.0, 2.0, 3.0]
SPACINGS = [1.0, 1.02, 1.05, 1.1, 1.2, 1.35, 1.5, 1.75, 2, 2.5, 3, 4, 5]
TILTS_DEG = [0, 5, 10, 20]


class Forces:
    """What the three tables have in common: force and torque on disc 2 by two methods."""
    values = ["Fx_on_2_N", "Fz_on_2_N", "Ty_on_2_about_centroid_Nmm"]

    def _row(self, first, second):
        force = math.hypot(first[0], first[1])
        return dict(zip(self.values, first)) | {
            "est_rel_error_force": max(abs(first - second)[:2]) / force,
            "est_abs_error_torque_Nmm": abs(first - second)[2]}

    def stated(self, row):
        force = row["est_rel_error_force"] * math.hypot(row["Fx_on_2_N"], row["Fz_on_2_N"])
        torque = row["est_abs_error_torque_Nmm"]
        return {name: torque if name.startswith("T") else force for name in self.values}

    own = stated


class Offset(Forces):
    name = "offset"
    header = ["D1_mm", "h1_mm", "D2_mm", "h2_mm", "gap_mm", "offset_x_mm", "offset_over_larger_radius", "Br_T", *Forces.values,
              "est_rel_error_force", "est_abs_error_torque_Nmm"]

    def draw(self, random):
        a, b = random.choice(PAIRS)
        share = random.choice(OFFSETS)
        return dict(zip(self.header, [*a, *b, random.choice(GAPS), share * max(a[0], b[0]) / 2, share, BR_T]))

    def compute(self, row):
        size = [row[k] for k in self.header[:4]]
        place = row["offset_x_mm"], row["gap_mm"] + (size[1] + size[3]) / 2
        return self._row(charged_pairs(*size, *place, BR_T), sheet_current(*size, *place, BR_T))


class SideBySide(Forces):
    name = "side_by_side"
    header = ["D1_mm", "h1_mm", "D2_mm", "h2_mm", "centre_spacing_mm", "spacing_over_touching", "z_centroid_offset_mm",
              "orientation", "Br_T", *Forces.values, "est_rel_error_force", "est_abs_error_torque_Nmm"]

    def draw(self, random):
        a, b = random.choice(PAIRS)
        share = random.choice(SPACINGS)
        level = random.choice([0.0, (b[1] - a[1]) / 2])
        turned = random.choice(["parallel", "antiparallel"])
        return dict(zip(self.header, [*a, *b, share * (a[0] + b[0]) / 2, share, level, turned, BR_T]))

    def compute(self, row):
        size = [row[k] for k in self.header[:4]]
        place = row["centre_spacing_mm"], row["z_centroid_offset_mm"]
        sign = 1 if row["orientation"] == "parallel" else -1
        return self._row(sign * charged_pairs(*size, *place, BR_T), sign * sheet_current(*size, *place, BR_T))


def bulirsch(kc, p, c, s):
    """R. Bulirsch's general complete elliptic integral from Carlson's forms."""
    m = kc * kc
    zero = np.zeros_like(kc)
    return c * elliprf(zero, m, 1) + (s - p * c) / 3 * elliprj(zero, m, 1, p)


def disc_field(d, h, j_t, rho, z):
    """B_rho and B_z in T: N. Derby and S. Olbert, Am. J. Phys. 78 (2010) 229-235."""
    a, b = d / 2, h / 2
    near = np.maximum(rho, 1e-9)
    across, along = 0.0, 0.0
    for sign in (1, -1):
        zs = z + sign * b
        wide = np.sqrt(zs**2 + (near + a) ** 2)
        k = np.sqrt((zs**2 + (a - near) ** 2) / (zs**2 + (a + near) ** 2))
        gamma = (a - near) / (a + near)
        across += sign * a / wide * bulirsch(k, np.ones_like(k), 1.0, -1.0)
        along += sign * a / (a + near) * zs / wide * bulirsch(k, gamma**2, 1.0, gamma)
    return j_t / math.pi * across, j_t / math.pi * along


def tilted_charges(d1, h1, d2, h2, dx, dz, j_t, tilt_deg):
    """Fx, Fz, Ty (about the centroid) on a tilted disc: the charges on its faces in the first one's field."""
    # Panels that shrink towards the rim, and those of the mirror image left out.
    edges = graded(d2, 1e-4 * d2) - d2 / 2
    rs, wr = panels(edges[edges > -1e-12])
    ts, wt = panels(np.linspace(0, math.pi, 17))
    r, t = np.meshgrid(rs, ts, indexing="ij")
    weight = 2 * np.outer(wr * rs, wt)
    c, s = math.cos(math.radians(tilt_deg)), math.sin(math.radians(tilt_deg))
    total = np.zeros(3)
    for sign in (1, -1):
        lx, lz = r * np.cos(t), sign * h2 / 2
        arm_x, arm_z, py = c * lx + s * lz, -s * lx + c * lz, r * np.sin(t)
        px, pz = dx + arm_x, dz + arm_z
        rho = np.hypot(px, py)
        across, bz = disc_field(d1, h1, j_t, rho, pz)
        bx = across * px / np.maximum(rho, 1e-12)
        total += sign * np.array([np.sum(weight * bx), np.sum(weight * bz), np.sum(weight * (arm_z * bx - arm_x * bz))])
    return total * j_t / MU0 * 1e-6


class Tilt(Forces):
    name = "tilt"
    values = [*Forces.values, "Ty_on_2_about_pivot_Nmm"]
    header = ["D1_mm", "h1_mm", "D2_mm", "h2_mm", "pivot_gap_mm", "tilt_deg_about_y", "min_edge_clearance_mm", "Br_T", *values,
              "est_rel_error_force", "est_abs_error_torque_Nmm"]

    def draw(self, random):
        a, b = random.choice(PAIRS)
        tilt = random.choice(TILTS_DEG)
        drop = b[0] / 2 * math.sin(math.radians(tilt))
        gap = round(drop + random.choice([0.3, 0.5, 1.0, 2.0]), 1)
        return dict(zip(self.header, [*a, *b, gap, tilt, gap - drop, BR_T]))

    def compute(self, row):
        d1, h1, d2, h2, gap, tilt = (row[k] for k in self.header[:6])
        # The pivot is the centre of the lower face; the centroid lies half a height from it along the tilted axis.
        c, s = math.cos(math.radians(tilt)), math.sin(math.radians(tilt))
        arm_x, arm_z = s * h2 / 2, c * h2 / 2
        at = d1, h1, d2, h2, arm_x, h1 / 2 + gap + arm_z, BR_T, tilt

        def with_pivot(w):
            return np.array([*w, w[2] + arm_z * w[0] - arm_x * w[1]])
        return self._row(with_pivot(tilted_charges(*at)), with_pivot(sheet_current(*at)))
