"""What every page of a site shares: style sheet, scripts, fonts and the mark.

This module owns where these files lie on the site. It leaves telling the site
engine about them to the plugin.
"""

from __future__ import annotations

from collections.abc import Mapping
from importlib.resources import files
from importlib.resources.abc import Traversable

from handouts_build.outputs.output import Output
from handouts_build.outputs.scripts import published_script, published_style

__all__ = [
    "LATHE_STYLE",
    "LOGO",
    "OWN_SCRIPTS",
    "OWN_STYLE",
    "SCRIPT",
    "SOLID_STYLE",
    "STYLE",
    "STYLES",
    "WHERE",
    "assets",
]

_HOME = "assets/handouts"

STYLE = f"{_HOME}/css/handouts.css"
"""Style sheet of the pages."""

OWN_STYLE = f"{_HOME}/css/own-size.css"
"""Style sheet of the own-size panel and of what is printed from it."""

OWN_SCRIPTS = tuple(
    f"{_HOME}/js/own-size{part}.js"
    for part in ("-words", "-numbers", "-reading", "-formulas", "", "-templates", "-paper", "-panel")
)
"""The own-size panel: words, numbers, sizes as written, formulas, a project worked, templates, papers, panel, in this
order."""

SCRIPT = f"{_HOME}/js/when-asked.js"
"""The one script that a page names; it loads the others when they are needed."""

LOGO = f"{_HOME}/mark.svg"
"""The mark in the header."""

"""The mark in the browser's tab."""

SOLID_STYLE = f"{_HOME}/css/solid.css"
"""Style sheet of the pictures and the viewer of solids."""

_SOLID_SCRIPT = f"{_HOME}/js/solid.js"
"""Lets a piece be turned about; it loads a piece when asked."""

_FIND_SCRIPT = f"{_HOME}/js/find.js"
"""Narrows the pieces down by several facets at once."""

LATHE_STYLE = f"{_HOME}/css/lathe.css"
"""Style sheet of a project's steps, one at a time and all at once."""

_LATHE_SCRIPT = f"{_HOME}/js/lathe.js"
"""Shows one step at a time."""

STYLES = (STYLE, OWN_STYLE, SOLID_STYLE, LATHE_STYLE)
"""All style sheets that a page names."""

WHERE: Mapping[str, str] = {LATHE_STYLE: " data-hb-lathe", OWN_STYLE: '<form class="hb-own'}
"""Style sheets that a page need not name unless this stands on it; the page's script brings that of own sizes where
they come in later."""

_FACES = ("handouts-sans-regular", "handouts-sans-italic", "handouts-sans-bold", "handouts-serif-bold")


def assets() -> list[Output]:
    """The shared files, with their paths on the site."""
    package = files("handouts_build")
    home = package / "outputs" / "assets"
    made = [
        Output(path, _content(home.joinpath(*path.removeprefix(f"{_HOME}/").split("/"))))
        for path in (*STYLES, SCRIPT, *OWN_SCRIPTS, _SOLID_SCRIPT, _LATHE_SCRIPT, _FIND_SCRIPT, LOGO)
    ]
    made += [
        Output(f"{_HOME}/fonts/{face}{part}.woff2", (package / "fonts" / f"{face}{part}.woff2").read_bytes())
        for face in _FACES
        for part in ("", "-more")
    ]
    return made


def _content(file: Traversable) -> bytes:
    """A text file with plain line ends, whatever a checkout made of them; scripts and styles as they are published."""
    if file.name.endswith(".js"):
        return published_script(file.read_text(encoding="utf-8")).encode()
    if file.name.endswith(".css"):
        return published_style(file.read_text(encoding="utf-8")).encode()
    return file.read_bytes().replace(b"\r\n", b"\n")
