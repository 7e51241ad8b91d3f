"""What holds a part, as the workpiece takes it.

This module owns which of the workpiece's holds an author's words and keys stand for: of
several kinds that share a word, a key says which is meant. Which words and keys a kind
has is declared with it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from handouts_build import workpiece as kernel
from handouts_build.compute.names import Unsettled
from handouts_build.compute.solid.declared import Reading
from handouts_build.schema import Formula, HoldKeys, Key
from handouts_build.workpiece.declared import KeyKind, keys_of

__all__ = ["holds_of"]

_ALWAYS = frozenset({"by", "says", "tailstock", "from", "reversed"}) | {key.word for key in keys_of(kernel.BaseHold)}


def holds_of(hold: HoldKeys, at: Key, reading: Reading) -> tuple[kernel.BaseHold, ...] | None:
    """A step's holds; None after noting what is wrong with them.

    Args:
        hold: As the author wrote it.
        at: Where it stands.
        reading: Gives keys their values and takes note of problems.
    """
    try:
        word, kind = _meant(hold)
        _fits(hold, kind, word, at, reading)
        return tuple(_made(hold, kind, at, reading))
    except Unsettled:
        return None


def _meant(hold: HoldKeys) -> tuple[str, type[kernel.BaseHold]]:
    """The word that counts, and the kind that it stands for with the keys that are given."""
    # What only helps another hold counts where it stands alone.
    holding = [word for word in hold.by if word not in kernel.HELPING] or hold.by
    kinds = {word: _kinds_of(word) for word in holding}
    # Of a block glued on and held in a chuck, it is the block that bears on the wood.
    bearing = (word for word in holding if any(kind.bears_on_wood and word in kind.words for kind in kinds[word]))
    word = next(bearing, holding[0])
    given = hold.given()
    keyed = (kind for kind in kinds[word] if kind.by_key in given)
    plain = (kind for kind in kinds[word] if not kind.by_key)
    return word, next(keyed, None) or next(plain)


def _kinds_of(word: str) -> Sequence[type[kernel.BaseHold]]:
    return [kind for kind in kernel.HOLDS if word in (*kind.words, *kind.other_words)]


def _fits(hold: HoldKeys, kind: type[kernel.BaseHold], word: str, at: Key, reading: Reading) -> None:
    """Refuse keys that mean nothing with this kind of hold, and those that do not go together.

    Raises:
        Unsettled: After noting them.
    """
    taken = [declared.word for declared in keys_of(kind) if declared.word not in _ALWAYS]
    wrong = [key for key in hold.words() if key in hold.given() and key not in _ALWAYS and key not in taken]
    for key in wrong:
        known = ", ".join(f"'{word}'" for word in taken)
        reading.ledger.note((*at, key), f"'{key}' says nothing about a hold by {word}", f"it takes {known}")
    misfit = kind.misfit(hold.given())
    if misfit is not None and not wrong:
        reading.ledger.note(at, *misfit)
    if wrong or misfit is not None:
        raise Unsettled


def _made(hold: HoldKeys, kind: type[kernel.BaseHold], at: Key, reading: Reading) -> Iterator[kernel.BaseHold]:
    """The hold, or several over which the cuts are repeated."""
    single: dict[str, Any] = {"steadied": len(hold.by) > 1 and not kernel.HELPING.isdisjoint(hold.by)}
    if kind.turns:
        start = hold.from_ and reading.number(KeyKind.LENGTH, hold.from_, (*at, "from"), "the hold's from")
        single |= {"datum": kernel.Datum(start or 0.0, hold.reversed), "tailstock": bool(hold.tailstock)}
    turns: list[dict[str, Any]] = [{}]
    for declared in keys_of(kind):
        key, written = (*at, declared.word), hold.written(declared.word)
        if not written:
            continue
        if declared.kind is KeyKind.PAIR and isinstance(written, list):
            pairs = (pair for pair in written if isinstance(pair, list))
            turns = [{declared.field: first, declared.second: second} for first, second in pairs]
        elif declared.kind is KeyKind.ANGLES and isinstance(written, list):
            turns = [
                {declared.field: reading.value(declared, turn, (*key, index), called="hold")}
                for index, turn in enumerate(written)
                if isinstance(turn, Formula)
            ]
        else:
            single[declared.field] = reading.value(declared, written, key, called="hold")
    for repeated in turns:
        yield kind(**single, **repeated)
