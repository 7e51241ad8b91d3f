"""Arguments and options that several commands take."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import click

from handouts_build.cli.speaking import PROJECTS, in_their_language

__all__ = ["DATE", "FILES", "FOLDER", "NAME", "PROJECTS", "SITE_URL"]

FILES = click.argument("files", nargs=-1, type=click.Path(path_type=Path))


def FOLDER(command: Callable[..., None]) -> Callable[..., None]:  # noqa: N802 (it stands among the options)
    """The folder of the project files; whatever is asked of them is answered in their archive's language."""
    return click.option(
        "--projects",
        type=click.Path(path_type=Path),
        default=PROJECTS,
        show_default=True,
        help="Folder of the project files.",
    )(in_their_language(command))


SITE_URL = click.option(
    "--site-url",
    default="",
    help="Address the archive is published at, for the QR code; without it, that in the site's settings.",
)

NAME = click.argument("name")

DATE = click.argument("date")
