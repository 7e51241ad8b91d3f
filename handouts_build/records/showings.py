"""What is kept of a project's showings: demonstrations, recorded runs, papers handed out.

This module owns where those files lie, below the project's own folder, and reads
them into one record. What they mean is worked out in `compute`; what of them is
public leaves as `PublicDemonstration`, which has no field for anything else.

    projects/lantern/demonstrations/2026-03-21-fernhollow.yml
    projects/lantern/dry-runs/2026-03-14.yml
    projects/lantern/plans/5d0c7b1e9a4f0c1d.yml    the plan as its run sheet was printed
    projects/lantern/handed-out/2026-03-21-fernhollow/    papers, sheet.json, SHA256SUMS
    projects/handed-out.sha256                     which of these were handed out from here
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING, Any

from handouts_build.disk.clock import today
from handouts_build.disk.folders import DEMONSTRATIONS, HANDED_OUT, RUNS, unread
from handouts_build.disk.reading import is_plain_folder, plain_files
from handouts_build.problems import Place, Problem, ProjectError, near_miss
from handouts_build.records.frozen import DATA, changed, kept
from handouts_build.records.own_papers import not_ours, own_papers
from handouts_build.records.plans import read_plans
from handouts_build.records.runs import RecordedRuns, read_runs, recorded_chapters
from handouts_build.sheet import Finding, Level, Sheet
from handouts_build.sheet.evening import Demonstration, Plan, PublicDemonstration, TakenStick
from handouts_build.sheet.stopwatch import Leg

if TYPE_CHECKING:
    from handouts_build.schema import DemonstrationKeys as Asked
    from handouts_build.schema import Document, FrozenPlanKeys, ProjectKeys, RunKeys, ShopKeys

__all__ = [
    "DEMONSTRATIONS",
    "EVENING_NAME",
    "HANDED_OUT",
    "RUNS",
    "SHOWN_FOLDER",
    "Records",
    "legs_of",
    "plan_legs",
    "read_records",
]

SHOWN_FOLDER = "shown"
"""Folder, on the site, of what is shown of demonstrations because their owners asked."""
EVENING_NAME = r"\d{4}-\d{2}-\d{2}-[a-z0-9][a-z0-9-]{0,40}"
"""A demonstration's name: its day and its club."""


@dataclass(frozen=True)
class _File:
    """One demonstration's file, read."""

    name: str
    path: Path
    asked: Asked
    document: Document
    starts: datetime
    notes: tuple[Finding, ...] = ()

    def held(self, day: date) -> bool:
        """Whether it was held before a day, as far as one knows: its file says so, or nothing else."""
        return self.asked.afterwards is not None or (self.asked.cancelled is None and self.asked.date < day)


@dataclass(frozen=True)
class Records:
    """What is kept of one project's showings."""

    sheet: Sheet
    home: Path
    """The project's own folder; need not exist."""
    _files: tuple[_File, ...] = ()
    recorded: RecordedRuns = field(default_factory=RecordedRuns)
    _handed_out: Mapping[str, Mapping[str, bytes]] = field(default_factory=dict)
    _project: ProjectKeys | None = None
    _shop: ShopKeys | None = None
    _plans: Mapping[str, FrozenPlanKeys] = field(default_factory=dict)
    """Plans as they were printed, by calendar id."""

    @property
    def names(self) -> tuple[str, ...]:
        """The demonstrations, oldest first."""
        return tuple(file.name for file in sorted(self._files, key=lambda file: file.starts))

    @property
    def runs(self) -> tuple[RunKeys, ...]:
        """Every recorded run, oldest first."""
        return self.recorded.runs

    def _file(self, name: str) -> _File:
        return next(file for file in self._files if file.name == name)

    def path(self, name: str) -> Path:
        """The file of a demonstration."""
        return self._file(name).path

    def calendar_id(self, name: str) -> str:
        """What calendars know a demonstration by; empty where it was not printed yet."""
        return self._file(name).asked.calendar_id or ""

    def printed(self, name: str) -> FrozenPlanKeys | None:
        """What was settled when a demonstration was printed last; None where it was not."""
        return self._plans.get(self.calendar_id(name))

    def called(self, name: str) -> tuple[str, ...]:
        """What a demonstration is called, and what it was called whenever it was printed: a run may name it so."""
        plan = self.printed(name)
        before = (*plan.formerly, plan.evening) if plan else ()
        return (name, *dict.fromkeys(old for old in before if old not in self.names))

    def begun(self, name: str) -> bool:
        """Whether a demonstration has been held or begun: its plan is then no longer made anew."""
        return self._file(name).asked.afterwards is not None or bool(self.recorded.of(self.called(name)))

    def handed_out(self, name: str) -> bool:
        """Whether papers of a demonstration have been handed out."""
        return name in self._handed_out

    def find(self, wanted: str) -> str:
        """The demonstration of that name or date.

        Raises:
            ProjectError: If there is none, or several.
        """
        found = [name for name in self.names if wanted in (name, name[:10])]
        if len(found) == 1:
            return found[0]
        place = Place(self.sheet.file)
        if found:
            raise ProjectError(
                [Problem(place, f"several demonstrations are on {wanted}", f"say which: {', '.join(found)}")]
            )
        hint = near_miss(wanted, self.names) or f"write one into {self.home.as_posix()}/{DEMONSTRATIONS}/"
        raise ProjectError([Problem(place, f"there is no demonstration '{wanted}' of {self.sheet.title}", hint)])

    def paper(self, name: str) -> str:
        """The size of paper a demonstration's handouts are printed on."""
        return self._file(name).asked.paper

    def occasion(self, name: str) -> str:
        """Club and date of a demonstration, in words."""
        from handouts_build.outputs.words import day

        file = self._file(name)
        return f"{file.asked.club}, {day(file.starts)}"

    def demonstration(self, name: str, *, afresh: bool = False, taken: Sequence[TakenStick] = ()) -> Demonstration:
        """A demonstration worked out, for its demonstrator.

        Args:
            name: Its name.
            afresh: Whether its plan is made anew although it was printed.
            taken: Sticks on hand that earlier demonstrations saw into.
        """
        from handouts_build.compute.evening.demonstration import work_out

        assert self._project is not None
        assert self._shop is not None
        file = self._file(name)
        return work_out(
            self.sheet,
            self._project,
            file.asked,
            file.document,
            name=name,
            runs=self.recorded.before(self.called(name)),
            shop=self._shop,
            frozen=None if afresh else self.printed(name),
            taken=taken,
        )

    def coming(self) -> tuple[Demonstration, ...]:
        """The demonstrations that have not been held, as far as their files say, worked out."""
        return tuple(
            self.demonstration(file.name)
            for file in self._files
            if file.asked.afterwards is None and file.asked.cancelled is None
        )

    def announced(self, day: date) -> tuple[str, ...]:
        """The demonstrations still to come on a day: not held, not cancelled, not past; oldest first.

        Args:
            day: Every day before it is over.
        """
        coming = {file.name for file in self._files if not file.held(day) and file.asked.cancelled is None}
        return tuple(name for name in self.names if name in coming)

    def notes(self, day: date) -> tuple[Finding, ...]:
        """What there is to note: names of no step, and days that passed without a word.

        Args:
            day: Every day before it is over.
        """
        silent = [file for file in self._files if file.held(day) and file.asked.afterwards is None]
        return (
            *self.recorded.notes,
            *(note for file in self._files for note in file.notes),
            *(
                Finding(
                    Level.NOTE,
                    "The day",
                    f"the day of the demonstration at {file.asked.club} is past, and nothing says how it went",
                    "write 'afterwards: {attended: 20}', or 'cancelled: why', or give it a new date and its file a "
                    "new name",
                    file.document.place(("date",)),
                )
                for file in silent
            ),
        )

    def public(self, day: date) -> tuple[PublicDemonstration, ...]:
        """What the public archive says of the demonstrations, newest first.

        Args:
            day: Every day before it is over.
        """
        return tuple(
            self._public(file, day)
            for file in sorted(self._files, key=lambda file: file.starts, reverse=True)
            if file.asked.listed
        )

    def _public(self, file: _File, day: date) -> PublicDemonstration:
        from handouts_build.compute.evening.moments import later

        asked = file.asked
        after, private = asked.afterwards, asked.private
        papers = self._handed_out.get(file.name, {})
        shared = []
        if private and "link" in asked.share and private.link:
            shared.append(("Video meeting", private.link))
        if private and "contact" in asked.share:
            shared += [("Contact", line) for line in private.contact]
        held = self.recorded.of(self.called(file.name))
        took = sum(timing.to - timing.from_ for timing in held[-1][1].times) if held else 0
        return PublicDemonstration(
            name=file.name,
            project=self.sheet.name,
            starts=file.starts,
            zone=asked.zone.key,
            club=asked.club,
            place=asked.place or "",
            how=asked.how,
            held=file.held(day),
            attended=after.attended if after else None,
            minutes=round(took / 60) or None,
            questions=tuple((question.asked, question.answered) for question in after.questions) if after else (),
            handed_out={name: content for name, content in papers.items() if name.endswith(".pdf")},
            changed=tuple(changed(papers[DATA], self.sheet)) if papers else (),
            shared=tuple(shared),
            paper=asked.paper,
            run_sheet=self._run_sheet(file) if "run sheet" in asked.share else {},
            cancelled=asked.cancelled or "",
            recorded=after is not None,
            doors=f"{asked.doors:%H:%M}" if asked.doors else "",
            ends=later(file.starts, float(asked.slot.magnitude)),
            recording=(after.recording or "") if after else "",
            chapters=tuple(
                (chapter.starts, chapter.title)
                for chapter in recorded_chapters(held[-1][1], watch_started=after.watch_started or 0)
            )
            if after and after.recording and held
            else (),
        )

    def _run_sheet(self, file: _File) -> dict[str, Any]:
        """What a run sheet says to the public."""
        from handouts_build.outputs.evening.words import run_sheet_words

        return run_sheet_words(self.demonstration(file.name).fit_to_publish(file.asked.share))


def legs_of(records: Records, name: str = "") -> tuple[Leg, ...]:
    """The steps to run over: as planned for a demonstration, or all of them as the project says.

    Args:
        records: Of the project.
        name: The demonstration; empty for none.
    """
    if name:
        return plan_legs(records.demonstration(name).plan)
    from handouts_build.compute.steps import step_names, timed

    names = step_names(records.sheet)
    times = timed(names, records.runs)
    return tuple(
        Leg(
            called,
            step.show,
            60 * (times[called].live if step.show == "live" else times[called].told).mean,
            step.number,
        )
        for called, step in names.items()
    )


def plan_legs(plan: Plan) -> tuple[Leg, ...]:
    """A plan as a stopwatch goes over it: steps numbered as on the run sheet, and what stands between them."""
    taken = {line.name for line in plan.lines if line.step is not None}
    return tuple(
        Leg(line.name, line.shown, line.minutes * 60, line.step.number)
        if line.step is not None
        else Leg(f"The {line.name.lower()}" if line.name in taken else line.name, line.kind, line.minutes * 60)
        for line in plan.lines
    )


def read_records(home: Path, shown: str, *, sheet: Sheet, project: ProjectKeys, shop: ShopKeys) -> Records:
    """Read everything that is kept of a project's showings.

    Args:
        home: The project's own folder.
        shown: How messages name that folder.
        sheet: The project, worked out.
        project: Its model.
        shop: The maker's kit.

    Returns:
        The records. Files of runs that cannot be read are told in them, for whoever cannot do without.

    Raises:
        ProjectError: With every problem of every other file.
    """
    problems: list[Problem] = list(unread(home, shown))
    files: list[_File] = []
    paths = plain_files(home, DEMONSTRATIONS, ".yml", ".yaml")
    for path in paths:
        try:
            files.append(_demonstration(path, f"{shown}/{DEMONSTRATIONS}/{path.name}", sheet))
        except ProjectError as error:
            problems.extend(error.problems)
    recorded = read_runs(home, shown, sheet)
    plans, wrong = read_plans(home, shown, [file.asked.calendar_id for file in files if file.asked.calendar_id])
    problems += wrong
    problems += _twice(files)
    problems += _one_id(files)
    handed: dict[str, Mapping[str, bytes]] = {}
    papers = tuple(folder for folder in plain_files(home, HANDED_OUT) if is_plain_folder(folder))
    own = own_papers(home.parent) if papers else frozenset()
    for folder in papers:
        called = f"{shown}/{HANDED_OUT}/{folder.name}"
        try:
            handed[folder.name] = kept(folder, called)
            problems += not_ours(folder, called, own)
        except ProjectError as error:
            problems.extend(error.problems)
    names = [path.stem for path in paths]
    free = [name for name in names if name not in handed]
    problems += (_orphan(name, free, shown) for name in handed if name not in names)
    if problems:
        raise ProjectError(problems)
    return Records(sheet, home, tuple(files), recorded, handed, project, shop, plans)


def _orphan(name: str, free: Sequence[str], shown: str) -> Problem:
    """Papers that were handed out at a demonstration that is not there; `free` are those without papers."""
    same = [candidate for candidate in free if candidate[11:] == name[11:]] or get_close_matches(name, free, n=1)
    moved = f"if it was moved to {same[-1][:10]}, rename this folder to {same[-1]}; " if same else ""
    return Problem(
        Place(f"{shown}/{HANDED_OUT}/{name}"),
        f"there is no demonstration {name} that these papers were handed out at",
        f"{moved}the folder has the name of the demonstration's file, so that people find what they took home; "
        f"bring {DEMONSTRATIONS}/{name}.yml back if it was deleted",
    )


def _demonstration(path: Path, shown: str, sheet: Sheet) -> _File:
    from handouts_build.compute.evening.demonstration import check_demonstration
    from handouts_build.compute.formerly import current_demonstration
    from handouts_build.schema import DemonstrationKeys, load_file

    if re.fullmatch(EVENING_NAME, path.stem) is None:
        raise ProjectError(
            [
                Problem(
                    Place(shown),
                    f"'{path.name}' cannot be a demonstration's file name",
                    "name it by its date and the club: 2026-03-21-fernhollow.yml",
                )
            ]
        )
    asked, document = load_file(DemonstrationKeys, path, shown)
    over = asked.afterwards is not None or asked.cancelled is not None or asked.date < today()
    asked, notes = current_demonstration(sheet, asked, document, over=over)
    starts = check_demonstration(sheet, asked, document)
    if asked.date.isoformat() != path.stem[:10]:
        raise ProjectError(
            [
                Problem(
                    document.place(("date",)),
                    f"the date is {asked.date.isoformat()}, and the file's name says {path.stem[:10]}",
                    f"correct one of them: {asked.date.isoformat()}{path.stem[10:]}{path.suffix}",
                )
            ]
        )
    return _File(path.stem, path, asked, document, starts, notes)


def _twice(files: list[_File]) -> Iterator[Problem]:
    """The same club at the same instant, in two files."""
    seen: dict[tuple[str, datetime], _File] = {}
    for file in files:
        first = seen.setdefault((file.asked.club.casefold(), file.starts), file)
        if first is not file:
            yield Problem(
                file.document.place(("start",)),
                f"this demonstration is already in {first.document.file}: same club, same time",
                "delete one of the two files",
            )


def _one_id(files: list[_File]) -> Iterator[Problem]:
    """One calendar id in two files: one is a copy of the other, and calendars would take them for one evening."""
    seen: dict[str, _File] = {}
    for file in sorted(files, key=lambda file: file.starts):
        if file.asked.calendar_id is None:
            continue
        first = seen.setdefault(file.asked.calendar_id, file)
        if first is not file:
            yield Problem(
                file.document.place(("calendar id",)),
                f"this calendar id is already that of {first.document.file}",
                "delete the line in the copy: another evening is another event",
            )
