"""How a map with known keys is declared.

This module owns the base of every model and the way a key is described. Python's
names have underscores where the file has spaces, and one at the end where the word
is Python's own.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel, ConfigDict, Field, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, core_schema

__all__ = ["Alone", "Keys", "key", "required", "spaced"]


def spaced(name: str) -> str:
    """A key as the file has it."""
    return name.strip("_").replace("_", " ")


class Keys(BaseModel):
    """A map with known keys."""

    # A model's checks are put together when it is first used: many are only ever part of another.
    model_config = ConfigDict(frozen=True, extra="forbid", alias_generator=spaced, defer_build=True)


@dataclass(frozen=True)
class Alone:
    """What a map may be written as where it says one thing only: the value of one of its keys."""

    key: str
    described: Mapping[str, Any]
    """How the editor's schema describes that value."""

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """How pydantic reads it."""
        return core_schema.no_info_before_validator_function(self._as_map, handler(source))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """How the editor's schema says it."""
        inner = handler(schema)
        return {"anyOf": [dict(self.described), *inner.get("anyOf", [inner])]}

    def _as_map(self, value: object) -> object:
        return value if value is None or isinstance(value, dict | Keys) else {self.key: value}


def key(says: str, *, example: str = "", optional: bool = True, default: Any = None) -> Any:
    """A key with its description, and an example for the reference page.

    Args:
        says: What the key is for.
        example: How it is written in a file.
        optional: Whether a file may do without it.
        default: Its value where a file has none; only of an optional key.

    Returns:
        The field, for pydantic: typed as anything, for it stands as the default of a field of any type.
    """
    examples = [example] if example else None
    if optional:
        return Field(default, description=says, examples=examples)
    return Field(description=says, examples=examples)


def required(says: str, example: str = "") -> Any:
    """A key that must be there.

    Args:
        says: What the key is for.
        example: How it is written in a file.

    Returns:
        The field, as from `key`.
    """
    return key(says, example=example, optional=False)
