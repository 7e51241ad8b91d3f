"""Printing quantities: shop fractions and millimetres, always both.

This module owns how a value looks on paper. It never feeds a printed value back
into the arithmetic: `Printed` carries the rounded quantity beside its text.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from fractions import Fraction

from handouts_build.language import tr, tr_later
from handouts_build.quantities.registry import UNITS, Kind, Quantity, inches, kind_of, millimetres
from handouts_build.quantities.rounding import ON_THE_MARK, Err, to_mark

__all__ = [
    "FINE",
    "FINE_PLACES",
    "LEAST_AMOUNT",
    "MM_PLACES",
    "MORE_PLACES",
    "PRINT_UNITS",
    "ROUNDED",
    "SAME",
    "UNNAMED_PLACES",
    "UNSEEN_MM",
    "Manner",
    "PrintUnit",
    "Printed",
    "Rule",
    "decimal",
    "exact",
    "numbers_told",
    "print_as",
    "print_exact",
    "print_marks",
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

MORE_PLACES = 2
"""Decimals more than usual in a working that shows to which side a value was rounded."""

UNNAMED_PLACES = 4
"""Decimals of a mixture of units that has no name."""

UNSEEN_MM = 5e-4
"""A rounding by less than this is none."""

ROUNDED = {
    Err.OVER: tr_later("rounded up"),
    Err.UNDER: tr_later("rounded down"),
    Err.NEAREST: tr_later("to the nearest mark"),
}
"""What rounding did, by the side that is safe."""


@dataclass(frozen=True)
class PrintUnit:
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
    """It serves numbers under this; the next unit takes those that are not."""
    marks: int = 0
    """A number on one of so many marks to the unit is printed as a shop fraction."""
    digits: int = 0
    """Digits that mean something, in the place of `places`; whole numbers stay whole."""


def _only(*units: PrintUnit) -> tuple[tuple[PrintUnit, ...], tuple[PrintUnit, ...]]:
    """Units that are the same whichever unit leads."""
    return units, units


_INCH, _FOOT, _POUND = 25.4, 304.8, 453.59237
"""An inch and a foot in mm, a pound in g: exact by definition, as in `registry`."""

PRINT_UNITS: dict[Kind, tuple[tuple[PrintUnit, ...], tuple[PrintUnit, ...]]] = {
    Kind.LENGTH: ((PrintUnit(f"{NBSP}in", _INCH, places=4, marks=64),), (PrintUnit(f"{NBSP}mm", places=MM_PLACES),)),
    Kind.ANGLE: _only(PrintUnit("°", times=1 / (math.pi / 180), places=2)),
    # Four digits that mean something: 9.246, 0.00274, and counts whole.
    Kind.NUMBER: _only(PrintUnit("", digits=4)),
    Kind.SPEED: _only(PrintUnit(f"{NBSP}rpm")),
    Kind.TIME: _only(PrintUnit(f"{NBSP}min", places=1)),
    Kind.AREA: (
        (PrintUnit(f"{NBSP}in²", _INCH**2, places=3, amount=True),),
        (PrintUnit(f"{NBSP}cm²", 100, places=2, amount=True),),
    ),
    Kind.VOLUME: (
        (PrintUnit(f"{NBSP}in³", _INCH**3, places=2, amount=True),),
        (PrintUnit(f"{NBSP}cm³", 1000, places=1, amount=True),),
    ),
    # A weight in the unit that a scale shows it in.
    Kind.MASS: (
        (
            PrintUnit(f"{NBSP}oz", _POUND / 16, places=1, amount=True, below=32),
            PrintUnit(f"{NBSP}lb", _POUND, places=1),
        ),
        (PrintUnit(f"{NBSP}g", amount=True, below=1000), PrintUnit(f"{NBSP}kg", 1000, places=1)),
    ),
    Kind.RIM_SPEED: ((PrintUnit(f"{NBSP}ft/min", _FOOT),), (PrintUnit(f"{NBSP}m/s", 1000 * 60, places=1),)),
    Kind.DENSITY: (
        (PrintUnit(f"{NBSP}lb/ft³", _POUND, times=28316846.592, places=1),),
        (PrintUnit(f"{NBSP}kg/m³", times=1e6),),
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
    inch: float | None = None
    """Of a length: the number of inches that its text says."""
    mm: float | None = None
    """Of a length: the number of millimetres that its text says."""
    way: str = ""
    """Of a change: what its amount is put into in the place of its sign, such as `{amount} looser`; `lead` is put into
    it already."""

    def __str__(self) -> str:
        return self.way.format(amount=self.amount) if self.way else self.amount

    @property
    def amount(self) -> str:
        """The value in both units, without the words that stand for its sign."""
        before, _, after = self.way.partition("{amount}")
        lead = self.lead.removeprefix(before).removesuffix(after)
        return f"{lead} ({self.other})" if lead and self.other else lead or self.other


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
    ways: tuple[str, str] | tuple[()] = ()
    """What its amount is put into in the place of its sign, such as `{amount} looser` and `{amount} tighter`: where it
    is more than nought, and where less. They are in English; whoever prints them says them."""


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
    if text == "0" and abs(value) >= LEAST_AMOUNT:
        return decimal(value, -int(f"{value:e}".partition("e")[2]), err)
    return text


def print_quantity(
    value: Quantity,
    rule: Rule,
    *,
    err: Err = Err.NEAREST,
    fine: bool = False,
    below: tuple[Quantity, Printed] | None = None,
    chain: tuple[float, float] | None = None,
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
        chain: What the printed lengths that it is the sum or difference of come to, in inches and in millimetres. It
            is printed so in each unit where that is a mark and on the safe side: a chain of sizes then closes.

    Returns:
        The printed forms, each rounded from the exact value by itself.
    """
    kind = kind_of(value)
    if kind is not Kind.LENGTH:
        return Printed(exact(value, rule.lead, err=err), _second(value, kind, rule, err), value)
    hole = None
    if below is not None and below[1].inch is not None and below[1].mm is not None:
        hole = (_mm(below[0]), below[1].inch, below[1].mm)
    in_mark, mm_mark = numbers_told(_mm(value), rule, Manner(err, fine), hole=hole)
    if chain is not None and not fine and hole is None:
        in_mark = _closed(chain[0], _mm(value) * (1 / _INCH), rule.inch, err) or in_mark
        mm_mark = _closed(chain[1], _mm(value), rule.millimetre, err) or mm_mark
    return print_marks(in_mark, mm_mark, rule, fine=fine)


def print_marks(in_mark: Fraction, mm_mark: Fraction, rule: Rule, *, fine: bool = False) -> Printed:
    """A length by the numbers that it is printed as.

    Args:
        in_mark: Inches.
        mm_mark: Millimetres.
        rule: Which unit leads.
        fine: Print inches as a decimal.
    """
    in_text = (decimal(float(in_mark), FINE_PLACES) if fine else shop_fraction(in_mark)) + f"{NBSP}in"
    mm_text = decimal(float(mm_mark), MM_PLACES) + f"{NBSP}mm"
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
        inch, metric = PRINT_UNITS[Kind.LENGTH]
        return _in_unit(mm / _INCH, inch[0], manner.err), _in_unit(mm, metric[0], manner.err)
    steps = FINE if manner.fine else rule
    in_size, mm_size = mm * (1 / _INCH), mm
    if hole is None:
        return to_mark(in_size, steps.inch, manner.err), to_mark(mm_size, steps.millimetre, manner.err)
    wide, in_told, mm_told = hole
    in_mark = to_mark(in_size + (in_told - wide * (1 / _INCH)), steps.inch, manner.err)
    mm_mark = to_mark(mm_size + (mm_told - wide), steps.millimetre, manner.err)
    if mm < wide:
        # One that goes in with play goes in as printed, whichever side it is rounded to.
        in_mark = min(in_mark, to_mark(in_told, steps.inch, Err.OVER) - steps.inch)
        mm_mark = min(mm_mark, to_mark(mm_told, steps.millimetre, Err.OVER) - steps.millimetre)
    return in_mark, mm_mark


def _closed(number: float, size: float, step: Fraction, err: Err) -> Fraction | None:
    """The mark that printed lengths come to, where it is one, more than nought and on the safe side of the size."""
    mark, slack = to_mark(number, step, Err.NEAREST), float(step) * ON_THE_MARK
    off = float(mark) - size
    unsafe = (err is Err.OVER and off < -slack) or (err is Err.UNDER and off > slack)
    return mark if mark > 0 and abs(float(mark) - number) <= slack and not unsafe else None


def _mm(length: Quantity) -> float:
    """A length in mm."""
    return float(length.magnitude if length.units == _BASE else length.m_as(_BASE))


_BASE = UNITS["mm"]


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


def print_as(
    value: Quantity,
    rule: Rule,
    manner: Manner,
    *,
    below: tuple[Quantity, Printed] | None = None,
    chain: tuple[float, float] | None = None,
) -> Printed:
    """A quantity printed in its manner.

    Args:
        value: The exact value.
        rule: The marks to round lengths to.
        manner: How it is printed.
        below: The hole that the manner names, exact and as it is printed.
        chain: What the printed lengths come to that it is the sum of, in inches and in millimetres.
    """
    if manner.exact and kind_of(value) is Kind.LENGTH:
        return print_exact(value, rule, err=manner.err)
    printed = print_quantity(value, rule, err=manner.err, fine=manner.fine, below=below, chain=chain)
    return _worded(printed, manner.ways) if manner.ways else printed


def _worded(printed: Printed, ways: tuple[str, str]) -> Printed:
    """A change with words in the place of its sign; none of no change that is seen."""
    way = "" if printed.lead.startswith(f"0{NBSP}") else tr(ways[printed.lead.startswith("−")])
    lead = printed.lead.removeprefix("−")
    return replace(
        printed, lead=way.format(amount=lead) if way else lead, other=printed.other.removeprefix("−"), way=way
    )


def _second(value: Quantity, kind: Kind | None, rule: Rule, err: Err) -> str:
    """The other system's form of an area, volume, weight or rim speed."""
    inch, metric = PRINT_UNITS[kind] if kind else ((), ())
    return exact(value, "mm" if rule.lead == "in" else "in", err=err) if inch is not metric else ""


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
    if kind is None:
        return decimal(base, UNNAMED_PLACES + more, err)
    inch, metric = PRINT_UNITS[kind]
    units = metric if lead == "mm" else inch
    # Divided first where the product would leave the range of a float; a refusal must be able to say any number.
    numbers = [
        (unit, base * unit.times / unit.per if abs(base) < 1e300 else base / unit.per * unit.times) for unit in units
    ]
    unit, number = next((pair for pair in numbers if abs(pair[1]) < pair[0].below), numbers[-1])
    if kind is Kind.LENGTH and abs(number) < _MARKED:
        mark = _in_unit(number, unit, err)
        fraction = unit.marks and not unit.marks % mark.denominator
        return (shop_fraction(mark) if fraction else decimal(float(mark), unit.places)) + unit.unit
    return _number(number, unit, err, more) + unit.unit


_MARKED = 1e12
"""No rule is as long as what a hostile file may say, and so large a float has no marks to be on."""


def _in_unit(number: float, unit: PrintUnit, err: Err) -> Fraction:
    """A length in a unit: on one of its marks where it is, else to its decimals."""
    if unit.marks:
        marks = round(number * unit.marks)
        if abs(marks / unit.marks - number) < SAME:
            return Fraction(marks, unit.marks)
    return to_mark(number, Fraction(1, 10**unit.places), err)


def _number(number: float, unit: PrintUnit, err: Err, more: int) -> str:
    """A number to the places of its unit, without the unit."""
    if unit.digits:
        if number == round(number):
            return decimal(number, 0)
        return decimal(number, max(0, unit.digits - 1 - math.floor(math.log10(abs(number)))) + more, err)
    return (_some if unit.amount else decimal)(number, unit.places + more, err)
