"""The sheet: everything worked out for one project, settled and frozen.

Pages, papers and data are drawn from this and nothing else, so they cannot
disagree. It computes nothing, reads nothing, and knows no YAML. Values are
quantities with units; beside each stands the text it is printed as.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from handouts_build.language import in_a_row
from handouts_build.paper import USUAL
from handouts_build.quantities import Err, Manner, Printed, Quantity, Rule
from handouts_build.sheet.author import Paragraph, Picture
from handouts_build.sheet.blank import Blank, told_wood
from handouts_build.sheet.findings import Condition, Finding, Follows, Level
from handouts_build.sheet.layouts import EndLayout
from handouts_build.sheet.profile import Shape
from handouts_build.sheet.stack import Stack
from handouts_build.sheet.stages import StageSummary, Whole

__all__ = [
    "Citation",
    "Dimension",
    "Given",
    "Group",
    "Part",
    "ReadySize",
    "Remark",
    "SafetyBox",
    "Sheet",
    "Size",
    "SpeedLimit",
    "Step",
    "StepNumber",
    "Working",
]


@dataclass(frozen=True)
class Citation:
    """Where a value or a rule comes from."""

    id: str
    text: str
    """A citation, or 'Common practice, no published source'."""
    standing: str
    """`verified`, `memory`, `derived` or `common practice`."""


@dataclass(frozen=True)
class Size:
    """A length or count that the maker chooses."""

    name: str
    says: str
    value: Quantity
    printed: Printed
    least: Printed | None = None
    most: Printed | None = None
    choices: tuple[str, ...] = ()
    bounds: tuple[Quantity | None, Quantity | None] = (None, None)
    """Least and most as values."""
    options: tuple[Quantity, ...] = ()
    """The choices as values."""
    exact: bool = False
    """Whether it is printed as it is, such as a bit, and not to a mark of the rule."""


@dataclass(frozen=True)
class Working:
    """How a dimension was found, so that a reader can check it by hand."""

    symbol: str
    formula: str
    """The formula in symbols."""
    numbers: str
    """The same with the numbers put in."""
    result: str
    """The exact result, to the digits that mean something."""
    rounding: str
    """What was done to it for print; empty when nothing was."""
    source: Citation | None = None


@dataclass(frozen=True)
class Dimension:
    """A value that follows from others."""

    name: str
    """Full dotted name, as used in formulas and text."""
    says: str
    value: Quantity
    printed: Printed
    manner: Manner
    """How it is printed."""
    main: bool
    """Whether it belongs on the dimensions sheet."""
    working: Working
    tree: list[Any] = field(compare=False)
    """The formula as JSON lists, with full names; empty where no formula says it."""
    made: bool = True
    """Whether it is made or marked; else it is wood that is left, which follows."""

    @property
    def err(self) -> Err:
        """The side it is rounded to."""
        return self.manner.err


@dataclass(frozen=True)
class Given:
    """A value a chapter was told."""

    name: str
    symbol: str
    says: str
    value: Quantity
    printed: Printed
    tree: list[Any] = field(default_factory=list, compare=False)
    """How it follows from other values, with full names; empty where a table says it."""
    key: str = ""
    """Its key in the project file, where the author gave it."""
    rests_on: tuple[str, ...] = ()
    """Full names that a table was asked with."""
    lines: tuple[tuple[float, float], ...] = ()
    """The table's lines, where it was asked with one value: its upper bound and what the table says."""
    signed: bool = False
    """Whether a length may be nought or less."""


@dataclass(frozen=True)
class Remark:
    """Something worth saying that is not one number."""

    text: str
    source: Citation
    rests_on: tuple[str, ...] = ()
    """Full names of the values it was said for: at others it may read otherwise, or not be said at all."""


@dataclass(frozen=True)
class Group:
    """Dimensions that belong together: the author's own, one chapter's, or one profile's."""

    name: str
    """Name in formulas; empty for the author's own dimensions."""
    title: str
    chapter: str
    """Chapter of the trade's arithmetic, `profile`, or empty."""
    about: str
    givens: tuple[Given, ...] = ()
    dimensions: tuple[Dimension, ...] = ()
    remarks: tuple[Remark, ...] = ()
    shape: Shape | None = None
    part: str = ""
    """Name of the part it belongs to, if it says so."""
    conditions: tuple[Condition, ...] = ()
    follows: Follows | None = field(default=None, compare=False)
    """How a profile follows."""
    stack: Stack | None = None
    """The courses of a glued-up stack."""
    called: str = ""
    """What the trade calls what it is of, where that has more names than one: a `spigot` for a fit's tenon."""

    @property
    def values(self) -> dict[str, Quantity]:
        """Givens and results by their short names."""
        short: dict[str, Quantity] = {given.name: given.value for given in self.givens}
        short.update({row.name.rpartition(".")[2]: row.value for row in self.dimensions})
        return short

    @property
    def printed(self) -> dict[str, Printed]:
        """Printed forms of givens and results by their short names."""
        short = {given.name: given.printed for given in self.givens}
        short.update({row.name.rpartition(".")[2]: row.printed for row in self.dimensions})
        return short


@dataclass(frozen=True)
class SafetyBox:
    """One safety box: what hurts, and what to do."""

    id: str
    signal: str
    """`danger`, `warning`, `caution` or `notice`, in the order of ANSI Z535."""
    title: str
    hurts: str
    """Who is hurt how."""
    do: tuple[str, ...]
    source: Citation


@dataclass(frozen=True)
class SpeedLimit:
    """What the speed of a step must not exceed: the least of all that bounds it."""

    rpm: Quantity
    printed: str
    because: str
    """What bounds it, with the number that it follows from; no sentence."""
    source: Citation


@dataclass(frozen=True)
class StepNumber:
    """One of the few numbers that a step is turned to."""

    name: str
    """Full name of the size, the dimension or the given: what pages link to its working by."""
    says: str
    """What it is, in full."""
    label: str
    """The same in few words, to be read at arm's length."""
    printed: Printed


@dataclass(frozen=True)
class Step:
    """One thing done to a part."""

    number: int
    """Counted from 1 through the whole project."""
    name: str
    part: str
    say: tuple[Paragraph, ...]
    care: tuple[Paragraph, ...]
    """The author's own cautions for this step."""
    hold: str
    tools: tuple[str, ...]
    minutes: Quantity | None
    speed: str
    """The author's, and the only speed that is advised; empty where none is said."""
    show: str
    """`live`, `talk` or `ready-made`."""
    camera: str
    figures: tuple[str, ...]
    """Names of the groups whose drawings belong here."""
    boxes: tuple[SafetyBox, ...] = ()
    """Safety boxes that this step calls for, gravest first."""
    new_boxes: frozenset[str] = frozenset()
    """Ids of those that no earlier step called for; the others are named, not repeated."""
    least_minutes: Quantity | None = None
    """If all goes well."""
    most_minutes: Quantity | None = None
    """If it goes badly."""
    told_minutes: Quantity | None = None
    """If it is told, or shown on a piece brought ready-made."""
    setup_minutes: Quantity | None = None
    """Of its minutes, those that go once into setting up, however many alike are made."""
    wait: Quantity | None = None
    """How long the work waits after it; None where it goes on at once."""
    worth: int = 3
    """What it is worth to see it live, 1 to 5."""
    limit: SpeedLimit | None = None
    """What its speed must not exceed; None where the lathe stands."""
    stage: StageSummary | None = None
    """The solid after it, if the part is carried as one."""
    formerly: tuple[str, ...] = ()
    """Names it had before."""
    cue: tuple[Paragraph, ...] = ()
    """What to say when it is shown, in the author's own words; empty where the author leaves it to the tool."""
    numbers: tuple[StepNumber, ...] = ()
    """The few that it is turned to, in the order of its words; its speed is not among them."""
    photographs: tuple[Picture, ...] = ()
    """The author's, named by the step."""

    @property
    def telling(self) -> float:
        """Minutes to tell it, or to show it on a piece brought ready-made; 1 where the author says none."""
        said = self.minutes if self.told_minutes is None and self.show == "talk" else self.told_minutes
        return 1.0 if said is None else float(said.magnitude)

    @property
    def setup(self) -> float:
        """Minutes that go once into setting up."""
        return 0.0 if self.setup_minutes is None else float(self.setup_minutes.magnitude)

    @property
    def each(self) -> float:
        """Minutes for one piece, setting up apart; nought where the author says none."""
        return 0.0 if self.minutes is None else float(self.minutes.magnitude) - self.setup

    @property
    def waits(self) -> float:
        """Minutes that the work waits after it."""
        return 0.0 if self.wait is None else float(self.wait.magnitude)


@dataclass(frozen=True)
class Part:
    """One piece of wood."""

    name: str
    title: str
    wood: str
    grain: str
    blank: Blank
    steps: tuple[Step, ...]
    falls_off: str = ""
    """The part it falls off, if it needs no wood of its own."""
    puts_on: tuple[str, ...] = ()
    """The parts that are put on it at some step, and turned with it."""
    count: int = 1
    """How many are made, all alike."""
    count_printed: Printed | None = None
    """The same as the author's count; None where the file says none."""
    per_stick: int = 1
    """How many of its blanks are sawn from one length, end to end."""
    stick: Printed | None = None
    """That length, with the saw cuts; None where each is sawn by itself."""

    @property
    def minutes(self) -> float:
        """Minutes to make all that are made of it: setting up once, the rest for each."""
        return sum(step.setup + self.count * step.each for step in self.steps)

    @property
    def woods(self) -> tuple[str, ...]:
        """Its woods, each once: those of its courses, where it is glued up from several."""
        several = self.blank.stack or self.blank.laminate
        return several.woods if several is not None else (self.wood,)

    @property
    def told_wood(self) -> str:
        """Its woods in a line."""
        return in_a_row(map(told_wood, self.woods))


@dataclass(frozen=True)
class Erratum:
    """Something that was wrong once, and is put right."""

    day: date
    """The day it was put right."""
    wrong: Paragraph
    """What was wrong, and what is right."""
    printed: tuple[date, ...] = ()
    """The days of the evenings whose papers say it; empty for all that were before."""

    def affects(self, day: date) -> bool:
        """Whether the papers of an evening say it.

        Args:
            day: Of the evening.
        """
        return day in self.printed if self.printed else day < self.day


@dataclass(frozen=True)
class ReadySize:
    """The piece at other sizes that the author worked out beforehand."""

    name: str
    """As its papers' names have it."""
    says: str
    sizes: tuple[str, ...]
    """Names of the sizes that are its own."""
    sheet: Sheet


@dataclass(frozen=True)
class Sheet:
    """One project, worked out."""

    name: str
    """File name without its ending; the project's address in the archive."""
    file: str
    title: str
    summary: tuple[Paragraph, ...]
    kind: str
    level: str
    techniques: tuple[str, ...]
    rule: Rule
    by: str
    """Who made it and shows it; may be empty."""
    club: str
    """Who it is shown to; may be empty."""
    sizes: tuple[Size, ...]
    groups: tuple[Group, ...]
    parts: tuple[Part, ...]
    supplies: tuple[str, ...]
    pictures: tuple[Picture, ...]
    """Photographs of the piece; those of a step are the step's."""
    findings: tuple[Finding, ...]
    boxes: tuple[SafetyBox, ...] = ()
    """Safety boxes for the whole piece, gravest first; each step has its own besides."""
    closing: str = ""
    """The words every handout's safety section ends with."""
    conditions: tuple[Condition, ...] = ()
    """What the author asks of every size."""
    cautions: tuple[tuple[str, Condition], ...] = ()
    """Safety boxes that other sizes may call for: the title of each, and what holds as long as none is called for."""
    ready: tuple[ReadySize, ...] = ()
    whole: Whole | None = None
    """The finished piece, if it is carried as a solid."""
    layouts: tuple[EndLayout, ...] = ()
    """What is laid out on ends, as steps call for it by name."""
    papers: tuple[str, ...] = USUAL
    """The papers that are made of it, in the words of `paper.WORDS`."""
    lines: tuple[Paragraph, ...] = ()
    """The single lines of author text that hold values, such as a tool's, as runs."""
    license: str = ""
    """How page, papers and drawings may be passed on; empty where nothing is said."""
    credits: tuple[str, ...] = ()
    """Who else is to be named, each with what for."""
    formerly: tuple[str, ...] = ()
    """Names that its file had before."""
    errata: tuple[Erratum, ...] = ()
    """What was wrong once, the newest first."""
    date: date | None = None
    """The day it was written or shown, where the file says one."""
    text: tuple[Paragraph, ...] = ()
    """What there is to tell of it beside its steps."""
    jigs: tuple[Part, ...] = ()
    """What is made beforehand to make it with: jam chucks, cradles, gauges. No part of the piece."""

    @property
    def steps(self) -> Iterator[Step]:
        """Every step of every part, in order."""
        for part in self.parts:
            yield from part.steps

    @property
    def photographs(self) -> tuple[Picture, ...]:
        """Every photograph, those of the piece first."""
        return (*self.pictures, *(picture for step in self.every_step for picture in step.photographs))

    @property
    def minutes(self) -> float:
        """Minutes to make the piece, over all steps that say them, told and ready-made ones too."""
        return sum(part.minutes for part in self.parts)

    @property
    def waits(self) -> float:
        """Minutes that the work waits between its steps; several alike wait together."""
        return sum(step.waits for step in self.steps)

    @property
    def every_part(self) -> tuple[Part, ...]:
        """The parts, then the jigs."""
        return (*self.parts, *self.jigs)

    @property
    def every_step(self) -> Iterator[Step]:
        """Every step of every part, then of every jig, in order."""
        for part in self.every_part:
            yield from part.steps

    @property
    def tools(self) -> tuple[str, ...]:
        """Every tool the steps name, once, in order of first use; what is listed with the supplies is told there."""
        supplies = {supply.casefold() for supply in self.supplies}
        named = dict.fromkeys(tool for step in self.steps for tool in step.tools)
        return tuple(tool for tool in named if tool.casefold() not in supplies)

    @property
    def woods(self) -> tuple[str, ...]:
        """Every wood, once."""
        return tuple(dict.fromkeys(wood for part in self.parts for wood in part.woods if wood))

    @property
    def told_woods(self) -> tuple[str, ...]:
        """Every wood as readers are told it."""
        return tuple(map(told_wood, self.woods))

    @property
    def dimensions(self) -> Iterator[Dimension]:
        """Every dimension of every group."""
        for group in self.groups:
            yield from group.dimensions

    def group(self, name: str) -> Group:
        """The group of that name.

        Raises:
            KeyError: If there is none.
        """
        for group in self.groups:
            if group.name == name:
                return group
        raise KeyError(name)

    @property
    def told(self) -> tuple[Finding, ...]:
        """The findings that readers are told of."""
        return tuple(finding for finding in self.findings if not finding.private)

    @property
    def stopped(self) -> bool:
        """Whether any finding says it cannot be made as written."""
        return any(finding.level is Level.STOP for finding in self.findings)
