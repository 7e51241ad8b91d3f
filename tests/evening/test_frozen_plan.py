"""A plan is frozen when its run sheet is printed: stopwatch, page, paper and archive say the same afterwards."""

from __future__ import annotations

import json
import re
from datetime import UTC, datetime

import pytest

from handouts_build.disk.clock import today
from handouts_build.disk.files import write_all
from handouts_build.evening.dry_run import take_in
from handouts_build.evening.folder import evening_kit
from handouts_build.problems import ProjectError
from handouts_build.records.showings import legs_of
from handouts_build.site.build import read_projects
from tests.evening.conftest import EVENING
from tests.evening.test_rehearsal import Hands, only, run

NAME = "2026-06-06-saltmarsh"
AT = datetime(2026, 5, 1, 12, tzinfo=UTC)
LONG = EVENING.replace("60 min", "75 min") + "break: 5 min\nopening: 2 min\nsafety talk: 1 min\nshare: [run sheet]\n"
SLOW = """\
runs:
  - began: "{day} 10:00"
    finished: true
    times:
      - {{step: Rough it, from: "0:00", to: "30:00"}}
      - {{step: Shape it, from: "30:00", to: "70:00"}}
      - {{step: Turn the foot, from: "70:00", to: "110:00"}}
"""


def printed(read, at=AT):
    records = read()
    kit = evening_kit(records, NAME, at=at)
    write_all(kit.kept)
    return kit


def legs_in(page: bytes):
    return json.loads(re.search(rb'id="data">(.*?)</script>', page).group(1))["legs"]


def told(legs):
    return [(leg.name, leg.shown, leg.number) for leg in legs]


def test_runs_that_come_later_do_not_move_a_printed_plan_until_it_is_printed_again(read):
    read({NAME: LONG})
    kit = printed(read)
    before = legs_of(read(), NAME)
    for day in ("2026-05-20", "2026-05-21"):
        read(runs={day: SLOW.format(day=day)})
    after = legs_of(read(), NAME)
    assert after == before
    page = legs_in(kit.files[f"piece-{NAME}-stopwatch.html"])
    assert [(leg["name"], leg["shown"], leg["number"]) for leg in page] == told(after)
    rows = re.findall(r"<h3>(?:(\d+)\. )?([^<]+)</h3>", kit.files[f"piece-{NAME}-run-sheet.html"].decode())
    assert [(name, int(number or 0)) for number, name in rows[: len(page)]] == [(leg.name, leg.number) for leg in after]
    # The public run sheet is the printed one too.
    (public,) = (shown.run_sheet for shown in read().public(today()))
    assert [row["name"] for row in public["rows"]] == [leg.name for leg in after]
    # Printed again, it follows the runs.
    printed(read)
    assert legs_of(read(), NAME) != before


def test_break_opening_and_safety_talk_are_no_steps_but_in_the_plan(read):
    read({NAME: LONG})
    printed(read)
    legs = legs_of(read(), NAME)
    assert [leg.name for leg in legs if not leg.number] == ["Opening", "Safety talk", "Break", "Questions"]
    assert [leg.number for leg in legs if leg.number] == [1, 2, 3, 4, 5]
    assert legs[0].planned == 120


def test_a_demonstration_left_after_a_step_comes_back_with_the_same_steps_live(read):
    read({NAME: LONG})
    printed(read)
    records = read()
    before = legs_of(records, NAME)
    # Each step takes far longer than planned: planned anew from it, others would be live.
    path = run(records, Hands(*"nnnnn", step=2400.0), name=NAME, kind="demonstration")
    again = Hands("p", *"nnnnnnnn")
    assert run(read(), again, name=NAME, kind="demonstration") == path
    one = only(path)
    assert one.finished
    assert [(leg.name, leg.shown, leg.number or 0) for leg in one.plan] == told(before)
    live = {leg.name: leg.shown for leg in before}
    assert {timing.step: timing.shown for timing in one.times} == {
        name: shown for name, shown in live.items() if shown in ("live", "talk", "ready-made")
    }
    # Nor does what it took move the plan that was followed.
    assert legs_of(read(), NAME) == before
    kit = evening_kit(read(), NAME, at=AT)
    assert [line.name for line in kit.demonstration.plan.lines] == [leg.name for leg in before]
    assert [line.minutes * 60 for line in kit.demonstration.plan.lines] == pytest.approx(
        [leg.planned for leg in before]
    )


def test_a_run_under_way_keeps_its_legs_though_the_evening_is_printed_again(read):
    read({NAME: LONG})
    printed(read)
    path = run(read(), Hands(*"nnn"), name=NAME)
    begun = [(leg.name, leg.shown) for leg in only(path).plan]
    read({NAME: LONG.replace("75 min", "40 min")})
    printed(read)
    assert [(leg.name, leg.shown) for leg in legs_of(read(), NAME)] != begun
    run(read(), Hands("p", "n"), name=NAME)
    assert [(leg.name, leg.shown) for leg in only(path).plan] == begun


def test_a_file_that_was_changed_since_says_to_print_again(read):
    read({NAME: LONG})
    printed(read)
    path = read().path(NAME)
    path.write_text(path.read_text(encoding="utf-8").replace("75 min", "60 min"), encoding="utf-8")
    shown = read().demonstration(NAME)
    assert any("no longer holds" in finding.message for finding in shown.findings)
    printed(read)
    assert not any("no longer holds" in finding.message for finding in read().demonstration(NAME).findings)


def test_moving_the_day_moves_the_clock_times_and_not_the_plan(read):
    read({NAME: LONG})
    printed(read)
    before = legs_of(read(), NAME)
    path = read().path(NAME)
    text = path.read_text(encoding="utf-8").replace("2026-06-06", "2026-06-13")
    path.unlink()
    path.with_name("2026-06-13-saltmarsh.yml").write_text(text, encoding="utf-8")
    assert legs_of(read(), "2026-06-13-saltmarsh") == before


def test_the_second_run_of_a_day_is_found_again(read):
    """`2026-05-01-2.yml` stands before `2026-05-01.yml` in the alphabet, and -10 before -2."""
    for _ in range(10):
        run(read(), Hands("n", "q"), afresh=True)
    assert run(read(), Hands("p", "q")).name == "2026-05-01-10.yml"
    assert [file.path.name for file in read().recorded.files][-2:] == ["2026-05-01-9.yml", "2026-05-01-10.yml"]


def test_a_rescued_run_that_holds_more_takes_the_poorers_place_and_the_poorer_is_kept(read, tmp_path):
    path = run(read(), Hands("n", "n", "q"))
    poorer = path.read_bytes()
    rescued = tmp_path / "rescued.yml"
    run(read(), Hands("p", "n", "n", "q"))
    rescued.write_bytes(path.read_bytes())
    path.write_bytes(poorer)
    assert take_in(read(), rescued) == path
    assert path.read_bytes() == rescued.read_bytes()
    (kept,) = path.parent.glob("*.kept")
    assert kept.read_bytes() == poorer
    assert len(read().runs) == 1
    with pytest.raises(ProjectError, match="holds no more"):
        take_in(read(), kept)


def test_one_broken_file_of_runs_keeps_no_stopwatch_from_starting_but_is_told(read, projects):
    run(read(), Hands("n", "q"))
    (projects / "piece" / "dry-runs" / "2026-04-30.yml").write_text("runs: [", encoding="utf-8")
    with pytest.raises(ProjectError, match=r"2026-04-30\.yml"):
        read()
    archive = read_projects((projects / "piece.yml",), base=projects.parent, whole_runs=False)
    (records,) = archive.records
    assert len(records.recorded.broken) == 1
    assert run(records, Hands("p", "q")).name == "2026-05-01.yml"


def test_a_run_of_another_piece_is_one_message(read, tmp_path):
    other = tmp_path / "other.yml"
    times = ", ".join(f'{{step: Step {n}, from: "{n}:00", to: "{n}:30"}}' for n in range(20))
    other.write_text(f'runs:\n  - {{began: "2026-05-01 10:00", times: [{times}]}}\n', encoding="utf-8")
    with pytest.raises(ProjectError) as caught:
        take_in(read(), other)
    (problem,) = caught.value.problems
    assert "runs of another piece" in problem.message
