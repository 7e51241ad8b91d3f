"""Every paper of the demo archive, measured as it is printed: how full, how large, how much of it is what to do.

The numbers that stand in DEVELOPERS.md come from `python -m tests.outputs.paper_measure SITE`.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from handouts_build.paper import PROJECT, SIZES
from tests.outputs.paper_measure import (
    LEAST_MARGIN_MM,
    PrintedPaper,
    letters_by_kind,
    papers_of,
)


@pytest.fixture(scope="module")
def printed(site: Path) -> list[PrintedPaper]:
    """Every paper, those of ready sizes among them; what was frozen at an evening stays as it was."""
    found = papers_of(site)
    assert {paper.size for paper in found} == set(SIZES)
    assert {paper.kind for paper in found} == {paper.name for paper in PROJECT.values()}
    return found


def test_a_short_handout_folds_it_has_two_pages_or_four(printed: list[PrintedPaper]) -> None:
    short = [paper for paper in printed if paper.kind == "handout"]
    assert {paper.file: len(paper.pages) for paper in short if len(paper.pages) not in (2, 4)} == {}


def test_a_dimensions_sheet_is_one_page(printed: list[PrintedPaper]) -> None:
    sheets = [paper for paper in printed if paper.kind == "dimensions"]
    assert {paper.file for paper in sheets if len(paper.pages) != 1} == set()


def test_no_page_but_the_last_is_less_than_a_third_full(printed: list[PrintedPaper]) -> None:
    empty = {
        f"{paper.file}, page {number}": round(page.filled, 2)
        for paper in printed
        for number, page in enumerate(paper.pages[:-1], start=1)
        if page.filled < 1 / 3
    }
    assert empty == {}
    assert all(paper.pages[-1].filled > 0 for paper in printed)


def test_no_lettering_stands_on_other_lettering(printed: list[PrintedPaper]) -> None:
    """Lines that run up a template are not told apart by their boxes; its lettering is tried where it is drawn."""
    found = {
        paper.file: page.overlaps
        for paper in printed
        for page in paper.pages
        if page.overlaps and paper.kind != "templates"
    }
    assert found == {}


def test_no_lettering_is_smaller_than_a_drawing_at_its_least(printed: list[PrintedPaper]) -> None:
    """2.5 mm from line to line is 7 points; fractions of a drawing are set in smaller figures, as fractions are."""
    small = {
        paper.file: round(page.least_pt, 2)
        for paper in printed
        for page in paper.pages
        if paper.kind != "templates" and page.least_pt < 7
    }
    assert small == {}


def test_a_binder_s_holes_meet_no_ink(printed: list[PrintedPaper]) -> None:
    """What is cut out is not bound."""
    near = {
        paper.file: page.edges_mm
        for paper in printed
        for page in paper.pages
        if paper.kind != "templates" and min(page.edges_mm) < LEAST_MARGIN_MM
    }
    assert near == {}


def test_a_short_handout_says_what_to_do_more_than_what_to_mind(printed: list[PrintedPaper]) -> None:
    """At least two letters of five are steps, and at most one is a caution: what is read at the bench is read once."""
    counted = [(paper, letters_by_kind(paper)) for paper in printed if paper.kind == "handout" and paper.data]
    assert len(counted) >= 12
    shares = {
        paper.file: {kind: round(count / sum(letters.values()), 3) for kind, count in letters.items()}
        for paper, letters in counted
    }
    assert {file: share for file, share in shares.items() if share["steps"] < 0.4 or share["cautions"] > 0.2} == {}
