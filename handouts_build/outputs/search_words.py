"""Words as a search takes them: numbers as values, plurals and both spellings as one, trade names that mean the same.

This module owns how a text becomes terms. The page's search does the same to what is typed, from
the tables that stand here and that are handed over with the index.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from functools import cache, lru_cache
from typing import Any

__all__ = ["rules", "term", "terms"]

STOP = frozenset(
    re.findall(
        r"\w+",
        "a an and are as at be by for from how i in is it its of on or so that the then this to was what when which "
        "with you your",
    )
)
"""Words that tell nothing apart."""

_UNITS = {
    "mm": "mm", "millimeter": "mm", "millimetre": "mm", "cm": "cm", "in": "in", "inch": "in", "inche": "in",
    "inches": "in", "ft": "ft", "rpm": "rpm", "min": "min", "minute": "min", "minutes": "min", "deg": "deg",
    "degrees": "deg", "millimeters": "mm", "millimetres": "mm",
}  # fmt: skip
"""How a unit may be written after a number, and what it is called here."""

_ENDINGS = (
    ("([^aeiou])ies$", "$1y"), ("(s|x|z|ch|sh)es$", "$1"), ("([^su])s$", "$1"), ("([a-z]{2,}[^aeiou])our$", "$1or"),
    ("([a-z]{2,}[^aeiou])tre$", "$1ter"), ("entre$", "enter"), ("etre$", "eter"), ("ibre$", "iber"),
    ("([a-z]{3,})is(e|ing|ed)$", "$1iz$2"), ("([a-z]*[aeiouy][a-z]*)ing$", "$1"),
    ("([a-z]*[aeiouy][a-df-z]+)ed$", "$1"),
    ("ll$", "l"), ("([bdfgmnprt])\\1$", "$1"), ("([a-z]{2,})e$", "$1"),
)  # fmt: skip
"""What becomes of a word's end, one after the other; the same here and in the page, so that both meet."""

_SAME = {
    "gray": ("grey",), "mold": ("mould",), "caliper": ("calliper",), "vise": ("vice",), "aluminum": ("aluminium",),
    "license": ("licence",), "toward": ("towards",), "meter": ("metre",),
}  # fmt: skip
"""One word in two spellings that no ending tells."""

_MEANS = {
    "superglue": ("ca", "cyanoacrylate"), "cyanoacrylate": ("ca",),
    "eccentric": ("offaxis",), "multiaxis": ("offaxis",),
    "finial": ("drop", "cap"), "sandpaper": ("abrasive", "sanding"), "grit": ("abrasive",), "goggles": ("shield",),
    "visor": ("shield",), "mask": ("dust", "respirator"), "roughing": ("rough",), "chatter": ("steady",),
    "vase": ("hollow",), "dish": ("bowl",), "pen": ("fine",), "varnish": ("finish", "oil"), "lacquer": ("finish",),
    "jar": ("box",), "candle": ("candlestick",), "ornament": ("lantern", "ornament"), "toy": ("top",),
    "chisel": ("handle", "skew"), "wet": ("green",), "unseasoned": ("green",), "spindle": ("spindle",),
    "gauge": ("gauge", "caliper"), "hole": ("bore", "hole"), "drill": ("drill", "bore"), "measure": ("caliper",),
    "polish": ("finish",), "wax": ("finish",), "sphere": ("ball",), "ball": ("ball", "sphere"), "plug": ("plug",),
    "catch": ("catch", "dig"), "facet": ("octagon",), "template": ("template", "story"),
}  # fmt: skip
"""What is looked for besides a word that is typed: names of the trade for one thing; common practice, no published
source."""

_TOKEN = re.compile(
    r"(?P<whole>\d+)[ \u00a0-](?P<over>\d+)/(?P<under>[1-9]\d*)|(?P<over2>\d+)/(?P<under2>[1-9]\d*)"
    r"|(?P<plain>\d+(?:\.\d+)?)|(?P<word>[^\W\d_]+)"
)
_JOINED = re.compile(r"[^\W\d_]+-[^\W\d_]+")
_UNIT = re.compile(r"[ \u00a0-]?([a-z]+)\b|[ \u00a0]?(″|′′|\"|°)")


@lru_cache(maxsize=65_536)
def term(word: str) -> str:
    """A word without its ending.

    Args:
        word: In small letters.
    """
    made = _shorter(word)
    return _same().get(made, made)


def _shorter(word: str) -> str:
    if len(word) > 3:
        for pattern, right in _ENDINGS:
            shorter = re.sub(pattern, right.replace("$", "\\"), word)
            word = shorter if len(shorter) > 2 else word
    return word


@cache
def _same() -> dict[str, str]:
    """Words without their endings that are another's, and that other's."""
    return {_shorter(other): _shorter(known) for known, others in _SAME.items() for other in others}


def terms(text: str) -> Iterator[str]:
    """The terms of a text, in order: a number by its value, and once more with its unit.

    Args:
        text: Plain text.
    """
    apart = unicodedata.normalize("NFKD", text.lower()).replace("\u2044", "/")
    plain = "".join(sign for sign in apart if not unicodedata.combining(sign))
    for joined in _JOINED.findall(plain):
        yield term(joined.replace("-", ""))
    said = 0
    for found in _TOKEN.finditer(plain):
        if found.start() < said:
            continue
        if word := found["word"]:
            if word not in STOP:
                yield term(word)
            continue
        if found["whole"]:
            value = int(found["whole"]) + int(found["over"]) / int(found["under"])
        elif found["over2"]:
            value = int(found["over2"]) / int(found["under2"])
        else:
            value = float(found["plain"])
        number = f"{value:.4f}".rstrip("0").rstrip(".")
        yield number
        if (after := _UNIT.match(plain, found.end())) and (unit := _unit(after)):
            said = after.end()
            yield number + unit


def _unit(found: re.Match[str]) -> str:
    return ("deg" if found[2] == "°" else "in") if found[2] else _UNITS.get(found[1], "")


def rules() -> dict[str, Any]:
    """The tables, for the page's search."""
    means = {term(word): list(dict.fromkeys(map(term, others))) for word, others in _MEANS.items()}
    return {"stop": sorted(STOP), "units": _UNITS, "endings": [list(pair) for pair in _ENDINGS], "same": _same(),
            "means": means}  # fmt: skip
