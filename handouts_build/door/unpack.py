"""What somebody sent, unpacked: every name and size is judged before a byte of it is read.

This module owns what a parcel may hold. It is a folder, a zip or a tar file; what goes on is
one project file and its photographs. Nothing else is unpacked, whatever it is.
"""

from __future__ import annotations

import gzip
import io
import stat
import tarfile
import zipfile
import zlib
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path, PurePosixPath
from typing import Protocol

from handouts_build.disk.folders import DEMONSTRATIONS, HANDED_OUT, ISSUED, PLANS, RUNS
from handouts_build.disk.names import apart, fault_of_path
from handouts_build.disk.reading import is_plain_folder, read_plain, walk
from handouts_build.problems import Place, Problem, ProjectError

__all__ = ["Parcel", "unpack"]

_MOST_PARCEL = 256 * 2**20
"""Bytes of the file that was sent."""
_MOST_NAMES = 2_000
_MOST_FILE = 64 * 2**20
_MOST_ALL = 512 * 2**20
"""Bytes of all that is in it, unpacked; what is not taken counts too."""
_DEEPEST = 8
_PICTURES = (".jpg", ".jpeg", ".png", ".webp")
_PROJECT = (".yml", ".yaml")
_NOT_A_PIECE = ("shop", "mkdocs")
"""Settings of an archive: the webmaster has his own, and those of a site can run programs."""
_ENCRYPTED = 0x1
_NAMED_IN_ZIP = b"PK\x01\x02"
"""What stands before every name in the listing of a zip (PKWARE, APPNOTE.TXT, 4.3.12)."""


@dataclass(frozen=True)
class Parcel:
    """What of it can be taken."""

    name: str
    """What the sender called the project's file, without its ending."""
    project: bytes
    pictures: dict[str, bytes]
    """By their paths below the project's own folder."""
    left: tuple[str, ...]
    """What is left behind: everything else."""


@dataclass(frozen=True)
class _Packed:
    """One file in a parcel, not read yet."""

    path: str
    size: int
    read: Callable[[], bytes]


class _Readable(Protocol):
    """What bytes can be read from."""

    def read(self, size: int, /) -> bytes: ...


def unpack(source: Path) -> Parcel:
    """A project and its photographs out of a folder, a zip or a tar file.

    Args:
        source: The folder or file.

    Raises:
        ProjectError: If anything in it is no plain file, has a name that no archive can have, or is larger than
            there is reason to be; or if there is no project in it, or several.
    """
    try:
        if is_plain_folder(source):
            return _chosen(source, _in_folder(source))
        content = read_plain(source, most_bytes=_MOST_PARCEL)
        if zipfile.is_zipfile(io.BytesIO(content)):
            # Python's reader lists every name before it tells of one, and each takes some 500 bytes.
            if content.count(_NAMED_IN_ZIP) > _MOST_NAMES:
                raise _refused(source, "", f"it holds more than {_MOST_NAMES:,} files")
            with zipfile.ZipFile(io.BytesIO(content)) as packed:
                return _chosen(source, _in_zip(source, packed))
        with _tar(content) as packed_tar:
            return _chosen(source, _in_tar(source, packed_tar))
    except OSError as error:
        # What Python's own readers of archives raise is no OSError with words.
        raise _refused(source, "", error.strerror or str(error) or "it cannot be read") from None
    except (
        zipfile.BadZipFile,
        tarfile.TarError,
        zlib.error,
        EOFError,
        RuntimeError,
        NotImplementedError,
        ValueError,
    ) as error:
        raise _refused(source, "", f"it is no folder, zip or tar file that can be read ({error})") from None


def _refused(source: Path, name: str, why: str) -> ProjectError:
    place = f"{source.as_posix()}, {name}" if name else source.as_posix()
    hint = "ask for a zip of one project file and its pictures, as plain files"
    return ProjectError([Problem(Place(place), f"this is not taken: {why}", hint)])


def _in_folder(source: Path) -> Iterator[_Packed]:
    for entry in walk(source, most=_MOST_NAMES, deepest=_DEEPEST):
        name = entry.path.relative_to(source).as_posix()
        if entry.fault or entry.status is None:
            raise _refused(source, name, entry.fault)
        yield _Packed(name, entry.status.st_size, partial(read_plain, entry.path, most_bytes=_MOST_FILE))


def _in_zip(source: Path, packed: zipfile.ZipFile) -> Iterator[_Packed]:
    for entry in packed.infolist():
        mode = entry.external_attr >> 16
        if stat.S_IFMT(mode) not in (0, stat.S_IFREG, stat.S_IFDIR):
            raise _refused(source, entry.filename, "it is no plain file")
        if entry.flag_bits & _ENCRYPTED:
            raise _refused(source, entry.filename, "it is encrypted")
        # Python has put the system's own strokes right already, so that a backslash here is one.
        if entry.is_dir():
            yield _Packed(entry.orig_filename.rstrip("/") + "/", 0, bytes)
            continue

        def read(entry: zipfile.ZipInfo = entry) -> bytes:
            with packed.open(entry) as file:
                return _bounded(file, entry.file_size)

        yield _Packed(entry.orig_filename, entry.file_size, read)


def _in_tar(source: Path, packed: tarfile.TarFile) -> Iterator[_Packed]:
    for entry in packed:
        if entry.isdir():
            yield _Packed(entry.name.rstrip("/") + "/", 0, bytes)
            continue
        if not entry.isreg() or entry.issparse():
            raise _refused(source, entry.name, "it is no plain file")

        def read(entry: tarfile.TarInfo = entry) -> bytes:
            file = packed.extractfile(entry)
            return _bounded(file, entry.size) if file is not None else b""

        yield _Packed(entry.name, entry.size, read)


def _tar(content: bytes) -> tarfile.TarFile:
    """A tar file, unpacked as a whole if it is gzipped and no larger than it may be."""
    if content[:2] == b"\x1f\x8b":
        with gzip.GzipFile(fileobj=io.BytesIO(content)) as packed:
            content = _bounded(packed, _MOST_ALL)
    return tarfile.open(fileobj=io.BytesIO(content), mode="r:")


def _bounded(file: _Readable, most: int) -> bytes:
    """What is in a packed file, no more than it says.

    Raises:
        ValueError: If there is more.
    """
    content = file.read(most + 1)
    if len(content) > most:
        raise ValueError(f"there is more in it than {most:,} bytes")
    return content


def _chosen(source: Path, packed: Iterator[_Packed]) -> Parcel:
    """The project and its photographs, once every name and size is judged."""
    files: list[_Packed] = []
    whole = 0
    for names, entry in enumerate(packed, start=1):
        if names > _MOST_NAMES:
            raise _refused(source, "", f"it holds more than {_MOST_NAMES:,} files")
        if fault := fault_of_path(entry.path.removeprefix("./").rstrip("/")):
            raise _refused(source, entry.path, fault)
        if entry.size > _MOST_FILE:
            raise _refused(source, entry.path, f"it has {entry.size:,} bytes; at most {_MOST_FILE:,} are taken")
        if not entry.path.endswith("/"):
            files.append(_Packed(entry.path.removeprefix("./"), entry.size, entry.read))
        whole += entry.size
        if whole > _MOST_ALL:
            raise _refused(source, "", f"it holds {whole:,} bytes or more; at most {_MOST_ALL:,} are taken")
    if both := apart(file.path for file in files):
        raise _refused(source, both[1], f"some systems take it for the same as {both[0]}")
    project = _project(source, files)
    home = PurePosixPath(project.path).with_suffix("")
    taken = {PurePosixPath(file.path).relative_to(home).as_posix(): file for file in files if _is_picture(file, home)}
    left = [file.path for file in files if file is not project and file not in taken.values()]
    return Parcel(home.name, project.read(), {name: file.read() for name, file in taken.items()}, tuple(sorted(left)))


def _project(source: Path, files: Sequence[_Packed]) -> _Packed:
    """The one project file among some."""
    kept = {DEMONSTRATIONS, RUNS, PLANS, HANDED_OUT, ISSUED}
    found = [
        file
        for file in files
        if (path := PurePosixPath(file.path)).suffix.lower() in _PROJECT
        and path.stem.lower() not in _NOT_A_PIECE
        and not any(part in kept or _is_hidden(part) for part in path.parts)
    ]
    if len(found) == 1:
        return found[0]
    if not found:
        raise _refused(source, "", "there is no project file in it")
    named = ", ".join(file.path for file in found[:5])
    raise _refused(source, "", f"there are {len(found)} project files in it ({named}), and one is taken at a time")


def _is_picture(file: _Packed, home: PurePosixPath) -> bool:
    path = PurePosixPath(file.path)
    own = path.is_relative_to(home) and not {HANDED_OUT, ISSUED} & set(path.relative_to(home).parts)
    return own and path.suffix.lower() in _PICTURES and not any(map(_is_hidden, path.parts))


def _is_hidden(part: str) -> bool:
    """Whether a name is of the sender's system and not of the piece."""
    return part.startswith(".") or part == "__MACOSX"
