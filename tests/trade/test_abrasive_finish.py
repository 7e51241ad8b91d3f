"""Papers against FEPA and CAMI, finishes by hand, surfaces against closed forms."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stretches import Measured, arc, half_ellipse, line, quarter_ellipse

from handouts_build.quantities import UNITS, Kind, Quantity, count, inches, millimetres, of_kind
from handouts_build.tables import CAMI, FEPA, finishes, grits
from handouts_build.trade import LookupResult, WordFault
from handouts_build.trade.abrasive import GRIT_SEQUENCE, WIDEST
from handouts_build.trade.elements import CylinderElement, RoundElement, RoundStartElement, TaperElement
from handouts_build.trade.finish import FINISH
from handouts_build.trade.profiles import outline

Rows = Callable[[str], list[dict[str, str]]]


def sequence(*grades: str) -> LookupResult:
    (word,) = GRIT_SEQUENCE.words
    return word.look_up(grades, {})


def finish(name: str, **told: Quantity) -> LookupResult:
    (word,) = FINISH.words
    return word.look_up((name,), told)


@pytest.mark.parametrize(
    ("file", "column", "least"),
    [("abrasives_fepa_p.csv", "mean_micron", 19), ("abrasives_cami.csv", "average_micron", 14)],
)
def test_grain_of_every_grade_is_the_published_mean(published_rows: Rows, file: str, column: str, least: int) -> None:
    """FEPA 43 / ISO 6344 and ANSI B74.18 mean grains; the standing is on each row."""
    rows = published_rows(file)
    for row in rows:
        looked = sequence(row["grade"])
        assert looked.values["coarsest"].magnitude == float(row[column]), row
        about = "about " if row["status"] == "MEMORY" else ""
        assert looked.remarks[0].text == f"Mean grain in micrometers: {row['grade']} {about}{float(row[column]):g}."
    assert len(rows) >= least


def test_steps_of_a_usual_sequence_by_hand() -> None:
    """FEPA means 201, 125, 82, 58.5: 1.608, 1.524 and 1.402 times."""
    looked = sequence("P80", "P120", "P180", "P240")
    worked = GRIT_SEQUENCE.work(**looked.values)
    assert worked["widest"].magnitude == pytest.approx(1.608, abs=5e-4)
    assert worked["narrowest"].magnitude == pytest.approx(1.402, abs=5e-4)
    assert worked["whole"].magnitude == pytest.approx(201 / 58.5)
    assert not looked.verdicts


@pytest.mark.parametrize(
    ("grades", "missing"),
    [
        (("P80", "P180"), "put in P120"),
        (("P120", "P320"), "put in P180"),
        (("P60", "P320"), "put in P100, then P180"),
        (("80", "220"), "put in 120"),
        # 400 of CAMI is as fine as P800: from P240 that is a wide step, which the number hides.
        (("P240", "400"), "put in 320"),
    ],
)
def test_a_step_over_twice_names_the_missing_paper(grades: tuple[str, ...], missing: str) -> None:
    """Twice is common practice, no published source; the grains are the standards'."""
    (verdict,) = sequence(*grades).verdicts
    assert verdict.level == "mind"
    assert verdict.remedy == missing
    between = missing.removeprefix("put in ").split(", then ")
    assert not sequence(grades[0], *between, grades[1]).verdicts


def test_the_same_number_is_finer_in_cami_so_the_way_back_is_told() -> None:
    """CAMI 240 is 53 micrometers (from memory of ANSI B74.18), P240 58.5 (from memory of FEPA 43)."""
    looked = sequence("240", "P240")
    assert "no finer" in looked.verdicts[0].message
    assert any("Two scales are mixed" in one.text for one in looked.remarks)


def test_an_unknown_grit_is_told_where_it_stands_in_the_list() -> None:
    with pytest.raises(WordFault) as fault:
        sequence("P80", "P121")
    assert fault.value.index == 1
    assert fault.value.hint == "did you mean 'P120'?"


@given(st.data())
def test_a_finding_is_made_of_every_step_that_is_too_wide_or_no_finer(data: st.DataObject) -> None:
    papers = data.draw(st.lists(st.sampled_from([*grits(FEPA), *grits(CAMI)]), min_size=2, max_size=6))
    looked = sequence(*(paper.grade for paper in papers))
    ratios = [one.mean_um.value / other.mean_um.value for one, other in itertools.pairwise(papers)]
    assert len(looked.verdicts) == sum(ratio > WIDEST or ratio <= 1 for ratio in ratios)
    worked = GRIT_SEQUENCE.work(**looked.values)
    assert worked["widest"].magnitude == pytest.approx(max(ratios))
    assert math.prod(ratios) == pytest.approx(worked["whole"].magnitude)


def test_a_liter_covers_what_the_table_says() -> None:
    """12 square meters at 12 a liter, one coat, nothing wasted: one liter, in a film of 1/12 mm."""
    worked = FINISH.work(
        area=of_kind(12e6, Kind.AREA), coverage=count(12), coats=count(1), cure_days=count(7), waste=count(0)
    )
    assert worked["all_coats"].m_as(UNITS["cm"] ** 3) == pytest.approx(1000)
    assert worked["film"].magnitude == pytest.approx(1 / 12)


def test_small_bowl_of_walnut_oil_by_hand() -> None:
    """600 cm² at 15 m² a liter is 4 ml; a quarter over is 5; three coats 15 (all common practice)."""
    worked = FINISH.work(area=of_kind(60_000, Kind.AREA), **finish("walnut oil").values)
    assert worked["one_coat"].m_as(UNITS["cm"] ** 3) == pytest.approx(5)
    assert worked["all_coats"].m_as(UNITS["cm"] ** 3) == pytest.approx(15)
    assert worked["cured"].magnitude == 30


def test_every_finish_says_on_whose_word_it_is_and_claims_nothing() -> None:
    for one in finishes():
        looked = finish(one.title)
        sources = [remark.source for remark in looked.remarks]
        assert one.food.source in sources
        assert one.allergen is None or one.allergen.source in sources
        assert ("It does not cure" in looked.remarks[-1].text) is (one.cure_days is None)
        assert "safe" not in " ".join(remark.text for remark in looked.remarks).lower()


def test_a_finish_without_a_coverage_asks_for_the_tins() -> None:
    looked = finish("beeswax")
    assert [verdict.level for verdict in looked.verdicts] == ["note"]
    assert not finish("beeswax", coverage=count(20)).verdicts


def test_an_unknown_finish_gets_the_closest_one() -> None:
    with pytest.raises(WordFault) as fault:
        finish("walnut oyl")
    assert fault.value.hint == "did you mean 'walnut oil'?"


def _area(found: Quantity) -> float:
    return float(found.m_as(UNITS["mm"] ** 2))


@pytest.mark.parametrize(
    ("shape", "expected"),
    [
        # Closed forms of the mathematics references: the side of a frustum, a cone, a sphere, a zone, a torus.
        (line(0, 40, r0=10, r1=10), 2 * math.pi * 10 * 40),
        (line(0, 30, r0=0, r1=40), math.pi * 40 * 50),
        (line(0, 12, r0=7, r1=12), math.pi * 19 * 13),
        (quarter_ellipse(0, 25, r0=25, r1=0), 2 * math.pi * 25**2),
        (half_ellipse(0, 20, r0=0, r1=0, crest=10), 4 * math.pi * 10**2),
        # Cap of R 10, h 3: curved area 188.4956 (published example cap_10_3).
        (arc(7, 10, middle=0, level=10, radius=10), 188.4956),
        # Zone of a sphere: 2π R h, whatever its place.
        (arc(-3, 4, middle=0, level=10, radius=10), 2 * math.pi * 10 * 7),
        # Outer half of a torus, by Pappus: length π r, its center of gravity 2r/π beyond the circle's center.
        (half_ellipse(0, 10, r0=20, r1=20, crest=25), 2 * math.pi * (20 + 10 / math.pi) * math.pi * 5),
        # Inner half: the same toward the axis.
        (half_ellipse(0, 10, r0=20, r1=20, crest=15), 2 * math.pi * (20 - 10 / math.pi) * math.pi * 5),
        # Half a prolate spheroid of half-axes 20 along and 10 across: π a² (1 + c/(a e) arcsin e), e² = 1 - a²/c².
        (
            quarter_ellipse(0, 20, r0=10, r1=0),
            math.pi * 100 * (1 + 2 / math.sqrt(0.75) * math.asin(math.sqrt(0.75))),
        ),
    ],
)  # fmt: skip
def test_surface_of_a_stretch_is_the_closed_form(shape: Measured, expected: float) -> None:
    assert shape.surface == pytest.approx(expected, rel=1e-6)


def test_surface_of_a_ball_and_of_a_drum() -> None:
    """Sphere 4π r²; cylinder 2π r (r + h)."""
    half = inches(1)
    ball = outline([RoundStartElement(long=half, to=inches(2)), RoundElement(long=half)])
    assert _area(ball.known()["surface"]) == pytest.approx(4 * math.pi * 25.4**2, rel=1e-6)
    drum = outline([CylinderElement(long=millimetres(30), diameter=millimetres(20))])
    assert _area(drum.known()["surface"]) == pytest.approx(2 * math.pi * 10 * 40)


def test_a_shoulder_adds_its_ring() -> None:
    """Drums of radius 10 and 5, each 10 long: sides 300π, ends 100π and 25π, the ring between them 75π."""
    stepped = outline([CylinderElement(long=millimetres(10), diameter=millimetres(d)) for d in (20, 10)])
    assert _area(stepped.known()["surface"]) == pytest.approx(math.pi * (200 + 100 + 100 + 25 + 75))


@given(st.floats(1, 100), st.floats(1, 100), st.floats(1, 100), st.floats(0.1, 10))
def test_surface_goes_by_the_square_of_the_size(long: float, start: float, end: float, factor: float) -> None:
    def made(by: float) -> float:
        shape = outline(
            [TaperElement(long=millimetres(long * by), start=millimetres(start * by), to=millimetres(end * by))]
        )
        return _area(shape.known()["surface"])

    assert made(factor) == pytest.approx(made(1) * factor**2)
