"""Small pieces whose verdict is known: each file's first two lines say what is expected and why.

A first line reads `# expect: stop`, `# expect: mind: …`, `# expect: none: …` or `# expect: box: …`;
after the colon stands a pattern that a finding, or a safety box, must match. With `none`, no finding
to be minded or stopped at may match it.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from handouts_build.sheet import Level, Sheet
from handouts_build.site.build import read_projects

HERE = Path(__file__).parent
CASES = sorted(HERE.glob("*.yml"))
_EXPECTED = re.compile(r"# expect: (?P<what>stop|mind|none|box)(?:: (?P<words>.+))?\n# because: .+\n")

NOT_YET: dict[str, str] = {}
"""Cases that fail, and why; whoever mends one takes its line away."""


def _parameters() -> list[object]:
    return [
        pytest.param(case, id=case.stem, marks=[pytest.mark.xfail(strict=True, reason=NOT_YET[case.stem])])
        if case.stem in NOT_YET
        else pytest.param(case, id=case.stem)
        for case in CASES
    ]


def _told(sheet: Sheet, *levels: Level) -> list[str]:
    return [f"{one.message}; {one.remedy}" for one in sheet.findings if one.level in levels]


def _boxes(sheet: Sheet) -> list[str]:
    boxes = [*sheet.boxes, *(box for step in sheet.steps for box in step.boxes)]
    return [" ".join((box.id, box.title, box.hurts, *box.do)) for box in boxes]


@pytest.mark.parametrize("case", _parameters())
def test_a_piece_gets_the_verdict_that_its_file_expects(case: Path) -> None:
    said = _EXPECTED.match(case.read_text(encoding="utf-8"))
    assert said, f"{case.name} does not say what is expected and why"
    (sheet,) = read_projects([case], base=HERE).sheets
    words = re.compile(said["words"] or "", re.IGNORECASE)
    if said["what"] == "none":
        assert not [text for text in _told(sheet, Level.STOP, Level.MIND) if words.search(text)]
        return
    levels = {"stop": Level.STOP, "mind": Level.MIND}
    texts = _boxes(sheet) if said["what"] == "box" else _told(sheet, levels[said["what"]])
    assert [text for text in texts if words.search(text)], "\n".join(texts) or "nothing was said"


def test_every_case_that_is_not_met_yet_is_there() -> None:
    assert set(NOT_YET) <= {case.stem for case in CASES}
