#!/usr/bin/python3
"""Large generated plants: time and memory of `check` beside xmllint's bare reading of the same file.

    bench_size.py STILLSET GENPLANT [--runs N] [COMPONENTS ...]

Runs in turn, so that a busy machine slows both; medians, and the median of the ratios. xmllint:
libxml2's command (Debian libxml2-utils), `--stream --noout`.
"""

import argparse
import os
import statistics
import subprocess
import sys
import tempfile
import time


def run(command):
    """Seconds and peak memory in MiB."""
    start = time.perf_counter()
    child = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    _, status, usage = os.wait4(child.pid, 0)
    if os.waitstatus_to_exitcode(status) != 0:
        sys.exit("%s: failed" % " ".join(command))
    return time.perf_counter() - start, usage.ru_maxrss / 1024


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("stillset")
    parser.add_argument("genplant")
    parser.add_argument("--runs", type=int, default=11)
    parser.add_argument("components", type=int, nargs="*", default=[100000, 500000])
    options = parser.parse_args()
    for size in options.components:
        with tempfile.NamedTemporaryFile(suffix=".xml") as plant:
            subprocess.run([options.genplant, str(size)], stdout=plant, stderr=subprocess.DEVNULL, check=True)
            check = [options.stillset, "check", plant.name]
            lint = ["xmllint", "--stream", "--noout", plant.name]
            pairs = [(run(check), run(lint)) for _ in range(options.runs)]
            file = os.path.getsize(plant.name) / 2 ** 20
        seconds = [statistics.median(p[k][0] for p in pairs) for k in (0, 1)]
        memory = statistics.median(p[0][1] for p in pairs)
        print("%d components, file %.1f MiB: check %.3f s, xmllint %.3f s, ratio %.2f (least %.2f); "
              "peak memory %.1f MiB, %.2f of the file"
              % (size, file, seconds[0], seconds[1],
                 statistics.median(p[0][0] / p[1][0] for p in pairs), min(p[0][0] / p[1][0] for p in pairs),
                 memory, memory / file))


if __name__ == "__main__":
    main()
