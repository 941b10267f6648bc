#!/usr/bin/python3
"""A plan record played step by step on its plant, by plain walking: `steps`, then `restore`.

    order_replay.py PLANT.xml RECORD.json

What is looked at after each step, and the source:
- each change starts where the device stands (I7);
- phases in order, verification before work, in each stage (P1; 29 CFR 1910.147 (d)(1) to (d)(6), F-OSH-1);
- what must come before what among the moves (P2, E1, P6, P8; docs/METHOD.md, 7; for the way back CSB safety
  bulletin 2010-13-A-AL, F-NH3-10: no hot gas to cold liquid); each point locked or tagged (F-OSH-1);
- from the closing of the first stage's last point on no way from a source to what is opened (P3, I1);
- what is shut in without cover, has lost its relief or its way is named by a finding (P3, L6, D4, P9); drains
  and bleeds count as shut there, and on the way back nothing is inside before a point is opened;
- of drain valves in series the inner one is shut first (E5, E6; 40 CFR 63.167(a)(1), F-EPA-1), caps are on
  again ((b) of the same), overrides back before a feed side is opened (E1, P6);
- locks come off after inspection and when people are clear (29 CFR 1910.147 (e)(1) to (e)(3), F-OSH-4), feeds
  go on after the last valve and when people are told; at the end each device stands as in normal service
  or as it was found, without a tag (P6).
"""

import json
import sys

import order_findings
import order_search
from order_record import BARRIER, FIT, Plan
from order_world import OPEN, STOP_KINDS, World

PHASES = ("prepare", "shut-down", "isolate", "lock-and-tag", "release", "verify", "work")
BACK = ("close-up", "inspect", "clear", "leak-test", "evacuate", "break-vacuum", "remove", "notify",
        "energise", "function-test", "register")
PARTS = ("closed", "removed", "spade fitted")


class Replay:
    """One record; `bad` collects what is wrong with it."""

    def __init__(self, world, text, record):
        self.world, self.record = world, record
        self.plan = Plan(world, text, record)
        self.by_tag = {p["tag"]: p for p in record["points"]}
        self.bad = []
        self.stands = dict(self.plan.first)      # where each device stands
        for name in world.spools:
            self.stands[name] = "in place"
        self.lifted = set()                      # overrides in use
        self.counted = dict(self.plan.first)     # the same, drains and bleeds as they were
        self.filled = dict(self.plan.first)      # the same without blinds: these are fitted when all is empty
        self.sources = [s for s in self.plan.plant.sources()]
        self.taken = {s["id"] for s in record["sources_inside"]}
        self.breaches = {"P9": set(), "D4": set(), "L6": set()}      # complained of already
        looks = order_findings.Way(self.plan, []).looks()
        self.shown = [m.n for m in self.plan.moves
                      if (m.receiver or m in self.plan.relief_stage()) and any(n < m.n for n in looks)]
        self.drained = set()
        self.late = {m.id for m in self.plan.moves if m.late}

    def say(self, rule, step, text):
        where = "" if step is None else "step %d (%s %s): " % (step["n"], step["phase"], step["id"])
        self.bad.append("[%s] %s%s" % (rule, where, text))

    def run(self):
        if not self.record["feasible"]:
            return self.bad
        self.phases(self.record["steps"], PHASES)
        self.phases(self.record["restore"], BACK)
        self.before_work()
        self.precedence()
        self.tags_hung()
        self.play_steps()
        self.play_restore()
        self.drains()
        self.tags_off()
        return self.bad

    # ---- P1 ----------------------------------------------------------------------------------------

    def phases(self, steps, names):
        stage, last = 1, 0
        for number, step in enumerate(steps):
            if step["n"] != number + 1:
                self.say("P1", step, "is number %d of its list" % (number + 1))
            if step["phase"] not in names:
                self.say("P1", step, "no such phase")
                continue
            place = names.index(step["phase"])
            if step["stage"] < stage or (step["stage"] == stage and place < last):
                self.say("P1", step, "phases or stages run backward (F-OSH-1, F-OSH-4)")
            stage, last = max(stage, step["stage"]), place

    def before_work(self):
        """Each stage that moves something is verified; nothing is opened before."""
        steps = self.record["steps"]
        work = [s for s in steps if s["phase"] == "work"]
        if not work:
            self.say("P1", None, "no step of work")
            return
        for stage in sorted({s["stage"] for s in steps if s["phase"] == "isolate"} | {1}):
            verified = [s["n"] for s in steps if s["stage"] == stage and s["phase"] == "verify"]
            if not verified or max(verified) > work[0]["n"]:
                self.say("P1", work[0], "stage %d is not verified before (F-OSH-1)" % stage)
        for step in steps:
            opens = step["phase"] == "isolate" and step["change"] and \
                self.plan.points.get(step["id"], {}).get("action") in FIT and \
                step["change"]["from"] != "closed"
            if opens and not any(s["phase"] == "verify" and s["stage"] < step["stage"] for s in steps):
                self.say("P1", step, "a joint is opened before a stage was verified")
        target = {t.rsplit(".", 1)[0] for t in self.record["target"]} | set(self.record["target"])
        if not any(s["id"] in target for s in work):
            self.say("P1", work[0], "what is opened is not named in the work")

    def precedence(self):
        for name, orders in order_search.lists_of(self.plan):
            early = orders.keeps_rules(range(len(orders.moves)))
            if early is not None:
                self.say("P8" if orders.back else "E1" if early.kind == "opening" else "P2", None,
                         "%s: %s comes too early" % (name, early))
        self.between_stages()

    def between_stages(self):
        """E1: a device opened inside belongs to the stage in which its space is closed off."""
        staged = len(self.plan.valve_stages()) > 1
        for move in self.plan.moves:
            if move.kind != "opening" or not staged:
                continue
            near = min(self.plan.lookup((move.id, p)) for p in ("in", "out"))
            if (near > 0) != (move.stage == max(self.plan.valve_stages())):
                self.say("E1", None, "%s is opened in stage %d, its space is %d points away"
                         % (move.id, move.stage, near))

    # ---- lock and tag ------------------------------------------------------------------------------

    def tags_hung(self):
        for point in self.record["points"]:
            steps = [s for s in self.record["steps"] if s["tag"] == point["tag"]]
            moved = [s for s in steps if s["change"]]
            if [s for s in steps if s["id"] != point["id"]]:
                self.say("P1", steps[0], "tag %d is that of %s" % (point["tag"], point["id"]))
            if not moved:
                self.say("P1", None, "no step moves or checks %s, tag %d" % (point["id"], point["tag"]))
                continue
            if moved[-1]["change"]["to"] != point["to"]:
                self.say("P1", moved[-1], "leaves it %s, its tag says %s"
                         % (moved[-1]["change"]["to"], point["to"]))
            if moved[-1]["phase"] == "release":
                continue             # opened and tagged in one step
            hung = [s for s in steps if s["phase"] == "lock-and-tag"
                    and s["stage"] == moved[-1]["stage"] and s["n"] > moved[-1]["n"]]
            if not hung:
                self.say("P1", moved[-1], "is not locked or tagged in its stage (F-OSH-1)")
        for point in self.record["points"]:
            if point["level"] and point["hold"] != "lock" and point["action"] == "close":
                self.say("D1", None, "%s is a barrier and not locked" % point["id"])

    # ---- positions ---------------------------------------------------------------------------------

    def change(self, step, drains):
        """Move what a step moves."""
        name, change = step["id"], step["change"]
        if name not in self.stands:
            self.say("I7", step, "moves what is not in the plant")
            return
        override = self.world.tags.get(name) == "valve" and not (
            self.world.nodes[name].get("kind") in STOP_KINDS and self.world.by_hand(name))
        if change["from"] == "automatic" and override:
            if self.stands[name] != self.plan.first[name]:
                self.say("I7", step, "from automatic, but it stands %s" % self.stands[name])
        elif change["from"] != self.stands[name]:
            self.say("I7", step, "from %s, but it stands %s" % (change["from"], self.stands[name]))
        if change["from"] == "automatic":
            self.lifted.add(name)
        if change["to"] == "automatic":
            self.lifted.discard(name)
        to = self.plan.first[name] if change["to"] == "automatic" else change["to"]
        self.stands[name] = to
        if name not in drains:
            self.counted[name] = to
            if name not in self.late:
                self.filled[name] = to

    # ---- I1 ----------------------------------------------------------------------------------------

    def apart(self, name):
        """Whether a point stands so that it parts what it is to part."""
        point = self.plan.closers.get(name)
        return point is not None and (self.stands[name] in PARTS
                                      or "-" in point["to"] and self.stands[name] == point["to"])

    def reached(self):
        """Places that are joined to what is opened, everything but points counted open."""
        plant = self.plan.plant
        seen, todo = set(plant.opened), list(plant.opened)
        while todo:
            name, port = todo.pop()
            there = []
            spool = plant.at_port.get((name, port))
            if spool is not None and not self.apart(spool):
                there += plant.spools[spool][0]
            groups = self.plan.groups(name) if self.apart(name) else plant.joined_ports(name)
            if name in plant.whole:
                groups = [plant.components[name].ports]
            for group in groups:
                if port in group:
                    there += [(name, p) for p in group]
            for place in there:
                if place not in seen:
                    seen.add(place)
                    todo.append(place)
        return seen

    def open_to_air(self, step):
        """D4: where a relief path can blow back, it is closed before anything is opened to the air."""
        late = [m for m in self.plan.relief_stage()]
        ways = [w for w in self.ways_out() if step["id"] in w
                and self.world.nodes[w[-1]].get("leads-to") not in ("recovery", "closed-drain")]
        if late and step["n"] < max(m.n for m in late) and ways:
            self.say("D4", step, "opened to the air while a relief path stands open")

    def boundary(self, step):
        seen, running = self.reached(), set(self.world.can_run(self.stands))
        for name, places, may in self.sources:
            if not seen.intersection(places):
                continue
            if not may or name not in self.taken:
                self.say("I1", step, "a way leads from %s to what is opened" % (name,))
            elif name in running:
                self.say("I1", step, "%s lies inside and can run" % name)

    # ---- steps -------------------------------------------------------------------------------------

    def play_steps(self):
        steps = self.record["steps"]
        stages = self.plan.valve_stages()
        # Relief paths that have a stage of their own belong to the boundary: it stands with the last of them.
        ends = stages if self.plan.relief_stage() else stages[:1]
        first = [m.n for m in self.plan.moves if m.stage in ends]
        closed_from = max(first, default=0)
        drains = {s["id"] for s in steps if s["phase"] == "release" and s["change"]}
        for step in steps:
            if step["change"]:
                self.change(step, drains)
                self.look("steps", step)
                if step["phase"] == "release":
                    self.open_to_air(step)
            if step["n"] >= closed_from and (step["change"] or step["phase"] == "work"):
                self.boundary(step)
        for point in self.record["points"]:
            if self.stands.get(point["id"]) != point["to"]:
                self.say("I7", None, "%s stands %s at the work, its tag says %s"
                         % (point["id"], self.stands.get(point["id"]), point["to"]))
        for name, stands in self.record["end"].items():
            if self.stands.get(name) != stands:
                self.say("I7", None, "end: %s is %s, not %s" % (name, self.stands.get(name), stands))

    def look(self, where, step):
        """P3: what this state breaks must be said."""
        machines, equipment, _ = self.plan.broken(self.counted, where == "restore")
        segments = self.plan.broken(self.filled, where == "restore")[2]
        said = {rule: {f["id"] for f in self.record["findings"] if f["rule"] == rule and f["blocks"]}
                for rule in ("P9", "D4", "L6")}
        if where == "steps" and any(n <= step["n"] for n in self.shown):
            said["D4"] |= {a["id"] for a in self.record["assumptions"] if a["rule"] == "D4"}
        for rule, found in (("P9", machines), ("D4", equipment)):
            for what in sorted(found - said[rule] - self.breaches[rule]):
                self.say(rule, step, "%s: no finding says so" % what)
            self.breaches[rule] |= found
        entries = [c for c in self.record["closed_in"] if c["state"] == "uncovered"
                   and order_findings.holds(c, where, step["n"])
                   and order_findings.lowest_id(c["ids"]) in said["L6"]]
        known = {i for c in entries for i in c["ids"]}
        for spools, unclear, _ in segments:
            new = spools - known - self.breaches["L6"]
            if new and not unclear:
                self.say("L6", step, "shut in, and not named: %s" % ", ".join(sorted(new)))
                self.breaches["L6"] |= new

    # ---- the way back ------------------------------------------------------------------------------

    def play_restore(self):
        steps = self.record["restore"]
        clear, told, opened = False, False, False
        drains = {s["id"] for s in self.record["steps"] if s["phase"] == "release" and s["change"]}
        barriers = [m for m in self.plan.back if not m.late]
        sides = {m.id: m for m in barriers}
        self.drained = drains
        last = max((m.n for m in barriers), default=0)
        seen = set()
        for step in steps:
            if step["tag"] is None:
                clear |= step["phase"] == "clear" and "inspect" in seen
                told |= step["phase"] == "notify"
                seen.add(step["phase"])
            point = self.by_tag.get(step["tag"])
            if point and point["hold"] == "lock" and not clear:
                self.say("F-OSH-4", step, "a lock comes off before inspection and all clear")
            if not step["change"]:
                continue
            move = sides.get(step["id"])
            if move and move.to != move.was:
                self.let_in(step, move, drains)
            self.change(step, drains)
            opened |= bool(move and move.to in OPEN + ("unknown",)) or bool(
                move and "-" in move.to and move.to != move.was)
            if step["id"] in self.world.feeds:
                if step["n"] < last or not told:
                    self.say("F-OSH-4", step, "before the last valve, or before people are told")
            if opened and move:
                self.look("restore", step)
        self.end_positions()

    def let_in(self, step, move, drains):
        """A point is opened: overrides are back (feed sides), ways out shut, blinds where they were."""
        for other in self.plan.moves:
            back = other.id not in self.lifted and (self.stands[other.id] not in OPEN or self.stands[
                other.id] == self.plan.first[other.id])
            if other.kind == "opening" and move.feed_side and not back:
                self.say("E1", step, "a feed side is opened while %s is" % other.id)
            if other.late and self.stands[other.id] in PARTS:
                self.say("P6", step, "opened while %s is still in" % other.id)
        for name in sorted(drains):
            if self.stands[name] in OPEN and self.plan.first[name] not in OPEN:
                self.say("P6", step, "opened while the way out %s stands open" % name)

    def end_positions(self):
        for name, stands in self.stands.items():
            found = self.plan.first.get(name, "in place")
            node = self.world.nodes.get(name)
            normal = node.get("normal") if node is not None else None
            shut = found == "unknown" and stands == "closed" and name in self.drained
            if stands not in (found, normal) and not shut:       # a way out is shut, whatever it was
                self.say("P6", None, "%s stands %s at the end, found %s, normal %s"
                         % (name, stands, found, normal))
        # What was closed is brought back to its normal position, where the file says one.
        for move in self.plan.moves:
            if move.kind == BARRIER and not move.late and move.id in self.world.nodes:
                normal = self.world.nodes[move.id].get("normal") or self.plan.first[move.id]
                if self.stands[move.id] != normal:
                    self.say("P6", None, "%s is left %s, normal is %s"
                             % (move.id, self.stands[move.id], normal))

    def tags_off(self):
        for point in self.record["points"]:
            steps = [s for s in self.record["restore"] if s["tag"] == point["tag"]]
            if not steps or steps[-1]["id"] != point["id"]:
                self.say("P6", None, "tag %d on %s is not taken off" % (point["tag"], point["id"]))

    # ---- drains (E5, E6, F-EPA-1) --------------------------------------------------------------------

    def ways_out(self):
        ways = [w for c in self.record["compartments"]
                for w in (c["vent"], c["drain"], c["prove"], *c["further_drains"])]
        ways += [w for b in self.record["between"] for w in b["bleed"]]
        return [w for w in ways if w]

    def drains(self):
        shut, capped = {}, {}
        for step in self.record["restore"]:
            if step["change"] and step["change"]["to"] == "closed":
                shut.setdefault(step["id"], step["n"])
            elif step["phase"] == "close-up" and self.world.tags.get(step["id"]) == "outlet":
                capped.setdefault(step["id"], step["n"])
        used = {s["id"] for s in self.record["steps"] if s["phase"] == "release"}
        for way in self.ways_out():
            order = [shut[i] for i in way if i in shut]
            if order != sorted(order):
                self.say("F-EPA-1", None, "of %s the outer valve is shut first: liquid stays between (E6)"
                         % ", ".join(way))
            outlet = way[-1]
            if outlet not in used or self.world.tags.get(outlet) != "outlet" \
                    or self.world.nodes[outlet].get("fitted") == "open":
                continue
            if outlet not in capped:
                self.say("F-EPA-1", None, "no cap is put back on %s" % outlet)
            elif order and capped[outlet] < max(order):
                self.say("F-EPA-1", None, "%s is capped before its valves are shut" % outlet)


def replay(world, text, record):
    """What is wrong with the order of a record: messages with rule ids."""
    return Replay(world, text, record).run()


def main():
    with open(sys.argv[1], encoding="utf-8") as stream:
        text = stream.read()
    with open(sys.argv[2], encoding="utf-8") as stream:
        record = json.load(stream)
    bad = replay(World(text, record["options"]["ambient_degC"]), text, record)
    for line in bad:
        print(line)
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
