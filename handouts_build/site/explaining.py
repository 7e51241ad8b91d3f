"""One word of a project file, a chapter, a finding or a caution, explained in a paragraph.

This module owns which words can be asked for and how an answer is laid out for the
terminal. What it says is what the reference is made of: the models, the workpiece's
declarations, the chapters, the wording of findings, and the table of cautions.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from handouts_build.problems import Place, Problem, ProjectError
from handouts_build.tables.trade_words import hint_for

__all__ = ["Explanation", "explain"]

_WIDE = 96


@dataclass
class Explanation:
    """What one word means in one place."""

    what: str
    """Such as `key of a step`."""
    says: str
    example: str = ""
    """As it stands in a file; several lines, or one."""
    lists: dict[str, list[str]] = field(default_factory=dict)
    """Under a heading: keys, words, results."""

    def lines(self, word: str) -> Iterator[str]:
        """The paragraph, for the terminal.

        Args:
            word: That was asked for.
        """
        yield f"{word} ({self.what})"
        yield from textwrap.wrap(self.says, _WIDE, initial_indent="  ", subsequent_indent="  ")
        for heading, rows in self.lists.items():
            yield f"  {heading}:"
            for row in rows:
                yield from textwrap.wrap(row, _WIDE, initial_indent="    ", subsequent_indent="      ")
        if self.example:
            yield "  For example:"
            yield from (f"    {line}".rstrip() for line in self.example.rstrip("\n").splitlines())


def explain(word: str) -> tuple[Explanation, ...]:
    """What a word means, in each place where it means something.

    Args:
        word: A key, cut, mark, hold, blank, chapter, finding or caution, or a word that a key takes.

    Raises:
        ProjectError: If nothing is called so, with the nearest words that are.
    """
    asked = _plain(word)
    known = _everything()
    if asked in known:
        return tuple(known[asked])
    near = hint_for(asked, known) or "the reference pages of your site list every word"
    raise ProjectError([Problem(Place(word), "no key, cut, hold, chapter, finding or caution is called so", near)])


def _plain(word: str) -> str:
    return " ".join(word.replace("_", " ").strip(" :`'\"").casefold().split())


def _everything() -> Mapping[str, list[Explanation]]:
    """Every word with what it means, what is asked for most likely first."""
    known: dict[str, list[Explanation]] = {}
    for word, explanation in (*_kinds(), *_chapters(), *_findings(), *_cautions(), *_keys(), *_words(), *_unsaid()):
        known.setdefault(_plain(word), []).append(explanation)
    return known


def _kinds() -> Iterator[tuple[str, Explanation]]:
    """Blanks, holds, marks and cuts, each with the example of its page."""
    from handouts_build.schema.describe_cuts import entries, example_of

    for heading, kinds in entries().items():
        for kind in kinds:
            fields = {str(known.alias): known for known in kind.model.model_fields.values()}
            keys = [
                f"{key}{' (needed)' if fields[key].is_required() else ''}: {fields[key].description}"
                for key in kind.keys
            ]
            made = Explanation(heading.lower().removesuffix("s"), kind.says, example_of(kind), {"Keys": keys})
            for word in dict.fromkeys((kind.title, *kind.words)):
                yield word, made


def _chapters() -> Iterator[tuple[str, Explanation]]:
    from handouts_build.schema.models import SAMPLES
    from handouts_build.trade import CHAPTERS

    for chapter in CHAPTERS.values():
        lines = [f"{word.key}{' (needed)' if word.several else ''}: {word.says}" for word in chapter.words]
        for given in chapter.givens:
            need = f" (if not given: {given.default})" if given.default else "" if given.optional else " (needed)"
            lines.append(f"{given.key}{need}: {given.says} ({given.kind.value})")
        needed = [given for given in chapter.givens if not (given.optional or given.default)]
        inside = ", ".join(f"{given.key}: {SAMPLES[given.kind]}" for given in needed)
        example = f"workings:\n  result: {{chapter: {chapter.name}{', ' * bool(inside)}{inside}}}"
        gives = [f"result.{law.name}: {law.says}" for law in chapter.laws]
        lists = {"Keys": lines, "What follows, if the entry is called result": gives}
        yield chapter.name, Explanation("chapter for workings", chapter.about, example, lists)


def _findings() -> Iterator[tuple[str, Explanation]]:
    """What the solid finds, in the words of a finding that was made up."""
    from handouts_build.compute.solid.words import said
    from handouts_build.quantities import Rule
    from handouts_build.workpiece import Code, Verdict

    for code in Code:
        numbers = _MadeUp({**_NUMBERS, **_OWN_NUMBERS.get(code.name, {})})
        found = said(Verdict(code, _things(code), numbers), Rule())
        accepted = f"accept: {{{code.value}: Why it may be so; this is printed.}}"
        example = f"{accepted}   # in the step" if code.acceptable else ""
        says = f"It reads like this: {found.message}. What helps: {found.remedy}."
        if not code.acceptable:
            says += " It cannot be accepted: the file must say something else."
        yield code.value, Explanation(f"finding, {found.level.value}", says, example)
    for level, says in _LEVELS.items():
        yield level, Explanation("level of a finding", says)


def _unsaid() -> Iterator[tuple[str, Explanation]]:
    """What is filled in where a file does not say it."""
    from handouts_build.schema.unsaid import RULES

    for rule in RULES:
        yield rule.word or rule.key, Explanation(f"filled in where it is not said, {rule.key}", rule.says)


_LEVELS = {
    "stop": "It cannot be made, or not be held, as the file says. No page and no paper is made until it is put right.",
    "mind": "It can be made, with care: the caution is printed. Change the piece, or accept it with a reason.",
    "note": "Something worth knowing, for whoever writes the file.",
}


class _MadeUp(dict[str, float]):
    """Numbers of a finding that nobody made: any that is asked for is there."""

    def __missing__(self, name: str) -> float:
        """One that the list has not got."""
        return 12.7


_NUMBERS: dict[str, float] = {
    "left_mm": 2.0, "limit_mm": 3.2, "over_mm": 1.6, "gap_mm": 2.0, "have_mm": 25.4, "most_mm": 19.0, "pieces": 2,
    "loose_mm3": 900.0, "long_mm": 203.2, "neck_mm": 12.7, "ratio": 16.0, "limit": 10.0, "overhang_mm": 254.0,
    "diameter_mm": 50.8, "out_mm": 152.4, "hole_mm": 38.1, "rpm": 3600, "most_rpm": 3200, "mouth_mm": 6.0,
    "deep_mm": 152.4, "wide_mm": 101.6, "need_mm": 15.0, "bit_mm": 12.7, "radius_mm": 228.6, "swing_mm": 406.4,
    "left": 0.4, "bark_mm3": 900.0, "area_mm2": 900.0, "least_mm": 12.7,
}  # fmt: skip
"""Made up: numbers that findings tell, of sizes that make sense beside each other."""
_OWN_NUMBERS: dict[str, dict[str, float]] = {
    "OVERHANG": {"ratio": 5.0, "limit": 4.0},
    "HOLD_OUT_OF_RANGE": {"have_mm": 76.2, "least_mm": 38.1, "most_mm": 63.5},
    "SHORT_GRIP": {"have_mm": 6.35},
    "DRIED_OVAL": {"least_mm": 82.07, "most_mm": 85.725},
    "THREAD_DRIED": {"least_mm": 47.0, "most_mm": 49.5},
    "NOT_ROUND": {"least_mm": 45.0, "most_mm": 55.0},
    "CUTS_ITS_HOLD": {"left": 0.2},
}


def _things(code: Any) -> tuple[Any, ...]:
    """What a made-up finding is about."""
    from handouts_build.workpiece.verdicts import Code, Subject, Thing, cut_named

    if code is Code.HOLD_OUT_OF_RANGE:
        return (Thing(Subject.FEATURE, "tenon"),)
    if code is Code.CENTER_IN_THE_WAY:
        return (cut_named("bore"), Thing(Subject.TAIL_CENTER))
    if code is Code.BEARS_ON_NOTHING:
        return (Thing(Subject.FACEPLATE),)
    if code is Code.CUTS_ITS_HOLD:
        return (cut_named("groove"), Thing(Subject.FEATURE, "tenon"))
    return (cut_named("bore"), cut_named("hole 3"))


def _cautions() -> Iterator[tuple[str, Explanation]]:
    from handouts_build.tables.cautions import rules
    from handouts_build.tables.loading import source

    for rule in rules():
        says = f"{rule.title}. {rule.hurts} {' '.join(rule.do)} Source: {source(rule.source).text}"
        made = Explanation(f"caution, {rule.signal.value}", says)
        for word in dict.fromkeys((rule.id, _plain(rule.id.replace("-", " ")), rule.title)):
            yield word, made


def _keys() -> Iterator[tuple[str, Explanation]]:
    """Every key of every map of every file."""
    from handouts_build.schema.describe import every_key
    from handouts_build.schema.describe_cuts import entries

    places: dict[tuple[str, str, str], list[str]] = {}
    listed = dict(_listed())
    for heading, kinds in entries().items():
        for kind in kinds:
            for declared in kind.model.model_fields.values():
                key, example = str(declared.alias), next(iter(declared.examples or ()), "")
                place = (key, str(declared.description), f"{key}: {example}" if example else "")
                called = heading.lower().removesuffix("s")
                where = called if called in ("hold", "blank") else f"{called} {kind.title}"
                if where not in places.setdefault(place, []):
                    places[place].append(where)
    for found in every_key():
        says = found.says
        if found.choices:
            says += f" One of {', '.join(found.choices)}."
        says += " It must be there." if found.needed else f" If not given: {found.default}." if found.default else ""
        # Every chapter has this key, with itself as the example: it is told once, and they in its list.
        where = "workings" if found.key == "chapter" else found.where
        example = f"{found.key}: {found.example}" if found.example and where == found.where else ""
        if where not in places.setdefault((found.key, says, example), []):
            places[found.key, says, example].append(where)
    for (key, says, example), wheres in places.items():
        more = f" and {len(wheres) - 3} more" if len(wheres) > 3 else ""
        lists = {"Its words": rows} if (rows := listed.get((key, wheres[0]))) else {}
        yield key, Explanation(f"key of {', '.join(wheres[:3])}{more}", says, example, lists)


def _listed() -> Iterator[tuple[tuple[str, str], list[str]]]:
    """What may stand under a key, by the key and its map: a row for each word, with the first sentence about it."""
    from handouts_build.schema.describe import every_key
    from handouts_build.schema.describe_cuts import entries
    from handouts_build.trade import CHAPTERS

    kinds = entries()
    for key, where in (("cut", "parts.steps"), ("mark", "parts.steps"), ("blank", "parts"), ("hold", "parts.steps")):
        yield (key, where), [f"{kind.title}: {_begun(kind.says)}" for kind in kinds[f"{key.capitalize()}s"]]
    yield ("by", "hold"), list(dict.fromkeys(word for kind in kinds["Holds"] for word in kind.words))
    yield (
        ("along", "profiles"),
        [f"{found.key}: {_begun(found.says)}" for found in every_key() if found.where == "profiles.along"],
    )
    yield ("chapter", "workings"), [f"{chapter.name}: {_begun(chapter.about)}" for chapter in CHAPTERS.values()]


def _begun(text: str) -> str:
    """The first sentence of a text."""
    return text.partition(". ")[0].removesuffix(".") + "."


def _words() -> Iterator[tuple[str, Explanation]]:
    """The words that keys take and the safety rules know."""
    from handouts_build.schema.describe import words_of_keys

    for key, words in words_of_keys().items():
        for word in words:
            says = f"A word for the key {key}: the cautions that are printed follow from it."
            yield word, Explanation(f"word for {key}", says, f"{key.rpartition('.')[2]}: [{word}]")
