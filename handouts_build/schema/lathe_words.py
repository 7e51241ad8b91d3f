"""Words of `work` and `hold` that say whether the lathe holds and turns the wood.

This module owns those sets. How the work stands at a step is for `compute.step_facts`. Each of these
readings is common practice, no published source.
"""

from __future__ import annotations

from handouts_build.workpiece import HELPING, HOLDS

__all__ = ["LOCKED", "OFF_THE_LATHE", "OUTSIDE", "TURNED"]

OFF_THE_LATHE = frozenset(word for kind in HOLDS if not kind.turns for word in kind.words) - HELPING
"""Holds in which the lathe holds nothing."""
OUTSIDE = frozenset(
    {"roughing", "spindle turning", "faceplate turning", "off-axis turning", "cross-axis turning", "reverse turning"}
)
"""Work that turns the outside."""
TURNED = OUTSIDE | {
    "reverse running", "hollowing", "boring", "grooving", "drilling", "parting", "threading", "texturing", "sanding",
    "power sanding", "burning", "finishing", "buffing",
}  # fmt: skip
"""Work that is done on turning wood, where the lathe holds it."""
LOCKED = frozenset({"indexing", "drilling across"})
"""Work that is done on wood that the lathe holds at rest."""
