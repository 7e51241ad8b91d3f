"""From a folder of project files to everything that is published.

This module owns what a site is made of, and that nothing of it is made twice. What
there is to tell of a project, its pages, drawings and papers are kept under the bytes
they follow from; a project that did not change is not even read as YAML. Of many that
did, each is worked out in a process of its own, as many at a time as there are cores.
"""

from __future__ import annotations

import enum
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from handouts_build.disk.cache import Cache, code_key, content_key, read
from handouts_build.disk.clock import today
from handouts_build.disk.folders import SHOP, archive_of, folder_in_archive, is_issued, over
from handouts_build.disk.names import apart, fault_of_path
from handouts_build.disk.workers import side_by_side
from handouts_build.outputs.output import Address, Card, Output
from handouts_build.problems import Place, Problem, ProjectError
from handouts_build.sheet.call import CallForPieces
from handouts_build.site.calls import files_of_call
from handouts_build.site.gathering import alike, belongings, called, look, stray
from handouts_build.site.summary import Summary, summary_of, summary_of_issue

if TYPE_CHECKING:
    from handouts_build.outputs.page_content import PageContent
    from handouts_build.outputs.pages.as_issued import Issue
    from handouts_build.outputs.pages.redirects import Led
    from handouts_build.sheet import Sheet
    from handouts_build.sheet.clubs import Club
    from handouts_build.sheet.friends import Friend
    from handouts_build.site.build import Archive

__all__ = ["Papers", "Survey", "made_of", "publish", "summarize", "survey", "typeset", "write_outputs"]

_CARD = "card.json"
"""Kept beside a project's files, and not published."""


class Papers(enum.StrEnum):
    """What becomes of the papers."""

    MADE = "made"
    NAMED = "named"
    """The pages point to them; each is typeset when somebody asks for it."""
    NONE = "none"


@dataclass(frozen=True)
class _Wanted:
    """One project file on its way."""

    path: Path
    base: Path
    cache: Cache
    looked: tuple[str, ...]
    """What the disk told of its files as the key was made."""
    key: str
    """Changes with every byte that anything published of it is made from."""

    def known_summary(self) -> Summary | None:
        """What is kept to be said of it."""
        kept = self.cache.known(content_key("summary", self.key))
        return Summary.from_json(kept) if kept is not None else None

    def summary(self) -> Summary:
        """What there is to say of it.

        Raises:
            ProjectError: With every problem of the file.
        """
        known = self.known_summary()
        if known is None and is_issued(self.path):
            known = summary_of_issue(self.issue(), called(self.path, self.base), self.path.stem)
            self.cache.get(content_key("summary", self.key), known.to_json)
        if known is None:
            archive = self.archive()
            records = archive.records[0]
            _look_at_pictures(archive.sheets[0])
            known = summary_of(archive.sheets[0], records.coming(), records.notes(today()))
            if self.is_as_it_was():
                self.cache.get(content_key("summary", self.key), known.to_json)
        return known

    def is_as_it_was(self) -> bool:
        """Whether no file was saved since its key was made: else what was made since does not belong under it."""
        return tuple(look(self.path)) == self.looked

    def site_key(self, address: Address, papers: Papers) -> str:
        """What its files on a site are kept under."""
        return content_key("site", self.key, repr(address), papers)

    def publish(self, address: Address, papers: Papers) -> Mapping[str, Path | bytes]:
        """Its files on a site, by path, and its card.

        Raises:
            ProjectError: If it cannot be worked out or set on paper.
        """
        key = self.site_key(address, papers)
        known = self.cache.known_files(key)
        if known is not None:
            return known
        made = (_issued_files if is_issued(self.path) else _project_files)(self, address, papers)
        return self.cache.files(key, lambda: made) if self.is_as_it_was() else made

    def archive(self) -> Archive:
        """The project, worked out."""
        from handouts_build.site.build import read_projects

        return read_projects((self.path,), base=self.base, cache=self.cache)

    def issue(self) -> Issue:
        """The project as it was issued."""
        from handouts_build.records.issued import read_issue

        return read_issue(self.path.with_suffix(""), called(self.path, self.base).rpartition(".")[0])


def _look_at_pictures(sheet: Sheet) -> None:
    """Refuse what is no picture before anything is made of it.

    Raises:
        ProjectError: Naming every file that is none.
    """
    from handouts_build.outputs.photographs import published

    problems: list[Problem] = []
    for picture in sheet.photographs:
        try:
            published(picture, file=sheet.file)
        except ProjectError as error:
            problems += error.problems
    if problems:
        raise ProjectError(problems)


def _wanted(paths: Iterable[Path], base: Path, cache: Cache) -> list[_Wanted]:
    def key(path: Path) -> str:
        return content_key(code_key(), called(path, base), *belongings(path), "over", *over(path, day))

    day = today()

    # A file that looks as it did is not read again while this process lives, until another evening is over.
    def looked_at(path: Path) -> str:
        return content_key("looked at", *look(path), *over(path, day))

    def wanted(path: Path) -> _Wanted:
        looked = tuple(look(path))
        return _Wanted(path, base, cache, looked, cache.hold(looked_at(path), partial(key, path)))

    return [wanted(path) for path in dict.fromkeys(paths)]


def summarize(paths: Sequence[Path], *, base: Path, cache: Cache, jobs: int = 1) -> tuple[Summary, ...]:
    """What there is to say of each project, worked out where it is not known.

    Args:
        paths: Project files.
        base: Folder that messages name files from.
        cache: Where it is kept between runs.
        jobs: How many processes may work at once.

    Raises:
        ProjectError: With every problem of every file.
    """
    found = survey(paths, base=base, cache=cache, jobs=jobs)
    if found.problems:
        raise ProjectError(found.problems)
    return tuple(found.sound.values())


@dataclass(frozen=True)
class Survey:
    """The projects that hold together, and what is wrong with the others."""

    sound: Mapping[Path, Summary]
    """By their files."""
    problems: tuple[Problem, ...]
    """Of the others, and of the folder as a whole."""

    @property
    def makeable(self) -> tuple[Path, ...]:
        """The files of those that can be made as written."""
        return tuple(path for path, project in self.sound.items() if not project.stopped)


def survey(
    paths: Sequence[Path], *, base: Path, cache: Cache, jobs: int = 1, site: tuple[Address, Papers] | None = None
) -> Survey:
    """What there is to say of each project that holds together, and what is wrong with the others.

    Args:
        paths: Project files.
        base: Folder that messages name files from.
        cache: Where it is kept between runs.
        jobs: How many processes may work at once.
        site: Where the projects are to be published next, and what becomes of their papers: a process that has worked
            one out makes these at once, for another would have to work it out again.
    """
    wanted = _wanted(paths, base, cache)
    unknown = [project for project in wanted if project.known_summary() is None]
    _make_side_by_side(unknown, base, site, cache, jobs)
    problems: list[Problem] = []
    sound: dict[Path, Summary] = {}
    for project in wanted:
        try:
            sound[project.path] = project.summary()
        except ProjectError as error:
            problems += error.problems
    twice = tuple(alike(sound.values(), paths, base))
    taken = {problem.place.file for problem in twice}
    problems += (*twice, *stray(paths, base), *(found for found in _friends(paths, base) if isinstance(found, Problem)))
    return Survey(
        {path: project for path, project in sound.items() if called(path, base) not in taken}, tuple(problems)
    )


def publish(
    paths: Sequence[Path],
    *,
    base: Path,
    cache: Cache,
    address: Address,
    papers: Papers = Papers.MADE,
    jobs: int = 1,
    progress: Callable[[str], None] = lambda _: None,
    left_out: Callable[[Path, ProjectError], None] | None = None,
    calls: Sequence[CallForPieces] = (),
) -> list[Output]:
    """Every page and file of an archive's site.

    Args:
        paths: Project files, each fit to be published: `summarize` has found nothing wrong with them.
        base: Folder that messages name files from.
        cache: Where results are kept between runs.
        address: Where the archive is published.
        papers: What becomes of the papers.
        jobs: How many processes may work at once.
        progress: Told what is being worked on.
        left_out: Told of each project that cannot be published after all, and why; the others are published.
        calls: The archive's calls for pieces, each fit to be published.

    Raises:
        ProjectError: If a project cannot be worked out or set on paper, and `left_out` is not given.
    """
    wanted = _wanted(paths, base, cache)
    missing = [project for project in wanted if cache.known_files(project.site_key(address, papers)) is None]
    _make_side_by_side(missing, base, (address, papers), cache, jobs)
    made: dict[str, Path | bytes] = {}
    cards: list[Card] = []
    for project in wanted:
        progress(f"{called(project.path, base)}: page and papers")
        try:
            files = project.publish(address, papers)
        except ProjectError as error:
            if left_out is None:
                raise
            left_out(project.path, error)
            continue
        cards.append(Card.from_json(read(files[_CARD])))
        made |= {path: content for path, content in files.items() if path != _CARD}
    contents_key = content_key(code_key(), *(card.to_json() for card in cards))
    day = today()
    after = _made_after(calls, day, address)
    for name, like in cache.files(content_key("like", contents_key), partial(_likenesses, cards)).items():
        page = f"projects/{name}.md"
        words = read(like) + after.get(name, b"")
        key = content_key(code_key(), "page", read(made[page]), words)
        made[page] = cache.files(key, partial(_beside_others, made[page], words))["page.md"]
    for call in calls:
        progress(f"{call.file}: page")
        made |= files_of_call(call, day, cards, address, cache)
    contents_key = content_key(contents_key, *(call.to_json() for call in calls))
    follow = content_key("follow", contents_key, repr(address), day.isoformat())
    own = content_key(code_key(), "own", address.ending)
    friends = [found for found in _friends(paths, base) if not isinstance(found, Problem)]
    clubs = cache.hold(content_key("clubs", *_shops(paths)), partial(_clubs, paths, base))
    # Without a call nothing on these pages hangs on the day.
    when = day.isoformat() if calls else ""
    shared = content_key("shared pages", contents_key, repr(address), when, str(bool(friends)), repr(clubs))
    everything = [Output(path, content) for path, content in made.items()]
    if friends:
        from handouts_build.outputs.pages.exchange import friends_page

        everything.append(friends_page(friends, day))
    for files in (
        cache.files(shared, partial(_shared, cards, calls, address, day, friends=bool(friends), clubs=clubs)),
        cache.files(follow, partial(_followed, cards, calls, address, day)),
        cache.files(own, partial(_own, address.ending)),
    ):
        everything += (Output(path, content) for path, content in files.items())
    _must_have_places(everything)
    return everything


def _must_have_places(outputs: Sequence[Output]) -> None:
    """Refuse what would be written elsewhere than below the site, or over something else of it.

    Raises:
        ProjectError: Naming it. All names are ours, so that this is a fault of the tool and not of a project.
    """
    faults = [(output.path, fault) for output in outputs if (fault := fault_of_path(output.path))]
    if both := apart(output.path for output in outputs):
        faults.append((both[1], f"'{both[0]}' takes its place"))
    if faults:
        raise ProjectError(Problem(Place(path), f"this cannot be published: {fault}") for path, fault in faults)


def typeset(path: Path, name: str, *, base: Path, cache: Cache, address: Address) -> bytes | None:
    """One paper of a project by its file's name; None if there is none of that name.

    Args:
        path: The project's file.
        name: Such as `lantern-handout-a4.pdf`.
        base: Folder that messages name files from.
        cache: Where results are kept between runs.
        address: Where the archive is published.

    Raises:
        ProjectError: If the project cannot be worked out or set on paper.
    """
    from handouts_build.site.build import one_paper, read_projects

    return one_paper(read_projects((path,), base=base, cache=cache), 0, name, address=address)


def write_outputs(outputs: Iterable[Output], folder: Path) -> None:
    """Write pages and files below a folder, all or none; those that are there already are left as they are.

    Args:
        outputs: The pages and files.
        folder: Where to; it is made if it is not there.

    Raises:
        OSError: If anything cannot be written; what was there is as before.
    """
    from handouts_build.disk.files import write_all

    write_all({folder / output.path: output.read() for output in outputs})


def _make_side_by_side(
    projects: Sequence[_Wanted], base: Path, site: tuple[Address, Papers] | None, cache: Cache, jobs: int
) -> None:
    side_by_side(
        [partial(_make, project.path, base, site) for project in projects],
        cache.folder,
        jobs=jobs,
        # Papers take much memory: a process of its own gives it back, and a preview makes none.
        fewest=1 if site is not None and site[1] is Papers.MADE else 2,
    )


def _make(path: Path, base: Path, site: tuple[Address, Papers] | None, cache: Cache) -> None:
    """Work one project out, so that what there is to say of it is kept, and everything of its own on a site."""
    for project in _wanted((path,), base, cache):
        if not project.summary().stopped and site is not None:
            project.publish(*site)


def made_of(
    path: Path, *, base: Path, cache: Cache, address: Address, papers: Papers = Papers.MADE, for_good: bool = False
) -> tuple[PageContent, dict[str, bytes]]:
    """One project and everything of its own on the site, by path.

    Args:
        path: The project's file.
        base: Folder that messages name files from.
        cache: Where results are kept between runs.
        address: Where the archive is published.
        papers: What becomes of the papers.
        for_good: Whether its pages are to be kept as they are.

    Raises:
        ProjectError: If the project cannot be worked out or set on paper.
    """
    from handouts_build.outputs.data import sheet_json
    from handouts_build.outputs.evening.pages import published_run_sheet
    from handouts_build.outputs.page_content import PageContent
    from handouts_build.outputs.pages.render import project_pages
    from handouts_build.records.showings import HANDED_OUT, SHOWN_FOLDER
    from handouts_build.site.build import drawings, every_paper, paper_names, pictures, read_projects

    archive = read_projects((path,), base=base, cache=cache)
    (sheet,), (records,) = archive.sheets, archive.records
    home, data = f"projects/{sheet.name}", f"projects/{sheet.name}/{sheet.name}.json"
    made: dict[str, bytes] = {}
    if papers is Papers.MADE:
        made |= {f"{home}/{name}": read(paper) for name, paper in every_paper(archive, 0, address=address).items()}
    elif papers is Papers.NAMED:
        made |= {f"{home}/{name}": b"" for name in paper_names(archive, 0)}
    turned = pictures(archive, 0)
    project = PageContent(
        sheet, drawings(archive, 0), tuple(made), data, records.public(today()), turned,
        # Beside the page where its address ends in a stroke, below it where it ends in .html.
        at="" if address.ending == "/" else f"{sheet.name}/",
        address=address, folder=folder_in_archive(path), for_good=for_good,
    )  # fmt: skip
    made[data] = sheet_json(sheet).encode()
    for demonstration in project.demonstrations:
        made |= {
            f"{home}/{HANDED_OUT}/{demonstration.name}/{name}": content
            for name, content in demonstration.handed_out.items()
        }
        run_sheet = published_run_sheet(demonstration, sheet, turned.shots)
        made |= {f"{home}/{SHOWN_FOLDER}/{demonstration.name}/{name}": content for name, content in run_sheet.items()}
    return project, made | {page.path: page.read() for page in project_pages(project)}


def _project_files(wanted: _Wanted, address: Address, papers: Papers) -> dict[str, bytes]:
    """Everything of one project's own on the site, by path, and what the shared pages say of it."""
    from handouts_build.outputs.pages.redirects import led_to
    from handouts_build.outputs.pages.render import card

    project, made = made_of(wanted.path, base=wanted.base, cache=wanted.cache, address=address, papers=papers)
    return _with_card(made, card(project), led_to(project.sheet), address)


def _issued_files(wanted: _Wanted, address: Address, papers: Papers) -> dict[str, bytes]:  # noqa: ARG001 (as above)
    """The same of a project that is archived as issued: its papers among them, whatever is asked for."""
    from handouts_build.outputs.pages.as_issued import issued_card, issued_led, issued_pages

    issue, name = wanted.issue(), wanted.path.stem
    made = {output.path: output.read() for output in issued_pages(issue, name=name, address=address)}
    card = issued_card(issue, name=name, folder=folder_in_archive(wanted.path))
    return _with_card(made, card, issued_led(issue, name), address)


def _with_card(made: dict[str, bytes], card: Card, led: Led, address: Address) -> dict[str, bytes]:
    """A project's files with the pages that lead to it, and what the shared pages say of it."""
    from handouts_build.outputs.pages.redirects import redirects
    from handouts_build.outputs.pages.render import card_script

    made |= {page.path: page.read() for page in redirects(led, list(made), address)}
    return {**made, f"projects/{card.name}/{card.name}-card.js": card_script(card).encode(), _CARD: card.to_json()}


def _friends(paths: Sequence[Path], base: Path) -> tuple[Friend | Problem, ...]:
    """Other archives that are known in the archive of these projects, and what is wrong with the files of some."""
    from handouts_build.records.friends import friend_files, read_friend

    homes = dict.fromkeys(archive_of(path.parent) for path in paths)
    return tuple(read_friend(file, called(file, base)) for home in homes for file in friend_files(home))


def _shops(paths: Sequence[Path]) -> Iterator[str]:
    """What the disk tells of the shop files of the archive's own folder."""
    for root in dict.fromkeys(archive_of(path.parent) for path in paths):
        yield from look(root / SHOP)


def _clubs(paths: Sequence[Path], base: Path) -> tuple[Club, ...]:
    from handouts_build.site.build import clubs_of

    return clubs_of(paths, base)


def _shared(
    cards: Sequence[Card],
    calls: Sequence[CallForPieces],
    address: Address,
    day: date,
    *,
    friends: bool,
    clubs: Sequence[Club],
) -> dict[str, bytes]:
    """The pages that lead to every project and to every call."""
    from handouts_build.outputs.pages.calls import calls_page, said_of
    from handouts_build.outputs.pages.render import shared_pages

    said = said_of(calls, day) if calls else None
    pages = shared_pages(cards, address=address, calls=said, friends=friends, clubs=clubs)
    return {page.path: page.read() for page in [*pages, *([calls_page(calls, day)] if calls else [])]}


def _made_after(calls: Sequence[CallForPieces], day: date, address: Address) -> dict[str, bytes]:
    """What each project's page says of pieces that were made after it, by the project's name."""
    if not calls:
        return {}
    from handouts_build.outputs.pages.calls import made_after

    return {name: words.encode() for name, words in made_after(calls, day, address).items()}


def _followed(cards: Sequence[Card], calls: Sequence[CallForPieces], address: Address, day: date) -> dict[str, bytes]:
    """Feeds, calendar, and what other archives are told; none where nobody could be told where they are."""
    from handouts_build.outputs.evening.calendar import public_calendar
    from handouts_build.outputs.pages.exchange import ARCHIVE, archive_json
    from handouts_build.outputs.pages.feeds import feeds

    if not address.site_url:
        return {}
    return {feed.path: feed.read() for feed in feeds(cards, address, day, calls)} | {
        "evenings.ics": public_calendar(cards, address, calls),
        ARCHIVE: archive_json(cards, address),
    }


def _likenesses(cards: Sequence[Card]) -> dict[str, bytes]:
    """What each project's page says of the others, by the project's name."""
    from handouts_build.outputs.pages.likeness import likenesses

    return {name: words.encode() for name, words in likenesses(cards).items()}


def _beside_others(page: Path | bytes, words: bytes) -> dict[str, bytes]:
    """A project's page with what it says of the others."""
    from handouts_build.outputs.pages.likeness import PLACE

    return {"page.md": read(page).replace(PLACE.encode(), words)}


def _own(ending: str) -> dict[str, bytes]:
    """What is alike in every archive: looks, scripts, the reference and the schemas."""
    from handouts_build import schema
    from handouts_build.outputs.data import sheet_schema
    from handouts_build.outputs.pages.assets import assets
    from handouts_build.outputs.pages.exchange import archive_schema

    made: dict[str, str | bytes] = {
        **schema.reference_pages(),
        **schema.cut_pages(ending),
        **schema.task_pages(ending),
        "schemas/project.schema.json": schema.project_schema(),
        "schemas/shop.schema.json": schema.shop_schema(),
        "schemas/sheet.schema.json": sheet_schema(),
        "schemas/archive.schema.json": archive_schema(),
        "schemas/demonstration.schema.json": schema.demonstration_schema(),
        "schemas/runs.schema.json": schema.runs_schema(),
        "schemas/call.schema.json": schema.call_schema(),
        "schemas/entry.schema.json": schema.entry_schema(),
    }
    texts = {path: text.encode() if isinstance(text, str) else text for path, text in made.items()}
    return {**{asset.path: asset.read() for asset in assets()}, **texts}
