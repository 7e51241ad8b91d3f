"""Values a maker might give, right and wrong, for the property tests of the trade."""

from __future__ import annotations

from hypothesis import strategies as st

from handouts_build.quantities import Kind, Quantity, count, millimetres, of_kind
from handouts_build.trade import Chapter, ChapterInput

lengths = st.floats(0.5, 300).map(millimetres)
"""Lengths from half a millimetre to 300 mm."""

strange_lengths = st.one_of(lengths, st.just(0.0).map(millimetres), st.floats(-20, 0).map(millimetres))
"""Lengths that may also be nought or less."""

_NUMBERS = {
    "turns": st.floats(-0.5, 3),
    "humidity_from": st.floats(-5, 105),
    "humidity_to": st.floats(-5, 105),
    "temperature": st.floats(20, 140),
    "hole_movement": st.floats(0.0005, 0.005),
    "tenon_movement": st.floats(0.0005, 0.005),
    "tangential": st.floats(0.0005, 0.005),
    "radial": st.floats(0.0005, 0.005),
    "humidity": st.floats(-5, 105),
    "specific_gravity": st.floats(0.1, 1.3),
    "specific_gravity_12": st.floats(0.1, 1.3),
    "shrink_volume": st.floats(0.5, 25),
    "shrink_tangential": st.floats(0.5, 15),
    "shrink_radial": st.floats(0.5, 15),
    "moisture": st.floats(0, 60),
    "green_moisture": st.floats(20, 120),
    "moisture_from": st.floats(10, 120),
    "moisture_to": st.floats(0, 20),
    "end_grain": st.sampled_from([0.0, 1.0]),
    "coats": st.integers(1, 8),
    "coverage": st.floats(1, 30),
    "cure_days": st.floats(0, 60),
    "waste": st.floats(0, 100),
    **{
        name: st.floats(5, 1500)
        for name in ("coarsest", "finest", "widest_from", "widest_to", "narrowest_from", "narrowest_to")
    },
}
_OTHERS = {
    Kind.SPEED: st.floats(10, 4000),
    Kind.AREA: st.floats(1, 1e6),
    Kind.VOLUME: st.floats(1, 1e7),
    Kind.MASS: st.floats(1, 1e4),
    Kind.DENSITY: st.floats(1e-4, 2e-3),
}
_COUNTS = st.one_of(st.integers(2, 40), st.integers(-3, 400), st.floats(0, 20))


def _one(given: ChapterInput, length: st.SearchStrategy[Quantity], *, strange: bool) -> st.SearchStrategy[Quantity]:
    if given.kind is Kind.LENGTH:
        return length
    if given.kind in _OTHERS:
        values = st.one_of(_OTHERS[given.kind], st.floats(-5, 0)) if strange else _OTHERS[given.kind]
        return values.map(lambda value: of_kind(value, given.kind))
    return _NUMBERS.get(given.name, _COUNTS).map(count)


def givens(chapter: Chapter, *, strange: bool = False) -> st.SearchStrategy[dict[str, Quantity]]:
    """Values for a chapter's givens and the rule; those that may be left out sometimes are."""
    length = strange_lengths if strange else lengths
    needed = {given.name: _one(given, length, strange=strange) for given in chapter.givens if not given.optional}
    others = {given.name: _one(given, length, strange=strange) for given in chapter.givens if given.optional}
    needed["rule"] = st.sampled_from([0.1, 0.5, 25.4 / 32, 25.4 / 16]).map(millimetres)
    return st.fixed_dictionaries(needed, optional=others)
