"""Single stretches of outline for the tests, with what the trade's laws say of them."""

from __future__ import annotations

from dataclasses import dataclass

from handouts_build.trade.curves import HALF_BEAD, HALF_COVE, Stretch, curve_rows, line_rows, quarter_laws
from handouts_build.trade.rows import Rows


@dataclass(frozen=True)
class Measured:
    """A stretch and its wood, in mm."""

    stretch: Stretch
    volume: float
    moment: float
    surface: float


def _measured(rows: Rows, **given: float) -> Measured:
    values = rows.worked(given)
    told = (values[f"1.{one}"] for one in ("volume", "moment", "surface"))
    return Measured(Stretch.from_rows(values, "1"), *told)


def line(x0: float, x1: float, *, r0: float, r1: float) -> Measured:
    """A straight line from radius r0 to r1."""
    rows = Rows()
    line_rows(rows, "1", x0="x0", long="long", d0="d0", d1="d1")
    return _measured(rows, x0=x0, long=x1 - x0, d0=2 * r0, d1=2 * r1)


def _curve(laws: dict[str, str], x0: float, x1: float, **radii: float) -> Measured:
    rows = Rows()
    named = {f"d{key[1:]}": 2 * value for key, value in radii.items()}
    curve_rows(rows, "1", laws, x0="x0", long="long", **{name: name for name in named})
    return _measured(rows, x0=x0, long=x1 - x0, **named)


def half_ellipse(x0: float, x1: float, *, r0: float, r1: float, crest: float) -> Measured:
    """A half-ellipse on the sloping base from r0 to r1, its extreme radius the crest."""
    return _curve(HALF_BEAD if crest > max(r0, r1) else HALF_COVE, x0, x1, r0=r0, r1=r1, r=crest)


def quarter_ellipse(x0: float, x1: float, *, r0: float, r1: float, swells: bool = True) -> Measured:
    """A quarter-ellipse between two radii."""
    return _curve(quarter_laws(swells=swells), x0, x1, r0=r0, r1=r1)


def arc(x0: float, x1: float, *, middle: float, level: float, radius: float) -> Measured:
    """An arc of a circle that is level at `middle`; it turns outward where its radius is less than nought."""
    rows = Rows()
    laws = {"e": "reach", "y0": "begin", "a": "base", "b": "0", "c": "bend"}
    curve_rows(rows, "1", laws, x0="x0", long="long", **{name: name for name in ("reach", "begin", "base", "bend")})
    return _measured(rows, x0=x0, long=x1 - x0, reach=abs(radius), begin=x0 - middle, base=level - radius, bend=radius)
