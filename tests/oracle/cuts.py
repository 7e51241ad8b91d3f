"""What each kind of cut takes away, from what its keys mean.

Places run along the axis of the hold. A cut that shapes the outside takes all that is further out
than its shape; a hole is a round rod from past its mouth to its floor.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Any

import numpy as np

from tests.oracle import fields, fitted
from tests.oracle.fields import FAR, Field, Frame
from tests.oracle.reading import angle, length, maybe
from tests.oracle.wood import OPENING, Hole, Removed, Ring, Wood

Keys = dict[str, Any]
Shapes = dict[str, list[tuple[float, float]]]


class Unreadable(Exception):
    """A cut that means nothing on this wood, or is of a kind that is not judged here."""


def outline(profile: Keys) -> list[tuple[float, float]]:
    """(place, radius) along a profile of straight elements."""
    points: list[tuple[float, float]] = []
    place = 0.0
    for element in profile["along"]:
        ((kind, keys),) = element.items()
        if kind not in ("taper", "fillet", "tenon"):
            raise Unreadable(kind)
        first, last = ("from", "to") if kind == "taper" else ("diameter", "diameter")
        long = length(keys["long"])
        points += [(place, length(keys[first]) / 2), (place + long, length(keys[last]) / 2)]
        place += long
    return points


def _turnabout(points: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    long = points[-1][0]
    return [(long - place, radius) for place, radius in reversed(points)]


class Cutter:
    """Cuts made in one hold."""

    def __init__(self, wood: Wood, frame: Frame, shapes: Shapes) -> None:
        self.wood, self.frame, self.shapes = wood, frame, shapes
        low, high = wood.face(frame, last=False), wood.face(frame, last=True)
        if low is None or high is None:
            raise Unreadable("no wood is left")
        self.low, self.high = low, high

    def removed(self, kind: str, keys: Keys, name: str) -> Removed:
        """What a cut takes away, part coordinates."""
        makers: dict[str, Callable[[Keys, str], Removed]] = {
            "cylinder": self._cylinder, "facets": self._facets, "ball": self._ball, "tenon": self._tenon,
            "profile": self._profile, "part off": self._part_off, "bore": self._axial, "recess": self._axial,
            "holes": self._holes, "end holes": self._end_holes, "groove": self._groove, "hollow": self._hollow,
            "enlarge": self._enlarge, "flat": self._flat, "prism": self._prism, "oval": self._oval,
            "inside groove": self._behind, "inside cove": self._behind, "undercut": self._behind,
            "inside thread": self._inside_thread, "outside thread": self._outside_thread, "snap bead": self._snap_bead,
            "captive ring": self._captive_ring, "flutes": self._flutes, "slots": self._slots,
            "stave groove": self._stave_groove,
        }  # fmt: skip
        if kind not in makers:
            raise Unreadable(kind)
        made = makers[kind](keys | {"kind": kind}, name)
        meets = frozenset(keys.get("meets", ()))
        return Removed(
            name, kind, made.field, made.inside, made.holes, made.apart, meets, made.of, made.converge,
            made.end or (keys["end"] if keys.get("end") in ("left", "right") else ""),
            made.waste, made.behind, made.ring, self.frame, keys.get("reach") == "axis",
            made.held_by,
        )  # fmt: skip

    def _outside(self, name: str, field: Field, *holes: Hole, waste: Field | None = None) -> Removed:
        waste = self.frame.field(waste) if waste is not None else None
        return Removed(name, "", self.frame.field(field), False, holes=holes, waste=waste)

    def _span(self, keys: Keys) -> tuple[float, float]:
        start, end = maybe(keys, "start"), maybe(keys, "end")
        return -FAR if start is None else start, FAR if end is None else end

    def _placed(self, x: float, y: float, z: float, along: tuple[float, float, float]) -> Frame:
        return Frame.along(
            self.frame.part(np.array([[x, y, z]]))[0], np.array(along, dtype=np.float64) @ self.frame.across
        )

    def _cylinder(self, keys: Keys, name: str) -> Removed:
        return self._outside(name, fields.around(length(keys["diameter"]) / 2, *self._span(keys)))

    def _tenon(self, keys: Keys, name: str) -> Removed:
        radius, long = length(keys["diameter"]) / 2, length(keys["long"])
        left = keys["end"] == "left"
        tip = self.low if left else self.high
        given = maybe(keys, "shoulder")
        shoulder = given if given is not None else (tip + long if left else tip - long)
        stop = shoulder - long if left else shoulder + long
        if abs(stop - tip) < 1e-3:
            stop = -FAR if left else FAR
        dovetail = angle(keys.get("dovetail", 0))
        lean = math.tan(math.radians(dovetail))
        frame = self._placed(0, 0, shoulder, (0, 0, -1.0 if left else 1.0))
        stub = Hole(name, frame, 2 * radius, long, hollow=False, lean=lean)
        if not dovetail:
            return self._outside(name, fields.around(radius, min(shoulder, stop), max(shoulder, stop)), stub)
        side = fitted.leaning(radius, long, dovetail, tip=True)
        if abs(stop) >= FAR:
            side.append((FAR, radius))
        return Removed(name, "", frame.field(fields.outside_of(side)), False, holes=(stub,))

    def _ball(self, keys: Keys, name: str) -> Removed:
        stubs = [maybe(keys, f"keep {side}") or 0.0 for side in ("left", "right")]
        return self._outside(
            name, fields.outside_ball(length(keys["diameter"]), length(keys["at"]), stubs[0], stubs[1])
        )

    def _facets(self, keys: Keys, name: str) -> Removed:
        count, diameter, at = int(keys["flats"]), length(keys["diameter"]), length(keys["at"])
        stubs = [(maybe(keys, f"keep {side}") or 0.0) / 2 for side in ("left", "right")]
        corner = diameter / 2 / math.cos(math.pi / count)
        turns = [(2 * one + 1) * math.pi / count for one in range(-count // 4, count // 4)]
        half = [(at + corner * math.sin(turn), corner * math.cos(turn)) for turn in turns]
        return self._outside(name, _kept(half, at, stubs[0], stubs[1]))

    def _profile(self, keys: Keys, name: str) -> Removed:
        points = self._shape(keys["shape"], keys)
        start = maybe(keys, "at") or 0.0
        middle = points[-1][0] / 2
        left, right = ((maybe(keys, f"keep {side}") or 0.0) / 2 for side in ("left", "right"))
        placed = [(start + z, max(r, left if z < middle else right)) for z, r in points]
        stubs = [self._stub(stub) for stub in keys.get("stubs", ())]
        return self._outside(name, fields.outside_of(placed), *stubs)

    def _stub(self, keys: Keys) -> Hole:
        frame = self._placed(0, 0, length(keys["shoulder"]), (0, 0, -1.0 if keys["end"] == "left" else 1.0))
        return Hole(keys["name"], frame, length(keys["diameter"]), length(keys["long"]), hollow=False)

    def _shape(self, name: str, keys: Keys) -> list[tuple[float, float]]:
        points = self.shapes[name]
        return _turnabout(points) if keys.get("reversed") else points

    def _part_off(self, keys: Keys, name: str) -> Removed:
        at, kerf = length(keys["at"]), maybe(keys, "kerf") or 3.0
        if not self.low < at < self.high:
            raise Unreadable("parts off no wood")
        if keys["keep"] == "left":
            return self._outside(name, fields.slab(at, FAR), waste=fields.slab(at + kerf, FAR))
        return self._outside(name, fields.slab(-FAR, at), waste=fields.slab(-FAR, at - kerf))

    def _flat(self, keys: Keys, name: str) -> Removed:
        facing, count = math.radians(angle(keys.get("angle", 0))), int(keys.get("count", 1))
        planes = [
            fields.beyond(length(keys["distance"]), facing + 2 * math.pi * one / count, *self._span(keys))
            for one in range(count)
        ]
        return self._outside(name, fields.any_of(planes))

    def _prism(self, keys: Keys, name: str) -> Removed:
        first = math.radians(angle(keys.get("first", 0)))
        return self._outside(name, fields.flats(int(keys["flats"]), length(keys["across"]), first, *self._span(keys)))

    def _oval(self, keys: Keys, name: str) -> Removed:
        facing = math.radians(angle(keys.get("angle", 0)))
        return self._outside(name, fields.oval(length(keys["wide"]), length(keys["thick"]), facing, *self._span(keys)))

    def _axial(self, keys: Keys, name: str) -> Removed:
        radius, deep, left = length(keys["diameter"]) / 2, maybe(keys, "deep"), keys["end"] == "left"
        mouth = maybe(keys, "from")
        if mouth is None:
            mouth = self.wood.face(self.frame, last=not left, radius=radius)
        if mouth is None:
            mouth = self.low if left else self.high
        long = deep if deep is not None else abs((self.high if left else self.low) - mouth)
        floor = (FAR if left else -FAR) if deep is None else mouth + (deep if left else -deep)
        body = fields.rod(radius, -FAR if left else floor, floor if left else FAR)
        frame = self._placed(0, 0, mouth, (0, 0, 1.0 if left else -1.0))
        dovetail = angle(keys.get("dovetail", 0))
        hole = Hole(name, frame, 2 * radius, long, through=deep is None, lean=math.tan(math.radians(dovetail)))
        field = self.frame.field(body)
        if dovetail:
            flare = fields.inside_of(fitted.leaning(radius, long, dovetail, tip=False))
            field = fields.any_of([field, frame.field(flare)])
        return Removed(name, "", field, True, holes=(hole,))

    def _gathered(self, name: str, holes: list[Hole], **more: Any) -> Removed:
        bodies = tuple(
            hole.frame.field(fields.rod(hole.diameter / 2, -FAR, FAR if hole.through else hole.long)) for hole in holes
        )
        return Removed(name, "", fields.any_of(bodies), True, tuple(holes), bodies if len(bodies) > 1 else (), **more)

    def _turns(self, keys: Keys) -> list[float]:
        count = int(keys["count"])
        return [math.radians(angle(keys.get("first", 0)) + 360 * one / count) for one in range(count)]

    def _names(self, keys: Keys, name: str) -> list[str]:
        called, count = keys.get("each") or name, int(keys["count"])
        return [called] if count == 1 else [f"{called} {one + 1}" for one in range(count)]

    def _holes(self, keys: Keys, name: str) -> Removed:
        at, diameter, reach = length(keys["at"]), length(keys["diameter"]), keys.get("reach", "depth")
        holes = []
        far = 2.0 * float(np.abs(self.wood.lattice.middles).max())
        for turn, called in zip(self._turns(keys), self._names(keys, name), strict=True):
            out = np.array([math.cos(turn), math.sin(turn), 0.0])
            start = far * out + np.array([0.0, 0.0, at])
            met = self.wood.first_met(self.frame, start, -out, far)
            if met is None:
                raise Unreadable("no wood where a hole begins")
            surface = far - met
            long = {"axis": surface, "through": 2 * surface}.get(reach) or length(keys["deep"])
            frame = self._placed(surface * out[0], surface * out[1], at, (-out[0], -out[1], 0.0))
            holes.append(Hole(called, frame, diameter, long, through=reach == "through"))
        whole = bool(self.wood.field(self.frame.part(np.array([[0.0, 0.0, at]])))[0] < 0)
        return self._gathered(name, holes, converge=whole and reach != "depth")

    def _outermost(self, turn: float, place: float) -> float:
        """How far out the wood reaches at an angle and a place."""
        far = 2.0 * float(np.abs(self.wood.lattice.middles).max())
        out = np.array([math.cos(turn), math.sin(turn), 0.0])
        met = self.wood.first_met(self.frame, far * out + np.array([0.0, 0.0, place]), -out, far)
        if met is None:
            raise Unreadable("no wood where a cut begins")
        return far - met

    def _flutes(self, keys: Keys, name: str) -> Removed:
        start, end = self._span(keys)
        radius, deep = length(keys["diameter"]) / 2, length(keys["deep"])
        half_angle = math.radians(angle(keys.get("angle", 90))) / 2 if keys.get("bottom") == "vee" else None
        wide = min(radius, deep * math.tan(half_angle)) if half_angle is not None else radius
        if half_angle is None and deep < radius:
            wide = math.sqrt(deep * (2 * radius - deep))
        low, high = max(start, self.low) if start > -FAR else self.low, min(end, self.high) if end < FAR else self.high
        first = low + wide if start > -FAR else low - 2 * radius
        last = high - wide if end < FAR else high + 2 * radius
        pitch = maybe(keys, "pitch")
        way = 0.0 if pitch is None else (-2 if keys.get("left hand") else 2) * math.pi / pitch
        places = np.linspace(first, last, 13)
        # From where a twisted one is counted: its own beginning.
        begins = low if start > -FAR else self.low - 2 * radius
        bodies = []
        for turn in self._turns(keys):
            turns = turn + way * (places - begins)
            within = np.clip(places, self.low + 0.01, self.high - 0.01)
            outer = [self._outermost(float(at), float(place)) for at, place in zip(turns, within, strict=True)]
            bodies.append(self.frame.field(fields.swept(places, turns, np.array(outer) - deep, radius, half_angle)))
        return Removed(name, "", fields.any_of(bodies), True, (), tuple(bodies) if len(bodies) > 1 else ())

    def _slots(self, keys: Keys, name: str) -> Removed:
        at, long, wide = (length(keys[key]) for key in ("at", "long", "wide"))
        reach, holes, bodies = keys.get("reach", "depth"), [], []
        for turn, called in zip(self._turns(keys), self._names(keys, name), strict=True):
            surface = self._outermost(turn, at)
            out = np.array([math.cos(turn), math.sin(turn), 0.0])
            deep = {"axis": surface, "through": 2 * surface}.get(reach) or length(keys["deep"])
            axes = np.array([[0.0, 0.0, 1.0], [-out[1], out[0], 0.0], -out]) @ self.frame.across
            frame = Frame(self.frame.part((surface * out + np.array([0.0, 0.0, at]))[None, :])[0], axes)
            through = reach == "through"
            section = fields.slot(long, wide, oval=keys.get("outline") == "oval")
            bodies.append(frame.field(fields.drawn_out(section, -FAR, FAR if through else deep)))
            holes.append(Hole(called, frame, wide, deep, through=through))
        whole = bool(self.wood.field(self.frame.part(np.array([[0.0, 0.0, at]])))[0] < 0)
        apart = tuple(bodies) if len(bodies) > 1 else ()
        return Removed(name, "", fields.any_of(bodies), True, tuple(holes), apart, converge=whole and reach != "depth")

    def _end_holes(self, keys: Keys, name: str) -> Removed:
        circle, diameter, left = length(keys["circle"]) / 2, length(keys["diameter"]), keys["end"] == "left"
        deep = maybe(keys, "deep")
        holes = []
        far = 2.0 * float(np.abs(self.wood.lattice.middles).max())
        sign = 1.0 if left else -1.0
        for turn, called in zip(self._turns(keys), self._names(keys, name), strict=True):
            x, y = circle * math.cos(turn), circle * math.sin(turn)
            met = self.wood.first_met(self.frame, np.array([x, y, -sign * far]), np.array([0.0, 0.0, sign]), 2 * far)
            if met is None:
                raise Unreadable("no wood where a hole begins")
            mouth = -sign * far + sign * met
            long = deep if deep is not None else abs((self.high if left else self.low) - mouth)
            holes.append(Hole(called, self._placed(x, y, mouth, (0, 0, sign)), diameter, long, through=deep is None))
        return self._gathered(name, holes)

    def _groove(self, keys: Keys, name: str) -> Removed:
        at, wide = length(keys["at"]), length(keys["wide"])
        body = fields.around(length(keys["floor"]), at - wide / 2, at + wide / 2)
        return Removed(name, "", self.frame.field(body), True)

    def _hollow(self, keys: Keys, name: str) -> Removed:
        start, left = maybe(keys, "at") or 0.0, keys["end"] == "left"
        outline = self._shape(keys["shape" if "shape" in keys else "outside"], keys)
        if "wall" in keys:
            outline = fitted.within_wall(outline, length(keys["wall"]), length(keys["floor"]), left=left)
        points = [(start + z, r) for z, r in outline]
        if left and points[0][0] <= self.low + 0.5:
            points = [(-FAR, points[0][1]), *points]
        elif not left and points[-1][0] >= self.high - 0.5:
            points = [*points, (FAR, points[-1][1])]
        body = self.frame.field(fields.inside_of(points))
        # What it holds by is its wall, however it curves.
        mouth, deepest = (self.low, max(z for z, _ in outline)) if left else (self.high, min(z for z, _ in outline))
        wide, long = 2 * max(r for _, r in outline), abs(start + deepest - mouth)
        frame = self._placed(0, 0, mouth, (0, 0, 1.0 if left else -1.0))
        return Removed(name, "", body, True, held_by=Hole(name, frame, wide, long, wall=body))

    def _stave_groove(self, keys: Keys, name: str) -> Removed:
        """Sawn across each stave's inner face to one depth, so that its floor has as many flats as there are staves."""
        opening = self.wood.features.get(OPENING)
        if opening is None or not opening.sides:
            raise Unreadable("no staves to saw a groove into")
        at, wide = length(keys["at"]), length(keys["wide"])
        floor = float(opening.radius_at(np.array([at]))[0]) + length(keys["deep"])
        start, end = at - wide / 2, at + wide / 2
        body = fields.drawn_out(fields.within_flats(opening.sides, 2 * floor), start, end)
        return Removed(name, "", body, True, of=OPENING)

    def _enlarge(self, keys: Keys, name: str) -> Removed:
        hole = self.wood.features[keys["hole"]].now()
        diameter, deep = length(keys["diameter"]), maybe(keys, "deep")
        long = hole.long if deep is None else deep
        through = hole.through and deep is None
        body = hole.frame.field(fields.rod(diameter / 2, -FAR, FAR if through else long))
        larger = Hole(name, hole.frame, diameter, long, through=through)
        return Removed(name, "", body, True, holes=(larger,), of=hole.name, end=self._end_of(hole))

    def _end_of(self, hole: Hole) -> str:
        """The end that an opening about the axis is cut from, as it lies now; none for a hole anywhere else."""
        for made in self.wood.removed:
            if hole.name in made.called() and made.end and made.frame is not None:
                alike = bool(made.frame.across[2] @ self.frame.across[2] > 0)
                return made.end if alike else {"left": "right", "right": "left"}.get(made.end, "")
        return ""

    def _named(self, keys: Keys, *, hollow: bool) -> Hole:
        """The hole or the tenon that a cut is made in."""
        called = keys["hole"] if hollow else keys["tenon"]
        found = self.wood.features.get(called)
        if found is None or found.hollow is not hollow:
            raise Unreadable(f"'{called}' is no {'hole' if hollow else 'tenon'}")
        return found.now()

    def _in_wall(self, name: str, hole: Hole, body: Field, *, wide: float, long: float, start: float = 0.0) -> Removed:
        """A body cut into the wall of a hole, and the hole that it leaves."""
        past = fields.slab(0.0, FAR)
        own = Frame(hole.frame.part(np.array([[0.0, 0.0, start]]))[0], hole.frame.across)
        into = float(hole.frame.across[2, 2])
        return Removed(
            name, "", hole.frame.field(body), True, (Hole(name, own, wide, long),), of=hole.name,
            end="left" if into > 0.9 else "right" if into < -0.9 else "", behind=hole.frame.field(past),
        )  # fmt: skip

    def _behind(self, keys: Keys, name: str) -> Removed:
        hole = self._named(keys, hollow=True)
        body, start, end = fitted.behind(keys["kind"], keys, hole.diameter / 2)
        return self._in_wall(
            name, hole, body, wide=hole.diameter + 2 * length(keys["deep"]), long=end - start, start=start
        )

    def _inside_thread(self, keys: Keys, name: str) -> Removed:
        hole = self._named(keys, hollow=True)
        body = fitted.inside_thread(keys, hole.diameter / 2, hole.long)
        wide = hole.diameter + 2 * fitted.thread_sizes(keys)[1]
        return self._in_wall(name, hole, body, wide=wide, long=maybe(keys, "long") or hole.long)

    def _on_tenon(self, name: str, tenon: Hole, body: Field, diameter: float) -> Removed:
        """A tenon shaped once more."""
        stub = Hole(name, tenon.frame, diameter, tenon.long, hollow=False)
        return Removed(name, "", tenon.frame.field(body), False, holes=(stub,), of=tenon.name)

    def _outside_thread(self, keys: Keys, name: str) -> Removed:
        tenon = self._named(keys, hollow=False)
        body = fitted.outside_thread(keys, tenon.diameter / 2, tenon.long)
        return self._on_tenon(name, tenon, body, tenon.diameter)

    def _snap_bead(self, keys: Keys, name: str) -> Removed:
        tenon = self._named(keys, hollow=False)
        body = fitted.snap_bead(keys, tenon.diameter / 2, tenon.long)
        return self._on_tenon(name, tenon, body, tenon.diameter - 2 * length(keys["stands"]))

    def _captive_ring(self, keys: Keys, name: str) -> Removed:
        """All around the stem; the ring itself is wood no more, for it is loose."""
        at, wide = length(keys["at"]), length(keys["wide"])
        half = wide / 2 + (maybe(keys, "room") or 25.4 / 8)
        field = self.frame.field(fields.around(length(keys["stem"]) / 2, at - half, at + half))
        ring = Ring(name, self._placed(0, 0, at, (0, 0, 1.0)), length(keys["bore"]), wide)
        return Removed(name, "", field, False, ring=ring)


def _kept(points: list[tuple[float, float]], at: float, left: float, right: float) -> Field:
    """All outside an outline, with a stub kept at either end of its middle."""
    low, high = points[0][0], points[-1][0]
    bare = fields.outside_of(points)
    kept = [fields.around(left, low, at), fields.around(right, at, high)]
    return lambda found: np.maximum(bare(found), np.where(found[:, 2] < at, kept[0](found), kept[1](found)))
