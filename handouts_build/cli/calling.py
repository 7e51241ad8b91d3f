"""What is printed for a call for pieces: `call`."""

from __future__ import annotations

from pathlib import Path

import click

from handouts_build.cli.chosen import project_files, workers
from handouts_build.cli.options import FOLDER, NAME
from handouts_build.cli.screen import done
from handouts_build.paper import SIZES
from handouts_build.problems import Place, Problem, ProjectError

__all__ = ["call"]


@click.command()
@NAME
@click.option("--to", "target", type=click.Path(path_type=Path), required=True, help="Folder to write to.")
@click.option("--size", type=click.Choice([*SIZES, "both"]), default="both", show_default=True, help="Size of paper.")
@FOLDER
def call(name: str, target: Path, size: str, projects: Path) -> None:
    """Print labels for the table and a sheet for judging, of the call for pieces NAME.

    Each piece has one number on both. The sheet names no maker, so that it can be handed
    to the judges as it is; the labels do, for when the pieces are shown.

    \f
    Args:
        name: Of the call's folder.
        target: Folder to write to.
        size: One of `paper.SIZES`, or both.
        projects: Folder of the project files.

    Raises:
        HandoutsError: Where it cannot be done; the message says why.
    """
    from handouts_build.disk.cache import Cache, user_folder
    from handouts_build.disk.files import write_all
    from handouts_build.outputs.papers.call_papers import call_papers
    from handouts_build.site.calls import call_named, survey_calls
    from handouts_build.site.publish import survey

    cache = Cache(user_folder())
    paths = project_files(projects)
    summaries = tuple(survey(paths, base=Path.cwd(), cache=cache, jobs=workers()).sound.values())
    found = survey_calls(projects, paths, summaries, base=Path.cwd(), cache=cache)
    asked = call_named(name, found, projects)
    if not asked.entries:
        message = "no piece was sent to this call yet"
        raise ProjectError(
            [Problem(Place(asked.file), message, "take one in first: handouts take-in FILE --call NAME")]
        )
    titles = {project.name: project.title for project in summaries}
    sizes = tuple(SIZES) if size == "both" else (size,)
    made = {
        target / file: content for paper in sizes for file, content in call_papers(asked, titles, paper=paper).items()
    }
    write_all(made)
    done(f"wrote {len(made)} papers to {target.as_posix()}/")
