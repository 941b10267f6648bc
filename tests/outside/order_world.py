"""What is wrong in one state on the way through a plan: equipment without a relief path (D4), pipes full
of liquid that have lost their last cover, and segments shut in (L6); machines without a way (P9) are in order_machines.py.
Plain walks and the values of relief_oracle.py; nothing of the product's code.

A state is where each device stands: a dictionary id -> position ("open", "closed", "throttled",
"unknown", a way of a three-way valve, "on" or "off" for a feed, "removed" or "spade fitted" for a pipe).
Source of the conditions: RULES L1 to L3, L6, D4, P3, P9; docs/METHOD.md sections 5 and 7.

Readings taken where these leave room:
- A hand stop valve that stands open or throttled, a blind that stands open and what a move has opened (a
  lifting stem, a manual opening) are ways and join pieces to a segment; a stop-check is a way forward
  and joins nothing; a driven valve is neither, unless a move has opened it. One that a move has
  closed is no way, whatever its seal says, nor is a three-way valve that a move has set. An outlet whose cap a
  step takes off is not made an open outlet.
- A segment is covered when each of its pieces is; it needs no cover when it passes L3 as a whole.
- A piece is full by the services of its own pipes, sides and vessels; vapour space counts for its whole segment.
- Equipment: a vessel that holds something and a pump or compressor have a relief path when a piece at
  one of their ports is covered; an exchanger loses its own when one of its sides that hold something does.
"""

import relief_oracle
from order_machines import OPEN, Machines
from relief_fullness import Fullness
from relief_oracle import STOP_KINDS


class World(Machines, relief_oracle.Plant):
    """A plant, its feeds, and what each state of it costs."""

    def __init__(self, text, ambient=40.0):
        self.memory, self.spreads = {}, {}
        self.set_by_move = frozenset()
        super().__init__(text)
        self.ambient = ambient
        self.feeds, self.places = {}, {}
        for node in self.root:
            tag = node.tag.rsplit("}", 1)[-1]
            self.places[node.get("id")] = node.get("place")
            if tag == "feed":
                self.feeds[node.get("id")] = node
        self.machines = sorted(n for n, t in self.tags.items() if t in ("pump", "compressor"))
        self.far_end = {}
        for spool in self.spools:
            a, b = self.ends_of(spool)
            self.far_end[a], self.far_end[b] = b, a
        self.joined = {}             # port -> the other ports of what joins whatever stands closed
        for name, node in self.nodes.items():
            if self.tags[name] in relief_oracle.DEVICES:
                continue
            groups = [[p.get("id") for p in self.kids(s, "port")] for s in self.kids(node, "side")] \
                or [[p for n, p in self.far_end if n == name]]
            for group in groups:
                for port in group:
                    self.joined[(name, port)] = [(name, p) for p in group if p != port]

    # ---- positions -----------------------------------------------------------------------------

    def start(self, record=None):
        """Where everything stands before the first step: the plant file, what a state says of it (N2)."""
        now = {}
        for name, node in self.nodes.items():
            if self.tags[name] in ("valve", "blind"):
                now[name] = node.get("position") or node.get("sealed") or "unknown"
        now.update(dict.fromkeys(self.feeds, "on"))
        if record:
            now.update(record["start"])
        return now

    def isolator(self, feed):
        return self.feeds[feed].get("isolator") or "feed " + feed

    def off(self, now):
        """Isolators that stand in off: the point names one feed of each."""
        return {self.isolator(f) for f in self.feeds if now[f] == "off"}

    def by_hand(self, name):
        return self.nodes[name].get("drive", "hand") == "hand"

    def is_way(self, name, now, first):
        """Whether a valve or blind is a way of this state (L2), other than a sealed or check valve's."""
        node = self.nodes[name]
        if now.get(name) not in OPEN:
            return False
        if self.tags[name] == "blind":
            return True
        if node.get("kind") in STOP_KINDS and self.by_hand(name):
            return True
        return node.get("kind") not in ("check", "three-way") and now[name] != first.get(name)

    def supplies_of(self, name):
        return [f for f, node in self.feeds.items()
                if name in node.get("supplies", "").replace(",", " ").split()]

    # ---- values of relief_oracle.py, each worked out once in a state ------------------------------

    def cover(self, *given, **named):
        self.spreads = {}
        return super().cover(*given, **named)

    def positions(self, valve):
        return [] if valve.get("id") in self.set_by_move else super().positions(valve)

    def spread(self, ways, value):
        key = tuple(value)
        if key not in self.spreads:
            self.spreads[key] = super().spread(ways, value)
        return self.spreads[key]

    def has_vapour_vessel(self, piece):
        key = ("vapour", tuple(id(node) for node, _ in piece.joints))
        if key not in self.memory:
            self.memory[key] = super().has_vapour_vessel(piece)
        return self.memory[key]

    # ---- L6 and D4 -----------------------------------------------------------------------------

    def relief_state(self, now, first):
        """Cover of each piece, kept by what can matter."""
        opened = frozenset(n for n in now if n in self.nodes and self.is_way(n, now, first))
        shut = frozenset(n for n in now if n in self.nodes and now[n] not in OPEN
                         and now[n] != first.get(n))
        key = (opened, shut)
        if key not in self.memory:
            named = {n for n, t in self.tags.items() if t == "valve" and n not in shut}
            self.set_by_move = shut
            self.memory[key] = (opened, self.cover(opened, named=named))
            self.set_by_move = frozenset()
        return self.memory[key]

    def segments(self, opened):
        """Sets of numbers of pieces that stand joined."""
        top = list(range(len(self.pieces)))

        def find(x):
            while top[x] != x:
                x = top[x]
            return x
        for name in opened:
            if self.nodes[name].get("kind") == "stop-check":
                continue
            a, b = self.behind(self.nodes[name], "in"), self.behind(self.nodes[name], "out")
            if a is not None and b is not None:
                top[find(a)] = find(b)
        found = {}
        for piece in self.pieces:
            found.setdefault(find(piece.number), set()).add(piece.number)
        return [frozenset(s) for s in found.values()]

    def fullness(self, segment):
        """L3 of a segment: "passes", "needs" or "unclear"; see relief_fullness.py."""
        key = ("full", segment)
        if key not in self.memory:
            whole = relief_oracle.Piece()
            for number in sorted(segment):
                piece = self.pieces[number]
                whole.spools += piece.spools
                whole.components |= piece.components
                whole.joints += piece.joints
            lows = [self.lowest[n] for n in segment]
            whole.number = len(self.lowest)
            self.lowest.append(None if None in lows else min(lows))
            self.memory[key] = Fullness(self, whole, self.ambient).verdict, self.is_full(whole)
            self.lowest.pop()
        return self.memory[key]

    def is_full(self, whole):
        """Full of liquid by the first sentence of L3; content that is not said is liquid (N2)."""
        if self.has_vapour_vessel(whole):
            return False
        nodes = [None if s is None else self.services[s] for s in self.services_of(whole)]
        unsaid = [n for n, side in whole.joints if side is not None or self.tags[
            n.get("id")] == "vessel" if (n if side is None else side).get("contents") is None]
        return bool(unsaid) or None in nodes or any(n.get("phase") != "vapour" for n in nodes)

    def ends(self):
        """Pieces at which the drawing ends: a limit that is not dead, or a port that no pipe is joined to (N2)."""
        if "ends" not in self.memory:
            found = set()
            for piece in self.pieces:
                for name in piece.components:
                    node, tag = self.nodes.get(name), self.tags.get(name)
                    ports = [p.get("id") for p in self.kids(node, "port")] if tag in ("vessel", "fitting") else []
                    if tag == "limit" and node.get("dead") != "yes" \
                            or any((name, p) not in self.far_end for p in ports):
                        found.add(piece.number)
            for name, tag in self.tags.items():
                if tag in ("valve", "blind", "pump", "compressor"):
                    for _, port in self.ports_of(name):
                        if (name, port) not in self.far_end:
                            found.add(self.behind(self.nodes[name], port))
            self.memory["ends"] = found
        return self.memory["ends"]

    def spaces(self, now, first):
        """Pieces that stand joined to vapour space, or to where the drawing ends."""
        opened, _ = self.relief_state(now, first)
        key = ("spaces", opened)
        if key not in self.memory:
            self.memory[key] = {n for s in self.segments(opened)
                                if any(self.has_vapour_vessel(self.pieces[m]) or m in self.ends() for m in s)
                                for n in s}
        return self.memory[key]

    def lost_cover(self, now, first):
        """Pieces full of liquid that had cover or vapour space before the first move, and have neither now."""
        _, cover = self.relief_state(now, first)
        _, before = self.relief_state(first, first)
        has, had = self.spaces(now, first), self.spaces(first, first)
        return {p.number for p in self.pieces
                if not cover.covered[p.number] and p.number not in has and self.is_full(p)
                and (before.covered[p.number] or p.number in had)}

    def pipes_of(self, pieces):
        return {s for n in pieces for s in self.pieces[n].spools}

    def closed_in(self, now, first, moved):
        """Segments without cover that `moved` shut in or that have lost their cover, and what valves of
        unknown position part from one: list of (spools, L3 is unclear, full of liquid)."""
        opened, cover = self.relief_state(now, first)
        segments = self.segments(opened)
        number = {n: i for i, s in enumerate(segments) for n in s}
        touched, beside = {number[n] for n in self.lost_cover(now, first)}, {}
        for name, tag in self.tags.items():
            if tag not in ("valve", "blind"):
                continue
            ends = [self.behind(self.nodes[name], p) for p in ("in", "out", "a", "b", "c")]
            ends = [number[e] for e in ends if e is not None]
            if name in moved:
                touched.update(ends)
            hand = tag == "blind" or (self.nodes[name].get("kind") in STOP_KINDS
                                      and self.by_hand(name))
            if hand and now[name] == "unknown":
                for end in ends:
                    beside.setdefault(end, set()).update(ends)
        todo = list(touched)
        while todo:
            for there in beside.get(todo.pop(), set()) - touched:
                touched.add(there)
                todo.append(there)
        found = []
        for i in sorted(touched):
            if all(cover.covered[n] for n in segments[i]):
                continue
            verdict, full = self.fullness(segments[i])
            if verdict != "passes":
                spools = frozenset(s for n in segments[i] for s in self.pieces[n].spools)
                found.append((spools, verdict == "unclear", full))
        return found

    def protected(self, now, first):
        """Equipment, exchangers by side, that has a relief path in this state (D4)."""
        _, cover = self.relief_state(now, first)
        found = set()
        for piece in self.pieces:
            if not cover.covered[piece.number]:
                continue
            for node, side in piece.joints:
                holder = node if side is None else side
                if self.tags[node.get("id")] in ("vessel", "exchanger") \
                        and holder.get("contents") != "none":
                    found.add((node.get("id"), None if side is None else side.get("id")))
            for device, _ in piece.ends:
                if self.tags[device.get("id")] in ("pump", "compressor"):
                    found.add((device.get("id"), None))
        return found

    def lost_relief(self, now, first):
        """Ids of equipment that has lost its last relief path against the first state (D4)."""
        return {n for n, _ in self.protected(first, first) - self.protected(now, first)}
