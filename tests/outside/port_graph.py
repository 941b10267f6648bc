"""The graph of a plant with nothing merged, for timings: a vertex for each port, edges for spools
and for what components join. Closable devices cost 1, all else cannot be cut."""

import igraph

from whole_graph import NEVER, plant2graph


class PortGraph:
    def __init__(self, plant):
        self.plant, self.numbers, self.edges, self.capacity = plant, {}, [], []
        self.door, self.wall = {}, {}
        for spool in plant.spools:
            self.both(plant2graph.end_of(spool, "from"), plant2graph.end_of(spool, "to"), NEVER)
        for name in plant.parts:
            for group in plant.ports(name):
                for port in group[1:]:
                    first = self.both((name, group[0]), (name, port),
                                      1 if name in plant.doors else NEVER)
                    self.door.setdefault(name, []).extend((first, first + 1))
        self.end = self.number("end")
        for _, _, _, name in plant.sources():
            if name is not None and name not in self.wall:
                self.wall[name] = len(self.edges)
                self.edges.append((self.number((name, plant.ports(name)[0][0])), self.end))
                self.capacity.append(NEVER)
        self.graph = igraph.Graph(n=len(self.numbers), edges=self.edges, directed=True)

    def number(self, port):
        return self.numbers.setdefault(port, len(self.numbers))

    def both(self, one, other, capacity):
        a, b = self.number(one), self.number(other)
        self.edges += [(a, b), (b, a)]
        self.capacity += [capacity, capacity]
        return len(self.edges) - 2

    def cut(self, target):
        capacity = list(self.capacity)
        for edge in self.door.get(target, ()):
            capacity[edge] = NEVER
        if target in self.wall:
            capacity[self.wall[target]] = 0
        start = self.numbers[(target, self.plant.ports(target)[0][0])]
        return self.graph.mincut(start, self.end, capacity).value
