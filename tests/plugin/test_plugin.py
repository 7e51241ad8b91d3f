"""The plugin: pages in memory, problems in the author's words, and the last site left alone."""

from __future__ import annotations

import hashlib
import io
import logging
import re
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, cast
from wsgiref.simple_server import WSGIRequestHandler, WSGIServer

import pytest
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import Abort
from mkdocs.structure.files import Files
from mkdocs_handouts.plugin import HandoutsPlugin

from handouts_build.outputs.output import Address
from tests.plugin.conftest import Archive
from tests.projects import site

if TYPE_CHECKING:
    from wsgiref.types import StartResponse

    from mkdocs.livereload import LiveReloadServer

Make = Callable[..., MkDocsConfig]


def told(caplog: pytest.LogCaptureFixture, level: int) -> str:
    return "\n".join(one.getMessage() for one in caplog.records if one.levelno == level)


def test_a_strict_build_makes_home_page_project_page_papers_and_data(archive: Archive, make: Make) -> None:
    archive.settings(papers="true")
    make()
    made = archive.built()
    assert {"index.html", "projects/knob.html", "projects/knob/knob.json", "reference/project-file.html"} <= made.keys()
    pdfs = [path for path in made if path.endswith(".pdf")]
    assert {"projects/knob/knob-handout-letter.pdf", "projects/knob/knob-dimensions-a4.pdf"} <= set(pdfs)
    page = made["projects/knob.html"].decode()
    assert all(f'href="{path.removeprefix("projects/")}"' in page for path in pdfs)


def test_nothing_is_written_beside_the_site(archive: Archive, make: Make) -> None:
    before = archive.files()
    make()
    assert archive.files() == before


def test_the_plugin_hands_over_the_same_bytes_as_are_written_for_other_engines(archive: Archive, make: Make) -> None:
    config = make()
    plugin = config.plugins["handouts"]
    assert isinstance(plugin, HandoutsPlugin)
    files = plugin.on_files(Files([]), config=config)
    assert files is not None
    wanted = site(archive.project.parent, address=Address("https://handouts.example/", ".html"))
    handed = {file.src_uri: file.content_bytes for file in files}
    # Beside them stands only what the theme asks for.
    themes_own = {path: handed.pop(path) for path in list(handed) if path not in wanted}
    assert all(path.startswith("assets/handouts/material/") for path in themes_own)
    assert handed == wanted


def test_no_page_asks_another_host_for_anything(archive: Archive, make: Make) -> None:
    make()
    for path, content in archive.built().items():
        if path.endswith(".html"):
            asked = re.findall(r'(?:src|href)="?(https?://[^"\s>]+)', content.decode())
            # The page's own address, and links that a reader may follow; a link fetches nothing by itself.
            assert [
                one for one in asked if not one.startswith(("https://handouts.example/", "https://squidfunk"))
            ] == []
            assert "unpkg.com" not in content.decode()


def test_projects_do_not_fill_the_navigation(archive: Archive, make: Make) -> None:
    config = make()
    page = archive.built()["about.html"].decode()
    navigation = re.findall(r'<a href="([^"]+)" class="md-nav__link', page)
    assert "index.html" in navigation
    assert not [one for one in navigation if "projects/" in one or "reference/" in one]
    assert config.nav is None


def test_a_broken_project_stops_the_build_with_its_place_and_leaves_the_last_site_as_it_was(
    archive: Archive, make: Make, caplog: pytest.LogCaptureFixture
) -> None:
    make()
    before = archive.built()
    archive.edit("knob: {is: 1 1/4 in", "knob: {is: 1 1/4")
    with pytest.raises(Abort):
        make()
    assert archive.built() == before
    message = told(caplog, logging.ERROR)
    assert re.search(r"^projects/knob\.yml:\d+:\d+: sizes\.knob\.is: ", message, re.MULTILINE)
    assert "Traceback" not in caplog.text


def test_every_problem_of_every_file_is_told_at_once(
    archive: Archive, make: Make, caplog: pytest.LogCaptureFixture
) -> None:
    archive.edit("knob: {is: 1 1/4 in", "knob: {is: 1 1/4")
    archive.edit("hole: {is: 3/8 in", "hole: {is: 3/8 inn")
    (archive.project.parent / "second.yml").write_text("title: [\n", encoding="utf-8")
    with pytest.raises(Abort):
        make()
    message = told(caplog, logging.ERROR)
    for place in (r"knob\.yml:\d+:\d+: sizes\.knob", r"knob\.yml:\d+:\d+: sizes\.hole", r"second\.yml:\d+:\d+"):
        assert re.search(place, message)


def test_a_piece_that_cannot_be_made_is_not_published(
    archive: Archive, make: Make, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.INFO)
    make()
    before = archive.built()
    archive.edit("parts:\n", "keep:\n  - {that: knob <= 1 in, says: It would not fit.}\n\nparts:\n")
    with pytest.raises(Abort):
        make()
    assert archive.built() == before
    assert re.search(r"knob\.yml:\d+:\d+: .*stop: ", told(caplog, logging.INFO))
    assert "there is no project that can be published" in told(caplog, logging.ERROR)


def test_one_bad_piece_is_left_out_by_name_and_the_rest_is_built_but_not_in_strict_mode(
    archive: Archive, make: Make, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.INFO)
    make()
    before = archive.built()
    good = archive.project.read_text(encoding="utf-8")
    folder = archive.project.parent
    bad = {
        "no-title": good.replace("title:", "titel:", 1),
        "too-wide": good.replace("title: ", "title: Too wide ", 1).replace(
            "parts:\n", "keep:\n  - {that: knob <= 1 in, says: It would not fit.}\n\nparts:\n"
        ),
        "twice": good,
    }
    for name, text in bad.items():
        (folder / f"{name}.yml").write_text(text, encoding="utf-8")
    with pytest.raises(Abort):
        make()
    assert archive.built() == before
    caplog.clear()
    make(strict=False)
    said = told(caplog, logging.WARNING)
    assert all(f"projects/{name}.yml is left out of the site" in said for name in bad)
    assert "'title' is missing" in said
    assert "It would not fit" in said
    assert "already that of projects/knob.yml" in said
    names = {Path(path).parts[1] for path in archive.built() if path.startswith("projects/")}
    assert "knob" in names
    assert not names & bad.keys()


EVENING = """\
date: {year}-06-06
start: 19:30
zone: America/New_York
club: Saltmarsh Lathe Circle
slot: 3 h
lathe: {{swing: 1 in, between: 3 in}}
"""


def test_a_demonstration_to_come_that_will_not_do_is_warned_of_and_a_past_one_is_not(
    archive: Archive, make: Make, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.INFO)
    home = archive.project.with_suffix("") / "demonstrations"
    home.mkdir(parents=True)
    (home / "2020-06-06-saltmarsh.yml").write_text(EVENING.format(year=2020), encoding="utf-8")
    make()
    (home / "2099-06-06-saltmarsh.yml").write_text(EVENING.format(year=2099), encoding="utf-8")
    make(strict=False)
    warned = told(caplog, logging.WARNING)
    assert "projects/knob/demonstrations/2099-06-06-saltmarsh.yml:6:8: lathe: stop: " in warned
    assert "2020-06-06" not in warned
    assert "projects/knob.html" in archive.built()
    with pytest.raises(Abort):
        make()


def test_a_missing_folder_of_projects_is_told_plainly(
    archive: Archive, make: Make, caplog: pytest.LogCaptureFixture
) -> None:
    archive.project.parent.rename(archive.home / "elsewhere")
    with pytest.raises(Abort):
        make()
    assert "projects: there is no such folder" in told(caplog, logging.ERROR)


def test_a_fault_of_the_tool_is_one_line_and_its_traceback_is_kept_for_verbose(
    archive: Archive, make: Make, caplog: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object, progress: Callable[[str], None], **__: object) -> None:
        progress("Knob: page")
        raise ZeroDivisionError("oh")

    monkeypatch.setattr("mkdocs_handouts.plugin.publish", fail)
    caplog.set_level(logging.DEBUG)
    with pytest.raises(Abort):
        make()
    message = told(caplog, logging.ERROR)
    assert message == "Knob: page: ZeroDivisionError: oh (a fault of the tool; --verbose tells more)"
    assert [one.levelno for one in caplog.records if one.exc_info] == [logging.DEBUG]


def test_a_home_page_of_the_sites_own_takes_the_place_of_ours(archive: Archive, make: Make) -> None:
    (archive.docs / "index.md").write_text("# Welcome to the club\n", encoding="utf-8")
    make()
    assert b"Welcome to the club" in archive.built()["index.html"]
    assert b"hb-cards" not in archive.built()["index.html"]


@pytest.mark.parametrize("path", ["projects/knob.md", "assets/handouts/css/handouts.css"])
def test_a_file_where_one_of_ours_would_stand_is_refused_and_the_last_site_stays(
    archive: Archive, make: Make, caplog: pytest.LogCaptureFixture, path: str
) -> None:
    make()
    before = archive.built()
    file = archive.docs / path
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text("mine", encoding="utf-8")
    with pytest.raises(Abort):
        make()
    assert archive.built() == before
    assert f"docs/{path}: a page or file made from a project takes this place" in told(caplog, logging.ERROR)


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("run-sheet-letter.pdf", "%PDF-"),
        ("packing-list-a4.pdf", "%PDF-"),
        ("run-sheet.html", "<!doctype html><!-- handouts-build: private -->"),
        ("our-evening.pdf", "%PDF-1.7 <pdf:Keywords>handouts-build: private</pdf:Keywords>"),
        ("notes.txt", "<!-- handouts-build: private -->"),
        ("mine.ics", "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//handouts-build//demonstration//EN\r\n"),
    ],
)
def test_private_files_of_an_evening_are_not_copied_onto_the_site(
    archive: Archive, make: Make, caplog: pytest.LogCaptureFixture, name: str, content: str
) -> None:
    file = archive.docs / "evening" / name
    file.parent.mkdir()
    file.write_text(content, encoding="utf-8")
    with pytest.raises(Abort):
        make()
    assert not archive.site.exists()
    assert f"docs/evening/{name}: this is private" in told(caplog, logging.ERROR)
    archive.settings(more="exclude_docs: /evening/\n")
    make()
    assert f"evening/{name}" not in archive.built()


def test_other_pages_and_calendars_of_the_sites_own_are_copied(archive: Archive, make: Make) -> None:
    (archive.docs / "run-sheet.html").write_text("<!doctype html>mine", encoding="utf-8")
    (archive.docs / "meetings.ics").write_text("BEGIN:VCALENDAR\r\nPRODID:-//other//EN\r\n", encoding="utf-8")
    make()
    assert {"run-sheet.html", "meetings.ics"} <= archive.built().keys()


def test_a_readme_cannot_stand_for_the_home_page_without_being_told(
    archive: Archive, make: Make, caplog: pytest.LogCaptureFixture
) -> None:
    (archive.docs / "README.md").write_text("# Hello\n", encoding="utf-8")
    with pytest.raises(Abort):
        make()
    assert "README.md: a page or file made from a project takes this place" in told(caplog, logging.ERROR)


def test_fonts_from_another_host_are_warned_of(archive: Archive, make: Make, caplog: pytest.LogCaptureFixture) -> None:
    archive.settings(font="{text: Roboto}")
    with pytest.raises(Abort):
        make()
    assert "set 'font: false' under 'theme'" in told(caplog, logging.WARNING)


def test_switched_off_it_does_nothing(archive: Archive, make: Make) -> None:
    (archive.docs / "about.md").write_text("# About\n", encoding="utf-8")
    archive.settings(enabled="false")
    make()
    assert not [path for path in archive.built() if "knob" in path or "handouts" in path]


def test_styles_of_the_sites_own_have_the_last_word(archive: Archive, make: Make) -> None:
    (archive.docs / "own.css").write_text("h1 {}", encoding="utf-8")
    archive.settings(more="extra_css: [own.css]\n")
    make()
    page = archive.built()["about.html"].decode()
    assert page.index("handouts.css") < page.index("own.css")


def test_pages_link_rightly_with_addresses_that_end_in_a_slash(archive: Archive, make: Make) -> None:
    text = (archive.home / "mkdocs.yml").read_text(encoding="utf-8").replace("offline, ", "")
    (archive.home / "mkdocs.yml").write_text(text, encoding="utf-8")
    make()
    made = archive.built()
    assert 'href="projects/knob/"' in made["index.html"].decode()
    assert 'href="knob.json"' in made["projects/knob/index.html"].decode()


def test_the_home_page_offers_the_whole_site_where_it_is_asked_for(archive: Archive, make: Make) -> None:
    make()
    without = archive.built()
    assert "all-handouts.zip" not in without
    assert b"all-handouts.zip" not in without["index.html"]
    archive.settings(take_away="true")
    make()
    made = archive.built()
    assert b'<a href="all-handouts.zip" download>' in made["index.html"]
    with zipfile.ZipFile(io.BytesIO(made.pop("all-handouts.zip"))) as taken:
        files = {name.removeprefix("all-handouts/"): taken.read(name) for name in taken.namelist()}
    sums = dict(reversed(line.split("  ")) for line in files.pop("SHA256SUMS").decode().splitlines())
    assert "index.html" in files.pop("READ ME FIRST.txt").decode()
    assert sums == {name: hashlib.sha256(content).hexdigest() for name, content in files.items()}
    # There is no copy in the copy, and no way to one.
    assert files.keys() == made.keys()
    assert b"all-handouts.zip" not in files.pop("index.html")
    assert files == {name: content for name, content in made.items() if name != "index.html"}


def test_a_site_that_opens_from_no_disk_is_not_offered_to_be_taken_away(
    archive: Archive, make: Make, caplog: pytest.LogCaptureFixture
) -> None:
    make()
    before = archive.built()
    archive.settings(take_away="true")
    text = (archive.home / "mkdocs.yml").read_text(encoding="utf-8").replace("offline, ", "")
    (archive.home / "mkdocs.yml").write_text(text, encoding="utf-8")
    with pytest.raises(Abort):
        make()
    assert "from a disk no link would lead to a page" in caplog.text
    assert archive.built() == before


def test_the_plugin_uses_no_private_names_of_mkdocs() -> None:
    import mkdocs_handouts.plugin as plugin

    source = Path(plugin.__file__).read_text(encoding="utf-8")
    private = re.findall(r"\b(?!self\.)(\w+)\._\w", source)
    assert set(private) <= {"self"}


def asked(config: MkDocsConfig, path: str) -> tuple[str, bytes]:
    """Status and body of what a preview answers where the page itself is not asked for."""
    plugin = config.plugins["handouts"]
    assert isinstance(plugin, HandoutsPlugin)
    server = WSGIServer(("127.0.0.1", 0), WSGIRequestHandler, bind_and_activate=False)

    def before(_environ: object, start: StartResponse) -> list[bytes]:
        start("404 Not Found", [])
        return [b"as it was"]

    server.set_app(before)
    plugin.on_serve(cast("LiveReloadServer", server), config=config, builder=None)
    told: list[str] = []
    app = server.get_app()
    assert app is not None
    body = app({"PATH_INFO": path}, lambda status, _headers: told.append(status))
    server.server_close()
    return told[0], b"".join(body)


def test_a_preview_typesets_a_paper_when_it_is_asked_for_and_says_plainly_why_not(
    archive: Archive, make: Make, monkeypatch: pytest.MonkeyPatch
) -> None:
    archive.settings(papers="true")
    config = make()
    status, paper = asked(config, "/projects/knob/knob-dimensions-a4.pdf")
    assert status == "200 OK"
    assert paper.startswith(b"%PDF")
    for other in ("/projects/knob/knob-poem-a4.pdf", "/projects/else/else-handout-a4.pdf", "/projects/knob.html"):
        assert asked(config, other) == ("404 Not Found", b"as it was")
    archive.edit("knob: {is: 1 1/4 in", "knob: {is: 1 1/4")
    status, why = asked(config, "/projects/knob/knob-dimensions-a4.pdf")
    assert status.startswith("422")
    assert b"sizes.knob.is" in why

    def fail(*_: object, **__: object) -> None:
        raise ZeroDivisionError("oh")

    monkeypatch.setattr("mkdocs_handouts.plugin.typeset", fail)
    status, why = asked(config, "/projects/knob/knob-dimensions-a4.pdf")
    assert status.startswith("500")
    assert why == b"knob-dimensions-a4.pdf: ZeroDivisionError: oh (a fault of the tool; --verbose tells more)"
