#!/usr/bin/python3
"""Pockets (E3) of random piping against liquid that runs in steps of time.

    test_pockets.py BINARY [--plants N] [--start S]

Random places, pipes between them, some with a vessel of some shape, some of unknown height, one or
two drains. Compared: which parts keep liquid, joined to which, how much, where the lowest is; what is
not shown; that the drain taken leaves no more than the other. The seed of each plant that differs is
printed.
"""

import argparse
import json
import math
import multiprocessing
import os
import random
import sys
import tempfile

import pocket_flow
from common import PlantFile, element, run_raw
from pocket_flow import FULL, TOLERANCE, Pipe, Tank

DENSITY = 1000.0


class Plant:
    """places: name -> [component, height]; a name is "component.port"."""

    def __init__(self, seed):
        rng = self.rng = random.Random(seed)
        self.places, self.pipes, self.tank, self.drains = {}, [], None, []
        self.nodes = ["N%d" % i for i in range(rng.randint(2, 7))]
        self.height = {n: rng.randint(0, 8) * 0.25 for n in self.nodes}
        self.ports = {n: 0 for n in self.nodes}
        for i in range(1, len(self.nodes)):
            self.pipe(rng.choice(self.nodes[:i]), self.nodes[i])
        for _ in range(rng.randint(0, 3)):
            a, b = rng.sample(self.nodes, 2)
            self.pipe(a, b)
        if rng.random() < 0.5:
            self.add_tank()
        for i in range(rng.choice((1, 1, 2))):
            self.add_drain(i)
        if rng.random() < 0.3:
            self.forget(rng.choice(self.nodes))

    def port(self, node):
        name = "%s.p%d" % (node, self.ports[node])
        self.ports[node] += 1
        self.places[name] = [node, self.height[node]]
        return name

    def pipe(self, a, b):
        rng = self.rng
        ends = [e if "." in e else self.port(e) for e in (a, b)]
        self.pipes.append(Pipe("P%d" % len(self.pipes), ends, rng.randint(1, 16) * 0.25,
                               rng.choice((0.02, 0.05, 0.1))))

    def add_tank(self):
        rng = self.rng
        shape = rng.choice(("horizontal", "vertical"))
        tank = Tank("V", [], shape, rng.choice(("flat", "dished", "elliptical", "hemispherical")),
                    rng.choice((0.5, 0.8, 1.0)), rng.choice((0.0, 0.5, 1.5)) or 0.25,
                    rng.randint(-2, 4) * 0.25, None)
        top = tank.diameter if shape == "horizontal" else tank.length + 2 * pocket_flow.head_depth(tank)
        tank.volume = pocket_flow.tank_below(tank, tank.bottom + top + 1)
        for i in range(rng.randint(1, 3)):
            name = "V.q%d" % i
            height = round(tank.bottom + rng.choice((0.0, 0.1, 0.25, 0.5)) * top, 3)
            self.places[name] = ["V", height]
            tank.ports.append(name)
            self.pipe(rng.choice(self.nodes), name)
        if rng.random() < 0.25:
            tank.bottom = None
        self.tank = tank

    def add_drain(self, i):
        valve, outlet = "DV%d" % i, "OUT%d" % i
        height = self.rng.choice((-0.5, 0.0, 0.25, 1.0))
        for name in (valve + ".in", valve + ".out"):
            self.places[name] = [valve, height]
        self.places[outlet + ".in"] = [outlet, height]
        self.pipe(self.rng.choice(self.nodes), valve + ".in")
        self.pipe(valve + ".out", outlet + ".in")
        self.drains.append(outlet)

    def forget(self, node):
        for place in self.places.values():
            if place[0] == node:
                place[1] = None
        self.height[node] = None

    def text(self):
        plant = PlantFile("pockets")
        plant.add("service", id="W", substance="brine", phase="liquid", density="1000 kg/m3",
                  temperature="10 degC", pressure="2 barg", design_pressure="10 barg")
        plant.add("limit", id="L-1", elevation="50 m")
        plant.add("valve", id="HV-1", kind="globe", position="open", lockable="yes", elevation="50 m")
        said = {n: "%g m" % h for n, h in self.height.items() if h is not None}
        for n in self.nodes:
            plant.add("fitting", id=n, kind="tee", elevation=said.get(n))
        if self.tank is not None:
            t = self.tank
            ports = [element("port", id=p.split(".")[1], elevation="%g m" % self.places[p][1])
                     for p in t.ports]
            plant.add("vessel", ports, id="V", service="W", contents="liquid", shape=t.shape,
                      heads=t.heads, diameter="%g m" % t.diameter, length="%g m" % t.length,
                      bottom=None if t.bottom is None else "%g m" % t.bottom,
                      volume="%.9g m3" % t.volume)
        for outlet in self.drains:
            valve = outlet.replace("OUT", "DV")
            height = "%g m" % self.places[outlet + ".in"][1]
            plant.add("valve", id=valve, kind="globe", position="closed", lockable="yes",
                      elevation=height)
            plant.add("outlet", id=outlet, kind="drain", leads_to="safe-place", shared="no",
                      fitted="plug", elevation=height)
        plant.add("spool", id="IN-1", from_="L-1.in", to="HV-1.in", length="1 m", bore="50 mm", service="W")
        plant.add("spool", id="IN-2", from_="HV-1.out", to="N0.feed", length="0 m", bore="50 mm",
                  service="W")
        for p in self.pipes:
            plant.add("spool", id=p.name, from_=p.ends[0], to=p.ends[1], length="%g m" % p.length,
                      bore="%g mm" % (p.bore * 1000), service="W")
        return plant.text()


def expected(plant, outlets):
    """(pockets: {frozenset of ids: [volume or None, lowest]}, not shown)"""
    places = {n: (c, h) for n, (c, h) in plant.places.items()}
    places["N0.feed"] = ("N0", plant.height["N0"])
    places["HV-1.out"] = ("HV-1", 50.0)
    pipes = plant.pipes + [Pipe("IN-2", ["HV-1.out", "N0.feed"], 0.0, 0.05)]
    tank = plant.tank
    surface = pocket_flow.surfaces(places, pipes, tank, [o + ".in" for o in outlets])
    hidden = set()
    for name, (component, height) in places.items():
        if (height is None or surface[name] == FULL) and not (tank and component == tank.name):
            hidden.add(component)
    for p in pipes:
        if any(places[e][1] is None or surface[e] == FULL for e in p.ends):
            hidden.add(p.name)
    wet = {n for n, (_, h) in places.items()
           if h is not None and surface[n] < FULL and h < surface[n] - TOLERANCE}
    if tank is not None and not any(places[n][0] == tank.name for n in wet):
        if tank.bottom is None or surface[tank.name] == FULL:
            hidden.add(tank.name)
    hidden.discard("HV-1")
    group = {n: n for n in wet}

    def root(n):
        while group[n] != n:
            n = group[n]
        return n

    for p in pipes:
        if all(e in wet for e in p.ends):
            group[root(p.ends[0])] = root(p.ends[1])
    by_component = {}
    for n in wet:
        by_component.setdefault(places[n][0], []).append(n)
    for members in by_component.values():
        for n in members[1:]:
            group[root(n)] = root(members[0])
    pockets = {}
    for n in sorted(wet):
        ids, volumes, lows = pockets.setdefault(root(n), (set(), {}, []))
        ids.add(places[n][0])
        lows.append(places[n][1])
        if tank is not None and places[n][0] == tank.name:
            if tank.bottom is None:
                volumes[tank.name] = None
            else:
                volumes[tank.name] = pocket_flow.tank_below(tank, surface[n])
                lows.append(tank.bottom)
        for p in pipes:
            if n in p.ends:
                ids.add(p.name)
                heights = [places[e][1] for e in p.ends]
                if None in heights:
                    volumes[p.name] = math.pi / 4 * p.bore ** 2 * p.length
                else:
                    volumes[p.name] = pocket_flow.pipe_below(p, heights[0], heights[1], surface[n])
    found = {frozenset(ids): (None if None in v.values() else sum(v.values()), min(lows))
             for ids, v, lows in pockets.values()}
    if tank is not None and tank.bottom is not None and not any(tank.name in ids for ids in found):
        level = surface[tank.name]
        if level < FULL and tank.bottom < level - TOLERANCE:
            found[frozenset([tank.name])] = (pocket_flow.tank_below(tank, level), tank.bottom)
    return found, hidden


def left(found, hidden):
    volumes = [v for v, _ in found.values()]
    return len(hidden), volumes.count(None), sum(v for v in volumes if v is not None)


def differences(plant, record):
    rooms = [c for c in record["compartments"] if "N0" in c["ids"]]
    if not record["feasible"] or len(rooms) != 1:
        return ["no compartment with N0"]
    room, bad = rooms[0], []
    if not room["drain"]:
        return ["no drain"]
    taken = room["drain"][-1]
    further = [way[-1] for way in room["further_drains"]]
    found, hidden = expected(plant, [taken] + further)
    # A drain that lies in a pocket is opened; one that is opened lay in a pocket of those before it.
    for i, one in enumerate(further):
        before = expected(plant, [taken] + further[:i])[0]
        if not any(one in ids for ids in before):
            bad.append("%s is opened, and lies in no pocket" % one)
    for other in plant.drains:
        if other not in [taken] + further and any(other in ids for ids in found):
            bad.append("%s lies in a pocket, and is not opened" % other)
    if set(room["not_shown"]) != hidden:
        bad.append("not shown: %s, want %s" % (sorted(room["not_shown"]), sorted(hidden)))
    if room["drainage_shown"] != (not hidden):
        bad.append("drainage_shown is %s" % room["drainage_shown"])
    pockets = {frozenset(p["ids"]): p for p in room["pockets"]}
    if set(pockets) != set(found):
        bad.append("pockets: %s, want %s" % (sorted(map(sorted, pockets)), sorted(map(sorted, found))))
        return bad
    for ids, (volume, lowest) in found.items():
        p = pockets[ids]
        name = " ".join(sorted(ids))
        if (volume is None) != (p["volume_m3"] is None):
            bad.append("%s: volume %s, want %s" % (name, p["volume_m3"], volume))
        elif volume is not None:
            if abs(p["volume_m3"] - volume) > 5e-3 * volume + 1e-7:
                bad.append("%s: volume %.7g, want %.7g" % (name, p["volume_m3"], volume))
            if abs(p["mass_kg"] - DENSITY * p["volume_m3"]) > 1e-6 * p["mass_kg"] + 1e-6:
                bad.append("%s: mass %s" % (name, p["mass_kg"]))
        if abs(p["lowest_m"] - lowest) > 1e-4:
            bad.append("%s: lowest %s, want %s" % (name, p["lowest_m"], lowest))
    for other in plant.drains:
        if other != taken:
            mine, its = left(*expected(plant, [taken])), left(*expected(plant, [other]))
            if its[:2] < mine[:2] or (its[:2] == mine[:2] and its[2] < mine[2] * 0.99 - 1e-6):
                bad.append("%s would leave less than %s: %s, %s" % (other, taken, its, mine))
    return bad


def examine(work):
    binary, folder, seed = work
    plant = Plant(seed)
    path = os.path.join(folder, "%d.xml" % seed)
    with open(path, "w", encoding="utf-8") as file:
        file.write(plant.text())
    code, out, err = run_raw(binary, ["plan", path, "--target", "N0", "--grade", "single",
                                      "--format", "json"])
    os.unlink(path)
    if code not in (0, 1):
        return seed, 0, 0, ["exit %d: %s" % (code, err.decode("utf-8", "replace")[:200])]
    record = json.loads(out.decode("utf-8"))
    rooms = record["compartments"]
    return (seed, sum(len(c["pockets"]) for c in rooms), sum(bool(c["not_shown"]) for c in rooms),
            differences(plant, record))


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("binary")
    parser.add_argument("--plants", type=int, default=2000)
    parser.add_argument("--start", type=int, default=1)
    options = parser.parse_args()
    print("seeds %d to %d" % (options.start, options.start + options.plants - 1))
    passed = failed = pockets = hidden = 0
    with tempfile.TemporaryDirectory() as folder, multiprocessing.Pool(2) as pool:
        work = [(options.binary, folder, s) for s in range(options.start, options.start + options.plants)]
        for seed, n, h, bad in pool.imap(examine, work, 8):
            pockets, hidden = pockets + n, hidden + h
            if not bad:
                passed += 1
                continue
            failed += 1
            print("FAIL seed %d" % seed)
            for line in bad[:6]:
                print("     " + line)
    print("%d pockets, %d compartments with parts not shown" % (pockets, hidden))
    print("%d passed, %d failed" % (passed, failed))
    return 1 if failed or not pockets else 0


if __name__ == "__main__":
    sys.exit(main())
