"""The few numbers that a step is turned to.

This module owns which of a step's values are its own: those in its words that one of its
cuts or marks is set to, then the others in its words, and, where these are too few, what
its cuts and marks are set to and its words leave out. Every page, paper and data file takes them from the sheet, so
that they show the same ones.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence, Set
from dataclasses import replace

from handouts_build.formulas import Name
from handouts_build.language import tr
from handouts_build.quantities import Kind, Printed, Quantity, kind_of
from handouts_build.schema import Formula, PartKeys, StepKeys
from handouts_build.sheet import Group, Part, Size, Step, StepNumber
from handouts_build.trade.outlines import PROFILE_VALUES

__all__ = ["FEWEST", "MOST", "with_numbers"]

MOST = 4
"""Numbers of a step that can be taken in at a glance from the lathe: common practice, no published source."""

FEWEST = 2
"""A step whose words hold fewer is given more from its cuts and marks, if they have any."""

_PLACES = frozenset({"at", "start", "end"})
"""Keys of a cut that say where it is: what is measured from where is for the step's words to say."""

_NO_MEASURE = frozenset({Kind.SPEED, Kind.RIM_SPEED})
"""A speed has a place of its own at its step, and there is one."""

_OF_WHAT = frozenset(measure.says for measure in PROFILE_VALUES if measure.name == "length")
"""What is read as of the whole piece where it is not said of what: a tip has a length from end to end too."""

_ASIDE = re.compile(r"[,;:(]")
"""Where a description goes on to what may be left out of a label."""


def with_numbers(
    parts: Sequence[Part], models: Mapping[str, PartKeys], *, sizes: Iterable[Size], groups: Sequence[Group]
) -> tuple[Part, ...]:
    """The parts, each of their steps with its numbers.

    Args:
        parts: Worked out but for this.
        models: Their keys, by the part's name.
        sizes: What the maker chooses.
        groups: What follows.
    """
    named = {number.name: (number, kind) for number, kind in _all(sizes, groups)}
    outlines = frozenset(group.name for group in groups if group.shape is not None)
    titles = {row.name: group.title for group in groups for row in group.dimensions}
    chosen = [
        [_numbers(step, keys, named, outlines) for step, keys in zip(part.steps, models[part.name].steps, strict=True)]
        for part in parts
    ]
    told_apart = _told_apart({number for steps in chosen for numbers in steps for number in numbers}, titles)
    return tuple(
        replace(
            part,
            steps=tuple(
                replace(step, numbers=tuple(told_apart.get(number.name, number) for number in numbers))
                for step, numbers in zip(part.steps, steps, strict=True)
            ),
        )
        for part, steps in zip(parts, chosen, strict=True)
    )


_Named = Mapping[str, tuple[StepNumber, Kind | None]]
"""What a step may be turned to, with the kind of it, by full name."""


def _all(sizes: Iterable[Size], groups: Iterable[Group]) -> Iterator[tuple[StepNumber, Kind | None]]:
    """Every value that a step may be turned to, and its kind."""
    for size in sizes:
        yield from _number(size.name, size.says, size.value, size.printed)
    for group in groups:
        for given in group.givens:
            yield from _number(f"{group.name}.{given.name}", given.says, given.value, given.printed)
        for dimension in group.dimensions:
            yield from _number(dimension.name, dimension.says, dimension.value, dimension.printed)


def _told_apart(numbers: Set[StepNumber], titles: Mapping[str, str]) -> dict[str, StepNumber]:
    """Those that need what they are of before them, by name: those called alike that differ, and every length.

    Two outlines have a length each, and so has the piece.
    """
    values: dict[str, set[Printed]] = defaultdict(set)
    of_what = {tr(says) for says in _OF_WHAT}
    for number in numbers:
        values[number.says].add(number.printed)
    return {
        number.name: _of(number, titles[number.name])
        for number in numbers
        if (len(values[number.says]) > 1 or number.says in of_what) and number.name in titles
    }


def _of(number: StepNumber, title: str) -> StepNumber:
    says, label = (f"{said[:1].lower()}{said[1:]}" for said in (number.says, number.label))
    return replace(
        number,
        says=tr("{title}: {measure}", title=title, measure=says),
        label=tr("{title}: {measure}", title=title, measure=label),
    )


def _number(name: str, says: str, value: Quantity, printed: Printed) -> Iterator[tuple[StepNumber, Kind | None]]:
    kind = kind_of(value)
    if kind not in _NO_MEASURE:
        said = f"{says[:1].upper()}{says[1:]}"
        yield StepNumber(name, said, _ASIDE.split(said, maxsplit=1)[0].strip(), printed), kind


def _numbers(step: Step, keys: StepKeys, named: _Named, outlines: frozenset[str]) -> tuple[StepNumber, ...]:
    named_in_words = _known((run.name for paragraph in step.say for run in paragraph if run.style == "value"), named)
    cut = _known(_set_to(keys, outlines), named)
    # A bare count, such as of ribs, is no number to set anything to where there are lengths.
    if sum(named[name][1] is Kind.LENGTH for name in named_in_words) >= FEWEST:
        named_in_words = [name for name in named_in_words if named[name][1] is not Kind.NUMBER]
    chosen = sorted(named_in_words, key=lambda name: name not in cut)[:MOST]
    others = [name for name in cut if name not in named_in_words][: max(0, FEWEST - len(chosen))]
    return tuple(named[name][0] for name in (*named_in_words, *others) if name in (*chosen, *others))


def _known(names: Iterable[str], named: _Named) -> list[str]:
    """Each name once, if it has a number to show."""
    return [name for name in dict.fromkeys(names) if name in named]


def _set_to(keys: StepKeys, outlines: frozenset[str]) -> Iterator[str]:
    """Names of the values that a step's cuts and marks are set to; of a profile, how long and how wide it is."""
    for item, places in (*((cut, _PLACES) for cut in keys.cut), *((mark, frozenset()) for mark in keys.mark)):
        _, declared = item.only
        for word in declared.words():
            written = None if word in places else declared.written(word)
            for value in written if isinstance(written, list) else [written]:
                if isinstance(value, Formula) and isinstance(value.tree, Name):
                    yield value.tree.name
                elif isinstance(value, str) and value in outlines:
                    yield from (f"{value}.length", f"{value}.widest")
