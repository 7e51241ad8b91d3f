"""The own-size scripts alone, as they are published, in a page with nothing else in it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Page, Route

from handouts_build.outputs.pages.assets import OWN_SCRIPTS
from handouts_build.outputs.pages.own_size_constants import constants
from handouts_build.outputs.scripts import published_script

ASSETS = Path(__file__).parents[2] / "handouts_build" / "outputs" / "assets"

CONSTANTS: dict[str, Any] = json.loads(json.dumps(constants()))
"""What the scripts share with the library, as a page has it."""


HOME = "http://handouts.test/"
"""Where the page stands; nobody is asked for it."""


def scripted(browser: Browser, body: str = "", **files: str) -> Page:
    """A page with the scripts that make up the own-size panel, all of it or no more than their parts.

    Args:
        browser: The browser.
        body: What stands on the page before they run.
        **files: What the page may load, by the end of its address without `.js`, strokes for hyphens.
    """
    page = browser.new_page()
    text = f"<!doctype html><html lang=en><title>A test</title><body>{body}</body></html>"

    def answer(route: Route) -> None:
        name = route.request.url.rpartition("/")[2].removesuffix(".js").replace("-", "_")
        if name in files:
            route.fulfill(body=files[name], content_type="text/javascript; charset=utf-8")
        else:
            route.fulfill(body=text, content_type="text/html; charset=utf-8")

    page.route("**/*", answer)
    page.goto(HOME)
    for path in OWN_SCRIPTS:
        page.add_script_tag(content=published_script((ASSETS / "js" / Path(path).name).read_text(encoding="utf-8")))
    return page
