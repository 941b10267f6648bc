"""Records put right by hand, and spoilt again: what the check of the order must pass, and what it must notice.

`mend` takes a record, brings its moves into the best order that order_search.py finds, and writes the
findings P9 and D4 and the entries of closed_in, with `during`, that its states ask for. So the
check can be tried on records that should pass whatever the program says.
"""

import copy

import order_search
from order_record import Plan, lowest_id


def reorder(record, what, moves, order):
    """Put the steps of some moves into another order; they keep numbers, stages and phases."""
    places = [m.n - 1 for m in moves]
    steps = [record[what][p] for p in places]
    for place, number in zip(places, order):
        old = record[what][place]
        record[what][place] = dict(steps[number], n=old["n"], stage=old["stage"], phase=old["phase"])


def lists(world, text, record):
    return order_search.lists_of(Plan(world, text, record))


def best_order(world, text, record):
    """A copy with each list in its best order; None where a list is too long."""
    record = copy.deepcopy(record)
    for number in range(len(lists(world, text, record))):
        _, orders = lists(world, text, record)[number]
        if len(orders.moves) > order_search.MOST:
            return None
        orders.least()
        reorder(record, "restore" if orders.back else "steps", orders.moves, orders.best_order)
    return record


def mend(world, text, record):
    """A record that should pass; None where it cannot be had."""
    record = best_order(world, text, record)
    if record is None:
        return None
    record["findings"] = [f for f in record["findings"] if f["rule"] not in ("P9", "D4")]
    standing = {i for c in record["closed_in"] if c["state"] == "uncovered" for i in c["ids"]}
    said = set()
    for _, orders in lists(world, text, record):
        where = "restore" if orders.back else "steps"
        for k, move in enumerate(orders.moves):
            machines, equipment, segments = orders.broken(frozenset(range(k + 1)))
            said |= {("P9", m) for m in machines} | {("D4", e) for e in equipment}
            later = [m.n for m in orders.moves[k + 1:]]
            to = later[0] if later else len(record[where]) + 1
            for spools, _, _ in segments:
                if spools <= standing:
                    continue
                said.add(("L6", lowest_id(spools)))
                record["closed_in"].append(dict(ids=sorted(spools), state="uncovered", closed_by=[],
                                                during={"list": where, "from": move.n, "to": to}))
    known = {(f["rule"], f["id"]) for f in record["findings"]}
    record["findings"] += [dict(rule=rule, id=name, text="", blocks=True, acceptable=rule != "D4",
                                accepted=False) for rule, name in sorted(said - known)]
    return record


def worse(world, text, record):
    """(what, rule, record): spoilt copies of a mended record, each wrong in one respect."""
    for _, orders in lists(world, text, record):
        order = orders.dearer()
        if order is not None:
            copied = copy.deepcopy(record)
            reorder(copied, "restore" if orders.back else "steps", orders.moves, order)
            yield "a dearer order", "[P3]", copied
    for rule in ("P9", "D4"):
        said = [f for f in record["findings"] if f["rule"] == rule and f["blocks"]]
        if said:
            copied = copy.deepcopy(record)
            copied["findings"].remove(said[0])
            yield "no finding of " + rule, "[%s]" % rule, copied
        copied = copy.deepcopy(record)
        copied["findings"].append(dict(rule=rule, id="NOBODY", text="", blocks=True, acceptable=False,
                                       accepted=False))
        yield "a finding of %s without cause" % rule, "[%s]" % rule, copied
    during = [i for i, c in enumerate(record["closed_in"]) if c.get("during")]
    for i in during[:1]:
        copied = copy.deepcopy(record)
        del copied["closed_in"][i]
        yield "an entry on the way left out", "[L6]", copied
        copied = copy.deepcopy(record)
        copied["closed_in"][i]["during"]["to"] = copied["closed_in"][i]["during"]["from"]
        yield "an entry that ends too early", "[L6]", copied
    if not during:
        moved = Plan(world, text, record).moves
        pipes = sorted(set(world.spools) - {i for c in record["closed_in"] for i in c["ids"]})
        if moved and pipes:
            copied = copy.deepcopy(record)
            copied["closed_in"].append(dict(ids=pipes[:1], state="uncovered", closed_by=[], during={
                "list": "steps", "from": moved[0].n, "to": moved[0].n + 1}))
            copied["findings"].append(dict(rule="L6", id=pipes[0], text="", blocks=True,
                                           acceptable=True, accepted=False))
            yield "an entry where nothing is shut in", "[L6]", copied
