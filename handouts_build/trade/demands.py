"""Conditions that several chapters put on what they are given.

This module owns the sentences said about counts, percentages, lengths that must be
more than nought, and wood left too thin. Which values they are asked of is for the chapters.
"""

from __future__ import annotations

from handouts_build.trade.law import Demand

__all__ = ["more_than_nought", "percent", "thin", "whole"]


def more_than_nought(name: str, called: str) -> Demand:
    """A length must be more than nought.

    Args:
        name: The given.
        called: What it is, such as `the diameter`.
    """
    return Demand(
        f"{name} > 0 in",
        "problem",
        f"{called} is {{{name}}}",
        f"give {called} as a length of more than nought",
        at=name,
    )


def whole(name: str, *, least: int, most: int = 360) -> tuple[Demand, ...]:
    """A count must be whole and within bounds.

    Args:
        name: The given, which is also its word in print.
        least: Fewest that mean anything.
        most: Most that can be laid out; 360 is one a degree.
    """
    return (
        Demand(
            f"{name} >= {least}",
            "problem",
            f"{{{name}}} {name}: there is nothing to lay out",
            f"give {least} or more",
            name,
        ),
        Demand(
            f"{name} <= {most}",
            "problem",
            f"{{{name}}} {name} is more than can be laid out",
            f"give {most} or fewer",
            name,
        ),
        Demand(
            f"round_down({name}, 1) >= {name}",
            "problem",
            f"{{{name}}} {name} is not a whole number",
            "give a whole number",
            name,
        ),
    )


def percent(name: str, called: str, *, most: int = 100) -> tuple[Demand, Demand]:
    """A percentage from nought up.

    Args:
        name: The given.
        called: What it is, such as `a humidity`.
        most: Most that does.
    """
    message, remedy = f"{called} of {{{name}}} percent", f"give a number from 0 to {most}"
    return (
        Demand(f"{name} >= 0", "problem", message, remedy, name),
        Demand(f"{name} <= {most}", "problem", message, remedy, name),
    )


def thin(name: str, *, limit: int, left: str, remedy: str) -> Demand:
    """Little wood is left between two cuts. That none is left is another demand.

    Args:
        name: The result that says how much is left.
        limit: Wood under 1/limit of an inch is thin.
        left: Said when there is some, but less than the limit.
        remedy: What to do.
    """
    half = f"1/{2 * limit} in"
    # True at or over the limit, and at or under nought as well, so that a part that is gone is not also called thin.
    return Demand(f"abs({name} - {half}) >= {half}", "mind", left, remedy, source="thin-wood")
