"""Small pieces on which the two judges differed once; each file says which is right, and why.

A first line reads `# true: must: thin web at step 2 of piece` for what must be found there, or
`# true: none: …` for what is not so. Both judges are held to it.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
import yaml

from tests.oracle.compare import HIDDEN, Compared, set_against
from tests.oracle.joints import fits
from tests.oracle.judge import Kind, judged
from tests.oracle.library import library_reads

CASES = sorted((Path(__file__).parent / "cases").glob("*.yml"))
_TRUE = re.compile(r"# true: (?P<what>must|none): (?P<kind>.+) at step (?P<step>\d+) of (?P<part>\S+)\n# because: .+\n")


def _read(case: Path) -> tuple[dict[str, Any], re.Match[str]]:
    text = case.read_text(encoding="utf-8")
    said = _TRUE.match(text)
    assert said, f"{case.name} does not say what is true and why"
    return yaml.safe_load(text), said


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_the_second_judge_says_what_is_true(case: Path) -> None:
    project, said = _read(case)
    parts = dict(judged(project))
    kind, step = Kind(said["kind"]), int(said["step"]) - 1
    if kind is Kind.JOINT:
        opinion = fits(project["assembly"]["joints"][step], parts).get(kind)
    else:
        opinion = parts[said["part"]].verdict.get((step, kind))
    assert (opinion is not None and opinion.must) if said["what"] == "must" else opinion is None


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_the_library_says_what_is_true(case: Path) -> None:
    project, said = _read(case)
    found: Compared = set_against(project, dict(judged(project)), library_reads(case), voxels=48)
    kinds = {said["kind"], HIDDEN} if said["kind"] == Kind.THIN.value else {said["kind"]}
    assert not [one for one in found.differences if one.kind in kinds]
