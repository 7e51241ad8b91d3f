"""A translation: read with its plural forms, looked over, and met from the shop file to page and paper."""

from __future__ import annotations

import gettext
import re
from datetime import date, datetime
from pathlib import Path

import pikepdf
import pypdfium2 as pdfium
import pytest

from handouts_build.disk.cache import Cache
from handouts_build.language import (
    ENGLISH,
    catalogue,
    in_a_row,
    labelled,
    languages,
    listed,
    one_of,
    plural_forms,
    speaking,
    tr,
    tr_about,
    tr_count,
)
from handouts_build.outputs.scripts import published_script
from handouts_build.outputs.words import day, said_time
from handouts_build.problems import ProjectError
from handouts_build.site.archive_language import archive_language
from handouts_build.site.build import read_shop
from tests import catalogue as dictionary
from tests.language.installed import installed

QAA = Path(__file__).with_name("qaa.po")
ROOT = Path(__file__).parents[2]
COUNTED = ("1 piece", "{count} pieces")


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A place where the made-up language is the only translation."""
    monkeypatch.setattr(catalogue, "_HOME", tmp_path)
    monkeypatch.setattr(catalogue, "_READ", dict(catalogue._READ))
    (tmp_path / "qaa.mo").write_bytes(dictionary.compiled(dictionary.read(QAA)))
    return tmp_path


def test_a_count_takes_the_form_that_its_language_has_for_it(home: Path) -> None:
    """Three forms by the rule that the GNU gettext manual gives for Polish: 1; 2 to 4, 22 to 24, …; all else."""
    with speaking("qaa"):
        told = {count: tr_count(*COUNTED, count) for count in (1, 2, 4, 5, 12, 21, 22, 0)}
    assert told == {
        1: "qkus", 2: "2 qkusy", 4: "4 qkusy", 5: "5 qkusov", 12: "12 qkusov", 21: "21 qkusov", 22: "22 qkusy",
        0: "0 qkusov",
    }  # fmt: skip


def test_what_is_not_translated_is_english(home: Path) -> None:
    """So is what is translated by half, and what its translator marked as not yet sure."""
    with speaking("qaa"):
        assert tr("Stop the lathe.") == "Stop the lathe."
        assert tr("Safety") == "Safety"
        assert [tr_count("{count} ring", "{count} rings", count) for count in (1, 21, 22)] == [
            "1 ring", "21 rings", "22 rings",
        ]  # fmt: skip
        assert plural_forms("{count} ring", "{count} rings").forms == ("{count} ring", "{count} rings")


def test_one_english_word_of_two_meanings_may_be_two_words(home: Path) -> None:
    with speaking("qaa"):
        assert tr_about("the end of a longer list", "{earlier} and {last}", earlier="a", last="b") == "a qi b"
        assert tr("{earlier} and {last}", earlier="a", last="b") == "a and b"


def test_lists_are_put_together_as_the_language_does(home: Path) -> None:
    words = ["a", "b", "c"]
    english = ["", "a", "a and b", "a, b and c"]
    assert [listed(words[:count]) for count in range(4)] == english
    assert [one_of(words[:count]) for count in range(4)] == [said.replace("and", "or") for said in english]
    assert [in_a_row(words[:count]) for count in range(4)] == ["", "a", "a, b", "a, b, c"]
    assert labelled("a", 2) == "a: 2"
    with speaking("qaa"):
        assert listed(words) == "a·b qi c"
        assert listed(words[:2]) == "a and b"


def test_days_and_times_are_said_as_the_language_does(home: Path) -> None:
    with speaking("qaa"):
        assert day(date(2031, 3, 1)) == "2031 qmar 1"
        assert said_time(datetime(2031, 3, 1, 19, 5)) == "19.05"
    assert said_time(datetime(2031, 3, 1, 19, 5)) == "7:05 pm"


def test_a_script_of_the_page_has_as_many_forms_as_the_language(home: Path) -> None:
    """Its rule is an expression of C, which means the same in a page's script."""
    script = 'const said = count === 1 ? tr("1 piece") : tr("{count} pieces"), all = tr("All steps");'
    assert published_script(script) == 'const said = count === 1 ? "1 piece" : "{count} pieces", all = "All steps";'
    with speaking("qaa"):
        told = published_script(script)
        forms = plural_forms(*COUNTED)
    assert 'all = "Qvsištépi"' in told
    choice = re.search(r'\["qkus","{count} qkusy","{count} qkusov"\]\[\(n => \+\((.*)\)\)\(count\)\]', told)
    assert choice is not None
    rule = gettext.c2py(choice[1])
    assert [forms.forms[rule(count)] for count in (1, 3, 7)] == ["qkus", "{count} qkusy", "{count} qkusov"]


def shop(folder: Path, text: str) -> Path:
    """A folder of project files with a shop file."""
    projects = folder / "projects"
    projects.mkdir(parents=True, exist_ok=True)
    (projects / "shop.yml").write_text(text, encoding="utf-8")
    return projects


def test_the_shop_file_says_the_language(home: Path) -> None:
    cache = Cache()
    assert languages() == (ENGLISH, "qaa")
    assert archive_language(home / "nowhere", cache=cache) == ENGLISH
    assert archive_language(shop(home, "kerf: 1/8 in\n"), cache=cache) == ENGLISH
    assert archive_language(shop(home, "kerf: 1/8 in\nlanguage: qaa\n"), cache=cache) == "qaa"
    # Whatever is wrong with it is told where the projects are read.
    assert archive_language(shop(home, "language: xx\n"), cache=cache) == ENGLISH


@pytest.mark.parametrize(
    ("written", "message", "hint"),
    [
        ("xx", "there is no translation into 'xx' yet", "those there are: en, qaa"),
        ("no", "there is no translation into 'no' yet", "those there are: en, qaa"),
        ("QAA", "'QAA' is not how a language is written here", "write qaa"),
        ("en_XA", "'en_XA' is not a language's tag", "such as en or pt-BR; those there are: en, qaa"),
        ("English", "'English' is not a language's tag", "those there are: en, qaa"),
        # The language that nobody speaks is for tests.
        ("en-XA", "there is no translation into 'en-XA' yet", "those there are: en, qaa"),
        ("[en]", "'['en']' is not a language's tag", "those there are: en, qaa"),
    ],
)
def test_a_language_that_nobody_has_translated_into_is_refused_at_its_place(
    home: Path, written: str, message: str, hint: str
) -> None:
    projects = shop(home, f"kerf: 1/8 in\nlanguage: {written}\n")
    with pytest.raises(ProjectError) as refused:
        read_shop(projects, home)
    (problem,) = refused.value.problems
    assert (problem.place.file, problem.place.line, problem.message) == ("projects/shop.yml", 2, message)
    assert hint in problem.hint


def test_an_archive_has_one_language(home: Path) -> None:
    projects = shop(home, "kerf: 1/8 in\n")
    shelf = projects / "bowls"
    shelf.mkdir()
    (shelf / "shop.yml").write_text("language: qaa\n", encoding="utf-8")
    with pytest.raises(ProjectError, match="one language") as refused:
        read_shop(shelf, home)
    (problem,) = refused.value.problems
    assert (problem.place.file, problem.place.line) == ("projects/bowls/shop.yml", 1)
    assert "projects/shop.yml" in problem.hint


@pytest.mark.parametrize(
    ("english", "said", "wrong"),
    [
        ("Cut {part}", "Qcut", "its places are []"),
        ("Cut {part}", "Qcut {piece}", "its places are ['piece']"),
        ("Cut {part}", "Qcut {part} {part.__class__}", "its places are"),
        ("Cut {part}", "Qcut {part!r}", "is not a name alone"),
        ("Cut {part}", "Qcut {part", "curly brackets"),
        ("Cut <b>{part}</b>", "Qcut <i>{part}</i>", "tags"),
        ("Cut", 'Q"cut"', "a sign of"),
        ("Cut", "Q*cut*", "a sign of"),
        ("Cut", "Qcut ", "a space"),
        ("Cut", "Q切", "the papers' fonts have no sign for 切"),
        (("{count} cut", "{count} cuts"), ("Qcut", "Qcut {times}"), "its places are ['times']"),
    ],
)
def test_a_translation_that_would_end_a_run_or_lose_a_value_is_not_taken(
    english: str | tuple[str, str], said: str | tuple[str, str], wrong: str
) -> None:
    translation = dictionary.Catalog(locale="nb")
    translation.add(english, said)
    found = list(dictionary.faults(translation))
    assert any(wrong in fault for fault in found), found


def test_a_count_may_be_left_out_and_a_clock_may_have_24_hours() -> None:
    translation = dictionary.Catalog(locale="nb")
    translation.add(("{count} cut of {wood}", "{count} cuts of {wood}"), ("Qcut {wood}", "{count} qcuts {wood}"))
    translation.add("{hour12}:{minute} am", "{hour}.{minute}")
    assert list(dictionary.faults(translation)) == []


def test_a_translation_is_begun_brought_up_to_date_and_made(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(dictionary, "TEMPLATE", tmp_path / "handouts.pot")
    dictionary.main("pl")
    begun = dictionary.read(tmp_path / "pl.po")
    assert begun.num_plurals == 3
    assert {message.id for message in begun} >= {"Handout", COUNTED}
    for message in begun:
        if message.id == "Handout":
            message.string = "Qhando"
    begun.add("A sentence that nobody says any more", "Qold")
    (tmp_path / "pl.po").write_text(dictionary._text(begun, header=True), encoding="utf-8")
    dictionary.main()
    after = (tmp_path / "pl.po").read_text(encoding="utf-8")
    assert '#~ msgid "A sentence that nobody says any more"' in after
    assert "pl.po: 1 of" in capsys.readouterr().out
    with (tmp_path / "pl.mo").open("rb") as file:
        assert gettext.GNUTranslations(file).gettext("Handout") == "Qhando"
    (tmp_path / "pl.po").write_text(after.replace('"Qhando"', '"Q*"'), encoding="utf-8")
    with pytest.raises(SystemExit, match=r"pl\.po:\d+: 'Q\*': it has a sign of"):
        dictionary.main()
    with pytest.raises(SystemExit, match="BCP 47"):
        dictionary.main("German")


def test_every_translation_there_is_goes_by_the_sentences_there_are() -> None:
    home = dictionary.TEMPLATE.parent
    written = sorted(path.stem for path in home.glob("*.po"))
    assert sorted(path.stem for path in home.glob("*.mo")) == written
    for tag in written:
        path = home / f"{tag}.po"
        assert list(dictionary.faults(dictionary.read(path))) == []
        assert path.read_text(encoding="utf-8") == dictionary.renewed(dictionary.read(path), dictionary.listed_now())
        assert path.with_suffix(".mo").read_bytes() == dictionary.compiled(dictionary.read(path))


@pytest.fixture(scope="module")
def archive(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An archive in the made-up language, checked, shown and built by the commands of an installation that has it."""
    root = tmp_path_factory.mktemp("whole-way")
    run = installed(root, "qaa", dictionary.read(QAA))
    here = root / "club"
    run("handouts_build", "start", "club", cwd=root)
    projects = here / "projects"
    with (projects / "shop.yml").open("a", encoding="utf-8") as file:
        file.write("\nlanguage: qaa\n")
    run("handouts_build", "new", "peg", "--like", "knob", cwd=here)
    peg = re.sub(r"(?m)^(kind|level|techniques):.*\n", "", (projects / "peg.yml").read_text(encoding="utf-8"))
    (projects / "peg.yml").write_text(peg, encoding="utf-8")
    run("handouts_build", "book", "peg", "2031-03-01", "--club", "Turners", cwd=here)
    booked = next((projects / "peg" / "demonstrations").iterdir())
    with booked.open("a", encoding="utf-8") as file:
        file.write("start: 19:30\nzone: America/New_York\nslot: 60 min\n")
    told = {
        "check": run("handouts_build", "check", cwd=here),
        "sheet": run("handouts_build", "sheet", "peg", cwd=here),
        "evening": run("handouts_build", "evening", "peg", "2031-03-01", "--to", "evening", cwd=here),
        "build": run("mkdocs", "build", "--strict", cwd=here),
    }
    for command, text in told.items():
        (here / f"told-{command}").write_text(text, encoding="utf-8")
    return here


def test_commands_answer_in_the_language_of_the_archive(archive: Path) -> None:
    assert "qbraki: kind·level qi techniques" in (archive / "told-check").read_text(encoding="utf-8")
    assert "\nQzižé\n" in (archive / "told-sheet").read_text(encoding="utf-8")
    assert "the archive's language is 'qaa' and the theme's 'en'" in (archive / "told-build").read_text(
        encoding="utf-8"
    )


def test_a_page_is_in_the_language_and_says_so(archive: Path) -> None:
    site = archive / "site"
    page = (site / "projects" / "peg.html").read_text(encoding="utf-8")
    assert re.search(r"<html\b[^>]*>", page)[0].startswith('<html lang="qaa"')
    assert "Qštépi" in page
    # What is not translated is there in English.
    assert "What you need" in page
    assert "Qkusy 2." in (site / "find.html").read_text(encoding="utf-8")
    assert "Qnista" in (site / "404.html").read_text(encoding="utf-8")
    assert '<html lang="qaa"' in (site / "404.html").read_text(encoding="utf-8")
    # What the webmaster wrote is in the language of the theme.
    assert '<html lang="en"' in (site / "about.html").read_text(encoding="utf-8")
    script = next(site.rglob("find.js")).read_text(encoding="utf-8")
    assert '["qkus","{count} qkusy","{count} qkusov"]' in script


def test_a_paper_is_in_the_language_and_says_so(archive: Path) -> None:
    paper = next((archive / "site").rglob("peg-handout-letter.pdf"))
    with pikepdf.open(paper) as opened:
        assert str(opened.Root.Lang) == "qaa"
    text = "\n".join(page.get_textpage().get_text_bounded() for page in pdfium.PdfDocument(paper))
    assert "Qhando" in text
    assert "Qkito" in text
    assert re.search(r"Qpago \d/1", text)
    assert "Blanks, at least" in text


def test_the_evening_is_in_the_language(archive: Path) -> None:
    pages = [path.read_text(encoding="utf-8") for path in (archive / "evening").rglob("*.html")]
    assert pages
    assert all('<html lang="qaa"' in page for page in pages)
    assert any("19.30" in page or "2031 qmar 1" in page for page in pages)
    papers = list((archive / "evening").rglob("*.pdf"))
    assert papers
    for paper in papers:
        with pikepdf.open(paper) as opened:
            assert str(opened.Root.Lang) == "qaa"
