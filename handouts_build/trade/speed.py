"""How fast the rim goes, and the speeds that rules and printed tables bound work by.

This module owns the bounds that a diameter sets, and what is said of a speed against
them. The printed tables are told beside them, each for what it is. Drilling is for
`drilling`; which bound holds at a step is for `compute.speed_limits`.

No authority publishes a speed for turning wood. The bound is the trade's own rule,
diameter in inches times rpm at most 9000, which is a rim speed of 2356 ft/min. Under
3 in it would climb past what lathes and spindles bear: there the 3000 rpm of 3 in are
kept, where the school book of 1919 ends too. It is rounded down to a whole turn, so
that a speed at which diameter times rpm is exactly 9000 is not over it.
"""

from __future__ import annotations

from collections.abc import Mapping

from handouts_build.language import in_a_row, tr, tr_later
from handouts_build.quantities import UNITS, Err, Kind, Quantity, quantity
from handouts_build.tables import MANUAL, speed_row, speed_rows
from handouts_build.trade.demands import more_than_nought
from handouts_build.trade.law import Chapter, ChapterInput, ChapterRemark, Demand, Law, LookupResult, Word, WordVerdict

__all__ = ["OPERATIONS", "SPEED"]

_CUTS = {"roughing": tr_later("roughing"), "general": tr_later("general cuts"), "finishing": tr_later("finishing")}
OPERATIONS = tuple(_CUTS)
"""The cuts that the lathe manual's table tells apart."""

rim = Law("rim", "v", "pi * diameter * rpm", "Speed of the rim", "rim-speed")
high = Law(
    "high", "n_2", "round_down(9000 in * 1 rpm / max(diameter, 3 in), 1 rpm)",
    "Rule of thumb for round, balanced wood well held: no faster than", "diameter-times-rpm", Err.UNDER,
)  # fmt: skip
start = Law(
    "start", "n_0", "round_down(3000 in * 1 rpm / max(diameter, 3 in), 10 rpm)",
    "Start an unbalanced blank no faster than", "start-slow", Err.UNDER,
)  # fmt: skip
weak = Law(
    "weak", "n_w", "round_down(4500 in * 1 rpm / max(diameter, 3 in), 10 rpm)",
    "Weak or weakly held work: no faster than", "weak-work", Err.UNDER, main=False,
)  # fmt: skip
manual = Law(
    "manual", "n_m", "manual_speed",
    "One bench lathe's manual, for this diameter and cut: no faster than", "S-LATHE", Err.UNDER,
)  # fmt: skip


def _operation(said: tuple[str, ...], givens: Mapping[str, Quantity]) -> LookupResult:
    """The lathe manual's line for a cut."""
    (operation,) = said
    row = speed_row(MANUAL, diameter_mm=_mm(givens["diameter"]), operation=operation)
    if row is None or row.rpm_high is None:
        return LookupResult(
            {}, verdicts=(WordVerdict("note", tr(_PAST_THE_TABLE), tr("start at the lathe's slowest speed")),)
        )
    lines = tuple(
        (line.to_mm, line.rpm_high)
        for line in speed_rows(MANUAL)
        if line.operation == operation and line.to_mm is not None and line.rpm_high is not None
    )
    return LookupResult({"manual_speed": quantity(row.rpm_high, "rpm")}, lines={"manual_speed": lines})


_PAST_THE_TABLE = tr_later("the lathe manual's table of speeds stops short of this diameter")


def _remarks(known: Mapping[str, Quantity]) -> tuple[ChapterRemark, ...]:
    """What bounds a speed, each labelled for what it is."""
    across = _mm(known["diameter"])
    remarks = [
        ChapterRemark(
            tr(
                "Diameter times rpm is a rule of thumb for sound, balanced wood well held, and a bound: no "
                "speed to reach for. Long thin work, glued-up wood, bark edges and off-axis work turn slower, "
                "and the lathe's manual comes first."
            ),
            "diameter-times-rpm",
        )
    ]
    rows = [(cut, speed_row(MANUAL, diameter_mm=across, operation=cut)) for cut in OPERATIONS]
    named = [
        tr("{speed} rpm for {cut}", speed=f"{row.rpm_high:,.0f}", cut=tr(_CUTS[cut]))
        for cut, row in rows
        if row and row.rpm_high
    ]
    if named:
        sentence = tr("One bench lathe's manual allows at most {speeds} at this diameter.", speeds=in_a_row(named))
        remarks.append(ChapterRemark(sentence, "S-LATHE"))
    if "rim" in known:
        remarks.append(
            ChapterRemark(
                tr("At {rpm} the rim goes at {rim}. At twice the speed it pulls outward four times as hard."),
                "rim-speed",
            )
        )
    return tuple(remarks)


def _mm(length: Quantity) -> float:
    return float(length.m_as(UNITS["mm"]))


def _turning(name: str, called: str) -> Demand:
    """A speed must be more than nought."""
    return Demand(f"{name} > 0 rpm", "problem", f"{called} is {{{name}}}", "give a speed such as 800 rpm", name)


SPEED = Chapter(
    name="speed",
    about="The rim's speed, and the speeds that a diameter must not exceed by rules and printed tables.",
    words=(Word("operation", "Kind of cut, for the lathe manual's table", "a kind of cut", _operation, OPERATIONS),),
    givens=(
        ChapterInput("diameter", "D", Kind.LENGTH, "Largest diameter about the present axis; a square's diagonal"),
        ChapterInput("rpm", "n", Kind.SPEED, "Speed chosen", optional=True),
        ChapterInput("lathe_slowest", "n_a", Kind.SPEED, "Slowest speed of the lathe", optional=True),
        ChapterInput("lathe_fastest", "n_b", Kind.SPEED, "Fastest speed of the lathe", optional=True),
        ChapterInput(
            "manual_speed", "n_t", Kind.SPEED, "Speed in a manual's table for this diameter and cut", optional=True
        ),
    ),
    laws=(rim, high, start, weak, manual),
    demands=(
        more_than_nought("diameter", "the diameter"),
        _turning("rpm", "the speed"),
        _turning("lathe_slowest", "the lathe's slowest speed"),
        _turning("lathe_fastest", "the lathe's fastest speed"),
        _turning("manual_speed", "the manual's speed"),
        Demand(
            "lathe_slowest < lathe_fastest",
            "problem",
            "the lathe's slowest speed, {lathe_slowest}, is as fast as its fastest, {lathe_fastest}, or faster",
            "exchange them",
            "lathe_slowest",
        ),
        Demand(
            "rpm < 2 * high",
            "stop",
            "{rpm} is twice the {high} that is the most for this diameter, or more",
            "choose a slower speed",
            "rpm",
            "diameter-times-rpm",
        ),
        # True at or under the bound, and at or over twice of it, where the stop above has said so.
        Demand(
            "abs(rpm - 1.5 * high) >= 0.5 * high",
            "mind",
            "{rpm} is over the {high} that is the most for this diameter",
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
            "the lathe's slowest speed, {lathe_slowest}, is the {high} that is the most for this diameter, or over",
            "use a slower lathe or a smaller blank",
            "lathe_slowest",
            "diameter-times-rpm",
        ),
        # True at or under the start, and at or over the bound, where the stop above has said so.
        Demand(
            "abs(lathe_slowest - (start + high) / 2) >= (high - start) / 2",
            "mind",
            "the lathe's slowest speed, {lathe_slowest}, is over the {start} an unbalanced blank should start at",
            "true the blank up before it is mounted, and use the tailstock",
            "lathe_slowest",
            "start-slow",
        ),
    ),
    remarks=_remarks,
)
