#!/usr/bin/python3
"""Random plants for the order of steps, the same for the same seed: a section between a low-pressure
vessel, pumps and mains, with what makes an order matter (docs/METHOD.md, section 7).

Feed sides and ways off with one or two valves in a row, places shared or not said, pumps and compressors that
blow into the section or draw from it (with a feed, with one shared, with none), check valves that end a
piece, relief valves behind stop valves on their in- or outlet, solenoids and motor valves that can be
opened by hand, closed valves between two parts of the section, unknown bores. Services are full liquid, or
vapour far below its design pressure, so that L3 is clear. Ids carry no order.

    genorder.py [--seed N] > plant.xml            (seed, target and grade go to stderr)
"""

import argparse
import random
import sys

from common import PlantFile, element

PLACES = ["hall", "roof", "corridor", "pit", None]
BORES = ["DN15", "DN25", "DN50", "DN80", None]
GRADES = ["single"] * 5 + ["double"] * 2 + ["double-bleed"] * 2 + ["single-bleed"]


class Case:
    def __init__(self, text, target, grade):
        self.text, self.target, self.grade = text, target, grade


class Maker:
    def __init__(self, seed):
        self.rng = random.Random("order %s" % seed)
        self.file = PlantFile("order-%s" % seed)
        self.numbers = list(range(100, 999))
        self.rng.shuffle(self.numbers)
        self.hubs = []               # (id, ports, service)
        self.places = self.rng.sample(PLACES, self.rng.randint(2, 5))
        self.relieved = self.rng.choice([0.15, 0.4, 0.7])
        self.shut = self.rng.choice([0.0, 0.0, 0.15])
        self.pairs = self.rng.choice([0.2, 0.5, 0.9])
        self.isolators = ["board %d" % n for n in range(3)]

    def chance(self, p):
        return self.rng.random() < p

    def pick(self, items):
        return self.rng.choice(items)

    def new_id(self, prefix):
        return "%s%d" % (prefix, self.numbers.pop())

    # ---- pipes and hubs --------------------------------------------------------------------------

    def join(self, one, other, service):
        self.file.add("spool", id=self.new_id("S"), from_="%s.%s" % one, to="%s.%s" % other,
                      service=service, length="1 m", bore=self.pick(BORES[:4]), schedule="40")

    def hub(self, service):
        hub = (self.new_id("T"), [], service)
        self.hubs.append(hub)
        return hub

    @staticmethod
    def port(hub):
        hub[1].append("p%d" % (len(hub[1]) + 1))
        return (hub[0], hub[1][-1])

    # ---- devices: (port that flow enters, port that it leaves) ------------------------------------

    def stop(self, position=None, **said):
        name = self.new_id("H")
        position = position or ("closed" if self.chance(self.shut) else
                                self.pick(["open"] * 8 + ["throttled"]))
        kind = self.pick(["globe"] * 8 + ["stop-check"])
        self.file.add("valve", id=name, kind=kind, position=position,
                      lockable=self.pick(["yes", "yes", "yes", "assumed"]), place=self.pick(self.places),
                      bore=self.pick(BORES), **said)
        return [(name, "in"), (name, "out")]

    def check(self):
        name = self.new_id("C")
        self.file.add("valve", id=name, kind="check", place=self.pick(self.places))
        return [(name, "in"), (name, "out")]

    def lifted(self):
        """A solenoid with a lifting stem, or a motor valve with a manual opening."""
        name = self.new_id("M")
        kind = self.pick(["solenoid", "control"])
        self.file.add("valve", id=name, kind=kind, drive="motor" if kind == "control" else None,
                      manual_opening="yes", feeds="complete", place=self.pick(self.places),
                      bore=self.pick(BORES))
        self.feed(name, 0.8)
        return [(name, "in"), (name, "out")]

    def machine(self, feeds=0.75):
        name = self.new_id("P")
        self.file.add(self.pick(["pump", "compressor"]), id=name, place=self.pick(self.places),
                      feeds=self.pick([None, "complete"]))
        self.feed(name, feeds)
        return [(name, "in"), (name, "out")]

    def feed(self, name, share):
        while self.chance(share):
            self.file.add("feed", id=self.new_id("Q"), kind="electrical", supplies=name,
                          isolator=self.pick(self.isolators + [None] * 3), lockable="yes", stored="none",
                          place=self.pick(self.places))
            share = 0.2

    def chain(self, start, devices, end, service):
        for enters, leaves in devices:
            self.join(start, enters, service)
            start = leaves
        self.join(start, end, service)

    # ---- relief ----------------------------------------------------------------------------------

    def relief(self, hub):
        """A relief valve to the open or to the vessel, with a stop valve before or behind it at times."""
        name = self.new_id("R")
        self.file.add("valve", id=name, kind="relief", place=self.pick(self.places),
                      set_pressure=self.pick(["18 barg"] * 5 + ["24 barg"]))
        before = [self.stop(sealed=self.pick(["open", None]), position="open")] \
            if self.chance(0.2) else []
        behind = [self.stop(sealed=self.pick(["open", None, None]), position="open")] \
            if self.chance(0.35) else []
        devices = before + [[(name, "in"), (name, "out")]] + behind
        if self.chance(0.4):
            self.chain(self.port(hub), devices, self.port(self.vessel), hub[2])
            return
        out = self.new_id("O")
        self.file.add("outlet", id=out, kind="vent", leads_to="safe-place", shared="no", fitted="open",
                      place="roof")
        self.chain(self.port(hub), devices, (out, "in"), hub[2])

    def bleed(self, hub):
        out = self.new_id("O")
        self.file.add("outlet", id=out, kind=self.pick(["vent", "drain"]), leads_to="safe-place",
                      shared="no", fitted="plug", place=self.pick(self.places))
        devices = [self.stop("closed") for _ in range(self.pick([1, 1, 2]))]
        self.chain(self.port(hub), devices, (out, "in"), hub[2])

    # ---- sides of the section --------------------------------------------------------------------

    def valves(self, hub_service):
        """One valve, or two in a row with a tee between."""
        first = self.stop()
        if not self.chance(self.pairs):
            return [first], []
        tee = self.hub(hub_service)
        if self.chance(0.75):
            self.bleed(tee)
        if self.chance(self.relieved):
            self.relief(tee)
        return [first, [self.port(tee), self.port(tee)], self.stop()], [tee]

    def supply(self, work):
        """A feed side: a main or the vessel, often by a pump, into the section."""
        service = self.pick(["LIQ", "LIQ", "HOT"])
        devices, _ = self.valves(service)
        roll = self.rng.random()
        head = []
        if roll < 0.45:
            head = [self.machine()]
            if self.chance(0.5):
                head.append(self.check())
            if self.chance(0.4):
                head.insert(0, self.stop("open"))
            if self.chance(0.3):         # its own way back
                tee = self.hub(service)
                head.append([self.port(tee), self.port(tee)])
                self.chain(self.port(tee), [self.check()], self.port(self.vessel), service)
        elif roll < 0.75:
            head = [self.check()]
        start = self.port(self.vessel) if head and self.chance(0.5) else self.main()
        self.chain(start, head + devices, self.port(work), service)

    def way_off(self, work):
        """A side that the section empties by: to the vessel, or to what draws from it."""
        service = self.pick(["LIQ", "WET", "WET"])
        devices, _ = self.valves(service)
        tail = []
        roll = self.rng.random()
        if roll < 0.3:
            tail = [self.machine()]
        elif roll < 0.5:
            tail = [self.check()]
        end = self.port(self.vessel) if self.chance(0.75) else self.main()
        self.chain(self.port(work), devices + tail, end, service)

    def main(self):
        name = self.new_id("L")
        self.file.add("limit", id=name, place=self.pick(self.places))
        return (name, "in")

    def extend(self, work):
        """Another part of the section, behind what is opened so that both equalise (E1)."""
        far = self.hub(work[2])
        for _ in range(self.pick([1, 2, 2])):
            device = self.lifted() if self.chance(0.7) else self.stop("closed")
            if self.chance(0.4):
                device.reverse()
            self.chain(self.port(work), [device], self.port(far), work[2])
        if self.chance(0.3):
            self.vessel_at(far)
        return far

    def vessel_at(self, hub):
        """Equipment in the section; small, and mostly taken inside."""
        name = self.new_id("V")
        self.file.add("vessel", [element("port", id="a")], id=name, contents=self.pick(
            ["liquid", "liquid", "none"]), volume="40 L", service="LIQ", place=self.pick(self.places))
        self.join(self.port(hub), (name, "a"), hub[2])

    # ---- the whole -------------------------------------------------------------------------------

    def build(self):
        rng = self.rng
        alike = self.chance(0.5)         # then each valve stands all that can come (D7)
        for name, phase, temperature, pressure, design in (
                ("LIQ", "liquid", "-10 degC", "3 barg", "19 barg"),
                ("WET", "liquid", "-10 degC", "2 barg", "25 barg"),
                ("HOT", "vapour", "40 degC", "8 barg", "25 barg")):
            self.file.add("service", id=name, substance="ammonia", phase=phase, temperature=temperature,
                          pressure=pressure,
                          design_pressure="25 barg" if alike else design)
        vessel = (self.new_id("V"), [], "WET")
        self.vessel = vessel
        work = self.hub("LIQ")
        hubs = [work]
        for _ in range(rng.choice([0, 1, 1, 2])):
            hubs.append(self.extend(self.pick(hubs)))
        for _ in range(rng.choice([1, 1, 2, 3])):
            self.supply(self.pick(hubs))
        for _ in range(rng.choice([0, 1, 1, 2, 2, 3])):
            self.way_off(self.pick(hubs))
        for hub in list(self.hubs):
            if self.chance(self.relieved * 0.6):
                self.relief(hub)
        if self.chance(0.8):
            self.bleed(work)
        self.relief(vessel)
        target = self.target(work)
        for name, ports, _ in self.hubs:
            self.file.add("fitting", [element("port", id=p) for p in ports], id=name, kind="tee",
                          place=self.pick(self.places))
        self.file.add("vessel", [element("port", id=p) for p in vessel[1]], id=vessel[0],
                      contents="two-phase", fill="0.3", volume="3 m3", service="WET",
                      role="low-pressure" if self.chance(0.8) else None)
        rng.shuffle(self.file.elements)
        return Case(self.file.text(), target, rng.choice(GRADES))

    def target(self, work):
        if self.chance(0.3):
            return work[0]
        name = self.new_id("W")
        self.file.add("fitting", [element("port", id=p) for p in ("in", "out")], id=name,
                      kind="strainer", place=self.pick(self.places))
        cap = self.new_id("K")
        self.file.add("cap", id=cap)
        self.join(self.port(work), (name, "in"), "LIQ")
        self.join((name, "out"), (cap, "in"), "LIQ")
        return name


def plant(seed):
    """The plant of a seed, what is opened in it, and the grade to ask for."""
    return Maker(seed).build()


def main(make=plant):
    """Write a plant of `make`: the command line of all generators of this kind."""
    parser = argparse.ArgumentParser(description="write a random plant file")
    parser.add_argument("--seed", default=str(random.SystemRandom().randrange(10 ** 9)))
    options = parser.parse_args()
    case = make(options.seed)
    print("seed %s, target %s, grade %s" % (options.seed, case.target, case.grade), file=sys.stderr)
    sys.stdout.write(case.text)
    return 0


if __name__ == "__main__":
    sys.exit(main())
