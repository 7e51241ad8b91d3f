"""A project or shop file to its model, or every problem with its place.

This module owns the bridge between the reader and the models: it maps the
validator's complaints back to lines and into the author's words.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache
from itertools import islice
from pathlib import Path
from typing import Any, TypeVar

from pydantic import ValidationError

from handouts_build.problems import MOST, Problem, ProjectError, near_miss
from handouts_build.schema.evening import DemonstrationKeys
from handouts_build.schema.known_keys import Keys
from handouts_build.schema.models import ProjectKeys
from handouts_build.schema.reader import Document, Key, read_document
from handouts_build.schema.unsaid import filled
from handouts_build.tables.trade_words import hint_for

__all__ = ["load_file", "load_project", "one_unit_of", "written_in"]

_Model = TypeVar("_Model", bound=Keys)

_ONE_PIECE = (
    "a demonstration is of the piece in whose folder its file lies; for several pieces on one evening write a file for "
    "each, with a start and a slot of its own"
)
_STATE = "write 'cancelled: why' if it does not take place, and 'afterwards:' once it has; else it is announced"
_MEANT: Mapping[tuple[type[Keys], str], str] = {
    (DemonstrationKeys, "project"): _ONE_PIECE,
    (DemonstrationKeys, "projects"): _ONE_PIECE,
    (DemonstrationKeys, "status"): _STATE,
    (DemonstrationKeys, "canceled"): "write it with two l: 'cancelled: why'",
}
"""What is meant by a key that is not there."""

_IN_MINUTES = "write it in `minutes`: minutes: {{likely: 10, {word}: 2}}"
_IN_SHOW = "write it in `show`: show: {{{word}: {value}}}"
_OF_A_STEP: Mapping[str, str] = {
    **{f"{word} minutes": _IN_MINUTES.format(word=word) for word in ("least", "most", "told", "setup")},
    **{word: _IN_SHOW.format(word=word, value=value) for word, value in (("worth", 4), ("camera", "overhead"),
                                                                         ("cue", '"Hold it up."'))},
}  # fmt: skip
"""The same of a step's keys: each stands in a map of those that belong together."""


def load_project(path: Path, shown: str) -> tuple[ProjectKeys, Document]:
    """Read a project file.

    Args:
        path: The file.
        shown: How messages name it.

    Returns:
        Its keys, checked one by one, with what the file leaves unsaid, and the file with the place of each.

    Raises:
        ProjectError: With every problem of form.
    """
    project, document = load_file(ProjectKeys, path, shown)
    if project.measure is None:
        project = project.model_copy(update={"measure": written_in(document.values)})
    return filled(project), document


_INCHES, _MILLIMETERS = re.compile(r"[\d½¼¾⅛⅜⅝⅞] ?(?:in\b|inch|[\"″])"), re.compile(r"\d ?(?:mm|cm)\b")


def written_in(values: object) -> str:
    """The unit that most lengths of a file are written in; inches where it has as many of both, or none.

    Args:
        values: What stands in the file.
    """
    inches = millimeters = 0
    waiting = [values]
    while waiting:
        value = waiting.pop()
        if isinstance(value, dict):
            waiting += value.values()
        elif isinstance(value, list):
            waiting += value
        elif isinstance(value, str):
            inches += len(_INCHES.findall(value))
            millimeters += len(_MILLIMETERS.findall(value))
    return "millimeters" if millimeters > inches else "inches"


def one_unit_of(text: str) -> str:
    """The unit that every length of a file is written in, `in` or `mm`; empty where it has both, or none.

    Args:
        text: What stands in the file, which need not be sound.
    """
    inches, millimeters = bool(_INCHES.search(text)), bool(_MILLIMETERS.search(text))
    return "" if inches == millimeters else "in" if inches else "mm"


def load_file(model: type[_Model], path: Path, shown: str) -> tuple[_Model, Document]:
    """Read a file of the archive as it is written.

    Args:
        model: The keys that such a file takes.
        path: The file.
        shown: How messages name it.

    Returns:
        Its keys, checked one by one, and the file with the place of each.

    Raises:
        ProjectError: With every problem of form.
    """
    document = read_document(path, shown)
    try:
        return model.model_validate(document.values), document
    except ValidationError as error:
        raise ProjectError(_problems(model, error, document)) from None


def _problems(model: type[Keys], error: ValidationError, document: Document) -> Iterator[Problem]:
    schema = _schema_of(model)
    for detail in islice(error.errors(include_url=False), MOST):
        key = _key_of(detail["loc"], document.values)
        context: Mapping[str, Any] = detail.get("ctx", {})
        offset: int | None = None
        of_key = False
        match detail["type"]:
            case "author":
                message, hint, offset = context["message"], context["hint"], context["offset"]
                of_key = detail["loc"][-1:] == ("[key]",)
                around = _value_at(key[:-1], document.values)
                if key and isinstance(around, dict) and key[-1] not in around:
                    key = key[:-1]  # It is asked for and not there.
            case "missing":
                message, hint = f"'{key[-1]}' is missing", _described(schema, key, document.values)
                key = key[:-1]
            case "extra_forbidden":
                message, hint = (
                    f"'{key[-1]}' is not a key here",
                    _BROKEN_TEXT if _is_broken_text(key, document.values) else _meant(model, key),
                )
                hint = (
                    hint
                    or _parted(key, document.values)
                    or hint_for(str(key[-1]), _known(schema, key[:-1], document.values))
                )
                of_key = True
            case "union_tag_invalid":
                tags = [tag.strip().strip("'") for tag in str(context["expected_tags"]).split(", ")]
                message, hint = f"'{context['tag']}' is not a chapter", near_miss(str(context["tag"]), tags)
                key = (*key, "chapter")
            case "union_tag_not_found":
                message, hint = "'chapter' is missing", "say which chapter of the trade's arithmetic works it out"
            case "literal_error":
                message = f"'{detail['input']}' is not one of the choices"
                meant = hint_for(str(detail["input"]), _CHOICE.findall(context["expected"]), alike=1)
                hint = meant if meant.startswith("did") else f"write {context['expected']}"
            case "list_type" | "tuple_type":
                message, hint = "a list is due here", _as_a_list(key, detail["input"])
            case "dict_type" | "model_type" | "model_attributes_type":
                example = _example(schema, key, document.values) or "{key: value}"
                message, hint = "a map of keys and values is due here", f"indent the keys below it, or write {example}"
            case "bool_type" | "bool_parsing":
                message, hint = "true or false is due here", ""
            case "too_short":
                message, hint = "this list is empty", "it needs at least one entry"
            case "too_long":
                message, hint = f"this list is too long; at most {context['max_length']} entries are read", ""
            case _:
                message, hint = detail["msg"], ""
        yield Problem(document.place(key, offset=offset, of_key=of_key), message, hint)


@cache
def _schema_of(model: type[Keys]) -> Mapping[str, Any]:
    """What hints are taken from. It takes pydantic a quarter of a second, and many files may have problems."""
    return model.model_json_schema()


def _meant(model: type[Keys], key: Key) -> str:
    """What is to be written instead of a key that others know or an earlier release had; empty for other keys."""
    word = str(key[-1])
    if len(key) == 1:
        return _MEANT.get((model, word), "")
    return _OF_A_STEP.get(word, "") if key[0] == "parts" and key[2:3] == ("steps",) and len(key) == 5 else ""


def _key_of(loc: tuple[int | str, ...], values: Any) -> Key:
    """The validator's way to a value as keys of the file; the tags it adds are left out."""
    key: list[str | int] = []
    here = values
    for index, step in enumerate(loc):
        if step == "[key]":
            break
        if loc[0] == "workings" and index == 2:
            continue
        inside = (isinstance(here, dict) and step in here) or (
            isinstance(here, list) and isinstance(step, int) and step < len(here)
        )
        if inside:
            here = here[step]
            key.append(step)
        elif index == len(loc) - 1 and isinstance(here, dict):
            key.append(step)
    return tuple(key)


def _at(schema: Mapping[str, Any], key: Key, values: Any) -> Mapping[str, Any]:
    """The part of the JSON schema that describes what stands at a key."""
    here: Mapping[str, Any] = schema
    for step in (None, *key):
        if step is not None:
            values = _inside(values, step)
            if isinstance(step, int):
                here = here.get("items", {})
            else:
                named: Mapping[str, Any] = next(iter(here.get("patternProperties", {}).values()), {})
                here = here.get("properties", {}).get(step) or named
        for option in here.get("anyOf", ()):
            if option.get("type") != "null":
                here = option
        mapping = here.get("discriminator", {}).get("mapping")
        if mapping:
            here = {"$ref": mapping.get(values.get("chapter"), "") if isinstance(values, dict) else ""}
        if "$ref" in here:
            here = schema["$defs"].get(here["$ref"].rpartition("/")[2], {})
    return here


def _as_a_list(key: Key, given: object) -> str:
    """What a list would be written like that holds one word, or nothing in particular."""
    if isinstance(given, str) and given and key and isinstance(key[-1], str) and not set(given) & set(",:[]{}#\n\"'"):
        return f"write {key[-1]}: [{given}]"
    return "write [one, two], or a line for each starting with -"


def _example(schema: Mapping[str, Any], key: Key, values: Any) -> str:
    """How a key is written, by the example in its description; empty where it has none."""
    if not key:
        return ""
    examples = _at(schema, key[:-1], values).get("properties", {}).get(key[-1], {}).get("examples", ())
    return f"{key[-1]}: {examples[0]}" if examples and str(examples[0]).startswith("{") else ""


def _value_at(key: Key, values: Any) -> Any:
    """What stands at a key, None where nothing does."""
    for step in key:
        values = _inside(values, step)
    return values


def _inside(values: Any, step: str | int) -> Any:
    """What stands at one key or index, None where nothing does."""
    if isinstance(values, dict):
        return values.get(step)
    if isinstance(values, list) and isinstance(step, int) and step < len(values):
        return values[step]
    return None


_CHOICE = re.compile(r"'([^']*)'")
_BROKEN_TEXT = "a comma parts two entries here: put quotes around a text with a comma in it"


def _is_broken_text(key: Key, values: Any) -> bool:
    """Whether a key with nothing after it is what follows a comma in a text."""
    around = _value_at(key[:-1], values)
    word = str(key[-1])
    return isinstance(around, dict) and around.get(key[-1], "") is None and " " in word and not word[:1].isdigit()


def _parted(key: Key, values: Any) -> str:
    """What to write instead of a number that a decimal comma parts, as in {is: 2,5 in}; empty for other keys."""
    rest = str(key[-1])
    if not rest[:1].isdigit():
        return ""
    around = _value_at(key[:-1], values)
    before = list(around)[: list(around).index(rest)] if isinstance(around, dict) and rest in around else []
    whole = around[before[-1]] if before else None
    if isinstance(whole, int) and not isinstance(whole, bool):
        return f"a comma parts two entries here: write {whole}.{rest}"
    return "a comma parts two entries here: write a decimal with a point, or put quotes around a formula"


def _known(schema: Mapping[str, Any], key: Key, values: Any) -> list[str]:
    """The keys that may stand below a key."""
    return list(_at(schema, key, values).get("properties", {}))


def _described(schema: Mapping[str, Any], key: Key, values: Any) -> str:
    """What a missing key is for."""
    described = _at(schema, key[:-1], values).get("properties", {}).get(key[-1], {})
    says = str(described.get("description", ""))
    return (says[:1].lower() + says[1:]).rstrip(".")
