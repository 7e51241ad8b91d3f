"""Templates of pages, filled.

This module owns how a template gets its words: everything put in is escaped unless it is
markup already. What stands on a page is for the module of that page.
"""

from __future__ import annotations

import re
from functools import cache
from typing import Any

from markupsafe import Markup

from handouts_build.language import in_a_row, phrases_in_a_row, spoken, tr, tr_about, tr_count
from handouts_build.outputs.output import Output
from handouts_build.outputs.pages.text import cell, framed, heading, lines, plain, prose, setting, yaml_text
from handouts_build.outputs.words import (
    BOUNDS,
    LAST_WORD,
    LEVELS,
    REMEDY,
    SHOW_WORDS,
    SIDES,
    SIDES_SAY,
    SIGNAL_WORDS,
    SIGNALS,
    UNIT_NAMES,
    cut_from,
    day,
)
from handouts_build.sheet import Size
from handouts_build.sheet.span import told_span

__all__ = ["clock", "filled", "page", "said", "said_about", "said_of"]


@cache
def _templates() -> Any:
    """The templates, ready to fill."""
    import jinja2

    found = jinja2.Environment(
        loader=jinja2.PackageLoader("handouts_build.outputs.pages"),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    found.filters.update(
        t=setting,
        in_a_row=in_a_row,
        phrases_in_a_row=phrases_in_a_row,
        prose=prose,
        cell=cell,
        heading=heading,
        lines=lines,
        yaml_text=yaml_text,
        plain=plain,
        clock=clock,
        span=told_span,
        bounds=_bounds,
        day=day,
    )
    found.globals.update(
        SHOW_WORDS=SHOW_WORDS,
        SIDES=SIDES,
        SIDES_SAY=SIDES_SAY,
        SIGNALS=SIGNALS,
        SIGNAL_WORDS=SIGNAL_WORDS,
        LAST_WORD=LAST_WORD,
        LEVELS=LEVELS,
        REMEDY=REMEDY,
        UNIT_NAMES=UNIT_NAMES,
        cut_from=cut_from,
        tr=said,
        tr_about=said_about,
        tr_count=said_of,
        turn=_turn,
        spoken=spoken,
    )
    return found


def filled(name: str, **values: Any) -> str:
    """A template filled, with no more than one empty line in a row.

    Args:
        name: The template's file.
        **values: What it asks for.
    """
    text: str = _templates().get_template(name).render(**values)
    return re.sub(r"\n{3,}", "\n\n", text)


def page(path: str, text: str) -> Output:
    """A page of Markdown.

    Args:
        path: Below the site's source.
        text: A template filled.
    """
    return Output(path, framed(text).encode())


def said(message: str, **values: object) -> Markup:
    """A sentence of the catalogue, which is ours and may hold tags; what is put in is escaped unless it is markup.

    Args:
        message: In English, with `{name}` where something is put in.
        **values: What is put in.
    """
    found = Markup(tr(message))
    return found.format(**values) if values else found


def said_about(about: str, message: str, **values: object) -> Markup:
    """The same of words that mean one thing here and another elsewhere.

    Args:
        about: What is meant, in English.
        message: In English.
        **values: What is put in, escaped unless it is markup.
    """
    found = Markup(tr_about(about, message))
    return found.format(**values) if values else found


def said_of(singular: str, plural: str, count: int, **values: object) -> Markup:
    """A sentence that speaks of a count.

    Args:
        singular: In English, of one thing.
        plural: In English, of any other number.
        count: How many there are.
        **values: What else is put in, escaped unless it is markup.
    """
    # The catalogue fills the places of text; those of markup are filled here, where they can be escaped.
    places = {name: f"{{{name}}}" for name in values}
    return Markup(tr_count(singular, plural, count, **places)).format(**values)


def _turn(text: str, way: str) -> Markup:
    """A link of Markdown."""
    return Markup("[{}]({})").format(heading(text), way)


def clock(minutes: float) -> str:
    """Minutes as a person says them.

    Args:
        minutes: How many.
    """
    hours, rest = divmod(round(minutes), 60)
    return " ".join(
        part for part in (f"{hours} h" if hours else "", f"{rest} min" if rest or not hours else "") if part
    )


def _bounds(size: Size) -> str:
    """What a size may be, as HTML; empty where anything goes."""
    bounds = {word: bound.lead for word, bound in (("least", size.least), ("most", size.most)) if bound is not None}
    return setting(tr(BOUNDS["both" if len(bounds) == 2 else next(iter(bounds))], **bounds)) if bounds else ""
