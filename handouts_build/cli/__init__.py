"""The command `handouts`: arguments, words on the screen, and exit status.

Nothing else is owned here: each command calls the pipeline and prints. Heavy imports stay
inside the commands, so that `handouts check` answers at once.
"""

from handouts_build.cli.run import cli, main

__all__ = ["cli", "main"]
