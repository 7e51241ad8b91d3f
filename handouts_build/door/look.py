"""The one page on which a webmaster sees what would be published.

This module owns it: a file on the own disk, with no script, that asks nothing of any host.
"""

from __future__ import annotations

import html
from collections.abc import Iterable, Iterator

from handouts_build.disk.privacy import secrets
from handouts_build.door.trial import PUBLISHED, Trial

__all__ = ["look_page"]

_POLICY = "default-src 'none'; img-src 'self' file:; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"
_STYLE = (
    "body{font:1rem/1.5 sans-serif;max-width:60rem;margin:2rem auto;padding:0 1rem}"
    "img{max-width:18rem;max-height:14rem;margin:.25rem;border:1px solid #888}"
    "td,th{text-align:left;vertical-align:top;padding:.2rem .6rem;border-bottom:1px solid #ccc;overflow-wrap:anywhere}"
    "td:first-child{color:#555;min-width:12rem}.stop{border-left:.4rem solid #b00;padding-left:1rem}"
)
_PICTURES = (".jpg", ".jpeg", ".png", ".webp")
_AGAIN = ("-dark.webp", "-card.webp")
"""Endings of pictures that show what another shows."""


def look_page(trial: Trial, *, name: str, sender: str, left: Iterable[str]) -> str:
    """The page, as HTML.

    Args:
        trial: What was found.
        name: What the project would be called.
        sender: What it was taken from.
        left: What in that is left behind.
    """
    body = "\n".join(_body(trial, name, sender, tuple(left)))
    return (
        f'<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{html.escape(_POLICY)}">\n'
        f'<meta name="viewport" content="width=device-width">\n<title>{html.escape(name)}: take it in?</title>\n'
        f"<style>{_STYLE}</style>\n</head>\n<body>\n{body}\n</body>\n</html>\n"
    )


def _body(trial: Trial, name: str, sender: str, left: tuple[str, ...]) -> Iterator[str]:
    said = html.escape
    yield f"<h1>{said(trial.title or name)}</h1>"
    yield f"<p>From {said(sender)}, to be called <strong>{said(name)}</strong>. Nothing is taken until you say yes.</p>"
    if trial.ended or trial.problems:
        yield '<section class="stop"><h2>It would not be published</h2>'
        yield from _list((trial.ended, *trial.problems) if trial.ended else trial.problems)
        yield "</section>"
    yield f"<h2>Findings</h2>{'' if trial.findings else '<p>None.</p>'}"
    yield from _list(trial.findings)
    pictures = [path for path in trial.files if path.lower().endswith(_PICTURES) and not path.endswith(_AGAIN)]
    own = [path for path in pictures if "/photographs/" in path]
    for title, some in (
        ("Photographs, as they would be published", own),
        ("Pictures drawn by the tool", [path for path in pictures if path not in own]),
    ):
        if some:
            yield f"<h2>{title}</h2><p>"
            yield from (f'<img src="{PUBLISHED}/{said(path)}" alt="{said(path)}">' for path in some)
            yield "</p>"
    papers = [path for path in trial.files if path.endswith(".pdf")]
    yield f"<h2>Papers</h2>{'' if papers else '<p>None.</p>'}"
    yield from _list((f'<a href="{PUBLISHED}/{said(path)}">{said(path)}</a>' for path in papers), raw=True)
    found = secrets(text for _, text in trial.words)
    yield f"<h2>Addresses and telephone numbers in its words</h2>{'' if found else '<p>None were found.</p>'}"
    yield from _list(found)
    yield "<h2>Every word of the file</h2><table><tr><th>Where</th><th>Text</th></tr>"
    yield from (f"<tr><td>{said(way)}</td><td>{said(text)}</td></tr>" for way, text in trial.words)
    yield "</table>"
    if left:
        yield "<h2>Left behind</h2><p>Only the file and its photographs are taken.</p>"
        yield from _list(left)


def _list(lines: Iterable[str], *, raw: bool = False) -> Iterator[str]:
    items = [f"<li>{line if raw else html.escape(line)}</li>" for line in lines]
    if items:
        yield f"<ul>{''.join(items)}</ul>"
