"""No line runs through lettering, no lettering meets another or leaves the paper: every drawing of every demo piece."""

from __future__ import annotations

import re

import pytest
from drawn_lines import crossings
from made import clashes, letterings

from handouts_build.figures import ARRANGEMENT, draw
from handouts_build.sheet import Sheet
from tests.projects import DEMO_PIECES, demo_archive

NAMES = list(DEMO_PIECES)


def sizes(name: str) -> list[Sheet]:
    (sheet,) = (sheet for sheet in demo_archive().sheets if sheet.name == name)
    return [sheet, *(ready.sheet for ready in sheet.ready)]


def test_every_demo_piece_is_looked_at() -> None:
    assert sorted(sheet.name for sheet in demo_archive().sheets) == NAMES


@pytest.mark.parametrize("name", NAMES)
def test_nothing_meets_lettering(name: str) -> None:
    wrong = []
    for sheet in sizes(name):
        for figure in draw(sheet):
            wrong += [f"{sheet.name} {figure.name}: {what}" for what in (*clashes(figure.svg), *crossings(figure.svg))]
    assert wrong == []


@pytest.mark.parametrize("name", NAMES)
def test_a_general_arrangement_can_be_read_on_paper(name: str) -> None:
    """Lettering of 10 pt, 3.5 mm, its capitals and figures near the nominal 2.5 mm of ISO 3098-1 (from memory)."""
    for sheet in sizes(name):
        (figure,) = (figure for figure in draw(sheet) if figure.name == ARRANGEMENT)
        assert figure.width_mm <= 170
        found = [float(size) for size in re.findall(r"font-size: ([\d.]+)px", figure.svg)]
        assert found
        assert min(found) >= 2.5 / 25.4 * 72
        whole = [each for each in letterings(figure.svg) if each.text.startswith("overall") or each.text == "Ø"]
        assert all(each.bottom - each.top >= 2.3 / 25.4 * 72 for each in whole)


@pytest.mark.parametrize("name", NAMES)
def test_a_general_arrangement_is_laid_out_for_a_narrow_screen_too(name: str) -> None:
    """Nothing meets its lettering, which is as large as on paper, and hardly a number of the other is left out."""
    for sheet in sizes(name):
        (figure,) = (figure for figure in draw(sheet) if figure.name == ARRANGEMENT)
        narrow = figure.narrow_svg
        assert [*clashes(narrow), *crossings(narrow)] == [], sheet.name
        width = float(re.search(r'width="([\d.]+)mm"', narrow)[1])  # type: ignore[index]
        # 340 px of plate on a screen of 390 px: lettering of 13.3 px comes to 12 and more.
        assert width <= 98
        assert set(re.findall(r"font-size: ([\d.]+)px", narrow)) == {"10"}
        assert len(letterings(narrow)) >= len(letterings(figure.svg)) - 2


def test_a_line_through_lettering_is_found() -> None:
    """The reader of drawings sees a line over lettering, and not one that is broken there."""
    text = (
        "<text style=\"font-size: 10px; font-family: 'Handouts Sans'; text-anchor: start; fill: #101012\""
        ' x="20" y="30">1½ in</text>'
    )
    line = '<path d="M 0 27 L 90 27" style="fill: none; stroke: #101012; stroke-width: 0.5"/>'
    gap = '<path d="M 18 20 L 50 20 L 50 34 L 18 34 z" style="fill: #fefefe"/>'
    frame = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 50">{}</svg>'
    assert len(crossings(frame.format(line + text))) == 1
    assert len(crossings(frame.format(text + line))) == 1
    assert len(crossings(frame.format(gap + line + text))) == 1
    assert crossings(frame.format(line + gap + text)) == []
