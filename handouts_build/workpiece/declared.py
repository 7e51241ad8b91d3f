"""How a kind of blank, cut, mark or hold is declared: once, with all that others need to know of it.

A kind is a frozen dataclass. Each field that an author may give is made by one of the
functions here, which say the author's word for it, what it is for, what it may hold and
whether it must be there. The project file's models and its JSON schema, the reference,
the way from a file to the workpiece, and the bounds that the workpiece keeps all follow
from that. It has never heard of pydantic or YAML.
"""

from __future__ import annotations

import dataclasses
import enum
import functools
import inspect
from dataclasses import dataclass
from typing import Any

from handouts_build.workpiece.faults import positive, within

__all__ = [
    "DeclaredKey", "KeyKind", "angle", "angles", "choice", "count", "flag", "keep_bounds", "keys_of", "length",
    "outline", "own_name", "pair", "summary_of", "thing", "things",
]  # fmt: skip

_KEY = "key"


class KeyKind(enum.Enum):
    """What a key holds."""

    LENGTH = "length"
    """A formula that comes to a length; the field is in millimetres."""
    ANGLE = "angle"
    """A formula that comes to an angle; the field is in degrees."""
    ANGLES = "angles"
    """One angle or several, over which a hold is repeated; the field is one of them, in degrees."""
    COUNT = "count"
    """A formula that comes to a whole number."""
    CHOICE = "choice"
    """One word of a few; the field is an enumeration."""
    FLAG = "flag"
    """Yes or no."""
    OWN_NAME = "own name"
    """What the author calls the thing itself."""
    THING = "thing"
    """The name of something else: a hole, a tenon, a set of jaws."""
    THINGS = "things"
    """Names of several."""
    PAIR = "pair"
    """Two names, or several pairs over which a hold is repeated; the field is one pair."""
    OUTLINE = "outline"
    """A profile, by its name; the field is its points, (place, radius) in millimetres."""


@dataclass(frozen=True)
class DeclaredKey:
    """A key that an author may give, and the field that it fills."""

    field: str
    word: str
    """As the file has it."""
    kind: KeyKind
    says: str
    """What it is for, as the reference has it."""
    example: str
    needed: bool
    default: Any
    """Of the field, where the key is not given."""
    choices: type[enum.Enum] | None
    noun: str
    """What a refusal calls it."""
    above_nought: bool
    """Whether it must be more than nought."""
    second: str
    """The other field that it fills: the second name of a pair, the tenons of a profile; or none."""

    def called(self, kind: str) -> str:
        """How a message names it: the cylinder's diameter, the holes' count."""
        plural = kind.endswith("s") and not kind.endswith("ss")
        return f"the {kind}'{'' if plural else 's'} {self.noun}"


def _key(
    kind: KeyKind, says: str, *, word: str = "", example: str = "", default: object = dataclasses.MISSING,
    choices: type[enum.Enum] | None = None, noun: str = "", above_nought: bool = False,
    second: str = "",
) -> Any:  # fmt: skip
    entry = (kind, says, word, example, choices, noun, above_nought, second)
    return dataclasses.field(default=default, metadata={_KEY: entry})


def length(
    says: str, *, example: str = "", default: object = dataclasses.MISSING, word: str = "", noun: str = "",
    above_nought: bool = False,
) -> Any:  # fmt: skip
    """A key that is a length.

    Args:
        says: What it is for.
        example: Of what an author writes.
        default: Of the field, mm; without one the key must be there.
        word: The author's, where it is not the field's name without its unit.
        noun: What a refusal calls it, where that is not the word.
        above_nought: Whether it must be more than nought.
    """
    return _key(KeyKind.LENGTH, says, example=example, default=default, word=word, noun=noun, above_nought=above_nought)


def angle(says: str, *, example: str = "", default: object = dataclasses.MISSING, word: str = "") -> Any:
    """A key that is an angle.

    Args:
        says: What it is for.
        example: Of what an author writes.
        default: Of the field, degrees; without one the key must be there.
        word: The author's, where it is not the field's name without its unit.
    """
    return _key(KeyKind.ANGLE, says, example=example, default=default, word=word)


def angles(says: str, *, example: str = "", default: object = dataclasses.MISSING) -> Any:
    """A key that is one angle, or several over which a hold is repeated.

    Args:
        says: What it is for.
        example: Of what an author writes.
        default: Of the field, degrees; without one the key must be there.
    """
    return _key(KeyKind.ANGLES, says, example=example, default=default)


def count(says: str, *, example: str = "", default: object = dataclasses.MISSING, word: str = "") -> Any:
    """A key that is a whole number.

    Args:
        says: What it is for.
        example: Of what an author writes.
        default: Of the field; without one the key must be there.
        word: What an author calls it, where that is not the name of the field.
    """
    return _key(KeyKind.COUNT, says, example=example, default=default, word=word)


def choice(says: str, of: type[enum.Enum], *, example: str = "", default: object = dataclasses.MISSING) -> Any:
    """A key that is one word of a few.

    Args:
        says: What it is for.
        of: The enumeration whose values the words are.
        example: Of what an author writes.
        default: Of the field; without one the key must be there.
    """
    return _key(KeyKind.CHOICE, says, example=example, default=default, choices=of)


def flag(says: str, *, example: str = "", default: object = False) -> Any:
    """A key that is yes or no.

    Args:
        says: What it is for.
        example: Of what an author writes.
        default: Of the field, where the key is not given.
    """
    return _key(KeyKind.FLAG, says, example=example, default=default)


def own_name(says: str, *, example: str = "") -> Any:
    """The key by which the author names the thing itself; the field always has a name.

    Args:
        says: What it is for.
        example: Of what an author writes.
    """
    return _key(KeyKind.OWN_NAME, says, example=example)


def thing(says: str, *, example: str = "", default: object = dataclasses.MISSING, word: str = "") -> Any:
    """A key that names something else.

    Args:
        says: What it is for.
        example: Of what an author writes.
        default: Of the field; without one the key must be there.
        word: The author's, where it is not the field's name without its unit.
    """
    return _key(KeyKind.THING, says, example=example, default=default, word=word)


def things(says: str, *, example: str = "") -> Any:
    """A key that names several things, or none.

    Args:
        says: What it is for.
        example: Of what an author writes.
    """
    return _key(KeyKind.THINGS, says, example=example, default=())


def pair(says: str, *, word: str, second: str, example: str = "") -> Any:
    """A key that names two things, or several pairs over which a hold is repeated.

    Args:
        says: What it is for.
        word: The author's.
        second: The field that gets the second name; the declared field gets the first.
        example: Of what an author writes.
    """
    return _key(KeyKind.PAIR, says, word=word, second=second, example=example)


def outline(
    says: str, *, example: str = "", default: object = dataclasses.MISSING, word: str = "", tenons: str = ""
) -> Any:
    """A key that names a profile.

    Args:
        says: What it is for.
        example: Of what an author writes.
        default: Of the field, points of place and radius, mm; without one the key must be there.
        word: The author's, where it is not the field's name without its unit.
        tenons: The field that gets the profile's own tenons, if one does.
    """
    return _key(KeyKind.OUTLINE, says, example=example, default=default, word=word, second=tenons)


def keys_of(kind: type) -> tuple[DeclaredKey, ...]:
    """The keys that a kind takes, in the order of its fields."""
    return _keys_of(kind)


@functools.cache
def _keys_of(kind: type) -> tuple[DeclaredKey, ...]:
    found = []
    for field in dataclasses.fields(kind):
        if _KEY not in field.metadata:
            continue
        key_kind, says, word, example, choices, noun, above_nought, second = field.metadata[_KEY]
        word = word or field.name.removesuffix("_mm").removesuffix("_deg").replace("_", " ")
        needed = field.default is dataclasses.MISSING and key_kind is not KeyKind.OWN_NAME
        known = (field.name, word, key_kind, says, example, needed, field.default, choices, noun or word)
        found.append(DeclaredKey(*known, above_nought, second))
    return tuple(found)


def summary_of(kind: type) -> str:
    """What a kind is, as the reference has it: its docstring."""
    return " ".join((inspect.getdoc(kind) or "").split())


def keep_bounds(declared: object, kind: str) -> None:
    """Refuse lengths and angles that are no number, too large, or nought where they must be more.

    Args:
        declared: A blank, a cut or another thing that was declared.
        kind: What a message calls it.

    Raises:
        WorkpieceFault: With the first that is out of bounds.
    """
    for key in keys_of(type(declared)):
        value = getattr(declared, key.field)
        if value is None or key.kind not in (KeyKind.LENGTH, KeyKind.ANGLE):
            continue
        (positive if key.above_nought else within)(value, key.called(kind))
