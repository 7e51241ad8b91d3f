"""A site's settings that are needed beside the site: its folders and its address.

This module reads them line by line: those files hold tags that nothing but the site
engine may act on.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from pathlib import Path

__all__ = ["setting", "settings_texts", "site_address"]

_FILES = ("mkdocs.yml", "mkdocs.yaml")


def settings_texts(homes: Iterable[Path]) -> Iterator[tuple[Path, str]]:
    """The text of every settings file in some folders, each with its folder."""
    for home in dict.fromkeys(homes):
        for name in _FILES:
            try:
                text = (home / name).read_text(encoding="utf-8-sig")
            except (OSError, UnicodeDecodeError):
                continue
            yield home, text


def setting(text: str, key: str, *, indented: bool = False) -> str:
    """A plain setting's value; empty where there is none or it is not plain.

    Args:
        text: Of the settings file.
        key: Its name.
        indented: Whether it stands below another.
    """
    found = re.search(rf"^{'[ ]+' if indented else ''}{key}:[ ]*([^\s#!][^#\n]*)", text, re.MULTILINE)
    return found[1].strip().strip("'\"") if found else ""


def site_address(projects: Path) -> tuple[str, str]:
    """Where the archive of a folder of projects is published, and how the addresses of its pages end.

    Args:
        projects: Folder of the project files; the settings lie beside it or above.

    Returns:
        The address, empty where no settings say one, and `/` or `.html`.
    """
    place = projects.resolve()
    for _, text in settings_texts((place.parent, *place.parent.parents, Path.cwd())):
        if address := setting(text, "site_url"):
            return address, ".html" if setting(text, "use_directory_urls").lower() == "false" else "/"
    return "", "/"
