#!/usr/bin/python3
"""Random plants for the order of steps with what genorder.py leaves out: driven shut-off valves that fail closed
or otherwise (D3), three-way valves, two-phase pipes, positions that are not said, seized
check valves, limits that are dead, feeds shared by a machine and a valve.

    genorder_wide.py [--seed N] > plant.xml       (seed, target and grade go to stderr)
"""

import sys

import genorder


class WideMaker(genorder.Maker):
    def __init__(self, seed):
        super().__init__("wide-%s" % seed)
        self.driven_share = self.pick([0.0, 0.15, 0.4])
        self.unknown_share = self.pick([0.0, 0.0, 0.1])
        self.three_way_share = self.pick([0.0, 0.25])
        add = self.file.add

        def add_service(tag, *rest, **names):
            if tag == "service" and names["id"] == "WET" and self.chance(0.5):
                names["phase"] = "two-phase"
            return add(tag, *rest, **names)
        self.file.add = add_service

    def stop(self, position=None, **said):
        if position is None and not said and self.chance(self.driven_share):
            return self.driven()
        if position is None and self.chance(self.unknown_share):
            position = "unknown"
        return super().stop(position, **said)

    def driven(self):
        """A driven shut-off valve, mostly one that may be a point (D3)."""
        name = self.new_id("D")
        self.file.add("valve", id=name, kind=self.pick(["ball", "globe"]), drive=self.pick(["air", "motor"]),
                      fails=self.pick(["closed"] * 4 + ["open", None]), lockable="yes", feeds="complete",
                      position=self.pick(["open", "open", None]), place=self.pick(self.places),
                      bore=self.pick(genorder.BORES))
        self.feed(name, 0.9)
        return [(name, "in"), (name, "out")]

    def check(self):
        name = self.new_id("C")
        self.file.add("valve", id=name, kind=self.pick(["check"] * 6 + ["regulator"]),
                      condition="seized" if self.chance(0.05) else None, place=self.pick(self.places))
        return [(name, "in"), (name, "out")]

    def valves(self, hub_service):
        devices, tees = super().valves(hub_service)
        if not self.chance(self.three_way_share):
            return devices, tees
        name = self.new_id("X")
        self.file.add("valve", id=name, kind="three-way", lockable=self.pick(["yes", None]),
                      positions=self.pick(["a-c b-c", "a-c b-c a-b"]), position=self.pick(["a-c", "a-c", "unknown"]),
                      place=self.pick(self.places), bore=self.pick(genorder.BORES))
        self.join(self.main(), (name, "b"), hub_service)
        return devices + [[(name, "a"), (name, "c")]], tees

    def main(self):
        name = self.new_id("L")
        self.file.add("limit", id=name, dead="yes" if self.chance(0.1) else None,
                      place=self.pick(self.places))
        return (name, "in")


def plant(seed):
    """The plant of a seed, what is opened in it, and the grade to ask for."""
    return WideMaker(seed).build()


if __name__ == "__main__":
    sys.exit(genorder.main(plant))
