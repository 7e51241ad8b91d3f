"""Plain pages that lead on: from the short address on a paper, and from names that a project had before.

This module owns which there are and what stands on them. They hold nothing that a site engine
would have to fill, so that they work from a disk and after the engine is another.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from handouts_build.outputs.output import Address, Output
from handouts_build.outputs.pages.filling import filled
from handouts_build.sheet import Sheet

__all__ = ["redirects"]

_SHORT = "p"
"""The folder of the short addresses."""


def redirects(sheet: Sheet, paths: Iterable[str], address: Address) -> Iterator[Output]:
    """The pages that lead to a project's pages from elsewhere.

    Args:
        sheet: The project, worked out.
        paths: Of its files on the site.
        address: Where the archive is published.
    """
    home = f"projects/{sheet.name}"
    ways = [(f"{_SHORT}/{name}", home) for name in (sheet.name, *sheet.formerly)]
    pages = [path.removesuffix(".md") for path in paths if path.endswith(".md")]
    ways += [(f"projects/{old}{page.removeprefix(home)}", page) for old in sheet.formerly for page in pages]
    for source, target in ways:
        yield Output(f"{source}{_FILES[address.ending]}", _page(sheet.title, address, source, target).encode())


_FILES = {"/": "/index.html", ".html": ".html"}
"""What a page's file ends in, by how its address ends."""


def _page(title: str, address: Address, source: str, target: str) -> str:
    """One page that leads on.

    Args:
        title: Of the project.
        address: Where the archive is published.
        source: The page's own place, without its ending.
        target: The place that it leads to, likewise.
    """
    # From a disk there is no host that would find the page of a folder.
    up = "../" * (source.count("/") + (1 if address.ending == "/" else 0))
    way = f"{up}{target}{_FILES[address.ending] if not address.site_url else address.ending}"
    base = address.site_url.rstrip("/")
    canonical = f"{base}/{target}{address.ending}" if base else ""
    return filled("redirect.html.j2", title=title, way=way, canonical=canonical)
