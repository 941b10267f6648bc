#!/usr/bin/python3
"""Other choices (I4) against all choices there are: those that no other beats in sources taken inside, points,
mass enclosed and equipment out of service.

    test_choices.py STILLSET_BIN [--plants N] [--start SEED]

Every set of points is tried, as in test_grades.py, and each that meets the grade is kept with its four
numbers. Each choice of the record must be among them and beaten by none; where the record says that all
were looked for, each of them must be as good as none in hand, but for a twentieth of the plan's mass.
"""

import collections
import os
import sys

import grade_random
import grade_run
import grade_search
from common import RunError
from grade_plant import GradePlant

GRADES = ("single", "double", "single-bleed", "double-bleed", "positive")
MOST_DEVICES = 9
ROUNDING = 40                       # grams: masses are rounded for each item


class Front(grade_search.Search):
    """All sets of points that meet a grade, by their four numbers."""

    def __init__(self, plant, grade):
        super().__init__(plant, grade)
        self.found = set()
        self.machines = []
        for name, c in plant.components.items():
            if c.tag in ("vessel", "pump", "compressor") and name not in plant.whole:
                self.machines.append(self.mask((name, p) for p in c.ports))

    def enough(self, size, least):
        return False

    def with_further(self, closed, taken, zero, zone):
        """Spaces further out that points hold on two sides, next to one between or to another such: they are
        enclosed, too (I2: a space between two closed devices)."""
        joins = self.joins(closed)
        live = 0
        for name, m, _ in self.source_list:
            if name not in taken:
                live |= m
        everything = (1 << len(self.pieces)) - 1
        spaces = [s for s in self.spaces_in(everything & ~zone, joins) if not s & live]
        held = zone & ~zero
        grown = True
        while grown:
            grown = False
            for s in spaces:
                around = self.across(s, closed)
                neighbours = sum(1 for _ in self.spaces_in(self.flood(around, joins) & ~s, joins))
                if not s & held and around & held and neighbours > 1:
                    held |= s
                    grown = True
        return zone | held

    def offer(self, closed, taken, zero, zone, more, levels=None):
        if self.grade == "double-bleed":
            zone = self.with_further(closed, taken, zero, zone)
        isolators = self.isolators(closed, taken, zero, more)
        unknown, grams = self.mass(closed, zone)
        equipment = sum(1 for m in self.machines if m & zone)
        self.found.add((len(taken), len(closed) + len(isolators), equipment,
                        float("inf") if unknown else grams))


def beats(a, b):
    """a is nowhere worse than b, and better somewhere by more than rounding."""
    if any(x > y for x, y in zip(a[:3], b[:3])) or a[3] > b[3]:
        return False
    return any(x < y for x, y in zip(a[:3], b[:3])) or a[3] < b[3] - ROUNDING


def numbers(cost, equipment):
    mass = cost["mass_kg"]
    return (cost["sources"], cost["points"], equipment,
            float("inf") if mass is None else mass * 1000)


def near(a, b):
    return a[:3] == b[:3] and (a[3] == b[3] or abs(a[3] - b[3]) <= ROUNDING)


def complain(front, record):
    plan = numbers(record["cost"], record["out_of_service"])
    shown = [numbers(a["cost"], a["out_of_service"]) for a in record["alternatives"]]
    bad = []
    for choice in [plan] + shown:
        if not any(near(choice, other) for other in front.found):
            bad.append("%s is no choice at all" % (choice,))
    for choice in shown:
        better = [other for other in front.found if beats(other, choice)]
        if better:
            bad.append("%s is beaten by %s" % (choice, better[0]))
    if record["alternatives_complete"]:
        spare = ROUNDING + (0 if plan[3] == float("inf") else plan[3] / 20)
        for other in front.found:
            if not any(all(x <= y for x, y in zip(c[:3], other[:3])) and c[3] <= other[3] + spare
                       for c in [plan] + shown):
                bad.append("%s is left out" % (other,))
                break
    return bad


def examine(work):
    binary, folder, seed = work
    case, counts, bad = grade_random.plant(seed), collections.Counter(), []
    plant = GradePlant(case.text, [case.target], case.avoid)
    path = os.path.join(folder, "plant-%d.xml" % os.getpid())
    grade_run.write(path, case)
    if any(c.tag == "exchanger" for c in plant.components.values()):
        return seed, counts, bad
    for grade in GRADES:
        if len(plant.devices_of(grade)) > MOST_DEVICES:
            continue
        front = Front(plant, grade)
        try:
            front.run()
            record = grade_run.planned(binary, path, case, grade)
        except grade_search.TooMany:
            continue
        except RunError as problem:
            bad.append("%s: %s" % (grade, problem))
            continue
        if not record["feasible"]:
            continue
        counts["plans"] += 1
        counts["choices"] += len(record["alternatives"])
        counts["plans with choices"] += bool(record["alternatives"])
        counts["complete"] += record["alternatives_complete"]
        bad += ["%s: %s" % (grade, text) for text in complain(front, record)]
    return seed, counts, bad


def main():
    options = grade_run.parser_of(200).parse_args()
    counts, passed, failed = grade_run.over_plants(examine, options)
    return grade_run.closing(passed, failed, counts["plans with choices"] < options.plants / 20)


if __name__ == "__main__":
    sys.exit(main())
