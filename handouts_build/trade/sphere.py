"""A ball from a cylinder, by flats that touch it: 8, then 16, then 32.

This module owns the marks for each stage and what each stage leaves standing. It
leaves holding the blank to `fit` and dividing it around to `divisions`.

In a section along the axis the cylinder, as long as it is wide, is a square about
the ball's circle. Cutting its corners gives a regular octagon about the same
circle; cutting those gives 16 sides, then 32. A regular polygon of n sides about a
circle of diameter D has the side s = D tan(180°/n) and its corners at the radius
(D/2) / cos(180°/n).

The quarter mark: a flat cut through points a from a corner, on both of its sides,
lies a sin(180°/n) inside that corner, because the flat stands square to the line
from the center to the corner. With a = s/4 it clears the ball by
(D/2) / cos(180°/n) - (s/4) sin(180°/n) - D/2, which is more than nought: the ball
is never cut into.
"""

from __future__ import annotations

from handouts_build.quantities import Err, Kind
from handouts_build.trade.demands import more_than_nought
from handouts_build.trade.law import Chapter, ChapterInput, Demand, Law

__all__ = ["SPHERE"]

setback = Law(
    "setback", "c", "diameter * (2 - sqrt(2)) / 2",
    "How far in from each end of the ball's length, on the cylinder, the corner cut begins", "octagon", Err.UNDER,
)  # fmt: skip
side = Law(
    "side", "s8", "diameter * (sqrt(2) - 1)",
    "Width of the band left untouched in the middle, and diameter of the circle on the end grain", "octagon", Err.OVER,
)  # fmt: skip
corner_8 = Law(
    "corner_8", "r8", "diameter / (2 * cos(22.5 deg))",
    "Radius of the circle through the corners of the 8 flats", "regular-polygon", main=False,
)  # fmt: skip
proud_8 = Law(
    "proud_8", "h8", "corner_8 - diameter / 2",
    "How far the corners stand above the ball after 8 flats", "regular-polygon", fine=True, main=False,
)  # fmt: skip
side_16 = Law(
    "side_16", "s16", "diameter * tan(11.25 deg)",
    "Width of each of 16 flats", "regular-polygon", Err.OVER, main=False,
)  # fmt: skip
mark_16 = Law(
    "mark_16", "a16", "(side - side_16) / 2",
    "Exact mark from each corner of the 8 flats, for 16", "regular-polygon", Err.UNDER, main=False,
)  # fmt: skip
quarter_16 = Law(
    "quarter_16", "q16", "side / 4",
    "Mark from each corner of the 8 flats, for 16: halve the flat and halve again", "quarter-mark", Err.UNDER,
)  # fmt: skip
quarter_left_16 = Law(
    "quarter_left_16", "e16", "corner_8 - quarter_16 * sin(22.5 deg) - diameter / 2",
    "How much wood the quarter marks leave over the ball at the new flats", "quarter-mark", fine=True, main=False,
    left=True,
)  # fmt: skip
mark_left_16 = Law(
    "mark_left_16", "e16'", "corner_8 - round_down(quarter_16, rule) * sin(22.5 deg) - diameter / 2",
    "How much wood they leave over the ball, set to the mark of a rule that lies below", "quarter-mark",
    Err.OVER, fine=True, main=False, left=True,
)  # fmt: skip
corner_16 = Law(
    "corner_16", "r16", "diameter / (2 * cos(11.25 deg))",
    "Radius of the circle through the corners of 16 flats", "regular-polygon", main=False,
)  # fmt: skip
proud_16 = Law(
    "proud_16", "h16", "corner_16 - diameter / 2",
    "How far the corners stand above the ball after 16 flats", "regular-polygon", fine=True, main=False,
)  # fmt: skip
side_32 = Law(
    "side_32", "s32", "diameter * tan(5.625 deg)",
    "Width of each of 32 flats", "regular-polygon", Err.OVER, main=False,
)  # fmt: skip
mark_32 = Law(
    "mark_32", "a32", "(side_16 - side_32) / 2",
    "Exact mark from each corner of 16 flats, for 32", "regular-polygon", Err.UNDER, main=False,
)  # fmt: skip
quarter_32 = Law(
    "quarter_32", "q32", "side_16 / 4",
    "Mark from each corner of 16 flats, for 32: halve the flat and halve again", "quarter-mark", Err.UNDER,
)  # fmt: skip
quarter_left_32 = Law(
    "quarter_left_32", "e32", "corner_16 - quarter_32 * sin(11.25 deg) - diameter / 2",
    "How much wood the quarter marks leave over the ball, from 16 exact flats", "quarter-mark", fine=True, main=False,
    left=True,
)  # fmt: skip
mark_left_32 = Law(
    "mark_left_32", "e32'", "corner_16 - round_down(quarter_32, rule) * sin(11.25 deg) - diameter / 2",
    "How much wood they leave over the ball, set to the mark of a rule that lies below", "quarter-mark",
    Err.OVER, fine=True, main=False, left=True,
)  # fmt: skip
proud_32 = Law(
    "proud_32", "h32", "diameter / (2 * cos(5.625 deg)) - diameter / 2",
    "How far the corners stand above the ball after 32 flats", "regular-polygon", fine=True, main=False,
)  # fmt: skip
thumb_setback = Law(
    "thumb_setback", "c'", "0.293 * diameter",
    "Setback by the rule of thumb", "octagon-thumb", Err.UNDER, main=False,
)  # fmt: skip
thumb_setback_error = Law(
    "thumb_setback_error", "Δc", "thumb_setback - setback",
    "How much more the rule of thumb sets back than it should", "octagon-thumb", fine=True, main=False,
)  # fmt: skip
thumb_side = Law(
    "thumb_side", "s8'", "0.414 * diameter",
    "Width of the band by the rule of thumb", "octagon-thumb", Err.OVER, main=False,
)  # fmt: skip
thumb_side_error = Law(
    "thumb_side_error", "Δs8", "thumb_side - side",
    "How much wider the rule of thumb makes the band than it should be", "octagon-thumb", fine=True, main=False,
)  # fmt: skip
blank_long = Law(
    "blank_long", "L", "diameter + tenon_long + parting",
    "Shortest length of the blank: ball, tenon and parting", "blank-sum", Err.OVER,
)  # fmt: skip
blank_diameter = Law(
    "blank_diameter", "B", "diameter",
    "Smallest diameter of the cylinder", "blank-sum", Err.OVER,
)  # fmt: skip

SPHERE = Chapter(
    name="sphere by facets",
    about="Marks that make a ball from a cylinder by 8, 16 and 32 flats, and what each round of flats leaves standing.",
    givens=(
        ChapterInput("diameter", "D", Kind.LENGTH, "Diameter of the ball"),
        ChapterInput("tenon", "t", Kind.LENGTH, "Diameter of a chucking tenon kept at one end", optional=True),
        ChapterInput("tenon_long", "u", Kind.LENGTH, "Length of that tenon", optional=True, default="0 in"),
        ChapterInput("parting", "p", Kind.LENGTH, "Length allowed for parting off", optional=True, default="0 in"),
    ),
    laws=(
        setback,
        side,
        corner_8,
        proud_8,
        side_16,
        mark_16,
        quarter_16,
        quarter_left_16,
        mark_left_16,
        corner_16,
        proud_16,
        side_32,
        mark_32,
        quarter_32,
        quarter_left_32,
        mark_left_32,
        proud_32,
        thumb_setback,
        thumb_setback_error,
        thumb_side,
        thumb_side_error,
        blank_long,
        blank_diameter,
    ),
    demands=(
        more_than_nought("diameter", "the ball's diameter"),
        more_than_nought("tenon", "the tenon's diameter"),
        Demand(
            "tenon_long >= 0 in",
            "problem",
            "the tenon is {tenon_long} long",
            "a length must be 0 or more",
            "tenon_long",
        ),
        Demand(
            "parting >= 0 in",
            "problem",
            "the parting allowance is {parting}",
            "a length must be 0 or more",
            "parting",
        ),
        Demand(
            "tenon <= side",
            "stop",
            "a tenon {tenon} across does not fit in the end circle of {side}: the corner flat cuts into it",
            "make the tenon {side} across or less, or keep it on a longer blank beyond the ball",
            "tenon",
        ),
        Demand(
            "tenon + tenon_long > tenon",
            "mind",
            "the tenon has no length, so the blank has no wood for it",
            "give tenon long",
            "tenon_long",
        ),
    ),
)
