"""Which spaces are bled (I2, E1, E4), and what has to be locked for it."""

import itertools


def neighbours(plant, space, closed, place, holdable_too=True):
    """Ports joined to a port while the space is emptied, inside the space (E1)."""
    name, port = place
    spool = plant.at_port.get(place)
    if spool is not None and spool not in closed:
        ends = plant.spools[spool][0]
        other = ends[1] if place == ends[0] else ends[0]
        if other in space:
            yield other
    if name in closed or plant.passage(name) == "parts":
        return
    if not holdable_too and plant.holdable(name):
        return
    for group in plant.components[name].groups:
        if port in group:
            yield from ((name, p) for p in group if (name, p) in space)


def flood(plant, space, closed, start, holdable_too=True, shut=()):
    """Everything joined to `start`; the components in `shut` are not crossed either."""
    seen, todo = {start}, [start]
    while todo:
        place = todo.pop()
        for there in neighbours(plant, space, closed, place, holdable_too):
            if there[0] == place[0] and place[0] in shut:
                continue
            if there not in seen:
                seen.add(there)
                todo.append(there)
    return seen


def stub_is_fit(plant, closed, stub):
    for place in stub:
        name = place[0]
        tag = plant.components[name].tag
        if place in plant.opened or tag in ("vessel", "exchanger", "pump", "compressor"):
            return False
        if name in closed or (tag in ("valve", "blind") and plant.passage(name) == "parts"):
            return False
    return True


def ways_of(plant, space, closed, compartment, outlet):
    """The least sets of isolators that have to be locked to use this outlet; none: unfit."""
    start = (outlet, "in")
    stub = flood(plant, space, closed, start, holdable_too=False)
    if not stub_is_fit(plant, closed, stub):
        return []
    valves = set()                   # ports in the stub from which a hand valve leads on
    for place in stub:
        if plant.holdable(place[0]) and any(
                (place[0], p) in compartment and (place[0], p) not in stub
                for p in plant.components[place[0]].ports):
            valves.add(place)
    driven = sorted({n for n, _ in stub if plant.passage(n) == "override" and plant.supplied.get(n)})
    ways = []
    for size in range(len(driven) + 1):
        for used in itertools.combinations(driven, size):
            reached = flood(plant, space, closed, start, False, set(driven) - set(used))
            locks = [f for n in used for f in plant.supplied[n]]
            if reached & valves and all(f.lockable for f in locks):
                ways.append(frozenset(f.isolator for f in locks))
    return ways


def bleeds(plant, space, closed):
    """For each compartment of the space the choices of isolators; None where one has no bleed."""
    left, result = set(space), []
    while left:
        compartment = flood(plant, space, closed, next(iter(left)))
        left -= compartment
        ways = []
        for name in {n for n, _ in compartment}:
            if plant.fit_outlet(name):
                ways += ways_of(plant, space, closed, compartment, name)
        if not ways:
            return None
        result.append([w for w in set(ways) if not any(o < w for o in ways)])
    return result
