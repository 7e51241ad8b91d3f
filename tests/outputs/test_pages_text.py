"""Text on its way to a page comes out as it went in."""

from __future__ import annotations

import html
import re

import markdown
import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from handouts_build.outputs.pages.text import cell, framed, heading, plain, prose, setting, yaml_text
from handouts_build.sheet import TextRun

# Any text a file can hold: control characters are refused by YAML before they come here.
TEXTS = st.text(st.characters(exclude_categories=("Cs", "Cc", "Cn"))).map(lambda text: text.strip()).filter(bool)
EXTENSIONS = ["toc", "tables", "fenced_code", "attr_list", "md_in_html", "smarty", "abbr", "footnotes", "def_list"]


def flat(text: str) -> str:
    return re.sub(r"[ \t\r\n\f\v\x85\u2028\u2029]+", " ", text).strip()


@given(TEXTS)
def test_a_heading_shows_exactly_what_was_written(text: str) -> None:
    made = markdown.markdown(f"## {heading(text)}", extensions=EXTENSIONS)
    inner = re.fullmatch(r"<h2[^>]*>(.*)</h2>", made, re.DOTALL)
    assert inner is not None
    assert "<" not in inner[1]
    assert html.unescape(inner[1]) == flat(text)


@given(TEXTS)
def test_text_in_a_block_shows_exactly_what_was_written(text: str) -> None:
    made = markdown.markdown(f"<p>{setting(text)}</p>", extensions=EXTENSIONS)
    inner = re.sub(r"</?span[^>]*>", "", made.removeprefix("<p>").removesuffix("</p>"))
    assert html.unescape(inner) == re.sub(r"[ \t\r\n\f\v\x85\u2028\u2029]+", " ", text)


@given(TEXTS)
def test_quoted_front_matter_reads_back_as_html_of_the_text(text: str) -> None:
    assert html.unescape(yaml.safe_load(f"title: {yaml_text(text)}")["title"]) == flat(text)


@pytest.mark.parametrize("text", ["3/4 in", "2\u00a01/4\u00a0in", "21/32 in thick", "1/2\u00a0min"])
def test_a_fraction_with_its_unit_is_marked_for_the_font(text: str) -> None:
    fraction = re.search(r"\d+/\d+", text)
    assert fraction is not None
    assert f'<span class="hb-frac">{fraction[0]}</span>' in setting(text)


@pytest.mark.parametrize("text", ["1/2 of them", "12/25/2026", "and/or", "3/4", "1/2 inside out"])
def test_what_is_no_size_is_left_as_it_is(text: str) -> None:
    assert setting(text) == text


def test_manners_of_author_text_are_elements_and_the_rest_is_plain() -> None:
    made = prose((TextRun("Turn to "), TextRun("3/4 in", "value"), TextRun(", "), TextRun("gently", "emphasis")))
    assert made == 'Turn to <span class="hb-value"><span class="hb-frac">3/4</span> in</span>, <em>gently</em>'
    assert plain(((TextRun("One "), TextRun("two", "emphasis")), (TextRun("three"),))) == "One two three"


def test_a_value_in_a_column_breaks_before_a_long_unit_and_nowhere_else() -> None:
    assert cell("1,963\u00a0ft/min") == "1,963 ft/min"
    assert cell("35.3\u00a0lb/ft³") == "35.3 lb/ft³"
    assert cell("57\u00a0mm") == "57\u00a0mm"
    assert "\u00a0" in cell("2\u00a01/4\u00a0in")
    assert " " not in cell("2\u00a01/4\u00a0in").replace("<span class", "")


def test_every_element_stands_in_a_frame_of_its_own_and_markdown_stays_markdown() -> None:
    page = (
        "# A [title](there.md)\n\n<table><tr><td>\n1</td></tr></table>\n\n"
        '<div class="hb" markdown="block">\n\n<p>Inside</p>\n\n<div>\n<p>too</p>\n</div>\n\n</div>\n\n<p>After</p>\n'
    )
    assert framed(page) == (
        '# A [title](there.md)\n\n<div class="hb"><table><tr><td>\n1</td></tr></table></div>\n\n'
        '<div class="hb" markdown="block">\n\n<p>Inside</p>\n\n<div>\n<p>too</p>\n</div>\n\n</div>\n\n'
        '<div class="hb"><p>After</p></div>\n'
    )
