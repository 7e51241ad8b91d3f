"""A piece published in the pseudo-language: what is read in it without an accent was left out of the catalogue."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from pathlib import Path

import pypdfium2 as pdfium
import pytest

from handouts_build.disk.cache import Cache
from handouts_build.language import catalogue, speaking
from handouts_build.language.pseudo import PSEUDO, Stretched
from handouts_build.outputs.output import NOWHERE, Output
from handouts_build.site.build import read_projects
from handouts_build.site.publish import Papers, publish
from handouts_build.site.starter import start_project
from handouts_build.tables import sources
from handouts_build.trade import CHAPTERS
from handouts_build.trade.outlines import PROFILE_VALUES
from tests.catalogue import sentences
from tests.outputs.paper_measure import measured_pages

KINDS = ("knob", "lidded-box", "segmented-vase")
MATHEMATICS = {"min", "max", "sin", "cos", "tan", "arcsin", "arccos", "arctan", "exp", "round", "down", "mark"}
"""Names of functions in a working: they are not read as words."""
SIGNS = {"rpm", "jpg", "glb", "stl", "json", "ansi"}
"""Units and formats, which every language writes so."""


class Listening(Stretched):
    """The pseudo-language, which notes what it is asked for."""

    def __init__(self) -> None:
        super().__init__()
        self.asked: set[str] = set()

    def gettext(self, message: str) -> str:
        self.asked.add(message)
        return super().gettext(message)

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        self.asked |= {msgid1, msgid2}
        return super().ngettext(msgid1, msgid2, n)


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Three pieces to begin with."""
    folder = tmp_path_factory.mktemp("pseudo") / "projects"
    for kind in KINDS:
        start_project(kind, folder, like=kind)
    return folder


@pytest.fixture(scope="module")
def published(home: Path) -> tuple[list[Output], set[str]]:
    """What they come to in the pseudo-language, and what was asked of the catalogue meanwhile."""
    listening = Listening()
    with pytest.MonkeyPatch.context() as patched, speaking(PSEUDO):
        patched.setitem(catalogue._READ, PSEUDO, listening)
        paths = sorted(home.glob("*.yml"))
        outputs = publish(paths, base=home.parent, cache=Cache(), address=NOWHERE, papers=Papers.MADE)
    return outputs, listening.asked


def texts(outputs: list[Output]) -> Iterator[tuple[str, str]]:
    """Each line that a reader meets on a page, beside a picture or on a paper, with the file it is in."""
    for output in outputs:
        if output.path.endswith(".pdf"):
            document = pdfium.PdfDocument(output.read())
            for page in document:
                yield from ((output.path, line) for line in page.get_textpage().get_text_bounded().splitlines())
        elif output.path.endswith(".md") and not output.path.startswith("reference/"):
            page = re.sub(
                r"(?s)^---.*?---|<script.*?</script>|<style.*?</style>|\]\([^)]*\)", "]", output.read().decode()
            )
            named = re.findall(r'(?:alt|aria-label|data-written|title)="([^"]*)"', page)
            lines = [*re.sub(r"<[^>]*>", "\n", page).splitlines(), *named]
            yield from ((output.path, html.unescape(line)) for line in lines)


def known(home: Path) -> set[str]:
    """Words that are not ours to translate: the authors', signs, names in formulas, and publications."""
    written = [path.read_text(encoding="utf-8") for path in home.rglob("*.yml")]
    symbols = [f"{law.symbol} {law.name}" for chapter in CHAPTERS.values() for law in (*chapter.laws, *chapter.givens)]
    published = [f"{source.text} {source.reference}" for source in sources().values()]
    measured = [measure.name for measure in PROFILE_VALUES]
    words = re.findall(r"[a-z]+", " ".join([*written, *symbols, *measured, *published]).casefold())
    return {*words, *MATHEMATICS, *SIGNS}


def test_nothing_on_a_page_or_paper_is_left_out(home: Path, published: tuple[list[Output], set[str]]) -> None:
    spared = known(home)
    left: dict[str, str] = {}
    for path, line in texts(published[0]):
        for word in re.findall(r"[^\W\d_]+", line):
            if re.fullmatch(r"[A-Za-z]{3,}", word) and word.casefold() not in spared:
                left.setdefault(line.strip(), path)
    assert left == {}


def test_nothing_on_a_paper_overlaps_or_runs_off_it_in_longer_words(published: tuple[list[Output], set[str]]) -> None:
    papers = [output for output in published[0] if output.path.endswith(".pdf")]
    assert len(papers) > 12
    for paper in papers:
        for number, page in enumerate(measured_pages(paper.read()), 1):
            assert page.overlaps == (), (paper.path, number)
            # Templates go as near to the edge as any printer prints; nothing goes past it.
            assert min(page.edges_mm) > 4, (paper.path, number)


def test_whatever_is_said_is_listed_for_translators(published: tuple[list[Output], set[str]]) -> None:
    listed = {message for found, _ in sentences() for message in found.forms}
    assert sorted(published[1] - listed - {""}) == []


def test_nothing_is_decided_by_its_words(home: Path) -> None:
    """The same boxes, findings and numbers in both languages: what is found never hangs on how it is said."""

    def bones() -> list[object]:
        sheets = read_projects(sorted(home.glob("*.yml")), base=home.parent).sheets
        return [
            (
                sheet.name,
                [[box.id for box in boxes] for boxes in (sheet.boxes, *(step.boxes for step in sheet.every_step))],
                [finding.level for finding in sheet.told],
                [(number.name, number.printed.lead) for step in sheet.every_step for number in step.numbers],
                [fact.name for step in sheet.every_step if step.stage is not None for fact in step.stage.facts],
                [step.figures for step in sheet.every_step],
                [float(dimension.value.magnitude) for dimension in sheet.dimensions],
            )
            for sheet in sheets
        ]

    english = bones()
    with speaking(PSEUDO):
        assert bones() == english
