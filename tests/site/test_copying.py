"""A copy of a project: its text and its pictures, and nothing that happened with it."""

from __future__ import annotations

from pathlib import Path

import pytest

from handouts_build.problems import ProjectError
from handouts_build.site.build import read_archive
from handouts_build.site.copying import copy_project
from handouts_build.site.starter import start_project


@pytest.fixture
def knob(tmp_path: Path) -> Path:
    path, *_ = start_project("knob", tmp_path / "projects")
    text = path.read_text(encoding="utf-8")
    path.write_text(f"{text}\npictures:\n  - {{file: views/front.jpg, shows: The knob}}\n", encoding="utf-8")
    home = path.with_suffix("")
    for name in (
        "views/front.jpg", "demonstrations/2026-01-02-club.yml", "dry-runs/2026-01-02.yml", "plans/x.yml",
        "handed-out/2026-01-02-club/knob.pdf", "demonstrations/room.jpg", "notes.txt",
    ):  # fmt: skip
        (home / name).parent.mkdir(parents=True, exist_ok=True)
        (home / name).write_bytes(b"bytes of " + name.encode())
    return path


def files(folder: Path) -> set[str]:
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}


def test_a_copy_has_the_pictures_and_none_of_the_evenings(knob: Path) -> None:
    folder = knob.parent
    copy_project(knob, "second", folder)
    assert files(folder / "second") == {"views/front.jpg"}
    assert (folder / "second" / "views" / "front.jpg").read_bytes() == b"bytes of views/front.jpg"


def test_all_but_the_title_is_to_the_letter_as_it_was(knob: Path) -> None:
    folder = knob.parent
    copy_project(knob, "second", folder)
    before, after = (path.read_text(encoding="utf-8").splitlines() for path in (knob, folder / "second.yml"))
    assert [(old, new) for old, new in zip(before, after, strict=True) if old != new] == [
        ('title: "Knob"', 'title: "Knob (copy)"')
    ]


@pytest.mark.parametrize(
    "title", ["title: >-\n  A\n  knob", "title: 'A knob' # mine", "title: A\n  knob", '"title": "A knob"']
)
def test_a_title_is_marked_however_it_is_written(title: str, tmp_path: Path) -> None:
    path, *_ = start_project("knob", tmp_path)
    path.write_text(path.read_text(encoding="utf-8").replace('title: "Knob"', title), encoding="utf-8")
    copy_project(path, "second", tmp_path)
    first, second = read_archive(tmp_path, base=tmp_path).sheets
    assert (first.title, second.title) == ("A knob", "A knob (copy)")
    assert ("# mine" in title) == ("# mine" in (tmp_path / "second.yml").read_text(encoding="utf-8"))


def test_two_copies_are_told_apart_by_their_titles(tmp_path: Path) -> None:
    path, *_ = start_project("knob", tmp_path)
    copy_project(path, "second", tmp_path)
    copy_project(path, "third", tmp_path)
    sheets = read_archive(tmp_path, base=tmp_path).sheets
    assert [sheet.title for sheet in sheets] == ["Knob", "Knob (copy)", "Knob (copy 2)"]


def test_nothing_is_written_over(knob: Path) -> None:
    folder = knob.parent
    (folder / "second").mkdir()
    before = files(folder)
    for name, why in (("knob", "already"), ("second", "already"), ("../out", "cannot be")):
        with pytest.raises(ProjectError, match=why):
            copy_project(knob, name, folder)
    assert files(folder) == before


def test_a_link_among_the_pictures_is_not_followed(knob: Path, tmp_path: Path) -> None:
    secret = tmp_path / "secret.jpg"
    secret.write_bytes(b"secret")
    (knob.with_suffix("") / "a.jpg").symlink_to(secret)
    with pytest.raises(ProjectError, match="it is a link"):
        copy_project(knob, "second", knob.parent)
    assert not (knob.parent / "second.yml").exists()
