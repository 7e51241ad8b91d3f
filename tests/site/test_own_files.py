"""Of a project's files only its own are read, all that is read is in the key, and nothing is written elsewhere."""

from __future__ import annotations

import os
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from handouts_build.disk.cache import Cache
from handouts_build.outputs.output import NOWHERE, Output
from handouts_build.problems import ProjectError
from handouts_build.site import publish as publishing
from handouts_build.site.gathering import belongings, project_files, unfit
from handouts_build.site.publish import publish, summarize
from tests.bad_input.generated import PIECE

pytestmark = pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no links and pipes as meant here")

EVENING = """\
date: 2027-03-13
start: 19:30
zone: America/Chicago
club: Saltmarsh Lathe Circle
slot: 100 min
"""


@pytest.fixture
def projects(tmp_path: Path) -> Path:
    folder = tmp_path / "projects"
    (folder / "piece").mkdir(parents=True)
    (folder / "piece.yml").write_text(PIECE, encoding="utf-8")
    return folder


def _linked_demonstrations(home: Path) -> None:
    elsewhere = home.parent.parent / "elsewhere"
    elsewhere.mkdir()
    (elsewhere / "2027-03-13-saltmarsh.yml").write_text(EVENING, encoding="utf-8")
    (home / "demonstrations").symlink_to(elsewhere)


def _linked_demonstration(home: Path) -> None:
    (home / "demonstrations").mkdir()
    (home.parent.parent / "evening.yml").write_text(EVENING, encoding="utf-8")
    (home / "demonstrations" / "2027-03-13-saltmarsh.yml").symlink_to(home.parent.parent / "evening.yml")


WRONG: dict[str, tuple[Callable[[Path], object], str]] = {
    "demonstrations elsewhere": (_linked_demonstrations, "it is a link"),
    "a demonstration elsewhere": (_linked_demonstration, "it is a link"),
    "dry runs elsewhere": (lambda home: (home / "dry-runs").symlink_to(home.parent), "it is a link"),
    "papers elsewhere": (lambda home: (home / "handed-out").symlink_to("/usr"), "it is a link"),
    "the system": (lambda home: (home / "pictures").symlink_to("/usr"), "it is a link"),
    "a pipe that nobody asked for": (lambda home: os.mkfifo(home / "left.over"), "it is a pipe"),
    "a device": (lambda home: (home / "zero").symlink_to("/dev/zero"), "it is a link"),
}


@pytest.mark.parametrize("case", WRONG)
def test_what_is_no_plain_file_of_the_projects_own_is_one_message_at_once_warm_and_fresh(
    case: str, projects: Path, tmp_path: Path
) -> None:
    paths = project_files(projects)
    cache = Cache(tmp_path / "cache")
    assert summarize(paths, base=tmp_path, cache=cache)
    make, why = WRONG[case]
    make(projects / "piece")
    for kept in (cache, Cache(tmp_path / "cache"), Cache()):
        started = time.process_time()
        with pytest.raises(ProjectError) as caught:
            summarize(paths, base=tmp_path, cache=kept)
        (problem,) = caught.value.problems
        assert why in problem.message
        assert problem.place.file.startswith("projects/piece/")
        assert time.process_time() - started < 5.0


def test_a_shop_file_that_is_a_link_is_refused(projects: Path, tmp_path: Path) -> None:
    (tmp_path / "shop.yml").write_text("maker: Somebody\n", encoding="utf-8")
    (projects / "shop.yml").symlink_to(tmp_path / "shop.yml")
    with pytest.raises(ProjectError, match=r"projects/shop\.yml: the file cannot be read: it is a link"):
        summarize(project_files(projects), base=tmp_path, cache=Cache())


def test_what_is_hidden_or_never_read_may_be_anything(projects: Path, tmp_path: Path) -> None:
    (projects / "piece" / ".git").symlink_to(tmp_path)
    with (projects / "piece" / "film.mp4").open("wb") as film:
        film.truncate(40 * 10**9)
    assert not list(unfit(projects / "piece.yml", tmp_path))


def test_whatever_changes_in_the_folder_changes_the_key(projects: Path) -> None:
    home, path = projects / "piece", projects / "piece.yml"
    seen = {tuple(belongings(path))}
    for change in (
        lambda: (home / "a.jpg").write_bytes(b"1"),
        lambda: (home / "a.jpg").write_bytes(b"2"),
        lambda: (home / "handed-out" / "x").mkdir(parents=True),
        lambda: (home / "handed-out" / "x" / "SHA256SUMS").write_bytes(b""),
        lambda: (home / "demonstrations").symlink_to(home / "handed-out"),
        lambda: os.mkfifo(home / "pipe"),
    ):
        before = len(seen)
        change()
        seen.add(tuple(belongings(path)))
        # An empty folder is nothing that is read; but with one for papers the archive's list of them counts.
        assert len(seen) == before + 1


@pytest.mark.parametrize(
    "path", ["../outside.md", "/etc/x", "projects/con.png", "projects/PIECE.md", "projects/piece.md/x"]
)
def test_nothing_is_published_outside_the_site_or_over_another_file(
    path: str, projects: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = publishing._shared

    def shared(*told: Any, **more: Any) -> dict[str, bytes]:
        return {**real(*told, **more), path: b"x"}

    monkeypatch.setattr(publishing, "_shared", shared)
    with pytest.raises(ProjectError, match="this cannot be published"):
        publish(project_files(projects), base=tmp_path, cache=Cache(), address=NOWHERE, papers=publishing.Papers.NONE)


def test_a_destination_is_checked_once_more_where_it_is_written(tmp_path: Path) -> None:
    (tmp_path / "site").mkdir()
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "site" / "projects").symlink_to(tmp_path / "elsewhere")
    with pytest.raises(OSError, match="a link leads out of the folder"):
        publishing.write_outputs([Output("index.md", b"a"), Output("projects/piece.md", b"b")], tmp_path / "site")
    assert not list((tmp_path / "elsewhere").iterdir())
