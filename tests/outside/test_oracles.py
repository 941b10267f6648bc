#!/usr/bin/python3
"""The two oracles against each other on small random plants: every set tried, and minimum cut.

That they agree is a check of METHOD section 3.2 (the second cost is one minimum cut). Needs no
product.

    test_oracles.py [--plants N] [--seed S]
"""

import argparse
import os
import random
import tempfile

import cut
import exhaustive
import genrandom
from common import Checks


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--plants", type=int, default=400)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    checks = Checks(quiet=True)
    print("seed %d" % options.seed)
    feasible = ties = strict = 0
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "plant.xml")
        for number in range(options.seed, options.seed + options.plants):
            text = genrandom.small_plant(number)
            with open(path, "w", encoding="utf-8") as stream:
                stream.write(text)
            plant = exhaustive.Plant(text)
            target = random.Random(number).choice(sorted(plant.components))
            search = exhaustive.Search(plant, target).run()
            found = cut.least_cost(path, target)
            checks.equal(found, search.best, "[I4] least cost, seed %d target %s"
                         % (number, target))
            feasible += search.best is not None
            ties += len(search.optimal) > 1
            if search.best:
                whole = exhaustive.Search(exhaustive.Plant(text, True), target).run()
                strict += whole.best != search.best
    print("feasible %d, with several least sets %d, other cost when D7 looks at the whole live "
          "side %d" % (feasible, ties, strict))
    checks.finish()


if __name__ == "__main__":
    main()
