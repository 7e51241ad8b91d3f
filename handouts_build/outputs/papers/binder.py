"""A binder: many handouts in one PDF, with contents, an index of techniques and woods, and pages numbered through.

This module owns what stands in front and how the papers are put behind it. The handouts in it are
those that are handed out one by one; what a screen reader reads is those.
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from handouts_build.language import in_a_row, tr_count
from handouts_build.outputs.papers.template_words import paper_language
from handouts_build.outputs.papers.typeset import compiled
from handouts_build.paper import SIZES

__all__ = ["BoundHandout", "binder"]

_FROM_FOOT = 24.0
"""Points from the lower edge of the paper to the foot of the page's number."""
_LETTERS = 9


@dataclass(frozen=True)
class BoundHandout:
    """One handout in a binder."""

    title: str
    by: str
    """Who made the piece; empty where nobody is named."""
    techniques: tuple[str, ...]
    woods: tuple[str, ...]
    pdf: bytes


def binder(bound: Sequence[BoundHandout], *, paper: str, title: str) -> bytes:
    """One PDF of many handouts.

    Args:
        bound: The handouts, in order.
        paper: One of `paper.SIZES`, which they are all set on.
        title: Of the binder.

    Returns:
        A PDF; the same bytes for the same handouts.

    Raises:
        ProjectError: If the first pages cannot be set.
    """
    # Loaded only when a binder is asked for.
    import pikepdf

    opened = [pikepdf.open(io.BytesIO(each.pdf)) for each in bound]
    counts = [len(document.pages) for document in opened]
    front = _front(bound, counts, 1, paper, title)
    # The contents say on which page each begins, and take pages themselves: the second time they are right.
    for _ in range(3):
        taken = _pages(front)
        again = _front(bound, counts, taken, paper, title)
        if _pages(again) == taken:
            front = again
            break
        front = again
    made = pikepdf.open(io.BytesIO(front))
    starts = []
    for document in opened:
        starts.append(len(made.pages))
        made.pages.extend(document.pages)
    # The tags of the first pages alone would call the rest empty.
    for name in ("/StructTreeRoot", "/MarkInfo"):
        if name in made.Root:
            del made.Root[name]
    font = made.make_indirect(
        pikepdf.Dictionary(Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name.Helvetica)
    )
    for number, page in enumerate(made.pages, start=1):
        _numbered(made, page, str(number), font)
    with made.open_outline() as outline:
        outline.root.clear()
        for each, start in zip(bound, starts, strict=True):
            outline.root.append(pikepdf.OutlineItem(each.title, start))
    made.Root.Lang = pikepdf.String(paper_language())
    made.Root.ViewerPreferences = pikepdf.Dictionary(DisplayDocTitle=True)
    out = io.BytesIO()
    made.save(out, deterministic_id=True)
    return out.getvalue()


def _pages(pdf: bytes) -> int:
    import pikepdf

    with pikepdf.open(io.BytesIO(pdf)) as document:
        return len(document.pages)


def _numbered(made: Any, page: Any, number: str, font: Any) -> None:
    """A page with its number through the whole binder, in the middle below."""
    import pikepdf

    _, _, width, _ = (float(side) for side in page.mediabox)
    # A digit of this face is 0.556 of its size wide (Adobe's metrics of Helvetica).
    across = (width - 0.556 * _LETTERS * len(number)) / 2
    drawn = f"q BT /HandoutsNumber {_LETTERS} Tf {across:.2f} {_FROM_FOOT:.2f} Td ({number}) Tj ET Q"
    page.add_resource(font, pikepdf.Name.Font, pikepdf.Name("/HandoutsNumber"), replace_existing=True)
    page.contents_add(made.make_stream(b"q"), prepend=True)
    page.contents_add(made.make_stream(f"Q {drawn}".encode()))


def _front(bound: Sequence[BoundHandout], counts: Sequence[int], taken: int, paper: str, title: str) -> bytes:
    """The first pages, where they take so many pages themselves."""
    starts = [taken + sum(counts[:place]) + 1 for place in range(len(counts))]
    data = {
        "title": title,
        "says": tr_count(
            "{count} handout, {pages} pages.", "{count} handouts, {pages} pages.", len(bound), pages=taken + sum(counts)
        ),
        "author": list(dict.fromkeys(each.by for each in bound if each.by)),
        "keywords": [],
        "summary_text": title,
        "club": "",
        "paper": SIZES[paper].typst,
        "rows": [
            {"title": each.title, "by": each.by, "page": start} for each, start in zip(bound, starts, strict=True)
        ],
        "techniques": _index((each.techniques, start) for each, start in zip(bound, starts, strict=True)),
        "woods": _index((each.woods, start) for each, start in zip(bound, starts, strict=True)),
    }
    return compiled("papers/templates/binder", data, {}, file="binder")


def _index(named: Iterable[tuple[Iterable[str], int]]) -> list[Mapping[str, str]]:
    """Each word once, with the pages that the handouts of it begin on."""
    pages: dict[str, list[int]] = {}
    for words, start in named:
        for word in words:
            pages.setdefault(word, []).append(start)
    return [
        {"says": word, "pages": in_a_row(map(str, starts))}
        for word, starts in sorted(pages.items(), key=lambda row: row[0].casefold())
    ]
