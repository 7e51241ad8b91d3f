"""The theme's search index, put into parts.

This module owns the meeting with the search plugin: it collects what may be found, and here that is
put into the library's form, of which a page loads what a query needs.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path

from mkdocs.structure.pages import Page

from handouts_build.disk.cache import Cache, code_key, content_key, read
from handouts_build.outputs.search_index import FoundSection, search_index

__all__ = ["piece_of", "put_into_parts"]


def piece_of(page: Page) -> str:
    """The name of the piece that a page of ours is about; empty for a page about several."""
    room, _, rest = page.file.src_uri.partition("/")
    return rest.partition("/")[0].removesuffix(".md") if room == "projects" else ""


def put_into_parts(site: Path, pictures: Mapping[str, str], besides: Mapping[str, str], cache: Cache) -> None:
    """Leave the index that the search plugin wrote empty, and write what was in it in parts beside it.

    Args:
        site: The folder of the site; nothing is done where there is no index in it.
        pictures: Of what pages are about, by their addresses: paths on the site; empty where there is none.
        besides: What a page is found by, too, and that is not shown of it, by its address.
        cache: Where the parts are kept between builds.
    """
    folder = site / "search"
    whole = folder / "search_index.json"
    if not whole.is_file():
        return
    written = whole.read_bytes()
    kept = json.loads(written)
    small = {address: _small(site, picture) for address, picture in pictures.items() if picture}

    def parts() -> dict[str, bytes]:
        return search_index(
            FoundSection(
                entry["location"], entry["title"], entry["text"], float(entry.get("boost", 1.0)),
                small.get(entry["location"], ""), besides.get(entry["location"], ""),
            )
            for entry in kept["docs"]
        )  # fmt: skip

    key = content_key(code_key(), "search", written, json.dumps([small, besides], sort_keys=True))
    for name, content in cache.files(key, parts).items():
        (folder / name).write_bytes(read(content))
    whole.write_text(json.dumps({**kept, "docs": []}, separators=(",", ":")), encoding="utf-8")


def _small(site: Path, picture: str) -> str:
    """The path of a picture made for cards, where it was; else of the picture itself."""
    stem, _, ending = picture.rpartition(".")
    return next((path for path in (f"{stem}-card.{ending}", f"{stem}-card.jpg") if (site / path).is_file()), picture)
