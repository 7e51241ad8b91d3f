"""The page's full-size templates beside the library's: every line, label, caption and text alternative."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from playwright.sync_api import Browser, Page

from handouts_build.figures.templates.catalog import bar, templates
from handouts_build.figures.templates.frame import Room, Template
from handouts_build.outputs.pages.own_size import own_size
from handouts_build.sheet import Sheet
from tests.browser.own_size_cases import PROJECTS, Piece
from tests.browser.scripts import CONSTANTS, scripted
from tests.projects import worked

ROOM = Room(180, 222)
"""What the page takes for the room on a sheet of either size, in mm."""

DRAW = """([data]) => {
  const own = window.handoutsOwnSize, arithmetic = own.arithmetic(data.constants);
  const chosen = Object.fromEntries(data.sizes.map((size) => [size.name, size.value]));
  const found = own.templates(data, arithmetic.work(data, chosen, data.rule), data.rule, arithmetic);
  return found.map(({ title, use, pieces }) => ({
    title, use, pieces: pieces.map(({ svg, words, width, height }) => ({
      words, width, height, alt: svg.getAttribute('aria-label'),
      svg: new XMLSerializer().serializeToString(svg) })) }));
}"""

ANY_CHAPTERS = {"gauge": "sphere by facets", "divisions": "divisions"}


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    made = scripted(browser)
    yield made
    made.close()


def _shapes(svg: str) -> list[tuple[str, dict[str, Any], str]]:
    """The elements of a drawing in order: what each is, its attributes, its words; numbers as numbers."""
    found = []
    for element in ElementTree.fromstring(svg).iter():
        tag = element.tag.rpartition("}")[2]
        attributes = {
            name: _numbers(value) for name, value in element.attrib.items() if name not in ("role", "aria-label")
        }
        found.append((tag, attributes, element.text or ""))
    return found


def _numbers(text: str) -> Any:
    parts = re.split(r"(-?[0-9]+(?:\.[0-9]+)?(?:e-?[0-9]+)?)", text)
    return [pytest.approx(float(part), abs=2e-4) if each % 2 else part for each, part in enumerate(parts)]


def _round_work(sheet: Sheet) -> list[Template]:
    """The library's templates of the chapters that a page draws."""
    kept = {group.name for group in sheet.groups if group.chapter in ANY_CHAPTERS.values()}
    return [one for one in templates(sheet, ROOM) if one.pieces[0].group in kept]


def _compare(page: Page, sheet: Sheet) -> int:
    """How many templates are alike; fails where anything differs."""
    ours, theirs = page.evaluate(DRAW, [json.loads(own_size(sheet))]), _round_work(sheet)
    assert [(one["title"], one["use"]) for one in ours] == [(one.title, one.use) for one in theirs]
    for mine, yours in zip(ours, theirs, strict=True):
        assert [one["alt"] for one in mine["pieces"]] == [one.alt for one in yours.pieces]
        for piece, figure in zip(mine["pieces"], yours.pieces, strict=True):
            assert piece["words"] == ("" if len(yours.pieces) == 1 else figure.alt[: len(piece["words"])])
            assert (piece["width"], piece["height"]) == pytest.approx((figure.width_mm, figure.height_mm), abs=1e-3)
            drawn, expected = _shapes(piece["svg"]), _shapes(figure.svg)
            assert [shape[0] for shape in drawn] == [shape[0] for shape in expected]
            for shape, other in zip(drawn, expected, strict=True):
                assert shape[1].keys() == other[1].keys()
                assert shape[2] == other[2]
                for name, parts in shape[1].items():
                    assert parts == [getattr(part, "expected", part) for part in other[1][name]], (name, shape)
    return len(ours)


def test_at_the_authors_sizes_templates_are_the_printed_ones_line_by_line_and_word_by_word(page: Page) -> None:
    counted = sum(_compare(page, Piece(path).sheet()) for path in PROJECTS)
    assert counted >= 4


@pytest.mark.parametrize("ball", ["1/2 in", "2 3/8 in", "100 mm", "145 mm", "150 mm", "300 mm"])
@pytest.mark.parametrize("count", [2, 3, 12, 97])
def test_small_large_and_in_pieces_they_are_alike_too(page: Page, tmp_path: Path, ball: str, count: int) -> None:
    sheet = worked(
        tmp_path,
        sizes=f"ball: {{is: {ball}, says: Ball}}\ncount: {{is: {count}, says: How many}}",
        workings="octagon: {chapter: sphere by facets, says: Octagon, diameter: ball}\n"
        "ring: {chapter: divisions, says: Ring, diameter: ball, divisions: count}",
    )
    assert _compare(page, sheet) == len(_round_work(sheet))


def test_the_bar_to_measure_is_the_printed_one(page: Page) -> None:
    found = page.evaluate(
        "([draw]) => new XMLSerializer().serializeToString(window.handoutsOwnSize.bar(draw).svg)", [CONSTANTS["draw"]]
    )
    svg, _, _ = bar()
    for shape, other in zip(_shapes(found), _shapes(svg), strict=True):
        assert (shape[0], shape[2]) == (other[0], other[2])
        for name, parts in shape[1].items():
            assert parts == [getattr(part, "expected", part) for part in other[1][name]], name
    assert f'width="{4 * 25.4 + 14:g}mm"' in found
    assert math.isclose(CONSTANTS["draw"]["bars"][1][0], 101.6)
