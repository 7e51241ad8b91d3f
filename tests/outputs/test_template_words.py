"""What the templates of papers say themselves: every sentence is found, and said in the language that is spoken."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import handouts_build
from handouts_build.language import speaking
from handouts_build.outputs.papers.template_words import paper_language, template_sentences, template_words

TEMPLATES = sorted((Path(handouts_build.__file__).parent / "outputs").glob("*/templates/*.typ"))


def test_every_sentence_that_a_template_asks_for_is_found() -> None:
    asked = sum(len(re.findall(r"\bsaid\(", path.read_text(encoding="utf-8"))) for path in TEMPLATES)
    listed = template_sentences()
    repeated = sum(path.read_text(encoding="utf-8").count(f'said("{line}"') for path in TEMPLATES for line in listed)
    # One is the function itself; a sentence that is no plain string could not be found, and not be translated.
    assert repeated == asked - 1
    assert {"Kit", "Full-size templates: {piece}", "Cutting plan"} <= set(listed)


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda path: path.stem)
def test_a_template_has_no_words_of_its_own(path: Path) -> None:
    code = re.sub(r"^\s*//.*$", "", path.read_text(encoding="utf-8"), flags=re.MULTILINE)
    # What stands in square brackets after bold, or as a heading, is shown as it is.
    assert re.findall(r"^\s*=+ (?!#)|\*\w[\w .:]*\*", code, flags=re.MULTILINE) == []


def test_what_they_say_is_in_the_language_that_is_spoken() -> None:
    assert template_words()["Kit"] == "Kit"
    assert paper_language() == "en-US"
    with speaking("en-XA"):
        assert template_words()["Kit"] != "Kit"
        assert "{piece}" in template_words()["Full-size templates: {piece}"]
        assert paper_language() == "en-XA"
