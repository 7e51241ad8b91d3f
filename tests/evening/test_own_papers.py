"""Papers are published as handed out only where this archive handed them out: checksums alone anybody can write."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest
from click.testing import CliRunner

from handouts_build.cli import cli
from handouts_build.disk.cache import Cache
from handouts_build.disk.folders import OWN_PAPERS
from handouts_build.evening.hand_out import hand_out
from handouts_build.outputs.output import Address
from handouts_build.problems import ProjectError
from handouts_build.records.frozen import SUMS, sums
from handouts_build.site.build import read_archive
from handouts_build.site.publish import summarize
from tests.evening.conftest import EVENING

NAME = "2026-06-06-saltmarsh"
FOREIGN = "were not handed out from this archive"


@pytest.fixture
def folder(read, projects: Path) -> Path:
    """An evening's papers, handed out from here."""
    read({NAME: EVENING})
    return hand_out(read_archive(projects, base=projects.parent), NAME, address=Address())


def said(projects: Path) -> str:
    try:
        read_archive(projects, base=projects.parent)
    except ProjectError as error:
        return str(error)
    return ""


def test_what_is_handed_out_is_on_the_list_which_another_tool_reads(folder: Path, projects: Path) -> None:
    assert said(projects) == ""
    assert (projects / OWN_PAPERS).read_text().split("  ")[1] == f"piece/handed-out/{NAME}/{SUMS}\n"
    if shutil.which("sha256sum"):
        subprocess.run(["sha256sum", "--check", "--strict", OWN_PAPERS], cwd=projects, check=True, capture_output=True)


def test_papers_with_sums_that_hold_are_refused_where_nobody_here_handed_them_out(folder: Path, projects: Path) -> None:
    (projects / OWN_PAPERS).unlink()
    assert FOREIGN in said(projects)
    assert f"handouts hand-out piece {NAME} --ours" in said(projects)


def test_a_list_that_came_with_the_papers_counts_for_nothing(folder: Path, projects: Path) -> None:
    for below in ("piece", f"piece/handed-out/{NAME}"):
        shutil.copy(projects / OWN_PAPERS, projects / below)
    (projects / OWN_PAPERS).unlink()
    assert FOREIGN in said(projects)


def test_a_paper_exchanged_together_with_its_checksum_is_found_out(folder: Path, projects: Path) -> None:
    files = {path.name: path.read_bytes() for path in folder.iterdir() if path.name != SUMS}
    paper = next(name for name in files if name.endswith(".pdf"))
    files[paper] += b"\n%"
    (folder / paper).write_bytes(files[paper])
    (folder / SUMS).write_text(sums(files))
    assert FOREIGN in said(projects)


def test_the_list_is_in_the_key_of_whoever_has_such_papers(folder: Path, projects: Path, tmp_path: Path) -> None:
    cache = Cache(tmp_path / "cache")
    paths = (projects / "piece.yml",)
    assert summarize(paths, base=tmp_path, cache=cache)
    (projects / OWN_PAPERS).unlink()
    for kept in (cache, Cache(tmp_path / "cache"), Cache()):
        with pytest.raises(ProjectError, match=FOREIGN):
            summarize(paths, base=tmp_path, cache=kept)


def test_papers_of_an_earlier_year_are_entered_once_their_checksums_hold(
    folder: Path, projects: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (projects / OWN_PAPERS).unlink()
    monkeypatch.chdir(projects.parent)
    asked = ["hand-out", "piece", NAME[:10], "--ours"]
    ended = CliRunner().invoke(cli, asked)
    assert ended.exit_code == 0, ended.exception
    assert said(projects) == ""
    (folder / "piece-handout-letter.pdf").write_bytes(b"%PDF-1.7 another")
    ended = CliRunner().invoke(cli, asked)
    assert isinstance(ended.exception, ProjectError)
    assert "its checksum differs" in str(ended.exception)
    ended = CliRunner().invoke(cli, [*asked[:2], "2031-01-01", "--ours"])
    assert f"say which: {NAME}" in str(ended.exception)


def test_a_list_that_is_a_link_is_one_message(folder: Path, projects: Path, tmp_path: Path) -> None:
    (projects / OWN_PAPERS).rename(tmp_path / "elsewhere")
    (projects / OWN_PAPERS).symlink_to(tmp_path / "elsewhere")
    assert "this list cannot be read: it is a link" in said(projects)
