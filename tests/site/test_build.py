"""The pipeline: which files, every problem of every file, keys, addresses."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from handouts_build.disk.cache import Cache
from handouts_build.outputs.output import NOWHERE, Address
from handouts_build.problems import ProjectError
from handouts_build.site.build import project_files, read_archive, read_projects
from handouts_build.site.publish import summarize
from tests.projects import PARTS, project


def test_project_files_are_the_yaml_files_that_are_not_the_shop(tmp_path: Path) -> None:
    for name in ("b.yml", "a.yaml", "shop.yml", ".hidden.yml", "notes.md", "c.YML"):
        (tmp_path / name).write_text("x")
    assert [path.name for path in project_files(tmp_path)] == ["a.yaml", "b.yml", "c.YML"]


def test_a_folder_that_is_not_there_is_a_problem_with_a_way_out(tmp_path: Path) -> None:
    with pytest.raises(ProjectError, match="no such folder") as caught:
        read_archive(tmp_path / "projects", base=tmp_path)
    assert "handouts new" in caught.value.problems[0].hint


def test_an_empty_folder_is_an_empty_archive(tmp_path: Path) -> None:
    archive = read_archive(tmp_path, base=tmp_path)
    assert archive.sheets == ()
    assert not archive.stopped


def test_the_problems_of_all_files_are_told_together(tmp_path: Path) -> None:
    project(tmp_path, name="one", sizes="ball: {is: 2 inn, says: It}")
    project(tmp_path, name="sound")
    project(tmp_path, name="two", dimensions="a: {formula: b, says: It}")
    (tmp_path / "Three.yml").write_text("x")
    with pytest.raises(ProjectError) as caught:
        read_archive(tmp_path, base=tmp_path)
    assert [problem.place.file for problem in caught.value.problems] == ["Three.yml", "one.yml", "two.yml"]


def test_messages_name_files_from_the_base_or_in_full(tmp_path: Path) -> None:
    (tmp_path / "projects").mkdir()
    project(tmp_path / "projects")
    (inside,) = read_archive(tmp_path / "projects", base=tmp_path).sheets
    assert inside.file == "projects/piece.yml"
    (outside,) = read_archive(tmp_path / "projects", base=tmp_path / "elsewhere").sheets
    assert outside.file == (tmp_path / "projects" / "piece.yml").as_posix()


def test_one_file_given_twice_is_read_once(tmp_path: Path) -> None:
    path = project(tmp_path)
    assert len(read_projects([path, path], base=tmp_path).sheets) == 1


def test_two_files_of_one_name_in_two_folders_are_a_problem(tmp_path: Path) -> None:
    paths = []
    for folder in ("a", "b"):
        (tmp_path / folder).mkdir()
        paths.append(project(tmp_path / folder))
    with pytest.raises(ProjectError, match=r"already taken by a/piece\.yml"):
        read_projects(paths, base=tmp_path)


def test_titles_that_differ_only_in_capitals_are_one(tmp_path: Path) -> None:
    for name, title in (("one", "Ball"), ("two", "BALL")):
        path = project(tmp_path, name=name)
        path.write_text(path.read_text().replace(f"title: {name.capitalize()}", f"title: {title}"))
    with pytest.raises(ProjectError, match=r"already that of one\.yml"):
        read_archive(tmp_path, base=tmp_path)


def test_each_folder_has_its_own_shop(tmp_path: Path) -> None:
    for name in ("a", "b"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "shop.yml").write_text(f"club: Club {name.upper()}\n")
    paths = [project(tmp_path / "a", name="one"), project(tmp_path / "b", name="two")]
    assert [sheet.club for sheet in read_projects(paths, base=tmp_path).sheets] == ["Club A", "Club B"]


def key(folder: Path, name: str = "piece") -> str:
    archive = read_archive(folder, base=folder)
    return archive.keys[[sheet.name for sheet in archive.sheets].index(name)]


def test_a_key_changes_with_everything_a_project_is_made_from_and_with_nothing_else(tmp_path: Path) -> None:
    pictures = "pictures:\n  - {file: a.jpg, shows: It}\n"
    (tmp_path / "piece").mkdir()
    picture, shop = tmp_path / "piece" / "a.jpg", tmp_path / "shop.yml"
    picture.write_bytes(b"one")
    path = project(tmp_path, extra=pictures)
    keys = [key(tmp_path), key(tmp_path)]
    assert keys[0] == keys[1]
    project(tmp_path, name="other")
    (tmp_path / "piece" / "not-used.jpg").write_bytes(b"x")
    assert key(tmp_path) == keys[0]
    picture.write_bytes(b"two")
    keys.append(key(tmp_path))
    shop.write_text("club: Sample\n")
    keys.append(key(tmp_path))
    path.write_text(path.read_text() + "# changed\n")
    keys.append(key(tmp_path))
    assert len(set(keys)) == 4


def test_an_archive_is_stopped_when_any_project_is(tmp_path: Path) -> None:
    project(tmp_path, name="one")
    assert not read_archive(tmp_path, base=tmp_path).stopped
    project(tmp_path, name="two", extra="keep:\n  - {that: ball > 3 in, says: Too small.}\n")
    assert read_archive(tmp_path, base=tmp_path).stopped


@pytest.mark.parametrize(
    ("address", "url"),
    [
        (NOWHERE, ""),
        (Address("https://example.org/archive"), "https://example.org/archive/projects/piece/"),
        (Address("https://example.org/archive/", ".html"), "https://example.org/archive/projects/piece.html"),
    ],
)
def test_a_page_has_its_address_below_the_archives(address: Address, url: str, tmp_path: Path) -> None:
    project(tmp_path)
    (sheet,) = read_archive(tmp_path, base=tmp_path).sheets
    assert address.page(sheet) == url


def test_a_link_that_leads_to_itself_and_a_pipe_are_problems_and_are_not_waited_for(tmp_path: Path) -> None:
    (tmp_path / "loop.yml").symlink_to("loop.yml")
    os.mkfifo(tmp_path / "pipe.yml")
    (tmp_path / os.fsdecode(b"b\xff.yml")).write_text("x")
    for read in (
        lambda: read_archive(tmp_path, base=tmp_path),
        lambda: summarize(project_files(tmp_path), base=tmp_path, cache=Cache()),
    ):
        with pytest.raises(ProjectError) as caught:
            read()
        assert len(caught.value.problems) == 3


def test_two_steps_of_one_name_in_a_part_are_a_problem_at_the_second(tmp_path: Path) -> None:
    """Runs and demonstrations call steps by their names: of two that share one, one would be lost."""
    path = project(tmp_path, parts=f"{PARTS}      - {{name: turn It, say: Again.}}\n")
    with pytest.raises(ProjectError, match="already has a step called 'turn It'"):
        read_projects([path], base=tmp_path)


def test_ready_sizes_of_two_projects_whose_papers_would_share_a_name_are_a_problem(tmp_path: Path) -> None:
    def ready(name: str, size: str) -> Path:
        return project(tmp_path, name=name, extra=f"ready sizes:\n  {size}: {{says: It, sizes: {{ball: 3 in}}}}\n")

    paths = [ready("a", "b_c"), ready("a-b", "c")]
    with pytest.raises(ProjectError, match="those of a ready size of"):
        read_projects(paths, base=tmp_path)
