"""A demonstration in words: what run sheet, packing list and stock list say.

This module owns those words, once for paper and page. It leaves looks to the
templates. All of it is private: none of it goes to the site.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from datetime import UTC, datetime, time, timedelta
from functools import reduce
from itertools import pairwise
from typing import Any
from zoneinfo import ZoneInfo

from handouts_build.language import in_a_row, labelled, phrases_in_a_row, tr, tr_about, tr_count, tr_later
from handouts_build.outputs.evening.stopwatch_screen import STEP_MANNER
from handouts_build.outputs.words import HOW, LEVELS, cut_from, day, said_time
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
        return tr("{there} ({here} in {place})", there=there, here=here, place=_place(self.own)) if here else there


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
        return tr("{time} over the slot", time=f"{-left} min")
    return tr("{time} to spare", time=f"{left} min") if left else tr("no time to spare")


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
        "facts": [fact for _, fact in _facts(demonstration, clocks)],
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
        "private": [fact for _, fact in _private(demonstration)],
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
            "shown": tr(STEP_MANNER[line.shown]) if line.kind == "step" else "",
            "numbers": " · ".join(numbers),
            "camera": line.camera,
            "swap": tr("pick up the next piece") if line.brought else "",
        }


def _facts(demonstration: Demonstration, clocks: _Clock) -> Iterator[tuple[str, dict[str, str]]]:
    """What is to be known of an evening, each by a word that no reader sees."""
    plan = demonstration.plan
    facts = (
        ("cancelled", tr("Cancelled"), demonstration.cancelled),
        ("starts", tr("Starts"), _starts(demonstration)),
        ("own clock", tr("By your clock"), _starts_here(demonstration) if clocks.two else ""),
        ("before", tr("Before"), _before(demonstration, clocks)),
        ("ends", tr("Ends"), _ends(plan, clocks)),
        ("over", tr("Over by plan"), f"{clocks.said(plan.over)}, {_to_spare(plan)}"),
        ("place", tr("Place"), demonstration.place),
        ("how", tr("How"), tr(HOW[demonstration.how])),
        ("people", tr("People"), _people(demonstration)),
        (
            "lathe",
            tr("Lathe there"),
            phrases_in_a_row(f"{name.lower()} {value}" for name, value in demonstration.lathe),
        ),
    )
    yield from ((word, {"what": label, "value": value}) for word, label, value in facts if value)


def _starts(demonstration: Demonstration) -> str:
    starts = demonstration.starts
    return tr("{time} in {place}, {zone}", time=said_time(starts), place=_place(demonstration.zone), zone=_zone(starts))


def _starts_here(demonstration: Demonstration) -> str:
    """The same by the speaker's clock, who may be in another day."""
    own = demonstration.starts.astimezone(demonstration.speaker_zone)
    return tr(
        "{time} in {place} on {day}, {zone}",
        time=said_time(own),
        place=_place(demonstration.speaker_zone),
        day=day(own),
        zone=_zone(own),
    )


def _ends(plan: Plan, clocks: _Clock) -> str:
    return tr("{ends}; the slot is {long}", ends=clocks.said(plan.ends), long=f"{decimal(plan.slot, 0)} min")


def _people(demonstration: Demonstration) -> str:
    """How many are looked for; empty where nobody says."""
    if not (demonstration.attendees or demonstration.seats):
        return ""
    people = str(demonstration.attendees or tr("number not said"))
    if not demonstration.seats:
        return people
    return tr_count(
        "{people}, {count} hands-on seat", "{people}, {count} hands-on seats", demonstration.seats, people=people
    )


def _before(demonstration: Demonstration, clocks: _Clock) -> str:
    """When one may come in, and when the others do."""
    events = ((tr("Arrive {time}"), demonstration.arrives), (tr("doors {time}"), demonstration.opens))
    return phrases_in_a_row(event.format(time=clocks.said(at)) for event, at in events if at is not None)


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


def _private(demonstration: Demonstration) -> list[tuple[str, dict[str, str]]]:
    """What is only for who demonstrates, each by a word that no reader sees."""
    notes = demonstration.private
    rows = [("contact", tr("Contact"), text) for text in notes.contact]
    rows += [("link", tr("Link"), notes.link)] if notes.link else []
    rows += [("note", tr_about("written by the demonstrator", "Note"), text) for text in notes.notes]
    rows += [("differently", tr("Next time"), text) for text in notes.differently]
    return [(word, {"what": label, "value": value}) for word, label, value in rows]


def _row(line: PlanLine, minutes: int, checkpoint: Checkpoint | None, clocks: _Clock) -> dict[str, Any]:
    there, here = clocks.times(line.starts)
    step = line.step
    cues = []
    if line.camera:
        cues.append({"what": tr("Camera"), "value": line.camera})
    if step is not None and line.shown == "live":
        if step.hold:
            cues.append({"what": tr("Hold"), "value": step.hold})
        if step.tools:
            cues.append({"what": tr("Tools"), "value": in_a_row(step.tools)})
        if step.speed:
            cues.append({"what": tr("Speed"), "value": step.speed})
    return {
        "kind": line.kind,
        "there": there,
        "here": here,
        "minutes": f"{minutes} min" if minutes else tr("under 1 min"),
        "rests": _rests(line),
        "number": str(step.number) if step else "",
        "place": _place(clocks.own) if here else "",
        "name": line.name,
        "shown": tr(STEP_MANNER[line.shown]) if line.kind == "step" else "",
        "why": line.why,
        "cue": line.cue,
        "cues": cues,
        "numbers": list(_numbers(step, line.cue)) if step is not None and line.shown == "live" else [],
        "caution": line.caution,
        "swap": line.swap,
        "told_on": tr("Told on the piece in hand.") if line.told_on else "",
        "check": _check(checkpoint, clocks) if checkpoint else "",
    }


def _rests(line: PlanLine) -> str:
    """What an entry's minutes rest on."""
    if line.kind != "step":
        return ""
    if not line.known:
        return tr("time not known")
    return tr_count("guess and {count} run", "guess and {count} runs", line.runs) if line.runs else tr("by guess")


def _numbers(step: Step, cue: str) -> Iterator[dict[str, str]]:
    """The step's own numbers that its cue does not say, each with what it is."""
    for number in step.numbers:
        if str(number.printed) not in cue:
            yield {"what": f"{number.says[:1].lower()}{number.says[1:]}", "value": str(number.printed)}


def _check(checkpoint: Checkpoint, clocks: _Clock) -> str:
    planned = tr("Planned for {time}.", time=clocks.said(checkpoint.expected))
    late = _late(checkpoint, clocks)
    saved = f"{decimal(checkpoint.rest, 0)} min" if checkpoint.rest else ""
    if checkpoint.drop:
        steps = phrases_in_a_row(map(_drop, checkpoint.drop))
        drops = f"{planned} {tr('{late}: tell, do not turn, in this order: {steps}.', late=late, steps=steps)}"
        return f"{drops} {tr(_OR_SHORTEN, time=saved)}" if saved else drops
    shorten = tr(_SHORTEN, late=late, time=saved) if saved else tr(_QUESTIONS, late=late)
    return f"{planned} {shorten}"


_SHORTEN = tr_later("{late}: shorten the break, or leave it out (saves up to {time}).")
_OR_SHORTEN = tr_later("Or shorten the break, or leave it out (saves up to {time}).")
_QUESTIONS = tr_later("{late}: shorten the questions; nothing is left to drop.")


def _late(checkpoint: Checkpoint, clocks: _Clock) -> str:
    """From when on it is late, as what is then to be done goes on from it."""
    spare = _between(checkpoint.expected, checkpoint.latest)
    if spare > 0:
        return tr("Later than {time}", time=clocks.said(checkpoint.latest))
    if spare:
        return tr("By this plan it is then {time} late already", time=f"{-spare} min")
    return tr("No time to spare here; if late")


def _drop(drop: Drop) -> str:
    quoted = [tr("“{name}”", name=name) for name in drop.names]
    steps = reduce(lambda some, last: tr("{some} with {last}", some=some, last=last), quoted)
    saved = f"{decimal(drop.saves, 0)} min"
    if drop.take_up:
        return tr("{steps} (saves {time}; pick up: {piece})", steps=steps, time=saved, piece=drop.take_up)
    return tr("{steps} (saves {time})", steps=steps, time=saved)


_PACKED = ("starts", "own clock", "before", "place", "contact")
"""What of an evening stands on its packing list."""


def packing_words(demonstration: Demonstration) -> dict[str, Any]:
    """What the packing list says."""
    return {
        "title": demonstration.sheet.title,
        "file": demonstration.file,
        "club": demonstration.club,
        "when": day(demonstration.starts),
        "facts": [
            fact
            for word, fact in (*_facts(demonstration, _Clock(demonstration)), *_private(demonstration))
            if word in _PACKED
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
    rows = []
    for deadline in demonstration.deadlines:
        own = deadline.on.astimezone(demonstration.speaker_zone)
        at = f", {said_time(own)}" if deadline.timed else ""
        rows.append({"time": f"{day(own)}{at}", "what": deadline.title, "why": deadline.why})
    return rows


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
                "part": labelled(chr(ord("A") + index % 26), line.part),
                "wood": line.wood,
                "size": phrases_in_a_row(
                    size
                    for size in (tr("{section}, {long} long", section=line.section, long=line.long), line.together)
                    if size
                ),
                "uses": in_a_row(f"{count} {use}" for use, count in line.uses),
                "weight": tr("{weight} each", weight=line.weight) if line.weight else tr("weight not published"),
            }
            for index, line in enumerate(stock.lines)
        ],
        "cut_from": [
            tr("{label}: {value}.", label=part.title, value=cut_from(demonstration.sheet, part))
            for part in demonstration.sheet.parts
            if part.falls_off
        ],
        "sums": list(_sums(stock)),
        "missing": [
            tr("{count} × {part}: {why}.", count=count, part=part, why=why) for part, count, why in stock.missing
        ],
        "taken": [
            tr_count(
                "Not for this evening: {stick}, sawn for {evening}.",
                "Not for this evening: {stick} ({count} of them), sawn for {evening}.",
                taken.count,
                stick=taken.stick,
                evening=taken.evening,
            )
            for taken in stock.taken
        ],
        "not_reckoned": _not_reckoned(demonstration),
        "rules": tr(
            "Each saw cut takes {kerf}; {trim} is cut off each end of a stick first. Lengths are cut over. {worth} "
            "Hatched: what is left.",
            kerf=stock.kerf_printed,
            trim=stock.trim_printed,
            worth=_how_good(stock),
        ),
    }


def _not_reckoned(demonstration: Demonstration) -> str:
    """What is packed and not sawn for the evening."""
    jigs = [jig.title for jig in demonstration.sheet.jigs]
    names = phrases_in_a_row((*demonstration.stock.finished, *jigs))
    if jigs:
        return tr("Not reckoned: the finished pieces and the jigs on the packing list ({names}).", names=names)
    return tr("Not reckoned: the finished pieces on the packing list ({names}).", names=names)


def _how_good(stock: StockPlan) -> str:
    """What the cutting plan is worth: it saws to length, and a board might be ripped."""
    least = tr("Sticks are sawn to length, not ripped; no other way to saw them to length takes less wood.")
    if stock.over:
        least = tr(
            "Sticks are sawn to length, not ripped; another way might take up to {share} percent less wood.",
            share=max(1, math.ceil(100 * stock.over)),
        )
    return least if stock.all_had else f"{least} {tr('It is not proven that no more blanks can be had from them.')}"


def _sums(stock: StockPlan) -> Iterator[dict[str, str]]:
    yield {"what": tr("Blanks"), "value": str(sum(line.count for line in stock.lines))}
    yield {
        "what": tr("Wood in them"),
        "value": tr(
            "{feet} board feet, {metric}", feet=f"{stock.board_feet:.2f}", metric=f"{stock.cubic_metres:.5f} m³"
        ),
    }
    if stock.cost is not None:
        money = f"{stock.cost:,.2f} {stock.currency}".strip()
        yield {
            "what": tr("Sticks cut into"),
            "value": tr("{sticks}, which cost {money}", sticks=len(stock.cuts), money=money),
        }
    elif stock.cuts:
        yield {
            "what": tr("Sticks cut into"),
            "value": tr("{sticks}; a price is not said of each", sticks=len(stock.cuts)),
        }
