"""The sheet: everything worked out for one project, settled and frozen.

Pages, papers and data are drawn from this and nothing else. What is worked out of a
demonstration is in `evening`, and what a stopwatch keeps in `stopwatch`: import them by name.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from handouts_build.sheet.author import (
        Paragraph,
        Picture,
        TextRun,
    )
    from handouts_build.sheet.blank import (
        Blank,
    )
    from handouts_build.sheet.findings import (
        Acceptance,
        Condition,
        Finding,
        Follows,
        Level,
    )
    from handouts_build.sheet.laminate import (
        Laminate,
        LaminateBoard,
    )
    from handouts_build.sheet.profile import (
        Segment,
        Shape,
        Station,
    )
    from handouts_build.sheet.project import (
        Citation,
        Dimension,
        Erratum,
        Given,
        Group,
        Part,
        ReadySize,
        Remark,
        SafetyBox,
        Sheet,
        Size,
        SpeedLimit,
        Step,
        StepNumber,
        Working,
    )
    from handouts_build.sheet.stack import (
        Course,
        Stack,
        Strip,
    )
    from handouts_build.sheet.stages import (
        StageFact,
        StageSummary,
        Whole,
    )

__all__ = [
    "Acceptance",
    "Blank",
    "Citation",
    "Condition",
    "Course",
    "Dimension",
    "Erratum",
    "Finding",
    "Follows",
    "Given",
    "Group",
    "Laminate",
    "LaminateBoard",
    "Level",
    "Paragraph",
    "Part",
    "Picture",
    "ReadySize",
    "Remark",
    "SafetyBox",
    "Segment",
    "Shape",
    "Sheet",
    "Size",
    "SpeedLimit",
    "Stack",
    "StageFact",
    "StageSummary",
    "Station",
    "Step",
    "StepNumber",
    "Strip",
    "TextRun",
    "Whole",
    "Working",
]

_HOMES = {
    "author": ["Paragraph", "Picture", "TextRun"],
    "blank": ["Blank"],
    "findings": ["Acceptance", "Condition", "Finding", "Follows", "Level"],
    "laminate": ["Laminate", "LaminateBoard"],
    "profile": ["Segment", "Shape", "Station"],
    "project": [
        "SafetyBox",
        "Dimension",
        "Erratum",
        "Given",
        "Group",
        "Part",
        "ReadySize",
        "Remark",
        "Sheet",
        "Size",
        "Citation",
        "SpeedLimit",
        "Step",
        "StepNumber",
        "Working",
    ],
    "stack": ["Course", "Stack", "Strip"],
    "stages": ["StageSummary", "StageFact", "Whole"],
}


if not TYPE_CHECKING:  # To a checker of types any name would be right that this is asked for.

    def __getattr__(name: str) -> object:
        """A public name, loaded when it is asked for: what tells of a finding need not wait for the units."""
        for module, names in _HOMES.items():
            if name in names:
                return getattr(import_module(f"handouts_build.sheet.{module}"), name)
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")


def __dir__() -> list[str]:
    return __all__
