"""A sheet of drawing paper in millimetres, and the SVG it becomes.

This module is the only home of matplotlib. It owns putting down lines, faces,
hatching and lettering, knowing how wide lettering is, and writing the same bytes
every time. It leaves conventions to `style` and dimension lines to `dimensioning`.

Nothing global is changed: no pyplot, and the settings that bear on the bytes are
put in place for the moment of writing and taken away again.
"""

from __future__ import annotations

import io
import math
import re
import threading
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path as FilePath
from typing import Any, Literal, TypeAlias

import matplotlib as mpl
import numpy as np
from matplotlib import font_manager
from matplotlib.backends.backend_svg import FigureCanvasSVG
from matplotlib.figure import Figure as Paper
from matplotlib.font_manager import FontProperties
from matplotlib.ft2font import FT2Font, LoadFlags
from matplotlib.patches import PathPatch
from matplotlib.path import Path
from matplotlib.text import Text
from matplotlib.transforms import Affine2D

from handouts_build.figures.style import FAMILY, HATCH, MM_PER_POINT, OUTLINE, TEXT_PT, Pen, Role

__all__ = ["Align", "Box", "Canvas", "Point", "along", "around", "covers", "height_of", "width_of"]

Align: TypeAlias = Literal["left", "center", "right"]
"""Whether lettering begins, has its middle or ends at its place."""

Point: TypeAlias = tuple[float, float]
"""(x, y) in mm of paper, y upward."""

_FONTS = FilePath(__file__).parents[1] / "fonts"
_FACE = _FONTS / "handouts-sans-regular.ttf"

# What the bytes depend on. Writing holds the lock, because settings are the process's own.
_SETTINGS: dict[Any, Any] = {
    "font.family": FAMILY,
    "svg.fonttype": "none",
    "path.simplify": False,
    "path.sketch": None,
    "path.effects": [],
    "text.usetex": False,
    "lines.scale_dashes": False,
}
_WRITING = threading.Lock()

_ASCENT, _DESCENT, _MIDDLE = 0.72, 0.22, 0.33
"""Tops and tails of lettering, and the middle of its figures, as shares of its size."""


@dataclass(frozen=True)
class Box:
    """A rectangle on the paper, in mm."""

    left: float
    bottom: float
    right: float
    top: float

    def __or__(self, other: Box) -> Box:
        return Box(
            min(self.left, other.left),
            min(self.bottom, other.bottom),
            max(self.right, other.right),
            max(self.top, other.top),
        )

    def grown(self, by: float) -> Box:
        """The same with a margin all around, in mm."""
        return Box(self.left - by, self.bottom - by, self.right + by, self.top + by)


@lru_cache(maxsize=1)
def _face() -> FT2Font:
    """The bundled face, made known to matplotlib once so that it is never sought among the system's."""
    if str(_FACE) not in {entry.fname for entry in font_manager.fontManager.ttflist}:
        font_manager.fontManager.addfont(str(_FACE))
    return FT2Font(str(_FACE))


@lru_cache(maxsize=4096)
def width_of(text: str, size_pt: float = TEXT_PT) -> float:
    """Width of one line of lettering, in mm.

    Args:
        text: The line.
        size_pt: Height of the lettering, in points.

    Returns:
        Millimetres of paper, as the bundled face sets it.
    """
    face = _face()
    face.set_size(size_pt, 72)
    face.set_text(text, 0.0, flags=LoadFlags.NO_HINTING)
    return float(face.get_width_height()[0]) / 64 * MM_PER_POINT


def height_of(lines: int, size_pt: float = TEXT_PT, *, step: float) -> float:
    """Height of a block of lettering, in mm.

    Args:
        lines: How many lines it has.
        size_pt: Height of the lettering, in points.
        step: From line to line, as a multiple of the size.

    Returns:
        Millimetres of paper.
    """
    return ((lines - 1) * step + _ASCENT + _DESCENT) * size_pt * MM_PER_POINT


def covers(text: str) -> bool:
    """Whether the bundled face has a glyph for every letter of the text."""
    glyphs = _face().get_charmap()
    return all(ord(letter) in glyphs for letter in text)


def around(center: Point, radius: float, start: float = 0.0, stop: float = 360.0) -> list[Point]:
    """Points along an arc, near enough that it looks round.

    Args:
        center: In mm.
        radius: In mm.
        start: Angle at which it begins, in degrees counterclockwise from the right.
        stop: Angle at which it ends; less than `start` runs clockwise.
    """
    steps = max(2, math.ceil(abs(stop - start) / 3))
    angles = (math.radians(start + (stop - start) * each / steps) for each in range(steps + 1))
    return [(center[0] + radius * math.cos(angle), center[1] + radius * math.sin(angle)) for angle in angles]


def along(start: Point, stop: Point, distance: float) -> Point:
    """The point at a distance from `start` toward `stop`, in mm; beyond either when it is so told.

    Args:
        start: In mm of paper.
        stop: In mm of paper.
        distance: From `start`, in mm; less than nought goes the other way.

    Returns:
        The point, in mm of paper; `start` itself where the two are one.
    """
    span = math.dist(start, stop)
    share = distance / span if span else 0.0
    return start[0] + (stop[0] - start[0]) * share, start[1] + (stop[1] - start[1]) * share


class Canvas:
    """Marks on paper, in the order they are put down.

    Args:
        name: Name of the figure; it salts whatever ids the SVG needs.
    """

    def __init__(self, name: str) -> None:
        _face()
        self._name = name
        self._paper = Paper(figsize=(1, 1), frameon=False)
        # Filled in when the extent is known; every mark already holds it.
        self._place = Affine2D()
        self._transform = self._place + self._paper.dpi_scale_trans
        self._extent: Box | None = None
        self._order = 0

    @property
    def extent(self) -> Box:
        """What has been drawn on so far."""
        return self._extent or Box(0, 0, 0, 0)

    def line(self, points: Sequence[Point], pen: Pen = OUTLINE, *, closed: bool = False) -> None:
        """A line through points, or an outline when closed.

        Args:
            points: In mm of paper.
            pen: For the line.
            closed: Whether it ends where it began.
        """
        self._path(_joined(points, closed=closed), pen, None)

    def lines(self, pieces: Iterable[Sequence[Point]], pen: Pen) -> None:
        """Many separate lines with one pen.

        Args:
            pieces: The points of each line, in mm of paper.
            pen: For all of them.
        """
        paths = [_joined(piece) for piece in pieces]
        if paths:
            self._path(Path.make_compound_path(*paths), pen, None)

    def face(self, points: Sequence[Point], *, fill: Role = Role.WOOD, pen: Pen | None = None) -> None:
        """A filled area, outlined when there is a pen.

        Args:
            points: Its outline, in mm of paper.
            fill: Its color.
            pen: For the outline; None for no outline.
        """
        self._path(_joined(points, closed=True), pen, fill)

    def circle(self, center: Point, radius: float, pen: Pen | None = OUTLINE, *, fill: Role | None = None) -> None:
        """A circle, outlined, filled or both.

        Args:
            center: In mm of paper.
            radius: In mm of paper.
            pen: For the outline; None for no outline.
            fill: Its color; None for an empty circle.
        """
        self._path(Path.circle(center, radius), pen, fill)

    def arc(self, center: Point, radius: float, start: float, stop: float, pen: Pen = OUTLINE) -> None:
        """Part of a circle, angles in degrees counterclockwise from the right.

        Args:
            center: In mm of paper.
            radius: In mm of paper.
            start: Where it begins, in degrees.
            stop: Where it ends, in degrees; less than `start` runs clockwise.
            pen: For the line.
        """
        self.line(around(center, radius, start, stop), pen)

    def hatch(self, points: Sequence[Point], *, angle: float = 45.0, apart: float = 2.0, pen: Pen = HATCH) -> None:
        """Even slanted lines over an area.

        Args:
            points: The area's outline.
            angle: Of the lines, in degrees.
            apart: From line to line, in mm.
            pen: For the lines.
        """
        self.hatch_region([points], angle=angle, apart=apart, pen=pen)

    def region(
        self, rings: Sequence[Sequence[Point]], *, fill: Role | None = Role.WOOD, pen: Pen | None = None
    ) -> None:
        """An area with holes, filled, outlined or both.

        Args:
            rings: Closed outlines in mm of paper; one within another is a hole, and runs the other way around.
            fill: Its color; None for none.
            pen: For the outlines; None for no outline.
        """
        self._path(Path.make_compound_path(*(_joined(ring, closed=True) for ring in rings)), pen, fill)

    def hatch_region(
        self, rings: Sequence[Sequence[Point]], *, angle: float = 45.0, apart: float = 2.0, pen: Pen = HATCH
    ) -> None:
        """Even slanted lines over an area with holes.

        Args:
            rings: Closed outlines in mm of paper; one within another is a hole.
            angle: Of the lines, in degrees.
            apart: From line to line, in mm.
            pen: For the lines.
        """
        self.lines(_slanted(rings, math.radians(angle), apart), pen)

    def arrow(self, tip: Point, away: Point, *, length: float, role: Role = Role.INK) -> None:
        """A filled arrowhead that points at `tip`, coming from the direction of `away`.

        Args:
            tip: In mm of paper.
            away: In mm of paper.
            length: Of the head, in mm of paper.
            role: Its color.
        """
        back = along(tip, away, length)
        across = (back[1] - tip[1]) / length * 0.36, (tip[0] - back[0]) / length * 0.36
        wings = [(back[0] + way * across[0], back[1] + way * across[1]) for way in (1, -1)]
        self._path(_joined([tip, *wings], closed=True), None, role)

    def text(
        self,
        at: Point,
        text: str,
        *,
        align: Align = "center",
        size_pt: float = TEXT_PT,
        role: Role = Role.INK,
        turned: bool = False,
    ) -> Box:
        """One line of lettering whose middle height is at `at`.

        Args:
            at: Where it begins, ends or has its middle, by `align`.
            text: Plain text.
            align: `left`, `center` or `right`.
            size_pt: Height of the lettering, in points.
            role: Its color.
            turned: Whether it reads upward.

        Returns:
            The room it takes.
        """
        drop = _MIDDLE * size_pt * MM_PER_POINT
        artist = Text(
            at[0] + (drop if turned else 0.0),
            at[1] - (0.0 if turned else drop),
            text,
            color=role.value,
            fontproperties=FontProperties(family=FAMILY, size=size_pt),
            horizontalalignment=align,
            verticalalignment="baseline",
            rotation=90 if turned else 0,
            rotation_mode="anchor",
            transform=self._transform,
            parse_math=False,
            usetex=False,
            zorder=self._next(),
        )
        self._paper.add_artist(artist)
        room = _room(at, text, align, size_pt, turned=turned)
        self._reach(room)
        return room

    def gap(
        self, at: Point, text: str, *, align: Align = "center", size_pt: float = TEXT_PT, ground: Role = Role.PAPER
    ) -> None:
        """Clear the ground that a line of lettering will stand on.

        Args:
            at: As for the lettering.
            text: The lettering.
            align: As for the lettering.
            size_pt: As for the lettering.
            ground: Color of the ground.
        """
        room = _room(at, text, align, size_pt, turned=False).grown(0.3)
        self.face(
            [(room.left, room.bottom), (room.right, room.bottom), (room.right, room.top), (room.left, room.top)],
            fill=ground,
        )

    def svg(self, *, margin: float = 1.2) -> tuple[str, float, float]:
        """The drawing, cut to what is on it.

        Args:
            margin: Of paper left around it, in mm.

        Returns:
            SVG text, width and height in mm.
        """
        room = self.extent.grown(margin)
        width, height = room.right - room.left, room.top - room.bottom
        self._place.clear().translate(-room.left, -room.bottom).scale(1 / 25.4)
        self._paper.set_size_inches(width / 25.4, height / 25.4)
        written = io.StringIO()
        with _WRITING, mpl.rc_context({**_SETTINGS, "svg.hashsalt": self._name}):
            FigureCanvasSVG(self._paper).print_svg(written, metadata={"Date": None})  # type: ignore[no-untyped-call]
        return _cleaned(written.getvalue(), width, height), width, height

    def _path(self, path: Path, pen: Pen | None, fill: Role | None) -> None:
        """Put down one path."""
        width = pen.width_pt if pen else 0.0
        dashes = tuple(each / MM_PER_POINT for each in pen.dashes_mm) if pen else ()
        self._paper.add_artist(
            PathPatch(
                path,
                facecolor=fill.value if fill else "none",
                edgecolor=pen.role.value if pen else "none",
                linewidth=width,
                linestyle=(0, dashes) if dashes else "solid",
                joinstyle="round",
                capstyle="butt",
                transform=self._transform,
                zorder=self._next(),
            )
        )
        corners = np.asarray(path.vertices)
        (left, bottom), (right, top) = corners.min(axis=0), corners.max(axis=0)
        self._reach(Box(float(left), float(bottom), float(right), float(top)).grown(width * MM_PER_POINT / 2))

    def _next(self) -> int:
        self._order += 1
        return self._order

    def _reach(self, box: Box) -> None:
        self._extent = box if self._extent is None else self._extent | box


def _room(at: Point, text: str, align: Align, size_pt: float, *, turned: bool) -> Box:
    """The room that a line of lettering takes."""
    high, wide = size_pt * MM_PER_POINT, width_of(text, size_pt)
    before = {"left": 0.0, "center": wide / 2, "right": wide}[align]
    # As if it read to the right from the origin; then turned and put in place.
    left, right, low, top = -before, wide - before, -(_MIDDLE + _DESCENT) * high, (_ASCENT - _MIDDLE) * high
    flat = Box(-top, left, -low, right) if turned else Box(left, low, right, top)
    return Box(at[0] + flat.left, at[1] + flat.bottom, at[0] + flat.right, at[1] + flat.top)


def _joined(points: Sequence[Point], *, closed: bool = False) -> Path:
    """Straight lines from point to point."""
    if closed:
        return Path([*points, points[0]], closed=True)
    return Path(list(points))


def _slanted(rings: Sequence[Sequence[Point]], angle: float, apart: float) -> list[list[Point]]:
    """Parallel lines where they lie within an odd number of outlines."""
    cos, sin = math.cos(angle), math.sin(angle)
    turned = [[(x * cos + y * sin, y * cos - x * sin) for x, y in ring] for ring in rings]
    low, high = min(v for ring in turned for _, v in ring), max(v for ring in turned for _, v in ring)
    pieces: list[list[Point]] = []
    for row in range(math.ceil(low / apart), math.floor(high / apart) + 1):
        # Half a hair off the row, so that no line runs exactly through a corner.
        level = row * apart + 1e-4
        met = sorted(
            u0 + (level - v0) / (v1 - v0) * (u1 - u0)
            for ring in turned
            for (u0, v0), (u1, v1) in zip(ring, [*ring[1:], ring[0]], strict=True)
            if (v0 > level) != (v1 > level)
        )
        for start, stop in zip(met[::2], met[1::2], strict=True):
            pieces.append([(u * cos - level * sin, u * sin + level * cos) for u in (start, stop)])
    return pieces


_HEAD = re.compile(r"\A.*?<svg[^>]*>", re.DOTALL)
_DROPPED = re.compile(
    r"\s*<metadata>.*?</metadata>|\s*<defs>\s*<style[^>]*>.*?</style>\s*</defs>|\s*<!--.*?-->", re.DOTALL
)
_TAG = re.compile(r"<[^>]*>")
_ID = re.compile(r' id="[^"]*"')
_TURN = re.compile(r' transform="rotate\(-?0 [^"]*\)"')
_BREAK = re.compile(r"\s*\n\s*")
_LONG = re.compile(r"-?\d+\.\d{3,}")


def _cleaned(svg: str, width: float, height: float) -> str:
    """Matplotlib's SVG without what would clash or leak where several are set into one page.

    Nothing refers to an id, so none is kept; the rules for all elements go to the
    root; numbers are kept to a hundredth of a point.
    """
    body = _DROPPED.sub("", _HEAD.sub("", svg, count=1))
    body = _TAG.sub(lambda found: _trimmed(found[0]), body)
    # Groups carry nothing once their ids are gone.
    body = "\n".join(line for each in body.splitlines() if (line := each.strip()) not in ("", "<g>", "</g>"))
    across, down = _short(width / MM_PER_POINT), _short(height / MM_PER_POINT)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{_short(width)}mm" height="{_short(height)}mm"'
        f' viewBox="0 0 {across} {down}" stroke-linejoin="round" stroke-linecap="butt">\n{body}\n'
    )


def _trimmed(tag: str) -> str:
    """One tag on one line, with short numbers and without its id or a turn by nothing."""
    # Most tags have none of these, which is told far quicker than it is looked for as a pattern.
    for sign, pattern, instead in (("\n", _BREAK, " "), (' id="', _ID, ""), ("rotate(", _TURN, "")):
        if sign in tag:
            tag = pattern.sub(instead, tag)
    return _LONG.sub(lambda found: _short(float(found[0])), tag)


def _short(value: float) -> str:
    """A number to two decimals, without trailing noughts."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
