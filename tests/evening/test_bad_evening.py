"""Bad demonstrations and timing files: exactly the problems they say they have, and nothing that was there is touched.

A case is a folder with demonstrations, dry runs or both; what is wrong is said above the line, as in `bad_input/`.
"""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from handouts_build.problems import ProjectError
from handouts_build.site.build import read_archive
from tests.harness import differences, expected_in

HERE = Path(__file__).parents[1] / "bad_evening"
CASES = sorted(path for path in HERE.iterdir() if path.is_dir())


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_a_bad_file_has_exactly_the_problems_it_says(case: Path, projects: Path) -> None:
    expected = []
    for file in sorted(case.rglob("*.yml")):
        below = file.relative_to(case)
        target = projects / "piece" / below
        target.parent.mkdir(exist_ok=True)
        shutil.copy(file, target)
        expected += expected_in(file, f"projects/piece/{below.as_posix()}")
    assert expected, "the case says nothing of what is wrong with it"
    before = {path: path.read_bytes() for path in projects.rglob("*") if path.is_file()}
    with pytest.raises(ProjectError) as caught:
        read_archive(projects, base=projects.parent)
    assert not differences(expected, caught.value.problems)
    assert before == {path: path.read_bytes() for path in projects.rglob("*") if path.is_file()}
