"""Where the shoulder of a tenon comes to sit around a hole."""

from __future__ import annotations

import numpy as np

from tests.oracle.fields import Frame
from tests.oracle.wood import Hole, Wood


def mouth(wood: Wood, hole: Hole, shoulder: float, *, far: bool) -> Frame:
    """Where a shoulder of a radius comes to sit around a hole, with z into it.

    Args:
        wood: What the hole is in.
        hole: It, as it is now.
        shoulder: Radius, mm.
        far: Whether the tenon goes in at the other end of a hole that is right through.
    """
    frame = hole.frame
    if far:
        frame = Frame(frame.origin, frame.across * np.array([[1.0], [-1.0], [-1.0]]))
    inner = hole.diameter / 2
    first = wood.face(frame, last=False, radius=max(shoulder, inner + 2 * wood.voxel), beyond=inner)
    if first is None:
        first = wood.face(frame, last=False) or 0.0
    return Frame(frame.part(np.array([[0.0, 0.0, first]]))[0], frame.across)
