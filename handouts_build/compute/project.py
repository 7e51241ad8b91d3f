"""A project's model to its sheet.

This module owns the order of things: sizes, dimensions, workings and profiles are
settled by the ledger, then parts, steps and text are put together. Same project,
same sheet: no clock, no disk beyond asking which photographs are there.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from handouts_build.compute.alike import KERF, AlikeWork, count_name, stick_name
from handouts_build.compute.blanks import blank_of, grain_of, named_by_kind
from handouts_build.compute.cautions import boxes_at_other_sizes, boxes_of_piece, boxes_of_step
from handouts_build.compute.chapters import ChapterWork
from handouts_build.compute.checks import (
    bits_are_one,
    bits_are_there,
    filed_under_something,
    held_by_more_than_a_hand,
    hollowed,
    kept_to_its_own_cautions,
    profiles_fit,
    rule_of,
    slender_because,
    steps_are_told_apart,
    woods_known,
)
from handouts_build.compute.fittings import kit_fits, room_to_drill_at_home
from handouts_build.compute.formerly import clashes
from handouts_build.compute.jigs import jigs_are_apart, project_of, without_jigs
from handouts_build.compute.laminates import LaminateWork
from handouts_build.compute.names import Definition, Ledger, Unsettled
from handouts_build.compute.photographs import Photograph, photographs
from handouts_build.compute.profiles import ProfileWork
from handouts_build.compute.prose import paragraphs, runs, unfilled
from handouts_build.compute.sides import fits_of, manner_of
from handouts_build.compute.sizes import settled_size
from handouts_build.compute.solid.put_on import nothing_on_bare_parts
from handouts_build.compute.solid.session import SolidSession
from handouts_build.compute.speed_limits import Turning, of_blank, speed_limit, too_fast
from handouts_build.compute.stacks import StackWork
from handouts_build.compute.step_facts import natural_edge
from handouts_build.compute.step_numbers import with_numbers
from handouts_build.compute.working import chained, dimension, spoken
from handouts_build.formulas import FormulaFault, holds, to_json
from handouts_build.language import labelled, listed, tr
from handouts_build.problems import near_miss
from handouts_build.quantities import (
    UNITS,
    Manner,
    Quantity,
    exact,
    inches,
    kind_of,
    millimetres,
    print_quantity,
    quantity,
)
from handouts_build.schema import (
    DimensionKeys,
    Document,
    ErratumKeys,
    HoldKeys,
    Key,
    MinutesKeys,
    PartKeys,
    ProjectKeys,
    ShopKeys,
    ShowKeys,
    SizeKeys,
    StepKeys,
)
from handouts_build.sheet import (
    Condition,
    Dimension,
    Erratum,
    Finding,
    Group,
    Laminate,
    Level,
    Paragraph,
    Part,
    Picture,
    Shape,
    Sheet,
    Size,
    SpeedLimit,
    Stack,
    Step,
)
from handouts_build.sheet.findings import ASKED
from handouts_build.tables.cautions import CLOSING
from handouts_build.tables.woods import said_wood

if TYPE_CHECKING:
    from handouts_build.compute.solid.carry import Solids

__all__ = ["compute"]

_UPWARD = "least, likely and most go upward"


def compute(
    project: ProjectKeys,
    document: Document,
    *,
    name: str,
    folder: Path,
    shop: ShopKeys,
    sizes: Mapping[str, Quantity] | None = None,
    said_at: Key = (),
    session: SolidSession | None = None,
) -> Sheet:
    """Work a project out at one choice of sizes.

    Args:
        project: Its model.
        document: The file it came from, for places.
        name: Its name in the archive.
        folder: Where its pictures lie; need not exist if it has none.
        shop: The maker's kit.
        sizes: Sizes chosen instead of the author's.
        said_at: Where the file chooses them, if it does.
        session: Where its parts are carried as solids.

    Returns:
        The sheet, with its findings; a finding of `stop` is not an error here.

    Raises:
        ProjectError: With every problem.
    """
    return _SheetWork(project, document, name, folder, shop, sizes or {}, said_at, session or SolidSession()).sheet()


class _SheetWork:
    def __init__(
        self,
        project: ProjectKeys,
        document: Document,
        name: str,
        folder: Path,
        shop: ShopKeys,
        chosen: Mapping[str, Quantity],
        said_at: Key,
        session: SolidSession,
    ) -> None:
        self.session = session
        self.project, self.document, self.name, self.folder, self.shop = project, document, name, folder, shop
        self.chosen, self.said_at = chosen, said_at
        self.ledger = Ledger(document)
        self.rule = rule_of(project, self.ledger)
        self.fits = fits_of(project)
        step = inches(float(self.rule.inch)) if self.rule.lead == "in" else millimetres(float(self.rule.millimetre))
        self.ledger.values["rule"] = step
        self.printed = self.ledger.printed
        self.printed["rule"] = print_quantity(step, self.rule)
        self.sizes: list[Size] = []
        self.own: list[Dimension] = []
        self.findings: list[Finding] = []
        self.conditions: list[Condition] = []
        self.cautions: tuple[tuple[str, Condition], ...] = ()
        self.lines: dict[str, Paragraph] = {}

    def sheet(self) -> Sheet:
        works = self._settle()
        groups = tuple(work.group for work in works if work.group is not None)
        for group in groups:
            for given in group.givens:
                self.printed[f"{group.name}.{given.name}"] = given.printed
            for row in group.dimensions:
                self.printed[row.name] = row.printed
        if self.own:
            groups = (
                Group(
                    "",
                    tr("Dimensions of this piece"),
                    "",
                    tr("What follows by the author's own formulas."),
                    dimensions=tuple(self.own),
                ),
                *groups,
            )
        stacks = {work.name: work.group.stack if work.group is not None else None for work in works
                  if isinstance(work, StackWork)}  # fmt: skip
        laminates = {work.name: work.laminate for work in works if isinstance(work, LaminateWork)}
        parts = self._parts(stacks, laminates)
        groups = named_by_kind(groups, parts)
        self._drawings_known({group.name for group in groups})
        self._keep()
        steps_are_told_apart(self.project, self.ledger)
        jigs_are_apart(self.project, self.ledger)
        nothing_on_bare_parts(self.project, self.ledger)
        natural = [name for name, part in self.project.parts.items() if natural_edge(part)]
        groups, found = profiles_fit(groups, parts, self.rule, self.ledger, named=self.project.parts, natural=natural)
        solids = self.session.carry(
            self.name, self.project, self.ledger,
            parts=parts, groups=groups, shop=self.shop, rule=self.rule, coarse=bool(self.chosen),
        )  # fmt: skip
        if solids:
            self.findings.extend(solids.findings)
            # Readers of a ready size cannot change what the author accepts.
            self.findings.extend(() if self.chosen else solids.needless)
        self.findings.extend(found)
        self.findings.extend(bits_are_there(groups, self.shop, self.document))
        plans = (held.plan for held in solids.parts.values()) if solids else ()
        self.findings.extend(bits_are_one(groups, plans, self.rule, self.document))
        self.findings.extend(kit_fits(self.project, self.shop, self.document))
        piece = without_jigs(self.project)
        self.findings.extend(woods_known(piece, self.document))
        self.findings.extend(filed_under_something(self.project, self.document))
        self.findings.extend(kept_to_its_own_cautions(piece, self.document))
        self.findings.extend(held_by_more_than_a_hand(self.project, self.document))
        found_pictures = photographs(self.project, self.folder, self.ledger)
        self.findings.extend(found_pictures.findings)
        parts, pictures = self._photographs(parts, found_pictures.found)
        text = self._passage(self.project.text, "text")
        summary = self._passage(self.project.summary, "summary")
        if not summary:
            summary, text = text[:1], text[1:]
        supplies = tuple(self._line(text, ("supplies", i)) for i, text in enumerate(self.project.supplies))
        errata = tuple(self._erratum(index, entry) for index, entry in enumerate(self.project.errata))
        self.ledger.refuse()
        slender = solids.slender if solids else frozenset()
        for work in works:
            self.findings.extend(work.findings)
            # Of a slender part the solid tells at its step, where it can be accepted: once is enough.
            if isinstance(work, ProfileWork) and (work.group is None or work.group.part not in slender):
                self.findings.extend(work.slender)
        parts = self._with_boxes(parts, groups, solids)
        parts = with_numbers(parts, self.project.parts, sizes=self.sizes, groups=groups)
        room = room_to_drill_at_home(self.project, parts, self.shop, self.document, self.rule)
        self.findings.extend(room)
        order = list(Level)
        made = Sheet(
            name=self.name,
            file=self.document.file,
            title=self.project.title,
            summary=summary,
            kind=self.project.kind or "",
            level=self.project.level or "",
            techniques=tuple(self.project.techniques),
            rule=self.rule,
            by=self.project.by or self.shop.by or "",
            club=self.project.club or self.shop.club or "",
            license=self.project.license or self.shop.license or "",
            credits=tuple(self.shop.credits if self.project.credits is None else self.project.credits),
            formerly=tuple(dict.fromkeys(self.project.formerly)),
            errata=tuple(sorted(errata, key=lambda erratum: erratum.day, reverse=True)),
            sizes=tuple(self.sizes),
            groups=groups,
            parts=tuple(part for part in parts if not self.project.parts[part.name].jig),
            jigs=tuple(part for part in parts if self.project.parts[part.name].jig),
            supplies=supplies,
            pictures=pictures,
            findings=tuple(sorted(self.findings, key=lambda finding: (order.index(finding.level), finding.place))),
            boxes=boxes_of_piece(piece),
            closing=tr(CLOSING),
            conditions=tuple(self.conditions),
            cautions=self.cautions,
            papers=tuple(dict.fromkeys(self.project.papers or self.shop.papers)),
            lines=tuple(self.lines.values()),
            date=self.project.date,
            text=text,
        )
        return self.session.finish(made, self.project, self.ledger)

    def _settle(self) -> list[ChapterWork | ProfileWork | StackWork | LaminateWork]:
        """Give every name its value."""
        ours = self.project
        count = len(ours.sizes) + len(ours.dimensions) + len(ours.workings) + len(ours.profiles) + len(ours.stacks)
        count += len(ours.laminates)
        if count > ProjectKeys.largest:
            self.ledger.note((), f"the file names {count} values; at most {ProjectKeys.largest} are worked out")
            self.ledger.refuse()
        for name, size in ours.sizes.items():
            self.ledger.add(Definition(name, ("sizes", name), (), frozenset({name}), partial(self._size, name, size)))
        for name, own in ours.dimensions.items():
            key: Key = ("dimensions", name)
            formulas = ((own.formula, (*key, "formula")),)
            self.ledger.add(Definition(name, key, formulas, frozenset({name}), partial(self._dimension, name, own)))
        kerf = self.shop.kerf or KERF
        alike = AlikeWork(ours, ledger=self.ledger, rule=self.rule, kerf=kerf, take_in=self.own.append)
        for definition in alike.definitions():
            self.ledger.add(definition)
        inside = hollowed(ours)
        works: list[ChapterWork | ProfileWork | StackWork | LaminateWork] = [
            *(ChapterWork(name, model, ledger=self.ledger, rule=self.rule) for name, model in ours.workings.items()),
            *(
                ProfileWork(
                    name,
                    model,
                    ledger=self.ledger,
                    rule=self.rule,
                    inside=name in inside,
                    slender_because=slender_because(ours, name),
                )
                for name, model in ours.profiles.items()
            ),
        ]
        profiles = {work.name: work for work in works if isinstance(work, ProfileWork)}

        def shape(name: str) -> Shape | None:
            group = profiles[name].group
            return group.shape if group is not None else None

        for name, stack in ours.stacks.items():
            wood = next((part.wood for part in ours.parts.values() if part.blank.text("stack") == name), "")
            works.append(
                StackWork(
                    name, stack, wood=wood, ledger=self.ledger, rule=self.rule, profiles=profiles, shapes=shape
                )
            )  # fmt: skip
        for name, laminate in ours.laminates.items():
            wood = next((part.wood for part in ours.parts.values() if part.blank.text("laminate") == name), "")
            works.append(LaminateWork(name, laminate, wood=wood, ledger=self.ledger, rule=self.rule))
        for work in works:
            self.ledger.add(work.definition)
        self.ledger.settle()
        return works

    def _size(self, name: str, size: SizeKeys) -> None:
        value: Quantity = self.chosen.get(name, size.is_)
        at: Key = (*self.said_at, name) if name in self.chosen and self.said_at else ("sizes", name, "is")
        manner = Manner(exact=name in self.fits.holes)
        made = settled_size(name, size, value=value, at=at, rule=self.rule, ledger=self.ledger, manner=manner)
        self.ledger.manners[name] = manner
        self.ledger.values[name] = made.value
        self.printed[name] = made.printed
        self.sizes.append(made)

    def _dimension(self, name: str, own: DimensionKeys) -> None:
        key: Key = ("dimensions", name)
        value = self.ledger.value(own.formula, (*key, "formula"), label=f"'{name}'")
        kind = kind_of(value)
        if kind is None:
            self.ledger.note(
                (*key, "formula"), f"'{name}' comes out as a mixture of units", "check what is multiplied and divided"
            )
            raise Unsettled
        self.ledger.values[name] = value
        manner = manner_of(name, own, self.ledger, self.fits)
        self.ledger.manners[name] = manner
        row = dimension(
            name, value, says=own.says, symbol=spoken(name), tree=own.formula.tree,
            symbols=spoken, values=self.ledger.lookup, rule=self.rule, manner=manner,
            main=True, source=None, below=self.ledger.hole(manner),
            chain=chained(own.formula.tree, self.printed),
        )  # fmt: skip
        self.own.append(row)
        self.printed[name] = row.printed

    def _passage(self, text: str | None, *key: str | int) -> tuple[Paragraph, ...]:
        return paragraphs(text, key, self.ledger, self.printed) if text is not None else ()

    def _line(self, text: str, key: Key) -> str:
        found = runs(text, key, self.ledger, self.printed)
        said = "".join(run.text for run in found)
        if any(run.name for run in found):
            self.lines[said] = found
        return said

    def _parts(self, stacks: Mapping[str, Stack | None], laminates: Mapping[str, Laminate | None]) -> tuple[Part, ...]:
        made = []
        number = 0
        for place, message, hint in clashes(self.project):
            self.ledger.note(place, message, hint)
        # Jigs come last: their steps are numbered after those of the piece.
        for name, part in sorted(self.project.parts.items(), key=lambda named: named[1].jig):
            key: Key = ("parts", name)
            steps = []
            for index, step in enumerate(part.steps):
                number += 1
                steps.append(self._step(number, name, step, (*key, "steps", index)))
            title = self._line(part.says or name, (*key, "says"))
            blank = blank_of(
                part.blank, (*key, "blank"), ledger=self.ledger, rule=self.rule, stacks=stacks, laminates=laminates
            )
            if blank is not None:
                puts_on = (step.hold.text("put on") for step in part.steps if step.hold is not None)
                alone = Part(
                    name, title, said_wood(part.wood), grain_of(part), blank, tuple(steps), part.falls_off or "",
                    tuple(dict.fromkeys(other for other in puts_on if other is not None)),
                )  # fmt: skip
                made.append(self._counted(alone, part))
        return tuple(made)

    def _counted(self, part: Part, model: PartKeys) -> Part:
        """A part with how many are made of it, and the length that several are sawn from."""
        count = self.ledger.values.get(count_name(part.name))
        return replace(
            part,
            count=1 if count is None else round(float(count.magnitude)),
            count_printed=self.printed.get(count_name(part.name)),
            per_stick=model.per_stick,
            stick=self.printed.get(stick_name(part.name)),
        )

    def _step(self, number: int, part: str, step: StepKeys, key: Key) -> Step:
        minutes, show = step.minutes, step.show or ShowKeys()
        self._guesses_in_order(minutes, (*key, "minutes"))
        return Step(
            number=number,
            name=self._line(step.name, (*key, "name")),
            part=part,
            say=paragraphs(step.say, (*key, "say"), self.ledger, self.printed),
            care=self._passage(step.care, *key, "care"),
            hold=self._hold(step.hold, (*key, "hold")) if step.hold else "",
            tools=tuple(self._line(tool, (*key, "tools", index)) for index, tool in enumerate(step.tools)),
            minutes=_span(minutes, "likely"),
            speed=exact(step.speed, self.rule.lead) if step.speed is not None else "",
            show=show.as_,
            camera=show.camera or "",
            cue=self._passage(show.cue, *key, "show", "cue"),
            figures=tuple(step.drawings),
            least_minutes=_span(minutes, "least"),
            most_minutes=_span(minutes, "most"),
            told_minutes=_span(minutes, "told"),
            setup_minutes=_span(minutes, "setup"),
            wait=step.wait,
            worth=show.worth,
            formerly=tuple(step.formerly),
        )

    def _guesses_in_order(self, minutes: MinutesKeys | None, key: Key) -> None:
        """The other guesses of how long a step takes must lie around the likely one, and setting up within it."""
        if minutes is None:
            return
        likely = minutes.likely
        if minutes.setup is not None and minutes.setup > likely:
            hint = "it is the share of 'likely' that is spent once"
            self.ledger.note((*key, "setup"), "'setup' is more than 'likely'", hint)
        if minutes.least is not None and minutes.least > likely:
            self.ledger.note((*key, "least"), "'least' is more than 'likely'", _UPWARD)
        if minutes.most is not None and minutes.most < likely:
            self.ledger.note((*key, "most"), "'most' is less than 'likely'", _UPWARD)

    def _hold(self, hold: HoldKeys, key: Key) -> str:
        by = listed(hold.by)
        if (put_on := hold.text("put on")) is not None:
            by = tr("{holding}, with the {part} on", holding=by, part=put_on)
        return labelled(by, self._line(hold.says, (*key, "says"))) if hold.says else by

    def _with_boxes(
        self, parts: tuple[Part, ...], groups: tuple[Group, ...], solids: Solids | None
    ) -> tuple[Part, ...]:
        """The parts with the stages and the safety boxes of their steps; each box is whole at its first step."""
        seen: set[str] = set()
        waiting: list[tuple[str, str, Condition]] = []
        made = []
        for part in parts:
            model = self.project.parts[part.name]
            judged_in = project_of(model, self.project)
            steps = []
            for step, keys in zip(part.steps, model.steps, strict=True):
                drawn = [group for group in groups if group.name in step.figures]
                solid = solids.facts.get(step.number, {}) if solids else {}
                boxes = boxes_of_step(judged_in, model, keys, blank=part.blank, groups=drawn, solid=solid)
                waiting += boxes_at_other_sizes(judged_in, model, keys, blank=part.blank, groups=drawn)
                new = frozenset(box.id for box in boxes) - seen
                seen |= new
                stage = solids.stages.get(step.number) if solids else None
                limit = self._limited(part, model, step, keys, drawn, solids)
                steps.append(replace(step, boxes=boxes, new_boxes=new, stage=stage, limit=limit))
            made.append(replace(part, steps=tuple(steps)))
        # Many steps ask the same of the same blank.
        asked = {(id_, str(condition.tree)): (title, condition) for id_, title, condition in waiting if id_ not in seen}
        self.cautions = tuple(asked.values())
        return tuple(made)

    def _limited(
        self, part: Part, model: PartKeys, step: Step, keys: StepKeys, drawn: list[Group], solids: Solids | None
    ) -> SpeedLimit | None:
        """What the speed of a step must not exceed, after noting that it does; None where the lathe stands."""
        turning: Turning | None
        if solids is not None and step.number in solids.stages:
            turning = solids.turning.get(step.number)
        else:
            bits = [float(group.values["bit"].m_as(UNITS["mm"])) for group in drawn if "bit" in group.values]
            speeds = self.shop.lathe.speeds if self.shop.lathe is not None else None
            fastest = float(speeds.most.magnitude) if speeds is not None else None
            turning = of_blank(model, keys, blank=part.blank, bits_mm=bits, lathe_rpm=fastest)
        if turning is None:
            return None
        found = too_fast(turning, keys.speed, self.rule) if keys.speed is not None else None
        if found is not None:
            level, message, remedy = found
            place = self.document.place(("parts", part.name, "steps", model.steps.index(keys), "speed"))
            about = tr("Step {number}, {name}", number=step.number, name=step.name)
            self.findings.append(Finding(level, about, message, remedy, place))
        return speed_limit(turning, self.rule)

    def _drawings_known(self, groups: set[str]) -> None:
        known = groups | set(self.project.workings) | set(self.project.profiles) | set(self.project.stacks)
        for name, part in self.project.parts.items():
            for index, step in enumerate(part.steps):
                for at, drawing in enumerate(step.drawings):
                    if drawing not in known:
                        key = ("parts", name, "steps", index, "drawings", at)
                        self.ledger.note(
                            key, f"'{drawing}' is not a working or a profile", near_miss(drawing, known - {""})
                        )

    def _keep(self) -> None:
        for index, keep in enumerate(self.project.keep):
            key: Key = ("keep", index, "that")
            says = self._line(keep.says, ("keep", index, "says"))
            remedy = self._line(keep.remedy, ("keep", index, "remedy")) if keep.remedy else ""
            try:
                met = holds(keep.that.tree, self.ledger.lookup)
            except FormulaFault as fault:
                self.ledger.note(key, fault.message, fault.hint, offset=fault.offset)
                continue
            except Unsettled:
                continue
            plain, help_ = unfilled(keep.says), unfilled(keep.remedy or "")
            tree = to_json(keep.that.tree)
            condition = keep.that.text
            sentence = tr("{told} (it must be that {condition})", told=plain, condition=condition)
            self.conditions.append(Condition(tree, Level.STOP, sentence, help_, says=plain))
            if not met:
                place = self.document.place(key)
                message = tr("{told} (it must be that {condition})", told=says, condition=condition)
                self.findings.append(Finding(Level.STOP, tr(ASKED), message, remedy, place, judged=True))

    def _erratum(self, index: int, entry: ErratumKeys) -> Erratum:
        wrong = runs(entry.wrong, ("errata", index, "wrong"), self.ledger, self.printed)
        return Erratum(entry.date, wrong, tuple(entry.printed))

    def _photographs(
        self, parts: tuple[Part, ...], found: tuple[Photograph, ...]
    ) -> tuple[tuple[Part, ...], tuple[Picture, ...]]:
        """The parts with the photographs of their steps, and the photographs of the piece."""
        of_step: dict[tuple[str, int], list[Picture]] = {}
        of_piece: list[Picture] = []
        for number, photograph in enumerate(found, start=1):
            at = photograph.step
            step = self.project.parts[at[0]].steps[at[1]] if at is not None else None
            shows = tr("Photograph: {shown}", shown=unfilled(step.name) if step is not None else self.project.title)
            listed = photograph.listed
            said = self.project.pictures[listed].shows if listed is not None else None
            if listed is not None and said is not None:
                shows = self._line(said, ("pictures", listed, "shows"))
            named = self.project.pictures[listed] if listed is not None else None
            by, license_ = (named.by or "", named.license or "") if named is not None else ("", "")
            picture = Picture(
                photograph.file, photograph.path, shows, number, said=said is not None, by=by, license=license_
            )
            (of_piece if at is None else of_step.setdefault(at, [])).append(picture)
        made = tuple(
            replace(
                part,
                steps=tuple(
                    replace(step, photographs=tuple(of_step.get((part.name, index), ())))
                    for index, step in enumerate(part.steps)
                ),
            )
            for part in parts
        )
        return made, tuple(of_piece)


def _span(minutes: MinutesKeys | None, word: str) -> Quantity | None:
    """One of the times of a step; None where it is not said."""
    said = getattr(minutes, word, None)
    return None if said is None else quantity(said, "min")
