"""Outlines, against closed forms and published solids."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from strategies_trade import lengths
from stretches import Measured, arc, half_ellipse

from handouts_build.formulas import value_of
from handouts_build.language import speaking
from handouts_build.quantities import Quantity, inches, kind_of, millimetres
from handouts_build.trade.elements import (
    BeadElement,
    CavettoElement,
    CoveElement,
    CylinderElement,
    Element,
    OgeeElement,
    OvoloElement,
    ProfileFault,
    RoundElement,
    RoundStartElement,
    TaperElement,
    VeeElement,
)
from handouts_build.trade.outlines import PROFILE_DEMANDS, PROFILE_VALUES, Profile
from handouts_build.trade.profiles import outline, planned

Example = Callable[[str, str], dict[str, Any]]
mm = millimetres


def _summed(profile: Profile) -> tuple[float, float]:
    """Volume and center of gravity by frustums over the drawn points: volume within a thousandth of the exact."""
    volume = moment = 0.0
    for (x0, r0), (x1, r1) in zip(profile.points, profile.points[1:], strict=False):
        long = x1 - x0
        piece = math.pi * long / 3 * (r0 * r0 + r0 * r1 + r1 * r1)
        # Center of gravity of a frustum from its first end: h (r0² + 2 r0 r1 + 3 r1²) / 4 (r0² + r0 r1 + r1²).
        lever = math.pi * long**2 / 12 * (r0 * r0 + 2 * r0 * r1 + 3 * r1 * r1)
        volume += piece
        moment += piece * x0 + lever
    return volume, moment / volume


_ELEMENTS: list[Element] = [
    RoundStartElement(long=mm(6), to=mm(12)),
    CylinderElement(long=mm(12), diameter=mm(12), kind="tenon"),
    CylinderElement(long=mm(3), diameter=mm(24), kind="fillet"),
    BeadElement(long=mm(12), diameter=mm(36), end=mm(18), label="collar"),
    CoveElement(long=mm(12), diameter=mm(12), end=mm(22)),
    OgeeElement(long=mm(25), to=mm(10)),
    VeeElement(long=mm(3), diameter=mm(8)),
    TaperElement(long=mm(50), to=mm(6)),
]


def _spindle() -> Profile:
    return outline([*_ELEMENTS, RoundElement(long=mm(5))])


@given(lengths, lengths)
def test_cylinder_holds_base_times_length(long: Quantity, diameter: Quantity) -> None:
    profile = outline([CylinderElement(long=long, diameter=diameter)])
    assert profile.known()["volume"].magnitude == pytest.approx(math.pi / 4 * diameter.magnitude**2 * long.magnitude)
    assert profile.known()["balance"].magnitude == pytest.approx(long.magnitude / 2)


@given(lengths, lengths)
def test_cone_holds_a_third_and_balances_at_a_quarter(long: Quantity, diameter: Quantity) -> None:
    profile = outline([TaperElement(long=long, start=diameter, to=mm(0))])
    assert profile.known()["volume"].magnitude == pytest.approx(math.pi / 12 * diameter.magnitude**2 * long.magnitude)
    assert profile.known()["balance"].magnitude == pytest.approx(long.magnitude / 4)


@given(lengths, lengths)
def test_dome_holds_two_thirds_and_balances_at_three_eighths(long: Quantity, diameter: Quantity) -> None:
    """Half an ellipsoid: 2/3 π r² L, center of gravity 3/8 L from its base."""
    falling = outline([RoundElement(long=long, start=diameter)])
    rising = outline([RoundStartElement(long=long, to=diameter)])
    expected = 2 / 3 * math.pi * diameter.magnitude**2 / 4 * long.magnitude
    assert falling.known()["volume"].magnitude == pytest.approx(expected)
    assert rising.known()["volume"].magnitude == pytest.approx(expected)
    assert falling.known()["balance"].magnitude == pytest.approx(3 / 8 * long.magnitude)
    assert rising.known()["balance"].magnitude == pytest.approx(5 / 8 * long.magnitude)


@pytest.mark.parametrize(
    ("case", "radius", "height", "volume"), [("cap_5_2", 5, 2, 54.4543), ("cap_10_3", 10, 3, 254.4690)]
)
def test_arc_at_a_sphere_end_holds_the_published_cap(
    published_example: Example, case: str, radius: float, height: float, volume: float
) -> None:
    """geometry.yaml spherical caps, VERIFIED."""
    assert f"{volume:.4f}" in published_example("geometry.yaml", case)["value"]
    cap = arc(radius - height, radius, middle=0, level=radius, radius=radius)
    assert cap.volume == pytest.approx(volume, abs=5e-4)


@given(st.floats(3.1, 200))
def test_ring_left_by_a_hole_six_long_is_36_pi(radius: float) -> None:
    """geometry.yaml napkin_6, VERIFIED: a sphere bored through, hole 6 long, whatever its radius."""
    zone = arc(-3, 3, middle=0, level=radius, radius=radius)
    hole = math.pi * (radius**2 - 9) * 6
    assert zone.volume - hole == pytest.approx(113.0973, rel=1e-5)


@given(st.floats(2, 50), st.floats(0.1, 0.95))
def test_bead_less_cove_is_a_torus_by_pappus(ring: float, share: float) -> None:
    """geometry.yaml pappus, VERIFIED: V = 2 π² R r²."""
    small = share * ring
    outer = half_ellipse(0, 2 * small, r0=ring, r1=ring, crest=ring + small)
    inner = half_ellipse(0, 2 * small, r0=ring, r1=ring, crest=ring - small)
    assert outer.volume - inner.volume == pytest.approx(2 * math.pi**2 * ring * small**2)


def test_torus_of_radii_two_and_one(published_example: Example) -> None:
    """geometry.yaml torus_2_1, VERIFIED: 4 π² = 39.5."""
    assert "39.5" in published_example("geometry.yaml", "torus_2_1")["value"]
    outer = half_ellipse(0, 2, r0=2, r1=2, crest=3)
    inner = half_ellipse(0, 2, r0=2, r1=2, crest=1)
    assert outer.volume - inner.volume == pytest.approx(39.5, abs=0.05)


@given(st.floats(5, 60), st.floats(2, 30), st.floats(2, 30), st.floats(0.5, 20), st.booleans())
def test_bead_and_cove_reach_exactly_the_diameter_asked_for(
    long: float, r0: float, r1: float, height: float, bead: bool
) -> None:
    """On a sloping base too, where the extreme is not at mid-length."""
    crest = max(r0, r1) + height if bead else min(r0, r1) / (1 + height)
    made: Element = (
        BeadElement(long=mm(long), diameter=mm(2 * crest), start=mm(2 * r0), end=mm(2 * r1))
        if bead
        else CoveElement(long=mm(long), diameter=mm(2 * crest), start=mm(2 * r0), end=mm(2 * r1))
    )
    profile = outline([made])
    radii = [profile.diameter_at(mm(long * step / 200)).magnitude / 2 for step in range(201)]
    assert radii[0] == pytest.approx(r0)
    assert radii[-1] == pytest.approx(r1)
    extreme = max(radii) if bead else min(radii)
    assert extreme == pytest.approx(crest, rel=2e-2)
    assert extreme <= crest * (1 + 1e-9) if bead else extreme >= crest * (1 - 1e-9)
    top = next(station for station in profile.stations if station.what.endswith(("largest", "deepest")))
    assert top.diameter.magnitude / 2 == pytest.approx(crest)


@given(st.floats(5, 60), st.floats(2, 40), st.floats(-0.99, 0.99))
def test_ogee_is_level_at_both_ends_and_smooth_in_the_middle(long: float, r0: float, share: float) -> None:
    r1 = r0 + share * min(long, r0)
    profile = outline([OgeeElement(long=mm(long), start=mm(2 * r0), to=mm(2 * r1))])

    def radius(x: float) -> float:
        return float(profile.diameter_at(mm(x)).magnitude) / 2

    step = long * 1e-5
    assert radius(0) == pytest.approx(r0)
    assert radius(long) == pytest.approx(r1)
    assert radius(long / 2) == pytest.approx((r0 + r1) / 2)
    # Level to within the fall of an arc over the step, h = step² / 2ρ; ρ is at least long/4.
    fall = step**2 / (long / 4)
    assert abs(radius(step) - r0) <= fall + 1e-9
    assert abs(radius(long - step) - r1) <= fall + 1e-9
    before = (radius(long / 2) - radius(long / 2 - step)) / step
    after = (radius(long / 2 + step) - radius(long / 2)) / step
    assert before == pytest.approx(after, rel=1e-2, abs=1e-4)


def test_exact_wood_and_balance_agree_with_the_sum_over_the_drawn_points() -> None:
    """Frustums inside a curve fall short by less than a thousandth at 64 pieces a curve."""
    profile = _spindle()
    volume, balance = _summed(profile)
    assert profile.known()["volume"].magnitude == pytest.approx(volume, rel=1e-3)
    assert profile.known()["balance"].magnitude == pytest.approx(balance, rel=1e-3)


@pytest.mark.parametrize(
    "measured",
    [
        half_ellipse(3, 15, r0=9, r1=4, crest=14),
        half_ellipse(3, 15, r0=9, r1=4, crest=2),
        arc(20, 26, middle=20, level=8, radius=-9),
        arc(20, 26, middle=26, level=8, radius=7),
    ],
)
def test_closed_forms_agree_with_fine_slices(measured: Measured) -> None:
    """20,000 disks, each at its middle."""
    slices, stretch = 20_000, measured.stretch
    wide = (stretch.x1 - stretch.x0) / slices
    places = [stretch.x0 + (number + 0.5) * wide for number in range(slices)]
    volume = sum(math.pi * stretch.radius(x) ** 2 * wide for x in places)
    moment = sum(math.pi * stretch.radius(x) ** 2 * wide * x for x in places)
    assert measured.volume == pytest.approx(volume, rel=1e-5)
    assert measured.moment == pytest.approx(moment, rel=1e-5)


@given(st.sampled_from([0.25, 0.5, 2.0, 4.0]))
def test_scaling_the_part_scales_lengths_and_the_cube_of_wood(factor: float) -> None:
    def made(scale: float) -> Profile:
        return outline(
            [
                CylinderElement(long=mm(10 * scale), diameter=mm(20 * scale)),
                BeadElement(long=mm(8 * scale), diameter=mm(30 * scale)),
                OgeeElement(long=mm(20 * scale), to=mm(8 * scale)),
            ]
        )

    small, large = made(1).known(), made(factor).known()
    for name in ("length", "widest", "widest_at", "neck", "neck_at", "balance"):
        assert large[name].magnitude == pytest.approx(small[name].magnitude * factor), name
    assert large["volume"].magnitude == pytest.approx(small["volume"].magnitude * factor**3)
    assert large["slenderness"].magnitude == pytest.approx(small["slenderness"].magnitude)


def test_points_run_from_end_to_end_with_enough_on_every_curve() -> None:
    profile = _spindle()
    xs = [x for x, _ in profile.points]
    assert profile.points[0] == (0.0, pytest.approx(0.0))
    assert profile.points[-1] == (pytest.approx(128.0), pytest.approx(0.0, abs=1e-9))
    assert xs == sorted(xs)
    for segment in profile.segments:
        start, end = (place.magnitude for place in profile.span(segment))
        inside = [x for x in xs if start <= x <= end]
        if segment.kind in ("bead", "cove", "ogee", "round"):
            assert len(inside) >= 48, segment.kind


def test_stations_hold_every_boundary_and_every_crest_and_bottom() -> None:
    profile = _spindle()
    named = {station.what: station for station in profile.stations}
    assert named["collar, largest"].diameter.magnitude == pytest.approx(36)
    assert named["cove, deepest"].diameter.magnitude == pytest.approx(12)
    assert named["vee, deepest"].diameter.magnitude == pytest.approx(8)
    assert named["vee, deepest"].x.magnitude == pytest.approx(71.5)
    boundaries = {round(float(station.x.magnitude), 6) for station in profile.stations}
    assert {0, 6, 18, 21, 33, 45, 70, 73, 123, 128} <= boundaries


def test_story_stick_has_each_place_once_and_both_diameters_at_a_shoulder() -> None:
    marks = _spindle().story_stick
    places = [float(mark.x.magnitude) for mark in marks]
    assert places == sorted(places)
    assert len({round(place, 6) for place in places}) == len(places)
    shoulder = next(mark for mark in marks if mark.x.magnitude == pytest.approx(18))
    assert [diameter.magnitude for diameter in shoulder.diameters] == [pytest.approx(12), pytest.approx(24)]
    plain = next(mark for mark in marks if mark.x.magnitude == pytest.approx(21))
    assert len(plain.diameters) == 1


def test_diameter_at_a_shoulder_is_the_larger_and_outside_the_part_there_is_none() -> None:
    profile = _spindle()
    assert profile.diameter_at(mm(18)).magnitude == pytest.approx(24)
    assert profile.diameter_at(mm(17.9)).magnitude == pytest.approx(12)
    with pytest.raises(ValueError, match="the part is not there"):
        profile.diameter_at(mm(128.1))


def test_neck_is_the_least_diameter_apart_from_domed_ends() -> None:
    profile = _spindle()
    known = {name: value.magnitude for name, value in profile.known().items()}
    assert known["neck"] == pytest.approx(6)
    assert known["neck_at"] == pytest.approx(123)
    crest = next(station for station in profile.stations if station.what == "collar, largest")
    assert known["widest"] == pytest.approx(36)
    assert known["widest_at"] == pytest.approx(crest.x.magnitude)
    assert known["slenderness"] == pytest.approx(128 / 6)


def test_every_value_told_of_an_outline_is_known() -> None:
    assert [one.name for one in PROFILE_VALUES] == list(_spindle().known())


def test_of_several_places_of_one_diameter_the_first_is_told() -> None:
    twice = outline(
        [
            CylinderElement(long=mm(9), diameter=mm(20)),
            CylinderElement(long=mm(5), diameter=mm(30)),
            CylinderElement(long=mm(7), diameter=mm(20)),
            CylinderElement(long=mm(4), diameter=mm(30)),
        ]
    ).known()
    assert twice["widest_at"].magnitude == pytest.approx(9)
    assert twice["neck_at"].magnitude == pytest.approx(0, abs=1e-9)


def test_an_ogee_that_hardly_rises_is_a_cylinder() -> None:
    """To the last digits that mean something, at any rise: its arcs' circles grow without end."""
    for rise in (0, 1e-9, -1e-9, 1e-6, 1e-4, 3e-3):
        made = outline([OgeeElement(long=mm(40), start=mm(20), to=mm(20 + rise))]).known()
        # The mean of r² under an S even about its middle lies within the rise of the middle's.
        assert made["volume"].magnitude == pytest.approx(math.pi / 4 * (20 + rise / 2) ** 2 * 40, rel=1e-6)
        assert made["balance"].magnitude == pytest.approx(20, rel=1e-3)


def test_the_laws_of_an_outline_have_their_units_right() -> None:
    """Evaluated with units, row by row, they give what the plain numbers give."""
    elements = [
        *_ELEMENTS,
        OvoloElement(long=mm(8), to=mm(30)),
        CavettoElement(long=mm(6), to=mm(12)),
        RoundElement(long=mm(4)),
    ]
    plan, profile = planned(elements), outline(elements)
    with_units: dict[str, Quantity] = {}
    for number, element in enumerate(elements, start=1):
        for size, key in {"long": "long", "diameter": "diameter", "start": "from", "to": "to", "end": "to"}.items():
            if getattr(element, size, None) is not None:
                with_units[f"{number}.{key}"] = getattr(element, size)
    for row in plan.rows.all:
        value = value_of(row.formula.tree, lambda name, row=row: with_units[row.stands_for[name]])
        assert value.magnitude == pytest.approx(profile.values[row.name], rel=1e-9, abs=1e-9), row.name
        with_units[row.name] = value
    for one in PROFILE_VALUES:
        assert kind_of(with_units[one.name]) is one.kind


@pytest.mark.parametrize(
    ("long", "diameter", "told"),
    [(10, 1, []), (10.1, 1, ["slenderness <= 10"]), (1, 0.12, ["neck >= 1/8 in"]), (1.25, 0.125, [])],
)
def test_slim_and_thin_parts_are_minded(long: float, diameter: float, told: list[str]) -> None:
    """10 diameters and 1/8 in: common practice, no published source."""
    known = outline([CylinderElement(long=inches(long), diameter=inches(diameter))]).known()
    assert [demand.holds for demand in PROFILE_DEMANDS if not demand.met(known)] == told
    assert all(demand.level == "mind" for demand in PROFILE_DEMANDS)


_BODY = CylinderElement(long=mm(10), diameter=mm(20))


@pytest.mark.parametrize(
    ("elements", "index", "message"),
    [
        ([], 0, "no elements"),
        ([_BODY, CylinderElement(long=mm(0), diameter=mm(20))], 1, r"cylinder is 0\sin"),
        ([CylinderElement(long=mm(10), diameter=mm(0))], 0, r"diameter is 0\sin"),
        ([BeadElement(long=mm(10), diameter=mm(20))], 0, "no diameter to begin from"),
        ([_BODY, BeadElement(long=mm(10), diameter=mm(20))], 1, "does not rise"),
        ([_BODY, BeadElement(long=mm(10), diameter=mm(24), end=mm(30))], 1, "does not rise"),
        ([_BODY, CoveElement(long=mm(10), diameter=mm(20))], 1, "does not sink"),
        ([_BODY, VeeElement(long=mm(10), diameter=mm(16), end=mm(12))], 1, "does not sink"),
        ([_BODY, OgeeElement(long=mm(4), to=mm(10))], 1, "more than its length"),
        ([_BODY, RoundElement(long=mm(4)), _BODY], 1, "cuts the part in two"),
        ([_BODY, RoundStartElement(long=mm(4), to=mm(20))], 1, "cuts the part in two"),
        ([TaperElement(long=mm(4), start=mm(10), to=mm(0)), _BODY], 0, "cuts the part in two"),
    ],
)
def test_elements_that_make_no_outline_are_refused_where_they_stand(
    elements: list[Element], index: int, message: str
) -> None:
    with pytest.raises(ProfileFault, match=message) as caught:
        outline(elements)
    assert caught.value.index == index
    assert caught.value.hint


def test_an_ogee_may_rise_just_its_length() -> None:
    """Two quarter circles."""
    profile = outline([OgeeElement(long=mm(10), start=mm(10), to=mm(30))])
    assert profile.diameter_at(mm(5)).magnitude == pytest.approx(20)
    assert profile.known()["volume"].magnitude == pytest.approx(_summed(profile)[0], rel=1e-3)


def test_which_end_of_an_element_a_place_is_does_not_hang_on_the_language() -> None:
    def edges() -> list[tuple[str, str]]:
        return [(point.element, point.edge) for segment in planned(_ELEMENTS).segments for point in segment.points]

    with speaking("en-XA"):
        there = edges()
    assert there == edges()
    assert ("collar", "ends") in there
