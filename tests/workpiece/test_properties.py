"""What is true of any plan: wood only goes, and none is lost count of."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
import trimesh
from hypothesis import Phase, assume, given, settings
from hypothesis import strategies as st

from handouts_build.workpiece import Round, Solid, Stage, StageCache, WorkStep, carry
from tests.effort import tries
from tests.workpiece.lantern import Lantern
from tests.workpiece.strategies_workpiece import BLANK, carried, near, plans, scaled

# Found cases are small already; shrinking them would take longer than reading them.
FEW = settings(max_examples=tries(6, 20), phases=[Phase.explicit, Phase.reuse, Phase.generate])


def _as_trimesh(stage: Stage) -> trimesh.Trimesh:
    return trimesh.Trimesh(stage.mesh.vertices, stage.mesh.triangles, process=False, validate=False)


@FEW
@given(plans())
def test_a_cut_never_adds_wood(steps: tuple[WorkStep, ...]) -> None:
    """Each stage lies within the one before, and is no larger."""
    _, stages = carried(steps)
    for before, after in itertools.pairwise(stages):
        assert after.volume_mm3 <= before.volume_mm3 + 1e-6
        assert (after.wood - before.wood).volume_mm3 < 1e-3


@FEW
@given(plans())
def test_what_was_taken_and_what_is_left_make_the_blank(steps: tuple[WorkStep, ...]) -> None:
    """Chips, waste and wood add up; the bodies themselves fill the blank."""
    _, stages = carried(steps)
    gone = sum(stage.chips_mm3 + stage.waste_mm3 for stage in stages)
    assert near(gone + stages[-1].volume_mm3, stages[0].volume_mm3, share=1e-5)
    whole = Solid.all_of([stages[-1].wood, *(one.chips for one in stages[-1].made if not one.chips.is_empty)])
    loose = sum(stage.pieces > 1 for stage in stages)
    if not loose:
        assert near(whole.volume_mm3, stages[0].volume_mm3, share=1e-4)


@FEW
@given(plans(), st.floats(0.4, 3))
def test_all_sizes_times_k_make_k_cubed_the_wood(steps: tuple[WorkStep, ...], factor: float) -> None:
    """Volume goes with the cube of a length, any textbook."""
    steps, stages = carried(steps)
    larger = carry(scaled(BLANK, factor), scaled(steps, factor), segments=36)
    # Wood that hangs together by less than a hair may come apart at one size and not at the other.
    assume([stage.pieces for stage in larger] == [stage.pieces for stage in stages])
    assert near(larger[-1].volume_mm3, stages[-1].volume_mm3 * factor**3, share=1e-4)
    assert near(larger[-1].radius_mm, stages[-1].radius_mm * factor, share=1e-4)


@FEW
@given(plans())
def test_volume_and_center_of_gravity_agree_with_trimesh(steps: tuple[WorkStep, ...]) -> None:
    """trimesh (public library) works them out in its own way from the same triangles."""
    stage = carried(steps)[1][-1]
    mesh = _as_trimesh(stage)
    assert near(mesh.volume, stage.volume_mm3, share=1e-4)
    assert np.allclose(mesh.center_mass, stage.center_mm, atol=2e-3)


def test_the_lantern_is_watertight_and_agrees_with_trimesh() -> None:
    stage = Lantern().stages()[-1]
    mesh = _as_trimesh(stage)
    assert mesh.is_watertight
    assert near(mesh.volume, stage.volume_mm3, share=1e-5)
    assert np.allclose(mesh.center_mass, stage.center_mm, atol=1e-3)


@pytest.mark.parametrize(
    "start", [7.0, pytest.param(19.3, marks=pytest.mark.long), pytest.param(123.4, marks=pytest.mark.long)]
)
def test_the_start_angle_changes_nothing(start: float) -> None:
    """Holes and grooves begun at any angle leave the same wood and the same webs, to the faceting of a circle."""
    plain, turned = Lantern().stages(), Lantern(start_deg=start).stages()
    assert near(turned[-1].volume_mm3, plain[-1].volume_mm3)
    assert turned[-1].wood.genus == plain[-1].wood.genus
    for one, other in zip(plain, turned, strict=True):
        assert [verdict.code for verdict in one.verdicts] == [verdict.code for verdict in other.verdicts]
        assert one.radius_before_mm == pytest.approx(other.radius_before_mm, rel=2e-3)


def test_the_same_plan_gives_the_same_triangles() -> None:
    one, other = Lantern().stages()[-1].mesh, Lantern().stages()[-1].mesh
    assert np.array_equal(one.vertices, other.vertices)
    assert np.array_equal(one.triangles, other.triangles)
    assert np.array_equal(one.origins, other.origins)


def test_editing_a_later_step_keeps_the_stages_before_it() -> None:
    """The very same stages come back up to the edit, and other ones from there on."""
    kept = StageCache()
    steps = Lantern().steps()
    first = carry(Lantern().blank(), steps, kept=kept)
    again = carry(Lantern().blank(), (*steps[:8], WorkStep(name="Sand"), *steps[8:]), kept=kept)
    assert all(one is other for one, other in zip(first[:9], again[:9], strict=True))
    assert first[9] is not again[9]
    assert all(one is other for one, other in zip(first, carry(Lantern().blank(), steps, kept=kept), strict=True))


def test_keeping_forgets_the_oldest() -> None:
    kept = StageCache(most=1)
    blank = Round(diameter_mm=20, long_mm=20)
    first = carry(blank, (), kept=kept)[0]
    assert carry(blank, (), kept=kept)[0] is first
    carry(Round(diameter_mm=21, long_mm=20), (), kept=kept)
    assert carry(blank, (), kept=kept)[0] is not first


def test_every_face_tells_the_cut_that_left_it() -> None:
    """The bore's faces lie at its radius; the blank's own are gone once the ball is turned and parted off."""
    stage = Lantern().stages()[-1]
    serials = {one.name: one.serial for one in stage.made}
    assert set(stage.mesh.origins) <= set(serials.values())
    corners = stage.mesh.vertices[stage.mesh.triangles[stage.mesh.origins == serials["bore"]]]
    assert np.hypot(corners[..., 0], corners[..., 1]).max() == pytest.approx(Lantern().bore / 2, rel=1e-3)
    assert math.isclose(stage.mesh.vertices[:, 2].max(), stage.box_mm[5], rel_tol=1e-5)
