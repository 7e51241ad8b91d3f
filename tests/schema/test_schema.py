"""The keys of a project file: checked, described, and handed to editors."""

from __future__ import annotations

import json
import re
from collections.abc import Collection, Iterator
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from pydantic import BaseModel, ValidationError

from handouts_build.problems import ProjectError
from handouts_build.schema import (
    CutItem,
    HoldKeys,
    MarkItem,
    ProjectKeys,
    ShopKeys,
    load_file,
    load_project,
    project_schema,
    reference_pages,
    shop_schema,
)
from handouts_build.schema import models as module
from handouts_build.schema.cut_keys import HOLD_WORDS
from handouts_build.schema.known_keys import Keys
from handouts_build.schema.reader import read_document
from handouts_build.site.starter import MeasuredIn, starter_kinds, starter_text
from handouts_build.trade import CHAPTERS
from handouts_build.workpiece import CUTS, MARKS
from tests.bad_input.generated import PIECE
from tests.harness import CASES

ROOT = Path(__file__).parents[2]
MODELS = [
    *(one for one in vars(module).values() if isinstance(one, type) and issubclass(one, Keys) and one is not Keys),
    *module.WORKINGS.values(),
]
SOUND = [*sorted((ROOT / "projects").glob("*.yml"))]
STARTERS = [(kind, measure) for kind in starter_kinds() for measure in MeasuredIn]


def fields() -> Iterator[tuple[type[BaseModel], str, Any]]:
    for model in MODELS:
        for name, field in model.model_fields.items():
            yield model, field.alias or name, field


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model.__name__)
def test_every_key_and_every_map_says_what_it_is_for(model: type[BaseModel]) -> None:
    assert (model.__doc__ or "").strip()
    for name, field in model.model_fields.items():
        assert field.description, f"{model.__name__}.{name} is not described"
        assert not field.description[0].islower(), field.description
        assert field.description.endswith("."), field.description


def test_every_key_stands_in_the_reference_with_its_description() -> None:
    page = "\n".join(reference_pages().values())
    for model, key, field in fields():
        rows = [row for row in page.splitlines() if row.startswith(f"| `{key}` |")]
        says = str(field.description).partition(" (")[0].rstrip(".").replace("|", "\\|")
        if model in module.WORKINGS.values() and key in ("chapter", "says"):
            continue
        assert any(says in row for row in rows), f"{model.__name__}: {key}"


def test_every_chapter_result_and_unit_stands_in_the_reference() -> None:
    page = "\n".join(reference_pages().values())
    for chapter in CHAPTERS.values():
        assert f"## {chapter.name}" in page
        for law in chapter.laws:
            assert f"| `{law.name}` |" in page


def test_the_reference_is_sound_markdown_tables() -> None:
    wide = 0
    for row in "\n".join(reference_pages().values()).splitlines():
        cells = len(re.findall(r"(?<!\\)\|", row)) - 1 if row.startswith("|") else 0
        if wide and cells:
            assert cells == wide, row
        wide = cells


def test_keys_have_spaces_where_python_has_underscores() -> None:
    for _, key, _ in fields():
        assert "_" not in key


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model.__name__)
def test_models_are_frozen_and_know_no_other_keys(model: type[BaseModel]) -> None:
    assert model.model_config["frozen"]
    with pytest.raises(ValidationError, match=r"Extra inputs|Field required"):
        model.model_validate({"no such key": 1})


@pytest.mark.parametrize(("text", "model"), [(project_schema(), ProjectKeys), (shop_schema(), ShopKeys)])
def test_the_editors_schema_is_a_schema_and_knows_every_key(text: str, model: type[BaseModel]) -> None:
    schema = json.loads(text)
    jsonschema.Draft202012Validator.check_schema(schema)
    assert set(schema["properties"]) == {field.alias for field in model.model_fields.values()}
    assert text.endswith("\n")


@pytest.mark.parametrize("path", SOUND, ids=lambda path: path.stem)
def test_a_sound_file_satisfies_the_editors_schema(path: Path) -> None:
    schema = json.loads(shop_schema() if path.name == "shop.yml" else project_schema())
    values = read_document(path, path.name).values
    assert not list(jsonschema.Draft202012Validator(schema).iter_errors(values))


@pytest.mark.parametrize(("kind", "measure"), STARTERS, ids=lambda value: getattr(value, "value", value))
def test_a_starter_satisfies_the_editors_schema(kind: str, measure: MeasuredIn, tmp_path: Path) -> None:
    path = tmp_path / "piece.yml"
    path.write_text(starter_text(kind, title="Piece", measure=measure), encoding="utf-8")
    values = read_document(path, path.name).values
    assert not list(jsonschema.Draft202012Validator(json.loads(project_schema())).iter_errors(values))


@pytest.mark.parametrize("name", ["unknown-key", "missing-keys", "wrong-choice", "list-for-length", "chapter-missing"])
def test_the_editors_schema_sees_faults_of_form_too(name: str) -> None:
    (case,) = (case for case in CASES if case.stem == name)
    values = read_document(case, case.name).values
    assert list(jsonschema.Draft202012Validator(json.loads(project_schema())).iter_errors(values))


def test_a_project_is_read_into_a_frozen_model(tmp_path: Path) -> None:
    (tmp_path / "a.yml").write_text(PIECE, encoding="utf-8")
    project, document = load_project(tmp_path / "a.yml", "a.yml")
    assert project.title == "Test piece"
    assert document.values["title"] == "Test piece"
    with pytest.raises(ValidationError, match="frozen"):
        project.title = "Other"  # type: ignore[misc]


def test_a_shop_is_read_into_its_model(tmp_path: Path) -> None:
    (tmp_path / "shop.yml").write_text("club: Sample Turners\nbits: [1/8 in, 6 mm]\n", encoding="utf-8")
    shop, _ = load_file(ShopKeys, tmp_path / "shop.yml", "shop.yml")
    assert shop.club == "Sample Turners"
    assert [round(bit.magnitude, 3) for bit in shop.bits] == [3.175, 6.0]


@pytest.mark.parametrize(
    ("line", "text"),
    [
        ("title: 7", "7"),
        ("title: No 7", "No 7"),
        ("title: Ball < bowl", "Ball < bowl"),
        ("title: 'Ball #3'", "Ball #3"),
        ("title: $x$ @ref = *it* [a](b)", "$x$ @ref = *it* [a](b)"),
    ],
)
def test_text_that_only_looks_like_markup_is_kept(line: str, text: str, tmp_path: Path) -> None:
    (tmp_path / "a.yml").write_text(PIECE.replace("title: Test piece", line), encoding="utf-8")
    assert load_project(tmp_path / "a.yml", "a.yml")[0].title == text


@pytest.mark.parametrize("text", ["<b>x</b>", "</b>", "<!-- x -->", "<?php", '#import "x"', "#eval(1)", "#let x = 1"])
def test_markup_of_other_languages_is_refused(text: str, tmp_path: Path) -> None:
    (tmp_path / "a.yml").write_text(PIECE.replace("Turn it to {ball}.", f"'{text}'"), encoding="utf-8")
    with pytest.raises(ProjectError, match="cannot stand in text"):
        load_project(tmp_path / "a.yml", "a.yml")


def _described(schema: dict[str, Any]) -> Iterator[tuple[str, str, dict[str, Any]]]:
    for name, definition in (("", schema), *schema["$defs"].items()):
        for key, described in definition.get("properties", {}).items():
            yield name, key, described


@pytest.mark.parametrize("text", [project_schema(), shop_schema()], ids=["project", "shop"])
def test_the_editors_schema_offers_an_example_or_closed_words_for_every_value(text: str) -> None:
    for name, key, described in _described(json.loads(text)):
        whole = json.dumps(described)
        closed = any(word in whole for word in ('"enum"', '"const"', '"$ref"', '"boolean"'))
        assert closed or described.get("examples"), f"{name}.{key}"


def test_the_examples_that_an_editor_offers_are_sound() -> None:
    """What is offered is taken: each as the file would have it, against what the schema says of its own key."""
    schema = json.loads(project_schema())
    for name, key, described in _described(schema):
        for example in described.get("examples", ()):
            value = read_example(example)
            whole = {**described, "$defs": schema["$defs"]}
            assert not list(jsonschema.Draft202012Validator(whole).iter_errors(value)), f"{name}.{key}: {example}"


@pytest.mark.parametrize(
    ("model", "words"), [(CutItem, CUTS), (MarkItem, MARKS), (HoldKeys, HOLD_WORDS)], ids=["cuts", "marks", "holds"]
)
def test_an_editors_snippets_are_sound_and_there_is_one_for_every_word(
    model: type[Keys], words: Collection[str]
) -> None:
    """Typed over with nothing, each is a sound entry, by the schema and by the reader, its keys in their own order."""
    schema = json.loads(project_schema())
    offered = schema["$defs"][model.__name__]["defaultSnippets"]
    sound = jsonschema.Draft202012Validator({"$defs": schema["$defs"], "$ref": f"#/$defs/{model.__name__}"})
    typed = [read_example(re.sub(r'"\$\{\d+:([^}]*)\}"', r"\1", json.dumps(each["body"]))) for each in offered]
    for body, each in zip(typed, offered, strict=True):
        assert sound.is_valid(body)
        model.model_validate(body)
        assert re.findall(r"\$\{(\d+):", json.dumps(each["body"])) == [str(at + 1) for at in range(each_of(body))]
    assert {word for body in typed for word in body.get("by", body)} == set(words)


def each_of(body: dict[str, Any]) -> int:
    """How many keys of a snippet are typed over."""
    return len(body) - 1 if "by" in body else len(next(iter(body.values())))


def read_example(text: str) -> Any:
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "example.yml"
        path.write_text(f"value: {text}\n", encoding="utf-8")
        return read_document(path, "example.yml").values["value"]


@pytest.mark.parametrize(
    ("text", "sound"),
    [("2 1/4 in", True), ("2-1/4 in", True), ("57 mm", True), ("½ in", True), ('3/8"', True), ("-1 mm", True),
     (6, True), ("2 inn", False), ("57mmm", False), ("2,5 mm", False), ("about 2 in", False)],
)  # fmt: skip
def test_the_editors_schema_knows_the_units_of_a_measure(text: object, sound: bool) -> None:
    schema = json.loads(project_schema())
    size = {**schema["$defs"]["SizeKeys"], "$defs": schema["$defs"]}
    found = jsonschema.Draft202012Validator(size).is_valid({"is": text, "says": "It"})
    assert found is sound
