"""Bad input that no readable text file can hold: too large, too deep, or not text at all."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

__all__ = ["GENERATED", "PIECE", "Made"]

PIECE = """\
title: Test piece
summary: A small piece for testing.
kind: ornament
level: improver
techniques: [bead]
sizes:
  ball: {is: 2 in, says: Diameter of the ball}
dimensions:
  half: {formula: ball / 2, says: Half of it}
parts:
  body:
    wood: maple, sugar
    blank: {round: ball + 1/4 in, long: ball + 1 in}
    steps:
      - name: Turn it
        say: Turn it to {ball}.
"""
"""A project that is sound."""


@dataclass(frozen=True)
class Made:
    """One case: how its files are written, and what must be said."""

    name: str
    write: Callable[[Path], object]
    message: str
    place: str = "projects/piece.yml"


def _text(old: str, new: str) -> Callable[[Path], object]:
    """The sound piece with one thing put in another's place."""
    assert old in PIECE
    return lambda folder: (folder / "piece.yml").write_text(PIECE.replace(old, new, 1), encoding="utf-8")


def _raw(content: bytes) -> Callable[[Path], object]:
    return lambda folder: (folder / "piece.yml").write_bytes(content)


def _huge(folder: Path) -> None:
    with (folder / "piece.yml").open("wb") as file:
        file.write(PIECE.encode() + b"# ")
        file.truncate(50 * 1024 * 1024)


def _linked(folder: Path) -> None:
    """A picture that is a symbolic link out of the project's folder."""
    outside = folder.parent / "private.jpg"
    outside.write_bytes(b"not to be shown")
    (folder / "piece").mkdir()
    (folder / "piece" / "picture.jpg").symlink_to(outside)
    _with_picture(folder)


def _linked_folder(folder: Path) -> None:
    """A folder of pictures that is a symbolic link to somewhere else."""
    elsewhere = folder.parent / "elsewhere"
    elsewhere.mkdir()
    (elsewhere / "picture.jpg").write_bytes(b"not to be shown")
    (folder / "piece").symlink_to(elsewhere)
    _with_picture(folder)


def _circle(folder: Path) -> None:
    (folder / "piece").mkdir()
    (folder / "piece" / "picture.jpg").symlink_to("picture.jpg")
    _with_picture(folder)


def _with_picture(folder: Path, name: str = "picture.jpg") -> None:
    text = f'{PIECE}pictures:\n  - {{file: "{name}", shows: Something}}\n'
    (folder / "piece.yml").write_text(text, encoding="utf-8")


def _file_linked(folder: Path) -> None:
    (folder.parent / "elsewhere.yml").write_text(PIECE, encoding="utf-8")
    (folder / "piece.yml").symlink_to(folder.parent / "elsewhere.yml")


def _through(folder: Path) -> None:
    """A way to a picture that comes back from another project's folder, where one of that name is overwritten."""
    (folder / "piece").mkdir()
    (folder / "piece" / "picture.jpg").write_bytes(b"mine")
    (folder / "other").mkdir()
    (folder / "piece" / "side").symlink_to(folder / "other")
    _with_picture(folder, "side/../piece/picture.jpg")


def _pipe_beside(folder: Path) -> None:
    (folder / "piece").mkdir()
    os.mkfifo(folder / "piece" / "picture.jpg")
    _with_picture(folder)


def _sparse(folder: Path) -> None:
    (folder / "piece").mkdir()
    with (folder / "piece" / "picture.jpg").open("wb") as file:
        file.truncate(40 * 10**9)
    _with_picture(folder)


def _crowd(folder: Path) -> None:
    (folder / "piece").mkdir()
    for number in range(10_001):
        (folder / "piece" / f"{number}.txt").touch()
    (folder / "piece.yml").write_text(PIECE, encoding="utf-8")


def _burrow(folder: Path) -> None:
    (folder / "piece" / "/".join("a" * 40)).mkdir(parents=True)
    (folder / "piece.yml").write_text(PIECE, encoding="utf-8")


def _device_name(folder: Path) -> None:
    (folder / "con.yml").write_text(PIECE, encoding="utf-8")


def _folder(folder: Path) -> None:
    (folder / "piece.yml").mkdir()


def _pipe(folder: Path) -> None:
    os.mkfifo(folder / "piece.yml")


def _chain(links: int) -> str:
    """Aliases that would unfold to ten times as much with each line."""
    lines = ["a0: &a0 [x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 10)}]" for n in range(1, links)]
    return "\n".join(lines)


_TITLE = "title: Test piece"
GENERATED = (
    Made("fifty megabytes", _huge, "52,428,800 bytes; at most"),
    Made("not UTF-8", _raw(PIECE.replace("small", "sm\xe5ll").encode("latin-1")), "not UTF-8", ":2:14"),
    Made("UTF-16", _raw(PIECE.encode("utf-16")), "not UTF-8", ":1:1"),
    Made("nought bytes", _raw(PIECE.replace("small", "sm\0ll").encode()), "character here that YAML does not", ":2:"),
    Made(
        "reading order turned round",
        _text(_TITLE, 'title: "Knob \\u202egpj.exe"'),
        "character that cannot be seen",
        ":1:8: title",
    ),
    Made("escaped nought byte", _text(_TITLE, 'title: "a\\0b"'), "character that cannot be seen", ":1:8: title"),
    Made("terminal codes", _text(_TITLE, 'title: "\\e[2Jball"'), "character that cannot be seen", ":1:8: title"),
    Made(
        "ten thousand digits",
        _text("is: 2 in", f"is: {'9' * 10_000} in"),
        "10,003 characters long",
        ":7:14: sizes.ball.is",
    ),
    Made("ten thousand digits, no unit", _text("is: 2 in", f"is: {'9' * 10_000}"), "10,000 characters long", ":7:14"),
    Made(
        "ten thousand minutes",
        _text("name: Turn it\n", f"name: Turn it\n        minutes: {'9' * 10_000}\n"),
        "not a number of minutes",
    ),
    Made("long formula", _text("ball / 2", "ball" + " + ball" * 100), "704 characters long", "dimensions.half.formula"),
    Made(
        "thousand brackets",
        _text("ball / 2", "(" * 1000 + "ball" + ")" * 1000),
        "characters long",
        "dimensions.half.formula",
    ),
    Made(
        "deep formula",
        _text("ball / 2", "(" * 100 + "ball" + ")" * 100),
        "nested more than 20 deep",
        ":9:39: dimensions.half.formula",
    ),
    Made("deep YAML", _text("[bead]", "[" * 1000 + "]" * 1000), "nested more than 20 deep", ":5:"),
    Made("deep YAML, never closed", _text("[bead]", "[" * 200_000), "nested more than 20 deep", ":5:"),
    Made("many values", _text("[bead]", f"[{'a, ' * 30_000}]"), "more than 20,000 values", ":5:"),
    Made(
        "billion laughs", _text(_TITLE, f"{_chain(10)}\n{_TITLE}"), "anchors (&) and aliases (*) are not read", ":1:5"
    ),
    Made(
        "many names",
        _text("dimensions:\n", "dimensions:\n" + "".join(f"  d{n}: {{formula: ball, says: It}}\n" for n in range(250))),
        "252 values; at most 200",
    ),
    Made("long text", _text("say: Turn it", f"say: {'Turn it. ' * 1000}"), "characters; at most 4,000", "steps[0].say"),
    Made("long line", _text("Test piece", "Test piece " * 50), "characters; at most 160", ":1:8: title"),
    Made(
        "open brackets in text",
        _text("say: Turn it", "say: '{" + " " * 3900 + "' #"),
        "curly bracket stands alone",
        "steps[0].say",
    ),
    Made("link to a picture outside", _linked, "it is a link", "projects/piece/picture.jpg"),
    Made("link to a folder outside", _linked_folder, "it is a link", "projects/piece"),
    Made("link to itself", _circle, "it is a link", "projects/piece/picture.jpg"),
    Made("link for a file", _file_linked, "it is a link", "projects/piece.yml"),
    Made("link to another project's folder, and back", _through, "it is a link", "projects/piece/side"),
    Made("pipe for a picture", _pipe_beside, "it is a pipe", "projects/piece/picture.jpg"),
    Made("40 GB of nothing for a picture", _sparse, "it has 40,000,000,000 bytes", "projects/piece/picture.jpg"),
    Made("more files than anybody has", _crowd, "more than 10,000 files", "projects/piece"),
    Made("folders without end", _burrow, "more than 6 deep", "projects/piece/a/a/a/a/a/a/a"),
    Made("name of a device", _device_name, "cannot be a project's file name", "projects/con.yml"),
    Made(
        "picture of too long a name",
        lambda folder: _with_picture(folder, "é" * 150 + ".jpg"),
        "there is no picture",
        "pictures[0].file",
    ),
    Made("folder for a file", _folder, "it is a folder"),
    Made("pipe for a file", _pipe, "it is a pipe"),
)
