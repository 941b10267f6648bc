#!/usr/bin/python3
"""The oracle of all grades against itself and against plants worked by hand; needs no product.

    test_grade_oracle.py [--plants N] [--start SEED]

Each least plan on random plants must be right by grade_check; with any point dropped it must be
wrong or no cheaper rest remains; and grades keep their order: what will do for a better grade of the
same family will do for a worse one.
"""

import argparse
import itertools

import grade_cases
import grade_check
import grade_random
import grade_search
from common import Checks
from grade_plant import GRADES, GradePlant

# (better, worse): a set of points for the better grade will do for the worse one (I2).
ORDER = [("double", "single"), ("single-bleed", "single"), ("double-bleed", "double")]


def by_hand(checks):
    for case in grade_cases.CASES:
        plant = GradePlant(case.text, [case.target], case.avoid)
        for grade in GRADES:
            search = grade_search.Search(plant, grade).run()
            name = "[I2] %s, %s" % (case.name, grade)
            if not checks.equal(search.best.cost, case.expected[grade], name):
                print("     " + str(search.best.plan))
            if search.best.plan:
                bad = grade_check.verdict(plant, grade, grade_check.plan_of_search(search.best))
                checks.check(not bad, name + ", second check", "; ".join(bad))


def all_right_sets(plant, grade, search):
    """The least cost by grade_check alone over every set of hand devices: slow, plain."""
    best = None
    names = [d.id for d in search.devices]
    may = [name for name, _, may in plant.sources() if may]
    for size in range(len(names) + 1):
        for chosen in itertools.combinations(search.devices, size):
            for settings in itertools.product(*(d.settings for d in chosen)):
                closed = {d.id: s[0] for d, s in zip(chosen, settings)}
                for levels in layers(grade, chosen):
                    best = cheaper(best, plant, grade, closed, levels, may)
    return best


def layers(grade, chosen):
    if grade != "positive":
        return [None]
    level = {"valve": 2, "positive": 1}
    return [dict(zip((d.id for d in chosen), choice))
            for choice in itertools.product(*([level[la] for la in d.layers] for d in chosen))]


def cheaper(best, plant, grade, closed, levels, may):
    """The better of `best` and the least cost of these points by grade_check."""
    every = frozenset(f.isolator for f in plant.feeds)
    for count in range(len(may) + 1):
        if best is not None and count > best[0]:
            break
        found = []
        for taken in itertools.combinations(may, count):
            plan = grade_check.Plan(closed, taken, every, levels)
            if grade_check.verdict(plant, grade, plan):
                continue
            for size in range(len(every) + 1):
                if any(not grade_check.verdict(plant, grade,
                                               grade_check.Plan(closed, taken, locks, levels))
                       for locks in itertools.combinations(sorted(every), size)):
                    found.append((count, len(closed) + size))
                    break
        if found:
            return min(found) if best is None else min(best, min(found))
    return best


def at_random(checks, first, plants):
    counts = {}
    for seed in range(first, first + plants):
        case = grade_random.plant(seed)
        plant = GradePlant(case.text, [case.target], case.avoid)
        best = {}
        for grade in GRADES:
            try:
                search = grade_search.Search(plant, grade).run()
            except grade_search.TooMany:
                continue
            best[grade] = search.best.cost
            name = "[I2] seed %d, %s, target %s" % (seed, grade, case.target)
            if len(search.devices) <= 5 and len(plant.feeds) <= 4:
                checks.equal(search.best.cost, all_right_sets(plant, grade, search),
                             name + ", every set by the second check")
                counts["every set, " + grade] = counts.get("every set, " + grade, 0) + 1
            if search.best.plan is None:
                continue
            counts[grade] = counts.get(grade, 0) + 1
            plan = grade_check.plan_of_search(search.best)
            bad = grade_check.verdict(plant, grade, plan)
            checks.check(not bad, name, "; ".join(bad))
            for point in plan.closed:
                fewer = {n: s for n, s in plan.closed.items() if n != point}
                less = grade_check.Plan(fewer, plan.taken, plan.isolators, plan.levels)
                checks.check(grade_check.verdict(plant, grade, less),
                             name + ": [I4] still right without " + point)
        for better, worse in ORDER:
            if better in best and worse in best and best[better] is not None:
                checks.check(best[worse] is not None and best[worse] <= best[better],
                             "[I2] seed %d: %s dearer than %s" % (seed, worse, better),
                             "%s, %s" % (best[worse], best[better]))
    print(", ".join("%s %d" % item for item in sorted(counts.items())))


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--plants", type=int, default=400)
    parser.add_argument("--start", type=int, default=1)
    options = parser.parse_args()
    print("start %d" % options.start)
    checks = Checks(quiet=True)
    by_hand(checks)
    at_random(checks, options.start, options.plants)
    checks.finish()


if __name__ == "__main__":
    main()
