"""Plants whose best order was worked out by hand: (name, file, target, grade, cost of each list).

A cost is (D4, P9, L6, changes of place), summed over the states after each move (docs/METHOD.md, section 7).
Services as in relief_plants.py: LIQ 20 barg, HI 25 barg, both liquid; drums with vapour space hold HI
at 25 barg and never fill (14.5 barg at 40 degC), so pipes open to one are not full.
"""

from relief_plants import drum, plant, relief, spool, valve


def hand(name, place=None, position="open", **said):
    return valve(name, "globe", position=position, lockable="yes", rating="40 barg", place=place or name, **said)


def outlet(name, shared="no"):
    return '<outlet id="%s" kind="vent" leads-to="safe-place" fitted="open" shared="%s"/>\n' % (
        name, shared)


def relieved(name, ports, pressure="22 barg"):
    """A drum with a relief valve of its own, to the open, at port z."""
    return drum(name, ports + "z") + relief("R" + name, pressure) + outlet("O" + name) + spool(
        "r" + name, name + ".z", "R%s.in" % name, "HI") + spool(
            "o" + name, "R%s.out" % name, "O%s.in" % name, "HI")


def tee(name, ports):
    return '<fitting id="%s" kind="tee">%s</fitting>\n' % (
        name, "".join('<port id="%s"/>' % p for p in ports))


def strainer(name="W"):
    return '<fitting id="%s" kind="strainer"><port id="in"/><port id="out"/></fitting>\n' % name


def cap(name):
    return '<cap id="%s"/>\n' % name


def limit(name):
    return '<limit id="%s"/>\n' % name


def low(name, ports):
    """A low-pressure vessel, with vapour space."""
    return drum(name, ports).replace("<vessel ", '<vessel role="low-pressure" ')


CASES = [
    # A pump without a known feed blows through H1 and H2 to the vessel. After H1 it has no way, and
    # pipe S2, which had the vessel's vapour space, stands shut between pump and H1. After H2 S3 and S4 have lost it
    # too. H1 is a feed side, H2 the receiver side: there is one order. P9 1 + 1, L6 1 + 3. The relief
    # valve of the vessel was the pump's too: D4 1 + 1. Back: H2 first; liquid comes by it to S4 and S3, which
    # stand open to the vessel, not to S2 behind H1; the pump has no relief until H1 is open.
    ("[P9] a pump that can run loses its way whatever the order", plant(
        limit("L"), '<pump id="P"/>\n', hand("H1", "hall"), strainer(), hand("H2", "hall"),
        low("V", "ab"), relief("R", "18 barg"), outlet("O"), spool("S1", "L.in", "P.in"),
        spool("S2", "P.out", "H1.in"), spool("S3", "H1.out", "W.in"), spool("S4", "W.out", "H2.in"),
        spool("S5", "H2.out", "V.a", "HI"), spool("S6", "V.b", "R.in", "HI"),
        spool("S7", "R.out", "O.in", "HI")), "W", "single",
     {"stage 1": (2, 2, 4, 0), "way back": (1, 0, 0, 0)}),
    # The only relief valve stands behind way off HA; all pipes but S8 have it as their cover, S0 and S1 through check
    # valve C1 and H1. H1: these two lose it. HB: S7 behind it too. HA: the five of the section too. So L6 2, 2 + 1,
    # 2 + 1 + 5; HA before HB would have 2, 8, 8. The exchanger loses its relief with HA, once at least.
    # Back (both are ways off): HA first, which brings the relief back, and no liquid comes to what is still
    # parted from it; HB first would leave the section, and S7, without.
    ("[D4] [L6] the way off with the relief valve is closed last", plant(
        limit("L"), limit("M"), valve("C1", "check"), valve("CB", "check"),
        hand("H1", "hall"), hand("HA", "hall"), hand("HB", "hall"), tee("T", "abcd"), tee("A", "abc"),
        '<exchanger id="E"><side id="tube" contents="liquid" service="LIQ"><port id="a"/><port id="b"/>'
        '</side></exchanger>\n', cap("K"), relief("R", "18 barg"), outlet("O", "yes"), cap("K2"),
        spool("S0", "L.in", "C1.in"), spool("S1", "C1.out", "H1.in"), spool("S2", "H1.out", "T.a"),
        spool("S3", "T.b", "E.a"), spool("S4", "E.b", "K.in"), spool("S5", "T.c", "HA.in"),
        spool("S6", "T.d", "HB.in"), spool("S7", "HB.out", "CB.in"), spool("S8", "CB.out", "M.in"),
        spool("S9", "HA.out", "A.a"), spool("S10", "A.b", "R.in"), spool("S11", "A.c", "K2.in"),
        spool("S12", "R.out", "O.in")), "T", "single",
     # S0 does not count: the drawing ends at L, so 1 less in each of the three states.
     {"stage 1": (1, 0, 10, 0), "way back": (0, 0, 0, 0)}),
    # Three feed sides from drums, all covered: only places count. Two are in the hall: one change there, and one
    # on the way back.
    ("[P2] only places count where nothing is broken", plant(
        relieved("V1", "a"), relieved("V2", "a"), relieved("V3", "a"), hand("H1", "hall"), hand("H2", "pit"),
        hand("H3", "hall"), tee("T", "abcd"), outlet("O"), relief("R", "18 barg"),
        spool("S1", "V1.a", "H1.in", "HI"), spool("S2", "V2.a", "H2.in", "HI"),
        spool("S3", "V3.a", "H3.in", "HI"), spool("S4", "H1.out", "T.a"), spool("S5", "H2.out", "T.b"),
        spool("S6", "H3.out", "T.c"), spool("S7", "T.d", "R.in"), spool("S8", "R.out", "O.in")),
     "T", "single", {"stage 1": (0, 0, 0, 1), "way back": (0, 0, 0, 1)}),
    # Behind the closed valve X stand pipes of 20 barg; the relief valve at T, and those of the drums behind the check
    # valves, open at 22, enough for all else. Opened, X joins the weak pipes to the section. They had no cover before,
    # and all else keeps its own, so nothing is lost and only places count: hall, hall, pit, pit.
    # What stands joined with the weak pipes after X is shut in without cover all the same: a finding.
    ("[L6] [E1] an opening takes no cover away, and what it joins is told", plant(
        relieved("V1", "a"), relieved("V2", "a"), relieved("V3", "a"), hand("H1", "hall"), hand("HA", "pit"),
        hand("HB", "pit"), hand("X", "hall", "closed"), tee("T", "abcdef"), strainer(), tee("F", "ab"),
        cap("K1"), cap("K2"), valve("CA", "check"), valve("CB", "check"), relief("R", "22 barg"),
        outlet("O"),
        spool("S0", "V1.a", "H1.in", "HI"), spool("S1", "H1.out", "T.a", "HI"),
        spool("S2", "T.b", "W.in", "HI"), spool("S3", "W.out", "K1.in", "HI"),
        spool("S4", "T.c", "R.in", "HI"), spool("S5", "T.d", "X.in", "HI"),
        spool("S6", "T.e", "HA.in", "HI"), spool("S7", "T.f", "HB.in", "HI"),
        spool("S8", "X.out", "F.a"), spool("S9", "F.b", "K2.in"), spool("S11", "HA.out", "CA.in", "HI"),
        spool("S12", "HB.out", "CB.in", "HI"), spool("S13", "CA.out", "V2.a", "HI"),
        spool("S14", "CB.out", "V3.a", "HI"), spool("S17", "R.out", "O.in", "HI")), "W", "single",
     {"stage 1": (0, 0, 0, 1), "way back": (0, 0, 0, 1)}),
    # V and all pipes up to HV, R, D and B have their relief by R into drum G, by stop valve H9; R blows at 18 bar
    # above atmosphere (15, and 3 of RG). D leads to a recovery plant, everything runs down to it: so H9 is closed in a
    # stage of its own, once that has been seen. Stage 2 loses V's relief (D4 1), and the cover of the eight pipes and of S8.
    ("[D4] a relief path is closed once the section has been recovered", plant(
        '<service id="LQ" substance="ammonia" phase="liquid" temperature="-34 degC" pressure="2 barg" '
        'design-pressure="19 barg"/>\n',
        limit("L"), hand("HV", "a", elevation="2 m"), hand("H9", "a", elevation="2 m"),
        '<fitting id="T1" kind="tee" elevation="2 m"/><fitting id="T2" kind="tee" elevation="2 m"/>'
        '<fitting id="T3" kind="tee" elevation="2 m"/><fitting id="W" kind="strainer" elevation="2 m"/>\n'
        '<vessel id="V" service="LQ" contents="liquid" volume="10 L" bottom="2 m" shape="vertical" diameter="0.2 m" '
        'length="0.3183 m" heads="flat"><port id="a" elevation="2 m"/></vessel>\n'
        '<vessel id="G" service="LQ" contents="two-phase" fill="0.3" volume="1 m3"><port id="a"/><port id="b"/>'
        '</vessel>\n', valve("R", "relief", set_pressure="15 barg", elevation="2 m"), relief("RG", "3 barg"),
        outlet("OG"), hand("D", "a", "closed", elevation="1 m"), hand("B", "a", "closed", elevation="3 m"),
        '<outlet id="OD" kind="drain" leads-to="recovery" shared="no" fitted="plug" elevation="0 m"/>\n'
        '<outlet id="OB" kind="vent" leads-to="safe-place" shared="no" fitted="plug" elevation="4 m"/>\n',
        spool("S1", "L.in", "HV.in", "LQ"), spool("S2", "HV.out", "T1.a", "LQ"), spool("S3", "T1.b", "W.in", "LQ"),
        spool("S4", "W.out", "T2.a", "LQ"), spool("S5", "T2.b", "T3.a", "LQ"), spool("S6", "T3.b", "V.a", "LQ"),
        spool("S7", "T2.c", "R.in", "LQ"), spool("S8", "R.out", "H9.in", "LQ"), spool("S9", "H9.out", "G.a", "LQ"),
        spool("Sa", "G.b", "RG.in", "LQ"), spool("Sb", "RG.out", "OG.in", "LQ"), spool("Sc", "T1.d", "D.in", "LQ"),
        spool("Sd", "D.out", "OD.in", "LQ"), spool("Se", "T3.c", "B.in", "LQ"), spool("Sf", "B.out", "OB.in", "LQ")),
     "W", "single",
     {"stage 1": (0, 0, 0, 0), "stage 2": (1, 0, 9, 0), "way back": (0, 0, 0, 0)}),
]
