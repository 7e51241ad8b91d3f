"""Ready sizes on paper: a small table on the handout, and papers of their own."""

from __future__ import annotations

import dataclasses
from pathlib import Path

from handouts_build.figures import draw
from handouts_build.outputs.papers.ready_sizes import ready_table
from handouts_build.outputs.papers.render import papers
from handouts_build.paper import WORDS
from handouts_build.site.build import paper_files, read_projects
from tests.outputs.pdf_measure import page_texts
from tests.projects import PARTS, worked

READY = """\
ready sizes:
  large: {says: Large, sizes: {ball: 3 in}}
  as_is: {says: The same again, sizes: {ball: 2 in}}
"""


def test_the_table_has_what_differs_beside_the_sizes_as_written(tmp_path: Path) -> None:
    sheet = worked(
        tmp_path,
        sizes="ball: {is: 2 in, says: Ball}\nribs: {is: 6, says: Ribs}",
        extra=READY,
        parts=PARTS.replace("round: 3 in", "round: ball"),
    )
    table = ready_table(sheet)
    assert table is not None

    def text(some: list[dict[str, str | bool]]) -> str:
        return "".join(str(piece["t"]) for piece in some).replace("\u00a0", " ")

    assert [text(head) for head in table["heads"]] == ["As published", "Large", "The same again"]
    assert [(text(row["says"]), [text(value) for value in row["values"]]) for row in table["rows"]] == [
        ("Ball", ["2 in (51 mm)", "3 in (76 mm)", "2 in (51 mm)"]),
        ("The body: round blank", ["2 in × 4 in", "3 in × 4 in", "2 in × 4 in"]),
    ]


def test_a_project_without_ready_sizes_has_no_table(tmp_path: Path) -> None:
    sheet = worked(tmp_path)
    assert ready_table(sheet) is None
    for text in map(page_texts, papers(dataclasses.replace(sheet, papers=WORDS), draw(sheet)).values()):
        assert "Ready sizes" not in " ".join(text)


def test_every_ready_size_has_its_full_set_of_papers_at_its_own_sizes(tmp_path: Path) -> None:
    worked(tmp_path, extra=READY, workings="around: {chapter: divisions, divisions: 8, diameter: ball}")
    made = paper_files(read_projects([tmp_path / "piece.yml"], base=tmp_path), sizes=["a4"])["piece"]
    assert sorted(made) == sorted(
        f"piece{ready}-{paper}-a4.pdf"
        for ready in ("", "-large", "-as-is")
        for paper in ("handout", "dimensions", "templates")
    )
    (sheet,) = page_texts(made["piece-large-dimensions-a4.pdf"])
    assert "Piece (large)" in sheet
    assert "3 in" in sheet
    handout = " ".join(page_texts(made["piece-handout-a4.pdf"]))
    assert "Ready sizes" in handout
    assert "3 in (76 mm)" in handout
