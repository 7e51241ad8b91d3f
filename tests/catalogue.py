"""Every sentence of the catalogue, as a template for translators.

`python -m tests.catalogue` writes `handouts_build/language/handouts.pot` anew from the code, the templates, the scripts
and the tables; a test fails where it is out of date. Babel reads Python and Jinja; what a script says is found by its
`tr("…")`. Tables of ours have sentences as plain values, and are asked for them.
"""

from __future__ import annotations

import io
import json
import re
from collections.abc import Iterable, Iterator
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.extract import extract
from babel.messages.pofile import write_po

from handouts_build.outputs.papers.template_words import template_sentences
from handouts_build.paper import SIZES
from handouts_build.tables.bits import bits
from handouts_build.tables.cautions import rules
from handouts_build.tables.finishes import finishes
from handouts_build.tables.loading import Standing
from handouts_build.tables.woods import woods
from handouts_build.trade import CHAPTERS
from handouts_build.trade.law import Demand
from handouts_build.trade.outlines import INSIDE_VALUES, PROFILE_DEMANDS, PROFILE_VALUES
from handouts_build.workpiece.blanks import Grain
from handouts_build.workpiece.kinds import BLANKS

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
    """What chapters, outlines and the tables say."""
    for name, chapter in CHAPTERS.items():
        where = f"trade:{'-'.join(name.split())}"
        yield from ((given.says, where) for given in chapter.givens)
        yield from ((law.says, where) for law in chapter.laws)
        yield from _of_demands(chapter.demands, where)
        yield chapter.about, where
    for values in (PROFILE_VALUES, INSIDE_VALUES):
        yield from ((value.says, "trade:outlines") for value in values)
    yield from _of_demands(PROFILE_DEMANDS, "trade:outlines")
    yield from ((sentence, "outputs/papers/templates") for sentence in template_sentences())
    yield from ((size.title, "paper") for size in SIZES.values())
    yield from ((word, "workpiece:blanks") for word in BLANKS)
    yield from ((grain.value, "workpiece:blanks") for grain in Grain)
    yield from ((standing.value.lower(), "tables:sources") for standing in Standing)
    yield from ((bit.says, "tables/bits.csv") for bit in bits().values())
    for wood in woods():
        yield from ((text, "tables/woods.csv") for text in (wood.spoken, wood.notes))
    for finish in finishes():
        yield finish.title.lower(), "tables/finishes.csv"
        yield from ((note.text, "tables/finishes.csv") for note in (finish.food, finish.allergen) if note is not None)
    for rule in rules():
        yield from ((text, "tables/cautions.yml") for text in (rule.title, rule.hurts, *rule.do))


def _of_demands(demands: Iterable[Demand], where: str) -> Iterator[tuple[Sentence, str]]:
    yield from ((text, where) for demand in demands for text in (demand.message, demand.remedy))


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
