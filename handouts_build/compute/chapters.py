"""A chapter of the trade worked for a project.

This module owns the step from a `workings:` entry to a group of the sheet: it
finds the givens, asks the chapter's demands, works its laws and shows them. The
arithmetic itself is the chapter's.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING

from handouts_build.compute.names import Definition, Ledger, Unsettled
from handouts_build.compute.working import dimension, filled
from handouts_build.formulas import FAULTS, FormulaFault, parse, to_json
from handouts_build.language import tr
from handouts_build.quantities import Manner, Printed, Quantity, Rule, print_exact
from handouts_build.schema import Formula, Key
from handouts_build.sheet import Citation, Condition, Dimension, Finding, Given, Group, Level, Remark
from handouts_build.tables import source
from handouts_build.trade import CHAPTERS
from handouts_build.trade.law import Chapter, Demand, Law, LookupResult, WordFault
from handouts_build.trade.law import ChapterInput as Asked

if TYPE_CHECKING:
    from handouts_build.schema.models import WorkingKeys

__all__ = ["ChapterWork", "source_of"]


def source_of(id_: str) -> Citation:
    """A source from the table as the sheet carries it."""
    found = source(id_)
    text = f"{found.text} ({found.reference})" if found.reference else found.text
    return Citation(found.id, text, found.standing.value.lower())


class _Noted(Mapping[str, Quantity]):
    """Values, and which of them were asked for."""

    def __init__(self, values: Mapping[str, Quantity]) -> None:
        self._values = values
        self.read: dict[str, None] = {}

    def __getitem__(self, name: str) -> Quantity:
        self.read[name] = None
        return self._values[name]

    def __contains__(self, name: object) -> bool:
        return name in self._values

    def __iter__(self) -> Iterator[str]:
        return iter(self._values)

    def __len__(self) -> int:
        return len(self._values)


class ChapterWork:
    """One entry of `workings:` on its way to a group.

    Args:
        name: The author's name for it.
        model: Its keys, as the schema read them.
        ledger: Where values and problems go.
        rule: Marks to round to.
    """

    def __init__(self, name: str, model: WorkingKeys, *, ledger: Ledger, rule: Rule) -> None:
        self.name = name
        chapter: Chapter = CHAPTERS[model.chapter]
        self._called: str = getattr(model, "called", None) or ""
        self.chapter = chapter.called.get(self._called, chapter)
        self.title: str = model.says or tr(f"{self.chapter.name[:1].upper()}{self.chapter.name[1:]}")
        self._model = model
        self._key: Key = ("workings", name)
        self._ledger = ledger
        self._rule = rule
        self.known: dict[str, Quantity] = {}
        self.group: Group | None = None
        self.findings: list[Finding] = []
        self._asked: dict[str, tuple[str, ...]] = {}
        self._lines: dict[str, tuple[tuple[float, float], ...]] = {}

    @cached_property
    def definition(self) -> Definition:
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
        return Definition(self.name, self._key, tuple(formulas), gives, self._run)

    def _run(self) -> None:
        rule = self._ledger.values["rule"]
        givens = self._told()
        looked = self._looked_up(givens)
        # What the author gives comes before what a table says, and that before a default.
        tables = {name: value for _, result in looked for name, value in result.values.items()}
        self.known = self.chapter.completed({"rule": rule, **tables, **givens})
        del self.known["rule"]
        self._ask_problems()
        worked: list[Dimension] = []
        printed = self._printed_givens()
        symbols = {given.name: given.symbol for given in self.chapter.givens} | {"rule": "mark"}
        symbols |= {law.name: law.symbol for law in self.chapter.laws}
        values = {**self.known, "rule": rule}
        for law in self.chapter.workable(frozenset(values)):
            try:
                value = law(**{name: values[name] for name in law.needs})
            except FormulaFault as fault:
                what = f"{law.says[:1].lower()}{law.says[1:]}"
                self._ledger.note(self._key, FAULTS["valueless"].format(what=what, why=fault.message), fault.hint)
                raise Unsettled from None
            values[law.name] = value
            row = dimension(
                f"{self.name}.{law.name}", value, says=tr(law.says), symbol=law.symbol, tree=law.tree,
                symbols=symbols.__getitem__, values=values.__getitem__, rule=self._rule,
                manner=self._manner(law), main=law.main, source=source_of(law.source), full=self._full,
                below=(values[law.below], printed[law.below]) if law.below else None,
            )  # fmt: skip
            worked.append(replace(row, made=not law.left))
            printed[law.name] = row.printed
        self.known = values
        for name, value in values.items():
            if name != "rule":
                self._ledger.values[f"{self.name}.{name}"] = value
        self._ledger.manners |= {row.name: row.manner for row in worked}
        self._ledger.printed |= {self._full(name): givens for name, givens in printed.items()}
        for given in self.chapter.givens:
            said = getattr(self._model, given.name)
            manner = self._ledger.manner(said) if isinstance(said, Formula) else None
            self._ledger.manners[self._full(given.name)] = manner or Manner(exact=True)
        self._judge(printed)
        place = self._ledger.document.place(self._key)
        for verdict in (verdict for _, result in looked for verdict in result.verdicts):
            self.findings.append(Finding(Level(verdict.level), self.title, verdict.message, verdict.remedy, place))
        self.group = Group(
            name=self.name,
            title=self.title,
            chapter=self.chapter.name,
            about=tr(self.chapter.about),
            givens=tuple(
                self._given(given, printed[given.name], tables)
                for given in self.chapter.givens
                if given.name in self.known
            ),
            dimensions=tuple(worked),
            remarks=tuple(self._remarks(looked, values, printed)),
            conditions=tuple(self._conditions()),
            called=self._called,
        )

    def _remarks(
        self,
        looked: list[tuple[tuple[str, ...], LookupResult]],
        values: Mapping[str, Quantity],
        printed: dict[str, Printed],
    ) -> Iterator[Remark]:
        """The remarks of the tables and of the chapter, each with the values that decided it or stand in it."""
        asking = _Noted(values)
        own = self.chapter.remarks(asking)
        read = tuple(self._full(name) for name in asking.read)
        for rests_on, remarks in (*((asked, result.remarks) for asked, result in looked), (read, own)):
            for remark in remarks:
                named = (self._full(name) for name in printed if f"{{{name}}}" in remark.text)
                rests = tuple(dict.fromkeys((*rests_on, *named)))
                yield Remark(filled(remark.text, printed), source_of(remark.source), rests)

    def _full(self, name: str) -> str:
        """The full name of one of the chapter's values."""
        return name if name == "rule" else f"{self.name}.{name}"

    def _manner(self, law: Law) -> Manner:
        """How the result of a law is printed."""
        return replace(law.manner, below=self._full(law.below)) if law.below else law.manner

    def _given(self, asked: Asked, printed: Printed, tables: Mapping[str, Quantity]) -> Given:
        """A given with how it follows: by the author's formula, by a table, or by its default."""
        value = self.known[asked.name]
        said = getattr(self._model, asked.name)
        made = Given(asked.name, asked.symbol, tr(asked.says), value, printed, signed=asked.signed)
        if isinstance(said, Formula):
            return replace(made, tree=to_json(said.tree), key=asked.key)
        if asked.name in tables:
            return replace(made, rests_on=self._asked[asked.name], lines=self._lines.get(asked.name, ()))
        return replace(made, tree=to_json(parse(asked.default), self._full))

    def _conditions(self) -> Iterator[Condition]:
        """The chapter's demands that can be judged here, with full names."""
        for demand in self.chapter.demands:
            if demand.asked(self.known):
                full = {name: f"{{{self._full(name)}}}" for name in self.known}
                message, remedy = filled(tr(demand.message), full), filled(tr(demand.remedy), full)
                key = self._at(demand)
                at = str(key[-1]) if key != self._key else ""
                yield Condition(to_json(demand.tree, self._full), demand.level, message, remedy, at)

    def _told(self) -> dict[str, Quantity]:
        """What the author gives, checked for kind."""
        givens: dict[str, Quantity] = {}
        failed = False
        for given in self.chapter.givens:
            said = getattr(self._model, given.name)
            if isinstance(said, Formula):
                try:
                    givens[given.name] = self._ledger.value(
                        said, (*self._key, given.key), kind=given.kind, label=given.key, place=given.signed
                    )
                except Unsettled:
                    failed = True
        if failed:
            raise Unsettled
        return givens

    def _looked_up(self, givens: dict[str, Quantity]) -> list[tuple[tuple[str, ...], LookupResult]]:
        """What the tables have for the author's words, and the full names of the values they were asked with."""
        found: list[tuple[tuple[str, ...], LookupResult]] = []
        failed = False
        for word in self.chapter.words:
            said = getattr(self._model, word.name)
            if said is None:
                continue
            asking = _Noted(givens)
            try:
                looked = word.look_up(tuple(said) if word.several else (said,), asking)
                asked = tuple(self._full(name) for name in asking.read)
                self._asked |= dict.fromkeys(looked.values, asked)
                self._lines |= looked.lines
                found.append((asked, looked))
            except WordFault as fault:
                key: Key = (*self._key, word.key, fault.index) if word.several else (*self._key, word.key)
                self._ledger.note(key, fault.message, fault.hint)
                failed = True
        if failed:
            raise Unsettled
        return found

    def _printed_givens(self) -> dict[str, Printed]:
        """What the chapter was told, as it is; what has a name of its own as it is printed by that name."""
        values = {}
        for name, value in self.known.items():
            said = getattr(self._model, name, None)
            named = self._ledger.named(said) if isinstance(said, Formula) else None
            values[name] = named or print_exact(value, self._rule)
        return values

    def _ask_problems(self) -> None:
        """The conditions without which nothing can be worked out."""
        blamed: set[Key] = set()
        for demand in self.chapter.demands:
            if demand.level == "problem" and not demand.met(self.known):
                at = self._at(demand)
                # The first condition that fails says it best; those that follow from it would only repeat it.
                if at not in blamed:
                    said = self._printed_givens()
                    self._ledger.note(at, filled(demand.message, said), filled(demand.remedy, said))
                blamed.add(at)
        if blamed:
            raise Unsettled

    def _judge(self, printed: dict[str, Printed]) -> None:
        """The conditions on what was worked out."""
        given = {given.name for given in self.chapter.givens}
        failed = False
        for demand in self.chapter.demands:
            if (demand.level == "problem" and demand.needs <= given) or demand.met(self.known):
                continue
            if demand.level == "problem":
                self._ledger.note(self._at(demand), filled(demand.message, printed), filled(demand.remedy, printed))
                failed = True
                continue
            message, remedy = filled(tr(demand.message), printed), filled(tr(demand.remedy), printed)
            place = self._ledger.document.place(self._at(demand))
            self.findings.append(Finding(Level(demand.level), self.title, message, remedy, place, judged=True))
        if failed:
            raise Unsettled

    def _at(self, demand: Demand) -> Key:
        """Where the blame lies: the given named by the demand, if the author gave it."""
        for given in self.chapter.givens:
            if given.name == demand.at and getattr(self._model, given.name) is not None:
                return (*self._key, given.key)
        return self._key
