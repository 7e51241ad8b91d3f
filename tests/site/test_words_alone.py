"""A write-up of words and photographs alone is a project: it has a page, a paper and its place in the archive."""

from __future__ import annotations

import io
from pathlib import Path

import pypdfium2
import pytest
from PIL import Image

from handouts_build.disk.cache import Cache
from handouts_build.outputs.output import Address
from handouts_build.problems import ProjectError
from handouts_build.site.publish import Papers, publish, summarize

WORDS = """\
title: The storm bowl
date: 2011-04-02
kind: bowl
text: |
  A bowl from the limb that a storm had brought down.

  It was turned *wet*, in one go.
pictures:
  - {file: rim.jpg, shows: The bowl with its bark rim}
  - {file: inside.jpg}
"""


def written(folder: Path, text: str = WORDS) -> Path:
    (folder / "storm-bowl.yml").write_text(text, encoding="utf-8")
    (folder / "storm-bowl").mkdir()
    for name in ("rim.jpg", "inside.jpg"):
        Image.new("RGB", (2000, 900), "sienna").save(folder / "storm-bowl" / name)
    return folder / "storm-bowl.yml"


def made_of(folder: Path) -> dict[str, bytes]:
    cache = Cache(folder / "cache")
    outputs = publish((written(folder),), base=folder, cache=cache, address=Address(), papers=Papers.MADE)
    return {output.path: output.read() for output in outputs}


def test_it_has_a_page_a_paper_and_its_place_in_the_archive(tmp_path: Path) -> None:
    made = made_of(tmp_path)
    pages = sorted(path for path in made if path.startswith("projects/") and path.endswith(".md"))
    assert pages == ["projects/storm-bowl.md"]
    page = made["projects/storm-bowl.md"].decode()
    assert "2 April 2011" in page
    assert "<p>It was turned <em>wet</em>, in one go.</p>" in page
    assert "![The bowl with its bark rim](storm-bowl/photographs/1.jpg)" in page
    # Nothing is asked for that there is not.
    for absent in ("## Dimensions", "## Steps", "## Afterwards", "## What you need", "at-the-lathe", "workings.md"):
        assert absent not in page
    assert "## Safety" in page
    home = made["index.md"].decode()
    assert "projects/storm-bowl.md" in home
    assert 'src="projects/storm-bowl/photographs/1-card.jpg"' in home
    with Image.open(io.BytesIO(made["projects/storm-bowl/photographs/1-card.jpg"])) as card:
        assert max(card.size) == 640


def test_its_papers_are_its_handout_alone_with_its_words(tmp_path: Path) -> None:
    made = made_of(tmp_path)
    papers = sorted(path for path in made if path.endswith(".pdf"))
    home = "projects/storm-bowl/storm-bowl-handout"
    assert papers == [f"{home}-a4.pdf", f"{home}-letter.pdf"]
    read = pypdfium2.PdfDocument(io.BytesIO(made[papers[0]]))
    assert len(read) == 1
    words = " ".join(read[0].get_textpage().get_text_range().split())
    for said in ("The storm bowl", "2 April 2011", "It was turned wet, in one go.", "Safety", "Face shield"):
        assert said in words


def test_what_it_shows_is_asked_for_by_a_note(tmp_path: Path) -> None:
    (summary,) = summarize((written(tmp_path),), base=tmp_path, cache=Cache(tmp_path / "cache"))
    assert summary.says == "words and 2 photographs"
    assert not summary.stopped
    assert [line for line in summary.findings if "'inside.jpg' has no words for those who cannot see it" in line]


def test_a_demonstration_of_it_is_told_that_there_are_no_steps(tmp_path: Path) -> None:
    file = written(tmp_path)
    evening = tmp_path / "storm-bowl" / "demonstrations" / "2011-04-02-club.yml"
    evening.parent.mkdir()
    evening.write_text("date: 2011-04-02\nstart: 19:30\nzone: America/Chicago\nclub: A club\nslot: 90 min\n", "utf-8")
    with pytest.raises(ProjectError, match="The storm bowl has no steps to show"):
        summarize((file,), base=tmp_path, cache=Cache(tmp_path / "cache"))


def test_it_says_something(tmp_path: Path) -> None:
    file = written(tmp_path, "title: The storm bowl\ndate: 2011-04-02\n")
    with pytest.raises(ProjectError, match="'summary' is missing"):
        summarize((file,), base=tmp_path, cache=Cache(tmp_path / "cache"))


def test_a_write_up_without_photographs_is_called_words_alone(tmp_path: Path) -> None:
    (tmp_path / "storm-bowl.yml").write_text("title: The storm bowl\ntext: It was turned wet.\n", encoding="utf-8")
    (summary,) = summarize((tmp_path / "storm-bowl.yml",), base=tmp_path, cache=Cache(tmp_path / "cache"))
    assert summary.says == "words alone"
