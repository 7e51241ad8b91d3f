"""The map of rooms in DEVELOPERS.md and the table of modules, made from the code itself.

A room is a folder or module directly in the library; a room stands on a higher floor than
every room it imports. `python -m tests.house` writes both anew; a test fails where one is
out of date.
"""

from __future__ import annotations

import ast
from functools import cache
from pathlib import Path

ROOT = Path(__file__).parents[1]
DEVELOPERS = ROOT / "DEVELOPERS.md"
MODULES = ROOT / "handouts_build" / "MODULES.md"

_LIBRARY, _PLUGIN = "handouts_build", "mkdocs_handouts"
_OPENS, _CLOSES = "<!-- map: made by python -m tests.house -->\n", "<!-- end of map -->\n"
_LINES, _COUNTED = "<!-- lines: made by python -m tests.house -->\n", "<!-- end of lines -->\n"
_HEAD = """\
# Modules

Made from the opening sentence of each module by `python -m tests.house`. How the rooms hang together
stands in [DEVELOPERS.md](../DEVELOPERS.md).

"""


@cache
def modules() -> dict[str, Path]:
    """Every module of the library and the plugin by its dotted name."""
    found: dict[str, Path] = {}
    for home in (ROOT, ROOT / "plugins"):
        for package in (_LIBRARY, _PLUGIN):
            for path in (home / package).rglob("*.py"):
                parts = path.relative_to(home).with_suffix("").parts
                found[".".join(part for part in parts if part != "__init__")] = path
    return dict(sorted(found.items()))


@cache
def parsed(path: Path) -> ast.Module:
    """A file's syntax tree, read once."""
    return ast.parse(path.read_text(encoding="utf-8"))


def opening(path: Path) -> str:
    """The first sentence of a module's docstring; empty if it has none."""
    said = ast.get_docstring(parsed(path)) or ""
    return " ".join(said.partition("\n\n")[0].split())


def room_of(module: str) -> str:
    """The room a module stands in; the plugin is one room. Empty for the library itself."""
    package, _, rest = module.partition(".")
    return package if package == _PLUGIN else rest.partition(".")[0]


def imported(module: str) -> set[str]:
    """The modules of the house that a module imports, inside its functions too."""
    names: set[str] = set()
    for node in ast.walk(parsed(modules()[module])):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            names |= {f"{node.module}.{alias.name}" for alias in node.names}
            names.add(node.module)
    return names & modules().keys()


def rooms() -> dict[str, set[str]]:
    """Every room with the other rooms it imports."""
    found: dict[str, set[str]] = {}
    for module in modules():
        if (room := room_of(module)) and room != "__main__":
            found.setdefault(room, set()).update(room_of(other) for other in imported(module))
    return {room: others - {room, ""} for room, others in found.items()}


def floors() -> list[list[str]]:
    """The rooms by floor, the ground floor first.

    Raises:
        ValueError: If rooms import each other in a circle.
    """
    left, built = rooms(), set[str]()
    stories: list[list[str]] = []
    while left:
        story = sorted(room for room, others in left.items() if others <= built)
        if not story:
            raise ValueError(f"a circle among {', '.join(sorted(left))}")
        stories.append(story)
        built |= set(story)
        for room in story:
            del left[room]
    return stories


def house_map() -> str:
    """The rooms from the top floor down: what each is for, and the rooms it imports directly."""
    paths = modules()
    lines = ["| floor | room | what it is for | imports |", "| ---: | --- | --- | --- |"]
    all_rooms = rooms()
    for number, story in reversed(list(enumerate(floors(), start=1))):
        for room in story:
            path = paths[room if room == _PLUGIN else f"{_LIBRARY}.{room}"]
            asked = ", ".join(f"`{other}`" for other in sorted(all_rooms[room])) or "nothing"
            lines.append(f"| {number} | `{room}` | {opening(path)} | {asked} |")
    return "\n".join(lines) + "\n"


def module_table() -> str:
    """The table of modules, as Markdown."""
    rows = (f"| `{name}` | {opening(path)} |" for name, path in modules().items())
    return _HEAD + "\n".join(("| module | idea |", "| --- | --- |", *rows)) + "\n"


def lines_of_projects() -> str:
    """How many lines each demo piece takes, without empty ones and those that hold a remark alone."""
    rows = ["| project | lines |", "| --- | ---: |"]
    for path in sorted(set((ROOT / "projects").glob("*.yml")) - {ROOT / "projects" / "shop.yml"}):
        lines = [line.strip() for line in path.read_text(encoding="utf-8").splitlines()]
        rows.append(f"| {path.stem} | {sum(bool(line) and not line.startswith('#') for line in lines)} |")
    return "\n".join(rows) + "\n"


def developers() -> str:
    """DEVELOPERS.md as it should be: its own words, with the map and the lines as the code has them."""
    text = DEVELOPERS.read_text(encoding="utf-8")
    for opens, made, closes in ((_OPENS, house_map(), _CLOSES), (_LINES, lines_of_projects(), _COUNTED)):
        before, _, rest = text.partition(opens)
        text = f"{before}{opens}\n{made}\n{closes}{rest.partition(closes)[2]}"
    return text


if __name__ == "__main__":
    MODULES.write_text(module_table(), encoding="utf-8")
    DEVELOPERS.write_text(developers(), encoding="utf-8")
