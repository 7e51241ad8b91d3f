"""From project files to sheets, drawings and papers.

This module owns the pipeline of a project: reading it, working it out, and collecting
every problem of every file before anything is drawn. Drawings and papers go through
the cache. What a site is made of is for `publishing`; `files` owns the disk.
"""

from __future__ import annotations

import json
import os
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass, field
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from handouts_build.compute.solid.session import SolidSession
from handouts_build.disk.cache import Cache, code_key, content_key, read
from handouts_build.disk.clock import today
from handouts_build.disk.folders import ISSUED, archive_of, is_issued, over, shop_files
from handouts_build.disk.names import PROJECT_NAME, fault_of_name
from handouts_build.disk.reading import digest_plain, read_plain
from handouts_build.language import spoken
from handouts_build.outputs.output import NOWHERE, Address
from handouts_build.outputs.signs import lacking
from handouts_build.paper import SIZES, Form
from handouts_build.problems import Place, Problem, ProjectError
from handouts_build.records.showings import Records, read_records
from handouts_build.sheet import Sheet
from handouts_build.site.gathering import LARGEST_PICTURE, alike, called, look, project_files, stray, unfit
from handouts_build.site.kept_pictures import picture_set
from handouts_build.site.summary import summary_of

if TYPE_CHECKING:
    from handouts_build.figures.figure import Figure
    from handouts_build.figures.shot import PictureSet
    from handouts_build.schema import Document, Key, ShopKeys
    from handouts_build.sheet.clubs import Club

__all__ = [
    "Archive",
    "clubs_of",
    "drawings",
    "every_paper",
    "one_paper",
    "paper_files",
    "paper_names",
    "pictures",
    "read_archive",
    "read_projects",
    "read_shop",
    "read_what_can_be",
]

_TRIES = 5
"""Times a project is read anew because a file of it was saved meanwhile."""


@dataclass(frozen=True)
class Archive:
    """The projects of a folder, worked out."""

    sheets: tuple[Sheet, ...]
    keys: tuple[str, ...]
    """For each sheet, a key that changes whenever anything it is made from changes."""
    cache: Cache = field(default_factory=Cache)
    records: tuple[Records, ...] = ()
    """For each sheet, what is kept of its showings."""
    session: SolidSession = field(default_factory=SolidSession)
    """Where their parts are carried as solids."""

    @property
    def stopped(self) -> bool:
        """Whether any project cannot be made as written."""
        return any(sheet.stopped for sheet in self.sheets)


def read_archive(folder: Path, *, base: Path, cache: Cache | None = None) -> Archive:
    """Read and work out every project of a folder that is not archived as issued.

    Args:
        folder: Where the project files lie.
        base: Folder that messages name files from.
        cache: Where drawings and papers are kept between runs.

    Raises:
        ProjectError: With every problem of every file.
    """
    return read_projects([path for path in project_files(folder) if not is_issued(path)], base=base, cache=cache)


def read_projects(paths: Sequence[Path], *, base: Path, cache: Cache | None = None, whole_runs: bool = True) -> Archive:
    """Read and work out the given project files; `read_archive` for a whole folder.

    Args:
        paths: The files.
        base: Folder that messages name files from.
        cache: Where drawings and papers are kept between runs.
        whole_runs: Whether a file of recorded runs that cannot be read is a problem; else it is told in the records.

    Raises:
        ProjectError: With every problem of every file.
    """
    paths = tuple(dict.fromkeys(paths))
    archive, problems = read_what_can_be(paths, base=base, cache=cache)
    if whole_runs:
        problems += (problem for kept in archive.records for problem in kept.recorded.broken)
    problems += alike(map(summary_of, archive.sheets), paths, base)
    problems += stray(paths, base)
    if problems:
        raise ProjectError(problems)
    return archive


def read_what_can_be(paths: Sequence[Path], *, base: Path, cache: Cache | None = None) -> tuple[Archive, list[Problem]]:
    """The projects that can be worked out, and what is wrong with the others.

    Args:
        paths: The project files.
        base: Folder that messages name files from.
        cache: Where drawings and papers are kept between runs.

    Returns:
        The archive of those that can, and every problem of every file, in the order of the files.
    """
    cache = cache or Cache()
    kept_stages = cache
    session = cache.hold(
        "session",
        lambda: SolidSession(
            lambda described, make: kept_stages.get(content_key(code_key(), "stages", described), make)
        ),
    )
    problems: list[Problem] = []
    shops: dict[Path, tuple[ShopKeys, bytes]] = {}
    sheets: list[Sheet] = []
    keys: list[str] = []
    records: list[Records] = []
    for path in paths:
        shown = called(path, base)
        if not re.fullmatch(PROJECT_NAME, path.stem) or fault_of_name(path.stem):
            right = re.sub(r"[^a-z0-9]+", "-", path.stem.lower()).strip("-") or "my-piece"
            right = f"{right}-piece" if fault_of_name(right) else right
            problems.append(
                Problem(Place(shown), f"'{path.name}' cannot be a project's file name", f"rename it to {right}.yml")
            )
            continue
        if is_issued(path):
            problems.append(
                Problem(
                    Place(shown),
                    "this piece is archived as issued and is not worked out any more",
                    f"its papers and data are in {shown.rpartition('.')[0]}/{ISSUED}; delete that folder to work on it",
                )
            )
            continue
        home = path.parent
        if home not in shops:
            try:
                shops[home] = read_shop(home, base)
            except ProjectError as error:
                # The projects are read all the same, so that their problems are told at once.
                shops[home] = _no_shop()
                problems.extend(error.problems)
        try:
            # A project whose files look as they did is not worked out again while this process lives.
            seen = content_key("read", spoken(), shown, str(base), shops[home][1], *look(path), *over(path, today()))
            sheet, key, kept = cache.hold(seen, partial(_read, path, base, shops[home], session))
        except ProjectError as error:
            problems.extend(error.problems)
            continue
        sheets.append(sheet)
        keys.append(key)
        records.append(kept)
    return Archive(tuple(sheets), tuple(keys), cache, tuple(records), session), problems


def _read(path: Path, base: Path, shop: tuple[ShopKeys, bytes], session: SolidSession) -> tuple[Sheet, str, Records]:
    shown = called(path, base)
    for _ in range(_TRIES):
        before = tuple(look(path))
        made = _read_once(path, base, shop, session)
        # A file saved meanwhile would leave one version's results under the other's name.
        if tuple(look(path)) == before:
            return made
    raise ProjectError([Problem(Place(shown), "this file keeps changing while it is read", "try again")])


def _read_once(
    path: Path, base: Path, shop: tuple[ShopKeys, bytes], session: SolidSession
) -> tuple[Sheet, str, Records]:
    from handouts_build.compute import compute
    from handouts_build.schema import load_project
    from handouts_build.schema.reader import LARGEST

    shown = called(path, base)
    if problems := list(unfit(path, base)):
        raise ProjectError(problems)
    project, document = load_project(path, shown)
    if problems := list(_unprintable(document)):
        raise ProjectError(problems)
    pictures = path.with_suffix("")
    sheet = compute(project, document, name=path.stem, folder=pictures, shop=shop[0], session=session)
    try:
        parts = [
            read_plain(path, most_bytes=LARGEST),
            *(digest_plain(picture.path, most_bytes=LARGEST_PICTURE) for picture in sheet.photographs),
        ]
    except OSError as error:
        raise ProjectError([Problem(Place(shown), f"a file cannot be read: {error.strerror}")]) from None
    records = read_records(pictures, shown.rpartition(".")[0], sheet=sheet, project=project, shop=shop[0])
    return sheet, content_key(code_key(), path.stem, shop[1], *parts), records


def _unprintable(document: Document) -> Iterator[Problem]:
    """Texts with signs that no paper could print, each with its place."""
    waiting: list[tuple[Key, object]] = [((), document.values)]
    while waiting:
        key, value = waiting.pop()
        if isinstance(value, Mapping):
            waiting += (((*key, name), below) for name, below in value.items())
        elif isinstance(value, list):
            waiting += (((*key, index), below) for index, below in enumerate(value))
        elif isinstance(value, str) and (signs := lacking(value)):
            shown = ", ".join(f"'{sign}'" if sign.isprintable() else f"U+{ord(sign):04X}" for sign in signs[:9])
            yield Problem(
                document.place(key),
                f"the papers' fonts have no sign for {shown}",
                "write it in Latin, Greek or Cyrillic letters and the usual signs",
            )


def _no_shop() -> tuple[ShopKeys, bytes]:
    from handouts_build.schema import ShopKeys

    return ShopKeys(), b""


def read_shop(home: Path, base: Path) -> tuple[ShopKeys, bytes]:
    """The shop files that count in a folder, as one: what a nearer one says goes before what one above it says.

    Args:
        home: Where project files lie.
        base: Folder that messages name files from.

    Returns:
        What they say, and their bytes.

    Raises:
        ProjectError: With every problem of form.
    """
    from handouts_build.schema import ShopKeys, load_file
    from handouts_build.schema.reader import LARGEST

    shop, texts = _no_shop()
    for path in shop_files(home):
        if os.path.lexists(path):
            nearer, document = load_file(ShopKeys, path, called(path, base))
            if path != shop_files(home)[0] and "language" in nearer.model_fields_set:
                message = "an archive has one language, which its outermost shop file says"
                outermost = called(shop_files(home)[0], base)
                raise ProjectError([Problem(document.place(("language",)), message, f"write it in {outermost}")])
            shop = shop.model_copy(update={name: getattr(nearer, name) for name in nearer.model_fields_set})
            texts += read_plain(path, most_bytes=LARGEST)
    return shop, texts


def clubs_of(paths: Sequence[Path], base: Path) -> tuple[Club, ...]:
    """The clubs that have pages of their own, by the shop file of the archive's own folder.

    Args:
        paths: Its project files.
        base: Folder that messages name files from.
    """
    from handouts_build.sheet.clubs import Club

    found: dict[str, Club] = {}
    for root in dict.fromkeys(archive_of(path.parent) for path in paths):
        try:
            shop, _ = read_shop(root, base)
        except ProjectError:
            # What is wrong with it is told where the projects are read.
            continue
        for club in shop.clubs:
            told = Club(club.name, club.color or "", club.says or "", club.place or "", club.site or "")
            found.setdefault(club.name.casefold(), told)
    return tuple(found.values())


def drawings(archive: Archive, index: int, ready: Sheet | None = None) -> tuple[Figure, ...]:
    """The drawings of one project of an archive, or of one of its ready sizes, from the cache where they are there.

    Args:
        archive: The projects.
        index: Which of them, from 0.
        ready: One of its ready sizes, worked out; None for the project itself.
    """
    from handouts_build.figures.figure import Figure

    sheet = ready or archive.sheets[index]
    # They are drawn from the finished piece, the layouts, the groups and the rule, and from nothing else.
    arranged = sheet.whole.arrangement if sheet.whole is not None else None
    key = content_key(
        code_key(), "drawings", repr((sheet.name, sheet.title, arranged, sheet.layouts, sheet.groups, sheet.rule))
    )

    def draw() -> bytes:
        from handouts_build.figures import draw

        return json.dumps([asdict(figure) for figure in draw(sheet)]).encode()

    return tuple(Figure(**fields_of_figure) for fields_of_figure in json.loads(archive.cache.get(key, draw)))


def paper_files(
    archive: Archive,
    *,
    address: Address = NOWHERE,
    sizes: Sequence[str] = tuple(SIZES),
    progress: Callable[[str], None] = lambda _: None,
    handed: str = "",
    form: Form = Form.PLAIN,
) -> dict[str, dict[str, bytes]]:
    """The papers of every project, those of its ready sizes among them: file name to PDF, by the project's name.

    Args:
        archive: The projects.
        address: Where the archive is published.
        sizes: Which of `paper.SIZES`.
        progress: Told each project's title.
        handed: At which demonstration they are handed out, for their foot; empty for none.
        form: How they are set.
    """
    made: dict[str, dict[str, bytes]] = {}
    for index, sheet in enumerate(archive.sheets):
        progress(f"{sheet.title}: papers")
        papers = every_paper(archive, index, address=address, sizes=sizes, handed=handed, form=form)
        made[sheet.name] = {name: read(paper) for name, paper in papers.items()}
    return made


def every_paper(
    archive: Archive,
    index: int,
    *,
    address: Address,
    sizes: Sequence[str] = tuple(SIZES),
    handed: str = "",
    form: Form = Form.PLAIN,
) -> dict[str, Path | bytes]:
    """The papers of one project and of its ready sizes, from the cache where they are there.

    Args:
        archive: The projects.
        index: Which of them, from 0.
        address: Where the archive is published.
        sizes: Which of `paper.SIZES`.
        handed: At which demonstration they are handed out, for their foot; empty for none.
        form: How they are set.

    Returns:
        PDFs by file name, each a path in the cache or bytes.

    Raises:
        ProjectError: If a paper cannot be set.
    """
    return {
        name: paper
        for sheet, size in _sets(archive, index, sizes)
        for name, paper in _papers(
            archive, index, sheet, size, address.short(archive.sheets[index]), handed, form
        ).items()
    }


def paper_names(archive: Archive, index: int, *, sizes: Sequence[str] = tuple(SIZES)) -> tuple[str, ...]:
    """What the papers of one project and of its ready sizes are called, without typesetting them.

    Args:
        archive: The projects.
        index: Which of them, from 0.
        sizes: Which of `paper.SIZES`.
    """
    from handouts_build.outputs.papers.render import paper_names as named

    return tuple(name for sheet, size in _sets(archive, index, sizes) for name in named(sheet, size))


def one_paper(archive: Archive, index: int, name: str, *, address: Address) -> bytes | None:
    """One paper by its name; None if there is none of that name.

    Args:
        archive: The projects.
        index: Which of them, from 0.
        name: The paper's file name.
        address: Where the archive is published.

    Returns:
        The PDF.

    Raises:
        ProjectError: If the paper cannot be set.
    """
    for sheet, size in _sets(archive, index, tuple(SIZES)):
        if name.startswith(f"{sheet.name}-") and name.endswith(f"-{size}.pdf"):
            papers = _papers(archive, index, sheet, size, address.short(archive.sheets[index]))
            if name in papers:
                return read(papers[name])
    return None


def _sets(archive: Archive, index: int, sizes: Sequence[str]) -> Iterator[tuple[Sheet, str]]:
    """A project and its ready sizes, each on every size of paper."""
    sheet = archive.sheets[index]
    for size in sizes:
        for variant in (sheet, *(ready.sheet for ready in sheet.ready)):
            yield variant, size


def pictures(archive: Archive, index: int, sheet: Sheet | None = None) -> PictureSet:
    """What is drawn of one project's solids, or, for paper, of those of a ready size.

    Args:
        archive: The projects.
        index: Which of them, from 0.
        sheet: One of its ready sizes, worked out; None for the project itself.
    """
    main = archive.sheets[index]
    return picture_set(sheet or main, archive.session, cache=archive.cache, whole=sheet is None or sheet is main)


def _papers(
    archive: Archive,
    index: int,
    sheet: Sheet,
    size: str,
    page_url: str,
    handed: str = "",
    form: Form = Form.PLAIN,
) -> Mapping[str, Path | bytes]:
    def typeset() -> Mapping[str, bytes]:
        from handouts_build.outputs.papers.render import papers

        seen = pictures(archive, index, sheet)
        drawn = drawings(archive, index, sheet)
        return papers(
            sheet,
            drawn,
            paper=size,
            page_url=page_url,
            shots=seen.shots,
            finished=seen.finished,
            handed=handed,
            form=form,
        )

    key = content_key(archive.keys[index], "papers", sheet.name, size, page_url, handed, form)
    return archive.cache.files(key, typeset)
