"""L3: whether a piece that is not full of liquid needs cover all the same."""

import math
import re
from fractions import Fraction

from quantities import LENGTH, VOLUME, kelvin_of, number_of, pressure
from saturation import EQUATIONS, Fluid

MARGIN = 0.02                    # nearer to a limit than this is "unclear"


def vapour_space(vessel):
    """A vessel with declared vapour space (L3); one filled to the brim has none."""
    if vessel.get("contents") == "vapour":
        return True
    return vessel.get("contents") == "two-phase" and vessel.get("fill") is not None \
        and Fraction(vessel.get("fill")) < 1


class Fullness:
    """L3 for one piece: "passes" (not-full), "needs" cover, or "unclear": needs an equation of
    state, lies near a limit, or rests on what the rules do not say."""

    def __init__(self, plant, piece, ambient):
        self.plant, self.piece = plant, piece
        self.ambient = ambient + 273.15
        self.vessels = [n for n, _ in piece.joints if plant.tags[n.get("id")] == "vessel"]
        self.services = plant.services_of(piece)
        self.verdict = self.judge()

    def judge(self):
        spacious = self.plant.has_vapour_vessel(self.piece)
        nodes = [None if s is None else self.plant.services[s] for s in self.services]
        vapour = None not in nodes and all(n.get("phase") == "vapour" for n in nodes)
        lowest = self.plant.lowest[self.piece.number]
        if (not spacious and not vapour) or lowest is None:
            return "needs"
        substances = {n.get("substance") for n in nodes}
        if len(substances) != 1 or not substances.issubset(EQUATIONS):
            return "unclear"
        fluid = Fluid(substances.pop())
        limit = float(lowest) + 1.01325
        wet = [v for v in self.vessels if v.get("contents") not in ("vapour", "none")]
        sides = [side for _, side in self.piece.joints if side is not None]
        if vapour and any(side.get("contents") not in ("vapour", "none") for side in sides):
            return "unclear"         # N2: unknown content is liquid-full, exchanger sides too
        if any(n.get(what) is None for n in nodes for what in ("temperature", "pressure")) \
                or any(math.isnan(v) for v in self.volumes()):
            return "unclear"
        if vapour and not wet:
            dry = [self.dry(n, fluid, limit) for n in nodes if n.get("condenses") == "no"]
            if len(dry) < len(nodes):
                dry.append(self.saturated(fluid, limit))
            return dry[0] if len(set(dry)) == 1 else "unclear"
        if vapour and any(not vapour_space(v) for v in wet):
            return "unclear"         # liquid declared, or not excluded, among vapour services
        return self.two_phase(fluid, limit)

    def saturated(self, fluid, limit):
        """A vapour service: it can condense, and then saturation at ambient stands."""
        if self.ambient < fluid.critical_K - 1:
            p = fluid.p_sat(self.ambient)
            return "passes" if p < limit * (1 - MARGIN) else \
                "needs" if p > limit * (1 + MARGIN) else "unclear"
        return "needs" if fluid.critical_bar > limit * (1 + MARGIN) else "unclear"

    def dry(self, service, fluid, limit):
        """A gas that does not condense: constant density; an ideal gas is good to a fifth here."""
        t, p = kelvin_of(service.get("temperature")), pressure(service.get("pressure"))
        if t is None or p is None:
            return "unclear"
        p = float(p) + 1.01325
        if t < fluid.critical_K and p > 0.95 * fluid.p_sat(t):
            return "unclear"
        p *= max(1.0, self.ambient / t)
        return "passes" if p * 1.2 < limit else "needs" if p > limit * 1.2 else "unclear"

    def two_phase(self, fluid, limit):
        """A piece with a vessel that has vapour space: the mean density against the limits."""
        total = liquid = vapour = 0.0
        for vessel in self.vessels:
            if vessel.get("contents") == "none":
                continue             # neither liquid in it nor room to count on
            service = self.plant.services.get(self.plant.service_of(vessel, None))
            t = kelvin_of(service.get("temperature"))
            volume = number_of(vessel.get("volume"), VOLUME)
            if t is None or not 0.35 * fluid.critical_K < t <= self.ambient \
                    or t > fluid.critical_K - 3:
                return "unclear"
            fill = {"vapour": 0.0, "two-phase": float(vessel.get("fill") or 1)}.get(
                vessel.get("contents"), 1.0)
            total += volume
            liquid += fill * volume * fluid.evaluate("rho_liq", t)
            vapour += (1 - fill) * volume * fluid.evaluate("rho_vap", t)
        pipes = sum(self.volumes()[len(self.vessels):])
        heaviest = fluid.evaluate("rho_liq", 0.5 * fluid.critical_K)
        least = liquid / (total + pipes)
        most = (liquid + vapour + pipes * heaviest) / (total + pipes)
        if fluid.critical_bar > limit * (1 + MARGIN):
            reached = fluid.t_sat(limit * (1 + MARGIN))
            if reached < self.ambient and least > 1.05 * fluid.evaluate("rho_vap", reached):
                return "needs"
        if self.ambient > fluid.critical_K - 1:
            return "unclear"
        full = fluid.evaluate("rho_liq", self.ambient)
        if least > 1.03 * full:
            return "needs"
        if fluid.p_sat(self.ambient) < limit * (1 - MARGIN) and most < 0.97 * full:
            return "passes"
        return "unclear"

    def volumes(self):
        """Volumes of the vessels, the exchanger sides and the pipes; NaN where not said."""
        holders = self.vessels + [side for _, side in self.piece.joints if side is not None]
        said = [number_of(h.get("volume"), VOLUME) for h in holders]
        return [math.nan if v is None else v for v in said] + [self.pipe_volume()]

    def pipe_volume(self):
        total = 0.0
        for spool in self.piece.spools:
            node = self.plant.spools[spool]
            length = number_of(node.get("length"), LENGTH)
            bore = re.fullmatch(r"DN(\d+)", node.get("bore") or "")
            if length is None or bore is None:
                return math.nan
            total += 1.3 * length * math.pi / 4 * (float(bore.group(1)) / 1000) ** 2
        return total
