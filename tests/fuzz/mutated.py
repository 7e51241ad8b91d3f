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

ROOT = Path(__file__).parents[2]
STARTERS = ROOT / "handouts_build" / "site" / "starters"
VALUES = (
    "0", "-1", "1", "2", "7", "360", "1e9", "1e999", "0 in", "-1 in", "1/64 in", "0.0001 mm", "1000 in", "5 m",
    "1/0 in", "1 1/2", "90 deg", "0 rpm", "90000 rpm", "5 min", "true", "~", "''", "[]", "{}", "x", "constructor",
    "__proto__", "ball / 0 in", "max(1 in, 2 in)", "a.b.c", "{ball}", "{", "*a*", "con", "naïve", "½", "'é'",
    "2027-02-30", "24:00",
)  # fmt: skip
"""What is put in the place of a value."""
_NUMBER = re.compile(r"\d+(?:\.\d+)?")


@dataclass(frozen=True)
class Case:
    """A project's folder as it is to be written: contents by path below it."""

    of: str
    done: tuple[str, ...]
    files: dict[str, bytes]


@cache
def bases() -> tuple[tuple[str, dict[str, bytes]], ...]:
    """The projects that are changed, by name, each with its records and a photograph."""
    held = io.BytesIO()
    Image.effect_noise((64, 48), 60).convert("RGB").save(held, "JPEG")
    shop = (ROOT / "projects" / "shop.yml").read_bytes()
    found = {}
    for path in sorted((ROOT / "projects").glob("*.yml")):
        if path.name == "shop.yml":
            continue
        home = path.with_suffix("")
        files = {f"piece/{file.relative_to(home).as_posix()}": file.read_bytes() for file in sorted(home.rglob("*"))
                 if file.is_file() and file.suffix in (".yml", ".json") and "handed-out" not in file.parts}  # fmt: skip
        found[path.stem] = {"piece.yml": path.read_bytes(), "shop.yml": shop, **files}
    for path in sorted(STARTERS.glob("*.yml")):
        if path.name not in ("mkdocs.yml", "shop.yml"):
            found[f"starter {path.stem}"] = {"piece.yml": path.read_bytes(), "shop.yml": shop}
    pictured = b"\npictures:\n  - {file: seen.jpg, shows: The piece}\n"
    for files in found.values():
        if b"\npictures:" not in files["piece.yml"]:
            files["piece.yml"] += pictured
            files["piece/seen.jpg"] = held.getvalue()
    return tuple(found.items())


def case(seed: int, number: int) -> Case:
    """One of the changed projects.

    Args:
        seed: Of the run.
        number: Of the case.
    """
    draw = random.Random(f"{seed} {number}")
    name, base = draw.choice(bases())
    files, done = dict(base), []
    for _ in range(draw.choice((1, 1, 2, 3, 4))):
        names = sorted(files)
        weights = [12 if file == "piece.yml" else 2 if file == "piece/seen.jpg" else 1 for file in names]
        (target,) = draw.choices(names, weights)
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
        root = yaml.compose(content.decode(), Loader=yaml.BaseLoader)
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
        node.value[at:at] = [node.value[at]] * (1 if what == "twice" else draw.choice((5, 40, 300)))
        # A node that stands twice would be written as an anchor; what is written is read anew.
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


class _Plain(yaml.Dumper):
    """Writes what stands twice out in full."""

    def anchor_node(self, node: yaml.Node) -> None:
        """Give no node an anchor."""
        self.anchors.setdefault(node, None)

    def serialize_node(self, node: yaml.Node, parent: object, index: object) -> None:
        """Write a node as if it stood nowhere else."""
        self.serialized_nodes.pop(node, None)
        self.anchors[node] = None
        super().serialize_node(node, parent, index)


def _written(root: yaml.Node) -> str:
    out = io.StringIO()
    dumper = _Plain(out, allow_unicode=True, width=10_000)
    # As everything was read as text, everything plain is written plain.
    dumper.yaml_implicit_resolvers = {}
    dumper.open()
    dumper.serialize(root)
    dumper.close()
    return out.getvalue()


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
