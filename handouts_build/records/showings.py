"""What is kept of a project's showings: demonstrations, recorded runs, papers handed out.

This module owns where those files lie, below the project's own folder, and reads
them into one record. What they mean is worked out in `compute`; what of them is
public leaves as `Shown`, which has no field for anything else.

    projects/lantern/demonstrations/2026-03-21-fernhollow.yml
    projects/lantern/dry-runs/2026-03-14.yml
    projects/lantern/handed-out/2026-03-21-fernhollow/    papers, sheet.json, SHA256SUMS
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
from handouts_build.problems import Place, Problem, ProjectError, near_miss
from handouts_build.records.frozen import DATA, changed, kept
from handouts_build.sheet import Finding, Level, Sheet
from handouts_build.sheet.evening import Demonstration, Shown
from handouts_build.sheet.stopwatch import BREAK, Leg

if TYPE_CHECKING:
    from handouts_build.schema import Demonstration as Asked
    from handouts_build.schema import Document, Project, Run, Shop

__all__ = [
    "DEMONSTRATIONS",
    "HANDED_OUT",
    "RUNS",
    "SHOWN",
    "Records",
    "legs_of",
    "read_records",
    "run_files",
]

SHOWN = "shown"
"""Folder, on the site, of what is shown of demonstrations because their owners asked."""
_NAME = re.compile(r"(\d{4}-\d{2}-\d{2})-([a-z0-9][a-z0-9-]{0,40})")
_RUN_NAME = re.compile(r"\d{4}-\d{2}-\d{2}(?:-\d{1,3})?")


@dataclass(frozen=True)
class _File:
    """One demonstration's file, read."""

    name: str
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
    _runs: tuple[tuple[str, Run], ...] = ()
    _handed_out: Mapping[str, Mapping[str, bytes]] = field(default_factory=dict)
    _project: Project | None = None
    _shop: Shop | None = None
    _took: Mapping[str, int] = field(default_factory=dict)
    """Seconds at the lathe of the demonstration that was timed last on a day."""
    _notes: tuple[Finding, ...] = ()

    @property
    def names(self) -> tuple[str, ...]:
        """The demonstrations, oldest first."""
        return tuple(one.name for one in sorted(self._files, key=lambda one: one.starts))

    @property
    def runs(self) -> tuple[Run, ...]:
        """Every recorded run, oldest first."""
        return tuple(run for _, run in self._runs)

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
        return next(one.asked.paper for one in self._files if one.name == name)

    def occasion(self, name: str) -> str:
        """Club and date of a demonstration, in words."""
        from handouts_build.outputs.words import day

        return next(f"{one.asked.club}, {day(one.starts)}" for one in self._files if one.name == name)

    def demonstration(self, name: str) -> Demonstration:
        """A demonstration worked out, for its demonstrator."""
        from handouts_build.compute.evening.demonstration import work_out

        assert self._project is not None
        assert self._shop is not None
        one = next(one for one in self._files if one.name == name)
        return work_out(self.sheet, self._project, one.asked, one.document, name=name, runs=self.runs, shop=self._shop)

    def coming(self) -> tuple[Demonstration, ...]:
        """The demonstrations that have not been held, as far as their files say, worked out."""
        return tuple(
            self.demonstration(one.name)
            for one in self._files
            if one.asked.afterwards is None and one.asked.cancelled is None
        )

    def notes(self, day: date) -> tuple[Finding, ...]:
        """What there is to note: names of no step, and days that passed without a word.

        Args:
            day: Every day before it is over.
        """
        silent = [one for one in self._files if one.held(day) and one.asked.afterwards is None]
        return (
            *self._notes,
            *(note for one in self._files for note in one.notes),
            *(
                Finding(
                    Level.NOTE,
                    "The day",
                    f"the day of the demonstration at {one.asked.club} is past, and nothing says how it went",
                    "write 'afterwards: {attended: 20}', or 'cancelled: why', or give it a new date and its file a "
                    "new name",
                    one.document.place(("date",)),
                )
                for one in silent
            ),
        )

    def lasting_name(self, name: str) -> str:
        """What a demonstration is called whatever its day: project and club, and which of several at that club."""
        club = name[11:]
        same = [one for one in self.names if one[11:] == club]
        place = same.index(name)
        return f"{self.sheet.name}.{club}" + (f".{place + 1}" if place else "")

    def shown(self, day: date) -> tuple[Shown, ...]:
        """What the public archive says of the demonstrations, newest first.

        Args:
            day: Every day before it is over.
        """
        return tuple(
            self._shown(one, day)
            for one in sorted(self._files, key=lambda one: one.starts, reverse=True)
            if one.asked.listed
        )

    def _shown(self, one: _File, day: date) -> Shown:
        asked = one.asked
        after, private = asked.afterwards, asked.private
        papers = self._handed_out.get(one.name, {})
        shared = []
        if private and "link" in asked.share and private.link:
            shared.append(("Video meeting", private.link))
        if private and "contact" in asked.share:
            shared += [("Contact", line) for line in private.contact]
        took = self._took.get(one.name[:10])
        return Shown(
            name=one.name,
            project=self.sheet.name,
            starts=one.starts,
            zone=asked.zone.key,
            club=asked.club,
            place=asked.place or "",
            how=asked.how,
            held=one.held(day),
            attended=after.attended if after else None,
            minutes=round(took / 60) if took else None,
            questions=tuple((each.asked, each.answered) for each in after.questions) if after else (),
            handed_out={name: content for name, content in papers.items() if name.endswith(".pdf")},
            changed=tuple(changed(papers[DATA], self.sheet)) if papers else (),
            shared=tuple(shared),
            paper=asked.paper,
            run_sheet=self._run_sheet(one) if "run sheet" in asked.share else {},
            cancelled=asked.cancelled or "",
            recorded=after is not None,
            doors=f"{asked.doors:%H:%M}" if asked.doors else "",
        )

    def _run_sheet(self, one: _File) -> dict[str, Any]:
        """What a run sheet says to the public."""
        from handouts_build.outputs.evening.words import run_sheet_words

        return run_sheet_words(self.demonstration(one.name).fit_to_publish(one.asked.share))


def legs_of(records: Records, name: str = "") -> tuple[Leg, ...]:
    """The steps to run over: as planned for a demonstration, or all of them as the project says.

    Args:
        records: Of the project.
        name: The demonstration; empty for none.
    """
    if name:
        plan = records.demonstration(name).plan
        taken = {line.name for line in plan.lines if line.step is not None}
        return tuple(
            Leg(line.name, line.shown, line.minutes * 60, line.step.part)
            if line.step is not None
            else Leg("The break" if "Break" in taken else "Break", BREAK, line.minutes * 60)
            for line in plan.lines
            if line.step is not None or line.kind == "break"
        )
    from handouts_build.compute.steps import step_names, timed

    names = step_names(records.sheet)
    times = timed(names, records.runs)
    return tuple(
        Leg(called, step.show, 60 * (times[called].live if step.show == "live" else times[called].told).mean, step.part)
        for called, step in names.items()
    )


def run_files(home: Path) -> tuple[Path, ...]:
    """The files of recorded runs below a project's own folder, oldest first."""
    return _below(home / RUNS, ".yml")


def _below(folder: Path, *endings: str) -> tuple[Path, ...]:
    if not folder.is_dir():
        return ()
    return tuple(sorted(one for one in folder.iterdir() if one.suffix in endings and not one.name.startswith(".")))


def read_records(home: Path, shown: str, *, sheet: Sheet, project: Project, shop: Shop) -> Records:
    """Read everything that is kept of a project's showings.

    Args:
        home: The project's own folder.
        shown: How messages name that folder.
        sheet: The project, worked out.
        project: Its model.
        shop: The maker's kit.

    Raises:
        ProjectError: With every problem of every file.
    """
    problems: list[Problem] = list(unread(home, shown))
    files: list[_File] = []
    paths = _below(home / DEMONSTRATIONS, ".yml", ".yaml")
    for path in paths:
        try:
            files.append(_demonstration(path, f"{shown}/{DEMONSTRATIONS}/{path.name}", sheet))
        except ProjectError as error:
            problems.extend(error.problems)
    runs: list[tuple[str, Run]] = []
    took: dict[str, int] = {}
    notes: list[Finding] = []
    for path in run_files(home):
        try:
            found, noted, seconds = _runs(path, f"{shown}/{RUNS}/{path.name}", sheet)
        except ProjectError as error:
            problems.extend(error.problems)
            continue
        runs += [(path.stem[:10], run) for run in found]
        notes += noted
        if seconds is not None:
            took[path.stem[:10]] = seconds
    problems += _twice(files)
    handed: dict[str, Mapping[str, bytes]] = {}
    for folder in sorted((home / HANDED_OUT).iterdir()) if (home / HANDED_OUT).is_dir() else ():
        if folder.is_dir() and not folder.name.startswith("."):
            try:
                handed[folder.name] = kept(folder, f"{shown}/{HANDED_OUT}/{folder.name}")
            except ProjectError as error:
                problems.extend(error.problems)
    names = [path.stem for path in paths]
    free = [name for name in names if name not in handed]
    problems += (_orphan(name, free, shown) for name in handed if name not in names)
    if problems:
        raise ProjectError(problems)
    return Records(sheet, home, tuple(files), tuple(runs), handed, project, shop, took, tuple(notes))


def _orphan(name: str, free: Sequence[str], shown: str) -> Problem:
    """Papers that were handed out at a demonstration that is not there; `free` are those without papers."""
    same = [one for one in free if one[11:] == name[11:]] or get_close_matches(name, free, n=1)
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
    from handouts_build.schema import load_demonstration

    name = _NAME.fullmatch(path.stem)
    if name is None:
        raise ProjectError(
            [
                Problem(
                    Place(shown),
                    f"'{path.name}' cannot be a demonstration's file name",
                    "name it by its date and the club: 2026-03-21-fernhollow.yml",
                )
            ]
        )
    asked, document = load_demonstration(path, shown)
    over = asked.afterwards is not None or asked.cancelled is not None or asked.date < today()
    asked, notes = current_demonstration(sheet, asked, document, over=over)
    starts = check_demonstration(sheet, asked, document)
    if asked.date.isoformat() != name[1]:
        raise ProjectError(
            [
                Problem(
                    document.place(("date",)),
                    f"the date is {asked.date.isoformat()}, and the file's name says {name[1]}",
                    f"correct one of them: {asked.date.isoformat()}-{name[2]}{path.suffix}",
                )
            ]
        )
    return _File(path.stem, asked, document, starts, notes)


def _runs(path: Path, shown: str, sheet: Sheet) -> tuple[tuple[Run, ...], tuple[Finding, ...], int | None]:
    """The runs of a file, what is to note of them, and how long the demonstration among them took at the lathe."""
    from handouts_build.compute.formerly import current_runs
    from handouts_build.schema import load_runs

    if not _RUN_NAME.fullmatch(path.stem):
        raise ProjectError(
            [Problem(Place(shown), f"'{path.name}' is not named by its day", "name it by the day: 2026-03-14.yml")]
        )
    runs, document = load_runs(path, shown)
    held = [sum(one.to - one.from_ for one in run.times) for run in runs.runs if run.kind == "demonstration"]
    return *current_runs(sheet, runs, document), held[-1] if held else None


def _twice(files: list[_File]) -> Iterator[Problem]:
    """The same club at the same instant, in two files."""
    seen: dict[tuple[str, datetime], _File] = {}
    for one in files:
        first = seen.setdefault((one.asked.club.casefold(), one.starts), one)
        if first is not one:
            yield Problem(
                one.document.place(("start",)),
                f"this demonstration is already in {first.document.file}: same club, same time",
                "delete one of the two files",
            )
