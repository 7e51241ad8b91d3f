"""YAML in, plain values and the place of each out.

This module owns YAML: which scalars are numbers, what is refused, and where
everything stood. It asks nothing of the content; the models do that. Files come
from other people, so size, depth and count are bounded before anything is built.
"""

from __future__ import annotations

import errno
import re
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml

from handouts_build.disk.reading import read_plain
from handouts_build.problems import UNSEEN, Place, Problem, ProjectError
from handouts_build.schema.broken_yaml import Spot, slip_of

__all__ = ["LARGEST", "Document", "Key", "parse_document", "read_document", "written"]

LARGEST = 256 * 1024
"""Bytes a project file may have."""
_DEEPEST = 20
_MOST_NODES = 20_000

Key = tuple[str | int, ...]
"""The way to a value: keys and list indexes."""

_INT = re.compile(r"[-+]?[0-9]{1,18}")
_FLOAT = re.compile(r"[-+]?(?:\.[0-9]{1,30}|[0-9]{1,30}\.[0-9]{0,30})(?:[eE][-+]?[0-9]{1,3})?")
_PLAIN_STR = "tag:yaml.org,2002:str"
_IMPLICIT = {_PLAIN_STR, "tag:yaml.org,2002:seq", "tag:yaml.org,2002:map", None, "!"}


@dataclass
class Document:
    """A file's values and where each stands."""

    file: str
    values: dict[str, Any]
    lines: list[str] = field(default_factory=list)
    """The file's text, line by line."""
    _nodes: dict[Key, yaml.Node] = field(default_factory=dict)
    _keys: dict[Key, yaml.Node] = field(default_factory=dict)

    def place(self, key: Key = (), *, offset: int | None = None, of_key: bool = False) -> Place:
        """Where a value stands, or where its nearest parent does.

        Args:
            key: The way to it.
            offset: Characters into the value's text, for scalars.
            of_key: The place of the key rather than of the value.
        """
        known = key
        while known and known not in self._nodes:
            known = known[:-1]
        node = self._keys.get(key) if of_key else None
        node = node or self._nodes.get(known)
        path = written(key)
        if node is None:
            return Place(self.file, 1, 1, path)
        line, column = _mark(node)
        if offset and known == key and isinstance(node, yaml.ScalarNode):
            if node.start_mark.line == node.end_mark.line:
                column += offset + (1 if node.style in ("'", '"') else 0)
            elif node.style in ("|", ">"):
                line, column = self._in_block(node, offset)
        return Place(self.file, line, column, path)

    def span(self, key: Key, *, of_key: bool = False) -> tuple[tuple[int, int], tuple[int, int]]:
        """Where the text of a value begins and where it ends, each as line and column counted from 0.

        Args:
            key: The way to it.
            of_key: That of the key rather than of the value.

        Raises:
            KeyError: If there is nothing of that name.
        """
        node = (self._keys if of_key else self._nodes)[key]
        return (node.start_mark.line, node.start_mark.column), (node.end_mark.line, node.end_mark.column)

    def _in_block(self, node: yaml.ScalarNode, offset: int) -> tuple[int, int]:
        """Line and column of a character of a block scalar (| or >)."""
        first = node.start_mark.line + 1
        rows = self.lines[first : node.end_mark.line + 1]
        indent = next((len(row) - len(row.lstrip(" ")) for row in rows if row.strip()), 0)
        start = ends = blank = 0
        for number, row in enumerate(rows):
            text = row[indent:]
            if not text.strip():
                blank += 1
                continue
            if ends:
                # In | every line break counts; in > a single one is a space, and an empty line is the break.
                start = ends + (max(1, blank) if node.style == ">" else blank + 1)
            elif blank:
                start = blank
            blank, ends = 0, start + len(text)
            if offset <= ends:
                return first + number + 1, indent + 1 + max(0, offset - start)
        return _mark(node)


def written(key: Key) -> str:
    """A way to a value as an author would write it: `parts.lantern.steps[2].minutes`."""
    text = ""
    for step in key:
        text += f"[{step}]" if isinstance(step, int) else f".{step}" if text else str(step)
    return text


def read_document(path: Path, shown: str) -> Document:
    """Read one YAML file.

    Args:
        path: The file.
        shown: How messages name it.

    Raises:
        ProjectError: If it cannot be read, is too large, is not UTF-8, is not a
            single YAML mapping, or uses anchors, tags or a key twice. All
            problems of one file are reported at once, except that text which is
            not YAML stops at the first.
    """

    def refuse(message: str, hint: str = "", line: int = 0, column: int = 0) -> ProjectError:
        return ProjectError([Problem(Place(shown, line, column), message, hint)])

    try:
        raw = read_plain(path, most_bytes=LARGEST)
    except FileNotFoundError:
        raise refuse("there is no such file") from None
    except OSError as error:
        large = error.errno == errno.EFBIG
        hint = "a project file holds text only" if large else "only a plain file is read: put the text itself there"
        raise refuse(f"the file cannot be read: {error.strerror}", hint) from None
    except ValueError:
        # A name with a nought in it.
        raise refuse("there can be no such file") from None
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        column = error.start - (raw.rfind(b"\n", 0, error.start) + 1) + 1
        raise refuse("the file is not UTF-8 text", "save it as UTF-8 in the editor", line, column) from None
    return parse_document(text, shown)


def parse_document(text: str, shown: str) -> Document:
    """Read the text of one YAML file.

    Args:
        text: The text.
        shown: How messages name the file.

    Raises:
        ProjectError: As `read_document` does, but for what the disk says.
    """

    def refuse(message: str, hint: str = "", line: int = 0, column: int = 0) -> ProjectError:
        return ProjectError([Problem(Place(shown, line, column), message, hint)])

    try:
        _scan(text, shown)
        node = yaml.compose(text, Loader=_LOADER)
    except yaml.MarkedYAMLError as error:
        raise refuse(*_plainly(error, text)) from None
    except yaml.reader.ReaderError as error:
        line = text.encode().count(b"\n", 0, error.position) + 1
        raise refuse("there is a character here that YAML does not allow", "delete it", line, 1) from None
    if node is None:
        raise refuse("the file is empty", "start one with: handouts new NAME")
    if not isinstance(node, yaml.MappingNode):
        raise refuse("the file must hold keys with their values", "start it with title: …", *_mark(node))
    document = Document(shown, {}, text.splitlines())
    builder = _Builder(document)
    document.values = builder.build(node, ())
    if builder.problems:
        raise ProjectError(builder.problems)
    return document


_LOADER: Any = getattr(yaml, "CBaseLoader", yaml.BaseLoader)


def _mark(node: yaml.Node) -> tuple[int, int]:
    return node.start_mark.line + 1, node.start_mark.column + 1


def _scan(text: str, shown: str) -> None:
    """Refuse anchors, aliases, depth and sheer number before a tree is built."""
    depth = 0
    for count, event in enumerate(yaml.parse(text, Loader=_LOADER)):
        mark = event.start_mark
        where = Place(shown, mark.line + 1, mark.column + 1) if mark else Place(shown)
        if isinstance(event, yaml.AliasEvent) or getattr(event, "anchor", None):
            raise ProjectError(
                [
                    Problem(
                        where,
                        "anchors (&) and aliases (*) are not read",
                        "write the value out, or put quotes around the text",
                    )
                ]
            )
        if isinstance(event, yaml.CollectionStartEvent):
            depth += 1
        elif isinstance(event, yaml.CollectionEndEvent):
            depth -= 1
        if depth > _DEEPEST:
            raise ProjectError(
                [Problem(where, f"values are nested more than {_DEEPEST} deep", "a project file needs far fewer")]
            )
        if count > _MOST_NODES:
            raise ProjectError([Problem(where, f"the file holds more than {_MOST_NODES:,} values")])


def _plainly(error: yaml.MarkedYAMLError, text: str) -> tuple[str, str, int, int]:
    """PyYAML's complaint in plain words: message, hint, line and column."""
    said = f"{error.context or ''} {error.problem or ''}".lower()
    mark = error.problem_mark or error.context_mark
    at = (mark.line, mark.column) if mark else (0, 0)
    if "nesting depth" in said:
        message = f"values are nested more than {_DEEPEST} deep"
        return message, "a project file needs far fewer", at[0] + 1, at[1] + 1
    opened = (error.context_mark.line, error.context_mark.column) if error.context_mark else None
    slip = slip_of(said, text.splitlines(), at=at, opened=opened, quoted=_long_quote(text))
    return slip.message, slip.hint, slip.at[0] + 1, slip.at[1] + 1


def _long_quote(text: str) -> Spot | None:
    """Where the last text in quotes before a fault begins, if it runs over more than one line."""
    last = None
    try:
        for event in yaml.parse(text, Loader=_LOADER):
            if isinstance(event, yaml.ScalarEvent) and event.style in ("'", '"'):
                last = event
    except yaml.YAMLError:
        pass
    begins, ends = (last.start_mark, last.end_mark) if last is not None else (None, None)
    if begins is None or ends is None or begins.line == ends.line:
        return None
    return begins.line, begins.column


class _Builder:
    """Walks a node tree into plain values, noting places and problems."""

    def __init__(self, document: Document) -> None:
        self.document = document
        self.problems: list[Problem] = []

    def build(self, node: yaml.Node, key: Key) -> Any:
        self.document._nodes[key] = node
        if node.tag not in _IMPLICIT:
            self.problems.append(
                Problem(self.document.place(key), "tags (!) are not read", "put quotes around the text")
            )
        if isinstance(node, yaml.MappingNode):
            return self._mapping(node, key)
        if isinstance(node, yaml.SequenceNode):
            return [self.build(child, (*key, index)) for index, child in enumerate(node.value)]
        assert isinstance(node, yaml.ScalarNode)
        # YAML lets such signs in by escapes such as \\e.
        if UNSEEN.search(node.value):
            self.problems.append(
                Problem(self.document.place(key), "this text holds a character that cannot be seen", "write it without")
            )
            return ""
        return _scalar(node)

    def _mapping(self, node: yaml.MappingNode, key: Key) -> dict[str, Any]:
        made: dict[str, Any] = {}
        for key_node, value_node in node.value:
            here = Place(self.document.file, key_node.start_mark.line + 1, key_node.start_mark.column + 1, written(key))
            if not isinstance(key_node, yaml.ScalarNode):
                self.problems.append(Problem(here, "a key must be a word", "write key: value"))
                continue
            name = key_node.value
            if name in made:
                first = self.document.place((*key, name), of_key=True).line
                message = f"'{name}' stands here twice; the first is on line {first}"
                if isinstance(key[-1] if key else None, int) and name == next(iter(made)):
                    # An entry of a list that begins again: all that follows is the next one, and no fault of its own.
                    self.problems.append(Problem(here, message, f"write - {name}: if the next entry begins here"))
                    break
                self.problems.append(Problem(here, message, "keep one of them"))
                continue
            self.document._keys[(*key, name)] = key_node
            made[name] = self.build(value_node, (*key, name))
        return made


def _scalar(node: yaml.ScalarNode) -> Any:
    """A scalar by the YAML 1.2 core rules, numbers of sane length only."""
    text: str = node.value
    if node.style not in (None, ""):
        return text
    if text in ("", "~", "null", "Null", "NULL"):
        return None
    if text in ("true", "True", "TRUE", "false", "False", "FALSE"):
        return text.lower() == "true"
    if _INT.fullmatch(text):
        return int(text)
    if _FLOAT.fullmatch(text):
        return float(text)
    return text
