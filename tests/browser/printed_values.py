"""What the published pages and papers print of a piece, read off HTML and PDF: it knows nothing of how they are made.

Pages are read by the standard library, papers by pdftotext. A value on a page bears the name it is of; on paper
it is known by the label beside it.
"""

from __future__ import annotations

import re
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from html.parser import HTMLParser
from pathlib import Path

__all__ = [
    "Named",
    "Page",
    "Pair",
    "PrintedStep",
    "Row",
    "pairs_in",
    "paper_text",
    "read_page",
    "steps_in",
    "values_in",
]

_VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}
_UNREAD = {"script", "style", "svg", "template", "nav", "header", "footer", "select"}
_BLOCKS = {
    "p", "div", "tr", "li", "ul", "ol", "dl", "dt", "h1", "h2", "h3", "h4", "h5", "section", "summary", "table",
    "details", "figure", "figcaption", "button", "label", "caption",
}  # fmt: skip
_HEADINGS = {"h1", "h2", "h3", "h4", "h5", "summary", "caption"}


def plain(text: str) -> str:
    """One line, with plain spaces."""
    return " ".join(text.replace("\u00a0", " ").replace("\u202f", " ").split())


@dataclass(frozen=True)
class Named:
    """A value on a page that bears a name."""

    name: str
    kind: str
    """`lead` in the page's leading unit, `other` or `aside` in the other one."""
    text: str


@dataclass(frozen=True)
class Row:
    """A row of a table."""

    under: tuple[str, str]
    """The heading above the table, and the row within it that heads this one."""
    cells: tuple[str, ...]


@dataclass
class Page:
    """What a page says."""

    named: list[Named] = field(default_factory=list)
    rows: list[Row] = field(default_factory=list)
    text: str = ""


@dataclass
class _Open:
    tag: str
    attributes: dict[str, str | None]
    text: list[str] = field(default_factory=list)
    cells: list[str] = field(default_factory=list)


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.page = Page()
        self._open: list[_Open] = []
        self._whole: list[str] = []
        self._heading = self._group = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in _BLOCKS or tag == "br":
            self._add("\n")
        if tag in ("td", "th", "dd"):
            self._add(" " if tag == "dd" else " | ")
        if tag == "table":
            self._group = ""
        if tag not in _VOID:
            self._open.append(_Open(tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        while self._open:
            closed = self._open.pop()
            self._close(closed)
            if closed.tag == tag:
                break
        if tag in _BLOCKS:
            self._add("\n")

    def handle_data(self, data: str) -> None:
        if not any(one.tag in _UNREAD for one in self._open):
            self._add(data)

    def _add(self, data: str) -> None:
        self._whole.append(data.replace("\n", " ") if data != "\n" else data)
        for one in self._open:
            one.text.append(data)

    def _close(self, closed: _Open) -> None:
        text = plain("".join(closed.text))
        if (name := closed.attributes.get("data-of")) and text:
            self.page.named.append(Named(name, closed.attributes.get("data-as") or "", text))
        if closed.tag in _HEADINGS and text:
            self._heading = text
        row = next((one for one in reversed(self._open) if one.tag == "tr"), None)
        if closed.tag in ("td", "th") and row is not None:
            # A label is the link to its working, without the range it may be given in.
            row.cells.append(closed.attributes.get("read") or text.strip("| "))
        elif closed.tag == "a" and self._open and self._open[-1].tag == "th":
            self._open[-1].attributes["read"] = text
        elif "data-bounds" in closed.attributes and self._open and self._open[-1].tag == "th":
            self._open[-1].attributes["read"] = plain("".join(self._open[-1].text)).removesuffix(text)
        elif closed.tag == "tr":
            cells = [cell for cell in closed.cells if cell]
            if len(cells) == 1:
                self._group = cells[0]
            elif cells:
                self.page.rows.append(Row((self._heading, self._group), tuple(cells)))


def read_page(path: Path) -> Page:
    """A page, read."""
    reader = _Reader()
    # The classes of a page that is kept as it was issued are its own, and mean the same.
    reader.feed(re.sub(r"\bhbi(?=[-\s\"])", "hb", path.read_text(encoding="utf-8")))
    reader.close()
    reader.page.text = "\n".join(line for line in map(plain, "".join(reader._whole).split("\n")) if line)
    return reader.page


def paper_text(path: Path, *, layout: bool = False) -> list[str]:
    """The lines of a paper, in the order they are set; with `layout` as they stand beside each other."""
    way = "-layout" if layout else "-raw"
    made = subprocess.run(["pdftotext", way, str(path), "-"], capture_output=True, check=True)
    text = made.stdout.decode("utf-8").replace("\u00a0", " ").replace("\u202f", " ").replace("\f", "\n")
    return text.split("\n") if layout else [plain(line) for line in text.split("\n")]


_NUMBER = r"(?:(?:\d{1,3}(?:,\d{3})+|\d+)(?:\.\d+|(?: \d+/\d+))?|\d+/\d+)"
_UNITS = {
    ("in", "mm"): 25.4, ("ft", "m"): 0.3048, ("in²", "cm²"): 6.4516, ("in³", "cm³"): 16.387064,
    ("ft²", "m²"): 0.09290304, ("oz", "g"): 28.349523125, ("lb", "kg"): 0.45359237, ("lb", "g"): 453.59237,
    ("fl oz", "ml"): 29.5735295625, ("fl oz", "mL"): 29.5735295625, ("ft/min", "m/s"): 0.00508,
    ("in³", "ml"): 16.387064, ("in³", "mL"): 16.387064,
}  # fmt: skip
"""How many of the second unit the first is: exact by definition (NIST SP 811, appendix B.8, from memory)."""
_ALL = "|".join(sorted({unit for pair in _UNITS for unit in pair}, key=len, reverse=True))
_PAIR = re.compile(rf"(?<![\w./])({_NUMBER}) ({_ALL}) ?\(({_NUMBER}) ({_ALL})\)")


@dataclass(frozen=True)
class Pair:
    """A value in two units, as it is printed."""

    first: str
    first_unit: str
    second: str
    second_unit: str

    @property
    def agrees(self) -> bool:
        """Whether the two can be one value: each may be rounded either way to its own next mark or digit."""
        factor = _UNITS.get((self.first_unit, self.second_unit))
        if factor is None:
            back = _UNITS.get((self.second_unit, self.first_unit))
            if back is None:
                return False
            factor = 1 / back
        first, second = number(self.first), number(self.second)
        if self.second_unit == "mm" and "/" in self.first and _decimals(self.second) == 2:
            # A size of a bit, that is on the mark: hundredths of a millimeter are those of the fraction itself.
            return abs(float(first) * factor - float(second)) < 0.0051
        slack = _step(self.first, self.first_unit) * factor + _step(self.second, self.second_unit)
        return abs(float(first) * factor - float(second)) <= slack * 1.0001

    def __str__(self) -> str:
        return f"{self.first} {self.first_unit} ({self.second} {self.second_unit})"


def number(text: str) -> Fraction:
    """What a printed number is: a whole, a decimal, a fraction, or a whole and a fraction."""
    return sum((Fraction(part) for part in text.replace(",", "").split()), Fraction(0))


def _decimals(text: str) -> int:
    return len(text.partition(".")[2])


def _step(text: str, unit: str) -> float:
    """The mark or digit that a number is rounded to, at the most."""
    if unit == "in" and not _decimals(text):
        return 1 / 64 if text.endswith("/64") else 1 / 32
    if unit == "mm" and _decimals(text) < 2:
        return 0.5
    if "/" in text:
        return 1 / 32
    return float(10.0 ** -_decimals(text))


def pairs_in(text: str) -> Iterator[Pair]:
    """Every value that is printed in two units; of these the one may stand on the line below, in parentheses."""
    for found in _PAIR.finditer(" ".join(text.replace("\n(", " (").replace("\n", " | ").split())):
        yield Pair(found[1], found[2], found[3], found[4])


_VALUE = re.compile(rf"[≤≥]? ?({_NUMBER})(?: ({_ALL})|(°))? ?(?:\(({_NUMBER}) ({_ALL})\))?")


def values_in(lines: list[str], labels: set[str]) -> Iterator[tuple[str, str]]:
    """Values that stand alone on a line with a label of the piece on the lines below: label and value.

    Args:
        lines: Of a handout, in the order they are set.
        labels: Those that are known.
    """
    for place, line in enumerate(lines):
        if not _VALUE.fullmatch(line):
            continue
        for most in range(5, 1, -1):
            label = " ".join(lines[place + 1 : place + most])
            if label in labels:
                yield label, line
                break


@dataclass(frozen=True)
class PrintedStep:
    """What is printed of a step, apart from its words and numbers."""

    number: int
    rpm: str
    most_rpm: str
    minutes: str


_STEP = re.compile(r"(\d+) ?(\D.*?)(?: ((?:\d+ h )?\d+ min|\d+ h)(?:,? (?:each|to make|after|then wait)\b.*)?)?")
_RPM = re.compile(r"\bSpeed:? ?([\d,]+) rpm")
_MOST = re.compile(r"Never faster than:? ?([\d,]+) rpm")
_TIME = re.compile(r"\bTime ((?:\d+ h )?\d+ min|\d+ h)")


def steps_in(lines: list[str], names: dict[int, str]) -> Iterator[PrintedStep]:
    """The steps of a lathe page or a handout.

    Args:
        lines: Of the page or paper.
        names: Of the steps, by number.
    """
    starts: list[tuple[int, int, str]] = []
    for place, line in enumerate(lines):
        found = _STEP.fullmatch(line)
        # A long name goes on in the next line.
        if found and (name := names.get(int(found[1]))) and (found[2] == name or name.startswith(f"{found[2]} ")):
            starts.append((place, int(found[1]), found[3] or ""))
    ends = [place for place, _, _ in starts[1:]] + [len(lines)]
    for (place, number_, heading_minutes), end in zip(starts, ends, strict=True):
        text = " ".join(lines[place:end])
        rpm, most, time = _RPM.search(text), _MOST.search(text), _TIME.search(text)
        minutes = heading_minutes or (time[1] if time else "")
        yield PrintedStep(number_, rpm[1] if rpm else "", most[1] if most else "", minutes)
