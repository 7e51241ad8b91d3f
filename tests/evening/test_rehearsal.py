"""A run is never lost: saved at every key, on Ctrl-C, on a full disk; and never written over."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest

from handouts_build.evening import dry_run as rehearsal
from handouts_build.evening.dry_run import rehearse, take_in
from handouts_build.problems import ProjectError
from handouts_build.schema import RunsKeys, load_file


class Hands:
    """Presses keys, each after so many seconds; what is pressed may be an exception."""

    def __init__(self, *keys, step: float = 60.0) -> None:
        self.keys: Iterator = iter(keys)
        self.now, self.step = 1000.0, step
        self.seen: list[list[str]] = []
        self.on_disk: list[str] = []
        self.path: Path | None = None

    def clock(self) -> float:
        return self.now

    def size(self) -> tuple[int, int]:
        return 80, 24

    def show(self, lines) -> None:
        self.seen.append(list(lines))

    def key(self, seconds: float) -> str:  # noqa: ARG002 (the screen's signature)
        if self.path is not None and self.path.exists():
            self.on_disk.append(self.path.read_text(encoding="utf-8"))
        pressed = next(self.keys, "q")
        if isinstance(pressed, type) and issubclass(pressed, BaseException):
            raise pressed
        if isinstance(pressed, float):
            self.now += pressed
            return ""
        self.now += self.step
        return pressed


def today() -> datetime:
    return datetime(2026, 5, 1, 10, 0)


def run(records, hands: Hands, **more) -> Path:
    hands.path = records.home / "dry-runs" / "2026-05-01.yml"
    return rehearse(records, clock=hands.clock, today=today, screen=hands, **more)


def only(path: Path):
    runs, _ = load_file(RunsKeys, path, path.name)
    (one,) = runs.runs
    return one


def test_a_run_from_end_to_end_is_recorded(read):
    path = run(read(), Hands("n", *"nnnnn"))
    one = only(path)
    assert one.finished
    assert one.began == "2026-05-01 10:00"
    assert [(each.step, each.to - each.from_) for each in one.times] == [
        (name, 60) for name in ("Rough it", "Shape it", "Sand it", "Turn the foot", "Oil it")
    ]
    assert one.times[-1].shown == "talk"
    assert read().runs[0].finished


def test_every_key_is_on_disk_before_the_next(read):
    hands = Hands("n", "n", "p", "p", "s", "t", *"Slow", "\r", "b")
    run(read(), hands)
    after_next, after_skip, after_note = hands.on_disk[2], hands.on_disk[5], hands.on_disk[11]
    assert 'to: "1:00"' in after_next
    assert 'skipped: ["Shape it"]' in after_skip
    assert 'says: "Slow"' in after_note


def test_a_thought_is_on_disk_while_it_is_typed_and_stands_there_once(read):
    hands = Hands("n", "t", *"Slow", "\r", "t", "x", "\x1b", "q")
    one = only(run(read(), hands))
    assert 'says: "Slo"' in hands.on_disk[5]
    assert 'says: "x"' in hands.on_disk[9]
    assert [note.says for note in one.notes] == ["Slow"]


def test_a_pause_stands_still(read):
    one = only(run(read(), Hands("n", "p", 600.0, "p", "n")))
    assert [(each.from_, each.to) for each in one.times if each.step == "Rough it"] == [(0, 60), (60, 120)]


@pytest.mark.parametrize("end", [KeyboardInterrupt, EOFError])
@pytest.mark.parametrize("at", range(8))
def test_ctrl_c_or_a_closed_terminal_at_any_moment_loses_nothing(read, at, end):
    keys = ["n", "n", "p", "p", "t", "x", "\r", "n"]
    path = run(read(), Hands(*keys[:at], 30.0, end))
    one = only(path)
    assert not one.finished
    ran = sum(each.to - each.from_ for each in one.times)
    pressed = {0: 0, 1: 30, 2: 90, 3: 120, 4: 150, 5: 210, 6: 270, 7: 330}
    assert ran == pressed[at]


def test_a_run_that_was_left_is_taken_up_again(read):
    first = run(read(), Hands("n", "n", "q"))
    again = Hands("p", "n", "q")
    second = run(read(), again)
    assert second == first
    one = only(second)
    assert [each.step for each in one.times] == ["Rough it", "Shape it", "Shape it", "Sand it"]
    assert one.times[-1].to == 60 + 60 + 60 + 60


def test_a_finished_run_is_never_touched_again(read):
    first = run(read(), Hands("n", *"nnnnn"))
    kept = first.read_bytes()
    second = run(read(), Hands("n", "n", "q"))
    assert second.name == "2026-05-01-2.yml"
    assert first.read_bytes() == kept
    assert len(read().runs) == 2


def test_a_new_run_can_be_begun_beside_one_that_was_left(read):
    first = run(read(), Hands("n", "q"))
    kept = first.read_bytes()
    assert run(read(), Hands("n", "q"), afresh=True) != first
    assert first.read_bytes() == kept


def test_a_clock_going_backwards_is_seen_through(read):
    one = only(run(read(), Hands("n", -5000.0, "n", "q")))
    assert [each.to - each.from_ for each in one.times] == [60, 60]


def test_a_full_disk_is_said_on_the_screen_and_the_run_is_saved_once_there_is_room(read, monkeypatch):
    real, full = rehearsal.write_all, [True]

    def writing(files):
        if full[0]:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        real(files)

    monkeypatch.setattr(rehearsal, "write_all", writing)

    class Room(Hands):
        def key(self, seconds):
            if len(self.seen) == 4:
                full[0] = False
            return super().key(seconds)

    hands = Room("n", "n", "p", "p", "n", "q")
    one = only(run(read(), hands))
    assert any("NOT SAVED" in line and "No space" in line for line in hands.seen[1])
    assert len(one.times) >= 3


def test_a_disk_that_stays_full_hands_the_run_out_another_way(read, monkeypatch):
    def full(files):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(rehearsal, "write_all", full)
    with pytest.raises(ProjectError) as caught:
        run(read(), Hands("n", "n", "q"))
    (problem,) = caught.value.problems
    assert "could not be saved" in problem.message
    kept = Path(problem.hint.partition("kept in ")[2].partition(";")[0])
    assert only(kept).times[0].step == "Rough it"
    kept.unlink()


def test_a_disk_that_fills_up_once_the_run_is_over_is_no_fault_of_the_run(read, monkeypatch):
    real = rehearsal.write_all

    def writing(files):
        real(files)
        if b"finished: true" in next(iter(files.values())):
            monkeypatch.setattr(rehearsal, "write_all", full)

    def full(files):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(rehearsal, "write_all", writing)
    assert only(run(read(), Hands("n", *"nnnnn"))).finished


def test_a_second_stopwatch_is_kept_off(read):
    records = read()
    said = []

    class Second(Hands):
        def key(self, seconds):  # noqa: ARG002 (the screen's signature)
            code = (
                "from handouts_build.site.build import read_archive; from pathlib import Path\n"
                "from handouts_build.evening.dry_run import rehearse\n"
                "records = read_archive(Path('projects'), base=Path('.')).records[0]\n"
                "rehearse(records)"
            )
            ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False, timeout=60)
            said.append(ran.stderr)
            return "q"

    run(records, Second())
    assert "another stopwatch is running" in said[0]
    # And once the first has ended, the next one may run.
    run(records, Hands("q"))


def test_without_a_terminal_it_says_so(read, monkeypatch):
    monkeypatch.setattr(sys, "stdin", open(os.devnull))  # noqa: SIM115, PTH123
    with pytest.raises(ProjectError, match="needs a terminal"):
        rehearse(read(), today=today)
    sys.stdin.close()


def test_an_exported_run_is_taken_in_beside_the_others(read, tmp_path):
    first = run(read(), Hands("n", *"nnnnn"))
    exported = tmp_path / "piece.yml"
    exported.write_bytes(first.read_bytes().replace(b"10:00", b"16:30"))
    assert take_in(read(), exported).name == "2026-05-01-2.yml"
    with pytest.raises(ProjectError, match="16:30 has been taken in already"):
        take_in(read(), exported)
    exported.write_text('runs:\n  - {began: "2026-05-01", times: [{step: No such, from: "0:00", to: "1:00"}]}\n')
    with pytest.raises(ProjectError, match="not a step"):
        take_in(read(), exported)
    assert len(read().runs) == 2


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no links and pipes as meant here")
@pytest.mark.parametrize("kind", ["link", "pipe"])
def test_no_run_is_taken_in_over_a_link_or_out_of_a_pipe(read, tmp_path, kind):
    first = run(read(), Hands("n", *"nnnnn"))
    exported = tmp_path / "piece.yml"
    if kind == "link":
        (tmp_path / "elsewhere.yml").write_bytes(first.read_bytes().replace(b"10:00", b"16:30"))
        exported.symlink_to(tmp_path / "elsewhere.yml")
    else:
        os.mkfifo(exported)
    with pytest.raises(ProjectError, match=f"this file cannot be read .it is a {kind}"):
        take_in(read(), exported)
    assert len(read().runs) == 1


def test_the_stopwatch_goes_over_a_demonstrations_plan(read):
    from tests.evening.conftest import EVENING

    records = read({"2026-06-06-saltmarsh": EVENING + "left out: [Sand it]\n"})
    one = only(run(records, Hands("n", *"nnnn"), name="2026-06-06-saltmarsh", kind="demonstration"))
    assert one.kind == "demonstration"
    assert "Sand it" not in [each.step for each in one.times]


@pytest.mark.parametrize("end", [KeyboardInterrupt, EOFError])
def test_a_note_being_typed_when_it_ends_is_kept_with_the_time_and_step_it_came_at(read, end):
    one = only(run(read(), Hands("n", "t", "h", "i", end)))
    assert [(each.at, each.step, each.says) for each in one.notes] == [(60, "Rough it", "hi")]


def test_a_note_that_is_dropped_is_not_kept(read):
    assert not only(run(read(), Hands("n", "t", "h", "\x1b", "q"))).notes


def test_the_break_has_a_leg_of_its_own_and_counts_into_no_step(read):
    from tests.evening.conftest import EVENING

    evening = EVENING.replace("60 min", "90 min") + "break: 10 min\nbreak after: Shape it\n"
    records = read({"2026-06-06-saltmarsh": evening})
    with_break = Hands("n", "n", "n", "t", "x", "\r", "q")
    one = only(run(records, with_break, name="2026-06-06-saltmarsh"))
    assert "Break" in "\n".join(map("\n".join, with_break.seen))
    assert [(each.step, each.from_, each.to) for each in one.times] == [("Rough it", 0, 60), ("Shape it", 60, 120)]
    assert [(each.from_, each.to) for each in one.breaks] == [(120, 360)]
    assert [each.step for each in one.notes] == [None]
    # Taken up again it is still the break; skipped, it is no step that was skipped.
    again = only(run(read(), Hands("p", "s", "n", "q"), name="2026-06-06-saltmarsh"))
    assert [(each.from_, each.to) for each in again.breaks] == [(120, 360), (360, 420)]
    assert [(each.step, each.from_, each.to) for each in again.times[2:]] == [
        ("Sand it", 420, 480),
        ("Turn the foot", 480, 540),
    ]
    assert not again.skipped
    assert read().runs
