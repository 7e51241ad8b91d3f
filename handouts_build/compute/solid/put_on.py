"""Which part may be put on which, to be turned with it, such as a lid on its box.

This module owns that, and which of their joints holds it then. What is said of it is in `lids`; where it sits, and what
is cut of it, is the workpiece's.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from handouts_build import workpiece as kernel
from handouts_build.compute.step_facts import turned_in
from handouts_build.problems import near_miss
from handouts_build.schema import HoldKeys, JointKeys, PartKeys, ProjectKeys

if TYPE_CHECKING:
    from handouts_build.compute.names import Ledger
    from handouts_build.compute.solid.plan import PartPlan

__all__ = ["joint_between", "nothing_on_bare_parts", "told_apart"]


def nothing_on_bare_parts(project: ProjectKeys, ledger: Ledger) -> None:
    """Note what is put on a part that has no cuts, and so no solid with a joint.

    Args:
        project: Its parts.
        ledger: Takes note of what is wrong.
    """
    for name, part in project.parts.items():
        if any(step.cut for step in part.steps):
            continue
        for index, step in enumerate(part.steps):
            if step.hold is not None and step.hold.text("put on") is not None:
                at = ("parts", name, "steps", index, "hold", "put on")
                ledger.note(at, f"'{name}' has no cuts, and no joint to put anything on", "give its steps cuts")


def told_apart(
    name: str, part: str, hold: HoldKeys, *, parts: Mapping[str, PartKeys], carried: Mapping[str, PartPlan]
) -> tuple[str, str] | None:
    """Why a part cannot be put on another, and what would be right; None where it can.

    Args:
        name: The part that is held.
        part: The one that is put on it.
        hold: The hold that says so.
        parts: All parts' models.
        carried: The plans of those before it.
    """
    if part == name:
        return f"'{part}' is put on itself", "name the other part of the joint, such as the lid"
    if part not in parts:
        return f"no part is called '{part}'", near_miss(part, parts) or "name a part of the piece"
    if _puts_on(parts[part], name):
        return (
            f"'{part}' is put on '{name}' here, and '{name}' on '{part}' at another step",
            "put one of them on the other only: the part that is held comes after the one that is put on it",
        )
    if part not in carried:
        if list(parts).index(part) > list(parts).index(name):
            return (
                f"'{part}' comes after '{name}', and is to be made before it is put on",
                f"write the part '{part}' above '{name}'; '{name}' may fall off it",
            )
        return f"'{part}' is not carried as a solid", "give its steps cuts"
    others = [other for other, plan in carried.items() if any(_put(step, part) for step in plan.steps)]
    if others:
        return f"'{part}' is put on '{others[0]}' before", "turn it on one part only"
    if not turned_in(hold):
        return "the lathe does not turn what is held so", "hold it on the lathe, or leave 'put on' out"
    return None


def _puts_on(part: PartKeys, name: str) -> bool:
    """Whether a part's steps put another on it."""
    return any(step.hold is not None and step.hold.text("put on") == name for step in part.steps)


def _put(step: kernel.WorkStep, name: str) -> bool:
    return step.put_on is not None and step.put_on.part == name


def joint_between(first: str, second: str, joints: Sequence[JointKeys]) -> JointKeys | None:
    """The first joint of a tenon and a hole between two parts; None where there is none.

    Args:
        first: A part.
        second: The other.
        joints: Of the finished piece.
    """
    both = {first, second}
    return next((joint for joint in joints if {joint.put, joint.into} == both and joint.tenon and joint.hole), None)
