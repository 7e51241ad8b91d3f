"""The library and its command do without MkDocs: who wants no site of MkDocs need not have it."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from handouts_build.site.starter import start_project

LACKING = ("mkdocs", "material", "mkdocs_handouts", "markdown")


@pytest.fixture
def environment(tmp_path: Path) -> dict[str, str]:
    """A machine on which none of those can be imported, in this process or in one that it starts."""
    home = tmp_path / "lacking"
    for name in LACKING:
        (home / name).mkdir(parents=True)
        (home / name / "__init__.py").write_text(f"raise ImportError('{name} is not here')\n", encoding="utf-8")
    paths = [str(home), *filter(None, [os.environ.get("PYTHONPATH", "")])]
    return {**os.environ, "PYTHONPATH": os.pathsep.join(paths)}


def test_what_is_said_to_lack_does_lack(environment: dict[str, str]) -> None:
    for name in LACKING:
        asked = [sys.executable, "-c", f"import {name}"]
        assert subprocess.run(asked, env=environment, capture_output=True, check=False).returncode == 1


def test_check_sheet_papers_and_pages_need_no_mkdocs(environment: dict[str, str], tmp_path: Path) -> None:
    start_project("knob", tmp_path / "projects")
    for arguments in (
        ("check",),
        ("sheet", "projects/knob.yml"),
        ("papers", "projects/knob.yml", "--size", "a4", "--to", "papers"),
        ("pages", "--no-papers", "--to", "pages"),
    ):
        ran = subprocess.run(
            [sys.executable, "-m", "handouts_build", *arguments],
            cwd=tmp_path, env=environment, capture_output=True, text=True, check=False,
        )  # fmt: skip
        assert (ran.returncode, ran.stderr) == (0, ""), arguments
    assert (tmp_path / "papers" / "knob-handout-a4.pdf").is_file()
    assert (tmp_path / "pages" / "projects" / "knob.md").is_file()
