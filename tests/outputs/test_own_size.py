"""What the page works with, as JSON: whole, harmless wherever it stands, and read back to the very same values."""

from __future__ import annotations

import dataclasses
import json
from pathlib import Path
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from handouts_build.outputs.page_content import PageContent
from handouts_build.outputs.pages.own_size import entry, marks, own_size
from handouts_build.outputs.pages.render import project_pages
from handouts_build.quantities import Quantity, degrees, millimetres, quantity, read_quantity
from handouts_build.sheet import Condition, Sheet
from tests.projects import demo_archive, worked
from tests.sample import sample
from tests.strategies import lengths_mm, millimetres_exact, shop_fractions

ROOT = Path(__file__).parents[2]
HOSTILE = "</script><img src=x onerror=alert(1)><!-- &lt; \u2028 {ball} ' \" `"


def hostile() -> Sheet:
    """A sheet whose every word means harm; no project file could hold them, but this output must not rely on that."""
    sheet = sample()
    sizes = tuple(dataclasses.replace(size, says=HOSTILE) for size in sheet.sizes)
    groups = tuple(
        dataclasses.replace(
            group,
            title=HOSTILE,
            dimensions=tuple(dataclasses.replace(one, says=HOSTILE) for one in group.dimensions),
        )
        for group in sheet.groups
    )
    condition = Condition(["<", ["num", 1.0, HOSTILE], ["num", 0.0, "0"]], "stop", HOSTILE, HOSTILE)
    return dataclasses.replace(sheet, title=HOSTILE, sizes=sizes, groups=groups, conditions=(condition,))


def test_nothing_an_author_writes_can_end_the_element_it_stands_in() -> None:
    text = own_size(hostile())
    assert not set("<>&\u2028\u2029\n") & set(text)
    assert json.loads(text)["keep"][0]["message"] == HOSTILE


def test_the_data_is_a_script_that_hands_it_over_and_no_page_holds_it() -> None:
    made = {one.path: one.read().decode() for one in project_pages(PageContent(hostile())) if one.path[-3:] != "png"}
    script = made["projects/lantern/lantern-own-size.js"]
    assert script == f"handoutsOwnSize.receive({own_size(hostile())});\n"
    assert not any("receive(" in text or "<img" in text for path, text in made.items() if path.endswith(".md"))


def _named(data: dict[str, Any]) -> set[str]:
    """Full names of everything that is worked out or fixed."""
    kinds = ("givens", "dimensions", "fits")
    return {one["name"] for piece in data["pieces"] for kind in kinds for one in piece.get(kind, ())}


def test_every_size_dimension_given_and_condition_is_there() -> None:
    for sheet in demo_archive().sheets:
        data = json.loads(own_size(sheet))
        assert {one.name for one in sheet.dimensions} <= _named(data)
        assert {f"{group.name}.{one.name}" for group in sheet.groups for one in group.givens} <= _named(data)
        assert [size["name"] for size in data["sizes"]] == [size.name for size in sheet.sizes]
        assert len(data["keep"]) == len(sheet.conditions)
        assert sum(len(piece.get("conditions", ())) for piece in data["pieces"]) == sum(
            len(group.conditions) + (len(group.follows.checks) if group.follows else 0) for group in sheet.groups
        )
        assert len(data["cautions"]) == len(sheet.cautions)
        assert [one["name"] for one in data["ready"]] == [one.name for one in sheet.ready]


def _names(tree: Any) -> set[str]:
    """Every name in a formula."""
    if not isinstance(tree, list):
        return set()
    return {tree[1]} if tree[0] == "name" else {name for part in tree for name in _names(part)}


def test_every_name_in_a_formula_is_one_that_the_page_knows() -> None:
    for sheet in demo_archive().sheets:
        data = json.loads(own_size(sheet))
        known = {"rule", "pi", *(size["name"] for size in data["sizes"]), *_named(data)}
        used: set[str] = set()
        for piece in (*data["pieces"], {"conditions": [*data["keep"], *data["cautions"]]}, *data["blanks"]):
            for kind in ("givens", "dimensions", "conditions", "sides", "fits"):
                for one in piece.get(kind, ()):
                    used |= _names(one.get("tree"))
        assert used
        assert used <= known


def test_every_row_of_a_profile_speaks_of_what_is_known_before_it() -> None:
    for sheet in demo_archive().sheets:
        data = json.loads(own_size(sheet))
        for piece in data["pieces"]:
            known = {one["name"] for one in piece["givens"]} if "rows" in piece else set()
            for name, number, others in piece.get("rows", ()):
                home = name.rpartition(".")[0]
                asked = _names(data["laws"][number]) - {"pi", "#"}
                assert {others.get(one, f"{home}.{one}") for one in asked} <= known
                known.add(name)
            assert {name for _, *names, _, _ in piece.get("stations", ()) for name in names} <= known


def test_what_a_field_shows_at_first_reads_back_as_the_very_same_size() -> None:
    for value, text in {
        quantity(2.25, "in"): "2 1/4 in",
        quantity(0.78125, "in"): "25/32 in",
        millimetres(57.5): "57.5 mm",
        quantity(6, ""): "6",
        degrees(22.5): "22.5 deg",
    }.items():
        assert entry(value, "in") == text
        assert read_quantity(entry(value, "mm")).magnitude == value.magnitude


def _same(value: Quantity, lead: str) -> bool:
    return bool(read_quantity(entry(value, lead)) == value)


@given(shop_fractions() | millimetres_exact() | lengths_mm(), st.sampled_from(["in", "mm"]))
def test_any_length_reads_back_as_itself_in_either_unit(length: float, lead: str) -> None:
    assert _same(millimetres(float(length)), lead)


def test_the_authors_own_mark_is_always_among_the_rules(tmp_path: Path) -> None:
    sheet = worked(tmp_path, extra="rule: 1/20 in\nmetric rule: 0.2 mm\n")
    assert [str(one) for one in marks(sheet, "in")] == ["1/8", "1/16", "1/20", "1/32", "1/64"]
    assert [str(one) for one in marks(sheet, "mm")] == ["1", "1/2", "1/5", "1/10"]
