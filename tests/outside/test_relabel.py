#!/usr/bin/python3
"""Changes that must not matter (I4), and the same bytes for the same input.

Renaming every id, writing the elements in another order, splitting spools by an elbow, adding a
part of plant that is not joined to anything, hanging a capped stub on a fitting: the cost stays.

    test_relabel.py STILLSET_BIN [--plants N] [--seed S]
"""

import argparse
import os
import random
import tempfile
import xml.etree.ElementTree as ElementTree

import exhaustive
import genrandom
from common import NAMESPACE, Checks, RunError, run_plan, run_raw

FORMATS = ("json", "text", "csv", "svg")
REFERENCES = ("supplies", "on", "via", "acts-on", "service")


def tag(name):
    return "{%s}%s" % (NAMESPACE, name)


def renamed(root, target, rng):
    """Every id of service, component, spool and feed gets a new one."""
    nodes = [n for n in root if n.get("id")]
    numbers = rng.sample(range(10, 99999), len(nodes))
    new = {n.get("id"): "%s%d" % (rng.choice("abXYz"), k) for n, k in zip(nodes, numbers)}
    for node in nodes:
        node.set("id", new[node.get("id")])
        for key in ("from", "to"):
            if node.get(key) is not None:
                name, port = node.get(key).rsplit(".", 1)
                node.set(key, "%s.%s" % (new[name], port))
    for node in root.iter():
        for key in REFERENCES:
            if node.get(key) is not None:
                node.set(key, " ".join(new[word] for word in node.get(key).split()))
    return new[target]


def reordered(root, target, rng):
    """Elements in another order; spools run the other way."""
    nodes = list(root)
    rng.shuffle(nodes)
    root[:] = nodes
    for node in nodes:
        if node.tag == tag("spool") and rng.random() < 0.5:
            one, other = node.get("from"), node.get("to")
            node.set("from", other)
            node.set("to", one)
            if node.get("ends"):
                node.set("ends", " ".join(reversed(node.get("ends").split())))
    return target


def split(root, target, rng):
    """Some spools become two with an elbow between."""
    spools = [n for n in root if n.tag == tag("spool")]
    for number, spool in enumerate(rng.sample(spools, (len(spools) + 2) // 3)):
        elbow = "elbow-%d" % number
        ElementTree.SubElement(root, tag("fitting"), id=elbow, kind="elbow")
        half = dict(spool.attrib, id="half-%d" % number)
        half["from"] = elbow + ".b"
        spool.set("to", elbow + ".a")
        if spool.get("length"):
            value, unit = spool.get("length").split()
            for part, attributes in ((0.5, spool.attrib), (0.5, half)):
                attributes["length"] = "%g %s" % (float(value) * part, unit)
        half.pop("ends", None)
        spool.attrib.pop("ends", None)
        ElementTree.SubElement(root, tag("spool"), half)
    return target


def island(root, target, _rng):
    """A part of plant of its own, with a source, a gate, a pump and its feed."""
    for name, attributes in (
            ("limit", dict(id="island-limit")),
            ("valve", dict(id="island-gate", kind="gate", lockable="yes")),
            ("pump", dict(id="island-pump")),
            ("cap", dict(id="island-cap")),
            ("feed", dict(id="island-feed", kind="electrical", supplies="island-pump",
                          isolator="island switch", lockable="yes")),
            ("spool", {"id": "island-1", "from": "island-limit.in", "to": "island-gate.in"}),
            ("spool", {"id": "island-2", "from": "island-gate.out", "to": "island-pump.in"}),
            ("spool", {"id": "island-3", "from": "island-pump.out", "to": "island-cap.in"})):
        ElementTree.SubElement(root, tag(name), attributes)
    return target


def stubs(root, target, _rng):
    """A capped stub on every fitting whose ports are named by spools only."""
    used = {n.get(k).rsplit(".", 1)[0] for n in root for k in ("from", "to") if n.get(k)}
    plain = [n for n in list(root) if n.tag == tag("fitting") and len(n) == 0
             and n.get("id") in used]
    for number, fitting in enumerate(plain):
        ElementTree.SubElement(root, tag("cap"), id="stub-cap-%d" % number)
        ElementTree.SubElement(root, tag("spool"), {
            "id": "stub-%d" % number, "from": "%s.stub" % fitting.get("id"),
            "to": "stub-cap-%d.in" % number})
    return target


# name, change, whether the mass must stay the same to the gram
CHANGES = [("renamed", renamed, True), ("reordered", reordered, True), ("split", split, False),
           ("island", island, True), ("stubs", stubs, False)]


def cost(binary, path, target, with_mass):
    record = run_plan(binary, path, target)
    if not record["feasible"]:
        return "infeasible"
    keys = ("sources", "points") + (("mass_kg",) if with_mass else ())
    return tuple(record["cost"][k] for k in keys)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("binary")
    parser.add_argument("--plants", type=int, default=120)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    print("seed %d" % options.seed)
    ElementTree.register_namespace("", NAMESPACE)
    checks = Checks(quiet=True)
    with tempfile.TemporaryDirectory() as folder:
        first, second = os.path.join(folder, "a.xml"), os.path.join(folder, "b.xml")
        for seed in range(options.seed, options.seed + options.plants):
            rng = random.Random("relabel %s" % seed)
            text = genrandom.big_plant(seed) if seed % 10 == 0 else genrandom.small_plant(seed)
            target = rng.choice(sorted(exhaustive.Plant(text).components))
            with open(first, "w", encoding="utf-8") as stream:
                stream.write(text)
            for name, change, with_mass in CHANGES:
                root = ElementTree.fromstring(text)
                now = change(root, target, rng)
                ElementTree.ElementTree(root).write(second, "utf-8", xml_declaration=True)
                title = "[I4] %s, seed %d, target %s" % (name, seed, target)
                try:
                    checks.equal(cost(options.binary, second, now, with_mass),
                                 cost(options.binary, first, target, with_mass), title)
                except RunError as problem:
                    checks.check(False, title, str(problem))
            for form in FORMATS if seed % 4 == 0 else ():
                arguments = ["plan", first, "--target", target, "--grade", "single",
                             "--format", form]
                one, other = (run_raw(options.binary, arguments) for _ in range(2))
                title = "same bytes twice as %s, seed %d, target %s" % (form, seed, target)
                checks.check(one == other and one[0] in (0, 1) and one[1], title,
                             "exit %d and %d, %d and %d bytes; %s"
                             % (one[0], other[0], len(one[1]), len(other[1]), one[2][:300]))
    checks.finish()


if __name__ == "__main__":
    main()
