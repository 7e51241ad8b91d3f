"""Old write-ups become projects of words and photographs; what is left out is told, and nothing is written over."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import pytest
from click.testing import CliRunner
from PIL import Image

from handouts_build.cli import cli
from handouts_build.problems import ProjectError
from handouts_build.schema import load_project
from handouts_build.site.importing import import_write_up

MARKDOWN = """\
---
title: "The storm bowl"
date: 2011-04-02
author: somebody
---

A bowl from the limb that a *storm* had brought down, and **not** for sale.

## What it took

1. A chain saw, with {care}
2. 3*4 hours, see [the club](https://club.example/) <b>or</b> not

- a gouge
- #let us see

| Day | Weight |
| --- | --- |
| 1 | 900 g |

![The rim](pictures/rim.png)
![](../secret.png) ![Far](https://far.example/a.png) ![No picture](notes.png)
"""


def picture(kind: str = "PNG") -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (40, 30), "sienna").save(out, kind)
    return out.getvalue()


def markdown(folder: Path) -> Path:
    (folder / "old" / "pictures").mkdir(parents=True)
    (folder / "old" / "pictures" / "rim.png").write_bytes(picture())
    (folder / "secret.png").write_bytes(picture())
    (folder / "old" / "notes.png").write_text("no picture", encoding="utf-8")
    path = folder / "old" / "storm.md"
    path.write_text(MARKDOWN, encoding="utf-8")
    return path


def test_markdown_becomes_words_and_pictures_and_what_is_left_is_told(tmp_path: Path) -> None:
    made = import_write_up(markdown(tmp_path), tmp_path / "projects")
    home = tmp_path / "projects"
    assert made.files[:2] == (home / "the-storm-bowl.yml", home / "the-storm-bowl" / "picture-1.png")
    project, _ = load_project(made.files[0], "the-storm-bowl.yml")
    assert project.title == "The storm bowl"
    assert str(project.date) == "2011-04-02"
    assert [" ".join(paragraph.split()) for paragraph in str(project.text).strip().split("\n\n")] == [
        "A bowl from the limb that a *storm* had brought down, and *not* for sale.",
        "*What it took*",
        "1. A chain saw, with (care)",
        "2. 3×4 hours, see the club (https://club.example/) < b>or< /b> not",
        "– a gouge",
        "– # let us see",
        "Day | Weight",
        "1 | 900 g",
    ]
    (shown,) = project.pictures
    assert (shown.file, shown.shows) == ("picture-1.png", "The rim")
    assert (home / "the-storm-bowl" / "picture-1.png").read_bytes() == picture()
    told = "\n".join(made.left)
    assert "what stands at its head: author" in told
    assert "the form of its tables: 2 rows" in told
    assert "https://far.example/a.png: it is on another host" in told
    assert "notes.png: it is no JPEG, PNG or WebP" in told
    assert "../secret.png: " in told
    assert len(made.left) == 5


WORD = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"
DRAWING = "http://schemas.openxmlformats.org/drawingml/2006"
RELATIONS = "http://schemas.openxmlformats.org/package/2006/relationships"
OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
BODY = f"""<?xml version="1.0" encoding="UTF-8"?>
<w:document xmlns:w="{WORD}" xmlns:a="{DRAWING}/main" xmlns:wp="{DRAWING}/wordprocessingDrawing"
 xmlns:pic="{DRAWING}/picture" xmlns:r="{OFFICE}"><w:body>
<w:p><w:pPr><w:pStyle w:val="Heading1"/></w:pPr><w:r><w:t>Goblet, thin stem</w:t></w:r></w:p>
<w:p><w:r><w:t xml:space="preserve">Turn the cup </w:t></w:r><w:r><w:rPr><w:b/></w:rPr><w:t>first</w:t></w:r></w:p>
<w:p><w:r><w:drawing><wp:inline><wp:docPr id="1" name="p" descr="The goblet"/><a:graphic><a:graphicData>
<pic:pic><pic:blipFill><a:blip r:embed="rId1"/></pic:blipFill></pic:pic>
</a:graphicData></a:graphic></wp:inline></w:drawing></w:r></w:p></w:body></w:document>"""
TYPES = """<?xml version="1.0" encoding="UTF-8"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">
<Default Extension="jpeg" ContentType="image/jpeg"/><Default Extension="xml" ContentType="application/xml"/>
<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>
<Override PartName="/word/document.xml"
 ContentType="application/vnd.openxmlformats-officedocument.wordprocessingml.document.main+xml"/></Types>"""
STYLES = f"""<?xml version="1.0" encoding="UTF-8"?>
<w:styles xmlns:w="{WORD}"><w:style w:type="paragraph" w:styleId="Heading1"><w:name w:val="heading 1"/></w:style>
</w:styles>"""


def relations(*rows: tuple[str, str, str]) -> str:
    inside = "".join(f'<Relationship Id="{ident}" Type="{OFFICE}/{kind}" Target="{at}"/>' for ident, kind, at in rows)
    return f'<?xml version="1.0" encoding="UTF-8"?><Relationships xmlns="{RELATIONS}">{inside}</Relationships>'


def word_file(path: Path) -> Path:
    """By hand, after ECMA-376 (Office Open XML), parts 1 and 2: the least that is a document with a picture."""
    with zipfile.ZipFile(path, "w") as packed:
        packed.writestr("[Content_Types].xml", TYPES)
        packed.writestr("_rels/.rels", relations(("rId1", "officeDocument", "word/document.xml")))
        packed.writestr("word/document.xml", BODY)
        packed.writestr("word/styles.xml", STYLES)
        packed.writestr(
            "word/_rels/document.xml.rels",
            relations(("rId1", "image", "media/goblet.jpeg"), ("rId2", "styles", "styles.xml")),
        )
        packed.writestr("word/media/goblet.jpeg", picture("JPEG"))
    return path


def test_a_word_file_becomes_words_and_pictures(tmp_path: Path) -> None:
    made = import_write_up(word_file(tmp_path / "goblet.docx"), tmp_path / "projects", day="1998-11-03")
    project, _ = load_project(made.files[0], "goblet.yml")
    assert made.files[0].name == "goblet-thin-stem.yml"
    assert (project.title, str(project.date)) == ("Goblet, thin stem", "1998-11-03")
    assert str(project.text).strip() == "Turn the cup *first*"
    (shown,) = project.pictures
    assert (shown.file, shown.shows) == ("picture-1.jpg", "The goblet")
    assert made.left == ()


def test_nothing_is_written_over_and_what_cannot_be_read_is_one_message(tmp_path: Path) -> None:
    projects = tmp_path / "projects"
    path = markdown(tmp_path)
    before = import_write_up(path, projects).files[0].read_bytes()
    (tmp_path / "no.docx").write_bytes(b"PK\x03\x04 this is none")
    (tmp_path / "empty.md").write_text("![](rim.png)\n", encoding="utf-8")
    (tmp_path / "latin.md").write_bytes(b"caf\xe9")
    (tmp_path / "long.md").write_text("word " * 5000, encoding="utf-8")
    for name, says in {
        "old/storm.md": "there is a project of this name already",
        "no.docx": "no Word file that can be read",
        "empty.md": "there are no words in it",
        "latin.md": "it is not UTF-8 text",
        "long.md": "20,000",
        "missing.md": "it cannot be read",
        "storm.pages": "no kind of write-up that is known",
    }.items():
        with pytest.raises(ProjectError) as refused:
            import_write_up(tmp_path / name, projects)
        (problem,) = refused.value.problems
        assert says in str(problem), name
    assert (projects / "the-storm-bowl.yml").read_bytes() == before
    assert sorted(path.name for path in projects.glob("*.yml")) == ["the-storm-bowl.yml"]


def test_the_command_says_what_it_wrote_and_what_it_left(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = markdown(tmp_path)
    monkeypatch.chdir(tmp_path)
    ran = CliRunner().invoke(cli, ["import", str(path), "--as", "storm"])
    assert ran.exit_code == 0, ran.output
    assert ran.output.startswith("wrote projects/storm.yml\nwrote projects/storm/picture-1.png\n")
    assert "left out: the form of its tables" in ran.output
    assert ran.output.endswith("Next: handouts check projects/storm.yml\n")
    assert CliRunner().invoke(cli, ["check", "projects/storm.yml"]).exit_code == 0
