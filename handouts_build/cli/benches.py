"""What shows a project while it is written: `bench`."""

from __future__ import annotations

import threading
from collections.abc import Sequence
from pathlib import Path

import click

from handouts_build.cli.chosen import project_file, project_files
from handouts_build.cli.options import FOLDER

__all__ = ["bench"]

_PATIENCE_S = 10.0
"""How long a look that is under way may take to its end once the bench is over."""


@click.command()
@click.argument("name", required=False, default="")
@click.option("--port", type=click.IntRange(0, 65535), default=8123, show_default=True, help="0 for any that is free.")
@click.option("--open", "opened", is_flag=True, help="Open the page in the browser.")
@FOLDER
def bench(name: str, port: int, opened: bool, projects: Path) -> None:
    """Show a project while you write it, in a browser on this machine only.

    Beside the file stand its problems and findings; beside those, the step you are at:
    the wood before and after it, its dimensions, and every name you may use there. Write
    in any editor; the page follows at every save. Ctrl-C ends it.

    \f
    Args:
        name: Of the project; empty for every one.
        port: Where the page is; another where it is taken.
        opened: Whether the browser is sent there.
        projects: Folder of the project files.

    Raises:
        HandoutsError: Where it cannot be done; the message says why.
    """
    from handouts_build.bench.serving import BenchServer
    from handouts_build.bench.watcher import Watcher

    chosen = project_file(name, projects) if name else None
    project_files(projects if chosen is None else chosen.parent)

    def files() -> Sequence[Path]:
        return (chosen,) if chosen is not None else project_files(projects)

    watcher = Watcher(files, base=Path.cwd())
    try:
        server = BenchServer(watcher, port=port)
    except OSError:
        server = BenchServer(watcher)
    following = threading.Thread(target=watcher.follow, daemon=True)
    following.start()
    click.echo(f"The bench is at {server.address} for this machine only; Ctrl-C ends it")
    if opened:
        click.launch(server.address)
    try:
        server.serve_forever()
    except KeyboardInterrupt:
        click.echo("")
    finally:
        watcher.end()
        server.server_close()
        following.join(_PATIENCE_S)
