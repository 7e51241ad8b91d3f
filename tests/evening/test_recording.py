"""Chapters of a recorded demonstration, read back with a second parser of subtitle files and by the rules of WebVTT."""

from __future__ import annotations

import re

import pysubs2
import pytest
from click.testing import CliRunner

from handouts_build.cli import cli
from handouts_build.evening.recording import recording_chapters
from handouts_build.problems import ProjectError
from tests.evening.conftest import EVENING, PIECE

NAME = "2026-06-06-saltmarsh"
STEM = f"piece-{NAME}-chapters"
RUN = """\
runs:
  - began: "2026-06-06 19:32"
    kind: demonstration
    finished: true
    breaks:
      - {what: opening, from: "0:00", to: "1:30"}
      - {what: break, from: "61:00", to: "70:05"}
    times:
      - {step: "Rough it", from: "1:30", to: "12:00"}
      - {step: "Shape it", from: "12:00", to: "40:00"}
      - {step: "Shape it", from: "40:10", to: "61:00"}
      - {step: "Turn the foot", from: "70:05", to: "84:20"}
    notes:
      - {at: "3:00", step: "Rough it", says: "Call the treasurer"}
"""
REHEARSED = RUN.replace("kind: demonstration", "kind: dry run")
MOMENT = re.compile(r"\d{2,}:[0-5]\d:[0-5]\d\.\d{3} --> \d{2,}:[0-5]\d:[0-5]\d\.\d{3}")
"""W3C, WebVTT, 'WebVTT cue timings': two or more digits of hours, sixty at most of the others, thousandths."""


def by_second_parser(content: bytes) -> list[tuple[int, int, str]]:
    """Start and end in seconds and the title of every cue."""
    return [
        (cue.start // 1000, cue.end // 1000, cue.plaintext)
        for cue in pysubs2.SSAFile.from_string(content.decode(), format_="vtt")
    ]


def test_a_second_parser_reads_the_steps_and_breaks_with_the_times_of_the_watch(read):
    files = recording_chapters(read({NAME: EVENING}, {"2026-06-06": RUN}), "2026-06-06")
    assert by_second_parser(files[f"{STEM}.vtt"]) == [
        (0, 90, "Opening"),
        (90, 720, "Rough it"),
        (720, 3660, "Shape it"),
        (3660, 4205, "Break"),
        (4205, 5060, "Turn the foot"),
    ]
    header, *cues = files[f"{STEM}.vtt"].decode().rstrip("\n").split("\n\n")
    assert header == "WEBVTT"
    assert len(cues) == 5
    assert all(MOMENT.fullmatch(cue.splitlines()[0]) and len(cue.splitlines()) == 2 for cue in cues)


def test_the_list_of_times_starts_at_nought_and_tells_hours_where_there_are_some(read):
    files = recording_chapters(read({NAME: EVENING}, {"2026-06-06": RUN}), "2026-06-06")
    assert files[f"{STEM}.txt"].decode() == (
        "0:00:00 Opening\n0:01:30 Rough it\n0:12:00 Shape it\n1:01:00 Break\n1:10:05 Turn the foot\n"
    )


def test_a_recording_that_began_before_the_watch_has_a_chapter_before_the_first(read):
    files = recording_chapters(read({NAME: EVENING}, {"2026-06-06": RUN}), "2026-06-06", watch_started=250)
    assert by_second_parser(files[f"{STEM}.vtt"])[:3] == [
        (0, 250, "Before the first step"), (250, 340, "Opening"), (340, 970, "Rough it"),
    ]  # fmt: skip


def test_what_comes_after_a_pause_of_the_watch_is_that_much_later_in_the_recording(read):
    """Where a step ends as the watch is paused, it has ended before; what begins there begins when it goes on."""
    pauses = '    pauses:\n      - {at: "12:00", for: "2:30"}\n      - {at: "30:00", for: "0:20"}\n'
    files = recording_chapters(read({NAME: EVENING}, {"2026-06-06": RUN + pauses}), "2026-06-06", watch_started=-10)
    assert by_second_parser(files[f"{STEM}.vtt"]) == [
        (0, 80, "Opening"),
        (80, 710 + 150, "Rough it"),
        (710 + 150, 3650 + 170, "Shape it"),
        (3650 + 170, 4195 + 170, "Break"),
        (4195 + 170, 5050 + 170, "Turn the foot"),
    ]


def test_what_was_not_yet_recorded_is_left_out(read):
    files = recording_chapters(read({NAME: EVENING}, {"2026-06-06": RUN}), "2026-06-06", watch_started=-780)
    assert by_second_parser(files[f"{STEM}.vtt"])[0] == (0, 2880, "Shape it")
    assert files[f"{STEM}.txt"].startswith(b"0:00 Shape it\n48:00 Break\n57:05 Turn the foot\n")


def test_signs_of_markup_in_a_name_are_read_back_as_they_were_written(read, projects):
    (projects / "piece.yml").write_text(PIECE.replace("Rough it,", '"Rough <1 in & true -->",'), encoding="utf-8")
    run = RUN.replace('"Rough it"', '"Rough <1 in & true -->"')
    content = recording_chapters(read({NAME: EVENING}, {"2026-06-06": run}), "2026-06-06")[f"{STEM}.vtt"]
    assert b"Rough &lt;1 in &amp; true --&gt;" in content
    assert content.count(b"-->") == 5


def test_notes_of_the_run_are_in_neither_file(read):
    files = recording_chapters(read({NAME: EVENING}, {"2026-06-06": RUN}), "2026-06-06")
    assert not any(b"treasurer" in content for content in files.values())


@pytest.mark.parametrize("runs", [{}, {"2026-06-06": REHEARSED}])
def test_a_demonstration_that_was_not_timed_itself_has_no_chapters(read, runs):
    with pytest.raises(ProjectError, match="was not timed"):
        recording_chapters(read({NAME: EVENING}, runs), "2026-06-06")


def test_a_recording_after_the_run_has_none_either(read):
    with pytest.raises(ProjectError, match="started after the run had ended"):
        recording_chapters(read({NAME: EVENING}, {"2026-06-06": RUN}), "2026-06-06", watch_started=-6000)


def test_the_command_writes_both_and_refuses_what_is_no_place_in_a_recording(read, projects):
    read({NAME: EVENING}, {"2026-06-06": RUN})
    asked = ["chapters", "piece", "2026-06-06", "--to", "out", "--watch-started"]
    said = CliRunner().invoke(cli, [*asked, "1:04:10"])
    assert said.exit_code == 0, said.output
    written = projects.parent / "out"
    assert sorted(path.name for path in written.iterdir()) == [f"{STEM}.txt", f"{STEM}.vtt"]
    assert (written / f"{STEM}.txt").read_text(encoding="utf-8").splitlines()[1] == "1:04:10 Opening"
    for wrong in ("soon", "4:99", "1:75:00", "4"):
        refused = CliRunner().invoke(cli, [*asked, wrong])
        assert refused.exit_code == 2
        assert "no place in a recording" in refused.output
