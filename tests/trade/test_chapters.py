"""What is true of every chapter."""

from __future__ import annotations

import re
from collections.abc import Mapping

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from strategies_trade import givens

from handouts_build.formulas import parse, value_of
from handouts_build.quantities import Kind, Quantity, kind_of
from handouts_build.tables import index_wheels, sources
from handouts_build.trade import CHAPTERS, Chapter
from handouts_build.trade.outlines import PROFILE_DEMANDS, PROFILE_VALUES

chapters = pytest.mark.parametrize("chapter", CHAPTERS.values(), ids=CHAPTERS.keys())
unhurried = settings(deadline=None, max_examples=60, suppress_health_check=[HealthCheck.filter_too_much])


def _with_defaults(chapter: Chapter, known: Mapping[str, Quantity]) -> dict[str, Quantity]:
    full = dict(known)
    for one in chapter.givens:
        if one.name not in full and one.default:
            full[one.name] = value_of(parse(one.default), full.__getitem__)
    return full


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
    assert 3 <= sum(law.main for law in chapter.laws) <= 7


def test_every_source_named_exists_and_every_source_is_named() -> None:
    named = {one.source for one in (*PROFILE_VALUES, *PROFILE_DEMANDS, *index_wheels())}
    named |= {one.source for chapter in CHAPTERS.values() for one in (*chapter.laws, *chapter.demands)}
    for name, chapter in CHAPTERS.items():
        # Remarks depend on values: every number of divisions and ribs from 2 to 12, and a fit with both woods.
        for n in range(2, 13):
            named |= {remark.source for remark in chapter.remarks(_worked(name, n))}
    assert named - {""} == set(sources())


def _worked(name: str, n: int) -> dict[str, Quantity]:
    from handouts_build.quantities import count, inches

    values: dict[str, dict[str, Quantity]] = {
        "sphere by facets": {"diameter": inches(2)},
        "divisions": {"divisions": count(n), "diameter": inches(2)},
        "cross holes": {"holes": count(n), "bit": inches(1 / 8), "diameter": inches(2)},
        "cross-axis groove": {"ribs": count(n), "diameter": inches(2), "wide": inches(1 / 8), "deep": inches(1 / 4)},
        "fit": {
            "hole": inches(1 / 2), "part": inches(1), "hole_movement": count(0.002), "tenon_movement": count(0.003),
            "humidity_from": count(65), "humidity_to": count(30),
        },
    }  # fmt: skip
    return CHAPTERS[name].work(rule=inches(1 / 32), **values[name])


@chapters
@given(data=st.data())
@unhurried
def test_demands_on_givens_can_be_judged_whatever_is_given(chapter: Chapter, data: st.DataObject) -> None:
    known = _with_defaults(chapter, data.draw(givens(chapter, strange=True)))
    for demand in chapter.demands:
        if demand.needs <= known.keys():
            assert demand.met(known) in (True, False)


@chapters
@given(data=st.data())
@unhurried
def test_givens_without_a_problem_always_work_out(chapter: Chapter, data: st.DataObject) -> None:
    """No law faults, and every demand and remark can be said, once the demands on the givens are met."""
    known = _with_defaults(chapter, data.draw(givens(chapter)))
    assume(all(demand.met(known) for demand in chapter.demands if demand.level == "problem"))
    worked = chapter.work(**known)
    for demand in chapter.demands:
        demand.met(worked)
    for remark in chapter.remarks(worked):
        assert set(re.findall(r"\{(\w+)\}", remark.text)) <= worked.keys()
        assert remark.source in sources()
    for law in chapter.laws:
        if law.name in worked:
            assert kind_of(worked[law.name]) in (Kind.LENGTH, Kind.ANGLE, Kind.NUMBER), law.name


@chapters
@given(data=st.data(), factor=st.sampled_from([0.25, 0.5, 2.0, 4.0]))
@unhurried
def test_scaling_every_length_scales_every_length_that_follows(
    chapter: Chapter, data: st.DataObject, factor: float
) -> None:
    """Powers of two keep floats exact, so that the nearest mark scales too."""
    known = _with_defaults(chapter, data.draw(givens(chapter)))
    assume(all(demand.met(known) for demand in chapter.demands if demand.level == "problem"))
    larger = {name: one * factor if kind_of(one) is Kind.LENGTH else one for name, one in known.items()}
    small, large = chapter.work(**known), chapter.work(**larger)
    assert small.keys() == large.keys()
    for name, one in small.items():
        scale = factor if kind_of(one) is Kind.LENGTH else 1.0
        assert large[name].magnitude == pytest.approx(one.magnitude * scale, rel=1e-9, abs=1e-9), name
