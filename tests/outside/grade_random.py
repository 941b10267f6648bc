#!/usr/bin/python3
"""Random plants for all grades, the same for the same seed: grids, trees and rings of pipe round the
work, with second valves, bleeds, blinds and three-way valves where a grade needs them.

    grade_random.py [--seed N] [--scale N] > plant.xml        (seed, target and avoid list go to stderr)
"""

import argparse
import random
import sys

from common import PlantFile, element
from genrandom import STOP

PRESSURES = ["6 barg", "10 barg", "16 barg", "25 barg"]
LONE = ["check", "control", "regulator", "solenoid", "expansion", "float", "excess-flow",
        "self-closing"]
GOOD_LEADS = ["safe-place", "safe-place", "flare-or-scrubber"]
BAD_LEADS = ["closed-drain", "recovery", "water"]


class Case:
    """A plant, what is opened in it, and what was found out of use."""

    def __init__(self, text, target, avoid):
        self.text, self.target, self.avoid = text, target, avoid


class Maker:
    def __init__(self, seed, scale=1):
        self.rng = rng = random.Random("grades %s %s" % (seed, scale) if scale > 1
                                       else "grades %s" % seed)
        self.file = PlantFile("grades-%s" % seed)
        self.count, self.scale = 0, scale
        self.valves = rng.randint(5, 11) * scale     # closable valves that may still be added
        self.positives = rng.randint(0, 6) * scale   # blinds, spades, spools likewise
        self.second = rng.uniform(0.3, 1)      # a second valve after a first one
        self.bleed = rng.uniform(0.4, 1)
        self.good = rng.uniform(0.75, 1)
        self.odd = rng.uniform(0, 0.45)          # share of other devices
        self.ratings = rng.choice([0, 0, 0, 0, 0.4])
        self.mass = rng.random() < 0.5
        self.unsound = rng.choice([0, 0, 0.1])
        self.hubs, self.fed, self.ids = [], [], []

    def chance(self, p):
        return self.rng.random() < p

    def new_id(self, prefix):
        self.count += 1
        return "%s-%d" % (prefix, self.count)

    # ---- pipes ---------------------------------------------------------------------------------------

    def service(self):
        return self.rng.choice(["SV-1", "SV-2"]) if self.mass or self.chance(0.7) else None

    def join(self, one, other):
        name = self.new_id("S")
        ends = removable = None
        if self.positives > 0 and self.chance(0.22):
            self.positives -= 1
            self.ids.append(name)
            if self.chance(0.5):
                ends = self.rng.choice(["flanged flanged", "flanged welded", "welded flanged"])
            else:
                removable = "yes"
        rated = self.chance(self.ratings)
        self.file.add("spool", id=name, from_="%s.%s" % one, to="%s.%s" % other,
                      service=self.service(), ends=ends, removable=removable,
                      design_pressure=self.rng.choice(PRESSURES) if rated and (ends or removable)
                      else None,
                      length=self.rng.choice(["0.5 m", "1.25 m", "3 m"]) if self.mass else None,
                      bore=self.rng.choice(["25 mm", "50 mm", "80 mm"]) if self.mass else None)

    def tee(self):
        hub = ["fitting", self.new_id("T"), 0]
        self.hubs.append(hub)
        if self.chance(0.06):
            self.fed.append(hub[1])
        return hub

    def port(self, hub):
        hub[2] += 1
        return (hub[1], "p%d" % hub[2])

    # ---- devices: (near port, far port) --------------------------------------------------------------

    def turned(self, name, one="in", other="out"):
        ends = [(name, one), (name, other)]
        if self.chance(0.5):
            ends.reverse()
        self.ids.append(name)
        return ends

    def hand_valve(self, lockable=True):
        """A stop valve; it counts against the budget when it may be a point."""
        good = lockable and self.valves > 0 and self.chance(self.good)
        names = dict(lockable=self.rng.choice(["yes", "yes", "assumed"]))
        if good:
            self.valves -= 1
        else:
            names = self.rng.choice([dict(lockable="no"), dict(), dict(),
                                     dict(lockable="yes", condition="passing")])
        if self.chance(self.unsound):
            names["condition"] = self.rng.choice(["passing", "seized", "unreachable"])
        name = self.new_id("HV")
        kind = "stop-check" if self.chance(0.05) else self.rng.choice(STOP)
        self.file.add("valve", id=name, kind=kind, position=self.rng.choice(
            ["open", "open", "closed", "throttled", "unknown", None]),
                      rating=self.rng.choice(PRESSURES) if self.chance(self.ratings) else None,
                      **names)
        return self.turned(name)

    def driven_valve(self):
        """An actuated stop valve, a point if it fails closed and its feeds can be locked (D3)."""
        name = self.new_id("XV")
        good = self.valves > 0 and self.chance(0.7)
        if good:
            self.valves -= 1
        fails = "closed" if good else self.rng.choice(["open", "stays", None, "closed"])
        self.file.add("valve", id=name, kind=self.rng.choice(["ball", "butterfly", "gate"]),
                      drive=self.rng.choice(["air", "motor", "hydraulic"]), fails=fails,
                      lockable="yes" if good or self.chance(0.3) else "no",
                      position=self.rng.choice(["open", "closed", None]),
                      manual_opening=self.rng.choice([None, "yes", "no"]))
        self.fed.append(name)
        if good:
            self.fed.append(name)    # twice: more likely to get a feed
        return self.turned(name)

    def lone_valve(self, manual=None):
        name = self.new_id("CV")
        kind = self.rng.choice(LONE if manual is None else ["solenoid", "control"])
        self.file.add("valve", id=name, kind=kind,
                      manual_opening=manual or self.rng.choice([None, "yes", "yes", "no"]),
                      lockable=self.rng.choice([None, "yes"]),
                      condition=self.rng.choice([None, None, None, "seized"]))
        if kind in ("solenoid", "control") and self.chance(0.6):
            self.fed.append(name)
        return self.turned(name)

    def three_way(self):
        name = self.new_id("TW")
        good = self.valves > 0 and self.chance(0.85)
        if good:
            self.valves -= 1
        ports = ["a", "b", "c"]
        self.rng.shuffle(ports)
        self.file.add("valve", id=name, kind="three-way", lockable="yes" if good else None,
                      positions=self.rng.choice(["a-c b-c", "a-b", "a-c b-c a-b", "b-c a-b-c", None]),
                      drive=None if self.chance(0.9) else "air")
        third = (name, ports.pop())
        if self.chance(0.5):
            self.finish(third, self.chance(0.4))
        else:
            self.join(third, self.port(self.rng.choice(self.hubs)))
        self.ids.append(name)
        return [(name, p) for p in ports]

    def blind(self):
        name = self.new_id("BL")
        good = self.positives > 0
        if good:
            self.positives -= 1
        position = self.rng.choice(["open", "open", "closed", "unknown", None])
        if not good:
            name, position = self.new_id("F"), None
            self.file.add("fitting", [element("port", id=p) for p in ("in", "out")], id=name,
                          kind="strainer")
            return self.turned(name)
        self.file.add("blind", id=name, kind=self.rng.choice(["spectacle", "spade",
                                                              "removable-spool"]),
                      position=position,
                      rating=self.rng.choice(PRESSURES) if self.chance(self.ratings) else None)
        return self.turned(name)

    def pump(self):
        name = self.new_id("P")
        self.file.add(self.rng.choice(["pump", "compressor"]), id=name)
        self.fed += [name, name]
        return self.turned(name)

    def exchanger(self):
        name = self.new_id("E")
        sides = [element("side", [element("port", id=p) for p in ports], id=side,
                         volume="40 L" if self.mass else None, service="SV-1", contents="liquid")
                 for side, ports in (("tube", "ab"), ("shell", "cd"))]
        self.file.add("exchanger", sides, id=name, kind="cooler")
        if self.chance(0.3):
            self.fed.append(name)
        for port in "cd":
            self.finish((name, port), self.chance(0.25))
        return self.turned(name, "a", "b")

    def other(self):
        roll = self.rng.random()
        for limit, make in ((0.3, self.lone_valve), (0.55, self.driven_valve),
                            (0.8, self.three_way), (0.9, self.pump), (1.01, self.exchanger)):
            if roll < limit:
                return make()
        raise AssertionError(roll)

    # ---- ends ----------------------------------------------------------------------------------------

    def finish(self, here, live):
        """End a loose port: by a source, or by what is none."""
        rng = self.rng
        if live:
            kind = rng.choice(["limit", "limit", "vessel", "vessel", "shared", "open port"])
        else:
            kind = rng.choice(["cap", "cap", "dead", "empty", "outlet"])
        if kind == "open port":
            if self.chance(0.3):
                return
            kind = "limit"
        name = self.new_id({"limit": "L", "dead": "L", "cap": "C"}.get(
            kind, "V" if kind in ("vessel", "empty") else "O"))
        if kind in ("limit", "dead"):
            self.file.add("limit", id=name, dead="yes" if kind == "dead" else None)
        elif kind == "cap":
            self.file.add("cap", id=name)
        elif kind in ("vessel", "empty"):
            self.file.add("vessel", [element("port", id="in")], id=name, service="SV-1",
                          contents="liquid" if kind == "vessel" else "none",
                          volume=rng.choice(["120 L", "500 L"]) if self.mass else None)
        else:
            self.outlet(name, kind == "shared")
        self.join(here, (name, "in"))

    def outlet(self, name, shared=False):
        rng = self.rng
        leads = rng.choice(GOOD_LEADS if self.chance(0.85) else BAD_LEADS)
        said = "no"
        if shared:
            said, leads = rng.choice([("yes", leads), (None, leads), ("no", None)])
        self.file.add("outlet", id=name, kind=rng.choice(["vent", "drain"]), leads_to=leads,
                      shared=said, fitted=rng.choice([None, "cap", "plug"]))

    def bleed_branch(self, hub):
        """A way to an outlet: mostly right, now and then not fit (E4)."""
        here, name = self.port(hub), self.new_id("O")
        chain = ["hand"]
        roll = self.rng.random()
        if roll < 0.15:
            chain = ["hand", "driven"]
        elif roll < 0.22:
            chain = ["hand", "self-closing"]
        elif roll < 0.26:
            chain = ["driven"]
        elif roll < 0.3:
            chain = ["hand", "hand"]
        elif roll < 0.34:
            chain = []
        elif roll < 0.4:
            chain = ["driven", "hand"]
        for what in chain:
            if what == "hand":
                near, far = self.hand_valve(lockable=self.chance(0.15))
            elif what == "driven":
                near, far = self.lone_valve("yes")
                self.fed.append(near[0])
            else:
                near, far = self.turned(self.new_id("SC"))
                self.file.add("valve", id=near[0], kind="self-closing")
            self.join(here, near)
            here = far
        self.outlet(name, self.chance(0.08))
        self.join(here, (name, "in"))

    # ---- the whole -----------------------------------------------------------------------------------

    def chain(self, start, end):
        """From port to port: valves, often in pairs with a bleed between, blinds, other things."""
        here = start
        for part in range(self.rng.choice([1, 1, 1, 2])):
            if part:
                hub = self.tee()
                self.join(here, self.port(hub))
                here = self.port(hub)
            if self.chance(self.odd):
                near, far = self.other()
            else:
                near, far = self.hand_valve()
            self.join(here, near)
            here = far
            if self.chance(self.second):
                if self.chance(0.85):
                    hub = self.tee()
                    self.join(here, self.port(hub))
                    here = self.port(hub)
                    if self.chance(self.bleed):
                        self.bleed_branch(hub)
                    if self.chance(0.12):
                        self.finish(self.port(hub), self.chance(0.5))
                near, far = self.hand_valve()
                self.join(here, near)
                here = far
            if self.positives > 0 and self.chance(0.3):
                near, far = self.blind()
                self.join(here, near)
                here = far
        self.join(here, end)

    def work(self):
        """What is opened: (name of the target, hub to which pipes lead)."""
        hub = self.tee()
        kind = self.rng.choice(["hub", "hub", "strainer", "pump", "exchanger", "vessel", "valve",
                                "spool", "joint", "control", "side"])
        name = self.new_id("W")
        if kind == "hub":
            return hub[1], hub
        if kind == "spool":
            self.join(self.port(hub), self.port(self.tee()))
            return self.file.elements[-1][1]["id"], hub
        if kind == "vessel":
            self.file.add("vessel", [element("port", id="in")], id=name, contents="liquid",
                          service="SV-1", volume="120 L" if self.mass else None)
            self.join(self.port(hub), (name, "in"))
            return name, hub
        ends = [(name, "in"), (name, "out")]
        if kind in ("exchanger", "side"):
            ends = [(name, "a"), (name, "b")]
            sides = [element("side", [element("port", id=p) for p in ports], id=side,
                             volume="40 L" if self.mass else None, service="SV-2",
                             contents="liquid")
                     for side, ports in (("tube", "ab"), ("shell", "cd"))]
            self.file.add("exchanger", sides, id=name, kind="cooler")
            far = self.tee()
            self.chain((name, "c"), self.port(far))
            self.finish((name, "d"), False)
        elif kind == "strainer":
            self.file.add("fitting", [element("port", id=p) for p in ("in", "out")], id=name,
                          kind="strainer")
        elif kind == "pump":
            self.file.add("pump", id=name)
        else:
            self.file.add("valve", id=name, kind="control" if kind == "control" else "globe",
                          position="open", lockable="yes")
            if kind == "joint" :
                self.valves -= 1
        if kind in ("pump", "control", "exchanger"):
            self.fed.append(name)
        self.join(self.port(hub), ends[0])
        self.join(ends[1], self.port(self.tee()))
        if kind == "joint":
            return "%s.%s" % self.rng.choice(ends), hub
        return (name + ".tube" if kind == "side" else name), hub

    def build(self):
        rng = self.rng
        for name, density in (("SV-1", "640 kg/m3"), ("SV-2", "998 kg/m3")):
            self.file.add("service", id=name, substance="brine", phase="liquid",
                          density=density if self.mass else None,
                          design_pressure=rng.choice(PRESSURES) if self.chance(self.ratings * 2)
                          else None)
        target, hub = self.work()
        if self.chance(0.5):
            self.bleed_branch(hub)
        for _ in range(rng.randint(0, 2) + 6 * (self.scale - 1)):
            near = rng.choice(self.hubs[-8:])
            self.chain(self.port(near), self.port(self.tee()))
        ends = [h for h in self.hubs if h is not hub] if self.chance(0.6) else list(self.hubs)
        for _ in range(rng.randint(1, 3) + (self.scale - 1) // 2):
            near = rng.choice(ends or self.hubs)
            far = self.tee()
            if self.chance(0.8):
                self.chain(self.port(near), self.port(far))
            else:
                self.join(self.port(near), self.port(far))
            self.finish(self.port(far), self.chance(0.85))
        for _ in range(self.chance(0.35) + (self.scale - 1) // 2):
            one, other = rng.choice(self.hubs), rng.choice(self.hubs)
            self.chain(self.port(one), self.port(other))
        if self.chance(0.25):
            self.fed_branch(rng.choice(self.hubs))
        self.add_feeds()
        for tag, name, ports in self.hubs:
            self.file.add(tag, [element("port", id="p%d" % (n + 1)) for n in range(ports)], id=name,
                          kind="tee")
        avoid = []
        if self.ids and self.chance(0.2):
            whole = target.rsplit(".", 1)[0]
            avoid = sorted({i for i in rng.sample(self.ids, min(2, len(self.ids)))
                            if i not in (target, whole)})
        rng.shuffle(self.file.elements)
        return Case(self.file.text(), target, avoid)

    def fed_branch(self, hub):
        """A dead end of several fed devices: closing one valve is cheaper than all their feeds."""
        near, far = self.hand_valve()
        self.join(self.port(hub), near)
        here = far
        for _ in range(self.rng.randint(2, 3)):
            near, far = self.lone_valve("yes")
            self.fed += [near[0], near[0]]
            self.join(here, near)
            here = far
        self.finish(here, False)

    def add_feeds(self):
        rng = self.rng
        shared = ["panel %d" % n for n in range(1, 3 + self.scale)]
        lockable = {name: rng.choice(["yes", "yes", "yes", "no"]) for name in shared}
        for component in self.fed:
            if not self.chance(0.75):
                continue
            isolator = rng.choice(shared + [None, None, None])
            self.file.add("feed", id=self.new_id("Q"), kind="electrical", supplies=component,
                          isolator=isolator,
                          lockable=lockable.get(isolator) or ("yes" if self.chance(0.93) else None),
                          stored="none")


def plant(seed, scale=1):
    """The plant of a seed: some ten closable devices, `scale` times as many."""
    return Maker(seed, scale).build()


def main():
    parser = argparse.ArgumentParser(description="write a random plant file")
    parser.add_argument("--seed", default=str(random.SystemRandom().randrange(10 ** 9)))
    parser.add_argument("--scale", type=int, default=1, help="times as large")
    options = parser.parse_args()
    case = plant(options.seed, options.scale)
    print("seed %s, target %s, avoid %s" % (options.seed, case.target, ",".join(case.avoid)),
          file=sys.stderr)
    sys.stdout.write(case.text)
    return 0


if __name__ == "__main__":
    sys.exit(main())
