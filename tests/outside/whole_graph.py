"""The least cost by igraph's minimum cut on the graph of a whole large plant, target after target.

The graph is built once from tools/plant2graph.py's reading of the plant; a target only changes
capacities.
"""

import os
import sys
import time

import igraph

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "..", "tools"))
import plant2graph  # noqa: E402  (found by the line above)

NEVER = 1e9  # capacity of what cannot be cut


class WholeGraph:
    def __init__(self, path):
        self.plant = plant2graph.Plant(path)
        self.numbers, self.edges, self.capacity = {}, [], []
        self.end = self.number("end")
        self.door_edges, self.side_edges, self.wall_edge = {}, {}, {}
        self.weak, self.sources = {}, {}
        for one, other, name, holds in self.plant.passes():
            edge = self.edge(one, other, 1 if holds else NEVER)
            self.door_edges.setdefault(name, []).append(edge)
            if not holds:
                self.weak.setdefault(one, []).append((other, name))
        for place, name, take, part in self.plant.sources():
            self.sources.setdefault(place, []).append((name, take, part))
        for place in self.sources:
            self.wall_edge[place] = self.edge(place, "end", NEVER)
        for key, places in self.plant.isolators().items():
            self.edge(("feeds", key), "end", 1)
            for place in places:
                self.edge(place, ("feeds", key), NEVER)
        for name, part in self.plant.parts.items():
            if plant2graph.tag(part) == "exchanger":
                places = sorted(self.plant.places(name), key=str)
                for one in places[1:]:
                    self.side_edges.setdefault(name, []).extend(
                        (self.edge(places[0], one, 0), self.edge(one, places[0], 0)))
        self.graph = igraph.Graph(n=len(self.numbers), edges=self.edges, directed=True)

    def number(self, place):
        return self.numbers.setdefault(place, len(self.numbers))

    def edge(self, one, other, capacity):
        self.edges.append((self.number(one), self.number(other)))
        self.capacity.append(capacity)
        return len(self.edges) - 1

    def least_cost(self, target):
        """((sources, points) or None where no plan exists, seconds that igraph took)."""
        own = self.plant.places(target)
        inside, todo = set(own), list(own)
        while todo:
            for other, name in self.weak.get(todo.pop(), ()):
                if other not in inside and name != target:
                    inside.add(other)
                    todo.append(other)
        capacity = list(self.capacity)
        for edge in self.door_edges.get(target, []) + self.side_edges.get(target, []):
            capacity[edge] = NEVER
        taken = set()
        for place in inside:
            for name, take, part in self.sources.get(place, ()):
                if part == target and plant2graph.tag(self.plant.parts[part]) not in ("limit", "outlet"):
                    continue
                if not take:
                    return None, 0.0
                taken.add(name)
            if place in self.wall_edge:
                capacity[self.wall_edge[place]] = 0
        start = time.perf_counter()
        cut = self.graph.mincut(self.numbers[sorted(own, key=str)[0]], self.end, capacity)
        took = time.perf_counter() - start
        return (len(taken), round(cut.value)), took
