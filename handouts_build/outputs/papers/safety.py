"""What a handout says about safety, from the sheet's boxes, cautions and findings.

This module owns in which order it is said and that nothing is lost: a box that stood
at an earlier step is named again with the number of that step. It leaves the words
of the boxes to the sheet and their looks to the templates.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, TypedDict

from handouts_build.language import listed, phrases_in_a_row, tr
from handouts_build.outputs.papers.runs import Pieces, cited, paragraphs, pieces
from handouts_build.outputs.words import LAST_WORD, LEVELS, SIGNAL_WORDS, SIGNALS
from handouts_build.sheet import Finding, Level, SafetyBox, Sheet, Step

__all__ = ["PrintedFinding", "Safety", "as_box", "as_rows", "findings", "sentence"]

_LONG = 800
"""Letters in a frame, or in a paragraph of one, that may break over two pages; shorter ones are kept whole."""

_LONG_IN_COLUMNS = 6000
"""The same for the boxes of the whole piece, which stand in columns."""


class PrintedFinding(TypedDict):
    """A finding as a template reads it."""

    level: str
    """Its signal word."""
    about: Pieces
    message: Pieces
    remedy: Pieces


def findings(sheet: Sheet, *levels: Level) -> list[PrintedFinding]:
    """The verdicts of some levels, in the order of the levels."""
    return [_finding(finding) for level in levels for finding in sheet.told if finding.level is level]


def _finding(finding: Finding) -> PrintedFinding:
    return {
        "level": tr(LEVELS[finding.level]),
        "about": pieces(finding.about),
        "message": pieces(sentence(finding.message)),
        "remedy": pieces(sentence(finding.remedy) if finding.remedy else ""),
    }


def as_rows(found: Sequence[PrintedFinding]) -> list[dict[str, Any]]:
    """Verdicts as rows of a frame: its word, what it is about, what is found and what to do."""
    rows = []
    for verdict in found:
        about: Pieces = [{**piece, "s": "value"} for piece in verdict["about"]]
        text = [*about, *pieces(": "), *verdict["message"], *pieces(" "), *verdict["remedy"]]
        rows.append({"signal": verdict["level"], "text": text, "long": _letters(text) > _LONG})
    return rows


def sentence(text: str) -> str:
    """Text as a sentence: a capital first and a stop last."""
    text = text.strip()
    return text[:1].upper() + text[1:] + ("" if text.endswith((".", "!", "?")) else ".")


class Safety:
    """The safety words of one sheet.

    Args:
        sheet: The project, worked out.
    """

    def __init__(self, sheet: Sheet) -> None:
        self._sheet = sheet
        self._first: dict[str, int] = {}
        for step in sheet.every_step:
            for box in step.boxes:
                self._first.setdefault(box.id, step.number)

    def whole(self) -> list[dict[str, Any]]:
        """The boxes for the whole piece."""
        return [as_box(box) for box in self._sheet.boxes]

    def is_long(self) -> bool:
        """Whether the boxes for the whole piece come to more than may be kept on one page."""
        return sum(_letters(as_box(box)["text"]) for box in self._sheet.boxes) > _LONG_IN_COLUMNS

    def sources(self) -> Pieces:
        """Whose word the boxes stand on, all in one line; nothing where there are no boxes."""
        boxes = [*self._sheet.boxes, *(box for step in self._sheet.every_step for box in step.boxes)]
        named = dict.fromkeys(cited(box.source) for box in boxes)
        return pieces(tr("The safety boxes rest on these: {sources}", sources=" ".join(named))) if named else []

    def careful_steps(self) -> str:
        """Which steps have cautions."""
        numbers = [str(step.number) for step in self._sheet.every_step if step.care or step.boxes]
        if not numbers:
            return ""
        if len(numbers) == 1:
            return tr("Read the caution at step {number} before you switch on.", number=numbers[0])
        if len(numbers) == len(list(self._sheet.every_step)):
            return tr("Every step has its cautions: read them before you switch on.")
        return tr("Read the cautions at steps {numbers} before you switch on.", numbers=listed(numbers))

    def at(self, step: Step) -> dict[str, Any]:
        """A step's frame: the author's own cautions, the boxes that are new, and the names of those that are not."""
        own = [("caution", _row("caution", text)) for text in paragraphs(step.care)]
        new = [(box.signal, as_box(box)) for box in step.boxes if box.id in step.new_boxes]
        # Gravest first; what is only named again comes last.
        rows = [row for _, row in sorted(own + new, key=lambda signalled: SIGNALS.index(signalled[0]))]
        again = self._again([box for box in step.boxes if box.id not in step.new_boxes])
        if again:
            rows.append({"signal": tr("Again"), "text": pieces(again)})
        for row in rows:
            row["long"] = _letters(row["text"]) > _LONG
        return {
            "rows": rows,
            "long": sum(_letters(row["text"]) for row in rows) > _LONG,
            "grave": any(signal == "danger" for signal, _ in own + new),
        }

    def _again(self, boxes: Sequence[SafetyBox]) -> str:
        """Boxes that stood at an earlier step, by that step."""
        by_step: dict[int, list[str]] = {}
        for box in boxes:
            by_step.setdefault(self._first[box.id], []).append(box.title)
        return " ".join(
            tr("See step {number}: {titles}.", number=number, titles=phrases_in_a_row(titles))
            for number, titles in sorted(by_step.items())
        )

    def last_word(self) -> list[str]:
        """What the handout ends with."""
        return [self._sheet.closing or tr(LAST_WORD[0]), *map(tr, LAST_WORD[1:])]


def as_box(box: SafetyBox) -> dict[str, Any]:
    """A box as one paragraph: its title, who is hurt how, what to do."""
    text: Pieces = pieces(f"{box.title.rstrip('.')}.", "value")
    text += pieces(" " + " ".join(sentence(words) for words in (box.hurts, *box.do)))
    return _row(box.signal, text)


def _row(signal: str, text: Pieces) -> dict[str, Any]:
    return {"signal": tr(SIGNAL_WORDS[signal]), "text": text}


def _letters(text: Pieces) -> int:
    """How long a text is."""
    return sum(len(str(piece["t"])) for piece in text)
