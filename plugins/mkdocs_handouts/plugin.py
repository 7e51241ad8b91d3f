"""Events of the plugin: when MkDocs asks, the library's files are handed over.

This module owns the meeting with MkDocs and nothing else. Everything that can fail
is done before MkDocs empties the folder of the last site, so that a broken project
file leaves that site as it was. Files stay in memory; nothing is written into the
folder of the documents, which would start the next rebuild.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Literal

from mkdocs.config.config_options import ExtraScriptValue
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin, event_priority, get_plugin_logger
from mkdocs.structure.files import File, Files, InclusionLevel

from handouts_build.build import Address, read_archive, site_files, write_outputs
from handouts_build.cache import Cache, user_folder
from handouts_build.outputs.output import Output
from handouts_build.outputs.pages_assets import (
    LOGO,
    OWN_SCRIPTS,
    OWN_STYLE,
    POLYFILL,
    SCRIPT,
    SOLID_SCRIPT,
    SOLID_STYLE,
    STYLE,
)
from handouts_build.problems import ProjectError
from mkdocs_handouts.config import HandoutsConfig

__all__ = ["HandoutsPlugin"]

log = get_plugin_logger(__name__)

_HOME = "index.md"
_EXTENSION = "md_in_html"
"""What the home page's Markdown asks for."""


class HandoutsPlugin(BasePlugin[HandoutsConfig]):
    """Adds the archive's pages, drawings, papers and data to a site."""

    def __init__(self) -> None:
        self._cache = Cache(user_folder())
        self._made: list[Output] = []
        # `mkdocs serve --dirty` only lays out again what is newer on disk than in the site, so there
        # the pages are files: in a folder of their own that goes with this process.
        self._preview: TemporaryDirectory[str] | None = None
        self._serving = False

    def on_startup(self, *, command: Literal["build", "gh-deploy", "serve"], dirty: bool) -> None:
        """Note what MkDocs is about; being asked at all keeps this object, and its cache, over rebuilds."""
        self._serving = command == "serve"
        self._preview = TemporaryDirectory(prefix="handouts-") if dirty else None

    # Before the theme's offline plugin, which fetches a polyfill from another host if it finds none.
    @event_priority(50)
    def on_config(self, config: MkDocsConfig) -> MkDocsConfig | None:
        """Name the shared files, and watch the project files."""
        if not self.config.enabled:
            return None
        if Path(self.config.projects).is_dir():
            config.watch.append(self.config.projects)
        # First, so that the site's own styles have the last word.
        config.extra_css[:0] = [STYLE, OWN_STYLE, SOLID_STYLE]
        config.extra_javascript.append(SCRIPT)
        for path in (*OWN_SCRIPTS, SOLID_SCRIPT):
            # Deferred: the page is drawn before anything is worked out again.
            script = ExtraScriptValue(path)
            script.defer = True
            config.extra_javascript.append(script)
        config.extra.setdefault("polyfills", []).append(POLYFILL)
        if _EXTENSION not in config.markdown_extensions:
            config.markdown_extensions.append(_EXTENSION)
        if config.theme.name == "material":
            config.theme["logo"] = config.theme.get("logo") or LOGO
            if config.theme.get("favicon") == "assets/images/favicon.png":
                config.theme["favicon"] = LOGO
            if config.theme.get("font") is not False:
                log.warning(
                    "the theme fetches its fonts from another host: set 'font: false' under 'theme' in mkdocs.yml"
                )
        return config

    def on_pre_build(self, *, config: MkDocsConfig) -> None:
        """Read, work out and draw everything, while the last site still stands."""
        if not self.config.enabled:
            return
        at = ""

        def progress(what: str) -> None:
            nonlocal at
            at = what
            log.debug(what)

        folder = Path(self.config.projects)
        # While it serves, MkDocs gives the preview's address, which must not get onto paper.
        site_url = "" if self._serving else config.site_url or ""
        address = Address(site_url, "/" if config.use_directory_urls else ".html")
        base = Path(config.config_file_path).parent if config.config_file_path else Path.cwd()
        try:
            archive = read_archive(folder, base=base, cache=self._cache)
            for sheet in archive.sheets:
                for finding in sheet.findings:
                    log.info(str(finding))
            if archive.stopped:
                stopped = ", ".join(sheet.file for sheet in archive.sheets if sheet.stopped)
                raise PluginError(f"cannot be made as written: {stopped}. The findings marked 'stop' say why.")
            self._made = site_files(archive, address=address, papers=self.config.papers, progress=progress)
            if self._preview is not None:
                write_outputs(self._made, Path(self._preview.name))
        except ProjectError as error:
            raise PluginError(str(error)) from None
        except PluginError:
            raise
        except Exception as error:
            log.debug("what went wrong", exc_info=True)
            raise PluginError(
                f"{at or folder.name}: {type(error).__name__}: {error} (a fault of the tool; --verbose tells more)"
            ) from None
        docs = Path(config.docs_dir)
        _refuse(docs / one.path for one in self._made if one.path != _HOME and (docs / one.path).exists())

    def on_files(self, files: Files, /, *, config: MkDocsConfig) -> Files | None:
        """Hand over what was made; a home page of the site's own takes the place of ours."""
        if not self.config.enabled:
            return None
        taken = {file.dest_uri: file for file in files if file.inclusion.is_included()}
        for one in self._made:
            if one.path == _HOME and files.get_file_from_path(_HOME) is not None:
                continue
            # Only the home page stands in the navigation: it leads to every project, however many there are.
            inclusion = InclusionLevel.UNDEFINED if one.path == _HOME else InclusionLevel.NOT_IN_NAV
            file = self._file(config, one, inclusion)
            if file.dest_uri in taken:
                _refuse([Path(taken[file.dest_uri].src_uri)])
            files.append(file)
        return files

    def _file(self, config: MkDocsConfig, one: Output, inclusion: InclusionLevel) -> File:
        """A page or file as MkDocs takes it."""
        if self._preview is None:
            return File.generated(config, one.path, content=one.content, inclusion=inclusion)
        path = Path(self._preview.name) / one.path
        return File.generated(config, one.path, abs_src_path=str(path), inclusion=inclusion)


def _refuse(paths: Iterable[Path]) -> None:
    """Stop if there is a file where one of ours would stand.

    Raises:
        PluginError: Naming every such file.
    """
    if found := [path.as_posix() for path in paths]:
        raise PluginError(
            "\n".join(
                f"{path}: a page or file made from a project takes this place; rename or remove it" for path in found
            )
        )
