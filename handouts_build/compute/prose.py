"""Author text to paragraphs, with worked-out values put in.

This module owns the little markup authors have: an empty line, *stars*, and
{name}. How a run looks is for the outputs, which escape everything.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from handouts_build.compute.names import Ledger, Unsettled
from handouts_build.formulas import FormulaFault
from handouts_build.quantities import Printed
from handouts_build.schema import PLACEHOLDER, Key
from handouts_build.sheet import Paragraph, TextRun

__all__ = ["paragraphs", "runs", "unfilled"]

_EMPHASIS = re.compile(r"\*([^*\s](?:[^*\n]*[^*\s])?)\*")


def paragraphs(text: str, key: Key, ledger: Ledger, printed: dict[str, Printed]) -> tuple[Paragraph, ...]:
    """Author text as paragraphs of runs.

    Args:
        text: As written.
        key: Where it stands.
        ledger: Takes note of names that are not known.
        printed: The printed form of every settled name.
    """
    made = []
    for block in re.finditer(r"(?:[^\n]|\n(?!\s*\n))+", text):
        written = block.group()
        lead = len(written) - len(written.lstrip())
        if written.strip():
            made.append(tuple(_runs(written.strip(), block.start() + lead, key, ledger, printed)))
    return tuple(made)


def runs(text: str, key: Key, ledger: Ledger, printed: dict[str, Printed]) -> Paragraph:
    """One line of author text as runs without emphasis, its values told apart.

    Args:
        text: The line.
        key: Where it stands in the file, for problems.
        ledger: Has the values, and takes the problems.
        printed: Values that are printed otherwise here than the ledger has them, by full name.

    Returns:
        The line, run by run.
    """
    found = _runs(text, 0, key, ledger, printed)
    return tuple(TextRun(run.text) if run.style == "emphasis" else run for run in found)


def unfilled(text: str) -> str:
    """One line of author text without emphasis, its values still as `{name}`."""
    made, at = [], 0
    for found in PLACEHOLDER.finditer(text):
        made += [*_plain(text[at : found.start()]), TextRun(f"{{{found.group(1).strip()}}}")]
        at = found.end()
    return "".join(run.text for run in (*made, *_plain(text[at:])))


def _runs(text: str, start: int, key: Key, ledger: Ledger, printed: dict[str, Printed]) -> Iterator[TextRun]:
    at = 0
    for found in PLACEHOLDER.finditer(text):
        yield from _plain(text[at : found.start()])
        name = found.group(1).strip()
        at = found.end()
        if name in printed:
            yield TextRun(str(printed[name]), "value", name)
            continue
        try:
            ledger.lookup(name)
        except Unsettled:
            continue
        except FormulaFault as fault:
            ledger.note(key, fault.message, fault.hint, offset=start + found.start() + found.group().index(name))
    yield from _plain(text[at:])


def _plain(text: str) -> Iterator[TextRun]:
    text = re.sub(r"\s+", " ", text)
    at = 0
    for found in _EMPHASIS.finditer(text):
        if found.start() > at:
            yield TextRun(text[at : found.start()])
        yield TextRun(found.group(1), "emphasis")
        at = found.end()
    if text[at:]:
        yield TextRun(text[at:])
