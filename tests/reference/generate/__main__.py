# Computes rows of the reference tables anew, or checks the committed tables by rows drawn from them.
#
#   python3 -m venv /tmp/reference && /tmp/reference/bin/pip install -r tests/reference/generate/requirements.txt
#   /tmp/reference/bin/python tests/reference/generate offset --seed 1 --rows 20        new rows, as CSV
#   /tmp/reference/bin/python tests/reference/generate all --check --seed 1 --rows 20   compares; fails if one differs
#
# A value agrees when it differs from the table's by no more than the error that the table states, the difference of the two
# fresh methods, and half a unit of the twelfth digit (the sixth with steel) together.
import argparse
import csv
import random
import sys
from pathlib import Path

sys.dont_write_bytecode = True

from apart import Offset, SideBySide, Tilt
from coaxial import Coaxial, Plate
from far import Far
from steel import Steel, SteelGrid, SteelRows

HERE = Path(__file__).resolve().parent.parent
TABLES = {table.name: table for table in (Coaxial(), Plate(), Offset(), SideBySide(), Tilt(), Far(), Steel(), SteelGrid(), SteelRows())}


def digits(table):
    return 6 if table.name.startswith("steel") else 12


def committed(table):
    with open(HERE / f"{table.name}.csv", newline="") as file:
        return [{k: v if k in ("orientation", "use") else float(v) for k, v in row.items()} for row in csv.DictReader(file)]


def check(table, rows, seed):
    """Number of rows of the committed table that a fresh run does not confirm."""
    lines = committed(table)
    bad, worst = 0, 0.0
    for row in random.Random(seed).sample(lines, min(rows, len(lines))):
        fresh = table.compute(row)
        stated, own = table.stated(row), table.own(fresh)
        for name in table.values:
            # Components that vanish beside the force are as good as the force.
            size = max(abs(row[other]) for other in table.values)
            allowed = stated[name] + own[name] + 0.5 * 10.0 ** (1 - digits(table)) * size
            apart = abs(fresh[name] - row[name])
            worst = max(worst, apart / allowed)
            if not apart <= allowed:
                bad += 1
                print(f"{table.name}: {name} is {row[name]} in the table and {fresh[name]} anew; {allowed:.1e} apart is allowed: {row}")
    print(f"{table.name}: {min(rows, len(lines))} rows, {bad} values differ; the largest difference is {worst:.2f} of what is allowed")
    return bad


def write(table, rows, seed):
    draw = random.Random(seed)
    out = csv.DictWriter(sys.stdout, table.header, extrasaction="ignore", lineterminator="\n")
    out.writeheader()
    for _ in range(rows):
        row = table.draw(draw)
        row |= table.compute(row)
        out.writerow({k: float(f"{v:.{digits(table)}g}") if isinstance(v, float) else v for k, v in row.items()})
        sys.stdout.flush()


def main():
    arguments = argparse.ArgumentParser(description="Rows of the reference tables, computed anew.")
    arguments.add_argument("table", choices=[*TABLES, "all"])
    arguments.add_argument("--seed", type=int, default=1)
    arguments.add_argument("--rows", type=int, default=20)
    arguments.add_argument("--check", action="store_true", help="compare with the committed table; fail where they differ")
    given = arguments.parse_args()
    chosen = TABLES.values() if given.table == "all" else [TABLES[given.table]]
    if given.check:
        sys.exit(1 if sum(check(table, given.rows, given.seed) for table in chosen) else 0)
    if given.table == "all":
        arguments.error("choose one table to write")
    write(chosen[0], given.rows, given.seed)


if __name__ == "__main__":
    main()
