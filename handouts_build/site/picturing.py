"""From solids to pictures: what is drawn of each stage, with what holds it, and of the finished piece.

This module owns the meeting of the workpiece and the figures: which view a part is
seen from, where jaws and centers are drawn, what goes into the files to download. How a
picture looks is for `figures`, where it stands for `outputs`.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from handouts_build import workpiece as kernel
from handouts_build.compute.solid.assembled import assembled
from handouts_build.compute.solid.measured import carried
from handouts_build.figures.shot import Shot, shot
from handouts_build.figures.solid.camera import INTO, THREE_QUARTER
from handouts_build.figures.solid.holds import center, jaws, plate
from handouts_build.figures.solid.mesh import bounds_of, joined
from handouts_build.figures.solid.pack import PackedStage, packed
from handouts_build.figures.solid.picture import Bark, Camera, Cutaway, Mark, SurfaceMesh
from handouts_build.workpiece import Vector

if TYPE_CHECKING:
    from handouts_build.compute.solid.assembled import Together
    from handouts_build.compute.solid.carry import Solids
    from handouts_build.compute.solid.plan import PartPlan
    from handouts_build.sheet import Sheet

__all__ = ["bark", "models", "stage_shots", "viewer", "whole_shot"]

_HANDS = 2
"""Pictures drawn at once: more would wait for each other."""
_COARSE_MM = 0.03
"""How far points may be moved in what a page turns about."""
_FILE_MM = 0.06
"""The same for files to download."""
_WOODS = ((0.30, 0.17, 0.09), (0.72, 0.52, 0.30), (0.45, 0.26, 0.13))
"""Colors of the parts in a file to download, linear red, green and blue."""


@dataclass(frozen=True)
class _DrawnStage:
    """One stage as it is drawn."""

    stage: kernel.Stage
    before: kernel.Stage
    holds: tuple[SurfaceMesh, ...]


def stage_shots(sheet: Sheet, solids: Solids, *, dark: bool) -> dict[int, Shot]:
    """A picture of every step that cuts or marks a part, by the step's number.

    Args:
        sheet: The project, worked out.
        solids: Its parts.
        dark: Whether they are wanted for dark pages too.
    """
    wanted: dict[int, Callable[[], Shot]] = {}
    for part in sheet.parts:
        carried_part = solids.parts.get(part.name)
        if carried_part is None:
            continue
        stages = carried(carried_part.plan, solids.shop, carried_part.limits)
        seen = [_DrawnStage(now, before, tuple(_holds(now, before))) for before, now in itertools.pairwise(stages)]
        camera = _camera(stages[0], seen)
        for step, drawn in zip(part.steps, seen, strict=True):
            if step.stage is not None and step.stage.changed:
                opened = _opened(camera) if step.stage.cut_away else None
                mesh = _mesh(drawn.stage.wood)
                wanted[step.number] = partial(
                    shot, f"{sheet.name}-step-{step.number}", step.stage.says, mesh,
                    camera=camera, removed=_mesh(drawn.stage.removed), marks=_marks(drawn.stage),
                    axis=_axis(drawn), holds=drawn.holds, cutaway=opened,
                    barks=bark(carried_part.plan, mesh), dark=dark,
                )  # fmt: skip
    # numpy lets go of the interpreter while it works, so that pictures are drawn side by side.
    with ThreadPoolExecutor(_HANDS) as hands:
        return dict(zip(wanted, hands.map(lambda draw: draw(), wanted.values()), strict=True))


def _mesh(solid: kernel.Solid) -> SurfaceMesh:
    """A solid as pictures take it."""
    found = solid.mesh()
    return SurfaceMesh(found.vertices, found.triangles, found.origins)


def _wood(stage: kernel.Stage) -> SurfaceMesh:
    return SurfaceMesh(stage.mesh.vertices, stage.mesh.triangles, stage.mesh.origins)


def bark(plan: PartPlan, mesh: SurfaceMesh, *, frame: kernel.Axis = kernel.PART_AXIS, first: int = 0) -> list[Bark]:
    """The branch that a part is cut from, if it is one.

    Args:
        plan: The part.
        mesh: Its wood.
        frame: How it lies in what is drawn.
        first: How many triangles are drawn before its own.
    """
    blank = plan.blank.blank if isinstance(plan.blank, kernel.Offcut) else plan.blank
    if not isinstance(blank, kernel.Branch):
        return []
    x, y, z = frame.to_part(np.array([*blank.pith_at_mm, 0.0])).tolist()
    own = (first, first + len(mesh.triangles))
    return [Bark(frame.origin, frame.direction, (x, y, z), blank.wood_diameter_mm / 2, own)]


def _camera(blank: kernel.Stage, seen: Sequence[_DrawnStage]) -> Camera:
    """One view for all of a part's stages, from the end at which more is done inside."""
    cuts = [cut for drawn in seen if drawn.stage.step is not None for cut in drawn.stage.step.cuts]
    ends = [cut.end for cut in cuts if isinstance(cut, kernel.Bore | kernel.Recess | kernel.Hollow | kernel.AxialHoles)]
    left = 2 * ends.count(kernel.End.LEFT) > len(ends)
    into = any(isinstance(cut, kernel.Hollow) for cut in cuts)
    across, above, along = INTO if into else THREE_QUARTER
    meshes = [_wood(blank), *(mesh for drawn in seen for mesh in drawn.holds)]
    return _framed(Camera.fit(bounds_of(meshes), direction=(across, above, -along if left else along)), meshes)


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
    """Pencil lines."""
    return [Mark(tuple((float(x), float(y), float(z)) for x, y, z in line)) for line in stage.lines]


def _axis(drawn: _DrawnStage) -> tuple[Vector, Vector] | None:
    """The axis it turns on, standing out a little at both ends."""
    hold = drawn.stage.hold
    if hold is None or not hold.turns:
        return None
    low, high = _ends(drawn)
    out = 0.12 * (high - low) + 4
    return _on(drawn.stage.axis, low - out), _on(drawn.stage.axis, high + out)


def _ends(drawn: _DrawnStage) -> tuple[float, float]:
    """Where the wood begins and ends along the axis as it is mounted."""
    places = drawn.stage.axis.to_lathe(drawn.before.wood.vertices)[:, 2]
    return float(places.min()), float(places.max())


def _on(axis: kernel.Axis, place: float, *, off: float = 0.0) -> Vector:
    """A point of an axis."""
    x, y, z = (start + place * along for start, along in zip(axis.origin, axis.direction, strict=True))
    return x, y + off, z


def _turned(direction: Vector) -> Vector:
    x, y, z = direction
    return -x, -y, -z


def _holds(now: kernel.Stage, before: kernel.Stage) -> Iterator[SurfaceMesh]:
    """Jaws, plates and centers as a step leaves them."""
    hold = now.hold
    if hold is None or not hold.turns:
        return
    drawn = _DrawnStage(now, before, ())
    low, high = _ends(drawn)
    along = now.axis.direction
    box = before.box_mm
    across = min(box[3] - box[0], box[4] - box[1])
    if isinstance(hold, kernel.BetweenHoles):
        for name in (hold.first, hold.second):
            hole = now.features[name].axis
            yield center(hole.origin, direction=_turned(hole.direction), diameter_mm=hold.drive_mm or 9.0)
        return
    head = min(16.0, max(6.0, 0.45 * across))
    if isinstance(hold, kernel.BetweenCenters):
        yield center(_on(now.axis, low), direction=_turned(along), diameter_mm=hold.drive_mm or head)
        yield center(_on(now.axis, high), direction=along, diameter_mm=head)
        return
    yield _grip(now, hold, low, high, across)
    if hold.supported:
        left = _held_left(now, hold)
        yield center(
            _on(now.axis, high if left else low), direction=along if left else _turned(along), diameter_mm=head
        )


def _held_left(now: kernel.Stage, hold: kernel.BaseHold) -> bool:
    """Whether what holds the wood is at its left end."""
    return kernel.held_end(hold, now.features) is kernel.End.LEFT


def _grip(now: kernel.Stage, hold: kernel.BaseHold, low: float, high: float, across: float) -> SurfaceMesh:
    """What holds it at one end."""
    along = now.axis.direction
    if hold.needs:
        feature = now.features[hold.needs[0]]
        if feature.hollow:
            # What goes into a hole is seen as the body behind it.
            face, out = feature.axis.origin, _turned(feature.axis.direction)
            return plate(face, direction=out, diameter_mm=max(feature.diameter_mm * 0.9, 12.0))
        deep = max(feature.long_mm, 2.0)
        return jaws(feature.axis.origin, direction=feature.axis.direction, grip_mm=feature.diameter_mm, deep_mm=deep)
    left = _held_left(now, hold)
    end, out = (low, _turned(along)) if left else (high, along)
    if isinstance(hold, kernel.JamChuck | kernel.JawsOnBlank) and hold.deep_mm:
        face = _on(now.axis, end + hold.deep_mm if left else end - hold.deep_mm)
        return jaws(face, direction=out, grip_mm=across, deep_mm=hold.deep_mm)
    wide = hold.diameter_mm if isinstance(hold, kernel.Faceplate) else None
    return plate(_on(now.axis, end), direction=out, diameter_mm=wide or min(0.7 * across, 90.0))


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
    whole = assembled(together.parts, together.joints, shop)
    meshes = [_mesh(placed.wood) for placed in whole.placed]
    mesh = joined(meshes)
    camera = _standing(mesh, sheet.whole.up)
    opened = _opened(camera) if sheet.whole.cut_away else None
    plans = {part.plan.part: part.plan for part in together.parts}
    barks: list[Bark] = []
    for index, (placed, own) in enumerate(zip(whole.placed, meshes, strict=True)):
        first = sum(len(before.triangles) for before in meshes[:index])
        barks += bark(plans[placed.piece.name], own, frame=placed.frame, first=first)
    name = f"{sheet.name}-finished"
    return shot(name, sheet.whole.says, mesh, camera=camera, cutaway=opened, barks=barks, dark=dark)


def _standing(mesh: SurfaceMesh, up: str) -> Camera:
    """A view of the piece as it stands: an end above, or lying."""
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
    for part in sheet.parts:
        carried_part = solids.parts.get(part.name)
        if carried_part is None:
            continue
        found = carried(carried_part.plan, solids.shop, carried_part.limits)
        middle = (found[0].box_mm[2] + found[0].box_mm[5]) / 2
        named = f"{part.title}: " if len(solids.parts) > 1 else ""
        stages.append(PackedStage(f"{named}blank", _light(found[0].wood, middle)))
        for step, stage in zip(part.steps, found[1:], strict=True):
            if step.stage is not None and stage.step is not None and stage.step.cuts:
                stages.append(PackedStage(f"{named}{step.number}, {step.name}", _light(stage.wood, middle)))
    if together is not None and len(together.parts) > 1:
        whole = assembled(together.parts, together.joints, solids.shop)
        low = min(placed.wood.box_mm[2] for placed in whole.placed)
        high = max(placed.wood.box_mm[5] for placed in whole.placed)
        mesh = joined([_light(placed.wood, (low + high) / 2) for placed in whole.placed])
        stages.append(PackedStage("Put together", mesh))
    if not stages:
        return ""
    up = sheet.whole.up if sheet.whole is not None else ""
    last = stages[-1].mesh
    return packed(sheet.name, stages, camera=_standing(last, up), title=sheet.title)


def _light(solid: kernel.Solid, middle: float) -> SurfaceMesh:
    """A coarse mesh, its middle along the axis at nought."""
    found = solid.simplified(_COARSE_MM).mesh()
    moved = found.vertices.copy()
    moved[:, 2] -= middle
    return SurfaceMesh(moved, found.triangles, found.origins)


def models(sheet: Sheet, together: Together, shop: kernel.ShopLimits) -> dict[str, bytes]:
    """The finished piece as files for other tools.

    Args:
        sheet: The project, worked out.
        together: Its parts and joints.
        shop: The shop's limits.

    Returns:
        glTF (binary, meters) and STL (binary, millimetres), by file name.
    """
    whole = assembled(together.parts, together.joints, shop)
    looks = [
        kernel.ColoredSolid(placed.piece.name, placed.wood, _WOODS[index % len(_WOODS)])
        for index, placed in enumerate(whole.placed)
    ]
    return {
        f"{sheet.name}.glb": kernel.glb(looks, coarse_mm=_FILE_MM),
        f"{sheet.name}.stl": kernel.stl(whole.wood.simplified(_FILE_MM)),
    }
