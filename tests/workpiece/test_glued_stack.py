"""A stack of rings as a solid, against closed forms, and the pieces that a point of it lies in."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from handouts_build import workpiece as kernel
from handouts_build.compute.blanks import as_stock
from handouts_build.figures.solid.glue import GluedCourse, GlueUp
from handouts_build.site.build import read_projects

HERE = Path(__file__).parents[2]
COURSES = (
    kernel.StackCourse(start_mm=0, high_mm=20, across_mm=80),
    kernel.StackCourse(start_mm=20, high_mm=15, across_mm=100, inside_mm=60, pieces=12, woods=(0, 1) * 6),
    kernel.StackCourse(start_mm=35, high_mm=15, across_mm=110, inside_mm=70, pieces=12, turn_deg=15, woods=(0,) * 12),
    kernel.StackCourse(start_mm=50, high_mm=10, across_mm=90, inside_mm=50, pieces=5, turn_deg=9, woods=(1,) * 5),
)
STACK = kernel.GluedStack(courses=COURSES, long_mm=60.0, tones=("pale", "brown"))


def test_the_volume_is_that_of_prisms_over_regular_polygons() -> None:
    """Area of a regular polygon of n sides about a circle of radius r: n r² tan(180°/n)."""
    rings = sum(
        ring.pieces * math.tan(math.pi / ring.pieces) * (ring.across_mm**2 - ring.inside_mm**2) / 4 * ring.high_mm
        for ring in COURSES[1:]
    )
    disk = math.pi * 40**2 * 20
    solid = STACK.solid(segments=512)
    assert solid.volume_mm3 == pytest.approx(rings + disk, rel=1e-4)
    assert sum(course.volume_mm3 for course in COURSES) == pytest.approx(rings + disk)
    assert len(solid.pieces()) == 1
    assert solid.box_mm[5] - solid.box_mm[2] == pytest.approx(60)


def test_each_wood_has_its_share_and_together_they_are_the_stack() -> None:
    """Of 12 segments in two woods six are of each: half the ring."""
    solid = STACK.solid(segments=72)
    shares = [(solid & STACK.of_wood(wood)).volume_mm3 for wood in (0, 1)]
    assert sum(shares) == pytest.approx(solid.volume_mm3, rel=1e-6)
    assert shares[1] == pytest.approx(COURSES[1].volume_mm3 / 2 + COURSES[3].volume_mm3, rel=1e-6)


def test_the_opening_is_the_air_within_and_open_only_at_the_mouth() -> None:
    air = STACK.opening(over_mm=20)
    assert air is not None
    assert (air & STACK.solid(segments=72)).volume_mm3 == pytest.approx(0, abs=1e-6)
    assert air.box_mm[2] == pytest.approx(20)
    assert air.box_mm[5] == pytest.approx(80)
    assert kernel.GluedStack(courses=COURSES[:1], long_mm=20.0).opening() is None


def test_every_ring_of_the_demo_vase_holds_the_finished_wall() -> None:
    """By the kernel alone: what the profiles leave standing, less the stack as it is glued, is nothing.

    The same wall 1 mm farther out than the margin lies outside some ring.
    """
    (sheet,) = read_projects([HERE / "projects" / "segmented-vase.yml"], base=HERE).sheets
    (part,) = sheet.parts
    stack = part.blank.stack
    assert stack is not None
    blank = as_stock(part.blank, grain=part.grain).solid(segments=256)
    wall = _wall(stack.outside_mm, stack.inside_mm, 0.0)
    assert wall.volume_mm3 > 100_000
    assert (wall - blank).volume_mm3 == pytest.approx(0, abs=1.0)
    margin = 25.4 / 8
    assert (_wall(stack.outside_mm, stack.inside_mm, margin - 0.2) - blank).volume_mm3 == pytest.approx(0, abs=1.0)
    assert (_wall(stack.outside_mm, stack.inside_mm, margin + 1.0) - blank).volume_mm3 > 100
    for ready in sheet.ready:
        (other,) = ready.sheet.parts
        assert other.blank.stack is not None
        small = as_stock(other.blank, grain=other.grain).solid(segments=256)
        wall = _wall(other.blank.stack.outside_mm, other.blank.stack.inside_mm, 0.0)
        assert (wall - small).volume_mm3 == pytest.approx(0, abs=1.0), ready.name


def _wall(
    outside: tuple[tuple[float, float], ...], inside: tuple[tuple[float, float], ...], more: float
) -> kernel.Solid:
    """The finished wall, thicker by so much on both sides, ends apart."""

    def turned(outline: tuple[tuple[float, float], ...], by: float) -> kernel.Solid:
        shape = [(place, max(radius + by, 0.01)) for place, radius in outline]
        return kernel.Solid.turned([(shape[0][0], 0.0), *shape, (shape[-1][0], 0.0)], segments=256)

    body = turned(outside, more)
    return body - turned(inside, -more)


def test_a_point_lies_in_the_piece_whose_wedge_and_course_hold_it() -> None:
    glued = GlueUp(
        (0.0, 0.0, 0.0), ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
        tuple(GluedCourse(one.end_mm, one.turn_deg, tuple(STACK.tones[wood] for wood in one.woods)) for one in COURSES),
        (0, 1),
    )  # fmt: skip

    def at(degrees: float, place: float) -> tuple[int, str]:
        angle = math.radians(degrees)
        number, tone = glued.pieces(np.array([[45 * math.cos(angle), 45 * math.sin(angle), place]]))
        return int(number[0]), glued.tones[int(tone[0])]

    assert at(10, 5) == at(300, 19.9)
    assert at(10, 25)[1] == "pale"
    assert at(35, 25)[1] == "brown"
    assert at(29, 25) == at(1, 25)
    assert at(29, 25) != at(31, 25)
    # Half a segment farther around, so that a joint stands over each middle.
    assert at(14, 40) != at(16, 40)
    assert at(16, 40) == at(44, 40)
    assert len({at(degrees, 55)[0] for degrees in range(360)}) == 5


def test_a_tapered_tube_has_the_volume_of_two_frusta() -> None:
    """A frustum over similar bases of areas A and B: h (A + B + √(A B)) / 3, A = n tan(180°/n) (width / 2)²."""
    tube = kernel.Staves(pieces=10, across_mm=120, inside_mm=90, right_mm=160, long_mm=150)

    def frustum(first: float, last: float) -> float:
        area = [10 * math.tan(math.pi / 10) * (across / 2) ** 2 for across in (first, last)]
        return 150 * (sum(area) + math.sqrt(area[0] * area[1])) / 3

    solid = tube.solid(segments=72)
    assert solid.volume_mm3 == pytest.approx(frustum(120, 160) - frustum(90, 130), rel=1e-6)
    assert tube.opening().volume_mm3 == pytest.approx(frustum(90, 130), rel=1e-6)
    assert (tube.opening(over_mm=20) & solid).volume_mm3 == pytest.approx(0, abs=1e-3)
    straight = kernel.Staves(pieces=10, across_mm=120, inside_mm=90, long_mm=150)
    alike = kernel.Staves(pieces=10, across_mm=120, inside_mm=90, right_mm=120, long_mm=150)
    assert alike.solid(segments=72).volume_mm3 == pytest.approx(straight.solid(segments=72).volume_mm3)
    with pytest.raises(kernel.WorkpieceFault, match="opening is closed"):
        kernel.Staves(pieces=10, across_mm=120, inside_mm=90, right_mm=30, long_mm=150).solid(segments=72)
