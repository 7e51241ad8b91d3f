"""Whether a tenon goes into its hole: the two woods as they stand, where they touch.

The shoulder comes to sit on the face around the hole. Then the wood past the shoulder must be no
thicker, at each depth, than the hole is wide there.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from tests.oracle.fields import Floats, Frame
from tests.oracle.judge import Judged, Kind, Opinion
from tests.oracle.seat import mouth
from tests.oracle.wood import Wood


def fits(joint: dict[str, Any], parts: dict[str, Judged]) -> dict[Kind, Opinion]:
    """What is to be said of a joint.

    Args:
        joint: Its keys.
        parts: Both parts, carried through their steps.
    """
    pin, body = parts[joint["put"]].wood, parts[joint["into"]].wood
    if pin is None or body is None:
        return {}
    tenon, hole = pin.features[joint["tenon"]].now(), body.features[joint["hole"]].now()
    h = max(pin.voxel, body.voxel)
    long = float(pin.local(tenon.frame)[:, 2].max()) + pin.voxel / 2
    depths = np.arange(h / 4, max(long, h / 2), h / 4)
    thick = pin.outermost(tenon.frame, depths)
    (shoulder,) = pin.outermost(tenon.frame, np.array([-pin.voxel]))
    seat = mouth(body, hole, float(shoulder), far=bool(joint.get("far")))
    wide = _clear(body, seat, depths)
    over = thick - wide
    worst = int(over.argmax())
    why = f"{2 * thick[worst]:.1f} mm thick at {depths[worst]:.1f} mm, where the hole is {2 * wide[worst]:.1f} mm"
    # Over a length of two voxels, so that an edge on the mark is no fault.
    deep = np.count_nonzero(over > h) * h / 4
    if deep > 2 * h:
        return {Kind.JOINT: Opinion(True, why)}
    # A tenon that finds nothing to lie against goes in, but does not fit.
    snug = (thick > 0) & (wide < hole.diameter / 2 + 0.5 * h)
    if over.max() > -0.2 * h or np.count_nonzero(snug) * h / 4 < 2 * h:
        return {Kind.JOINT: Opinion(False, why)}
    return {}


def _clear(wood: Wood, frame: Frame, depths: Floats) -> Floats:
    """The nearest wood to the axis at each depth; a great way where there is none."""
    radii, wooden = wood.lines(frame, depths)
    return np.asarray(np.where(wooden, radii, 1e6).min(axis=(1, 2)))
