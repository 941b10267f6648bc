"""What the checks of many random plants share: plans by the program, options, processes, counts."""

import argparse
import collections
import multiprocessing
import tempfile

from common import run_plan
from test_grades import SKIP, command, refused


def write(path, case):
    with open(path, "w", encoding="utf-8") as stream:
        stream.write(case.text)


def planned(binary, path, case, grade, more=()):
    """The program's record; the plant stands at `path`."""
    return run_plan(binary, path, case.target, command(path, case, grade)[4:-2] + list(more))


def cost_of(record):
    """(sources, points), or None where there is no plan."""
    if not record["feasible"]:
        return None
    return record["cost"]["sources"], record["cost"]["points"]


def parser_of(plants):
    """Options that all have; more can be added."""
    parser = argparse.ArgumentParser()
    parser.add_argument("binary")
    parser.add_argument("--plants", type=int, default=plants)
    parser.add_argument("--start", type=int, default=1)
    return parser


def over_plants(examine, options, *more, may_skip=False):
    """Examine plant after plant in two processes, print what is wrong, then the counts.

    examine((binary, folder, seed) + more) gives (seed, counts, complaints). With may_skip, leaves with
    SKIP when the program says that it does not plan a grade.
    Returns (counts, plants passed, plants failed).
    """
    print("start %d" % options.start)
    totals, passed, failed = collections.Counter(), 0, 0
    with tempfile.TemporaryDirectory() as folder, multiprocessing.Pool(2) as pool:
        asked = may_skip and options.binary != "none"
        grade = refused(options.binary, folder) if asked else None
        if grade:
            print("skipped: the program does not plan the grade " + grade)
            raise SystemExit(SKIP)
        work = ((options.binary, folder, n) + more
                for n in range(options.start, options.start + options.plants))
        for seed, counts, bad in pool.imap(examine, work, chunksize=4):
            totals.update(counts)
            passed += not bad
            failed += bool(bad)
            for line in bad:
                print("FAIL seed %d: %s" % (seed, line))
    print(", ".join("%s %d" % item for item in sorted(totals.items())))
    return totals, passed, failed


def closing(passed, failed, rare):
    """The last lines of a check, and its exit status. rare: what it is there for hardly occurred."""
    if rare:
        print("FAIL too rare: what this is there for")
    print("%d passed, %d failed" % (passed, failed))
    return 1 if failed or rare or not passed else 0
