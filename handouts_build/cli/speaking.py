"""The language that a command answers in: that of the archive whose files it is asked about."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import wraps
from pathlib import Path
from typing import Any

from handouts_build.language import speaking
from handouts_build.problems import Place, Problem, ProjectError

__all__ = ["PROJECTS", "in_their_language"]

PROJECTS = Path("projects")
"""The folder of the project files, unless a command is told another."""

_ENDINGS = (".yml", ".yaml")


def in_their_language(command: Callable[..., None]) -> Callable[..., None]:
    """A command that speaks the language of the archive of its files: those it is given, else those of its folder.

    Args:
        command: It takes `files`, `file`, `names` or `name`, and `projects`, or some of them.
    """

    @wraps(command)
    def spoken(**values: Any) -> None:
        with speaking(_language(values)):
            command(**values)

    return spoken


def _language(values: Mapping[str, Any]) -> str:
    """The language of the archive that a command is asked about.

    Raises:
        ProjectError: If it is asked about archives in several languages.
    """
    from handouts_build.disk.cache import Cache, user_folder
    from handouts_build.site.archive_language import archive_language

    cache = Cache(user_folder())
    found = {archive_language(home, cache=cache): home for home in _homes(values)}
    if len(found) > 1:
        raise ProjectError(
            [
                Problem(
                    Place(home.as_posix()),
                    f"this is of an archive in the language '{language}', and other files are of one in another",
                    "ask about the files of each archive by themselves",
                )
                for language, home in list(found.items())[1:]
            ]
        )
    return next(iter(found))


def _homes(values: Mapping[str, Any]) -> Iterator[Path]:
    """Folders of project files that a command is asked about."""
    from handouts_build.disk.folders import is_call

    given = [*values.get("files", ()), values.get("file"), *values.get("names", ()), values.get("name")]
    named = [Path(name) for name in given if name is not None and str(name).endswith(_ENDINGS)]
    for path in named:
        yield path.parents[2] if is_call(path) else path.parent
    if not named:
        yield values.get("projects", PROJECTS)
