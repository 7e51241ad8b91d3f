"""What has been published about the woods a turner meets.

This module owns the table of woods: names, weight, shrinkage, movement, water
when green, and the reactions people have reported. Where no value was found the
field is None and nothing is made up. It leaves the arithmetic to the trade and
the wording of warnings to the cautions.
"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass, fields
from difflib import SequenceMatcher, get_close_matches
from functools import cache

from handouts_build.tables.loading import Standing, read_rows
from handouts_build.tables.published import Published, published

__all__ = ["REACTION_WORDS", "SITE_WORDS", "Reaction", "Wood", "lookup_wood", "suggest_wood", "woods"]

REACTION_WORDS = {
    "I": "irritant",
    "S": "sensitizer",
    "C": "nasal cancer",
    "P": "pneumonitis",
    "DT": "direct toxin",
    "N": "nausea",
}
"""The chart's reaction codes in words."""

SITE_WORDS = {"S": "skin", "E": "eyes", "R": "breathing", "C": "heart", "N": "nausea"}
"""The chart's codes for what is affected, in words."""

_MATERIAL_WORDS = {"D": "dust", "LB": "leaves or bark", "W": "wood"}
_INCIDENCE_WORDS = {"R": "rare", "U": "uncommon", "C": "common", "": ""}


@dataclass(frozen=True)
class Reaction:
    """One row of the chart of reported reactions."""

    listed_as: str
    """The wood as the chart names it; it may stand for a whole family of trees."""
    reactions: tuple[str, ...]
    """Words of `REACTION_WORDS`; empty where the chart leaves the cell blank."""
    sites: tuple[str, ...]
    """Words of `SITE_WORDS`."""
    potency: str
    """The chart's plus signs, one to four; a question mark where it has one."""
    materials: tuple[str, ...]
    """What brings it on: dust, wood, leaves or bark."""
    incidence: str
    """Rare, uncommon or common; empty where the chart says nothing."""
    only_when: str
    """A condition the wood must be in, such as spalted; else empty."""
    standing: Standing
    source: str


@dataclass(frozen=True)
class Wood:
    """A wood and its published numbers; None means that none was found."""

    name: str
    """As the table files it, family first: 'walnut, black'."""
    botanical: str
    kind: str
    """Hardwood or softwood, as botanists use the words."""
    aliases: tuple[str, ...]
    sg_basic: Published | None
    """Specific gravity, ovendry mass on green volume."""
    sg_12: Published | None
    """Specific gravity, ovendry mass on volume at 12 % moisture content."""
    shrinkage_radial_pct: Published | None
    """Percent from green to ovendry; so are the next two."""
    shrinkage_tangential_pct: Published | None
    shrinkage_volumetric_pct: Published | None
    c_radial: Published | None
    """Change of size as a share, for 1 % of moisture content, 6 to 14 %; so is the next."""
    c_tangential: Published | None
    green_heartwood_mc_pct: Published | None
    """Average moisture content of green heartwood, percent of ovendry mass."""
    green_sapwood_mc_pct: Published | None
    reactions: tuple[Reaction, ...]
    """Reported reactions. Their absence says nothing about the wood."""
    notes: str
    """What a reader of the numbers must know."""

    @property
    def spoken(self) -> str:
        """The name as it is said: 'black walnut'."""
        return _spoken(self.name)

    @property
    def unpublished(self) -> tuple[str, ...]:
        """Names of the number fields for which no published value was found."""
        return tuple(name for name in _NUMBERS if getattr(self, name) is None)

    def reaction_words(self, *, conditions: frozenset[str] = frozenset()) -> tuple[str, ...]:
        """The reported reactions in words, without repeats.

        Args:
            conditions: What state the wood is in, such as spalted.
        """
        rows = [row for row in self.reactions if not row.only_when or row.only_when in conditions]
        return tuple(dict.fromkeys(word for row in rows for word in row.reactions))


_NUMBERS = tuple(field.name for field in fields(Wood) if field.type == "Published | None")


def _spoken(name: str) -> str:
    family, comma, which = name.partition(", ")
    return f"{which} {family}" if comma else name


def _key(name: str) -> str:
    """A name as it is compared: no case, accents, hyphens or spare spaces, and family last."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().casefold()
    family, _, which = plain.replace("-", " ").replace("'", "").partition(",")
    return " ".join(f"{which} {family}".split())


def _parts(cell: str) -> list[str]:
    return [part for part in cell.split(";") if part]


@cache
def _chart() -> dict[str, Reaction]:
    return {
        row["id"]: Reaction(
            listed_as=row["listed_as"],
            reactions=tuple(REACTION_WORDS[code] for code in _parts(row["reactions"])),
            sites=tuple(SITE_WORDS[code] for code in _parts(row["sites"])),
            potency=row["potency"],
            materials=tuple(_MATERIAL_WORDS[code] for code in _parts(row["source_material"])),
            incidence=_INCIDENCE_WORDS[row["incidence"]],
            only_when=row["only_when"],
            standing=Standing(row["standing"]),
            source=row["source"],
        )
        for row in read_rows("wood_reactions.csv")
    }


@cache
def woods() -> tuple[Wood, ...]:
    """Every wood in the table, by name."""
    return tuple(
        Wood(
            name=row["name"],
            botanical=row["botanical"],
            kind=row["kind"],
            aliases=tuple(_parts(row["aliases"])),
            reactions=tuple(_chart()[row_id] for row_id in _parts(row["reactions"])),
            notes=row["notes"],
            **{name: published(row, name) for name in _NUMBERS},
        )
        for row in read_rows("woods.csv")
    )


@cache
def _index() -> dict[str, Wood]:
    index: dict[str, Wood] = {}
    for wood in woods():
        for name in (wood.name, *wood.aliases):
            if index.setdefault(_key(name), wood) is not wood:
                raise ValueError(f"woods.csv: two woods answer to '{name}'")
    return index


def lookup_wood(name: str) -> Wood | None:
    """The wood of that name, or None.

    Args:
        name: In either order and any case: 'walnut, black' or 'Black walnut'.
    """
    return _index().get(_key(name))


def said_wood(name: str) -> str:
    """A wood as it is called across a bench: black walnut, of a part that says walnut, black.

    Args:
        name: What the author wrote; one that the table does not have stays as it is.
    """
    return _spoken(name) if lookup_wood(name) is not None else name


def suggest_wood(name: str) -> str:
    """A hint for a name the table does not have.

    Args:
        name: What the author wrote.

    Returns:
        A question with the likely names, empty when nothing comes near.
    """
    likely = [f"'{wood.name}'" for wood in _likely(name)]
    if not likely:
        return ""
    return f"did you mean {' or '.join([', '.join(likely[:-1]), likely[-1]] if likely[1:] else likely)}?"


def _likely(name: str) -> list[Wood]:
    """The woods that a name may stand for: those of its family, those that have all its words, those spelled alike."""
    words = [word for word in _key(name).split() if word not in _EMPTY_WORDS]
    short = " ".join(words)
    if not short:
        return []
    families = _families()
    for family in (short, short.removesuffix("wood")):
        if family in families:
            return list(families[family])
    found = [wood for key, wood in _index().items() if key == short or set(words) <= set(key.split())]
    if not found and (close := get_close_matches(short, _index(), n=3, cutoff=_ALIKE)):
        best = SequenceMatcher(None, close[0], short).ratio()
        close = [name for name in close if SequenceMatcher(None, name, short).ratio() >= best - _AS_GOOD]
        found = [_index()[name] for name in close]
    if not found:
        found = [wood for family in get_close_matches(short, families, n=1, cutoff=_ALIKE) for wood in families[family]]
    # What is left may still name a family: some sort of oak.
    found = found or [wood for word in words[::-1] for wood in families.get(word, ())]
    return list(dict.fromkeys(found))


_EMPTY_WORDS = frozenset({"wood", "tree", "timber", "lumber"})
"""They tell no wood from another."""
_ALIKE, _AS_GOOD = 0.8, 0.03
"""How like two spellings must be, from 0 to 1, and how little less like the best a second one may be."""


@cache
def _families() -> dict[str, tuple[Wood, ...]]:
    """The woods whose name goes by a family, such as oak."""
    found: dict[str, list[Wood]] = {}
    for wood in woods():
        for name in (wood.name, *wood.aliases):
            family, comma, _ = name.partition(",")
            if comma and wood not in found.setdefault(_key(family), []):
                found[_key(family)].append(wood)
    return {family: tuple(members) for family, members in found.items()}
