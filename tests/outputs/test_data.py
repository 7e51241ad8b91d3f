"""The sheet as JSON: true to its schema, whole, and the same for the same sheet."""

from __future__ import annotations

import dataclasses
import enum
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from handouts_build.outputs.data import sheet_json, sheet_schema
from handouts_build.outputs.terminal import dimensions_table
from handouts_build.sheet import Picture, Sheet
from handouts_build.site.build import read_archive
from handouts_build.site.starter import start_project
from tests.projects import PARTS, demo_archive, worked
from tests.sample import sample

ROOT = Path(__file__).parents[2]
PROJECTS = sorted(path for path in (ROOT / "projects").glob("*.yml") if path.name != "shop.yml")

LEFT_OUT = {
    # Differs from run to run with the folder one stands in, or is for the building alone.
    "Sheet.file", "Finding.place", "Place.file", "Place.path", "Picture.path", "Picture.file",
    # Said in other words: `printed` and `also` hold the text, `boxes` holds them all.
    "Printed.rounded", "Step.new_boxes",
    # Data is plain text.
    "TextRun.style", "TextRun.name", "Printed.way",
    # Said where they stand: among tools, supplies and holds.
    "Sheet.lines",
    # The papers lie beside the data, by their names.
    "Sheet.papers",
    # For sizes that are not the sheet's: the page's own business.
    "Sheet.cautions",
    # A step stands below its part.
    "Step.part",
    # For the page's own sizes, where the message would name what its reader does not know.
    "Condition.says",
    # For the author alone, and told by `check`.
    "Finding.advice",
    # Said aloud, from the run sheet.
    "Step.cue",
    # Lettered on the drawing of the finished piece, whose lines are no data either.
    "Sheet.layouts", "EndLayout.name", "EndLayout.title", "LaidOut.name",
    "Arrangement.up", "AxialLength.says", "InsideCallout.says", "InsideCallout.kind",
    # Said by the labels and sentences of the group itself.
    "Group.called",
    # Said whole by what the place is called.
    "Station.element", "Station.edge",
    # What a step was called once, for runs and evenings of that time.
    "Step.formerly",
}  # fmt: skip


def demo() -> Sheet:
    """The lantern, with a picture put in so that every kind of thing is there."""
    (sheet,) = (one for one in demo_archive().sheets if one.name == "lantern")
    return dataclasses.replace(sheet, pictures=(Picture("a.jpg", Path("a.jpg"), "It hanging"),))


def check(sheet: Sheet) -> dict[str, Any]:
    schema = json.loads(sheet_schema())
    jsonschema.Draft202012Validator.check_schema(schema)
    made = json.loads(sheet_json(sheet))
    jsonschema.Draft202012Validator(schema).validate(made)
    return made


@pytest.mark.parametrize("path", PROJECTS, ids=lambda path: path.stem)
def test_every_projects_data_keeps_to_the_schema(path: Path) -> None:
    (sheet,) = (one for one in demo_archive().sheets if one.name == path.stem)
    assert check(sheet)["name"] == path.stem


def test_the_starters_data_keeps_to_the_schema(tmp_path: Path) -> None:
    start_project("knob", tmp_path)
    (sheet,) = read_archive(tmp_path, base=tmp_path).sheets
    check(sheet)


def test_a_sheet_made_by_hand_keeps_to_the_schema() -> None:
    check(sample())


def test_a_sheet_without_anything_optional_keeps_to_the_schema(tmp_path: Path) -> None:
    check(worked(tmp_path, parts=PARTS))


def test_the_schema_knows_every_key_and_allows_no_other() -> None:
    schema = json.loads(sheet_schema())
    for definition in (schema, *schema["$defs"].values()):
        if definition.get("type") == "object":
            assert definition["additionalProperties"] is False
            assert set(definition["required"]) <= set(definition["properties"])


def test_the_data_is_the_same_for_the_same_sheet() -> None:
    assert sheet_json(demo()) == sheet_json(demo())


def strings(value: Any, way: tuple[Any, ...] = ()) -> Iterator[tuple[tuple[Any, ...], str]]:
    """Every text of a sheet: the way to it and the field it stands in."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        for field in dataclasses.fields(value):
            inner = getattr(value, field.name)
            name = f"{type(value).__name__}.{field.name}"
            if isinstance(inner, str) and not isinstance(inner, enum.Enum):
                yield (*way, field.name), name
            else:
                yield from strings(inner, (*way, field.name))
    elif isinstance(value, tuple):
        for index, inner in enumerate(value):
            yield from strings(inner, (*way, index))


def put(value: Any, way: tuple[Any, ...], text: str) -> Any:
    """The same with one text replaced."""
    if not way:
        return text
    step, *rest = way
    if isinstance(step, int):
        return tuple(put(one, tuple(rest), text) if index == step else one for index, one in enumerate(value))
    return dataclasses.replace(value, **{step: put(getattr(value, step), tuple(rest), text)})


def test_every_text_of_the_sheet_is_in_the_data() -> None:
    """One text of each field is changed in turn; the data must change with it."""
    sheet = demo()
    first: dict[str, tuple[Any, ...]] = {}
    # A ready size tells its numbers only; what else its sheet holds is told once, for the piece.
    for way, name in sorted(strings(sheet), key=lambda one: one[0][:1] == ("ready",)):
        first.setdefault(name, way)
    assert len(first) > 50
    for name, way in first.items():
        found = "A text of its own" in sheet_json(put(sheet, way, "A text of its own"))
        assert found is (name not in LEFT_OUT), name


def test_every_field_of_the_sheet_is_in_the_data_or_left_out_for_a_reason() -> None:
    made = check(demo())
    named = {field.name for field in dataclasses.fields(Sheet) if f"Sheet.{field.name}" not in LEFT_OUT}
    assert named <= made.keys()
    (step, *_) = made["parts"][0]["steps"]
    for field in dataclasses.fields(next(iter(demo().steps))):
        if f"Step.{field.name}" not in LEFT_OUT:
            assert {"figures": "drawings", "wait": "wait_minutes"}.get(field.name, field.name) in step


def test_values_are_in_base_units_beside_their_text(tmp_path: Path) -> None:
    sheet = worked(tmp_path, sizes="ball: {is: 2 in, says: Ball}\nturn: {is: 180 deg, says: Turn}\nn: {is: 6, says: N}")
    ball, turn, number = check(sheet)["sizes"]
    assert (ball["value"], ball["unit"]) == (50.8, "mm")
    assert (ball["printed"], ball["also"]) == ("2\u00a0in", "51\u00a0mm")
    assert (turn["value"], turn["unit"]) == (pytest.approx(3.141592653589793), "rad")
    assert (number["value"], number["unit"], "also" in number) == (6.0, "1", False)


def test_the_terminals_table_has_a_row_for_every_size_and_main_dimension() -> None:
    sheet = demo()
    table = dimensions_table(sheet)
    for size in sheet.sizes:
        assert any(size.printed.lead in row and size.says in row for row in table.splitlines())
    for one in sheet.dimensions:
        shown = any(one.printed.lead in row and row.endswith(f"  {one.says}") for row in table.splitlines())
        assert shown or not one.main
