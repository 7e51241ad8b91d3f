"""Pieces that a maker might write, and some that nobody should: blank, holds and cuts from a seed.

Three quarters of all places and sizes lie on multiples of a voxel, so that faces touch and coincide;
the rest lie anywhere. The same seed and number give the same piece.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from typing import Any

Keys = dict[str, Any]
ACROSS = (24.0, 36.0, 48.0, 96.0)
"""Widths of blanks, mm."""
LATTICE = 48
"""Voxels across, on whose faces most sizes lie."""


def piece(seed: int, number: int, *, steps: int = 4, cuts: int = 3) -> Keys:
    """The keys of a project.

    Args:
        seed: Of the whole run.
        number: Of the piece; each eighth is two parts that are joined.
        steps: At the most.
        cuts: In a step, at the most.
    """
    chance = random.Random(f"{seed}/{number}")
    if number % 8 == 7:
        return _joined(chance)
    part, profiles = Part(chance, cuts).made(steps)
    return ({"profiles": profiles} if profiles else {}) | {"parts": {"piece": part}}


class Part:
    """One part on its way."""

    def __init__(self, chance: random.Random, cuts: int = 3) -> None:
        self.chance, self.cuts = chance, cuts
        self.across = chance.choice(ACROSS)
        self.unit = self.across / LATTICE
        self.long = self.unit * chance.randint(30, 80)
        self.low, self.high = 0.0, self.long
        """Where the wood is thought to run: parting shortens it."""
        self.names: dict[str, int] = {}
        self.tenons: dict[str, str] = {}
        """Tenons that were cut, and their ends."""
        self.sunk: dict[str, str] = {}
        """Recesses and bores, and their ends."""
        self.drilled: list[tuple[str, int]] = []
        """Rings of holes, and how many."""
        self.bores: list[str] = []
        self.profiles: Keys = {}

    def mm(self, low: float, high: float) -> str:
        """A length between two, in voxels; most lie on one's face."""
        value = self.chance.uniform(low, high)
        if self.chance.random() < 0.75:
            value = round(value) if self.chance.random() < 0.8 else round(2 * value) / 2
        return self.said(max(value, min(low, 0.5)) * self.unit)

    def said(self, value: float) -> str:
        """A length in words."""
        return f"{value:.2f} mm"

    def made(self, steps: int) -> tuple[Keys, Keys]:
        """The part, and the profiles that it names."""
        kind = self.chance.choices(["round", "square", "board", "segments"], [12, 4, 2, 2])[0]
        long = self.said(self.long)
        if kind == "segments":
            inside = self.said(self.unit * self.chance.randint(14, 34))
            count = self.chance.choice([6, 8, 12, 16])
            blank: Keys = {"segments": count, "across": self.said(self.across), "inside": inside, "long": long}
            self.sunk["opening"] = "left"
        elif kind == "board":
            wide = self.said(self.across * self.chance.choice([1.0, 1.25, 1.5]))
            blank = {"wide": wide, "thick": self.said(self.across), "long": long}
        else:
            blank = {kind: self.said(self.across), "long": long}
        part: Keys = {"wood": self.chance.choice(["maple, sugar", "basswood, American"])}
        if kind != "segments" and self.chance.random() < 0.25:
            part["grain"] = "across the axis"
        part["blank"] = blank
        part["steps"] = [self.step(number) for number in range(min(steps, self.chance.randint(1, 4)))]
        return part, self.profiles

    def step(self, number: int) -> Keys:
        """One step: a hold that goes with what is there, mostly, and a cut or two."""
        hold = self.hold(number)
        step: Keys = {"name": f"Step {number + 1}", "say": "Do it.", "hold": hold}
        still = hold["by"][0] in ("bench", "hand")
        step["cut"] = [self.cut(hold, still) for _ in range(min(self.cuts, self.chance.choice([1, 1, 2, 2, 3])))]
        return step

    def hold(self, number: int) -> Keys:
        """What holds it."""
        ways: list[tuple[float, Callable[[], Keys]]] = [
            (4 if number == 0 else 1.5, lambda: {"by": ["between centers"], "tailstock": True}),
            (1.5, lambda: {"by": ["faceplate"], "diameter": self.mm(16, 40), **self._end()}),
            (2, lambda: {"by": ["chuck"], "deep": self.mm(4, 14), **self._end()}),
            (0.7, lambda: {"by": ["jam chuck"], "deep": self.mm(3, 12), **self._end()}),
            (0.6, lambda: {"by": ["bench"]}),
            (0.4, lambda: {"by": ["off-axis centers"], "offset": self.mm(2, 6), "angle": "0 deg"}),
        ]
        if self.tenons:
            ways.append((6, lambda: {"by": ["chuck"], "on": self.chance.choice(list(self.tenons))}))
            ways.append((0.5, lambda: {"by": ["jam chuck"], "on": self.chance.choice(list(self.tenons))}))
        if self.sunk:
            ways.append((3, lambda: {"by": ["chuck opening out"], "on": self.chance.choice(list(self.sunk))}))
            screws = [name for name in self.sunk if name in self.bores]
            if screws:
                ways.append((1.5, lambda: {"by": ["screw chuck"], "on": self.chance.choice(screws)}))
        even = [(name, count) for name, count in self.drilled if count % 2 == 0]
        if even:
            ways.append((4, lambda: self._across(*self.chance.choice(even))))
        hold = self.chance.choices([way for _, way in ways], [weight for weight, _ in ways])[0]()
        if hold["by"][0] not in ("between centers", "bench", "off-axis centers") and self.chance.random() < 0.25:
            hold["tailstock"] = True
        return hold

    def _end(self) -> Keys:
        return {"end": "right"} if self.chance.random() < 0.25 else {}

    def _across(self, name: str, count: int) -> Keys:
        pairs = [[f"{name} {one + 1}", f"{name} {one + 1 + count // 2}"] for one in range(count // 2)]
        return {"by": ["between centers"], "in": pairs, "tailstock": True}

    def cut(self, hold: Keys, still: bool) -> Keys:
        """One cut, mostly of a kind that the hold is for."""
        if "in" in hold:
            return {"groove": self._groove(0.0, 6)}
        cuts: dict[str, Callable[[], Keys]] = {
            "cylinder": self._cylinder, "tenon": self._tenon, "ball": self._ball, "part off": self._part_off,
            "bore": self._bore, "recess": self._recess, "holes": self._holes, "end holes": self._end_holes,
            "groove": lambda: self._groove(self._at(), 10), "enlarge": self._enlarge, "flat": self._flat,
            "prism": self._prism, "oval": self._oval, "profile": self._profile, "hollow": self._hollow,
            "facets": self._facets,
        }  # fmt: skip
        weights = {
            "cylinder": 4, "tenon": 5, "ball": 1.2, "part off": 1.5, "bore": 5, "recess": 3, "holes": 3.5,
            "end holes": 2.5, "groove": 3, "enlarge": 1.5 if self.bores else 0, "flat": 1, "prism": 1, "oval": 0.5,
            "profile": 1.5, "hollow": 1.5, "facets": 0.5,
        }  # fmt: skip
        kinds = ["holes", "end holes", "flat", "prism", "oval"] if still else list(cuts)
        kind = self.chance.choices(kinds, [weights[one] for one in kinds])[0]
        return {kind: cuts[kind]()}

    def _name(self, kind: str) -> str:
        self.names[kind] = self.names.get(kind, 0) + 1
        return f"{kind} no{self.names[kind]}"

    def _at(self) -> float:
        """Somewhere along the wood, in voxels."""
        low, high = self.low / self.unit, self.high / self.unit
        return self.chance.uniform(low + 0.15 * (high - low), high - 0.15 * (high - low))

    def _side(self) -> str:
        return self.chance.choice(["left", "right", "right"])

    def _meets(self, keys: Keys) -> Keys:
        if self.bores and self.chance.random() < 0.2:
            keys["meets"] = [self.chance.choice(self.bores)]
        elif self.chance.random() < 0.05:
            keys["meets"] = ["the outside"]
        return keys

    def _stretch(self) -> Keys:
        long = (self.high - self.low) / self.unit
        keys: Keys = {}
        at = self._at()
        if self.chance.random() < 0.6:
            keys["start"] = self.mm(at - 0.2 * long, at)
        if self.chance.random() < 0.6:
            keys["end"] = self.mm(at + 2, at + 0.25 * long)
        return keys

    def _cylinder(self) -> Keys:
        return {"name": self._name("cylinder"), "diameter": self.mm(18, 47), **self._stretch()}

    def _tenon(self) -> Keys:
        name, end = self._name("tenon"), self._side()
        self.tenons[name] = end
        return {"name": name, "diameter": self.mm(10, 36), "long": self.mm(5, 14), "end": end}

    def _ball(self) -> Keys:
        most = min(46.0, (self.high - self.low) / self.unit - 4)
        size = self.chance.randint(16, max(17, int(most)))
        at = (
            self.low / self.unit
            + size / 2
            + self.chance.randint(0, max(1, int((self.high - self.low) / self.unit - size)))
        )
        keep = self.mm(6, 0.7 * size)
        return {
            "name": self._name("ball"), "diameter": self.said(size * self.unit), "at": self.said(at * self.unit),
            "keep left": keep, "keep right": keep,
        }  # fmt: skip

    def _facets(self) -> Keys:
        return self._ball() | {"name": self._name("facets"), "flats": self.chance.choice([8, 16])}

    def _part_off(self) -> Keys:
        keep = self.chance.choice(["left", "right"])
        low, high = self.low / self.unit, self.high / self.unit
        at = self.chance.uniform(low + 0.6 * (high - low), high - 2)
        if keep == "right":
            at = low + high - at
        at = round(at) * self.unit
        self.low, self.high = (self.low, at) if keep == "left" else (at, self.high)
        return self._meets({"name": self._name("parting"), "at": self.said(at), "keep": keep})

    def _bore(self) -> Keys:
        name, end = self._name("bore"), self._side()
        keys: Keys = {"name": name, "diameter": self.mm(4, 26), "end": end}
        if self.chance.random() < 0.8:
            keys["deep"] = self.mm(6, 0.98 * (self.high - self.low) / self.unit)
        self._meets(keys)
        self.bores.append(name)
        self.sunk[name] = end
        return keys

    def _recess(self) -> Keys:
        name, end = self._name("recess"), self._side()
        self.sunk[name] = end
        return self._meets({"name": name, "diameter": self.mm(12, 42), "deep": self.mm(2, 9), "end": end})

    def _holes(self) -> Keys:
        name = self._name("ring")
        count = self.chance.choice([1, 2, 3, 4, 6, 6, 8])
        self.drilled.append((name, count))
        keys: Keys = {
            "name": name, "diameter": self.mm(3, 9), "count": count, "at": self.mm(self._at(), self._at()),
            "first": f"{self.chance.choice([0, 0, 15, 30, 45])} deg",
        }  # fmt: skip
        reach = self.chance.choices(["depth", "axis", "through"], [7, 1.5, 1])[0]
        keys |= {"deep": self.mm(4, 26)} if reach == "depth" else {"reach": reach}
        return self._meets(keys)

    def _end_holes(self) -> Keys:
        keys: Keys = {
            "name": self._name("pegs"), "diameter": self.mm(3, 9), "count": self.chance.choice([1, 2, 3, 4, 6]),
            "circle": self.mm(10, 40), "end": self._side(), "first": f"{self.chance.choice([0, 30, 45])} deg",
        }  # fmt: skip
        if self.chance.random() < 0.8:
            keys["deep"] = self.mm(4, 40)
        return self._meets(keys)

    def _groove(self, at: float, least: float) -> Keys:
        keys = {"name": self._name("groove"), "at": self.mm(at, at), "wide": self.mm(2, 7), "floor": self.mm(least, 23)}
        return self._meets(keys)

    def _enlarge(self) -> Keys:
        hole = self.chance.choice(self.bores)
        keys: Keys = {"name": self._name("wider"), "hole": hole, "diameter": self.mm(14, 36)}
        if self.chance.random() < 0.6:
            keys["deep"] = self.mm(4, 30)
        return self._meets(keys)

    def _flat(self) -> Keys:
        angle = f"{self.chance.choice([0, 30, 90, 180])} deg"
        return {"name": self._name("flat"), "distance": self.mm(8, 23), "angle": angle, **self._stretch()}

    def _prism(self) -> Keys:
        flats = self.chance.choice([3, 4, 5, 6, 8])
        return {"name": self._name("prism"), "flats": flats, "across": self.mm(24, 46), **self._stretch()}

    def _oval(self) -> Keys:
        return {"name": self._name("oval"), "wide": self.mm(30, 47), "thick": self.mm(18, 30), **self._stretch()}

    def _along(self, least: float, most: float, long: int) -> list[Keys]:
        """Straight elements of so many voxels in all."""
        elements = []
        while long > 3:
            part = min(long, self.chance.randint(4, 14))
            long -= part
            size = {"long": self.said(part * self.unit)}
            if self.chance.random() < 0.5:
                elements.append({"taper": {"from": self.mm(least, most), "to": self.mm(least, most), **size}})
            else:
                elements.append({"fillet": {"diameter": self.mm(least, most), **size}})
        return elements

    def _profile(self) -> Keys:
        name = f"shape_{len(self.profiles) + 1}"
        long = int((self.high - self.low) / self.unit * self.chance.uniform(0.3, 0.9))
        self.profiles[name] = {"says": "A shape", "along": self._along(14, 46, max(long, 8))}
        slack = (self.high - self.low) / self.unit - max(long, 8)
        return {
            "name": self._name("profile"),
            "shape": name,
            "at": self.said(self.low + self.unit * self.chance.randint(0, max(0, int(slack)))),
        }

    def _hollow(self) -> Keys:
        name, end = f"inside_{len(self.profiles) + 1}", self._side()
        long = max(8, int((self.high - self.low) / self.unit * self.chance.uniform(0.2, 0.7)))
        along = self._along(8, 38, long)
        total = sum(float(keys["long"].removesuffix(" mm")) for one in along for keys in one.values())
        self.profiles[name] = {"says": "The inside", "along": along}
        at = self.low if end == "left" else self.high - total
        return {"name": self._name("hollow"), "shape": name, "end": end, "at": self.said(at)}


def _joined(chance: random.Random) -> Keys:
    """A pin that is to go into a hole, each perhaps changed by later cuts."""
    body, pin = Part(chance), Part(chance)
    bore: Keys = {"name": "socket", "diameter": body.mm(8, 24), "end": "right"}
    if chance.random() < 0.8:
        bore["deep"] = body.mm(6, 0.8 * body.long / body.unit)
    steps: list[Keys] = [
        {"name": "Bore", "say": "Bore it.", "hold": {"by": ["chuck"], "deep": body.mm(5, 8)}, "cut": [{"bore": bore}]}
    ]
    more = chance.choice(["", "", "enlarge", "part off", "tenon", "recess"])
    if more:
        wide = body.said(float(bore["diameter"].removesuffix(" mm")) + body.unit * chance.randint(2, 8))
        cuts: dict[str, Keys] = {
            "enlarge": {"name": "wider", "hole": "socket", "diameter": wide, "deep": body.mm(3, 20)},
            "part off": {
                "name": "face", "at": body.said(body.long - body.unit * chance.randint(2, 12)), "keep": "left",
                "meets": ["socket"],
            },
            "tenon": {"name": "neck", "diameter": body.mm(30, 44), "long": body.mm(3, 10), "end": "right"},
            "recess": {"name": "seat", "diameter": wide, "deep": body.mm(2, 5), "end": "right", "meets": ["socket"]},
        }  # fmt: skip
        steps[0]["cut"].append({more: cuts[more]})
    thick = float(bore["diameter"].removesuffix(" mm")) + body.unit * chance.choice([-4, -2, -1, -0.3, 0, 0.3, 1, 2, 4])
    tenon = {"name": "pin tenon", "diameter": pin.said(max(thick, 2.0)), "long": pin.mm(5, 16), "end": "right"}
    pin_cuts: list[Keys] = [{"tenon": tenon}]
    change = chance.choice(["", "", "thinner", "shorter", "short shoulder", "flat"])
    if change == "thinner":
        diameter = pin.said(max(thick - pin.unit * chance.randint(1, 6), 1.5))
        pin_cuts.append(
            {"cylinder": {"name": "again", "diameter": diameter, "start": pin.said(pin.long - 20 * pin.unit)}}
        )
    elif change == "shorter":
        pin_cuts.append(
            {"part off": {"name": "tip", "at": pin.said(pin.long - pin.unit * chance.randint(1, 4)), "keep": "left"}}
        )
    elif change == "short shoulder":
        pin_cuts[0]["tenon"]["shoulder"] = pin.said(pin.long - pin.unit * chance.randint(16, 22))
    elif change == "flat":
        pin_cuts.append(
            {"flat": {"name": "facet", "distance": pin.mm(3, 8), "start": pin.said(pin.long - 10 * pin.unit)}}
        )
    turn = {"name": "Turn", "say": "Turn it.", "hold": {"by": ["chuck"], "deep": pin.mm(5, 8)}, "cut": pin_cuts}
    parts = {
        name: {
            "wood": "maple, sugar",
            "blank": {"round": one.said(one.across), "long": one.said(one.long)},
            "steps": made,
        }
        for name, one, made in (("body", body, steps), ("pin", pin, [turn]))
    }
    joint: Keys = {"put": "pin", "tenon": "pin tenon", "into": "body", "hole": "socket"}
    return {"parts": parts, "assembly": {"joints": [joint]}}
