"""What makes papers and pages: `papers` and `pages`."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import click

from handouts_build.cli.chosen import makeable, must_be_makeable, project_files, published_at, workers
from handouts_build.cli.options import FILES, FOLDER, SITE_URL
from handouts_build.cli.screen import done, progress
from handouts_build.paper import SIZES, Form
from handouts_build.problems import ProjectError

__all__ = ["pages", "papers"]

ENDINGS = {"folders": "/", "files": ".html"}
"""How the address of a page may end, by the word for it."""


@click.command()
@FILES
@click.option(
    "--to",
    "target",
    type=click.Path(path_type=Path),
    default=Path("papers"),
    show_default=True,
    help="Folder to write the PDFs to.",
)
@click.option("--size", type=click.Choice([*SIZES, "both"]), default="both", show_default=True, help="Size of paper.")
@click.option("--large-print", "large", is_flag=True, help="Handout and dimensions sheet in letters of 18 points.")
@click.option("--booklet", "folded", is_flag=True, help="Handouts two pages to a side, in the order to print and fold.")
@FOLDER
@SITE_URL
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
        site_url: Address the archive is published at; empty for that in the site's settings.

    Raises:
        HandoutsError: Where it cannot be done; the message says why.
    """
    from handouts_build.disk.files import write_all
    from handouts_build.site.build import paper_files

    archive = makeable(files, projects)
    sizes = tuple(SIZES) if size == "both" else (size,)
    forms = [form for form, asked in ((Form.LARGE_PRINT, large), (Form.BOOKLET, folded)) if asked] or [Form.PLAIN]
    made = {
        target / name: content
        for form in forms
        for papers_of_project in paper_files(
            archive, address=published_at(site_url, projects), sizes=sizes, progress=progress, form=form
        ).values()
        for name, content in papers_of_project.items()
    }
    write_all(made)
    done(f"wrote {len(made)} papers to {target.as_posix()}/")


@click.command()
@click.option("--to", "target", type=click.Path(path_type=Path), help="Folder to write to.")
@click.option("--built", type=click.Path(path_type=Path), help="Look over the site that an engine built of them.")
@click.option(
    "--addresses",
    type=click.Choice([*ENDINGS]),
    help="How the engine's addresses of pages end; without it, as in the site's settings.",
)
@click.option(
    "--papers/--no-papers", "with_papers", default=True, show_default=True, help="Whether the PDFs go with the pages."
)
@click.option("--strict", is_flag=True, help="Write nothing if a project must be left out.")
@FOLDER
@SITE_URL
def pages(
    target: Path | None,
    built: Path | None,
    addresses: str | None,
    with_papers: bool,
    strict: bool,
    projects: Path,
    site_url: str,
) -> None:
    """Write the archive as plain Markdown and assets, for another site engine.

    What the engine must be told is printed. A project that cannot be published is left out by
    name, and the exit status is 1; with --strict nothing is written then. With --built nothing
    is written: the site that an engine built of the pages is looked over.

    \f
    Args:
        target: Folder to write to.
        built: The folder of a built site, which is looked over and nothing else.
        addresses: One of `ENDINGS`; None for what the site's settings say.
        with_papers: Whether the PDFs go with the pages.
        strict: Whether nothing is written where a project must be left out.
        projects: Folder of the project files.
        site_url: Address the archive is published at; empty for that in the site's settings.

    Raises:
        HandoutsError: Where it cannot be done; the message says why.
    """
    from handouts_build.site.other_engine import look_over, needs

    if target is None:
        if built is None:
            raise click.UsageError("Name a folder to write to (--to) or a built site to look over (--built).")
        done(f"looked over {look_over(built):,} pages: every address on them leads somewhere")
        return
    if built is not None:
        raise click.UsageError("Either write (--to) or look over what was built (--built).")
    from handouts_build.disk.cache import Cache, user_folder
    from handouts_build.disk.clock import now as clock
    from handouts_build.site.calls import call_texts, survey_calls
    from handouts_build.site.leaks import leaks
    from handouts_build.site.publish import Papers, publish, survey, write_outputs

    address = published_at(site_url, projects)
    if addresses is not None:
        address = replace(address, ending=ENDINGS[addresses])
    files = project_files(projects)
    if private := list(leaks(call_texts(projects), files, Path.cwd())):
        raise ProjectError(private)
    cache = Cache(user_folder())
    made_too = Papers.MADE if with_papers else Papers.NONE
    found = survey(files, base=Path.cwd(), cache=cache, jobs=workers(), site=(address, made_too))
    now, summaries = clock(), tuple(found.sound.values())
    calls = survey_calls(projects, files, summaries, base=Path.cwd(), cache=cache)
    problems = (*found.problems, *calls.problems)
    if strict or not found.makeable:
        if problems:
            raise ProjectError(problems)
        must_be_makeable(finding for project in summaries for finding in project.stops)
    for wrong in (*problems, *(finding for project in summaries for finding in project.stops)):
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
        address=address,
        papers=made_too,
        jobs=workers(),
        progress=progress,
        left_out=leave_out,
        calls=calls.sound,
    )
    write_outputs(made, target)
    done(f"wrote {len(made)} files to {target.as_posix()}/\nThe engine needs:")
    for sentence in needs(address):
        click.echo(f"  {sentence}")
    left_out += dict.fromkeys(Path(problem.place.file) for problem in calls.problems)
    if left_out:
        named = ", ".join(path.as_posix() for path in left_out)
        click.echo(f"left out: {named}. What is said above keeps {_them(left_out)} from being published.", err=True)
        sys.exit(1)


def _them(paths: Sequence[Path]) -> str:
    return "it" if len(paths) == 1 else "them"
