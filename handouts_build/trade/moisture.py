"""The moisture wood settles at, and what is asked of humidities and temperatures.

This module owns the equation of equilibrium moisture content and the conditions on
what goes into it. What the moisture does to a piece is for the chapters.

The equation is 1800/W [Kh/(1-Kh) + (K1Kh + 2K1K2K²h²)/(1 + K1Kh + K1K2K²h²)], h the
humidity as a fraction and W, K, K1, K2 quadratics of the temperature in degrees
Fahrenheit.
"""

from __future__ import annotations

from handouts_build.quantities import Kind
from handouts_build.trade.demands import percent
from handouts_build.trade.law import ChapterInput, Demand, Law

__all__ = ["TEMPERATURE", "TWO_AIRS", "humidity_demands", "settling", "temperature_demands", "within_movement_range"]

TEMPERATURE = ChapterInput(
    "temperature", "T", Kind.NUMBER, "Temperature of the air, degrees Fahrenheit", optional=True, default="70"
)
TWO_AIRS = (
    ChapterInput(
        "humidity_from", "H_from", Kind.NUMBER, "Humidity of the air where it is made, percent", optional=True
    ),
    ChapterInput("humidity_to", "H_to", Kind.NUMBER, "Humidity of the air where it is kept, percent", optional=True),
    TEMPERATURE,
)
"""The air that a piece is made in and the air that it is kept in."""
_SOURCE = "wood-handbook-4-5"


def settling(when: str = "", said: str = "", *, main: bool = False) -> tuple[Law, Law, Law, Law]:
    """Equilibrium moisture content at one humidity, by its three parts.

    Args:
        when: Ends the names, as in `humidity_from`; nothing for `humidity` itself.
        said: When or where that is, for the working.
        main: Whether the moisture belongs on the dimensions sheet.
    """
    end = f"_{when}" if when else ""
    where = f", {said}" if said else ""
    t, a, b, c = "temperature", f"kh{end}", f"k1kh{end}", f"k1k2kh{end}"
    return (
        Law(
            a, f"Kh{end}", f"(0.791 + 0.000463 * {t} - 0.000000844 * {t}^2) * humidity{end} / 100",
            f"K h of the moisture equation{where}", _SOURCE, main=False,
        ),
        Law(
            b, f"K1Kh{end}", f"(6.34 + 0.000775 * {t} - 0.0000935 * {t}^2) * {a}",
            f"K1 K h of the moisture equation{where}", _SOURCE, main=False,
        ),
        Law(
            c, f"K1K2K²h²{end}", f"(1.09 + 0.0284 * {t} - 0.0000904 * {t}^2) * {a} * {b}",
            f"K1 K2 K² h² of the moisture equation{where}", _SOURCE, main=False,
        ),
        Law(
            f"emc{end}", f"M{end}" if when else "M_e",
            f"1800 / (330 + 0.452 * {t} + 0.00415 * {t}^2) * ({a} / (1 - {a}) + ({b} + 2 * {c}) / (1 + {b} + {c}))",
            f"Moisture the wood settles at, percent{where}", _SOURCE, main=main,
        ),
    )  # fmt: skip


def humidity_demands(when: str = "") -> tuple[Demand, Demand]:
    """A relative humidity is a percentage."""
    return percent(f"humidity_{when}" if when else "humidity", "a humidity")


def temperature_demands() -> tuple[Demand, Demand]:
    """The range of the published moisture table."""
    message, remedy = "a temperature of {temperature} °F", "give 30 to 130, in °F"
    return (
        Demand("temperature >= 30", "problem", message, remedy, "temperature", _SOURCE),
        Demand("temperature <= 130", "problem", message, remedy, "temperature", _SOURCE),
    )


def within_movement_range(when: str) -> tuple[Demand, Demand]:
    """The movement coefficients are published for a range of moisture."""
    message = f"{{emc_{when}}} percent moisture is outside the 6 to 14 the movement figures are published for"
    remedy = "take the change as a rough guide"
    source = "wood-handbook-13-2"
    return (
        Demand(f"emc_{when} >= 6", "note", message, remedy, f"humidity_{when}", source),
        Demand(f"emc_{when} <= 14", "note", message, remedy, f"humidity_{when}", source),
    )
