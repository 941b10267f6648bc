#!/usr/bin/python3
"""Published networks: least points and segments (FACTS F-CUT-1 to 15, F-SEG-5 to 15).

    test_networks.py STILLSET_BIN
"""

import os
import sys
import tempfile

import conditions
import exhaustive
import networks
from common import Checks, RunError, counted_ids, run_plan

SMALL_SOURCE = "USEPA/WNTR test_metrics_segments.py, seven nodes; derived"
NET3_SOURCE = "EPANET example network 3, USEPA/WNTR valve layer; derived by maximum flow"
LAYERS = ("40 random", "N-1", "N")

NONE = None
# id, target, least points for LAYERS; a text gives the only set of that size (FACTS 7b).
CUTS = [
    ("F-CUT-1", "L-113", "113,111 113,113", 4, "113,111 113,113"),
    ("F-CUT-2", "L-109", "103,103 109,109", 2, 2),
    ("F-CUT-3", "L-263", "263,229", 2, "263,229"),
    ("F-CUT-4", "L-319", "319,205 319,273", "319,205 319,273", "319,205 319,273"),
    ("F-CUT-5", "N-103", "103,103 109,109", 2, 2),
    ("F-CUT-6", "N-149", "153,145 161,149", 2, 2),
    ("F-CUT-7", "N-199", 3, 3, 3),
    ("F-CUT-8", "N-205", 3, 3, 3),
    ("F-CUT-9", "L-229", 3, 2, 2),
    ("F-CUT-10", "L-177", NONE, 3, 2),
    ("F-CUT-11", "N-115", NONE, 4, 4),
    ("F-CUT-12", "N-247", NONE, 2, 2),
    ("F-CUT-13", "L-313", NONE, "211,269 313,189 325,269", "313,189 313,269"),
    ("F-CUT-14", "N-189", NONE, 4, 4),
    ("F-CUT-15", "N-121", NONE, 4, 4),
]

# id, targets, the only set of one point, or None for impossible (FACTS 7a).
SMALL = [
    ("F-SEG-6", ["L-p6", "N-n1", "N-n2", "N-n3", "N-n4", "N-n5", "L-p2", "L-p3", "L-p4", "L-p5",
                 "L-p8"], "p1,n1"),
    ("F-SEG-7", ["L-p7"], "p1,n1"),
    ("F-SEG-8", ["N-n6"], "p1,n1"),
    ("F-SEG-9", ["L-p1"], NONE),
]

# id, network, layer, valves, segments, largest (nodes and links).
SEGMENTS = [
    ("F-SEG-5", "small", "five", 5, 4, 11),
    ("F-SEG-11", "net3", "40 random", 40, 23, 125),
    ("F-SEG-12", "net3", "N-1", 141, 119, 3),
    ("F-SEG-13", "net3", "N", 238, 216, 1),
    ("F-SEG-14", "net3", "N-2", 60, 38, 19),
    ("F-SEG-15", "net3", "N-3", 9, 3, 213),
]
SIZES_40 = sorted([1] * 14 + [2, 2, 3, 4, 5, 17, 18, 26, 125])
REDUNDANT = {
    "small": ["V-p3-n2"],
    "net3": ["V-%s" % v.replace(",", "-") for v in
             "197,177 313,269 321,265 225,197 317,273 120,119 297,120 177,159".split()],
}


def gates(text):
    return sorted("V-" + word.replace(",", "-") for word in text.split())


def check_plan(checks, binary, path, plant, target, expected, name):
    """One plan: number of points, the set where it is the only one, and the plain conditions."""
    try:
        record = run_plan(binary, path, target)
    except RunError as problem:
        checks.check(False, name, str(problem))
        return
    bad = conditions.complaints(plant, target, record)
    if expected is NONE:
        ok, got = not record["feasible"], "feasible"
        wanted = "cannot be isolated"
    elif not record["feasible"]:
        ok, got, wanted = False, "cannot be isolated", expected
    elif isinstance(expected, str):
        got, wanted = counted_ids(record), gates(expected)
        ok = sorted(got) == wanted and record["cost"]["points"] == len(wanted)
    else:
        got, wanted = record["cost"]["points"], expected
        ok = got == wanted and len(counted_ids(record)) == wanted
    why = [] if ok else ["got %s, expected %s" % (got, wanted)]
    checks.check(ok and not bad, name, "; ".join(why + bad))


def segments(plant):
    """Pieces left when every gate is closed, as lists of node and link ids; and the gates' pieces.

    Plain code on the generated file: limits are no nodes of the network and are not counted.
    """
    gates_ = {c.id for c in plant.components.values() if c.closable}
    piece_of, sizes = {}, []
    for name, c in plant.components.items():
        if c.tag == "fitting" and (name, c.ports[0]) not in piece_of:
            piece = plant.walk(None, [(name, p) for p in c.ports], gates_)
            piece_of.update(dict.fromkeys(piece, len(sizes)))
            sizes.append(len({n for n, _ in piece if plant.components[n].tag == "fitting"}))
    redundant = sorted(g for g in gates_ if piece_of[(g, "in")] == piece_of[(g, "out")])
    return len(gates_), sizes, redundant


def main():
    binary = sys.argv[1]
    checks = Checks()
    with tempfile.TemporaryDirectory() as folder:
        plants = {}
        for network, layer in networks.LAYERS:
            text = networks.plant_text(network, layer)
            path = os.path.join(folder, "%s-%s.xml" % (network, layer.replace(" ", "-")))
            with open(path, "w", encoding="utf-8") as stream:
                stream.write(text)
            plants[(network, layer)] = (path, exhaustive.Plant(text))

        for fact, network, layer, valves, count, largest in SEGMENTS:
            got_valves, sizes, redundant = segments(plants[(network, layer)][1])
            checks.equal((got_valves, len(sizes), max(sizes)), (valves, count, largest),
                         "%s %s, layer %s: valves, segments, largest [USEPA/WNTR]"
                         % (fact, network, layer))
            if layer == "40 random":
                checks.equal(sorted(sizes), SIZES_40, "%s sizes of the 23 segments" % fact)
            if layer in ("40 random", "five"):
                checks.equal(redundant, sorted(REDUNDANT[network]), "%s redundant valves" % fact)

        path, plant = plants[("small", "five")]
        for fact, targets, expected in SMALL:
            for target in targets:
                check_plan(checks, binary, path, plant, target, expected,
                           "%s [I4] work on %s [%s]" % (fact, target, SMALL_SOURCE))
        for fact, target, *answers in CUTS:
            for layer, expected in zip(LAYERS, answers):
                path, plant = plants[("net3", layer)]
                check_plan(checks, binary, path, plant, target, expected,
                           "%s [I4] %s, layer %s [%s]" % (fact, target, layer, NET3_SOURCE))
    checks.finish()


if __name__ == "__main__":
    main()
