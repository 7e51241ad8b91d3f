"""What is kept of a tenon in its hole between runs: plain numbers.

This module owns which they are. What is said of them is in `fits`.
"""

from __future__ import annotations

import math
from dataclasses import asdict
from typing import Any

from handouts_build import workpiece as kernel

__all__ = ["fit_numbers"]


def fit_numbers(fit: kernel.Fit) -> dict[str, Any]:
    """What is kept of a tenon in its hole."""
    return {
        "play_mm": fit.play_mm if math.isfinite(fit.hole_mm) else None,
        "engaged_mm": fit.engaged_mm,
        "spare_mm": fit.spare_mm if math.isfinite(fit.spare_mm) else None,
        "hole_mm": fit.hole_mm if math.isfinite(fit.hole_mm) else None,
        "tenon_mm": fit.tenon_mm,
        "named_mm": fit.named_mm,
        "long_mm": fit.long_mm,
        "beyond_mm": fit.beyond_mm,
        "gone": fit.gone,
        "thread": _thread(fit.thread) if fit.thread is not None else None,
        "snap": asdict(fit.snap) if fit.snap is not None else None,
        "half_threaded": fit.half_threaded,
        "clashes": [(clash.other, clash.volume_mm3) for clash in fit.clashes],
    }


def _thread(thread: kernel.ThreadFit) -> dict[str, Any]:
    """What is kept of one thread in another."""
    return {
        "pitch_mm": (thread.outside.pitch_mm, thread.inside.pitch_mm),
        "starts": (thread.outside.starts, thread.inside.starts),
        "relief_mm": (thread.outside.relief_mm, thread.inside.relief_mm),
        "depth_mm": min(thread.outside.depth_mm, thread.inside.depth_mm),
        "play_mm": thread.root_mm - thread.ridge_mm,
        "overlap_mm": thread.overlap_mm,
        "engaged_mm": thread.engaged_mm,
        "turns": thread.turns,
    }
