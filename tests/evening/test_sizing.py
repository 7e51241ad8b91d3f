"""Bits and centers are packed by size: what the project says, what its cuts are, or that it is not said."""

from __future__ import annotations

import pytest

from tests.evening.test_kit import evening, packed, rewritten

ROUGH = "hold: {by: [between centers]}"
CENTERS = "Drive center and live center"


def note_of(shown, what):
    """What the packing list says beside something, its unbroken spaces as plain ones."""
    return packed(shown)[what].note.replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("hold", "kit", "size"),
    [
        ("drive: 5/8 in", "drive centers: [3/8 in]", "drive center 5/8 in (15.88 mm) across"),
        ("drive: ball / 4", "", "drive center 1/2 in (12.7 mm) across"),
        ("drive: 5/8 in, tail: 2 in", "", "live center with a pad or cone 2 in (50.8 mm) across"),
        ("tailstock: true", "drive centers: [5/8 in, 3/8 in]", "3/8 in (9.53 mm) across, the kit's smallest"),
        ("tailstock: true", "", "the project does not say how wide the drive center is"),
    ],
)
def test_a_drive_center_is_as_wide_as_its_hold_says_or_the_kits_smallest(read, projects, hold, kit, size):
    rewritten(projects, (ROUGH, f"hold: {{by: [between centers], {hold}}}"))
    with (projects / "shop.yml").open("a", encoding="utf-8") as file:
        file.write(f"{kit}\n")
    assert size in note_of(evening(read), CENTERS)


def test_a_center_among_the_tools_has_its_size_and_a_center_drill_has_not(read, projects):
    rewritten(
        projects,
        (ROUGH, "hold: {by: [between centers], drive: 3/8 in}"),
        ("tools: [spindle roughing gouge]", "tools: [spindle roughing gouge, drive center, live center, center drill]"),
    )
    shown = evening(read)
    assert note_of(shown, "Drive center") == "3/8 in (9.53 mm) across"
    assert note_of(shown, "Live center") == ""
    assert note_of(shown, "Center drill") == ""
    assert CENTERS not in packed(shown)


@pytest.mark.parametrize(
    ("tool", "cuts", "note"),
    [
        ("bit for the bore", "bore: {diameter: 3/4 in, end: right, deep: 1 in}", "3/4 in (19.05 mm)"),
        ("bit for the bore", "bore: {diameter: ball / 4, end: right, deep: 1 in}", "1/2 in (12.7 mm)"),
        ("bit for the eye", "bore: {name: eye, diameter: 1/8 in, end: right, deep: 1 in}", "1/8 in (3.18 mm)"),
        ("bit", "cylinder: {diameter: ball}", "the project does not say which size"),
        ("bit, 3/4 in", "bore: {diameter: 3/4 in, end: right, deep: 1 in}", ""),
    ],
)
def test_a_bit_without_a_size_is_that_of_the_hole_its_step_drills(read, projects, tool, cuts, note):
    rewritten(projects, ("tools: [spindle roughing gouge]", f"tools: ['{tool}'], cut: [{{{cuts}}}]"))
    assert note_of(evening(read), tool.capitalize()) == note


def test_pins_are_those_of_the_holes_they_stand_in(read, projects):
    drill = (
        "tools: [spindle gouge, calipers], cut: [{holes: {name: pin holes, each: pin hole, diameter: 1/8 in, "
        "count: 4, at: 2 in, deep: 1/2 in}}]"
    )
    rewritten(
        projects,
        ("tools: [spindle gouge, calipers]", drill),
        (
            "say: Sand it., work: [sanding], abrasive: [paper], tools: [abrasives 120 to 320]",
            (
                "say: Sand it., hold: {by: [between centers], in: [pin hole 1, pin hole 3]}, "
                "tools: [pin drive center, pin live center]"
            ),
        ),
    )
    shown = evening(read, "must see: [Sand it]\n")
    for center in ("Pin drive center", "Pin live center"):
        assert note_of(shown, center) == "its pin fits a hole of 1/8 in (3.18 mm)"
