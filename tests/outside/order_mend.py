"""Records put right by hand, and spoilt again: what the check of the order must pass, and what it must notice.

`mend` takes a record, brings its moves into the best order that order_search.py finds, and writes the
findings P9 and D4 and the entries of closed_in, with `during`, that its states ask for. So the
check can be tried on records that should pass whatever the program says.
"""

import copy

import order_search
from order_findings import Way, lowest_id
from order_record import Plan


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
    plan = Plan(world, text, record)
    record["findings"] = [f for f in record["findings"] if f["rule"] not in ("P9", "D4")]
    record["assumptions"] = [a for a in record["assumptions"] if a["rule"] != "D4"]
    record["closed_in"] = [c for c in record["closed_in"] if c["state"] != "uncovered"]
    way = Way(plan, [orders for _, orders in lists(world, text, record)])
    standing = [s for s, _, _ in plan.broken(way.filled)[2]]
    said = {("L6", lowest_id(s)) for s in standing}
    record["closed_in"] += [entry_of(s, None) for s in standing]
    states = {"steps": [], "restore": []}
    for where, move, broken in way.states:
        states[where].append((move.n, broken))
        said |= {("P9", m) for m in broken[0]} | {("D4", e) for e in broken[1]}
    said |= {("D4", e) for e in plan.broken(way.end)[1]}
    for where, on_the_way in states.items():
        going = {}
        for n, (_, _, segments) in on_the_way + [(None, (set(), set(), []))]:
            here = {s for s, _, _ in segments if not any(s <= e for e in standing)}
            for spools in set(going) - here:
                record["closed_in"].append(entry_of(spools, {
                    "list": where, "from": going.pop(spools), "to": n}))
                said.add(("L6", lowest_id(spools)))
            for spools in here - set(going):
                going[spools] = n
    known = {(f["rule"], f["id"]) for f in record["findings"]}
    record["findings"] += [dict(rule=rule, id=name, text="", blocks=True, acceptable=rule != "D4",
                                accepted=False) for rule, name in sorted(said - known)]
    if any(way.emptied(e) != "no" for e in plan.broken(way.end)[1]) and way.looks():
        return None                  # may be an assumption: left to the records as they come
    return record


def entry_of(spools, during):
    return dict(ids=sorted(spools), state="uncovered", closed_by=[], during=during)


def temperature_said(world, spool):
    return world.services[world.spools[spool].get("service")].get("temperature") is not None


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
    # From where it warms has to be said, or it need not be told.
    during = [i for i, c in enumerate(record["closed_in"]) if c.get("during") and all(
        temperature_said(world, s) for s in c["ids"] if s in world.spools)]
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
