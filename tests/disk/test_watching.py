"""Waiting for a save: seen once, with a pause between two looks."""

from __future__ import annotations

from itertools import islice

from handouts_build.disk.watching import changes


def test_a_change_is_told_once_and_a_pause_lies_between_two_looks() -> None:
    looks = iter(["a", "a", "a", "b", "b", "c"])
    pauses: list[float] = []
    assert len(list(islice(changes(lambda: next(looks), pause=pauses.append), 3))) == 3
    assert len(pauses) == 5
    assert min(pauses) >= 0.2
