"""Quantities of the plant file (FORMAT): pressures exactly, others as floats in SI units."""

import functools
from fractions import Fraction

ATMOSPHERE = Fraction(101325, 100000)
UNITS_BAR = {"bar": Fraction(1), "kPa": Fraction(1, 100), "MPa": Fraction(10),
             "psi": Fraction(6894757293168361, 10 ** 17)}
VOLUME = {"m3": 1.0, "L": 1e-3, "ft3": 0.0283168}
LENGTH = {"m": 1.0, "mm": 1e-3, "in": 0.0254, "ft": 0.3048}


@functools.lru_cache(maxsize=None)
def pressure(text):
    """A pressure as an exact fraction of bar above atmosphere, or None when not said."""
    if text is None:
        return None
    number, unit = text.split()
    bar = Fraction(number) * UNITS_BAR[unit[:-1]]
    return bar if unit[-1] == "g" else bar - ATMOSPHERE


def number_of(text, factors):
    """A quantity by a table of units, None when not said or in another unit."""
    if text is None:
        return None
    value, unit = text.split()
    return float(value) * factors[unit] if unit in factors else None


def kelvin_of(text):
    """A temperature in K, None when not said."""
    if text is None:
        return None
    value, unit = text.split()
    return {"degC": float(value) + 273.15, "K": float(value),
            "degF": (float(value) - 32) / 1.8 + 273.15}[unit]
