"""A demonstration's file, the runs and the project to a demonstration worked out.

This module owns what must hold together: that the steps it names exist, that its
clock time exists, that the slot is longer than what is taken off it. Same files,
same result: no clock is read.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import datetime

from handouts_build.compute.evening.deadlines import deadlines
from handouts_build.compute.evening.explain import plan_findings, stray_findings
from handouts_build.compute.evening.frozen import checksum, live_steps, times
from handouts_build.compute.evening.host import adapters, host_findings, told_lathe
from handouts_build.compute.evening.moments import MomentFault, before_start, instant
from handouts_build.compute.evening.packing import packing_list
from handouts_build.compute.evening.plan import planned
from handouts_build.compute.evening.stocking import stock_plan
from handouts_build.compute.formerly import another_piece, of_another_piece
from handouts_build.compute.steps import step_names, strays, timed
from handouts_build.language import in_a_row, tr, tr_later
from handouts_build.problems import Problem, ProjectError, near_miss
from handouts_build.schema import DemonstrationKeys as Asked
from handouts_build.schema import Document, FrozenPlanKeys, ProjectKeys, RunKeys, RunsKeys, ShopKeys
from handouts_build.sheet import Finding, Level, Sheet, Step
from handouts_build.sheet.evening import Demonstration, Plan, PrivateNotes, StockPlan, TakenStick

__all__ = ["check_demonstration", "check_runs", "work_out"]

_TIME = tr_later("The time")
_LISTS = ("must see", "ready made", "left out")


def check_demonstration(sheet: Sheet, asked: Asked, document: Document) -> datetime:
    """The instant a demonstration starts, once everything in its file holds together.

    Args:
        sheet: The project.
        asked: The demonstration's model.
        document: The file it came from.

    Raises:
        ProjectError: With every problem.
    """
    problems = list(_problems(sheet, asked, document))
    starts = None
    try:
        starts = instant(asked.date, asked.start, asked.zone, asked.which)
    except MomentFault as fault:
        problems.append(Problem(document.place((fault.key,)), fault.message, fault.hint))
    if problems or starts is None:
        raise ProjectError(problems)
    return starts


def check_runs(sheet: Sheet, runs: RunsKeys, document: Document) -> None:
    """Refuse a file of runs that names steps the project does not have.

    Args:
        sheet: The project.
        runs: As they were read.
        document: The file they came from.

    Raises:
        ProjectError: With every problem.
    """
    names = step_names(sheet)
    problems = []
    if of_another_piece(sheet, runs):
        raise ProjectError([Problem(document.place(("runs",)), *another_piece(sheet.title))])
    for index, run in enumerate(runs.runs):
        named = [
            *((("times", at, "step"), timing.step) for at, timing in enumerate(run.times)),
            *((("skipped", at), skipped) for at, skipped in enumerate(run.skipped)),
        ]
        problems += [
            Problem(
                document.place(("runs", index, *key)), f"'{name}' is not a step of {sheet.title}", _near(name, names)
            )
            for key, name in named
            if name not in names
        ]
    if problems:
        raise ProjectError(problems)


def _near(name: str, names: Mapping[str, Step]) -> str:
    return near_miss(name, names) or "the steps are named in the project file"


def _problems(sheet: Sheet, asked: Asked, document: Document) -> Iterator[Problem]:
    names = step_names(sheet)
    seen: dict[str, str] = {}
    for key in _LISTS:
        for index, name in enumerate(getattr(asked, key.replace(" ", "_"))):
            place = document.place((key, index))
            if name not in names:
                yield Problem(place, f"'{name}' is not a step of {sheet.title}", _near(name, names))
            elif name in seen:
                yield Problem(place, f"'{name}' already stands under '{seen[name]}'", "a step can be one of them only")
            else:
                seen[name] = key
    for index, name in enumerate(asked.order):
        place = document.place(("order", index))
        if name not in names:
            yield Problem(place, f"'{name}' is not a step of {sheet.title}", _near(name, names))
        elif name in asked.left_out:
            yield Problem(place, f"'{name}' is left out", "name steps that are shown")
        elif name in asked.order[:index]:
            yield Problem(place, f"'{name}' is named twice", "a step is shown once")
    if not names:
        yield Problem(
            document.place(()),
            f"{sheet.title} has no steps to show",
            "give it parts with steps; a write-up in words says its day itself, with date:",
        )
    elif len(asked.left_out) >= len(names) and set(names) <= set(asked.left_out):
        yield Problem(document.place(("left out",)), "every step is left out", "leave some to show")
    rest = asked.break_after
    if rest is not None and rest not in names:
        yield Problem(document.place(("break after",)), f"'{rest}' is not a step of {sheet.title}", _near(rest, names))
    elif rest is not None and rest in asked.left_out:
        yield Problem(document.place(("break after",)), f"'{rest}' is left out", "name a step that is shown")
    elif rest is not None and asked.break_ is None:
        yield Problem(document.place(("break after",)), "there is no break", "say how long it is: break: 10 min")
    beside = (asked.opening, asked.safety_talk, asked.break_, asked.hands_on, asked.questions)
    taken = sum(float(time.magnitude) for time in beside if time is not None)
    slot = float(asked.slot.magnitude)
    if slot > 24 * 60:
        yield Problem(document.place(("slot",)), "a slot of more than a day", "write it as 90 min or 1.5 h")
    elif taken >= slot:
        yield Problem(
            document.place(("slot",)),
            f"the slot of {slot:g} min is no longer than what is not shown: opening, safety talk, break, hands-on "
            f"and questions together take {taken:g} min",
            "the slot holds the show and all of these",
        )
    if asked.lathe is not None and asked.lathe.speeds and asked.lathe.speeds.least > asked.lathe.speeds.most:
        yield Problem(
            document.place(("lathe", "speeds")), "the least speed is more than the most", "write the slowest first"
        )
    if set(asked.share) - {"run sheet"} and asked.private is None:
        yield Problem(document.place(("share",)), "there is nothing under 'private' to share", "leave 'share' out")


def work_out(
    sheet: Sheet,
    project: ProjectKeys,
    asked: Asked,
    document: Document,
    *,
    name: str,
    runs: Sequence[RunKeys],
    shop: ShopKeys,
    frozen: FrozenPlanKeys | None = None,
    taken: Sequence[TakenStick] = (),
) -> Demonstration:
    """A demonstration worked out.

    Args:
        sheet: The project, worked out.
        project: Its model.
        asked: The demonstration's model.
        document: The file it came from.
        name: Its file's name without ending.
        runs: The recorded runs that count into its times.
        shop: The maker's kit.
        frozen: The plan as it was printed; None where it was not.
        taken: Sticks that earlier demonstrations saw into.

    Raises:
        ProjectError: With every problem of the demonstration's file.
    """
    starts = check_demonstration(sheet, asked, document)
    names = step_names(sheet)
    outdated = frozen is not None and frozen.asked != checksum(names, asked)
    kept = None if outdated else frozen
    plan = planned(
        sheet,
        asked,
        starts=starts,
        names=names,
        times=timed(names, runs) | (times(kept) if kept else {}),
        makes=_makes(sheet, project),
        live=live_steps(kept) if kept else None,
    )
    if kept:
        plan = replace(plan, printed=kept.printed)
    place = document.place(("lathe",) if asked.lathe else ())
    fitting, findings = adapters(asked, shop, place)
    live = {line.step.part for line in plan.lines if line.step is not None and line.shown == "live"}
    turned = [part for part in sheet.parts if part.name in live]
    findings += host_findings(sheet, project, asked, shop, turned, place)
    findings += plan_findings(plan, asked, document)
    findings += stray_findings(strays(names, runs), document)
    findings += _of_cameras(plan, asked, document)
    findings += _without_time(asked, document)
    if outdated and frozen is not None:
        findings.append(_outdated(frozen, document))
    remote = asked.how == "by video"
    stock = stock_plan(sheet, plan.lines, seats=asked.seats or 0, shop=shop, remote=remote, taken=taken)
    due = deadlines(sheet, project, asked, starts=starts, plan=plan, stock=stock)
    findings += _of_stock(stock, document)
    order = list(Level)
    private = asked.private
    return Demonstration(
        name=name,
        file=document.file,
        sheet=sheet,
        starts=starts,
        zone=asked.zone,
        speaker_zone=asked.speaker_zone or asked.zone,
        club=asked.club,
        place=asked.place or "",
        how=asked.how,
        attendees=asked.attendees or 0,
        seats=asked.seats or 0,
        paper=asked.paper,
        lathe=tuple(told_lathe(asked, sheet.rule)),
        plan=plan,
        packing=packing_list(sheet, project, asked, plan.lines, fitting=fitting, shop=shop, due=due),
        stock=stock,
        findings=tuple(sorted(findings, key=lambda finding: order.index(finding.level))),
        private=PrivateNotes(
            contact=tuple(private.contact) if private else (),
            link=(private.link or "") if private else "",
            notes=tuple(private.notes) if private else (),
            differently=tuple(asked.afterwards.differently) if asked.afterwards else (),
        ),
        arrives=before_start(starts, asked.arrive) if asked.arrive else None,
        opens=before_start(starts, asked.doors) if asked.doors else None,
        cancelled=asked.cancelled or "",
        deadlines=due,
        listed=asked.listed,
    )


def _without_time(asked: Asked, document: Document) -> Iterator[Finding]:
    """What takes time on every evening, and has none in this plan."""
    lacking = [word for word, time in (("opening", asked.opening), ("safety talk", asked.safety_talk)) if time is None]
    if asked.seats and asked.hands_on is None:
        lacking.append("hands on")
    if lacking:
        yield Finding(
            Level.NOTE,
            tr(_TIME),
            tr("no time is kept for: {lacking}", lacking=in_a_row(lacking)),
            tr("write {line}, if it comes out of the slot", line=f"{lacking[0]}: 3 min"),
            document.place(("slot",)),
        )


def _outdated(frozen: FrozenPlanKeys, document: Document) -> Finding:
    return Finding(
        Level.MIND,
        tr("The run sheet"),
        tr(
            "the one printed on {day} no longer holds: what it was planned from has changed",
            day=frozen.printed[:10],
        ),
        tr("print it again with the command '{command}'", command="evening"),
        document.place(()),
    )


def _makes(sheet: Sheet, project: ProjectKeys) -> frozenset[int]:
    """Numbers of the steps that take wood away."""
    return frozenset(
        step.number
        for part in sheet.parts
        for step, model in zip(part.steps, project.parts[part.name].steps, strict=True)
        if model.cut
    )


def _of_cameras(plan: Plan, asked: Asked, document: Document) -> Iterator[Finding]:
    wanted = dict.fromkeys(line.step.camera for line in plan.lines if line.step is not None and line.step.camera)
    lacking = [camera for camera in wanted if asked.cameras and camera not in asked.cameras]
    if lacking:
        yield Finding(
            Level.NOTE,
            tr("The cameras"),
            tr("steps ask for a camera that is not there: {lacking}", lacking=in_a_row(lacking)),
            tr("they are planned with '{camera}' instead", camera=asked.cameras[0]),
            document.place(("cameras",)),
        )


def _of_stock(stock: StockPlan, document: Document) -> Iterator[Finding]:
    for part, count, why in stock.missing:
        yield Finding(
            Level.MIND,
            tr("The wood"),
            tr("{short} of the blanks for {part} cannot be cut: {why}", short=count, part=part, why=why),
            tr("get wood"),
            document.place(()),
        )
