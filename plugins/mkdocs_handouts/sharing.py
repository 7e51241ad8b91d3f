"""What a page says of itself where somebody shares its address: Open Graph, and where the feed is.

This module owns what stands in the head of a page beside what the theme puts there.
"""

from __future__ import annotations

from html import escape, unescape
from posixpath import relpath
from urllib.parse import urljoin

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.pages import Page

from handouts_build.language import tr
from handouts_build.outputs.pages.feeds import FEED

__all__ = ["shared"]


def shared(html: str, page: Page, config: MkDocsConfig) -> str:
    """A page with what is said of it where it is shared.

    Args:
        html: The page, whole.
        page: What MkDocs knows of it.
        config: The site's settings; it has an address.
    """
    properties = {
        "og:type": "article" if page.file.generated_by == "handouts" else "website",
        "og:site_name": config.site_name,
        # What we write into a page's front matter is HTML already.
        "og:title": unescape(str(page.title or config.site_name)),
        "og:description": unescape(str(page.meta.get("description") or config.site_description or "")),
        "og:url": page.canonical_url or "",
    }
    if picture := page.meta.get("image"):
        properties["og:image"] = urljoin(str(config.site_url).rstrip("/") + "/", str(picture))
        properties["twitter:card"] = "summary_large_image"
    lines = [f'<meta property="{name}" content="{escape(value)}">' for name, value in properties.items() if value]
    # Not `alternate` alone: the theme takes that for another language of the page, and asks for the whole sitemap.
    feed = relpath(FEED, page.url.rpartition("/")[0] or ".")
    lines.append(
        '<link rel="alternate feed" type="application/atom+xml" '
        f'title="{escape(tr("Pieces and evenings"))}" href="{escape(feed)}">'
    )
    return html.replace("</head>", "".join(lines) + "</head>", 1)
