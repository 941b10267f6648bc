"""Saturation by the published ancillary equations of five fluids, good to about 0.1 % in the range
used here. Density in kg/m3, pressure in bara, temperature in K.

S = sum of n theta^t with theta = 1 - T/Tr; "exp_TrT" = yr exp(S Tr/T), "exp" = yr exp(S),
"one_plus" = yr (1 + S). yr of pressures in Pa.
"""

import math


# fluid: quantity: (form, Tr in K, yr, ((n, t), ...))
EQUATIONS = {
    # Gao et al. 2023, ancillary equations
    "ammonia": {
        "p_sat": ("exp_TrT", 405.56, 11363400.0, (
            (-7.3128, 1.0), (3.8888, 1.5), (-2.9908, 1.6), (-2.8636, 3.7))),
        "rho_liq": ("one_plus", 405.56, 233.25000192000002, (
            (0.051236, 0.07), (3.7925, 0.46), (-3.5929, 0.77), (4.6409, 1.05), (-1.9893, 1.25),
            (1.5978, 8))),
        "rho_vap": ("exp", 405.56, 233.25000192000002, (
            (-0.089966, 0.112), (-3.8722, 0.473), (-8.1183, 1.5), (-25.293, 3.875), (-54.279, 8),
            (-400.83, 20))),
    },
    # Span & Wagner 1996, Eq. (3.13)
    "carbon-dioxide": {
        "p_sat": ("exp_TrT", 304.1282, 7377300.0, (
            (-7.0602087, 1), (1.9391218, 1.5), (-1.6463597, 2.0), (-3.2995634, 4.0))),
        "rho_liq": ("exp", 304.1282, 467.6, (
            (1.9245108, 0.34), (-0.62385555, 0.5), (-0.32731127, 1.666666666667),
            (0.39245142, 1.833333333333))),
        "rho_vap": ("exp", 304.1282, 467.6, (
            (-1.7074879, 0.34), (-0.8227467, 0.5), (-4.6008549, 1), (-10.111178, 2.333333333333),
            (-29.742252, 4.666666666667))),
    },
    # Lemmon, McLinden & Wagner 2009, ancillary equations
    "propane": {
        "p_sat": ("exp_TrT", 369.89, 4251200.0, (
            (-6.7722, 1), (1.6938, 1.5), (-1.3341, 2.2), (-3.1876, 4.8), (0.94937, 6.2))),
        "rho_liq": ("one_plus", 369.89, 220.4781, (
            (1.82205, 0.345), (0.65802, 0.74), (0.21109, 2.6), (0.083973, 7.2))),
        "rho_vap": ("exp", 369.89, 220.4781, (
            (-2.4887, 0.3785), (-5.1069, 1.07), (-12.174, 2.7), (-30.495, 5.5), (-52.192, 10.0),
            (-134.89, 20.0))),
    },
    # Tillner-Roth & Baehr 1994, ancillary equations
    "r134a": {
        "p_sat": ("exp_TrT", 374.18, 4056290.0, (
            (-7.686556, 1), (2.311791, 1.5), (-2.039554, 2), (-3.583758, 4))),
        "rho_liq": ("one_plus", 374.18, 518.2, (
            (1.7061559243535314, 0.333333333333), (0.9375530683133924, 0.666666666667),
            (0.3730027016595908, 3.333333333333))),
        "rho_vap": ("exp", 374.18, 516.86, (
            (-2.837294, 0.333333333333), (-7.875988, 0.666666666667), (4.478586, 0.5),
            (-14.140125, 2.25), (-52.361297, 5.5))),
    },
    # IAPWS SR1-86(1992); Wagner & Pruss, J. Phys. Chem. Ref. Data 22 (1993) 783-787, Eq. (1)
    "water": {
        "p_sat": ("exp_TrT", 647.096, 22064000.0, (
            (-7.85951783, 1), (1.84408259, 1.5), (-11.7866497, 3), (22.6807411, 3.5),
            (-15.9618719, 4), (1.80122502, 7.5))),
        "rho_liq": ("one_plus", 647.096, 322.0, (
            (1.99274064, 0.333333333333), (1.09965342, 0.666666666667),
            (-0.510839303, 1.666666666667), (-1.75493479, 5.333333333333),
            (-45.5170352, 14.333333333333), (-674694.45, 36.666666666667))),
        "rho_vap": ("exp", 647.096, 322.0, (
            (-2.0315024, 0.333333333333), (-2.6830294, 0.666666666667),
            (-5.38626492, 1.333333333333), (-17.2991605, 3.0), (-44.7586581, 6.166666666667),
            (-63.9201063, 11.833333333333))),
    },
}


class Fluid:
    """Saturation of one fluid."""

    def __init__(self, name):
        self.equations = EQUATIONS[name]
        self.critical_K = self.equations["p_sat"][1]
        self.critical_bar = self.equations["p_sat"][2] / 1e5

    def evaluate(self, what, kelvin):
        """A saturation quantity; from the critical temperature on, that of the critical point."""
        form, t_r, y_r, terms = self.equations[what]
        theta = max(0.0, 1 - kelvin / t_r)
        total = sum(n * theta ** t for n, t in terms)
        if form == "one_plus":
            return y_r * (1 + total)
        return y_r * math.exp(total * (t_r / kelvin if form == "exp_TrT" else 1))

    def p_sat(self, kelvin):
        return self.evaluate("p_sat", kelvin) / 1e5

    def t_sat(self, bara):
        """The temperature at which saturation reaches a pressure; above it the critical one."""
        low, high = 0.35 * self.critical_K, self.critical_K
        for _ in range(60):
            mid = (low + high) / 2
            low, high = (mid, high) if self.p_sat(mid) < bara else (low, mid)
        return high
