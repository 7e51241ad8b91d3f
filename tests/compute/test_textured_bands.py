"""A textured band as a file says it: its tool, its work, its caution, its number and its name."""

from __future__ import annotations

from pathlib import Path

import pytest

from handouts_build.sheet import Level, Sheet
from tests.projects import worked

PARTS = """
parts:
  box:
    wood: maple, sugar
    blank: {{round: 60 mm, long: 80 mm}}
    steps:
      - name: Turn it
        hold: {{by: [between centers]}}
        cut: [{{cylinder: {{diameter: 50 mm}}}}]
        tools: [spindle roughing gouge]
        say: Turn it.
      - name: Texture it
        mark: [{{texture: {{name: grip, start: 20 mm, end: 35 mm, tool: {tool}}}}}]
        say: Texture it.
      - name: Groove it
        hold: {{by: [between centers]}}
        cut: [{{groove: {{at: {at}, wide: 8 mm, floor: 20 mm}}}}]
        tools: [parting tool]
        say: Groove it.
assembly: {{up: right}}
"""


def _sheet(folder: Path, *, tool: str = "texturing wheel", at: str = "60 mm") -> Sheet:
    return worked(folder, parts=PARTS.format(tool=tool, at=at))


@pytest.mark.parametrize(
    ("tool", "caution"),
    [
        ("texturing wheel", "texturing"),
        ("chatter tool", "texturing"),
        ("wire brush", "texturing"),
        ("carving gouge", "carving-by-hand"),
        ("rotary tool", "rotary-carver"),
    ],
)
def test_its_tool_is_packed_and_its_caution_is_told(tool: str, caution: str, tmp_path: Path) -> None:
    """Cautions of these tools: common practice, no published source."""
    step = list(_sheet(tmp_path, tool=tool).steps)[1]
    assert tool in step.tools
    assert caution in {box.id for box in step.boxes}


def test_it_is_named_where_it_is_drawn_and_measured_beside_its_step(tmp_path: Path) -> None:
    sheet = _sheet(tmp_path)
    stage = list(sheet.steps)[1].stage
    assert stage is not None
    assert "the grip with a texturing wheel" in stage.says
    assert "Pencil lines" not in stage.says
    (width,) = [fact for fact in stage.facts if fact.name == "texture"]
    assert (width.value.m_as("mm"), width.about) == (15, "the grip")
    assert sheet.whole is not None
    assert "the grip with a texturing wheel" in sheet.whole.says


def test_a_later_cut_into_it_is_minded_and_one_beside_it_is_not(tmp_path: Path) -> None:
    assert _sheet(tmp_path).findings == ()
    (found,) = _sheet(tmp_path, at="27 mm").findings
    assert found.level is Level.MIND
    assert "of the grip, which was textured before, is cut away" in found.message
