"""The 3D viewer in a real browser: from a disk and a server, by pointer and by keyboard, and where it cannot be."""

from __future__ import annotations

import io
import itertools
import re
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
import pytest
from axe_playwright_python.sync_playwright import Axe
from numpy.typing import NDArray
from PIL import Image
from playwright.sync_api import Browser, Page, expect

from handouts_build.outputs.scripts import published_script
from tests.browser.host import serving
from tests.browser.solid_page import ASSETS, STEPS, launched, write

Opened = Callable[..., Page]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write(tmp_path_factory.mktemp("solid")).parent


@pytest.fixture(scope="module")
def address(folder: Path) -> Iterator[str]:
    with serving(folder) as host:
        yield f"{host}index.html"


@pytest.fixture
def page(drawing: Browser, folder: Path) -> Iterator[Opened]:
    """Open the page; what the console says against it fails the test."""
    complaints: list[str] = []
    contexts = []

    def opened(at: str = "", *, before: str = "", width: int = 900, reduced: bool = False, **more: object) -> Page:
        context = drawing.new_context(
            viewport={"width": width, "height": 1000},
            reduced_motion="reduce" if reduced else "no-preference",
            **more,  # type: ignore[arg-type]
        )
        contexts.append(context)
        made = context.new_page()
        made.on("console", lambda one: complaints.append(one.text) if one.type in {"error", "warning"} else None)
        made.on("pageerror", lambda error: complaints.append(str(error)))
        if before:
            made.add_init_script(before)
        made.goto(at or (folder / "index.html").as_uri())
        return made

    yield opened
    for context in contexts:
        context.close()
    assert complaints == []


def start(page: Page) -> None:
    page.get_by_role("button", name="Turn it in 3D").click()
    expect(page.locator("canvas")).to_be_visible()
    settle(page)


def settle(page: Page) -> None:
    """Three frames on, what was asked for is drawn."""
    page.evaluate(
        "new Promise(done => { let left = 3; (function next() { left-- ? requestAnimationFrame(next) : done(); })(); })"
    )


def shot(page: Page) -> NDArray[np.int64]:
    """The canvas as the eye sees it, without its border and ring of focus."""
    settle(page)
    picture = Image.open(io.BytesIO(page.locator("canvas").screenshot())).convert("RGB")
    return np.asarray(picture).astype(np.int64)[8:-8, 8:-8]


def differs(one: NDArray[np.int64], two: NDArray[np.int64]) -> float:
    """Share of the picture that is another color."""
    return float((np.abs(one - two).max(2) > 30).mean())


def drawn(page: Page) -> float:
    picture = shot(page)
    return float((np.abs(picture - picture[0, 0]).max(2) > 30).mean())


def test_it_draws_the_piece_from_a_disk_with_the_network_off(page: Opened) -> None:
    made = page()
    made.context.set_offline(True)
    start(made)
    assert 0.1 < drawn(made) < 0.7


def test_it_draws_the_piece_from_a_server(page: Opened, address: str) -> None:
    made = page(address)
    start(made)
    assert 0.1 < drawn(made) < 0.7


def test_nothing_is_loaded_before_it_is_asked_for(page: Opened, address: str) -> None:
    made = page()
    asked: list[str] = []
    made.context.on("request", lambda request: asked.append(request.url))
    made.goto(address)
    made.wait_for_load_state("networkidle")
    assert any(one.endswith("solid.js") for one in asked)
    assert not any("ball-solid" in one for one in asked)
    start(made)
    assert sum("ball-solid" in one for one in asked) == 1


def test_a_ball_is_round_and_the_hole_shows_the_ground(page: Opened) -> None:
    made = page()
    start(made)
    for _ in range(2):
        made.keyboard.press("[")
    covered = np.abs((picture := shot(made)) - picture[0, 0]).max(2) > 30
    tall, wide = np.ptp(np.flatnonzero(covered.any(1))), np.ptp(np.flatnonzero(covered.any(0)))
    assert tall == pytest.approx(wide, rel=0.01)
    assert covered.sum() == pytest.approx(np.pi * tall * wide / 4, rel=0.02)
    # Straight along the bore: the first view looks from 0.42 : −1 : 0.46, so turn until the axis points to the eye.
    made.keyboard.press("]")
    for _ in range(7):
        made.keyboard.press("ArrowLeft")
    for _ in range(3):
        made.keyboard.press("ArrowUp")
    covered = np.abs((picture := shot(made)) - picture[0, 0]).max(2) > 30
    assert not covered[picture.shape[0] // 2, picture.shape[1] // 2]


@pytest.mark.parametrize("key", ["ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown", "+", "-"])
def test_keys_turn_and_zoom_it_and_home_brings_it_back(page: Opened, key: str) -> None:
    made = page()
    start(made)
    first = shot(made)
    made.keyboard.press(key)
    assert differs(first, shot(made)) > 0.001
    made.keyboard.press("Home")
    assert differs(first, shot(made)) == 0


@pytest.mark.parametrize(
    "name", ["Turn to the left", "Turn to the right", "Tilt up", "Tilt down", "Zoom in", "Zoom out"]
)
def test_buttons_do_what_dragging_does(page: Opened, name: str) -> None:
    made = page()
    start(made)
    first = shot(made)
    made.get_by_role("button", name=name, exact=True).click()
    assert differs(first, shot(made)) > 0.001
    made.get_by_role("button", name="First view").click()
    assert differs(first, shot(made)) == 0


def test_dragging_turns_it_and_the_wheel_zooms_once_it_has_the_focus(page: Opened) -> None:
    made = page()
    start(made)
    first = shot(made)
    made.mouse.move(300, 300)
    made.mouse.down()
    made.mouse.move(400, 320, steps=4)
    made.mouse.up()
    turned = shot(made)
    assert differs(first, turned) > 0.01
    made.mouse.wheel(0, -300)
    assert differs(turned, shot(made)) > 0.02
    made.get_by_role("button", name="Next step").focus()
    still = shot(made)
    made.mouse.move(300, 300)
    made.mouse.wheel(0, 40)
    assert differs(still, shot(made)) == 0, "the page scrolls, the piece stays"


def test_steps_change_the_picture_and_are_named(page: Opened) -> None:
    made = page()
    start(made)
    says = made.locator("[aria-live=polite]")
    expect(says).to_have_text(f"Step 5 of 5: {STEPS[4]}")
    finished = shot(made)
    made.get_by_role("button", name="Previous step").click()
    pictures = [shot(made)]
    assert differs(finished, pictures[0]) == 0, "finishing cuts nothing"
    for number in (3, 2, 1):
        made.get_by_role("button", name="Previous step").click()
        expect(says).to_have_text(f"Step {number} of 5: {STEPS[number - 1]}")
        assert STEPS[number - 1] in str(made.locator("canvas").get_attribute("aria-label"))
        pictures.append(shot(made))
    assert all(differs(one, two) > 0.005 for one, two in itertools.pairwise(pictures))
    expect(made.get_by_role("button", name="Previous step")).to_have_attribute("aria-disabled", "true")
    made.get_by_role("button", name="Previous step").press("Enter")
    expect(says).to_have_text(f"Step 1 of 5: {STEPS[0]}")
    made.locator("canvas").focus()
    for key in ("PageDown", "]"):
        made.keyboard.press(key)
    expect(says).to_have_text(f"Step 3 of 5: {STEPS[2]}")
    assert differs(shot(made), pictures[1]) == 0


def test_what_a_step_takes_away_can_be_shown(page: Opened) -> None:
    made = page()
    start(made)
    for _ in range(2):
        made.keyboard.press("[")
    without = shot(made)
    made.get_by_label("Show what this step takes away").check()
    shown = shot(made)
    assert differs(without, shown) > 0.02
    green = (shown[:, :, 1] > shown[:, :, 0] + 12) & (without[:, :, 1] <= without[:, :, 0] + 12)
    assert green.mean() > 0.01, "in the accent"


def test_it_follows_the_page_from_light_to_dark(page: Opened) -> None:
    made = page()
    start(made)
    light = shot(made)
    made.evaluate("document.body.setAttribute('data-hb-scheme', 'dark')")
    dark = shot(made)
    middle = (slice(None), slice(light.shape[1] // 3, light.shape[1] // 3 * 2))
    assert light[middle].mean() > dark[middle].mean() + 60


def test_nothing_moves_by_itself(page: Opened) -> None:
    for reduced in (False, True):
        made = page(reduced=reduced)
        start(made)
        first = shot(made)
        made.wait_for_timeout(400)
        assert differs(first, shot(made)) == 0


def test_the_keyboard_alone_reaches_everything_and_sees_where_it_is(page: Opened) -> None:
    made = page()
    made.keyboard.press("Tab")
    made.keyboard.press("Enter")
    expect(made.locator("canvas")).to_be_focused()
    reached = []
    for _ in range(12):
        made.keyboard.press("Tab")
        ring = made.evaluate(
            "(() => { const s = getComputedStyle(document.activeElement); return s.outlineStyle + s.outlineWidth; })()"
        )
        if made.evaluate("document.activeElement === document.body"):
            break
        assert ring == "solid3px"
        reached.append(
            made.evaluate(
                "(one => one.getAttribute('aria-label') || one.textContent || one.type)(document.activeElement)"
            )
        )
    assert reached[:3] == ["Previous step", "Next step", "checkbox"]
    assert reached[-1] == "Back to the still"
    made.get_by_role("button", name="Back to the still").press("Enter")
    expect(made.get_by_role("button", name="Turn it in 3D")).to_be_focused()
    expect(made.get_by_role("img", name="A ball with a hole through it.")).to_be_visible()
    made.keyboard.press("Enter")
    expect(made.locator("canvas")).to_be_focused()
    assert 0.1 < drawn(made) < 0.7


def test_a_lost_picture_comes_back(page: Opened) -> None:
    made = page()
    start(made)
    first = shot(made)
    made.evaluate(
        "gone = document.querySelector('canvas').getContext('webgl').getExtension('WEBGL_lose_context');"
        "gone.loseContext()"
    )
    expect(made.get_by_role("status")).to_have_text(re.compile("lost"))
    made.evaluate("gone.restoreContext()")
    expect(made.get_by_role("status")).to_have_text("")
    assert differs(first, shot(made)) < 0.001


@pytest.mark.parametrize(
    "before",
    [
        "HTMLCanvasElement.prototype.getContext = () => null",
        "delete window.DecompressionStream",
    ],
)
def test_where_it_cannot_be_drawn_the_still_stays_and_the_page_says_so(page: Opened, before: str) -> None:
    made = page(before=before)
    made.get_by_role("button", name="Turn it in 3D").click()
    expect(made.get_by_role("status")).to_have_text("3D cannot be shown here. The still picture stays.")
    expect(made.get_by_role("img", name="A ball with a hole through it.")).to_be_visible()
    expect(made.locator("canvas")).to_have_count(0)


def test_where_the_browser_has_no_webgl_the_still_stays(browser: Browser, folder: Path) -> None:
    made = launched(browser, "--disable-gpu", "--disable-3d-apis")
    try:
        bare = made.new_page()
        bare.goto((folder / "index.html").as_uri())
        bare.get_by_role("button", name="Turn it in 3D").click()
        expect(bare.get_by_role("status")).to_have_text("3D cannot be shown here. The still picture stays.")
        expect(bare.get_by_role("img", name="A ball with a hole through it.")).to_be_visible()
    finally:
        made.close()


def test_on_paper_the_still_stands_alone(page: Opened) -> None:
    made = page()
    start(made)
    made.emulate_media(media="print")
    expect(made.get_by_role("img", name="A ball with a hole through it.")).to_be_visible()
    expect(made.locator("canvas")).to_be_hidden()
    expect(made.get_by_role("button")).to_have_count(0)


def test_without_scripts_there_is_the_still_and_no_dead_button(page: Opened) -> None:
    made = page(java_script_enabled=False)
    expect(made.get_by_role("img", name="A ball with a hole through it.")).to_be_visible()
    expect(made.get_by_role("button")).to_have_count(0)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [320, 900])
def test_axe_finds_nothing(page: Opened, scheme: str, width: int) -> None:
    made = page(width=width)
    made.evaluate(f"document.body.setAttribute('data-hb-scheme', '{scheme}')")
    start(made)
    # Without preload: axe would fetch the style sheet, which the page's policy forbids.
    rules = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
    found = Axe().run(made, options={"runOnly": rules, "preload": False})
    assert [(one["id"], [node["target"] for node in one["nodes"]]) for one in found.response["violations"]] == []
    assert made.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_the_viewer_is_small_and_evaluates_no_text() -> None:
    script = published_script((ASSETS / "js" / "solid.js").read_text(encoding="utf-8"))
    assert len(script.encode()) < 24 * 1024
    assert not re.search(r"\beval\b|new Function|\bimport\b|\bfetch\b|XMLHttpRequest|innerHTML|\.on[a-z]+ ?=", script)
