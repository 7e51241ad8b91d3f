"""What does not follow the typed sizes, and what stops them: marked where it stands, said first, in words of the page.

Each case is one that a reader of the demo pages met.
"""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.browser.own_size_cases import known_sizes
from tests.browser.test_own_size_page import FIRST, LANTERN, LATHE, SIZES, WORKINGS, put, turn_to
from tests.browser.test_own_size_print import printed
from tests.browser.waiting import until
from tests.outputs.pdf_measure import page_texts

CANDLESTICK, BOWL, TOPS = (
    f"projects/{name}{SIZES}" for name in ("three-sided-candlestick", "twice-turned-bowl", "spinning-tops")
)
MARK = "(as published)"


def marked(page: Page, selector: str) -> list[bool]:
    """Of each place, whether it says that it stays as written."""
    found: list[bool] = page.locator(selector).evaluate_all(
        "all => all.map(one => one.textContent.includes('as published'))"
    )
    return found


def found(page: Page) -> list[str]:
    """What the panel found, in order."""
    return [text.replace("\u00a0", " ") for text in page.locator("[data-own-findings] li").all_inner_texts()]


def state(page: Page) -> Any:
    return page.locator("[data-own-state]")


FACTS = (
    (LATHE, ".hb-how dd[data-written]"),
    (LATHE, ".hb-numbers li[data-written]"),
    (LATHE, ".hb-step__shot"),
    (WORKINGS, ".hb-facts dd[data-written]"),
)


@pytest.mark.parametrize(
    ("path", "size", "text"),
    [(CANDLESTICK, "offset", "3/4 in"), (BOWL, "across", "200 mm"), (LANTERN, "ball", "2 1/8 in")],
)
def test_what_is_read_off_the_wood_is_marked_while_other_sizes_are_typed(
    glance: Any, served: str, path: str, size: str, text: str
) -> None:
    page = glance(served + path).page
    for ending, place in FACTS:
        assert turn_to(page, ending).locator(place).count() > 2
        assert not any(marked(page, place)), place
    put(turn_to(page, SIZES), **{size: text})
    for ending, place in FACTS:
        # Of all steps one stands on the screen; the others are there too.
        assert all(marked(turn_to(page, ending), place)), place
    expect(page.locator("[data-written^='The finished piece']")).to_contain_text("not at your sizes")
    swings = turn_to(page, LATHE).locator(".hb-how div", has=page.locator("dt", has_text=re.compile("^Swings$"))).first
    expect(swings).to_contain_text(MARK)
    expect(turn_to(page, FIRST).locator(".hb-hero figure.hb-solid")).to_contain_text("Shown as published")
    turn_to(page, SIZES).get_by_role("button", name="As published").click()
    until(page, "!document.querySelector('.hb-own__stale')")
    for ending in (LATHE, FIRST, WORKINGS):
        assert MARK not in turn_to(page, ending).locator("article").text_content()


def test_no_number_read_off_the_wood_stands_unmarked(glance: Any, served: str) -> None:
    """Every value of a step that does not follow its own name says so; times are guesses and go by no size."""
    for path, size in ((CANDLESTICK, "offset=0.75%20in"), (BOWL, "across=200%20mm"), (LANTERN, "ball=2.125%20in")):
        page = turn_to(glance(f"{served}{path}#sizes:{size}").page, LATHE)
        until(page, "document.querySelector('.hb-own__stale')")
        bare = page.locator(".hb-how > div").evaluate_all(
            """all => all.filter(one => !/^(Part|Wood|Time|Time to make it|Shown|Tools)$/
            .test(one.querySelector('dt').textContent) && !one.textContent.includes('as published'))
            .map(one => one.textContent)"""
        )
        assert bare == [], path


def test_findings_of_walls_and_holds_are_marked_and_those_judged_again_are_not(glance: Any, served: str) -> None:
    page = glance(served + CANDLESTICK).page
    put(page, offset="3/4 in")
    # Of the walls of a demo piece nothing calls for care, so one is put where they stand.
    turn_to(page, FIRST).evaluate(
        """() => { const one = document.createElement('div'); one.className = 'hb-box';
        one.dataset.written = 'Found at the published sizes, not at yours.';
        document.querySelector('[data-judged-here]').after(one); window.dispatchEvent(new Event('hashchange')); }"""
    )
    until(page, "document.querySelector('.hb-box[data-written] .hb-own__stale')")
    written = page.locator(".hb-box[data-written]")
    assert written.count() > 0
    for box in written.all():
        expect(box).to_contain_text("Found at the published sizes, not at yours.")
    assert not any(marked(page, "[data-judged]"))


def test_remarks_that_rest_on_a_changed_size_are_marked_and_others_are_not(glance: Any, served: str) -> None:
    """Twelve rays are stepped off otherwise than eight: the remarks are those of the eight that were written."""
    page = turn_to(glance(served + TOPS).page, WORKINGS)
    expect(page.locator(".hb-remarks li", has_text="Index wheels")).not_to_contain_text("as published")
    turn_to(page, SIZES).locator("#own-rays").select_option("12")
    turn_to(page, WORKINGS)
    for words in ("Index wheels that give 8 divisions", "after 8 steps"):
        expect(page.locator(".hb-remarks li", has_text=words)).to_contain_text("(as published)")
    wood = page.locator(".hb-remarks li", has_text="Black cherry: movement along the rings")
    expect(wood).not_to_contain_text("as published")


def test_a_size_chosen_at_the_last_moment_goes_along(glance: Any, served: str) -> None:
    """Whoever chooses and goes on before a frame is drawn meets the chosen size on the next page, and not the old."""
    page = glance(served + TOPS).page
    expect(page.locator("#own-rays")).to_be_enabled()
    page.evaluate("window.requestAnimationFrame = () => 0")
    page.locator("#own-rays").select_option("12")
    assert "sizes:" not in page.url
    page = turn_to(page, WORKINGS)
    expect(page.locator(".hb-remarks li", has_text="Index wheels")).to_contain_text("(as published)")


def test_the_marks_are_printed_and_so_are_the_sizes_and_what_stops_them(glance: Any, served: str) -> None:
    page = glance(served + LANTERN).page
    put(page, ball="2 in", tenon="1 in")
    told = " ".join(" ".join(page_texts(page.pdf(format="Letter"))).split())
    assert "Worked out for: Diameter of the ball 2 in (51 mm)" in told
    assert "Stop The ball from a cylinder: a tenon 1 in" in told
    told = " ".join(" ".join(page_texts(turn_to(page, LATHE).pdf(format="Letter"))).split())
    assert told.count(MARK) > 20
    assert "Your sizes: Diameter of the ball 2 in (51 mm)" in told


@pytest.mark.parametrize("kind", ["sheet", "cut"])
def test_a_paper_at_own_sizes_says_what_stops_them_and_what_is_not_checked(glance: Any, served: str, kind: str) -> None:
    page = glance(served + LANTERN).page
    put(page, ball="2 in", tenon="1 in")
    told = " ".join(" ".join(page_texts(printed(page, kind))).split())
    assert "Worked out for: Diameter of the ball 2 in (51 mm)" in told
    assert "Stop The ball from a cylinder: a tenon 1 in" in told
    assert "strength checks are not worked out for your sizes" in told
    assert told.index("Stop ") < told.index("strength checks are not worked out")


@pytest.mark.parametrize("kind", ["sheet", "cut"])
def test_a_paper_at_the_sizes_as_written_says_nothing_of_others(glance: Any, served: str, kind: str) -> None:
    page = glance(served + LANTERN).page
    told = " ".join(page_texts(printed(page, kind)))
    assert "at your sizes" not in told


def test_a_remedy_has_its_numbers_in_it(glance: Any, served: str) -> None:
    page = glance(served + LANTERN).page
    put(page, tenon="1 in")
    assert any("What to do: make the tenon 15/16 in (24 mm) across or less" in one for one in found(page))
    assert "{" not in page.locator("article").inner_text()


def test_a_stop_is_said_first_and_by_its_word(glance: Any, served: str) -> None:
    page = glance(served + LANTERN).page
    put(page, ball="2 in")
    expect(state(page)).to_have_text("Stop: It cannot be made or held at these sizes. Here is why:")
    assert found(page)[0].startswith("Stop ")
    assert found(page)[1].startswith("Note ")
    # A bad entry elsewhere does not hide it.
    put(page, bore="1//2")
    expect(state(page)).to_have_text(re.compile(r"^Stop: .* at these sizes. .* The numbers still go by 3/4.in"))


@pytest.mark.parametrize(("ball", "rest"), [("3 in", "−1/4 in"), ("2 3/4 in", "−3/32 in")])
def test_where_the_authors_own_rule_fails_it_is_said_before_what_follows_from_it(
    glance: Any, served: str, ball: str, rest: str
) -> None:
    page = glance(served + LANTERN).page
    put(page, ball=ball)
    first, second, *_ = found(page)
    assert first.startswith("Stop The rims must rest on the ends of the ribs")
    assert f"“How far the rims rest on the end of each rib” is {rest}; it must be at least 1/8 in." in first
    assert first.endswith("What to do: Make the rims wider or the ribs thicker.")
    assert second.startswith(f"Stop How far the rims rest on the end of each rib: this is {rest}")
    assert second.endswith("and a length must be more than nought.")
    expect(state(page)).to_have_text(re.compile("^Stop: It cannot be made at these sizes. Here are the 2 reasons:"))


NAMES = re.compile(r"'[a-z_.]+'|[a-z]+_[a-z]+|[a-z]+\.[a-z]+")
"""How a file names things."""


@pytest.mark.parametrize("name", ["lantern", "three-sided-candlestick", "twice-turned-bowl", "lidded-box"])
def test_no_name_of_the_file_is_shown_to_a_reader(glance: Any, served: str, name: str) -> None:
    """Every size in turn far out of its bounds, then all of them at the end of theirs."""
    page = glance(f"{served}projects/{name}{SIZES}").page
    fields = page.locator(".hb-own__sizes input[type=text]").all()
    for each in fields:
        each.fill("700 in")
    until(
        page,
        "[...document.querySelectorAll('.hb-own__wrong')].some(words => words.innerText.includes('its own bounds'))",
    )
    wrong = [text for text in page.locator(".hb-own__wrong").all_inner_texts() if text]
    assert any("is outside its own bounds" in text for text in wrong)
    page.evaluate(
        """(sizes) => {
        for (const end of ['most', 'least']) for (const one of sizes) if (one[end]) {
          const field = document.getElementById('own-' + one.name); if (field.tagName === 'SELECT') continue;
          field.value = one[end] + ' mm'; field.dispatchEvent(new Event('input', {bubbles: true})); } }""",
        known_sizes(name),
    )
    page.wait_for_timeout(500)
    for text in (*wrong, *found(page)):
        assert not NAMES.search(text), text


def test_a_broken_rule_is_told_in_the_words_of_the_dimensions(glance: Any, served: str) -> None:
    page = glance(served + LANTERN).page
    put(page, window_bit="3/8 in")
    first = found(page)[0]
    assert "“Wood between neighboring holes at the wall of the bore” of “Windows between the ribs” is " in first
    assert "; it must be at least 1/8 in." in first


@pytest.mark.parametrize("text", ["big", "3 minutes", "20 deg", "2 rpm", "1 fathom"])
def test_for_a_length_lengths_are_offered(glance: Any, served: str, text: str) -> None:
    page = glance(served + LANTERN).page
    put(page, ball=text)
    said = page.locator("#own-ball-wrong").inner_text().replace("\u00a0", " ")
    assert said.endswith("Write a length such as 2 1/4 in or 57 mm.")
    assert "rpm or" not in said


def test_nothing_of_the_sites_own_lies_over_what_is_read_on_a_phone(glance: Any, served: str) -> None:
    """Also for a site that asks its theme for a way back to the top."""
    page = glance(served + LANTERN, width=390).page
    assert page.locator(".md-top:visible").count() == 0
    page.evaluate(
        """() => { const one = document.createElement('button'); one.className = 'md-top md-icon';
        one.textContent = 'Back to top'; document.querySelector('main').append(one); }"""
    )
    assert page.locator(".md-top").count() == 1
    assert not page.locator(".md-top").is_visible()
