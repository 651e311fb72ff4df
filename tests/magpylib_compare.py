# Compares forces with magpylib 6, a general field library: agreement in random poses, and processor time per force.
#
# Run on demand, in an environment of its own, from the root of the checkout:
#   python3 -m venv /tmp/compare && /tmp/compare/bin/pip install magpylib
#   /tmp/compare/bin/python tests/magpylib_compare.py
#
# Times are processor times. Those of this project are of the example programs and include reading and writing CSV.
import json
import resource
import subprocess
import time

import magpylib
import numpy as np
from scipy.spatial.transform import Rotation

J_T = 1.3


def built(example):
    """Path of an example program, built for release."""
    run = subprocess.run(
        ["cargo", "build", "--release", "--quiet", "--example", example, "--message-format=json"],
        check=True, capture_output=True, text=True)
    for line in run.stdout.splitlines():
        message = json.loads(line)
        if message.get("executable") and message["target"]["name"] == example:
            return message["executable"]
    raise SystemExit(f"cargo built no example {example}")


def ours(program, header, rows):
    """Rows with the computed columns, and processor seconds per row."""
    text = header + "\n" + "\n".join(",".join(repr(float(x)) for x in row) for row in rows) + "\n"
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    run = subprocess.run([program], input=text, check=True, capture_output=True, text=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    used = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    values = np.array([[float(c) for c in line.split(",")] for line in run.stdout.splitlines()[1:]])
    return values, used / len(rows)


def cylinder(d_mm, h_mm, centre_mm=(0, 0, 0), tilt_deg=0.0):
    turn = Rotation.from_euler("y", tilt_deg, degrees=True)
    return magpylib.magnet.Cylinder(
        polarization=(0, 0, J_T), dimension=(d_mm * 1e-3, h_mm * 1e-3),
        position=np.array(centre_mm) * 1e-3, orientation=turn)


def library_force(row, mesh):
    d1, h1, d2, h2, dx, dy, dz, tilt = row[:8]
    force, torque = magpylib.getFT(cylinder(d1, h1), cylinder(d2, h2, (dx, dy, dz), tilt), meshing=mesh)
    return np.concatenate([force, torque * 1e3])


def timed(f, rows):
    start = time.process_time()
    values = np.array([f(row) for row in rows])
    return values, (time.process_time() - start) / len(rows)


def face_quadrature(rows, radial, around):
    """Forces by charges on the faces of magnet 2 in the library's field, all rows in one call; 3x1 pairs, parallel axes."""
    x, w = np.polynomial.legendre.leggauss(radial)
    r, w = 0.75 * (1 + x), 0.75 * w * 0.75 * (1 + x)
    phi = 2 * np.pi * (np.arange(around) + 0.5) / around
    px, py = np.outer(r, np.cos(phi)).ravel(), np.outer(r, np.sin(phi)).ravel()
    area = np.repeat(w * 2 * np.pi / around, around)
    start = time.process_time()
    points = [
        np.stack([px + row[4], py + row[5], np.full_like(px, row[6] + s * 0.5)], axis=1) for row in rows for s in (1, -1)]
    b = magpylib.getB(cylinder(3, 1), np.concatenate(points) * 1e-3).reshape(len(rows), 2, len(px), 3)
    per_face = np.einsum("ijkc,k->ijc", b, area) * J_T * 1e-6 / (4e-7 * np.pi)
    return per_face[:, 0] - per_face[:, 1], (time.process_time() - start) / len(rows)


def relative(a, b):
    return np.linalg.norm(a - b, axis=1) / np.linalg.norm(b, axis=1)


def speed_line(name, own_s, other_s, error):
    print(f"{name}: {1 / other_s:,.0f}/s (largest relative error {error:.0e}); "
          f"this project {1 / own_s:,.0f}/s, {other_s / own_s:,.0f} times as many")


def main():
    force, wrench = built("force"), built("wrench")
    force_header = "D1_mm,h1_mm,D2_mm,h2_mm,gap_mm,J_T"
    wrench_header = "D1_mm,h1_mm,D2_mm,h2_mm,dx_mm,dy_mm,dz_mm,tilt_deg,J1_T,J2_T"
    rng = np.random.default_rng(1)
    print(f"magpylib {magpylib.__version__}")

    poses = []
    for _ in range(40):
        d1, h1, d2, h2 = rng.uniform(1, 6, 4)
        reach = 0.5 * (np.hypot(d1, h1) + np.hypot(d2, h2))
        to = rng.normal(size=3)
        to *= reach * rng.uniform(1.05, 2) / np.linalg.norm(to)
        poses.append([d1, h1, d2, h2, *to, rng.uniform(-180, 180), J_T, J_T])
    own, _ = ours(wrench, wrench_header, poses)
    other, _ = timed(lambda row: library_force(row, 30000), poses)
    print(f"40 random poses, mesh of 30,000: largest relative difference of the force "
          f"{relative(own[:, 10:13], other[:, :3]).max():.1e}, of the torque {relative(own[:, 13:16], other[:, 3:]).max():.1e}")

    gaps = 0.1 * 50 ** rng.uniform(size=1000)
    coaxial = [[3, 1, 3, 1, 0, 0, 1 + g, 0, J_T, J_T] for g in gaps]
    offset = [[3, 1, 3, 1, 1, 0, 1 + g, 0, J_T, J_T] for g in gaps]
    tilted = [[3, 1, 3, 1, 0.3, 0, 1.3 + g, 10, J_T, J_T] for g in gaps]
    own, per_coaxial = ours(force, force_header, [[3, 1, 3, 1, g, J_T] for g in np.tile(gaps, 100)])
    own_coaxial = np.stack([0 * gaps, 0 * gaps, -own[:1000, 6]], axis=1)
    own_offset, per_offset = ours(wrench, wrench_header, offset * 10)
    own_tilted, per_tilted = ours(wrench, wrench_header, tilted * 10)
    cases = [("coaxial", coaxial, own_coaxial, per_coaxial),
             ("offset", offset, own_offset[:1000, 10:13], per_offset),
             ("tilted", tilted, own_tilted[:1000, 10:13], per_tilted)]
    for name, rows, truth, per_row in cases:
        values, seconds = timed(lambda row: library_force(row, 1000), rows[:200])
        speed_line(f"{name}, its force function, mesh 1000", per_row, seconds, relative(values[:, :3], truth[:200]).max())
    for name, rows, truth, per_row, nodes in [(*cases[0], (8, 16)), (*cases[1], (16, 32))]:
        values, seconds = face_quadrature(rows, *nodes)
        speed_line(f"{name}, face quadrature {nodes}", per_row, seconds, relative(values, truth).max())


if __name__ == "__main__":
    main()
