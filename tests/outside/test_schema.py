#!/usr/bin/python3
"""Plan records against docs/plan.schema.json; CSV against formula injection; SVG well-formed.

    test_schema.py STILLSET_BIN [--plants N] [--seed S]
"""

import argparse
import csv
import glob
import io
import json
import os
import random
import tempfile
import xml.etree.ElementTree as ElementTree

import jsonschema

import exhaustive
import genrandom
import networks
from common import Checks, RunError, run_plan, run_raw

ROOT = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "..")
DANGEROUS = ("=", "+", "-", "@", "\t", "\r")
TARGETS_OF_A_DEMO = 8


def cases(folder, options):
    """(name, path, target) for demo plants, a network and random plants."""
    for path in sorted(glob.glob(os.path.join(ROOT, "plants-demo", "**", "*.xml"), recursive=True)):
        try:
            with open(path, encoding="utf-8") as stream:
                components = exhaustive.Plant(stream.read()).components
        except (AssertionError, ElementTree.ParseError, KeyError):
            continue                 # a state, policy or site file
        names = sorted(components)
        rng = random.Random("schema %s" % os.path.basename(path))
        for target in sorted(rng.sample(names, min(TARGETS_OF_A_DEMO, len(names)))):
            yield os.path.basename(path), path, target
    path = os.path.join(folder, "net3.xml")
    with open(path, "w", encoding="utf-8") as stream:
        stream.write(networks.plant_text("net3", "N-1"))
    for target in ("N-115", "L-113", "N-River"):
        yield "net3 N-1", path, target
    for seed in range(options.seed, options.seed + options.plants):
        text = genrandom.big_plant(seed) if seed % 10 == 0 else genrandom.small_plant(seed)
        path = os.path.join(folder, "random-%d.xml" % seed)
        with open(path, "w", encoding="utf-8") as stream:
            stream.write(text)
        names = sorted(exhaustive.Plant(text).components)
        yield "seed %d" % seed, path, random.Random("schema %d" % seed).choice(names)


def check_csv(checks, text, title):
    """Python's csv reads it, rows have one length, no cell starts a formula in a spreadsheet."""
    try:
        rows = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    except csv.Error as problem:
        checks.check(False, title + ": csv", str(problem))
        return
    checks.check(rows and len({len(r) for r in rows if r}) == 1, title + ": csv rows of one length",
                 "lengths %s" % sorted({len(r) for r in rows}))
    formulas = [c for r in rows for c in r if c.startswith(DANGEROUS)]
    checks.check(not formulas, title + ": csv no formula", "cells %r" % formulas[:5])


def check_relief(checks, binary, validator, name, path):
    """The relief record against its schema, and its CSV."""
    code, out, err = run_raw(binary, ["relief", path, "--format", "json", "--since", path])
    if not checks.check(code in (0, 1), name + ": relief", "exit %d, %s" % (code, err[:300])):
        return
    problems = ["/".join(map(str, e.absolute_path)) + ": " + e.message[:200]
                for e in validator.iter_errors(json.loads(out.decode("utf-8")))]
    checks.check(not problems, name + ": relief schema", "; ".join(problems[:3]))
    _, out, _ = run_raw(binary, ["relief", path, "--format", "csv"])
    check_csv(checks, out.decode("utf-8"), name + ": relief")


def check_site(checks, binary, validator):
    """A record made with a site file, and one without: both by the schema, and verify agrees with the plan."""
    demo = os.path.join(ROOT, "plants-demo")
    for more in ([], ["--site", os.path.join(demo, "harbour.site")]):
        code, out, err = run_raw(binary, ["plan", os.path.join(demo, "tutorial.xml"), "--target", "MV-1", "--grade",
                                          "single", "--format", "json"] + more)
        if not checks.check(code in (0, 1), "site", "exit %d, %s" % (code, err[:300])):
            continue
        record = json.loads(out.decode("utf-8"))
        problems = ["/".join(map(str, e.absolute_path)) + ": " + e.message[:200] for e in validator.iter_errors(record)]
        checks.check(not problems, "site: schema", "; ".join(problems[:3]))
        checks.check((record["site"] is None) == (not more), "site: named", str(record["site"]))
        for figure, right in ((record["tests"]["strength_barg"], True), (100, False)):
            record["tests"]["strength_barg"] = figure
            with tempfile.NamedTemporaryFile("w", suffix=".json", encoding="utf-8") as stream:
                json.dump(record, stream)
                stream.flush()
                code, out, _ = run_raw(binary, ["verify", os.path.join(demo, "tutorial.xml"), stream.name])
            checks.check((code == 0) == right, "site: verify at %g barg" % figure, out.decode("utf-8")[:300])


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("binary")
    parser.add_argument("--plants", type=int, default=50)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    checks = Checks(quiet=True)
    print("seed %d" % options.seed)
    with open(os.path.join(ROOT, "docs", "plan.schema.json"), encoding="utf-8") as stream:
        schema = json.load(stream)
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    broken = json.loads('{"format": "stillset-plan-1"}')
    checks.check(not validator.is_valid(broken), "schema refuses an empty record")
    with open(os.path.join(ROOT, "docs", "relief.schema.json"), encoding="utf-8") as stream:
        relief_schema = json.load(stream)
    jsonschema.Draft202012Validator.check_schema(relief_schema)
    relief = jsonschema.Draft202012Validator(relief_schema)
    checks.check(not relief.is_valid({"format": "stillset-relief-1"}), "schema refuses an empty relief record")
    check_site(checks, options.binary, validator)
    with tempfile.TemporaryDirectory() as folder:
        for name, path in sorted({(name, path) for name, path, _ in cases(folder, options)}):
            check_relief(checks, options.binary, relief, name, path)
        for name, path, target in cases(folder, options):
            title = "%s, target %s" % (name, target)
            try:
                record = run_plan(binary=options.binary, plant=path, target=target)
            except RunError as problem:
                checks.check(False, title, str(problem))
                continue
            problems = ["/".join(map(str, e.absolute_path)) + ": " + e.message[:200]
                        for e in validator.iter_errors(record)]
            checks.check(not problems, title + ": schema", "; ".join(problems[:3]))
            for form in ("csv", "svg"):
                code, out, err = run_raw(options.binary, ["plan", path, "--target", target,
                                                          "--grade", "single", "--format", form])
                if not checks.check(code in (0, 1) and out, "%s: %s" % (title, form),
                                    "exit %d, %d bytes, %s" % (code, len(out), err[:300])):
                    continue
                if form == "csv":
                    check_csv(checks, out.decode("utf-8"), title)
                    continue
                try:
                    root = ElementTree.fromstring(out)
                    checks.check(root.tag.endswith("svg"), title + ": svg root", root.tag)
                except ElementTree.ParseError as problem:
                    checks.check(False, title + ": svg well-formed", str(problem))
    checks.finish()


if __name__ == "__main__":
    main()
