"""Pictures of the stages: the headstock is at the left, whichever way round a part is held; a lid may stand apart."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from handouts_build import workpiece as kernel
from handouts_build.compute.solid.assembled import assembled
from handouts_build.compute.solid.carry import Carried
from handouts_build.compute.solid.measured import carried
from handouts_build.site import picturing
from handouts_build.site.build import Archive, read_archive
from tests.projects import DEMO_PIECES, demo_archive

PIECE = """\
title: Test piece
summary: A small piece for testing.
kind: ornament
level: improver
techniques: [bead]
sizes:
  wide: {is: 2 in, says: Width}
parts:
  post:
    wood: maple, sugar
    blank: {round: wide, long: 4 in}
    steps:
      - name: Turn it
        say: Turn it.
        hold: {by: [between centers], drive: 1/2 in, reversed: true, from: 4 in}
        cut:
          - tenon: {name: spigot, diameter: 1 in, long: 1/2 in, end: HELD}
      - name: Turn it in the chuck
        say: Turn it.
        hold: {by: [chuck], on: spigot, tailstock: true, reversed: true, from: 4 in}
        cut:
          - groove: {name: ring, at: 2 in, wide: 1/8 in, floor: 7/8 in}
      - name: Turn it on a plate
        say: Turn it.
        hold: {by: [faceplate], end: HELD, tailstock: true}
        cut:
          - groove: {name: other ring, at: 3 in, wide: 1/8 in, floor: 7/8 in}
"""


def _across(part: Carried, archive: Archive, name: str) -> list[tuple[int, list[float]]]:
    """Of every step that turns: its index, and where in the picture, in pixels, what holds it stands."""
    stages = carried(part.plan, archive.session.solids[name].shop, part.limits)
    seen = picturing._seen(stages)
    found = []
    for index, (each, camera) in enumerate(zip(seen, picturing._cameras(stages[0], seen), strict=True)):
        if each.holds:
            wood = camera.project(each.before.wood.vertices, width_px=720)[:, 0]
            holds = [camera.project(mesh.vertices, width_px=720)[:, 0].mean() for mesh in each.holds]
            found.append((index, [*holds[:1], float(wood.min() + wood.max()) / 2, *holds[1:]]))
    return found


@pytest.mark.parametrize("name", DEMO_PIECES)
def test_what_drives_the_wood_is_left_of_it_and_the_tail_is_right_of_it(name: str) -> None:
    archive = demo_archive()
    solids = archive.session.solids[name]
    # A part that is sawn at the bench alone, such as a base of a staved vessel, is never driven.
    found = {part.plan.part: _across(part, archive, name) for part in solids.parts.values()}
    assert any(found.values())
    for part, stages in found.items():
        for index, places in stages:
            assert places == sorted(places), (part, index + 1)


@pytest.mark.parametrize("end", ["left", "right"])
def test_a_reversed_hold_measures_the_other_way_and_is_driven_from_the_left(end: str, tmp_path: Path) -> None:
    (tmp_path / "piece.yml").write_text(PIECE.replace("HELD", end))
    archive = read_archive(tmp_path, base=tmp_path)
    (part,) = archive.session.solids["piece"].parts.values()
    found = _across(part, archive, "piece")
    assert [index for index, _ in found] == [0, 1, 2]
    assert all(places == sorted(places) and len(places) == 3 for _, places in found)
    (sheet,) = archive.sheets
    told = [step.stage is not None and "its right end is at the headstock" in step.stage.says for step in sheet.steps]
    # A cut's end is where places are least or greatest, a hold's is the part's own.
    assert told == [False, end == "left", end == "right"]


def test_a_part_lies_as_before_while_it_does_not_turn_and_across_where_it_turns_on_holes_across() -> None:
    ways: list[kernel.Vector | None] = [None, (0, 0, -1), None, (0, 1, 0), (0, 0, 1)]
    lies = kernel.lying(ways)
    assert lies[0] == kernel.PART_AXIS
    assert lies[4] == kernel.PART_AXIS
    assert lies[1] == lies[2]
    for way, frame in zip(ways, lies, strict=True):
        if way is not None:
            assert np.allclose(frame.to_lathe(np.array(way, float)), (0, 0, 1))


def test_the_box_stands_an_inch_apart_and_is_measured_closed() -> None:
    archive = demo_archive()
    together, shop = archive.session.together["lidded-box"], archive.session.solids["lidded-box"].shop
    assert together is not None
    closed = assembled(together.parts, together.joints, shop)
    first, last = (
        max(part.wood.box_mm[5] for part in one.placed) - min(part.wood.box_mm[2] for part in one.placed)
        for one in (closed, closed.opened)
    )
    assert last - first == pytest.approx(25.4, abs=1e-6)
    assert closed.opened.volume_mm3 == pytest.approx(closed.volume_mm3)
    (long,) = [fact.value for fact in together.whole.facts if fact.name == "long"]
    assert kernel.in_mm(long) == pytest.approx(first, abs=0.01)
    assert "1 in (25.5 mm) apart at the spigot" in together.whole.says.replace("\xa0", " ")
    shut = tuple(replace(joint, apart_mm=0.0) for joint in together.joints)
    assert assembled(together.parts, shut, shop).center_mm == closed.center_mm


def test_what_is_for_paper_alone_is_smaller_shows_the_same_and_is_fine_enough_to_print(tmp_path: Path) -> None:
    (tmp_path / "post.yml").write_text(PIECE.replace("HELD", "left"), encoding="utf-8")
    archive = read_archive(tmp_path, base=tmp_path)
    sheet = archive.sheets[0]
    pages, papers = (
        picturing.stage_shots(sheet, archive.session.solids[sheet.name], dark=dark) for dark in (True, False)
    )
    assert pages.keys() == papers.keys()
    for number, large in pages.items():
        small = papers[number]
        assert large.dark
        assert not small.dark
        assert small.alt == large.alt
        share = small.width_px / large.width_px
        assert share < 1
        # What is drawn on is the same part of the frame, but for the width of its outline.
        assert np.allclose(np.array(small.ink) / share, large.ink, atol=5)
        # A step's picture is set 45 mm wide; 250 to the inch is enough for line work in tones, common practice.
        assert small.width_px / 45 * 25.4 > 250
