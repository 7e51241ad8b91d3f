"""The same pages under another theme, under none, and by another engine: boxes, tables and pictures look alike.

The pages are built by MkDocs under Material and under the theme that MkDocs goes by if none is named, and written by
`handouts pages` and laid out by Python-Markdown alone, with no style sheet but the library's, and by a site engine that
shares no code with MkDocs and is told nothing but what the command prints.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import markdown
import pytest
from axe_playwright_python.sync_playwright import Axe

from handouts_build.outputs.pages.assets import SCRIPT, STYLES
from handouts_build.site.other_engine import EXTENSIONS
from tests.browser.conftest import ROOT
from tests.browser.host import serving
from tests.browser.test_at_the_lathe import number
from tests.browser.test_own_size_page import cells, put
from tests.browser.test_site import OPTIONS

PIECE = ROOT / "projects" / "three-sided-candlestick.yml"
PAGE = "projects/three-sided-candlestick"

SETTINGS = """\
site_name: A club's handouts
theme: {{name: {theme}, {more}}}
use_directory_urls: false
plugins: [{{handouts: {{papers: false}}}}]
"""

# What `handouts pages` says that an engine needs, in another engine's words and in those of MkDocs without the plugin.
ENGINE = """\
[project]
site_name = "A club's handouts"
docs_dir = "pages-files"
site_dir = "engine-files"
use_directory_urls = false
extra_css = [{styles}, "size.css"]
extra_javascript = [{{path = "{script}", defer = true}}]
[project.markdown_extensions]
{extensions}
[project.theme]
font = false
palette = {{media = "(prefers-color-scheme: light)", scheme = "default"}}
"""

WITHOUT_THE_PLUGIN = """\
site_name: A club's handouts
theme: mkdocs
docs_dir: pages-{form}
use_directory_urls: {folders}
plugins: []
markdown_extensions: [{extensions}]
extra_css: [{styles}]
extra_javascript: [{{path: {script}, defer: true}}]
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


def _run(home: Path, *arguments: str, code: int = 0) -> str:
    """Run a command with a wanted exit status: what it said on stderr."""
    environment = os.environ | {"NO_MKDOCS_2_WARNING": "1"}
    command = [sys.executable, "-m", *arguments]
    ran = subprocess.run(command, cwd=home, env=environment, capture_output=True, text=True, check=False)
    assert ran.returncode == code, ran.stderr
    return ran.stderr


def _built(home: Path, theme: str, more: str = "") -> dict[str, str]:
    """The piece's pages under a theme of MkDocs: their addresses."""
    settings = home / f"{theme}.yml"
    settings.write_text(SETTINGS.format(theme=theme, more=more), encoding="utf-8")
    _run(home, "mkdocs", "build", "--quiet", "--config-file", settings.name, "--site-dir", f"site-{theme}")
    return {page: (home / f"site-{theme}" / f"{page}.html").as_uri() for page in LOOKED_AT}


def _pages(home: Path, form: str) -> Path:
    """The archive as `handouts pages` writes it, with one form of addresses."""
    if not (home / f"pages-{form}").exists():
        _run(home, "handouts_build", "pages", "--no-papers", "--addresses", form, "--to", f"pages-{form}")
    return home / f"pages-{form}"


def _bare(home: Path, scheme: str) -> dict[str, str]:
    """The piece's pages as `handouts pages` writes them, laid out by Python-Markdown and no theme at all."""
    made, bare = {}, home / "bare"
    if not bare.exists():
        shutil.copytree(_pages(home, "folders"), bare)
    for page in LOOKED_AT:
        source = bare / f"{page}.md"
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


@pytest.fixture(scope="module")
def built(home: Path, browser: Any) -> Path:
    """The archive by another engine, to be read from a disk: its folder."""
    del browser
    # This theme's letters are larger than the browser's, by a quarter.
    (_pages(home, "files") / "size.css").write_text(":root { --hb-size: 1rem; }", encoding="utf-8")
    styles, extensions = ", ".join(map(json.dumps, STYLES)), "\n".join(f"{name} = {{}}" for name in EXTENSIONS)
    text = ENGINE.format(script=SCRIPT, styles=styles, extensions=extensions)
    (home / "engine.toml").write_text(text, encoding="utf-8")
    _run(home, "zensical", "build", "--strict", "--clean", "--config-file", "engine.toml")
    return home / "engine-files"


def test_another_engine_builds_them_and_they_hold_together(home: Path, built: Path) -> None:
    _run(home, "handouts_build", "pages", "--built", built.name)
    # Every picture that was written is on the site.
    written, there = (
        {path.relative_to(folder) for path in folder.rglob("*.webp")} for folder in (_pages(home, "files"), built)
    )
    assert there == written != set()


@pytest.mark.parametrize("form", ["folders", "files"])
def test_an_engine_that_leaves_addresses_alone_builds_both_forms(home: Path, form: str) -> None:
    _pages(home, form)
    more = {"styles": ", ".join(STYLES), "script": SCRIPT, "extensions": ", ".join(EXTENSIONS)}
    settings, site = home / f"plain-{form}.yml", f"plain-{form}"
    text = WITHOUT_THE_PLUGIN.format(form=form, folders=str(form == "folders").lower(), **more)
    settings.write_text(text, encoding="utf-8")
    _run(home, "mkdocs", "build", "--quiet", "--strict", "--config-file", settings.name, "--site-dir", site)
    _run(home, "handouts_build", "pages", "--built", site)


def test_what_an_engine_was_not_told_is_found_out(home: Path) -> None:
    """Addresses of the other form, no style sheet, no script, and Markdown within HTML left as it was written."""
    _pages(home, "folders")
    text = WITHOUT_THE_PLUGIN.format(form="folders", folders="false", styles="", script="none.js", extensions="meta")
    (home / "untold.yml").write_text(text, encoding="utf-8")
    _run(home, "mkdocs", "build", "--quiet", "--config-file", "untold.yml", "--site-dir", "untold")
    told = _run(home, "handouts_build", "pages", "--built", "untold", code=1)
    for fault in ("addresses that lead nowhere", "without a style sheet", "without our script", "was not laid out"):
        assert fault in told
    assert "--addresses" in told


def test_another_engine_shows_them_as_material_does(look: Any, built: Path, material: dict[str, str]) -> None:
    pages = {page: (built / f"{page}.html").as_uri() for page in LOOKED_AT}
    assert _unlike(_styles(look, pages, "light"), _styles(look, material, "light")) == []


def test_another_engines_pages_work(look: Any, built: Path) -> None:
    """A step after the other at the lathe, a size of one's own, and nothing that the browser minds."""
    with serving(built) as address:
        lathe = look(f"{address}{PAGE}/at-the-lathe.html", width=390)
        assert number(lathe.page) == 1
        lathe.page.get_by_role("button", name="Next", exact=True).click()
        assert number(lathe.page) == 2
        assert Axe().run(lathe.page, context=".hb-lathe", options=OPTIONS).response["violations"] == []
        sizes = look(f"{address}{PAGE}/sizes.html")
        before = cells(sizes.page)
        put(sizes.page, stick="60 mm")
        assert cells(sizes.page) != before
        assert [*lathe.complaints, *sizes.complaints, *lathe.asked, *sizes.asked] == []


@pytest.mark.parametrize("said", ["dark", "system"])
def test_a_page_that_says_that_it_is_dark_has_the_dark_look(
    look: Any, home: Path, material: dict[str, str], said: str
) -> None:
    assert _unlike(_styles(look, _bare(home, said), "dark"), _styles(look, material, "dark")) == []
