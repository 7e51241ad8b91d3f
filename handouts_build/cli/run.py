"""The command `handouts` itself: its commands in order, and how a failure ends."""

from __future__ import annotations

import gc
import os
import sys

import click

from handouts_build.cli.asking import explain, names, sheet
from handouts_build.cli.benches import bench
from handouts_build.cli.calling import call
from handouts_build.cli.checking import check, fmt
from handouts_build.cli.evenings import book, chapters, dry_run, evening, hand_out
from handouts_build.cli.keeping import binder, copy, issue
from handouts_build.cli.publishing import pages, papers
from handouts_build.cli.starting import import_write_up, new, start
from handouts_build.cli.strangers import take_in
from handouts_build.disk.workers import one_thread
from handouts_build.problems import HandoutsError, ProjectError

__all__ = ["cli", "main"]


class _Commands(click.Group):
    """Commands in the order one meets them, not by the alphabet.

    A command's docstring is its help as far as the form feed; what follows is for whoever reads the code.
    """

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 (click's signature)
        return list(self.commands)


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="handouts-build", message="handouts %(version)s")
def cli() -> None:
    """Turn a woodturning project file into dimensions, drawings and handouts.

    A project is one YAML file in the folder projects/. Start with
    'handouts new my-piece --like bowl', change the file, and look with 'handouts check'.
    """


for _command in (
    new,
    start,
    import_write_up,
    check,
    bench,
    names,
    explain,
    fmt,
    sheet,
    papers,
    binder,
    pages,
    copy,
    book,
    dry_run,
    evening,
    hand_out,
    chapters,
    issue,
    take_in,
    call,
):
    cli.add_command(_command)


def main() -> None:
    """Run the command; no traceback reaches the user unless HANDOUTS_DEBUG is set."""
    # What loading makes stays: looking through it again and again would find nothing to free.
    gc.set_threshold(100_000)
    one_thread()
    try:
        cli(standalone_mode=False)
    except click.ClickException as error:
        error.show()
        sys.exit(error.exit_code)
    except (click.Abort, KeyboardInterrupt):
        click.echo("stopped", err=True)
        sys.exit(130)
    except ProjectError as error:
        count = len(error.problems)
        click.echo(f"{error}\n{count} problem{'s' if count != 1 else ''}", err=True)
        sys.exit(1)
    except HandoutsError as error:
        click.echo(str(error), err=True)
        sys.exit(1)
    except OSError as error:
        where = f" ({error.filename})" if error.filename else ""
        click.echo(f"the disk said no: {error.strerror}{where}; what was there is as it was", err=True)
        sys.exit(1)
    except Exception as error:
        if os.environ.get("HANDOUTS_DEBUG"):
            raise
        click.echo(
            f"handouts has a fault of its own: {type(error).__name__}: {error}\n"
            "Set HANDOUTS_DEBUG=1 to see where, and please report it.",
            err=True,
        )
        sys.exit(1)
    finally:
        # The process ends: looking once more through all it holds would take a tenth of a second. Where solids
        # were carried it is done: their library reports each one that is never given back.
        if "handouts_build.workpiece.solid" not in sys.modules:
            gc.freeze()
