"""The stopwatch page alone: notes of any script and sign, and the file beside the terminal's."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from handouts_build.outputs.evening.pages import stopwatch_page
from handouts_build.schema import RunsKeys, load_file
from handouts_build.sheet.stopwatch import LONGEST_NOTE, Leg, Stopwatch, one_line
from tests.browser.test_stopwatch_page import command, exported, go, text
from tests.projects import project, worked

LEGS = (Leg("Rough it", "live", 60, 1), Leg("Break", "break", 300), Leg("Shape it", "talk", 120, 2))
NO_SEGMENTER = "delete Intl.Segmenter"

Opened = Callable[..., Page]


@pytest.fixture
def opened(browser: Browser, tmp_path: Path) -> Iterator[Opened]:
    """Open the page of a small piece from a disk, its clock in the test's hand."""
    sheet = worked(tmp_path)
    file = tmp_path / "stopwatch.html"
    file.write_text(stopwatch_page(sheet, LEGS), encoding="utf-8")
    contexts = []

    def open_page(before: str = "") -> Page:
        context = browser.new_context(offline=True)
        contexts.append(context)
        page = context.new_page()
        page.clock.install(time=1_800_000_000)
        page.clock.pause_at(1_800_000_010)
        if before:
            page.add_init_script(before)
        page.goto(file.as_uri())
        return page

    yield open_page
    for context in contexts:
        context.close()


def noted(page: Page, said: str) -> None:
    """Keep a note, as longer as it is than the field lets one type: a page may have kept it from before."""
    page.click("#noted")
    page.evaluate(
        "said => { const field = document.getElementById('thought'); field.value = said;"
        " field.dispatchEvent(new Event('input')); }",
        said,
    )
    page.click("#keep")


FAMILY = "\N{MAN}\u200d\N{WOMAN}\u200d\N{GIRL}"
SAID = {
    "an emoji across the end": "a" * (LONGEST_NOTE - 1) + "\N{WOOD}\N{WOOD}",
    "emoji alone": "\N{WOOD}" * (LONGEST_NOTE + 5),
    "a combining mark after the end": "a" * (LONGEST_NOTE - 1) + "e\u0301" + "b",
    "many combining marks": "e\u0301\u0323" * 70,
    "a family across the end": "a" * (LONGEST_NOTE - 2) + FAMILY,
    "families alone": FAMILY * 40,
    "a flag across the end": "a" * (LONGEST_NOTE - 1) + "\U0001f1f3\U0001f1ff",
    "a skin tone after the end": "a" * (LONGEST_NOTE - 1) + "\N{THUMBS UP SIGN}\U0001f3fd",
    "signs that are written out": "#" * LONGEST_NOTE,
    "nothing to replace": 'Say "metric" first, 3/8 in',
    "markup": "<b>{now} # \u202e\u200b\u0007 end\nof line",
    "a joiner alone": "a \u200d b\u200d",
}


@pytest.mark.parametrize("said", SAID.values(), ids=SAID.keys())
def test_a_note_is_cut_between_signs_as_they_are_seen_and_as_in_the_terminal(
    opened: Opened, tmp_path: Path, said: str
) -> None:
    page = opened()
    page.click("#next")
    go(page, 5)
    noted(page, said)
    (run,) = load_file(RunsKeys, exported(page, tmp_path), "run.yml")[0].runs
    assert run.notes[0].says == one_line(said)
    assert len(run.notes[0].says) <= LONGEST_NOTE


def test_what_is_cut_stays_whole() -> None:
    """Unicode Standard Annex 29 counts each of these as one sign."""
    assert one_line(SAID["a family across the end"]) == "a" * (LONGEST_NOTE - 2)
    assert one_line(SAID["families alone"]) == FAMILY * (LONGEST_NOTE // len(FAMILY))
    assert one_line(SAID["a combining mark after the end"]) == "a" * (LONGEST_NOTE - 1)
    assert one_line(SAID["a flag across the end"]) == "a" * (LONGEST_NOTE - 1)
    assert one_line(SAID["a skin tone after the end"]) == "a" * (LONGEST_NOTE - 1)
    assert one_line(SAID["emoji alone"]) == "\N{WOOD}" * LONGEST_NOTE
    assert one_line("\u0301" * 200) == "\u0301" * LONGEST_NOTE


def test_a_browser_that_knows_no_signs_cuts_by_characters(opened: Opened, tmp_path: Path) -> None:
    page = opened(NO_SEGMENTER)
    page.click("#next")
    go(page, 5)
    noted(page, SAID["an emoji across the end"])
    (run,) = load_file(RunsKeys, exported(page, tmp_path), "run.yml")[0].runs
    assert run.notes[0].says == "a" * (LONGEST_NOTE - 1) + "\N{WOOD}"


@pytest.mark.parametrize("half", ["\\ud83e", "\\udeb5"])
def test_half_an_emoji_that_was_kept_before_makes_a_sound_file_all_the_same(
    opened: Opened, tmp_path: Path, half: str
) -> None:
    page = opened()
    page.click("#next")
    go(page, 5)
    page.evaluate(
        "half => { const key = Object.keys(localStorage)[0], kept = JSON.parse(localStorage.getItem(key));"
        " kept.notes.push({ at: 1, step: 'Rough it', says: 'before ' + JSON.parse('\"' + half + '\"') + ' after' });"
        " localStorage.setItem(key, JSON.stringify(kept)); window.onpagehide = null; }",
        half,
    )
    # What is left by the page itself would be written over what stands there.
    page.evaluate("Storage.prototype.setItem = () => undefined")
    page.reload()
    (run,) = load_file(RunsKeys, exported(page, tmp_path), "run.yml")[0].runs
    assert run.notes[0].says == "before after"


def test_the_file_is_the_terminals_but_for_its_first_line(opened: Opened, tmp_path: Path) -> None:
    page, watch = opened(), Stopwatch(LEGS, "")
    watch.start()
    page.click("#next")
    for seconds, key, act in [
        (65, "#next", watch.forward), (100, "#pause", watch.pause), (50, "#pause", watch.start),
        (20, "#next", watch.forward), (30, "#back", watch.back), (10, "#next", watch.forward), (7, "#skip", watch.skip),
    ]:  # fmt: skip
        go(page, seconds)
        watch.passed(seconds)
        page.click(key)
        act()
    noted(page, 'A "quoted" note \N{WOOD}')
    watch.note('A "quoted" note \N{WOOD}')
    assert text(page, "name") == "All steps are done."
    mine, yours = exported(page, tmp_path).read_text(encoding="utf-8").splitlines(), watch.text().splitlines()
    assert mine[3:] == yours[3:]
    assert mine[1] == yours[1]


def test_the_file_with_such_notes_is_taken_in_by_the_command(opened: Opened, tmp_path: Path) -> None:
    page = opened()
    page.click("#next")
    for said in SAID.values():
        go(page, 20)
        noted(page, said)
    page.click("#next")
    path = exported(page, tmp_path)
    (tmp_path / "projects").mkdir()
    project(tmp_path / "projects", parts=PARTS)
    ran: subprocess.CompletedProcess[str] = command(tmp_path, "dry-run", "piece", "--import", str(path))
    assert ran.returncode == 0, ran.stderr + sys.version
    assert (tmp_path / ran.stdout.strip().removeprefix("took the run into ")).read_bytes() == path.read_bytes()


PARTS = """\
parts:
  body:
    wood: maple, sugar
    blank: {round: 3 in, long: 4 in}
    steps:
      - {name: Rough it, say: Rough it.}
      - {name: Shape it, say: Shape it.}
"""
