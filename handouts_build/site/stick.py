"""A whole site in one file to take away: a zip that opens from a disk, with a listing and checksums.

This module owns what is in it and that it can be opened there. The same site gives the same bytes.
"""

from __future__ import annotations

import hashlib
import io
import zipfile
from collections.abc import Iterable, Iterator
from pathlib import Path

from handouts_build.disk.names import fault_of_path
from handouts_build.disk.reading import walk
from handouts_build.problems import Place, Problem, ProjectError

__all__ = ["stick"]

_DATE = (1980, 1, 1, 0, 0, 0)
"""The first day that a zip can tell: the files carry no time of their own."""
_LISTING, _SUMS = "READ ME FIRST.txt", "SHA256SUMS"
_MOST, _DEEPEST = 200_000, 24
_PACKED = frozenset({".webp", ".png", ".jpg", ".jpeg", ".pdf", ".woff2", ".glb", ".zip"})
"""Endings of files that are packed already."""


def stick(site: Path, *, called: str = "") -> tuple[bytes, int]:
    """A site as one zip.

    Args:
        site: The folder that a site was built into.
        called: The folder that it unpacks into; the site's own name if not given.

    Returns:
        The zip, and how many files of the site are in it.

    Raises:
        ProjectError: If there is no site, or it is one that cannot be read from a disk.
    """
    paths = sorted(_files(site))
    names = {path: path.relative_to(site).as_posix() for path in paths}
    if problem := _unfit(site, set(names.values())):
        raise ProjectError([problem])
    out, sums = io.BytesIO(), []
    with zipfile.ZipFile(out, "w") as made:
        home = called or site.name or "site"
        for path, name in names.items():
            content = path.read_bytes()
            sums.append(f"{hashlib.sha256(content).hexdigest()}  {name}\n")
            _put(made, f"{home}/{name}", content)
        _put(made, f"{home}/{_SUMS}", "".join(sums).encode())
        _put(made, f"{home}/{_LISTING}", _listing(names.values()).encode())
    return out.getvalue(), len(names)


def _put(made: zipfile.ZipFile, name: str, content: bytes) -> None:
    entry = zipfile.ZipInfo(name, _DATE)
    entry.external_attr = 0o644 << 16
    packed = Path(name).suffix.lower() in _PACKED
    made.writestr(entry, content, zipfile.ZIP_STORED if packed else zipfile.ZIP_DEFLATED)


def _files(site: Path) -> Iterator[Path]:
    if not site.is_dir():
        return
    for entry in walk(site, most=_MOST, deepest=_DEEPEST):
        if entry.fault:
            raise ProjectError([Problem(Place(entry.path.as_posix()), f"this cannot be taken along: {entry.fault}")])
        yield entry.path


def _unfit(site: Path, names: set[str]) -> Problem | None:
    """Why a site cannot be taken along; None where it can."""
    place = Place(site.as_posix())
    if "index.html" not in names:
        return Problem(place, "there is no site here", "build it first, with: mkdocs build")
    if "projects" in {name.partition("/")[0] for name in names} and not any(
        name.startswith("projects/") and name.count("/") == 1 and name.endswith(".html") for name in names
    ):
        return Problem(
            place,
            "this site is for a host: from a disk no link would lead to a page",
            "build it for a disk: the plugin 'offline' in mkdocs.yml, or 'use_directory_urls: false'",
        )
    if unfit := next(((name, fault) for name in sorted(names) if (fault := fault_of_path(name))), None):
        return Problem(Place(unfit[0]), f"not every system could unpack this: {unfit[1]}")
    return None


def _listing(names: Iterable[str]) -> str:
    listed = "\n".join(sorted(names))
    return (
        "Handouts, to be read without a network.\n\n"
        "Unpack everything into a folder, and open index.html in a browser.\n"
        f"Whether all of it is as it was: sha256sum -c {_SUMS}\n\n"
        f"What is in it:\n\n{listed}\n"
    )
