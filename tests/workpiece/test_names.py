"""What an author calls a thing changes no verdict: gravity, remedy and kind follow from what the thing is."""

from __future__ import annotations

import re
from collections.abc import Sequence

from hypothesis import example, given, settings
from hypothesis import strategies as st

from handouts_build.compute.solid.words import said
from handouts_build.quantities import Rule
from handouts_build.workpiece import (
    BetweenCenters,
    Bore,
    Code,
    Cylinder,
    Drying,
    End,
    Faceplate,
    HolesAround,
    Hollow,
    Jaws,
    JawsInRecess,
    JawsOnTenon,
    PartOff,
    Recess,
    Round,
    ShopLimits,
    Stage,
    Subject,
    Tenon,
    Thing,
    Verdict,
    WorkStep,
    carry,
)

BLANK = Round(diameter_mm=80, long_mm=100)
SHOP = ShopLimits(between_centers_mm=90, jaws=(Jaws(name="jaws", grip_mm=(10, 20), open_mm=(60, 80), deep_mm=4),),
                  drive_centers_mm=(25,))  # fmt: skip
OURS = sorted(subject.value for subject in Subject if subject is not Subject.OUTSIDE)
"""Words of ours that a name must never be compared with."""
PLAIN = ("spigot", "mouth", "ring")


def stages(names: Sequence[str]) -> tuple[Stage, ...]:
    """A piece with something wrong at every step, its tenon, its recess and its holes called as told."""
    tenon, recess, holes = names
    steps = (
        WorkStep(name="a", holds=(BetweenCenters(),), cuts=(
            Cylinder(name="cylinder of the test", diameter_mm=78),
            Tenon(name=tenon, diameter_mm=30, long_mm=12, end=End.LEFT),
            Recess(name=recess, diameter_mm=50, deep_mm=6, end=End.RIGHT))),
        WorkStep(name="b", holds=(JawsOnTenon(tenon=tenon, jaws="jaws"),), cuts=(
            HolesAround(name=holes, diameter_mm=26, count=3, at_mm=60, deep_mm=30),
            Bore(name="bore of the test", diameter_mm=27, end=End.LEFT, deep_mm=60))),
        WorkStep(name="c", holds=(JawsInRecess(recess=recess),), cuts=(
            Hollow(name="hollow of the test", points_mm=((0.0, 2.0), (40.0, 20.0), (60.0, 0.0)), end=End.LEFT),)),
        WorkStep(name="d", holds=(Faceplate(end=End.LEFT, diameter_mm=60),), cuts=(
            PartOff(name="parting of the test", at_mm=20, keep=End.RIGHT),), dries=Drying(0.05, 0.03)),
        WorkStep(name="e", holds=(JawsInRecess(recess=recess),), cuts=(
            Cylinder(name="last of the test", diameter_mm=70),)),
    )  # fmt: skip
    return carry(BLANK, steps, shop=SHOP, segments=16)


def told(found: Sequence[Stage], names: Sequence[str]) -> list[tuple[object, ...]]:
    """Each verdict with its gravity and words, the author's names taken out of it."""
    made = []
    for verdict in (verdict for stage in found for verdict in stage.verdicts):
        words = said(verdict, Rule())
        about = [(thing.subject, _plain(thing, names)) for thing in verdict.about]
        numbers = {name: round(value, 6) for name, value in verdict.numbers.items()}
        made.append((verdict.code, verdict.step, verdict.cut, about, numbers, words.level, _unquoted(words.remedy)))
    return made


def _plain(thing: Thing, names: Sequence[str]) -> str:
    name = thing.name
    if thing.subject is Subject.JAWS:
        return name
    for index, known in enumerate(names):
        if name == known or re.fullmatch(rf"{re.escape(known)} \d+", name):
            return f"{PLAIN[index]}{name[len(known) :]}"
    return name


def _unquoted(remedy: str) -> str:
    """A remedy; where it quotes a name, what stands there is left out."""
    return re.sub(r"meets: \[.*\]", "meets: []", remedy)


EXPECTED = told(stages(PLAIN), PLAIN)


def test_the_piece_has_many_things_wrong() -> None:
    codes = {row[0] for row in EXPECTED}
    assert {Code.HOLD_OUT_OF_RANGE, Code.UNMEANT_BREAK_THROUGH, Code.CENTER_IN_THE_WAY, Code.HOLD_IN_THE_WAY} <= codes
    assert len(codes) >= 6


LIKE_OURS = [*OURS, "outside", "a tenon", "the bore", "holes", "glass", "hole 7"]
LETTERS = st.text(
    st.characters(codec="ascii", categories=("L", "N", "P", "Zs"), exclude_characters="{}"), min_size=1, max_size=12
)
NAME = st.sampled_from(LIKE_OURS) | LETTERS.map(str.strip).filter(bool)


@settings(max_examples=5, deadline=None)
@given(st.lists(NAME, min_size=3, max_size=3, unique=True))
@example(["faceplate", "outside", "between centers"])
@example(["held end", "drive center", "tail center"])
def test_any_name_for_any_feature_gives_the_same_verdicts(names: list[str]) -> None:
    fresh = [f"{name}{'' if name in (*OURS, 'outside') else ' x'}" for name in names]
    assert told(stages(fresh), fresh) == EXPECTED


def test_a_finding_says_its_exact_name_in_the_line_that_accepts_it() -> None:
    """A cut named `outside` is met by that name, and not by `the outside`, which is another thing."""
    names = ("spigot", "outside", "ring")
    found: list[Verdict] = [verdict for stage in stages(names) for verdict in stage.verdicts]
    broken = [verdict for verdict in found if verdict.code is Code.UNMEANT_BREAK_THROUGH]
    for verdict in broken:
        remedy = said(verdict, Rule()).remedy
        other = verdict.about[1]
        assert remedy.endswith(f"meets: [{'the outside' if other.subject is Subject.OUTSIDE else other.name}]")
