"""How a value is printed, so that one value prints as one size wherever it stands.

This module owns who says it: the author, the value that a formula only names, or what the
value is for. A tenon that goes into a hole is told by calipers and rounded down unless the
author says otherwise, since no mark of a rule is fine enough for a fit: common practice, no
published source. A bit, or a hole that a bit leaves, is as wide as it is.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from handouts_build.compute.names import Ledger
from handouts_build.formulas import Name
from handouts_build.quantities import Err, Manner
from handouts_build.schema import DimensionKeys, Formula, ProjectKeys
from handouts_build.trade import CHAPTERS
from handouts_build.trade.fit import TENON

__all__ = ["Fits", "fits_of", "manner_of"]

_CHAPTER = "chapter"
"""The key of a working that says which chapter it is: each chapter has a model of its own."""

_BORED = ("bore", "holes", "end_holes", "end holes")
"""Cuts that a bit makes, by their words."""


@dataclass(frozen=True)
class Fits:
    """Names of values that fit something, by a project's own use of them."""

    tenons: frozenset[str]
    """How thick a tenon for a hole is."""
    holes: frozenset[str]
    """How wide a bit is, or a hole."""


def manner_of(name: str, own: DimensionKeys, ledger: Ledger, fits: Fits) -> Manner:
    """How one of the author's dimensions is printed.

    Args:
        name: Its name.
        own: Its keys.
        ledger: Knows how the values settled so far are printed.
        fits: What is a tenon and what a hole.
    """
    manner = ledger.manner(own.formula)
    if name in fits.holes:
        found = Manner(exact=True)
    elif manner is not None:
        found = manner
    elif name in fits.tenons:
        found = TENON
    else:
        found = Manner()
    keys = own.model_fields_set
    return replace(
        found,
        err=Err(own.err) if "err" in keys or (found.exact and manner is None) else found.err,
        fine=own.fine if "fine" in keys else found.fine,
        exact=found.exact and "fine" not in keys,
    )


def fits_of(project: ProjectKeys) -> Fits:
    """What a project's values are used for, where a formula only names one."""
    return Fits(frozenset(_named(_tenons(project))), frozenset(_named(_holes(project))))


def _named(formulas: Iterator[Formula | None]) -> Iterator[str]:
    """The names that formulas only name."""
    for formula in formulas:
        if formula is not None and isinstance(formula.tree, Name):
            yield formula.tree.name


def _tenons(project: ProjectKeys) -> Iterator[Formula | None]:
    """Diameters of the tenons of profiles, and of those that a joint names."""
    joined = {(joint.put, joint.tenon) for joint in (project.assembly.joints if project.assembly else ())}
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


def _holes(project: ProjectKeys) -> Iterator[Formula | None]:
    """Diameters of bits and holes: what a chapter is told as one, and what is bored."""
    for model in project.workings.values():
        chapter: str = getattr(model, _CHAPTER)
        for given in CHAPTERS[chapter].givens:
            said = getattr(model, given.name)
            if given.exact and isinstance(said, Formula):
                yield said
    for part in project.parts.values():
        for step in part.steps:
            for kind, keys in (item.only for item in step.cut):
                diameter = keys.written("diameter") if kind in _BORED else None
                if isinstance(diameter, Formula):
                    yield diameter
