"""The least cost by NetworkX' minimum cut on the graph of tools/plant2graph.py."""

import os
import sys

import networkx

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "..", "tools"))
import plant2graph  # noqa: E402  (found by the line above)


def least_cost(path, target):
    """(sources, points), or None where no plan exists."""
    graph = plant2graph.Graph(path, target).export()
    if not graph["feasible"]:
        return None
    net = networkx.DiGraph()
    net.add_nodes_from((graph["start"], graph["end"]))
    for arc in graph["arcs"]:
        one, other, capacity = arc["from"], arc["to"], arc["capacity"]
        if net.has_edge(one, other):
            before = net[one][other].get("capacity")
            capacity = None if capacity is None or before is None else before + capacity
            net.remove_edge(one, other)
        if capacity is None:
            net.add_edge(one, other)                 # no capacity: unlimited
        else:
            net.add_edge(one, other, capacity=capacity)
    return len(graph["forced"]), networkx.minimum_cut_value(net, graph["start"], graph["end"])
