"""Where the pages of a project stand, and how one leads to another.

This module owns their names and the ways between them: as Markdown, which a site engine
follows, and as addresses in HTML, which no engine touches. The piece's own page is above
the others; all the files of a project lie in its own folder.
"""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["FIRST", "LATHE", "SHOWN", "SIZES_PAGE", "WORKINGS", "PagePlace"]

FIRST = ""
"""The piece's own page: what it is, what it needs, whether one could make it."""

LATHE = "at-the-lathe"
"""One step at a time."""

SIZES_PAGE = "sizes"
"""All dimensions, one's own sizes, and those that are worked out beforehand."""

WORKINGS = "workings"
"""How every value was found, and where from."""

SHOWN = "shown"
"""Where the piece was shown, and what was handed out."""


@dataclass(frozen=True)
class PagePlace:
    """Where one page of a project stands."""

    project: str
    """The project's name."""
    page: str
    """Which of its pages."""
    folders: bool
    """Whether the address of a page ends in a stroke, as that of a folder, and not in `.html`."""

    @property
    def path(self) -> str:
        """The page's path below the site's source."""
        return f"projects/{self.project}{f'/{self.page}' if self.page else ''}.md"

    @property
    def files(self) -> str:
        """The way from the page's address to the project's own folder; empty where it stands in it."""
        if self.page == FIRST:
            return "" if self.folders else f"{self.project}/"
        return "../" if self.folders else ""

    @property
    def source(self) -> str:
        """The way from the page's Markdown to the project's own folder."""
        return f"{self.project}/" if self.page == FIRST else ""

    def to(self, page: str, fragment: str = "") -> str:
        """The address of a page of the same project, from this one.

        Args:
            page: Which page.
            fragment: A place on it, without the sign before it.
        """
        if page == self.page:
            way = ""
        elif self.folders:
            way = f"{self.files}{page}/" if page else self.files
        else:
            way = f"{self.files}{page}.html" if page else f"../{self.project}.html"
        return f"{way}#{fragment}" if fragment else way

    def link(self, page: str, fragment: str = "") -> str:
        """The same as a link in Markdown has it."""
        way = f"{self.source}{page}.md" if page else f"../{self.project}.md"
        return f"{way}#{fragment}" if fragment else way
