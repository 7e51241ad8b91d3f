"""The plan keeps the clock: starts, break, questions, what must be seen, and when it is too late."""

from __future__ import annotations

from datetime import UTC, timedelta
from statistics import NormalDist

import pytest

from handouts_build.trade.timing import three_point
from tests.evening.conftest import EVENING


def plan_of(read, extra="", base=EVENING, **runs):
    name = base[6:16] + "-saltmarsh"
    return read({name: base + extra}, runs or None).demonstration(name).plan


def test_each_entry_starts_when_the_one_before_ends(read):
    plan = plan_of(read, "break: 5 min\n", EVENING.replace("60 min", "2 h"))
    for before, after in zip(plan.lines, plan.lines[1:], strict=False):
        gone = after.starts.astimezone(UTC) - before.starts.astimezone(UTC)
        assert gone.total_seconds() == pytest.approx(before.minutes * 60, abs=0.001)
    assert [line.kind for line in plan.lines].count("break") == 1
    assert plan.lines[-1].kind == "questions"
    assert plan.mean == pytest.approx(sum(line.minutes for line in plan.lines))
    assert plan.ends - plan.lines[0].starts == timedelta(hours=2)


def test_the_break_stands_where_it_is_asked_for_or_near_the_middle(read):
    long = EVENING.replace("60 min", "2 h") + "break: 10 min\n"
    asked = [line.name for line in plan_of(read, "break after: Rough it\n", long).lines]
    assert asked[1] == "Break"
    free = plan_of(read, "", long).lines
    at = next(index for index, line in enumerate(free) if line.kind == "break")
    steps = [line.minutes for line in free if line.kind == "step"]
    split = sum(steps[:at])
    assert all(abs(split - sum(steps) / 2) <= abs(sum(steps[:n]) - sum(steps) / 2) for n in range(1, len(steps)))


def test_a_show_over_the_change_of_the_clock_is_told_by_both_clocks(read):
    """On 2026-11-01 New York's clock goes from 01:59 back to 01:00 (IANA); London's stays."""
    base = EVENING.replace("2026-06-06", "2026-11-01").replace("19:30", "00:45").replace("60 min", "2 h")
    plan = plan_of(read, "speaker zone: Europe/London\n", base)
    by_clock = [f"{line.starts:%H:%M}" for line in plan.lines]
    assert by_clock[0] == "00:45"
    whole = plan.ends.astimezone(UTC) - plan.lines[0].starts.astimezone(UTC)
    assert whole == timedelta(hours=2)
    assert f"{plan.ends:%H:%M}" == "01:45"


def test_steps_are_shown_in_the_order_that_is_asked_for(read):
    """A lid is hollowed before the box is fitted to it, though the box's steps stand first."""
    long = EVENING.replace("60 min", "3 h")
    names = [line.name for line in plan_of(read, "order: [Rough it, Turn the foot, Oil it, Shape it]\n", long).lines]
    assert names == ["Rough it", "Turn the foot", "Oil it", "Shape it", "Sand it", "Questions"]
    first = [line.name for line in plan_of(read, "order: [Turn the foot, Rough it]\n", long).lines]
    assert first == ["Shape it", "Sand it", "Turn the foot", "Rough it", "Oil it", "Questions"]


def test_what_must_be_seen_is_live_and_the_rest_gives_way_by_worth(read):
    """55 minutes for 60 minutes of steps: sanding, worth least, is brought ready-made first."""
    plan = plan_of(read)
    shown = {line.name: line.shown for line in plan.lines}
    assert shown["Oil it"] == "talk"
    assert shown["Shape it"] == "live"
    assert shown["Sand it"] == "ready-made"
    assert plan.fits
    assert plan.chance >= plan.confidence
    forced = {line.name: line for line in plan_of(read, "must see: [Sand it]\n").lines}
    assert forced["Sand it"].shown == "live"
    assert forced["Sand it"].why == "must be seen"


def test_what_is_asked_ready_made_or_left_out_is(read):
    plan = plan_of(read, "ready made: [Shape it]\nleft out: [Oil it]\n", EVENING.replace("60 min", "3 h"))
    lines = {line.name: line for line in plan.lines}
    assert lines["Shape it"].shown == "ready-made"
    assert "step 2" in lines["Shape it"].swap
    assert "Oil it" not in lines


def test_several_ready_made_steps_in_a_row_need_one_piece(read):
    plan = plan_of(read, "ready made: [Rough it, Shape it]\n", EVENING.replace("60 min", "3 h"))
    assert [(line.name, line.swap) for line in plan.lines if line.swap] == [
        ("Rough it", "The body, finished through step 2")
    ]
    assert [line.name for line in plan.lines if line.told_on] == ["Shape it"]


def test_where_it_fits_less_surely_than_asked_it_says_so(read):
    """A slot of 68 minutes for steps of 63 and questions of 5: about one chance in two."""
    must = "must see: [Rough it, Shape it, Sand it, Turn the foot]\n"
    records = read({"2026-06-06-saltmarsh": EVENING.replace("60 min", "68 min") + must})
    shown = records.demonstration("2026-06-06-saltmarsh")
    assert not shown.plan.fits
    assert any("fits its slot" in finding.message for finding in shown.findings)
    assert not shown.stopped


def test_the_latest_time_leaves_as_much_certainty_as_was_asked(read):
    """At the latest time, what is left fits with exactly the chance asked for."""
    plan = plan_of(read, "", EVENING.replace("60 min", "80 min"))
    assert plan.checkpoints
    for check in plan.checkpoints:
        at = next(index for index, line in enumerate(plan.lines) if line.name == check.before)
        rest = [line for line in plan.lines[at:] if line.kind != "questions"]
        left = NormalDist(sum(line.minutes for line in rest), sum(line.sd**2 for line in rest) ** 0.5)
        room = (plan.ends - check.latest).total_seconds() / 60 - 5
        assert left.cdf(room) == pytest.approx(0.9, abs=0.0001)
        assert check.expected == plan.lines[at].starts


def test_runs_replace_the_guess_as_they_come(read):
    run = """\
        runs:
          - began: 2026-05-01 10:00
            finished: true
            times:
              - {step: Rough it, from: "0:00", to: "8:00"}
              - {step: Shape it, from: "8:00", to: "20:00"}
              - {step: Rough it, from: "20:00", to: "22:00"}
              - {step: Shape it, from: "22:00", to: "40:00"}
    """
    records = read({"2026-06-06-saltmarsh": EVENING + "must see: [Shape it]\n"}, {"2026-05-01": run, "2026-05-02": run})
    lines = {line.name: line for line in records.demonstration("2026-06-06-saltmarsh").plan.lines}
    guess = three_point(15, 20, 30)
    assert lines["Shape it"].minutes == pytest.approx((guess.mean + 30 + 30) / 3)
    assert lines["Shape it"].runs == 2


def test_a_step_that_was_broken_off_tells_nothing(read):
    run = """\
        runs:
          - began: 2026-05-01 10:00
            times:
              - {step: Rough it, from: "0:00", to: "1:00"}
              - {step: Shape it, from: "1:00", to: "2:00"}
            skipped: [Rough it]
    """
    records = read({"2026-06-06-saltmarsh": EVENING}, {"2026-05-01": run})
    assert all(line.runs == 0 for line in records.demonstration("2026-06-06-saltmarsh").plan.lines)
