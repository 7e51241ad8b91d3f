"""Workpieces that a maker might plan, for the property tests of the solid."""

from __future__ import annotations

import dataclasses
import math
from typing import Any

from hypothesis import strategies as st

from handouts_build.workpiece import (
    Ball,
    BaseCut,
    BetweenCenters,
    Bore,
    Cylinder,
    End,
    Flat,
    Groove,
    HolesAround,
    PartOff,
    Prism,
    Reach,
    Recess,
    Round,
    Stage,
    Tenon,
    WorkpieceFault,
    WorkStep,
    carry,
)

LONG, WIDE = 100.0, 60.0
places = st.floats(10, 90)
diameters = st.floats(12, 58)


def cuts() -> st.SearchStrategy[BaseCut]:
    """Cuts that lie within a blank 60 mm across and 100 mm long."""
    end = st.sampled_from(End)
    return st.one_of(
        st.builds(Cylinder, name=st.just("cylinder"), diameter_mm=diameters),
        st.builds(Tenon, name=st.just("tenon"), diameter_mm=diameters, long_mm=st.floats(3, 30), end=end),
        st.builds(Bore, name=st.just("bore"), diameter_mm=st.floats(3, 20), end=end, deep_mm=st.floats(5, 80)),
        st.builds(Recess, name=st.just("recess"), diameter_mm=st.floats(10, 40), end=end, deep_mm=st.floats(1, 10)),
        st.builds(
            HolesAround,
            name=st.just("holes"),
            diameter_mm=st.floats(2, 8),
            count=st.integers(1, 9),
            at_mm=st.just(50.0),
            reach=st.just(Reach.AXIS),
            start_deg=st.floats(0, 360),
        ),
        st.builds(Groove, name=st.just("groove"), at_mm=places, wide_mm=st.floats(1, 12), floor_mm=st.floats(6, 28)),
        st.builds(Flat, name=st.just("flat"), distance_mm=st.floats(5, 9.9), angle_deg=st.floats(0, 360)),
        st.builds(Prism, name=st.just("prism"), flats=st.integers(3, 12), across_mm=st.floats(20, 55)),
        st.builds(
            Ball, name=st.just("ball"), diameter_mm=st.floats(20, 55), at_mm=st.just(50.0),
            keep_left_mm=st.just(10.0), keep_right_mm=st.just(10.0),
        ),
        st.builds(
            PartOff, name=st.just("part off"), at_mm=st.floats(80, 99), keep=st.just(End.LEFT),
            kerf_mm=st.floats(1, 4),
        ),
    )  # fmt: skip


BLANK = Round(diameter_mm=WIDE, long_mm=LONG)


@st.composite
def plans(draw: st.DrawFn) -> tuple[WorkStep, ...]:
    """Up to four steps of one cut each, every cut a kind of its own."""
    chosen = draw(st.lists(cuts(), min_size=1, max_size=4, unique_by=lambda cut: cut.name))
    return tuple(WorkStep(name=cut.name, holds=(BetweenCenters(),), cuts=(cut,)) for cut in chosen)


def scaled(thing: Any, factor: float) -> Any:
    """A blank, step or cut with every length multiplied."""
    if dataclasses.is_dataclass(thing) and not isinstance(thing, type):
        changes = {}
        for field in dataclasses.fields(thing):
            value = getattr(thing, field.name)
            if field.name.endswith("_mm") and value is not None and not isinstance(value, tuple):
                changes[field.name] = value * factor
            elif isinstance(value, tuple) or dataclasses.is_dataclass(value):
                changes[field.name] = scaled(value, factor)
        return dataclasses.replace(thing, **changes)
    if isinstance(thing, tuple):
        return tuple(scaled(one, factor) for one in thing)
    return thing


def carried(steps: tuple[WorkStep, ...]) -> tuple[tuple[WorkStep, ...], tuple[Stage, ...]]:
    """The steps that can be carried out on the blank, and their stages."""
    while True:
        try:
            return steps, carry(BLANK, steps, segments=36)
        except WorkpieceFault as fault:
            refused = fault.step
        if refused is None:
            raise AssertionError("a fault of a step tells which")
        steps = steps[:refused] + steps[refused + 1 :]


def near(value: float, wanted: float, *, share: float = 1e-3) -> bool:
    """Whether a value is within a share (0.1 % unless told) of what is wanted."""
    return math.isclose(value, wanted, rel_tol=share)
