"""Holes drilled toward the axis: where they meet, and what stands between them.

This module owns radial holes of one size, equally spaced around a diameter. It
leaves laying them out to `divisions` and grooves cut across them to `groove`.

Web: at the radius r the edge of a hole of diameter d lies arcsin(d / 2r) around
from the hole's center, and the next center lies 2 x 180°/n around. So the wood
between the two edges subtends 2 (180°/n - arcsin(d / 2r)), a chord of
2 r sin(180°/n - arcsin(d / 2r)). It is nought where d / 2r = sin(180°/n), that is
at r = d / (2 sin(180°/n)): the radius at which the holes break into each other.
"""

from __future__ import annotations

from handouts_build.quantities import Err, Kind
from handouts_build.trade.demands import more_than_nought, thin, whole
from handouts_build.trade.law import Chapter, ChapterInput, Demand, Law

__all__ = ["CROSS_HOLES"]

break_in = Law(
    "break_in", "r_b", "bit / (2 * sin(180 deg / holes))",
    "Distance from the axis at which neighboring holes break into each other", "radial-holes", Err.OVER, main=False,
)  # fmt: skip
pitch = Law(
    "pitch", "c", "diameter * sin(180 deg / holes)",
    "Straight distance from hole to hole at the surface", "chord-table", main=False,
)  # fmt: skip
# min(1, …): a bit wider than the circle it meets leaves no web; the web then comes out below nought.
web_surface = Law(
    "web_surface", "w_s", "diameter * sin(180 deg / holes - asin(min(1, bit / diameter)))",
    "Wood between neighboring holes at the surface", "radial-holes", Err.UNDER, main=False, left=True,
)  # fmt: skip
web_bore = Law(
    "web_bore", "w_b", "bore * sin(180 deg / holes - asin(min(1, bit / bore)))",
    "Wood between neighboring holes at the wall of the bore", "radial-holes", Err.UNDER, left=True,
)  # fmt: skip
depth_to_bore = Law(
    "depth_to_bore", "z_b", "(from_diameter - bore) / 2",
    "Depth at which a hole reaches the bore", "radial-holes", Err.UNDER, main=False,
)  # fmt: skip
depth_to_stop = Law(
    "depth_to_stop", "z", "depth_to_bore - stop_short",
    "Depth to drill, stopping short of the bore", "radial-holes", Err.UNDER,
)  # fmt: skip
clearance = Law(
    "clearance", "k", "pitch - bit / 2 - center / 2",
    "Room between a drive center pressed on one hole and the edge of the next hole", "radial-holes",
    Err.UNDER, main=False, left=True,
)  # fmt: skip

CROSS_HOLES = Chapter(
    name="cross holes",
    about="Holes drilled around a part toward its axis: where they meet, the webs between them, how deep to drill.",
    givens=(
        ChapterInput("holes", "n", Kind.NUMBER, "Number of holes, equally spaced"),
        ChapterInput("bit", "d", Kind.LENGTH, "Diameter of the bit", exact=True),
        ChapterInput("diameter", "D", Kind.LENGTH, "Diameter of the part at the holes"),
        ChapterInput("bore", "b", Kind.LENGTH, "Diameter of the hole along the axis", optional=True),
        ChapterInput("stop_short", "t", Kind.LENGTH, "Wood to leave between the holes and the bore", optional=True),
        ChapterInput("center", "k_d", Kind.LENGTH, "Diameter of the drive center pressed on a hole", optional=True),
        ChapterInput(
            "from_diameter",
            "D_f",
            Kind.LENGTH,
            "Diameter of the surface the drilling starts from, such as a groove's floor",
            optional=True,
            default="diameter",
        ),
    ),
    laws=(break_in, pitch, web_surface, web_bore, depth_to_bore, depth_to_stop, clearance),
    demands=(
        *whole("holes", least=2),
        more_than_nought("bit", "the bit's diameter"),
        more_than_nought("diameter", "the diameter"),
        more_than_nought("bore", "the bore"),
        more_than_nought("from_diameter", "the diameter the drilling starts from"),
        more_than_nought("center", "the drive center's diameter"),
        Demand(
            "stop_short >= 0 in",
            "problem",
            "stop short is {stop_short}",
            "a length must be 0 or more",
            "stop_short",
        ),
        Demand(
            "bore < diameter",
            "problem",
            "the bore of {bore} is as wide as the part, {diameter}",
            "make the bore smaller or the part larger",
            "bore",
        ),
        Demand(
            "bore < from_diameter",
            "problem",
            "the bore of {bore} is as wide as the surface drilled from, {from_diameter}",
            "make the bore smaller, or drill from a larger diameter",
            "bore",
        ),
        Demand(
            "bit < pitch",
            "problem",
            "{holes} holes of {bit} do not fit around {diameter}: they stand only {pitch} apart",
            "use a smaller bit, fewer holes, or a larger diameter",
            "bit",
        ),
        Demand(
            "break_in <= bore / 2",
            "stop",
            "the holes break into each other {break_in} from the axis, outside the bore's wall",
            "use a smaller bit, fewer holes or a larger bore, or stop the holes before they meet",
            "bit",
            unless="stop_short",
        ),
        Demand(
            "break_in <= bore / 2 + stop_short",
            "stop",
            "the holes break into each other {break_in} from the axis, before they stop {stop_short} short of the bore",
            "use a smaller bit or fewer holes, or stop the holes shorter",
            "bit",
        ),
        thin(
            "web_bore",
            limit=16,
            left="only {web_bore} of wood stands between the holes at the bore's wall",
            remedy="use a smaller bit or fewer holes, or drill before boring so that the wood is backed",
        ),
        Demand(
            "depth_to_stop > 0 in",
            "problem",
            "stopping {stop_short} short of the bore leaves no hole: the bore is only {depth_to_bore} deep in the wood",
            "stop less short, or make the bore smaller",
            "stop_short",
        ),
        Demand(
            "clearance >= 0 in",
            "mind",
            "a drive center {center} across, pressed on one hole, reaches over the edge of the next",
            "use a smaller drive center, or mount on the holes before drilling their neighbors",
            "center",
        ),
    ),
)
