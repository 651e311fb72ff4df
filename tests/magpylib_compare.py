# Compares forces with magpylib 6, a general field library: agreement in random poses, and forces per second.
#
# Agreement, on demand, in an environment of its own, from the root of the checkout:
#   python3 -m venv /tmp/compare && /tmp/compare/bin/pip install magpylib
#   /tmp/compare/bin/python tests/magpylib_compare.py
#
# Speed is compared by `cargo xtask bench`, which calls this with `speeds FILE`: FILE has one line of JSON for each pair, with
# the forces of this project; the answer has one line for each. Times are processor times, the best of several.
import json
import subprocess
import sys
import time

import magpylib
import numpy as np
from scipy.spatial.transform import Rotation

J_T = 1.3
MU0 = 4e-7 * np.pi
# Cells of the second magnet, and rings and spokes on its faces: the first that is good enough is timed.
MESHES = (100, 200, 300, 500, 1000, 2000, 3000, 5000, 10000, 20000)
RINGS = (4, 6, 8, 12, 16, 24, 32, 48, 64, 96)
GOOD, FINE = 1e-3, 1e-6
# More points of the field in one call would fill the memory.
POINTS = 400_000


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
    """Rows with the computed columns."""
    text = header + "\n" + "\n".join(",".join(repr(float(x)) for x in row) for row in rows) + "\n"
    run = subprocess.run([program], input=text, check=True, capture_output=True, text=True)
    return np.array([[float(c) for c in line.split(",")] for line in run.stdout.splitlines()[1:]])


def cylinder(size_mm, centre_mm=(0, 0, 0), turn=None, polarization_t=J_T):
    return magpylib.magnet.Cylinder(
        polarization=(0, 0, polarization_t), dimension=np.array(size_mm) * 1e-3,
        position=np.array(centre_mm) * 1e-3, orientation=turn)


def library_force(row, mesh):
    d1, h1, d2, h2, dx, dy, dz, tilt = row[:8]
    turn = Rotation.from_euler("y", tilt, degrees=True)
    force, torque = magpylib.getFT(cylinder((d1, h1)), cylinder((d2, h2), (dx, dy, dz), turn), meshing=mesh)
    return np.concatenate([force, torque * 1e3])


def relative(a, b):
    return np.linalg.norm(a - b, axis=1) / np.linalg.norm(b, axis=1)


def agreement():
    """Random poses by the example program and by the library's force function."""
    rng = np.random.default_rng(1)
    poses = []
    for _ in range(40):
        d1, h1, d2, h2 = rng.uniform(1, 6, 4)
        reach = 0.5 * (np.hypot(d1, h1) + np.hypot(d2, h2))
        to = rng.normal(size=3)
        to *= reach * rng.uniform(1.05, 2) / np.linalg.norm(to)
        poses.append([d1, h1, d2, h2, *to, rng.uniform(-180, 180), J_T, J_T])
    own = ours(built("wrench"), "D1_mm,h1_mm,D2_mm,h2_mm,dx_mm,dy_mm,dz_mm,tilt_deg,J1_T,J2_T", poses)
    other = np.array([library_force(row, 30000) for row in poses])
    print(f"magpylib {magpylib.__version__}, 40 random poses, mesh of 30,000: largest relative difference of the force "
          f"{relative(own[:, 10:13], other[:, :3]).max():.1e}, of the torque {relative(own[:, 13:16], other[:, 3:]).max():.1e}")


class Case:
    """One pair of discs at many gaps, with this project's exact axial forces."""

    def __init__(self, pair):
        self.sizes = pair["discs_mm"]
        self.j_t = pair["polarization_t"]
        self.gaps = np.array(pair["gaps_mm"])
        self.own = np.array(pair["forces_n"])
        self.centres = np.array(pair["centre_mm"]) + np.outer(self.gaps, (0, 0, pair["lift"]))
        about = np.array(pair["about"]) / np.linalg.norm(pair["about"])
        self.turn = Rotation.from_rotvec(about * np.radians(pair["angle_deg"]))
        self.coaxial = pair["centre_mm"][:2] == [0, 0] and pair["angle_deg"] == 0

    def error(self, axial):
        """Largest relative difference from this project's exact force."""
        return np.max(np.abs(axial / self.own[:len(axial)] - 1))

    def path(self, mesh, count):
        """The library's force function, all gaps in one call."""
        moved = cylinder(self.sizes[1], self.centres[:count], self.turn, self.j_t)
        return magpylib.getFT(cylinder(self.sizes[0], polarization_t=self.j_t), moved, meshing=mesh)[0][:, 2]

    def calls(self, mesh, count):
        """The library's force function, one call for each gap."""
        first = cylinder(self.sizes[0], polarization_t=self.j_t)
        return np.array([
            magpylib.getFT(first, cylinder(self.sizes[1], centre, self.turn, self.j_t), meshing=mesh)[0][2]
            for centre in self.centres[:count]])

    def around(self, rings):
        """Spokes: a coaxial field is the same on all of them."""
        return 1 if self.coaxial else 2 * rings

    def faces(self, rings, count):
        """Gauss quadrature of the library's field over the charges of both faces of magnet 2, all gaps in one call."""
        around = self.around(rings)
        x, w = np.polynomial.legendre.leggauss(rings)
        (d, h), reach = self.sizes[1], self.sizes[1][0] / 4
        r, w = reach * (1 + x), reach * w * reach * (1 + x)
        phi = 2 * np.pi * (np.arange(around) + 0.5) / around
        disc = np.stack([np.outer(r, np.cos(phi)).ravel(), np.outer(r, np.sin(phi)).ravel(), np.zeros(rings * around)], axis=1)
        area = np.repeat(w * 2 * np.pi / around, around)
        ends = np.stack([self.turn.apply(disc + (0, 0, side * h / 2)) for side in (1, -1)])
        points = self.centres[:count, None, None] + ends[None]
        b = magpylib.getB(cylinder(self.sizes[0], polarization_t=self.j_t), points.reshape(-1, 3) * 1e-3)
        axial = b.reshape(*points.shape)[..., 2] @ area * self.j_t * 1e-6 / MU0
        return axial[:, 0] - axial[:, 1]

    def first_within(self, bound, method, ladder):
        """The first fineness with no larger error, and its error; the last one if none is."""
        for fineness in ladder:
            error = self.error(method(fineness, 40))
            if error <= bound:
                break
        return fineness, error

    def face_speed(self, rings):
        points = 2 * rings * self.around(rings)
        return per_second(self.faces, rings, min(len(self.gaps), max(4, POINTS // points)))


def per_second(method, fineness, count):
    """Forces per second, the best of five runs of about `count` forces."""
    best = float("inf")
    for _ in range(5):
        start = time.process_time()
        method(fineness, count)
        best = min(best, time.process_time() - start)
    return count / best


def speeds(file):
    with open(file, encoding="utf-8") as lines:
        for line in lines:
            given = json.loads(line)
            case = Case(given["pair"])
            mesh, mesh_error = case.first_within(GOOD, case.path, MESHES)
            rings, rings_error = case.first_within(GOOD, case.faces, RINGS)
            fine, fine_error = case.first_within(FINE, case.faces, RINGS)
            few = 40 if mesh < 3000 else 10
            print(json.dumps({
                "kernel": given["kernel"], "version": magpylib.__version__,
                "mesh": mesh, "mesh_error": mesh_error,
                "calls_per_s": per_second(case.calls, mesh, few),
                "path_per_s": per_second(case.path, mesh, few),
                "rings": rings, "rings_error": rings_error, "faces_per_s": case.face_speed(rings),
                "fine_rings": fine, "fine_rings_error": fine_error, "fine_faces_per_s": case.face_speed(fine),
            }), flush=True)


if __name__ == "__main__":
    if sys.argv[1:2] == ["speeds"]:
        speeds(sys.argv[2])
    else:
        agreement()
