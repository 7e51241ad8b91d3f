"""What is kept and taken away: `issue`, `binder` and `copy`."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import click

from handouts_build.cli.chosen import makeable, project_file, project_files, published_at
from handouts_build.cli.options import FOLDER, SITE_URL
from handouts_build.cli.screen import done, progress
from handouts_build.paper import SIZES

__all__ = ["binder", "copy", "issue"]


@click.command()
@click.argument("names", nargs=-1, required=True)
@FOLDER
@SITE_URL
def issue(names: Sequence[str], projects: Path, site_url: str) -> None:
    """Archive the projects NAMES as issued: nothing remakes them any more.

    Pages, papers and data go below projects/NAME/issued/ as they are now, with their
    checksums. From then on the site shows these, says since when, and reads nothing else
    of the project; delete that folder to work on the piece again.

    \f
    Args:
        names: Of projects.
        projects: Folder of the project files.
        site_url: Address the archive is published at; empty for that in the site's settings.

    Raises:
        HandoutsError: Where it cannot be done; the message says why.
    """
    from handouts_build.disk.cache import Cache, user_folder
    from handouts_build.site.issuing import issue_project

    address = published_at(site_url, projects)
    cache = Cache(user_folder())
    for path in [project_file(name, projects) for name in names]:
        progress(f"{path.stem}: pages, papers and data")
        done(f"kept in {issue_project(path, base=Path.cwd(), cache=cache, address=address).as_posix()}/")


@click.command()
@click.argument("names", nargs=-1)
@click.option("--to", "target", type=click.Path(path_type=Path), required=True, help="The PDF to write.")
@click.option("--size", type=click.Choice([*SIZES]), default="letter", show_default=True, help="Size of paper.")
@click.option("--club", default="", help="Only handouts of this club, or shown to it.")
@click.option("--by", "maker", default="", help="Only handouts of this maker.")
@click.option("--year", type=click.IntRange(1900, 2200), help="Only of pieces written or shown in this year.")
@click.option("--evening", default="", help="Only of pieces shown on this day, such as 2026-12-05.")
@click.option("--title", default="", help="Of the binder; it says what was asked for if not given.")
@FOLDER
@SITE_URL
def binder(
    names: Sequence[str],
    target: Path,
    size: str,
    club: str,
    maker: str,
    year: int | None,
    evening: str,
    title: str,
    projects: Path,
    site_url: str,
) -> None:
    """Bind the handouts of NAMES, or of every project, into one PDF.

    It has contents, an index of techniques and woods, and pages numbered through. A piece
    that is archived as issued is in it with the handout that was issued.

    \f
    Args:
        names: Of projects; every project where there are none.
        target: The PDF to write.
        size: One of `paper.SIZES`.
        club: Whose handouts, or shown to whom; empty for any.
        maker: Whose handouts; empty for any.
        year: When they were written or shown; None for any.
        evening: Day or name of a demonstration; empty for any.
        title: Of the binder.
        projects: Folder of the project files.
        site_url: Address the archive is published at; empty for that in the site's settings.

    Raises:
        HandoutsError: Where it cannot be done; the message says why.
    """
    from handouts_build.disk.files import write_all
    from handouts_build.outputs.papers.binder import binder as bind
    from handouts_build.site.binding import Wish, handouts_to_bind

    paths = [project_file(name, projects) for name in names] or list(project_files(projects))
    wish = Wish(club, maker, year, evening)
    bound = handouts_to_bind(
        paths,
        wish,
        paper=size,
        base=Path.cwd(),
        address=published_at(site_url, projects),
        read=lambda living: makeable(living, projects),
        progress=progress,
    )
    write_all({target: bind(bound, paper=size, title=title or wish.title())})
    done(f"bound {len(bound)} handout{'s' if len(bound) != 1 else ''} into {target.as_posix()}")


@click.command()
@click.option("--to", "target", type=click.Path(path_type=Path), required=True, help="The zip to write.")
@click.option(
    "--site", type=click.Path(path_type=Path), default=Path("site"), show_default=True, help="The site that was built."
)
def copy(target: Path, site: Path) -> None:
    """Put the whole site into one zip that opens from a disk, with a listing and checksums.

    \f
    Args:
        target: The zip to write.
        site: The folder that the site was built into.

    Raises:
        HandoutsError: Where it cannot be done; the message says why.
    """
    from handouts_build.disk.files import write_all
    from handouts_build.site.stick import stick

    content, count = stick(site)
    write_all({target: content})
    done(f"wrote {count} files to {target.as_posix()} ({len(content) / 1e6:,.1f} MB)")
