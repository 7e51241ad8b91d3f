"""Where wood between cuts is thin: by the blank's size, the wood, and how its grain lies.

This module owns the limit and the words that say how it came about. The rule is

    limit = d/16, from 1/32 in to 1/8 in, × 0.55/G, from 0.8 to 1.5, × 1.25 across the grain

for a blank from which a round of the diameter d can be turned, and a wood of the specific
gravity G at 12 percent moisture, as the Wood Handbook's tables have it: light wood is
weak wood. Where the grain lies across the axis or around it, some of every thin wall is
short grain. Each of these numbers is common practice, no published source; G alone is published.
"""

from __future__ import annotations

from dataclasses import dataclass

from handouts_build import workpiece as kernel
from handouts_build.compute.blanks import round_mm
from handouts_build.language import in_a_row, tr, tr_later
from handouts_build.quantities import decimal
from handouts_build.sheet import Part
from handouts_build.tables.woods import lookup_wood

__all__ = ["ThinWood", "thin_wood"]

_INCH = 25.4
_SHARE = 1 / 16
"""Of the largest round in the blank: common practice, no published source. So are all numbers below."""
_LEAST_MM, _MOST_MM = _INCH / 32, _INCH / 8
"""However small or large the blank."""
_USUAL = 0.55
"""Specific gravity of a wood that the plain share suits, such as black walnut."""
_STRONGEST, _WEAKEST = 0.8, 1.5
"""However heavy or light the wood."""
_UNKNOWN = 0.5
"""Specific gravity that is taken where none is published: rather light."""
_SAME = 0.05
"""A wood whose share is nearer to the plain one than this is not told of."""
_SHORT_GRAIN = 1.25
"""Where the grain does not run along the axis."""
_OF_THE_BLANK = {
    _MOST_MM: tr_later("1/16 of the blank (1/8 in, 3.2 mm, at most)"),
    _LEAST_MM: tr_later("1/16 of the blank (1/32 in, 0.8 mm, at least)"),
}
_OF_THE_GRAIN = {
    "across the axis": tr_later("times {share} for grain across the axis"),
    "around the axis": tr_later("times {share} for grain around the axis"),
}
"""How the limit came about, by the bound of the size, and by how the grain lies."""


@dataclass(frozen=True)
class ThinWood:
    """The limit for one part."""

    limits: kernel.Limits
    why: str
    """How it came about, to follow `is thin here: `."""


def thin_wood(part: Part) -> ThinWood:
    """Where wood between cuts is thin in a part."""
    size = min(max(round_mm(part.blank) * _SHARE, _LEAST_MM), _MOST_MM)
    wood = lookup_wood(part.wood)
    known = (wood.sg_12 or wood.sg_basic) if wood is not None else None
    gravity = known.value if known is not None else _UNKNOWN
    by_wood = min(max(_USUAL / gravity, _STRONGEST), _WEAKEST)
    by_grain = 1.0 if part.grain == "along the axis" else _SHORT_GRAIN
    said = [tr(_OF_THE_BLANK[size]) if size in _OF_THE_BLANK else tr("1/16 of the blank")]
    if abs(by_wood - 1) >= _SAME:
        share = decimal(by_wood, 2)
        said.append(
            tr("times {share} for the wood (specific gravity {gravity})", share=share, gravity=decimal(gravity, 2))
            if known is not None
            else tr("times {share} for the wood (no published weight: taken as light)", share=share)
        )
    if by_grain != 1.0:
        said.append(tr(_OF_THE_GRAIN[part.grain], share=decimal(by_grain, 2)))
    return ThinWood(kernel.Limits(web_mm=size * by_wood * by_grain), in_a_row(said))
