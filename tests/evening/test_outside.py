"""What leaves for other programs: calendar, papers and pages; and that nothing private leaves at all."""

from __future__ import annotations

import errno
import hashlib
import html
import io
import math
import re
import subprocess
import sys
import warnings
from datetime import UTC, datetime

import pypdfium2
import pytest

from handouts_build.disk import files
from handouts_build.disk.clock import today
from handouts_build.evening.folder import evening_kit
from handouts_build.evening.hand_out import hand_out
from handouts_build.outputs.output import Address
from handouts_build.problems import ProjectError
from handouts_build.site.build import read_archive
from handouts_build.site.publish import Papers
from tests.evening.conftest import EVENING, PIECE
from tests.projects import demo_archive, site
from tests.shared import built_site

NAME = "2026-06-06-saltmarsh"
PRIVATE = """\
attendees: 20
private:
  contact: [Host Zyxomma 555 0142]
  link: https://meeting.example/secret-room
  notes: [Remember the quokka lamp]
afterwards:
  attended: 19
  questions: [{asked: Why so dry?, answered: So that it holds.}]
  differently: [Bring a second wombat]
"""
SECRETS = ("Zyxomma", "secret-room", "quokka", "wombat")


def files_of(read, extra=""):
    records = read({NAME: EVENING + extra})
    return evening_kit(records, NAME).files


def text_of(pdf: bytes) -> str:
    document = pypdfium2.PdfDocument(io.BytesIO(pdf))
    try:
        pages = [page.get_textpage().get_text_bounded() for page in document]
    finally:
        document.close()
    return re.sub(r"\s+", " ", " ".join(pages))


def test_a_second_parser_reads_the_calendar_file_alike(read):
    """vobject, a parser of RFC 5545 of another house: start, end, zone, texts with commas and umlauts."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import vobject
    made = files_of(read, 'place: "Old Cannery; shed 3, back"\n' + PRIVATE)[f"piece-{NAME}-calendar.ics"]
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        event = vobject.readOne(made.decode()).vevent
    assert event.dtstart.value.astimezone(UTC) == datetime(2026, 6, 6, 23, 30, tzinfo=UTC)
    assert event.dtend.value.astimezone(UTC) == datetime(2026, 6, 7, 0, 30, tzinfo=UTC)
    assert event.summary.value == "Demonstration: Test piece (Saltmarsh Lathe Circle)"
    assert event.location.value == "Old Cannery; shed 3, back"
    assert "secret-room" in event.description.value


def test_the_calendar_file_keeps_to_the_form_of_rfc_5545(read):
    """RFC 5545, 3.1: CRLF and at most 75 octets a line; 3.6: PRODID, VERSION; 3.6.1: UID, DTSTAMP; a zone for TZID."""
    made = files_of(read, PRIVATE)[f"piece-{NAME}-calendar.ics"]
    lines = made.split(b"\r\n")
    assert lines[-1] == b""
    assert not any(b"\n" in line or len(line) > 75 for line in lines)
    text = made.replace(b"\r\n ", b"").decode()
    for need in ("BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:", "END:VCALENDAR"):
        assert text.count(need) == 1
    for need in ("UID:", "DTSTAMP:"):
        assert text.count(need) == text.count("BEGIN:VEVENT")
    assert "DTSTART;TZID=America/New_York:20260606T193000" in text
    assert "BEGIN:VTIMEZONE\r\nTZID:America/New_York" in text


def test_the_run_sheet_to_share_holds_nothing_private_and_the_packing_list_names_it(read):
    made = files_of(read, PRIVATE)
    page = made[f"piece-{NAME}-run-sheet-to-share.html"].decode()
    paper = text_of(made[f"piece-{NAME}-run-sheet-to-share-letter.pdf"])
    assert "Rough it to a cylinder." in page
    assert "Rough it to a cylinder." in paper
    assert not any(secret in text for secret in SECRETS for text in (page, paper))
    assert "for whoever runs the cameras the one to share" in text_of(made[f"piece-{NAME}-packing-list-letter.pdf"])


def test_the_same_demonstration_gives_the_same_bytes(read):
    known = PRIVATE + 'calendar id: "5d0c7b1e9a4f"\n'
    assert files_of(read, known) == files_of(read, known)


def test_the_run_sheet_holds_what_an_evening_needs(read):
    text = text_of(
        files_of(
            read, "speaker zone: Europe/London\nready made: [Sand it]\nmust see: [Rough it, Turn the foot]\n" + PRIVATE
        )[f"piece-{NAME}-run-sheet-letter.pdf"]
    )
    for need in (
        "7:30 pm",
        "12:30 am +1 in London",
        "Rough it to a cylinder.",
        "Camera: front",
        "Speed: 1,000 rpm",
        "Tools: spindle roughing gouge",
        "Set out before you start",
        "Pick up: The body, finished through step 3",
        "Say aloud: Mind the spinning corners.",
        "Questions",
        "The slot ends 8:30 pm",
        "Host Zyxomma 555 0142",
        "secret-room",
        "1 / (n + 1)",
    ):
        assert need in text


def test_the_packing_list_has_a_box_for_everything_and_the_stock_list_its_sums(read):
    made = files_of(read, PRIVATE + "paper: a4\n")
    packing = text_of(made[f"piece-{NAME}-packing-list-a4.pdf"])
    stock = text_of(made[f"piece-{NAME}-stock-list-a4.pdf"])
    assert "22 × Printed handouts" in packing
    assert "First-aid kit" in packing
    for need in (
        "Starts 7:30 pm in New York",
        "Contact Host Zyxomma 555 0142",
        "Your own notes Remember the quokka lamp",
    ):
        assert need in packing
    assert "board feet" in stock
    assert "A: The body" in stock
    assert "Not reckoned: the finished pieces on the packing list (Test piece, finished)" in stock
    assert "12.00 USD" in stock


def test_a_run_sheet_is_read_at_arms_length(read):
    """From memory of ISO 9241-303: a capital of 16 minutes of arc at least is read with ease; here at 70 cm."""
    least = 700 * math.tan(math.radians(16 / 60))
    document = pypdfium2.PdfDocument(io.BytesIO(files_of(read)[f"piece-{NAME}-run-sheet-letter.pdf"]))
    found = {}
    for page in document:
        words = page.get_textpage()
        for told in ("Rough it to a cylinder", "Rough it\r\n", "Say aloud"):
            place = words.search(told).get_next()
            if place is not None:
                _, bottom, _, top = words.get_charbox(place[0])
                found[told.strip()] = (top - bottom) * 25.4 / 72
    document.close()
    assert found.keys() == {"Rough it to a cylinder", "Rough it", "Say aloud"}
    assert min(found.values()) >= least - 0.02


def test_nothing_private_is_in_the_site(read, projects):
    read({NAME: EVENING + PRIVATE})
    made = site(projects, papers=Papers.MADE)
    assert "demonstrations.md" in made
    for path, content in made.items():
        told = content.decode("utf-8", "replace") + (text_of(content) if path.endswith(".pdf") else "")
        for secret in SECRETS:
            assert secret not in told, path
        assert "Run sheet" not in told or path.startswith(("reference/", "schemas/")), path
    assert not any(re.search(r"run-sheet|packing|stock-list|stopwatch|\.ics", path) for path in made)


def test_the_home_page_announces_what_is_to_come_and_leads_to_all_that_was(read, projects):
    assert "Demonstrations" not in site(projects)["index.md"].decode()
    later = EVENING.replace("2026-06-06", "2026-07-04").replace("Saltmarsh Lathe Circle", "Tarn Valley Turners")
    read({NAME: EVENING + "afterwards: {attended: 19}\n", "2026-07-04-tarn-valley": later})
    made = {path: content.decode("utf-8", "replace") for path, content in site(projects).items()}
    assert "Tarn Valley Turners" in made["index.md"]
    assert "Saltmarsh" not in made["index.md"]
    assert "(demonstrations.md)" in made["index.md"]
    assert "(../../demonstrations.md)" in made["projects/piece/shown.md"]
    announced, held = made["demonstrations.md"].split("## Held")
    assert "Tarn Valley" in announced
    assert "Saltmarsh" in held


def test_what_happened_is_published_and_what_is_shared_only_when_asked(read, projects):
    read({NAME: EVENING + PRIVATE + "share: [link]\n"})
    page = site(projects)["projects/piece/shown.md"].decode()
    for need in ("where it was shown", "Saltmarsh Lathe Circle", "19 people", "Why so dry?", "So that it holds."):
        assert need in page
    assert "secret-room" in page
    assert "Zyxomma" not in page


def published(read, projects, extra):
    """Every file of the site, as its text."""
    read({NAME: EVENING + extra})
    return {
        path: content.decode("utf-8", "replace") + (text_of(content) if path.endswith(".pdf") else "")
        for path, content in site(projects).items()
    }


@pytest.mark.parametrize(
    ("share", "open_"),
    [
        ("[run sheet]", ()),
        ("[run sheet, link]", ("secret-room",)),
        ("[run sheet, contact, link]", ("secret-room", "Zyxomma")),
    ],
)
def test_a_run_sheet_is_published_when_asked_for_and_nothing_private_with_it(read, projects, share, open_):
    told = published(read, projects, f"speaker zone: Europe/London\nshare: {share}\n{PRIVATE}")
    page, paper = f"projects/piece/shown/{NAME}/run-sheet.html", f"projects/piece/shown/{NAME}/run-sheet-letter.pdf"
    for path in (page, paper):
        for need in ("Rough it", "7:30 pm", "spindle gouge", "Say aloud", "Look at the clock"):
            assert need in told[path], (path, need)
        for secret in SECRETS:
            assert (secret in told[path]) == (secret in open_), (path, secret)
        # Nor by which clock the speaker lives.
        assert "yours" not in told[path]
        assert "London" not in told[path]
    assert "Do not publish" not in told[page]
    assert "Packing list" not in told[page]
    for path, text in told.items():
        for secret in {*SECRETS} - {*open_}:
            assert secret not in text, path
    for path in (page, paper):
        assert f"({path.removeprefix('projects/piece/')})" in told["projects/piece/shown.md"]
    assert [path for path in told if re.search(r"packing|stock-list|stopwatch|\.ics", path)] == []


def test_a_run_sheet_can_be_shared_where_nothing_is_private(read, projects):
    assert f"projects/piece/shown/{NAME}/run-sheet.html" in published(read, projects, "share: [run sheet]\n")


def test_a_published_run_sheet_follows_its_demonstration(read, projects):
    path = f"projects/piece/shown/{NAME}/run-sheet.html"
    first = published(read, projects, "share: [run sheet]\n")[path]
    second = published(read, projects, "share: [run sheet]\nbreak: 10 min\n")[path]
    assert "Break" not in first
    assert "Break" in second


def test_a_demonstration_that_is_not_listed_is_nowhere_on_the_site(read, projects):
    read({NAME: EVENING + "listed: false\n"})
    for content in site(projects).values():
        assert b"Saltmarsh" not in content


def test_the_demo_archive_keeps_its_secrets(tmp_path_factory):
    """On every file of the site as it is built, the pages and their search among them."""
    archive = demo_archive()
    secrets = [
        secret
        for records in archive.records
        for name in records.names
        for notes in [records.demonstration(name).private]
        for secret in (*notes.contact, *notes.notes, *notes.differently, notes.link)
        if secret
    ]
    assert len(secrets) > 10
    files = [path for path in built_site(tmp_path_factory).rglob("*") if path.is_file()]
    assert len(files) > 500
    for path in files:
        told = path.read_bytes().decode("utf-8", "replace")
        # Of a page as it is written, and as a reader sees it.
        for text in (told, html.unescape(told)) if path.suffix == ".html" else (told,):
            assert not [secret for secret in secrets if secret in text], path


def frozen(read, projects, extra=""):
    read({NAME: EVENING + extra})
    return hand_out(read_archive(projects, base=projects.parent), "2026-06-06", address=Address("https://a.example/"))


def test_what_is_handed_out_has_checksums_that_another_tool_agrees_with(read, projects):
    folder = frozen(read, projects)
    names = sorted(path.name for path in folder.iterdir())
    assert "piece-handout-letter.pdf" in names
    assert "sheet.json" in names
    for line in (folder / "SHA256SUMS").read_text(encoding="utf-8").splitlines():
        digest, _, name = line.partition("  ")
        assert hashlib.sha256((folder / name).read_bytes()).hexdigest() == digest
    if sys.platform != "win32":
        subprocess.run(["sha256sum", "--check", "--strict", "SHA256SUMS"], cwd=folder, check=True, capture_output=True)


def test_the_archive_shows_it_as_it_was_although_the_project_moved_on(read, projects):
    folder = frozen(read, projects)
    kept = (folder / "piece-handout-letter.pdf").read_bytes()
    (projects / "piece.yml").write_text(PIECE.replace("is: 2 in", "is: 2 1/2 in"), encoding="utf-8")
    made = site(projects, papers=Papers.MADE)
    assert made[f"projects/piece/handed-out/{NAME}/piece-handout-letter.pdf"] == kept
    assert made["projects/piece/piece-handout-letter.pdf"] != kept
    page = made["projects/piece/shown.md"].decode()
    assert "Changed since then" in page
    row = next(line for line in page.splitlines() if "Changed since then" in line)
    assert "Diameter of the ball" in row
    assert "51" in row
    assert "63.5" in row


def test_people_are_given_the_piece_as_it_is_shown_and_no_other_size(read, projects):
    text = PIECE + "ready sizes:\n  big: {says: Big, sizes: {ball: 3 in}}\n"
    (projects / "piece.yml").write_text(text, encoding="utf-8")
    names = {path.name for path in frozen(read, projects).iterdir()}
    assert names == {"SHA256SUMS", "sheet.json", "piece-handout-letter.pdf", "piece-dimensions-letter.pdf"}


def test_the_demo_archive_shows_what_has_changed_since_it_was_handed_out():
    """Each row is told apart from every other: two profiles have a length each."""
    archive = demo_archive()
    shown = [one for records in archive.records for one in records.public(today())]
    assert sum(one.held for one in shown) == 6
    assert sum(not one.held for one in shown) == 3
    assert len({one.project for one in shown}) >= 5
    assert len({one.zone for one in shown}) >= 3
    changed = [one for one in shown if one.changed]
    assert len(changed) >= 2
    for one in changed:
        rows = [(row.says, row.then, row.now) for row in one.changed]
        assert len(set(rows)) == len(rows)
    box = next(one for one in changed if one.project == "lidded-box")
    assert "Top of the lid: length from end to end" in [row.says for row in box.changed]


@pytest.mark.parametrize("fault", [OSError(errno.ENOSPC, "No space left on device"), KeyboardInterrupt()])
@pytest.mark.parametrize("at", ["first", "half", "all"])
def test_broken_off_while_it_is_handed_out_nothing_seems_to_be(read, projects, monkeypatch, fault, at):
    """A full disk, or Ctrl-C: the archive reads as before, and it can be handed out again."""
    real, left = files._write, {"first": 0, "half": 2, "all": 3}[at]

    def broken(path, content, *, send=False):
        nonlocal left
        if left == 0:
            raise fault
        left -= 1
        real(path, content, send=send)

    with monkeypatch.context() as full:
        full.setattr(files, "_write", broken)
        with pytest.raises(type(fault)):
            frozen(read, projects)
    assert list((projects / "piece" / "handed-out").glob("*")) == []
    assert not read().handed_out(NAME)
    assert (frozen(read, projects) / "SHA256SUMS").is_file()


def test_it_is_handed_out_once(read, projects):
    folder = frozen(read, projects)
    before = {path: path.read_bytes() for path in folder.iterdir()}
    with pytest.raises(ProjectError, match="already"):
        frozen(read, projects)
    assert before == {path: path.read_bytes() for path in folder.iterdir()}


def test_a_changed_or_lost_paper_is_found_out(read, projects):
    folder = frozen(read, projects)
    (folder / "sheet.json").write_bytes(b"{}")
    with pytest.raises(ProjectError, match="not the one that was handed out"):
        read()
    (folder / "sheet.json").unlink()
    with pytest.raises(ProjectError, match="missing"):
        read()


def test_asking_for_a_demonstration_that_is_not_there_names_those_that_are(read):
    records = read({NAME: EVENING})
    assert records.find("2026-06-06") == NAME
    with pytest.raises(ProjectError, match="did you mean"):
        records.find("2026-06-07-saltmarsh")
