"""A plant as the outside checks of all grades see it: what is opened, devices, sources, pieces.

Written from the rules alone (N1 to N5, D1 to D3, D5 to D7, I1, I2), on top of the plain reader in
exhaustive.py. A *piece* is what stays joined when every device that may be a point of the grade is
shut; sets of pieces are bits of an int. All pressures are bar above atmosphere.
"""

import math

import exhaustive

GRADES = ("single", "double", "single-bleed", "double-bleed", "positive")
VALVE, POSITIVE = "valve", "positive"            # layers
STUCK = ("seized", "unreachable")


class Device:
    """What may be a point. settings: (name, groups of ports that stay joined) when it is one."""

    def __init__(self, name, kind, layers, places, settings):
        self.id, self.kind, self.layers = name, kind, layers
        self.places, self.settings = places, settings
        self.locks = frozenset()     # isolators that must be locked with it (D3)


class GradePlant(exhaustive.Plant):
    """A plant file, what is opened in it, and what was found out of use (avoid)."""

    def __init__(self, text, targets, avoid=(), hand_only=False):
        super().__init__(text)
        self.avoid = frozenset(avoid)
        self.hand_only = hand_only   # neither D3 nor D5: what the first version planned
        self.whole, self.opened_spools, self.opened = set(), set(), set()
        for target in targets:
            self.open_up(target)
        self.supplied = {}
        for feed in self.feeds:
            for name in feed.supplies:
                self.supplied.setdefault(name, []).append(feed)
        self.all_devices = list(self.find_devices())

    def open_up(self, target):
        """A component or spool whole, else one side of an exchanger, else one joint."""
        if target in self.components:
            self.whole.add(target)
            self.opened |= {(target, p) for p in self.components[target].ports}
        elif target in self.spools:
            self.opened_spools.add(target)
            self.opened |= set(self.spools[target][0])
        else:
            name, part = target.rsplit(".", 1)
            c = self.components[name]
            for side, group in zip(c.sides, c.groups):
                if side.get("id") == part:
                    self.opened |= {(name, p) for p in group}
                    return
            assert part in c.ports, target
            self.opened.add((name, part))

    # ---- facts of today ------------------------------------------------------------------------

    def condition(self, name):
        if name in self.avoid:
            return "unreachable"                                                         # D6
        return self.components[name].get("condition") or "sound"

    def position(self, name):
        c = self.components[name]
        return c.get("position") or c.get("sealed") or "unknown"                         # N2

    def by_hand(self, name):
        return self.components[name].get("drive", "hand") == "hand"

    def is_stop(self, name):
        c = self.components[name]
        return c.tag == "valve" and c.get("kind") in exhaustive.STOP_KINDS

    def isolators_of(self, names):
        return frozenset(f.isolator for n in names for f in self.supplied.get(n, ()))

    # ---- devices (D1 to D3, D5, D6) --------------------------------------------------------------

    def find_devices(self):
        for name, c in self.components.items():
            if name not in self.whole and c.tag in ("valve", "blind"):
                device = self.device_of(name, c)
                if device:
                    yield device
        for spool, (ends, node) in self.spools.items():
            flanged = "flanged" in (node.get("ends") or "").split()
            if spool not in self.opened_spools and spool not in self.avoid and (
                    flanged or node.get("removable") == "yes"):
                yield Device(spool, "spool", (POSITIVE,), ends, [("", [[ends[0]], [ends[1]]])])

    def device_of(self, name, c):
        places = tuple((name, p) for p in c.ports)
        apart = [("", [[p] for p in places])]
        if self.condition(name) != "sound":
            return None
        if c.tag == "blind":
            fitted = c.get("position") == "closed"
            return Device(name, "blind", (VALVE, POSITIVE) if fitted else (POSITIVE,), places, apart)
        if c.get("lockable") not in ("yes", "assumed"):
            return None
        if c.get("kind") == "three-way":
            if self.hand_only or not self.by_hand(name):
                return None
            settings = []
            for way in dict.fromkeys((c.get("positions") or "").split()):
                joined = [(name, p) for p in c.ports if p in way.split("-")]
                rest = [[(name, p)] for p in c.ports if p not in way.split("-")]
                if rest and joined:
                    settings.append((way, [joined] + rest))
            return Device(name, "three-way", (VALVE,), places, settings) if settings else None
        if not self.is_stop(name):
            return None
        if self.by_hand(name):
            return Device(name, "hand", (VALVE,), places, apart)
        feeds = self.supplied.get(name, [])
        if self.hand_only or c.get("fails") != "closed" or not feeds \
                or not all(f.lockable for f in feeds):
            return None
        device = Device(name, "d3", (VALVE,), places, apart)
        device.locks = frozenset(f.isolator for f in feeds)
        return device

    def devices_of(self, grade):
        return [d for d in self.all_devices if grade == "positive" or VALVE in d.layers]

    # ---- joining when isolating (I1, N1) ---------------------------------------------------------

    def joined_ports(self, name):
        """Groups of ports that a component joins when it is no point."""
        c = self.components[name]
        if name in self.whole or (c.tag == "valve" and c.get("kind") == "three-way"):
            return [c.ports]
        return c.groups

    # ---- sources (N2 to N4) ----------------------------------------------------------------------

    def sources(self):
        """(name or place, ports, may be taken inside) of each; what is opened whole is none, but
        an end of the plant that is opened stays one."""
        for name, c in self.components.items():
            kind = self.source_kind(name)
            if kind and (name not in self.whole or c.tag in ("limit", "outlet")):
                yield name, [(name, p) for p in c.ports], kind == "inside"
            for p in c.ports:
                if self.is_open_port((name, p)):
                    yield (name, p), [(name, p)], False

    # ---- E1: what joins while the section is emptied ---------------------------------------------

    def passage(self, name):
        """"joins", "hand" (opened by hand), "override" (manual opening) or "parts"."""
        c = self.components[name]
        stuck = self.condition(name) in STUCK
        is_open = self.position(name) in ("open", "throttled")
        manual = c.get("manual-opening") == "yes" and not stuck
        if c.tag == "blind":
            return "joins" if c.get("position") == "open" else "parts"
        if c.tag != "valve":
            return "joins"
        kind = c.get("kind") or "unknown"
        if kind in ("relief", "rupture-disc", "three-way", "unknown", "check", "stop-check"):
            return "parts"           # a check valve also with a manual opening: E1 read strictly
        if kind not in exhaustive.STOP_KINDS:
            return "override" if manual else "parts"
        if not self.by_hand(name):
            if manual:
                return "override"
            return "joins" if is_open and c.get("fails") in ("open", "stays") else "parts"
        if is_open:
            return "joins"
        return "parts" if stuck else "hand"

    def holdable(self, name):
        """A hand valve that can be held open on the way to a bleed (E4)."""
        return self.is_stop(name) and self.by_hand(name) \
            and self.components[name].get("kind") != "stop-check" \
            and self.condition(name) not in STUCK

    def fit_outlet(self, name):
        """An outlet fit for bleed and proof of zero (E4, first row)."""
        c = self.components[name]
        return c.tag == "outlet" and c.get("shared") == "no" \
            and c.get("leads-to") in ("safe-place", "flare-or-scrubber")

    # ---- mass (I4): grams of an item, None when unknown ------------------------------------------

    def density(self, service, contents):
        node = self.services.get(service)
        if contents == "none":
            return 0.0
        if node is None or node.get("density") is None:
            return None
        assert node.get("phase") == "liquid" and contents in (None, "liquid"), \
            "masses of vapour are not worked out here"
        return float(node.get("density").split()[0])

    def grams(self, volume, service, contents):
        density = self.density(service, contents)
        if density == 0.0:
            return 0
        if volume is None or density is None:
            return None
        return math.floor(volume * density * 1000 + 0.5)

    def spool_grams(self, spool):
        node = self.spools[spool][1]
        if node.get("length") is None or node.get("bore") is None:
            return None
        (length, unit), (bore, bore_unit) = node.get("length").split(), node.get("bore").split()
        assert (unit, bore_unit) == ("m", "mm"), "units of a mass plant"
        metres = float(bore) / 1000
        return self.grams(math.acos(-1.0) / 4 * metres * metres * float(length),
                          node.get("service"), None)

    def items(self):
        """(a port, grams) of everything that can hold fluid; spools aside."""
        litres = lambda text: None if text is None else float(text.split()[0]) / 1000
        for name, c in self.components.items():
            if c.tag == "vessel" and c.ports:
                yield (name, c.ports[0]), self.grams(litres(c.get("volume")), c.get("service"),
                                                     c.get("contents"))
            for side, group in zip(c.sides, c.groups):
                if group:
                    yield (name, group[0]), self.grams(
                        litres(side.get("volume")), side.get("service"), side.get("contents"))

    # ---- D7 --------------------------------------------------------------------------------------

    def device_rating(self, device):
        if device.kind != "spool":
            return self.rating(device.id)
        node = self.spools[device.id][1]
        own = exhaustive.pressure(node.get("design-pressure"))
        return own if own is not None else self.service_design(node.get("service"))

    def live_pressure(self, places, devices):
        """The highest known design pressure of a piece; devices at its edge do not stand in it."""
        edge = {d.id for d in devices}
        found = []
        for ends, node in self.spools.values():
            if ends[0] in places or ends[1] in places:
                found.append(self.service_design(node.get("service")))
                found.append(exhaustive.pressure(node.get("design-pressure")))
        for name in {n for n, _ in places} - edge:
            c = self.components[name]
            found.append(exhaustive.pressure(c.get("design-pressure")))
            if c.tag == "vessel":
                found.append(self.service_design(c.get("service")))
            for side, group in zip(c.sides, c.groups):
                if any((name, p) in places for p in group):
                    found.append(exhaustive.pressure(side.get("design-pressure")))
                    found.append(self.service_design(side.get("service")))
        return max((f for f in found if f is not None), default=None)
