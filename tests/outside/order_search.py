"""All orders of the moves of a stage, and of the points brought back, each with its cost (docs/METHOD.md,
section 7; P3, P9, L6, D4), against the order of a plan record.

Every order that keeps the hard rules is walked, move after move; an order that already costs more than the
best so far is left. Nothing else is skipped: no estimate, no groups, no state taken as done twice. The cost
of a state is worked out once, by order_world.py.
"""

from order_record import Plan, lowest_id

MOST = 8                             # moves of a list that is searched
NAMES = ("P9", "D4", "L6")


class Unclear(Exception):
    """The rules or the file leave open what this list costs."""


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

    def broken(self, done):
        """(machines, equipment, segments) after the moves of `done`, numbers of the list."""
        if done not in self.memory:
            nothing_inside = self.back and not any(
                self.moves[n].to != self.moves[n].was for n in done)
            self.memory[done] = (set(), set(), []) if nothing_inside \
                else self.plan.broken(self.state(done))
        return self.memory[done]

    def price(self, done):
        machines, equipment, segments = self.broken(done)
        if any(unclear or not full for _, unclear, full in segments):
            raise Unclear("L3 of a segment")
        return len(machines), len(equipment), sum(len(spools) for spools, _, _ in segments)

    def allowed(self, number, done):
        move = self.moves[number]
        if self.back:
            group = self.plan.group_back(move)
            return all(n in done or self.plan.group_back(m) >= group
                       for n, m in enumerate(self.moves))
        return self.plan.may_be_next(move, [self.moves[n] for n in done], self.moves)

    # ---- orders ----------------------------------------------------------------------------------

    def cost(self, order):
        """(P9, D4, L6, changes of place) of one order."""
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
                p9, d4, l6 = self.price(there)
                walk(there, (spent[0] + p9, spent[1] + d4, spent[2] + l6,
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


def compare(world, text, record, counts):
    """All that differs between the order of a record and the best one."""
    plan = Plan(world, text, record)
    if any(m.mixed for m in plan.moves):
        counts["left out: a point without a side"] += 1
        return []
    bad, passed = [], {name: {} for name in NAMES}
    for name, orders in lists_of(plan):
        moves = orders.moves
        given = tuple(range(len(moves)))
        note(orders, passed)
        early = orders.keeps_rules(given)
        if early is not None:
            bad.append("[P2] %s: %s comes too early, in %s" % (name, early, moves))
            continue
        try:
            got = orders.cost(given)
            if len(moves) <= MOST:
                counts["lists of %d" % len(moves)] += 1
                best = orders.least()
                counts["orders"] += orders.looked_at
                if 3 <= len(moves):
                    counts["lists of 3 to 8"] += 1
                    counts["lists in which the order matters"] += orders.spread()
                for i, rule in enumerate(NAMES):
                    counts["%s cannot be avoided" % rule] += best[i] > 0
                if got != best:
                    bad.append("[P3] %s: (P9, D4, L6, places) is %s, the least is %s: %s"
                               % (name, got, best, moves))
            else:
                counts["lists too long"] += 1
        except Unclear:
            counts["left out: L3 not clear"] += 1
            return bad
    return bad + findings(plan, record, passed, counts)


def note(orders, passed):
    """Write down what each state on the way breaks: rule -> what -> states."""
    for k, move in enumerate(orders.moves):
        machines, equipment, segments = orders.broken(frozenset(range(k + 1)))
        at = ("restore" if orders.back else "steps", move.n)
        for what in machines:
            passed["P9"].setdefault(what, set()).add(at)
        for what in equipment:
            passed["D4"].setdefault(what, set()).add(at)
        for spools, _, _ in segments:
            for spool in spools:
                passed["L6"].setdefault(spool, set()).add(at)


def findings(plan, record, passed, counts):
    """Findings P9 and D4 must be exactly what the states have; L6: see below."""
    bad = []
    for rule in ("P9", "D4"):
        said = {f["id"] for f in record["findings"] if f["rule"] == rule and f["blocks"]}
        for what in sorted(set(passed[rule]) - said):
            bad.append("[%s] %s is broken after %s, and no finding says so"
                       % (rule, what, sorted(passed[rule][what])))
        for what in sorted(said - set(passed[rule])):
            bad.append("[%s] a finding on %s, but no state on the way breaks it" % (rule, what))
        counts["findings %s" % rule] += len(said)
    return bad + on_the_way(plan, record, passed["L6"], counts)


def on_the_way(plan, record, shut, counts):
    """[L6] each pipe shut in at some state stands in an entry for that state; an entry for the way holds
    a pipe that is shut in right after its first step; its finding names its lowest id."""
    bad = []
    entries = [c for c in record["closed_in"] if c["state"] == "uncovered"]
    moves = {"steps": [m.n for m in plan.moves], "restore": [m.n for m in plan.back]}
    for spool, states in shut.items():
        for where, n in sorted(states):
            if not any(spool in c["ids"] and holds(c, where, n) for c in entries):
                bad.append("[L6] %s is shut in after step %d of %s, and no entry says so"
                           % (spool, n, where))
                break
    named = {f["id"] for f in record["findings"] if f["rule"] == "L6"}
    for entry in entries:
        if lowest_id(entry["ids"]) not in named:
            bad.append("[L6] no finding on %s" % lowest_id(entry["ids"]))
        during = entry.get("during")
        if not during:
            continue
        counts["entries of L6 on the way"] += 1
        where = during["list"]
        inside = [n for n in moves[where] if during["from"] <= n < during["to"]]
        spools = [i for i in entry["ids"] if i in plan.world.spools]
        if not inside or not any((where, inside[0]) in shut.get(s, ()) for s in spools):
            bad.append("[L6] an entry for %s %d to %d on %s, where nothing is shut in"
                       % (where, during["from"], during["to"], lowest_id(entry["ids"])))
    return bad


def holds(entry, where, n):
    """Whether an entry of closed_in speaks of the state after step n of a list."""
    during = entry.get("during")
    if not during:
        return True
    return during["list"] == where and during["from"] <= n < during["to"]
