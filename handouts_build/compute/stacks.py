"""A glued-up stack worked for a project.

This module owns the step from a `stacks:` entry to a group of the sheet: where the
profiles lie in the stack, the place of every course, and what is told of the whole. What
one course comes to is in `courses`.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Collection, Iterator, Sequence
from functools import cached_property

from handouts_build.compute.chapters import source_of
from handouts_build.compute.courses import HAIR_MM, CourseWork, Draft, Outline, StackDesign, in_mm
from handouts_build.compute.names import Definition, Ledger, Unsettled
from handouts_build.compute.working import dimension, spoken
from handouts_build.formulas import Name, Number, names, parse_joined, value_of
from handouts_build.language import phrases_in_a_row, tr, tr_later
from handouts_build.problems import near_miss
from handouts_build.quantities import (
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
    print_quantity,
)
from handouts_build.schema import CourseKeys, Formula, Key, StackKeys
from handouts_build.sheet import Course, Dimension, Finding, Group, Level, Remark, Shape, Stack
from handouts_build.tables.woods import said_wood
from handouts_build.trade.ring_stacks import (
    ACROSS,
    BOARD_VOLUME,
    OVERHEIGHT,
)
from handouts_build.trade.stock import board_feet

__all__ = ["StackWork"]

_MARGIN, _KERF, _TRIM = inches(0.125), inches(0.125), inches(0.5)
"""Where the author says nothing: common practice, no published source."""
_COURSES = {
    "ring": tr_later("ring {number}"),
    "disk": tr_later("disk {number}"),
    "veneer": tr_later("veneer {number}"),
}
"""What a course is called that the author gives no name."""
_MOST_COURSES = 60
_FEWEST, _MOST = 3, 180
"""Segments of a ring."""


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
        self._drafted: list[Draft] = []

    @cached_property
    def definition(self) -> Definition:
        """What the ledger settles: the profiles, by their length, and every formula."""
        formulas: list[tuple[Formula, Key]] = []
        for word in ("outside", "inside"):
            profile = getattr(self._model, word)
            if profile in self._profiles:
                text = f"{profile}.length"
                formulas.append((Formula(text, parse_joined(text)), (*self._key, word)))
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
        start = in_mm(at)
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
            name=self.name, outside_mm=outside, wall_mm=in_mm(wall), floor_mm=in_mm(floor), end=kernel.End.RIGHT
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
        wanted = StackDesign(outside, inside, margin, kerf, trim, model.flip)
        work = self._work = CourseWork(self.name, self.title, wanted, ledger=self._ledger, rule=self._rule)
        rings = 0
        courses: list[Course] = []
        failed = False
        for draft in drafts:
            try:
                course = work.course(draft, before=rings)
            except Unsettled:
                failed = True
                continue
            courses.append(course)
            rings += draft.kind == "ring"
        if failed:
            raise Unsettled
        height = courses[-1].end
        self.findings += work.findings
        self._fits(outside, height)
        head = list(self._head(courses, height, margin))
        rests = {used.name for formula, _ in self.definition.formulas for used in names(formula.tree)}
        stack = Stack(
            courses=tuple(courses), outside_mm=outside, inside_mm=inside, order=tuple(_order(courses)),
            flip=model.flip, rests_on=tuple(sorted(rests)),
        )  # fmt: skip
        self.group = Group(
            name=self.name, title=self.title, chapter="stack",
            about=tr(
                "Courses from the left end on, each ring as the profile over its height asks, with wood to spare."
            ),
            dimensions=(*head, *work.rows), remarks=tuple(self._remarks(courses)), stack=stack,
        )  # fmt: skip
        for row in self.group.dimensions:
            self._ledger.values[row.name], self._ledger.manners[row.name] = row.value, row.manner
            self._ledger.printed[row.name] = row.printed

    def _head(self, courses: Sequence[Course], height: Quantity, margin: Quantity) -> Iterator[Dimension]:
        """What is told of the whole, by formulas where what the author writes suffices for them."""
        laws = self._laws()
        widest = max(courses, key=lambda course: in_mm(course.across))
        width = widest.across
        corners = [course.across / math.cos(math.pi / course.pieces) for course in courses if course.pieces]
        swing = max([width, *corners])
        own = [course.across for course, draft in zip(courses, self._drafted, strict=True) if draft.keys.across]
        asked = max([ACROSS(outer=self._ledger.lookup(f"{self._model.outside}.widest") / 2, margin=margin), *own])
        alike = {draft.keys.segments.text for draft in self._drafted if draft.keys.segments is not None}
        if abs(in_mm(asked) - in_mm(width)) > HAIR_MM:
            # A course is missing where the piece is widest, which is told.
            del laws["width"]
        if "width" not in laws or len(alike) != 1 or not widest.pieces:
            del laws["swing"]
        segments = count(sum(course.pieces for course in courses))
        for name, value, says, err in (
            ("height", height, tr("Height of the stack as it is glued"), Err.NEAREST),
            ("width", width, tr("Widest course"), Err.OVER),
            ("swing", swing, tr("Across its corners: what it swings until it is round"), Err.OVER),
            ("segments", segments, tr("Segments in all"), Err.NEAREST),
        ):
            if name not in laws:
                yield self._work.row(name, value, says, err)
                continue
            tree = parse_joined(laws[name])
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

    def _drafts(self, board: Quantity | None) -> list[Draft]:
        """The courses with their places, several alike counted out."""
        made: list[Draft] = []
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
            if board is not None and kind == "ring" and in_mm(OVERHEIGHT(high=high, board=board)) > HAIR_MM:
                described = (
                    f"{print_quantity(high, self._rule)} high, and the boards are {print_quantity(board, self._rule)}"
                )
                self._ledger.note(
                    (*key, "high"),
                    f"this ring is {described} thick",
                    "make it no higher than the boards, or two rings of it",
                )
                failed = True
                continue
            for again in range(times):
                numbers[kind] += 1
                name = keys.says or tr(_COURSES[kind], number=numbers[kind])
                if keys.says and times > 1:
                    name = f"{keys.says} {again + 1}"
                made.append(Draft(kind, name, numbers[kind], key, keys, high, place, pieces, woods))
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

    def _fits(self, outside: Outline, height: Quantity) -> None:
        """The finished outside must lie between the ends of the stack."""
        low, high = outside[0][0], outside[-1][0]
        if low < -HAIR_MM or high > in_mm(height) + HAIR_MM:
            past = millimetres(max(-low, high - in_mm(height)))
            self.findings.append(
                Finding(
                    Level.STOP,
                    self.title,
                    tr(
                        "the finished outside reaches {past} past the end of the stack",
                        past=print_quantity(past, self._rule, err=Err.OVER),
                    ),
                    tr("add a course, make courses higher, or say '{key}' where the outside begins", key="at"),
                    self._ledger.document.place((*self._key, "courses")),
                )
            )

    # What is told

    def _remarks(self, courses: Sequence[Course]) -> Iterator[Remark]:
        """The wood it takes, and how it is glued."""
        by_wood: dict[str, Quantity] = {}
        for course in courses:
            for strip in course.strips:
                volume = BOARD_VOLUME(high=course.high, wide=strip.wide, long=strip.long)
                by_wood[strip.wood] = by_wood.get(strip.wood, of_kind(0, Kind.VOLUME)) + volume
        phrases = phrases_in_a_row(
            f"{wood} {decimal(board_feet(volume), 1, Err.OVER)}" for wood, volume in by_wood.items()
        )
        says = (
            tr(
                "Board feet, planed to the height of each course, strips turned over after each cut, saw cuts and "
                "trimmed ends counted: {woods}.",
                woods=phrases,
            )
            if self._model.flip
            else tr(
                "Board feet, planed to the height of each course, strips not turned over, saw cuts and trimmed ends "
                "counted: {woods}.",
                woods=phrases,
            )
        )
        yield Remark(says, source_of("segment-strip"))


def _bracketed(formula: Formula) -> str:
    """A formula to stand in another."""
    return formula.text if isinstance(formula.tree, Name | Number) else f"({formula.text})"


def _order(courses: Sequence[Course]) -> Iterator[str]:
    """What is glued to what, in turn."""
    if any(course.pieces for course in courses):
        yield tr("Glue up every ring, and flatten both its faces once it is dry")
    for below, above in itertools.pairwise(courses):
        if below.kind == above.kind == "ring" and below.pieces == above.pieces:
            yield tr(
                "Glue {above} on {below}, its joints over the middles of the segments below",
                above=above.says, below=below.says,
            )  # fmt: skip
        else:
            yield tr("Glue {above} on {below}, centered", above=above.says, below=below.says)


def _divisor(pieces: int, near: int) -> int:
    """The divisor of a number that lies nearest another."""
    return min((each for each in range(1, pieces + 1) if pieces % each == 0), key=lambda each: abs(each - near))
