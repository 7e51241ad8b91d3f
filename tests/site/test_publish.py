"""Publishing: nothing is made twice, nothing of anybody else's, and many at once give the same."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from handouts_build.disk import workers as module
from handouts_build.disk.cache import Cache
from handouts_build.outputs.output import NOWHERE, Address
from handouts_build.problems import ProjectError
from handouts_build.sheet import Sheet
from handouts_build.site import publish as publishing
from handouts_build.site.gathering import belongings
from handouts_build.site.publish import Papers, publish, summarize, survey, typeset
from handouts_build.site.starter import start_project
from handouts_build.site.summary import Summary
from tests.projects import project, site

PAPER = "piece-dimensions-a4.pdf"


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """A folder for projects, with room beside it."""
    (tmp_path / "projects").mkdir()
    return tmp_path / "projects"


def test_an_unchanged_project_is_told_and_published_without_being_read(
    home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = project(home, extra="keep:\n  - {that: ball < 1 in, says: Too large.}\n")
    kept = home.parent / "kept"
    first = summarize([path], base=home, cache=Cache(kept)), site(home, cache=Cache(kept))
    monkeypatch.setattr("handouts_build.site.build.read_what_can_be", None)
    assert (summarize([path], base=home, cache=Cache(kept)), site(home, cache=Cache(kept))) == first
    ((told,), _) = first
    assert (told.name, told.title, told.stopped) == ("piece", "Piece", True)
    assert told.stops == told.findings[:1]
    assert "stop: Too large." in told.stops[0]


@pytest.mark.parametrize("changed", ["piece.yml", "shop.yml", "piece/seen.png"])
def test_whatever_a_project_is_made_from_changes_what_is_told(home: Path, changed: str) -> None:
    """Times do not count: a file touched is the same file."""
    path, cache = project(home), home.parent / "kept"
    (home / "piece").mkdir()
    (home / "shop.yml").write_text("club: Sample\n", encoding="utf-8")
    (home / "piece" / "seen.png").write_bytes(b"")
    summarize([path], base=home, cache=Cache(cache))
    before = len(list(cache.iterdir()))
    os.utime(home / changed, (1, 1))
    summarize([path], base=home, cache=Cache(cache))
    assert len(list(cache.iterdir())) == before
    with (home / changed).open("a", encoding="utf-8") as file:
        file.write("# more\n")
    summarize([path], base=home, cache=Cache(cache))
    assert len(list(cache.iterdir())) > before


def test_what_is_wrong_is_told_of_every_file_and_is_never_kept(home: Path) -> None:
    paths = [project(home, name="one", sizes="ball: {is: 2 inn, says: It}"), project(home, name="two")]
    paths.append(project(home, name="three", dimensions="a: {formula: b, says: It}"))
    for _ in range(2):
        with pytest.raises(ProjectError) as caught:
            summarize(paths, base=home, cache=Cache(home.parent / "kept"))
        assert [problem.place.file for problem in caught.value.problems] == ["one.yml", "three.yml"]


def test_projects_that_are_known_still_cannot_share_a_title(home: Path) -> None:
    paths, cache = [project(home, name=name) for name in ("one", "two")], home.parent / "kept"
    summarize(paths, base=home, cache=Cache(cache))
    paths[1].write_text(paths[1].read_text().replace("title: Two", "title: ONE"))
    with pytest.raises(ProjectError, match=r"already that of one\.yml"):
        summarize(paths, base=home, cache=Cache(cache))


@pytest.mark.processes
def test_several_processes_make_the_same_site_as_one(home: Path) -> None:
    paths = [project(home, name=name) for name in ("a", "b", "c")]
    kept = home.parent / "kept"
    told = summarize(paths, base=home.parent, cache=Cache(kept), jobs=2)
    made = publish(paths, base=home.parent, cache=Cache(kept), address=NOWHERE, papers=Papers.NONE, jobs=2)
    assert {one.path: one.read() for one in made} == site(home)
    assert told == summarize(paths, base=home.parent, cache=Cache())


@pytest.mark.processes
def test_whoever_works_a_project_out_makes_what_is_published_of_it(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Working out costs as much as drawing, and what is carried in one process is not there in another."""
    (path, *_), kept, wanted = start_project("knob", home), home.parent / "kept", (NOWHERE, Papers.MADE)
    found = survey([path], base=home.parent, cache=Cache(kept), jobs=2, site=wanted)

    def again(*_: object, **__: object) -> None:
        raise AssertionError("worked out again")

    monkeypatch.setattr("handouts_build.compute.compute", again)
    made = publish(found.makeable, base=home.parent, cache=Cache(kept), address=NOWHERE, papers=Papers.MADE)
    assert f"projects/knob/{PAPER.replace('piece', 'knob')}" in {one.path for one in made}


@pytest.mark.processes
def test_a_problem_met_by_another_process_is_told_as_ever(home: Path) -> None:
    paths = [project(home, name="one", sizes="ball: {is: 2 inn, says: It}"), project(home, name="two")]
    with pytest.raises(ProjectError, match="2 inn"):
        summarize(paths, base=home, cache=Cache(home.parent / "kept"), jobs=2)


def die(_: Cache) -> None:
    """End the process as if it had been killed."""
    os._exit(9)


@pytest.mark.processes
def test_a_process_that_dies_costs_time_and_nothing_else(tmp_path: Path) -> None:
    module.side_by_side([die, die, die], tmp_path, jobs=2)


def test_a_paper_is_named_first_and_typeset_when_asked_for(home: Path) -> None:
    path = project(home)
    named = site(home, papers=Papers.NAMED)
    made = site(home, papers=Papers.MADE)
    assert named.keys() == made.keys()
    assert named["projects/piece.md"] == made["projects/piece.md"]
    assert named[f"projects/piece/{PAPER}"] == b""
    cache = Cache()
    paper = typeset(path, PAPER, base=home.parent, cache=cache, address=NOWHERE)
    assert paper == made[f"projects/piece/{PAPER}"]
    assert typeset(path, "piece-poem-a4.pdf", base=home.parent, cache=cache, address=NOWHERE) is None
    assert typeset(path, "other-handout-a4.pdf", base=home.parent, cache=cache, address=NOWHERE) is None


def test_a_paper_with_pictures_can_be_asked_for_right_after_its_page_was_made(home: Path) -> None:
    """As in a preview after an edit, where one process makes the page and then the paper."""
    (path, *_), cache = start_project("knob", home), Cache(home.parent / "kept")
    site(home, papers=Papers.NAMED, cache=cache)
    paper = typeset(path, "knob-handout-a4.pdf", base=home.parent, cache=cache, address=NOWHERE)
    assert paper is not None
    assert paper.startswith(b"%PDF")


def test_where_it_is_published_changes_what_is_made(home: Path) -> None:
    cache = Cache(home.parent / "kept")
    project(home)
    one, other = (
        site(home, papers=Papers.MADE, cache=cache, address=Address(url)) for url in ("", "https://handouts.example/")
    )
    assert one[f"projects/piece/{PAPER}"] != other[f"projects/piece/{PAPER}"], "the code to scan"


def test_what_is_known_is_told_without_loading_what_works_it_out(home: Path) -> None:
    """A quarter of a second is for loading the units alone."""
    summarize([project(home)], base=home, cache=Cache(home.parent / "kept"))
    program = (
        "import sys; from pathlib import Path\n"
        "from handouts_build.disk.cache import Cache; from handouts_build.site.publish import summarize\n"
        f"home = Path({str(home)!r})\n"
        "(told,) = summarize([home / 'piece.yml'], base=home, cache=Cache(home.parent / 'kept'))\n"
        "print(told.name, *({'pint', 'numpy', 'pydantic', 'lark', 'yaml'} & sys.modules.keys()))\n"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["piece"]


def test_a_file_saved_while_it_is_worked_out_is_never_kept_under_what_it_was(
    home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An editor saves at any moment: what was made of the second text must not answer for the first."""
    path, kept = project(home), home.parent / "kept"
    first = path.read_text(encoding="utf-8")
    real = publishing.summary_of

    def meanwhile(sheet: Sheet, *more: Any) -> Summary:
        path.write_text(first.replace("title: Piece", "title: Changed"), encoding="utf-8")
        return real(sheet, *more)

    monkeypatch.setattr(publishing, "summary_of", meanwhile)
    summarize([path], base=home, cache=Cache(kept))
    monkeypatch.setattr(publishing, "summary_of", real)
    for text, title in ((first.replace("title: Piece", "title: Changed"), "Changed"), (first, "Piece")):
        path.write_text(text, encoding="utf-8")
        (told,) = summarize([path], base=home, cache=Cache(kept))
        assert told.title == title


@pytest.mark.processes
def test_a_machine_that_lets_no_process_start_does_it_all_in_one(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(*_: object, **__: object) -> None:
        raise OSError(30, "Read-only file system")

    monkeypatch.setattr("concurrent.futures.ProcessPoolExecutor", refused)
    paths = [project(home, name=name) for name in ("a", "b")]
    assert len(summarize(paths, base=home, cache=Cache(home.parent / "kept"), jobs=2)) == 2


def test_a_film_beside_the_pictures_is_not_read(home: Path) -> None:
    path = project(home)
    (home / "piece" / "films").mkdir(parents=True)
    (home / "piece" / "films" / "evening.mp4").write_bytes(b"x")
    (home / "piece" / "seen.jpg").write_bytes(b"x")
    assert "piece/seen.jpg" in list(belongings(path))
    assert not [one for one in belongings(path) if "evening" in str(one)]
