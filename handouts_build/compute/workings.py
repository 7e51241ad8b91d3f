"""A chapter of the trade worked for a project.

This module owns the step from a `workings:` entry to a group of the sheet: it
finds the givens, asks the chapter's demands, works its laws and shows them. The
arithmetic itself is the chapter's.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from typing import Any

from handouts_build.compute.names import Ledger, Piece, Unsettled
from handouts_build.compute.showing import as_given, dimension, filled
from handouts_build.formulas import FormulaFault, parse, value_of
from handouts_build.problems import near_miss
from handouts_build.quantities import Printed, Quantity, Rule, count
from handouts_build.schema import Formula, Key
from handouts_build.sheet import Dimension, Finding, Given, Group, Level, Remark, Source
from handouts_build.tables import movement, movements, sources
from handouts_build.tables.published import COMMON_PRACTICE, source_text
from handouts_build.trade import CHAPTERS
from handouts_build.trade.law import Chapter, Demand

__all__ = ["ChapterWork", "source_of"]


def source_of(source: str) -> Source:
    """A source from the table as the sheet carries it."""
    if source == COMMON_PRACTICE:
        return Source("common-practice", "Common practice, no published source", "common practice")
    found = sources().get(source)
    if found is None:
        return Source(source, source_text(source), "verified")
    text = found.text if found.reference in ("", found.text) else f"{found.text} ({found.reference})"
    return Source(found.id, text, found.standing.value.lower())


class ChapterWork:
    """One entry of `workings:` on its way to a group.

    Args:
        name: The author's name for it.
        model: Its keys, as the schema read them.
        ledger: Where values and problems go.
        rule: Marks to round to.
    """

    def __init__(self, name: str, model: Any, *, ledger: Ledger, rule: Rule) -> None:
        self.name = name
        self.chapter: Chapter = CHAPTERS[model.chapter]
        self.title: str = model.says or f"{self.chapter.name[:1].upper()}{self.chapter.name[1:]}"
        self._model = model
        self._key: Key = ("workings", name)
        self._ledger = ledger
        self._rule = rule
        self.known: dict[str, Quantity] = {}
        self.group: Group | None = None
        self.findings: list[Finding] = []

    @cached_property
    def piece(self) -> Piece:
        """What the ledger settles."""
        formulas = []
        for given in self.chapter.givens:
            said = getattr(self._model, given.name)
            if isinstance(said, Formula):
                formulas.append((said, (*self._key, given.key)))
        chapter = self.chapter
        gives = frozenset(
            f"{self.name}.{name}" for name in (*(g.name for g in chapter.givens), *(w.name for w in chapter.laws))
        )
        return Piece(self.name, self._key, tuple(formulas), gives, self._run)

    def _run(self) -> None:
        for given, value in self._givens():
            self.known[given] = value
        self._ask_problems()
        rule = self._ledger.values["rule"]
        worked: list[Dimension] = []
        printed = self._printed_givens()
        symbols = {given.name: given.symbol for given in self.chapter.givens} | {"rule": "mark"}
        symbols |= {law.name: law.symbol for law in self.chapter.laws}
        values = {**self.known, "rule": rule}
        for law in self.chapter.workable(frozenset(values)):
            try:
                value = law(**{name: values[name] for name in law.needs})
            except FormulaFault as fault:
                self._ledger.note(
                    self._key, f"{law.says[:1].lower()}{law.says[1:]} has no value: {fault.message}", fault.hint
                )
                raise Unsettled from None
            values[law.name] = value
            row = dimension(
                f"{self.name}.{law.name}", value, says=law.says, symbol=law.symbol, tree=law.tree,
                symbols=symbols.__getitem__, values=values.__getitem__, rule=self._rule,
                err=law.err, fine=law.fine, main=law.main, source=source_of(law.source),
            )  # fmt: skip
            worked.append(row)
            printed[law.name] = row.printed
        self.known = values
        for name, value in values.items():
            if name != "rule":
                self._ledger.values[f"{self.name}.{name}"] = value
        self._judge(printed)
        self.group = Group(
            name=self.name,
            title=self.title,
            chapter=self.chapter.name,
            about=self.chapter.about,
            givens=tuple(
                Given(one.name, one.symbol, one.says, self.known[one.name], printed[one.name])
                for one in self.chapter.givens
                if one.name in self.known
            ),
            dimensions=tuple(worked),
            remarks=tuple(
                Remark(filled(remark.text, printed), source_of(remark.source))
                for remark in self.chapter.remarks(values)
            ),
        )

    def _givens(self) -> Iterator[tuple[str, Quantity]]:
        """What the chapter is told, checked for kind, then its defaults."""
        failed = False
        for given in self.chapter.givens:
            said = getattr(self._model, given.name)
            key: Key = (*self._key, given.key)
            try:
                if isinstance(said, Formula):
                    yield given.name, self._ledger.value(said, key, kind=given.kind, what=given.key)
                elif said is not None:
                    yield given.name, self._movement(said, key)
                elif given.default:
                    yield (
                        given.name,
                        value_of(parse(given.default), {**self.known, "rule": self._ledger.values["rule"]}.__getitem__),
                    )
            except Unsettled:
                failed = True
        if failed:
            raise Unsettled

    def _movement(self, wood: str, key: Key) -> Quantity:
        """A wood's movement along its growth rings, for each percent of moisture."""
        found = movement(wood)
        if found is None:
            hint = near_miss(wood.lower(), [one.species.lower() for one in movements()])
            self._ledger.note(key, f"no published movement is known here for '{wood}'", hint or "leave the wood out")
            raise Unsettled
        return count(found.tangential)

    def _printed_givens(self) -> dict[str, Printed]:
        return {name: as_given(value, self._rule) for name, value in self.known.items()}

    def _ask_problems(self) -> None:
        """The conditions without which nothing can be worked out."""
        blamed: set[Key] = set()
        for demand in self.chapter.demands:
            if demand.level == "problem" and demand.needs <= self.known.keys() and not demand.met(self.known):
                at = self._at(demand)
                # The first condition that fails says it best; those that follow from it would only repeat it.
                if at not in blamed:
                    self._ledger.note(at, filled(demand.message, self._printed_givens()), demand.remedy)
                blamed.add(at)
        if blamed:
            raise Unsettled

    def _judge(self, printed: dict[str, Printed]) -> None:
        """The conditions on what was worked out."""
        given = {one.name for one in self.chapter.givens}
        failed = False
        for demand in self.chapter.demands:
            if (demand.level == "problem" and demand.needs <= given) or demand.met(self.known):
                continue
            message = filled(demand.message, printed)
            if demand.level == "problem":
                self._ledger.note(self._at(demand), message, demand.remedy)
                failed = True
                continue
            place = self._ledger.document.place(self._at(demand))
            self.findings.append(Finding(Level(demand.level), self.title, message, demand.remedy, place))
        if failed:
            raise Unsettled

    def _at(self, demand: Demand) -> Key:
        """Where the blame lies: the given named by the demand, if the author gave it."""
        for given in self.chapter.givens:
            if given.name == demand.at and getattr(self._model, given.name) is not None:
                return (*self._key, given.key)
        return self._key
