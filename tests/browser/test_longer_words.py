"""A site in longer words: no page has to be moved sideways, no text is cut, leaves its button or lies on another."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser

from handouts_build.language.pseudo import stretched
from tests import catalogue as dictionary
from tests.browser.host import serving
from tests.language.installed import installed
from tests.shared import made_once

TAG = "qab"
"""A tag for private use (BCP 47): the pseudo-language itself is not one that an archive may ask for."""
KINDS = ("knob", "lidded-box", "segmented-vase")
PAGES = (
    "index.html",
    "find.html",
    "find/tool.html",
    "projects/knob.html",
    "projects/segmented-vase.html",
    *(f"projects/lidded-box{page}.html" for page in ("", "/at-the-lathe", "/sizes", "/workings", "/shown")),
)

# Text beside which nothing can be moved is cut. The theme's bar shows as much of a title as there is room for, and ends
# it with dots.
CUT = """() => [...document.querySelectorAll('body *')].filter(one => one.checkVisibility() && !one.closest('svg'))
  .filter(one => {
    const style = getComputedStyle(one), button = one.matches('button, .hb-goes a, summary');
    return one.clientWidth > 1 && one.scrollWidth > one.clientWidth + 1 && style.position !== 'absolute' &&
      !one.matches('input, select, .md-ellipsis') && (button || ['hidden', 'clip'].includes(style.overflowX));
  }).map(one => one.outerHTML.slice(0, 160))"""

# Every line of text with the box it stands in. What stays on the screen while the page moves lies over it by nature,
# and what only screen readers say has a box of a pixel.
OVER = """() => {
  const aside = one => { for (let at = one; at; at = at.parentElement) {
    const style = getComputedStyle(at), small = at.clientWidth <= 1 && style.overflowX === 'hidden';
    if (small || ['fixed', 'sticky'].includes(style.position)) return true; } return false; };
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT), lines = [];
  for (let text; (text = walk.nextNode());) {
    const home = text.parentElement;
    if (!text.data.trim() || home.closest('svg, script, style, noscript, option, textarea') || !home.checkVisibility(
      { opacityProperty: true, visibilityProperty: true }) || aside(home)) continue;
    const range = document.createRange();
    range.selectNodeContents(text);
    for (const box of range.getClientRects())
      if (box.width > 2 && box.height > 2) lines.push({ box, says: text.data.trim().slice(0, 40), home });
  }
  lines.sort((one, two) => one.box.top - two.box.top);
  const found = [];
  lines.forEach((one, at) => {
    for (let next = at + 1; next < lines.length && lines[next].box.top < one.box.bottom - 4; next += 1) {
      const two = lines[next];
      const wide = Math.min(one.box.right, two.box.right) - Math.max(one.box.left, two.box.left);
      const hidden = [one, two].some(line => getComputedStyle(line.home).position === 'absolute');
      const high = Math.min(one.box.bottom, two.box.bottom) - two.box.top;
      const much = high > 0.4 * Math.min(one.box.height, two.box.height);
      if (wide > 2 && much && !hidden) found.push(one.says + ' | ' + two.says);
    }
  });
  return found;
}"""


def _build(target: Path) -> None:
    """The site of three pieces, in sentences that are accented and about 1.4 times as long."""
    catalog = dictionary.listed_now()
    for message in catalog:
        if message.id:
            forms = message.id if isinstance(message.id, tuple) else (message.id,)
            said = tuple(stretched(form) for form in forms)
            message.string = said if isinstance(message.id, tuple) else said[0]
    root = target.parent / f"{target.name}-made"
    root.mkdir()
    run = installed(root, TAG, catalog)
    run("handouts_build", "start", "club", cwd=root)
    with (root / "club" / "projects" / "shop.yml").open("a", encoding="utf-8") as file:
        file.write(f"\nlanguage: {TAG}\npapers: [short]\n")
    for kind in KINDS:
        run("handouts_build", "new", kind, "--like", kind, cwd=root / "club")
    run("handouts_build", "book", "lidded-box", "2026-04-01", "--club", "Turners", cwd=root / "club")
    booked = next((root / "club" / "projects" / "lidded-box" / "demonstrations").iterdir())
    with booked.open("a", encoding="utf-8") as file:
        file.write("start: 19:30\nzone: America/New_York\nslot: 60 min\n")
    run("mkdocs", "build", "--strict", "--quiet", "--site-dir", str(target), cwd=root / "club")


@pytest.fixture(scope="module")
def stretched_site(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """It asks for the browser, so that nothing is built in vain."""
    assert browser.is_connected()
    with serving(made_once(tmp_path_factory, "site-in-longer-words", _build)) as address:
        yield address


@pytest.mark.parametrize("path", PAGES)
def test_longer_words_find_room(glance: Any, stretched_site: str, path: str) -> None:
    """WCAG 2.2, 1.4.10: nothing has to be moved sideways at 320 px."""
    page = glance(stretched_site + path, width=1440).page
    assert "ä" in page.locator("main").inner_text()
    for width in (1440, 390, 320):
        page.set_viewport_size({"width": width, "height": 900})
        told = (path, width)
        assert page.evaluate("document.documentElement.scrollWidth") <= width, told
        assert page.evaluate(CUT) == [], told
        assert page.evaluate(OVER) == [], told
