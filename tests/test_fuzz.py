"""Any text gives a project or problems: never another exception, never a run without end.

The texts are the demo project with pieces cut out, doubled, swapped and spoilt.
`HANDOUTS_FUZZ=5000` tries that many instead of a few.
"""

from __future__ import annotations

import os
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from handouts_build.outputs.data import sheet_json
from handouts_build.problems import ProjectError
from handouts_build.site.build import read_archive
from tests.bad_input.generated import PIECE
from tests.effort import tries
from tests.strategies import yaml_like

TEXT = (Path(__file__).parents[1] / "projects" / "lantern.yml").read_text(encoding="utf-8")
LINES = TEXT.splitlines(keepends=True)
WORDS = (
    "0", "-1", "1/0 in", "1e9", "9999999 in", "0.000001 mm", "360", "361", "2.5", "1 1/2", "in", "''", "[]", "{}", "~",
    "true", "ball", "octagon.side", "drop_shape.neck", "ball / 0 in", "ball ^ 6", "sqrt(-1)", "asin(2)", "tan(90 deg)",
    "exp(700)", "{ball}", "{", "<b>", "#let x", "*", "&a", "!!x", "\t", "\0", "\u202e", "\u2028", "é" * 50,
    "over", "under", "cylinder", "round", "vee", "cross holes", "divisions", "fit", "speed",
)  # fmt: skip
TRIES = int(os.environ.get("HANDOUTS_FUZZ", tries(10, 60)))

numbers = st.integers(0, 10**6)


@st.composite
def mutated(draw: st.DrawFn) -> str:
    """The demo with up to four small things done to it."""
    lines = list(LINES)
    for _ in range(draw(st.integers(1, 4))):
        at = draw(numbers) % len(lines)
        match draw(st.sampled_from(("drop", "double", "swap", "word", "letter", "indent", "value"))):
            case "drop":
                del lines[at]
            case "double":
                lines.insert(at, lines[at])
            case "swap":
                other = draw(numbers) % len(lines)
                lines[at], lines[other] = lines[other], lines[at]
            case "word":
                words = lines[at].split(" ")
                words[draw(numbers) % len(words)] = draw(st.sampled_from(WORDS))
                lines[at] = " ".join(words)
            case "letter":
                spot = draw(numbers) % len(lines[at])
                lines[at] = lines[at][:spot] + draw(st.characters(codec="utf-8")) + lines[at][spot + 1 :]
            case "indent":
                lines[at] = " " * draw(st.integers(0, 4)) + lines[at].lstrip()
            case "value":
                key, colon, _ = lines[at].partition(": ")
                lines[at] = f"{key}{colon}{draw(st.sampled_from(WORDS))}\n"
    return "".join(lines)


def outcome(folder: Path, text: str) -> str:
    """The sheet as data, or the problems as text."""
    (folder / "piece.yml").write_bytes(text.encode("utf-8", "replace"))
    try:
        (sheet,) = read_archive(folder, base=folder).sheets
        said = sheet_json(sheet)
    except ProjectError as error:
        said = str(error)
        faults = error.problems
    else:
        faults = ()
    assert all(problem.message and problem.place.file == "piece.yml" for problem in faults)
    return said


@given(mutated())
@settings(max_examples=TRIES, suppress_health_check=list(HealthCheck))
def test_the_demo_with_anything_done_to_it_is_a_project_or_problems(tmp_path: Path, text: str) -> None:
    assert outcome(tmp_path, text)


@given(yaml_like())
@settings(max_examples=TRIES, suppress_health_check=list(HealthCheck))
def test_text_that_is_like_yaml_is_a_project_or_problems(tmp_path: Path, text: str) -> None:
    assert outcome(tmp_path, text)


@given(st.sampled_from(("ball", "2 in", "1/4 in", "ball / 2", "bead", "{ball}")), yaml_like())
@settings(max_examples=TRIES, suppress_health_check=list(HealthCheck))
def test_anything_in_one_places_of_a_sound_piece_is_a_project_or_problems(tmp_path: Path, old: str, new: str) -> None:
    assert outcome(tmp_path, PIECE.replace(old, new, 1))


def test_the_demo_itself_is_sound(tmp_path: Path) -> None:
    assert outcome(tmp_path, TEXT).startswith("{")
