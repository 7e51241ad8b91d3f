"""Values a maker might give, right and wrong, for the property tests of the trade."""

from __future__ import annotations

from hypothesis import strategies as st

from handouts_build.quantities import Kind, Quantity, count, millimetres
from handouts_build.trade import Chapter, Given

lengths = st.floats(0.5, 300).map(millimetres)
"""Lengths from half a millimetre to 300 mm."""

strange_lengths = st.one_of(lengths, st.just(0.0).map(millimetres), st.floats(-20, 0).map(millimetres))
"""Lengths that may also be nought or less."""

_NUMBERS = {
    "humidity_from": st.floats(-5, 105),
    "humidity_to": st.floats(-5, 105),
    "temperature": st.floats(20, 140),
    "hole_movement": st.floats(0.0005, 0.005),
    "tenon_movement": st.floats(0.0005, 0.005),
}
_COUNTS = st.one_of(st.integers(2, 40), st.integers(-3, 400), st.floats(0, 20))


def _one(given: Given, length: st.SearchStrategy[Quantity]) -> st.SearchStrategy[Quantity]:
    if given.kind is Kind.LENGTH:
        return length
    return _NUMBERS.get(given.name, _COUNTS).map(count)


def givens(chapter: Chapter, *, strange: bool = False) -> st.SearchStrategy[dict[str, Quantity]]:
    """Values for a chapter's givens and the rule; those that may be left out sometimes are."""
    length = strange_lengths if strange else lengths
    needed = {given.name: _one(given, length) for given in chapter.givens if not given.optional}
    others = {given.name: _one(given, length) for given in chapter.givens if given.optional}
    needed["rule"] = st.sampled_from([0.1, 0.5, 25.4 / 32, 25.4 / 16]).map(millimetres)
    return st.fixed_dictionaries(needed, optional=others)
