"""The starters: every kind builds clean in both units, and says of itself what a newcomer would ask."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path

import pytest

from handouts_build.disk.cache import Cache, user_folder
from handouts_build.outputs.output import NOWHERE
from handouts_build.problems import ProjectError
from handouts_build.quantities import UNITS
from handouts_build.site.build import paper_files, read_archive
from handouts_build.site.publish import Papers, publish
from handouts_build.site.starter import MeasuredIn, start_project, starter_kinds, starter_text

KINDS = tuple(starter_kinds())
BOTH = [(kind, measure) for kind in KINDS for measure in MeasuredIn]
EITHER = pytest.mark.parametrize(("kind", "measure"), BOTH, ids=lambda value: getattr(value, "value", value))
# What is written in a file: a number with a length's unit, a mixed number among them.
LENGTH = re.compile(r"(?<![\w.])((?:\d+ )?\d+/\d+|\d+(?:\.\d+)?) (in|mm)\b")


def test_there_is_a_starter_for_every_kind_that_was_asked_for() -> None:
    assert set(KINDS) >= {
        "knob", "ball", "bowl", "natural-edge-bowl", "platter", "lidded-box", "spindle", "goblet", "hollow-form",
        "segmented-vase", "staved-vessel", "off-axis", "ornament", "handle",
    }  # fmt: skip
    assert KINDS[0] == "knob"
    for about in starter_kinds().values():
        assert about[:2] in ("a ", "an")
        assert len(about) < 80


@EITHER
def test_a_starter_has_no_problem_and_no_finding(kind: str, measure: MeasuredIn, tmp_path: Path) -> None:
    start_project("my-piece", tmp_path / "projects", like=kind, measure=measure)
    (sheet,) = read_archive(tmp_path / "projects", base=tmp_path, cache=Cache(user_folder())).sheets
    assert not [str(finding) for finding in sheet.findings]
    assert sheet.title == "My piece"
    assert sheet.minutes > 0
    assert all(step.minutes for part in sheet.parts for step in part.steps)


@pytest.mark.parametrize(("wide", "egg_long"), [(32, 54), (40, 54), (55, 72.5), (64, 80)])
def test_an_egg_of_another_size_asks_for_nothing_more(wide: float, egg_long: float, tmp_path: Path) -> None:
    """What a newcomer changes first: no neck gets too thin. One far longer than wide stands far out, and is told so."""
    start_project("my-egg", tmp_path, like="egg", measure=MeasuredIn.MILLIMETERS)
    path = tmp_path / "my-egg.yml"
    text = path.read_text(encoding="utf-8")
    changed = text.replace("is: 64 mm", f"is: {egg_long} mm").replace("is: 45 mm", f"is: {wide} mm")
    path.write_text(changed, encoding="utf-8")
    (sheet,) = read_archive(tmp_path, base=tmp_path, cache=Cache(user_folder())).sheets
    assert [size.value.magnitude for size in sheet.sizes] == [wide, egg_long]
    assert not [str(finding) for finding in sheet.findings]


@pytest.mark.long
@EITHER
def test_a_starters_page_and_papers_are_made(kind: str, measure: MeasuredIn, tmp_path: Path) -> None:
    path, *_ = start_project("my-piece", tmp_path / "projects", like=kind, measure=measure)
    cache = Cache(user_folder())
    made = publish((path,), base=tmp_path, cache=cache, address=NOWHERE, papers=Papers.NONE)
    (page,) = (output for output in made if output.path == "projects/my-piece.md")
    assert b"My piece" in page.read()
    archive = read_archive(tmp_path / "projects", base=tmp_path, cache=cache)
    papers = paper_files(archive, address=NOWHERE, sizes=("letter" if measure is MeasuredIn.INCHES else "a4",))
    handouts = {name: pdf for files in papers.values() for name, pdf in files.items() if "-handout-" in name}
    assert handouts
    assert all(pdf.startswith(b"%PDF-") for pdf in handouts.values())


@EITHER
def test_a_starter_is_written_in_one_unit(kind: str, measure: MeasuredIn) -> None:
    text = starter_text(kind, title="Piece", measure=measure)
    assert {unit for _, unit in LENGTH.findall(text)} == {measure.value}
    assert " | " not in text
    assert measure.value in UNITS


@EITHER
def test_the_sizes_of_a_starter_are_ones_that_a_turner_sets(kind: str, measure: MeasuredIn) -> None:
    """Marks of a rule and of calipers, not lengths that were converted: to 1/32 in, or to half a millimeter."""
    for number, unit in LENGTH.findall(starter_text(kind, title="Piece", measure=measure)):
        if unit == "mm":
            assert float(number) * 2 % 1 == 0 or float(number) < 1, number
        else:
            _, _, below = number.rpartition("/")
            assert "/" not in number or int(below) in (2, 4, 8, 16, 32, 64, 128), number
            assert "." not in number, number


@pytest.mark.parametrize("kind", KINDS)
def test_a_starter_is_explained_where_a_newcomer_would_ask(kind: str) -> None:
    """Each block of the file, and each key of a step at its first time."""
    lines = starter_text(kind, title="Piece").splitlines()
    assert lines[0] == "# yaml-language-server: $schema=.schemas/project.schema.json"
    assert any("handouts check" in line for line in lines[1:6])
    above = {line.rstrip(":"): before for before, line in pairwise(lines)}
    for block in ("sizes", "dimensions", "workings", "profiles"):
        assert block not in above or above[block].startswith("# "), block
    for key in ("measure", "piece", "level"):
        assert all(" # " in line for line in lines if line.startswith(f"{key}:")), key
    assert any(line.startswith("level:") for line in lines)
    text = "\n".join(lines)
    assert "pictures, checks" in text or "pictures and checks" in text


def test_a_kind_that_is_not_there_is_refused_with_the_nearest(tmp_path: Path) -> None:
    with pytest.raises(ProjectError) as caught:
        start_project("my-piece", tmp_path, like="bowll")
    assert "bowl" in caught.value.problems[0].hint
    assert not list(tmp_path.iterdir())
    with pytest.raises(ProjectError) as caught:
        start_project("my-piece", tmp_path, like="xyzzy")
    assert "goblet" in caught.value.problems[0].hint
