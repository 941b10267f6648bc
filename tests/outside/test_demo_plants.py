#!/usr/bin/python3
"""Plan every component of every demo plant: a plan or a reasoned refusal comes out each time (I7: the
second check agrees). usage: test_demo_plants.py STILLSET_BIN PLANT..."""
import concurrent.futures
import re
import subprocess
import sys

PARTS = "valve|vessel|pump|compressor|exchanger|fitting|blind|cap|outlet|limit"


def plan(job):
    binary, plant, target = job
    run = subprocess.run([binary, "plan", plant, "--target", target, "--grade", "single"],
                         capture_output=True, text=True)
    return plant, target, run.returncode, run.stderr


def main(binary, plants):
    jobs = []
    for plant in plants:
        text = open(plant, encoding="utf-8").read()
        jobs += [(binary, plant, i) for i in re.findall(r'<(?:%s) id="([^"]+)"' % PARTS, text)]
    passed = failed = 0
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        for plant, target, code, err in pool.map(plan, jobs):
            if code in (0, 1) and not err:
                passed += 1
                continue
            failed += 1
            print("FAIL %s --target %s: exit %d: %s" % (plant, target, code, err.strip()[:300]))
    print("%d passed, %d failed" % (passed, failed))
    return 1 if failed or not passed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], sys.argv[2:]))
