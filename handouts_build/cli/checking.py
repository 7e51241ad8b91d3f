"""What looks at project files and puts them right: `check` and `fmt`."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Sequence
from pathlib import Path

import click

from handouts_build.cli.chosen import project_files, read, summaries_of, told_of
from handouts_build.cli.options import FILES, FOLDER
from handouts_build.disk.folders import is_call
from handouts_build.problems import ProjectError

__all__ = ["check", "fmt"]


@click.command()
@FILES
@click.option("--watch", is_flag=True, help="Look again whenever a file is saved, until Ctrl-C.")
@click.option(
    "--fix", is_flag=True, help="Show what can be put right without asking what is meant, and write it on a yes."
)
@click.option("--yes", is_flag=True, help="With --fix: write without asking.")
@FOLDER
def check(files: Sequence[Path], watch: bool, fix: bool, yes: bool, projects: Path) -> None:
    """Look for problems and findings in FILES, or in every project and call for pieces.

    A problem keeps a file from being worked out. A finding is a verdict on the
    piece: 'stop' (cannot be made or held as written), 'mind' (can, with care) or
    'note'. Demonstrations that are not past are looked at too: the lathe there, the
    time, the wood. The exit status is 1 on any problem and any 'stop'. With --fix, a
    finding that an author may accept is asked for its reason, and 'accept' is written.

    \f
    Args:
        files: Project files; every project where there are none.
        watch: Whether to look again whenever a file is saved.
        fix: Whether mechanical faults are put right.
        yes: Whether that is written without asking.
        projects: Folder of the project files.

    Raises:
        HandoutsError: Where it cannot be done; the message says why.
    """
    if watch:
        _watch(files, projects)
        return
    # What is put right mechanically, and accepted, is of projects alone.
    if fix and (chosen := [file for file in files or project_files(projects) if not is_call(file)]):
        _fix(chosen, yes=yes)
    lines, stopped = _checked(files, projects)
    for line in lines:
        click.echo(line)
    if stopped:
        sys.exit(1)


def _checked(files: Sequence[Path], projects: Path) -> tuple[list[str], bool]:
    """What is to be said of projects and of calls for pieces, and whether anything of it is a `stop`."""
    from handouts_build.disk.clock import now as clock
    from handouts_build.disk.clock import today
    from handouts_build.site.calls import line_of
    from handouts_build.site.summary import overlapping, shared_wood

    now = clock()
    summaries, calls = told_of(files, projects)
    lines = []
    for project in summaries:
        evenings = project.coming(now)
        lines.append(f"{project.file}: {project.title}: {project.says}")
        lines += [*project.findings, *(finding for evening in evenings for finding in evening.findings)]
    lines += [*overlapping(summaries, now), *shared_wood(summaries, now)]
    lines += [line_of(call, today()) for call in calls]
    stopped = any(project.stopped or any(evening.stops for evening in project.coming(now)) for project in summaries)
    return lines, stopped


def _fix(files: Sequence[Path], *, yes: bool) -> None:
    """Put right what is mechanical and accept what there is a reason for, once it was shown and there was a yes."""
    from handouts_build.disk.files import write_all
    from handouts_build.site.mending import changes_of, mended

    try:
        summaries_of(files)
    except ProjectError as error:
        found = mended(error.problems, files)
    else:
        # A reason is the author's alone: nobody is asked for one where nobody is there.
        found = {} if yes else _accepted(files)
    if not found:
        click.echo("nothing here can be put right without asking what is meant")
        return
    for line in changes_of(found, then="put right"):
        click.echo(line)
    if yes or click.confirm("Write this?", default=False):
        write_all({path: after.encode() for path, (_, after) in found.items()})
        click.echo(f"wrote {', '.join(path.as_posix() for path in found)}")


def _accepted(files: Sequence[Path]) -> dict[Path, tuple[str, str]]:
    """The files with what their author lets stand, each finding shown and asked for its reason."""
    from handouts_build.disk.reading import read_plain
    from handouts_build.schema import LARGEST
    from handouts_build.site.accepting import with_acceptance

    found = {}
    archive = read(files, files[0].parent)
    for path, worked in zip(dict.fromkeys(files), archive.sheets, strict=True):
        before = after = read_plain(path, most_bytes=LARGEST).decode("utf-8")
        asked = {finding.acceptance: finding for finding in worked.findings if finding.acceptance is not None}
        for acceptance, finding in asked.items():
            click.echo(str(finding))
            reason = click.prompt("Why may it stay? (nothing: leave it)", default="", show_default=False)
            after = with_acceptance(after, acceptance, reason)
        if after != before:
            found[path] = (before, after)
    return found


def _watch(files: Sequence[Path], projects: Path) -> None:
    """Check again at every save: one screen, from its top, until the one who writes has had enough."""
    from handouts_build.disk.clock import wall_clock
    from handouts_build.disk.watching import changes
    from handouts_build.site.gathering import look

    def looks() -> tuple[str, ...]:
        return tuple(seen for path in files or project_files(projects) for seen in look(path))

    try:
        for _ in changes(looks):
            try:
                lines, _stopped = _checked(files, projects)
            except ProjectError as error:
                lines = [str(problem) for problem in error.problems]
            click.clear()
            rows = [row for line in lines for row in line.splitlines()]
            room = max(4, shutil.get_terminal_size().lines - 3)
            for row in rows[:room]:
                click.echo(row)
            if len(rows) > room:
                click.echo(f"… and {len(rows) - room} more lines: handouts check")
            click.echo(f"{wall_clock():%H:%M:%S}  saved files are looked at again; Ctrl-C ends")
    except KeyboardInterrupt:
        click.echo("")


@click.command()
@FILES
@click.option("--write", is_flag=True, help="Write the files; else the changes are shown, and nothing is written.")
@FOLDER
def fmt(files: Sequence[Path], write: bool, projects: Path) -> None:
    """Put FILES, or every project, in house form: comments, order and words stay.

    Alike are the spaces: two further in for what belongs to a key, one after a colon and
    a comma, none at the end of a line. Without --write the changes are shown, and the
    exit status is 1 if there are any.

    \f
    Args:
        files: Project files; every project where there are none.
        write: Whether they are written.
        projects: Folder of the project files.

    Raises:
        HandoutsError: Where it cannot be done; the message says why.
    """
    from handouts_build.disk.files import write_all
    from handouts_build.schema import house_form
    from handouts_build.site.mending import changes_of

    texts = {path: house_form(path, path.as_posix()) for path in files or project_files(projects)}
    changed = {path: (before, after) for path, (before, after) in texts.items() if before != after}
    if write:
        write_all({path: after.encode() for path, (_, after) in changed.items()})
        click.echo(f"{len(changed)} of {len(texts)} files written in house form")
        return
    for line in changes_of(changed, then="in house form"):
        click.echo(line)
    if changed:
        click.echo(f"{len(changed)} of {len(texts)} files are not in house form; handouts fmt --write writes them")
        sys.exit(1)
    click.echo(f"nothing to change: {len(texts)} of {len(texts)} in house form")
