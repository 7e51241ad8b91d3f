"""What a demonstrator does: `book`, `dry-run`, `evening`, `hand-out` and `chapters`."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from handouts_build.cli.chosen import makeable, project_file, published_at, read
from handouts_build.cli.options import DATE, FOLDER, NAME, SITE_URL
from handouts_build.cli.screen import done
from handouts_build.problems import Place, Problem, ProjectError

if TYPE_CHECKING:
    from handouts_build.records.showings import Records

__all__ = ["book", "chapters", "dry_run", "evening", "hand_out"]


def _records(name: str, projects: Path) -> Records:
    """What is kept beside a project; runs that cannot be read are told and left out."""
    (records,) = read((project_file(name, projects),), projects, whole_runs=False).records
    for problem in records.recorded.broken:
        click.echo(f"{problem} (left out)", err=True)
    return records


@click.command()
@NAME
@DATE
@click.option("--club", required=True, help="The club it is shown to.")
@FOLDER
def book(name: str, date: str, club: str, projects: Path) -> None:
    """Begin the file of a demonstration of NAME on DATE that was agreed on.

    What is known of the club from its last evening in this archive, of whatever piece, goes
    over: when and where it meets, the time it gives, its lathe. Nothing private does.

    \f
    Args:
        name: Of the project.
        date: As the host counts it, as 2027-03-13.
        club: That it is shown to.
        projects: Folder of the project files.

    Raises:
        HandoutsError: Where it cannot be done; the message says why.
    """
    from datetime import date as day

    from handouts_build.evening.booking import book as booked

    try:
        agreed = day.fromisoformat(date)
    except ValueError:
        raise ProjectError([Problem(Place("DATE"), f"'{date}' is no day", "write it as 2027-03-13")]) from None
    made = booked(project_file(name, projects), agreed, club, projects=projects)
    click.echo(f"wrote {made.path.as_posix()}")
    if made.like is not None:
        click.echo(f"what is known of the host is from {made.like.as_posix()}: ask whether it is still so")
    if made.missing:
        click.echo(f"Next: write {', '.join(made.missing)} into it")
    click.echo("Next: handouts check")


@click.command("dry-run")
@NAME
@click.option("--for", "date", default="", help="The demonstration, by its date: its plan and its steps.")
@click.option("--demonstration", "held", is_flag=True, help="Time the demonstration itself, not a dry run of it.")
@click.option("--new", "afresh", is_flag=True, help="Begin a new run; else one that was left is taken up again.")
@click.option(
    "--import", "exported", type=click.Path(path_type=Path), help="Take in a run that the stopwatch page exported."
)
@FOLDER
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

    records = _records(name, projects)
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


@click.command()
@NAME
@DATE
@click.option("--to", "target", type=click.Path(path_type=Path), required=True, help="Private folder to write to.")
@FOLDER
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
    from handouts_build.evening.folder import evening_kit, stale, step_shots
    from handouts_build.evening.wood import sticks_taken

    refuse_public(target, projects=projects)
    archive = read((project_file(name, projects),), projects)
    (records,) = archive.records
    found = records.find(date)
    kit = evening_kit(
        records,
        found,
        step_shots(archive),
        address=published_at("", projects),
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
    done(f"wrote {len(kit.files)} files to {target.as_posix()}/")
    if kit.demonstration.stopped:
        sys.exit(1)


@click.command("hand-out")
@NAME
@DATE
@FOLDER
@SITE_URL
@click.option("--ours", is_flag=True, help="Papers that lie there already were handed out from here: list them so.")
def hand_out(name: str, date: str, projects: Path, site_url: str, ours: bool) -> None:
    """Freeze what is handed out at NAME's demonstration on DATE.

    The attendees' papers and the sheet's data go below projects/NAME/handed-out/ with
    their checksums. The archive shows them as they are now, however the project changes.

    \f
    Args:
        name: Of the project.
        date: Of the demonstration.
        projects: Folder of the project files.
        site_url: Address the archive is published at; empty for that in the site's settings.
        ours: Whether papers that lie there already are entered as handed out from here.

    Raises:
        HandoutsError: Where it cannot be done; the message says why.
    """
    from handouts_build.evening.hand_out import hand_out as freeze

    path = project_file(name, projects)
    if ours:
        from handouts_build.records.own_papers import claim

        home = path.with_suffix("")
        done(f"entered {claim(home, date, home.as_posix()).as_posix()}/ as handed out from here")
        return
    archive = makeable((path,), projects)
    done(f"kept in {freeze(archive, date, address=published_at(site_url, projects)).as_posix()}/")


def _seconds(_context: click.Context, _option: click.Parameter, value: str) -> int:
    """A place in a recording, `4:10` or `1:04:10`, in seconds."""
    from handouts_build.schema import elapsed_seconds

    seconds = elapsed_seconds(value.removeprefix("-"))
    if seconds is None:
        raise click.BadParameter(f"'{value}' is no place in a recording; write minutes and seconds, such as 4:10")
    return -seconds if value.startswith("-") else seconds


@click.command()
@NAME
@DATE
@click.option("--to", "target", type=click.Path(path_type=Path), required=True, help="Folder to write to.")
@click.option(
    "--watch-started",
    default="0:00",
    show_default=True,
    callback=_seconds,
    help="Place in the recording at which the stopwatch was started; -0:30 if the recording was started 30 s later.",
)
@FOLDER
def chapters(name: str, date: str, target: Path, watch_started: int, projects: Path) -> None:
    """Write the chapters of NAME's recorded demonstration on DATE.

    They come from the stopwatch's run of the demonstration: a WebVTT file for a player,
    and the list of times that is pasted under a video. Breaks are chapters too, and
    pauses of the watch are counted in. A run that was left and taken up again does not
    say how long it lay: look at the last chapter before it is published.

    \f
    Args:
        name: Of the project.
        date: Of the demonstration.
        target: Folder to write to.
        watch_started: Second of the recording at which the watch was started.
        projects: Folder of the project files.

    Raises:
        HandoutsError: Where it cannot be done; the message says why.
    """
    from handouts_build.disk.files import write_all
    from handouts_build.evening.recording import recording_chapters

    records = _records(name, projects)
    files = recording_chapters(records, date, watch_started=watch_started)
    write_all({target / file: content for file, content in files.items()})
    done(f"wrote {' and '.join(files)} to {target.as_posix()}/")
