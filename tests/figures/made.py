"""Groups made for the drawings' tests, worked by the trade's own chapters, and how to read a drawing back."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from xml.etree import ElementTree

from PIL import ImageFont

from handouts_build.quantities import Manner, Quantity, Rule, exact, inches, print_as, print_quantity, quantity
from handouts_build.sheet import Dimension, Given, Group, Segment, Shape, Sheet, Station, Working
from handouts_build.trade import CHAPTERS
from handouts_build.trade.elements import (
    BeadElement,
    CoveElement,
    CylinderElement,
    Element,
    OgeeElement,
    RoundElement,
    TaperElement,
)
from handouts_build.trade.outlines import Profile as Outline
from handouts_build.trade.profiles import outline

FONT = Path(__file__).parents[2] / "handouts_build" / "fonts" / "handouts-sans-regular.ttf"
RULE = Rule()
METRIC = Rule(lead="mm")


def chapter(name: str, kind: str, rule: Rule = RULE, **given: Quantity) -> Group:
    """A group of one chapter. What it finds grave is kept: it must be drawn all the same."""
    told = CHAPTERS[kind]
    known = told.work(**given, rule=quantity(float(rule.inch), "in"))
    return Group(
        name=name,
        title=f"Title of {name}",
        chapter=kind,
        about=told.about,
        givens=tuple(
            Given(one.name, one.symbol, one.says, known[one.name], print_quantity(known[one.name], rule))
            for one in told.givens
            if one.name in known
        ),
        dimensions=tuple(
            Dimension(
                f"{name}.{law.name}",
                law.says,
                known[law.name],
                print_as(known[law.name], rule, law.manner),
                law.manner,
                law.main,
                Working(law.symbol, law.formula, "", exact(known[law.name], rule.lead), ""),
                [],
            )
            for law in told.workable(frozenset(known))
        ),
    )


def profile(name: str, elements: list[Element], rule: Rule = RULE) -> Group:
    """A group of one profile."""
    drawn = outline(elements)
    known = drawn.known()
    return Group(
        name=name,
        title=f"Title of {name}",
        chapter="profile",
        about="",
        dimensions=tuple(
            Dimension(
                f"{name}.{key}",
                key,
                known[key],
                print_quantity(known[key], rule),
                Manner(),
                True,
                Working(key, "", "", "", ""),
                [],
            )
            for key in ("length", "widest", "neck")
        ),
        shape=Shape(
            tuple(_segments(drawn, rule)),
            drawn.points,
            tuple(
                Station(one.what, one.x, print_quantity(one.x, rule), one.diameter, print_quantity(one.diameter, rule))
                for one in drawn.stations
            ),
        ),
    )


def _segments(drawn: Outline, rule: Rule) -> Iterator[Segment]:
    for segment in drawn.segments:
        start, end = drawn.span(segment)
        yield Segment(segment.kind, segment.name, start, end, print_quantity(end - start, rule))


def finial(scale: float = 1.0) -> list[Element]:
    """Elements of every kind that ends smoothly, for a slim part 3 in long at full size."""

    def of(value: float) -> Quantity:
        return inches(value * scale)

    return [
        CylinderElement(diameter=of(0.75), long=of(0.375), label="tenon", kind="tenon"),
        BeadElement(start=of(0.875), diameter=of(1.0), long=of(0.1875), label="collar"),
        CoveElement(start=of(0.75), diameter=of(0.25), end=of(0.375), long=of(0.625), label="cove"),
        BeadElement(diameter=of(0.5625), long=of(0.25), label="bead"),
        TaperElement(start=of(0.25), to=of(0.1875), long=of(1.0), label="stem"),
        OgeeElement(to=of(0.4375), long=of(0.375), label="swelling"),
        RoundElement(long=of(0.1875), label="tip"),
    ]


def sheet(*groups: Group, rule: Rule = RULE) -> Sheet:
    """A sheet with these groups and nothing else."""
    return Sheet(
        name="made", file="projects/made.yml", title="Made", summary=(), kind="", level="", techniques=(), rule=rule,
        by="", club="", sizes=(), groups=groups, parts=(), supplies=(), pictures=(), findings=(),
    )  # fmt: skip


def lantern() -> tuple[Group, ...]:
    """The groups of a ribbed lantern: every drawing there is, once."""
    ball, bore = inches(2.25), inches(0.75)
    return (
        chapter(
            "octagon", "sphere by facets", diameter=ball, tenon=inches(0.875), tenon_long=inches(0.375),
            parting=inches(0.125),
        ),
        chapter("equator", "divisions", divisions=quantity(12, ""), diameter=ball),
        chapter(
            "drive", "cross holes", holes=quantity(6, ""), bit=inches(0.125), diameter=ball, bore=bore,
            stop_short=inches(0.25), center=inches(0.375),
        ),
        chapter("windows", "cross holes", holes=quantity(6, ""), bit=inches(0.25), diameter=ball, bore=bore),
        chapter(
            "grooves", "cross-axis groove", ribs=quantity(6, ""), diameter=ball, wide=inches(0.5625),
            deep=inches(0.3125), bore=bore,
        ),
        chapter(
            "twist", "spiral", diameter=inches(2), long=inches(6), pitch=inches(4), strands=quantity(2, ""),
            lines=quantity(8, ""),
        ),
        chapter(
            "fluting", "flutes", count=quantity(12, ""), diameter=inches(2), bit=inches(0.375), deep=inches(0.125),
            long=inches(4), turns=quantity(0.25, ""),
        ),
        chapter(
            "faces", "off-axis sections", centers=quantity(3, ""), blank=inches(2.25), offset=inches(5 / 8),
            diameter=inches(2.5),
        ),
        chapter(
            "through", "hollow-form reach", mouth=inches(1.25), inside=inches(3), deep=inches(3.5), bar=inches(0.5),
        ),
        chapter(
            "log", "log layout", diameter=inches(10), long=inches(9), across=inches(7.75), pith_clear=inches(0.5625),
            kerf=inches(0.375), low=inches(1.5), high=inches(4.25), sawn_round=inches(8.5),
        ),
        chapter(
            "screw", "threads", diameter=inches(2), pitch=inches(1 / 16), engaged=inches(3 / 8),
            outside=inches(2.5), inside=inches(1.5),
        ),
        chapter(
            "click", "snap fit", mouth=inches(1.75), stands=quantity(0.2, "mm"), wide=inches(1 / 16),
            outside=inches(2.5),
        ),
        chapter("ring", "rings and staves", pieces=quantity(12, ""), across=inches(6), inside=inches(4)),
        chapter(
            "tapered", "tapered staves", pieces=quantity(10, ""), bottom=inches(7), top=inches(10), high=inches(9),
            thick=inches(0.75), up=inches(0.75), deep=inches(0.25),
        ),
        chapter("collar", "fit", hole=bore, part=inches(1), allowance=inches(1 / 32)),
        chapter(
            "blind", "fit", hole=inches(0.5), part=inches(1), allowance=inches(1 / 64), depth=inches(1),
            wood_length=inches(1.375),
        ),
        profile("drop", finial()),
    )  # fmt: skip


@dataclass(frozen=True)
class Lettering:
    """One piece of text of a drawing and the room it takes, in points, y downward."""

    text: str
    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Lettering) -> bool:
        """Whether the two overlap by more than a hair."""
        across = min(self.right, other.right) - max(self.left, other.left)
        down = min(self.bottom, other.bottom) - max(self.top, other.top)
        return across > 0.1 and down > 0.1


@lru_cache(maxsize=4)
def _font(size: float) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(str(FONT), size * 8)


def letterings(svg: str) -> list[Lettering]:
    """Every text of a drawing with its room."""
    return [lettering(element) for element in ElementTree.fromstring(svg).iter("{http://www.w3.org/2000/svg}text")]


def lettering(element: ElementTree.Element) -> Lettering:
    """A text with its room, measured by Pillow, which had no part in placing it."""
    style = dict(part.strip().split(": ", 1) for part in element.attrib["style"].split(";"))
    assert style["font-family"] == "'Handouts Sans'"
    size = float(style["font-size"].removesuffix("px"))
    text = element.text or ""
    x0, y0, x1, y1 = (each / 8 for each in _font(size).getbbox(text, anchor="ls"))
    wide = _font(size).getlength(text) / 8
    shift = {"start": 0.0, "middle": -wide / 2, "end": -wide}[style["text-anchor"]]
    x, y = float(element.attrib["x"]), float(element.attrib["y"])
    box = (x0 + shift, y0, x1 + shift, y1)
    if "rotate(-90" in element.attrib.get("transform", ""):
        box = (box[1], -box[2], box[3], -box[0])
    return Lettering(text, x + box[0], y + box[1], x + box[2], y + box[3])


def clashes(svg: str) -> list[str]:
    """What is wrong with the lettering: texts that overlap, and texts that leave the paper."""
    texts = letterings(svg)
    wide, high = (float(each) for each in re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', svg).groups())  # type: ignore[union-attr]
    wrong = [
        f"{one.text!r} meets {two.text!r}"
        for index, one in enumerate(texts)
        for two in texts[index + 1 :]
        if one.meets(two)
    ]
    return wrong + [
        f"{one.text!r} leaves the paper"
        for one in texts
        if one.left < 0 or one.top < 0 or one.right > wide or one.bottom > high
    ]
