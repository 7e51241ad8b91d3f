"""A stopwatch over the steps of a project: what it knows, and the file it keeps.

This module owns the watch itself. It reads no clock: whoever drives it says how
much time has gone by, so a clock that jumps back cannot harm it. It draws nothing
and writes nothing; a run it has recorded is text, in the form the reader reads.
"""

from __future__ import annotations

import json
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass, field

__all__ = [
    "KINDS",
    "LONGEST_NOTE",
    "ON_TIME",
    "REPLACED",
    "STEPS",
    "Lap",
    "Leg",
    "Pause",
    "Stopwatch",
    "elapsed_words",
    "one_line",
]

STEPS = ("live", "talk", "ready-made")
"""How a step is shown. Anything else, such as a break, is a leg whose time counts into no step."""

KINDS = ("dry run", "demonstration")
"""What a run is: rehearsed, or held before people."""

LONGEST_NOTE = 160
"""Characters (code points) of a note; a line of a file of runs takes no more."""

ON_TIME = 30
"""Seconds behind or ahead of the plan that count as on time."""

REPLACED = (("{", "("), ("}", ")"), ("<", "‹"), ("#", "No. "))
"""Signs that mean something in a file, and what stands for them in a note."""

_JOINER = "\u200d"
_MARKS = ("Mn", "Mc", "Me")
_TONES = range(0x1F3FB, 0x1F400)
_FLAG_LETTERS = range(0x1F1E6, 0x1F200)


@dataclass(frozen=True)
class Leg:
    """One step as the watch goes over it, or what stands between steps."""

    name: str
    shown: str
    """One of `STEPS`, or `opening`, `safety talk`, `break`, `hands-on`, `questions`."""
    planned: float
    """Seconds."""
    number: int = 0
    """The step's on the handout and the run sheet; 0 for what is no step."""

    @property
    def is_step(self) -> bool:
        """Whether its time counts into a step."""
        return self.shown in STEPS


@dataclass
class Lap:
    """From when to when a step ran, in seconds on the watch."""

    step: str
    shown: str
    start: float
    end: float


@dataclass
class Pause:
    """How long the watch stood still, and at what it stood, in seconds; a recording went on meanwhile."""

    at: float
    lasted: float


@dataclass
class Stopwatch:
    """The state of one run."""

    legs: Sequence[Leg]
    began: str
    """Day and time of day, for the record only."""
    kind: str = KINDS[0]
    evening: str = ""
    """The demonstration it is of or for; empty for none."""
    at: int = 0
    """Which leg; as many as there are legs when all are done."""
    running: bool = False
    now: float = 0.0
    """Seconds on the watch: it stands still while it is paused."""
    laps: list[Lap] = field(default_factory=list)
    skipped: list[str] = field(default_factory=list)
    notes: list[tuple[float, str, str]] = field(default_factory=list)
    """When, at which step, what."""
    pauses: list[Pause] = field(default_factory=list)
    _open: bool = False

    @property
    def finished(self) -> bool:
        """Whether the last step is over."""
        return self.at >= len(self.legs)

    @property
    def leg(self) -> Leg | None:
        """The step at hand."""
        return None if self.finished else self.legs[self.at]

    def passed(self, seconds: float) -> None:
        """Let time go by; a clock that went backwards lets none go by."""
        if self.finished or seconds <= 0:
            return
        if self.running:
            self.now += seconds
            self.laps[-1].end = self.now
        elif self.laps:
            if not self.pauses or self.pauses[-1].at != self.now:
                self.pauses.append(Pause(self.now, 0.0))
            self.pauses[-1].lasted += seconds

    def start(self) -> None:
        """Run, from a pause or from the beginning."""
        if not self.finished and not self.running:
            self.running = True
            self._enter()

    def pause(self) -> None:
        """Stand still."""
        self.running = False
        self._open = False

    def toggle(self) -> None:
        """Pause, or go on."""
        if self.running:
            self.pause()
        else:
            self.start()

    def forward(self) -> None:
        """The step is done: on to the next one."""
        if not self.finished:
            self._move(1)

    def skip(self) -> None:
        """The step is not shown, or was broken off: its time does not count as its length."""
        if self.leg is not None:
            if self.leg.name not in self.skipped and self.leg.is_step:
                self.skipped.append(self.leg.name)
            self._move(1)

    def back(self) -> None:
        """Back to the step before, whose time goes on where it was."""
        if self.at > 0:
            self._move(-1)
            if self.leg is not None and self.leg.name in self.skipped:
                self.skipped.remove(self.leg.name)

    @property
    def here(self) -> tuple[float, str]:
        """Where a thought comes: seconds on the watch, and the step; empty between steps and at the end."""
        return self.now, self.leg.name if self.leg and self.leg.is_step else ""

    def note(self, text: str, at: tuple[float, str] | None = None) -> None:
        """Keep a thought.

        Args:
            text: What was typed.
            at: When and at which step it came, from `here`; now if not given.
        """
        said = one_line(text)
        if said:
            self.notes.append((*(at or self.here), said))

    def spent(self, name: str) -> float:
        """Seconds that a step has run so far."""
        return sum(lap.end - lap.start for lap in self.laps if lap.step == name)

    def planned(self, legs: int) -> float:
        """Seconds that the first so many legs are planned to take."""
        return sum(leg.planned for leg in self.legs[:legs])

    @property
    def behind(self) -> float:
        """Seconds behind the plan; less than nought when ahead."""
        if self.leg is None:
            return self.now - self.planned(len(self.legs))
        return self.now - self.planned(self.at) - min(self.spent(self.leg.name), self.leg.planned)

    def _move(self, by: int) -> None:
        self.at += by
        self._open = False
        if self.finished:
            self.running = False
        elif self.running:
            self._enter()

    def _enter(self) -> None:
        leg = self.leg
        if leg is not None and not self._open:
            self.laps.append(Lap(leg.name, leg.shown, self.now, self.now))
            self._open = True

    def text(self) -> str:
        """The run as a file of recorded runs."""
        lines = [
            "# Written by the stopwatch. Correct it freely; it is read, never written over.",
            "runs:",
            f"  - began: {_quoted(self.began)}",
            f"    kind: {self.kind}",
            *([f"    for: {_quoted(self.evening)}"] if self.evening else []),
            f"    finished: {'true' if self.finished else 'false'}",
            "    plan:" if self.legs else "    plan: []",
        ]
        lines += [
            f"      - {{name: {_quoted(leg.name)}, shown: {leg.shown}, planned: {_quoted(elapsed_words(leg.planned))}"
            f"{f', number: {leg.number}' if leg.number else ''}}}"
            for leg in self.legs
        ]
        lasted = [lap for lap in self.laps if round(lap.end) > round(lap.start)]
        kept, between = ([lap for lap in lasted if (lap.shown in STEPS) is step] for step in (True, False))
        lines.append("    times:" if kept else "    times: []")
        lines += [f"      - {{step: {_quoted(lap.step)}, shown: {lap.shown}, {_from_to(lap)}}}" for lap in kept]
        if between:
            lines.append("    breaks:")
            lines += [f"      - {{what: {lap.shown}, {_from_to(lap)}}}" for lap in between]
        if stood := [pause for pause in self.pauses if round(pause.lasted)]:
            lines.append("    pauses:")
            lines += [
                f"      - {{at: {_quoted(elapsed_words(pause.at))}, for: {_quoted(elapsed_words(pause.lasted))}}}"
                for pause in stood
            ]
        if self.skipped:
            lines.append(f"    skipped: [{', '.join(map(_quoted, self.skipped))}]")
        if self.notes:
            lines.append("    notes:")
            for when, step, said in self.notes:
                where = f"step: {_quoted(step)}, " if step else ""
                lines.append(f"      - {{at: {_quoted(elapsed_words(when))}, {where}says: {_quoted(said)}}}")
        return "\n".join(lines) + "\n"


def elapsed_words(seconds: float) -> str:
    """Seconds as on a stopwatch: `4:05`."""
    whole = round(seconds)
    return f"{whole // 60}:{whole % 60:02d}"


def one_line(text: str) -> str:
    """Typed text fit for the file: one line, nothing unseen, no curly brackets or markup."""
    seen = "".join(sign if sign.isprintable() or _joins(text, place) else " " for place, sign in enumerate(text))
    for sign, instead in REPLACED:
        seen = seen.replace(sign, instead)
    return _cut(" ".join(seen.split())).strip()


def _joins(text: str, place: int) -> bool:
    """Whether what stands here is unseen but makes one sign of the two beside it."""
    beside = text[place - 1 : place] + text[place + 1 : place + 2]
    return text[place] == _JOINER and len(beside) == 2 and beside.isprintable() and " " not in beside


def _cut(text: str) -> str:
    """Text no longer than a note, cut between signs as they are seen: none loses its accent or a part of it."""
    if len(text) <= LONGEST_NOTE:
        return text
    end = LONGEST_NOTE
    while end and _goes_on(text, end):
        end -= 1
    return text[: end or LONGEST_NOTE]


def _goes_on(text: str, place: int) -> bool:
    """Whether the sign before a place goes on there: accents, skin tones, what is joined, and flags of two letters."""
    sign, before = text[place], text[place - 1]
    if sign == _JOINER or before == _JOINER or unicodedata.category(sign) in _MARKS or ord(sign) in _TONES:
        return True
    letters = len(text[:place]) - len(text[:place].rstrip("".join(map(chr, _FLAG_LETTERS))))
    return ord(sign) in _FLAG_LETTERS and letters % 2 == 1


def _from_to(lap: Lap) -> str:
    return f"from: {_quoted(elapsed_words(lap.start))}, to: {_quoted(elapsed_words(lap.end))}"


def _quoted(text: str) -> str:
    """Text as a YAML double-quoted scalar; JSON's form is one."""
    return json.dumps(text, ensure_ascii=False)
