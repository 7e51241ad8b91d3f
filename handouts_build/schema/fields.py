"""The kinds of value a project file holds, each checked where it stands.

This module owns single values: a measure, a formula, a name, a line or a passage
of prose. It leaves which keys there are to `models`. Faults are raised in the
author's words, with the hint and the offset a message needs.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Annotated, Any, NoReturn

from pydantic import AfterValidator, BeforeValidator, Field, PlainSerializer, WithJsonSchema
from pydantic_core import PydanticCustomError, core_schema

from handouts_build import paper
from handouts_build.disk.names import PROJECT_NAME, fault_of_address
from handouts_build.formulas import FUNCTIONS, NAME, FormulaFault, Node, parse
from handouts_build.language import languages
from handouts_build.quantities import (
    GRAMMAR,
    REFUSALS,
    Kind,
    Quantity,
    QuantityFault,
    kind_of,
    read_quantity,
    written_pattern,
)
from handouts_build.tables.trade_words import hint_for

__all__ = [
    "A_MINUTE",
    "PLACEHOLDER",
    "AuthorName",
    "FileName",
    "Formula",
    "FormulaField",
    "Label",
    "Language",
    "Length",
    "Line",
    "Measure",
    "Minutes",
    "OneOf",
    "Papers",
    "Price",
    "Prose",
    "Speed",
    "Story",
    "WebAddress",
    "fault",
    "measure_of",
    "whole",
]

PLACEHOLDER = re.compile(r"\{([^{}]*)\}")
"""A worked-out value put into text: `{octagon.setback}`; space around the name does not count."""

_LONGEST_LINE = 160
_MUCH_ALIKE = 0.84
_LONGEST_PROSE = 4000
_LONGEST_STORY = 20_000
"""Letters of a write-up: some six printed pages."""
_HTML = re.compile(r"<(?:[A-Za-z/!?])")
_TYPESET = re.compile(r"#(?:[A-Za-z_][\w.]*\s*[(\[]|(?:import|include|let|set|show)\b)")


def fault(message: str, hint: str = "", offset: int = 0) -> NoReturn:
    """Raise a complaint that carries a hint and an offset into the text.

    Args:
        message: What is wrong, in the author's words.
        hint: What would be right.
        offset: Letters of the text before the one to blame.

    Raises:
        PydanticCustomError: Always.
    """
    raise PydanticCustomError("author", "{message}", {"message": message, "hint": hint, "offset": offset})


@dataclass(frozen=True)
class Formula:
    """A formula as written, and its tree."""

    text: str
    tree: Node


def _text_of(value: object, wanted: str) -> str:
    """A scalar as text, or a complaint saying what was wanted."""
    if isinstance(value, bool) or not isinstance(value, (str, int, float)):
        found_kind = (
            "empty"
            if value is None
            else "a list"
            if isinstance(value, list)
            else "a map"
            if isinstance(value, dict)
            else "yes or no"
        )
        hint = "write the text without a dash before it or brackets around it" if isinstance(value, list) else ""
        fault(f"this is {found_kind}, where {wanted} is due", hint if wanted == "text" else "")
    return value if isinstance(value, str) else repr(value)


def _measure(value: object) -> Quantity:
    text = _text_of(value, "a number with a unit")
    try:
        return read_quantity(text)
    except QuantityFault as wrong:
        fault(wrong.message, wrong.hint)


def _size(value: object) -> Quantity:
    """A measure; a fraction is one of something, and a count is whole or has a point."""
    found = _measure(value)
    if kind_of(found) is Kind.NUMBER and re.search(GRAMMAR["fraction"], str(value)):
        fault(*REFUSALS["fraction"].filled(text=str(value), number=f"{float(found.magnitude):g}"))
    return found


def measure_of(kind: Kind) -> BeforeValidator:
    """The check that a value is a measure of `kind`, and more than nought."""

    def check(value: object) -> Quantity:
        found = _measure(value)
        if kind_of(found) is not kind:
            bare = kind in (Kind.LENGTH, Kind.SPEED) and kind_of(found) is Kind.NUMBER
            # A speed has one unit in a shop; whether a length is in inches or millimeters is the author's to say.
            right = f"{value} rpm" if bare and kind is Kind.SPEED else kind.says
            fault(*REFUSALS["bare" if bare else "kind"].filled(text=str(value), kind=kind.value, right=right))
        if found.magnitude <= 0:
            fault(*REFUSALS["nought"].filled(what=f"'{value}'"))
        return found

    return BeforeValidator(check)


def _formula(value: object) -> Formula:
    text = _text_of(value, "a formula or a measure")
    try:
        return Formula(text, parse(text))
    except FormulaFault as wrong:
        fault(wrong.message, wrong.hint, wrong.offset)


def whole(least: int, most: int, *, hint: str = "") -> tuple[BeforeValidator, WithJsonSchema]:
    """The check that a value is a whole number within bounds, and how the editor's schema says it.

    Args:
        least: The least that passes.
        most: The greatest that passes.
        hint: What is said to be right where one does not.

    Returns:
        The two, to stand in an `Annotated` after `int`.
    """

    def check(value: object) -> int:
        if isinstance(value, bool) or not isinstance(value, int) or not least <= value <= most:
            fault(f"'{value}' is not a whole number from {least} to {most:,}", hint)
        return value

    return BeforeValidator(check), WithJsonSchema({"type": "integer", "minimum": least, "maximum": most})


def _price(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not 0 <= value <= 1_000_000:
        fault(f"'{value}' is not a price", "write a plain number such as 18.50; the currency is said once")
    return float(value)


def _minutes(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not 0 < value <= 600:
        fault(f"'{value}' is not a number of minutes", "write 4, or {likely: 4, least: 3, most: 7}; at most 600")
    return float(value)


def _label(value: object) -> str:
    text = _one_line(_plain(value))
    brace = re.search(r"[{}]", text)
    if brace:
        fault("a value cannot be put in here", "curly brackets work in steps, supplies and the summary", brace.start())
    return text


def _line(value: object) -> str:
    return _one_line(_prose(value))


def _one_line(text: str) -> str:
    text = text.strip()
    if "\n" in text:
        fault("this must be one line")
    if len(text) > _LONGEST_LINE:
        fault(f"this line has {len(text)} characters; at most {_LONGEST_LINE} fit")
    return text


def _plain(value: object, longest: int = _LONGEST_PROSE) -> str:
    """Text with no markup of any other language in it."""
    text = _text_of(value, "text")
    if not text.strip():
        fault("this is empty, where text is due")
    if len(text) > longest:
        shorter = "make it several steps" if longest == _LONGEST_PROSE else "make it several projects"
        fault(f"this text has {len(text):,} characters; at most {longest:,} are read", shorter)
    for pattern, language in ((_HTML, "HTML"), (_TYPESET, "typesetting commands")):
        found = pattern.search(text)
        if found:
            hint = "author text is plain; *stars* give emphasis and {name} puts a value in"
            fault(f"{language} cannot stand in text", hint, found.start())
    return text


def _story(value: object) -> str:
    return _prose(value, _LONGEST_STORY)


def _prose(value: object, longest: int = _LONGEST_PROSE) -> str:
    text = _plain(value, longest)
    for found in PLACEHOLDER.finditer(text):
        if not re.fullmatch(NAME, found.group(1).strip()):
            fault(
                f"'{found.group()}' is not a name to put in",
                "write {name} with a size, dimension or working",
                found.start(),
            )
    bare = re.search(r"[{}]", PLACEHOLDER.sub(lambda found: " " * len(found.group()), text))
    if bare:
        fault("a curly bracket stands alone", "curly brackets put a value in: {ball}", bare.start())
    return text


def _named(value: object) -> str:
    """What would be a name."""
    near = re.sub(r"[^a-z0-9]+", "_", str(value).casefold()).strip("_")[:40]
    rule = "start with a small letter; go on with small letters, digits and _"
    return f"write {near}: {rule}" if re.match("[a-z]", near) else rule


def _author_name(value: object) -> str:
    if not isinstance(value, str) or not re.fullmatch(r"[a-z][a-z0-9_]{0,39}", value):
        fault(f"'{value}' cannot be a name", _named(value))
    if value in FUNCTIONS or value in ("pi", "rule"):
        fault(f"'{value}' already means something in formulas", "choose another name")
    return value


def _file_name(value: object) -> str:
    if not isinstance(value, str) or not re.fullmatch(PROJECT_NAME, value):
        right = re.sub(r"[^a-z0-9]+", "-", str(value).lower().removesuffix(".yml")).strip("-") or "old-name"
        fault(f"'{value}' cannot be the name of a project's file", f"write it without its ending, such as {right}")
    return value


def _web_address(text: str) -> str:
    if wrong := fault_of_address(text):
        fault(f"'{text[:60]}' cannot be led to: {wrong}", "write it as a browser shows it: https://video.example/abc")
    return text


class OneOf:
    """One of a closed list of words, with the nearest named when it is another.

    Args:
        words: The list.
    """

    def __init__(self, words: Iterable[str]) -> None:
        self._words = tuple(sorted(words))

    def __get_pydantic_core_schema__(self, source: object, handler: object) -> core_schema.CoreSchema:
        """How pydantic checks the value."""
        return core_schema.no_info_plain_validator_function(self._check)

    def __get_pydantic_json_schema__(self, schema: object, handler: object) -> dict[str, Any]:
        """How the editor's schema says it."""
        return {"enum": list(self._words)}

    def _check(self, value: object) -> str:
        if value in self._words:
            return str(value)
        # Each of these words has its own safety boxes: one that is not much alike may mean another thing.
        hint = hint_for(str(value), self._words, alike=_MUCH_ALIKE) or "the reference page lists the words"
        fault(f"'{value}' is not one of the words known here", hint)


class _Languages:
    """A language that there is a translation into, as a tag of BCP 47."""

    def __get_pydantic_core_schema__(self, source: object, handler: object) -> core_schema.CoreSchema:
        """How pydantic checks the value."""
        return core_schema.no_info_plain_validator_function(self._check)

    def __get_pydantic_json_schema__(self, schema: object, handler: object) -> dict[str, Any]:
        """How the editor's schema says it."""
        return {"enum": list(languages())}

    def _check(self, value: object) -> str:
        known, said = languages(), str(value)[:60]
        if value in known:
            return said
        meant = next((tag for tag in known if tag.casefold() == said.replace("_", "-").casefold()), "")
        if meant:
            fault(f"'{said}' is not how a language is written here", f"write {meant}")
        there = f"those there are: {', '.join(known)}"
        if not re.fullmatch(r"[a-z]{2,3}(-[A-Z][a-z]{3})?(-([A-Z]{2}|[0-9]{3}))?", said):
            fault(f"'{said}' is not a language's tag", f"write it as BCP 47 does, such as en or pt-BR; {there}")
        fault(f"there is no translation into '{said}' yet", there)


def _string(pattern: str = "") -> WithJsonSchema:
    return WithJsonSchema({"type": "string", "pattern": pattern} if pattern else {"type": "string"})


_AS_TEXT = PlainSerializer(str, return_type=str)
_NUMBERLIKE = WithJsonSchema({"type": ["string", "number"]})

_MEASURED = WithJsonSchema({"type": ["string", "number"], "pattern": written_pattern()})

Measure = Annotated[Any, BeforeValidator(_size), _MEASURED, _AS_TEXT]
"""A number with or without a unit: `2 1/4 in`, `57 mm`, `6`. Holds a `Quantity`."""
Length = Annotated[Any, measure_of(Kind.LENGTH), _string(written_pattern(Kind.LENGTH)), _AS_TEXT]
"""A length of more than nought. Holds a `Quantity`."""
Angle = Annotated[Any, measure_of(Kind.ANGLE), _string(written_pattern(Kind.ANGLE)), _AS_TEXT]
"""An angle, nought among them. Holds a `Quantity`."""
Speed = Annotated[Any, measure_of(Kind.SPEED), _string(written_pattern(Kind.SPEED)), _AS_TEXT]
"""A lathe speed. Holds a `Quantity`."""
FormulaField = Annotated[
    Any, BeforeValidator(_formula), _NUMBERLIKE, PlainSerializer(lambda f: f.text, return_type=str)
]
"""A formula or a measure. Holds a `Formula`."""
A_MINUTE = {"type": "number", "exclusiveMinimum": 0, "maximum": 600}
Minutes = Annotated[float, BeforeValidator(_minutes), WithJsonSchema(A_MINUTE)]
"""A number of minutes."""
Price = Annotated[float, BeforeValidator(_price), WithJsonSchema({"type": "number", "minimum": 0})]
"""An amount of money, in the shop's currency."""
Line = Annotated[
    str, BeforeValidator(_line), WithJsonSchema({"type": ["string", "number"], "maxLength": _LONGEST_LINE})
]
"""One line of author text."""
Label = Annotated[
    str,
    BeforeValidator(_label),
    WithJsonSchema({"type": ["string", "number"], "maxLength": _LONGEST_LINE, "pattern": "^[^{}]*$"}),
]
"""One line that names something; no value can be put in."""
WebAddress = Annotated[Line, AfterValidator(_web_address)]
"""The address of a page or file elsewhere, which readers may be led to."""
Prose = Annotated[str, BeforeValidator(_prose), WithJsonSchema({"type": "string", "maxLength": _LONGEST_PROSE})]
"""Author text; an empty line starts a new paragraph, *stars* give emphasis, {name} puts a value in."""
Story = Annotated[str, BeforeValidator(_story), WithJsonSchema({"type": "string", "maxLength": _LONGEST_STORY})]
"""The same, as long as a write-up of a whole evening."""
AuthorName = Annotated[str, BeforeValidator(_author_name), _string("^[a-z][a-z0-9_]{0,39}$")]
"""A name the author gives to something, for use in formulas."""
FileName = Annotated[str, BeforeValidator(_file_name), _string(f"^{PROJECT_NAME}$")]
"""The name of a project's file, without its ending."""
Language = Annotated[str, _Languages()]
"""A language that pages and papers can be in."""
Papers = Annotated[list[Annotated[str, OneOf(paper.WORDS)]], Field(min_length=1)]
"""Some of the papers of a project."""
