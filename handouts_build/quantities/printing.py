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
    "Manner",
    "Printed",
    "Rule",
    "decimal",
    "exact",
    "numbers_told",
    "print_as",
    "print_exact",
    "print_quantity",
    "shop_fraction",
]

NBSP = "\u00a0"

_MM = UNITS["mm"]
_INCH_MM = 25.4
_HUNDREDTH, _THOUSANDTH, _TEN_THOUSANDTH = (Fraction(1, 10**places) for places in (2, 3, 4))


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
    inch: float | None = None
    """Of a length: the number of inches that its text says."""
    mm: float | None = None
    """Of a length: the number of millimetres that its text says."""

    def __str__(self) -> str:
        return f"{self.lead} ({self.other})" if self.other else self.lead


@dataclass(frozen=True)
class Manner:
    """How a value is printed, wherever it stands."""

    err: Err = Err.NEAREST
    fine: bool = False
    """By calipers: thousandths of an inch and hundredths of a millimetre, not marks of a rule."""
    exact: bool = False
    """As it is: a bit, a hole, what an author was told. No mark of a rule is near enough."""
    below: str = ""
    """Full name of the hole it goes into: its printed size less the play is what it is printed as."""


def shop_fraction(value: Fraction) -> str:
    """A fraction as written in a shop: `2 1/4`, `13/32`, `3`, `−1/8`."""
    sign = "−" if value < 0 else ""
    whole, part = divmod(abs(value), 1)
    if not part:
        return f"{sign}{whole}"
    fraction = f"{part.numerator}/{part.denominator}"
    return f"{sign}{whole}{NBSP}{fraction}" if whole else f"{sign}{fraction}"


def decimal(value: float, places: int, err: Err = Err.NEAREST) -> str:
    """A number with at most `places` decimals and no trailing noughts.

    Args:
        value: The number.
        places: Decimals.
        err: The side that is safe to err on.
    """
    if err is not Err.NEAREST:
        value = float(to_mark(value, Fraction(1, 10**places), err))
    text = f"{value:,.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text.replace("-", "−")


def _some(value: float, places: int, err: Err) -> str:
    """A number with at most `places` decimals, or one digit that means something where these would make it nought."""
    text = decimal(value, places, err)
    # What is smaller yet is what sums leave over.
    if text == "0" and abs(value) >= 1e-6:
        return decimal(value, -int(f"{value:e}".partition("e")[2]), err)
    return text


def print_quantity(
    value: Quantity,
    rule: Rule,
    *,
    err: Err = Err.NEAREST,
    fine: bool = False,
    below: tuple[Quantity, Printed] | None = None,
) -> Printed:
    """A quantity in words for the page, in both units where it is a length.

    Args:
        value: The exact value.
        rule: The marks to round lengths to.
        err: The side that is safe to err on.
        fine: Print decimals (thousandths of an inch, hundredths of a millimetre)
            instead of marks, for amounts smaller than a rule shows.
        below: The hole that a tenon of this size goes into, exact and as it is printed. The tenon is then
            printed from the printed hole, in each unit by itself, so that the two fit as they are read.

    Returns:
        The printed forms, each rounded from the exact value by itself.
    """
    kind = kind_of(value)
    if kind is not Kind.LENGTH:
        return Printed(exact(value, rule.lead, err=err), _second(value, kind, rule, err), value)
    mm = _mm(value)
    hole = None
    if below is not None and below[1].inch is not None and below[1].mm is not None:
        hole = (_mm(below[0]), below[1].inch, below[1].mm)
    in_mark, mm_mark = numbers_told(mm, rule, Manner(err, fine), hole=hole)
    in_text = (decimal(float(in_mark), 3) if fine else shop_fraction(in_mark)) + f"{NBSP}in"
    mm_text = decimal(float(mm_mark), 2) + f"{NBSP}mm"
    lead, other = (in_text, mm_text) if rule.lead == "in" else (mm_text, in_text)
    rounded = inches(float(in_mark)) if rule.lead == "in" else millimetres(float(mm_mark))
    return Printed(lead, other, rounded, float(in_mark), float(mm_mark))


def numbers_told(
    mm: float, rule: Rule, manner: Manner, *, hole: tuple[float, float, float] | None = None
) -> tuple[Fraction, Fraction]:
    """The numbers that a length is printed as, in inches and in millimetres.

    Args:
        mm: The exact length, in mm.
        rule: The marks to round to.
        manner: How it is printed.
        hole: The hole that a tenon of this size goes into: its exact width in mm, and its printed numbers of inches
            and of millimetres.
    """
    if manner.exact:
        return _inch(mm / _INCH_MM, manner.err), to_mark(mm, _HUNDREDTH, manner.err)
    inch_step, mm_step = (_THOUSANDTH, _HUNDREDTH) if manner.fine else (rule.inch, rule.millimetre)
    in_size, mm_size = mm * (1 / _INCH_MM), mm
    if hole is None:
        return to_mark(in_size, inch_step, manner.err), to_mark(mm_size, mm_step, manner.err)
    wide, in_told, mm_told = hole
    in_mark = to_mark(in_size + (in_told - wide * (1 / _INCH_MM)), inch_step, manner.err)
    mm_mark = to_mark(mm_size + (mm_told - wide), mm_step, manner.err)
    if mm < wide:
        # One that goes in with play goes in as printed, whichever side it is rounded to.
        in_mark = min(in_mark, to_mark(in_told, inch_step, Err.OVER) - inch_step)
        mm_mark = min(mm_mark, to_mark(mm_told, mm_step, Err.OVER) - mm_step)
    return in_mark, mm_mark


def _mm(length: Quantity) -> float:
    """A length in mm."""
    return float(length.magnitude if length.units == _MM else length.m_as(_MM))


def print_exact(value: Quantity, rule: Rule, *, err: Err = Err.NEAREST) -> Printed:
    """A quantity as it is, in both units, not rounded to a mark.

    Args:
        value: The exact value.
        rule: Which unit leads.
        err: The side that is safe to err on in the last digit.
    """
    first, second = (exact(value, unit, err=err) for unit in (("in", "mm") if rule.lead == "in" else ("mm", "in")))
    other = second if second != first else ""
    if kind_of(value) is not Kind.LENGTH:
        return Printed(first, other, value)
    inch, mm = numbers_told(_mm(value), rule, Manner(err, exact=True))
    return Printed(first, other, value, float(inch), float(mm))


def print_as(value: Quantity, rule: Rule, manner: Manner, *, below: tuple[Quantity, Printed] | None = None) -> Printed:
    """A quantity printed in its manner.

    Args:
        value: The exact value.
        rule: The marks to round lengths to.
        manner: How it is printed.
        below: The hole that the manner names, exact and as it is printed.
    """
    if manner.exact and kind_of(value) is Kind.LENGTH:
        return print_exact(value, rule, err=manner.err)
    return print_quantity(value, rule, err=manner.err, fine=manner.fine, below=below)


def _inch(inch: float, err: Err) -> Fraction:
    """Inches as a shop fraction down to 1/64 where they are one, else to four decimals."""
    marks = round(inch * 64)
    return Fraction(marks, 64) if abs(marks / 64 - inch) < 1e-9 else to_mark(inch, _TEN_THOUSANDTH, err)


def _second(value: Quantity, kind: Kind | None, rule: Rule, err: Err) -> str:
    """The other system's form of an area, volume, weight or rim speed."""
    if kind in (Kind.AREA, Kind.VOLUME, Kind.MASS, Kind.RIM_SPEED, Kind.DENSITY):
        return exact(value, "mm" if rule.lead == "in" else "in", err=err)
    return ""


def exact(value: Quantity, lead: str, *, err: Err = Err.NEAREST, more: int = 0) -> str:
    """A quantity unrounded by any rule, to the digits that still mean something.

    Args:
        value: Any quantity.
        lead: `in` or `mm`, the unit lengths are told in.
        err: The side that is safe to err on in the last digit.
        more: Decimals more than usual, to show what was rounded; of no account for a length.

    Returns:
        Such as `0.659 in`, `22.5°`, `6`, `1,200 rpm`, `3 1/2 min`.
    """
    kind = kind_of(value)
    base = float(value.m_as(value.to_base_units().units))
    metric = lead == "mm"
    if kind is Kind.LENGTH:
        if metric:
            return decimal(float(to_mark(base, _HUNDREDTH, err)), 2) + f"{NBSP}mm"
        inch = _inch(base / 25.4, err)
        fraction = inch.denominator in (1, 2, 4, 8, 16, 32, 64)
        return (shop_fraction(inch) if fraction else decimal(float(inch), 4)) + f"{NBSP}in"
    if kind is Kind.ANGLE:
        return decimal(value.m_as(UNITS["deg"]), 2 + more, err) + "°"
    if kind is Kind.NUMBER:
        # Four digits that mean something: 9.246, 0.00274, and counts whole.
        if base == round(base):
            return decimal(base, 0)
        return decimal(base, max(0, 3 - math.floor(math.log10(abs(base)))) + more, err)
    if kind is Kind.SPEED:
        return decimal(base, 0 + more, err) + f"{NBSP}rpm"
    if kind is Kind.TIME:
        return decimal(base, 1 + more, err) + f"{NBSP}min"
    if kind is Kind.AREA:
        return (
            _some(base / 100, 2 + more, err) + f"{NBSP}cm²"
            if metric
            else _some(base / 25.4**2, 3 + more, err) + f"{NBSP}in²"
        )
    if kind is Kind.VOLUME:
        return (
            _some(base / 1000, 1 + more, err) + f"{NBSP}cm³"
            if metric
            else _some(base / 25.4**3, 2 + more, err) + f"{NBSP}in³"
        )
    if kind is Kind.MASS:
        return _mass(base, metric=metric, err=err, more=more)
    if kind is Kind.RIM_SPEED:
        metres = base / 1000 / 60
        if metric:
            return decimal(metres, 1 + more, err) + f"{NBSP}m/s"
        return decimal(base / 304.8, 0 + more, err) + f"{NBSP}ft/min"
    if kind is Kind.DENSITY:
        if metric:
            return decimal(base * 1e6, 0 + more, err) + f"{NBSP}kg/m³"
        return decimal(base * 28316846.592 / 453.59237, 1 + more, err) + f"{NBSP}lb/ft³"
    return decimal(base, 4 + more, err)


def _mass(grams: float, *, metric: bool, err: Err, more: int) -> str:
    """A weight in the unit a scale shows it in: g or kg, oz or lb."""
    if metric:
        if abs(grams) < 1000:
            return f"{_some(grams, 0 + more, err)}{NBSP}g"
        return f"{decimal(grams / 1000, 1 + more, err)}{NBSP}kg"
    ounces = grams / 28.349523125
    if abs(ounces) < 32:
        return f"{_some(ounces, 1 + more, err)}{NBSP}oz"
    return f"{decimal(ounces / 16, 1 + more, err)}{NBSP}lb"
