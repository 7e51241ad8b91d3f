"""From solids to pictures: what is drawn of each stage, with what holds it, and of the finished piece.

This module owns the meeting of the workpiece and the figures: which view a part is
seen from, where jaws and centers are drawn, what goes into the files to download. How a
picture looks is for `figures`, where it stands for `outputs`.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from handouts_build import workpiece as kernel
from handouts_build.compute.solid.assembled import assembled
from handouts_build.compute.solid.measured import carried
from handouts_build.disk.workers import is_worker
from handouts_build.figures.shot import PAGE_PX, PAPER_PX, Shot, shot
from handouts_build.figures.solid.camera import INTO, THREE_QUARTER
from handouts_build.figures.solid.holds import center, jaws, plate
from handouts_build.figures.solid.mesh import bounds_of, joined
from handouts_build.figures.solid.pack import PackedStage, packed
from handouts_build.figures.solid.picture import (
    Bark,
    Camera,
    Cutaway,
    GluedCourse,
    GluedRound,
    GlueUp,
    Mark,
    SurfaceMesh,
)
from handouts_build.language import tr
from handouts_build.tables.wood_tones import wood_tone
from handouts_build.workpiece import Vector

if TYPE_CHECKING:
    from handouts_build.compute.solid.assembled import Together
    from handouts_build.compute.solid.carry import Solids
    from handouts_build.compute.solid.plan import PartPlan
    from handouts_build.sheet import Sheet

__all__ = [
    "bark",
    "glued_woods",
    "grown_bark",
    "light_mesh",
    "middle_of",
    "models",
    "stage_shots",
    "standing",
    "viewer",
    "whole_shot",
]

_HANDS = 2
"""Pictures drawn at once: more would wait for each other."""
_COARSE_MM = 0.03
"""How far points may be moved in what a page turns about."""
_FILE_MM = 0.06
"""The same for files to download."""
_BARK = (0.09, 0.06, 0.04)
_WOODS = ((0.30, 0.17, 0.09), (0.72, 0.52, 0.30), (0.45, 0.26, 0.13))
"""Colors of the parts in a file to download, linear red, green and blue."""

_TONES = {
    "pale": (0.78, 0.64, 0.42), "tan": (0.72, 0.52, 0.30), "red": (0.45, 0.17, 0.08), "brown": (0.17, 0.09, 0.05),
    "dark": (0.06, 0.045, 0.04),
}  # fmt: skip
"""The same of woods beside one another in a glued-up blank, by their tones."""

_STANDS = {
    "": kernel.PART_AXIS,
    "right": kernel.Axis((0.0, 0.0, 0.0), (-1.0, 0.0, 0.0), (0.0, 0.0, 1.0)),
    "left": kernel.Axis((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, -1.0)),
}
"""How the finished piece stands among its steps, by the end that is above."""


@dataclass(frozen=True)
class _DrawnStage:
    """One stage as it is drawn."""

    stage: kernel.Stage
    before: kernel.Stage
    lies: kernel.Axis
    """How the part lies in the lathe: z from the headstock, x upright."""
    holds: tuple[SurfaceMesh, ...] = ()


def stage_shots(sheet: Sheet, solids: Solids, *, dark: bool) -> dict[int, Shot]:
    """A picture of every step that cuts or marks a part, by the step's number.

    Args:
        sheet: The project, worked out.
        solids: Its parts.
        dark: Whether they are wanted for dark pages too; else they are for paper alone, and smaller.
    """
    wanted: dict[int, Callable[[], Shot]] = {}
    for part in sheet.every_part:
        carried_part = solids.parts.get(part.name)
        if carried_part is None:
            continue
        stages = carried(carried_part.plan, solids.shop, carried_part.limits)
        seen = _seen(stages)
        for step, drawn, camera in zip(part.steps, seen, _cameras(stages[0], seen), strict=True):
            if step.stage is not None and step.stage.changed:
                opened = _opened(camera) if step.stage.cut_away else None
                mesh = _mesh(drawn.stage.shown)
                lid = drawn.stage.lid
                seen_mesh = mesh if lid is None else joined([mesh, _mesh(lid.wood)])
                wanted[step.number] = partial(
                    shot, f"{sheet.name}-step-{step.number}", step.stage.says, seen_mesh,
                    camera=camera, removed=_mesh(drawn.stage.removed), marks=_marks(drawn.stage),
                    axis=_axis(drawn), holds=drawn.holds, cutaway=opened,
                    barks=bark(carried_part.plan, mesh, drawn.stage.shrinkage), dark=dark,
                    glued=glue_up(carried_part.plan, drawn.stage, _woods(sheet), mesh),
                    wide_px=PAGE_PX if dark else PAPER_PX,
                )  # fmt: skip
    # numpy lets go of the interpreter while it works, so that pictures are drawn side by side.
    with ThreadPoolExecutor(1 if is_worker() else _HANDS) as hands:
        return dict(zip(wanted, hands.map(lambda draw: draw(), wanted.values()), strict=True))


def _seen(stages: Sequence[kernel.Stage]) -> list[_DrawnStage]:
    """A part's stages as they lie in the lathe, each with what holds it."""
    lies = kernel.lying(stage.toward_tail for stage in stages)[1:]
    seen = [
        _DrawnStage(now, before, frame) for (before, now), frame in zip(itertools.pairwise(stages), lies, strict=True)
    ]
    return [replace(drawn, holds=tuple(_holds(drawn))) for drawn in seen]


def _mesh(solid: kernel.Solid) -> SurfaceMesh:
    """A solid as pictures take it."""
    found = solid.mesh()
    return SurfaceMesh(found.vertices, found.triangles, found.origins)


def _wood(stage: kernel.Stage) -> SurfaceMesh:
    return SurfaceMesh(stage.mesh.vertices, stage.mesh.triangles, stage.mesh.origins)


def bark(
    plan: PartPlan, mesh: SurfaceMesh, dried: kernel.Shrinkage, *, frame: kernel.Axis = kernel.PART_AXIS, first: int = 0
) -> list[Bark]:
    """The branch or log that a part is cut from, if it is one.

    Args:
        plan: The part.
        mesh: Its wood.
        dried: What drying has left of its sizes.
        frame: How it lies in what is drawn.
        first: How many triangles are drawn before its own.
    """
    blank = plan.blank.stock
    if blank.pith_at_mm is None or blank.under_bark_mm is None:
        return []
    pith = blank.grown.to_part(np.array([*blank.pith_at_mm, 0.0]))
    middle, core = (kernel.vector(frame.to_part(dried.points(at))) for at in (np.array(blank.grown.origin), pith))
    own = (first, first + len(mesh.triangles))
    along = frame.placed(blank.grown).direction
    return [Bark(middle, along, core, blank.under_bark_mm / 2, own, _undried(dried, frame.matrix[:, :3]))]


def _undried(dried: kernel.Shrinkage, turn: NDArray[np.float64]) -> tuple[kernel.Vector, kernel.Vector, kernel.Vector]:
    """Rows of the matrix from ways in a picture to those before the wood dried, for the turn that it is drawn with."""
    first, second, third = turn @ np.diag(dried.undone.factors) @ turn.T
    return kernel.vector(first), kernel.vector(second), kernel.vector(third)


def glue_up(
    plan: PartPlan, stage: kernel.Stage, woods: Mapping[str, str], mesh: SurfaceMesh, *,
    frame: kernel.Axis = kernel.PART_AXIS, first: int = 0,
) -> list[GlueUp]:  # fmt: skip
    """The woods of a part that is glued up of several, or that has others let into it.

    Args:
        plan: The part.
        stage: What is drawn of it.
        woods: The wood of each part, by its name.
        mesh: Its wood.
        frame: How it lies in what is drawn.
        first: How many triangles are drawn before its own.
    """
    blank = plan.blank.stock
    whole = frame
    courses: tuple[GluedCourse, ...] = (GluedCourse(0.0, 0.0, (wood_tone(woods[plan.part]),)),)
    if isinstance(blank, kernel.GluedStack):
        courses = tuple(
            GluedCourse(course.end_mm, course.turn_deg, tuple(blank.tones[wood] for wood in course.woods))
            for course in blank.courses
        )
    elif not isinstance(blank, kernel.Laminated) and not any(step.let_in for step in plan.steps):
        return []
    if isinstance(blank, kernel.Laminated):
        # Its courses are its boards, from the first one's outer face through all of them.
        ends = itertools.accumulate(layer.thick_mm for layer in blank.layers)
        courses = tuple(
            GluedCourse(end, 0.0, (blank.tones[layer.wood],)) for end, layer in zip(ends, blank.layers, strict=True)
        )
        frame = frame.placed(blank.stacked)
    zero = frame.to_part(np.zeros(3))
    x, y, z = (kernel.vector(frame.to_part(way) - zero) for way in np.eye(3))
    rounds = tuple(_round_in(inset, whole, wood_tone(woods[inset.part])) for inset in stage.insets)
    return [GlueUp(kernel.vector(zero), (x, y, z), courses, (first, first + len(mesh.triangles)), rounds)]


def _round_in(inset: kernel.Inset, frame: kernel.Axis, tone: str) -> GluedRound:
    """A plug or an inlay as pictures take it."""
    axis = frame.placed(inset.axis)
    return GluedRound(
        axis.origin, axis.direction, inset.diameter_mm / 2, inset.outer_mm, inset.start_mm, inset.end_mm, tone
    )


def _woods(sheet: Sheet) -> dict[str, str]:
    """The wood of each part, by its name."""
    return {part.name: part.wood for part in sheet.every_part}


def _cameras(blank: kernel.Stage, seen: Sequence[_DrawnStage]) -> list[Camera]:
    """One view of the lathe for all of a part's stages, from the end at which more is done inside.

    A part that is turned around is drawn by walking around it: each stage's camera is the same one,
    told in part coordinates.
    """
    cuts = [(cut, drawn) for drawn in seen if drawn.stage.step is not None for cut in drawn.stage.step.cuts]
    inside = kernel.Bore | kernel.Recess | kernel.Hollow | kernel.AxialHoles
    # A cut's end is told along the axis on which places grow, which may run toward the headstock.
    ends = [
        (cut.end is kernel.End.LEFT) is (np.dot(drawn.stage.axis.direction, drawn.lies.direction) >= 0)
        for cut, drawn in cuts
        if isinstance(cut, inside)
    ]
    left = 2 * ends.count(True) > len(ends)
    into = any(isinstance(cut, kernel.Hollow) for cut, _ in cuts)
    across, above, along = INTO if into else THREE_QUARTER
    middle = middle_of(blank)
    first = _wood(blank)
    meshes = [_lying(first, drawn.lies, middle) for drawn in seen]
    lids = [(drawn.stage.lid.begun, drawn.lies) for drawn in seen if drawn.stage.lid is not None]
    meshes += [_lying(_mesh(lid), lies, middle) for lid, lies in lids]
    meshes += [_lying(mesh, drawn.lies, middle) for drawn in seen for mesh in drawn.holds]
    view = _framed(Camera.fit(bounds_of(meshes), direction=(across, above, -along if left else along)), meshes)
    return [_walked(view, drawn.lies, middle) for drawn in seen]


def middle_of(blank: kernel.Stage) -> float:
    """The place on the blank's own axis about which a part is turned around."""
    return (blank.box_mm[2] + blank.box_mm[5]) / 2


def _lying(mesh: SurfaceMesh, lies: kernel.Axis, middle: float) -> SurfaceMesh:
    """Wood or what holds it as it lies in the lathe, its middle where it was."""
    about = np.array([0.0, 0.0, middle])
    return SurfaceMesh(lies.to_lathe(mesh.vertices.astype(float) - about) + about, mesh.triangles, mesh.origin)


def _walked(view: Camera, lies: kernel.Axis, middle: float) -> Camera:
    """A view of the lathe as a view of the part that lies in it."""
    about = np.array([0.0, 0.0, middle])
    shift = about - lies.to_lathe(about)
    across, down = view.center
    right, up, toward, upright = (
        kernel.vector(lies.to_part(np.array(way))) for way in (view.right, view.up, view.toward, view.upright)
    )
    return replace(
        view,
        right=right,
        up=up,
        toward=toward,
        upright=upright,
        center=(across - float(shift @ np.array(view.right)), down - float(shift @ np.array(view.up))),
    )


def _framed(camera: Camera, meshes: Sequence[SurfaceMesh], *, least_aspect: float = 4 / 3) -> Camera:
    """The same view, its frame close about what is seen: a box about a piece reaches further than the piece."""
    spots = [mesh.vertices.astype(float) @ np.array([camera.right, camera.up]).T for mesh in meshes]
    low, high = np.min([points.min(0) for points in spots], 0), np.max([points.max(0) for points in spots], 0)
    room = 0.08 * float((high - low).max())
    wide, tall = (float(side) + room for side in high - low)
    middle = (low + high) / 2
    return replace(
        camera,
        center=(float(middle[0]), float(middle[1])),
        width_mm=max(wide, tall * least_aspect),
        height_mm=tall,
    )


def _opened(camera: Camera) -> Cutaway:
    return Cutaway.quarter(camera, point=(0.0, 0.0, 0.0), axis=(0.0, 0.0, 1.0))


def _marks(stage: kernel.Stage) -> list[Mark]:
    """Pencil lines, and the strokes of textures: those that this step draws or makes stand out."""
    own = {id(mark) for mark in stage.step.marks} if stage.step is not None else set()
    return [
        *(Mark(_points(line)) for line in stage.lines),
        *(_stroke(line, new=id(texture.mark) in own) for texture in stage.textures for line in texture.lines),
    ]


def _stroke(line: NDArray[np.float64], *, new: bool = False) -> Mark:
    return Mark(_points(line), new=new)


def _points(line: NDArray[np.float64]) -> tuple[Vector, ...]:
    return tuple((float(x), float(y), float(z)) for x, y, z in line)


def _axis(drawn: _DrawnStage) -> tuple[Vector, Vector] | None:
    """The axis it turns on, standing out a little at both ends."""
    hold = drawn.stage.hold
    if hold is None or not hold.turns:
        return None
    low, high = _ends(drawn)
    out, line = 0.12 * (high - low) + 4, _line(drawn.stage)
    return _on(line, low - out), _on(line, high + out)


def _line(stage: kernel.Stage) -> kernel.Axis:
    """The axis it turns on, from the headstock to the tail, whichever way places are measured."""
    way = stage.toward_tail
    backward = way is not None and float(np.array(way) @ np.array(stage.axis.direction)) < 0
    return stage.axis.moved(0.0, turned=backward)


def _ends(drawn: _DrawnStage) -> tuple[float, float]:
    """Where the wood begins at the headstock and ends at the tail, along the line it turns on."""
    wood = [drawn.before.wood, *([drawn.stage.lid.begun] if drawn.stage.lid is not None else [])]
    places = np.concatenate([_line(drawn.stage).to_lathe(each.vertices)[:, 2] for each in wood])
    return float(places.min()), float(places.max())


def _on(axis: kernel.Axis, place: float, *, off: float = 0.0) -> Vector:
    """A point of an axis."""
    x, y, z = (start + place * along for start, along in zip(axis.origin, axis.direction, strict=True))
    return x, y + off, z


def _turned(direction: Vector) -> Vector:
    x, y, z = direction
    return -x, -y, -z


def _holds(drawn: _DrawnStage) -> Iterator[SurfaceMesh]:
    """Jaws, plates and centers as a step leaves them: first what is at the headstock, then the tail's."""
    now, hold = drawn.stage, drawn.stage.hold
    if hold is None or not hold.turns:
        return
    low, high = _ends(drawn)
    line = _line(now)
    along = line.direction
    box = drawn.before.box_mm
    across = min(box[3] - box[0], box[4] - box[1])
    if isinstance(hold, kernel.BetweenHoles):
        for name in (hold.first, hold.second):
            hole = now.features[name].axis
            yield center(hole.origin, direction=_turned(hole.direction), diameter_mm=hold.drive_mm or 9.0)
        return
    head = min(16.0, max(6.0, 0.45 * across))
    if isinstance(hold, kernel.Mandrel):
        out = 2 * head
        yield plate(_on(line, low - out), direction=along, diameter_mm=0.6 * head, thick_mm=high - low + 2 * out)
        return
    if isinstance(hold, kernel.BetweenCenters):
        yield center(_on(line, low), direction=_turned(along), diameter_mm=hold.drive_mm or head)
        yield center(_on(line, high), direction=along, diameter_mm=head)
        return
    yield _grip(now, hold, low, across)
    if hold.supported:
        yield center(_on(line, high), direction=along, diameter_mm=head)


def _grip(now: kernel.Stage, hold: kernel.BaseHold, low: float, across: float) -> SurfaceMesh:
    """What holds it at the headstock."""
    line = _line(now)
    out = _turned(line.direction)
    if hold.needs:
        feature = now.features[hold.needs[0]]
        if feature.hollow:
            # What goes into a hole is seen as the body behind it.
            return plate(feature.axis.origin, direction=out, diameter_mm=max(feature.diameter_mm * 0.9, 12.0))
        deep = max(feature.long_mm, 2.0)
        return jaws(feature.axis.origin, direction=out, grip_mm=feature.diameter_mm, deep_mm=deep)
    if isinstance(hold, kernel.JamChuck | kernel.JawsOnBlank) and hold.deep_mm:
        return jaws(_on(line, low + hold.deep_mm), direction=out, grip_mm=across, deep_mm=hold.deep_mm)
    wide = hold.diameter_mm if isinstance(hold, kernel.Faceplate) else None
    return plate(_on(line, low), direction=out, diameter_mm=wide or min(0.7 * across, 90.0))


def whole_shot(sheet: Sheet, together: Together, shop: kernel.ShopLimits, *, dark: bool) -> Shot | None:
    """The finished piece, as it stands, hangs or lies.

    Args:
        sheet: The project, worked out.
        together: Its parts and joints.
        shop: The shop's limits.
        dark: Whether it is wanted for dark pages too.
    """
    if sheet.whole is None:
        return None
    whole = assembled(together.parts, together.joints, shop, up=together.whole.up).opened
    meshes = [_mesh(placed.wood) for placed in whole.placed]
    mesh = joined(meshes)
    camera = standing(mesh, sheet.whole.up)
    opened = _opened(camera) if sheet.whole.cut_away else None
    plans = {part.plan.part: part.plan for part in together.parts}
    barks: list[Bark] = []
    glued: list[GlueUp] = []
    for index, (placed, own) in enumerate(zip(whole.placed, meshes, strict=True)):
        first = sum(len(before.triangles) for before in meshes[:index])
        dried = placed.piece.stage.shrinkage
        barks += bark(plans[placed.piece.name], own, dried, frame=placed.frame, first=first)
        stage, plan = placed.piece.stage, plans[placed.piece.name]
        glued += glue_up(plan, stage, _woods(sheet), own, frame=placed.frame, first=first)
    marks = [
        _stroke(placed.frame.to_part(line))
        for placed in whole.placed
        for texture in placed.piece.stage.textures
        for line in texture.lines
    ]
    name = f"{sheet.name}-finished"
    return shot(
        name, sheet.whole.says, mesh, camera=camera, cutaway=opened, barks=barks, glued=glued, marks=marks, dark=dark
    )


def standing(mesh: SurfaceMesh, up: str) -> Camera:
    """A view of the piece as it stands: an end above, or lying.

    Args:
        mesh: The piece about its axis, mm.
        up: The end that is above, `left` or `right`; empty if it lies.
    """
    if not up:
        return _framed(Camera.fit(mesh.bounds, direction=THREE_QUARTER), [mesh])
    above = (0.0, 0.0, -1.0) if up == "left" else (0.0, 0.0, 1.0)
    camera = Camera.fit(mesh.bounds, direction=(0.75, 1.0, 0.55 * above[2]), up=above)
    return _framed(camera, [mesh], least_aspect=1.0)


def viewer(sheet: Sheet, solids: Solids, together: Together | None) -> str:
    """The script that lets a page turn the piece about, stage by stage.

    Args:
        sheet: The project, worked out.
        solids: Its parts.
        together: They put together; None where they are not.

    Returns:
        JavaScript; empty where there is nothing to turn.
    """
    stages: list[PackedStage] = []
    several = sum(part.name in solids.parts for part in sheet.parts) > 1
    for part in sheet.parts:
        carried_part = solids.parts.get(part.name)
        if carried_part is None:
            continue
        found = carried(carried_part.plan, solids.shop, carried_part.limits)
        middle = middle_of(found[0])
        lies = kernel.lying(stage.toward_tail for stage in found)[1:]
        mesh = light_mesh(found[0].shown, middle)
        stages.append(
            PackedStage(
                tr("{part}: blank", part=part.title) if several else tr("blank"),
                mesh,
                grown_bark(carried_part.plan, middle, found[0].shrinkage),
                glued_woods(sheet, carried_part.plan, found[0], mesh, middle),
            )
        )
        for step, stage, frame in zip(part.steps, found[1:], lies, strict=True):
            if step.stage is not None and stage.step is not None and (stage.step.cuts or stage.step.shrinks):
                grown = grown_bark(carried_part.plan, middle, stage.shrinkage, frame)
                mesh = light_mesh(stage.mounted, middle, frame)
                glued = glued_woods(sheet, carried_part.plan, stage, mesh, middle, frame)
                called = f"{step.number}, {step.name}"
                named = tr("{part}: {step}", part=part.title, step=called) if several else called
                stages.append(PackedStage(named, mesh, grown, glued))
    if together is not None and (len(together.parts) > 1 or together.whole.up):
        whole = assembled(together.parts, together.joints, solids.shop, up=together.whole.up)
        stands = _STANDS[together.whole.up]
        grown = _grown_whole(whole, together, stands)
        called = tr("Put together") if len(together.parts) > 1 else tr("Finished")
        mesh = _whole(whole, stands)
        stages.append(PackedStage(called, mesh, grown, _glued_whole(sheet, whole, together, mesh, stands)))
        if any(joint.apart_mm for joint in together.joints):
            stages.append(PackedStage(tr("Drawn apart"), _whole(whole.opened, stands)))
    if not stages:
        return ""
    # The lathe's view for all: the finished piece stands up in it.
    return packed(sheet.name, stages, camera=standing(stages[-1].mesh, ""), title=sheet.title)


def grown_bark(
    plan: PartPlan, middle: float, dried: kernel.Shrinkage, lies: kernel.Axis = kernel.PART_AXIS
) -> Bark | None:
    """The log or branch of a stage as it lies in the lathe, its middle along its own axis at nought.

    Args:
        plan: The part.
        middle: Place of the stage's middle along the part's axis, mm.
        dried: What drying has left of the wood's sizes so far.
        lies: The axis it turns on, in part coordinates.

    Returns:
        Where its bark is, mm; None of a blank without bark.
    """
    blank = plan.blank.stock
    if blank.under_bark_mm is None or blank.bark_mm <= 0:
        return None
    origin = lies.to_lathe(dried.points(np.array(blank.grown.origin)) - np.array([0.0, 0.0, middle]))
    turn = lies.inverse[:, :3]
    along = kernel.vector(turn @ np.array(blank.grown.direction))
    at = kernel.vector(origin)
    return Bark(at, along, at, blank.under_bark_mm / 2, (0, 0), _undried(dried, turn))


def _grown_whole(whole: kernel.Assembly, together: Together, stands: kernel.Axis) -> Bark | None:
    """The same of a finished piece of one part; of several, no line tells their bark from each other's wood."""
    if len(whole.placed) != 1:
        return None
    return grown_bark(together.parts[0].plan, _middle(whole), whole.placed[0].piece.stage.shrinkage, stands)


def glued_woods(
    sheet: Sheet, plan: PartPlan, stage: kernel.Stage, mesh: SurfaceMesh, middle: float,
    lies: kernel.Axis = kernel.PART_AXIS,
) -> GlueUp | None:  # fmt: skip
    """The woods of a stage as it lies in the lathe, its middle along its own axis at nought.

    Args:
        sheet: The project, worked out.
        plan: The part.
        stage: What is seen of it.
        mesh: The same as a mesh.
        middle: Place of its middle along the part's axis, mm.
        lies: The axis it turns on, in part coordinates.

    Returns:
        Where its woods are, mm; None of a part that is of one wood.
    """
    turn = lies.inverse[:, :3]
    origin = kernel.vector(lies.to_lathe(np.array([0.0, 0.0, -middle])))
    frame = kernel.Axis(origin, kernel.vector(turn[:, 2]), kernel.vector(turn[:, 0]))
    return next(iter(glue_up(plan, stage, _woods(sheet), mesh, frame=frame)), None)


def _glued_whole(
    sheet: Sheet, whole: kernel.Assembly, together: Together, mesh: SurfaceMesh, stands: kernel.Axis
) -> GlueUp | None:
    """The same of a finished piece of one part; of several, no line tells their woods apart."""
    if len(whole.placed) != 1:
        return None
    stage = whole.placed[0].piece.stage
    return glued_woods(sheet, together.parts[0].plan, stage, mesh, _middle(whole), stands)


def _whole(whole: kernel.Assembly, stands: kernel.Axis) -> SurfaceMesh:
    """The finished piece, coarse, as it stands in the lathe's view."""
    return joined([light_mesh(placed.wood, _middle(whole), stands) for placed in whole.placed])


def _middle(whole: kernel.Assembly) -> float:
    """Where the middle of a finished piece lies along its axis, mm."""
    low = min(placed.wood.box_mm[2] for placed in whole.placed)
    return (low + max(placed.wood.box_mm[5] for placed in whole.placed)) / 2


def light_mesh(solid: kernel.Solid, middle: float, lies: kernel.Axis = kernel.PART_AXIS) -> SurfaceMesh:
    """A coarse mesh as it lies in the lathe, its middle along its own axis at nought.

    Args:
        solid: In part coordinates, mm.
        middle: Place of its middle along the part's axis, mm.
        lies: The axis it turns on, in part coordinates.
    """
    found = solid.simplified(_COARSE_MM).mesh()
    moved = lies.to_lathe(found.vertices.astype(float) - np.array([0.0, 0.0, middle]))
    return SurfaceMesh(moved.astype(found.vertices.dtype), found.triangles, found.origins)


def models(sheet: Sheet, together: Together, shop: kernel.ShopLimits) -> dict[str, bytes]:
    """The finished piece as files for other tools.

    Args:
        sheet: The project, worked out.
        together: Its parts and joints.
        shop: The shop's limits.

    Returns:
        glTF (binary, meters) and STL (binary, millimetres), by file name.
    """
    whole = assembled(together.parts, together.joints, shop, up=together.whole.up).opened
    woods = [
        kernel.true_threads(placed.piece.stage).moved(placed.frame)
        if kernel.has_threads(placed.piece.stage)
        else placed.wood
        for placed in whole.placed
    ]
    plans = {part.plan.part: part.plan for part in together.parts}
    looks: list[kernel.ColoredSolid] = []
    for index, (placed, whole_wood) in enumerate(zip(whole.placed, woods, strict=True)):
        own = plans[placed.piece.name].blank.stock
        for inset in placed.piece.stage.insets:
            room = inset.room.moved(placed.frame)
            tone = _TONES[wood_tone(_woods(sheet)[inset.part])]
            looks.append(kernel.ColoredSolid(f"{inset.part} in {inset.hole}", whole_wood & room, tone))
            whole_wood = whole_wood - room
        if isinstance(own, kernel.GluedStack | kernel.Laminated):
            looks += _by_wood(placed.piece.name, own, whole_wood, placed.frame)
            continue
        wood, bark = own.barked(whole_wood, placed.frame, placed.piece.stage.shrinkage)
        looks.append(kernel.ColoredSolid(placed.piece.name, wood, _WOODS[index % len(_WOODS)]))
        if bark is not None:
            looks.append(kernel.ColoredSolid(f"{placed.piece.name}, bark", bark, _BARK))
    return {
        f"{sheet.name}.glb": kernel.glb(looks, coarse_mm=_FILE_MM),
        f"{sheet.name}.stl": kernel.stl(kernel.Solid.all_of(woods).simplified(_FILE_MM)),
    }


def _by_wood(
    name: str, blank: kernel.GluedStack | kernel.Laminated, wood: kernel.Solid, frame: kernel.Axis
) -> Iterator[kernel.ColoredSolid]:
    """A part of a glued-up stack or laminate, each of its woods a solid of its own."""
    for number, tone in enumerate(blank.tones):
        own = wood & blank.of_wood(number).moved(frame)
        if not own.is_empty:
            yield kernel.ColoredSolid(f"{name}, wood {number + 1}", own, _TONES[tone])
