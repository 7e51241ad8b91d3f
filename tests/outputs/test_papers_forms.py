"""Large print and booklets: for who asks, from the same words; and that what measures papers sees what is wrong."""

from __future__ import annotations

import dataclasses
import io
import re
from pathlib import Path

import pikepdf
import pytest
import typst

from handouts_build.cli import main
from handouts_build.outputs.papers.booklet import booklet, imposed
from handouts_build.outputs.papers.render import papers
from handouts_build.paper import PROJECT, WORDS, Form
from tests.outputs.paper_measure import measured_pages
from tests.outputs.pdf_measure import page_count, page_texts
from tests.projects import worked
from tests.sample import sample


def made(form: Form) -> dict[str, bytes]:
    return papers(dataclasses.replace(sample(), papers=WORDS), [], form=form)


def test_large_print_has_no_letters_under_14_points_and_its_text_in_18() -> None:
    large = made(Form.LARGE_PRINT)
    assert sorted(large) == ["lantern-dimensions-large-print-letter.pdf", "lantern-handout-large-print-letter.pdf"]
    for pdf in large.values():
        for page in measured_pages(pdf):
            # A fraction's figures are smaller, as in any print.
            assert page.least_pt >= 14
            assert page.overlaps == ()


def test_large_print_says_what_the_other_says() -> None:
    def words(pdf: bytes) -> str:
        return re.sub(r"\s+", " ", " ".join(page_texts(pdf)))

    text = words(made(Form.LARGE_PRINT)["lantern-handout-large-print-letter.pdf"])
    for one in sample().steps:
        assert f"{one.number} {one.name}" in text
        for paragraph in one.say:
            assert "".join(run.text for run in paragraph).replace("\u00a0", " ") in text
    for box in sample().boxes:
        assert box.title in text


@pytest.mark.parametrize(
    ("pages", "sides"),
    [
        (4, [(3, 0), (1, 2)]),
        (2, [(None, 0), (1, None)]),
        (8, [(7, 0), (1, 6), (5, 2), (3, 4)]),
    ],
)
def test_a_booklets_pages_come_in_the_order_of_a_saddle_stitched_one(
    pages: int, sides: list[tuple[int | None, int | None]]
) -> None:
    """Folded and put into each other, sheets read on: pages that face each other or share a leaf are neighbors."""
    assert list(imposed(pages)) == sides


def test_a_booklet_shows_the_papers_pages_two_to_a_side() -> None:
    pdf = papers(dataclasses.replace(sample(), papers=("full",)), [])["lantern-handout-full-letter.pdf"]
    count = page_count(pdf)
    folded = booklet(pdf)
    assert folded == booklet(pdf), "the same bytes for the same paper"
    with pikepdf.open(io.BytesIO(folded)) as document:
        _, _, width, height = (float(side) for side in document.pages[0].mediabox)
    assert (width / 72, height / 72) == pytest.approx((17, 11), abs=0.01), "ANSI Y14.1 size B, two of size A"
    texts, plain = page_texts(folded), page_texts(pdf)
    for side, pair in zip(texts, imposed(count), strict=True):
        for number in pair:
            if number is not None:
                assert f"Page {number + 1} of {count}" in side
                assert plain[number].split("\n")[3] in side


def test_booklets_are_made_of_handouts_alone() -> None:
    kinds = {paper.file("letter", "lantern", Form.BOOKLET) for paper in PROJECT.values() if Form.BOOKLET in paper.forms}
    assert set(made(Form.BOOKLET)) == kinds == {
        "lantern-handout-booklet-letter.pdf", "lantern-handout-full-booklet-letter.pdf",
    }  # fmt: skip


def test_the_command_writes_large_print_and_booklets_where_they_are_asked_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    worked(tmp_path)
    monkeypatch.chdir(tmp_path)
    asked = ["papers", "piece.yml", "--to", "out", "--size", "a4", "--large-print", "--booklet"]
    monkeypatch.setattr("sys.argv", ["handouts", *asked])
    main()
    assert sorted(path.name for path in (tmp_path / "out").iterdir()) == [
        "piece-dimensions-large-print-a4.pdf", "piece-handout-booklet-a4.pdf", "piece-handout-large-print-a4.pdf",
    ]  # fmt: skip


def test_what_measures_papers_sees_text_on_text_small_text_and_empty_pages() -> None:
    source = b"""#set page(width: 100mm, height: 100mm, margin: 20mm)
#set text(size: 12pt)
#place(dx: 5mm, dy: 10mm)[First words] #place(dx: 6mm, dy: 11mm)[Other words] #text(size: 5pt)[small]"""
    (page,) = measured_pages(typst.compile(source))
    assert page.overlaps == (("First words", "Other words"),) or len(page.overlaps) == 1
    assert page.least_pt == pytest.approx(5)
    assert page.filled < 0.4
    assert page.edges_mm[0] == pytest.approx(20, abs=1)
