#!/usr/bin/python3
"""Fluids against what lies outside the program: its tables against the published coefficients as the
project's files hold them, and water against another program (Debian's python3-iapws, IAPWS-95).

    test_fluids.py FLUID_DUMP FOLDER_OF_FLUIDS

Exit 77 where neither the files nor the other program are there.
"""

import json
import os
import subprocess
import sys

from common import Checks

FLUIDS = ("ammonia", "carbon-dioxide", "propane", "r134a", "water")
KINDS = ("power", "exponential", "gaussian", "associating", "nonanalytic")


def dump(program, what, fluid, rows=()):
    """Lines that the program prints, split in words."""
    text = "".join(" ".join("%.17g" % x for x in row) + "\n" for row in rows)
    run = subprocess.run([program, what, fluid], input=text, capture_output=True, text=True,
                         timeout=60, check=True)
    return [line.split() for line in run.stdout.splitlines()]


def wanted(data):
    """The file's table in the order and form of the program's dump."""
    limits, ideal = data["limits"], data["ideal"]
    yield "constants", [
        data["molar_mass_kg_per_mol"], data["R_J_per_kgK"], data["reducing"]["T_K"],
        data["reducing"]["rho_kg_per_m3"], data["critical"]["T_K"], data["critical"]["p_Pa"],
        data["critical"]["rho_kg_per_m3"], data["triple"]["T_K"], data["triple"]["p_Pa"],
        limits["T_min_K"], limits["T_max_K"], limits["p_max_Pa"], limits["rho_max_kg_per_m3"],
        ideal["a1"], ideal["a2"], ideal["log_tau"]]
    for row in ideal["power"]:
        yield "ideal_power", row
    for row in ideal["planck_einstein"]:
        yield "planck_einstein", row
    for kind in KINDS:
        for row in data["residual"][kind]:
            yield kind, row
    for name in ("p_sat", "rho_liq", "rho_vap"):
        part = data["ancillary"][name]
        yield name + ".form", part["form"]
        yield name, [part["T_r_K"], part["y_r"]]
        for row in part["terms"]:
            yield name, row


def tables(checks, program, folder):
    """Number by number, exactly: both sides are doubles made from the same digits."""
    for fluid in FLUIDS:
        with open(os.path.join(folder, fluid + ".json"), encoding="utf-8") as stream:
            data = json.load(stream)
        want = list(wanted(data))
        got = dump(program, "table", fluid)
        checks.equal(len(got), len(want), "L4 %s: rows of the table" % fluid)
        for number, (row, (name, values)) in enumerate(zip(got, want)):
            read = row[1] if name.endswith(".form") else [float(x) for x in row[1:]]
            if not name.endswith(".form"):
                values = [float(x) for x in values]
            checks.equal((row[0], read), (name, values), "L4 %s: row %d of the table, %s"
                         % (fluid, number + 1, name))


def close(checks, got, want, relative, name):
    checks.check(abs(got - want) <= relative * abs(want), name,
                 "got %.12g, expected %.12g" % (got, want))


def water(checks, program):
    """IAPWS-95 as python3-iapws has it."""
    from iapws import IAPWS95
    single = [(T, p) for T in (274, 280, 300, 350, 450, 600) for p in (0.2, 2, 20, 80)]
    single += [(700, 30), (660, 25), (900, 5), (500, 0.05)]
    states = [IAPWS95(T=T, P=p) for T, p in single]
    rows = dump(program, "state", "water", [(s.T, s.rho) for s in states])
    for s, row in zip(states, rows):
        where = "L4 water %g K, %g MPa: " % (s.T, s.P)
        got = [float(x) for x in row[1:]]
        # Stiff liquid: iapws stops its density search at about 1e-7 of the pressure.
        close(checks, got[0], s.P * 10, 1e-6, where + "p")
        for value, want, name in zip(
                got[1:6], (s.cv * 1000, s.cp * 1000, s.w, s.alfav, s.kappa / 10),
                ("cv", "cp", "w", "expansivity", "compressibility")):
            close(checks, value, want, 1e-8, where + name)
    temperatures = (273.16, 280, 300, 373.15, 423.15, 500, 600, 640)
    for T, row in zip(temperatures, dump(program, "saturation", "water",
                                         [(T,) for T in temperatures])):
        liquid, vapour = IAPWS95(T=T, x=0), IAPWS95(T=T, x=1)
        where = "L4 water saturated at %g K: " % T
        got = [float(x) for x in row[1:]]
        close(checks, got[0], liquid.P * 10, 1e-7, where + "p")
        close(checks, got[1], liquid.rho, 1e-8, where + "liquid")
        close(checks, got[2], vapour.rho, 1e-7, where + "vapour")
    starts = [(283.15, 4, 313.15), (293.15, 16, 333.15), (333.15, 40, 353.15), (363.15, 10, 383.15)]
    for (T0, p0, T), row in zip(starts, dump(program, "isochore", "water", starts)):
        want = IAPWS95(T=T, rho=IAPWS95(T=T0, P=p0 / 10).rho).P * 10
        close(checks, float(row[1]), want, 1e-6, "L4 water shut in at %g K, %g bar, at %g K"
              % (T0, p0, T))


def main():
    program, folder = sys.argv[1:3]
    checks = Checks(quiet=True)
    done = 0
    if os.path.isdir(folder):
        tables(checks, program, folder)
        done += 1
    else:
        print("not there, tables not compared: " + folder)
    try:
        import iapws  # noqa: F401
    except ImportError:
        print("python3-iapws is not there, water not compared")
    else:
        water(checks, program)
        done += 1
    if not done:
        sys.exit(77)
    checks.finish()


if __name__ == "__main__":
    main()
