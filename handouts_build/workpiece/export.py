"""Solids as files for others: GLB for the page, STL for other tools.

This module owns the bytes. GLB follows the glTF 2.0 specification (Khronos, ISO/IEC
12113): a header, a JSON chunk padded with blanks, a binary chunk padded with nought,
lengths in metres. STL is the binary kind: 80 bytes of header, a count, 50 bytes a
triangle; it knows no units, and millimetres are customary. The same solid gives the
same bytes.
"""

from __future__ import annotations

import json
import struct
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from handouts_build.workpiece.solid import Solid

__all__ = ["ColoredSolid", "glb", "stl"]

_FLOAT, _SHORT, _INT = 5126, 5123, 5125
_VERTICES, _INDICES = 34962, 34963
_SHORTS = 65535


@dataclass(frozen=True, eq=False)
class ColoredSolid:
    """A solid with a name and a color."""

    name: str
    solid: Solid
    color: tuple[float, float, float] = (0.55, 0.4, 0.28)
    """Red, green and blue, 0 to 1, linear."""


def glb(solids: Sequence[ColoredSolid], *, coarse_mm: float = 0.0) -> bytes:
    """Solids as one GLB file, each a node of its own; the axis of the first stands upright.

    Args:
        solids: What is in it.
        coarse_mm: How far the surface may be moved to save triangles.
    """
    binary = bytearray()
    views: list[dict[str, Any]] = []
    accessors: list[dict[str, Any]] = []

    def put(table: NDArray[np.generic], kind: str, component: int, target: int) -> int:
        data = np.ascontiguousarray(table).tobytes()
        views.append({"buffer": 0, "byteOffset": len(binary), "byteLength": len(data), "target": target})
        binary.extend(data + b"\0" * (-len(data) % 4))
        accessors.append({"bufferView": len(views) - 1, "componentType": component, "count": len(table), "type": kind})
        return len(accessors) - 1

    meshes = []
    for index, colored in enumerate(solids):
        vertices, normals, triangles = colored.solid.simplified(coarse_mm).smooth_mesh()
        place = put(vertices, "VEC3", _FLOAT, _VERTICES)
        # Bounds are required of positions.
        accessors[place] |= {"min": vertices.min(axis=0).tolist(), "max": vertices.max(axis=0).tolist()}
        facing = put(normals, "VEC3", _FLOAT, _VERTICES)
        short = len(vertices) < _SHORTS
        corners = triangles.reshape(-1).astype(np.uint16 if short else np.uint32)
        order = put(corners, "SCALAR", _SHORT if short else _INT, _INDICES)
        primitive = {"attributes": {"POSITION": place, "NORMAL": facing}, "indices": order, "material": index}
        meshes.append({"name": colored.name, "primitives": [primitive]})
    # Millimetres to metres; the part's axis, z, becomes the file's upward y, left end down.
    turn = [-(0.5**0.5), 0.0, 0.0, 0.5**0.5]
    nodes: list[dict[str, Any]] = [{"name": colored.name, "mesh": index} for index, colored in enumerate(solids)]
    nodes.append({"name": "whole", "children": list(range(len(solids))), "rotation": turn, "scale": [0.001] * 3})
    document = {
        "asset": {"version": "2.0"},
        "scene": 0,
        "scenes": [{"nodes": [len(solids)]}],
        "nodes": nodes,
        "meshes": meshes,
        "materials": [
            {
                "name": colored.name,
                "pbrMetallicRoughness": {
                    "baseColorFactor": [*colored.color, 1.0],
                    "metallicFactor": 0.0,
                    "roughnessFactor": 0.8,
                },
            }
            for colored in solids
        ],
        "buffers": [{"byteLength": len(binary)}],
        "bufferViews": views,
        "accessors": accessors,
    }
    text = json.dumps(document, separators=(",", ":")).encode()
    text += b" " * (-len(text) % 4)
    chunks = struct.pack("<I4s", len(text), b"JSON") + text + struct.pack("<I4s", len(binary), b"BIN\0") + bytes(binary)
    return struct.pack("<4sII", b"glTF", 2, 12 + len(chunks)) + chunks


def stl(solid: Solid) -> bytes:
    """A solid as binary STL, in millimetres."""
    # On a grid of a ten-thousandth of a millimetre, without a nought of the other sign. What that makes a line
    # or a point is left out, or readers, which take near points for one, find the surface open there.
    corners = (np.round(solid.corners(), 4) + 0.0).astype("<f4")
    corners = corners[~(corners == np.roll(corners, 1, axis=1)).all(axis=2).any(axis=1)]
    facing = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    long = np.linalg.norm(facing, axis=1, keepdims=True)
    record = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("spare", "<u2")])
    table = np.zeros(len(corners), dtype=record)
    table["normal"] = facing / np.where(long > 0, long, 1)
    table["corners"] = corners
    return b"binary STL, millimetres".ljust(80) + struct.pack("<I", len(corners)) + table.tobytes()
