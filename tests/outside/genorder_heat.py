#!/usr/bin/python3
"""Random plants for the order of steps in which an exchanger is opened: each of its two sides has feed sides and
ways off of its own (N3, N5; docs/METHOD.md, section 7, rule 6). Temperatures differ, are equal, or are not said.

    genorder_heat.py [--seed N] > plant.xml       (seed, target and grade go to stderr)
"""

import sys

import genorder
from common import element


class HeatMaker(genorder.Maker):
    def __init__(self, seed):
        super().__init__("heat-%s" % seed)
        add = self.file.add

        def add_service(tag, *rest, **names):
            if tag == "service" and names["id"] == "LIQ":
                for name, warm in (("WARM", "30 degC"), ("EVEN", names["temperature"]), ("UNSAID", None)):
                    add(tag, *rest, **dict(names, id=name, temperature=warm))
            return add(tag, *rest, **names)
        self.file.add = add_service

    def target(self, work):
        other = self.hub(self.pick(["WARM", "WARM", "EVEN", "UNSAID"]))
        for _ in range(self.pick([1, 1, 2])):
            self.supply(other)
        for _ in range(self.pick([0, 1, 1])):
            self.way_off(other)
        if self.chance(self.relieved):
            self.relief(other)
        name = self.new_id("E")
        self.join(self.port(work), (name, "a"), "LIQ")
        self.join(self.port(other), (name, "b"), other[2])
        self.file.add("exchanger", [
            element("side", [element("port", id="a")], id="one", contents="liquid", volume="2 L", service="LIQ"),
            element("side", [element("port", id="b")], id="two", contents="liquid", volume="2 L", service=other[2])],
            id=name, feeds="complete", place=self.pick(self.places))
        return name


def plant(seed):
    """The plant of a seed, what is opened in it, and the grade to ask for."""
    return HeatMaker(seed).build()


if __name__ == "__main__":
    sys.exit(genorder.main(plant))
