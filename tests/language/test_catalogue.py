"""The catalogue: sentences by their English, plural forms, and a language that shows what was left out."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from threading import Thread

import pytest

from handouts_build.language import ENGLISH, speaking, spoken, tr, tr_count
from handouts_build.language.pseudo import PSEUDO, stretched
from tests.catalogue import LIBRARY, PLUGIN, TEMPLATE, places, sentences, template


def test_english_is_said_as_it_stands() -> None:
    assert spoken() == ENGLISH
    assert tr("Stop the lathe.") == "Stop the lathe."
    assert tr("{part}: {size}", part="The box", size="2 in") == "The box: 2 in"
    assert tr("{left} of wood is left") == "{left} of wood is left"
    assert [tr_count("1 piece of {wood}", "{count} pieces of {wood}", count, wood="ash") for count in (0, 1, 2)] == [
        "0 pieces of ash", "1 piece of ash", "2 pieces of ash",
    ]  # fmt: skip


def test_what_is_put_in_is_not_read_as_a_place() -> None:
    assert tr("{name} is thin", name="{left}") == "{left} is thin"


def test_a_language_holds_as_far_as_it_is_spoken() -> None:
    with speaking(PSEUDO):
        said = tr("Keep {part}, <b>&amp; turn</b>", part="the rim")
        assert said != "Keep the rim, <b>&amp; turn</b>"
        assert "the rim" in said
        assert "<b>&amp; " in said
        assert "3" in tr_count("1 lid", "{count} lids", 3)
        with speaking(ENGLISH):
            assert tr("Keep") == "Keep"
        assert tr("Keep") != "Keep"
    assert tr("Keep") == "Keep"


def test_what_nobody_knows_is_not_spoken() -> None:
    with pytest.raises(KeyError), speaking("xx"):
        pass
    assert spoken() == ENGLISH


def test_another_thread_speaks_its_own_language() -> None:
    heard: list[str] = []
    with speaking(PSEUDO):
        thread = Thread(target=lambda: heard.append(tr("Keep")))
        thread.start()
        thread.join()
    assert heard == ["Keep"]


def test_the_pseudo_language_is_two_fifths_longer_and_keeps_every_place() -> None:
    """CLDR's pseudo-language lengthens what it accents; 1.4 is what the pages are to bear."""
    told = [message for found, _ in sentences() for message in found.forms]
    assert len(told) > 1500
    letters = sum(len(message) for message in told)
    assert 1.3 < sum(len(stretched(message)) for message in told) / letters < 1.5
    for message in told:
        assert places(stretched(message)) == places(message), message
        # Words alone are changed: tags and their attributes are what they were.
        assert re.findall(r"<[^<>]*>", stretched(message)) == re.findall(r"<[^<>]*>", message), message


def calls() -> Iterator[tuple[str, set[str], set[str]]]:
    """Every sentence that Python says with values: where, its places, and what is put in."""
    for path in sorted(found for home in (LIBRARY, PLUGIN) for found in home.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Name)):
                continue
            told = {"tr": 1, "tr_count": 2, "tr_about": 2}.get(node.func.id, 0)
            said = [arg.value for arg in node.args[:told] if isinstance(arg, ast.Constant)]
            if len(said) < told or not told or any(keyword.arg is None for keyword in node.keywords):
                continue
            given = {str(keyword.arg) for keyword in node.keywords} | (
                {"count"} if node.func.id == "tr_count" else set()
            )
            if given:
                yield f"{path.name}:{node.lineno}", {place for message in said for place in places(str(message))}, given


def test_every_sentence_is_given_just_what_it_asks_for() -> None:
    """A name that is missing would end the run in a language or a case that nobody tried."""
    # A language may count without saying the number, as English does of one.
    wrong = [(where, asked, given) for where, asked, given in calls() if asked - given or given - asked - {"count"}]
    assert wrong == []


def test_the_template_for_translators_has_every_sentence() -> None:
    assert TEMPLATE.read_text(encoding="utf-8") == template(), "write it anew: python -m tests.catalogue"


def test_a_sentence_is_whole() -> None:
    """None begins or ends with a space: it would be a piece of another."""
    told = {message for found, _ in sentences() for message in found.forms}
    assert [message for message in sorted(told) if message != message.strip()] == []
