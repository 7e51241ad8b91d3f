"""A law of the trade: one result, its formula, and where the formula comes from.

This module owns the frame the chapters are written in. A law's formula stands
once, in the project's own formula language; from that one text come the value,
the working on the page, and the tree that a page evaluates by itself. A law is
also a plain function on quantities: `setback(diameter=inches(2.25))`.

Some givens stand in published tables. A `Word`, such as a wood's name, looks them
up; what the author gives himself comes before what is looked up, and that before
a default.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from handouts_build.formulas import Node, holds, names, parse, value_of
from handouts_build.quantities import Err, Kind, Manner, Quantity

__all__ = [
    "Chapter",
    "ChapterInput",
    "ChapterRemark",
    "Demand",
    "Law",
    "LookupResult",
    "Word",
    "WordFault",
    "WordVerdict",
]


@dataclass(frozen=True)
class ChapterInput:
    """Something a chapter must be told, or may be."""

    name: str
    """Its name in formulas."""
    symbol: str
    """Its letter in print, such as D."""
    kind: Kind
    says: str
    """What it is, for the reference page and the working."""
    optional: bool = False
    """Whether the results that need it are simply left out without it."""
    default: str = ""
    """Formula used when it is not given; may use the givens before it, and is left out without them."""
    exact: bool = False
    """Whether a size that is given for it is printed as it is wherever it stands: a bit has no mark of a rule."""
    signed: bool = False
    """Whether a length may be nought or less, such as the allowance of a tenon that is pressed in."""

    @property
    def key(self) -> str:
        """The key in a project file: the name with spaces."""
        return self.name.replace("_", " ")


@dataclass(frozen=True)
class Law:
    """One result that follows from what is given.

    Calling it with quantities by name gives the result; `FormulaFault` is raised
    where it has none.
    """

    name: str
    symbol: str
    formula: str
    says: str
    source: str
    """Id in the table of sources."""
    err: Err = Err.NEAREST
    """The safe side when it is rounded to a mark."""
    fine: bool = False
    """Whether it is printed in thousandths rather than marks."""
    main: bool = True
    """Whether it belongs on the dimensions sheet, not only in the working."""
    exact: bool = False
    """Whether it is printed as it is: what is set or read to no mark, or to one mark alone."""
    below: str = ""
    """The hole that it goes into: it is printed from the hole's printed size, so that the two fit as they are read."""
    ways: tuple[str, str] | tuple[()] = ()
    """Of a change, the words for its sign: where it is more than nought, and where it is less."""
    left: bool = False
    """Whether it is wood that is left, which follows from what is made and is not made itself."""

    @property
    def manner(self) -> Manner:
        """How it is printed."""
        return Manner(self.err, self.fine, self.exact, self.below, self.ways)

    @cached_property
    def tree(self) -> Node:
        """The formula, read once."""
        return parse(self.formula)

    @cached_property
    def needs(self) -> frozenset[str]:
        """Names the formula uses."""
        return frozenset(name.name for name in names(self.tree))

    def __call__(self, **given: Quantity) -> Quantity:
        """The value in base units.

        Args:
            **given: A quantity for every name in `needs`.
        """
        return value_of(self.tree, given.__getitem__)


@dataclass(frozen=True)
class Demand:
    """A condition a chapter puts on what it is given and what follows."""

    holds: str
    """The comparison that should be true."""
    level: str
    """`problem` (cannot be worked out), or a finding: `stop`, `mind` or `note`."""
    message: str
    """Said when it is not true; `{name}` stands for a value."""
    remedy: str
    at: str = ""
    """The given to blame, if one."""
    source: str = ""
    """Id in the table of sources, where the limit is one that somebody set."""
    unless: str = ""
    """A given that, where it is there, makes this condition one that is not asked."""

    @cached_property
    def tree(self) -> Node:
        """The comparison, read once."""
        return parse(self.holds)

    @cached_property
    def needs(self) -> frozenset[str]:
        """Names the comparison uses."""
        return frozenset(name.name for name in names(self.tree))

    def asked(self, known: Collection[str]) -> bool:
        """Whether the condition is one to ask, with these names known."""
        return self.needs <= set(known) and self.unless not in known

    def met(self, known: Mapping[str, Quantity]) -> bool:
        """Whether the condition holds, or cannot be judged from what is known."""
        return not self.asked(known) or holds(self.tree, known.__getitem__)


@dataclass(frozen=True)
class ChapterRemark:
    """Something worth saying that is not one number: `{name}` is a value put in, `{|name|}` its amount alone."""

    text: str
    source: str
    """Id in the table of sources."""


@dataclass(frozen=True)
class WordVerdict:
    """What is to be said of a word: like a demand that is not met."""

    level: str
    """A finding: `stop`, `mind` or `note`."""
    message: str
    remedy: str


@dataclass(frozen=True)
class LookupResult:
    """What the tables have for a word."""

    values: Mapping[str, Quantity]
    """By the names of the givens they stand for."""
    remarks: tuple[ChapterRemark, ...] = ()
    """Each number with its standing, and what belongs with it."""
    verdicts: tuple[WordVerdict, ...] = ()
    lines: Mapping[str, tuple[tuple[float, float], ...]] = field(default_factory=dict)
    """For a value found by one other: the table's lines as (upper bound of that other, value), in base units."""


class WordFault(ValueError):
    """A word that the tables have not got.

    Attributes:
        message: What is wrong, in the author's words.
        hint: What would be right.
        index: Which of several words it is.
    """

    def __init__(self, message: str, hint: str, index: int = 0) -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint
        self.index = index


@dataclass(frozen=True)
class Word:
    """A name a chapter may be told, standing for numbers in published tables."""

    name: str
    says: str
    """What it names, for the reference page."""
    what: str
    """What may stand there, such as `a wood`."""
    look_up: Callable[[tuple[str, ...], Mapping[str, Quantity]], LookupResult]
    """From the words and the givens there are; raises `WordFault`."""
    choices: tuple[str, ...] = ()
    """The only words there are, where they are few."""
    several: bool = False
    """Whether it is a list of words, and needed."""

    @property
    def key(self) -> str:
        """The key in a project file: the name with spaces."""
        return self.name.replace("_", " ")


@dataclass(frozen=True)
class Chapter:
    """A chapter of the trade's arithmetic: givens in, results out."""

    name: str
    """As a project file calls it."""
    about: str
    """What it works out, in a sentence."""
    givens: tuple[ChapterInput, ...]
    laws: tuple[Law, ...]
    demands: tuple[Demand, ...] = ()
    words: tuple[Word, ...] = ()
    remarks: Callable[[Mapping[str, Quantity]], tuple[ChapterRemark, ...]] = field(default=lambda _known: ())
    """Remarks that follow from the values."""
    called: Mapping[str, Chapter] = field(default_factory=dict)
    """The same chapter in other words, by what its `called` may say."""

    def workable(self, known: frozenset[str]) -> Iterator[Law]:
        """The laws that can be worked from what is given, in order.

        Args:
            known: Names of the givens there are; results join as they come.
        """
        have = set(known)
        for law in self.laws:
            if law.needs <= have:
                have.add(law.name)
                yield law

    def completed(self, known: Mapping[str, Quantity]) -> dict[str, Quantity]:
        """What is known, and the default of every given that is not and can have one.

        Args:
            known: Values by name: what was given or looked up, and the rule.
        """
        full = dict(known)
        for given in self.givens:
            if given.name in full or not given.default:
                continue
            tree = parse(given.default)
            if all(name.name in full for name in names(tree)):
                full[given.name] = value_of(tree, full.__getitem__)
        return full

    def work(self, **given: Quantity) -> dict[str, Quantity]:
        """Every value of the chapter, givens and results, by name.

        Raises:
            FormulaFault: Where a result does not exist.
        """
        known = self.completed(given)
        for law in self.workable(frozenset(known)):
            known[law.name] = law(**{name: known[name] for name in law.needs})
        return known
