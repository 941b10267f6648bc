#!/usr/bin/python3
"""What published rules ask of a double block and bleed, held against a plan of the solvent station.

    test_published.py STILLSET_BIN PLANTS_DEMO

Sources: 29 CFR 1910.146(b), "double block and bleed" (F-OSH-13): two in-line valves closed and locked or
tagged, and a drain or vent between them open and locked or tagged: three devices, three locks. California
Title 8 section 6816(a) (F-CAL-1): a blind comes first; where there is none, blocks tagged and locked
closed, bleeder tagged and locked open and shown not to be plugged, its discharge led to where it does no
harm, any leak stops the work, blocks watched while people are inside.
"""

import json
import sys

from common import run_raw

# The lines of filter F-1 as they are drawn: outer valve, bleed between, inner valve.
STATIONS = (("HV-311", "BV-11", "HV-312"), ("HV-314", "BV-12", "HV-313"))


def planned(binary, demo, *more):
    code, out, err = run_raw(binary, ["plan", demo + "/solvent.xml", "--target", "F-1",
                                      "--format", "json"] + list(more))
    if code not in (0, 1):
        raise SystemExit("plan: exit %d: %s" % (code, err.decode("utf-8", "replace")))
    return json.loads(out)


def three_devices_three_locks(binary, demo):
    """F-OSH-13"""
    points = {p["id"]: p for p in planned(binary, demo, "--grade", "double-bleed")["points"]}
    for outer, bleed, inner in STATIONS:
        states = [points[name]["to"] for name in (outer, bleed, inner)]
        yield states == ["closed", "open", "closed"], "%s: %s" % (bleed, states)
        for name in (outer, bleed, inner):
            yield points[name]["hold"] == "lock" and points[name]["tag"] > 0, name + " locked, tagged"
        yield points[bleed]["legend"] == "Do Not Close", "%s: %s" % (bleed, points[bleed]["legend"])


def bleeder(binary, demo):
    """F-CAL-1"""
    record = planned(binary, demo, "--grade", "double-bleed")
    steps = record["steps"]
    for outer, bleed, inner in STATIONS:
        outlet = {"BV-11": "OB-11", "BV-12": "OB-12"}[bleed]
        opened = [s["n"] for s in steps if s["id"] == bleed and "Lock it open" in s["do"]]
        closed = [s["n"] for s in steps if s["id"] in (outer, inner) and s["do"].startswith("Lock ")]
        led = [s["n"] for s in steps if s["id"] == outlet and "does no harm" in s["do"]]
        yield len(opened) == 1 and len(closed) == 2, bleed + ": blocks locked closed, bleeder open"
        yield bool(led) and max(closed) < opened[0] and led[0] < opened[0], bleed + ": led away first"
        shown = [s for s in steps if "not plugged" in s["do"] and bleed in s["do"]]
        yield bool(shown), bleed + ": shown not to be plugged"
    watched = [s for s in steps if s["phase"] == "work" and "bleeds open" in s["do"]]
    yield bool(watched), "watched while the work goes on"
    yield any("stop the work" in s["if_not"] for s in watched), "a leak stops the work"


def each_valve_by_itself(binary, demo):
    """P4: the inner valves with the line's pressure behind, before the outer ones are closed; these by the
    bleed between; nothing can rise while a way out stands open."""
    steps = planned(binary, demo, "--grade", "double-bleed")["steps"]
    inner = [s for s in steps if "next to the work, with the line's pressure behind: HV-312 and HV-313." in s["do"]]
    outer = [s["n"] for s in steps if s["id"] in ("HV-311", "HV-314") and s["do"].startswith("Close ")]
    let_off = [s["n"] for s in steps if s["id"] in ("BV-10", "DV-10") and s["do"].startswith("Open ")]
    between = [s["n"] for s in steps if s["id"] in ("BV-11", "BV-12") and s["do"].startswith("Open ")]
    yield len(inner) == 1 and len(outer) == 2, "steps found"
    yield max(let_off) < inner[0]["n"] < min(outer) < min(between), "let off, prove, close, let off"
    for step in inner + [s for s in steps if s["do"].startswith("Prove zero")]:
        yield "Shut every way out (BV-10 and DV-10)" in step["do"], "step %d shuts all ways out" % step["n"]
    for name, bleed, _ in STATIONS:
        shown = [s["n"] for s in steps if "further out: %s." % name in s["do"] and bleed in s["do"]]
        yield len(shown) == 1 and shown[0] > max(between), "%s: %s" % (name, shown)
    findings = planned(binary, demo, "--grade", "double")["findings"]
    yield not [f for f in findings if f["rule"] == "P4"], "bleeds stand between, though none is asked"
    positive = planned(binary, demo, "--grade", "positive")
    back = {s["id"]: s["n"] for s in positive["restore"] if s["tag"]}
    yield max(back["L-46"], back["L-49"]) < min(back["BV-10"], back["DV-10"]), "spades out with bleeds open"


def blind_first(binary, demo):
    """F-CAL-1, F-OSH-11: for entry a blind comes first, and a single valve with its bleed is nothing."""
    record = planned(binary, demo, "--work", "entry")
    needed = record["grade"]["required"]
    yield needed == "positive", "entry asks for %s" % needed


def main():
    binary, demo = sys.argv[1:3]
    passed = failed = 0
    for check in (three_devices_three_locks, bleeder, each_valve_by_itself, blind_first):
        for good, what in check(binary, demo):
            passed += good
            failed += not good
            if not good:
                print("FAIL %s: %s" % (check.__doc__.split(":")[0], what))
    print("%d passed, %d failed" % (passed, failed))
    return 1 if failed or not passed else 0


if __name__ == "__main__":
    sys.exit(main())
