"""Photographs: upright, of a size for the screen, and without what the camera noted."""

from __future__ import annotations

import io
import struct
import zlib
from pathlib import Path

import pytest
from PIL import Image

from handouts_build.outputs import photographs
from handouts_build.outputs.photographs import published
from handouts_build.problems import ProjectError
from handouts_build.sheet import Picture

# Tags of Exif 2.3: 0x010F maker, 0x0112 orientation, 0x8825 pointer to the place, of which 1 to 4 are
# latitude and longitude.
MAKER, ORIENTATION, PLACE = 0x010F, 0x0112, 0x8825


def taken(path: Path, size: tuple[int, int], orientation: int = 1) -> Picture:
    picture = Image.new("RGB", size, "sienna")
    notes = Image.Exif()
    notes[MAKER] = "A camera"
    notes[ORIENTATION] = orientation
    notes[PLACE] = {1: "N", 2: (47.0, 30.0, 0.0), 3: "E", 4: (8.0, 30.0, 0.0)}
    picture.save(path, exif=notes)
    return Picture(path.name, path, "A picture")


@pytest.mark.parametrize("ending", [".jpg", ".png", ".webp"])
def test_place_and_camera_do_not_go_out(tmp_path: Path, ending: str) -> None:
    picture = taken(tmp_path / f"a{ending}", (40, 30))
    with Image.open(picture.path) as before:
        assert before.getexif().get_ifd(PLACE)
    made = published(picture, file="projects/a.yml")
    with Image.open(io.BytesIO(made)) as after:
        assert dict(after.getexif()) == {}
        assert after.size == (40, 30)
    assert b"A camera" not in made


def test_a_picture_taken_on_its_side_is_set_upright(tmp_path: Path) -> None:
    # Exif orientation 6: the top of the picture is on the right of the stored one.
    made = published(taken(tmp_path / "a.jpg", (40, 30), orientation=6), file="projects/a.yml")
    with Image.open(io.BytesIO(made)) as after:
        assert after.size == (30, 40)


def test_a_large_picture_is_made_smaller_and_keeps_its_shape(tmp_path: Path) -> None:
    made = published(taken(tmp_path / "a.jpg", (3200, 2400)), file="projects/a.yml")
    with Image.open(io.BytesIO(made)) as after:
        assert after.size == (1600, 1200)


def test_a_file_that_is_no_picture_is_the_authors_problem(tmp_path: Path) -> None:
    path = tmp_path / "a.jpg"
    path.write_bytes(b"not a picture")
    with pytest.raises(ProjectError, match=r"^projects/a\.yml: pictures: 'a\.jpg' cannot be read as a picture\n"):
        published(Picture("a.jpg", path, "A picture"), file="projects/a.yml")


@pytest.mark.parametrize("kind", ["EPS", "BMP", "TIFF", "GIF"])
def test_other_kinds_of_file_are_not_opened_whatever_they_are_called(tmp_path: Path, kind: str) -> None:
    """PostScript is a program that another would run; the rest no browser need show under such a name."""
    path = tmp_path / "a.jpg"
    Image.new("RGB", (40, 30)).save(path, kind)
    with pytest.raises(ProjectError, match="cannot be read as a picture"):
        published(Picture("a.jpg", path, "A picture"), file="projects/a.yml")


def test_a_clear_ground_stays_clear(tmp_path: Path) -> None:
    path = tmp_path / "a.png"
    drawn = Image.new("P", (40, 30), 0)
    drawn.putpalette([255, 255, 255, 0, 0, 0])
    drawn.paste(1, (10, 10, 20, 20))
    drawn.save(path, transparency=0)
    with Image.open(io.BytesIO(published(Picture("a.png", path, "A picture"), file="projects/a.yml"))) as after:
        shown = after.convert("RGBA")
    assert (shown.getpixel((0, 0))[3], shown.getpixel((15, 15))[3]) == (0, 255)


def test_a_picture_of_more_pixels_than_fit_is_refused_before_it_is_opened(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A small file can hold a picture that takes gigabytes."""
    assert photographs._MOST_PIXELS * 4 <= 200_000_000
    monkeypatch.setattr(photographs, "_MOST_PIXELS", 40 * 30)
    assert published(taken(tmp_path / "a.png", (40, 30)), file="projects/a.yml")
    with pytest.raises(ProjectError, match=r"'b\.png' has 1,230 pixels; at most 1,200 are read"):
        published(taken(tmp_path / "b.png", (41, 30)), file="projects/a.yml")


@pytest.mark.parametrize(("wide", "told"), [(100_000_000, "100,000,000"), (400_000_000, "more than 178,956,970")])
def test_a_head_that_tells_of_millions_of_pixels_is_one_message_and_no_warning(
    wide: int, told: str, tmp_path: Path, recwarn: pytest.WarningsRecorder
) -> None:
    """A PNG whose head says so, and with next to nothing behind it (W3C, PNG third edition, 5.3 and 11.2)."""
    chunks = ((b"IHDR", struct.pack(">2I5B", wide, 1, 8, 0, 0, 0, 0)), (b"IDAT", zlib.compress(b"")))
    told_of = b"".join(
        struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data)) for kind, data in chunks
    )
    path = tmp_path / "a.png"
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + told_of)
    with pytest.raises(ProjectError, match=f"'a.png' has {told} pixels; at most 50,000,000 are read"):
        published(Picture("a.png", path, "A picture"), file="projects/a.yml")
    assert not recwarn.list
