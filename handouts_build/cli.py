"""The command `handouts`: arguments, words on the screen, and exit status.

This module owns nothing else: each command calls the pipeline and prints. Heavy
imports stay inside the commands, so that `handouts check` answers at once.
"""

from __future__ import annotations

import gc
import os
import shutil
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from handouts_build.paper import SIZES, Form
from handouts_build.problems import HandoutsError, Place, Problem, ProjectError, near_miss

if TYPE_CHECKING:
    from handouts_build.site.build import Archive
    from handouts_build.site.summary import Summary

__all__ = ["main"]

_PROJECTS = Path("projects")


class _Commands(click.Group):
    """Commands in the order one meets them, not by the alphabet.

    A command's docstring is its help as far as the form feed; what follows is for whoever reads the code.
    """

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 (click's signature)
        return list(self.commands)


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="handouts-build", message="handouts %(version)s")
def cli() -> None:
    """Turn a woodturning project file into dimensions, drawings and handouts.

    A project is one YAML file in the folder projects/. Start with
    'handouts new my-piece --like bowl', change the file, and look with 'handouts check'.
    """


_FILES = click.argument("files", nargs=-1, type=click.Path(path_type=Path))
_FOLDER = click.option(
    "--projects",
    type=click.Path(path_type=Path),
    default=_PROJECTS,
    show_default=True,
    help="Folder of the project files.",
)
_SITE_URL = click.option("--site-url", default="", help="Address the archive is published at, for the QR code.")


@cli.command()
@click.argument("name", required=False, default="")
@click.option("--like", "kind", default="", help="A small piece of this kind; --list says which there are.")
@click.option(
    "--from", "other", default="", help="A copy of another project, with its pictures and without its evenings."
)
@click.option(
    "--measure", type=click.Choice(["in", "mm"]), default="in", show_default=True, help="What the piece is written in."
)
@click.option("--list", "listed", is_flag=True, help="Say what there is to start like, a line each.")
@_FOLDER
def new(name: str, kind: str, other: str, measure: str, listed: bool, projects: Path) -> None:
    """Start a project: NAME becomes projects/NAME.yml.

    The file is a small piece that builds as it is, with comments that say what
    each line is for: a knob, or what --like says. Nothing that is there is written over.

    \f
    Args:
        name: Of the project, as its file is to be called.
        kind: What it is like; empty for the first kind.
        other: The project to copy; empty for none.
        measure: The unit it is written in, `in` or `mm`.
        listed: Whether the kinds are told, and nothing is written.
        projects: Folder of the project files.

    Raises:
        HandoutsError: Where it cannot be done; the message says why.
        UsageError: If it is not said what is to be done.
    """
    from handouts_build.site.copying import copy_project
    from handouts_build.site.starter import FIRST_KIND, MeasuredIn, start_project, starter_kinds

    if listed:
        kinds = starter_kinds()
        for known, about in kinds.items():
            click.echo(f"{known:<{max(map(len, kinds))}}  {about}")
        return
    if not name:
        raise click.UsageError("say what the project is to be called: handouts new my-piece --like bowl")
    if kind and other:
        raise click.UsageError("a project is started --like a kind or --from another project, not both")
    written = (
        copy_project(_project_file(other, projects), name, projects)
        if other
        else start_project(name, projects, like=kind or FIRST_KIND, measure=MeasuredIn(measure))
    )
    for path in written:
        click.echo(f"wrote {path.as_posix()}")
    click.echo(f"Next: handouts check {(projects / name).as_posix()}.yml")


@cli.command()
@click.argument("folder", type=click.Path(path_type=Path))
def start(folder: Path) -> None:
    """Start an archive of your own in FOLDER: site settings, shop file, one project.

    It builds as it is and needs nothing else. Nothing that is there is written over.
    """
    from handouts_build.site.starter import start_archive

    for path in start_archive(folder):
        click.echo(f"wrote {path.as_posix()}")
    click.echo(f"Next: cd {folder.as_posix()} && mkdocs serve")


@cli.command()
@_FILES
@click.option("--watch", is_flag=True, help="Look again whenever a file is saved, until Ctrl-C.")
@click.option(
    "--fix", is_flag=True, help="Show what can be put right without asking what is meant, and write it on a yes."
)
@click.option("--yes", is_flag=True, help="With --fix: write without asking.")
@_FOLDER
def check(files: Sequence[Path], watch: bool, fix: bool, yes: bool, projects: Path) -> None:
    """Look for problems and findings in FILES, or in every project.

    A problem keeps a file from being worked out. A finding is a verdict on the
    piece: 'stop' (cannot be made or held as written), 'mind' (can, with care) or
    'note'. Demonstrations that are not past are looked at too: the lathe there, the
    time, the wood. The exit status is 1 on any problem and any 'stop'.

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
    if fix:
        _fix(files or _project_files(projects), yes=yes)
    lines, stopped = _checked(files or _project_files(projects))
    for line in lines:
        click.echo(line)
    if stopped:
        sys.exit(1)


def _checked(files: Sequence[Path]) -> tuple[list[str], bool]:
    """What is to be said of projects, and whether anything of it is a `stop`."""
    from handouts_build.disk.clock import now as clock
    from handouts_build.site.summary import overlapping

    now = clock()
    summaries = _summaries(files)
    lines = []
    for project in summaries:
        evenings = project.coming(now)
        lines.append(f"{project.file}: {project.title}: {project.says}")
        lines += [*project.findings, *(finding for evening in evenings for finding in evening.findings)]
    lines += overlapping(summaries, now)
    stopped = any(project.stopped or any(evening.stops for evening in project.coming(now)) for project in summaries)
    return lines, stopped


def _fix(files: Sequence[Path], *, yes: bool) -> None:
    """Put right what is mechanical, once it was shown and there was a yes."""
    from handouts_build.disk.files import write_all
    from handouts_build.site.mending import changes_of, mended

    try:
        _checked(files)
    except ProjectError as error:
        found = mended(error.problems, files)
    else:
        found = {}
    if not found:
        click.echo("nothing here can be put right without asking what is meant")
        return
    for line in changes_of(found, then="put right"):
        click.echo(line)
    if yes or click.confirm("Write this?", default=False):
        write_all({path: after.encode() for path, (_, after) in found.items()})
        click.echo(f"wrote {', '.join(path.as_posix() for path in found)}")


def _watch(files: Sequence[Path], projects: Path) -> None:
    """Check again at every save: one screen, from its top, until the one who writes has had enough."""
    from handouts_build.disk.clock import wall_clock
    from handouts_build.disk.watching import changes
    from handouts_build.site.gathering import look

    def looks() -> tuple[str, ...]:
        return tuple(told for path in files or _project_files(projects) for told in look(path))

    try:
        for _ in changes(looks):
            try:
                lines, _stopped = _checked(files or _project_files(projects))
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


@cli.command()
@click.argument("name")
@click.argument("where", required=False, default="", metavar="[PART/STEP]")
@_FOLDER
def names(name: str, where: str, projects: Path) -> None:
    """List every name that formulas and text of project NAME may use.

    Each with its value in both units and what it means. With PART/STEP, such as
    lantern/3, also the holes and tenons that the step finds on its wood.

    \f
    Args:
        name: Of the project.
        where: The part and the step, by its number or the beginning of its name; empty for none.
        projects: Folder of the project files.

    Raises:
        HandoutsError: Where it cannot be done; the message says why.
    """
    from handouts_build.site.known_names import known_names, names_at_step, table_of_names

    archive = _read((_project_file(name, projects),), projects)
    (worked,) = archive.sheets
    found = {**known_names(worked), **(names_at_step(archive, where) if where else {})}
    for line in table_of_names(found):
        click.echo(line)


@cli.command()
@click.argument("word", nargs=-1, required=True)
def explain(word: Sequence[str]) -> None:
    """Explain WORD: a key, cut, hold, chapter, finding or caution, with an example.

    \f
    Args:
        word: The word; several make one, such as part off.

    Raises:
        HandoutsError: If nothing is called so; the message names what is like it.
    """
    from handouts_build.site.explaining import explain as explained

    asked = " ".join(word)
    for index, explanation in enumerate(explained(asked)):
        if index:
            click.echo("")
        for line in explanation.lines(asked):
            click.echo(line)


@cli.command()
@_FILES
@click.option("--write", is_flag=True, help="Write the files; else the changes are shown, and nothing is written.")
@_FOLDER
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

    texts = {path: house_form(path, path.as_posix()) for path in files or _project_files(projects)}
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


@cli.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Everything, as JSON with units and working.")
def sheet(file: Path, as_json: bool) -> None:
    """Print the dimensions of FILE: sizes and what follows, in both units.

    \f
    Args:
        file: The project file.
        as_json: Whether everything is printed, as JSON.

    Raises:
        HandoutsError: Where it cannot be done; the message says why.
    """
    from handouts_build.outputs.data import sheet_json
    from handouts_build.outputs.terminal import dimensions_table

    (worked,) = _read((file,), _PROJECTS).sheets
    click.echo(sheet_json(worked) if as_json else dimensions_table(worked), nl=False)


@cli.command()
@_FILES
@click.option("--to", "target", type=click.Path(path_type=Path), required=True, help="Folder to write the PDFs to.")
@click.option("--size", type=click.Choice([*SIZES, "both"]), default="both", show_default=True, help="Size of paper.")
@click.option("--large-print", "large", is_flag=True, help="Handout and dimensions sheet in letters of 18 points.")
@click.option("--booklet", "folded", is_flag=True, help="Handouts two pages to a side, in the order to print and fold.")
@_FOLDER
@_SITE_URL
def papers(
    files: Sequence[Path], target: Path, size: str, large: bool, folded: bool, projects: Path, site_url: str
) -> None:
    """Typeset the papers of FILES, or of every project, that the shop file or the project asks for.

    With --large-print or --booklet only those are written.

    \f
    Args:
        files: Project files; every project where there are none.
        target: Folder to write to.
        size: One of `paper.SIZES`, or `both`.
        large: Whether large print is written, and not the usual papers.
        folded: Whether booklets are written, and not the usual papers.
        projects: Folder of the project files.
        site_url: Address the archive is published at; empty for none.

    Raises:
        HandoutsError: Where it cannot be done; the message says why.
    """
    from handouts_build.disk.files import write_all
    from handouts_build.outputs.output import Address
    from handouts_build.site.build import paper_files

    archive = _makeable(files, projects)
    sizes = tuple(SIZES) if size == "both" else (size,)
    forms = [form for form, asked in ((Form.LARGE_PRINT, large), (Form.BOOKLET, folded)) if asked] or [Form.PLAIN]
    made = {
        target / name: content
        for form in forms
        for papers_of_project in paper_files(
            archive, address=Address(site_url), sizes=sizes, progress=_progress, form=form
        ).values()
        for name, content in papers_of_project.items()
    }
    write_all(made)
    _done(f"wrote {len(made)} papers to {target.as_posix()}/")


@cli.command()
@click.option("--to", "target", type=click.Path(path_type=Path), required=True, help="Folder to write to.")
@click.option(
    "--papers/--no-papers", "with_papers", default=True, show_default=True, help="Whether the PDFs go with the pages."
)
@click.option("--strict", is_flag=True, help="Write nothing if a project must be left out.")
@_FOLDER
@_SITE_URL
def pages(target: Path, with_papers: bool, strict: bool, projects: Path, site_url: str) -> None:
    """Write the archive as plain Markdown and assets, for another site engine.

    A project that cannot be published is left out by name, and the exit status is 1; with
    --strict nothing is written then.

    \f
    Args:
        target: Folder to write to.
        with_papers: Whether the PDFs go with the pages.
        strict: Whether nothing is written where a project must be left out.
        projects: Folder of the project files.
        site_url: Address the archive is published at; empty for none.

    Raises:
        HandoutsError: Where it cannot be done; the message says why.
    """
    from handouts_build.disk.cache import Cache, user_folder
    from handouts_build.disk.clock import now as clock
    from handouts_build.outputs.output import Address
    from handouts_build.site.leaks import leaks
    from handouts_build.site.publish import Papers, publish, survey, write_outputs

    files = _project_files(projects)
    if private := list(leaks((), files, Path.cwd())):
        raise ProjectError(private)
    cache = Cache(user_folder())
    found, now = survey(files, base=Path.cwd(), cache=cache, jobs=_jobs()), clock()
    summaries = tuple(found.sound.values())
    if strict or not found.makeable:
        if found.problems:
            raise ProjectError(found.problems)
        _must_be_makeable(finding for project in summaries for finding in project.stops)
    for wrong in (*found.problems, *(finding for project in summaries for finding in project.stops)):
        click.echo(str(wrong), err=True)
    for stop in (stop for project in summaries for evening in project.coming(now) for stop in evening.stops):
        click.echo(stop, err=True)
    left_out = [path for path in files if path not in found.makeable]

    def leave_out(path: Path, error: ProjectError) -> None:
        if strict:
            raise error
        click.echo(str(error), err=True)
        left_out.append(path)

    made = publish(
        found.makeable,
        base=Path.cwd(),
        cache=cache,
        address=Address(site_url),
        papers=Papers.MADE if with_papers else Papers.NONE,
        jobs=_jobs(),
        progress=_progress,
        left_out=leave_out,
    )
    write_outputs(made, target)
    _done(f"wrote {len(made)} files to {target.as_posix()}/")
    if left_out:
        named = ", ".join(path.as_posix() for path in left_out)
        click.echo(f"left out: {named}. What is said above keeps {_them(left_out)} from being published.", err=True)
        sys.exit(1)


_NAME = click.argument("name")
_DATE = click.argument("date")


@cli.command("dry-run")
@_NAME
@click.option("--for", "date", default="", help="The demonstration, by its date: its plan and its steps.")
@click.option("--demonstration", "held", is_flag=True, help="Time the demonstration itself, not a dry run of it.")
@click.option("--new", "afresh", is_flag=True, help="Begin a new run; else one that was left is taken up again.")
@click.option(
    "--import", "exported", type=click.Path(path_type=Path), help="Take in a run that the stopwatch page exported."
)
@_FOLDER
def dry_run(name: str, date: str, held: bool, afresh: bool, exported: Path | None, projects: Path) -> None:
    """Time the steps of project NAME with a stopwatch in the terminal.

    Every key saves the whole run below projects/NAME/dry-runs/, in a file of its own.
    Keys: n next, p pause, b back, s skip, t note, q leave.

    \f
    Args:
        name: Of the project.
        date: Of the demonstration; empty for a dry run of no evening.
        held: Whether it is the demonstration itself.
        afresh: Whether a run that was left is not taken up again.
        exported: A run from the stopwatch page, to take in; None to time one.
        projects: Folder of the project files.

    Raises:
        HandoutsError: Where it cannot be done; the message says why.
    """
    from handouts_build.evening.dry_run import rehearse, take_in

    (records,) = _read((_project_file(name, projects),), projects, whole_runs=False).records
    for problem in records.recorded.broken:
        click.echo(f"{problem} (left out)", err=True)
    if exported is not None:
        click.echo(f"took the run into {take_in(records, exported).as_posix()}")
        return
    path = rehearse(
        records,
        name=records.find(date) if date else "",
        kind="demonstration" if held else "dry run",
        afresh=afresh,
    )
    click.echo(f"the run is kept in {path.as_posix()}")


@cli.command()
@_NAME
@_DATE
@click.option("--to", "target", type=click.Path(path_type=Path), required=True, help="Private folder to write to.")
@_FOLDER
def evening(name: str, date: str, target: Path, projects: Path) -> None:
    """Write the private folder of NAME's demonstration on DATE.

    Run sheet, packing list and stock list as PDF and page, a run sheet to share, the
    stopwatch as a page for a tablet, and a calendar file. Contacts and links stand in
    them: a folder that is published is refused.
    The files are named by the piece and the evening, so that several share a folder.
    The plan is kept beside the project until this command is given again: the
    stopwatch, the page and the paper say the same. An evening that has begun keeps it.
    The exit status is 1 if something will not do, such as a lathe that is too small or
    a show that is longer than its slot.

    \f
    Args:
        name: Of the project.
        date: Of the demonstration.
        target: Private folder to write to.
        projects: Folder of the project files.

    Raises:
        HandoutsError: Where it cannot be done; the message says why.
    """
    from handouts_build.disk.files import write_all
    from handouts_build.disk.privacy import refuse_public
    from handouts_build.disk.site_settings import site_address
    from handouts_build.evening.folder import evening_kit, stale, step_shots
    from handouts_build.evening.wood import sticks_taken
    from handouts_build.outputs.output import Address

    refuse_public(target, projects=projects)
    archive = _read((_project_file(name, projects),), projects)
    (records,) = archive.records
    found = records.find(date)
    kit = evening_kit(
        records,
        found,
        step_shots(archive),
        address=Address(*site_address(projects)),
        taken=sticks_taken(archive, found, base=Path.cwd()),
    )
    for finding in kit.demonstration.findings:
        click.echo(str(finding), err=True)
    for line in kit.demonstration.plan.says:
        click.echo(line)
    old = stale(target, kit, records)
    # The records first: broken off here, the next run prints the very plan that is kept. The private folder may be on
    # another disk, such as a stick.
    write_all(kit.kept)
    write_all({target / name: content for name, content in kit.files.items()}, gone=old)
    for path in old:
        click.echo(f"deleted {path.as_posix()}: it was of an evening that has moved or is gone, or is made no longer")
    _done(f"wrote {len(kit.files)} files to {target.as_posix()}/")
    if kit.demonstration.stopped:
        sys.exit(1)


@cli.command("hand-out")
@_NAME
@_DATE
@_FOLDER
@_SITE_URL
def hand_out(name: str, date: str, projects: Path, site_url: str) -> None:
    """Freeze what is handed out at NAME's demonstration on DATE.

    The attendees' papers and the sheet's data go below projects/NAME/handed-out/ with
    their checksums. The archive shows them as they are now, however the project changes.

    \f
    Args:
        name: Of the project.
        date: Of the demonstration.
        projects: Folder of the project files.
        site_url: Address the archive is published at; empty for that in the site's settings.

    Raises:
        HandoutsError: Where it cannot be done; the message says why.
    """
    from handouts_build.disk.site_settings import site_address
    from handouts_build.evening.hand_out import hand_out as freeze
    from handouts_build.outputs.output import Address

    archive = _makeable((_project_file(name, projects),), projects)
    address = Address(site_url) if site_url else Address(*site_address(projects))
    _done(f"kept in {freeze(archive, date, address=address).as_posix()}/")


@cli.command("take-in")
@click.argument("source", metavar="ARCHIVE-OR-FOLDER", type=click.Path(path_type=Path))
@click.option("--as", "name", default="", help="What the project is to be called; the sender's own name if not given.")
@_FOLDER
def take_in(source: Path, name: str, projects: Path) -> None:
    """Take in a project that somebody sent, after a look at it.

    ARCHIVE-OR-FOLDER is a folder, a zip or a tar file with one project file and its
    pictures. It is unpacked apart and tried out in a process of its own, within limits
    of time and memory. One page on your disk shows what would be published; only if you
    then say yes are the project file and its pictures copied into the projects.
    Papers, demonstrations, settings and whatever else is in it are left behind.

    \f
    Args:
        source: What was sent.
        name: What the project is to be called; empty for the sender's own name.
        projects: Folder of the project files.

    Raises:
        HandoutsError: Where it cannot be done; the message says why.
    """
    from handouts_build.door.take_in import looked_at
    from handouts_build.door.trial import can_limit

    if not can_limit():
        click.echo(
            "This system cannot hold the trial to its processor time and memory; it is ended after ten minutes.",
            err=True,
        )
    with looked_at(source, name=name, projects=projects, progress=_progress) as looked:
        _done(f"{looked.trial.title or looked.name}: {len(looked.trial.findings)} findings")
        for problem in (looked.trial.ended, *looked.trial.problems):
            if problem:
                click.echo(problem, err=True)
        if not looked.can_be_published:
            click.echo("As it is it would not be published. It is not taken: send it back.", err=True)
            sys.exit(1)
        click.echo(f"Look at it: {looked.page.as_posix()}")
        if not click.confirm(f"Take it into {projects.as_posix()}/ as {looked.name}?", default=False):
            click.echo("nothing was taken")
            return
        for path in looked.take():
            click.echo(f"wrote {path.as_posix()}")
    click.echo("Next: handouts check")


def _project_file(name: str, projects: Path) -> Path:
    """A project's file by its name; a path is one already."""
    if name.endswith((".yml", ".yaml")):
        return Path(name)
    found = next((path for ending in ("yml", "yaml") if (path := projects / f"{name}.{ending}").is_file()), None)
    if found is None:
        known = [path.stem for path in _project_files(projects)]
        message = f"there is no project '{name}' in {projects.as_posix()}/"
        raise ProjectError([Problem(Place(name), message, near_miss(name, known))])
    return found


def _project_files(projects: Path) -> Sequence[Path]:
    from handouts_build.site.gathering import project_files

    return project_files(projects)


def _summaries(files: Sequence[Path]) -> Sequence[Summary]:
    from handouts_build.disk.cache import Cache, user_folder
    from handouts_build.site.publish import summarize

    return summarize(files, base=Path.cwd(), cache=Cache(user_folder()), jobs=_jobs())


def _read(files: Sequence[Path], projects: Path, *, whole_runs: bool = True) -> Archive:
    from handouts_build.disk.cache import Cache, user_folder
    from handouts_build.site.build import read_archive, read_projects

    cache = Cache(user_folder())
    if files:
        return read_projects(files, base=Path.cwd(), cache=cache, whole_runs=whole_runs)
    return read_archive(projects, base=Path.cwd(), cache=cache)


def _makeable(files: Sequence[Path], projects: Path) -> Archive:
    """An archive fit to be handed out: nothing in it is stopped."""
    archive = _read(files, projects)
    _must_be_makeable(str(finding) for sheet in archive.sheets for finding in sheet.findings if finding.level == "stop")
    return archive


def _must_be_makeable(stops: Iterable[str]) -> None:
    """End here if there is a finding of `stop`."""
    if found := list(stops):
        for finding in found:
            click.echo(finding, err=True)
        click.echo("Nothing was written: a piece that cannot be made as written is not handed out.", err=True)
        sys.exit(1)


def _them(paths: Sequence[Path]) -> str:
    return "it" if len(paths) == 1 else "them"


def _jobs() -> int:
    return os.cpu_count() or 1


def _progress(doing: str) -> None:
    """A line that is written over, on a terminal only."""
    if sys.stderr.isatty():
        click.echo(f"\r\x1b[2K{doing} …", err=True, nl=False)


def _done(done: str) -> None:
    if sys.stderr.isatty():
        click.echo("\r\x1b[2K", err=True, nl=False)
    click.echo(done)


def main() -> None:
    """Run the command; no traceback reaches the user unless HANDOUTS_DEBUG is set."""
    # What loading makes stays: looking through it again and again would find nothing to free.
    gc.set_threshold(100_000)
    try:
        cli(standalone_mode=False)
    except click.ClickException as error:
        error.show()
        sys.exit(error.exit_code)
    except (click.Abort, KeyboardInterrupt):
        click.echo("stopped", err=True)
        sys.exit(130)
    except ProjectError as error:
        count = len(error.problems)
        click.echo(f"{error}\n{count} problem{'s' if count != 1 else ''}", err=True)
        sys.exit(1)
    except HandoutsError as error:
        click.echo(str(error), err=True)
        sys.exit(1)
    except OSError as error:
        where = f" ({error.filename})" if error.filename else ""
        click.echo(f"the disk said no: {error.strerror}{where}; what was there is as it was", err=True)
        sys.exit(1)
    except Exception as error:
        if os.environ.get("HANDOUTS_DEBUG"):
            raise
        click.echo(
            f"handouts has a fault of its own: {type(error).__name__}: {error}\n"
            "Set HANDOUTS_DEBUG=1 to see where, and please report it.",
            err=True,
        )
        sys.exit(1)
    finally:
        # The process ends: looking once more through all it holds would take a tenth of a second. Where solids
        # were carried it is done: their library reports each one that is never given back.
        if "handouts_build.workpiece.solid" not in sys.modules:
            gc.freeze()
