"""Words of the trade that are not words of a project file, and what they mean there.

This module owns the table of them and the hint it gives. A spelling that is near is left
to `problems.near_miss`: this table goes first, for a chuck with a scroll is no screw chuck.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from handouts_build.problems import near_miss
from handouts_build.tables.finishes import lookup_finish
from handouts_build.tables.loading import read_rows

__all__ = ["hint_for", "trade_words"]


@cache
def trade_words() -> dict[str, tuple[str, ...]]:
    """What each word of the trade may mean, likeliest first."""
    return {row["word"]: tuple(row["meant"].split(";")) for row in read_rows("trade_words.csv")}


def hint_for(word: str, known: Iterable[str], *, alike: float = 0.6) -> str:
    """A hint for a word that is not known where it stands.

    Args:
        word: What the author wrote.
        known: What would have been right.
        alike: As `near_miss` takes it.

    Returns:
        A sentence, empty when there is nothing useful to say.
    """
    words = list(known)
    plain = " ".join(word.replace("_", " ").casefold().split())
    likely = trade_words().get(plain, ())
    if (finish := lookup_finish(plain)) is not None:
        # A finish by another of its names, as its own table has them: Danish oil, boiled linseed oil.
        likely = (*likely, finish.id)
    meant = [f"'{word}'" for word in dict.fromkeys(likely) if word in words]
    if not meant:
        return near_miss(word, words, alike=alike)
    return f"did you mean {' or '.join(said for said in (', '.join(meant[:-1]), meant[-1]) if said)}?"
