"""Archived as issued: pages, papers and data of a piece stay as they were; no later version stops or remakes them."""

from __future__ import annotations

import hashlib
import json
import re
import shutil
import subprocess
from collections.abc import Callable
from datetime import date
from pathlib import Path
from urllib.parse import urljoin, urlparse

import pytest
from click.testing import CliRunner

from handouts_build.cli import cli
from handouts_build.disk.cache import Cache
from handouts_build.disk.folders import ISSUED
from handouts_build.door.unpack import unpack
from handouts_build.outputs.output import Address
from handouts_build.outputs.pages import as_issued
from handouts_build.outputs.pages.as_issued import fault_of_html, fault_of_looks
from handouts_build.problems import ProjectError
from handouts_build.records.frozen import sums
from handouts_build.records.issued import read_issue
from handouts_build.site import issuing
from handouts_build.site import publish as publishing
from handouts_build.site.build import read_archive, read_projects
from handouts_build.site.copying import copy_project
from handouts_build.site.gathering import project_files
from handouts_build.site.issuing import issue_project
from handouts_build.site.leaks import leaks
from handouts_build.site.publish import Papers, publish, survey
from tests.projects import ROOT, project
from tests.site.test_follow import EVENING

ADDRESS = Address("https://club.example/", "/")
MORE = """\
by: Alder
formerly: [door-knob]
errata:
  - {date: 2025-02-01, wrong: Sand at 600 rpm., printed: [2024-05-01]}
"""


@pytest.fixture(scope="module")
def once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An archive of two pieces, one of which was shown and is archived as issued."""
    folder = tmp_path_factory.mktemp("issued") / "projects"
    folder.mkdir()
    with pytest.MonkeyPatch.context() as patch:
        for module in (publishing, issuing):
            patch.setattr(module, "today", lambda: date(2026, 3, 1))
        path = project(folder, name="knob", extra=MORE)
        project(folder, name="bowl")
        (folder / "knob" / "demonstrations").mkdir(parents=True)
        evening = folder / "knob" / "demonstrations" / "2024-05-01-north.yml"
        evening.write_text(EVENING.format(day="2024-05-01", how="in the room"), encoding="utf-8")
        issue_project(path, base=folder.parent, cache=Cache(), address=ADDRESS)
    return folder


@pytest.fixture
def home(once: Path, tmp_path: Path) -> Path:
    """A copy of it that a test may spoil."""
    shutil.copytree(once.parent, tmp_path / "archive")
    return tmp_path / "archive" / "projects"


def made(home: Path, ending: str = "/") -> dict[str, bytes]:
    address = Address("https://club.example/", ending)
    outputs = publish(project_files(home), base=home.parent, cache=Cache(), address=address, papers=Papers.NONE)
    return {output.path: output.read() for output in outputs}


def of_the_piece(files: dict[str, bytes]) -> dict[str, bytes]:
    """What is published of the piece itself, without what is said beside it of the others."""
    chosen = {
        path: content for path, content in files.items() if path.startswith(("projects/knob", "p/knob", "p/door-knob"))
    }
    return {
        path: re.sub(rb'\s*<div class="hb-like".*|\s*\Z', b"", content, flags=re.DOTALL)
        for path, content in chosen.items()
    }


def spoil(home: Path, path: str, change: Callable[[bytes], bytes]) -> None:
    """Change a file of what is kept, and its checksum with it, as somebody would who means harm."""
    folder = home / "knob" / ISSUED
    (folder / path).write_bytes(change((folder / path).read_bytes()))
    files = {
        file.relative_to(folder).as_posix(): file.read_bytes()
        for file in folder.rglob("*")
        if file.is_file() and file.name != "SHA256SUMS"
    }
    (folder / "SHA256SUMS").write_text(sums(files), encoding="utf-8")


def test_what_is_kept_has_checksums_that_another_program_confirms(once: Path) -> None:
    """Checked by sha256sum of GNU coreutils where it is there, else by the standard library."""
    folder = once / "knob" / ISSUED
    if shutil.which("sha256sum"):
        told = subprocess.run(["sha256sum", "--check", "--quiet", "SHA256SUMS"], cwd=folder, check=False)
        assert told.returncode == 0
    for line in (folder / "SHA256SUMS").read_text(encoding="utf-8").splitlines():
        digest, _, path = line.partition("  ")
        assert hashlib.sha256((folder / path).read_bytes()).hexdigest() == digest


@pytest.mark.parametrize("text", ["title: [broken", "title: Knob\nno key of today: 1\n", ""])
def test_its_own_file_may_be_broken_or_of_another_time(home: Path, text: str) -> None:
    before = of_the_piece(made(home))
    (home / "knob.yml").write_text(text, encoding="utf-8")
    found = survey(project_files(home), base=home.parent, cache=Cache())
    assert (found.problems, len(found.makeable)) == ((), 2)
    assert of_the_piece(made(home)) == before


def test_nothing_of_it_follows_what_the_tool_makes_today(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As if a later version made every page, paper and number otherwise, or could not."""
    before = of_the_piece(made(home))

    def fails(*_: object, **__: object) -> None:
        raise AssertionError("nothing of it is worked out")

    (home / "bowl.yml").unlink()
    for place in ("compute.compute", "outputs.pages.render.project_pages", "outputs.data.sheet_json"):
        monkeypatch.setattr(f"handouts_build.{place}", fails)
    assert of_the_piece(made(home)) == before


def test_every_paper_and_file_is_published_byte_for_byte(home: Path) -> None:
    files, kept = made(home), home / "knob" / ISSUED / "files"
    papers = [path for path in kept.rglob("*") if path.is_file()]
    assert any(path.suffix == ".pdf" for path in papers)
    for path in papers:
        assert files[f"projects/knob/{path.relative_to(kept).as_posix()}"] == path.read_bytes()


@pytest.mark.parametrize("text", ["title: [broken", "title: Stick\nno key of today: 1\n", "", "{}"])
def test_the_piece_that_the_demo_keeps_as_issued_is_stopped_and_remade_by_nothing(tmp_path: Path, text: str) -> None:
    home, name = tmp_path / "projects", "ring-stick"
    shutil.copytree(ROOT / "projects" / "2011", home / "2011")
    shutil.copy(ROOT / "projects" / "shop.yml", home)
    (home / "2011" / f"{name}.yml").write_text(text, encoding="utf-8")
    found = survey(project_files(home), base=tmp_path, cache=Cache())
    assert (found.problems, [path.stem for path in found.makeable]) == ((), [name])
    files, kept = made(home), home / "2011" / name / ISSUED / "files"
    assert "Archived as issued</strong>" in files[f"projects/{name}.md"].decode()
    of_it = [path for path in kept.rglob("*") if path.is_file()]
    assert {".pdf", ".json", ".webp"} <= {path.suffix for path in of_it}
    for path in of_it:
        assert files[f"projects/{name}/{path.relative_to(kept).as_posix()}"] == path.read_bytes()


def test_the_page_says_so_with_day_and_version(home: Path) -> None:
    page = made(home)["projects/knob.md"].decode()
    assert "Archived as issued</strong> This piece stands as it was issued on 1 March 2026" in page
    assert re.search(r"made with version \d+\.\d+\.\d+\.", page)


@pytest.mark.parametrize("ending", ["/", ".html"])
def test_every_link_leads_somewhere_whatever_the_form_of_addresses(home: Path, ending: str) -> None:
    files = made(home, ending)
    for path in [path for path in files if path.startswith("projects/knob") and path.endswith(".md")]:
        source = path.removesuffix(".md")
        base = f"https://x/{source}/" if ending == "/" else f"https://x/{source}.html"
        frozen = files[path].decode().partition('<div class="hb-like"')[0]
        ways = re.findall(r'(?:href|src)="([^"]*)"', frozen)
        assert ways
        for way in ways:
            there = urlparse(urljoin(base, way)).path.removeprefix("/")
            named = there if there in files else f"{there.rstrip('/').removesuffix('.html')}.md"
            assert named in files, (path, way)
            if "#" in way and named.endswith(".md"):
                assert f'id="{way.partition("#")[2]}"' in files[named].decode(), (path, way)


def test_it_is_found_by_all_that_others_are_found_by(home: Path) -> None:
    files = made(home)
    assert "projects/knob" in files["find/all.md"].decode() or "../projects/knob" in files["find/all.md"].decode()
    pieces = files["find/pieces.js"].decode()
    assert '"knob"' in pieces
    assert "knob" in files["feed.xml"].decode()
    assert "2024" in files["demonstrations.md"].decode()
    assert "projects/knob/shown.md" in files["demonstrations.md"].decode()


def test_a_printed_code_and_a_name_of_before_still_lead_there(home: Path) -> None:
    files = made(home)
    version = next(iter(json.loads((home / "knob" / ISSUED / "issued.json").read_text())["versions"]))
    assert f"<code data-version>{version}</code>" in files["p/knob/index.html"].decode()
    assert "The papers of 1 May 2024 say it wrong." in files["p/knob/index.html"].decode()
    assert "p/door-knob/index.html" in files
    assert "projects/door-knob/index.html" in files


def test_nothing_in_it_runs_and_no_class_is_one_of_the_living_pages(home: Path) -> None:
    for path in (home / "knob" / ISSUED / "pages").iterdir():
        text = path.read_text(encoding="utf-8")
        assert fault_of_html(text) == ""
        classes = {word for found in re.findall(r'class="([^"]*)"', text) for word in found.split()}
        assert not [word for word in classes if word == "hb" or word.startswith("hb-")]
        assert not re.search(r"<script|<form|<button| data-(?!hb-aside)", text)


@pytest.mark.parametrize(
    ("html", "said"),
    [
        ("<script>1</script>", "a <script>"),
        ("<p onclick=x>", "'onclick'"),
        ("<iframe src=#x></iframe>", "a <iframe>"),
        ("<a href='javascript:x'>", "a link of it"),
        ("<a href='jav&#x61;script:x'>", "a link of it"),
        ("<img src='//evil.example/x'>", "a link of it"),
        ("<img srcset='data:x 1x'>", "a picture of it"),
        ("<p style='background: url(x)'>", "a style of it"),
        ("<meta http-equiv=refresh content='0'>", "a <meta>"),
        ("<object data=x>", "a <object>"),
        ("<svg><use xlink:href='other.svg#x'></svg>", "a link of it"),
        ("<svg><foreignObject><p></foreignObject></svg>", "a <foreignobject>"),
        ("<base href=#x>", "a <base>"),
    ],
)
def test_what_acts_is_refused_though_its_checksum_holds(home: Path, html: str, said: str) -> None:
    spoil(home, "pages/piece.html", lambda page: page + html.encode())
    with pytest.raises(ProjectError, match="this is not published") as told:
        read_issue(home / "knob", "projects/knob")
    assert said in str(told.value)
    found = survey(project_files(home), base=home.parent, cache=Cache())
    assert [path.stem for path in found.makeable] == ["bowl"]


def test_a_look_that_loads_from_elsewhere_is_refused() -> None:
    assert fault_of_looks("@import 'x'")
    assert fault_of_looks("a { background: url(https://x) }")
    assert not fault_of_looks("a { fill: url(#hatch); scroll-behavior: auto }")


def test_private_content_is_refused(home: Path) -> None:
    spoil(home, "files/knob.json", lambda data: data + b"handouts-build: private")
    with pytest.raises(ProjectError, match="it is private"):
        read_issue(home / "knob", "projects/knob")


def test_a_contact_of_an_evening_is_found_in_what_is_kept(home: Path) -> None:
    (home / "bowl" / "demonstrations").mkdir(parents=True)
    text = EVENING.format(day="2027-05-01", how="in the room") + 'private: {contact: ["555 0119 222"]}\n'
    (home / "bowl" / "demonstrations" / "2027-05-01-north.yml").write_text(text, encoding="utf-8")
    assert not list(leaks((), project_files(home), home.parent))
    spoil(home, "pages/piece.html", lambda page: page + b"<p>555 0119 222</p>")
    (problem,) = leaks((), project_files(home), home.parent)
    assert "piece.html" in str(problem)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda folder: (folder / "pages" / "piece.html").write_text("x"), "its checksum differs"),
        (lambda folder: (folder / "looks.css").unlink(), "is missing"),
        (lambda folder: (folder / "files" / "more.pdf").write_bytes(b"%PDF-"), "this was not issued"),
        (lambda folder: (folder / "SHA256SUMS").unlink(), "the checksums of what was issued are missing"),
    ],
)
def test_what_is_not_as_it_was_is_told_and_left_out(home: Path, change: Callable[[Path], object], said: str) -> None:
    change(home / "knob" / ISSUED)
    found = survey(project_files(home), base=home.parent, cache=Cache())
    assert said in " ".join(map(str, found.problems))
    assert [path.stem for path in found.makeable] == ["bowl"]


@pytest.mark.parametrize("change", [b'"versions": {', b'"format": "handouts issued 1"', b'"issued": "2026'])
def test_a_form_that_is_not_known_is_one_message(home: Path, change: bytes) -> None:
    spoil(home, "issued.json", lambda told: told.replace(change, b'"x": {' if b"{" in change else b'"format": "9'))
    with pytest.raises(ProjectError, match="this is not what the tool writes of a piece"):
        read_issue(home / "knob", "projects/knob")


def test_it_is_issued_once(home: Path) -> None:
    with pytest.raises(ProjectError, match="is archived as issued already"):
        issue_project(home / "knob.yml", base=home.parent, cache=Cache(), address=ADDRESS)


def test_one_that_is_still_to_be_shown_is_not_issued(home: Path) -> None:
    (home / "bowl" / "demonstrations").mkdir(parents=True)
    evening = home / "bowl" / "demonstrations" / "2099-05-01-north.yml"
    evening.write_text(EVENING.format(day="2099-05-01", how="in the room"), encoding="utf-8")
    with pytest.raises(ProjectError, match="it is still to be shown, on 2099-05-01"):
        issue_project(home / "bowl.yml", base=home.parent, cache=Cache(), address=ADDRESS)
    assert not (home / "bowl" / ISSUED).exists()


def test_the_others_are_worked_out_without_it_and_it_alone_is_told(home: Path) -> None:
    assert [sheet.name for sheet in read_archive(home, base=home.parent).sheets] == ["bowl"]
    with pytest.raises(ProjectError, match="archived as issued and is not worked out any more"):
        read_projects([home / "knob.yml"], base=home.parent)


def test_what_a_stranger_sends_as_issued_is_not_taken(home: Path) -> None:
    parcel = home.parent / "parcel"
    parcel.mkdir()
    shutil.copy(home / "knob.yml", parcel / "knob.yml")
    shutil.copytree(home / "knob" / ISSUED, parcel / "knob" / ISSUED)
    (parcel / "knob" / ISSUED / "files" / "x.png").write_bytes(b"\x89PNG")
    taken = unpack(parcel)
    assert not taken.pictures
    assert all(path.startswith(f"knob/{ISSUED}/") for path in taken.left)


def test_a_copy_of_it_is_a_piece_to_work_on(home: Path) -> None:
    copy_project(home / "knob.yml", "knob-again", home)
    assert not (home / "knob-again" / ISSUED).exists()


def test_the_command_says_where_it_is_kept(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(home.parent)
    told = CliRunner().invoke(cli, ["issue", "bowl", "--site-url", "https://club.example/"])
    assert (told.exit_code, "kept in projects/bowl/issued/" in told.output) == (0, True)
    assert (home / "bowl" / ISSUED / "SHA256SUMS").is_file()


def test_freezing_reads_both_kinds_of_links() -> None:
    html = '<p class="hb-x"><a href="sizes/">x</a> <a href="../../demonstrations/">y</a></p>'
    text = f"# A\n\n[all](a/sizes.md#to-all)\n\n{html}\n"
    frozen = as_issued.frozen_page(text, name="a", place="", pages=("", "sizes"), files=(), ending="/")
    assert 'href="issued-page:sizes#to-all"' in frozen
    assert '<p class="hbi-x"><a href="issued-page:sizes">x</a>' in frozen
    assert "demonstrations" not in frozen
