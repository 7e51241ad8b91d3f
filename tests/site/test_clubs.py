"""Several clubs in one archive: a page for each, its evenings and pieces, its feed, and colors that can be read."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from handouts_build.disk.cache import Cache
from handouts_build.outputs.output import Address
from handouts_build.outputs.pages.assets import STYLE
from handouts_build.problems import ProjectError
from handouts_build.sheet.clubs import COLORS
from handouts_build.site.build import clubs_of, read_archive
from handouts_build.site.gathering import project_files
from handouts_build.site.publish import Papers, publish
from tests.outputs.pages_reading import rendered
from tests.outputs.test_pages_style import colors, contrast
from tests.projects import ROOT, project
from tests.site.test_follow import EVENING

SHOP = """\
clubs:
  - {name: North Club, color: teal, says: "We turn *green* wood.", place: Weir House, site: https://north.example/}
  - {name: Quiet Club}
"""


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """An archive of three pieces: one of the North Club's own, one that was shown there, one of nobody's."""
    folder = tmp_path / "projects"
    folder.mkdir()
    (folder / "shop.yml").write_text(SHOP, encoding="utf-8")
    project(folder, name="bowl", extra="club: North Club\n")
    project(folder, name="knob")
    project(folder, name="top")
    (folder / "knob" / "demonstrations").mkdir(parents=True)
    for day in ("2024-05-01", "2023-05-01", "2099-05-01"):
        evening = folder / "knob" / "demonstrations" / f"{day}-north.yml"
        evening.write_text(EVENING.format(day=day, how="in the room"), encoding="utf-8")
    return folder


def made(home: Path, ending: str = "/", cache: Cache | None = None) -> dict[str, str]:
    address = Address("https://club.example/", ending)
    outputs = publish(
        project_files(home), base=home.parent, cache=cache or Cache(), address=address, papers=Papers.NONE
    )
    texts = (".md", ".xml", ".css")
    return {output.path: output.read().decode() for output in outputs if output.path.endswith(texts)}


def test_a_club_has_a_page_with_its_pieces_its_evenings_and_its_feed(home: Path) -> None:
    files = made(home)
    page = files["clubs/north-club.md"]
    html = rendered(page.partition("---\n\n")[2])
    assert [found.text for found in html.all("h1")] == ["North Club"]
    assert len(html.all("div", cls="hb-goes")[0].all("a")) == 2
    assert re.findall(r"^## \[?(\w+)", page, re.MULTILINE) == ["Bowl", "Knob", "Announced", "Held"]
    assert re.findall(r"knob/shown\.md#shown-(\d{4})", page) == ["2099", "2024", "2023"]
    for way in re.findall(r"\]\(([^)#]+)", page):
        path = Path("clubs", way).as_posix().replace("clubs/../", "")
        assert path in files, way
    assert "(../feeds/club-north-club.xml)" in page


def test_the_home_page_leads_to_each(home: Path) -> None:
    assert re.findall(r"\[(\w+ Club)\]\((clubs/[\w.-]+)\)", made(home)["index.md"]) == [
        ("North Club", "clubs/north-club.md"), ("Quiet Club", "clubs/quiet-club.md"),
    ]  # fmt: skip


def test_a_club_without_pieces_has_a_page_that_says_what_it_is(home: Path) -> None:
    page = made(home)["clubs/quiet-club.md"]
    assert "# Quiet Club" in page
    assert "](" not in page.partition("---\n\n")[2]


def test_what_a_shop_file_says_stays_text(home: Path) -> None:
    (home / "shop.yml").write_text('clubs:\n  - {name: "A [b](c) ** d", says: "x & y"}\n', encoding="utf-8")
    (page,) = [text for path, text in made(home).items() if path.startswith("clubs/")]
    assert "x &amp; y" in page
    assert not re.search(r"^# .*[\[*]", page, re.MULTILINE)


def test_a_change_of_the_clubs_is_seen_by_the_next_build(home: Path) -> None:
    cache = Cache()
    made(home, cache=cache)
    (home / "shop.yml").write_text(SHOP + "  - {name: South Club}\n", encoding="utf-8")
    assert "clubs/south-club.md" in made(home, cache=cache)


@pytest.mark.parametrize(
    ("shop", "said"),
    [
        ("clubs: [{name: A, color: red}]", "red"),
        ("clubs: [{name: North Club}, {name: north club.}]", "there are two clubs called 'North Club'"),
        ("clubs: [{name: A, site: 'javascript:x'}]", "cannot be led to"),
        ("clubs: [{color: moss}]", "'name' is missing"),
    ],
)
def test_a_fault_of_the_clubs_is_one_message_with_its_place(home: Path, shop: str, said: str) -> None:
    (home / "shop.yml").write_text(shop + "\n", encoding="utf-8")
    with pytest.raises(ProjectError) as told:
        read_archive(home, base=home.parent)
    (problem,) = told.value.problems
    assert said in str(problem)
    assert problem.place.file == "projects/shop.yml"


@pytest.mark.parametrize("name", COLORS)
@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("ground", ["page", "paper"])
def test_every_color_of_the_palette_can_be_read_as_text(name: str, scheme: str, ground: str) -> None:
    """WCAG 2.2, success criterion 1.4.3, level AA."""
    ink = COLORS[name][("light", "dark").index(scheme)]
    assert contrast(ink, colors(scheme)[ground]) >= 4.5


def test_a_club_s_page_is_in_its_color_for_a_light_and_a_dark_page(home: Path) -> None:
    files = made(home)
    light, dark = COLORS["teal"]
    assert f'style="--hb-club: var(--hb-light, {light}) var(--hb-dark, {dark})"' in files["clubs/north-club.md"]
    assert "--hb-club" not in files["clubs/quiet-club.md"]
    assert "var(--hb-club" in files[STYLE]


def test_the_demo_s_clubs_are_those_that_it_was_shown_to() -> None:
    paths = project_files(ROOT / "projects")
    named = {club.name for club in clubs_of(paths, ROOT)}
    texts = [path.read_text(encoding="utf-8") for path in (ROOT / "projects").glob("*/demonstrations/*.yml")]
    assert named == {name for text in texts for name in re.findall("^club: (.*)$", text, re.MULTILINE)}
