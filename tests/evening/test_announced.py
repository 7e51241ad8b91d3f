"""Demonstrations that are announced are looked at wherever the archive is, and share an evening without harm."""

from __future__ import annotations

from tests.evening.conftest import EVENING, PIECE
from tests.evening.test_commands import everything
from tests.typed import typed

DATE = "2099-06-06"
NAME = f"{DATE}-saltmarsh"
COMING = EVENING.replace("2026-06-06", DATE)
SMALL = "lathe: {swing: 1 in, between: 3 in}\n"


def announced(projects, text, piece="piece", name=NAME):
    folder = projects / piece / "demonstrations"
    folder.mkdir(parents=True, exist_ok=True)
    (folder / f"{name}.yml").write_text(text, encoding="utf-8")


def test_check_looks_at_a_demonstration_to_come(projects):
    announced(projects, COMING + SMALL)
    code, out, _ = typed("check")
    assert code == 1
    assert f"projects/piece/demonstrations/{NAME}.yml:7:8: lathe: stop:" in out
    announced(projects, COMING)
    assert typed("check")[0] == 0


def test_pages_for_another_engine_are_made_and_the_stop_is_said(projects):
    announced(projects, COMING + SMALL)
    code, _, err = typed("pages", "--to", "pages", "--no-papers")
    assert code == 0
    assert ".yml:7:8: lathe: stop:" in err
    assert (projects.parent / "pages" / "projects" / "piece.md").exists()


def test_check_leaves_a_demonstration_alone_that_is_past_or_has_been_held(projects):
    announced(projects, COMING.replace(DATE, "2020-06-06") + SMALL, name="2020-06-06-saltmarsh")
    announced(projects, COMING + SMALL + "afterwards: {attended: 3}\n")
    code, out, _ = typed("check")
    assert code == 0
    assert "stop:" not in out
    assert "lathe: " not in out


def two_pieces(projects, second=COMING):
    (projects / "other.yml").write_text(PIECE.replace("Test piece", "Other piece"), encoding="utf-8")
    announced(projects, COMING)
    announced(projects, second, piece="other")


def test_two_demonstrations_at_one_time_are_minded(projects):
    two_pieces(projects)
    code, out, _ = typed("check")
    assert code == 0
    assert out.count("overlaps") == 1
    assert "Other piece, 7:30 pm to 8:30 pm, overlaps Test piece, 7:30 pm to 8:30 pm" in out
    assert "overlaps other at Saltmarsh Lathe Circle" in typed("evening", "piece", DATE, "--to", "kit")[2]


def test_two_demonstrations_after_each_other_are_not(projects):
    two_pieces(projects, COMING.replace("19:30", "20:30"))
    assert "overlaps" not in typed("check")[1]
    assert "overlaps" not in typed("evening", "piece", DATE, "--to", "kit")[2]


def test_two_pieces_share_a_folder(projects):
    two_pieces(projects, COMING.replace("19:30", "20:30"))
    for piece in ("piece", "other"):
        assert typed("evening", piece, DATE, "--to", "kit")[0] == 0
    made = everything(projects.parent / "kit")
    assert len(made) == 16
    assert {name for name in made if name.endswith(".ics")} == {
        f"{piece}-{NAME}-calendar.ics" for piece in ("piece", "other")
    }


def test_an_over_full_evening_ends_with_1(projects):
    must = "must see: [Rough it, Shape it, Sand it, Turn the foot]\n"
    announced(projects, COMING.replace("60 min", "45 min") + must)
    code, _, err = typed("evening", "piece", DATE, "--to", "kit")
    assert code == 1
    assert "stop: the show is over its slot of 45 min" in err


SHOP = """sticks:
  - {name: the one plank, wood: "maple, sugar", square: 3 in, long: 8 in, count: COUNT}
"""


def test_wood_that_two_demonstrations_count_on_is_noted_at_the_later(projects):
    two_pieces(projects, COMING.replace("19:30", "20:30"))
    (projects / "shop.yml").write_text(SHOP.replace("COUNT", "1"), encoding="utf-8")
    code, out, _ = typed("check")
    assert code == 0
    assert out.count("the one plank") == 1
    assert f"projects/other/demonstrations/{NAME}.yml" in out
    assert "counts on 1 of the one plank" in out
    assert f"Test piece (projects/piece/demonstrations/{NAME}.yml)" in out
    assert "there is 1" in out
    (projects / "shop.yml").write_text(SHOP.replace("COUNT", "9"), encoding="utf-8")
    assert "the one plank" not in typed("check")[1]
