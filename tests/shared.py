"""What is made once for all the processes that run the tests side by side."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

__all__ = ["built_site", "made_once"]


def made_once(factory: pytest.TempPathFactory, name: str, make: Callable[[Path], None]) -> Path:
    """A folder that the first process to ask for it makes, and that the others wait for.

    Args:
        factory: Knows the run's folder for temporary files, and each worker's own within it.
        name: What the folder is called.
        make: Fills the folder, whose path it is given; the folder is not there yet.

    Returns:
        The folder.

    Raises:
        RuntimeError: In those that wait, if the one that makes it failed.
    """
    base = factory.getbasetemp()
    if "PYTEST_XDIST_WORKER" in os.environ:
        base = base.parent
    target, failed, whole = base / name, base / f"{name}.failed", base / f"{name}.whole"
    try:
        (base / f"{name}.begun").mkdir()
    except FileExistsError:
        while not whole.exists():
            if failed.exists():
                raise RuntimeError(f"the tests' {name} could not be made; the worker that tried says why") from None
            time.sleep(0.1)
        return target
    try:
        make(target)
    except BaseException:
        failed.touch()
        raise
    whole.touch()
    return target


def built_site(factory: pytest.TempPathFactory) -> Path:
    """The demo archive's site, built once for all the tests that look at what is published.

    `HANDOUTS_SITE` names one that is built already, for those who change a test or a script and look again.
    """
    if built := os.environ.get("HANDOUTS_SITE"):
        return Path(built)
    return made_once(factory, "site", _build)


def _build(target: Path) -> None:
    subprocess.run(
        [sys.executable, "-m", "mkdocs", "build", "--quiet", "--strict", "--site-dir", str(target)],
        cwd=Path(__file__).parents[1],
        check=True,
        env=os.environ | {"NO_MKDOCS_2_WARNING": "1"},
    )
