"""The keys of a glued-up stack: what it is designed from, and its courses from the left end on.

This module owns these keys alone. What follows from them is for `compute.stacks`.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, model_validator

from handouts_build.schema.fields import AuthorName, FormulaField, Label, fault
from handouts_build.schema.known_keys import Keys
from handouts_build.schema.known_keys import key as _key
from handouts_build.schema.known_keys import required as _required

__all__ = ["CourseItem", "CourseKeys", "StackKeys"]

Pattern = Annotated[list[Label], Field(min_length=1, max_length=60)]


class CourseKeys(Keys):
    """One course, or several alike. What each kind uses is said under `courses`."""

    says: Label | None = _key("What it is, for drawings and tables.", example="feature ring")
    high: FormulaField = _required("How high it is along the axis, planed or sanded.", "3/4 in")
    wood: Label | None = _key("The wood it is of; the part's own if not given.", example="walnut, black")
    woods: Pattern | None = _key(
        "The woods of a ring's segments in turn, again and again around it.", example="[maple, maple, walnut]"
    )
    segments: FormulaField | None = _key("How many segments a ring has.", example="12")
    count: FormulaField | None = _key("How many courses alike, one on another; 1 if not given.", example="3")
    across: FormulaField | None = _key(
        "Width of a ring from flat to flat, or diameter of a disk; as the profile asks if not given.", example="6 in"
    )
    inside: FormulaField | None = _key(
        "Width of a ring's opening from flat to flat; as the profile asks if not given.", example="4 in"
    )

    @model_validator(mode="after")
    def _one_kind_of_wood(self) -> CourseKeys:
        if self.wood is not None and self.woods is not None:
            fault("'wood' and 'woods' stand here together", "give wood, or woods in turn for a pattern")
        return self


class CourseItem(Keys):
    """One entry of `courses`: exactly one kind."""

    ring: CourseKeys | None = _key("A ring of mitered `segments`, in one wood or a pattern of `woods`.")
    disk: CourseKeys | None = _key("A plain round, such as a base or a glue block.")
    veneer: CourseKeys | None = _key("A thin sheet right across, between two other courses.")

    @model_validator(mode="after")
    def _just_one(self) -> CourseItem:
        if len(self.model_fields_set) != 1:
            fault("each entry holds exactly one kind of course", "write - ring: {…}; the kinds are ring, disk, veneer")
        kind, keys = self.only
        if keys is None:
            fault(f"there is nothing below '{kind}'", f"write what it needs: {kind}: {{high: 3/4 in, …}}")
        if kind == "ring" and keys.segments is None:
            fault("a ring needs 'segments'", "say how many it has: ring: {segments: 12, high: 3/4 in}")
        if kind != "ring":
            for word in ("segments", "inside", "woods"):
                if getattr(keys, word) is not None:
                    fault(f"a {kind} has no '{word}'", "it is one piece of one wood, right across; make it a ring")
        return self

    @property
    def only(self) -> tuple[str, CourseKeys]:
        """The kind and its keys."""
        (kind,) = self.model_fields_set
        return kind, getattr(self, kind)


class StackKeys(Keys):
    """A blank glued up from courses, designed from the profile of the finished piece.

    Every ring follows from the profile over its height: outside, inside, segments, strips.
    """

    says: Label = _required("What it is.", "The glued-up stack")
    outside: AuthorName = _required("The profile of the finished outside, by its name under `profiles`.", "side")
    at: FormulaField | None = _key(
        "Where the outside begins, from the left end of the stack; 0 in if not given.", example="3/4 in"
    )
    inside: AuthorName | None = _key("The profile of the finished inside.", example="cavity")
    inside_at: FormulaField | None = _key(
        "Where the inside begins, from the left end of the stack; 0 in if not given.", example="1 1/4 in"
    )
    wall: FormulaField | None = _key(
        "Instead of an inside: the wall to leave, square to the outside; needs `floor`.", example="5/16 in"
    )
    floor: FormulaField | None = _key("The floor to leave above the outside's first end.", example="1/2 in")
    margin: FormulaField | None = _key(
        "Wood that every ring has to spare, outside and inside; 1/8 in if not given.", example="3/16 in"
    )
    kerf: FormulaField | None = _key("Width of the saw cut; 1/8 in if not given.", example="3/32 in")
    trim: FormulaField | None = _key("What is lost at each end of a strip; 1/2 in if not given.", example="1 in")
    flip: bool = _key(
        "Whether a strip is turned over after each cut, so that two neighbors share a cut.", example="true",
        default=False,
    )  # fmt: skip
    board: FormulaField | None = _key(
        "Thickness of the boards once they are planed: no course of rings can be higher.", example="7/8 in"
    )
    courses: Annotated[list[CourseItem], Field(min_length=1, max_length=60)] = _required(
        "The courses from the left end on: each ring is turned by half a segment against the ring before it.",
        "[{disk: {high: 3/4 in}}, {ring: {segments: 12, high: 3/4 in}}]",
    )

    @model_validator(mode="after")
    def _one_inside(self) -> StackKeys:
        walled = self.wall is not None, self.floor is not None
        if walled[0] is not walled[1] or (self.inside is not None and any(walled)):
            fault("say the shape of the inside, or wall and floor", "write inside: cavity, or wall and floor")
        return self
