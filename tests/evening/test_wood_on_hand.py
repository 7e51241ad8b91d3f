"""Wood on hand is sawn once: a stick that an earlier evening has is not offered to a later one."""

from __future__ import annotations

from pathlib import Path

import pytest

from handouts_build.evening.folder import evening_kit
from handouts_build.evening.wood import sticks_taken
from handouts_build.outputs.evening.words import stock_words
from handouts_build.sheet.evening import Demonstration
from handouts_build.site.build import read_projects
from tests.evening.conftest import EVENING, PIECE
from tests.typed import typed

EARLIER, LATER = "2099-06-06-saltmarsh", "2099-06-13-saltmarsh"
KEPT = "earlier demonstrations saw up every stick of that wood"


def write(projects: Path, piece: str, name: str, more: str = "") -> Path:
    path = projects / piece / "demonstrations" / f"{name}.yml"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(EVENING.replace("2026-06-06", name[:10]) + more, encoding="utf-8")
    return path


def shown(projects: Path, piece: str, name: str) -> Demonstration:
    archive = read_projects([projects / f"{piece}.yml"], base=projects.parent)
    taken = sticks_taken(archive, name, base=projects.parent)
    return evening_kit(archive.records[0], name, taken=taken).demonstration


@pytest.fixture
def two(projects: Path) -> Path:
    """Two pieces of the same wood on two days, and one stick that is long enough for either."""
    (projects / "other.yml").write_text(PIECE.replace("Test piece", "Other piece"), encoding="utf-8")
    write(projects, "other", EARLIER)
    write(projects, "piece", LATER)
    return projects


def test_a_stick_is_sawn_for_the_earlier_evening_and_not_offered_to_the_later(two):
    first, second = shown(two, "other", EARLIER), shown(two, "piece", LATER)
    assert {cut.stick for cut in first.stock.cuts} == {"maple A"}
    assert not first.stock.missing
    assert not first.stock.taken
    assert not second.stock.cuts
    assert {why for _, _, why in second.stock.missing} == {KEPT}
    assert any(finding.about == "The wood" for finding in second.findings)
    (said,) = stock_words(second)["taken"]
    assert (
        said == "Not for this evening: maple A, sawn for Other piece at Saltmarsh Lathe Circle, Saturday, 6 June 2099."
    )


def test_of_two_sticks_each_evening_has_one(two):
    shop = two / "shop.yml"
    shop.write_text(shop.read_text(encoding="utf-8").replace("price: 12", "price: 12, count: 2"), encoding="utf-8")
    second = shown(two, "piece", LATER)
    assert [cut.stick for cut in second.stock.cuts] == ["maple A"]
    assert not second.stock.missing
    assert [(one.stick, one.count) for one in second.stock.taken] == [("maple A", 1)]


@pytest.mark.parametrize("over", ["cancelled: The hall is flooded.\n", "afterwards: {attended: 3}\n"])
def test_an_evening_that_is_cancelled_or_was_held_gives_its_wood_back(two, over):
    write(two, "other", EARLIER, over)
    second = shown(two, "piece", LATER)
    assert [cut.stick for cut in second.stock.cuts] == ["maple A"]
    assert not second.stock.taken


def test_an_evening_that_is_past_gives_its_wood_back(two, monkeypatch):
    # 7 June 2099, 20:00 UTC: the day of the earlier one is over everywhere.
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "4084545600")
    assert [cut.stick for cut in shown(two, "piece", LATER).stock.cuts] == ["maple A"]


def test_on_one_day_the_pieces_have_their_turn_by_name(two):
    write(two, "piece", EARLIER)
    assert not shown(two, "other", EARLIER).stock.missing
    assert {why for _, _, why in shown(two, "piece", EARLIER).stock.missing} == {KEPT}


def test_two_evenings_of_one_piece_share_the_wood_too(projects):
    write(projects, "piece", EARLIER)
    write(projects, "piece", LATER)
    assert not shown(projects, "piece", EARLIER).stock.missing
    assert {why for _, _, why in shown(projects, "piece", LATER).stock.missing} == {KEPT}


def test_an_evening_that_has_no_wood_left_itself_takes_none_from_the_next(two):
    """The first saws into the one stick and the second gets none: the third is told of the first alone."""
    write(two, "piece", "2099-06-20-saltmarsh")
    taken = shown(two, "piece", "2099-06-20-saltmarsh").stock.taken
    assert [(one.stick, one.count) for one in taken] == [("maple A", 1)]


def test_a_project_that_cannot_be_worked_out_keeps_no_evening_from_being_printed(two):
    (two / "other.yml").write_text("title: [", encoding="utf-8")
    assert [cut.stick for cut in shown(two, "piece", LATER).stock.cuts] == ["maple A"]


def test_the_command_tells_that_the_wood_is_kept(two):
    code, _, err = typed("evening", "piece", LATER, "--to", "kit")
    assert code == 0
    assert KEPT in err
