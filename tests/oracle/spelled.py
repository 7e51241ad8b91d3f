"""A part as the library understood it, spelled out again for the second judge: plain numbers, no formulas.

Names, formulas and defaults are settled by the library; what the cuts then do to the wood is not asked of it.
"""

from __future__ import annotations

import enum
import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from handouts_build import workpiece as kernel
from handouts_build.compute.blanks import as_stock
from handouts_build.compute.solid.plan import PartPlan
from handouts_build.schema import PartKeys
from handouts_build.sheet import Part
from handouts_build.workpiece.declared import DeclaredKey, KeyKind, keys_of
from tests.oracle.judge import GRAVITY

Keys = dict[str, Any]
_HOLDS: Mapping[type[kernel.BaseHold], str] = {
    kernel.BetweenCenters: "between centers", kernel.OffsetCenters: "off-axis centers",
    kernel.BetweenHoles: "between centers", kernel.JawsOnTenon: "chuck", kernel.JawsOnBlank: "chuck",
    kernel.JawsInRecess: "chuck opening out", kernel.Faceplate: "faceplate", kernel.JamChuck: "jam chuck",
    kernel.InHand: "hand", kernel.Jig: "bench",
}  # fmt: skip
"""A word of each kind of hold that the second judge knows."""


class Unspelled(Exception):
    """What the second judge has no words for."""


@dataclass
class Spelled:
    """One part, as a project's keys are read."""

    keys: Keys
    profiles: Keys = field(default_factory=dict)
    stopped: str = ""
    """Why steps are left out at the end; empty where none are."""


def spelled(plan: PartPlan, *, keys: PartKeys, part: Part) -> Spelled:
    """A part from its blank to the first step that the second judge has no words for.

    Args:
        plan: As the workpiece takes it.
        keys: As its file has it.
        part: As it was settled.

    Raises:
        Unspelled: If that is the blank or the wood.
    """
    wood = keys.wood
    if wood not in GRAVITY:
        raise Unspelled(wood)
    made = Spelled({"wood": wood, "grain": part.grain, "steps": []})
    if isinstance(plan.blank, kernel.Offcut):
        source = Spelled({"wood": wood, "grain": part.grain, "steps": [], "blank": _blank(plan.blank.blank)})
        _steps(plan.blank.steps, source)
        # Where its wood is thin goes by the blank that it is said to have.
        own = _blank(as_stock(part.blank, grain=plan.blank.stock.grain))
        made.keys["blank"] = own | {"falls off": source.keys | {"profiles": source.profiles}}
    else:
        made.keys["blank"] = _blank(plan.blank)
    _steps(plan.steps, made)
    for step, said in zip(made.keys["steps"], keys.steps, strict=False):
        step["shape"] = list(said.shape)
    return made


def _steps(steps: Sequence[kernel.WorkStep], made: Spelled) -> None:
    for step in steps:
        try:
            if step.let_in:
                raise Unspelled("a part let in")
            keys: Keys = {"cut": [_cut(cut, made.profiles) for cut in step.cuts]}
            if step.holds:
                keys["hold"] = _hold(step.holds)
            if step.put_on is not None:
                put = step.put_on
                keys["hold"]["put on"] = {
                    "part": put.part, "tenon": put.tenon, "hole": put.hole, "on it": put.tenon_on_it, "far": put.far,
                    "turn": put.turn_deg,
                }  # fmt: skip
            if step.dries is not None:
                keys["shrinks"] = (step.dries.along_rings or 0.0, step.dries.across_rings or 0.0)
        except Unspelled as why:
            made.stopped = str(why)
            break
        made.keys["steps"].append(keys)


def _mm(value: float) -> str:
    return f"{value:.6f} mm"


def _blank(blank: kernel.BaseBlank) -> Keys:
    match blank:
        case kernel.Staves():
            return _given(blank, {"staves": blank.pieces})
        case kernel.Round():
            return {"round": _mm(blank.diameter_mm), "long": _mm(blank.long_mm)}
        case kernel.Square():
            return {"square": _mm(blank.side_mm), "long": _mm(blank.long_mm)}
        case kernel.Board():
            return {"wide": _mm(blank.wide_mm), "thick": _mm(blank.thick_mm), "long": _mm(blank.long_mm)}
        case kernel.HalfLog():
            return _given(blank, {"half log": _mm(blank.diameter_mm)})
        case kernel.GluedStack():
            return {"stack": [_course(course) for course in blank.courses], "long": _mm(blank.long_mm)}
    raise Unspelled(f"a blank such as {type(blank).__name__}")


def _course(course: kernel.StackCourse) -> Keys:
    keys: Keys = {"high": _mm(course.high_mm), "across": _mm(course.across_mm)}
    if not course.pieces:
        return {"disk": keys}
    inside = {"inside": _mm(course.inside_mm)} if course.inside_mm else {}
    return {"ring": {**keys, **inside, "segments": course.pieces}}


def _given(thing: Any, keys: Keys) -> Keys:
    """The keys of a declared thing that are not left to their defaults."""
    for declared in keys_of(type(thing)):
        value = getattr(thing, declared.field)
        if declared.kind is not KeyKind.OUTLINE and (declared.needed or value != declared.default):
            keys.setdefault(declared.word, _said(declared, value))
    return keys


def _said(declared: DeclaredKey, value: Any) -> Any:
    if declared.kind is KeyKind.LENGTH:
        return _mm(value)
    if declared.kind in (KeyKind.ANGLE, KeyKind.ANGLES):
        return f"{value:.9f} deg"
    if declared.kind is KeyKind.THINGS:
        return list(value)
    return value.value if isinstance(value, enum.Enum) else value


def _cut(cut: kernel.BaseCut, profiles: Keys) -> Keys:
    keys = _given(cut, {"name": cut.name})
    for declared in keys_of(type(cut)):
        if declared.kind is KeyKind.OUTLINE:
            name = f"{cut.name} outline {len(profiles)}"
            points = getattr(cut, declared.field)
            if not points:
                continue
            keys[declared.word] = name
            profiles[name] = {"along": [
                {"taper": {"from": _mm(2 * r0), "to": _mm(2 * r1), "long": _mm(z1 - z0)}}
                for (z0, r0), (z1, r1) in itertools.pairwise(points)
            ]}  # fmt: skip
    if isinstance(cut, kernel.ProfileCut):
        # The second judge draws a profile from its elements; here it has points, and so its tenons are told apart.
        keys["stubs"] = [_stub(cut, stub) for stub in cut.stubs]
    return {cut.word: keys}


def _stub(cut: kernel.ProfileCut, stub: kernel.Stub) -> Keys:
    ends, points = (stub.start_mm, stub.end_mm), stub.end.value
    if cut.reversed:
        long = cut.points_mm[-1][0]
        ends, points = (long - ends[1], long - ends[0]), {"left": "right", "right": "left"}[points]
    shoulder = ends[0] if points == "right" else ends[1]
    return {
        "name": stub.name, "diameter": _mm(stub.diameter_mm), "long": _mm(ends[1] - ends[0]),
        "shoulder": _mm(cut.at_mm + shoulder), "end": points,
    }  # fmt: skip


def _hold(holds: Sequence[kernel.BaseHold]) -> Keys:
    first = holds[0]
    if type(first) not in _HOLDS:
        raise Unspelled(f"a hold such as {type(first).__name__}")
    if first.datum != kernel.Datum():
        raise Unspelled("places from elsewhere than the left end")
    keys: Keys = {"by": [_HOLDS[type(first)]]}
    if first.tailstock:
        keys["tailstock"] = True
    _given(first, keys)
    for declared in keys_of(type(first)):
        if declared.kind is KeyKind.PAIR:
            pairs = [[getattr(hold, declared.field), getattr(hold, declared.second)] for hold in holds]
            keys[declared.word] = pairs if len(pairs) > 1 else pairs[0]
        elif declared.kind is KeyKind.ANGLES and len(holds) > 1:
            keys[declared.word] = [_said(declared, getattr(hold, declared.field)) for hold in holds]
    return keys
