"""Pieces with flutes, slots and flats around: straight sides, tapers, bores behind them, and too deep or too many.

The rest is as in `generate`. The same seed and number give the same piece.
"""

from __future__ import annotations

import random

from tests.oracle.generate import Keys, Part

_COUNTS = [1, 2, 3, 4, 6, 8, 12]


def carved_piece(seed: int, number: int, *, steps: int = 3, cuts: int = 2) -> Keys:
    """The keys of a project.

    Args:
        seed: Of the whole run.
        number: Of the piece; a half are bored before they are carved, a quarter after.
        steps: At the most.
        cuts: Of those that are carved, at the most.
    """
    chance = random.Random(f"carved/{seed}/{number}")
    made = _Carved(chance, cuts)
    made.long = made.unit * chance.randint(40, 70)
    made.high = made.long
    blank = {chance.choice(["round", "round", "square"]): made.said(made.across), "long": made.said(made.long)}
    turned = {"name": "Turn it", "say": "Do it.", "hold": {"by": ["between centers"]}, "cut": [made.side()]}
    bored = {"name": "Bore it", "say": "Do it.", "hold": {"by": ["faceplate"], "diameter": made.mm(10, 16)}}
    bored["cut"] = [made.hole()]
    still = {"name": "Carve it", "say": "Do it.", "hold": {"by": ["bench"]}}
    still["cut"] = [made.carving() for _ in range(chance.randint(1, cuts))]
    order = [[turned, still], [turned, bored, still], [bored, still], [turned, still, bored]][number % 4]
    part: Keys = {"wood": chance.choice(["maple, sugar", "basswood, American"]), "blank": blank}
    part["steps"] = order[:steps]
    return ({"profiles": made.profiles} if made.profiles else {}) | {"parts": {"piece": part}}


class _Carved(Part):
    """One part on its way."""

    def side(self) -> Keys:
        """A straight side, or a taper from end to end."""
        if self.chance.random() < 0.6:
            return {"cylinder": {"name": self._name("side"), "diameter": self.mm(30, 46)}}
        taper = {"from": self.mm(26, 46), "to": self.mm(26, 46), "long": self.said(self.long)}
        self.profiles["side"] = {"says": "The side", "along": [{"taper": taper}]}
        return {"profile": {"name": self._name("taper"), "shape": "side", "at": "0 mm"}}

    def hole(self) -> Keys:
        """A hole from the end that is free."""
        keys = {"name": self._name("bore"), "diameter": self.mm(10, 32), "end": "right"}
        return {"bore": keys | {"deep": self.said(self.long * self.chance.uniform(0.3, 0.85))}}

    def carving(self) -> Keys:
        """Flutes, slots or flats."""
        count = self.chance.choice(_COUNTS)
        first = f"{self.chance.choice([0, 15, 30])} deg"
        kind = self.chance.choice(["flutes", "flutes", "flutes", "slots", "flat"])
        low = self.chance.randint(4, 12) * self.unit
        high = self.long - self.chance.randint(4, 12) * self.unit
        if kind == "flat":
            keys = {"distance": self.mm(9, 20), "count": count, "angle": first}
            return {"flat": {"name": self._name("flat"), **keys, "start": self.said(low), "end": self.said(high)}}
        keys = {"name": self._name(kind), "count": count, "first": first}
        if kind == "slots":
            long = self.unit * self.chance.randint(8, 20)
            keys |= {"at": self.said((low + high) / 2), "long": self.said(long), "wide": self.mm(3, 7)}
            keys |= {"deep": self.mm(3, 14), "outline": self.chance.choice(["straight", "oval"])}
            return {"slots": self._meets(keys)}
        keys |= {"diameter": self.mm(5, 12), "deep": self.mm(2, 6), "bottom": self.chance.choice(["round", "vee"])}
        if self.chance.random() < 0.8:
            keys["start"] = self.said(low)
        if self.chance.random() < 0.8:
            keys["end"] = self.said(high)
        if self.chance.random() < 0.3:
            keys |= {"pitch": self.said(self.long * self.chance.uniform(1, 4)), "left hand": self.chance.random() < 0.5}
        return {"flutes": self._meets(keys)}
