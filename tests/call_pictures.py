"""The pictures of the demo's entries to a call, computed from solids of our own.

`python -m tests.call_pictures` draws them all into the folders of the entries. Each is a piece of the demo club's
invented makers, written below as blank and outline; nobody's photograph is among them.
"""

from __future__ import annotations

import io
from dataclasses import dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory
from unittest.mock import patch

from PIL import Image

from handouts_build.compute.solid.assembled import assembled
from handouts_build.figures.solid import picture as solid_picture
from handouts_build.figures.solid.look import DAY
from handouts_build.figures.solid.mesh import SurfaceMesh
from handouts_build.schema.describe_cuts import HEAD
from handouts_build.site import picturing
from handouts_build.site.build import read_archive

__all__ = ["ENTRIES", "HOME", "PIECES", "draw", "turned"]

HOME = Path(__file__).parents[1] / "projects" / "calls" / "offcuts-2026"
ENTRIES = HOME / "entries"
_WIDE, _HIGH = 1080, 810
_GROUND = ((241, 238, 231), (214, 208, 197))
"""The wall behind a piece, and the table it stands on."""
_ROOM = 0.84
"""How much of the height, or of the width, a piece takes."""
_QUALITY = 82


@dataclass(frozen=True)
class _Piece:
    """A piece as it is turned: from the left end, which is its foot where it stands."""

    across: str
    outline: str
    tone: str
    cuts: str = ""
    long: str = "outline.length"
    stands: bool = True
    opened: bool = False


_DISH = _Piece(
    "4 in",
    "[{cylinder: {diameter: 1 3/4 in, long: 1/8 in}}, {ovolo: {from: 1 3/4 in, to: 4 in, long: 1 1/4 in}}]",
    "red",
    "[{hollow: {outside: outline, wall: 1/4 in, floor: 5/16 in, end: right}}]",
)
PIECES = {
    "pinch-dish": _DISH,
    "pinch-dish-opened": replace(_DISH, opened=True),
    "tall-top": _Piece(
        "1 5/8 in",
        "[{taper: {from: 1/16 in, to: 5/16 in, long: 5/8 in}}, {taper: {from: 5/16 in, to: 1 5/8 in, long: 1/4 in}}, "
        "{cylinder: {diameter: 1 5/8 in, long: 3/16 in}}, "
        "{cavetto: {from: 1 3/8 in, to: 5/16 in, long: 7/8 in}}, "
        "{taper: {from: 5/16 in, to: 3/16 in, long: 3/4 in}}, {bead: {diameter: 5/16 in, long: 1/4 in}}]",
        "pale",
    ),
    "light-pull": _Piece(
        "1 1/4 in",
        "[{round: {from: 1/8 in, to: 3/4 in, long: 1/4 in}}, {bead: {diameter: 1 1/4 in, from: 3/4 in, long: 3/4 in}}, "
        "{cove: {diameter: 1/2 in, from: 7/8 in, to: 7/8 in, long: 5/8 in}}, {bead: {diameter: 1 in, long: 3/8 in}}, "
        "{taper: {from: 3/4 in, to: 3/8 in, long: 3/4 in}}]",
        "brown",
        "[{bore: {diameter: 1/8 in, end: right, deep: 2 in}}]",
    ),
    "straight-bud-vase": _Piece(
        "2 1/2 in",
        "[{ovolo: {from: 1 3/8 in, to: 2 1/2 in, long: 1 1/4 in}}, "
        "{ovolo: {from: 2 1/2 in, to: 1 in, long: 1 1/2 in}}, "
        "{cove: {from: 1 in, diameter: 5/8 in, to: 3/4 in, long: 1 3/4 in}}, "
        "{taper: {from: 3/4 in, to: 1 1/8 in, long: 1/4 in}}]",
        "dark",
        "[{bore: {diameter: 3/8 in, end: right, deep: 3 1/2 in}}]",
    ),
    "egg-cup": _Piece(
        "2 1/8 in",
        "[{cylinder: {diameter: 2 in, long: 1/8 in}}, {taper: {from: 2 in, to: 7/8 in, long: 3/8 in}}, "
        "{cove: {from: 7/8 in, diameter: 5/8 in, to: 7/8 in, long: 5/8 in}}, "
        "{bead: {diameter: 1 1/8 in, long: 3/16 in}}, "
        "{ovolo: {from: 1 in, to: 2 1/8 in, long: 1 1/4 in}}]",
        "tan",
        "[{hollow: {outside: outline, wall: 3/16 in, floor: 1 5/8 in, end: right}}]",
    ),
    "cord-bodkin": _Piece(
        "1 1/8 in",
        "[{round: {from: 1/4 in, to: 1 in, long: 3/8 in}}, {ovolo: {from: 1 in, to: 1 1/8 in, long: 5/8 in}}, "
        "{taper: {from: 1 1/8 in, to: 3/4 in, long: 1 3/4 in}}, {cove: {from: 3/4 in, diameter: 1/2 in, to: 3/4 in, "
        "long: 1/2 in}}, {bead: {diameter: 7/8 in, long: 1/4 in}}, {taper: {from: 3/4 in, to: 9/16 in, long: 1/2 in}}, "
        "{cylinder: {diameter: 3/16 in, long: 1 3/4 in}}, {taper: {from: 3/16 in, to: 1/32 in, long: 5/8 in}}]",
        "red",
        stands=False,
    ),
    "night-light": _Piece(
        "3 3/4 in",
        "[{cylinder: {diameter: 3 3/4 in, long: 3/8 in}}, {cove: {from: 3 1/4 in, diameter: 1 1/2 in, to: 1 5/8 in, "
        "long: 1 3/4 in}}, {bead: {diameter: 2 in, from: 1 5/8 in, long: 1/2 in}}, "
        "{taper: {from: 1 5/8 in, to: 2 5/8 in, long: 7/8 in}}, {cylinder: {diameter: 2 5/8 in, long: 3/8 in}}]",
        "brown",
        "[{recess: {diameter: 1 5/8 in, deep: 7/8 in, end: right}}]",
    ),
    "ring-stand": _Piece(
        "3 in",
        "[{cylinder: {diameter: 2 3/4 in, long: 1/8 in}}, {ovolo: {from: 2 3/4 in, to: 3 in, long: 1/4 in}}, "
        "{cove: {from: 2 3/4 in, diameter: 9/16 in, to: 5/8 in, long: 5/8 in}}, "
        "{taper: {from: 5/8 in, to: 1/4 in, long: 2 1/4 in}}, {bead: {diameter: 1/2 in, from: 1/4 in, long: 7/16 in}}]",
        "pale",
    ),
}
"""By the name of the picture's file."""


def draw(name: str) -> bytes:
    """A picture of an entry, as the bytes of a WebP file.

    Args:
        name: Of `PIECES`.
    """
    piece, mesh = PIECES[name], turned(name)
    camera = picturing.standing(mesh, "right" if piece.stands else "")
    opened = picturing._opened(camera) if piece.opened else None
    # A piece of one wood is drawn in one color; here each has the tone of its own.
    with patch.object(solid_picture, "DAY", replace(DAY, wood=DAY.woods[piece.tone])):
        drawn = solid_picture.picture(mesh, camera=camera, width_px=1400, cutaway=opened)
    return _on_a_table(drawn)


def turned(name: str) -> SurfaceMesh:
    """The surface of a piece; z runs along the lathe.

    Args:
        name: Of `PIECES`.
    """
    with TemporaryDirectory() as folder:
        (Path(folder) / "piece.yml").write_text(_project(PIECES[name]), encoding="utf-8")
        archive = read_archive(Path(folder), base=Path(folder))
        (sheet,) = archive.sheets
        together = archive.session.together[sheet.name]
        shop = archive.session.solids[sheet.name].shop
        whole = assembled(together.parts, together.joints, shop, up=together.whole.up)
        return picturing._mesh(whole.opened.placed[0].wood)


def _project(piece: _Piece) -> str:
    up = "right" if piece.stands else "none"
    cuts = f"[{{profile: {{name: outline, shape: outline}}}}{', ' + piece.cuts[1:-1] if piece.cuts else ''}]"
    return (
        f"{HEAD}profiles:\n  outline: {{says: Outline, part: piece, along: {piece.outline}}}\n"
        f"parts:\n  piece:\n    says: Piece\n    wood: maple, sugar\n"
        f"    blank: {{round: {piece.across}, long: {piece.long}}}\n    steps:\n"
        f"      - {{name: Turn it, say: Turn it., hold: {{by: [faceplate], diameter: 1/2 in}}, cut: {cuts}}}\n"
        + (f"assembly: {{up: {up}}}\n" if piece.stands else "")
    )


def _on_a_table(drawn: bytes) -> bytes:
    """A piece before a plain wall, on a table, with its shadow."""
    with Image.open(io.BytesIO(drawn)) as opened:
        piece = opened.convert("RGBA")
    piece = piece.crop(piece.getchannel("A").getbbox())
    size = min(_WIDE * _ROOM / piece.width, _HIGH * _ROOM / piece.height)
    piece = piece.resize((round(piece.width * size), round(piece.height * size)), Image.Resampling.LANCZOS)
    ground = Image.new("RGB", (_WIDE, _HIGH), _GROUND[0])
    edge = round(_HIGH * 0.62)
    ground.paste(_GROUND[1], (0, edge, _WIDE, _HIGH))
    ground.paste(piece, ((_WIDE - piece.width) // 2, (_HIGH - piece.height) // 2 + round(_HIGH * 0.03)), piece)
    held = io.BytesIO()
    ground.save(held, "WEBP", quality=_QUALITY, method=6)
    return held.getvalue()


if __name__ == "__main__":
    for made in PIECES:
        target = ENTRIES / made.removesuffix("-opened") / f"{made}.webp"
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(draw(made))
        print(target.relative_to(HOME), f"{target.stat().st_size:,} bytes")
