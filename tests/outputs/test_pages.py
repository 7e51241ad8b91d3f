"""The pages: everything on the sheet is there, in reach of everyone, and author text stays text."""

from __future__ import annotations

import dataclasses
import itertools
import re
from collections import Counter
from pathlib import Path
from urllib.parse import urljoin

import pytest
from PIL import Image

from handouts_build.figures.figure import Figure
from handouts_build.outputs.page_content import PageContent
from handouts_build.outputs.pages.assets import assets
from handouts_build.sheet import Citation, Part, Picture, SafetyBox, Sheet, Step, TextRun
from tests.outputs.pages_reading import Element, page, pages, rendered
from tests.sample import sample

SVG = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="60mm" viewBox="0 0 226 170">\n'
    '<path d="M 10 10 L 100 10 L 100 90 z " style="fill: #f5eee2; stroke: #101012; stroke-width: 1.3"/>\n'
    '<text style="font-size: 9px" x="10" y="10">2 in</text>\n</svg>'
)


def figure(group: str, name: str = "") -> Figure:
    return Figure(name or group, group, f"Drawing of {group}", SVG, f"What {group} shows: 2 1/4 in (57 mm).", 80, 60)


def unboxed(sheet: Sheet) -> Sheet:
    """A sheet with the author's own cautions alone."""
    parts = tuple(
        dataclasses.replace(
            part, steps=tuple(dataclasses.replace(step, boxes=(), new_boxes=frozenset()) for step in part.steps)
        )
        for part in sheet.parts
    )
    return dataclasses.replace(sheet, parts=parts, boxes=())


def entry(sheet: Sheet | None = None) -> PageContent:
    sheet = sheet or unboxed(sample())
    return PageContent(
        sheet,
        (figure("octagon"), figure("octagon", "octagon-end"), figure("groove"), figure("drop")),
        ("projects/lantern/lantern-handout-letter.pdf", "projects/lantern/lantern-handout-a4.pdf"),
        "projects/lantern/lantern.json",
    )


LATHE, ALL_SIZES, WORKINGS = (f"projects/lantern/{name}.md" for name in ("at-the-lathe", "sizes", "workings"))
PAGES = ("projects/lantern.md", LATHE, ALL_SIZES, WORKINGS)


@pytest.fixture(scope="module")
def lantern() -> Element:
    return rendered(page(entry()))


@pytest.fixture(scope="module")
def lathe() -> Element:
    return rendered(page(entry(), LATHE))


@pytest.fixture(scope="module")
def workings() -> Element:
    return rendered(page(entry(), WORKINGS))


def with_first_step(sheet: Sheet, **change: object) -> Sheet:
    part = sheet.parts[0]
    steps = (dataclasses.replace(part.steps[0], **change), *part.steps[1:])
    return dataclasses.replace(sheet, parts=(dataclasses.replace(part, steps=steps), *sheet.parts[1:]))


# ---- What is on the page -----------------------------------------------------


def test_every_size_and_main_dimension_stands_in_the_table_in_both_units() -> None:
    (table,) = rendered(page(entry(), ALL_SIZES)).all("table", cls="hb-dimensions")
    rows = [[cell.text for cell in row.inside if isinstance(cell, Element)] for row in table.all("tr")]
    values = {tuple(row[1:]) for row in rows if len(row) == 3}
    sheet = sample()
    wanted = [one.printed for one in (*sheet.sizes, *(one for one in sheet.dimensions if one.main))]
    assert len(wanted) > 15
    for printed in wanted:
        assert (printed.lead.replace("\u00a0", " "), printed.other.replace("\u00a0", " ")) in values


@pytest.mark.parametrize(("lead", "columns"), [("in", ["Inches", "Millimeters"]), ("mm", ["Millimeters", "Inches"])])
def test_the_unit_that_leads_has_the_first_column(lead: str, columns: list[str]) -> None:
    sheet = sample()
    shown = rendered(page(entry(sample(dataclasses.replace(sheet.rule, lead=lead))), ALL_SIZES))
    (table,) = shown.all("table", cls="hb-dimensions")
    assert [one.text for one in table.all("th") if one.attrs["scope"] == "col"][1:] == columns
    assert table.all("td", cls="hb-first")[0].text == ("2 1/4 in" if lead == "in" else "57 mm")


@pytest.mark.parametrize("name", PAGES)
def test_every_header_cell_says_what_it_heads_and_every_table_has_a_caption(name: str) -> None:
    tables = rendered(page(entry(), name)).all("table")
    assert len(tables) == {PAGES[0]: 3, LATHE: 0, ALL_SIZES: 1, WORKINGS: 1}[name]
    for table in tables:
        assert len(table.all("caption")) == 1
        assert all(cell.attrs.get("scope") in {"col", "row", "rowgroup"} for cell in table.all("th"))


def test_every_step_has_its_number_name_words_hold_time_and_tools(lathe: Element) -> None:
    headings = [one.text for one in lathe.all("h2")]
    sheet = sample()
    assert headings == [f"{step.number} {step.name}" for step in sheet.steps]
    bodies = lathe.all(cls="hb-step")
    for step, body in zip(sheet.steps, bodies, strict=True):
        assert "".join(run.text for run in step.say[0]).replace("\u00a0", " ").strip() in body.text
        assert step.hold in body.text
        assert ", ".join(step.tools) in body.text
        assert f"{step.minutes.magnitude:g} min" in body.text if step.minutes is not None else True


def test_every_step_shows_its_numbers_and_its_one_speed_each_with_the_way_to_where_it_comes_from(
    lathe: Element,
) -> None:
    first, second = lathe.all(cls="hb-step")[:2]
    shown = [[one.text for one in step.all("li") if one.all(cls="hb-numbers__what")] for step in (first, second)]
    assert shown == [
        ["Diameter of the ball 2 1/4 in 57 mm", "Speed 1,200 to 1,600 rpm"],
        ["How far in 21/32 in 16.5 mm", "Diameter of the ball 2 1/4 in 57 mm"],
    ]
    ways = [one.attrs["href"] for step in (first, second) for one in step.all("ul", cls="hb-numbers")[0].all("a")]
    assert ways == [
        "../sizes/#own-ball",
        "../workings/#working-octagon.setback",
        "../workings/#given-octagon.diameter",
    ]


def test_the_first_page_lists_the_numbers_by_step_and_the_steps_in_short(lantern: Element) -> None:
    tables = [table for table in lantern.all("table") if table.attrs["class"].endswith("hb-bystep__table")]
    assert [table.all("caption")[0].text for table in tables] == ["1 Turn the cylinder", "2 Mark the octagon"]
    assert [row.text for row in tables[1].all("tr")] == [
        "How far in 21/32 in 16.5 mm",
        "Diameter of the ball 2 1/4 in 57 mm",
    ]
    steps = [one.text for one in lantern.all("h3") if one.all("a")]
    assert steps == [f"{step.number} {step.name}" for step in sample().steps]
    # In the list of contents and not in the search, which leads to the steps themselves.
    assert all(one.all("span")[0].attrs["data-hb-aside"] == "section" for one in lantern.all("h3") if one.all("a"))


def test_every_name_that_a_place_of_the_page_ever_had_leads_to_a_place(lantern: Element) -> None:
    """Links on paper and in bookmarks: what they led to stands here, or the way there does."""
    ids = {one.attrs["id"] for one in lantern.walk() if "id" in one.attrs}
    assert {f"to-{name}" for name in ("safety", "need", "own", "dimensions", "steps", "workings", "papers")} <= ids
    assert {f"step-{step.number}" for step in sample().steps} <= ids


def test_the_one_caution_that_matters_most_stands_open_and_the_others_one_tap_away(lathe: Element) -> None:
    first = lathe.all(cls="hb-step")[0]
    (care,) = first.all("section", cls="hb-step__care")
    (box,) = care.all(cls="hb-box")
    assert box.text.startswith("Caution Turn the blank by hand through one full turn")
    whole = rendered(page(entry(sample()), LATHE)).all(cls="hb-step")[0]
    (folded,) = whole.all("details", cls="hb-more")
    assert folded.all("summary")[0].text == "2 more cautions"
    assert "Keep the tail center tight" in folded.text
    assert "Skew chisel" in folded.text


def test_the_first_page_names_the_steps_that_have_cautions(lantern: Element) -> None:
    marks = {one.attrs["href"] for one in lantern.all("a", cls="hb-turn")}
    assert marks == {f"at-the-lathe/#step-{number}" for number in (1, 5, 7, 10)}


@pytest.mark.parametrize("name", PAGES)
@pytest.mark.parametrize("at", ["", "lantern/"])
def test_every_way_between_the_pages_of_a_piece_leads_to_a_place_that_is_there(name: str, at: str) -> None:
    content = dataclasses.replace(entry(sample()), at=at)
    made = {one.path: rendered(one.read().decode()) for one in pages([content]) if one.path in PAGES}
    ids = {path: {one.attrs["id"] for one in shown.walk() if "id" in one.attrs} for path, shown in made.items()}

    def file(address: str) -> str:
        """The page's Markdown by its address: a folder's, or one that ends in .html."""
        return f"{address.removesuffix('/').removesuffix('.html')}.md"

    base = name.removesuffix(".md") + ("/" if at == "" else ".html")
    ways = [
        one.attrs["href"] for one in made[name].all("a") if one.attrs.get("href", "").partition("#")[0][-3:] != ".md"
    ]
    ways = [way for way in ways if not way.endswith((".pdf", ".json"))]
    assert ways
    for way in ways:
        address, _, fragment = urljoin(base, way).partition("#")
        assert file(address) in made, way
        assert not fragment or fragment in ids[file(address)], way


def test_safety_boxes_stand_once_in_full_and_are_named_again_where_they_matter() -> None:
    box = SafetyBox(
        "clear",
        "warning",
        "Keep clear",
        "It strikes fingers.",
        ("Stand back.", "Wait."),
        Citation("x", "A standard", "verified"),
    )
    sheet = unboxed(sample())
    part = sheet.parts[0]
    steps = [dataclasses.replace(one, boxes=(box,)) for one in part.steps[:2]]
    steps[0] = dataclasses.replace(steps[0], new_boxes=frozenset({"clear"}))
    steps[1] = dataclasses.replace(steps[1], care=((TextRun("Mind the points."),),))
    sheet = dataclasses.replace(
        sheet, parts=(dataclasses.replace(part, steps=(*steps, *part.steps[2:])), *sheet.parts[1:]), boxes=(box,)
    )
    first, second = rendered(page(entry(sheet), LATHE)).all(cls="hb-step")[:2]
    shown = rendered(page(entry(sheet)))
    assert "Warning Keep clear. It strikes fingers. Stand back. Wait. [1]" in first.text
    (again,) = [one for one in second.all("a") if one.text == "Keep clear"]
    assert again.attrs["href"] == "#step-1"
    assert second.all("summary")[0].text == "1 more caution"
    (gathered,) = shown.all(cls="hb-boxes")
    assert gathered.all("li")[0].text == "WarningKeep clear"
    assert "Keep clear. It strikes fingers." in gathered.text


def test_signal_words_come_gravest_first() -> None:
    boxes = tuple(
        SafetyBox(word, word, f"About {word}", "Hurts.", ("Do.",), Citation("x", "A standard", "verified"))
        for word in ("notice", "danger", "caution", "warning")
    )
    shown = rendered(page(entry(dataclasses.replace(unboxed(sample()), boxes=boxes))))
    (gathered,) = shown.all(cls="hb-boxes")
    # ANSI Z535.4: danger, warning, caution; notice is for what does not hurt people.
    assert [one.text for one in gathered.all(cls="hb-signal")] == ["Danger", "Warning", "Caution", "Notice"]


def test_findings_say_their_level_what_they_are_about_and_the_remedy(lantern: Element) -> None:
    mind, note = (one for one in lantern.all(cls="hb-box") if one.all(cls="hb-word"))
    assert (
        mind.text
        == "Mind Grooves: the wood left over the bore is thin, 1/8 in (3.2 mm). What to do: take the last cuts lightly."
    )
    assert note.text == "Note Drop in the bore: the fit closes a little in a humid room."


def test_each_working_shows_symbol_formula_numbers_result_rounding_and_source(workings: Element) -> None:
    sheet = sample()
    shown = [one.text for one in workings.all(cls="hb-working")]
    dimensions = list(sheet.dimensions)
    assert len(shown) == len(dimensions)
    listed = [one.text for one in workings.all("ol", cls="hb-sources")[0].all("li")]
    for one, text in zip(dimensions, shown, strict=True):
        how = one.working
        for part in (one.says, f"{how.symbol} = {how.formula}", f"= {how.numbers}", f"= {how.result}", how.rounding):
            assert " ".join(part.split()) in text
        if how.source is not None:
            number = int(re.search(r"\[(\d+)\]", text)[1])  # type: ignore[index]
            assert listed[number - 1].startswith(how.source.text)


def test_a_working_without_a_formula_shows_no_empty_equals_sign() -> None:
    sheet = sample()
    group = sheet.groups[0]
    bare = dataclasses.replace(
        group.dimensions[0], working=dataclasses.replace(group.dimensions[0].working, formula="", numbers="")
    )
    sheet = dataclasses.replace(sheet, groups=(dataclasses.replace(group, dimensions=(bare,)), *sheet.groups[1:]))
    (formula, *_) = rendered(page(entry(sheet), WORKINGS)).all(cls="hb-formula")
    assert formula.text == "collar = 0.091 in"


def test_a_drawing_stands_beside_the_first_step_that_names_its_group_and_the_others_in_the_workings() -> None:
    sheet = with_first_step(sample(), figures=("octagon",))
    content = PageContent(sheet, (figure("octagon"), figure("fit"), figure("holes"), figure("", "own")))
    steps = rendered(page(content, LATHE)).all(cls="hb-step")
    drawn = [[one.text for one in step.all("figcaption")] for step in steps]
    assert drawn[0][0].startswith("Drawing of octagon")
    assert drawn[1] == []
    workings = rendered(page(content, WORKINGS)).all("figure")
    assert [one.all("figcaption")[0].all("span")[0].text for one in workings] == ["Drawing of"]


@pytest.mark.parametrize(("name", "count"), [(PAGES[0], 1), (LATHE, 4), (WORKINGS, 0)])
def test_every_drawing_has_a_name_and_its_numbers_in_words(name: str, count: int) -> None:
    shown = rendered(page(entry(), name))
    named = {one.attrs["id"]: one.text for one in shown.walk() if "id" in one.attrs}
    figures = shown.all("figure")
    assert len(figures) == count
    for one in figures:
        (plate,) = one.all(cls="hb-plate")
        assert plate.attrs["role"] == "img"
        assert named[plate.attrs["aria-labelledby"]].startswith("Drawing of ")
        assert "2 1/4 in (57 mm)" in one.all("details")[0].text
        assert all(svg.attrs["aria-hidden"] == "true" for svg in one.all("svg"))


@pytest.mark.parametrize("name", PAGES)
def test_numbers_of_drawings_tables_and_workings_do_not_flood_the_search(name: str) -> None:
    shown = rendered(page(entry(), name))
    # Our own mark of what stands beside the running text; the plugin tells a theme's search of it.
    for one in (
        *shown.all(cls="hb-plate"),
        *shown.all("table", cls="hb-dimensions"),
        *shown.all(cls="hb-bystep"),
        *shown.all(cls="hb-workings"),
    ):
        assert "data-hb-aside" in one.attrs


def test_papers_are_named_with_their_size_and_only_those_that_are_there(lantern: Element) -> None:
    links = {one.text: one.attrs["href"] for one in lantern.all("a") if one.attrs["href"].startswith("lantern/lantern")}
    assert links == {
        "Handout, US Letter": "lantern/lantern-handout-letter.pdf",
        "Handout, A4": "lantern/lantern-handout-a4.pdf",
        "Data, JSON": "lantern/lantern.json",
    }


@pytest.mark.parametrize("name", PAGES)
def test_no_name_is_given_twice_on_a_page(name: str) -> None:
    ids = Counter(one.attrs["id"] for one in rendered(page(entry(sample()), name)).walk() if "id" in one.attrs)
    assert [each for each, times in ids.items() if times > 1] == []


@pytest.mark.parametrize("name", PAGES)
def test_headings_go_down_one_level_at_a_time(name: str) -> None:
    for sheet in (sample(), dataclasses.replace(sample(), parts=sample().parts[:1])):
        shown = rendered(page(entry(sheet), name))
        levels = [int(one.tag[1]) for one in shown.walk() if re.fullmatch("h[1-6]", one.tag)]
        assert levels[0] == 1
        assert levels.count(1) == 1
        assert all(after - before <= 1 for before, after in itertools.pairwise(levels))


def test_page_and_home_close_with_whose_word_comes_first(lantern: Element) -> None:
    home = rendered(page(entry(), "index.md"))
    for shown in (lantern, home):
        last = shown.all(cls="hb-last")[-1].text
        assert last.startswith("The lathe's manual, local codes and your club's rules come first")
        assert "Teaching beginners is for those approved to do it." in last


def test_nothing_is_claimed_to_be_safe(lantern: Element) -> None:
    for shown in (lantern, rendered(page(entry(), "index.md"))):
        assert not re.search(r"\b(is|are|makes? it|perfectly|completely) safe\b", shown.text, re.IGNORECASE)


def test_the_home_page_has_a_card_with_drawing_facts_and_link_for_every_project() -> None:
    second = dataclasses.replace(sample(), name="bowl", title="Footed bowl")
    made = {one.path: one.read() for one in pages([entry(), PageContent(second)])}
    source = made["index.md"].decode()
    cards = rendered(source).all(cls="hb-card")
    assert [card.all("h2")[0].text for card in cards] == ["Ribbed lantern", "Footed bowl"]
    assert [card.all("a")[0].attrs["href"] for card in cards] == ["projects/lantern.md", "projects/bowl.md"]
    for card in cards:
        facts = dict(zip([one.text for one in card.all("dt")], [one.text for one in card.all("dd")], strict=True))
        assert facts["Diameter of the ball"] == "2 1/4 in (57 mm)"
        assert facts["Time to make it"] == "1 h 2 min"
        assert facts["Woods"] == "walnut, black; maple, hard"
    assert len(cards[0].all("svg")) == 1
    assert cards[0].all("text") == []


def test_an_archive_without_projects_still_has_a_home_page() -> None:
    made = {one.path: one.read() for one in pages([])}
    source = made["index.md"].decode()
    assert "There is no project here yet." in rendered(source).text


def test_a_sheet_with_next_to_nothing_still_makes_a_page() -> None:
    step = Step(1, "Turn", "p", (), (), "", (), None, "", "live", "", ())
    part = Part("p", "P", "", "", sample().parts[0].blank, (step,))
    bare = dataclasses.replace(
        sample(), summary=(), kind="", level="", techniques=(), by="", club="", sizes=(), groups=(), supplies=(),
        findings=(), boxes=(), parts=(part,),
    )  # fmt: skip
    shown = rendered(page(PageContent(bare)))
    assert "any sound wood" in shown.text
    assert [one.text for one in shown.all("h3")] == ["1 Turn"]
    # There is nothing to list on a page of sizes.
    assert "projects/lantern/sizes.md" not in {one.path for one in pages([PageContent(bare)])}


def test_a_picture_takes_the_drawings_place_at_the_top_and_says_what_it_shows(tmp_path: Path) -> None:
    Image.new("RGB", (40, 30), "sienna").save(tmp_path / "in the (window).jpg")
    pictures = tuple(
        Picture(name, tmp_path / "in the (window).jpg", HOSTILE, number)
        for number, name in enumerate(("in the (window).jpg", "b.jpg"), start=1)
    )
    made = {one.path: one.read() for one in pages([entry(dataclasses.replace(sample(), pictures=pictures))])}
    source = made["projects/lantern.md"].decode()
    first, second = rendered(source).all("img")
    assert first.attrs == {"src": "lantern/photographs/1.jpg", "alt": " ".join(HOSTILE.split())}
    assert second.attrs["src"] == "lantern/photographs/2.jpg"
    assert {"projects/lantern/photographs/1.jpg", "projects/lantern/photographs/2.jpg"} <= made.keys()


def test_the_same_projects_give_the_same_bytes() -> None:
    assert pages([entry()]) == pages([entry()])


def test_shared_files_are_the_same_bytes_as_the_fonts_that_the_library_carries() -> None:
    made = {one.path: one.read() for one in assets()}
    fonts = Path(__file__).parents[2] / "handouts_build" / "fonts"
    for path, content in made.items():
        if path.endswith(".woff2"):
            assert content == (fonts / Path(path).name).read_bytes()
    assert sum(path.endswith(".woff2") for path in made) == 8


# ---- Author text stays text --------------------------------------------------

HOSTILE = (
    "</title></p></figure><script>alert(1)</script><img src=x onerror=alert(1)> "
    "**b** _i_ `c` [l](javascript:alert(1)) ![p](x) {: #id onclick=x } # h #include "
    "| a | b | &lt;i&gt; &amp; {{ 7*7 }} {% raw %} ${x} :smile: ==m== ~~d~~ ^^u^^ <!-- x --> ]]> \\* \"q\" 'q'"
)


def hostile() -> Sheet:
    """The sample with the hostile text wherever an author may write."""
    text = ((TextRun(HOSTILE), TextRun(HOSTILE, "emphasis"), TextRun(HOSTILE, "value")),)
    sheet = sample()
    parts = tuple(
        dataclasses.replace(
            part,
            title=HOSTILE,
            wood=HOSTILE,
            grain=HOSTILE,
            steps=tuple(
                dataclasses.replace(
                    step, name=HOSTILE, say=text, care=text, hold=HOSTILE, speed=HOSTILE, tools=(HOSTILE,)
                )
                for step in part.steps
            ),
        )
        for part in sheet.parts
    )
    groups = tuple(
        dataclasses.replace(
            group,
            title=HOSTILE,
            about=HOSTILE,
            dimensions=tuple(dataclasses.replace(one, says=HOSTILE) for one in group.dimensions),
        )
        for group in sheet.groups
    )
    return dataclasses.replace(
        sheet, title=HOSTILE, summary=text, kind=HOSTILE, level=HOSTILE, techniques=(HOSTILE,), by=HOSTILE,
        club=HOSTILE, supplies=(HOSTILE,), parts=parts, groups=groups,
        sizes=tuple(dataclasses.replace(one, says=HOSTILE) for one in sheet.sizes),
    )  # fmt: skip


@pytest.mark.parametrize("name", [*PAGES, "index.md"])
def test_markup_in_author_text_is_shown_and_never_obeyed(name: str) -> None:
    plain = rendered(page(entry(), name))
    told = entry(unboxed(hostile()))
    told = dataclasses.replace(
        told, figures=tuple(dataclasses.replace(one, title=HOSTILE, alt=HOSTILE) for one in told.figures)
    )
    shown = rendered(page(told, name))
    # The same elements as with harmless text, but for the fractions and emphasis of the words themselves.
    loose = {"em", "span"}
    tags = [Counter(one.tag for one in page.walk() if one.tag not in loose) for page in (plain, shown)]
    assert set(tags[1]) <= set(tags[0])
    assert not {"script", "strong", "code", "img"} & set(tags[1] - tags[0])
    assert all(not attribute.startswith("on") for one in shown.walk() for attribute in one.attrs)
    assert all("javascript" not in one.attrs.get("href", "") for one in shown.walk())
    for one in shown.all("h1") if name != "index.md" else shown.all("h2")[:1]:
        assert " ".join(HOSTILE.split()) in one.text


def test_the_title_in_the_front_matter_is_html_already_because_the_theme_prints_it_as_it_is() -> None:
    import yaml

    front = page(entry(hostile())).split("---\n")[1]
    meta = yaml.safe_load(front)
    for key in ("title", "description"):
        assert "<" not in meta[key]
        assert '"' not in meta[key]
    assert meta["title"].startswith("&lt;/title&gt;")


def test_line_breaks_in_author_text_cannot_end_a_block() -> None:
    broken = "One\n\n# Two\n\n    code\r\n- three\u2028four"
    sheet = dataclasses.replace(sample(), title=broken, summary=((TextRun(broken),),), supplies=(broken,))
    shown = rendered(page(entry(with_first_step(sheet, name=broken, say=((TextRun(broken),),)))))
    assert [one.text for one in shown.all("h1")] == ["One # Two code - three four"]
    assert shown.all("pre") == []
    assert shown.all("code") == []
