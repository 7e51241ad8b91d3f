"""An installation of the library that has one more language: for tests that go the whole way with it."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

from babel.messages import Catalog

from tests import catalogue as dictionary

__all__ = ["Run", "installed"]

_ROOT = Path(__file__).parents[2]

Run = Callable[..., str]
"""`run(*words, cwd=…)`: a module of Python and its arguments, in a process of its own; what it told."""


def installed(root: Path, tag: str, catalog: Catalog) -> Run:
    """Copy the library, lay the language beside it, and say how a command of that copy is run.

    Args:
        root: An empty folder; `installed` and `kept` in it are the copy and its cache.
        tag: What the language is called.
        catalog: Its sentences.
    """
    home = root / "installed"
    for package in ("handouts_build", "plugins/mkdocs_handouts"):
        shutil.copytree(_ROOT / package, home / package, ignore=shutil.ignore_patterns("__pycache__"))
    (home / "handouts_build" / "language" / f"{tag}.mo").write_bytes(dictionary.compiled(catalog))
    env = {
        **os.environ,
        "PYTHONPATH": os.pathsep.join((str(home), str(home / "plugins"))),
        "XDG_CACHE_HOME": str(root / "kept"),
        "NO_MKDOCS_2_WARNING": "1",
    }

    def run(*words: str, cwd: Path) -> str:
        done = subprocess.run([sys.executable, "-m", *words], cwd=cwd, env=env, capture_output=True, text=True)
        assert done.returncode == 0, done.stderr
        return done.stdout + done.stderr

    return run
