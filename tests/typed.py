"""A command as it is typed, run in the tests' own process: loading the library anew takes longer than most of them."""

from __future__ import annotations

import io
import sys
from contextlib import redirect_stderr, redirect_stdout

import pytest

from handouts_build.cli import main

__all__ = ["typed"]


def typed(*arguments: str) -> tuple[int, str, str]:
    """Run `handouts` with these arguments where one stands.

    Returns:
        Exit status, what it printed, and what it complained of.
    """
    out, err, status = io.StringIO(), io.StringIO(), 0
    with pytest.MonkeyPatch.context() as patch, redirect_stdout(out), redirect_stderr(err):
        patch.setattr(sys, "argv", ["handouts", *arguments])
        try:
            main()
        except SystemExit as left:
            status = int(left.code or 0)
    return status, out.getvalue(), err.getvalue()
