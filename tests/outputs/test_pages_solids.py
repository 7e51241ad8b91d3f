"""Solids on the site: a picture of each step with words for it, light as agreed, and models that others can read."""

from __future__ import annotations

import io
import json
import shutil
import struct
from functools import cache
from pathlib import Path
from urllib.parse import urljoin

import pypdfium2
import pytest
import trimesh
from PIL import Image

from handouts_build.disk.cache import Cache, user_folder
from handouts_build.outputs.output import Address
from handouts_build.sheet import Sheet
from handouts_build.site.build import Archive, paper_files, read_projects
from tests.outputs.pages_reading import rendered
from tests.projects import site

PROJECTS = Path(__file__).parents[2] / "projects"
NAMES = ("spinning-tops", "lidded-box", "three-sided-candlestick")
MOST = 60_000
"""Bytes of one picture."""


@cache
def archive() -> Archive:
    return read_projects([PROJECTS / f"{name}.yml" for name in NAMES], base=PROJECTS, cache=Cache(user_folder()))


@cache
def made(ending: str = ".html") -> dict[str, bytes]:
    address = Address("https://handouts.example", ending)
    return site(PROJECTS, *NAMES, address=address, cache=Cache(user_folder()))


def sheets() -> tuple[Sheet, ...]:
    return archive().sheets


def _bytes(path: str) -> bytes:
    return made()[path]


@pytest.mark.parametrize("ending", ["/", ".html"])
@pytest.mark.parametrize("name", NAMES)
def test_every_step_that_cuts_or_marks_has_its_picture_where_the_page_looks_for_it(name: str, ending: str) -> None:
    (sheet,) = (one for one in sheets() if one.name == name)
    images = {}
    for page in ("", "/at-the-lathe"):
        root = rendered(made(ending)[f"projects/{name}{page}.md"].decode())
        address = f"projects/{name}{page}{'/' if ending == '/' else '.html'}"
        images[page] = [one for one in root.all("img") if "hb-shot" in one.attrs.get("class", "")]
        assert {urljoin(address, one.attrs["src"]) for one in images[page]} <= made(ending).keys()
        assert all(one.attrs["loading"] == "lazy" for one in images[page])
    shown = [step for step in sheet.steps if step.stage is not None and step.stage.changed]
    # One for a light page and one for a dark page; the finished piece stands on the first.
    assert len(images[""]) == 2
    assert len(images["/at-the-lathe"]) == 2 * len(shown)
    for step in shown:
        assert step.stage is not None
        said = [one.attrs["alt"] for one in images["/at-the-lathe"] if f"-step-{step.number}." in one.attrs["src"]]
        assert said == [step.stage.says]


@pytest.mark.parametrize("name", NAMES)
def test_a_picture_is_light_and_of_the_size_the_page_leaves_for_it(name: str) -> None:
    for path, way in ((f"projects/{name}.md", "projects/"), (f"projects/{name}/at-the-lathe.md", f"projects/{name}/")):
        for one in rendered(made(".html")[path].decode()).all("img"):
            if "hb-shot" not in one.attrs.get("class", ""):
                continue
            content = made(".html")[f"{way}{one.attrs['src']}"]
            assert len(content) <= MOST, one.attrs["src"]
            with Image.open(io.BytesIO(content)) as picture:
                assert picture.size == (int(one.attrs["width"]), int(one.attrs["height"]))


def test_what_a_step_takes_away_is_said_with_its_cuts_and_the_numbers_both_units() -> None:
    (sheet,) = (one for one in sheets() if one.name == "lidded-box")
    (says,) = (step.stage.says for step in sheet.steps if step.name == "Turn the spigot to the lid" and step.stage)
    assert "What this step takes away is hatched: the spigot." in says
    assert "2\u00a01/4\u00a0in (57\u00a0mm) across at its widest" in says
    assert "Held with a chuck: box's tenon in the jaws" in says


@pytest.mark.parametrize("name", NAMES)
def test_the_piece_to_turn_about_is_asked_for_by_a_button_and_lies_beside_the_page(name: str) -> None:
    markdown = made()[f"projects/{name}.md"].decode()
    (figure,) = rendered(markdown).all("figure", cls="hb-solid")
    assert figure.attrs["data-hb-solid"] == name
    script = made()[f"projects/{figure.attrs['data-hb-src']}"].decode()
    assert script.startswith(f'HandoutsSolid.receive("{name}",{{')
    (button,) = figure.all("button")
    assert "hidden" in button.attrs
    # Without a script the still is there, and no script is loaded before it is asked for.
    assert figure.all("img")
    assert f"{name}-solid.js" not in "".join(one.attrs.get("src", "") for one in rendered(markdown).all("script"))


@pytest.mark.parametrize("name", NAMES)
def test_the_models_are_sound_and_as_large_as_the_piece(name: str) -> None:
    (sheet,) = (one for one in sheets() if one.name == name)
    assert sheet.whole is not None
    facts = {one.name: float(one.value.magnitude) for one in sheet.whole.facts}
    solid = trimesh.load(io.BytesIO(_bytes(f"projects/{name}/{name}.stl")), file_type="stl", force="mesh")
    assert solid.is_watertight
    # A piece whose lid is drawn apart is that much longer than it is when it is closed: 1 in, as its file says.
    apart = 25.4 if name == "lidded-box" else 0.0
    assert max(solid.extents) == pytest.approx(max(facts["long"] + apart, facts["across"]), rel=5e-3)
    scene = trimesh.load(io.BytesIO(_bytes(f"projects/{name}/{name}.glb")), file_type="glb", force="scene")
    # glTF 2.0 is in metres with y up.
    assert scene.extents[1] * 1000 == pytest.approx(facts["long"] + apart, rel=5e-3)


def test_the_page_says_how_large_the_models_are() -> None:
    markdown = made()["projects/lidded-box/workings.md"].decode()
    for ending in ("glb", "stl"):
        count = len(_bytes(f"projects/lidded-box/lidded-box.{ending}"))
        size = f"{count / 1e6:.1f} MB" if count >= 1_000_000 else f"{round(count / 1000)} kB"
        assert f"{size}](lidded-box.{ending})" in markdown


def test_a_glb_says_its_own_length() -> None:
    """glTF 2.0, 4.4.1: magic, version 2, and the whole length in the header."""
    content = _bytes("projects/lidded-box/lidded-box.glb")
    assert struct.unpack("<4sII", content[:12]) == (b"glTF", 2, len(content))


def test_the_cards_show_the_finished_pieces() -> None:
    home = made()["index.md"].decode()
    sources = [one.attrs["src"] for one in rendered(home).all("img") if "hb-shot--light" in one.attrs["class"]]
    assert sources == [
        f"projects/{sheet.name}/{sheet.name}-finished.webp" for sheet in sorted(sheets(), key=lambda one: one.name)
    ]
    assert all(source in made() for source in sources)


def test_the_data_file_tells_the_stages_and_the_whole() -> None:
    text = made()["projects/spinning-tops/spinning-tops.json"]
    data = json.loads(text)
    assert data["whole"]["facts"]
    stages = [step["stage"] for part in data["parts"] for step in part["steps"]]
    assert [stage["changed"] for stage in stages] == [True, True, True, True, True, False]


def test_the_handouts_steps_carry_their_pictures() -> None:
    papers = paper_files(archive(), sizes=("letter",))["lidded-box"]
    document = pypdfium2.PdfDocument(papers["lidded-box-handout-letter.pdf"])
    kinds = [one.type for page in document for one in page.get_objects(max_depth=6)]
    (sheet,) = (one for one in sheets() if one.name == "lidded-box")
    shown = [step for step in sheet.steps if step.stage is not None and step.stage.changed]
    # PDF 32000-1, 8.9: an image object; 3 is its kind in PDFium's public header.
    assert kinds.count(3) == len(shown) + 1, "the finished piece on page 1 too"


def test_pictures_that_are_kept_are_not_drawn_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    copied = tmp_path / "projects"
    copied.mkdir()
    for name in ("spinning-tops.yml", "shop.yml"):
        shutil.copy(PROJECTS / name, copied)
    first = site(copied, cache=Cache(tmp_path / "kept"))
    # Other words, which no picture shows.
    path = copied / "spinning-tops.yml"
    path.write_text(
        path.read_text(encoding="utf-8").replace("summary: >-\n  ", "summary: >-\n  Again, "), encoding="utf-8"
    )
    monkeypatch.setattr("handouts_build.site.picturing.stage_shots", None)
    monkeypatch.setattr("handouts_build.workpiece.carry", None)
    second = site(copied, cache=Cache(tmp_path / "kept"))
    assert b"Again, " in second["projects/spinning-tops.md"]
    assert {path for path in first if first[path] != second[path]} == {
        "index.md",
        "p/spinning-tops/index.html",
        "projects/spinning-tops.md",
        "projects/spinning-tops/spinning-tops.json",
    }
