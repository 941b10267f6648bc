#!/usr/bin/python3
"""--keep against the exhaustive search with the same words (docs/METHOD.md 3.9; I1, I4, N5).

    test_keep.py STILLSET_BIN [--plants N] [--start SEED]

Each plant is planned with one or two of its equipment kept, to every grade. Plants in which a relief path can
tell plans apart (D4) are compared in (sources, points) only where no relief valve is there.
"""

import collections
import os
import random
import sys

import exhaustive
import grade_random
import grade_run
import grade_search
from common import RunError
from grade_keep import KEPT, KeepPlant, KeepSearch
from grade_plant import GRADES, GradePlant


def choose(case, seed):
    """What is kept: what the program does not refuse outright."""
    plant = GradePlant(case.text, [case.target], case.avoid)
    target = case.target if case.target in plant.components else case.target.rsplit(".", 1)[0]
    locked = plant.isolators_of([target])
    able = [n for n, c in plant.components.items()
            if c.tag in KEPT and n != target and not plant.isolators_of([n]) & locked]
    rng = random.Random("keep-%d" % seed)
    return rng.sample(able, min(len(able), rng.choice([1, 1, 2])))


def examine(work):
    binary, folder, seed = work
    case, counts, bad = grade_random.plant(seed), collections.Counter(), []
    kept = choose(case, seed)
    if not kept:
        return seed, counts, bad
    plant = KeepPlant(case.text, [case.target], kept, case.avoid)
    if exhaustive.relief_can_matter(plant):
        counts["passed over: relief may matter"] += 1
        return seed, counts, bad
    path = os.path.join(folder, "plant-%d.xml" % seed)
    grade_run.write(path, case)
    for grade in GRADES:
        try:
            search = KeepSearch(plant, grade).run()
            free = grade_search.Search(GradePlant(case.text, [case.target], case.avoid), grade).run()
        except grade_search.TooMany:
            counts["too many sets"] += 1
            continue
        counts["plans"] += 1
        counts["feasible"] += search.best.cost is not None
        counts["it makes a difference"] += search.best.cost != free.best.cost
        counts["it costs points"] += (search.best.cost is not None and search.best.cost != free.best.cost)
        try:
            record = grade_run.planned(binary, path, case, grade, ["--keep", ",".join(kept)])
        except RunError as problem:
            bad.append("%s, keep %s: %s" % (grade, ",".join(kept), problem))
            continue
        got = grade_run.cost_of(record)
        if got != search.best.cost:
            bad.append("[I4] [I8] %s, target %s, avoid %s, keep %s: got %s, least is %s"
                       % (grade, case.target, ",".join(case.avoid), ",".join(kept), got,
                          search.best.cost))
        counts["reason given"] += not record["feasible"] and bool(record["obstacle"]["text"])
    os.unlink(path)
    return seed, counts, bad


def main():
    totals, passed, failed = grade_run.over_plants(examine, grade_run.parser_of(plants=200).parse_args())
    return grade_run.closing(passed, failed, totals["it costs points"] * 200 < totals["plans"]
                             or totals["feasible"] * 10 < totals["plans"])


if __name__ == "__main__":
    sys.exit(main())
