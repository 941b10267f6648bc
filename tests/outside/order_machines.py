"""Machines that can run and have lost a way (P9), by plain walking (docs/METHOD.md, section 7).

Two readings. Loose: all is open that may be: self-acting and driven devices, unknown kinds and positions, other
machines that can run. Strict: all of that is shut. In both hand valves and blinds known to be
open pass both ways, three-way valves as they stand, check valves and stop-checks forward, what a move has
opened both ways (a stop-check forward), what a move has closed and relief valves nothing. A device whose
supply is off passes nothing, unless it fails open or a move has opened it. A way ends at a vessel, or at a limit that is not dead.

Readings taken where METHOD leaves room:
- In the loose reading a self-acting device passes both ways, whatever its position today is said to be.
- One feed of several that is off takes the supply of a device away; a machine stops when all of its are off.
- A three-way valve that a move has set passes as it is set.
"""

from relief_oracle import STOP_KINDS

OPEN = ("open", "throttled")
NOTHING = ("relief", "rupture-disc")


class Machines:
    """The part of order_world.World that walks for machines."""

    def can_run(self, now):
        """Machines that are not stopped by all of their feeds."""
        off, found = self.off(now), []
        for name in self.machines:
            feeds = self.supplies_of(name)
            if not feeds or any(self.isolator(f) not in off for f in feeds):
                found.append(name)
        return found

    def without_supply(self, name, now):
        off = self.off(now)
        return any(self.isolator(f) in off for f in self.supplies_of(name))

    def passes(self, here, now, first, loose):
        """Ports that flow going outward reaches through a device from one of its ports."""
        name, port = here
        node, tag = self.nodes[name], self.tags[name]
        other = [(name, "out" if port == "in" else "in")]
        if tag in ("pump", "compressor"):
            return other if port == "in" and loose and name in self.can_run(now) else []
        if tag == "blind":
            return other if now[name] in OPEN or loose and now[name] == "unknown" else []
        kind = node.get("kind")
        if kind == "three-way":
            if now[name] == "unknown":
                return [(name, p) for p in "abc" if loose and p != port]
            ports = now[name].split("-")
            return [(name, p) for p in ports if p != port] if port in ports and len(ports) > 1 else []
        forward = other if port == "in" else []
        if kind in NOTHING:
            return []
        if now[name] != first.get(name):
            if now[name] in OPEN:
                return forward if kind in ("check", "stop-check") else other     # a move has opened it
            if now[name] == "closed":
                return []            # a move has closed it
        if kind == "check":
            return forward
        if kind in STOP_KINDS and self.by_hand(name):
            if now[name] not in OPEN and not (loose and now[name] == "unknown"):
                return []
            return forward if kind == "stop-check" else other
        if not loose or (self.without_supply(name, now) and node.get("fails") != "open"):
            return []
        return forward if kind == "stop-check" else other

    def has_way(self, machine, port, now, first, loose):
        """Whether a way leads from a machine's outlet to a vessel or limit, or backward to its inlet."""
        back = port == "in"
        start = self.far_end.get((machine, port))
        seen, todo = {start} - {None}, [start] if start else []
        while todo:
            here = todo.pop()
            name, tag = here[0], self.tags[here[0]]
            if tag == "vessel" or (tag == "limit" and self.nodes[name].get("dead") != "yes"):
                return True
            if here in self.joined:
                there = self.joined[here]
            elif back:
                there = [p for p in self.ports_of(name)
                         if here in self.passes(p, now, first, loose)]
            else:
                there = self.passes(here, now, first, loose)
            for inner in there:
                place = self.far_end.get(inner)
                if place is not None and place not in seen:
                    seen.add(place)
                    todo.append(place)
        return False

    def ports_of(self, name):
        three = self.nodes[name].get("kind") == "three-way" and self.tags[name] == "valve"
        return [(name, p) for p in (("a", "b", "c") if three else ("in", "out"))]

    def machine_ways(self, now, first):
        """(machine, port, reading) that have a way, whether it can run or not."""
        shape = tuple(sorted(now.items()))
        if ("ways", shape) not in self.memory:
            self.memory[("ways", shape)] = frozenset(
                (m, p, loose) for m in self.machines for p in ("in", "out")
                for loose in (True, False) if self.has_way(m, p, now, first, loose))
        return self.memory[("ways", shape)]

    def deadheaded(self, now, first):
        """Machines that can run and have lost a way against the first state, in either reading (P9)."""
        if not self.machines:
            return set()
        lost = {m for m, _, _ in self.machine_ways(first, first) - self.machine_ways(now, first)}
        return lost.intersection(self.can_run(now))
