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

NOT_YET = {
    "pin-with-no-shoulder": "a pin thinner than its tenon is to be is set too deep",
    "hollow-beside-a-shoulder": "1.73 mm is told: no ray from one face meets the corner of the other",
    "plate-over-a-hole-off-the-middle": "a hole is taken for as wide as it reaches on its far side",
    "bore-opened-past-its-floor": "a hole opened wider and deeper is said to miss itself",
    "parted-wholly-in-the-jaws": "a kerf that ends short of the middle of the jaws' depth is not seen",
    "prism-in-the-jaws": "flats that leave the corners are not seen in the jaws",
    "recess-past-a-flat": "a recess that is nowhere whole all around is not asked whether it comes out",
    "drive-center-over-a-wide-hole": "nothing is asked of a drive center whose width is not told",
    "tenon-longer-than-its-hole": "a shoulder that a later cut moved back is not seen",
}
"""Cases that the library fails, and why; whoever mends one takes its line away."""


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


def _parameters() -> list[Any]:
    return [
        pytest.param(case, id=case.stem, marks=[pytest.mark.xfail(strict=True, reason=NOT_YET[case.stem])])
        if case.stem in NOT_YET
        else pytest.param(case, id=case.stem)
        for case in CASES
    ]


@pytest.mark.parametrize("case", _parameters())
def test_the_library_says_what_is_true(case: Path) -> None:
    project, said = _read(case)
    found: Compared = set_against(project, dict(judged(project)), library_reads(case), voxels=48)
    kinds = {said["kind"], HIDDEN} if said["kind"] == Kind.THIN.value else {said["kind"]}
    assert not [one for one in found.differences if one.kind in kinds]


def test_every_case_that_is_not_met_yet_is_there() -> None:
    assert set(NOT_YET) <= {case.stem for case in CASES}
