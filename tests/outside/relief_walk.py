"""Relief cover by walking a plant in one state of all its devices, room by room (L2, L5).

Written apart from relief_oracle.py: no values that settle; a plain walk through what stands open in
this one state, relief valves followed one after the other, none twice. A room is what is joined
whatever stands closed, found by flooding from port to port. Only the reading of pressures is
shared.
"""

import itertools
import xml.etree.ElementTree as ElementTree

from common import NAMESPACE
from quantities import pressure

HAND = ("globe", "gate", "ball", "plug", "butterfly", "diaphragm", "needle", "angle", "stop-check")


class State:
    """Devices that stand open, and the position in which each three-way valve stands."""

    def __init__(self, opened, turned):
        self.opened, self.turned = opened, turned


class Room:
    """What stands in a room, and the lowest design pressure there (None: unknown)."""

    def __init__(self, walker, places):
        self.outlet, self.vessel, self.valves = False, False, []
        designs = [walker.service.get(walker.spool_at[p].get("service")) for p in places
                   if p in walker.spool_at]
        for name, port in places:
            e, kind = walker.element[name], walker.kind[name]
            if kind == "outlet":
                self.outlet |= e.get("fitted") == "open" \
                    and e.get("leads-to") in ("safe-place", "flare-or-scrubber")
            elif kind in ("relief", "rupture-disc") and port == "in":
                self.valves.append(name)
            elif kind == "vessel":
                self.vessel |= e.get("contents") == "vapour" or (
                    e.get("contents") == "two-phase" and float(e.get("fill", "1")) < 1)
            if e.get("design-pressure"):
                designs.append(pressure(e.get("design-pressure")))
            if kind == "vessel":
                designs.append(self.holder_design(walker, e, e, name, places))
            if kind == "exchanger":
                side = next(s for s in e if port in [p.get("id") for p in s])
                if side.get("design-pressure"):
                    designs.append(pressure(side.get("design-pressure")))
                mine = {(name, p.get("id")) for p in side}
                designs.append(self.holder_design(walker, e, side, name, places & mine))
        self.limit = None if None in designs else min(designs)

    @staticmethod
    def holder_design(walker, whole, holder, name, places):
        """Design pressure of the service of a vessel or side: said, or agreed by its spools."""
        service = holder.get("service") or whole.get("service")
        if not service:
            near = {walker.spool_at[p].get("service") for p in places
                    if p[0] == name and p in walker.spool_at}
            service = near.pop() if len(near) == 1 else None
        return walker.service.get(service)


class Walker:
    """A plant as ports and what leads from each to the next."""

    def __init__(self, text):
        self.element, self.kind = {}, {}
        self.next_port, self.joined = {}, {}
        self.spool_at, self.service = {}, {}
        spools = []
        for e in ElementTree.fromstring(text):
            tag = e.tag[len(NAMESPACE) + 2:]
            if tag == "spool":
                a, b = (e.get(k).rpartition(".") for k in ("from", "to"))
                a, b = (a[0], a[2]), (b[0], b[2])
                self.next_port[a], self.next_port[b] = b, a
                self.spool_at[a] = self.spool_at[b] = e
                spools.append((e, a, b))
            elif tag == "service":
                self.service[e.get("id")] = pressure(e.get("design-pressure"))
            elif tag not in ("feed", "sequence", "gauge"):
                self.element[e.get("id")] = e
                self.kind[e.get("id")] = e.get("kind", "unknown") if tag == "valve" else tag
        ports = {}
        for name, port in self.next_port:
            ports.setdefault(name, []).append(port)
        for name, e in self.element.items():
            groups = [[p.get("id") for p in s] for s in e if s.tag.endswith("}side")]
            if self.kind[name] not in ("vessel", "fitting", "exchanger"):
                groups = []
            elif not groups:
                groups = [ports.get(name, [])]
            for group in groups:
                for port in group:
                    self.joined[(name, port)] = [(name, p) for p in group if p != port]
        self.room_at = {}            # port -> number of its room
        self.rooms = []              # what stands in each room
        for _, a, b in spools:
            if a not in self.room_at:
                places = self.flood([a, b])
                self.room_at.update(dict.fromkeys(places, len(self.rooms)))
                self.rooms.append(Room(self, places))
        self.room_of = {e.get("id"): self.room_at[a] for e, a, _ in spools}
        tags = ("}valve", "}blind", "}pump", "}compressor")
        self.doors = [(self.room_at[p], p) for p in self.next_port if p not in self.joined
                      and self.element[p[0]].tag.endswith(tags)]
        self.memory = {}

    def flood(self, start):
        """Ports joined to a port whatever stands closed."""
        seen, todo = set(start), list(start)
        while todo:
            here = todo.pop()
            there = list(self.joined.get(here, ()))
            if here in self.next_port:
                there.append(self.next_port[here])
            for place in there:
                if place not in seen:
                    seen.add(place)
                    todo.append(place)
        return seen

    # ---- devices ---------------------------------------------------------------------------------

    def through(self, here, state):
        """Ports that fluid reaches through a device from one of its ports."""
        name, port = here
        e, kind = self.element[name], self.kind[name]
        far = (name, "out" if port == "in" else "in")
        if kind == "check":
            return [far] if port == "in" and e.get("condition") != "seized" else []
        if kind in ("relief", "rupture-disc"):
            return []
        if kind == "three-way":
            position = state.turned.get(name)
            if position is None or port not in position.split("-"):
                return []
            common = set("abc").intersection(*(p.split("-") for p in e.get("positions").split()))
            if common != {port}:
                return []            # L1: a way out from the common port only
            return [(name, p) for p in position.split("-") if p != port]
        if name in state.opened or self.stands_open(name):
            return [] if port == "out" and kind in ("stop-check", "pump", "compressor") else [far]
        return []

    def stands_open(self, name):
        """Sealed open, and nothing but a hand could shut it."""
        e = self.element[name]
        return self.kind[name] in HAND and e.get("sealed") == "open" \
            and e.get("drive") in (None, "hand") \
            and e.get("position") in (None, "open", "throttled")

    def closable(self):
        """Devices that range over open and closed."""
        return [n for n, k in self.kind.items()
                if (k in ("blind", "pump", "compressor") or n in self.element
                    and self.element[n].tag.endswith("}valve"))
                and k not in ("check", "relief", "rupture-disc", "three-way")
                and not self.stands_open(n)]

    def turnable(self):
        """Three-way valves with declared positions."""
        return {n: self.element[n].get("positions").split() for n, k in self.kind.items()
                if k == "three-way" and self.element[n].get("positions")}

    def turnings(self):
        """All positions of the three-way valves."""
        valves = self.turnable()
        for choice in itertools.product(*valves.values()):
            yield dict(zip(valves, choice))

    def states(self):
        """Every combination of closable devices and three-way positions, all closed first."""
        devices = self.closable()
        turnings = list(self.turnings())
        for size in range(len(devices) + 1):
            for opened in itertools.combinations(devices, size):
                for turned in turnings:
                    yield State(frozenset(opened), turned)

    def named_states(self, person):
        """FORMAT, shut_by: hand valves in normal; `person`: only use="service" and sealed ones."""
        opened = {n for n, k in self.kind.items()
                  if k == "blind" and self.element[n].get("position") == "open"}
        for name, kind in self.kind.items():
            e = self.element[name]
            if kind in HAND and e.get("drive", "hand") == "hand" and (
                    not person or e.get("sealed") or e.get("use") == "service") \
                    and e.get("normal", e.get("position")) in ("open", "throttled"):
                opened.add(name)
        for turned in self.turnings():
            yield State(frozenset(opened), turned)

    # ---- cover -----------------------------------------------------------------------------------

    def moves(self, state):
        """From each room, the rooms that fluid reaches through one device in this state."""
        if "moves" not in self.memory:
            moves = [set() for _ in self.rooms]
            for room, port in self.doors:
                moves[room].update(self.room_at[p] for p in self.through(port, state)
                                   if p in self.room_at)
            self.memory["moves"] = moves
        return self.memory["moves"]

    def seen_from(self, room, state):
        """(an open outlet is reached, relief valves reached at `in`, rooms of vessels reached)."""
        if room not in self.memory:
            moves, seen, todo = self.moves(state), {room}, [room]
            while todo:
                for there in moves[todo.pop()] - seen:
                    seen.add(there)
                    todo.append(there)
            self.memory[room] = (any(self.rooms[r].outlet for r in seen),
                                 sorted({v for r in seen for v in self.rooms[r].valves}),
                                 sorted(r for r in seen if self.rooms[r].vessel))
        return self.memory[room]

    def lowest_opening(self, room, state, passed):
        """The lowest opening pressure from a room, no relief valve passed twice; None = no way."""
        outlet, valves, _ = self.seen_from(room, state)
        if outlet:
            return 0
        found = [self.opening(v, state, passed) for v in valves if v not in passed]
        return min((f for f in found if f is not None), default=None)

    def opening(self, valve, state, passed):
        """Set pressure and back pressure of a relief valve, None where it covers nothing."""
        e = self.element[valve]
        out = self.room_at.get((valve, "out"))
        if out is None or e.get("set-pressure") is None or e.get("condition") == "seized":
            return None
        outlet, _, vessels = self.seen_from(out, state)
        balanced = e.get("balanced") == "yes"
        if outlet:
            back = 0 if balanced else pressure(e.get("back-pressure")) or 0
        else:
            backs = [self.vessel_back(v, state, passed | {valve}) for v in vessels]
            back = min((b for b in backs if b is not None), default=None)
            if back is None:
                return None
        return pressure(e.get("set-pressure")) + (0 if balanced else back)

    def vessel_back(self, room, state, passed):
        """The lowest opening pressure that covers a vessel; None when it is not covered."""
        lowest = self.lowest_opening(room, state, passed)
        return lowest if self.is_enough(lowest, room, state) else None

    def is_enough(self, lowest, room, state):
        if self.seen_from(room, state)[0]:
            return True
        limit = self.rooms[room].limit
        return lowest is not None and limit is not None and lowest <= limit

    def covered(self, spool, state):
        """Whether the piece of a spool has cover by L2 in this state."""
        room = self.room_of[spool]
        return self.is_enough(self.lowest_opening(room, state, frozenset()), room, state)

    def forget(self):
        self.memory.clear()

    def ever_uncovered(self, states, spools):
        """Those of the spools whose pieces are without cover in one of the states or more."""
        waiting, found, count = list(spools), set(), 0
        for state in states:
            count += 1
            self.forget()
            bad = [s for s in waiting if not self.covered(s, state)]
            if bad:
                found.update(bad)
                waiting = [s for s in waiting if s not in bad]
            if not waiting:
                break
        self.forget()
        return found, count
