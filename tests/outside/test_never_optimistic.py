#!/usr/bin/python3
"""What is not said counts the dangerous way (N2): taking a fact out of a plant file never improves
what `relief` says of a segment.

    test_never_optimistic.py BINARY [--plants N] [--seed S]

Every attribute of every element of random plants is taken out in turn. Exempt, since they record a
defect or a lower limit, or since taking them out says another thing (FORMAT, plain defaults):
  condition, rating, min-temperature, back-pressure; design-pressure of a component or exchanger
  side (its service's holds beside it); drive (not said = hand); position, normal and sealed where
  they do not say open; names, ends and kinds (another plant).
"""

import argparse
import json
import multiprocessing
import os
import sys
import tempfile
import xml.etree.ElementTree as ElementTree

import genrelief
from common import run_raw

NEVER = {"id", "kind", "from", "to", "condition", "rating", "min-temperature", "back-pressure", "drive",
         "schedule"}
RANK = {None: 3, "plan-only": 2, "person": 1, "itself": 0}


def exempt(tag, name, value):
    if name in NEVER:
        return True
    if name == "design-pressure" and tag != "service":
        return True
    return name in ("position", "normal", "sealed") and value not in ("open", "throttled")


def worth(segment):
    """The higher the better: uncovered by itself, by a person, by a plan; covered or not full."""
    return RANK[segment["shut_by"]]


def answers(binary, tree, path):
    tree.write(path, encoding="utf-8", xml_declaration=True)
    code, out, _ = run_raw(binary, ["relief", path, "--format", "json"])
    if code not in (0, 1):
        return None
    return {frozenset(s["ids"]): worth(s) for s in json.loads(out.decode("utf-8"))["segments"]}


def examine(work):
    """(seed, attributes tried, complaints)"""
    binary, folder, seed = work
    root = ElementTree.fromstring(genrelief.relief_plant(seed).encode("utf-8"))
    ElementTree.register_namespace("", "urn:stillset:plant:1")
    tree, path = ElementTree.ElementTree(root), os.path.join(folder, "p%d.xml" % seed)
    before = answers(binary, tree, path)
    tried, bad = 0, []
    for element in root.iter():
        tag = element.tag.split("}")[1]
        for name, value in list(element.attrib.items()):
            if tag == "plant" or exempt(tag, name, value):
                continue
            kept = dict(element.attrib)
            del element.attrib[name]
            after = answers(binary, tree, path)
            element.attrib.clear()
            element.attrib.update(kept)
            if after is None:
                continue             # required
            tried += 1
            for ids, rank in after.items():
                if ids in before and rank > before[ids]:
                    bad.append("[N2] without %s=\"%s\" of %s %s the segment of %s improves"
                               % (name, value, tag, element.get("id"), min(ids)))
    os.unlink(path)
    return seed, tried, bad


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("binary")
    parser.add_argument("--plants", type=int, default=60)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    print("seed %d" % options.seed)
    passed = failed = tried = 0
    with tempfile.TemporaryDirectory() as folder, multiprocessing.Pool(2) as pool:
        work = ((options.binary, folder, n) for n in range(options.seed, options.seed + options.plants))
        for seed, n, bad in pool.imap(examine, work):
            tried += n
            if not bad:
                passed += 1
                continue
            failed += 1
            print("FAIL seed %d" % seed)
            for line in bad[:5]:
                print("     " + line)
    print("%d attributes taken out" % tried)
    print("%d passed, %d failed" % (passed, failed))
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
