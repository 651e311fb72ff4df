# Solves problems of magnet choice, made by the example `kit_choice`, with a general solver and compares: OR-Tools CP-SAT with a
# table constraint for each demand, one thread each.
#
# On demand, in an environment of its own, from the root of the checkout:
#   python3 -m venv /tmp/solvers && /tmp/solvers/bin/pip install ortools
#   /tmp/solvers/bin/python tests/magnet_choice_compare.py SECONDS FAMILY,SIZE,... SEED...
# where FAMILY,SIZE,... is as in `kit_choice make`, such as `grid,20,20` (several may be given). Prints a line of CSV for each
# seed, and at the end of each family the median and the worst of our time over CP-SAT's. CP-SAT is asked in two ways (a table
# for each demand; a row for each demand) and the quicker one counts. Both times are processor seconds, its own without building
# the model, ours from the tables to the proof. `open` is a solver without a proof after SECONDS; what its best
# choice costs then stands beside it.
import json
import statistics
import subprocess
import sys
import time

from ortools.sat.python import cp_model

BIG = 1_000_000
# A row for each demand is a variable for each row: beyond so many it is left out.
MOST_ROWS = 100_000


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


def cp_sat(problem, seconds):
    """The better of two ways to ask, with full linear relaxation (level 2 was quicker than 1 in trials)."""
    ways = []
    for make in (by_tables, by_rows):
        if make is by_rows:
            too_many = sum(len(d["rows"]) for d in problem["demands"]) > MOST_ROWS
            # A quick proof by tables was never beaten by rows in trials.
            if too_many or (ways[0][0] != "open" and ways[0][2] < 0.5):
                continue
        model = make(problem)
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.linearization_level = 2
        solver.parameters.max_time_in_seconds = seconds
        start = time.process_time()
        status = solver.solve(model)
        took = time.process_time() - start
        value = round(solver.objective_value) if status in (cp_model.OPTIMAL, cp_model.FEASIBLE) else "none"
        is_proven = status in (cp_model.OPTIMAL, cp_model.INFEASIBLE)
        ways.append(("proven" if is_proven else "open", value, took))
    return min(ways, key=lambda w: (w[0] == "open", w[2], w[1] if w[1] != "none" else float("inf")))


def main():
    seconds = float(sys.argv[1])
    families = [a for a in sys.argv[2:] if "," in a]
    seeds = [a for a in sys.argv[2:] if "," not in a]
    kit_choice = program()
    print("family,seed,sites,demands,rows,magnets,cents,proven,bound,own_s,check_s,cp_sat,cp_sat_cost,cp_sat_s,own_over_cp_sat,agree")
    for family in families:
        name, *sizes = family.split(",")
        ratios = []
        for seed in seeds:
            text = subprocess.run([kit_choice, "make", name, seed, *sizes], check=True, capture_output=True, text=True).stdout
            magnets, cents, proven, bound, _, sites, demands, rows, ms, check_ms = subprocess.run(
                [kit_choice, "solve"], input=text, check=True, capture_output=True, text=True).stdout.strip().split(",")
            own = "none" if magnets == "none" else int(magnets) * BIG + int(cents)
            own_s = float(ms) / 1e3
            status, value, sat_s = cp_sat(json.loads(text), seconds)
            if proven == "true" and status == "proven":
                agree = own == value
            else:
                agree = "not worse" if own != "none" and (value == "none" or own <= value) else "worse"
            ratios.append(own_s / sat_s)
            print(f"{name} {' '.join(sizes)},{seed},{sites},{demands},{rows},{magnets},{cents},{proven},{bound},{own_s:.4f},"
                  f"{float(check_ms) / 1e3:.4f},{status},{value},{sat_s:.4f},{ratios[-1]:.3f},{agree}", flush=True)
        print(f"# {family}: ours over CP-SAT's median {statistics.median(ratios):.3f}, worst {max(ratios):.3f}", flush=True)


if __name__ == "__main__":
    main()
