"""No page of the demo prints two values for one thing: labels in tables and lists, speeds of steps, names on drawings.

A thing is a label as a page prints it, in one unit. Where two things have one label on a page, one of them needs
another name.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import replace

import pytest

from handouts_build.figures.arrangement import general_arrangement
from handouts_build.figures.drawing import adding_up
from handouts_build.figures.sphere import octagon
from handouts_build.outputs.page_content import PageContent
from handouts_build.quantities import Kind, Printed, closes, kind_of, millimetres
from handouts_build.sheet import Sheet
from handouts_build.workpiece import in_mm
from tests.outputs.pages_reading import Element, pages, rendered
from tests.projects import DEMO_PIECES, demo_archive

_UNITS = ("in", "mm", "rpm", "°", "lb", "kg", "g", "oz", "in³", "cm³", "%")
_VALUE = re.compile(
    r"(?P<number>\d[\d,]*(?:\.\d+)?(?: \d+/\d+)?|\d+/\d+) ?(?P<unit>" + "|".join(map(re.escape, _UNITS)) + r")(?![\w³])"
)
_RPM = re.compile(r"(\d[\d,]*) rpm")


def _sheet(name: str) -> Sheet:
    return next(sheet for sheet in demo_archive().sheets if sheet.name == name)


def _values(text: str) -> list[tuple[str, str]]:
    """The values in a text, with their units."""
    return [(found["unit"], found["number"]) for found in _VALUE.finditer(text.replace("\u00a0", " "))]


def _said(root: Element) -> Iterator[tuple[str, str, str]]:
    """Heading and label, unit and value of every row of a table that has one value in each unit."""
    # A ready size is another piece, which has a place of its own.
    apart = {id(table) for details in root.all("details", cls="hb-ready") for table in details.all("table")}
    for table in root.all("table"):
        if id(table) in apart:
            continue
        under = ""
        for row in table.all("tr"):
            label, *cells = [cell.text for cell in row.inside if isinstance(cell, Element)]
            if not cells:
                under = label
            given = _values(" ; ".join(cells))
            units = [unit for unit, _ in given]
            if label and len(set(units)) == len(units):
                yield from ((f"{under} {label}".casefold(), unit, number) for unit, number in given)


def _clashes(said: Iterator[tuple[str, str, str]]) -> dict[tuple[str, str], set[str]]:
    found: dict[tuple[str, str], set[str]] = defaultdict(set)
    for label, unit, number in said:
        found[label, unit].add(number)
    return {key: numbers for key, numbers in found.items() if len(numbers) > 1}


@pytest.mark.parametrize("name", DEMO_PIECES)
def test_a_label_has_one_value_on_each_page(name: str) -> None:
    made = [each for each in pages([PageContent(_sheet(name))]) if each.path.endswith(".md") and name in each.path]
    read = 0
    for each in made:
        said = list(_said(rendered(each.read().decode())))
        read += len(said)
        assert not _clashes(iter(said)), each.path
    assert read > 20


@pytest.mark.parametrize("name", DEMO_PIECES)
def test_a_name_on_the_drawing_of_the_piece_says_what_the_sheet_says_by_that_name(name: str) -> None:
    """The floor over a dished foot is not the floor that a step is told to leave."""
    sheet = _sheet(name)
    arrangement = sheet.whole.arrangement
    assert arrangement is not None
    told: dict[str, set[Printed]] = defaultdict(set)
    for value in (*sheet.sizes, *sheet.dimensions):
        told[value.name.rpartition(".")[2].replace("_", " ")].add(value.printed)
    for callout in arrangement.callouts:
        said = {callout.printed, callout.deep}
        assert not told[callout.says] or said & told[callout.says], (callout.says, callout.printed)
    by_name: dict[tuple[str, str], set[Printed]] = defaultdict(set)
    for callout in arrangement.callouts:
        by_name[callout.kind, callout.says].add(callout.printed)
    assert all(len(printed) == 1 for (kind, _), printed in by_name.items() if kind == "floor")


@pytest.mark.parametrize("name", DEMO_PIECES)
def test_a_step_says_one_speed(name: str) -> None:
    """What its text says of the lathe's speed is what stands beside it."""
    for step in _sheet(name).steps:
        if not step.speed:
            continue
        told = " ".join(run.text for line in step.say for run in line).replace("\u00a0", " ")
        said = set(_RPM.findall(told)) | set(_RPM.findall(step.speed.replace("\u00a0", " ")))
        assert len(said) == 1, (step.name, said)


@pytest.mark.parametrize("name", DEMO_PIECES)
def test_a_profile_says_its_sizes_as_they_are_said_elsewhere(name: str) -> None:
    """2 1/4 in is 57 mm as the diameter of a box and 57 as the largest diameter of its side, everywhere."""
    sheet = _sheet(name)
    by_marks = [row for row in sheet.dimensions if not (row.manner.fine or row.manner.exact or row.manner.below)]
    named = [
        (in_mm(each.value), each.printed)
        for each in (*sheet.sizes, *(row for row in by_marks if "." not in row.name))
        if kind_of(each.value) is Kind.LENGTH
    ]
    for group in sheet.groups:
        if group.shape is None:
            continue
        across = [(in_mm(each.diameter), each.printed) for each in group.shape.stations]
        for row, told in (("widest", across), ("neck", across), ("length", named)):
            value, printed = in_mm(group.values[row]), group.printed[row]
            there = [other for mm, other in told if abs(mm - value) < 1e-6]
            assert not there or any((other.inch, other.mm) == (printed.inch, printed.mm) for other in there), (
                group.name, row, str(printed), [str(other) for other in there],
            )  # fmt: skip


@pytest.mark.parametrize("name", DEMO_PIECES)
def test_a_tenon_by_calipers_has_one_size(name: str) -> None:
    """The spigot of a threaded box is as thick in its working as in the drawing of its fit."""
    told: dict[float, set[tuple[float | None, float | None]]] = defaultdict(set)
    for row in (row for group in _sheet(name).groups for row in group.dimensions if row.manner.below):
        told[round(in_mm(row.value), 4)].add((row.printed.inch, row.printed.mm))
    assert all(len(printed) == 1 for printed in told.values())


def _at_every_size(name: str) -> tuple[Sheet, ...]:
    sheet = _sheet(name)
    return (sheet, *(ready.sheet for ready in sheet.ready))


_TOLD_ELSEWHERE = {("spinning-tops", "mm"), ("spinning-tops-small", "mm")}
"""Point, disk and stem of a top each have a name and a size that is told of them: the drawing leaves one out."""


@pytest.mark.parametrize("name", DEMO_PIECES)
def test_elements_of_a_profile_and_lengths_of_a_piece_add_up(name: str) -> None:
    """24 + 41.5 + 83 beside 147.5 are not seen in any drawing, in either unit, at any ready size."""
    for sheet in _at_every_size(name):
        for group in sheet.groups:
            if group.shape is not None:
                lengths = [segment.printed for segment in group.shape.segments]
                for unit in ("inch", "mm"):
                    assert closes(lengths, group.printed["length"], unit), (sheet.name, group.name, unit)
        assert sheet.whole is not None
        assert sheet.whole.arrangement is not None
        whole, *chain = sorted(sheet.whole.arrangement.lengths, key=lambda each: not each.overall)
        told = [each.printed for each in chain]
        # Links that leave a stretch untold are no chain.
        if sum(each.end[0] - each.start[0] for each in chain) < whole.end[0] - whole.start[0] - 0.1:
            continue
        off = {(sheet.name, unit) for unit in ("inch", "mm") if not closes(told, whole.printed, unit)}
        assert off <= _TOLD_ELSEWHERE
        lettered = adding_up(told, whole.printed, sheet.rule.lead)
        assert all(closes(lettered, whole.printed, unit) for unit in ("inch", "mm"))


def _of_the_top(whole_mm: float) -> str:
    """What the drawing of the top says, if it were told to be so high."""
    sheet = _sheet("spinning-tops")
    assert sheet.whole is not None
    assert sheet.whole.arrangement is not None
    lengths = tuple(
        replace(each, printed=replace(each.printed, mm=whole_mm, other=f"{whole_mm:g}\u00a0mm"))
        if each.overall
        else each
        for each in sheet.whole.arrangement.lengths
    )
    whole = replace(sheet.whole, arrangement=replace(sheet.whole.arrangement, lengths=tuple(lengths)))
    drawing = general_arrangement(replace(sheet, whole=whole))
    assert drawing is not None
    return drawing.alt.replace("\u00a0", " ")


def test_a_number_too_many_is_left_out_of_the_drawing() -> None:
    """12.5 + 9.5 + 38 is 60. Were the top 60.5 high, its stem would be what the others leave in millimeters."""
    assert "stem 1 1/2 in (38 mm)." in _of_the_top(60.0)
    said = _of_the_top(60.5)
    assert "stem 1 1/2 in." in said
    assert "disk 3/8 in (9.5 mm)" in said


@pytest.mark.parametrize("name", ["lantern"])
def test_setbacks_and_band_of_a_ball_come_to_its_diameter(name: str) -> None:
    """At 2 in, marks 9/16 in from both ends leave 7/8 between them, and no 27/32."""
    for sheet in _at_every_size(name):
        for group in sheet.groups:
            if group.chapter != "sphere by facets":
                continue
            setback, side, alt = group.printed["setback"], group.printed["side"], octagon(group).alt
            for unit, text in (("inch", side.lead), ("mm", side.other)):
                adds_up = closes([setback, side, setback], group.printed["diameter"], unit)
                told = re.search(r"lines (.*?)\.(?= On each end)", alt)
                assert told is not None
                assert (text in told[1]) is adds_up


@pytest.mark.parametrize("name", DEMO_PIECES)
def test_the_finished_width_is_the_largest_diameter_that_is_drawn(name: str) -> None:
    """The solid is wider than its circles by the corners they are drawn with: 220.6 mm of a bead of 220.3 mm."""
    for sheet in _at_every_size(name):
        if sheet.whole is None or (whole := sheet.whole.arrangement) is None:
            continue
        largest = next((each.printed for each in whole.diameters if each.largest), None)
        width = next(fact for fact in sheet.whole.facts if fact.says == "Finished width")
        exact = millimetres(2 * next((each.at[1] for each in whole.diameters if each.largest), 0.0))
        if largest is not None and abs(width.value / exact - 1) < 0.005:
            assert str(width.printed) == str(largest), sheet.name


_IN_ONE_UNIT = re.compile(r"\d in\b(?! \()|\d mm\b(?!\))")


@pytest.mark.parametrize("name", DEMO_PIECES)
def test_a_length_in_the_text_of_a_step_stands_in_both_units(name: str) -> None:
    """A length that an author wrote into the words, and not as a value, has one unit: "down to 1/8 in"."""
    for step in _sheet(name).every_step:
        told = (*step.say, *step.care, *step.cue)
        lines = ["".join("…" if run.style == "value" else run.text for run in line) for line in told]
        for line in (*lines, *step.tools, step.hold):
            assert not _IN_ONE_UNIT.search(line.replace("\u00a0", " ")), (step.name, line)


def test_two_values_for_one_label_are_found() -> None:
    table = "<table><tr><td>Floor</td><td>3/8 in</td><td>10 mm</td></tr><tr><td>floor</td><td>1/4 in</td></tr></table>"
    assert _clashes(_said(rendered(table))) == {(" floor", "in"): {"3/8", "1/4"}}
