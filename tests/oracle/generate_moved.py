"""Pieces whose wood moves or is held askew: green wood that dries, a lid turned on its box, a chuck off the axis, tubes
of staves with a groove, and a hold in a hollow.

The rest is as in `generate`. The same seed and number give the same piece.
"""

from __future__ import annotations

import random

from tests.oracle.generate import Keys, Part

KINDS = 5


def moved_piece(seed: int, number: int, *, steps: int = 3, cuts: int = 2) -> Keys:
    """The keys of a project.

    Args:
        seed: Of the whole run.
        number: Of the piece; each kind of the five has its turn.
        steps: At the most.
        cuts: In a step, at the most.
    """
    chance = random.Random(f"moved/{seed}/{number}")
    made = _Moved(chance, cuts)
    made.long = made.high = made.unit * chance.randint(44, 70)
    keys = [made.green, made.on_the_box, made.askew, made.staved, made.in_a_hollow][number % KINDS]()
    for part in keys["parts"].values():
        part["wood"] = "maple, sugar"
        part["steps"] = part["steps"][: steps + 1]
        for index, step in enumerate(part["steps"]):
            # A hold that several steps have is written out in each.
            step |= {"name": f"Step {index + 1}", "say": "Do it."} | (
                {"hold": dict(step["hold"])} if "hold" in step else {}
            )
            step["hold"]["by"] = list(step["hold"]["by"])
    return ({"profiles": made.profiles} if made.profiles else {}) | keys


class _Moved(Part):
    """One piece on its way."""

    def at(self, low: float, high: float) -> str:
        """A place or size that may lie anywhere."""
        return self.said(self.chance.uniform(low, high) * self.unit)

    def green(self) -> Keys:
        """Turned green, dried, and turned again."""
        tenon = {"name": "grip", "diameter": self.mm(24, 34), "long": self.mm(6, 10), "end": "left"}
        rough: list[Keys] = [{"tenon": tenon}]
        if self.chance.random() < 0.7:
            rough.append({"cylinder": {"name": "rough", "diameter": self.mm(40, 47), "start": self.mm(12, 20)}})
        hollow = {"name": "well", "diameter": self.mm(14, 30), "deep": self.mm(16, 40), "end": "right"}
        kind = self.chance.choice(["bore", "recess"])
        first: list[Keys] = [{"by": ["between centers"]}, {"by": ["chuck"], "on": "grip"}]
        steps: list[Keys] = [{"hold": first[0], "cut": rough}, {"hold": first[1], "cut": [{kind: hollow}]}]
        dry: Keys = {"hold": {"by": ["hand"]}, "work": ["drying"]}
        again: list[Keys] = []
        for _ in range(self.chance.randint(1, 2)):
            word = self.chance.choice(["cylinder", "bore", "groove", "recess"])
            keys: Keys = {"name": self._name(word)}
            if word == "cylinder":
                keys |= {"diameter": self.at(32, 46), "start": self.at(12, 30)}
            elif word == "groove":
                keys |= {"at": self.at(20, 36), "wide": self.mm(3, 8), "floor": self.at(10, 20)}
            else:
                keys |= {"diameter": self.at(12, 36), "deep": self.at(6, 44), "end": "right"}
            if word != "cylinder" and self.chance.random() < 0.5:
                keys["meets"] = ["well"]
            again.append({word: keys})
        steps += [dry, {"hold": {"by": ["chuck"], "on": "grip"}, "cut": again}]
        part: Keys = {"condition": ["green"], "blank": {"round": self.said(self.across), "long": self.said(self.long)}}
        if self.chance.random() < 0.6:
            part["grain"] = "across the axis"
        return {"parts": {"piece": part | {"steps": steps}}}

    def on_the_box(self) -> Keys:
        """A lid that is parted off, put on what is left of its blank, and turned there."""
        tenon = {"diameter": self.said(30 * self.unit), "long": self.said(6 * self.unit)}
        face, cut = self.unit * self.chance.randint(22, 28), 3 * self.unit
        rim = face + 6 * self.unit + cut
        seat = self.chance.randint(32, 42)
        recess = {"name": "seat", "diameter": self.said(seat * self.unit), "deep": self.mm(7, 9), "end": "left"}
        lid: list[Keys] = [
            {"hold": {"by": ["between centers"]}, "cut": [
                {"tenon": {"name": "foot", "end": "left", **tenon}},
                {"tenon": {"name": "knob", "end": "right", **tenon}},
            ]},
            {"hold": {"by": ["chuck"], "on": "knob"}, "cut": [
                {"part off": {"name": "apart", "at": self.said(rim), "keep": "right", "kerf": self.said(cut)}},
            ]},
            {"hold": {"by": ["chuck"], "on": "knob"}, "cut": [
                {"recess": recess},
            ]},
        ]  # fmt: skip
        spigot = {"name": "spigot", "diameter": self.said(seat * self.unit), "long": self.said(6 * self.unit)}
        on_it: list[Keys] = []
        for _ in range(self.chance.randint(1, 2)):
            if self.chance.random() < 0.6:
                at = self.said(face + self.unit * self.chance.uniform(-8, 10))
                keys = {"name": self._name("line"), "at": at, "wide": self.mm(2, 5), "floor": self.at(15, 23)}
                on_it.append({"groove": keys})
            else:
                keys = {"name": self._name("side"), "diameter": self.at(40, 47), "start": self.said(8 * self.unit)}
                on_it.append({"cylinder": keys})
        well = {"name": "well", "diameter": self.at(16, seat - 3), "deep": self.at(10, 22), "end": "right"}
        box: list[Keys] = [
            {"hold": {"by": ["chuck"], "on": "foot"}, "cut": [{"tenon": {**spigot, "end": "right"}}, {"bore": well}]},
            {"hold": {"by": ["chuck"], "on": "foot", "tailstock": True, "put on": "lid"}, "cut": on_it},
        ]  # fmt: skip
        blank = {"round": self.said(self.across), "long": self.said(max(self.long, rim + 20 * self.unit))}
        return {
            "parts": {
                "lid": {"blank": blank, "steps": lid},
                "box": {"blank": blank | {"long": self.said(rim - cut)}, "falls off": "lid", "steps": box},
            },
            "assembly": {"joints": [{"put": "box", "tenon": "spigot", "into": "lid", "hole": "seat"}], "up": "right"},
        }  # fmt: skip

    def askew(self) -> Keys:
        """A neck turned about a line beside the axis, or one that leans from it, in the chuck."""
        hold: Keys = {"by": ["chuck"], "on": "grip", "tailstock": True}
        if self.chance.random() < 0.7:
            hold["tilt"] = f"{self.chance.choice([2, 4, 6, -3])} deg"
        if self.chance.random() < 0.6 or "tilt" not in hold:
            hold |= {"offset": self.mm(1, 5), "angle": f"{self.chance.choice([0, 90, 210])} deg"}
        end = self.chance.choice(["left", "right"])
        tenon = {"name": "grip", "diameter": self.mm(26, 36), "long": self.mm(6, 10), "end": end}
        other = "right" if end == "left" else "left"
        span = {"start": self.at(26, 34)} if end == "left" else {"end": self.said(self.long - self.unit * 28)}
        cuts: list[Keys] = [{"cylinder": {"name": "neck", "diameter": self.at(14, 30), **span}}]
        bore = {"bore": {"name": "hole", "diameter": self.at(6, 16), "deep": self.at(10, 34), "end": other}}
        steps: list[Keys] = [
            {"hold": {"by": ["between centers"]}, "cut": [{"tenon": tenon}]},
            {"hold": hold, "cut": cuts}, {"hold": hold | {"tailstock": False}, "cut": [bore]},
        ]  # fmt: skip
        if self.chance.random() < 0.4:
            steps[1:] = steps[:0:-1]
        blank = {"round": self.said(self.across), "long": self.said(self.long)}
        return {"parts": {"piece": {"blank": blank, "steps": steps}}}

    def staved(self) -> Keys:
        """A tube of staves, straight or tapered, with a groove for its base, and its outside turned."""
        inside = self.chance.randint(22, 34)
        blank: Keys = {
            "staves": self.chance.choice([6, 8, 10]), "across": self.said(self.across),
            "inside": self.said(inside * self.unit), "long": self.said(self.long),
        }  # fmt: skip
        grows = self.chance.choice([0, 6, 12, -6])
        if grows:
            blank["across right"] = self.said(self.across + grows * self.unit)
        groove = {"at": self.mm(5, 12), "wide": self.mm(3, 6), "deep": self.at(1, (48 - inside) / 2 - 1)}
        hold: Keys = {"by": ["jam chuck"], "on": "opening", "deep": self.mm(2, 5), "tailstock": True}
        hold["tail"] = self.said(self.across)
        taper = {"from": self.at(40, 47), "to": self.said((46 + grows) * self.unit), "long": self.said(self.long)}
        self.profiles["side"] = {"says": "The side", "along": [{"taper": taper}]}
        steps: list[Keys] = [
            {"hold": {"by": ["bench"]}, "cut": [{"stave groove": {"name": "base groove", **groove}}]},
            {"hold": hold, "cut": [{"profile": {"name": "outside", "shape": "side", "at": "0 mm"}}]},
        ]  # fmt: skip
        if self.chance.random() < 0.5:
            line = {"name": "line", "at": self.at(6, 30), "wide": self.mm(2, 5), "floor": self.at(inside / 2 + 1, 22)}
            steps.append({"hold": hold, "cut": [{"groove": line}]})
        return {"parts": {"piece": {"blank": blank, "steps": steps}}}

    def in_a_hollow(self) -> Keys:
        """Hollowed by its outline, and turned over to be held in it."""
        inner = [self.chance.uniform(12, 20), self.chance.uniform(14, 22)]
        deep = self.unit * self.chance.randint(18, 32)
        taper = {
            "from": self.said(inner[0] * self.unit),
            "to": self.said(inner[1] * self.unit),
            "long": self.said(deep),
        }
        taper = {key: value if key == "long" else self.said(2 * float(value[:-3])) for key, value in taper.items()}
        self.profiles["bowl"] = {"says": "The inside", "along": [{"taper": taper}]}
        tenon = {"name": "grip", "diameter": self.mm(20, 30), "long": self.mm(6, 10), "end": "left"}
        hollow = {"name": "inside", "shape": "bowl", "end": "right", "at": self.said(self.long - deep)}
        foot: list[Keys] = [{"part off": {"name": "cut down", "at": self.mm(5, 12), "keep": "right"}}]
        if self.chance.random() < 0.7:
            size = {"diameter": self.at(8, 24), "deep": self.at(1, 16), "end": "left"}
            foot.append({"recess": {"name": "foot", **size, "tailstock away": True}})
        steps: list[Keys] = [
            {"hold": {"by": ["between centers"]}, "cut": [{"tenon": tenon}]},
            {"hold": {"by": ["chuck"], "on": "grip"}, "cut": [{"hollow": hollow}]},
            {"hold": {"by": ["jam chuck"], "on": "inside", "tailstock": True}, "cut": foot},
        ]  # fmt: skip
        blank = {"round": self.said(self.across), "long": self.said(self.long)}
        return {"parts": {"piece": {"blank": blank, "steps": steps}}}
