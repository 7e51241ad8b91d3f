"""Drawing at true size, in millimetres, and cutting it into pieces that fit a sheet.

This module owns line weights, lettering and joints of everything that is printed
1:1. It knows nothing of turning; what is drawn comes from the modules that use it.
A drawing is laid out with its long way down the page (y), so that only one way of
joining pieces is needed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from html import escape
from itertools import pairwise
from string import ascii_uppercase

from handouts_build.language import tr, tr_later

__all__ = [
    "DASHES",
    "DROP",
    "GLUE",
    "LETTER_MM",
    "LINE_MM",
    "TAB_MM",
    "WIDTHS",
    "WIDTHS_OF_OTHERS",
    "GlueLine",
    "TemplateDrawing",
    "TurnedDrawing",
    "cuts",
    "fits",
    "joints_at",
    "pieces",
    "shortened",
    "spread",
]

LINE_MM = 0.2
"""Thin enough to cut on, thick enough for any printer."""

LETTER_MM = 7.2 * 25.4 / 72
"""Size of lettering: a little over 7 points, the least that reads at the bench."""

TAB_MM = 10.0
"""Width of a glue tab."""

WIDTHS = {
    **dict.fromkeys(" \u00a0", 0.2),
    **dict.fromkeys(".,:;'|ijlI", 0.27),
    **dict.fromkeys("f()-", 0.31),
    **dict.fromkeys("rt/°", 0.36),
    **dict.fromkeys("0123456789aegczsxyvk", 0.505),
    **dict.fromkeys("mwMW½¼¾⅛⅜⅝⅞", 0.84),
}
"""Widths of letters as shares of their size, none less than it is in this face."""

WIDTHS_OF_OTHERS = (0.57, 0.67, 0.85)
"""The same of other small letters, other letters, and all other signs."""

DROP = 0.33
"""How far the baseline lies below the middle of the figures, as a share of the size of lettering."""

GLUE = (tr_later("tab: glue piece {next} here, line {letter} on line {letter}"), tr_later("glue {letter}"))
"""What stands on a tab between two pieces: the first where there is room for it."""

DASHES = {"cut": "", "mark": "", "fold": "2 1.2", "axis": "5 1.2 0.8 1.2"}


@dataclass
class TemplateDrawing:
    """Marks in millimetres, y downward, collected as SVG elements."""

    elements: list[str] = field(default_factory=list)

    def line(self, points: Iterable[tuple[float, float]], *, kind: str = "mark", closed: bool = False) -> None:
        """A line through points.

        Args:
            points: (x, y) in mm.
            kind: `cut` and `mark` are solid, `fold` is dashed (also where glue goes), `axis` is dash and dot.
            closed: Whether it ends where it began.
        """
        path = "M" + "L".join(f"{_n(x)},{_n(y)}" for x, y in points) + ("Z" if closed else "")
        dashes = f' stroke-dasharray="{DASHES[kind]}"' if DASHES[kind] else ""
        self.elements.append(f'<path d="{path}" fill="none" stroke="#000" stroke-width="{LINE_MM}"{dashes}/>')

    def circle(self, x: float, y: float, radius: float, *, kind: str = "mark") -> None:
        """A circle about (x, y), in mm.

        Args:
            x: Of the center, in mm.
            y: Of the center, in mm, downward.
            radius: In mm.
            kind: Of line, as for `line`.
        """
        dashes = f' stroke-dasharray="{DASHES[kind]}"' if DASHES[kind] else ""
        self.elements.append(
            f'<circle cx="{_n(x)}" cy="{_n(y)}" r="{_n(radius)}" fill="none" stroke="#000"'
            f' stroke-width="{LINE_MM}"{dashes}/>'
        )

    def solid(self, points: Iterable[tuple[float, float]]) -> None:
        """A filled shape, for arrowheads and matching marks."""
        path = "M" + "L".join(f"{_n(x)},{_n(y)}" for x, y in points) + "Z"
        self.elements.append(f'<path d="{path}" fill="#000"/>')

    def text(
        self, x: float, y: float, words: str, *, anchor: str = "start", turned: bool = False, bold: bool = False
    ) -> None:
        """Lettering whose middle height is at y.

        Args:
            x: Where it starts, ends or has its middle, in mm.
            y: The middle of the line of lettering, in mm.
            words: Plain text.
            anchor: `start`, `middle` or `end`.
            turned: Whether it runs up the page instead of across it.
            bold: Whether it is set bold.
        """
        # Centring by the height of figures: the baseline lies half of it below the middle.
        drop = DROP * LETTER_MM
        turn = f' transform="rotate(-90 {_n(x)} {_n(y)})"' if turned else ""
        weight = ' font-weight="700"' if bold else ""
        self.elements.append(
            f'<text x="{_n(x)}" y="{_n(y + drop)}" font-family="Handouts Sans" font-size="{LETTER_MM:.3f}"'
            f' text-anchor="{anchor}"{weight}{turn}>{_plain(words)}</text>'
        )

    def svg(self, x: float, y: float, width: float, height: float) -> str:
        """The part of the drawing in a window, as an SVG of exactly that size in mm.

        Args:
            x: Left edge of the window, in mm.
            y: Upper edge, in mm.
            width: In mm.
            height: In mm.
        """
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{_n(width)}mm" height="{_n(height)}mm"'
            f' viewBox="{_n(x)} {_n(y)} {_n(width)} {_n(height)}">' + "".join(self.elements) + "</svg>"
        )


@dataclass
class TurnedDrawing(TemplateDrawing):
    """The same marks turned a quarter clockwise: what ran down the page runs across it, to the left.

    Lettering is turned so that it reads across or up, never down.
    """

    far: float = 0.0
    """The place down the page that comes to lie at the left edge, in mm."""

    def line(self, points: Iterable[tuple[float, float]], *, kind: str = "mark", closed: bool = False) -> None:
        """A line through points given as if nothing were turned."""
        super().line([(self.far - y, x) for x, y in points], kind=kind, closed=closed)

    def text(
        self, x: float, y: float, words: str, *, anchor: str = "start", turned: bool = False, bold: bool = False
    ) -> None:
        """Lettering at a place given as if nothing were turned."""
        other = {"start": "end", "end": "start"}.get(anchor, anchor)
        super().text(self.far - y, x, words, anchor=anchor if turned else other, turned=not turned, bold=bold)


def _n(value: float) -> str:
    """A number of mm for SVG: to a ten-thousandth, without trailing noughts."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _plain(words: str) -> str:
    """Text that is safe inside SVG."""
    return escape("".join(letter for letter in words if letter.isprintable() or letter == "\u00a0"))


def _wide(words: str) -> float:
    """Width of lettering, in mm, not less than it will be."""
    small, large, sign = WIDTHS_OF_OTHERS
    return LETTER_MM * sum(
        WIDTHS.get(letter, small if letter.islower() else large if letter.isalpha() else sign) for letter in words
    )


def fits(words: str, room: float) -> bool:
    """Whether lettering goes into `room` mm.

    Args:
        words: One line of it.
        room: In mm.
    """
    return _wide(words) <= room


def shortened(words: str, room: float) -> str:
    """The words, cut with an ellipsis where they would not go into `room` mm.

    Args:
        words: One line of lettering.
        room: In mm.
    """
    if fits(words, room):
        return words
    while words and not fits(f"{words}…", room):
        words = words[:-1]
    return f"{words.rstrip()}…"


def spread(places: Sequence[float], *, low: float, high: float, apart: float = LETTER_MM * 1.2) -> list[float]:
    """Places for labels that do not touch, each near its own mark.

    Args:
        places: Places of the marks in mm, in rising order.
        low: Least place of a label, in mm.
        high: Greatest, in mm.
        apart: Distance between labels, in mm; less where they would not fit otherwise.

    Returns:
        As many places, in the same order.
    """
    apart = min(apart, (high - low) / max(1, len(places) - 1))
    # Runs of labels that touch are moved as one, about the mean of their wishes.
    runs: list[tuple[float, int]] = []
    for place in places:
        middle, count = place, 1
        while runs and runs[-1][0] + (runs[-1][1] - 1) * apart / 2 > middle - (count - 1) * apart / 2 - apart:
            other, others = runs.pop()
            middle = (other * others + middle * count) / (others + count)
            count += others
        runs.append((middle, count))
    found = [middle + (each - (count - 1) / 2) * apart for middle, count in runs for each in range(count)]
    found = [max(place, low + each * apart) for each, place in enumerate(found)]
    return [min(place, high - (len(found) - 1 - each) * apart) for each, place in enumerate(found)]


def cuts(length: float, most: float, *, clear: Sequence[float] = (), margin: float = 2.0) -> list[float]:
    """Where to cut something long into pieces of nearly equal length.

    Args:
        length: Whole length, in mm.
        most: Most that a piece may measure without its tab, in mm.
        clear: Places a cut should keep away from (marks and lettering), in mm.
        margin: How far away, in mm.

    Returns:
        The joints in rising order; none when it fits in one piece.
    """
    joints: list[float] = []
    start = 0.0
    while length - start > most + 1e-9:
        left = length - start
        share = left / -(-left // most)
        # Among places a quarter of a millimetre apart, the nearest to the even share that is clear.
        steps = range(int(min(most / 2, most - 1) * 4) + 1)
        wishes = [start + min(most, max(1.0, share + way * step / 4)) for step in steps for way in (1, -1)]
        joint = next((wish for wish in wishes if all(abs(wish - place) >= margin for place in clear)), start + share)
        joints.append(joint)
        start = joint
    return joints


@dataclass(frozen=True)
class GlueLine:
    """A place where two pieces are glued."""

    at: float
    """Place along y, in mm."""
    left: float
    """Where the material begins across, in mm."""
    right: float
    """Where it ends across, in mm."""
    letter: str


def joints_at(places: Sequence[float], *, left: Callable[[float], float], right: float) -> list[GlueLine]:
    """Joints at places, lettered A to Z, then AA and so on.

    Args:
        places: Along y in rising order, in mm.
        left: Where the material begins across at a place, in mm.
        right: Where it ends across, in mm.
    """
    return [
        GlueLine(place, left(place), right, ascii_uppercase[each % 26] * (each // 26 + 1))
        for each, place in enumerate(places)
    ]


def pieces(
    drawing: TemplateDrawing, *, left: float, width: float, top: float, bottom: float, joints: Sequence[GlueLine]
) -> list[tuple[str, float]]:
    """The drawing in pieces, each with the tab and the marks that join it to the next.

    A piece ends at a dashed joint line with a tab beyond it; the next piece begins
    at a solid line and is glued on the tab, line on line. Half a diamond on either
    side of the joint makes a whole one when the pieces meet.

    Args:
        drawing: The whole drawing.
        left: Left edge of the window, in mm.
        width: Width of the window, in mm.
        top: Upper end, in mm.
        bottom: Lower end, in mm.
        joints: In rising order.

    Returns:
        For each piece its SVG and its height in mm.
    """
    found: list[tuple[str, float]] = []
    edges = [top, *(joint.at for joint in joints), bottom]
    for each, (start, end) in enumerate(pairwise(edges)):
        before = joints[each - 1] if each else None
        after = joints[each] if each < len(joints) else None
        piece = TemplateDrawing(_clipped(drawing.elements, left, start, width, end - start))
        if before:
            piece.line([(before.left, start), (before.right, start)], kind="cut")
            middle = (before.left + before.right) / 2
            piece.solid([(middle - 1.5, start), (middle + 1.5, start), (middle, start + 1.5)])
            piece.text(middle + 2.2, start + 1.9, before.letter, bold=True)
        if after:
            piece.line(
                [(after.left, end), (after.left, end + TAB_MM), (after.right, end + TAB_MM), (after.right, end)],
                kind="fold", closed=True,
            )  # fmt: skip
            middle = (after.left + after.right) / 2
            piece.solid([(middle - 1.5, end), (middle + 1.5, end), (middle, end - 1.5)])
            piece.text(middle + 2.2, end - 1.9, after.letter, bold=True)
            full, short = (tr(wording, next=each + 2, letter=after.letter) for wording in GLUE)
            words = full if fits(full, after.right - after.left - 2) else short
            piece.text(middle, end + TAB_MM / 2, words, anchor="middle")
        # Half a line's width all round, so that no edge line is cut in two.
        edge = LINE_MM / 2
        height = end - start + (TAB_MM if after else 0.0) + 2 * edge
        found.append((piece.svg(left - edge, start - edge, width + 2 * edge, height), height))
    return found


def _clipped(elements: Sequence[str], left: float, top: float, width: float, height: float) -> list[str]:
    """The elements, seen through a window and nowhere else."""
    edge = LINE_MM / 2
    place = f'{_n(left - edge)}" y="{_n(top - edge)}" width="{_n(width + 2 * edge)}" height="{_n(height + 2 * edge)}'
    box = f"{_n(left - edge)} {_n(top - edge)} {_n(width + 2 * edge)} {_n(height + 2 * edge)}"
    return [f'<svg x="{place}" viewBox="{box}" overflow="hidden">', *elements, "</svg>"]
