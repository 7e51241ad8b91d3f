"""Problems: one printed form, sorted, and fit to be printed whatever an author wrote."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handouts_build.problems import MOST, HandoutsError, Place, Problem, ProjectError, near_miss


@pytest.mark.parametrize(
    ("place", "text"),
    [
        (Place("a.yml"), "a.yml"),
        (Place("a.yml", 12, 5), "a.yml:12:5"),
        (Place("a.yml", 12, 5, "steps[2].depth"), "a.yml:12:5: steps[2].depth"),
        (Place("a.yml", path="title"), "a.yml: title"),
    ],
)
def test_a_place_is_written_as_editors_read_it(place: Place, text: str) -> None:
    assert str(place) == text


def test_a_problem_is_a_line_with_an_indented_hint_below() -> None:
    problem = Problem(Place("a.yml", 1, 2, "title"), "this is empty", "write one\nor two")
    assert str(problem) == "a.yml:1:2: title: this is empty\n    hint: write one\n          or two"
    assert str(Problem(Place("a.yml"), "gone")) == "a.yml: gone"


def test_problems_are_told_once_each_in_the_order_of_the_file() -> None:
    late, early = Problem(Place("a.yml", 9, 1), "late"), Problem(Place("a.yml", 2, 7), "early")
    error = ProjectError([late, early, late])
    assert error.problems == (early, late)
    assert str(error) == "a.yml:2:7: early\na.yml:9:1: late"
    assert isinstance(error, HandoutsError)


def test_only_so_many_problems_are_shown() -> None:
    error = ProjectError(Problem(Place("a.yml", line, 1), "wrong") for line in range(1, MOST + 31))
    lines = str(error).splitlines()
    assert len(lines) == MOST + 1
    assert lines[-1] == "and 30 more; put these right first"


@given(st.text(), st.text(), st.text())
def test_a_message_is_one_line_without_anything_that_acts_on_a_terminal(file: str, path: str, message: str) -> None:
    text = str(Problem(Place(file, 1, 1, path), message))
    assert len(text.splitlines()) <= 1
    assert "\x1b" not in text
    text.encode("utf-8")


def test_a_message_of_any_length_is_cut_to_one_that_can_be_read() -> None:
    text = str(Problem(Place("a.yml", 1, 1, "x" * 10_000), "y" * 10_000))
    assert len(text) < 500
    assert "…" in text


@pytest.mark.parametrize(
    ("word", "known", "hint"),
    [
        ("tenon_long", ["tenon", "tenon long", "diameter"], "did you mean 'tenon long'?"),
        ("sphere", ["speed", "sphere by facets"], "did you mean 'sphere by facets'?"),
        ("zzz", ["b", "a"], "known here: a, b"),
        ("zzz", [f"name{n}" for n in range(30)], ""),
        ("zzz", [], ""),
    ],
)
def test_a_near_miss_is_named_or_the_few_known_words_listed(word: str, known: list[str], hint: str) -> None:
    assert near_miss(word, known) == hint
