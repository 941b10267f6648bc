#!/usr/bin/python3
"""GLPK as second reference for single, double and positive (I2, I4).

    test_integer_program.py none [--plants N] [--start SEED]        against the exhaustive search
    test_integer_program.py STILLSET_BIN [--plants N] [--start SEED] [--least-scale N] [--most-scale N]

With the program: plants of 50 to 300 devices that may be points. Exit 77 while it says that it does not
plan a grade. GLPK: GNU Linear Programming Kit, Debian's glpk-utils.
"""

import argparse
import collections
import multiprocessing
import os
import random
import sys
import tempfile

import grade_random
import grade_search
import integer_program
from common import RunError, run_plan
from grade_plant import GradePlant
from test_grades import SKIP, command, refused


def product(binary, path, case, grade):
    record = run_plan(binary, path, case.target, command(path, case, grade)[4:-2])
    if not record["feasible"]:
        return None
    return record["cost"]["sources"], record["cost"]["points"]


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
    with open(path, "w", encoding="utf-8") as stream:
        stream.write(case.text)
    for grade in integer_program.LEVELS:
        yield grade, len(plant.devices_of(grade)), product(binary, path, case, grade), \
            integer_program.least_cost(plant, grade, folder), case


def examine(work):
    """(seed, counts, complaints) of one plant."""
    seed, folder, binary, scales = work
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
    parser = argparse.ArgumentParser()
    parser.add_argument("binary")
    parser.add_argument("--plants", type=int, default=300)
    parser.add_argument("--start", type=int, default=1)
    parser.add_argument("--least-scale", type=int, default=6)
    parser.add_argument("--most-scale", type=int, default=24)
    options = parser.parse_args()
    print("start %d" % options.start)
    totals, passed, failed = collections.Counter(), 0, 0
    with tempfile.TemporaryDirectory() as folder, multiprocessing.Pool(2) as pool:
        grade = None if options.binary == "none" else refused(options.binary, folder)
        if grade:
            print("skipped: the program does not plan the grade " + grade)
            return SKIP
        scales = (options.least_scale, options.most_scale)
        work = ((n, folder, options.binary, scales)
                for n in range(options.start, options.start + options.plants))
        for seed, counts, bad in pool.imap(examine, work, chunksize=4):
            totals.update(counts)
            passed += not bad
            failed += bool(bad)
            for line in bad:
                print("FAIL seed %d: %s" % (seed, line))
    print(", ".join("%s %d" % item for item in sorted(totals.items())))
    print("%d passed, %d failed" % (passed, failed))
    return 1 if failed or not totals["feasible"] or not totals["infeasible"] else 0


if __name__ == "__main__":
    sys.exit(main())
