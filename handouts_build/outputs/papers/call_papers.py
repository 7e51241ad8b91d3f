"""The papers of a call for pieces: labels for the table, and a sheet for judging.

This module owns what stands on both. Pieces have the same number on either, in the order of their files' names,
so that who judges need not know who made what: the sheet names no maker.
"""

from __future__ import annotations

from typing import Any

from handouts_build.language import in_a_row, phrases_in_a_row, tr, tr_later
from handouts_build.outputs.papers.runs import pieces, plain
from handouts_build.outputs.papers.typeset import compiled
from handouts_build.outputs.words import day
from handouts_build.paper import CALL, SIZES
from handouts_build.sheet.call import CallEntry, CallForPieces

__all__ = ["call_papers"]

_POINTS = (tr_later("Points"),)
"""What is judged where the call names nothing."""


def call_papers(call: CallForPieces, titles: dict[str, str], *, paper: str) -> dict[str, bytes]:
    """Labels and the sheet for judging on one size of paper.

    Args:
        call: The call with every entry.
        titles: What each project is called, by its name.
        paper: `letter` or `a4`.

    Returns:
        PDF bytes by file name.

    Raises:
        ProjectError: When an entry's words hold signs that the fonts lack.
    """
    size = SIZES[paper]
    common = {
        "title": call.title, "club": call.club, "author": [call.club], "keywords": [], "paper": size.typst,
        "paper_width": size.width, "summary_text": plain(call.words),
    }  # fmt: skip
    own: dict[str, dict[str, Any]] = {
        "labels": {"labels": [_label(number, entry, titles) for number, entry in _numbered(call)]},
        "judging-sheet": {
            "when": day(call.shown) if call.shown is not None else "",
            "place": call.place,
            "criteria": list(call.criteria or map(tr, _POINTS)),
            "rows": [_row(number, entry) for number, entry in _numbered(call)],
        },
    }
    return {
        kind.file(paper, call.name): compiled(kind.template, {**common, **own[name]}, {}, file=call.file)
        for name, kind in CALL.items()
    }


def _numbered(call: CallForPieces) -> list[tuple[int, CallEntry]]:
    return list(enumerate(sorted(call.entries, key=lambda entry: entry.name), start=1))


def _label(number: int, entry: CallEntry, titles: dict[str, str]) -> dict[str, Any]:
    after = titles.get(entry.inspired_by, "")
    return {
        "number": str(number),
        "title": pieces(entry.title),
        "maker": pieces(entry.maker),
        "wood": pieces(in_a_row(entry.woods)),
        "size": pieces(_sizes(entry)),
        "after": pieces(tr("Made after: {piece}", piece=after)) if after else [],
    }


def _row(number: int, entry: CallEntry) -> dict[str, Any]:
    facts = phrases_in_a_row((in_a_row(entry.woods), _sizes(entry)))
    return {"number": str(number), "title": pieces(entry.title), "facts": pieces(facts)}


def _sizes(entry: CallEntry) -> str:
    return in_a_row(f"{word} {printed}" for word, printed in entry.sizes)
