"""Filling in what a file leaves unsaid never takes a caution away, and a file that says it as well gets the same.

The demo pieces are those the rules were written beside; the starters, the pieces of known verdicts and those that a
generator makes up were never looked at for them.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from handouts_build.disk.cache import Cache
from handouts_build.problems import ProjectError
from handouts_build.schema import PartKeys, ProjectKeys, StepKeys
from handouts_build.schema import load as loading
from handouts_build.schema.unsaid import filled
from handouts_build.sheet import Sheet
from handouts_build.site.build import read_projects
from handouts_build.site.starter import starter_kinds, starter_text
from tests.oracle.generate import piece
from tests.oracle.library import written
from tests.projects import DEMO_PIECES, ROOT, demo_archive

FINDINGS = sorted((ROOT / "tests" / "findings").glob("*.yml"))
MADE_UP = range(30)

Boxes = list[frozenset[str]]
"""Of the piece, then of each step."""


def _boxes(path: Path) -> Boxes | None:
    """Safety boxes by their rules; None where the file is refused."""
    try:
        # A cache of its own: what is kept there by the bytes of the file would be taken for the other reading.
        (sheet,) = read_projects([path], base=path.parent, cache=Cache()).sheets
    except ProjectError:
        return None
    return _boxes_of(sheet)


def _boxes_of(sheet: Sheet) -> Boxes:
    return [frozenset(box.id for box in boxes) for boxes in (sheet.boxes, *(step.boxes for step in sheet.steps))]


def _at_one_size(project: ProjectKeys) -> ProjectKeys:
    """Boxes are those of the sizes as written; working the others out too takes three times as long."""
    return project.model_copy(update={"ready_sizes": {}})


def _with_it(path: Path, patch: pytest.MonkeyPatch) -> Boxes | None:
    patch.setattr(loading, "filled", lambda project: _at_one_size(filled(project)))
    return _boxes(path)


def _without(path: Path, patch: pytest.MonkeyPatch) -> Boxes | None:
    patch.setattr(loading, "filled", _at_one_size)
    return _boxes(path)


def _nothing_is_lost(path: Path, patch: pytest.MonkeyPatch) -> int:
    """How many boxes come of what is filled in."""
    return _gained(path, _with_it(path, patch), _without(path, patch))


def _gained(path: Path, with_it: Boxes | None, without: Boxes | None) -> int:
    """How many boxes come of what is filled in; fails where one is lost."""
    assert (with_it is None) == (without is None), path
    for number, (more, less) in enumerate(zip(with_it or (), without or (), strict=True)):
        assert less <= more, (path.name, number, less - more)
    return sum(len(more - less) for more, less in zip(with_it or (), without or (), strict=True))


@pytest.mark.parametrize("name", DEMO_PIECES)
def test_what_is_filled_in_takes_no_caution_from_a_demo_piece(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    path = ROOT / "projects" / f"{name}.yml"
    # As it is read everywhere else it is worked out already.
    (sheet,) = (sheet for sheet in demo_archive().sheets if sheet.name == name)
    _gained(path, _boxes_of(sheet), _without(path, monkeypatch))


@pytest.mark.parametrize("kind", starter_kinds())
def test_what_is_filled_in_takes_no_caution_from_a_starter(
    kind: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "piece.yml"
    path.write_text(starter_text(kind, title="Piece"), encoding="utf-8")
    _nothing_is_lost(path, monkeypatch)


def test_what_is_filled_in_takes_no_caution_from_a_piece_of_known_verdict() -> None:
    gained = 0
    for path in FINDINGS:
        with pytest.MonkeyPatch.context() as patch:
            gained += _nothing_is_lost(path, patch)
    assert gained > len(FINDINGS) // 2


def test_what_is_filled_in_takes_no_caution_from_a_piece_that_was_made_up(tmp_path: Path) -> None:
    gained = 0
    for number in MADE_UP:
        path = tmp_path / "piece.yml"
        path.write_text(written(piece(7, number, steps=2, cuts=2)), encoding="utf-8")
        with pytest.MonkeyPatch.context() as patch:
            gained += _nothing_is_lost(path, patch)
    assert gained > len(MADE_UP) // 2


def _as_written(path: Path) -> ProjectKeys:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(loading, "filled", lambda project: project)
        project, _ = loading.load_project(path, path.name)
    return project


def _less(step: StepKeys, key: str, keep: list[str]) -> StepKeys:
    """A step whose list has only some of its words; with none of them, as if the key were not written."""
    changed = step.model_copy(update={key: keep})
    if not keep:
        changed.__pydantic_fields_set__.discard(key)
    return changed


def _with_step(project: ProjectKeys, name: str, at: int, step: StepKeys) -> ProjectKeys:
    part: PartKeys = project.parts[name]
    steps = [step if index == at else other for index, other in enumerate(part.steps)]
    return project.model_copy(update={"parts": {**project.parts, name: part.model_copy(update={"steps": steps})}})


def _said(step: StepKeys) -> tuple[object, ...]:
    return set(step.work), step.hold, step.abrasive, step.drawings, step.tools


@pytest.mark.parametrize("name", DEMO_PIECES)
def test_saying_what_would_be_filled_in_changes_nothing(name: str) -> None:
    """Everything that was filled in is written out, and then nothing is left to fill in."""
    project = _as_written(ROOT / "projects" / f"{name}.yml")
    once = filled(project)
    for part, again in zip(once.parts.values(), filled(once).parts.values(), strict=True):
        assert [_said(step) for step in part.steps] == [_said(step) for step in again.steps]


@pytest.mark.parametrize("name", DEMO_PIECES)
def test_no_word_of_work_is_written_that_would_be_filled_in(name: str) -> None:
    """The demo files say nothing that the tool knows: leaving any word out that is there loses it."""
    project = _as_written(ROOT / "projects" / f"{name}.yml")
    whole = filled(project)
    for part, keys in project.parts.items():
        for at, step in enumerate(keys.steps):
            for key in ("work", "abrasive"):
                for word in getattr(step, key):
                    less = _less(step, key, [other for other in getattr(step, key) if other != word])
                    found = filled(_with_step(project, part, at, less)).parts[part].steps[at]
                    now = whole.parts[part].steps[at]
                    assert set(getattr(found, key)) != set(getattr(now, key)), (step.name, key, word)


@pytest.mark.parametrize("name", DEMO_PIECES)
def test_no_hold_and_no_drawing_is_written_that_would_be_filled_in(name: str) -> None:
    project = _as_written(ROOT / "projects" / f"{name}.yml")
    whole = _settled(filled(project))
    for part, keys in project.parts.items():
        for at, step in enumerate(keys.steps):
            for key in {"hold", "drawings"} & step.model_fields_set:
                less = step.model_copy(update={key: None if key == "hold" else ()})
                less.__pydantic_fields_set__.discard(key)
                assert _settled(filled(_with_step(project, part, at, less))) != whole, (step.name, key)


def _settled(project: ProjectKeys) -> list[tuple[object, ...]]:
    return [_said(step) for part in project.parts.values() for step in part.steps]
