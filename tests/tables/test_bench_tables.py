"""Finishes, grits and lathe speeds against what was published."""

from __future__ import annotations

import itertools
import math

import pytest

from handouts_build.tables.abrasives import CAMI, FEPA, grit, grits
from handouts_build.tables.caution_facts import WORDS, Fact
from handouts_build.tables.finishes import finishes, lookup_finish, suggest_finish
from handouts_build.tables.loading import COMMON_PRACTICE, Standing
from handouts_build.tables.published import published
from handouts_build.tables.speeds import ANY, MANUAL, TEXTBOOK, speed_row, speed_rows, speed_rules


@pytest.mark.parametrize(
    ("grade", "micrometers"),
    [
        # FEPA 43 / ISO 6344, read in a reproduction or from memory.
        ("P16", 1324),
        ("P60", 269),
        ("P80", 201),
        ("P120", 125),
        ("P180", 82),
        ("P220", 68),
        ("P400", 35.0),
        ("P600", 25.8),
        ("P1000", 18.3),
        # ANSI B74.18 (CAMI), read in a reproduction.
        ("80", 192),
        ("100", 141),
        ("220", 68),
        ("400", 22),
        ("600", 15),
    ],
)
def test_grain_is_the_published_mean(grade, micrometers):
    found = grit(grade)
    assert found is not None
    assert found.mean_um.value == micrometers


@pytest.mark.parametrize("scale", [FEPA, CAMI])
def test_a_higher_grade_is_a_finer_grain(scale):
    grades = [int(each.grade.removeprefix("P")) for each in grits(scale)]
    assert grades == sorted(grades)
    assert len(set(grades)) == len(grades) >= 14


def test_the_two_scales_part_in_the_fine_grades():
    """The same number is far finer in CAMI: 400 is about P800."""
    fepa, cami, near = grit("P400"), grit("400"), grit("P800")
    assert fepa
    assert cami
    assert near
    assert cami.mean_um.value < fepa.mean_um.value
    assert cami.mean_um.value == pytest.approx(near.mean_um.value, rel=0.05)


def test_p_grades_above_p240_step_by_a_steady_share():
    """FEPA 43 microgrits follow a geometric series: each is 0.81 to 0.90 of the one before."""
    sizes = [each.mean_um.value for each in grits(FEPA) if int(each.grade[1:]) >= 240]
    assert all(0.81 <= fine / coarse <= 0.90 for coarse, fine in itertools.pairwise(sizes))


def test_a_grade_is_read_in_any_case_and_an_unknown_one_is_none():
    assert grit(" p240 ") == grit("P240")
    assert grit("P333") is None


@pytest.mark.parametrize(
    ("diameter_mm", "roughing", "general", "finishing"),
    [
        # Operator manual of a bench lathe, table of speeds.
        (50, 1510, 2180, 3280),
        (75, 850, 1510, 2180),
        (150, 850, 1230, 1510),
        (151, 360, 850, 1230),
        (320, 360, 360, 850),
    ],
)
def test_manual_table_gives_its_printed_speed(diameter_mm, roughing, general, finishing):
    for operation, rpm in (("roughing", roughing), ("general", general), ("finishing", finishing)):
        row = speed_row(MANUAL, diameter_mm=diameter_mm, operation=operation)
        assert row is not None
        assert (row.rpm_low, row.rpm_high) == (rpm, rpm)


def test_manual_table_stops_at_its_lathes_swing():
    assert speed_row(MANUAL, diameter_mm=321, operation="roughing") is None


def test_textbook_of_1919_gives_numbers_only_up_to_three_inches():
    """Milton and Wohlers: 2400 to 3000 rpm up to 3 in; above that pulley steps."""
    small, middle, large = (speed_row(TEXTBOOK, diameter_mm=25.4 * inches, operation=ANY) for inches in (3, 6, 10))
    assert small
    assert middle
    assert large
    assert (small.rpm_low, small.rpm_high) == (2400, 3000)
    assert middle.rpm_low is None
    assert "second or third" in middle.says
    assert large.to_mm is None
    assert "slowest" in large.says


@pytest.mark.parametrize("operation", ["roughing", "general", "finishing"])
def test_manual_speeds_never_rise_with_diameter(operation):
    speeds = [row.rpm_high for row in speed_rows(MANUAL) if row.operation == operation]
    assert len(speeds) == 5
    assert speeds == sorted(speeds, key=lambda rpm: -(rpm or 0))


def test_rules_are_labelled_for_what_they_are():
    assert {rule.id: rule.kind for rule in speed_rules()} == {
        "northcott 1876": "published rule",
        "diameter times rpm": "rule of thumb",
    }


def test_northcotts_rule_is_two_thousand_feet_a_minute():
    """2000 ft/min at the rim: 12 x 2000 / pi = 7639 (Northcott 1876)."""
    rule = next(each for each in speed_rules() if each.id == "northcott 1876")
    low, high = rule.rpm(diameter_in=1)
    assert low == high == pytest.approx(12 * 2000 / math.pi, abs=0.5)


def test_diameter_times_rpm_bounds_a_three_inch_blank():
    """Common practice, no published source: 6000 to 9000, so 2000 to 3000 rpm at 3 in."""
    rule = next(each for each in speed_rules() if each.id == "diameter times rpm")
    assert rule.standing is Standing.COMMON_PRACTICE
    assert rule.rpm(diameter_in=3) == (2000, 3000)


def test_there_are_at_least_twelve_kinds_of_finish():
    assert len({finish.id for finish in finishes()}) >= 12


def test_no_finish_number_claims_more_than_common_practice():
    for finish in finishes():
        for number in (finish.coverage_m2_per_l, finish.coats, finish.cure_days):
            if number is not None:
                assert number.standing is Standing.COMMON_PRACTICE
                assert number.source == COMMON_PRACTICE
                assert number.approximate


@pytest.mark.parametrize("name", ["raw linseed oil", "boiled linseed oil", "pure tung oil", "walnut oil"])
def test_rags_with_a_drying_oil_can_heat_by_themselves(name):
    """NFPA public safety sheet on oily rags."""
    finish = lookup_finish(name)
    assert finish is not None
    assert finish.oily_rag
    assert finish.oily_rag_source == "S-NFPA"
    assert "self-heating rags" in finish.traits


@pytest.mark.parametrize("name", ["mineral oil", "shellac", "wax", "lacquer"])
def test_what_holds_no_drying_oil_is_not_marked_for_rags(name):
    finish = lookup_finish(name)
    assert finish is not None
    assert not finish.oily_rag


def test_the_oily_rag_mark_and_the_trait_agree():
    for finish in finishes():
        assert finish.oily_rag is ("self-heating rags" in finish.traits)


def test_walnut_oil_is_named_as_a_tree_nut():
    """FDA guidance of January 2025 lists walnut, and not tung, among tree nuts."""
    walnut, tung = lookup_finish("nut oil"), lookup_finish("tung oil")
    assert walnut
    assert tung
    assert "tree nut" in walnut.traits
    assert "tree nut" not in tung.traits
    assert walnut.allergen is not None
    assert walnut.allergen.source == "S-FDA"


def test_finish_traits_are_words_of_the_cautions():
    for finish in finishes():
        assert set(finish.traits) <= WORDS[Fact.FINISH_TRAIT]
        if finish.allergen is not None:
            assert {"tree nut", "other allergen"} & set(finish.traits), finish.id


def test_no_finish_is_called_harmless():
    for finish in finishes():
        text = f"{finish.food.text} {finish.allergen.text if finish.allergen else ''}".lower()
        assert "safe" not in text
        assert "harmless" not in text
        assert "non-toxic" not in text


def test_what_never_cures_has_no_cure_time():
    for name in ("mineral oil", "board butter"):
        finish = lookup_finish(name)
        assert finish is not None
        assert finish.cure_days is None


def test_a_misspelt_finish_gets_the_closest_one():
    assert lookup_finish("tung oyl") is None
    assert suggest_finish("tung oyl") == "did you mean 'tung oil'?"


def test_a_standing_without_a_value_is_refused():
    with pytest.raises(ValueError, match="without a value"):
        published({"x": "", "x_standing": "VERIFIED", "x_source": ""}, "x")
