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

LOOKED_AT = {
    PAGE: (
        "section.hb-boxes .hb-box", ".hb-box .hb-signal", ".hb-box .hb-entries", ".hb-box .hb-entries li",
        ".hb-names li", ".hb-more", ".hb-more summary", ".hb-last", ".hb-table", ".hb-table caption",
        ".hb-wood thead th", ".hb-table tbody th[scope=row]", ".hb-table td", ".hb-bystep .hb-first", ".hb-solid",
        ".hb-solid img", ".hb-drawing", ".hb-drawing figcaption", ".hb-plate", ".hb-facts dt", ".hb-facts dd",
        ".hb-goes a", ".hb-goes li", ".hb-brief", ".hb-steps h3",
    ),
    f"{PAGE}/at-the-lathe": (
        ".hb-step__care .hb-box", ".hb-step__shot", ".hb-step__shot .hb-shot--light", ".hb-step__shot .hb-shot--dark",
        ".hb-numbers", ".hb-numbers li", ".hb-numbers a", ".hb-numbers__lead", ".hb-numbers__other", ".hb-set dd",
        ".hb-how", ".hb-how dd", ".hb-step__words p", ".hb-more summary", ".hb-lathe__steps li", ".hb-lathe__steps a",
    ),
    f"{PAGE}/sizes": (".hb-dimensions .hb-first", ".hb-dimensions thead th", ".hb-own", ".hb-own input", ".hb-ready"),
    f"{PAGE}/workings": (".hb-workings", ".hb-working", ".hb-formula", ".hb-sources li"),
}  # fmt: skip

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


def _built(home: Path, theme: str, more: str = "") -> dict[str, str]:
    """The piece's pages under a theme of MkDocs: their addresses."""
    settings = home / f"{theme}.yml"
    settings.write_text(SETTINGS.format(theme=theme, more=more), encoding="utf-8")
    _run(home, "mkdocs", "build", "--quiet", "--config-file", settings.name, "--site-dir", f"site-{theme}")
    return {page: (home / f"site-{theme}" / f"{page}.html").as_uri() for page in LOOKED_AT}


def _bare(home: Path, scheme: str) -> dict[str, str]:
    """The piece's pages as `handouts pages` writes them, laid out by Python-Markdown and no theme at all."""
    if not (home / "pages").exists():
        _run(home, "handouts_build", "pages", "--no-papers", "--to", "pages")
    made = {}
    for page in LOOKED_AT:
        source = home / "pages" / f"{page}.md"
        body = markdown.markdown(source.read_text(encoding="utf-8"), extensions=["meta", "md_in_html", "toc"])
        root = "../" * page.count("/")
        sheets = "".join(
            f'<link rel="stylesheet" href="{root}assets/handouts/css/{name}.css">'
            for name in ("handouts", "own-size", "solid", "lathe")
        )
        target = source.with_name(f"bare-{source.stem}-{scheme}.html")
        # The pictures lie in a folder of the piece's name, beside its page.
        said = f' data-hb-scheme="{scheme}"' if scheme != "unsaid" else ""
        target.write_text(BARE.format(scheme=said, sheets=sheets, body=body), encoding="utf-8")
        made[page] = target.as_uri()
    return made


def _styles(look: Any, addresses: Mapping[str, str], scheme: str) -> Mapping[str, Mapping[str, str]]:
    """What is looked at on every page, by its selector and its page."""
    found = {}
    for page, selectors in LOOKED_AT.items():
        seen = look(addresses[page], width=1280, scheme=scheme)
        # Where there is no script of ours, as under no theme at all, the steps stand there all at once after a moment.
        seen.page.evaluate("document.documentElement.classList.add('hb-all-steps', 'hb-lathe-ready')")
        for selector, style in seen.page.evaluate(LOOK, [selectors, PROPERTIES]).items():
            found[f"{selector} on {page}"] = style
    return found


def _unlike(styles: Mapping[str, Mapping[str, str]], wanted: Mapping[str, Mapping[str, str]]) -> list[str]:
    """Where one page's looks differ from another's."""
    return [
        f"{selector} {name}: {styles[selector][name]} instead of {value}"
        for selector, properties in wanted.items()
        for name, value in properties.items()
        if styles[selector][name] != value
    ]


@pytest.fixture(scope="module")
def material(home: Path, browser: Any) -> dict[str, str]:
    """The piece's pages as the demo archive would show it."""
    del browser  # asked for, so that nothing is built in vain
    return _built(home, "material", "font: false, palette: [{media: '(prefers-color-scheme: light)', scheme: default}, "
                  "{media: '(prefers-color-scheme: dark)', scheme: slate}]")  # fmt: skip


def test_the_page_has_everything_that_is_looked_at(look: Any, material: dict[str, str]) -> None:
    styles = _styles(look, material, "light")
    assert {selector for selector, style in styles.items() if style == "not on the page"} == set()
    box = styles[f"section.hb-boxes .hb-box on {PAGE}"]
    assert float(box["border-left"].split("px")[0]) >= 2
    assert box["background-color"] != "rgba(0, 0, 0, 0)"


@pytest.mark.parametrize("theme", ["mkdocs"])
def test_another_theme_shows_them_as_material_does(look: Any, home: Path, material: dict[str, str], theme: str) -> None:
    assert _unlike(_styles(look, _built(home, theme), "light"), _styles(look, material, "light")) == []


def test_no_theme_at_all_shows_them_as_material_does(look: Any, home: Path, material: dict[str, str]) -> None:
    light = _styles(look, material, "light")
    assert _unlike(_styles(look, _bare(home, "unsaid"), "light"), light) == []
    # A page that does not say that it has a dark look is not made half dark.
    assert _unlike(_styles(look, _bare(home, "unsaid"), "dark"), light) == []


@pytest.mark.parametrize("said", ["dark", "system"])
def test_a_page_that_says_that_it_is_dark_has_the_dark_look(
    look: Any, home: Path, material: dict[str, str], said: str
) -> None:
    assert _unlike(_styles(look, _bare(home, said), "dark"), _styles(look, material, "dark")) == []
