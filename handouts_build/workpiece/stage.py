"""A step as it is given, and the stage it leaves.

This module owns the shape of both. Carrying a step out is in `work`, carrying a part
through all of them in `stages`.
"""

from __future__ import annotations

import functools
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from handouts_build.workpiece.axes import PART_AXIS, Axis, Floats, Vector
from handouts_build.workpiece.blanks import BaseBlank
from handouts_build.workpiece.cut import BaseCut, LooseRing, Made
from handouts_build.workpiece.features import Feature
from handouts_build.workpiece.findings import Meetings
from handouts_build.workpiece.holds import BaseHold, End, toward_tail
from handouts_build.workpiece.loose import hanging, resting
from handouts_build.workpiece.marks import BaseMark, Texture
from handouts_build.workpiece.measures import AirCut, Held, Spindle
from handouts_build.workpiece.shrinkage import AS_GROWN, Drying, Shrinkage
from handouts_build.workpiece.solid import Mesh, Solid
from handouts_build.workpiece.verdicts import Verdict
from handouts_build.workpiece.web import Web

if TYPE_CHECKING:
    from handouts_build.workpiece.inlaid import Inset
    from handouts_build.workpiece.lids import Lid
    from handouts_build.workpiece.stages import Offcut

__all__ = ["LetIn", "PutOn", "Stage", "WorkStep"]


@dataclass(frozen=True, kw_only=True)
class LetIn:
    """A part of its own wood that a step glues into a hole, or into each of a set."""

    part: str
    blank: BaseBlank
    steps: tuple[WorkStep, ...]
    """Of that part; it is let in as they leave it."""
    tenon: str
    """Its round that goes into the hole."""
    hole: str
    """The hole, or the cut that made several."""
    turn_deg: float = 0.0


@dataclass(frozen=True, kw_only=True)
class PutOn:
    """A part that a hold puts on this one by their joint, to be turned with it: a lid on its box."""

    part: str
    blank: BaseBlank | Offcut
    steps: tuple[WorkStep, ...]
    """Of that part; it is put on as they leave it, or as it was taken off last."""
    tenon: str
    hole: str
    tenon_on_it: bool = False
    """Whether the tenon is on the part that is put on, and the hole in the one that it is put on."""
    far: bool = False
    """Whether the tenon goes into the other end of a hole that is right through."""
    turn_deg: float = 0.0


@dataclass(frozen=True, kw_only=True)
class WorkStep:
    """One thing done to a part: what holds it, what is cut."""

    name: str
    holds: tuple[BaseHold, ...] = ()
    """One, or several over which the same cuts are repeated; none: held as in the step before."""
    cuts: tuple[BaseCut, ...] = ()
    marks: tuple[BaseMark, ...] = ()
    """Drawn on the wood as the step finds it, on its first hold."""
    rpm: float | None = None
    """Speed the author gives."""
    dries: Drying | None = None
    """What drying does in it to green wood, when all is cut; none where none dries."""
    let_in: tuple[LetIn, ...] = ()
    """What is glued into its holes before it is cut."""
    put_on: PutOn | None = None
    """What its hold puts on it; it comes off with the next hold."""

    @property
    def shrinks(self) -> bool:
        """Whether the wood is known to get smaller in it, as it dries."""
        return self.dries is not None and self.dries.changes


@dataclass(frozen=True, eq=False, kw_only=True)
class Stage:
    """The solid after a step, and what was read off it."""

    wood: Solid
    step: WorkStep | None = None
    """None for the blank."""
    number: int = -1
    """Which step, counting from 0; -1 for the blank."""
    hold: BaseHold | None = None
    """As the step leaves it."""
    axis: Axis = PART_AXIS
    """Of that hold."""
    features: Mapping[str, Feature] = field(default_factory=dict)
    made: tuple[Made, ...] = ()
    """All cuts so far, by their serials; the first is the blank itself."""
    loose: tuple[LooseRing, ...] = ()
    """Rings that were cut free and stay on the wood, each where it was cut."""
    marks: Mapping[int, int] = field(default_factory=dict)
    """Which cut each mark on the wood's faces stands for."""
    lines: tuple[Floats, ...] = ()
    """Pencil lines this step draws, N x 3 each, part coordinates; one point is a dot."""
    insets: tuple[Inset, ...] = ()
    """What has been let in so far, in turn."""
    lid: Lid | None = None
    """What is put on it now, and turns with it."""
    lids: Mapping[str, Stage] = field(default_factory=dict)
    """All that was put on it so far, by the part's name, each as it was left."""
    textures: tuple[Texture, ...] = ()
    """Textured bands so far, each as the cuts since have left it."""
    meetings: Meetings = field(default_factory=dict)
    breached: frozenset[str] = frozenset()
    serials: tuple[int, ...] = ()
    """Of this step's cuts: faces with these origins are new."""
    chips_mm3: float = 0.0
    """Wood this step makes into chips."""
    waste_mm3: float = 0.0
    """Wood that falls off whole."""
    offcut: Solid | None = None
    """What fell off whole at the last parting of this step: it may be the blank of another part."""
    offcut_insets: tuple[Inset, ...] = ()
    """What was let into that, and is gone with it."""
    radius_before_mm: float = 0.0
    """Greatest distance of wood from the axis as the step begins: what the speed is set by."""
    radius_mm: float = 0.0
    """The same as it ends."""
    shrinkage: Shrinkage = AS_GROWN
    """What drying has left so far of the sizes of the blank's wood."""
    uneven: float = 0.0
    """How far from round about the axis the wood is as the step begins, 0 to 1; nought where it does not turn."""
    unbalance: float = 0.0
    """How far the center of gravity lies off the axis as the step begins, over the greatest radius about it."""
    bare: bool = False
    """Whether this step's tool takes off some of the blank's own side, which nothing has turned yet."""
    held: Held | None = None
    """How far the wood stands out of its hold; none between centers or at rest."""
    spindle: Spindle | None = None
    """Where the step turns the outside."""
    air: tuple[AirCut, ...] = ()
    webs: tuple[Web, ...] = ()
    """Wood that this step's cuts leave to others, least first."""
    pieces: int = 1
    """Pieces after the step; more than one is a verdict, and the largest goes on."""
    verdicts: tuple[Verdict, ...] = ()

    @functools.cached_property
    def shown(self) -> Solid:
        """The wood with its loose rings, as they are seen: those of earlier steps hang on the stem."""
        return Solid.all_of([self.wood, *self.rings])

    @functools.cached_property
    def rings(self) -> tuple[Solid, ...]:
        """Its loose rings, each where it is seen."""
        fresh = {cut.name for cut in self.made if cut.serial in self.serials}
        return tuple(ring.body if ring.name in fresh else hanging(ring, self.wood) for ring in self.loose)

    @functools.cached_property
    def mounted(self) -> Solid:
        """The wood as it is seen in the lathe, with its loose rings and what is put on it."""
        return self.shown if self.lid is None else Solid.all_of([self.shown, self.lid.wood])

    def standing(self, down: End | None) -> Solid:
        """The wood with its loose rings, as the finished piece stands; none: as it lies in the lathe.

        Args:
            down: The end that is below.
        """
        if down is None or not self.loose:
            return self.shown
        return Solid.all_of([self.wood, *resting(self.loose, self.wood, down=down)])

    @functools.cached_property
    def as_grown(self) -> Solid:
        """The wood as large as it was in the blank: where pith and bark are is told there."""
        return self.wood if self.shrinkage == AS_GROWN else self.wood.scaled(self.shrinkage.undone.factors)

    @property
    def volume_mm3(self) -> float:
        """Wood left, mm³; exact for rounds about one axis, since circles are drawn with their own area."""
        return self.wood.volume_mm3 + sum(ring.body.volume_mm3 for ring in self.loose)

    @property
    def center_mm(self) -> Vector:
        """Center of gravity, part coordinates."""
        return self.wood.center_mm

    @property
    def box_mm(self) -> tuple[float, float, float, float, float, float]:
        """Least x, y, z and greatest x, y, z."""
        return self.wood.box_mm

    @property
    def toward_tail(self) -> Vector | None:
        """From the headstock to the tail, a unit vector in part coordinates; none where the lathe does not turn it."""
        return None if self.hold is None else toward_tail(self.hold, self.axis, self.features)

    @functools.cached_property
    def mesh(self) -> Mesh:
        """Triangles, each with the serial of the cut that left it."""
        return self.shown.mesh(dict(self.marks))

    @functools.cached_property
    def removed(self) -> Solid:
        """All that this step took, waste too."""
        taken = [cut.chips for cut in self.made if cut.serial in self.serials and not cut.chips.is_empty]
        if self.lid is not None:
            taken.append(self.lid.stage.removed.moved(self.lid.frame))
        return Solid.all_of(taken) if taken else Solid.empty()

    @property
    def least(self) -> Web | None:
        """The least wood that this step leaves between two cuts."""
        return self.webs[0] if self.webs else None
