"""Solids: made, cut, measured. The one door to the geometry kernel.

This module owns bodies and what can be read off them. It knows no wood, no cuts and
no lathe.

A circle is drawn as a polygon of n sides. An inscribed polygon has n/(2π) sin(2π/n)
of the circle's area, so radii are enlarged by the root of its inverse (`round_factor`):
every body of revolution then has exactly the volume of its outline, and radii are
out by no more than (π/n)²/3, which is 0.06 % at 72 sides.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from handouts_build.workpiece.axes import Axis, Floats, Vector
from handouts_build.workpiece.faults import MOST_TRIANGLES, WorkpieceFault

if TYPE_CHECKING:
    import manifold3d as kernel

__all__ = ["Mesh", "Outline", "Solid", "round_factor", "shrunk"]


@functools.cache
def _kernel() -> Any:
    """The geometry kernel, loaded with the first body: whoever only reads a file, for its cuts, need not wait."""
    import manifold3d

    return manifold3d


Outline = Sequence[tuple[float, float]]
"""Points (place along the axis, radius), mm."""


_GRID = 2.0**20
"""Places along an axis lie on a grid of a 2^20th of a millimetre. Sums of such numbers are exact, so that
two faces meant to be one are one, however they were worked out, and no skin is left between."""


def _on_grid(place_mm: float) -> float:
    return round(place_mm * _GRID) / _GRID


def round_factor(segments: int) -> float:
    """What a radius is multiplied by so that a polygon of so many sides has the circle's area."""
    step = 2 * math.pi / segments
    return math.sqrt(step / math.sin(step))


def shrunk(outline: Floats, *, by_mm: float, between: tuple[float, float]) -> list[Floats]:
    """The upper half of an outline made smaller all around, between two places.

    Args:
        outline: Closed, N x 2: place and radius on both sides of the axis.
        by_mm: How much smaller, square to it.
        between: Places.

    Returns:
        Closed outlines, counter-clockwise; none where nothing is left.
    """
    section = _kernel().CrossSection([outline], _kernel().FillRule.NonZero)
    smaller = section.offset(-by_mm, _kernel().JoinType.Round, 2.0, 96)
    low, high = between
    far = float(np.abs(outline).max()) + 1
    room = np.array([(low, 0.0), (high, 0.0), (high, far), (low, far)])
    return list((smaller ^ _kernel().CrossSection([room], _kernel().FillRule.NonZero)).to_polygons())


@dataclass(frozen=True, eq=False)
class Mesh:
    """Triangles of a solid, for pictures and files."""

    vertices: NDArray[np.float32]
    """N x 3, mm, part coordinates."""
    triangles: NDArray[np.int32]
    """M x 3, counted from 0, counter-clockwise seen from outside."""
    origins: NDArray[np.int32]
    """M: which cut left this face; 0 is the blank's own surface."""


@dataclass(frozen=True, eq=False)
class Solid:
    """A body of wood, or one to be taken from it."""

    body: kernel.Manifold

    # Made

    @classmethod
    def turned(cls, region: Outline, *, segments: int) -> Solid:
        """A closed outline, turned about the axis; its volume is exact.

        Args:
            region: Place along the axis and radius, mm.
            segments: Sides that a circle about the axis is drawn with.
        """
        factor = round_factor(segments)
        points = np.array([(radius * factor, _on_grid(place)) for place, radius in region])
        section = _kernel().CrossSection([points], _kernel().FillRule.NonZero)
        return cls(_kernel().Manifold.revolve(section, segments))

    @classmethod
    def cylinder(cls, *, radius_mm: float, start_mm: float, end_mm: float, segments: int) -> Solid:
        """A cylinder about the axis; its volume is exact.

        Args:
            radius_mm: Its radius, mm.
            start_mm: Place along the axis at which it begins, mm.
            end_mm: Place at which it ends, mm.
            segments: Sides that a circle about the axis is drawn with.
        """
        radius = radius_mm * round_factor(segments)
        start, end = _on_grid(start_mm), _on_grid(end_mm)
        return cls(_kernel().Manifold.cylinder(end - start, radius, radius, segments).translate((0.0, 0.0, start)))

    @classmethod
    def prism(cls, sections: Sequence[Sequence[tuple[float, float]]], *, start_mm: float, end_mm: float) -> Solid:
        """Closed outlines across the axis, drawn out along it; one within another is a hole.

        Args:
            sections: Outlines of x and y, mm.
            start_mm: Place along the axis at which it begins, mm.
            end_mm: Place at which it ends, mm.
        """
        section = _kernel().CrossSection([np.array(points) for points in sections], _kernel().FillRule.EvenOdd)
        start, end = _on_grid(start_mm), _on_grid(end_mm)
        return cls(section.extrude(end - start).translate((0.0, 0.0, start)))

    @classmethod
    def frustum(cls, section: Sequence[tuple[float, float]], *, scale: float, start_mm: float, end_mm: float) -> Solid:
        """A closed outline across the axis, drawn out along it and made larger or smaller on the way.

        Args:
            section: Its outline at the start, x and y, mm.
            scale: How many times as large it is at the end.
            start_mm: Place along the axis at which it begins, mm.
            end_mm: Place at which it ends, mm.
        """
        outline = _kernel().CrossSection([np.array(section)], _kernel().FillRule.EvenOdd)
        start, end = _on_grid(start_mm), _on_grid(end_mm)
        body = outline.extrude(end - start, scale_top=(scale, scale))
        return cls(body.translate((0.0, 0.0, start)))

    @classmethod
    def around_axis(cls, places_mm: Floats, radii_mm: Floats) -> Solid:
        """A body about the axis whose radius may differ from place to place and from angle to angle.

        Args:
            places_mm: Places along the axis, K, growing, mm.
            radii_mm: Radii at each place, at even angles all around, K x N, mm.
        """
        layers, count = radii_mm.shape
        turns = np.arange(count) * 2 * math.pi / count
        x, y = radii_mm * np.cos(turns), radii_mm * np.sin(turns)
        side = np.stack([x, y, np.broadcast_to(places_mm[:, None], x.shape)], axis=-1).reshape(-1, 3)
        ends = np.array([(0.0, 0.0, places_mm[0]), (0.0, 0.0, places_mm[-1])])
        column = np.arange(count)
        beside = (column + 1) % count
        low = (np.arange(layers - 1) * count)[:, None]
        here, there = low + column, low + beside
        quads = [(here, there, there + count), (here, there + count, here + count)]
        top, first, last = (layers - 1) * count, layers * count, layers * count + 1
        triangles = np.concatenate(
            [
                *(np.stack(quad, axis=-1).reshape(-1, 3) for quad in quads),
                np.stack([np.full(count, first), beside, column], axis=-1),
                np.stack([np.full(count, last), top + column, top + beside], axis=-1),
            ]
        )
        vertices = np.concatenate([side, ends]).astype(np.float32)
        return cls(_kernel().Manifold(_kernel().Mesh(vertices, triangles.astype(np.uint32))))

    @classmethod
    def box(cls, box_mm: tuple[float, float, float, float, float, float], *, wider_mm: float = 0.0) -> Solid:
        """A box by its least and greatest x, y and z, made wider all around.

        Args:
            box_mm: Least x, y, z and greatest x, y, z, mm.
            wider_mm: How much wider on each side, mm.
        """
        low, high = np.array(box_mm[:3]) - wider_mm, np.array(box_mm[3:]) + wider_mm
        return cls(_kernel().Manifold.cube(high - low).translate(low))

    @classmethod
    def hull(cls, points_mm: Floats) -> Solid:
        """The smallest body without hollows that holds points, N x 3, mm."""
        return cls(_kernel().Manifold.hull_points(points_mm))

    @classmethod
    def empty(cls) -> Solid:
        """No body at all."""
        return cls(_kernel().Manifold())

    @classmethod
    def all_of(cls, solids: Sequence[Solid]) -> Solid:
        """Several bodies as one."""
        if len(solids) == 1:
            return solids[0]
        return cls(_kernel().Manifold.batch_boolean([solid.body for solid in solids], _kernel().OpType.Add))

    # Changed

    def moved(self, axis: Axis) -> Solid:
        """A body drawn in lathe coordinates, in part coordinates."""
        matrix = axis.matrix
        if axis.direction[:2] == (0.0, 0.0):
            matrix = matrix.copy()
            matrix[2, 3] = _on_grid(matrix[2, 3])
        return Solid(self.body.transform(matrix))

    def seen_from(self, axis: Axis) -> Solid:
        """A body in part coordinates, in an axis's lathe coordinates."""
        return Solid(self.body.transform(axis.inverse))

    def scaled(self, factors: Vector) -> Solid:
        """Made larger or smaller along x, y and z, about the origin; its faces bear the marks they bore.

        Args:
            factors: What each way is multiplied by, more than nought.
        """
        return Solid(self.body.scale(factors))

    def simplified(self, tolerance_mm: float) -> Solid:
        """With fewer triangles, no point moved further than told; nought leaves it as it is."""
        return Solid(self.body.simplify(tolerance_mm)) if tolerance_mm > 0 else self

    def marked(self) -> Solid:
        """The same body as a new origin: faces it leaves elsewhere bear its `mark`."""
        return Solid(self.body.as_original())

    def worked_out(self) -> Solid:
        """The same, worked out now: the kernel puts it off, and would do it again for each body made from this one."""
        self.body.num_tri()
        return self

    def split(self, cutter: Solid) -> tuple[Solid, Solid]:
        """What lies within the cutter, and what is left."""
        within, left = self.body.split(cutter.body)
        result = Solid(left)
        result.require()
        return Solid(within), result

    def __sub__(self, other: Solid) -> Solid:
        return Solid(self.body - other.body)

    def __and__(self, other: Solid) -> Solid:
        return Solid(self.body ^ other.body)

    def pieces(self, *, least_mm3: float = 0.01) -> list[Solid]:
        """Bodies that do not hang together, largest first; specks are left out."""
        apart = [Solid(body) for body in self.body.decompose()]
        return sorted((piece for piece in apart if piece.volume_mm3 > least_mm3), key=lambda piece: -piece.volume_mm3)

    def require(self) -> None:
        """Refuse a body that failed or has too many triangles.

        Raises:
            WorkpieceFault: With the reason.
        """
        if self.body.num_tri() > MOST_TRIANGLES:
            raise WorkpieceFault(
                f"this step makes a solid of {self.body.num_tri()} triangles", "use fewer or simpler cuts"
            )
        if self.body.status() != _kernel().Error.NoError:
            raise WorkpieceFault("this cut does not make a solid", "check its sizes")

    # Measured

    @property
    def mark(self) -> int:
        """The origin given by `marked`; -1 for a body made of several."""
        return int(self.body.original_id())

    @property
    def is_empty(self) -> bool:
        """Whether there is nothing."""
        return bool(self.body.is_empty())

    @functools.cached_property
    def volume_mm3(self) -> float:
        """Volume, mm³."""
        return float(self.body.volume())

    @property
    def area_mm2(self) -> float:
        """Area of the surface, mm²."""
        return float(self.body.surface_area())

    @property
    def genus(self) -> int:
        """How many times the body is pierced: 0 for a ball, 1 for a ring."""
        return int(self.body.genus())

    @property
    def triangle_count(self) -> int:
        """Triangles of its surface."""
        return int(self.body.num_tri())

    @functools.cached_property
    def box_mm(self) -> tuple[float, float, float, float, float, float]:
        """Least x, y, z and greatest x, y, z, mm."""
        low_x, low_y, low_z, high_x, high_y, high_z = self.body.bounding_box()
        return low_x, low_y, low_z, high_x, high_y, high_z

    @functools.cached_property
    def _raw(self) -> tuple[Floats, NDArray[np.int64], list[tuple[int, int, int]]]:
        """Corners, triangles, and which runs of triangles bear which mark: mark, first, past the last."""
        mesh = self.body.to_mesh64()
        ends = [int(end) // 3 for end in mesh.run_index]
        runs = zip(map(int, mesh.run_original_id), ends, ends[1:], strict=False)
        return (
            np.array(mesh.vert_properties)[:, :3],
            np.array(mesh.tri_verts).astype(np.int64),
            [run for run in runs if run[1] < run[2]],
        )

    @property
    def vertices(self) -> Floats:
        """Corners, N x 3, mm."""
        return self._raw[0]

    @property
    def triangles(self) -> NDArray[np.int64]:
        """Rows of three corner numbers, counted from 0, counter-clockwise seen from outside."""
        return self._raw[1]

    @functools.cached_property
    def marks(self) -> NDArray[np.int64]:
        """The mark each triangle bears, in the order of `mesh`."""
        _, triangles, runs = self._raw
        found = np.zeros(len(triangles), dtype=np.int64)
        for mark, start, end in runs:
            found[start:end] = mark
        return found

    def bears(self, mark: int) -> bool:
        """Whether any face of it bears a mark."""
        return any(borne == mark for borne, _, _ in self._raw[2])

    def box_of(self, mark: int) -> Floats | None:
        """A box about the faces that bear a mark: least and greatest corner, 2 x 3; none where none does."""
        vertices, triangles, runs = self._raw
        borne = [triangles[start:end].ravel() for run_mark, start, end in runs if run_mark == mark]
        if not borne:
            return None
        faces = vertices[np.concatenate(borne)]
        return np.stack([faces.min(axis=0), faces.max(axis=0)])

    def corners(self) -> Floats:
        """Triangles as M x 3 x 3: triangle, corner, coordinate; mm."""
        vertices, triangles, _ = self._raw
        return vertices[triangles]

    def inner_corners(self, *, sharper_deg: float) -> tuple[Floats, Floats, NDArray[np.int64]]:
        """Edges in which two faces meet less than straight on the side of the air, as a shoulder meets its tenon.

        Args:
            sharper_deg: By how much less than straight at least, degrees.

        Returns:
            Middles (K x 3, mm), the unit normals of both faces (K x 2 x 3), and the marks that they bear (K x 2).
        """
        vertices, triangles, _ = self._raw
        corners = vertices[triangles]
        normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
        normals /= np.maximum(np.linalg.norm(normals, axis=1), 1e-12)[:, None]
        starts, ends = triangles.ravel(), np.roll(triangles, -1, axis=1).ravel()
        ahead, back = starts * len(vertices) + ends, ends * len(vertices) + starts
        order = np.argsort(ahead)
        # Each edge belongs to two triangles, which run along it in opposite ways.
        other = order[np.minimum(np.searchsorted(ahead[order], back), len(order) - 1)]
        edges = np.flatnonzero((starts < ends) & (ahead[other] == back))
        first, second = edges // 3, other[edges] // 3
        sharp = (normals[first] * normals[second]).sum(axis=1) < math.cos(math.radians(sharper_deg))
        edges, first, second = edges[sharp], first[sharp], second[sharp]
        rises = ((corners[second].mean(axis=1) - vertices[starts[edges]]) * normals[first]).sum(axis=1) > 0
        edges, first, second = edges[rises], first[rises], second[rises]
        middles = (vertices[starts[edges]] + vertices[ends[edges]]) / 2
        return (
            middles,
            np.stack([normals[first], normals[second]], axis=1),
            np.stack([self.marks[first], self.marks[second]], axis=1),
        )

    @functools.cached_property
    def center_mm(self) -> Vector:
        """Center of gravity, wood alike throughout, mm."""
        corners = self.corners()
        # Signed tetrahedra from the origin to each triangle.
        volumes = np.einsum("ij,ij->i", corners[:, 0], np.cross(corners[:, 1], corners[:, 2])) / 6
        total = float(volumes.sum())
        if abs(total) < 1e-12:
            return 0.0, 0.0, 0.0
        x, y, z = (volumes[:, None] * corners.sum(axis=1) / 4).sum(axis=0) / total
        return float(x), float(y), float(z)

    def mesh(self, serials: dict[int, int] | None = None) -> Mesh:
        """Its triangles; marks are told as the serials of cuts."""
        vertices, triangles, _ = self._raw
        known = serials or {}
        marks, places = np.unique(self.marks, return_inverse=True)
        origin_of_mark = np.array([known.get(int(mark), 0) for mark in marks], dtype=np.int32)
        origins = origin_of_mark[places] if len(origin_of_mark) else np.zeros(0, dtype=np.int32)
        return Mesh(vertices.astype(np.float32), triangles.astype(np.int32), origins.astype(np.int32))

    def smooth_mesh(
        self, *, crease_deg: float = 35.0
    ) -> tuple[NDArray[np.float32], NDArray[np.float32], NDArray[np.int32]]:
        """Vertices, normals and triangles, with edges sharper than the crease kept as edges."""
        mesh = self.body.calculate_normals(0, crease_deg).to_mesh(0)
        table = np.array(mesh.vert_properties)
        return table[:, :3].copy(), table[:, 3:6].copy(), np.array(mesh.tri_verts).astype(np.int32)

    # Seen along -z

    @classmethod
    def shadow(cls, solids: Sequence[Solid]) -> list[Floats]:
        """The outlines, x and y in mm, that bodies fill together as they are seen along z; holes run clockwise."""
        sections = [solid.body.project() for solid in solids]
        return list(_kernel().CrossSection.batch_boolean(sections, _kernel().OpType.Add).to_polygons())

    def sliced(self, place_mm: float, room: tuple[float, float, float, float]) -> list[Floats]:
        """The outlines of the section across z at a place, within a rectangle; holes run clockwise.

        Args:
            place_mm: Along z, mm.
            room: Least x and y, greatest x and y, mm.
        """
        low_x, low_y, high_x, high_y = room
        corners = np.array([(low_x, low_y), (high_x, low_y), (high_x, high_y), (low_x, high_y)])
        room_section = _kernel().CrossSection([corners], _kernel().FillRule.NonZero)
        return list((self.body.slice(place_mm) ^ room_section).to_polygons())

    def hides(self, point: Floats) -> bool:
        """Whether it stands between a point and an eye far along z, or around the point."""
        low_x, low_y, _, high_x, high_y, high_z = self.box_mm
        x, y, z = float(point[0]), float(point[1]), float(point[2])
        if not (low_x <= x <= high_x and low_y <= y <= high_y and z < high_z):
            return False
        return bool(self.body.ray_cast((x, y, z), (x, y, high_z + 1.0)))

    # Probed

    def gap_mm(self, other: Solid, *, within_mm: float) -> float:
        """Least distance to another body, mm; bodies that meet have nought.

        Args:
            other: The other body.
            within_mm: How far it is looked for, mm; where it is that or more, this is the result.
        """
        return float(self.body.min_gap(other.body, within_mm))

    def finely(self, *, edge_mm: float) -> Floats:
        """Points all over its surface, no edge longer than told."""
        return np.array(self.body.refine_to_length(edge_mm).to_mesh64().vert_properties)[:, :3]

    def hits(self, start: Floats, end: Floats) -> list[tuple[float, Floats]]:
        """Where a straight line meets the surface: distance from its start, and the normal there.

        Lines along x, y or z are some hundred times quicker than long slanting ones.

        Args:
            start: Its first point, 3, mm.
            end: Its last point, 3, mm.

        Returns:
            Distance in mm and unit normal of each crossing, nearest first.
        """
        long = math.dist(start, end)
        return [(hit.distance * long, np.array(hit.normal)) for hit in self.body.ray_cast(start, end)]

    def section(self, place_mm: float) -> Floats:
        """Edges of the section across z at a place: E x 2 ends x (x, y), mm."""
        contours = self.body.slice(place_mm).to_polygons()
        if not contours:
            return np.zeros((0, 2, 2))
        following = [part for ring in contours for part in (ring[1:], ring[:1])]
        return np.stack([np.concatenate(contours), np.concatenate(following)], axis=1)

    def contains(self, points: Floats) -> NDArray[np.bool_]:
        """Whether each point (N x 3) lies within."""
        inside = np.zeros(len(points), dtype=np.bool_)
        if self.is_empty or not len(points):
            return inside
        low_x, low_y, low_z, high_x, high_y, high_z = self.box_mm
        if len(points) == 1:
            # Asked for thousands of times, most of them far off: numbers are compared quicker than arrays of one.
            x, y, z = points[0].tolist()
            if not (low_x < x < high_x and low_y < y < high_y and low_z < z < high_z):
                return inside
        top, cast = high_z + 1.0, self.body.ray_cast
        low, high = (low_x, low_y, low_z), (high_x, high_y, high_z)
        near = np.flatnonzero(((points > low) & (points < high)).all(axis=1))
        for index, (x, y, z) in zip(near.tolist(), points[near].tolist(), strict=True):
            hits = cast((x, y, z), (x, y, top))
            # The first face met from within is left through its back.
            inside[index] = bool(hits) and hits[0].normal[2] > 0
        return inside
