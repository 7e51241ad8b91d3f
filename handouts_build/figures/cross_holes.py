"""The drawing of holes toward the axis: the webs between them, and where they break in.

This module owns what it shows and says. It leaves the numbers to the sheet.
"""

from __future__ import annotations

import math

from handouts_build.figures.canvas import Canvas
from handouts_build.figures.dimensioning import Callout, arrows_between
from handouts_build.figures.drawing import Numbers, Scale, finished, noted
from handouts_build.figures.figure import Figure
from handouts_build.figures.labels import DISC_MM, hugging, label
from handouts_build.figures.slots import TOWARD, Slots, polar
from handouts_build.figures.style import DIMENSION, HIDDEN, MARK, Pen, Role
from handouts_build.language import tr
from handouts_build.sheet import Group

__all__ = ["section"]

_WEB = Pen(0.9, Role.ACCENT)

_CLEAR_MM = 3.6
"""Between the part and its labels."""


def section(group: Group) -> Figure:
    """The section across the axis through the holes."""
    known = Numbers(group)
    scale = Scale.fitting((known.mm("diameter"), DISC_MM))
    surface = known.mm("from_diameter") / 2 * scale if "from_diameter" in known else known.mm("diameter") / 2 * scale
    stops = known.more_than_nought("depth_to_stop")
    slots = Slots(
        count=known.whole("holes"),
        half=known.mm("bit") / 2 * scale,
        radius=known.mm("diameter") / 2 * scale,
        bore=known.mm("bore") / 2 * scale if "bore" in known else 0.0,
        bottom=surface - known.mm("depth_to_stop") * scale if stops else None,
    )
    radius, count = slots.radius, slots.count
    canvas = Canvas(f"{group.name}-section")
    slots.draw(canvas)
    if abs(surface - radius) > 0.3:
        canvas.circle((0, 0), surface, HIDDEN)
    break_in = known.mm("break_in") * scale
    canvas.circle((0, 0), break_in, MARK)
    slots.center_mark(canvas)

    reach = radius + _CLEAR_MM
    alt = [
        tr(
            "A section across the axis: {count} holes of {bit} drilled toward the axis of a part "
            "{diameter} across, equally spaced, {pitch} from hole to hole at the surface.",
            count=count,
            bit=known["bit"],
            diameter=known["diameter"],
            pitch=known["pitch"],
        )
    ]
    right = [
        Callout(polar(-10.0, break_in), label(known["break_in"], tr("break in\nat radius")), "arrow", -radius * 0.12)
    ]
    place = slots.slot_near(130.0)
    mouth = slots.across_slot(canvas, place, 2.6)
    edge = polar(place + min(slots.step / 2, 24.0), radius)
    left = [
        Callout(mouth, label(known["bit"], tr("bit"), before="Ø"), "none", reach * 0.95),
        Callout(edge, label(known["diameter"], tr("part"), before="Ø"), "arrow", edge[1]),
    ]
    # Between two holes alone the web is half the part, and says nothing.
    if count > 2 and known.more_than_nought("web_surface"):
        middle = slots.across_web(canvas, TOWARD, radius, _WEB)
        right.append(Callout(middle, label(known["web_surface"], tr("web at the\nsurface")), "none", radius * 0.4))
        alt.append(
            tr(
                "Between neighboring holes {web_surface} of wood stands at the surface.",
                web_surface=known["web_surface"],
            )
        )
    if "bore" in known:
        left.append(
            Callout(polar(170.0, slots.bore), label(known["bore"], tr("bore"), before="Ø"), "arrow", -radius * 0.2)
        )
        alt.append(tr("The bore along the axis is {bore} across.", bore=known["bore"]))
    if known.more_than_nought("web_bore") and stops:
        # Nothing on the drawing shows it: the holes end before the bore.
        alt.append(
            tr(
                "Drilled on into the bore they would leave {web_bore} between them at its wall.",
                web_bore=known["web_bore"],
            )
        )
    elif known.more_than_nought("web_bore"):
        web = slots.web_near(-30.0) if count > 2 else TOWARD - 180.0
        middle = slots.across_web(canvas, web, slots.bore, _WEB)
        callout = Callout(middle, label(known["web_bore"], tr("web at the\nbore")), "none", -radius * 0.85)
        (right if middle[0] > 0 else left).append(callout)
        alt.append(tr("At the wall of the bore {web_bore} stands between them.", web_bore=known["web_bore"]))
    alt.append(
        tr(
            "A dashed circle {break_in} from the axis shows where the holes break into each other.",
            break_in=known["break_in"],
        )
    )
    depth, words = ("depth_to_stop", tr("drill, stop")) if stops else ("depth_to_bore", tr("depth to\nthe bore"))
    if known.more_than_nought(depth):
        place = slots.slot_near(66.0)
        low = surface - known.mm(depth) * scale
        arrows_between(canvas, polar(place, low), polar(place, surface))
        target = polar(place, (low + surface) / 2)
        right.append(Callout(target, label(known[depth], words), "none", reach))
        alt.append(
            tr("Each hole is drilled {depth} deep and stops short of the bore.", depth=known[depth])
            if stops
            else tr("Each hole reaches the bore at a depth of {depth}.", depth=known[depth])
        )
    if abs(surface - radius) > 0.3:
        alt.append(
            tr(
                "Depths are measured from the dashed circle {from_diameter} across.",
                from_diameter=known["from_diameter"],
            )
        )
        left.append(
            Callout(
                polar(slots.web_near(190.0) + 8, surface),
                label(known["from_diameter"], tr("depth from"), before="Ø"),
                "arrow",
                -radius * 0.55,
            )
        )
    if count > 2:
        left.append(Callout(_pitch(canvas, slots), label(known["pitch"], tr("hole to hole")), "none", -reach - 2.0))
    hugging(canvas, right, clear=reach, side="right")
    hugging(canvas, left, clear=reach, side="left")
    noted(canvas, scale=scale)
    return finished(canvas, group, "section", tr("{title}: section", title=group.title), alt)


def _pitch(canvas: Canvas, slots: Slots) -> tuple[float, float]:
    """The straight way from hole to hole, dimensioned outside; gives a point of it for the leader."""
    web = slots.web_near(258.0)
    away = slots.radius * math.cos(math.radians(slots.step / 2))
    aside = slots.radius * math.sin(math.radians(slots.step / 2))
    level = slots.radius + 2.6
    for way in (-1, 1):
        canvas.line([polar(web, end, way * aside) for end in (away + 1.2, level + 1.4)], DIMENSION)
    arrows_between(canvas, polar(web, level, -aside), polar(web, level, aside))
    return polar(web, level, -aside * 0.5)
