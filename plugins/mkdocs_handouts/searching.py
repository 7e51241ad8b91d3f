"""The theme's search index, put into parts.

This module owns the meeting with the search plugin: it collects what may be found, and here that is
put into the library's form, of which a page loads what a query needs.
"""

from __future__ import annotations

import json
from pathlib import Path

from handouts_build.disk.cache import Cache, code_key, content_key, read
from handouts_build.outputs.search_index import FoundSection, search_index

__all__ = ["put_into_parts"]


def put_into_parts(site: Path, cache: Cache) -> None:
    """Leave the index that the search plugin wrote empty, and write what was in it in parts beside it.

    Args:
        site: The folder of the site; nothing is done where there is no index in it.
        cache: Where the parts are kept between builds.
    """
    folder = site / "search"
    whole = folder / "search_index.json"
    if not whole.is_file():
        return
    written = whole.read_bytes()
    kept = json.loads(written)

    def parts() -> dict[str, bytes]:
        return search_index(
            FoundSection(entry["location"], entry["title"], entry["text"], float(entry.get("boost", 1.0)))
            for entry in kept["docs"]
        )

    for name, content in cache.files(content_key(code_key(), "search", written), parts).items():
        (folder / name).write_bytes(read(content))
    whole.write_text(json.dumps({**kept, "docs": []}, separators=(",", ":")), encoding="utf-8")
