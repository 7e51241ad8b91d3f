"""A picture of a solid: the wood that stays, and over it what the step takes away.

This module owns the order in which a picture is put together and the weight of its
lines. The camera, the depth buffer, edges, lines and colors are its siblings'. A
picture is small, has a clear ground, and reads in black and white.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypedDict, Unpack

import numpy as np
from numpy.typing import NDArray

from handouts_build.figures.solid.bark import Bark
from handouts_build.figures.solid.camera import Camera
from handouts_build.figures.solid.cutaway import Cutaway, Opening
from handouts_build.figures.solid.edges import Surface, contours, surface_of
from handouts_build.figures.solid.glue import GluedCourse, GluedRound, GlueUp
from handouts_build.figures.solid.layers import Layer, hollows, joints, outline, shared, smaller, steps, thicker
from handouts_build.figures.solid.lines import pieces, stroke
from handouts_build.figures.solid.look import DAY, NIGHT, Color, ColorBuffer, Palette, Theme, Toned, encoded
from handouts_build.figures.solid.mesh import Floats, Ints, SurfaceMesh, Vector, joined
from handouts_build.figures.solid.raster import DepthBuffer, planes, seen

__all__ = [
    "Bark",
    "Camera",
    "Cutaway",
    "Drawn",
    "GlueUp",
    "GluedCourse",
    "GluedRound",
    "Mark",
    "SurfaceMesh",
    "Theme",
    "picture",
    "pictures",
]

_FINE = 2
"""The picture is worked out so many times as large, and then made smaller."""

_KEY = np.array([-0.42, 0.72, 0.55]) / np.linalg.norm([-0.42, 0.72, 0.55])
_FILL = np.array([0.75, -0.15, 0.65]) / np.linalg.norm([0.75, -0.15, 0.65])
"""Light from the upper left, and a little from the right, as seen."""

# Widths of lines in pixels of a picture 720 wide.
_RIM, _EDGE, _TAKEN, _UNSEEN, _PENCIL, _AXIS = 2.4, 1.3, 1.8, 1.3, 2.2, 1.3
_HATCH_EVERY, _HATCH = 9.0, 1.5
_GLUE = 1.1
_INTO_MM = 0.2
_AT_ONCE = 1 << 16
"""Points worked on together: as many as a processor keeps at hand."""
_OPENED = 0.8
"""Light on a face that is opened up, 0 to 1."""
_ROOM_PX = 6
"""Left around what is drawn, for the width of lines."""


@dataclass(frozen=True)
class Mark:
    """A line drawn on the wood."""

    points: tuple[Vector, ...]
    """In mm, on the surface; one alone is a dot."""
    closed: bool = False
    """Whether the last point leads back to the first."""
    new: bool = True
    """Whether this step draws it; then it is in the accent."""


class _Scene:
    """What all layers of one picture share: the view, and the part of the frame where something is."""

    def __init__(self, camera: Camera, cutaway: Cutaway | None, width_px: int, points: Floats) -> None:
        self.camera = camera
        self.frame = (camera.height_px(width_px), width_px)
        self._fine_px = width_px * _FINE
        # The frame's height in fine pixels is a whole number of coarse ones.
        self._down = (self.frame[0] * _FINE - camera.height_px(self._fine_px)) / 2
        flat = camera.project(points, width_px=width_px)[:, :2]
        low, high = flat.min(0, initial=width_px), flat.max(0, initial=0)
        left, top = (int(np.clip(each - _ROOM_PX, 0, None)) for each in low)
        right, bottom = (
            int(np.clip(each + _ROOM_PX, start + 1, end))
            for each, start, end in zip(high, (left, top), self.frame[::-1], strict=True)
        )
        left, top = min(left, right - 1), min(top, bottom - 1)
        self.at = (top, left)
        self.shape = (bottom - top, right - left)
        self.fine = (self.shape[0] * _FINE, self.shape[1] * _FINE)
        self.scale = width_px / 720 * _FINE
        self.opening = None
        if cutaway is not None:
            self.opening = Opening(cutaway, self.projected(np.array([cutaway.point]))[0], camera)
        self.drop = None if self.opening is None else self.opening.drop

    def projected(self, points: Floats) -> Floats:
        """Points in any shape of array, in fine pixels of the part."""
        flat = self.camera.project(points.reshape(-1, 3), width_px=self._fine_px)
        flat[:, 0] -= self.at[1] * _FINE
        flat[:, 1] += self._down - self.at[0] * _FINE
        return flat.reshape(points.shape)

    def points(self, depth: Layer, here: Ints) -> Floats:
        """Points in space, in mm, seen at some of the fine pixels, counted along the rows; the way back of `projected`.

        Args:
            depth: Nearness at every fine pixel.
            here: Numbers of the pixels.
        """
        camera, scale = self.camera, self._fine_px / self.camera.width_mm
        across = (here % self.fine[1] + 0.5 + self.at[1] * _FINE - self._fine_px / 2) / scale
        down = here // self.fine[1] + 0.5 + self.at[0] * _FINE - self._down - camera.height_px(self._fine_px) / 2
        flat = np.stack(
            [across + camera.center[0], camera.center[1] - down / scale, depth.reshape(-1)[here] / scale], axis=1
        )
        found: Floats = flat @ np.array([camera.right, camera.up, camera.toward])
        return found

    def seen(self, corners: Floats) -> tuple[DepthBuffer, Ints]:
        """What is seen of triangles, and their numbers; faces turned away only where the picture is opened up."""
        first, second = corners[:, 1, :2] - corners[:, 0, :2], corners[:, 2, :2] - corners[:, 0, :2]
        front = first[:, 0] * second[:, 1] - first[:, 1] * second[:, 0] < 0
        number = np.flatnonzero(front) if self.drop is None else np.arange(len(corners))
        view = seen(corners[number], width=self.fine[1], height=self.fine[0], drop=self.drop)
        named: Ints = np.append(number, -1)[view.triangle]
        return view, named

    def lines(self, segments: Floats, depth: Layer, width: float, **more: object) -> Layer:
        """Lines given in mm, spread over the coarse pixels."""
        fine = stroke(
            self.projected(segments),
            depth=depth,
            width=width * self.scale,
            drop=self.drop,
            **more,  # type: ignore[arg-type]
        )
        return smaller(fine, _FINE)


class _RenderedSolid:
    """A solid in a scene: what is seen of it, at each pixel."""

    def __init__(self, scene: _Scene, mesh: SurfaceMesh, *, knives: bool = True) -> None:
        self.surface: Surface = surface_of(mesh, knives=knives)
        corners = scene.projected(self.surface.corners)
        view, self.triangle = scene.seen(corners)
        self.depth = view.depth
        self.kind = view.covered.astype(np.int8)
        if scene.opening is not None:
            turned = scene.camera.turned(self.surface.facing)[:, 2] < 0
            # Where the first thing seen is a back, the eye looks through wood that is opened: its face is there.
            opened = view.covered & turned[self.triangle]
            floor, plane = scene.opening.floor(width=scene.fine[1], height=scene.fine[0])
            self.depth = np.where(opened, floor, self.depth)
            self.kind = np.where(opened, plane + 2, self.kind).astype(np.int8)
        self._planes = planes(corners, _lit(scene.camera.turned(self.surface.normals))).astype(np.float32)

    @property
    def covered(self) -> NDArray[np.bool_]:
        return self.kind > 0

    def tone(self) -> Layer:
        """Light at each coarse pixel, 0 to 1."""
        tall, wide = (side // _FINE for side in self.kind.shape)
        tone, share = np.zeros(tall * wide, np.float32), np.zeros(tall * wide, np.float32)
        # Of each coarse pixel's four the two on the diagonal: light changes slowly, and edges are inked.
        for each in range(_FINE):
            triangle = self.triangle[each::_FINE, each::_FINE].reshape(-1)
            here = np.flatnonzero(triangle >= 0)
            gain = self._planes.take(triangle[here], axis=0)
            row = here // wide
            column = (here - row * wide) * _FINE + (each + 0.5)
            tone[here] += np.clip(gain[:, 0] + gain[:, 1] * column + gain[:, 2] * (row * _FINE + (each + 0.5)), 0, 1)
            share[here] += 1
        return shared(tone, share).reshape(tall, wide)


def picture(
    mesh: SurfaceMesh, *, camera: Camera, theme: Theme = Theme.LIGHT, width_px: int = 720, **more: Unpack[Drawn]
) -> bytes:
    """A picture of one stage.

    Args:
        mesh: The wood that stays.
        camera: The view.
        theme: The ground it is made for.
        width_px: Its width, pixels; the camera's frame gives the height.
        **more: What else is drawn.

    Returns:
        A PNG with a clear ground.
    """
    return pictures(mesh, camera=camera, themes=(theme,), width_px=width_px, **more)[0]


class Drawn(TypedDict, total=False):
    """What may be drawn with the wood."""

    removed: SurfaceMesh | None
    """What this step takes away."""
    marks: Sequence[Mark]
    """Lines drawn on the wood."""
    axis: tuple[Vector, Vector] | None
    """Ends of the axis of rotation, in mm."""
    holds: Sequence[SurfaceMesh]
    """Centers, jaws and plates that hold the wood."""
    cutaway: Cutaway | None
    """What is opened up."""
    barks: Sequence[Bark]
    """Branches among the wood."""
    glued: Sequence[GlueUp]
    """Glued-up blanks among the wood."""


def pictures(
    mesh: SurfaceMesh,
    *,
    camera: Camera,
    themes: Sequence[Theme] = tuple(Theme),
    width_px: int = 720,
    **more: Unpack[Drawn],
) -> tuple[bytes, ...]:
    """Pictures of one stage, all from one look at it.

    Args:
        mesh: The wood that stays.
        camera: The view; the same for all stages, so that their pictures line up.
        themes: The grounds they are made for.
        width_px: Their width; the camera's frame gives the height.
        **more: What else is drawn.

    Returns:
        A PNG with a clear ground for each theme.
    """
    removed, axis, cutaway = more.get("removed"), more.get("axis"), more.get("cutaway")
    marks, holds = more.get("marks", ()), more.get("holds", ())
    drawn = [body.vertices for body in (mesh, removed, *holds) if body is not None]
    drawn += [np.array(mark.points) for mark in marks] + ([] if axis is None else [np.array(axis)])
    scene = _Scene(camera, cutaway, width_px, np.concatenate(drawn))
    buffers = _ColorBuffers([(ColorBuffer(scene.shape), DAY if theme is Theme.LIGHT else NIGHT) for theme in themes])
    solid = _RenderedSolid(scene, joined([mesh, *holds]))
    _lay_wood(
        buffers, scene, solid, wood=len(mesh.triangles), barks=more.get("barks", ()), glued=more.get("glued", ())
    )  # fmt: skip
    depth = solid.depth
    if removed is not None and len(removed.triangles):
        depth = _lay_removed(buffers, scene, solid, _RenderedSolid(scene, removed, knives=False))
    for mark in marks:
        points = np.array(mark.points, float)
        dot = len(points) == 1
        runs = np.stack([points, points], 1) if dot else pieces(points, closed=mark.closed)
        width = _PENCIL if mark.new else _EDGE
        line = scene.lines(runs, depth, width * 2.5 if dot else width)
        buffers.lay(_accent if mark.new else _ink, line)
    if axis is not None:
        dashes = [part * scene.scale for part in (22.0, 6.0, 4.0, 6.0)]
        run = np.array([axis], float)
        buffers.lay(lambda palette: palette.axis, 0.45 * scene.lines(run, depth, _AXIS, dashes=dashes, over=True))
        buffers.lay(lambda palette: palette.axis, 0.55 * scene.lines(run, depth, _AXIS, dashes=dashes))
    return tuple(encoded(buffer, frame=scene.frame, at=scene.at) for buffer, _ in buffers.all)


class _ColorBuffers:
    """One picture in several colorings."""

    def __init__(self, buffers: list[tuple[ColorBuffer, Palette]]) -> None:
        self.all = buffers

    def lay(self, color: Callable[[Palette], Color | Toned], cover: Layer | Callable[[Palette], Layer]) -> None:
        """Lay one color of each palette over its picture."""
        for buffer, palette in self.all:
            buffer.lay(color(palette), cover(palette) if callable(cover) else cover)


def _ink(palette: Palette) -> Color:
    return palette.ink


def _accent(palette: Palette) -> Color:
    return palette.accent


def _lay_wood(
    buffers: _ColorBuffers,
    scene: _Scene,
    solid: _RenderedSolid,
    *,
    wood: int,
    barks: Sequence[Bark],
    glued: Sequence[GlueUp],
) -> None:
    """The solid and what holds it, in light and shade, opened faces hatched, edges inked."""
    wide = scene.frame[1]
    timber = solid.covered & (solid.triangle < wood)
    metal = smaller(solid.covered & ~timber, _FINE)
    cover = smaller(timber, _FINE)
    depth = shared(smaller(np.where(timber, solid.depth, 0), _FINE), cover)
    deep = hollows(depth, cover, reach=round(wide / 22))
    light = solid.tone()
    shade = light - np.minimum(deep / (wide * 0.16), 0.42)
    buffers.lay(lambda palette: Toned(palette.wood, shade), smaller(solid.covered, _FINE))
    if metal.any():
        buffers.lay(lambda palette: Toned(palette.metal, light), shared(metal, metal + cover))
    faces = {plane: smaller(solid.kind == plane, _FINE) for plane in (2, 3)}
    opened = faces[2] + faces[3]
    if opened.any():
        buffers.lay(lambda palette: palette.cut, opened)
    # A face that is opened lies in even light.
    even = np.where(opened > 0.5, _OPENED, shade)
    for blank in glued:
        _lay_glued(buffers, scene, solid, blank, even)
    for plane, opened in faces.items():
        if opened.any():
            buffers.lay(lambda palette: palette.grain, opened * _hatch(scene, 6.0, 1.1, falling=plane == 2) * 0.8)
    for bark in barks:
        here = np.flatnonzero(solid.covered & bark.holds(solid.triangle))
        points = scene.points(solid.depth, here)
        buffers.lay(lambda palette: Toned(palette.bark, shade), _spread(scene, here[bark.is_bark(points)]))
        buffers.lay(_ink, 0.8 * _spread(scene, here[bark.is_pith(points)]))
    least = 2.0 * scene.scale
    inner = thicker(steps(solid.depth, solid.kind, least=least), round(_EDGE * scene.scale / 2 - 0.5))
    outer = thicker(outline(solid.covered), round(_RIM * scene.scale / 2 - 0.5))
    sharp = scene.lines(solid.surface.sharp, solid.depth, _EDGE)
    buffers.lay(_ink, np.maximum.reduce([sharp * 0.9, smaller(inner, _FINE) * 0.9, smaller(outer, _FINE)]))


def _lay_glued(buffers: _ColorBuffers, scene: _Scene, solid: _RenderedSolid, blank: GlueUp, light: Layer) -> None:
    """A glued-up blank: each piece in its own wood, and the glue lines between them."""
    here = np.flatnonzero(solid.covered & blank.holds(solid.triangle))
    # A little way into the wood: a face that lies in a joint is of the piece behind it.
    into = np.array(scene.camera.toward) * _INTO_MM
    number, tone = np.empty(len(here), np.int32), np.empty(len(here), np.int32)
    for first in range(0, len(here), _AT_ONCE):
        some = slice(first, first + _AT_ONCE)
        number[some], tone[some] = blank.pieces(scene.points(solid.depth, here[some]) - into)
    for index, word in enumerate(blank.tones):
        mask = _spread(scene, here[tone == index])
        buffers.lay(lambda palette, word=word: Toned(palette.woods[word], light), mask)  # type: ignore[misc]
    pieces = np.zeros(solid.depth.size, np.int32)
    pieces[here] = number
    lines = joints(pieces.reshape(solid.depth.shape), solid.depth, least=2.0 * scene.scale)
    lines = thicker(lines, round(_GLUE * scene.scale / 2 - 0.5))
    buffers.lay(lambda palette: palette.glue, 0.8 * smaller(lines, _FINE))


def _spread(scene: _Scene, here: Ints) -> Layer:
    """How much of each coarse pixel some of the fine ones cover."""
    mask = np.zeros(scene.fine, bool)
    mask.reshape(-1)[here] = True
    return smaller(mask, _FINE)


def _lay_removed(buffers: _ColorBuffers, scene: _Scene, solid: _RenderedSolid, gone: _RenderedSolid) -> Layer:
    """What is taken away, as a veil with hatching; where wood hides it, its edges in dashes.

    Returns:
        Nearness of what is seen, the removed body with the rest.
    """
    shown = gone.covered & (gone.depth > solid.depth + 0.5)
    cover = smaller(shown, _FINE)
    behind, strength = smaller(solid.covered, _FINE), 1.3 - 0.6 * gone.tone()

    def veil(palette: Palette) -> Layer:
        ground, wood = palette.veil
        made: Layer = cover * (ground + (wood - ground) * behind) * strength
        return made

    buffers.lay(_accent, veil)
    buffers.lay(_accent, cover * _hatch(scene, _HATCH_EVERY, _HATCH, falling=False) * 0.85)
    kind = np.where(shown, gone.kind, 0).astype(np.int8)
    edges = steps(gone.depth, kind, least=2.0 * scene.scale) | outline(shown)
    edges = thicker(edges, round(_TAKEN * scene.scale / 2 - 0.5))
    both = np.maximum(solid.depth, gone.depth)
    sharp = scene.lines(gone.surface.sharp, both, _TAKEN)
    buffers.lay(_accent, np.maximum(smaller(edges, _FINE), sharp))
    inside = np.concatenate([gone.surface.sharp, contours(gone.surface, scene.camera.toward)])
    dashes = [part * scene.scale for part in (7.0, 4.5)]
    hidden = scene.lines(inside, solid.depth, _UNSEEN, hidden=True, dashes=dashes)
    buffers.lay(_accent, hidden * 0.85)
    return both


def _hatch(scene: _Scene, every: float, width: float, *, falling: bool) -> Layer:
    """Slanting lines over the whole picture: how much of each pixel they cover."""
    scale = scene.frame[1] / 720
    row, column = np.ogrid[: scene.shape[0], : scene.shape[1]]
    row, column = (row + scene.at[0]).astype(np.float32), (column + scene.at[1]).astype(np.float32)
    along = (column - row if falling else column + row) / 2**0.5
    away = np.abs((along + every * scale / 2) % (every * scale) - every * scale / 2)
    return np.clip(width * scale / 2 + 0.5 - away, 0, 1)


def _lit(normals: Floats) -> Floats:
    """Light on directions as seen, 0 to 1."""
    key = np.clip((normals @ _KEY + 0.35) / 1.35, 0, 1)
    fill = np.clip(normals @ _FILL, 0, 1)
    light: Floats = 0.08 + 0.74 * key + 0.22 * fill
    return np.clip(light, 0, 1)
