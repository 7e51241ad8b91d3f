"""How a handout is laid out: the finished piece first, drawings with their steps, no heading alone, full columns."""

from __future__ import annotations

import dataclasses
import io
from pathlib import Path

import numpy as np
import pikepdf
import pytest
from PIL import Image

from handouts_build.figures.figure import Figure
from handouts_build.figures.shot import Shot
from handouts_build.outputs.page_content import PageContent
from handouts_build.outputs.papers.full import full_data
from handouts_build.outputs.papers.render import papers
from handouts_build.outputs.words import cut_from
from handouts_build.paper import SIZES
from handouts_build.sheet import Picture, ReadySize, Sheet
from tests.outputs.pages_reading import page, rendered
from tests.outputs.pdf_measure import MM, dark, page_count, page_texts, place_of
from tests.sample import sample, step

HANDOUT = "lantern-handout-full-{}.pdf"


def figure(name: str, width: float, height: float) -> Figure:
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}">'
        f'<rect x="1" y="1" width="{width - 2}" height="{height - 2}" fill="none" stroke="#000"/></svg>'
    )
    return Figure(name, name, f"Drawing {name}", svg, f"A frame called {name}", width, height)


def black(wide: int, high: int, kind: str = "PNG") -> bytes:
    held = io.BytesIO()
    Image.new("RGB", (wide, high), "black").save(held, kind)
    return held.getvalue()


def black_across(pdf: bytes) -> float:
    """How wide the first page is black over most of 40 mm, in its upper part, in mm."""
    upper = dark(pdf, 0)[int(20 / MM) : int(90 / MM)]
    return float((upper.sum(axis=0) > 40 / MM).sum()) * MM


def alternatives(pdf: bytes) -> list[str]:
    with pikepdf.open(io.BytesIO(pdf)) as document:
        return [str(one.Alt) for one in document.objects if isinstance(one, pikepdf.Dictionary) and "/Alt" in one]


def long_sheet(heights: tuple[int, ...]) -> tuple[Sheet, list[Figure]]:
    """A sheet whose every step has a drawing of one of those heights, in mm, and some words."""
    steps = tuple(
        step(
            number, f"Step called {number}x", "lantern", f"Begin {number}x. " + "Turn it. " * (17 * number % 60),
            care="Mind it. " * (number % 4), figures=(f"d{number}x",),
        )
        for number in range(1, len(heights) + 1)
    )  # fmt: skip
    figures = [figure(f"d{number}x", 110, high) for number, high in enumerate(heights, start=1)]
    sheet = sample()
    return dataclasses.replace(sheet, parts=(dataclasses.replace(sheet.parts[0], steps=steps),)), figures


@pytest.fixture(scope="module", params=["letter", "a4"])
def drawn(request: pytest.FixtureRequest) -> bytes:
    sheet, figures = long_sheet((60, 80, 45, 90, 70, 55, 85, 60, 75))
    return papers(sheet, figures, paper=request.param)[HANDOUT.format(request.param)]


def test_a_steps_drawing_stands_after_its_heading_and_before_the_next_steps(drawn: bytes) -> None:
    for number in range(1, 10):
        own, picture = place_of(drawn, f"Step called {number}x"), place_of(drawn, f"Drawing d{number}x")
        assert own < picture
        if number < 9:
            assert picture < place_of(drawn, f"Step called {number + 1}x")


def test_a_steps_heading_stands_on_the_page_of_its_first_words(drawn: bytes) -> None:
    for number in range(1, 10):
        assert place_of(drawn, f"Step called {number}x")[0] == place_of(drawn, f"Begin {number}x")[0]


@pytest.mark.parametrize("paper", list(SIZES))
def test_drawings_that_no_step_calls_for_follow_their_heading(paper: str) -> None:
    others = [figure("one", 100, 75), figure("two", 100, 58)]
    pdf = papers(sample(), others, paper=paper)[HANDOUT.format(paper)]
    heading, first = place_of(pdf, "More drawings"), place_of(pdf, "Drawing one")
    assert heading[0] == first[0]
    assert heading < first < place_of(pdf, "Drawing two") < place_of(pdf, "Safety comes first")


def test_a_narrow_drawing_leaves_the_last_word_its_place_beside_it() -> None:
    pdf = papers(sample(), [figure("one", 45, 75)])[HANDOUT.format("letter")]
    assert place_of(pdf, "More drawings") == pytest.approx(place_of(pdf, "Safety comes first"), abs=1)


@pytest.mark.parametrize("paper", list(SIZES))
def test_the_finished_piece_stands_on_the_first_page_with_its_alternative(paper: str) -> None:
    finished = Shot(
        "lantern-finished", "The lantern, 6 in long, hung up", black(720, 720), b"", 720, 720, (0, 0, 720, 720)
    )
    pdf = papers(sample(), [], paper=paper, finished=finished)[HANDOUT.format(paper)]
    assert 50 < black_across(pdf) < 62
    assert finished.alt in alternatives(pdf)
    assert black_across(papers(sample(), [], paper=paper)[HANDOUT.format(paper)]) < 5


def test_without_a_solid_the_first_photograph_stands_there(tmp_path: Path) -> None:
    file = tmp_path / "seen.png"
    file.write_bytes(black(1200, 1200))
    sheet = dataclasses.replace(sample(), pictures=(Picture("seen.png", file, "The lantern in the window"),))
    pdf = papers(sheet, [])[HANDOUT.format("letter")]
    assert 50 < black_across(pdf) < 62
    assert "The lantern in the window" in alternatives(pdf)


def with_rows(count: int) -> Sheet:
    """A lantern with so many dimensions more, and one ready size."""
    sheet = sample()
    like = sheet.groups[0].dimensions[0]
    more = tuple(
        dataclasses.replace(like, name=f"extra{number}", says=f"Extra dimension {number}x") for number in range(count)
    )
    group = dataclasses.replace(sheet.groups[0], name="more", title="More", dimensions=more)
    grown = dataclasses.replace(sheet, groups=(*sheet.groups, group) if count else sheet.groups)
    ball = dataclasses.replace(sheet.sizes[0], printed=sheet.sizes[1].printed)
    other = dataclasses.replace(sheet, sizes=(ball, *sheet.sizes[1:]))
    return dataclasses.replace(grown, ready=(ReadySize("small", "Small one", ("ball",), other),))


@pytest.mark.parametrize("count", [0, 8, 16, 24, 45])
def test_ready_sizes_stand_on_a_page_with_main_dimensions(count: int) -> None:
    texts = page_texts(papers(with_rows(count), [])[HANDOUT.format("letter")])
    (page,) = [text for text in texts if "Ready sizes" in text]
    assert "Inches" in page
    assert all(f"Extra dimension {number}x" in " ".join(texts) for number in range(count))


@pytest.mark.parametrize("paper", list(SIZES))
def test_what_is_left_of_the_first_page_is_used_for_sizes(paper: str) -> None:
    """The sizes begin on the first page, right below the sample's warnings, and go on overleaf in full columns."""
    pdf = papers(with_rows(45), [], paper=paper)[HANDOUT.format(paper)]
    heading, last_warning = place_of(pdf, "Sizes and main dimensions"), place_of(pdf, sample().boxes[-1].do[-1][:20])
    assert heading[0] == last_warning[0] == 0
    assert last_warning[1] < heading[1] < last_warning[1] + 25
    first, second = page_texts(pdf)[:2]
    assert "Diameter of the ball" in first
    assert "Extra dimension 44x" in second
    height = SIZES[paper].height
    used = dark(pdf, 0)[: int((height - 14) / MM)]
    halves = used[:, : used.shape[1] // 2 - 30], used[:, used.shape[1] // 2 + 30 :]
    for half in halves:
        low = float(np.flatnonzero(half.any(axis=1)).max()) * MM
        assert low > height - 12 - 25, "a column of the first page ends far above its foot"


@pytest.mark.parametrize("count", [0, 30, 45])
def test_the_last_page_ends_in_two_columns_of_nearly_one_height(count: int) -> None:
    pdf = papers(dataclasses.replace(with_rows(count), ready=()), [])[HANDOUT.format("letter")]
    page = dark(pdf, page_count(pdf) - 1)[int(25 / MM) :]
    halves = page[:, : page.shape[1] // 2 - 30], page[:, page.shape[1] // 2 + 30 :]
    low = [float(np.flatnonzero(half.any(axis=1)).max(initial=0)) * MM for half in halves]
    assert abs(low[0] - low[1]) < 30


@pytest.mark.parametrize("lead", ["in", "mm"])
def test_columns_are_headed_by_their_unit_of_length_the_one_that_leads_first(lead: str) -> None:
    """As on the page; weights and speeds in them name their own units."""
    sheet = sample(dataclasses.replace(sample().rule, lead=lead))
    text = " ".join(page_texts(papers(sheet, [])["lantern-dimensions-letter.pdf"]))
    heads = ("Inches", "Millimeters") if lead == "in" else ("Millimeters", "Inches")
    assert " ".join(heads) in text
    assert " ".join(heads[::-1]) not in text


def test_a_part_that_falls_off_another_is_not_told_as_a_blank_of_its_own() -> None:
    sheet = sample()
    lid = dataclasses.replace(sheet.parts[1], falls_off="lantern")
    sheet = dataclasses.replace(sheet, parts=(sheet.parts[0], lid))
    assert cut_from(sheet, lid) == "cut from the lantern's blank"
    assert cut_from(sheet, sheet.parts[0]) == ""
    shown = rendered(page(PageContent(sheet))).text
    assert "cut from the lantern's blank" in shown
    data, _ = full_data(sheet, [], SIZES["letter"])
    (blanks,) = (one["lines"] for one in data["glance"] if one["label"].startswith("Blanks"))
    told = ["".join(piece["t"] for piece in line) for line in blanks]
    assert told[1] == "Drop: maple, hard; cut from the lantern's blank"
    text = " ".join(" ".join(page_texts(papers(sheet, [])[HANDOUT.format("letter")])).split())
    assert "grain along the axis, cut from the lantern's blank, square, width" in text
