"""What pages are of, for machines that read them: schema.org's HowTo, Event and VisualArtwork, as JSON-LD.

This module owns which of its words are told. It is data in the page, and nothing of it runs.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import date
from typing import Any

from markupsafe import Markup

from handouts_build.language import labelled, spoken
from handouts_build.outputs.output import Address
from handouts_build.outputs.page_content import PageContent
from handouts_build.outputs.pages.page_place import LATHE, SHOWN
from handouts_build.outputs.pages.text import plain
from handouts_build.sheet.call import CallEntry, CallForPieces, CallState
from handouts_build.sheet.evening import PublicDemonstration

__all__ = ["call_data", "events", "how_to", "picture_of"]

_CONTEXT = "https://schema.org"


def how_to(content: PageContent) -> Markup:
    """How a piece is made; empty where it has no steps, or no address to be found at."""
    sheet, address = content.sheet, content.address
    if not address.site_url or not any(sheet.steps):
        return Markup()
    lathe = address.of(f"projects/{sheet.name}/{LATHE}{address.ending}")
    made: dict[str, Any] = {
        "@context": _CONTEXT,
        "@type": "HowTo",
        "name": sheet.title,
        "description": plain(sheet.summary),
        "url": address.page(sheet),
        "inLanguage": spoken(),
        "step": [
            {
                "@type": "HowToStep",
                "position": step.number,
                "name": step.name,
                "url": f"{lathe}#step-{step.number}",
            }
            for step in sheet.steps
        ],
    }
    if picture := picture_of(content):
        made["image"] = address.of(picture)
    if sheet.minutes:
        made["totalTime"] = f"PT{round(sheet.minutes)}M"
    if sheet.tools:
        made["tool"] = [{"@type": "HowToTool", "name": tool} for tool in sheet.tools]
    supplies = (*sheet.woods, *sheet.supplies)
    if supplies:
        made["supply"] = [{"@type": "HowToSupply", "name": supply} for supply in supplies]
    if sheet.by:
        made["author"] = {"@type": "Person", "name": sheet.by}
    if sheet.club:
        made["publisher"] = {"@type": "Organization", "name": sheet.club}
    if sheet.license:
        # A name alone: an address would have to be made up.
        made["license"] = {"@type": "CreativeWork", "name": sheet.license}
    if sheet.techniques:
        made["teaches"] = list(sheet.techniques)
    return _data(made)


def events(content: PageContent) -> Markup:
    """The evenings of a piece that are not over; empty where there are none, or no address to be found at."""
    if not content.address.site_url:
        return Markup()
    coming = [_event(showing, content) for showing in content.demonstrations if not showing.held]
    return _data({"@context": _CONTEXT, "@graph": coming}) if coming else Markup()


def _event(showing: PublicDemonstration, content: PageContent) -> dict[str, Any]:
    address: Address = content.address
    modes = {"in the room": "Offline", "by video": "Online", "both": "Mixed"}
    page = address.of(f"projects/{content.sheet.name}/{SHOWN}{address.ending}#shown-{showing.name}")
    room = {"@type": "Place", "name": showing.place or showing.club, "address": showing.place or showing.club}
    there = {"@type": "VirtualLocation", "url": page}
    made: dict[str, Any] = {
        "@type": "Event",
        "name": labelled(content.sheet.title, showing.club),
        "description": plain(content.sheet.summary),
        "startDate": showing.starts.isoformat(),
        "eventStatus": f"{_CONTEXT}/{'EventCancelled' if showing.cancelled else 'EventScheduled'}",
        "eventAttendanceMode": f"{_CONTEXT}/{modes[showing.how]}EventAttendanceMode",
        "location": [room, there] if showing.how == "both" else there if showing.how == "by video" else room,
        "organizer": {"@type": "Organization", "name": showing.club},
        "url": page,
    }
    if showing.ends:
        made["endDate"] = showing.ends.isoformat()
    if picture := picture_of(content):
        made["image"] = address.of(picture)
    if content.sheet.by:
        made["performer"] = {"@type": "Person", "name": content.sheet.by}
    return made


def call_data(call: CallForPieces, day: date, entries: Sequence[CallEntry], address: Address) -> Markup:
    """A call that is not over, and the pieces that were sent; empty where there is no address to be found at.

    Args:
        call: The call, as it may be told of on the day.
        day: Today.
        entries: Those that are shown.
        address: Where the archive is published.
    """
    if not address.site_url:
        return Markup()
    where = address.of(f"calls/{call.name}{address.ending}")
    graph = [_work(call, entry, where, address) for entry in entries]
    if call.state(day) is not CallState.OVER:
        graph.insert(0, _exhibition(call, where))
    return _data({"@context": _CONTEXT, "@graph": graph}) if graph else Markup()


def _exhibition(call: CallForPieces, where: str) -> dict[str, Any]:
    """The day on which the pieces are shown; where none is named, the days on which they can be sent."""
    return {
        "@type": "Event",
        "name": call.title,
        "description": plain(call.words),
        "startDate": (call.shown or call.opens).isoformat(),
        "endDate": (call.shown or call.closes).isoformat(),
        "eventStatus": f"{_CONTEXT}/EventScheduled",
        "eventAttendanceMode": f"{_CONTEXT}/OfflineEventAttendanceMode",
        "location": {"@type": "Place", "name": call.place or call.club, "address": call.place or call.club},
        "organizer": {"@type": "Organization", "name": call.club},
        "url": where,
    }


def _work(call: CallForPieces, entry: CallEntry, where: str, address: Address) -> dict[str, Any]:
    made: dict[str, Any] = {
        "@type": "VisualArtwork",
        "name": entry.title,
        "creator": {"@type": "Person", "name": entry.maker},
        "material": list(entry.woods),
        "url": f"{where}#entry-{entry.name}",
        "image": [address.of(f"calls/{call.name}/{entry.name}/{picture.published}") for picture in entry.pictures],
    }
    if entry.words:
        made["description"] = plain(entry.words)
    if entry.inspired_by:
        made["isBasedOn"] = address.of(f"projects/{entry.inspired_by}{address.ending}")
    if prizes := call.prizes_of(entry):
        made["award"] = [f"{award.prize}, {call.title}" for award in prizes]
    return made


def picture_of(content: PageContent) -> str:
    """The picture that stands for a piece, by its path on the site; empty where there is none."""
    home, finished = f"projects/{content.sheet.name}", content.pictures.finished
    if finished is not None:
        return f"{home}/{finished.name}.webp"
    return f"{home}/{content.sheet.pictures[0].published}" if content.sheet.pictures else ""


def _data(entries: object) -> Markup:
    """Data as it stands in a page: no letter of it can end the element."""
    text = json.dumps(entries, ensure_ascii=False, separators=(",", ":")).replace("<", "\\u003c").replace("\n", " ")
    return Markup(f'<script type="application/ld+json">{text}</script>')
