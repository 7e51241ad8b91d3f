"""How the papers of an evening fall on their pages: what belongs together stays together, and no half stays empty."""

from __future__ import annotations

import io
import re

import pypdfium2
import pytest

from handouts_build.outputs.evening import papers as evening_papers
from handouts_build.outputs.evening.words import run_sheet_words
from tests.evening.conftest import EVENING

NAME = "2026-06-06-saltmarsh"
AWAY = "speaker zone: Europe/London\nready made: [Sand it]\n"


def evening(read, extra=""):
    return read({NAME: EVENING + extra}).demonstration(NAME)


def pages(pdf):
    """The text of each page."""
    document = pypdfium2.PdfDocument(io.BytesIO(pdf))
    try:
        return [page.get_textpage().get_text_bounded() for page in document]
    finally:
        document.close()


def box(pdf, told, at=0):
    """Page and box, in points, of one character of a text."""
    document = pypdfium2.PdfDocument(io.BytesIO(pdf))
    try:
        for number, page in enumerate(document):
            words = page.get_textpage()
            place = words.search(told, match_case=True).get_next()
            if place is not None:
                return number, words.get_charbox(place[0] + at)
    finally:
        document.close()
    raise AssertionError(told)


def sheet_of(shown, rows):
    words = {**run_sheet_words(shown), "rows": rows}
    return pages(evening_papers.run_sheet_paper(words, shown.sheet, "letter", {}))


def test_a_break_stands_on_the_page_of_the_step_that_follows(read):
    shown = evening(read, "break: 5 min\n")
    rows = run_sheet_words(shown)["rows"]
    step = next(row for row in rows if row["kind"] == "step")
    rest = next(row for row in rows if row["kind"] == "break")
    last = {**step, "name": "Afterward", "cues": [], "numbers": []}
    for lines in range(1, 20):
        many = [{"what": "Tools", "value": "gouge"}] * lines
        told = sheet_of(shown, [step, step, {**step, "cues": many}, rest, last])
        # The first page is the one to hang up: it names them all.
        (page,) = [text for text in told[1:] if "Break" in text]
        assert "Afterward" in page


@pytest.mark.parametrize("lines", [1, 5, 9, 13, 17])
def test_a_step_goes_on_over_the_page_but_its_caution_stays_with_its_time(read, lines):
    shown = evening(read)
    step = next(row for row in run_sheet_words(shown)["rows"] if row["kind"] == "step")
    many = [{"what": "Tools", "value": "gouge"}] * lines
    rows = [
        {**step, "name": f"Number {at}.", "caution": f"Mind {at}.", "there": f"20:{at:02}", "cues": many}
        for at in range(10, 20)
    ]
    told = sheet_of(shown, rows)
    for at in range(10, 20):
        (page,) = [text for text in told if f"Number {at}." in text]
        assert f"Mind {at}." in page
        assert f"20:{at}" in page


def test_two_clocks_of_different_days_stand_on_one_line(read):
    shown = evening(read, AWAY)
    told = sheet_of(shown, run_sheet_words(shown)["rows"])[1]
    told = told.partition("Set out before you start")[2].partition("1. Rough it")[0]
    assert re.search(r"\d+:\d\d [ap]m \(\d+:\d\d [ap]m \+1 in \w+\)", told)


def test_the_titles_letters_keep_clear_of_the_line_below(read):
    """The descender of the p in "Test piece" ends a millimeter above the capitals of the club."""
    made = evening_papers.evening_papers(evening(read), None)
    for kind in ("run-sheet", "packing-list", "stock-list"):
        pdf = made[f"{kind}-letter.pdf"]
        _, (_, lowest, _, _) = box(pdf, "Test piece\r\n", len("Test "))
        _, (_, _, _, highest) = box(pdf, "Saltmarsh Lathe Circle, ")
        assert lowest - highest > 72 / 25.4


def test_the_last_page_of_a_packing_list_fills_both_columns(read):
    notes = ", ".join(f"Thing {number:02}" for number in range(60))
    shown = evening(read, f"private:\n  notes: [{notes}]\n")
    pdf = evening_papers.evening_papers(shown, None)["packing-list-letter.pdf"]
    assert len(pages(pdf)) == 2
    places = [box(pdf, f"Thing {number:02}") for number in range(60)]
    left = [place for page, place in places if page == 1 and place[0] < 8.5 * 72 / 2]
    right = [place for page, place in places if page == 1 and place[0] > 8.5 * 72 / 2]
    assert len(left) > 3
    assert abs(len(left) - len(right)) <= 2
