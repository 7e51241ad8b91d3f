"""The one registry of units, and the kinds of quantity a turner speaks of.

This module owns units; it is the only door to pint. It leaves reading text to
`lengths` and printing to `printing`. Values are kept in base units: millimetre,
radian, minute, gram. An angle is a dimension of its own here, so that adding
degrees to a plain number is caught as a fault.
"""

from __future__ import annotations

import enum
import math
from fractions import Fraction
from typing import Any, TypeAlias

import pint
from pint.facets.plain import PlainQuantity

__all__ = ["UNITS", "Kind", "Quantity", "count", "degrees", "inches", "kind_of", "millimetres", "of_kind", "quantity"]

Quantity: TypeAlias = "PlainQuantity[float]"
"""A number with its unit."""

_UREG: pint.UnitRegistry[Any] = pint.UnitRegistry(None)
for _definition in (
    "millimetre = [length] = mm",
    # Exact by definition: NIST SP 811, B.6 (the international inch of 1959).
    "inch = 25.4 * millimetre = inch_",
    "centimetre = 10 * millimetre = cm",
    "metre = 1000 * millimetre = m",
    "foot = 12 * inch = ft",
    "radian = [angle] = rad",
    f"degree = {math.pi / 180!r} * radian = deg",
    "minute = [time]",
    "second = minute / 60",
    "hour = 60 * minute",
    "gram = [mass] = g",
    "kilogram = 1000 * gram = kg",
    # Exact by definition: NIST SP 811, B.8.
    "pound = 453.59237 * gram",
    "ounce = pound / 16",
    # A count of turns per minute (ISO 80000-3, rotational frequency).
    "rpm = 1 / minute",
):
    _UREG.define(_definition)

UNITS: dict[str, pint.Unit] = {
    "in": _UREG.inch,
    '"': _UREG.inch,
    "″": _UREG.inch,
    "ft": _UREG.foot,
    "mm": _UREG.millimetre,
    "cm": _UREG.centimetre,
    "m": _UREG.metre,
    "deg": _UREG.degree,
    "°": _UREG.degree,
    "rad": _UREG.radian,
    "s": _UREG.second,
    "min": _UREG.minute,
    "h": _UREG.hour,
    "rpm": _UREG.rpm,
    "g": _UREG.gram,
    "kg": _UREG.kilogram,
    "lb": _UREG.pound,
    "oz": _UREG.ounce,
}
"""Units as an author writes them. Anything else is refused."""


class Kind(enum.Enum):
    """What a quantity measures."""

    LENGTH = "length"
    """A distance; base unit millimetre."""
    ANGLE = "angle"
    """A turn; base unit radian."""
    NUMBER = "number"
    """A count or a ratio, without a unit."""
    SPEED = "speed"
    """Turns in a time, as of the lathe; base unit 1/minute."""
    RIM_SPEED = "rim speed"
    """Length in a time; base unit millimetre/minute."""
    TIME = "time"
    """Base unit minute."""
    AREA = "area"
    """Base unit square millimetre."""
    VOLUME = "volume"
    """Base unit cubic millimetre."""
    MASS = "mass"
    """Base unit gram."""
    DENSITY = "density"
    """Base unit gram per cubic millimetre."""

    @property
    def says(self) -> str:
        """The kind in the author's words, with an example that would be right."""
        return _SAYS[self]


_SAYS = {
    Kind.LENGTH: "a length such as 2 1/4 in or 57 mm",
    Kind.ANGLE: "an angle such as 22.5 deg",
    Kind.NUMBER: "a plain number such as 6",
    Kind.SPEED: "a lathe speed such as 1200 rpm",
    Kind.RIM_SPEED: "a rim speed (a length per minute)",
    Kind.TIME: "a time such as 4 min",
    Kind.AREA: "an area (a length times a length)",
    Kind.VOLUME: "a volume (a length times a length times a length)",
    Kind.MASS: "a weight such as 250 g or 8 oz",
    Kind.DENSITY: "a density (a weight per volume)",
}

_ONE = _UREG.dimensionless
_BASE: dict[Kind, Any] = {
    Kind.LENGTH: _UREG.millimetre,
    Kind.ANGLE: _UREG.radian,
    Kind.NUMBER: _ONE,
    Kind.SPEED: _UREG.rpm,
    Kind.RIM_SPEED: _UREG.millimetre / _UREG.minute,
    Kind.TIME: _UREG.minute,
    Kind.AREA: _UREG.millimetre**2,
    Kind.VOLUME: _UREG.millimetre**3,
    Kind.MASS: _UREG.gram,
    Kind.DENSITY: _UREG.gram / _UREG.millimetre**3,
}
_KINDS = {unit.dimensionality: kind for kind, unit in _BASE.items()}


_EXACT_MM = {
    _UREG.inch: Fraction(127, 5),
    _UREG.foot: Fraction(1524, 5),
    _UREG.centimetre: Fraction(10),
    _UREG.metre: Fraction(1000),
}


def quantity(value: float | Fraction, unit: str) -> Quantity:
    """A quantity in the base unit of its kind.

    Args:
        value: The number; lengths given as fractions convert exactly, so that
            3/8 in is 9.525 mm and not a hair less.
        unit: A key of `UNITS`, or empty for a plain number.

    Raises:
        KeyError: If the unit is not one an author may write.
    """
    wanted = UNITS[unit] if unit else _ONE
    if wanted in _EXACT_MM:
        return millimetres(float(Fraction(value) * _EXACT_MM[wanted]))
    return _UREG.Quantity(float(value), wanted).to_base_units()


def millimetres(value: float) -> Quantity:
    """A length of `value` mm."""
    return _UREG.Quantity(float(value), _UREG.millimetre)


def inches(value: float) -> Quantity:
    """A length of `value` inches, kept in millimetres."""
    return quantity(value, "in")


def degrees(value: float) -> Quantity:
    """An angle of `value` degrees, kept in radians."""
    return quantity(value, "deg")


def count(value: float) -> Quantity:
    """A plain number as a quantity."""
    return _UREG.Quantity(float(value), _ONE)


def of_kind(value: float, kind: Kind) -> Quantity:
    """A quantity of `value` base units of `kind`.

    Args:
        value: The number, in base units (mm, rad, min, g and what follows from them).
        kind: What it measures.

    Returns:
        The quantity.
    """
    return _UREG.Quantity(float(value), _BASE[kind])


def kind_of(value: Quantity) -> Kind | None:
    """What a quantity measures, or None for a mixture that has no name here."""
    return _KINDS.get(value.dimensionality)
