"""What the author has accepted, in the turner's words.

This module owns the opening and the sentence of a finding that stands because its author
says why: it is no warning, so it says what is meant. The warnings are for `words`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from handouts_build.compute.solid.words import length, marked, named, oval
from handouts_build.compute.working import meant
from handouts_build.language import tr, tr_later
from handouts_build.quantities import Err, Rule
from handouts_build.workpiece import Code, Verdict

__all__ = ["on_purpose"]

_MARKED: Mapping[Code, Mapping[str, Err]] = {
    Code.SLENDER: {"long_mm": Err.OVER, "neck_mm": Err.UNDER},
    Code.OVERHANG: {"overhang_mm": Err.OVER, "diameter_mm": Err.UNDER},
}
"""Numbers that are told as the warning has them: they stand on the page at marks of the rule."""


def on_purpose(found: Verdict, rule: Rule, reason: str, *, places: int = 1) -> str:
    """A finding that may be accepted, and is.

    Args:
        found: As the workpiece tells it; `Code.acceptable`.
        rule: The unit that leads.
        reason: Why the author accepts it.
        places: In how many like places it is found.
    """
    opening, words = _MEANT[found.code]
    names = [named(subject) for subject in found.about]
    sizes = {name: length(value, rule) for name, value in found.numbers.items() if name.endswith("_mm")}
    sizes |= {name: marked(found.numbers[name], rule, safe) for name, safe in _MARKED.get(found.code, {}).items()}
    if found.code in (Code.DRIED_OVAL, Code.THREAD_DRIED) and found.numbers:
        sizes["oval"] = oval(found.numbers, rule)
    return meant(tr(opening), words(names, sizes, places), reason)


def _dried(names: list[str], sizes: Mapping[str, str], _: int) -> str:
    if "oval" in sizes:
        return tr("{what} was turned green and has dried since, to about {across}", what=names[0], across=sizes["oval"])
    return tr("{what} was turned green and has dried since", what=names[0])


def _thin(names: list[str], sizes: Mapping[str, str], places: int) -> str:
    values = {"left": sizes["left_mm"], "first": names[0], "second": names[1]}
    if places > 1:
        return tr(
            "{left} in {places} like places, at the thinnest between {first} and {second}", places=places, **values
        )
    return tr("{left} between {first} and {second}", **values)


def _thread_dried(names: list[str], sizes: Mapping[str, str], _: int) -> str:
    if "oval" in sizes:
        return tr("{thread} is cut in green wood, and dries to about {across}", thread=names[0], across=sizes["oval"])
    return tr("{thread} is cut in green wood, and dries", thread=names[0])


_MEANT: Mapping[Code, tuple[str, Callable[[list[str], Mapping[str, str], int], str]]] = {
    Code.THIN_WEB: (tr_later("Thin on purpose"), _thin),
    Code.SLENDER: (
        tr_later("Slender on purpose"),
        lambda _, sizes, __: tr("{long} long, {neck} where it is thin", long=sizes["long_mm"], neck=sizes["neck_mm"]),
    ),
    Code.OVERHANG: (
        tr_later("Long overhang on purpose"),
        lambda _, sizes, __: tr(
            "{overhang} out of a hold {across} across", overhang=sizes["overhang_mm"], across=sizes["diameter_mm"]
        ),
    ),
    Code.THIN_NECK: (
        tr_later("Thin neck on purpose"),
        lambda names, sizes, _: tr(
            "{neck} across, and {cut} {out} out from it", neck=sizes["neck_mm"], cut=names[0], out=sizes["out_mm"]
        ),
    ),
    Code.CUTS_NOTHING: (
        tr_later("No wood in the way on purpose"),
        lambda names, _, __: tr("{cut} takes nothing away here", cut=names[0]),
    ),
    Code.SHORT_GRIP: (
        tr_later("Short grip on purpose"),
        lambda _, sizes, __: tr(
            "{have} in the jaws, of wood {across} across", have=sizes["have_mm"], across=sizes["diameter_mm"]
        ),
    ),
    Code.PITH_LEFT: (
        tr_later("Pith left on purpose"),
        lambda _, sizes, __: tr("it runs {long} through the finished part", long=sizes["long_mm"]),
    ),
    Code.BARK_LEFT: (tr_later("Bark left on purpose"), lambda *_: ""),
    Code.SAW_LEFT: (tr_later("Left from the saw on purpose"), lambda *_: ""),
    Code.DRIED_OVAL: (tr_later("Gripped oval on purpose"), _dried),
    Code.THREAD_DRIED: (tr_later("Thread cut green on purpose"), _thread_dried),
    Code.ANGLES_DIFFER: (
        tr_later("Jaws that lean otherwise on purpose"),
        lambda names, _, __: tr("they bear on an edge of {what}", what=names[0]),
    ),
    Code.RING_JAMS: (
        tr_later("Little play on purpose"),
        lambda names, sizes, _: tr(
            "{ring} has {play} on its stem and {way} along it",
            ring=names[0],
            play=sizes["play_mm"],
            way=sizes["run_mm"],
        ),
    ),
    Code.LOOSE_FIT: (
        tr_later("Loose on purpose"),
        lambda names, sizes, _: tr(
            "{on} has {play} of play under {part}", on=names[1], play=sizes["play_mm"], part=names[0]
        ),
    ),
    Code.INLAY_SUNK: (
        tr_later("Sunk on purpose"),
        lambda names, sizes, _: tr(
            "{inlay} lies {under} under the wood around it", inlay=names[0], under=sizes["under_mm"]
        ),
    ),
    Code.INLAY_PROUD: (
        tr_later("Proud on purpose"),
        lambda names, sizes, _: tr(
            "{inlay} stands {over} over the wood around it", inlay=names[0], over=sizes["over_mm"]
        ),
    ),
    Code.NARROW_MOUTH: (
        tr_later("Narrow mouth on purpose"),
        lambda names, sizes, _: tr(
            "{mouth} across, and {hollow} {deep} deep", mouth=sizes["mouth_mm"], hollow=names[0], deep=sizes["deep_mm"]
        ),
    ),
}
"""What each is called that may be accepted, and how its numbers are told."""
