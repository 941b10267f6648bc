#!/usr/bin/python3
"""Random small plants for the relief checks, the same for the same seed.

A plant is a handful of places (fittings, vessels, exchanger sides) joined by devices, then relief
valves by ones and twos behind three-way valves, in series, into headers, vessels and outlets; rings
of check valves; stubs and dead ends. The devices that range over open and closed, with the
positions of the three-way valves, give at most 4096 states.

    genrelief.py [--seed N] > plant.xml
"""

import argparse
import random
import sys

from common import PlantFile, element

STOP = ["globe", "gate", "ball", "plug", "butterfly", "diaphragm", "needle", "angle", "stop-check",
        "stop-check"]
ACTING = ["control", "expansion", "regulator", "solenoid", "excess-flow", "self-closing", "float",
          "unknown"]
DESIGN = ["10 barg", "13 barg", "16 barg", "1.9 MPag", "25 barg", "40 barg"]
SETS = ["8 barg", "9 barg", "10 barg", "1.1 MPag", "13 barg", "16 barg", "200 psig", "19 barg",
        "22 barg", "25 barg", "17.01325 bara"]
BACKS = ["0 barg", "1 barg", "3 barg", "0.6 MPag"]
# substance, temperatures of the liquid, of the vapour with pressures below saturation
SUBSTANCES = {
    "ammonia": (["-34 degC", "-10 degC", "20 degC"], [("0 degC", "2 barg"), ("20 degC", "5 barg")]),
    "carbon-dioxide": (["-30 degC", "-8 degC"], [("0 degC", "20 barg"), ("10 degC", "12 barg")]),
    "propane": (["-20 degC", "5 degC"], [("10 degC", "4 barg"), ("20 degC", "3 barg")]),
    "r134a": (["-10 degC", "15 degC"], [("10 degC", "2 barg"), ("20 degC", "3 barg")]),
    "water": (["10 degC", "20 degC"], [("120 degC", "0.5 barg")]),
    "brine": (["-10 degC"], [("20 degC", "1 barg")])}
LEADS = ["safe-place", "safe-place", "flare-or-scrubber", "closed-drain", "recovery", "water", None]


class Maker:
    """Builds one plant."""

    def __init__(self, rng, name):
        self.rng = rng
        self.file = PlantFile(name)
        self.count = 0
        self.states = 1
        self.max_states = 2 ** rng.choice([2, 3, 4, 5, 5, 6, 6, 7, 8, rng.choice([6, 6, 6, 12])])
        self.hubs = []               # [tag, attributes, ports, service, hidden]
        self.exchangers = []
        self.services = []
        self.unknowns = rng.choice([0, 0, 0.02, 0.08])
        self.odd = rng.choice([0, 0, 0, 0.3])
        self.tall = rng.choice([0.3, 0.7, 0.9])      # share of set pressures that open in time

    def chance(self, p):
        return self.rng.random() < p

    def pick(self, items):
        return self.rng.choice(items)

    def new_id(self, prefix):
        self.count += 1
        if self.chance(self.odd):
            prefix += self.pick(["é", "/", "#", ":", "&", "'", "=", "_"])
        return "%s%d" % (prefix, self.count * 7 % 1009)

    def room(self, factor=2):
        """Whether one more device with so many states fits; if so it is counted."""
        if self.states * factor > self.max_states:
            return False
        self.states *= factor
        return True

    # ---- services and pipes ----------------------------------------------------------------------

    def add_services(self):
        main = self.pick(list(SUBSTANCES))
        for number in range(self.rng.randint(1, 4)):
            substance = main if self.chance(0.9) else self.pick(list(SUBSTANCES))
            liquids, vapours = SUBSTANCES[substance]
            phase = self.pick(["liquid", "liquid", "vapour", "vapour", "two-phase", "unknown"])
            temperature, press = self.pick(vapours) if phase == "vapour" else \
                (self.pick(liquids), self.pick([None, "5 barg"]))
            if self.chance(0.1):
                temperature = press = None
            name = "SV%d" % number
            self.services.append(name)
            self.file.add("service", id=name, substance=substance, phase=phase,
                          temperature=temperature, pressure=press,
                          condenses="no" if phase == "vapour" and self.chance(0.35) else
                          self.pick([None, None, "no"]) if self.chance(0.1) else None,
                          design_pressure=None if self.chance(self.unknowns * 2)
                          else self.pick(DESIGN))

    def service(self, near=None):
        if self.chance(self.unknowns):
            return None
        return near if near and self.chance(0.93) else self.pick(self.services)

    def join(self, one, other, near=None):
        known = not self.chance(self.unknowns)
        length, bore = self.pick(["0.5 m", "1 m", "800 mm"]), self.pick(["DN15", "DN25", "DN50"])
        self.file.add("spool", id=self.new_id("S"), from_="%s.%s" % one, to="%s.%s" % other,
                      service=self.service(near), length=length if known else None,
                      bore=bore if known else None)

    # ---- places ----------------------------------------------------------------------------------

    def new_hub(self, kind=None):
        service = self.pick(self.services)
        kind = kind or self.pick(["fitting"] * 5 + ["vessel"] * 4 + ["exchanger"])
        said = service if self.chance(0.8) else self.pick([None, self.pick(self.services)])
        design = self.pick(DESIGN) if self.chance(0.12) else None
        if kind == "vessel":
            contents = self.pick([None, "liquid", "vapour", "two-phase", "two-phase", "two-phase",
                                  "two-phase", "none"])
            fill = self.pick([None, "0.3", "0.45", "0.45", "0.6", "0.97", "1"]) \
                if contents == "two-phase" else None
            hub = ["vessel", dict(id=self.new_id("V"), kind="drum", contents=contents, fill=fill,
                                  volume=self.pick(["3 m3", "3 m3", "2500 L", None if self.chance(
                                      0.5) else "3 m3"]), service=said, design_pressure=design),
                   [], service, False]
        elif kind == "exchanger":
            name = self.new_id("E")
            for side in ("tube", "shell"):
                hub = ["side", dict(id=side, volume=self.pick([None, "40 L"]), service=said,
                                    contents=self.pick([None, "liquid", "vapour"]),
                                    design_pressure=design), [], service, False, name]
                self.hubs.append(hub)
                said, design = self.pick(self.services), None
            self.exchangers.append((name, self.hubs[-2:]))
            return self.pick(self.hubs[-2:])
        else:
            hub = ["fitting", dict(id=self.new_id("F"), kind=self.pick(["tee", "node", "strainer"]),
                                   design_pressure=design), [], service, self.chance(0.7)]
        self.hubs.append(hub)
        return hub

    def port(self, hub):
        prefix = hub[1]["id"][0] if hub[0] == "side" else "p"
        hub[2].append("%s%d" % (prefix, len(hub[2]) + 1))
        return (hub[5] if hub[0] == "side" else hub[1]["id"], hub[2][-1])

    def low_design(self):
        return self.pick(DESIGN) if self.chance(0.04) else None

    # ---- devices: each gives its two ports -----------------------------------------------------

    def sealed_open(self):
        kind = self.pick(STOP)
        valve = self.new_id("H")
        self.file.add("valve", id=valve, kind=kind, sealed="open",
                      lockable=self.pick([None, "yes"]), drive=self.pick([None] * 12 + ["motor"]),
                      position=self.pick(["open"] * 9 + [None, None, "throttled", "throttled",
                                                         "closed", "unknown"]),
                      use=self.pick([None, None, "service"]))
        return valve

    def check_valve(self):
        valve = self.new_id("X")
        self.file.add("valve", id=valve, kind="check",
                      condition=self.pick([None] * 12 + ["sound", "seized"]))
        return valve

    def hand_valve(self):
        valve = self.new_id("H")
        position = self.pick(["open", "open", "open", "closed", "throttled", "unknown", None])
        drive = self.pick([None] * 9 + ["hand", "motor", "air"])
        kind = self.pick(STOP)
        fails = self.pick([None, "closed", "open"]) if drive in ("motor", "air") else None
        condition = self.pick([None] * 9 + ["seized", "passing", "unreachable"])
        sealed = "closed" if position == "closed" and self.chance(0.3) else None
        self.file.add("valve", id=valve, kind=kind, position=position, drive=drive,
                      design_pressure=self.low_design(), rating=self.low_design(),
                      normal=None if sealed else self.pick([None, None, None, "open", "closed",
                                                            "unknown", "throttled"]),
                      sealed=sealed, use=self.pick([None, None, None, "operation", "service"]),
                      fails=fails, condition=None if kind == "stop-check" else condition,
                      lockable=self.pick([None, "yes", "no"]))
        return valve

    def acting(self):
        valve = self.new_id("A")
        kind = self.pick(ACTING)
        said = None if kind == "unknown" and self.chance(0.5) else kind
        self.file.add("valve", id=valve, kind=said,
                      drive="motor" if kind == "control" and self.chance(0.6) else None,
                      position=self.pick([None, None, "open"]) if kind in ("control", "unknown")
                      else None, manual_opening=self.pick([None, "yes"])
                      if kind in ("control", "solenoid") else None)
        return valve

    def through(self):
        """A device of two ports, turned either way."""
        roll = self.rng.random()
        if roll < 0.14:
            name = self.sealed_open()
        elif roll < 0.34 or not self.room():
            name = self.check_valve() if self.chance(0.6) else self.sealed_open()
        elif roll < 0.72:
            name = self.hand_valve()
        elif roll < 0.88:
            name = self.acting()
        elif roll < 0.94:
            name = self.new_id("B")
            kind = self.pick(["spectacle", "spade", "removable-spool"])
            self.file.add("blind", id=name, kind=kind, design_pressure=self.low_design(),
                          position=self.pick(["open", "closed", "unknown", None]))
        else:
            name = self.new_id("P")
            self.file.add(self.pick(["pump", "compressor"]), id=name,
                          design_pressure=self.low_design())
        ends = [(name, "in"), (name, "out")]
        if self.chance(0.4):
            ends.reverse()
        return ends

    def forward(self, make):
        name = make()
        return [(name, "in"), (name, "out")]

    def three_way(self):
        """Ports of a three-way valve, the common one first; None where there is no room."""
        ports = ["a", "b", "c"]
        self.rng.shuffle(ports)
        x, y, z = ports
        roll = self.rng.random()
        if roll < 0.86:
            positions = ["%s-%s" % (x, y), "%s-%s" % (z, x)]
        elif roll < 0.90:
            positions = ["%s-%s" % (x, y), "%s-%s" % (x, z), "%s-%s" % (y, z)]
        elif roll < 0.94:
            positions = ["%s-%s" % (x, y)]
        elif roll < 0.96:
            positions = ["%s-%s-%s" % (x, y, z)]
        elif roll < 0.98:
            positions = ["%s-%s" % (x, y), "%s-%s-%s" % (x, y, z)]
        else:
            positions = []
        if not self.room(max(1, len(positions))):
            return None
        valve = self.new_id("T")
        self.file.add("valve", id=valve, kind="three-way", positions=" ".join(positions) or None,
                      position=self.pick(positions + ["unknown", None]) if positions else None,
                      normal=self.pick(positions + [None, None]) if positions else None,
                      drive=self.pick([None, None, "hand", "motor"]),
                      use=self.pick([None, None, None, "service"]))
        return [(valve, p) for p in ports]

    def chain(self, start, end, devices, near):
        for near_end, far_end in devices:
            self.join(start, near_end, near)
            start = far_end
        self.join(start, end, near)

    # ---- relief ----------------------------------------------------------------------------------

    def relief_valve(self):
        valve = self.new_id("R")
        kind = self.pick(["relief"] * 5 + ["rupture-disc"])
        known = not self.chance(0.06)
        low = self.chance(self.tall)
        self.file.add("valve", id=valve, kind=kind, design_pressure=self.low_design(),
                      set_pressure=self.pick(SETS[:5] if low else SETS) if known else None,
                      back_pressure=self.pick(BACKS) if self.chance(0.2) else None,
                      balanced=self.pick([None] * 5 + ["yes", "no"]) if kind == "relief" else None,
                      condition=self.pick([None] * 14 + ["passing", "seized"]))
        return [(valve, "in"), (valve, "out")]

    def outlet(self):
        name = self.new_id("O")
        good = self.chance(0.7)
        self.file.add("outlet", id=name, kind=self.pick(["vent", "drain", "purge"]),
                      leads_to=self.pick(LEADS[:3] if good else LEADS),
                      fitted="open" if good else self.pick([None, "open", "cap", "plug"]),
                      shared=self.pick([None, "yes", "no"]))
        return (name, "in")

    def spared(self, make):
        """Now and then a device before or behind a relief valve."""
        roll = self.rng.random()
        if roll < 0.66:
            return []
        return [self.forward(self.sealed_open if roll < 0.8 else make)] if roll < 0.92 or \
            not self.room() else [self.forward(self.hand_valve)]

    def discharge(self, start, near):
        """Lead the outlet of a relief valve somewhere."""
        roll = self.rng.random()
        if roll < 0.05:
            return                   # joined to nothing
        if roll < 0.38:
            self.chain(start, self.outlet(), self.spared(self.check_valve), near)
        elif roll < 0.44:
            ends = self.three_way()
            if ends is None:
                self.join(start, self.outlet(), near)
                return
            if self.chance(0.3):
                self.rng.shuffle(ends)
            self.join(start, ends[0], near)
            for end in ends[1:]:
                self.discharge(end, near)
        elif roll < 0.58:
            end = self.outlet() if self.chance(0.5) else self.port(self.pick(self.hubs))
            self.chain(start, end, [self.relief_valve()], near)
        else:
            vessels = [h for h in self.hubs if h[0] == "vessel"]
            hub = self.pick(vessels) if vessels and self.chance(0.75) else self.pick(self.hubs)
            self.chain(start, self.port(hub), self.spared(self.check_valve), near)

    def relief(self, hub):
        near = hub[3]
        if self.chance(0.28):
            ends = self.three_way()
            if ends is not None:
                if self.chance(0.1):
                    self.rng.shuffle(ends)
                self.chain(self.port(hub), ends[0], self.spared(self.check_valve), near)
                for end in ends[1:]:
                    roll = self.rng.random()
                    if roll < 0.85:
                        valve = self.relief_valve()
                        self.chain(end, valve[0], self.spared(self.check_valve), near)
                        self.discharge(valve[1], near)
                    elif roll < 0.95:
                        self.join(end, self.port(self.pick(self.hubs)), near)
                return
        valve = self.relief_valve()
        self.chain(self.port(hub), valve[0], self.spared(self.check_valve), near)
        self.discharge(valve[1], near)

    def ring(self):
        """Check valves in a ring through some places."""
        places = self.rng.sample(self.hubs, min(len(self.hubs), self.rng.randint(2, 3)))
        for one, other in zip(places, places[1:] + places[:1]):
            self.chain(self.port(one), self.port(other), [self.forward(self.check_valve)], one[3])

    def dead_end(self, hub):
        near = hub[3]
        start = self.port(hub)
        if self.chance(0.7):
            device = self.through()
            self.join(start, device[0], near)
            start = device[1]
        roll = self.rng.random()
        if roll < 0.5:
            name = self.new_id("C")
            self.file.add("cap", id=name, kind=self.pick(["cap", "plug", None]),
                          design_pressure="10 barg" if self.chance(0.05) else None)
            end = (name, "in")
        elif roll < 0.7:
            name = self.new_id("O")
            self.file.add("outlet", id=name, kind="drain", leads_to=self.pick(LEADS),
                          fitted=self.pick([None, "cap", "plug", "open"]),
                          shared=self.pick([None, "no"]))
            end = (name, "in")
        elif roll < 0.8:
            name = self.new_id("L")
            self.file.add("limit", id=name, dead=self.pick([None, "yes"]))
            end = (name, "in")
        elif roll < 0.92:
            tee = self.new_id("F")
            for port in "bc":
                cap = self.new_id("C")
                self.file.add("cap", id=cap)
                self.join((tee, port), (cap, "in"), near)
            self.file.add("fitting", id=tee, kind="tee")
            end = (tee, "a")
        else:
            return
        self.join(start, end, near)

    # ---- the whole -------------------------------------------------------------------------------

    def build(self):
        rng = self.rng
        self.add_services()
        for number in range(rng.randint(2, 6)):
            self.new_hub("vessel" if number == 1 else None)
        for number, hub in enumerate(self.hubs):
            if number:
                self.chain(self.port(self.pick(self.hubs[:number])), self.port(hub),
                           [self.through() for _ in range(rng.choice([0, 1, 1, 1, 1, 2]))], hub[3])
        for _ in range(rng.randint(0, 3)):
            one, other = self.pick(self.hubs), self.pick(self.hubs)
            self.chain(self.port(one), self.port(other),
                       [self.through() for _ in range(rng.choice([1, 1, 2]))], one[3])
        if self.chance(0.25):
            self.ring()
        for _ in range(rng.randint(1, 5)):
            self.relief(self.pick(self.hubs))
        for _ in range(rng.randint(0, 3)):
            self.dead_end(self.pick(self.hubs))
        if self.chance(0.1):
            self.join(self.port(self.pick(self.hubs)), self.outlet())
        for tag, attributes, ports, _, hidden, *_ in self.hubs:
            if tag == "side":
                continue
            if not hidden and self.chance(0.03):
                ports.append("spare")
            children = [] if hidden and ports else [element("port", id=p) for p in ports]
            self.file.add(tag, children, **attributes)
        for name, sides in self.exchangers:
            children = [element("side", [element("port", id=p) for p in s[2]], **s[1])
                        for s in sides if s[2]]
            self.file.add("exchanger", children, id=name, kind="evaporator")
        rng.shuffle(self.file.elements)
        return self.file.text()


def relief_plant(seed):
    """A plant of at most 4096 states."""
    return Maker(random.Random("relief %s" % seed), "relief-%s" % seed).build()


def main():
    parser = argparse.ArgumentParser(description="write a random plant file with relief valves")
    parser.add_argument("--seed", default=str(random.SystemRandom().randrange(10 ** 9)))
    options = parser.parse_args()
    print("seed %s" % options.seed, file=sys.stderr)
    sys.stdout.write(relief_plant(options.seed))
    return 0


if __name__ == "__main__":
    sys.exit(main())
