"""Every sentence of the catalogue, as a template for translators.

`python -m tests.catalogue` writes `handouts_build/language/handouts.pot` anew from the code, the templates, the scripts
and the tables; a test fails where it is out of date. Babel reads Python and Jinja; what a script says is found by its
`tr("…")`. Tables of ours have sentences as plain values, and are asked for them.
"""

from __future__ import annotations

import io
import json
import re
from collections.abc import Iterator
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.extract import extract
from babel.messages.pofile import write_po

ROOT = Path(__file__).parents[1]
LIBRARY = ROOT / "handouts_build"
PLUGIN = ROOT / "plugins" / "mkdocs_handouts"
TEMPLATE = LIBRARY / "language" / "handouts.pot"
_JINJA = "jinja2.ext:babel_extract"
_KEYWORDS = {"tr": None, "tr_later": None, "tr_count": (1, 2)}
_IN_A_SCRIPT = re.compile(r'\btr\(("(?:[^"\\]|\\.)*")\)')

Sentence = str | tuple[str, str]
"""One sentence, or its forms for one and for many."""


def sentences() -> Iterator[tuple[Sentence, str]]:
    """Every sentence, each with the file it stands in."""
    for path in sorted(found for home in (LIBRARY, PLUGIN) for found in home.rglob("*")):
        shown = path.relative_to(ROOT).as_posix()
        method = {".py": "python", ".j2": _JINJA, ".html": _JINJA}.get(path.suffix)
        if method is not None:
            with path.open("rb") as file:
                for _, message, _, _ in extract(method, file, keywords=_KEYWORDS, options={"trimmed": "false"}):
                    yield message if isinstance(message, str) else (message[0], message[1]), shown
        elif path.suffix == ".js":
            for found in _IN_A_SCRIPT.finditer(path.read_text(encoding="utf-8")):
                yield json.loads(found[1]), shown
    yield from _of_tables()


def _of_tables() -> Iterator[tuple[Sentence, str]]:
    """What chapters and the table of cautions say."""
    from handouts_build.tables.cautions import rules
    from handouts_build.trade import CHAPTERS

    for name, chapter in CHAPTERS.items():
        where = f"trade:{name.replace(' ', '-')}"
        yield from ((given.says, where) for given in chapter.givens)
        yield from ((law.says, where) for law in chapter.laws)
        for demand in chapter.demands:
            if demand.level != "problem":
                yield from ((text, where) for text in (demand.message, demand.remedy))
        yield chapter.about, where
    from handouts_build.outputs.papers.template_words import template_sentences
    from handouts_build.tables.woods import woods

    yield from ((sentence, "outputs/papers/templates") for sentence in template_sentences())
    for wood in woods():
        yield from ((text, "tables/woods.csv") for text in (wood.spoken, wood.notes))
    for rule in rules():
        yield from ((text, "tables/cautions.yml") for text in (rule.title, rule.hurts, *rule.do))


def template() -> str:
    """The template: every sentence once, in alphabetical order, each with the files it stands in."""
    found: dict[Sentence, set[str]] = {}
    for sentence, where in sentences():
        if sentence:
            found.setdefault(sentence, set()).add(where)
    catalog = Catalog(project="handouts-build", fuzzy=False)
    for sentence in sorted(found, key=lambda known: known if isinstance(known, str) else known[0]):
        catalog.add(sentence, locations=[(where, None) for where in sorted(found[sentence])])
    written = io.BytesIO()
    write_po(written, catalog, omit_header=True, width=120, include_lineno=False)
    return written.getvalue().decode()


if __name__ == "__main__":
    TEMPLATE.write_text(template(), encoding="utf-8", newline="\n")
