"""The drawings of a step that does not name any: of what it is the first to cut, and of what it is the first to use.

This module owns which profiles a step cuts and which workings it uses the numbers of.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from handouts_build.formulas import names
from handouts_build.schema.fields import PLACEHOLDER, Formula
from handouts_build.schema.known_keys import Keys
from handouts_build.schema.models import ProjectKeys, StepKeys
from handouts_build.workpiece import CUTS
from handouts_build.workpiece.declared import KeyKind, keys_of

__all__ = ["drawings_of", "profiles_of"]

_OF_A_NAME = re.compile(r"\s*([a-z][a-z0-9_]*)\.")


def drawings_of(project: ProjectKeys) -> Mapping[str, list[list[str]]]:
    """What belongs beside each step if the step does not say it, by the name of its part.

    Args:
        project: As it is written.
    """
    steps = [(name, step) for name, part in project.parts.items() for step in part.steps]
    shown = {drawing for _, step in steps for drawing in step.drawings}
    found: dict[str, list[list[str]]] = {name: [] for name in project.parts}
    for name, step in steps:
        used = frozenset(_used(step))
        first = [
            *(profile for profile in dict.fromkeys(profiles_of(step)) if profile in project.profiles.keys() - shown),
            *(working for working in project.workings if working in used - shown),
        ]
        found[name].append(first)
        shown |= set(first)
    return found


def profiles_of(step: StepKeys) -> Iterator[str]:
    """The profiles that a step cuts, in order.

    Args:
        step: One of a project's.
    """
    for word, keys in (item.only for item in step.cut):
        for declared in keys_of(CUTS[word]):
            if declared.kind is KeyKind.OUTLINE and (name := keys.text(declared.word)) is not None:
                yield name


def _used(value: Any) -> Iterator[str]:
    """The workings whose numbers are put into a text or stand in a formula, wherever in a step."""
    if isinstance(value, Formula):
        spoken = [name.name for name in names(value.tree)]
    elif isinstance(value, str):
        spoken = PLACEHOLDER.findall(value)
    else:
        inner = dict(value).values() if isinstance(value, Keys | Mapping) else value
        for each in inner if isinstance(value, Keys | Mapping | list | tuple) else ():
            yield from _used(each)
        return
    yield from (found.group(1) for text in spoken if (found := _OF_A_NAME.match(text)))
