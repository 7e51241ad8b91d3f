"""The demo archive, built once, and a browser to look at it with.

Without a browser these tests are skipped with the reason. Where they must run, as in
CI, `HANDOUTS_NEED_BROWSER=1` makes its absence a failure.
"""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Error, Page, Request, expect, sync_playwright

from tests.browser.host import BLANK, BLANK_NAME, serving
from tests.browser.solid_page import SOFTWARE, launched
from tests.shared import built_site

# What is expected of a page is waited for, however busy the machine is.
expect.set_options(timeout=60_000)

ROOT = Path(__file__).parents[2]
_NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
_QUIET = ("--disable-background-networking", "--disable-component-update", "--no-first-run", "--disable-sync")
# Asking Python about every request would take as long as the page itself; so no name but this machine's leads anywhere.
_ALONE = ("--no-proxy-server", "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1, EXCLUDE localhost")


class Looking:
    """A page being looked at, and what went on behind it."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.asked: list[str] = []
        """Addresses asked of any host but the site's own."""
        self.complaints: list[str] = []
        """Errors and warnings in the console, and scripts that failed."""
        self._home = ""
        page.context.on("request", self._heard)
        page.context.on("requestfailed", self._held_back)
        page.on(
            "console", lambda line: self.complaints.append(line.text) if line.type in {"error", "warning"} else None
        )
        page.on("pageerror", lambda error: self.complaints.append(str(error)))

    def go(self, address: str) -> None:
        """Open an address, and wait for its scripts and its lettering."""
        self._home = address.split("/")[2] if address.startswith("http") else ""
        self.page.goto(address)
        self.page.wait_for_load_state("load")
        self.page.evaluate("document.fonts.ready.then(() => null)")

    def forget(self) -> None:
        """Begin again with nothing asked and nothing complained of."""
        self.asked.clear()
        self.complaints.clear()

    def _foreign(self, url: str) -> bool:
        if url.startswith(("data:", "blob:", "about:")):
            return False
        return url.split("/")[2] != self._home if self._home else not url.startswith("file:")

    def _heard(self, request: Request) -> None:
        if self._foreign(request.url):
            self.asked.append(request.url)

    def _held_back(self, request: Request) -> None:
        """What the page's own policy held back was never asked."""
        if request.failure == "csp" and request.url in self.asked:
            self.asked.remove(request.url)


def rest(page: Page, blank: str) -> None:
    """Leave what a page shows, and throw away what it has kept.

    Args:
        page: The page.
        blank: The address of an empty page beside what is looked at next.
    """
    page.goto(blank)
    page.evaluate("() => { localStorage.clear(); sessionStorage.clear(); }")
    # Away from what was pressed, so that nothing on the next page lies under it.
    page.mouse.move(0, 0)


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
            found = play.chromium.launch(executable_path=path, args=[*_QUIET, *_ALONE, *root])
        except Error as error:
            (pytest.fail if needed else pytest.skip)(f"Chromium does not start: {error.message.splitlines()[0]}")
        yield found
        found.close()


@pytest.fixture(scope="session")
def drawing(browser: Browser) -> Iterator[Browser]:
    """A browser with WebGL on any machine."""
    made = launched(browser, *SOFTWARE)
    yield made
    made.close()


@pytest.fixture(autouse=True)
def _leaves_nothing_open(request: pytest.FixtureRequest) -> Iterator[None]:
    """Close what a test opened, failed or not: pages left open make each test after it slower."""
    browsers = [request.getfixturevalue(name) for name in ("browser", "drawing") if name in request.fixturenames]
    standing = [context for browser in browsers for context in browser.contexts]
    yield
    for context in [context for browser in browsers for context in browser.contexts if context not in standing]:
        context.close()


@pytest.fixture(scope="session")
def site(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo archive's site. It asks for the browser, so that nothing is built in vain."""
    return built_site(tmp_path_factory)


@pytest.fixture(scope="session")
def served(site: Path) -> Iterator[str]:
    """The site's address while it is served on this machine."""
    with serving(site) as address:
        yield address


@pytest.fixture
def look(browser: Browser) -> Any:
    """Open a page of its own: `look(address, width=…, scheme=…)`. No other host can be reached from it."""

    def open_page(address: str, *, width: int = 1280, scheme: str = "light", motion: str = "no-preference") -> Looking:
        context = browser.new_context(
            viewport={"width": width, "height": 900},
            color_scheme=scheme,  # type: ignore[arg-type]
            reduced_motion=motion,  # type: ignore[arg-type]
        )
        seen = Looking(context.new_page())
        seen.go(address)
        return seen

    return open_page


@pytest.fixture(scope="session")
def _standing(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> tuple[Looking, str]:
    """A page that goes from address to address, and an empty page on the disk for it to rest on."""
    blank = tmp_path_factory.mktemp("blank") / "blank.html"
    blank.write_text(BLANK, encoding="utf-8")
    return Looking(browser.new_context().new_page()), blank.as_uri()


@pytest.fixture
def glance(_standing: tuple[Looking, str]) -> Any:
    """The same as `look`, but one page goes from address to address: for tests that leave nothing with it.

    A page of its own takes a process of its own, and its scripts and lettering are read afresh; that costs more than
    most of what is looked at. Whatever a page keeps is thrown away before each address, so that no test sees the one
    before. Who adds scripts, holds answers back or needs two pages at once takes `look`.
    """
    seen, blank = _standing

    def open_page(
        address: str,
        *,
        width: int = 1280,
        scheme: str = "light",
        motion: str = "no-preference",
        forced: str = "none",
    ) -> Looking:
        page = seen.page
        home = re.match(r"https?://[^/]+/", address)
        rest(page, f"{home[0]}{BLANK_NAME}" if home else blank)
        page.set_viewport_size({"width": width, "height": 900})
        page.emulate_media(
            # As if nothing had been said: where a screen is asked for, it is a screen's look that is printed.
            media="null",
            color_scheme=scheme,  # type: ignore[arg-type]
            reduced_motion=motion,  # type: ignore[arg-type]
            forced_colors=forced,  # type: ignore[arg-type]
        )
        seen.forget()
        seen.go(address)
        return seen

    return open_page
