"""The least (sources, points) as an integer program, solved by GLPK (GNU Linear Programming Kit).

For each piece p and level l a variable y_l(p): 1 when its label is at least l. Labels: 0 with the
work, K with the sources; K = 1 for single, 2 for double and positive. A device may have labels that
differ by one across it, and is then a point of that level (z); what is no device has one label. A
source with a label below K is taken inside (t). An isolator is locked (w) for what lies at label 0,
for a pump taken inside, and for an actuated point (I1, I2, N4, N5, D3, D5, D7).
"""

import os
import subprocess

from grade_plant import POSITIVE, VALVE
from grade_search import Search

LEVELS = {"single": 1, "double": 2, "positive": 2}


class Program:
    """The program of one plant and grade as rows of an LP file."""

    def __init__(self, plant, grade):
        self.plant, self.grade, self.top = plant, grade, LEVELS[grade]
        self.search = Search(plant, grade)           # for its pieces and ratings only
        self.rows, self.names, self.cost = [], set(), {}
        self.isolators = {}
        self.labels()
        for number, device in enumerate(self.search.devices):
            self.device(number, device)
        self.sources()
        self.feeds()

    def var(self, name):
        self.names.add(name)
        return name

    def row(self, terms, sense, right):
        """terms: (factor, variable)."""
        merged = {}
        for factor, name in terms:
            merged[self.var(name)] = merged.get(name, 0) + factor
        merged = {n: f for n, f in merged.items() if f}
        if merged:
            text = " ".join("%+d %s" % (f, n) for n, f in merged.items())
            self.rows.append("%s %s %d" % (text, sense, right))
        else:
            assert 0 <= right or sense == ">=", "a row that cannot be met"

    def y(self, level, place):
        return self.var("y%d_%d" % (level, self.search.piece_of[place]))

    def labels(self):
        for piece in range(len(self.search.pieces)):
            if self.top == 2:
                self.row([(1, "y2_%d" % piece), (-1, "y1_%d" % piece)], "<=", 0)
        for place in self.plant.opened:
            self.row([(1, self.y(1, place))], "=", 0)

    def levels_of(self, device):
        if self.grade != "positive":
            return range(1, self.top + 1)
        return [n for n, layer in ((1, POSITIVE), (2, VALVE)) if layer in device.layers]

    def device(self, number, device):
        levels = self.levels_of(device)
        points = [(1, "z%d_%d" % (n, number)) for n in levels]
        for _, z in points:
            self.cost[z] = 1
        self.row(points, "<=", 1)
        positions = ["x%d_%d" % (number, n) for n in range(len(device.settings))]
        if len(positions) > 1:
            self.row([(1, x) for x in positions], "<=", 1)
        for one in device.places:
            for other in device.places:
                if one == other:
                    continue
                parts = [x for x, (_, groups) in zip(positions, device.settings)
                         if not any(one in g and other in g for g in groups)]
                for level in range(1, self.top + 1):
                    self.across(device, number, level, one, other,
                                parts if len(positions) > 1 else None, level in levels and parts)
        for isolator in device.locks:
            self.row([(1, self.lock(isolator))] + [(-1, z) for _, z in points], ">=", 0)

    def across(self, device, number, level, one, other, parts, may):
        """y(one) may be above y(other) only by a point that holds against `one`."""
        high = [(1, self.y(level, one)), (-1, self.y(level, other))]
        if not may or not self.search.holds[(device.id, one)]:
            self.row(high, "<=", 0)
            return
        self.row(high + [(-1, "z%d_%d" % (level, number))], "<=", 0)
        if parts is not None:
            self.row(high + [(-1, x) for x in parts], "<=", 0)

    def sources(self):
        for number, (name, places, may) in enumerate(self.plant.sources()):
            for place in places:
                top = (1, self.y(self.top, place))
                if not may:
                    self.row([top], "=", 1)
                    continue
                taken = "t%d" % number
                self.cost[taken] = None
                self.row([top, (1, taken)], ">=", 1)
            if may:
                for isolator in self.plant.isolators_of([name]):
                    if self.plant.components[name].tag != "vessel":
                        self.row([(1, self.lock(isolator)), (-1, "t%d" % number)], ">=", 0)

    def lock(self, isolator):
        name = self.isolators.setdefault(isolator, "w%d" % len(self.isolators))
        self.cost[name] = 1
        return name

    def feeds(self):
        devices = {d.id: d for d in self.search.devices}
        for name, c in self.plant.components.items():
            for isolator in self.plant.isolators_of([name]):
                lock = (1, self.lock(isolator))
                if name in self.plant.whole:
                    self.row([lock], ">=", 1)
                elif name in devices and devices[name].kind != "d3":
                    places = [(name, p) for p in c.ports]
                    self.row([lock] + [(1, self.y(1, p)) for p in places], ">=", 1)
                else:
                    for port in c.ports:
                        self.row([lock, (1, self.y(1, (name, port)))], ">=", 1)

    def text(self):
        big = 1 + sum(1 for c in self.cost.values() if c)
        goal = " ".join("+%d %s\n" % (c or big, n) for n, c in self.cost.items())
        rows = "\n".join(" r%d: %s" % item for item in enumerate(self.rows))
        # A variable that costs nothing keeps the goal from being empty.
        return "Minimize\n goal: %s +0 nothing\nSubject To\n%s\n r: nothing <= 1\nBinary\n %s\nEnd\n" \
            % (goal, rows, "\n ".join(sorted(self.names) + ["nothing"])), big


class SolverError(Exception):
    """GLPK gave no answer."""


def least_cost(plant, grade, folder, seconds=60):
    """(sources, points), or None where there is no plan."""
    if not plant.opened <= set(Search(plant, grade).piece_of):
        return None
    text, big = Program(plant, grade).text()
    source, result = os.path.join(folder, "p%d.lp" % os.getpid()), \
        os.path.join(folder, "p%d.sol" % os.getpid())
    with open(source, "w", encoding="ascii") as stream:
        stream.write(text)
    done = subprocess.run(["glpsol", "--lp", source, "--tmlim", str(seconds), "-w", result],
                          stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, check=False)
    if done.returncode != 0:
        raise SolverError(done.stdout[-600:])
    if "TIME LIMIT" in done.stdout:
        raise SolverError("no optimum within %d s" % seconds)
    if "NO PRIMAL FEASIBLE" in done.stdout or "NO INTEGER FEASIBLE" in done.stdout:
        return None
    with open(result, encoding="ascii") as stream:
        line = next(row for row in stream if row.startswith("s "))
    fields = line.split()
    if fields[1] != "mip" or fields[4] != "o":
        raise SolverError("%s\n%s" % (line, done.stdout[-600:]))
    return divmod(round(float(fields[5])), big)
