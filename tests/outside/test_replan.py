#!/usr/bin/python3
"""Going on from a plan of which some steps are done, against a replay of all steps (P1, P3, P6, D6).

    test_replan.py STILLSET_BIN PLANTS_DEMO

For each job: stop after each step, find some device of the plan passing, stuck or open, or nothing at all, and plan
on. Replayed by plain lists of positions, written apart from the program:
- every step starts from where the steps before it have left the device: those done, then `first`, `steps`, `restore`;
- what was found passing or stuck is no point any more; the second check agrees;
- nothing found: nothing is undone, and the points are those of the plan before;
- before a point is closed that was not closed yet, no way out that the plan before opened stands open;
- at the end of the way back every device stands as in normal service, every feed is on, and each tag that hung is
  named where it comes off;
- where there is no plan, `first` is the way back: after it all stands as before the first step.
The record of the plan before can be handed on (--from), with the same result.
"""

import json
import os
import re
import sys
import tempfile
import xml.etree.ElementTree as ElementTree

from common import Checks, run_raw

JOBS = (("tutorial.xml", "MV-1", "single"), ("cold-store.xml", "MV-1", "single"), ("cold-store.xml", "P-1", "single"),
        ("cold-store.xml", "E-1", "single"), ("solvent.xml", "F-1", "double-bleed"),
        ("co2-booster.xml", "V-1", "single"))
LEAVES = {"passing", "stuck"}


class Positions:
    """Where devices and feeds stand, by the steps alone."""

    def __init__(self, plant_file, start):
        self.at = dict(start)
        self.home = {}
        root = ElementTree.parse(plant_file).getroot()
        for e in root.iter():
            if "}valve" in e.tag or "}blind" in e.tag:
                self.home[e.get("id")] = e.get("normal") or e.get("position")

    def walk(self, steps):
        """Make the changes. @return the first step that starts from elsewhere, or None"""
        for s in steps:
            if not s["change"]:
                continue
            at = self.at.get(s["id"])
            if at is not None and at != s["change"]["from"]:
                return "step %d finds %s %s, says %s" % (s["n"], s["id"], at, s["change"]["from"])
            self.at[s["id"]] = s["change"]["to"]
        return None

    def away(self):
        """Devices that do not stand as in normal service, feeds that are off."""
        bad = []
        for name, at in self.at.items():
            if at in ("off", "removed", "spade fitted") or at not in ("on", "automatic", self.home.get(name), "in place"):
                bad.append("%s %s" % (name, at))
        return bad


def plan(binary, arguments):
    """Run and read. @return exit status, record or None, what was said"""
    code, out, err = run_raw(binary, ["plan"] + arguments + ["--format", "json"])
    return code, json.loads(out) if code in (0, 1) else None, err.decode("utf-8", "replace")


def judge(c, name, plant_file, first_plan, done, found, record):
    where = Positions(plant_file, first_plan["start"])
    wrong = where.walk([s for s in first_plan["steps"] if s["n"] in done])
    opened = {s["id"] for s in first_plan["steps"] if s["n"] in done and s["phase"] == "release" and s["change"]}
    if found and found[1] == "open":
        where.at[found[0]] = "open"
    if not record["feasible"]:
        wrong = wrong or where.walk(record["first"])
        c.check(wrong is None, "P6 way back starts where it stands: " + name, wrong or "")
        away = [a for a in where.away() if not found or a.split()[0] != found[0]]
        c.check(not away, "P6 the way back brings all back: " + name, ", ".join(away))
        return
    wrong = wrong or where.walk(record["first"])
    late = [p["id"] for p in record["points"] if p["counted"] and p["from"] != p["to"]]
    still_open = [i for i in opened if where.at.get(i) == "open"]
    c.check(not late or not still_open, "E4 ways out are shut before something is closed: " + name,
            "%s open, %s to be closed" % (still_open, late))
    wrong = wrong or where.walk(record["steps"]) or where.walk(record["restore"])
    c.check(wrong is None, "P3 every step starts where the one before has left it: " + name, wrong or "")
    away = [a for a in where.away() if not found or a.split()[0] != found[0]]
    c.check(not away, "P6 the way back brings all back: " + name, ", ".join(away))
    points = {p["id"] for p in record["points"] if p["counted"]}
    if found and found[1] in LEAVES:
        c.check(found[0] not in points, "D6 what was found is no point: " + name)
    if not found:
        c.equal(sorted(points), sorted(p["id"] for p in first_plan["points"] if p["counted"]),
                "I4 nothing found, the same points: " + name)
        c.equal([s["id"] for s in record["first"] if s["change"] and late == []], [], "P3 nothing is undone: " + name)
    for hung in record["before"]["hung"]:
        text = [s["do"] for s in record["steps"] + record["restore"] if s["id"] == hung["id"]]
        c.check(any("tag %d of the plan before" % hung["tag"] in t or
                    re.search(r"\b%d of the plan before" % hung["tag"], t) for t in text) or not hung["left"],
                "P6 tag %d on %s is accounted for: %s" % (hung["tag"], hung["id"], name))


def job(c, binary, demo, folder, plant, target, grade):
    plant_file = "%s/%s" % (demo, plant)
    base = [plant_file, "--target", target, "--grade", grade]
    before_file = os.path.join(folder, "before.json")
    code, before, said = plan(binary, base)
    if not c.check(code in (0, 1) and before["feasible"], "%s %s: a plan to go on from" % (plant, target), said):
        return
    with open(before_file, "w", encoding="utf-8") as f:
        json.dump(before, f)
    devices = [p["id"] for p in before["points"] if p["action"] == "close"]
    for stop in range(0, len(before["steps"]) + 1):
        if stop and before["steps"][stop - 1]["phase"] == "work":
            break
        wish = [None] if stop else []
        what = ("passing", "stuck", "open")[stop % 3]
        if devices and not (what == "open" and stop == 0):
            wish.append((devices[stop % len(devices)], what))
        for found in wish:
            done = list(range(1, stop + 1))
            more = (["--done", "1-%d" % stop] if stop else []) + (["--found", "%s=%s" % found] if found else [])
            name = "%s %s %s after step %d, %s" % (plant, target, grade, stop, found)
            code, record, said = plan(binary, base + more)
            if not c.check(code in (0, 1), "I7 a plan, and the second check agrees: " + name, said):
                continue
            judge(c, name, plant_file, before, done, found, record)
            if stop % 3 != 0 and found is None:
                continue
            again = plan(binary, [plant_file, "--from", before_file] + more)[1]
            c.check(again == record, "the same from the record handed on: " + name)
            path = os.path.join(folder, "on.json")
            with open(path, "w", encoding="utf-8") as f:
                json.dump(record, f)
            code, out, _ = run_raw(binary, ["verify", plant_file, path])
            c.check(code == 0, "I7 verify agrees with the record: " + name, out.decode("utf-8", "replace")[:300])


def misuse(c, binary, demo):
    base = ["plan", demo + "/tutorial.xml", "--target", "MV-1"]
    for more in (["--done", "999"], ["--done", "0"], ["--done", "x"], ["--done", "3-1"], ["--found", "HV-1"],
                 ["--found", "HV-1=odd"], ["--found", "T-1=passing"], ["--done", "3,"]):
        code = run_raw(binary, base + more)[0]
        c.equal(code, 2, "misuse is refused: " + " ".join(more))
    c.check(run_raw(binary, base + ["--found", "NO-1=passing"])[0] in (2, 3), "no such component")


def main():
    c = Checks(quiet=True)
    with tempfile.TemporaryDirectory() as folder:
        for plant, target, grade in JOBS:
            job(c, sys.argv[1], sys.argv[2], folder, plant, target, grade)
    misuse(c, sys.argv[1], sys.argv[2])
    c.finish()


main()
