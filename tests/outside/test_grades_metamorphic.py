#!/usr/bin/python3
"""What a change of the plant may do to the least cost of a plan, and what not (I2, I4, N3, D1, D6).

    test_grades_metamorphic.py STILLSET_BIN|none [--plants N] [--start SEED]

Each statement follows from the rules: cost is (sources inside, points), no plan is dearer than any.
  not dearer   a hand valve of which it is not said that it can be locked gets lockable="yes": every
               set of points that was right still is (all grades). An open valve that can be locked is
               set into a pipe (single, double, positive: it can take a bleed away from the others)
  the same     a welded pipe is split by a fitting; an unrelated branch is added; components are
               renamed, elements reordered
  not cheaper  a dead end is said to be live; lockable is taken away; (single, double, positive)
               a device is put on the avoid list
Of the product's plans also: with any one point left out it is wrong, by grade_check.
`none` tries the statements on the exhaustive search itself. Exit 77 as test_grades.
"""

import collections
import os
import random
import sys
import xml.etree.ElementTree as ElementTree

import grade_check
import grade_random
import grade_run
import grade_search
from common import NAMESPACE, RunError
from exhaustive import STOP_KINDS
from grade_plant import GRADES, GradePlant
from test_grades import plan_given

LABELLED = ("single", "double", "positive")
NEVER = (10 ** 9, 10 ** 9)           # cost of what cannot be had


def tag(element):
    return element.tag.split("}")[1]


def new(root, name, **attributes):
    return ElementTree.SubElement(root, "{%s}%s" % (NAMESPACE, name),
                                  {k.rstrip("_"): v for k, v in attributes.items()})


def some(root, rng, test):
    found = [e for e in root if test(e)]
    return rng.choice(found) if found else None


# ---- changes: each returns (target, avoid), or None where the plant has no place for it ------------


def lock(root, case, rng):
    valve = some(root, rng, lambda e: tag(e) == "valve" and e.get("kind") in STOP_KINDS
                 and e.get("lockable") not in ("yes", "assumed") and not e.get("drive"))
    if valve is None:
        return None
    valve.set("lockable", "yes")
    return case.target, case.avoid


def unlock(root, case, rng):
    valve = some(root, rng, lambda e: tag(e) == "valve" and e.get("lockable"))
    if valve is None:
        return None
    del valve.attrib["lockable"]
    return case.target, case.avoid


def plain_pipe(root, case, rng):
    return some(root, rng, lambda e: tag(e) == "spool" and not e.get("removable")
                and "flanged" not in (e.get("ends") or "") and e.get("id") != case.target)


def split(root, case, rng, what, ports, **attributes):
    pipe = plain_pipe(root, case, rng)
    if pipe is None:
        return None
    new(root, what, id="split", **attributes)
    other = new(root, "spool", from_="split." + ports[1], to=pipe.get("to"), id="split-pipe")
    for name in ("service", "length", "bore"):
        if pipe.get(name):
            other.set(name, pipe.get(name))
    pipe.set("to", "split." + ports[0])
    return case.target, case.avoid


def add_valve(root, case, rng):
    return split(root, case, rng, "valve", ("in", "out"), kind="gate", position="open",
                 lockable="yes")


def split_pipe(root, case, rng):
    return split(root, case, rng, "fitting", ("one", "two"), kind="node")


def add_branch(root, case, _rng):
    new(root, "limit", id="far-limit")
    new(root, "valve", id="far-valve", kind="gate", lockable="yes", position="open")
    new(root, "cap", id="far-cap")
    new(root, "spool", id="far-pipe-1", from_="far-limit.in", to="far-valve.in")
    new(root, "spool", id="far-pipe-2", from_="far-valve.out", to="far-cap.in")
    return case.target, case.avoid


def rename(root, case, rng):
    ids = [e.get("id") for e in root if tag(e) != "service"]
    names = ["N%d" % n for n in range(len(ids))]
    rng.shuffle(names)
    to = dict(zip(ids, names))
    for e in root:
        if e.get("id") in to:
            e.set("id", to[e.get("id")])
        for end in ("from", "to"):
            if e.get(end):
                name, port = e.get(end).rsplit(".", 1)
                e.set(end, "%s.%s" % (to[name], port))
        if e.get("supplies"):
            e.set("supplies", " ".join(to[i] for i in e.get("supplies").split()))
    children = list(root)
    rng.shuffle(children)
    root[:] = children
    whole, dot, part = case.target.partition(".")
    return to[whole] + dot + part, [to[i] for i in case.avoid]


def enliven(root, case, rng):
    end = some(root, rng, lambda e: tag(e) == "cap" or (tag(e) == "limit" and e.get("dead")))
    if end is None or end.get("id") == case.target:
        return None
    kept = end.get("id")
    end.attrib.clear()
    end.tag = "{%s}limit" % NAMESPACE
    end.set("id", kept)
    return case.target, case.avoid


def avoid(root, case, rng):
    whole = case.target.split(".")[0]
    valve = some(root, rng, lambda e: tag(e) == "valve" and e.get("id") != whole
                 and e.get("lockable"))
    return None if valve is None else (case.target, case.avoid + [valve.get("id")])


STATEMENTS = [("lockable said", lock, "not dearer", GRADES),
              ("valve added", add_valve, "not dearer", LABELLED),
              ("pipe split", split_pipe, "the same", GRADES),
              ("unrelated branch", add_branch, "the same", GRADES),
              ("renamed and reordered", rename, "the same", GRADES),
              ("source added", enliven, "not cheaper", GRADES),
              ("lockable taken away", unlock, "not cheaper", GRADES),
              ("device avoided", avoid, "not cheaper", LABELLED)]


class Costs:
    """Least costs by the product, or by the search when there is none."""

    def __init__(self, binary, folder):
        self.binary, self.path = binary, os.path.join(folder, "p%d.xml" % os.getpid())

    def record(self, case, grade):
        grade_run.write(self.path, case)
        return grade_run.planned(self.binary, self.path, case, grade)

    def of(self, case, grade):
        if self.binary == "none":
            plant = GradePlant(case.text, [case.target], case.avoid)
            return grade_search.Search(plant, grade).run().best.cost or NEVER
        return grade_run.cost_of(self.record(case, grade)) or NEVER


def holds(word, before, after):
    return {"not dearer": after <= before, "the same": after == before,
            "not cheaper": after >= before}[word]


def examine(work):
    """(seed, counts, complaints) of one plant."""
    binary, folder, seed = work
    case, rng = grade_random.plant(seed), random.Random("change %s" % seed)
    costs, counts, bad = Costs(binary, folder), collections.Counter(), []
    try:
        before = {g: costs.of(case, g) for g in GRADES}
        for name, change, word, grades in STATEMENTS:
            root = ElementTree.fromstring(case.text.encode("utf-8"))
            changed = change(root, case, rng)
            if changed is None:
                continue
            text = ElementTree.tostring(root, encoding="unicode")
            after = grade_random.Case(text, *changed)
            for grade in grades:
                now = costs.of(after, grade)
                counts[name] += 1
                counts[name + ", other cost"] += now != before[grade]
                if not holds(word, before[grade], now):
                    bad.append("[I4] %s, %s, target %s: %s before, %s after, should be %s"
                               % (name, grade, case.target, before[grade], now, word))
        if binary != "none":
            drop_points(costs, case, counts, bad)
    except RunError as problem:
        bad.append(str(problem))
    except grade_search.TooMany:
        counts["too many sets"] += 1
    return seed, counts, bad


def drop_points(costs, case, counts, bad):
    """A plan with one point left out is wrong (I4)."""
    plant = GradePlant(case.text, [case.target], case.avoid)
    for grade in GRADES:
        record = costs.record(case, grade)
        if not record["feasible"]:
            continue
        plan = plan_given(plant, record)
        for point in plan.closed:
            closed = {n: s for n, s in plan.closed.items() if n != point}
            counts["point dropped"] += 1
            less = grade_check.Plan(closed, plan.taken, plan.isolators, plan.levels)
            if not grade_check.verdict(plant, grade, less):
                bad.append("[I4] %s, target %s: still right without %s"
                           % (grade, case.target, point))


def main():
    ElementTree.register_namespace("", NAMESPACE)
    options = grade_run.parser_of(plants=100).parse_args()
    _, passed, failed = grade_run.over_plants(examine, options, may_skip=True)
    print("%d passed, %d failed" % (passed, failed))
    return 1 if failed or not passed else 0


if __name__ == "__main__":
    sys.exit(main())
