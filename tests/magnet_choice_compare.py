# Solves problems of magnet choice, made by the example `kit_choice`, with general solvers and compares: OR-Tools CP-SAT with a
# table constraint for each demand, and HiGHS as a mixed-integer program with a variable for each allowed row.
#
# On demand, in an environment of its own, from the root of the checkout:
#   python3 -m venv /tmp/solvers && /tmp/solvers/bin/pip install ortools highspy
#   /tmp/solvers/bin/python tests/magnet_choice_compare.py SOCKETS PARTS SEED...
# Prints a line of CSV for each seed. One thread each. CP-SAT is asked in two ways (a table for each demand; a row for each demand)
# and the quicker one counts; its time and that of
# HiGHS are processor seconds without building the model, ours is by the clock, so that a busy machine only ever counts against us.
# `open` is a solver that had no proof after SECONDS: its ratio is then a bound from below.
import json
import subprocess
import sys
import time

from ortools.sat.python import cp_model

BIG = 1_000_000
# HiGHS gets a variable for each row: beyond so many it is left out.
MOST_ROWS = 200_000
SECONDS = 40


def program():
    run = subprocess.run(
        ["cargo", "build", "--release", "--quiet", "--package", "lodewright-examples", "--example", "kit_choice",
         "--message-format=json"], check=True, capture_output=True, text=True)
    for line in run.stdout.splitlines():
        message = json.loads(line)
        if message.get("executable") and message["target"]["name"] == "kit_choice":
            return message["executable"]
    raise SystemExit("cargo built no kit_choice")


def sites_of(model, problem):
    """A variable for each option of each site, and what they cost."""
    magnets, cents, sites = [], [], []
    for site in problem["sites"]:
        options = [model.new_bool_var("") for _ in site["costs"]]
        model.add_exactly_one(options)
        sites.append(options)
        magnets += [m * b for (m, _), b in zip(site["costs"], options) if m]
        cents += [c * b for (_, c), b in zip(site["costs"], options) if c]
    return sites, BIG * sum(magnets) + sum(cents)


def by_tables(problem):
    """Each demand as a table constraint, options tied to values both ways."""
    model = cp_model.CpModel()
    sites, cost = sites_of(model, problem)
    values = []
    for options in sites:
        value = model.new_int_var(0, len(options) - 1, "")
        for o, b in enumerate(options):
            model.add(value == o).only_enforce_if(b)
            model.add(value != o).only_enforce_if(~b)
        values.append(value)
    for demand in problem["demands"]:
        model.add_allowed_assignments([values[s] for s in demand["sites"]], demand["rows"])
    model.minimize(cost)
    return model


def by_rows(problem):
    """Each demand as a choice of one of its rows, tied to the options by sums."""
    model = cp_model.CpModel()
    sites, cost = sites_of(model, problem)
    for demand in problem["demands"]:
        rows = [model.new_bool_var("") for _ in demand["rows"]]
        model.add_exactly_one(rows)
        for i, s in enumerate(demand["sites"]):
            with_option = [[] for _ in sites[s]]
            for row, b in zip(demand["rows"], rows):
                with_option[row[i]].append(b)
            for b, some in zip(sites[s], with_option):
                model.add(sum(some) == b)
    model.minimize(cost)
    return model


def cp_sat(problem):
    """The better of two ways to ask, with full linear relaxation (level 2 was quicker than 1 in trials)."""
    ways = []
    for make in (by_tables, by_rows):
        if make is by_rows and sum(len(d["rows"]) for d in problem["demands"]) > MOST_ROWS:
            continue
        model = make(problem)
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.linearization_level = 2
        # The limit is on the wall clock; on a busy machine twice as much is given, so that the processor time is what counts.
        solver.parameters.max_time_in_seconds = 2 * SECONDS
        start = time.process_time()
        status = solver.solve(model)
        seconds = time.process_time() - start
        if status == cp_model.OPTIMAL:
            ways.append((round(solver.objective_value), seconds))
        else:
            ways.append(("none" if status == cp_model.INFEASIBLE else "open", seconds))
    return min(ways, key=lambda w: (w[0] == "open", w[1]))


def highs(problem):
    import highspy
    import numpy as np
    if sum(len(d["rows"]) for d in problem["demands"]) > MOST_ROWS:
        return "left out", float("nan")
    h = highspy.Highs()
    h.silent()
    h.setOptionValue("threads", 1)
    h.setOptionValue("time_limit", float(SECONDS))
    h.setOptionValue("mip_rel_gap", 0.0)
    first = []
    count = 0
    for site in problem["sites"]:
        first.append(count)
        for m, c in site["costs"]:
            h.addVar(0.0, 1.0)
            h.changeColCost(count, float(m * BIG + c))
            h.changeColIntegrality(count, highspy.HighsVarType.kInteger)
            count += 1
    for s, site in enumerate(problem["sites"]):
        n = len(site["costs"])
        h.addRow(1.0, 1.0, n, np.arange(first[s], first[s] + n, dtype=np.int32), np.ones(n))
    for demand in problem["demands"]:
        rows = list(range(count, count + len(demand["rows"])))
        for _ in rows:
            h.addVar(0.0, 1.0)
        count += len(rows)
        h.addRow(1.0, 1.0, len(rows), np.array(rows, dtype=np.int32), np.ones(len(rows)))
        for i, s in enumerate(demand["sites"]):
            for o in range(len(problem["sites"][s]["costs"])):
                with_option = [r for r, row in zip(rows, demand["rows"]) if row[i] == o]
                index = np.array(with_option + [first[s] + o], dtype=np.int32)
                h.addRow(0.0, 0.0, len(index), index, np.array([1.0] * len(with_option) + [-1.0]))
    start = time.process_time()
    h.run()
    seconds = time.process_time() - start
    status = h.getModelStatus()
    if status == highspy.HighsModelStatus.kOptimal:
        return round(h.getInfo().objective_function_value), seconds
    return ("none" if status == highspy.HighsModelStatus.kInfeasible else "open"), seconds


def main():
    sockets, parts, *seeds = sys.argv[1:]
    kit_choice = program()
    print("sockets,parts,seed,sites,demands,rows,families,magnets,cents,proven,own_s,cp_sat,cp_sat_s,cp_sat_over_own,highs,highs_s,highs_over_own,agree")
    for seed in seeds:
        text = subprocess.run([kit_choice, "make", seed, sockets, parts], check=True, capture_output=True, text=True).stdout
        magnets, cents, proven, _, families, sites, demands, rows, ms = subprocess.run(
            [kit_choice, "solve"], input=text, check=True, capture_output=True, text=True).stdout.strip().split(",")
        own = "none" if magnets == "none" else int(magnets) * BIG + int(cents)
        own_s = float(ms) / 1e3
        problem = json.loads(text)
        sat, sat_s = cp_sat(problem)
        mip, mip_s = highs(problem)
        others = [o for o in (sat, mip) if o not in ("open", "left out")]
        agree = all(o == own for o in others) if proven == "true" else "unproven"
        print(f"{sockets},{parts},{seed},{sites},{demands},{rows},{families},{magnets},{cents},{proven},{own_s:.3f},{sat},{sat_s:.3f},"
              f"{sat_s / own_s:.1f},{mip},{mip_s:.3f},{mip_s / own_s:.1f},{agree}", flush=True)


if __name__ == "__main__":
    main()
