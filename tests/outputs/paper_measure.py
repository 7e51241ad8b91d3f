"""How a printed paper is filled and lettered: read off the PDF by pdfium, knowing nothing of how it was made.

`python -m tests.outputs.paper_measure SITE` measures the papers of a built site.
"""

from __future__ import annotations

import ctypes
import json
import re
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import pypdfium2 as pdfium
import pypdfium2.raw as raw

from handouts_build.paper import PROJECT, SIZES

__all__ = ["LEAST_MARGIN_MM", "PageMeasure", "PrintedPaper", "letters_by_kind", "measured_pages", "papers_of"]

LEAST_MARGIN_MM = 16.25
"""How far a hole for a binder reaches into a sheet: ISO 838, from memory, 12 + 1 mm to its center, 6.5 mm wide."""

_DPI = 36
_BAND_MM = 5.0
_HEAD_MM, _FOOT_MM = 16.0, 11.0
"""The running head and the foot, which are no filling."""
_TO_MM = 25.4 / 72


@dataclass(frozen=True)
class PageMeasure:
    """What is measured of one page."""

    text: str
    filled: float
    """Share of its bands of 5 mm, between head and foot, that hold ink."""
    least_pt: float
    """The smallest lettering, in points as printed."""
    overlaps: tuple[tuple[str, str], ...]
    """Pieces of text that stand on each other."""
    edges_mm: tuple[float, float]
    """Room that is free of ink at the left and at the right, in mm."""


def measured_pages(pdf: bytes) -> list[PageMeasure]:
    """Every page of a paper.

    Args:
        pdf: The paper.
    """
    document = pdfium.PdfDocument(pdf)
    try:
        return [_measured(page) for page in document]
    finally:
        document.close()


def _measured(page: pdfium.PdfPage) -> PageMeasure:
    grey = page.render(scale=_DPI / 72, grayscale=True).to_numpy()
    ink = grey.reshape(grey.shape[0], grey.shape[1]) < 200
    per_mm = _DPI / 25.4
    rows = ink[int(_HEAD_MM * per_mm) : ink.shape[0] - int(_FOOT_MM * per_mm)].any(axis=1)
    bands = np.array_split(rows, max(1, round(len(rows) / per_mm / _BAND_MM)))
    columns = np.flatnonzero(ink.any(axis=0))
    edges = (columns[0] / per_mm, (ink.shape[1] - 1 - columns[-1]) / per_mm) if len(columns) else (0.0, 0.0)
    text = page.get_textpage()
    return PageMeasure(
        text=text.get_text_bounded().replace("\u00a0", " "),
        filled=float(np.mean([band.any() for band in bands])),
        least_pt=_least(text),
        overlaps=tuple(_overlaps(text)),
        edges_mm=(float(edges[0]), float(edges[1])),
    )


def _least(text: pdfium.PdfTextPage) -> float:
    """The smallest lettering, by the height of its line's box, which goes with the size of the letters."""
    least = np.inf
    matrix = raw.FS_MATRIX()
    for index in range(text.count_chars()):
        if not chr(raw.FPDFText_GetUnicode(text, index)).strip():
            continue
        raw.FPDFText_GetMatrix(text, index, ctypes.byref(matrix))
        scale = (matrix.b**2 + matrix.d**2) ** 0.5
        least = min(least, raw.FPDFText_GetFontSize(text, index) * scale)
    return float(least)


def _overlaps(text: pdfium.PdfTextPage) -> list[tuple[str, str]]:
    """Lines of text of which one covers a third of the other, and more than a sliver."""
    boxes = [text.get_rect(index) for index in range(text.count_rects())]
    found = []
    at = np.array(boxes, float).reshape(-1, 4) * _TO_MM
    areas = (at[:, 2] - at[:, 0]) * (at[:, 3] - at[:, 1])
    for index in range(len(boxes)):
        wide = np.minimum(at[index, 2], at[index + 1 :, 2]) - np.maximum(at[index, 0], at[index + 1 :, 0])
        high = np.minimum(at[index, 3], at[index + 1 :, 3]) - np.maximum(at[index, 1], at[index + 1 :, 1])
        least = np.minimum(areas[index], areas[index + 1 :])
        hits = np.flatnonzero((wide > 0.5) & (high > 0.5) & (wide * high > least / 3))
        found += [
            (text.get_text_bounded(*boxes[index]).strip(), text.get_text_bounded(*boxes[index + 1 + hit]).strip())
            for hit in hits
        ]
    return found


@dataclass(frozen=True)
class PrintedPaper:
    """One paper of a site."""

    file: str
    kind: str
    """Its name in `PROJECT`."""
    size: str
    pages: list[PageMeasure]
    data: Mapping[str, Any]
    """What the site tells of the piece; empty for a ready size."""


def papers_of(site: Path) -> list[PrintedPaper]:
    """Every paper of a built site, but those that were handed out once.

    Args:
        site: Its folder.
    """
    kinds = sorted((paper.name for paper in PROJECT.values()), key=len, reverse=True)
    named = re.compile(rf"(.+?)-({'|'.join(kinds)})-({'|'.join(SIZES)})\.pdf")
    found = []
    for path in sorted((site / "projects").glob("*/*.pdf")):
        match = named.fullmatch(path.name)
        if match is None:
            continue
        told = path.parent / f"{path.parent.name}.json"
        told = told if told.is_file() else path.parent.parent / f"{path.parent.name}.json"
        data = json.loads(told.read_text(encoding="utf-8")) if match[1] == path.parent.name else {}
        found.append(PrintedPaper(path.name, match[2], match[3], measured_pages(path.read_bytes()), data))
    return found


def letters_by_kind(paper: PrintedPaper) -> dict[str, int]:
    """How many letters of a paper are what to do, cautions, and the rest.

    Args:
        paper: One whose data is there. What the data says of the steps is counted where the paper has it, and as
            often as the paper has it: a caution that goes for five steps and is printed at the first counts once.
    """
    whole = _bare(" ".join(page.text for page in paper.pages))
    to_do: list[str] = []
    cautions = [box["title"] for box in paper.data["boxes"]]
    for step in (step for part in [*paper.data["parts"], *paper.data["jigs"]] for step in part["steps"]):
        to_do += [step["name"], *step["say"], step["hold"], step["speed"]]
        to_do += [f"{number['printed']}{number.get('also', '')}" for number in step["numbers"]]
        to_do += [number["label"] for number in step["numbers"]]
        cautions += [*step["care"], *(" ".join((box["title"], box["hurts"], *box["do"])) for box in step["boxes"])]
    counted = {"steps": 0, "cautions": 0}
    left = whole
    # The longest first, each taken out where it is found: a short one may stand inside another's words.
    said = [("steps", _bare(words)) for words in to_do] + [("cautions", _bare(words)) for words in cautions]
    for kind, words in sorted(said, key=lambda pair: -len(pair[1])):
        before, found, after = left.partition(words) if words else ("", "", "")
        if found:
            counted[kind] += len(words)
            left = f"{before}|{after}"
    return {**counted, "rest": len(whole) - sum(counted.values())}


def _bare(text: str) -> str:
    """Letters and figures alone, so that line ends, spaces and signs do not matter."""
    return re.sub(r"[^0-9A-Za-z]", "", text)


def main(site: Path) -> None:
    """Print what stands in DEVELOPERS.md.

    Args:
        site: A built site.
    """
    papers = papers_of(site)
    print("| paper | how many | pages | least filled, but the last | least lettering, points |")
    print("| --- | ---: | ---: | ---: | ---: |")
    for kind in PROJECT.values():
        some = [paper for paper in papers if paper.kind == kind.name]
        if some:
            pages = sorted({len(paper.pages) for paper in some})
            filled = min((page.filled for paper in some for page in paper.pages[:-1]), default=1.0)
            least = min(page.least_pt for paper in some for page in paper.pages)
            numbers = " to ".join(map(str, dict.fromkeys((pages[0], pages[-1]))))
            print(f"| {kind.title} | {len(some)} | {numbers} | {filled:.0%} | {least:.1f} |")
    print()
    print("| short handout | pages | steps | cautions | rest |")
    print("| --- | ---: | ---: | ---: | ---: |")
    for paper in papers:
        if paper.kind == "handout" and paper.data:
            letters = letters_by_kind(paper)
            shares = " | ".join(f"{count / sum(letters.values()):.0%}" for count in letters.values())
            print(f"| {paper.file} | {len(paper.pages)} | {shares} |")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
