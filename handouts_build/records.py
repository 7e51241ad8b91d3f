"""What is kept of a project's showings: demonstrations, recorded runs, papers handed out.

This module owns where those files lie, below the project's own folder, and reads
them into one record. What they mean is worked out in `compute`; what of them is
public leaves as `Shown`, which has no field for anything else.

    projects/lantern/demonstrations/2026-03-21-fernhollow.yml
    projects/lantern/dry-runs/2026-03-14.yml
    projects/lantern/handed-out/2026-03-21-fernhollow/    papers, sheet.json, SHA256SUMS
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from handouts_build.demonstration import Changed, Demonstration, Shown
from handouts_build.problems import Place, Problem, ProjectError, near_miss
from handouts_build.sheet import Sheet
from handouts_build.stopwatch import Leg

if TYPE_CHECKING:
    from handouts_build.schema import Demonstration as Asked
    from handouts_build.schema import Document, Project, Run, Shop

__all__ = [
    "DATA",
    "DEMONSTRATIONS",
    "HANDED_OUT",
    "RUNS",
    "SHOWN",
    "SUMS",
    "Records",
    "legs_of",
    "read_records",
    "run_files",
    "sums",
]

DEMONSTRATIONS, RUNS, HANDED_OUT = "demonstrations", "dry-runs", "handed-out"
SUMS, DATA = "SHA256SUMS", "sheet.json"
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

    def demonstration(self, name: str) -> Demonstration:
        """A demonstration worked out, for its demonstrator."""
        from handouts_build.compute.demonstration import work_out

        assert self._project is not None
        assert self._shop is not None
        one = next(one for one in self._files if one.name == name)
        return work_out(self.sheet, self._project, one.asked, one.document, name=name, runs=self.runs, shop=self._shop)

    def coming(self) -> tuple[Demonstration, ...]:
        """The demonstrations that have not been held, as far as their files say, worked out."""
        return tuple(self.demonstration(one.name) for one in self._files if one.asked.afterwards is None)

    def shown(self) -> tuple[Shown, ...]:
        """What the public archive says of the demonstrations, newest first."""
        return tuple(
            self._shown(one)
            for one in sorted(self._files, key=lambda one: one.starts, reverse=True)
            if one.asked.listed
        )

    def _shown(self, one: _File) -> Shown:
        asked = one.asked
        after, private = asked.afterwards, asked.private
        kept = self._handed_out.get(one.name, {})
        shared = []
        if private and "link" in asked.share and private.link:
            shared.append(("Video meeting", private.link))
        if private and "contact" in asked.share:
            shared += [("Contact", line) for line in private.contact]
        ran = [run for day, run in self._runs if run.kind == "demonstration" and day == one.name[:10]]
        return Shown(
            name=one.name,
            project=self.sheet.name,
            starts=one.starts,
            zone=asked.zone.key,
            club=asked.club,
            place=asked.place or "",
            how=asked.how,
            held=after is not None,
            attended=after.attended if after else None,
            minutes=round(max(stretch.to for stretch in ran[-1].times) / 60) if ran and ran[-1].times else None,
            questions=tuple((each.asked, each.answered) for each in after.questions) if after else (),
            handed_out={name: content for name, content in kept.items() if name.endswith(".pdf")},
            changed=tuple(_changed(kept[DATA], self.sheet)) if DATA in kept else (),
            shared=tuple(shared),
            paper=asked.paper,
            run_sheet=self._run_sheet(one) if "run sheet" in asked.share else {},
        )

    def _run_sheet(self, one: _File) -> dict[str, Any]:
        """What a run sheet says to the public."""
        from handouts_build.outputs.evening_words import run_sheet_words

        return run_sheet_words(self.demonstration(one.name).fit_to_publish(one.asked.share))


def legs_of(records: Records, name: str = "") -> tuple[Leg, ...]:
    """The steps to run over: as planned for a demonstration, or all of them as the project says.

    Args:
        records: Of the project.
        name: The demonstration; empty for none.
    """
    if name:
        plan = records.demonstration(name).plan
        return tuple(
            Leg(line.name, line.shown, line.minutes * 60, line.step.part)
            for line in plan.lines
            if line.step is not None
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
    problems: list[Problem] = []
    files: list[_File] = []
    for path in _below(home / DEMONSTRATIONS, ".yml", ".yaml"):
        try:
            files.append(_demonstration(path, f"{shown}/{DEMONSTRATIONS}/{path.name}", sheet))
        except ProjectError as error:
            problems.extend(error.problems)
    runs: list[tuple[str, Run]] = []
    for path in run_files(home):
        try:
            runs += [(path.stem[:10], run) for run in _runs(path, f"{shown}/{RUNS}/{path.name}", sheet)]
        except ProjectError as error:
            problems.extend(error.problems)
    problems += _twice(files)
    handed: dict[str, Mapping[str, bytes]] = {}
    for folder in sorted((home / HANDED_OUT).iterdir()) if (home / HANDED_OUT).is_dir() else ():
        if folder.is_dir() and not folder.name.startswith("."):
            try:
                handed[folder.name] = _kept(folder, f"{shown}/{HANDED_OUT}/{folder.name}")
            except ProjectError as error:
                problems.extend(error.problems)
    if problems:
        raise ProjectError(problems)
    return Records(sheet, home, tuple(files), tuple(runs), handed, project, shop)


def _demonstration(path: Path, shown: str, sheet: Sheet) -> _File:
    from handouts_build.compute.demonstration import check_demonstration
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
    return _File(path.stem, asked, document, starts)


def _runs(path: Path, shown: str, sheet: Sheet) -> tuple[Run, ...]:
    from handouts_build.compute.demonstration import check_runs
    from handouts_build.schema import load_runs

    if not _RUN_NAME.fullmatch(path.stem):
        raise ProjectError(
            [Problem(Place(shown), f"'{path.name}' is not named by its day", "name it by the day: 2026-03-14.yml")]
        )
    runs, document = load_runs(path, shown)
    check_runs(sheet, runs, document)
    return tuple(runs.runs)


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


def sums(files: Mapping[str, bytes]) -> str:
    """Checksums of files, in the form that `sha256sum --check` reads."""
    return "".join(f"{hashlib.sha256(content).hexdigest()}  {name}\n" for name, content in sorted(files.items()))


def _kept(folder: Path, shown: str) -> dict[str, bytes]:
    """Papers as they were handed out, once their checksums are seen to hold."""
    place = Place(f"{shown}/{SUMS}")
    try:
        told = (folder / SUMS).read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError):
        raise ProjectError(
            [Problem(place, "the checksums of what was handed out are missing", "bring the file back from a backup")]
        ) from None
    files: dict[str, bytes] = {}
    problems = []
    for line in told.splitlines():
        digest, _, name = line.partition("  ")
        path = folder / name
        if "/" in name or "\\" in name or not name or name.startswith("."):
            problems.append(Problem(place, f"'{name}' is not a file name", "bring the file back from a backup"))
            continue
        try:
            files[name] = path.read_bytes()
        except OSError:
            problems.append(Problem(place, f"'{name}' was handed out and is missing", "bring it back from a backup"))
            continue
        if hashlib.sha256(files[name]).hexdigest() != digest:
            problems.append(
                Problem(
                    Place(f"{shown}/{name}"),
                    "this file is not the one that was handed out: its checksum differs",
                    "bring it back from a backup; what was handed out is kept as it was",
                )
            )
    if problems:
        raise ProjectError(problems)
    return files


def _changed(data: bytes, sheet: Sheet) -> Iterator[Changed]:
    """Sizes and main dimensions that are others now than on the paper."""
    then = dict(_told(json.loads(data)))
    now = {size.name: (size.says, str(size.printed)) for size in sheet.sizes}
    now |= {
        one.name: (_in_group(group.title if group.name else "", one.says), str(one.printed))
        for group in sheet.groups
        for one in group.dimensions
        if one.main
    }
    for name in dict.fromkeys((*then, *now)):
        before, after = then.get(name), now.get(name)
        if before is None or after is None or before[1] != after[1]:
            says = (after or before or ("", ""))[0]
            yield Changed(says, before[1] if before else "", after[1] if after else "")


def _told(data: Any) -> Iterator[tuple[str, tuple[str, str]]]:
    """Name, meaning and printed value of everything a kept data file tells."""
    main = [(group, one) for group in data["groups"] for one in group["dimensions"] if one["main"]]
    for group, one in (*((None, size) for size in data["sizes"]), *main):
        also = f" ({one['also']})" if one.get("also") else ""
        title = group["title"] if group and group["name"] else ""
        yield one["name"], (_in_group(title, one["says"]), one["printed"] + also)


def _in_group(title: str, says: str) -> str:
    """What a dimension is, with what it belongs to: every profile has a length."""
    return f"{title}: {says[:1].lower()}{says[1:]}" if title else says
