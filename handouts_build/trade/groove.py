"""Grooves across a ball, cut while it is held on a second axis.

This module owns a ball with its own axis (the bore) upright, remounted between
opposite holes on its equator and grooved around. Each mounting cuts one groove
through both poles, seen as two half-grooves, so n half-grooves take n/2 mountings
and leave n ribs. It leaves the drive holes to `cross_holes`.

The groove's floor is a circle of the radius f = D/2 - deep about the ball's
center. On the equator the walls of a groove w wide lie w/2 either side of a plane
through the axis, so ribs there follow the web of radial holes: at the radius r a
rib is 2 r sin(180°/n - arcsin(w / 2r)) thick, and nought at w / (2 sin(180°/n)).
The floor of a groove is flat across, f from the center, so its corners lie farther out,
at √(f² + (w/2)²); between the corners of neighboring grooves a rib is
2 f sin(180°/n) - w cos(180°/n) thick, its least.
Away from the equator the floor comes nearer the axis as f cos(latitude), and meets
a bore of diameter b at the latitude arccos((b/2) / f).
"""

from __future__ import annotations

from collections.abc import Mapping

from handouts_build.language import in_a_row, tr
from handouts_build.quantities import Err, Kind, Quantity
from handouts_build.trade.demands import more_than_nought, thin, whole
from handouts_build.trade.law import Chapter, ChapterInput, ChapterRemark, Demand, Law

__all__ = ["GROOVE"]

floor = Law(
    "floor",
    "f",
    "diameter / 2 - deep",
    "Distance of the groove's floor from the ball's center",
    "groove",
    Err.OVER,
    main=False,
)
floor_diameter = Law(
    "floor_diameter", "F", "2 * floor", "Diameter across the groove's floor", "groove", Err.OVER, main=False
)
sagitta = Law(
    "sagitta", "h", "diameter / 2 - sqrt((diameter / 2)^2 - (wide / 2)^2)",
    "How far the ball falls away over half the groove's width", "spherical-cap", fine=True, main=False,
)  # fmt: skip
edge_depth = Law(
    "edge_depth", "e", "deep - sagitta", "Depth of the groove at its edges, where it is measured", "groove", Err.UNDER
)
run_together = Law(
    "run_together", "r_b", "wide / (2 * sin(180 deg / ribs))",
    "Distance from the axis at which neighboring grooves run together", "radial-holes", Err.OVER, main=False,
)  # fmt: skip
rib_surface = Law(
    "rib_surface", "t_s", "diameter * sin(180 deg / ribs - asin(wide / diameter))",
    "Thickness of a rib at the surface, on the equator", "radial-holes", Err.UNDER, left=True,
)  # fmt: skip
rib_floor = Law(
    "rib_floor", "t_f", "floor_diameter * sin(180 deg / ribs) - wide * cos(180 deg / ribs)",
    "Thickness of a rib between the corners of the floors, on the equator: its least", "groove", Err.UNDER, left=True,
)  # fmt: skip
web = Law(
    "web",
    "w",
    "floor - bore / 2",
    "Wood between the groove's floor and the bore, on the equator",
    "groove",
    Err.UNDER,
    left=True,
)
opening_latitude = Law(
    "opening_latitude", "φ", "acos(min(1, bore / floor_diameter))",
    "Latitude above which the groove opens into the bore", "groove", main=False,
)  # fmt: skip


def _remarks(known: Mapping[str, Quantity]) -> tuple[ChapterRemark, ...]:
    """Mountings in order, how deep each time, and what the grooves meet."""
    if "ribs" not in known:
        return ()
    ribs = round(float(known["ribs"].magnitude))
    half = ribs // 2
    mountings = in_a_row(f"{hole}–{hole + half}" for hole in range(1, half + 1))
    remarks = [
        ChapterRemark(
            tr(
                "Number the holes around and mount on {mountings}: {count} mountings, one groove each.",
                mountings=mountings,
                count=half,
            ),
            "groove",
        ),
        ChapterRemark(
            tr("Take every groove to half depth before any goes to full depth, so that the ribs stay stiff."),
            "groove-order",
        ),
    ]
    # A groove lies a quarter turn around from its own pair of holes: n/4 divisions.
    if ribs % 4 == 0:
        remarks.append(
            ChapterRemark(
                tr(
                    "Each groove runs through the pair of holes a quarter turn around from its own. "
                    "Drill the holes deeper than {deep}, or those holes are gone before they are mounted on."
                ),
                "groove",
            )
        )
    else:
        remarks.append(
            ChapterRemark(tr("Each groove runs midway between two holes; the holes stay in the ribs."), "groove")
        )
    return tuple(remarks)


GROOVE = Chapter(
    name="cross-axis groove",
    about="Grooves around a ball held between opposite cross holes: floor, ribs, and the wood left over the bore.",
    givens=(
        ChapterInput(
            "ribs", "n", Kind.NUMBER, "Number of ribs, which is the number of half-grooves and of drive holes"
        ),
        ChapterInput("diameter", "D", Kind.LENGTH, "Diameter of the ball"),
        ChapterInput("wide", "g", Kind.LENGTH, "Width of a groove"),
        ChapterInput("deep", "z", Kind.LENGTH, "Depth of a groove in its middle, from the ball's surface"),
        ChapterInput("bore", "b", Kind.LENGTH, "Diameter of the hole along the ball's own axis", optional=True),
    ),
    laws=(floor, floor_diameter, sagitta, edge_depth, run_together, rib_surface, rib_floor, web, opening_latitude),
    demands=(
        *whole("ribs", least=4),
        Demand(
            "2 * round_down(ribs / 2, 1) >= ribs",
            "problem",
            "{ribs} ribs cannot be paired: a mounting needs opposite holes",
            "give an even number of ribs",
            "ribs",
        ),
        more_than_nought("diameter", "the ball's diameter"),
        more_than_nought("wide", "the groove's width"),
        more_than_nought("deep", "the groove's depth"),
        more_than_nought("bore", "the bore"),
        Demand(
            "wide < diameter",
            "problem",
            "a groove {wide} wide takes the whole ball of {diameter}",
            "make the groove narrower",
            "wide",
        ),
        Demand(
            "deep < diameter / 2",
            "problem",
            "a groove {deep} deep reaches the center of the ball of {diameter}",
            "make the groove shallower",
            "deep",
        ),
        Demand(
            "rib_floor > 0 in",
            "stop",
            "neighboring grooves run together {run_together} from the axis, outside their floor: no rib is left there",
            "make the grooves narrower or shallower, or cut fewer of them",
        ),
        thin(
            "rib_floor",
            limit=8,
            left="a rib is only {rib_floor} thick at the groove's floor",
            remedy="make the grooves narrower or shallower, or cut fewer of them",
        ),
        Demand(
            "web > 0 in",
            "stop",
            "the groove's floor cuts into the bore all around: the ball would fall into ribs",
            "make the grooves shallower or the bore smaller",
        ),
        thin(
            "web",
            limit=8,
            left="only {web} of wood is left between the groove's floor and the bore",
            remedy="make the grooves shallower or the bore smaller",
        ),
        Demand(
            "edge_depth > 0 in",
            "mind",
            "the ball falls away {sagitta} over the groove's width, as much as the groove is deep: its edges vanish",
            "make the groove narrower or deeper",
            "deep",
        ),
    ),
    remarks=_remarks,
)
