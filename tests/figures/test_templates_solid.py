"""Profile cards against the profiles they are cut to: the solid gives the edge, the elements are the outside check.

A profile's points are worked out from its elements alone (tests/trade checks them against closed forms); the card's
edge is read off the solid after the cut. The two ways meet only here.
"""

from __future__ import annotations

import itertools
import math
from functools import cache
from pathlib import Path

import pytest

from handouts_build.figures.templates.catalog import Room, Template, templates
from handouts_build.sheet import Sheet
from handouts_build.sheet.stages import Side
from tests.figures.test_templates import paths
from tests.projects import demo_archive, worked

PROJECTS = Path(__file__).parents[2] / "projects"
WIDE = Room(500.0, 500.0)
Points = tuple[tuple[float, float], ...]

TURNED = """
parts:
  body:
    wood: maple, sugar
    blank: {{round: 50 mm, long: 100 mm}}
    steps:
      - name: Turn it
        say: Turn it.
        hold: {{by: [between centers]}}
        cut:
          - profile: {{shape: side, at: 20 mm}}
{after}
"""
SHAPE = (
    "side: {says: Side, along: [{cylinder: {diameter: 30 mm, long: 30 mm}}, {bead: {diameter: 40 mm, long: 30 mm}}]}"
)


@cache
def demo() -> dict[str, Sheet]:
    return {sheet.name: sheet for sheet in demo_archive().sheets}


def sides(sheet: Sheet) -> dict[str, Side]:
    """The first of each profile."""
    found = [side for step in sheet.steps if step.stage is not None for side in step.stage.sides]
    return {side.profile: side for side in reversed(found)}


def apart_mm(point: tuple[float, float], line: Points) -> float:
    """Distance of a point from a line of points."""
    least = math.inf
    for (x0, y0), (x1, y1) in itertools.pairwise(line):
        long = (x1 - x0) ** 2 + (y1 - y0) ** 2
        along = ((point[0] - x0) * (x1 - x0) + (point[1] - y0) * (y1 - y0)) / long if long else 0.0
        along = min(1.0, max(0.0, along))
        least = min(least, math.dist(point, (x0 + along * (x1 - x0), y0 + along * (y1 - y0))))
    return least


def card(sheet: Sheet, name: str) -> Template:
    title = sheet.group(name).title
    (found,) = (one for one in templates(sheet, WIDE) if one.title == f"Profile card: {title}")
    return found


@pytest.mark.parametrize("name", sorted(path.stem for path in PROJECTS.glob("*.yml") if path.stem != "shop"))
def test_the_edge_from_the_solid_lies_on_the_profile_and_the_profile_on_it(name: str) -> None:
    """Within 0.05 mm both ways, save where the wood was left standing or bored away at an end of the profile."""
    sheet = demo()[name]
    found = sides(sheet)
    assert found.keys() >= {group.name for group in sheet.groups if group.chapter == "profile"}
    for profile, side in found.items():
        shape = sheet.group(profile).shape
        assert shape is not None
        analytic = shape.points_mm
        left = [point for point in side.points_mm if apart_mm(point, analytic) > 0.05]
        gone = [point for point in analytic if apart_mm(point, side.points_mm) > 0.05]
        # A stub kept on the axis, or a hole in the tip, changes a profile only where it runs down to the axis.
        assert all(radius == pytest.approx(min(r for _, r in left), abs=0.05) for _, radius in left), profile
        assert all(radius <= max([2.0, *(r for _, r in left)]) + 0.05 for _, radius in gone), profile
        assert len(side.points_mm) < 160


def test_the_card_is_cut_to_the_solid_and_says_after_which_step() -> None:
    sheet = demo()["three-sided-candlestick"]
    for name, side in sides(sheet).items():
        made = card(sheet, name)
        edge = [(along, radius) for radius, along in paths(made.pieces[0].svg)[0][: len(side.points_mm)]]
        assert all(math.dist(one, other) < 2e-3 for one, other in zip(edge, side.points_mm, strict=True))
        (number,) = (
            step.number for step in sheet.steps if step.stage is not None and side in step.stage.sides
        )  # fmt: skip
        assert f"The edge is the shape after step {number}." in made.use
        assert f"The edge is the shape after step {number}." in made.pieces[0].alt


def test_without_a_solid_the_card_is_cut_to_the_profiles_elements_and_says_so(tmp_path: Path) -> None:
    sheet = worked(tmp_path, profiles=SHAPE)
    shape = sheet.group("side").shape
    made = card(sheet, "side")
    assert shape is not None
    edge = [(along, radius) for radius, along in paths(made.pieces[0].svg)[0][: len(shape.points_mm)]]
    assert all(math.dist(one, other) < 2e-3 for one, other in zip(edge, shape.points_mm, strict=True))
    assert "The edge is the shape" not in made.use


def test_a_piece_turned_from_its_inside_has_a_card_to_hold_in_the_hollow() -> None:
    box = demo()["lidded-box"]
    assert sides(box)["inside_shape"].hollow
    assert "keep what lies between" in card(box, "inside_shape").use
    assert "keep the lettered side" in card(box, "dome").use


@pytest.mark.parametrize(
    "after",
    [
        "- holes: {diameter: 5 mm, count: 3, at: 50 mm, reach: axis}",
        "- flat: {distance: 17 mm}",
        "- holes: {diameter: 12 mm, count: 1, at: 65 mm, reach: through}",
    ],
)  # fmt: skip
def test_a_hole_or_a_flat_leaves_the_edge_as_it_is(tmp_path: Path, after: str) -> None:
    """They take wood from one side; a card is held where the work is widest."""
    plain = worked(tmp_path, profiles=SHAPE, parts=TURNED.format(after=""))
    cut = worked(tmp_path, profiles=SHAPE, parts=TURNED.format(after=f"          {after}"))
    (first,), (second,) = sides(plain).values(), sides(cut).values()
    assert max(apart_mm(point, first.points_mm) for point in second.points_mm) < 0.05
    assert max(apart_mm(point, second.points_mm) for point in first.points_mm) < 0.05


def test_where_a_bore_takes_a_profiles_end_away_the_card_goes_by_the_elements(tmp_path: Path) -> None:
    """A cone that runs out to 1 mm, bored 6 mm wide from its tip: over 10 mm of it no wood is left."""
    cone = "side: {says: Side, along: [{taper: {from: 30 mm, to: 1 mm, long: 58 mm}}]}"
    bore = "          - part off: {at: 78 mm, keep: left}\n          - bore: {diameter: 6 mm, end: right, deep: 40 mm}"
    parts = TURNED.format(after=bore).replace("[between centers]", "[chuck], deep: 10 mm")
    sheet = worked(tmp_path, profiles=cone, parts=parts)
    assert "The edge is the shape" not in card(sheet, "side").use


def test_a_cylinder_turned_down_afterwards_is_on_the_card(tmp_path: Path) -> None:
    """The bead's crown, 40 mm across, turned off to 36 mm: nothing on the card reaches further than 18 mm."""
    after = "          - cylinder: {diameter: 36 mm, start: 50 mm, end: 80 mm}"
    (side,) = sides(worked(tmp_path, profiles=SHAPE, parts=TURNED.format(after=after))).values()
    assert max(radius for _, radius in side.points_mm) == pytest.approx(18, abs=0.01)
    assert max(radius for place, radius in side.points_mm if place < 29) == pytest.approx(15, abs=0.01)


def test_a_stub_that_is_left_standing_is_told_as_wide_as_it_stands() -> None:
    """The handle's butt runs down to the axis, and its cut keeps half an inch there for the tailstock."""
    (piece, *_) = card(demo()["ferrule-handle"], "shape").pieces
    last = piece.alt.rpartition("; ")[2].replace("\u00a0", " ")
    assert last.startswith("butt ends, 1/2 in (12.5 mm) at 13 in")
