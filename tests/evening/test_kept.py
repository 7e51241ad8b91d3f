"""What is kept stays found: papers handed out, runs and evenings that are over, folders with a slip in their names."""

from __future__ import annotations

import hashlib
import json
import shutil
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from handouts_build.disk.clock import now, today
from handouts_build.evening.hand_out import hand_out
from handouts_build.outputs.output import Address
from handouts_build.outputs.page_content import PageContent
from handouts_build.outputs.pages.render import project_pages
from handouts_build.problems import ProjectError
from handouts_build.records.frozen import SUMS
from handouts_build.records.own_papers import enter
from handouts_build.site.build import read_archive
from handouts_build.site.publish import Papers
from tests.evening.conftest import EVENING, PIECE
from tests.evening.test_outside import text_of
from tests.projects import site

NAME = "2026-06-06-saltmarsh"
HELD = EVENING + "afterwards: {attended: 9}\n"
RUN = 'runs:\n  - {began: 2026-05-01 10:00, finished: true, times: [{step: Ruff it, from: "0:00", to: "9:00"}]}\n'


def problems(projects: Path) -> str:
    with pytest.raises(ProjectError) as caught:
        read_archive(projects, base=projects.parent)
    return str(caught.value)


def frozen(read, projects: Path, **files: bytes) -> Path:
    """A folder of papers handed out from here, with these files in the place of the tool's, and sums that hold."""
    read({NAME: HELD})
    folder = projects / "piece" / "handed-out" / NAME
    folder.mkdir(parents=True)
    sums = []
    for name, content in files.items():
        (folder / name).write_bytes(content)
        sums.append(f"{hashlib.sha256(content).hexdigest()}  {name}\n")
    (folder / SUMS).write_text("".join(sums), encoding="utf-8")
    enter(folder, (folder / SUMS).read_bytes())
    return folder


def handed(read, projects: Path, evening: str = HELD) -> Path:
    read({NAME: evening})
    return hand_out(read_archive(projects, base=projects.parent), NAME, address=Address())


@pytest.mark.parametrize("name", ["x](javascript:alert(1))-a4.pdf", "Piece.pdf", "a b.pdf", "x%0a.pdf", '"on.pdf'])
def test_a_paper_has_a_plain_name_or_the_folder_is_refused(read, projects, name):
    frozen(read, projects, **{name: b"%PDF-"})
    assert "is not the name of a paper that was handed out" in problems(projects)


def test_a_file_name_that_got_past_is_text_on_the_page_and_no_link_of_its_own(read):
    """CommonMark 6.3 and 2.5: a character reference closes no link text, and a percent-encoded address no link."""
    records = read({NAME: HELD})
    shown = replace(records.public(today())[0], handed_out={"x](javascript:alert(1))-a4.pdf": b""})
    page = next(
        one
        for one in project_pages(PageContent(records.sheet, demonstrations=(shown,)))
        if one.path.endswith("/shown.md")
    )
    text = page.read().decode()
    assert "](javascript:" not in text
    assert "x%5D%28javascript%3Aalert%281%29%29-a4.pdf)" in text


@pytest.mark.parametrize(
    "data",
    [b'{"groups": []}', b"hello", b"[]", b"\xff", b'{"format": "handouts sheet 1"}', b"[" * 50_000,
     b'{"format": "handouts sheet 1", "sizes": [1], "groups": [], "parts": []}'],
)  # fmt: skip
def test_data_that_is_none_of_the_tools_is_one_problem_of_its_file(read, projects, data):
    frozen(read, projects, **{"sheet.json": data})
    told = problems(projects)
    assert told.startswith(f"projects/piece/handed-out/{NAME}/sheet.json: this is not the data of a piece")


def test_data_of_another_form_says_which_is_read(read, projects):
    frozen(read, projects, **{"sheet.json": b'{"format": "handouts sheet 9"}'})
    assert "'handouts sheet 9', and this version reads 'handouts sheet 1'" in problems(projects)


def test_sums_without_data_are_refused_for_nothing_could_be_compared(read, projects):
    frozen(read, projects, **{"piece-handout-letter.svg": b"<svg/>"})
    assert "'sheet.json' is not among what was handed out" in problems(projects)


def test_papers_say_at_their_foot_where_and_when_they_were_handed_out(read, projects):
    folder = handed(read, projects)
    foot = "Handed out: Saltmarsh Lathe Circle, Saturday, 6 June 2026"
    assert all(foot in text_of(paper.read_bytes()) for paper in folder.glob("*.pdf"))
    papers = {name: one for name, one in site(projects, papers=Papers.MADE).items() if name.endswith("letter.pdf")}
    assert {"handed-out" in name for name in papers} == {True, False}
    assert all((foot in text_of(one)) is ("handed-out" in name) for name, one in papers.items())


def test_a_moved_or_deleted_evening_does_not_lose_its_papers_in_silence(read, projects):
    handed(read, projects, EVENING)
    evenings = projects / "piece" / "demonstrations"
    (evenings / f"{NAME}.yml").unlink()
    told = problems(projects)
    assert f"there is no demonstration {NAME} that these papers were handed out at" in told
    assert "rename" not in told
    assert f"bring demonstrations/{NAME}.yml back" in told
    moved = EVENING.replace("2026-06-06", "2026-06-13")
    (evenings / "2026-06-13-saltmarsh.yml").write_text(moved, encoding="utf-8")
    assert "if it was moved to 2026-06-13, rename this folder to 2026-06-13-saltmarsh" in problems(projects)
    (projects / "piece" / "handed-out" / NAME).rename(projects / "piece" / "handed-out" / "2026-06-13-saltmarsh")
    assert "2026-06-13-saltmarsh/piece-handout-letter.pdf" in site(projects)["projects/piece/shown.md"].decode()


def test_the_page_says_that_wood_speed_words_cautions_and_steps_changed(read, projects):
    handed(read, projects)
    page = site(projects)["projects/piece/shown.md"].decode()
    assert "No size, main dimension, wood, speed, step or caution has changed since then." in page
    piece = (
        PIECE.replace("wood: maple, sugar\n    blank: {square: 1 in", "wood: walnut, black\n    blank: {square: 1 in")
        .replace("speed: 1000 rpm", "speed: 800 rpm")
        .replace("say: Shape it.", "say: Shape it slowly.")
        .replace("Mind the spinning corners.", "Keep clear of the corners.")
        .replace("{name: Oil it, say: Oil it., show: talk, minutes: 5}", "{name: Wax it, say: Wax it., minutes: 5}")
    )
    (projects / "piece.yml").write_text(piece, encoding="utf-8")
    page = site(projects)["projects/piece/shown.md"].decode()
    table = page[page.index("Changed since then") :].partition("</table>")[0].replace("\u00a0", " ")
    for need in (
        "Wood of The foot</th> <td>sugar maple</td> <td>black walnut",
        "Speed of step 1, “Rough it”</th> <td>1,000 rpm</td> <td>800 rpm",
        "What to do at step 2<",
        "Cautions at step 4<",
        "The foot, step “Oil it”</th> <td>step 5</td> <td>no longer there",
        "The foot, step “Wax it”</th> <td>not there</td> <td>step 5",
    ):
        assert need in table
    # A step that says what it was called before is the same step.
    (projects / "piece.yml").write_text(
        PIECE.replace("{name: Oil it,", "{name: Oil it well, formerly: [Oil it],"), encoding="utf-8"
    )
    assert "No size, main dimension" in site(projects)["projects/piece/shown.md"].decode()


def test_a_renamed_step_keeps_its_runs_and_a_dropped_one_is_a_note(read, projects):
    records = read({NAME: HELD + "must see: [Ruff it]\n"}, {"2026-05-01": RUN})
    notes = [str(one) for one in records.notes(date(2026, 7, 1))]
    assert len(notes) == 2
    assert all("'Ruff it' is not a step of Test piece any more: not counted" in one for one in notes)
    assert "did you mean 'Rough it'? if a step was renamed, write formerly: [Ruff it] at that step" in notes[1]
    assert not records.runs[0].times
    (projects / "piece.yml").write_text(PIECE.replace("name: Rough it,", "name: Rough it, formerly: [Ruff it],"))
    records = read()
    assert not records.notes(date(2026, 7, 1))
    assert [one.step for one in records.runs[0].times] == ["Rough it"]
    assert next(line for line in records.demonstration(NAME).plan.lines if line.name == "Rough it").runs == 1


def test_what_is_still_to_come_names_steps_that_are_there(read, projects):
    (projects / "piece.yml").write_text(PIECE.replace("name: Rough it,", "name: Rough it, formerly: [Ruff it],"))
    assert read({NAME: EVENING + "must see: [Ruff it]\n"}).demonstration(NAME)
    with pytest.raises(ProjectError, match="'Riff it' is not a step"):
        read({NAME: EVENING + "must see: [Riff it]\n"})


@pytest.mark.parametrize(
    ("old", "told"),
    [("Shape it", "'Shape it' is the name of a step now"), ("Begin", "'Begin' was 'Rough it' already")],
)
def test_an_old_name_is_that_of_one_step_and_of_none_now(read, projects, old, told):
    piece = PIECE.replace("name: Rough it,", f"name: Rough it, formerly: [{old}],")
    (projects / "piece.yml").write_text(piece.replace("name: Sand it,", f"name: Sand it, formerly: [{old}],"))
    assert told in problems(projects)


def pages(projects: Path, monkeypatch: pytest.MonkeyPatch, day: str) -> tuple[str, str, str]:
    """The home page, the list of demonstrations and the project's page of its own, on a day."""
    at = datetime.fromisoformat(f"{day}T13:00").replace(tzinfo=UTC)
    monkeypatch.setenv("SOURCE_DATE_EPOCH", str(int(at.timestamp())))
    made = site(projects)
    first, second, third = (made[one].decode() for one in ("index.md", "demonstrations.md", "projects/piece/shown.md"))
    return first, second, third


def test_an_evening_is_announced_until_its_day_is_over_everywhere(read, projects, monkeypatch):
    read({NAME: EVENING})
    home, listed, page = pages(projects, monkeypatch, "2026-06-06")
    assert "Saltmarsh" in home
    assert "## Announced" in listed
    assert "where it will be shown" in page
    assert "7:30 pm New York time" in page
    home, listed, page = pages(projects, monkeypatch, "2026-06-07")
    assert "Saltmarsh" not in home
    assert "## Announced" not in listed
    assert "## Held" in listed
    assert "no record of how it went" in listed
    assert "where it was shown" in page
    note = str(read().notes(today())[0])
    assert note.startswith(f"projects/piece/demonstrations/{NAME}.yml:1:7: date: note: the day of the demonstration")
    assert "nothing says how it went" in note


def test_the_clock_can_be_set_and_a_day_ends_where_the_clock_is_last(monkeypatch):
    """The IANA list has zones from UTC+14 to UTC-12: at noon UTC a day is over in the last of them."""
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1780833599")
    assert now().isoformat() == "2026-06-07T11:59:59+00:00"
    assert today() == date(2026, 6, 6)
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1780833600")
    assert today() == date(2026, 6, 7)


def test_a_cancelled_evening_says_so_and_is_not_announced(read, projects, monkeypatch):
    read({NAME: EVENING + "cancelled: The hall is flooded.\n"})
    for day in ("2026-05-01", "2026-07-01"):
        home, listed, page = pages(projects, monkeypatch, day)
        assert "Saltmarsh" not in home
        assert "## Cancelled" in listed
        assert "## Announced" not in listed
        assert "## Held" not in listed
        assert "Cancelled: The hall is flooded, in the room." in page
        assert not read().notes(today())
    with pytest.raises(ProjectError, match="both 'cancelled' and 'afterwards' are said"):
        read({NAME: HELD + "cancelled: The hall is flooded.\n"})


@pytest.mark.parametrize(
    ("folder", "told"),
    [
        ("peice/demonstrations", "projects/peice: there is no project peice.yml"),
        ("piece/demonstration", "projects/piece/demonstration: nothing in this folder is read"),
        ("piece/dry_runs", "projects/piece/dry_runs: nothing in this folder is read"),
        ("piece/evenings", "projects/piece/evenings: nothing in this folder is read"),
    ],
)
def test_a_folder_with_a_slip_in_its_name_is_told(read, projects, folder, told):
    read()
    (projects / folder).mkdir(parents=True)
    (projects / folder / f"{NAME}.yml").write_text(EVENING, encoding="utf-8")
    text = problems(projects)
    assert told in text
    right = {"peice": "rename it to piece", "demonstration": "rename it to demonstrations", "dry_runs": "rename it to "}
    assert right.get(folder.partition("/")[0], right.get(folder.partition("/")[2], "what is read is in")) in text


def test_folders_of_photographs_and_of_other_things_are_nobodys_business(read, projects):
    read({NAME: EVENING})
    for folder in ("piece/photos", "drafts", ".schemas"):
        (projects / folder).mkdir(parents=True)
        (projects / folder / "one.jpg").write_bytes(b"")
    assert read().names == (NAME,)


def test_a_step_may_be_written_into_the_data_by_any_version_of_this_form(read, projects):
    """What is in the data and not compared may come and go."""
    folder = handed(read, projects)
    data = json.loads((folder / "sheet.json").read_bytes())
    shutil.rmtree(folder)
    del data["findings"], data["whole"]
    frozen(read, projects, **{"sheet.json": json.dumps(data).encode()})
    assert read().public(today())[0].changed == ()
