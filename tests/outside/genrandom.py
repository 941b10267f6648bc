#!/usr/bin/python3
"""Random plants as plant files (FORMAT), the same for the same seed.

A plant is a handful of hubs (fittings, vessels) joined by chains of devices, with sources, dead
ends, feeds and missing data thrown in: every kind of valve (D1, D2, D5), conditions (D6), lockable
yes, no, assumed or not said (N2), actuators with and without feeds (D3, N5), blinds, vessels with
and without contents, exchangers of two sides, pumps and compressors with no feed, one or several
(N4), limits, shared and unshared outlets (N3), ports joined to nothing (N2), ratings (D7).

    genrandom.py [--seed N] [--big] > plant.xml        (the seed is printed to stderr)
"""

import argparse
import random
import sys

from common import PlantFile, element

STOP = ["globe", "gate", "ball", "plug", "butterfly", "diaphragm", "needle", "angle", "stop-check"]
OTHER = ["check", "control", "expansion", "regulator", "solenoid", "relief", "excess-flow",
         "self-closing", "float", "rupture-disc", "three-way", "unknown"]
FITTINGS = ["tee", "reducer", "elbow", "strainer", "filter", "meter", "sight-glass", "hose", "node"]
PRESSURES = ["6 barg", "10 barg", "1.6 MPag", "16 barg", "25 barg", "40 barg"]
LEADS = ["safe-place", "flare-or-scrubber", "closed-drain", "recovery", "water"]
BORES = ["DN15", "DN25", "DN50", "DN80", "50 mm", "2 in"]
LENGTHS = ["0.6 m", "1.25 m", "800 mm", "3 ft", "12 m"]
# Lowest design pressure of all: where a device declares it, no live side becomes higher by it.
LOWEST = PRESSURES[0]
ODD = ["é", "/", "#", ".", ":", "&", "'", "<", '"', "+", "=", "@", "_"]


class Recipe:
    """How a plant is drawn; the knobs of one random plant."""

    def __init__(self, rng, big=False, size=None):
        self.big = big
        self.max_closable = 10 ** 6 if big else rng.randint(1, 11)
        self.hubs = max(3, size // 4) if big else rng.randint(2, 7)
        self.extra_edges = rng.uniform(0.2, 1.2)
        self.unjoined = 0.002 if big else rng.choice([0, 0, 0.02, 0.06])
        self.fed_ends = rng.randint(2, 6) if big else rng.randint(0, 2)
        self.ratings = rng.choice([0, 0, 0.3, 0.9])
        self.volumes = rng.choice([0, 0, 0.5, 1])
        self.relief = rng.choice([False, False, True])
        self.stop_share = rng.uniform(0.55, 0.95)
        self.good = rng.uniform(0.6, 1)
        self.odd_ids = 0.15 if rng.random() < 0.3 else 0


class Maker:
    """Builds one plant."""

    def __init__(self, rng, recipe, name):
        self.rng, self.recipe = rng, recipe
        self.file = PlantFile(name)
        self.closable = 0
        self.numbers = rng.sample(range(1, 100000 if recipe.big else 999), 90000 if recipe.big
                                  else 900)
        self.hubs = []               # [tag, attributes, ports, hidden]
        self.loose = []              # ports that still want something to be joined to
        self.fed = {}                # component id -> tag, of those that may have feeds
        self.services = []
        self.feeds = []

    def chance(self, p):
        return self.rng.random() < p

    def pick(self, items):
        return self.rng.choice(items)

    def new_id(self, prefix):
        if self.chance(self.recipe.odd_ids):
            prefix += self.pick(ODD)
        if self.chance(self.recipe.odd_ids / 3):
            prefix = self.pick("=+@") + prefix
        return "%s%d" % (prefix, self.numbers.pop())

    # ---- pipes -------------------------------------------------------------------------------

    def service(self):
        return self.pick(self.services) if self.services and self.chance(0.85) else None

    def join(self, one, other):
        """A spool between two ports; length or bore now and then missing (mass unknown)."""
        known = self.chance(self.recipe.volumes)
        self.file.add("spool", id=self.new_id("S-"), from_="%s.%s" % one, to="%s.%s" % other,
                      service=self.service(),
                      length=self.pick(LENGTHS) if known else None,
                      bore=self.pick(BORES) if known or self.chance(0.5) else None,
                      ends=self.pick([None, "welded welded", "flanged welded", "flanged flanged"]),
                      removable=self.pick([None, None, "no", "yes"]))

    def hub_port(self, hub):
        hub[2].append("p%d" % (len(hub[2]) + 1))
        return (hub[1]["id"], hub[2][-1])

    def new_hub(self):
        if self.chance(0.22):
            hub = ["vessel", dict(id=self.new_id("VS-"), kind=self.pick(["drum", "separator"]),
                                  contents=self.pick([None, "none", "none", "liquid", "vapour",
                                                      "two-phase"]),
                                  volume=self.pick([None, "0.5 m3", "120 L"]),
                                  service=self.service(),
                                  design_pressure=self.design()), [], False]
            if hub[1]["contents"] == "two-phase" and self.chance(0.6):
                hub[1]["fill"] = "0.4"
            if self.chance(0.15):
                self.fed[hub[1]["id"]] = "vessel"
        else:
            hub = ["fitting", dict(id=self.new_id("F-"), kind=self.pick(FITTINGS),
                                   design_pressure=self.design() if self.chance(0.2) else None),
                   [], self.chance(0.6)]
            if self.chance(0.08):
                self.fed[hub[1]["id"]] = "fitting"
        self.hubs.append(hub)
        return hub

    def design(self):
        return self.pick(PRESSURES) if self.chance(self.recipe.ratings * 0.5) else None

    # ---- devices of a chain: each returns its (port in, port out) --------------------------------

    def stop_valve(self):
        good = self.closable < self.recipe.max_closable and self.chance(self.recipe.good)
        names = dict(kind=self.pick(STOP), lockable=self.pick(["yes", "yes", "yes", "assumed"]),
                     drive=self.pick([None, None, "hand"]), condition=self.pick([None, "sound"]))
        if good:
            self.closable += 1
        else:
            names.update(self.pick([
                dict(lockable="no"), dict(lockable=None), dict(condition="passing"),
                dict(condition="seized"), dict(condition="unreachable"),
                dict(drive=self.pick(["motor", "air", "hydraulic", "spring"]),
                     fails=self.pick([None, "closed", "open", "stays", "unknown"]),
                     manual_opening=self.pick([None, "yes", "no"]))]))
        if names.get("fails") == "closed":
            names["lockable"] = "no"     # those that may be points (D3): grade_random
        rated = self.chance(self.recipe.ratings)
        valve = self.new_id("HV-")
        sealed = self.pick([None, None, None, "open", "closed"])
        position = self.pick(["open", "open", "closed", "throttled", "unknown", None])
        if sealed:
            position = sealed
        self.file.add("valve", id=valve, position=position, sealed=sealed,
                      use=self.pick([None, None, "operation", "service"]),
                      rating=self.pick(PRESSURES) if rated else None,
                      design_pressure=LOWEST if rated and self.chance(0.1) else None,
                      bore=self.pick([None, "DN50"]), **names)
        if names.get("drive") not in (None, "hand", "spring"):
            self.fed[valve] = "valve"
        return self.turned(valve, "in", "out")

    def other_valve(self):
        kinds = [k for k in OTHER if self.recipe.relief or k not in ("relief", "rupture-disc")]
        kind = self.pick(kinds)
        valve = self.new_id("XV-")
        drive = self.pick([None, "motor", "air", "spring"]) \
            if kind in ("control", "regulator", "three-way", "unknown", "self-closing") else None
        self.file.add("valve", id=valve, kind=None if kind == "unknown" and self.chance(0.5)
                      else kind, drive=drive,
                      # Three-way valves that may be points (D5): grade_random.
                      lockable=self.pick([None, "yes"] if kind != "three-way" else [None, "no"]),
                      set_pressure=self.pick([None, "9 barg"]) if kind == "relief" else None,
                      position=self.pick([None, "open"]) if kind == "control" else None,
                      positions=self.pick([None, "a-c b-c"]) if kind == "three-way" else None)
        if drive in ("motor", "air") or kind == "solenoid":
            self.fed[valve] = "valve"
        if kind == "three-way":
            ports = ["a", "b", "c"]
            self.rng.shuffle(ports)
            self.loose.append((valve, ports.pop()))
            return tuple((valve, p) for p in ports)
        return self.turned(valve, "in", "out")

    def blind(self):
        position = self.pick(["open", "closed", "unknown", None])
        if position == "closed":
            if self.closable >= self.recipe.max_closable:
                position = "open"
            else:
                self.closable += 1
        blind = self.new_id("BL-")
        self.file.add("blind", id=blind, kind=self.pick(["spectacle", "spade", "removable-spool"]),
                      position=position,
                      rating=self.pick(PRESSURES) if self.chance(self.recipe.ratings) else None)
        return self.turned(blind, "in", "out")

    def pump(self):
        tag = self.pick(["pump", "compressor"])
        pump = self.new_id("P-")
        self.file.add(tag, id=pump, design_pressure=self.design(),
                      feeds=self.pick([None, "complete"]))
        self.fed[pump] = tag
        return self.turned(pump, "in", "out")

    def exchanger(self):
        exchanger = self.new_id("E-")
        sides = []
        for side, ports in (("tube", "ab"), ("shell", "cd")):
            sides.append(element("side", [element("port", id=p) for p in ports], id=side,
                                 volume=self.pick([None, "40 L"]), service=self.service(),
                                 contents=self.pick([None, "liquid", "vapour"]),
                                 design_pressure=self.design()))
        self.file.add("exchanger", sides, id=exchanger, kind="evaporator")
        if self.chance(0.6):
            self.fed[exchanger] = "exchanger"
        self.loose += [(exchanger, "c"), (exchanger, "d")]
        return self.turned(exchanger, "a", "b")

    def inline_fitting(self):
        fitting = self.new_id("F-")
        self.file.add("fitting", id=fitting, kind=self.pick(FITTINGS + [None]))
        return self.turned(fitting, "in", "out")

    def turned(self, name, one, other):
        ends = [(name, one), (name, other)]
        if self.chance(0.5):
            ends.reverse()
        return tuple(ends)

    def device(self):
        roll = self.rng.random()
        share = self.recipe.stop_share
        if roll < share:
            return self.stop_valve()
        roll = (roll - share) / (1 - share)
        for limit, make in ((0.40, self.other_valve), (0.55, self.blind), (0.68, self.pump),
                            (0.82, self.exchanger), (1.01, self.inline_fitting)):
            if roll < limit:
                return make()
        raise AssertionError(roll)

    def chain(self, start, end, length):
        """Devices in series from port to port; `end` None leaves the far port loose."""
        here = start
        for _ in range(length):
            near, far = self.device()
            self.join(here, near)
            here = far
        if end is not None:
            self.join(here, end)
        elif length:
            self.loose.append(here)
        else:
            self.loose.append(start)

    # ---- ends ------------------------------------------------------------------------------------

    def end(self, here, source):
        """Close a loose port: by a cap, a limit, an outlet, a drum, or not at all."""
        if self.chance(self.recipe.unjoined):
            return
        if source:
            kind = self.pick(["limit", "limit", "outlet", "vessel", "pump"])
        else:
            kind = self.pick(["cap", "cap", "cap", "limit", "outlet", "fed"])
        if kind == "cap":
            item = self.new_id("C-")
            self.file.add("cap", id=item, kind=self.pick(["cap", "plug", "blind-flange", None]))
        elif kind == "limit":
            item = self.new_id("L-")
            self.file.add("limit", id=item, dead=self.pick([None, "no"]) if source else "yes",
                          name=self.pick([None, "=HYPERLINK(1)", "to the pump hall"]))
        elif kind == "outlet":
            item = self.new_id("O-")
            shared, leads = ("no", self.pick(LEADS)) if not source else self.pick(
                [("yes", self.pick(LEADS)), (None, self.pick(LEADS)), ("no", None), (None, None)])
            fitted = [None, "open", "cap", "plug"] if self.recipe.relief else [None, "cap", "plug"]
            self.file.add("outlet", id=item, kind=self.pick(["drain", "vent", "purge"]),
                          shared=shared, leads_to=leads, fitted=self.pick(fitted))
        elif kind == "vessel":
            item = self.new_id("VS-")
            self.file.add("vessel", [element("port", id="in")], id=item, contents="liquid",
                          design_pressure=self.design())
        elif kind == "pump":
            near, far = self.pump()
            self.join(here, near)
            self.end(far, False)
            return
        else:
            self.fed_end(here)
            return
        self.join(here, (item, "in"))

    def fed_end(self, here):
        """A dead end of several fed devices: closing one valve is cheaper than all their feeds."""
        if self.chance(0.8):
            near, far = self.stop_valve()
            self.join(here, near)
            here = far
        for _ in range(self.rng.randint(1, 4)):
            valve = self.new_id("MV-")
            self.file.add("valve", id=valve, kind=self.pick(["control", "solenoid", "ball"]),
                          drive=self.pick(["motor", "air"]))
            self.fed[valve] = "valve"
            near, far = self.turned(valve, "in", "out")
            self.join(here, near)
            here = far
        item = self.new_id("C-")
        self.file.add("cap", id=item)
        self.join(here, (item, "in"))

    # ---- feeds -----------------------------------------------------------------------------------

    def add_feeds(self):
        shared = [(self.new_id("ISO "), self.pick(["yes", "yes", "yes", "no", None]))
                  for _ in range(max(2, len(self.fed) // 5))]
        for component, tag in sorted(self.fed.items()):
            enough = 0.75 if tag in ("pump", "compressor") else 0.7
            while self.chance(enough):
                enough = 0.3
                feed = self.new_id("Q-")
                isolator, lockable = self.pick(shared)
                if self.chance(0.5):
                    isolator = self.pick([feed + " switch", None])
                    lockable = self.pick(["yes", "yes", "yes", "yes", "assumed", "no", None])
                supplies = [component]
                if self.chance(0.12):
                    supplies.append(self.pick(sorted(self.fed)))
                if self.chance(0.04):
                    supplies.append(self.pick(self.hubs)[1]["id"])
                self.file.add("feed", id=feed, kind=self.pick(["electrical", "air", "hydraulic",
                                                               "heating"]),
                              supplies=" ".join(dict.fromkeys(supplies)), isolator=isolator,
                              lockable=lockable, stored=self.pick([None, "none", "spring", "air"]))

    # ---- the whole -------------------------------------------------------------------------------

    def build(self):
        rng, recipe = self.rng, self.recipe
        for _ in range(rng.randint(0, 3)):
            service = self.new_id("SV-")
            self.services.append(service)
            self.file.add("service", id=service, substance=self.pick(["ammonia", "water", "brine"]),
                          density=self.pick(["998 kg/m3", "610 kg/m3"])
                          if self.chance(recipe.volumes) else None,
                          phase=self.pick(["liquid", "vapour", "two-phase", "unknown"]),
                          temperature=self.pick([None, "20 degC"]), pressure=self.pick(
                              [None, "5 barg"]),
                          design_pressure=self.pick(PRESSURES)
                          if self.chance(recipe.ratings) else None)
        for number in range(recipe.hubs):
            hub = self.new_hub()
            if number:
                near = self.hubs[max(0, number - 6):number] if recipe.big else self.hubs[:number]
                self.link(self.pick(near), hub)
        for _ in range(int(recipe.hubs * recipe.extra_edges)):
            one = rng.randrange(len(self.hubs))
            other = rng.randrange(len(self.hubs))
            if recipe.big:
                other = min(len(self.hubs) - 1, max(0, one + rng.randint(-8, 8)))
            if one != other or self.chance(0.2):
                self.link(self.hubs[one], self.hubs[other])
        sources = rng.randint(2, 6) if recipe.big else rng.randint(1, 3)
        for number in range(sources + recipe.fed_ends):
            hub = self.pick(self.hubs)
            self.chain(self.hub_port(hub), None, rng.choice([0, 1, 1, 1, 2, 2]))
            if number >= sources:
                self.fed_end(self.loose.pop())
            elif self.chance(0.9):
                self.end(self.loose.pop(), True)
        while self.loose:
            here = self.loose.pop(rng.randrange(len(self.loose)))
            if self.loose and self.chance(0.25):
                self.join(here, self.loose.pop())
            elif self.chance(0.3):
                self.join(here, self.hub_port(self.pick(self.hubs)))
            else:
                self.end(here, False)
        if self.chance(0.1):
            self.file.add("fitting", id=self.new_id("F-"), kind="node")
        self.add_feeds()
        for tag, attributes, ports, hidden in self.hubs:
            if not hidden and self.chance(recipe.unjoined):
                ports.append("spare")
            children = [] if hidden else [element("port", id=p, elevation=self.pick(
                [None, "1.2 m", "300 mm"])) for p in ports]
            self.file.add(tag, children, **attributes)
        rng.shuffle(self.file.elements)
        return self.file.text()

    def link(self, one, other):
        length = self.rng.choice([0, 1, 1, 1, 1, 2, 2, 3])
        self.chain(self.hub_port(one), self.hub_port(other), length)


def small_plant(seed):
    """A plant with at most 11 closable devices."""
    rng = random.Random("small %s" % seed)
    return Maker(rng, Recipe(rng), "random-%s" % seed).build()


def big_plant(seed):
    """A plant of some 50 to 400 components."""
    rng = random.Random("big %s" % seed)
    return Maker(rng, Recipe(rng, True, rng.randint(14, 260)), "random-big-%s" % seed).build()


def main():
    parser = argparse.ArgumentParser(description="write a random plant file")
    parser.add_argument("--seed", default=str(random.SystemRandom().randrange(10 ** 9)))
    parser.add_argument("--big", action="store_true")
    options = parser.parse_args()
    print("seed %s" % options.seed, file=sys.stderr)
    sys.stdout.write((big_plant if options.big else small_plant)(options.seed))
    return 0


if __name__ == "__main__":
    sys.exit(main())
