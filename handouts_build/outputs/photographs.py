"""Photographs as they are published: of a size for the screen, and without what the camera noted.

This module owns the shrinking and the cleaning. Cameras write where and when a
picture was taken into its file; none of it goes out.
"""

from __future__ import annotations

import io
import warnings
from dataclasses import dataclass

from handouts_build.disk.reading import read_plain
from handouts_build.problems import Place, Problem, ProjectError
from handouts_build.sheet import Picture

__all__ = ["TwoSizes", "at_two_sizes", "for_paper", "published"]

_KINDS = ("JPEG", "PNG", "WEBP")
_MOST = 1600
"""Longest side, in pixels."""
_MOST_BYTES = 64 * 2**20
"""Bytes of a picture's file."""
_MOST_PROFILE = 4096
"""Bytes of a color profile that goes on: those of cameras and of sRGB have some 3,000 at the most; more is anything."""
_MOST_PIXELS = 50_000_000
"""Pixels of a picture that is read, as its head tells: each takes four bytes while it is made smaller."""
_MOST_SAID = f"{_MOST_PIXELS // 10**6} million pixels"


def published(picture: Picture, *, file: str) -> bytes:
    """A picture's bytes for the site: upright, at most 1600 pixels long, without notes.

    Args:
        picture: The picture.
        file: The project's file, as messages name it.

    Raises:
        ProjectError: If there is no picture in its file.
    """
    from PIL import Image, ImageOps

    try:
        # No other kinds: some are programs, and would be run.
        content = read_plain(picture.path, most_bytes=_MOST_BYTES)
        with warnings.catch_warnings():
            # The library warns of what is refused below, in its own words.
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            opened = Image.open(io.BytesIO(content), formats=_KINDS)
        with opened:
            if (pixels := opened.width * opened.height) > _MOST_PIXELS:
                raise _too_large(picture, file, f"{pixels:,}")
            kind = opened.format if opened.format in _KINDS else "JPEG"  # A camera's MPO is a JPEG with more behind.
            shown = ImageOps.exif_transpose(opened)
            if "transparency" in shown.info:
                shown = shown.convert("RGBA")
            shown.thumbnail((_MOST, _MOST))
            profile = shown.info.get("icc_profile")
            if profile is not None and len(profile) > _MOST_PROFILE:
                profile = None
            # Pixels alone are carried over; whatever else the file held stays behind.
            clean = Image.new(shown.mode, shown.size)
            if shown.mode == "P" and (palette := shown.getpalette()) is not None:
                clean.putpalette(palette)
            clean.paste(shown)
    except Image.DecompressionBombError:
        # The library's own bound, which is told by its head as well.
        raise _too_large(picture, file, f"more than {2 * (Image.MAX_IMAGE_PIXELS or 0):,}") from None
    except (OSError, ValueError, SyntaxError) as error:
        raise ProjectError(
            [
                Problem(
                    Place(file, path="pictures"),
                    f"'{picture.file}' cannot be read as a picture",
                    f"open it in a picture editor and save it again as .jpg or .png, of at most {_MOST_SAID}",
                )
            ]
        ) from error
    held = io.BytesIO()
    clean.save(held, kind, quality=85, optimize=True, icc_profile=profile)
    return held.getvalue()


@dataclass(frozen=True)
class TwoSizes:
    """A picture for the site, large, and small for where it stands among others."""

    large: bytes
    small: bytes
    """A JPEG."""
    widths: tuple[int, int]
    """Of the small and of the large one, in pixels."""
    height: int
    """Of the small one, in pixels."""


def at_two_sizes(picture: Picture, *, file: str, most_px: int) -> TwoSizes:
    """A picture as it is published, and the same made small.

    Args:
        picture: The picture.
        file: The file that lists it, as messages name it.
        most_px: Longest side of the small one.

    Raises:
        ProjectError: If there is no picture in its file.
    """
    from PIL import Image

    large = published(picture, file=file)
    with Image.open(io.BytesIO(large), formats=_KINDS) as opened:
        wide = opened.width
    small, width, height = _on_white(large, most_px)
    return TwoSizes(large, small, (width, wide), height)


def _too_large(picture: Picture, file: str, pixels: str) -> ProjectError:
    message = f"'{picture.file}' has {pixels} pixels; at most {_MOST_PIXELS:,} are read"
    return ProjectError([Problem(Place(file, path="pictures"), message, "make it smaller in a picture editor")])


def for_paper(picture: Picture, *, file: str, most_px: int) -> tuple[bytes, int, int]:
    """The same for print, on white where it is clear: a JPEG, its width and its height in pixels.

    Args:
        picture: The picture.
        file: The project's file, as messages name it.
        most_px: Longest side.

    Raises:
        ProjectError: If there is no picture in its file.
    """
    return _on_white(published(picture, file=file), most_px)


def _on_white(content: bytes, most_px: int) -> tuple[bytes, int, int]:
    """A picture made smaller, on white where it is clear: a JPEG, its width and its height."""
    from PIL import Image

    with Image.open(io.BytesIO(content), formats=_KINDS) as opened:
        opened.thumbnail((most_px, most_px))
        seen = opened.convert("RGBA")
    ground = Image.new("RGB", seen.size, "white")
    ground.paste(seen, mask=seen.getchannel("A"))
    held = io.BytesIO()
    ground.save(held, "JPEG", quality=85)
    return held.getvalue(), *ground.size
