"""The outline of a turned part, from elements along its axis.

This module owns how a bead, a cove, a taper or an ogee is drawn from its sizes, and so
what follows from a row of them. It leaves the mathematics of one stretch to `curves`,
the figures of a whole outline to `outlines`, and cutting solids to the workpiece.
A plan of the elements knows no numbers but which follow from which: the same rows give
the outline here, and the values at other sizes on a page.

Each element begins at the running diameter, where the one before it ended, unless
it says otherwise; a different start makes a shoulder. The slenderness is the whole
length over the neck's diameter. The neck is the least diameter anywhere, except
within an end that closes to a dome or a point.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from handouts_build.language import tr, tr_about, tr_later
from handouts_build.quantities import UNITS, Quantity, exact
from handouts_build.trade.curves import HALF_BEAD, HALF_COVE, arc_laws, curve_rows, line_rows, quarter_laws
from handouts_build.trade.elements import (
    BeadElement,
    CavettoElement,
    CoveElement,
    CylinderElement,
    Element,
    OgeeElement,
    OvoloElement,
    ProfileFault,
    RoundElement,
    RoundStartElement,
    TaperElement,
    VeeElement,
)
from handouts_build.trade.law import Demand
from handouts_build.trade.outlines import OutlinePoint, OutlineSegment, Profile, total_rows
from handouts_build.trade.rows import Rows

__all__ = ["Check", "OutlinePlan", "outline", "planned"]


_KEYS = {"long": "long", "diameter": "diameter", "start": "from", "to": "to", "end": "to"}
"""An element's sizes by the words of a project file."""

_RISES = Demand(
    "diameter > max(d0, d1)", "problem", tr_later("a bead {diameter} across does not rise over its ends"),
    tr_later("make its diameter more than at both its ends"),
)  # fmt: skip
_SINKS = {
    "cove": Demand(
        "diameter < min(d0, d1)", "problem", tr_later("a cove {diameter} across does not sink below its ends"),
        tr_later(
            "make its diameter less than at both its ends; a quarter-hollow from one diameter to another is a cavetto"
        ),
    ),
    "vee": Demand(
        "diameter < min(d0, d1)", "problem", tr_later("a vee {diameter} across does not sink below its ends"),
        tr_later("make its diameter less than at both its ends"),
    ),
}  # fmt: skip
_GENTLE = Demand(
    "abs(d1 - d0) <= 2 * long", "problem", tr_later("this ogee rises or falls by more than its length"),
    tr_later("make it longer, or its diameters more alike"),
)  # fmt: skip


@dataclass(frozen=True)
class Check:
    """What an element's sizes must meet to make an outline."""

    demand: Demand
    index: int
    """Which element."""
    stands_for: Mapping[str, str]
    """The given that each name of the demand is."""


@dataclass
class OutlinePlan:
    """Elements in a row: what follows from what, without numbers.

    Givens are named by the element and its key in a project file, such as `3.from`.
    """

    rows: Rows = field(default_factory=Rows)
    checks: list[Check] = field(default_factory=list)
    segments: list[OutlineSegment] = field(default_factory=list)

    def failed(self, given: Mapping[str, Quantity]) -> Iterator[Check]:
        """The checks that these sizes do not meet, one an element.

        Args:
            given: Every given by its name.
        """
        for check in self.checks:
            if not check.demand.met({name: given[full] for name, full in check.stands_for.items()}):
                yield check

    def drawn(self, given: Mapping[str, Quantity]) -> Profile:
        """The outline at these sizes, which meet every check.

        Args:
            given: Every given by its name.
        """
        values = self.rows.worked({name: _mm(value) for name, value in given.items()})
        return Profile(tuple(self.segments), values)


def outline(elements: Sequence[Element]) -> Profile:
    """The outline that the elements make, first at x = 0.

    Args:
        elements: From one end of the part to the other.

    Raises:
        ProfileFault: If they make none.
    """
    plan, given = planned(elements), _given(elements)
    for check in plan.failed(given):
        message = check.demand.message
        for name, full in check.stands_for.items():
            message = message.replace(f"{{{name}}}", _said(given[full]))
        raise ProfileFault(message, check.demand.remedy, check.index)
    return plan.drawn(given)


def _given(elements: Sequence[Element]) -> dict[str, Quantity]:
    """Every size of every element by its name."""
    given: dict[str, Quantity] = {}
    for number, element in enumerate(elements, start=1):
        for size, key in _KEYS.items():
            value = getattr(element, size, None)
            if value is not None:
                given[f"{number}.{key}"] = value
    return given


def planned(elements: Sequence[Element]) -> OutlinePlan:
    """What follows from what in a row of elements.

    Args:
        elements: From one end of the part to the other.

    Raises:
        ProfileFault: If they make no outline at any size, or a size is none.
    """
    if not elements:
        raise ProfileFault("the profile has no elements", "list at least one, such as a cylinder", 0)
    plan = OutlinePlan()
    nought = plan.rows.add("nought", "0 mm")
    x, running = nought, ""
    for index, element in enumerate(elements):
        _sound(element, index)
        x, running = _Planner(plan, element, index, x, running).segment()
        *before, end = plan.segments[-1].points
        starts_closed = any(point.diameter == nought for point in before)
        if (starts_closed and index > 0) or (end.diameter == nought and index < len(elements) - 1):
            raise ProfileFault(
                f"this {element.kind} reaches the axis, which cuts the part in two",
                "only an end may come to nought",
                index,
            )
    total_rows(plan.rows, plan.segments)
    return plan


def _sound(element: Element, index: int) -> None:
    """Refuse an element with a size that is none."""
    if _mm(element.long) <= 0:
        raise ProfileFault(
            f"this {element.kind} is {_said(element.long)} long", "give a length of more than nought", index
        )
    for called in ("start", "diameter", "to", "end"):
        value = getattr(element, called, None)
        if value is None:
            continue
        least = 0 if isinstance(element, TaperElement) and called == "to" else 1e-300
        if _mm(value) < least:
            raise ProfileFault(f"{called} is {_said(value)}", "give a diameter of more than nought", index)


class _Planner:
    """One element's rows, its checks and its places.

    Args:
        plan: Where they go.
        element: The element; only what it has is asked, never how much, unless it comes to a point.
        index: Which it is.
        x: The row that is its start along the axis.
        running: The given that is the diameter the element before ended at; empty at the first.
    """

    def __init__(self, plan: OutlinePlan, element: Element, index: int, x: str, running: str) -> None:
        self.plan, self.element, self.index = plan, element, index
        self.x, self.running = x, running
        self.number = str(index + 1)
        self.long = f"{self.number}.long"

    def segment(self) -> tuple[str, str]:
        """Plan it; the rows that are its end along the axis and the diameter there."""
        element, number = self.element, self.number
        middle: list[OutlinePoint] = []
        names = [number]
        own, name = f"{number}.diameter", element.label or element.kind
        called = element.label or tr_about("an element of a profile", element.kind)
        match element:
            case CylinderElement():
                d0 = d1 = own
                self._line(number, d0, d1)
            case TaperElement():
                d0, d1 = self._begins(element.start), f"{number}.to" if _mm(element.to) else "nought"
                self._line(number, d0, d1)
            case OgeeElement():
                d0, d1 = self._begins(element.start), f"{number}.to"
                names = self._ogee(d0, d1)
            case RoundElement():
                d0, d1 = self._begins(element.start), "nought"
                self._curve(quarter_laws(swells=True), d0, d1)
            case RoundStartElement():
                d0, d1 = "nought", f"{number}.to"
                self._curve(quarter_laws(swells=True), d0, d1)
            case OvoloElement() | CavettoElement():
                d0, d1 = self._begins(element.start), f"{number}.to"
                self._curve(quarter_laws(swells=isinstance(element, OvoloElement)), d0, d1)
            case BeadElement() | CoveElement() | VeeElement():
                d0 = self._begins(element.start)
                d1 = d0 if element.end is None else f"{number}.to"
                demand = _RISES if isinstance(element, BeadElement) else _SINKS[element.kind]
                self._check(demand, diameter=own, d0=d0, d1=d1)
                names, top = self._risen(element, d0, d1)
                bent = (
                    tr("{element}, largest", element=called)
                    if isinstance(element, BeadElement)
                    else tr("{element}, deepest", element=called)
                )
                middle = [OutlinePoint(top, own, bent, name)]
        end = f"{names[-1]}.x1"
        points = (
            OutlinePoint(self.x, d0, tr("{element} starts", element=called), name, "starts"),
            *middle,
            OutlinePoint(end, d1, tr("{element} ends", element=called), name, "ends"),
        )
        self.plan.segments.append(OutlineSegment(element.kind, element.label, tuple(names), points))
        return end, d1

    def _begins(self, start: Quantity | None) -> str:
        if start is not None:
            return f"{self.number}.from"
        if not self.running:
            kind = self.element.kind
            raise ProfileFault(
                f"a {kind} at the very start has no diameter to begin from", "give it one with from", self.index
            )
        return self.running

    def _check(self, demand: Demand, **stands_for: str) -> None:
        self.plan.checks.append(Check(demand, self.index, stands_for))

    def _line(self, name: str, d0: str, d1: str, *, x: str = "", long: str = "") -> None:
        line_rows(self.plan.rows, name, x0=x or self.x, long=long or self.long, d0=d0, d1=d1)

    def _curve(self, laws: Mapping[str, str], d0: str, d1: str, **more: str) -> None:
        curve_rows(self.plan.rows, self.number, laws, x0=self.x, long=self.long, d0=d0, d1=d1, **more)

    def _half(self) -> str:
        return self.plan.rows.add(f"{self.number}.half", "long / 2", long=self.long)

    def _risen(self, element: BeadElement | CoveElement | VeeElement, d0: str, d1: str) -> tuple[list[str], str]:
        """A bead, cove or V on the line between its end diameters: its stretches, and where its extreme is."""
        own, number = f"{self.number}.diameter", self.number
        if isinstance(element, VeeElement):
            names, half = [f"{number}.a", f"{number}.b"], self._half()
            self._line(names[0], d0, own, long=half)
            self._line(names[1], own, d1, x=f"{names[0]}.x1", long=half)
            return names, f"{names[0]}.x1"
        self._curve(HALF_BEAD if isinstance(element, BeadElement) else HALF_COVE, d0, d1, d=own)
        # Where m + s v + c √(1 - v²) is greatest or least, v is s / (its extreme - m).
        top = "x0 + long / 2 * (1 + (d1 - d0) / (2 * d - d0 - d1))"
        known = {"x0": self.x, "long": self.long, "d": own, "d0": d0, "d1": d1}
        return [number], self.plan.rows.add(f"{number}.top", top, **known)

    def _ogee(self, d0: str, d1: str) -> list[str]:
        """Two equal arcs, tangent where they meet and level at their ends.

        Where it rises as much as it is long each is a quarter of a circle; more rise than length has no such arcs.
        """
        self._check(_GENTLE, d0=d0, d1=d1, long=self.long)
        rows, number = self.plan.rows, self.number
        names, known = [f"{number}.a", f"{number}.b"], {"long": self.long, "d0": d0, "d1": d1, "half": self._half()}
        known["rise"] = rows.add(f"{number}.rise", "(d1 - d0) / 2", **known)
        known["high"] = rows.add(f"{number}.high", "max(abs(rise), long / 10000)", **known)
        known["round"] = rows.add(f"{number}.round", "(long^2 + high^2) / (4 * high)", **known)
        known["share"] = rows.add(f"{number}.share", "rise / high", **known)
        known["long"] = known.pop("half")
        curve_rows(rows, names[0], arc_laws(first=True), x0=self.x, **known)
        curve_rows(rows, names[1], arc_laws(first=False), x0=f"{names[0]}.x1", **known)
        return names


def _mm(value: Quantity) -> float:
    return float(value.m_as(UNITS["mm"]))


def _said(value: Quantity) -> str:
    return f"{exact(value, 'in')} ({exact(value, 'mm')})"
