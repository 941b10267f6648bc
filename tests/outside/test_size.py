#!/usr/bin/python3
"""Plans on one large generated plant against igraph's minimum cut on its whole graph (I4).

    test_size.py PLAN_MANY GENPLANT [--components N] [--targets N] [--seed S] [--times]

igraph (general-purpose graph library; python3-igraph of Debian) computes the cut on the whole
graph; the product only looks at the neighbourhood of the target. Sources and points must agree.
"""

import argparse
import collections
import os
import random
import statistics
import subprocess
import sys
import tempfile
import time

import whole_graph  # first: it makes tools/ known
import port_graph


def time_ports(plant, targets):
    """Milliseconds of igraph's cut on the graph of all ports, and that graph."""
    graph = port_graph.PortGraph(plant)
    took = []
    for target in targets:
        start = time.perf_counter()
        graph.cut(target)
        took.append((time.perf_counter() - start) * 1000)
    return took, graph.graph


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("plan_many")
    parser.add_argument("genplant")
    parser.add_argument("--components", type=int, default=100000)
    parser.add_argument("--targets", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--times", action="store_true", help="print times too")
    options = parser.parse_args()
    print("%d components, seed %d" % (options.components, options.seed))
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "plant.xml")
        with open(path, "wb") as stream:
            subprocess.run([options.genplant, str(options.components), "--seed", str(options.seed)],
                           stdout=stream, stderr=subprocess.DEVNULL, check=True)
        graph = whole_graph.WholeGraph(path)
        names = sorted(graph.plant.parts)
        targets = random.Random("targets %d" % options.seed).sample(names, options.targets)
        run = subprocess.run([options.plan_many, path], input="\n".join(targets) + "\n",
                             capture_output=True, text=True, check=False)
    if run.returncode != 0:
        print("FAIL the program: exit %d: %s" % (run.returncode, run.stderr.strip()))
        print("0 passed, 1 failed")
        return 1
    passed = failed = 0
    answers, pairs = collections.Counter(), []
    for target, line in zip(targets, run.stdout.splitlines(), strict=True):
        name, feasible, sources, points, took = line.split()
        assert name == target, line
        got = (int(sources), int(points)) if feasible == "1" else None
        least, took_igraph = graph.least_cost(target)
        answers["feasible" if least else "not feasible"] += 1
        if got == least:
            passed += 1
        else:
            failed += 1
            print("FAIL [I4] %s: (sources, points) got %s, igraph %s" % (target, got, least))
        if least is not None:
            pairs.append((float(took), took_igraph))
    print(", ".join("%d %s" % (n, what) for what, n in sorted(answers.items())))
    if options.times:
        print("merged: %d vertices, %d edges" % (graph.graph.vcount(), graph.graph.ecount()))
        ports, raw = time_ports(graph.plant, targets[:20])
        print("unmerged: %d vertices, %d edges" % (raw.vcount(), raw.ecount()))
        plans = [p[0] * 1000 for p in pairs]
        for what, values in (("plan, all of it, plant read", plans),
                             ("igraph's cut, all ports", ports),
                             ("igraph's cut, pieces merged", [p[1] * 1000 for p in pairs])):
            print("%-28s median %8.2f ms   least %8.2f   most %8.2f"
                  % (what, statistics.median(values), min(values), max(values)))
        print("igraph's cut on all ports / plan: %.1f"
              % (statistics.median(ports) / statistics.median(plans)))
    print("%d passed, %d failed" % (passed, failed))
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
