"""Random states for random plants, and the plant file in which they have been written in.

A state says how things were found on a day: `plan PLANT --state FILE` must answer as `plan` does on a plant file
with those words in it. Where the two differ on purpose stands at `edited`.
"""

import random
import xml.etree.ElementTree as ElementTree

from common import NAMESPACE, format_attributes

SPACE = "{%s}" % NAMESPACE
# They move by themselves: nobody finds them in a position that lasts.
SELF_ACTING = ("check", "relief", "regulator", "rupture-disc", "float", "excess-flow", "self-closing")
PASSES = ("open", "throttled")
ElementTree.register_namespace("", NAMESPACE)


def said_of(rng, element):
    """What is found of one component: attributes, or none."""
    tag, kind, said = element.tag[len(SPACE):], element.get("kind"), {}
    if tag == "valve":
        if kind not in SELF_ACTING + ("three-way",) and rng.random() < 0.6:
            said["position"] = rng.choice(["open", "open", "closed", "closed", "throttled", "unknown"])
        elif kind == "three-way" and element.get("positions") and rng.random() < 0.6:
            said["position"] = rng.choice(element.get("positions").split() + ["unknown"])
        if rng.random() < 0.4:
            said["condition"] = rng.choice(["sound", "passing", "seized", "unreachable"])
    elif tag == "blind":
        said["position"] = rng.choice(["open", "closed", "unknown"])
    elif tag == "vessel":
        said["contents"] = rng.choice(["liquid", "vapour", "two-phase", "none"])
    if tag in ("valve", "pump", "vessel") and rng.random() < 0.2:
        said["energised"] = rng.choice(["yes", "no"])
    return said


class State:
    """What was found in a plant: by id, attributes."""

    def __init__(self, text, seed, share=None):
        rng = random.Random("state %s" % seed)
        root = ElementTree.fromstring(text)
        share = rng.choice([0.1, 0.3, 0.6]) if share is None else share
        self.plant, self.elements, self.found = root.get("id"), list(root), {}
        for element in root:
            if rng.random() < share:
                said = said_of(rng, element)
                if said:
                    self.found[element.get("id")] = said

    def text(self):
        lines = ['<state xmlns="%s" plant="%s">' % (NAMESPACE, self.plant)]
        lines += ["  <at%s/>" % format_attributes(dict(id=i, **said)) for i, said in self.found.items()]
        return "\n".join(lines + ["</state>"]) + "\n"


def filed_position(element):
    return element.get("position") or element.get("sealed") or "unknown"


def edited(text, state, normal=None):
    """The plant file with the state written in.

    Differences on purpose: what is energised or not stands in no plant file and counts for nothing; a vessel found
    two-phase that the file has otherwise is full, since no file knows its level of today. And in what says how things
    stand normally, for relief (`normal`): what was found shut does not count as normally open, and what was
    found open not either, since the safe one of file and state holds (L2, N2); a blind has no `normal` to say so.
    """
    root = ElementTree.fromstring(text)
    for element in root:
        said = state.found.get(element.get("id"), {})
        if "position" in said:
            found, filed, kind = said["position"], filed_position(element), element.get("kind")
            if found != filed and normal and element.tag == SPACE + "blind":
                found = found if found not in PASSES else filed
            elif found != filed and normal and kind != "three-way":
                element.set("normal", (element.get("normal") or filed) if found in PASSES else found)
            element.set("position", found)
        if "condition" in said:
            element.set("condition", said["condition"])
        if "contents" in said:
            other = said["contents"] == "two-phase" and element.get("contents") != "two-phase"
            element.set("contents", "liquid" if other else said["contents"])
    return ElementTree.tostring(root, encoding="unicode")


def started(text, state):
    """`start` of the record: where a position differs from the plant file."""
    root, start = ElementTree.fromstring(text), {}
    for element in root:
        found = state.found.get(element.get("id"), {}).get("position")
        if found is not None and found != filed_position(element):
            start[element.get("id")] = found
    return start
