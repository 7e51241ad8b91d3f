"""Many hands in one archive: folders of projects, whose they are, pieces of one title, and names of before."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from handouts_build.disk.cache import Cache
from handouts_build.disk.folders import archive_of, demonstrations_of_all
from handouts_build.outputs.output import Address
from handouts_build.problems import ProjectError
from handouts_build.site.build import read_archive
from handouts_build.site.gathering import project_files
from handouts_build.site.publish import Papers, publish
from tests.projects import project


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """A folder for projects with one in it, and a shop file."""
    (tmp_path / "projects" / "1998").mkdir(parents=True)
    (tmp_path / "projects" / "shop.yml").write_text("by: Wren\nclub: Fernhollow\nbits: [1/4 in]\n", encoding="utf-8")
    project(tmp_path / "projects", name="knob")
    return tmp_path / "projects"


def test_projects_in_folders_are_read_each_with_the_shop_files_above_it(home: Path) -> None:
    project(home / "1998", name="old-knob")
    (home / "1998" / "shop.yml").write_text("by: Alder\nlicense: CC BY 4.0\n", encoding="utf-8")
    old, knob = read_archive(home, base=home.parent).sheets
    assert (knob.file, knob.by, knob.club, knob.license) == ("projects/knob.yml", "Wren", "Fernhollow", "")
    assert (old.file, old.by, old.club) == ("projects/1998/old-knob.yml", "Alder", "Fernhollow")
    assert old.license == "CC BY 4.0"


def test_a_project_says_more_than_its_shop_file(home: Path) -> None:
    project(home, name="knob", extra="by: Alder\nclub: Quarry Road\ncredits: [Drawn by Moss]\nlicense: CC0\n")
    (knob,) = read_archive(home, base=home.parent).sheets
    assert (knob.by, knob.club, knob.license, knob.credits) == ("Alder", "Quarry Road", "CC0", ("Drawn by Moss",))


def test_the_shop_file_above_the_archive_is_nobodys(home: Path) -> None:
    """What lies beside the site's settings belongs to no archive."""
    (home.parent / "mkdocs.yml").write_text("site_name: x\n", encoding="utf-8")
    (home.parent / "shop.yml").write_text("by: Nobody\n", encoding="utf-8")
    (home / "shop.yml").unlink()
    assert archive_of(home / "1998") == home
    assert [sheet.by for sheet in read_archive(home, base=home.parent).sheets] == [""]


def test_a_shop_file_that_comes_later_counts_for_the_folders_below(home: Path) -> None:
    path, kept = project(home / "1998", name="old-knob"), home.parent / "kept"
    told = publish([path], base=home.parent, cache=Cache(kept), address=Address(), papers=Papers.NONE)
    (home / "1998" / "shop.yml").write_text("by: Alder\n", encoding="utf-8")
    again = publish([path], base=home.parent, cache=Cache(kept), address=Address(), papers=Papers.NONE)
    said = [
        next(json.loads(output.read())["by"] for output in made if output.path.endswith("old-knob.json"))
        for made in (told, again)
    ]
    assert said == ["Wren", "Alder"]


def test_what_belongs_to_no_project_is_still_told(home: Path) -> None:
    (home / "lamp" / "demonstrations").mkdir(parents=True)
    (home / "lamp" / "demonstrations" / "2026-03-21-hall.yml").write_text("date: 2026-03-21\n", encoding="utf-8")
    with pytest.raises(ProjectError, match=r"there is no project lamp\.yml"):
        read_archive(home, base=home.parent)


def test_what_belongs_to_no_project_of_a_folder_is_told_too(home: Path) -> None:
    project(home / "1998", name="old-knob")
    (home / "1998" / "old-knop" / "demonstrations").mkdir(parents=True)
    (home / "1998" / "old-knop" / "demonstrations" / "2026-03-21-hall.yml").write_text("x: 1\n", encoding="utf-8")
    with pytest.raises(ProjectError, match=r"projects/1998/old-knop: .*\n.*rename it to old-knob"):
        read_archive(home, base=home.parent)


def test_a_project_s_own_folder_is_no_folder_of_projects(home: Path) -> None:
    """Even where a file lies in it that would be one elsewhere."""
    (home / "knob").mkdir()
    (home / "knob" / "notes.yml").write_text("a: b\n", encoding="utf-8")
    assert [path.name for path in project_files(home)] == ["knob.yml"]


def test_evenings_are_found_in_folders(home: Path) -> None:
    project(home / "1998", name="old-knob")
    (home / "1998" / "old-knob" / "demonstrations").mkdir(parents=True)
    evening = home / "1998" / "old-knob" / "demonstrations" / "2026-03-21-hall.yml"
    evening.write_text("date: 2026-03-21\n", encoding="utf-8")
    assert demonstrations_of_all(home) == (evening,)


def test_two_pieces_of_one_title_are_told_apart_by_maker_club_or_folder(home: Path) -> None:
    def titled(folder: Path, name: str, extra: str = "") -> None:
        path = project(folder, name=name, extra=extra)
        path.write_text(path.read_text(encoding="utf-8").replace(f"title: {name.capitalize()}", "title: Knob"))

    titled(home, "second", "by: Alder\n")
    titled(home / "1998", "third")
    assert len(read_archive(home, base=home.parent).sheets) == 3
    titled(home, "fourth")
    with pytest.raises(ProjectError, match=r"the title 'Knob' is already that of projects/fourth\.yml"):
        read_archive(home, base=home.parent)


def test_cards_of_one_title_say_what_tells_them_apart(home: Path) -> None:
    for folder, name, extra in ((home, "second", "by: Alder\n"), (home / "1998", "third", "")):
        path = project(folder, name=name, extra=extra)
        path.write_text(path.read_text(encoding="utf-8").replace(f"title: {name.capitalize()}", "title: Knob"))
    made = publish(project_files(home), base=home.parent, cache=Cache(), address=Address(), papers=Papers.NONE)
    (start,) = (output.read().decode() for output in made if output.path == "index.md")
    assert re.findall(r"^## \[(.*?)\]", start, re.MULTILINE) == [
        "Knob &#40;1998&#41;", "Knob", "Knob&#44; by Alder",
    ]  # fmt: skip


def test_one_name_twice_is_refused_whatever_the_folder(home: Path) -> None:
    project(home / "1998", name="knob")
    with pytest.raises(ProjectError, match="the name 'knob' is already taken"):
        read_archive(home, base=home.parent)


@pytest.mark.parametrize(
    ("formerly", "said"),
    [
        ("[knob]", "'knob' is the name of knob.yml now"),
        ("[pull]", "'pull' is said of projects/first.yml already"),
        ("[Old Knob.yml]", r"cannot be the name of a project's file.*\n.*such as old-knob"),
    ],
)
def test_an_old_name_leads_to_one_project(home: Path, formerly: str, said: str) -> None:
    project(home, name="first", extra="formerly: [pull]\n")
    project(home, name="second", extra=f"formerly: {formerly}\n")
    with pytest.raises(ProjectError, match=said):
        read_archive(home, base=home.parent)


@pytest.mark.parametrize("address", [Address("https://club.example/a/"), Address("https://club.example/a", ".html")])
def test_old_names_and_short_addresses_lead_to_the_piece(home: Path, address: Address) -> None:
    path = project(home, name="knob", extra="formerly: [pull, grip]\n")
    made = publish([path], base=home.parent, cache=Cache(), address=address, papers=Papers.NONE)
    pages = {output.path: output.read().decode() for output in made if output.path.endswith(".html")}
    ending = "/index.html" if address.ending == "/" else ".html"
    assert set(pages) == {
        *(f"p/{name}{ending}" for name in ("knob", "pull", "grip")),
        *(
            f"projects/{name}{page}{ending}"
            for name in ("pull", "grip")
            for page in ("", "/at-the-lathe", "/sizes", "/workings")
        ),
    }
    for at, text in pages.items():
        (way,) = set(re.findall(r'(?:url=|href=")((?:\.\./)[^"]+)', text))
        # What a browser makes of it, where the page's own address is.
        here = f"/a/{at.removesuffix('index.html')}"
        from urllib.parse import urljoin

        target = re.sub("pull|grip", "knob", at.removesuffix(ending)).replace("p/knob", "projects/knob")
        assert urljoin(here, way) == f"/a/{target}{address.ending}", at
        assert f'<link rel="canonical" href="https://club.example/a/{target}{address.ending}">' in text
