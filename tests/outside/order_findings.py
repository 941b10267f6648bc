"""What a record must say of the states on its way: findings P9, D4, L6, the entries of closed_in, and the D4
that is an assumption because a pump-down precedes it (docs/METHOD.md, sections 5.3 and 7; FORMAT, closed_in).

Readings taken:
- A D4 that is an assumption speaks of the states from the closing of a receiver side on, up to the work. Before that
  step nobody has shown anything, and on the way back there is fluid again: there it takes a finding.
- Closed-in liquid is looked at with all points closed but the blinds, spades and pipes that are fitted or taken
  out once the section is proved empty.
- A receiver side that is a stop-check joins what it parts, when it is asked what empties by it.
- A segment on the way is told at the end when an entry of the end holds all of its pipes.
"""

import re

from quantities import pressure
from relief_fullness import MARGIN, vapour_space
from saturation import EQUATIONS, Fluid

ATMOSPHERE = 1.01325


def lowest_id(spools):
    return min(spools, key=lambda i: i.encode("utf-8"))


class Way:
    """The states of the lists of a record, and what each breaks: `states` = [(list, move, broken)]."""

    def __init__(self, plan, lists):
        self.plan, self.record, self.world = plan, plan.record, plan.world
        self.states, self.counts = [], None
        for orders in lists:
            where = "restore" if orders.back else "steps"
            self.states += [(where, move, orders.broken(frozenset(range(k + 1))))
                            for k, move in enumerate(orders.moves)]
        self.end = dict(plan.first)
        self.end.update((m.id, m.to) for m in plan.moves)
        self.filled = dict(plan.first)
        self.filled.update((m.id, m.to) for m in plan.moves if not m.late)

    def said(self, rule):
        return {f["id"] for f in self.record["findings"] if f["rule"] == rule and f["blocks"]}

    def complaints(self, counts):
        self.counts = counts
        return self.machines() + self.equipment() + self.on_the_way() + self.at_the_end()

    # ---- P9 ------------------------------------------------------------------------------------

    def machines(self):
        broken = {}
        for where, move, (machines, _, _) in self.states:
            for what in machines:
                broken.setdefault(what, []).append((where, move.n))
        said = self.said("P9")
        self.counts["findings P9"] += len(said)
        return ["[P9] %s has lost its way after %s, and no finding says so" % (m, broken[m])
                for m in sorted(set(broken) - said)] + [
                    "[P9] a finding on %s, but no state on the way breaks it" % m
                    for m in sorted(said - set(broken))]

    # ---- D4 ------------------------------------------------------------------------------------

    def equipment(self):
        bad, said = [], self.said("D4")
        assumed = {a["id"]: a["text"] for a in self.record["assumptions"] if a["rule"] == "D4"}
        at_end = self.plan.broken(self.end)[1]
        self.counts["findings D4"] += len(said)
        self.counts["assumptions D4"] += len(assumed)
        looks, shuts = self.looks(), self.shut_receivers() or [m.n for m in self.plan.relief_stage()]
        needs, excused = {}, {}
        for where, move, (_, equipment, _) in self.states:
            for what in equipment:
                shown = where == "steps" and what in at_end and any(
                    look < n <= move.n for look in looks for n in shuts)
                (excused if shown else needs).setdefault(what, []).append((where, move.n))
        for what in at_end - set(excused):
            needs.setdefault(what, []).append(("steps", "the end"))
        for what in sorted(excused):
            empty = self.emptied(what)
            if empty == "no":
                needs.setdefault(what, []).extend(excused[what])
            elif empty == "yes" and what not in assumed:
                bad.append("[D4] %s is emptied by the pump-down, and no assumption says so" % what)
        for what in sorted(set(needs) - said):
            bad.append("[D4] %s has no relief path after %s, and no finding says so"
                       % (what, needs[what]))
        for what in sorted(said - set(needs)):
            if what not in excused or self.emptied(what) == "yes":
                bad.append("[D4] a finding on %s, but no state on the way asks for one" % what)
        for what, text in sorted(assumed.items()):
            if what not in excused or self.emptied(what) == "no":
                bad.append("[D4] %s is assumed to be empty, and need not be" % what)
            named = [int(n) for n in re.findall(r"\bstep (\d+)", text)]
            if not any(n in looks and n < excused.get(what, [("", 0)])[0][1] for n in named):
                bad.append("[D4] %s: the assumption names no look at the pump-down: %s" % (what, named))
        return bad

    def looks(self):
        """Steps in which it is seen once more that the section is empty."""
        behind = {m.id for m in self.plan.relief_stage()}
        if behind:
            return [s["n"] for s in self.record["steps"]
                    if s["phase"] == "verify" and s["stage"] == 1 and s["id"] in behind]
        return [s["n"] for s in self.record["steps"] if s["phase"] == "isolate" and not s["change"]
                and self.world.tags.get(s["id"]) == "vessel"
                and self.world.nodes[s["id"]].get("role") == "low-pressure"]

    def shut_receivers(self):
        return [m.n for m in self.plan.moves if m.receiver]

    def recovered(self, what):
        """Where relief paths have a stage of their own: each compartment that empties with the work runs dry by an
        outlet that is not open to the air, by what the record says of it (test_pockets.py checks that)."""
        def closed(way):
            return way and self.world.nodes[way[-1]].get("leads-to") in ("recovery", "closed-drain")

        def dry(room):
            if not room["liquid"]:
                return closed(room["vent"]) or closed(room["drain"])
            return closed(room["drain"]) and room["drainage_shown"] and not room["pockets"] \
                and (room["flashes"] or room["air_in"])
        behind = {m.id for m in self.plan.relief_stage()}
        rooms = [c for c in self.record["compartments"] if c["where"] == "inside"]
        pipes = [c for c in rooms if all(i in self.world.spools or i in behind for i in c["ids"])]
        return all(dry(c) for c in rooms if c not in pipes)

    def emptied(self, what):
        """Whether equipment holds no liquid and nothing that reaches its design pressure, once the receiver
        sides are closed: "yes", "no" or "unclear" (METHOD 7 and 5.3)."""
        found = []
        _, cover = self.world.relief_state(self.end, self.plan.first)
        opened, _ = self.world.relief_state(self.end, self.plan.first)
        for segment in self.world.segments(opened):
            if all(cover.covered[n] for n in segment) \
                    or self.world.fullness(segment)[0] == "passes":
                continue
            pieces = [self.world.pieces[n] for n in segment]
            if any(what in p.components for p in pieces) \
                    or any(d.get("id") == what for p in pieces for d, _ in p.ends):
                found.append(segment)
        if self.plan.relief_stage():
            orders = ["yes" if self.recovered(what) else "no" for _ in found]
        else:
            orders = [self.order(s) for s in found]
        vapour = [self.vapour_stays(s) for s in found]
        enough = all if self.world.tags[what] == "exchanger" else any
        if not found or "no" in vapour or not enough(o != "no" for o in orders):
            return "no"
        return "yes" if set(vapour) == {"yes"} and enough(o == "yes" for o in orders) else "unclear"

    def fluid(self, segment):
        names = {None if s is None else self.world.services[s].get("substance")
                 for n in segment for s in self.world.services_of(self.world.pieces[n])}
        return Fluid(names.pop()) if len(names) == 1 and names.issubset(EQUATIONS) else None

    def vapour_stays(self, segment):
        """Saturation at ambient against the lowest design pressure."""
        lows, fluid = [self.world.lowest[n] for n in segment], self.fluid(segment)
        if None in lows:
            return "no"
        if any(s is None or self.world.services[s].get("temperature") is None
               for n in segment for s in self.world.services_of(self.world.pieces[n])):
            return "unclear"             # from where it warms is not said
        ambient = self.world.ambient + 273.15
        if fluid is None or ambient > fluid.critical_K - 1:
            return "unclear"
        ratio = fluid.p_sat(ambient) / (float(min(lows)) + ATMOSPHERE)
        return "yes" if ratio < 1 - MARGIN else "no" if ratio > 1 + MARGIN else "unclear"

    def order(self, segment):
        """Remedy "order" of 5.3: a receiver side of the segment that it would be covered and empty by."""
        best = "no"
        for move in self.plan.moves:
            port = {p for p in ("in", "out")} - {p[1] for p, _ in move.lives}
            if not move.receiver or self.world.behind(
                    self.world.nodes[move.id], port.pop()) not in segment:
                continue
            now = dict(self.end)
            now[move.id] = self.plan.first[move.id]
            opened, cover = self.world.relief_state(now, self.plan.first)
            beyond = {self.world.behind(self.world.nodes[move.id], p[1]) for p, _ in move.lives}
            joined = [s for s in self.world.segments(opened) if (segment | beyond) & s]
            if any(not cover.covered[n] for s in joined for n in s):
                continue
            for vessel in {node.get("id"): node for s in joined for n in s
                           for node, _ in self.world.pieces[n].joints}.values():
                if self.world.tags[vessel.get("id")] == "vessel" and vapour_space(vessel) \
                        and vessel.get("role") == "low-pressure":
                    boils = self.boils(vessel, self.fluid(segment))
                    if boils == "yes" and any(p in self.plan.inside for _, p in move.lives):
                        boils = "unclear"        # the vessel lies between, and is to be emptied itself
                    best = boils if best != "yes" and boils != "no" else best
        return best

    def boils(self, vessel, fluid):
        service = self.world.services.get(self.world.service_of(vessel, None))
        stands = None if service is None else pressure(service.get("pressure"))
        if stands is None:
            return "no"
        if fluid is None:
            return "unclear"
        over = self.world.ambient + 273.15 - fluid.t_sat(float(stands) + ATMOSPHERE)
        return "yes" if over > 1 else "no" if over < -1 else "unclear"

    # ---- L6 ------------------------------------------------------------------------------------

    def entries(self, on_the_way):
        return [c for c in self.record["closed_in"] if c["state"] == "uncovered"
                and bool(c["during"]) == on_the_way]

    def spools(self, entry):
        return frozenset(i for i in entry["ids"] if i in self.world.spools)

    def on_the_way(self):
        """Each segment of each state stands in an entry of the end, or in one for that state; an entry for
        the way holds from its first step to its last, and not longer."""
        bad, said = [], self.said("L6")
        standing = [self.spools(c) for c in self.entries(False)]
        during = self.entries(True)
        self.counts["entries of L6 on the way"] += len(during)
        for where, move, (_, _, segments) in self.states:
            for spools, unclear, _ in segments:
                if unclear or any(spools <= s for s in standing):
                    continue
                if not any(self.spools(c) == spools and holds(c, where, move.n) for c in during):
                    bad.append("[L6] %s is shut in after step %d of %s, and no entry says so"
                               % (lowest_id(spools), move.n, where))
        for entry in self.entries(False) + during:
            if lowest_id(entry["ids"]) not in said:
                bad.append("[L6] no finding on %s" % lowest_id(entry["ids"]))
        for entry in during:
            bad += self.entry(entry)
        return bad

    def entry(self, entry):
        spools, where = self.spools(entry), entry["during"]["list"]
        first, last = entry["during"]["from"], entry["during"]["to"]
        name = "%s to %s of %s on %s" % (first, last, where, lowest_id(entry["ids"]))
        states = [(move.n, spools in {s for s, _, _ in segments})
                  for at, move, (_, _, segments) in self.states if at == where]
        inside = [shut for n, shut in states if holds(entry, where, n)]
        if not inside or first not in [n for n, _ in states]:
            return ["[L6] an entry for no step: %s" % name]
        if not all(inside):
            return ["[L6] an entry for a state in which nothing is shut in: %s" % name]
        goes_on = any(self.spools(c) == spools and holds(c, where, last)    # other devices at its ends
                      for c in self.entries(True) if last is not None)
        if last is not None and not goes_on and dict(states).get(last, True):
            return ["[L6] an entry that ends too early: %s" % name]
        return []

    def at_the_end(self):
        """What stands shut in once all points are closed."""
        bad, given = [], [self.spools(c) for c in self.entries(False)]
        found = self.plan.broken(self.filled)[2]
        for spools, unclear, _ in found:
            if spools not in given and not unclear:
                bad.append("[L6] %s is shut in at the end, and no entry says so" % lowest_id(spools))
        for spools in given:
            if spools and spools not in [s for s, _, _ in found]:
                bad.append("[L6] an entry for the end on %s, where nothing is shut in" % lowest_id(spools))
        self.counts["entries of L6 at the end"] += len(given)
        return bad


def holds(entry, where, n):
    """Whether an entry of closed_in speaks of the state after step n of a list."""
    during = entry.get("during")
    if not during:
        return True
    return during["list"] == where and during["from"] <= n and (
        during["to"] is None or n < during["to"])
