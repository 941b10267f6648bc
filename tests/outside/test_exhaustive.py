#!/usr/bin/python3
"""The product against the exhaustive search on small random plants (I1, I4, N1 to N5, D1 to D7).

Each plan must be feasible exactly when some set of devices is, cost the same (sources, points),
list the lowest ids where mass and D4 cannot tell plans apart, and meet the plain conditions.
Stops at the first difference, with the seed and the plant file kept.

    test_exhaustive.py STILLSET_BIN [--plants N] [--seed S] [--go-on] [--whole-live-side]
"""

import argparse
import multiprocessing
import os
import random
import sys
import tempfile

import conditions
import exhaustive
import genrandom
from common import RunError, counted_ids, run_plan


def pick_target(plant, seed):
    """A random component; now and then another one when the first cannot be isolated."""
    rng = random.Random("target %s" % seed)
    while True:
        target = rng.choice(sorted(plant.components))
        search = exhaustive.Search(plant, target).run()
        if search.best is not None or rng.random() < 0.5:
            return target, search


def examine(work):
    """One plant: (seed, target, kinds of checks made, list of complaints, plant text)."""
    binary, folder, seed, whole_live_side = work
    text = genrandom.small_plant(seed)
    plant = exhaustive.Plant(text, whole_live_side)
    target, search = pick_target(plant, seed)
    path = os.path.join(folder, "plant-%s-%d.xml" % (seed, os.getpid()))
    with open(path, "w", encoding="utf-8") as stream:
        stream.write(text)
    kinds = set()
    try:
        record = run_plan(binary, path, target)
        bad = compare(plant, target, search, record, kinds)
    except RunError as problem:
        bad = [str(problem)]
    except (KeyError, TypeError, AttributeError, ValueError) as problem:
        bad = ["the record has another shape: %s %s" % (type(problem).__name__, problem)]
    os.unlink(path)
    return seed, target, kinds, bad, text


def compare(plant, target, search, record, kinds):
    """What is different between the record and the search."""
    bad = []
    if record["feasible"] != (search.best is not None):
        bad.append("[I1] feasible: got %s, least cost is %s" % (record["feasible"], search.best))
    elif record["feasible"]:
        kinds.add("feasible")
        cost = (record["cost"]["sources"], record["cost"]["points"])
        if cost != search.best:
            bad.append("[I4] (sources, points): got %s, least is %s, such as %s"
                       % (cost, search.best, search.lowest_ids()))
        elif len(search.optimal) > 1:
            kinds.add("several")
            if not exhaustive.relief_can_matter(plant):
                kinds.add(compare_ties(search, record, bad))
        if search.best[0]:
            kinds.add("sources inside")
    else:
        kinds.add("infeasible")
    return bad + conditions.complaints(plant, target, record)


def compare_ties(search, record, bad):
    """Among plans of equal cost: least mass, then lowest ids (I4). D4 is ruled out beforehand.

    The enclosed sets form a lattice, so a plan of known mass encloses no liquid beyond the
    smallest; and where the mass of the smallest is unknown, all rank equal and ids decide.
    """
    mass = record["cost"]["mass_kg"]
    if mass is not None:
        if search.volume_unknown():
            bad.append("[I4] mass_kg is %r, but a volume is unknown" % mass)
        extra = search.liquid_beyond_least(counted_ids(record))
        if extra:
            bad.append("[I4] mass: encloses %s beyond the smallest set" % sorted(extra))
        return "mass"
    if counted_ids(record) != search.lowest_ids():
        bad.append("[I4] lowest ids: got %s, expected %s"
                   % (counted_ids(record), search.lowest_ids()))
    return "ids"


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("binary")
    parser.add_argument("--plants", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=None)
    parser.add_argument("--go-on", action="store_true", help="do not stop at the first difference")
    parser.add_argument("--whole-live-side", action="store_true",
                        help="read D7 strictly: the live side is all that stays joined outside")
    options = parser.parse_args()
    seed = options.seed
    if seed is None:
        seed = random.SystemRandom().randrange(10 ** 6) * 10 ** 4
    print("seed %d" % seed)
    passed = failed = 0
    totals = {}
    with tempfile.TemporaryDirectory() as folder, multiprocessing.Pool(2) as pool:
        work = ((options.binary, folder, n, options.whole_live_side)
                for n in range(seed, seed + options.plants))
        for number, target, kinds, bad, text in pool.imap(examine, work, chunksize=8):
            for kind in kinds:
                totals[kind] = totals.get(kind, 0) + 1
            if not bad:
                passed += 1
                continue
            failed += 1
            handle, kept = tempfile.mkstemp(".xml", "stillset-outside-%s-" % number)
            with os.fdopen(handle, "w", encoding="utf-8") as stream:
                stream.write(text)
            print("FAIL seed %s: plan %s --target '%s' --grade single --format json"
                  % (number, kept, target))
            for line in bad:
                print("     " + line)
            if not options.go_on:
                pool.terminate()
                break
    print("of these: " + ", ".join("%s %d" % item for item in sorted(totals.items())))
    print("%d passed, %d failed" % (passed, failed))
    sys.exit(1 if failed or not passed else 0)


if __name__ == "__main__":
    main()
