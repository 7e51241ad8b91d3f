"""The command: what it prints, where, and with which exit status."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import click
import pypdfium2 as pdfium
import pytest

from handouts_build import cli as module
from handouts_build.cli import cli
from handouts_build.schema import project_schema
from tests.projects import project
from tests.typed import typed

ROOT = Path(__file__).parents[1]
Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Run:
    """Run the command in a folder of its own: exit status, what it printed, what it complained of."""
    monkeypatch.chdir(tmp_path)
    return typed


@pytest.fixture
def projects(tmp_path: Path) -> Path:
    folder = tmp_path / "projects"
    folder.mkdir()
    return folder


STOPPED = "keep:\n  - {that: ball > 3 in, says: Too small., remedy: Make it larger.}\n"


def test_check_tells_of_each_project_and_ends_well(run: Run, projects: Path) -> None:
    project(projects, name="one")
    project(projects, name="two")
    status, out, err = run("check")
    assert (status, err) == (0, "")
    assert out.splitlines() == [
        "projects/one.yml: One: 0 dimensions, 1 step, minutes not said",
        "projects/two.yml: Two: 0 dimensions, 1 step, minutes not said",
    ]


def test_check_of_one_file_leaves_the_others_alone(run: Run, projects: Path) -> None:
    project(projects, name="one")
    project(projects, name="two", sizes="ball: {is: 2 inn, says: It}")
    assert run("check", "projects/one.yml")[0] == 0
    assert run("check", "projects/two.yml")[0] == 1
    assert run("check")[0] == 1


def test_check_ends_with_1_on_a_stop_and_says_what_to_do(run: Run, projects: Path) -> None:
    project(projects, extra=STOPPED)
    status, out, _ = run("check")
    assert status == 1
    assert "keep[0].that: stop: Too small." in out
    assert "    remedy: Make it larger." in out


@pytest.mark.parametrize("command", ["papers", "pages"])
def test_a_stopped_piece_is_not_handed_out(command: str, run: Run, projects: Path, tmp_path: Path) -> None:
    project(projects, extra=STOPPED)
    status, out, err = run(command, "--to", "out")
    assert (status, out) == (1, "")
    assert "Too small." in err
    assert "Nothing was written" in err
    assert not (tmp_path / "out").exists()


def test_papers_are_written_to_papers_with_the_address_of_the_settings(
    run: Run, projects: Path, tmp_path: Path
) -> None:
    project(projects)
    (tmp_path / "mkdocs.yml").write_text("site_url: https://lathe-circle.example/\n", encoding="utf-8")
    status, out, err = run("papers", "projects/piece.yml", "--size", "a4")
    assert (status, err) == (0, "")
    assert out.endswith(" papers to papers/\n")
    with pdfium.PdfDocument(tmp_path / "papers" / "piece-handout-a4.pdf") as paper:
        text = "".join(page.get_textpage().get_text_bounded() for page in paper)
    assert "lathe-circle.example/p/piece" in text


def test_problems_go_to_stderr_with_their_number(run: Run, projects: Path) -> None:
    project(projects, sizes="ball: {is: 2 inn, says: It}\nbore: {is: 1 inn, says: It}")
    status, out, err = run("check")
    assert (status, out) == (1, "")
    assert err.startswith("projects/piece.yml:7:14: sizes.ball.is: '2 inn' is not a number with a unit\n    hint: ")
    assert err.endswith("\n2 problems\n")


def test_sheet_prints_the_dimensions_in_both_units(run: Run, projects: Path) -> None:
    project(projects, dimensions="half: {formula: ball / 2, says: Half of it}")
    status, out, _ = run("sheet", "projects/piece.yml")
    assert status == 0
    rows = [row.replace("\u00a0", " ").split("  ") for row in out.splitlines()]
    assert any([cell.strip() for cell in row if cell.strip()] == ["1 in", "25.5 mm", "Half of it"] for row in rows)


def test_sheet_prints_everything_as_json(run: Run, projects: Path) -> None:
    project(projects)
    status, out, _ = run("sheet", "--json", "projects/piece.yml")
    assert status == 0
    assert json.loads(out)["sizes"][0]["value"] == 50.8


def test_new_writes_a_project_that_check_passes(run: Run, tmp_path: Path) -> None:
    status, out, _ = run("new", "my-piece")
    assert status == 0
    assert out.splitlines()[-1] == "Next: handouts check projects/my-piece.yml"
    assert (tmp_path / "projects" / ".schemas" / "project.schema.json").read_text() == project_schema()
    assert run("check", "projects/my-piece.yml")[0] == 0
    status, out, err = run("new", "my-piece")
    assert (status, out) == (1, "")
    assert "already" in err


def test_a_folder_may_be_named(run: Run, tmp_path: Path) -> None:
    assert run("new", "my-piece", "--projects", "pieces")[0] == 0
    assert run("check", "--projects", "pieces")[0] == 0
    status, _, err = run("check")
    assert status == 1
    assert "there is no such folder" in err


@pytest.mark.parametrize(
    "arguments",
    [("nonsense",), ("check", "--nonsense"), ("sheet",), ("papers", "--to", "x", "--size", "a5")],
)
def test_wrong_use_ends_with_2_and_says_how(arguments: tuple[str, ...], run: Run) -> None:
    status, out, err = run(*arguments)
    assert (status, out) == (2, "")
    assert "--help" in err


def test_a_disk_that_refuses_is_one_line(run: Run, projects: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(_: object) -> None:
        raise OSError(28, "No space left on device", "out/piece.pdf")

    project(projects)
    monkeypatch.setattr("handouts_build.site.publish.survey", lambda *_args, **_kinds: full(None))
    status, _, err = run("check")
    assert status == 1
    assert err == "the disk said no: No space left on device (out/piece.pdf); what was there is as it was\n"


def test_a_fault_of_the_tools_own_is_said_without_a_traceback(
    run: Run, projects: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    project(projects)

    def broken(*_args: object, **_kinds: object) -> None:
        raise ZeroDivisionError("oh")

    monkeypatch.setattr("handouts_build.site.publish.survey", broken)
    status, _, err = run("check")
    assert status == 1
    assert "a fault of its own: ZeroDivisionError: oh" in err
    assert "Traceback" not in err
    monkeypatch.setenv("HANDOUTS_DEBUG", "1")
    with pytest.raises(ZeroDivisionError):
        run("check")


def test_being_interrupted_is_said_in_a_word(run: Run, projects: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    project(projects)

    def stopped(*_args: object, **_kinds: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("handouts_build.site.publish.survey", stopped)
    status, out, err = run("check")
    assert (status, out, err.strip()) == (130, "", "stopped")


def commands() -> dict[str, click.Command]:
    return dict(cli.commands)


def test_help_lists_the_commands_in_the_order_one_meets_them(run: Run) -> None:
    status, out, _ = run("--help")
    assert status == 0
    assert [line.split()[0] for line in out.partition("Commands:\n")[2].splitlines() if line.strip()] == [
        "new", "start", "import", "check", "bench", "names", "explain", "fmt", "sheet", "papers", "binder", "pages",
        "copy", "book", "dry-run", "evening", "hand-out", "chapters", "issue", "take-in", "call",
    ]  # fmt: skip


@pytest.mark.parametrize("name", sorted(commands()))
def test_every_command_and_option_explains_itself(name: str, run: Run) -> None:
    command = commands()[name]
    status, out, _ = run(name, "--help")
    assert status == 0
    assert command.help
    for option in command.params:
        if isinstance(option, click.Option):
            assert option.help, option.name
            assert option.opts[0] in out


def test_the_readme_names_every_command_and_option() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    for name, command in commands().items():
        assert f"handouts {name}" in readme
        for option in command.params:
            if isinstance(option, click.Option):
                assert all(f"{flag}" in readme for flag in (*option.opts, *option.secondary_opts)), option.opts
    assert "--version" in readme


def test_the_mistake_that_the_readme_shows_is_answered_as_it_shows(run: Run) -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    shown = re.search(r"```text\n(projects/my-piece\.yml:.*?)```", readme, re.DOTALL)
    assert shown
    assert run("new", "my-piece")[0] == 0
    path = Path("projects/my-piece.yml")
    path.write_text(path.read_text(encoding="utf-8").replace("is: 1 1/4 in", "is: 1 1/4"), encoding="utf-8")
    status, _, err = run("check")
    assert status == 1
    assert err.startswith(shown[1])


# numpy is not among them: pint imports it wherever it is installed.
LAZY = ("matplotlib", "typst", "mkdocs", "jinja2", "PIL", "jsonschema", "segno", "manifold3d")


def test_check_imports_nothing_that_it_does_not_need(projects: Path) -> None:
    """So that the answer comes at once (0.7 s for one file)."""
    project(projects)
    code = f"""
import sys
sys.argv = ["handouts", "check", {str(projects / "piece.yml")!r}]
from handouts_build.cli import main
main()
print(sorted(name for name in {LAZY!r} if name in sys.modules))
"""
    ran = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
        timeout=60,
        check=False,
    )
    assert ran.stdout.splitlines()[-1] == "[]", ran.stderr


def test_help_needs_nothing_but_click() -> None:
    code = "import sys, handouts_build.cli; print(sorted({'pint', 'pydantic', 'yaml', 'lark'} & set(sys.modules)))"
    ran = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
        timeout=60,
        check=True,
    )
    assert ran.stdout == "[]\n"
    assert sorted(module.__all__) == ["cli", "main"]


def test_new_lists_what_there_is_to_start_like_and_starts_it(run: Run) -> None:
    status, out, _ = run("new", "--list")
    assert status == 0
    kinds = dict(re.split(r"  +", line, maxsplit=1) for line in out.splitlines())
    readme = (Path(__file__).parents[1] / "README.md").read_text(encoding="utf-8")
    assert f"# {('sixteen', 'seventeen', 'eighteen', 'nineteen')[len(kinds) - 16]} kinds of piece" in readme
    assert "bowl" in kinds["bowl"]
    assert run("new", "my-bowl", "--like", "bowl", "--measure", "mm")[0] == 0
    written = Path("projects/my-bowl.yml").read_text(encoding="utf-8")
    assert re.search(r"\d mm\b", written)
    assert not re.search(r"\d in\b", written)
    assert run("new", "second", "--from", "my-bowl")[0] == 0
    assert '"My bowl (copy)"' in Path("projects/second.yml").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ((), "handouts new my-piece --like bowl"),
        (("piece", "--like", "bowll"), "bowl"),
        (("piece", "--like", "bowl", "--from", "other"), "not both"),
        (("piece", "--from", "other"), "there is no project 'other'"),
    ],
)
def test_new_says_what_is_wrong_with_what_it_is_told(
    run: Run, projects: Path, arguments: tuple[str, ...], said: str
) -> None:
    status, _, err = run("new", *arguments)
    assert status != 0
    assert said in err
    assert not list(projects.iterdir())


def test_sheet_and_names_tell_what_was_filled_in(run: Run) -> None:
    """And a write-up of words alone has neither sizes nor anything filled in."""
    run("new", "egg", "--like", "egg")
    status, out, _ = run("sheet", "egg")
    assert (status, "(filled in: from what holds it)" in out) == (0, True)
    status, out, _ = run("names", "egg", "egg/3")
    told = out[out.index("Filled in") :]
    assert "abrasives P120" in told
    assert "egg/1" not in told
    Path("projects/old.yml").write_text("title: Old bowl\ntext: From a limb.\n", encoding="utf-8")
    assert run("sheet", "old")[:2] == (0, "Old bowl\n\n")


def test_names_and_explain_answer_in_the_terminal(run: Run, projects: Path) -> None:
    assert run("new", "knob")[0] == 0
    status, out, _ = run("names", "knob", "knob/2")
    assert status == 0
    assert "chuck tenon" in out
    assert "tenon.tenon" in out
    status, out, _ = run("explain", "part", "off")
    assert status == 0
    assert out.startswith("part off (cut)")
    status, _, err = run("explain", "diametre")
    assert status == 1
    assert "did you mean 'diameter'?" in err


def test_check_watches_until_it_is_told_to_stop_and_a_broken_file_does_not_end_it(
    run: Run, projects: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = project(projects)
    sound = path.read_text(encoding="utf-8")
    saves = iter([sound.replace("title:", "titel:"), sound.replace("Piece", "Other")])

    def pause(_: float) -> None:
        text = next(saves, None)
        if text is None:
            raise KeyboardInterrupt
        path.write_text(text, encoding="utf-8")

    monkeypatch.setattr("handouts_build.disk.watching.changes.__kwdefaults__", {"pause": pause})
    status, out, err = run("check", "--watch")
    assert (status, err) == (0, "")
    assert [word in out for word in ("Piece: 0 dimensions", "'titel' is not a key here", "Other: 0 dimensions")] == [
        True, True, True,
    ]  # fmt: skip
    assert out.index("Piece: 0") < out.index("titel") < out.index("Other: 0")


def test_a_screen_of_findings_is_one_screen(run: Run, projects: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for number in range(9):
        project(projects, name=f"piece-{number}")

    def pause(_: float) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("handouts_build.disk.watching.changes.__kwdefaults__", {"pause": pause})
    monkeypatch.setenv("LINES", "8")
    _, out, _ = run("check", "--watch")
    assert "and 4 more lines" in out
    assert len(out.strip().splitlines()) <= 8


def test_fmt_shows_first_and_writes_when_it_is_told(run: Run, projects: Path) -> None:
    path = project(projects)
    tidy = path.read_text(encoding="utf-8")
    untidy = tidy.replace("title: ", "title:    ")
    path.write_text(untidy, encoding="utf-8")
    status, out, _ = run("fmt")
    assert status == 1
    assert "-title:    Piece" in out
    assert "+title: Piece" in out
    assert path.read_text(encoding="utf-8") == untidy
    assert run("fmt", "--write")[0] == 0
    assert "title: Piece\n" in path.read_text(encoding="utf-8")
    assert run("fmt") == (0, "nothing to change: 1 of 1 in house form\n", "")


def test_fix_shows_first_and_writes_on_a_yes(run: Run, projects: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = project(projects, sizes="ball: {is: 2 inches, says: It}")
    wrong = path.read_text(encoding="utf-8")
    monkeypatch.setattr(click, "confirm", lambda *_, **__: False)
    status, out, err = run("check", "--fix")
    assert status == 1
    assert "+  ball: {is: 2 in, says: It}" in out
    assert "write 2 in" in err
    assert path.read_text(encoding="utf-8") == wrong
    status, out, err = run("check", "--fix", "--yes")
    assert (status, err) == (0, "")
    assert path.read_text(encoding="utf-8") == wrong.replace("inches", "in")
    assert "nothing here" in run("check", "--fix")[1]


TUBE = """\
title: Tube
summary: A thin tube.
parts:
  tube:
    wood: walnut, black
    blank: {round: 2 1/4 in, long: 4 in}
    steps:
      - name: Turn and bore
        say: Turn it round and bore it.
        hold: {by: [chuck], deep: 1 in}
        cut:
          - cylinder: {diameter: 2 in, start: 1 1/4 in}
          - bore: {diameter: 1 15/16 in, deep: 1 in, end: right}
"""


def test_fix_offers_to_accept_a_finding_with_the_authors_reason(
    run: Run, projects: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = projects / "tube.yml"
    path.write_text(TUBE, encoding="utf-8")
    monkeypatch.setattr(click, "confirm", lambda *_, **__: True)
    # Without a reason nothing is accepted, and where nobody is there nobody is asked for one.
    monkeypatch.setattr(click, "prompt", lambda *_, **__: "")
    assert "nothing here" in run("check", "--fix")[1]
    assert run("check", "--fix", "--yes")[0] == 0
    assert path.read_text(encoding="utf-8") == TUBE
    monkeypatch.setattr(click, "prompt", lambda *_, **__: "It is a sleeve.")
    _, out, _ = run("check", "--fix")
    assert "of wood is left between the bore and the cylinder" in out
    assert '+        accept: {thin web: "It is a sleeve."}' in out
    assert path.read_text(encoding="utf-8") == f'{TUBE}        accept: {{thin web: "It is a sleeve."}}\n'
    assert "Thin on purpose" in run("check")[1]
