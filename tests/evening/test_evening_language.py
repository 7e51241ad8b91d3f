"""An evening in another language: it is said otherwise, and nothing is decided otherwise."""

from __future__ import annotations

import json

from handouts_build.language import speaking
from handouts_build.language.pseudo import stretched
from handouts_build.outputs.evening.pages import stopwatch_page
from handouts_build.outputs.evening.words import packing_words, run_sheet_words
from handouts_build.sheet.stopwatch import Leg
from tests.evening.conftest import EVENING

NAME = "2026-06-06-saltmarsh"
PRIVATE = "private:\n  contact: ['Host, 555 0142']\n  notes: [Bring the short post.]\n"
FULL = EVENING.replace("60 min", "45 min") + "must see: [Rough it, Shape it, Sand it, Turn the foot]\n" + PRIVATE


def test_the_packing_list_has_the_same_facts_and_findings_of_the_same_weight(read):
    shown = read({NAME: FULL}).demonstration(NAME)
    english = packing_words(shown)
    with speaking("en-XA"):
        other = packing_words(shown)
    assert [fact["what"] for fact in other["facts"]] == [stretched(fact["what"]) for fact in english["facts"]]
    assert "Contact" in [fact["what"] for fact in english["facts"]]
    assert "Note" not in [fact["what"] for fact in english["facts"]]
    assert [found["grave"] for found in other["findings"]] == [found["grave"] for found in english["findings"]]
    assert any(found["grave"] for found in english["findings"])


def test_the_run_sheet_has_the_same_rows_in_both(read):
    shown = read({NAME: FULL}).demonstration(NAME)
    english = run_sheet_words(shown)
    with speaking("en-XA"):
        other = run_sheet_words(shown)
    for mine, theirs in zip(english["rows"], other["rows"], strict=True):
        assert (mine["kind"], mine["number"], bool(mine["check"])) == (
            theirs["kind"],
            theirs["number"],
            bool(theirs["check"]),
        )
    assert len(english["facts"]) == len(other["facts"])


def test_the_stopwatch_page_has_its_sentences_as_data_and_the_words_of_the_file_as_they_are(read):
    sheet = read({NAME: FULL}).demonstration(NAME).sheet

    def told():
        page = stopwatch_page(sheet, (Leg("Rough it", "live", 60, 1),))
        return json.loads(page.split('id="data">')[1].split("</script>")[0])

    english = told()
    with speaking("en-XA"):
        other = told()
    assert other["words"] == {name: stretched(sentence) for name, sentence in english["words"].items()}
    assert other["kinds"] == english["kinds"] == ["dry run", "demonstration"]
    assert other["legs"] == english["legs"]
