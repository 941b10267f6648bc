#!/usr/bin/python3
"""Pieces of a plant and their relief cover, from the wording of the rules alone (L1, L2, L3, L5).

Reads a plant file (FORMAT), cuts it into pieces, and works out by values that only fall, round
after round, the lowest opening pressure that each piece has: a piece takes the least of its ways
out, a three-way valve the highest of what stands behind its positions. All pressures are exact
fractions.

Readings taken where the rules leave room:
- A check valve, relief valve or rupture disc marked seized gives no way and no cover (one idea
  over all: never optimistic). The random plants mark check and stop-check valves sound or seized
  only.
- Sealed open counts for stop kinds (D1) driven by hand, unless their position is said to be
  closed or unknown; for three-way and self-acting kinds a seal means nothing.
- A stop-check valve that is sealed open, or open by hand, passes from `in` to `out` only.
- A spool without service, and a vessel or exchanger side whose service is not said and not agreed
  by its spools, makes the lowest design pressure unknown, also where it declares one of its own.
- "What a component itself declares" counts for the components in the piece and for the devices
  that it ends at, at each of their ends; a `rating` is not a design pressure.
- A relief valve with a declared back pressure takes it when an open outlet is reached ("an open
  outlet first"); into a vessel only that vessel's counts; a balanced one takes none of either.
- A three-way valve has a common port where exactly one is named in every declared position ("the
  one"), and is a way by L1 only, in every state that shut_by names.
- shut_by: hand valves are stop kinds driven by hand; throttled is open. A blind that stands open
  is a way but in plan-only, since only a plan fits it; pumps are never ways.
- closed_by: every device that the piece ends at, relief valves and rupture discs only at their
  outlet.
- stub: a relief valve at the other end is an end that is no cap.
- L3: where liquid is declared or not excluded (N2) among vapour services, or a normal temperature
  or pressure or a volume is not said, either answer is taken ("unclear").

    relief_oracle.py PLANT.xml [AMBIENT_DEGC]
"""

import json
import sys
import xml.etree.ElementTree as ElementTree
from fractions import Fraction

from common import NAMESPACE, byte_order
from quantities import pressure
from relief_fullness import Fullness, vapour_space

STOP_KINDS = {"globe", "gate", "ball", "plug", "butterfly", "diaphragm", "needle", "angle",
              "stop-check"}                                                                    # D1
RELIEF_KINDS = {"relief", "rupture-disc"}
DEVICES = {"valve", "blind", "pump", "compressor"}                                             # L1
FREE_OUTLETS = {"safe-place", "flare-or-scrubber"}
ENDLESS = None                                   # no cover: above every pressure


def lower(one, other):
    """The lower of two pressures, where ENDLESS is above all."""
    if one is ENDLESS or other is ENDLESS:
        return other if one is ENDLESS else one
    return min(one, other)


def higher(one, other):
    return ENDLESS if one is ENDLESS or other is ENDLESS else max(one, other)


class Piece:
    """What stays joined (L1)."""

    def __init__(self):
        self.spools = []
        self.components = set()
        self.joints = []             # (component node, side node or None)
        self.ends = []               # (device node, port)
        self.unjoined = False        # a port joined to nothing: a plant limit (N2)

    @property
    def ids(self):
        return set(self.spools) | self.components


class Plant:
    """A plant file cut into pieces."""

    def __init__(self, text):
        self.root = ElementTree.fromstring(text)
        self.nodes = {}
        self.tags = {}
        self.services = {}
        self.spools = {}
        for node in self.root:
            tag = node.tag.replace("{%s}" % NAMESPACE, "")
            if tag == "service":
                self.services[node.get("id")] = node
            elif tag == "spool":
                self.spools[node.get("id")] = node
            elif tag not in ("feed", "gauge", "sequence"):
                self.nodes[node.get("id")] = node
                self.tags[node.get("id")] = tag
        self.piece_at = {}           # port of a device -> its piece
        self.pieces = self.cut()
        self.lowest = [self.lowest_design(p) for p in self.pieces]

    def ends_of(self, spool):
        return [tuple(self.spools[spool].get(k).rsplit(".", 1)) for k in ("from", "to")]

    def kids(self, node, what):
        return node.findall("{%s}%s" % (NAMESPACE, what))

    # ---- L1 --------------------------------------------------------------------------------------

    def joint(self, place):
        """What a port belongs to: ("device", id, port), or the component or side that joins it."""
        name, port = place
        if self.tags[name] in DEVICES:
            return ("device", name, port)
        if self.tags[name] == "exchanger":
            for side in self.kids(self.nodes[name], "side"):
                if port in [p.get("id") for p in self.kids(side, "port")]:
                    return ("side", name, side.get("id"))
            raise AssertionError(place)
        return ("whole", name, "")

    def cut(self):
        """Join spools that meet at a component which is no device; the rest are ends."""
        parent = {}

        def top(x):
            while parent.setdefault(x, x) != x:
                x = parent[x]
            return x

        used = set()
        for spool in self.spools:
            for place in self.ends_of(spool):
                used.add(place)
                joint = self.joint(place)
                if joint[0] != "device":
                    parent[top(("spool", spool, ""))] = top(joint)
        found = {}
        for spool in self.spools:
            piece = found.setdefault(top(("spool", spool, "")), Piece())
            piece.spools.append(spool)
            for place in self.ends_of(spool):
                if self.tags[place[0]] in DEVICES:
                    piece.ends.append((self.nodes[place[0]], place[1]))
                    self.piece_at[place] = piece
        for key in list(parent):
            if key[0] == "spool" or top(key) not in found:
                continue
            piece, node = found[top(key)], self.nodes[key[1]]
            side = None
            if key[0] == "side":
                side = next(s for s in self.kids(node, "side") if s.get("id") == key[2])
            piece.components.add(key[1])
            piece.joints.append((node, side))
            for port in self.kids(node if side is None else side, "port"):
                piece.unjoined |= (key[1], port.get("id")) not in used
        pieces = list(found.values())
        for number, piece in enumerate(pieces):
            piece.number = number
        return pieces

    # ---- design pressure (L2) ----------------------------------------------------------------

    def service_of(self, node, side):
        """The id of the service of a vessel or side: said, or where its spools agree (FORMAT)."""
        holder = node if side is None else side
        said = holder.get("service") or node.get("service")
        if said:
            return said
        joint = ("whole", node.get("id"), "") if side is None else \
            ("side", node.get("id"), side.get("id"))
        near = {self.spools[s].get("service") for s in self.spools
                for place in self.ends_of(s) if self.joint(place) == joint}
        return near.pop() if len(near) == 1 else None

    def services_of(self, piece):
        """Services of spools, vessels and exchanger sides; None where one is not known."""
        found = {self.spools[s].get("service") for s in piece.spools}
        for node, side in piece.joints:
            if side is not None or self.tags[node.get("id")] == "vessel":
                found.add(self.service_of(node, side))
        return found

    def lowest_design(self, piece):
        """The lowest design pressure of a piece, None when unknown."""
        found = []
        for service in self.services_of(piece):
            found.append(None if service is None
                         else pressure(self.services[service].get("design-pressure")))
        for node, side in piece.joints:
            for holder in (node, side):
                if holder is not None and holder.get("design-pressure") is not None:
                    found.append(pressure(holder.get("design-pressure")))
        for device, _ in piece.ends:
            if device.get("design-pressure") is not None:
                found.append(pressure(device.get("design-pressure")))
        return None if None in found else min(found)

    # ---- ways out (L1, L2) -------------------------------------------------------------------

    def positions(self, valve):
        return [set(p.split("-")) for p in (valve.get("positions") or "").split()]

    def behind(self, valve, port):
        piece = self.piece_at.get((valve.get("id"), port))
        return None if piece is None else piece.number

    @staticmethod
    def sealed_open(valve):
        return valve.get("kind") in STOP_KINDS and valve.get("sealed") == "open" \
            and valve.get("drive", "hand") == "hand" \
            and valve.get("position") not in ("closed", "unknown")

    def ways(self, opened, named=None):
        """For each piece its ways: lists of branches, all of which must lead on; a branch is a list
        of pieces one of which must. `opened`: hand valves and blinds that stand open; `named`:
        the sealed valves that count, None for all."""
        ways = [[] for _ in self.pieces]
        for piece in self.pieces:
            out = ways[piece.number]
            for valve, port in piece.ends:
                kind = valve.get("kind") if self.tags[valve.get("id")] == "valve" else "no valve"
                other = "out" if port == "in" else "in"
                if kind == "check":
                    if port == "in" and valve.get("condition") != "seized":
                        out.append([[self.behind(valve, "out")]])
                elif valve.get("id") in opened or (
                        self.sealed_open(valve) and (named is None or valve.get("id") in named)):
                    if kind != "stop-check" or port == "in":
                        out.append([[self.behind(valve, other)]])
                elif kind == "three-way":
                    declared = self.positions(valve)
                    if [c for c in "abc" if all(c in p for p in declared)] == [port]:
                        out.append([[self.behind(valve, far) for far in p - {port}]
                                    for p in declared])
        return ways

    # ---- cover (L2) --------------------------------------------------------------------------

    def has_free_outlet(self, piece):
        return any(self.tags[n.get("id")] == "outlet" and n.get("leads-to") in FREE_OUTLETS
                   and n.get("fitted") == "open" for n, _ in piece.joints)

    def has_vapour_vessel(self, piece):
        return any(self.tags[n.get("id")] == "vessel" and vapour_space(n) for n, _ in piece.joints)

    def relief_valves(self, piece, named=None):
        return [v for v, port in piece.ends if v.get("kind") in RELIEF_KINDS and port == "in"
                and v.get("set-pressure") is not None and v.get("condition") != "seized"
                and (named is None or v.get("id") in named)]

    @staticmethod
    def spread(ways, value):
        """The least value that each piece can count on, given what stands in each piece itself."""
        value = list(value)
        changed = True
        while changed:
            changed = False
            for number, out in enumerate(ways):
                best = value[number]
                for branches in out:
                    worst = Fraction(-10 ** 9)
                    for branch in branches:
                        least = ENDLESS
                        for far in branch:
                            least = lower(least, ENDLESS if far is None else value[far])
                        worst = higher(worst, least)
                    best = lower(best, worst)
                if best != value[number]:
                    value[number], changed = best, True
        return value

    def cover(self, opened=frozenset(), outlet_first=True, named=None):
        """Cover of every piece in one state of the hand valves, as a Cover; `named`: the sealed and
        relief valves that count, None for all."""
        ways = self.ways(opened, named)
        free = [Fraction(0) if self.has_free_outlet(p) else ENDLESS for p in self.pieces]
        to_free = self.spread(ways, free)
        opening = {}
        while True:
            own = list(free)
            for piece in self.pieces:
                for valve in self.relief_valves(piece, named):
                    own[piece.number] = lower(own[piece.number],
                                              opening.get(valve.get("id"), ENDLESS))
            value = self.spread(ways, own)
            covered = [to_free[p.number] is not ENDLESS
                       or (value[p.number] is not ENDLESS and self.lowest[p.number] is not None
                           and value[p.number] <= self.lowest[p.number]) for p in self.pieces]
            before = dict(opening)
            for piece in self.pieces:
                for valve in self.relief_valves(piece, named):
                    back = self.back_pressure(valve, ways, free, to_free, value, covered,
                                              outlet_first)
                    opening[valve.get("id")] = ENDLESS if back is ENDLESS \
                        else pressure(valve.get("set-pressure")) + back
            if opening == before:
                return Cover(self, ways, opening, value, covered)

    def back_pressure(self, valve, ways, free, to_free, value, covered, outlet_first):
        """What stands against the outlet of a relief valve; ENDLESS when it leads nowhere."""
        number = self.behind(valve, "out")
        if number is None:
            return ENDLESS
        declared = pressure(valve.get("back-pressure")) or Fraction(0)
        if outlet_first and to_free[number] is not ENDLESS:
            back = declared
        else:
            own = [ENDLESS if f is ENDLESS else declared for f in free]
            for piece in self.pieces:
                if self.has_vapour_vessel(piece) and covered[piece.number]:
                    own[piece.number] = lower(own[piece.number], value[piece.number])
            back = self.spread(ways, own)[number]
        return Fraction(0) if back is not ENDLESS and valve.get("balanced") == "yes" else back

    # ---- FORMAT: shut_by, closed_by, stub ----------------------------------------------------

    def hand_state(self, kept_only):
        """What stands open with hand valves in normal; `kept_only`: only use="service", sealed ones
        and blinds."""
        opened = set()
        for name, node in self.nodes.items():
            if self.tags[name] == "blind" and node.get("position") == "open":
                opened.add(name)
            if self.tags[name] != "valve" or node.get("kind") not in STOP_KINDS \
                    or node.get("drive", "hand") != "hand":
                continue
            if kept_only and node.get("use") != "service" and node.get("sealed") is None:
                continue
            normal = node.get("normal") or node.get("position") or "unknown"
            if normal in ("open", "throttled") and node.get("sealed") != "closed":
                opened.add(name)
        return opened

    def closed_by(self, piece):
        return {v.get("id") for v, port in piece.ends
                if v.get("kind") not in RELIEF_KINDS or port == "out"}

    def loops(self, piece):
        """Devices with more than one end at the piece: whether they shut it in is open."""
        names = [v.get("id") for v, _ in piece.ends]
        return {n for n in names if names.count(n) > 1}

    def stub(self, piece):
        """One device shuts it in and all its other ends are caps or capped outlets."""
        if piece.unjoined or len(self.closed_by(piece)) != 1 \
                or any(v.get("kind") in RELIEF_KINDS and port == "in" for v, port in piece.ends):
            return False
        for node, _ in piece.joints:
            tag = self.tags[node.get("id")]
            if tag == "limit" or (tag == "outlet" and node.get("fitted") == "open"):
                return False
        return True

    def segments(self, ambient=40.0):
        """One expected segment for each piece with a spool."""
        now = self.cover()
        normal = self.cover(self.hand_state(False))
        person = self.cover(self.hand_state(True))
        for piece in self.pieces:
            n = piece.number
            shut_by = None
            if not now.covered[n]:
                shut_by = "itself" if not normal.covered[n] else \
                    "person" if not person.covered[n] else "plan-only"
            yield Segment(self, piece, now, shut_by, Fullness(self, piece, ambient).verdict)


class Cover:
    """Cover of all pieces in one state."""

    def __init__(self, plant, ways, opening, value, covered):
        self.plant, self.ways = plant, ways
        self.opening, self.value, self.covered = opening, value, covered

    def useful(self, piece):
        """Ids of what really covers: relief valves that open in time and open outlets, in reach."""
        seen, todo = {piece.number}, [piece.number]
        while todo:
            for branches in self.ways[todo.pop()]:
                for far in (f for b in branches for f in b):
                    if far is not None and far not in seen:
                        seen.add(far)
                        todo.append(far)
        lowest, found = self.plant.lowest[piece.number], set()
        for number in seen:
            here = self.plant.pieces[number]
            for valve in self.plant.relief_valves(here):
                opens = self.opening[valve.get("id")]
                if opens is not ENDLESS and lowest is not None and opens <= lowest:
                    found.add(valve.get("id"))
            found |= {n.get("id") for n, _ in here.joints
                      if self.plant.tags[n.get("id")] == "outlet" and n.get("fitted") == "open"
                      and n.get("leads-to") in FREE_OUTLETS}
        return found


class Segment:
    """What the record should say about a piece."""

    def __init__(self, plant, piece, cover, shut_by, l3):
        self.spools = frozenset(piece.spools)
        self.ids = piece.ids
        self.closed_by = plant.closed_by(piece)
        self.loops = plant.loops(piece)
        self.relief_ends = {v.get("id") for v, _ in piece.ends if v.get("kind") in RELIEF_KINDS}
        self.covered = cover.covered[piece.number]
        self.opening = cover.value[piece.number]
        self.lowest = plant.lowest[piece.number]
        self.useful = cover.useful(piece)
        self.shut_by = shut_by
        self.l3 = l3
        self.stub = plant.stub(piece)
        by_l2 = "covered" if self.covered else "uncovered"
        self.states = {"needs": {by_l2}, "passes": {"not-full"},
                       "unclear": {by_l2, "not-full"}}[l3]


def main():
    with open(sys.argv[1], encoding="utf-8") as stream:
        plant = Plant(stream.read())
    for segment in plant.segments(float(sys.argv[2]) if len(sys.argv) > 2 else 40.0):
        print(json.dumps(dict(
            ids=byte_order(segment.ids), closed_by=byte_order(segment.closed_by),
            state=sorted(segment.states), shut_by=segment.shut_by, stub=segment.stub,
            covered_by=byte_order(segment.useful) if segment.covered else [],
            opening_barg=None if segment.opening is None else float(segment.opening),
            lowest_barg=None if segment.lowest is None else float(segment.lowest)),
            ensure_ascii=False))
    return 0


if __name__ == "__main__":
    sys.exit(main())
