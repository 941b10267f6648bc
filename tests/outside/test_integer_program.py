#!/usr/bin/python3
"""GLPK as second reference for single, double and positive (I2, I4).

    test_integer_program.py none [--plants N] [--start SEED]        against the exhaustive search
    test_integer_program.py STILLSET_BIN [--plants N] [--start SEED] [--least-scale N] [--most-scale N]

With the program: plants of 50 to 300 devices that may be points. Exit 77 while it says that it does not
plan a grade. GLPK: GNU Linear Programming Kit, Debian's glpk-utils.
"""

import collections
import os
import random
import sys

import grade_random
import grade_run
import grade_search
import integer_program
from common import RunError
from grade_plant import GradePlant


def small(seed, folder):
    case = grade_random.plant(seed)
    plant = GradePlant(case.text, [case.target], case.avoid)
    for grade in integer_program.LEVELS:
        search = grade_search.Search(plant, grade)
        try:
            search.run()
        except grade_search.TooMany:
            continue
        yield grade, len(search.devices), search.best.cost, \
            integer_program.least_cost(plant, grade, folder), case


def large(seed, folder, binary, scales):
    rng = random.Random("scale %s" % seed)
    while True:                      # a plant of the size that is wanted
        case = grade_random.plant(seed, rng.randint(*scales))
        plant = GradePlant(case.text, [case.target], case.avoid)
        if 50 <= len(plant.devices_of("positive")) <= 300:
            break
    path = os.path.join(folder, "plant-%d.xml" % os.getpid())
    grade_run.write(path, case)
    for grade in integer_program.LEVELS:
        got = grade_run.cost_of(grade_run.planned(binary, path, case, grade))
        yield grade, len(plant.devices_of(grade)), got, \
            integer_program.least_cost(plant, grade, folder), case


def examine(work):
    """(seed, counts, complaints) of one plant."""
    binary, folder, seed, scales = work
    counts, bad = collections.Counter(), []
    rows = small(seed, folder) if binary == "none" else large(seed, folder, binary, scales)
    try:
        for grade, devices, got, least, case in rows:
            counts["answers"] += 1
            counts["devices"] += devices
            counts["infeasible" if least is None else "feasible"] += 1
            counts["points"] += least[1] if least else 0
            if got != least:
                bad.append("[I4] %s, target %s, avoid %s: (sources, points) got %s, GLPK %s"
                           % (grade, case.target, ",".join(case.avoid), got, least))
    except (RunError, integer_program.SolverError) as problem:
        bad.append(str(problem))
    return seed, counts, bad


def main():
    parser = grade_run.parser_of(plants=300)
    parser.add_argument("--least-scale", type=int, default=6)
    parser.add_argument("--most-scale", type=int, default=24)
    options = parser.parse_args()
    scales = (options.least_scale, options.most_scale)
    totals, passed, failed = grade_run.over_plants(examine, options, scales, may_skip=True)
    print("%d passed, %d failed" % (passed, failed))
    return 1 if failed or not totals["feasible"] or not totals["infeasible"] else 0


if __name__ == "__main__":
    sys.exit(main())
