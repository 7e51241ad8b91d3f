"""From a folder of project files to everything that is published.

This module owns the pipeline: which files there are, reading them all before
anything is drawn, and collecting every problem of every file. Drawings and papers
go through the cache; `files` owns the disk.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import asdict, dataclass, field
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from handouts_build.albums import album
from handouts_build.cache import Cache, code_key, content_key
from handouts_build.compute.solids_bench import Bench
from handouts_build.gathering import SHOP, alike, called, look, project_files
from handouts_build.problems import Place, Problem, ProjectError
from handouts_build.records import HANDED_OUT, SHOWN, Records, read_records
from handouts_build.sheet import Sheet

if TYPE_CHECKING:
    from handouts_build.figures.figure import Figure
    from handouts_build.figures.shot import Album
    from handouts_build.outputs.output import Entry, Output
    from handouts_build.schema import Shop

__all__ = [
    "NOWHERE",
    "PAPERS",
    "Address",
    "Archive",
    "paper_files",
    "read_archive",
    "read_projects",
    "site_files",
    "write_outputs",
]

PAPERS = ("letter", "a4")
"""The sizes of paper everything is made in."""

_NAME = re.compile(r"[a-z0-9][a-z0-9-]{0,59}")

Progress = Callable[[str], None]
"""Told what is being worked on."""


def _quiet(_: str) -> None:
    """Tell nobody."""


@dataclass(frozen=True)
class Archive:
    """The projects of a folder, worked out."""

    sheets: tuple[Sheet, ...]
    keys: tuple[str, ...]
    """For each sheet, a key that changes whenever anything it is made from changes."""
    cache: Cache = field(default_factory=Cache)
    records: tuple[Records, ...] = ()
    """For each sheet, what is kept of its showings."""
    bench: Bench = field(default_factory=Bench)
    """Where their parts are carried as solids."""

    @property
    def stopped(self) -> bool:
        """Whether any project cannot be made as written."""
        return any(sheet.stopped for sheet in self.sheets)


@dataclass(frozen=True)
class Address:
    """Where an archive is published, for the QR codes and the links on paper."""

    site_url: str = ""
    """Address of the archive; empty if it has none."""
    ending: str = "/"
    """How the address of a page ends: `/` or `.html`."""

    def page(self, sheet: Sheet) -> str:
        """The address of a project's page, empty if there is none."""
        return f"{self.site_url.rstrip('/')}/projects/{sheet.name}{self.ending}" if self.site_url else ""


NOWHERE = Address()
"""An archive that is not published."""


def read_archive(folder: Path, *, base: Path, cache: Cache | None = None) -> Archive:
    """Read and work out every project of a folder.

    Args:
        folder: Where the project files lie.
        base: Folder that messages name files from.
        cache: Where drawings and papers are kept between runs.

    Raises:
        ProjectError: With every problem of every file.
    """
    return read_projects(project_files(folder), base=base, cache=cache)


def read_projects(paths: Sequence[Path], *, base: Path, cache: Cache | None = None) -> Archive:
    """Read and work out the given project files; `read_archive` for a whole folder.

    Raises:
        ProjectError: With every problem of every file.
    """
    cache = cache or Cache()
    kept_stages = cache
    bench = cache.hold(
        "bench", lambda: Bench(lambda told, make: kept_stages.get(content_key(code_key(), "stages", told), make))
    )
    paths = tuple(dict.fromkeys(paths))
    problems: list[Problem] = []
    shops: dict[Path, tuple[Shop, bytes]] = {}
    sheets: list[Sheet] = []
    keys: list[str] = []
    records: list[Records] = []
    for path in paths:
        shown = called(path, base)
        if not _NAME.fullmatch(path.stem):
            right = re.sub(r"[^a-z0-9]+", "-", path.stem.lower()).strip("-") or "my-piece"
            problems.append(
                Problem(Place(shown), f"'{path.name}' cannot be a project's file name", f"rename it to {right}.yml")
            )
            continue
        home = path.parent
        if home not in shops:
            try:
                shops[home] = _read_shop(home / SHOP, base)
            except ProjectError as error:
                # The projects are read all the same, so that their problems are told at once.
                shops[home] = _no_shop()
                problems.extend(error.problems)
        try:
            # A project whose files look as they did is not worked out again while this process lives.
            seen = content_key("read", shown, shops[home][1], *look(path))
            sheet, key, kept = cache.hold(seen, partial(_read, path, shown, shops[home], bench))
        except ProjectError as error:
            problems.extend(error.problems)
            continue
        sheets.append(sheet)
        keys.append(key)
        records.append(kept)
    problems.extend(alike(sheets, paths, base))
    if problems:
        raise ProjectError(problems)
    return Archive(tuple(sheets), tuple(keys), cache, tuple(records), bench)


def _read(path: Path, shown: str, shop: tuple[Shop, bytes], bench: Bench) -> tuple[Sheet, str, Records]:
    from handouts_build.compute import compute
    from handouts_build.schema import load_project

    project, document = load_project(path, shown)
    pictures = path.with_suffix("")
    sheet = compute(project, document, name=path.stem, folder=pictures, shop=shop[0], bench=bench)
    try:
        parts = [path.read_bytes(), *(picture.path.read_bytes() for picture in sheet.pictures)]
    except OSError as error:
        raise ProjectError([Problem(Place(shown), f"a file cannot be read ({error.strerror})")]) from None
    records = read_records(pictures, shown.rpartition(".")[0], sheet=sheet, project=project, shop=shop[0])
    return sheet, content_key(code_key(), path.stem, shop[1], *parts), records


def _no_shop() -> tuple[Shop, bytes]:
    from handouts_build.schema import Shop

    return Shop(), b""


def _read_shop(path: Path, base: Path) -> tuple[Shop, bytes]:
    from handouts_build.schema import load_shop

    if not path.exists():
        return _no_shop()
    shop, _ = load_shop(path, called(path, base))
    return shop, path.read_bytes()


def drawings(archive: Archive, index: int, ready: Sheet | None = None) -> tuple[Figure, ...]:
    """The drawings of one project of an archive, or of one of its ready sizes, from the cache where they are there."""
    from handouts_build.figures.figure import Figure

    sheet = ready or archive.sheets[index]
    key = content_key(archive.keys[index], "drawings", sheet.name)

    def draw() -> bytes:
        from handouts_build.figures import draw

        return json.dumps([asdict(figure) for figure in draw(sheet)]).encode()

    return tuple(Figure(**one) for one in json.loads(archive.cache.get(key, draw)))


def paper_files(
    archive: Archive, *, address: Address = NOWHERE, sizes: Sequence[str] = PAPERS, progress: Progress = _quiet
) -> dict[str, dict[str, bytes]]:
    """The papers of every project, those of its ready sizes among them: file name to PDF, by the project's name.

    Args:
        archive: The projects.
        address: Where the archive is published.
        sizes: Which of `PAPERS`.
        progress: Told each project's title.
    """
    made: dict[str, dict[str, bytes]] = {}
    for index, sheet in enumerate(archive.sheets):
        progress(f"{sheet.title}: papers")
        made[sheet.name] = _every_paper(archive, index, address=address, sizes=sizes)
        archive.bench.clear(sheet)
    return made


def _every_paper(archive: Archive, index: int, *, address: Address, sizes: Sequence[str]) -> dict[str, bytes]:
    """The papers of one project and of its ready sizes."""
    sheet = archive.sheets[index]
    made: dict[str, bytes] = {}
    for size in sizes:
        for one in (sheet, *(ready.sheet for ready in sheet.ready)):
            made.update(_papers(archive, index, one, size, address.page(sheet)))
    return made


def _album(archive: Archive, index: int, sheet: Sheet, *, whole: bool) -> Album:
    """What is drawn of one project's solids, or of those of a ready size."""
    return album(sheet, archive.bench, cache=archive.cache, key=archive.keys[index], whole=whole)


def _papers(archive: Archive, index: int, sheet: Sheet, size: str, page_url: str) -> dict[str, bytes]:
    from handouts_build.cache import pack, unpack

    key = content_key(archive.keys[index], "papers", sheet.name, size, page_url)

    def typeset() -> bytes:
        from handouts_build.outputs.papers import papers

        shots = _album(archive, index, sheet, whole=sheet is archive.sheets[index]).shots
        return pack(papers(sheet, drawings(archive, index, sheet), paper=size, page_url=page_url, shots=shots))

    return unpack(archive.cache.get(key, typeset))


def site_files(
    archive: Archive, *, address: Address = NOWHERE, papers: bool = True, progress: Progress = _quiet
) -> list[Output]:
    """Every page and asset of the archive's site.

    Args:
        archive: The projects.
        address: Where the archive is published.
        papers: Whether the papers go with the pages.
        progress: Told what is being worked on.
    """
    from handouts_build.outputs.data import sheet_schema
    from handouts_build.outputs.output import Output
    from handouts_build.outputs.pages import shared_pages
    from handouts_build.schema import (
        cut_pages,
        demonstration_schema,
        project_schema,
        reference_page,
        runs_schema,
        shop_schema,
    )

    made: list[Output] = []
    entries: list[Entry] = []
    for index, sheet in enumerate(archive.sheets):
        progress(f"{sheet.title}: page and papers")
        key = content_key("site", archive.keys[index], str(papers), repr(address), *_shown_key(archive, index))
        files, entry = archive.cache.hold(key, partial(_project_files, archive, index, address=address, papers=papers))
        made += files
        entries.append(entry)
        archive.bench.clear(sheet)
    made += shared_pages(entries)
    made.append(Output("reference/project-file.md", reference_page()))
    made += [Output(path, content) for path, content in cut_pages(address.ending).items()]
    made.append(Output("schemas/project.schema.json", project_schema()))
    made.append(Output("schemas/shop.schema.json", shop_schema()))
    made.append(Output("schemas/sheet.schema.json", sheet_schema()))
    made.append(Output("schemas/demonstration.schema.json", demonstration_schema()))
    made.append(Output("schemas/runs.schema.json", runs_schema()))
    return made


def write_outputs(outputs: Iterable[Output], folder: Path) -> None:
    """Write pages and files below a folder, all or none; those that are there already are left as they are.

    Raises:
        OSError: If anything cannot be written; what was there is as before.
    """
    from handouts_build.files import write_all

    write_all(
        {folder / one.path: one.content.encode() if isinstance(one.content, str) else one.content for one in outputs}
    )


def _shown_key(archive: Archive, index: int) -> Iterator[str]:
    """What the page says of a project's showings, as part of a key."""
    for one in archive.records[index].shown() if archive.records else ():
        yield repr(one)


def _project_files(archive: Archive, index: int, *, address: Address, papers: bool) -> tuple[list[Output], Entry]:
    """Everything of one project's own on the site, and what the shared pages say of it."""
    from handouts_build.outputs.data import sheet_json
    from handouts_build.outputs.evening_pages import published_run_sheet
    from handouts_build.outputs.output import Entry, Output
    from handouts_build.outputs.pages import project_pages

    sheet = archive.sheets[index]
    home = f"projects/{sheet.name}"
    pdfs = _every_paper(archive, index, address=address, sizes=PAPERS) if papers else {}
    files = [Output(f"{home}/{name}", content) for name, content in pdfs.items()]
    data = Output(f"{home}/{sheet.name}.json", sheet_json(sheet))
    shown = archive.records[index].shown() if archive.records else ()
    handed = [
        Output(f"{home}/{HANDED_OUT}/{one.name}/{name}", content)
        for one in shown
        for name, content in one.handed_out.items()
    ]
    turned = _album(archive, index, sheet, whole=True)
    handed += [
        Output(f"{home}/{SHOWN}/{one.name}/{name}", content)
        for one in shown
        for name, content in published_run_sheet(one, sheet, turned.shots).items()
    ]
    # Beside the page where its address ends in a stroke, below it where it ends in .html.
    at = "" if address.ending == "/" else f"{sheet.name}/"
    paths = tuple(one.path for one in files)
    entry = Entry(sheet, drawings(archive, index), paths, data.path, shown, turned, at)
    return [*files, data, *handed, *project_pages(entry)], entry
