#!/usr/bin/python3
"""The order of steps against all orders (P2, P3, P9, D4, L6, E1, P6, P8; docs/METHOD.md, section 7).

    test_order.py STILLSET_BIN [--plants N] [--first SEED] [--go-on]

Plants worked by hand come first (order_cases.py). For random plants (genorder.py, every third genorder_wide.py, every fourth
genorder_heat.py)
the moves of each stage and of the way back are put into every order that keeps the hard rules
(order_search.py). The order of the record must keep them, and cost what the best one costs: in states,
equipment without its relief (D4), machines without their way (P9), pipes that have lost their last cover (L6), then
changes of place. Where the record says that not all orders were tried, it may cost more. Findings P9 and D4 must name
exactly what the states of that order have, and entries of closed_in each segment that is shut in on
the way (order_findings.py). Records put right by order_mend.py must pass, and what is spoilt in these must be
noticed.

Fails also when what it is there for occurs too rarely: see ENOUGH.
"""

import argparse
import collections
import os
import sys
import tempfile
import time

import genorder
import genorder_heat
import genorder_wide
import order_cases
import order_mend
import order_record
import order_search
from common import RunError, run_plan
from order_world import World

ENOUGH = {                           # least counts for 1000 plants
    "feasible": 400, "lists of 3 to 8": 400, "lists in which the order matters": 250, "staged": 30, "warmer sides": 60,
    "driven points": 20, "findings D4": 60, "findings P9": 150, "assumptions D4": 1,
    "entries of L6 on the way": 250, "entries of L6 at the end": 500,
    "records put right": 60, "spoilt: a dearer order": 40, "spoilt: an entry on the way left out": 10,
    "spoilt: an entry that ends too early": 10, "spoilt: no finding of P9": 15, "spoilt: no finding of D4": 8,
    "P9 cannot be avoided": 150, "D4 cannot be avoided": 80, "L6 cannot be avoided": 250}
SHOWN = 12                           # complaints printed for one plant


def examine(binary, folder, make, seed, counts):
    """Complaints about the plan of one seed."""
    case = make(seed)
    path = os.path.join(folder, "plant.xml")
    with open(path, "w", encoding="utf-8") as stream:
        stream.write(case.text)
    try:
        record = run_plan(binary, path, case.target, ["--grade", case.grade])
    except RunError as problem:
        return [str(problem)]
    if not record["feasible"]:
        counts["not feasible"] += 1
        return []
    counts["feasible"] += 1
    counts["staged"] += len({s["stage"] for s in record["steps"] if s["phase"] == "isolate"}) > 1
    world = World(case.text)
    counts["driven points"] += any(p["level"] and p["id"] in world.nodes and not world.by_hand(p["id"])
                                   for p in record["points"])
    counts["warmer sides"] += any(m.warms for m in order_record.Plan(world, case.text, record).moves)
    bad = order_search.compare(world, case.text, record, counts)
    return bad + (self_check(world, case.text, record, counts) if seed % 5 == 0 else [])


def self_check(world, text, record, counts):
    """A record put right passes, and what is spoilt in it is noticed (order_mend.py)."""
    plan = order_record.Plan(world, text, record)
    if any(m.mixed for m in plan.moves) or order_search.three_way_point(plan):
        return []
    good = order_mend.mend(world, text, record)
    if good is None:
        return []
    bad = ["a record put right: " + b
           for b in order_search.compare(world, text, good, collections.Counter())]
    counts["records put right"] += 1
    for what, rule, spoilt in order_mend.worse(world, text, good):
        counts["spoilt: " + what] += 1
        said = order_search.compare(world, text, spoilt, collections.Counter())
        if not any(b.startswith(rule) for b in said):
            bad.append("spoilt, and not noticed: %s (said: %s)" % (what, said[:2]))
    return bad


def by_hand(binary, folder, counts):
    """Plants worked by hand: the search, and the record, must find what was worked out."""
    path, passed, failed = os.path.join(folder, "by-hand.xml"), 0, 0
    for name, text, target, grade, costs in order_cases.CASES:
        with open(path, "w", encoding="utf-8") as stream:
            stream.write(text)
        bad, world = [], World(text)
        record = run_plan(binary, path, target, ["--grade", grade])
        lists = dict(order_search.lists_of(order_record.Plan(world, text, record)))
        for which, cost in costs.items():
            least = lists[which].least() if which in lists else None
            if least != cost:
                bad.append("%s: the search finds %s, by hand %s" % (which, least, cost))
        bad += order_search.compare(world, text, record, counts)
        passed, failed = passed + (not bad), failed + bool(bad)
        for line in bad[:SHOWN]:
            print("FAIL %s: %s" % (name, line[:600]))
    return passed, failed


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("binary")
    parser.add_argument("--plants", type=int, default=1000)
    parser.add_argument("--first", type=int, default=1)
    parser.add_argument("--go-on", action="store_true", help="do not stop after ten plants that fail")
    options = parser.parse_args()
    print("first seed %d" % options.first)
    counts, begin = collections.Counter(), time.monotonic()
    with tempfile.TemporaryDirectory() as folder:
        passed, failed = by_hand(options.binary, folder, collections.Counter())
        for seed in range(options.first, options.first + options.plants):
            make = genorder_heat.plant if seed % 4 == 0 else \
                genorder_wide.plant if seed % 3 == 0 else genorder.plant
            bad = examine(options.binary, folder, make, seed, counts)
            passed, failed = passed + (not bad), failed + bool(bad)
            for line in bad[:SHOWN]:
                print("FAIL %s seed %d: %s" % (make.__module__, seed, line[:600]))
            if failed == 10 and not options.go_on:
                break
    print(", ".join("%s %d" % item for item in sorted(counts.items())))
    print("%.0f s" % (time.monotonic() - begin))
    rare = [] if options.plants < 1000 or failed == 10 and not options.go_on else [
        name for name, least in ENOUGH.items() if counts[name] < least * options.plants // 1000]
    for name in rare:
        print("FAIL too rare: %s, %d" % (name, counts[name]))
    print("%d passed, %d failed" % (passed, failed))
    return 1 if failed or rare or not passed else 0


if __name__ == "__main__":
    sys.exit(main())
