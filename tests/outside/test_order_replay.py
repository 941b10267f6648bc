#!/usr/bin/python3
"""Every plan played step by step (P1, P2, P3, P6, P8, P9, E1, E6, I1, L6, D4, F-OSH-1, F-OSH-4, F-EPA-1), and
spoilt plans, which the replay must notice.

    test_order_replay.py STILLSET_BIN PLANTS_DEMO [--plants N] [--first SEED] [--all] [--go-on]

Demo plants: each valve, pump, compressor, exchanger and vessel as target, of the large one some of
each (--all: every one), grades single, double, double-bleed and positive; then random plants (genorder.py,
grade_random.py). A spoilt plan counts as noticed when the replay says something, under one of the rules that
it breaks, that it did not say of the plan itself.
"""

import argparse
import collections
import copy
import os
import random
import re
import sys
import tempfile
import time

import genorder
import grade_random
from common import RunError, run_plan
from order_findings import lowest_id
from order_record import Plan
from order_replay import replay
from order_world import World

GRADES = ("single", "double", "double-bleed", "positive")
TARGETS = ("valve", "pump", "compressor", "exchanger", "vessel")
SHOWN = 8
# Spoilt plans of each kind that must have been tried, for the default run.
LEAST = 5


def steps_of(record, what, **same):
    """Numbers in a list of the record of the steps whose keys are as said."""
    return [i for i, s in enumerate(record[what]) if all(s[k] == v for k, v in same.items())]


def renumber(record):
    for what in ("steps", "restore"):
        for number, step in enumerate(record[what]):
            step["n"] = number + 1
    return record


class Spoiler:
    """Makes spoilt copies of a record: (kind, rules of which one must be named, record)."""

    def __init__(self, plan, rng):
        self.plan, self.record, self.rng = plan, plan.record, rng

    def changed(self, edit, *given):
        record = copy.deepcopy(self.record)
        edit(record, *given)
        return renumber(record)

    def one(self, numbers):
        return [self.rng.choice(numbers)] if numbers else []

    def all(self):
        for make in (self.forward, self.openings, self.findings, self.backward, self.drains):
            yield from make()

    @staticmethod
    def drop(record, what, number):
        del record[what][number]

    @staticmethod
    def carry(record, what, number, to):
        """Move a step elsewhere; it takes stage and phase of the step that stands there."""
        step = record[what].pop(number)
        near = record[what][min(to, len(record[what]) - 1)]
        step["stage"], step["phase"] = near["stage"], near["phase"]
        record[what].insert(to, step)

    @staticmethod
    def swap(record, what, one, other):
        steps = record[what]
        steps[one], steps[other] = steps[other], steps[one]
        for key in ("stage", "phase"):
            steps[one][key], steps[other][key] = steps[other][key], steps[one][key]

    def index(self, move, what="steps"):
        return move.n - 1

    # ---- steps -----------------------------------------------------------------------------------

    def forward(self):
        record = self.record
        for i in self.one(steps_of(record, "steps", phase="lock-and-tag")):
            yield "a lock dropped", {"P1"}, self.changed(self.drop, "steps", i)
        work = steps_of(record, "steps", phase="work")[0]
        verify = steps_of(record, "steps", phase="verify")
        if verify:
            def early(r):
                r["steps"].insert(verify[0], r["steps"].pop(work))
            yield "the cover opened before verify", {"P1"}, self.changed(early)

            def unproved(r):
                r["steps"] = [s for s in r["steps"] if s["phase"] != "verify"]
            yield "no verify", {"P1"}, self.changed(unproved)
        isolating = [m for m in self.plan.moves if m.kind == "barrier" and m.was != m.to]
        for move in self.one(isolating):
            i = self.index(move)
            yield "a point not closed", {"P1", "I7", "I1"}, self.changed(self.drop, "steps", i)

            def false_start(r):
                r["steps"][i]["change"]["from"] = "nowhere"
            yield "a position that is not so", {"I7"}, self.changed(false_start)
        closed = [m for m in isolating if m.action == "close" and m.level == 1]
        for move in self.one(closed if len(self.plan.valve_stages()) == 1 else []):
            def reopen(r):
                r["steps"].insert(work, dict(r["steps"][self.index(move)], phase="work", stage=r["steps"][
                    work]["stage"], change={"from": move.to, "to": "open"}))
            yield "a point reopened", {"P1", "I1", "I7"}, self.changed(reopen)
        feeds = [m for m in self.plan.moves if m.kind == "feed"]
        for move in self.one(feeds):
            yield "a feed left on", {"P1", "I1", "I7"}, self.changed(
                self.drop, "steps", self.index(move))
        for late in self.one([m for m in self.plan.moves if m.late]):
            yield "a blind before the valves are proved", {"P1"}, self.changed(
                self.carry, "steps", self.index(late), steps_of(record, "steps", phase="isolate")[0])

    def openings(self):
        """Hard rules among the moves."""
        pairs = [(a, b) for a in self.plan.moves for b in self.plan.moves
                 if a.n < b.n and a.stage == b.stage and not a.late and self.plan.before(
                     a, b, [m for m in self.plan.moves if m.stage == a.stage])]
        for a, b in self.one(pairs):
            kind = "a feed on while it is opened" if a.kind == "feed" else \
                "a feed side late" if a.feed_side else "the receiver side early" if b.receiver \
                else "the larger opening first"
            yield kind, {"P2", "E1"}, self.changed(
                self.swap, "steps", self.index(a), self.index(b))

    def findings(self):
        found = self.record["findings"]
        broken = self.broken_on_the_way()
        for rule in ("D4", "P9"):
            ids = sorted({f["id"] for f in found if f["rule"] == rule and f["blocks"]} & broken[rule])
            for name in self.one(ids):
                def unsaid(r):
                    r["findings"] = [f for f in r["findings"] if (f["rule"], f["id"]) != (rule, name)]
                yield "no finding of " + rule, {rule}, self.changed(unsaid)
        clear = self.clearly_shut_in()
        uncovered = [(i, set(c["ids"])) for i, c in enumerate(self.record["closed_in"])
                     if c["state"] == "uncovered"]
        entries = [i for i, ids in uncovered          # those that alone hold a pipe
                   if clear & ids - set().union(*(other for k, other in uncovered if k != i))]
        for k in self.one(entries):
            yield "a segment left out", {"L6"}, self.changed(self.drop, "closed_in", k)
            name = lowest_id(self.record["closed_in"][k]["ids"])

            def unsaid(r):
                r["findings"] = [f for f in r["findings"] if (f["rule"], f["id"]) != ("L6", name)]
            yield "no finding of L6", {"L6"}, self.changed(unsaid)

    def broken_on_the_way(self):
        """What the states after the moves have broken."""
        now, found = dict(self.plan.first), {"D4": set(), "P9": set()}
        for move in self.plan.moves:
            now[move.id] = move.to
            machines, equipment, _ = self.plan.broken(now)
            found["P9"] |= machines
            found["D4"] |= equipment
        return found

    def clearly_shut_in(self):
        """Pipes shut in once all is closed, where L3 needs no equation of state to tell."""
        now = dict(self.plan.first)
        now.update((m.id, m.to) for m in self.plan.moves if not m.late)
        segments = self.plan.broken(now)[2]
        return {s for spools, unclear, _ in segments if not unclear for s in spools}

    # ---- the way back ------------------------------------------------------------------------------

    def backward(self):
        record = self.record
        removes = [i for i in steps_of(record, "restore", phase="remove")
                   if record["restore"][i]["tag"] is not None]
        opened = [m.n - 1 for m in self.plan.back if not m.late and m.was != m.to]
        for i in self.one(removes):
            yield "a tag left on", {"P6"}, self.changed(self.drop, "restore", i)
        locked = [i for i in removes if self.plan.points[record["restore"][i]["id"]]["hold"] == "lock"]
        clear = steps_of(record, "restore", phase="clear")
        if locked and clear:
            yield "a lock off while people are near", {"F-OSH-4"}, self.changed(
                self.carry, "restore", self.rng.choice(locked), clear[0])

            def nobody_asked(r):
                r["restore"] = [s for s in r["restore"] if s["phase"] not in ("inspect", "clear")]
            yield "no inspection", {"F-OSH-4"}, self.changed(nobody_asked)
        feeds = [i for i in steps_of(record, "restore", phase="energise")
                 if record["restore"][i]["id"] in self.plan.world.feeds]
        if feeds and removes:
            yield "a feed on before the valves", {"F-OSH-4"}, self.changed(
                self.carry, "restore", self.rng.choice(feeds), removes[0])
        lifted = [m.id for m in self.plan.moves if m.kind == "opening"]
        sides = [m.n - 1 for m in self.plan.back if m.feed_side and m.was != m.to]
        # Its last step: the tests open it once more before.
        back = list({s["id"]: i for i, s in enumerate(record["restore"])
                     if s["id"] in lifted and s["change"]}.values())
        if back and sides:
            yield "an override forgotten until a feed side is open", {"E1"}, self.changed(
                self.carry, "restore", self.rng.choice(back), sides[-1])
        order = [(a, b) for a in self.plan.back for b in self.plan.back if a.n < b.n
                 and not a.late and not b.late and self.plan.group_back(a) < self.plan.group_back(b)]
        for a, b in self.one(order):
            yield "the way back in another order", {"P8"}, self.changed(
                self.swap, "restore", a.n - 1, b.n - 1)
        for i in self.one(opened):
            def left(r):
                r["restore"][i]["change"]["to"] = r["restore"][i]["change"]["from"]
            yield "a point left closed", {"P6"}, self.changed(left)

    def drains(self):
        record, tags = self.record, self.plan.world.tags
        caps = [i for i, s in enumerate(record["restore"]) if tags.get(s["id"]) == "outlet" and s["phase"] == "close-up"]
        for i in self.one(caps):
            yield "no cap put back", {"F-EPA-1"}, self.changed(self.drop, "restore", i)
        shut = {s["id"]: i for i, s in enumerate(record["restore"])
                if s["change"] and s["change"]["to"] == "closed"}
        ways = [w for c in record["compartments"] for w in (c["vent"], c["drain"], c["prove"], *c["further_drains"])]
        pairs = [(shut[a], shut[b]) for w in ways for a, b in zip(w, w[1:])
                 if a in shut and b in shut and shut[a] < shut[b]]
        for a, b in self.one(pairs):
            yield "the outer drain valve first", {"F-EPA-1"}, self.changed(self.swap, "restore", a, b)
        drains = [s["id"] for s in record["steps"] if s["phase"] == "release" and s["change"]
                  and s["change"]["from"] == "closed"]
        opened = [m.n - 1 for m in self.plan.back if not m.late and m.was != m.to]
        late = [shut[d] for d in drains if d in shut]
        if late and opened:
            yield "a drain open while a point is opened", {"P6"}, self.changed(
                self.carry, "restore", self.rng.choice(late), opened[-1])


def plain(messages):
    """Messages without the numbers of steps, which change when a step goes."""
    return {re.sub(r"\bstep \d+", "step", m) for m in messages}


class Run:
    """Counts over all plans."""

    def __init__(self, binary, go_on):
        self.binary, self.go_on = binary, go_on
        self.counts = collections.Counter()
        self.tried, self.missed = collections.Counter(), collections.Counter()
        self.passed = self.failed = 0

    def plan(self, name, path, world, text, target, grade, spoil):
        """Play one plan, and spoilt copies of it."""
        try:
            record = run_plan(self.binary, path, target, ["--grade", grade])
        except RunError as problem:
            return self.fault(name, [str(problem)])
        if not record["feasible"]:
            self.counts["not feasible"] += 1
            return None
        self.counts["plans"] += 1
        bad = replay(world, text, record)
        self.fault(name, bad)
        if spoil is None:
            return None
        known = plain(bad)
        for kind, rules, spoilt in Spoiler(Plan(world, text, record), spoil).all():
            if any(m.startswith("[%s]" % r) for m in known for r in rules):
                continue             # wrong in this respect as it is
            self.tried[kind] += 1
            new = plain(replay(world, text, spoilt)) - known
            if not any(m.startswith("[%s]" % r) for m in new for r in rules):
                self.missed[kind] += 1
                self.fault(name, ["spoilt, and not noticed: %s (said: %s)" % (kind, sorted(new)[:2])])
        return None

    def fault(self, name, bad):
        self.passed += not bad
        self.failed += bool(bad)
        for line in bad[:SHOWN]:
            print("FAIL %s: %s" % (name, line[:400]))
        if self.failed >= 20 and not self.go_on:
            self.finish([])

    def finish(self, rare):
        print(", ".join("%s %d" % item for item in sorted(self.counts.items())))
        print("spoilt plans: %s" % ", ".join(
            "%s %d" % item for item in sorted(self.tried.items())))
        for kind in rare:
            print("FAIL too rare: %s, %d" % (kind, self.tried[kind]))
        print("%d passed, %d failed" % (self.passed, self.failed))
        sys.exit(1 if self.failed or rare or not self.passed else 0)


# Kinds of spoilt plans that must occur; those of findings only where plans have some.
KINDS = ("a lock dropped", "the cover opened before verify", "no verify", "a point not closed",
         "a position that is not so", "a point reopened", "a feed left on",
         "a blind before the valves are proved", "a feed side late", "the receiver side early",
         "no finding of L6", "a segment left out", "a tag left on",
         "a lock off while people are near", "no inspection", "a feed on before the valves",
         "an override forgotten until a feed side is open", "the way back in another order",
         "a point left closed", "no cap put back", "the outer drain valve first",
         "a drain open while a point is opened")


def demo(run, folder, every):
    for file in ("tutorial.xml", "solvent.xml", "co2-booster.xml", "cold-store.xml"):
        path = os.path.join(folder, file)
        with open(path, encoding="utf-8") as stream:
            text = stream.read()
        world = World(text)
        targets = sorted(n for n, t in world.tags.items() if t in TARGETS)
        if len(targets) > 100 and not every:
            targets = [n for k, n in enumerate(targets) if k % 25 == 0 or (
                world.tags[n] != "valve" and k % 3 == 0)]
        for number, target in enumerate(targets):
            for grade in GRADES:
                spoil = random.Random("%s %s" % (target, grade)) if number % 4 == 0 else None
                run.plan("%s %s %s" % (file, target, grade), path, world, text, target, grade, spoil)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("binary")
    parser.add_argument("demo")
    parser.add_argument("--plants", type=int, default=200)
    parser.add_argument("--first", type=int, default=1)
    parser.add_argument("--all", action="store_true")
    parser.add_argument("--go-on", action="store_true", help="do not stop after 20 faults")
    options = parser.parse_args()
    print("first seed %d" % options.first)
    begin = time.monotonic()
    run = Run(options.binary, options.go_on)
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "plant.xml")
        for seed in range(options.first, options.first + options.plants):
            for make, grades in ((genorder.plant, None), (grade_random.plant, GRADES)):
                case = make(seed)
                if getattr(case, "avoid", None):
                    continue
                grade = case.grade if grades is None else grades[seed % 4]
                with open(path, "w", encoding="utf-8") as stream:
                    stream.write(case.text)
                run.plan("%s seed %d" % (make.__module__, seed), path, World(case.text), case.text,
                         case.target, grade, random.Random(seed))
    demo(run, options.demo, options.all)
    print("%.0f s" % (time.monotonic() - begin))
    run.finish([k for k in KINDS if run.tried[k] < LEAST])


if __name__ == "__main__":
    main()
