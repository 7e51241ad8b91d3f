"""The packing of solids, undone here by the words of its module alone, gives the solids back."""

from __future__ import annotations

import base64
import json
import zlib
from dataclasses import replace

import numpy as np
import pytest

from handouts_build.figures.solid.glue import GluedCourse, GluedRound, GlueUp
from handouts_build.figures.solid.mesh import Floats, Ints, bounds_of
from handouts_build.figures.solid.pack import FORM, PackedStage, packed
from handouts_build.figures.solid.picture import SurfaceMesh
from tests.figures.shapes import arc, ball, bored_ball, collar, cube, fit, rod, turned


def script(*meshes: SurfaceMesh, name: str = "trial", title: str = "A trial") -> str:
    stages = [PackedStage(f"step {number}", mesh) for number, mesh in enumerate(meshes)]
    return packed(name, stages, camera=fit(bounds_of(meshes)), title=title)


def unpacked(text: str) -> tuple[dict[str, object], list[tuple[Floats, Ints]]]:
    """What the module's opening comment says, backwards."""
    assert text.startswith("HandoutsSolid.receive(")
    assert text.endswith(");\n")
    _, payload = json.loads("[" + text.removeprefix("HandoutsSolid.receive(").removesuffix(");\n") + "]")
    data = np.frombuffer(zlib.decompress(base64.b64decode(payload["data"])), np.uint8).astype(np.int64)
    found = []
    for stage in payload["stages"]:
        if "as" in stage:
            found.append(found[stage["as"]])
            continue
        count, corners = stage["points"], stage["triangles"] * 3
        axes = []
        for low in payload["low"]:
            code = data[:count] | data[count : 2 * count] << 8
            data = data[2 * count :]
            axes.append(low + np.cumsum(np.where(code & 1, -(code + 1) // 2, code // 2)) * payload["step"])
        behind = data[:corners] | data[corners : 2 * corners] << 8 | data[2 * corners : 3 * corners] << 16
        data = data[3 * corners :]
        named, fresh = [], 0
        for each in behind.tolist():
            named.append(fresh - each)
            fresh += each == 0
        found.append((np.stack(axes, 1), np.array(named).reshape(-1, 3)))
    assert not len(data)
    return payload, found


def volume(points: Floats, triangles: Ints) -> float:
    corners = points[triangles]
    return float((corners[:, 0] * np.cross(corners[:, 1], corners[:, 2])).sum() / 6)


def test_what_is_packed_comes_back_within_half_a_step_of_the_grid() -> None:
    meshes = (rod(20, -30, 30), bored_ball(20, 6)[0], cube(12))
    payload, found = unpacked(script(*meshes))
    assert payload["form"] == FORM
    assert [stage["name"] for stage in payload["stages"]] == ["step 0", "step 1", "step 2"]  # type: ignore[attr-defined]
    for mesh, (points, triangles) in zip(meshes, found, strict=True):
        assert len(triangles) <= len(mesh.triangles)
        assert volume(points, triangles) == pytest.approx(volume(mesh.vertices.astype(float), mesh.triangles), rel=2e-3)
        # Each point that came back lies where some point of the solid falls on the grid, and none is missing.
        low, step = np.array(payload["low"]), float(payload["step"])  # type: ignore[arg-type]
        grid = {tuple(each) for each in np.round((mesh.vertices.astype(float) - low) / step).astype(int).tolist()}
        assert {tuple(each) for each in np.round((points - low) / step).astype(int).tolist()} <= grid
        assert len(points) >= 0.98 * len(grid)
        assert step < 0.01, "mm, for a piece of this size"


def test_small_things_come_back_to_the_very_triangle() -> None:
    _, [(points, triangles)] = unpacked(script(cube(12)))
    assert {tuple(sorted(map(tuple, np.round(points[one], 3)))) for one in triangles} == {
        tuple(sorted(map(tuple, cube(12).vertices[one].astype(float)))) for one in cube(12).triangles
    }


def test_points_given_once_for_each_face_become_one() -> None:
    box = cube(10)
    loose = SurfaceMesh.of(box.vertices[box.triangles.reshape(-1)], np.arange(36).reshape(-1, 3))
    assert script(loose) == script(box)


def test_the_same_solids_give_the_same_bytes() -> None:
    assert script(ball(20), cube(9)) == script(ball(20), cube(9))


def test_no_words_end_a_script_or_leave_ascii() -> None:
    text = script(cube(10), title="Ø 57 mm </script> “ball”")
    assert "</" not in text
    assert text.isascii()
    assert unpacked(text)[0]["title"] == "Ø 57 mm </script> “ball”"


def test_a_step_that_cuts_nothing_adds_next_to_nothing() -> None:
    one, two = script(ball(20)), script(ball(20), ball(20))
    assert len(two) < len(one) + 60
    assert [len(triangles) for _, triangles in unpacked(two)[1]] == [len(unpacked(one)[1][0][1])] * 2


def test_a_solid_cut_away_whole_can_be_a_stage() -> None:
    _, found = unpacked(script(cube(10), SurfaceMesh.of([], [])))
    assert [len(triangles) for _, triangles in found] == [12, 0]


def test_twelve_stages_stay_under_300_kilobytes() -> None:
    """Twelve beads turned one after the other: some 4,000 triangles at each stage, as a ribbed ball has."""
    stages = []
    for done in range(1, 13):
        outline = [(-60.0, 0.0), (-60.0, 12.0)]
        for bead in range(done):
            outline += [(bead * 10 - 55 - x, 9 + y) for x, y in arc(4.5, 0, 180, 1 + 30 // done)]
        stages.append(turned([*outline, (60.0, 12.0), (60.0, 0.0)], around=64))
    assert sum(len(one.triangles) for one in stages) > 12 * 4000
    assert len(script(*stages)) < 200_000


def test_a_ring_keeps_its_hole() -> None:
    _, [(points, _)] = unpacked(script(collar(8, 12, -5, 5)))
    assert np.hypot(points[:, 1], points[:, 2]).min() > 7.9


def test_what_is_glued_up_says_once_of_which_woods_and_of_each_stage_how_it_lies() -> None:
    courses = (GluedCourse(10.0, 15.0, ("pale", "dark")), GluedCourse(24.0, 0.0, ("red",)))
    upright = GlueUp((1.0, 2.0, 3.0), ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)), courses, (0, 12))
    # Its own x runs along the picture's y: what is let in goes by its own frame.
    dot = GluedRound((1.0, 4.0, 3.0), (0.0, -1.0, 0.0), 2.0, 2.5, -1.0, 6.0, "brown")
    lying = replace(upright, frame=((0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0)), let_in=(dot,))
    stages = [
        PackedStage("plain", cube(12)),
        PackedStage("glued", cube(12), glued=upright),
        PackedStage("let in", cube(12), glued=lying),
    ]
    text = packed("trial", stages, camera=fit(bounds_of([cube(12)])), title="A trial")
    payload, _ = unpacked(text)
    assert payload["stacks"] == [[[10.0, 15.0, ["pale", "dark"]], [24.0, 0.0, ["red"]]]]
    plain, glued, let_in = payload["stages"]  # type: ignore[misc]
    assert "glued" not in plain
    assert glued["as"] == 0
    assert glued["glued"] == {"stack": 0, "lies": [1, 2, 3, 1, 0, 0, 0, 1, 0, 0, 0, 1], "rounds": []}
    assert let_in["glued"]["lies"] == [1, 2, 3, 0, 1, 0, 0, 0, 1, 1, 0, 0]
    assert let_in["glued"]["rounds"] == [[2, 0, 0, -1, 0, 0, 2, 2.5, -1, 6, "brown"]]
