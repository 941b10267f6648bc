"""Small plants worked by hand: the least (sources, points) of each grade, with the reason.

A plant is written as chains: `L1 - HV1 - W - C1`. The letters of an id say what it is:
L limit under pressure, LD dead limit, HV hand valve that can be locked, NV hand valve that cannot,
T tee, W work (a tee), C cap, O outlet to a safe place, OS shared outlet, OD closed drain, CV check
valve, SC self-closing valve, SV solenoid valve with manual opening, SX without, FV actuated valve
that fails closed, TW three-way valve (ports named), BL blind, open, BF blind, fitted, V vessel with
liquid, P pump. `-` is a welded pipe, `=` a flanged one, `~` one that can be taken out.
"""

import re

from common import PlantFile, element

KINDS = {"HV": dict(kind="gate", position="open", lockable="yes"),
         "NV": dict(kind="globe", position="closed"),
         "CV": dict(kind="check"), "SC": dict(kind="self-closing"),
         "SV": dict(kind="solenoid", manual_opening="yes"), "SX": dict(kind="solenoid"),
         "FV": dict(kind="ball", drive="air", fails="closed", lockable="yes"),
         "TW": dict(kind="three-way", lockable="yes")}
JOINTS = {"-": {}, "=": dict(ends="flanged flanged"), "~": dict(removable="yes")}


def write(chains, feeds=(), more=None):
    """Plant text from chains, feeds "id supplied isolator lockable" and further attributes."""
    file, ports, spools = PlantFile("by-hand"), {}, 0
    more = more or {}

    def port(token):
        name, _, said = token.partition(".")
        letters = re.match(r"[A-Z]+", name).group()
        used = ports.setdefault(name, [])
        if said:
            free = said
        elif letters in KINDS or letters in ("BL", "BF", "P"):
            free = "out" if "in" in used else "in"
        elif letters in ("T", "W", "V"):
            free = "p%d" % (len(used) + 1)
        else:
            free = "in"
        assert free not in used, token
        used.append(free)
        return "%s.%s" % (name, free)

    for chain in chains:
        tokens = chain.split()
        for one, joint, other in zip(tokens[0::2], tokens[1::2], tokens[2::2]):
            spools += 1
            file.add("spool", id="S%d" % spools, from_=port(one), to=port(other),
                     **dict(JOINTS[joint], **more.get("S%d" % spools, {})))
    for name, used in ports.items():
        letters = re.match(r"[A-Z]+", name).group()
        extra = more.get(name, {})
        if letters in KINDS:
            file.add("valve", id=name, **dict(KINDS[letters], **extra))
        elif letters in ("BL", "BF"):
            file.add("blind", id=name, kind="spectacle",
                     position="closed" if letters == "BF" else "open", **extra)
        elif letters in ("T", "W"):
            file.add("fitting", [element("port", id=p) for p in used], id=name, kind="tee", **extra)
        elif letters == "V":
            file.add("vessel", [element("port", id=p) for p in used], id=name, contents="liquid",
                     **extra)
        elif letters == "P":
            file.add("pump", id=name, **extra)
        elif letters == "C":
            file.add("cap", id=name)
        elif letters in ("L", "LD"):
            file.add("limit", id=name, dead="yes" if letters == "LD" else None)
        else:
            file.add("outlet", id=name, kind="vent", shared="yes" if letters == "OS" else "no",
                     leads_to="closed-drain" if letters == "OD" else "safe-place")
    for feed in feeds:
        name, supplied, isolator, lockable = feed.split()
        file.add("feed", id=name, kind="electrical", supplies=supplied, isolator=isolator,
                 lockable=lockable, stored="none")
    return file.text()


class Case:
    """A plant, what is opened, and the least cost of each grade; None = cannot be had."""

    def __init__(self, name, chains, single, double, single_bleed, double_bleed, positive,
                 target="W", feeds=(), avoid=(), more=None):
        self.name, self.target, self.avoid = name, target, avoid
        self.text = write(chains, feeds, more)
        self.expected = {"single": single, "double": double, "single-bleed": single_bleed,
                         "double-bleed": double_bleed, "positive": positive}


NO = None
CASES = [
    # One valve, no second, no bleed, no blind.
    Case("one valve", ["L1 - HV1 - W - C1"], (0, 1), NO, NO, NO, NO),
    # HV1 alone joins the bleed at T1 to the work: single-bleed. HV1, T1, HV2 are a station.
    Case("two valves, bleed between", ["L1 - HV1 - T1 - HV2 - W - C1", "T1 - NV1 - O1"],
         (0, 1), (0, 2), (0, 1), (0, 2), NO),
    # The work's own space never counts as between.
    Case("bleed at the work", ["L1 - HV1 - HV2 - W - NV1 - O1"], (0, 1), (0, 2), (0, 1), NO, NO),
    # A check valve parts the compartments: behind it nothing is bled.
    Case("check valve parts compartments",
         ["L1 - HV1 - T1 - CV1 - T2 - HV2 - W - C1", "T1 - NV1 - O1"], (0, 1), (0, 2), NO, NO, NO),
    # A flap moves by itself: a manual opening does not hold it open (E1 read strictly).
    Case("check valve with a manual opening parts all the same",
         ["L1 - HV1 - T1 - CV1 - T2 - HV2 - W - C1", "T1 - NV1 - O1"], (0, 1), (0, 2), NO, NO, NO,
         more=dict(CV1=dict(manual_opening="yes"))),
    # Behind CV1 nothing is bled, so HV1, T1, HV2 are the station; HV3 saves the two switches of T2:
    # three points, and the space that is bled lies two of them away from the work.
    Case("three in a row, the outer space bled",
         ["L1 - HV1 - T1 - HV2 - CV1 - T2 - HV3 - W - C1", "T1 - NV1 - O1"],
         (0, 1), (0, 2), NO, (0, 3), NO, feeds=["Q1 T2 I1 yes", "Q2 T2 I2 yes"]),
    # With a bleed on each side of the check valve both compartments are bled.
    Case("bleed on both sides of a check valve",
         ["L1 - HV1 - T1 - CV1 - T2 - HV2 - W - C1", "T1 - NV1 - O1", "T2 - NV2 - O2"],
         (0, 1), (0, 2), (0, 1), (0, 2), NO),
    # The vessel between is one point away: taken inside; single-bleed takes it in as well, since
    # only the space with the vessel has a bleed.
    Case("vessel between", ["L1 - HV1 - V1 - HV2 - W - C1", "V1 - NV1 - O1"],
         (0, 1), (1, 2), (1, 1), (1, 2), NO),
    # The bleed leaves the vessel without a valve: the vessel stands in the stub.
    Case("vessel in the stub", ["L1 - HV1 - V1 - HV2 - W - C1", "V1 - O1"],
         (0, 1), (1, 2), NO, NO, NO),
    # D3: the valve and its isolator.
    Case("actuated valve", ["L1 - FV1 - W - C1"], (0, 2), NO, NO, NO, NO,
         feeds=["Q1 FV1 I1 yes"]),
    Case("actuated valve, supply not lockable", ["L1 - FV1 - W - C1"], NO, NO, NO, NO, NO,
         feeds=["Q1 FV1 I1 no"]),
    Case("actuated valve without a feed", ["L1 - FV1 - W - C1"], NO, NO, NO, NO, NO),
    # One isolator for both: two valves and one switch. single-bleed: FV1 and the switch, FV2 is
    # opened by hand and its switch is locked already.
    Case("actuated valves with one isolator", ["L1 - FV1 - T1 - FV2 - W - C1", "T1 - NV1 - O1"],
         (0, 2), (0, 3), (0, 2), (0, 3), NO, feeds=["Q1 FV1 I1 yes", "Q2 FV2 I1 yes"],
         more=dict(FV2=dict(manual_opening="yes"))),
    # Closing HV1 leaves the actuated valve inside, and its feed counts all the same.
    Case("hand valve behind an actuated one", ["L1 - HV1 - FV1 - W - C1"], (0, 2), (0, 3), NO, NO,
         NO, feeds=["Q1 FV1 I1 yes"]),
    # Position a-c parts L2 only; HV1 has to hold L1.
    Case("three-way valve, one position parts one side",
         ["L1 - HV1 - TW1.a", "L2 - TW1.b", "TW1.c - W - C1"], (0, 2), NO, NO, NO, NO,
         more=dict(TW1=dict(positions="a-c b-c"))),
    Case("three-way valve always lets one side through",
         ["L1 - TW1.a", "L2 - TW1.b", "TW1.c - W - C1"], NO, NO, NO, NO, NO,
         more=dict(TW1=dict(positions="a-c b-c"))),
    Case("three-way valve that shuts its common port",
         ["L1 - TW1.a", "L2 - TW1.b", "TW1.c - W - C1"], (0, 1), NO, NO, NO, NO,
         more=dict(TW1=dict(positions="a-b"))),
    # A spade in the flanged pipe, HV1 further out.
    Case("spade and valve", ["L1 - HV1 = W - C1"], (0, 1), NO, NO, NO, (0, 2)),
    Case("spade without a valve further out", ["L1 = W - C1"], NO, NO, NO, NO, NO),
    # The valve is on the wrong side of the spade.
    Case("valve nearer than the spade", ["L1 = HV1 - W - C1"], (0, 1), NO, NO, NO, NO),
    # A blind on one side, a spool taken out on the other, a valve behind each.
    Case("two sources, two positive stations",
         ["L1 - HV1 - BL1 - W ~ HV2 - L2"], (0, 2), NO, NO, NO, (0, 4)),
    # One valve cuts both blinds off.
    Case("two blinds behind one valve",
         ["L1 - HV1 - T1 - BL1 - W - C1", "T1 - BL2 - W"], (0, 1), NO, NO, NO, (0, 3)),
    # A blind that is fitted today is a point of any layer.
    Case("fitted blind", ["L1 - BF1 - W - C1"], (0, 1), NO, NO, NO, NO),
    Case("two fitted blinds", ["L1 - BF1 - T1 - BF2 - W - C1"], (0, 1), (0, 2), NO, NO, (0, 2)),
    # Behind a self-closing valve: draining, never bleed (E4).
    Case("self-closing valve at the bleed", ["L1 - HV1 - W - NV1 - SC1 - O1"], (0, 1), NO, NO, NO,
         NO),
    Case("bleed to a closed drain", ["L1 - HV1 - W - NV1 - OD1"], (0, 1), NO, NO, NO, NO),
    # The way of the bleed crosses a solenoid valve by its manual opening: its feed is locked.
    Case("solenoid valve on the way of a bleed",
         ["L1 - HV1 - T1 - HV2 - W - C1", "T1 - NV1 - SV1 - O1"], (0, 1), (0, 2), (0, 2), (0, 3),
         NO, feeds=["Q1 SV1 I1 yes"]),
    # No valve that can be held open on the way.
    Case("bleed without a hand valve", ["L1 - HV1 - W - SV1 - O1"], (0, 1), NO, NO, NO, NO),
    # A shared outlet pushes back: it needs two points of its own.
    Case("shared outlet", ["L1 - HV1 - T1 - HV2 - W - C1", "T1 - HV3 - OS1", "T1 - NV1 - O1"],
         (0, 1), (0, 3), (0, 2), (0, 3), NO),
    # The pump between is stopped by its feed.
    Case("pump between", ["L1 - HV1 - P1 - HV2 - W - C1"], (0, 1), (1, 3), NO, NO, NO,
         feeds=["Q1 P1 I1 yes"]),
    Case("pump between, feed not lockable", ["L1 - HV1 - P1 - HV2 - W - C1"], (0, 1), NO, NO, NO,
         NO, feeds=["Q1 P1 I1 no"]),
    # Three feeds beyond HV2 cost more than closing it. Double-bleed needs a second valve.
    Case("dead end with feeds",
         ["L1 - HV1 - W - HV2 - SX1 - SX2 - SX3 - C1"], (0, 2), NO, NO, NO, NO,
         feeds=["Q1 SX1 I1 yes", "Q2 SX2 I2 yes", "Q3 SX3 I3 yes"]),
    # The part behind the check valve has no bleed: it is closed off by HV2.
    Case("dead end without a bleed", ["L1 - HV1 - W - NV1 - O1", "W - HV2 - CV1 - C1"],
         (0, 1), NO, (0, 2), NO, NO),
    Case("ring", ["L1 - T1 - HV1 - W - HV2 - T1"], (0, 2), NO, NO, NO, NO),
    # A valve before the ring: with it one in each arm for double.
    Case("ring behind a valve", ["L1 - HV3 - T1 - HV1 - W - HV2 - T1", "T1 - NV1 - O1"],
         (0, 1), (0, 3), (0, 1), (0, 3), NO),
    Case("ring behind a valve out of reach",
         ["L1 - HV3 - T1 - HV1 - W - HV2 - T1", "T1 - NV1 - O1"], (0, 2), NO, NO, NO, NO,
         avoid=["HV3"]),
    # Two sources meet at the bled space: the inner valve serves both.
    Case("one station for two sources",
         ["L1 - HV1 - T1 - HV2 - W - C1", "L2 - HV3 - T1", "T1 - NV1 - O1"],
         (0, 1), (0, 3), (0, 2), (0, 3), NO),
    # A joint at the valve itself: the valve stays whole and is the point.
    Case("joint", ["L1 - HV1 - W - C1"], (0, 1), NO, NO, NO, NO, target="HV1.out"),
    # The live side of the joint: nothing stands between.
    Case("joint on the live side", ["L1 - HV1 - W - C1"], NO, NO, NO, NO, NO, target="HV1.in"),
    # What is opened is emptied and not counted.
    Case("vessel opened", ["V1 - HV1 - T1 - HV2 - L1", "T1 - NV1 - O1"],
         (0, 1), (0, 2), (0, 1), (0, 2), NO, target="V1"),
    # A pipe is opened: its ends are the neighbours' ports.
    Case("pipe opened", ["L1 - HV1 - HV2 - C1"], (0, 1), NO, NO, NO, NO, target="S2"),
    Case("limit opened", ["L1 - HV1 - W - C1"], NO, NO, NO, NO, NO, target="L1"),
    # A joint of a pump opens the pump's inside, the pump stays a source, and is taken inside.
    Case("joint of a pump", ["L1 - HV1 - P1 - C1"], (1, 2), NO, NO, NO, NO, target="P1.out",
         feeds=["Q1 P1 I1 yes"]),
    # Three stations in a row need not be: two valves with a bled space do.
    Case("bleed of the farther pair only",
         ["L1 - HV1 - T1 - HV2 - T2 - HV3 - W - C1", "T1 - NV1 - O1"],
         (0, 1), (0, 2), (0, 1), (0, 2), NO),
]
