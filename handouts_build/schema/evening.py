"""The keys of a demonstration's file and of a file of recorded runs.

This module owns which keys there are, and which of them are private: what stands
below `private`, and what is to be done differently, never leaves the private folder.
"""

from __future__ import annotations

import re
from typing import Annotated, Literal

from pydantic import AfterValidator, Field, model_validator

from handouts_build.schema.fields import Label, Line, WebAddress, fault, whole
from handouts_build.schema.known_keys import Keys
from handouts_build.schema.known_keys import key as _key
from handouts_build.schema.known_keys import required as _required
from handouts_build.schema.moments import ClockTime, Day, Duration, Elapsed, Zone, elapsed_text
from handouts_build.schema.shop import LatheKeys

__all__ = ["DemonstrationKeys", "FrozenPlanKeys", "FrozenStepKeys", "RunKeys", "RunsKeys"]


_ID = re.compile(r"[0-9a-f]{12,32}")


def _calendar_id(value: str) -> str:
    if not _ID.fullmatch(value):
        fault(f"'{value}' is not a calendar id", "leave the line out: the command 'evening' writes a new one")
    return value


Confidence = Annotated[int, *whole(50, 99, hint="it is a percentage, written as a whole number without the sign: 90")]
Heads = Annotated[int, *whole(1, 5000)]
Seats = Annotated[int, *whole(1, 60)]
Count = Annotated[int, *whole(0, 2**31 - 1)]
CalendarId = Annotated[str, AfterValidator(_calendar_id)]
Number = Annotated[float, Field(ge=0, le=100_000)]


class PrivateKeys(Keys):
    """What only the demonstrator sees."""

    contact: list[Line] = _key("Whom to call, and how.", example="[Host on the evening 555 0100]", default=())
    link: Line | None = _key("The link of a video meeting.", example="https://video.example/abc")
    notes: list[Line] = _key("Anything to remember.", example="[Park behind the hall]", default=())


class QuestionKeys(Keys):
    """A question from the room, and the answer; both are published."""

    asked: Line = _required("The question.", "Why not glue the tenon?")
    answered: Line = _required("The answer.", "It must come out again to be finished.")


class AfterwardsKeys(Keys):
    """How it went; a demonstration with this key has been held."""

    attended: Annotated[int, *whole(0, 5000)] | None = _key("How many came.", example="31")
    questions: list[QuestionKeys] = _key(
        "Questions and answers; these are published.",
        example="[{asked: Why?, answered: So that it holds.}]",
        default=(),
    )
    recording: WebAddress | None = _key(
        "Where the recording is, if anyone may see it; the public page has a link to it and loads nothing of it.",
        example="https://video.example/abc.mp4",
    )
    watch_started: Elapsed | None = _key(
        "Place in the recording at which the stopwatch was started, minutes and seconds.", example='"4:10"'
    )
    differently: list[Line] = _key("What to do differently; private.", example="[Bring a second lamp]", default=())


class DemonstrationKeys(Keys):
    """One showing of a project."""

    date: Day = _required("The day, as the host counts it.", "2026-03-21")
    start: ClockTime = _required("When it starts, by the host's clock, 24 hours.", "19:30")
    arrive: ClockTime | None = _key("When you may come in to set up, by the host's clock.", example="18:15")
    doors: ClockTime | None = _key("When the doors open to the others.", example="19:00")
    calendar_id: CalendarId | None = _key(
        "What calendars know the evening by whatever its day. The command `evening` writes it, once; leave it out of "
        "a copy that is another evening.",
        example="5d0c7b1e9a4f",
    )
    zone: Zone = _required("The host's time zone, by its IANA name.", "America/New_York")
    which: Literal["first", "second"] | None = _key(
        "Which of two, where the clock shows the starting time twice because it is set back.", example="first"
    )
    club: Label = _required("The club it is shown to.", "Fernhollow Turners")
    place: Label | None = _key("Where.", example="Mill Lane Hall")
    how: Literal["in the room", "by video", "both"] = _key("How it is shown.", example="both", default="in the room")
    slot: Duration = _required("The time the club gives, opening, break and questions included.", "90 min")
    break_: Duration | None = _key("How long the break is.", example="10 min")
    break_after: Line | None = _key(
        "The step the break follows; near the middle if not given.", example="Round the ball"
    )
    opening: Duration | None = _key("Time for the welcome, before anything is shown.", example="3 min")
    safety_talk: Duration | None = _key("Time to tell the audience what to keep clear of.", example="2 min")
    hands_on: Duration | None = _key("Time for those who turn along, before the questions.", example="20 min")
    questions: Duration | None = _key("Time kept for questions at the end.", example="10 min")
    travel: Duration | None = _key("How long the way there takes.", example="45 min")
    confidence: Confidence = _key(
        "Percent: how surely the show must fit; steps are brought ready-made until it does.", example="90", default=90
    )
    speaker_zone: Zone | None = _key(
        "The demonstrator's own time zone, if it is another.", example="America/Los_Angeles"
    )
    cameras: list[Label] = _key("Cameras there are.", example="[front, overhead]", default=())
    lathe: LatheKeys | None = _key("The lathe there.", example="{swing: 12 in, between: 20 in, taper: MT2}")
    attendees: Heads | None = _key("How many are expected.", example="30")
    seats: Seats | None = _key("Hands-on seats; leave it out if nobody turns along.", example="4")
    must_see: list[Line] = _key("Steps that must be shown live.", example="[First groove]", default=())
    ready_made: list[Line] = _key("Steps that are brought ready-made whatever fits.", example="[Bore]", default=())
    left_out: list[Line] = _key(
        "Steps that are not shown; what rests on them is shown on a piece brought with them done.",
        example="[Turn the cap]",
        default=(),
    )
    order: list[Line] = _key(
        "Steps in the order they are shown, where it is another than the project's: each comes right after the one "
        "before it here.",
        example="[Part the lid off, Hollow the lid]",
        default=(),
    )
    paper: Literal["letter", "a4"] = _key("Paper of the host's country.", example="a4", default="letter")
    listed: bool = _key("Whether the public archive lists it.", example="false", default=True)
    share: list[Literal["link", "contact", "run sheet"]] = _key(
        "Private things that the public page may show all the same. A run sheet goes there without private notes, and "
        "without contacts and link unless they are asked for too.",
        example="[link, run sheet]",
        default=(),
    )
    private: PrivateKeys | None = _key("What only the demonstrator sees.", example="{link: https://video.example/abc}")
    cancelled: Line | None = _key(
        "Why it does not take place; the pages and the calendar file say so.", example="The hall is flooded"
    )
    afterwards: AfterwardsKeys | None = _key("How it went.", example="{attended: 31}")

    @model_validator(mode="after")
    def _holds_together(self) -> DemonstrationKeys:
        if self.cancelled is not None and self.afterwards is not None:
            fault("both 'cancelled' and 'afterwards' are said", "what was cancelled was not held: keep one of the two")
        for key, at in (("arrive", self.arrive), ("doors", self.doors)):
            # By the clock: what is more than half a day after the start is the evening before.
            late = (at.hour - self.start.hour) * 60 + at.minute - self.start.minute if at is not None else 0
            if 0 < late < 12 * 60:
                fault(
                    f"'{key}' is {at:%H:%M}, after the start at {self.start:%H:%M}",
                    "give it a time no later than 'start'",
                )
        return self


class TimingKeys(Keys):
    """One stretch of a run: from when to when, on the stopwatch."""

    step: Line = _required("The step's name; `part: name` where two parts have one of that name.", "Mark the octagon")
    shown: Literal["live", "talk", "ready-made"] = _key("How it was shown.", example="live", default="live")
    from_: Elapsed = _required("Stopwatch at its start, minutes and seconds.", '"0:00"')
    to: Elapsed = _required("Stopwatch at its end.", '"4:12"')


class RunNoteKeys(Keys):
    """A thought noted while the stopwatch ran."""

    at: Elapsed = _required("Stopwatch.", '"3:05"')
    step: Line | None = _key("The step it came at.", example="Mark the octagon")
    says: Line = _required("The thought.", "Dividers were too stiff")


class PlannedKeys(Keys):
    """A step, or what stands between steps, as it was planned when a run began."""

    name: Line = _required("The step's name, or what it is.", "Mark the octagon")
    shown: Literal["live", "talk", "ready-made", "opening", "safety talk", "break", "hands-on", "questions"] = (
        _required("How it was to be shown, or what it is.", "live")
    )
    planned: Elapsed = _required("How long it was to take, minutes and seconds.", '"4:00"')
    number: Annotated[int, *whole(1, 2000)] | None = _key("The step's number on the run sheet.", example="2")


class BreakKeys(Keys):
    """What stands between the steps of a demonstration, on the stopwatch; it counts into no step."""

    what: Literal["opening", "safety talk", "break", "hands-on", "questions"] = _key(
        "What it was.", example="break", default="break"
    )
    from_: Elapsed = _required("Stopwatch at its start.", '"40:00"')
    to: Elapsed = _required("Stopwatch at its end.", '"52:10"')


class PauseKeys(Keys):
    """The stopwatch stood still; a recording went on meanwhile."""

    at: Elapsed = _required("Stopwatch while it stood.", '"12:04"')
    for_: Elapsed = _required("How long it stood, minutes and seconds.", '"1:30"')


class RunKeys(Keys):
    """One run over the steps, timed."""

    began: Line = _required("Day and clock time it began, as the watch's own clock had it.", "2026-03-14 10:05")
    kind: Literal["dry run", "demonstration"] = _key("What it was.", example="demonstration", default="dry run")
    for_: Line | None = _key("The demonstration it was of or for.", example="2026-03-21-fernhollow")
    plan: list[PlannedKeys] = _key(
        "What it goes over, as planned when it began; a run that is taken up keeps it.",
        example='[{name: Mark the octagon, shown: live, planned: "4:00", number: 2}]',
        default=(),
    )
    finished: bool = _key(
        "Whether it came to its end; if not, it can be taken up again.", example="true", default=False
    )
    times: list[TimingKeys] = _key("Stretches in order; a step may have several.", default=())
    breaks: list[BreakKeys] = _key("Breaks and the like, which count into no step.", default=())
    pauses: list[PauseKeys] = _key(
        "Pauses of the stopwatch, which count into nothing: the chapters of a recording go by them.", default=()
    )
    skipped: list[Line] = _key("Steps skipped.", example="[Turn the cap]", default=())
    notes: list[RunNoteKeys] = _key("Notes.", default=())

    @model_validator(mode="after")
    def _in_order(self) -> RunKeys:
        now = 0
        for timing in self.times:
            span = f"'{timing.step}' from {elapsed_text(timing.from_)} to {elapsed_text(timing.to)}"
            if timing.to < timing.from_:
                fault(f"the clock goes backwards: {span}", "give 'to' a time no earlier than 'from'")
            if timing.from_ < now:
                fault(
                    f"{span} overlaps the stretch before it, which ends at {elapsed_text(now)}",
                    "stretches follow one another; correct one of the two",
                )
            now = timing.to
        for rest in self.breaks:
            if rest.to < rest.from_:
                fault(
                    f"the clock goes backwards: the break from {elapsed_text(rest.from_)} to {elapsed_text(rest.to)}",
                    "give 'to' a time no earlier than 'from'",
                )
        return self


class RunsKeys(Keys):
    """Recorded runs; new ones are added at the end and none is ever written over."""

    runs: Annotated[list[RunKeys], Field(max_length=200)] = _required("The runs, oldest first.")


class FrozenStepKeys(Keys):
    """A step as it was planned when a run sheet was printed; times in minutes."""

    step: Line = _required("The step's name; `part: name` where two parts have one of that name.", "Mark the octagon")
    shown: Literal["live", "told"] = _required("Whether it is turned before the audience.", "live")
    live: Number = _required("Expected time if it is turned there.", "5.2")
    live_spread: Number = _required("Standard deviation of that.", "0.6")
    live_runs: Count = _required("Recorded runs that it rests on, besides the guess.", "2")
    told: Number = _required("Expected time if it is told.", "1")
    told_spread: Number = _required("Standard deviation of that.", "0.1")
    told_runs: Count = _required("Recorded runs that it rests on, besides the guess.", "0")


class FrozenPlanKeys(Keys):
    """What was settled when an evening was printed: its plan, and what calendars know it by.

    Beside a project as `plans/<calendar id>.yml`; the command `evening` writes it.
    """

    evening: Line = _required("The demonstration, as its file was called then.", "2026-03-21-fernhollow")
    formerly: list[Line] = _key("What its file was called when it was printed before that.", default=())
    printed: Line = _required("When, by UTC.", "2026-03-14T10:05:00+00:00")
    asked: Line = _required("A checksum of what the plan follows from, times apart.", "4f8a")
    steps: Annotated[list[FrozenStepKeys], Field(max_length=2000)] = _required("The steps that are shown.")
    sequence: Count = _required("How often the calendar's event was changed.", "0")
    revised: Line = _required("When it was changed last, by UTC.", "2026-03-14T10:05:00+00:00")
    says: Line = _required("A checksum of what the event says.", "77b0")
    events: list[Line] = _key("Names of what had to be done before it, each an event too.", default=())
