"""Arguments and options that several commands take."""

from __future__ import annotations

from pathlib import Path

import click

__all__ = ["DATE", "FILES", "FOLDER", "NAME", "PROJECTS", "SITE_URL"]

PROJECTS = Path("projects")

FILES = click.argument("files", nargs=-1, type=click.Path(path_type=Path))

FOLDER = click.option(
    "--projects",
    type=click.Path(path_type=Path),
    default=PROJECTS,
    show_default=True,
    help="Folder of the project files.",
)

SITE_URL = click.option(
    "--site-url",
    default="",
    help="Address the archive is published at, for the QR code; without it, that in the site's settings.",
)

NAME = click.argument("name")

DATE = click.argument("date")
