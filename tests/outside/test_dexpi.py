#!/usr/bin/python3
"""Import of the open reference drawing, against figures that were worked out apart from the program
(expected.json beside the drawing), and of variants of it against a plain walk over the drawing.

Source: DEXPI reference P&ID, DEXPI e.V., CC BY 4.0. Read where it lies, never copied; skipped
(exit 77) where it is not there.

    test_dexpi.py BIN [--variants N] [--seed N] [--folder FOLDER]
"""

import argparse
import collections
import concurrent.futures
import itertools
import json
import os
import random
import shutil
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as ElementTree
from xml.sax.saxutils import quoteattr

from common import NAMESPACE, Checks, RunError, counted_ids, run_plan, run_raw
from dexpi_graph import SKIPPED, Drawing

HERE = os.path.dirname(os.path.abspath(__file__))
FOLDER = os.path.join(HERE, "..", "..", "..", "shared", "dexpi")
DRAWING = "C01V04-VER.EX01.xml"
WORKERS, AHEAD = 3, 12


def import_drawing(binary, drawing, plant, extra=("--assume-lockable",)):
    """Import; return (exit status, report)."""
    code, out, err = run_raw(binary, ["import", "dexpi", drawing, "-o", plant] + list(extra))
    if code not in (0, 1) or not out:
        raise RunError("import: exit %d: %s" % (code, err.decode("utf-8", "replace")[:600]))
    with open(plant + ".import.json", encoding="utf-8") as file:
        report = json.load(file)
    if (code == 1) != (report["n_losses"] > 0 and "--accept-losses" not in extra):
        raise RunError("exit %d with %d losses" % (code, report["n_losses"]))
    return code, report


def plan_least(binary, plant, target):
    """The least number of points, or "impossible", as expected.json means it."""
    record = run_plan(binary, plant, target, ("--grade", "single", "--work", "open"))
    if not record["feasible"] or record["sources_inside"]:
        return "impossible", record
    return record["cost"]["points"], record


def joints_of(report):
    """Joints as expected.json lists them, nozzle to equipment included."""
    parts = {p["id"]: p for p in report["parts"]}
    joints = [sorted((j["from"], j["to"])) for j in report["joints"]
              if j["from"] in parts and j["to"] in parts]
    for part in parts.values():
        if part["kind"] == "nozzle":
            chamber = "|" + part["chamber"] if part["chamber"] else ""
            joints.append(sorted((part["id"], part["of"] + chamber)))
    return sorted(joints)


def plant_joints(plant, report):
    """Joints of the plant file, with ports of equipment named by their nozzles."""
    root = ElementTree.parse(plant).getroot()
    nozzles = {p["id"] for p in report["parts"] if p["kind"] == "nozzle"}
    pumps = {p["id"]: [] for p in report["parts"] if p["kind"] == "pump"}
    joints = []
    for spool in root.iter("{%s}spool" % NAMESPACE):
        ends = [spool.get(k).rsplit(".", 1) for k in ("from", "to")]
        for end in ends:
            if end[0] in pumps:
                pumps[end[0]].append(spool.get("id"))
        joints.append(sorted(e[1] if e[1] in nozzles else e[0] for e in ends))
    return joints, pumps


def check_counts(checks, report, want):
    drawn = [p for p in report["parts"] if p["kind"] != "instrument"]
    counts = collections.Counter("%s %s" % (p["element"], p["class"]) for p in drawn)
    checks.equal(dict(counts), want["components_by_class"], "dexpi: counts by class")
    group = {"pump": "equipment", "vessel": "equipment", "exchanger": "equipment"}
    kinds = collections.Counter(group.get(p["kind"], p["kind"]) for p in drawn)
    checks.equal(dict(kinds), want["parts_by_kind"], "dexpi: parts by kind")
    for key in ("systems", "segments"):
        checks.equal(report[key], want[key], "dexpi: " + key)
    equipment = {e["id"]: (e["tag"], e["kind"]) for e in want["equipment"]}
    checks.equal({p["id"]: (p["tag"], p["kind"]) for p in drawn if p["kind"] in group}, equipment,
                 "dexpi: tags and kinds of equipment")
    checks.equal(sorted(p["id"] for p in drawn if p["kind"] == "limit"),
                 sorted(want["off_page_connectors"]), "dexpi: connectors to other sheets")
    valves = {v["id"]: (v["tag"], v["line"], v["number"], v["hand"]) for v in want["stop_valves"]}
    checks.equal({p["id"]: (p["tag"], p["line_number"], p["number"], not p["operated"])
                  for p in drawn if p["kind"] == "stop"}, valves, "dexpi: tags of stop valves")
    classes = {v["id"]: v["cls"] for v in want["stop_valves"]}
    checks.equal({p["id"]: p["class"] for p in drawn if p["kind"] == "stop"}, classes,
                 "dexpi: classes of stop valves")
    shut = {p["id"]: "stop (operated)" if p["kind"] == "stop" else p["kind"] for p in drawn
            if p["kind"] in ("check", "control", "relief") or p["kind"] == "stop" and p["operated"]}
    checks.equal(shut, want["not_closable_valves"], "dexpi D2: valves that are never points")
    inner = collections.Counter(i["class"] for i in report["inner"])
    checks.equal(dict(inner), want["inner_equipment_by_class"], "dexpi: parts of equipment")
    for kind, key in (("id-twice", "ids_used_twice"),
                      ("connection-to-nothing", "connection_ends_that_name_nothing")):
        checks.equal([l["id"] for l in report["losses"] if l["kind"] == kind], want[key],
                     "dexpi: " + key)
    checks.equal(report["counts"].get("pipe-in-the-void", 0), want["isolated_pipes"],
                 "dexpi: pipes in the void")
    tags = [p for p in drawn if p["kind"] == "nozzle"]
    checks.equal(len(tags), want["nozzles"], "dexpi: nozzles")


class Vertices:
    """Vertices and joints of the report as expected.json counts them: an exchanger whose used
    nozzles all name a chamber stands for its used chambers, ends that were added are none."""

    def __init__(self, report, want):
        self.parts = {p["id"]: p for p in report["parts"] if p["kind"] != "instrument"}
        joints = joints_of(report)
        ends = {e for j in joints for e in j}
        self.near = {}
        self.of = {}
        for name in self.parts:
            self.of[name] = sorted(e for e in ends if e.startswith(name + "|")) or [name]
            self.near.update({v: set() for v in self.of[name]})
        for a, b in joints:
            self.near[a].add(b)
            self.near[b].add(a)
        self.sources = {v for n in [e["id"] for e in want["equipment"]] +
                        want["off_page_connectors"] for v in self.of[n]}

    def pieces(self):
        left, sizes = set(self.near), []
        while left:
            seen = self.walk({left.pop()}, set())
            left -= seen
            sizes.append(len(seen))
        return sorted(sizes, reverse=True)

    def walk(self, start, shut):
        seen, queue = set(start), list(start)
        while queue:
            for v in self.near[queue.pop()] - seen - shut:
                seen.add(v)
                queue.append(v)
        return seen

    def closable(self, any_valve):
        """With any valve: all of two ports, against rule D2 and on purpose."""
        kinds = ("stop", "check", "control", "relief") if any_valve else ("stop",)
        return {n for n, p in self.parts.items() if p["kind"] in kinds and
                (any_valve or not p["operated"]) and len(self.near[n]) <= 2}

    def least(self, target, any_valve):
        """The least cut by trying every set of valves, smallest first (no flow algorithm)."""
        start, valves = set(self.of[target]), self.closable(any_valve) - {target}
        sources = self.sources - start
        if self.walk(start, valves) & sources:
            return "impossible"
        for n in range(len(valves) + 1):
            for chosen in itertools.combinations(sorted(valves), n):
                if not self.walk(start, set(chosen)) & sources:
                    return n
        return "impossible"


def check_graph(checks, report, want):
    graph = Vertices(report, want)
    checks.equal(len(graph.near), want["graph"]["vertices"], "dexpi C12: vertices")
    checks.equal(graph.pieces(), want["graph"]["piece_sizes"], "dexpi C12: pieces")
    checks.equal(len(graph.pieces()), want["graph"]["connected_pieces"], "dexpi C12: their number")
    for valve in want["stop_valves"]:
        checks.equal(len(graph.near[valve["id"]]), valve["joints"],
                     "dexpi: joints of " + valve["id"])
    for target, least in sorted(want["least_for_every_part"].items()):
        for key in ("equipment", "any-valve"):
            checks.equal(graph.least(target, key == "any-valve"), least[key],
                         "dexpi C15: least cut of %s, %s" % (target, key))
    for sample in want["samples"]:
        start = set(graph.of[sample["target"]])
        part = graph.parts[sample["target"]]
        group = "equipment" if part["kind"] in ("pump", "vessel", "exchanger") else part["kind"]
        checks.equal((part["tag"], group), (sample["tag"], sample["kind"]),
                     "dexpi: tag and kind of " + sample["target"])
        for key in ("equipment", "any-valve", "rules"):
            name = "dexpi C15: sample %s, %s" % (sample["target"], key)
            case, shut = sample[key], graph.closable(key == "any-valve")
            if case["least"] == "impossible":
                way = [e for e in case["because"] if e in graph.near]
                checks.check(all(b in graph.near[a] for a, b in zip(way, way[1:])) and
                             way[-1] in start and not set(way[:-1]) & shut, name, str(way))
            elif key != "rules":
                points = set(case["points"])
                checks.check(points <= shut and len(points) == case["least"] and
                             not graph.walk(start, points) & (graph.sources - start), name)


def check_joints(checks, plant, report, want):
    checks.equal(joints_of(report), sorted(sorted(j) for j in want["joints"]), "dexpi: joints")
    checks.equal(report["joints_drawn"], want["graph"]["pipe_joints"], "dexpi: number of joints")
    # The plant file joins the same: what it says of pumps is compared by their spools.
    joints, pumps = plant_joints(plant, report)
    parts = {p["id"]: p for p in report["parts"]}
    of_pump = {n: p["of"] for n, p in parts.items() if p.get("of") in pumps}
    wanted = [sorted(of_pump.get(e, e) for e in j) for j in want["joints"]]
    wanted = sorted(j for j in wanted if j[0] != j[1] and not any("|" in e for e in j) and
                    not (set(j) & {p for p in parts if parts[p]["kind"] in ("vessel",)}))
    added = {j["to"] for j in report["joints"]} - set(parts)
    checks.equal(sorted(j for j in joints if not set(j) & added), wanted,
                 "dexpi: joints of the plant file")
    checks.check(all(len(s) == 2 for s in pumps.values()), "dexpi: pumps have two spools")
    ends = collections.Counter(l["id"] for l in report["losses"]
                               if l["kind"] in ("open-port", "open-pipe"))
    checks.equal(ends, collections.Counter(e["at"] for e in want["open_ends"]), "dexpi: open ends")
    checks.equal(sorted(l["id"] for l in report["losses"] if l["kind"] == "open-nozzle"),
                 sorted(want["unconnected_nozzles"]), "dexpi: unconnected nozzles")
    root = ElementTree.parse(plant).getroot()
    limits = [n.get("id") for n in root.iter("{%s}limit" % NAMESPACE)]
    checks.equal(len(limits), len(want["off_page_connectors"]) + len(want["open_ends"]) +
                 len(want["unconnected_nozzles"]), "dexpi N2: every open end is a limit")
    closable = sorted(v["id"] for v in want["stop_valves"] if v["closable"])
    checks.equal(sorted(n.get("id") for n in root.iter("{%s}valve" % NAMESPACE)
                        if n.get("lockable") == "assumed"), closable,
                 "dexpi D1: hand valves, and only these, are assumed to be lockable")
    places = {p["id"]: tuple(p["at"]) for p in report["parts"] if "at" in p}
    sheet = {n.get("id"): tuple(float(k) for k in n.get("sheet").split())
             for n in root if n.get("sheet")}
    checks.equal({k: v for k, v in sheet.items() if k in parts},
                 {k: v for k, v in places.items() if parts[k]["kind"] != "nozzle"},
                 "dexpi: places on the sheet")
    checks.check(added <= set(sheet) and len(sheet) == len(added) + 26,
                 "dexpi: what was added stands beside its nozzle or valve", str(sorted(sheet)))
    # By hand from the drawing: the lower limits below zero show that its Bar is gauge.
    pressures = {n.get("id"): n.get("design-pressure") for n in root.iter()
                 if n.get("design-pressure")}
    checks.equal(pressures, {"Chamber-1": "60 barg", "Chamber-2": "30 barg",
                             "Chamber-3": "60 barg", "Chamber-4": "30 barg",
                             "CentrifugalPump-1": "60 barg", "ReciprocatingPump-1": "60 barg",
                             "Tank-1": "0.05 barg"}, "dexpi: design pressures")
    checks.equal({n.get("id"): n.get("set-pressure") for n in root.iter()
                  if n.get("set-pressure")}, {"SpringLoadedGlobeSafetyValve-1": "6 barg"},
                 "dexpi: set pressures")
    sides = {e["id"]: e["sides"] for e in want["equipment"] if e["sides"]}
    got = {x.get("id"): {s.get("id"): sorted(p.get("id") for p in s) for s in x}
           for x in root.iter("{%s}exchanger" % NAMESPACE)}
    checks.equal(got, {k: {c: sorted(n) for c, n in v.items()} for k, v in sides.items()},
                 "dexpi N1: sides of exchangers")


def check_cuts(checks, binary, plant, want):
    for target, least in sorted(want["least_for_every_part"].items()):
        got, record = plan_least(binary, plant, target)
        checks.equal(got, least["rules"], "dexpi I4: least cut of " + target)
        if record["feasible"]:
            assumed = {a["id"] for a in record["assumptions"]}
            checks.check(set(counted_ids(record)) <= assumed, "dexpi D1: points of %s are "
                         "assumptions" % target, str(record["assumptions"]))
        else:
            path = record["obstacle"]["path"]
            checks.check(len(path) > 1 and record["obstacle"]["would_help"] is not None,
                         "dexpi I6: obstacle of " + target)
    for sample in want["samples"]:
        if sample["rules"]["least"] != "impossible":
            record = plan_least(binary, plant, sample["target"])[1]
            checks.equal(counted_ids(record), sorted(sample["rules"]["points"]),
                         "dexpi I4: points of " + sample["target"])


# What expected.json says of the drawing, and where it is compared. Its other drawing
# (distillation_laboratory.xml) is not read here.
COMPARED = {"components_by_class", "parts_by_kind", "systems", "segments", "equipment", "nozzles",
            "off_page_connectors", "stop_valves", "not_closable_valves",
            "inner_equipment_by_class", "ids_used_twice", "connection_ends_that_name_nothing",
            "isolated_pipes",                                            # check_counts
            "joints", "open_ends", "unconnected_nozzles",                # check_joints
            "graph", "samples", "least_for_every_part"}                  # check_graph, check_cuts


def check_reference(checks, binary, folder, work):
    with open(os.path.join(folder, "expected.json"), encoding="utf-8") as file:
        want = json.load(file)["files"][DRAWING]
    checks.equal(set(want), COMPARED, "dexpi: every figure is compared")
    plant = os.path.join(work, "plant.xml")
    drawing = os.path.join(folder, DRAWING)
    checks.equal(import_drawing(binary, drawing, plant)[0], 1, "dexpi: losses give exit 1")
    accepted = ("--assume-lockable", "--accept-losses")
    checks.equal(import_drawing(binary, drawing, plant, accepted)[0], 0,
                 "dexpi: accepted losses give exit 0")
    report = import_drawing(binary, drawing, plant)[1]
    code, _, err = run_raw(binary, ["check", plant])
    checks.equal(code, 0, "dexpi: the plant file passes check")
    checks.check(b"error:" not in err, "dexpi: the plant file has no errors")
    if shutil.which("xmllint"):
        schema = os.path.join(HERE, "..", "..", "docs", "plant.rng")
        checks.equal(subprocess.run(["xmllint", "--nonet", "--noout", "--relaxng", schema, plant],
                                    stderr=subprocess.DEVNULL, check=False).returncode, 0,
                     "dexpi: the plant file passes the schema")
    check_counts(checks, report, want)
    check_joints(checks, plant, report, want)
    check_graph(checks, report, want)
    check_cuts(checks, binary, plant, want)
    own = Drawing(ElementTree.parse(drawing).getroot())
    checks.equal(sorted(tuple(sorted(e)) for e in own.edges), sorted(tuple(j) for j in
                 want["joints"]), "dexpi: the check's own reading has the joints")
    import_drawing(binary, drawing, plant, ())
    checks.equal(plan_least(binary, plant, "BlindFlange-1")[0], "impossible",
                 "dexpi N2: without --assume-lockable nothing is a point")


class Variants:
    """The drawing without its pictures, and one change to it at a time."""

    PICTURES = SKIPPED | {"PolyLine", "Presentation", "CenterLine", "Axis", "Reference", "Scale",
                          "Extent"}

    def __init__(self, root):
        for node in list(root.iter()):
            for child in [c for c in node if c.tag in self.PICTURES]:
                node.remove(child)
        self.root = root
        self.up = {c: p for p in root.iter() for c in p}
        self.inside = [n for n in self.up if n.tag not in ("PlantInformation", "MetaData")]
        self.named = [n for n in self.inside if n.get("ID")]
        self.heavy = [n for n in self.inside
                      if n.get("ID") or n.tag in ("Association", "Connection", "Node")]
        self.joined = [n for n in self.inside if n.tag == "Connection"]
        # A change touches one child of the root: the text of the others stays.
        self.texts = {c: ElementTree.tostring(c, encoding="unicode") for c in root}

    def text(self, changed):
        """The drawing as it is now, a change having been made at or below a node."""
        while self.up[changed] is not self.root:
            changed = self.up[changed]
        children = [ElementTree.tostring(c, encoding="unicode") if c is changed else self.texts[c]
                    for c in self.root]
        attributes = "".join(" %s=%s" % (k, quoteattr(v)) for k, v in self.root.items()
                             if not k.startswith("{"))
        return "<%s%s>%s</%s>" % (self.root.tag, attributes, "".join(children), self.root.tag)

    def near(self, node):
        """Ids that a change at a node concerns."""
        ids = [node.get(k) for k in ("ID", "FromID", "ToID", "ItemID") if node.get(k)]
        while node in self.up:
            node = self.up[node]
            if node.get("ID"):
                return ids + [node.get("ID")] + [c.get("ID") for c in node if c.get("ID")]
        return ids

    def change(self, number, rng):
        """One element removed, one id changed, or one connection cut, in turn.
        @return what was done, where, ids near it, and how it is undone"""
        way = number % 3
        node = rng.choice((self.heavy, self.named, self.joined)[way])
        near, before = self.near(node), dict(node.attrib)
        if way == 0:
            place = list(self.up[node]).index(node)
            self.up[node].remove(node)
            return ("removed %s %s" % (node.tag, node.get("ID") or node.get("ItemID")), node, near,
                    lambda: self.up[node].insert(place, node))
        if way == 1:
            new = rng.choice(["changed", "a b,c.d", rng.choice(self.named).get("ID")])
            what = "id %s became %s" % (node.get("ID"), new)
            node.set("ID", new)
        else:
            what = "cut a connection of %s" % self.up[node].get("ID")
            for key in rng.choice((("FromID",), ("ToID",), ("FromID", "ToID"),
                                   ("FromNode", "ToNode"))):
                node.attrib.pop(key, None)
        return what, node, near, lambda: (node.attrib.clear(), node.attrib.update(before))


def target_of(names, own, near, easy, rng):
    """A part to plan for: one that can be isolated in the drawing as it is, or one near the
    change."""
    wanted = [n for n in names if n.startswith(("Blind", "PipeReducer", "Swing"))]
    if not easy:
        reach = {p for i in near if i in own.by_id for p in [own.by_id[i]]}
        for _ in range(3):
            reach |= {q for p in reach for q in p.joints}
        wanted = [n for n in names if any(p in reach for p in own.targets(n))]
    return rng.choice(wanted or names)


def check_variant(binary, text, own, folder, near, easy, rng):
    """@return what is wrong, or None; 1 if the plan was feasible, else 0"""
    with tempfile.TemporaryDirectory(dir=folder) as work:
        drawing, plant = os.path.join(work, "variant.xml"), os.path.join(work, "plant.xml")
        with open(drawing, "w", encoding="utf-8") as file:
            file.write(text)
        try:
            report = import_drawing(binary, drawing, plant)[1]
            names = [p["id"] for p in report["parts"]
                     if p["kind"] not in ("nozzle", "instrument") and own.targets(p["id"])]
            return check_plan(binary, plant, target_of(names, own, near, easy, rng), own)
        except RunError as problem:
            return str(problem), 0


def check_plan(binary, plant, target, own):
    record = run_plan(binary, plant, target, ("--grade", "single", "--work", "open"))
    if not record["feasible"]:
        return None, 0
    points = set(counted_ids(record))
    odd = [p for p in points if p not in own.parts or not own.closable(own.parts[p])]
    if odd:
        return "%s: points that cannot be closed: %s" % (target, odd), 1
    live = live_sources(own, target, points, record)
    if live:
        return "%s: with %s closed it is reached by %s" % (target, sorted(points), live), 1
    return None, 1


def live_sources(own, target, points, record):
    inside = {s["id"] if isinstance(s, dict) else s for s in record["sources_inside"]}
    return [s for s in own.reached(target, points) if s not in inside]


def check_variants(checks, binary, folder, work, count, seed):
    variants = Variants(ElementTree.parse(os.path.join(folder, DRAWING)).getroot())
    print("seed %d, %d variants" % (seed, count))
    bad = plans = 0
    # Nearly all of the time goes into starting the program: several at a time.
    waiting = collections.deque()
    with concurrent.futures.ThreadPoolExecutor(WORKERS) as pool:
        for number in range(count + AHEAD):
            if number < count:
                rng = random.Random("dexpi %d %d" % (seed, number))
                what, node, near, undo = variants.change(number, rng)
                text, own = variants.text(node), Drawing(variants.root)
                undo()
                waiting.append((number, what, pool.submit(check_variant, binary, text, own, work,
                                                          near, number % 2 == 0, rng)))
            if number < AHEAD or not waiting:
                continue
            done, what, result = waiting.popleft()
            wrong, looked = result.result()
            plans += looked
            if wrong:
                bad += 1
                checks.check(False, "dexpi I1: variant %d (%s)" % (done, what), wrong)
    checks.check(bad == 0, "dexpi I1: %d variants, none of %d plans refuted" % (count, plans))
    checks.check(plans * 8 >= count, "dexpi I1: enough variants can be isolated", str(plans))


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("binary")
    parser.add_argument("--variants", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--folder", default=FOLDER)
    given = parser.parse_args()
    if not os.path.exists(os.path.join(given.folder, DRAWING)):
        print("the reference drawing is not there: nothing is checked")
        sys.exit(77)
    checks = Checks()
    with tempfile.TemporaryDirectory() as work:
        check_reference(checks, given.binary, given.folder, work)
        check_variants(checks, given.binary, given.folder, work, given.variants, given.seed)
    checks.finish()


if __name__ == "__main__":
    main()
