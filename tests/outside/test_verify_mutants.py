#!/usr/bin/python3
"""`stillset verify` on plans that were spoilt: each is refuted, or still holds by the port-by-port check (I7).

    test_verify_mutants.py STILLSET_BIN [--plants N] [--start SEED]

A plan of the program is cut down to what `verify` needs (docs/FORMAT.md, 5.0), so that no step or text gives it
away; it must agree. Then a point is dropped, two points swap their ids, a level is lowered or raised, a device is
put in another's place, a feed is left out. What `verify` lets pass must pass grade_check.py, written apart.
"""

import collections
import copy
import json
import os
import random
import sys

import grade_check
import grade_random
import grade_run
from common import RunError, run_raw
from grade_plant import GRADES, POSITIVE, GradePlant
from test_grades import plan_given


def bare(record, grade):
    points = [dict(id=p["id"], action=p["action"], level=p["level"], to=p["to"], counted=True)
              for p in record["points"] if p["counted"]]
    points += [dict(id=p["id"], action=p["action"], level=p["level"], to=p["to"], counted=False)
               for p in record["points"] if not p["counted"]]
    return {"target": record["target"], "grade": {"achieved": grade}, "points": points,
            "sources_inside": record["sources_inside"],
            "findings": [f for f in record["findings"] if f["rule"] == "N5"]}


def mutants(plan, plant, grade, rng):
    barriers = [i for i, p in enumerate(plan["points"]) if p["counted"] and p["level"] and p["action"] != "switch-off"]
    for i in barriers:
        less = copy.deepcopy(plan)
        del less["points"][i]
        yield "dropped " + plan["points"][i]["id"], less
        if plan["points"][i]["level"] in (1, 2) and grade in ("double", "double-bleed", "positive"):
            other = copy.deepcopy(plan)
            other["points"][i]["level"] ^= 3
            yield "level of " + plan["points"][i]["id"], other
    for i in barriers:
        for k in barriers:
            if i < k and plan["points"][i]["level"] != plan["points"][k]["level"]:
                swapped = copy.deepcopy(plan)
                a, b = swapped["points"][i], swapped["points"][k]
                a["id"], b["id"] = b["id"], a["id"]
                a["action"], b["action"] = b["action"], a["action"]
                a["to"], b["to"] = b["to"], a["to"]
                yield "swapped %s, %s" % (a["id"], b["id"]), swapped
    used = {p["id"] for p in plan["points"]}
    unused = [d.id for d in plant.devices_of(grade) if d.id not in used and d.kind == "hand"]
    if barriers and unused:
        other = copy.deepcopy(plan)
        point = other["points"][rng.choice(barriers)]
        point.update(id=rng.choice(unused), action="close", to="closed")
        yield "%s in another's place" % point["id"], other
    for i, p in enumerate(plan["points"]):
        if p["action"] == "switch-off":
            less = copy.deepcopy(plan)
            del less["points"][i]
            yield "feed %s left out" % p["id"], less


def without_level_one_valves(plant, plan):
    """What is wrong with a positive plan once the valves that it calls level 1 are left open, feeds aside."""
    devices = {d.id: d for d in plant.devices_of("positive")}
    less = dict(plan, points=[p for p in plan["points"] if not (
        p["counted"] and p["level"] == 1 and p["id"] in devices and 1 not in levels_of(devices[p["id"]]))])
    bad = grade_check.Verdict(plant, "positive", plan_given(plant, less)).bad
    return [fault for fault in bad if not fault.startswith("[N5]")]


def levels_of(device):
    """Levels of a positive plan that a device may have."""
    return [1 if layer == POSITIVE else 2 for layer in device.layers]


def agrees(binary, path, plan, folder):
    name = os.path.join(folder, "record-%d.json" % os.getpid())
    with open(name, "w", encoding="utf-8") as stream:
        json.dump(plan, stream)
    code, out, err = run_raw(binary, ["verify", path, name, "--format", "json"])
    if code not in (0, 1):
        raise RunError("verify: exit %d: %s" % (code, err.decode("utf-8", "replace")))
    return code == 0, json.loads(out)["against"]


def examine(work):
    binary, folder, seed = work
    case, counts, bad = grade_random.plant(seed), collections.Counter(), []
    if case.avoid:
        return seed, counts, bad
    rng = random.Random("mutants %d" % seed)
    plant = GradePlant(case.text, [case.target], case.avoid)
    path = os.path.join(folder, "plant-%d.xml" % os.getpid())
    grade_run.write(path, case)
    for grade in GRADES:
        try:
            record = grade_run.planned(binary, path, case, grade)
            if not record["feasible"]:
                continue
            plan = bare(record, grade)
            right, against = agrees(binary, path, plan, folder)
            counts["plans"] += 1
            if not right:
                bad.append("%s: the plan itself is refuted: %s" % (grade, against[:2]))
                continue
            for what, wrong in mutants(plan, plant, grade, rng):
                passed, _ = agrees(binary, path, wrong, folder)
                counts["mutants"] += 1
                counts["refuted"] += not passed
                if not passed:
                    continue
                faults = grade_check.Verdict(plant, grade, plan_given(plant, wrong)).bad
                if grade == "positive" and all("cannot have level" in fault for fault in faults):
                    # A valve called level 1 stops nothing for good. That is sound where nothing has to be
                    # stopped: each source must be outside without it, by its blinds and other valves.
                    counts["valves called level 1"] += bool(faults)
                    faults = without_level_one_valves(plant, wrong) if faults else []
                if faults:
                    bad.append("%s: %s passes, but %s" % (grade, what, faults[0]))
        except RunError as problem:
            bad.append("%s: %s" % (grade, problem))
    return seed, counts, bad


def main():
    options = grade_run.parser_of(150).parse_args()
    counts, passed, failed = grade_run.over_plants(examine, options)
    return grade_run.closing(passed, failed, counts["refuted"] < options.plants)


if __name__ == "__main__":
    sys.exit(main())
