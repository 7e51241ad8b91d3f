"""Which handouts go into a binder: chosen ones, or those of a club, a maker, a year, an evening.

This module owns the choice. A piece that is archived as issued goes in with its handout as it was issued.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from handouts_build.disk.clock import today
from handouts_build.disk.folders import folder_in_archive, is_issued
from handouts_build.outputs.output import Address
from handouts_build.paper import PROJECT
from handouts_build.problems import Place, Problem, ProjectError
from handouts_build.site.gathering import called

if TYPE_CHECKING:
    from handouts_build.outputs.pages.as_issued import Issue
    from handouts_build.outputs.papers.binder import BoundHandout
    from handouts_build.site.build import Archive

__all__ = ["Wish", "handouts_to_bind"]


@dataclass(frozen=True)
class Wish:
    """Which handouts are asked for; what is empty or None asks for nothing."""

    club: str = ""
    """Whose they are, or to whom the piece was or will be shown."""
    by: str = ""
    """Who made the piece."""
    year: int | None = None
    """When it was written or shown."""
    evening: str = ""
    """Day of a demonstration, or its name: day and club."""

    def title(self) -> str:
        """What a binder of these is called, unless somebody says otherwise."""
        names = [self.club, self.by, str(self.year or ""), self.evening]
        return ", ".join(["Handouts", *filter(None, names)])

    def grants(self, facets: Mapping[str, Sequence[str]], evenings: Iterable[str]) -> bool:
        """Whether a piece is among them.

        Args:
            facets: What it is found by.
            evenings: The names of those at which it was or will be shown.
        """
        asked = {"club": self.club, "maker": self.by, "year": str(self.year or "")}
        return all(
            not wanted or wanted.casefold() in map(str.casefold, facets.get(name, ())) for name, wanted in asked.items()
        ) and (not self.evening or any(self.evening in (name, name[:10]) for name in evenings))


def handouts_to_bind(
    paths: Sequence[Path],
    wish: Wish,
    *,
    paper: str,
    base: Path,
    address: Address,
    read: Callable[[Sequence[Path]], Archive],
    progress: Callable[[str], None] = lambda _: None,
) -> list[BoundHandout]:
    """The handouts that are asked for, in the order of the files.

    Args:
        paths: The project files that are asked for.
        wish: Which of them.
        paper: One of `paper.SIZES`.
        base: Folder that messages name files from.
        address: Where the archive is published.
        read: Works projects out, and refuses what cannot be made.
        progress: Told what is being worked on.

    Raises:
        ProjectError: If a project cannot be worked out or set, or there is no such handout.
    """
    living = [path for path in paths if not is_issued(path)]
    found = dict(_living(living, wish, paper, address, read, progress))
    found |= dict(_issued([path for path in paths if is_issued(path)], wish, paper, base))
    if not found:
        message = "there is no handout to bind"
        hint = "name projects that have one, or another club, maker, year or evening"
        raise ProjectError([Problem(Place(called(paths[0].parent, base) if paths else "projects"), message, hint)])
    return [found[path] for path in paths if path in found]


def _living(
    paths: Sequence[Path],
    wish: Wish,
    paper: str,
    address: Address,
    read: Callable[[Sequence[Path]], Archive],
    progress: Callable[[str], None],
) -> Iterator[tuple[Path, BoundHandout]]:
    from handouts_build.outputs.page_content import PageContent
    from handouts_build.outputs.pages.facets import facets_of
    from handouts_build.outputs.papers.binder import BoundHandout
    from handouts_build.site.build import one_paper

    if not paths:
        return
    archive = read(paths)
    for index, (path, sheet, records) in enumerate(zip(paths, archive.sheets, archive.records, strict=True)):
        shown = records.public(today())
        facets = facets_of(PageContent(sheet, demonstrations=shown, folder=folder_in_archive(path)))
        evenings = [showing.name for showing in shown if not showing.cancelled]
        if not wish.grants(facets, evenings):
            continue
        progress(f"{sheet.title}: handout")
        pdf = one_paper(archive, index, PROJECT["handout"].file(paper, sheet.name), address=address)
        if pdf is not None:
            yield path, BoundHandout(sheet.title, sheet.by, sheet.techniques, sheet.woods, pdf)


def _issued(paths: Sequence[Path], wish: Wish, paper: str, base: Path) -> Iterator[tuple[Path, BoundHandout]]:
    from handouts_build.outputs.papers.binder import BoundHandout
    from handouts_build.records.issued import read_issue

    for path in paths:
        issue = read_issue(path.with_suffix(""), called(path, base).rpartition(".")[0])
        entries, facets = issue.entries, issue.entries["facets"]
        evenings = [showing["name"] for showing in entries["showings"] if showing["state"] != "cancelled"]
        pdf = _handout(issue, paper)
        if pdf and wish.grants(facets, evenings):
            yield (
                path,
                BoundHandout(
                    entries["title"], entries["by"], tuple(entries["techniques"]), tuple(entries["woods"]), pdf
                ),
            )


def _handout(issue: Issue, paper: str) -> bytes | None:
    """The handout that was issued: that of the piece itself has the shortest name, ready sizes say theirs too."""
    ending = PROJECT["handout"].file(paper, "")
    names = [name for name in issue.files if name.endswith(ending) and "/" not in name]
    return issue.files[min(names, key=len)] if names else None
