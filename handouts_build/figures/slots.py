"""A disc of wood cut across its axis, with equal slots toward the axis: holes or grooves.

This module owns how such a section is drawn. It leaves what is dimensioned on it to
the drawings of holes and of grooves.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from handouts_build.figures.canvas import Canvas, Point, along, around
from handouts_build.figures.dimensioning import arrows_between
from handouts_build.figures.style import CENTER, DIMENSION, EDGE, OUTLINE, Pen, Role

__all__ = ["TOWARD", "Slots", "polar"]

TOWARD = 26.0
"""Angle of the first web, in degrees: it looks toward the labels at the right."""


def polar(degrees: float, distance: float, aside: float = 0.0) -> Point:
    """A point by its angle and distance from the axis, and how far it lies aside of that line.

    Args:
        degrees: Counterclockwise from the right.
        distance: Along that line from the axis, in mm.
        aside: Counterclockwise of the line, in mm.
    """
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return distance * cos - aside * sin, distance * sin + aside * cos


@dataclass(frozen=True)
class Slots:
    """Equal slots around a disc. Lengths are in mm of paper."""

    count: int
    half: float
    """Half the width of a slot."""
    radius: float
    """Of the disc."""
    bore: float
    """Radius of the hole along the axis; nought when there is none."""
    bottom: float | None
    """Distance of a slot's bottom from the axis; none when it goes through to the bore."""
    rim: Pen = EDGE
    """For the surface's circle across a slot's mouth: seen beyond the cut, or no longer there."""

    @property
    def step(self) -> float:
        """Degrees from slot to slot."""
        return 360.0 / self.count

    @property
    def meeting(self) -> float:
        """Distance from the axis, along a slot's line, at which its sides meet the neighbors'."""
        return self.half / math.tan(math.pi / self.count) if self.count > 2 else 0.0

    def slot_near(self, degrees: float) -> float:
        """Angle of the slot that lies nearest to an angle."""
        return self._near(TOWARD + self.step / 2, degrees)

    def web_near(self, degrees: float) -> float:
        """Angle of the middle of the web nearest to an angle."""
        return self._near(TOWARD, degrees)

    def _near(self, first: float, degrees: float) -> float:
        return first + round((degrees - first) / self.step) * self.step

    def web_ends(self, web: float, radius: float) -> tuple[Point, Point]:
        """Where a web's two sides meet a circle about the axis.

        Args:
            web: Angle of the web's middle, in degrees counterclockwise from the right.
            radius: Of the circle, in mm of paper.

        Returns:
            The two points, clockwise side first, in mm of paper.
        """
        open_half = math.degrees(math.asin(min(1.0, self.half / radius)))
        spread = self.step / 2 - open_half
        return polar(web - spread, radius), polar(web + spread, radius)

    def draw(self, canvas: Canvas) -> None:
        """The disc in section: hatched wood, slots and bore cut away."""
        places = [TOWARD + self.step / 2 - self.step * each for each in range(self.count)]
        canvas.circle((0, 0), self.radius, None, fill=Role.WOOD)
        canvas.hatch(around((0, 0), self.radius), apart=2.2)
        floor = max(self.bottom or 0.0, 0.0)
        for place in places:
            corners = [(floor, -1), (self.radius + 0.5, -1), (self.radius + 0.5, 1), (floor, 1)]
            canvas.face([polar(place, u, way * self.half) for u, way in corners], fill=Role.PAPER)
        canvas.circle((0, 0), self.radius, self.rim)
        if self.bore:
            canvas.circle((0, 0), self.bore, None, fill=Role.PAPER)
            if self.bottom is None or self.bottom < self.bore:
                canvas.circle((0, 0), self.bore, EDGE)
                self._arcs(canvas, self.bore)
            else:
                canvas.circle((0, 0), self.bore, OUTLINE)
        self._arcs(canvas, self.radius)
        self._sides(canvas, places)

    def _arcs(self, canvas: Canvas, radius: float) -> None:
        """The heavy outline on a circle, where wood meets it."""
        if self.half >= radius:
            return
        spread = self.step / 2 - math.degrees(math.asin(self.half / radius))
        if spread > 0:
            webs = [TOWARD - self.step * each for each in range(self.count)]
            canvas.lines([around((0, 0), radius, web - spread, web + spread) for web in webs], OUTLINE)

    def _sides(self, canvas: Canvas, places: list[float]) -> None:
        """The slots' sides, and their bottoms where they have any."""
        outside = math.sqrt(max(0.0, self.radius**2 - self.half**2))
        at_bore = math.sqrt(max(0.0, self.bore**2 - self.half**2))
        inside = max(self.bottom or 0.0, at_bore, self.meeting)
        if inside < outside:
            canvas.lines(
                [
                    [polar(place, inside, way * self.half), polar(place, outside, way * self.half)]
                    for place in places
                    for way in (-1, 1)
                ],
                OUTLINE,
            )
        if self.bottom is not None and self.bottom >= max(at_bore, self.meeting):
            canvas.lines(
                [[polar(place, self.bottom, -self.half), polar(place, self.bottom, self.half)] for place in places],
                OUTLINE,
            )

    def center_mark(self, canvas: Canvas) -> None:
        """Crossed center lines at the axis."""
        reach = max(2.5, self.bore * 0.3)
        canvas.line([(-reach, 0), (reach, 0)], CENTER)
        canvas.line([(0, -reach), (0, reach)], CENTER)

    def across_web(self, canvas: Canvas, web: float, radius: float, pen: Pen) -> Point:
        """A dimension line across a web at a circle about the axis; gives its middle.

        Args:
            canvas: What it is drawn on.
            web: Angle of the web's middle, in degrees counterclockwise from the right.
            radius: Of the circle, in mm of paper.
            pen: For the line.

        Returns:
            The line's middle, in mm of paper.
        """
        low, high = self.web_ends(web, radius)
        arrows_between(canvas, low, high, pen=pen)
        return along(low, high, math.dist(low, high) / 2)

    def across_slot(self, canvas: Canvas, place: float, stand: float) -> Point:
        """A dimension line across a slot's mouth, outside the disc; gives its middle.

        Args:
            canvas: To draw on.
            place: Angle of the slot.
            stand: How far outside the disc, in mm.
        """
        mouth = math.sqrt(max(0.0, self.radius**2 - self.half**2))
        for way in (-1, 1):
            ends = (mouth + 0.9, self.radius + stand + 1.4)
            canvas.line([polar(place, end, way * self.half) for end in ends], DIMENSION)
        level = self.radius + stand
        arrows_between(canvas, polar(place, level, -self.half), polar(place, level, self.half))
        return polar(place, level)
