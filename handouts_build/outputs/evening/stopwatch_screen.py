"""The stopwatch as lines of a terminal.

This module owns what stands on that screen. It is given the watch and changes
nothing; bars are plain signs, so that any terminal and any screen reader tells them.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator

from handouts_build.language import tr_later
from handouts_build.sheet.stopwatch import ON_TIME, Leg, Stopwatch, elapsed_words

__all__ = ["STEP_MANNER", "WATCH_WORDS", "lines"]

WATCH_WORDS = {
    "done": tr_later("All steps are done."),
    "on_time": tr_later("on time"),
    "behind": tr_later("{time} behind"),
    "ahead": tr_later("{time} ahead"),
    "between": tr_later("counts into no step"),
}
"""What the stopwatch says, in the terminal and on its page."""

STEP_MANNER = {"live": tr_later("live"), "talk": tr_later("told"), "ready-made": tr_later("ready-made")}
"""How the step at hand is shown."""

_KEYS = "n next   p pause   b back   s skip   t note   q leave (it can be taken up again)"
_BOLD, _PLAIN = "\x1b[1m", "\x1b[0m"


def lines(watch: Stopwatch, *, title: str, size: tuple[int, int], saved: str, typing: str | None = None) -> list[str]:
    """The screen.

    Args:
        watch: The watch.
        title: Of the piece.
        size: Columns and rows.
        saved: Where it is kept, or why it is not.
        typing: The note being typed; None when none is.
    """
    wide, high = max(20, size[0]), max(6, size[1])
    head = [
        _fit(f"{title}: {watch.kind}", wide),
        _fit(
            f"{elapsed_words(watch.now)} of {elapsed_words(watch.planned(len(watch.legs)))} planned, {_behind(watch)}",
            wide,
        ),
        "",
    ]
    foot = [
        "",
        _fit(saved, wide),
        _fit(f"Note: {typing}_   (Enter keeps it, Esc drops it)" if typing is not None else _KEYS, wide),
    ]
    middle = list(_middle(watch, wide))
    room = high - len(head) - len(foot)
    table = list(_steps(watch, wide))
    left = room - len(middle) - 1
    if left >= 3:
        first = max(0, min(watch.at - left // 2, len(table) - left))
        middle += ["", *table[first : first + left]]
    return [*head, *middle[:room], *[""] * (room - len(middle)), *foot][:high]


def _middle(watch: Stopwatch, wide: int) -> Iterator[str]:
    leg = watch.leg
    if leg is None:
        yield f"{_BOLD}{_fit(WATCH_WORDS['done'], wide)}{_PLAIN}"
        return
    spent = watch.spent(leg.name)
    state = "" if watch.running else "   PAUSED: press p" if watch.now else "   press p to start"
    yield f"{_BOLD}{_fit(_numbered(leg), wide)}{_PLAIN}"
    how = STEP_MANNER.get(leg.shown, WATCH_WORDS["between"])
    yield _fit(f"{elapsed_words(spent)} of {elapsed_words(leg.planned)}, {how}{state}", wide)
    yield _bar(spent, leg.planned, wide)
    following = _numbered(watch.legs[watch.at + 1]) if watch.at + 1 < len(watch.legs) else "the end"
    yield _fit(f"then: {following}", wide)


def _steps(watch: Stopwatch, wide: int) -> Iterator[str]:
    for index, leg in enumerate(watch.legs):
        sign = ">" if index == watch.at else "x" if leg.name in watch.skipped else "+" if index < watch.at else " "
        yield _fit(f"{sign} {_times(watch, leg)}  {_numbered(leg)}", wide)


def _numbered(leg: Leg) -> str:
    """A step with its number on the run sheet; what is no step has none."""
    return f"{leg.number}. {leg.name}" if leg.number else leg.name


def _times(watch: Stopwatch, leg: Leg) -> str:
    spent = watch.spent(leg.name)
    return f"{elapsed_words(spent) if spent else '':>6} / {elapsed_words(leg.planned):>6}"


def _behind(watch: Stopwatch) -> str:
    late = watch.behind
    if abs(late) < ON_TIME:
        return WATCH_WORDS["on_time"]
    return WATCH_WORDS["behind" if late > 0 else "ahead"].format(time=elapsed_words(abs(late)))


def _bar(spent: float, planned: float, wide: int) -> str:
    """A bar against the plan: = within it, ! beyond it."""
    room = wide - 2
    if planned <= 0:
        return f"[{'!' * room}]"
    if spent <= planned:
        full = int(room * spent / planned)
        return f"[{'=' * full}{' ' * (room - full)}]"
    within = max(1, int(room * planned / spent))
    return f"[{'=' * within}{'!' * (room - within)}]"


def _fit(text: str, wide: int) -> str:
    """Text cut to the width of the screen, wide signs counted as two."""
    used, kept = 0, []
    for sign in text:
        cells = 2 if unicodedata.east_asian_width(sign) in "WF" else 0 if unicodedata.combining(sign) else 1
        if used + cells > wide:
            break
        kept.append(sign)
        used += cells
    return "".join(kept)
