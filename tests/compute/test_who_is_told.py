"""What is for the author alone stands in `check` and on no page or paper, and nothing is said twice."""

from __future__ import annotations

from pathlib import Path

from handouts_build.sheet import Level, Sheet
from tests.projects import project, site, worked

STICK = """\
profiles:
  stick:
    says: Stick
    part: body
    along: [{cylinder: {diameter: 1/2 in, long: 8 in}}]
parts:
  body:
    wood: maple, sugar
    blank: {round: 1 in, long: 8 in}
    steps:
      - name: Turn it
        say: Turn it.
        hold: {by: [between centers]}
        cut: [{profile: {shape: stick}}]
"""


def stick(folder: Path, **changes: str) -> Sheet:
    text = STICK
    for was, now in changes.items():
        text = text.replace(f"{was}: ", f"{now}\n        {was}: ", 1)
    return worked(folder, parts=text)


def of_slenderness(sheet: Sheet) -> list[str]:
    return [f"{one.level} {one.message}" for one in sheet.findings if "whip" in one.message]


def test_a_slender_part_is_told_once_at_its_step(tmp_path: Path) -> None:
    (told,) = of_slenderness(stick(tmp_path))
    assert told.startswith("mind the spindle is 8\u00a0in")


def test_a_slender_part_that_is_accepted_is_minded_nowhere(tmp_path: Path) -> None:
    (found,) = stick(tmp_path, cut="accept: {slender: It is short.}").findings
    assert found.level is Level.NOTE
    assert found.message.startswith("Slender on purpose: ")


def test_a_slender_profile_that_no_step_cuts_is_told_of_by_its_outline(tmp_path: Path) -> None:
    parts = STICK.replace("[{profile: {shape: stick}}]", "[{cylinder: {diameter: 7/8 in}}]")
    (told,) = of_slenderness(worked(tmp_path, parts=parts))
    assert told.startswith("mind the part is 16 times as long")


def test_that_a_finding_may_be_accepted_is_told_to_the_author_alone(tmp_path: Path) -> None:
    (found,) = (one for one in stick(tmp_path).findings if one.level is Level.MIND)
    assert str(found).endswith("; or write under step 1: accept: {slender: why}")
    assert "accept" not in found.remedy
    (tmp_path / "shop.yml").write_text("bits: [1 in]\n", encoding="utf-8")
    bit = "hole: {chapter: drilling, bit: 1/2 in, depth: 1 in}"
    project(tmp_path, parts=STICK, workings=bit)
    pages = {path: text.decode() for path, text in site(tmp_path).items() if path.endswith((".md", ".json", ".js"))}
    assert any("it can whip" in text for text in pages.values())
    for words in ("accept it", "the shop file lists no bit"):
        assert not [path for path, text in pages.items() if words in text]
