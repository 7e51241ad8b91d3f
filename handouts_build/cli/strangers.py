"""What comes from others: `take-in`."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from handouts_build.cli.options import FOLDER
from handouts_build.cli.screen import done, progress

__all__ = ["take_in"]


@click.command("take-in")
@click.argument("source", metavar="ARCHIVE-OR-FOLDER", type=click.Path(path_type=Path))
@click.option("--as", "name", default="", help="What the project is to be called; the sender's own name if not given.")
@click.option("--call", default="", help="The call for pieces that it was sent to: it is taken in as an entry.")
@FOLDER
def take_in(source: Path, name: str, call: str, projects: Path) -> None:
    """Take in a project that somebody sent, or an entry to a call, after a look at it.

    ARCHIVE-OR-FOLDER is a folder, a zip or a tar file with one project file and its
    pictures. It is unpacked apart and tried out in a process of its own, within limits
    of time and memory, with no network and no files but its own. One page on your disk
    shows what would be published; only if you then say yes are the project file and
    its pictures copied into the projects. Papers, demonstrations, settings and
    whatever else is in it are left behind.

    \f
    Args:
        source: What was sent.
        name: What the project is to be called; empty for the sender's own name.
        call: The call for pieces that an entry is to; empty for a project.
        projects: Folder of the project files.

    Raises:
        HandoutsError: Where it cannot be done; the message says why.
    """
    from handouts_build.door.landlock import holds_files
    from handouts_build.door.take_in import looked_at
    from handouts_build.door.trial import can_limit

    if not can_limit():
        click.echo(
            "This system cannot hold the trial to its processor time and memory; it is ended after ten minutes.",
            err=True,
        )
    if not holds_files():
        click.echo(
            "Python walls the trial off from other files and the network; this system's kernel does not.", err=True
        )
    with looked_at(source, name=name, projects=projects, progress=progress, call=call) as looked:
        done(f"{looked.trial.title or looked.name}: {len(looked.trial.findings)} findings")
        for problem in (looked.trial.ended, *looked.trial.problems):
            if problem:
                click.echo(problem, err=True)
        if not looked.can_be_published:
            click.echo("As it is it would not be published. It is not taken: send it back.", err=True)
            sys.exit(1)
        click.echo(f"Look at it: {looked.page.as_posix()}")
        if not click.confirm(f"Take it into {looked.projects.as_posix()}/ as {looked.name}?", default=False):
            click.echo("nothing was taken")
            return
        for path in looked.take():
            click.echo(f"wrote {path.as_posix()}")
    click.echo("Next: handouts check")
