"""A bore and the drilling chapter of its hole speak of one bit."""

from __future__ import annotations

from pathlib import Path

import pytest

from handouts_build.sheet import Sheet
from tests.projects import worked


def _piece(folder: Path, *, chapter: str, bore: str) -> Sheet:
    return worked(
        folder,
        workings=f"hole: {{chapter: drilling, bit: 1/2 in, depth: 2 in{chapter}}}",
        parts=f"""\
parts:
  body:
    wood: maple, sugar
    blank: {{round: 2 in, long: 6 in}}
    steps:
      - name: Drill it
        say: Drill it.
        hold: {{by: [chuck], deep: 2 in}}
        cut: [{{bore: {{diameter: 1/2 in, end: right, deep: 2 in{bore}}}}}]
""",
    )


@pytest.mark.parametrize(
    ("chapter", "bore", "differ"),
    [
        # A twist bit ground to 118 degrees has a point of d / (2 tan 59 deg) = 3.815 mm on 12.7; a Forstner bit's of
        # 2 mm is common practice, no published source.
        ("", ", bit type: Forstner bit", True),
        (", bit type: spur bit", ", bit type: twist bit", True),
        (", bit type: Forstner bit", ", bit type: Forstner bit", False),
        ("", ", bit type: twist bit", False),
        ("", "", False),
        (", point long: 3/32 in", ", bit type: Forstner bit", False),
    ],
)
def test_a_bit_that_is_two_is_told(tmp_path: Path, chapter: str, bore: str, differ: bool) -> None:
    told = [found.message for found in _piece(tmp_path, chapter=chapter, bore=bore).findings]
    assert any("on the quill reckons with a point of" in message for message in told) is differ
    if not chapter and differ:
        (message,) = (message.replace("\u00a0", " ") for message in told if "quill" in message)
        assert "(4 mm), and that of the Forstner bit which bores this hole is 3/32 in (2 mm)" in message
