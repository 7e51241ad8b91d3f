"""What a browser prints of a project's page: the piece once, in the reader's unit, on a few sheets."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

import pikepdf
import pytest

ROOT = Path(__file__).parents[2]
PROJECTS = sorted(path.stem for path in (ROOT / "projects").glob("*.yml") if path.stem != "shop")
MOST_PAGES = 6


@pytest.mark.parametrize("name", PROJECTS)
def test_a_projects_page_prints_one_picture_and_the_readers_unit_first_on_at_most_six_pages(
    site: Path, glance: Any, name: str
) -> None:
    page = glance((site / "projects" / f"{name}.html").as_uri()).page
    page.emulate_media(media="print")
    pictures = page.eval_on_selector_all(
        "img", "all => all.filter(one => one.checkVisibility({visibilityProperty: true})).length"
    )
    assert pictures == 1
    first = page.eval_on_selector_all(
        ".hb-bystep td.hb-first",
        "cells => cells.filter(cell => cell.checkVisibility()).map(cell => cell.textContent.trim())",
    )
    lengths = [text for text in first if text.endswith(("in", "mm"))]
    assert lengths
    assert {text[-2:] for text in lengths} == {"in"}, "the unit that leads on this page"
    with pikepdf.open(io.BytesIO(page.pdf(format="Letter", print_background=False))) as printed:
        assert len(printed.pages) <= MOST_PAGES
