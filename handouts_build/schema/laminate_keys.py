"""The keys of a laminate: boards glued face to face into one block.

This module owns these keys alone. What follows from them is for `compute.laminates`.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from handouts_build.schema.fields import FormulaField, Label
from handouts_build.schema.known_keys import Keys
from handouts_build.schema.known_keys import key as _key
from handouts_build.schema.known_keys import required as _required

__all__ = ["LaminateKeys", "LayerKeys"]


class LayerKeys(Keys):
    """One board of a laminate, or several alike one on another."""

    thick: FormulaField = _required("How thick it is, planed.", "3/4 in")
    wood: Label | None = _key("The wood it is of; the part's own if not given.", example="walnut, black")
    count: FormulaField | None = _key("How many alike, one on another; 1 if not given.", example="3")


class LaminateKeys(Keys):
    """A block of boards glued face to face, to be turned along them, across them, or leaning."""

    says: Label = _required("What it is.", "The glued-up block")
    wide: FormulaField = _required("Width of every board, as the block is glued.", "3 in")
    boards: Annotated[list[LayerKeys], Field(min_length=1, max_length=60)] = _required(
        "The boards in order through its thickness.", "[{thick: 3/4 in}, {thick: 1/8 in, wood: maple}]"
    )
