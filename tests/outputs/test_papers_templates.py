"""The printed templates, measured on the page: they are as long as mathematics says."""

from __future__ import annotations

import dataclasses
import itertools
import math
import re

import numpy as np
import pytest

from handouts_build.outputs.papers.render import papers
from handouts_build.outputs.papers.template_sheets import templates_data
from handouts_build.paper import SIZES, USUAL
from handouts_build.quantities import count, inches, millimetres
from handouts_build.sheet import Group, Sheet
from tests.outputs.pdf_measure import MM, dark, middles, page_count, page_texts, runs, uprights
from tests.sample import chapter_group, profile_group, sample


def printed(sheet: Sheet, paper: str) -> bytes:
    return papers(dataclasses.replace(sheet, papers=("templates",)), [], paper=paper)[
        f"{sheet.name}-templates-{paper}.pdf"
    ]


def only(*groups: Group) -> Sheet:
    return dataclasses.replace(sample(), groups=groups, parts=(), findings=())


@pytest.mark.parametrize("paper", SIZES)
def test_the_bar_on_every_page_is_truly_100_mm_and_4_in_long(paper: str) -> None:
    """4 in is 101.6 mm: NIST SP 811, appendix B.6, the inch is 25.4 mm exactly."""
    pdf = printed(sample(), paper)
    for page in range(page_count(pdf)):
        foot = dark(pdf, page)[int(-26 / MM) :, : int(114.9 / MM)]
        rows = [middles(row) for row in foot]
        # Only the whole marks stand this tall: both ends of the upper bar, every inch of the lower one.
        upper = [row[1] - row[0] for row in rows if len(row) == 2 and abs(row[1] - row[0] - 100) < 2]
        lower = [row[4] - row[0] for row in rows if len(row) == 5 and abs(row[4] - row[0] - 101.6) < 2]
        assert len(upper) > 5
        assert len(lower) > 5
        assert np.median(upper) == pytest.approx(100.0, abs=0.1)
        assert np.median(lower) == pytest.approx(101.6, abs=0.1)


def strips(pdf: bytes, least_mm: float) -> list[list[float]]:
    """The cross lines of every strip in a document, in reading order: places down the page, in mm."""
    found = []
    for page in range(page_count(pdf)):
        picture = dark(pdf, page)
        sides = uprights(picture, least_mm)
        for left, right in itertools.pairwise(sides):
            if abs(right[0] - left[0] - 16.0) < 0.3 and abs(right[1] - left[1]) < 0.5:
                top = int((left[1] - 0.5) / MM)
                band = picture[top : int((left[2] + 12) / MM), int((left[0] + 4.4) / MM) : int((left[0] + 5.7) / MM)]
                # Between the numbers and the middle, where no lettering is.
                # A dashed line may have its gap at one column: any dark column makes it a line.
                found.append(middles(band.any(axis=1)))
    return found


@pytest.mark.parametrize("paper", SIZES)
def test_the_paper_strip_is_pi_times_the_diameter_long_with_equal_marks(paper: str) -> None:
    """Circumference of a circle: π D."""
    pdf = printed(
        only(chapter_group("around", "Equator", "divisions", divisions=count(6), diameter=inches(2.25))), paper
    )
    (lines,) = strips(pdf, 100)
    marks = lines[:7]
    assert marks[6] - marks[0] == pytest.approx(math.pi * 2.25 * 25.4, abs=0.1)
    assert np.diff(marks) == pytest.approx([math.pi * 2.25 * 25.4 / 6] * 6, abs=0.1)
    assert lines[7] - marks[6] == pytest.approx(10.0, abs=0.1), "the glue tab is beyond the end"


@pytest.mark.parametrize("paper", SIZES)
def test_a_strip_longer_than_a_page_adds_up_to_pi_times_the_diameter_over_its_pieces(paper: str) -> None:
    pdf = printed(only(chapter_group("rim", "Rim", "divisions", divisions=count(8), diameter=millimetres(300))), paper)
    found = strips(pdf, 100)
    assert len(found) > 3
    # A piece ends 10 mm before the edge of its tab, at its joint (the last one at the strip's end).
    ends = [min(lines, key=lambda line: abs(lines[-1] - 10.0 - line)) for lines in found]
    assert [lines[-1] - end for lines, end in zip(found, ends, strict=True)] == pytest.approx(
        [10.0] * len(found), abs=0.1
    )
    lengths = [end - lines[0] for lines, end in zip(found, ends, strict=True)]
    assert sum(lengths) == pytest.approx(math.pi * 300, abs=0.1 * len(found))
    text = " ".join(page_texts(pdf))
    assert all(f"Piece {number} of {len(found)}" in text for number in range(1, len(found) + 1))


@pytest.mark.parametrize("paper", SIZES)
def test_the_octagon_gauge_has_its_corners_where_geometry_puts_them(paper: str) -> None:
    """Setback of a regular octagon in a square of side D: D(2 - √2)/2, plane geometry."""
    ball = 2.25 * 25.4
    pdf = printed(only(chapter_group("ball", "Ball", "sphere by facets", diameter=inches(2.25))), paper)
    picture = dark(pdf, 0)
    edge = max(uprights(picture, 50), key=lambda line: line[2] - line[1])
    assert edge[2] - edge[1] - 0.2 == pytest.approx(ball, abs=0.1)
    column = int((edge[0] - 3) / MM)
    top = int((edge[1] - 0.5) / MM)
    marks = middles(picture[top : int((edge[2] + 0.5) / MM), column])
    setback = ball * (2 - math.sqrt(2)) / 2
    assert [mark - marks[0] for mark in marks] == pytest.approx([0, setback, ball - setback, ball], abs=0.1)


@pytest.mark.parametrize("paper", SIZES)
def test_the_end_circle_is_as_wide_as_the_ball_both_ways(paper: str) -> None:
    pdf = printed(
        only(chapter_group("around", "Equator", "divisions", divisions=count(4), diameter=inches(2.25))), paper
    )
    # Below the heads and right of the strip; the fullest row is the level ray from edge to edge.
    picture = dark(pdf, 0)[int(50 / MM) : int(-30 / MM), int(74 / MM) :]
    ray = runs(picture[int(np.argmax(picture.sum(axis=1)))])
    assert (ray[-1][1] - ray[0][0]) * MM - 0.2 == pytest.approx(2.25 * 25.4, abs=0.1)
    assert len(ray) == 3, "two rays and the cross between them"


@pytest.mark.parametrize("paper", SIZES)
@pytest.mark.parametrize("long", [40.0, 150.0, 400.0, 700.0])
def test_nothing_stands_outside_the_printable_page(paper: str, long: float) -> None:
    """Margins are at least 12 mm, and rows on a page leave room for the bar."""
    sheet = dataclasses.replace(sample(), groups=(*sample().groups, profile_group(millimetres(long))))
    size = SIZES[paper]
    made = templates_data(sheet, size)
    assert made is not None
    data, drawings = made
    assert data["margin"] >= 12
    assert data["bottom"] >= 12 + 10
    for number, page in enumerate(data["pages"]):
        used = data["opening"] if number == 0 else 0.0
        for row in page:
            wide = sum(column[0]["box"] for column in row) + data["gap"] * (len(row) - 1)
            assert wide <= size.width - 2 * data["margin"] + 1e-6
            used += (
                max(
                    sum(
                        max(one["height"], one["words_height"])
                        if one["beside"]
                        else one["height"] + one["words_height"] + 1.5
                        for one in column
                    )
                    + data["gap"] * (len(column) - 1)
                    for column in row
                )
                + data["gap"]
            )
        assert used - data["gap"] <= size.height - data["top"] - data["bottom"]
    placed = [one["id"] for page in data["pages"] for row in page for column in row for one in column]
    assert sorted([*placed, "bar"]) == sorted(drawings), "every drawing is placed once"
    assert page_count(papers(sheet, [], paper=paper)[f"lantern-templates-{paper}.pdf"]) == len(data["pages"])


def test_every_page_says_to_print_at_actual_size() -> None:
    for text in page_texts(printed(sample(), "letter")):
        assert "Print at actual size (100 %), not fit to page; measure the bar before use." in re.sub(r"\s+", " ", text)


def test_a_project_without_anything_to_cut_out_has_no_templates() -> None:
    sheet = dataclasses.replace(only(), papers=USUAL)
    assert sorted(papers(sheet, [], paper="a4")) == ["lantern-dimensions-a4.pdf", "lantern-handout-a4.pdf"]
