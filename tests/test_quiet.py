"""The commands say on stderr what is wrong, and nothing else: not even what a library has to say as it ends."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from handouts_build.disk.folders import OWN_PAPERS
from handouts_build.site.starter import start_project
from tests.faults import given

ROOT = Path(__file__).parents[1]

EVENING = given.EVENING + "opening: 3 min\nsafety talk: 5 min\n"


@pytest.fixture
def archive(tmp_path: Path) -> Path:
    """A small piece with a demonstration, and a piece of a dozen solids."""
    start_project("knob", tmp_path / "projects")
    announced = tmp_path / "projects" / "knob" / "demonstrations" / "2026-06-05-tarn-valley.yml"
    announced.parent.mkdir(parents=True)
    announced.write_text(EVENING, encoding="utf-8")
    for name in ("lantern.yml", "shop.yml", OWN_PAPERS):
        shutil.copy(ROOT / "projects" / name, tmp_path / "projects" / name)
    shutil.copytree(ROOT / "projects" / "lantern", tmp_path / "projects" / "lantern")
    return tmp_path


@pytest.mark.parametrize(
    "arguments",
    [
        ("check", "projects/lantern.yml"),
        ("sheet", "projects/knob.yml"),
        ("papers", "projects/knob.yml", "--size", "a4", "--to", "out"),
        ("evening", "knob", "2026-06-05", "--to", "private"),
        ("hand-out", "knob", "2026-06-05"),
    ],
    ids=lambda arguments: arguments[0],
)
def test_a_fresh_process_with_nothing_kept_leaves_stderr_empty(arguments: tuple[str, ...], archive: Path) -> None:
    """Solids are worked out, and given back before the process ends."""
    ran = subprocess.run(
        [sys.executable, "-m", "handouts_build", *arguments],
        cwd=archive,
        capture_output=True,
        text=True,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path), "XDG_CACHE_HOME": str(archive / "cache")},
        timeout=120,
        check=False,
    )
    assert (ran.returncode, ran.stderr) == (0, ""), ran.stdout
