"""Host's lathe, packing list and stock list: what they must hold for an evening to work."""

from __future__ import annotations

import math
from datetime import date, timedelta

import pytest

from handouts_build.evening.folder import beside
from handouts_build.outputs.evening.words import run_sheet_words, stock_words
from handouts_build.sheet import Level
from handouts_build.site.build import read_archive
from tests.evening.conftest import EVENING

NAME = "2026-06-06-saltmarsh"
LONG = EVENING.replace("60 min", "3 h")


def evening(read, extra="", base=LONG):
    return read({NAME: base + extra}).demonstration(NAME)


def packed(shown):
    return {item.what: item for group in shown.packing for item in group.items}


def levels(shown, about):
    return {finding.level: finding.message for finding in shown.findings if finding.about == about}


LATHE = (
    "lathe: {swing: 12 in, between: 20 in, thread: 1 in x 8 TPI, taper: MT2,\n"
    "        speeds: {least: 200 rpm, most: 3000 rpm}}\n"
)


def test_a_lathe_that_takes_everything_is_not_complained_of(read):
    assert not levels(evening(read, LATHE), "The host's lathe")


# The blank is 2 1/4 in square: 3.18 in across its corners, by the theorem of Pythagoras.
@pytest.mark.parametrize(
    ("swing", "level"), [("3 in", Level.STOP), ("3.18 in", Level.STOP), ("3.5 in", Level.MIND), ("8 in", None)]
)
def test_a_blank_wider_across_its_corners_than_the_swing_stops(read, swing, level):
    shown = evening(read, LATHE.replace("12 in", swing))
    assert set(levels(shown, "The host's lathe")) == ({level} if level else set())
    assert shown.stopped == (level is Level.STOP)
    assert math.hypot(2.25, 2.25) > 3.18


def test_blank_and_chuck_must_fit_between_centers(read):
    """The blank of 4 in with the chuck of 4 in needs 8 in; without a chuck 3 in of foot would do."""
    assert not evening(read, LATHE.replace("20 in", "8 in")).stopped
    found = levels(evening(read, LATHE.replace("20 in", "7 3/4 in")), "The host's lathe")
    assert "between centers" in found[Level.STOP]


def test_a_part_that_is_not_turned_there_need_not_fit(read):
    shown = evening(read, LATHE.replace("12 in", "3 in") + "ready made: [Rough it, Shape it, Sand it]\n")
    assert not shown.stopped


def test_a_speed_the_lathe_lacks_is_minded(read):
    shown = evening(read, LATHE.replace("3000 rpm", "1200 rpm"))
    assert "'Shape it' asks for 1,500" in levels(shown, "The host's lathe")[Level.MIND]


@pytest.mark.parametrize(
    ("thread", "what", "minded"),
    [
        ("1 in x 8 TPI", "", False),
        ("M33 x 3.5", "Chuck insert or adapter for a spindle of M33 x 3.5", False),
        ("3/4 in x 16 TPI", "Spindle adapter, 3/4 in x 16 TPI to 1 in x 8 TPI", True),
    ],
)
def test_another_thread_asks_for_what_the_kit_has_or_for_an_adapter(read, thread, what, minded):
    shown = evening(read, LATHE.replace("1 in x 8 TPI", thread))
    found = [one for one in packed(shown) if "spindle" in one.casefold() and "adapter" in one.casefold()]
    assert found == ([what] if what else [])
    assert (Level.MIND in levels(shown, "The host's lathe")) == minded


# A smaller arbor goes into a larger socket with a sleeve; a larger one never into a smaller (the tapers' diameters).
@pytest.mark.parametrize(
    ("taper", "words", "minded"),
    [("MT2", "", False), ("MT1", "on MT1 arbors", False), ("MT3", "sleeves, MT2 to MT3", False), ("MT0", "MT0", True)],
)
def test_another_taper_asks_for_arbors_or_sleeves(read, taper, words, minded):
    shown = evening(read, LATHE.replace("MT2", taper))
    found = [one for one in packed(shown) if "MT" in one]
    assert len(found) == bool(words)
    assert all(words in one for one in found)
    assert (Level.MIND in levels(shown, "The host's lathe")) == minded


def test_the_packing_list_holds_every_tool_of_what_is_turned_and_no_other(read):
    shown = evening(read, "ready made: [Shape it]\n")
    names = {what.casefold() for what in packed(shown)}
    assert "spindle roughing gouge" in names
    assert "spindle gouge" not in names
    assert "abrasives 120 to 320" in names
    titles = {group.title: {item.what for item in group.items} for group in shown.packing}
    assert "Spindle roughing gouge" in titles["Turning tools and hand tools"]
    assert "Drive center and live center" in titles["Holding the work"]
    assert "Face shield" in titles["Protection"]
    assert "Dust mask or respirator" in titles["Protection"]


MORE = (
    ("tools: [abrasives 120 to 320]", "tools: [abrasives 120 to 320, abrasives 180 to 320, abrasives 400, glue]"),
    ("say: Turn it., minutes: 15", "say: Turn it., minutes: 15, tools: [four-jaw chuck, strip, abrasives 320 to 400]"),
    ("say: Oil it.,", "say: Oil it., finish: [oil and varnish blend], adhesive: [wood glue],"),
)


def rewritten(projects, *changes):
    text = (projects / "piece.yml").read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    (projects / "piece.yml").write_text(text, encoding="utf-8")


def test_one_thing_by_two_names_is_packed_once(read, projects):
    """Grits that run on, a glue said twice, a finish and the oil it stands for, a strip and where it comes from."""
    rewritten(projects, *MORE)
    with (projects / "piece.yml").open("a", encoding="utf-8") as file:
        file.write("supplies: [strip from the templates, wood glue, finishing oil, abrasives P80]\n")
    shown = packed(evening(read, "must see: [Turn the foot]\nready made: []\nseats: 1\n"))
    assert [what for what in shown if "brasives" in what] == ["Abrasives P80", "Abrasives 120 to 400"]
    assert [what for what in shown if "glue" in what.casefold()] == ["Wood glue"]
    assert [what for what in shown if "oil" in what.casefold().split()] == ["Finishing oil"]
    assert shown["Finishing oil"].note == "oil and varnish blend, for 2 pieces"
    assert [what for what in shown if "strip" in what.casefold()] == ["Strip from the templates"]
    assert shown["Four-jaw chuck"].note == "with its key"


def test_every_supply_and_every_tool_is_in_some_group(read, projects):
    with (projects / "piece.yml").open("a", encoding="utf-8") as file:
        file.write("supplies: [pencil, center drill, mandrel, brass cup, steel wool, cloth, dust collector]\n")
    shown = packed(evening(read))
    assert {"Pencil", "Center drill", "Mandrel", "Brass cup", "Steel wool", "Cloth", "Dust collector"} <= set(shown)


def test_a_supply_must_do_for_everyone_who_turns_along(read, projects):
    with (projects / "piece.yml").open("a", encoding="utf-8") as file:
        file.write("supplies: [brass cup]\n")
    assert packed(evening(read))["Brass cup"].note == ""
    assert packed(evening(read, "seats: 4\n"))["Brass cup"].note == "for 5 pieces"


def test_jaws_are_packed_by_what_they_hold(read, projects):
    tenon = "cut: [{cylinder: {diameter: ball}}, {tenon: {diameter: stub, long: 3/8 in, end: right}}], "
    rewritten(
        projects,
        ("  ball: {", "  stub: {is: 1 1/2 in, says: Tenon}\n  ball: {"),
        ("{name: Rough it, ", f"{{name: Rough it, {tenon}"),
        ("hold: {by: [chuck]}", "hold: {by: [chuck], on: tenon}"),
    )
    shop = (projects / "shop.yml").read_text(encoding="utf-8")
    jaws = (
        "jaws:\n  - {name: small jaws, closes: {least: 1/2 in, most: 1 in}}\n"
        "  - {name: two-inch jaws, closes: {least: 1 3/8 in, most: 2 1/2 in}}\n"
    )
    (projects / "shop.yml").write_text(shop + jaws, encoding="utf-8")
    shown = packed(evening(read, "ready made: [Rough it]\n"))
    (item,) = [one for what, one in shown.items() if "jaws" in what]
    assert item.what.startswith("Chuck jaws that close on 1\u00a01/2\u00a0in")
    assert item.note == "two-inch jaws"


def test_nobody_prints_for_people_who_are_far_away(read):
    shown = packed(evening(read, "how: by video\nattendees: 40\n"))
    assert "Printed handouts" not in shown
    assert "40 people" in shown["Handout and dimensions sheet, sent to the host"].note
    assert "the host's" not in shown["Face shield"].note


def test_papers_and_protection_follow_the_heads(read):
    shown = packed(evening(read, "attendees: 30\nseats: 4\n"))
    assert shown["Printed handouts"].count == 33
    assert shown["Face shields for the hands-on seats"].count == 4
    assert shown["The body: blank, hands-on seats"].count == 4


def test_every_ready_made_stage_is_packed_once(read):
    shown = evening(read, "ready made: [Rough it]\n")
    pieces = [line.swap for line in shown.plan.lines if line.swap]
    assert pieces == ["The body, finished through step 1"]
    assert packed(shown)[pieces[0]].count == 1


def test_stock_is_one_to_turn_a_spare_the_ready_made_and_the_seats(read):
    shown = evening(read, "ready made: [Rough it]\nseats: 3\n")
    body, foot = shown.stock.lines
    # What is roughed at home is the piece that is turned on.
    assert dict(body.uses) == {"ready-made": 1, "spare": 1, "hands-on seats": 3}
    assert dict(foot.uses) == {"to turn": 1, "spare": 1, "hands-on seats": 3}
    assert body.count == 5
    assert foot.count == 5


def test_a_ready_made_stage_after_live_work_needs_wood_of_its_own(read):
    body = evening(read, "ready made: [Sand it]\n").stock.lines[0]
    assert dict(body.uses) == {"to turn": 1, "ready-made": 1, "spare": 1}


def test_board_feet_are_those_of_the_blanks(read):
    """144 cubic inches to the board foot (its definition); two of 2 1/4 × 2 1/4 × 4 in and two of 1 × 1 × 3 in."""
    stock = evening(read).stock
    assert stock.board_feet == pytest.approx((2 * 2.25**2 * 4 + 2 * 3) / 144)
    assert stock.cubic_metres == pytest.approx((2 * 2.25**2 * 4 + 2 * 3) * 0.0254**3)


def test_weight_is_that_of_the_published_gravity(read):
    """Wood Handbook, eq. 4-14: 1 g/cm³ × specific gravity × 1.12; sugar maple has 0.63 at 12 percent."""
    body = evening(read).stock.lines[0]
    assert body.weight is not None
    grams = 2.25**2 * 4 * 16.387064 * 0.63 * 1.12
    assert body.weight.other == f"{grams:.0f}\u00a0g"


def test_the_cutting_plan_cuts_every_blank_and_costs_its_sticks(read):
    stock = evening(read).stock
    cut = [name for one in stock.cuts for name, _, _ in one.pieces]
    assert sorted(cut) == ["The body"] * 2 + ["The foot"] * 2
    assert stock.cost == 12
    assert not stock.missing


def test_no_stick_long_enough_is_said_and_why(read, projects):
    shop = (projects / "shop.yml").read_text(encoding="utf-8")
    (projects / "shop.yml").write_text(shop.replace("long: 24 in", "long: 4 in"), encoding="utf-8")
    shown = evening(read)
    whys = {part: why for part, _, why in shown.stock.missing}
    assert "long enough" in whys["The body"]
    assert "used up" in whys["The foot"]
    assert any(finding.about == "The wood" for finding in shown.findings)


def test_whoever_turns_along_needs_the_tools_of_every_step(read):
    shown = packed(evening(read, "ready made: [Shape it]\nseats: 2\n"))
    assert "Spindle gouge" in shown
    assert shown["Lathe, tools and rest for each hands-on seat"].count == 2


def test_a_part_that_falls_off_another_needs_no_wood_of_its_own(read, projects):
    text = (projects / "piece.yml").read_text(encoding="utf-8")
    (projects / "piece.yml").write_text(
        text.replace("    says: The foot\n", "    says: The foot\n    falls off: body\n")
    )
    shown = evening(read)
    assert [line.part for line in shown.stock.lines] == ["The body"]
    assert stock_words(shown)["cut_from"] == ["The foot: cut from the body's blank."]


def test_a_square_that_is_gripped_and_a_spigot_along_a_profile_ask_for_jaws(read, projects):
    turn = "- {name: Turn the foot, say: Turn it., minutes: 15,"
    shape = (
        "profiles:\n  shape:\n    says: The shape\n    part: body\n    along:\n"
        "      - tenon: {diameter: ball, long: 1/2 in, says: spigot}\n"
        "      - cylinder: {diameter: ball + 1/8 in, long: 3 in}\n"
    )
    rewritten(
        projects,
        (turn, f"{turn} hold: {{by: [chuck]}},"),
        ("hold: {by: [chuck]}, speed: 1500 rpm", "hold: {by: [chuck], on: spigot}, speed: 1500 rpm"),
        ("parts:\n", f"{shape}parts:\n"),
    )
    names = packed(evening(read)).keys()
    assert any(name.startswith("Chuck jaws that close on a square of 1\xa0in") for name in names)
    assert any(name.startswith("Chuck jaws that close on 2\xa0in") for name in names)


def test_grits_that_are_listed_and_the_range_of_them_are_one_entry(read, projects):
    rewritten(
        projects, ("tools: [abrasives 120 to 320]", 'tools: ["abrasives 120 to 320", "abrasives 120, 180, 240, 320"]')
    )
    found = [what for what in packed(evening(read)) if "brasives" in what]
    assert found == ["Abrasives 120, 180, 240, 320"]


def test_a_spare_has_come_as_far_as_the_first_live_step_needs(read):
    shown = evening(read, "ready made: [Rough it]\n")
    items = packed(shown)
    assert "The body, finished through step 1: spare" in items
    assert "The body: blank, spare" not in items
    assert "The body: blank, spare" in packed(evening(read))


def test_nothing_is_passed_around_by_video(read):
    assert "pass around" in packed(evening(read))["Test piece, finished"].note
    assert "pass around" not in packed(evening(read, "how: by video\n"))["Test piece, finished"].note


def test_hands_on_seats_get_time_or_it_is_said_that_they_have_none(read):
    shown = evening(read, "seats: 2\nhands on: 20 min\nopening: 2 min\nsafety talk: 2 min\n")
    assert [line.minutes for line in shown.plan.lines if line.kind == "hands-on"] == [20]
    assert not any("no time is kept" in finding.message for finding in shown.findings)
    assert any("hands on" in finding.message for finding in evening(read, "seats: 2\n").findings)


def test_what_one_evening_needs_once_is_on_the_first_pieces_list_alone(read, projects):
    text = (projects / "piece.yml").read_text(encoding="utf-8").replace("Test piece", "Other piece")
    (projects / "other.yml").write_text(text, encoding="utf-8")
    folder = projects / "other" / "demonstrations"
    folder.mkdir(parents=True)
    (folder / f"{NAME}.yml").write_text(LONG.replace("19:30", "18:00").replace("3 h", "60 min"), encoding="utf-8")
    read({NAME: LONG})
    here = {records.sheet.name: records for records in read_archive(projects, base=projects.parent).records}
    lists = {name: packed(beside(records.demonstration(NAME), records)) for name, records in here.items()}
    assert "Face shield" in lists["other"]
    assert "Face shield" not in lists["piece"]
    assert any("Face shield" in what and item.note == "once for both pieces" for what, item in lists["piece"].items())
    assert "Run sheet" in lists["piece"]


def test_the_break_is_offered_to_those_who_are_late(read):
    shown = evening(read, "break: 12 min\nbreak after: Turn the foot\n", LONG.replace("3 h", "100 min"))
    check = run_sheet_words(shown)["rows"]
    told = [row["check"] for row in check if row["check"]]
    assert any("leave it out (saves up to 12 min)" in text for text in told)


def test_a_faceplate_comes_with_its_screws(read, projects):
    """Named among the tools or by the hold alone; it is there once."""
    for old, new in (
        ("hold: {by: [chuck]}", "hold: {by: [faceplate]}"),
        ("tools: [spindle", "tools: [Faceplate, spindle"),
    ):
        rewritten(projects, (old, new))
        (plate,) = [item for what, item in packed(evening(read)).items() if "faceplate" in what.casefold()]
        assert plate.note == "with its wood screws and their driver"


def test_a_piece_that_dries_for_months_is_told_with_the_day_it_is_roughed(read, projects):
    """Half a year before it is needed, which is a week before the evening: common practice, no published source."""
    rewritten(projects, ("work: [roughing]", "work: [roughing, drying]"))
    shown = evening(read, "ready made: [Rough it]\n")
    piece = packed(shown)["The body, finished through step 1"]
    assert piece.note.endswith("rough it by 1 December 2025, so that it is dry")
    assert date(2025, 12, 1) + timedelta(days=180 + 7) == date(2026, 6, 6)
    assert date(2025, 12, 1) in {deadline.on.date() for deadline in shown.deadlines}


def test_the_cutting_plan_claims_no_more_than_it_tried(read):
    """Whoever rips a board as well may need less: that is said, and nothing is said of every way there is."""
    told = stock_words(evening(read))["rules"]
    assert "not ripped" in told
    assert "no other way to saw them to length takes less wood" in told
    assert "of all" not in told
