"""Nothing is shown on a piece that is not there: what is told, left out or dropped has been done to the next piece.

That a step needs the ones before it done on the wood is common practice, no published source.
"""

from __future__ import annotations

from itertools import combinations

import pytest

from tests.evening.conftest import EVENING

NAME = "2026-06-06-saltmarsh"
LONG = EVENING.replace("60 min", "3 h")
BODY = ("Rough it", "Shape it", "Sand it")


def evening(read, extra="", base=LONG):
    return read({NAME: base + extra}).demonstration(NAME)


def taken_up(shown):
    return {line.name: line.swap for line in shown.plan.lines if line.swap}


def rewritten(projects, old, new):
    text = (projects / "piece.yml").read_text(encoding="utf-8")
    assert old in text
    (projects / "piece.yml").write_text(text.replace(old, new), encoding="utf-8")


def lacking(plan, dropped):
    """Live steps that are still turned though one of their part before them is not, and no piece was taken up since."""
    undone: set[str] = set()
    for line in plan.lines:
        if line.step is None:
            continue
        undone -= {piece.part for piece in line.brought}
        if line.name in dropped:
            undone.add(line.step.part)
        elif line.shown == "live" and line.step.part in undone:
            yield line.name


@pytest.mark.parametrize("slot", ["66 min", "70 min", "80 min", "3 h"])
@pytest.mark.parametrize(
    "extra",
    ["", "must see: [Sand it]\n", "must see: [Shape it]\n", "ready made: [Sand it]\n", "ready made: [Shape it]\n"],
)
def test_whatever_is_dropped_in_its_order_no_later_step_lacks_it(read, slot, extra):
    plan = evening(read, extra, EVENING.replace("60 min", slot)).plan
    assert plan.checkpoints
    for check in plan.checkpoints:
        dropped: set[str] = set()
        for drop in check.drop:
            dropped |= set(drop.names)
            assert not list(lacking(plan, dropped))
            assert not any(line.why == "must be seen" for line in plan.lines if line.name in dropped)


def test_the_end_of_a_part_is_dropped_first_though_it_is_worth_more(read, projects):
    rewritten(projects, "{worth: 5, camera: overhead}", "{worth: 1, camera: overhead}")
    rewritten(projects, "worth: 1}}\n  foot", "worth: 5}}\n  foot")
    drops = [one.names for one in evening(read).plan.checkpoints[0].drop]
    assert drops.index(("Sand it",)) < drops.index(("Shape it",))


def test_what_a_step_that_must_be_seen_rests_on_is_never_dropped(read):
    for check in evening(read, "must see: [Sand it]\n").plan.checkpoints:
        assert not {name for drop in check.drop for name in drop.names} & set(BODY)


def test_a_step_whose_wood_is_packed_done_may_be_dropped_and_the_piece_is_named(read):
    (drop, *_) = [
        drop
        for check in evening(read, "ready made: [Sand it]\n").plan.checkpoints
        for drop in check.drop
        if drop.names == ("Shape it",)
    ]
    assert drop.take_up == "The body, finished through step 3"


@pytest.mark.parametrize("many", [1, 2])
def test_a_step_that_rests_on_what_is_left_out_is_shown_on_a_piece_with_that_done(read, many):
    for out in combinations(BODY, many):
        shown = evening(read, f"left out: [{', '.join(out)}]\n")
        assert not list(lacking_on_the_way(shown.plan))


def lacking_on_the_way(plan):
    """Live steps whose part is not done up to the step before them: by what is turned and by what is taken up."""
    done: dict[str, int] = {}
    first = {}
    for line in plan.lines:
        if line.step is None:
            continue
        part = line.step.part
        first.setdefault(part, 1 if part == "body" else 4)
        for piece in line.brought:
            done[piece.part] = piece.step
        if line.shown == "live":
            if done.get(part, first[part] - 1) != line.step.number - 1:
                yield line.name
            done[part] = line.step.number


def test_what_is_left_out_between_two_live_steps_needs_a_second_piece_and_its_wood(read):
    shown = evening(read, "left out: [Shape it]\n")
    assert taken_up(shown) == {"Sand it": "The body, finished through step 2"}
    items = {item.what: item.count for group in shown.packing for item in group.items}
    assert items["The body, finished through step 2"] == 1
    assert dict(shown.stock.lines[0].uses) == {"to turn": 1, "ready-made": 1, "spare": 1}
    assert any(one.startswith("Left out: Shape it.") for one in shown.plan.says)


def test_what_is_left_out_first_is_done_on_the_piece_that_is_turned(read):
    shown = evening(read, "left out: [Rough it]\n")
    assert taken_up(shown) == {"Shape it": "The body, finished through step 1"}
    assert dict(shown.stock.lines[0].uses) == {"ready-made": 1, "spare": 1}


def test_what_is_left_out_after_a_ready_made_step_is_done_on_its_piece(read):
    shown = evening(read, "ready made: [Rough it]\nleft out: [Shape it]\n")
    assert taken_up(shown) == {"Rough it": "The body, finished through step 2"}


def test_what_is_left_out_at_the_end_needs_no_piece(read):
    assert taken_up(evening(read, "left out: [Sand it]\n")) == {}
    assert taken_up(evening(read, f"left out: [{', '.join(BODY)}]\n")) == {}


def test_a_step_that_is_told_and_takes_wood_away_is_done_on_the_next_piece(read, projects):
    rewritten(projects, "{name: Rough it, ", "{name: Rough it, cut: [{cylinder: {diameter: ball}}], ")
    rewritten(projects, "show: {worth: 2,", "show: {as: talk, worth: 2,")
    assert taken_up(evening(read)) == {"Rough it": "The body, finished through step 1"}


def test_a_part_that_falls_off_another_is_there_when_it_is_turned(read, projects):
    """A lid whose box is left out must have been parted off all the same."""
    rewritten(projects, "    says: The foot\n", "    says: The foot\n    falls off: body\n")
    shown = evening(read, f"left out: [{', '.join(BODY)}]\n")
    assert taken_up(shown) == {"Turn the foot": "The body, finished through step 3"}
    drops = [drop.names for drop in evening(read).plan.checkpoints[0].drop]
    assert drops[0] == ("Turn the foot",)


def test_a_part_that_is_put_on_another_is_there_when_that_is_turned(read, projects):
    """A lid that is not turned there has to lie ready, made, for the box that it is turned on."""
    seat = "cut: [recess: {name: seat, diameter: 1/2 in, deep: 3/8 in, end: right}], "
    rewritten(projects, "{name: Rough it, ", f"{{name: Rough it, {seat}")
    peg = "cut: [tenon: {name: peg, diameter: 1/2 in, long: 1/4 in, end: right}]"
    chuck = "hold: {by: [chuck], deep: 1 in"
    rewritten(
        projects, "{name: Turn the foot, ",
        f"{{name: Turn the peg, say: Turn it., {chuck}}}, {peg}, minutes: 1}}\n"
        f"      - {{name: Turn the foot, {chuck}, put on: body, tailstock: true}}, ",
    )  # fmt: skip
    with (projects / "piece.yml").open("a", encoding="utf-8") as file:
        file.write("assembly: {joints: [{put: foot, tenon: peg, into: body, hole: seat, tight: Pressed on.}]}\n")
    shown = evening(read, f"left out: [{', '.join(BODY)}]\n")
    assert taken_up(shown) == {"Turn the peg": "The body, finished through step 3"}


def test_where_another_step_gains_more_than_those_worth_least_it_is_offered_too(read, projects):
    """Four pegs of three minutes are worth least; the foot, of fifteen, is offered after the three of them."""
    pegs = "".join(
        f"  peg_{at}:\n    says: Peg {at}\n    wood: maple, sugar\n    blank: {{square: 1 in, long: 3 in}}\n"
        f"    steps:\n      - {{name: Turn peg {at}, say: Turn it., minutes: 5, show: {{worth: 1}}}}\n"
        for at in range(1, 5)
    )
    with (projects / "piece.yml").open("a", encoding="utf-8") as file:
        file.write(pegs)
    must = "must see: [Rough it, Shape it, Sand it]\n"
    *least, most = evening(read, must).plan.checkpoints[0].drop
    assert [drop.names for drop in least] == [(f"Turn peg {at}",) for at in (1, 2, 3)]
    assert most.names == ("Turn the foot",)
    assert most.saves > max(drop.saves for drop in least)
