"""The page of blanks, holds, marks and cuts: each with a drawing, an example and its keys.

This module owns the page. The kinds, their words and their keys are as the workpiece
declares them; the examples are project files below `cuts/`, and their drawings, made from them
beforehand, lie beside them with what they show in words.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from html import escape
from importlib import resources
from importlib.resources.abc import Traversable
from typing import Any

from handouts_build.schema.cut_keys import BlankKeys, CutItem, HoldKeys, MarkItem, OneKind
from handouts_build.schema.known_keys import Keys
from handouts_build.workpiece import BLANKS, HOLDS
from handouts_build.workpiece.declared import keys_of, summary_of

__all__ = ["HEAD", "DescribedKind", "cut_pages", "entries", "example_of", "figure", "pictures_in"]

HEAD = """\
title: An example
summary: One thing done to one piece of wood.
kind: example
level: first steps
techniques: [an example]
sizes: {}
"""
"""What every example stands below."""

_ALWAYS = ("by", "says", "tailstock", "tail", "from", "reversed")
"""Keys of every hold."""
_SHARED = ("name", "meets", "tailstock away")
"""Keys of every cut."""


@dataclass(frozen=True)
class DescribedKind:
    """One kind, as the page tells it."""

    example: str
    """Name of its example and of its drawings."""
    title: str
    says: str
    model: type[Keys]
    keys: tuple[str, ...]
    """Its own, as the file has them."""
    words: tuple[str, ...] = ()
    """Of a hold: the words of `by` that hold the wood in this way, the example's first."""


def entries() -> dict[str, tuple[DescribedKind, ...]]:
    """Everything the page tells, by what it is."""
    return {
        "Blanks": tuple(
            DescribedKind(shape.example, shape.title, summary_of(shape), BlankKeys, _words(shape))
            for shape in BLANKS.values()
        ),
        "Holds": tuple(
            DescribedKind(kind.example, kind.title, summary_of(kind), HoldKeys, _words(kind), kind.words)
            for kind in HOLDS
        ),
        "Marks": tuple(_kinds(MarkItem, "mark")),
        "Cuts": tuple(_kinds(CutItem, "cut")),
    }


def example_of(kind: DescribedKind) -> str:
    """The lines of a kind's example, which is a whole project file once `HEAD` stands above them."""
    return (_folder() / f"{kind.example}.yml").read_text(encoding="utf-8")


def _kinds(items: type[OneKind], called: str) -> Iterator[DescribedKind]:
    """Each kind of cut or mark."""
    for word, model in items.models().items():
        own = tuple(key for key in _words(model.kind) if key not in _SHARED)
        yield DescribedKind(f"{called}-{word.replace(' ', '-')}", word, summary_of(model.kind), model, own)


def _words(kind: type) -> tuple[str, ...]:
    """The keys of a kind, as the file has them."""
    return tuple(declared.word for declared in keys_of(kind) if declared.word not in _ALWAYS)


def _fields(model: type[Keys]) -> dict[str, Any]:
    return {str(field.alias): field for field in model.model_fields.values()}


def cut_pages(ending: str) -> dict[str, str | bytes]:
    """The page and its drawings, by their paths on the site.

    Args:
        ending: How the address of a page ends: `/` or `.html`.
    """
    home = "reference/cuts"
    page = "\n".join(_page("" if ending == "/" else "cuts/")) + "\n"
    return {f"{home}.md": page, **{f"{home}/{name}": content for name, content in pictures_in("cuts").items()}}


def _folder() -> Traversable:
    return resources.files(__package__) / "cuts"


@cache
def pictures_in(folder: str) -> dict[str, bytes]:
    """The pictures that lie in a folder beside this module, by their names.

    Args:
        folder: Its name.
    """
    files = (resources.files(__package__) / folder).iterdir()
    return {file.name: file.read_bytes() for file in files if file.name.endswith(".webp")}


_OPENING = f"""\
# Blanks, holds, marks and cuts

A step says what holds the wood, what is marked on it and what is cut. The wood is then
carried through the steps as a solid. This page shows every kind, with its keys. The
drawings are worked out from the examples: what a step takes away is hatched, and its
marks stand out.

Each example is a whole project file when these lines stand above it:

```yaml
{HEAD}```

All other keys of a project are on the page [The project file](project-file.md). The
examples show the keys, not how to work: the cautions of a piece stand on its own page.
"""

_ABOUT = {
    "Blanks": "The stock a part is cut from. Its own axis is the lathe's, and places are measured from its left end, "
    "toward the headstock.",
    "Holds": "What holds the part while a step is done. A step without `hold` is held as the step before. A hold that "
    "names a tenon, a recess or a hole is checked: it must be there, and fit the jaws in the shop file.",
    "Marks": "Pencil lines, drawn before the step's cuts, and bands that are textured after them. They take nothing "
    "away.",
    "Cuts": "What a step takes away, in order.",
}
_COMMON = {"Holds": ("Every hold takes:", _ALWAYS), "Cuts": ("Every cut takes:", _SHARED)}


def _page(at: str) -> Iterator[str]:
    drawn = json.loads((_folder() / "drawn.json").read_text(encoding="utf-8"))
    yield _OPENING
    for heading, kinds in entries().items():
        yield from (f"## {heading}", "", _ABOUT[heading], "")
        if heading in _COMMON:
            says, words = _COMMON[heading]
            yield from (says, "", *_keys(kinds[0].model, words), "")
        for kind in kinds:
            yield from _entry(kind, drawn[kind.example], at)


def _entry(kind: DescribedKind, drawn: dict[str, Any], at: str) -> Iterator[str]:
    """One kind: what it is, its drawing beside its example, its keys."""
    example = example_of(kind)
    yield from (f"### {kind.title}", "", kind.says, "")
    if len(kind.words) > 1:
        yield from (f"`by` may be {_listed(kind.words)}.", "")
    yield from ('<div class="hb hb-example" markdown="1">', "", figure(kind.example, drawn, at), "")
    yield from ("```yaml", example.rstrip("\n"), "```", "", "</div>", "", *_keys(kind.model, kind.keys), "")


def figure(name: str, drawn: dict[str, Any], at: str) -> str:
    """The drawing for a light and a dark page; only the one that is seen is loaded.

    Args:
        name: Of its files, without what tells them apart.
        drawn: What it shows in words, its width and its height.
        at: The way from the page to the files.
    """
    rest = (
        f'alt="{escape(drawn["says"])}" width="{drawn["width"]}" height="{drawn["height"]}" loading="lazy" '
        'decoding="async"'
    )
    return (
        f'<figure><img class="hb-shot hb-shot--light" src="{at}{name}.webp" {rest}>'
        f'<img class="hb-shot hb-shot--dark" src="{at}{name}-dark.webp" {rest}></figure>'
    )


def _keys(model: type[Keys], words: Iterable[str]) -> Iterator[str]:
    """Keys as a list, which reads well on a narrow screen too."""
    for word in words:
        field = _fields(model)[word]
        yield f"- `{word}`{' (needed)' if field.is_required() else ''}: {field.description}"


def _listed(words: tuple[str, ...]) -> str:
    quoted = [f"`{word}`" for word in words]
    return f"{', '.join(quoted[:-1])} or {quoted[-1]}"
