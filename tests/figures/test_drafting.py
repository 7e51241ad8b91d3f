"""The drawing office: fractions, round scales, labels in a row, and true proportion."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from made import METRIC, chapter, lantern, sheet

from handouts_build.figures import draw
from handouts_build.figures.canvas import around, covers, width_of
from handouts_build.figures.dimensioning import spread
from handouts_build.figures.drawing import Scale
from handouts_build.figures.style import Role, lettered
from handouts_build.quantities import Rule, inches, print_quantity


@pytest.mark.parametrize(
    ("text", "glyphs"),
    [
        ("2\u00a01/4\u00a0in", "2¼\u00a0in"),
        ("7/8\u00a0in", "⅞\u00a0in"),
        ("13/32\u00a0in", "¹³⁄₃₂\u00a0in"),
        ("2\u00a021/32\u00a0in", "2\u202f²¹⁄₃₂\u00a0in"),
        ("−1/16\u00a0in", "−¹⁄₁₆\u00a0in"),
        ("57\u00a0mm", "57\u00a0mm"),
        ("0.004\u00a0in", "0.004\u00a0in"),
    ],
)
def test_fractions_are_lettered_in_glyphs(text: str, glyphs: str) -> None:
    assert lettered(text) == glyphs


@pytest.mark.parametrize("sixty_fourths", range(1, 65))
def test_the_face_has_every_shop_fraction(sixty_fourths: int) -> None:
    printed = print_quantity(inches(3 + sixty_fourths / 64), Rule(inch=Rule().inch / 2))
    assert covers(lettered(printed.lead))


@given(st.floats(0.001, 5000), st.floats(5, 200))
def test_a_scale_is_round_and_fills_its_room(length: float, room: float) -> None:
    scale = Scale.fitting((length, room))
    assert length * scale <= room * (1 + 1e-6)
    # No round scale is more than half as large again as the next smaller one.
    assert length * scale > room / 1.51
    large, small = (float(each.replace(",", "")) for each in str(scale).split(" : "))
    assert large / small == pytest.approx(float(scale), rel=1e-5)


@given(st.lists(st.tuples(st.floats(-100, 100), st.floats(1, 30)), min_size=1, max_size=20))
def test_labels_in_a_row_never_touch_and_keep_their_order(rows: list[tuple[float, float]]) -> None:
    rows.sort()
    wishes, sizes = [wish for wish, _ in rows], [size for _, size in rows]
    middles = spread(wishes, sizes, gap=1.0)
    for index in range(len(rows) - 1):
        apart = middles[index + 1] - middles[index]
        assert apart >= (sizes[index] + sizes[index + 1]) / 2 + 1.0 - 1e-6


@given(st.lists(st.tuples(st.floats(-100, 100), st.floats(1, 30)), min_size=1, max_size=20))
def test_labels_in_a_row_keep_their_bounds(rows: list[tuple[float, float]]) -> None:
    rows.sort()
    wishes, sizes = [wish for wish, _ in rows], [size for _, size in rows]
    need = sum(sizes) + len(sizes) - 1.0
    middles = spread(wishes, sizes, gap=1.0, within=(10.0, 10.0 + need + 5))
    assert middles[0] - sizes[0] / 2 >= 10.0 - 1e-6
    assert middles[-1] + sizes[-1] / 2 <= 15.0 + need + 1e-6


def test_a_label_with_room_stands_where_it_wishes() -> None:
    assert spread([10.0, 50.0], [8.0, 8.0], gap=1.0) == pytest.approx([10.0, 50.0])


def test_lettering_twice_as_large_is_twice_as_wide() -> None:
    assert width_of("setback", 16.0) == pytest.approx(2 * width_of("setback", 8.0), rel=0.02)


def test_an_arc_stays_on_its_circle() -> None:
    points = around((1.0, 2.0), 5.0, 30, 150)
    assert all(math.dist((1.0, 2.0), point) == pytest.approx(5.0) for point in points)


def _strokes(svg: str, role: Role, width: str) -> list[list[tuple[float, float]]]:
    """The whole lines of one pen, as points in mm of paper."""
    found = []
    for path, style in re.findall(r'<path d="([^"]*)" style="([^"]*)"', svg):
        if f"stroke: {role.value}" in style and f"stroke-width: {width}" in style and "dasharray" not in style:
            numbers = [float(one) * 25.4 / 72 for one in re.findall(r"-?[\d.]+", path)]
            found.append(list(zip(numbers[::2], numbers[1::2], strict=True)))
    return found


@pytest.mark.parametrize("size", [0.75, 2.25, 11.0])
def test_the_corner_cuts_make_a_regular_octagon_about_the_ball(size: float) -> None:
    """Plane geometry: the side of a regular octagon about a circle of diameter D is D (√2 - 1)."""
    octagon, *_ = draw(sheet(chapter("ball", "sphere by facets", diameter=inches(size))))
    ratio = re.search(r">Scale ([\d,]+) : ([\d,]+) in print<", octagon.svg)
    assert ratio is not None
    diameter = size * 25.4 * int(ratio[1]) / int(ratio[2])
    cuts = _strokes(octagon.svg, Role.ACCENT, "1.5")
    assert len(cuts) == 4
    middle = [sum(point[axis] for cut in cuts for point in cut) / 8 for axis in (0, 1)]
    for (x0, y0), (x1, y1) in cuts:
        assert math.dist((x0, y0), (x1, y1)) == pytest.approx(diameter * (math.sqrt(2) - 1), abs=0.02)
        away = abs((x1 - x0) * (middle[1] - y0) - (y1 - y0) * (middle[0] - x0)) / math.dist((x0, y0), (x1, y1))
        assert away == pytest.approx(diameter / 2, abs=0.02)


def test_the_divider_line_is_the_chord_to_scale() -> None:
    """Trigonometry: the chord of one of n equal steps is D sin(180°/n)."""
    marks = next(one for one in draw(sheet(*lantern())) if one.name == "equator-marks")
    assert ">Scale 4 : 5 in print<" in marks.svg
    ((start, stop),) = _strokes(marks.svg, Role.ACCENT, "1.5")
    assert math.dist(start, stop) == pytest.approx(0.8 * 2.25 * 25.4 * math.sin(math.radians(15)), abs=0.02)


def test_metric_leads_where_the_project_says_so() -> None:
    group = chapter("ball", "sphere by facets", METRIC, diameter=inches(2.25))
    octagon, *_ = draw(sheet(group, rule=METRIC))
    assert "57\u00a0mm (2¼\u00a0in)" in octagon.svg
