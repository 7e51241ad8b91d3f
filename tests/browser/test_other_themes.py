"""The same pages under another theme, and under none: boxes, tables and pictures look alike everywhere.

The pages are built by MkDocs under Material and under the theme that MkDocs goes by if none is named, and written by
`handouts pages` and laid out by Python-Markdown alone, with no style sheet but the library's.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import markdown
import pytest

from tests.browser.conftest import ROOT

PIECE = ROOT / "projects" / "three-sided-candlestick.yml"
PAGE = "projects/three-sided-candlestick"

SETTINGS = """\
site_name: A club's handouts
theme: {{name: {theme}, {more}}}
use_directory_urls: false
plugins: [{{handouts: {{papers: false}}}}]
"""

LOOKED_AT = (
    "section.hb-boxes .hb-box", ".hb-step__boxes .hb-box", ".hb-box .hb-signal", ".hb-box .hb-entries",
    ".hb-box .hb-entries li", ".hb-last", ".hb-table", ".hb-table caption", ".hb-table thead th",
    ".hb-table tbody th[scope=row]", ".hb-table td", ".hb-dimensions .hb-first", ".hb-solid", ".hb-solid img",
    ".hb-step__shot", ".hb-step__shot .hb-shot--light", ".hb-step__shot .hb-shot--dark", ".hb-drawing",
    ".hb-drawing figcaption", ".hb-plate", ".hb-workings", ".hb-workings summary", ".hb-facts dt", ".hb-facts dd",
    ".hb-jump a", ".hb-how", ".hb-how dd",
)  # fmt: skip

# What makes a box a box to the eye, and its lettering legible.
PROPERTIES = (
    "display", "border-top", "border-right", "border-bottom", "border-left", "padding-top", "padding-right",
    "padding-bottom", "padding-left", "margin-top", "margin-bottom", "background-color", "box-shadow", "color",
    "font-family", "font-size", "font-weight", "font-style", "line-height", "text-align", "list-style-type",
    "text-decoration-line", "caption-side", "white-space",
)  # fmt: skip

LOOK = """([selectors, properties]) => Object.fromEntries(selectors.map(selector => {
  const found = document.querySelector(selector);
  if (!found) return [selector, "not on the page"];
  const style = getComputedStyle(found);
  return [selector, Object.fromEntries(properties.map(name => [name, style.getPropertyValue(name)]))];
}))"""

BARE = """\
<!doctype html>
<html lang="en"{scheme}><head><meta charset="utf-8"><title>A page</title>{sheets}</head>
<body>{body}</body></html>
"""


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An archive of one piece, with the shop it is made in."""
    folder = tmp_path_factory.mktemp("themes")
    (folder / "projects").mkdir()
    (folder / "docs").mkdir()
    for path in (PIECE, PIECE.with_name("shop.yml")):
        shutil.copy(path, folder / "projects")
    return folder


def _run(home: Path, *arguments: str) -> None:
    environment = os.environ | {"NO_MKDOCS_2_WARNING": "1"}
    subprocess.run([sys.executable, "-m", *arguments], cwd=home, check=True, env=environment, capture_output=True)


def _built(home: Path, theme: str, more: str = "") -> str:
    """The piece's page under a theme of MkDocs."""
    settings = home / f"{theme}.yml"
    settings.write_text(SETTINGS.format(theme=theme, more=more), encoding="utf-8")
    _run(home, "mkdocs", "build", "--quiet", "--config-file", settings.name, "--site-dir", f"site-{theme}")
    return (home / f"site-{theme}" / f"{PAGE}.html").as_uri()


def _bare(home: Path, scheme: str) -> str:
    """The piece's page as `handouts pages` writes it, laid out by Python-Markdown and no theme at all."""
    if not (home / "pages").exists():
        _run(home, "handouts_build", "pages", "--no-papers", "--to", "pages")
    source = home / "pages" / f"{PAGE}.md"
    body = markdown.markdown(source.read_text(encoding="utf-8"), extensions=["meta", "md_in_html", "toc"])
    sheets = "".join(
        f'<link rel="stylesheet" href="../assets/handouts/css/{name}.css">'
        for name in ("handouts", "own-size", "solid")
    )
    target = source.with_name(f"bare-{scheme}.html")
    # The pictures lie in a folder of the piece's name, beside its page.
    said = f' data-hb-scheme="{scheme}"' if scheme != "unsaid" else ""
    target.write_text(BARE.format(scheme=said, sheets=sheets, body=body), encoding="utf-8")
    return target.as_uri()


def _styles(look: Any, address: str, scheme: str) -> Mapping[str, Mapping[str, str]]:
    seen = look(address, width=1280, scheme=scheme)
    return seen.page.evaluate(LOOK, [LOOKED_AT, PROPERTIES])  # type: ignore[no-any-return]


def _unlike(styles: Mapping[str, Mapping[str, str]], wanted: Mapping[str, Mapping[str, str]]) -> list[str]:
    """Where one page's looks differ from another's."""
    return [
        f"{selector} {name}: {styles[selector][name]} instead of {value}"
        for selector, properties in wanted.items()
        for name, value in properties.items()
        if styles[selector][name] != value
    ]


@pytest.fixture(scope="module")
def material(home: Path, browser: Any) -> str:
    """The piece's page as the demo archive would show it."""
    del browser  # asked for, so that nothing is built in vain
    return _built(home, "material", "font: false, palette: [{media: '(prefers-color-scheme: light)', scheme: default}, "
                  "{media: '(prefers-color-scheme: dark)', scheme: slate}]")  # fmt: skip


def test_the_page_has_everything_that_is_looked_at(look: Any, material: str) -> None:
    styles = _styles(look, material, "light")
    assert {selector for selector in LOOKED_AT if styles[selector] == "not on the page"} == set()
    box = styles["section.hb-boxes .hb-box"]
    assert float(box["border-left"].split("px")[0]) >= 2
    assert box["background-color"] != "rgba(0, 0, 0, 0)"


@pytest.mark.parametrize("theme", ["mkdocs"])
def test_another_theme_shows_them_as_material_does(look: Any, home: Path, material: str, theme: str) -> None:
    assert _unlike(_styles(look, _built(home, theme), "light"), _styles(look, material, "light")) == []


def test_no_theme_at_all_shows_them_as_material_does(look: Any, home: Path, material: str) -> None:
    light = _styles(look, material, "light")
    assert _unlike(_styles(look, _bare(home, "unsaid"), "light"), light) == []
    # A page that does not say that it has a dark look is not made half dark.
    assert _unlike(_styles(look, _bare(home, "unsaid"), "dark"), light) == []


@pytest.mark.parametrize("said", ["dark", "system"])
def test_a_page_that_says_that_it_is_dark_has_the_dark_look(look: Any, home: Path, material: str, said: str) -> None:
    assert _unlike(_styles(look, _bare(home, said), "dark"), _styles(look, material, "dark")) == []
