"""A glued-up stack worked for a project.

This module owns the step from a `stacks:` entry to a group of the sheet: every course
gets its place, its ring from the profile over its height, and what is sawn for it. The
arithmetic is the trade's. Whether a ring that the author sized himself holds the finished
wall is judged here too, for only here the profile and the courses meet.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from handouts_build.compute.chapters import source_of
from handouts_build.compute.names import Definition, Ledger, Unsettled
from handouts_build.compute.working import dimension, result_of, rounding, spoken
from handouts_build.formulas import Name, Number, names, parse, value_of
from handouts_build.problems import near_miss
from handouts_build.quantities import (
    UNITS,
    Err,
    Kind,
    Manner,
    Quantity,
    Rule,
    count,
    decimal,
    inches,
    millimetres,
    of_kind,
    print_as,
    print_exact,
    print_quantity,
)
from handouts_build.schema import CourseKeys, Formula, Key, StackKeys
from handouts_build.sheet import Course, Dimension, Finding, Group, Level, Remark, Shape, Stack, Strip, Working
from handouts_build.tables.woods import said_wood
from handouts_build.trade.law import Law
from handouts_build.trade.ring_stacks import (
    ACROSS,
    BOARD_VOLUME,
    INSIDE,
    OVERHEIGHT,
    WALL_INSIDE,
    WALL_OUTSIDE,
    extremes_mm,
)
from handouts_build.trade.rings import FLIPPED, INNER_EDGE, MITER, OUTER_EDGE, STRIP, THICK
from handouts_build.trade.stock import board_feet

__all__ = ["StackWork"]

Outline = tuple[tuple[float, float], ...]

_MARGIN, _KERF, _TRIM = inches(0.125), inches(0.125), inches(0.5)
"""Where the author says nothing: common practice, no published source."""
_MOST_COURSES = 60
_FEWEST, _MOST = 3, 180
"""Segments of a ring."""
_HAIR_MM = 1e-3


@dataclass(frozen=True)
class _Draft:
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


class StackWork:
    """One entry of `stacks:` on its way to a group.

    Args:
        name: The author's name for it.
        model: Its keys.
        wood: The wood of courses that say none: that of the part which is cut from it.
        ledger: Where values and problems go.
        rule: Marks to round to.
        profiles: Names of all profiles.
        shapes: Gives a profile by name, once it is worked out; None where it has a problem of its own.
    """

    def __init__(
        self,
        name: str,
        model: StackKeys,
        *,
        wood: str,
        ledger: Ledger,
        rule: Rule,
        profiles: Collection[str],
        shapes: Callable[[str], Shape | None],
    ) -> None:
        self.name = name
        self.title = model.says
        self._model, self._wood, self._ledger, self._rule = model, wood, ledger, rule
        self._profiles, self._shapes = profiles, shapes
        self._key: Key = ("stacks", name)
        self.group: Group | None = None
        self.findings: list[Finding] = []
        self._rows: list[Dimension] = []
        self._drafted: list[_Draft] = []

    @cached_property
    def definition(self) -> Definition:
        """What the ledger settles: the profiles, by their length, and every formula."""
        formulas: list[tuple[Formula, Key]] = []
        for word in ("outside", "inside"):
            profile = getattr(self._model, word)
            if profile in self._profiles:
                text = f"{profile}.length"
                formulas.append((Formula(text, parse(text)), (*self._key, word)))
        for word in ("at", "inside_at", "wall", "floor", "margin", "kerf", "trim", "board"):
            formula = getattr(self._model, word)
            if formula is not None:
                formulas.append((formula, (*self._key, word.replace("_", " "))))
        for key, _, keys in self._items():
            for word in ("high", "segments", "count", "across", "inside"):
                formula = getattr(keys, word)
                if formula is not None:
                    formulas.append((formula, (*key, word)))
        gives = {"height", "width", "swing", "segments"}
        gives |= {f"{word}_{number}" for word in ("across", "inside", "edge") for number in range(1, _MOST_COURSES + 1)}
        return Definition(
            self.name, self._key, tuple(formulas), frozenset(f"{self.name}.{value}" for value in gives), self._run
        )

    def _items(self) -> Iterator[tuple[Key, str, CourseKeys]]:
        for index, item in enumerate(self._model.courses):
            kind, keys = item.only
            yield (*self._key, "courses", index, kind), kind, keys

    # Values the author gives

    def _length(self, word: str, default: Quantity | None = None, *, place: bool = False) -> Quantity:
        formula = getattr(self._model, word)
        if formula is None:
            return default if default is not None else millimetres(0)
        said = word.replace("_", " ")
        return self._ledger.value(formula, (*self._key, said), kind=Kind.LENGTH, label=f"'{said}'", place=place)

    def _whole(self, formula: Formula | None, key: Key, *, least: int, most: int, what: str) -> int:
        if formula is None:
            return least
        found = float(self._ledger.value(formula, key, kind=Kind.NUMBER, label=f"'{key[-1]}'").magnitude)
        if not least <= found <= most or abs(found - round(found)) > 1e-9:
            self._ledger.note(key, f"{found:g} {what}", f"give a whole number from {least} to {most}")
            raise Unsettled
        return round(found)

    def _outline(self, word: str, at: Quantity) -> Outline:
        """A profile where it lies in the stack."""
        name = getattr(self._model, word)
        if name not in self._profiles:
            hint = near_miss(name, self._profiles) or "draw it under `profiles`"
            self._ledger.note((*self._key, word), f"'{name}' is not a profile", hint)
            raise Unsettled
        shape = self._shapes(name)
        if shape is None:
            raise Unsettled
        start = _mm(at)
        return tuple((place + start, radius) for place, radius in shape.points_mm)

    def _outlines(self) -> tuple[Outline, Outline]:
        """Outside and inside of the finished piece, from the left end of the stack."""
        outside = self._outline("outside", self._length("at", place=True))
        if self._model.inside is not None:
            return outside, self._outline("inside", self._length("inside_at", place=True))
        if self._model.wall is None:
            return outside, ()
        # Loads the workpiece, which owns how a wall is drawn within an outside.
        from handouts_build import workpiece as kernel

        wall, floor = self._length("wall"), self._length("floor")
        hollow = kernel.Hollow(
            name=self.name, outside_mm=outside, wall_mm=_mm(wall), floor_mm=_mm(floor), end=kernel.End.RIGHT
        )
        try:
            return outside, tuple(hollow.outline_mm)
        except kernel.WorkpieceFault as fault:
            self._ledger.note((*self._key, "wall"), fault.message, fault.hint)
            raise Unsettled from None

    # Courses

    def _run(self) -> None:
        model = self._model
        outside, inside = self._outlines()
        margin, kerf = self._length("margin", _MARGIN), self._length("kerf", _KERF)
        trim = self._length("trim", _TRIM)
        board = self._length("board") if model.board is not None else None
        self._drafted = drafts = self._drafts(board)
        rings = 0
        courses: list[Course] = []
        failed = False
        for draft in drafts:
            try:
                course = self._course(draft, outside, inside, margin=margin, kerf=kerf, trim=trim, before=rings)
            except Unsettled:
                failed = True
                continue
            courses.append(course)
            rings += draft.kind == "ring"
        if failed:
            raise Unsettled
        height = courses[-1].end
        self._fits(outside, height)
        head = list(self._head(courses, height, margin))
        rests = {used.name for formula, _ in self.definition.formulas for used in names(formula.tree)}
        stack = Stack(
            courses=tuple(courses), outside_mm=outside, inside_mm=inside, order=tuple(_order(courses)),
            flip=model.flip, rests_on=tuple(sorted(rests)),
        )  # fmt: skip
        self.group = Group(
            name=self.name, title=self.title, chapter="stack",
            about="Courses from the left end on, each ring as the profile over its height asks, with wood to spare.",
            dimensions=(*head, *self._rows), remarks=tuple(self._remarks(courses)), stack=stack,
        )  # fmt: skip
        for row in self.group.dimensions:
            self._ledger.values[row.name], self._ledger.manners[row.name] = row.value, row.manner
            self._ledger.printed[row.name] = row.printed

    def _head(self, courses: Sequence[Course], height: Quantity, margin: Quantity) -> Iterator[Dimension]:
        """What is told of the whole, by formulas where what the author writes suffices for them."""
        laws = self._laws()
        widest = max(courses, key=lambda course: _mm(course.across))
        width = widest.across
        corners = [course.across / math.cos(math.pi / course.pieces) for course in courses if course.pieces]
        swing = max([width, *corners])
        own = [course.across for course, draft in zip(courses, self._drafted, strict=True) if draft.keys.across]
        asked = max([ACROSS(outer=self._ledger.lookup(f"{self._model.outside}.widest") / 2, margin=margin), *own])
        alike = {draft.keys.segments.text for draft in self._drafted if draft.keys.segments is not None}
        if abs(_mm(asked) - _mm(width)) > _HAIR_MM:
            # A course is missing where the piece is widest, which is told.
            del laws["width"]
        if "width" not in laws or len(alike) != 1 or not widest.pieces:
            del laws["swing"]
        segments = count(sum(course.pieces for course in courses))
        for name, value, says, err in (
            ("height", height, "Height of the stack as it is glued", Err.NEAREST),
            ("width", width, "Widest course", Err.OVER),
            ("swing", swing, "Across its corners: what it swings until it is round", Err.OVER),
            ("segments", segments, "Segments in all", Err.NEAREST),
        ):
            if name not in laws:
                yield self._row(name, value, says, err)
                continue
            tree = parse(laws[name])
            yield dimension(
                f"{self.name}.{name}", value_of(tree, self._ledger.lookup), says=says, symbol=spoken(name), tree=tree,
                symbols=spoken, values=self._ledger.lookup, rule=self._rule, manner=Manner(err), main=True,
                source=source_of("blank-sum"),
            )  # fmt: skip

    def _laws(self) -> dict[str, str]:
        """Height, width, swing and segments as formulas over the author's own names."""
        high, pieces, wide = [], [], []
        for _, _, keys in self._items():
            times = f"{_bracketed(keys.count)} * " if keys.count is not None else ""
            high.append(f"{times}{_bracketed(keys.high)}")
            if keys.across is not None:
                wide.append(keys.across.text)
            if keys.segments is not None:
                pieces.append(f"{times}{_bracketed(keys.segments)}")
        margin = _bracketed(self._model.margin) if self._model.margin is not None else "1/8 in"
        width = f"{self._model.outside}.widest + 2 * {margin}"
        for across in dict.fromkeys(wide):
            width = f"max({width}, {across})"
        segments = next((keys.segments for _, _, keys in self._items() if keys.segments is not None), None)
        made = {"height": " + ".join(high), "width": width, "swing": ""}
        if segments is not None:
            made |= {"segments": " + ".join(pieces)}
            made |= {"swing": f"({width}) / cos(180 deg / {_bracketed(segments)})"}
        return made

    def _drafts(self, board: Quantity | None) -> list[_Draft]:
        """The courses with their places, several alike counted out."""
        made: list[_Draft] = []
        numbers = {"ring": 0, "disk": 0, "veneer": 0}
        place = millimetres(0)
        failed = False
        for key, kind, keys in self._items():
            try:
                high = self._ledger.value(keys.high, (*key, "high"), kind=Kind.LENGTH, label="the course's height")
                times = self._whole(keys.count, (*key, "count"), least=1, most=_MOST_COURSES, what="courses alike")
                what = "segments in a ring"
                pieces = 0
                if kind == "ring":
                    pieces = self._whole(keys.segments, (*key, "segments"), least=_FEWEST, most=_MOST, what=what)
                woods = self._woods(key, keys, pieces)
            except Unsettled:
                failed = True
                continue
            if len(made) + times > _MOST_COURSES:
                message = f"{len(made) + times:,} courses up to this one"
                self._ledger.note((*key, "count"), message, f"at most {_MOST_COURSES} are worked out in one stack")
                raise Unsettled
            if board is not None and kind == "ring" and _mm(OVERHEIGHT(high=high, board=board)) > _HAIR_MM:
                told = (
                    f"{print_quantity(high, self._rule)} high, and the boards are {print_quantity(board, self._rule)}"
                )
                self._ledger.note(
                    (*key, "high"),
                    f"this ring is {told} thick",
                    "make it no higher than the boards, or two rings of it",
                )
                failed = True
                continue
            for again in range(times):
                numbers[kind] += 1
                name = keys.says or f"{kind} {numbers[kind]}"
                if keys.says and times > 1:
                    name = f"{keys.says} {again + 1}"
                made.append(_Draft(kind, name, numbers[kind], key, keys, high, place, pieces, woods))
                place = place + high
        if failed:
            raise Unsettled
        return made

    def _woods(self, key: Key, keys: CourseKeys, pieces: int) -> tuple[str, ...]:
        """The wood of each of its pieces."""
        if keys.woods is None:
            return (said_wood(keys.wood or self._wood),) * max(1, pieces)
        pattern = tuple(said_wood(wood) for wood in keys.woods)
        if pieces % len(pattern):
            self._ledger.note(
                (*key, "woods"),
                f"{len(pattern)} woods in turn do not go around {pieces} segments",
                f"give a pattern of as many as divide {pieces}, such as {_divisor(pieces, len(pattern))}",
            )
            raise Unsettled
        return pattern * (pieces // len(pattern))

    def _course(
        self,
        draft: _Draft,
        outside: Outline,
        inside: Outline,
        *,
        margin: Quantity,
        kerf: Quantity,
        trim: Quantity,
        before: int,
    ) -> Course:
        """One course with its width, its opening, and what is sawn for it."""
        start, end = _mm(draft.start), _mm(draft.start + draft.high)
        outer = extremes_mm(outside, start_mm=start, end_mm=end)
        within = (max(start, outside[0][0]), min(end, outside[-1][0]))
        inner = extremes_mm(inside, start_mm=start, end_mm=end)
        open_ = inner is not None and inside[0][0] <= within[0] + _HAIR_MM and inside[-1][0] >= within[1] - _HAIR_MM
        least = millimetres(inner[1]) if inner is not None and open_ else None
        widest = millimetres(outer[0]) if outer is not None else None
        across = self._across(draft, widest, margin)
        opening = self._opening(draft, least, margin)
        if opening is not None and opening >= across:
            told = f"{print_quantity(opening, self._rule)} of opening in {print_quantity(across, self._rule)}"
            self._ledger.note(
                (*draft.key, "inside"), f"{draft.says} has {told}", "make the opening smaller than the ring"
            )
            raise Unsettled
        self._judge(draft, across, opening, widest, least, margin)
        if draft.kind == "ring" and opening is None and inside:
            message = (
                f"{draft.says} has no opening, for the finished inside does not go through it: its segments meet in "
                "points at the middle"
            )
            place = self._ledger.document.place(draft.key)
            self.findings.append(Finding(Level.MIND, self.title, message, "make it a disk", place))
        turn = 180.0 / draft.pieces * (before % 2) if draft.pieces else 0.0
        known = {"pieces": count(draft.pieces or 1), "across": across, "inside": opening or millimetres(0)}
        sized: dict[str, Any] = {"miter_printed": None, "edge": None, "edge_printed": None}
        if draft.pieces:
            edge = OUTER_EDGE(**_of(OUTER_EDGE, known))
            row = self._row(
                f"edge_{draft.number}", edge, f"{_capital(draft.says)}: outer edge of a segment", Err.OVER,
                law=OUTER_EDGE, known=known,
            )  # fmt: skip
            self._rows.append(row)
            miter = print_exact(MITER(pieces=known["pieces"]), self._rule)
            sized = {"miter_printed": miter, "edge": edge, "edge_printed": row.printed}
        return Course(
            kind=draft.kind, says=draft.says, start=draft.start, high=draft.high,
            high_printed=print_quantity(draft.high, self._rule, err=Err.NEAREST),
            across=across, across_printed=print_quantity(across, self._rule, err=Err.OVER),
            inside=opening,
            inside_printed=print_quantity(opening, self._rule, err=Err.UNDER) if opening is not None else None,
            pieces=draft.pieces, turn_deg=turn, woods=draft.woods,
            strips=tuple(self._strips(draft, known, kerf, trim)), **sized,
        )  # fmt: skip

    def _across(self, draft: _Draft, widest: Quantity | None, margin: Quantity) -> Quantity:
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
            self._rows.append(
                self._row(
                    f"across_{draft.number}", value, f"{_capital(draft.says)}: width, from flat to flat", Err.OVER,
                    law=ACROSS, known=known,
                )
            )  # fmt: skip
        return value

    def _opening(self, draft: _Draft, least: Quantity | None, margin: Quantity) -> Quantity | None:
        """Its opening, as the author says or as the profile asks; None where it has none."""
        if draft.keys.inside is not None:
            return self._ledger.value(
                draft.keys.inside, (*draft.key, "inside"), kind=Kind.LENGTH, label="the course's opening"
            )
        if draft.kind != "ring" or least is None:
            return None
        known = {"inner": least, "margin": margin, "pieces": count(draft.pieces)}
        value = INSIDE(**known)
        if _mm(value) <= _HAIR_MM:
            return None
        self._rows.append(
            self._row(
                f"inside_{draft.number}", value, f"{_capital(draft.says)}: opening, from flat to flat", Err.UNDER,
                law=INSIDE, known=known,
            )
        )  # fmt: skip
        return value

    def _judge(
        self,
        draft: _Draft,
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
                f"the finished outside is {finished} across at {draft.says}, and as it is glued the flats are only "
                f"{print_quantity(across, rule, err=Err.UNDER)} apart",
                f"{draft.says} has only {{spare}} to spare outside",
                f"make {draft.says} {due} across, or leave 'across' out",
            )  # fmt: skip
        if opening is not None and keys.inside is not None and least is not None:
            known = {"inner": least, "pieces": count(draft.pieces), "margin": margin}
            spare = WALL_INSIDE(inner=least, inside=opening, pieces=known["pieces"])
            due_in = INSIDE(**known)
            remedy = (
                f"make its opening {print_quantity(due_in, rule, err=Err.UNDER)}, or leave 'inside' out"
                if _mm(due_in) > 0
                else "make it a disk"
            )
            finished = print_quantity(2 * least, rule, err=Err.UNDER)
            self._spare(
                (*draft.key, "inside"), spare, margin,
                f"the finished inside is {finished} across at {draft.says}, and the corners of its opening reach past "
                f"that by {print_quantity(-spare, rule, fine=True) if _mm(spare) < 0 else '0'}",
                f"{draft.says} has only {{spare}} to spare inside",
                remedy,
            )  # fmt: skip

    def _spare(self, key: Key, spare: Quantity, margin: Quantity, gone: str, little: str, remedy: str) -> None:
        place = self._ledger.document.place(key)
        if _mm(spare) < -_HAIR_MM:
            self.findings.append(Finding(Level.STOP, self.title, gone, remedy, place))
        elif _mm(spare) < _mm(margin) - _HAIR_MM:
            told = print_quantity(spare, self._rule, fine=True)
            asked = print_quantity(margin, self._rule)
            message = f"{little.replace('{spare}', str(told))}; {asked} was asked for"
            self.findings.append(Finding(Level.MIND, self.title, message, remedy, place))

    def _strips(self, draft: _Draft, known: dict[str, Quantity], kerf: Quantity, trim: Quantity) -> Iterator[Strip]:
        """What is sawn for it: a strip of each wood of a ring, or a square for a disk."""
        rule = self._rule
        if not draft.pieces:
            side = known["across"]
            told = print_quantity(side, rule, err=Err.OVER)
            yield Strip(draft.woods[0], 1, side, told, side, told, told, told)
            return
        edges = {law.name: law(**_of(law, known)) for law in (OUTER_EDGE, INNER_EDGE)}
        wide = THICK(across=known["across"], inside=known["inside"])
        for wood in dict.fromkeys(draft.woods):
            pieces = draft.woods.count(wood)
            # The angle is the ring's; only as many as are of this wood come off its strip.
            each = {law: _for_some(law, pieces, draft.pieces, edges, kerf) + 2 * trim for law in (STRIP, FLIPPED)}
            plain, flipped = (print_quantity(each[law], rule, err=Err.OVER) for law in (STRIP, FLIPPED))
            long = each[FLIPPED if self._model.flip else STRIP]
            yield Strip(
                wood, pieces, wide, print_quantity(wide, rule, err=Err.OVER), long,
                flipped if self._model.flip else plain, flipped, plain,
            )  # fmt: skip

    def _fits(self, outside: Outline, height: Quantity) -> None:
        """The finished outside must lie between the ends of the stack."""
        low, high = outside[0][0], outside[-1][0]
        if low < -_HAIR_MM or high > _mm(height) + _HAIR_MM:
            past = millimetres(max(-low, high - _mm(height)))
            self.findings.append(
                Finding(
                    Level.STOP,
                    self.title,
                    f"the finished outside reaches {print_quantity(past, self._rule, err=Err.OVER)} past the end of "
                    "the stack",
                    "add a course, make courses higher, or say 'at' where the outside begins",
                    self._ledger.document.place((*self._key, "courses")),
                )
            )

    # What is told

    def _row(
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
        full, manner, source = f"{self.name}.{name}", Manner(err), source_of(law.source if law else "blank-sum")
        if law is not None and known is not None:
            made = dimension(
                full, value, says=says, symbol=law.symbol, tree=law.tree, symbols=spoken,
                values=known.__getitem__, rule=self._rule, manner=manner, main=False, source=source,
            )  # fmt: skip
            return replace(made, tree=[])
        printed = print_as(value, self._rule, manner)
        told = rounding(value, printed, self._rule, manner)
        working = Working(
            symbol=spoken(name), formula="", numbers="", result=result_of(value, self._rule, rounded=bool(told)),
            rounding=told, source=source,
        )  # fmt: skip
        return Dimension(full, says, value, printed, manner, True, working, [])

    def _remarks(self, courses: Sequence[Course]) -> Iterator[Remark]:
        """The wood it takes, and how it is glued."""
        by_wood: dict[str, Quantity] = {}
        for course in courses:
            for strip in course.strips:
                volume = BOARD_VOLUME(high=course.high, wide=strip.wide, long=strip.long)
                by_wood[strip.wood] = by_wood.get(strip.wood, of_kind(0, Kind.VOLUME)) + volume
        told = "; ".join(f"{wood} {decimal(board_feet(volume), 1, Err.OVER)}" for wood, volume in by_wood.items())
        how = "turned over after each cut" if self._model.flip else "not turned over"
        yield Remark(
            f"Board feet, planed to the height of each course, strips {how}, saw cuts and trimmed ends counted: "
            f"{told}.",
            source_of("segment-strip"),
        )


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


def _bracketed(formula: Formula) -> str:
    """A formula to stand in another."""
    return formula.text if isinstance(formula.tree, Name | Number) else f"({formula.text})"


def _order(courses: Sequence[Course]) -> Iterator[str]:
    """What is glued to what, in turn."""
    if any(course.pieces for course in courses):
        yield "Glue up every ring, and flatten both its faces once it is dry"
    for below, above in itertools.pairwise(courses):
        if below.kind == above.kind == "ring":
            same = below.pieces == above.pieces
            how = ", its joints over the middles of the segments below" if same else ", centered"
        else:
            how = ", centered"
        yield f"Glue {above.says} on {below.says}{how}"


def _divisor(pieces: int, near: int) -> int:
    """The divisor of a number that lies nearest another."""
    return min((each for each in range(1, pieces + 1) if pieces % each == 0), key=lambda each: abs(each - near))


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _mm(length: Quantity) -> float:
    return float(length.m_as(UNITS["mm"]))
