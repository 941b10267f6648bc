"""What the outside checks share: counting checks, writing plant files, running the product.

The outside checks are written apart from the product: they know the plant file and the plan
record (FORMAT) and the rules (RULES), and nothing of the product's code.
"""

import json
import subprocess
import sys
from xml.sax.saxutils import quoteattr

NAMESPACE = "urn:stillset:plant:1"
TIMEOUT_S = 60


class Checks:
    """Counts checks and prints one line for each; the last line is `N passed, M failed`."""

    def __init__(self, quiet=False):
        self.passed = 0
        self.failed = 0
        self.quiet = quiet

    def check(self, ok, name, why=""):
        """Record one check. `name` carries the rule or fact id, `why` says what was found."""
        if ok:
            self.passed += 1
            if not self.quiet:
                print("ok   " + name)
        else:
            self.failed += 1
            print("FAIL " + name + (": " + why if why else ""))
        return ok

    def equal(self, got, expected, name):
        """Check that `got` equals `expected`; say both where it does not."""
        return self.check(got == expected, name, "got %r, expected %r" % (got, expected))

    def finish(self):
        """Print the last line and leave with 0 when nothing failed, else 1."""
        print("%d passed, %d failed" % (self.passed, self.failed))
        sys.stdout.flush()
        sys.exit(1 if self.failed or not self.passed else 0)


class PlantFile:
    """Collects elements of a plant and writes them as XML (FORMAT, plant file)."""

    def __init__(self, plant_id, **attributes):
        self.attributes = dict(id=plant_id, **attributes)
        self.elements = []

    def add(self, tag, children=(), **attributes):
        """Add an element; `_` in a name becomes `-`, a last `_` is dropped, None is left out."""
        self.elements.append(element(tag, children, **attributes))

    def text(self):
        """The whole file."""
        lines = ['<?xml version="1.0" encoding="UTF-8"?>']
        lines.append('<plant xmlns="%s"%s>' % (NAMESPACE, format_attributes(self.attributes)))
        for item in self.elements:
            write_element(lines, item, "  ")
        lines.append("</plant>")
        return "\n".join(lines) + "\n"


def element(tag, children=(), **attributes):
    """An element as a plain triple (tag, attributes, children)."""
    clean = {k.rstrip("_").replace("_", "-"): v for k, v in attributes.items() if v is not None}
    return (tag, clean, list(children))


def format_attributes(attributes):
    return "".join(" %s=%s" % (k, quoteattr(str(v))) for k, v in attributes.items())


def write_element(lines, item, indent):
    tag, attributes, children = item
    head = indent + "<" + tag + format_attributes(attributes)
    if not children:
        lines.append(head + "/>")
        return
    lines.append(head + ">")
    for child in children:
        write_element(lines, child, indent + "  ")
    lines.append(indent + "</" + tag + ">")


class RunError(Exception):
    """The product did something that no plant may make it do."""


def run_raw(binary, arguments):
    """Run the product; return (exit code, stdout bytes, stderr bytes)."""
    try:
        done = subprocess.run([binary] + list(arguments), stdout=subprocess.PIPE,
                              stderr=subprocess.PIPE, stdin=subprocess.DEVNULL, timeout=TIMEOUT_S,
                              check=False)
    except subprocess.TimeoutExpired:
        raise RunError("no answer within %d s" % TIMEOUT_S) from None
    return done.returncode, done.stdout, done.stderr


def run_plan(binary, plant, target, extra=("--grade", "single")):
    """Run `plan` and return the record. Exit 0 is yes, 1 is no; anything else is an error."""
    arguments = ["plan", plant, "--target", target] + list(extra) + ["--format", "json"]
    code, out, err = run_raw(binary, arguments)
    if code not in (0, 1):
        raise RunError("exit %d: %s" % (code, err.decode("utf-8", "replace").strip()[:600]))
    try:
        record = json.loads(out.decode("utf-8"))
    except ValueError as problem:
        raise RunError("exit %d, stdout is not JSON (%s)" % (code, problem)) from None
    if record.get("format") != "stillset-plan-1":
        raise RunError("format is %r" % record.get("format"))
    if (code == 0) != bool(record.get("feasible") and record.get("ready")):
        raise RunError("exit %d, but feasible=%r ready=%r"
                       % (code, record.get("feasible"), record.get("ready")))
    return record


def counted_ids(record):
    """Ids, in bytewise order, of the counted points of a plan record."""
    return byte_order(p["id"] for p in record["points"] if p["counted"])


def byte_order(ids):
    """Ids in bytewise order (I4)."""
    return sorted(ids, key=lambda i: i.encode("utf-8"))
