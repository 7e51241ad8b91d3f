"""The one list of papers: whatever names papers or their sizes names those, and no others."""

from __future__ import annotations

import ast
import re
from pathlib import Path
from typing import get_args

import pytest

import handouts_build
from handouts_build.cli import cli
from handouts_build.disk.privacy import is_private
from handouts_build.paper import EVENING, PROJECT, SHARED_RUN_SHEET, SIZES, USUAL, WORDS, Reader, called
from handouts_build.schema.evening import DemonstrationKeys
from handouts_build.schema.models import ProjectKeys
from handouts_build.schema.shop import ShopKeys

HOME = Path(handouts_build.__file__).parent


def test_sizes_are_those_of_the_standards() -> None:
    # ANSI/ASME Y14.1: size A is 8.5 by 11 in, of 25.4 mm exactly. ISO 216: A4 is 210 by 297 mm.
    assert (SIZES["letter"].width, SIZES["letter"].height) == pytest.approx((8.5 * 25.4, 11 * 25.4))
    assert (SIZES["a4"].width, SIZES["a4"].height) == (210, 297)


def test_every_paper_has_its_template_and_a_reader() -> None:
    for paper in (*PROJECT.values(), *EVENING.values(), SHARED_RUN_SHEET):
        assert (HOME / "outputs" / f"{paper.template}.typ").is_file()
    assert {paper.reader for paper in PROJECT.values()} == {Reader.ATTENDEE}
    assert {paper.reader for paper in EVENING.values()} == {Reader.DEMONSTRATOR}


def test_the_command_and_the_demonstrations_file_take_those_sizes_and_no_others() -> None:
    (option,) = (one for one in cli.commands["papers"].params if one.name == "size")
    assert option.type.choices == (*SIZES, "both")  # type: ignore[attr-defined]
    assert get_args(DemonstrationKeys.model_fields["paper"].annotation) == tuple(SIZES)


def test_papers_of_the_demonstrator_alone_are_private_and_those_of_others_are_not(tmp_path: Path) -> None:
    for size in SIZES:
        for paper in EVENING.values():
            assert is_private(tmp_path / paper.file(size))
            assert is_private(tmp_path / paper.file(size, "knob"))
        for paper in (*PROJECT.values(), SHARED_RUN_SHEET):
            assert not is_private(tmp_path / paper.file(size, "knob"))


def test_a_file_is_called_by_its_paper_and_size() -> None:
    assert called("small-knob-dimensions-a4.pdf", "small-knob") == "Dimensions sheet, A4"
    assert called("sketch.pdf", "small-knob") == "sketch"


def test_no_other_module_lists_them() -> None:
    """Two lists of one thing drift apart."""
    titles = [size.title for size in SIZES.values() if size.title != "A4"] + [
        one.title for one in PROJECT.values() if " " in one.title
    ]
    listed = re.compile("|".join(rf'"{re.escape(title)}"' for title in titles))
    for path in HOME.rglob("*.py"):
        if path.name != "paper.py":
            assert not listed.search(path.read_text(encoding="utf-8")), path


def test_what_a_file_of_papers_may_say_is_what_there_is() -> None:
    for keys in (ShopKeys, ProjectKeys):
        (choices,) = re.findall(r"'enum': (\[[^]]*\])", repr(keys.model_json_schema()["properties"]["papers"]))
        assert sorted(ast.literal_eval(choices)) == sorted(WORDS)
    assert set(USUAL) == {"short", "dimensions", "templates"}


def test_no_ready_size_can_give_a_paper_the_name_of_another() -> None:
    """A ready size called `handout` has papers of its own: PIECE-handout-WORD-SIZE.pdf."""
    for paper in PROJECT.values():
        assert not any(paper.name.endswith(f"-{other.name}") for other in PROJECT.values())
