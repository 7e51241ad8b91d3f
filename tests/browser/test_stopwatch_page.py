"""The stopwatch page in Chromium with the network off: kept through a reload, exported as the reader reads it."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page

from handouts_build.evening.folder import evening_kit
from handouts_build.outputs.evening.pages import stopwatch_page
from handouts_build.records.showings import Records
from handouts_build.schema import RunsKeys, load_file
from handouts_build.sheet.stopwatch import Leg
from handouts_build.site.build import read_projects

ROOT = Path(__file__).parents[2]
NAME = "2027-03-13-saltmarsh"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The private folder of a demonstration of the demo archive."""
    made = tmp_path_factory.mktemp("evening")
    archive = tmp_path_factory.mktemp("archive")
    shutil.copytree(ROOT / "projects", archive / "projects")
    # Times are told from the first step on here: the evening begins with it.
    evening = archive / "projects" / "lantern" / "demonstrations" / f"{NAME}.yml"
    said = evening.read_text(encoding="utf-8")
    evening.write_text(said.replace("opening: 3 min\n", "").replace("safety talk: 2 min\n", ""), encoding="utf-8")
    records = lantern_in(archive)
    for name, content in evening_kit(records, NAME).files.items():
        (made / name.removeprefix(f"lantern-{NAME}-")).write_bytes(content)
    return made


@pytest.fixture
def page(browser: Browser, folder: Path) -> Iterator[Page]:
    """The stopwatch page, from a disk, without a network, and its clock in the test's hand."""
    context = browser.new_context(offline=True, viewport={"width": 800, "height": 1280}, has_touch=True)
    page = context.new_page()
    page.clock.install(time=1_800_000_000)
    page.clock.pause_at(1_800_000_010)
    said: list[str] = []
    page.on("console", lambda one: said.append(one.text) if one.type in ("error", "warning") else None)
    page.on("pageerror", lambda one: said.append(str(one)))
    asked: list[str] = []
    page.on("request", lambda one: asked.append(one.url))
    page.goto((folder / "stopwatch.html").as_uri())
    yield page
    assert not said
    assert all(url.startswith(("file:", "blob:")) for url in asked)
    context.close()


def go(page: Page, seconds: int) -> None:
    page.clock.run_for(seconds * 1000)


def text(page: Page, id_: str) -> str:
    return page.locator(f"#{id_}").inner_text()


def until(page: Page, told: str) -> None:
    """Wait until something holds; the page's own policy lets nobody else's script wait inside it."""
    for _ in range(200):
        if page.evaluate(told):
            return
        page.wait_for_timeout(25)
    pytest.fail(f"never: {told}")


def exported(page: Page, tmp_path: Path) -> Path:
    with page.expect_download() as caught:
        page.click("#export")
    target = tmp_path / caught.value.suggested_filename
    caught.value.save_as(target)
    return target


def test_a_run_is_timed_and_exported_as_a_sound_file(page, tmp_path):
    page.click("#next")
    go(page, 65)
    assert text(page, "spent") == "1:05"
    page.click("#next")
    go(page, 30)
    page.click("#noted")
    page.fill("#thought", 'Say "metric" <first> {now}')
    page.click("#keep")
    page.click("#pause")
    go(page, 600)
    page.click("#pause")
    go(page, 10)
    page.click("#skip")
    path = exported(page, tmp_path)
    assert path.name.startswith("lantern-")
    runs, _ = load_file(RunsKeys, path, path.name)
    (run,) = runs.runs
    assert not run.finished
    assert [(one.step, one.to - one.from_) for one in run.times][:2] == [
        ("Rough the blank and turn the tenon", 65),
        ("Mark the octagon", 30),
    ]
    assert list(run.skipped) == ["Mark the octagon"]
    assert run.notes[0].says == 'Say "metric" ‹first> (now)'
    assert run.notes[0].at == 95


def command(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    """The command `handouts` in a folder, as one types it."""
    return subprocess.run(
        [sys.executable, "-c", "from handouts_build.cli import main; main()", *arguments],
        cwd=folder,
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
    )


def lantern_in(folder: Path) -> Records:
    (records,) = read_projects([folder / "projects" / "lantern.yml"], base=folder).records
    return records


def test_the_exported_file_is_taken_in_by_the_command(page, tmp_path):
    """`handouts dry-run lantern --import FILE`, once; the run of the demonstration tells how long it took."""
    page.check("#held")
    page.click("#next")
    # Fourteen steps, the break and the questions.
    for _ in range(16):
        go(page, 60)
        page.click("#next")
    assert text(page, "name") == "All steps are done."
    path = exported(page, tmp_path)
    shutil.copytree(ROOT / "projects", tmp_path / "projects")
    before = lantern_in(tmp_path)
    ran = command(tmp_path, "dry-run", "lantern", "--import", str(path))
    assert ran.returncode == 0, ran.stderr
    kept = tmp_path / ran.stdout.strip().removeprefix("took the run into ")
    assert kept.read_bytes() == path.read_bytes()
    after = lantern_in(tmp_path)
    assert len(after.runs) == len(before.runs) + 1
    (mine,) = [one for one in after.runs if one not in before.runs]
    assert mine.finished
    assert mine.kind == "demonstration"
    assert [one.to - one.from_ for one in mine.times] == [60] * 14
    again = command(tmp_path, "dry-run", "lantern", "--import", str(path))
    assert again.returncode == 1
    assert "has been taken in already" in again.stderr


def test_a_new_run_leaves_those_before_it_where_they_are(page, tmp_path):
    page.click("#next")
    go(page, 40)
    page.click("#fresh")
    assert text(page, "spent") == "0:00"
    go(page, 120)
    page.click("#next")
    go(page, 20)
    page.reload()
    second = exported(page, tmp_path)
    with page.expect_download() as caught:
        page.get_by_role("button", name="Export the run of").click()
    first = tmp_path / "first.yml"
    caught.value.save_as(first)
    (one,), (two,) = (load_file(RunsKeys, path, path.name)[0].runs for path in (first, second))
    assert (one.times[0].to, two.times[0].to) == (40, 20)
    # Each began when it was started, not when the page was opened.
    minutes = [datetime.strptime(run.began, "%Y-%m-%d %H:%M") for run in (one, two)]
    assert timedelta(minutes=2) <= minutes[1] - minutes[0] <= timedelta(minutes=3)


def test_of_two_windows_on_one_run_only_one_goes_on(page, folder):
    page.click("#next")
    go(page, 30)
    other = page.context.new_page()
    other.goto((folder / "stopwatch.html").as_uri())
    assert text(other, "spent") in ("0:25", "0:26", "0:27", "0:28", "0:29", "0:30")
    other.click("#pause")
    until(page, "document.getElementById('status').textContent.includes('another window')")
    go(page, 600)
    page.click("#next")
    assert text(page, "name") == "Rough the blank and turn the tenon"
    other.click("#next")
    page.reload()
    assert text(page, "name") == "Mark the octagon"


def test_the_screen_stays_awake_while_the_watch_runs(browser, folder):
    """Screen Wake Lock API (W3C): asked for as it runs, given back in a pause, asked for again once seen."""
    context = browser.new_context(offline=True)
    page = context.new_page()
    page.add_init_script(
        "window.asked = 0; window.held = 0;"
        "Object.defineProperty(navigator, 'wakeLock', { value: { request: async kind => {"
        "  if (kind !== 'screen') { throw new TypeError(kind); }"
        "  window.asked += 1; window.held += 1;"
        "  const lock = new EventTarget();"
        "  lock.release = async () => { window.held -= 1; lock.dispatchEvent(new Event('release')); };"
        "  window.lock = lock; return lock; } } });"
    )
    page.goto((folder / "stopwatch.html").as_uri())
    assert page.evaluate("window.asked") == 0
    page.click("#next")
    until(page, "window.held === 1")
    page.click("#next")
    assert page.evaluate("window.asked") == 1
    page.click("#pause")
    until(page, "window.held === 0")
    page.click("#pause")
    until(page, "window.held === 1")
    # The browser takes it away from a page that is not seen.
    page.evaluate("window.lock.release()")
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    until(page, "window.held === 1 && window.asked === 3")
    context.close()


def test_without_a_wake_lock_the_watch_runs_all_the_same(browser, folder):
    context = browser.new_context(offline=True)
    page = context.new_page()
    said: list[str] = []
    page.on("pageerror", lambda one: said.append(str(one)))
    page.add_init_script(
        "Object.defineProperty(navigator, 'wakeLock', { value: { request: () => Promise.reject(new Error('no')) } });"
    )
    page.goto((folder / "stopwatch.html").as_uri())
    page.click("#next")
    until(page, "document.getElementById('spent').textContent === '0:01'")
    assert not said
    context.close()


def test_a_closed_page_loses_nothing(page, folder):
    page.click("#next")
    go(page, 65)
    page.click("#next")
    go(page, 42)
    page.reload()
    assert text(page, "name") == "Mark the octagon"
    assert text(page, "spent") == "0:42"
    go(page, 100)
    # It stands still until it is started again.
    assert text(page, "spent") == "0:42"
    assert text(page, "pause") == "Go on"
    page.click("#pause")
    go(page, 8)
    assert text(page, "spent") == "0:50"


def test_back_goes_on_where_the_step_was(page):
    page.click("#next")
    go(page, 20)
    page.click("#next")
    go(page, 10)
    page.click("#back")
    go(page, 5)
    assert text(page, "spent") == "0:25"
    assert text(page, "name") == "Rough the blank and turn the tenon"


def test_storage_that_cannot_be_read_is_begun_anew(page):
    for spoilt in ("{", '{"at": 99}', "null", '{"began": 1, "at": -1, "stretches": []}'):
        page.evaluate(
            "spoilt => { const key = JSON.parse(document.getElementById('data').textContent).key;"
            " window.addEventListener('pagehide', () => localStorage.setItem(key, spoilt)); }",
            spoilt,
        )
        page.reload()
        assert text(page, "next") == "Start"


def test_a_browser_that_keeps_nothing_says_so(page):
    page.evaluate("() => { Storage.prototype.setItem = () => { throw new Error('full'); }; }")
    page.click("#next")
    assert "keeps nothing" in text(page, "status")


def test_what_is_pressed_at_the_lathe_is_large(page):
    """WCAG 2.2, 2.5.5 Target Size (Enhanced): 44 by 44 CSS pixels at least."""
    for width in (320, 390, 800):
        page.set_viewport_size({"width": width, "height": 900})
        for button in page.locator("button:visible").all():
            box = button.bounding_box()
            assert box is not None
            assert box["width"] >= 44
            assert box["height"] >= 44
            assert box["x"] + box["width"] <= width
        assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_it_works_with_the_keyboard_alone(page):
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.id") == "next"
    page.keyboard.press("Enter")
    go(page, 3)
    assert text(page, "spent") == "0:03"


@pytest.mark.parametrize("name", ["stopwatch.html", "run-sheet.html"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_private_pages_keep_to_the_rules_for_everyone(browser, folder, name, scheme):
    """WCAG 2.2 A and AA as axe-core checks them; and no complaint from the page's own policy."""
    context = browser.new_context(offline=True, color_scheme=scheme, viewport={"width": 390, "height": 844})
    page = context.new_page()
    said: list[str] = []
    page.on("console", lambda one: said.append(one.text) if one.type in ("error", "warning") else None)
    page.goto((folder / name).as_uri())
    assert not said
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    found = Axe().run(page, options={"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]})
    assert not found.response["violations"], found.generate_report()
    context.close()


@pytest.mark.parametrize("how", ["next", "skip", "reload", "export"])
def test_a_note_has_the_time_and_step_of_when_it_was_begun_and_is_kept_unasked(page, tmp_path, how):
    page.click("#next")
    first = text(page, "name")
    go(page, 10)
    page.click("#noted")
    go(page, 20)
    page.fill("#thought", "Bring a lamp")
    if how == "reload":
        page.reload()
    elif how != "export":
        page.click(f"#{how}")
        assert page.locator("#noting").is_hidden()
        go(page, 20)
    runs, _ = load_file(RunsKeys, exported(page, tmp_path), "exported")
    (note,) = runs.runs[0].notes
    assert (note.at, note.step, note.says) == (10, first, "Bring a lamp")


def test_a_break_has_a_leg_of_its_own_and_counts_into_no_step(browser, tmp_path):
    legs = (Leg("One", "live", 60), Leg("Break", "break", 600), Leg("Two", "live", 60))
    file = tmp_path / "stopwatch.html"
    file.write_text(stopwatch_page(lantern_in(ROOT).sheet, legs), encoding="utf-8")
    context = browser.new_context(offline=True)
    page = context.new_page()
    page.clock.install(time=1_800_000_000)
    page.clock.pause_at(1_800_000_010)
    page.goto(file.as_uri())
    for _ in range(2):
        page.click("#next")
        go(page, 10)
    assert "counts into no step" in text(page, "place").lower()
    page.click("#skip")
    go(page, 10)
    runs, _ = load_file(RunsKeys, exported(page, tmp_path), "exported")
    context.close()
    (one,) = runs.runs
    assert [(each.step, each.from_, each.to) for each in one.times] == [("One", 0, 10), ("Two", 20, 30)]
    assert [(each.from_, each.to) for each in one.breaks] == [(10, 20)]
    assert not one.skipped


def test_how_far_behind_is_read_from_afar_beside_the_clock_the_end_and_the_next_step(page):
    page.click("#next")
    go(page, 11 * 60)
    assert page.evaluate("parseFloat(getComputedStyle(document.getElementById('late')).fontSize)") >= 40
    assert "behind" in text(page, "late")
    assert "Mark the octagon" in text(page, "following")
    assert "9:10" in text(page, "ends").replace("21:10", "9:10")
    assert text(page, "clock")


def test_what_is_ticked_off_the_packing_list_survives_a_reload(browser, folder):
    context = browser.new_context(offline=True)
    page = context.new_page()
    page.goto((folder / "run-sheet.html").as_uri())
    boxes = page.get_by_role("checkbox")
    assert boxes.count() > 20
    for at in (0, 3):
        boxes.nth(at).check()
    page.reload()
    assert [at for at in range(boxes.count()) if boxes.nth(at).is_checked()] == [0, 3]
    context.close()
