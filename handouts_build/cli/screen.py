"""Lines on the screen: how far a command is, and what it has done."""

from __future__ import annotations

import sys

import click

__all__ = ["done", "progress"]


def progress(doing: str) -> None:
    """A line that is written over, on a terminal only."""
    if sys.stderr.isatty():
        click.echo(f"\r\x1b[2K{doing} …", err=True, nl=False)


def done(what: str) -> None:
    """What a command has done, in place of how far it is."""
    if sys.stderr.isatty():
        click.echo("\r\x1b[2K", err=True, nl=False)
    click.echo(what)
