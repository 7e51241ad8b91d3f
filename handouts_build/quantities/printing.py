"""Printing quantities: shop fractions and millimetres, always both.

This module owns how a value looks on paper. It never feeds a printed value back
into the arithmetic: `Printed` carries the rounded quantity beside its text.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from handouts_build.quantities.registry import UNITS, Kind, Quantity, inches, kind_of, millimetres
from handouts_build.quantities.rounding import Err, to_mark

__all__ = [
    "FINE",
    "FINE_PLACES",
    "LEAST_AMOUNT",
    "MM_PLACES",
    "ROUNDED",
    "SAME",
    "SCALES",
    "UNNAMED_PLACES",
    "UNSEEN_MM",
    "Printed",
    "Rule",
    "Scale",
    "decimal",
    "exact",
    "print_quantity",
    "shop_fraction",
]

NBSP = "\u00a0"

SAME = 1e-9
"""Two numbers this near are one."""

LEAST_AMOUNT = 1e-6
"""What is smaller yet is what sums leave over, and is printed as nought."""

FINE_PLACES = 3
"""Decimals of an inch for amounts smaller than a rule shows."""

MM_PLACES = 2
"""Decimals of a millimetre, at the most."""

UNNAMED_PLACES = 4
"""Decimals of a mixture of units that has no name."""

UNSEEN_MM = 5e-4
"""A rounding by less than this is none."""

ROUNDED = {Err.OVER: "rounded up", Err.UNDER: "rounded down", Err.NEAREST: "to the nearest mark"}
"""What rounding did, by the side that is safe."""


@dataclass(frozen=True)
class Scale:
    """A unit that an exact value is printed in; a number in base units becomes one in it by `times` / `per`."""

    unit: str
    """As printed, with the space before it."""
    per: float = 1.0
    times: float = 1.0
    places: int = 0
    """Decimals, at the most."""
    amount: bool = False
    """Whether a small one keeps a digit that means something, where the decimals would make it nought."""
    below: float = math.inf
    """It serves numbers under this; the next scale takes those that are not."""
    marks: int = 0
    """A number on one of so many marks to the unit is printed as a shop fraction."""
    digits: int = 0
    """Digits that mean something, in the place of `places`; whole numbers stay whole."""


def _only(*scales: Scale) -> tuple[tuple[Scale, ...], tuple[Scale, ...]]:
    """Scales that are the same whichever unit leads."""
    return scales, scales


_INCH, _FOOT, _POUND = 25.4, 304.8, 453.59237
"""An inch and a foot in mm, a pound in g: exact by definition, as in `registry`."""

SCALES: dict[Kind, tuple[tuple[Scale, ...], tuple[Scale, ...]]] = {
    Kind.LENGTH: ((Scale(f"{NBSP}in", _INCH, places=4, marks=64),), (Scale(f"{NBSP}mm", places=MM_PLACES),)),
    Kind.ANGLE: _only(Scale("°", times=1 / (math.pi / 180), places=2)),
    # Four digits that mean something: 9.246, 0.00274, and counts whole.
    Kind.NUMBER: _only(Scale("", digits=4)),
    Kind.SPEED: _only(Scale(f"{NBSP}rpm")),
    Kind.TIME: _only(Scale(f"{NBSP}min", places=1)),
    Kind.AREA: (
        (Scale(f"{NBSP}in²", _INCH**2, places=3, amount=True),),
        (Scale(f"{NBSP}cm²", 100, places=2, amount=True),),
    ),
    Kind.VOLUME: (
        (Scale(f"{NBSP}in³", _INCH**3, places=2, amount=True),),
        (Scale(f"{NBSP}cm³", 1000, places=1, amount=True),),
    ),
    # A weight in the unit that a scale shows it in.
    Kind.MASS: (
        (Scale(f"{NBSP}oz", _POUND / 16, places=1, amount=True, below=32), Scale(f"{NBSP}lb", _POUND, places=1)),
        (Scale(f"{NBSP}g", amount=True, below=1000), Scale(f"{NBSP}kg", 1000, places=1)),
    ),
    Kind.RIM_SPEED: ((Scale(f"{NBSP}ft/min", _FOOT),), (Scale(f"{NBSP}m/s", 1000 * 60, places=1),)),
    Kind.DENSITY: (
        (Scale(f"{NBSP}lb/ft³", _POUND, times=28316846.592, places=1),),
        (Scale(f"{NBSP}kg/m³", times=1e6),),
    ),
}
"""The units an exact value is printed in, in inches and in millimetres: the first that a number is small enough for."""


@dataclass(frozen=True)
class Rule:
    """The finest marks on the rules at the bench, and which unit leads."""

    inch: Fraction = Fraction(1, 32)
    """Step in inches."""
    millimetre: Fraction = Fraction(1, 2)
    """Step in millimetres."""
    lead: str = "in"
    """`in` or `mm`: the unit printed first."""


FINE = Rule(Fraction(1, 1000), Fraction(1, 100))
"""The steps of amounts smaller than a rule shows."""


@dataclass(frozen=True)
class Printed:
    """A value as it stands on the page."""

    lead: str
    """The value in the unit that leads, with its unit."""
    other: str
    """The same value in the other unit; empty when there is none."""
    rounded: Quantity
    """The value that `lead` says."""

    def __str__(self) -> str:
        return f"{self.lead} ({self.other})" if self.other else self.lead


def shop_fraction(value: Fraction) -> str:
    """A fraction as written in a shop: `2 1/4`, `13/32`, `3`, `−1/8`."""
    sign = "−" if value < 0 else ""
    whole, part = divmod(abs(value), 1)
    if not part:
        return f"{sign}{whole}"
    fraction = f"{part.numerator}/{part.denominator}"
    return f"{sign}{whole}{NBSP}{fraction}" if whole else f"{sign}{fraction}"


def decimal(value: float, places: int) -> str:
    """A number with at most `places` decimals and no trailing noughts."""
    text = f"{value:,.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text.replace("-", "−")


def _some(value: float, places: int) -> str:
    """A number with at most `places` decimals, or one digit that means something where these would make it nought."""
    text = decimal(value, places)
    if text == "0" and abs(value) >= LEAST_AMOUNT:
        return decimal(value, -int(f"{value:e}".partition("e")[2]))
    return text


def print_quantity(
    value: Quantity, rule: Rule, *, err: Err = Err.NEAREST, fine: bool = False, below: Quantity | None = None
) -> Printed:
    """A quantity in words for the page, in both units where it is a length.

    Args:
        value: The exact value.
        rule: The marks to round lengths to.
        err: The side that is safe to err on.
        fine: Print decimals (thousandths of an inch, hundredths of a millimetre)
            instead of marks, for amounts smaller than a rule shows.
        below: A greater value, such as a tenon's hole, whose own nearest mark it must stay below.

    Returns:
        The printed forms, each rounded from the exact value by itself.
    """
    kind = kind_of(value)
    if kind is not Kind.LENGTH:
        return Printed(exact(value, rule.lead), _second(value, kind, rule), value)
    inch_step, mm_step = (FINE.inch, FINE.millimetre) if fine else (rule.inch, rule.millimetre)
    in_mark = to_mark(value.m_as(UNITS["in"]), inch_step, err)
    mm_mark = to_mark(value.m_as(UNITS["mm"]), mm_step, err)
    if below is not None and below.magnitude > value.magnitude:
        in_mark = min(in_mark, to_mark(below.m_as(UNITS["in"]), inch_step, Err.NEAREST) - inch_step)
        mm_mark = min(mm_mark, to_mark(below.m_as(UNITS["mm"]), mm_step, Err.NEAREST) - mm_step)
    in_text = (decimal(float(in_mark), FINE_PLACES) if fine else shop_fraction(in_mark)) + f"{NBSP}in"
    mm_text = decimal(float(mm_mark), MM_PLACES) + f"{NBSP}mm"
    if rule.lead == "in":
        return Printed(in_text, mm_text, inches(float(in_mark)))
    return Printed(mm_text, in_text, millimetres(float(mm_mark)))


def _second(value: Quantity, kind: Kind | None, rule: Rule) -> str:
    """The other system's form of an area, volume, weight or rim speed."""
    inch, metric = SCALES[kind] if kind else ((), ())
    return exact(value, "mm" if rule.lead == "in" else "in") if inch is not metric else ""


def exact(value: Quantity, lead: str) -> str:
    """A quantity unrounded by any rule, to the digits that still mean something.

    Args:
        value: Any quantity.
        lead: `in` or `mm`, the unit lengths are told in.

    Returns:
        Such as `0.659 in`, `22.5°`, `6`, `1,200 rpm`, `3 1/2 min`.
    """
    kind = kind_of(value)
    base = float(value.m_as(value.to_base_units().units))
    if kind is None:
        return decimal(base, UNNAMED_PLACES)
    inch, metric = SCALES[kind]
    scales = metric if lead == "mm" else inch
    # Divided first where the product would leave the range of a float; a refusal must be able to say any number.
    told = [
        (scale, base * scale.times / scale.per if abs(base) < 1e300 else base / scale.per * scale.times)
        for scale in scales
    ]
    scale, number = next((pair for pair in told if abs(pair[1]) < pair[0].below), told[-1])
    return _number(number, scale) + scale.unit


def _number(number: float, scale: Scale) -> str:
    """A number as its scale prints it, without the unit."""
    # No rule is as long as what a hostile file may say, and so large a float has no marks to be on.
    if scale.marks and abs(number) < 1e12:
        marks = round(number * scale.marks)
        if abs(marks / scale.marks - number) < SAME:
            return shop_fraction(Fraction(marks, scale.marks))
    if scale.digits:
        whole = number == round(number)
        return decimal(number, 0 if whole else max(0, scale.digits - 1 - math.floor(math.log10(abs(number)))))
    return _some(number, scale.places) if scale.amount else decimal(number, scale.places)
