"""A paper as a booklet: two pages side by side on a sheet twice as wide, in the order it is printed and folded in.

This module owns the order. A booklet is for the printer: what a screen reader reads is
the paper it is made of.
"""

from __future__ import annotations

import io
from collections.abc import Iterator

from handouts_build.language import tr
from handouts_build.outputs.papers.template_words import paper_language

__all__ = ["booklet", "imposed"]

_LEAVES = 4
"""Pages on both sides of a folded sheet."""


def imposed(pages: int) -> Iterator[tuple[int | None, int | None]]:
    """The pages on each side of each sheet, left and right, counted from 0; None where there is none.

    Sheets are printed on both sides, turned over their short edge, put one on another and folded once. The first
    side holds the last page and the first.

    Args:
        pages: How many there are.
    """
    count = -(-pages // _LEAVES) * _LEAVES
    for side in range(count // 2):
        outer, inner = count - 1 - side, side
        left, right = (outer, inner) if side % 2 == 0 else (inner, outer)
        yield tuple(page if page < pages else None for page in (left, right))  # type: ignore[misc]


def booklet(pdf: bytes) -> bytes:
    """The booklet of a paper.

    Args:
        pdf: The paper, all its pages of one size.

    Returns:
        A PDF; the same bytes for the same paper.
    """
    # Loaded only when a booklet is asked for.
    import pikepdf

    made = pikepdf.new()
    with pikepdf.open(io.BytesIO(pdf)) as paper:
        _, _, width, height = (float(side) for side in paper.pages[0].mediabox)
        shown = [made.copy_foreign(page.as_form_xobject()) for page in paper.pages]
        for pair in imposed(len(shown)):
            made.add_blank_page(page_size=(2 * width, height))
            placed = [
                (f"/Page{number}", number, place * width) for place, number in enumerate(pair) if number is not None
            ]
            side = made.pages[-1]
            side.Resources = pikepdf.Dictionary(
                XObject=pikepdf.Dictionary({name: shown[number] for name, number, _ in placed})
            )
            drawn = " ".join(f"q 1 0 0 1 {across:.4f} 0 cm {name} Do Q" for name, _, across in placed)
            side.Contents = made.make_stream(drawn.encode())
        made.Root.Lang = pikepdf.String(paper_language())
        title = str(paper.docinfo.get("/Title", ""))
    made.Root.ViewerPreferences = pikepdf.Dictionary(DisplayDocTitle=True, Duplex=pikepdf.Name.DuplexFlipShortEdge)
    made.docinfo["/Title"] = tr("{title} (booklet)", title=title)
    out = io.BytesIO()
    made.save(out, deterministic_id=True)
    return out.getvalue()
