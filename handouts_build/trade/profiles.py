"""The outline of a turned part, as a list of elements along its axis.

This module owns what a bead, a cove, a taper or an ogee is, and what follows from
a row of them: diameters at stations, the story stick, wood, balance, the neck. It
leaves the mathematics of one stretch to `curves` and cutting solids to the workpiece.

Each element begins at the running diameter, where the one before it ended, unless
it says otherwise; a different start makes a shoulder. The slenderness is the whole
length over the neck's diameter. The neck is the least diameter anywhere, except
within an end that closes to a dome or a point.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from handouts_build.quantities import UNITS, Quantity, exact
from handouts_build.trade.curves import Stretch, arc, half_ellipse, line, quarter_ellipse
from handouts_build.trade.outlines import Profile, Segment

__all__ = [
    "Bead",
    "Cavetto",
    "Cove",
    "Cylinder",
    "Element",
    "Ogee",
    "Ovolo",
    "ProfileFault",
    "Round",
    "RoundStart",
    "Taper",
    "Vee",
    "outline",
]


class ProfileFault(ValueError):
    """Elements that make no outline.

    Attributes:
        message: What is wrong, in the author's words.
        hint: What would be right.
        index: Which element, counting from 0.
    """

    def __init__(self, message: str, hint: str, index: int) -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint
        self.index = index


@dataclass(frozen=True, kw_only=True)
class _Element:
    """What every element has."""

    long: Quantity
    """Length along the axis."""
    label: str = ""
    """What the author calls it."""


@dataclass(frozen=True, kw_only=True)
class Cylinder(_Element):
    """One diameter all along; also a fillet or a tenon."""

    diameter: Quantity
    kind: str = "cylinder"
    """`cylinder`, `fillet` or `tenon`: the same shape by the trade's name."""


@dataclass(frozen=True, kw_only=True)
class Taper(_Element):
    """A straight line to another diameter."""

    to: Quantity
    """Diameter at its end; nought makes a point."""
    start: Quantity | None = None
    kind = "taper"


@dataclass(frozen=True, kw_only=True)
class Ogee(_Element):
    """An S of two equal arcs, level at both ends, to another diameter."""

    to: Quantity
    """Diameter at its end; it may rise or fall no more than its length."""
    start: Quantity | None = None
    kind = "ogee"


@dataclass(frozen=True, kw_only=True)
class Ovolo(_Element):
    """A quarter-ellipse that swells outward to another diameter, level at the larger."""

    to: Quantity
    """Diameter at its end."""
    start: Quantity | None = None
    kind = "ovolo"


@dataclass(frozen=True, kw_only=True)
class Cavetto(_Element):
    """A quarter-ellipse that is hollowed to another diameter, level at the smaller."""

    to: Quantity
    """Diameter at its end."""
    start: Quantity | None = None
    kind = "cavetto"


@dataclass(frozen=True, kw_only=True)
class Bead(_Element):
    """A half-ellipse rising from the line between its end diameters."""

    diameter: Quantity
    """Diameter at the crest."""
    start: Quantity | None = None
    end: Quantity | None = None
    """As the start, when not given."""
    kind = "bead"


@dataclass(frozen=True, kw_only=True)
class Cove(_Element):
    """A half-ellipse sinking below the line between its end diameters."""

    diameter: Quantity
    """Diameter at the bottom."""
    start: Quantity | None = None
    end: Quantity | None = None
    """As the start, when not given."""
    kind = "cove"


@dataclass(frozen=True, kw_only=True)
class Vee(_Element):
    """A V cut: two straight lines that meet at mid-length."""

    diameter: Quantity
    """Diameter at the bottom."""
    start: Quantity | None = None
    end: Quantity | None = None
    """As the start, when not given."""
    kind = "vee"


@dataclass(frozen=True, kw_only=True)
class Round(_Element):
    """A quarter-ellipse down to the axis: a domed end."""

    start: Quantity | None = None
    kind = "round"


@dataclass(frozen=True, kw_only=True)
class RoundStart(_Element):
    """A quarter-ellipse up from the axis: a domed beginning."""

    to: Quantity
    """Diameter at its end."""
    kind = "round"


Element: TypeAlias = Cylinder | Taper | Ogee | Ovolo | Cavetto | Bead | Cove | Vee | Round | RoundStart


def outline(elements: Sequence[Element]) -> Profile:
    """The outline that the elements make, first at x = 0.

    Args:
        elements: From one end of the part to the other.

    Raises:
        ProfileFault: If they make none.
    """
    if not elements:
        raise ProfileFault("the profile has no elements", "list at least one, such as a cylinder", 0)
    segments: list[Segment] = []
    x, running = 0.0, None
    for index, element in enumerate(elements):
        if _mm(element.long) <= 0:
            raise ProfileFault(
                f"this {element.kind} is {_said(element.long)} long", "give a length of more than nought", index
            )
        stretches = _drawn(element, x, running, index)
        first, last = stretches[0], stretches[-1]
        starts, stops = first.radius(first.x0), last.radius(last.x1)
        if (starts <= 0 and index > 0) or (stops <= 0 and index < len(elements) - 1):
            raise ProfileFault(
                f"this {element.kind} reaches the axis, which cuts the part in two",
                "only an end may come to nought",
                index,
            )
        segments.append(Segment(element.kind, element.label, tuple(stretches)))
        x, running = last.x1, stops
    return Profile(tuple(segments))


def _drawn(element: Element, x: float, running: float | None, index: int) -> list[Stretch]:
    """The stretches of one element that begins at x, at the running radius."""
    end = x + _mm(element.long)

    def begins(start: Quantity | None) -> float:
        if start is not None:
            return _radius(start, "start", index)
        if running is None:
            raise ProfileFault(
                f"a {element.kind} at the very start has no diameter to begin from", "give it one with from", index
            )
        return running

    match element:
        case Cylinder():
            radius = _radius(element.diameter, "diameter", index)
            return [line(x, end, r0=radius, r1=radius)]
        case Taper():
            return [line(x, end, r0=begins(element.start), r1=_radius(element.to, "to", index, nought=True))]
        case Ogee():
            return _ogee(x, end, begins(element.start), _radius(element.to, "to", index), index)
        case Round():
            return [quarter_ellipse(x, end, r0=begins(element.start), r1=0.0)]
        case RoundStart():
            return [quarter_ellipse(x, end, r0=0.0, r1=_radius(element.to, "to", index))]
        case Ovolo() | Cavetto():
            start, stop = begins(element.start), _radius(element.to, "to", index)
            if start == stop:
                return [line(x, end, r0=start, r1=stop)]
            return [quarter_ellipse(x, end, r0=start, r1=stop, swells=isinstance(element, Ovolo))]
        case Bead() | Cove() | Vee():
            return _risen(element, x, end, begins, index)


def _risen(
    element: Bead | Cove | Vee, x: float, end: float, begins: Callable[[Quantity | None], float], index: int
) -> list[Stretch]:
    """A bead, cove or V on the line between its end radii."""
    r0 = begins(element.start)
    r1 = r0 if element.end is None else _radius(element.end, "end", index)
    crest = _radius(element.diameter, "diameter", index)
    if isinstance(element, Bead):
        if crest <= max(r0, r1):
            raise ProfileFault(
                f"a bead {_said(element.diameter)} across does not rise over its ends",
                "make its diameter more than at both its ends",
                index,
            )
    elif crest >= min(r0, r1):
        raise ProfileFault(
            f"a {element.kind} {_said(element.diameter)} across does not sink below its ends",
            "make its diameter less than at both its ends",
            index,
        )
    if isinstance(element, Vee):
        middle = (x + end) / 2
        return [line(x, middle, r0=r0, r1=crest), line(middle, end, r0=crest, r1=r1)]
    return [half_ellipse(x, end, r0=r0, r1=r1, crest=crest)]


def _ogee(x: float, end: float, r0: float, r1: float, index: int) -> list[Stretch]:
    """Two equal arcs, tangent where they meet and level at their ends.

    Each rises h/2 over a run of L/2, so its radius is (L² + h²) / 4h. At h = L each
    is a quarter of a circle; more rise than length has no such arcs.
    """
    rise, long = r1 - r0, end - x
    # Below this the arcs' circles are so large that their last digits would show.
    if abs(rise) <= 1e-6 * long:
        return [line(x, end, r0=r0, r1=r1)]
    if abs(rise) > long * (1 + 1e-9):
        raise ProfileFault(
            "this ogee rises or falls by more than its length", "make it longer, or its diameters more alike", index
        )
    radius = (long**2 + rise**2) / (4 * rise)
    middle = (x + end) / 2
    return [
        arc(x, middle, middle=x, level=r0, radius=-radius),
        arc(middle, end, middle=end, level=r1, radius=radius),
    ]


def _radius(diameter: Quantity, called: str, index: int, *, nought: bool = False) -> float:
    """Half a diameter in millimetres, refused when it is none."""
    value = _mm(diameter)
    if value < 0 or (value == 0 and not nought):
        raise ProfileFault(f"{called} is {_said(diameter)}", "give a diameter of more than nought", index)
    return value / 2


def _mm(value: Quantity) -> float:
    return float(value.m_as(UNITS["mm"]))


def _said(value: Quantity) -> str:
    return f"{exact(value, 'in')} ({exact(value, 'mm')})"
