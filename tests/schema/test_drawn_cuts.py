"""The page of blanks, holds, marks and cuts: every kind is there, every example works, every drawing is of today."""

from __future__ import annotations

import io
import re
from functools import cache
from pathlib import Path

import pytest
import yaml
from PIL import Image

from handouts_build.compute.solid.plan import PartPlan
from handouts_build.problems import ProjectError
from handouts_build.schema import cut_pages
from handouts_build.schema.cut_keys import HOLD_WORDS, CutItem, HoldKeys, MarkItem
from handouts_build.schema.describe_cuts import HEAD, DescribedKind, entries
from handouts_build.schema.models import BlankKeys
from handouts_build.site.build import read_archive
from tests.drawn_cuts import HOME, MOST_BYTES, Drawing, drawing, examples, kept

ROOT = Path(__file__).parents[2]
EVERY = [one for kinds in entries().values() for one in kinds]
HOLDS = entries()["Holds"]
KEYS = {str(field.alias): field for field in HoldKeys.model_fields.values()}
ALWAYS = {"by", "says", "tailstock", "tail", "from", "reversed"}
MOST_ALL_BYTES = 900_000

drawn = cache(drawing)


def named(entry: DescribedKind) -> str:
    return entry.example


def text(entry: DescribedKind) -> str:
    return (HOME / f"{entry.example}.yml").read_text(encoding="utf-8")


def plan(folder: Path, written: str) -> PartPlan:
    """The part of a project, with its places, names and numbers settled."""
    (folder / "example.yml").write_text(HEAD + written, encoding="utf-8")
    archive = read_archive(folder, base=folder)
    (part,) = archive.session.solids["example"].parts.values()
    return part.plan


def with_key(entry: DescribedKind, key: str, value: object) -> str:
    """An example whose last hold has one key more, or another value of it."""
    # All as text: to YAML, `on` is a switch.
    data = yaml.load(text(entry), yaml.BaseLoader)
    data["parts"]["piece"]["steps"][-1]["hold"][key] = value
    return yaml.safe_dump(data, sort_keys=False).replace("'true'", "true")


def test_every_kind_of_cut_mark_and_blank_and_every_word_for_a_hold_has_its_entry() -> None:
    told = entries()
    for items, heading in ((CutItem, "Cuts"), (MarkItem, "Marks")):
        assert [one.title for one in told[heading]] == [str(field.alias) for field in items.model_fields.values()]
    assert {key for one in told["Blanks"] for key in one.keys} == {
        str(field.alias) for field in BlankKeys.model_fields.values()
    }
    assert {word for one in HOLDS for word in one.words} == HOLD_WORDS
    assert {key for one in HOLDS for key in one.keys} | ALWAYS == KEYS.keys()


def test_there_is_one_example_for_each_entry_and_none_besides() -> None:
    assert sorted(examples()) == sorted(map(named, EVERY))
    assert sorted(kept()) == sorted(examples())
    pictures = {path.name for path in HOME.glob("*.webp")}
    assert pictures == {f"{name}{theme}.webp" for name in examples() for theme in ("", "-dark")}


@pytest.mark.parametrize("entry", EVERY, ids=named)
def test_an_example_is_sound_without_a_finding_and_shows_its_kind_in_its_last_step(entry: DescribedKind) -> None:
    made = drawn(HOME / f"{entry.example}.yml")
    assert not made.sheet.findings
    last = text(entry).rpartition("- name:")[2]
    of = entry.example.partition("-")[0]
    if of in ("cut", "mark"):
        assert re.findall(r"- ([a-z ]+):", last) == [entry.title]
    elif of == "hold":
        assert entry.words[0] in re.findall(r"by: \[(.*?)\]", last)[0]
    else:
        assert re.search(rf"blank:\s+\{{?{entry.keys[0]}:", text(entry))


@pytest.mark.parametrize("entry", EVERY, ids=named)
def test_a_drawing_is_of_the_example_as_it_stands(entry: DescribedKind) -> None:
    """Where this fails, `python -m tests.drawn_cuts` draws it again: look at it before it is kept."""
    made: Drawing = drawn(HOME / f"{entry.example}.yml")
    held = kept()[entry.example]
    assert (held["key"], held["says"]) == (made.key, made.says)


@pytest.mark.parametrize("entry", EVERY, ids=named)
def test_a_drawing_is_small_and_has_a_clear_ground(entry: DescribedKind) -> None:
    held = kept()[entry.example]
    for theme in ("", "-dark"):
        content = (HOME / f"{entry.example}{theme}.webp").read_bytes()
        assert len(content) <= MOST_BYTES
        picture = Image.open(io.BytesIO(content))
        assert picture.size == (held["width"], held["height"])
        cover = picture.convert("RGBA").getchannel("A")
        assert cover.getextrema() == (0, 255)
    assert sum(path.stat().st_size for path in HOME.glob("*.webp")) <= MOST_ALL_BYTES


def test_a_changed_number_makes_another_key(tmp_path: Path) -> None:
    path = HOME / "cut-ball.yml"
    other = tmp_path / path.name
    other.write_text(path.read_text(encoding="utf-8").replace("keep left: 3/4 in", "keep left: 1 in"), encoding="utf-8")
    assert drawing(other).key != drawn(path).key
    other.write_text(path.read_text(encoding="utf-8"), encoding="utf-8")
    assert drawing(other).key == drawn(path).key


@pytest.mark.parametrize("entry", [one for one in HOLDS if len(one.words) > 1], ids=named)
def test_words_of_one_entry_hold_the_wood_alike(entry: DescribedKind, tmp_path: Path) -> None:
    first = plan(tmp_path, text(entry))
    for word in entry.words[1:]:
        assert plan(tmp_path, with_key(entry, "by", [word])).steps == first.steps, word


@pytest.mark.parametrize("entry", HOLDS, ids=named)
def test_a_hold_takes_the_keys_of_its_entry_and_refuses_the_others(entry: DescribedKind, tmp_path: Path) -> None:
    """A pair of holes and an offset make another hold of `between centers`; those have entries of their own."""
    another = {
        "hold-between-centers": {"in", "offset"}, "hold-mandrel": {"in", "offset"}, "hold-off-axis": {"in"},
        "hold-outside": {"on"},
    }  # fmt: skip
    values = {"in": ["one", "other"], "on": "tenon", "jaws": "two-inch jaws", "end": "left"}
    for key in KEYS.keys() - ALWAYS - set(entry.keys) - another.get(entry.example, set()):
        with pytest.raises(ProjectError, match=f"'{key}' says nothing"):
            plan(tmp_path, with_key(entry, key, values.get(key, "0 deg" if "angle" in key else "0 in")))


def test_the_page_has_every_example_whole_and_every_key_with_what_it_is() -> None:
    page = cut_pages("/")["reference/cuts.md"]
    assert isinstance(page, str)
    assert HEAD in page
    for one in EVERY:
        section = re.split(rf"^### {one.title}$", page, flags=re.MULTILINE)[1].partition("\n### ")[0]
        assert f"```yaml\n{text(one)}```" in section
        assert kept()[one.example]["says"].replace("'", "&#x27;") in section
        for key in one.keys:
            assert f"- `{key}`" in section


def test_an_example_is_read_on_a_telephone_without_moving_it_sideways() -> None:
    for name, path in examples().items():
        assert max(map(len, path.read_text(encoding="utf-8").splitlines())) <= 38, name


@pytest.mark.parametrize(("ending", "at"), [("/", ""), (".html", "cuts/")])
def test_drawings_lie_where_the_page_points(ending: str, at: str) -> None:
    """Beside the page where its address ends in a stroke, below it where it ends in .html."""
    made = cut_pages(ending)
    page = made["reference/cuts.md"]
    assert isinstance(page, str)
    found = re.findall(r'src="([^"]+)"', page)
    assert len(found) == 2 * len(EVERY)
    assert {f"reference/cuts/{src.removeprefix(at)}" for src in found} == made.keys() - {"reference/cuts.md"}
    assert all(src.startswith(at) for src in found)


def test_the_page_is_found_from_the_other_pages() -> None:
    for page in (
        "docs/about.md",
        "handouts_build/site/starters/about.md",
        "handouts_build/schema/describe.py",
        "README.md",
    ):
        assert "cuts.md" in (ROOT / page).read_text(encoding="utf-8"), page
