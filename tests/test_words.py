"""The words a reader meets: habits that make him read twice are refused, each with a better one.

Walked are the chapters' labels and demands, every string of the modules that word something,
the cautions, the pages' templates and scripts, and the demo's projects. The list holds habits
that were there once; it is no grammar.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from handouts_build.quantities import Rule, millimetres, print_as
from handouts_build.trade import CHAPTERS
from handouts_build.trade.outlines import INSIDE_VALUES, PROFILE_DEMANDS, PROFILE_VALUES
from tests.projects import ROOT

HOUSE = ROOT / "handouts_build"

BETTER = {
    r"less than nought|negative where": "a sign is a word: give the law its `ways`, such as looser and tighter",
    r"\bnot (under|over)\b(?! it)": "at least, at most",
    r"\blast, and first|\blast word\b": "Safety",
    r"accepted, because": "Thin on purpose: …, with the reason after it",
    r"\bup to and with\b": "finished through step 7",
    r"\btake up:": "pick up:",
    r"held by between": "Held between centers.",
    r"cuts air": "Tool in the air 51 % of each turn",
    r"profile elements?|profile's elements": "name the bead, the cove or the step that cut it",
    r"no mark of a rule is": "Tenon diameter, by calipers",
    r"\b(greatest|least) diameter": "largest diameter, thinnest place",
    r"each unit is rounded by itself": "Inches and millimeters are rounded separately; stay with one.",
    r"of all choices": "This keeps the steps most worth seeing live.",
    r"with every step live": "Turning everything live takes about 92 minutes.",
    r"(sizes|held|stays?|those) as written": "as published, the published sizes",
    r"reasons? stands? below": "Here is why:",
    r"nothing that calls for care": "It has no warnings.",
    r"what the author asks": "say the rule itself",
    r"for small hands": "say what the size does",
    r"grain of one paper over": "Largest jump between grits",
    r"end of the window": "the range of speeds",
    r"will hang on it": "the chuck grips it",
}
"""What is refused, and what to say in its place."""

OURS = re.compile(r"\b(stage|window|sheet|profile element)s?\b", re.IGNORECASE)
"""Words that only the program knows, in a label of the trade."""


def _strings(path: Path) -> Iterator[tuple[str, str]]:
    """Every string of a module that is no docstring, with its place; of an f-string its fixed words."""
    tree = ast.parse(path.read_text("utf-8"))
    documented = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            text = "".join(str(part.value) if isinstance(part, ast.Constant) else "…" for part in node.values)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in documented:
            text = node.value
        else:
            continue
        yield f"{path.relative_to(ROOT)}:{node.lineno}", text


def _lines(path: Path) -> Iterator[tuple[str, str]]:
    """Every line of a file that is no comment, with its place."""
    text = re.sub(
        r"\{#.*?#\}|/\*.*?\*/", lambda found: "\n" * found[0].count("\n"), path.read_text("utf-8"), flags=re.DOTALL
    )
    for number, line in enumerate(text.splitlines(), start=1):
        yield f"{path.relative_to(ROOT)}:{number}", re.sub(r"(^|\s)(#|//)\s.*", "", line)


def _chapters() -> Iterator[tuple[str, str]]:
    """Every label, condition and remedy of the trade's chapters, with its place."""
    for chapter in CHAPTERS.values():
        yield chapter.name, chapter.about
        for told in (*chapter.givens, *chapter.laws, *chapter.words):
            yield f"{chapter.name}.{told.name}", told.says
        for demand in chapter.demands:
            yield f"{chapter.name}: {demand.holds}", f"{demand.message}; {demand.remedy}"
    for value in (*PROFILE_VALUES, *INSIDE_VALUES):
        yield f"profile.{value.name}", value.says
    for demand in PROFILE_DEMANDS:
        yield f"profile: {demand.holds}", f"{demand.message}; {demand.remedy}"


def _said() -> Iterator[tuple[str, str]]:
    yield from _chapters()
    for path in sorted(HOUSE.rglob("*.py")):
        yield from _strings(path)
    for pattern in ("tables/*.yml", "outputs/**/*.j2", "outputs/assets/js/*.js"):
        for path in sorted(HOUSE.glob(pattern)):
            yield from _lines(path)
    for path in sorted((ROOT / "projects").glob("*.yml")):
        yield from _lines(path)


def _amiss(place: str, text: str) -> Iterator[str]:
    for habit, better in BETTER.items():
        if found := re.search(habit, text, re.IGNORECASE):
            yield f"{place}: '{found[0]}'; better: {better}"


def test_no_sentence_has_to_be_read_twice() -> None:
    said = list(_said())
    assert len(said) > 5000
    assert [wrong for place, text in said for wrong in _amiss(place, text)] == []


@pytest.mark.parametrize(
    "text", ["Accepted, because: x", "Held by between centers.", "1/8 in, not under", "Take up: a cap"]
)
def test_a_habit_is_found_where_it_is(text: str) -> None:
    assert list(_amiss("here", text))


def test_no_label_of_the_trade_uses_a_word_of_the_programs() -> None:
    assert [(place, text) for place, text in _chapters() if OURS.search(text)] == []


def test_no_chapter_prints_a_change_with_a_sign() -> None:
    """A law that is a change of a length tells its sign by a word: looser, past the first mark."""
    changes = {law for chapter in CHAPTERS.values() for law in chapter.laws if law.ways}
    assert {law.name for law in changes} >= {"closing", "fit_change", "quarter_change", "along_rings", "hole_other"}
    for law in changes:
        more, less = (print_as(millimetres(size), Rule(), law.manner) for size in (2.5, -2.5))
        assert (more.lead, less.lead) == tuple(way.format(amount="0.098\u00a0in") for way in law.ways)
        assert str(less) == law.ways[1].format(amount="0.098\u00a0in (2.5\u00a0mm)")
        assert less.amount == more.amount == "0.098\u00a0in (2.5\u00a0mm)"
        assert less.rounded.magnitude < 0
        none = print_as(millimetres(0.0), Rule(), law.manner)
        assert str(none) == "0\u00a0in (0\u00a0mm)"
