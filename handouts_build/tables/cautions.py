"""Safety rules: when one applies, who is hurt how, and what to do.

This module owns the form of a rule, the reading of cautions.yml and the decision
which rules a set of facts calls for. The words facts are made of stand in
`caution_facts`. It leaves gathering the facts to compute and the drawing of the
boxes to the outputs. No rule says that anything carries no risk, and none is
ever taken back by another.

Facts are a flat mapping, `{"operation": ["drilling"], "drill_mm": 32}`. A step's
facts should hold the part's and the project's as well.
"""

from __future__ import annotations

import enum
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any

import yaml

from handouts_build.language import tr_later
from handouts_build.problems import near_miss
from handouts_build.tables.caution_facts import WORDS, Fact, FactKind
from handouts_build.tables.loading import source
from handouts_build.tables.woods import lookup_wood

__all__ = ["CLOSING", "CautionRule", "Criterion", "Facts", "Signal", "Where", "fired", "read_rules", "rules", "waiting"]

CLOSING = tr_later(
    "The lathe's manual, local codes and club rules come first. Teaching beginners is for those approved to do it."
)
"""How every handout's safety section ends."""

FactValue = str | bool | float | Iterable[str | float]
Facts = Mapping[str, FactValue]
"""Names of `Fact` and what holds of them."""


class Signal(enum.StrEnum):
    """Signal words, most serious first, in the order of ANSI Z535 (from memory of ANSI Z535.6)."""

    DANGER = "danger"
    """Someone will be killed or badly hurt if it is not avoided."""
    WARNING = "warning"
    """Someone could be killed or badly hurt."""
    CAUTION = "caution"
    """Someone could be hurt, less badly."""
    NOTICE = "notice"
    """The piece or the kit could come to harm, or a practice worth knowing."""

    @property
    def rank(self) -> int:
        """0 for the most serious."""
        return list(Signal).index(self)


class Where(enum.StrEnum):
    """Where a box stands; the boxes at steps are gathered at the top as well."""

    STEP = "step"
    """At the step whose facts called for it."""
    HANDOUT = "handout"
    """At the top of the handout, once."""


@dataclass(frozen=True)
class Criterion:
    """One thing a rule asks of one fact."""

    fact: Fact
    words: frozenset[str] = frozenset()
    """Any of these words, for a word or name fact."""
    flag: bool | None = None
    """This very value, for a flag."""
    over: float | None = None
    """More than this, for a number."""
    under: float | None = None
    """Less than this, for a number."""

    def holds(self, values: frozenset[str | bool | float]) -> bool:
        """Whether any of a fact's values is what the rule asks for."""
        if self.words:
            return not self.words.isdisjoint(values)
        if self.flag is not None:
            return self.flag in values
        numbers = [value for value in values if not isinstance(value, str)]
        return any(
            (self.over is None or number > self.over) and (self.under is None or number < self.under)
            for number in numbers
        )


@dataclass(frozen=True)
class CautionRule:
    """A safety rule."""

    id: str
    signal: Signal
    title: str
    hurts: str
    """Who is hurt how."""
    do: tuple[str, ...]
    """What to do."""
    source: str
    """A source id."""
    where: Where
    when: tuple[tuple[Criterion, ...], ...]
    """Sets of conditions: the rule applies when all conditions of any one set hold."""

    def applies(self, facts: Mapping[Fact, frozenset[str | bool | float]]) -> bool:
        """Whether the rule is called for.

        Args:
            facts: Values by fact, already checked.
        """
        # Loops, not generators: every step of a project asks this of every rule.
        for case in self.when:
            for each in case:
                if not each.holds(facts.get(each.fact, _NOTHING)):
                    break
            else:
                return True
        return False


_NOTHING: frozenset[str | bool | float] = frozenset()


@cache
def rules() -> tuple[CautionRule, ...]:
    """Every rule, in the order of the file."""
    return read_rules((resources.files(__package__) / "cautions.yml").read_text(encoding="utf-8"))


@cache
def _gravest_first() -> tuple[CautionRule, ...]:
    """Every rule, the most serious first, those of one signal word in the order of the file."""
    return tuple(sorted(rules(), key=lambda rule: rule.signal.rank))


def fired(facts: Facts) -> tuple[CautionRule, ...]:
    """The rules that a set of facts calls for, most serious first.

    Args:
        facts: What holds of a step or a project, in the words of `Fact`.

    Raises:
        ValueError: A fact or a word is not in the vocabulary.
    """
    known = _known(facts)
    return tuple(rule for rule in _gravest_first() if rule.applies(known))


def waiting(facts: Facts, numbers: Collection[str]) -> Iterator[tuple[CautionRule, Criterion]]:
    """The rules of steps that wait for one of some numbers alone, each with what it asks of that number.

    Args:
        facts: What else holds, in the words of `Fact`.
        numbers: Names of the numbers.
    """
    known = _known(facts)
    for rule in rules():
        for case in rule.when if rule.where is Where.STEP else ():
            asked = [criterion for criterion in case if criterion.fact in numbers]
            if len(asked) == 1 and all(
                criterion.holds(known.get(criterion.fact, _NOTHING)) for criterion in case if criterion not in asked
            ):
                yield rule, asked[0]


def read_rules(text: str) -> tuple[CautionRule, ...]:
    """Rules from the text of a rule file.

    Args:
        text: YAML as cautions.yml describes it at its top.

    Raises:
        ValueError: A rule is not well formed, repeats an id or uses a word outside the vocabulary.
    """
    found: dict[str, CautionRule] = {}
    for entry in yaml.load(text, Loader=_LOADER):
        rule = _rule(entry)
        if rule.id in found:
            raise ValueError(f"rule '{rule.id}' stands twice")
        found[rule.id] = rule
    return tuple(found.values())


# The same safe loader, in C where the library has it: every run of the command reads this file.
_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_KEYS = frozenset({"id", "signal", "title", "when", "hurts", "do", "source", "where"})


def _rule(entry: Mapping[str, Any]) -> CautionRule:
    name = entry.get("id", "without an id")
    if set(entry) != _KEYS:
        raise ValueError(f"rule '{name}': keys missing or unknown: {', '.join(sorted(_KEYS ^ set(entry)))}")
    if not entry["do"]:
        raise ValueError(f"rule '{name}': says nothing to do")
    source(entry["source"])
    cases = entry["when"] if isinstance(entry["when"], list) else [entry["when"]]
    try:
        when = tuple(tuple(_condition(key, value) for key, value in case.items()) for case in cases)
    except ValueError as fault:
        raise ValueError(f"rule '{name}': {fault}") from None
    if not all(when):
        raise ValueError(f"rule '{name}': an empty set of conditions")
    return CautionRule(
        id=name,
        signal=Signal(entry["signal"]),
        title=entry["title"],
        hurts=entry["hurts"],
        do=tuple(entry["do"]),
        source=entry["source"],
        where=Where(entry["where"]),
        when=when,
    )


def _condition(key: str, value: Any) -> Criterion:
    name, _, comparison = key.partition(" ")
    fact = _fact(name)
    if fact.kind is FactKind.NUMBER:
        if comparison not in ("over", "under") or isinstance(value, bool) or not isinstance(value, int | float):
            raise ValueError(f"'{key}': a number is asked for as '{fact} over: 3' or '{fact} under: 3'")
        return Criterion(fact, over=float(value)) if comparison == "over" else Criterion(fact, under=float(value))
    if comparison:
        raise ValueError(f"'{key}': only numbers are compared")
    if fact.kind is FactKind.FLAG:
        (flag,) = _values(fact, value)
        return Criterion(fact, flag=bool(flag))
    if fact is Fact.WOOD:
        for wood in [value] if isinstance(value, str) else value:
            if lookup_wood(wood) is None:
                raise ValueError(f"wood: '{wood}' is not in the table of woods")
    return Criterion(fact, words=frozenset(str(word) for word in _values(fact, value)))


def _known(facts: Facts) -> dict[Fact, frozenset[str | bool | float]]:
    """Values by fact.

    Raises:
        ValueError: A fact or a word is not in the vocabulary.
    """
    return {fact: _values(fact, value) for fact, value in ((_fact(name), value) for name, value in facts.items())}


def _fact(name: str) -> Fact:
    try:
        return Fact(name)
    except ValueError:
        raise ValueError(f"no fact '{name}'; {near_miss(name, [str(fact) for fact in Fact])}") from None


def _values(fact: Fact, value: FactValue) -> frozenset[str | bool | float]:
    """A fact's values, checked against the vocabulary and written one way."""
    values = [value] if isinstance(value, str | bool | int | float) else list(value)
    match fact.kind:
        case FactKind.FLAG:
            good = all(isinstance(each, bool) for each in values)
        case FactKind.NUMBER:
            good = all(isinstance(each, int | float) and not isinstance(each, bool) for each in values)
        case _:
            good = all(isinstance(each, str) for each in values)
    if not good:
        raise ValueError(f"{fact}: {value!r} is not a {fact.kind.value}")
    if fact is Fact.WOOD:
        names = [str(each) for each in values]
        return frozenset(found.name if (found := lookup_wood(name)) else name for name in names)
    for word in values:
        if fact.kind is FactKind.WORD and word not in WORDS[fact]:
            raise ValueError(f"{fact}: no word '{word}'; {near_miss(str(word), WORDS[fact])}")
    return frozenset(values)
