"""The keys of cuts, marks and holds: what a step does to the wood, and what holds it.

This module owns the trade's words for them and what each key is for. Each kind of
cut answers to one of the workpiece's, key by key; a test holds the two together. What
a length comes to, and whether the wood allows it, is for others.
"""

from __future__ import annotations

from typing import Annotated, Any, ClassVar, Literal

from pydantic import BeforeValidator, Field, PlainValidator, WithJsonSchema, model_validator

from handouts_build.schema.fields import AuthorName, FormulaField, Label, Line, OneOf, fault
from handouts_build.schema.known_keys import Keys, key, required
from handouts_build.tables.caution_facts import WORDS, Fact

__all__ = ["ACCEPTED", "CutItem", "HoldKeys", "MarkItem"]

End = Literal["left", "right"]
Holder = Annotated[str, OneOf(WORDS[Fact.HOLD])]

ACCEPTED = (
    "thin web", "slender", "overhang", "thin neck", "center in the way", "parted between centers", "cuts nothing",
    "short grip", "pith left", "bark left",
)  # fmt: skip
"""Findings that an author may accept with a reason."""

_START = "Where it starts, from the left end of the blank or the hold's own middle; the wood's end if not given."
_STOP = "Where it ends; the wood's other end if not given."
_AT = "Its middle, from the left end of the blank; between two holes, from midway between them."
_FIRST = "Angle of the first, from the top; 0 deg if not given."
_END = "The end it is cut from, `left` (headstock) or `right`."
_DEEP = "How deep; right through if not given."


class Cut(Keys):
    """One cut."""

    name: Label | None = key("What it is called in findings and by later steps; its kind if not given.", example="bore")
    meets: list[Label] = key(
        "Cuts it is meant to break into, its own holes among them; `the outside` where it is meant to come out.",
        example="[bore]",
        default=(),
    )


class Cylinder(Cut):
    """Turn to one diameter."""

    diameter: FormulaField = required("The diameter.", "ball")
    start: FormulaField | None = key(_START, example="1 in")
    end: FormulaField | None = key(_STOP, example="3 in")


class Facets(Cut):
    """Cut the corners off a cylinder: flats about a ball to be."""

    flats: FormulaField = required("How many there would be all around: 8, 16 or 32.", "8")
    diameter: FormulaField = required("Diameter of the ball to be.", "ball")
    at: FormulaField = required(_AT, "middle")
    keep_left: FormulaField | None = key("Diameter of the stub left standing at its left end.", example="tenon")
    keep_right: FormulaField | None = key("The same at its right end.", example="tenon")


class Ball(Cut):
    """Turn a ball."""

    diameter: FormulaField = required("Its diameter.", "ball")
    at: FormulaField = required(_AT, "middle")
    keep_left: FormulaField | None = key("Diameter of the stub left standing at its left end.", example="tenon")
    keep_right: FormulaField | None = key("The same at its right end.", example="tenon")


class Tenon(Cut):
    """Turn a round stub, to hold by or to fit a hole."""

    diameter: FormulaField = required("Its diameter.", "7/8 in")
    long: FormulaField = required("Its length.", "3/8 in")
    end: End = required("The end toward which it points, `left` (headstock) or `right`.", "right")
    shoulder: FormulaField | None = key("Where its shoulder is; its length from the wood's end if not given.")


class ProfileCut(Cut):
    """Turn a profile; its tenons can be held by, and put into holes, by the name that `says` gives them."""

    shape: AuthorName = required("The profile, by its name under `profiles`.", "drop_shape")
    at: FormulaField | None = key("Where it begins, from the left end of the blank; 0 in if not given.", example="1 in")
    reversed: bool = key("Whether its first end is at the right.", example="true", default=False)
    keep_left: FormulaField | None = key(
        "Diameter of the stub left standing where it runs down to the axis in its left half.", example="3/8 in"
    )
    keep_right: FormulaField | None = key("The same in its right half.", example="3/8 in")


class PartOff(Cut):
    """Cut through; what is not kept falls away."""

    at: FormulaField = required("The face that is left.", "4 in")
    keep: End = required("The side that is kept.", "right")
    kerf: FormulaField | None = key("Width of the cut, on the side that falls away; 3 mm if not given.")


class Bore(Cut):
    """Drill or bore along the axis."""

    diameter: FormulaField = required("Its diameter.", "3/4 in")
    end: End = required(_END, "left")
    deep: FormulaField | None = key(_DEEP, example="2 in")
    from_: FormulaField | None = key("The face it is measured from; where the bit first meets wood if not given.")


class Recess(Cut):
    """Turn a shallow round hole in a face."""

    diameter: FormulaField = required("Its diameter.", "2 in")
    deep: FormulaField = required("Its depth.", "3/16 in")
    end: End = required(_END, "right")
    from_: FormulaField | None = key("The face it is measured from; where the tool first meets wood if not given.")


class Holes(Cut):
    """Drill toward the axis, at equal angles around."""

    diameter: FormulaField = required("Diameter of the bit.", "1/8 in")
    count: FormulaField = required("How many.", "ribs")
    at: FormulaField = required(_AT, "middle")
    deep: FormulaField | None = key("How deep from the surface; leave it out where `reach` says.", example="1/2 in")
    reach: Literal["depth", "axis", "through"] = key(
        "How far they go: to `deep`, to the axis or the bore that is there, or right through.",
        example="axis",
        default="depth",
    )
    first: FormulaField | None = key(_FIRST, example="30 deg")
    each: Label | None = key("What one is called: `hole` gives hole 1, hole 2 and so on.", example="drive hole")


class EndHoles(Cut):
    """Drill along the axis, on a circle around it."""

    diameter: FormulaField = required("Diameter of the bit.", "1/8 in")
    count: FormulaField = required("How many.", "6")
    circle: FormulaField = required("Diameter of the circle their middles lie on; 0 in for one on the axis.", "1 in")
    end: End = required(_END, "left")
    deep: FormulaField | None = key(_DEEP, example="1/2 in")
    first: FormulaField | None = key(_FIRST, example="30 deg")
    each: Label | None = key("What one is called: `hole` gives hole 1, hole 2 and so on.", example="peg hole")


class Groove(Cut):
    """Cut a flat-floored groove around the axis."""

    at: FormulaField = required(_AT, "0 in")
    wide: FormulaField = required("Its width.", "groove_wide")
    floor: FormulaField = required("Distance of its floor from the axis.", "floor")


class Hollow(Cut):
    """Hollow out, to a profile or to a wall of one thickness."""

    end: End = required("The end with the mouth.", "right")
    shape: AuthorName | None = key("The profile of the inside, by its name under `profiles`.", example="inside")
    outside: AuthorName | None = key("The profile of the outside; needs `wall` and `floor`.", example="outside")
    wall: FormulaField | None = key("Thickness of the wall, square to the outside.", example="5/16 in")
    floor: FormulaField | None = key("Thickness of the floor, along the axis.", example="3/8 in")
    at: FormulaField | None = key("Where the profile begins, from the left end of the blank; 0 in if not given.")
    reversed: bool = key("Whether the profile's first end is at the right.", example="true", default=False)

    @model_validator(mode="after")
    def _one_way(self) -> Hollow:
        walled = self.outside is not None or self.wall is not None or self.floor is not None
        if (self.shape is not None) is walled:
            fault("say the shape of the inside, or the outside, wall and floor", "write shape: inside")
        if walled and None in (self.outside, self.wall, self.floor):
            fault(
                "a hollow to a wall needs outside, wall and floor", "write {outside: side, wall: 1/4 in, floor: 1/4 in}"
            )
        return self


class Enlarge(Cut):
    """Open a hole that is there to a larger diameter."""

    hole: Label = required("The hole, by name.", "bore")
    diameter: FormulaField = required("Its new diameter.", "1 in")
    deep: FormulaField | None = key("How deep from its mouth; as deep as it is if not given.")


class Flat(Cut):
    """Plane one flat along the side, the lathe at rest."""

    distance: FormulaField = required("From the axis to the flat.", "1/2 in")
    angle: FormulaField | None = key("The way it faces, from the top; 0 deg if not given.", example="90 deg")
    start: FormulaField | None = key(_START)
    end: FormulaField | None = key(_STOP)


class Prism(Cut):
    """Plane flats all around, the lathe at rest."""

    flats: FormulaField = required("How many.", "8")
    across: FormulaField = required("Twice the distance of a flat from the axis.", "2 in")
    first: FormulaField | None = key("The way the first flat faces; 0 deg if not given.")
    start: FormulaField | None = key(_START)
    end: FormulaField | None = key(_STOP)


class Oval(Cut):
    """Carve the section to an oval, the lathe at rest."""

    wide: FormulaField = required("Its width.", "1 1/2 in")
    thick: FormulaField = required("Its thickness.", "1 in")
    angle: FormulaField | None = key("The way its width runs, from the top; 0 deg if not given.")
    start: FormulaField | None = key(_START)
    end: FormulaField | None = key(_STOP)


class _OneKind(Keys):
    """A map that holds exactly one of its keys."""

    what: ClassVar[str]

    @model_validator(mode="after")
    def _just_one(self) -> _OneKind:
        if len(self.model_fields_set) != 1:
            kinds = ", ".join(str(field.alias) for field in type(self).model_fields.values())
            fault(f"each entry holds exactly one kind of {self.what}", f"the kinds are {kinds}")
        return self

    @property
    def only(self) -> tuple[str, Keys]:
        """The kind, as the file has it, and what stands under it."""
        (name,) = self.model_fields_set
        return str(type(self).model_fields[name].alias), getattr(self, name)


class CutItem(_OneKind):
    """One entry of `cut`: exactly one kind of cut."""

    what: ClassVar[str] = "cut"

    cylinder: Cylinder | None = key("Turn to one diameter.")
    facets: Facets | None = key("Cut the corners off a cylinder, toward a ball.")
    ball: Ball | None = key("Turn a ball.")
    tenon: Tenon | None = key("Turn a round stub, to hold by or to fit a hole.")
    profile: ProfileCut | None = key("Turn a profile of beads, coves, tapers and so on.")
    part_off: PartOff | None = key("Cut through; what is not kept falls away.")
    bore: Bore | None = key("Drill or bore along the axis.")
    recess: Recess | None = key("Turn a shallow round hole in a face.")
    holes: Holes | None = key("Drill toward the axis, at equal angles around.")
    end_holes: EndHoles | None = key("Drill along the axis, on a circle around it.")
    groove: Groove | None = key("Cut a flat-floored groove around the axis.")
    hollow: Hollow | None = key("Hollow out, to a profile or to a wall.")
    enlarge: Enlarge | None = key("Open a hole to a larger diameter.")
    flat: Flat | None = key("Plane one flat along the side.")
    prism: Prism | None = key("Plane flats all around.")
    oval: Oval | None = key("Carve the section to an oval.")


class Ring(Keys):
    """A line around the wood."""

    at: FormulaField = required("Where, from the left end of the blank.", "middle")


class Along(Keys):
    """A line along the wood."""

    angle: FormulaField = required("Its angle, from the top.", "0 deg")
    start: FormulaField = required("Where it starts, from the left end of the blank.", "0 in")
    end: FormulaField = required("Where it ends.", "3 in")


class Circle(Keys):
    """A circle on an end."""

    diameter: FormulaField = required("Its diameter.", "octagon.side")
    end: End = required("The end, `left` (headstock) or `right`.", "left")


class Points(Keys):
    """Points pricked around the wood."""

    count: FormulaField = required("How many.", "2 * ribs")
    at: FormulaField = required("Where, from the left end of the blank.", "middle")
    first: FormulaField | None = key(_FIRST, example="15 deg")


class MarkItem(_OneKind):
    """One entry of `mark`: exactly one kind of pencil mark."""

    what: ClassVar[str] = "mark"

    ring: Ring | None = key("A line around the wood.")
    line: Along | None = key("A line along the wood.")
    circle: Circle | None = key("A circle on an end.")
    points: Points | None = key("Points pricked around the wood.")


def _pairs(value: Any) -> list[list[str]]:
    """One pair of holes or several, as a list of pairs."""
    pairs = value if isinstance(value, list) and all(isinstance(one, list) for one in value) else [value]
    for pair in pairs:
        if not (isinstance(pair, list) and len(pair) == 2 and all(isinstance(one, str) for one in pair)):
            fault(
                "two holes are due here, or several pairs",
                "write [hole 1, hole 3], or [[hole 1, hole 3], [hole 2, hole 4]]",
            )
    return [[" ".join(one.split()) for one in pair] for pair in pairs]


def _several(value: Any) -> list[Any]:
    """One value or several, as a list."""
    return value if isinstance(value, list) else [value]


_PAIR = {"type": "array", "items": {"type": "string"}, "minItems": 2, "maxItems": 2}
_ANGLE = {"type": ["string", "number"]}

Pairs = Annotated[
    list[list[str]],
    PlainValidator(_pairs),
    WithJsonSchema({"anyOf": [_PAIR, {"type": "array", "items": _PAIR, "minItems": 1, "maxItems": 24}]}),
]
Angles = Annotated[
    list[FormulaField],
    BeforeValidator(_several),
    Field(min_length=1, max_length=24),
    WithJsonSchema({"anyOf": [_ANGLE, {"type": "array", "items": _ANGLE, "minItems": 1, "maxItems": 24}]}),
]


class HoldKeys(Keys):
    """What holds the part."""

    by: Annotated[list[Holder], Field(min_length=1)] = required("What holds it, one or several.", "[chuck]")
    says: Line | None = key("How, in a few words.", example="tenon in the jaws")
    tailstock: bool | None = key("Whether the tailstock bears on the part.", example="true")
    on: Label | None = key(
        "The tenon, recess or hole it holds by, by name; the outside of the wood if not given.", example="tenon"
    )
    in_: Pairs = key(
        "Two holes that face each other, for pins of the centers; or several pairs, over which the cuts are repeated.",
        example="[drive hole 1, drive hole 4]",
        default=(),
    )
    end: End | None = key("The end that is held, `left` if not given.", example="right")
    deep: FormulaField | None = key("How much of the wood is in the chuck.", example="1 in")
    drive: FormulaField | None = key("Diameter of the drive center, or of what bears around its pin.", example="3/8 in")
    jaws: Label | None = key("The jaws, by their name in the shop file.", example="two-inch jaws")
    diameter: FormulaField | None = key("Diameter of the faceplate.", example="3 in")
    offset: FormulaField | None = key("How far the centers are set off the blank's own axis.", example="3/16 in")
    angle: Angles | None = key(
        "The way they are set off, from the top; several angles repeat the cuts.", example="[0 deg, 120 deg, 240 deg]"
    )
    right_offset: FormulaField | None = key("How far at the right end, where it differs.", example="0 in")
    right_angle: FormulaField | None = key("The way at the right end, where it differs.", example="180 deg")
    from_: FormulaField | None = key("The place on the axis that places are measured from; 0 in if not given.")
    reversed: bool = key("Whether places grow the other way.", example="true", default=False)
