"""Bad input: exactly the problems a file says it has, and nothing that was published is touched."""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from handouts_build.problems import Place, Problem, ProjectError
from handouts_build.site.build import read_archive
from tests.bad_input.generated import GENERATED, Made
from tests.harness import CASES, Expected, differences, expected_in
from tests.typed import typed

SUBPROCESS = ("no-unit", "bad-yaml-colon", "two-of-one-title")


@pytest.fixture
def archive(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An archive's folder, gone into, whose `projects/` is to be filled."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return tmp_path


def laid_out(case: Path, archive: Path) -> list[Expected]:
    """Copy a case's files into the archive; say what is expected of them."""
    projects = archive / "projects"
    projects.mkdir()
    files = [case] if case.is_file() else sorted(case.iterdir())
    for file in files:
        shutil.copy(file, projects)
    return [one for file in files for one in expected_in(file, f"projects/{file.name}")]


def problems_of(archive: Path) -> tuple[Problem, ...]:
    with pytest.raises(ProjectError) as caught:
        read_archive(Path("projects"), base=archive)
    return caught.value.problems


@pytest.fixture
def earlier(archive: Path) -> Iterator[Path]:
    """What a good run left behind; it must be the same afterwards, to the byte."""
    target = archive / "out"
    for name in ("piece-handout-letter.pdf", "index.md", "projects/piece.md", "projects/piece.json"):
        path = target / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(name.encode() * 100)
    before = fingerprint(target)
    yield target
    assert fingerprint(target) == before


def fingerprint(folder: Path) -> dict[str, str]:
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest() if path.is_file() else ""
        for path in sorted(folder.rglob("*"))
    }


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_a_bad_file_has_exactly_the_problems_it_says(case: Path, archive: Path) -> None:
    expected = laid_out(case, archive)
    assert expected, "the case says nothing of what is wrong with it"
    assert not differences(expected, problems_of(archive))


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_each_command_says_them_and_leaves_earlier_work_alone(case: Path, archive: Path, earlier: Path) -> None:
    expected = laid_out(case, archive)
    for arguments in (("check",), ("papers", "--to", str(earlier)), ("pages", "--strict", "--to", str(earlier))):
        status, out, err = typed(*arguments)
        assert status == 1
        assert not out
        assert "Traceback" not in err
        assert "fault of its own" not in err
        assert err.rstrip().endswith(f"{len(expected)} problem{'s' if len(expected) != 1 else ''}")
        for one in expected:
            spot = f"{one.file}:{one.line}:{one.column}:" if one.line else f"{one.file}:"
            assert any(
                line.startswith(spot) and one.message in line for line in err.replace("\u00a0", " ").splitlines()
            )


@pytest.mark.parametrize("made", GENERATED, ids=lambda made: made.name)
def test_bad_input_that_no_text_file_can_hold_has_one_clear_message(made: Made, archive: Path, earlier: Path) -> None:
    (archive / "projects").mkdir()
    made.write(archive / "projects")
    (problem,) = problems_of(archive)
    assert made.message in problem.message
    assert made.place in str(problem.place)
    assert len(str(problem)) < 900
    status, _, err = typed("papers", "--to", str(earlier))
    assert status == 1
    assert made.message in err


@pytest.mark.parametrize("name", SUBPROCESS)
def test_the_real_command_exits_with_1_and_speaks_on_stderr(name: str, archive: Path, earlier: Path) -> None:
    case = next(case for case in CASES if case.stem == name)
    expected = laid_out(case, archive)
    ran = subprocess.run(
        [
            sys.executable,
            "-c",
            "from handouts_build.cli import main; main()",
            "pages",
            "--strict",
            "--to",
            str(earlier),
        ],
        capture_output=True,
        text=True,
        encoding="utf-8",
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path), "PYTHONIOENCODING": "utf-8"},
        timeout=60,
        check=False,
    )
    assert ran.returncode == 1
    assert not ran.stdout
    assert "Traceback" not in ran.stderr
    assert all(one.message in ran.stderr for one in expected)


def test_the_harness_sees_what_is_missing_and_what_is_too_much(tmp_path: Path) -> None:
    file = tmp_path / "a.yml"
    file.write_text("#! 5 sizes.ball: has no unit | 2 in\nsizes:\n", encoding="utf-8")
    (expected,) = expected_in(file, "a.yml")
    said = Problem(Place("a.yml", 2, 5, "sizes.ball"), "'2' has no unit", "write 2 in")
    assert not differences([expected], (said,))
    assert "not said" in differences([expected], ())
    assert "not expected" in differences([expected], (said, said))
    for wrong in (
        replace(said, message="it has one"),
        replace(said, hint="write 2 mm"),
        replace(said, place=Place("a.yml", 3, 5, "sizes.ball")),
    ):
        assert "not said" in differences([expected], (wrong,))
    file.write_text("#! nonsense\n", encoding="utf-8")
    with pytest.raises(AssertionError, match="not an expected problem"):
        expected_in(file, "a.yml")
