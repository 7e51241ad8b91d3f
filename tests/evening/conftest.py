"""A small project with two parts, a shop, and room for demonstrations."""

from __future__ import annotations

import textwrap
from collections.abc import Callable
from pathlib import Path

import pytest

from handouts_build.records.showings import Records
from handouts_build.site.build import read_archive

PIECE = """\
title: Test piece
summary: A small piece for testing.
kind: ornament
level: improver
techniques: [bead]
sizes:
  ball: {is: 2 in, says: Diameter of the ball}
parts:
  body:
    says: The body
    wood: maple, sugar
    blank: {square: ball + 1/4 in, long: 4 in}
    steps:
      - {name: Rough it, say: Rough it to a cylinder. Then look., hold: {by: [between centers]}, speed: 1000 rpm,
         work: [roughing], tools: [spindle roughing gouge], minutes: 10, show: {worth: 2, camera: front}}
      - {name: Shape it, say: Shape it., hold: {by: [chuck]}, speed: 1500 rpm, tools: [spindle gouge, calipers],
         minutes: 20, show: {worth: 5, camera: overhead}}
      - {name: Sand it, say: Sand it., work: [sanding], abrasive: [paper], tools: [abrasives 120 to 320], minutes: 10,
         show: {worth: 1}}
  foot:
    says: The foot
    wood: maple, sugar
    blank: {square: 1 in, long: 3 in}
    steps:
      - {name: Turn the foot, say: Turn it., minutes: 15, care: Mind the spinning corners.}
      - {name: Oil it, say: Oil it., show: talk, minutes: 5}
"""

SHOP = """\
by: Wren Tarrow
club: Fernhollow Turners
lathe: {thread: 1 in x 8 TPI, taper: MT2}
chuck long: 4 in
threads: [1 in x 8 TPI, M33 x 3.5]
tapers: [MT1, MT2]
currency: USD
sticks:
  - {name: maple A, wood: "maple, sugar", square: 2 1/2 in, long: 24 in, price: 12}
"""

EVENING = """\
date: 2026-06-06
start: 19:30
zone: America/New_York
club: Saltmarsh Lathe Circle
slot: 60 min
questions: 5 min
"""


@pytest.fixture
def projects(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder of the project, gone into."""
    monkeypatch.chdir(tmp_path)
    folder = tmp_path / "projects"
    (folder / "piece" / "demonstrations").mkdir(parents=True)
    (folder / "piece.yml").write_text(PIECE, encoding="utf-8")
    (folder / "shop.yml").write_text(SHOP, encoding="utf-8")
    return folder


@pytest.fixture
def read(projects: Path) -> Callable[..., Records]:
    """Write demonstrations and runs, by the name of the file without ending, and read everything."""

    def write(evenings: dict[str, str] | None = None, runs: dict[str, str] | None = None) -> Records:
        for folder, files in (("demonstrations", evenings or {}), ("dry-runs", runs or {})):
            for name, text in files.items():
                path = projects / "piece" / folder / f"{name}.yml"
                path.parent.mkdir(exist_ok=True)
                path.write_text(textwrap.dedent(text), encoding="utf-8")
        return read_archive(projects, base=projects.parent).records[0]

    return write
