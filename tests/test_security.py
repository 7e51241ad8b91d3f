"""Files come from other people: nothing of them runs, leaks, or takes long."""

from __future__ import annotations

import ast
import contextlib
import os
import time
from pathlib import Path

import pytest

from handouts_build.formulas import FormulaFault, parse, value_of
from handouts_build.problems import ProjectError
from handouts_build.quantities import QuantityFault, count, read_quantity
from handouts_build.site.build import read_archive
from tests.bad_input.generated import PIECE

ROOT = Path(__file__).parents[1]
LIBRARY = sorted((ROOT / "handouts_build").rglob("*.py")) + sorted((ROOT / "plugins").rglob("*.py"))
SECONDS = 20.0
"""Processor time, so that a busy machine fails nobody."""


@pytest.fixture(autouse=True, scope="module")
def _warm(tmp_path_factory: pytest.TempPathFactory) -> None:
    """Pay for imports before anything is timed."""
    folder = tmp_path_factory.mktemp("warm")
    (folder / "piece.yml").write_text(PIECE, encoding="utf-8")
    assert read_archive(folder, base=folder).sheets


NEVER_CALLED = {"eval", "exec", "compile", "__import__", "breakpoint", "input"}
NEVER_IMPORTED = {
    "pickle", "marshal", "shelve", "dill", "ctypes", "subprocess", "socket", "urllib", "http", "requests", "ftplib",
    "telnetlib", "smtplib", "xmlrpc", "code", "codeop", "runpy", "importlib.util",
}  # fmt: skip
TAKES_ADDRESSES_APART = "urllib.parse"
"""It opens nothing."""
THE_BENCH = {"handouts_build/bench/serving.py": {"http", "http.server"}}
"""It answers on this machine alone, while whoever writes has it open; `tests/bench` holds it to that."""
THE_WALL = {"handouts_build/door/landlock.py": {"ctypes"}, "handouts_build/disk/exchange.py": {"ctypes"}}
"""One asks the kernel to refuse things, one to exchange two names: Python has no call for either."""
NEVER_READ = {("os", "system"), ("os", "popen"), ("yaml", "unsafe_load"), ("yaml", "full_load")}


@pytest.mark.parametrize("path", LIBRARY, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_nothing_in_the_library_runs_text_opens_a_connection_or_unpickles(path: Path) -> None:
    allowed = THE_WALL.get(path.relative_to(ROOT).as_posix(), set())
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and ast.unparse(node.func) == "yaml.load":
            assert "Safe" in ast.unparse(node) or "_LOADER" in ast.unparse(node), f"line {node.lineno}"
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            assert node.func.id not in NEVER_CALLED, f"line {node.lineno}"
        if isinstance(node, ast.Import):
            for name in {imported.name for imported in node.names} - allowed:
                assert name not in NEVER_IMPORTED, f"line {node.lineno}"
                assert name.partition(".")[0] not in NEVER_IMPORTED, f"line {node.lineno}"
        if isinstance(node, ast.ImportFrom) and node.module:
            if node.module in {TAKES_ADDRESSES_APART, *THE_BENCH.get(path.relative_to(ROOT).as_posix(), ())}:
                continue
            assert node.module not in NEVER_IMPORTED, f"line {node.lineno}"
            assert node.module.partition(".")[0] not in NEVER_IMPORTED, f"line {node.lineno}"
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            assert (node.value.id, node.attr) not in NEVER_READ, f"line {node.lineno}"


HOSTILE = [
    "(" * 300,
    "((((((((((((((((((((1",
    "9^6^6^6^6",
    "((((((9^6)^6)^6)^6)^6)^6)^6",
    "9" * 300,
    "9" * 299 + "^6",
    "." + "0" * 290 + "1 in",
    "-" * 299 + "a",
    "a" * 300,
    "a." * 150,
    "1 " * 150,
    "1/" * 150,
    "1 1/" * 75,
    "exp(" * 20 + "700" + ")" * 20,
    "sqrt(" * 20 + "2" + ")" * 20,
    "max(" + "1," * 100 + "1)",
    "*" * 300,
    "½" * 300,
    " " * 300,
    "\u00a0" * 300,
    "1 in" + " * 1 in" * 40,
    "__import__('os').system('true')",
    "().__class__.__bases__[0].__subclasses__()",
    "{0.__class__}",
    "open('/etc/passwd')",
    "lambda: 0",
]


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_a_hostile_formula_is_a_fault_or_a_value_at_once(text: str) -> None:
    started = time.process_time()
    with contextlib.suppress(FormulaFault):
        value_of(parse(text), {"a": count(1)}.__getitem__)
    assert time.process_time() - started < SECONDS


@pytest.mark.parametrize("text", [*HOSTILE, "9**9**9 in", "1e999 mm", "9" * 100_000, " " * 100_000, "1/" * 50_000])
def test_a_hostile_measure_is_a_fault_or_a_value_at_once(text: str) -> None:
    started = time.process_time()
    with contextlib.suppress(QuantityFault):
        read_quantity(text)
    assert time.process_time() - started < SECONDS


def _filled(line: str, *, most: int = 250_000) -> str:
    """The sound piece with as many lines of a kind as a file can hold."""
    many = most // (len(line) + 8)
    return PIECE.replace("dimensions:\n", "dimensions:\n" + "".join(line.format(n=n) for n in range(many)))


LARGE = {
    "keys that are not there": "a{n}: 1\n".join([""] * 2) + PIECE + "".join(f"b{n}: 1\n" for n in range(8_000)),
    "one key over and over": PIECE + "title: x\n" * 9_000,
    "dimensions": _filled("  d{n}: {{formula: ball, says: It}}\n", most=90_000),
    "long formulas": _filled("  d{n}: {{formula: " + "ball + " * 40 + "1 in, says: It}}\n"),
    "wrong formulas": _filled("  d{n}: {{formula: ball ++ , says: It}}\n", most=90_000),
    "unknown names in text": PIECE + "supplies:\n" + ("  - '" + "{a}{ab}{abc}{zz}" * 10 + "'\n") * 1_500,
    "open brackets": PIECE.replace("say: Turn it", "say: '" + "{ " * 1_900 + "' #"),
    "spaces": PIECE.replace("say: Turn it", "say: '{" + " " * 3_900 + "' #"),
    "stars": PIECE.replace("Turn it to", "*a " * 1_300),
    "newlines": PIECE.replace("say: Turn it to {ball}.", 'say: "' + "\\n \\n" * 900 + ' "'),
    "a very long key": "k" * 200_000 + ": 1\n" + PIECE,
    "a very long word": PIECE.replace("ball / 2", "b" * 200_000),
    "a very long choice": PIECE.replace("improver", "i" * 200_000),
    "quotes": PIECE + "'" * 200_000,
    "opening braces": PIECE + "{" * 200_000,
    "question marks": PIECE + "? " * 100_000,
    "deep indentation": PIECE + "".join(" " * n + "a:\n" for n in range(600)),
    "cycles": PIECE.replace(
        "dimensions:\n",
        "dimensions:\n" + "".join(f"  c{n}: {{formula: c{(n + 1) % 150}, says: It}}\n" for n in range(150)),
    ),
}


@pytest.mark.parametrize("name", LARGE)
def test_a_hostile_file_is_answered_within_two_seconds(name: str, tmp_path: Path) -> None:
    (tmp_path / "piece.yml").write_text(LARGE[name], encoding="utf-8")
    started = time.process_time()
    said = _said(tmp_path)
    assert len(said) < 60_000
    assert time.process_time() - started < SECONDS


def _said(folder: Path) -> str:
    try:
        read_archive(folder, base=folder)
    except ProjectError as error:
        return str(error)
    return ""


def test_what_lies_beside_a_project_is_never_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every file that reading opens is the project, its shop file, or a picture in its own folder."""
    projects = tmp_path / "projects"
    (projects / "piece").mkdir(parents=True)
    (projects / "piece" / "picture.jpg").write_bytes(b"picture")
    (projects / "secret.txt").write_text("secret")
    (tmp_path / "secret.yml").write_text("secret")
    names = ["picture.jpg", "../secret.txt", "../../secret.yml", str(tmp_path / "secret.yml")]
    listed = "".join(f"  - {{file: '{name}', shows: It}}\n" for name in names)
    (projects / "piece.yml").write_text(f"{PIECE}pictures:\n{listed}", encoding="utf-8")
    opened: list[str] = []
    real = os.open

    def watched(path: str | Path, *arguments: int) -> int:
        opened.append(os.fspath(path))
        return real(path, *arguments)

    monkeypatch.setattr(os, "open", watched)
    with pytest.raises(ProjectError) as caught:
        read_archive(projects, base=tmp_path)
    assert len(caught.value.problems) == 3
    assert any(path.endswith("piece.yml") for path in opened)
    assert not [path for path in opened if "secret" in path]
