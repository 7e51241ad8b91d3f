"""Measuring a printed page: render it, then find lines in the picture. Knows nothing of how it was made."""

from __future__ import annotations

import numpy as np
import pypdfium2 as pdfium
import pypdfium2.raw as raw

DPI = 600
MM = 25.4 / DPI


def dark(pdf: bytes, page: int) -> np.ndarray:
    """Which pixels of a page are dark, at 600 dpi."""
    document = pdfium.PdfDocument(pdf)
    try:
        grey = document[page].render(scale=DPI / 72, grayscale=True).to_numpy()
    finally:
        document.close()
    return grey.reshape(grey.shape[0], grey.shape[1]) < 128


def page_count(pdf: bytes) -> int:
    """How many pages there are."""
    document = pdfium.PdfDocument(pdf)
    try:
        return len(document)
    finally:
        document.close()


def page_texts(pdf: bytes) -> list[str]:
    """The text of every page, its no-break spaces as spaces."""
    document = pdfium.PdfDocument(pdf)
    try:
        return [
            page.get_textpage().get_text_bounded().replace("\u00a0", " ").replace("\r\n", "\n") for page in document
        ]
    finally:
        document.close()


def place_of(pdf: bytes, text: str) -> tuple[int, float]:
    """Where a text stands first: its page, and how far down it, in mm."""
    document = pdfium.PdfDocument(pdf)
    try:
        for number, page in enumerate(document):
            found = page.get_textpage()
            hit = found.search(text).get_next()
            if hit is not None:
                _, _, _, top = found.get_charbox(hit[0])
                return number, (page.get_height() - top) * 25.4 / 72
    finally:
        document.close()
    raise AssertionError(f"'{text}' is not there")


def lettering(pdf: bytes) -> list[tuple[float, str]]:
    """The lines of the first page, each with the size of its first letter, in points."""
    document = pdfium.PdfDocument(pdf)
    try:
        text = document[0].get_textpage()
        found = []
        for index in range(text.count_rects()):
            left, low, right, high = text.get_rect(index)
            place = text.get_index((left + right) / 2, (low + high) / 2, 20, 5)
            found.append((raw.FPDFText_GetFontSize(text, place), text.get_text_bounded(left, low, right, high)))
        return found
    finally:
        document.close()


def runs(line: np.ndarray) -> list[tuple[int, int]]:
    """Where a row or column of pixels is dark: first and last pixel of each stretch."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], line.astype(np.int8), [0]))))
    return [(int(start), int(stop) - 1) for start, stop in zip(edges[::2], edges[1::2], strict=True)]


def middles(line: np.ndarray) -> list[float]:
    """The middle of each dark stretch, in mm."""
    return [(start + stop) / 2 * MM for start, stop in runs(line)]


def uprights(picture: np.ndarray, least_mm: float) -> list[tuple[float, float, float]]:
    """Upright lines of at least a length: place across, upper and lower end, in mm; each line once."""
    found: list[tuple[float, float, float]] = []
    columns = np.flatnonzero(picture.sum(axis=0) >= least_mm / MM)
    for column in columns:
        for start, stop in runs(picture[:, column]):
            if (stop - start) * MM >= least_mm:
                place = column * MM
                if found and place - found[-1][0] < 0.5 and abs(found[-1][1] - start * MM) < 1:
                    continue
                found.append((place, start * MM, stop * MM))
    return found
