"""One course of a glued-up stack, worked out from the profile over its height.

This module owns its ring, what is sawn for it, and whether a ring that the author sized
himself holds the finished wall, for only here the profile and the courses meet. The
arithmetic is the trade's; where a course stands in its stack is for `stacks`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from handouts_build.compute.chapters import source_of
from handouts_build.compute.names import Ledger, Unsettled
from handouts_build.compute.working import dimension, result_of, rounding, spoken
from handouts_build.language import tr, tr_later
from handouts_build.quantities import (
    UNITS,
    Err,
    Kind,
    Manner,
    Quantity,
    Rule,
    count,
    millimetres,
    print_as,
    print_exact,
    print_quantity,
)
from handouts_build.schema import CourseKeys, Key
from handouts_build.sheet import Course, Dimension, Finding, Level, Strip, Working
from handouts_build.trade.law import Law
from handouts_build.trade.ring_stacks import ACROSS, INSIDE, WALL_INSIDE, WALL_OUTSIDE, extremes_mm
from handouts_build.trade.rings import FLIPPED, INNER_EDGE, MITER, OUTER_EDGE, STRIP, THICK

__all__ = ["HAIR_MM", "CourseWork", "Draft", "Outline", "StackDesign", "in_mm"]

Outline = tuple[tuple[float, float], ...]
"""(place from the left end of the stack, radius) in mm."""

HAIR_MM = 1e-3
"""Lengths that differ by less are the same."""


@dataclass(frozen=True)
class Draft:
    """One course before its ring is known."""

    kind: str
    says: str
    number: int
    """Of its kind, from the left end on."""
    key: Key
    keys: CourseKeys
    high: Quantity
    start: Quantity
    pieces: int
    woods: tuple[str, ...]


@dataclass(frozen=True)
class StackDesign:
    """What every course of a stack is worked out for."""

    outside: Outline
    """Of the finished piece."""
    inside: Outline
    """Of the finished piece; empty where it is solid."""
    margin: Quantity
    """Wood to spare on both sides."""
    kerf: Quantity
    trim: Quantity
    """Lost at each end of a strip."""
    flip: bool
    """Whether a strip is turned over after each cut."""


class CourseWork:
    """The courses of one stack, one after another.

    Args:
        name: The stack's.
        title: What findings are about.
        wanted: What they are worked out for.
        ledger: Gives numbers and takes note of problems.
        rule: Marks to round to.
    """

    def __init__(self, name: str, title: str, wanted: StackDesign, *, ledger: Ledger, rule: Rule) -> None:
        self.title = title
        self._name, self._wanted, self._ledger, self._rule = name, wanted, ledger, rule
        self.rows: list[Dimension] = []
        self.findings: list[Finding] = []

    def course(self, draft: Draft, *, before: int) -> Course:
        """One course with its width, its opening, and what is sawn for it.

        Args:
            draft: What is known of it.
            before: How many rings lie below it.

        Raises:
            Unsettled: After noting why it cannot be.
        """
        outside, inside, margin = self._wanted.outside, self._wanted.inside, self._wanted.margin
        start, end = in_mm(draft.start), in_mm(draft.start + draft.high)
        outer = extremes_mm(outside, start_mm=start, end_mm=end)
        within = (max(start, outside[0][0]), min(end, outside[-1][0]))
        inner = extremes_mm(inside, start_mm=start, end_mm=end)
        open_ = inner is not None and inside[0][0] <= within[0] + HAIR_MM and inside[-1][0] >= within[1] - HAIR_MM
        least = millimetres(inner[1]) if inner is not None and open_ else None
        widest = millimetres(outer[0]) if outer is not None else None
        across = self._across(draft, widest, margin)
        opening = self._opening(draft, least, margin)
        if opening is not None and opening >= across:
            described = f"{print_quantity(opening, self._rule)} of opening in {print_quantity(across, self._rule)}"
            self._ledger.note(
                (*draft.key, "inside"), f"{draft.says} has {described}", "make the opening smaller than the ring"
            )
            raise Unsettled
        self._judge(draft, across, opening, widest, least, margin)
        if draft.kind == "ring" and opening is None and inside:
            message = tr(
                "{course} has no opening, for the finished inside does not go through it: its segments meet in points "
                "at the middle",
                course=draft.says,
            )
            place = self._ledger.document.place(draft.key)
            self.findings.append(Finding(Level.MIND, self.title, message, tr("make it a disk"), place))
        turn = 180.0 / draft.pieces * (before % 2) if draft.pieces else 0.0
        known = {"pieces": count(draft.pieces or 1), "across": across, "inside": opening or millimetres(0)}
        sized: dict[str, Any] = {"miter_printed": None, "edge": None, "edge_printed": None}
        if draft.pieces:
            edge = OUTER_EDGE(**_of(OUTER_EDGE, known))
            row = self.row(
                f"edge_{draft.number}", edge, tr("{course}: outer edge of a segment", course=_capital(draft.says)),
                Err.OVER, law=OUTER_EDGE, known=known,
            )  # fmt: skip
            self.rows.append(row)
            miter = print_exact(MITER(pieces=known["pieces"]), self._rule)
            sized = {"miter_printed": miter, "edge": edge, "edge_printed": row.printed}
        return Course(
            kind=draft.kind, says=draft.says, start=draft.start, high=draft.high,
            high_printed=print_quantity(draft.high, self._rule, err=Err.NEAREST),
            across=across, across_printed=print_quantity(across, self._rule, err=Err.OVER),
            inside=opening,
            inside_printed=print_quantity(opening, self._rule, err=Err.UNDER) if opening is not None else None,
            pieces=draft.pieces, turn_deg=turn, woods=draft.woods,
            strips=tuple(self._strips(draft, known)), **sized,
        )  # fmt: skip

    def _across(self, draft: Draft, widest: Quantity | None, margin: Quantity) -> Quantity:
        """Its width, as the author says or as the profile asks."""
        if draft.keys.across is not None:
            return self._ledger.value(
                draft.keys.across, (*draft.key, "across"), kind=Kind.LENGTH, label="the course's width"
            )
        if widest is None:
            self._ledger.note(
                draft.key, f"{draft.says} lies past the finished outside, which so does not say how wide it is",
                "give it 'across', or say 'at' where the outside begins",
            )  # fmt: skip
            raise Unsettled
        known = {"outer": widest, "margin": margin}
        value = ACROSS(**known)
        if draft.kind == "ring":
            self.rows.append(
                self.row(
                    f"across_{draft.number}", value,
                    tr("{course}: width, from flat to flat", course=_capital(draft.says)), Err.OVER, law=ACROSS,
                    known=known,
                )
            )  # fmt: skip
        return value

    def _opening(self, draft: Draft, least: Quantity | None, margin: Quantity) -> Quantity | None:
        """Its opening, as the author says or as the profile asks; None where it has none."""
        if draft.keys.inside is not None:
            return self._ledger.value(
                draft.keys.inside, (*draft.key, "inside"), kind=Kind.LENGTH, label="the course's opening"
            )
        if draft.kind != "ring" or least is None:
            return None
        known = {"inner": least, "margin": margin, "pieces": count(draft.pieces)}
        value = INSIDE(**known)
        if in_mm(value) <= HAIR_MM:
            return None
        self.rows.append(
            self.row(
                f"inside_{draft.number}", value,
                tr("{course}: opening, from flat to flat", course=_capital(draft.says)), Err.UNDER, law=INSIDE,
                known=known,
            )
        )  # fmt: skip
        return value

    def _judge(
        self,
        draft: Draft,
        across: Quantity,
        opening: Quantity | None,
        widest: Quantity | None,
        least: Quantity | None,
        margin: Quantity,
    ) -> None:
        """Whether the finished wall lies within a course that the author sized, with the wood asked for to spare."""
        rule, keys = self._rule, draft.keys
        if keys.across is not None and widest is not None:
            spare = WALL_OUTSIDE(across=across, outer=widest)
            due = print_quantity(ACROSS(outer=widest, margin=margin), rule, err=Err.OVER)
            finished = print_quantity(2 * widest, rule, err=Err.OVER)
            self._spare(
                (*draft.key, "across"), spare, margin,
                tr(
                    "the finished outside is {finished} across at {course}, and as it is glued the flats are only "
                    "{apart} apart",
                    finished=finished, course=draft.says, apart=print_quantity(across, rule, err=Err.UNDER),
                ),
                tr_later("{course} has only {spare} to spare outside; {asked} was asked for"),
                tr("make {course} {due} across, or leave '{key}' out", course=draft.says, due=due, key="across"),
                draft.says,
            )  # fmt: skip
        if opening is not None and keys.inside is not None and least is not None:
            known = {"inner": least, "pieces": count(draft.pieces), "margin": margin}
            spare = WALL_INSIDE(inner=least, inside=opening, pieces=known["pieces"])
            due_in = INSIDE(**known)
            remedy = (
                tr(
                    "make its opening {due}, or leave '{key}' out",
                    due=print_quantity(due_in, rule, err=Err.UNDER), key="inside",
                )
                if in_mm(due_in) > 0
                else tr("make it a disk")
            )  # fmt: skip
            finished = print_quantity(2 * least, rule, err=Err.UNDER)
            self._spare(
                (*draft.key, "inside"), spare, margin,
                tr(
                    "the finished inside is {finished} across at {course}, and the corners of its opening reach past "
                    "that by {past}",
                    finished=finished, course=draft.says,
                    past=print_quantity(-spare, rule, fine=True) if in_mm(spare) < 0 else "0",
                ),
                tr_later("{course} has only {spare} to spare inside; {asked} was asked for"),
                remedy,
                draft.says,
            )  # fmt: skip

    def _spare(
        self, key: Key, spare: Quantity, margin: Quantity, gone: str, little: str, remedy: str, course: str
    ) -> None:
        place = self._ledger.document.place(key)
        if in_mm(spare) < -HAIR_MM:
            self.findings.append(Finding(Level.STOP, self.title, gone, remedy, place))
        elif in_mm(spare) < in_mm(margin) - HAIR_MM:
            printed_spare = print_quantity(spare, self._rule, fine=True)
            asked = print_quantity(margin, self._rule)
            self.findings.append(
                Finding(
                    Level.MIND, self.title, tr(little, course=course, spare=printed_spare, asked=asked), remedy, place
                )
            )

    def _strips(self, draft: Draft, known: dict[str, Quantity]) -> Iterator[Strip]:
        """What is sawn for it: a strip of each wood of a ring, or a square for a disk."""
        rule = self._rule
        if not draft.pieces:
            side = known["across"]
            printed_side = print_quantity(side, rule, err=Err.OVER)
            yield Strip(draft.woods[0], 1, side, printed_side, side, printed_side, printed_side, printed_side)
            return
        edges = {law.name: law(**_of(law, known)) for law in (OUTER_EDGE, INNER_EDGE)}
        wide = THICK(across=known["across"], inside=known["inside"])
        for wood in dict.fromkeys(draft.woods):
            pieces = draft.woods.count(wood)
            # The angle is the ring's; only as many as are of this wood come off its strip.
            each = {
                law: _for_some(law, pieces, draft.pieces, edges, self._wanted.kerf) + 2 * self._wanted.trim
                for law in (STRIP, FLIPPED)
            }
            plain, flipped = (print_quantity(each[law], rule, err=Err.OVER) for law in (STRIP, FLIPPED))
            long = each[FLIPPED if self._wanted.flip else STRIP]
            yield Strip(
                wood, pieces, wide, print_quantity(wide, rule, err=Err.OVER), long,
                flipped if self._wanted.flip else plain, flipped, plain,
            )  # fmt: skip

    def row(
        self,
        name: str,
        value: Quantity,
        says: str,
        err: Err,
        *,
        law: Law | None = None,
        known: dict[str, Quantity] | None = None,
    ) -> Dimension:
        """A value with its working; it follows from a drawn profile, so a page cannot work it out at other sizes."""
        full, manner, source = f"{self._name}.{name}", Manner(err), source_of(law.source if law else "blank-sum")
        if law is not None and known is not None:
            made = dimension(
                full, value, says=says, symbol=law.symbol, tree=law.tree, symbols=spoken,
                values=known.__getitem__, rule=self._rule, manner=manner, main=False, source=source,
            )  # fmt: skip
            return replace(made, tree=[])
        printed = print_as(value, self._rule, manner)
        rounded = rounding(value, printed, self._rule, manner)
        working = Working(
            symbol=spoken(name), formula="", numbers="", result=result_of(value, self._rule, rounded=bool(rounded)),
            rounding=rounded, source=source,
        )  # fmt: skip
        return Dimension(full, says, value, printed, manner, True, working, [])


def _for_some(law: Law, some: int, all_: int, edges: dict[str, Quantity], kerf: Quantity) -> Quantity:
    """A strip for some of a ring's pieces: the law's, whose miter is that of all.

    Args:
        law: For all pieces.
        some: Pieces wanted.
        all_: Pieces of the ring.
        edges: Outer and inner edge.
        kerf: The saw cut.
    """
    given = {**edges, "kerf": kerf}
    whole = law(**_of(law, {**given, "pieces": count(all_)}))
    # What is lost at the two ends is lost once, however many pieces there are.
    ends = (edges["outer_edge"] - edges["inner_edge"]) / 2 if law is FLIPPED else millimetres(0)
    found: Quantity = (whole - ends) * (some / all_) + ends
    return found


def _of(law: Law, known: dict[str, Quantity]) -> dict[str, Quantity]:
    """What a law needs of what is known."""
    return {name: known[name] for name in law.needs}


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def in_mm(length: Quantity) -> float:
    """A length as a number of mm."""
    return float(length.m_as(UNITS["mm"]))
