"""Wood sawn from a log and turned across its grain: half log, quarter log, whole section.

This module owns their solids, and what of them is bark, pith, or the saw's. The bark is at the
left end, where places begin, and the log runs along x; a bowl so laid out has its rim toward the bark.
"""

from __future__ import annotations

import math
from collections.abc import Collection
from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from handouts_build.workpiece.axes import Axis, Floats
from handouts_build.workpiece.blanks import (
    BARK_SAYS,
    LONG_SAYS,
    PITH_ANGLE_SAYS,
    PITH_SAYS,
    BaseBlank,
    Grain,
    bark_and_pith,
    pith_angle_alone,
)
from handouts_build.workpiece.declared import angle, length
from handouts_build.workpiece.solid import Solid

__all__ = ["HalfLog", "Log", "LogSection", "QuarterLog"]

_SIDES = 144
"""A log is drawn with no fewer sides, so that its bark is as thick as told."""
_FLAT = 0.8
"""A face whose normal leans further along the turning axis is on an end; the saw's faces of a quarter lie at 45°."""
_SKIN_MM = 0.3
"""Nearer to the bark's surface than this is what drawing a circle with straight sides leaves."""


@dataclass(frozen=True, kw_only=True)
class Log(BaseBlank):
    """What every piece of a log shares; the diameter is declared by each under a word of its own."""

    lead: ClassVar[str] = "a"
    together: ClassVar[str] = "saw line and kerf go with a half or a quarter log, sawn round with any log"
    told_by_name: ClassVar[bool] = True
    as_grown: ClassVar[bool] = True
    own_grain: ClassVar[Grain | None] = Grain.ACROSS
    section: ClassVar[tuple[str, ...]] = ("diameter",)

    diameter_mm: float
    long_mm: float = length(LONG_SAYS, example="ball + 1 in", noun="length", above_nought=True)
    """Along the grain, square to the axis it turns on."""
    bark_mm: float = length(BARK_SAYS, example="1/8 in", default=0.0)
    pith_mm: float = length(PITH_SAYS, example="3/8 in", default=0.0, noun="pith off the axis")
    pith_deg: float = angle(PITH_ANGLE_SAYS, word="pith angle", example="90 deg", default=0.0)
    round_mm: float = length(
        "Diameter that a piece of a log is sawn round to before it is mounted; it keeps its corners if not given.",
        word="sawn round",
        example="8 in",
        default=0.0,
        noun="sawn round",
    )
    grain: Grain = Grain.ACROSS

    @property
    def face_mm(self) -> float:
        """How far the sawn face lies from the log's middle, mm; nought where none is sawn lengthwise."""
        return 0.0

    @property
    def high_mm(self) -> float:
        """How much wood there is along the turning axis, from the bark to the other end, mm."""
        raise NotImplementedError

    @property
    def wide_mm(self) -> float:
        """Its greatest width square to the grain and to the turning axis, mm."""
        raise NotImplementedError

    def _sawn(self, log: Solid) -> Solid:
        """What faces slanted to the turning axis leave of the log, in its own coordinates, x toward the bark."""
        return log

    @classmethod
    def _wide(cls, given: Collection[str], across: str) -> str:
        """Its width as a formula, over a formula for the log's diameter."""
        raise NotImplementedError

    @classmethod
    def misfit(cls, given: Collection[str]) -> tuple[str, str] | None:
        """An angle without a distance."""
        return pith_angle_alone(given)

    @classmethod
    def across(cls, measures: Collection[str], *, natural: bool = False) -> tuple[str, str]:
        """Sawn round it swings that, or no more than its corners, on which it swings else."""
        wide = cls._wide(measures, "diameter")
        wood = cls._wide(measures, "(diameter - 2 * bark)") if "bark" in measures and not natural else wide
        sawn = "sawn_round, " if "sawn round" in measures else ""
        corners = f"sqrt(length ^ 2 + ({wide}) ^ 2)"
        return f"min({sawn}{corners})" if sawn else corners, f"min({sawn}length, {wood})"

    @classmethod
    def keeps_pith(cls, given: Collection[str]) -> bool:
        """Unless it is sawn off the middle, and nothing says that the pith lies there too."""
        return "saw line" not in given or "pith" in given

    def wrong(self) -> tuple[str, str, str] | None:
        """Bark or pith that the log has no room for, or a saw line past the wood."""
        fault = bark_and_pith(self, "log")
        if fault is not None:
            return fault
        if self.face_mm < 0 or self.high_mm <= self.bark_mm or self.wide_mm <= 0:
            return "saw line", "the saw leaves no wood under the bark", "saw nearer to the middle of the log"
        return None

    def body(self, segments: int) -> Solid:
        """The log, sawn lengthwise, and round about the axis that it turns on."""
        sides = max(segments, _SIDES)
        # A flat of the polygon lies square to the axis, so that places begin at the bark.
        turns = (np.arange(sides) + 0.5) * 2 * math.pi / sides
        radius = self.diameter_mm / 2 / math.sqrt(math.sin(2 * math.pi / sides) / (2 * math.pi / sides))
        outline = [(radius * math.cos(turn), radius * math.sin(turn)) for turn in turns]
        whole = Solid.prism([outline], start_mm=-self.long_mm / 2, end_mm=self.long_mm / 2)
        wood = self._sawn(whole).moved(self.grown)
        # A sawn face square to the axis is cut here, where it comes to lie on the same grid as what is turned.
        start, far = -1.0, self.diameter_mm + self.long_mm
        room = [(-far, -far), (far, -far), (far, far), (-far, far)]
        if self.round_mm <= 0:
            return wood & Solid.prism([room], start_mm=start, end_mm=self.high_mm)
        return wood & Solid.cylinder(
            radius_mm=self.round_mm / 2, start_mm=start, end_mm=self.high_mm, segments=segments
        )

    @property
    def grown(self) -> Axis:
        """Along x, half the log's diameter beneath its bark; its angle 0 is toward the bark."""
        return Axis((0.0, 0.0, self.diameter_mm / 2), (1.0, 0.0, 0.0), (0.0, 0.0, -1.0))

    @property
    def under_bark_mm(self) -> float:
        """What its bark leaves."""
        return self.diameter_mm - 2 * self.bark_mm

    @property
    def pith_at_mm(self) -> tuple[float, float]:
        """As far off the log's middle as told, and that way."""
        turn = math.radians(self.pith_deg)
        return self.pith_mm * math.cos(turn), self.pith_mm * math.sin(turn)

    def saw_left_mm2(self, faces: Floats) -> float:
        """How much of the saw's own faces, crosscut, lengthwise or round, stands on its sides, mm².

        Args:
            faces: Triangles that no cut has made, M x 3 x 3: triangle, corner, coordinate; part coordinates, mm.
        """
        if not len(faces):
            return 0.0
        normals = np.cross(faces[:, 1] - faces[:, 0], faces[:, 2] - faces[:, 0]) / 2
        areas = np.linalg.norm(normals, axis=1)
        local = self.grown.to_lathe(faces)
        bark = (np.hypot(local[..., 0], local[..., 1]) > self.diameter_mm / 2 - _SKIN_MM).all(axis=1)
        # A crosscut runs out to the bark as well, but lies square to the grain.
        bark &= np.abs(normals[:, 0]) < 0.5 * areas
        side = np.abs(normals[:, 2]) < _FLAT * areas
        return float(areas[side & ~bark].sum())


@dataclass(frozen=True, kw_only=True)
class SawnLog(Log):
    """What a log shares that is sawn lengthwise."""

    saw_line_mm: float = length(
        "How far from the middle of the log it is sawn lengthwise, which leaves the pith on the other side; through "
        "the middle if not given.",
        word="saw line",
        example="1/2 in",
        default=0.0,
        noun="saw line off the middle",
    )
    kerf_mm: float = length(
        "Width of the chain saw's cut, of which each side loses half; none if not given.", example="3/8 in", default=0.0
    )

    @property
    def face_mm(self) -> float:
        """The saw line, and half of what the saw makes chips of."""
        return self.saw_line_mm + self.kerf_mm / 2

    @classmethod
    def _face(cls, given: Collection[str]) -> str:
        """The distance of the sawn face from the middle, as a formula."""
        terms = {"saw line off the middle": "saw_line_off_the_middle", "kerf": "kerf / 2"}
        return " + ".join(text for noun, text in terms.items() if noun in given) or "0 * diameter"


@dataclass(frozen=True, kw_only=True)
class HalfLog(SawnLog):
    """Half a log, sawn lengthwise and turned across the grain, its bark at the left end.

    A bowl with a natural edge has its rim there and its foot at the sawn face, which is the right end.
    """

    word: ClassVar[str] = "half log"
    title: ClassVar[str] = "half log"
    example: ClassVar[str] = "blank-half-log"
    called: ClassVar[str] = "half log"
    remedy: ClassVar[str] = "write {half log: 10 in, bark: 1/4 in, long: 9 in}"
    swings: ClassVar[str] = "sqrt(length ^ 2 + diameter ^ 2)"
    largest_round: ClassVar[str] = "min(length, diameter)"

    diameter_mm: float = length(
        "Diameter of the log that is halved, over the bark.", word="half log", example="10 in", noun="diameter",
        above_nought=True,
    )  # fmt: skip

    @property
    def high_mm(self) -> float:
        """The sagitta of the segment."""
        return self.diameter_mm / 2 - self.face_mm

    @property
    def wide_mm(self) -> float:
        """The chord of the segment."""
        return 2 * math.sqrt(max(0.0, (self.diameter_mm / 2) ** 2 - self.face_mm**2))

    @classmethod
    def along(cls, measures: Collection[str]) -> str:
        """Half the diameter less what is sawn off."""
        return f"diameter / 2 - ({cls._face(measures)})"

    @classmethod
    def _wide(cls, given: Collection[str], across: str) -> str:
        return f"2 * sqrt(max(0 * diameter ^ 2, ({across} / 2) ^ 2 - ({cls._face(given)}) ^ 2))"


@dataclass(frozen=True, kw_only=True)
class QuarterLog(SawnLog):
    """A quarter of a log, turned across the grain about the line from its bark to the ridge between the sawn faces."""

    word: ClassVar[str] = "quarter log"
    title: ClassVar[str] = "quarter log"
    example: ClassVar[str] = "blank-quarter-log"
    called: ClassVar[str] = "quarter log"
    remedy: ClassVar[str] = "write {quarter log: 14 in, bark: 1/4 in, long: 7 in}"
    swings: ClassVar[str] = "sqrt(length ^ 2 + diameter ^ 2 / 2)"
    largest_round: ClassVar[str] = "min(length, diameter / sqrt(2))"

    diameter_mm: float = length(
        "Diameter of the log that is quartered, over the bark.", word="quarter log", example="14 in", noun="diameter",
        above_nought=True,
    )  # fmt: skip

    @property
    def high_mm(self) -> float:
        """From the bark to the ridge, which lies √2 as far from the middle as the faces."""
        return self.diameter_mm / 2 - math.sqrt(2) * self.face_mm

    @property
    def wide_mm(self) -> float:
        """Between the corners at which the faces meet the bark."""
        radius, face = self.diameter_mm / 2, self.face_mm
        return math.sqrt(2) * (math.sqrt(max(0.0, radius**2 - face**2)) - face)

    @classmethod
    def along(cls, measures: Collection[str]) -> str:
        """From the bark to the ridge."""
        return f"diameter / 2 - sqrt(2) * ({cls._face(measures)})"

    @classmethod
    def _wide(cls, given: Collection[str], across: str) -> str:
        face = cls._face(given)
        return f"sqrt(2) * (sqrt(max(0 * diameter ^ 2, ({across} / 2) ^ 2 - ({face}) ^ 2)) - ({face}))"

    def _sawn(self, log: Solid) -> Solid:
        ridge, far = math.sqrt(2) * self.face_mm, 2 * self.diameter_mm
        wedge = [(ridge, 0.0), (ridge + far, -far), (ridge + far, far)]
        return log & Solid.prism([wedge], start_mm=-self.long_mm, end_mm=self.long_mm)


@dataclass(frozen=True, kw_only=True)
class LogSection(Log):
    """A whole section of a log, bark and pith, turned across the grain."""

    word: ClassVar[str] = "log"
    title: ClassVar[str] = "log section"
    example: ClassVar[str] = "blank-log"
    called: ClassVar[str] = "log"
    remedy: ClassVar[str] = "write {log: 8 in, bark: 1/4 in, long: 7 in}"
    swings: ClassVar[str] = "sqrt(length ^ 2 + diameter ^ 2)"
    largest_round: ClassVar[str] = "min(length, diameter)"

    diameter_mm: float = length(
        "Diameter of a log that is not split, over the bark.", word="log", example="8 in", noun="diameter",
        above_nought=True,
    )  # fmt: skip

    @property
    def high_mm(self) -> float:
        """Bark to bark."""
        return self.diameter_mm

    @property
    def wide_mm(self) -> float:
        """The same."""
        return self.diameter_mm

    @classmethod
    def along(cls, measures: Collection[str]) -> str:
        """Bark to bark."""
        del measures
        return "diameter"

    @classmethod
    def _wide(cls, given: Collection[str], across: str) -> str:
        del given
        return across
