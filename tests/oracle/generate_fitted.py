"""Pieces of logs and glued stacks, and pieces with threads, snap beads, undercuts, dovetails and captive rings.

Each has at least one such thing; the rest is as in `generate`. The same seed and number give the same piece.
"""

from __future__ import annotations

import random
from collections.abc import Callable

from tests.oracle.generate import ACROSS, Keys, Part

_WOODS = ["maple, sugar", "basswood, American"]


def fitted_piece(seed: int, number: int, *, steps: int = 2, cuts: int = 2) -> Keys:
    """The keys of a project.

    Args:
        seed: Of the whole run.
        number: Of the piece; a third begins as a piece of a log, a third as a stack.
        steps: At the most.
        cuts: In a step, at the most; what a cut goes into is made in a step before.
    """
    chance = random.Random(f"fitted/{seed}/{number}")
    made = _Fitted(chance, cuts)
    blank, keys = [made.log, made.stack, made.plain][number % 3]()
    part: Keys = {"wood": chance.choice(_WOODS), "blank": blank}
    part["steps"] = [] if number % 3 == 0 and chance.random() < 0.5 else made.fitting()
    more = min(steps, chance.randint(0 if part["steps"] else 1, 2))
    part["steps"] += [made.step(len(part["steps"]) + index) for index in range(more)]
    profiles = keys.pop("profiles", {}) | made.profiles
    return ({"profiles": profiles} if profiles else {}) | keys | {"parts": {"piece": part}}


class _Fitted(Part):
    """One part on its way, begun as what is newer."""

    def __init__(self, chance: random.Random, cuts: int) -> None:
        super().__init__(chance, cuts)
        self.across = chance.choice(ACROSS)

    def log(self) -> tuple[Keys, Keys]:
        """Half a log, a quarter, or a whole section, with its bark at the left end."""
        word = self.chance.choice(["half log", "quarter log", "log"])
        size = {"half log": 1.0, "quarter log": 1.4, "log": 1.0}[word] * self.across
        blank: Keys = {word: self.said(size), "long": self.said(self.unit * self.chance.randint(36, 60))}
        face = 0.0
        if self.chance.random() < 0.6:
            blank["bark"] = self.mm(1, 4)
        if word != "log" and self.chance.random() < 0.5:
            blank["kerf"] = self.mm(1, 4)
            face += float(blank["kerf"].removesuffix(" mm")) / 2
        if word != "log" and self.chance.random() < 0.5:
            blank["saw line"] = self.mm(1, 4)
            face += float(blank["saw line"].removesuffix(" mm"))
        if self.chance.random() < 0.5:
            blank["sawn round"] = self.mm(30, 46)
        if self.chance.random() < 0.3:
            blank |= {"pith": self.mm(1, 4), "pith angle": f"{self.chance.choice([0, 90, 180, 270])} deg"}
        high = {"half log": size / 2 - face, "quarter log": size / 2 - 1.41421 * face, "log": size}[word]
        self.low, self.high = 0.0, high
        return blank, {}

    def stack(self) -> tuple[Keys, Keys]:
        """Rings and disks one on another, of sizes that are said."""
        courses: list[Keys] = []
        wide = self.chance.randint(38, 48)
        long = 0.0
        for index in range(self.chance.randint(2, 4)):
            high = self.unit * self.chance.randint(6, 14)
            across = self.said(self.unit * (wide - self.chance.choice([0, 0, 2, 4])))
            if index == 0 and self.chance.random() < 0.6:
                courses.append({"disk": {"high": self.said(high), "across": across}})
            else:
                keys = {"segments": self.chance.choice([6, 8, 12]), "high": self.said(high), "across": across}
                courses.append({"ring": keys | {"inside": self.said(self.unit * self.chance.randint(14, 26))}})
            long += high
        self.low, self.high = 0.0, long
        side = {
            "says": "The outside",
            "along": [{"fillet": {"diameter": self.said(self.unit * 30), "long": self.said(long)}}],
        }
        stack = {"says": "The courses", "outside": "side", "courses": courses}
        return {"stack": "courses"}, {"profiles": {"side": side}, "stacks": {"courses": stack}}

    def plain(self) -> tuple[Keys, Keys]:
        """A round or a square, for the cuts alone."""
        self.low, self.high = 0.0, self.long
        return {self.chance.choice(["round", "square"]): self.said(self.across), "long": self.said(self.long)}, {}

    def fitting(self) -> list[Keys]:
        """A step that makes a tenon or a hole, and one that fits it; or a ring cut free."""
        ways: list[Callable[[], list[Keys]]] = [self._in_hole, self._on_tenon, self._ring, self._dovetail]
        hold = self.chance.choice(
            [{"by": ["chuck"], "deep": self.mm(4, 10)}, {"by": ["faceplate"], "diameter": self.mm(16, 34)}]
        )
        cuts = self.chance.choices(ways, [5, 3, 3, 1.5])[0]()
        return [{"name": "Fit it", "say": "Do it.", "hold": hold, "cut": cuts}]

    def _in_hole(self) -> list[Keys]:
        across = self.chance.randint(14, 34)
        deep = self.chance.randint(8, 18)
        kind = self.chance.choice(["bore", "recess"])
        hole = self._name(kind)
        self.sunk[hole] = "right"
        if kind == "bore":
            self.bores.append(hole)
        size = {"diameter": self.said(across * self.unit), "deep": self.said(deep * self.unit), "end": "right"}
        first: Keys = {kind: {"name": hole, **size}}
        word = self.chance.choice(["inside thread", "inside groove", "inside cove", "undercut"])
        keys: Keys = {"name": self._name(word.replace(" ", "-")), "hole": hole}
        if word == "inside thread":
            keys |= self._thread(deep)
        else:
            wide = self.chance.randint(3, max(3, deep // 2))
            low = 0 if word == "undercut" else (wide + 1) // 2
            at = self.chance.randint(low + 1, max(low + 1, deep - wide))
            keys |= {"at": self.said(at * self.unit), "wide": self.said(wide * self.unit)}
            keys["deep"] = self.said(min(self.chance.choice([1, 1.5, 2, 3, 4]), wide / 2) * self.unit)
        if self.chance.random() < 0.2:
            keys["meets"] = ["the outside"]
        return [first, {word: keys}]

    def _thread(self, long: float) -> Keys:
        pitch = self.unit * self.chance.choice([2, 3, 4, 6])
        keys: Keys = {"pitch": self.said(pitch)}
        if self.chance.random() < 0.3:
            keys["depth"] = self.said(pitch * self.chance.choice([0.4, 0.5, 0.6]))
        if self.chance.random() < 0.4:
            keys["relief"] = self.said(min(2.0, long / 4) * self.unit)
        return keys

    def _on_tenon(self) -> list[Keys]:
        across, long = self.chance.randint(14, 40), self.chance.randint(8, 16)
        name = self._name("tenon")
        self.tenons[name] = "right"
        tenon = {"diameter": self.said(across * self.unit), "long": self.said(long * self.unit), "end": "right"}
        cuts: list[Keys] = [{"tenon": {"name": name, **tenon}}]
        if self.chance.random() < 0.6:
            # A hole within it, so that its wall is thin sometimes.
            within = self.said((across - self.chance.randint(3, 10)) * self.unit)
            bore = self._name("bore")
            self.bores.append(bore)
            self.sunk[bore] = "right"
            cuts.insert(0, {"bore": {"name": bore, "diameter": within, "deep": self.mm(6, 20), "end": "right"}})
        if self.chance.random() < 0.6:
            cuts.append({"outside thread": {"name": self._name("thread"), "tenon": name, **self._thread(long)}})
        else:
            wide = self.chance.randint(2, 4)
            at = self.chance.uniform(wide / 2, long - wide / 2)
            bead = {"at": self.said(at * self.unit), "wide": self.said(wide * self.unit)}
            bead["stands"] = self.said(self.unit * self.chance.choice([0.25, 0.5, 1, 2]))
            cuts.append({"snap bead": {"name": self._name("bead"), "tenon": name, **bead}})
        return cuts

    def _ring(self) -> list[Keys]:
        across = self.chance.randint(24, 38)
        bore = across - self.chance.randint(6, 10)
        stem = bore - self.chance.choice([1, 2, 3, 4, 6])
        middle = (self.low + self.high) / 2 / self.unit
        wide = self.chance.randint(3, 6)
        turned = {"name": self._name("cylinder"), "diameter": self.said(across * self.unit)}
        ring = {
            "name": self._name("loop"), "at": self.said(round(middle) * self.unit), "wide": self.said(wide * self.unit),
            "diameter": self.said(across * self.unit), "bore": self.said(bore * self.unit),
            "stem": self.said(stem * self.unit), "room": self.said(self.chance.choice([0.5, 1, 2, 3]) * self.unit),
        }  # fmt: skip
        cuts: list[Keys] = [{"cylinder": turned}, {"captive ring": ring}]
        if self.chance.random() < 0.3:
            # The wood on one side of it made thinner, so that it comes off.
            thin = {"name": self._name("thin"), "diameter": self.said((stem + self.chance.randint(0, 6)) * self.unit)}
            cuts.append({"cylinder": thin | {"start": self.said(round(middle + wide) * self.unit)}})
        return cuts

    def _dovetail(self) -> list[Keys]:
        angle = f"{self.chance.choice([5, 8, 10, 15])} deg"
        if self.chance.random() < 0.5:
            name = self._name("tenon")
            self.tenons[name] = "right"
            keys = {"diameter": self.mm(18, 36), "long": self.mm(4, 10)}
            return [{"tenon": {"name": name, **keys, "end": "right", "dovetail": angle}}]
        name = self._name("recess")
        self.sunk[name] = "right"
        keys = {"diameter": self.mm(16, 38), "deep": self.mm(3, 9)}
        return [{"recess": {"name": name, **keys, "end": "right", "dovetail": angle}}]
