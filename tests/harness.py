"""Golden bad input: project files that say themselves what is wrong with them.

A case is a YAML file in `bad_input/`, or a folder of them where several files are
needed. Above each offending line stands what the tool must say of it:

    #! 14 sizes.ball.is: has no unit | such as 2 1/4 in
       |  |              |             part of the hint; may be left out
       |  |              part of the message
       |  the keys that lead there; none for the file as a whole
       column

`#! +2 7 …` points two lines further down, for text where no comment can stand, and
`#! file: …` is said of the file and not of a line.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

from handouts_build.problems import Problem

HERE = Path(__file__).parent
CASES = sorted(
    path
    for path in (HERE / "bad_input").iterdir()
    if path.suffix == ".yml" or (path.is_dir() and not path.name.startswith("_"))
)

_EXPECTED = re.compile(
    r"\s*#! (?:\+(?P<down>\d+) )?(?P<at>file|\d+)(?: (?P<path>.*?))?: (?P<message>.*?)(?: \| (?P<hint>.*))?"
)


@dataclass(frozen=True)
class Expected:
    """One problem that must be found."""

    file: str
    line: int
    column: int
    path: str
    message: str
    hint: str = ""

    def meant_by(self, problem: Problem) -> bool:
        """Whether a problem is this one: place exact, texts in part."""
        place = problem.place
        return (
            (place.file, place.line, place.column, place.path) == (self.file, self.line, self.column, self.path)
            and self.message in problem.message.replace("\u00a0", " ")
            and self.hint in problem.hint.replace("\u00a0", " ")
        )


def expected_in(file: Path, shown: str) -> list[Expected]:
    """What a file says is wrong with it."""
    lines = file.read_text(encoding="utf-8").splitlines()
    found = []
    for number, line in enumerate(lines, start=1):
        if not line.lstrip().startswith("#!"):
            continue
        said = _EXPECTED.fullmatch(line)
        assert said, f"{file.name}:{number}: not an expected problem: {line}"
        below = number + 1
        while below <= len(lines) and lines[below - 1].lstrip().startswith("#!"):
            below += 1
        whole = said["at"] == "file"
        found.append(
            Expected(
                shown,
                0 if whole else below + int(said["down"] or 0),
                0 if whole else int(said["at"]),
                said["path"] or "",
                said["message"],
                said["hint"] or "",
            )
        )
    return found


def differences(expected: list[Expected], problems: tuple[Problem, ...]) -> str:
    """What was expected and not said, and what was said and not expected; empty if nothing."""
    left = list(problems)
    missing = []
    for one in expected:
        met = next((problem for problem in left if one.meant_by(problem)), None)
        if met is None:
            missing.append(one)
        else:
            left.remove(met)
    return "\n".join((*(f"not said: {one}" for one in missing), *(f"not expected: {one}" for one in left)))
