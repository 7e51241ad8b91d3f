"""The demo archive, built once, and a browser to look at it with.

Without a browser these tests are skipped with the reason. Where they must run, as in
CI, `HANDOUTS_NEED_BROWSER=1` makes its absence a failure.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Error, Page, Route, sync_playwright

from tests.browser.host import serving
from tests.shared import made_once

ROOT = Path(__file__).parents[2]
_NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
_QUIET = ("--disable-background-networking", "--disable-component-update", "--no-first-run", "--disable-sync")


@dataclass
class Looking:
    """A page being looked at, and what went on behind it."""

    page: Page
    asked: list[str] = field(default_factory=list)
    """Addresses asked of any host but the site's own."""
    complaints: list[str] = field(default_factory=list)
    """Errors and warnings in the console, and scripts that failed."""


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """The system's Chromium."""
    path = next((found for name in _NAMES if (found := shutil.which(name))), None)
    needed = os.environ.get("HANDOUTS_NEED_BROWSER") == "1"
    if path is None:
        (pytest.fail if needed else pytest.skip)("there is no Chromium on this machine")
    # Chromium refuses its sandbox to root; only then is it switched off.
    root = ["--no-sandbox"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []
    with sync_playwright() as play:
        try:
            found = play.chromium.launch(executable_path=path, args=[*_QUIET, *root])
        except Error as error:
            (pytest.fail if needed else pytest.skip)(f"Chromium does not start: {error.message.splitlines()[0]}")
        yield found
        found.close()


@pytest.fixture(scope="session")
def site(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo archive's site, built once for all workers. It asks for the browser, so that nothing is built in vain.

    `HANDOUTS_SITE` names one that is built already, for those who change a test or a script and look again.
    """
    if built := os.environ.get("HANDOUTS_SITE"):
        return Path(built)
    return made_once(tmp_path_factory, "site", _build)


def _build(target: Path) -> None:
    subprocess.run(
        [sys.executable, "-m", "mkdocs", "build", "--quiet", "--strict", "--site-dir", str(target)],
        cwd=ROOT,
        check=True,
        env=os.environ | {"NO_MKDOCS_2_WARNING": "1"},
    )


@pytest.fixture(scope="session")
def served(site: Path) -> Iterator[str]:
    """The site's address while it is served on this machine."""
    with serving(site) as address:
        yield address


@pytest.fixture
def look(browser: Browser) -> Iterator[Any]:
    """Open a page: `look(address, width=…, scheme=…)`. No other host can be reached from it."""
    contexts = []

    def open_page(address: str, *, width: int = 1280, scheme: str = "light", motion: str = "no-preference") -> Looking:
        context = browser.new_context(
            viewport={"width": width, "height": 900},
            color_scheme=scheme,  # type: ignore[arg-type]
            reduced_motion=motion,  # type: ignore[arg-type]
        )
        contexts.append(context)
        seen = Looking(context.new_page())
        home = address.split("/")[2] if address.startswith("http") else ""

        def pass_on(route: Route) -> None:
            url = route.request.url
            ours = url.startswith(("data:", "blob:", "about:")) or (
                url.startswith("file:") if not home else url.split("/")[2] == home
            )
            if ours:
                route.continue_()
            else:
                seen.asked.append(url)
                route.abort()

        context.route("**/*", pass_on)
        seen.page.on(
            "console", lambda one: seen.complaints.append(one.text) if one.type in {"error", "warning"} else None
        )
        seen.page.on("pageerror", lambda error: seen.complaints.append(str(error)))
        seen.page.goto(address)
        seen.page.wait_for_load_state("load")
        seen.page.evaluate("document.fonts.ready.then(() => null)")
        return seen

    yield open_page
    for context in contexts:
        context.close()
