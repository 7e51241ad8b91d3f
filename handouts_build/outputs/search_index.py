"""An index to search in pieces: what a query needs is loaded, however many pages there are.

This module owns its form. Terms stand in shards in the order of the alphabet, each with the
sections that have it and how much it tells of them; what is shown of a section stands in chunks
of its own; the words that there are, for typing errors, stand by their first letter. All are
scripts, for a page on a disk can load nothing else.
"""

from __future__ import annotations

import base64
import html
import json
import math
import re
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from handouts_build.outputs.search_words import rules, terms

__all__ = ["FoundSection", "search_index"]

_SHARD = 12_000
"""Letters in a shard of terms."""
_CHUNK = 4_000
"""Letters in a chunk of what is shown."""
_SHOWN = 180
"""Letters shown of a section."""
_TITLE, _PAGE = 3.0, 0.5
"""What a word in a section's title, and in that of its page, counts beside one in its text."""
_STEPS = 24.0
"""Steps of weight in a term's worth of 1."""

_TAG = re.compile(r"<[^>]*>")


@dataclass(frozen=True)
class FoundSection:
    """One section of a page, as it is found."""

    location: str
    """Its address on the site; that of a page's own section has no fragment."""
    title: str
    text: str
    boost: float = 1.0
    picture: str = ""
    """The address of a small picture of it on the site; empty where there is none."""
    besides: str = ""
    """What it is found by, too, and that is not shown of it."""

    @property
    def page(self) -> str:
        """The address of its page."""
        return self.location.partition("#")[0]


def search_index(sections: Iterable[FoundSection]) -> dict[str, bytes]:
    """The files of an index, by name.

    Args:
        sections: All that may be found.
    """
    pages: dict[str, list[FoundSection]] = {}
    for section in sections:
        pages.setdefault(section.page, []).append(section)
    ordered = [section for page in pages.values() for section in sorted(page, key=lambda found: "#" in found.location)]
    first_of: dict[str, int] = {}
    for index, section in enumerate(ordered):
        first_of.setdefault(section.page, index)
    having = _weights(ordered, first_of)
    made: dict[str, bytes] = {}
    shards: list[str] = []
    for names in _cut(sorted(having), lambda name: len(name) + 4 + int(len(having[name]) * 3), _SHARD):
        made[f"terms-{len(shards)}.js"] = _script("terms", {name: _packed(having[name]) for name in names})
        shards.append(names[0])
    chunks: list[int] = []
    homes = list(pages)
    for page_names in _cut(homes, lambda page: sum(len(_shown(found)) + 90 for found in pages[page]), _CHUNK):
        start = first_of[page_names[0]]
        rows = [ordered[start + at] for at in range(sum(len(pages[page]) for page in page_names))]
        entries = [
            [
                found.location,
                found.title,
                _shown(found),
                first_of[found.page],
                *([found.picture] if found.picture else ()),
            ]
            for found in rows
        ]
        made[f"shown-{len(chunks)}.js"] = _script("shown", [start, entries])
        chunks.append(start)
    letters: dict[str, dict[str, int]] = defaultdict(dict)
    for name, sections_of in having.items():
        if name.isalpha():
            letters[_letter(name)][name] = len(sections_of)
    for letter, words in sorted(letters.items()):
        made[f"words-{letter}.js"] = _script("words", [letter, dict(sorted(words.items()))])
    made["start.js"] = _script(
        "start",
        {
            "count": len(ordered), "shards": shards, "chunks": chunks, "letters": sorted(letters),
            "steps": _STEPS, **rules(),
        },
    )  # fmt: skip
    return made


def _letter(name: str) -> str:
    """By which file a word is looked up: a letter of the alphabet, or the number of another."""
    return name[0] if "a" <= name[0] <= "z" else str(ord(name[0]))


def _weights(ordered: Sequence[FoundSection], first_of: Mapping[str, int]) -> dict[str, list[tuple[int, int]]]:
    """For each term, the sections that have it and how much it tells of each, in steps."""
    texts = [Counter(terms(f"{_plain(section.text)} {section.besides}")) for section in ordered]
    usual = sum(map(Counter.total, texts)) / max(1, len(texts)) or 1.0
    titles = [Counter(terms(section.title)) for section in ordered]
    having: dict[str, list[tuple[int, int]]] = defaultdict(list)
    for index, section in enumerate(ordered):
        length = 0.6 + 0.4 * texts[index].total() / usual
        # As in Okapi BM25 (Robertson and Zaragoza, 2009): a word said often says little more than one said twice.
        worth: dict[str, float] = {
            name: section.boost * 1.8 * count / (count + 0.8 * length) for name, count in texts[index].items()
        }
        # What is called so is what is meant, even on a page that is seldom wanted.
        for name in titles[index]:
            called = _TITLE / math.sqrt(titles[index].total()) + 0.5
            worth[name] = worth.get(name, 0) + called * math.sqrt(section.boost)
        for name in titles[first_of[section.page]]:
            worth[name] = worth.get(name, 0) + _PAGE * section.boost
        if "#" not in section.location:
            # Who types what a piece is called wants the piece.
            worth = {name: value * (1.25 if name in titles[index] else 1) for name, value in worth.items()}
        for name, value in worth.items():
            having[name].append((index, max(1, min(255, round(value * _STEPS)))))
    return having


def _plain(text: str) -> str:
    return html.unescape(_TAG.sub(" ", text))


def _shown(section: FoundSection) -> str:
    """What is shown of a section: as much of its text as ends with a word."""
    text = " ".join(_plain(section.text).split())
    return text if len(text) <= _SHOWN else text[:_SHOWN].rpartition(" ")[0] + " …"


def _packed(having: Sequence[tuple[int, int]]) -> str:
    """Sections and weights in few letters: steps from one section to the next, 7 bits a byte, each with its weight."""
    made = bytearray()
    last = 0
    for index, weight in having:
        step, last = index - last, index
        while step > 127:
            made.append(step & 127 | 128)
            step >>= 7
        made += bytes((step, weight))
    return base64.b64encode(made).decode()


def _cut(names: Sequence[str], size: Callable[[str], int], most: int) -> Iterator[list[str]]:
    """Names in groups of no more than a size, unless one alone is larger."""
    group: list[str] = []
    held = 0
    for name in names:
        needed = size(name)
        if group and held + needed > most:
            yield group
            group, held = [], 0
        group.append(name)
        held += needed
    if group:
        yield group


def _script(kind: str, entries: object) -> bytes:
    return f"handoutsSearch.{kind}({json.dumps(entries, ensure_ascii=False, separators=(',', ':'))});\n".encode()
