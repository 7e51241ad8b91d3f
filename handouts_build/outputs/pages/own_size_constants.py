"""What the own-size scripts share with the library: limits, conversions, steps of rounding, and words.

This module owns the form in which they are handed over. It names every number and every
sentence that the scripts need and the library has too, so that each stands once; it makes
none up. They are the same for every project.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import MISSING, fields
from functools import cache
from typing import Any

from handouts_build.figures.templates.catalog import drawn
from handouts_build.formulas import (
    ALIKE,
    BINDS,
    CALLED,
    FAULTS,
    MOST_EXPONENT,
    POWERS,
    SIGNS,
    WHOLE_STEPS,
)
from handouts_build.language import spoken, tr
from handouts_build.outputs.words import ACTUAL_SIZE, BOUNDS, LEVELS, MUST, REMEDY, SIGNAL_WORDS, SIGNALS, UNIT_NAMES
from handouts_build.quantities import (
    FINE,
    FINE_PLACES,
    GRAMMAR,
    HALF,
    LEAST_AMOUNT,
    LONGEST,
    LONGEST_MM,
    MM_PLACES,
    MORE_PLACES,
    ON_THE_MARK,
    PRINT_UNITS,
    REFUSALS,
    ROUNDED,
    SAME,
    SPELT,
    UNITS,
    UNNAMED_PLACES,
    UNSEEN_MM,
    VULGAR,
    Kind,
    PrintUnit,
    kind_of,
    quantity,
)
from handouts_build.sheet import Level
from handouts_build.sheet.findings import ASKED

__all__ = ["constants"]


def constants() -> dict[str, Any]:
    """Plain values, ready as JSON; their types are those of the scripts' declarations."""
    return _constants(spoken())


@cache
def _constants(_language: str) -> dict[str, Any]:
    """The same, kept for each language."""
    units, draw = dict(_units()), drawn()
    return {
        "printing": {
            "inch": units["in"][1:],
            "scales": {kind.value: _scales(*systems) for kind, systems in PRINT_UNITS.items()},
            "unnamed": UNNAMED_PLACES,
            "same": SAME,
            "least": LEAST_AMOUNT,
            "near": ON_THE_MARK,
            "half": HALF,
            "more": MORE_PLACES,
            "fine": {"in": list(FINE.inch.as_integer_ratio()), "mm": list(FINE.millimetre.as_integer_ratio())},
            "fine_places": FINE_PLACES,
            "mm_places": MM_PLACES,
            "unseen": UNSEEN_MM,
            "rounded": {str(err): tr(words) for err, words in ROUNDED.items()},
        },
        "reading": {
            "longest": LONGEST,
            "longest_mm": LONGEST_MM,
            "units": units,
            "vulgar": VULGAR,
            "spelt": SPELT,
            "grammar": GRAMMAR,
            "refusals": {name: list(refusal.said) for name, refusal in REFUSALS.items()},
            "same": SAME,
        },
        "formulas": {
            "alike": ALIKE,
            "whole": WHOLE_STEPS,
            "exponent": MOST_EXPONENT,
            "faults": FAULTS,
            "binds": BINDS,
            "signs": SIGNS,
            "called": CALLED,
            "powers": POWERS,
        },
        "words": {
            "levels": {str(level): words for level, words in _levels()},
            "units": {unit: tr(name) for unit, name in UNIT_NAMES.items()},
            "bounds": {sides: tr(said) for sides, said in BOUNDS.items()},
            "remedy": tr(REMEDY),
            "must": {sign: tr(said) for sign, said in MUST.items()},
            "asked": tr(ASKED),
            "actual_size": tr(ACTUAL_SIZE),
        },
        "draw": {**draw, "widths": _widths(draw["widths"])},
    }


def _levels() -> Iterator[tuple[str, str]]:
    """What a finding or a safety box opens with, gravest first."""
    yield Level.STOP, tr(LEVELS[Level.STOP])
    yield from ((signal, tr(SIGNAL_WORDS[signal])) for signal in SIGNALS)
    yield Level.MIND, tr(LEVELS[Level.MIND])
    yield Level.NOTE, tr(LEVELS[Level.NOTE])


def _widths(widths: Mapping[str, float]) -> list[list[Any]]:
    """Letters of one width together, with it."""
    return [
        ["".join(letter for letter in widths if widths[letter] == width), width]
        for width in sorted(set(widths.values()))
    ]


def _scales(inch: tuple[PrintUnit, ...], metric: tuple[PrintUnit, ...]) -> list[list[dict[str, Any]]]:
    """The scales of a kind: in inches and in millimeters, or once where they are the same."""
    return [[_scale(scale) for scale in scales] for scales in ((inch,) if inch is metric else (inch, metric))]


def _scale(scale: PrintUnit) -> dict[str, Any]:
    """A scale without what it leaves as it is."""
    values = ((field.name, getattr(scale, field.name), field.default) for field in fields(scale))
    return {name: value for name, value, usual in values if usual is MISSING or value != usual}


def _units() -> Iterator[tuple[str, list[Any]]]:
    """Every unit one may write: its kind, and its size in base units over a whole number."""
    for unit in UNITS:
        unit_quantity = quantity(1, unit)
        kind = kind_of(unit_quantity)
        # Lengths convert exactly, as fractions; all of theirs are fifths of a millimetre or coarser.
        over = 5 if kind is Kind.LENGTH else 1
        size = float(quantity(over, unit).magnitude)
        yield unit, [kind.value if kind else "", int(size) if size.is_integer() else size, over]
