"""The pages under another site engine: what it must be told, and whether the site it built of them holds together.

An engine takes Markdown's own links along, but not the addresses in HTML, and builds in silence where it lacks an
extension or is told of no style sheet. So what it needs is said when the pages are written, and what it built is
looked over. This module owns both.
"""

from __future__ import annotations

import posixpath
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

from handouts_build.disk.reading import walk
from handouts_build.language import ENGLISH, spoken
from handouts_build.outputs.output import Address
from handouts_build.outputs.pages.assets import SCRIPT, STYLES
from handouts_build.problems import Place, Problem, ProjectError

__all__ = ["EXTENSIONS", "look_over", "needs"]

EXTENSIONS = ("meta", "md_in_html", "tables", "toc")
"""What the pages use beyond plain Markdown, as Python-Markdown calls it: a head of settings, Markdown within HTML,
tables, and names of headings."""

_MOST, _DEEPEST, _LARGEST = 200_000, 24, 20_000_000
_LEFT_OVER = re.compile(r"\]\([^()\s]+\)")
"""A link of Markdown that stands on a page as it was written."""


def needs(address: Address) -> tuple[str, ...]:
    """What an engine must be told to show the pages, a sentence each.

    Args:
        address: Where they are published; its ending says how the addresses of pages end.
    """
    form = "a folder each (…/lantern/)" if address.ending == "/" else "a file each (…/lantern.html)"
    return (
        f"Markdown's extensions, by any name: {', '.join(EXTENSIONS)}",
        f"on every page the style sheets {', '.join(STYLES)}",
        f"on every page the script {SCRIPT}, deferred",
        "where its theme makes the browser's letters larger or smaller, --hb-size on :root, which is to be 20 px",
        f"pages have {form}; what is not Markdown is copied as it is",
        *((f"the pages are in the language '{spoken()}': <html lang> says so",) if spoken() != ENGLISH else ()),
    )


@dataclass
class _SeenPage(HTMLParser):
    """What is asked of one built page."""

    ours: bool = False
    """Whether anything on it is from our pages."""
    asks: list[str] = field(default_factory=list)
    """Addresses on it."""
    left_over: str = ""
    """The first link that was not laid out."""

    def __post_init__(self) -> None:
        super().__init__()
        self._quiet = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        values = {name: value or "" for name, value in attrs}
        self.ours |= "hb" in values.get("class", "").split()
        self._quiet += tag in {"code", "pre", "script", "style"}
        self.asks += [values[name] for name in ("href", "src", "data-hb-src") if name in values]
        self.asks += [part.split()[0] for part in values.get("srcset", "").split(",") if part.strip()]

    def handle_endtag(self, tag: str) -> None:
        self._quiet -= tag in {"code", "pre", "script", "style"}

    def handle_data(self, data: str) -> None:
        if not self._quiet and not self.left_over and (found := _LEFT_OVER.search(data)):
            self.left_over = found[0]


def look_over(site: Path) -> int:
    """Whether a site that another engine built of our pages holds together.

    Args:
        site: The folder that it was built into.

    Returns:
        How many of its pages are made of ours.

    Raises:
        ProjectError: Where there are none, or one lacks a style sheet or the script, holds a link that was not laid
            out, or asks for what is not there: a line for each of these, with how often and the first.
    """
    names = {entry.path.relative_to(site).as_posix() for entry in walk(site, most=_MOST, deepest=_DEEPEST)}
    faults: dict[str, list[str]] = {}
    pages = 0
    for name in sorted(name for name in names if name.endswith(".html")):
        seen = _SeenPage()
        seen.feed((site / name).read_bytes()[:_LARGEST].decode("utf-8", "replace"))
        if not seen.ours:
            continue
        pages += 1
        for fault, what in _faults(seen, name, names):
            faults.setdefault(fault, []).append(f"{what} on {name}")
    place = Place(site.as_posix())
    if not pages:
        raise ProjectError([Problem(place, "no page here is made of ours", "name the folder that the engine built")])
    if faults:
        raise ProjectError([Problem(place, *_said(fault, found)) for fault, found in faults.items()])
    return pages


_HINTS: Mapping[str, str] = {
    "addresses that lead nowhere": "write the pages as the engine forms addresses: --addresses files, or folders",
    "pages without a style sheet of ours": f"name on every page: {', '.join(STYLES)}",
    "pages without our script": f"name on every page, deferred: {SCRIPT}",
    "pages with a link that was not laid out": f"switch on Markdown's extensions: {', '.join(EXTENSIONS)}",
}


def _faults(seen: _SeenPage, name: str, names: set[str]) -> Iterator[tuple[str, str]]:
    """What is wrong with one page: which of the hints, and what it is about."""
    nowhere, styles, script, left_over = _HINTS
    asked = {found for ask in seen.asks if (found := _leads(ask, name))}
    for found in sorted(asked):
        if found not in names and posixpath.join(found, "index.html") not in names:
            yield nowhere, found
    if missing := [style for style in STYLES if style not in asked]:
        yield styles, missing[0]
    if SCRIPT not in asked:
        yield script, SCRIPT
    if seen.left_over:
        yield left_over, seen.left_over


def _leads(ask: str, name: str) -> str:
    """Which file of the site an address on a page asks for; empty for the page itself and other hosts."""
    address = urlsplit(ask)
    if address.scheme or address.netloc or not address.path:
        return ""
    path = unquote(address.path)
    whole = path[1:] if path.startswith("/") else posixpath.join(posixpath.dirname(name), path)
    found = posixpath.normpath(whole)
    return "index.html" if found == "." else found


def _said(fault: str, found: list[str]) -> tuple[str, str]:
    return f"{fault}: {len(found):,}, the first {found[0]}", _HINTS[fault]
