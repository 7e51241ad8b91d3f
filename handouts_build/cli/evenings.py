"""What a demonstrator does: `dry-run`, `evening` and `hand-out`."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from handouts_build.cli.chosen import makeable, project_file, read
from handouts_build.cli.options import DATE, FOLDER, NAME, SITE_URL
from handouts_build.cli.screen import done

__all__ = ["dry_run", "evening", "hand_out"]


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

    (records,) = read((project_file(name, projects),), projects, whole_runs=False).records
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
    from handouts_build.disk.site_settings import site_address
    from handouts_build.evening.folder import evening_kit, stale, step_shots
    from handouts_build.evening.wood import sticks_taken
    from handouts_build.outputs.output import Address

    refuse_public(target, projects=projects)
    archive = read((project_file(name, projects),), projects)
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
    done(f"wrote {len(kit.files)} files to {target.as_posix()}/")
    if kit.demonstration.stopped:
        sys.exit(1)


@click.command("hand-out")
@NAME
@DATE
@FOLDER
@SITE_URL
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

    archive = makeable((project_file(name, projects),), projects)
    address = Address(site_url) if site_url else Address(*site_address(projects))
    done(f"kept in {freeze(archive, date, address=address).as_posix()}/")
