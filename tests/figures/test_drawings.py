"""What every drawing keeps to: its lettering, its numbers, its bytes, its frame."""

from __future__ import annotations

import hashlib
import io
import itertools
import math
import re
import subprocess
import sys
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import matplotlib as mpl
import pikepdf
import pytest
import typst
from made import FONT, METRIC, RULE, chapter, clashes, finial, lantern, letterings, profile, sheet

from handouts_build.figures import DARK, Figure, draw, themed
from handouts_build.figures.style import Role, lettered
from handouts_build.quantities import Quantity, Rule, inches, quantity
from handouts_build.sheet import Group
from handouts_build.trade.elements import CylinderElement, TaperElement
from tests.effort import LONG

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def figures() -> tuple[Figure, ...]:
    return draw(sheet(*lantern()))


def test_each_chapter_yields_its_drawings(figures: tuple[Figure, ...]) -> None:
    assert [figure.name for figure in figures] == [
        "octagon-octagon", "octagon-facets", "octagon-end", "equator-marks", "drive-section", "windows-section",
        "grooves-equator", "grooves-groove", "twist-grid", "fluting-flutes", "faces-section", "through-bar", "log-end",
        "log-rim", "screw-threads", "click-section", "ring-plan",
        "tapered-stave", "collar-fit", "blind-fit", "drop-profile",
    ]  # fmt: skip
    assert all(figure.name.startswith(f"{figure.group}-") for figure in figures)


def test_the_authors_own_dimensions_yield_no_drawing() -> None:
    assert draw(sheet(Group("", "Own", "", ""))) == ()


def test_every_main_dimension_is_said_in_both_units(figures: tuple[Figure, ...]) -> None:
    for group in lantern():
        alt = " ".join(figure.alt for figure in figures if figure.group == group.name)
        mains = [one for one in group.dimensions if one.main]
        assert mains
        # Words tell which way a small amount goes, so its sign is not repeated.
        missing = [one.name for one in mains if str(one.printed).replace("−", "") not in alt]
        assert missing == []


def test_what_a_drawing_letters_it_also_says(figures: tuple[Figure, ...]) -> None:
    """Every number with a unit in the lettering stands in the text alternative too."""
    for figure in figures:
        said = lettered(figure.alt)
        for one in letterings(figure.svg):
            for number in re.findall(r"[\d.,⁄½¼¾⅛⅜⅝⅞⁰¹²³⁴-⁹₀-₉\u202f]+\u00a0(?:in|mm)", one.text):
                assert number in said, (figure.name, one.text)


def test_a_text_alternative_is_plain_sentences(figures: tuple[Figure, ...]) -> None:
    for figure in figures:
        assert figure.alt.endswith(".")
        assert not re.search(r"(?i)\b(figure|image|drawing) of\b", figure.alt)
        assert "  " not in figure.alt
        assert "\n" not in figure.alt


def test_text_is_text_and_large_enough_to_read(figures: tuple[Figure, ...]) -> None:
    """Lettering is at least 7.5 points at print size, in the bundled face alone."""
    for figure in figures:
        root = ElementTree.fromstring(figure.svg)
        texts = list(root.iter("{http://www.w3.org/2000/svg}text"))
        assert texts
        width = float(root.attrib["viewBox"].split()[2])
        assert width == pytest.approx(figure.width_mm / 25.4 * 72, abs=0.05)
        for text in texts:
            size = re.search(r"font-size: ([\d.]+)px", text.attrib["style"])
            assert size is not None
            assert float(size[1]) >= 7.5


def test_two_drawings_stand_abreast_but_for_profiles(figures: tuple[Figure, ...]) -> None:
    """A4 less margins of 18 mm and an indent of 8 mm leaves 166 mm for two drawings and 4 mm between them."""
    for figure in figures:
        assert figure.width_mm <= (110 if figure.name.endswith("-profile") else 81), figure.name
        assert figure.height_mm <= 100, figure.name


def test_no_lettering_overlaps_in_the_lantern(figures: tuple[Figure, ...]) -> None:
    for figure in figures:
        assert clashes(figure.svg) == [], figure.name


def swept() -> list[tuple[str, Group, Rule]]:
    """Groups at the corners of what may be given, some of which cannot be made."""
    found: list[tuple[str, Group, Rule]] = []

    def add(kind: str, rule: Rule, **given: Quantity | None) -> None:
        told = {name: one for name, one in given.items() if one is not None}
        label = f"{kind} {rule.lead} " + " ".join(f"{name}={one:.4g~}" for name, one in told.items())
        found.append((label, chapter("made", kind, rule, **told), rule))

    for rule, size in itertools.product((RULE, METRIC), (0.3, 2.25, 12.65625)):
        ball = inches(size)
        for tenon in (None, 0.2, 0.41, 1.2):
            held = None if tenon is None else inches(size * tenon)
            add("sphere by facets", rule, diameter=ball, tenon=held, tenon_long=held)
        for count in (2, 3, 4, 7, 12, 25, 49, 60):
            add("divisions", rule, divisions=quantity(count, ""), diameter=ball)
        for count, turns in itertools.product((1, 2, 12, 60), (0, 0.25, 2)):
            add(
                "flutes", rule, count=quantity(count, ""), diameter=ball, bit=ball / 8, deep=ball / 24, long=2 * ball,
                turns=quantity(turns, ""),
            )  # fmt: skip
        for part, depth in itertools.product((0.1, 0.9, 1.6), (None, 0.2, 4)):
            hole = inches(min(size * part * 0.75, size * 0.9))
            deep = None if depth is None or size * depth < 0.1 else inches(size * depth)
            add("fit", rule, hole=hole, part=inches(size * part), allowance=inches(size / 64), depth=deep)
            if deep is not None:
                add("fit", rule, hole=hole, part=inches(size * part), depth=deep, wood_length=deep * 1.3)
        found.append((f"profile {rule.lead} {size}", profile("made", finial(size / 3), rule), rule))
    for rule, count in itertools.product((RULE, METRIC), (2, 3, 4, 7, 12, 60)):
        ball, n = inches(2.25), quantity(count, "")
        wide = 2.25 * 3.14 / count
        for bit, bore in itertools.product((0.3, 0.9), (None, 0.3, 1.8)):
            stops = (None,) if bore is None else (None, inches(0.1))
            for stop in stops:
                add(
                    "cross holes", rule, holes=n, bit=inches(min(2.0, bit * wide)), diameter=ball,
                    bore=None if bore is None else inches(bore), stop_short=stop,
                    from_diameter=None if stop is None else inches(2.0),
                )  # fmt: skip
        if count >= 4 and count % 2 == 0:
            for share, deep, bore in itertools.product((0.3, 1.3), (0.07, 0.9), (None, 0.4, 2.0)):
                hole = None if bore is None else inches(bore)
                add(
                    "cross-axis groove",
                    rule,
                    ribs=n,
                    diameter=ball,
                    wide=inches(min(2.0, share * wide)),
                    deep=inches(deep),
                    bore=hole,
                )
    steps = [
        CylinderElement(diameter=inches(1 + each % 3 / 4), long=inches(0.5), label=f"step {each}") for each in range(40)
    ]
    plate = [
        CylinderElement(diameter=inches(10 - each * 0.3), long=inches(0.1), label=f"ring {each}") for each in range(8)
    ]
    found += [
        ("many steps", profile("made", list(steps)), RULE),
        ("some steps", profile("made", list(steps[:9])), RULE),
        ("a plate", profile("made", list(plate)), RULE),
        ("one disc", profile("made", list(plate[:1])), RULE),
        ("a needle", profile("made", [TaperElement(start=inches(0.1), to=inches(0), long=inches(20))]), RULE),
    ]
    return found


def test_no_lettering_overlaps_whatever_is_given() -> None:
    wrong = []
    for label, group, rule in swept()[:: 1 if LONG else 7]:
        for figure in draw(sheet(group, rule=rule)):
            wrong += [f"{label}: {figure.name}: {clash}" for clash in clashes(figure.svg)]
            assert figure.width_mm <= (112 if figure.name.endswith("-profile") else 90), (label, figure.name)
            assert figure.height_mm <= 100, (label, figure.name)
    assert wrong == []


def test_letters_the_face_lacks_are_left_out_of_a_drawing() -> None:
    group = profile("made", [CylinderElement(diameter=inches(1), long=inches(1), label="漢字")])
    (figure,) = draw(sheet(group))
    assert not any("漢" in one.text for one in letterings(figure.svg))


def test_author_text_is_lettered_as_it_is_written() -> None:
    written = 'a $5$ <b>#101012 id="x" 1.2345'
    group = profile("made", [CylinderElement(diameter=inches(1), long=inches(4), label=written[:16])])
    (figure,) = draw(sheet(group))
    assert written[:16] in [one.text for one in letterings(figure.svg)]
    ElementTree.fromstring(themed(figure.svg))


def test_two_runs_give_the_same_bytes(figures: tuple[Figure, ...]) -> None:
    assert draw(sheet(*lantern())) == figures


def test_another_process_gives_the_same_bytes(figures: tuple[Figure, ...]) -> None:
    code = (
        "import hashlib, sys; sys.path.insert(0, 'tests/figures')\n"
        "from made import lantern, sheet\n"
        "from handouts_build.figures import draw\n"
        "print(hashlib.sha256(repr(draw(sheet(*lantern()))).encode()).hexdigest())"
    )
    env = {"PYTHONPATH": str(ROOT), "PYTHONHASHSEED": "7", "LC_ALL": "C.UTF-8", "MPLBACKEND": "pdf"}
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, env=env, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == hashlib.sha256(repr(figures).encode()).hexdigest()


def test_the_readers_matplotlib_settings_neither_bear_on_a_drawing_nor_change(figures: tuple[Figure, ...]) -> None:
    upset = {
        "svg.fonttype": "path",
        "font.size": 20.0,
        "path.simplify": True,
        "lines.scale_dashes": True,
        "font.family": ["serif"],
    }
    with mpl.rc_context(upset):
        before = dict(mpl.rcParams)
        assert draw(sheet(*lantern())) == figures
        assert dict(mpl.rcParams) == before


def test_matplotlib_waits_until_something_is_drawn() -> None:
    code = "import sys, handouts_build.figures; assert 'matplotlib' not in sys.modules"
    subprocess.run([sys.executable, "-c", code], cwd=ROOT, env={"PYTHONPATH": str(ROOT)}, check=True)


def test_pyplot_is_never_loaded() -> None:
    code = (
        "import sys; sys.path.insert(0, 'tests/figures')\n"
        "from made import lantern, sheet\n"
        "from handouts_build.figures import draw\n"
        "draw(sheet(*lantern())); assert 'matplotlib.pyplot' not in sys.modules"
    )
    subprocess.run([sys.executable, "-c", code], cwd=ROOT, env={"PYTHONPATH": str(ROOT)}, check=True)


def test_a_drawing_carries_no_ids_rules_dates_or_references(figures: tuple[Figure, ...]) -> None:
    """Several drawings in one page cannot clash, and none can ask for anything."""
    for figure in figures:
        assert re.findall(r" id=|url\(|href|<style|<metadata|<!--|<\?xml|<!DOCTYPE|<script", figure.svg) == []


def test_only_role_colors_are_used(figures: tuple[Figure, ...]) -> None:
    roles = {role.value for role in Role}
    for figure in figures:
        assert set(re.findall(r"#[0-9a-fA-F]{3,8}", figure.svg)) <= roles
        # A color that is not written falls back to black, which no page could turn.
        painted = re.findall(r"<(?:path|text)[^>]*>", figure.svg)
        assert all("fill:" in tag for tag in painted)


def test_themed_leaves_every_color_to_the_page(figures: tuple[Figure, ...]) -> None:
    for figure in figures:
        page = themed(figure.svg)
        bare = re.sub(r"var\(--hb-[a-z]+, #[0-9a-f]{6}\)", "", page)
        assert not re.search(r"#[0-9a-fA-F]{3}", bare)
        assert "var(--hb-ink, " in page


def _read_back(data: str) -> list[list[tuple[float, float]]]:
    """The runs of a path of straight lines, told from where the last one ended or not."""
    runs: list[list[tuple[float, float]]] = []
    for command, written in re.findall(r"([A-Za-z])([^A-Za-z]*)", data):
        numbers = [float(number) for number in re.findall(r"-?\d*\.?\d+", written)]
        pairs = list(zip(numbers[::2], numbers[1::2], strict=True))
        if command == "M":
            runs.append(pairs)
        elif command in "lL":
            for x, y in pairs:
                before = runs[-1][-1] if command == "l" else (0.0, 0.0)
                runs[-1].append((before[0] + x, before[1] + y))
        else:
            assert command in "zZ"
            runs[-1].append(runs[-1][0])
    return runs


def _beside(point: tuple[float, float], runs: list[list[tuple[float, float]]]) -> float:
    """How far a point lies from the nearest line, places taken as complex numbers."""
    least = math.inf
    for run in runs:
        for start, stop in pairwise(run):
            a, b, p = complex(*start), complex(*stop), complex(*point)
            share = ((p - a) * (b - a).conjugate()).real / abs(b - a) ** 2 if a != b else 0.0
            least = min(least, abs(p - a - (b - a) * min(1.0, max(0.0, share))))
    return least


def test_themed_draws_the_same_lines_in_fewer_letters(figures: tuple[Figure, ...]) -> None:
    """No place of either lies off the lines of the other by more than a fifth of a point."""
    seen = 0
    for figure in figures:
        before, after = (re.findall(r' d="([^"]*)"', svg) for svg in (figure.svg, themed(figure.svg)))
        assert len("".join(after)) < 0.75 * len("".join(before))
        for old, new in zip(before, after, strict=True):
            if set(old) & set("QC"):
                continue
            there, here = _read_back(old), _read_back(new)
            assert all(_beside(place, here) <= 0.2 for run in there for place in run)
            assert all(_beside(place, there) <= 0.2 for run in here for place in run)
            seen += 1
    assert seen > 20


def test_themed_is_one_block_of_markdown(figures: tuple[Figure, ...]) -> None:
    """CommonMark ends an HTML block of this kind at the first blank line."""
    for figure in figures:
        page = themed(figure.svg)
        assert page.startswith("<svg ")
        assert page.endswith("</svg>")
        assert "" not in [line.strip() for line in page.split("\n")]


def test_themed_is_hidden_from_screen_readers(figures: tuple[Figure, ...]) -> None:
    root = ElementTree.fromstring(themed(figures[0].svg))
    assert root.attrib["aria-hidden"] == "true"
    assert root.attrib["class"] == "hb-figure"
    assert root.find("{http://www.w3.org/2000/svg}title") is None


def _luminance(color: str) -> float:
    parts = [int(color[each : each + 2], 16) / 255 for each in (1, 3, 5)]
    linear = [one / 12.92 if one <= 0.04045 else ((one + 0.055) / 1.055) ** 2.4 for one in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize("colors", [{role.variable: role.value for role in Role}, dict(DARK)], ids=["print", "dark"])
def test_lettering_stands_out_from_its_ground(colors: dict[str, str]) -> None:
    """WCAG 2.2, 1.4.3: 4.5 to 1 for text; 1.4.11: 3 to 1 for lines that carry meaning."""
    light = {name: _luminance(color) for name, color in colors.items()}

    def contrast(one: str, two: str) -> float:
        high, low = sorted((light[one], light[two]), reverse=True)
        return (high + 0.05) / (low + 0.05)

    for ground in ("--hb-paper", "--hb-wood"):
        assert contrast("--hb-ink", ground) >= 4.5
        assert contrast("--hb-faint", ground) >= 4.5
        assert contrast("--hb-accent", ground) >= 3.0


def test_dark_gives_every_role_a_color() -> None:
    assert set(DARK) == {role.variable for role in Role}


def test_drawings_stand_in_a_tagged_paper_with_the_bundled_face_alone(figures: tuple[Figure, ...]) -> None:
    """Typst warns where a face is missing, and ua-1 refuses an image without a text alternative."""
    body = "\n".join(
        f"#image(bytes(sys.inputs.f{each}), alt: sys.inputs.a{each}, width: {figure.width_mm}mm)"
        for each, figure in enumerate(figures)
    )
    inputs = {
        f"{key}{each}": text for each, one in enumerate(figures) for key, text in (("f", one.svg), ("a", one.alt))
    }
    pdf, warnings = typst.compile_with_warnings(
        f'#set document(title: "Drawings")\n#set text(lang: "en", font: "Handouts Sans")\n{body}'.encode(),
        font_paths=[str(FONT.parent)],
        ignore_system_fonts=True,
        sys_inputs=inputs,
        pdf_standards="ua-1",
    )
    assert [str(one) for one in warnings] == []
    faces = set()
    with pikepdf.open(io.BytesIO(pdf)) as paper:
        for one in paper.objects:
            if isinstance(one, pikepdf.Dictionary) and one.get("/Type") == "/Font" and "/BaseFont" in one:
                faces.add(str(one["/BaseFont"]).rpartition("+")[2])
    assert faces
    assert all(face.startswith("HandoutsSans") for face in faces)
