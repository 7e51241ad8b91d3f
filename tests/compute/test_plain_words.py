"""What a finding, a number or a box says is what the turner needs to hear about this very piece."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from handouts_build.compute.solid.words import held
from handouts_build.figures.arrangement import general_arrangement
from handouts_build.sheet import Sheet
from tests.projects import demo_archive, problems, worked

CUP = """\
profiles:
  side: {says: Side, part: body, along: [{cylinder: {diameter: 2 in, long: 2 in}}]}
parts:
  body:
    wood: maple, sugar
    blank: {round: 2 1/4 in, long: 3 in}
    steps:
      - name: Turn it
        say: Turn it.
        hold: {by: [between centers], tailstock: true}
        cut:
          - tenon: {name: foot, diameter: 1 1/4 in, long: 3/8 in, end: left}
          - profile: {shape: side, at: 1/2 in}
          - part off: {at: 2 1/2 in, keep: left}
      - name: Hollow it
        say: Hollow it.
        hold: {by: [chuck], on: foot}
        cut: [{hollow: {outside: side, wall: 1/4 in, floor: 1/4 in, end: right}}]
"""
MALLET = """\
parts:
  head:
    wood: maple, sugar
    blank: {round: 3 in, long: 4 in}
    steps:
      - name: Turn it
        say: Turn it.
        hold: {by: [between centers]}
        cut: [{cylinder: {diameter: 2 3/4 in}}]
      - name: Drill it
        say: Drill it.
        hold: {by: [HOLD]}
        work: [drilling across]
        cut: [{holes: {name: eye, diameter: 1 in, count: 1, at: 2 in, reach: through}}]
  handle:
    wood: maple, sugar
    blank: {square: 1 1/4 in, long: 9 in}
    steps:
      - name: Turn the handle
        say: Turn it.
        hold: {by: [between centers]}
        cut:
          - cylinder: {diameter: 1 1/8 in}
          - tenon: {diameter: 0.99 in, long: 2 3/4 in, end: left}
assembly:
  joints: [{put: handle, tenon: tenon, into: head, hole: eye}]
"""


def boxes(sheet: Sheet, step: int) -> set[str]:
    return {box.id for box in list(sheet.steps)[step].boxes}


def test_a_hollow_that_begins_elsewhere_than_its_outside_is_told_so(tmp_path: Path) -> None:
    (told,) = {one.advice for one in worked(tmp_path, parts=CUP).findings if "hollow" in one.advice}
    assert told == "the outside was turned at 1/2 in, and this hollow starts at 0 in: say at: 1/2 in"
    right = worked(tmp_path, parts=CUP.replace("end: right}}]", "end: right, at: 1/2 in}}]"))
    assert not [one for one in right.findings if "starts at" in one.advice]


def test_what_stops_an_earlier_step_is_told_with_what_a_later_one_cannot_do(tmp_path: Path) -> None:
    last = "      - {name: Part it, say: Part it., cut: [{part off: {at: 7 in, keep: left}}]}\n"
    found = problems(tmp_path, parts=CUP + last)
    assert any("outside the wood" in one.message for one in found)
    assert any("starts at 0 in" in one.hint for one in found)


def test_at_the_bench_the_work_is_clamped_and_on_the_lathe_its_lock_is_out(tmp_path: Path) -> None:
    bench = boxes(worked(tmp_path, parts=MALLET.replace("HOLD", "bench")), 1)
    lathe = boxes(worked(tmp_path, parts=MALLET.replace("HOLD", "between centers")), 1)
    assert ("drill-at-bench" in bench, "spindle-lock" in bench) == (True, False)
    assert ("drill-at-bench" in lathe, "spindle-lock" in lathe) == (False, True)


def test_a_piece_that_lies_is_longer_than_it_is_wide(tmp_path: Path) -> None:
    whole = worked(tmp_path, parts=MALLET.replace("HOLD", "bench")).whole
    assert whole is not None
    sizes = {one.says: float(one.value.magnitude) / 25.4 for one in whole.facts}
    assert sizes["Finished length"] > 8 > sizes["Finished width"]
    standing = worked(tmp_path, parts=MALLET.replace("HOLD", "bench") + "  up: right\n").whole
    assert standing is not None
    assert [one.says for one in standing.facts[:2]] == ["Finished height", "Finished width"]


def test_the_angle_of_a_piece_is_called_as_its_kind_calls_it(tmp_path: Path) -> None:
    ring = "ring: {chapter: rings and staves, pieces: 12, across: 5 in, inside: 3 in}"
    part = "parts:\n  body:\n    wood: maple, sugar\n    blank: {KIND: 12, across: 5 in, inside: 3 in, long: 2 in}\n"
    part += "    steps: [{name: Turn it, say: Turn it.}]\n"
    for kind, called in (("staves", "Bevel on each edge of a stave"), ("segments", "Miter on each end of a segment")):
        sheet = worked(tmp_path, parts=part.replace("KIND", kind), workings=ring)
        assert next(one.says for one in sheet.dimensions if one.name == "ring.miter") == called


def test_wood_deeper_than_the_jaws_is_put_less_deep(tmp_path: Path) -> None:
    (tmp_path / "shop.yml").write_text(
        "jaws: [{name: small, closes: {least: 1 in, most: 3 in}, deep: 1/2 in}]\n", encoding="utf-8"
    )
    parts = CUP.replace("{by: [between centers], tailstock: true}", "{by: [chuck], deep: 1 in, tailstock: true}")
    (told,) = (one for one in worked(tmp_path, parts=parts).findings if "deep" in one.message)
    assert "1\u00a0in (25.4\u00a0mm) of the wood is to be in the jaws" in told.message
    assert told.remedy == "put less of it in the jaws, or use deeper jaws"


@pytest.mark.parametrize(
    ("hold", "said"),
    [
        ("between centers: pins in holes 1 and 4", "Held between centers: pins in holes 1 and 4"),
        ("hand", "Held by hand"),
        ("bench: in the cradle", "Held at the bench: in the cradle"),
        ("jam chuck: over a plug", "Held with a jam chuck: over a plug"),
        ("chuck and steady rest: the waste in the jaws", "Held with a chuck and steady rest: the waste in the jaws"),
        ("off-axis centers", "Held with off-axis centers"),
    ],
)
def test_how_the_wood_is_held_is_a_sentence(hold: str, said: str) -> None:
    assert held(hold) == said


def test_a_long_overhang_is_told_in_marks_of_a_rule() -> None:
    """A turner lays a rule on it: 2 5/8 in stand out of the jaws, and no 2.625 in."""
    (top,) = (sheet for sheet in demo_archive().sheets if sheet.name == "spinning-tops")
    (told,) = (one.message for one in top.findings if one.message.startswith("Long overhang"))
    assert "2\u00a05/8\u00a0in" in told
    assert "a hold 1/2\u00a0in" in told


def test_two_rings_have_holes() -> None:
    (goblet,) = (sheet for sheet in demo_archive().sheets if sheet.name == "ringed-goblet")
    figure = general_arrangement(goblet)
    assert figure is not None
    assert re.search(r"2 rings: .* across, their holes ", figure.alt)


def test_a_fit_that_stays_as_it_is_is_a_whole_sentence() -> None:
    """Lid and box are of one wood, and grow alike: the change is nought."""
    (box,) = (sheet for sheet in demo_archive().sheets if sheet.name == "lidded-box")
    (fit,) = (group for group in box.groups if group.name == "fit")
    (told,) = (one.text for one in fit.remarks if "percent moisture" in one.text)
    assert re.match(r"Change of the fit from \S+ to \S+ percent moisture: 0\u00a0in \(0\u00a0mm\)\. ", told)
