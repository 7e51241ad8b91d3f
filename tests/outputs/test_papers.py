"""The papers: right size, tagged, the same bytes each time, and true to the sheet whatever its words."""

from __future__ import annotations

import csv
import dataclasses
import io
import re
from pathlib import Path

import pikepdf
import pytest

from handouts_build.figures import ARRANGEMENT
from handouts_build.figures.figure import Figure
from handouts_build.outputs.papers import typeset as papers_typeset
from handouts_build.outputs.papers.dimensions import MOST_ROWS
from handouts_build.outputs.papers.render import paper_names, papers
from handouts_build.paper import PROJECT, SIZES, USUAL
from handouts_build.problems import ProjectError
from handouts_build.quantities import Err, Rule, inches, print_quantity
from handouts_build.sheet import Level, Sheet, StepNumber
from tests.outputs.pdf_measure import dark, lettering, page_count, page_texts, uprights
from tests.sample import sample, step, words

REFERENCE = Path(__file__).parent.parent / "reference"
HOSTILE = (
    '#import "x"',
    "$x$",
    "*b*",
    "@ref",
    r"\\ back\slash",
    "<label>",
    "= head",
    "#panic()",
    "// gone",
    "`raw`",
    "a_b_c",
    "[x]",
)


def figure(name: str, group: str, width: float = 75, height: float = 60) -> Figure:
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm"'
        f' viewBox="0 0 {width} {height}">'
        f'<rect x="1" y="1" width="{width - 2}" height="{height - 2}" fill="none" stroke="#000"'
        ' stroke-width="0.3"/></svg>'
    )
    return Figure(name, group, f"Drawing {name}", svg, f"A frame {width:g} mm wide, called {name}", width, height)


FIGURES = (
    figure("octagon", "octagon", 110, 70),
    figure("around", "around"),
    figure("holes", "holes"),
    figure("drop", "drop", 150, 50),
)


@pytest.fixture(scope="module")
def lantern() -> dict[str, bytes]:
    return {name: pdf for paper in SIZES for name, pdf in papers(sample(), FIGURES, paper=paper).items()}


def text_of(pdf: bytes) -> str:
    """All text, every white space one space, so that line ends do not matter."""
    return re.sub(r"\s+", " ", " ".join(page_texts(pdf)))


def test_every_paper_is_there_in_each_size(lantern: dict[str, bytes]) -> None:
    assert sorted(lantern) == sorted(paper.file(size, "lantern") for paper in PROJECT.values() for size in SIZES)


@pytest.mark.parametrize("wanted", [USUAL, ("full",), ("workings", "short")])
def test_those_papers_are_made_that_are_asked_for(wanted: tuple[str, ...]) -> None:
    sheet = dataclasses.replace(sample(), papers=wanted)
    names = [paper.file("a4", "lantern") for paper in PROJECT.values() if paper.word in wanted]
    assert list(papers(sheet, [], paper="a4")) == names == list(paper_names(sheet, "a4"))


def test_pages_have_the_sizes_of_the_standards(lantern: dict[str, bytes]) -> None:
    """ISO 216 (A4) and ANSI Y14.1 size A (Letter, 8 1/2 in by 11 in), rows of tests/reference/paper_sizes.csv."""
    with (REFERENCE / "paper_sizes.csv").open(encoding="utf-8") as lines:
        sizes = {
            row["name"].lower(): (float(row["width_mm"]), float(row["height_mm"])) for row in csv.DictReader(lines)
        }
    for name, pdf in lantern.items():
        wanted = sizes[name.removesuffix(".pdf").rpartition("-")[2]]
        with pikepdf.open(io.BytesIO(pdf)) as document:
            for page in document.pages:
                left, low, right, high = (float(side) * 25.4 / 72 for side in page.mediabox)
                assert (right - left, high - low) == pytest.approx(wanted, abs=0.05)


def test_papers_are_tagged_titled_and_in_english(lantern: dict[str, bytes]) -> None:
    """ISO 14289-1 (PDF/UA-1): marked content, language, title shown, and the identifier in the metadata."""
    for name, pdf in lantern.items():
        with pikepdf.open(io.BytesIO(pdf)) as document:
            root = document.Root
            assert str(root.Lang).startswith("en")
            assert root.MarkInfo.Marked == True  # noqa: E712 - a pikepdf object
            assert root.ViewerPreferences.DisplayDocTitle == True  # noqa: E712
            assert "/StructTreeRoot" in root
            with document.open_metadata() as told:
                assert told["pdfuaid:part"] == "1"
                assert told["dc:title"].endswith("Ribbed lantern")
                assert told["dc:creator"] == ["Ada Sample"], name


def test_every_font_is_embedded(lantern: dict[str, bytes]) -> None:
    for name, pdf in lantern.items():
        with pikepdf.open(io.BytesIO(pdf)) as document:
            described = [
                one
                for one in document.objects
                if isinstance(one, pikepdf.Dictionary) and one.get("/Type") == "/FontDescriptor"
            ]
            assert described, name
            for one in described:
                assert "/FontFile2" in one or "/FontFile3" in one
                assert "Handouts" in str(one.FontName), "no font of the machine's own"


def test_the_same_input_gives_the_same_bytes(lantern: dict[str, bytes]) -> None:
    papers_typeset._compiler.cache_clear()
    for name, pdf in papers(sample(), FIGURES, paper="letter").items():
        assert pdf == lantern[name]


def test_text_that_looks_like_markup_is_printed_as_it_is() -> None:
    said = " | ".join(HOSTILE)
    sheet = sample()
    one = dataclasses.replace(step(1, said, "lantern", said, care=said, hold=said, tools=(said,)), speed=said)
    part = dataclasses.replace(sheet.parts[0], title=said, wood=said, grain=said, steps=(one,))
    finding = dataclasses.replace(sheet.findings[0], about=said, message=said, remedy=said)
    group = dataclasses.replace(sheet.groups[1], title=said)
    hostile = dataclasses.replace(
        sheet, title=said, summary=words(said), kind=said, level=said, techniques=(said,), by=said, club=said,
        parts=(part,), supplies=(said,), findings=(finding,), groups=(group, *sheet.groups[2:]),
    )  # fmt: skip
    made = papers(hostile, [dataclasses.replace(FIGURES[0], title=said, alt=said)], paper="letter")
    for pdf in made.values():
        text = text_of(pdf)
        for word in HOSTILE:
            assert word in text
    assert text_of(made["lantern-handout-full-letter.pdf"]).count("#panic()") >= 12


def test_a_project_of_300_steps_prints_every_one() -> None:
    sheet = sample()
    many = tuple(
        step(number, f"Step called {number}", "lantern", "Turn it. " * 40, care="Mind it.") for number in range(1, 301)
    )
    pdf = papers(dataclasses.replace(sheet, parts=(dataclasses.replace(sheet.parts[0], steps=many),)), [])[
        "lantern-handout-full-letter.pdf"
    ]
    text = text_of(pdf)
    assert all(f"Step called {number} " in text for number in range(1, 301))


def test_a_caution_longer_than_a_page_is_printed_to_its_end() -> None:
    sheet = sample()
    long = step(1, "Long", "lantern", "Turn.", care="Keep clear. " * 900 + "The very end.")
    pdf = papers(dataclasses.replace(sheet, parts=(dataclasses.replace(sheet.parts[0], steps=(long,)),)), [])[
        "lantern-handout-full-letter.pdf"
    ]
    assert "The very end." in text_of(pdf)
    assert text_of(pdf).count("clear.") == 900


def test_the_handout_has_every_step_caution_and_the_closing_words(lantern: dict[str, bytes]) -> None:
    text = text_of(lantern["lantern-handout-full-letter.pdf"])
    for one in sample().steps:
        assert one.name in text
        for paragraph in (*one.say, *one.care):
            assert "".join(run.text for run in paragraph).replace("\u00a0", " ") in text
    careful = [one for one in sample().steps if one.care]
    assert len(re.findall("Caution (?!Skew)", text)) == len(careful)
    assert sample().closing in text
    assert "Teaching beginners is for those approved to do it." in text
    assert not re.search(r"\b(is|are) (completely |perfectly )?safe\b", text)


def test_no_safety_box_is_lost_and_one_that_comes_again_is_named(lantern: dict[str, bytes]) -> None:
    text = text_of(lantern["lantern-handout-full-a4.pdf"])
    assert "Danger: Face shield. Flying wood blinds. Wear a face shield over safety spectacles." in text
    assert "Warning Keep the tail center tight. Work that loosens is thrown. Lock the tailstock." in text
    assert "Caution Skew chisel. The long point digs in. Cut with the middle of the edge." in text
    assert "Again See step 1: Keep the tail center tight." in text
    assert text.index("Danger: Face shield") < text.index("Turn the cylinder") < text.index("Caution Skew chisel")


def test_a_handout_without_closing_words_of_its_own_still_puts_manual_codes_and_club_first() -> None:
    text = text_of(papers(dataclasses.replace(sample(), closing=""), [])["lantern-handout-full-letter.pdf"])
    assert "The lathe's manual, local codes and your club's rules come first" in text
    assert "Teaching beginners is for those approved to do it." in text


def test_the_handout_shows_each_finding_by_its_word(lantern: dict[str, bytes]) -> None:
    text = text_of(lantern["lantern-handout-full-letter.pdf"])
    assert "Mind Grooves: The wood left over the bore is thin, 1/8 in (3.2 mm). Take the last cuts lightly." in text
    assert "Note Drop in the bore: The fit closes a little in a humid room." in text
    stopped = dataclasses.replace(sample(), findings=(dataclasses.replace(sample().findings[0], level=Level.STOP),))
    assert "Stop Grooves:" in page_texts(papers(stopped, [])["lantern-handout-full-letter.pdf"])[0].replace("\n", " ")


def test_the_handout_of_the_lantern_is_three_to_seven_pages(lantern: dict[str, bytes]) -> None:
    for paper in SIZES:
        assert 3 <= page_count(lantern[f"lantern-handout-full-{paper}.pdf"]) <= 7


def test_the_boxes_sources_are_named_once_and_together(lantern: dict[str, bytes]) -> None:
    text = text_of(lantern["lantern-workings-letter.pdf"])
    line = text[text.index("The safety boxes rest on these:") :]
    boxes = [*sample().boxes, *(box for one in sample().steps for box in one.boxes)]
    assert boxes
    for box in boxes:
        assert line.count(box.source.text.rstrip(".")) == 1
        assert re.search(re.escape(box.do[-1].rstrip(".")) + r"\.?\s*\[", text) is None


def test_two_narrow_drawings_stand_abreast() -> None:
    """Their frames are 75 mm high by 60 mm less 2 mm of margin, and their uprights begin at one height."""
    two = [figure("around", "around", 60, 75), figure("holes", "holes", 60, 75)]
    pdf = papers(sample(), two, paper="a4")["lantern-handout-full-a4.pdf"]
    page = next(number for number, text in enumerate(page_texts(pdf)) if "Drawing holes" in text)
    sides = uprights(dark(pdf, page), 72)
    assert len(sides) == 4
    assert max(one[1] for one in sides) - min(one[1] for one in sides) < 0.5


def test_a_step_points_to_its_figure_where_another_step_shows_it() -> None:
    """A drawing is printed once, at the first step that calls for it."""
    one, two, *_ = sample().parts[0].steps
    parts = (dataclasses.replace(sample().parts[0], steps=tuple(
        dataclasses.replace(each, figures=("fit",)) for each in (one, two)
    )),)  # fmt: skip
    pdf = papers(dataclasses.replace(sample(), parts=parts), [figure("fit", "fit", 120, 60)])
    text = text_of(pdf["lantern-handout-full-letter.pdf"])
    assert text.count("Drawing fit") == 1
    assert re.search(rf"{re.escape(two.name)} .*?Figure: 1 ", text)


def test_a_size_with_nothing_to_add_ends_without_a_comma(lantern: dict[str, bytes]) -> None:
    text = text_of(lantern["lantern-handout-full-letter.pdf"])
    for one in sample().sizes:
        if not (one.choices or one.least or one.most):
            assert f"{one.says} " in text
            assert f"{one.says}, " not in text


def test_every_page_says_which_it_is_of_how_many(lantern: dict[str, bytes]) -> None:
    texts = page_texts(lantern["lantern-handout-full-a4.pdf"])
    for number, text in enumerate(texts, start=1):
        assert f"Page {number} of {len(texts)}" in text
        assert "Millbrook Turners" in text


@pytest.mark.parametrize("lead", ["in", "mm"])
def test_the_unit_that_leads_comes_first_and_the_other_beside_it(lead: str) -> None:
    rule = Rule(lead=lead)
    text = text_of(papers(sample(rule), [])["lantern-dimensions-letter.pdf"])
    shown = print_quantity(inches(2.25), rule)
    pair = f"{shown.lead} {shown.other}".replace("\u00a0", " ")
    assert f"Diameter of the ball {pair}" in text


def test_fractions_stay_text_that_can_be_copied(lantern: dict[str, bytes]) -> None:
    """They are set as fractions by the font; the characters remain a digit, a slash and a digit."""
    assert "turn it to 2 1/4 in (57 mm)" in text_of(lantern["lantern-handout-full-letter.pdf"])


def numbered(sheet: Sheet, *names: str) -> Sheet:
    """The sheet with its first step turned to those values."""
    known = {one.name: one for one in (*sheet.sizes, *sheet.dimensions)}
    numbers = tuple(StepNumber(name, known[name].says, known[name].says, known[name].printed) for name in names)
    part = sheet.parts[0]
    steps = (dataclasses.replace(part.steps[0], numbers=numbers), *part.steps[1:])
    return dataclasses.replace(sheet, parts=(dataclasses.replace(part, steps=steps), *sheet.parts[1:]))


def test_the_safe_side_of_what_is_made_stands_before_its_number_and_of_nothing_else() -> None:
    """A web is what is left; a size is as it is chosen. Said before both numbers, on one line with them."""
    sheet = sample()
    group = next(one for one in sheet.groups if one.chapter == "cross holes")
    web = next(one for one in group.dimensions if one.name.endswith("web_bore"))
    left = dataclasses.replace(web, made=False)
    changed = dataclasses.replace(group, dimensions=tuple(left if one is web else one for one in group.dimensions))
    sheet = dataclasses.replace(sheet, groups=tuple(changed if one is group else one for one in sheet.groups))
    told = [
        one for one in sheet.dimensions if one.main and one.made and one.err is not Err.NEAREST and one.printed.other
    ]
    assert {one.err for one in told} == {Err.OVER, Err.UNDER}
    names = [one.name for one in told[:3]]
    names += [next(one.name for one in told if one.err is Err.OVER), web.name, "ball"]
    text = text_of(papers(numbered(sheet, *dict.fromkeys(names)), [])["lantern-dimensions-letter.pdf"])
    for one in told:
        if one.name in names:
            side = "≤" if one.err is Err.UNDER else "≥"
            pair = [value.replace("\u00a0", " ") for value in (one.printed.lead, one.printed.other)]
            assert f"{one.says} {side} {pair[0]} {side} {pair[1]}" in text
    assert f"{web.says} {web.printed.lead}".replace("\u00a0", " ") in text


def crowded(count: int) -> Sheet:
    """A lantern with `count` dimensions more."""
    sheet = sample()
    like = sheet.groups[0].dimensions[0]
    more = tuple(
        dataclasses.replace(like, name=f"extra{number}", says=f"Extra dimension {number}") for number in range(count)
    )
    return dataclasses.replace(
        sheet, groups=(*sheet.groups, dataclasses.replace(sheet.groups[0], name="more", title="More", dimensions=more))
    )


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("more", [0, 10, 30, 45])
def test_the_dimensions_sheet_is_one_page_of_at_most_24_numbers(paper: str, more: int) -> None:
    names = [f"extra{number}" for number in range(more)]
    pdf = papers(numbered(crowded(more), *names), FIGURES, paper=paper, page_url="https://example.org/projects/x/")[
        f"lantern-dimensions-{paper}.pdf"
    ]
    assert page_count(pdf) == 1
    shown = re.findall(r"Extra dimension (\d+)", text_of(pdf))
    assert shown == [str(number) for number in range(min(more, MOST_ROWS))]


def test_numbers_stand_once_at_the_first_step_that_is_turned_to_them_in_14_points() -> None:
    sheet = numbered(sample(), "ball", "bore")
    part = sheet.parts[0]
    steps = (*part.steps[:1], dataclasses.replace(part.steps[1], numbers=part.steps[0].numbers), *part.steps[2:])
    sheet = dataclasses.replace(sheet, parts=(dataclasses.replace(part, steps=steps), *sheet.parts[1:]))
    pdf = papers(sheet, [])["lantern-dimensions-letter.pdf"]
    text = text_of(pdf)
    assert "1 Diameter of the ball" in text
    assert text.count("Diameter of the ball") == 1
    assert [size for size, words in lettering(pdf) if "Diameter of the ball" in words] == [pytest.approx(14)]


def test_names_longer_than_a_page_go_on_overleaf() -> None:
    sheet = sample()
    like = sheet.sizes[0]
    long = tuple(dataclasses.replace(like, name=f"z{number}", says="Long " * 30) for number in range(24))
    pdf = papers(dataclasses.replace(sheet, sizes=long), [])["lantern-dimensions-letter.pdf"]
    numbers = {number.name for one in sheet.steps for number in one.numbers}
    assert text_of(pdf).count("Long") == (MOST_ROWS - len(numbers)) * 30
    assert page_count(pdf) == 1, "smaller letters"
    longer = tuple(dataclasses.replace(one, says="Long " * 150) for one in long)
    pdf = papers(dataclasses.replace(sheet, sizes=longer), [])["lantern-dimensions-letter.pdf"]
    assert text_of(pdf).count("Long") == (MOST_ROWS - len(numbers)) * 150
    assert page_count(pdf) > 1


def test_drawings_keep_their_size_because_they_may_say_their_scale(lantern: dict[str, bytes]) -> None:
    """The frame of the octagon's drawing is 108 mm wide, and prints so."""
    found = []
    for page in range(page_count(lantern["lantern-handout-full-letter.pdf"])):
        sides = uprights(dark(lantern["lantern-handout-full-letter.pdf"], page), 66)
        found += [right[0] - left[0] for left in sides for right in sides if abs(left[1] - right[1]) < 0.5]
    assert min(abs(wide - 108) for wide in found) < 0.1


def test_the_dimensions_sheet_opens_with_the_whole_piece_and_no_other_drawing() -> None:
    arrangement = dataclasses.replace(figure("arrangement", "", 160, 100), name=ARRANGEMENT)
    pdf = papers(sample(), [arrangement, *FIGURES])["lantern-dimensions-letter.pdf"]
    sides = uprights(dark(pdf, 0), 60)
    shown = [right[0] - left[0] for left in sides for right in sides]
    assert max(shown) == pytest.approx(158, abs=0.2), "the frame is 1 mm inside the drawing's edge"
    assert "Drawing octagon" not in text_of(pdf)


def test_the_code_to_the_page_is_there_only_when_the_site_has_an_address(lantern: dict[str, bytes]) -> None:
    with_address = text_of(
        papers(sample(), [], page_url="https://example.org/club/projects/lantern/")["lantern-dimensions-letter.pdf"]
    )
    assert "example.org/club/projects/lantern" in with_address.replace(" ", "")
    assert "example.org" not in text_of(lantern["lantern-dimensions-letter.pdf"])


@pytest.mark.parametrize(("sign", "told"), [("漢", "漢"), ("😀", "😀"), ("\x07", r"U\+0007")])
def test_a_sign_the_fonts_lack_is_named(sign: str, told: str) -> None:
    with pytest.raises(ProjectError, match=f"no sign for '{told}'"):
        papers(dataclasses.replace(sample(), supplies=(f"glue {sign}",)), [])


def test_an_almost_empty_sheet_prints() -> None:
    bare = dataclasses.replace(
        sample(),
        summary=(),
        kind="",
        level="",
        techniques=(),
        by="",
        club="",
        sizes=(),
        groups=(),
        parts=(),
        supplies=(),
        findings=(),
    )
    made = papers(bare, [])
    # Without numbers and steps there is nothing for the other papers to show.
    assert sorted(made) == ["lantern-handout-letter.pdf"]
    assert "Ribbed lantern" in text_of(made["lantern-handout-letter.pdf"])
