"""What begins a project or an archive: `new`, `start` and `import`."""

from __future__ import annotations

from pathlib import Path

import click

from handouts_build.cli.chosen import project_file
from handouts_build.cli.options import FOLDER

__all__ = ["import_write_up", "new", "start"]


@click.command()
@click.argument("name", required=False, default="")
@click.option("--like", "kind", default="", help="A small piece of this kind; --list says which there are.")
@click.option(
    "--from", "other", default="", help="A copy of another project, with its pictures and without its evenings."
)
@click.option(
    "--measure", type=click.Choice(["in", "mm"]), default="in", show_default=True, help="What the piece is written in."
)
@click.option("--call", "calls", is_flag=True, help="A call for pieces instead: projects/calls/NAME/call.yml.")
@click.option("--list", "listed", is_flag=True, help="Say what there is to start like, a line each.")
@FOLDER
def new(name: str, kind: str, other: str, measure: str, calls: bool, listed: bool, projects: Path) -> None:
    """Start a project: NAME becomes projects/NAME.yml.

    The file is a small piece that builds as it is, with comments that say what
    each line is for: a knob, or what --like says. Nothing that is there is written over.

    \f
    Args:
        name: Of the project, as its file is to be called.
        kind: What it is like; empty for the first kind.
        other: The project to copy; empty for none.
        measure: The unit it is written in, `in` or `mm`.
        calls: Whether it is a call for pieces.
        listed: Whether the kinds are told, and nothing is written.
        projects: Folder of the project files.

    Raises:
        HandoutsError: Where it cannot be done; the message says why.
        UsageError: If it is not said what is to be done.
    """
    from handouts_build.site.copying import copy_project
    from handouts_build.site.starter import FIRST_KIND, MeasuredIn, start_call, start_project, starter_kinds

    if listed:
        kinds = starter_kinds()
        for known, about in kinds.items():
            click.echo(f"{known:<{max(map(len, kinds))}}  {about}")
        return
    if not name:
        raise click.UsageError("say what the project is to be called: handouts new my-piece --like bowl")
    if kind and other:
        raise click.UsageError("a project is started --like a kind or --from another project, not both")
    if calls and (kind or other):
        raise click.UsageError("a call for pieces is like no piece and from no project: handouts new NAME --call")
    if calls:
        for path in start_call(name, projects, measure=MeasuredIn(measure)):
            click.echo(f"wrote {path.as_posix()}")
        click.echo("Next: handouts check")
        return
    written = (
        copy_project(project_file(other, projects), name, projects)
        if other
        else start_project(name, projects, like=kind or FIRST_KIND, measure=MeasuredIn(measure))
    )
    for path in written:
        click.echo(f"wrote {path.as_posix()}")
    click.echo(f"Next: handouts check {(projects / name).as_posix()}.yml")


@click.command()
@click.argument("folder", type=click.Path(path_type=Path))
def start(folder: Path) -> None:
    """Start an archive of your own in FOLDER: site settings, shop file, one project.

    It builds as it is and needs nothing else. Nothing that is there is written over.
    """
    from handouts_build.site.starter import start_archive

    for path in start_archive(folder):
        click.echo(f"wrote {path.as_posix()}")
    click.echo(f"Next: cd {folder.as_posix()} && mkdocs serve")


@click.command("import")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--as", "name", default="", help="What the project is to be called; if not given, after its title.")
@click.option("--date", "day", default="", help="When it was written or shown, as 2011-04-02.")
@FOLDER
def import_write_up(file: Path, name: str, day: str, projects: Path) -> None:
    """Make a project of an old write-up: FILE in Word (.docx) or Markdown (.md).

    Its words and pictures become a project of words and photographs: a page, a paper,
    a place in the archive. What has no place there is told. Nothing is written over.

    \f
    Args:
        file: The write-up.
        name: What the project is to be called; empty for what follows from its title.
        day: When it was written or shown; empty for what it says itself.
        projects: Folder of the project files.

    Raises:
        HandoutsError: Where it cannot be done; the message says why.
    """
    from handouts_build.site.importing import import_write_up as imported

    made = imported(file, projects, name=name, day=day)
    for path in made.files:
        click.echo(f"wrote {path.as_posix()}")
    for lost in made.left:
        click.echo(f"left out: {lost}")
    click.echo(f"Next: handouts check {made.files[0].as_posix()}")
