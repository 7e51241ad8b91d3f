"""Events of the plugin: when MkDocs asks, the library's files are handed over.

This module owns the meeting with MkDocs and nothing else. The site is built beside the
last one, which stands until the new one is whole; how is for `replacing`. Files are
handed over where they are kept; nothing is written into the folder of the documents,
which would start the next rebuild. While it serves, a paper is typeset when it is asked for.
"""

from __future__ import annotations

import logging
import os
import re
from collections.abc import Iterable, Iterator, Sequence
from contextlib import ExitStack
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING, Literal

from mkdocs.config.config_options import ExtraScriptValue
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin, CombinedEvent, event_priority, get_plugin_logger
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.pages import Page

from handouts_build.disk.cache import Cache, user_folder
from handouts_build.disk.clock import now as clock
from handouts_build.language import ENGLISH, speaking, tr
from handouts_build.outputs.output import Address, Output
from handouts_build.outputs.pages.assets import (
    LATHE_STYLE,
    OWN_STYLE,
    SCRIPT,
    SOLID_STYLE,
    STYLE,
    WHERE,
)
from handouts_build.outputs.pages.browsing import FIND
from handouts_build.outputs.policy import with_policy
from handouts_build.problems import ProjectError
from handouts_build.site.archive_language import archive_language
from handouts_build.site.calls import call_texts, survey_calls
from handouts_build.site.gathering import called, project_files
from handouts_build.site.leaks import leaks
from handouts_build.site.publish import Papers, Survey, publish, survey, typeset
from handouts_build.site.stick import stick
from handouts_build.site.summary import Summary, overlapping
from mkdocs_handouts import material
from mkdocs_handouts.config import HandoutsConfig
from mkdocs_handouts.page_language import in_language, unlike_theme
from mkdocs_handouts.replacing import SiteReplacement, hear_warnings
from mkdocs_handouts.searching import piece_of, put_into_parts
from mkdocs_handouts.sharing import shared

if TYPE_CHECKING:
    from wsgiref.types import StartResponse, WSGIEnvironment

    from mkdocs.livereload import LiveReloadServer
    from mkdocs.utils.templates import TemplateContext

__all__ = ["HandoutsPlugin"]

log = get_plugin_logger(__name__)

_HOME = "index.md"
_COPY = "all-handouts.zip"
"""The whole site, where its settings ask for it."""
_OFFER = re.compile(r'\s*<p class="hb-copy">.*?</p>', re.DOTALL)
_PAPER = re.compile(r"/projects/([a-z0-9-]+)/([a-z0-9-]+\.pdf)$")

_TEXT = "text/plain; charset=utf-8"

_NO_ADDRESS = (
    "there is no 'site_url' in mkdocs.yml: feeds, the calendar to subscribe to, pictures for shared links, data for "
    "search engines and QR codes are left out"
)

_EXTENSION = "md_in_html"
"""What the home page's Markdown asks for."""


class HandoutsPlugin(BasePlugin[HandoutsConfig]):
    """Adds the archive's pages, drawings, papers and data to a site."""

    def __init__(self) -> None:
        self._cache = Cache(user_folder())
        self._made: list[Output] = []
        self._pieces: dict[str, str] = {}
        """The piece that a page is about, by the page's address."""
        self._pictures: dict[str, str] = {}
        """A picture of each piece: its path on the site."""
        self._times: dict[str, str] = {}
        """The spans of time that the piece of a page is made in, by the page's address."""
        self._serving = False
        self._replacement = SiteReplacement()
        self._stood: dict[str, Path] = {}
        """Which kept file stood for each path the last time, while it serves."""
        self._language = ENGLISH
        self._speaking = ExitStack()
        """Holds while the site is built: MkDocs asks for sentences in between, too."""
        self._busy = Lock()
        """The pipeline works for one at a time: the builder, or someone who asks for a paper."""

    def on_startup(self, *, command: Literal["build", "gh-deploy", "serve"], dirty: bool) -> None:
        """Note what MkDocs is about; being asked at all keeps this object, and its cache, over rebuilds.

        Args:
            command: What MkDocs was called for.
            dirty: Whether only what changed is laid out; it is all one here.
        """
        self._serving = command == "serve"
        self._replacement = SiteReplacement(wanted=not self._serving and not dirty)

    def on_shutdown(self) -> None:
        """Let a site that was built well take its place."""
        self._replacement.end()

    # Before the theme's offline plugin, which fetches a polyfill from another host if it finds none.
    @event_priority(50)
    def on_config(self, config: MkDocsConfig) -> MkDocsConfig | None:
        """Name the shared files, watch the project files, and build beside the last site."""
        if not self.config.enabled:
            return None
        hear_warnings(config)
        self._replacement.begin(config)
        if Path(self.config.projects).is_dir():
            config.watch.append(self.config.projects)
        # First, so that the site's own styles have the last word.
        config.extra_css[:0] = [STYLE, OWN_STYLE, SOLID_STYLE, LATHE_STYLE]
        # Deferred: the page is drawn before anything else is loaded.
        script = ExtraScriptValue(SCRIPT)
        script.defer = True
        config.extra_javascript.append(script)
        if _EXTENSION not in config.markdown_extensions:
            config.markdown_extensions.append(_EXTENSION)
        if material.is_material(config):
            config.extra_css.insert(0, material.STYLE)
            if warning := material.set_up(config):
                log.warning(warning)
        return config

    def on_pre_build(self, *, config: MkDocsConfig) -> None:
        """Read, work out and draw everything."""
        if not self.config.enabled:
            return
        self._language = archive_language(Path(self.config.projects), cache=self._cache)
        self._speaking.close()
        self._speaking.enter_context(speaking(self._language))
        # Told and no more: a theme may not have the language.
        if differs := unlike_theme(config, self._language):
            log.info(differs)
        at = ""

        def progress(doing: str) -> None:
            nonlocal at
            at = doing
            log.debug(doing)

        try:
            paths, base, address = self._archive(config)
            if not address.site_url and not self._serving:
                log.info(_NO_ADDRESS)
            projects = Path(self.config.projects)
            if private := list(leaks((*_documents(config), *call_texts(projects)), paths, base)):
                raise ProjectError(private)
            with self._busy:
                found = survey(
                    paths, base=base, cache=self._cache, jobs=os.cpu_count() or 1, site=(address, self._papers)
                )
                summaries = tuple(found.sound.values())
                for finding in (finding for project in summaries for finding in project.findings):
                    log.info(finding)
                self._announced(summaries)
                if paths and not found.makeable:
                    raise PluginError("\n".join(["there is no project that can be published", *_wrong(found)]))
                calls = survey_calls(projects, paths, summaries, base=base, cache=self._cache)
                # Strict mode counts warnings, and ends the build after the rest of it is made.
                for wrong in (*_wrong(found), *map(str, calls.problems)):
                    log.warning(wrong)
                left_out = [called(path, base) for path in paths if path not in found.makeable]

                def leave_out(path: Path, error: ProjectError) -> None:
                    log.warning(str(error))
                    left_out.append(called(path, base))

                self._made = publish(
                    found.makeable, base=base, cache=self._cache, address=address, papers=self._papers,
                    jobs=os.cpu_count() or 1, progress=progress,
                    left_out=leave_out, calls=calls.sound,
                )  # fmt: skip
                for file in left_out:
                    log.warning(f"{file} is left out of the site: what is said above keeps it from being published")
        except ProjectError as error:
            raise PluginError(str(error)) from None
        except PluginError:
            raise
        except Exception as error:
            log.debug("what went wrong", exc_info=True)
            raise PluginError(f"{at or self.config.projects}: {_fault(error)}") from None
        docs = Path(config.docs_dir)
        _refuse(docs / output.path for output in self._made if output.path != _HOME and (docs / output.path).exists())

    def on_files(self, files: Files, /, *, config: MkDocsConfig) -> Files | None:
        """Hand over what was made; a home page of the site's own takes the place of ours.

        Args:
            files: The site's own files.
            config: The site's settings.
        """
        if not self.config.enabled:
            return None
        taken = {file.dest_uri: file for file in files if file.inclusion.is_included()}
        for output in self._made:
            if output.path == _HOME and files.get_file_from_path(_HOME) is not None:
                continue
            # Only these stand in the navigation: they lead to every project, however many there are.
            inclusion = InclusionLevel.UNDEFINED if output.path in (_HOME, FIND) else InclusionLevel.NOT_IN_NAV
            file = self._file(config, output, inclusion)
            if file.dest_uri in taken:
                _refuse([Path(taken[file.dest_uri].src_uri)])
            files.append(file)
        if material.is_material(config):
            for file in material.files(config):
                files.append(file)
        return files

    def on_page_markdown(self, markdown: str, /, *, page: Page, config: MkDocsConfig, files: Files) -> str | None:  # noqa: ARG002
        """Tell the theme how a page of ours is laid out, and offer a copy of the site where one is asked for.

        Args:
            markdown: The page's Markdown.
            page: The page.
            config: The site's settings.
            files: The site's files.
        """
        if self._is_ours(page, config):
            material.described(page)
        if self.config.take_away and page.file.generated_by == "handouts" and page.file.src_uri == _HOME:
            return f"{markdown}\n{_offered()}\n"
        return None

    def on_page_content(self, html: str, /, *, page: Page, config: MkDocsConfig, files: Files) -> str | None:  # noqa: ARG002
        """Tell the theme's search what stands beside a page's running text.

        Args:
            html: The page's HTML.
            page: The page.
            config: The site's settings.
            files: The site's files.
        """
        if not self._is_ours(page, config):
            return None
        if piece := piece_of(page):
            self._pieces[page.url] = piece
            if picture := page.meta.get("image"):
                self._pictures[piece] = str(picture)
            if times := page.meta.get("times"):
                self._times[page.url] = str(times)
        return material.searched(html)

    def _is_ours(self, page: Page, config: MkDocsConfig) -> bool:
        """Whether a page was made here, and the theme has to be told of it."""
        return page.file.generated_by == "handouts" and material.is_material(config)

    def on_template_context(
        self, context: TemplateContext, /, *, template_name: str, config: MkDocsConfig
    ) -> TemplateContext | None:
        """Let the page for what is not there name everything from the root that it finds for itself.

        Args:
            context: What MkDocs fills the template with.
            template_name: The template.
            config: The site's settings.
        """
        if not self.config.enabled or not material.is_material(config):
            return None
        return material.root_context(context, template_name)

    # Last, when nothing of the page changes any more: a script is known by the hash of its text.
    @event_priority(-100)
    def on_post_page(self, output: str, /, *, page: Page, config: MkDocsConfig) -> str | None:
        """Say in the page what it is where it is shared, and what it may load and run.

        Args:
            output: The page, whole.
            page: What MkDocs knows of it.
            config: The site's settings.
        """
        if self.config.enabled and config.site_url and not self._serving:
            output = shared(output, page, config)
        if self.config.enabled and page.file.generated_by == "handouts":
            output = in_language(output, self._language)
        output = self._with_styles_it_needs(output)
        return self._with_policy(output) or output

    @event_priority(-100)
    def on_post_template(self, output: str, /, *, template_name: str, config: MkDocsConfig) -> str | None:
        """The same for pages without a document, such as the one for what is not there.

        Args:
            output: The page, whole.
            template_name: The template.
            config: The site's settings.
        """
        if not template_name.endswith(".html"):
            return None
        if self.config.enabled and material.is_material(config) and material.is_ours(output):
            output = in_language(output, self._language)
        output = self._with_styles_it_needs(output)
        return self._with_policy(output) or output

    def _with_styles_it_needs(self, page: str) -> str:
        """A page without the style sheets of ours that nothing on it asks for."""
        if not self.config.enabled:
            return page
        for style, mark in WHERE.items():
            if mark not in page:
                page = re.sub(rf'\s*<link rel="stylesheet" href="[^"]*{re.escape(style)}">', "", page)
        return page

    def _with_policy(self, page: str) -> str | None:
        """A page with its policy; None where none is wanted, or where the preview adds a script of its own."""
        wanted = self.config.enabled and self.config.policy and not self._serving
        return with_policy(page) if wanted else None

    # After the search plugin has written its index, and before the offline plugin makes a script of it.
    @event_priority(-50)
    def _index_in_parts(self, *, config: MkDocsConfig) -> None:
        """Let a page load of the search index what a query needs."""
        if self.config.enabled and material.is_material(config):
            pictures = {address: self._pictures.get(piece, "") for address, piece in self._pieces.items()}
            put_into_parts(Path(config.site_dir), pictures, self._times, self._cache)

    @event_priority(-100)
    def _all_written(self, *, config: MkDocsConfig) -> None:
        """Put the copy beside what everyone, the other plugins too, has written, and note that it is all."""
        self._speaking.close()
        if self.config.enabled and self.config.take_away and not self._serving:
            _put_copy(Path(config.site_dir))
        self._replacement.built()

    on_post_build = CombinedEvent(_index_in_parts, _all_written)

    def on_build_error(self, *, error: Exception) -> None:
        """Note that the site is not to be put in place: strict mode ends it after the last of the other events."""
        self._speaking.close()
        self._replacement.failed(error)

    def _announced(self, summaries: Sequence[Summary]) -> None:
        """Say what is found of demonstrations to come; the site can be built without them, but not in strict mode."""
        now = clock()
        for evening in (evening for project in summaries for evening in project.coming(now)):
            for finding in evening.findings:
                log.log(logging.WARNING if finding in evening.stops else logging.INFO, finding)
        for finding in overlapping(summaries, now):
            log.info(finding)

    @property
    def _papers(self) -> Papers:
        """A preview does not wait for papers that nobody looks at."""
        if not self.config.papers:
            return Papers.NONE
        return Papers.NAMED if self._serving else Papers.MADE

    def _archive(self, config: MkDocsConfig) -> tuple[Sequence[Path], Path, Address]:
        """The project files, the folder that messages name them from, and where they are published."""
        # While it serves, MkDocs gives the preview's address, which must not get onto paper.
        site_url = "" if self._serving else config.site_url or ""
        address = Address(site_url, "/" if config.use_directory_urls else ".html")
        base = Path(config.config_file_path).parent if config.config_file_path else Path.cwd()
        return project_files(Path(self.config.projects)), base, address

    def on_serve(self, server: LiveReloadServer, /, *, config: MkDocsConfig, builder: object) -> None:  # noqa: ARG002
        """Typeset a paper when it is asked for; everything else is answered as it was.

        Args:
            server: The preview.
            config: The site's settings.
            builder: How MkDocs builds; not asked for.
        """
        answer = server.get_app()

        def app(environ: WSGIEnvironment, start: StartResponse) -> Iterable[bytes]:
            found = _PAPER.search(environ.get("PATH_INFO", ""))
            made = self._typeset(found[1], found[2], config) if found and self.config.papers else None
            if made is None or answer is None:
                return answer(environ, start) if answer is not None else ()
            status, kind, content = made
            start(status, [("Content-Type", kind), ("Content-Length", str(len(content)))])
            return [content]

        server.set_app(app)

    def _typeset(self, project: str, name: str, config: MkDocsConfig) -> tuple[str, str, bytes] | None:
        """Status, kind and content of the answer; None if there is no such paper."""
        try:
            paths, base, address = self._archive(config)
            for path in paths:
                if path.stem == project:
                    with self._busy, speaking(self._language):
                        made = typeset(path, name, base=base, cache=self._cache, address=address)
                    return None if made is None else ("200 OK", "application/pdf", made)
        except ProjectError as error:
            return "422 Unprocessable Content", _TEXT, str(error).encode()
        except Exception as error:
            log.debug("what went wrong", exc_info=True)
            return "500 Internal Server Error", _TEXT, f"{name}: {_fault(error)}".encode()
        return None

    def _file(self, config: MkDocsConfig, output: Output, inclusion: InclusionLevel) -> File:
        """A page or file as MkDocs takes it."""
        if isinstance(output.content, bytes):
            return File.generated(config, output.path, content=output.content, inclusion=inclusion)
        if self._serving and self._stood.get(output.path, output.content) != output.content:
            # `--dirty` lays out again what is newer than the site, and what is kept may be of any age.
            output.content.touch()
        self._stood[output.path] = output.content
        return File.generated(config, output.path, abs_src_path=str(output.content), inclusion=inclusion)


def _offered() -> str:
    """The home page's way to the copy of the site. As HTML, for MkDocs knows no such file when it looks for links."""
    words = tr("It opens from a disk or a memory stick, without a network.")
    offer = tr("Take the whole site with you, as one large file")
    return f'<p class="hb-copy"><a href="{_COPY}" download>{offer}</a>. {words}</p>'


def _put_copy(site: Path) -> None:
    """Put the whole site into one file on it, whose own home page offers none.

    Raises:
        PluginError: If the site cannot be read from a disk.
    """
    home = site / "index.html"
    page = home.read_text(encoding="utf-8") if home.is_file() else ""
    if page:
        home.write_text(_OFFER.sub("", page), encoding="utf-8")
    try:
        content, count = stick(site, called=Path(_COPY).stem)
    except ProjectError as error:
        raise PluginError(str(error)) from None
    if page:
        home.write_text(page, encoding="utf-8")
    (site / _COPY).write_bytes(content)
    log.info(f"{_COPY} holds the site's {count:,} files ({len(content) / 1e6:,.1f} MB)")


def _documents(config: MkDocsConfig) -> Iterator[Path]:
    """The files of the documents that get onto the site."""
    docs = Path(config.docs_dir)
    left_out = config.exclude_docs
    for path in sorted(docs.rglob("*")):
        below = path.relative_to(docs)
        hidden = any(part.startswith(".") for part in below.parts)
        if path.is_file() and not hidden and not (left_out and left_out.match_file(below.as_posix())):
            yield path


def _wrong(found: Survey) -> Iterator[str]:
    """What keeps projects from being published: problems, and findings for which they cannot be made as written."""
    yield from map(str, found.problems)
    yield from (stop for project in found.sound.values() for stop in project.stops)


def _fault(error: Exception) -> str:
    """What is said of a fault that no author can mend."""
    return f"{type(error).__name__}: {error} (a fault of the tool; --verbose tells more)"


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
