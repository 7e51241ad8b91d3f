"""Pictures of solids against closed forms: what is seen, how large it is, and that it reads without color."""

from __future__ import annotations

import io
import itertools
import math

import numpy as np
import pytest
import typst
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray
from PIL import Image

from handouts_build.figures.solid.holds import center, jaws, plate
from handouts_build.figures.solid.mesh import Vector, bounds_of
from handouts_build.figures.solid.picture import Camera, Cutaway, Mark, SurfaceMesh, Theme, picture
from handouts_build.figures.solid.raster import FAR, DepthBuffer, seen
from tests.figures.shapes import ALONG, ball, bored_ball, collar, cube, fit, rod, shell

GROUND = {Theme.LIGHT: 251, Theme.DARK: 37}
"""Lightness of the pages' ground, as in the site's style sheet."""


def raster(mesh: SurfaceMesh, camera: Camera, width: int) -> DepthBuffer:
    corners = camera.project(mesh.vertices, width_px=width)[mesh.triangles]
    return seen(corners, width=width, height=camera.height_px(width))


def opened(png: bytes) -> Image.Image:
    return Image.open(io.BytesIO(png))


def pixels(png: bytes) -> NDArray[np.int64]:
    """Red, green, blue, cover."""
    return np.asarray(opened(png).convert("RGBA")).astype(np.int64)


def grey(png: bytes, theme: Theme = Theme.LIGHT) -> NDArray[np.float64]:
    """The picture on its page, printed or photocopied without color."""
    sheet = Image.new("RGBA", opened(png).size, (GROUND[theme],) * 3 + (255,))
    sheet.alpha_composite(opened(png).convert("RGBA"))
    return np.asarray(sheet.convert("L")).astype(float)


def spot(camera: Camera, point: Vector, width: int) -> tuple[int, int]:
    """Row and column at which a point of space falls."""
    across, down, _ = camera.project([point], width_px=width)[0]
    return int(down), int(across)


# ---- What is seen ------------------------------------------------------------


def test_a_balls_silhouette_has_the_area_of_its_circle() -> None:
    camera = fit(ball(30).bounds, direction=(0.4, -1.0, 0.6))
    covered = raster(ball(30), camera, 1440).covered.sum() * (camera.width_mm / 1440) ** 2
    assert covered == pytest.approx(math.pi * 30**2, rel=0.005)


def test_a_balls_surface_is_as_near_as_the_ball_is_round() -> None:
    camera = fit(ball(30).bounds, direction=(0.4, -1.0, 0.6))
    width = 400
    view, mm = raster(ball(30), camera, width), camera.width_mm / width
    row, column = np.indices(view.depth.shape)
    x, y = (column + 0.5 - width / 2) * mm, (row + 0.5 - view.depth.shape[0] / 2) * mm
    inside = x**2 + y**2 < 28**2
    assert np.abs(view.depth * mm - np.sqrt(np.where(inside, 30**2 - x**2 - y**2, 0)))[inside].max() < 0.1


def test_the_ground_shows_through_a_hole_as_wide_as_the_hole() -> None:
    ring, _ = bored_ball(30, 9)
    camera = fit(ring.bounds, direction=ALONG)
    view, mm = raster(ring, camera, 1200), camera.width_mm / 1200
    assert view.covered.sum() * mm**2 == pytest.approx(math.pi * (30**2 - 9**2), rel=0.005)
    shown = pixels(picture(ring, camera=camera))
    assert shown[shown.shape[0] // 2, shown.shape[1] // 2, 3] == 0
    assert shown[spot(camera, (0.0, 20.0, 0.0), 720)][3] == 255


def test_nothing_shows_through_a_hole_seen_from_the_side() -> None:
    ring, _ = bored_ball(30, 9)
    camera = fit(ring.bounds, direction=(0.0, -1.0, 0.3))
    shown = pixels(picture(ring, camera=camera))
    assert shown[shown.shape[0] // 2, shown.shape[1] // 2, 3] == 255


def test_of_a_cubes_twelve_edges_nine_are_drawn() -> None:
    toward = np.array((0.5, -1.0, 0.7))
    box = cube(40)
    camera = fit(box.bounds, direction=tuple(toward))
    dark = grey(picture(box, camera=camera)) < 90
    drawn = 0
    for axis, (one, two) in itertools.product(range(3), itertools.product((-20.0, 20.0), repeat=2)):
        middle = np.insert(np.array([one, two]), axis, 5.0)
        row, column = spot(camera, tuple(middle), 720)
        visible = any(np.sign(middle[side]) == np.sign(toward[side]) for side in range(3) if side != axis)
        assert dark[row - 1 : row + 2, column - 1 : column + 2].any() == visible
        drawn += visible
    assert drawn == 9


def test_facets_of_a_round_are_not_drawn() -> None:
    long = rod(20, -30, 30, around=64)
    camera = fit(long.bounds, direction=(0.0, -1.0, 0.2))
    band = grey(picture(long, camera=camera))[:, 340:380]
    assert (band < 90).any(1).sum() < 12, "only the two outlines are dark"


@given(st.floats(0.5, 39.5), st.floats(0.5, 39.5))
def test_triangles_that_share_edges_leave_no_gap_and_no_pixel_twice(x: float, y: float) -> None:
    corners = [(0.0, 0.0), (40.0, 0.0), (40.0, 40.0), (0.0, 40.0)]
    total = 0
    for one, two in zip(corners, corners[1:] + corners[:1], strict=True):
        three = np.array([[(*one, 0.0), (*two, 0.0), (x, y, 0.0)]])
        total += int(seen(three, width=40, height=40).covered.sum())
    assert total == 1600


def test_nothing_at_all_is_ground() -> None:
    assert (seen(np.zeros((0, 3, 3)), width=4, height=3).depth == FAR).all()


# ---- What is taken away --------------------------------------------------------


@pytest.mark.parametrize("theme", Theme)
def test_removed_wood_reads_without_color(theme: Theme) -> None:
    """A graphical object stands out at 3:1 from what it lies on (WCAG 2.2, 1.4.11): here the hatching."""
    left, gone = rod(14, -40, 40), collar(14, 22, 0, 40)
    camera = fit(rod(22, -40, 40).bounds, direction=(0.0, -1.0, 0.3))
    shown = grey(picture(left, camera=camera, removed=gone, theme=theme), theme)
    linear = np.where(shown <= 10, shown / 255 / 12.92, ((shown / 255 + 0.055) / 1.055) ** 2.4)
    row, column = spot(camera, (20.0, 0.0, 0.0), 720)
    over = linear[row - 30 : row + 30, column - 60 : column + 60]
    plain = linear[row - 30 : row + 30, column - 240 : column - 180]
    line, wood = (over.min(), plain.mean()) if theme is Theme.LIGHT else (over.max(), plain.mean())
    assert (max(line, wood) + 0.05) / (min(line, wood) + 0.05) >= 3
    assert over.std() > 3 * plain.std()
    beyond = linear[slice(*sorted((spot(camera, (20.0, 0.0, 20.5), 720)[0], spot(camera, (20.0, 0.0, 17.0), 720)[0])))]
    assert beyond[:, column - 60 : column + 60].std() > 0.02, "hatched over the ground too"


def test_only_the_place_of_the_cut_changes() -> None:
    """The camera stands still, so pictures of stages can be laid over one another."""
    before, after, gone = rod(20, -40, 40), rod(20, -40, 10), rod(20, 10, 40)
    camera = fit(before.bounds)
    edge = spot(camera, (10.0, -20.0, 0.0), 720)[1] - 160
    one, two = (grey(picture(mesh, camera=camera, removed=out)) for mesh, out in ((before, None), (after, gone)))
    assert np.abs(one[:, :edge] - two[:, :edge]).max() <= 6
    assert np.abs(one[:, edge:] - two[:, edge:]).max() > 60


def test_a_bore_shows_its_mouth_and_its_hidden_sides() -> None:
    ring, plug = bored_ball(30, 9)
    camera = fit(ring.bounds)
    plain, shown = grey(picture(ring, camera=camera)), grey(picture(ring, camera=camera, removed=plug))
    mouth = spot(camera, (29.0, 0.0, 0.0), 720)
    assert np.abs(plain - shown)[mouth[0] - 15 : mouth[0] + 15, mouth[1] - 5 : mouth[1] + 5].max() > 50
    # The bore's upper outline: the line of its wall where it turns away from the eye, here behind wood.
    side = np.cross(camera.toward, ALONG)
    side = side / np.linalg.norm(side) * 9
    along = [spot(camera, (x, float(side[1]), float(side[2])), 720) for x in np.linspace(-20, 5, 60)]
    changed = [np.abs(plain - shown)[row - 1 : row + 2, column].max() > 40 for row, column in along]
    assert 0.4 < np.mean(changed) < 0.95, "dashed: neither whole nor missing"


def test_wood_that_is_all_cut_away_leaves_a_picture_of_what_was_removed() -> None:
    gone = ball(20, around=48)
    shown = pixels(picture(SurfaceMesh.of([], []), camera=fit(gone.bounds), removed=gone))
    assert 0 < shown[shown.shape[0] // 2, shown.shape[1] // 2, 3] < 255


# ---- Marks, axis, holds, and opening up ----------------------------------------


def circle(x: float, radius: float, start: float, stop: float) -> tuple[Vector, ...]:
    return tuple(
        (x, radius * math.sin(each), radius * math.cos(each)) for each in np.radians(np.linspace(start, stop, 40))
    )


def test_a_mark_is_seen_in_front_and_not_behind() -> None:
    long = rod(20, -40, 40)
    camera = fit(long.bounds)
    plain = picture(long, camera=camera)
    front, back = circle(0.0, 20.0, -100, -20), circle(0.0, 20.0, 90, 160)
    assert picture(long, camera=camera, marks=[Mark(back)]) == plain
    at = spot(camera, front[20], 720)
    red, green, blue, _ = pixels(picture(long, camera=camera, marks=[Mark(front)]))[at]
    assert green > red + 20, "in the accent"
    assert green > blue
    assert pixels(picture(long, camera=camera, marks=[Mark(front, new=False)]))[at][:3].max() < 110, "an old one in ink"


def test_a_mark_of_one_point_is_a_dot() -> None:
    long = rod(20, -40, 40)
    camera = fit(long.bounds)
    place = circle(0.0, 20.0, -60, -60)[0]
    dotted = pixels(picture(long, camera=camera, marks=[Mark((place,))]))
    changed = np.abs(dotted - pixels(picture(long, camera=camera))).max(2) > 30
    assert 10 < changed.sum() < 80
    assert changed[spot(camera, place, 720)]


def test_the_axis_is_drawn_outside_the_wood_too() -> None:
    long = rod(10, -20, 20)
    camera = fit(((-50.0, -15.0, -15.0), (50.0, 15.0, 15.0)))
    ends: tuple[Vector, Vector] = ((-45.0, 0.0, 0.0), (45.0, 0.0, 0.0))
    covered = pixels(picture(long, camera=camera, axis=ends))[:, :, 3] > 0
    for end in (-40.0, 40.0):
        row, column = spot(camera, (end, 0.0, 0.0), 720)
        assert covered[row - 12 : row + 13, column - 25 : column + 26].any()


def test_holds_are_closed_and_face_outward() -> None:
    """A closed surface that faces outward has a volume above nought, and here the known one."""

    def volume(mesh: SurfaceMesh) -> float:
        corners = mesh.vertices[mesh.triangles].astype(float)
        return float((corners[:, 0] * np.cross(corners[:, 1], corners[:, 2])).sum() / 6)

    facets = 24 * math.sin(2 * math.pi / 48)
    disc = plate((3.0, 1.0, 2.0), direction=(0.0, 0.0, -1.0), diameter_mm=60, thick_mm=8)
    assert volume(disc) == pytest.approx(30**2 * 8 * facets, rel=1e-4)
    cone = 8 / math.tan(math.radians(30))
    head = 8**2 * cone / 3 + 8**2 * 5.6 + 4.8**2 * 7.2
    assert volume(center((0.0, 0.0, 0.0), direction=ALONG)) == pytest.approx(head * facets, rel=1e-4)
    assert volume(jaws((0.0, 0.0, 0.0), direction=ALONG, grip_mm=25, deep_mm=9)) > 0


def test_what_holds_the_wood_is_gray() -> None:
    long, head = rod(20, -30, 30), plate((-30.0, 0.0, 0.0), direction=(-1.0, 0.0, 0.0), diameter_mm=60)
    camera = fit(bounds_of([long, head]))
    shown = pixels(picture(long, camera=camera, holds=[head]))
    steel, wood = (shown[spot(camera, place, 720)] for place in ((-34.0, -23.0, 19.0), (0.0, -16.0, 12.0)))
    assert max(steel[:3]) - min(steel[:3]) < 15
    assert wood[0] - wood[2] > 30


def test_opening_up_shows_the_hollow_and_cut_faces_around_it() -> None:
    hollow = shell(14, 30)
    camera = fit(hollow.bounds, direction=(0.0, -1.0, 0.0))
    shown = pixels(picture(hollow, camera=camera, cutaway=Cutaway.half(camera, point=(0, 0, 0), axis=ALONG)))
    row, column = spot(camera, (0.0, 0.0, 0.0), 720)
    reach = 30 / camera.width_mm * 720
    x, y = np.meshgrid(np.arange(shown.shape[1]) - column, np.arange(shown.shape[0]) - row)
    away = np.hypot(x, y) / reach * 30
    cut = (away > 16) & (away < 28)
    bright = shown[:, :, 0] > 240
    assert bright[cut].mean() > 0.6, "the cut face, with its hatching between"
    assert bright[cut].mean() < 0.95
    assert bright[away < 12].mean() < 0.2, "the wall of the hollow lies in shade"
    whole = pixels(picture(hollow, camera=camera))
    assert np.abs(whole[away < 10] - shown[away < 10])[:, :3].max() > 60


def test_a_quarter_taken_away_has_two_faces() -> None:
    whole = ball(30)
    camera = fit(whole.bounds)
    taken = Cutaway.quarter(camera, point=(0, 0, 0), axis=ALONG)
    one, two = (np.array(each) for each in taken.normals)
    assert one @ two == pytest.approx(0)
    assert abs(one[0]) + abs(two[0]) == pytest.approx(0)
    assert min(one @ np.array(camera.toward), two @ np.array(camera.toward)) > 0
    shown, plain = (pixels(picture(whole, camera=camera, cutaway=each)) for each in (taken, None))
    # A sphere's outline is that of its three quarters wherever the planes do not reach it.
    assert (plain[:, :, 3] > 0).sum() >= (shown[:, :, 3] > 0).sum() > 0.9 * (plain[:, :, 3] > 0).sum()


# ---- The file ------------------------------------------------------------------


@pytest.mark.parametrize("theme", Theme)
def test_the_same_solid_gives_the_same_bytes(theme: Theme) -> None:
    ring, plug = bored_ball(30, 9)
    camera = fit(ring.bounds)
    assert (
        len({picture(ring, camera=camera, removed=plug, theme=theme, axis=((-40, 0, 0), (40, 0, 0))) for _ in range(2)})
        == 1
    )


def test_a_solid_and_a_view_twice_as_large_give_the_same_picture() -> None:
    one, two = (picture(cube(side), camera=fit(cube(side).bounds)) for side in (32, 64))
    assert np.abs(pixels(one) - pixels(two)).max() <= 8


@pytest.mark.parametrize("theme", Theme)
def test_pictures_are_small(theme: Theme) -> None:
    """The budget is 60 KB for a picture 720 wide: here the largest kinds, half of the frame hatched."""
    for left, gone in ((rod(20, -30, 30), collar(20, 30, -30, 30)), bored_ball(30, 15), (ball(28), shell(28, 30))):
        png = picture(left, camera=fit(bounds_of([left, gone])), removed=gone, theme=theme)
        assert opened(png).size == (720, 540)
        assert opened(png).mode == "P"
        assert len(png) < 60_000


def test_a_long_piece_has_a_long_frame() -> None:
    width, height = opened(picture(rod(10, -150, 150), camera=fit(rod(10, -150, 150).bounds))).size
    assert width == 720
    assert height < 250


def test_typst_takes_the_picture() -> None:
    png = picture(cube(20), camera=fit(cube(20).bounds), width_px=200)
    made = typst.compile(
        b"#set page(width: auto, height: auto)\n#image(bytes(json(bytes(sys.inputs.png))))",
        sys_inputs={"png": str(list(png))},
    )
    assert isinstance(made, bytes)
    assert made.startswith(b"%PDF")


# ---- What is refused -------------------------------------------------------------


@pytest.mark.parametrize(
    ("vertices", "triangles", "origin", "why"),
    [
        ([(0, 0, 0), (1, 0, 0), (0, 1, math.nan)], [(0, 1, 2)], None, "finite"),
        ([(0, 0, 0), (1, 0, 0), (0, 1, 0)], [(0, 1, 3)], None, "not there"),
        ([(0, 0, 0), (1, 0, 0), (0, 1, 0)], [(0, 1, 2)], [1, 2], "one number"),
    ],
)
def test_a_mesh_that_does_not_hold_together_is_refused(
    vertices: object, triangles: object, origin: object, why: str
) -> None:
    with pytest.raises(ValueError, match=why):
        SurfaceMesh.of(vertices, triangles, origin=origin)


def test_views_that_are_none_are_refused() -> None:
    with pytest.raises(ValueError, match="upright"):
        fit(cube(10).bounds, direction=(0.0, 0.0, 1.0))
    with pytest.raises(ValueError, match="no length"):
        fit(cube(10).bounds, direction=(0.0, 0.0, 0.0))
    with pytest.raises(ValueError, match="nothing to draw"):
        bounds_of([SurfaceMesh.of([], [])])
    away = Cutaway((0.0, 0.0, 0.0), ((0.0, 1.0, 0.0),))
    with pytest.raises(ValueError, match="toward the eye"):
        picture(cube(10), camera=fit(cube(10).bounds), cutaway=away)
