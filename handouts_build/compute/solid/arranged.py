"""The general arrangement of a finished piece: what is measured on its solid, and how that is printed.

This module owns which diameters, lengths, openings and joints are worth a dimension, and
that a length which a named dimension says is printed as that dimension is. The lines
themselves are read off by the workpiece; where they go on paper is for the figures.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from handouts_build import workpiece as kernel
from handouts_build.language import tr, tr_count, tr_later
from handouts_build.quantities import Kind, Link, Printed, Quantity, close_chain, kind_of, millimetres, print_quantity
from handouts_build.sheet import Group, Sheet
from handouts_build.sheet.arrangement import Arrangement, AxialLength, InsideCallout, OutsideDiameter, SquareSide
from handouts_build.trade import CHAPTERS
from handouts_build.trade.outlines import INSIDE_VALUES, PROFILE_VALUES

__all__ = ["Printing", "arrangement", "measured_view"]

_SAME_MM = 0.08
"""A measured length is the one that a dimension says if they differ by no more: rounds have straight sides."""
_AXIS_MM = 0.01
_PROMINENT = 0.07
"""A swelling or a waist is told if it stands out by this share of the greatest radius."""
_TIP = 0.06
"""Thinner ends, as shares of the greatest radius, are points."""
_STANDS = 1.4
"""A piece that stands is drawn standing unless it is longer than this many times its width."""
_LEVEL_MM = 0.03
_HAIR_MM = 0.03
_BEHIND_MM = 0.4
_SHALLOW_MM = 2.5
"""Shallower hollows are dishes: nothing goes in."""
_LEAST_MM = 1.5
"""Shorter stretches of a part are not told."""
_WOOD = 0.3
"""A hole with less of its wall around it than this is no longer one."""
_THIN_WALL = 0.35
"""A wall is told where it is no more than this share of the radius."""
_LENGTHWISE = ("length", "long", "height", "high", "tall", "thick", "above", "below")
"""A name that says one of these may be that of a length along the axis."""
_CROSSWISE = ("diameter", "across", "wide", "width", "waste", "depth", "from the", "blank")
"""One that says one of these is not, of a finished piece."""
_OPENING, _OPENING_OF_PIECE = tr_later("opening"), tr_later("opening of the piece")
_WALL, _WALL_HERE = tr_later("wall"), tr_later("wall here")
_FLOOR, _FLOOR_AT_MIDDLE = tr_later("floor"), tr_later("floor at the middle")
"""What is measured inside, and what it is called where the sheet calls another length so."""
_HOLES = (kernel.FeatureKind.BORE, kernel.FeatureKind.RECESS, kernel.FeatureKind.HOLLOW)

Profile = Sequence[tuple[float, float]]


def measured_view(whole: kernel.Assembly, segments: Sequence[int], up: str) -> dict[str, Any]:
    """The lines of the drawing and what is measured on it, as plain numbers.

    Args:
        whole: The piece, put together and closed.
        segments: For each part, the sides that a circle is drawn with.
        up: The end that is above when the piece stands.
    """
    turned = [
        _Turned(number, placed, around)
        for number, (placed, around) in enumerate(zip(whole.placed, segments, strict=True))
        if _on_axis(placed.frame)
    ]
    low = min(placed.wood.box_mm[2] for placed in whole.placed)
    high = max(placed.wood.box_mm[5] for placed in whole.placed)
    widest = max((part.widest for part in turned), default=0.0)
    stands = up if up and high - low <= _STANDS * 2 * widest else ""
    lower = stands == "right"
    inside = [hole for part in turned for hole in part.holes()]
    opened = bool(inside) or len(whole.placed) > 1
    view = kernel.half_section([placed.wood for placed in whole.placed], opened=opened, lower=lower)
    return {
        "outline": view.outline,
        "edges": view.edges,
        "cut": view.cut,
        "lower": lower,
        "up": stands,
        "ends": [(low, _reach(turned, low, 1)), (high, _reach(turned, high, -1))],
        "parts": list(_parts(turned)),
        "breaks": list(_breaks(turned[0])) if len(turned) == 1 else [],
        "diameters": list(_diameters(turned, widest)),
        "squares": list(_squares(turned, widest)),
        "inside": inside,
        "joints": list(_joints(whole)),
        "rings": list(_rings(whole)),
    }


def _on_axis(frame: kernel.Axis) -> bool:
    """Whether a part turns about the axis of the whole."""
    return math.hypot(*frame.origin[:2]) < _AXIS_MM and abs(frame.direction[2]) > 1 - 1e-9


class _Turned:
    """A part about the axis of the whole, and what is read off it."""

    def __init__(self, number: int, placed: kernel.Placed, segments: int) -> None:
        self.number, self.placed, self.segments = number, placed, segments
        box = placed.wood.box_mm
        self.start, self.end = box[2], box[5]
        self.outside = self._outline(hollow=False)
        self.widest = max((radius for _, radius in self.outside), default=0.0)

    def _outline(self, *, hollow: bool) -> Profile:
        return kernel.silhouette(
            self.placed.without_rings, kernel.PART_AXIS, start_mm=self.start, end_mm=self.end, segments=self.segments,
            hollow=hollow,
        )  # fmt: skip

    def radius(self, place: float) -> float:
        """Radius of the outside; nought beyond the wood."""
        return _radius(self.outside, place)

    def _inward(self, place: float) -> float:
        return min(max(place, self.start + 0.05), self.end - 0.05)

    def square(self, place: float) -> float | None:
        """The side of the square that it is there; None where it is none."""
        return kernel.square_side(self.placed.without_rings, self._inward(place))

    def is_round(self, place: float) -> bool:
        """Whether calipers find a diameter there."""
        inward = self._inward(place)
        if self.square(place) is not None:
            return False
        if kernel.round_diameter(self.placed.without_rings, inward) is not None:
            return True
        blank = self.placed.piece.stage.made[0].mark
        return kernel.on_wings(self.placed.without_rings, place, radius_mm=self.radius(place), blank=blank)

    def holes(self) -> Iterator[dict[str, Any]]:
        """Bores, recesses and hollows along the axis that still have wood around them."""
        frame, stage = self.placed.frame, self.placed.piece.stage
        for feature in stage.features.values():
            here = feature.placed(frame)
            if feature.kind not in _HOLES or not _on_axis(here.axis) or feature.share(stage.wood) < _WOOD:
                continue
            way = 1.0 if here.axis.direction[2] > 0 else -1.0
            mouth = here.axis.origin[2]
            bottom = mouth + way * feature.long_mm
            # What a later cut took of its mouth or floor is no longer there.
            low, high = sorted((mouth, bottom))
            low, high = max(low, self.start), min(high, self.end)
            if high - low < _SHALLOW_MM:
                continue
            mouth, bottom = (low, high) if way > 0 else (high, low)
            through = bottom <= self.start + _AXIS_MM or bottom >= self.end - _AXIS_MM
            hollow = feature.kind is kernel.FeatureKind.HOLLOW
            crossings = self._crossings(mouth + way * min(0.2, (high - low) / 4)) if hollow else []
            wide = 2 * crossings[0] if len(crossings) > 1 else feature.diameter_mm
            yield {
                "part": self.number,
                "name": feature.name,
                "kind": feature.kind.value,
                "wide": wide,
                "mouth": mouth,
                "bottom": bottom,
                "through": through,
                "wall": self._wall(mouth, bottom),
                "floor": None if through else self._floor(bottom, way),
            }

    def _wall(self, mouth: float, bottom: float) -> tuple[float, float, float] | None:
        """A wall of the hole where it is thin: its place, inner radius and thickness, square to the wall."""
        place = mouth + (bottom - mouth) * 0.4
        radii = self._crossings(place)
        if len(radii) < 2 or len(radii) % 2:
            return None
        # Calipers find the shortest way through, which on a slope is not the one square to the axis.
        thick = min(radii[1] - radii[0], _away(self.outside, place, radii[0]))
        return (place, radii[0], thick) if thick <= _THIN_WALL * radii[1] else None

    def _floor(self, bottom: float, way: float) -> float | None:
        """Wood behind the bottom of the hole, on the axis."""
        along = kernel.along_axis(self.placed.without_rings)
        ends = [end for end in along if way * (end - bottom) > -_BEHIND_MM]
        ends.sort(key=lambda end: way * end)
        return abs(ends[1] - ends[0]) if len(ends) > 1 and abs(ends[0] - bottom) < _BEHIND_MM else None

    def _crossings(self, place: float) -> list[float]:
        """Radii at which the wood begins and ends in the plane of the drawing, from the axis out."""
        factor = kernel.round_factor(self.segments)
        return [radius / factor for radius in kernel.across_axis(self.placed.without_rings, place)]


def _radius(outline: Profile, place: float) -> float:
    """Radius of an outline at a place; nought beyond it."""
    if not outline or not outline[0][0] - 1e-6 <= place <= outline[-1][0] + 1e-6:
        return 0.0
    found = 0.0
    for (x0, r0), (x1, r1) in itertools.pairwise(outline):
        if x0 - 1e-6 <= place <= x1 + 1e-6:
            here = r0 + (r1 - r0) * (place - x0) / (x1 - x0) if x1 > x0 else max(r0, r1)
            found = max(found, here)
    return found


def _away(outline: Profile, place: float, radius: float) -> float:
    """How far a point lies from an outline, mm: the least distance to any of its lines."""
    found = math.inf
    for (x0, r0), (x1, r1) in itertools.pairwise(outline):
        along, out = x1 - x0, r1 - r0
        length = along * along + out * out
        share = ((place - x0) * along + (radius - r0) * out) / length if length else 0.0
        share = min(1.0, max(0.0, share))
        found = min(found, math.hypot(place - x0 - share * along, radius - r0 - share * out))
    return found


def _reach(turned: Sequence[_Turned], place: float, inward: int) -> float:
    """How far from the axis the piece reaches at an end."""
    return max((part.radius(place + inward * 0.01) for part in turned), default=0.0)


def _parts(turned: Sequence[_Turned]) -> Iterator[tuple[int, float, float, float, float]]:
    """The stretches at which each part is the outermost: part, start, end, and the radius at both."""
    if len(turned) < 2:
        return
    places = sorted({place for part in turned for place, _ in part.outside})
    runs: list[tuple[_Turned, float, float]] = []
    for low, high in itertools.pairwise(places):
        middle = (low + high) / 2
        outermost = max(turned, key=lambda part, at=middle: part.radius(at))  # type: ignore[misc]
        if outermost.radius(middle) <= 0 or high - low < 1e-6:
            continue
        if runs and runs[-1][0] is outermost:
            runs[-1] = (outermost, runs[-1][1], high)
        else:
            runs.append((outermost, low, high))
    for part, low, high in runs:
        if high - low >= _LEAST_MM:
            yield part.number, low, high, part.radius(low + 1e-3), part.radius(high - 1e-3)


def _breaks(part: _Turned) -> Iterator[tuple[float, float]]:
    """Places within one part at which its outside has a sharp corner, with the radius there."""
    points = part.outside
    last = part.start
    for before, here, after in zip(points, points[1:], points[2:], strict=False):
        turn = math.atan2(after[1] - here[1], after[0] - here[0]) - math.atan2(here[1] - before[1], here[0] - before[0])
        turn = (turn + math.pi) % (2 * math.pi) - math.pi
        if abs(turn) > math.radians(32) and here[0] - last > 2 * _LEAST_MM and part.end - here[0] > 2 * _LEAST_MM:
            last = here[0]
            yield here[0], part.radius(here[0])


def _diameters(turned: Sequence[_Turned], widest: float) -> Iterator[tuple[int, float, float, float]]:
    """Swellings, waists and ends of the outside that is seen: part, place, radius, and how much each stands out."""
    for part in turned:
        others = [other for other in turned if other is not part]
        ends = list(_extremes(part.outside, _PROMINENT * widest))
        # Both ends too, such as a foot that hardly stands out.
        ends += [end for end in _both_ends(part.outside) if all(abs(end[1] - known[1]) > _LEAST_MM for known in ends)]
        for place, radius, stands in ends:
            hidden = any(other.radius(place) >= radius - 1e-3 for other in others)
            if radius > _TIP * widest and not hidden and part.is_round(place):
                yield part.number, place, radius, stands


def _squares(turned: Sequence[_Turned], widest: float) -> Iterator[tuple[float, float]]:
    """Stretches of the outside that are left square: the middle of each, and its side."""
    for part in turned:
        for place, _, _ in _extremes(part.outside, _PROMINENT * widest):
            side = part.square(place)
            if side is not None:
                yield place, side


def _extremes(outline: Profile, least: float) -> Iterator[tuple[float, float, float]]:
    """Places at which an outline is widest or narrowest between two others: place, radius, how much it stands out.

    Args:
        outline: Places growing.
        least: How much the radius must change before a turn counts.
    """
    turns: list[int] = []
    low = high = 0
    way = 0
    for index, (_, radius) in enumerate(outline):
        high = index if way >= 0 and radius > outline[high][1] else high
        low = index if way <= 0 and radius < outline[low][1] else low
        if way >= 0 and outline[high][1] - radius >= least:
            turns.append(high)
            way, low = -1, index
        elif way <= 0 and radius - outline[low][1] >= least:
            turns.append(low)
            way, high = 1, index
    if outline:
        turns.append(high if way >= 0 else low)
    for number, index in enumerate(turns):
        radius = outline[index][1]
        beside = [
            abs(radius - outline[turns[other]][1]) for other in (number - 1, number + 1) if 0 <= other < len(turns)
        ]
        first, last = _level(outline, index)
        # A stretch at one radius is told in its middle.
        yield (outline[first][0] + outline[last][0]) / 2, radius, min(beside, default=radius)


def _both_ends(outline: Profile) -> Iterator[tuple[float, float, float]]:
    """The stretches at one radius that an outline begins and ends with: place, radius, 0."""
    for index in (0, len(outline) - 1) if outline else ():
        first, last = _level(outline, index)
        yield (outline[first][0] + outline[last][0]) / 2, outline[index][1], 0.0


def _level(outline: Profile, index: int) -> tuple[int, int]:
    """The points around one that lie at its radius."""
    first = last = index
    while first and abs(outline[first - 1][1] - outline[index][1]) < _LEVEL_MM:
        first -= 1
    while last + 1 < len(outline) and abs(outline[last + 1][1] - outline[index][1]) < _LEVEL_MM:
        last += 1
    return first, last


def _joints(whole: kernel.Assembly) -> Iterator[dict[str, Any]]:
    """Each tenon in its hole, where it is about the axis: where it begins, where it ends, how wide it is."""
    frames = {placed.piece.name: placed for placed in whole.placed}
    for fit in whole.fits:
        if isinstance(fit, kernel.EdgeFit):
            continue
        placed = frames[fit.joint.piece]
        tenon = placed.piece.stage.features[fit.joint.tenon].placed(placed.frame)
        if _on_axis(tenon.axis) and fit.tenon_mm > 0 and fit.engaged_mm > 0:
            way = 1.0 if tenon.axis.direction[2] > 0 else -1.0
            start = tenon.axis.origin[2]
            yield {
                "name": fit.joint.tenon, "wide": fit.tenon_mm, "long": fit.long_mm, "start": start,
                "end": start + way * fit.long_mm,
            }  # fmt: skip


def _rings(whole: kernel.Assembly) -> Iterator[dict[str, Any]]:
    """Each loose ring where it lies, if that is about the axis: its middle, how wide it is outside, and its hole."""
    for placed in whole.placed:
        stage = placed.piece.stage
        if not stage.loose or not _on_axis(placed.frame):
            continue
        lying = [piece for piece in placed.wood.pieces() if piece.genus == 1]
        for ring, body in zip(stage.loose, sorted(lying, key=lambda piece: piece.center_mm[2]), strict=False):
            box = body.box_mm
            yield {"name": ring.name, "at": body.center_mm[2], "wide": box[3] - box[0], "bore": ring.bore_mm}


# What is measured, to what is printed.


@dataclass(frozen=True)
class _Named:
    """A length that the sheet has a name for."""

    mm: float
    printed: Printed
    words: str
    """Its name and what it is, in small letters."""
    given: bool = False
    """Whether a chapter was told it: then it is meant only where the words fit."""
    element: bool = False
    """Whether it is the length of one element of a profile."""
    tool: bool = False
    """Whether it is a size that a tool comes in, such as a bit's."""

    def called(self, words: Sequence[str]) -> bool:
        """Whether it is called by one of some words."""
        return any(word in self.words for word in words)


class Printing:
    """Lengths as the sheet prints them: by the dimension that says them, else by the rule.

    Args:
        sheet: The project, worked out.
    """

    def __init__(self, sheet: Sheet) -> None:
        self.rule = sheet.rule
        self.named = list(_named(sheet))
        self._along = [known for known in self.named if not (known.given or known.called(_CROSSWISE))]

    def of(self, mm: float, *words: str, turned: bool = False) -> Printed:
        """The printed form of a measured length.

        Args:
            mm: As measured.
            words: What it may be called: of several dimensions that say that length, one so called is this one.
            turned: Whether it is turned, and so no tool's size where something else is as long.
        """
        near = [
            known for known in self.named if abs(known.mm - mm) <= _SAME_MM and (known.called(words) or not known.given)
        ]
        near = [known for known in near if not (turned and (known.tool or known.given))] or near
        meant = self._meant(near, mm, words)
        return meant.printed if meant is not None else print_quantity(millimetres(mm), self.rule)

    def along(self, mm: float, *words: str) -> Link:
        """A measured length along the axis, for a chain of them: free where the sheet has no name for it.

        Args:
            mm: As measured.
            words: What else it may be called, beside what lengths are called.
        """
        called = (*_LENGTHWISE, *words)
        near = [known for known in self._along if abs(known.mm - mm) <= _SAME_MM and known.called(called)]
        length = millimetres(mm)
        meant = self._meant(near, mm, called)
        if meant is None:
            return Link(length, print_quantity(length, self.rule), free=True)
        if meant.element:
            # Of two elements as long as each other, the next such length is the next element's.
            self._along.remove(meant)
        return Link(length, meant.printed, free=False)

    @staticmethod
    def _meant(near: Sequence[_Named], mm: float, words: Sequence[str]) -> _Named | None:
        """Of names for one length, the one that is meant."""
        if not near:
            return None

        def fits(known: _Named) -> tuple[bool, bool, float]:
            off = abs(known.mm - mm)
            return off > _HAIR_MM, not known.called(words), round(off, 3)

        return min(near, key=fits)

    def name(self, mm: float, word: str, with_place: str, *also: str) -> str:
        """What a measured length is called: with its place, where what is called so on the sheet is another length.

        Args:
            mm: As measured.
            word: What it is called else.
            with_place: What it is called where it must be told apart.
            also: What else the sheet may call it.

        Returns:
            One of the two, to be said by `tr`.
        """
        another = any(known.called((word,)) for known in self.named) and not any(
            known.called((word, *also)) and abs(known.mm - mm) <= _SAME_MM for known in self.named
        )
        return with_place if another else word


def _named(sheet: Sheet) -> Iterator[_Named]:
    """Sizes first, then what follows from them, then what profiles are drawn with."""

    def length(
        value: Quantity, printed: Printed, words: str, *, given: bool = False, element: bool = False, tool: bool = False
    ) -> Iterator[_Named]:
        if kind_of(value) is Kind.LENGTH and value.magnitude > 0:
            yield _Named(kernel.in_mm(value), printed, words.lower(), given, element, tool)

    for size in sheet.sizes:
        yield from length(size.value, size.printed, f"{size.name} {size.says}", tool=size.exact)
    for group in sheet.groups:
        for row in group.dimensions:
            short = row.name.removeprefix(f"{group.name}.")
            yield from length(row.value, row.printed, f"{row.name} {_unsaid(group, short, row.says)}")
    for group in sheet.groups:
        for given in group.givens:
            says = _unsaid(group, given.name, given.says)
            yield from length(given.value, given.printed, f"{group.name}.{given.name} {says}", given=True)
        if group.shape is None:
            continue
        for station in group.shape.stations:
            yield from length(station.diameter, station.printed, f"diameter {station.element} {station.edge}")
        for segment in group.shape.segments:
            yield from length(segment.end - segment.start, segment.printed, f"length {segment.says}", element=True)


def _unsaid(group: Group, name: str, says: str) -> str:
    """What a value of the trade is in the trade's own words, by which it is known whatever language is spoken.

    Args:
        group: The value's.
        name: Its name in the group.
        says: What it is, as it is printed; an author's own words come back as they are.
    """
    chapter = CHAPTERS.get(group.chapter)
    known: list[tuple[str, str]] = []
    if chapter is not None:
        known += ((given.name, given.says) for given in chapter.givens)
        known += ((law.name, law.says) for law in chapter.laws)
    elif group.shape is not None:
        known += ((measure.name, measure.says) for measure in (*PROFILE_VALUES, *INSIDE_VALUES))
    return next((words for called, words in known if called == name and tr(words) == says), says)


def arrangement(found: dict[str, Any], sheet: Sheet, names: Sequence[str]) -> Arrangement:
    """What was measured, with every length printed.

    Args:
        found: As `measured_view` gave it.
        sheet: The project, worked out.
        names: Of the parts, in the order they are put together.
    """
    printing = Printing(sheet)
    lengths = _lengths(found, printing, names)
    most = max((radius for _, _, radius, _ in found["diameters"]), default=0.0)
    diameters: list[OutsideDiameter] = []
    for _, place, radius, _ in sorted(found["diameters"], key=lambda each: (each[1], each[2])):
        largest = radius >= most - 1e-6 and not any(each.largest for each in diameters)
        diameters.append(
            OutsideDiameter(
                printing.of(2 * radius, "diameter", "across", "wide", turned=True), (place, radius), largest
            )
        )
    return Arrangement(
        outline=_lines(found["outline"]),
        edges=_lines(found["edges"]),
        cut=tuple(_lines(rings) for rings in found["cut"]),
        lower=found["lower"],
        up=found["up"],
        lengths=tuple(lengths),
        diameters=tuple(diameters),
        squares=tuple(
            SquareSide(printing.of(side, "side", "square", "across"), (place, side / 2))
            for place, side in found["squares"]
        ),
        callouts=tuple(_callouts(found, printing)),
    )


def _lengths(found: dict[str, Any], printing: Printing, names: Sequence[str]) -> list[AxialLength]:
    """The chain of lengths along the axis and the whole, printed so that they add up."""
    (low, low_reach), (high, high_reach) = found["ends"]
    stretches: list[tuple[str, tuple[float, float], tuple[float, float]]] = []
    if found["parts"]:
        stretches = [(names[number], (start, first), (end, last)) for number, start, end, first, last in found["parts"]]
    elif found["breaks"]:
        places = [(low, low_reach), *map(tuple, found["breaks"]), (high, high_reach)]
        stretches = [("", start, end) for start, end in itertools.pairwise(places)]
    whole = printing.along(high - low, "overall")
    links = [printing.along(end[0] - start[0]) for _, start, end in stretches]
    values, overall = [each.printed for each in links], whole.printed
    # Parts that leave a stretch between them are no chain.
    if links and abs(sum(end[0] - start[0] for _, start, end in stretches) - (high - low)) <= _SAME_MM:
        values, overall = close_chain(links, whole, printing.rule)
    return [
        *(AxialLength(says, long, start, end) for (says, start, end), long in zip(stretches, values, strict=True)),
        AxialLength(tr("overall"), overall, (low, low_reach), (high, high_reach), overall=True),
    ]


def _lines(lines: Sequence[Any]) -> tuple[tuple[tuple[float, float], ...], ...]:
    return tuple(tuple((float(x), float(y)) for x, y in line) for line in lines)


def _callouts(found: dict[str, Any], printing: Printing) -> Iterator[InsideCallout]:
    """Openings, holes, walls, floors, loose rings and joints."""
    walled: set[int] = set()
    for hole in found["inside"]:
        deep = None if hole["through"] else printing.of(abs(hole["bottom"] - hole["mouth"]), "deep", "depth")
        kind, name = "hole", hole["name"]
        if hole["kind"] == "hollow":
            kind = "opening"
            name = printing.name(hole["wide"], _OPENING, _OPENING_OF_PIECE, "inside", "bore", "hole")
        at = hole["mouth"] + (hole["bottom"] - hole["mouth"]) * (0.02 if kind == "opening" else 0.7)
        wide = printing.of(hole["wide"], name, "inside", "bore", "hole")
        yield InsideCallout(kind, tr(name) if kind == "opening" else name, wide, deep, (at, hole["wide"] / 2))
        if hole["wall"] is not None and hole["part"] not in walled and hole["kind"] != "recess":
            walled.add(hole["part"])
            place, inner, thick = hole["wall"]
            yield InsideCallout(
                "wall",
                tr(printing.name(thick, _WALL, _WALL_HERE)),
                printing.of(thick, "wall"),
                None,
                (place, inner + thick / 2),
                edge=False,
            )
        # Behind the cup of a goblet is its stem, and no floor.
        if hole["kind"] == "hollow" and (hole["floor"] or math.inf) <= abs(hole["bottom"] - hole["mouth"]):
            way = 1 if hole["bottom"] > hole["mouth"] else -1
            at = hole["bottom"] + way * hole["floor"] / 2
            # A foot that is dished leaves less behind the middle than the floor is told to be.
            name = tr(printing.name(hole["floor"], _FLOOR, _FLOOR_AT_MIDDLE))
            yield InsideCallout(
                "floor", name, printing.of(hole["floor"], "floor"), None, (at, hole["wide"] * 0.12), edge=False
            )
    alike: dict[tuple[float, float], list[dict[str, Any]]] = {}
    for ring in found["rings"]:
        alike.setdefault((round(ring["wide"], 1), round(ring["bore"], 1)), []).append(ring)
    for ring, *others in alike.values():
        bore = printing.of(ring["bore"], "hole", "bore")
        across = printing.of(ring["wide"], "ring", "outside")
        name = tr_count("{count} ring", "{count} rings", len(others) + 1) if others else ring["name"]
        yield InsideCallout("ring", name, across, bore, (ring["at"], ring["wide"] / 2))
    for joint in found["joints"]:
        at = joint["start"] + (joint["end"] - joint["start"]) * 0.5
        across = printing.of(joint["wide"], "tenon", joint["name"])
        long = printing.of(joint["long"], "long", "length", "high")
        yield InsideCallout("joint", joint["name"], across, long, (at, joint["wide"] / 2))
