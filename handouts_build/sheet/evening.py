"""A demonstration worked out: when what is shown, what to pack, what to saw.

This module owns the frozen results that run sheet, packing list, stock list and
calendar are drawn from, and apart from them what of it is public. `PublicDemonstration` has no
field that a contact or a link could stand in unless its owner asked for it, and
nothing but `PublicDemonstration` reaches the site. It computes nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from handouts_build.language import phrases_in_a_row, tr
from handouts_build.quantities import Printed, Quantity
from handouts_build.sheet.findings import Finding, Level
from handouts_build.sheet.project import Sheet, Step

__all__ = [
    "Brought",
    "Changed",
    "Checkpoint",
    "Deadline",
    "Demonstration",
    "Drop",
    "PackGroup",
    "PackItem",
    "Plan",
    "PlanLine",
    "PlannedStep",
    "PrivateNotes",
    "PublicDemonstration",
    "StockCut",
    "StockLine",
    "StockPlan",
    "TakenStick",
]


@dataclass(frozen=True)
class Brought:
    """A piece that is made beforehand and picked up in the course of the evening."""

    part: str
    title: str
    """The part's."""
    step: int
    """Number of the last step that is done on it."""

    def __str__(self) -> str:
        return tr("{part}, finished through step {number}", part=self.title, number=self.step)


@dataclass(frozen=True)
class PlanLine:
    """One entry of the run sheet, in the order of the clock."""

    kind: str
    """`opening`, `safety talk`, `step`, `break`, `hands-on` or `questions`."""
    name: str
    starts: datetime
    """When it starts if all goes as expected; aware."""
    minutes: float
    """How long it is expected to take."""
    sd: float
    """Standard deviation of that, minutes."""
    shown: str = "live"
    """`live`, `talk` or `ready-made`."""
    why: str = ""
    """Why it is shown so."""
    step: Step | None = None
    camera: str = ""
    cue: str = ""
    """What to say, in a sentence."""
    caution: str = ""
    """What to say aloud before the tool touches the wood; empty where nothing is turned."""
    brought: tuple[Brought, ...] = ()
    """The pieces, made beforehand, that are taken up here."""
    told_on: bool = False
    """Whether it is told on a piece that was taken up before."""
    runs: int = 0
    """Recorded runs that the minutes rest on, besides the guess."""
    known: bool = True
    """Whether the author or a run says how long it takes; if not, the minutes are taken out of the air."""

    @property
    def swap(self) -> str:
        """The pieces that are taken up here, in words."""
        return phrases_in_a_row(map(str, self.brought))


@dataclass(frozen=True)
class Drop:
    """What can be told instead of turned, and nothing that is turned later lacks it."""

    names: tuple[str, ...]
    """Steps that must be dropped together."""
    saves: float
    """Minutes."""
    take_up: str = ""
    """The piece to go on with, where one is packed."""


@dataclass(frozen=True)
class Checkpoint:
    """A look at the clock: how late one may be, and what to drop."""

    before: str
    """What comes next."""
    expected: datetime
    latest: datetime
    """Later than this, what is left no longer fits as surely as was asked."""
    drop: tuple[Drop, ...]
    """What to tell instead of turn, in this order."""
    rest: float = 0.0
    """Minutes of a break that is still to come."""


@dataclass(frozen=True)
class PlannedStep:
    """A step that is shown, with both its times: mean and standard deviation in minutes, and how many runs."""

    name: str
    live: bool
    turned: tuple[float, float, int]
    """If it is turned before the audience."""
    telling: tuple[float, float, int]
    """If it is told."""


@dataclass(frozen=True)
class Plan:
    """The show against the clock."""

    lines: tuple[PlanLine, ...]
    checkpoints: tuple[Checkpoint, ...]
    ends: datetime
    """When the club's slot ends."""
    slot: float
    """Minutes that the club gives, in all."""
    mean: float
    """Minutes it is expected to take, in all."""
    sd: float
    chance: float
    """That it is over in time."""
    confidence: float
    """The chance that was asked for."""
    fits: bool
    over: datetime
    """When it is expected to be over."""
    room: float
    """Minutes for the steps: the slot without break and questions."""
    says: tuple[str, ...]
    """How this came about, in sentences."""
    method: tuple[str, ...]
    """How times were worked out."""
    steps: tuple[PlannedStep, ...] = ()
    """Those that are shown, as they are frozen when the run sheet is printed."""
    checksum: str = ""
    """Of what the plan follows from, times apart."""
    printed: str = ""
    """When the plan was frozen, by UTC; empty where it is not."""


@dataclass(frozen=True)
class Deadline:
    """Something that must be done by a day."""

    name: str
    """What it is called by as long as it is there, such as `pack`."""
    title: str
    on: datetime
    why: str = ""
    timed: bool = False
    """Whether the hour counts, or the day alone."""


@dataclass(frozen=True)
class PackItem:
    """One thing to pack."""

    what: str
    note: str = ""
    count: int = 0
    """How many; 0 where one does not count."""


@dataclass(frozen=True)
class PackGroup:
    """Things that are packed together."""

    title: str
    items: tuple[PackItem, ...]


@dataclass(frozen=True)
class StockLine:
    """Blanks of one part."""

    part: str
    wood: str
    section: str
    """Such as `2 1/2 in (63.5 mm) square`."""
    long: Printed
    uses: tuple[tuple[str, int], ...]
    """What they are for, with how many."""
    weight: Printed | None
    """Of one blank, air-dry; None where the wood's weight is not published."""
    together: str = ""
    """From which lengths several are sawn end to end; empty where each is sawn by itself."""

    @property
    def count(self) -> int:
        """How many in all."""
        return sum(count for _, count in self.uses)


@dataclass(frozen=True)
class StockCut:
    """One stick and what is cut from it."""

    stick: str
    section: str
    long: Quantity
    long_printed: Printed
    pieces: tuple[tuple[str, Quantity, Printed], ...]
    left: Quantity
    left_printed: Printed
    on_hand: int
    """How many of this stick the shop has in all."""


@dataclass(frozen=True)
class TakenStick:
    """Sticks on hand that an earlier demonstration saws into: a later one is not offered them."""

    stick: str
    """What the shop calls it."""
    count: int
    """How many of them."""
    evening: str
    """The demonstration that has them, in words."""


@dataclass(frozen=True)
class StockPlan:
    """What to saw, from what."""

    lines: tuple[StockLine, ...]
    cuts: tuple[StockCut, ...]
    missing: tuple[tuple[str, int, str], ...]
    """Blanks that no stick is left for: part, how many, and why."""
    kerf: Quantity
    kerf_printed: Printed
    trim: Quantity
    trim_printed: Printed
    board_feet: float
    """Wood in the blanks."""
    cubic_metres: float
    finished: tuple[str, ...]
    """Finished pieces that are packed to be shown; their wood is not reckoned."""
    over: float
    """Share of the wood that another way of cutting might save at the most; 0 where none does."""
    all_had: bool
    """Whether it is proven that no more blanks can be had from these sticks."""
    cost: float | None
    """Of the sticks that are cut into; None where a price is not said."""
    currency: str
    taken: tuple[TakenStick, ...] = ()
    """Sticks of the same woods that earlier demonstrations have."""


@dataclass(frozen=True)
class PrivateNotes:
    """What only the demonstrator sees."""

    contact: tuple[str, ...] = ()
    link: str = ""
    notes: tuple[str, ...] = ()
    differently: tuple[str, ...] = ()


@dataclass(frozen=True)
class Demonstration:
    """One showing of a project, worked out for the demonstrator."""

    name: str
    """File name without its ending: date and club."""
    file: str
    sheet: Sheet
    starts: datetime
    """In the host's zone."""
    zone: ZoneInfo
    speaker_zone: ZoneInfo
    club: str
    place: str
    how: str
    attendees: int
    seats: int
    paper: str
    lathe: tuple[tuple[str, str], ...]
    """What is known of the host's lathe: name and value."""
    plan: Plan
    packing: tuple[PackGroup, ...]
    stock: StockPlan
    findings: tuple[Finding, ...]
    private: PrivateNotes
    deadlines: tuple[Deadline, ...] = ()
    """What must be done by when."""
    listed: bool = True
    """Whether the public archive lists it."""
    arrives: datetime | None = None
    """When one may come in and set up; None if not said."""
    opens: datetime | None = None
    """When the doors open."""
    cancelled: str = ""
    """Why it does not take place; empty where it does."""

    @property
    def stopped(self) -> bool:
        """Whether it cannot be shown as written."""
        return any(finding.level is Level.STOP for finding in self.findings)

    def fit_to_publish(self, shared: Iterable[str]) -> Demonstration:
        """The same without what is private: notes, findings, the speaker's own clock.

        Args:
            shared: What its owner asked to be shown all the same: `contact`, `link`.
        """
        asked = frozenset(shared)
        return replace(
            self,
            speaker_zone=self.zone,
            findings=(),
            private=PrivateNotes(
                contact=self.private.contact if "contact" in asked else (),
                link=self.private.link if "link" in asked else "",
            ),
        )


@dataclass(frozen=True)
class Changed:
    """A dimension that is another now than on the paper that was handed out."""

    says: str
    then: str
    """Empty where there was none."""
    now: str
    """Empty where there is none any more."""


@dataclass(frozen=True)
class PublicDemonstration:
    """What the public archive says of a demonstration."""

    name: str
    project: str
    """The project's name in the archive."""
    starts: datetime
    zone: str
    club: str
    place: str
    how: str
    held: bool
    """Whether it is over and was not cancelled."""
    attended: int | None
    minutes: float | None
    """How long it took, where it was timed."""
    questions: tuple[tuple[str, str], ...]
    handed_out: Mapping[str, bytes]
    """The papers as they were handed out, by file name."""
    changed: tuple[Changed, ...]
    shared: tuple[tuple[str, str], ...] = ()
    """What its owner asked to be shown: name and value."""
    paper: str = "letter"
    """Paper of the host's country."""
    run_sheet: Mapping[str, Any] = field(default_factory=dict)
    """What the run sheet says, where its owner asked for it to be shown; else empty."""
    cancelled: str = ""
    """Why it does not take place; empty where it does."""
    recorded: bool = False
    """Whether its file says how it went."""
    doors: str = ""
    """Clock time the doors open."""
    ends: datetime | None = None
    """When the time that the club gives is over."""
    recording: str = ""
    """Where its recording is; empty where there is none that anyone may see."""
    chapters: tuple[tuple[int, str], ...] = ()
    """Second of the recording at which each chapter starts, and its title; none where it was not timed."""
