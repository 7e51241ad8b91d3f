"""The map of modules in DEVELOPERS.md, made from the modules' opening sentences.

`python -m tests.house` writes it anew; a test fails where it is out of date.
"""

from __future__ import annotations

import ast
from pathlib import Path

ROOT = Path(__file__).parents[1]
DEVELOPERS = ROOT / "DEVELOPERS.md"
HEADING = "## Modules\n"


def modules() -> dict[str, Path]:
    """Every module of the library and the plugin by its dotted name."""
    found: dict[str, Path] = {}
    for home in (ROOT, ROOT / "plugins"):
        for package in ("handouts_build", "mkdocs_handouts"):
            for path in (home / package).rglob("*.py"):
                parts = path.relative_to(home).with_suffix("").parts
                found[".".join(part for part in parts if part != "__init__")] = path
    return dict(sorted(found.items()))


def opening(path: Path) -> str:
    """The first sentence of a module's docstring; empty if it has none."""
    said = ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))) or ""
    return " ".join(said.partition("\n\n")[0].split())


def module_map() -> str:
    """The table of modules, as Markdown."""
    rows = (f"| `{name}` | {opening(path)} |" for name, path in modules().items())
    return "\n".join(("| module | idea |", "| --- | --- |", *rows)) + "\n"


def written() -> str:
    """DEVELOPERS.md as it should be."""
    before, heading, _ = DEVELOPERS.read_text(encoding="utf-8").partition(HEADING)
    return f"{before}{heading or HEADING}\n{module_map()}"


if __name__ == "__main__":
    DEVELOPERS.write_text(written(), encoding="utf-8")
