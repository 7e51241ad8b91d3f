"""The side view and its section, against trimesh, which shares no geometry with the library."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
import trimesh

from handouts_build import workpiece as kernel
from handouts_build.compute.solid.assembled import assembled
from handouts_build.workpiece.solid import Solid
from tests.projects import DEMO_PIECES, demo_archive

PIECES = DEMO_PIECES


@cache
def woods(name: str) -> tuple[Solid, ...]:
    """A piece's parts where they belong: putting them together takes longer than what is asked of them."""
    session = demo_archive().session
    together, solids = session.together[name], session.solids[name]
    return tuple(
        placed.wood for placed in assembled(together.parts, together.joints, solids.shop, up=together.whole.up).placed
    )


@cache
def opened(name: str) -> kernel.HalfSection:
    """The piece from the side, cut open."""
    return kernel.half_section(woods(name))


def as_trimesh(wood: Solid) -> trimesh.Trimesh:
    mesh = wood.mesh()
    return trimesh.Trimesh(mesh.vertices.astype(float), mesh.triangles, process=True)


def area(rings: tuple[kernel.Line, ...]) -> float:
    """Area that outlines enclose, holes taken off by their way around."""
    total = 0.0
    for ring in rings:
        x, y = np.array(ring).T
        total += float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum() / 2)
    return total


def area_by_trimesh(wood: Solid) -> float:
    """Area of the upper half of trimesh's section through the axis, by Green's theorem over its loose segments."""
    mesh = as_trimesh(wood)
    # A plane a hair off the axis, on which the solids' corners lie. Of the part, x is up and z along.
    lines, faces = trimesh.intersections.mesh_plane(mesh, [0.0, 1.0, 0.0], [0.0, 1e-4, 0.0], return_faces=True)
    normals = mesh.face_normals[faces]
    total = 0.0
    for (start, stop), normal in zip(lines, normals, strict=True):
        (x0, z0), (x1, z1) = (start[0], start[2]), (stop[0], stop[2])
        if max(x0, x1) <= 0:
            continue
        if min(x0, x1) < 0:
            z_on = z0 + (z1 - z0) * (0 - x0) / (x1 - x0)
            (x0, z0), (x1, z1) = ((0.0, z_on), (x1, z1)) if x0 < 0 else ((x0, z0), (0.0, z_on))
        # Wood lies under a face that looks up, and the area below one that looks down is air.
        total += np.sign(normal[0]) * abs(z1 - z0) * (x0 + x1) / 2
    return float(total)


@pytest.mark.parametrize("name", PIECES)
def test_the_section_has_the_area_that_trimesh_cuts(name: str) -> None:
    for wood, cut in zip(woods(name), opened(name).cut, strict=True):
        assert area(cut) == pytest.approx(area_by_trimesh(wood), rel=0.004, abs=0.5)


@pytest.mark.parametrize("name", PIECES)
def test_the_outline_reaches_as_far_as_trimesh_says(name: str) -> None:
    view = opened(name)
    bounds = np.array([as_trimesh(wood).bounds for wood in woods(name)])
    low, high = bounds[:, 0].min(0), bounds[:, 1].max(0)
    points = np.array([point for ring in view.outline for point in ring])
    assert points.min(0) == pytest.approx([low[2], low[0]], abs=0.05)
    assert points.max(0) == pytest.approx([high[2], high[0]], abs=0.05)


def test_an_edge_behind_wood_is_not_seen() -> None:
    """A cylinder with a bore: closed, it shows no edge within; opened, the bore's bottom and wall."""
    body = Solid.cylinder(radius_mm=20, start_mm=0, end_mm=60, segments=72)
    body = body - Solid.cylinder(radius_mm=8, start_mm=20, end_mm=61, segments=72)
    closed = kernel.half_section([body], opened=False)
    assert closed.cut == ((),)
    assert all(x in (0.0, 60.0) for line in closed.edges for x, _ in line)
    opened = kernel.half_section([body])
    assert area(opened.cut[0]) == pytest.approx(20 * 20 + 12 * 40, rel=0.002)
    assert any(abs(x - 20.0) < 0.01 for line in opened.edges for x, _ in line)


def test_calipers_find_no_diameter_on_three_sides() -> None:
    turned = Solid.cylinder(radius_mm=20, start_mm=0, end_mm=60, segments=72)
    found = kernel.round_diameter(turned, 30.0)
    assert found is not None
    assert found == pytest.approx(40.0, rel=0.002)
    three = Solid.prism([[(20.0, 0.0), (-10.0, 17.3), (-10.0, -17.3)]], start_mm=0, end_mm=60)
    assert kernel.round_diameter(three, 30.0) is None
