"""A drawing made fit for a page in light and dark.

This module owns the step from the print's colors to CSS variables, what an SVG set straight into Markdown may not
contain, and in how few letters a page draws its lines. The page around it gives the variables
their values; each has the print's color to fall back on.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from types import MappingProxyType

from handouts_build.figures.style import Role

__all__ = ["DARK", "themed"]

DARK: Mapping[str, str] = MappingProxyType(
    {
        Role.INK.variable: "#ececef",
        Role.FAINT.variable: "#a9a9b0",
        Role.WOOD.variable: "#3a3328",
        Role.HATCH.variable: "#85775f",
        Role.ACCENT.variable: "#ff9a6b",
        Role.PAPER.variable: "#1e1f26",
    }
)
"""Values of the variables that read well on a dark page. `--hb-paper` should be the page's own ground."""


_TAG = re.compile(r"<[^>]*>")
_PATH = re.compile(r' d="([^"]*)"')
_COMMAND = re.compile(r"([MLQCz])([^MLQCz]*)")
_OFF_PT = 0.1
"""How far a line of a page may lie from the print's, in points."""

_Place = tuple[float, float]


def themed(svg: str) -> str:
    """A figure's SVG for setting into a page: its colors from CSS variables, hidden from screen readers.

    Lines go to a tenth of a point, less than a screen tells apart, and places that lie as near to the line between
    their neighbors are left out.

    The page says the text alternative on the element around it.

    Args:
        svg: As a `Figure` of this package carries it.

    Returns:
        An `svg` element without blank lines, so that Markdown takes it as one block.
    """
    svg = _TAG.sub(lambda found: _colored(found[0]), svg)
    svg = _PATH.sub(lambda path: f' d="{_short_path(path[1])}"', svg)
    svg = svg.replace(
        "<svg ",
        '<svg class="hb-figure" role="img" aria-hidden="true" focusable="false" style="max-width: 100%; height: auto" ',
        1,
    )
    return "\n".join(line for line in svg.splitlines() if line.strip())


def _colored(tag: str) -> str:
    """One tag with variables for its colors; lettering between tags is left alone."""
    for role in Role:
        tag = tag.replace(role.value, f"var({role.variable}, {role.value})")
    return tag


def _short_path(data: str) -> str:
    """The same lines in fewer letters: places counted from the one before, in tenths of a point."""
    runs: list[tuple[list[_Place], list[str]]] = []
    """Of each run its places, and by what each but the first is reached: a line, a curve's place, or its end."""
    closed: list[bool] = []
    for command, written in _COMMAND.findall(data):
        numbers = [float(number) for number in written.split()]
        places = list(zip(numbers[::2], numbers[1::2], strict=True))
        if command == "z":
            closed[-1] = True
        elif command == "M":
            # A line that goes on where the last one ended is the same line.
            if not runs or closed[-1] or runs[-1][0][-1] != places[0]:
                runs.append((places, []))
                closed.append(False)
        else:
            runs[-1][0].extend(places)
            runs[-1][1].extend([command.lower()] + [""] * (len(places) - 1))
    return "".join(_short_run(*_thinned(*run)) + "z" * ends for run, ends in zip(runs, closed, strict=True))


def _thinned(places: Sequence[_Place], ways: Sequence[str]) -> tuple[list[_Place], list[str]]:
    """A run without the places that its line passes by closely anyway; curves stay as they are."""
    kept, by = [places[0]], []
    first = 0
    while first < len(ways):
        last = first
        while last < len(ways) and ways[last] == "l":
            last += 1
        if last > first:
            straight = _straightened(places[first : last + 1])
            kept += straight[1:]
            by += ["l"] * (len(straight) - 1)
            first = last
        else:
            kept.append(places[first + 1])
            by.append(ways[first])
            first += 1
    return kept, by


def _straightened(places: Sequence[_Place]) -> list[_Place]:
    """Some of the places, whose line passes all others within `_OFF_PT`, as Douglas and Peucker chose them (1973)."""
    keep = {0, len(places) - 1}
    spans = [(0, len(places) - 1)]
    while spans:
        start, stop = spans.pop()
        away, at = max(
            ((_beside(places[each], places[start], places[stop]), each) for each in range(start + 1, stop)),
            default=(0.0, 0),
        )
        if away > _OFF_PT:
            keep.add(at)
            spans += [(start, at), (at, stop)]
    return [places[each] for each in sorted(keep)]


def _beside(place: _Place, start: _Place, stop: _Place) -> float:
    """How far a place lies from a stretch of line."""
    along, up = stop[0] - start[0], stop[1] - start[1]
    whole = along * along + up * up
    share = ((place[0] - start[0]) * along + (place[1] - start[1]) * up) / whole if whole else 0.0
    share = min(1.0, max(0.0, share))
    return math.hypot(place[0] - start[0] - share * along, place[1] - start[1] - share * up)


def _short_run(places: Sequence[_Place], ways: Sequence[str]) -> str:
    """A run as SVG has it: where it begins, then from place to place; a curve's places count from where it began."""
    tenths = [(round(x * 10), round(y * 10)) for x, y in places]
    text, last = f"M{_pair(tenths[0])}", "M"
    origin = now = tenths[0]
    for (x, y), way in zip(tenths[1:], ways, strict=True):
        if way:
            origin = now
        step = _pair((x - origin[0], y - origin[1]))
        text += way + step if way and way != last else step if step[0] == "-" else " " + step
        last, now = way or last, (x, y)
    return text


def _pair(tenths: tuple[int, int]) -> str:
    """Two numbers, given in tenths, with as little between them as SVG asks for."""
    across, down = (f"{each / 10:.1f}".removesuffix(".0") for each in tenths)
    return across + ("" if down.startswith("-") else " ") + down
