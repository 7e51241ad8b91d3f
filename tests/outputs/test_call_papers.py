"""Labels and the sheet for judging of a call: of one size on every paper, tagged, and no maker before the judges."""

from __future__ import annotations

import io
from datetime import date
from itertools import product
from pathlib import Path

import pikepdf
import pytest

from handouts_build.outputs.papers.call_papers import call_papers
from handouts_build.paper import CALL, SIZES
from handouts_build.sheet import TextRun
from handouts_build.sheet.call import CallEntry, CallForPieces
from tests.outputs.pdf_measure import page_count, page_texts


def a_call(count: int, criteria: tuple[str, ...] = ("Form", "Surface", "Idea")) -> CallForPieces:
    entries = tuple(
        CallEntry(
            f"piece-{number:02}", "call.yml", f"Maker {number:02}", f"Piece {number:02}", ("black walnut",),
            (("diameter", "2\u00a01/2\u00a0in (63.5\u00a0mm)"), ("height", "4\u00a0in (102\u00a0mm)")), (),
            inspired_by="knob" if number == 1 else "",
        )
        for number in range(1, count + 1)
    )  # fmt: skip
    day = date(2026, 3, 14)
    return CallForPieces(
        "offcuts", "call.yml", "The offcut challenge", "North Club", "Mill Lane Hall", ((TextRun("Send a piece."),),),
        day, day, day, day, "The desk", criteria=criteria, entries=entries,
    )  # fmt: skip


def papers(call: CallForPieces, size: str) -> dict[str, bytes]:
    return call_papers(call, {"knob": "A knob"}, paper=size)


def text_of(pdf: bytes) -> str:
    return " ".join(" ".join(page_texts(pdf)).split())


@pytest.mark.parametrize("size", SIZES)
def test_the_papers_are_tagged_named_and_of_their_size(size: str) -> None:
    """ISO 14289-1 (PDF/UA-1): marked content, language and title."""
    made = papers(a_call(3), size)
    assert set(made) == {f"offcuts-labels-{size}.pdf", f"offcuts-judging-sheet-{size}.pdf"}
    for name, pdf in made.items():
        with pikepdf.open(io.BytesIO(pdf)) as document:
            root = document.Root
            assert bool(root.MarkInfo.Marked)
            assert "/StructTreeRoot" in root
            assert str(root.Lang).lower().startswith("en")
            sides = sorted(float(side) * 25.4 / 72 for side in document.pages[0].mediabox[2:])
        assert sides == pytest.approx([SIZES[size].width, SIZES[size].height], abs=0.1), name


def test_every_piece_has_one_number_on_both_and_judges_see_no_maker() -> None:
    call = a_call(20)
    labels, judging = (papers(call, "a4")[CALL[kind].file("a4", "offcuts")] for kind in ("labels", "judging-sheet"))
    for text in (text_of(labels), text_of(judging)):
        assert all(f"Piece {number:02}" in text for number in range(1, 21))
    assert all(f"Maker {number:02}" in text_of(labels) for number in range(1, 21))
    assert "Maker" not in text_of(judging)
    assert "Made after: A knob" in text_of(labels)
    assert all(word in text_of(judging) for word in ("Form", "Surface", "Idea", "Remarks", "Judge:"))


@pytest.mark.parametrize(("size", "count"), [*product(SIZES, (1, 8, 9))])
def test_eight_labels_stand_on_a_sheet(size: str, count: int) -> None:
    made = papers(a_call(count), size)[f"offcuts-labels-{size}.pdf"]
    assert page_count(made) == -(-count // 8)


def test_a_call_that_names_nothing_to_judge_has_a_column_for_points() -> None:
    assert "Points" in text_of(papers(a_call(1, ()), "letter")["offcuts-judging-sheet-letter.pdf"])


def test_the_same_call_gives_the_same_bytes() -> None:
    assert papers(a_call(2), "letter") == papers(a_call(2), "letter")


def test_the_templates_are_there() -> None:
    home = Path(__file__).parents[2] / "handouts_build" / "outputs"
    assert all((home / f"{paper.template}.typ").is_file() for paper in CALL.values())
