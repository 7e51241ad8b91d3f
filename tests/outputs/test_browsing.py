"""Finding a piece: every value of every facet is a plain page, paged, with counts that are right."""

from __future__ import annotations

import dataclasses
import itertools
import json
import re
from datetime import UTC, datetime

import pytest

from handouts_build.outputs.output import AT, Address, Card, Output
from handouts_build.outputs.page_content import PageContent
from handouts_build.outputs.pages.browsing import browsing_pages, titles_of, values_of
from handouts_build.outputs.pages.facets import facets_of
from handouts_build.outputs.pages.likeness import likenesses
from handouts_build.outputs.pages.render import shared_pages
from handouts_build.sheet.evening import PublicDemonstration
from tests.outputs.pages_reading import rendered
from tests.sample import sample


def card(name: str, title: str = "", *, by: str = "", club: str = "", folder: str = "", **facets: str) -> Card:
    answers = {facet: tuple(values.split(", ")) for facet, values in facets.items()}
    return Card(name, title or name.capitalize(), folder, by, club, f'<p><img src="{AT}x.webp"></p>', "", answers)


BOWL = card("bowl", kind="bowl", wood="ash, maple", level="improver", technique="facework, captive ring")
BOX = card("box", kind="box", wood="Ash", level="first steps", technique="end-grain hollowing")
TOP = card("top", kind="toy", wood="maple", level="first steps", technique="facework")
CUP = card("cup", kind="box", wood="ash", level="experienced", technique="captive ring, end-grain hollowing")
CARDS = (BOWL, BOX, TOP, CUP)


def made(cards: tuple[Card, ...] = CARDS, ending: str = "/") -> dict[str, str]:
    return {output.path: output.read().decode() for output in browsing_pages(cards, ending=ending)}


def test_each_value_is_a_page_that_leads_to_its_pieces_and_to_no_other() -> None:
    pages = made()
    for facet, values in values_of(CARDS).items():
        for value in values:
            links = re.findall(
                r"^## \[.*?\]\(\.\./projects/(.*?)\.md\)", pages[f"find/{facet}-{value.slug}.md"], re.MULTILINE
            )
            having = {
                piece.name for piece in CARDS if value.says.casefold() in map(str.casefold, piece.facets.get(facet, ()))
            }
            assert set(links) == having, value
            assert len(links) == len(having) == len(value.cards)
            assert f"({facet}-{value.slug}.md)" in pages["find.md"].replace("(find/", "(")


def test_the_page_of_all_facets_counts_what_each_line_leads_to() -> None:
    """Spelled by two hands, ash is one wood."""
    lines = re.findall(r"^- \[(.*?)\]\(find/wood-(.*?)\.md\) <span>(\d+)</span>", made()["find.md"], re.MULTILINE)
    assert lines == [("ash", "ash", "3"), ("maple", "maple", "2")]


def test_a_facet_that_tells_no_piece_from_another_is_not_offered() -> None:
    pages = made(tuple(dataclasses.replace(piece, facets={**piece.facets, "club": ("Fernhollow",)}) for piece in CARDS))
    assert "## Club" not in pages["find.md"]
    assert "find/club-fernhollow.md" in pages, "a piece's own page may lead to it all the same"


@pytest.mark.parametrize("ending", ["/", ".html"])
def test_many_pieces_stand_on_several_pages_that_lead_to_each_other(ending: str) -> None:
    many = tuple(card(f"piece-{number:03}", kind="bowl") for number in range(100))
    pages = made(many, ending)
    listed = [pages[f"find/kind-bowl{more}.md"] for more in ("", "/2", "/3")]
    assert "find/kind-bowl/4.md" not in pages
    found = [re.findall(r"projects/(piece-\d+)\.md", text) for text in listed]
    assert list(map(len, found)) == [48, 48, 4]
    assert list(itertools.chain.from_iterable(found)) == [piece.name for piece in many]
    turns = [re.findall(r"^- \[(Before|Next)\]\((.*?)\)", text, re.MULTILINE) for text in listed]
    assert turns == [
        [("Next", "kind-bowl/2.md")],
        [("Before", "../kind-bowl.md"), ("Next", "../kind-bowl/3.md")],
        [("Before", "../kind-bowl/2.md")],
    ]


@pytest.mark.parametrize(("ending", "deep"), [("/", 2), (".html", 1)])
def test_pictures_are_found_from_wherever_the_page_is_served(ending: str, deep: int) -> None:
    few = tuple(dataclasses.replace(piece, few=piece.words) for piece in CARDS)
    assert f'src="{"../" * deep}projects/bowl/x.webp"' in made(few, ending)["find/kind-bowl.md"]
    (home,) = (
        piece.read().decode() for piece in shared_pages(few, address=Address("", ending)) if piece.path == "index.md"
    )
    assert 'src="projects/bowl/x.webp"' in home
    assert AT not in home


def test_the_script_is_told_of_each_piece_what_the_pages_say() -> None:
    text = made()["find/pieces.js"]
    told = json.loads(text.removeprefix("handoutsFind.receive(").removesuffix(");\n"))
    for name, title, having in told["pieces"]:
        (known,) = (piece for piece in CARDS if piece.name == name)
        assert title == known.title
        for facet, places in zip(told["facets"], having, strict=True):
            said = {facet["values"][place][1].casefold() for place in places}
            assert said == {value.casefold() for value in known.facets.get(facet["name"], ())}


def test_a_long_facet_has_a_page_of_its_own() -> None:
    many = tuple(card(f"p{number}", tool=f"tool {number}") for number in range(20))
    pages = made(many)
    assert len(re.findall(r"\(find/tool-tool-\d+\.md\)", pages["find.md"])) == 12
    assert "[All tools, 20](find/tool.md)" in pages["find.md"]
    assert len(re.findall(r"\(tool-tool-\d+\.md\)", pages["find/tool.md"])) == 20


def test_words_of_any_alphabet_and_words_alike_have_pages_of_their_own() -> None:
    cards = (card("a", kind="чаша"), card("b", kind="ваза"), card("c", kind="bowl!"), card("d", kind="bowl?"))
    slugs = [value.slug for value in values_of(cards)["kind"]]
    assert len(set(slugs)) == 4
    assert all(re.fullmatch("[a-z0-9-]+", slug) for slug in slugs)


def test_what_an_author_wrote_stays_text() -> None:
    cards = (card("a", kind="*bowl* [x](y) & co"), card("b", kind="box"))
    (heading,) = rendered(made(cards)["find/kind-bowl-x-y-co.md"]).all("h1")
    assert heading.text == "*bowl* [x](y) & co"


def test_one_piece_needs_no_finding() -> None:
    assert made((BOWL,)) == {}
    assert [piece.path for piece in shared_pages((BOWL,))] == ["index.md"]


def test_home_shows_a_few_of_many_and_leads_to_all() -> None:
    many = tuple(card(f"p{number}") for number in range(30))
    (home,) = (piece.read().decode() for piece in shared_pages(many) if piece.path == "index.md")
    assert len(re.findall(r"^## \[", home, re.MULTILINE)) == 12
    assert "[All 30 pieces](find/all.md)" in home


def test_pieces_of_one_title_are_told_apart_and_no_two_alike() -> None:
    cards = (
        card("a", "Box", by="Wren"), card("b", "Box", by="Alder"), card("c", "Box", folder="1998", by="Wren"),
        card("d", "Bowl", club="North"), card("e", "bowl", club="South"), card("f", "Top", by="Wren"),
    )  # fmt: skip
    assert list(titles_of(cards).values()) == [
        "Box", "Box, by Alder", "Box (1998)", "Bowl, North", "bowl, South", "Top",
    ]  # fmt: skip


def test_like_it_are_those_that_share_techniques_by_level() -> None:
    told = likenesses(CARDS)
    listed = re.findall(r"\*\*(.*?):\*\*|\[(.*?)\]\(.*?\.md\)", told["bowl"])
    assert [label or name for label, name in listed] == [
        "Before this, try", "Top", "After this, try", "Cup", "All pieces with", "captive ring", "facework", "ash",
        "maple",
    ]  # fmt: skip
    assert "Bowl" not in told["bowl"]
    assert "first steps; end-grain hollowing" in told["cup"]


def test_what_few_pieces_teach_makes_them_more_alike_than_what_most_do() -> None:
    common = tuple(card(f"p{number}", technique="sanding") for number in range(5))
    first, rare = card("first", technique="sanding, spiral"), card("rare", technique="spiral")
    told = likenesses((first, *common, rare))["first"]
    assert re.findall(r"\[(.*?)\]\(\w+\.md\)", told)[0] == "Rare"


def showing(day: str, *, held: bool, cancelled: str = "") -> PublicDemonstration:
    starts = datetime.fromisoformat(f"{day}T19:30").replace(tzinfo=UTC)
    return PublicDemonstration(
        day, "lantern", starts, "UTC", "North Club", "", "in the room", held, None, None, (), {}, (),
        cancelled=cancelled,
    )  # fmt: skip


def test_what_answers_to_a_facet_is_read_off_the_sheet() -> None:
    shown = (showing("2025-03-01", held=True), showing("2024-03-01", held=False, cancelled="flood"))
    sheet = dataclasses.replace(sample(), by="Wren", club="Fernhollow")
    told = facets_of(PageContent(sheet, demonstrations=shown, folder="old/1998"))
    assert told["technique"] == sheet.techniques
    assert told["wood"] == sheet.woods
    assert told["club"] == ("Fernhollow", "North Club")
    assert told["year"] == ("2025", "1998"), "what was cancelled was not shown"
    assert told["shown"] == ("shown before",)


def test_what_is_to_be_shown_is_found_by_place_and_by_month_next_first() -> None:
    later, sooner = showing("2027-03-13", held=False), showing("2026-12-05", held=False)
    past, off = showing("2025-03-01", held=True), showing("2027-01-01", held=False, cancelled="flood")
    told = facets_of(PageContent(sample(), demonstrations=(later, off, sooner, past)))
    assert told["where"] == ("in the room (North Club)",)
    assert told["when"] == ("December 2026, in the room (North Club)", "March 2027, in the room (North Club)")
    first = card("a")
    cards = tuple(
        dataclasses.replace(first, name=name, facets={"when": (says,)})
        for name, says in (
            ("a", "March 2027, Hall (X)"),
            ("b", "December 2026, Hall (X)"),
            ("c", "April 2027, by video"),
        )
    )
    assert [value.says[:5] for value in values_of(cards)["when"]] == ["Decem", "March", "April"]


def test_who_has_two_hours_finds_what_takes_one() -> None:
    def told(minutes: float) -> tuple[str, ...]:
        parts = sample().parts
        steps = (dataclasses.replace(parts[0].steps[0], minutes=_minutes(minutes)),)
        sheet = dataclasses.replace(sample(), parts=(dataclasses.replace(parts[0], steps=steps),))
        return facets_of(PageContent(sheet)).get("time", ())

    assert told(59) == ("under an hour", "under two hours", "under four hours")
    assert told(60) == ("under two hours", "under four hours")
    assert told(240) == ("four hours and more",)


def _minutes(number: float):  # type: ignore[no-untyped-def]
    from handouts_build.quantities import quantity

    return quantity(number, "min")


def test_outputs_are_named_once() -> None:
    paths = [output.path for output in browsing_pages(CARDS, ending="/")]
    assert len(paths) == len(set(paths))
    assert all(isinstance(output, Output) for output in browsing_pages(CARDS, ending="/"))
