"""The house itself: names, imports and the documents that must keep up with the code.

Each law is one test that names every place that breaks it.
"""

from __future__ import annotations

import ast
import importlib
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

from handouts_build.schema.models import WORKINGS
from tests import house
from tests.house import ROOT, modules, opening, parsed

_SAY_NOTHING = {"one", "many", "thing", "things"}
"""Names that hold anything: whoever reads them must look up what they hold."""


def _sources() -> list[Path]:
    return [*modules().values(), *sorted((ROOT / "tests").rglob("*.py"))]


def _bound(path: Path) -> tuple[set[str], set[str]]:
    """Public names a package's file makes for itself, and those it takes in only to offer them."""
    tree = parsed(path)
    used = {node.id for node in ast.walk(tree) if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Load)}
    made: set[str] = set()
    taken: set[str] = set()
    for node in tree.body:
        match node:
            case ast.FunctionDef() | ast.ClassDef():
                made.add(node.name)
            case ast.Assign():
                made |= {target.id for target in node.targets if isinstance(target, ast.Name)}
            case ast.AnnAssign(target=ast.Name(id=name)):
                made.add(name)
            case ast.ImportFrom() if node.module != "__future__":
                taken |= {alias.asname or alias.name for alias in node.names}
    return {name for name in made if not name.startswith("_")}, taken - used


def _unlisted() -> Iterator[str]:
    for name, path in modules().items():
        if path.name != "__init__.py":
            continue
        package = importlib.import_module(name)
        offered = set(getattr(package, "__all__", ()))
        made, taken = _bound(path)
        yield from (f"{name} makes {extra}, which __all__ lacks" for extra in sorted((made | taken) - offered))


def _amiss_in_all() -> Iterator[str]:
    for name in modules():
        module = importlib.import_module(name)
        offered = list(getattr(module, "__all__", ()))
        yield from (f"{name} offers {twice} twice" for twice in {item for item in offered if offered.count(item) > 1})
        yield from (f"{name} offers {item}, which is not there" for item in offered if not hasattr(module, item))


def test_a_package_offers_what_its_all_says_and_nothing_else() -> None:
    """What a package defines or takes in without using it is what it offers; the rest of `__all__` it uses too."""
    assert list(_unlisted()) == []


def test_everything_in_a_modules_all_is_there_once() -> None:
    assert list(_amiss_in_all()) == []


def test_a_module_opens_with_the_idea_it_owns() -> None:
    said = {name: opening(path) for name, path in modules().items()}
    assert {name: words for name, words in said.items() if not words or words[-1] not in ".?!:"} == {}


def test_nothing_is_imported_by_star() -> None:
    starred = [
        f"{path.relative_to(ROOT)}:{node.lineno}"
        for path in _sources()
        for node in ast.walk(parsed(path))
        if isinstance(node, ast.ImportFrom) and any(alias.name == "*" for alias in node.names)
    ]
    assert starred == []


def test_the_map_of_rooms_is_up_to_date() -> None:
    """If this fails: python -m tests.house"""
    assert house.DEVELOPERS.read_text(encoding="utf-8") == house.developers()


def test_the_table_of_modules_is_up_to_date() -> None:
    """If this fails: python -m tests.house"""
    assert house.MODULES.read_text(encoding="utf-8") == house.module_table()


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


def _homes() -> dict[str, list[str]]:
    """Where each class of the library is defined, by its name without the underscore of a private one."""
    homes: dict[str, list[str]] = {}
    for name, path in modules().items():
        for node in ast.walk(parsed(path)):
            if isinstance(node, ast.ClassDef):
                homes.setdefault(node.name.lstrip("_"), []).append(f"{name}:{node.lineno}")
    return homes


def test_no_two_classes_have_one_name() -> None:
    """A private class counts like a public one: who searches for a name finds one class."""
    shared = {name: homes for name, homes in _homes().items() if len(homes) > 1}
    assert shared == {}


def _vague() -> Iterator[str]:
    """The places where a module binds a name that says nothing."""
    for name, path in modules().items():
        for node in ast.walk(parsed(path)):
            bound = ""
            if isinstance(node, ast.arg):
                bound = node.arg
            elif isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store):
                bound = node.id
            if bound in _SAY_NOTHING:
                yield f"{name}:{node.lineno} binds '{bound}'"


def test_a_variable_says_what_it_holds() -> None:
    """Loops, comprehensions, arguments and assignments: `row`, `step`, `finding` instead of `one`."""
    assert list(_vague()) == []


def test_no_two_files_of_tests_have_one_name() -> None:
    """Pytest knows a module by its file's name alone: the second would not be run."""
    names = [path.name for path in (ROOT / "tests").rglob("test_*.py")]
    assert sorted(name for name in set(names) if names.count(name) > 1) == []
