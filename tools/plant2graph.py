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
import xml.etree.ElementTree

SPACE = "{urn:stillset:plant:1}"
STOP = "globe gate ball plug butterfly diaphragm needle angle stop-check".split()
TO_BAR = {"barg": 1, "MPag": 10, "kPag": 0.01}


class Merger:
    """Union-find over ports."""

    def __init__(self):
        self.parent = {}

    def find(self, item):
        parent = self.parent
        parent.setdefault(item, item)
        while parent[item] != item:
            parent[item] = parent[parent[item]]
            item = parent[item]
        return item

    def union(self, one, other):
        self.parent[self.find(one)] = self.find(other)


def bar(node, name):
    """A pressure attribute in bar gauge, None when there is none."""
    text = node.get(name)
    if not text:
        return None
    value, unit = text.split()
    return float(value) * TO_BAR[unit]


def tag(node):
    return node.tag[len(SPACE):]


def end_of(spool, which):
    return tuple(spool.get(which).rsplit(".", 1))


class Plant:
    """The plant, read and merged: every closable device is a door between two pieces."""

    def __init__(self, path):
        elements = list(xml.etree.ElementTree.parse(path).getroot())
        self.services = {e.get("id"): bar(e, "design-pressure")
                         for e in elements if tag(e) == "service"}
        self.spools = [e for e in elements if tag(e) == "spool"]
        self.feeds = [e for e in elements if tag(e) == "feed"]
        self.parts = {e.get("id"): e for e in elements
                      if tag(e) not in ("service", "spool", "feed", "gauge", "sequence")}
        self.merge = Merger()
        self.used = {}                 # port -> spool
        self.named = {}                # fitting -> ports that spools name
        for spool in self.spools:
            one, other = end_of(spool, "from"), end_of(spool, "to")
            self.used[one] = self.used[other] = spool
            for name, port in (one, other):
                self.named.setdefault(name, set()).add(port)
            self.merge.union(one, other)
        self.doors = {}                # closable device -> (port, port)
        for name in self.parts:
            groups = self.ports(name)
            if self.is_closable(name):
                self.doors[name] = tuple((name, p) for p in groups[0])
                continue
            for group in groups:
                for port in group:
                    self.merge.union((name, port), (name, group[0]))

    def ports(self, name):
        """Groups of ports that a component of this kind joins."""
        part = self.parts[name]
        kind = tag(part)
        if kind == "exchanger":
            return [[p.get("id") for p in side.iter(SPACE + "port")]
                    for side in part.iter(SPACE + "side")]
        if kind in ("vessel", "fitting"):
            listed = [p.get("id") for p in part.iter(SPACE + "port")]
            if kind == "fitting" and not listed:
                listed = sorted(self.named.get(name, ()))
            return [listed]
        if kind in ("cap", "outlet", "limit"):
            return [["in"]]
        return [["a", "b", "c"] if part.get("kind") == "three-way" else ["in", "out"]]

    def is_closable(self, name):
        """D1, D2, D6, N2: what may be a point of grade single."""
        part = self.parts[name]
        if tag(part) == "blind":
            return part.get("position") == "closed"
        return (tag(part) == "valve" and part.get("kind") in STOP
                and part.get("drive") in (None, "hand")
                and part.get("lockable") in ("yes", "assumed")
                and part.get("condition") in (None, "sound"))

    def places(self, name):
        """The merged pieces that hold a component."""
        return {self.merge.find((name, p)) for group in self.ports(name) for p in group}

    # ---- facts per piece ---------------------------------------------------------------------

    def sources(self):
        """(piece, id, may be taken inside, component unless it is an open port) for every source
        (N2 to N4)."""
        fed = {}
        for feed in self.feeds:
            for name in (feed.get("supplies") or "").split():
                fed.setdefault(name, []).append(feed.get("lockable") in ("yes", "assumed"))
        for name, part in self.parts.items():
            kind = tag(part)
            for group in self.ports(name):
                for port in group:
                    if (name, port) not in self.used and kind != "cap":
                        yield self.merge.find((name, port)), "%s.%s" % (name, port), False, None
            takeable = None
            if kind == "vessel" and part.get("contents") != "none":
                takeable = True
            elif kind in ("pump", "compressor"):
                takeable = name in fed and all(fed[name])
            elif kind == "limit" and part.get("dead") != "yes":
                takeable = False
            elif kind == "outlet" and not (part.get("shared") == "no" and part.get("leads-to")):
                takeable = False
            if takeable is None:
                continue
            for place in self.places(name):
                yield place, name, takeable, name

    def live_designs(self):
        """piece -> highest known design pressure of what lies in it (D7)."""
        highest = {}

        def note(place, value):
            if value is not None:
                highest[place] = max(value, highest.get(place, value))

        for spool in self.spools:
            note(self.merge.find(end_of(spool, "from")), self.services.get(spool.get("service")))
        for name, part in self.parts.items():
            if name in self.doors:
                continue
            for place in self.places(name):
                note(place, bar(part, "design-pressure"))
                if tag(part) == "vessel":
                    note(place, self.services.get(part.get("service")))
            for side in part.iter(SPACE + "side"):
                for port in side.iter(SPACE + "port"):
                    place = self.merge.find((name, port.get("id")))
                    note(place, bar(side, "design-pressure"))
                    note(place, self.services.get(side.get("service")))
        return highest

    def rating(self, name):
        part = self.parts[name]
        for said in ("rating", "design-pressure"):
            if bar(part, said) is not None:
                return bar(part, said)
        joined = [self.services.get(self.used[p].get("service"))
                  for p in self.doors[name] if p in self.used]
        return min([d for d in joined if d is not None], default=None)

    def passes(self):
        """(inner piece, outer piece, device, holds against what stands outside) for every door,
        both ways (D7)."""
        live = self.live_designs()
        for name, (one, other) in sorted(self.doors.items()):
            rating = self.rating(name)
            one, other = self.merge.find(one), self.merge.find(other)
            for inner, outer in ((one, other), (other, one)):
                holds = not (rating is not None and outer in live and rating < live[outer])
                yield inner, outer, name, holds

    def isolators(self):
        """Isolator -> the pieces that hold what it feeds (N4, N5)."""
        found = {}
        for feed in self.feeds:
            label = feed.get("isolator")
            key = ("isolator", label) if label else ("feed", feed.get("id"))
            for name in (feed.get("supplies") or "").split():
                found.setdefault(key, set()).update(self.places(name))
        return found


class Graph:
    """The merged graph for one target: all that it holds is one piece, and no door."""

    def __init__(self, path, target):
        self.plant = Plant(path)
        self.target = target
        if target not in self.plant.parts:
            raise SystemExit("plant2graph: no component %s" % target)

    def export(self):
        plant, start = self.plant, (self.target, None)
        own = plant.places(self.target)

        def of(place):
            return start if place in own else place

        sources = [(of(place), name, take) for place, name, take, part in plant.sources()
                   if part != self.target or tag(plant.parts[part]) in ("limit", "outlet")]
        passes = [(of(one), of(other), name, holds) for one, other, name, holds in plant.passes()
                  if name != self.target]
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
        for key, places in sorted(plant.isolators().items()):
            node = numbers.setdefault(("feeds", key), len(numbers))
            arcs.append((node, end, 1, key[1]))
            arcs += [(number(p), node, None, key[1])
                     for p in sorted({of(p) for p in places}, key=str) if number(p) != end]
        ids = {}
        for name in plant.parts:
            for place in plant.places(name) | ({start} if name == self.target else set()):
                ids.setdefault(number(of(place)), set()).add(name)
        for spool in plant.spools:
            place = of(plant.merge.find(end_of(spool, "from")))
            ids.setdefault(number(place), set()).add(spool.get("id"))
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
