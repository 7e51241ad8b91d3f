"""The bench in a real browser: a save is seen, a broken file keeps the last picture; keys, colors, no other host."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, Route

from handouts_build.bench.serving import BenchServer
from handouts_build.bench.watcher import Watcher
from handouts_build.site.gathering import project_files
from tests.browser.waiting import until

TUBE = """\
title: Tube
summary: A thin tube.
sizes:
  across: {is: 2 in, says: Outside}
parts:
  tube:
    wood: walnut, black
    blank: {round: 2 1/4 in, long: 4 in}
    steps:
      - name: Turn it round
        say: Turn it round.
        hold: {by: [chuck], deep: 1 in}
        cut:
          - cylinder: {diameter: across, start: 1 1/4 in}
      - name: Bore it
        say: Bore it.
        hold: {by: [chuck], deep: 1 in}
        cut:
          - bore: {diameter: 1 15/16 in, deep: 1 in, end: right}
"""
WORDS = "title: Words\ntext: Nothing but words.\n"


@dataclass
class Bench:
    """A page on the bench, and the file that is written in some editor."""

    page: Page
    file: Path
    elsewhere: list[str] = field(default_factory=list)
    complaints: list[str] = field(default_factory=list)

    def save(self, text: str) -> None:
        """Save the file, and wait until the page shows it."""
        before = int(self.page.evaluate("() => document.body.dataset.number"))
        self.file.write_text(text, encoding="utf-8")
        until(self.page, f"Number(document.body.dataset.number) > {before}")

    def seen(self, stand: str) -> bytes:
        """The picture of a solid."""
        return self.page.locator(f"#{stand}").screenshot()

    def until_not(self, stand: str, picture: bytes) -> None:
        """Look until a solid is seen otherwise."""
        for _ in range(600):
            if self.seen(stand) != picture:
                return
        raise AssertionError("it looks as it did")


@pytest.fixture
def bench(
    drawing: Browser, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, request: pytest.FixtureRequest
) -> Iterator[Bench]:
    """The bench on a folder with spaces in its name, as wide and in the scheme that a test asks for."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    folder = tmp_path / "my own pieces" / "projects"
    folder.mkdir(parents=True)
    (folder / "tube.yml").write_text(TUBE, encoding="utf-8")
    (folder / "words.yml").write_text(WORDS, encoding="utf-8")
    watcher = Watcher(lambda: project_files(folder), base=folder.parent)
    server = BenchServer(watcher)
    threads = [threading.Thread(target=run, daemon=True) for run in (server.serve_forever, watcher.follow)]
    for thread in threads:
        thread.start()
    width, scheme = getattr(request, "param", (1440, "light"))
    context = drawing.new_context(viewport={"width": width, "height": 900}, color_scheme=scheme)
    made = Bench(context.new_page(), folder / "tube.yml")

    def pass_on(route: Route) -> None:
        if route.request.url.startswith(server.address):
            route.continue_()
        else:
            made.elsewhere.append(route.request.url)
            route.abort()

    context.route("**/*", pass_on)
    made.page.on("pageerror", lambda error: made.complaints.append(str(error)))
    made.page.on(
        "console",
        lambda said: (
            made.complaints.append(said.text)
            if said.type in {"error", "warning"} and "GL Driver" not in said.text
            else None
        ),
    )
    made.page.goto(f"{server.address}?project=tube")
    until(made.page, "document.body.dataset.number")
    yield made
    context.close()
    watcher.end()
    server.shutdown()
    server.server_close()
    for thread in threads:
        thread.join(30)
    assert (made.elsewhere, made.complaints) == ([], [])


def test_a_save_is_seen_as_a_new_solid_with_its_new_dimension(bench: Bench) -> None:
    bench.page.keyboard.press("]")
    until(bench.page, 'document.getElementById("step-name").textContent === "2Bore it"')
    until(
        bench.page, 'document.getElementById("dimensions").textContent.includes("1 15/16")'.replace("1 15", "1\u00a015")
    )
    before, after = bench.seen("before"), bench.seen("after")
    bench.save(TUBE.replace("1 15/16 in", "1 in"))
    until(bench.page, 'document.getElementById("dimensions").textContent.includes("(25.5\u00a0mm)")')
    bench.until_not("after", after)
    # Nothing was changed of what the step begins with.
    assert bench.seen("before") == before
    assert bench.page.locator("#state").inner_text() == "1 note"


def test_the_step_that_is_changed_is_shown_and_its_line_is_marked(bench: Bench) -> None:
    bench.save(TUBE.replace("1 15/16 in", "1 1/2 in"))
    until(bench.page, 'document.getElementById("step-name").textContent === "2Bore it"')
    assert bench.page.locator("li[data-changed]").get_attribute("data-line") == "19"
    # A change that belongs to no step leaves the one that is shown.
    bench.save(TUBE.replace("1 15/16 in", "1 1/2 in").replace("is: 2 in", "is: 2 1/8 in"))
    assert bench.page.locator("#step-name").inner_text().endswith("Bore it")
    # Who does not follow stays where they are.
    bench.page.keyboard.press("f")
    bench.save(TUBE.replace("say: Turn it round.", "say: Turn it quite round."))
    assert bench.page.locator("#step-name").inner_text().endswith("Bore it")


def test_a_broken_file_keeps_the_last_picture_grayed_with_the_message(bench: Bench) -> None:
    whole = bench.seen("after")
    bench.save(TUBE.replace("cylinder:", "cylnder:"))
    page = bench.page
    assert page.locator("#stale").inner_text().splitlines()[0].startswith("projects/tube.yml:14:13")
    assert "did you mean 'cylinder'?" in page.locator("#stale").inner_text()
    note = page.locator("#lines > li[data-line='14'] .bench-note")
    assert "'cylnder' is not a key here" in note.inner_text()
    assert "cylinder: {diameter: across" in note.locator("ins").inner_text()
    assert page.locator("#after").evaluate("canvas => getComputedStyle(canvas).filter") == "grayscale(1)"
    assert page.locator("#after").is_visible()
    bench.until_not("after", whole)
    grayed = bench.seen("after")
    bench.save(TUBE)
    assert page.locator("#stale").is_hidden()
    bench.until_not("after", grayed)


def test_a_finding_shows_what_its_remedy_would_change(bench: Bench) -> None:
    bench.page.keyboard.press("]")
    until(bench.page, 'document.querySelector("#found ins")')
    assert bench.page.locator("#found .bench-note").get_attribute("data-level") == "mind"
    assert "accept: {thin web:" in bench.page.locator("#found ins").inner_text()
    assert bench.page.locator("#steps button[data-level]").inner_text() == "2"


def test_two_quick_presses_go_two_steps(bench: Bench) -> None:
    """There and back before the first is answered: the second goes from what was asked for."""
    keys = 'for (const key of ["]", "["]) document.dispatchEvent(new KeyboardEvent("keydown", { key }))'
    with bench.page.expect_response(lambda answer: "step=1&" in answer.url):
        bench.page.evaluate(keys)
    until(bench.page, 'document.querySelector("#steps [aria-current]").textContent === "1"')


def test_keys_walk_turn_find_and_change_the_colors(bench: Bench) -> None:
    page = bench.page
    page.keyboard.press("PageDown")
    until(page, 'document.querySelector("#steps [aria-current]").textContent === "2"')
    page.keyboard.press("[")
    until(page, 'document.querySelector("#steps [aria-current]").textContent === "1"')
    still = bench.seen("after")
    page.locator("#after").focus()
    page.keyboard.press("ArrowRight")
    bench.until_not("after", still)
    page.keyboard.press("Home")
    page.keyboard.press("/")
    page.keyboard.type("outs")
    assert page.locator("#names code").all_inner_texts() == ["across"]
    # While one types, letters are letters.
    page.keyboard.type("d")
    assert page.evaluate("() => document.documentElement.dataset.hbScheme") == "system"
    page.keyboard.press("Escape")
    for scheme in ("light", "dark", "system"):
        page.keyboard.press("d")
        assert page.evaluate("() => document.documentElement.dataset.hbScheme") == scheme


def test_a_write_up_of_words_is_chosen_and_shows_its_text(bench: Bench) -> None:
    bench.page.locator("#project").select_option("words")
    until(bench.page, 'document.getElementById("title").textContent === "Words"')
    assert bench.page.locator("#none").inner_text() == "A write-up of words has no steps."
    assert bench.page.locator("#solids").is_hidden()


@pytest.mark.parametrize("bench", [(1440, "light"), (1440, "dark"), (1024, "light"), (1024, "dark")], indirect=True)
def test_it_can_be_read_in_both_schemes_and_at_both_widths(bench: Bench) -> None:
    bench.page.keyboard.press("]")
    until(bench.page, 'document.querySelector("#found ins")')
    assert bench.page.evaluate("() => document.documentElement.scrollWidth <= innerWidth")
    found = Axe().run(bench.page)
    assert not found.response["violations"], found.generate_report()
