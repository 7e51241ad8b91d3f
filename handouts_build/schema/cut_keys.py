"""The keys of blanks, cuts, marks and holds, made from what the workpiece declares.

This module owns how a declared key is read from a file: which value it may hold there,
and what says so in the editor's schema. Which kinds there are, their words and what each
key is for stand with the kinds themselves (`workpiece.kinds`, `workpiece.holds`,
`workpiece.blanks`). What a
length comes to, and whether the wood allows it, is for others.
"""

from __future__ import annotations

import itertools
import keyword
from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, Literal, TypeAlias, Union

from pydantic import BeforeValidator, ConfigDict, Field, PlainValidator, WithJsonSchema, create_model, model_validator

from handouts_build.schema.fields import AuthorName, Formula, FormulaField, Label, Line, OneOf, fault
from handouts_build.schema.known_keys import Keys, key, required, spaced
from handouts_build.schema.snippets import example_of, hold_snippets, item_snippets
from handouts_build.workpiece import BLANKS, CUTS, HOLDS, MARKS, BaseBlank, Code
from handouts_build.workpiece.declared import DeclaredKey, KeyKind, keys_of, summary_of

__all__ = [
    "ACCEPTED",
    "HOLD_WORDS",
    "BlankKeys",
    "CutItem",
    "DeclaredKeys",
    "HoldKeys",
    "MarkItem",
    "OneKind",
    "Written",
]

ACCEPTED = tuple(code.value for code in Code if code.acceptable)
"""Findings that an author may accept with a reason."""

Written: TypeAlias = Formula | str | bool | list[Formula] | list[str] | list[list[str]]
"""What may stand under a declared key."""


def _pairs(value: object) -> list[list[str]]:
    """One pair of holes or several, as a list of pairs."""
    pairs: list[object] = [value]
    if isinstance(value, list) and all(isinstance(pair, list) for pair in value):
        pairs = value
    for pair in pairs:
        if not (isinstance(pair, list) and len(pair) == 2 and all(isinstance(name, str) for name in pair)):
            fault(
                "two holes are due here, or several pairs",
                "write [hole 1, hole 3], or [[hole 1, hole 3], [hole 2, hole 4]]",
            )
    return [[" ".join(name.split()) for name in pair] for pair in pairs if isinstance(pair, list)]


def _several(value: object) -> list[object]:
    """One value or several, as a list."""
    return value if isinstance(value, list) else [value]


_PAIR = {"type": "array", "items": {"type": "string"}, "minItems": 2, "maxItems": 2}
_ANGLE = {"type": ["string", "number"]}

Pairs = Annotated[
    list[list[str]],
    PlainValidator(_pairs),
    WithJsonSchema({"anyOf": [_PAIR, {"type": "array", "items": _PAIR, "minItems": 1, "maxItems": 24}]}),
]
Angles = Annotated[
    list[FormulaField],
    BeforeValidator(_several),
    Field(min_length=1, max_length=24),
    WithJsonSchema({"anyOf": [_ANGLE, {"type": "array", "items": _ANGLE, "minItems": 1, "maxItems": 24}]}),
]

_READ: Mapping[KeyKind, object] = {
    KeyKind.LENGTH: FormulaField,
    KeyKind.ANGLE: FormulaField,
    KeyKind.ANGLES: Angles,
    KeyKind.COUNT: FormulaField,
    KeyKind.FLAG: bool,
    KeyKind.OWN_NAME: Label,
    KeyKind.THING: Label,
    KeyKind.THINGS: list[Label],
    KeyKind.PAIR: Pairs,
    KeyKind.OUTLINE: AuthorName,
}
"""What each kind of key holds in a file; the words of a choice are its own."""


class DeclaredKeys(Keys):
    """The keys of one kind of cut or mark, or of all holds or blanks."""

    kind: ClassVar[type]
    """The workpiece's own, which declares them."""

    @model_validator(mode="after")
    def _together(self) -> DeclaredKeys:
        misfit = getattr(type(self).kind, "misfit", None)
        found = misfit(self.given()) if misfit is not None else None
        if found is not None:
            fault(*found)
        return self

    def written(self, word: str) -> Written | None:
        """What stands under one of its keys, by the author's word; None if it is not given."""
        found: Written | None = getattr(self, _python_name(word), None)
        return found

    def text(self, word: str) -> str | None:
        """The same where it is plain text, such as a name; None if it is none."""
        found = self.written(word)
        return found if isinstance(found, str) else None

    @classmethod
    def words(cls) -> tuple[str, ...]:
        """Its keys, as the file has them, in order."""
        return tuple(map(spaced, cls.model_fields))

    def given(self) -> frozenset[str]:
        """The author's words for the keys that are given."""
        return frozenset(spaced(name) for name in self.model_fields_set if getattr(self, name) is not None)


def _python_name(word: str) -> str:
    """What a model calls a key: `keep left` is `keep_left`, and Python's own words end in a stroke."""
    name = word.replace(" ", "_")
    return f"{name}_" if keyword.iskeyword(name) else name


def _field(declared: DeclaredKey, *, always: bool = False) -> tuple[Any, Any]:
    """A key as pydantic takes it: its type and its field; `always` keeps a default out of it."""
    held: Any = _READ.get(declared.kind)
    if declared.choices is not None:
        held = Literal[tuple(word.value for word in declared.choices)]
    says, example = declared.says, example_of(declared)
    if declared.needed and not always:
        return held, required(says, example)
    if always or declared.default is None or declared.kind not in (KeyKind.FLAG, KeyKind.THINGS, KeyKind.CHOICE):
        empty = () if declared.kind is KeyKind.PAIR else None
        return (held if declared.kind is KeyKind.PAIR else held | None), key(says, example=example, default=empty)
    default = declared.default.value if declared.choices is not None else declared.default
    return held, key(says, example=example, default=default)


def _model(kind: type, name: str) -> type[DeclaredKeys]:
    """The model of a kind's keys."""
    fields = {_python_name(declared.word): _field(declared) for declared in keys_of(kind)}
    made = create_model(name, __base__=DeclaredKeys, __doc__=summary_of(kind), **fields)  # type: ignore[call-overload]
    made.kind = kind
    return made  # type: ignore[no-any-return]


class OneKind(Keys):
    """A map that holds exactly one of its keys: the kind of a cut or a mark."""

    what: ClassVar[str]

    @model_validator(mode="after")
    def _just_one(self) -> OneKind:
        if len(self.model_fields_set) != 1:
            kinds = ", ".join(str(field.alias) for field in type(self).model_fields.values())
            fault(f"each entry holds exactly one kind of {self.what}", f"the kinds are {kinds}")
        (name,) = self.model_fields_set
        if getattr(self, name) is None:
            word = type(self).model_fields[name].alias
            fault(f"there is nothing below '{word}'", f"write what it needs: {word}: {{…}}, or indent it below")
        return self

    @property
    def only(self) -> tuple[str, DeclaredKeys]:
        """The kind, as the file has it, and what stands under it."""
        (name,) = self.model_fields_set
        return str(type(self).model_fields[name].alias), getattr(self, name)

    @classmethod
    def models(cls) -> Mapping[str, type[DeclaredKeys]]:
        """The model of each kind, by the author's word."""
        fields = cls.model_fields.values()
        return {str(field.alias): model for field in fields for model in _models_in(field.annotation)}


def _models_in(annotation: Any) -> Iterator[type[DeclaredKeys]]:
    for held in annotation.__args__:
        if held is not type(None):
            yield held


def _item(name: str, item: str, kinds: Mapping[str, type], *, called: str) -> type[OneKind]:
    """The model of one entry of `cut` or `mark`; `called` is the trade's name for one."""
    fields: dict[str, Any] = {}
    for word, kind in kinds.items():
        model = _model(kind, kind.__name__)
        fields[_python_name(word)] = (Union[model, None], key(summary_of(kind)))  # noqa: UP007
    says = f"One entry of `{item}`: exactly one kind of {called}."
    made = create_model(name, __base__=OneKind, __doc__=says, **fields)
    made.what = item
    made.model_config["json_schema_extra"] = {"defaultSnippets": item_snippets(kinds)}
    return made


HOLD_WORDS = frozenset(word for kind in HOLDS for word in kind.words)
"""The author's words for what holds the part, of all kinds of hold."""


class _AnyHold(DeclaredKeys):
    """What holds the part."""

    model_config = ConfigDict(json_schema_extra={"defaultSnippets": hold_snippets(HOLDS)})

    kind: ClassVar[type] = object

    by: Annotated[list[Annotated[str, OneOf(HOLD_WORDS)]], Field(min_length=1)] = required(
        "What holds it, one or several.", "[chuck]"
    )
    says: Line | None = key("How, in a few words.", example="tenon in the jaws")
    tailstock: bool | None = key("Whether the tailstock bears on the part.", example="true")


def _hold() -> type[_AnyHold]:
    """The model of `hold`: what every hold takes, and the keys of all kinds, which share their words."""
    fields: dict[str, Any] = {}
    for declared in (declared for kind in HOLDS for declared in keys_of(kind)):
        fields.setdefault(_python_name(declared.word), _field(declared, always=True))
    fields["from_"] = (
        FormulaField | None,
        key("The place on the axis that places are measured from; 0 in if not given.", example="1 in"),
    )
    fields["reversed"] = (bool, key("Whether places grow the other way.", example="true", default=False))
    return create_model("HoldKeys", __base__=_AnyHold, __doc__=_AnyHold.__doc__, **fields)


def _either(words: Sequence[str]) -> str:
    """Words in a row: one or another, or a third."""
    return " or ".join(words) if len(words) < 3 else f"{', '.join(words[:-1])}, or {words[-1]}"


def _shapes() -> str:
    """The shapes of blank in a row: round, square, a branch, of segments or staves, or a stack."""
    alike = itertools.groupby(BLANKS.values(), key=lambda shape: shape.lead)
    return _either([f"{lead} {_either([shape.called for shape in shapes])}".strip() for lead, shapes in alike])


def _telling() -> dict[str, frozenset[str]]:
    """By which keys each shape of blank is known: those it needs that no other takes."""
    keys = {word: keys_of(shape) for word, shape in BLANKS.items()}
    others = {
        word: {declared.word for other, known in keys.items() if other != word for declared in known} for word in keys
    }
    return {
        word: frozenset(declared.word for declared in known if declared.needed) - others[word]
        for word, known in keys.items()
    }


_TELLING = _telling()


def _long_or_stack(schema: dict[str, Any]) -> None:
    """Every blank is as long as the file says, but a stack, which says it itself."""
    schema["required"].remove("long")
    schema["anyOf"] = [{"required": ["long"]}, {"required": ["stack"]}]
    if not schema["required"]:
        del schema["required"]


class _AnyBlank(DeclaredKeys):
    """A blank, whatever its shape."""

    model_config = ConfigDict(json_schema_extra=_long_or_stack)

    kind: ClassVar[type] = object

    @property
    def shape(self) -> type[BaseBlank]:
        """The one shape that its keys are of."""
        given = self.given()
        return next(BLANKS[word] for word, telling in _TELLING.items() if given & telling)

    @model_validator(mode="before")
    @classmethod
    def _as_long_as_its_courses(cls, data: Any) -> Any:
        """A stack says itself how long it is: what its courses come to."""
        if not isinstance(data, dict) or not isinstance(data.get("stack"), str):
            return data
        if "long" in data:
            fault("a stack is as long as its courses are high", "leave 'long' out")
        return {**data, "long": f"{data['stack']}.height"}

    @model_validator(mode="after")
    def _one_shape(self) -> _AnyBlank:
        given = self.given()
        if sum(bool(given & telling) for telling in _TELLING.values()) != 1:
            fault(f"a blank is {_shapes()}: one of these", next(iter(BLANKS.values())).remedy)
        shape = self.shape
        taken = {declared.word: declared.needed for declared in keys_of(shape)}
        if not given.issuperset(word for word, needed in taken.items() if needed):
            fault(shape.together, shape.remedy)
        misfit = shape.misfit(given)
        if misfit is not None:
            fault(*misfit)
        for other in BLANKS.values():
            if not given.isdisjoint({declared.word for declared in keys_of(other)} - taken.keys()):
                fault(other.together, other.remedy)
        return self


def _blank() -> type[_AnyBlank]:
    """The model of `blank`: the keys of all shapes, the last of them what every shape needs."""
    fields: dict[str, Any] = {}
    everywhere = set.intersection(*({key.word for key in keys_of(shape)} for shape in BLANKS.values()))
    for shared in (False, True):
        for declared in (declared for shape in BLANKS.values() for declared in keys_of(shape)):
            if (declared.word in everywhere) is shared:
                fields.setdefault(_python_name(declared.word), _field(declared, always=not shared))
    says = f"The stock a part is cut from: {_shapes()}."
    return create_model("BlankKeys", __base__=_AnyBlank, __doc__=says, **fields)


if TYPE_CHECKING:

    class BlankKeys(_AnyBlank):
        """The stock a part is cut from."""

    class CutItem(OneKind):
        """One entry of `cut`: exactly one kind of cut."""

    class MarkItem(OneKind):
        """One entry of `mark`: exactly one kind of mark."""

    class HoldKeys(_AnyHold):
        """What holds the part."""

        from_: FormulaField | None
        reversed: bool
else:
    BlankKeys = _blank()
    CutItem = _item("CutItem", "cut", CUTS, called="cut")
    MarkItem = _item("MarkItem", "mark", MARKS, called="pencil mark")
    HoldKeys = _hold()
