"""The safety rules: each fires in one case and stays silent in another, and none claims too much."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import yaml

import handouts_build.tables
from handouts_build.tables.caution_facts import WORDS, Fact, FactKind
from handouts_build.tables.cautions import CLOSING, CautionRule, Criterion, Signal, fired, read_rules, rules
from handouts_build.tables.finishes import finishes
from handouts_build.tables.loading import source
from handouts_build.tables.woods import lookup_wood, woods
from tests.projects import vocabulary

CASES = yaml.safe_load(Path(__file__).with_name("caution_cases.yml").read_text(encoding="utf-8"))
RULE_FILE = (Path(handouts_build.tables.__file__).parent / "cautions.yml").read_text(encoding="utf-8")
ALWAYS = {rule.id for rule in fired({"always": True})}

GOOD_RULE = {
    "id": "x",
    "signal": "caution",
    "title": "A title",
    "when": {"operation": "drilling"},
    "hurts": "Someone.",
    "do": ["Something."],
    "source": "common practice, no published source",
    "where": "step",
}


def ids(found: tuple[CautionRule, ...]) -> set[str]:
    return {rule.id for rule in found}


def meeting(condition: Criterion) -> object:
    """The least that makes a condition hold."""
    if condition.words:
        return min(condition.words)
    if condition.flag is not None:
        return condition.flag
    return condition.under / 2 if condition.over is None else condition.over * 1.01


def missing(condition: Criterion) -> object:
    """A value of the same fact for which the condition does not hold."""
    if condition.fact is Fact.WOOD:
        return next(wood.name for wood in woods() if wood.name not in condition.words)
    if condition.words:
        return min(vocabulary(condition.fact) - condition.words)
    if condition.flag is not None:
        return not condition.flag
    return condition.under if condition.over is None else condition.over


def rule_cases() -> list[object]:
    return [
        pytest.param(rule, case, id=f"{rule.id}-{number}")
        for rule in rules()
        for number, case in enumerate(rule.when, start=1)
    ]


@pytest.mark.parametrize(("rule", "case"), rule_cases())
def test_rule_fires_when_all_it_asks_holds(rule, case):
    assert rule in fired({condition.fact: meeting(condition) for condition in case})


@pytest.mark.parametrize(("rule", "case"), rule_cases())
def test_rule_stays_silent_when_any_one_thing_differs_or_is_not_told(rule, case):
    facts = {condition.fact: meeting(condition) for condition in case}
    for condition in case:
        assert rule not in fired({**facts, condition.fact: missing(condition)}), f"with another {condition.fact}"
        assert rule not in fired({fact: value for fact, value in facts.items() if fact is not condition.fact})


@pytest.mark.parametrize("case", CASES, ids=[case["name"] for case in CASES])
def test_a_step_at_the_lathe_calls_for_these_rules_and_no_others(case):
    assert ids(fired(case["facts"])) == set(case["fires"])
    assert ids(fired({**case["facts"], "always": True})) == set(case["fires"]) | ALWAYS


def test_there_are_at_least_sixty_rules_and_twenty_five_cases():
    assert len(rules()) >= 60
    assert len(CASES) >= 25


def test_what_always_holds_is_told_on_every_handout():
    assert {"eyes-and-face", "caught-by-the-work", "before-switching-on"} <= ALWAYS
    told = " ".join(next(rule for rule in rules() if rule.id == "caught-by-the-work").do).lower()
    for caught in ("sleeves", "cords", "ties", "scarves", "hair", "beards", "rings", "watches", "chains", "gloves"):
        assert caught in told


def test_signals_come_most_serious_first():
    """ANSI Z535.6 (from memory): danger, warning, caution, notice."""
    assert list(Signal) == ["danger", "warning", "caution", "notice"]
    seen = set()
    for case in CASES:
        ranks = [rule.signal.rank for rule in fired(case["facts"])]
        assert ranks == sorted(ranks)
        seen.update(ranks)
    assert seen == {0, 1, 2, 3}


def test_all_rules_together_lose_none():
    """With every condition of every rule met at once, every rule stands there once."""
    facts: dict[Fact, list[object]] = {}
    for rule in rules():
        for condition in rule.when[0]:
            facts.setdefault(condition.fact, []).append(meeting(condition))
    assert sorted(ids(fired(facts))) == sorted(rule.id for rule in rules())


@pytest.mark.parametrize("rule", rules(), ids=lambda rule: rule.id)
def test_rule_claims_nothing_it_must_not(rule):
    text = " ".join((rule.title, rule.hurts, *rule.do)).lower()
    for claim in ("safe to", "is safe", "are safe", "safely", "harmless", "no risk", "non-toxic", "cannot hurt"):
        assert claim not in text


@pytest.mark.parametrize("rule", rules(), ids=lambda rule: rule.id)
def test_rule_says_plainly_who_is_hurt_what_to_do_and_on_whose_word(rule):
    assert source(rule.source)
    assert len(rule.title) <= 60
    assert not rule.title.endswith(".")
    assert 1 <= len(rule.do) <= 5
    for sentence in (rule.hurts, *rule.do):
        assert re.match(r"[A-Z].*\.$", sentence), sentence
        assert len(sentence) <= 150, sentence


def test_a_rule_is_not_shadowed_by_a_repeated_key():
    """YAML keeps the last of two equal keys in silence."""
    for block in re.split(r"^- ", RULE_FILE, flags=re.MULTILINE)[1:]:
        keys = re.findall(r"^(?:  )?(\w+):", block, flags=re.MULTILINE)
        assert sorted(keys) == sorted(GOOD_RULE), block


def test_every_fact_is_asked_about_by_some_rule():
    asked = {condition.fact for rule in rules() for case in rule.when for condition in case}
    assert asked == set(Fact)


def test_facts_have_words_just_where_they_are_word_facts():
    assert {fact for fact in Fact if fact.kind is FactKind.WORD} == set(WORDS)
    assert all(words and "" not in words for words in WORDS.values())


def test_every_finish_reaches_the_rules_its_traits_call_for():
    for finish in finishes():
        found = ids(fired({"finish": finish.id, "finish_trait": finish.traits}))
        assert ("oily-rags" in found) is finish.oily_rag
        assert ("solvent-vapor" in found) is ("solvent vapor" in finish.traits)


def test_every_reported_reaction_reaches_a_rule():
    for wood in woods():
        for word in wood.reaction_words(conditions=frozenset({"spalted"})):
            assert fired({"wood_reaction": word}), (wood.name, word)


def test_a_wood_is_known_in_rules_by_any_of_its_names():
    assert ids(fired({"wood": "Laburnum"})) == {"laburnum"}
    assert fired({"wood": "a wood of my own"}) == ()
    assert lookup_wood("laburnum") is not None


def test_noise_times_follow_the_niosh_rule():
    """NIOSH: t = 480 / 2^((L - 85) / 3) minutes; the box prints 4 h at 88, 1 h at 94 and a quarter at 100."""
    (rule,) = [rule for rule in rules() if rule.id == "hearing-loud-tools"]
    hours = {88: "4 hours", 94: "1 hour", 100: "a quarter of an hour"}
    minutes = {level: 480 / 2 ** ((level - 85) / 3) for level in hours}
    assert minutes == {88: 240, 94: 60, 100: 15}
    for level, words in hours.items():
        assert f"{level} dBA for {words}" in " ".join(rule.do)


def test_rim_speed_limit_is_nine_thousand_inch_rpm():
    """CautionRule of thumb D x rpm at most 9000: pi x 9000 in/min = 718.2 m/min."""
    (rule,) = [rule for rule in rules() if rule.id == "rim-speed"]
    ((condition,),) = rule.when
    assert condition.over == pytest.approx(3.14159265 * 9000 * 0.0254, abs=0.5)


def test_wire_is_never_wound_round_fingers():
    (rule,) = [rule for rule in rules() if rule.id == "burning-wire"]
    assert rule.signal is Signal.DANGER
    assert "Never wind" in rule.title


def test_the_closing_defers_to_manual_codes_club_and_approved_teachers():
    for word in ("manual", "local codes", "club rules", "come first", "approved"):
        assert word in CLOSING


@pytest.mark.parametrize(
    ("facts", "message"),
    [
        ({"operatoin": "drilling"}, "no fact 'operatoin'; did you mean 'operation'"),
        ({"operation": "drillling"}, "operation: no word 'drillling'; did you mean 'drilling'"),
        ({"operation": ["drilling", "flying"]}, "operation: no word 'flying'"),
        ({"drill_mm": "32"}, "drill_mm: '32' is not a number"),
        ({"drill_mm": True}, "drill_mm: True is not a number"),
        ({"tailstock": "yes"}, "tailstock: 'yes' is not a flag"),
        ({"hold": True}, "hold: True is not a declared word"),
    ],
)
def test_facts_outside_the_vocabulary_are_refused(facts, message):
    with pytest.raises(ValueError, match=re.escape(message)):
        fired(facts)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"when": {"operatoin": "drilling"}}, "rule 'x': no fact 'operatoin'"),
        ({"when": {"operation": "flying"}}, "rule 'x': operation: no word 'flying'"),
        ({"when": {"wood": "unobtainium"}}, "rule 'x': wood: 'unobtainium' is not in the table"),
        ({"when": {"drill_mm": 3}}, "rule 'x': 'drill_mm': a number is asked for as"),
        ({"when": {"drill_mm over": "3 mm"}}, "rule 'x': 'drill_mm over': a number is asked for as"),
        ({"when": {"hold over": 3}}, "rule 'x': 'hold over': only numbers are compared"),
        ({"when": {"tailstock": "no"}}, "rule 'x': tailstock: 'no' is not a flag"),
        ({"when": {}}, "rule 'x': an empty set of conditions"),
        ({"when": [{"always": True}, {}]}, "rule 'x': an empty set of conditions"),
        ({"signal": "attention"}, "'attention' is not a valid Signal"),
        ({"source": "hearsay"}, "no source 'hearsay'"),
        ({"do": []}, "rule 'x': says nothing to do"),
        ({"colour": "red"}, "rule 'x': keys missing or unknown: colour"),
    ],
)
def test_rules_that_are_not_well_formed_are_refused(change, message):
    with pytest.raises(ValueError, match=re.escape(message)):
        read_rules(yaml.safe_dump([{**GOOD_RULE, **change}]))


def test_a_rule_may_not_stand_twice():
    with pytest.raises(ValueError, match="rule 'x' stands twice"):
        read_rules(yaml.safe_dump([GOOD_RULE, GOOD_RULE]))
