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

__all__ = ["Printed", "Rule", "decimal", "exact", "print_quantity", "shop_fraction"]

NBSP = "\u00a0"


@dataclass(frozen=True)
class Rule:
    """The finest marks on the rules at the bench, and which unit leads."""

    inch: Fraction = Fraction(1, 32)
    """Step in inches."""
    millimetre: Fraction = Fraction(1, 2)
    """Step in millimetres."""
    lead: str = "in"
    """`in` or `mm`: the unit printed first."""


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
    # What is smaller yet is what sums leave over.
    if text == "0" and abs(value) >= 1e-6:
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
    inch_step = Fraction(1, 1000) if fine else rule.inch
    mm_step = Fraction(1, 100) if fine else rule.millimetre
    in_mark = to_mark(value.m_as(UNITS["in"]), inch_step, err)
    mm_mark = to_mark(value.m_as(UNITS["mm"]), mm_step, err)
    if below is not None and below.magnitude > value.magnitude:
        in_mark = min(in_mark, to_mark(below.m_as(UNITS["in"]), inch_step, Err.NEAREST) - inch_step)
        mm_mark = min(mm_mark, to_mark(below.m_as(UNITS["mm"]), mm_step, Err.NEAREST) - mm_step)
    in_text = (decimal(float(in_mark), 3) if fine else shop_fraction(in_mark)) + f"{NBSP}in"
    mm_text = decimal(float(mm_mark), 2) + f"{NBSP}mm"
    if rule.lead == "in":
        return Printed(in_text, mm_text, inches(float(in_mark)))
    return Printed(mm_text, in_text, millimetres(float(mm_mark)))


def _second(value: Quantity, kind: Kind | None, rule: Rule) -> str:
    """The other system's form of an area, volume, weight or rim speed."""
    if kind in (Kind.AREA, Kind.VOLUME, Kind.MASS, Kind.RIM_SPEED, Kind.DENSITY):
        return exact(value, "mm" if rule.lead == "in" else "in")
    return ""


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
    metric = lead == "mm"
    if kind is Kind.LENGTH:
        if metric:
            return decimal(base, 2) + f"{NBSP}mm"
        inch = base / 25.4
        marks = Fraction(inch).limit_denominator(64)
        if abs(float(marks) - inch) < 1e-9 and marks.denominator in (1, 2, 4, 8, 16, 32, 64):
            return shop_fraction(marks) + f"{NBSP}in"
        return decimal(inch, 4) + f"{NBSP}in"
    if kind is Kind.ANGLE:
        return decimal(value.m_as(UNITS["deg"]), 2) + "°"
    if kind is Kind.NUMBER:
        # Four digits that mean something: 9.246, 0.00274, and counts whole.
        return decimal(base, 0 if base == round(base) else max(0, 3 - math.floor(math.log10(abs(base)))))
    if kind is Kind.SPEED:
        return decimal(base, 0) + f"{NBSP}rpm"
    if kind is Kind.TIME:
        return decimal(base, 1) + f"{NBSP}min"
    if kind is Kind.AREA:
        return _some(base / 100, 2) + f"{NBSP}cm²" if metric else _some(base / 25.4**2, 3) + f"{NBSP}in²"
    if kind is Kind.VOLUME:
        return _some(base / 1000, 1) + f"{NBSP}cm³" if metric else _some(base / 25.4**3, 2) + f"{NBSP}in³"
    if kind is Kind.MASS:
        return _mass(base, metric=metric)
    if kind is Kind.RIM_SPEED:
        metres = base / 1000 / 60
        return decimal(metres, 1) + f"{NBSP}m/s" if metric else decimal(base / 304.8, 0) + f"{NBSP}ft/min"
    if kind is Kind.DENSITY:
        return (
            decimal(base * 1e6, 0) + f"{NBSP}kg/m³"
            if metric
            else decimal(base * 28316846.592 / 453.59237, 1) + f"{NBSP}lb/ft³"
        )
    return decimal(base, 4)


def _mass(grams: float, *, metric: bool) -> str:
    """A weight in the unit a scale shows it in: g or kg, oz or lb."""
    if metric:
        return f"{_some(grams, 0)}{NBSP}g" if abs(grams) < 1000 else f"{decimal(grams / 1000, 1)}{NBSP}kg"
    ounces = grams / 28.349523125
    return f"{_some(ounces, 1)}{NBSP}oz" if abs(ounces) < 32 else f"{decimal(ounces / 16, 1)}{NBSP}lb"
