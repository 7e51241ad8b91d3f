"""Every sentence of the catalogue, as a template for translators, and what they make of it.

`python -m tests.catalogue` writes `handouts_build/language/handouts.pot` anew from the code, the templates, the scripts
and the tables; a test fails where it is out of date. Babel reads Python and Jinja; what a script says is found by its
`tr("…")`. Tables of ours have sentences as plain values, and are asked for them. Each translation beside it is brought
up to date, looked over, and made into the `.mo` that the library reads. `python -m tests.catalogue nb` begins one.
"""

from __future__ import annotations

import ast
import io
import json
import re
import string
import sys
from collections import Counter
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import NamedTuple

from babel import Locale
from babel.messages.catalog import Catalog, Message
from babel.messages.extract import extract
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

from handouts_build.outputs.papers.template_words import template_sentences
from handouts_build.outputs.scripts import COUNTED, SENTENCE
from handouts_build.outputs.signs import lacking
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
_KEYWORDS = {
    "tr": None,
    "tr_later": None,
    "tr_count": (1, 2),
    "tr_about": ((1, "c"), 2),
    "tr_about_later": ((1, "c"), 2),
}
_TAG = re.compile(r"^[a-z]{2,3}(-[A-Z][a-z]{3})?(-([A-Z]{2}|[0-9]{3}))?$")
"""A language as BCP 47 has it: language, script, region."""
_WIDTH = 120


class Sentence(NamedTuple):
    """One sentence of the catalogue."""

    says: str
    many: str = ""
    """Its form for any number but one, where it speaks of a count."""
    about: str = ""
    """What is meant by it, where the same words mean something else elsewhere."""

    @property
    def forms(self) -> tuple[str, ...]:
        """All that is said, in English."""
        return (self.says, self.many) if self.many else (self.says,)


def sentences() -> Iterator[tuple[Sentence, str]]:
    """Every sentence, each with the file it stands in."""
    for path in sorted(found for home in (LIBRARY, PLUGIN) for found in home.rglob("*")):
        shown = path.relative_to(ROOT).as_posix()
        method = {".py": "python", ".j2": _JINJA, ".html": _JINJA}.get(path.suffix)
        if method is not None:
            written = _plain_arguments(path) if path.suffix == ".py" else None
            with path.open("rb") as file:
                for _, message, _, about in extract(method, file, keywords=_KEYWORDS, options={"trimmed": "false"}):
                    says, many = (message, "") if isinstance(message, str) else message
                    # Babel takes the key of a table for a sentence, as in tr(WORDS["title"]).
                    if written is not None and says not in written:
                        continue
                    yield Sentence(says, many, about or ""), shown
        elif path.suffix == ".js":
            text = path.read_text(encoding="utf-8")
            yield from (
                (Sentence(json.loads(found[2]), json.loads(found[3])), shown) for found in COUNTED.finditer(text)
            )
            alone = COUNTED.sub("", text)
            yield from ((Sentence(json.loads(found[1])), shown) for found in SENTENCE.finditer(alone))
    yield from ((Sentence(says), where) for says, where in _of_tables())


def _plain_arguments(path: Path) -> set[str]:
    """Texts that a module of Python hands to a function as they stand."""
    calls = (node for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))) if isinstance(node, ast.Call))
    arguments = (argument for call in calls for argument in call.args if isinstance(argument, ast.Constant))
    return {argument.value for argument in arguments if isinstance(argument.value, str)}


def _of_tables() -> Iterator[tuple[str, str]]:
    """What chapters, outlines and the tables say."""
    for name, chapter in CHAPTERS.items():
        where = f"trade:{'-'.join(name.split())}"
        yield from ((given.says, where) for given in chapter.givens)
        yield from ((law.says, where) for law in chapter.laws)
        yield from _of_demands(chapter.demands, where)
        yield chapter.about, where
        for other in chapter.called.values():
            yield from ((said.says, where) for said in (*other.givens, *other.laws))
            yield from _of_demands(other.demands, where)
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


def _of_demands(demands: Iterable[Demand], where: str) -> Iterator[tuple[str, str]]:
    yield from ((text, where) for demand in demands for text in (demand.message, demand.remedy))


def listed_now() -> Catalog:
    """Every sentence once, in alphabetical order, each with the files it stands in."""
    found: dict[Sentence, set[str]] = {}
    for sentence, where in sentences():
        if sentence.says:
            found.setdefault(sentence, set()).add(where)
    catalog = Catalog(project="handouts-build", fuzzy=False)
    # A sentence may speak of a count in one place and of none in another: gettext keeps the one that does.
    for sentence in sorted(found, key=lambda known: (known.says, known.about, known.many)):
        catalog.add(
            (sentence.says, sentence.many) if sentence.many else sentence.says,
            context=sentence.about or None, locations=[(where, None) for where in sorted(found[sentence])],
        )  # fmt: skip
    return catalog


def _text(catalog: Catalog, *, header: bool) -> str:
    written = io.BytesIO()
    write_po(written, catalog, omit_header=not header, width=_WIDTH, include_lineno=False)
    text = written.getvalue().decode()
    if header and catalog.locale is None:
        # CLDR does not know the language: then its translator says which forms it has.
        text = text.replace('"MIME-Version:', f'"Plural-Forms: {catalog.plural_forms}\\n"\n"MIME-Version:', 1)
    return text


def template() -> str:
    """The template for translators."""
    return _text(listed_now(), header=False)


def read(path: Path) -> Catalog:
    """A translation as it is written."""
    with path.open("rb") as file:
        return read_po(file, locale=path.stem.replace("-", "_"), abort_invalid=True)


def renewed(catalog: Catalog, listed: Catalog) -> str:
    """A translation with every sentence that there is now; what is gone is kept at its end, as a remark."""
    catalog.update(listed, update_creation_date=False)
    return _text(catalog, header=True)


def begun(tag: str) -> str:
    """A translation with nothing translated yet.

    Args:
        tag: Of the language.

    Raises:
        SystemExit: If that is no tag.
    """
    if not _TAG.match(tag):
        raise SystemExit(f"'{tag}' is not a language as BCP 47 writes it, such as nb or pt-BR")
    return renewed(Catalog(locale=tag.replace("-", "_"), project="handouts-build", fuzzy=False), listed_now())


def compiled(catalog: Catalog) -> bytes:
    """What the library reads of a translation: what is translated whole, and is not marked as fuzzy."""
    for message in list(catalog):
        if message.pluralizable and not all(message.string):
            catalog.delete(message.id, message.context)
    # Babel names plural forms of languages alone that CLDR knows; which language it is, nobody asks of this file.
    if catalog.locale is None and catalog.num_plurals and catalog.plural_expr:
        catalog.locale = Locale("en")
    written = io.BytesIO()
    write_mo(written, catalog)
    return written.getvalue()


_CLOCK = ({"hour12", "minute"}, {"hour", "minute"})
"""A time of day, and how a language says it that counts 24 hours."""
_LAYOUT = '<>&"*_`[]|\\#$\n'
"""Signs that a page or a paper may take for layout."""


def faults(catalog: Catalog) -> Iterator[str]:
    """What is wrong with a translation: it would end a run, lose a value, or break a page."""
    for message in catalog:
        if message.id and not message.fuzzy:
            said = message.string if isinstance(message.string, tuple) else (message.string,)
            for form in filter(None, said):
                yield from (f"{message.lineno}: {form!r}: {wrong}" for wrong in _wrong(message, form))


def _wrong(message: Message, form: str) -> Iterator[str]:
    english = message.id if isinstance(message.id, tuple) else (message.id,)
    try:
        there = places(form)
    except ValueError as error:
        yield f"its curly brackets do not fit: {error}"
        return
    # One may be said without its number, as English does.
    asked = [set(places(says)) for says in english]
    spared = {"count"} if isinstance(message.id, tuple) else set()
    allowed = set.union(*asked) | spared
    if not (allowed - spared <= set(there) <= allowed or (asked[0], set(there)) == _CLOCK):
        yield f"its places are {sorted(set(there))}, and those of the English {sorted(allowed)}"
    if any(Counter(form)[sign] > max(Counter(says)[sign] for says in english) for sign in _LAYOUT):
        yield f"it has a sign of {_LAYOUT!r} that the English has not"
    if re.findall(r"<[^<>]*>", form) != re.findall(r"<[^<>]*>", english[-1]):
        yield "its tags are not those of the English"
    if form != form.strip():
        yield "it begins or ends with a space"
    if signs := lacking(form):
        yield f"the papers' fonts have no sign for {' '.join(signs)}"


def places(message: str) -> list[str]:
    """The names of what is put into a sentence, as Python's own formatter reads them; nothing says how it is put in."""
    found = list(string.Formatter().parse(message))
    if odd := [name for _, name, how, kind in found if name is not None and (how or kind)]:
        raise ValueError(f"{odd[0]!r} is not a name alone")
    return sorted({name for _, name, _, _ in found if name is not None})


def main(begin: str = "") -> None:
    """Write the template, and bring every translation up to date.

    Args:
        begin: The tag of a language to begin; empty for none.
    """
    TEMPLATE.write_text(template(), encoding="utf-8", newline="\n")
    home = TEMPLATE.parent
    if begin and not (home / f"{begin}.po").exists():
        (home / f"{begin}.po").write_text(begun(begin), encoding="utf-8", newline="\n")
    listed, wrong = listed_now(), []
    for path in sorted(home.glob("*.po")):
        catalog = read(path)
        path.write_text(renewed(catalog, listed), encoding="utf-8", newline="\n")
        catalog = read(path)
        if found := [f"{path.name}:{fault}" for fault in faults(catalog)]:
            wrong += found
            continue
        done = sum(bool(message.id and message.string and any(message.string)) for message in catalog)
        print(f"{path.name}: {done} of {len(catalog)} sentences")
        path.with_suffix(".mo").write_bytes(compiled(catalog))
    if wrong:
        raise SystemExit("\n".join(wrong))


if __name__ == "__main__":
    main(*sys.argv[1:2])
