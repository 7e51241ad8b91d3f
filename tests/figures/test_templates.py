"""The drawings at true size: as long and as wide as geometry says, in pieces that join, with the numbers in words."""

from __future__ import annotations

import dataclasses
import itertools
import math
import re
import string
from pathlib import Path
from xml.etree import ElementTree

import pytest
import yaml
from fontTools.ttLib import TTFont
from made import METRIC, profile, sheet

from handouts_build.figures.templates import draw as templates_draw
from handouts_build.figures.templates.catalog import Room, Template, bar, templates
from handouts_build.figures.templates.draw import LETTER_MM, cuts, fits, spread
from handouts_build.quantities import count, inches, millimetres
from handouts_build.sheet import Group, Sheet
from handouts_build.trade.elements import CylinderElement, RoundElement
from tests.sample import chapter_group, profile_group, sample

ROOM = Room(184.0, 220.0)
REFERENCE = Path(__file__).parent.parent / "reference"


def drawn(*groups: Group, room: Room = ROOM) -> dict[str, Template]:
    """Templates by the first words of their titles."""
    return {
        one.title.partition(":")[0].partition(" for ")[0]: one
        for one in templates(dataclasses.replace(sample(), groups=groups), room)
    }


def divisions(number: float, across_mm: float) -> Group:
    return chapter_group("rim", "Rim", "divisions", divisions=count(number), diameter=millimetres(across_mm))


def paths(svg: str) -> list[list[tuple[float, float]]]:
    """The points of every path of a drawing, in mm."""
    return [
        [(float(x), float(y)) for x, y in re.findall(r"(-?[\d.]+),(-?[\d.]+)", path)]
        for path in re.findall(r'<path d="([^"]+)"', svg)
    ]


def all_pieces(sheet: Sheet, room: Room = ROOM) -> list[str]:
    return [piece.svg for one in templates(sheet, room) for piece in one.pieces]


def test_a_drawing_measures_in_millimetres_what_it_says() -> None:
    """SVG 1.1, section 7.7 and 7.10: with width in mm and a viewBox of as many units, a unit is a millimetre."""
    for one in templates(sample(), ROOM):
        for piece in one.pieces:
            root = ElementTree.fromstring(piece.svg)
            box = [float(part) for part in root.attrib["viewBox"].split()]
            assert root.attrib["width"] == f"{piece.width_mm:.4f}".rstrip("0").rstrip(".") + "mm"
            assert box[2] == pytest.approx(piece.width_mm, abs=1e-3)
            assert box[3] == pytest.approx(piece.height_mm, abs=1e-3)


def test_the_bar_is_100_mm_and_4_in_between_its_end_marks() -> None:
    svg, _, _ = bar()
    level = [one for one in paths(svg) if one[0][1] == one[1][1]]
    assert sorted(one[1][0] - one[0][0] for one in level) == pytest.approx([100.0, 101.6])


@pytest.mark.parametrize(("number", "across"), [(2, 30), (5, 57.15), (6, 57.15), (24, 120), (96, 200)])
def test_marks_on_the_strip_are_equal_parts_of_pi_times_the_diameter(number: int, across: float) -> None:
    (piece,) = drawn(divisions(number, across), room=Room(184, 5000))["Paper strip"].pieces
    marks = [
        one[0][1]
        for one in paths(piece.svg)
        if len(one) == 2 and one[0] == (0, one[0][1]) and one[1] == (10, one[0][1])
    ]
    assert len(marks) == number
    assert marks == pytest.approx([math.pi * across * each / number for each in range(number)], abs=1e-3)
    assert piece.height_mm == pytest.approx(math.pi * across + 10 + 0.2, abs=1e-3)


def test_the_octagon_gauge_follows_the_published_factors() -> None:
    """tests/reference/geometry.yaml, row `octagon` (derived from the regular polygon; four places)."""
    held = yaml.safe_load((REFERENCE / "geometry.yaml").read_text(encoding="utf-8"))
    (row,) = (one for one in held["formulas"] if one["id"] == "octagon")
    cut, side = (float(number) for number in re.findall(r"=(0\.\d{4}) w", row["value"]))
    ball = 100.0
    (piece,) = drawn(chapter_group("ball", "Ball", "sphere by facets", diameter=millimetres(ball)))[
        "Octagon gauge"
    ].pieces
    outline = paths(piece.svg)[0]
    (x0, y0), (x1, y1), (_, y2), (_, y3) = outline[:4]
    assert (y0, y1, y2, y3) == pytest.approx((0, ball * cut, ball * (1 - cut), ball), abs=6e-3)
    assert 2 * x0 == pytest.approx(ball * side, abs=6e-3)
    assert x1 == pytest.approx(50)
    # A regular octagon: the slanting side is as long as the straight one.
    assert math.hypot(x1 - x0, y1 - y0) == pytest.approx(y2 - y1, abs=1e-3)


def test_the_end_circles_are_the_ball_and_the_octagon_side() -> None:
    (piece,) = drawn(chapter_group("ball", "Ball", "sphere by facets", diameter=millimetres(100)))["End circles"].pieces
    assert [float(r) for r in re.findall(r' r="([\d.]+)"', piece.svg)] == pytest.approx(
        [50, 100 * (math.sqrt(2) - 1) / 2], abs=1e-3
    )


def test_rays_stand_equal_angles_apart() -> None:
    (piece,) = drawn(divisions(7, 100))["End circle"].pieces
    rays = [one[1] for one in paths(piece.svg) if math.isclose(math.hypot(*one[1]), 50, abs_tol=1e-3)]
    turns = sorted(math.degrees(math.atan2(x, -y)) % 360 for x, y in rays)
    assert turns == pytest.approx([each * 360 / 7 for each in range(7)], abs=0.01)


def test_the_profile_card_is_cut_to_the_outline_point_by_point() -> None:
    group = profile_group()
    assert group.shape is not None
    (piece,) = drawn(group)["Profile card"].pieces
    along = [(along, radius) for radius, along in paths(piece.svg)[0][: len(group.shape.points_mm)]]
    for (x, r), (y, s) in zip(along, group.shape.points_mm, strict=True):
        assert (x, r) == pytest.approx((y, s), abs=1e-3)


def test_the_story_stick_has_a_mark_at_every_station() -> None:
    group = profile_group()
    assert group.shape is not None
    (piece,) = drawn(group)["Story stick"].pieces
    marks = [one[0][1] for one in paths(piece.svg) if len(one) == 2 and one[0][0] == 0 and one[1][0] == 8]
    for station in group.shape.stations:
        assert min(abs(mark - station.at.m_as("mm")) for mark in marks) < 1e-3


def test_a_story_stick_has_marks_along_a_long_curve() -> None:
    """Half a ball 100 mm across and 50 mm long: x² + r² = 50², its mark's own diameter said beside it."""
    group = profile("half", [RoundElement(start=millimetres(100), long=millimetres(50), label="half ball")], METRIC)
    made = {one.title.split(":")[0]: one for one in templates(sheet(group, rule=METRIC), ROOM)}
    (piece,) = made["Story stick"].pieces
    found = re.findall(r"on the curve at ([\d.]+)\u00a0mm \([^)]*\), ([\d.]+)\u00a0mm", piece.alt)
    assert len(found) >= 3
    for at, across in found:
        assert float(across) == pytest.approx(2 * math.sqrt(50**2 - float(at) ** 2), abs=0.55)
    straight = profile("rod", [CylinderElement(diameter=millimetres(30), long=millimetres(200), label="rod")], METRIC)
    assert not any("on the curve" in one.pieces[0].alt for one in templates(sheet(straight, rule=METRIC), ROOM))


@pytest.mark.parametrize(("across", "long"), [(320.0, 100.0), (500.0, 120.0), (400.0, 260.0)])
def test_the_card_of_a_large_bowl_is_in_pieces_and_not_left_out(across: float, long: float) -> None:
    """Put together again, its edge is half an ellipse of the bowl's own size, to the solid's hundredth."""
    bowl = RoundElement(start=millimetres(across), long=millimetres(long), label="bowl")
    group = profile("bowl", [bowl], METRIC)
    assert group.shape is not None
    made = {one.title.split(":")[0]: one for one in templates(sheet(group, rule=METRIC), ROOM)}
    cut = made["Profile card"].pieces
    for piece in cut:
        assert piece.width_mm <= ROOM.width + 0.2
        assert piece.height_mm <= ROOM.height
    strips = math.ceil(long / ROOM.width)
    assert sum(piece.width_mm - 0.2 for piece in cut) == pytest.approx(long * len(cut) / strips, abs=0.01)
    edge = paths(cut[0].svg)[0][: len(group.shape.points_mm)]
    for (x, y), (along, radius) in zip(edge, group.shape.points_mm, strict=True):
        assert (long - x, y) == pytest.approx((along, radius), abs=0.002)
    low = sum(piece.height_mm - 0.2 for piece in cut[: len(cut) // strips]) - 10.0 * (len(cut) // strips - 1)
    assert low >= across / 2


@pytest.mark.parametrize("long", [300.0, 500.0, 1100.0])
def test_pieces_of_a_long_template_add_up_to_the_whole_without_their_tabs(long: float) -> None:
    made = drawn(profile_group(millimetres(long)))
    for one in (made["Profile card"], made["Story stick"]):
        assert len(one.pieces) > 1
        heights = [piece.height_mm - 0.2 for piece in one.pieces]
        assert sum(heights) - 10.0 * (len(heights) - 1) == pytest.approx(long, abs=1e-3)
        assert max(heights) <= ROOM.height
        for number, piece in enumerate(one.pieces, start=1):
            assert piece.alt.startswith(f"Piece {number} of {len(heights)}.")


def test_no_piece_is_larger_than_its_page() -> None:
    for across in (5, 20, 57, 140, 182, 184, 300, 900):
        group = divisions(8, across)
        ball = chapter_group("ball", "Ball", "sphere by facets", diameter=millimetres(across))
        for one in templates(dataclasses.replace(sample(), groups=(group, ball)), ROOM):
            for piece in one.pieces:
                assert piece.width_mm <= ROOM.width
                assert piece.height_mm <= ROOM.height


def test_marks_too_close_to_use_are_not_drawn() -> None:
    """Common practice, no published source: marks nearer than a millimetre cannot be told apart at the lathe."""
    assert "Paper strip" not in drawn(divisions(400, 30))
    assert "Paper strip" in drawn(divisions(90, 30))


def test_lettering_is_at_least_7_points() -> None:
    """7 points are 2.47 mm, at 72 points to the inch of 25.4 mm."""
    assert LETTER_MM >= 7 * 25.4 / 72
    for svg in all_pieces(sample()):
        assert {float(size) for size in re.findall(r'font-size="([\d.]+)"', svg)} <= {round(LETTER_MM, 3)}


def test_words_that_are_said_to_fit_do_fit() -> None:
    """Measured with the widths in the face that the drawing is lettered in."""
    face = TTFont(Path(templates_draw.__file__).parents[2] / "fonts" / "handouts-sans-regular.ttf")
    widths, signs, em = face["hmtx"], face.getBestCmap(), face["head"].unitsPerEm
    for words in (
        string.ascii_letters,
        string.digits,
        "tenon starts: 23/32 in (18.5 mm), at 0 in",
        "2½ × 3 — 45°, Øl",
    ):
        true = sum(widths[signs[ord(letter)]][0] for letter in words) / em * LETTER_MM
        assert not fits(words, true * 0.999)
        assert fits(words, true * 1.25)


def test_the_words_for_each_template_say_its_numbers() -> None:
    made = {one.title: one for one in templates(sample(), ROOM)}
    strip = next(one for title, one in made.items() if title.startswith("Paper strip"))
    assert (
        strip.pieces[0]
        .alt.replace("\u00a0", " ")
        .startswith("Paper strip 7 1/16 in (179.5 mm) long, to wrap around 2 1/4 in (57 mm)")
    )
    gauge = next(one for title, one in made.items() if title.startswith("Octagon"))
    assert "21/32 in (16.5 mm) in from each end" in gauge.pieces[0].alt.replace("\u00a0", " ")
    for one in made.values():
        assert one.use.endswith(".")
        assert all(re.search(r"\d", piece.alt) for piece in one.pieces)


def test_author_text_stays_text_in_a_drawing() -> None:
    group = profile_group()
    assert group.shape is not None
    odd = tuple(dataclasses.replace(station, what='<b>&"x"\x0c') for station in group.shape.stations)
    group = dataclasses.replace(group, shape=dataclasses.replace(group.shape, stations=odd))
    root = ElementTree.fromstring(drawn(group)["Story stick"].pieces[0].svg)
    said = [text.text or "" for text in root.iter("{http://www.w3.org/2000/svg}text")]
    assert sum(one.startswith('<b>&"x":') for one in said) == len(odd)


@pytest.mark.parametrize(
    "marks", [[0.0, 0.1, 0.2, 50.0], [5.0] * 9, [0.0, 99.0, 99.5, 100.0], [float(each) for each in range(60)]]
)
def test_labels_never_touch_and_stay_on_the_card(marks: list[float]) -> None:
    places = spread(marks, low=1.0, high=99.0)
    apart = min(LETTER_MM * 1.2, 98.0 / (len(marks) - 1))
    assert all(1.0 - 1e-9 <= place <= 99.0 + 1e-9 for place in places)
    assert all(after - before >= apart - 1e-9 for before, after in itertools.pairwise(places))


@pytest.mark.parametrize("length", [10.0, 199.9, 200.0, 200.1, 450.0, 2000.0])
def test_cuts_leave_no_piece_too_long_and_keep_away_from_marks(length: float) -> None:
    marks = [each * 17.3 for each in range(int(length / 17.3) + 1)]
    joints = cuts(length, 200.0, clear=marks, margin=3.0)
    edges = [0.0, *joints, length]
    assert all(0 < after - before <= 200.0 + 1e-9 for before, after in itertools.pairwise(edges))
    assert all(abs(joint - mark) >= 3.0 for joint in joints for mark in marks)


def test_inches_and_millimetres_give_the_same_drawing() -> None:
    one = drawn(chapter_group("b", "B", "sphere by facets", diameter=inches(2)))["Octagon gauge"].pieces[0]
    other = drawn(chapter_group("b", "B", "sphere by facets", diameter=millimetres(50.8)))["Octagon gauge"].pieces[0]
    assert one.svg == other.svg
