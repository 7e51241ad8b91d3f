"""The time to make a piece and the time to show it, said apart and alike everywhere."""

from __future__ import annotations

from pathlib import Path

import pytest

from handouts_build.compute.steps import step_names, timed
from handouts_build.outputs.words import times
from handouts_build.sheet import Sheet
from handouts_build.site.summary import summary_of
from tests.projects import project, site, worked

PARTS = """\
parts:
  body:
    wood: maple, sugar
    blank: {round: 3 in, long: 4 in}
    steps:
      - {name: Glue it up, say: Glue it., minutes: 15, show: SHOW}
      - {name: Turn it, say: Turn it., minutes: 20}
      - {name: Tell of it, say: Tell., minutes: {likely: 6, told: 2}, show: talk}
"""


def piece(folder: Path, show: str) -> Sheet:
    return worked(folder, parts=PARTS.replace("SHOW", show))


@pytest.mark.parametrize(("show", "shown"), [("ready-made", 1 + 20 + 2), ("live", 15 + 20 + 2)])
def test_what_is_brought_ready_made_is_made_in_full_and_shown_in_a_minute(
    tmp_path: Path, show: str, shown: int
) -> None:
    sheet = piece(tmp_path, show)
    assert dict(times(sheet)) == {"Time to make it": 41, "Time to show it": shown}
    assert summary_of(sheet).says.endswith(f"41 minutes to make it, {shown} minutes to show it")


def test_the_plan_of_a_demonstration_counts_the_same(tmp_path: Path) -> None:
    sheet = piece(tmp_path, "ready-made")
    planned = timed(step_names(sheet), ())
    # Three points of 3/4, 1 and 3/2 have their mean a little over the likely one (PERT: (3/4 + 4 + 3/2) / 6).
    assert planned["Glue it up"].told.mean == pytest.approx((0.75 + 4 + 1.5) / 6)
    assert planned["Tell of it"].told.mean == pytest.approx(2 * (0.75 + 4 + 1.5) / 6)


def test_where_all_is_live_one_time_is_enough(tmp_path: Path) -> None:
    parts = PARTS.replace("SHOW", "live").replace("{likely: 6, told: 2}, show: talk", "6, show: live")
    assert dict(times(worked(tmp_path, parts=parts))) == {"Time to make it": 41}


def test_the_page_says_of_a_ready_made_step_that_its_time_is_for_making_it(tmp_path: Path) -> None:
    project(tmp_path, parts=PARTS.replace("SHOW", "ready-made"))
    page = site(tmp_path)["projects/piece/at-the-lathe.md"].decode()
    assert "<dt>Time to make it</dt> <dd>15 min</dd>" in page.replace("\u00a0", " ")
    assert "<dt>Time</dt> <dd>20 min</dd>" in page.replace("\u00a0", " ")
