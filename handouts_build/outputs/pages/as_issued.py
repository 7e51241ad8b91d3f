"""A project's pages as they were issued: frozen as plain HTML, and set into whatever pages come later.

This module owns their form. A frozen page is HTML that no engine has to work on: it holds no script and nothing that
acts, its links lead to its own pages and files alone, and its classes are not those of the living pages, so that no
later style sheet or script takes it for one of these. Its looks are frozen beside it. Of the living site it asks for
three settings alone: how large its letters are, and whether the ground is light or dark.
"""

from __future__ import annotations

import posixpath
import re
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from functools import partial
from html import unescape
from html.parser import HTMLParser
from typing import Any

from markupsafe import Markup

from handouts_build.outputs.output import AT, Address, Card, Output, Showing
from handouts_build.outputs.pages.facets import times_of
from handouts_build.outputs.pages.filling import filled, page
from handouts_build.outputs.pages.likeness import PLACE
from handouts_build.outputs.pages.page_place import FIRST, PagePlace
from handouts_build.outputs.pages.redirects import Led
from handouts_build.outputs.words import day
from handouts_build.sheet import Erratum, TextRun

__all__ = [
    "LOOKS",
    "Issue",
    "fault_of_html",
    "fault_of_looks",
    "frozen_looks",
    "frozen_page",
    "issued_card",
    "issued_led",
    "issued_pages",
]

LOOKS = "as-issued.css"
"""What the frozen pages look like; it lies among the project's files."""

_PAGE, _FILE = "issued-page:", "issued-file:"
"""How a frozen page names a page and a file of its own project: where they stand, the living site says."""

_TAG = re.compile(r"<[a-zA-Z][^<>]*>")
_WAY = re.compile(r'(?<![\w-])(href|src|srcset)="([^"]*)"')
_CLASS = re.compile(r'(?<![\w-])class="([^"]*)"')
_DATA = re.compile(r' data-(?!hb-aside)[\w-]+(?:="[^"]*")?')
_ACTS = re.compile(
    r"<(script|form|button|noscript)\b.*?</\1\s*>|<p class=\"hb-done\".*?</p>|<!--.*?-->", re.DOTALL | re.IGNORECASE
)
"""What does something, or would with a script: none of it is frozen."""
_HEAD = re.compile(r"\A---\n.*?\n---\n", re.DOTALL)
_NAME = re.compile(r"(?<![\w-])hb(?=-|$)")
_TITLE = re.compile(r"<h1\b[^>]*>(.*?)</h1>", re.DOTALL)

_OF_THE_SITE = ("light", "dark", "size")
"""Properties that the living site sets; all others are frozen."""
_PROPERTY = re.compile(rf"--hb-(?!(?:{'|'.join(_OF_THE_SITE)})\b)")
_SELECTOR = re.compile(r"\.hb(?=[-\s,.:{>)\[+~])")
_SCRIPTED = re.compile(r"@media screen and \(scripting: enabled\)")
"""Looks of a page that a script works on, which none does here."""
_FACE = re.compile(r"@font-face\s*\{[^}]*\}\s*")

_TAGS = re.compile(
    "a|abbr|article|aside|b|blockquote|br|caption|circle|clippath|code|col|colgroup|dd|defs|desc|details|div|dl|dt|"
    "ellipse|em|figcaption|figure|footer|g|h[1-6]|header|hr|i|img|li|line|lineargradient|main|marker|mask|nav|ol|p|"
    "path|pattern|polygon|polyline|pre|radialgradient|rect|s|section|small|span|stop|strong|sub|summary|sup|svg|"
    "symbol|table|tbody|td|text|tfoot|th|thead|title|tr|tspan|u|ul|use|var|wbr"
)
"""What a frozen page is made of: nothing that runs, loads, asks or frames."""
_OF_A_DOCUMENT = frozenset(["body", "head", "html", "meta", "style"])
_META = frozenset({"charset", "name", "content", "http-equiv"})
_REACHES_OUT = re.compile(
    r"url\(\s*['\"]?(?!#)|@import|expression\(|-moz-binding|(?<![\w-])behavior\s*:", re.IGNORECASE
)
_SAFE_WAY = re.compile(rf"(?:{_PAGE}|{_FILE})[\w./#:-]*|#.*|https?://.*", re.DOTALL)


@dataclass(frozen=True)
class Issue:
    """A project as it was issued."""

    entries: Mapping[str, Any]
    """What lists and searches say of it, as plain values."""
    pages: Mapping[str, str]
    """Its frozen pages, by their names in `page_place`."""
    looks: str
    """Their style sheet."""
    files: Mapping[str, bytes] = field(default_factory=dict)
    """Its papers, data and pictures, by their paths in the project's folder on the site."""


def frozen_page(
    text: str, *, name: str, place: str, pages: Collection[str], files: Collection[str], ending: str
) -> str:
    """A page of a project as HTML that stays as it is.

    Args:
        text: The page's Markdown.
        name: Of the project.
        place: Which of its pages.
        pages: All its pages, by name.
        files: All its files, by their paths in its folder on the site.
        ending: How the address of a page ends: `/` or `.html`.
    """
    # A library that only freezing asks for.
    from markdown import Markdown
    from markdown.treeprocessors import Treeprocessor

    source = f"projects/{name}{f'/{place}' if place else ''}"
    lead = partial(_lead, home=f"projects/{name}", pages=pages, files=files)

    class Ways(Treeprocessor):  # type: ignore[misc]
        """Links in Markdown go by the place of their source, those in HTML by the address of the page."""

        def run(self, root: Any) -> None:
            for element in root.iter():
                for key in ("href", "src"):
                    if key in element.attrib:
                        way = lead(element.attrib[key], base=posixpath.dirname(source))
                        if way:
                            element.set(key, way)
                        else:
                            del element.attrib[key]

    convert = Markdown(extensions=["md_in_html", "toc", "tables"])
    convert.treeprocessors.register(Ways(convert), "ways", 0)
    base = source if ending == "/" else posixpath.dirname(source)
    html = _ACTS.sub("", convert.convert(_HEAD.sub("", text)))
    html = _TAG.sub(lambda tag: _frozen_tag(tag[0], partial(lead, base=base)), html)
    # An empty line would end a block of HTML in other dialects of Markdown, and an indented one be code.
    return re.sub(r"\s*\n\s*", "\n", html).strip() + "\n"


def _lead(way: str, *, base: str, home: str, pages: Collection[str], files: Collection[str]) -> str:
    """Where a link leads, without saying where that stands; empty where it leads out of the project."""
    if way.startswith(("#", "http://", "https://", _PAGE, _FILE)):
        return way
    path, sign, fragment = way.partition("#")
    below = posixpath.normpath(posixpath.join(base, unescape(path))).removesuffix(".md").removesuffix(".html")
    if below == home:
        return f"{_PAGE}{sign}{fragment}"
    inside = below.removeprefix(f"{home}/")
    if inside != below and inside in pages:
        return f"{_PAGE}{inside}{sign}{fragment}"
    inside = posixpath.normpath(posixpath.join(base, unescape(path))).removeprefix(f"{home}/")
    return f"{_FILE}{inside}{sign}{fragment}" if inside in files else ""


def _frozen_tag(tag: str, lead: Any) -> str:
    """One tag of a page with ways that hold anywhere, classes that are its own, and nothing for scripts."""

    def way(found: re.Match[str]) -> str:
        parts = [part.split() for part in found[2].split(",")] if found[1] == "srcset" else [[found[2]]]
        led = [" ".join((lead(way), *rest)) for way, *rest in parts]
        return f'{found[1]}="{", ".join(led)}"' if all(word and not word.startswith(" ") for word in led) else ""

    def classes(found: re.Match[str]) -> str:
        return f'class="{" ".join(_NAME.sub("hbi", word) for word in found[1].split())}"'

    return _PROPERTY.sub("--hbi-", _DATA.sub("", _CLASS.sub(classes, _WAY.sub(way, tag))))


def frozen_looks(sheets: Collection[str]) -> str:
    """Style sheets of the living pages as those of frozen ones; the lettering is the site's, or the reader's.

    Args:
        sheets: Their texts.
    """
    return "".join(
        _PROPERTY.sub("--hbi-", _SELECTOR.sub(".hbi", _SCRIPTED.sub("@media not all", _FACE.sub("", sheet))))
        for sheet in sheets
    )


def fault_of_looks(looks: str) -> str:
    """What a frozen style sheet must not hold, as a sentence goes on; empty if there is nothing."""
    return "it loads something from elsewhere" if _REACHES_OUT.search(looks) or "<" in looks else ""


class _FrozenReader(HTMLParser):
    """Reads HTML and notes the first thing that could act, load or lead astray."""

    def __init__(self, *, document: bool) -> None:
        super().__init__(convert_charrefs=True)
        self.fault = ""
        self._document = document
        self._style = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Judge one tag."""
        if not _TAGS.fullmatch(tag) and not (self._document and tag in _OF_A_DOCUMENT):
            self._note(f"there is a <{tag[:20]}> in it")
        self._style = tag == "style"
        for name, value in attrs:
            said = value or ""
            if name.startswith("on") or name in ("srcdoc", "formaction", "ping", "background"):
                self._note(f"there is '{name[:20]}' in it, which acts")
            elif name in ("href", "xlink:href", "src") and not self._may_lead(said):
                self._note("a link of it leads where none of its own does")
            elif name == "srcset" and not all(
                self._may_lead(part.split()[0]) for part in said.split(",") if part.split()
            ):
                self._note("a picture of it lies where none of its own does")
            elif name == "style" and _REACHES_OUT.search(said):
                self._note("a style of it loads something from elsewhere")
            elif tag == "meta" and (name not in _META or (name == "http-equiv" and said.lower() == "refresh")):
                self._note("there is a <meta> in it that acts")

    def handle_data(self, data: str) -> None:
        """Judge a style sheet that is written out."""
        if self._style and _REACHES_OUT.search(data):
            self._note("a style of it loads something from elsewhere")

    def handle_endtag(self, tag: str) -> None:
        """A style sheet ends."""
        if tag == "style":
            self._style = False

    def _may_lead(self, way: str) -> bool:
        # A whole page of its own names its pictures as data.
        return bool(_SAFE_WAY.fullmatch(way)) or (self._document and way.startswith("data:image/"))

    def _note(self, fault: str) -> None:
        self.fault = self.fault or fault


def fault_of_html(html: str, *, document: bool = False) -> str:
    """What a frozen page must not hold, as a sentence goes on; empty if there is nothing.

    Args:
        html: The page.
        document: Whether it is a page by itself and not a part of one.
    """
    reader = _FrozenReader(document=document)
    reader.feed(html)
    reader.close()
    return reader.fault


def issued_pages(issue: Issue, *, name: str, address: Address) -> Iterator[Output]:
    """The pages and files of a project as it was issued.

    Args:
        issue: The project.
        name: What it is called in the archive.
        address: Where the archive is published.
    """
    entries, home = issue.entries, f"projects/{name}"
    for where, html in issue.pages.items():
        place = PagePlace(name, where, folders=address.ending == "/")

        def led(found: re.Match[str], place: PagePlace = place) -> str:
            return f'{found[1]}="{_placed(found[2], place)}"'

        words = _TAG.sub(lambda tag, led=led: _WAY.sub(led, tag[0]), html)  # type: ignore[misc]
        title = _TITLE.search(html)
        text = filled(
            "issued.md.j2", title=unescape(re.sub("<.*?>", "", title[1])).strip() if title else entries["title"],
            summary=entries["summary"], image=f"{home}/{entries['image']}" if entries["image"] else "",
            first=where == FIRST, day=day(date.fromisoformat(entries["issued"])), version=entries["version"],
            looks=f"{place.files}{LOOKS}", words=Markup(words), LIKE=Markup(PLACE),
            times=times_of(entries["facets"]) if where == FIRST else "",
        )  # fmt: skip
        yield page(place.path, text)
    yield Output(f"{home}/{LOOKS}", issue.looks.encode())
    for path, content in issue.files.items():
        yield Output(f"{home}/{path}", content)


def _placed(ways: str, place: PagePlace) -> str:
    """What a frozen page names, as an address on the living site."""

    def one_way(way: str) -> str:
        if way.startswith(_FILE):
            return f"{place.files}{way.removeprefix(_FILE)}"
        if way.startswith(_PAGE):
            where, sign, fragment = way.removeprefix(_PAGE).partition("#")
            return place.to(where, fragment) or f"{sign}{fragment}" or "#"
        return way

    return ", ".join(
        " ".join((one_way(way), *rest)) for way, *rest in (part.split() or [""] for part in ways.split(","))
    )


def issued_card(issue: Issue, *, name: str, folder: str) -> Card:
    """What the shared pages say of a project as it was issued.

    Args:
        issue: The project.
        name: What it is called in the archive.
        folder: The folder of the archive that its file lies in; empty for the archive's own.
    """
    entries = issue.entries
    said = {
        "told": entries,
        "day": day(date.fromisoformat(entries["issued"])),
        "AT": AT,
        "drawing": Markup(entries["drawing"]),
        "finer": _finer(issue),
    }
    words, few = (filled("issued-card.md.j2", **said, few=few).strip() for few in (False, True))
    return Card(
        name, entries["title"], folder, entries["by"], entries["club"], words, few,
        {facet: tuple(values) for facet, values in entries["facets"].items()},
        tuple(_showing(showing, entries["title"], name) for showing in entries["showings"]),
        entries["summary"], entries["date"], tuple((when, wrong) for when, wrong, _ in entries["errata"]),
        (*entries["formerly"][-1:], name)[0],
    )  # fmt: skip


def _finer(issue: Issue) -> dict[str, str]:
    """To each small picture of the card the large one for a fine screen, where it was kept."""
    picture = issue.entries["picture"] or {}
    large = {picture[ground]: picture[ground].replace("-card.", ".") for ground in ("light", "dark") if picture}
    kept = {posixpath.basename(file) for file in issue.files}
    return {small: file for small, file in large.items() if file != small and posixpath.basename(file) in kept}


def issued_led(issue: Issue, name: str) -> Led:
    """What the pages that lead to it say of a project as it was issued.

    Args:
        issue: The project.
        name: What it is called in the archive.
    """
    entries = issue.entries
    errata = tuple(
        Erratum(date.fromisoformat(when), (TextRun(wrong),), tuple(map(date.fromisoformat, printed)))
        for when, wrong, printed in entries["errata"]
    )
    return Led(name, entries["title"], tuple(entries["formerly"]), entries["versions"], errata)


def _showing(showing: Mapping[str, str], title: str, name: str) -> Showing:
    """One evening of it as lists tell of it; all of them are over."""
    words = filled("showing.md.j2", showing=showing, sheet={"title": title, "name": name})
    starts = datetime.fromisoformat(showing["starts"])
    return Showing(
        showing["state"], starts.timestamp(), words, showing["name"], title, showing["starts"], showing["ends"],
        showing["zone"], showing["club"], showing["place"], showing["how"], showing["cancelled"],
    )  # fmt: skip
