"""How a printed paper is filled and lettered: read off the PDF by pdfium, knowing nothing of how it was made."""

from __future__ import annotations

import ctypes
from dataclasses import dataclass

import numpy as np
import pypdfium2 as pdfium
import pypdfium2.raw as raw

__all__ = ["PageMeasure", "measured_pages"]

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
