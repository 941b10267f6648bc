#!/usr/bin/python3
"""--state against the plant file with the state written in (docs/FORMAT.md, section 2.1; N2, N3, D6, I7).

    test_state.py STILLSET_BIN [--plants N] [--start SEED]      (a third of the plants with --keep)

Random plants (grade_random, genrandom, genrelief) and random states (state_random, which says where the two differ
on purpose). A plan for a state is that for the edited file, in every grade, and the second check takes it with
this state and with no other. Relief likewise; and it is never better than on the file simply edited.
"""

import collections
import json
import os
import random
import sys

import genrandom
import genrelief
import grade_random
import grade_run
from common import RunError, run_plan, run_raw
from grade_plant import GRADES
from state_random import State, edited, started
from test_keep import choose

SAME = ("target", "work", "feasible", "ready", "grade", "cost", "points", "sources_inside", "inside", "between",
        "proof", "obstacle", "compartments", "closed_in", "still_live", "alternatives")
SEGMENT = ("ids", "closed_by", "shut_by", "stub", "state", "covered_by", "volume_m3", "mass_kg")
RELIEF = 3                              # plants of closed-in liquid for one of the others
RANK = {"not-full": 0, "covered": 0, "uncovered": 1}
SHUT = {None: 0, "": 0, "plan-only": 1, "person": 2, "itself": 3}


class Files:
    """The files of one case."""

    def __init__(self, folder, seed, text, state):
        self.names = {k: os.path.join(folder, "%s-%s" % (k, seed))
                      for k in ("plant", "state", "other", "edited", "normal", "plan")}
        self.write("plant", text)
        self.write("state", state.text())
        self.write("other", state.text() + "\n")
        self.write("edited", edited(text, state))
        self.write("normal", edited(text, state, normal=True))

    def __getitem__(self, name):
        return self.names[name]

    def write(self, name, text):
        with open(self.names[name], "w", encoding="utf-8") as stream:
            stream.write(text)

    def clear(self):
        for name in self.names.values():
            if os.path.exists(name):
                os.unlink(name)


def brief(value):
    text = json.dumps(value)
    return text if len(text) < 300 else text[:300] + "..."


def without_words(value):
    """A record without its texts for people, in which the two may differ."""
    if isinstance(value, dict):
        return {k: without_words(v) for k, v in value.items()
                if k not in ("text", "why", "what", "because", "shortfall", "would_help")}
    return [without_words(v) for v in value] if isinstance(value, list) else value


def findings(record):
    return sorted([f["rule"], f["id"], f["blocks"], f["accepted"]] for f in record["findings"])


def steps(record):
    return [[s["phase"], s["id"], s["tag"], s["change"]] for s in record["steps"]]


def told(files, state, record):
    """What the record has to say of the state: facts that take a danger away, each by name (N2, N3, D6)."""
    said = {a["id"] for a in record["assumptions"]} | set(record["start"])
    filed = {e.get("id"): e for e in state.elements}
    for name, found in state.found.items():
        contents, condition = found.get("contents"), found.get("condition")
        if contents not in (None, filed[name].get("contents")) and name not in said:
            yield "[N3] contents of %s unsaid" % name
        if condition not in (None, filed[name].get("condition") or "sound") and name not in said:
            yield "[D6] condition of %s unsaid" % name


def verify(binary, files, record, state):
    extra = ["--state", files[state]] if state else []
    code, out, err = run_raw(binary, ["verify", files["plant"], files["plan"], "--format", "json"] + extra)
    if code not in (0, 1):
        raise RunError("verify: exit %d: %s" % (code, err.decode()[:300]))
    return json.loads(out.decode())


def one_plan(binary, files, text, state, target, options, counts):
    got = run_plan(binary, files["plant"], target, options + ["--state", files["state"]])
    want = run_plan(binary, files["edited"], target, options)
    counts["plans"] += 1
    counts["feasible"] += got["feasible"]
    for key in SAME:
        one, other = without_words(got[key]), without_words(want[key])
        if one != other:
            yield "[I4] %s differs: %s, edited %s" % (key, brief(one), brief(other))
    if findings(got) != findings(want):
        yield "[N2] findings differ: %s" % [f for f in findings(got) + findings(want)
                                            if f not in findings(got) or f not in findings(want)]
    if steps(got) != steps(want):
        yield "[P1] steps differ: %s" % [s for s in steps(got) + steps(want)
                                         if s not in steps(got) or s not in steps(want)]
    if got["start"] != started(text, state):
        yield "[N2] start is %s, found was %s" % (brief(got["start"]), brief(started(text, state)))
    yield from told(files, state, got)
    with open(files["plan"], "w", encoding="utf-8") as stream:
        json.dump(got, stream)
    verdict = verify(binary, files, got, "state")
    if not verdict["agrees"]:
        yield "[I7] refuted with its own state: %s" % brief(verdict["against"])
    for other in ("other", None):
        verdict = verify(binary, files, got, other)
        if verdict["agrees"]:
            yield "[I7] not refuted with %s" % (other or "no state")


def by_ids(record):
    return {tuple(s["ids"]): s for s in record["segments"]}


def relief(binary, path, extra=()):
    code, out, err = run_raw(binary, ["relief", path, "--format", "json"] + list(extra))
    if code not in (0, 1):
        raise RunError("relief: exit %d: %s" % (code, err.decode()[:300]))
    return json.loads(out.decode())


def one_relief(binary, files, counts):
    got = by_ids(relief(binary, files["plant"], ["--state", files["state"]]))
    want = by_ids(relief(binary, files["normal"]))
    plain = by_ids(relief(binary, files["edited"]))
    counts["segments"] += len(got)
    if got.keys() != want.keys() or got.keys() != plain.keys():
        yield "[L1] other segments"
        return
    for ids, s in got.items():
        for key in SEGMENT:
            if s[key] != want[ids][key]:
                yield "[L2] %s: %s is %s, edited %s" % (ids[0], key, brief(s[key]), brief(want[ids][key]))
        counts["uncovered"] += RANK[s["state"]]
        worse = (RANK[s["state"]], SHUT[s["shut_by"]])
        simply = (RANK[plain[ids]["state"]], SHUT[plain[ids]["shut_by"]])
        counts["harder than simply edited"] += worse > simply
        if worse < simply:
            yield "[N2] %s: %s with the state, %s edited" % (ids[0], worse, simply)


def random_target(text, seed):
    """A component that can be worked on."""
    ids = [e.get("id") for e in State(text, seed).elements
           if e.tag.rsplit("}", 1)[1] in ("valve", "vessel", "fitting", "pump", "exchanger", "blind", "spool")]
    return random.Random("target %s" % seed).choice(ids)


def examine(work):
    binary, folder, seed = work
    counts, bad = collections.Counter(), []
    case = grade_random.plant(seed)
    jobs = [(case.text, case.target, grade, case.avoid) for grade in GRADES]
    text = genrandom.small_plant(seed)
    jobs.append((text, random_target(text, seed), "single", []))
    for text, target, grade, avoid in jobs:
        state = State(text, seed)
        files = Files(folder, seed, text, state)
        options = ["--grade", grade] + (["--avoid", ",".join(avoid)] if avoid else [])
        kept = choose(case, seed) if seed % 3 == 0 and text is case.text else []
        if kept:
            options += ["--keep", ",".join(kept)]
            counts["with equipment kept"] += 1
        try:
            for line in one_plan(binary, files, text, state, target, options, counts):
                bad.append("%s, target %s, avoid %s: %s" % (grade, target, ",".join(avoid), line))
        except RunError as problem:
            bad.append("%s: %s" % (grade, problem))
        files.clear()
    for text in [text] + [genrelief.relief_plant(RELIEF * seed + n) for n in range(RELIEF)]:
        state = State(text, seed)
        files = Files(folder, seed, text, state)
        try:
            bad += one_relief(binary, files, counts)
        except RunError as problem:
            bad.append(str(problem))
        files.clear()
    return seed, counts, bad


def main():
    totals, passed, failed = grade_run.over_plants(examine, grade_run.parser_of(plants=100).parse_args())
    return grade_run.closing(passed, failed, totals["feasible"] * 10 < totals["plans"]
                             or totals["uncovered"] * 10 < totals["segments"])


if __name__ == "__main__":
    sys.exit(main())
