"""A call for pieces and what was sent to it, held together.

This module owns what must hold between a call and its entries: that each was sent while it was
open, by somebody who may enter, no larger than the limits, and after a project that there is.
Same files, same result: no clock is read.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from handouts_build.compute.names import Ledger
from handouts_build.compute.photographs import listed_photographs
from handouts_build.compute.prose import paragraphs
from handouts_build.language import tr, tr_count, tr_later
from handouts_build.problems import Problem, near_miss
from handouts_build.quantities import SAME, Err, Quantity, Rule, print_quantity
from handouts_build.schema import CallKeys, CallSizeKeys, Document, EntryKeys, Key, written_in
from handouts_build.sheet import Paragraph, Picture
from handouts_build.sheet.call import Award, CallEntry, CallForPieces
from handouts_build.tables.woods import said_wood

__all__ = ["SentEntry", "held_together"]

_SIZES = {"diameter": tr_later("diameter"), "height": tr_later("height"), "length": tr_later("length")}
"""Sizes that may be told, by the keys of the file, as they are printed."""


@dataclass(frozen=True)
class SentEntry:
    """An entry as it was read."""

    path: Path
    asked: EntryKeys
    document: Document

    @property
    def name(self) -> str:
        """Of its file, without the ending."""
        return self.path.stem


def held_together(
    name: str,
    asked: CallKeys,
    document: Document,
    sent: Sequence[SentEntry],
    projects: Mapping[str, str],
    unread: Sequence[str] = (),
) -> tuple[CallForPieces, tuple[Problem, ...]]:
    """A call with its entries, and everything that does not hold.

    Args:
        name: Of the call's folder.
        asked: Its file's keys.
        document: The file, for places.
        sent: What was sent to it.
        projects: The name that each project has now, by its names now and before.
        unread: Entries that there are and that could not be read: awards may go to them.
    """
    ledger = Ledger(document)
    entries = []
    problems: list[Problem] = []
    for entry in sent:
        own = Ledger(entry.document)
        entries.append(_entry(entry, projects, own))
        _must_fit(asked, entry, own)
        _must_be_known(entry, projects, own)
        problems += own.problems
    problems += _too_many(asked, sent)
    _awards_must_be_of_entries(asked, {*(entry.name for entry in sent), *unread}, ledger)
    call = CallForPieces(
        name, document.file, asked.title, asked.club, asked.place or "", _words(asked.words, ("words",), ledger),
        asked.dates.opens, asked.dates.closes, asked.dates.shown, asked.dates.results, asked.write_to,
        tuple(_words(rule, ("rules", index), ledger) for index, rule in enumerate(asked.rules)),
        tuple(_may_be_sent(asked, document)), tuple(asked.hosts), tuple(asked.judges), tuple(asked.may_enter),
        tuple(asked.criteria), tuple(entries),
        tuple(
            Award(award.entry, award.prize, _words(award.says or "", ("results", index, "says"), ledger))
            for index, award in enumerate(asked.results)
        ),
    )  # fmt: skip
    return call, (*ledger.problems, *problems)


def _entry(entry: SentEntry, projects: Mapping[str, str], ledger: Ledger) -> CallEntry:
    asked, folder = entry.asked, entry.path.with_suffix("")
    pictures = tuple(
        Picture(
            found.file, found.path, picture.shows, number, picture.by or "", picture.license or "",
        )
        for number, found in enumerate(listed_photographs(asked.pictures, folder, ledger), start=1)
        if found.listed is not None and (picture := asked.pictures[found.listed])
    )  # fmt: skip
    sizes = tuple(_printed(asked.size, _rule(entry.document), Err.NEAREST))
    return CallEntry(
        entry.name, entry.document.file, asked.maker, asked.title, tuple(map(said_wood, asked.woods)), sizes, pictures,
        _words(asked.words or "", ("words",), ledger), tuple(asked.techniques),
        projects.get(asked.inspired_by or "", ""),
    )  # fmt: skip


def _words(text: str, key: Key, ledger: Ledger) -> tuple[Paragraph, ...]:
    return paragraphs(text, key, ledger, {})


def _rule(document: Document) -> Rule:
    return Rule(lead="mm" if written_in(document.values) == "millimeters" else "in")


def _printed(size: CallSizeKeys, rule: Rule, err: Err) -> Iterator[tuple[str, str]]:
    for word in _SIZES:
        value: Quantity | None = getattr(size, word)
        if value is not None:
            yield tr(_SIZES[word]), str(print_quantity(value, rule, err=err))


def _may_be_sent(asked: CallKeys, document: Document) -> Iterator[tuple[str, str]]:
    pieces = asked.pieces
    if pieces is None:
        return
    if pieces.largest is not None:
        # A limit is printed down to its mark: who keeps to what is read keeps to it.
        for word, printed in _printed(pieces.largest, _rule(document), Err.UNDER):
            yield word, tr("at most {size}", size=printed)
    if pieces.each is not None:
        yield tr("each maker"), tr_count("at most {count} piece", "at most {count} pieces", pieces.each)
    rows = ((tr("wood"), pieces.woods), (tr("techniques"), pieces.techniques))
    yield from ((word, what) for word, what in rows if what)


def _must_fit(asked: CallKeys, entry: SentEntry, ledger: Ledger) -> None:
    """Note what the call does not take of an entry: its day, its maker, its size."""
    sent, dates = entry.asked.sent, asked.dates
    if sent > dates.closes:
        ledger.note(
            ("sent",),
            f"it was sent on {sent}, and the call closed on {dates.closes}",
            "leave it out, or move 'closes' in the call's file for everybody",
        )
    elif sent < dates.opens:
        ledger.note(
            ("sent",),
            f"it was sent on {sent}, and the call opens on {dates.opens}",
            "put the day right, or move 'opens' in the call's file",
        )
    for role, people in (("hosts", asked.hosts), ("judges", asked.judges)):
        if role not in asked.may_enter and _folded(entry.asked.maker) in map(_folded, people):
            ledger.note(
                ("maker",),
                f"{entry.asked.maker} is one of the {role} of this call, who may not enter",
                f"leave it out, or write in the call's file: may enter: [{role}]",
            )
    _must_be_small_enough(asked, entry, ledger)


def _must_be_small_enough(asked: CallKeys, entry: SentEntry, ledger: Ledger) -> None:
    largest = asked.pieces.largest if asked.pieces is not None else None
    if largest is None:
        return
    rule = _rule(entry.document)
    for word in _SIZES:
        most: Quantity | None = getattr(largest, word)
        found: Quantity | None = getattr(entry.asked.size, word)
        if most is None:
            continue
        limit = print_quantity(most, rule, err=Err.UNDER)
        if found is None:
            if word != "length":
                # What stands has no length, and what lies is limited by all three where all three are said.
                ledger.note(
                    ("size",), f"no {word} is told, and the call limits it to {limit}", f"add {word} to the size"
                )
        elif found > most * (1 + SAME):
            printed = print_quantity(found, rule, err=Err.OVER)
            ledger.note(
                ("size", word),
                f"the {word} is {printed}; the call takes at most {limit}",
                "put the size right, or leave the piece out",
            )


def _must_be_known(entry: SentEntry, projects: Mapping[str, str], ledger: Ledger) -> None:
    after = entry.asked.inspired_by
    if after is not None and after not in projects:
        hint = near_miss(after, projects) or "write the name of a project's file, without its ending"
        ledger.note(("inspired by",), f"there is no project '{after}' in this archive", hint)


def _too_many(asked: CallKeys, sent: Sequence[SentEntry]) -> Iterator[Problem]:
    """A problem at each entry with which its maker has sent more than one may."""
    most = asked.pieces.each if asked.pieces is not None else None
    if most is None:
        return
    counted: Counter[str] = Counter()
    for entry in sorted(sent, key=lambda entry: (entry.asked.sent, entry.name)):
        counted[maker := _folded(entry.asked.maker)] += 1
        if counted[maker] > most:
            yield Problem(
                entry.document.place(("maker",)),
                f"with this {entry.asked.maker} has sent {counted[maker]} pieces; the call takes {most} of one maker",
                "leave out as many as are too many",
            )


def _awards_must_be_of_entries(asked: CallKeys, names: set[str], ledger: Ledger) -> None:
    for index, award in enumerate(asked.results):
        if award.entry not in names:
            hint = near_miss(award.entry, names) or "write the name of an entry's file, without its ending"
            ledger.note(("results", index, "entry"), f"there is no entry '{award.entry}' to this call", hint)


def _folded(name: str) -> str:
    """A name as it is compared: without case, and with single spaces."""
    return " ".join(name.split()).casefold()
