"""Small things that strangers' files have tripped over, or might: each is one plain message, or nothing at all."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pikepdf
import pytest
from PIL import Image, ImageCms

from handouts_build.outputs.pdf_files import fault_of_pdf
from handouts_build.outputs.photographs import published
from handouts_build.outputs.signs import lacking
from handouts_build.problems import Place, Problem, ProjectError
from handouts_build.records.frozen import SUMS, kept, sums
from handouts_build.sheet import Picture
from handouts_build.site.build import read_archive
from tests.bad_input.generated import PIECE
from tests.projects import problems, worked

EMPTY = """\
parts:
  body:
    wood: maple, sugar
    blank: {blank}
    steps:
      - name: Turn it
        say: Turn it.
        hold: {{by: [between centers]}}
        cut:
          - {cut}:
"""


@pytest.mark.parametrize("cut", ["cylinder", "holes", "groove", "profile", "bore", "part off", "nonsense"])
def test_a_cut_with_nothing_below_it_is_a_message(cut: str, tmp_path: Path) -> None:
    found = problems(tmp_path, parts=EMPTY.format(blank="{round: 3 in, long: 4 in}", cut=cut))
    assert found
    assert all(problem.place.line for problem in found)


@pytest.mark.parametrize("kind", ["cylinder", "bead", "tenon"])
def test_an_element_of_a_profile_with_nothing_below_it_is_a_message(kind: str, tmp_path: Path) -> None:
    found = problems(tmp_path, profiles=f"drop: {{says: Drop, along: [{{{kind}: }}]}}")
    assert [problem.message for problem in found] == [f"there is nothing below '{kind}'"]


@pytest.mark.parametrize(
    "blank", ["{round: , long: 4 in}", "{ring: }", "{round: }", "{}", "", "[]", "{ring: , long: 2 in}"]
)
def test_a_blank_with_nothing_below_it_is_a_message(blank: str, tmp_path: Path) -> None:
    found = problems(tmp_path, parts=EMPTY.format(blank=blank, cut="cylinder: {diameter: 1 in}"))
    assert found
    assert all(problem.place.line for problem in found)


def test_a_name_that_needs_one_that_fails_is_no_fault_of_the_tool(tmp_path: Path) -> None:
    found = problems(
        tmp_path,
        dimensions="""
        a: {formula: 1 in / 0, says: A}
        b: {formula: a + 1 in, says: B}
        c: {formula: b * a, says: C}
        """,
        extra="keep:\n  - {that: c > a, says: It would not hold.}\n",
    )
    assert [problem.place.path for problem in found] == ["dimensions.a.formula"]


@pytest.mark.parametrize(
    "name", ["constructor", "__proto__", "prototype", "toString", "hasOwnProperty", 'a"b', "valueof"]
)
def test_a_size_by_a_name_that_scripts_know_is_refused_or_one_like_others(name: str, tmp_path: Path) -> None:
    sizes = f"{json.dumps(name)}: {{is: 2 in, says: Ball, least: 1 in, most: 3 in}}"
    said = problems(tmp_path, sizes=sizes)
    if not said:
        assert [size.name for size in worked(tmp_path, sizes=sizes).sizes] == [name]
    assert (name.isalpha() and name.islower()) or said


def test_hints_hold_nothing_that_acts_on_a_terminal() -> None:
    said = str(Problem(Place("a.yml"), "wrong \x1b[2J", "did you mean \x1b]0;x\x07 or \u202e this?\n second \x9b line"))
    assert said.isprintable() or said.replace("\n", "").isprintable()
    assert said.count("\n") == 2


@pytest.mark.parametrize("text", ["\u202eabc", "a\u200bb", "a\u2066b", "\ufeffa", "a\u2060b", "a\u061cb", "a\x1b[2J"])
def test_text_that_reads_as_another_than_it_is_gets_into_no_project(text: str, tmp_path: Path) -> None:
    (tmp_path / "piece.yml").write_text(PIECE.replace("Test piece", json.dumps(text)), encoding="utf-8")
    with pytest.raises(ProjectError, match=r"cannot be seen|YAML does not allow"):
        read_archive(tmp_path, base=tmp_path)


def test_what_joins_letters_is_no_such_text(tmp_path: Path) -> None:
    (tmp_path / "piece.yml").write_text(PIECE.replace("Test piece", "Na\u0308ïve"), encoding="utf-8")
    assert read_archive(tmp_path, base=tmp_path).sheets


def _frozen(folder: Path, data: str, paper: bytes = b"") -> None:
    files = {"sheet.json": data.encode(), **({"piece-handout-a4.pdf": paper} if paper else {})}
    for name, content in files.items():
        (folder / name).write_bytes(content)
    (folder / SUMS).write_text(sums(files), encoding="utf-8")


SOUND = (
    '{"format": "handouts sheet 1", "sizes": [], "groups": [], "parts": [{"name": "p", "title": TITLE, "wood": "oak",'
    ' "steps": [{"name": "s", "number": NUMBER, "speed": "", "say": [], "care": [], "boxes": []}]}]}'
)


@pytest.mark.parametrize("number", ["1e999", "-1e999", "NaN", '"1"', "[]", "9" * 5_000])
def test_a_number_without_end_in_frozen_data_is_a_message(number: str, tmp_path: Path) -> None:
    _frozen(tmp_path, SOUND.replace("NUMBER", "1").replace("TITLE", '"P"'))
    assert kept(tmp_path, "handed-out/x")
    _frozen(tmp_path, SOUND.replace("NUMBER", number).replace("TITLE", '"P"'))
    if number == '"1"':
        return
    with pytest.raises(ProjectError, match="not the data of a piece"):
        kept(tmp_path, "handed-out/x")


@pytest.mark.parametrize("title", ["\\u202eabc", "a\\u200bb", "\\u001b[2J", "\\ud800"])
def test_frozen_data_holds_no_text_that_reads_as_another(title: str, tmp_path: Path) -> None:
    _frozen(tmp_path, SOUND.replace("NUMBER", "1").replace("TITLE", f'"{title}"'))
    with pytest.raises(ProjectError, match="not the data of a piece"):
        kept(tmp_path, "handed-out/x")


def _pdf(**acting: object) -> bytes:
    paper = pikepdf.new()
    paper.add_blank_page()
    for key, value in acting.items():
        paper.Root[f"/{key}"] = value
    held = io.BytesIO()
    paper.save(held, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    return held.getvalue()


def _action(kind: str, **more: object) -> pikepdf.Dictionary:
    return pikepdf.Dictionary(S=pikepdf.Name(f"/{kind}"), **more)


ACTING = {
    "a script at opening": lambda: _pdf(OpenAction=_action("JavaScript", JS="app.alert(1)")),
    "a script in a list": lambda: _pdf(
        Names=pikepdf.Dictionary(JavaScript=pikepdf.Dictionary(Names=pikepdf.Array([])))
    ),
    "a program": lambda: _pdf(OpenAction=_action("Launch", F="calc.exe")),
    "another file": lambda: _pdf(OpenAction=_action("GoToR", F="other.pdf")),
    "files inside": lambda: _pdf(Names=pikepdf.Dictionary(EmbeddedFiles=pikepdf.Dictionary())),
    "a form that is sent": lambda: _pdf(AA=pikepdf.Dictionary(WC=_action("SubmitForm", F="https://x.example"))),
    "no PDF": lambda: b"%PDF-1.7\nhello",
    "cut short": lambda: _pdf()[:300],
}


@pytest.mark.parametrize("case", ACTING)
def test_a_paper_that_acts_is_not_handed_on(case: str, tmp_path: Path) -> None:
    """By ISO 32000-2, 12.6.4 (kinds of action) and 7.11.4 (files carried inside), whatever streams hide them in."""
    paper = ACTING[case]()
    assert fault_of_pdf(paper)
    _frozen(tmp_path, SOUND.replace("NUMBER", "1").replace("TITLE", '"P"'), paper)
    with pytest.raises(ProjectError, match="this paper is not published"):
        kept(tmp_path, "handed-out/x")


def test_a_plain_paper_is_handed_on() -> None:
    assert fault_of_pdf(_pdf()) == ""
    for path in (Path(__file__).parents[1] / "projects").rglob("*.pdf"):
        assert fault_of_pdf(path.read_bytes()) == ""


@pytest.mark.parametrize("size", [400, 100_000])
def test_a_color_profile_goes_on_only_if_it_is_small(size: int, tmp_path: Path) -> None:
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    given = profile[:400] if size == 400 else profile + bytes(size)
    Image.new("RGB", (8, 8)).save(tmp_path / "a.png", icc_profile=given)
    made = published(Picture("a.png", tmp_path / "a.png", "A picture"), file="a.yml")
    with Image.open(io.BytesIO(made)) as opened:
        assert ("icc_profile" in opened.info) == (size == 400)


def test_signs_that_the_fonts_lack_are_told_before_anything_is_set() -> None:
    assert lacking("Ribs & beads: 1/2 in, Größe, Ωμέγα, Дуб “…” × ° ½") == ()
    assert lacking("pine 🌲 and 木") == ("木", "🌲")
