"""What answers whoever writes: `names`, `explain` and `sheet`."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import click

from handouts_build.cli.chosen import project_file, read
from handouts_build.cli.options import FOLDER, PROJECTS
from handouts_build.cli.speaking import in_their_language

__all__ = ["explain", "names", "sheet"]


@click.command()
@click.argument("name")
@click.argument("where", required=False, default="", metavar="[PART/STEP]")
@FOLDER
def names(name: str, where: str, projects: Path) -> None:
    """List every name that formulas and text of project NAME may use.

    Each with its value in both units and what it means. With PART/STEP, such as
    lantern/3, also the holes and tenons that the step finds on its wood. Below stands
    what was filled in where the file does not say it, and where it comes from.

    \f
    Args:
        name: Of the project.
        where: The part and the step, by its number or the beginning of its name; empty for none.
        projects: Folder of the project files.

    Raises:
        HandoutsError: Where it cannot be done; the message says why.
    """
    from handouts_build.site.known_names import known_names, names_at_step, table_of_filled_in, table_of_names

    path = project_file(name, projects)
    archive = read((path,), projects)
    (worked,) = archive.sheets
    found = {**known_names(worked), **(names_at_step(archive, where) if where else {})}
    for line in (*table_of_names(found), *table_of_filled_in(path, path.as_posix(), where, worked)):
        click.echo(line)


@click.command()
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


@click.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Everything, as JSON with units and working.")
@in_their_language
def sheet(file: Path, as_json: bool) -> None:
    """Print the dimensions of FILE: sizes and what follows, in both units.

    Below stands what was filled in where the file does not say it.

    \f
    Args:
        file: The project file, or the name of the project.
        as_json: Whether everything is printed, as JSON.

    Raises:
        HandoutsError: Where it cannot be done; the message says why.
    """
    from handouts_build.outputs.data import sheet_json
    from handouts_build.outputs.terminal import dimensions_table
    from handouts_build.site.known_names import table_of_filled_in

    path = project_file(file.as_posix(), PROJECTS)
    (worked,) = read((path,), PROJECTS).sheets
    click.echo(sheet_json(worked) if as_json else dimensions_table(worked), nl=False)
    for line in () if as_json else table_of_filled_in(path, path.as_posix()):
        click.echo(line)
