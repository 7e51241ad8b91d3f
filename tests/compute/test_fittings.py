"""Whether the kit goes on a lathe, and whether there is room to drill on it."""

from __future__ import annotations

from pathlib import Path

import pytest

from handouts_build.compute.fittings import room_to_drill
from handouts_build.problems import Place
from handouts_build.schema import ShopKeys, load_project
from handouts_build.sheet import Sheet
from handouts_build.sheet.findings import Finding, Level
from tests.projects import worked

PARTS = """\
parts:
  body:
    wood: maple, sugar
    blank: {round: 2 in, long: 6 in}
    steps:
      - name: Turn a tenon
        say: Turn it.
        hold: {by: [between centers]}
        cut: [{tenon: {diameter: 1 1/2 in, long: 1/2 in, end: left}}]
      - name: Drill it
        say: Drill it.
        work: [drilling]
        hold: {by: [chuck], on: tenon}
        cut: [{bore: {diameter: 1/2 in, end: right, deep: 3 in}}]
"""


def _found(folder: Path, shop: str, *, parts: str = PARTS) -> list[Finding]:
    (folder / "shop.yml").write_text(shop, encoding="utf-8")
    return [one for one in worked(folder, parts=parts).findings if "between" in one.message or "lathe" in one.about
            or "quill" in one.message]  # fmt: skip


@pytest.mark.parametrize(
    ("lathe", "kit", "said", "remedy"),
    [
        ("MT2", "[MT2]", "", ""),
        ("MT2", "[MT1, MT2]", "", ""),
        ("MT2", "[]", "", ""),
        # A smaller arbor goes into a larger socket with a sleeve, never the other way: the tapers' published diameters.
        ("MT2", "[MT1]", "the lathe takes MT2, and the centers and the drill chuck are MT1", "sleeve, MT1 to MT2"),
        ("MT3", "[MT1, MT2]", "the lathe takes MT3", "sleeve, MT2 to MT3"),
        ("MT1", "[MT2]", "are MT2: too thick to go in", "with MT1 arbors"),
    ],
)
def test_centers_go_in_the_lathes_taper_or_need_a_sleeve(
    lathe: str, kit: str, said: str, remedy: str, tmp_path: Path
) -> None:
    found = _found(tmp_path, f"lathe: {{taper: {lathe}}}\ntapers: {kit}\n")
    assert len(found) == bool(said)
    for one in found:
        assert (one.level, one.place.path) == (Level.MIND, "parts.body.steps[0].hold")
        assert said in one.message
        assert remedy in one.remedy


@pytest.mark.parametrize(
    ("threads", "minded"), [("[1 in x 8 TPI]", False), ("[M33 x 3.5, 1 in x 8 TPI]", False), ("[M33 x 3.5]", True)]
)
def test_a_chuck_goes_on_the_spindles_thread_or_needs_an_adapter(threads: str, minded: bool, tmp_path: Path) -> None:
    found = _found(tmp_path, f"lathe: {{thread: 1 in x 8 TPI}}\nthreads: {threads}\n")
    assert [one.place.path for one in found] == ["parts.body.steps[1].hold"] * minded
    assert all("spindle adapter for 1 in x 8 TPI" in one.remedy for one in found)


def test_a_piece_that_needs_neither_chuck_nor_centers_is_not_asked_of_them(tmp_path: Path) -> None:
    parts = PARTS.replace("{by: [between centers]}", "{by: [hand]}").replace("{by: [chuck], on: tenon}", "{by: [hand]}")
    parts = parts.replace("cut: [{tenon: {diameter: 1 1/2 in, long: 1/2 in, end: left}}]", "show: live")
    parts = parts.replace("work: [drilling]", "show: live").partition("        cut: [{bore")[0]
    shop = "lathe: {thread: 1 in x 8 TPI, taper: MT1}\nthreads: [M33 x 3.5]\ntapers: [MT2]\n"
    assert not _found(tmp_path, shop, parts=parts)


SHOP = "lathe: {{between: {between}, quill: {quill}}}\nchuck long: 4 in\nbit reach: 3 1/2 in\ndrill chuck long: 3 in\n"


# 4 in of chuck, 5 1/2 in of wood out of its tenon's hold, 3 1/2 in of bit and 3 in of drill chuck make 16 in.
@pytest.mark.parametrize(("between", "minded"), [("16 in", False), ("15 7/8 in", True), ("9 in", True)])
def test_chuck_wood_bit_and_drill_chuck_must_stand_in_a_row(between: str, minded: bool, tmp_path: Path) -> None:
    found = _found(tmp_path, SHOP.format(between=between, quill="4 in"))
    told = [one for one in found if "make 16" in one.message]
    assert len(told) == minded
    for one in told:
        assert one.level is Level.MIND
        assert one.place.path == "parts.body.steps[1]"
        assert "the chuck of 4\u00a0in" in one.message
        assert "5\u00a01/2\u00a0in (140\u00a0mm) of wood" in one.message


@pytest.mark.parametrize(("quill", "noted"), [("3 in", False), ("2 1/2 in", True)])
def test_a_hole_deeper_than_the_quill_travels_takes_two_sittings(quill: str, noted: bool, tmp_path: Path) -> None:
    found = [one for one in _found(tmp_path, SHOP.format(between="30 in", quill=quill)) if "quill" in one.message]
    assert [one.level for one in found] == [Level.NOTE] * noted


def _sheet(folder: Path) -> tuple[Sheet, object]:
    sheet = worked(folder, parts=PARTS)
    project, _ = load_project(folder / "piece.yml", "piece.yml")
    return sheet, project


def test_a_hosts_lathe_is_asked_the_same(tmp_path: Path) -> None:
    sheet, project = _sheet(tmp_path)
    shop = ShopKeys.model_validate({"lathe": {"between": "9 in"}})
    (step,) = (one for one in sheet.parts[0].steps if one.stage is not None and one.stage.drilled is not None)
    keys = project.parts["body"].steps[1]  # type: ignore[attr-defined]
    (found,) = room_to_drill(
        step, keys, shop.lathe, ShopKeys.model_validate({"chuck long": "4 in"}), about="The host's lathe",
        place=Place("a.yml", 1, 1, "lathe"), rule=sheet.rule, there=" there",
    )  # fmt: skip
    # No reach of bits is said: the bit is as long as the hole at least. 4 + 5 1/2 + 3 in.
    assert "make 12\u00a01/2\u00a0in" in found.message
    assert "there are 9\u00a0in (228.5\u00a0mm) there between centers" in found.message


@pytest.mark.parametrize(
    ("hold", "shop", "minded"),
    [
        ("{by: [between centers], drive: 1 in}", "by: A. Turner\n", True),
        ("{by: [between centers], drive: 3/8 in}", "by: A. Turner\n", False),
        # The smallest in the kit is taken where the step does not say which.
        ("{by: [between centers]}", "drive centers: [1 in, 3/4 in]\n", True),
        ("{by: [between centers]}", "drive centers: [1 in, 3/8 in]\n", False),
    ],
)
def test_a_drive_center_must_bear_on_whole_wood(hold: str, shop: str, minded: bool, tmp_path: Path) -> None:
    """A stick 1/2 in across bears a center of 3/8 in, and none of 3/4 or 1 in."""
    (tmp_path / "shop.yml").write_text(shop, encoding="utf-8")
    parts = PARTS.replace("round: 2 in", "round: 1/2 in").replace("{by: [between centers]}", hold)
    parts = parts.replace("diameter: 1 1/2 in", "diameter: 3/8 in").partition("      - name: Drill it")[0]
    found = [one for one in worked(tmp_path, parts=parts).findings if "the drive center is" in one.message]
    assert len(found) == minded
    assert all("use a smaller drive center" in one.remedy for one in found)
