"""What the archive lists a piece by may be left out: its author is told, and nobody else."""

from __future__ import annotations

from pathlib import Path

from handouts_build.sheet import Level
from handouts_build.site.build import read_archive
from tests.projects import project


def test_kind_level_and_techniques_are_asked_for_by_a_note(tmp_path: Path) -> None:
    path = project(tmp_path)
    text = path.read_text(encoding="utf-8")
    bare = "".join(line for line in text.splitlines(True) if not line.startswith(("kind:", "level:", "techniques:")))
    path.write_text(bare, encoding="utf-8")
    (sheet,) = read_archive(tmp_path, base=tmp_path).sheets
    (note,) = sheet.findings
    assert (note.level, note.private) == (Level.NOTE, True)
    assert "kind, level and techniques are not said" in note.message
    assert not sheet.stopped
    path.write_text(bare + "kind: bowl\nlevel: improver\n", encoding="utf-8")
    (sheet,) = read_archive(tmp_path, base=tmp_path).sheets
    assert "techniques is not said" in sheet.findings[0].message
