"""What a sum of formulas comes down to by name, checked against values at random sizes."""

from __future__ import annotations

import random

import pytest

from handouts_build.formulas import parse, sum_of_names, value_of
from handouts_build.quantities import millimetres


@pytest.mark.parametrize(
    ("formulas", "names"),
    [
        (["deep - 3/4 in", "3/4 in"], ("deep",)),
        (["body * 0.6", "body * 0.4"], ("body",)),
        (["(shaft - 54 mm) / 2", "54 mm", "(shaft - 54 mm) / 2"], ("shaft",)),
        (["below", "above", "neck"], ("below", "above", "neck")),
        (["tall - cap", "cap - -(rim)"], ("tall", "rim")),
        (["2 * wall"], ()),
        (["deep + 1 in"], ()),
        (["deep - wall"], ()),
        (["sqrt(deep ^ 2)"], ()),
        (["deep * wall / wall"], ()),
        (["2 in"], ()),
    ],
)
def test_a_sum_is_told_by_its_names_where_it_is_just_those(formulas: list[str], names: tuple[str, ...]) -> None:
    trees = [parse(formula) for formula in formulas]
    assert sum_of_names(trees) == names
    chance = random.Random(7)
    for _ in range(20 if names else 0):
        sizes = {
            name: millimetres(chance.uniform(5, 90))
            for name in ("deep", "body", "shaft", "below", "above", "neck", "tall", "cap", "rim", "wall")
        }
        whole = sum(float(value_of(tree, sizes.__getitem__).m_as("mm")) for tree in trees)
        assert whole == pytest.approx(sum(float(sizes[name].m_as("mm")) for name in names))
