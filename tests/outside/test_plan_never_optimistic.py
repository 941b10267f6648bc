#!/usr/bin/python3
"""What is not said counts the dangerous way (N2): taking a fact out of a plant file never improves
a plan.

    test_plan_never_optimistic.py BINARY [--plants N] [--seed S] [PLANT TARGET]...

Every attribute of every element of random plants, and of the plants given, is taken out in turn.
Improved is a plan
  that is feasible where it was not;
  with fewer sources taken inside, or with as many and fewer points;
  with the same points and the same pipes inside, where a pipe shut in without cover (L6) is not so
    any more; a vessel, exchanger, pump or compressor that loses its relief (D4) does not; or a
    compartment of the same parts lacks less (E2), or has fewer parts of which it is not shown what
    stays behind, or as many and less that stays (E3).
Exempt, with reasons in docs/METHOD.md, 12: what is exempt of `relief` (test_never_optimistic.py),
and of D4 what makes a relief path exist today.
"""

import argparse
import json
import multiprocessing
import os
import random
import sys
import tempfile
import xml.etree.ElementTree as ElementTree

import genrandom
import genrelief
import test_pockets
from common import run_raw
from test_never_optimistic import exempt

NAMESPACE = "urn:stillset:plant:1"
TARGETS = {"valve", "fitting", "exchanger", "vessel", "pump"}
# Without one of these there may be no relief path today, and so none that is lost (D4).
RELIEF_PATH = {"set-pressure", "design-pressure", "leads-to", "fitted", "position", "normal", "sealed",
               "positions", "balanced", "role", "contents", "fill", "service"}
LACKS = ["no place to let the pressure off", "no place to prove zero", "no pressure gauge",
         "no drain for its liquid", "no air can get in"]


def plan(binary, tree, path, target):
    """The record, or None where the file is refused."""
    tree.write(path, encoding="utf-8", xml_declaration=True)
    code, out, _ = run_raw(binary, ["plan", path, "--target", target, "--grade", "single",
                                    "--format", "json"])
    return json.loads(out.decode("utf-8")) if code in (0, 1) else None


def points(record):
    return sorted(p["id"] for p in record["points"] if p["counted"])


def uncovered(record):
    return {i for s in record["closed_in"] if s["state"] == "uncovered" for i in s["ids"]}


def lacking(record):
    """By the parts of a compartment: what it lacks (E2)."""
    rooms = {min(c["ids"]): frozenset(c["ids"]) for c in record["compartments"] if c["ids"]}
    found = {ids: set() for ids in rooms.values()}
    for finding in record["findings"]:
        if finding["rule"] == "E2" and finding["id"] in rooms:
            found[rooms[finding["id"]]] |= {w for w in LACKS if w in finding["text"]}
    return found


def left_behind(record):
    """By the parts of a compartment: parts not shown, pockets of unknown volume, volume of the rest."""
    found = {}
    for c in record["compartments"]:
        if c["liquid"]:
            volumes = [p["volume_m3"] for p in c["pockets"]]
            found[frozenset(c["ids"])] = (len(c["not_shown"]), volumes.count(None),
                                          sum(v for v in volumes if v is not None))
    return found


def less(after, before):
    """Less is left behind, and not by rounding."""
    if after[:2] != before[:2]:
        return after[:2] < before[:2]
    return after[2] < before[2] * (1 - 1e-6) - 1e-9


def complaints(before, after, spools, name):
    """How `after`, with a fact less, is better."""
    if after["feasible"] and not before["feasible"]:
        return ["it can be isolated"]
    if not after["feasible"] or not before["feasible"]:
        return []
    costs = [(r["cost"]["sources"], r["cost"]["points"]) for r in (before, after)]
    if costs[1] < costs[0]:
        return ["cost %s instead of %s" % (costs[1], costs[0])]
    if points(before) != points(after) or set(before["inside"]) != set(after["inside"]):
        return []
    bad = []
    gone = (uncovered(before) - uncovered(after)) & spools
    if gone:
        bad.append("[L6] %s is not shut in without cover any more" % min(gone))
    lost = [{f["id"] for f in r["findings"] if f["rule"] == "D4"} for r in (before, after)]
    if lost[0] - lost[1] and name not in RELIEF_PATH:
        bad.append("[D4] %s does not lose its relief any more" % min(lost[0] - lost[1]))
    rooms = [lacking(before), lacking(after)]
    for ids, lacks in rooms[0].items():
        if ids in rooms[1] and lacks - rooms[1][ids]:
            bad.append("[E2] %s lacks less: %s" % (min(ids), sorted(lacks - rooms[1][ids])))
    left = [left_behind(before), left_behind(after)]
    for ids, was in left[0].items():
        if ids in left[1] and less(left[1][ids], was):
            bad.append("[E3] %s keeps less: %s instead of %s" % (min(ids), left[1][ids], was))
    return bad


def text_of(kind, seed):
    if kind == "pockets":
        return test_pockets.Plant(seed).text()
    if kind == "relief":
        return genrelief.relief_plant(seed)
    if kind == "random":
        return genrandom.small_plant(seed)
    with open(kind, encoding="utf-8") as file:
        return file.read()


def examine(work):
    """(name, attributes tried, complaints)"""
    binary, folder, kind, seed, target = work
    ElementTree.register_namespace("", NAMESPACE)
    root = ElementTree.fromstring(text_of(kind, seed).encode("utf-8"))
    rng = random.Random(seed)
    tags = [(e, e.tag.split("}")[1]) for e in root.iter()]
    able = sorted(e.get("id") for e, tag in tags if tag in TARGETS)
    if target is None and able:
        target = "N0" if kind == "pockets" else rng.choice(able)
    name = "%s %s target %s" % (kind, seed, target)
    tree, path = ElementTree.ElementTree(root), os.path.join(folder, "%s.xml" % abs(hash(name)))
    before = plan(binary, tree, path, target) if target else None
    if before is None:
        return name, 0, []
    spools = {e.get("id") for e, tag in tags if tag == "spool"}
    tried, bad = 0, []
    for element, tag in tags:
        for attribute, value in list(element.attrib.items()):
            if tag == "plant" or exempt(tag, attribute, value) or exempt_of_plans(tag, attribute):
                continue
            kept = dict(element.attrib)
            del element.attrib[attribute]
            after = plan(binary, tree, path, target)
            element.attrib.clear()
            element.attrib.update(kept)
            if after is None:
                continue             # required
            tried += 1
            for what in complaints(before, after, spools, attribute):
                bad.append("without %s=\"%s\" of %s %s: %s"
                           % (attribute, value, tag, element.get("id"), what))
    os.unlink(path)
    return name, tried, bad


def exempt_of_plans(tag, attribute):
    """What joins a feed to what it feeds, as from and to join a pipe: another plant."""
    return (tag, attribute) == ("feed", "supplies")


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("binary")
    parser.add_argument("given", nargs="*", help="PLANT TARGET ...")
    parser.add_argument("--plants", type=int, default=12)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    print("seed %d" % options.seed)
    passed = failed = tried = 0
    with tempfile.TemporaryDirectory() as folder, multiprocessing.Pool(2) as pool:
        work = [(options.binary, folder, options.given[i], 0, options.given[i + 1])
                for i in range(0, len(options.given), 2)]
        for n in range(options.seed, options.seed + options.plants):
            work += [(options.binary, folder, kind, n, None) for kind in ("random", "relief", "pockets")]
        for name, n, bad in pool.imap(examine, work):
            tried += n
            if not bad:
                passed += 1
                continue
            failed += 1
            print("FAIL " + name)
            for line in bad[:6]:
                print("     " + line)
    print("%d attributes taken out" % tried)
    print("%d passed, %d failed" % (passed, failed))
    return 1 if failed or not tried else 0


if __name__ == "__main__":
    sys.exit(main())
