"""A demonstration in words: what run sheet, packing list and stock list say.

This module owns those words, once for paper and page. It leaves looks to the
templates. All of it is private: none of it goes to the site.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from datetime import UTC, datetime, time, timedelta
from itertools import pairwise
from typing import Any
from zoneinfo import ZoneInfo

from handouts_build.language import tr
from handouts_build.outputs.evening.stopwatch_screen import STEP_MANNER
from handouts_build.outputs.words import LEVELS, cut_from, day, said_time
from handouts_build.quantities import decimal
from handouts_build.sheet import Finding, Level, Step
from handouts_build.sheet.evening import Checkpoint, Demonstration, Drop, Plan, PlanLine, StockPlan

__all__ = ["packing_words", "run_sheet_words", "stock_words"]


_HUNG_UP = 3
"""Numbers of a step that are read from the lathe at a glance; all of them stand with the step."""


def _zone(moment: datetime) -> str:
    return f"{getattr(moment.tzinfo, 'key', '')} ({_offset(moment)})".replace("_", " ")


def _offset(moment: datetime) -> str:
    offset = f"{moment:%z}"
    return f"UTC{offset[:3]}:{offset[3:]}".replace("-", "−")


def _place(zone: ZoneInfo) -> str:
    """The place a time zone is named by."""
    return zone.key.rpartition("/")[2].replace("_", " ")


class _Clock:
    """Clock times by the host's clock, and by the speaker's where it is another, as people say them."""

    def __init__(self, demonstration: Demonstration) -> None:
        self.host, self.own = demonstration.zone, demonstration.speaker_zone
        self.two = self.host.key != self.own.key
        self.changes = {zone.key: _is_changed(demonstration.starts, zone) for zone in (self.host, self.own)}
        """Whether a clock is changed that day: its times are then told with their offset."""

    def _told(self, moment: datetime, zone: ZoneInfo) -> str:
        there = moment.astimezone(zone)
        return said_time(there) + (f" ({_offset(there)})" if self.changes[zone.key] else "")

    def times(self, moment: datetime) -> tuple[str, str]:
        """Both times; the second is empty where there is one clock only."""
        there, here = moment.astimezone(self.host), moment.astimezone(self.own)
        if not self.two:
            return self._told(moment, self.host), ""
        # The day is said where it is another one than the host's.
        other = "" if here.date() == there.date() else " +1" if here.date() > there.date() else " −1"
        return self._told(moment, self.host), self._told(moment, self.own) + other

    def said(self, moment: datetime) -> str:
        """Both times in one line."""
        there, here = self.times(moment)
        return f"{there} ({here} in {_place(self.own)})" if here else there


def _is_changed(moment: datetime, zone: ZoneInfo) -> bool:
    """Whether a zone's clock is put forward or back on the day of a moment there."""
    day = moment.astimezone(zone).date()
    begins, ends = (datetime.combine(day + timedelta(days=by), time(), zone) for by in (0, 1))
    return begins.utcoffset() != ends.utcoffset()


def _between(first: datetime, last: datetime) -> int:
    """Minutes between two clock times as they are printed, which are cut to the minute."""
    start, end = (moment.astimezone(UTC).replace(second=0, microsecond=0) for moment in (first, last))
    return round((end - start).total_seconds() / 60)


def _printed_minutes(plan: Plan) -> list[int]:
    """How long each entry takes by the clock times that are printed."""
    return [_between(start, after) for start, after in pairwise([*(line.starts for line in plan.lines), plan.over])]


def _to_spare(plan: Plan) -> str:
    left = _between(plan.over, plan.ends)
    if left < 0:
        return f"{-left} min over the slot"
    return f"{left} min to spare" if left else "no time to spare"


def run_sheet_words(demonstration: Demonstration) -> dict[str, Any]:
    """What the run sheet says."""
    clocks = _Clock(demonstration)
    plan = demonstration.plan
    checkpoints = {checkpoint.before: checkpoint for checkpoint in plan.checkpoints}
    return {
        "title": demonstration.sheet.title,
        "file": demonstration.file,
        "club": demonstration.club,
        "when": day(demonstration.starts),
        "facts": list(_facts(demonstration, clocks)),
        "says": list(plan.says),
        "method": list(plan.method),
        "findings": _findings(demonstration.findings),
        "two_clocks": clocks.two,
        "places": {"there": _place(clocks.host), "here": _place(clocks.own)},
        "overview": list(_overview(demonstration, clocks)),
        "bench": [
            {"time": clocks.said(line.starts), "what": str(piece)} for line in plan.lines for piece in line.brought
        ],
        "rows": [
            _row(line, minutes, checkpoints.get(line.name), clocks)
            for line, minutes in zip(plan.lines, _printed_minutes(plan), strict=True)
        ],
        "ends": clocks.said(plan.ends),
        "over": f"{clocks.said(plan.over)}, {_to_spare(plan)}",
        "private": _private(demonstration),
    }


def _overview(demonstration: Demonstration, clocks: _Clock) -> Iterator[dict[str, str]]:
    """The first page, to hang up: time, step, live or told, its speed and first numbers, and the camera."""
    for line in demonstration.plan.lines:
        there, here = clocks.times(line.starts)
        step = line.step
        live = step is not None and line.shown == "live"
        numbers = [step.speed] if live and step is not None and step.speed else []
        if live and step is not None:
            numbers += [str(number.printed) for number in step.numbers[:_HUNG_UP]]
        yield {
            "there": there,
            "here": here,
            "number": str(step.number) if step else "",
            "name": line.name,
            "shown": STEP_MANNER[line.shown] if line.kind == "step" else "",
            "numbers": " · ".join(numbers),
            "camera": line.camera,
            "swap": "pick up the next piece" if line.brought else "",
        }


def _facts(demonstration: Demonstration, clocks: _Clock) -> Iterator[dict[str, str]]:
    starts = demonstration.starts
    if demonstration.cancelled:
        yield {"what": "Cancelled", "value": demonstration.cancelled}
    yield {"what": "Starts", "value": f"{said_time(starts)} in {_place(demonstration.zone)}, {_zone(starts)}"}
    if clocks.two:
        own = starts.astimezone(demonstration.speaker_zone)
        yield {
            "what": "By your clock",
            "value": f"{said_time(own)} in {_place(demonstration.speaker_zone)} on {day(own)}, {_zone(own)}",
        }
    if before := _before(demonstration, clocks):
        yield {"what": "Before", "value": before}
    plan = demonstration.plan
    yield {"what": "Ends", "value": f"{clocks.said(plan.ends)}; the slot is {decimal(plan.slot, 0)} min"}
    yield {"what": "Over by plan", "value": f"{clocks.said(plan.over)}, {_to_spare(plan)}"}
    if demonstration.place:
        yield {"what": "Place", "value": demonstration.place}
    yield {"what": "How", "value": demonstration.how if demonstration.how != "both" else "in the room and by video"}
    if demonstration.attendees or demonstration.seats:
        seats = f", {demonstration.seats} hands-on seats" if demonstration.seats else ""
        yield {"what": "People", "value": f"{demonstration.attendees or 'number not said'}{seats}"}
    if demonstration.lathe:
        yield {
            "what": "Lathe there",
            "value": "; ".join(f"{name.lower()} {value}" for name, value in demonstration.lathe),
        }


def _before(demonstration: Demonstration, clocks: _Clock) -> str:
    """When one may come in, and when the others do."""
    events = (("Arrive", demonstration.arrives), ("doors", demonstration.opens))
    return "; ".join(f"{event} {clocks.said(at)}" for event, at in events if at is not None)


def _findings(found: Iterable[Finding]) -> list[dict[str, Any]]:
    return [
        {
            "signal": tr(LEVELS[finding.level]),
            "grave": finding.level is Level.STOP,
            "about": finding.about,
            "message": _sentence(finding.message),
            "remedy": _sentence(finding.remedy),
        }
        for finding in found
    ]


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:].rstrip('.')}." if text else ""


def _private(demonstration: Demonstration) -> list[dict[str, str]]:
    notes = demonstration.private
    rows = [("Contact", text) for text in notes.contact]
    rows += [("Link", notes.link)] if notes.link else []
    rows += [("Note", text) for text in notes.notes]
    rows += [("Next time", text) for text in notes.differently]
    return [{"what": label, "value": value} for label, value in rows]


def _row(line: PlanLine, minutes: int, checkpoint: Checkpoint | None, clocks: _Clock) -> dict[str, Any]:
    there, here = clocks.times(line.starts)
    step = line.step
    cues = []
    if line.camera:
        cues.append({"what": "Camera", "value": line.camera})
    if step is not None and line.shown == "live":
        if step.hold:
            cues.append({"what": "Hold", "value": step.hold})
        if step.tools:
            cues.append({"what": "Tools", "value": ", ".join(step.tools)})
        if step.speed:
            cues.append({"what": "Speed", "value": step.speed})
    return {
        "kind": line.kind,
        "there": there,
        "here": here,
        "minutes": f"{minutes} min" if minutes else "under 1 min",
        "rests": _rests(line),
        "number": str(step.number) if step else "",
        "place": _place(clocks.own) if here else "",
        "name": line.name,
        "shown": STEP_MANNER[line.shown] if line.kind == "step" else "",
        "why": line.why,
        "cue": line.cue,
        "cues": cues,
        "numbers": list(_numbers(step, line.cue)) if step is not None and line.shown == "live" else [],
        "caution": line.caution,
        "swap": line.swap,
        "told_on": "Told on the piece in hand." if line.told_on else "",
        "check": _check(checkpoint, clocks) if checkpoint else "",
    }


def _rests(line: PlanLine) -> str:
    """What an entry's minutes rest on."""
    if line.kind != "step":
        return ""
    if not line.known:
        return "time not known"
    return f"guess and {line.runs} run{'s' if line.runs > 1 else ''}" if line.runs else "by guess"


def _numbers(step: Step, cue: str) -> Iterator[dict[str, str]]:
    """The step's own numbers that its cue does not say, each with what it is."""
    for number in step.numbers:
        if str(number.printed) not in cue:
            yield {"what": f"{number.says[:1].lower()}{number.says[1:]}", "value": str(number.printed)}


def _check(checkpoint: Checkpoint, clocks: _Clock) -> str:
    spare = _between(checkpoint.expected, checkpoint.latest)
    if spare > 0:
        late = f"Later than {clocks.said(checkpoint.latest)}"
    else:
        late = f"By this plan it is then {-spare} min late already" if spare else "No time to spare here; if late"
    planned = f"Planned for {clocks.said(checkpoint.expected)}."
    rest = (
        f"shorten the break, or leave it out (saves up to {decimal(checkpoint.rest, 0)} min)" if checkpoint.rest else ""
    )
    if checkpoint.drop:
        drops = f"{planned} {late}: tell, do not turn, in this order: {'; '.join(map(_drop, checkpoint.drop))}."
        return f"{drops} Or {rest}." if rest else drops
    return f"{planned} {late}: {rest or 'shorten the questions; nothing is left to drop'}."


def _drop(drop: Drop) -> str:
    names = " with ".join(f"“{name}”" for name in drop.names)
    piece = f"; pick up: {drop.take_up}" if drop.take_up else ""
    return f"{names} (saves {decimal(drop.saves, 0)} min{piece})"


def packing_words(demonstration: Demonstration) -> dict[str, Any]:
    """What the packing list says."""
    return {
        "title": demonstration.sheet.title,
        "file": demonstration.file,
        "club": demonstration.club,
        "when": day(demonstration.starts),
        "facts": [
            row
            for row in (*_facts(demonstration, _Clock(demonstration)), *_private(demonstration))
            if row["what"] in ("Starts", "By your clock", "Before", "Place", "Contact")
        ],
        "deadlines": _deadlines(demonstration),
        "findings": _findings(finding for finding in demonstration.findings if finding.level is not Level.NOTE),
        "groups": [
            {
                "title": group.title,
                "items": [
                    {"count": f"{item.count} ×" if item.count else "", "what": item.what, "note": item.note}
                    for item in group.items
                ],
            }
            for group in demonstration.packing
        ],
    }


def _deadlines(demonstration: Demonstration) -> list[dict[str, str]]:
    """What must be done by when, by the speaker's own calendar."""
    told = []
    for deadline in demonstration.deadlines:
        own = deadline.on.astimezone(demonstration.speaker_zone)
        at = f", {said_time(own)}" if deadline.timed else ""
        told.append({"time": f"{day(own)}{at}", "what": deadline.title, "why": deadline.why})
    return told


def stock_words(demonstration: Demonstration) -> dict[str, Any]:
    """What the stock list says."""
    stock = demonstration.stock
    return {
        "title": demonstration.sheet.title,
        "file": demonstration.file,
        "club": demonstration.club,
        "when": day(demonstration.starts),
        "lines": [
            {
                "count": str(line.count),
                "part": f"{chr(ord('A') + index % 26)}: {line.part}",
                "wood": line.wood,
                "size": f"{line.section}, {line.long} long" + (f"; {line.together}" if line.together else ""),
                "uses": ", ".join(f"{count} {use}" for use, count in line.uses),
                "weight": f"{line.weight} each" if line.weight else "weight not published",
            }
            for index, line in enumerate(stock.lines)
        ],
        "cut_from": [
            f"{part.title}: {cut_from(demonstration.sheet, part)}."
            for part in demonstration.sheet.parts
            if part.falls_off
        ],
        "sums": list(_sums(stock)),
        "missing": [f"{count} × {part}: {why}." for part, count, why in stock.missing],
        "taken": [
            f"Not for this evening: {taken.stick}{f' ({taken.count} of them)' if taken.count > 1 else ''}, sawn for "
            f"{taken.evening}."
            for taken in stock.taken
        ],
        "not_reckoned": _not_reckoned(demonstration),
        "rules": (
            f"Each saw cut takes {stock.kerf_printed}; {stock.trim_printed} is cut off each end of a stick first. "
            f"Lengths are cut over. {_how_good(stock)} Hatched: what is left."
        ),
    }


def _not_reckoned(demonstration: Demonstration) -> str:
    """What is packed and not sawn for the evening."""
    jigs = [jig.title for jig in demonstration.sheet.jigs]
    what = "the finished pieces and the jigs" if jigs else "the finished pieces"
    return f"Not reckoned: {what} on the packing list ({'; '.join((*demonstration.stock.finished, *jigs))})."


def _how_good(stock: StockPlan) -> str:
    """What the cutting plan is worth: it saws to length, and a board might be ripped."""
    least = "Sticks are sawn to length, not ripped; no other way to saw them to length takes less wood."
    if stock.over:
        share = max(1, math.ceil(100 * stock.over))
        least = f"Sticks are sawn to length, not ripped; another way might take up to {share} percent less wood."
    return least if stock.all_had else f"{least} It is not proven that no more blanks can be had from them."


def _sums(stock: StockPlan) -> Iterator[dict[str, str]]:
    yield {"what": "Blanks", "value": str(sum(line.count for line in stock.lines))}
    yield {"what": "Wood in them", "value": f"{stock.board_feet:.2f} board feet, {stock.cubic_metres:.5f} m³"}
    if stock.cost is not None:
        money = f"{stock.cost:,.2f} {stock.currency}".strip()
        yield {"what": "Sticks cut into", "value": f"{len(stock.cuts)}, which cost {money}"}
    elif stock.cuts:
        yield {"what": "Sticks cut into", "value": f"{len(stock.cuts)}; a price is not said of each"}
