"""Demonstrations on the public pages: where a piece was shown, and what was handed out.

This module owns the words. It is given `PublicDemonstration` and nothing else, so what is private
cannot come here. A demonstration counts as held when its file says how it went, or when its
day is over and nothing says that it was cancelled.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import time
from typing import Any
from urllib.parse import urlsplit

from handouts_build.outputs.words import day, said_time, said_zone
from handouts_build.paper import EVENING, SIZES, called
from handouts_build.sheet import Erratum, Sheet
from handouts_build.sheet.evening import PublicDemonstration

__all__ = ["affected", "demonstration_words", "heading_of", "state_of"]

_MEDIA = (".mp4", ".m4v", ".webm", ".ogv", ".mp3", ".m4a", ".ogg", ".opus")
"""How files of film and sound end that browsers play by themselves."""


def state_of(showing: PublicDemonstration) -> str:
    """Whether a demonstration is `announced`, `held` or `cancelled`."""
    return "cancelled" if showing.cancelled else "held" if showing.held else "announced"


def heading_of(showings: Sequence[PublicDemonstration]) -> str:
    """What a project's page calls the list of its demonstrations."""
    states = {state_of(showing) for showing in showings}
    if "announced" not in states:
        return "Where it was shown"
    return "Where it was and will be shown" if "held" in states else "Where it will be shown"


def demonstration_words(showing: PublicDemonstration, sheet: Sheet) -> dict[str, Any]:
    """What a project's page says of one demonstration.

    Args:
        showing: The demonstration, as far as it is public.
        sheet: The project, worked out.
    """
    when = day(showing.starts)
    how = {"in the room": "", "both": "in the room and by video"}.get(showing.how, showing.how)
    facts = [word for word in (showing.place, how) if word] or [showing.how]
    state = state_of(showing)
    if state == "announced":
        doors = f"doors at {said_time(time.fromisoformat(showing.doors))}, " if showing.doors else ""
        facts.append(f"{doors}{said_time(showing.starts)} {said_zone(showing.zone)}")
    elif state == "cancelled":
        facts.insert(0, f"Cancelled: {showing.cancelled.rstrip('.')}")
    elif not showing.recorded:
        facts.append("no record of how it went")
    if showing.attended is not None:
        facts.append(f"{showing.attended} people" if showing.attended != 1 else "1 person")
    if showing.minutes is not None:
        facts.append(f"{showing.minutes:g} minutes at the lathe")
    said = ", ".join(facts)
    return {
        "anchor": f"shown-{showing.name}",
        "title": f"{when}: {showing.club}",
        "facts": said[:1].upper() + said[1:],
        "shared": list(showing.shared),
        "run_sheet": [
            (label, f"shown/{showing.name}/{name}")
            for label, name in (
                ("Run sheet, page", "run-sheet.html"),
                (f"Run sheet, {SIZES[showing.paper].title}", EVENING["run-sheet"].file(showing.paper)),
            )
            if showing.run_sheet
        ],
        "papers": [
            (called(name, sheet.name), f"handed-out/{showing.name}/{name}") for name in sorted(showing.handed_out)
        ],
        "changed": list(showing.changed),
        "errata": [erratum for erratum in sheet.errata if erratum.affects(showing.starts.date())],
        "questions": list(showing.questions),
        "recording": showing.recording,
        "chapters": [
            (_clock(at), f"{showing.recording}#t={at}" if _takes_a_time(showing.recording) else "", title)
            for at, title in showing.chapters
        ],
    }


def _takes_a_time(address: str) -> bool:
    """Whether an address is that of a film or sound itself, which a place in time may be added to.

    Source: W3C, Media Fragments URI 1.0, 4.2.1: `#t=` and seconds, for media that are shown by the browser.
    """
    parts = urlsplit(address)
    return not parts.fragment and parts.path.lower().endswith(_MEDIA)


def _clock(seconds: int) -> str:
    """A place in a recording as players show it."""
    minutes, rest = divmod(seconds, 60)
    return f"{minutes // 60}:{minutes % 60:02d}:{rest:02d}" if minutes >= 60 else f"{minutes}:{rest:02d}"


def affected(erratum: Erratum) -> str:
    """Which papers say what was wrong, as a sentence."""
    if not erratum.printed:
        return "Papers from before that day say it wrong."
    days = [day(when) for when in sorted(erratum.printed)]
    return f"The papers of {', '.join(days[:-1])}{' and ' if len(days) > 1 else ''}{days[-1]} say it wrong."
