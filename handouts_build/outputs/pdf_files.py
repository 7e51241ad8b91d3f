"""What a PDF that is handed on may hold: paper, and nothing that acts.

pikepdf parses the file anew. This module owns what is refused, by the names of
ISO 32000: scripts, actions that start programs or send forms, and files carried inside.
"""

from __future__ import annotations

import io

__all__ = ["fault_of_pdf"]

_ACTS = {
    "/JavaScript": "a script",
    "/JS": "a script",
    "/Launch": "an action that starts a program",
    "/SubmitForm": "an action that sends what is typed",
    "/ImportData": "an action that reads a file",
    "/GoToR": "an action that opens another file",
    "/GoToE": "an action that opens a file inside",
    "/EmbeddedFiles": "a file carried inside",
    "/EmbeddedFile": "a file carried inside",
    "/Filespec": "a file carried inside",
    "/RichMedia": "a film or a program",
    "/Movie": "a film or a program",
    "/Sound": "a film or a program",
    "/Rendition": "a film or a program",
    "/XFA": "a form that is a program",
}
"""Keys of dictionaries, and their types and kinds of action, that no paper of ours has (ISO 32000-2, 12.6 and 7.11)."""
_KINDS = ("/S", "/Type", "/Subtype")
_MOST_OBJECTS = 200_000


def fault_of_pdf(content: bytes) -> str:
    """Why a PDF is not handed on, as a sentence goes on; empty for a paper.

    Args:
        content: The file.
    """
    # Loaded only where papers were handed out: the library is large.
    import pikepdf

    try:
        with pikepdf.open(io.BytesIO(content), suppress_warnings=True) as paper:
            if len(paper.objects) > _MOST_OBJECTS:
                return f"it is made of more than {_MOST_OBJECTS:,} pieces"
            return next((fault for held in paper.objects if (fault := _acting(held))), "")
    except (pikepdf.PdfError, ValueError, OSError, RuntimeError) as error:
        return f"it is no PDF that can be read ({str(error).splitlines()[0][:80] if str(error) else 'nothing is told'})"


def _acting(held: object, deep: int = 0) -> str:
    """What in an object acts; what it points to is looked at by itself."""
    import pikepdf

    if deep > _DEEPEST:
        return "its objects lie in each other without end"
    if isinstance(held, pikepdf.Array):
        return next((fault for below in held if not _apart(below) and (fault := _acting(below, deep + 1))), "")
    if not isinstance(held, pikepdf.Dictionary | pikepdf.Stream):
        return ""
    for key in held.keys():  # noqa: SIM118 (a stream of pikepdf is asked for its keys so)
        below = held.get(key)
        named = str(below) if key in _KINDS and isinstance(below, pikepdf.Name) else key
        if named in _ACTS or key in _ACTS:
            return f"it holds {_ACTS.get(named) or _ACTS[key]} ({named})"
        if not _apart(below) and (fault := _acting(below, deep + 1)):
            return fault
    return ""


def _apart(held: object) -> bool:
    """Whether an object stands by itself in the file, and so is met there."""
    return bool(getattr(held, "is_indirect", False))


_DEEPEST = 40
