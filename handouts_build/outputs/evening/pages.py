"""The private pages of an evening: run sheet, and the stopwatch for a tablet at the lathe.

This module owns both as single files that need nothing beside them and no network:
style, script and data stand inside, and a policy in the page lets nothing else in.
"""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Mapping, Sequence
from functools import cache
from importlib import resources
from types import MappingProxyType
from typing import Any

from handouts_build.figures.figure import Figure
from handouts_build.figures.shot import Shot
from handouts_build.language import spoken, tr, tr_later
from handouts_build.outputs.evening.papers import run_sheet_paper
from handouts_build.outputs.evening.stopwatch_screen import STEP_MANNER, WATCH_WORDS
from handouts_build.outputs.evening.words import packing_words, run_sheet_words, stock_words
from handouts_build.outputs.pages.filling import said, said_about, said_of
from handouts_build.outputs.policy import with_policy
from handouts_build.outputs.scripts import published_script
from handouts_build.paper import EVENING, SHARED_RUN_SHEET
from handouts_build.sheet import Sheet
from handouts_build.sheet.evening import Demonstration, PublicDemonstration
from handouts_build.sheet.stopwatch import KINDS, LONGEST_NOTE, ON_TIME, REPLACED, STEPS, Leg

__all__ = ["published_run_sheet", "run_sheet_page", "run_sheet_to_share", "stopwatch_page"]


def run_sheet_page(
    demonstration: Demonstration, cutting: Figure | None, shots: Mapping[int, Shot] = MappingProxyType({})
) -> str:
    """Run sheet, packing list and stock list as one page; what is ticked stays ticked in that browser.

    Args:
        demonstration: The demonstration.
        cutting: The drawing of the cutting plan.
        shots: Pictures of the solid, by the number of the step.
    """
    return _page(
        "run-sheet.html.j2",
        style="evening.css",
        run=run_sheet_words(demonstration),
        packing=packing_words(demonstration),
        stock=stock_words(demonstration),
        cutting=cutting,
        shots=_by_number(shots),
        private=True,
        script="ticks.js",
        key=f"handouts-ticks-{demonstration.sheet.name}-{demonstration.name}",
    )


def published_run_sheet(
    demonstration: PublicDemonstration, sheet: Sheet, shots: Mapping[int, Shot]
) -> dict[str, bytes]:
    """The run sheet as page and PDF, where the demonstration's owner asked for it to be shown; else nothing.

    Args:
        demonstration: What of the demonstration is public.
        sheet: The project.
        shots: Pictures of the solid, by the number of the step.
    """
    if not demonstration.run_sheet:
        return {}
    return {
        "run-sheet.html": _open_page(demonstration.run_sheet, shots),
        EVENING["run-sheet"].file(demonstration.paper): run_sheet_paper(
            demonstration.run_sheet, sheet, demonstration.paper, shots
        ),
    }


def run_sheet_to_share(
    demonstration: Demonstration, shots: Mapping[int, Shot] = MappingProxyType({})
) -> dict[str, bytes]:
    """The run sheet for whoever helps, as page and PDF: without contacts, link and notes.

    Args:
        demonstration: The demonstration.
        shots: Pictures of the solid, by the number of the step.
    """
    words = run_sheet_words(demonstration.fit_to_publish(()))
    return {
        "run-sheet-to-share.html": _open_page(words, shots),
        SHARED_RUN_SHEET.file(demonstration.paper): run_sheet_paper(
            words, demonstration.sheet, demonstration.paper, shots
        ),
    }


def _open_page(words: Mapping[str, object], shots: Mapping[int, Shot]) -> bytes:
    """A run sheet's page with nothing private in it."""
    made = _page(
        "run-sheet.html.j2", style="evening.css", run=words, packing=None, stock=None, cutting=None,
        shots=_by_number(shots), private=False, key="",
    )  # fmt: skip
    return with_policy(made).encode()


def _by_number(shots: Mapping[int, Shot]) -> dict[str, Shot]:
    return {str(number): shot for number, shot in shots.items()}


_PAGE_WORDS = {
    "am": tr_later("{hour12}:{minute} am"),
    "pm": tr_later("{hour12}:{minute} pm"),
    "there": tr_later("{time} in {place}"),
    "over": tr_later("Over at {over}"),
    "over_and_slot": tr_later("Over at {over}; the slot ends {ends}"),
    "slot": tr_later("The slot ends {ends}"),
    "following": tr_later("Next: {step}, {manner}"),
    "last": tr_later("Next: the end"),
    "step": tr_later("Step {number} of {count}, {manner}"),
    "against": tr_later("of {planned} planned"),
    "in_all": tr_later("in all"),
    "whole": tr_later("{spent} of {planned} in all"),
    "start": tr_later("Start"),
    "next": tr_later("Next"),
    "finished": tr_later("Done"),
    "pause": tr_later("Pause"),
    "go_on": tr_later("Go on"),
    "elsewhere": tr_later("This stopwatch runs in another window. Go on there, or load this page again to go on here."),
    "older_plan": tr_later("This run goes by the plan it began with. A new run takes the plan that was printed since."),
    "not_kept": tr_later("This browser keeps nothing. Export the file before you close the page."),
    "skipped": tr_later("skipped"),
    "export": tr_later("Export the run of {began}, {long} long"),
}
"""What the stopwatch says on its page alone."""


def stopwatch_page(sheet: Sheet, legs: Sequence[Leg], *, demonstration: Demonstration | None = None) -> str:
    """The stopwatch as a page for a tablet: kept in the browser until it is exported.

    Args:
        sheet: The project.
        legs: The steps to run over.
        demonstration: The demonstration; None for a dry run of no evening.
    """
    name = demonstration.name if demonstration else ""
    zones = dict.fromkeys((demonstration.zone.key, demonstration.speaker_zone.key)) if demonstration else ()
    data: dict[str, Any] = {
        "title": sheet.title,
        "key": f"handouts-stopwatch-{sheet.name}-{name or 'dry-run'}",
        "project": sheet.name,
        "evening": name,
        "steps": sum(1 for _ in sheet.steps),
        "legs": [
            {"name": leg.name, "shown": leg.shown, "planned": round(leg.planned), "number": leg.number} for leg in legs
        ],
        "ends": round(demonstration.plan.ends.timestamp() * 1000) if demonstration else 0,
        "zones": [[key, _place(key)] for key in zones],
        "longest": LONGEST_NOTE,
        "near": ON_TIME,
        "counted": STEPS,
        "kinds": KINDS,
        "replaced": REPLACED,
        "words": {name: tr(said) for name, said in {**WATCH_WORDS, **_PAGE_WORDS}.items()},
        "shown": {shown: tr(manner) for shown, manner in STEP_MANNER.items()},
    }
    # Inside a script element only "</" and "<!" could be taken for markup.
    text = json.dumps(data, ensure_ascii=False).replace("<", "\\u003c")
    return _page(
        "stopwatch.html.j2",
        style="evening.css",
        script="stopwatch.js",
        title=sheet.title,
        project=sheet.name,
        longest=LONGEST_NOTE,
        data=text,
    )


def _place(zone: str) -> str:
    """The place a time zone is named by."""
    return zone.rpartition("/")[2].replace("_", " ")


def _page(template: str, *, style: str, script: str = "", **values: Any) -> str:
    """A page with its style and script inside, both named in its policy by their hashes."""
    from markupsafe import Markup

    css, js = _faces() + _asset(style), published_script(_asset(script)) if script else ""
    scripts = f"'{_hash(js)}'" if js else "'none'"
    policy = (
        f"default-src 'none'; script-src {scripts}; style-src '{_hash(css)}'; img-src data:; font-src data:; "
        "base-uri 'none'; form-action 'none'"
    )
    text: str = (
        _templates()
        .get_template(template)
        .render(
            policy=policy,
            css=Markup(css),
            js=Markup(js),
            **{key: Markup(value) if key == "data" else value for key, value in values.items()},
        )
    )
    return text


@cache
def _faces() -> str:
    """The site's lettering inside the page: of each face the signs that nearly every page has, 40 kB together."""
    made = []
    for family, weight, file in (
        ("Sans", 400, "sans-regular"),
        ("Sans", 700, "sans-bold"),
        ("Serif", 700, "serif-bold"),
    ):
        face = (resources.files("handouts_build") / "fonts" / f"handouts-{file}.woff2").read_bytes()
        source = f'url("data:font/woff2;base64,{base64.b64encode(face).decode()}") format("woff2")'
        made.append(f'@font-face {{ font-family: "Handouts {family}"; font-weight: {weight}; src: {source}; }}\n')
    return "".join(made)


def _asset(name: str) -> str:
    return (resources.files(__package__) / "templates" / name).read_text(encoding="utf-8")


def _hash(text: str) -> str:
    return f"sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}"


@cache
def _templates() -> Any:
    import jinja2

    found = jinja2.Environment(
        loader=jinja2.PackageLoader("handouts_build.outputs.evening"),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    found.globals.update(tr=said, tr_about=said_about, tr_count=said_of, spoken=spoken)
    found.filters["b64"] = lambda content: base64.b64encode(
        content.encode() if isinstance(content, str) else content
    ).decode()
    return found
