#!/usr/bin/python3
"""The product against NetworkX' minimum cut on bigger random plants (I4, I6).

    test_networkx.py STILLSET_BIN [--plants N] [--seed S]
"""

import argparse
import multiprocessing
import os
import random
import sys
import tempfile

import conditions
import cut
import exhaustive
import genrandom
from common import RunError, run_plan


def examine(work):
    """One plant: (seed, target, least cost, list of complaints, plant text)."""
    binary, folder, seed = work
    text = genrandom.big_plant(seed)
    plant = exhaustive.Plant(text)
    path = os.path.join(folder, "plant-%s.xml" % seed)
    with open(path, "w", encoding="utf-8") as stream:
        stream.write(text)
    rng = random.Random("target %s" % seed)
    while True:
        target = rng.choice(sorted(plant.components))
        least = cut.least_cost(path, target)
        if least is not None or rng.random() < 0.4:
            break
    bad = []
    try:
        record = run_plan(binary, path, target)
        got = (record["cost"]["sources"], record["cost"]["points"]) if record["feasible"] else None
        if got != least:
            bad.append("[I4] (sources, points): got %s, minimum cut %s" % (got, least))
        bad += conditions.complaints(plant, target, record)
    except RunError as problem:
        bad = [str(problem)]
    except (KeyError, TypeError, AttributeError, ValueError) as problem:
        bad = ["the record has another shape: %s %s" % (type(problem).__name__, problem)]
    os.unlink(path)
    return seed, target, least, bad, text


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("binary")
    parser.add_argument("--plants", type=int, default=500)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--stop-after", type=int, default=5, help="differences")
    options = parser.parse_args()
    print("seed %d" % options.seed)
    passed = failed = feasible = points = 0
    with tempfile.TemporaryDirectory() as folder, multiprocessing.Pool(2) as pool:
        seeds = range(options.seed, options.seed + options.plants)
        work = ((options.binary, folder, n) for n in seeds)
        for number, target, least, bad, text in pool.imap(examine, work, chunksize=4):
            if least is not None:
                feasible += 1
                points += least[1]
            if not bad:
                passed += 1
                continue
            failed += 1
            handle, kept = tempfile.mkstemp(".xml", "stillset-outside-big-%s-" % number)
            with os.fdopen(handle, "w", encoding="utf-8") as stream:
                stream.write(text)
            print("FAIL seed %s: plan %s --target '%s' --grade single --format json"
                  % (number, kept, target))
            for line in bad:
                print("     " + line)
            if failed >= options.stop_after:
                pool.terminate()
                break
    print("feasible %d, points in all %d" % (feasible, points))
    print("%d passed, %d failed" % (passed, failed))
    sys.exit(1 if failed or not passed else 0)


if __name__ == "__main__":
    main()
