"""What the author has accepted, in the turner's words.

This module owns the opening and the sentence of a finding that stands because its author
says why: it is no warning, so it says what is meant. The warnings are for `words`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from handouts_build.compute.solid.words import length, marked, named, oval
from handouts_build.compute.working import meant
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
    if found.code is Code.DRIED_OVAL and found.numbers:
        sizes["oval"] = oval(found.numbers, rule)
    return meant(opening, words(names, sizes, places), reason)


def _dried(names: list[str], sizes: Mapping[str, str], _: int) -> str:
    now = f", to about {sizes['oval']}" if "oval" in sizes else ""
    return f"{names[0]} was turned green and has dried since{now}"


def _thin(names: list[str], sizes: Mapping[str, str], places: int) -> str:
    where = f"between {names[0]} and {names[1]}"
    return f"{sizes['left_mm']} {f'in {places} like places, at the thinnest ' if places > 1 else ''}{where}"


_MEANT: Mapping[Code, tuple[str, Callable[[list[str], Mapping[str, str], int], str]]] = {
    Code.THIN_WEB: ("Thin", _thin),
    Code.SLENDER: ("Slender", lambda _, sizes, __: f"{sizes['long_mm']} long, {sizes['neck_mm']} where it is thin"),
    Code.OVERHANG: (
        "Long overhang",
        lambda _, sizes, __: f"{sizes['overhang_mm']} out of a hold {sizes['diameter_mm']} across",
    ),
    Code.THIN_NECK: (
        "Thin neck",
        lambda names, sizes, _: f"{sizes['neck_mm']} across, and {names[0]} {sizes['out_mm']} out from it",
    ),
    Code.CUTS_NOTHING: ("No wood in the way", lambda names, _, __: f"{names[0]} takes nothing away here"),
    Code.SHORT_GRIP: (
        "Short grip",
        lambda _, sizes, __: f"{sizes['have_mm']} in the jaws, of wood {sizes['diameter_mm']} across",
    ),
    Code.PITH_LEFT: ("Pith left", lambda _, sizes, __: f"it runs {sizes['long_mm']} through the finished part"),
    Code.BARK_LEFT: ("Bark left", lambda *_: ""),
    Code.SAW_LEFT: ("Left from the saw", lambda *_: ""),
    Code.DRIED_OVAL: ("Gripped oval", _dried),
    Code.ANGLES_DIFFER: ("Jaws that lean otherwise", lambda names, _, __: f"they bear on an edge of {names[0]}"),
    Code.RING_JAMS: (
        "Little play",
        lambda names, sizes, _: f"{names[0]} has {sizes['play_mm']} on its stem and {sizes['run_mm']} along it",
    ),
    Code.LOOSE_FIT: ("Loose", lambda names, sizes, _: f"{names[1]} has {sizes['play_mm']} of play under {names[0]}"),
    Code.INLAY_SUNK: ("Sunk", lambda names, sizes, _: f"{names[0]} lies {sizes['under_mm']} under the wood around it"),
    Code.INLAY_PROUD: (
        "Proud",
        lambda names, sizes, _: f"{names[0]} stands {sizes['over_mm']} over the wood around it",
    ),
    Code.NARROW_MOUTH: (
        "Narrow mouth",
        lambda names, sizes, _: f"{sizes['mouth_mm']} across, and {names[0]} {sizes['deep_mm']} deep",
    ),
}
"""What each is called that may be accepted, and how its numbers are told."""
