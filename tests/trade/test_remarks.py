"""Golden cases: what the chapters remark on, and only where it is called for."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml
from test_verdicts import read_given

import handouts_build.trade
from handouts_build.quantities import Quantity, exact, inches
from handouts_build.trade import CHAPTERS, ChapterRemark

CASES: list[dict[str, Any]] = yaml.safe_load(Path(__file__).with_name("remarks.yaml").read_text(encoding="utf-8"))
WITH_TESTS_OF_THEIR_OWN = {"divisions", "flutes"}
"""Their remarks are counts of index wheels, held against their own arithmetic."""


def _remarks(case: dict[str, Any]) -> tuple[tuple[ChapterRemark, ...], dict[str, Quantity]]:
    chapter = CHAPTERS[case["chapter"]]
    known = {name: read_given(text) for name, text in case["given"].items()} | {"rule": inches(1 / 32)}
    known = chapter.work(**chapter.completed(known))
    return chapter.remarks(known), known


def _said(remark: ChapterRemark, known: dict[str, Quantity]) -> str:
    text = remark.text.format_map({name: exact(value, "in") for name, value in known.items()})
    return text.replace("\u00a0", " ").replace("−", "-")


def _sentences(file: Path) -> Iterator[str]:
    """Each sentence of a chapter's own remarks, as a pattern: anything may stand where a value is filled in."""
    for function in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(function, ast.FunctionDef) and function.name == "_remarks":
            for call in ast.walk(function):
                if (
                    isinstance(call, ast.Call)
                    and getattr(call.func, "id", "") == "tr"
                    and isinstance(call.args[0], ast.Constant)
                ):
                    yield ".+".join(re.escape(part) for part in re.split(r"\{\w+\}", str(call.args[0].value)))


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case['chapter']}: {case['given']}")
def test_what_is_called_for_is_remarked_on_and_no_more(case: dict[str, Any]) -> None:
    remarks, known = _remarks(case)
    assert [{"says": _said(one, known), "source": one.source} for one in remarks] == case["remarks"]


def test_every_sentence_that_a_chapter_can_remark_on_is_in_some_case() -> None:
    said = " ".join(remark["says"] for case in CASES for remark in case["remarks"])
    missing = [
        f"{file.name}: {text}"
        for file in sorted(Path(handouts_build.trade.__file__).parent.glob("*.py"))
        if file.stem not in WITH_TESTS_OF_THEIR_OWN
        for text in _sentences(file)
        if not re.search(text, said)
    ]
    assert not missing
