#!/usr/bin/env bash
# Time of a plan on the tutorial plant as a whole process, text output: median of 31 runs, with the time of an
# empty process beside it. Never a test: machines differ.
set -euo pipefail
top=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
"$top/tools/packages.sh" build
"$top/tools/build.sh" "$top/build" -DCMAKE_BUILD_TYPE=Release -DSTILL_TESTS=OFF
python3 - "$top" <<'P'
import statistics, subprocess, sys, time
top = sys.argv[1]
plan = [top + "/build/stillset", "plan", top + "/plants-demo/tutorial.xml", "--target", "MV-1", "--grade", "single"]
def ms(cmd):
    t = time.perf_counter()
    subprocess.run(cmd, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    return (time.perf_counter() - t) * 1000
for f in (plan, ["/bin/true"]): ms(f)
pairs = [(ms(plan), ms(["/bin/true"]), ms(plan + ["--format", "svg"])) for _ in range(31)]
for name, k in (("plan, text", 0), ("empty process", 1), ("plan, SVG", 2)):
    v = sorted(p[k] for p in pairs)
    print(f"{name:15s} median {statistics.median(v):6.2f} ms   min {v[0]:6.2f}   max {v[-1]:6.2f}")
print(f"ratio plan/empty process: {statistics.median(p[0] / p[1] for p in pairs):.1f}")
P
