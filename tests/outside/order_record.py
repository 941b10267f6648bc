"""The moves of a plan record: what they are, on which side of the section they stand, which must come before
which (docs/METHOD.md, section 7; P2, E1, P6, P8), and what the states between them cost.

Sides are found by walking from the opened component, points counted, over the plant file alone.

Readings taken where section 7 leaves room:
- The section, for a device further out, is what lies between it and the work: the port that fewer points
  part from the work is the inner one. A three-way valve whose inner ports are of both sides has no side.
- The receiver is looked for outward only: points are passed as they stand, never towards the work.
- Rule 5 asks for a way off that stands open: checking a closed one equalises nothing.
- On the way back a feed side is one of vapour when the pipe at its live side is said to carry vapour.
"""

import heapq
import itertools

from grade_plant import GradePlant
from order_world import OPEN

FEED, BARRIER, OPENING = "feed", "barrier", "opening"
FIT = ("fit", "remove")
FOREVER = 10 ** 6


class Move:
    """A step of the phase isolate (or remove) that moves or checks something."""

    def __init__(self, step, point, kind):
        self.n, self.id, self.kind = step["n"], step["id"], kind
        self.stage = step["stage"]
        self.level = point["level"] if point else 0
        self.action = point["action"] if point else "open"
        self.was, self.to = step["change"]["from"], step["change"]["to"]
        # Blinds, spades, pipes taken out: a stage of their own.
        self.late = self.action in FIT and point["from"] != "closed"
        self.place = None
        self.feed_side = self.receiver = self.mixed = self.vapour = False
        self.bore = None

    @property
    def way_off(self):
        return self.kind == BARRIER and not self.feed_side and not self.mixed

    def __repr__(self):
        return "%s %s" % (self.kind, self.id)


class Plan:
    """A record read against its plant."""

    def __init__(self, world, text, record):
        self.world, self.record = world, record
        self.plant = GradePlant(text, record["target"])
        self.points = {p["id"]: p for p in record["points"]}
        self.first = world.start(record)
        self.closers = {p["id"]: p for p in record["points"]
                        if p["level"] and p["action"] != "switch-off"}
        self.label = self.labels()
        self.moves = [self.move(s) for s in record["steps"]
                      if s["phase"] == "isolate" and s["change"]]
        self.back = [self.move(s) for s in record["restore"]
                     if s["phase"] == "remove" and s["change"] and s["id"] in self.closers]
        self.stages = sorted({m.stage for m in self.moves})

    def valve_stages(self):
        """Stages whose moves are no blinds, spades or pipes."""
        return [s for s in self.stages
                if not any(m.late for m in self.moves if m.stage == s)]

    # ---- the section ---------------------------------------------------------------------------

    def groups(self, name):
        """Groups of ports that a component joins with every point in its place (I1)."""
        point = self.closers.get(name)
        if point is None:
            return self.plant.joined_ports(name)
        ports = self.plant.components[name].ports
        way = point["to"].split("-")
        if len(way) > 1 and all(p in ports for p in way):
            return [way] + [[p] for p in ports if p not in way]
        return [[p] for p in ports]

    def labels(self):
        """For each port how many points lie between it and what is opened (at least)."""
        found, todo, count = {}, [], itertools.count()
        for place in self.plant.opened:
            heapq.heappush(todo, (0, next(count), place))
        while todo:
            value, _, place = heapq.heappop(todo)
            if place in found:
                continue
            found[place] = value
            name, port = place
            groups = [self.plant.components[name].ports] if name in self.plant.whole \
                else self.groups(name)
            for group in groups:
                cost = 0 if port in group else 1
                for other in group:
                    heapq.heappush(todo, (value + cost, next(count), (name, other)))
            spool = self.plant.at_port.get(place)
            if spool is not None and spool not in self.plant.opened_spools:
                a, b = self.plant.spools[spool][0]
                cost = 1 if spool in self.closers else 0
                heapq.heappush(todo, (value + cost, next(count), b if place == a else a))
        return found

    def lookup(self, place):
        return self.label.get(place, FOREVER)

    # ---- what a move is ------------------------------------------------------------------------

    def move(self, step):
        point = self.points.get(step["id"])
        if step["id"] in self.world.feeds:
            kind = FEED
        else:
            kind = BARRIER if step["id"] in self.closers else OPENING
        move = Move(step, point, kind)
        move.place = self.world.places.get(step["id"]) or "alone " + step["id"]
        if kind == OPENING:
            move.bore = self.bore(step["id"])
        if kind == BARRIER and step["id"] in self.plant.components:
            self.find_side(move)
        return move

    def bore(self, name):
        """A nominal bore as a number; unknown = largest (METHOD, 7)."""
        said = self.world.nodes[name].get("bore")
        if said is None:
            near = {self.world.spools[s].get("bore") for s in self.world.spools
                    for n, _ in self.world.ends_of(s) if n == name}
            said = near.pop() if len(near) == 1 else None
        return int(said[2:]) if said and said.startswith("DN") else FOREVER

    def find_side(self, move):
        ports = self.plant.components[move.id].ports
        near = min(self.lookup((move.id, p)) for p in ports)
        inner = [p for p in ports if self.lookup((move.id, p)) == near]
        outer = [p for p in ports if p not in inner]
        sides = {p in ("out", "a") for p in inner}
        move.mixed = len(sides) != 1 or not outer
        move.feed_side = sides == {True}
        if move.mixed:
            return
        lives = [self.world.far_end.get((move.id, p)) for p in outer]
        spools = [self.plant.at_port.get((move.id, p)) for p in outer]
        services = [self.world.services.get(self.world.spools[s].get("service"))
                    for s in spools if s]
        move.vapour = bool(services) and all(
            s is not None and s.get("phase") == "vapour" for s in services)
        move.receiver = move.way_off and not move.late and self.first[move.id] not in (
            "closed", "unknown") and any(self.reaches_receiver(p) for p in lives if p)

    def reaches_receiver(self, start):
        """Whether a low-pressure vessel is reached by ways that pass outward."""
        seen, todo = {start}, [start]
        while todo:
            here = todo.pop()
            node = self.world.nodes[here[0]]
            if self.world.tags[here[0]] == "vessel" and node.get("role") == "low-pressure":
                return True
            there = self.world.joined.get(here)
            if there is None:
                there = [] if self.world.tags[here[0]] in ("pump", "compressor") \
                    else self.world.passes(here, self.first, self.first, True)
            for inner in there:
                place = self.world.far_end.get(inner)
                if place and place not in seen and self.lookup(inner) >= self.lookup(here):
                    seen.add(place)
                    todo.append(place)
        return False

    # ---- what must come before what ------------------------------------------------------------

    def before(self, one, other, stage):
        """Whether `one` must come before `other`, both moves of the list `stage` (P2, E1)."""
        if one.kind == BARRIER and one.feed_side and (other.way_off or other.kind == OPENING):
            return True
        if one.kind == FEED and other.kind == OPENING:
            return True
        if one.kind == other.kind == OPENING:
            return one.bore < other.bore
        return other.receiver and not one.receiver and one in stage

    def waits(self, stage):
        """Ways off of which one must come after all openings (rule 5); empty: not asked."""
        if any(m.receiver for m in stage) or not any(m.kind == OPENING for m in stage):
            return []
        return [m for m in stage if m.way_off and m.was != "closed"]

    def may_be_next(self, move, done, stage):
        """Whether the hard rules let `move` come after exactly the moves of `done`."""
        rest = [m for m in stage if m not in done and m is not move]
        if any(self.before(m, move, stage) for m in rest):
            return False
        waits = self.waits(stage)
        if move in waits and not [w for w in waits if w in rest]:
            return not any(m.kind == OPENING for m in rest)
        return True

    @staticmethod
    def group_back(move):
        """Place in the order of the way back (P6, P8)."""
        if move.receiver:
            return 0
        if move.way_off:
            return 1
        return 2 if move.vapour else 3

    def moved(self, now):
        """Devices that stand closed, or set, because the plan moved them."""
        return {n for n in self.closers if n in self.world.nodes
                and now[n] not in OPEN and now[n] != self.first[n]}

    def broken(self, now):
        """(machines P9, equipment D4, segments L6) in a state."""
        world = self.world
        return (world.deadheaded(now, self.first), world.lost_relief(now, self.first),
                world.closed_in(now, self.first, self.moved(now)))


def lowest_id(spools):
    return min(spools, key=lambda i: i.encode("utf-8"))
