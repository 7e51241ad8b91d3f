"""What is said of a site that another engine built of our pages."""

from __future__ import annotations

from pathlib import Path

import pytest

from handouts_build.outputs.output import Address
from handouts_build.outputs.pages.assets import SCRIPT, STYLES
from handouts_build.problems import ProjectError
from handouts_build.site.other_engine import look_over, needs

PAGE = """<!doctype html><html><head>{links}</head><body><div class="hb">{body}</div></body></html>"""
LINKS = (
    "".join(f'<link rel="stylesheet" href="../{style}">' for style in STYLES) + f'<script src="../{SCRIPT}"></script>'
)


def site(folder: Path, body: str, links: str = LINKS) -> Path:
    """A site of one page, with all that every page asks for."""
    for name in (*STYLES, SCRIPT, "index.html", "papers/a sheet.pdf", "projects/knob/index.html"):
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text("", encoding="utf-8")
    (folder / "projects" / "lantern.html").write_text(PAGE.format(links=links, body=body), encoding="utf-8")
    return folder


def test_all_ways_to_say_an_address_are_followed(tmp_path: Path) -> None:
    body = (
        '<a href="../papers/a%20sheet.pdf#page=2">1</a><a href="/papers/a%20sheet.pdf">2</a><a href="knob/">3</a>'
        '<a href="..">4</a><a href="#here">5</a>'
        '<a href="https://example.org/none">6</a><a href="mailto:a@b.example">7</a>'
        '<img src="data:image/gif;base64,R0" alt=""><code>[a](b.md)</code>'
    )
    assert look_over(site(tmp_path, body)) == 1


@pytest.mark.parametrize(
    ("body", "links", "told"),
    [
        (
            '<img src="lantern-finished.webp" alt="">',
            LINKS,
            "nowhere: 1, the first projects/lantern-finished.webp",
        ),
        ('<img srcset="a.webp 1x, b.webp 2x" alt="">', LINKS, "lead nowhere: 2, the first projects/a.webp"),
        ('<a href="../../outside.pdf">1</a>', LINKS, "lead nowhere: 1, the first ../outside.pdf"),
        ('<p data-hb-src="a.js">1</p>', LINKS, "lead nowhere: 1, the first projects/a.js"),
        ("[Lantern](lantern.md)", LINKS, "not laid out: 1, the first ](lantern.md) on projects/lantern.html"),
        ("", LINKS.replace(STYLES[1], STYLES[0]), f"style sheet of ours: 1, the first {STYLES[1]}"),
        ("", LINKS.partition("<script")[0], "without our script: 1"),
    ],
)
def test_each_fault_is_told_with_the_first_place_and_a_remedy(tmp_path: Path, body: str, links: str, told: str) -> None:
    with pytest.raises(ProjectError) as caught:
        look_over(site(tmp_path, body, links))
    (problem,) = caught.value.problems
    assert told in problem.message
    assert problem.hint


def test_a_folder_without_our_pages_is_none(tmp_path: Path) -> None:
    for folder in (tmp_path, tmp_path / "none"):
        with pytest.raises(ProjectError, match="no page here is made of ours"):
            look_over(folder)


@pytest.mark.parametrize(("ending", "form"), [("/", "a folder each"), (".html", "a file each")])
def test_what_an_engine_must_be_told_names_every_style_the_script_and_the_form(ending: str, form: str) -> None:
    said = " ".join(needs(Address("", ending)))
    assert all(asked in said for asked in (*STYLES, SCRIPT, form, "md_in_html"))
