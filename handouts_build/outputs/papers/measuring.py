"""What a paper may ask of the typesetter before it is set, and how small its main drawing may become.

This module owns the frame. How it is asked is for `papers.typeset`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

__all__ = ["LARGE_PRINT", "LEAST_SCALE", "Measure"]

Measure = Callable[[Mapping[str, Any]], Mapping[str, Any]]
"""What the typesetter measures of some data: heights in mm."""

LEAST_SCALE = 0.72
"""How much of its own size the drawing of the whole piece has at the least: its lettering of 10 points is 2.5 mm."""

LARGE_PRINT = 18.0
"""Size of the letters of large print, in points: what associations of the blind ask for, from memory."""
