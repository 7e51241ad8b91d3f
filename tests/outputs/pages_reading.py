"""Reading a page as a browser would: from Markdown to elements, with ids, attributes and text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from html.parser import HTMLParser

import markdown

from handouts_build.outputs.output import Output
from handouts_build.outputs.page_content import PageContent
from handouts_build.outputs.pages.render import card, project_pages, shared_pages

VOID = {"img", "br", "hr", "input", "link", "meta", "col", "source", "wbr"}


@dataclass
class Element:
    """An element with what is in it."""

    tag: str
    attrs: dict[str, str]
    inside: list[Element | str] = field(default_factory=list)

    def all(self, tag: str = "", *, cls: str = "") -> list[Element]:
        """Elements below this one, by tag and class."""
        return [
            one
            for one in self.walk()
            if (not tag or one.tag == tag) and (not cls or cls in one.attrs.get("class", "").split())
        ]

    def walk(self) -> Iterator[Element]:
        """Every element below this one."""
        for one in self.inside:
            if isinstance(one, Element):
                yield one
                yield from one.walk()

    @property
    def text(self) -> str:
        """All text, spaces as on the screen."""
        return " ".join(self._raw().split())

    def _raw(self) -> str:
        return "".join(one if isinstance(one, str) else one._raw() for one in self.inside)


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.root = Element("root", {})
        self.open = [self.root]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        made = Element(tag, {name: value or "" for name, value in attrs})
        self.open[-1].inside.append(made)
        if tag not in VOID:
            self.open.append(made)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.open[-1].inside.append(Element(tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        assert self.open[-1].tag == tag, f"</{tag}> closes <{self.open[-1].tag}>"
        self.open.pop()

    def handle_data(self, data: str) -> None:
        self.open[-1].inside.append(data)


def read(html: str) -> Element:
    """HTML as elements; every element must be closed by its own end."""
    reader = _Reader()
    reader.feed(html)
    reader.close()
    assert reader.open == [reader.root], f"left open: {[one.tag for one in reader.open[1:]]}"
    return reader.root


def rendered(source: str) -> Element:
    """A Markdown page as elements, with the extensions that the theme and the plugin switch on."""
    body = source.split("---\n", 2)[2] if source.startswith("---\n") else source
    return read(markdown.markdown(body, extensions=["toc", "tables", "fenced_code", "attr_list", "md_in_html"]))


def pages(entries: Sequence[PageContent]) -> list[Output]:
    """Every page and file of an archive."""
    return [
        *shared_pages([card(entry) for entry in entries]),
        *(one for entry in entries for one in project_pages(entry)),
    ]


def page(entry: PageContent, name: str = "") -> str:
    """The Markdown of a project's page, or of the page of that path."""
    wanted = name or f"projects/{entry.sheet.name}.md"
    return {one.path: one.read() for one in pages([entry])}[wanted].decode()
