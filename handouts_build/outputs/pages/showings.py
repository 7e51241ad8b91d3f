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

from handouts_build.language import in_a_row, listed, tr, tr_count
from handouts_build.outputs.words import HOW, day, said_time, said_zone
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
        return tr("Where it was shown")
    return tr("Where it was and will be shown") if "held" in states else tr("Where it will be shown")


def demonstration_words(showing: PublicDemonstration, sheet: Sheet) -> dict[str, Any]:
    """What a project's page says of one demonstration.

    Args:
        showing: The demonstration, as far as it is public.
        sheet: The project, worked out.
    """
    when = day(showing.starts)
    how = HOW[showing.how]
    facts = [showing.place] if showing.place else [tr(how)] if showing.how == "in the room" else []
    facts += [tr(how)] if showing.how != "in the room" else []
    state = state_of(showing)
    if state == "announced":
        begins = tr("{time} {zone}", time=said_time(showing.starts), zone=said_zone(showing.zone))
        doors = said_time(time.fromisoformat(showing.doors)) if showing.doors else ""
        facts.append(tr("doors at {doors}, {begins}", doors=doors, begins=begins) if doors else begins)
    elif state == "cancelled":
        facts.insert(0, tr("Cancelled: {why}", why=showing.cancelled.rstrip(".")))
    elif not showing.recorded:
        facts.append(tr("no record of how it went"))
    if showing.attended is not None:
        facts.append(tr_count("1 person", "{count} people", showing.attended))
    if showing.minutes is not None:
        facts.append(tr("{minutes} minutes at the lathe", minutes=f"{showing.minutes:g}"))
    said = in_a_row(facts)
    return {
        "anchor": f"shown-{showing.name}",
        "title": tr("{day}: {club}", day=when, club=showing.club),
        "facts": said[:1].upper() + said[1:],
        "shared": list(showing.shared),
        "run_sheet": [
            (label, f"shown/{showing.name}/{name}")
            for label, name in (
                (tr("Run sheet, page"), "run-sheet.html"),
                (
                    tr("Run sheet, {title}", title=tr(SIZES[showing.paper].title)),
                    EVENING["run-sheet"].file(showing.paper),
                ),
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
        return tr("Papers from before that day say it wrong.")
    days = [day(when) for when in sorted(erratum.printed)]
    if len(days) == 1:
        return tr("The papers of {day} say it wrong.", day=days[0])
    return tr("The papers of {days} say it wrong.", days=listed(days))
