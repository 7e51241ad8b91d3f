"""Where units are taken off.

Solids are worked in plain millimetres and degrees. This is the one place at which
quantities become such numbers.
"""

from __future__ import annotations

from handouts_build.quantities import UNITS, Quantity

__all__ = ["in_deg", "in_mm"]


def in_mm(length: Quantity) -> float:
    """A length as a plain number of millimetres."""
    return float(length.m_as(UNITS["mm"]))


def in_deg(angle: Quantity) -> float:
    """An angle as a plain number of degrees."""
    return float(angle.m_as(UNITS["deg"]))
