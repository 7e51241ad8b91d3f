"""The stopwatch: time is counted once, whatever keys are pressed, and its file reads back."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handouts_build.outputs.evening.stopwatch_screen import lines
from handouts_build.schema import RunsKeys, load_file
from handouts_build.sheet.stopwatch import Leg, Stopwatch, elapsed_words, one_line

LEGS = (Leg("Rough it", "live", 600), Leg("Shape it", "live", 1200), Leg('Say "it"', "talk", 300))
KEYS = st.lists(
    st.one_of(
        st.sampled_from(["forward", "back", "skip", "toggle", "start", "pause"]),
        st.floats(-50, 500, allow_nan=False),
        st.text(max_size=30),
    ),
    max_size=40,
)


def driven(keys) -> tuple[Stopwatch, float]:
    """A watch after these keys, and the seconds that went by while it ran."""
    watch, ran = Stopwatch(LEGS, "2026-05-01 10:00"), 0.0
    for key in keys:
        if isinstance(key, float):
            if watch.running and key > 0:
                ran += key
            watch.passed(key)
        elif hasattr(Stopwatch, key) and key in ("forward", "back", "skip", "toggle", "start", "pause"):
            getattr(watch, key)()
        else:
            watch.note(key)
    return watch, ran


@given(KEYS)
def test_no_second_is_lost_or_counted_twice(keys):
    watch, ran = driven(keys)
    assert watch.now == pytest.approx(ran, abs=1e-6)
    assert sum(lap.end - lap.start for lap in watch.laps) == pytest.approx(ran, abs=1e-6)
    assert sum(watch.spent(leg.name) for leg in LEGS) == pytest.approx(ran, abs=1e-6)
    for before, after in zip(watch.laps, watch.laps[1:], strict=False):
        assert before.start <= before.end <= after.start <= after.end


@given(KEYS)
def test_watch_and_pauses_together_are_the_time_of_a_recording(keys):
    """As a camera would count that runs from the first start to the end."""
    watch, recorded = Stopwatch(LEGS, "2026-05-01 10:00"), 0.0
    for key in keys:
        if isinstance(key, float):
            recorded += key if key > 0 and watch.laps and not watch.finished else 0
            watch.passed(key)
        elif key in ("forward", "back", "skip", "toggle", "start", "pause"):
            getattr(watch, key)()
    assert watch.now + sum(pause.lasted for pause in watch.pauses) == pytest.approx(recorded, abs=1e-6)
    assert [pause.at for pause in watch.pauses] == sorted({pause.at for pause in watch.pauses})


@given(KEYS)
def test_what_it_writes_is_a_sound_file_of_runs(tmp_path_factory, keys):
    watch, _ = driven(keys)
    path: Path = tmp_path_factory.getbasetemp() / "run.yml"
    path.write_text(watch.text(), encoding="utf-8")
    runs, _ = load_file(RunsKeys, path, "run.yml")
    (run,) = runs.runs
    assert run.finished == watch.finished
    assert list(run.skipped) == watch.skipped
    stood = [(round(pause.at), round(pause.lasted)) for pause in watch.pauses if round(pause.lasted)]
    assert [(pause.at, pause.for_) for pause in run.pauses] == stood
    assert [one.says for one in run.notes] == [said for _, _, said in watch.notes]
    told = sum(one.to - one.from_ for one in run.times)
    assert told == pytest.approx(sum(lap.end - lap.start for lap in watch.laps), abs=1 + len(watch.laps))


def test_going_back_goes_on_where_the_step_was():
    watch = Stopwatch(LEGS, "")
    watch.start()
    watch.passed(60)
    watch.forward()
    watch.passed(30)
    watch.back()
    watch.passed(15)
    assert watch.spent("Rough it") == 75
    assert watch.spent("Shape it") == 30


def test_a_clock_that_goes_backwards_takes_nothing_away():
    watch = Stopwatch(LEGS, "")
    watch.start()
    watch.passed(60)
    watch.passed(-3600)
    assert watch.now == 60
    watch.passed(5)
    assert watch.now == 65


def test_a_skipped_step_is_no_longer_skipped_once_one_goes_back_to_it():
    watch = Stopwatch(LEGS, "")
    watch.start()
    watch.skip()
    assert watch.skipped == ["Rough it"]
    watch.back()
    assert watch.skipped == []


def test_behind_is_counted_against_what_should_be_done_by_now():
    watch = Stopwatch(LEGS, "")
    watch.start()
    watch.passed(500)
    assert watch.behind == 0
    watch.forward()
    assert watch.behind == -100
    watch.passed(1300)
    assert watch.behind == 0
    watch.passed(60)
    assert watch.behind == 60


@pytest.mark.parametrize(("seconds", "words"), [(0, "0:00"), (59.4, "0:59"), (65, "1:05"), (4325, "72:05")])
def test_elapsed_time_is_told_in_minutes_and_seconds(seconds, words):
    assert elapsed_words(seconds) == words


@given(st.text(max_size=400))
def test_a_note_is_one_line_that_the_reader_takes(text):
    said = one_line(text)
    assert len(said) <= 160
    assert said.isprintable()
    assert not set("{}<#") & set(said.replace("No. ", ""))


@given(KEYS, st.integers(1, 200), st.integers(1, 60))
def test_the_screen_fits_any_terminal(keys, wide, high):
    watch, _ = driven(keys)
    shown = lines(watch, title="Ribbed lantern", size=(wide, high), saved="kept", typing=None)
    assert len(shown) <= max(6, high)
    for line in shown:
        assert len(line.replace("\x1b[1m", "").replace("\x1b[0m", "")) <= max(20, wide)


def test_the_bar_tells_time_within_the_plan_from_time_beyond_it():
    watch = Stopwatch(LEGS, "")
    watch.start()
    watch.passed(300)
    half = next(line for line in lines(watch, title="", size=(42, 24), saved="") if line.startswith("["))
    assert half == f"[{'=' * 20}{' ' * 20}]"
    watch.passed(900)
    over = next(line for line in lines(watch, title="", size=(42, 24), saved="") if line.startswith("["))
    assert over == f"[{'=' * 20}{'!' * 20}]"
