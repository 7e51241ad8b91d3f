"""What is installed is pinned, with hashes and without the address of any index."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[1]
PLAIN = (ROOT / "constraints.txt").read_text(encoding="utf-8")
HASHED = (ROOT / "constraints-hashed.txt").read_text(encoding="utf-8")


def pins(text: str) -> dict[str, str]:
    found = re.findall(r"^([A-Za-z0-9._-]+)==([^\s;\\]+)", text, re.MULTILINE)
    return {re.sub(r"[-_.]+", "-", name).lower(): release for name, release in found}


def test_both_lists_pin_the_same_releases_and_the_second_every_file_of_them() -> None:
    assert pins(PLAIN) == pins(HASHED)
    blocks = re.split(r"^(?=[A-Za-z0-9])", HASHED, flags=re.MULTILINE)[1:]
    assert all(re.search(r"--hash=sha256:[0-9a-f]{64}", block) for block in blocks)


def test_neither_names_an_index() -> None:
    assert "://" not in PLAIN + HASHED
    assert "index-url" not in PLAIN + HASHED


def test_what_builds_the_package_is_pinned_too() -> None:
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    for required in settings["build-system"]["requires"]:
        name, release = required.split("==")
        assert pins(PLAIN)[name] == release
    known = pins(PLAIN)
    # What builds it asks for these, the first where it is installed with -e; without isolation nobody else brings them.
    assert {"editables", "tomlkit", "pathspec", "pluggy", "packaging", "trove-classifiers"} <= set(known)
    for required in settings["project"]["dependencies"]:
        name = re.match(r"[A-Za-z0-9._-]+", required)[0]  # type: ignore[index]
        assert re.sub(r"[-_.]+", "-", name).lower() in known
