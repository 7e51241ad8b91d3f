"""The short handout: two or four pages, every step whole, and where each stands."""

from __future__ import annotations

import dataclasses
import re

import pytest

from handouts_build.figures.figure import Figure
from handouts_build.language import speaking
from handouts_build.language.pseudo import stretched
from handouts_build.outputs.papers.render import papers
from handouts_build.outputs.papers.spread import ColumnRoom, pages_needed, spread
from handouts_build.paper import SIZES
from handouts_build.sheet import Sheet
from tests.outputs.pdf_measure import page_count, page_texts
from tests.sample import box, sample, step

SHORT = "lantern-handout-{}.pdf"
ADDRESS = "https://example.org/projects/lantern/"


def set_short(sheet: Sheet, paper: str = "letter", figures: tuple[Figure, ...] = ()) -> bytes:
    made = papers(dataclasses.replace(sheet, papers=("short",)), figures, paper=paper, page_url=ADDRESS)
    return made[SHORT.format(paper)]


def text_of(pdf: bytes) -> str:
    return re.sub(r"\s+", " ", " ".join(page_texts(pdf)))


def plain(runs: object) -> str:
    return "".join(run.text for run in runs).replace("\u00a0", " ")  # type: ignore[attr-defined]


@pytest.mark.parametrize("paper", list(SIZES))
def test_every_step_is_there_with_all_its_words_and_its_number(paper: str) -> None:
    text = text_of(set_short(sample(), paper))
    for one in sample().steps:
        assert f"{one.number} {one.name}" in text
        for paragraph in one.say:
            assert plain(paragraph) in text


def test_each_step_has_one_caution_the_one_that_matters_most() -> None:
    """The author's own before a box that is no danger; a box in full, for where all stand is another paper."""
    text = text_of(set_short(sample()))
    one, *_ = (one for one in sample().steps if one.care)
    assert f"Caution {plain(one.care[0])}" in text
    assert "Skew chisel. The long point digs in." not in text or not any(
        box.id == "skew" and one.care for one in sample().steps for box in one.boxes
    )


def test_a_caution_stands_at_length_once_and_is_a_line_where_it_comes_again() -> None:
    saw = box("saw", "danger", "Table saw", "The blade takes off fingers.", "Use the guard.")
    sheet = sample()
    steps = tuple(
        dataclasses.replace(step(number, f"Saw {number}", "lantern", "Saw it."), boxes=(saw,)) for number in (1, 2, 3)
    )
    text = text_of(set_short(dataclasses.replace(sheet, parts=(dataclasses.replace(sheet.parts[0], steps=steps),))))
    assert text.count("The blade takes off fingers.") == 1
    assert text.count("Danger Table saw") == 3
    assert text.count("Table saw: as at step 1.") == 2


def test_every_general_caution_is_named_and_it_says_where_they_stand() -> None:
    text = text_of(set_short(sample()))
    for general in sample().boxes:
        assert general.title in text
    assert "example.org/projects/lantern" in text
    assert sample().closing in text
    both = dataclasses.replace(sample(), papers=("short", "full"))
    text = text_of(papers(both, [])[SHORT.format("letter")])
    assert "the full handout" in text


def test_the_kit_is_listed_once_each_to_be_ticked() -> None:
    text = text_of(set_short(sample()))
    for item in (*sample().tools, *sample().supplies):
        assert item.replace("\u00a0", " ") in text


@pytest.mark.parametrize("paper", list(SIZES))
def test_a_project_of_300_steps_prints_every_one(paper: str) -> None:
    sheet = sample()
    many = tuple(
        step(number, f"Step called {number}x", "lantern", f"Turn it {number} times. " + "Turn it. " * (number % 50))
        for number in range(1, 301)
    )
    pdf = set_short(dataclasses.replace(sheet, parts=(dataclasses.replace(sheet.parts[0], steps=many),)), paper)
    text = text_of(pdf)
    assert all(f"Step called {number}x" in text and f"Turn it {number} times." in text for number in range(1, 301))


def test_a_step_higher_than_a_page_is_printed_to_its_end() -> None:
    sheet = sample()
    long = step(1, "Long", "lantern", "Keep it clear. " * 900 + "The very end.")
    text = text_of(set_short(dataclasses.replace(sheet, parts=(dataclasses.replace(sheet.parts[0], steps=(long,)),))))
    assert text.count("Keep it clear.") == 900
    assert "The very end." in text


def test_a_version_is_told_that_changes_with_the_words_and_not_with_the_paper() -> None:
    def version(sheet: Sheet, paper: str) -> str:
        (found,) = re.findall(r"Version ([0-9a-f]{8})", text_of(set_short(sheet, paper)))
        return str(found)

    assert version(sample(), "letter") == version(sample(), "a4")
    assert version(sample(), "a4") != version(dataclasses.replace(sample(), supplies=("glue",)), "a4")


@pytest.mark.parametrize("heights", [(50.0,) * 3, (80, 120, 30, 200, 40, 40, 90, 90, 90, 60, 170, 20), (249.0,) * 5])
def test_steps_are_spread_in_order_over_as_many_columns_as_hold_them(heights: tuple[float, ...]) -> None:
    room = ColumnRoom(first=70, page=250, closing=60, gap=4)
    pages = pages_needed(heights, room)
    assert pages is not None
    assert pages == 1 or spread(heights, room, pages - 1) is None, "no fewer would do"
    for count in range(pages, pages + 3):
        columns = spread(heights, room, count)
        assert columns is not None
        assert len(columns) == count
        flat = [column for pair in columns for column in pair]
        assert [number for column in flat for number in range(column.start, column.stop)] == list(range(len(heights)))
        for page, pair in enumerate(columns):
            for column in pair:
                own = heights[column.start : column.stop]
                high = sum(own) + room.gap * max(0, len(own) - 1)
                assert high <= max(0.0, room.on(page, count)) + 1e-6


def test_a_step_that_is_higher_than_a_page_cannot_be_spread() -> None:
    assert pages_needed((251.0,), ColumnRoom(first=70, page=250, closing=60, gap=4)) is None


def test_the_sample_comes_to_two_pages_or_four() -> None:
    for paper in SIZES:
        assert page_count(set_short(sample(), paper)) in (2, 4)


def test_in_another_language_it_says_its_sentences_so_and_folds_as_well() -> None:
    with speaking("en-XA"):
        made = set_short(sample())
    told = text_of(made)
    assert stretched("Kit") in told
    assert stretched("Each of these with its reason") in told
    assert page_count(made) in (2, 4)
