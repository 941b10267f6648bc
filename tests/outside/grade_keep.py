"""Equipment that must stay in service (--keep), by the words of docs/METHOD.md 3.9, on top of the
exhaustive search: a set of points that takes it away is none."""

import grade_search
from grade_plant import GradePlant

KEPT = ("vessel", "exchanger", "pump", "compressor", "limit", "outlet")
MACHINES = ("pump", "compressor")
ONE_WAY = ("check", "control", "expansion", "regulator", "solenoid", "float", "excess-flow")
NEVER = ("relief", "rupture-disc", "self-closing")


class KeepPlant(GradePlant):
    """What is kept, and what has an isolator in common with it, must stay outside."""

    def __init__(self, text, targets, kept, avoid=()):
        super().__init__(text, targets, avoid)
        self.kept = tuple(kept)
        on = self.isolators_of(self.kept)
        self.stays = {n for n in list(self.components) + list(self.spools)
                      if n in self.kept or self.isolators_of([n]) & on}
        self.all_devices = [d for d in self.all_devices if d.id not in self.stays]

    def sources(self):
        hard = {n for n in self.stays if n in self.components and n not in self.whole}
        for name, places, may in super().sources():
            if name not in hard:
                yield name, places, may
        for name in sorted(hard):
            yield name, [(name, p) for p in self.components[name].ports], False
        for spool in sorted(self.stays & set(self.spools)):
            yield spool, list(self.spools[spool][0]), False

    # ---- supply ----------------------------------------------------------------------------------

    def stands(self, name, unknown):
        now = self.position(name)
        return now in ("open", "throttled") or (now == "unknown" and unknown)

    def lets(self, name, first, then, unknown):
        """Does fluid go from one port of a component to another?"""
        c = self.components[name]
        right = (first, then) == ("in", "out") if {"in", "out"} <= set(c.ports) else unknown
        if c.tag in ("fitting", "vessel"):
            return True
        if c.tag == "exchanger":
            return any((name, first) in g and (name, then) in g or (first in g and then in g)
                       for g in c.groups)
        if c.tag in MACHINES:
            return right
        if c.tag == "blind":
            return self.stands(name, unknown)
        if c.tag != "valve":
            return False
        kind = c.get("kind") or "unknown"
        if kind in NEVER:
            return False
        if kind == "three-way":
            now = c.get("position")
            if not now or now == "unknown":
                return unknown
            return {first, then} <= set(now.split("-"))
        if kind == "stop-check":
            return right and self.stands(name, unknown)
        if kind in ONE_WAY:
            return right
        return self.stands(name, unknown) if self.is_stop(name) else unknown

    def is_end(self, name):
        c = self.components[name]
        return (c.tag == "vessel" and c.get("contents") != "none") \
            or (c.tag == "limit" and c.get("dead") != "yes")

    def reach(self, name, port, outward, unknown, shut):
        """(ports met, ends met) from a port of something kept."""
        met, ends, todo, left = set(), set(), [(name, port)], set()
        while todo:
            place = todo.pop()
            if place in left:
                continue
            left.add(place)
            spool = self.at_port.get(place)
            if spool is None or spool in shut:
                continue
            one, other = self.spools[spool][0]
            here = other if one == place else one
            if here in met:
                continue
            met.add(here)
            comp, at = here
            if comp != name and self.is_end(comp):
                ends.add(comp)
                continue
            if comp == name or comp in shut:
                continue
            for q in self.components[comp].ports:
                if q != at and (self.lets(comp, at, q, unknown) if outward
                                else self.lets(comp, q, at, unknown)):
                    todo.append((comp, q))
        return met, ends

    def served(self, shut):
        """Is all that is kept supplied as today, and does it deliver as today?"""
        for name in self.kept:
            c = self.components[name]
            for port in c.ports:
                for outward in (False, True):
                    if c.tag in MACHINES and port == ("in" if outward else "out"):
                        continue
                    today = [self.reach(name, port, outward, u, ()) for u in (False, True)]
                    after = [self.reach(name, port, outward, u, shut) for u in (False, True)]
                    if any(t[1] != a[1] for t, a in zip(today, after)):
                        return False
                    if today[0][1] != today[1][1] and today[1][0] != after[1][0]:
                        return False
        return True


class KeepSearch(grade_search.Search):
    """Only sets that leave in service what is kept."""

    def offer(self, closed, taken, zero, zone, more, levels=None):
        if self.best.key and (len(taken), len(closed)) > self.best.cost:
            return
        locked = self.isolators(closed, taken, zero, more)
        if locked & self.plant.isolators_of(self.plant.kept):
            return
        if self.plant.served(frozenset(closed)):
            super().offer(closed, taken, zero, zone, more, levels)
