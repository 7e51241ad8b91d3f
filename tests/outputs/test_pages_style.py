"""The style sheet: contrast by the WCAG formula, own fonts, and nothing fetched from elsewhere."""

from __future__ import annotations

import re

import pytest
from fontTools.ttLib import TTFont

from handouts_build.outputs.pages.assets import STYLE, assets
from tests.page_faces import FACES, FIRST, FONTS, ranges

CSS = next(one.read() for one in assets() if one.path == STYLE)
TEXT = CSS.decode()


def luminance(color: str) -> float:
    """Relative luminance, WCAG 2.2, definition of 'relative luminance'."""
    channels = [int(color[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (one / 12.92 if one <= 0.04045 else ((one + 0.055) / 1.055) ** 2.4 for one in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio, WCAG 2.2, definition of 'contrast ratio'."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def colors(scheme: str) -> dict[str, str]:
    """The colors of a scheme, by name: each stands once, with a value for a light page and one for a dark."""
    block = re.search(r"body \{([^}]*--hb-page: var[^}]*)\}", TEXT)
    assert block is not None
    return dict(re.findall(rf"--hb-([\w-]+):[^;]*var\(--hb-{scheme}, (#[0-9a-f]{{6}})\)", block[1]))


def test_the_formula_gives_the_known_ratios() -> None:
    # Black on white is 21:1 by the definition. #767676 is the lightest gray of 4.5:1 on white, a
    # much-published example (from memory of WebAIM's article on contrast): 4.54.
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("ground", ["page", "paper"])
@pytest.mark.parametrize("ink", ["ink", "faint", "accent", "care"])
def test_text_on_its_ground_has_a_contrast_of_four_and_a_half(scheme: str, ground: str, ink: str) -> None:
    """WCAG 2.2, success criterion 1.4.3, level AA."""
    found = colors(scheme)
    assert contrast(found[ink], found[ground]) >= 4.5


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_lettering_on_wood_and_on_the_accent_can_be_read(scheme: str) -> None:
    """WCAG 2.2, success criterion 1.4.3, level AA."""
    found = colors(scheme)
    assert contrast(found["ink"], found["wood"]) >= 4.5
    assert contrast(found["on-accent"], found["accent"]) >= 4.5


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_lines_that_carry_meaning_stand_out_from_what_is_beside_them(scheme: str) -> None:
    """WCAG 2.2, success criterion 1.4.11, level AA: 3:1 for what is needed to understand a graphic."""
    found = colors(scheme)
    for line in ("care", "accent"):
        assert contrast(found[line], found["page"]) >= 3
        assert contrast(found[line], found["wood"]) >= 3


def test_both_schemes_name_the_same_colors() -> None:
    assert colors("light").keys() == colors("dark").keys() != set()


def test_each_face_is_cut_in_two_as_the_style_sheet_tells_it() -> None:
    """What the first part has, the other has not: a page of usual signs never fetches it."""
    faces = re.findall(r"@font-face \{[^}]*?fonts/(handouts-[a-z-]+)\.woff2[^}]*?unicode-range: ([^;]+);", TEXT)
    assert sorted(name for name, _ in faces) == sorted(f"{face}{part}" for face in FACES for part in ("", "-more"))

    def signs(told: str) -> set[int]:
        spans = (span.removeprefix("U+").split("-") for span in told.split(", "))
        return {sign for span in spans for sign in range(int(span[0], 16), int(span[-1], 16) + 1)}

    for name, told in faces:
        if name.endswith("-more"):
            assert not signs(told) & FIRST
        else:
            assert told == ranges(FIRST)
            assert set(TTFont(FONTS / f"{name}.ttf").getBestCmap()) >= FIRST, name


def test_only_files_of_our_own_are_named() -> None:
    named = re.findall(r"url\(\"?([^\")]+)", TEXT)
    paths = {one.path for one in assets()}
    assert len(named) == 8
    for one in named:
        assert one.replace("../", "assets/handouts/") in paths
    assert "@import" not in TEXT


def test_every_shared_file_is_free_of_other_hosts() -> None:
    for one in assets():
        if not one.path.endswith(".woff2"):
            text = one.read().decode()
            assert re.findall(r"https?://(?!www\.w3\.org/2000/svg)", text) == []


def test_the_style_sheets_and_scripts_know_no_theme() -> None:
    """Names of Material's begin with `md-`; they are the plugin's to know."""
    for one in assets():
        if not one.path.endswith(".woff2"):
            text = one.read().decode()
            assert re.findall(r"\bmd-[\w-]+|__md_\w+|iframe-worker", text) == [], one.path
