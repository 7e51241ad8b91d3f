"""An evening of a set: what is packed and sawn, what waits, and by when it must be done.

That glue and finish must stand before the work goes on is common practice; how long is the author's to say.
"""

from __future__ import annotations

from datetime import timedelta

import pytest

from tests.evening.conftest import EVENING, PIECE, SHOP

NAME = "2026-06-06-saltmarsh"
LONG = EVENING.replace("60 min", "3 h")
READY = timedelta(days=7)

SET = PIECE.replace("    blank: {square: ball", "    count: 4\n    per stick: 2\n    blank: {square: ball")
SET = SET[: SET.index("  foot:\n")]
WAITING = PIECE.replace("minutes: 20, show", "minutes: 20, wait: 24 h, show")
JIG = """\
  gauge:
    says: Tenon gauge
    jig: true
    wood: any scrap
    blank: {round: 2 in, long: 2 in}
    steps:
      - {name: Drill it, say: Drill it., minutes: 6, tools: [drill press]}
"""


@pytest.fixture
def shown(read, projects):
    """An evening of a piece."""

    def show(piece: str, evening: str = LONG, shop: str = SHOP):
        (projects / "piece.yml").write_text(piece, encoding="utf-8")
        (projects / "shop.yml").write_text(shop, encoding="utf-8")
        return read({NAME: evening}).demonstration(NAME)

    return show


def packed(evening) -> dict[str, int]:
    return {item.what: item.count for group in evening.packing for item in group.items}


def due(evening) -> dict[str, timedelta]:
    """How long before the start each thing is due."""
    return {deadline.title: evening.starts - deadline.on for deadline in evening.deadlines}


def test_of_a_set_all_are_packed_to_be_shown_and_one_is_turned(shown):
    evening = shown(SET)
    found = packed(evening)
    assert found["The body, finished"] == 4
    assert found["The body: blank, to turn"] == 1
    assert found["The body: blank, spare"] == 1
    # One is turned there: the hour is as long as that of a piece that is made once.
    assert evening.plan.mean == pytest.approx(shown(SET.replace("count: 4", "count: 2")).plan.mean)
    assert evening.plan.mean < evening.sheet.minutes


@pytest.mark.parametrize(("seats", "blanks"), [(0, 2), (3, 5)])
def test_two_to_a_length_are_sawn_side_by_side_with_the_cut_between(shown, seats, blanks):
    """Of 24 in with 1/2 in off each end go 23 in: two blanks of 4 in and a cut are 8 1/8 in, twice 16 3/8 in."""
    evening = shown(SET, LONG + (f"seats: {seats}\n" if seats else ""))
    (line,) = evening.stock.lines
    assert line.count == blanks
    assert line.together.replace("\N{NO-BREAK SPACE}", " ").startswith("2 end to end from a length of 8 1/8 in")
    (cut,) = evening.stock.cuts
    assert len(cut.pieces) == blanks
    assert [long.m_as("mm") for _, long, _ in cut.pieces] == pytest.approx([4 * 25.4] * blanks)
    gone = 1.0 + blanks * 4 + (blanks - 1) / 8
    assert cut.left.m_as("mm") == pytest.approx((24 - gone) * 25.4, abs=1 / 8 * 25.4 + 0.01)


def test_a_length_that_no_stick_yields_is_told_in_blanks(shown):
    short = SHOP.replace("long: 24 in", "long: 8 in")
    evening = shown(SET, shop=short)
    ((part, count, why),) = evening.stock.missing
    assert (part, count) == ("The body", 2)
    assert "long enough" in why


def test_what_waits_is_never_in_the_hour_and_the_next_step_has_a_piece_that_has_waited(shown):
    evening, plain = shown(WAITING), shown(PIECE)
    assert evening.plan.mean == pytest.approx(plain.plan.mean)
    swaps = {line.name: line.swap for line in evening.plan.lines if line.swap}
    assert swaps == {"Sand it": "The body, finished through step 2"}
    assert not [line for line in plain.plan.lines if line.swap]
    assert [line.shown for line in evening.plan.lines if line.name == "Shape it"] == ["live"]


def test_days_are_counted_back_over_every_wait(shown):
    both = WAITING.replace("show: talk, minutes: 5", "show: talk, minutes: 5, wait: 3 days")
    found = due(shown(both))
    # The foot is done last and must stand three days; the body before it another.
    assert found["Oil it (step 5, the foot)"] == READY + timedelta(days=3)
    assert found["Shape it (step 2, the body)"] == READY + timedelta(days=4)
    assert not [title for title in due(shown(PIECE)) if "step" in title]


def test_jigs_are_packed_once_and_made_before_all_that_is_made_with_them(shown):
    with_tool = WAITING.replace("tools: [spindle gouge, calipers]", "tools: [spindle gouge, Tenon gauge]")
    evening = shown(with_tool + JIG)
    groups = {group.title: [item.what for item in group.items] for group in evening.packing}
    assert groups["Jigs, made before the evening"] == ["Tenon gauge"]
    assert sum("Tenon gauge" in items for items in groups.values()) == 1
    assert "drill press" not in " ".join(packed(evening)).casefold()
    assert due(evening)["Make the jigs"] == READY + timedelta(days=2)
    assert {line.name for line in evening.plan.lines if line.step is not None}.isdisjoint({"Drill it"})
    assert [line.part for line in evening.stock.lines] == ["The body", "The foot"]
