"""Reading a quantity as it is written in a shop: `2 1/4 in`, `2¼ in`, `60 mm`.

This module owns the small grammar of numbers with units. Every other form is
refused with a hint, because guessing at a dimension spoils wood. Fractions are
kept exact until the value becomes a quantity.
"""

from __future__ import annotations

import re
from fractions import Fraction

from handouts_build.quantities.refusals import LONGEST, REFUSALS
from handouts_build.quantities.registry import UNITS, Kind, Quantity, kind_of, quantity

__all__ = [
    "GRAMMAR", "MEASURE", "NUMBER", "SPELT", "VULGAR", "QuantityFault", "read_number", "read_quantity",
    "right_form",
    "right_length",
    "written_pattern",
]  # fmt: skip

VULGAR = {
    "½": (1, 2), "⅓": (1, 3), "⅔": (2, 3), "¼": (1, 4), "¾": (3, 4), "⅛": (1, 8),
    "⅜": (3, 8), "⅝": (5, 8), "⅞": (7, 8),
}  # fmt: skip
"""Fractions that are one sign: the number above and the number below."""

SPELT = {
    "inch": "in", "inche": "in", "millimetre": "mm", "millimeter": "mm", "degree": "deg", "minute": "min",
    "min": "min", "deg": "deg", "centimetre": "cm", "centimeter": "cm", "mm": "mm", "in": "in",
}  # fmt: skip
"""Units spelt in another way, without the ending of their plural, and how they are written here."""

_V = "".join(VULGAR)

_D = "[0-9]+"
NUMBER = rf"(?:{_D}[ \u00a0]{_D}/{_D}|{_D}/{_D}|{_D}[ \u00a0]?[{_V}]|[{_V}]|{_D}\.{_D}|\.{_D}|{_D})"
"""Regular expression of a number: whole, decimal, fraction or mixed."""

_UNIT = "|".join(re.escape(unit) for unit in sorted(UNITS, key=len, reverse=True))
MEASURE = rf"{NUMBER}[ \u00a0]?(?:{_UNIT})(?![A-Za-z_(])"
"""Regular expression of a number with its unit."""

GRAMMAR = {
    "whole": rf"^({NUMBER})[ \u00a0]?({_UNIT})?$",
    "hyphened": rf"({_D})-({_D}/{_D})(?![0-9])",
    "comma": rf"^{_D},{_D}[ ]?({_UNIT})?$",
    "two": r"[0-9][^x×]*[ ]?[x×][ ]?[0-9]",
    "number": rf"^{NUMBER}",
    "fraction": rf"[/{_V}]",
}
"""The regular expressions that a text is read by; they mean the same in the page's script."""

_WHOLE, _HYPHENED, _COMMA, _TWO, _BEGINNING = (
    re.compile(GRAMMAR[name]) for name in ("whole", "hyphened", "comma", "two", "number")
)


class QuantityFault(ValueError):
    """Text that is not a quantity.

    Attributes:
        message: What is wrong, in the author's words.
        hint: What would be right.
    """

    def __init__(self, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint


def written_pattern(kind: Kind | None = None) -> str:
    """The regular expression of all that `read_quantity` reads, for an editor that checks a text without reading it.

    Args:
        kind: What it measures: its unit must stand there then. None for any unit, or none.
    """
    units = [unit for unit in sorted(UNITS, key=len, reverse=True) if kind in (None, kind_of(quantity(1, unit)))]
    said = "|".join(map(re.escape, units))
    return rf"^\s*[-−]?\s*(?:{_D}-{_D}/{_D}|{NUMBER})[ \u00a0]?(?:{said}){'?' if kind is None else ''}\s*$"


def read_number(text: str) -> Fraction:
    """The exact value of a number that matches `NUMBER`.

    Raises:
        QuantityFault: If a fraction is over nought.
    """
    text = text.replace("\u00a0", " ").strip()
    if text and text[-1] in VULGAR:
        over, under = VULGAR[text[-1]]
        whole = text[:-1].strip()
        return Fraction(int(whole or 0)) + Fraction(over, under)
    whole, _, part = text.rpartition(" ")
    try:
        return Fraction(int(whole) if whole else 0) + Fraction(part)
    except ZeroDivisionError:
        raise QuantityFault(*REFUSALS["divided"].filled(text=text)) from None


def read_quantity(text: str) -> Quantity:
    """A quantity from its written form, such as `2 1/4 in`, `3/8"`, `57.5 mm`, `22.5 deg` or `6`.

    Args:
        text: What the author wrote; a minus sign may stand before it.

    Returns:
        The quantity in base units; a plain number when no unit is written.

    Raises:
        QuantityFault: If it is anything else; the hint says what would be right.
    """
    written = text.strip()
    if len(written) > LONGEST:
        raise QuantityFault(*REFUSALS["characters"].filled(long=f"{len(written):,}"))
    negative = written.startswith(("-", "−"))
    body = _HYPHENED.sub(r"\1 \2", written[1:].lstrip() if negative else written)
    found = _WHOLE.fullmatch(body)
    if found is None:
        refusal, right = _likeliest(body)
        raise QuantityFault(*REFUSALS[refusal].filled(text=written, right=right))
    number, unit = found.groups()
    value = read_number(number)
    return quantity(-value if negative else value, unit or "")


def _likeliest(body: str) -> tuple[str, str]:
    """Why text could not be read, and its likeliest right form where there is one."""
    if _COMMA.fullmatch(body):
        return "comma", body.replace(",", ".")
    if _TWO.search(body):
        return "two", ""
    number = _BEGINNING.match(body)
    if number:
        word = body[number.end() :].strip().lower().rstrip(".s")
        if word in SPELT:
            return "spelt", f"{number.group()} {SPELT[word]}"
    return "unread", ""


_EITHER = re.compile("write (.+ in) or (.+ mm)")


def right_length(hint: str, unit: str) -> str:
    """The length that the hint of a refusal says is right in one of two units; empty if it says none.

    Args:
        hint: As `REFUSALS` says it of a number that lacks its unit.
        unit: Which of the two, `in` or `mm`; empty where nobody knows.
    """
    found = _EITHER.fullmatch(hint)
    return found[("in", "mm").index(unit) + 1] if found and unit else ""


_RIGHT = [
    (re.compile(re.escape(REFUSALS[name].hint).replace(rf"\{{{put}\}}", "(.+)", 1).replace(r"\{number\}", ".+")), unit)
    for name, put, unit in (("comma", "right", ""), ("spelt", "right", ""), ("fraction", "text", " in"))
]
"""The hints that name the one form that would be right, and the unit that the hint says beside it."""


def right_form(hint: str) -> str:
    """The written quantity that the hint of a refusal says is right; empty where it leaves that to the author.

    Args:
        hint: As `REFUSALS` says it.
    """
    for pattern, unit in _RIGHT:
        found = pattern.fullmatch(hint)
        if found and _WHOLE.fullmatch(right := f"{found[1]}{unit}"):
            return right
    return ""
