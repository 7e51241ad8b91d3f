"""Reading a quantity as it is written in a shop: `2 1/4 in`, `2¼ in`, `60 mm`.

This module owns the small grammar of numbers with units. Every other form is
refused with a hint, because guessing at a dimension spoils wood. Fractions are
kept exact until the value becomes a quantity.
"""

from __future__ import annotations

import re
from fractions import Fraction

from handouts_build.quantities.registry import UNITS, Quantity, quantity

__all__ = ["MEASURE", "NUMBER", "QuantityFault", "read_number", "read_quantity"]

LONGEST = 40
"""Characters a number with its unit may have."""

VULGAR = {
    "½": (1, 2), "⅓": (1, 3), "⅔": (2, 3), "¼": (1, 4), "¾": (3, 4), "⅛": (1, 8),
    "⅜": (3, 8), "⅝": (5, 8), "⅞": (7, 8),
}  # fmt: skip
_V = "".join(VULGAR)

_D = "[0-9]+"
NUMBER = rf"(?:{_D}[ \u00a0]{_D}/{_D}|{_D}/{_D}|{_D}[ \u00a0]?[{_V}]|[{_V}]|{_D}\.{_D}|\.{_D}|{_D})"
"""Regular expression of a number: whole, decimal, fraction or mixed."""

_UNIT = "|".join(re.escape(unit) for unit in sorted(UNITS, key=len, reverse=True))
MEASURE = rf"{NUMBER}[ \u00a0]?(?:{_UNIT})(?![A-Za-z_(])"
"""Regular expression of a number with its unit."""

_WHOLE = re.compile(rf"({NUMBER})[ \u00a0]?({_UNIT})?")
_HYPHENED = re.compile(rf"({_D})-({_D}/{_D})(?![0-9])")


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
        raise QuantityFault(f"'{text}' divides by nought", "the lower number of a fraction is 2, 4, 8, 16 …") from None


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
        raise QuantityFault(
            f"this number is {len(written):,} characters long; at most {LONGEST} are read",
            "round it: a millionth of an inch is finer than wood holds",
        )
    negative = written.startswith(("-", "−"))
    body = _HYPHENED.sub(r"\1 \2", written[1:].lstrip() if negative else written)
    found = _WHOLE.fullmatch(body)
    if found is None:
        raise QuantityFault(f"'{written}' is not a number with a unit", _advice(body))
    number, unit = found.groups()
    value = read_number(number)
    return quantity(-value if negative else value, unit or "")


def _advice(body: str) -> str:
    """The likeliest right form of text that could not be read."""
    if re.fullmatch(rf"{_D},{_D}[ ]?({_UNIT})?", body):
        return f"write the decimal with a point: {body.replace(',', '.')}"
    if re.search(r"[0-9][^x×]*[ ]?[x×][ ]?[0-9]", body):
        return "one number is due here, not two; a formula multiplies with *, such as 2 * 3 in"
    number = re.match(NUMBER, body)
    if number:
        word = body[number.end() :].strip().lower().rstrip(".s")
        spelt = {"inch": "in", "inche": "in", "millimetre": "mm", "millimeter": "mm", "degree": "deg",
                 "minute": "min", "min": "min", "deg": "deg",
                 "centimetre": "cm", "centimeter": "cm", "mm": "mm", "in": "in"}  # fmt: skip
        if word in spelt:
            return f"write {number.group()} {spelt[word]}"
    return "write it as 2 1/4 in, 2.25 in, 3/8 in, 57 mm, 22.5 deg, 4 min or 1200 rpm"
