#!/usr/bin/python3
"""The least plan of grade `single` by trying every set of closable devices, plainly.

Reads a plant file (FORMAT), knows N1 to N5, D1, D2, D6, D7, I1 and I4, and walks. It also holds the
plain conditions that a plan of the product must meet whatever its cost.

    exhaustive.py PLANT.xml TARGET
"""

import itertools
import sys
import xml.etree.ElementTree as ElementTree

from common import NAMESPACE, byte_order

STOP_KINDS = {"globe", "gate", "ball", "plug", "butterfly", "diaphragm", "needle", "angle",
              "stop-check"}                                                                    # D1
PRESSURE_BAR = {"barg": 1.0, "MPag": 10.0, "kPag": 0.01}
MAX_CLOSABLE = 14


class Component:
    """A component: its ports, and the groups of ports that it joins when it is not closed (N1)."""

    def __init__(self, tag, node):
        self.tag = tag
        self.get = node.get
        self.id = node.get("id")
        self.ports = []
        self.groups = None
        self.sides = []
        self.closable = False


class Feed:
    """A feed; without an isolator of its own name it is its own isolator."""

    def __init__(self, node):
        self.id = node.get("id")
        self.supplies = (node.get("supplies") or "").split()
        self.isolator = node.get("isolator") or "feed " + self.id
        self.lockable = node.get("lockable") in ("yes", "assumed")                             # N2


class Plant:
    """The plant file as dictionaries."""

    def __init__(self, text, whole_live_side=False):
        self.whole_live_side = whole_live_side       # D7 read strictly: what stays joined to it
        self.pieces = {}             # a memory for conditions.piece
        self.components = {}
        self.spools = {}
        self.feeds = []
        self.services = {}
        root = ElementTree.fromstring(text)
        for node in root:
            tag = node.tag.replace("{%s}" % NAMESPACE, "")
            if tag == "service":
                self.services[node.get("id")] = node
            elif tag == "spool":
                ends = tuple(tuple(node.get(k).rsplit(".", 1)) for k in ("from", "to"))
                self.spools[node.get("id")] = (ends, node)
            elif tag == "feed":
                self.feeds.append(Feed(node))
            elif tag not in ("gauge", "sequence"):
                self.components[node.get("id")] = self.read_component(tag, node)
        self.at_port = {}
        for spool, (ends, _) in self.spools.items():
            for end in ends:
                assert end not in self.at_port, "two spools at %s.%s" % end
                self.at_port[end] = spool
        for name, port in self.at_port:
            component = self.components[name]
            if port not in component.ports:
                assert component.tag == "fitting" and component.groups is None, (name, port)
                component.ports.append(port)
        for component in self.components.values():
            if component.groups is None:
                component.groups = [component.ports]

    @staticmethod
    def read_component(tag, node):
        """Ports and joined groups by kind (FORMAT, table of elements)."""
        c = Component(tag, node)
        under = lambda n, what: n.findall("{%s}%s" % (NAMESPACE, what))
        listed = [p.get("id") for p in under(node, "port")]
        if tag in ("valve", "pump", "compressor", "blind"):
            c.ports = ["a", "b", "c"] if node.get("kind") == "three-way" else ["in", "out"]
        elif tag == "exchanger":
            c.sides = under(node, "side")
            c.groups = [[p.get("id") for p in under(s, "port")] for s in c.sides]
            c.ports = [p for group in c.groups for p in group]
        elif tag in ("cap", "outlet", "limit"):
            c.ports = ["in"]
        elif tag in ("vessel", "fitting"):
            c.ports = listed
            if listed or tag == "vessel":
                c.groups = [c.ports]
        else:
            raise AssertionError("element " + tag)
        if tag == "valve":                                                          # D1, D2, D6
            c.closable = (node.get("kind") in STOP_KINDS
                          and node.get("drive", "hand") == "hand"
                          and node.get("lockable") in ("yes", "assumed")
                          and node.get("condition", "sound") == "sound")
        if tag == "blind":
            c.closable = node.get("position") == "closed"                           # D1: is fitted
        return c

    # ---- walking (I1: whatever is not closed counts as open) ---------------------------------

    def neighbours(self, target, place, closed):
        """Places joined to a place. A place is (component, port); all of the target's are one."""
        name, port = place
        component = self.components[name]
        if place in self.at_port:
            (first, second), _ = self.spools[self.at_port[place]]
            yield second if place == first else first
        if name == target:
            yield from ((name, p) for p in component.ports)
        elif name not in closed:
            for group in component.groups:
                if port in group:
                    yield from ((name, p) for p in group)

    def walk(self, target, starts, closed):
        """All places that can be reached from `starts` with exactly `closed` closed."""
        seen, todo = set(starts), list(starts)
        while todo:
            for place in self.neighbours(target, todo.pop(), closed):
                if place not in seen:
                    seen.add(place)
                    todo.append(place)
        return seen

    def reach(self, target, closed):
        """Places reached from the target, and the names of the components found there."""
        places = self.walk(target, [(target, p) for p in self.components[target].ports], closed)
        return places, {name for name, _ in places} | {target}

    # ---- sources (N2, N3, N4) ------------------------------------------------------------------

    def source_kind(self, name):
        """None, "inside" (may be taken inside) or "wall" for a component itself (N3, N4)."""
        c = self.components[name]
        if c.tag == "vessel":
            return None if c.get("contents") == "none" else "inside"
        if c.tag in ("pump", "compressor"):
            feeds = [f for f in self.feeds if name in f.supplies]
            return "inside" if feeds and all(f.lockable for f in feeds) else "wall"
        if c.tag == "limit":
            return None if c.get("dead") == "yes" else "wall"
        if c.tag == "outlet":
            known = c.get("shared") == "no" and c.get("leads-to") is not None
            return None if known else "wall"
        return None

    def is_open_port(self, place):
        """A port joined to nothing: a plant limit under pressure (N2); a cap's own port is none."""
        return place not in self.at_port and self.components[place[0]].tag != "cap"

    def sources_in(self, target, places, names):
        """(names taken inside, walls met) among what was reached; the target's contents aside."""
        inside, walls = set(), set()
        for name in names:
            kind = self.source_kind(name)
            if kind == "inside" and name != target:
                inside.add(name)
            elif kind == "wall" and (name != target
                                     or self.components[name].tag in ("limit", "outlet")):
                walls.add(name)
        walls |= {place for place in places if self.is_open_port(place)}
        return inside, walls

    def isolators(self, names):
        """Isolators of the feeds of these components (N5: once per isolator)."""
        return {f.isolator for f in self.feeds if names.intersection(f.supplies)}

    def feed_id(self, isolator):
        """The id of a feed point: the lowest id among the feeds of its isolator."""
        return byte_order(f.id for f in self.feeds if f.isolator == isolator)[0]

    def closables(self, target):
        return [c.id for c in self.components.values() if c.closable and c.id != target]

    # ---- D7 ------------------------------------------------------------------------------------

    def service_design(self, service):
        node = self.services.get(service)
        return None if node is None else pressure(node.get("design-pressure"))

    def rating(self, name):
        """As said, else its own design pressure, else the least known of its spools; bar."""
        c = self.components[name]
        for said in (c.get("rating"), c.get("design-pressure")):
            if pressure(said) is not None:
                return pressure(said)
        designs = [self.service_design(self.spools[self.at_port[(name, p)]][1].get("service"))
                   for p in c.ports if (name, p) in self.at_port]
        return min((d for d in designs if d is not None), default=None)

    def live_design(self, places):
        """The highest known design pressure of what lies in these places; bar or None."""
        found = []
        for spool, (ends, node) in self.spools.items():
            if ends[0] in places or ends[1] in places:
                found.append(self.service_design(node.get("service")))
        names = {name for name, _ in places}
        for name in names:
            c = self.components[name]
            if c.closable:
                continue             # a device at the edge of the space is not what stands in it
            found.append(pressure(c.get("design-pressure")))
            if c.tag == "vessel":
                found.append(self.service_design(c.get("service")))
            for side, group in zip(c.sides, c.groups):
                if any((name, p) in places for p in group):
                    found.append(pressure(side.get("design-pressure")))
                    found.append(self.service_design(side.get("service")))
        return max((d for d in found if d is not None), default=None)

    def live_places(self, target, place, closed):
        """The live side of a device of P from its outer port (METHOD: the adjoining piece)."""
        walls = closed if self.whole_live_side else set(self.closables(target))
        return self.walk(target, [place], walls)

    def holds(self, name, live_places):
        """D7: refused only where both are known and the rating is the lower one."""
        rating, live = self.rating(name), self.live_design(live_places)
        return rating is None or live is None or rating >= live


def pressure(text):
    """A pressure in bar above atmosphere, or None when not said."""
    if text is None:
        return None
    number, unit = text.split()
    return float(number) * PRESSURE_BAR[unit]


class Search:
    """Every set of closable devices of a plant for one target, with its cost."""

    def __init__(self, plant, target):
        self.plant, self.target = plant, target
        self.devices = plant.closables(target)
        assert len(self.devices) <= MAX_CLOSABLE, len(self.devices)
        self.best = None             # (sources, points)
        self.optimal = []            # sets P of that cost
        all_closed = frozenset(self.devices)
        self.piece_of = {}           # place -> its piece: what stays joined when all are closed
        for name, c in plant.components.items():
            for port in c.ports:
                if (name, port) not in self.piece_of:
                    piece = frozenset(plant.walk(target, [(name, port)], all_closed))
                    self.piece_of.update(dict.fromkeys(piece, piece))
        own = [(target, port) for port in plant.components[target].ports]
        self.start = self.piece_of[own[0]] if own else frozenset()
        self.facts = {}
        for piece in set(self.piece_of.values()) | {self.start}:
            names = frozenset(n for n, _ in piece) | ({target} if piece == self.start else set())
            self.facts[piece] = (names, *plant.sources_in(target, piece, names))
        self.hold = {(d, p): plant.holds(d, self.piece_of[(d, p)])
                     for d in self.devices for p in ("in", "out")}

    def run(self):
        for size in range(len(self.devices) + 1):
            for chosen in itertools.combinations(self.devices, size):
                self.rate(frozenset(chosen))
        return self

    def inside(self, closed):
        """I(P) as a set of pieces."""
        seen, todo = {self.start}, [self.start]
        doors = [(self.piece_of[(d, "in")], self.piece_of[(d, "out")])
                 for d in self.devices if d not in closed]
        while todo:
            here = todo.pop()
            for a, b in doors:
                for there in ((b,) if a is here else ()) + ((a,) if b is here else ()):
                    if there not in seen:
                        seen.add(there)
                        todo.append(there)
        return seen

    def rate(self, closed):
        """Keep a set when it is feasible and no dearer than the best so far (I4)."""
        seen = self.inside(closed)
        if any(self.facts[piece][2] for piece in seen):
            return
        for d in closed:
            a, b = self.piece_of[(d, "in")], self.piece_of[(d, "out")]
            for inner, outer, port in ((a, b, "out"), (b, a, "in")):
                if inner in seen and outer not in seen and not self.held(d, port, closed):
                    return
        names = set().union(*(self.facts[piece][0] for piece in seen))
        sources = set().union(*(self.facts[piece][1] for piece in seen))
        cost = (len(sources), len(closed) + len(self.plant.isolators(names)))
        if self.best is None or cost < self.best:
            self.best, self.optimal = cost, []
        if cost == self.best:
            self.optimal.append(closed)

    def held(self, device, outer_port, closed):
        """Whether a device of P holds against what stands at its outer port (D7)."""
        if self.plant.whole_live_side:
            return self.plant.holds(device, self.plant.live_places(
                self.target, (device, outer_port), closed))
        return self.hold[(device, outer_port)]

    def point_ids(self, closed):
        """The sorted ids of the points of a set, feeds among them (I4)."""
        _, names = self.plant.reach(self.target, closed)
        feeds = [self.plant.feed_id(i) for i in self.plant.isolators(names)]
        return byte_order(list(closed) + feeds)

    def lowest_ids(self):
        """The point list that comes first among the optimal sets, compared bytewise."""
        return min((self.point_ids(p) for p in self.optimal),
                   key=lambda ids: [i.encode("utf-8") for i in ids])

    def least_places(self):
        """What all optimal sets enclose; they form a lattice, so this is the smallest I(P)."""
        return frozenset.intersection(*(frozenset(self.plant.reach(self.target, closed)[0])
                                        for closed in self.optimal))

    def volume_unknown(self):
        """Whether every optimal set encloses a pipe of unknown volume, so that mass is equal."""
        common = self.least_places()
        return any(ends[0] in common and (node.get("length") is None or node.get("bore") is None)
                   for ends, node in self.plant.spools.values())

    def liquid_beyond_least(self, points):
        """Pipes in liquid service that these points enclose beyond the smallest I(P)."""
        places = self.plant.reach(self.target, set(points))[0] - self.least_places()
        liquid = {i for i, s in self.plant.services.items() if s.get("phase") == "liquid"}
        return {spool for spool, (ends, node) in self.plant.spools.items()
                if ends[0] in places and node.get("service") in liquid}


def relief_can_matter(plant):
    """Whether D4 could tell plans apart: something in the plant can let pressure off today."""
    return any(c.get("kind") in ("relief", "rupture-disc")
               or (c.tag == "outlet" and c.get("fitted") == "open")
               for c in plant.components.values())


def main():
    with open(sys.argv[1], encoding="utf-8") as stream:
        plant = Plant(stream.read())
    search = Search(plant, sys.argv[2]).run()
    if search.best is None:
        print("infeasible")
        return 1
    print("sources %d, points %d, sets %d" % (*search.best, len(search.optimal)))
    for closed in search.optimal:
        print(" ".join(search.point_ids(closed)))
    return 0


if __name__ == "__main__":
    sys.exit(main())
