"""What Material for MkDocs asks for: its looks, its search, its front matter, its page for what is not there.

This module owns every name of that theme's. The library's pages know no theme; here they are told to it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from fnmatch import fnmatchcase
from pathlib import Path
from typing import TYPE_CHECKING, Any, cast

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import File
from mkdocs.structure.pages import Page

from handouts_build.language import tr
from handouts_build.outputs.pages.assets import LOGO
from handouts_build.outputs.pages.page_place import SHOWN, SIZES_PAGE, WORKINGS
from handouts_build.outputs.scripts import published_script, published_style

if TYPE_CHECKING:
    from mkdocs.utils.templates import TemplateContext

__all__ = ["STYLE", "described", "files", "is_material", "is_ours", "root_context", "searched", "set_up"]

_HERE = Path(__file__).parent
_THEME = _HERE / "theme"
"""Templates of ours that stand before the theme's; the site's own stand before both."""

_HOME = "assets/handouts/material"

STYLE = f"{_HOME}/material.css"
"""The theme in the look of the handouts. It goes before the library's own style sheets."""

_SCRIPT = f"{_HOME}/material.js"
"""Names for controls that the theme leaves unnamed."""

_POLYFILL = f"{_HOME}/iframe-worker.js"
"""Lets search run from a disk. The file's name is what the theme's offline plugin looks for."""

_LATE_SEARCH = f"{_HOME}/late-search.js"
"""Lets search wait until it is opened."""

_SEARCH = f"{_HOME}/search.js"
"""Answers the theme's search, in its worker."""

_NOT_FOUND = "404.html"
_WAY_HOME = "data-hb-home"
"""What only our page for what is not there has."""

_ASIDE = re.compile(r' data-hb-aside(?:="[^"]*")?(?=[^<>]*>)')
"""The library's mark of what stands beside the running text; text itself has no bare angle bracket."""

_SECTION = re.compile(r'<(h[1-6])(?=[^<>]*><span[^<>]* data-hb-aside="section")')
"""A heading whose whole section stands beside the running text."""

_META: Sequence[tuple[str, Mapping[str, Any]]] = (
    ("index.md", {"hide": ["navigation", "toc"], "search": {"exclude": True}}),
    ("demonstrations.md", {"hide": ["navigation"]}),
    ("calls.md", {"hide": ["navigation"], "search": {"boost": 0.5}}),
    ("calls/*", {"hide": ["navigation"]}),
    # They list what the pieces' own pages say.
    ("clubs/*", {"hide": ["navigation", "toc"]}),
    ("friends.md", {"hide": ["navigation"], "search": {"exclude": True}}),
    ("find.md", {"hide": ["navigation", "toc"], "search": {"exclude": True}}),
    ("find/*", {"hide": ["navigation", "toc"], "search": {"exclude": True}}),
    # What is asked afterwards: a search for a groove leads to the groove, not to how its width was found.
    (f"projects/*/{WORKINGS}.md", {"hide": ["navigation"], "search": {"exclude": True}}),
    (f"projects/*/{SIZES_PAGE}.md", {"hide": ["navigation"], "search": {"boost": 0.2}}),
    (f"projects/*/{SHOWN}.md", {"hide": ["navigation"], "search": {"boost": 0.2}}),
    ("projects/*", {"hide": ["navigation"]}),
    # What only an author asks: a reader's search does not lead there.
    ("reference/*", {"search": {"exclude": True}}),
)
"""Front matter by a pattern of a page's path; the first that fits."""


def is_material(config: MkDocsConfig) -> bool:
    """Whether the site is laid out by Material."""
    return config.theme.name == "material"


def is_ours(page: str) -> bool:
    """Whether a page without a document is our own for what is not there, and not one of the site's.

    Args:
        page: The page, whole.
    """
    return _WAY_HOME in page


def set_up(config: MkDocsConfig) -> str:
    """Name the theme's files and settings.

    Returns:
        What the site's author should be told; empty for nothing.
    """
    config.extra_javascript.append(_SCRIPT)
    config.extra.setdefault("polyfills", []).extend([_POLYFILL, _LATE_SEARCH])
    config.theme.dirs.insert(1 if config.theme.custom_dir else 0, str(_THEME))
    config.theme["logo"] = config.theme.get("logo") or LOGO
    if config.theme.get("favicon") == "assets/images/favicon.png":
        config.theme["favicon"] = LOGO
    if config.theme.get("font") is not False:
        return "the theme fetches its fonts from another host: set 'font: false' under 'theme' in mkdocs.yml"
    return ""


def files(config: MkDocsConfig) -> Iterator[File]:
    """The style sheet and the scripts that `set_up` names."""
    for path in (STYLE, _SCRIPT, _POLYFILL, _LATE_SEARCH, _SEARCH):
        # Plain line ends, whatever a checkout made of them.
        text = (_HERE / "assets" / path.rpartition("/")[2]).read_text(encoding="utf-8")
        bare = published_script if path.endswith(".js") else published_style
        yield File.generated(config, path, content=bare(text))


def described(page: Page) -> None:
    """Give a page of ours the front matter that the theme reads."""
    path = page.file.src_uri
    found = next((meta for pattern, meta in _META if fnmatchcase(path, pattern)), {})
    page.meta = {**found, **page.meta}


def searched(html: str) -> str:
    """A page's HTML with what stands beside its running text kept out of the theme's search."""
    return _ASIDE.sub(" data-search-exclude", _SECTION.sub(r"<\1 data-search-exclude", html))


def root_context(context: TemplateContext, template_name: str) -> TemplateContext | None:
    """What the page for what is not there names everything by: from the root, which it finds for itself.

    Args:
        context: What MkDocs fills templates with.
        template_name: The template.

    Returns:
        The names for that page's template; None for another.
    """
    if template_name != _NOT_FOUND:
        return None
    root = context["base_url"].rstrip("/") + "/"
    # Our template's own names beside MkDocs's; a site's own template may go by them too.
    return cast("TemplateContext", {**context, "base_url": ".", "root": root, "mark": LOGO, "tr": tr})
