"""How fast the rim goes, and the speeds that rules and printed tables name.

This module owns the window of speeds for a diameter and what is said of a speed
against it. The printed tables are shown beside it, each for what it is. Drilling is
for `drilling`.

No authority publishes a speed for turning wood. The window is the trade's own rule,
diameter in inches times rpm between 6000 and 9000, which is a rim speed of 1571 to
2356 ft/min. Under 3 in it would climb past what lathes and spindles bear: there the
window of 3 in is kept, 2000 to 3000 rpm, where the school book of 1919 ends too.
"""

from __future__ import annotations

from collections.abc import Mapping

from handouts_build.quantities import UNITS, Err, Kind, Quantity, quantity
from handouts_build.tables import MANUAL, TEXTBOOK, SpeedRow, speed_row, speed_rows
from handouts_build.trade.demands import more_than_nought
from handouts_build.trade.law import Chapter, Demand, Given, Law, Looked, Remark, Verdict, Word

__all__ = ["OPERATIONS", "SPEED"]

OPERATIONS = ("roughing", "general", "finishing")
"""The cuts that the lathe manual's table tells apart."""

rim = Law("rim", "v", "pi * diameter * rpm", "Speed of the rim", "rim-speed")
low = Law(
    "low", "n_1", "round_down(6000 in * 1 rpm / max(diameter, 3 in), 10 rpm)",
    "Low end of the window by diameter times rpm", "diameter-times-rpm", Err.UNDER,
)  # fmt: skip
high = Law(
    "high", "n_2", "round_down(9000 in * 1 rpm / max(diameter, 3 in), 10 rpm)",
    "High end of the window by diameter times rpm", "diameter-times-rpm", Err.UNDER,
)  # fmt: skip
start = Law(
    "start", "n_0", "round_down(low / 2, 10 rpm)",
    "Start an unbalanced blank at this speed or slower", "start-slow", Err.UNDER,
)  # fmt: skip
manual = Law(
    "manual", "n_m", "manual_speed",
    "Speed that a bench lathe's manual names for this diameter and cut", "S-LATHE", Err.UNDER,
)  # fmt: skip
northcott = Law(
    "northcott", "n_N", "2000 ft / (1 min) / (pi * max(diameter, 3 in))",
    "Speed by Northcott's rule of 1876 for softwood, 2000 ft/min at the rim; under 3 in that of 3 in is kept",
    "S-NORTH", Err.UNDER, main=False,
)  # fmt: skip
here_low = Law(
    "here_low", "n_3", "max(low, lathe_slowest)",
    "Low end of what the lathe reaches of the window", "diameter-times-rpm", Err.UNDER, main=False,
)  # fmt: skip
here_high = Law(
    "here_high", "n_4", "min(high, lathe_fastest)",
    "High end of what the lathe reaches of the window", "diameter-times-rpm", Err.UNDER, main=False,
)  # fmt: skip


def _operation(said: tuple[str, ...], told: Mapping[str, Quantity]) -> Looked:
    """The lathe manual's line for a cut."""
    (operation,) = said
    row = speed_row(MANUAL, diameter_mm=_mm(told["diameter"]), operation=operation)
    if row is None or row.rpm_high is None:
        return Looked({}, verdicts=(Verdict("note", _PAST_THE_TABLE, "start at the lathe's slowest speed"),))
    lines = tuple(
        (one.to_mm, one.rpm_high)
        for one in speed_rows(MANUAL)
        if one.operation == operation and one.to_mm is not None and one.rpm_high is not None
    )
    return Looked({"manual_speed": quantity(row.rpm_high, "rpm")}, lines={"manual_speed": lines})


_PAST_THE_TABLE = "the lathe manual's table of speeds stops short of this diameter"


def _remarks(known: Mapping[str, Quantity]) -> tuple[Remark, ...]:
    """The printed tables, each labelled for what it is."""
    across = _mm(known["diameter"])
    remarks = [
        Remark(
            "The window is a rule of thumb for sound, balanced wood well held. Long thin work, glued-up wood, "
            "bark edges and off-axis work turn slower, and the lathe's manual comes first.",
            "diameter-times-rpm",
        )
    ]
    rows = [(cut, speed_row(MANUAL, diameter_mm=across, operation=cut)) for cut in OPERATIONS]
    named = ", ".join(f"{row.rpm_high:,.0f} rpm {cut}" for cut, row in rows if row and row.rpm_high)
    if named:
        remarks.append(Remark(f"One bench lathe's manual names for this diameter: {named}.", "S-LATHE"))
    textbook = speed_row(TEXTBOOK, diameter_mm=across)
    if textbook is not None:
        remarks.append(Remark(f"A school book of 1919 names for this diameter: {_textbook(textbook)}.", "S-MW"))
    if "rim" in known:
        remarks.append(
            Remark(
                "At {rpm} the rim goes at {rim}. At twice the speed it pulls outward four times as hard.", "rim-speed"
            )
        )
    return tuple(remarks)


def _textbook(row: SpeedRow) -> str:
    """A line of the textbook's table in words."""
    if row.rpm_low is None:
        return f"the {row.says} of its lathe"
    return f"{row.rpm_low:,.0f} to {row.rpm_high:,.0f} rpm, the {row.says} of its lathe"


def _mm(length: Quantity) -> float:
    return float(length.m_as(UNITS["mm"]))


def _turning(name: str, called: str) -> Demand:
    """A speed must be more than nought."""
    return Demand(f"{name} > 0 rpm", "problem", f"{called} is {{{name}}}", "give a speed such as 800 rpm", name)


SPEED = Chapter(
    name="speed",
    about="The rim's speed, a window of lathe speeds for a diameter, and what printed tables name.",
    words=(Word("operation", "Kind of cut, for the lathe manual's table", "a kind of cut", _operation, OPERATIONS),),
    givens=(
        Given("diameter", "D", Kind.LENGTH, "Largest diameter about the present axis; a square's diagonal"),
        Given("rpm", "n", Kind.SPEED, "Speed chosen", optional=True),
        Given("lathe_slowest", "n_a", Kind.SPEED, "Slowest speed of the lathe", optional=True),
        Given("lathe_fastest", "n_b", Kind.SPEED, "Fastest speed of the lathe", optional=True),
        Given("manual_speed", "n_t", Kind.SPEED, "Speed in a manual's table for this diameter and cut", optional=True),
    ),
    laws=(rim, low, high, start, manual, northcott, here_low, here_high),
    demands=(
        more_than_nought("diameter", "the diameter"),
        _turning("rpm", "the speed"),
        _turning("lathe_slowest", "the lathe's slowest speed"),
        _turning("lathe_fastest", "the lathe's fastest speed"),
        _turning("manual_speed", "the manual's speed"),
        Demand(
            "lathe_slowest < lathe_fastest",
            "problem",
            "the lathe's slowest speed, {lathe_slowest}, is not under its fastest, {lathe_fastest}",
            "exchange them",
            "lathe_slowest",
        ),
        Demand(
            "rpm < 2 * high",
            "stop",
            "{rpm} is twice the high end of the window, {high}, or more",
            "choose a speed in the window",
            "rpm",
            "diameter-times-rpm",
        ),
        # True at or under the high end, and at or over twice of it, where the stop above has said so.
        Demand(
            "abs(rpm - 1.5 * high) >= 0.5 * high",
            "mind",
            "{rpm} is above the high end of the window, {high}",
            "choose a slower speed, unless the lathe's manual allows it for this diameter",
            "rpm",
            "diameter-times-rpm",
        ),
        Demand(
            "rpm <= manual",
            "mind",
            "{rpm} is faster than the {manual} that one lathe's manual names for this diameter and cut",
            "start at that or slower, and look in the manual of the lathe you use",
            "rpm",
            "S-LATHE",
        ),
        Demand(
            "rpm <= lathe_fastest",
            "mind",
            "{rpm} is faster than the lathe turns, {lathe_fastest}",
            "choose a speed the lathe has",
            "rpm",
        ),
        Demand(
            "rpm >= lathe_slowest",
            "mind",
            "{rpm} is slower than the lathe turns, {lathe_slowest}",
            "choose a speed the lathe has",
            "rpm",
        ),
        Demand(
            "lathe_slowest < high",
            "stop",
            "the lathe's slowest speed, {lathe_slowest}, is not under the high end of the window, {high}",
            "use a slower lathe or a smaller blank",
            "lathe_slowest",
            "diameter-times-rpm",
        ),
        # True at or under the start, and at or over the high end, where the stop above has said so.
        Demand(
            "abs(lathe_slowest - (start + high) / 2) >= (high - start) / 2",
            "mind",
            "the lathe's slowest speed, {lathe_slowest}, is over the {start} an unbalanced blank should start at",
            "true the blank up before it is mounted, and use the tailstock",
            "lathe_slowest",
            "start-slow",
        ),
        Demand(
            "lathe_fastest >= low",
            "note",
            "the lathe's fastest speed, {lathe_fastest}, is under the low end of the window, {low}",
            "turn at a speed the lathe has, with sharp tools and light cuts",
            "lathe_fastest",
        ),
    ),
    remarks=_remarks,
)
