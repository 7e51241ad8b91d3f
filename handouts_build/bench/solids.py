"""The wood before and after one step, as the bench turns it about, with the dimensions of the step's own cuts.

This module owns which of a cut's keys can be drawn as a dimension, and where each lies on the wood. The meshes are
those of the published viewer.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from handouts_build import workpiece as kernel
from handouts_build.compute.solid.measured import carried
from handouts_build.figures.solid.pack import PackedStage, payload
from handouts_build.quantities import decimal
from handouts_build.sheet import Part, Sheet, Step
from handouts_build.site.known_lengths import KnownLengths
from handouts_build.site.picturing import glued_woods, grown_bark, light_mesh, middle_of, standing
from handouts_build.workpiece.cut import Made
from handouts_build.workpiece.declared import DeclaredKey, KeyKind, keys_of

if TYPE_CHECKING:
    from handouts_build.compute.solid.carry import Solids

__all__ = ["StepSolid", "step_solid"]

_ACROSS = ("diameter", "circle", "across")
"""Keys that are measured across an axis."""
_ALONG = ("long", "deep", "wide", "kerf")
"""Keys that are measured along one, over what the cut takes away."""
_PLACES = ("at", "start", "end", "from")
"""Keys that are measured along the axis from where places are counted."""
_NEAR = 0.03
"""Share by which what is measured on the facets may differ from what was asked for."""
_LEAST_EFFORT = 1


@dataclass(frozen=True)
class StepSolid:
    """What the bench shows of a step's wood."""

    packed: dict[str, object]
    """Two stages as the viewer takes them: before, and after."""
    changed: bool
    """Whether the step cuts."""
    dimensions: tuple[dict[str, object], ...]
    """Those that are drawn, each with its line in the viewer's millimetres and its text in both units."""
    cuts: tuple[dict[str, object], ...]
    """The step's cuts, each with the keys that it was given."""


def step_solid(sheet: Sheet, solids: Solids, part: Part, step: Step) -> StepSolid | None:
    """One step's wood; None where its part is not carried as a solid.

    Args:
        sheet: The project, worked out.
        solids: Its parts.
        part: The step's part.
        step: One of its steps.

    Raises:
        WorkpieceFault: With the step and the cut that cannot be carried out.
    """
    held = solids.parts.get(part.name)
    if held is None:
        return None
    stages = carried(held.plan, solids.shop, held.limits)
    at = part.steps.index(step)
    before, now = stages[at], stages[at + 1]
    middle = middle_of(stages[0])
    lies = kernel.lying(stage.toward_tail for stage in stages)[1:][at]
    shown = []
    for says, stage in (("before", before), ("after", now)):
        mesh, grown = light_mesh(stage.mounted, middle, lies), grown_bark(held.plan, middle, stage.shrinkage, lies)
        shown.append(PackedStage(says, mesh, grown, glued_woods(sheet, held.plan, stage, mesh, middle, lies)))
    blank = light_mesh(stages[0].wood, middle, lies)
    telling = _CutTelling(now, KnownLengths(sheet, [step]), middle, lies)
    return StepSolid(
        packed=payload(shown, camera=standing(blank, ""), title=f"{part.title}: {step.name}", effort=_LEAST_EFFORT),
        changed=bool(now.step and now.step.cuts),
        dimensions=tuple(telling.dimensions()),
        cuts=tuple(telling.cuts()),
    )


class _CutTelling:
    """One stage's cuts in numbers."""

    def __init__(self, stage: kernel.Stage, lengths: KnownLengths, middle: float, lies: kernel.Axis) -> None:
        self.stage, self.lengths, self.middle, self.lies = stage, lengths, middle, lies
        # A step repeated over several holds makes its cuts several times: the first is told.
        self.made: dict[int, Made] = {}
        for made in stage.made:
            if made.serial in stage.serials:
                self.made.setdefault(made.cut, made)

    def cuts(self) -> Iterator[dict[str, object]]:
        """Each cut with its word, its name and what it was given."""
        for index, cut in enumerate(self.stage.step.cuts if self.stage.step is not None else ()):
            keys = [
                {"word": key.word, "lead": lead, "other": other, "says": key.says}
                for key in keys_of(type(cut))
                if (printed := self._printed(key, getattr(cut, key.field))) is not None
                for lead, other in (printed,)
            ]
            made = self.made.get(index)
            yield {"word": cut.word, "name": made.base if made is not None else cut.name, "keys": keys}

    def dimensions(self) -> Iterator[dict[str, object]]:
        """Each key of each cut that can be drawn on the wood; what two cuts share stands once."""
        drawn: list[dict[str, object]] = []
        for index, cut in enumerate(self.stage.step.cuts if self.stage.step is not None else ()):
            made = self.made.get(index)
            if made is None:
                continue
            axis, low, high = self._reach(made)
            for key in keys_of(type(cut)):
                value = getattr(cut, key.field)
                if key.kind is not KeyKind.LENGTH or value is None or value == key.default:
                    continue
                line = self._line(key.word, float(value), made, axis, low, high)
                if line is not None and line not in drawn:
                    drawn.append(line)
                    lead, other = self.lengths.told(float(value))
                    yield {**line, "word": key.word, "cut": made.base, "lead": lead, "other": other}

    def _line(
        self, word: str, value: float, made: Made, axis: kernel.Axis, low: float, high: float
    ) -> dict[str, object] | None:
        """Where a dimension lies: across an axis at a place, or along one between two."""
        if word in _ACROSS:
            place = self._widest(made, axis, value / 2) if not made.features else (low + high) / 2
            return {"kind": "across", **self._along(axis, place, place), "radius": value / 2}
        off = self._off(made, axis)
        if word in _ALONG and abs((high - low) - value) <= max(0.3, _NEAR * value):
            return {"kind": "along", **self._along(axis, low, high), "radius": off}
        if word in _PLACES and abs(value) > 0.01:
            return {"kind": "along", **self._along(made.axis, 0.0, value), "radius": self._off(made, made.axis)}
        return None

    def _reach(self, made: Made) -> tuple[kernel.Axis, float, float]:
        """The axis a cut is measured by, and what it takes along it: a hole has its own."""
        if made.features and (feature := self.stage.features.get(made.features[0])) is not None and feature.long_mm:
            return feature.axis, 0.0, feature.long_mm
        places = made.axis.to_lathe(made.chips.vertices)[:, 2] if not made.chips.is_empty else np.zeros(1)
        return made.axis, float(places.min()), float(places.max())

    def _widest(self, made: Made, axis: kernel.Axis, radius: float) -> float:
        """The middle of where a cut's faces stand at a radius; that of all it takes away, where they do not."""
        points = axis.to_lathe(made.chips.vertices) if not made.chips.is_empty else np.zeros((1, 3))
        near = points[np.abs(np.hypot(points[:, 0], points[:, 1]) - radius) <= max(0.1, _NEAR * radius)]
        places = (near if len(near) else points)[:, 2]
        return float((places.min() + places.max()) / 2)

    def _off(self, made: Made, axis: kernel.Axis) -> float:
        """How far from an axis the wood reaches that a cut takes away."""
        if made.chips.is_empty:
            return 0.0
        points = axis.to_lathe(made.chips.vertices)
        return float(np.hypot(points[:, 0], points[:, 1]).max())

    def _along(self, axis: kernel.Axis, start: float, end: float) -> dict[str, object]:
        """Two places of an axis, as the viewer has them."""
        points = axis.to_part(np.array([[0.0, 0.0, start], [0.0, 0.0, end]])) - np.array([0.0, 0.0, self.middle])
        seen = self.lies.to_lathe(points)
        way = self.lies.to_lathe(np.array(axis.direction)) - self.lies.to_lathe(np.zeros(3))
        return {
            "start": [round(each, 3) for each in seen[0].tolist()],
            "end": [round(each, 3) for each in seen[1].tolist()],
            "axis": [round(each, 5) for each in way.tolist()],
        }

    def _printed(self, key: DeclaredKey, value: object) -> tuple[str, str] | None:
        """A key's value in both units; None where there is nothing to tell."""
        if value is None or value == key.default:
            return None
        if key.kind is KeyKind.LENGTH and isinstance(value, (int, float)):
            return self.lengths.told(float(value))
        if key.kind is KeyKind.ANGLE and isinstance(value, (int, float)):
            return f"{decimal(float(value), 1)}°", ""
        if key.kind is KeyKind.COUNT:
            return str(value), ""
        if key.kind is KeyKind.CHOICE:
            return str(getattr(value, "value", value)), ""
        if key.kind is KeyKind.THING:
            return str(value), ""
        if key.kind is KeyKind.THINGS and isinstance(value, (tuple, list)):
            return ", ".join(map(str, value)), ""
        return None
