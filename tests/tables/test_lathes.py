"""Threads and tapers against published tables and the arithmetic of thread names."""

from __future__ import annotations

import itertools
import re

import pytest

from handouts_build.quantities import UNITS, read_quantity
from handouts_build.tables.lathes import spindle_threads, tapers


# An engineering table of Morse tapers (engineersedge.com): taper per foot and diameter at the large end, inches.
@pytest.mark.parametrize(
    ("name", "per_foot", "large"),
    [("MT0", 0.62460, 0.3561), ("MT1", 0.59858, 0.475), ("MT2", 0.59941, 0.700), ("MT3", 0.60235, 0.938)],
)
def test_a_taper_is_the_published_one(name, per_foot, large):
    found = tapers()[name]
    assert (found.taper_in_per_ft, found.large_end_in) == (per_foot, large)


def test_tapers_grow_with_their_numbers():
    """Why a small arbor wants a sleeve in a large socket, and a large one goes in no small socket."""
    ordered = sorted(tapers().values(), key=lambda one: one.number)
    for small, large in itertools.pairwise(ordered):
        assert small.large_end_in < large.small_end_in


def test_a_thread_is_what_its_name_says():
    for name, thread in spindle_threads().items():
        if metric := re.fullmatch(r"M(\d+) x ([\d.]+)", name):
            assert thread.inch * 25.4 == pytest.approx(float(metric[1]), abs=0.001)
            assert thread.pitch_inch * 25.4 == pytest.approx(float(metric[2]), abs=0.001)
        else:
            across, _, turns = name.removesuffix(" TPI").partition(" x ")
            assert thread.inch == pytest.approx(read_quantity(across).m_as(UNITS["in"]))
            assert thread.pitch_inch == pytest.approx(1 / int(turns), abs=0.00001)
