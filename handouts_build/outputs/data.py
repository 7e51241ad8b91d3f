"""A sheet as JSON: values in base units, with the text each is printed as.

This module owns the data file of a project and the schema it keeps to. The same
file feeds other programs. What a page works out by itself is in `pages.own_size`.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable
from importlib import resources
from typing import Any

from handouts_build.quantities import Kind, Printed, Quantity, kind_of
from handouts_build.sheet import (
    Citation,
    Condition,
    Dimension,
    Finding,
    Given,
    Group,
    Laminate,
    Paragraph,
    Part,
    Picture,
    SafetyBox,
    Shape,
    Sheet,
    Size,
    SpeedLimit,
    Stack,
    Step,
    StepNumber,
)
from handouts_build.sheet.stages import StageFact, StageSummary, Whole

__all__ = ["sheet_json", "sheet_schema", "version_of"]

FORMAT = "handouts sheet 1"
"""Says what the file is and which form of it."""

_UNITS = {
    Kind.LENGTH: "mm",
    Kind.ANGLE: "rad",
    Kind.NUMBER: "1",
    Kind.SPEED: "1/min",
    Kind.RIM_SPEED: "mm/min",
    Kind.TIME: "min",
    Kind.AREA: "mm2",
    Kind.VOLUME: "mm3",
    Kind.MASS: "g",
    Kind.DENSITY: "g/mm3",
}


_NOT_OF_A_VERSION = frozenset(
    {"name", "by", "club", "license", "credits", "formerly", "errata", "pictures", "photographs"}
)
"""What may change while what is turned stays the same."""


def sheet_schema() -> str:
    """The JSON schema that `sheet_json` keeps to."""
    return (resources.files(__package__) / "sheet.schema.json").read_text(encoding="utf-8")


def version_of(sheet: Sheet) -> str:
    """What tells this version of a piece from another: digits that follow from all that a paper may say of it.

    Args:
        sheet: The project, or one of its ready sizes, worked out.
    """
    entries = {name: value for name, value in _told(sheet).items() if name not in _NOT_OF_A_VERSION}
    return hashlib.sha256(json.dumps(entries, ensure_ascii=False, sort_keys=True).encode()).hexdigest()[:8]


def sheet_json(sheet: Sheet) -> str:
    """A sheet as JSON text, the same for the same sheet."""
    return json.dumps(_told(sheet), ensure_ascii=False, indent=1) + "\n"


def _told(sheet: Sheet) -> dict[str, Any]:
    return {
        "format": FORMAT,
        "name": sheet.name,
        "title": sheet.title,
        "date": sheet.date.isoformat() if sheet.date is not None else None,
        "summary": [_text(paragraph) for paragraph in sheet.summary],
        "text": [_text(paragraph) for paragraph in sheet.text],
        "kind": sheet.kind,
        "level": sheet.level,
        "techniques": list(sheet.techniques),
        "by": sheet.by,
        "club": sheet.club,
        "license": sheet.license,
        "credits": list(sheet.credits),
        "formerly": list(sheet.formerly),
        "errata": [
            {
                "date": erratum.day.isoformat(),
                "wrong": _text(erratum.wrong),
                "printed": [day.isoformat() for day in erratum.printed],
            }
            for erratum in sheet.errata
        ],
        "rule": {"inch": str(sheet.rule.inch), "millimetre": str(sheet.rule.millimetre), "leads": sheet.rule.lead},
        "minutes": sheet.minutes,
        "sizes": [_size(size) for size in sheet.sizes],
        "groups": [_group(group) for group in sheet.groups],
        "parts": [_part(part) for part in sheet.parts],
        "jigs": [_part(part) for part in sheet.jigs],
        "waits": sheet.waits,
        "supplies": list(sheet.supplies),
        "pictures": _pictures(sheet.pictures),
        "findings": [_finding(finding) for finding in sheet.told],
        "whole": None if sheet.whole is None else _whole(sheet.whole),
        "boxes": [_box(box) for box in sheet.boxes],
        "closing": sheet.closing,
        "conditions": [_condition(condition) for condition in sheet.conditions],
        "ready": [
            {
                "name": ready.name,
                "says": ready.says,
                "sizes": [_size(size) for size in ready.sheet.sizes if size.name in ready.sizes],
                "groups": [_group(group) for group in ready.sheet.groups],
                "findings": [_finding(finding) for finding in ready.sheet.told],
            }
            for ready in sheet.ready
        ],
    }


def _pictures(pictures: Iterable[Picture]) -> list[dict[str, str]]:
    return [
        {"file": picture.published, "shows": picture.shows, "by": picture.by, "license": picture.license}
        for picture in pictures
    ]


def _text(paragraph: Paragraph) -> str:
    return "".join(run.text for run in paragraph)


def _value(value: Quantity, printed: Printed) -> dict[str, Any]:
    kind = kind_of(value)
    made: dict[str, Any] = {
        "value": float(value.magnitude),
        "unit": _UNITS[kind] if kind else "mixed",
        "printed": printed.lead,
    }
    if printed.other:
        made["also"] = printed.other
    return made


def _size(size: Size) -> dict[str, Any]:
    made = {"name": size.name, "says": size.says, **_value(size.value, size.printed)}
    if size.least:
        made["least"] = str(size.least)
    if size.most:
        made["most"] = str(size.most)
    if size.choices:
        made["choices"] = list(size.choices)
    return made


def _source(source: Citation) -> dict[str, str]:
    return {"id": source.id, "text": source.text, "standing": source.standing}


def _dimension(dimension: Dimension) -> dict[str, Any]:
    working: dict[str, Any] = {"symbol": dimension.working.symbol, "result": dimension.working.result}
    for key in ("formula", "numbers", "rounding"):
        if text := getattr(dimension.working, key):
            working[key] = text
    if dimension.working.source:
        working["source"] = _source(dimension.working.source)
    made = {
        "name": dimension.name,
        "says": dimension.says,
        **_value(dimension.value, dimension.printed),
        "err": str(dimension.err),
        "main": dimension.main,
    }
    made["working"] = working
    if dimension.manner.below:
        made["below"] = dimension.manner.below
    if dimension.tree:
        made["tree"] = dimension.tree
    return made


def _group(group: Group) -> dict[str, Any]:
    made: dict[str, Any] = {
        "name": group.name,
        "title": group.title,
        "chapter": group.chapter,
        "about": group.about,
        "givens": [
            {
                "name": given.name,
                "symbol": given.symbol,
                "says": given.says,
                **_value(given.value, given.printed),
                **_origin(given),
            }
            for given in group.givens
        ],
        "dimensions": [_dimension(dimension) for dimension in group.dimensions],
        "remarks": [{"text": remark.text, "source": _source(remark.source)} for remark in group.remarks],
    }
    if group.conditions:
        made["conditions"] = [_condition(condition) for condition in group.conditions]
    if group.shape:
        made["shape"] = _shape(group.shape)
    if group.stack is not None:
        made["stack"] = _stack(group.stack)
    if group.part:
        made["part"] = group.part
    return made


def _origin(given: Given) -> dict[str, Any]:
    """How a given follows, and the key it was given by."""
    made: dict[str, Any] = {"key": given.key} if given.key else {}
    return {**made, "tree": given.tree} if given.tree else made


def _condition(condition: Condition) -> dict[str, Any]:
    made = {"tree": condition.tree, "level": condition.level, "message": condition.message, "remedy": condition.remedy}
    return {**made, "at": condition.at} if condition.at else made


def _shape(shape: Shape) -> dict[str, Any]:
    return {
        "segments": [
            {
                "kind": segment.kind,
                "says": segment.says,
                "start_mm": float(segment.start.magnitude),
                "end_mm": float(segment.end.magnitude),
            }
            for segment in shape.segments
        ],
        "points_mm": [[round(x, 4), round(radius, 4)] for x, radius in shape.points_mm],
        "stations": [
            {
                "what": station.what,
                "at": _value(station.at, station.at_printed),
                "diameter": _value(station.diameter, station.printed),
            }
            for station in shape.stations
        ],
    }


def _stack(stack: Stack) -> dict[str, Any]:
    return {
        "courses": [
            {
                "kind": course.kind,
                "says": course.says,
                "start_mm": float(course.start.magnitude),
                "high": _value(course.high, course.high_printed),
                "across": _value(course.across, course.across_printed),
                "inside": _value(course.inside, course.inside_printed)
                if course.inside is not None and course.inside_printed is not None
                else None,
                "pieces": course.pieces,
                "turn_deg": course.turn_deg,
                "woods": list(course.woods),
                "strips": [
                    {
                        "wood": strip.wood,
                        "pieces": strip.pieces,
                        "wide": _value(strip.wide, strip.wide_printed),
                        "long": _value(strip.long, strip.long_printed),
                    }
                    for strip in course.strips
                ],
            }
            for course in stack.courses
        ],
        "order": list(stack.order),
    }


def _boards(laminate: Laminate) -> list[dict[str, Any]]:
    """The boards of a laminate in order."""
    return [{"wood": board.wood, "thick": _value(board.thick, board.thick_printed)} for board in laminate.boards]


def _part(part: Part) -> dict[str, Any]:
    return {
        "name": part.name,
        "title": part.title,
        "wood": part.told_wood,
        "grain": part.grain,
        "falls_off": part.falls_off,
        # What is as usual is left out, so that a piece that has none of it stays the version that was handed out.
        **({"count": part.count} if part.count_printed is not None else {}),
        **({"per_stick": part.per_stick} if part.per_stick > 1 else {}),
        "blank": {
            "shape": part.blank.shape,
            "sides": [{"says": says, **_value(value, printed)} for says, value, printed in part.blank.sides],
            **({"boards": _boards(part.blank.laminate)} if part.blank.laminate is not None else {}),
        },
        "steps": [
            {
                "number": step.number,
                "name": step.name,
                "say": [_text(paragraph) for paragraph in step.say],
                "cue": [_text(paragraph) for paragraph in step.cue],
                "care": [_text(paragraph) for paragraph in step.care],
                "numbers": [_number(number) for number in step.numbers],
                "hold": step.hold,
                "tools": list(step.tools),
                "photographs": _pictures(step.photographs),
                "minutes": None if step.minutes is None else float(step.minutes.magnitude),
                **_guesses(step),
                "setup_minutes": step.setup,
                "wait_minutes": step.waits,
                "worth": step.worth,
                "speed": step.speed,
                "limit": None if step.limit is None else _limit(step.limit),
                "show": step.show,
                "camera": step.camera,
                "drawings": list(step.figures),
                "boxes": [_box(box) for box in step.boxes],
                "stage": None if step.stage is None else _stage(step.stage),
            }
            for step in part.steps
        ],
    }


def _number(number: StepNumber) -> dict[str, str]:
    """One of a step's own numbers, by the name that its value stands under."""
    made = {"name": number.name, "says": number.says, "label": number.label, "printed": number.printed.lead}
    return {**made, "also": number.printed.other} if number.printed.other else made


def _limit(limit: SpeedLimit) -> dict[str, Any]:
    """What a step's speed must not exceed."""
    return {
        "rpm": float(limit.rpm.magnitude),
        "printed": limit.printed,
        "because": limit.because,
        "source": _source(limit.source),
    }


def _guesses(step: Step) -> dict[str, float | None]:
    """The other guesses of how long a step takes; null where none is said."""
    minutes = {
        "least_minutes": step.least_minutes,
        "most_minutes": step.most_minutes,
        "told_minutes": step.told_minutes,
    }
    return {name: None if value is None else float(value.magnitude) for name, value in minutes.items()}


def _stage(stage: StageSummary) -> dict[str, Any]:
    return {
        "index": stage.index,
        "says": stage.says,
        "changed": stage.changed,
        "cut_away": stage.cut_away,
        "facts": [_fact(fact) for fact in stage.facts],
        "sides": [
            {"profile": side.profile, "hollow": side.hollow, "points_mm": [list(point) for point in side.points_mm]}
            for side in stage.sides
        ],
    }


def _whole(whole: Whole) -> dict[str, Any]:
    facts = [_fact(fact) for fact in whole.facts]
    return {"says": whole.says, "up": whole.up, "cut_away": whole.cut_away, "facts": facts}


def _fact(fact: StageFact) -> dict[str, Any]:
    return {"name": fact.name, "says": fact.says, "about": fact.about, **_value(fact.value, fact.printed)}


def _box(box: SafetyBox) -> dict[str, Any]:
    return {
        "id": box.id,
        "signal": box.signal,
        "title": box.title,
        "hurts": box.hurts,
        "do": list(box.do),
        "source": _source(box.source),
    }


def _finding(finding: Finding) -> dict[str, Any]:
    return {"level": str(finding.level), "about": finding.about, "message": finding.message, "remedy": finding.remedy}
