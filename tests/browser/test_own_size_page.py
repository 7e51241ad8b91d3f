"""The own-size panel as a reader uses it: typing, units, addresses, bad entries, from a host and from a disk."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any
from urllib.parse import quote

import pytest
from playwright.sync_api import Browser, Page, expect

from handouts_build.quantities import read_quantity
from handouts_build.sheet import Sheet
from tests.browser.own_size_cases import INCH, KEEPS_NOTHING, METRIC, PROJECTS, ROOT, Case, Piece

SIZES, LATHE, WORKINGS, FIRST = "/sizes.html", "/at-the-lathe.html", "/workings.html", ".html"
"""How the addresses of a piece's pages end."""

LANTERN = f"projects/lantern{SIZES}"
PIECE = Piece(ROOT / "projects" / "lantern.yml")


def at(lead: str = "in", **sizes: str) -> Sheet:
    """The lantern at other sizes, as the library has it."""
    typed = {name: float(read_quantity(text).magnitude) for name, text in sizes.items()}
    return PIECE.sheet(Case(typed, lead, INCH[2], METRIC[1]))


def cells(page: Page) -> list[list[str]]:
    """The rows of the dimensions table that belong to a formula: the two columns."""
    rows = page.locator(".hb-dimensions").first.locator("tr:has([data-of])")
    found: list[list[str]] = rows.evaluate_all(
        "all => all.map(row => [...row.querySelectorAll('[data-of]')].map(one => one.textContent))"
    )
    return [[text.replace("\u00a0", " ") for text in row] for row in found]


def of_sheet(sheet: Sheet) -> list[list[str]]:
    """The same from the library."""
    sizes = [[one.printed.lead, one.printed.other] for one in sheet.sizes]
    main = [[one.printed.lead, one.printed.other] for one in sheet.dimensions if one.main]
    return [[text.replace("\u00a0", " ") for text in row] for row in (*sizes, *main)]


def put(page: Page, **sizes: str) -> None:
    for name, text in sizes.items():
        page.locator(f"#own-{name}").fill(text)
    settle(page)


def settle(page: Page) -> None:
    page.evaluate("new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")


def turn_to(page: Page, ending: str) -> Page:
    """Another page of the piece, which goes by the sizes that were typed on the first."""
    home = re.sub(r"(/sizes|/at-the-lathe|/workings)?\.html.*", "", page.url)
    page.goto(home + ending)
    settle(page)
    return page


@pytest.fixture(params=["http", "file"])
def lantern(request: pytest.FixtureRequest, glance: Any, site: Path, served: str) -> Any:
    """The lantern's page, from a host and from a disk."""
    return glance(served + LANTERN if request.param == "http" else (site / LANTERN).as_uri())


def test_the_dimensions_follow_what_is_typed(lantern: Any) -> None:
    put(lantern.page, ball="2 1/2 in", bore="7/8 in")
    assert cells(lantern.page) == of_sheet(at(ball="2 1/2 in", bore="7/8 in"))
    assert len(cells(lantern.page)) > 40
    assert lantern.complaints == []
    assert lantern.asked == []


def test_values_in_steps_blanks_tools_and_workings_follow(glance: Any, served: str) -> None:
    page = glance(served + LANTERN).page
    put(page, ball="2 1/2 in", window_bit="5/16 in", bore="1 in")
    sheet = at(ball="2 1/2 in", window_bit="5/16 in", bore="1 in")
    setback = next(one for one in sheet.dimensions if one.name == "octagon.setback")
    words = turn_to(page, LATHE).locator(".hb-step__words").nth(1).text_content()
    assert f"measure {setback.printed}".replace("\u00a0", " ") in words.replace("\u00a0", " ")
    number = page.locator("[data-hb-step='2'] .hb-numbers__lead").first
    assert number.text_content() == setback.printed.lead
    turn_to(page, FIRST)
    assert "bit for the windows, 5/16 in (7.94 mm)" in page.locator(".hb-need").first.inner_text().replace(
        "\u00a0", " "
    )
    blank = sheet.parts[0].blank.sides[0][2]
    assert str(blank).replace("\u00a0", " ") in page.locator(".hb-wood").inner_text().replace("\u00a0", " ")
    working = turn_to(page, WORKINGS).locator("[data-working='octagon.setback']")
    told = working.inner_text().replace("\u00a0", " ")
    for text in (setback.working.formula, setback.working.numbers, setback.working.result, setback.working.rounding):
        assert text.replace("\u00a0", " ") in told


def test_what_does_not_follow_says_so(glance: Any, served: str) -> None:
    page = glance(served + LANTERN).page
    drawn = "Drawn as published, not at your sizes."
    assert turn_to(page, LATHE).get_by_text(drawn).count() == 0
    put(turn_to(page, SIZES), bore="7/8 in")
    assert turn_to(page, LATHE).get_by_text(drawn).count() > 3
    turn_to(page, SIZES)
    near = page.locator("[data-own-near]")
    expect(near).to_contain_text("The nearest fully checked size is the published one.")
    put(page, ball="2 15/16 in", groove="7/16 in", tenon="1 in")
    expect(near).to_contain_text("The nearest fully checked size is “Large, from a 3 in blank”.")
    thin = "Step 9, The other grooves, then all to depth: Thin on purpose: 0.104 in"
    expect(near).to_contain_text(f"It has no warnings. What its author accepts there: {thin}")
    page.get_by_role("button", name="Large, from a 3 in blank").click()
    settle(page)
    expect(near).to_contain_text("These are the sizes of “Large, from a 3 in blank”, which are fully checked.")
    page.get_by_role("button", name="As published").click()
    settle(page)
    assert turn_to(page, LATHE).get_by_text(drawn).count() == 0


def test_what_was_found_at_the_nearest_ready_size_is_told(glance: Any, served: str) -> None:
    page = glance(served + "projects/ferrule-handle" + SIZES).page
    page.get_by_role("button", name="Long, for a gouge with a shank of 5/8 in").click()
    settle(page)
    expect(page.locator("[data-own-near]")).to_contain_text("It has warnings: Step 2, Rough to a cylinder: ")


def of_stations(sheet: Sheet, name: str) -> list[list[str]]:
    """The places on a profile from the library."""
    shape = sheet.group(name).shape
    assert shape is not None
    rows = [[one.what, str(one.at_printed), str(one.printed)] for one in shape.stations]
    return [[text.replace("\u00a0", " ") for text in row] for row in rows]


def stations(page: Page, name: str) -> list[list[str]]:
    """The same from the page."""
    found: list[list[str]] = page.locator(f"[data-stations={name}] tbody tr").evaluate_all(
        "all => all.map(row => [...row.children].map(one => one.textContent.replaceAll('\\u00a0', ' ')))"
    )
    return found


def test_profiles_follow_with_their_stations_wood_and_neck(glance: Any, served: str) -> None:
    """Also where two places grow together or apart: rows come and go as on paper."""
    page = glance(served + LANTERN).page
    assert stations(turn_to(page, WORKINGS), "drop_shape") == of_stations(PIECE.sheet(), "drop_shape")
    for sizes in ({"bore": "7/8 in", "rim": "1 3/4 in"}, {"bore": "1 in", "rim": "1 1/4 in"}):
        put(turn_to(page, SIZES), **sizes)
        turn_to(page, WORKINGS)
        sheet = at(**sizes)
        for name in ("drop_shape", "cap_shape"):
            assert stations(page, name) == of_stations(sheet, name)
        for name in ("volume", "surface", "balance", "slenderness", "neck_at"):
            one = next(row for row in sheet.dimensions if row.name == f"drop_shape.{name}")
            told = page.locator(f"[data-working='{one.name}']").text_content().replace("\u00a0", " ")
            assert one.working.result.replace("\u00a0", " ") in told
    turn_to(page, SIZES).get_by_label("Millimeters").check()
    settle(page)
    metric = of_stations(at("mm", bore="1 in", rim="1 1/4 in"), "drop_shape")
    assert stations(turn_to(page, WORKINGS), "drop_shape") == metric
    put(turn_to(page, SIZES), bore="1//2")
    assert len(stations(turn_to(page, WORKINGS), "drop_shape")) > 10


def test_a_ready_size_fills_the_fields_and_gives_what_its_own_table_says(glance: Any, served: str) -> None:
    page = glance(served + LANTERN).page
    page.get_by_role("button", name="Large, from a 3 in blank").click()
    settle(page)
    ready = PIECE.ready("lantern-large")
    assert page.locator("#own-ball").input_value() == "3 in"
    assert cells(page) == of_sheet(ready)
    table = page.locator("details.hb-ready").first
    table.evaluate("one => { one.open = true }")
    shown = table.locator("td").all_inner_texts()
    assert [text.replace("\u00a0", " ") for text in shown] == [text for row in of_sheet(ready) for text in row]


def test_a_condition_of_the_authors_is_checked_while_one_types(glance: Any, served: str) -> None:
    page = glance(served + LANTERN).page
    written = turn_to(page, FIRST).locator("[data-judged]").count()
    turn_to(page, SIZES)
    findings = page.locator("[data-own-findings] li")
    assert findings.count() == 0
    put(page, window_bit="3/8 in")
    expect(findings.first).to_contain_text("Stop The wood between two windows must not crumble")
    expect(findings.first).to_contain_text("What to do: Choose a smaller bit for the windows")
    expect(page.locator("[data-own-state]")).to_contain_text("Stop: It cannot be made or held at these sizes")
    # The piece's first page says it too, and so does every page that shows whose numbers these are.
    expect(turn_to(page, FIRST).locator("[data-judged]").first).to_contain_text("must not crumble")
    expect(page.locator(".hb-whose")).to_contain_text("Stop: it cannot be made or held at them.")
    put(turn_to(page, SIZES), window_bit="1/4 in")
    assert findings.count() == 0
    assert turn_to(page, FIRST).locator("[data-judged]").count() == written


def test_a_safety_box_that_other_sizes_call_for_is_shown(glance: Any, served: str) -> None:
    """A hole of more than five diameters is deep: the rule is a table's, the numbers are the page's."""
    page = glance(served + "projects/ferrule-handle" + SIZES).page
    assert page.get_by_text("Deep hole").count() == 0
    put(page, socket="2 3/4 in")
    found = page.locator("[data-own-findings] li.hb-box--caution")
    expect(found).to_contain_text("Caution Deep hole: Packed chips jam and heat the bit")
    put(page, socket="2 1/2 in")
    assert page.get_by_text("Deep hole").count() == 0


def test_sizes_stand_in_the_address_and_come_back_from_it(glance: Any, served: str) -> None:
    piece = Piece(ROOT / "projects" / "spinning-tops.yml")
    page = glance(served + "projects/spinning-tops" + SIZES).page
    put(page, disk="2½ in")
    page.locator("#own-rays").select_option("12")
    settle(page)
    assert page.url.endswith("#sizes:disk=2%C2%BD%20in&rays=12")
    before = cells(page)
    page.reload()
    settle(page)
    assert page.locator("#own-disk").input_value() == "2½ in"
    assert page.locator("#own-rays").input_value() == "12"
    assert cells(page) == before
    page.get_by_role("button", name="As published").click()
    settle(page)
    assert "#" not in page.url
    assert cells(page) == of_sheet(piece.sheet())


def test_a_jump_within_the_page_does_not_lose_the_sizes(glance: Any, served: str) -> None:
    page = glance(served + LANTERN).page
    put(page, ball="2 1/2 in")
    page.evaluate("location.hash = 'to-all'")
    settle(page)
    assert page.url.endswith("#to-all&sizes:ball=2%201%2F2%20in")
    assert page.locator("#to-all").evaluate("one => Math.abs(one.getBoundingClientRect().top)") < 200


def test_sizes_go_along_to_the_other_pages_and_back_even_where_nothing_is_kept(look: Any, served: str) -> None:
    """By links alone: the address carries them where a browser keeps nothing."""
    seen = look(served + LANTERN)
    seen.page.add_init_script(KEEPS_NOTHING)
    seen.page.reload()
    put(seen.page, ball="2 1/2 in")
    seen.page.locator(".hb-kicker a").click()
    settle(seen.page)
    expect(seen.page.locator(".hb-whose")).to_contain_text("Your sizes: Diameter of the ball 2\u00a01/2\u00a0in")
    seen.page.get_by_role("link", name="At the lathe, step by step").click()
    settle(seen.page)
    ball = seen.page.locator("[data-hb-step='1'] [data-of=ball][data-as=lead]")
    expect(ball.first).to_have_text("2\u00a01/2\u00a0in", timeout=20_000)
    expect(seen.page).to_have_url(re.compile(r"at-the-lathe\.html#step-1&sizes:ball=2%201%2F2%20in$"))
    seen.page.get_by_role("button", name="Next").click()
    assert "#step-2&sizes:ball" in seen.page.url
    seen.page.locator(".hb-whose").get_by_role("link", name="Change").click()
    settle(seen.page)
    expect(seen.page.locator("#own-ball")).to_have_value("2 1/2 in", timeout=20_000)
    assert seen.complaints == []


def test_the_way_back_to_the_published_sizes_stands_on_every_page(glance: Any, served: str) -> None:
    page = glance(served + LANTERN).page
    put(page, ball="2 1/2 in")
    whose = turn_to(page, LATHE).locator(".hb-whose")
    expect(whose).to_be_visible()
    whose.get_by_role("button", name="As published").click()
    settle(page)
    expect(whose).to_be_hidden()
    assert "sizes:" not in page.url
    assert turn_to(page, SIZES).locator("#own-ball").input_value() == "2 1/4 in"


def test_a_page_at_the_published_sizes_loads_nothing_to_work_out(glance: Any, served: str) -> None:
    page = glance(f"{served}projects/lantern.html").page
    assert page.locator("script[src$='lantern-own-size.js']").count() == 0


def test_a_thousand_switches_of_the_unit_change_nothing(glance: Any, served: str) -> None:
    page = glance(served + LANTERN).page
    put(page, ball="57.3 mm", groove="0.31 in", rib="7/32 in")
    before, address = cells(page), page.url
    page.evaluate(
        """() => { const form = document.querySelector('form.hb-own'), all = [...form.elements['own-unit']];
        for (let n = 1; n <= 1000; n++) { const one = all[n % 2 ? 1 : 0]; one.checked = true;
          one.dispatchEvent(new Event('input', {bubbles: true})); } }"""
    )
    settle(page)
    assert cells(page) == before
    assert page.url == address
    for name, text in {"ball": "57.3 mm", "groove": "0.31 in", "rib": "7/32 in"}.items():
        assert page.locator(f"#own-{name}").input_value() == text
    page.get_by_label("Millimeters").check()
    settle(page)
    metric = cells(page)
    page.get_by_label("Inches").check()
    settle(page)
    page.get_by_label("Millimeters").check()
    settle(page)
    assert cells(page) == metric


def test_the_unit_once_chosen_holds_on_every_page(lantern: Any) -> None:
    page = lantern.page
    page.get_by_label("Millimeters").check()
    settle(page)
    assert cells(page) == of_sheet(at("mm"))
    assert page.locator(".hb-dimensions thead th").nth(1).inner_text() == "Millimeters"
    page.goto(page.url.replace("lantern", "spinning-tops"))
    settle(page)
    assert page.locator("[data-of=disk][data-as=lead]").first.inner_text().replace("\u00a0", " ") == "44.5 mm"
    page.goto(re.sub(r"projects/.*", "index.html", page.url))
    settle(page)
    assert page.locator("dd[data-of=ball]").first.inner_text().replace("\u00a0", " ") == "57 mm (2 1/4 in)"


def test_the_fineness_of_the_rule_changes_the_marks(glance: Any, served: str) -> None:
    page = glance(served + LANTERN).page
    page.get_by_label("Finest mark on your rule").select_option(label="1/8\u00a0in")
    settle(page)
    sheet = PIECE.sheet(Case({}, "in", INCH[0], METRIC[1]))
    assert cells(page) == of_sheet(sheet)
    page.reload()
    settle(page)
    assert page.get_by_label("Finest mark on your rule").input_value() == "1/8"


BAD = {
    "two": "'two' is not a number with a unit.",
    "1//2": "'1//2' is not a number with a unit.",
    "-2 in": "“Diameter of the ball” is −2 in (−50.8 mm). A length must be more than nought.",
    "99999999 in": "“Diameter of the ball” is longer than 20 m. Is its unit right?",
    "2 1/4": "'2 1/4' has no unit. Write 2 1/4 in; a plain number is whole or has a point: 2.25.",
    "2": "'2' has no unit. Write a length such as 2 1/4 in or 57 mm.",
    "30 deg": "'30 deg' is not a length. Write a length such as 2 1/4 in or 57 mm.",
    "57,5 mm": "'57,5 mm' is not a number with a unit. Write the decimal with a point: 57.5 mm.",
    "4 in": "“Diameter of the ball” is outside its own bounds: most is 3 in.",
    "=A1*2": "'=A1*2' is not a number with a unit.",
    "ball * 2": "'ball * 2' is not a number with a unit.",
    "<img src=x onerror=pwned=1>": "'<img src=x onerror=pwned=1>' is not a number with a unit.",
    "": "'' is not a number with a unit.",
}


@pytest.mark.parametrize("text", BAD)
def test_a_bad_entry_gets_a_plain_message_and_leaves_the_page_as_it_was(glance: Any, served: str, text: str) -> None:
    seen = glance(served + LANTERN)
    put(seen.page, ball="2 1/2 in")
    before = cells(seen.page)
    put(seen.page, ball=text)
    wrong = seen.page.locator("#own-ball-wrong")
    assert wrong.inner_text().replace("\u00a0", " ").startswith(BAD[text])
    assert seen.page.locator("#own-ball").get_attribute("aria-invalid") == "true"
    assert cells(seen.page) == before
    assert "ball" not in seen.page.url.partition("#")[2]
    expect(seen.page.locator("[data-own-state]")).to_contain_text("The numbers still go by 2 1/2 in (63.5 mm)")
    assert seen.page.evaluate("window.pwned") is None
    put(seen.page, ball="2 1/4 in")
    assert wrong.inner_text() == ""
    assert seen.complaints == []


ADDRESSES = [
    "ball=" + quote("<img src=x onerror=window.pwned=1>"),
    "ball=<img src=x onerror=window.pwned=1>",
    "ball=" + quote("');window.pwned=1;('"),
    "ball=%E0%A4%A",
    "ball=%",
    "__proto__=1&constructor=2&toString=3",
    "ball=javascript:window.pwned=1",
    "ball=" + "9" * 5000,
    "&&&=&==&ball",
    "ribs=" + quote("<script>window.pwned=1</script>"),
    "ribs=7",
    "nothing=2%20in&ball=2.5%20in",
    "ball=2.5%20in&ball=%00",
]


@pytest.mark.parametrize("address", ADDRESSES, ids=range(len(ADDRESSES)))
def test_a_crafted_address_is_text_and_nothing_else(glance: Any, site: Path, served: str, address: str) -> None:
    for home in (served + LANTERN, (site / LANTERN).as_uri()):
        seen = glance(f"{home}#sizes:{address}")
        settle(seen.page)
        assert seen.page.evaluate("window.pwned") is None
        assert seen.page.evaluate("({}).polluted") is None
        assert seen.page.locator("h1").inner_text().startswith("Ribbed lantern")
        assert len(cells(seen.page)) == len(of_sheet(PIECE.sheet()))
        assert seen.page.locator(".hb-own img, .hb-own script").count() == 0
        assert seen.complaints == []


def test_an_address_that_says_more_than_the_piece_has_is_told_of(glance: Any, served: str) -> None:
    page = glance(served + LANTERN + "#sizes:nothing=2%20in&ball=2.5%20in").page
    expect(page.locator("[data-own-address]")).to_have_text(re.compile("names no size of this piece"))
    assert page.locator("#own-ball").input_value() == "2.5 in"
    assert cells(page)[0] == ["2 1/2 in", "63.5 mm"]


def test_without_a_script_everything_computed_is_there(browser: Browser, site: Path) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((site / LANTERN).as_uri())
    assert page.locator("form.hb-own > fieldset").get_attribute("disabled") is not None
    assert page.locator("#own-ball").is_disabled()
    assert page.locator("#own-ball").input_value() == "2 1/4 in"
    assert "hold for the published sizes and for the ready sizes" in page.locator("form.hb-own noscript").inner_text()
    main = page.locator(".hb-dimensions").first.locator("td").all_inner_texts()
    assert [text.replace("\u00a0", " ") for text in main] == [text for row in of_sheet(PIECE.sheet()) for text in row]
    assert page.locator("details.hb-ready").count() == 2
    context.close()


def test_the_panel_works_under_a_strict_content_security_policy(browser: Browser, served: str) -> None:
    context = browser.new_context()
    page = context.new_page()

    def strict(route: Any) -> None:
        answer = route.fetch()
        route.fulfill(response=answer, headers={**answer.headers, "content-security-policy": "script-src 'self'"})

    context.route("**/*.html", strict)
    page.goto(served + LANTERN)
    put(page, ball="2 1/2 in")
    assert cells(page)[0] == ["2 1/2 in", "63.5 mm"]
    context.close()


def test_every_project_has_a_panel_that_says_what_the_library_says(glance: Any, served: str) -> None:
    for path in PROJECTS:
        page = glance(f"{served}projects/{path.stem}{SIZES}").page
        page.get_by_label("Millimeters").check()
        page.get_by_label("Inches").check()
        settle(page)
        assert cells(page) == of_sheet(Piece(path).sheet()), path.stem
