"""Plain pages that lead on: from the short address on a paper, and from names that a project had before.

This module owns which there are and what stands on them. The one on a paper says first whether that
printing still holds. They hold nothing that a site engine would have to fill, so that they work from
a disk and after the engine is another.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from handouts_build.outputs.data import version_of
from handouts_build.outputs.output import Address, Output
from handouts_build.outputs.pages.filling import filled
from handouts_build.outputs.pages.showings import affected
from handouts_build.outputs.policy import with_policy
from handouts_build.sheet import Erratum, Sheet

__all__ = ["Led", "led_to", "redirects"]

_SHORT = "p"
"""The folder of the short addresses."""


@dataclass(frozen=True)
class Led:
    """What these pages say of the project that they lead to."""

    name: str
    title: str
    formerly: tuple[str, ...]
    versions: Mapping[str, str]
    """Those of its papers that hold, each with what tells it from the others."""
    errata: tuple[Erratum, ...] = ()


def led_to(sheet: Sheet) -> Led:
    """What they say of a project.

    Args:
        sheet: The project, worked out.
    """
    versions = {version_of(sheet): "", **{version_of(ready.sheet): ready.says for ready in sheet.ready}}
    return Led(sheet.name, sheet.title, sheet.formerly, versions, sheet.errata)


def redirects(led: Led, paths: Iterable[str], address: Address) -> Iterator[Output]:
    """The pages that lead to a project's pages from elsewhere.

    Args:
        led: The project.
        paths: Of its files on the site.
        address: Where the archive is published.
    """
    home = f"projects/{led.name}"
    for name in (led.name, *led.formerly):
        source = f"{_SHORT}/{name}"
        yield Output(f"{source}{_FILES[address.ending]}", _still_right(led, address, source, home).encode())
    pages = [path.removesuffix(".md") for path in paths if path.endswith(".md")]
    ways = [(f"projects/{old}{page.removeprefix(home)}", page) for old in led.formerly for page in pages]
    for source, target in ways:
        yield Output(f"{source}{_FILES[address.ending]}", _page(led.title, address, source, target).encode())


_FILES = {"/": "/index.html", ".html": ".html"}
"""What a page's file ends in, by how its address ends."""


def _still_right(led: Led, address: Address, source: str, target: str) -> str:
    """The page that a printed code leads to: whether that printing still holds; without a printing it leads on.

    Args:
        led: The project.
        address: Where the archive is published.
        source: The page's own place, without its ending.
        target: The place that it leads to, likewise.
    """
    way, canonical = _ways(address, source, target)
    text = filled("still-right.html.j2", led=led, way=way, canonical=canonical, affected=affected)
    return with_policy(text)


def _page(title: str, address: Address, source: str, target: str) -> str:
    """One page that leads on.

    Args:
        title: Of the project.
        address: Where the archive is published.
        source: The page's own place, without its ending.
        target: The place that it leads to, likewise.
    """
    way, canonical = _ways(address, source, target)
    return filled("redirect.html.j2", title=title, way=way, canonical=canonical)


def _ways(address: Address, source: str, target: str) -> tuple[str, str]:
    """The way from one page to another, and the other's whole address if it has one."""
    # From a disk there is no host that would find the page of a folder.
    up = "../" * (source.count("/") + (1 if address.ending == "/" else 0))
    way = f"{up}{target}{_FILES[address.ending] if not address.site_url else address.ending}"
    return way, address.of(f"{target}{address.ending}")
