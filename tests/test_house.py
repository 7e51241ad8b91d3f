"""The house itself: names, sizes, imports and the documents that must keep up with the code."""

from __future__ import annotations

import ast
import importlib
import os
import subprocess
import sys
from pathlib import Path

import pytest

from handouts_build.schema.models import WORKINGS
from tests.house import DEVELOPERS, ROOT, modules, opening, written

MODULES = modules()
PACKAGES = [name for name, path in MODULES.items() if path.name == "__init__.py"]
MOST_LINES = 400


def sources() -> list[Path]:
    return [*MODULES.values(), *sorted((ROOT / "tests").rglob("*.py"))]


def _bound(path: Path) -> tuple[set[str], set[str]]:
    """Public names a package's file makes for itself, and those it takes in only to offer them."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    used = {node.id for node in ast.walk(tree) if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load)}
    made: set[str] = set()
    taken: set[str] = set()
    for node in tree.body:
        match node:
            case ast.FunctionDef() | ast.ClassDef():
                made.add(node.name)
            case ast.Assign():
                made |= {one.id for one in node.targets if isinstance(one, ast.Name)}
            case ast.AnnAssign(target=ast.Name(id=name)):
                made.add(name)
            case ast.ImportFrom() if node.module != "__future__":
                taken |= {one.asname or one.name for one in node.names}
    return {name for name in made if not name.startswith("_")}, taken - used


@pytest.mark.parametrize("name", PACKAGES)
def test_a_package_offers_what_its_all_says_and_nothing_else(name: str) -> None:
    """What a package defines or takes in without using it is what it offers; the rest of `__all__` it uses too."""
    package = importlib.import_module(name)
    offered = set(getattr(package, "__all__", ()))
    made, taken = _bound(MODULES[name])
    assert {name for name in made | taken if not name.startswith("__")} <= offered
    assert all(hasattr(package, name) for name in offered)


@pytest.mark.parametrize("name", MODULES)
def test_everything_in_a_modules_all_is_there_once(name: str) -> None:
    module = importlib.import_module(name)
    offered = list(getattr(module, "__all__", ()))
    assert len(offered) == len(set(offered))
    assert all(hasattr(module, one) for one in offered)


@pytest.mark.parametrize("name", MODULES)
def test_a_module_opens_with_the_idea_it_owns(name: str) -> None:
    said = opening(MODULES[name])
    assert said, f"{name} has no docstring"
    assert said[-1] in ".?!:", said


@pytest.mark.parametrize("path", sources(), ids=lambda path: path.relative_to(ROOT).as_posix())
def test_a_module_stays_short(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= MOST_LINES


@pytest.mark.parametrize("path", sources(), ids=lambda path: path.relative_to(ROOT).as_posix())
def test_nothing_is_imported_by_star(path: Path) -> None:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom):
            assert all(one.name != "*" for one in node.names)


def test_the_map_of_modules_is_up_to_date() -> None:
    """If this fails: python -m tests.house"""
    assert DEVELOPERS.read_text(encoding="utf-8") == written()


def test_imports_go_one_way() -> None:
    """The contracts in pyproject.toml, checked as `lint-imports` does."""
    code = "import sys; from importlinter.cli import lint_imports; sys.exit(lint_imports(no_cache=True))"
    ran = subprocess.run(
        [sys.executable, "-c", code],
        cwd=ROOT,
        env={
            **os.environ,
            "PYTHONPATH": os.pathsep.join((str(ROOT), str(ROOT / "plugins"))),
            "PYTHONIOENCODING": "utf-8",
        },
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=120,
        check=False,
    )
    assert ran.returncode == 0, ran.stdout + ran.stderr
    assert " 0 broken." in ran.stdout


def test_the_readme_tells_of_every_chapter() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    for chapter in WORKINGS:
        assert f"| {chapter} |" in readme, chapter
