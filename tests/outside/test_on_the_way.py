#!/usr/bin/python3
"""The second check against a record that hides what is shut in on the way (P3, L6).

    test_on_the_way.py STILLSET_BIN PLANTS_DEMO

A plan of the demo cold store in which a pipe is shut in without cover for some steps: the record that says so
is agreed with; the same record without the entry, or without its finding, is refuted by rule L6.
"""

import copy
import json
import os
import sys
import tempfile

from common import Checks, run_raw


def main():
    binary, demo = sys.argv[1:3]
    c = Checks()
    plant = demo + "/cold-store.xml"
    out = run_raw(binary, ["plan", plant, "--target", "E-1", "--grade", "double", "--format", "json"])[1]
    record = json.loads(out)
    hidden = [e for e in record["closed_in"] if e["during"] and e["during"]["list"] == "steps"]
    if not c.check(bool(hidden), "L6 something is shut in on the way"):
        c.finish()
    ids = set(hidden[0]["ids"])
    first, last = hidden[0]["during"]["from"], hidden[0]["during"]["to"]
    steps = record["steps"]
    c.check(steps[first - 1]["phase"] == "isolate" and steps[last - 1]["phase"] == "isolate",
            "L6 the steps that it names are moves")
    c.check(any(f["rule"] == "L6" and f["id"] == min(ids) and f["blocks"] for f in record["findings"]),
            "L6 a finding that blocks names it")
    unsaid = copy.deepcopy(record)
    unsaid["closed_in"] = [e for e in unsaid["closed_in"] if not ids & set(e["ids"])]
    bare = copy.deepcopy(record)
    bare["findings"] = [f for f in bare["findings"] if not (f["rule"] == "L6" and f["id"] in ids)]
    with tempfile.TemporaryDirectory() as folder:
        for name, spoilt, expected in (("as it is", record, 0), ("entry left out", unsaid, 1), ("finding left out", bare, 1)):
            path = os.path.join(folder, "plan.json")
            with open(path, "w", encoding="utf-8") as f:
                json.dump(spoilt, f)
            code, out, _ = run_raw(binary, ["verify", plant, path])
            c.equal(code, expected, "P3 " + name)
            if expected:
                c.check(b"L6" in out, "P3 " + name + ": by rule L6", out.decode("utf-8", "replace")[:200])
    c.finish()


main()
