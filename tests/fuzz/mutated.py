"""Demo and starter projects with a few things done to them, by the structure of what is in their files.

This module owns the changes. They are drawn from a seed and a number, so that a find can be made again.
"""

from __future__ import annotations

import copy
import io
import random
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import yaml
from PIL import Image

from handouts_build.site.starter import MeasuredIn, starter_kinds, starter_text

ROOT = Path(__file__).parents[2]
VALUES = (
    "0", "-1", "1", "2", "7", "360", "1e9", "1e999", "0 in", "-1 in", "1/64 in", "0.0001 mm", "1000 in", "5 m",
    "1/0 in", "1 1/2", "90 deg", "0 rpm", "90000 rpm", "5 min", "true", "~", "''", "[]", "{}", "x", "constructor",
    "__proto__", "ball / 0 in", "max(1 in, 2 in)", "a.b.c", "{ball}", "{", "*a*", "con", "naïve", "½", "'é'",
    "2027-02-30", "24:00",
)  # fmt: skip
"""What is put in the place of a value."""
_INSPIRED = re.compile(rb"^inspired by: [a-z0-9-]+$", re.MULTILINE)
_NUMBER = re.compile(r"\d+(?:\.\d+)?")


@dataclass(frozen=True)
class Case:
    """A project's folder as it is to be written: contents by path below it."""

    of: str
    done: tuple[str, ...]
    files: dict[str, bytes]


@cache
def bases() -> tuple[tuple[str, dict[str, bytes]], ...]:
    """What is changed, by name: projects with their records and a photograph, and calls with what was sent for them.

    Starters are as `start` writes them, every other one in millimetres. Beside each lie the demo's shop file and what
    it knows of a friend's archive; beside a call lies the starters' knob.
    """
    home = ROOT / "projects"
    around = {path.relative_to(home).as_posix(): path.read_bytes() for path in (home / "shop.yml",
              *sorted((home / "friends").glob("*.json")))}  # fmt: skip
    found = {}
    for path in sorted(home.glob("*.yml")):
        if path.name == "shop.yml":
            continue
        folder = path.with_suffix("")
        files = {f"piece/{file.relative_to(folder).as_posix()}": file.read_bytes() for file in sorted(folder.rglob("*"))
                 if file.is_file() and file.suffix in (".yml", ".json") and "handed-out" not in file.parts}  # fmt: skip
        found[path.stem] = {"piece.yml": path.read_bytes(), **files}
    for number, kind in enumerate(starter_kinds()):
        measure = MeasuredIn.MILLIMETERS if number % 2 else MeasuredIn.INCHES
        found[f"starter {kind}"] = {"piece.yml": starter_text(kind, title="Piece", measure=measure).encode()}
    held = io.BytesIO()
    Image.effect_noise((64, 48), 60).convert("RGB").save(held, "JPEG")
    for files in found.values():
        if b"\npictures:" not in files["piece.yml"]:
            files["piece.yml"] += b"\npictures:\n  - {file: seen.jpg, shows: The piece}\n"
            files["piece/seen.jpg"] = held.getvalue()
    for call in sorted((home / "calls").iterdir()):
        # What was sent tells by which piece it was inspired; beside it lies none of the demo's, but this one.
        sent = {
            f"calls/{file.relative_to(call.parent).as_posix()}": _INSPIRED.sub(b"inspired by: piece", file.read_bytes())
            for file in sorted(call.rglob("*"))
            if file.is_file()
        }
        found[f"call {call.name}"] = {**sent, "piece.yml": found["starter knob"]["piece.yml"],
                                      "piece/seen.jpg": held.getvalue()}  # fmt: skip
    return tuple((name, {**around, **files}) for name, files in found.items())


def base_of(seed: int, number: int) -> str:
    """The name of what a case is made of.

    Args:
        seed: Of the run.
        number: Of the case.
    """
    return _drawn(seed, number)[1]


def _drawn(seed: int, number: int) -> tuple[random.Random, str, dict[str, bytes]]:
    draw = random.Random(f"{seed} {number}")
    return draw, *draw.choice(bases())


def _weight(file: str, files: dict[str, bytes]) -> int:
    """How often a file is changed, beside the others."""
    of_call = file.startswith("calls/")
    if file == "piece.yml":
        return 1 if any(other.startswith("calls/") for other in files) else 12
    return 6 if of_call and file.endswith(".yml") else 2 if of_call or file == "piece/seen.jpg" else 1


def case(seed: int, number: int) -> Case:
    """One of the changed projects.

    Args:
        seed: Of the run.
        number: Of the case.
    """
    draw, name, base = _drawn(seed, number)
    files, done = dict(base), []
    for _ in range(draw.choice((1, 1, 2, 3, 4))):
        names = sorted(files)
        (target,) = draw.choices(names, [_weight(file, files) for file in names])
        if target.endswith(".yml"):
            changed, what = _changed(files[target], draw)
        else:
            changed, what = _spoilt(files[target], draw)
        files[target] = changed
        done.append(f"{target}: {what}")
    return Case(name, tuple(done), files)


def _changed(content: bytes, draw: random.Random) -> tuple[bytes, str]:
    """A YAML file with one thing done to its tree."""
    try:
        root = yaml.compose(content.decode(), Loader=yaml.CBaseLoader)
    except (yaml.YAMLError, UnicodeDecodeError):
        return _spoilt(content, draw)
    if root is None:
        return content, "nothing"
    maps = [node for node in _nodes(root) if isinstance(node, yaml.MappingNode) and node.value]
    lists = [node for node in _nodes(root) if isinstance(node, yaml.SequenceNode) and node.value]
    scalars = [node for node in _values(root) if isinstance(node, yaml.ScalarNode)]
    what = draw.choice(("value", "value", "scale", "scale", "drop", "twice", "many", "swap", "move", "rename", "long"))
    if what == "value" and scalars:
        node = draw.choice(scalars)
        node.value, node.style = draw.choice(VALUES), None
        what += f" {node.value}"
    elif what == "scale" and scalars:
        node = draw.choice([node for node in scalars if _NUMBER.search(node.value)] or scalars)
        by = draw.choice((0, 0.01, 0.5, 0.9, 1.1, 2, 10, 100, -1))
        node.value = _NUMBER.sub(lambda found: f"{float(found[0]) * by:g}", node.value, count=1)
        what += f" by {by}: {node.value[:40]}"
    elif what == "drop" and maps:
        node = draw.choice(maps)
        key, _ = node.value.pop(draw.randrange(len(node.value)))
        what += f" {getattr(key, 'value', '')}"
    elif what in ("twice", "many") and lists:
        node = draw.choice(lists)
        at = draw.randrange(len(node.value))
        # Copies: a node that stands twice would be written as an anchor.
        more = range(1 if what == "twice" else draw.choice((5, 40, 300)))
        node.value[at:at] = [copy.deepcopy(node.value[at]) for _ in more]
        what += f" of {len(node.value)}"
    elif what == "swap" and len(scalars) > 1:
        one, other = draw.sample(scalars, 2)
        one.value, other.value = other.value, one.value
    elif what == "move" and len(maps) > 1:
        source, goal = draw.sample(maps, 2)
        # A copy: what holds a node may be moved into it.
        goal.value.append(copy.deepcopy(source.value[draw.randrange(len(source.value))]))
    elif what == "rename" and maps:
        node = draw.choice(maps)
        at = draw.randrange(len(node.value))
        named = yaml.ScalarNode("tag:yaml.org,2002:str", draw.choice((*VALUES, *(key.value for key, _ in node.value))))
        what += f" {node.value[at][0].value} {named.value}"
        node.value[at] = (named, node.value[at][1])
    elif what == "long" and scalars:
        node = draw.choice(scalars)
        node.value = " ".join([node.value] * draw.choice((2, 30, 200)))
    return _written(root).encode(), what


def _nodes(root: yaml.Node) -> Iterator[yaml.Node]:
    yield root
    for below in root.value if isinstance(root, yaml.CollectionNode) else ():
        for node in below if isinstance(below, tuple) else (below,):
            yield from _nodes(node)


def _values(root: yaml.Node) -> Iterator[yaml.Node]:
    """Everything but keys."""
    if isinstance(root, yaml.MappingNode):
        for _, value in root.value:
            yield from _values(value)
    elif isinstance(root, yaml.SequenceNode):
        for value in root.value:
            yield from _values(value)
    else:
        yield root


class _Plain(yaml.CDumper):
    """Writes everything plain that may be: it was all read as text."""

    yaml_implicit_resolvers = {}  # noqa: RUF012 (PyYAML asks the class for it)


def _written(root: yaml.Node) -> str:
    written: str = yaml.serialize(root, Dumper=_Plain, allow_unicode=True, width=10_000)
    return written


def _spoilt(content: bytes, draw: random.Random) -> tuple[bytes, str]:
    """Any file with some of its bytes spoilt."""
    raw = bytearray(content or b"x")
    match draw.choice(("flip", "cut", "head", "double")):
        case "flip":
            for _ in range(draw.choice((1, 8, 64))):
                raw[draw.randrange(len(raw))] = draw.randrange(256)
            return bytes(raw), "bytes flipped"
        case "cut":
            return bytes(raw[: draw.randrange(len(raw))]), "cut short"
        case "head":
            raw[: min(len(raw), 16)] = draw.randbytes(min(len(raw), 16))
            return bytes(raw), "another head"
        case _:
            return bytes(raw + raw), "doubled"
