"""What is generated from the models: the editor's schema and the reference, a page a room.

This module owns these texts. They say what the models say and nothing of their own,
so a key cannot be added without being described.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

from pydantic.json_schema import GenerateJsonSchema

from handouts_build.formulas import FUNCTIONS
from handouts_build.quantities import UNITS, count
from handouts_build.schema.calls import CallKeys, EntryKeys
from handouts_build.schema.cut_keys import HOLD_WORDS
from handouts_build.schema.evening import DemonstrationKeys, RunsKeys
from handouts_build.schema.known_keys import Keys
from handouts_build.schema.models import ProjectKeys
from handouts_build.schema.shop import ShopKeys
from handouts_build.schema.unsaid import RULES
from handouts_build.tables.caution_facts import WORDS, Fact
from handouts_build.tables.woods import woods
from handouts_build.trade import CHAPTERS

__all__ = [
    "REFERENCE",
    "DescribedKey",
    "call_schema",
    "demonstration_schema",
    "entry_schema",
    "every_key",
    "project_schema",
    "reference_pages",
    "runs_schema",
    "shop_schema",
    "words_of_keys",
]


REFERENCE = "reference"
"""The folder of these pages on the site."""


def project_schema() -> str:
    """The JSON schema of a project file, for editors."""
    return _schema(ProjectKeys, "A project file for handouts-build")


def shop_schema() -> str:
    """The JSON schema of a shop file, for editors."""
    return _schema(ShopKeys, "A shop file for handouts-build")


def demonstration_schema() -> str:
    """The JSON schema of a demonstration's file, for editors."""
    return _schema(DemonstrationKeys, "A demonstration for handouts-build")


def call_schema() -> str:
    """The JSON schema of a call for pieces, for editors."""
    return _schema(CallKeys, "A call for pieces for handouts-build")


def entry_schema() -> str:
    """The JSON schema of an entry to a call, for editors."""
    return _schema(EntryKeys, "An entry to a call for handouts-build")


def runs_schema() -> str:
    """The JSON schema of a file of recorded runs, for editors."""
    return _schema(RunsKeys, "Recorded runs for handouts-build")


@cache
def _described(model: type[Keys]) -> dict[str, Any]:
    """The JSON schema of a model, made once; nothing here changes it."""
    return model.model_json_schema(schema_generator=_AsDeclared)


class _AsDeclared(GenerateJsonSchema):
    """Leaves everything in the order in which it is declared: an editor writes and lists keys in it."""

    def sort(self, value: Any, parent_key: str | None = None) -> Any:  # noqa: ARG002 (pydantic's)
        """As it is."""
        return value


def _schema(model: type[Keys], title: str) -> str:
    made = {"$schema": "https://json-schema.org/draft/2020-12/schema", **_described(model), "title": title}
    return json.dumps(made, ensure_ascii=False, indent=1) + "\n"


def reference_pages() -> dict[str, str]:
    """The reference of project, shop and other files, as Markdown: each page by its path on the site."""
    rooms = {
        "project-file": _opening(),
        "sizes": _room("Sizes, formulas and outlines", lambda key: key in _OF_SIZES),
        "steps": _room("Parts, steps and the finished piece", lambda key: key not in _OF_SIZES),
        "keys-of-cuts": _listed("cuts", lambda key: key.startswith(_CUTS)),
        "keys-of-holds": _listed(
            "blanks, holds and marks", lambda key: key.startswith(_OWN_PAGE) and not key.startswith(_CUTS)
        ),
        "unsaid": _unsaid(),
        "workings": _chapters(),
        "words": _words(),
        "woods": _woods(),
        "shop": _shop(),
        "evenings": _evenings(),
        "calls": _calls(),
    }
    return {f"{REFERENCE}/{name}.md": "\n".join(rows) + "\n" for name, rows in rooms.items()}


def _opening() -> Iterator[str]:
    yield _OPENING.format(
        units=", ".join(f"`{unit}`" for unit in UNITS),
        functions=", ".join(f"`{name}`" for name in sorted(FUNCTIONS)),
    )
    schema = _described(ProjectKeys)
    yield from ("## A project", "", str(schema["description"]), "")
    yield from _table(schema)


_OPENING = """\
# The project file

A project is one YAML file, and a folder of the same name for its pictures. Who begins,
begins with [an hour from an empty folder to an evening](tutorial.md); who wants to do one
thing, with [Tasks](tasks.md): drill around an equator, hold by a tenon, let a reader choose.

Here is every key, a page for each room of the file. Keys of more than one word have spaces
in them. A key that is not listed is refused, with the nearest one that is.

- [Sizes, formulas and outlines](sizes.md): `sizes`, `dimensions`, `ready sizes`, `keep`, `profiles`
- [Parts, steps and the finished piece](steps.md): `parts`, `steps`, `stacks`, `laminates`, `assembly`, `pictures`
- [Blanks, holds, marks and cuts](cuts.md), each with a drawing and an example; in lists,
  the [keys of blanks, holds and marks](keys-of-holds.md) and the [keys of cuts](keys-of-cuts.md)
- [What need not be said](unsaid.md): what is filled in from the rest of the file
- [Chapters for workings](workings.md): what the trade's arithmetic works out
- [Words the safety rules know](words.md) and [Woods](woods.md)
- [The shop file](shop.md), [the files of evenings](evenings.md), and [calls for pieces](calls.md)

## How values are written

A *measure* is a number with its unit: `2 1/4 in`, `2.25 in`, `3/8"`, `57 mm`, `22.5 deg`.
A length always has its unit. The units are {units}.

A *formula* is made of names, measures, `+ - * / ^`, brackets, and the functions
{functions}. `pi` is known, and `rule` is the finest mark on the rule. `1/64 in` in a
formula is one measure. A part of something has a dot: `octagon.setback`.

A *line* is one line of text; a *text* may have several paragraphs with an empty line
between them. `*stars*` give emphasis, and `{{name}}` puts a worked-out value in, in
both units; not in a title, nor in what `says` calls a size, a dimension, a working or a
profile.
"""


_BACK = "Every other key: [The project file](project-file.md)."


_OF_SIZES = frozenset({"sizes", "dimensions", "ready sizes", "keep", "profiles"})
"""Keys of a project that are about numbers; all others are about wood and work."""


def _room(title: str, wanted: Callable[[str], bool]) -> Iterator[str]:
    """The maps below some keys of a project, but those of blanks, holds, marks and cuts."""
    yield from (f"# {title}", "", _BACK, "")
    yield from _maps(lambda key: wanted(key.partition(".")[0]) and not key.startswith(_OWN_PAGE))


def _listed(kinds: str, wanted: Callable[[str], bool]) -> Iterator[str]:
    says = "The same keys with a drawing and an example of each kind: [Blanks, holds, marks and cuts](cuts.md)."
    yield from (f"# Keys of {kinds}", "", says, "", _BACK, "")
    yield from _maps(wanted)


def _maps(wanted: Callable[[str], bool]) -> Iterator[str]:
    schema = _described(ProjectKeys)
    for key, name in _below(schema):
        if wanted(key):
            definition = schema["$defs"][name]
            yield from (f"## {key}", "", str(definition.get("description", "")), "")
            yield from _table(definition)


def _below(schema: dict[str, Any]) -> Iterator[tuple[str, str]]:
    """Every kind of map a project file holds, each once, with the key it stands under."""
    seen: set[str] = set()
    waiting: list[tuple[str, dict[str, Any]]] = [("", schema)]
    while waiting:
        prefix, definition = waiting.pop(0)
        for key, described in definition.get("properties", {}).items():
            name = _map_of(described)
            if name and name not in seen and not name.endswith("Working"):
                seen.add(name)
                path = f"{prefix}.{key}".strip(".")
                yield path, name
                waiting.append((path, schema["$defs"][name]))


@dataclass(frozen=True)
class DescribedKey:
    """One key of one kind of map."""

    where: str
    """The way to the map, such as `parts.steps`; the kind of file for its own keys."""
    key: str
    says: str
    example: str
    choices: tuple[str, ...]
    """The only words there are; empty where others may stand too."""
    default: str
    needed: bool


def every_key() -> Iterator[DescribedKey]:
    """Every key of every file, but those of blanks, holds, marks and cuts, which `describe_cuts` tells."""
    files: tuple[tuple[str, type[Keys]], ...] = (
        ("a project", ProjectKeys),
        ("the shop file", ShopKeys),
        ("a demonstration's file", DemonstrationKeys),
        ("a file of recorded runs", RunsKeys),
        ("a call for pieces", CallKeys),
        ("an entry to a call", EntryKeys),
    )
    for file, model in files:
        schema = _described(model)
        maps = [(file, schema), *((path, schema["$defs"][name]) for path, name in _below(schema))]
        maps += [
            (f"workings, {definition['properties']['chapter']['const']}", definition)
            for name, definition in schema["$defs"].items()
            if name.endswith("Working")
        ]
        for where, definition in maps:
            if where.startswith(_OWN_PAGE):
                continue
            needed = set(definition.get("required", ()))
            for key, described in definition.get("properties", {}).items():
                default, examples = described.get("default"), described.get("examples", ())
                yield DescribedKey(
                    where=where,
                    key=key,
                    says=str(described.get("description", "")),
                    example=str(next(iter(examples), "")),
                    choices=tuple(_choices(described)),
                    default=default if isinstance(default, str) else "",
                    needed=key in needed,
                )


_CUTS = "parts.steps.cut"
_OWN_PAGE = ("parts.blank", "parts.steps.hold", _CUTS, "parts.steps.mark")
"""Maps whose keys stand on the page of blanks, holds, marks and cuts."""


def _choices(described: dict[str, Any]) -> list[str]:
    """The only words that may stand under a key, or in its list."""
    items = described.get("items", {})
    return [str(word) for option in (described, items, *described.get("anyOf", ())) for word in option.get("enum", ())]


def _map_of(described: dict[str, Any]) -> str:
    """The definition that a key's value, or each of its values, keeps to."""
    here = described
    for option in (here, *here.get("anyOf", ())):
        for inner in (option.get("items"), *option.get("patternProperties", {}).values()):
            if isinstance(inner, dict):
                here = inner
    for option in here.get("anyOf", ()):
        if "$ref" in option:
            here = option
    return str(here.get("$ref", "")).rpartition("/")[2]


def _unsaid() -> Iterator[str]:
    yield from (
        "# What need not be said",
        "",
        _BACK,
        "",
        "A file says what nothing else in it shows; the rest is filled in as it is read. What is said stays as it is",
        "said. Words of `work` are only ever added, so that saying less takes no caution away, and saying more",
        "neither. What cuts and solid show of the work (spindle turning, drilling, hollowing, parting and the like)",
        "need not be said either. Each rule is common practice, no published source.",
        "",
        "| key | filled in | where |",
        "| --- | --- | --- |",
    )
    yield from (f"| `{rule.key}` | {f'`{rule.word}`' if rule.word else ''} | {rule.says} |" for rule in RULES)
    yield ""


_WORD_KEYS = {
    Fact.OPERATION: "work",
    Fact.HOLD: "hold.by",
    Fact.SHAPE: "shape",
    Fact.ABRASIVE: "abrasive",
    Fact.ADHESIVE: "adhesive",
    Fact.FINISH: "finish",
    Fact.CONDITION: "condition",
    Fact.PIECE: "piece",
    Fact.AUDIENCE: "audience",
    Fact.SETTING: "setting",
}
"""The keys that take the words of the safety rules."""


def _words() -> Iterator[str]:
    yield from (
        "# Words the safety rules know",
        "",
        _BACK,
        "",
        "These keys take words from a closed list, so that the safety boxes follow from them. A tool whose name",
        "ends in one of these words, as a round scraper's, counts too: "
        + ", ".join(f"`{word}`" for word in sorted(WORDS[Fact.TOOL]))
        + ".",
        "",
        "| key | words |",
        "| --- | --- |",
    )
    for key, words in words_of_keys().items():
        yield f"| `{key}` | " + ", ".join(f"`{word}`" for word in words) + " |"
    yield ""


def words_of_keys() -> dict[str, tuple[str, ...]]:
    """The closed list of words of each key that the safety rules go by."""
    return {key: tuple(sorted(HOLD_WORDS if fact is Fact.HOLD else WORDS[fact])) for fact, key in _WORD_KEYS.items()}


def _woods() -> Iterator[str]:
    yield from (
        "# Woods",
        "",
        _BACK,
        "",
        "A part's `wood` is looked up here, in either order and in any case: `walnut, black` or `Black walnut`.",
        "Another wood may be named too: nothing is known of it then, and a finding says so. *Shrinkage* is from green",
        "to dry, *movement* is with the damp of the air. Where no reaction is named, the chart used here lists none;",
        "that says nothing about the wood.",
        "",
        "| wood | also called | known of it | reported reactions |",
        "| --- | --- | --- | --- |",
    )
    for wood in woods():
        looked = CHAPTERS["wood"].words[0].look_up((wood.name,), {})
        worked = CHAPTERS["wood"].work(**looked.values, moisture=count(12))
        known = [word for law, word in (("density", "weight"), ("green_density", "green weight")) if law in worked]
        known += ["shrinkage"] if wood.shrinkage_tangential_pct is not None else []
        known += ["movement"] if wood.c_tangential is not None else []
        also = ", ".join(wood.aliases)
        told = ", ".join(
            dict.fromkeys(
                f"{word} (when {row.only_when})" if row.only_when else word
                for row in wood.reactions
                for word in row.reactions
            )
        )
        yield f"| `{wood.name}` | {also} | {', '.join(known) or 'its name'} | {told} |"
    yield ""


def _chapters() -> Iterator[str]:
    yield from (
        "# Chapters for workings",
        "",
        _BACK,
        "",
        "Each entry of `workings` names a chapter of the trade's arithmetic and gives it what it needs.",
        "Its results can be used in formulas and text under the name of the entry.",
        "",
    )
    for chapter in CHAPTERS.values():
        yield from (f"## {chapter.name}", "", chapter.about, "")
        yield from ("| key | what it is | needed? |", "| --- | --- | --- |")
        for word in chapter.words:
            what = ", ".join(f"`{choice}`" for choice in word.choices) or word.what
            yield f"| `{word.key}` | {_cell(word.says)} ({what}) | {'yes' if word.several else 'no'} |"
        for given in chapter.givens:
            left_out = "no" if given.optional else "yes"
            need = f"if not given: `{given.default}`" if given.default else left_out
            yield f"| `{given.key}` | {_cell(given.says)} ({given.kind.value}) | {need} |"
        yield from ("", "| result | what it is |", "| --- | --- |")
        for law in chapter.laws:
            yield f"| `{law.name}` | {_cell(law.says)} |"
        yield ""


def _shop() -> Iterator[str]:
    schema = _described(ShopKeys)
    yield from (
        "# The shop file",
        "",
        _BACK,
        "",
        "`shop.yml` lies beside the project files. " + str(schema["description"]),
        "",
    )
    yield from _tables(schema, above="shop", depth=2)


def _evenings() -> Iterator[str]:
    schema = _described(DemonstrationKeys)
    yield from (
        "# The files of evenings",
        "",
        _BACK,
        "",
        "## The file of a demonstration",
        "",
        "`demonstrations/<date>-<club>.yml` in the project's own folder. " + str(schema["description"]),
        "What stands under `private`, and `differently`, is never published.",
        "",
    )
    yield from _tables(schema, above="demonstration")
    schema = _described(RunsKeys)
    yield from (
        "## The file of recorded runs",
        "",
        "`dry-runs/<date>.yml` in the project's own folder; the stopwatch writes it. " + str(schema["description"]),
        "",
    )
    yield from _tables(schema, above="recorded")


_CALL_OPENING = """\
# Calls for pieces

{back}

A call asks for pieces: a yearly challenge, an exhibition, a beginners' evening. It is a folder in `calls/`, which
lies among the project files, with `call.yml` in it. What is sent lies in the folder's `entries/`: a file for each
piece, and beside it a folder of the same name with its photographs.

```text
projects/calls/offcuts-2026/call.yml
projects/calls/offcuts-2026/entries/scoop.yml
projects/calls/offcuts-2026/entries/scoop/scoop.jpg
```

1. **Write `call.yml`.** The site announces it at once: on the home page, on a page of all calls and on its own, in
   the feed and in the calendar to subscribe to. `write to` is published; write nothing there that is private.
2. **Take in what is sent**: `handouts take-in scoop.zip --call offcuts-2026`. It is tried apart like any
   stranger's file and shown to you on a page of your own disk; it is copied in only after your yes.
3. **Look**: `handouts check`. An entry sent too early or too late, over a limit, by a host or a judge who may not
   enter, or made after a project that is not there keeps the call from being published as it is.
4. **Print** labels for the table and a sheet for judging: `handouts call offcuts-2026 --to papers`.
5. **From the day after it closes** the entries are shown, each beside the project it was made after. Until then
   the site tells nothing of them.
6. **Write the results** under `results` whenever they are known. They are published from the day that `dates`
   says, and not before.

Who may enter is gone by the names as they are written: a name that its maker chose freely may be anybody's.

"""


def _calls() -> Iterator[str]:
    yield _CALL_OPENING.format(back=_BACK)
    schema = _described(CallKeys)
    yield from ("## The file of a call", "", str(schema["description"]), "")
    yield from _tables(schema, above="call")
    schema = _described(EntryKeys)
    yield from ("## The file of an entry", "", str(schema["description"]), "")
    yield from _tables(schema, above="entry")


def _tables(schema: dict[str, Any], *, above: str, depth: int = 3) -> Iterator[str]:
    """The keys of a file, and of every kind of map below it under headings of a depth."""
    yield from _table(schema)
    for key, name in _below(schema):
        definition = schema["$defs"][name]
        yield from (f"{'#' * depth} {above}: {key}", "", str(definition.get("description", "")), "")
        yield from _table(definition)


def _table(definition: dict[str, Any]) -> Iterator[str]:
    required = set(definition.get("required", ()))
    yield from ("| key | what it is | example | needed? |", "| --- | --- | --- | --- |")
    for key, described in definition.get("properties", {}).items():
        examples = described.get("examples", ())
        example = f"`{examples[0]}`" if examples else ""
        says = _cell(str(described.get("description", "")))
        choices = described.get("enum") or [
            word for option in described.get("anyOf", ()) for word in option.get("enum", ())
        ]
        if choices:
            says += " One of " + ", ".join(f"`{choice}`" for choice in choices) + "."
        default = described.get("default")
        need = "yes" if key in required else f"if not given: `{default}`" if isinstance(default, str) else ""
        yield f"| `{key}` | {says} | {example} | {need} |"
    yield ""


def _cell(text: str) -> str:
    return text.replace("|", "\\|")
