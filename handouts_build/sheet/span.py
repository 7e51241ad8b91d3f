"""How a span of time is told: minutes up to an hour, hours up to two days, then days.

This module owns that one rule, for waits on pages, papers and in the calendar.
"""

from __future__ import annotations

from handouts_build.language import tr_count

__all__ = ["told_span"]

_HOUR, _DAY = 60, 24 * 60


def told_span(minutes: float) -> str:
    """A span as a person says it, such as `40 min`, `24 h`, `1 h 30 min` or `3 days`.

    Args:
        minutes: How long, in minutes.
    """
    whole = round(minutes)
    if whole >= 2 * _DAY and whole % _DAY == 0:
        return tr_count("{count}\N{NO-BREAK SPACE}day", "{count}\N{NO-BREAK SPACE}days", whole // _DAY)
    hours, rest = divmod(whole, _HOUR)
    phrases = (
        f"{hours}\N{NO-BREAK SPACE}h" if hours else "",
        f"{rest}\N{NO-BREAK SPACE}min" if rest or not hours else "",
    )
    return " ".join(word for word in phrases if word)
