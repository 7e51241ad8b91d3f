"""YAML in, plain values and places out."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings

from handouts_build.problems import ProjectError
from handouts_build.schema.reader import LARGEST, Document, read_document, written
from tests.strategies import yaml_like


def read(text: str, folder: Path) -> Document:
    path = folder / "a.yml"
    path.write_text(text, encoding="utf-8", newline="")
    return read_document(path, "a.yml")


# YAML 1.2.2, 10.3.2 (the core schema's tag resolution), and what YAML 1.1 readers make of the same text.
SCALARS = [
    ("no", "no"),
    ("yes", "yes"),
    ("on", "on"),
    ("12:30", "12:30"),
    ("010", 10),
    ("0o10", "0o10"),
    ("0x1F", "0x1F"),
    ("1_000", "1_000"),
    ("2024-01-02", "2024-01-02"),
    ("=", "="),
    ("true", True),
    ("False", False),
    ("null", None),
    ("~", None),
    ("", None),
    ("-7", -7),
    ("+7", 7),
    ("1.50", 1.5),
    (".5", 0.5),
    ("1e3", "1e3"),
    (".inf", ".inf"),
    ("9" * 30, "9" * 30),
    ("'7'", "7"),
    ('"true"', "true"),
    ("2 1/4 in", "2 1/4 in"),
    ('3/8"', '3/8"'),
]


@pytest.mark.parametrize(("written_as", "value"), SCALARS)
def test_scalars_are_what_yaml_1_2_says_and_never_what_1_1_guessed(written_as: str, value: Any, tmp_path: Path) -> None:
    found = read(f"a: {written_as}\n", tmp_path).values["a"]
    assert found == value
    assert type(found) is type(value)


TEXT = """\
title: Lantern
sizes:
  ball: {is: 2 in, says: "A ball"}
parts:
  - say: |
      First {one}.

      Second {two}.
    fold: >-
      Some text
      runs on {three}

      and {four}.
    plain: just {five}
    'key': six
"""


@pytest.mark.parametrize(
    ("key", "word"),
    [
        (("parts", 0, "say"), "{one}"),
        (("parts", 0, "say"), "{two}"),
        (("parts", 0, "fold"), "{three}"),
        (("parts", 0, "fold"), "{four}"),
        (("parts", 0, "plain"), "{five}"),
        (("sizes", "ball", "says"), "ball"),
        (("title",), "tern"),
    ],
)
def test_a_place_inside_text_is_where_an_editor_shows_it(key: tuple[Any, ...], word: str, tmp_path: Path) -> None:
    document = read(TEXT, tmp_path)
    value: Any = document.values
    for step in key:
        value = value[step]
    place = document.place(key, offset=value.index(word))
    line = TEXT.splitlines()[place.line - 1]
    assert line[place.column - 1 :].startswith(word)


def test_a_place_is_of_the_value_of_the_key_or_of_the_nearest_parent(tmp_path: Path) -> None:
    document = read(TEXT, tmp_path)
    assert str(document.place(("sizes", "ball", "is"))) == "a.yml:3:14: sizes.ball.is"
    assert str(document.place(("sizes", "ball"), of_key=True)) == "a.yml:3:3: sizes.ball"
    assert str(document.place(("sizes", "ball", "least"))) == "a.yml:3:9: sizes.ball.least"
    assert str(document.place()) == "a.yml:1:1"


@pytest.mark.parametrize(
    ("key", "text"),
    [((), ""), (("a",), "a"), (("a", "b c", 2, "d"), "a.b c[2].d"), (("steps", 0), "steps[0]")],
)
def test_a_way_to_a_value_is_written_with_dots_and_brackets(key: tuple[str | int, ...], text: str) -> None:
    assert written(key) == text


def test_every_problem_of_the_file_is_told_at_once(tmp_path: Path) -> None:
    with pytest.raises(ProjectError) as caught:
        read("a: 1\na: 2\nb: !x 3\n? [c]\n: 4\n", tmp_path)
    assert [problem.place.line for problem in caught.value.problems] == [2, 3, 4]


def test_a_byte_order_mark_and_windows_line_ends_are_read(tmp_path: Path) -> None:
    document = read("\ufefftitle: Lantern\r\nkind: knob\r\n", tmp_path)
    assert document.values == {"title": "Lantern", "kind": "knob"}
    assert str(document.place(("kind",))) == "a.yml:2:7: kind"


def test_columns_count_characters_not_bytes(tmp_path: Path) -> None:
    assert read("é: {𝄞: x}\n", tmp_path).place(("é", "𝄞")).column == 8


def test_a_file_of_the_largest_size_is_read(tmp_path: Path) -> None:
    text = "title: x\n"
    assert read(text + "#" * (LARGEST - len(text)), tmp_path).values == {"title": "x"}
    with pytest.raises(ProjectError, match="at most 262,144"):
        read(text + "#" * (LARGEST - len(text) + 1), tmp_path)


@given(yaml_like())
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_text_is_a_document_or_problems_with_places(tmp_path: Path, text: str) -> None:
    path = tmp_path / "a.yml"
    path.write_text(text.encode("utf-8", "replace").decode(), encoding="utf-8")
    try:
        document = read_document(path, "a.yml")
    except ProjectError as error:
        lines = len(text.splitlines()) + 2
        places = [problem.place for problem in error.problems]
    else:
        lines = len(document.lines) + 1
        places = [document.place(key) for key in ((), ("title",), ("sizes", "ball"))]
    assert places
    assert all(0 <= place.line <= lines for place in places)
