"""All orders of the moves of a stage, and of the points brought back, each with its cost (docs/METHOD.md,
section 7; P3, P9, L6, D4), against the order of a plan record.

Every order that keeps the hard rules is walked, move after move; an order that already costs more than the
best so far is left. Nothing else is skipped: no estimate, no groups, no state taken as done twice. The cost
of a state is worked out once, by order_world.py.
"""

from order_findings import Way
from order_record import Plan

MOST = 8                             # moves of a list that is searched
NAMES = ("D4", "P9", "L6")
NOT_ALL = "not all orders of the steps were tried"


class Orders:
    """A list of moves, the state before the first of them, and the rules between them."""

    def __init__(self, plan, moves, now, back=False):
        self.plan, self.moves, self.now, self.back = plan, moves, dict(now), back
        self.memory = {}
        self.looked_at, self.best_order = 0, None

    # ---- states ----------------------------------------------------------------------------------

    def state(self, done):
        now = dict(self.now)
        for number in done:
            now[self.moves[number].id] = self.moves[number].to
        return now

    def nothing_inside(self, done):
        """On the way back, before the first point is opened."""
        return self.back and not any(self.moves[n].to != self.moves[n].was for n in done)

    def broken(self, done):
        """(machines, equipment, segments) after the moves of `done`, numbers of the list."""
        if done not in self.memory:
            self.memory[done] = (set(), set(), []) if self.nothing_inside(done) \
                else self.plan.broken(self.state(done), self.back)
        return self.memory[done]

    def price(self, done):
        """(D4, P9, L6) of a state: equipment, machines, pipes."""
        if ("price", done) not in self.memory:
            machines, equipment, _ = self.broken(done)
            pipes = () if self.nothing_inside(done) else \
                self.plan.lost_pipes(self.state(done), self.back)
            self.memory[("price", done)] = (len(equipment), len(machines), len(pipes))
        return self.memory[("price", done)]

    def allowed(self, number, done):
        move = self.moves[number]
        if self.back:
            group = self.plan.group_back(move)
            return all(n in done or self.plan.group_back(m) >= group
                       for n, m in enumerate(self.moves))
        return self.plan.may_be_next(move, [self.moves[n] for n in done], self.moves)

    # ---- orders ----------------------------------------------------------------------------------

    def cost(self, order):
        """(D4, P9, L6, changes of place) of one order."""
        total, last = [0, 0, 0, 0], None
        for k, number in enumerate(order):
            for i, value in enumerate(self.price(frozenset(order[:k + 1]))):
                total[i] += value
            total[3] += last is not None and self.moves[number].place != last
            last = self.moves[number].place
        return tuple(total)

    def keeps_rules(self, order):
        """The first move of an order that comes too early; None: all rules are kept."""
        for k, number in enumerate(order):
            if not self.allowed(number, frozenset(order[:k])):
                return self.moves[number]
        return None

    def least(self):
        """The least cost of all orders that keep the rules."""
        best = [None]

        def walk(done, spent, last, order):
            if best[0] is not None and spent >= best[0]:
                return
            if len(done) == len(self.moves):
                best[0], self.best_order = spent, order
                self.looked_at += 1
                return
            for number, move in enumerate(self.moves):
                if number in done or not self.allowed(number, done):
                    continue
                there = done | {number}
                d4, p9, l6 = self.price(there)
                walk(there, (spent[0] + d4, spent[1] + p9, spent[2] + l6,
                             spent[3] + (last is not None and move.place != last)), move.place,
                     order + (number,))
        walk(frozenset(), (0, 0, 0, 0), None, ())
        return best[0]

    def dearer(self, limit=200):
        """An order that keeps the rules and costs more than the list as it stands, or None."""
        given = self.cost(range(len(self.moves)))
        found = [None]

        def walk(done, order):
            nonlocal limit
            if limit <= 0 or found[0] is not None:
                return
            if len(done) == len(self.moves):
                limit -= 1
                if self.cost(order) > given:
                    found[0] = order
                return
            for number in reversed(range(len(self.moves))):
                if number not in done and self.allowed(number, done):
                    walk(done | {number}, order + (number,))
        walk(frozenset(), ())
        return found[0]

    def spread(self, limit=200):
        """Whether two orders that keep the rules differ in P9, D4 or L6 (a look at some of them)."""
        seen = set()

        def walk(done, spent):
            nonlocal limit
            if limit <= 0 or len(seen) > 1:
                return
            if len(done) == len(self.moves):
                limit -= 1
                seen.add(spent)
                return
            for number in reversed(range(len(self.moves))):
                if number not in done and self.allowed(number, done):
                    more = self.price(done | {number})
                    walk(done | {number}, tuple(a + b for a, b in zip(spent, more)))
        walk(frozenset(), (0, 0, 0))
        return len(seen) > 1


def lists_of(plan):
    """The lists of moves of a record that are searched: each stage of valves, then the way back."""
    now = dict(plan.first)
    found = []
    for stage in plan.stages:
        moves = [m for m in plan.moves if m.stage == stage]
        if stage in plan.valve_stages():
            found.append(("stage %d" % stage, Orders(plan, moves, now)))
        for move in moves:
            now[move.id] = move.to
    for step in plan.record["restore"]:
        if step["phase"] == "remove" and any(m.n == step["n"] for m in plan.back if not m.late):
            break
        if step["change"]:
            now[step["id"]] = step["change"]["to"]
    back = [m for m in plan.back if not m.late]
    if back:
        found.append(("way back", Orders(plan, back, now, back=True)))
    return found


def not_all_tried(record):
    return any(NOT_ALL in f["text"] for f in record["findings"])


def three_way_point(plan):
    """METHOD leaves open what a three-way valve passes that is set, and whether one that stands so was moved."""
    return any(plan.world.nodes[n].get("kind") == "three-way"
               for n in plan.closers if n in plan.world.nodes)


def compare(world, text, record, counts):
    """All that differs between the order of a record and the best one."""
    plan = Plan(world, text, record)
    if any(m.mixed for m in plan.moves):
        counts["left out: a point without a side"] += 1
        return []
    bad, lists = [], lists_of(plan)
    three_way = three_way_point(plan)
    counts["a three-way valve is a point: only what comes before what"] += three_way
    for name, orders in lists:
        moves = orders.moves
        given = tuple(range(len(moves)))
        early = orders.keeps_rules(given)
        if early is not None:
            bad.append("[P2] %s: %s comes too early, in %s" % (name, early, moves))
            continue
        if three_way:
            continue
        got = orders.cost(given)
        if len(moves) > MOST:
            counts["lists too long"] += 1
            continue
        counts["lists of %d" % len(moves)] += 1
        best = orders.least()
        counts["orders"] += orders.looked_at
        if 3 <= len(moves):
            counts["lists of 3 to 8"] += 1
            counts["lists in which the order matters"] += orders.spread()
        for i, rule in enumerate(NAMES):
            counts["%s cannot be avoided" % rule] += best[i] > 0
        if got < best or got != best and not not_all_tried(record):
            bad.append("[P3] %s: (D4, P9, L6, places) is %s, the least is %s, in %s: %s"
                       % (name, got, best, [moves[n].id for n in orders.best_order], moves))
    if three_way:
        return bad
    return bad + Way(plan, [orders for _, orders in lists]).complaints(counts)
