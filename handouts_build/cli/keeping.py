"""What is kept and taken away: `binder` and `copy`."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import click

from handouts_build.cli.chosen import makeable, project_file
from handouts_build.cli.options import FOLDER, SITE_URL
from handouts_build.cli.screen import done, progress
from handouts_build.paper import SIZES
from handouts_build.problems import Place, Problem, ProjectError

__all__ = ["binder", "copy"]


@click.command()
@click.argument("names", nargs=-1)
@click.option("--to", "target", type=click.Path(path_type=Path), required=True, help="The PDF to write.")
@click.option("--size", type=click.Choice([*SIZES]), default="letter", show_default=True, help="Size of paper.")
@click.option("--club", default="", help="Only handouts of this club.")
@click.option("--by", "maker", default="", help="Only handouts of this maker.")
@click.option("--title", default="Handouts", show_default=True, help="Of the binder.")
@FOLDER
@SITE_URL
def binder(
    names: Sequence[str], target: Path, size: str, club: str, maker: str, title: str, projects: Path, site_url: str
) -> None:
    """Bind the handouts of NAMES, or of every project, into one PDF.

    It has contents, an index of techniques and woods, and pages numbered through.

    \f
    Args:
        names: Of projects; every project where there are none.
        target: The PDF to write.
        size: One of `paper.SIZES`.
        club: Whose handouts; empty for any.
        maker: Whose handouts; empty for any.
        title: Of the binder.
        projects: Folder of the project files.
        site_url: Address the archive is published at; empty for none.

    Raises:
        HandoutsError: Where it cannot be done; the message says why.
    """
    from handouts_build.disk.files import write_all
    from handouts_build.outputs.output import Address
    from handouts_build.outputs.papers.binder import BoundHandout
    from handouts_build.outputs.papers.binder import binder as bind
    from handouts_build.paper import PROJECT
    from handouts_build.site.build import one_paper

    archive = makeable([project_file(name, projects) for name in names], projects)
    bound = []
    for index, sheet in enumerate(archive.sheets):
        if (club and sheet.club.casefold() != club.casefold()) or (maker and sheet.by.casefold() != maker.casefold()):
            continue
        progress(f"{sheet.title}: handout")
        name = PROJECT["handout"].file(size, sheet.name)
        pdf = one_paper(archive, index, name, address=Address(site_url))
        if pdf is not None:
            bound.append(BoundHandout(sheet, pdf))
    if not bound:
        message = "there is no handout to bind"
        raise ProjectError(
            [Problem(Place(projects.as_posix()), message, "name projects that have one, or another club")]
        )
    write_all({target: bind(bound, paper=size, title=title)})
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
