"""A piece on which the judges differ, made as small as it can be while they still differ in the same way.

    python -m tests.oracle.shrink --seed 1 --piece 27 --kind "thin web" > case.yml

Steps, cuts and keys are left out one by one, then numbers rounded, as long as the difference stays.
"""

from __future__ import annotations

import argparse
import copy
import re
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from tests.oracle.compare import Difference, compared
from tests.oracle.generate import piece
from tests.oracle.library import written

Keys = dict[str, Any]
_NEEDED = {
    "name", "say", "hold", "by", "on", "in", "diameter", "long", "end", "at", "count", "circle", "floor", "wide",
    "wood", "blank", "steps", "cut", "put", "tenon", "into", "hole", "keep", "distance", "flats", "across", "thick",
    "shape", "round", "square", "segments", "inside", "along", "says", "offset",
}  # fmt: skip
_NUMBER = re.compile(r"(\d+\.\d+) mm")


def found(project: Keys, *, missed: bool, kind: str) -> Difference | None:
    """The difference of a kind, if the judges still have it."""
    try:
        with TemporaryDirectory() as folder:
            differences = compared(project, Path(folder)).differences
    except (KeyError, IndexError, ValueError):
        return None
    return next((one for one in differences if (one.missed, one.kind) == (missed, kind)), None)


def _smaller(project: Keys) -> Iterator[Keys]:
    """The piece with one thing less."""
    for name, part in project["parts"].items():
        for step in reversed(range(len(part["steps"]))):
            if len(part["steps"]) > 1:
                less = copy.deepcopy(project)
                del less["parts"][name]["steps"][step]
                yield less
            for cut in reversed(range(len(part["steps"][step].get("cut", ())))):
                less = copy.deepcopy(project)
                del less["parts"][name]["steps"][step]["cut"][cut]
                if not less["parts"][name]["steps"][step]["cut"]:
                    del less["parts"][name]["steps"][step]["cut"]
                yield less
    for path in list(_paths(project)):
        if path[-1] not in _NEEDED:
            less = copy.deepcopy(project)
            home: Any = less
            for key in path[:-1]:
                home = home[key]
            del home[path[-1]]
            yield less
    if "profiles" in project:
        used = {keys.get("shape") for part in project["parts"].values() for step in part["steps"]
                for cut in step.get("cut", ()) for keys in cut.values()}  # fmt: skip
        for name in set(project["profiles"]) - used:
            less = copy.deepcopy(project)
            del less["profiles"][name]
            if not less["profiles"]:
                del less["profiles"]
            yield less


def _paths(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, below in items:
        if isinstance(value, dict) and path and path != ("parts",):
            yield (*path, key)
        yield from _paths(below, (*path, key))


def _rounder(project: Keys) -> Iterator[Keys]:
    """The piece with one number rounded."""
    for path in list(_paths(project)):
        home: Any = project
        for key in path[:-1]:
            home = home[key]
        number = _NUMBER.fullmatch(home[path[-1]]) if isinstance(home[path[-1]], str) else None
        if number:
            for digits in (0, 1):
                text = f"{round(float(number[1]), digits):g} mm"
                if text != home[path[-1]]:
                    less = copy.deepcopy(project)
                    there: Any = less
                    for key in path[:-1]:
                        there = there[key]
                    there[path[-1]] = text
                    yield less
                    break


def shrunk(project: Keys, *, missed: bool, kind: str) -> tuple[Keys, Difference]:
    """The smallest piece found that still has a difference.

    Raises:
        ValueError: If it has none.
    """
    best, why = project, found(project, missed=missed, kind=kind)
    if why is None:
        raise ValueError(f"the judges do not differ on {kind}")
    for ways in (_smaller, _rounder):
        more = True
        while more:
            more = False
            for less in ways(best):
                still = found(less, missed=missed, kind=kind)
                if still is not None:
                    best, why, more = less, still, True
                    break
    return best, why


def main() -> None:
    """Print the smallest piece."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--seed", type=int, required=True)
    asked.add_argument("--piece", type=int, required=True)
    asked.add_argument("--kind", required=True)
    asked.add_argument("--steps", type=int, default=2, help="as of the benchmark")
    asked.add_argument("--cuts", type=int, default=2, help="as of the benchmark")
    asked.add_argument("--false", action="store_true", help="a finding that is not so, rather than one that is missed")
    said = asked.parse_args()
    best, why = shrunk(
        piece(said.seed, said.piece, steps=said.steps, cuts=said.cuts), missed=not said.false, kind=said.kind
    )
    where = f"{why.kind} at step {why.step + 1} of {why.part}"
    print(f"# true: {'must: ' if why.missed else 'none: '}{where}\n# because: {why.why}")
    print(written(best), end="")


if __name__ == "__main__":
    main()
