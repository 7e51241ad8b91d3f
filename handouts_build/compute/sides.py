"""The side on which a value is safe to round, so that one value prints as one size wherever it stands.

This module owns who says the side: the author, the value that a formula only names, or
the joint that a tenon is turned for. A tenon that is rounded up to its hole's own size
does not go in, so it is rounded down unless the author says otherwise: common practice,
no published source.
"""

from __future__ import annotations

from collections.abc import Iterator

from handouts_build.compute.names import Ledger
from handouts_build.formulas import Name
from handouts_build.quantities import Err
from handouts_build.schema import DimensionKeys, Formula, Project

__all__ = ["side_of", "tenons_of"]


def side_of(name: str, own: DimensionKeys, ledger: Ledger, tenons: frozenset[str]) -> Err:
    """The side that one of the author's dimensions is rounded to.

    Args:
        name: Its name.
        own: Its keys.
        ledger: Knows the sides of the values settled so far.
        tenons: Names that say how thick a tenon for a hole is.
    """
    if "err" in own.model_fields_set:
        return Err(own.err)
    return ledger.side(own.formula) or (Err.UNDER if name in tenons else Err(own.err))


def tenons_of(project: Project) -> frozenset[str]:
    """Names of values that say how thick a tenon for a hole is."""
    return frozenset(
        formula.tree.name for formula in _diameters(project) if formula is not None and isinstance(formula.tree, Name)
    )


def _diameters(project: Project) -> Iterator[Formula | None]:
    """Diameters of the tenons of profiles, and of those that a joint names."""
    joined = {(one.put, one.tenon) for one in (project.assembly.joints if project.assembly else ())}
    for profile in project.profiles.values():
        for item in profile.along:
            if item.tenon is not None:
                yield item.tenon.diameter
    for name, part in project.parts.items():
        for step in part.steps:
            for kind, keys in (item.only for item in step.cut):
                diameter = keys.written("diameter")
                if kind == "tenon" and (name, keys.text("name") or kind) in joined and isinstance(diameter, Formula):
                    yield diameter
