"""The demo's calls: they hold together, and what their entries say agrees with the solids they are pictured from."""

from __future__ import annotations

from datetime import date
from functools import cache
from pathlib import Path

import pytest
from PIL import Image

from handouts_build.disk.cache import Cache
from handouts_build.quantities import millimetres
from handouts_build.schema import EntryKeys, load_file
from handouts_build.sheet.call import CallForPieces, CallState
from handouts_build.site.calls import survey_calls
from handouts_build.site.gathering import project_files
from tests.call_pictures import ENTRIES, PIECES, turned

ROOT = Path(__file__).parents[2]
NAMES = sorted(name for name in PIECES if not name.endswith("-opened"))


@cache
def calls() -> dict[str, CallForPieces]:
    found = survey_calls(ROOT / "projects", project_files(ROOT / "projects"), (), base=ROOT, cache=Cache())
    assert not found.problems
    return {call.name: call for call in found.sound}


def test_one_call_is_over_with_eight_entries_and_one_is_to_come_on_either_day() -> None:
    for day in (date(2026, 5, 1), date(2026, 11, 29)):
        over, coming = (calls()[name] for name in ("offcuts-2026", "first-cuts-2027"))
        assert over.state(day) is CallState.OVER
        assert len(over.as_of(day).entries) == 8
        assert over.as_of(day).awards
        assert coming.state(day) is CallState.COMING


def test_every_entry_has_its_computed_picture_and_all_together_are_small() -> None:
    pictures = sorted(ENTRIES.glob("*/*.webp"))
    assert {path.stem for path in pictures} == set(PIECES)
    assert sum(path.stat().st_size for path in pictures) < 1_500_000
    for path in pictures:
        with Image.open(path) as opened:
            assert (opened.format, opened.size) == ("WEBP", (1080, 810))
            assert not opened.getexif()


@pytest.mark.parametrize("name", NAMES)
def test_an_entry_is_as_large_as_its_solid(name: str) -> None:
    asked, _ = load_file(EntryKeys, ENTRIES / f"{name}.yml", name)
    low, high = turned(name).bounds
    across, along = high[0] - low[0], high[2] - low[2]
    said = {word: getattr(asked.size, word) for word in ("diameter", "height", "length")}
    length = "height" if PIECES[name].stands else "length"
    # A facet's corner lies on the circle, and its flat a little inside it.
    assert across == pytest.approx(float(said["diameter"].magnitude), rel=0.01)
    assert along == pytest.approx(float(said[length].magnitude), abs=0.02)
    assert said[length].units == millimetres(1).units
