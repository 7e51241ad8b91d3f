"""The times on paper add up, and what is not known or cannot be is said: by how much, of what."""

from __future__ import annotations

import re
from datetime import datetime, timedelta

import pytest

from handouts_build.outputs.evening.words import run_sheet_words
from handouts_build.sheet import Level
from tests.evening.conftest import EVENING, PIECE

NAME = "2026-06-06-saltmarsh"
LONG = EVENING.replace("60 min", "3 h")
FULL = "must see: [Rough it, Shape it, Sand it, Turn the foot]\n"


def evening(read, extra="", base=LONG, **runs):
    return read({NAME: base + extra}, runs or None).demonstration(NAME)


def minutes(text):
    return 0 if text == "under 1 min" else int(text.removesuffix(" min"))


def on_the_clock(text):
    return datetime.strptime(text, "%I:%M %p")


@pytest.mark.parametrize("extra", ["", "break: 7 min\n", "ready made: [Rough it]\n", FULL])
def test_printed_minutes_are_the_differences_of_printed_times(read, extra):
    words = run_sheet_words(evening(read, extra))
    ends = [*(row["there"] for row in words["rows"][1:]), words["over"].partition(",")[0]]
    for row, end in zip(words["rows"], ends, strict=True):
        assert on_the_clock(row["there"]) + timedelta(minutes=minutes(row["minutes"])) == on_the_clock(end)


def test_the_expected_end_and_the_minutes_to_spare_are_said(read):
    """Guesses of 10, 20, 10, 15 and 5 minutes: each has a mean of (3/4 + 4 + 3/2) / 6 of it, 62.5 in all."""
    words = run_sheet_words(evening(read))
    assert words["over"] == "8:37 pm, 113 min to spare"
    assert words["ends"] == "10:30 pm"
    assert {"what": "Over by plan", "value": words["over"]} in words["facts"]


def test_an_over_full_evening_is_stopped_and_says_by_how_much_and_why(read):
    """Guesses of 10, 20, 10 and 15 minutes must be seen, 57.3 with their spread; the steps have 40."""
    shown = evening(read, FULL, EVENING.replace("60 min", "45 min"))
    (found,) = [one for one in shown.findings if one.level is Level.STOP]
    assert shown.stopped
    assert "over its slot of 45 min by 22 min" in found.message or "by 23 min" in found.message
    assert "what must be seen takes 57 minutes of the 40 there are" in found.message
    for each in ("'Rough it' 10 min", "'Shape it' 21 min", "'Sand it' 10 min", "'Turn the foot' 16 min"):
        assert each in found.message


def test_no_look_at_the_clock_names_a_time_that_the_plan_is_past(read):
    words = run_sheet_words(evening(read, FULL, EVENING.replace("60 min", "45 min")))
    checks = [row["check"] for row in words["rows"] if row["check"]]
    assert checks
    for check in checks:
        assert "Later than" not in check
        assert re.search(r"By this plan it is then \d+ min late already", check)
    assert "min over the slot" in words["over"]


def test_a_look_at_the_clock_without_a_minute_to_spare_says_so(read):
    """Somewhere between too tight and wide enough the latest time is the planned one, to the minute."""
    found = set()
    for slot in range(60, 76):
        for row in run_sheet_words(evening(read, FULL, EVENING.replace("60 min", f"{slot} min")))["rows"]:
            late = re.search(r"Planned for (\S+ [ap]m)\. Later than (\S+ [ap]m):", row["check"])
            assert late is None or on_the_clock(late[1]) < on_the_clock(late[2])
            found |= {"No time to spare here" in row["check"]}
    assert found == {True, False}


def test_one_minute_is_one_minute(read):
    shown = evening(read, "", EVENING.replace("60 min", "6 min"))
    assert shown.plan.says[0].startswith("Turning everything live takes about 62 minutes, and you have 1 once")


def test_steps_without_minutes_are_said_one_by_one_and_no_chance_is_claimed(read, projects):
    text = re.sub(r"minutes: \d+, show", "show", PIECE)
    (projects / "piece.yml").write_text(text, encoding="utf-8")
    shown = evening(read)
    told = [one.message for one in shown.findings if "says no minutes" in one.message]
    assert told == [
        "'Rough it' says no minutes; assumed: 1 at least; 3 likely; 8 at most",
        "'Shape it' says no minutes; assumed: 1 at least; 3 likely; 8 at most",
    ]
    assert "2 of 5 steps say no minutes" in " ".join(shown.plan.says)
    assert "percent" not in " ".join(shown.plan.says)
    rests = {row["name"]: row["rests"] for row in run_sheet_words(shown)["rows"]}
    assert rests["Rough it"] == "time not known"
    assert rests["Sand it"] == "by guess"


def test_made_up_times_alone_do_not_stop_an_evening(read, projects):
    (projects / "piece.yml").write_text(re.sub(r",\s+minutes: \d+", "", PIECE), encoding="utf-8")
    shown = evening(read, FULL, EVENING.replace("60 min", "10 min"))
    assert not shown.stopped
    assert any("over its slot" in one.message for one in shown.findings)


TRIAL = """\
    runs:
      - began: 2026-05-01 10:00
        finished: true
        times:
          - {step: Rough it, from: "0:00", to: "0:06"}
          - {step: Shape it, from: "0:06", to: "21:00"}
          - {step: Sand it, from: "21:00", to: "61:00"}
"""


def test_a_run_far_from_the_guess_is_named_and_its_count_is_on_the_run_sheet(read):
    """6 seconds for 10 minutes is a trial of the watch; 40 for 10 is far over; 21 for 20 is a run."""
    shown = evening(read, "must see: [Rough it]\n", **{"2026-05-01": TRIAL})
    (found,) = [one.message for one in shown.findings if "far from the guess" in one.message]
    assert found.startswith("the run of 2026-05-01 10:00 ")
    assert "'Rough it' 0:06 against 10:00; 'Sand it' 40:00 against 10:00" in found
    assert "Shape it" not in found
    rests = {row["name"]: row["rests"] for row in run_sheet_words(shown)["rows"]}
    assert rests["Rough it"] == "guess and 1 run"
    assert rests["Turn the foot"] == "by guess"


def test_on_the_day_a_clock_is_changed_its_times_are_told_with_their_offset(read):
    """New York's clock goes from 01:59 back to 01:00 on 2026-11-01 (IANA tz database); London's stays that day."""
    base = EVENING.replace("2026-06-06", "2026-11-01").replace("19:30", "00:45").replace("60 min", "2 h")
    shown = read({"2026-11-01-saltmarsh": base + "speaker zone: Europe/London\n"}).demonstration("2026-11-01-saltmarsh")
    words = run_sheet_words(shown)
    assert words["rows"][0]["there"] == "12:45 am (UTC−04:00)"
    assert words["ends"] == "1:45 am (UTC−05:00) (6:45 am in London)"
    assert "UTC" not in words["rows"][0]["here"]


def test_both_clocks_stand_at_every_time_there_is(read):
    words = run_sheet_words(evening(read, FULL + "speaker zone: Europe/London\narrive: 18:15\ndoors: 19:00\n"))
    told = [words["over"], words["ends"], *(row["check"] for row in words["rows"] if row["check"])]
    told += [fact["value"] for fact in words["facts"] if fact["what"] == "Before"]
    for text in told:
        assert text.count("in London") == len(re.findall(r"\d+:\d\d [ap]m", text)) / 2
    assert "Arrive 6:15 pm (11:15 pm in London)" in told[-1]


def test_the_cue_is_the_authors_or_the_sentence_that_does_most(read, projects):
    path = projects / "piece.yml"
    text = path.read_text(encoding="utf-8")
    said = "The ball comes next in this row. Turn it to {ball} and stop there. Then look."
    path.write_text(
        text.replace("say: Shape it.,", f'say: "{said}",')
        .replace("say: Turn it., minutes: 15", 'say: Turn it., show: {cue: "Hold up the {ball} gauge."}, minutes: 15'),
        encoding="utf-8",
    )  # fmt: skip
    cues = {row["name"]: row["cue"].replace("\xa0", " ") for row in run_sheet_words(evening(read))["rows"]}
    assert cues["Shape it"].startswith("Turn it to 2 in")
    assert "stop there" in cues["Shape it"]
    assert "The ball comes" not in cues["Shape it"]
    assert cues["Turn the foot"].startswith("Hold up the 2 in")


def test_the_page_to_hang_up_has_a_row_for_every_entry_with_its_own_numbers(read):
    words = run_sheet_words(evening(read, "opening: 3 min\nsafety talk: 2 min\n"))
    assert [row["name"] for row in words["overview"]] == [row["name"] for row in words["rows"]]
    assert words["overview"][0]["name"] == "Opening"
    live = next(row for row in words["overview"] if row["name"] == "Rough it")
    assert live["shown"] == "live"
    assert live["camera"] == "front"
    assert live["numbers"].startswith("1,000")


def test_at_a_glance_a_step_has_its_speed_and_three_numbers_and_all_of_them_with_the_step(read, projects):
    piece = projects / "piece.yml"
    text = piece.read_text(encoding="utf-8")
    sizes = "".join(f"  {name}: {{is: {name[-1]} in, says: {name}}}\n" for name in ("of1", "of3", "of5", "of7"))
    text = text.replace("parts:", f"{sizes}parts:", 1)
    said = "Shape it to {of1} and {of3}, then {of5} and {of7}."
    piece.write_text(text.replace("say: Shape it.,", f'say: "{said}",'), encoding="utf-8")
    words = run_sheet_words(evening(read, "speaker zone: Europe/London\n"))
    (glance,) = (row["numbers"] for row in words["overview"] if row["name"] == "Shape it")
    assert glance.replace("\N{NO-BREAK SPACE}", " ").split(" · ") == [
        "1,500 rpm",
        "1 in (25.5 mm)",
        "3 in (76 mm)",
        "5 in (127 mm)",
    ]
    (row,) = (row for row in words["rows"] if row["name"] == "Shape it")
    told = " ".join([row["cue"], *(number["value"] for number in row["numbers"])]).replace("\N{NO-BREAK SPACE}", " ")
    assert all(f"{inches} in (" in told for inches in "1357")
    assert words["places"] == {"there": "New York", "here": "London"}
