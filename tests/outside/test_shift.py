#!/usr/bin/python3
"""The table for a change of shift against a replay of the steps, one by one (P1, P6).

    test_shift.py STILLSET_BIN PLANTS_DEMO

Each step of the record moves what it says; after each step, and after each step of the way back, the table of
the text must have each tagged device as the replay has it, and each tag hung from the step that hangs it.
"""

import json
import re
import sys

from common import run_raw

JOBS = (("tutorial.xml", "MV-1", "single"), ("cold-store.xml", "MV-1", "single"), ("cold-store.xml", "MV-1", "double"),
        ("cold-store.xml", "SV-4", "double-bleed"), ("cold-store.xml", "P-1", "single"),
        ("solvent.xml", "F-1", "double-bleed"), ("solvent.xml", "F-1", "positive"), ("co2-booster.xml", "V-1", "double"))
LINE = re.compile(r"^TAG (\d+) (\S+): (.+?) (?:from step (\d+) on|all the time), "
                  r"(?:(locked and tagged|tagged) from step (\d+) on|(locked and tagged|tagged) then)"
                  r"(?:; from step (\d+) of the way back: (.+?))?((?:, from step \d+: [^,]+)*)$")


def table(text):
    """Lines of the section, each joined to one."""
    lines, on = [], False
    for line in text.splitlines():
        if line.startswith("AT A CHANGE OF SHIFT"):
            on = True
        elif on and line.startswith("  TAG "):
            lines.append(" ".join(line.split()))
        elif on and line.startswith("     "):
            lines[-1] += " " + line.strip()
        elif on and not line.strip():
            break
    return lines


def check(binary, demo, plant, target, grade):
    base = ["plan", "%s/%s" % (demo, plant), "--target", target, "--grade", grade]
    record = json.loads(run_raw(binary, base + ["--format", "json"])[1])
    rows = {}
    for line in table(run_raw(binary, base)[1].decode("utf-8")):
        found = LINE.match(line)
        if not found:
            yield False, "cannot be read: " + line
            continue
        rows[int(found[1])] = found
    yield sorted(rows) == [p["tag"] for p in record["points"]], "a row for each tag"
    start = {p["tag"]: p["from"] for p in record["points"]}
    now = dict(start)
    for step in record["steps"]:
        if step["tag"] and step["change"]:
            now[step["tag"]] = step["change"]["to"]
        for tag, row in rows.items():
            stands = row[3] if row[4] is None or step["n"] >= int(row[4]) else start[tag]
            yield stands == now[tag], "tag %d after step %d: %s, replay %s" % (tag, step["n"], stands, now[tag])
    for step in record["restore"]:
        if step["tag"] and step["change"]:
            now[step["tag"]] = step["change"]["to"]
        for tag, row in rows.items():
            stands = row[9] if row[8] and step["n"] >= int(row[8]) else row[3]
            for n, to in re.findall(r", from step (\d+): ([^,]+)", row[10]):
                stands = to if step["n"] >= int(n) else stands
            yield stands == now[tag], "tag %d at the way back, step %d" % (tag, step["n"])
    for tag, row in rows.items():
        hung = int(row[6] or row[4] or 0)
        says = [s for s in record["steps"] if s["tag"] == tag and s["n"] == hung and "tag" in s["do"]]
        yield bool(says), "tag %d is hung at step %d" % (tag, hung)
        point = next(p for p in record["points"] if p["tag"] == tag)
        yield (point["hold"] == "lock") == ("locked" in (row[5] or row[7])), "tag %d: lock" % tag


def main():
    binary, demo = sys.argv[1:3]
    passed = failed = 0
    for job in JOBS:
        for good, what in check(binary, demo, *job):
            passed += good
            failed += not good
            if not good:
                print("FAIL %s: %s" % (" ".join(job), what))
    print("%d passed, %d failed" % (passed, failed))
    return 1 if failed or not passed else 0


if __name__ == "__main__":
    sys.exit(main())
