"""Words of the trade lead to words of a project file, and spelling leads to nothing else."""

from __future__ import annotations

import pytest

from handouts_build.schema import project_schema
from handouts_build.schema.cut_keys import HOLD_WORDS
from handouts_build.tables.caution_facts import WORDS, Fact
from handouts_build.tables.trade_words import hint_for, trade_words


def test_whatever_a_word_may_mean_is_a_word_of_a_project_file() -> None:
    schema = project_schema()
    assert not [one for many in trade_words().values() for one in many if f'"{one}"' not in schema]


@pytest.mark.parametrize("word", ["scroll chuck", "4-jaw chuck", "Four-jaw chuck"])
def test_a_chuck_with_jaws_is_no_screw_chuck(word: str) -> None:
    assert hint_for(word, HOLD_WORDS) == "did you mean 'chuck'?"


@pytest.mark.parametrize(
    ("word", "meant"),
    [
        ("danish oil", "oil and varnish blend"),
        ("Danish Oil", "oil and varnish blend"),
        ("boiled linseed oil", "linseed oil, boiled"),
        ("french polish", "shellac"),
    ],
)
def test_a_finish_by_another_of_its_names_leads_to_it(word: str, meant: str) -> None:
    """What the names mean: common practice, no published source."""
    assert hint_for(word, WORDS[Fact.FINISH]) == f"did you mean '{meant}'?"


def test_turning_is_not_burning() -> None:
    assert "burning" not in hint_for("turning", WORDS[Fact.OPERATION])


def test_where_no_meaning_is_known_the_spelling_is_looked_at() -> None:
    assert hint_for("screw chuk", HOLD_WORDS) == "did you mean 'screw chuck'?"
    assert hint_for("mounting", ["cutting"], alike=0.84) == "known here: cutting"
