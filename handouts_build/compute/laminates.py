"""A laminate worked for a project.

This module owns the step from a `laminates:` entry to a group of the sheet: its boards, how thick and wide they make
the block, and how far they move against each other. What is cut from it is a blank like any other.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property

from handouts_build.compute.chapters import source_of
from handouts_build.compute.names import Definition, Ledger, Unsettled
from handouts_build.compute.working import dimension, spoken
from handouts_build.formulas import Name, Number, parse_joined, value_of
from handouts_build.language import tr
from handouts_build.quantities import Err, Kind, Manner, Rule, print_quantity
from handouts_build.schema import Formula, Key, LaminateKeys
from handouts_build.sheet import Dimension, Finding, Group, Laminate, LaminateBoard, Level, Remark
from handouts_build.tables.woods import lookup_wood, said_wood
from handouts_build.trade.staves import DAMP_PERCENT

__all__ = ["LaminateWork"]

_MOST = 60
_APART_MM = 0.5
"""Boards that move apart by more over their width strain the glue: common practice, no published source."""


class LaminateWork:
    """One entry of `laminates:` on its way to a group.

    Args:
        name: The author's name for it.
        model: Its keys.
        wood: The wood of boards that say none: that of the part which is cut from it.
        ledger: Where values and problems go.
        rule: Marks to round to.
    """

    def __init__(self, name: str, model: LaminateKeys, *, wood: str, ledger: Ledger, rule: Rule) -> None:
        self.name, self._model, self._wood = name, model, wood
        self._ledger, self._rule = ledger, rule
        self._key: Key = ("laminates", name)
        self.group: Group | None = None
        self.laminate: Laminate | None = None
        self.findings: list[Finding] = []

    @cached_property
    def definition(self) -> Definition:
        """What the ledger settles: every formula of it."""
        formulas: list[tuple[Formula, Key]] = [(self._model.wide, (*self._key, "wide"))]
        for index, board in enumerate(self._model.boards):
            key: Key = (*self._key, "boards", index)
            formulas.append((board.thick, (*key, "thick")))
            if board.count is not None:
                formulas.append((board.count, (*key, "count")))
        gives = frozenset(f"{self.name}.{value}" for value in ("thick", "wide"))
        return Definition(self.name, self._key, tuple(formulas), gives, self._run)

    def _run(self) -> None:
        wide = self._ledger.value(self._model.wide, (*self._key, "wide"), kind=Kind.LENGTH, label="the boards' width")
        boards: list[LaminateBoard] = []
        failed = False
        for index, keys in enumerate(self._model.boards):
            key: Key = (*self._key, "boards", index)
            try:
                thick = self._ledger.value(keys.thick, (*key, "thick"), kind=Kind.LENGTH, label="the board's thickness")
                alike = self._count(keys.count, (*key, "count"), left=_MOST - len(boards))
            except Unsettled:
                failed = True
                continue
            printed = print_quantity(thick, self._rule, err=Err.NEAREST)
            boards += [LaminateBoard(said_wood(keys.wood or self._wood), thick, printed)] * alike
        if failed:
            raise Unsettled
        self.laminate = Laminate(tuple(boards), wide, print_quantity(wide, self._rule))
        self.group = Group(
            name=self.name, title=self._model.says, chapter="laminate",
            about=tr("Boards glued face to face, all with their grain one way."),
            dimensions=tuple(self._rows()), remarks=tuple(self._remarks(self.laminate)),
        )  # fmt: skip
        for row in self.group.dimensions:
            self._ledger.values[row.name], self._ledger.manners[row.name] = row.value, row.manner
            self._ledger.printed[row.name] = row.printed

    def _count(self, formula: Formula | None, key: Key, *, left: int) -> int:
        """How many boards are alike."""
        if formula is None:
            return 1
        found = float(self._ledger.value(formula, key, kind=Kind.NUMBER, label="'count'").magnitude)
        if not 1 <= found <= left or abs(found - round(found)) > 1e-9:
            self._ledger.note(
                key, f"{found:,g} boards alike", f"give a whole number; at most {_MOST} boards are glued up here"
            )
            raise Unsettled
        return round(found)

    def _rows(self) -> Iterator[Dimension]:
        """How thick and how wide the block is, by the author's own formulas."""
        thick = " + ".join(
            f"{f'{_as_factor(board.count)} * ' if board.count is not None else ''}{_as_factor(board.thick)}"
            for board in self._model.boards
        )
        for word, text, says in (
            ("thick", thick, tr("Thickness of the block, through all its boards")),
            ("wide", self._model.wide.text, tr("Width of the block, and of each board")),
        ):
            tree = parse_joined(text)
            yield dimension(
                f"{self.name}.{word}", value_of(tree, self._ledger.lookup), says=says, symbol=spoken(word), tree=tree,
                symbols=spoken, values=self._ledger.lookup, rule=self._rule, manner=Manner(Err.NEAREST), main=True,
                source=source_of("blank-sum"),
            )  # fmt: skip

    def _remarks(self, laminate: Laminate) -> Iterator[Remark]:
        """How far two of its woods move apart across their width."""
        moves = {wood: _along_rings(wood) for wood in laminate.woods}
        known = {wood: share for wood, share in moves.items() if share is not None}
        if len(known) < 2:
            return
        most, least = max(known, key=lambda wood: known[wood]), min(known, key=lambda wood: known[wood])
        apart = laminate.wide * (known[most] - known[least]) * DAMP_PERCENT
        if float(apart.to("mm").magnitude) > _APART_MM:
            wider = print_quantity(apart, self._rule, fine=True)
            self.findings.append(
                Finding(
                    Level.MIND, self._model.says,
                    tr(
                        "boards of {most} get {wider} wider than those of {least} when both take up {moisture} percent "
                        "of moisture: the glue between them is strained all along",
                        most=most, wider=wider, least=least, moisture=f"{DAMP_PERCENT:g}",
                    ),
                    tr(
                        "choose woods that move alike, saw the one that moves more on the quarter, or make the block "
                        "narrower"
                    ),
                    self._ledger.document.place((*self._key, "boards")),
                )
            )  # fmt: skip
        yield Remark(
            tr(
                "When both take up {moisture} percent of moisture, flat-sawn boards of {most} get {wider} wider than "
                "those of {least}: an edge that can be felt on the finished side, and strain on the glue.",
                moisture=f"{DAMP_PERCENT:g}", most=most, wider=print_quantity(apart, self._rule, fine=True),
                least=least,
            ),
            source_of("wood-handbook-13-2"),
        )  # fmt: skip


def _as_factor(formula: Formula) -> str:
    """A formula to stand in another."""
    return formula.text if isinstance(formula.tree, Name | Number) else f"({formula.text})"


def _along_rings(wood: str) -> float | None:
    """How far a wood moves along its rings for each percent of moisture; None where no table has it."""
    published = lookup_wood(wood)
    found = published.c_tangential if published is not None else None
    return found.value if found is not None else None
