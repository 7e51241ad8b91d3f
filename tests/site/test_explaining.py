"""Every word that a file may hold can be asked for, and the answer is the reference's."""

from __future__ import annotations

from pathlib import Path

import pytest

from handouts_build.problems import ProjectError
from handouts_build.schema.describe import every_key, words_of_keys
from handouts_build.schema.describe_cuts import HEAD, entries
from handouts_build.site.build import read_archive
from handouts_build.site.explaining import explain
from handouts_build.tables.cautions import rules
from handouts_build.trade import CHAPTERS
from handouts_build.workpiece import Code
from tests.projects import worked


def told(word: str) -> str:
    return "\n".join(line for explanation in explain(word) for line in explanation.lines(word))


def flat(word: str) -> str:
    return " ".join(told(word).split())


def test_every_key_is_explained_as_the_reference_has_it() -> None:
    keys = list(every_key())
    assert {"sizes", "per hour", "start", "steps"} - {"per hour"} <= {found.key for found in keys}
    texts = {found.key: flat(found.key) for found in keys}
    for found in keys:
        assert " ".join(found.says.split()) in texts[found.key], found


def test_every_kind_of_blank_hold_mark_and_cut_is_explained_with_its_example(tmp_path: Path) -> None:
    for kinds in entries().values():
        for kind in kinds:
            (found,) = (one for one in explain(kind.title) if one.says == kind.says)
            assert set(kind.keys) <= {row.partition(":")[0].removesuffix(" (needed)") for row in found.lists["Keys"]}
            for key in kind.keys:
                assert kind.title in told(key) or "hold" in told(key) or "blank" in told(key)
    (hollow,) = explain("hollow")[:1]
    (tmp_path / "piece.yml").write_text(HEAD + hollow.example, encoding="utf-8")
    assert read_archive(tmp_path, base=tmp_path).sheets


@pytest.mark.parametrize(
    "kind", ["tenon", "fillet", "taper", "bead", "cove", "ogee", "ovolo", "cavetto", "round", "vee"]
)
def test_an_element_of_a_profile_is_explained_with_an_example_that_can_be_turned(kind: str, tmp_path: Path) -> None:
    """Put behind a plain cylinder, as an author would, each of them gives a profile with an outline."""
    (shown,) = (found.example for found in explain(kind) if found.what == "key of profiles.along")
    below = f"shape:\n  part: body\n  along:\n    - cylinder: {{diameter: 1 in, long: 1 in}}\n    - {shown}"
    assert shown.startswith(f"{kind}: {{")
    lengths = [found for found in worked(tmp_path, profiles=below).dimensions if found.name == "shape.length"]
    assert [found.value.magnitude > 25.4 for found in lengths] == [True]


def test_every_chapter_finding_caution_and_vocabulary_word_is_explained() -> None:
    for name, chapter in CHAPTERS.items():
        assert " ".join(chapter.about.split()) in flat(name)
        assert all(given.key in told(name) for given in chapter.givens)
    for code in Code:
        text = flat(code.value)
        assert "What helps" in text
        assert (f"accept: {{{code.value}:" in text) == code.acceptable
        assert (" cannot be accepted" in text) != code.acceptable
    for rule in rules():
        assert " ".join(rule.hurts.split()) in flat(rule.id)
    for key, words in words_of_keys().items():
        for word in words:
            assert any(f"word for {key}" in found.what for found in explain(word))


def test_a_key_that_takes_one_of_many_words_lists_them_each_in_a_sentence() -> None:
    """Whoever knows that a cut is wanted, and not what it is called, asks for `cut`."""
    kinds = entries()
    for key, heading in (("cut", "Cuts"), ("mark", "Marks"), ("blank", "Blanks"), ("hold", "Holds")):
        (found,) = (one for one in explain(key) if one.lists and one.what.startswith("key of parts"))
        assert [row.partition(": ")[0] for row in found.lists["Its words"]] == [kind.title for kind in kinds[heading]]
    assert "groove: Cut a flat-floored groove around the axis." in flat("cut")
    assert "bead: Rounded outward to a crest of `diameter`." in flat("along")
    assert {"chuck", "between centers"} <= set(explain("by")[0].lists["Its words"])
    # The chapters are listed once, and not told each as a key of its own.
    (chapters,) = explain("chapter")
    assert [row.partition(": ")[0] for row in chapters.lists["Its words"]] == list(CHAPTERS)


@pytest.mark.parametrize(("typed", "word"), [("part_off", "part off"), ("Part Off:", "part off"), (" COVE ", "cove")])
def test_a_word_is_found_however_it_is_typed(typed: str, word: str) -> None:
    assert [one.says for one in explain(typed)] == [one.says for one in explain(word)]


@pytest.mark.parametrize(("typed", "near"), [("diametre", "diameter"), ("beed", "bead"), ("thin webb", "thin web")])
def test_a_word_that_is_not_there_is_answered_with_the_nearest(typed: str, near: str) -> None:
    with pytest.raises(ProjectError) as caught:
        explain(typed)
    assert near in caught.value.problems[0].hint
