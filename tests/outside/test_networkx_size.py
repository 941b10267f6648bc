#!/usr/bin/python3
"""Plans of grade single on a plant of 10,000 components against NetworkX' minimum cut (I4).

    test_networkx_size.py STILLSET_BIN GENPLANT [--components N] [--targets N] [--seed S]

The plant of tools/genplant has no actuated shut-off and no three-way valves, so a cut is all there
is to it. The cut is taken on the graph of tools/plant2graph.py.
"""

import argparse
import multiprocessing
import os
import random
import subprocess
import sys
import tempfile

import cut
import exhaustive
from common import RunError, run_plan


def examine(work):
    """(target, least cost, what is different or "")."""
    binary, path, target = work
    least = cut.least_cost(path, target)
    try:
        record = run_plan(binary, path, target)
    except RunError as problem:
        return target, least, str(problem)
    got = (record["cost"]["sources"], record["cost"]["points"]) if record["feasible"] else None
    return target, least, "" if got == least else "got %s, minimum cut %s" % (got, least)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("binary")
    parser.add_argument("genplant")
    parser.add_argument("--components", type=int, default=10000)
    parser.add_argument("--targets", type=int, default=40)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    print("%d components, seed %d" % (options.components, options.seed))
    passed = failed = feasible = points = 0
    with tempfile.TemporaryDirectory() as folder, multiprocessing.Pool(2) as pool:
        path = os.path.join(folder, "plant.xml")
        with open(path, "wb") as stream:
            subprocess.run([options.genplant, str(options.components), "--seed", str(options.seed)],
                           stdout=stream, stderr=subprocess.DEVNULL, check=True)
        with open(path, encoding="utf-8") as stream:
            names = sorted(exhaustive.Plant(stream.read()).components)
        targets = random.Random("targets %d" % options.seed).sample(names, options.targets)
        work = ((options.binary, path, t) for t in targets)
        for target, least, wrong in pool.imap(examine, work):
            feasible += least is not None
            points += least[1] if least else 0
            passed += not wrong
            failed += bool(wrong)
            if wrong:
                print("FAIL [I4] %s: (sources, points) %s" % (target, wrong))
    print("feasible %d, points in all %d" % (feasible, points))
    print("%d passed, %d failed" % (passed, failed))
    return 1 if failed or not feasible else 0


if __name__ == "__main__":
    sys.exit(main())
