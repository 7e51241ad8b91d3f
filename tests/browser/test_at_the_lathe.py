"""The page at the lathe: one step fills the screen, in letters to be read from there, moved by what is at hand."""

from __future__ import annotations

from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from tests.browser.own_size_cases import KEEPS_NOTHING
from tests.browser.test_site import LATHES, OPTIONS
from tests.browser.waiting import until

LANTERN = "projects/lantern/at-the-lathe.html"


def number(page: Page) -> int:
    """Which step stands on the screen, if it is one."""
    shown = page.locator("[data-hb-step]:visible")
    assert shown.count() == 1
    return int(shown.get_attribute("data-hb-step") or 0)


SCREENS = ((390, 844, 24), (320, 640, 24), (820, 1180, 40), (1440, 900, 40))
"""Width and height of a phone, a small one, a tablet and a window, and how large a number is there at least, in px."""

NUMBERS = """async () => {
  const steps = [...document.querySelectorAll('[data-hb-step]')], told = [];
  for (const step of steps) {
    location.hash = 'step-' + step.dataset.hbStep;
    await new Promise(done => setTimeout(done, 30));
    for (const lead of step.querySelectorAll('.hb-numbers__lead')) {
      const box = lead.getBoundingClientRect();
      told.push([step.dataset.hbStep, parseFloat(getComputedStyle(lead).fontSize), box.bottom + scrollY,
        lead.scrollWidth <= lead.parentElement.parentElement.clientWidth, box.height > 0]);
    }
  }
  return told;
}"""


@pytest.mark.parametrize("path", LATHES)
def test_the_numbers_of_every_step_can_be_read_from_the_lathe_and_stand_on_its_first_screens(
    glance: Any, served: str, path: str
) -> None:
    """24 px on a phone and 40 px on a tablet, from twice arm's length: common practice, no published source."""
    page = glance(served + path, width=SCREENS[0][0]).page
    for width, height, least in SCREENS:
        page.set_viewport_size({"width": width, "height": height})
        found = page.evaluate(NUMBERS)
        assert len(found) > 5
        for step, size, bottom, fits, seen in found:
            assert seen, (width, step)
            assert size >= least, (width, step)
            assert fits, (width, step)
            # The numbers stand above the buttons on the first screen; on the smallest phone on the second.
            assert bottom <= (height if width >= 390 else 2 * height), (width, step)
        assert page.evaluate("document.documentElement.scrollWidth") <= width, width


@pytest.mark.parametrize("path", LATHES)
def test_every_step_has_hold_speed_and_one_open_caution_and_the_buttons_are_large(
    glance: Any, served: str, path: str
) -> None:
    page = glance(served + path, width=390).page
    for step in page.locator("[data-hb-step]").all():
        assert step.locator(".hb-numbers__speed").count() <= 1
        assert step.locator(".hb-step__care > .hb-box").count() <= 1
        assert step.locator("details.hb-more[open]").count() == 0
    for button in page.locator(".hb-lathe__bar button").all():
        box = button.bounding_box()
        assert box is not None
        assert min(box["width"], box["height"]) >= 48
    assert page.locator(".hb-done label:visible").bounding_box()["height"] >= 44


def test_buttons_keys_and_fragments_lead_from_step_to_step(glance: Any, served: str) -> None:
    seen = glance(served + LANTERN, width=390)
    page = seen.page
    assert number(page) == 1
    back, onward = (page.get_by_role("button", name=name, exact=True) for name in ("Back", "Next"))
    expect(back).to_be_disabled()
    onward.click()
    assert number(page) == 2
    assert page.url.endswith("#step-2")
    expect(page.locator(".hb-lathe__place")).to_have_text("Step 2 of 14")
    page.keyboard.press("ArrowRight")
    assert number(page) == 3
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("ArrowLeft")
    assert number(page) == 1
    page.evaluate("location.hash = 'step-7'")
    until(page, "document.querySelector('.hb-lathe__place').textContent.includes('Step 7')")
    assert number(page) == 7
    # A heading's own name, as the list beside the page and the search have it.
    page.evaluate("location.hash = document.querySelectorAll('h2')[13].id")
    until(page, "document.querySelector('.hb-lathe__place').textContent.includes('Step 14')")
    expect(onward).to_be_disabled()
    assert seen.complaints == []


def test_a_swipe_leads_on_and_back_and_a_scroll_does_not(browser: Browser, served: str) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    page = context.new_page()
    page.goto(served + LANTERN)
    page.wait_for_selector(".hb-lathe__place")
    session = context.new_cdp_session(page)

    def swipe(x: int, y: int) -> None:
        points = [(195 + x * part / 8, 400 + y * part / 8) for part in range(9)]
        for kind, (left, top) in zip(["touchStart", *["touchMove"] * 8], points, strict=True):
            session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [{"x": left, "y": top}]})
        session.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})

    place = page.locator(".hb-lathe__place")
    swipe(-150, 10)
    expect(place).to_contain_text("Step 2")
    assert number(page) == 2
    swipe(150, -10)
    expect(place).to_contain_text("Step 1")
    swipe(-60, -200)
    page.wait_for_timeout(100)
    assert number(page) == 1
    context.close()


def test_what_is_done_and_where_one_was_is_remembered_also_from_a_disk(look: Any, site: Any) -> None:
    page = look((site / LANTERN).as_uri()).page
    page.evaluate("location.hash = 'step-5'")
    until(page, "document.querySelector('.hb-lathe__place').textContent.includes('Step 5')")
    page.get_by_label("Step 5 is done").check()
    page.goto((site / "projects" / "lantern.html").as_uri())
    page.get_by_role("link", name="At the lathe, step by step").click()
    page.wait_for_selector(".hb-lathe__place")
    assert number(page) == 5
    expect(page.get_by_label("Step 5 is done")).to_be_checked()
    page.locator(".hb-lathe__list summary").click()
    expect(page.get_by_role("link", name="Bore along the axis, done")).to_be_visible()
    page.get_by_role("link", name="Round the ball").first.click()
    assert number(page) == 4
    expect(page.get_by_label("Step 4 is done")).not_to_be_checked()


def test_all_steps_at_once_and_back_to_one(glance: Any, served: str) -> None:
    page = glance(served + LANTERN + "#step-3").page
    page.locator(".hb-lathe__list summary").click()
    page.get_by_role("button", name="All steps").click()
    assert page.locator("[data-hb-step]:visible").count() == 14
    page.locator(".hb-lathe__list summary").click()
    page.get_by_role("button", name="One step at a time").click()
    assert number(page) == 3


def test_without_a_script_the_page_is_all_its_steps(browser: Browser, site: Any) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((site / LANTERN).as_uri())
    assert page.locator("[data-hb-step]:visible").count() == 14
    assert page.locator("nav.hb-lathe__steps a").count() == 15
    assert page.locator(".hb-done:visible").count() == 0
    context.close()


def test_a_browser_that_keeps_nothing_and_one_that_refuses_to_stay_awake_do_no_harm(look: Any, served: str) -> None:
    seen = look(served + "about.html")
    seen.page.add_init_script(
        KEEPS_NOTHING
        + "Object.defineProperty(navigator, 'wakeLock', { value: { request: () => Promise.reject(new Error('no')) } });"
    )
    seen.page.goto(served + LANTERN)
    seen.page.get_by_role("button", name="Next", exact=True).click()
    seen.page.get_by_label("Step 2 is done").check()
    assert number(seen.page) == 2
    assert seen.complaints == []


def test_the_screen_is_asked_to_stay_on_and_asked_again_when_one_comes_back(look: Any, served: str) -> None:
    page = look(served + "about.html").page
    page.add_init_script(
        "window.asked = []; Object.defineProperty(navigator, 'wakeLock', { value: { request: (kind) => {"
        " window.asked.push(kind); return Promise.resolve({}); } } });"
    )
    page.goto(served + LANTERN)
    assert page.evaluate("window.asked") == ["screen"]
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    assert page.evaluate("window.asked") == ["screen", "screen"]


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_in_the_list_and_in_all_steps_at_once(glance: Any, served: str, scheme: str) -> None:
    page = glance(served + LANTERN, width=390, scheme=scheme).page
    page.locator(".hb-lathe__list summary").click()
    found = Axe().run(page, options=OPTIONS).response["violations"]
    page.get_by_role("button", name="All steps").click()
    page.evaluate("document.querySelectorAll('details').forEach(box => { box.open = true })")
    found += Axe().run(page, options=OPTIONS).response["violations"]
    assert [(rule["id"], [node["html"][:200] for node in rule["nodes"][:3]]) for rule in found] == []


def test_every_number_is_one_tap_from_where_it_comes_from(glance: Any, served: str) -> None:
    page = glance(served + LANTERN + "#step-5").page
    page.get_by_role("link", name="Depth of the bore from the flat end").click()
    page.wait_for_url("**/lantern/workings.html#working-bore_deep")
    expect(page.locator("[id='working-bore_deep']")).to_be_in_viewport()
    page.go_back()
    page.get_by_role("link", name="Hole through the ball along its axis").click()
    page.wait_for_url("**/lantern/sizes.html#own-bore")
    expect(page.locator("#own-bore")).to_be_in_viewport()
