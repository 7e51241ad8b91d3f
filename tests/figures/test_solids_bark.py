"""Bark and pith in a picture, against the areas that they have by plane geometry."""

from __future__ import annotations

import math

import numpy as np
import pytest

from handouts_build.figures.solid.mesh import joined
from handouts_build.figures.solid.picture import Bark, SurfaceMesh, Theme, picture
from tests.figures.shapes import ALONG, fit, rod
from tests.figures.test_solids import grey, spot

BRANCH, UNDER = 30.0, 24.0
PITH = (0.0, 10.0, 5.0)


def bark(mesh: SurfaceMesh, *, under_mm: float = UNDER) -> Bark:
    return Bark((0.0, 0.0, 0.0), ALONG, PITH, under_mm, (0, len(mesh.triangles)))


@pytest.mark.parametrize("theme", Theme)
def test_bark_covers_the_ring_between_two_circles_and_the_pith_a_dot(theme: Theme) -> None:
    """Seen along the branch; the areas are π (R² - r²) and π ρ². The rim's own ink lies on the bark."""
    branch = rod(BRANCH, 0, 40)
    camera = fit(branch.bounds, direction=ALONG)
    bare = grey(picture(branch, camera=camera, theme=theme), theme)
    drawn = grey(picture(branch, camera=camera, theme=theme, barks=[bark(branch)]), theme)
    mm2 = (camera.width_mm / bare.shape[1]) ** 2
    darker = bare - drawn > 15
    row, column = spot(camera, (40.0, *PITH[1:]), bare.shape[1])
    near = np.zeros_like(darker)
    near[row - 20 : row + 21, column - 20 : column + 21] = True
    ring = math.pi * (BRANCH**2 - UNDER**2)
    assert (darker & ~near).sum() * mm2 == pytest.approx(ring, rel=0.04)
    assert (darker & near).sum() * mm2 == pytest.approx(math.pi * 1.2**2, rel=0.15)


def test_all_of_a_branchs_side_is_bark_and_none_of_a_rod_turned_from_under_it() -> None:
    for radius, barked in ((BRANCH, True), (UNDER, False)):
        piece = rod(radius, 0, 60)
        camera = fit(piece.bounds, direction=(0.5, -1.0, 0.4))
        told = Bark((0.0, 0.0, 0.0), ALONG, (0.0, 0.0, 0.0), UNDER, (0, len(piece.triangles)))
        bare, drawn = grey(picture(piece, camera=camera)), grey(picture(piece, camera=camera, barks=[told]))
        row, column = spot(camera, (30.0, -0.9 * radius, 0.43 * radius), bare.shape[1])
        assert (bare[row, column] - drawn[row, column] > 40) == barked


def test_only_the_branch_among_several_parts_has_bark() -> None:
    branch, other = rod(BRANCH, 0, 40), rod(BRANCH, 50, 90)
    both = joined([other, branch])
    first = len(other.triangles)
    told = Bark((0.0, 0.0, 0.0), ALONG, PITH, UNDER, (first, first + len(branch.triangles)))
    camera = fit(both.bounds, direction=(0.5, -1.0, 0.4))
    bare, drawn = grey(picture(both, camera=camera)), grey(picture(both, camera=camera, barks=[told]))
    for place, barked in ((20.0, True), (70.0, False)):
        row, column = spot(camera, (place, -0.9 * BRANCH, 0.43 * BRANCH), bare.shape[1])
        assert (bare[row, column] - drawn[row, column] > 40) == barked
