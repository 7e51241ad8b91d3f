"""What every drawing shares: a group's numbers in mm, a round scale, and being finished.

This module owns the step from a group's values to paper, and from paper to a `Figure`.
It leaves what is drawn to the module of each kind.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from handouts_build.figures.canvas import Canvas
from handouts_build.figures.dimensioning import block
from handouts_build.figures.figure import Figure
from handouts_build.figures.style import NOTE_PT, Role
from handouts_build.language import tr
from handouts_build.quantities import UNITS, Printed, Quantity, closes
from handouts_build.sheet import Group

__all__ = ["Numbers", "Scale", "adding_up", "change", "finished", "mm", "noted"]

_RATIOS = (1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0)
_WRITTEN = {1.25: "5 : 4", 1.5: "3 : 2", 2.5: "5 : 2"}


def mm(length: Quantity) -> float:
    """A length as a number of mm."""
    return float(length.m_as(UNITS["mm"]))


class Numbers:
    """A group's values by their short names, in mm for drawing and in words for print.

    Args:
        group: Worked out.
    """

    def __init__(self, group: Group) -> None:
        self._values = group.values
        self._printed = group.printed

    def __contains__(self, name: str) -> bool:
        return name in self._values

    def mm(self, name: str) -> float:
        """A length, in mm."""
        return mm(self._values[name])

    def whole(self, name: str) -> int:
        """A count."""
        return round(float(self._values[name].magnitude))

    def degrees(self, name: str) -> float:
        """An angle, in degrees."""
        return float(self._values[name].m_as(UNITS["deg"]))

    def __getitem__(self, name: str) -> Printed:
        return self._printed[name]

    def more_than_nought(self, name: str) -> bool:
        """Whether it is known and there is any of it."""
        return name in self._values and self._values[name].magnitude > 0


class Scale(float):
    """Millimetres on paper for each millimetre of wood, from the round scales only."""

    @classmethod
    def fitting(cls, *rooms: tuple[float, float]) -> Scale:
        """The largest round scale at which every length fits its room.

        Args:
            rooms: Pairs of a length of wood and the room for it on paper, in mm.
        """
        most = min(room / length for length, room in rooms if length > 0) * (1 + 1e-9)
        power = 10.0 ** math.floor(math.log10(most))
        if most >= 1:
            return cls(max(ratio for ratio in _RATIOS if ratio <= most / power) * power)
        # Below full size the round scales are the same ones turned over.
        need = 1 / most
        power = 10.0 ** math.floor(math.log10(need) + 1e-12)
        return cls(1 / (min(ratio for ratio in (*_RATIOS, 10.0) if ratio >= need / power - 1e-9) * power))

    def __str__(self) -> str:
        large = self if self >= 1 else 1 / self
        ratio = next((text for size, text in _WRITTEN.items() if math.isclose(size, large)), f"{large:,.6g} : 1")
        return ratio if self >= 1 else " : ".join(reversed(ratio.split(" : ")))


def change(known: Numbers, name: str, *, more: str, less: str, none: str, **values: object) -> str:
    """What a signed length does, as a sentence: by its exact value, however little of it is printed.

    Args:
        known: The group's values.
        name: The length.
        more: Said where it is more than nought, with `{amount}` for it; from a table of ours.
        less: Said where it is less.
        none: Said where it is nought.
        **values: What else is put in.
    """
    exact, printed = known.mm(name), known[name]
    if not exact and not printed.rounded.magnitude:
        return tr(none, **values)
    amount = printed.amount if printed.rounded.magnitude else tr("less than a thousandth of an inch")
    return tr(less if exact < 0 else more, amount=amount, **values)


def adding_up(links: Sequence[Printed], whole: Printed, lead: str) -> list[Printed]:
    """The lengths of a chain as they are lettered: none that do not come to the whole.

    Where each is told elsewhere too and they do not add up in a unit, the longest is left to follow from the others in
    that unit: a chain with its whole has one dimension more than it needs (ISO 129-1 on auxiliary dimensions, from
    memory).

    Args:
        links: As printed, in a row.
        whole: As printed.
        lead: The unit that leads, `in` or `mm`.
    """
    values = list(links)
    if not values:
        return values
    longest = max(range(len(values)), key=lambda index: values[index].rounded.magnitude)
    for unit, name in (("inch", "in"), ("mm", "mm")):
        if not closes(links, whole, unit):
            said = {"lead": ""} if name == lead else {"other": ""}
            values[longest] = replace(values[longest], **said, **{unit: None})  # type: ignore[arg-type]
    return values


def noted(canvas: Canvas, *lines: str, scale: Scale | None = None) -> None:
    """Notes below all that is drawn so far, and the scale last.

    Args:
        canvas: To draw on.
        lines: The notes; a break in one begins a new line.
        scale: Said when it is given.
    """
    room = canvas.extent
    notes = [line for note in lines for line in note.splitlines()]
    said = [*notes, tr("Scale {scale} in print", scale=scale)] if scale is not None else notes
    middle = (room.left + room.right) / 2
    for each, line in enumerate(said):
        role = Role.INK if each < len(notes) else Role.FAINT
        block(canvas, (middle, room.bottom - 3.6 - each * 3.9), [line], size_pt=NOTE_PT, ground=None, role=role)


def finished(canvas: Canvas, group: Group, kind: str, title: str, alt: Sequence[str]) -> Figure:
    """The drawing as it is handed on.

    Args:
        canvas: Drawn.
        group: What it draws.
        kind: The last part of its name.
        title: What it is.
        alt: Sentences that say what it shows, with its numbers.
    """
    svg, width, height = canvas.svg()
    return Figure(f"{group.name}-{kind}", group.name, title, svg, " ".join(alt), round(width, 2), round(height, 2))
