#!/usr/bin/env bash
# Timings, as ratios within one run; never a test: machines differ. What they gave stands in docs/BENCHMARKS.md.
# usage: tools/bench.sh [small|pack|size|grades]      default all
#   small  a plan on the tutorial plant as a whole process, beside an empty process
#   pack   on the cold store: text and record beside the pack as HTML and PDF, as whole processes
#   size   generated plants of 100,000 and 500,000 components: reading and checking beside xmllint; plans beside
#          igraph's minimum cut
#   grades plans of each grade on random plants with some 200 closable devices, beside `check`
set -euo pipefail
top=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
part=${1:-all}
"$top/tools/packages.sh" test
"$top/tools/build.sh" "$top/build-release" -DCMAKE_BUILD_TYPE=Release -DSTILL_TESTS=OFF -DSTILL_PLAN_MANY_TOO=ON
if [ "$part" = all ] || [ "$part" = grades ]; then
    "$top/tools/bench_grades.py" "$top/build-release/stillset" --plants 1000
fi
if [ "$part" = all ] || [ "$part" = size ]; then
    "$top/tools/bench_size.py" "$top/build-release/stillset" "$top/tools/genplant"
    /usr/bin/python3 "$top/tests/outside/test_size.py" "$top/build-release/plan_many" "$top/tools/genplant" --times
fi
if [ "$part" = all ] || [ "$part" = pack ]; then
    /usr/bin/python3 - "$top" <<'P'
import statistics, subprocess, sys, time
top = sys.argv[1]
plan = [top + "/build-release/stillset", "plan", top + "/plants-demo/cold-store.xml", "--target", "MV-1", "--grade", "single"]
forms = ("text", "json", "html", "pdf", "pdf, German")
def ms(form):
    words = form.split(", ")
    t = time.perf_counter()
    subprocess.run(plan + ["--format", words[0]] + (["--locale", "de"] if len(words) > 1 else []),
                   stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    return (time.perf_counter() - t) * 1000
for f in forms: ms(f)
rounds = [{f: ms(f) for f in forms} for _ in range(21)]
for f in forms:
    v = sorted(r[f] for r in rounds)
    print(f"{f:12s} median {statistics.median(v):7.1f} ms   min {v[0]:7.1f}   max {v[-1]:7.1f}   "
          f"beside text {statistics.median(r[f] / r['text'] for r in rounds):5.1f}")
P
fi
[ "$part" = all ] || [ "$part" = small ] || exit 0
python3 - "$top" <<'P'
import statistics, subprocess, sys, time
top = sys.argv[1]
plan = [top + "/build-release/stillset", "plan", top + "/plants-demo/tutorial.xml", "--target", "MV-1", "--grade", "single"]
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
