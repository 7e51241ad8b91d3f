"""Small pieces on which the two judges differed once; each file says which is right, and why.

A first line reads `# true: must: thin web at step 2 of piece` for what must be found there, `# true: none: …`
for what is not so, and `# true: may: …` for what is so and too small for the second judge to demand it: the library
says it, and the second judge lets it pass. Both judges are held to it.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
import yaml

from tests.oracle.compare import CLOSER, HIDDEN, Compared, set_against
from tests.oracle.joints import fits
from tests.oracle.judge import Kind, judged
from tests.oracle.library import library_reads

CASES = sorted((Path(__file__).parent / "cases").glob("*.yml"))
_TRUE = re.compile(
    r"# true: (?P<what>must|may|none): (?P<kind>.+) at step (?P<step>\d+) of (?P<part>\S+)\n# because: .+\n"
)


def _read(case: Path) -> tuple[dict[str, Any], re.Match[str]]:
    text = case.read_text(encoding="utf-8")
    said = _TRUE.match(text)
    assert said, f"{case.name} does not say what is true and why"
    return yaml.safe_load(text), said


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_the_second_judge_says_what_is_true(case: Path) -> None:
    project, said = _read(case)
    parts = dict(judged(project, voxels=CLOSER))
    kind, step = Kind(said["kind"]), int(said["step"]) - 1
    if kind is Kind.JOINT:
        opinion = fits(project["assembly"]["joints"][step], parts).get(kind)
    else:
        opinion = parts[said["part"]].verdict.get((step, kind))
    assert {"must": opinion is not None and opinion.must, "may": opinion is not None, "none": opinion is None}[
        said["what"]
    ]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_the_library_says_what_is_true(case: Path) -> None:
    project, said = _read(case)
    told = library_reads(case)
    found: Compared = set_against(project, dict(judged(project, voxels=CLOSER)), told)
    kinds = {said["kind"], HIDDEN} if said["kind"] == Kind.THIN.value else {said["kind"]}
    assert not [one for one in found.differences if one.kind in kinds]
    if said["what"] == "may":
        assert said["kind"] in {one.kind.value for one in told.told if one.kind is not None}
