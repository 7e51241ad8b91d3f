"""The page's scripts as text: their types, their dialect, and what is left out when they are published."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
from pathlib import Path

import pytest

from handouts_build.outputs.scripts import published_script

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
OUTPUTS = ROOT / "handouts_build" / "outputs"
FOLDERS = (
    OUTPUTS / "assets" / "js", OUTPUTS / "evening" / "templates", ROOT / "handouts_build" / "bench" / "files",
    ROOT / "plugins" / "mkdocs_handouts" / "assets",
)  # fmt: skip
SCRIPTS = sorted(path for folder in FOLDERS for path in folder.glob("*.js"))
PAGES = sorted([*(ROOT / "plugins").rglob("*.html"), *OUTPUTS.rglob("*.j2")])
ALLOWED = {"bench.js": ["fetch("], "iframe-worker.js": ["document.write"], "late-search.js": ["XMLHttp"]}


def inline() -> list[tuple[str, str]]:
    """Scripts that stand in templates of pages, with the page's name; a value that is put in is a word."""
    found = [
        (page.name, source)
        for page in PAGES
        for source in re.findall(r"<script>(.*?)</script>", page.read_text(encoding="utf-8"), re.DOTALL)
    ]
    return [(name, re.sub(r"\{\{.*?\}\}", "word", source)) for name, source in found if source != "{{ js }}"]


def checker() -> str:
    """The type checker, installed by `npm ci` in this folder."""
    needed = os.environ.get("HANDOUTS_NEED_NODE") == "1"
    found = shutil.which("tsc", path=str(HERE / "node_modules" / ".bin"))
    if found is None or shutil.which("node") is None:
        (pytest.fail if needed else pytest.skip)("there is no TypeScript here: run npm ci in tests/scripts")
    return found


def complaints(settings: Path) -> str:
    ran = subprocess.run(
        [checker(), "--project", str(settings)], capture_output=True, text=True, check=False, timeout=120
    )
    return ran.stdout + ran.stderr


def test_every_script_keeps_its_types_and_knows_its_globals() -> None:
    assert complaints(HERE / "tsconfig.json") == ""


def test_the_checker_finds_a_global_that_nobody_declared_and_a_wrong_type(tmp_path: Path) -> None:
    """So that its silence means something."""
    broken = SCRIPTS[0].read_text(encoding="utf-8").replace('"use strict";', '"use strict";\n  undeclared(1);', 1)
    (tmp_path / "one.js").write_text(broken, encoding="utf-8")
    (tmp_path / "two.js").write_text('(() => { location.hash = Number("1"); })();\n', encoding="utf-8")
    settings = {"extends": str(HERE / "tsconfig.json"), "files": [str(HERE / "page.d.ts")], "include": ["*.js"]}
    (tmp_path / "tsconfig.json").write_text(json.dumps(settings), encoding="utf-8")
    said = complaints(tmp_path / "tsconfig.json")
    assert "Cannot find name 'undeclared'" in said
    assert "Type 'number' is not assignable to type 'string'" in said


def test_scripts_inside_pages_use_no_undeclared_global(tmp_path: Path) -> None:
    for number, (page, source) in enumerate(inline()):
        (tmp_path / f"{number}-{page}.js").write_text(source, encoding="utf-8")
    settings = {
        "extends": str(HERE / "tsconfig.json"), "files": [str(HERE / "page.d.ts")], "include": ["*.js"],
        "compilerOptions": {"strict": False, "noUnusedLocals": False},
    }  # fmt: skip
    (tmp_path / "tsconfig.json").write_text(json.dumps(settings), encoding="utf-8")
    said = complaints(tmp_path / "tsconfig.json")
    assert not [line for line in said.splitlines() if "Cannot find name" in line or "TS1" in line], said


FROM_TEXT = (
    "eval(", "new Function", "innerHTML", "outerHTML", "insertAdjacentHTML", "document.write", "fetch(", "XMLHttp",
)  # fmt: skip

OLD = re.compile(r"\bvar [A-Za-z_]|(?<!\")\bfunction\b(?!:)|\barguments\b|`|^(?:import|export)\b", re.MULTILINE)


def test_one_dialect() -> None:
    """Classic scripts of arrow functions in strict mode; no text over several lines; nothing made from text."""
    texts = [(path.name, path.read_text(encoding="utf-8")) for path in SCRIPTS]
    assert len(texts) >= 12
    for name, text in texts:
        assert re.match(r'/\* (?:(?!\*/).)*\*/\n\(\(\) => \{\n  "use strict";\n', text, re.DOTALL), name
        assert text.endswith("})();\n"), name
    for name, text in [*texts, *inline()]:
        code = re.sub(r"/\*.*?\*/", "", text, flags=re.DOTALL)
        assert not OLD.search(code), name
        for word in set(FROM_TEXT) - set(ALLOWED.get(name, ())):
            assert word not in code, (name, word)


def test_only_comments_and_white_space_are_left_out_when_a_script_is_published() -> None:
    for path in SCRIPTS:
        source = path.read_text(encoding="utf-8")
        bare, inside = [], False
        for line in map(str.strip, source.splitlines()):
            opens = line.startswith("/*")
            if inside or (opens and (line.endswith("*/") or "*/" not in line)):
                inside = "*/" not in line
            elif line:
                # What a sentence says in English stands for itself.
                bare.append(re.sub(r'\btr\(("[^"]*")\)', r"\1", line))
        assert published_script(source).splitlines() == [line.rstrip() for line in bare], path.name


def test_a_comment_before_code_on_its_line_takes_no_code_with_it() -> None:
    source = "/* head */\n(() => {\n  /** @type {A} */ (a).b = 1;\n  c();\n  /* d\n     e */\n})();\n"
    assert published_script(source) == "(() => {\n/** @type {A} */ (a).b = 1;\nc();\n})();\n"


def test_the_lock_file_names_no_registry() -> None:
    text = (HERE / "package-lock.json").read_text(encoding="utf-8")
    assert "http" not in text
    assert json.loads(text)["packages"][""]["devDependencies"] == {"typescript": "7.0.2"}
