"""How a map with known keys is declared.

This module owns the base of every model and the way a key is described. Python's
names have underscores where the file has spaces, and one at the end where the word
is Python's own.
"""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel, ConfigDict, Field

__all__ = ["Keys", "key", "required", "spaced"]


def spaced(name: str) -> str:
    """A key as the file has it."""
    return name.strip("_").replace("_", " ")


class Keys(BaseModel):
    """A map with known keys."""

    # A model's checks are put together when it is first used: many are only ever part of another.
    model_config = ConfigDict(frozen=True, extra="forbid", alias_generator=spaced, defer_build=True)


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
