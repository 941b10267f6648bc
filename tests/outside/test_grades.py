#!/usr/bin/python3
"""The product's plans of every grade against the exhaustive search on small random plants (I1, I2,
I4, N1 to N5, D1 to D3, D5 to D7), and each plan against a second check port by port.

    test_grades.py STILLSET_BIN [--plants N] [--start SEED] [--grades A,B] [--hand-only]
                   [--every-space-bled] [--go-on] [--cover]

--hand-only: neither actuated nor three-way valves as points; targets and options that the program
refuses are passed over. --every-space-bled: double-bleed asks for a bleed also of spaces that no path from
a source passes, such as a dead end closed off for its feeds. --cover fails when what the check is
there for occurs too rarely. STILLSET_BIN none: the search alone, to count what occurs. Exit 77 while the
program says that it does not plan a grade.
"""

import argparse
import collections
import multiprocessing
import os
import sys
import tempfile

import exhaustive
import grade_check
import grade_random
import grade_search
from common import RunError, counted_ids, run_plan, run_raw
from grade_cases import CASES
from grade_plant import GRADES, GradePlant

SKIP = 77
ENOUGH = {"infeasible": 0.05, "feasible": 0.05}  # least shares of the plants, by grade
# Least shares of the feasible answers, all grades together.
SHARES = {"sources inside": 0.02, "feeds": 0.05, "three-way valve": 0.01, "actuated valve": 0.02,
          "blind": 0.02, "spool": 0.02, "bleed decides": 0.01, "avoided": 0.02,
          "isolator of a bleed": 0.0005, "space between, double-bleed": 0.03}


def command(path, case, grade):
    extra = ["--grade", grade]
    if case.avoid:
        extra += ["--avoid", ",".join(case.avoid)]
    return ["plan", path, "--target", case.target] + extra + ["--format", "json"]


def plan_given(plant, record):
    """The points of a record as grade_check wants them."""
    feeds = {f.id: f.isolator for f in plant.feeds}
    closed, levels, isolators = {}, {}, set()
    ways = {d.id: [s for s, _ in d.settings] for d in plant.all_devices}
    for point in record["points"]:
        if not point["counted"]:
            continue
        if point["id"] in feeds:
            isolators.add(feeds[point["id"]])
            continue
        to = point.get("to") or ""
        closed[point["id"]] = to if to in ways.get(point["id"], [""]) else ""
        levels[point["id"]] = point["level"]
    return grade_check.Plan(closed, [s["id"] for s in record["sources_inside"]], isolators, levels)


def complain(plant, search, record):
    """All that differs between a record and the search, or is wrong with it."""
    best, bad = search.best, []
    if record["feasible"] != (best.key is not None):
        return ["[I1] feasible: got %s, least is %s %s" % (record["feasible"], best.cost, best.plan)]
    if not record["feasible"]:
        return bad
    got = (record["cost"]["sources"], record["cost"]["points"])
    if got != best.cost:
        bad.append("[I4] (sources, points): got %s, least is %s with %s"
                   % (got, best.cost, best.plan["ids"]))
    elif record["proof"].get("complete") is False:
        bad.append("[I5] the search is said to be incomplete")
    elif not exhaustive.relief_can_matter(plant):
        bad += compare_rest(best, record)
    plan = plan_given(plant, record)
    check = grade_check.Verdict(plant, search.grade, plan)
    bad += check.bad
    if len(counted_ids(record)) != got[1]:
        bad.append("[I4] %d counted points, cost says %d" % (len(counted_ids(record)), got[1]))
    if len(record["sources_inside"]) != got[0]:
        bad.append("[N4] %d sources listed, cost says %d"
                   % (len(record["sources_inside"]), got[0]))
    if not check.bad:
        bad += look_at_levels(search.grade, plan, check) + look_at_bleeds(search.grade, record)
    return bad


def compare_rest(best, record):
    """Mass and ids (I4), where D4 cannot tell plans apart."""
    unknown, grams, ids = best.key[2:]
    mass, bad = record["cost"]["mass_kg"], []
    if (mass is None) != bool(unknown) or (mass is not None and abs(mass * 1000 - grams) > 20):
        bad.append("[I4] mass_kg: got %s, least is %s" % (mass, None if unknown else grams / 1000))
    elif [i.encode("utf-8") for i in counted_ids(record)] != ids:
        bad.append("[I4] ids: got %s, lowest are %s" % (counted_ids(record), best.plan["ids"]))
    return bad


def look_at_levels(grade, plan, check):
    """Levels as stated: 1 next to the work, 2 further out (FORMAT)."""
    if grade == "positive":
        return []                    # grade_check has used them
    return ["[I2] %s has level %s, stands at %s" % (n, plan.levels[n], check.level_of[n])
            for n in plan.closed if plan.levels[n] != check.level_of[n]]


def look_at_bleeds(grade, record):
    """double-bleed: there is a space between, and each compartment of a station has its bleed."""
    if grade != "double-bleed" or not any(p["level"] == 2 for p in record["points"]):
        return []
    if not any(b["bleed"] and all(b["bleed"]) for b in record["between"]):
        return ["[I2] no space between is said to be bled"]
    return []


def examine(work):
    """One plant, all grades: (seed, counts, [(grade, complaints)], text, case, seconds)."""
    binary, folder, seed, grades, hand_only, every_space = work
    case, counts, failed = grade_random.plant(seed), collections.Counter(), []
    plant = GradePlant(case.text, [case.target], case.avoid, hand_only)
    path = os.path.join(folder, "plant-%s-%d.xml" % (seed, os.getpid()))
    with open(path, "w", encoding="utf-8") as stream:
        stream.write(case.text)
    costs = {}
    for grade in grades:
        try:
            search = grade_search.Search(plant, grade, every_space).run()
        except grade_search.TooMany:
            counts["too many sets"] += 1
            continue
        costs[grade] = search.best.cost
        tell(counts, plant, case, grade, search, costs)
        if binary == "none":
            continue
        try:
            record = run_plan(binary, path, case.target, command(path, case, grade)[4:-2])
            bad = complain(plant, search, record)
        except RunError as problem:
            if hand_only and str(problem).startswith("exit 2"):
                counts["not planned by this version"] += 1
                continue             # joints, pipes, --avoid
            bad = [str(problem)]
        except (KeyError, TypeError, AttributeError, ValueError) as problem:
            bad = ["the record has another shape: %s %s" % (type(problem).__name__, problem)]
        if bad:
            failed.append((grade, bad))
    os.unlink(path)
    return seed, counts, failed, case


def tell(counts, plant, case, grade, search, costs):
    """What occurred in the least plan."""
    counts["plans"] += 1
    if search.best.key is None:
        counts["infeasible " + grade] += 1
        return
    counts["feasible"] += 1
    counts["feasible " + grade] += 1
    plan = search.best.plan
    kinds = {d.kind for d in search.devices if d.id in plan["closed"]}
    for kind, name in (("three-way", "three-way valve"), ("d3", "actuated valve"),
                       ("blind", "blind"), ("spool", "spool")):
        counts[name] += kind in kinds
    counts["three points or more, " + grade] += len(plan["ids"]) > 2
    counts["space between, " + grade] += plan["between"]
    counts["sources inside"] += bool(plan["taken"])
    counts["feeds"] += bool(plan["isolators"])
    counts["isolator of a bleed"] += bool(plan["ways"])
    counts["avoided"] += bool(case.avoid)
    counts["mass known"] += not search.best.key[2]
    worse = {"single-bleed": "single", "double-bleed": "double"}.get(grade)
    counts["bleed decides"] += worse in costs and costs[worse] != costs[grade]


def refused(binary, folder):
    """Does the program say that it does not plan some grade?"""
    path = os.path.join(folder, "probe.xml")
    with open(path, "w", encoding="utf-8") as stream:
        stream.write(CASES[0].text)
    for grade in GRADES:
        code, _, err = run_raw(binary, ["plan", path, "--target", "W", "--grade", grade,
                                        "--format", "json"])
        if code == 2 and b"not planned by this version" in err:
            return grade
    return None


def too_rare(totals, plants, grades):
    """Names of what occurred too rarely to be tested."""
    rare = ["%s %s" % (what, g) for what, share in ENOUGH.items() for g in grades
            if totals["%s %s" % (what, g)] < share * plants]
    return rare + [n for n, share in SHARES.items() if totals[n] < share * totals["feasible"]]


def keep(seed, case):
    handle, kept = tempfile.mkstemp(".xml", "stillset-grades-%s-" % seed)
    with os.fdopen(handle, "w", encoding="utf-8") as stream:
        stream.write(case.text)
    return kept


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("binary")
    parser.add_argument("--plants", type=int, default=800)
    parser.add_argument("--start", type=int, default=1)
    parser.add_argument("--grades", default=",".join(GRADES))
    parser.add_argument("--hand-only", action="store_true")
    parser.add_argument("--every-space-bled", action="store_true")
    parser.add_argument("--go-on", action="store_true", help="do not stop at the first difference")
    parser.add_argument("--cover", action="store_true")
    parser.add_argument("--also", default="", help="more seeds: of plants at which a fault was found")
    options = parser.parse_args()
    seeds = list(range(options.start, options.start + options.plants))
    seeds += [int(seed) for seed in options.also.split(",") if seed]
    grades = options.grades.split(",")
    print("start %d" % options.start)
    passed = failed = 0
    totals = collections.Counter()
    with tempfile.TemporaryDirectory() as folder, multiprocessing.Pool(2) as pool:
        grade = None if options.binary == "none" else refused(options.binary, folder)
        if grade in grades:
            print("skipped: the program does not plan the grade " + grade)
            return SKIP
        work = ((options.binary, folder, n, grades, options.hand_only, options.every_space_bled)
                for n in seeds)
        for seed, counts, wrong, case in pool.imap(examine, work, chunksize=8):
            totals.update(counts)
            passed += not wrong
            failed += bool(wrong)
            for grade, bad in wrong:
                path = keep(seed, case)
                print("FAIL seed %s: %s" % (seed, " ".join(command(path, case, grade))))
                for line in bad:
                    print("     " + line)
            if wrong and not options.go_on:
                pool.terminate()
                break
    print("of these: " + ", ".join("%s %d" % item for item in sorted(totals.items())))
    rare = too_rare(totals, options.plants, grades) if options.cover else []
    if rare:
        print("FAIL too rare: " + ", ".join(rare))
    print("%d passed, %d failed" % (passed, failed))
    return 1 if failed or rare or not passed else 0


if __name__ == "__main__":
    sys.exit(main())
