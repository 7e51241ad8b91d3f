"""A part put on another by their joint, and turned with it for a while: a lid jammed or screwed on its box.

This module owns where it sits, what holds it there, and whether the joint does. The cuts that are made on both are
made in `work`; how a tenon goes into a hole is for `join`, what is said of the fit for others.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from handouts_build.workpiece.axes import PART_AXIS, Axis
from handouts_build.workpiece.faults import WorkpieceFault
from handouts_build.workpiece.features import Feature
from handouts_build.workpiece.holds import BaseHold, JamChuck
from handouts_build.workpiece.join import Fit, Joint, Piece, Placed, joined, undone
from handouts_build.workpiece.solid import Solid
from handouts_build.workpiece.stage import PutOn, Stage
from handouts_build.workpiece.verdicts import Code, Limits, Subject, Thing, Verdict

__all__ = ["Lid", "grip_of", "joint_holds", "put_on"]


@dataclass(frozen=True, eq=False, kw_only=True)
class Lid:
    """A part that is put on another, where it sits."""

    item: PutOn
    frame: Axis
    """Its own axis, in the coordinates of the part that it is put on."""
    fit: Fit
    """How the joint fits as it is put on."""
    begun: Solid
    """Its wood as the step begins, in the coordinates of the part that it is put on."""
    stage: Stage
    """As it is now, in its own coordinates."""

    @property
    def wood(self) -> Solid:
        """Its wood with its loose rings, in the coordinates of the part that it is put on."""
        return self.stage.shown.moved(self.frame)

    @property
    def sits_on(self) -> str:
        """The tenon or the hole of the other part that it sits on."""
        return self.item.hole if self.item.tenon_on_it else self.item.tenon

    def lathe(self, axis: Axis) -> Axis:
        """The lathe's axis in the coordinates of the part that is put on.

        Args:
            axis: The same in those of the part that it is put on.
        """
        return undone(self.frame).placed(axis)


def put_on(item: PutOn, stage: Stage, *, wood: Solid, features: Mapping[str, Feature]) -> Lid:
    """A part put on another.

    Args:
        item: What is put on, and by which joint.
        stage: That part as it is.
        wood: The part that it is put on.
        features: What earlier cuts made on that.

    Returns:
        Where it sits.

    Raises:
        WorkpieceFault: If its half of the joint, or the other's, is not made yet, or they do not go together.
    """
    theirs, ours = (item.tenon, item.hole) if item.tenon_on_it else (item.hole, item.tenon)
    for name, known in ((ours, features), (theirs, stage.features)):
        if name not in known:
            raise WorkpieceFault(
                f"'{name}', by which '{item.part}' is held here, is not made yet",
                "make it in a step before this one, or put the part on later",
            )
    host, guest = Piece(name="", stage=Stage(wood=wood, features=features)), Piece(name=item.part, stage=stage)
    base, piece = (host, guest) if item.tenon_on_it else (guest, host)
    joint = Joint(
        piece=piece.name, onto=base.name, tenon=item.tenon, hole=item.hole, far=item.far, turn_deg=item.turn_deg
    )
    there = Placed(base, PART_AXIS, base.stage.shown)
    placed, fit = joined([there], there, piece, joint)
    frame = placed.frame if item.tenon_on_it else undone(placed.frame)
    return Lid(item=item, frame=frame, fit=fit, begun=stage.shown.moved(frame), stage=stage)


def grip_of(lid: Lid, hold: BaseHold) -> JamChuck:
    """What holds a part that is put on another: the other is its jam chuck.

    Args:
        lid: Where it sits.
        hold: What holds the other.
    """
    on = lid.item.tenon if lid.item.tenon_on_it else lid.item.hole
    return JamChuck(on=on, tailstock=hold.supported, tail_mm=hold.tail_mm, steadied=hold.steadied)


def joint_holds(lid: Lid, hold: BaseHold, limits: Limits) -> Iterator[Verdict]:
    """Whether the joint alone turns a part that is put on another: a thread does, a fit with play does not.

    A bead in its groove keeps it from coming off, and turns it where the bead fills the groove.

    Args:
        lid: Where it sits.
        hold: What holds the other.
        limits: Where minding begins.
    """
    fit = lid.fit
    if fit.thread is not None or fit.half_threaded or fit.gone:
        return
    play = fit.play_mm
    if fit.snap is not None and fit.snap.bead_mm > fit.snap.mouth_mm:
        play = min(play, fit.snap.groove_mm - fit.snap.bead_mm)
    if play > limits.grips_mm:
        about = (Thing(Subject.CUT, lid.item.part), Thing(Subject.FEATURE, lid.sits_on))
        yield Verdict(Code.LOOSE_FIT if hold.supported else Code.FLIES_OFF, about, {"play_mm": play})
