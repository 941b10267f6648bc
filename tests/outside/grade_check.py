"""Is a given set of points right? Port by port, and apart from grade_search and grade_bleed.

`verdict` takes a plan as anyone may give it: which devices are points (and how a three-way valve
stands), which level each has (positive), which sources are taken inside, which isolators are locked.
It says every rule that fails (I1, I2, N3 to N5, D1 to D3, D5 to D7).
"""

from grade_plant import POSITIVE, VALVE

FREE = frozenset()


class Plan:
    """What is closed, and what goes with it."""

    def __init__(self, closed, taken=(), isolators=(), levels=None):
        self.closed = dict(closed)   # id -> setting ("" for two-port devices)
        self.taken = set(taken)
        self.isolators = set(isolators)
        self.levels = levels or {}


class Verdict:
    def __init__(self, plant, grade, plan):
        self.plant, self.grade, self.plan = plant, grade, plan
        self.bad = []
        self.devices = {d.id: d for d in plant.devices_of(grade)}
        self.parts = {}              # id -> groups of ports that stay joined
        self.admissible()
        if self.bad:
            return
        everything = frozenset(plan.closed)
        self.inner = everything
        self.level_of = dict(plan.levels)
        if grade == "positive":
            self.inner = frozenset(n for n in everything if plan.levels.get(n) == 1)
        self.zero = self.walk(plant.opened, self.inner)
        if grade != "positive":
            for name in everything:
                touches = any(p in self.zero for p in self.devices[name].places)
                self.level_of[name] = 1 if touches else 2
        self.demands()
        self.feeds()
        self.ratings()

    # ---- points ------------------------------------------------------------------------------------

    def admissible(self):
        for name, setting in self.plan.closed.items():
            device = self.devices.get(name)
            if device is None:
                self.bad.append("[D1] %s is no admissible point" % name)
                continue
            groups = [g for s, g in device.settings if s == setting]
            if not groups:
                self.bad.append("[D5] %s has no position %r that closes" % (name, setting))
                continue
            self.parts[name] = groups[0]
            if not device.locks <= self.plan.isolators:
                self.bad.append("[D3] the supply of %s is not locked" % name)
            if self.grade == "positive":
                layer = {1: POSITIVE, 2: VALVE}.get(self.plan.levels.get(name))
                if layer not in device.layers:
                    self.bad.append("[D1] %s cannot have level %r"
                                    % (name, self.plan.levels.get(name)))

    # ---- walking -----------------------------------------------------------------------------------

    def steps(self, place, shut):
        """Ports next to a port when the points in `shut` are closed and all else is open."""
        name, port = place
        spool = self.plant.at_port.get(place)
        if spool is not None and spool not in shut:
            one, other = self.plant.spools[spool][0]
            yield other if one == place else one
        if name in shut:
            for group in self.parts[name]:
                if place in group:
                    yield from group
        else:
            for group in self.plant.joined_ports(name):
                if port in group:
                    yield from ((name, p) for p in group)

    def walk(self, starts, shut):
        seen = set(starts)
        todo = list(seen)
        while todo:
            for there in self.steps(todo.pop(), shut):
                if there not in seen:
                    seen.add(there)
                    todo.append(there)
        return seen

    def sides(self, name):
        return set(self.devices[name].places)

    # ---- demands -----------------------------------------------------------------------------------

    def demands(self):
        if self.grade == "single-bleed":
            left = set(self.zero)
            while left:
                space = self.walk({next(iter(left))}, self.inner)
                left -= space
                if not self.is_bled(space):
                    self.bad.append("[I2] the work's space is not bled: %s"
                                    % sorted({n for n, _ in space})[:6])
        if self.grade == "double-bleed":
            self.find_stations()
        for name, places, may in self.plant.sources():
            if name in self.plan.taken:
                if not may:
                    self.bad.append("[N4] %s cannot be taken inside" % (name,))
                continue
            if not self.kept_off(places):
                self.bad.append("[I1] %s is not kept off to grade %s" % (name, self.grade))

    def kept_off(self, places):
        opened, everything = self.plant.opened, frozenset(self.plan.closed)
        if self.grade in ("single", "single-bleed"):
            return not self.walk(places, everything) & opened
        if self.grade == "double":
            return not any(self.walk(places, everything - {x}) & opened
                           for x in list(everything) + [None])
        if self.grade == "positive":
            if self.walk(places, self.inner) & opened:
                return False
            seen = self.walk(places, everything - self.inner)
            return not seen & opened and not any(seen & self.sides(n) for n in self.inner)
        return self.passes_a_station(places)

    def passes_a_station(self, places):
        """double-bleed: walk on, but never across a point out of a station that was entered."""
        everything = frozenset(self.plan.closed)
        seen = {(p, False) for p in places}
        todo = list(seen)
        while todo:
            place, crossed = todo.pop()
            if place in self.plant.opened:
                return False
            found = {(p, crossed) for p in self.steps(place, everything)}
            if not (crossed and place in self.stations) and place[0] in everything:
                found |= {(p, True) for p in self.sides(place[0])}
            for state in found - seen:
                seen.add(state)
                todo.append(state)
        return True

    def find_stations(self):
        """Ports of bled spaces that may count as between two points (I2)."""
        everything = frozenset(self.plan.closed)
        untaken = {p for name, places, _ in self.plant.sources() if name not in self.plan.taken
                   for p in places}
        self.stations, done = set(), set(self.zero)
        for name in everything:
            for place in self.sides(name):
                if place in done:
                    continue
                space = self.walk({place}, everything)
                done |= space
                if not space & untaken and self.is_bled(space):
                    self.stations |= space

    # ---- bleeds (I2, E1, E4) -----------------------------------------------------------------------

    def merged(self, ports, spools_only=False, hand_valves=True, without=FREE):
        """Union of ports of one space by what joins them during emptying: port -> its set."""
        plant, of = self.plant, {p: {p} for p in ports}

        def join(group):
            group = [p for p in group if p in of]
            for one, other in zip(group, group[1:]):
                if of[one] is not of[other]:
                    of[one] |= of[other]
                    for p in of[other]:
                        of[p] = of[one]
        for spool, (ends, _) in plant.spools.items():
            if spool not in self.plan.closed:
                join(ends)
        if spools_only:
            return of
        for name in {n for n, _ in ports} - set(self.plan.closed) - set(without):
            if plant.passage(name) != "parts" and (hand_valves or not plant.holdable(name)):
                for group in plant.components[name].groups:
                    join([(name, p) for p in group])
        return of

    def is_bled(self, space):
        of = self.merged(space)
        return all(self.has_bleed(frozenset(of[p])) for p in space)

    def has_bleed(self, compartment):
        if not hasattr(self, "known"):
            self.known = {}
        if compartment not in self.known:
            self.known[compartment] = any(
                self.bleeds_through(compartment, place) for place in compartment
                if self.plant.fit_outlet(place[0]))
        return self.known[compartment]

    def bleeds_through(self, compartment, outlet):
        plant = self.plant
        stub = self.merged(compartment, hand_valves=False)[outlet]
        for place in stub:
            c = plant.components[place[0]]
            if place in plant.opened or place[0] in self.plan.closed \
                    or c.tag in ("vessel", "exchanger", "pump", "compressor") \
                    or plant.passage(place[0]) == "parts":
                return False
        unlocked = {n for n, _ in stub if plant.passage(n) == "override"
                    and not plant.isolators_of([n]) <= self.plan.isolators}
        unlocked |= {n for n, _ in stub if plant.passage(n) == "override"
                     and not all(f.lockable for f in plant.supplied.get(n, ()))}
        near = self.merged(compartment, hand_valves=False, without=unlocked)[outlet]
        return any(plant.holdable(n) and any((n, p) in compartment and (n, p) not in stub
                                             for p in plant.components[n].ports)
                   for n, _ in near)

    # ---- feeds and ratings -------------------------------------------------------------------------

    def feeds(self):
        needed = set()
        for name, c in self.plant.components.items():
            ports = {(name, p) for p in c.ports}
            at_edge = name in self.plan.closed and ports - self.zero
            if name in self.plant.whole or name in self.plan.taken \
                    or (ports & self.zero and not at_edge):
                needed |= self.plant.isolators_of([name])
        for name in sorted(needed - self.plan.isolators):
            self.bad.append("[N5] %s is not locked" % name)
        self.needed = needed

    def ratings(self):
        outer = frozenset(n for n in self.plan.closed if self.level_of[n] == 2)
        starts = set(self.plant.opened)
        for name in frozenset(self.plan.closed) - outer:
            starts |= self.sides(name)
        regions = {1: self.zero, 2: self.walk(starts, outer) | self.zero}
        devices = list(self.devices.values())
        apart = frozenset(self.devices)
        for name in self.plan.closed:
            rating = self.plant.device_rating(self.devices[name])
            sides = self.sides(name)
            region = regions[self.level_of[name]]
            if rating is None or not sides & region:
                continue
            for place in sides - region:
                live = self.plant.live_pressure(self.pieces_at(place, apart), devices)
                if live is not None and live > rating:
                    self.bad.append("[D7] %s does not hold against %s" % (name, place))

    def pieces_at(self, place, apart):
        """What stays joined to a port when every device of the grade is shut."""
        seen, todo = {place}, [place]
        while todo:
            here = todo.pop()
            spool = self.plant.at_port.get(here)
            found = []
            if spool is not None and spool not in apart:
                found += self.plant.spools[spool][0]
            if here[0] not in apart:
                for group in self.plant.joined_ports(here[0]):
                    if here[1] in group:
                        found += [(here[0], p) for p in group]
            for there in found:
                if there not in seen:
                    seen.add(there)
                    todo.append(there)
        return seen


def verdict(plant, grade, plan):
    """The rules that a plan breaks; an empty list when it is right."""
    return Verdict(plant, grade, plan).bad


def plan_of_search(best):
    """A Plan from what grade_search found."""
    found = best.plan
    return Plan(found["closed"], found["taken"], found["isolators"], found["levels"])
