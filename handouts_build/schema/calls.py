"""The keys of a call for pieces and of an entry to one.

This module owns which keys there are. Both files are published, and neither has a key for
anything private: who can be written to is a line that its author chose to show.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Annotated, Literal

from pydantic import AfterValidator, Field, model_validator

from handouts_build.schema.fields import PLACEHOLDER, FileName, Label, Length, Prose, fault, whole
from handouts_build.schema.known_keys import Keys
from handouts_build.schema.known_keys import key as _key
from handouts_build.schema.known_keys import required as _required
from handouts_build.schema.models import PictureKeys
from handouts_build.schema.moments import Day

__all__ = ["CallKeys", "CallSizeKeys", "EntryKeys"]


def _without_values(text: str) -> str:
    found = PLACEHOLDER.search(text)
    if found:
        fault(
            "a value cannot be put in here", "write the value itself: no project stands behind this text", found.start()
        )
    return text


Words = Annotated[Prose, AfterValidator(_without_values)]
"""Author text that no worked-out value can be put into."""
Count = Annotated[int, *whole(1, 50)]


class CallDatesKeys(Keys):
    """The days of a call. Each counts whole: pieces are taken until the end of the day on which it closes."""

    opens: Day = _required("The first day on which pieces can be sent.", "2026-11-01")
    closes: Day = _required("The last day on which pieces can be sent.", "2027-02-28")
    shown: Day | None = _key("The day the pieces are shown or judged.", example="2027-03-13")
    results: Day = _required("The day from which results are published, and not before.", "2027-03-20")

    @model_validator(mode="after")
    def _in_order(self) -> CallDatesKeys:
        days = [("opens", self.opens), ("closes", self.closes), ("shown", self.shown), ("results", self.results)]
        given = [(word, day) for word, day in days if day is not None]
        wrong = [
            f"'{later}' is {after}, before '{earlier}' on {before}"
            for (earlier, before), (later, after) in pairwise(given)
            if after < before
        ]
        if wrong:
            fault("; ".join(wrong), "the days follow one another: opens, closes, shown, results")
        return self


class CallSizeKeys(Keys):
    """How large a piece is, or may be."""

    diameter: Length | None = _key("Across its widest place.", example="6 in")
    height: Length | None = _key("As it stands.", example="8 in")
    length: Length | None = _key("Of what lies rather than stands.", example="12 in")


class CallPiecesKeys(Keys):
    """What may be sent."""

    largest: CallSizeKeys | None = _key(
        "How large a piece may be; an entry must tell each size that is limited.",
        example="{diameter: 6 in, height: 8 in}",
    )
    each: Count | None = _key("How many pieces one maker may send.", example="2")
    woods: Label | None = _key("Of which woods, in words.", example="Any wood out of the scrap box")
    techniques: Label | None = _key("Made how, in words.", example="Anything that is turned")


class AwardKeys(Keys):
    """A prize or a mention; it is published from the day of the results on."""

    entry: FileName = _required("The name of the entry's file, without its ending.", "scoop")
    prize: Label = _required("What it is given.", "First place")
    says: Words | None = _key("Why, in the judges' words.", example="The thinnest wall of all")


class CallKeys(Keys):
    """A call for pieces: a yearly challenge, an exhibition, a beginners' evening."""

    title: Label = _required("What it is called.", "The offcut challenge, 2026")
    club: Label = _required("The club that hosts it.", "Fernhollow Turners")
    place: Label | None = _key("Where the pieces are shown.", example="Mill Lane Hall")
    words: Words = _required("What it is about.", "A piece out of what the last one left over.")
    dates: CallDatesKeys = _required("Its days.")
    rules: list[Words] = _key("Rules, one a line.", example="[Turned since the last challenge]", default=())
    pieces: CallPiecesKeys | None = _key("What may be sent.")
    write_to: Label = _required(
        "Whom to write to, as the public may read it: never a contact that is private.", "The desk by the door"
    )
    hosts: list[Label] = _key("Who runs it.", example="[A. Turner]", default=())
    judges: list[Label] = _key("Who judges it.", example="[B. Fern, C. Moss]", default=())
    may_enter: list[Literal["hosts", "judges"]] = _key(
        "Which of these may send a piece of their own; neither if not given.", example="[hosts]", default=()
    )
    criteria: Annotated[list[Label], Field(max_length=6)] = _key(
        "What is judged, a column each on the sheet for judging.", example="[Form, Finish, Idea]", default=()
    )
    results: list[AwardKeys] = _key("Prizes and mentions, in the order they are read out.", default=())


class EntryPictureKeys(PictureKeys):
    """A photograph of an entry."""

    file: Label = _required("Its path in the folder that has the entry's name.", "scoop.jpg")
    shows: Label = _required("What it shows, for those who cannot see it.", "A scoop of pale wood, lying on its side")


class EntryKeys(Keys):
    """A piece that was sent to a call."""

    maker: Label = _required("The name that its maker chose to be shown by.", "D. Alder")
    title: Label = _required("What the piece is called.", "Flour scoop")
    sent: Day = _required("The day it was sent.", "2027-01-17")
    woods: Annotated[list[Label], Field(min_length=1)] = _required("What it is made of.", "[maple, sugar]")
    size: CallSizeKeys = _required("How large it is.", "{diameter: 2 1/2 in, length: 7 in}")
    words: Words | None = _key("What its maker says of it.", example="Turned between centers, then hollowed by hand.")
    techniques: list[Label] = _key("How it was made.", example="[hollowing]", default=())
    inspired_by: FileName | None = _key(
        "The project of this archive that it was made after, by the name of its file.", example="lantern"
    )
    pictures: Annotated[list[EntryPictureKeys], Field(min_length=1, max_length=12)] = _required(
        "Its photographs.", "[{file: scoop.jpg, shows: A scoop of pale wood}]"
    )

    @model_validator(mode="after")
    def _has_a_size(self) -> EntryKeys:
        if not any((self.size.diameter, self.size.height, self.size.length)):
            fault("no size is told", "tell at least one of diameter, height and length")
        return self
