"""Jigs: parts that a piece is made with and that are no part of it.

This module owns which parts of a project are the piece and which are jigs, and what a jig
may not be. A jig is worked out, judged and shown like a part; whoever asks what the piece
is, of what wood and for whom, asks the project without them.
"""

from __future__ import annotations

from handouts_build.compute.names import Ledger
from handouts_build.schema import PartKeys, ProjectKeys

__all__ = ["jigs_are_apart", "project_of", "without_jigs"]


def without_jigs(project: ProjectKeys) -> ProjectKeys:
    """The project as the piece alone."""
    own = {name: part for name, part in project.parts.items() if not part.jig}
    return project if len(own) == len(project.parts) else project.model_copy(update={"parts": own})


def project_of(part: PartKeys, project: ProjectKeys) -> ProjectKeys:
    """The project that a part is judged in: the piece, or, of a jig, the jig alone, which nobody eats from or wears.

    Args:
        part: One of the project's.
        project: With all its parts.
    """
    if not part.jig:
        return without_jigs(project)
    return project.model_copy(update={"parts": {"jig": part}, "piece": []})


def jigs_are_apart(project: ProjectKeys, ledger: Ledger) -> None:
    """A jig falls off nothing, is joined to nothing, and is not all there is.

    Args:
        project: Its parts and joints.
        ledger: Takes note of what is wrong.
    """
    jigs = {name for name, part in project.parts.items() if part.jig}
    if jigs and len(jigs) == len(project.parts):
        name = next(iter(project.parts))
        ledger.note(
            ("parts", name, "jig"), "every part is a jig, and none is the piece", "leave 'jig' out of the piece"
        )
    for name, part in project.parts.items():
        fallen = part.falls_off in jigs or (part.jig and part.falls_off is not None)
        if fallen:
            message = f"'{name}' falls off '{part.falls_off}', and a jig is made of wood of its own"
            ledger.note(("parts", name, "falls off"), message, "leave it out, and give the part its own blank")
    for index, joint in enumerate(project.assembly.joints if project.assembly is not None else ()):
        for word, named in (("put", joint.put), ("into", joint.into)):
            if named in jigs:
                message = f"'{named}' is a jig, and no part of the finished piece"
                ledger.note(("assembly", "joints", index, word), message, "join the parts of the piece")
