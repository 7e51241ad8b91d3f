"""What the tests of the trade share: published rows and the rule at the bench."""

from __future__ import annotations

import csv
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import yaml

from handouts_build.quantities import Quantity, inches

REFERENCE = Path(__file__).parents[1] / "reference"


@pytest.fixture
def rule() -> Quantity:
    """A rule marked in 32nds of an inch."""
    return inches(1 / 32)


@pytest.fixture
def published_rows() -> Callable[[str], list[dict[str, str]]]:
    """Rows of a published table, kept with their standing and source."""

    def read(name: str) -> list[dict[str, str]]:
        with (REFERENCE / name).open(encoding="utf-8", newline="") as file:
            return list(csv.DictReader(file))

    return read


@pytest.fixture
def published_example() -> Callable[[str, str], dict[str, Any]]:
    """A worked example from a published text, by file and id."""

    def read(name: str, wanted: str) -> dict[str, Any]:
        held = yaml.safe_load((REFERENCE / name).read_text(encoding="utf-8"))
        rows = held["examples"] if isinstance(held, dict) else held
        return next(row for row in rows if row["id"] == wanted)

    return read
