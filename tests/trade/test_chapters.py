"""What is true of every chapter."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from strategies_trade import givens

import handouts_build.tables
from handouts_build.quantities import Kind, Quantity, count, inches, kind_of, quantity
from handouts_build.tables import index_wheels, rules, sources
from handouts_build.tables.loading import read_rows
from handouts_build.trade import CHAPTERS, Chapter
from handouts_build.trade.outlines import PROFILE_DEMANDS, PROFILE_VALUES
from tests.effort import tries

chapters = pytest.mark.parametrize("chapter", CHAPTERS.values(), ids=CHAPTERS.keys())
unhurried = settings(deadline=None, max_examples=tries(15, 60), suppress_health_check=[HealthCheck.filter_too_much])


SCALE = {Kind.LENGTH: 1, Kind.AREA: 2, Kind.VOLUME: 3, Kind.MASS: 3, Kind.RIM_SPEED: 1}
"""Power of the scale that each kind goes by; all others stay as they are."""
OWN_SCALE = {
    # A film is as thick on a large piece as on a small one, so that the quantity goes by the area.
    ("finish", "film"): 0,
    ("finish", "one_coat"): 2,
    ("finish", "all_coats"): 2,
}
OUTSIDE_THE_CHAPTERS = {"board-foot", "cutting-stock", "three-point", "runs-replace"}
"""Sources of the stock and of the time, which are no chapters."""
RULES_OF_SPEED = {
    "speed": {"high", "start", "weak"},
    "drilling": {"speed"},
    "log layout": {"start", "corner_start", "pull"},
}
"""Speeds that fall as the diameter grows; their own tests say how."""


def _names(chapter: Chapter) -> set[str]:
    return {"rule"} | {one.name for one in chapter.givens} | {law.name for law in chapter.laws}


@chapters
def test_names_and_symbols_stand_for_one_thing_in_a_chapter(chapter: Chapter) -> None:
    names = [one.name for one in (*chapter.givens, *chapter.laws)]
    symbols = [one.symbol for one in (*chapter.givens, *chapter.laws)]
    assert len(set(names)) == len(names)
    assert len(set(symbols)) == len(symbols)


@chapters
def test_laws_use_only_givens_and_the_results_before_them(chapter: Chapter) -> None:
    known = {"rule"} | {one.name for one in chapter.givens}
    for law in chapter.laws:
        assert law.needs <= known, law.name
        known.add(law.name)


@chapters
def test_demands_use_known_names_and_blame_a_given(chapter: Chapter) -> None:
    blamable = {one.name for one in chapter.givens} | {""}
    for demand in chapter.demands:
        assert demand.needs <= _names(chapter), demand.holds
        assert set(re.findall(r"\{(\w+)\}", demand.message + demand.remedy)) <= _names(chapter), demand.message
        assert demand.at in blamable, demand.at
        assert demand.level in ("problem", "stop", "mind", "note")
        assert demand.message
        assert demand.remedy


@chapters
def test_a_dimensions_sheet_is_short(chapter: Chapter) -> None:
    """Of a grit sequence the grits themselves are read, and its ratios stand in the workings alone."""
    least = 0 if chapter.name == "grit sequence" else 2
    assert least <= sum(law.main for law in chapter.laws) <= 7


@chapters
def test_words_fill_givens_of_the_chapter_and_have_names_of_their_own(chapter: Chapter) -> None:
    names = {one.name for one in (*chapter.givens, *chapter.laws)}
    for word in chapter.words:
        assert word.name not in names
        for choice in word.choices:
            assert word.look_up((choice,), {"diameter": inches(2)}).values.keys() <= names


def test_every_source_named_exists_and_every_source_is_named() -> None:
    named = {one.source for one in (*PROFILE_VALUES, *PROFILE_DEMANDS, *index_wheels(), *rules())}
    named |= {one.source for chapter in CHAPTERS.values() for one in (*chapter.laws, *chapter.demands)}
    for file in Path(handouts_build.tables.__file__).parent.glob("*.csv"):
        for row in read_rows(file.name):
            named |= {row[column] for column in row if column == "source" or column.endswith("_source")}
    for name, chapter in CHAPTERS.items():
        # Remarks depend on values: every number of divisions and ribs from 2 to 12, and one full set for the others.
        for n in range(2, 13):
            named |= {remark.source for remark in chapter.remarks(_worked(name, n))}
    assert named - {""} <= set(sources())
    assert set(sources()) - named == OUTSIDE_THE_CHAPTERS


def _worked(name: str, n: int) -> dict[str, Quantity]:
    values: dict[str, dict[str, Quantity]] = {
        "divisions": {"divisions": count(n), "diameter": inches(2)},
        "cross holes": {"holes": count(n), "bit": inches(1 / 8), "diameter": inches(2)},
        "cross-axis groove": {"ribs": count(n), "diameter": inches(2), "wide": inches(1 / 8), "deep": inches(1 / 4)},
        "fit": {
            "hole": inches(1 / 2), "part": inches(1), "hole_movement": count(0.002), "tenon_movement": count(0.003),
            "humidity_from": count(65), "humidity_to": count(30),
        },
        "speed": {"diameter": inches(2), "rpm": quantity(1000, "rpm")},
        "drilling": {"bit": inches(1 / 2), "depth": inches(1), "wood_length": inches(1)},
        "wood": {"specific_gravity": count(0.5), "humidity": count(50), "green_moisture": count(80)},
        "movement": {
            "wide": inches(6), "shrink_tangential": count(8), "shrink_radial": count(4),
            "humidity_from": count(65), "humidity_to": count(30),
        },
        "drying": {
            "diameter": inches(6), "shrink_tangential": count(8), "shrink_radial": count(4), "wall": inches(1 / 4),
            "weight": quantity(900, "g"),
        },
    }  # fmt: skip
    return CHAPTERS[name].work(rule=inches(1 / 32), **values.get(name, {"diameter": inches(2)}))


@chapters
@given(data=st.data())
@unhurried
def test_demands_on_givens_can_be_judged_whatever_is_given(chapter: Chapter, data: st.DataObject) -> None:
    known = chapter.completed(data.draw(givens(chapter, strange=True)))
    for demand in chapter.demands:
        if demand.needs <= known.keys():
            assert demand.met(known) in (True, False)


@chapters
@given(data=st.data())
@unhurried
def test_givens_without_a_problem_always_work_out(chapter: Chapter, data: st.DataObject) -> None:
    """No law faults, and every demand and remark can be said, once the demands on the givens are met."""
    known = chapter.completed(data.draw(givens(chapter)))
    assume(all(demand.met(known) for demand in chapter.demands if demand.level == "problem"))
    worked = chapter.work(**known)
    for demand in chapter.demands:
        demand.met(worked)
    for remark in chapter.remarks(worked):
        assert set(re.findall(r"\{(\w+)\}", remark.text)) <= worked.keys()
        assert remark.source in sources()
    for law in chapter.laws:
        if law.name in worked:
            assert kind_of(worked[law.name]) is not None, law.name


@chapters
@given(data=st.data(), factor=st.sampled_from([0.25, 0.5, 2.0, 4.0]))
@unhurried
def test_scaling_a_piece_scales_all_that_follows(chapter: Chapter, data: st.DataObject, factor: float) -> None:
    """Powers of two keep floats exact, so that the nearest mark scales too."""
    known = chapter.completed(data.draw(givens(chapter)))
    assume(all(demand.met(known) for demand in chapter.demands if demand.level == "problem"))
    larger = {name: one * factor ** SCALE.get(kind_of(one), 0) for name, one in known.items()}
    small, large = chapter.work(**known), chapter.work(**larger)
    assert small.keys() == large.keys()
    for name in small.keys() - RULES_OF_SPEED.get(chapter.name, set()):
        power = OWN_SCALE.get((chapter.name, name), SCALE.get(kind_of(small[name]), 0))
        assert large[name].magnitude == pytest.approx(small[name].magnitude * factor**power, rel=1e-9, abs=1e-9), name


@chapters
def test_what_a_demand_says_and_advises_names_only_values_of_its_chapter(chapter: Chapter) -> None:
    for demand in chapter.demands:
        assert set(re.findall(r"\{(\w+)\}", demand.message + demand.remedy)) <= _names(chapter), demand.message
