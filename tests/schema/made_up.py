"""A blank, a cut, a mark and a hold that nobody has heard of, declared here and looked for everywhere.

Run in a process of its own, before anything has read the kinds that there are:
`python -m tests.schema.made_up FOLDER` prints what each part of the tool makes of them.
"""

from __future__ import annotations

import json
import math
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import ClassVar

from handouts_build import workpiece
from handouts_build.workpiece.axes import Floats
from handouts_build.workpiece.blanks import BaseBlank, Grain
from handouts_build.workpiece.cut import BaseCut, Here, Nature, Removal
from handouts_build.workpiece.cuts.turned import stub_axis
from handouts_build.workpiece.declared import choice, count, length, thing
from handouts_build.workpiece.features import Feature, FeatureKind
from handouts_build.workpiece.holds import BaseHold, End
from handouts_build.workpiece.marks import BaseMark, RingLine
from handouts_build.workpiece.solid import Solid

DIMPLE_MM = 6.0
PROJECT = """\
title: An example
summary: One thing done to one piece of wood.
kind: example
level: first steps
techniques: [an example]
sizes: {size: {is: 12 mm, says: Size}}
parts:
  piece:
    wood: maple, sugar
    blank: {round: 60 mm, long: 80 mm}
    steps:
      - name: Sink it
        say: Sink it.
        work: [drilling]
        speed: 600 rpm
        hold: {by: [wax table], pin: 4 mm}
        mark:
          - double ring: {at: 30 mm}
        cut:
          - dimple: {wide: size, deep: 6 mm, end: right, rings: 2}
"""

WEDGE = PROJECT.replace("{round: 60 mm, long: 80 mm}", "{base: 60 mm, high: 40 mm, long: 5 * size}")


@dataclass(frozen=True, kw_only=True)
class Wedge(BaseBlank):
    """A wedge, its long edge beside the axis."""

    word: ClassVar[str] = "wedge"
    title: ClassVar[str] = "wedge of wood"
    example: ClassVar[str] = "blank-wedge"
    lead: ClassVar[str] = "a"
    called: ClassVar[str] = "wedge"
    together: ClassVar[str] = "a wedge needs both base and high"
    remedy: ClassVar[str] = "write {base: 3 in, high: 2 in, long: 6 in}"
    own_grain: ClassVar[Grain | None] = Grain.ACROSS
    as_grown: ClassVar[bool] = True
    section: ClassVar[tuple[str, ...]] = ("base", "height")
    swings: ClassVar[str] = "sqrt(base^2 + height^2)"
    largest_round: ClassVar[str] = "height / 2"

    base_mm: float = length("How wide its base is.", example="3 in", above_nought=True)
    high_mm: float = length("How high it is.", example="2 in", noun="height", above_nought=True)
    long_mm: float = length("Length along the axis.", example="6 in", noun="length", above_nought=True)
    grain: Grain = Grain.ACROSS

    def wrong(self) -> tuple[str, str, str] | None:
        """Higher than wide."""
        return ("high", "the wedge is higher than wide", "lay it down") if self.high_mm > self.base_mm else None

    def body(self, segments: int) -> Solid:
        """A triangle, as long as it is told."""
        del segments
        half, low = self.base_mm / 2, -self.high_mm / 3
        outline = [(-half, low), (half, low), (0.0, 2 * self.high_mm / 3)]
        return Solid.prism([outline], start_mm=0, end_mm=self.long_mm)


@dataclass(frozen=True, kw_only=True)
class Dimple(BaseCut):
    """Sink a dimple into an end."""

    word: ClassVar[str] = "dimple"
    nature: ClassVar[Nature] = Nature.INSIDE
    turned: ClassVar[bool] = False
    drills: ClassVar[bool] = True
    along_axis: ClassVar[bool] = True

    wide_mm: float = length("How wide it is.", example="1/2 in", noun="width", above_nought=True)
    deep_mm: float = length("How deep it is.", example="1/4 in", noun="depth", above_nought=True)
    end: End = choice("The end it is in.", End, example="left")
    rings: int = count("How many rings are scored in it.", example="2", default=0)
    like: str = thing("The dimple it is like.", default="")

    @property
    def bit_mm(self) -> float | None:
        """Its own width."""
        return self.wide_mm

    @property
    def comes_out(self) -> bool:
        """Always, for the sake of the test."""
        return True

    def removal(self, here: Here) -> Removal:
        """A cylinder from the end."""
        left = self.end is End.LEFT
        mouth = here.low_mm if left else here.high_mm
        start, end = (here.before_mm, mouth + self.deep_mm) if left else (mouth - self.deep_mm, here.after_mm)
        body = Solid.cylinder(radius_mm=self.wide_mm / 2, start_mm=start, end_mm=end, segments=here.segments)
        axis = stub_axis(mouth, End.RIGHT if left else End.LEFT)
        feature = Feature(self.name, FeatureKind.BORE, axis, self.wide_mm, self.deep_mm)
        return Removal(body, features=(feature,), depth_mm=self.deep_mm)


@dataclass(frozen=True, kw_only=True)
class DoubleRing(BaseMark):
    """Two lines around the wood."""

    word: ClassVar[str] = "double ring"

    at_mm: float = length("Where the first is.", example="1 in")

    def lines(self, here: Here) -> list[Floats]:
        """Two rings, a millimetre apart."""
        return [line for more in (0, 1) for line in RingLine(at_mm=self.at_mm + more).lines(here)]


@dataclass(frozen=True, kw_only=True)
class WaxTable(BaseHold):
    """Waxed to a table that turns."""

    title: ClassVar[str] = "wax table"
    example: ClassVar[str] = "hold-wax-table"
    words: ClassVar[tuple[str, ...]] = ("wax table",)

    pin_mm: float | None = length("Diameter of its pin.", example="1/4 in", default=None)


def blank(folder: Path) -> dict[str, object]:
    """What is made of a blank that nobody has heard of."""
    from handouts_build.compute.evening.stocking import section_of
    from handouts_build.compute.solid.measured import carried
    from handouts_build.problems import ProjectError
    from handouts_build.schema import load_project, project_schema, reference_pages
    from handouts_build.schema.describe_cuts import entries
    from handouts_build.site.build import read_archive

    def refusal(text: str) -> str:
        (folder / "wrong.yml").write_text(text, encoding="utf-8")
        try:
            read_archive(folder, base=folder)
        except ProjectError as error:
            return str(error)
        finally:
            (folder / "wrong.yml").unlink()
        return ""

    (folder / "piece.yml").write_text(WEDGE, encoding="utf-8")
    project, _ = load_project(folder / "piece.yml", "piece.yml")
    archive = read_archive(folder, base=folder)
    (sheet,) = archive.sheets
    (part,) = sheet.parts
    solids = archive.session.solids[sheet.name]
    plan = solids.parts["piece"].plan
    section, long = section_of(part.blank)
    keys = json.loads(project_schema())["$defs"]["BlankKeys"]
    return {
        "plan": repr(plan.blank),
        "volume": plan.blank.solid(segments=72).volume_mm3,
        "left": carried(plan, solids.shop, solids.parts["piece"].limits)[-1].wood.volume_mm3,
        "schema": [word for word in ("base", "high") if word in keys["properties"]],
        "needed": keys["anyOf"],
        "reference": [
            word for word in ("`base`", "How high it is.", "a wedge") if word in "".join(reference_pages().values())
        ],
        "entries": [(entry.says, entry.keys) for entry in entries()["Blanks"] if entry.title == "wedge of wood"],
        "shape": part.blank.shape, "grain": part.grain,
        "sides": [(what, value.m_as("mm")) for what, value, _ in part.blank.sides],
        "stock": [section.wide.m_as("mm"), section.thick.m_as("mm"), long.m_as("mm")],
        "model": project.parts["piece"].blank.shape.word,
        "two shapes": refusal(WEDGE.replace("base: 60 mm", "round: 60 mm, base: 60 mm")),
        "a key short": refusal(WEDGE.replace("base: 60 mm, ", "")),
        "too high": refusal(WEDGE.replace("high: 40 mm", "high: 70 mm")),
    }  # fmt: skip


def main(folder: Path) -> None:
    """Declare them, work a project out, and print what was made of it."""
    workpiece.BLANKS = {**workpiece.BLANKS, Wedge.word: Wedge}
    workpiece.CUTS = {**workpiece.CUTS, Dimple.word: Dimple}
    workpiece.MARKS = {**workpiece.MARKS, DoubleRing.word: DoubleRing}
    workpiece.HOLDS = (*workpiece.HOLDS, WaxTable)
    # Only now: these read the kinds as they are loaded.
    from handouts_build.compute.solid.measured import carried
    from handouts_build.compute.step_facts import standing
    from handouts_build.schema import load_project, project_schema, reference_pages
    from handouts_build.schema.describe_cuts import entries
    from handouts_build.site.build import read_archive

    (folder / "piece.yml").write_text(PROJECT, encoding="utf-8")
    project, _ = load_project(folder / "piece.yml", "piece.yml")
    archive = read_archive(folder, base=folder)
    (sheet,) = archive.sheets
    solids = archive.session.solids[sheet.name]
    part = solids.parts["piece"]
    stage = carried(part.plan, solids.shop, part.limits)[-1]
    schema = json.loads(project_schema())["$defs"]
    (model,) = project.parts.values()
    now = standing(model, model.steps[0])
    facts = solids.facts[1]
    found = {
        "cut": stage.chips_mm3 / (math.pi * (12 / 2) ** 2 * DIMPLE_MM),
        "lines": len(stage.lines),
        "hold": repr(part.plan.steps[0].holds[0]),
        "schema": [word for word in ("dimple", "double ring") if word in {**schema["CutItem"]["properties"],
                   **schema["MarkItem"]["properties"]}] + sorted(schema["Dimple"]["required"]),
        "word of hold": [word for word in ("`wax table`",) if word in "".join(reference_pages().values())],
        "schema of hold": "pin" in schema["HoldKeys"]["properties"],
        "reference": [word for word in ("`dimple`", "`double ring`", "Sink a dimple into an end.", "How wide it is.")
                      if word in "".join(reference_pages().values())],
        "entries": [entry.title for kinds in entries().values() for entry in kinds if entry.title
                    in ("dimple", "double ring", "wax table")],
        "turning": now.turning, "turns the outside": now.first_turned,
        "facts": {name: facts.get(name) for name in ("finding", "drill_mm", "drill_depth_to_diameter")},
        "boxes": [box.id for box in sheet.parts[0].steps[0].boxes],
        "findings": [finding.message for finding in sheet.findings],
        "drilled": solids.stages[1].drilled is not None,
        "says": solids.stages[1].says,
    }  # fmt: skip
    print(json.dumps({**found, "blank": blank(folder)}))


if __name__ == "__main__":
    main(Path(sys.argv[1]))
