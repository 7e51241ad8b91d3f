"""What all tests share: how hard hypothesis tries, the day, where compiled code lies, one process, no one's cache."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from handouts_build.disk import workers
from tests.effort import tries

# No deadline: the machine that runs the tests may be busy with others.
settings.register_profile(
    "house", max_examples=tries(30, 100), deadline=None, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("house")


# What is announced and what is over goes by the day: here it is 2026-05-01 for ever, and so for every command they run.
os.environ["SOURCE_DATE_EPOCH"] = "1777636800"


# Where nothing compiled may lie beside the sources it is kept with pytest's own things: otherwise every process that
# runs tests, and every command that they start, would compile the tests and the library anew.
if sys.dont_write_bytecode:
    sys.pycache_prefix = str(Path(__file__).parents[1] / ".pytest_cache" / "bytecode")
    sys.dont_write_bytecode = False
    os.environ["PYTHONPYCACHEPREFIX"] = sys.pycache_prefix
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)


@pytest.fixture(autouse=True)
def _no_process_beside(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Have a test's own process make everything: to start another takes longer than most of what is asked of it.

    As on a machine that lets no process be started. Whatever a test runs as a command of its own starts them, and so do
    those marked `processes`.
    """
    if request.node.get_closest_marker("processes") is None:
        monkeypatch.setattr(workers, "_MOST", 0)


@pytest.fixture(autouse=True)
def _own_cache(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    """Keep the user's cache out of the tests."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(_cache(tmp_path_factory)))


def _cache(factory: pytest.TempPathFactory) -> Path:
    """One for all processes that run the tests: what one has worked out the others need not.

    `HANDOUTS_KEPT` names one that is there already, as CI's is from building the site of the same checkout.
    """
    if kept := os.environ.get("HANDOUTS_KEPT"):
        return Path(kept)
    base = factory.getbasetemp()
    folder = (base.parent if "PYTEST_XDIST_WORKER" in os.environ else base) / "user-cache"
    folder.mkdir(exist_ok=True)
    return folder
