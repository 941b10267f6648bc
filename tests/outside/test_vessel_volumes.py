#!/usr/bin/python3
"""What stays in a vessel below its drain (E3): a handbook's table, closed formulas, and sums over
level slices, which the program does not use.

    test_vessel_volumes.py BINARY [--vessels N] [--seed S]

Fraction of volume against depth of a cylinder that lies: Perry's Chemical Engineers' Handbook, table
of partly filled horizontal cylinders (from memory). Sphere: cap of height h, pi h^2 (3R - h) / 3.
Kloepper head (DIN 28011): about 0.1 D^3 (from memory).
"""

import argparse
import json
import math
import os
import random
import tempfile

from common import Checks, PlantFile, element, run_raw

LYING = [(0.05, 0.0187), (0.1, 0.0520), (0.15, 0.0941), (0.2, 0.1424), (0.25, 0.1955), (0.3, 0.2523),
         (0.35, 0.3119), (0.4, 0.3735), (0.45, 0.4364), (0.5, 0.5000), (0.6, 0.6265), (0.7, 0.7477),
         (0.8, 0.8576), (0.9, 0.9480)]


class Vessel:
    def __init__(self, shape, heads, diameter, length, bottom=1.0):
        self.shape, self.heads, self.diameter, self.length = shape, heads, diameter, length
        self.bottom = bottom

    def name(self):
        return "%s %s D %g L %g" % (self.shape, self.heads, self.diameter, self.length)

    def depth(self):
        d = self.diameter
        return {"flat": 0.0, "elliptical": d / 4, "hemispherical": d / 2,
                "dished": d * (1 - math.sqrt(0.81 - 0.16))}[self.heads]

    def height(self):
        return self.diameter if self.shape == "horizontal" else self.length + 2 * self.depth()

    def half_length(self, r):
        """From the middle of the axis to the head, at a distance r from the axis."""
        d, depth = self.diameter, self.depth()
        if r >= d / 2:
            return self.length / 2 if r <= d / 2 else 0.0
        if self.heads == "flat":
            head = 0.0
        elif self.heads == "dished":
            head = (math.sqrt(d * d - r * r) - (d - depth) if r <= 0.4 * d / 0.9
                    else math.sqrt(max(0.0, 0.01 * d * d - (r - 0.4 * d) ** 2)))
        else:
            head = depth * math.sqrt(1 - (2 * r / d) ** 2)
        return self.length / 2 + head

    def radius(self, x):
        """Of a vessel that stands, at a distance x from the middle: the largest that reaches so far."""
        low, high = 0.0, self.diameter / 2
        if abs(x) > self.half_length(0):
            return 0.0
        for _ in range(40):
            middle = (low + high) / 2
            if self.half_length(middle) >= abs(x):
                low = middle
            else:
                high = middle
        return low

    def below(self, level, steps=240):
        """Level slices from the bottom to the level; each is as long as the vessel is there."""
        radius, total = self.diameter / 2, 0.0
        h = min(max(level - self.bottom, 0.0), self.height())
        for i in range(steps):
            # Steps of equal angle, thin at both ends, where the width changes fast.
            z = h * (1 - math.cos(math.pi * (i + 0.5) / steps)) / 2
            dz = h * math.sin(math.pi * (i + 0.5) / steps) / 2 * math.pi / steps
            if self.shape == "vertical":
                total += math.pi * self.radius(z - self.height() / 2) ** 2 * dz
                continue
            y = z - radius
            reach, area = math.sqrt(max(0.0, radius * radius - y * y)), 0.0
            for k in range(steps):
                w = reach * math.sin(math.pi / 2 * (k + 0.5) / steps)
                dw = reach * math.cos(math.pi / 2 * (k + 0.5) / steps) * math.pi / 2 / steps
                area += 4 * self.half_length(math.hypot(y, w)) * dw
            total += area * dz
        return total


def left(binary, folder, vessel, level):
    """Volume of the pocket in the vessel, drained at a level, as the program has it; 0 = none."""
    plant = PlantFile("vessel")
    plant.add("service", id="W", substance="brine", phase="liquid", density="1000 kg/m3",
              temperature="10 degC", pressure="2 barg", design_pressure="10 barg")
    plant.add("limit", id="L-1", elevation="50 m")
    plant.add("valve", id="HV-1", kind="globe", position="open", lockable="yes", elevation="50 m")
    plant.add("vessel", [element("port", id="in", elevation="50 m"),
                         element("port", id="low", elevation="%.9g m" % level)],
              id="V", service="W", contents="liquid", shape=vessel.shape, heads=vessel.heads,
              diameter="%.9g m" % vessel.diameter, length="%.9g m" % vessel.length,
              bottom="%.9g m" % vessel.bottom)
    plant.add("valve", id="DV", kind="globe", position="closed", lockable="yes", elevation="%.9g m" % level)
    plant.add("outlet", id="OUT", kind="drain", leads_to="safe-place", shared="no", fitted="plug",
              elevation="%.9g m" % level)
    for n, (a, b) in enumerate((("L-1.in", "HV-1.in"), ("HV-1.out", "V.in"), ("V.low", "DV.in"),
                                ("DV.out", "OUT.in"))):
        plant.add("spool", id="S%d" % n, from_=a, to=b, length="1 m", bore="50 mm", service="W")
    path = os.path.join(folder, "vessel.xml")
    with open(path, "w", encoding="utf-8") as file:
        file.write(plant.text())
    code, out, err = run_raw(binary, ["plan", path, "--target", "V", "--grade", "single", "--format",
                                      "json"])
    if code not in (0, 1):
        raise SystemExit("exit %d: %s" % (code, err.decode("utf-8", "replace")))
    room = [c for c in json.loads(out.decode("utf-8"))["compartments"] if "V" in c["ids"]][0]
    return sum(p["volume_m3"] for p in room["pockets"] if "V" in p["ids"]), room["liquid_m3"]


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("binary")
    parser.add_argument("--vessels", type=int, default=60)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    print("seed %d" % options.seed)
    checks, rng = Checks(quiet=True), random.Random(options.seed)
    with tempfile.TemporaryDirectory() as folder:
        whole = math.pi * 4
        for depth, fraction in LYING:
            got, _ = left(options.binary, folder, Vessel("horizontal", "flat", 2.0, 4.0), 1 + 2 * depth)
            checks.check(abs(got / whole - fraction) < 6e-5, "E3 handbook, h/D %g" % depth,
                         "%.5f, want %.4f" % (got / whole, fraction))
        for shape in ("horizontal", "vertical"):
            for h in (0.1, 0.5, 1.0, 1.7):
                got, _ = left(options.binary, folder, Vessel(shape, "hemispherical", 2.0, 0.0), 1 + h)
                want = math.pi * h * h * (3 - h) / 3
                checks.check(abs(got - want) < 1e-5 * want, "E3 sphere %s, h %g" % (shape, h),
                             "%.6g, want %.6g" % (got, want))
        two, held = left(options.binary, folder, Vessel("horizontal", "dished", 1.0, 0.0), 1.5)
        checks.check(abs(two - 0.1) < 0.002, "E3 two Kloepper heads, half full", "%.5f" % two)
        for _ in range(options.vessels):
            vessel = Vessel(rng.choice(("horizontal", "vertical")),
                            rng.choice(("flat", "dished", "elliptical", "hemispherical")),
                            rng.uniform(0.3, 3), rng.choice((0.1, rng.uniform(0.2, 6))),
                            rng.uniform(-3, 3))
            level = vessel.bottom + vessel.height() * rng.uniform(0.02, 0.98)
            (got, held), want = left(options.binary, folder, vessel, level), vessel.below(level)
            checks.check(abs(got - want) < 2e-4 * vessel.below(1e9) + 1e-6,
                         "E3 %s, level %.4g" % (vessel.name(), level - vessel.bottom),
                         "%.6g, want %.6g" % (got, want))
            # What it holds altogether follows from the shape, where no volume is said.
            pipes = math.pi / 4 * 0.05 ** 2 * 3
            checks.check(abs(held - pipes - vessel.below(1e9)) < 1e-3 * held, "volume of " + vessel.name(),
                         "%.6g" % held)
    checks.finish()


if __name__ == "__main__":
    main()
