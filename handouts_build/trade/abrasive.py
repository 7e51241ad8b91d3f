"""A sequence of papers: how coarse each is, and where a step is too wide.

This module owns the steps between neighboring grits, told by the mean size of their
grain. That size is the table's: FEPA grades wear a P, CAMI grades are bare numbers,
and the same number is not the same grain, so a mixed sequence is judged by the
micrometers alone.
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping
from dataclasses import dataclass
from functools import reduce

from handouts_build.language import in_a_row, tr
from handouts_build.problems import near_miss
from handouts_build.quantities import Kind, Quantity, count
from handouts_build.tables import CAMI, FEPA, Grit, grit, grits
from handouts_build.trade.law import (
    Chapter,
    ChapterInput,
    ChapterRemark,
    Demand,
    Law,
    LookupResult,
    Word,
    WordFault,
    WordVerdict,
)

__all__ = ["GRIT_SEQUENCE", "WIDEST"]

WIDEST = 2.0
"""Common practice: a paper more than twice as fine as the one before leaves its scratches."""

widest = Law(
    "widest", "q", "widest_from / widest_to", "Largest jump between grits, in times finer", "grit-ratio", main=False
)
narrowest = Law(
    "narrowest", "q_0", "narrowest_from / narrowest_to",
    "Smallest jump between grits, in times finer", "grit-ratio", main=False,
)  # fmt: skip
whole = Law(
    "whole", "Q", "coarsest / finest", "From the first grit to the last, in times finer", "grit-ratio", main=False
)


@dataclass(frozen=True)
class _GritStep:
    """From one paper to the next."""

    before: Grit
    after: Grit

    @property
    def ratio(self) -> float:
        """Grain of the one over that of the other."""
        return self.before.mean_um.value / self.after.mean_um.value


def _look_up(said: tuple[str, ...], _told: Mapping[str, Quantity]) -> LookupResult:
    """The grains of a sequence, its widest and narrowest step, and what is wrong with it."""
    papers = []
    for index, grade in enumerate(said):
        found = grit(grade)
        if found is None:
            known = [each.grade for scale in (FEPA, CAMI) for each in grits(scale)]
            raise WordFault(f"'{grade}' is not a grit known here", near_miss(grade.upper(), known), index)
        papers.append(found)
    values = {"papers": len(papers), "coarsest": _grain(papers[0]), "finest": _grain(papers[-1])}
    steps = [_GritStep(before, after) for before, after in itertools.pairwise(papers)]
    if steps:
        wide, narrow = max(steps, key=lambda step: step.ratio), min(steps, key=lambda step: step.ratio)
        values |= {"widest_from": _grain(wide.before), "widest_to": _grain(wide.after)}
        values |= {"narrowest_from": _grain(narrow.before), "narrowest_to": _grain(narrow.after)}
    verdicts = [verdict for step in steps if (verdict := _judged(step)) is not None]
    return LookupResult(
        {name: count(value) for name, value in values.items()}, _remarks_on(papers, steps), tuple(verdicts)
    )


def _grain(paper: Grit) -> float:
    return paper.mean_um.value


def _judged(step: _GritStep) -> WordVerdict | None:
    """What is wrong with a step, if anything."""
    before, after = step.before, step.after
    said = {
        "first": before.grade, "first_grain": f"{_grain(before):g}",
        "second": after.grade, "second_grain": f"{_grain(after):g}",
    }  # fmt: skip
    if step.ratio <= 1:
        return WordVerdict(
            "mind",
            tr(
                "{first} has a grain of {first_grain} micrometers and {second} of {second_grain}: the paper that "
                "follows is no finer",
                **said,
            ),
            tr("leave {second} out, or exchange them", second=after.grade),
        )
    if step.ratio <= WIDEST:
        return None
    between = _between(step)
    grades = reduce(lambda earlier, later: tr("{earlier}, then {later}", earlier=earlier, later=later), between or [""])
    return WordVerdict(
        "mind",
        tr(
            "{first} has a grain of {first_grain} micrometers and {second} of {second_grain}: {times} times finer in "
            "one step, and the scratches of {first} will stay",
            times=f"{step.ratio:.2g}",
            **said,
        ),
        tr("put in {grades}", grades=grades) if between else tr("put in a paper between them"),
    )


def _between(step: _GritStep) -> list[str]:
    """The grits that make a wide step into even ones, of the scale the step ends in.

    One paper is put in for a step up to WIDEST², two up to WIDEST³, and so on; each is
    the one nearest its place on an even scale of ratios.
    """
    parts = 2
    while step.ratio > WIDEST**parts:
        parts += 1
    found: list[str] = []
    for part in range(1, parts):
        wanted = _grain(step.before) / step.ratio ** (part / parts)
        inside = [each for each in grits(step.after.scale) if _grain(step.after) < _grain(each) < _grain(step.before)]
        if inside:
            best = min(inside, key=lambda each: max(_grain(each) / wanted, wanted / _grain(each)))
            if best.grade not in found:
                found.append(best.grade)
    return found


def _remarks_on(papers: list[Grit], steps: list[_GritStep]) -> tuple[ChapterRemark, ...]:
    """Each grain with its source, and each step."""
    by_source: dict[str, list[str]] = {}
    for paper in dict.fromkeys(papers):
        grain = f"{_grain(paper):g}"
        sentence = (
            tr("{grade} about {grain}", grade=paper.grade, grain=grain)
            if paper.mean_um.approximate
            else f"{paper.grade} {grain}"
        )
        by_source.setdefault(paper.mean_um.source, []).append(sentence)
    remarks = [
        ChapterRemark(tr("Mean grain in micrometers: {grains}.", grains=in_a_row(grains)), source)
        for source, grains in by_source.items()
    ]
    if steps:
        each = [
            tr(
                "{first} to {second} {times}",
                first=step.before.grade,
                second=step.after.grade,
                times=f"{step.ratio:.2f}",
            )
            for step in steps
        ]
        remarks.append(ChapterRemark(tr("Times finer at each step: {steps}.", steps=in_a_row(each)), "grit-ratio"))
    if len({paper.scale for paper in papers}) > 1:
        remarks.append(
            ChapterRemark(
                tr("Two scales are mixed here: a grade with P is FEPA, one without is CAMI."), papers[0].mean_um.source
            )
        )
    return tuple(remarks)


def _remarks(_known: Mapping[str, Quantity]) -> tuple[ChapterRemark, ...]:
    """How it is gone about."""
    return (
        ChapterRemark(
            tr(
                "Sand with each paper until the scratches of the one before are gone. Wipe the dust off before "
                "the next."
            ),
            "grit-step",
        ),
    )


def _grain_given(name: str, symbol: str, says: str) -> ChapterInput:
    return ChapterInput(name, symbol, Kind.NUMBER, f"{says}, micrometers", optional=True)


GRIT_SEQUENCE = Chapter(
    name="grit sequence",
    about="A sequence of abrasive papers by the mean size of their grain, and the jumps that are too large.",
    words=(
        Word(
            "grits",
            "The papers in the order they are used",
            "a list of grits as printed on the back: P80 for FEPA, 80 for CAMI",
            _look_up,
            several=True,
        ),
    ),
    givens=(
        ChapterInput("papers", "n", Kind.NUMBER, "Number of papers", optional=True),
        _grain_given("coarsest", "g_1", "Mean grain of the first paper"),
        _grain_given("finest", "g_n", "Mean grain of the last paper"),
        _grain_given("widest_from", "g_a", "Mean grain before the largest jump"),
        _grain_given("widest_to", "g_b", "Mean grain after the largest jump"),
        _grain_given("narrowest_from", "g_c", "Mean grain before the smallest jump"),
        _grain_given("narrowest_to", "g_d", "Mean grain after the smallest jump"),
    ),
    laws=(widest, narrowest, whole),
    demands=(
        *(
            Demand(
                f"{name} > 0",
                "problem",
                f"a grain of {{{name}}} micrometers",
                "give a number of more than nought",
                name,
            )
            for name in ("coarsest", "finest", "widest_from", "widest_to", "narrowest_from", "narrowest_to")
        ),
        Demand(
            "papers >= 2",
            "note",
            "{papers} paper is no sequence",
            "list the papers in the order they are used",
            source="grit-step",
        ),
    ),
    remarks=_remarks,
)
