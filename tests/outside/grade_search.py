"""The least plan of any grade by trying every set of points (I1, I2, I4, N5, D3, D5, D7).

Sets are tried in rising size; the search stops once no larger set can be better. Nothing here uses
labels or cuts to decide whether a set will do: only what can be reached.
"""

import itertools

import grade_bleed
from common import byte_order
from grade_plant import GRADES, POSITIVE, VALVE, GradePlant

MAX_SETS = 200000


class TooMany(Exception):
    """More sets than a quick check should try."""


class Best:
    """The least cost so far: (sources, points), then mass, then ids (D4 aside)."""

    def __init__(self):
        self.key = None              # (sources, points, unknown, grams, ids)
        self.plan = None

    def offer(self, key, plan):
        if self.key is None or key < self.key:
            self.key, self.plan = key, plan

    @property
    def cost(self):
        return None if self.key is None else self.key[:2]


class Search:
    """One plant, what is opened, one grade."""

    def __init__(self, plant, grade, every_space=False):
        assert grade in GRADES
        self.plant, self.grade = plant, grade
        # double-bleed read more strictly: each space next to the work's is a bled station, also one
        # that no path from a source passes.
        self.every_space = every_space
        self.devices = plant.devices_of(grade)
        self.best = Best()
        self.bled = {}
        self.tried = 0
        self.find_pieces()
        self.work = self.mask(plant.opened)
        self.source_list = [(name, self.mask(places), may) for name, places, may in plant.sources()]
        self.options = {d.id: self.ways_to_close(d) for d in self.devices}
        self.all_open = {d.id: self.mask(d.places) for d in self.devices}
        self.apart = {d.id: ("", [(self.mask([p]), (p,)) for p in d.places]) for d in self.devices}
        self.feed_items = self.find_feeds()
        self.masses = [(self.mask([place]), grams) for place, grams in plant.items()]
        self.spool_masses = [(s, self.mask(ends), plant.spool_grams(s))
                             for s, (ends, _) in plant.spools.items()]

    # ---- pieces ----------------------------------------------------------------------------------

    def find_pieces(self):
        plant, apart = self.plant, {d.id for d in self.devices}
        self.piece_of, self.pieces = {}, []
        for name, c in plant.components.items():
            for port in c.ports:
                if (name, port) in self.piece_of:
                    continue
                seen, todo = {(name, port)}, [(name, port)]
                while todo:
                    here = todo.pop()
                    for there in self.joined(here, apart):
                        if there not in seen:
                            seen.add(there)
                            todo.append(there)
                self.piece_of.update(dict.fromkeys(seen, len(self.pieces)))
                self.pieces.append(seen)
        live = [plant.live_pressure(p, self.devices) for p in self.pieces]
        self.holds = {}
        for d in self.devices:
            rating = plant.device_rating(d)
            for place in d.places:
                against = live[self.piece_of[place]]
                self.holds[(d.id, place)] = rating is None or against is None or rating >= against

    def joined(self, place, apart):
        name, port = place
        spool = self.plant.at_port.get(place)
        if spool is not None and spool not in apart:
            first, second = self.plant.spools[spool][0]
            yield second if place == first else first
        if name not in apart:
            for group in self.plant.joined_ports(name):
                if port in group:
                    yield from ((name, p) for p in group)

    def mask(self, places):
        found = 0
        for place in places:
            found |= 1 << self.piece_of[place]
        return found

    def ways_to_close(self, device):
        """(setting, groups as (mask, ports)) for each way in which it may be a point."""
        return [(setting, [(self.mask(g), tuple(g)) for g in groups])
                for setting, groups in device.settings]

    def find_feeds(self):
        """(name, mask of its ports, isolators) of what has feeds."""
        return [(n, self.mask((n, p) for p in c.ports), self.plant.isolators_of([n]))
                for n, c in self.plant.components.items() if self.plant.supplied.get(n)]

    @staticmethod
    def flood(start, joins):
        seen, grown = start, True
        while grown:
            grown = False
            for m in joins:
                if m & seen and m & ~seen:
                    seen |= m
                    grown = True
        return seen

    def joins(self, closed):
        """Masks of pieces that devices join: those that are no points, and groups of set ones."""
        result = [m for name, m in self.all_open.items() if name not in closed]
        for name, choice in closed.items():
            result += [m for m, ports in choice[1] if len(ports) > 1]
        return result

    # ---- the demands ------------------------------------------------------------------------------

    def taken(self, region):
        """Sources in a region, or None when one of them cannot be taken inside (N4)."""
        names = []
        for name, m, may in self.source_list:
            if m & region:
                if not may:
                    return None
                names.append(name)
        return names

    def across(self, region, closed):
        """Pieces on the other sides of the points at the edge of a region."""
        found = 0
        for _, groups in closed.values():
            if any(m & region for m, _ in groups):
                for m, _ in groups:
                    found |= m & ~region
        return found

    def depths(self, closed, joins, most):
        """Regions at 0, 1, … `most` points from the work."""
        rings, seen = [], 0
        start = self.work
        for _ in range(most + 1):
            ring = self.flood(start, joins) & ~seen
            rings.append(ring)
            seen |= ring
            start = self.across(seen, closed) & ~seen
        return rings

    def rated(self, closed, rings):
        """D7: each point holds against its outer side."""
        def depth(mask):
            return next((i for i, r in enumerate(rings) if mask & r), len(rings))
        for name, (_, groups) in closed.items():
            if all(self.holds[(name, p)] for _, ports in groups for p in ports):
                continue
            near = min(depth(m) for m, _ in groups)
            for m, ports in groups:
                if depth(m) > near and not all(self.holds[(name, p)] for p in ports):
                    return False
        return True

    def held(self, closed, joins, live, rings):
        """D7: of two sides as many points from the work, a point holds against the one from which pressure
        may come: what stays live, before what only a point parts from that, before all else."""
        beside = self.flood(self.across(live, closed), joins) & ~live

        def rank(mask):
            return 2 if mask & live else 1 if mask & beside else 0

        def depth(mask):
            return next((i for i, r in enumerate(rings) if mask & r), len(rings))
        for name, (_, groups) in closed.items():
            for m, ports in groups:
                if all(self.holds[(name, p)] for p in ports):
                    continue
                if any(rank(m) > rank(n) and depth(m) >= depth(n) for n, _ in groups):
                    return False
        return True

    def evaluate(self, closed):
        """Rate one set of points of the grades without a positive layer."""
        joins = self.joins(closed)
        two = self.grade in ("double", "double-bleed")
        rings = self.depths(closed, joins, 1 if two else 0)
        zone = rings[0] | (rings[1] if self.grade == "double" else 0)
        taken = self.taken(zone)
        if taken is None or (self.best.key and len(taken) > self.best.key[0]):
            return
        if self.grade == "double-bleed":
            self.evaluate_stations(closed, joins)
            return
        if not self.rated(closed, rings):
            return
        if self.grade == "single-bleed" and not self.work_is_bled(closed, joins, rings[0]):
            return
        self.offer(closed, taken, rings[0], zone, frozenset())

    def spaces_in(self, region, joins):
        while region:
            space = self.flood(region & -region, joins)
            yield space
            region &= ~space

    def bleeds(self, space, closed):
        """Choices of isolators for each compartment of a space, or None (cached)."""
        near = frozenset(n for n in closed if self.all_open[n] & space)
        if (space, near) not in self.bled:
            ports = {p for i, piece in enumerate(self.pieces) if space >> i & 1 for p in piece}
            self.bled[(space, near)] = grade_bleed.bleeds(self.plant, ports, near)
        return self.bled[(space, near)]

    def work_is_bled(self, closed, joins, region):
        return all(self.bleeds(s, closed) is not None for s in self.spaces_in(region, joins))

    def evaluate_stations(self, closed, joins):
        """double-bleed: every path passes a bled space between two points."""
        work = self.flood(self.work, joins)
        walls = 0
        for _, m, may in self.source_list:
            if not may:
                walls |= m
        everything = (1 << len(self.pieces)) - 1
        free, dear = 0, []
        for space in self.spaces_in(everything & ~work, joins):
            if space & walls:
                continue
            found = self.bleeds(space, closed)
            if found is None:
                continue
            if all(frozenset() in ways for ways in found):
                free |= space
            else:
                dear.append((space, found))
        for size in range(len(dear) + 1):
            for chosen in itertools.combinations(dear, size):
                self.rate_stations(closed, joins, work, free, chosen)

    def rate_stations(self, closed, joins, work, free, chosen):
        stations = free
        for space, _ in chosen:
            stations |= space
        region = work
        while True:
            beyond = self.flood(self.across(region, closed), joins) & ~region
            grown = self.flood(region | (beyond & ~stations), joins)
            if grown == region:
                break
            region = grown
        zone = region | beyond
        if self.every_space and region != work:
            return
        taken = self.taken(zone)
        rings = self.depths(closed, joins, len(closed))
        if taken is None or not self.rated(closed, rings):
            return
        live = 0
        for name, m, _ in self.source_list:
            if name not in taken:
                live |= m
        if not self.held(closed, joins, self.flood(live, joins), rings):
            return
        if any(not space & beyond for space, _ in chosen):
            return                   # a station that is not needed: another choice is cheaper
        ways = [w for _, found in chosen for w in found]
        for locks in itertools.product(*ways):
            self.offer(closed, taken, work, zone, frozenset().union(*locks))

    # ---- cost (I4, N5) ----------------------------------------------------------------------------

    def isolators(self, closed, taken, zero, more):
        found = set(more)
        for name, m, isolators in self.feed_items:
            if name in closed and self.all_open[name] & ~zero:
                continue             # a point at the edge: its feeds only by D3, below
            if m & zero or name in self.plant.whole or name in taken:
                found |= isolators
        for d in self.devices:
            if d.id in closed:
                found |= d.locks
        return found

    def mass(self, closed, zone):
        """(unknown, grams) of what lies in the zone; points' own contents aside, spools not."""
        total = 0
        for m, grams in self.masses:
            if m & zone:
                if grams is None:
                    return (1, 0)
                total += grams
        for spool, m, grams in self.spool_masses:
            if m & zone:
                if grams is None:
                    return (1, 0)
                total += grams
        return (0, total)

    def offer(self, closed, taken, zero, zone, more, levels=None):
        isolators = self.isolators(closed, taken, zero, more)
        head = (len(taken), len(closed) + len(isolators))
        if self.best.key and head > self.best.cost:
            return
        ids = byte_order(list(closed) + [self.plant.feed_id(i) for i in isolators])
        key = head + self.mass(closed, zone) + ([i.encode("utf-8") for i in ids],)
        plan = dict(closed={n: c[0] for n, c in closed.items()}, taken=sorted(taken), ids=ids,
                    isolators=isolators, ways=more, levels=levels, between=bool(zone & ~zero))
        self.best.offer(key, plan)

    # ---- enumeration --------------------------------------------------------------------------------

    def enough(self, size, least):
        return self.best.key is not None and self.best.key[0] <= least and size > self.best.key[1]

    def settings(self, names):
        """All ways to close these devices."""
        for choice in itertools.product(*(self.options[n] for n in names)):
            yield dict(zip(names, choice))

    def count(self):
        self.tried += 1
        if self.tried > MAX_SETS:
            raise TooMany()

    def fewest_sources(self):
        """With every device shut, fully apart: no set can have fewer sources inside."""
        shut = self.apart
        most = 1 if self.grade in ("double", "double-bleed") else 0
        rings = self.depths(shut, [], most)
        if self.grade == "positive":
            rings = [self.work]
        taken = self.taken(sum(rings))
        return taken if taken is None else len(taken)

    def run(self):
        least = self.fewest_sources()
        if least is None:
            return self
        names = [d.id for d in self.devices]
        if self.grade == "positive":
            self.run_layers(least)
            return self
        for size in range(len(names) + 1):
            if self.enough(size, least):
                break
            for chosen in itertools.combinations(names, size):
                for closed in self.settings(chosen):
                    self.count()
                    self.evaluate(closed)
        return self

    def run_layers(self, least):
        """positive: sets of positive devices, and for each sets of the valve layer further out."""
        inner = [d.id for d in self.devices if POSITIVE in d.layers]
        outer = [d.id for d in self.devices if VALVE in d.layers]
        for size in range(len(inner) + 1):
            if self.enough(size, least):
                break
            for names in itertools.combinations(inner, size):
                for fitted in self.settings(names):
                    self.add_valves(fitted, [n for n in outer if n not in fitted], least)

    def add_valves(self, fitted, outer, least):
        zero = self.flood(self.work, self.joins(fitted))
        if self.taken(zero) is None:
            return
        start = self.work
        for name in fitted:
            start |= self.all_open[name]
        shut = {n: self.apart[n] for n in outer}
        if self.taken(self.flood(start, self.joins(shut))) is None:
            return
        for size in range(len(outer) + 1):
            if self.enough(size + len(fitted), least):
                break
            for names in itertools.combinations(outer, size):
                for valves in self.settings(names):
                    self.count()
                    self.rate_layers(fitted, valves, zero, start)

    def rate_layers(self, fitted, valves, zero, start):
        zone = self.flood(start, self.joins(valves)) | zero
        taken = self.taken(zone)
        if taken is None or not self.rated(fitted, [zero]) or not self.rated(valves, [zone]):
            return
        levels = dict.fromkeys(fitted, 1)
        levels.update(dict.fromkeys(valves, 2))
        self.offer({**fitted, **valves}, taken, zero, zone, frozenset(), levels)


def solve(text, targets, grade, avoid=(), hand_only=False):
    """Search a plant text; the Search with its best."""
    return Search(GradePlant(text, targets, avoid, hand_only), grade).run()
