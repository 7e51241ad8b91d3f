"""What holds a part, as the workpiece takes it.

This module owns which of the workpiece's holds each of the author's words stands for,
and which keys go with it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any

from handouts_build import workpiece as kernel
from handouts_build.compute.names import Ledger, Unsettled
from handouts_build.schema import Key

__all__ = ["holds_of"]

Number = Callable[[Any, Key, str, str], Any]
"""What a key comes to: what was said, its place, the workpiece's field, how a message calls it."""

_CENTERS = frozenset({"between centers", "friction drive", "off-axis centers", "mandrel"})
_CLOSING = frozenset({"chuck", "wide jaws", "collet", "drill chuck"})
_FACE = frozenset({"faceplate", "glue block", "double-sided tape", "hot-melt glue"})

_ALWAYS = frozenset({"by", "says", "tailstock", "from_", "reversed"})


class _Hold:
    """One hold on its way to the workpiece."""

    def __init__(self, said: Any, key: Key, number: Number, ledger: Ledger) -> None:
        self.said, self.key, self.number, self.ledger = said, key, number, ledger
        # Of a block glued on and held in a chuck, it is the block that bears on the wood. A steady only helps.
        holding = [one for one in said.by if one != "steady rest"] or ["steady rest"]
        self.word = next((one for one in holding if one in _FACE), holding[0])
        self.tailstock = bool(said.tailstock)

    def value(self, name: str, *, unit: str = "mm") -> Any:
        """What a key comes to; None if it is not given."""
        said = getattr(self.said, name)
        word = name.strip("_").replace("_", " ")
        return None if said is None else self.number(said, (*self.key, word), f"x_{unit}", f"the hold's {word}")

    def uses(self, *names: str) -> None:
        """Refuse keys that mean nothing with this kind of hold.

        Raises:
            Unsettled: After noting them.
        """
        wrong = [
            name
            for name in type(self.said).model_fields
            if name in self.said.model_fields_set and name not in _ALWAYS and name not in names
        ]
        for name in wrong:
            word = name.strip("_").replace("_", " ")
            known = ", ".join(f"'{one.strip('_').replace('_', ' ')}'" for one in names)
            self.ledger.note(
                (*self.key, word), f"'{word}' says nothing about a hold by {self.word}", f"it takes {known}"
            )
        if wrong:
            raise Unsettled

    def datum(self) -> kernel.Datum:
        """Where places are measured from."""
        return kernel.Datum(self.value("from_") or 0.0, self.said.reversed)

    def end(self) -> kernel.End:
        """The end that is held."""
        return kernel.End.RIGHT if self.said.end == "right" else kernel.End.LEFT

    def all(self) -> Iterator[kernel.Hold]:
        """The hold, or several over which the cuts are repeated."""
        if self.word in _CENTERS:
            yield from self._centers()
        elif self.word in ("hand", "bench", "steady rest"):
            self.uses("on")
            yield kernel.InHand() if self.word == "hand" else kernel.Jig(on=self.said.on)
        elif self.word in _FACE or (self.word == "screw chuck" and self.said.on is None):
            self.uses("end", "diameter")
            yield kernel.Faceplate(
                end=self.end(), diameter_mm=self.value("diameter"), tailstock=self.tailstock, datum=self.datum()
            )
        elif self.word == "screw chuck":
            self.uses("on")
            yield kernel.ScrewChuck(hole=self.said.on, tailstock=self.tailstock, datum=self.datum())
        else:
            yield self._gripped()

    def _centers(self) -> Iterator[kernel.Hold]:
        if self.said.in_:
            self.uses("in_", "drive")
            for first, second in self.said.in_:
                yield kernel.BetweenHoles(first=first, second=second, drive_mm=self.value("drive"), datum=self.datum())
            return
        self.uses("drive", "offset", "angle", "right_offset", "right_angle")
        offset = self.value("offset")
        if offset is None:
            self.uses("drive")
            yield kernel.BetweenCenters(drive_mm=self.value("drive"), datum=self.datum())
            return
        for index, said in enumerate(self.said.angle or [None]):
            key = (*self.key, "angle", index)
            yield kernel.OffsetCenters(
                offset_mm=offset,
                angle_deg=0.0 if said is None else self.number(said, key, "x_deg", "the hold's angle"),
                right_offset_mm=self.value("right_offset"),
                right_angle_deg=self.value("right_angle", unit="deg"),
                drive_mm=self.value("drive"),
                datum=self.datum(),
            )

    def _gripped(self) -> kernel.Hold:
        on = self.said.on
        if self.word in _CLOSING and on is not None:
            self.uses("on", "jaws")
            return kernel.JawsOnTenon(tenon=on, jaws=self.said.jaws, tailstock=self.tailstock, datum=self.datum())
        if self.word == "chuck opening out":
            self.uses("on", "jaws")
            if on is None:
                self.ledger.note(
                    self.key, "the jaws open into nothing", "name the recess: {by: [chuck opening out], on: recess}"
                )
                raise Unsettled
            return kernel.JawsInRecess(recess=on, jaws=self.said.jaws, tailstock=self.tailstock, datum=self.datum())
        if self.word in _CLOSING:
            self.uses("end", "deep", "jaws")
            return kernel.JawsOnBlank(
                end=self.end(), deep_mm=self.value("deep"), jaws=self.said.jaws,
                tailstock=self.tailstock, datum=self.datum(),
            )  # fmt: skip
        self.uses("on", "end", "deep")
        return kernel.JamChuck(
            on=on, end=self.end(), deep_mm=self.value("deep") or 0.0, tailstock=self.tailstock, datum=self.datum()
        )


def holds_of(said: Any, key: Key, number: Number, ledger: Ledger) -> tuple[kernel.Hold, ...] | None:
    """A step's holds; None after noting what is wrong with them.

    Args:
        said: The hold's model.
        key: Where it stands.
        number: Gives keys their numbers.
        ledger: Takes note of problems.
    """
    try:
        # Alone it holds nothing.
        steadied = "steady rest" in said.by and len(said.by) > 1
        return tuple(replace(hold, steadied=steadied) for hold in _Hold(said, key, number, ledger).all())
    except Unsettled:
        return None
