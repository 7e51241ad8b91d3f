"""What is made once for all the processes that run the tests side by side."""

from __future__ import annotations

import os
import time
from collections.abc import Callable
from pathlib import Path

import pytest

__all__ = ["made_once"]


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
