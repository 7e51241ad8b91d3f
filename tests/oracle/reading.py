"""The keys of a project file as plain numbers: mm, degrees, counts.

It reads what the pieces here are written with: literal lengths and angles, no formulas.
"""

from __future__ import annotations

import re
from typing import Any

_MM = {"mm": 1.0, "cm": 10.0, "in": 25.4}
_LENGTH = re.compile(r"(?:(?P<whole>\d+(?:\.\d+)?)(?: |$))?(?:(?P<over>\d+)/(?P<under>\d+) )?(?P<unit>mm|cm|in)")


def length(said: Any) -> float:
    """A length such as `12.5 mm` or `2 1/4 in`, mm."""
    text = str(said).strip()
    sign, text = (-1.0, text[1:]) if text.startswith("-") else (1.0, text)
    found = _LENGTH.fullmatch(text)
    if not found or not (found["whole"] or found["over"]):
        raise ValueError(f"no plain length: {said!r}")
    value = float(found["whole"] or 0)
    if found["over"]:
        value += int(found["over"]) / int(found["under"])
    return sign * value * _MM[found["unit"]]


def angle(said: Any) -> float:
    """An angle such as `30 deg`, degrees."""
    return float(str(said).removesuffix("deg"))


def maybe(keys: dict[str, Any], name: str) -> float | None:
    """A length that may be left out."""
    return length(keys[name]) if keys.get(name) is not None else None
