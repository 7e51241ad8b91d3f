"""How processes of ours begin."""

from __future__ import annotations

import os

import pytest

from handouts_build.disk.workers import one_thread

_NAME = "OPENBLAS_NUM_THREADS"
"""What OpenBLAS reads as it is loaded: its own documentation, "Setting the number of threads using environment
variables"."""


def test_linear_algebra_has_one_thread_unless_somebody_says_otherwise(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(_NAME, "3")
    one_thread()
    assert os.environ[_NAME] == "3", "whoever said how many is obeyed"
    monkeypatch.delenv(_NAME)
    one_thread()
    assert os.environ[_NAME] == "1"
