"""The own-size panel alone, on the page of one small piece: what it says of sizes that cannot be."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from handouts_build.problems import ProjectError
from tests.browser.scripts import scripted
from tests.projects import project, site, worked

SIZES = """
ball: {is: 2 in, least: 1 1/2 in, most: 3 in, says: Ball}
bit: {is: 1/4 in, choices: [1/4 in, 3/8 in], says: Bit}
count: {is: 6, least: 2, says: How many}
long: {is: 4 in, says: Length}
"""


@pytest.fixture
def panel(browser: Browser, tmp_path: Path) -> Iterator[Page]:
    """The panel as it stands in the page, and nothing of the rest."""
    project(tmp_path, sizes=SIZES)
    made = site(tmp_path)
    markdown, script = (made[f"projects/piece/{name}"].decode() for name in ("sizes.md", "piece-own-size.js"))
    form = re.search(r"<div class=\"hb-whose\".*?</form>", markdown, re.DOTALL)
    assert form
    page = scripted(browser, form.group() + "<div data-judged-here></div>", piece_own_size=script)
    yield page
    page.close()


WRONG = [
    ("ball", "1 in", "“Ball” is outside its own bounds: least is 1 1/2 in."),
    ("ball", "77 mm", "“Ball” is outside its own bounds: most is 3 in."),
    ("ball", "0 in", "“Ball” is 0 in (0 mm). A length must be more than nought."),
    ("ball", "-1 in", "“Ball” is −1 in (−25.4 mm). A length must be more than nought."),
    ("ball", "2", "'2' has no unit. Write a length such as 2 1/4 in or 57 mm."),
    ("ball", "3/4", "'3/4' has no unit. Write 3/4 in; a plain number is whole or has a point: 0.75."),
    ("ball", "20 deg", "'20 deg' is not a length. Write a length such as 2 1/4 in or 57 mm."),
    ("ball", "2,5 in", "'2,5 in' is not a number with a unit. Write the decimal with a point: 2.5 in."),
    ("ball", "2 inches", "'2 inches' is not a number with a unit. Write 2 in."),
    ("ball", "2 minutes", "'2 minutes' is not a number with a unit. Write a length such as 2 1/4 in or 57 mm."),
    ("ball", "soon", "'soon' is not a number with a unit. Write a length such as 2 1/4 in or 57 mm."),
    ("ball", "2 x 3 in", ("'2 x 3 in' is not a number with a unit. One number is due here, not two; "
     "a formula multiplies with *, such as 2 * 3 in.")),
    ("ball", "1/0 in", "'1/0' divides by nought. The lower number of a fraction is 2, 4, 8, 16 …."),
    ("ball", "1" * 41, ("This number is 41 characters long; at most 40 are read. "
     "Round it: a millionth of an inch is finer than wood holds.")),
    ("long", "20.5 m", "“Length” is longer than 20 m. Is its unit right?"),
    ("count", "1", "“How many” is outside its own bounds: least is 2."),
    ("count", "0", "“How many” must be more than nought."),
    ("count", "6 in", "'6 in' is not a number. Write a plain number such as 6."),
]  # fmt: skip


@pytest.mark.parametrize(("name", "typed", "said"), WRONG, ids=[f"{name} {typed[:12]}" for name, typed, _ in WRONG])
def test_a_size_that_cannot_be_is_told_in_the_librarys_words(panel: Page, name: str, typed: str, said: str) -> None:
    field = panel.locator(f"#own-{name}")
    field.fill(typed)
    wrong = panel.locator(f"#own-{name}-wrong")
    expect(wrong).to_have_text(said, use_inner_text=False)
    expect(field).to_have_attribute("aria-invalid", "true")
    field.fill({"ball": "2 in", "long": "4 in", "count": "6"}[name])
    expect(wrong).to_have_text("")
    expect(field).to_have_attribute("aria-invalid", "false")


def test_the_command_line_refuses_the_same_size_with_the_same_words(panel: Page, tmp_path: Path) -> None:
    """But for how each calls the size: by its name in the file, or by what the reader sees."""
    panel.locator("#own-ball").fill("1 in")
    expect(panel.locator("#own-ball-wrong")).not_to_be_empty()
    told = panel.locator("#own-ball-wrong").inner_text().replace("\u00a0", " ")
    (tmp_path / "other").mkdir()
    with pytest.raises(ProjectError) as caught:
        worked(tmp_path / "other", sizes=SIZES.replace("is: 2 in", "is: 1 in"))
    (problem,) = caught.value.problems
    assert told == problem.message.replace("'ball'", "“Ball”").replace("\u00a0", " ") + "."


def test_bounds_and_units_follow_the_unit_that_leads(panel: Page) -> None:
    bounds = panel.locator("[data-bounds=ball]")
    assert bounds.inner_text().replace("\u00a0", " ") == "1 1/2 in to 3 in"
    panel.get_by_label("Millimeters").check()
    expect(bounds).to_have_text("38 mm to 76 mm")
    assert panel.locator("[data-bounds=count]").inner_text() == "at least 2"
    panel.locator("#own-bit").select_option(index=1)
    expect(panel.locator("[data-of=bit]")).to_have_text("9.5 mm (3/8 in)")
    panel.get_by_role("button", name="As published").click()
    expect(panel.locator("[data-of=bit]")).to_have_text("6.5 mm (1/4 in)")
    expect(panel.locator("[data-own-state]")).to_have_text("These are the published sizes.")
