"""The site is built beside the last one, and takes its place once it is whole.

This module owns where MkDocs builds. MkDocs empties the folder of the site before it
writes; here it is given a hidden folder beside it instead, and the two change places
when the build has ended well, which in strict mode is only known after the last event
of the build. A preview and a build of changed pages alone (`--dirty`) are left to MkDocs:
the one has a folder of its own, the other needs the last site to build upon.
"""

from __future__ import annotations

import contextlib
import logging
import sys
import tempfile
from pathlib import Path

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import get_plugin_logger

from handouts_build.disk.files import FolderWriter
from handouts_build.problems import ProjectError

__all__ = ["SiteReplacement", "hear_warnings"]

log = get_plugin_logger(__name__)

_BUILDING = logging.getLogger("mkdocs.commands.build")
_PREVIEW = "mkdocs_"
"""How the folders begin that `mkdocs serve` makes for itself; with `--clean` it calls itself a build."""


class SiteReplacement:
    """One command of MkDocs: where it builds, and whether the site is then replaced.

    Args:
        wanted: Whether the command writes the whole site and says when it has ended.
    """

    def __init__(self, *, wanted: bool = False) -> None:
        self._wanted = wanted
        self._config: MkDocsConfig | None = None
        self._site_dir = ""
        self._writer: FolderWriter | None = None
        self._held = contextlib.ExitStack()
        """The lock of the site's folder, and what MkDocs does not say meanwhile."""
        self._whole = False

    def begin(self, config: MkDocsConfig) -> None:
        """Have MkDocs build beside the site.

        Raises:
            PluginError: If another build of it is going on, or nothing can be written there.
        """
        site = Path(config.site_dir)
        preview = site.parent == Path(tempfile.gettempdir()) and site.name.startswith(_PREVIEW)
        if not self._wanted or self._writer is not None or preview:
            return
        try:
            writer = self._held.enter_context(FolderWriter(site))
            self._config, self._site_dir, self._writer = config, config.site_dir, writer
            _BUILDING.addFilter(_is_said_here_alone)
            self._held.callback(_BUILDING.removeFilter, _is_said_here_alone)
            config.site_dir = str(writer.stage())
        except ProjectError as error:
            raise PluginError(str(error)) from None
        except OSError as error:
            raise PluginError(_refused(error)) from None

    def built(self) -> None:
        """Every page and file is written."""
        self._whole = True

    def failed(self, error: Exception) -> None:
        """The build ends with an error, however late.

        Raises:
            PluginError: In place of an error of the disk, which MkDocs would show as a fault of its own.
        """
        self._whole = False
        if self._writer is not None and isinstance(error, OSError):
            raise PluginError(_refused(error))

    def end(self) -> None:
        """Put the site in place if it is whole, and clear up.

        Raises:
            PluginError: If the site cannot be put in place; then the last one is as it was.
        """
        if self._writer is None or self._config is None:
            return
        writer, self._writer = self._writer, None
        # Whoever takes the site from here, such as `mkdocs gh-deploy`, asks for it by its own name.
        self._config.site_dir = self._site_dir
        with self._held:
            if not self._whole:
                return
            try:
                writer.swap()
            except OSError as error:
                raise PluginError(_refused(error)) from None
            log.info(f"The site is whole and has taken the place of the last one: {self._site_dir}")


def hear_warnings(config: MkDocsConfig) -> None:
    """Have strict mode count warnings though `--quiet` was asked for.

    MkDocs drops them before it counts them then: a build that was to fail would end well, and its site would take the
    place of the last one.

    Args:
        config: Of this build.
    """
    logger = logging.getLogger("mkdocs")
    if config.strict and logger.level > logging.WARNING:
        logger.setLevel(logging.WARNING)


def _is_said_here_alone(_record: logging.LogRecord) -> bool:
    """Whether a line of MkDocs is to be shown: it names the page at which the disk said no, and that is told here."""
    return not isinstance(sys.exc_info()[1], OSError)


def _refused(error: OSError) -> str:
    where = f" ({error.filename})" if error.filename else ""
    return f"the disk said no: {error.strerror or error}{where}; the last site is as it was"
