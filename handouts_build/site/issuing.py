"""Archiving a project as issued: its pages, papers and data as they are now, kept beside it for good.

This module owns the act. What is kept is written once; how it is shown is for `outputs.pages.as_issued`, and how it
is read back and looked through for `records.issued`.
"""

from __future__ import annotations

from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING, Any

from handouts_build.disk.cache import Cache
from handouts_build.disk.clock import today
from handouts_build.disk.files import FolderWriter
from handouts_build.disk.folders import ISSUED, is_issued
from handouts_build.outputs.output import Address
from handouts_build.problems import Place, Problem, ProjectError
from handouts_build.sheet.findings import Level
from handouts_build.site.gathering import called
from handouts_build.site.publish import made_of

if TYPE_CHECKING:
    from handouts_build.outputs.page_content import PageContent
    from handouts_build.outputs.pages.as_issued import Issue

__all__ = ["issue_project"]

_NOT_KEPT = (".js",)
"""Scripts work with pages that no longer change: none is kept."""


def issue_project(path: Path, *, base: Path, cache: Cache, address: Address) -> Path:
    """Archive a project as issued.

    Args:
        path: The project's file.
        base: Folder that messages name files from.
        cache: Where results are kept between runs.
        address: Where the archive is published, for the QR codes.

    Returns:
        The folder.

    Raises:
        ProjectError: If the project cannot be made as written, is archived already, or is still to be shown.
    """
    from handouts_build.records.frozen import SUMS, sums
    from handouts_build.records.issued import issue_of, packed

    folder = path.with_suffix("") / ISSUED
    with FolderWriter(folder) as writer:
        if is_issued(path) and any(folder.iterdir()):
            message = "this piece is archived as issued already, and is kept as it is"
            hint = "to issue it anew, delete the folder and give the command again"
            raise ProjectError([Problem(Place(folder.as_posix()), message, hint)])
        files = packed(_issue(path, base, cache, address))
        # Judged as every later version judges it, before any of it is there.
        issue_of(files, called(folder, base))
        writer.put({**files, SUMS: sums(files).encode()})
    return folder


def _issue(path: Path, base: Path, cache: Cache, address: Address) -> Issue:
    """A project as it is now, ready to be kept.

    Raises:
        ProjectError: If it cannot be made as written, or is still to be shown.
    """
    from handouts_build.outputs.pages.as_issued import Issue, frozen_looks, frozen_page
    from handouts_build.outputs.pages.assets import LATHE_STYLE, OWN_STYLE, SOLID_STYLE, STYLE, assets

    content, made = made_of(path, base=base, cache=cache, address=address, for_good=True)
    sheet, home = content.sheet, f"projects/{content.sheet.name}"
    problems = [Problem(Place(sheet.file), str(found)) for found in sheet.findings if found.level is Level.STOP]
    problems += [
        Problem(
            Place(sheet.file),
            f"it is still to be shown, on {showing.starts.date().isoformat()} at {showing.club}",
            "archive it after that evening: a page that is kept for good cannot announce one",
        )
        for showing in content.demonstrations
        if not (showing.held or showing.cancelled)
    ]
    if problems:
        raise ProjectError(problems)
    files = {
        name.removeprefix(f"{home}/"): content
        for name, content in made.items()
        if name.startswith(f"{home}/") and not name.endswith((".md", *_NOT_KEPT))
    }
    texts = {
        name.removeprefix(home).removeprefix("/").removesuffix(".md").removeprefix(".md"): text.decode()
        for name, text in made.items()
        if name.endswith(".md")
    }
    pages = {
        place: frozen_page(
            text, name=sheet.name, place=place, pages=texts, files=files, ending=address.ending
        )
        for place, text in texts.items()
    }  # fmt: skip
    sheets = {asset.path: asset.read().decode() for asset in assets() if asset.path.endswith(".css")}
    looks = frozen_looks([sheets[name] for name in (STYLE, OWN_STYLE, SOLID_STYLE, LATHE_STYLE)])
    return Issue(_told(content), pages, looks, files)


def _told(content: PageContent) -> dict[str, Any]:
    """What lists, searches and pages that lead here say of it, as plain values that every later version reads."""
    from handouts_build.figures import themed
    from handouts_build.outputs.pages.card_drawing import emblem
    from handouts_build.outputs.pages.facets import facets_of
    from handouts_build.outputs.pages.redirects import led_to
    from handouts_build.outputs.pages.render import facts_of
    from handouts_build.outputs.pages.showings import demonstration_words, state_of
    from handouts_build.outputs.pages.structured import picture_of
    from handouts_build.outputs.pages.text import plain

    sheet, finished, hero = content.sheet, content.pictures.finished, content.hero
    home = f"projects/{sheet.name}/"
    held = min((showing.starts.date() for showing in content.demonstrations if showing.held), default=None)
    written = sheet.date or held
    picture = finished and {
        "light": f"{finished.name}-card.webp", "dark": f"{finished.name}-dark-card.webp",
        "width": finished.width_px, "height": finished.height_px,
    }  # fmt: skip
    photograph = sheet.pictures[0].card if sheet.pictures and hero is None and finished is None else ""
    showings = [
        {
            "name": showing.name, "state": state_of(showing), "starts": showing.starts.isoformat(),
            "ends": showing.ends.isoformat() if showing.ends else "", "zone": showing.zone, "club": showing.club,
            "place": showing.place, "how": showing.how, "cancelled": showing.cancelled,
            **{name: demonstration_words(showing, sheet)[name] for name in ("title", "facts", "anchor")},
        }
        for showing in content.demonstrations
    ]  # fmt: skip
    return {
        "title": sheet.title, "summary": plain(sheet.summary), "kind": sheet.kind, "level": sheet.level,
        "by": sheet.by, "club": sheet.club, "date": written.isoformat() if written else "",
        "issued": today().isoformat(), "version": version("handouts-build"),
        "techniques": list(sheet.techniques), "woods": list(sheet.woods), "formerly": list(sheet.formerly),
        "versions": dict(led_to(sheet).versions),
        "errata": [
            [erratum.day.isoformat(), plain((erratum.wrong,)), [printed.isoformat() for printed in erratum.printed]]
            for erratum in sheet.errata
        ],
        "facts": [[name, value] for name, value, _ in facts_of(sheet)],
        "facets": {name: list(values) for name, values in facets_of(content).items()},
        "showings": showings,
        "picture": picture, "photograph": photograph, "image": picture_of(content).removeprefix(home),
        "drawing": themed(emblem(hero.svg)) if hero is not None and finished is None else "",
    }  # fmt: skip
