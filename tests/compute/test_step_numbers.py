"""The few numbers that a step is turned to."""

import pytest

from handouts_build.compute.step_numbers import MOST
from tests.projects import demo_archive, worked

SIZES = """
ball: {is: 2 in, says: Diameter of the ball}
bore: {is: 3/4 in, says: "Bore, right through"}
deep: {is: 1 in, says: Depth of the bore}
spare: {is: 1/4 in, says: Spare}
far: {is: 3 in, says: Far}
fast: {is: 800 rpm, says: Speed}
"""
PARTS = """
parts:
  body:
    wood: maple, sugar
    blank: {round: 3 in, long: 4 in}
    steps:
      - name: Bore
        hold: {by: [chuck]}
        cut: [{bore: {diameter: bore, end: right, deep: deep}}]
        say: SAY
"""


def _names(tmp_path, say):
    sheet = worked(tmp_path, sizes=SIZES, parts=PARTS.replace("SAY", say))
    (step,) = sheet.steps
    return [number.name for number in step.numbers]


def test_the_numbers_of_a_step_are_those_in_its_words_once_each_in_their_order(tmp_path):
    assert _names(tmp_path, "Bore {deep} deep and {bore} wide, and once more {deep} deep.") == ["deep", "bore"]


def test_a_step_of_more_numbers_than_can_be_read_keeps_those_its_cut_is_set_to(tmp_path):
    say = "From {ball} with {spare} and {far}, and {rule}, bore {bore} wide, {deep} deep."
    assert _names(tmp_path, say) == ["ball", "spare", "bore", "deep"]


def test_a_step_whose_words_say_no_number_has_those_of_its_cut(tmp_path):
    assert _names(tmp_path, "Bore it.") == ["bore", "deep"]
    assert _names(tmp_path, "Bore it with {spare} to spare.") == ["spare", "bore"]


def test_a_speed_is_not_one_of_them(tmp_path):
    assert "fast" not in _names(tmp_path, "At {fast}, bore it.")


def test_a_label_is_what_it_is_in_few_words(tmp_path):
    sheet = worked(tmp_path, sizes=SIZES, parts=PARTS.replace("SAY", "Bore it."))
    (step,) = sheet.steps
    bore, _ = step.numbers
    assert (bore.says, bore.label, bore.printed.lead) == ("Bore, right through", "Bore", "3/4\u00a0in")


@pytest.mark.parametrize("name", ["lantern", "twice-turned-bowl"])
def test_no_step_of_a_demo_piece_has_more_numbers_than_can_be_read(name):
    sheet = next(sheet for sheet in demo_archive().sheets if sheet.name == name)
    assert all(len(step.numbers) <= MOST for step in sheet.steps)
    assert any(step.numbers for step in sheet.steps)


def test_the_depth_of_the_bore_and_the_width_of_the_grooves_are_among_the_lantern_s():
    sheet = next(sheet for sheet in demo_archive().sheets if sheet.name == "lantern")
    found = {step.name: {number.name for number in step.numbers} for step in sheet.steps}
    assert "bore_deep" in found["Bore along the axis"]
    assert "groove_wide" in found["First groove"]


def test_a_bare_count_is_left_out_where_a_step_has_lengths_enough(tmp_path):
    sizes = SIZES + "ribs: {is: 6, says: Ribs}\n"
    sheet = worked(
        tmp_path, sizes=sizes, parts=PARTS.replace("SAY", "Bore {bore} wide, {deep} deep, past {ribs} ribs.")
    )
    (step,) = sheet.steps
    assert [number.name for number in step.numbers] == ["bore", "deep"]


@pytest.mark.parametrize(("name", "label"), [("fluted-drop", "Tip"), ("lidded-box", "Top of the lid")])
def test_a_length_from_end_to_end_says_of_what(name, label):
    """The tip is 1 1/4 in long, and the drop 4 1/8 in: "Length from end to end" was either."""
    (sheet,) = (one for one in demo_archive().sheets if one.name == name)
    labels = [number.label for step in sheet.steps for number in step.numbers if "from end to end" in number.label]
    assert labels == [f"{label}: length from end to end"]
