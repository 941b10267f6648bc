#!/usr/bin/python3
"""Time of a plan of each grade on random plants with some 200 closable devices, as a ratio to `check`.

    bench_grades.py STILLSET_BIN [--plants N] [--start SEED] [--scale N]

Whole processes, one after the other; the plants are those of tests/outside/grade_random.py, twenty times
as large as in the tests. Prints for each grade: plans, feasible, not proven minimal, and of the time of
`plan` over that of `check` on the same plant the median, the 99th percentile and the largest; then the
99th percentile and the largest in seconds, on this machine only.
"""

import argparse
import json
import os
import subprocess
import sys
import tempfile
import time

sys.dont_write_bytecode = True
sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "tests", "outside"))
import grade_random  # noqa: E402

GRADES = ["single", "double", "single-bleed", "double-bleed", "positive"]


def timed(command):
    start = time.perf_counter()
    done = subprocess.run(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, check=False)
    return time.perf_counter() - start, done


def at(values, share):
    return sorted(values)[min(len(values) - 1, int(share * len(values)))]


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("binary")
    parser.add_argument("--plants", type=int, default=100)
    parser.add_argument("--start", type=int, default=1)
    parser.add_argument("--scale", type=int, default=20)
    options = parser.parse_args()
    rows = {grade: [] for grade in GRADES}
    other = 0
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "plant.xml")
        for seed in range(options.start, options.start + options.plants):
            case = grade_random.plant(seed, options.scale)
            with open(path, "w", encoding="utf-8") as stream:
                stream.write(case.text)
            check, _ = timed([options.binary, "check", path])
            for grade in GRADES:
                command = [options.binary, "plan", path, "--target", case.target, "--grade", grade,
                           "--format", "json"]
                if case.avoid:
                    command += ["--avoid", ",".join(case.avoid)]
                seconds, done = timed(command)
                if done.returncode not in (0, 1):
                    other += 1
                    print("seed %d %s: exit %d" % (seed, grade, done.returncode), file=sys.stderr)
                    continue
                record = json.loads(done.stdout)
                rows[grade].append((seconds, seconds / check, record["feasible"],
                                    record["proof"]["complete"] is False))
    print("grade          plans feasible unproven   ratio: median  p99   max    seconds: p99   max")
    for grade, list_ in rows.items():
        ratios, seconds = [r[1] for r in list_], [r[0] for r in list_]
        print("%-14s %5d %8d %8d %15.1f %5.1f %5.1f %15.2f %5.2f"
              % (grade, len(list_), sum(r[2] for r in list_), sum(r[3] for r in list_),
                 at(ratios, 0.5), at(ratios, 0.99), max(ratios), at(seconds, 0.99), max(seconds)))
    print("no record: %d" % other)
    return 0


if __name__ == "__main__":
    sys.exit(main())
