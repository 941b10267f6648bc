"""Plain conditions that every plan of grade `single` must meet, whatever its cost.

They use the plain walk of exhaustive.Plant and nothing of the search: points are admissible (D1,
D2, D6, D7), the walk with exactly these closed meets no source that is not listed (I1, N3, N4),
feeds are all there (N5), no point can be dropped (I4), the proof's paths are real and disjoint
(I5), the obstacle of an infeasible answer is a real way, and what would help helps (I6).
"""

from common import byte_order


def complaints(plant, target, record):
    """All conditions that the record breaks, as texts; an empty list when it meets them all."""
    bad = []
    if record.get("target") not in ([target], target):
        bad.append("target is %r" % record.get("target"))
    if record["feasible"]:
        check_points(plant, target, record, bad)
        check_proof(plant, target, record, bad)
    else:
        check_obstacle(plant, target, record, bad)
    return bad


def check_points(plant, target, record, bad):
    points = [p["id"] for p in record["points"] if p["counted"]]
    known_feeds = {f.id for f in plant.feeds}
    devices = {i for i in points if i not in known_feeds}
    feeds = [i for i in points if i in known_feeds]
    if len(set(points)) != len(points):
        bad.append("[I4] a point is listed twice")
    tags = [p["tag"] for p in record["points"]]
    if len(set(tags)) != len(tags):
        bad.append("a tag is given twice")
    if len(points) != record["cost"]["points"]:
        bad.append("%d counted points, cost says %r" % (len(points), record["cost"]["points"]))
    for device in sorted(devices - set(plant.closables(target))):
        bad.append("[D1] %s is no admissible point" % device)
        return
    places, names = plant.reach(target, devices)
    inside, walls = plant.sources_in(target, places, names)
    if walls:
        bad.append("[I1] the walk meets %s" % sorted(map(str, walls)))
    listed = [s["id"] for s in record["sources_inside"]]
    if sorted(listed) != sorted(inside):
        bad.append("[N4] sources inside: listed %s, walked %s" % (sorted(listed), sorted(inside)))
    if len(listed) != record["cost"]["sources"]:
        bad.append("%d sources listed, cost says %r" % (len(listed), record["cost"]["sources"]))
    if not all(s.get("treatment") for s in record["sources_inside"]):
        bad.append("[N4] a source inside has no treatment")
    expected = byte_order(plant.feed_id(i) for i in plant.isolators(names))
    if byte_order(feeds) != expected:
        bad.append("[N5] feeds: listed %s, expected %s" % (byte_order(feeds), expected))
    check_minimal(plant, target, devices, bad)
    for device in sorted(devices):
        for inner, outer in (("in", "out"), ("out", "in")):
            if (device, inner) in places and (device, outer) not in places:
                if not plant.holds(device, plant.live_places(target, (device, outer), devices)):
                    bad.append("[D7] %s does not hold" % device)
    spools = {s for s, (ends, _) in plant.spools.items() if ends[0] in places}
    wanted = (names - devices) | spools
    got = set(record["inside"])
    if got != wanted:
        bad.append("[I1] inside: too many %s, missing %s"
                   % (sorted(got - wanted), sorted(wanted - got)))


def piece(plant, target, place):
    """What stays joined to a place when every closable device is closed; walked once."""
    if (target, place) not in plant.pieces:
        found = plant.walk(target, [place], set(plant.closables(target)))
        plant.pieces.update(dict.fromkeys(((target, p) for p in found), found))
    return plant.pieces[(target, place)]


def check_minimal(plant, target, devices, bad):
    """Dropping a point must break the boundary, bring in a source, or bring in a feed (I4)."""
    places, names = plant.reach(target, devices)
    before, feeds = plant.sources_in(target, places, names)[0], plant.isolators(names)
    for device in sorted(devices):
        fewer = plant.reach(target, devices - {device})
        inside, walls = plant.sources_in(target, *fewer)
        if not walls and inside <= before and plant.isolators(fewer[1]) <= feeds:
            bad.append("[I4] %s can be dropped" % device)


def check_proof(plant, target, record, bad):
    """bound + feeds = points, and as many real, disjoint paths as the bound (I5)."""
    proof = record["proof"]
    points = {p["id"] for p in record["points"] if p["counted"]}
    by_tag = {p["tag"]: p["id"] for p in record["points"]}
    by_feed = {f.id: f for f in plant.feeds}
    devices = points - set(by_feed)
    feeds = [f["id"] if isinstance(f, dict) else by_tag.get(f, f) for f in proof["feeds"]]
    if sorted(feeds) != sorted(points & set(by_feed)):
        bad.append("[I5] proof.feeds is %s" % feeds)
    if proof["kind"] != "paths":
        bad.append("[I5] proof.kind is %r" % proof["kind"])
    if not proof["bound"] + len(feeds) == record["cost"]["points"]:
        bad.append("[I5] bound %r + %d feeds is not %r points"
                   % (proof["bound"], len(feeds), record["cost"]["points"]))
    if len(proof["paths"]) != proof["bound"]:
        bad.append("[I5] %d paths, bound %r" % (len(proof["paths"]), proof["bound"]))
    used = {}
    for path in proof["paths"]:
        ids = path["ids"]
        name = "[I5] path %s" % " ".join(ids)
        crossed = follow(plant, target, ids, name, bad)
        if crossed is None:
            continue
        if sum(device in devices for device in ids) != 1:
            bad.append(name + ": crosses %d points" % sum(device in devices for device in ids))
        for device, outer in crossed:
            if plant.holds(device, piece(plant, target, (device, outer))):
                if device in used:
                    bad.append(name + ": shares %s with another path" % device)
                used[device] = ids
        if ids[0] in by_feed:
            isolator = ("isolator", by_feed[ids[0]].isolator)
            if isolator in used:
                bad.append(name + ": shares its isolator with another path")
            used[isolator] = ids
            _, names = plant.reach(target, devices)
            if by_feed[ids[0]].isolator in plant.isolators(names):
                bad.append(name + ": starts at an isolator that is locked")


def follow(plant, target, ids, name, bad):
    """Walk a path from its source to the target.

    Returns the closable devices crossed as (device, outer port), or None where the path is not a
    path. A path is component, spool, component, ...; a feed and then a component it supplies may
    stand first.
    """
    rest = list(ids)
    by_feed = {f.id: f for f in plant.feeds}
    feed = by_feed.get(rest[0])
    if feed:
        rest.pop(0)
        if not rest or rest[0] not in feed.supplies:
            bad.append(name + ": the feed does not supply what follows")
            return None
    if not rest or rest[-1] != target or len(rest) % 2 == 0:
        bad.append(name + ": does not end at the target")
        return None
    closables = set(plant.closables(target))
    crossed = []
    entries = starts(plant, rest[0], bool(feed), target)
    if not entries:
        bad.append(name + ": %s is no source" % rest[0])
        return None
    for here, spool, there in zip(rest[0::2], rest[1::2], rest[2::2]):
        ends = plant.spools.get(spool, ((), None))[0]
        ways = [(a, b) for a, b in (ends, ends[::-1]) if a[0] == here and b[0] == there] \
            if ends else []
        found = None
        for leave, arrive in ways:
            for entry in entries:
                if entry == leave or joined(plant, target, entry, leave):
                    found = (entry, leave, arrive)
        if not found:
            bad.append(name + ": no way through %s to %s" % (here, spool))
            return None
        entry, leave, arrive = found
        if here in closables and entry != leave:
            crossed.append((here, entry[1]))
        entries = [arrive]
    return crossed


def joined(plant, target, entry, leave):
    """Whether a component joins two of its ports when it is open (I1)."""
    c = plant.components[entry[0]]
    return entry[0] == target or any(entry[1] in g and leave[1] in g for g in c.groups)


def starts(plant, name, fed, target):
    """Ports at which a path may start: any of a source, else the open ones; of a fed one, any."""
    if name not in plant.components:
        return []
    ports = [(name, p) for p in plant.components[name].ports]
    if fed or (name != target and plant.source_kind(name)):
        return ports
    if name == target and plant.components[name].tag in ("limit", "outlet"):
        return ports if plant.source_kind(name) else []
    return [place for place in ports if plant.is_open_port(place)]


def check_obstacle(plant, target, record, bad):
    """The way named is real and passes no device that holds; closing what would help helps (I6)."""
    obstacle = record.get("obstacle") or {}
    ids = obstacle.get("path") or []
    if not ids:
        bad.append("[I6] no path in the obstacle")
        return
    name = "[I6] obstacle %s" % " ".join(ids)
    if len(ids) == 1 and ids[0] == target:
        if not starts(plant, target, False, target):
            bad.append(name + ": the target is no source")
        return
    crossed = follow(plant, target, ids, name, bad)
    if crossed is None:
        return
    if plant.source_kind(ids[0]) == "inside" and not any(
            plant.is_open_port((ids[0], p)) for p in plant.components[ids[0]].ports):
        bad.append(name + ": %s can be taken inside" % ids[0])
    for device, outer in crossed:
        if plant.holds(device, piece(plant, target, (device, outer))):
            bad.append(name + ": %s holds" % device)
    help_ = [h["id"] if isinstance(h, dict) else h for h in obstacle.get("would_help") or []]
    # A pump or compressor among them is helped by feeds that can all be locked, an end of the
    # drawing by being blind: it stays joined, and is no wall any more.
    turned = {h for h in help_ if h in plant.components and tamed(plant, h)}
    if help_ and walls_reached(plant, target, set(help_) - turned) - turned:
        bad.append("[I6] would_help %s does not help" % help_)


def tamed(plant, name):
    """May this wall be none: a machine with feeds, an end that the file does not call live?"""
    component = plant.components[name]
    return component.tag in ("pump", "compressor") or (
        component.tag == "limit" and component.get("dead") is None)


def walls_reached(plant, target, extra):
    """Walls reached when every device stops the walk that holds, and `extra` items do too.

    A pump or compressor among `extra` that is itself a wall is one whose feeds would be given and
    lockable (N4): it is then no wall, and joins as before.
    """
    fed = {i for i in extra if i in plant.components and plant.source_kind(i) == "wall"
           and plant.components[i].tag in ("pump", "compressor")}
    extra = extra - fed
    seen = {(target, p) for p in plant.components[target].ports}
    todo = list(seen)
    closables = set(plant.closables(target))
    while todo:
        place = todo.pop()
        for there in plant.neighbours(target, place, extra):
            if there not in seen and not (place[0] != there[0]
                                          and plant.at_port[place] in extra):
                if place[0] == there[0] and place[0] in closables and plant.holds(
                        place[0], piece(plant, target, there)):
                    continue
                seen.add(there)
                todo.append(there)
    return plant.sources_in(target, seen, {n for n, _ in seen} | {target})[1] - fed
