#!/usr/bin/python3
"""Does the comparison of test_grades notice a wrong plan? Needs no product.

    test_grade_comparison.py [--plants N] [--start SEED]

Records are made from the least plans of the search (FORMAT); each must pass, and each spoilt copy of it
must be complained about: a point dropped, one too many, a level changed, a feed left out, a source
not listed, cost or mass altered, the answer turned round.
"""

import argparse
import copy
import random

import grade_check
import grade_random
import grade_search
from common import Checks
from grade_plant import GRADES, GradePlant
from test_grades import complain


def record_of(plant, search):
    """The record that a right program would give."""
    best = search.best
    if best.key is None:
        return {"feasible": False}
    check = grade_check.Verdict(plant, search.grade, grade_check.plan_of_search(best))
    points = [dict(id=n, counted=True, level=check.level_of[n], to=s or "closed")
              for n, s in best.plan["closed"].items()]
    points += [dict(id=plant.feed_id(i), counted=True, level=0, to="off")
               for i in best.plan["isolators"]]
    points.append(dict(id="a bleed", counted=False, level=0, to="open"))
    return {"feasible": True, "points": points, "proof": {"kind": "paths"},
            "cost": {"sources": best.key[0], "points": best.key[1],
                     "mass_kg": None if best.key[2] else best.key[3] / 1000},
            "sources_inside": [dict(id=n, treatment="emptied") for n in best.plan["taken"]],
            "between": [dict(ids=[], bleed=[["a bleed"]])]}


def spoilt(plant, search, record, rng):
    """(what was done, wrong record): everything that this record allows."""
    turned = copy.deepcopy(record)
    turned["feasible"] = not record["feasible"]
    yield "answer turned round", turned
    if not record["feasible"]:
        return
    devices = [p for p in record["points"] if p["level"]]
    for point in devices:
        less = copy.deepcopy(record)
        less["points"] = [p for p in less["points"] if p["id"] != point["id"]]
        less["cost"]["points"] -= 1
        yield "%s dropped" % point["id"], less
        other = copy.deepcopy(record)
        next(p for p in other["points"] if p["id"] == point["id"])["level"] ^= 3
        if search.grade != "positive" or "blind" not in [
                d.kind for d in search.devices if d.id == point["id"]]:
            yield "level of %s changed" % point["id"], other
    unused = [d.id for d in search.devices if d.id not in search.best.plan["closed"]]
    if unused:
        more = copy.deepcopy(record)
        more["points"].append(dict(id=rng.choice(unused), counted=True, level=1, to="closed"))
        yield "a point too many", more
        more = copy.deepcopy(more)
        more["cost"]["points"] += 1
        yield "a point too many, counted", more
    for feed in {p["id"] for p in record["points"] if p["to"] == "off"}:
        less = copy.deepcopy(record)
        less["points"] = [p for p in less["points"] if p["id"] != feed]
        yield "feed %s left out" % feed, less
    if record["sources_inside"]:
        less = copy.deepcopy(record)
        less["sources_inside"].pop()
        yield "a source not listed", less
    for key in ("sources", "points"):
        dear = copy.deepcopy(record)
        dear["cost"][key] += 1
        yield key + " altered", dear
    mass = copy.deepcopy(record)
    mass["cost"]["mass_kg"] = 7.0 if record["cost"]["mass_kg"] is None else None
    yield "mass altered", mass
    if search.grade == "double-bleed" and any(p["level"] == 2 for p in record["points"]):
        dry = copy.deepcopy(record)
        dry["between"][0]["bleed"] = [[]]
        yield "no bleed", dry


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--plants", type=int, default=150)
    parser.add_argument("--start", type=int, default=1)
    options = parser.parse_args()
    print("start %d" % options.start)
    checks, rng = Checks(quiet=True), random.Random(options.start)
    for seed in range(options.start, options.start + options.plants):
        case = grade_random.plant(seed)
        plant = GradePlant(case.text, [case.target], case.avoid)
        for grade in GRADES:
            search = grade_search.Search(plant, grade)
            try:
                search.run()
            except grade_search.TooMany:
                continue
            record, name = record_of(plant, search), "[I7] seed %d, %s" % (seed, grade)
            bad = complain(plant, search, record)
            checks.check(not bad, name + ": right", "; ".join(bad))
            for what, wrong in spoilt(plant, search, record, rng):
                try:
                    bad = complain(plant, search, wrong)
                except (KeyError, TypeError):
                    bad = ["another shape"]
                checks.check(bad, "%s: %s" % (name, what), "nothing was noticed")
    checks.finish()


if __name__ == "__main__":
    main()
