"""How hard the tests try: a little on every run, much where `HANDOUTS_LONG=1`, as CI does in a run of its own.

Tests marked `long` are left out of the everyday run; those of hypothesis are in both.
"""

from __future__ import annotations

import os

__all__ = ["LONG", "tries"]

LONG = os.environ.get("HANDOUTS_LONG") == "1"


def tries(short: int, long: int) -> int:
    """How many examples to try.

    Args:
        short: In the everyday run.
        long: In the long run.
    """
    return long if LONG else short
