# Forces between discs with parallel axes: Bessel integrals of charged pole faces, and a sheet current in a library's field.
#
# Each pole face is a disc of charge. Two of them, like, with axes d apart and z = height of the second above the first:
#   Fz = s C Int J0(qd) J1(qR1) J1(qR2) e^(-q|z|) dq/q,  Fx = C Int J1(qd) J1(qR1) J1(qR2) e^(-q|z|) dq/q,
#   moment Int (x - x2) fz dA = -s C R2 Int J1(qd) J1(qR1) J2(qR2) e^(-q|z|) dq/q,  C = pi R1 R2 J1 J2 / mu0, s = sign z.
# At z = 0 a disc's own field is half its charge, so that force and moment are those of the lens in which they overlap, and Fx
# is a line integral of the first disc's potential about the second's rim.
import math

import magpylib
import numpy as np
from scipy.integrate import quad
from scipy.special import ellipe, ellipk, j0, j1, jv

MU0 = 4e-7 * math.pi
NODES, WEIGHTS = np.polynomial.legendre.leggauss(16)


def panels(edges):
    """Nodes and weights of Gauss's rule on each interval."""
    edges = np.asarray(edges)
    half = np.diff(edges)[:, None] / 2
    return (edges[:-1, None] + half * (1 + NODES)).ravel(), (half * WEIGHTS).ravel()


def face_pair(r1, r2, d, z):
    """Fx, Fz and the moment about the second axis, over J1 J2 / mu0, lengths in mm."""
    if z == 0:
        return touching_faces(r1, r2, d)
    a = abs(z)
    # To where the exponential is 1e-19, in panels of at most half a wave of the fastest product.
    end = 44.0 / a
    step = min(math.pi / (r1 + r2 + d), end / 64)
    q, w = panels(np.linspace(0.0, end, max(int(end / step) + 1, 8)))
    common = math.pi * r1 * r2 * w * np.exp(-q * a) / q * j1(q * r1)
    s = math.copysign(1.0, z)
    return (np.sum(common * j1(q * d) * j1(q * r2)), s * np.sum(common * j0(q * d) * j1(q * r2)),
            -s * r2 * np.sum(common * j1(q * d) * jv(2, q * r2)))


def touching_faces(r1, r2, d):
    """The same for faces in one plane; the force is that on a second face just above the first."""
    def segment(r, chord):
        chord = min(max(chord, -r), r)
        return r * r * math.acos(chord / r) - chord * math.sqrt(r * r - chord * chord)
    if d >= r1 + r2:
        area = moment = 0.0
    elif d <= abs(r1 - r2):
        area = math.pi * min(r1, r2) ** 2
        moment = 0.0 if r2 <= r1 else -d * area
    else:
        x1 = (d * d + r1 * r1 - r2 * r2) / (2 * d)
        s1, s2 = segment(r1, x1), segment(r2, d - x1)
        area = s1 + s2
        # First moment about the first axis: each segment's is 2/3 c^3 with half the common chord c, and those cancel but for d.
        moment = d * s2 - d * area
    fz, moment = area / 2, moment / 2

    def potential(rho):
        if rho <= r1:
            return r1 / math.pi * ellipe((rho / r1) ** 2)
        m = (r1 / rho) ** 2
        return rho / math.pi * (ellipe(m) - (1 - m) * ellipk(m))

    def on_rim(t):
        return potential(math.sqrt(d * d + r2 * r2 + 2 * d * r2 * math.cos(t))) * math.cos(t)
    # Where the rims cross the potential has a corner.
    crossing = (r1 * r1 - d * d - r2 * r2) / (2 * d * r2) if d > 0 else 2.0
    split = [math.acos(crossing)] if -1 <= crossing <= 1 else None
    fx = 0.0 if d == 0 else -2 * r2 * quad(on_rim, 0, math.pi, points=split, epsabs=1e-13, epsrel=1e-13, limit=400)[0]
    return fx, fz, moment


def charged_pairs(d1, h1, d2, h2, dx, dz, j_t):
    """Fx, Fz (N) and Ty (N mm, about the centroid) on the second disc, centroid at dx, dz, both polarised along +z."""
    total = np.zeros(3)
    for c1, z1 in ((-1, -h1 / 2), (1, h1 / 2)):
        for c2, z2 in ((-1, dz - h2 / 2), (1, dz + h2 / 2)):
            z = z2 - z1
            z = 0.0 if abs(z) < 1e-12 else z
            fx, fz, moment = face_pair(d1 / 2, d2 / 2, dx, z)
            if z == 0.0 and c1 == c2:
                # Like faces in one plane, as of discs side by side, do not push along z.
                fz = moment = 0.0
            total += c1 * c2 * np.array([fx, fz, (z2 - dz) * fx - moment])
    # T^2 mm^2 / mu0 is 1e-6 N.
    return total * j_t**2 / MU0 * 1e-6


def graded(length, near):
    """Panels over 0..length that shrink geometrically to `near` at both ends."""
    half, edges = length / 2, [0.0]
    step = near
    while edges[-1] + step < half:
        edges.append(edges[-1] + step)
        step *= 1.7
    edges = edges + [half]
    return np.array(edges + [length - e for e in edges[-2::-1]])


def sheet_current(d1, h1, d2, h2, dx, dz, j_t, tilt_deg=0.0, near=1e-5):
    """Fx, Fz (N), Ty (N mm, about the centroid) on the second disc: its sheet current in the first one's field by magpylib."""
    r2 = d2 / 2
    zs, wz = panels(graded(h2, near * h2))
    # Half the rim; the other half mirrors it. Panels shrink towards the nearest and farthest points and the crossing of the rims.
    marks = [0.0, math.pi]
    if dx > 0:
        crossing = ((d1 / 2) ** 2 - dx * dx - r2 * r2) / (2 * dx * r2)
        if -1 < crossing < 1:
            marks.insert(1, math.acos(crossing))
    edges = [0.0]
    for a, b in zip(marks, marks[1:]):
        edges += list(a + graded(b - a, near * (b - a)))[1:]
    ts, wt = panels(edges)
    t, z = np.meshgrid(ts, zs, indexing="ij")
    weight = 2 * np.outer(wt, wz) * r2
    local = np.stack([r2 * np.cos(t), r2 * np.sin(t), z - h2 / 2], axis=-1)
    tangent = np.stack([-np.sin(t), np.cos(t), np.zeros_like(t)], axis=-1)
    c, s = math.cos(math.radians(tilt_deg)), math.sin(math.radians(tilt_deg))
    turn = np.array([[c, 0, s], [0, 1, 0], [-s, 0, c]])
    arm, tangent = local @ turn.T, tangent @ turn.T
    source = magpylib.magnet.Cylinder(polarization=(0, 0, j_t), dimension=(d1 * 1e-3, h1 * 1e-3))
    b = source.getB((arm + np.array([dx, 0, dz])) * 1e-3)
    density = np.cross(tangent, b) * (j_t / MU0) * 1e-6
    force = np.einsum("ij,ijk->k", weight, density)
    # The mirrored half has the opposite Fy, and the same Fx, Fz and Ty.
    torque_y = np.einsum("ij,ij->", weight, arm[..., 2] * density[..., 0] - arm[..., 0] * density[..., 2])
    return np.array([force[0], force[2], torque_y])
