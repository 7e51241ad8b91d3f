"""Another language changes words alone: nothing is decided by a sentence that is printed."""

from __future__ import annotations

from pathlib import Path

import pytest

from handouts_build.compute.solid.arranged import Printing
from handouts_build.compute.solid.words import said
from handouts_build.language import speaking
from handouts_build.language.pseudo import PSEUDO, stretched
from handouts_build.quantities import Rule
from handouts_build.workpiece import Code, Subject, Thing, Verdict
from tests.projects import worked

KEYS = {
    "profiles": "side: {says: Side, along: [{cylinder: {diameter: 2 in, long: 2 in}}]}",
    "workings": "hole: {chapter: drilling, says: The hole, bit: 1/2 in, depth: 1 in}",
}


@pytest.mark.parametrize(("name", "verb"), [("mouth", "cuts"), ("windows", "cut"), ("recess", "cuts")])
def test_the_verb_goes_with_the_authors_name_in_another_language_too(name: str, verb: str) -> None:
    with speaking(PSEUDO):
        found = said(Verdict(Code.CUTS_NOTHING, (Thing(Subject.CUT, name),)), Rule())
    assert found.message.endswith(stretched(f" {verb} nothing: there is no wood there"))
    assert name in found.message


def test_a_length_is_known_by_the_trades_own_words_in_another_language_too(tmp_path: Path) -> None:
    plain = [known.words for known in Printing(worked(tmp_path, **KEYS)).named]
    with speaking(PSEUDO):
        sheet = worked(tmp_path, **KEYS)
        assert [known.words for known in Printing(sheet).named] == plain
    assert any(row.says == stretched("Length from end to end") for row in sheet.dimensions)
