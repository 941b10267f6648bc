"""Plants whose relief cover was worked out by hand: (name, file, {spool: answer}).

An answer is covered, not-full, or for what has no cover who shuts it in: itself, person, plan-only.
In each plant `out` is an open outlet to a safe place.
"""

from common import NAMESPACE

HEAD = """<plant xmlns="%s" id="by-hand">
<service id="LIQ" substance="ammonia" phase="liquid" temperature="-10 degC" pressure="3 barg"
 design-pressure="20 barg"/>
<service id="HI" substance="ammonia" phase="liquid" temperature="-10 degC" pressure="3 barg"
 design-pressure="25 barg"/>
<service id="VAP" substance="ammonia" phase="vapour" temperature="0 degC" pressure="2 barg"
 design-pressure="20 barg"/>
<service id="VAP13" substance="ammonia" phase="vapour" temperature="20 degC" pressure="3 barg"
 design-pressure="13 barg"/>
<service id="DRY13" substance="ammonia" phase="vapour" temperature="20 degC" pressure="3 barg"
 condenses="no" design-pressure="13 barg"/>
<service id="NONE" substance="ammonia" phase="liquid" temperature="-10 degC"/>
""" % NAMESPACE


def spool(name, start, end, service="LIQ"):
    return '<spool id="%s" from="%s" to="%s" service="%s" length="1 m" bore="DN25"/>\n' \
        % (name, start, end, service)


def valve(name, kind, **said):
    return '<valve id="%s" kind="%s"%s/>\n' % (
        name, kind, "".join(' %s="%s"' % (k.rstrip("_").replace("_", "-"), v)
                            for k, v in said.items()))


def relief(name, pressure, **said):
    return valve(name, "relief", set_pressure=pressure, **said)


def outlet(name, fitted="open"):
    return '<outlet id="%s" kind="vent" leads-to="safe-place" fitted="%s"/>\n' % (name, fitted)


def drum(name, ports, service="HI"):
    """A vessel with declared vapour space."""
    return '<vessel id="%s" kind="drum" contents="two-phase" fill="0.45" volume="3 m3"' \
        ' service="%s">%s</vessel>\n' % (name, service,
                                         "".join('<port id="%s"/>' % p for p in ports))


def plant(*parts):
    return HEAD + "".join(parts) + "</plant>\n"


CAP = '<cap id="C"/>\n'
TEE = '<fitting id="T" kind="tee"/>\n'

PLANTS = [
    # A liquid line between two solenoid valves, which shut by themselves; its relief valve opens at
    # 21 barg, above the 20 barg of the line. S3 between valve and outlet is open to the outlet.
    ("[L2] solenoid valves at both ends, relief valve set too high", plant(
        TEE, valve("SV1", "solenoid"), valve("SV2", "solenoid"), relief("R", "21 barg"),
        outlet("out"), spool("S1", "SV1.out", "T.a"), spool("S2", "T.b", "SV2.in"),
        spool("S4", "T.c", "R.in"), spool("S3", "R.out", "out.in")),
     {"S1": "itself", "S2": "itself", "S4": "itself", "S3": "covered"}),
    # The same set at 20 barg: not above.
    ("[L2] set pressure equal to design pressure covers", plant(
        TEE, valve("SV1", "solenoid"), valve("SV2", "solenoid"), relief("R", "2 MPag"),
        outlet("out"), spool("S1", "SV1.out", "T.a"), spool("S2", "T.b", "SV2.in"),
        spool("S4", "T.c", "R.in"), spool("S3", "R.out", "out.in")),
     {"S1": "covered", "S2": "covered", "S4": "covered", "S3": "covered"}),
    # 18 barg + 3 barg declared = 21 > 20; declared balanced it takes none: 18.
    ("[L2] declared back pressure", plant(
        relief("R", "18 barg", back_pressure="3 barg"), valve("SV1", "solenoid"), outlet("out"),
        spool("S1", "SV1.out", "R.in"), spool("S3", "R.out", "out.in")),
     {"S1": "itself", "S3": "covered"}),
    ("[L2] declared balanced", plant(
        relief("R", "18 barg", back_pressure="3 barg", balanced="yes"), valve("SV1", "solenoid"),
        outlet("out"), spool("S1", "SV1.out", "R.in"), spool("S3", "R.out", "out.in")),
     {"S1": "covered", "S3": "covered"}),
    # Two relief valves behind a three-way valve; common port c. A at 18, B at 19 barg: the highest,
    # 19, is not above 20. The branch SA has its own relief valve; so has SB.
    ("[L1] a pair of relief valves behind a three-way valve", plant(
        valve("SV1", "solenoid"), valve("TW", "three-way", positions="a-c b-c"),
        relief("A", "18 barg"), relief("B", "19 barg"), outlet("out"), outlet("out2"),
        spool("S1", "SV1.out", "TW.c"), spool("SA", "TW.a", "A.in"), spool("SB", "TW.b", "B.in"),
        spool("S3", "A.out", "out.in"), spool("S4", "B.out", "out2.in")),
     {"S1": "covered", "SA": "covered", "SB": "covered", "S3": "covered", "S4": "covered"}),
    # B at 21 barg: with the valve standing to b nothing opens in time. SA is still covered by A.
    ("[L1] one of the pair set too high", plant(
        valve("SV1", "solenoid"), valve("TW", "three-way", positions="a-c b-c"),
        relief("A", "18 barg"), relief("B", "21 barg"), outlet("out"), outlet("out2"),
        spool("S1", "SV1.out", "TW.c"), spool("SA", "TW.a", "A.in"), spool("SB", "TW.b", "B.in"),
        spool("S3", "A.out", "out.in"), spool("S4", "B.out", "out2.in")),
     {"S1": "itself", "SA": "covered", "SB": "itself", "S3": "covered", "S4": "covered"}),
    # A sealed-open valve behind each position: S1 is covered on condition of both HA and HB.
    ("[L2] sealed valves behind both positions are conditions", plant(
        valve("SV1", "solenoid"), valve("TW", "three-way", positions="a-c b-c"),
        valve("HA", "ball", sealed="open", position="open"),
        valve("HB", "ball", sealed="open", position="open"), relief("A", "18 barg"),
        relief("B", "18 barg"), outlet("out"), outlet("out2"), spool("S1", "SV1.out", "TW.c"),
        spool("SA", "TW.a", "HA.in"), spool("SB", "TW.b", "HB.in"), spool("S5", "HA.out", "A.in"),
        spool("S6", "HB.out", "B.in"), spool("S3", "A.out", "out.in"),
        spool("S4", "B.out", "out2.in")),
     {"S1": "covered", "SA": "covered", "SB": "covered", "S5": "covered", "S6": "covered"}),
    # The line at port a, relief valves at b and c: a is not named in every position, no way out.
    ("[L1] a way out from the common port only", plant(
        valve("SV1", "solenoid"), valve("TW", "three-way", positions="a-c b-c"),
        relief("A", "18 barg"), relief("B", "18 barg"), outlet("out"), outlet("out2"),
        spool("S1", "SV1.out", "TW.a"), spool("SA", "TW.c", "A.in"), spool("SB", "TW.b", "B.in"),
        spool("S3", "A.out", "out.in"), spool("S4", "B.out", "out2.in")),
     {"S1": "itself", "SA": "covered", "SB": "covered"}),
    # R1 (12) -> drum D1, covered by R2 (8) -> drum D2, covered by R3 (4) -> open. R3 opens at 4, R2
    # at 8 + 4 = 12, R1 at 12 + 12 = 24. S1 of 25 barg is covered, S2 of 20 barg is not. D1 and
    # D2 of 25 barg: ammonia at 40 degC has 14.5 barg and 0.45 of liquid never fills: both not-full.
    ("[L2] a chain of relief valves into vessels", plant(
        valve("SV1", "solenoid"), valve("SV2", "solenoid"), drum("D1", "abc"), drum("D2", "ab"),
        relief("R1", "12 barg"), relief("R1b", "12 barg"), relief("R2", "8 barg"),
        relief("R3", "4 barg"), outlet("out"), spool("S1", "SV1.out", "R1.in", "HI"),
        spool("S2", "SV2.out", "R1b.in"), spool("S3", "R1.out", "D1.a", "HI"),
        spool("S4", "R1b.out", "D1.b", "HI"), spool("S5", "D1.c", "R2.in", "HI"),
        spool("S6", "R2.out", "D2.a", "HI"), spool("S7", "D2.b", "R3.in", "HI"),
        spool("S8", "R3.out", "out.in", "HI")),
     {"S1": "covered", "S2": "itself", "S3": "not-full", "S5": "not-full", "S6": "not-full",
      "S8": "covered"}),
    # Two drums, each relieving into the other: a ring covers nothing. 13 barg design is below the
    # 14.5 barg of ammonia at 40 degC, so both need cover. S1 leads into the ring only.
    ("[L2] relief valves in a ring cover nothing", plant(
        valve("SV1", "solenoid"), drum("D1", "abc", "VAP13"), drum("D2", "ab", "VAP13"),
        relief("R0", "5 barg"), relief("R1", "5 barg"), relief("R2", "5 barg", balanced="yes"),
        spool("S1", "SV1.out", "R0.in"), spool("S0", "R0.out", "D1.c", "VAP13"),
        spool("S2", "D1.a", "R1.in", "VAP13"), spool("S3", "R1.out", "D2.a", "VAP13"),
        spool("S4", "D2.b", "R2.in", "VAP13"), spool("S5", "R2.out", "D1.b", "VAP13")),
     {"S1": "itself", "S2": "itself", "S3": "itself"}),
    # Check valves in a ring: nothing leaves it. S4 leads in, not out.
    ("[L2] a ring of check valves covers nothing", plant(
        TEE, valve("X1", "check"), valve("X2", "check"), valve("X3", "check"),
        valve("X4", "check"),
        valve("SV1", "solenoid"), spool("S1", "X3.out", "T.a"), spool("S2", "T.b", "X1.in"),
        spool("S3", "X1.out", "X2.in"), spool("S5", "X2.out", "X3.in"),
        spool("S4", "SV1.out", "X4.in"), spool("S6", "X4.out", "T.c")),
     {"S1": "itself", "S3": "itself", "S5": "itself", "S4": "itself"}),
    # One relief valve of 20 barg in the ring covers it all, and S4, whose check valve leads in.
    ("[L2] a relief valve in the ring covers it all", plant(
        '<fitting id="T" kind="node"/>', valve("X1", "check"), valve("X2", "check"),
        valve("X3", "check"), valve("X4", "check"), valve("SV1", "solenoid"),
        relief("R", "20 barg"), outlet("out"), spool("S1", "X3.out", "T.a"),
        spool("S2", "T.b", "X1.in"),
        spool("S3", "X1.out", "X2.in"), spool("S5", "X2.out", "X3.in"),
        spool("S4", "SV1.out", "X4.in"), spool("S6", "X4.out", "T.c"), spool("S7", "T.d", "R.in"),
        spool("S8", "R.out", "out.in")),
     {"S1": "covered", "S3": "covered", "S5": "covered", "S4": "covered"}),
    # H1 sealed open is a way. H2 open by hand: shut by a person. H3 for service only: plan-only. SV
    # shuts by itself. A stop-check valve turned toward the cap passes nothing toward the cover.
    ("[L5] who shuts it in", plant(
        '<fitting id="T" kind="node"/>', relief("R", "18 barg"), outlet("out"),
        valve("H1", "globe", sealed="open"), valve("H2", "gate", position="open"),
        valve("H3", "ball", position="open", use="service"),
        valve("SV", "solenoid", position="open"),
        valve("H5", "angle", position="closed"), valve("H6", "stop-check", position="open"),
        valve("H7", "ball", position="open", drive="motor"), valve("H8", "plug"),
        valve("H9", "stop-check", position="open", drive="motor"),
        "".join('<cap id="C%d"/>' % n for n in (1, 2, 3, 4, 5, 6, 7, 8, 9)),
        "".join(spool("S%d" % n, "C%d.in" % n, "%s.%s" % (v, "out" if v == "H6" else "in"))
                + spool("B%d" % n, "%s.%s" % (v, "in" if v == "H6" else "out"), "T.p%d" % n)
                for n, v in ((1, "H1"), (2, "H2"), (3, "H3"), (4, "SV"), (5, "H5"), (6, "H6"),
                             (7, "H7"), (8, "H8"), (9, "H9"))),
        spool("BR", "T.r", "R.in"), spool("BO", "R.out", "out.in")),
     {"S1": "covered", "S2": "person", "S3": "plan-only", "S4": "itself", "S5": "itself",
      "S6": "itself", "S7": "itself", "S8": "itself", "S9": "itself", "B1": "covered"}),
    # Without a known design pressure only an open outlet covers, not the relief valve.
    ("[L2] design pressure unknown", plant(
        valve("SV1", "solenoid"), valve("SV2", "solenoid"), valve("X", "check"),
        relief("R", "5 barg"), outlet("out"), outlet("out2"),
        spool("S1", "SV1.out", "R.in", "NONE"), spool("S2", "R.out", "out.in"),
        spool("S3", "SV2.out", "X.in", "NONE"), spool("S4", "X.out", "out2.in", "NONE")),
     {"S1": "itself", "S2": "covered", "S3": "covered", "S4": "covered"}),
    # No set pressure; outlet capped; not said (counts as capped); reached at its outlet: none.
    ("[L2] relief valves that cover nothing", plant(
        valve("V1", "solenoid"), valve("V2", "solenoid"), valve("V3", "solenoid"),
        valve("V4", "solenoid"), valve("R1", "relief"), relief("R2", "5 barg"),
        relief("R3", "5 barg"), relief("R4", "5 barg"), outlet("out1"), outlet("out2", "cap"),
        '<outlet id="out3" kind="vent" leads-to="safe-place"/>', CAP,
        spool("S1", "V1.out", "R1.in"), spool("A1", "R1.out", "out1.in"),
        spool("S2", "V2.out", "R2.in"), spool("A2", "R2.out", "out2.in"),
        spool("S3", "V3.out", "R3.in"), spool("A3", "R3.out", "out3.in"),
        spool("S4", "V4.out", "R4.out"), spool("A4", "R4.in", "C.in")),
     {"S1": "itself", "S2": "itself", "S3": "itself", "S4": "itself", "A1": "covered",
      "A2": "itself", "A4": "itself"}),
    # Saturated ammonia has 14.5 barg at 40 degC: below 20, above 13. Dry gas: 4.01 bara x 313/293.
    ("[L3] vapour services", plant(
        valve("V1", "solenoid"), valve("V2", "solenoid"), valve("V3", "solenoid"),
        valve("V4", "solenoid"), '<cap id="C1"/><cap id="C2"/><cap id="C3"/><fitting id="T"/>',
        spool("S1", "V1.out", "C1.in", "VAP"), spool("S2", "V2.out", "C2.in", "VAP13"),
        spool("S3", "V3.out", "C3.in", "DRY13"), spool("S4", "V4.out", "T.a", "DRY13"),
        spool("S5", "T.b", "V1.in", "LIQ")),
     {"S1": "not-full", "S2": "itself", "S3": "not-full", "S4": "itself"}),
    # A drum in vapour service filled to 0.97 with liquid of 0 degC (639 kg/m3) holds 619 kg/m3;
    # liquid of 40 degC has 579: full before. Filled to 0.45 it never is, and 14.5 is below 20.
    ("[L3] a vessel that becomes full below ambient", plant(
        valve("V1", "solenoid"), valve("V2", "solenoid"),
        drum("D1", "a", "VAP").replace("0.45", "0.97"), drum("D2", "a", "VAP"),
        spool("S1", "V1.out", "D1.a", "VAP"), spool("S2", "V2.out", "D2.a", "VAP")),
     {"S1": "itself", "S2": "not-full"}),
]
