"""What a cut along a profile leaves unsaid: where an earlier step turned the same outline.

This module owns one hint: a hollow, or a profile cut again, that begins elsewhere than the
outline it goes by was turned. What follows from that is found by the workpiece.
"""

from __future__ import annotations

from typing import Any

__all__ = ["begins_elsewhere"]


def begins_elsewhere(steps: list[Any], step: int, cut: int) -> str:
    """That a cut begins elsewhere than its outline was turned before, as a sentence to follow a remedy; else empty.

    Args:
        steps: The part's, as the file has them.
        step: Which of them cuts, counting from 0.
        cut: Which of its cuts.
    """
    kind, keys = steps[step].cut[cut].only
    if kind not in ("hollow", "profile"):
        return ""
    outline, called = (keys.outside, "the outside") if kind == "hollow" else (keys.shape, f"'{keys.shape}'")
    earlier = [one for before in steps[:step] for one in before.cut] + list(steps[step].cut[:cut])
    for before in reversed(earlier):
        was, turned = before.only
        if was == "profile" and outline is not None and turned.shape == outline:
            at, here = (one.at.text if one.at is not None else "0 in" for one in (turned, keys))
            if at != here:
                return f"{called} was turned at {at}, and this {kind} starts at {here}: say at: {at}"
            return ""
    return ""
