"""Demonstrations on the public pages: where a piece was shown, and what was handed out.

This module owns the words. It is given `Shown` and nothing else, so what is private
cannot come here. A demonstration counts as held when its file says how it went, or when its
day is over and nothing says that it was cancelled.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from handouts_build.outputs.words import day, said_time, said_zone
from handouts_build.paper import EVENING, SIZES, called
from handouts_build.sheet import Sheet
from handouts_build.sheet.evening import Shown

__all__ = ["heading_of", "shown_words", "state_of"]


def state_of(one: Shown) -> str:
    """Whether a demonstration is `announced`, `held` or `cancelled`."""
    return "cancelled" if one.cancelled else "held" if one.held else "announced"


def heading_of(many: Sequence[Shown]) -> str:
    """What a project's page calls the list of its demonstrations."""
    states = {state_of(one) for one in many}
    if "announced" not in states:
        return "Where it was shown"
    return "Where it was and will be shown" if "held" in states else "Where it will be shown"


def shown_words(one: Shown, sheet: Sheet) -> dict[str, Any]:
    """What a project's page says of one demonstration."""
    when = day(one.starts)
    how = {"in the room": "", "both": "in the room and by video"}.get(one.how, one.how)
    facts = [word for word in (one.place, how) if word] or [one.how]
    state = state_of(one)
    if state == "announced":
        doors = f"doors at {one.doors}, " if one.doors else ""
        facts.append(f"{doors}{said_time(one.starts)} {said_zone(one.zone)}")
    elif state == "cancelled":
        facts.insert(0, f"Cancelled: {one.cancelled.rstrip('.')}")
    elif not one.recorded:
        facts.append("no record of how it went")
    if one.attended is not None:
        facts.append(f"{one.attended} people" if one.attended != 1 else "1 person")
    if one.minutes is not None:
        facts.append(f"{one.minutes:g} minutes at the lathe")
    said = ", ".join(facts)
    return {
        "anchor": f"shown-{one.name}",
        "title": f"{when}: {one.club}",
        "facts": said[:1].upper() + said[1:],
        "shared": list(one.shared),
        "run_sheet": [
            (what, f"{sheet.name}/shown/{one.name}/{name}")
            for what, name in (
                ("Run sheet, page", "run-sheet.html"),
                (f"Run sheet, {SIZES[one.paper].title}", EVENING["run-sheet"].file(one.paper)),
            )
            if one.run_sheet
        ],
        "papers": [
            (called(name, sheet.name), f"{sheet.name}/handed-out/{one.name}/{name}") for name in sorted(one.handed_out)
        ],
        "changed": list(one.changed),
        "questions": list(one.questions),
    }
