"""Cases for the page's own arithmetic: sizes, units and rules at random, and what the library makes of them.

The library is asked in the ordinary way, as if the author had written these sizes; nothing
here knows how the page works anything out.
"""

from __future__ import annotations

import json
import random
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

from handouts_build.compute import compute as compute_all
from handouts_build.compute.project import compute
from handouts_build.compute.solid.session import SolidSession
from handouts_build.outputs.pages.own_size import own_size
from handouts_build.problems import ProjectError
from handouts_build.quantities import Kind, Quantity, inches, kind_of, millimetres, of_kind
from handouts_build.schema import Document, ProjectKeys, ShopKeys, load_file, load_project
from handouts_build.sheet import Sheet
from tests.projects import demo_archive

ROOT = Path(__file__).parents[2]
PROJECTS = sorted(path for path in (ROOT / "projects").glob("*.yml") if path.name != "shop.yml")
INCH = [Fraction(1, 8), Fraction(1, 16), Fraction(1, 32), Fraction(1, 64)]
METRIC = [Fraction(1), Fraction(1, 2), Fraction(1, 10)]

KEEPS_NOTHING = """for (const name of ['getItem', 'setItem', 'removeItem']) {
  const kept = Storage.prototype[name];
  Storage.prototype[name] = function (key, ...rest) {
    if (key.startsWith('handouts.')) throw new DOMException('no', 'SecurityError');
    return kept.call(this, key, ...rest);
  };
}
"""
"""A browser that refuses to keep anything of ours; the theme has no such care of its own."""


@dataclass(frozen=True)
class Case:
    """One project at sizes that somebody might type."""

    sizes: dict[str, float]
    """In base units."""
    lead: str
    inch: Fraction
    metric: Fraction

    @property
    def rule(self) -> dict[str, Any]:
        pair = [[one.numerator, one.denominator] for one in (self.inch, self.metric)]
        return {"lead": self.lead, "in": pair[0], "mm": pair[1]}


class _NoSolids(SolidSession):
    """A session that carries nothing: pages work out no solids either, and say so."""

    def carry(self, *_: Any, **__: Any) -> None:
        """Leave the wood alone."""


class Piece:
    """A project as read, to be worked out again and again."""

    def __init__(self, path: Path) -> None:
        self.name = path.stem
        self._folder = path.with_suffix("")
        self._project, self._document = load_project(path, path.name)
        self._shop = (
            load_file(ShopKeys, path.parent / "shop.yml", "shop.yml")[0]
            if (path.parent / "shop.yml").is_file()
            else ShopKeys()
        )

    def sheet(self, case: Case | None = None) -> Sheet:
        """The project worked out; at the case's sizes, unit and rule if there is one."""
        project: ProjectKeys = self._project
        document: Document = self._document
        sizes: dict[str, Quantity] = {}
        if case is not None:
            project = project.model_copy(
                update={
                    "measure": "inches" if case.lead == "in" else "millimetres",
                    "rule": inches(float(case.inch)),
                    "metric_rule": millimetres(float(case.metric)),
                }
            )
            kinds = {name: kind_of(size.is_) for name, size in project.sizes.items()}
            sizes = {name: of_kind(value, kinds[name] or Kind.NUMBER) for name, value in case.sizes.items()}
        return compute(
            project, document, name=self.name, folder=self._folder, shop=self._shop, sizes=sizes, session=_NoSolids()
        )

    def ready(self, name: str) -> Sheet:
        """One of its ready sizes, by its name."""
        sheet = compute_all(
            self._project, self._document, name=self.name, folder=self._folder, shop=self._shop, session=_NoSolids()
        )
        return next(one.sheet for one in sheet.ready if one.name == name)

    def cases(self, how_many: int, seed: int) -> Iterator[Case]:
        """Sizes within bounds mostly, sometimes without; in both units and on every rule."""
        dice = random.Random(f"{self.name} {seed}")
        for number in range(how_many):
            sizes = {name: self._drawn(size, dice) for name, size in self._project.sizes.items() if dice.random() < 0.6}
            yield Case(sizes, ("in", "mm")[number % 2], dice.choice(INCH), dice.choice(METRIC))

    @staticmethod
    def _drawn(size: Any, dice: random.Random) -> float:
        value = float(size.is_.magnitude)
        if size.choices and dice.random() < 0.95:
            return float(dice.choice(size.choices).magnitude)
        least = float(size.least.magnitude) if size.least is not None else 0.75 * value
        most = float(size.most.magnitude) if size.most is not None else 1.3 * value
        if dice.random() < 0.04:
            least, most = -0.5 * value, 4 * value
        drawn = dice.uniform(least, most)
        if kind_of(size.is_) is Kind.NUMBER:
            return float(round(drawn)) if dice.random() < 0.9 else drawn
        if kind_of(size.is_) is not Kind.LENGTH:
            return drawn
        inside = [
            value
            for value in (float(Fraction(round(drawn / 25.4 * 64), 64) * Fraction(127, 5)), round(drawn, 1))
            if least <= value <= most
        ]
        return dice.choice([*inside, *inside, drawn])


def expected(piece: Piece, case: Case) -> dict[str, Any]:
    """What the library says of a case, as plain values."""
    try:
        sheet = piece.sheet(case)
    except ProjectError as error:
        told = [(one.message, one.hint) for one in error.problems if _of_the_page(one.place.path)]
        return {"problems": sorted(told), "others": len(told) < len(error.problems)}
    rows = {
        one.name: [
            float(one.value.magnitude), one.printed.lead, one.printed.other,
            one.working.numbers, one.working.result, one.working.rounding,
        ]
        for one in sheet.dimensions
    }  # fmt: skip
    given = {f"{group.name}.{one.name}": str(one.printed) for group in sheet.groups for one in group.givens}
    return {
        "rows": rows,
        "given": given,
        "sizes": {one.name: str(one.printed) for one in sheet.sizes},
        "blanks": [[str(printed) for _, _, printed in part.blank.sides] for part in sheet.every_part],
        "stations": {
            group.name: [[float(one.at.magnitude), float(one.diameter.magnitude)] for one in group.shape.stations]
            for group in sheet.groups
            if group.shape
        },
        "boxes": {box.title for step in sheet.steps for box in step.boxes},
        "findings": sorted(
            [str(one.level), one.about, one.message, one.remedy] for one in sheet.findings if one.judged
        ),
    }


def _of_the_page(path: str) -> bool:
    """Whether a problem is one the page can find: not one of text."""
    return not path.startswith(("summary", "supplies", "pictures")) and ".steps" not in path


def known_sizes(name: str) -> list[dict[str, Any]]:
    """The sizes of a piece, as its pages work with them."""
    (sheet,) = (sheet for sheet in demo_archive().sheets if sheet.name == name)
    sizes: list[dict[str, Any]] = json.loads(own_size(sheet))["sizes"]
    return sizes
