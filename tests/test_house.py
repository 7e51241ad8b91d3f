"""The house itself: names, imports and the documents that must keep up with the code.

Each law is one test that names every place that breaks it.
"""

from __future__ import annotations

import ast
import importlib
import os
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

from handouts_build.schema.models import WORKINGS
from tests import house
from tests.house import ROOT, modules, opening, parsed

_SPEAKING = ("compute", "outputs/pages", "outputs/papers")
"""Where the words are put together that a reader of pages and papers meets."""

_NO_LISTS_FOR_READERS = {
    # Addresses of one picture in several sizes, as HTML has them.
    "outputs/pages/as_issued.py": {"way", "_placed"},
    # Problems of a file, which are an author's and not translated.
    "outputs/papers/typeset.py": {"_faults"},
    "compute/photographs.py": {"_named"},
    "compute/profiles.py": {"_element"},
    "compute/solid/holds.py": {"_fits"},
}
"""Functions that put commas between what no reader reads as a sentence."""

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


def _joins(path: Path) -> Iterator[tuple[str, int]]:
    """Where a module puts a list together with signs or words of its own: the function it is in, and the line."""

    def within(node: ast.AST, function: str) -> Iterator[tuple[str, int]]:
        match node:
            case ast.FunctionDef():
                function = node.name
            case ast.Call(func=ast.Attribute(value=ast.Constant(value=str(sign)), attr="join")):
                if sign.strip() in {",", ";", "and", "or"}:
                    yield function, node.lineno
        for child in ast.iter_child_nodes(node):
            yield from within(child, function)

    return within(parsed(path), "")


def test_a_list_that_a_reader_reads_is_put_together_by_the_languages_own_patterns() -> None:
    """By `language.joined`: a language may have another sign between, or another word before the last."""
    library = ROOT / "handouts_build"
    found: dict[str, set[str]] = {}
    amiss = []
    for room in _SPEAKING:
        for path in sorted((library / room).rglob("*.py")):
            name = path.relative_to(library).as_posix()
            for function, line in _joins(path):
                found.setdefault(name, set()).add(function)
                if function not in _NO_LISTS_FOR_READERS.get(name, ()):
                    amiss.append(f"{name}:{line}: listed, one_of or in_a_row of handouts_build.language")
        for path in sorted([*(library / room).rglob("*.j2"), *(library / room).rglob("*.typ")]):
            for number, line in enumerate(path.read_text("utf-8").splitlines(), start=1):
                if re.search(r"join\(\s*[\"'] ?(,|;|and|or) ", line):
                    amiss.append(f"{path.relative_to(library)}:{number}: have it put together by its module")
    assert amiss == []
    # No leave is kept for what is no longer there.
    assert {name: found.get(name, set()) & leave for name, leave in _NO_LISTS_FOR_READERS.items()} == (
        _NO_LISTS_FOR_READERS
    )
