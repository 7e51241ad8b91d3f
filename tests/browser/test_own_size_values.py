"""The page's arithmetic beside the library's: the same values, fractions, rounding, words and complaints."""

from __future__ import annotations

import json
import os
import random
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from handouts_build.outputs.pages.own_size import own_size
from handouts_build.quantities import QuantityFault, kind_of, read_quantity
from handouts_build.quantities.lengths import VULGAR
from tests.browser.own_size_cases import PROJECTS, Case, Piece, expected
from tests.browser.scripts import CONSTANTS, scripted

EVALUATIONS = int(os.environ.get("HANDOUTS_EVALUATIONS", "4000"))
"""Worked dimensions to compare in all; CI asks for 20,000."""

CLOSE = 1e-11
"""Share by which values may differ: arcsines differ in the last digit, and the wood under a flat arc feels it."""

RUN = """([data, cases]) => cases.map(([sizes, rule]) => {
  const api = window.handoutsOwnSize.arithmetic(data.constants), chosen = {};
  for (const one of data.sizes) chosen[one.name] = one.value;
  const worked = api.work(data, Object.assign(chosen, sizes), rule);
  const has = (name) => worked.values.has(name), print = (name) => api.said(worked.prints.get(name));
  const rows = {}, given = {}, own = {};
  for (const name of worked.rows.keys()) {
    const how = api.working(worked, name, rule), printed = worked.prints.get(name);
    rows[name] = [worked.values.get(name), printed.lead, printed.other, how.numbers, how.result, how.rounding];
  }
  const stations = {};
  for (const piece of data.pieces) {
    const at = (name) => worked.values.get(name);
    if (piece.stations) stations[piece.name] = piece.stations.map(([, x, across]) => [at(x), at(across)]);
    else for (const one of piece.givens || []) if (has(one.name)) given[one.name] = print(one.name);
  }
  for (const one of data.sizes) if (has(one.name)) own[one.name] = print(one.name);
  return {
    rows, given, stations, sizes: own, stale: Array.from(worked.stale), unjudged: worked.unjudged,
    blanks: worked.blanks.map((blank) => blank.map((side) => side && api.said(side.printed))),
    cautions: worked.cautions.map((one) => one.about),
    findings: worked.findings.map((one) => [one.level, one.about, one.message, one.remedy]),
    problems: worked.problems.map((one) => [one.message, one.hint]),
  };
})"""


@pytest.fixture(scope="module")
def arithmetic(browser: Browser) -> Iterator[Page]:
    """An empty page with the scripts that work things out."""
    page = scripted(browser)
    yield page
    page.close()


def _cases(piece: Piece) -> list[Case]:
    """As many cases as give this project's share of the evaluations."""
    dimensions = sum(1 for _ in piece.sheet().dimensions)
    # A third over, because some cases have problems.
    return list(piece.cases(1 + EVALUATIONS * 4 // 3 // len(PROJECTS) // dimensions, seed=6))


def _compare(case: Case, theirs: dict[str, Any], ours: dict[str, Any], *, boxes: set[str], stacked: bool) -> int:
    """How many dimensions were compared; fails where anything differs.

    Args:
        case: The sizes.
        theirs: The library's.
        ours: The page's.
        boxes: Those that stand on the page already.
        stacked: Whether it has a glued-up stack, whose rings follow from a drawn profile.
    """
    if "problems" in theirs:
        assert sorted({tuple(one) for one in ours["problems"]}) == sorted(set(theirs["problems"])), case
        return 0
    assert ours["problems"] == [], case
    assert ours["sizes"] == theirs["sizes"], case
    stale = {name.removesuffix(".published") for name in ours["stale"]}
    assert not stale or stacked, case
    assert stacked or ours["unjudged"] == [], case
    assert ours["rows"].keys() == theirs["rows"].keys(), case
    for name, (value, *texts) in theirs["rows"].items():
        if name in stale:
            # What follows from a profile course by course is marked as published.
            continue
        found, *shown = ours["rows"][name]
        assert found == pytest.approx(value, rel=CLOSE, abs=1e-15), (name, case)
        assert shown == texts, (name, case)
    for name, told in theirs["stations"].items():
        # Places that print alike are told once; each that is told is one of the page's.
        for place in told:
            alike = [one for one in ours["stations"][name] if one == pytest.approx(place, rel=CLOSE, abs=1e-12)]
            assert alike, (name, place, case)
    assert ours["blanks"] == theirs["blanks"], case
    given = {name: told for name, told in ours["given"].items() if name.removesuffix(".published") not in stale}
    assert given == {name: theirs["given"][name] for name in given}, case
    assert stacked or given == theirs["given"], case
    assert sorted(ours["findings"]) == theirs["findings"], case
    # A safety box that stands on the page stays, whether or not it is still called for.
    assert sorted(ours["cautions"]) == sorted(theirs["boxes"] - boxes), case
    return len(theirs["rows"].keys() - stale)


def test_every_project_comes_out_as_the_library_has_it_at_any_size_unit_and_rule(arithmetic: Page) -> None:
    """Value, printed forms, working, rounding, findings and problems, by at least so many evaluations."""
    compared, called_for = 0, set()
    for path in PROJECTS:
        piece = Piece(path)
        sheet, cases = piece.sheet(), _cases(piece)
        boxes = {box.title for step in sheet.steps for box in step.boxes}
        stacked = any(group.stack is not None for group in sheet.groups)
        found = arithmetic.evaluate(RUN, [json.loads(own_size(sheet)), [[one.sizes, one.rule] for one in cases]])
        for case, ours in zip(cases, found, strict=True):
            compared += _compare(case, expected(piece, case), ours, boxes=boxes, stacked=stacked)
            called_for.update(ours["cautions"])
    assert compared >= EVALUATIONS
    assert called_for


def test_the_written_sizes_are_the_sheet_itself(arithmetic: Page) -> None:
    for path in PROJECTS:
        sheet = Piece(path).sheet()
        data = json.loads(own_size(sheet))
        (found,) = arithmetic.evaluate(RUN, [data, [[{}, data["rule"]]]])
        assert found["stale"] == []
        assert {name: row[1] for name, row in found["rows"].items()} == {
            one.name: one.printed.lead for one in sheet.dimensions
        }


READ = """([texts, constants]) => texts.map((text) => {
  try { const found = window.handoutsOwnSize.arithmetic(constants).read(text); return [found.value, found.kind]; }
  catch (error) { if (error instanceof Error) throw error; return [error.message, error.hint]; }
})"""

WRITTEN = [
    "2 1/4 in", "2¼ in", "2.25in", '3/8"', "3/8″", "57 mm", "5.7 cm", "1 m", "22.5 deg", "22.5°", "6", "-3 in",
    "−1/2 in", "2-1/4 in", "1//2", "1/0 in", "0 in", "1 1/2/3 in", "25,4 mm", "1e3 mm", "0x10", "Infinity", "NaN",
    "1/2/3", "", " ", ".5 in", "5. in", "½", "1 ½ in", "2 inches", "3 millimetres", "4 mins", "12 ' in", "9" * 41,
    "9" * 40, "12" * 15 + " in", "0.1 in", "0.3 mm", "1/3 in", "1/7 in", "123456789.987654321 mm",
    "99999999999999999999/7 in", "0." + "0" * 30 + "1 in", "=1+1", "alert(1)", "<img src=x onerror=alert(1)>",
    "javascript:alert(1)", "2 1/4 in; 3", "sqrt(2) in", "1 in\n2 in", "constructor", "2 __proto__", "1 lb", "3 oz",
    "250 g", "90 s", "1.5 h", "1200 rpm", "2\u00a01/4\u00a0in", "1/49 in", "16777217/16777216 in", "7 17/64 in",
]  # fmt: skip


def _made_up(how_many: int) -> Iterator[str]:
    dice = random.Random(6)
    signs = [
        "1",
        "2",
        "7",
        "10",
        "1/2",
        "3/8",
        " ",
        "/",
        ".",
        "-",
        ",",
        "in",
        "mm",
        "cm",
        '"',
        "deg",
        "½",
        "⅞",
        "e",
        "\u00a0",
        "m",
    ]
    for _ in range(how_many):
        yield "".join(dice.choice(signs) for _ in range(dice.randint(1, 7)))


def test_what_is_typed_is_read_as_on_the_command_line_to_the_last_bit_and_word(arithmetic: Page) -> None:
    texts = [*WRITTEN, *_made_up(3000)]
    texts += [f"2{sign} in" for sign in VULGAR]
    for text, found in zip(texts, arithmetic.evaluate(READ, [texts, CONSTANTS]), strict=True):
        assert [float(one) if isinstance(one, int) else one for one in found] == _read(text), text


def _read(text: str) -> list[Any]:
    """What the command line makes of a text: value and kind, or message and hint."""
    try:
        value = read_quantity(text)
    except QuantityFault as fault:
        return [fault.message, fault.hint]
    kind = kind_of(value)
    return [float(value.magnitude), kind.value if kind else ""]
