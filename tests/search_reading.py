"""The search index in parts, read back as the page's script reads it."""

from __future__ import annotations

import base64
import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

__all__ = ["files_of", "sections_of", "told"]


def files_of(site: Path) -> dict[str, bytes]:
    """The parts of a site's index, by name."""
    return {path.name: path.read_bytes() for path in (site / "search").glob("*-*.js")} | {
        "start.js": (site / "search" / "start.js").read_bytes()
    }


def told(files: Mapping[str, bytes], name: str) -> Any:
    """What one part tells."""
    text = files[name].decode()
    return json.loads(text[text.index("(") + 1 : text.rindex(")")])


def sections_of(files: Mapping[str, bytes]) -> dict[str, list[int]]:
    """Every term with the sections that have it."""
    made: dict[str, list[int]] = {}
    for name in files:
        if name.startswith("terms-"):
            made |= {term: _unpacked(base64.b64decode(packed)) for term, packed in told(files, name).items()}
    return made


def _unpacked(data: bytes) -> list[int]:
    at, last, found = 0, 0, []
    while at < len(data):
        step = shift = 0
        while True:
            byte = data[at]
            at += 1
            step |= (byte & 127) << shift
            shift += 7
            if byte < 128:
                break
        last += step
        found.append(last)
        assert data[at] > 0, "every section that has a term is worth something for it"
        at += 1
    return found
