"""What keys that several kinds of cut and mark share are for, in the reference's words."""

from __future__ import annotations

__all__ = ["AT", "DEEP", "DOVETAIL", "EACH", "FIRST", "FROM_END", "START", "STOP", "numbered"]

START = "Where it starts, from the left end of the blank or the hold's own middle; the wood's end if not given."
STOP = "Where it ends; the wood's other end if not given."
AT = "Its middle, from the left end of the blank; between two holes, from midway between them."
FIRST = "Angle of the first, from the top; 0 deg if not given."
FROM_END = "The end it is cut from, `left` (headstock) or `right`."
DEEP = "How deep; right through if not given."
EACH = "What one is called: `hole` gives hole 1, hole 2 and so on."
DOVETAIL = "How far its side leans, {}, so that jaws draw it in; straight if not given."


def numbered(called: str, count: int) -> list[str]:
    """What each of several is called: hole 1, hole 2; one alone bears no number.

    Args:
        called: What one is called.
        count: How many there are.
    """
    return [called] if count == 1 else [f"{called} {number}" for number in range(1, count + 1)]
