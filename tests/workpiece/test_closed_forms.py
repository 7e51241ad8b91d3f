"""Solids against closed forms that others have published."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import yaml

from handouts_build.workpiece import (
    Ball,
    BetweenCenters,
    Board,
    Bore,
    Branch,
    CarveOval,
    Cylinder,
    Datum,
    End,
    Facets,
    GluedRing,
    InHand,
    PartOff,
    Prism,
    ProfileCut,
    Round,
    Square,
    Stage,
    Staves,
    WorkStep,
    carry,
)
from handouts_build.workpiece.axes import PART_AXIS, Axis
from handouts_build.workpiece.solid import Solid, round_factor
from tests.workpiece.strategies_workpiece import near

REFERENCE = Path(__file__).parents[1] / "reference"


@pytest.fixture
def example() -> Callable[[str], str]:
    """A worked example from the geometry texts, by its id; sources are in the same file and its README."""

    def read(wanted: str) -> str:
        held: dict[str, Any] = yaml.safe_load((REFERENCE / "geometry.yaml").read_text(encoding="utf-8"))
        return next(str(row["value"]) for row in held["examples"] if row["id"] == wanted)

    return read


def turned(blank: Round | Square, *steps: WorkStep, segments: int = 72) -> Stage:
    return carry(blank, steps, segments=segments)[-1]


@pytest.mark.parametrize("segments", [24, 72, 96])
def test_a_cylinder_has_the_circles_area_times_its_length(segments: int) -> None:
    """V = π r² h: any textbook; exact, whatever the number of sides."""
    blank = Round(diameter_mm=50, long_mm=80)
    assert near(turned(blank, segments=segments).volume_mm3, math.pi * 25**2 * 80, share=1e-9)


@pytest.mark.parametrize("sides", [8, 32, 64])
def test_an_inscribed_prism_has_the_exact_share_of_a_cylinder(sides: int) -> None:
    """A regular n-gon in a circle has n/(2π) sin(2π/n) of its area (plane geometry); 0.9984 at 64."""
    plain = Solid.cylinder(radius_mm=10 / round_factor(sides), start_mm=0, end_mm=5, segments=sides)
    assert near(
        plain.volume_mm3 / (math.pi * 100 * 5), sides / (2 * math.pi) * math.sin(2 * math.pi / sides), share=1e-9
    )
    assert near(64 / (2 * math.pi) * math.sin(2 * math.pi / 64), 0.9984, share=1e-4)


@pytest.mark.parametrize("diameter", [20.0, 57.15])
def test_a_ball_has_four_thirds_pi_r_cubed(diameter: float) -> None:
    """Turned from a cylinder of its own diameter, which lies a hair within the ball's own corners."""
    ball = WorkStep(
        name="ball", holds=(BetweenCenters(),), cuts=(Ball(name="ball", diameter_mm=diameter, at_mm=diameter / 2),)
    )
    stage = turned(Round(diameter_mm=diameter, long_mm=diameter), ball)
    assert near(stage.volume_mm3, math.pi * diameter**3 / 6)


def test_a_cap_has_the_published_volume(example: Callable[[str], str]) -> None:
    """R 10, h 3 gives 254.4690 (S-CAP in tests/reference)."""
    found = re.search(r"V ([\d.]+)", example("cap_10_3"))
    assert found is not None
    published = float(found[1])
    steps = (
        WorkStep(name="ball", holds=(BetweenCenters(),), cuts=(Ball(name="ball", diameter_mm=20, at_mm=10),)),
        WorkStep(name="cap", cuts=(PartOff(name="part", at_mm=17, keep=End.RIGHT),)),
    )
    stage = carry(Round(diameter_mm=20.2, long_mm=20), steps, segments=192)[-1]
    assert near(stage.volume_mm3, published)


def test_a_napkin_ring_depends_on_its_height_alone(example: Callable[[str], str]) -> None:
    """A hole 6 long through any ball leaves 36 π = 113.0973 (S-NAP6; MAA, Devlin's Angle, April 2008)."""
    published = float(example("napkin_6").split("=")[1])
    for radius in (4.0, 7.0):
        hole = 2 * math.sqrt(radius**2 - 9)
        steps = (
            WorkStep(
                name="ball", holds=(BetweenCenters(),), cuts=(Ball(name="ball", diameter_mm=2 * radius, at_mm=radius),)
            ),
            WorkStep(name="bore", cuts=(Bore(name="bore", diameter_mm=hole, end=End.LEFT),)),
        )
        stage = carry(Round(diameter_mm=2.05 * radius, long_mm=2 * radius), steps, segments=192)[-1]
        # The ring is a small part of the ball, so the ball's own thousandth counts several times.
        assert near(stage.volume_mm3, published, share=2e-3), radius
        assert stage.wood.genus == 1


def test_a_torus_has_the_volume_of_pappus(example: Callable[[str], str]) -> None:
    """V = 2π² R r² (Larson and Edwards, sec. 7.6); circle radius 1, center 2 out: 4π² = 39.5."""
    turns = np.linspace(0, 2 * math.pi, 257)[:-1]
    points = [(math.sin(turn), 2 + math.cos(turn)) for turn in turns]
    volume = Solid.turned(points, segments=96).volume_mm3
    assert near(volume, 4 * math.pi**2)
    assert f"{volume:.1f}" in example("torus_2_1")


def test_two_crossed_bores_share_sixteen_thirds_r_cubed() -> None:
    """The bicylinder, or Steinmetz solid: V = 16 r³ / 3 (textbook; known to Archimedes)."""
    radius = 6.0
    straight = Solid.cylinder(radius_mm=radius, start_mm=-20, end_mm=20, segments=192)
    across = straight.moved(Axis((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)))
    assert near((straight & across).volume_mm3, 16 * radius**3 / 3)


def test_a_cone_by_profile_has_a_third_of_its_cylinder() -> None:
    """V = π r² h / 3, any textbook; its center of gravity a quarter of the way up."""
    profile = ProfileCut(name="cone", points_mm=((0.0, 20.0), (60.0, 0.0)))
    stage = turned(Square(side_mm=45, long_mm=60), WorkStep(name="cone", holds=(BetweenCenters(),), cuts=(profile,)))
    assert near(stage.volume_mm3, math.pi * 20**2 * 60 / 3, share=1e-6)
    assert stage.center_mm == pytest.approx((0, 0, 15), abs=1e-6)


@pytest.mark.parametrize(("flats", "sides"), [(8, 8), (16, 16), (32, 32)])
def test_facets_stand_proud_by_the_polygon_formula(flats: int, sides: int) -> None:
    """Corners of a regular polygon about a circle of diameter D lie (D/2) / cos(180°/n) from its center."""
    size, middle = 57.15, 30.0
    facets = Facets(name="facets", flats=flats, diameter_mm=size, at_mm=middle)
    cylinder = Cylinder(name="cylinder", diameter_mm=size)
    stage = turned(
        Square(side_mm=60, long_mm=60), WorkStep(name="rough", holds=(BetweenCenters(),), cuts=(cylinder, facets))
    )
    points = stage.wood.vertices
    inner = points[(np.abs(points[:, 2] - middle) < size / 2 * 0.999)]
    reach = np.hypot(np.hypot(inner[:, 0], inner[:, 1]) / round_factor(72), inner[:, 2] - middle)
    assert reach.max() == pytest.approx(size / 2 / math.cos(math.pi / sides), rel=1e-6)


def test_the_octagons_band_and_end_circle_are_its_side() -> None:
    """An octagon about a circle of diameter D has the side D (√2 - 1) = 0.4142 D (S-POLY in tests/reference)."""
    size = 50.0
    cuts = (Cylinder(name="cylinder", diameter_mm=size), Facets(name="flats", flats=8, diameter_mm=size, at_mm=25))
    stage = turned(Square(side_mm=52, long_mm=50), WorkStep(name="rough", holds=(BetweenCenters(),), cuts=cuts))
    points = stage.wood.vertices
    radii = np.hypot(points[:, 0], points[:, 1]) / round_factor(72)
    band = points[radii > size / 2 * 0.9999, 2]
    assert band.max() - band.min() == pytest.approx(0.4142 * size, abs=0.01)
    assert 2 * radii[points[:, 2] > size - 1e-6].max() == pytest.approx(0.4142 * size, abs=0.01)


def test_a_prism_of_flats_has_the_polygons_area() -> None:
    """A regular n-gon by its inradius r has the area n r² tan(180°/n) (S-POLY)."""
    steps = (WorkStep(name="plane", holds=(InHand(),), cuts=(Prism(name="prism", flats=6, across_mm=30),)),)
    stage = carry(Round(diameter_mm=40, long_mm=50), steps)[-1]
    assert near(stage.volume_mm3, 6 * 15**2 * math.tan(math.pi / 6) * 50, share=1e-9)


def test_an_oval_has_the_area_of_an_ellipse() -> None:
    """A = π a b, any textbook."""
    steps = (
        WorkStep(
            name="carve", holds=(InHand(),), cuts=(CarveOval(name="oval", wide_mm=36, thick_mm=20, angle_deg=30),)
        ),
    )
    stage = carry(Round(diameter_mm=40, long_mm=50), steps)[-1]
    assert near(stage.volume_mm3, math.pi * 18 * 10 * 50, share=1e-9)


@pytest.mark.parametrize(
    ("blank", "volume"),
    [
        (Square(side_mm=30, long_mm=100), 90_000),
        (Board(wide_mm=150, thick_mm=140, long_mm=40), 840_000),
        (Branch(diameter_mm=80, long_mm=50, bark_mm=4, pith_mm=6), math.pi * 40**2 * 50),
        (
            GluedRing(pieces=12, across_mm=100, inside_mm=60, long_mm=20),
            12 * math.tan(math.pi / 12) * (50**2 - 30**2) * 20,
        ),
        (Staves(pieces=8, across_mm=100, inside_mm=60, long_mm=90), 8 * math.tan(math.pi / 8) * (50**2 - 30**2) * 90),
    ],
)
def test_blanks_have_their_volume(blank: Round, volume: float) -> None:
    """Blocks, cylinders, and rings of n mitered pieces: n tan(180°/n) (R² - r²) a unit of length (S-POLY)."""
    stage = carry(blank, ())[0]
    assert near(stage.volume_mm3, volume, share=1e-9)
    assert stage.box_mm[2] == 0


def test_a_branch_tells_where_its_bark_and_pith_are() -> None:
    branch = Branch(diameter_mm=80, long_mm=50, bark_mm=4, pith_mm=6, pith_deg=90)
    assert branch.under_bark_mm == 72
    assert branch.pith_at_mm == pytest.approx((0, 6))


def test_dry_walnut_weighs_what_the_handbook_says() -> None:
    """Black walnut at 12 %: specific gravity 0.55 on the volume at 12 % (Wood Handbook, Table 5-3, by way of an FPL
    fact sheet, S-FPLJN), so 0.55 x 1.12 g/cm³ (Wood Handbook, eq. 4-9): a block of 100 cm³ weighs 61.6 g."""
    stage = carry(Square(side_mm=50, long_mm=40), ())[0]
    assert stage.volume_mm3 * 0.55e-3 * 1.12 == pytest.approx(61.6)


def test_places_are_measured_from_the_datum_and_the_way_it_says() -> None:
    """A tenon shoulder 10 mm from the right end, measured backward from there."""
    hold = BetweenCenters(datum=Datum(place_mm=100, reversed=True))
    cut = Cylinder(name="cylinder", diameter_mm=20, start_mm=0, end_mm=10)
    stage = turned(Round(diameter_mm=40, long_mm=100), WorkStep(name="turn", holds=(hold,), cuts=(cut,)))
    assert near(stage.volume_mm3, math.pi * (20**2 * 90 + 10**2 * 10), share=1e-6)
    assert stage.center_mm[2] < 50
    assert stage.axis.direction == (0.0, 0.0, -1.0)
    assert PART_AXIS.moved(100, turned=True) == stage.axis
