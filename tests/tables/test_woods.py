"""The wood table against the Wood Handbook's equations and its own rules."""

from __future__ import annotations

import pytest

from handouts_build.tables import REACTION_WORDS, Published, Standing, Wood, lookup_wood, source, suggest_wood, woods

NUMBERS = (
    "sg_basic",
    "sg_12",
    "shrinkage_radial_pct",
    "shrinkage_tangential_pct",
    "shrinkage_volumetric_pct",
    "c_radial",
    "c_tangential",
    "green_heartwood_mc_pct",
    "green_sapwood_mc_pct",
)

# Woods whose printed coefficients are not their own shrinkage put into the formula: the table prints a group,
# or the fiber saturation point is below 30 % (cautions 4 and 5 of the reference notes).
NOT_BY_FORMULA = {
    "birch, sweet",
    "maple, black",
    "redcedar, western",
    "teak",
    "mahogany, true",
    "oak, white",
    "oak, bur",
    "oak, northern red",
    "hickory, mockernut",
    "hickory, shagbark",
}


def value(wood: Wood, field: str) -> float | None:
    number = getattr(wood, field)
    return None if number is None else number.value


def found(name: str) -> Wood:
    wood = lookup_wood(name)
    assert wood is not None
    return wood


def test_there_are_at_least_sixty_woods_with_a_published_number():
    assert sum(any(getattr(wood, field) is not None for field in NUMBERS) for wood in woods()) >= 60


@pytest.mark.parametrize(
    ("name", "field", "expected"),
    [
        # Wood Handbook (FPL-GTR-190) Table 4-3, percent from green to ovendry.
        ("walnut, black", "shrinkage_radial_pct", 5.5),
        ("walnut, black", "shrinkage_tangential_pct", 7.8),
        ("walnut, black", "shrinkage_volumetric_pct", 12.8),
        ("cherry, black", "shrinkage_tangential_pct", 7.1),
        ("maple, sugar", "shrinkage_tangential_pct", 9.9),
        ("oak, white", "shrinkage_radial_pct", 5.6),
        ("ash, white", "shrinkage_volumetric_pct", 13.3),
        ("sweetgum", "shrinkage_tangential_pct", 10.2),
        ("persimmon, common", "shrinkage_volumetric_pct", 19.1),
        # Table 4-4, imported woods.
        ("purpleheart", "shrinkage_tangential_pct", 6.1),
        ("goncalo alves", "shrinkage_radial_pct", 4.0),
        ("rosewood, Indian", "shrinkage_volumetric_pct", 8.5),
        # Table 13-5, change of size for 1 % of moisture content.
        ("walnut, black", "c_tangential", 0.00274),
        ("cherry, black", "c_radial", 0.00126),
        ("beech, American", "c_tangential", 0.00431),
        # Table 4-1, average moisture content of green wood, percent.
        ("maple, sugar", "green_heartwood_mc_pct", 65),
        ("oak, northern red", "green_heartwood_mc_pct", 80),
        ("aspen, quaking", "green_sapwood_mc_pct", 113),
        # Table 5-5 and the Forest Inventory and Analysis species reference, basic specific gravity.
        ("lignum vitae", "sg_basic", 1.05),
        ("ipe", "sg_basic", 0.92),
        ("balsa", "sg_basic", 0.16),
        ("osage-orange", "sg_basic", 0.76),
        # FPL fact sheet on Juglans nigra; Table 5-3.
        ("walnut, black", "sg_12", 0.55),
        ("locust, black", "sg_12", 0.69),
    ],
)
def test_value_is_the_published_one(name, field, expected):
    assert value(found(name), field) == expected


@pytest.mark.parametrize("direction", ["radial", "tangential"])
def test_coefficients_follow_from_shrinkage_as_the_handbook_has_it(direction):
    """Wood Handbook eq. 13-3: C = S / (3000 - 20 S), to the last printed place."""
    checked = 0
    for wood in woods():
        shrinkage, coefficient = value(wood, f"shrinkage_{direction}_pct"), value(wood, f"c_{direction}")
        if shrinkage is None or coefficient is None or wood.name in NOT_BY_FORMULA:
            continue
        assert coefficient == pytest.approx(shrinkage / (3000 - 20 * shrinkage), abs=0.0000101), wood.name
        checked += 1
    assert checked >= 25


def test_woods_outside_the_formula_say_so_in_their_notes():
    for name in NOT_BY_FORMULA:
        assert found(name).notes


def test_weight_at_12_percent_follows_from_basic_weight_and_shrinkage():
    """Wood Handbook eqs. 4-9 and 4-11: G12 = Gb / (1 - Sv (1 - 12/30) / 100); printed values are rounded averages."""
    checked = 0
    for wood in woods():
        basic, dry, volume = (value(wood, field) for field in ("sg_basic", "sg_12", "shrinkage_volumetric_pct"))
        if basic is None or dry is None or volume is None:
            continue
        assert dry == pytest.approx(basic / (1 - volume * 0.6 / 100), abs=0.035), wood.name
        checked += 1
    assert checked >= 20


def test_wood_shrinks_more_along_the_rings_than_across_them():
    for wood in woods():
        radial, tangential = value(wood, "shrinkage_radial_pct"), value(wood, "shrinkage_tangential_pct")
        if radial is not None and tangential is not None:
            assert radial < tangential, wood.name


def test_volume_shrinks_about_as_much_as_both_directions_together():
    """Printed averages come from different samples: black ash strays furthest, by 2.4 (Wood Handbook Table 4-3)."""
    for wood in woods():
        parts = [value(wood, f"shrinkage_{part}_pct") for part in ("radial", "tangential", "volumetric")]
        if None not in parts:
            radial, tangential, volume = parts
            assert volume == pytest.approx(radial + tangential, abs=2.41), wood.name


def test_green_wood_holds_no_more_water_than_there_is_room_for():
    """Wood Handbook eq. 4-3: at most 100 (1.54 - Gb) / (1.54 Gb) percent."""
    for wood in woods():
        basic = value(wood, "sg_basic")
        for field in ("green_heartwood_mc_pct", "green_sapwood_mc_pct"):
            water = value(wood, field)
            if basic is not None and water is not None:
                assert water <= 100 * (1.54 - basic) / (1.54 * basic), wood.name


def test_every_number_says_its_standing_and_a_known_source():
    for wood in woods():
        for field in NUMBERS:
            number = getattr(wood, field)
            if number is not None:
                assert isinstance(number.standing, Standing)
                assert source(number.source)
                assert number.approximate is (number.source.startswith("WH-"))


def test_a_wood_without_published_numbers_has_none_made_up():
    yew = found("yew")
    assert set(yew.unpublished) == set(NUMBERS)
    assert [row.listed_as for row in yew.reactions] == ["Yew", "Yew"]


@pytest.mark.parametrize("name", ["walnut, black", "black walnut", "Black  Walnut", "WALNUT, BLACK", "American walnut"])
def test_a_wood_is_found_in_either_order_and_any_case(name):
    assert found(name).botanical == "Juglans nigra"


def test_accents_hyphens_and_apostrophes_do_not_hide_a_wood():
    assert lookup_wood("Gonçalo Alves") is lookup_wood("goncalo alves")
    assert lookup_wood("yellow poplar") is lookup_wood("yellow-poplar")
    assert lookup_wood("bois darc") is lookup_wood("osage orange")


def test_an_unknown_name_gets_the_closest_one():
    assert lookup_wood("blak walnut") is None
    assert suggest_wood("blak walnut") == "did you mean 'walnut, black'?"
    assert suggest_wood("oak, whiet") == "did you mean 'oak, white'?"


def test_a_family_name_alone_lists_the_family():
    assert lookup_wood("oak") is None
    assert "'oak, northern red'" in suggest_wood("Oak")
    assert suggest_wood("walnut") == "did you mean 'walnut, black' or 'walnut, European'?"
    assert suggest_wood("cherrywood") == suggest_wood("cherry wood") == suggest_wood("cherry")
    assert suggest_wood("lime") == "did you mean 'lime, European'?"


def test_words_of_a_name_name_the_woods_that_have_them():
    assert suggest_wood("red cedar") == "did you mean 'redcedar, eastern' or 'redcedar, western'?"


def test_nothing_near_gives_no_hint():
    assert suggest_wood("qqq") == ""


@pytest.mark.parametrize(
    ("name", "reaction", "site"),
    [
        # Chart in American Woodturner, June 1990.
        ("walnut, black", "sensitizer", "skin"),
        ("cocobolo", "irritant", "breathing"),
        ("oak, white", "nasal cancer", None),
        ("yew", "direct toxin", "heart"),
        ("iroko", "pneumonitis", "eyes"),
        ("black locust", "nausea", "skin"),
    ],
)
def test_reported_reactions_are_those_of_the_chart(name, reaction, site):
    wood = found(name)
    assert reaction in wood.reaction_words()
    assert site is None or any(site in row.sites for row in wood.reactions)


def test_purpleheart_has_a_row_whose_reaction_the_chart_leaves_blank():
    (row,) = found("purpleheart").reactions
    assert row.reactions == ()
    assert row.sites == ("nausea",)


def test_maple_reactions_count_only_when_it_is_spalted():
    maple = found("hard maple")
    assert maple.reaction_words() == ()
    assert maple.reaction_words(conditions=frozenset({"spalted"})) == ("sensitizer", "pneumonitis")


def test_every_reaction_word_is_met_in_the_table():
    met = {word for wood in woods() for row in wood.reactions for word in row.reactions}
    assert met == set(REACTION_WORDS.values())


def test_names_are_written_as_they_are_said():
    assert found("walnut, black").spoken == "black walnut"
    assert found("sweetgum").spoken == "sweetgum"


def test_a_number_from_nowhere_is_refused():
    with pytest.raises(ValueError, match="no source 'S-NOWHERE'"):
        Published(0.5, standing=Standing.VERIFIED, source="S-NOWHERE")
