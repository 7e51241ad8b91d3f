"""Names of files that every system takes, and takes as the same name.

This module owns what is wrong with a name: Windows gives some to its devices and takes
others for different ones, and the disks of macOS and Windows do not tell letters by their size.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from urllib.parse import urlsplit

__all__ = ["PROJECT_NAME", "apart", "fault_of_address", "fault_of_name", "fault_of_path"]

PROJECT_NAME = r"[a-z0-9][a-z0-9-]{0,59}"
"""How a project's file may be called, without its ending."""

# Microsoft, "Naming files, paths, and namespaces": names of devices, whatever ending follows; the digits
# of the first line of Latin-1 count as digits.
_DEVICES = re.compile(r"con|prn|aux|nul|conin\$|conout\$|(?:com|lpt)[0-9\u00b9\u00b2\u00b3]", re.IGNORECASE)
_UNFIT = re.compile(r'[\x00-\x1f\x7f"*/:<>?\\|\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff\ud800-\udfff]')
_LONGEST = 120
"""Characters in a name: with room for what systems and other programs put before and after it."""
_LONGEST_ADDRESS = 500
"""Characters in an address that readers may be led to."""
_LONGEST_PATH = 200
"""Characters in a path below an archive: Windows takes some 260 in all unless it is asked for more."""


def fault_of_name(name: str) -> str:
    """What is wrong with the name of a file or folder, as a sentence goes on; empty if nothing is.

    Args:
        name: The name alone.
    """
    if name in ("", ".", ".."):
        return "it is no name"
    if found := _UNFIT.search(name):
        sign = found[0] if found[0].isprintable() else f"U+{ord(found[0]):04X}"
        return f"there is a sign in it that names cannot have everywhere ({sign})"
    if name[-1] in ". " or name[0] == " ":
        return "it ends in a point or has a space at an end"
    if _DEVICES.fullmatch(name.partition(".")[0].rstrip()):
        return "Windows keeps it for a device"
    if len(name) > _LONGEST:
        return f"it has {len(name)} characters; at most {_LONGEST} are taken"
    return ""


def fault_of_path(path: str) -> str:
    """What is wrong with a path below a folder, with forward slashes; empty if nothing is.

    Args:
        path: The path; one that leads out of the folder is wrong.
    """
    if len(path) > _LONGEST_PATH:
        return f"it has {len(path)} characters; at most {_LONGEST_PATH} are taken"
    return next((fault for name in path.split("/") if (fault := fault_of_name(name))), "")


def fault_of_address(address: str) -> str:
    """What is wrong with an address that readers may be led to, as a sentence goes on; empty if nothing is.

    Args:
        address: Of a page or a file elsewhere; with no name or password in it.
    """
    if not re.fullmatch(r"https?://[!#-;=?-\[\]_a-z~]+", address, re.IGNORECASE) or len(address) > _LONGEST_ADDRESS:
        return "it is no address of a page: https://, and no spaces or quotes in it"
    try:
        parts = urlsplit(address)
        host, named = parts.hostname, parts.username is not None
        _ = parts.port
    except ValueError:
        return "it names no host"
    if not host or not re.fullmatch(r"[a-z0-9.-]+|[0-9a-f:.]+", host):
        return "it names no host"
    return "there is a name or password in it" if named else ""


def apart(paths: Iterable[str]) -> tuple[str, str] | None:
    """The first two paths that some system would take for the same, or one of which goes on below the other.

    Args:
        paths: With forward slashes.

    Returns:
        The two, the earlier one first; None where all are apart.
    """
    files: dict[str, str] = {}
    folders: dict[str, str] = {}
    for path in paths:
        alike = unicodedata.normalize("NFC", path).casefold()
        *above, _ = (alike[:place] for place in (*(sign.start() for sign in re.finditer("/", alike)), len(alike)))
        other = files.get(alike) or folders.get(alike) or next((files[name] for name in above if name in files), None)
        if other is not None:
            return other, path
        files[alike] = path
        for name in above:
            folders.setdefault(name, path)
    return None
