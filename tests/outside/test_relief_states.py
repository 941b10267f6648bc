#!/usr/bin/python3
"""`stillset relief` on random small plants against two derivations of the rules (L1, L2, L3, L5).

States: every combination of open and closed devices and of three-way positions is walked; a piece
that finds no cover in one of them must be reported uncovered (or not-full by L3), any other
covered. Oracle: ids, closed_by, state, shut_by, stub and covered_by, worked out from the rules'
wording. The two are held against each other as well, which needs no product (leave BINARY out).
Plants worked by hand come first (see hand_plants).

    test_relief_states.py [BINARY] [--plants N] [--seed S] [--go-on]
"""

import argparse
import json
import multiprocessing
import os
import random
import sys
import tempfile

import genrelief
import relief_oracle
import relief_plants
import relief_walk
from common import RunError, run_raw


AMBIENTS = (40, 40, 40, 25, 52)      # degC


def run_relief(binary, path, ambient):
    """The record of `relief` and its exit status."""
    code, out, err = run_raw(binary, ["relief", path, "--ambient", "%d degC" % ambient,
                                      "--format", "json"])
    if code not in (0, 1):
        raise RunError("exit %d: %s" % (code, err.decode("utf-8", "replace").strip()[:600]))
    try:
        record = json.loads(out.decode("utf-8"))
    except ValueError as problem:
        raise RunError("exit %d, stdout is not JSON (%s)" % (code, problem)) from None
    if record.get("format") != "stillset-relief-1":
        raise RunError("format is %r" % record.get("format"))
    return code, record


class Case:
    """One plant: what both derivations say, and whether the rules leave it open."""

    def __init__(self, text, ambient=40):
        self.plant = relief_oracle.Plant(text)
        self.segments = {s.spools: s for s in self.plant.segments(ambient)}
        self.walker = relief_walk.Walker(text)
        self.names = {spools: min(spools) for spools in self.segments}
        self.kinds = set()
        self.open_reading = self.back_pressure_matters()

    def back_pressure_matters(self):
        """Whether it matters that an open outlet with a declared back pressure comes first (L2)."""
        states = [(), self.plant.hand_state(False), self.plant.hand_state(True)]
        return any(self.plant.cover(s).covered != self.plant.cover(s, outlet_first=False).covered
                   for s in states)

    def derivations(self):
        """Differences between the states and the oracle."""
        bad = []
        walker, names = self.walker, list(self.names.values())
        found, count = walker.ever_uncovered(walker.states(), names)
        normal, _ = walker.ever_uncovered(walker.named_states(False), names)
        person, _ = walker.ever_uncovered(walker.named_states(True), names)
        self.count = count
        for spools, segment in self.segments.items():
            name = self.names[spools]
            by_states = None if name not in found else "itself" if name in normal else \
                "person" if name in person else "plan-only"
            if by_states != segment.shut_by:
                bad.append("piece of %s: by states %s, by oracle %s"
                           % (name, by_states, segment.shut_by))
            self.kinds.update(x for x in (segment.shut_by, "stub" if segment.stub else None,
                                          "covered" if segment.covered else "uncovered",
                                          "L3 " + segment.l3) if x)
            if segment.covered and segment.opening is not None and segment.opening > 0:
                self.kinds.add("covered by a relief valve")
        return bad

    def record(self, code, record):
        """Differences between a record of the product and the oracle."""
        bad, rest, alarm = [], dict(self.segments), False
        for item in record["segments"]:
            ids = set(item["ids"])
            spools = frozenset(ids.intersection(self.plant.spools))
            expected = rest.pop(spools, None)
            if expected is None:
                bad.append("[L1] no piece has the spools %s" % sorted(spools))
                continue
            where = "segment %s: " % min(ids)
            bad += [where + b for b in self.segment(item, ids, expected)]
            alarm |= item["state"] == "uncovered" and not item["stub"] \
                and item.get("shut_by") != "plan-only"
        states = [item["state"] for item in record["segments"]]
        counts = {"segments": len(states), "covered": states.count("covered"),
                  "uncovered": states.count("uncovered"), "not_full": states.count("not-full")}
        for key, count in counts.items():
            if record["summary"].get(key) != count:
                bad.append("[FORMAT] summary: %s is %s, but there are %d"
                           % (key, record["summary"].get(key), count))
        for spools in rest:
            bad.append("[L1] no segment for the piece of %s" % min(spools))
        if code != (1 if alarm else 0):
            bad.append("[FORMAT] exit %d, but %s" % (code, "a gap stands" if alarm else "no gap"))
        return bad

    def segment(self, item, ids, expected):
        if ids != expected.ids:
            yield "[L1] ids: got %s, expected %s" % (sorted(ids), sorted(expected.ids))
        closed_by = set(item["closed_by"])
        if closed_by != expected.closed_by:
            yield "[L4] closed_by: got %s, expected %s" % (sorted(closed_by),
                                                           sorted(expected.closed_by))
        if item["state"] not in expected.states:
            yield "[%s] state: got %s, expected %s (opens at %s, lowest design %s, L3 %s)" % (
                "L3" if "not-full" in (item["state"], *expected.states) else "L5", item["state"],
                sorted(expected.states), expected.opening, expected.lowest, expected.l3)
            return
        if item["stub"] != expected.stub:
            yield "[FORMAT] stub: got %s, expected %s" % (item["stub"], expected.stub)
        if item["state"] == "uncovered" and item["shut_by"] != expected.shut_by:
            yield "[L5] shut_by: got %s, expected %s" % (item["shut_by"], expected.shut_by)
        covers = {c if isinstance(c, str) else c["id"] for c in item.get("covered_by") or []}
        if item["state"] == "covered" and not covers & expected.useful:
            yield "[L2] covered_by: got %s, what covers is %s" % (sorted(covers),
                                                                  sorted(expected.useful))
        elif item["state"] == "covered":
            valves = {n for n, v in self.plant.nodes.items()
                      if v.get("kind") in relief_oracle.RELIEF_KINDS}
            named = valves.union(c if isinstance(c, str) else c["id"] for c in item["conditions"])
            number = next(p.number for p in self.plant.pieces
                          if frozenset(p.spools) == expected.spools)
            if not self.plant.cover(named=named).covered[number]:
                yield "[L2] conditions: no cover with %s alone sealed open" % sorted(named - valves)


def examine(job):
    """Everything for one plant; returns (seed, kinds, states, differences, text)."""
    binary, folder, seed, text = job
    text = text or genrelief.relief_plant(seed)
    try:
        ambient = random.Random(seed).choice(AMBIENTS) if isinstance(seed, int) else 40
        case = Case(text, ambient)
        bad = case.derivations()
        if case.open_reading:
            case.kinds.add("left out: an open reading of L2")
            return seed, case.kinds, case.count, [], text
        if binary:
            path = os.path.join(folder, "plant-%s-%d.xml" % (seed, os.getpid()))
            with open(path, "w", encoding="utf-8") as stream:
                stream.write(text)
            try:
                bad += case.record(*run_relief(binary, path, ambient))
            finally:
                os.unlink(path)
        return seed, case.kinds, case.count, bad, text
    except RunError as problem:
        return seed, set(), 0, [str(problem)], text
    except (KeyError, TypeError, AttributeError) as problem:
        return seed, set(), 0, ["the record has another shape: %s %s"
                                % (type(problem).__name__, problem)], text


def hand_plants(binary, folder):
    """Plants worked by hand: both derivations, and the product, must give what was worked out."""
    passed = failed = 0
    for name, text, answers in relief_plants.PLANTS:
        _, _, _, bad, _ = examine((binary, folder, name, text))
        found = {}
        for segment in relief_oracle.Plant(text).segments():
            state = segment.shut_by or "covered" if segment.l3 == "needs" else segment.l3
            found.update(dict.fromkeys(segment.spools, state.replace("passes", "not-full")))
        bad += ["%s: got %s, by hand %s" % (spool, found.get(spool), answer)
                for spool, answer in answers.items() if found.get(spool) != answer]
        passed, failed = passed + (not bad), failed + bool(bad)
        print(("FAIL " if bad else "ok   ") + name)
        for line in bad:
            print("     " + line)
    return passed, failed


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("binary", nargs="?")
    parser.add_argument("--plants", type=int, default=1500)
    parser.add_argument("--seed", type=int, default=None)
    parser.add_argument("--go-on", action="store_true", help="do not stop at the first difference")
    options = parser.parse_args()
    seed = options.seed
    if seed is None:
        seed = random.SystemRandom().randrange(10 ** 6) * 10 ** 4
    print("seed %d" % seed)
    totals, states = {}, 0
    with tempfile.TemporaryDirectory() as folder, multiprocessing.Pool(2) as pool:
        passed, failed = hand_plants(options.binary, folder)
        work = ((options.binary, folder, n, None) for n in range(seed, seed + options.plants))
        for number, kinds, count, bad, text in pool.imap(examine, work, chunksize=8):
            states += count
            for kind in kinds:
                totals[kind] = totals.get(kind, 0) + 1
            if not bad:
                passed += 1
                continue
            failed += 1
            handle, kept = tempfile.mkstemp(".xml", "stillset-relief-%s-" % number)
            with os.fdopen(handle, "w", encoding="utf-8") as stream:
                stream.write(text)
            print("FAIL seed %s: relief %s --ambient '%d degC' --format json"
                  % (number, kept, random.Random(number).choice(AMBIENTS)))
            for line in bad:
                print("     " + line)
            if not options.go_on:
                pool.terminate()
                break
    print("%d states walked; plants with: %s"
          % (states, ", ".join("%s %d" % item for item in sorted(totals.items()))))
    print("%d passed, %d failed" % (passed, failed))
    sys.exit(1 if failed or not passed else 0)


if __name__ == "__main__":
    main()
