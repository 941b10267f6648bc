#!/usr/bin/python3
"""The search for bleeds is never given up (I2): single-bleed and double-bleed at every valve of the demo
plants, and on random plants with some 200 closable devices.

    test_search_limit.py STILLSET_BIN PLANTS_DEMO [--plants N] [--start SEED] [--also SEED,...]

The plants are those of grade_random.py, twenty times as large as in the other checks. What is right is
checked there; here, that each answer is proven: a plan as the least one, a refusal by a search that came
to its end. --also: plants on which it did not once.
"""

import argparse
import glob
import json
import os
import sys
import tempfile
import xml.etree.ElementTree as ET
from concurrent.futures import ThreadPoolExecutor

import grade_random
from common import run_raw

SCALE = 20
GRADES = ("single-bleed", "double-bleed")
GIVEN_UP = b"search was given up"


def demo_jobs(folder):
    for path in sorted(glob.glob(os.path.join(folder, "*.xml"))):
        for element in ET.parse(path).iter("{urn:stillset:plant:1}valve"):
            yield path, element.get("id"), []


def random_jobs(folder, seeds):
    for seed in seeds:
        case = grade_random.plant(seed, SCALE)
        path = os.path.join(folder, "plant-%d.xml" % seed)
        with open(path, "w", encoding="utf-8") as stream:
            stream.write(case.text)
        yield path, case.target, ["--avoid", ",".join(case.avoid)] if case.avoid else []


def examine(binary, job):
    """(feasible, cases looked at, complaint or None)."""
    (path, target, more), grade = job
    command = ["plan", path, "--target", target, "--grade", grade, "--format", "json"] + more
    code, out, err = run_raw(binary, command)
    name = "%s %s, %s" % (os.path.basename(path), target, grade)
    if code not in (0, 1):
        return False, 0, "%s: exit %d: %s" % (name, code, err.decode("utf-8", "replace").strip())
    record = json.loads(out)
    cases = record["proof"]["nodes"] or 0
    if record["proof"]["complete"] is False or GIVEN_UP in out:
        return record["feasible"], cases, "%s: not proven after %d cases" % (name, cases)
    return record["feasible"], cases, None


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("binary")
    parser.add_argument("demo")
    parser.add_argument("--plants", type=int, default=60)
    parser.add_argument("--start", type=int, default=1)
    parser.add_argument("--also", default="")
    options = parser.parse_args()
    seeds = list(range(options.start, options.start + options.plants))
    seeds += [int(seed) for seed in options.also.split(",") if seed]
    print("start %d" % options.start)
    passed = failed = feasible = most = 0
    with tempfile.TemporaryDirectory() as folder, ThreadPoolExecutor(2) as pool:
        places = list(demo_jobs(options.demo)) + list(random_jobs(folder, seeds))
        jobs = [(place, grade) for place in places for grade in GRADES]
        for has_plan, cases, wrong in pool.map(lambda job: examine(options.binary, job), jobs):
            passed += wrong is None
            failed += wrong is not None
            feasible += has_plan
            most = max(most, cases)
            if wrong:
                print("FAIL " + wrong)
    print("%d plans, at most %d cases" % (feasible, most))
    print("%d passed, %d failed" % (passed, failed))
    return 1 if failed or not feasible else 0


if __name__ == "__main__":
    sys.exit(main())
