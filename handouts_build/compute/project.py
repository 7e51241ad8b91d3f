"""A project's model to its sheet.

This module owns the order of things: sizes, dimensions, workings and profiles are
settled by the ledger, then parts, steps and text are put together. Same project,
same sheet: no clock, no disk beyond asking whether a picture is there.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import Any

from handouts_build.compute.names import Ledger, Piece, Unsettled
from handouts_build.compute.outlines import ProfileWork
from handouts_build.compute.prose import line, paragraphs
from handouts_build.compute.showing import dimension, spoken
from handouts_build.compute.workings import ChapterWork
from handouts_build.formulas import FormulaFault, holds
from handouts_build.problems import near_miss
from handouts_build.quantities import (
    UNITS,
    Err,
    Kind,
    Printed,
    Quantity,
    Rule,
    exact,
    inches,
    kind_of,
    millimetres,
    print_quantity,
    quantity,
)
from handouts_build.schema import Document, Formula, Key, Project, Shop
from handouts_build.sheet import (
    Blank,
    Dimension,
    Finding,
    Group,
    Level,
    Part,
    Picture,
    Sheet,
    Size,
    Step,
)

__all__ = ["compute"]

_PICTURES = {".jpg", ".jpeg", ".png", ".webp"}


def compute(project: Project, document: Document, *, name: str, folder: Path, shop: Shop) -> Sheet:
    """Work a project out.

    Args:
        project: Its model.
        document: The file it came from, for places.
        name: Its name in the archive.
        folder: Where its pictures lie; need not exist if it has none.
        shop: The maker's kit.

    Returns:
        The sheet, with its findings; a finding of `stop` is not an error here.

    Raises:
        ProjectError: With every problem.
    """
    return _Work(project, document, name, folder, shop).sheet()


def _rule(project: Project) -> Rule:
    inch = Fraction(project.rule.m_as(UNITS["in"])).limit_denominator(128) if project.rule else Rule.inch
    mm = (
        Fraction(project.metric_rule.m_as(UNITS["mm"])).limit_denominator(100)
        if project.metric_rule
        else Rule.millimetre
    )
    return Rule(inch, mm, "in" if project.measure == "inches" else "mm")


class _Work:
    def __init__(self, project: Project, document: Document, name: str, folder: Path, shop: Shop) -> None:
        self.project, self.document, self.name, self.folder, self.shop = project, document, name, folder, shop
        self.rule = _rule(project)
        self.ledger = Ledger(document)
        step = inches(float(self.rule.inch)) if self.rule.lead == "in" else millimetres(float(self.rule.millimetre))
        self.ledger.values["rule"] = step
        self.printed: dict[str, Printed] = {}
        self.sizes: list[Size] = []
        self.own: list[Dimension] = []
        self.findings: list[Finding] = []

    def sheet(self) -> Sheet:
        chapters, profiles = self._settle()
        groups = tuple(work.group for work in (*chapters, *profiles) if work.group is not None)
        for group in groups:
            for given in group.givens:
                self.printed[f"{group.name}.{given.name}"] = given.printed
            for one in group.dimensions:
                self.printed[one.name] = one.printed
        if self.own:
            groups = (
                Group(
                    "",
                    "Dimensions of this piece",
                    "",
                    "What follows by the author's own formulas.",
                    dimensions=tuple(self.own),
                ),
                *groups,
            )
        parts = self._parts()
        self._drawings_known({group.name for group in groups})
        self._keep()
        self._shapes_fit(groups, parts)
        self._bits(groups)
        pictures = tuple(self._pictures())
        summary = paragraphs(self.project.summary, ("summary",), self.ledger, self.printed)
        supplies = tuple(self._line(text, ("supplies", i)) for i, text in enumerate(self.project.supplies))
        self.ledger.refuse()
        for work in (*chapters, *profiles):
            self.findings.extend(work.findings)
        order = list(Level)
        return Sheet(
            name=self.name,
            file=self.document.file,
            title=self.project.title,
            summary=summary,
            kind=self.project.kind,
            level=self.project.level,
            techniques=tuple(self.project.techniques),
            rule=self.rule,
            by=self.shop.by or "",
            club=self.shop.club or "",
            sizes=tuple(self.sizes),
            groups=groups,
            parts=parts,
            supplies=supplies,
            pictures=pictures,
            findings=tuple(sorted(self.findings, key=lambda one: (order.index(one.level), one.place))),
        )

    def _settle(self) -> tuple[list[ChapterWork], list[ProfileWork]]:
        """Give every name its value."""
        many = sum(
            map(len, (self.project.sizes, self.project.dimensions, self.project.workings, self.project.profiles))
        )
        if many > Project.largest:
            self.ledger.note((), f"the file names {many} values; at most {Project.largest} are worked out")
            self.ledger.refuse()
        for name, size in self.project.sizes.items():
            self.ledger.add(
                Piece(name, ("sizes", name), (), frozenset({name}), lambda n=name, s=size: self._size(n, s))
            )  # type: ignore[misc]
        for name, own in self.project.dimensions.items():
            key: Key = ("dimensions", name)
            self.ledger.add(
                Piece(
                    name,
                    key,
                    ((own.formula, (*key, "formula")),),
                    frozenset({name}),
                    lambda n=name, o=own: self._dimension(n, o),
                )  # type: ignore[misc]
            )
        chapters = [
            ChapterWork(name, model, ledger=self.ledger, rule=self.rule)
            for name, model in self.project.workings.items()
        ]
        profiles = [
            ProfileWork(name, model, ledger=self.ledger, rule=self.rule)
            for name, model in self.project.profiles.items()
        ]
        for work in (*chapters, *profiles):
            self.ledger.add(work.piece)
        self.ledger.settle()
        return chapters, profiles

    def _size(self, name: str, size: Any) -> None:
        key: Key = ("sizes", name)
        value: Quantity = size.is_
        kind = kind_of(value)
        failed = False
        if kind is not None and value.magnitude <= 0:
            self.ledger.note((*key, "is"), f"'{name}' must be more than nought")
            failed = True
        bounds: dict[str, Quantity] = {"least": size.least, "most": size.most}
        for bound, limit in bounds.items():
            if limit is not None and kind_of(limit) is not kind:
                self.ledger.note(
                    (*key, bound),
                    f"'{bound}' and 'is' measure different things",
                    f"write {kind.says if kind else 'both alike'}",
                )
                failed = True
        if not failed:
            for bound, limit in bounds.items():
                if limit is not None and (value < limit if bound == "least" else value > limit):
                    self.ledger.note(
                        (*key, "is"), f"'{name}' is outside its own bounds: {bound} is {exact(limit, self.rule.lead)}"
                    )
                    failed = True
            if size.choices and not any(
                kind_of(one) is kind and abs(one.magnitude - value.magnitude) < 1e-9 for one in size.choices
            ):
                self.ledger.note((*key, "is"), f"'{name}' is not one of its own choices")
                failed = True
        if failed:
            raise Unsettled
        self.ledger.values[name] = value
        shown = print_quantity(value, self.rule)
        self.printed[name] = shown
        says = self._line(size.says, (*key, "says"))
        least, most = (print_quantity(one, self.rule) if one is not None else None for one in (size.least, size.most))
        choices = tuple(str(print_quantity(one, self.rule)) for one in size.choices or ())
        self.sizes.append(Size(name, says, value, shown, least, most, choices))

    def _dimension(self, name: str, own: Any) -> None:
        key: Key = ("dimensions", name)
        value = self.ledger.value(own.formula, (*key, "formula"))
        kind = kind_of(value)
        if kind is None:
            self.ledger.note(
                (*key, "formula"), f"'{name}' comes out as a mixture of units", "check what is multiplied and divided"
            )
            raise Unsettled
        if kind is Kind.LENGTH and value.magnitude <= 0:
            self.ledger.note(
                (*key, "formula"),
                f"'{name}' comes out at {exact(value, self.rule.lead)}",
                "a length must be more than nought",
            )
            raise Unsettled
        self.ledger.values[name] = value
        row = dimension(
            name, value, says=self._line(own.says, (*key, "says")), symbol=spoken(name), tree=own.formula.tree,
            symbols=spoken, values=self.ledger.lookup, rule=self.rule, err=Err(own.err), fine=own.fine, main=True, source=None,
        )  # fmt: skip
        self.own.append(row)
        self.printed[name] = row.printed

    def _line(self, text: str, key: Key) -> str:
        return line(text, key, self.ledger, self.printed)

    def _parts(self) -> tuple[Part, ...]:
        made = []
        number = 0
        for name, part in self.project.parts.items():
            key: Key = ("parts", name)
            steps = []
            for index, step in enumerate(part.steps):
                number += 1
                steps.append(self._step(number, name, step, (*key, "steps", index)))
            title = self._line(part.says, (*key, "says")) if part.says else spoken(name).capitalize()
            blank = self._blank(part.blank, (*key, "blank"))
            if blank is not None:
                made.append(Part(name, title, part.wood, part.grain, blank, tuple(steps)))
        return tuple(made)

    def _blank(self, blank: Any, key: Key) -> Blank | None:
        shape = "round" if blank.round else "square" if blank.square else "board"
        sides = []
        words = {"round": "diameter", "square": "side", "wide": "width", "thick": "thickness", "long": "length"}
        for side, word in words.items():
            formula: Formula | None = getattr(blank, side)
            if formula is None:
                continue
            try:
                value = self.ledger.value(formula, (*key, side), kind=Kind.LENGTH, what=f"the blank's {word}")
            except Unsettled:
                return None
            # A blank is cut over: it can be turned down, never up.
            sides.append((word, value, print_quantity(value, self.rule, err=Err.OVER)))
        return Blank(shape, tuple(sides))

    def _step(self, number: int, part: str, step: Any, key: Key) -> Step:
        return Step(
            number=number,
            name=self._line(step.name, (*key, "name")),
            part=part,
            say=paragraphs(step.say, (*key, "say"), self.ledger, self.printed),
            care=tuple(
                paragraph
                for index, text in enumerate(step.care)
                for paragraph in paragraphs(text, (*key, "care", index), self.ledger, self.printed)
            ),
            hold=self._line(step.hold, (*key, "hold")) if step.hold else "",
            tools=tuple(self._line(tool, (*key, "tools", index)) for index, tool in enumerate(step.tools)),
            minutes=None if step.minutes is None else quantity(step.minutes, "min"),
            speed=exact(step.speed, self.rule.lead) if step.speed is not None else "",
            show=step.show,
            camera=step.camera or "",
            figures=tuple(step.drawings),
        )

    def _drawings_known(self, groups: set[str]) -> None:
        known = groups | set(self.project.workings) | set(self.project.profiles)
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
            try:
                if holds(keep.that.tree, self.ledger.lookup):
                    continue
            except FormulaFault as fault:
                self.ledger.note(key, fault.message, fault.hint, offset=fault.offset)
                continue
            except Unsettled:
                continue
            says = self._line(keep.says, ("keep", index, "says"))
            remedy = self._line(keep.remedy, ("keep", index, "remedy")) if keep.remedy else ""
            message = f"{says} ({keep.that.text} does not hold)"
            self.findings.append(Finding(Level.STOP, "What the author asks", message, remedy, self.document.place(key)))

    def _shapes_fit(self, groups: tuple[Group, ...], parts: tuple[Part, ...]) -> None:
        """A profile must fit in the blank it is turned from."""
        blanks = {part.name: part.blank for part in parts}
        for group in groups:
            if group.shape is None or not group.part:
                continue
            key: Key = ("profiles", group.name, "part")
            if group.part not in self.project.parts:
                self.ledger.note(key, f"'{group.part}' is not a part", near_miss(group.part, self.project.parts))
                continue
            blank = blanks.get(group.part)
            if blank is None:
                continue
            sides = {what: value for what, value, _ in blank.sides}
            across = min(value for what, value in sides.items() if what != "length")
            for what, needs, has in (
                ("thick", group.values["widest"], across),
                ("long", group.values["length"], sides["length"]),
            ):
                if needs.magnitude > has.magnitude + 1e-6:
                    self.findings.append(
                        Finding(
                            Level.STOP,
                            group.title,
                            f"the profile is {print_quantity(needs, self.rule)} {what} and its blank only {print_quantity(has, self.rule)}",
                            "choose a larger blank or draw the profile in",
                            self.document.place(("profiles", group.name)),
                        )
                    )

    def _bits(self, groups: tuple[Group, ...]) -> None:
        """A bit that the shop does not list is worth a note."""
        if not self.shop.bits:
            return
        for group in groups:
            bit = group.values.get("bit")
            if bit is None or any(abs(bit.magnitude - one.magnitude) < 0.01 for one in self.shop.bits):
                continue
            message = f"the shop file lists no bit of {group.printed['bit']}"
            place = self.document.place(("workings", group.name, "bit"))
            self.findings.append(
                Finding(
                    Level.NOTE, group.title, message, "add it to the shop file, or choose a bit that is there", place
                )
            )

    def _pictures(self) -> list[Picture]:
        made = []
        home = self.folder.resolve()
        for index, picture in enumerate(self.project.pictures):
            key: Key = ("pictures", index, "file")
            written = Path(picture.file)
            path = (self.folder / written).resolve()
            if written.is_absolute() or "\\" in picture.file or not path.is_relative_to(home):
                self.ledger.note(
                    key,
                    f"'{picture.file}' lies outside the project's folder",
                    f"put it in the folder {self.folder.name}/",
                )
            elif path.suffix.lower() not in _PICTURES:
                self.ledger.note(
                    key, f"'{picture.file}' is not a picture that can be shown", "use a .jpg, .png or .webp file"
                )
            elif not path.is_file():
                self.ledger.note(
                    key,
                    f"there is no picture '{picture.file}' in the folder {self.folder.name}/",
                    self._pictures_near(written),
                )
            else:
                made.append(Picture(written.as_posix(), path, self._line(picture.shows, ("pictures", index, "shows"))))
        return made

    def _pictures_near(self, written: Path) -> str:
        if not self.folder.is_dir():
            return f"make the folder {self.folder.name}/ beside the project file"
        return near_miss(written.name, [one.name for one in self.folder.iterdir() if one.suffix.lower() in _PICTURES])
