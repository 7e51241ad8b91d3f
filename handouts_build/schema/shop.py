"""The keys of the shop file: the maker's own kit.

This module owns which keys there are and what each is for, as `models` does for a
project.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from typing import Annotated

from pydantic import field_validator, model_validator

from handouts_build.language import ENGLISH
from handouts_build.paper import USUAL
from handouts_build.schema.fields import (
    Angle,
    Label,
    Language,
    Length,
    Line,
    OneOf,
    Papers,
    Price,
    Speed,
    WebAddress,
    fault,
    whole,
)
from handouts_build.schema.known_keys import Keys
from handouts_build.schema.known_keys import key as _key
from handouts_build.schema.known_keys import required as _required
from handouts_build.sheet.clubs import COLORS
from handouts_build.tables.lathes import spindle_threads, tapers

__all__ = ["LatheKeys", "ShopKeys", "StickKeys"]

SpindleThread = Annotated[str, OneOf(spindle_threads())]
Taper = Annotated[str, OneOf(tapers())]


class SpeedsKeys(Keys):
    """The speeds a lathe can run at."""

    least: Speed = _required("The slowest.", "250 rpm")
    most: Speed = _required("The fastest.", "3500 rpm")


class LatheKeys(Keys):
    """What a lathe takes and how things are mounted on it."""

    swing: Length | None = _key("The largest diameter that clears the bed.", example="12 in")
    between: Length | None = _key("Distance between centers.", example="20 in")
    thread: SpindleThread | None = _key("Thread of the spindle.", example="1 in x 8 TPI")
    taper: Taper | None = _key("Morse taper of headstock and tailstock.", example="MT2")
    quill: Length | None = _key("How far the tailstock's quill travels.", example="2 1/2 in")
    speeds: SpeedsKeys | None = _key("Slowest and fastest speed.", example="{least: 250 rpm, most: 3500 rpm}")


class StickKeys(Keys):
    """Wood on hand that blanks can be cut from."""

    name: Label = _required("What it is called in the cutting plan.", "walnut A")
    wood: Label = _required("The wood.", "walnut, black")
    round: Length | None = _key("Diameter of a round stick.", example="3 in")
    square: Length | None = _key("Side of a square stick.", example="2 1/2 in")
    wide: Length | None = _key("Width of a board; needs `thick` too.", example="6 in")
    thick: Length | None = _key("Thickness of a board.", example="2 in")
    long: Length = _required("Its length.", "24 in")
    count: Annotated[int, *whole(1, 200)] = _key("How many there are.", example="2", default=1)
    price: Price | None = _key("What one costs.", example="18.50")

    @model_validator(mode="after")
    def _one_shape(self) -> StickKeys:
        board = self.wide is not None or self.thick is not None
        if sum((self.round is not None, self.square is not None, board)) != 1:
            fault("a stick is round, square, or wide and thick: one of the three", "write {square: 2 in, long: 24 in}")
        if board and (self.wide is None or self.thick is None):
            fault("a board needs both wide and thick", "write {wide: 6 in, thick: 2 in, long: 24 in}")
        return self


class RangeKeys(Keys):
    """Least and greatest diameter."""

    least: Length = _required("The least.", "1 1/2 in")
    most: Length = _required("The greatest.", "2 3/4 in")


class JawsKeys(Keys):
    """A set of chuck jaws."""

    name: Label = _required("What it is called.", "two-inch jaws")
    closes: RangeKeys | None = _key("Diameters it closes on.", example="{least: 1 1/2 in, most: 2 3/4 in}")
    opens: RangeKeys | None = _key("Diameters it opens into.", example="{least: 2 in, most: 3 1/2 in}")
    deep: Length | None = _key("How deep it reaches: a longer tenon bottoms out.", example="5/8 in")
    dovetail: Angle | None = _key("How far its faces lean; 0 deg where they are straight.", example="8 deg")


class ClubKeys(Keys):
    """A club with a page of its own on the site."""

    name: Label = _required("What it is called, as projects and demonstrations call it.", "Fernhollow Turners")
    color: Annotated[str, OneOf(tuple(COLORS))] | None = _key("The color of its page.", example="moss")
    says: Line | None = _key("What it is, in a sentence or two.", example="We meet on Thursdays.")
    place: Label | None = _key("Where it meets.", example="Mill Lane Hall")
    site: WebAddress | None = _key("Its own pages elsewhere.", example="https://club.example/")


class ShopKeys(Keys):
    """The maker's own kit and name, shared by all projects of an archive."""

    by: Label | None = _key("Who shows the pieces.", example="A. Turner")
    club: Label | None = _key("The club they are shown to.", example="Fernhollow Turners")
    clubs: list[ClubKeys] = _key(
        "The clubs of the archive, each with a page of its own; in the shop file of the archive's own folder.",
        example="[{name: Fernhollow Turners, color: moss}]",
        default=(),
    )
    language: Language = _key(
        "The language that pages, papers and findings are in, as BCP 47 writes it; in the shop file of the archive's "
        "own folder. What you write yourself stays as you write it.",
        example="en",
        default=ENGLISH,
    )
    license: Label | None = _key(
        "How pages, papers and drawings may be passed on, where a project says nothing else.", example="CC BY-SA 4.0"
    )
    credits: list[Label] = _key(
        "Who else is to be named, each with what for, where a project names nobody else.",
        example="[Drawn for print by B. Fern]",
        default=(),
    )
    papers: Papers = _key(
        "The papers that are made of every project; `templates` only where something in it yields one.",
        example="[short, full, dimensions, templates, workings]",
        default=USUAL,
    )
    bits: list[Length] = _key("Drill bits in the kit.", example="[1/8 in, 1/4 in]", default=())
    bit_reach: Length | None = _key("How deep the bits reach, out of the drill chuck.", example="3 in")
    jaws: list[JawsKeys] = _key("Chuck jaws in the kit.", example="[{name: small jaws}]", default=())
    drive_centers: list[Length] = _key("Diameters of the drive centers in the kit.", example="[3/8 in]", default=())
    lathe: LatheKeys | None = _key("The maker's own lathe.", example="{thread: 1 in x 8 TPI, taper: MT2}")
    chuck_long: Length | None = _key("From the spindle's shoulder to the front of the jaws.", example="4 in")
    drill_chuck_long: Length | None = _key(
        "How far the drill chuck stands out of the tailstock's quill, jaws and all.", example="3 in"
    )
    threads: list[SpindleThread] = _key(
        "Spindle threads that the chuck goes on, with the inserts and adapters in the kit.",
        example="[1 in x 8 TPI, M33 x 3.5]",
        default=(),
    )
    tapers: list[Taper] = _key(
        "Morse tapers that the centers and the drill chuck fit, with the sleeves in the kit.",
        example="[MT1, MT2]",
        default=(),
    )
    sticks: list[StickKeys] = _key(
        "Wood on hand.", example="[{name: A, wood: ash, square: 2 in, long: 3 ft}]", default=()
    )
    kerf: Length | None = _key("Wood that one saw cut takes; 1/8 in if not given.", example="1/8 in")
    trim: Length | None = _key(
        "Wood cut off each end of a stick first, saw cut included; 1/2 in if not given.", example="1/2 in"
    )
    currency: Label | None = _key("What prices are in.", example="USD")

    @field_validator("sticks", "jaws")
    @classmethod
    def _each_has_its_own_name(cls, kept: Sequence[StickKeys | JawsKeys]) -> Sequence[StickKeys | JawsKeys]:
        """Plans and packing lists tell them by their names alone."""
        names = [stick_or_jaws.name for stick_or_jaws in kept]
        for name in dict.fromkeys(names):
            if names.count(name) > 1:
                fault(
                    f"{names.count(name)} are called '{name}', and a plan could not say which is meant",
                    "give each a name of its own; how many there are of one goes into count",
                )
        return kept

    @field_validator("clubs")
    @classmethod
    def _told_apart(cls, clubs: Sequence[ClubKeys]) -> Sequence[ClubKeys]:
        names = [_as_addresses_have_it(club.name) for club in clubs]
        for club, name in zip(clubs, names, strict=True):
            if names.count(name) > 1:
                fault(f"there are two clubs called '{club.name}'", "write each club once")
        return clubs


def _as_addresses_have_it(name: str) -> str:
    """A name without what an address leaves out: two of one such name would share a page."""
    plain = unicodedata.normalize("NFKD", name.casefold()).encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-") or name.casefold()
