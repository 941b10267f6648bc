#!/usr/bin/python3
"""Turn a plant file and a target into the merged graph of grade `single`, as JSON.

For checks with other tools (NetworkX, a spreadsheet, by eye). Independent of the program: it reads
the plant file by FORMAT and applies RULES N1 to N5, D1, D2, D6, D7 and I1.

    plant2graph.py PLANT.xml TARGET > graph.json

Output:
  feasible   false when a source that cannot be taken inside is joined to the target
  forced     ids of the sources that every plan takes inside
  nodes      merged pieces: number, ids, and whether it is the start, a wall or a plain one
  arcs       from, to, capacity (null = cannot be cut), by (id of the device or isolator)
  start, end numbers of the two terminals (the end stands for all walls)
The least number of points is the least cut from start to end.
"""

import json
import sys
import xml.dom.minidom

STOP = "globe gate ball plug butterfly diaphragm needle angle stop-check".split()
TO_BAR = {"barg": 1, "MPag": 10, "kPag": 0.01}


class Merger:
    """Union-find over ports; every component also has a node for what joins all its ports."""

    def __init__(self):
        self.parent = {}

    def find(self, item):
        self.parent.setdefault(item, item)
        while self.parent[item] != item:
            self.parent[item] = self.parent[self.parent[item]]
            item = self.parent[item]
        return item

    def union(self, one, other):
        self.parent[self.find(one)] = self.find(other)


def attribute(node, name):
    return node.getAttribute(name) if node.hasAttribute(name) else None


def bar(node, name):
    """A pressure attribute in bar gauge, None when there is none."""
    text = attribute(node, name)
    if not text:
        return None
    value, unit = text.split()
    return float(value) * TO_BAR[unit]


def children(node, tag=None):
    return [c for c in node.childNodes
            if c.nodeType == c.ELEMENT_NODE and (tag is None or c.localName == tag)]


class Graph:
    """The plant, read and merged for one target."""

    def __init__(self, path, target):
        root = xml.dom.minidom.parse(path).documentElement
        elements = children(root)
        self.target = target
        self.services = {attribute(e, "id"): bar(e, "design-pressure")
                         for e in elements if e.localName == "service"}
        self.spools = [e for e in elements if e.localName == "spool"]
        self.feeds = [e for e in elements if e.localName == "feed"]
        self.parts = {attribute(e, "id"): e for e in elements
                      if e.localName not in ("service", "spool", "feed", "gauge", "sequence")}
        if target not in self.parts:
            raise SystemExit("plant2graph: no component %s" % target)
        self.merge = Merger()
        self.used = {}                 # port -> spool
        for spool in self.spools:
            one, other = (tuple(attribute(spool, k).rsplit(".", 1)) for k in ("from", "to"))
            self.used[one] = self.used[other] = spool
            self.merge.union(one, other)
        self.doors = {}                # closable device -> (port, port)
        for name, part in self.parts.items():
            self.join_component(name, part)

    def ports(self, name):
        """Groups of ports that a component of this kind joins."""
        part = self.parts[name]
        kind = part.localName
        if kind == "exchanger":
            return [[attribute(p, "id") for p in children(s, "port")]
                    for s in children(part, "side")]
        if kind in ("vessel", "fitting"):
            named = [attribute(p, "id") for p in children(part, "port")]
            if kind == "fitting" and not named:
                named = sorted(p for c, p in self.used if c == name)
            return [named]
        if kind in ("cap", "outlet", "limit"):
            return [["in"]]
        return [["a", "b", "c"] if attribute(part, "kind") == "three-way" else ["in", "out"]]

    def is_closable(self, name):
        """D1, D2, D6, N2: what may be a point of grade single."""
        part = self.parts[name]
        if part.localName == "blind":
            return attribute(part, "position") == "closed"
        return (part.localName == "valve" and attribute(part, "kind") in STOP
                and attribute(part, "drive") in (None, "hand")
                and attribute(part, "lockable") in ("yes", "assumed")
                and attribute(part, "condition") in (None, "sound"))

    def join_component(self, name, part):
        groups = self.ports(name)
        if name == self.target:
            self.merge.find((name, None))
            for port in sum(groups, []):
                self.merge.union((name, port), (name, None))
        elif self.is_closable(name):
            self.doors[name] = tuple((name, p) for p in groups[0])
        else:
            for group in groups:
                for port in group:
                    self.merge.union((name, port), (name, group[0]))

    def places(self, name):
        """The merged pieces that hold a component."""
        found = {self.merge.find((name, p)) for group in self.ports(name) for p in group}
        return found | ({self.merge.find((name, None))} if name == self.target else set())

    # ---- facts per piece ---------------------------------------------------------------------

    def sources(self):
        """(piece, id, may be taken inside) for every source (N2 to N4)."""
        for name, part in self.parts.items():
            kind = part.localName
            for group in self.ports(name):
                for port in group:
                    if (name, port) not in self.used and kind != "cap":
                        yield self.merge.find((name, port)), "%s.%s" % (name, port), False
            takeable = None
            if kind == "vessel" and attribute(part, "contents") != "none":
                takeable = True
            elif kind in ("pump", "compressor"):
                fed = [attribute(f, "lockable") in ("yes", "assumed") for f in self.feeds
                       if name in (attribute(f, "supplies") or "").split()]
                takeable = bool(fed) and all(fed)
            elif kind == "limit" and attribute(part, "dead") != "yes":
                takeable = False
            elif kind == "outlet" and not (attribute(part, "shared") == "no"
                                           and attribute(part, "leads-to")):
                takeable = False
            if takeable is None or (name == self.target and kind not in ("limit", "outlet")):
                continue
            for place in self.places(name):
                yield place, name, takeable

    def live_designs(self):
        """piece -> highest known design pressure of what lies in it (D7)."""
        highest = {}

        def note(place, value):
            if value is not None:
                highest[place] = max(value, highest.get(place, value))

        for spool in self.spools:
            note(self.merge.find(tuple(attribute(spool, "from").rsplit(".", 1))),
                 self.services.get(attribute(spool, "service")))
        for name, part in self.parts.items():
            if name in self.doors:
                continue
            for place in self.places(name):
                note(place, bar(part, "design-pressure"))
                if part.localName == "vessel":
                    note(place, self.services.get(attribute(part, "service")))
            for side in children(part, "side"):
                for port in children(side, "port"):
                    place = self.merge.find((name, attribute(port, "id")))
                    note(place, bar(side, "design-pressure"))
                    note(place, self.services.get(attribute(side, "service")))
        return highest

    def rating(self, name):
        part = self.parts[name]
        for said in ("rating", "design-pressure"):
            if bar(part, said) is not None:
                return bar(part, said)
        joined = [self.services.get(attribute(self.used[p], "service"))
                  for p in self.doors[name] if p in self.used]
        return min([d for d in joined if d is not None], default=None)

    # ---- the graph ---------------------------------------------------------------------------

    def export(self):
        live = self.live_designs()
        start = self.merge.find((self.target, None))
        sources = list(self.sources())
        passes = []                    # (inner piece, outer piece, device, holds)
        for name, (one, other) in sorted(self.doors.items()):
            rating = self.rating(name)
            one, other = self.merge.find(one), self.merge.find(other)
            for inner, outer in ((one, other), (other, one)):
                holds = not (rating is not None and outer in live and rating < live[outer])
                passes.append((inner, outer, name, holds))
        forced = {start}
        while True:
            more = {b for a, b, _, holds in passes if a in forced and not holds} - forced
            if not more:
                break
            forced |= more
        walls = {place for place, _, _ in sources if place not in forced}
        numbers = {}

        def number(place):
            return numbers.setdefault("end" if place in walls else place, len(numbers))

        number(start)
        end = numbers.setdefault("end", len(numbers))
        arcs = [(number(a), number(b), 1 if holds else None, name)
                for a, b, name, holds in passes]
        isolators = {}
        for feed in self.feeds:
            label = attribute(feed, "isolator")
            key = ("isolator", label) if label else ("feed", attribute(feed, "id"))
            for name in (attribute(feed, "supplies") or "").split():
                isolators.setdefault(key, set()).update(self.places(name))
        for key, places in sorted(isolators.items()):
            node = numbers.setdefault(("feeds", key), len(numbers))
            arcs.append((node, end, 1, key[1]))
            arcs += [(number(p), node, None, key[1])
                     for p in sorted(places, key=str) if number(p) != end]
        ids = {}
        for name in self.parts:
            for place in self.places(name):
                ids.setdefault(number(place), set()).add(name)
        for spool in self.spools:
            place = self.merge.find(tuple(attribute(spool, "from").rsplit(".", 1)))
            ids.setdefault(number(place), set()).add(attribute(spool, "id"))
        return {
            "feasible": not any(place in forced and not take for place, _, take in sources),
            "forced": sorted({i for place, i, take in sources if place in forced and take}),
            "start": numbers[start], "end": end,
            "nodes": [{"number": n, "ids": sorted(ids.get(n, ())),
                       "kind": "start" if n == numbers[start] else "wall" if n == end else "plain"}
                      for n in range(len(numbers))],
            "arcs": [{"from": a, "to": b, "capacity": c, "by": by}
                     for a, b, c, by in arcs if a != b],
        }


def main():
    if len(sys.argv) != 3:
        print(__doc__.strip(), file=sys.stderr)
        return 2
    json.dump(Graph(sys.argv[1], sys.argv[2]).export(), sys.stdout, indent=1, ensure_ascii=False)
    print()
    return 0


if __name__ == "__main__":
    sys.exit(main())
