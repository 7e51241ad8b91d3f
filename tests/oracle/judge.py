"""The second judge: a piece carried through its steps as voxels, and what is wrong with it.

It shares nothing with the library but the words of the project file. Of each kind of finding and each
step it says that it must be found, or that it may be; what it does not name must not be found. Between
the two lies a margin of two voxels: nothing larger is missed.
"""

from __future__ import annotations

import copy
import enum
import math
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
from scipy import ndimage

from tests.oracle import fields
from tests.oracle.cuts import Cutter, Unreadable, outline
from tests.oracle.fields import Field, Floats, Frame
from tests.oracle.holding import GONE, WIDE_HOLE, Held, Unheld, holes_at, mounted, taken
from tests.oracle.lattice import Bools, Lattice, pieces
from tests.oracle.reading import angle, length, maybe
from tests.oracle.seat import mouth
from tests.oracle.walls import MARGIN, comes_out, meet, meets_air, surface, wall
from tests.oracle.wood import LOGS, OUTSIDE, Removed, Ring, Wood, log_of, stock

_INCH = 25.4
GRAVITY = {
    "maple, sugar": 0.63, "cherry, black": 0.50, "basswood, American": 0.37, "walnut, black": 0.55, "ash, white": 0.60,
    "oak, white": 0.68,
}  # fmt: skip
"""Specific gravity at 12 percent moisture: Wood Handbook FPL-GTR-282, table 5-3b; from memory."""
SHRINKS = {
    "maple, sugar": (9.9, 4.8), "cherry, black": (7.1, 3.7), "basswood, American": (9.3, 6.6),
    "walnut, black": (7.8, 5.5), "ash, white": (7.8, 4.9), "oak, white": (10.5, 5.6),
}  # fmt: skip
"""Shrinkage from green to ovendry, percent, along the rings and across them: Wood Handbook, table 4-3; from memory."""
_GREEN, _DRY = 30.0, 12.0
"""Moisture at which wood begins to shrink (Wood Handbook, chapter 4), and that of dry wood where nothing is said."""
FINE = 0.35
"""Voxels within which the least wood of a wall is known: it is measured on the fields, not the voxels."""
_WAFER = 1.0
"""Wood past a kerf that is no thicker is faced off as chips, mm; common practice, no published source."""
_DROSS = 8
"""Fewer voxels are none."""
_PLAY = 1.5
"""A loose ring with less play on its stem, or less way along it, jams, mm; common practice, no published source."""
_BARK, _PITH = 100.0, 1.0
"""Less bark than so many mm³, and less pith than so many mm, is none; common practice, no published source."""


_DRIES = {"drying", "heat drying"}
BLANK = -1
"""The step under which stands what is asked of the blank's own wood."""


class Kind(enum.Enum):
    """What can be wrong."""

    THIN = "thin web"
    BREAKS = "breaks into"
    OUT = "comes out"
    MISSING = "meeting missing"
    LOOSE = "comes loose"
    NOTHING = "cuts nothing"
    HOLD = "takes its hold"
    PARTED = "parted between centers"
    GONE = "nothing to hold"
    AIR = "bears on nothing"
    JOINT = "does not fit"
    COMES_OFF = "ring comes off"
    JAMS = "ring jams"
    BARK = "bark left"
    PITH = "pith left"


OF_THE_FINISHED = frozenset({Kind.COMES_OFF, Kind.JAMS, Kind.BARK, Kind.PITH})
"""What is asked of the finished part alone, and so of none that came apart on its way."""


@dataclass(frozen=True)
class Opinion:
    """What is thought of one kind at one step."""

    must: bool
    why: str
    left: float = math.inf
    """The least wood of a thin web that must be told, mm."""


Verdict = dict[tuple[int, Kind], Opinion]
"""By step, counted from 0; a joint's is after the last."""


@dataclass(eq=False)
class Judged:
    """What became of a part."""

    verdict: Verdict = field(default_factory=dict)
    wood: Wood | None = None
    until: int = 1000
    """The first step that is no longer judged, the wood having come apart before it."""


def limit_of(part: dict[str, Any], across: float) -> float:
    """Where wood is thin, mm: a sixteenth of the blank within bounds, by the wood's weight and its grain."""
    share = min(max(across / 16, _INCH / 32), _INCH / 8)
    by_wood = min(max(0.55 / GRAVITY[part["wood"]], 0.8), 1.5)
    return share * by_wood * (1.0 if _grain_of(part) == "along the axis" else 1.25)


def _grain_of(part: dict[str, Any]) -> str:
    own = {"segments": "around the axis", "stack": "around the axis"}
    own |= dict.fromkeys(LOGS, "across the axis")
    return part.get("grain") or next((own[word] for word in part["blank"] if word in own), "along the axis")


class Judge:
    """One part, step by step."""

    def __init__(
        self, part: dict[str, Any], profiles: dict[str, Any], *, voxels: int, others: dict[str, Judge] | None = None
    ) -> None:
        across = _across(part["blank"])
        self.part = part
        self.shapes = {name: outline(one) for name, one in profiles.items()}
        self.found = Judged()
        self.step = 0
        self.left: Floats = np.ones(3)
        """What drying has left of the blank's sizes."""
        self.fell: Wood | None = None
        """What fell off whole at the last parting: it may be the blank of another part."""
        self.guest: Guest | None = None
        """What a hold has put on it."""
        self.guests: dict[str, Judge] = {}
        """All that was put on it so far, as it was left."""
        self.others = others or {}
        source = part["blank"].get("falls off")
        if source is None:
            self.wood = stock(part["blank"], voxel=across / voxels)
            self.limit = limit_of(part, self.wood.across)
        else:
            # As it stands after the first step at which something falls off it.
            first = Judge(source, source.get("profiles", profiles), voxels=voxels)
            first.judged(until_fallen=True)
            if first.fell is None:
                raise Unreadable("nothing falls off it")
            self.wood, self.left = first.fell, first.left
            self.limit = limit_of(part, across)
        self.names: dict[str, int] = {}
        self.out: set[str] = set()
        self.loose: list[tuple[int, Ring]] = []
        """Rings that were cut free, and the step of each."""

    @property
    def shrunk(self) -> bool:
        """Whether it has dried since it was a blank."""
        return not bool((self.left == 1.0).all())

    def judged(self, *, until_fallen: bool = False) -> Judged:
        """What is wrong, step by step.

        Args:
            until_fallen: Whether to stop after the first step at which something falls off whole.
        """
        hold: dict[str, Any] | None = None
        for number, step in enumerate(self.part["steps"]):
            self.step = number
            again, hold = "hold" not in step, step.get("hold", hold)
            if hold is not None:
                self._take(hold, step, again=again)
                if self.found.until <= self.step:
                    break
                self._missing()
                if self.guest is not None:
                    self.guest.judge._missing()
                    self._of_the_guest()
            if until_fallen and self.fell is not None:
                break
            left = dried(self.part, step, again=self.shrunk)
            if left is not None:
                self.wood.dry(left)
                self.left = self.left * np.array(left)
                self.loose = [(at, replace(ring, frame=ring.frame.dried(left))) for at, ring in self.loose]
        self.found.wood = self.wood
        if self.found.until > len(self.part["steps"]):
            self._finished()
        return self.found

    def _finished(self) -> None:
        """What is asked of the finished part: its rings, its bark, its pith."""
        for step, ring in self.loose:
            self._ring(step, ring)
        log = log_of(self.part["blank"])
        if log is None:
            return
        h, middles = self.wood.voxel, self.wood.lattice.places(self.wood.voxels) / self.left
        # Places off the log's middle: toward the bark at z = 0, and along y.
        out = np.hypot(log.diameter / 2 - middles[:, 2], middles[:, 1])
        bare = log.diameter / 2 - log.bark
        if log.bark:
            least, most = (np.count_nonzero(out > bare + by) * h**3 for by in (h, -h))
            # A natural edge keeps its bark.
            natural = any("natural edge" in step.get("shape", ()) for step in self.part["steps"])
            if most > _BARK / 2:
                self._say(Kind.BARK, f"{least:.0f} mm³ of bark is left", must=least > _BARK and not natural, step=BLANK)
        half = length(self.part["blank"]["long"]) / 2
        along = np.arange(-half, half, h / 4)
        toward, beside = log.pith
        line = np.column_stack([along, np.full(len(along), beside), np.full(len(along), log.diameter / 2 - toward)])
        there = self.wood.field(line * self.left)
        least, most = (np.count_nonzero(there < by) * h / 4 for by in (-h, h))
        if most > _PITH:
            self._say(Kind.PITH, f"{least:.1f} mm of pith is left", must=least > _PITH + 2 * h, step=BLANK)

    def _ring(self, step: int, ring: Ring) -> None:
        """Whether a loose ring stays on the finished wood, and moves on it."""
        if self.shrunk:
            # The two go oval together; that they bind somewhere is not judged.
            for kind in (Kind.COMES_OFF, Kind.JAMS):
                self._say(kind, "it dried on its stem", must=False, step=step)
            return
        h = self.wood.voxel
        margin = FINE * h
        long = float(self.wood.across + np.ptp(self.wood.lattice.middles[:, 2]))
        places = np.arange(-long, long, h / 4)
        radii = self.wood.outermost(ring.frame, places)
        sides = [radii[places < 0].max(initial=0.0), radii[places > 0].max(initial=0.0)]
        hole = ring.bore / 2
        if min(sides) < hole + margin:
            why = f"its hole is {2 * hole:.1f} mm across, the wood beside it {2 * min(sides):.1f} mm"
            self._say(Kind.COMES_OFF, why, must=min(sides) < hole - margin, step=step)
        stem = float(radii[np.abs(places) < ring.wide / 4].max(initial=0.0))
        ways = [np.abs(places[side & (radii >= hole)]).min(initial=long) for side in (places < 0, places > 0)]
        ends = [np.abs(places[side & (radii > 0)]).max(initial=0.0) for side in (places < 0, places > 0)]
        run = sum(min(way, end) for way, end in zip(ways, ends, strict=True)) - ring.wide
        if 2 * (hole - stem) < _PLAY + 2 * margin or run < _PLAY + 2 * h:
            must = 2 * (hole - stem) < _PLAY - 2 * margin or run < _PLAY - 2 * h
            self._say(Kind.JAMS, f"{2 * (hole - stem):.2f} mm of play, {run:.2f} mm to move", must=must, step=step)

    def _say(self, kind: Kind, why: str, *, must: bool, step: int | None = None, left: float = math.inf) -> None:
        key = (self.step if step is None else step, kind)
        before = self.found.verdict.get(key)
        if before is None or (must and not before.must) or (must and left < before.left):
            self.found.verdict[key] = Opinion(must, why, left)

    def _take(self, hold: dict[str, Any], step: dict[str, Any], *, again: bool) -> None:
        self._put_on(hold, again=again)
        holds = mounted(hold, self.wood)
        for turn, held in enumerate(holds):
            if held.turns and (step.get("cut") or not again):
                self._mounted(hold, held)
            for index, item in enumerate(step.get("cut", ())):
                ((kind, keys),) = item.items()
                base = keys.get("name") or f"{kind} {self.step}.{index}"
                name = f"{base} {turn + 1}" if len(holds) > 1 else base
                if keys.get("tailstock away") and held.end:
                    held = replace(held, centers=())
                    if self.guest is not None:
                        self.guest.held = replace(self.guest.held, centers=())
                self._cut(held, kind, keys, name, base)
                if self.found.until <= self.step:
                    return

    def _put_on(self, hold: dict[str, Any], *, again: bool) -> None:
        """Put on what a hold says; what was on comes off with the next."""
        if again:
            return
        self.guest = None
        said = hold.get("put on")
        if said is None:
            return
        name = said["part"]
        if name not in self.guests:
            other = self.others.get(name)
            if other is None or other.found.until <= len(other.part["steps"]):
                raise Unheld(f"what is put on it, {name}, is not known to its end")
            self.guests[name] = other.copied()
        self.guest = Guest.on(self, self.guests[name], hold)

    def copied(self) -> Judge:
        """The same part as it stands, to be cut further elsewhere."""
        other = copy.copy(self)
        other.wood = replace(
            self.wood, removed=list(self.wood.removed), chips=list(self.wood.chips), features=dict(self.wood.features)
        )
        other.found, other.out, other.names, other.loose = Judged(), set(self.out), dict(self.names), list(self.loose)
        return other

    def _of_the_guest(self) -> None:
        """What was found of what is put on it counts as found here."""
        assert self.guest is not None
        theirs = self.guest.judge.found
        for (step, kind), opinion in theirs.verdict.items():
            self._say(kind, opinion.why, must=opinion.must and step == self.step, step=self.step, left=opinion.left)
        if theirs.until <= self.step:
            self.found.until = min(self.found.until, self.step + 1)
        theirs.verdict.clear()

    def _mounted(self, hold: dict[str, Any], held: Held) -> None:
        """Whether the hold finds what it needs."""
        if hold.get("on"):
            there = np.count_nonzero(held.shell & self.wood.voxels) / max(held.whole, 1)
            if there < 0.97 or not held.sure:
                self._say(Kind.GONE, f"{there:.0%} of {hold['on']} is there", must=there < 0.25 and held.sure)
            if self.wood.features[hold["on"]].again:
                self._say(Kind.GONE, f"{hold['on']} was shaped once more", must=False)
        for around in held.pins:
            there = np.count_nonzero(around & self.wood.voxels) / max(np.count_nonzero(around), 1)
            if there < 0.97:
                self._say(Kind.GONE, f"{there:.0%} of the wood around a pin is there", must=there < 0.4)
        turning = self.wood if self.guest is None else self.guest.together(self.wood)
        # A hole about the wood's own axis is as wide, wherever in it a center stands; on an axis that leans it is not.
        about = Frame.of_part() if np.array_equal(held.frame.across, np.eye(3)) else held.frame
        for end in held.centers:
            if end not in ("left", "right"):
                continue
            hole = holes_at(turning, about, end)
            if hole <= 0:
                continue
            at_tail = bool(held.end) or end == "right"
            bears = maybe(hold, "tail") if at_tail else held.drive
            must = hole > (bears if bears is not None else WIDE_HOLE) + MARGIN * self.wood.voxel
            self._say(Kind.AIR, f"a center stands in a hole {hole:.1f} mm wide at the {end}", must=must)
        if held.by == "faceplate" and hold.get("diameter"):
            hole, plate = holes_at(self.wood, about, held.end), length(hold["diameter"])
            if hole > plate - MARGIN * self.wood.voxel:
                must = hole > plate + MARGIN * self.wood.voxel
                self._say(Kind.AIR, f"the faceplate lies over a hole {hole:.1f} mm wide", must=must)

    def _cut(self, held: Held, kind: str, keys: dict[str, Any], name: str, base: str) -> None:
        new = self._body(held, kind, keys, name)
        self.names[base] = self.step
        if self.guest is not None:
            theirs = self.guest.judge.wood
            own, other = (bool((wood.lattice.of(body.field) < 0)[wood.voxels].any()) for wood, body in (
                (self.wood, new), (theirs, self.guest.seen(new)),
            ))  # fmt: skip
            if other:
                self.guest.cut(new, kind, name, base, self.step)
            if not own and other:
                return
        self._made(held, new, kind, name)

    def _body(self, held: Held, kind: str, keys: dict[str, Any], name: str) -> Removed:
        """What a cut takes away, of this part or of what is put on it, whichever goes by what it names."""
        cutter = Cutter(self.wood, held.frame, self.shapes)
        if self.guest is not None:
            cutter = Cutter(self.guest.together(self.wood), held.frame, self.shapes)
        return replace(cutter.removed(kind, keys, name), kind=kind)

    def _made(self, held: Held, new: Removed, kind: str, name: str) -> None:
        wood, h = self.wood, self.wood.voxel
        there = wood.lattice.of(new.field)
        chips = wood.voxels & (there <= 0)
        self._nothing(new, there)
        tool = chips if new.waste is None else chips & ~(wood.lattice.of(new.waste) <= 0)
        surely, maybe = taken(held, new, tool, wood)
        if maybe:
            self._say(Kind.HOLD, f"{name} takes what holds the wood", must=surely and chips.any())
        if kind == "part off" and held.turns and held.centers:
            both = "first" in held.centers or held.end == ""
            self._say(Kind.PARTED, f"{name} parts through between centers", must=both and bool(chips.any()))
            self._say(Kind.HOLD, f"{name} parts off a center", must=False)
        if new.waste is not None:
            fallen = wood.fallen(new.waste)
            ends = [fallen.face(new.frame or held.frame, last=last) for last in (False, True)]
            if np.count_nonzero(fallen.voxels) >= _DROSS and ends[1] - ends[0] > _WAFER:
                self.fell = fallen
        wood.take(new, there)
        self._loose(new)
        if self.found.until <= self.step:
            return
        if np.count_nonzero(chips) >= _DROSS:
            self._walls(new, chips)
            self._outs(new)
        if not ndimage.binary_erosion(chips).any():
            # So shallow that its walls are none to speak of.
            for shallow in (Kind.THIN, Kind.BREAKS, Kind.OUT):
                self._say(shallow, f"{new.name} is a scratch", must=False)
        for hole in new.holes:
            wood.features[hole.name] = hole
        if new.held_by is not None:
            wood.features[new.name] = new.held_by
        if new.of and not new.inside:
            # Whoever holds by the tenon from then on holds by what is left of it.
            wood.features[new.of] = replace(new.holes[0], name=new.of, again=True)
        if new.ring is not None:
            self.loose.append((self.step, new.ring))
        if np.count_nonzero(wood.voxels) < _DROSS or h <= 0:
            raise Unreadable("no wood is left")

    def _nothing(self, new: Removed, there: Any) -> None:
        """Whether a cut finds no wood: surely if it misses it by the margin."""
        h, wooden = self.wood.voxel, self.wood.voxels
        inside = wooden & (there <= 0)
        shallow = not (ndimage.binary_erosion(inside, iterations=1)).any()
        if shallow:
            self._say(Kind.NOTHING, f"{new.name} cuts no wood", must=not (wooden & (there < MARGIN * h)).any())

    def _loose(self, new: Removed) -> None:
        """Whether wood comes loose; after that the piece is another one, and is judged no further."""
        apart = pieces(self.wood.voxels)
        whole = self.wood.level
        if len(apart) == 1:
            worn = [one for one in pieces(self.wood.voxels & (whole < -self.wood.voxel)) if one.sum() >= _DROSS]
            if len(worn) > 1:
                self._say(Kind.LOOSE, f"{new.name} leaves little that holds it together", must=False)
                self.found.until = self.step + 1
            return
        grown, _ = ndimage.label(self.wood.voxels | (whole < self.wood.voxel), structure=np.ones((3, 3, 3)))
        homes = {int(grown[tuple(np.argwhere(one)[0])]) for one in apart if _thick(one, whole, self.wood.voxel)}
        self._say(Kind.LOOSE, f"{new.name} cuts the piece in {len(apart)}", must=len(homes) > 1)
        self.found.until = self.step

    def _walls(self, new: Removed, chips: Bools) -> None:
        wood, h = self.wood, self.wood.voxel
        most = self.limit + MARGIN * h
        points, out = surface(wood, new.field, chips)
        sure = new.kind != "oval"
        others: list[tuple[Removed, Bools]] = list(zip(wood.removed[:-1], wood.chips[:-1], strict=True))
        for old, old_chips in others:
            if new.of and new.of in old.called():
                continue
            meant = new.means(old)
            if new.inside and old.inside:
                surely, maybe = meet(wood, new.field, chips, old.field, old_chips)
                if maybe and not meant:
                    opening = "opening" in (old.kind, new.kind) or new.runs_into(old)
                    self._say(Kind.BREAKS, f"{new.name} meets {old.name}", must=surely and not opening)
                if maybe and not meant:
                    # Where they meet, or as good as meet, nothing is asked of the wood beside.
                    self._say(Kind.THIN, f"{new.name} beside {old.name}", must=False)
                if maybe or meant:
                    continue
            elif new.inside is old.inside:
                continue
            self._thin(new, old.name, wall(wood, points, out, old.field, most=most), meant, sure and old.kind != "oval")
        if new.inside:
            self._thin(
                new, OUTSIDE, wall(wood, points, out, fields.all_but(wood.blank), most=most),
                OUTSIDE in new.meets, sure,
            )  # fmt: skip
            self._among(new, chips)

    def _thin(self, new: Removed, other: str, found: Any, meant: bool, sure: bool) -> None:
        if meant:
            return
        margin = FINE * self.wood.voxel
        why = f"{found.surely:.2f} mm ({found.maybe:.2f}) between {new.name} and {other} at {found.at}"
        if found.surely < self.limit - margin and sure:
            # Where the two all but meet somewhere, to say that they do is enough.
            self._say(Kind.THIN, why, must=True, left=0.0 if found.maybe < margin else found.surely)
        elif found.maybe < self.limit + margin:
            self._say(Kind.THIN, why, must=False)
        if found.maybe < margin:
            # So little wood is none to another judge.
            for kind in (Kind.BREAKS, Kind.OUT, Kind.LOOSE):
                self._say(kind, why, must=False)
            if found.surely < margin:
                # What hangs together by a hair is another piece to another judge.
                self.found.until = min(self.found.until, self.step + 1)

    def _among(self, new: Removed, chips: Bools) -> None:
        """The wood between neighboring holes of one cut."""
        wood, count = self.wood, len(new.apart)
        drilled = [chips & (wood.lattice.of(one) <= 0) for one in new.apart]
        meant = bool(new.meets & new.called())
        for one in range(count):
            other = (one + 1) % count
            if count == 2 and one == 1:
                break
            surely, maybe = _overlap(wood, new.apart[one], new.apart[other], drilled[one], drilled[other])
            if maybe and not (meant or new.converge):
                self._say(Kind.BREAKS, f"holes of {new.name} meet", must=surely)
            if maybe or meant:
                self._say(Kind.THIN, f"holes of {new.name}", must=False)
                continue
            points, out = surface(wood, new.apart[one], drilled[one])
            found = wall(wood, points, out, new.apart[other], most=self.limit + MARGIN * wood.voxel)
            self._thin(new, f"hole {other + 1}", found, False, not new.converge)

    def _outs(self, new: Removed) -> None:
        """Holes that come out of the wood."""
        margin = MARGIN * self.wood.voxel
        for one in self.wood.removed:
            if (one is not new and new.inside) or not one.holes or not one.inside or one.kind == "opening":
                continue
            meant = OUTSIDE in one.meets or (one is not new and one.means(new))
            if one.behind is not None:
                if not meant and meets_air(self.wood, one, wider=margin):
                    must = one is new and meets_air(self.wood, one, wider=-margin)
                    self._say(Kind.OUT, f"{one.name} comes out as {new.name} is cut", must=must)
                continue
            for hole in one.holes:
                if hole.name in self.out or not comes_out(self.wood, hole, one, wider=margin):
                    continue
                surely = comes_out(self.wood, hole, one, wider=-margin)
                now = comes_out(self.wood, hole, one, wider=1e-3)
                if now:
                    self.out.add(hole.name)
                if not meant:
                    must = surely and now and one.kind != "hollow"
                    self._say(Kind.OUT, f"{hole.name} comes out as {new.name} is cut", must=must)

    def _missing(self) -> None:
        """Cuts that are said to meet and do not, at the last step of the two."""
        made = list(zip(self.wood.removed, self.wood.chips, strict=True))
        fresh = {name for name, at in self.names.items() if at == self.step}
        # A name that stands for several cuts is met when one of them is.
        apart: list[tuple[frozenset[str], bool, str, int]] = []
        met: set[frozenset[str]] = set()
        for here, (new, new_chips) in enumerate(made):
            for there, (old, old_chips) in enumerate(made):
                if new is old or not new.inside or not old.inside or not new.means(old):
                    continue
                if new.of in old.called() or old.of in new.called():
                    # What is cut in a hole's own wall meets it.
                    continue
                if not {_base(new.name, self.names), _base(old.name, self.names)} & fresh:
                    continue
                gap = self.wood.lattice.gap(new_chips, old_chips)
                says = new if new.meets & old.called() else old
                at = self.names.get(_base(says.name, self.names), self.step)
                middles = self.wood.lattice.middles
                deep = (np.maximum(new.field(middles), old.field(middles)) < -self.wood.voxel).any()
                later, chips = (new, old_chips) if here > there else (old, new_chips)
                # A third cut may have taken the wood between the two.
                through = (later.field(self.wood.lattice.places(chips)) < -self.wood.voxel).any()
                pair = frozenset({_base(new.name, self.names), _base(old.name, self.names)})
                if deep and (gap < 1.8 * self.wood.voxel or through):
                    met.add(pair)
                    continue
                must = gap > (MARGIN + 1) * self.wood.voxel
                apart.append((pair, must, f"{new.name} does not meet {old.name}", at))
        sure = {pair for pair, _, _, _ in apart} - {pair for pair, must, _, _ in apart if not must}
        for pair, _, why, at in apart:
            if pair not in met:
                self._say(Kind.MISSING, why, must=pair in sure, step=at)


@dataclass(eq=False)
class Guest:
    """Another part that is put on this one by their joint and turns with it."""

    judge: Judge
    frame: Frame
    """Where its own coordinates lie in those of the part that it is put on."""
    held: Held
    """What holds it, in its own."""

    @classmethod
    def on(cls, host: Judge, judge: Judge, hold: dict[str, Any]) -> Guest:
        """A part where it sits: the shoulder of the one on the face around the hole of the other.

        Args:
            host: The part that it is put on.
            judge: It.
            hold: Of the other; under `put on` the joint of the two: `tenon`, `hole`, whether the tenon is `on it`,
                whether it goes in at the `far` end, and its `turn`.
        """
        joint = hold["put on"]
        pin, body = (judge, host) if joint["on it"] else (host, judge)
        if joint["tenon"] not in pin.wood.features or joint["hole"] not in body.wood.features:
            raise Unheld("half of the joint is not made yet")
        tenon, hole = pin.wood.features[joint["tenon"]].now(), body.wood.features[joint["hole"]].now()
        (shoulder,) = pin.wood.outermost(tenon.frame, np.array([-pin.wood.voxel / 2]))
        seat = mouth(body.wood, hole, float(shoulder), far=bool(joint.get("far")))
        # The tenon's tip points into the hole; x stays as near to the other's as it can.
        across = np.eye(3) if seat.across[2] @ tenon.frame.across[2] > 0 else np.diag([1.0, -1.0, -1.0])
        turn = math.radians(angle(joint.get("turn", 0)))
        spun = np.array(
            [[math.cos(turn), math.sin(turn), 0.0], [-math.sin(turn), math.cos(turn), 0.0], [0.0, 0.0, 1.0]]
        )
        across = spun @ across
        frame = Frame(seat.origin - tenon.frame.origin @ across, across)
        if not joint["on it"]:
            frame = Frame(-frame.across @ frame.origin, frame.across.T)
        name = joint["tenon"] if joint["on it"] else joint["hole"]
        (held,) = mounted({"by": ["jam chuck"], "on": name, "tailstock": hold.get("tailstock")}, judge.wood)
        judge.limit = host.limit
        # Where in the joint it bears is not said.
        return cls(judge, frame, replace(held, sure=False))

    def seen(self, one: Removed) -> Removed:
        """A body that is cut in the part below, in this one's coordinates."""

        def by(field: Field) -> Field:
            return lambda points: field(self.frame.part(points))

        ends = {} if self.frame.across[2, 2] > 0 else {"left": "right", "right": "left"}
        return replace(
            one, field=by(one.field), holes=tuple(replace(hole, frame=self._seen(hole.frame)) for hole in one.holes),
            apart=tuple(map(by, one.apart)), waste=None if one.waste is None else by(one.waste),
            behind=None if one.behind is None else by(one.behind), end=ends.get(one.end, one.end),
            frame=None if one.frame is None else self._seen(one.frame),
        )  # fmt: skip

    def _seen(self, frame: Frame) -> Frame:
        return Frame(self.frame.local(frame.origin[None, :])[0], frame.across @ self.frame.across.T)

    def together(self, below: Wood) -> Wood:
        """Both as one, for what a cut or a center goes by."""
        own, frame = self.judge.wood, self.frame

        def both(points: Floats) -> Floats:
            return np.minimum(below.field(points), own.field(frame.local(points)))

        places = np.vstack([below.lattice.places(below.voxels), frame.part(own.lattice.places(own.voxels))])
        half = max(below.voxel, own.voxel)
        lattice = Lattice.about(places.min(axis=0) - half, places.max(axis=0) + half, below.voxel)
        level = lattice.of(both)
        across = max(below.across, own.across)
        return Wood(both, lattice, level < 0, level, across, features=dict(below.features))

    def cut(self, new: Removed, kind: str, name: str, base: str, step: int) -> None:
        """Make a cut on it."""
        self.judge.step = step
        self.judge.names[base] = step
        self.judge._made(self.held, self.seen(new), kind, name)


def dried(part: dict[str, Any], step: dict[str, Any], *, again: bool) -> tuple[float, float, float] | None:
    """What drying in a step leaves of a part's sizes along x, y and z, as shares; none where nothing dries.

    In wood laid out with its grain across the axis, along x, and its bark toward an end, the rings lie flat at its
    middle: along y it shrinks as wood does along its rings, in height as it does across them. With the grain along the
    axis the two are its two ways across.

    Args:
        part: Its keys.
        step: Its keys; `shrinks` says by how much along and across the rings, else a table does.
        again: Whether it has dried before: then it is as dry as it gets.
    """
    if "shrinks" in step:
        along_rings, across_rings = step["shrinks"]
    elif "green" in part.get("condition", ()) and _DRIES & set(step.get("work", ())) and not again:
        tangential, radial = SHRINKS[part["wood"]]
        along_rings, across_rings = (share / 100 * (1 - _DRY / _GREEN) for share in (tangential, radial))
    else:
        return None
    blank = part["blank"]
    if {"segments", "staves", "stack", "laminate"} & blank.keys():
        return None
    if _grain_of(part) == "across the axis":
        return 1.0, 1 - along_rings, 1 - across_rings
    return 1 - across_rings, 1 - along_rings, 1.0


def _overlap(wood: Wood, one: Any, other: Any, one_chips: Bools, other_chips: Bools) -> tuple[bool, bool]:
    """Whether two holes of one cut surely run into each other, and whether that may be said."""
    both = one_chips & other_chips
    places = wood.lattice.places(one_chips | other_chips)
    deep = bool(len(places)) and bool((np.maximum(one(places), other(places)) < -wood.voxel).any())
    return deep and bool(both.any()), wood.lattice.gap(one_chips, other_chips) <= (MARGIN + 1) * wood.voxel


def _base(name: str, names: dict[str, int]) -> str:
    """The author's name of a cut that is repeated over several holds."""
    return name if name in names else name.rpartition(" ")[0]


def _thick(voxels: Bools, field_there: Any, voxel: float) -> bool:
    """Whether a piece holds a ball two voxels across."""
    return bool((voxels & (field_there < -voxel)).any())


def _across(blank: dict[str, Any]) -> float:
    if "stack" in blank:
        return max(length(keys["across"]) for course in blank["stack"] for keys in course.values())
    log = log_of(blank)
    if log is not None:
        # A half or a quarter is about half as high as it is wide.
        return min(log.diameter * (1.0 if "log" in blank else 0.7), length(blank["long"]))
    said = [blank[key] for key in ("round", "square", "across") if key in blank]
    return length(said[0]) if said else min(length(blank["wide"]), length(blank["thick"]))


def judged(project: dict[str, Any], *, voxels: int = 48) -> Iterator[tuple[str, Judged]]:
    """What is wrong with each part of a project.

    Args:
        project: The file, as YAML reads it.
        voxels: Across the largest round that the blank holds.
    """
    judges: dict[str, Judge] = {}
    for name in project["parts"]:
        judges[name] = Judge(_spelled(project, name), project.get("profiles", {}), voxels=voxels, others=judges)
        yield name, judges[name].judged()


def _spelled(project: dict[str, Any], name: str) -> dict[str, Any]:
    """A part with its stack's courses, what it falls off, and the joints by which parts are put on it."""
    said = project["parts"][name]
    blank = said["blank"]
    if "stack" in blank:
        blank = {"stack": project["stacks"][blank["stack"]]["courses"]}
    if "falls off" in said:
        blank = blank | {"falls off": _spelled(project, said["falls off"])}
    steps = []
    for step in said.get("steps", ()):
        other = step.get("hold", {}).get("put on")
        if other is not None:
            joint = next(one for one in project["assembly"]["joints"] if {one["put"], one["into"]} == {name, other})
            step = step | {"hold": step["hold"] | {"put on": joint | {"part": other, "on it": joint["put"] == other}}}
        steps.append(step)
    return said | {"blank": blank, "steps": steps}


__all__ = [
    "BLANK", "FINE", "GONE", "OF_THE_FINISHED", "Judge", "Judged", "Kind", "Opinion", "Unheld", "Unreadable", "judged",
    "limit_of",
]  # fmt: skip
