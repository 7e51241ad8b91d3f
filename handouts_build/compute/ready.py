"""A project at the author's sizes, and at every ready size besides.

This module owns how ready sizes are worked out: each is the whole project once more
with some sizes chosen otherwise, and a problem there names the ready size.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from handouts_build.compute.budgets import over_budget
from handouts_build.compute.project import compute as compute_once
from handouts_build.compute.solid.session import SolidSession
from handouts_build.language import tr
from handouts_build.problems import Problem, ProjectError, near_miss
from handouts_build.schema import Document, Key, ProjectKeys, ShopKeys
from handouts_build.sheet import Finding, Level, ReadySize, Sheet

__all__ = ["compute"]


def compute(
    project: ProjectKeys,
    document: Document,
    *,
    name: str,
    folder: Path,
    shop: ShopKeys,
    session: SolidSession | None = None,
) -> Sheet:
    """Work a project out, at its ready sizes too.

    Args:
        project: Its model.
        document: The file it came from, for places.
        name: Its name in the archive.
        folder: Where its pictures lie; need not exist if it has none.
        shop: The maker's kit.
        session: Where its parts are carried as solids.

    Returns:
        The sheet, with its findings and its ready sizes; a finding of `stop` is not an error here.

    Raises:
        ProjectError: With every problem.
    """
    # Counted first: what is too much is not begun.
    if too_much := list(over_budget(project, document)):
        raise ProjectError(too_much)
    sheet = compute_once(project, document, name=name, folder=folder, shop=shop, session=session)
    problems = list(_unknown(project, document))
    made: list[ReadySize] = []
    others: list[Finding] = []
    for called, ready in project.ready_sizes.items():
        sizes = {size: value for size, value in ready.sizes.items() if size in project.sizes}
        named = f"{name}-{called.replace('_', '-')}"
        key: Key = ("ready sizes", called)
        try:
            at_size = compute_once(
                project,
                document,
                name=named,
                folder=folder,
                shop=shop,
                sizes=sizes,
                said_at=(*key, "sizes"),
                session=session,
            )
        except ProjectError as error:
            problems += [_blamed(problem, document, key, called) for problem in error.problems]
            continue
        title = f"{sheet.title} ({ready.says[:1].lower()}{ready.says[1:]})"
        made.append(ReadySize(named, ready.says, tuple(sizes), replace(at_size, title=title)))
        others += [
            _found_there(finding, called)
            for finding in at_size.findings
            if finding.level is not Level.NOTE and finding not in sheet.findings
        ]
    if problems:
        raise ProjectError(problems)
    return replace(sheet, ready=tuple(made), findings=_gravest_first([*others, *sheet.findings]))


def _found_there(finding: Finding, called: str) -> Finding:
    """What is found at a ready size, as the author is told; the page tells it beside that size's table."""
    return replace(
        finding,
        about=tr("{about}, at ready size {size}", about=finding.about, size=called),
        message=tr("at ready size {size}: {message}", size=called, message=finding.message),
        judged=False,
        private=finding.private or finding.level is not Level.STOP,
    )


def _gravest_first(findings: list[Finding]) -> tuple[Finding, ...]:
    order = list(Level)
    return tuple(sorted(findings, key=lambda finding: order.index(finding.level)))


def _unknown(project: ProjectKeys, document: Document) -> Iterator[Problem]:
    """Names in ready sizes that are no sizes."""
    for called, ready in project.ready_sizes.items():
        for size in ready.sizes:
            if size not in project.sizes:
                place = document.place(("ready sizes", called, "sizes", size))
                yield Problem(place, f"'{size}' is not one of the sizes", near_miss(size, project.sizes))


def _blamed(problem: Problem, document: Document, key: Key, called: str) -> Problem:
    """A problem at a ready size, at its own place if it has one, else at the ready size."""
    if problem.place.path.startswith("ready sizes"):
        return problem
    message = f"at ready size {called}: {problem.message} ({problem.place.path})"
    return Problem(document.place(key), message, problem.hint)
