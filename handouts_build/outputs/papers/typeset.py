"""The typesetter: data and drawings in, PDF bytes out, or heights.

This module is the only home of typst. It owns how papers are compiled (tagged as
PDF/UA-1, own fonts, a fixed date, the same bytes for the same input). What stands on a
paper is for the other modules and the `.typ` templates.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from handouts_build.outputs.papers.template_words import paper_language, template_words
from handouts_build.problems import Place, Problem, ProjectError

if TYPE_CHECKING:
    import typst

__all__ = ["TypesetFault", "compiled", "measured"]

_OUTPUTS = Path(__file__).parents[1]
_FONTS = _OUTPUTS.parent / "fonts"

_LACKING = re.compile(r'the text `"(.+?)"` could not be displayed')
_ESCAPED = re.compile(r"\\u\{([0-9a-f]+)\}")
_REMEMBERED, _NOTHING = 11, b"."
_WORTH_FORGETTING = 2**18
"""Letters of its drawings from which a paper is let go of at once: those with pictures are the large ones."""
_DATE = 946684800
"""Seconds since 1970 of 2000-01-01: papers carry no date of their own, so that equal input gives equal bytes."""


class TypesetFault(Exception):
    """A paper that cannot be set.

    Attributes:
        message: What the typesetter said.
    """

    def __init__(self, message: str) -> None:
        super().__init__(message)
        self.message = message


@cache
def _compiler() -> typst.Compiler:
    """One typesetter for the whole process: it keeps fonts and templates warm."""
    # Loaded only when a paper is made: the library is large.
    import typst

    return typst.Compiler(root=_OUTPUTS, font_paths=_fonts(), ignore_system_fonts=True)


@cache
def _fonts() -> typst.Fonts:
    """The papers' own fonts, read once."""
    import typst

    return typst.Fonts(include_system_fonts=False, font_paths=[_FONTS])


def _forget() -> None:
    """Have the typesetter let go of the paper it has just set.

    It keeps what ten compilations made, pictures and all: some 40 MB for each paper. Small ones in their place
    take a millisecond each.
    """
    for _ in range(_REMEMBERED):
        _compiler().compile(input=_NOTHING, format="pdf")


def compiled(template: str, data: Mapping[str, object], drawings: Mapping[str, str], *, file: str) -> bytes:
    """A paper as PDF.

    Args:
        template: Path of the `.typ` file within `outputs`, without its ending.
        data: What it shows; goes in as JSON.
        drawings: SVG by the id that the data calls it by.
        file: Where its words come from, as messages name it.

    Returns:
        The PDF, tagged as PDF/UA-1.

    Raises:
        ProjectError: When its words hold signs that the fonts lack.
        TypesetFault: When it cannot be set for another reason.
    """
    with _faults(file):
        try:
            made = _compiler().compile(
                input=_OUTPUTS / f"{template}.typ",
                format="pdf",
                sys_inputs={"data": _as_json(data), **drawings},
                pdf_standards=["ua-1"],
                timestamp=_DATE,
            )
        finally:
            if sum(map(len, drawings.values())) > _WORTH_FORGETTING:
                _forget()
    if not isinstance(made, bytes):
        raise TypesetFault("the typesetter gave back no document")
    return made


def measured(template: str, data: Mapping[str, object], *, file: str) -> Any:
    """What a template tells of some data under its label `measured`, such as heights; no page is made.

    Args:
        template: Path of the `.typ` file within `outputs`, without its ending.
        data: What it shows; goes in as JSON. Its drawings are not looked at.
        file: Where its words come from, as messages name it.

    Returns:
        What the template tells, as JSON has it.

    Raises:
        ProjectError: When its words hold signs that the fonts lack.
        TypesetFault: When it cannot be measured for another reason.
    """
    import typst

    with _faults(file):
        answer = typst.query(
            _OUTPUTS / f"{template}.typ",
            "<measured>",
            field="value",
            one=True,
            root=_OUTPUTS,
            font_paths=_fonts(),
            ignore_system_fonts=True,
            sys_inputs={"data": _as_json(data)},
        )
    return json.loads(answer)


def _as_json(data: Mapping[str, object]) -> str:
    """What a template shows, with its own sentences and the language they are in."""
    entries = {**data, "language": paper_language(), "said": template_words()}
    return json.dumps(entries, ensure_ascii=False, sort_keys=True)


@contextmanager
def _faults(file: str) -> Iterator[None]:
    """Say in the author's words what the typesetter cannot set.

    Args:
        file: Where the words come from, as messages name it.

    Raises:
        ProjectError: When they hold signs that the fonts lack.
        TypesetFault: When it is something else.
    """
    import typst

    try:
        yield
    except typst.TypstError as fault:
        said = fault.diagnostic or fault.message
        lacking = dict.fromkeys(_LACKING.findall(said))
        if not lacking:
            raise TypesetFault(said) from fault
        signs = (_ESCAPED.sub(lambda code: f"U+{int(code[1], 16):04X}", sign) for sign in lacking)
        shown = ", ".join(f"'{sign}'" for sign in signs)
        message = f"the papers' fonts have no sign for {shown}"
        hint = "write it in Latin, Greek or Cyrillic letters and the usual signs"
        raise ProjectError([Problem(Place(file), message, hint)]) from fault
