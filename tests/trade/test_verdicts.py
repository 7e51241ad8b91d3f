"""Golden cases: what the chapters say of givens that are not right."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from handouts_build.formulas import parse, value_of
from handouts_build.quantities import Quantity, exact, inches, read_quantity
from handouts_build.trade import CHAPTERS, Demand

CASES: list[dict[str, Any]] = yaml.safe_load(Path(__file__).with_name("verdicts.yaml").read_text(encoding="utf-8"))


def _unmet(case: dict[str, Any]) -> tuple[list[Demand], dict[str, Quantity]]:
    """The demands not met: problems on the givens alone, or, if there are none, everything on the results too."""
    chapter = CHAPTERS[case["chapter"]]
    known = {name: read_given(text) for name, text in case["given"].items()}
    known["rule"] = inches(1 / 32)
    known = chapter.completed(known)
    problems = [demand for demand in chapter.demands if demand.level == "problem" and not demand.met(known)]
    if problems:
        return problems, known
    known = chapter.work(**known)
    return [demand for demand in chapter.demands if not demand.met(known)], known


def read_given(text: str) -> Quantity:
    """A quantity as an author writes it, areas and volumes as formulas."""
    return value_of(parse(text), {}.__getitem__) if "*" in text else read_quantity(text)


def _said(demand: Demand, known: dict[str, Quantity]) -> str:
    text = demand.message.format_map({name: exact(value, "in") for name, value in known.items()})
    return f"{demand.level}: {text}".replace("\u00a0", " ").replace("−", "-")


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case['chapter']}: {case['given']}")
def test_givens_that_are_not_right_are_told_and_no_others(case: dict[str, Any]) -> None:
    demands, known = _unmet(case)
    assert [_said(demand, known) for demand in demands] == case["says"]


def test_every_demand_is_broken_by_some_case() -> None:
    broken = {(case["chapter"], demand.holds) for case in CASES for demand in _unmet(case)[0]}
    every = {(name, demand.holds) for name, chapter in CHAPTERS.items() for demand in chapter.demands}
    assert every == broken
