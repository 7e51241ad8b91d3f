"""The index in parts: what is written can be read back, and no part is larger than a query can bear."""

from __future__ import annotations

import random

import pytest

from handouts_build.outputs.search_index import FoundSection, search_index
from handouts_build.outputs.search_words import terms
from tests.search_reading import sections_of, told

WORDS = [f"{first}{second}{third}" for first in "bdfglmt" for second in "aeiou" for third in ("rk", "lm", "nt", "sp")]


def archive(pages: int) -> list[FoundSection]:
    chance = random.Random(7)
    made = []
    for page in range(pages):
        made.append(FoundSection(f"projects/p{page}/", f"Piece {page}", " ".join(chance.choices(WORDS, k=40))))
        made += [
            FoundSection(f"projects/p{page}/#step-{step}", f"Step {step}", " ".join(chance.choices(WORDS, k=60)))
            for step in range(8)
        ]
    return made


def test_each_term_leads_to_the_sections_that_have_it_and_their_page_s_title() -> None:
    sections = archive(40)
    files = search_index(sections)
    having = sections_of(files)
    for index, section in enumerate(sections):
        title = next(found.title for found in sections if found.location == section.page)
        for term in {*terms(section.text), *terms(section.title), *terms(title)}:
            assert index in having[term]
    every = set().union(*(set(terms(f"{found.title} {found.text}")) for found in sections))
    assert set(having) == every


def test_a_term_is_found_in_the_shard_that_the_list_of_shards_names() -> None:
    files = search_index(archive(60))
    start = told(files, "start.js")
    shards = start["shards"]
    assert len(shards) > 3
    assert shards == sorted(shards)
    for term in sections_of(files):
        at = max(index for index, first in enumerate(shards) if first <= term)
        assert term in told(files, f"terms-{at}.js")


def test_what_is_shown_of_a_section_stands_in_the_chunk_that_the_list_names() -> None:
    sections = archive(60)
    files = search_index(sections)
    chunks = told(files, "start.js")["chunks"]
    for index, section in enumerate(sections):
        at = max(place for place, first in enumerate(chunks) if first <= index)
        start, rows = told(files, f"shown-{at}.js")
        location, title, text, page = rows[index - start]
        assert (location, title) == (section.location, section.title)
        assert sections[page].location == section.page
        assert section.text.startswith(text.removesuffix(" …"))


def test_no_part_is_large_at_a_thousand_projects() -> None:
    """A common word stands in thousands of sections there: its part is the largest there is."""
    files = search_index(archive(1000))
    assert max(len(content) for name, content in files.items() if name.startswith("shown-")) < 8_000
    assert max(len(content) for name, content in files.items() if name.startswith("terms-")) < 40_000
    assert len(files["start.js"]) < 20_000


@pytest.mark.parametrize(
    ("typed", "written"),
    [
        ("centre", "center"), ("centres", "center"), ("colour", "color"), ("callipers", "caliper"), ("vice", "vise"),
        ("bowls", "bowl"), ("boxes", "box"), ("bodies", "body"), ("turning", "turn"), ("turned", "turns"),
        ("drilling", "drill"), ("boring", "bore"), ("gluing", "glue"), ("millimetres", "millimeter"),
        ("3/8", "0.375"), ("2 1/4 in", "2.25 inches"), ("10mm", "10 mm"), ("licence", "license"), ("Äste", "aste"),
        ("1⁄4″", "1/4 in"),
    ],
)  # fmt: skip
def test_two_ways_to_write_it_are_one_term(typed: str, written: str) -> None:
    assert list(terms(typed)) == list(terms(written))


@pytest.mark.parametrize(("left", "right"), [("ring", "rig"), ("bore", "bar"), ("10 mm", "10 in"), ("glass", "glas")])
def test_what_is_not_the_same_stays_apart(left: str, right: str) -> None:
    assert list(terms(left)) != list(terms(right))


def test_what_stands_beside_the_text_is_not_found() -> None:
    files = search_index([FoundSection("a/", "A", "<p class=secret>seen &amp; said</p>")])
    assert set(sections_of(files)) == {"seen", "said"} or "secret" not in sections_of(files)


def test_what_a_section_is_found_by_besides_is_not_shown_of_it() -> None:
    files = search_index(
        [FoundSection("a/", "A", "a ring in 42 min", besides="under an hour"), FoundSection("b/", "B", "")]
    )
    assert sections_of(files)["hour"] == [0]
    assert told(files, "shown-0.js") == [0, [["a/", "A", "a ring in 42 min", 0], ["b/", "B", "", 1]]]


def test_an_archive_with_nothing_in_it_has_an_index_too() -> None:
    assert list(search_index([])) == ["start.js"]
