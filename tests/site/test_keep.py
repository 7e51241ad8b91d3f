"""Kept for decades: corrections where they belong, a code that says whether a paper holds, and all to take away."""

from __future__ import annotations

import hashlib
import io
import re
import zipfile
from datetime import date
from pathlib import Path

import pypdfium2
import pytest

from handouts_build.cli import cli
from handouts_build.disk.cache import Cache
from handouts_build.outputs.data import version_of
from handouts_build.outputs.output import Address
from handouts_build.problems import ProjectError
from handouts_build.site import publish as publishing
from handouts_build.site.build import one_paper, read_archive
from handouts_build.site.gathering import project_files
from handouts_build.site.issuing import issue_project
from handouts_build.site.publish import Papers, publish
from handouts_build.site.stick import stick
from tests.projects import project
from tests.site.test_follow import EVENING

ADDRESS = Address("https://club.example/", ".html")
ERRATA = """\
errata:
  - {date: 2026-01-12, wrong: "The *bore* is {ball} deep and not 3 in.", printed: [2025-09-20]}
  - {date: 2025-02-01, wrong: Sand at 600 rpm.}
"""


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An archive of one corrected piece that was shown three times."""
    monkeypatch.setattr(publishing, "today", lambda: date(2026, 3, 1))
    folder = tmp_path / "projects"
    folder.mkdir()
    project(folder, name="knob", extra=ERRATA)
    evenings = folder / "knob" / "demonstrations"
    evenings.mkdir(parents=True)
    for day in ("2024-05-01", "2025-09-20", "2025-10-18"):
        (evenings / f"{day}-north.yml").write_text(EVENING.format(day=day, how="in the room"), encoding="utf-8")
    return folder


def made(home: Path) -> dict[str, bytes]:
    outputs = publish(project_files(home), base=home.parent, cache=Cache(), address=ADDRESS, papers=Papers.NONE)
    return {output.path: output.read() for output in outputs}


def test_a_correction_stands_on_the_page_newest_first_with_its_values_put_in(home: Path) -> None:
    page = made(home)["projects/knob.md"].decode()
    newest, older = re.findall(r"Corrected</strong>\s+<b>(.*?)</b>\s+(.*?)</p>", page, re.DOTALL)
    assert newest[0] == "12 January 2026."
    said = re.sub("<.*?>", "", newest[1]).replace("\u00a0", " ").strip()
    assert said == "The bore is 2 in (51 mm) deep and not 3 in. The papers of 20 September 2025 say it wrong."
    assert older[1].strip().endswith("Papers from before that day say it wrong.")


def test_it_stands_at_the_evenings_whose_papers_say_it_and_at_no_other(home: Path) -> None:
    page = made(home)["projects/knob/shown.md"].decode()
    parts = dict(re.findall(r"## (.*?2\d{3}).*?\n(.*?)(?=\n## |\Z)", page, re.DOTALL))
    said = {title[-4:] + title: re.findall(r"Corrected (.*?):", text) for title, text in parts.items()}
    assert sorted(said.values()) == [[], ["1 February 2025"], ["12 January 2026"]]


def test_it_is_in_the_feed_and_in_the_data(home: Path) -> None:
    files = made(home)
    assert b"<title>Corrected: Knob</title>" in files["feed.xml"]
    assert "The bore is 2\u00a0in (51\u00a0mm) deep and not 3 in." in files["projects/knob/knob.json"].decode()


def test_the_next_printing_says_it_and_its_code_carries_its_version(home: Path) -> None:
    archive = read_archive(home, base=home.parent)
    pdf = one_paper(archive, 0, "knob-handout-a4.pdf", address=ADDRESS)
    assert pdf is not None
    text = " ".join(page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(pdf))
    assert "Corrected 12 January 2026" in text
    (printed,) = re.findall(r"Version ([0-9a-f]{8})", text)
    assert printed == version_of(archive.sheets[0])
    assert printed in made(home)["p/knob.html"].decode()


def test_a_version_changes_with_what_is_turned_and_not_with_who_is_named(home: Path) -> None:
    def version() -> str:
        return version_of(read_archive(home, base=home.parent).sheets[0])

    before = version()
    path = home / "knob.yml"
    text = path.read_text(encoding="utf-8")
    path.write_text(text + "credits: [Drawn by Moss]\nlicense: CC0\n", encoding="utf-8")
    assert version() == before
    path.write_text(text.replace("is: 2 in", "is: 2 1/4 in"), encoding="utf-8")
    assert version() != before


@pytest.mark.parametrize(
    "wrong", ["- {date: soon, wrong: x}", "- {wrong: x}", "- {date: 2026-01-12, wrong: '{no_such}'}"]
)
def test_a_correction_that_says_nothing_certain_is_refused_with_its_place(home: Path, wrong: str) -> None:
    project(home, name="knob", extra=f"errata:\n  {wrong}\n")
    with pytest.raises(ProjectError, match=r"projects/knob\.yml:\d+"):
        read_archive(home, base=home.parent)


def test_a_binder_has_every_handout_with_contents_and_pages_that_are_right(
    home: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    project(home, name="bowl", extra="by: Alder\n")
    monkeypatch.chdir(home.parent)
    cli(["binder", "--to", "binder.pdf", "--title", "Evenings of 2026"], standalone_mode=False)
    document = pypdfium2.PdfDocument((home.parent / "binder.pdf").read_bytes())
    texts = [page.get_textpage().get_text_bounded() for page in document]
    assert "Evenings of 2026" in texts[0]
    for title in ("Bowl", "Knob"):
        (number,) = re.findall(rf"^{title}\s+(?:Alder\s+)?(\d+)\s*$", texts[0].replace("\r", ""), re.MULTILINE)
        page = texts[int(number) - 1]
        assert title in page, "the contents lead to the handout"
        assert page.rstrip().endswith(number), "and the page says its number"
    assert [entry.get_title() for entry in document.get_toc()] == ["Bowl", "Knob"]
    assert re.search(r"bead\s+\d+, \d+", texts[0]), "what both teach is in the index once, with both pages"
    assert "bound 2 handouts" in capsys.readouterr().out
    before = (home.parent / "binder.pdf").read_bytes()
    cli(["binder", "--to", "binder.pdf", "--title", "Evenings of 2026"], standalone_mode=False)
    assert (home.parent / "binder.pdf").read_bytes() == before


@pytest.mark.parametrize(
    ("asked", "titles"),
    [
        (("--year", "2024"), ["Knob"]),
        (("--year", "1998"), ["Bowl"]),
        (("--evening", "2025-09-20"), ["Knob"]),
        (("--evening", "2025-10-18-north"), ["Knob"]),
        (("--club", "north club"), ["Knob"]),
        (("--by", "Alder"), ["Bowl"]),
    ],
)
def test_a_binder_of_a_year_an_evening_or_a_club(
    home: Path, monkeypatch: pytest.MonkeyPatch, asked: tuple[str, str], titles: list[str]
) -> None:
    (home / "1998").mkdir()
    project(home / "1998", name="bowl", extra="by: Alder\n")
    issue_project(home / "1998" / "bowl.yml", base=home.parent, cache=Cache(), address=ADDRESS)
    (home / "1998" / "bowl.yml").write_text("title: [", encoding="utf-8")
    monkeypatch.chdir(home.parent)
    cli(["binder", "--to", "binder.pdf", *asked], standalone_mode=False)
    document = pypdfium2.PdfDocument((home.parent / "binder.pdf").read_bytes())
    assert [entry.get_title() for entry in document.get_toc()] == titles
    assert asked[1].title()[:4] in document[0].get_textpage().get_text_bounded().title()


def test_a_binder_of_nobody_is_not_written(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(home.parent)
    with pytest.raises(ProjectError, match="no handout to bind"):
        cli(["binder", "--to", "binder.pdf", "--by", "Nobody"], standalone_mode=False)
    assert not (home.parent / "binder.pdf").exists()


def test_a_site_is_taken_away_whole_with_checksums_that_hold(tmp_path: Path) -> None:
    site = tmp_path / "site"
    (site / "projects" / "knob").mkdir(parents=True)
    (site / "index.html").write_text("home", encoding="utf-8")
    (site / "projects" / "knob.html").write_text("knob", encoding="utf-8")
    (site / "projects" / "knob" / "a.webp").write_bytes(b"\x00" * 99)
    content, count = stick(site)
    assert (content, count) == (stick(site)[0], 3)
    made = zipfile.ZipFile(io.BytesIO(content))
    assert made.testzip() is None
    lines = made.read("site/SHA256SUMS").decode().splitlines()
    assert len(lines) == 3
    for line in lines:
        told, name = line.split("  ", 1)
        assert hashlib.sha256(made.read(f"site/{name}")).hexdigest() == told
    assert "projects/knob.html" in made.read("site/READ ME FIRST.txt").decode()


def test_a_site_that_only_a_host_can_show_is_not_taken_away(tmp_path: Path) -> None:
    (tmp_path / "projects" / "knob").mkdir(parents=True)
    (tmp_path / "index.html").write_text("home", encoding="utf-8")
    (tmp_path / "projects" / "knob" / "index.html").write_text("knob", encoding="utf-8")
    with pytest.raises(ProjectError, match="from a disk no link would lead to a page"):
        stick(tmp_path)


def test_where_no_site_was_built_it_is_said(tmp_path: Path) -> None:
    with pytest.raises(ProjectError, match="there is no site here"):
        stick(tmp_path / "nothing")


def test_what_is_not_the_sites_own_is_not_taken_along(tmp_path: Path) -> None:
    (tmp_path / "secret").write_text("x", encoding="utf-8")
    site = tmp_path / "site"
    site.mkdir()
    (site / "index.html").write_text("home", encoding="utf-8")
    (site / "link").symlink_to(tmp_path / "secret")
    with pytest.raises(ProjectError, match="cannot be taken along"):
        stick(site)
