"""One declaration a thing: a kind that nobody has heard of is everywhere at once."""

from __future__ import annotations

import json
import math
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from handouts_build.schema.cut_keys import HOLD_WORDS
from handouts_build.tables import bits
from handouts_build.tables.caution_facts import Fact
from handouts_build.tables.cautions import rules
from handouts_build.workpiece import BLANKS, CUTS, HOLDS, MARKS, BitType
from handouts_build.workpiece.declared import KeyKind, keys_of, summary_of

ROOT = Path(__file__).parents[2]
KINDS = [*BLANKS.values(), *CUTS.values(), *MARKS.values(), *HOLDS]


@pytest.fixture(scope="module")
def made_up(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """What the tool makes of a blank, a cut, a mark and a hold that only `made_up` declares."""
    folder = tmp_path_factory.mktemp("made_up")
    ran = subprocess.run(
        [sys.executable, "-m", "tests.schema.made_up", str(folder)],
        cwd=ROOT, capture_output=True, text=True, encoding="utf-8", timeout=120, check=False,
    )  # fmt: skip
    assert ran.returncode == 0, ran.stderr
    found: dict[str, Any] = json.loads(ran.stdout)
    return found


def test_the_file_the_schema_and_the_reference_know_a_made_up_kind(made_up: dict[str, Any]) -> None:
    assert made_up["schema"] == ["dimple", "double ring", "deep", "end", "wide"]
    assert made_up["schema of hold"]
    assert made_up["reference"] == ["`dimple`", "`double ring`", "Sink a dimple into an end.", "How wide it is."]
    assert made_up["entries"] == ["wax table", "double ring", "dimple"]


def test_the_workpiece_makes_what_is_made_up(made_up: dict[str, Any]) -> None:
    """A cylinder's volume is exact: π r² h of 12 mm across and 6 mm deep."""
    assert made_up["cut"] == pytest.approx(1.0, rel=1e-9)
    assert made_up["lines"] == 2
    assert made_up["hold"].startswith("WaxTable(")
    assert made_up["word of hold"] == ["`wax table`"]
    assert "pin_mm=4.0" in made_up["hold"]
    assert "the dimple" in made_up["says"]


def test_cautions_and_speeds_go_by_what_a_made_up_cut_is_declared_to_be(made_up: dict[str, Any]) -> None:
    """It needs the lathe, a bit makes it and comes out: each of these alone would change what is said."""
    assert made_up["turning"]
    assert not made_up["turns the outside"]
    assert made_up["facts"] == {"finding": ["breaks through"], "drill_mm": [12.0], "drill_depth_to_diameter": [0.5]}
    assert "drill-through" in made_up["boxes"]
    assert made_up["drilled"]


def test_a_made_up_blank_is_in_the_schema_and_the_reference(made_up: dict[str, Any]) -> None:
    blank = made_up["blank"]
    assert blank["model"] == blank["shape"] == "wedge"
    assert blank["schema"] == ["base", "high"]
    assert blank["needed"] == [{"required": ["long"]}, {"required": ["stack"]}]
    assert blank["reference"] == ["`base`", "How high it is.", "a wedge"]
    assert blank["entries"] == [["A wedge, its long edge beside the axis.", ["base", "high", "long"]]]


def test_a_made_up_blank_is_planned_and_carried(made_up: dict[str, Any]) -> None:
    """A triangle's area is half its base times its height; the dimple takes π r² h out of one end."""
    blank = made_up["blank"]
    assert blank["plan"].startswith("Wedge(base_mm=60.0, high_mm=40.0, long_mm=60.0")
    assert blank["volume"] == pytest.approx(60 * 40 / 2 * 60, rel=1e-9)
    assert blank["volume"] - blank["left"] == pytest.approx(math.pi * 6**2 * 6, rel=0.01)
    assert blank["grain"] == "across the axis"
    assert blank["sides"] == [["base", 60.0], ["height", 40.0], ["length", 60.0]]
    assert blank["stock"] == [60.0, 40.0, 60.0]


def test_a_made_up_blank_is_refused_in_its_own_words(made_up: dict[str, Any]) -> None:
    blank = made_up["blank"]
    shapes = "wide and thick, a branch, half log, quarter log, or log, "
    shapes += "of segments or staves, a stack or a laminate, or a wedge: one of these"
    assert shapes in blank["two shapes"]
    assert "a wedge needs both base and high" in blank["a key short"]
    assert "the wedge is higher than wide" in blank["too high"]


def test_each_shape_of_blank_is_known_by_a_key_that_no_other_takes() -> None:
    needed = {word: {key.word for key in keys_of(shape) if key.needed} for word, shape in BLANKS.items()}
    for word, shape in BLANKS.items():
        others = {key.word for other, kind in BLANKS.items() if other != word for key in keys_of(kind)}
        assert needed[word] - others, shape
        assert shape.section or shape.glued


def test_keys_that_blanks_share_are_one_key() -> None:
    told: dict[str, tuple[object, ...]] = {}
    for kind in BLANKS.values():
        for key in keys_of(kind):
            said = (key.kind, key.says, key.example, key.noun)
            assert told.setdefault(key.word, said) == said, (kind, key.word)


def test_each_word_that_holds_is_declared_once_and_every_one_that_a_safety_rule_asks_for() -> None:
    """By the same word, of several kinds, a key says which is meant."""
    plain = [word for kind in HOLDS if not kind.by_key for word in kind.words]
    assert len(plain) == len(set(plain))
    assert all(set(kind.other_words) <= HOLD_WORDS for kind in HOLDS)
    asked = [one for rule in rules() for case in rule.when for one in case if one.fact is Fact.HOLD]
    assert asked
    assert all(one.words <= HOLD_WORDS for one in asked)


def test_keys_that_holds_share_are_one_key() -> None:
    """The file has one map for all holds: a word means one thing in it."""
    told: dict[str, tuple[object, ...]] = {}
    for kind in HOLDS:
        for key in keys_of(kind):
            said = (key.kind, key.says, key.example, key.choices)
            assert told.setdefault(key.word, said) == said, (kind, key.word)


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_a_kind_says_what_it_is_and_what_each_key_is_for(kind: type) -> None:
    assert summary_of(kind).endswith(".")
    words = [key.word for key in keys_of(kind)]
    assert len(words) == len(set(words))
    for key in keys_of(kind):
        assert key.says.endswith("."), key
        assert (key.kind is KeyKind.CHOICE) is (key.choices is not None)
        assert key.example or not key.needed


def test_every_kind_of_bit_is_in_the_table_of_bits() -> None:
    assert {kind.value for kind in BitType} == set(bits())
