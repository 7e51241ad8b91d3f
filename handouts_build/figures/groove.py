"""Drawings of grooves across a ball: across its own axis, and in the plane of one groove.

This module owns what the two show and say. It leaves the numbers to the sheet.
"""

from __future__ import annotations

import math

from handouts_build.figures.canvas import Canvas, around
from handouts_build.figures.dimensioning import Callout, angle_between, arrows_between
from handouts_build.figures.drawing import Numbers, Scale, finished, noted
from handouts_build.figures.figure import Figure
from handouts_build.figures.labels import DISC_MM, hugging, label
from handouts_build.figures.slots import TOWARD, Slots, polar
from handouts_build.figures.style import CENTER, DIMENSION, EDGE, HIDDEN, OUTLINE, PHANTOM, Pen, Role
from handouts_build.language import tr
from handouts_build.sheet import Group

__all__ = ["equator", "plane"]

_LEFT = Pen(0.9, Role.ACCENT)
"""For the wood that is left."""

_CLEAR_MM = 3.6
"""Between the ball and its labels."""


def equator(group: Group) -> Figure:
    """The section in the plane of the equator: grooves, ribs and the bore."""
    known = Numbers(group)
    scale = Scale.fitting((known.mm("diameter"), DISC_MM))
    floor = known.mm("floor") * scale
    slots = Slots(
        count=known.whole("ribs"),
        half=known.mm("wide") / 2 * scale,
        radius=known.mm("diameter") / 2 * scale,
        bore=known.mm("bore") / 2 * scale if "bore" in known else 0.0,
        bottom=floor,
        rim=PHANTOM,
    )
    radius = slots.radius
    canvas = Canvas(f"{group.name}-equator")
    slots.draw(canvas)
    canvas.circle((0, 0), floor, HIDDEN)
    slots.center_mark(canvas)

    reach = radius + _CLEAR_MM
    alt = [
        tr(
            "A section through the equator: {count} half-grooves {wide} wide and {deep} deep in a "
            "ball {diameter} across leave {count} ribs.",
            count=slots.count,
            wide=known["wide"],
            deep=known["deep"],
            diameter=known["diameter"],
        ),
        tr("The floors touch a dashed circle {floor_diameter} across.", floor_diameter=known["floor_diameter"]),
    ]
    low = slots.web_near(205.0)
    left = [
        Callout(
            polar(low + slots.step * 0.12, radius), label(known["diameter"], tr("ball"), before="Ø"), "arrow", -radius
        ),
        Callout(
            polar(slots.slot_near(175.0) + 4, floor),
            label(known["floor_diameter"], tr("floor"), before="Ø"),
            "arrow",
            -radius * 0.1,
        ),
    ]
    mouth = slots.across_slot(canvas, slots.slot_near(120.0), 2.6)
    left.append(Callout(mouth, label(known["wide"], tr("groove wide")), "none", reach))
    right: list[Callout] = []
    if known.more_than_nought("rib_surface"):
        middle = slots.across_web(canvas, TOWARD, radius, _LEFT)
        right.append(Callout(middle, label(known["rib_surface"], tr("rib at the\nsurface")), "none", radius * 0.55))
        alt.append(tr("On the equator a rib is {rib_surface} thick at the surface.", rib_surface=known["rib_surface"]))
    if known.more_than_nought("rib_floor"):
        web = slots.web_near(-34.0)
        # Between the corners: a floor is flat across, and its corners lie outside its circle.
        middle = slots.across_web(canvas, web, math.hypot(floor, slots.half), _LEFT)
        right.append(Callout(middle, label(known["rib_floor"], tr("rib at the\nfloor")), "none", -reach * 0.95))
        alt.append(tr("It is {rib_floor} thick between the corners of two floors.", rib_floor=known["rib_floor"]))
    place = slots.slot_near(66.0)
    arrows_between(canvas, polar(place, floor), polar(place, radius))
    right.append(Callout(polar(place, (floor + radius) / 2), label(known["deep"], tr("groove deep")), "none", reach))
    if "bore" in known:
        left.append(
            Callout(polar(205.0, slots.bore), label(known["bore"], tr("bore"), before="Ø"), "arrow", -radius * 0.5)
        )
        alt.append(tr("The bore along the axis is {bore} across.", bore=known["bore"]))
    if known.more_than_nought("web"):
        place = slots.slot_near(-4.0)
        arrows_between(canvas, polar(place, slots.bore), polar(place, floor), pen=_LEFT)
        middle = polar(place, (slots.bore + floor) / 2)
        right.append(Callout(middle, label(known["web"], tr("wood over\nthe bore")), "none", 0.0))
        alt.append(tr("Between a floor and the bore {web} of wood is left.", web=known["web"]))
    hugging(canvas, right, clear=reach, side="right")
    hugging(canvas, left, clear=reach, side="left")
    noted(canvas, scale=scale)
    return finished(canvas, group, "equator", tr("{title}: section through the equator", title=group.title), alt)


def plane(group: Group) -> Figure:
    """The section in the plane of one groove: its floor, the bore, and where it opens."""
    known = Numbers(group)
    scale = Scale.fitting((known.mm("diameter"), DISC_MM))
    radius, floor = known.mm("diameter") / 2 * scale, known.mm("floor") * scale
    bore = known.mm("bore") / 2 * scale if "bore" in known else 0.0
    edge = math.sqrt(max(0.0, radius**2 - (known.mm("wide") / 2 * scale) ** 2))
    canvas = Canvas(f"{group.name}-groove")
    _wall(canvas, edge=edge, floor=floor, bore=bore, half=known.mm("wide") / 2 * scale)
    cheeks = _cheeks(floor, bore)
    for cheek in cheeks:
        canvas.hatch(cheek, apart=2.2)
        canvas.line(cheek, OUTLINE, closed=True)
    canvas.circle((0, 0), radius, PHANTOM)
    canvas.line([(0, -radius - 4.0), (0, radius + 4.0)], CENTER)
    canvas.line([(-3.0, 0), (3.0, 0)], CENTER)
    canvas.circle((0, 0), 1.3, EDGE)

    reach = radius + _CLEAR_MM
    alt = [
        tr(
            "A section in the plane of one groove, the ball's own axis upright: the ball, "
            "{diameter} across, is cut down to a round floor {floor_diameter} across, {deep} "
            "deep in the middle of the groove.",
            diameter=known["diameter"],
            floor_diameter=known["floor_diameter"],
            deep=known["deep"],
        )
    ]
    left = [
        Callout(polar(145.0, radius), label(known["diameter"], tr("ball"), before="Ø"), "arrow", radius * 0.85),
        Callout(polar(205.0, floor), label(known["floor_diameter"], tr("floor"), before="Ø"), "arrow", -radius * 0.55),
        Callout(
            (-0.95, -0.95),
            tuple(tr("axis it turns on\nfor this groove").splitlines()),
            "none",
            -radius * 0.95 if not bore else -radius * 1.0,
        ),
    ]
    right: list[Callout] = []
    # Both depths are shown where the floor is wood, below the latitude at which it opens.
    wood = known.degrees("opening_latitude") if bore and "opening_latitude" in known else 90.0
    for name, words, outer, angle, wish in (
        ("deep", tr("deep, in\nthe middle"), radius, min(20.0, wood * 0.4), -radius * 0.1),
        ("edge_depth", tr("deep, at\nthe edges"), edge, min(50.0, wood * 0.85), -radius * 0.72),
    ):
        if outer > floor and known.more_than_nought(name) and wood > 12.0:
            arrows_between(
                canvas, polar(-angle, floor), polar(-angle, outer), pen=_LEFT if name == "deep" else DIMENSION
            )
            right.append(Callout(polar(-angle, (floor + outer) / 2), label(known[name], words), "none", wish))
    if known.more_than_nought("edge_depth"):
        alt.append(
            tr("At its edges, where it is measured, the groove is {edge_depth} deep.", edge_depth=known["edge_depth"])
        )
    if bore:
        left.append(
            Callout((-bore, floor * 0.25), label(known["bore"], tr("bore"), before="Ø"), "arrow", radius * 0.15)
        )
        alt.append(tr("The bore along the axis is {bore} across.", bore=known["bore"]))
    if bore and bore < floor and "opening_latitude" in known:
        latitude = known.degrees("opening_latitude")
        for angle in (0.0, latitude):
            canvas.line(
                [
                    polar(angle, max(bore / math.cos(math.radians(angle)), 3.0) if angle else 3.0),
                    polar(angle, radius + 3.0),
                ],
                HIDDEN,
            )
        angle_between(canvas, (0, 0), radius + 3.2, 0.0, latitude)
        target = polar(latitude * 0.5, radius + 3.2)
        right.append(
            Callout(
                target,
                tuple(
                    tr("opens into\nthe bore\nabove {latitude}", latitude=known["opening_latitude"].lead).splitlines()
                ),
                "none",
                radius * 0.75,
            )
        )
        alt.append(
            tr(
                "Above a latitude of {opening_latitude} the groove opens into the bore.",
                opening_latitude=known["opening_latitude"].lead,
            )
        )
    hugging(canvas, right, clear=reach, side="right")
    hugging(canvas, left, clear=reach, side="left")
    noted(canvas, scale=scale)
    return finished(canvas, group, "groove", tr("{title}: section along a groove", title=group.title), alt)


def _wall(canvas: Canvas, *, edge: float, floor: float, bore: float, half: float) -> None:
    """The groove's far wall, seen beyond the cut, from its floor out to its rim.

    The wall stands half the groove's width behind the cut, where the bore is narrower.

    Args:
        canvas: To draw on.
        edge: Radius of the rim, in mm of paper.
        floor: Radius of the floor.
        bore: Radius of the bore; nought when there is none.
        half: Half the groove's width.
    """
    canvas.circle((0, 0), edge, EDGE, fill=Role.WOOD)
    if not bore:
        return
    narrow = math.sqrt(max(0.0, bore**2 - half**2))
    canvas.face(_strip(floor, min(bore, floor)), fill=Role.PAPER)
    if narrow:
        canvas.face(_strip(edge + 0.4, narrow), fill=Role.PAPER)
    for top in (1, -1):
        if 0 < narrow < floor < edge:
            for side in (-1, 1):
                ends = (math.sqrt(floor**2 - narrow**2), math.sqrt(max(0.0, edge**2 - narrow**2)))
                canvas.line([(side * narrow, top * end) for end in ends], EDGE)
        if bore < floor:
            outer = math.degrees(math.acos(bore / floor))
            inner = math.degrees(math.acos(narrow / floor))
            for start, stop in ((outer, inner), (180 - inner, 180 - outer)):
                canvas.line(around((0, 0), floor, top * start, top * stop), EDGE)


def _strip(radius: float, half: float) -> list[tuple[float, float]]:
    """The part of a disc within a distance of its upright middle line."""
    angle = math.degrees(math.acos(min(1.0, half / radius)))
    return [*around((0, 0), radius, angle, 180 - angle), *around((0, 0), radius, 180 + angle, 360 - angle)]


def _cheeks(floor: float, bore: float) -> list[list[tuple[float, float]]]:
    """The wood that the plane cuts: a disc, or what the bore leaves of it on both sides."""
    if not bore:
        return [around((0, 0), floor)]
    if bore >= floor:
        return []
    latitude = math.degrees(math.acos(bore / floor))
    return [around((0, 0), floor, start - latitude, start + latitude) for start in (0.0, 180.0)]
