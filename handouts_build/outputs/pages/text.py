"""Text on its way to a page: escaped so that it stays text, with shop fractions told apart.

This module owns the two ways author text may enter a page: as HTML inside a block
that Markdown leaves alone, or inside a Markdown heading. In both, whatever the
author wrote is shown and never obeyed.
"""

from __future__ import annotations

import re

from markupsafe import Markup, escape

from handouts_build.sheet import Paragraph

__all__ = ["cell", "framed", "heading", "lines", "plain", "prose", "setting", "yaml_text"]

# A fraction counts as one only with its unit: "3/4 in" is a size, "1/2 of them" and a date are not.
_FRACTION = re.compile(r"(?<![\d/])(\d{1,3}/\d{1,3})(?=[ \u00a0]?(?:in\b|ft\b|min\b|″|&#34;))")

_SPACE = re.compile(r"[ \t\r\n\f\v\x85\u2028\u2029]+")

# Before a unit such as ft/min a line may break; before in and mm it never should.
_LONG_UNIT = re.compile("\u00a0(?=[^\u00a0/]+/[^\u00a0/]+$)")

_BLOCK = re.compile(r"\s*(?=</?(?:div|dl|dt|dd|p|figure|figcaption|details|summary)\b)")

_FRAME = '<div class="hb">'
_ELEMENT = re.compile(r"<(?!script\b|/)[a-z]")
"""How a block begins that is an element of its own."""
_OPEN = 'markdown="block">'
"""How a block ends that opens an element with Markdown in it."""
_BETWEEN = re.compile(r"(\n{2,})")

_STYLES = {"plain": "{}", "emphasis": "<em>{}</em>", "value": '<span class="hb-value"{of}>{}</span>'}


def _one_line(text: str) -> str:
    """Text without line breaks, which could end a block; spaces that do not break stay."""
    return _SPACE.sub(" ", text)


def setting(text: str) -> Markup:
    """Text as HTML on one line, each shop fraction marked so that the font may set it as one."""
    return Markup(_FRACTION.sub(r'<span class="hb-frac">\1</span>', str(escape(_one_line(text)))))


def cell(text: str) -> Markup:
    """A value as it stands in a narrow column."""
    return setting(_LONG_UNIT.sub(" ", text))


def prose(paragraph: Paragraph) -> Markup:
    """A paragraph of author text as HTML, without the element around it."""
    return Markup("").join(
        Markup(_STYLES[run.style]).format(
            setting(run.text), of=Markup(' data-of="{}"').format(run.name) if run.name else ""
        )
        for run in paragraph
    )


def plain(paragraphs: tuple[Paragraph, ...]) -> str:
    """Paragraphs as one plain string."""
    return _one_line(" ".join("".join(run.text for run in paragraph) for paragraph in paragraphs)).strip()


def heading(text: str) -> Markup:
    """Text for a Markdown heading or link: every mark that could mean something as a character reference.

    A reference never opens or closes markup, in any dialect of Markdown.
    """
    return Markup(
        "".join(
            f"&#{ord(mark)};" if mark.isascii() and not mark.isalnum() and mark != " " else mark
            for mark in _one_line(text).strip()
        )
    )


def yaml_text(text: str) -> Markup:
    """Text as a quoted YAML scalar that is HTML already, because themes print it unescaped."""
    one_line = _one_line(text).strip()
    safe = (one_line if isinstance(text, Markup) else str(escape(one_line))).replace("\\", "\\\\")
    return Markup('"' + "".join(mark if mark.isprintable() else f"\\U{ord(mark):08X}" for mark in safe) + '"')


def lines(html: str) -> Markup:
    """HTML with each block's tags at the start of a line, where Markdown looks for them inside a block of its own."""
    return Markup(_BLOCK.sub("\n", html).strip())


def framed(page: str) -> str:
    """A page of Markdown with every element of ours in one of the class `hb`, which the style sheet asks for.

    Args:
        page: The page. Empty lines stand around an element and not in it. One with Markdown in it is a `div` that
            opens and closes on lines of their own; the outermost of those has the class already.
    """
    depth, made = 0, []
    for block in _BETWEEN.split(page):
        if depth or block.endswith(_OPEN):
            depth += block.count("<div") - block.count("</div>")
        elif _ELEMENT.match(block):
            body = block.rstrip("\n")
            block = f"{_FRAME}{body}</div>{block[len(body) :]}"
        made.append(block)
    return "".join(made)
