"""The moves of a plan record: what they are, on which side of the section they stand, which must come before
which (docs/METHOD.md, section 7; P2, E1, P6, P8), and what the states between them cost.

Sides are found by walking from the opened component, points counted, over the plant file alone.

Readings taken where section 7 leaves room:
- The section, for a device further out, is what lies between it and the work: the port that fewer points
  part from the work is the inner one. Inside are the work's space and those between, where no source is.
- A way off of unknown position stands open (N2: when we isolate), for the receiver side and for rule 5.
- The receiver is looked for outward only: points are passed as they stand, never back inside; pumps,
  self-acting and driven devices are passed where they are one-way devices alone (forward).
- Rule 5 asks for a way off that stands open: checking a closed one equalises nothing.
- On the way back a feed side is one of vapour when the pipe at its live side is said to carry vapour.
- A driven point is looked at after its feeds are off: these close it (D3).
- Liquid comes back out of the inner ports of a point that is open again, from there over all that is not shut by
  hand; by a stop-check that leads off none does. A three-way valve that is still set passes as it is set.
"""

import heapq
import itertools

from grade_plant import GradePlant
from order_world import OPEN
from quantities import kelvin_of, pressure
from relief_oracle import STOP_KINDS

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
        self.feed_side = self.receiver = self.mixed = self.vapour = self.wets = self.behind = False
        self.warms = self.cools = False
        self.lives = []              # (port of the device, far end of the pipe there) at its live side
        self.inner = []              # ports of the device on the other side
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
        self.inside = self.emptied()
        self.lowest_inside = self.lowest_pressure()
        self.moves = [self.move(s) for s in record["steps"]
                      if s["phase"] == "isolate" and s["change"]]
        self.back = [self.move(s) for s in record["restore"]
                     if s["phase"] == "remove" and s["change"] and s["id"] in self.closers]
        self.stages = sorted({m.stage for m in self.moves})
        self.find_heat()

    def relief_stage(self):
        """Moves of a stage of its own in which relief paths alone are closed, once the section has been emptied
        by outlets that are not open to the air (D4, P1); [] = there is none."""
        later = [m for m in self.moves if not m.late and m.stage > 1]
        return later if later and all(m.behind for m in later) else []

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
        three = self.world.nodes[move.id].get("kind") == "three-way"
        move.mixed = not outer or len(inner) > 1 and not three
        move.feed_side = three or inner == ["out"]
        if move.mixed:
            return
        move.behind = (move.id, inner[0]) not in self.inside
        move.lives = [((move.id, p), self.world.far_end.get((move.id, p))) for p in outer]
        move.inner = [(move.id, p) for p in inner]
        phases = {self.phase(p) for p, _ in move.lives}
        move.vapour = phases == {"vapour"}
        move.wets = not move.vapour if move.feed_side else bool(phases & {"liquid", None}) \
            and self.world.nodes[move.id].get("kind") != "stop-check"
        move.receiver = move.way_off and not move.late and self.world.by_hand(move.id) and self.first[move.id] != "closed" \
            and (move.id, inner[0]) in self.inside and any(
                self.reaches_receiver(p) for p, _ in move.lives)

    def service_at(self, place):
        """The service of the pipe at a port, or None."""
        spool = self.plant.at_port.get(place)
        return self.world.services.get(self.world.spools[spool].get("service")) if spool else None

    def phase(self, place):
        service = self.service_at(place)
        return None if service is None else service.get("phase")

    # ---- heat of the other side (N5, rule 6) -----------------------------------------------------

    def side_kelvin(self, side):
        service = self.world.services.get(side.get("service"))
        return None if service is None else kelvin_of(service.get("temperature"))

    def joined_to_side(self, start):
        """Places within the boundary that are joined to a side, points and relief valves passed."""
        seen, todo = {start}, [start]
        while todo:
            place = todo.pop()
            c = self.plant.components[place[0]]
            there = [(place[0], p) for group in (c.groups if c.sides else [c.ports])
                     if place[1] in group for p in group]
            spool = self.plant.at_port.get(place)
            if spool is not None:
                there += self.plant.spools[spool][0]
            for other in there:
                if other not in seen and (self.lookup(other) == 0 or other in self.inside):
                    seen.add(other)
                    todo.append(other)
        return seen

    def find_heat(self):
        """Barriers of the warmer and of the cooler sides of exchangers inside; a temperature that is not said
        counts as the warmer. What is joined to both kinds of sides counts as neither."""
        warm, cool = set(), set()
        for name, c in self.plant.components.items():
            here = [(side, (name, group[0])) for side, group in zip(c.sides, c.groups)
                    if group and self.lookup((name, group[0])) == 0]
            for side, place in here:
                own = self.side_kelvin(side)
                others = [self.side_kelvin(s) for s, _ in here if s is not side]
                known = [k for k in others if k is not None]
                warmer = any(own is None or own > k for k in known)
                cooler = own is not None and (any(own < k for k in known) or len(known) < len(others))
                if cooler:
                    cool |= self.joined_to_side(place)
                elif warmer:
                    warm |= self.joined_to_side(place)
        barriers = [m for m in self.moves if m.inner and not m.late and not m.behind]
        for move in barriers:
            move.warms = move.inner[0] in warm - cool and not move.receiver
            move.cools = move.inner[0] in cool - warm
        if not (any(m.warms for m in barriers) and any(m.cools for m in barriers)):
            self.forget_heat()
        for stage in self.valve_stages():
            moves = [m for m in self.moves if m.stage == stage]
            if not self.has_order(moves):
                self.forget_heat()

    def forget_heat(self):
        for move in self.moves:
            move.warms = move.cools = False

    def has_order(self, moves):
        """Whether what must come before what leaves an order at all."""
        left = list(moves)
        while left:
            free = [m for m in left if not any(self.before(o, m, moves) for o in left if o is not m)]
            if not free:
                return False
            left = [m for m in left if m not in free]
        return True

    # ---- the receiver side -------------------------------------------------------------------------

    def spaces_at(self, start):
        """Ports that stay joined to these with every point in its place."""
        seen, todo = set(start), list(start)
        while todo:
            place = todo.pop()
            there = []
            spool = self.plant.at_port.get(place)
            if spool is not None and spool not in self.closers:
                there += self.plant.spools[spool][0]
            for group in self.groups(place[0]):
                if place[1] in group:
                    there += [(place[0], p) for p in group]
            for other in there:
                if other not in seen:
                    seen.add(other)
                    todo.append(other)
        return seen

    def emptied(self):
        """Ports inside that empty with the work: none behind a relief valve or rupture disc."""
        taken = {s["id"] for s in self.record["sources_inside"]}
        live = {place for name, places, may in self.plant.sources() if not (may and name in taken)
                for place in places}
        within = set(self.plant.opened)
        todo = [p for p in self.plant.opened]
        spaces = {}
        while todo:
            place = todo.pop()
            if place not in spaces:
                space = frozenset(self.spaces_at([place]))
                spaces.update((p, space) for p in space)
            name, port = place
            there = list(self.plant.spools[self.plant.at_port[place]][0]) \
                if place in self.plant.at_port else []
            relieves = self.world.nodes[name].get("kind") in ("relief", "rupture-disc")
            if name in self.plant.whole or name in self.closers:
                there += [(name, p) for p in self.plant.components[name].ports]
            elif not relieves:
                for group in self.plant.joined_ports(name):
                    there += [(name, p) for p in group] if port in group else []
            for other in there:
                if other in within:
                    continue
                if other not in spaces:
                    space = frozenset(self.spaces_at([other]))
                    spaces.update((p, space) for p in space)
                if not live.intersection(spaces[other]) or self.lookup(other) == 0:
                    within.add(other)
                    todo.append(other)
        return within

    def pressure_of(self, spool):
        service = self.world.services.get(self.world.spools[spool].get("service"))
        return None if service is None else pressure(service.get("pressure"))

    def lowest_pressure(self):
        """The lowest normal pressure that is known of a pipe inside; None: of none."""
        known = [self.pressure_of(s) for s in self.world.spools
                 if all(tuple(e) in self.inside for e in self.world.ends_of(s))]
        return min((p for p in known if p is not None), default=None)

    def passes_out(self, here):
        """Whether the section may empty through a device, entered at this port."""
        node = self.world.nodes[here[0]]
        tag, kind, now = self.world.tags[here[0]], node.get("kind"), self.first.get(here[0])
        if tag in ("pump", "compressor"):
            return False
        if tag == "blind":
            return now in OPEN
        if kind in STOP_KINDS:
            return now in OPEN and (kind != "stop-check" or here[1] == "in")
        return here[1] == "in" and kind not in ("relief", "rupture-disc", "three-way", "unknown", None)

    def reaches_receiver(self, start):
        """Whether a low-pressure vessel is reached from a port at the live side by ways that pass outward."""
        seen, todo = {start}, [start]
        while todo:
            inner = todo.pop()
            place, spool = self.world.far_end.get(inner), self.plant.at_port.get(inner)
            if place is None or place in seen or self.lowest_inside is None:
                continue
            stands = self.pressure_of(spool)
            if stands is None or stands > self.lowest_inside or self.lookup(place) == 0:
                continue
            seen.add(place)
            node = self.world.nodes[place[0]]
            if self.world.tags[place[0]] == "vessel" and node.get("role") == "low-pressure":
                return True
            there = self.world.joined.get(place)
            if there is None:
                there = [p for p in self.world.ports_of(place[0]) if p != place] \
                    if self.passes_out(place) else []
            new = [p for p in there if p not in seen and self.lookup(p) > 0]
            seen.update(new)
            todo += new
        return False

    # ---- liquid on the way back ----------------------------------------------------------------

    def wet(self, now):
        """Ports that liquid can have reached from the sides that are open again."""
        todo = [p for m in self.back if m.wets and m.to != m.was and now[m.id] == m.to
                for p in m.inner]
        seen = set(todo)
        while todo:
            place = todo.pop()
            far = self.world.far_end.get(place)
            for other in ([far] if far else []) + self.lets_by(place, now):
                if other not in seen:
                    seen.add(other)
                    todo.append(other)
        return seen

    def lets_by(self, place, now):
        name, port = place
        node, tag = self.world.nodes[name], self.world.tags[name]
        if place in self.world.joined:
            return self.world.joined[place]
        if tag in ("pump", "compressor"):
            return [p for p in self.world.ports_of(name) if p != place]
        stands, kind = now.get(name), node.get("kind")
        others = [p for p in self.world.ports_of(name) if p != place]
        if name in self.closers and self.closers[name]["to"] == stands != "closed":
            return [p for p in others if {p[1], port} <= set(stands.split("-"))]
        by_hand = tag == "blind" or kind in STOP_KINDS and self.world.by_hand(name)
        if stands == "closed" and (by_hand or name in self.closers):
            return []
        if kind in ("check", "stop-check", "relief", "rupture-disc") and port != "in":
            return []
        return others

    # ---- what must come before what ------------------------------------------------------------

    def before(self, one, other, stage):
        """Whether `one` must come before `other`, both moves of the list `stage` (P2, E1)."""
        if one.behind or other.behind:
            return other.behind and not one.behind
        if one.warms and other.cools:
            return True
        if one.cools and other.warms:
            return False
        if one.kind == BARRIER and one.feed_side and (other.way_off or other.kind == OPENING):
            return True
        if one.kind == other.kind == BARRIER and one.feed_side and other.feed_side:
            return one.level == 2 and other.level == 1
        if one.kind == FEED and other.kind == OPENING:
            return True
        if one.kind == FEED and other.kind == BARRIER and self.isolates(one.id, other.id):
            return True
        if one.kind == other.kind == OPENING:
            return one.bore < other.bore
        return other.receiver and not one.receiver and one in stage

    def isolates(self, feed, device):
        """Whether a device loses its supply with this feed: it closes by that, and is looked at then (D3)."""
        off = self.world.isolator(feed)
        return any(self.world.isolator(f) == off for f in self.world.supplies_of(device))

    def waits(self, stage):
        """Ways off of which one must come after all openings (rule 5); empty: not asked."""
        if any(m.receiver for m in stage) or not any(m.kind == OPENING for m in stage):
            return []
        return [m for m in stage if m.way_off and m.was != "closed" and not m.behind and not m.warms]

    def may_be_next(self, move, done, stage):
        """Whether the hard rules let `move` come after exactly the moves of `done`."""
        rest = [m for m in stage if m not in done and m is not move]
        if any(self.before(m, move, stage) for m in rest):
            return False
        waits = self.waits(stage)
        if move in waits and not [w for w in waits if w in rest]:
            return not any(m.kind == OPENING for m in rest)
        return True

    def group_back(self, move):
        """Place in the order of the way back (P6, P8); of one place the warmer side of an exchanger last (N5)."""
        warms = any(m.warms for m in self.moves if m.id == move.id)
        if move.behind:
            return 0, warms
        if move.receiver:
            return 1, warms
        if move.way_off:
            return 4 if move.wets else 2, warms
        return 3 if move.vapour else 4, warms

    def stands(self, now, back=False):
        """The state as it counts: a driven point is closed from its feed on (D3)."""
        if back:
            return now
        now = dict(now)
        for name in self.closers:
            if name in self.world.nodes and not self.world.by_hand(name) \
                    and self.world.without_supply(name, now):
                now[name] = self.closers[name]["to"]
        return now

    def moved(self, now):
        """Devices that stand closed, or set, because the plan moved them."""
        return {n for n in self.closers if n in self.world.nodes
                and now[n] not in OPEN and now[n] != self.first[n]}

    def broken(self, now, back=False):
        """(machines P9, equipment D4, segments L6) in a state; on the way back no machines, and of
        segments those that liquid can have come to."""
        world, now = self.world, self.stands(now, back)
        segments = world.closed_in(now, self.first, self.moved(now))
        machines = set() if back else world.deadheaded(now, self.first)
        if back:
            wet = self.wet(now)
            segments = [s for s in segments if any(e in wet for n in s[0] for e in world.ends_of(n))]
        return machines, world.lost_relief(now, self.first), segments

    def lost_pipes(self, now, back=False):
        """Pipes that have lost their last cover: what L6 costs in a state."""
        now = self.stands(now, back)
        pipes = self.world.pipes_of(self.world.lost_cover(now, self.first))
        if back:
            wet = self.wet(now)
            pipes = {s for s in pipes if any(e in wet for e in self.world.ends_of(s))}
        return pipes
