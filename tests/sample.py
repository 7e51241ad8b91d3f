"""A sheet made by hand: a ribbed lantern with a turned drop, without the reader or `compute`.

Values come from the trade's chapters; the words are the fixture's own.
"""

# ruff: noqa: E501 - the words of a step stand on one line, as in a script
from __future__ import annotations

import dataclasses
import math
import re

from handouts_build.paper import WORDS
from handouts_build.problems import Place
from handouts_build.quantities import (
    Err,
    Manner,
    Quantity,
    Rule,
    count,
    exact,
    inches,
    print_as,
    print_quantity,
    quantity,
)
from handouts_build.sheet import (
    Blank,
    Citation,
    Dimension,
    Finding,
    Given,
    Group,
    Level,
    Part,
    Remark,
    SafetyBox,
    Segment,
    Shape,
    Sheet,
    Size,
    Station,
    Step,
    StepNumber,
    TextRun,
    Working,
)
from handouts_build.trade import CHAPTERS

RULE = Rule()

SOURCES = {
    "octagon": Citation("octagon", "Regular octagon: side = D(√2 - 1), from plane geometry", "derived"),
    "regular-polygon": Citation("regular-polygon", "Regular polygon about a circle: side = D tan(180°/n)", "derived"),
}


def source(name: str) -> Citation:
    """The source of that id, or common practice."""
    return SOURCES.get(name, Citation("common-practice", "Common practice, no published source", "common practice"))


def chapter_group(name: str, title: str, chapter: str, rule: Rule = RULE, **given: Quantity) -> Group:
    """A group worked from a chapter of the trade."""
    told = CHAPTERS[chapter]
    known = told.work(**given, **({"rule": quantity(float(rule.inch), "in")} if chapter == "divisions" else {}))
    laws = tuple(told.workable(frozenset(known)))

    def numbers(formula: str) -> str:
        return re.sub(
            r"[a-z_]+\d*(?:_\d+)?", lambda m: exact(known[m[0]], rule.lead) if m[0] in known else m[0], formula
        )

    def symbols(formula: str) -> str:
        letters = {one.name: one.symbol for one in (*told.givens, *laws)}
        return re.sub(r"[a-z_]+\d*(?:_\d+)?", lambda m: letters.get(m[0], m[0]), formula)

    return Group(
        name=name,
        title=title,
        chapter=chapter,
        about=told.about,
        givens=tuple(
            Given(one.name, one.symbol, one.says, known[one.name], print_quantity(known[one.name], rule))
            for one in told.givens
            if one.name in known
        ),
        dimensions=tuple(
            Dimension(
                f"{name}.{law.name}", law.says, known[law.name],
                printed := print_as(known[law.name], rule, law.manner), law.manner, law.main,
                Working(
                    law.symbol, symbols(law.formula), numbers(law.formula), exact(known[law.name], rule.lead),
                    f"rounded to {printed.lead}" if str(printed.lead) != exact(known[law.name], rule.lead) else "", source(law.source),
                ),
                [],
            )
            for law in laws
        ),
    )  # fmt: skip


def profile_group(length: Quantity | None = None, *, rule: Rule = RULE) -> Group:
    """The drop: a bead, a long taper and a round end, as a profile along the axis."""
    total = float((length or inches(4.5)).m_as("mm"))
    tenon, neck, swell = 19.05 - 0.4, 6.35, 16.0
    points: list[tuple[float, float]] = [(0.0, tenon / 2), (0.08 * total, tenon / 2), (0.08 * total, neck / 2)]
    points += [
        (total * (0.08 + 0.92 * t), neck / 2 + (swell - neck) / 2 * math.sin(math.pi * min(1.0, t * 1.05)) ** 2)
        for t in (each / 60 for each in range(1, 60))
    ]
    points.append((total, 1.5))
    stations = tuple(
        Station(what, quantity(at * total, "mm"), print_quantity(quantity(at * total, "mm"), rule), quantity(wide, "mm"),
                print_quantity(quantity(wide, "mm"), rule))
        for what, at, wide in (
            ("tenon", 0.0, tenon), ("shoulder", 0.08, tenon), ("neck", 0.08, neck), ("swell", 0.54, swell), ("tip", 1.0, 3.0),
        )
    )  # fmt: skip
    return Group(
        "drop", "Drop", "profile", "The outline of the drop.",
        shape=Shape((Segment("cylinder", "tenon", quantity(0, "mm"), quantity(0.08 * total, "mm"), print_quantity(quantity(0.08 * total, "mm"), rule)),), tuple(points), stations), part="drop",
    )  # fmt: skip


def words(text: str) -> tuple[tuple[TextRun, ...], ...]:
    """One paragraph; text between braces is a value put in."""
    parts = re.split(r"[{}]", text)
    return (
        (tuple(TextRun(part, "value" if each % 2 else "plain") for each, part in enumerate(parts) if part),)
        if text
        else ()
    )


def box(name: str, signal: str, title: str, hurts: str, *do: str) -> SafetyBox:
    """A safety box on nobody's word in particular."""
    return SafetyBox(name, signal, title, hurts, do, source("common-practice"))


TAIL = box(
    "tail",
    "warning",
    "Keep the tail center tight",
    "Work that loosens is thrown.",
    "Lock the tailstock.",
    "Tighten again when the points have bedded in.",
)
SKEW = box("skew", "caution", "Skew chisel", "The long point digs in.", "Cut with the middle of the edge.")
SHIELD = box("shield", "danger", "Face shield", "Flying wood blinds.", "Wear a face shield over safety spectacles.")


def step(
    number: int,
    name: str,
    part: str,
    say: str,
    *,
    care: str = "",
    hold: str = "",
    tools: tuple[str, ...] = (),
    minutes: float = 4,
    speed: str = "",
    figures: tuple[str, ...] = (),
    show: str = "live",
) -> Step:
    """A step with the usual blanks filled in."""
    return Step(
        number, name, part, words(say), words(care), hold, tools, quantity(minutes, "min"), speed, show, "", figures
    )


def sample(rule: Rule = RULE) -> Sheet:
    """The lantern: ball 2 1/4 in, 6 ribs, bore 3/4 in, with a turned drop."""
    ball, ribs, bore = inches(2.25), count(6), inches(0.75)

    def show(value: Quantity, err: Err = Err.NEAREST) -> str:
        return str(print_quantity(value, rule, err=err))

    octagon = chapter_group(
        "octagon",
        "Ball",
        "sphere by facets",
        rule,
        diameter=ball,
        tenon=inches(0.75),
        tenon_long=inches(0.5),
        parting=inches(0.25),
    )
    octagon = dataclasses.replace(
        octagon,
        remarks=(
            Remark(
                "The quarter mark leaves a little wood standing, so the ball is not cut into.",
                source("regular-polygon"),
            ),
        ),
    )
    around = chapter_group("around", "Divisions of the equator", "divisions", rule, divisions=ribs, diameter=ball)
    holes = chapter_group(
        "holes", "Drive holes", "cross holes", rule, holes=ribs, bit=inches(0.125), diameter=ball, bore=bore
    )
    groove = chapter_group(
        "groove",
        "Grooves",
        "cross-axis groove",
        rule,
        ribs=ribs,
        diameter=ball,
        wide=inches(0.5),
        deep=inches(0.625),
        bore=bore,
    )
    fit = chapter_group("fit", "Drop in the bore", "fit", rule, hole=bore, part=inches(1.0))
    own = Group(
        "", "Own dimensions", "", "",
        dimensions=(
            Dimension("collar", "Width of the flat left around the bore", inches(0.09375), print_quantity(inches(0.09375), rule, err=Err.UNDER),
                      Manner(Err.UNDER), True, Working("collar", "(octagon.side - bore) / 2", "(0.932 in - 3/4 in) / 2", "0.091 in", "", None), []),
        ),
    )  # fmt: skip
    setback, side = octagon.printed["setback"], octagon.printed["side"]
    lantern = (
        step(1, "Turn the cylinder", "lantern",
             f"Mount the blank between centers and turn it to {{{show(ball)}}}. Check it with calipers in three places; the cylinder must be true, for every later mark hangs on it.",
             hold="between centers", tools=("spindle roughing gouge", "skew chisel", "calipers"), minutes=5, speed="1,200 to 1,600 rpm",
             care="Turn the blank by hand through one full turn before you switch on. Stand out of the line of the blank until it runs smoothly."),
        step(2, "Mark the octagon", "lantern",
             f"Mark both ends of the ball, {{{show(ball)}}} apart. Mark the corners {{{setback}}} in from each end, and draw a circle {{{side}}} across on the end grain.",
             hold="between centers", tools=("pencil", "dividers", "octagon gauge"), figures=("octagon",)),
        step(3, "Cut the corners", "lantern",
             "Cut a straight facet from each corner line to the circle on the end. Stop on the pencil lines. Halve each flat, and halve again, for the marks of the sixteen.",
             hold="between centers", tools=("spindle gouge",), minutes=6),
        step(4, "Round the ball", "lantern",
             "Join the facets with the gouge, then bring the ball round with a light shearing cut. Hold a ring against it: light shows where it is high.",
             hold="between centers", tools=("spindle gouge", "ring"), minutes=6),
        step(5, "Drill the bore", "lantern",
             f"Grip the tenon in the chuck and drill {{{show(bore)}}} through the axis from the tailstock, clearing the bit often.",
             hold="chuck on the tenon", tools=("3/4 in Forstner bit", "drill chuck"), speed="500 rpm", minutes=5,
             care="Lower the speed before the bit goes in, and keep a hand on the drill chuck as you draw it out of the bore."),
        step(6, "Mark and drill the drive holes", "lantern",
             "Wrap the paper strip around the equator and prick each mark. Drill a {1/8 in (3 mm)} hole at each, square to the axis, as deep as the bore.",
             hold="chuck on the tenon", tools=("paper strip", "awl", "1/8 in bit"), minutes=6, figures=("around", "holes")),
        step(7, "Cut the grooves", "lantern",
             f"Mount the ball between holes 1 and 4. Turn a groove {{{show(inches(0.625))}}} deep halfway between the marks; repeat on the other pairs.",
             hold="between centers, on holes 1 and 4", tools=("1/4 in spindle gouge", "parting tool"), speed="800 to 1,000 rpm", minutes=12, figures=("groove",),
             care="The ribs cut the air: keep hands and rest clear of the arc they swing through, and stop the lathe to look."),
    )  # fmt: skip
    lantern = (
        dataclasses.replace(
            lantern[0],
            boxes=(TAIL, SKEW),
            new_boxes=frozenset({"tail", "skew"}),
            numbers=(StepNumber("ball", "Diameter of the ball", "Diameter of the ball", print_quantity(ball, rule)),),
        ),
        dataclasses.replace(
            lantern[1],
            boxes=(TAIL,),
            numbers=(
                StepNumber("octagon.setback", "How far in, from each end", "How far in", setback),
                StepNumber(
                    "octagon.diameter", "Diameter of the ball", "Diameter of the ball", octagon.printed["diameter"]
                ),
            ),
        ),
        *lantern[2:],
    )
    drop = (
        step(8, "Turn the tenon of the drop", "drop",
             f"Turn the tenon to {{{fit.printed['tenon']}}} and try it in the lantern's bore.", hold="chuck", tools=("parting tool", "calipers"), figures=("fit",)),
        step(9, "Shape the drop", "drop", "Work from the free end toward the chuck: tip, swell, then the neck last of all. Hold the story stick to the work with the lathe stopped.",
             hold="chuck, tailstock brought up lightly", tools=("spindle gouge", "skew chisel", "story stick"), minutes=8, figures=("drop",)),
        step(10, "Sand, part off and glue", "drop", "Sand through the grits with the tool rest out of the way. Part off, touch the end up by hand, and glue the tenon in the bore.",
             hold="chuck", tools=("abrasive 180 to 400", "parting tool"), minutes=6, show="talk",
             care="Sanding dust harms the lungs: wear a respirator and run extraction. Do not wrap abrasive around your fingers."),
    )  # fmt: skip

    def stock(shape: str, *sides: tuple[str, Quantity]) -> Blank:
        return Blank(shape, tuple((what, value, print_quantity(value, rule, err=Err.OVER)) for what, value in sides))

    return Sheet(
        name="lantern",
        file="projects/lantern.yml",
        title="Ribbed lantern",
        summary=words("An open lantern ornament with six ribs over a slim drop. The ball is made by facets, so that it comes out round without a jig."),
        kind="ornament",
        level="improver",
        techniques=("sphere from a cylinder", "indexing", "cross-axis turning", "slim spindle"),
        rule=rule,
        by="Ada Sample",
        club="Millbrook Turners",
        sizes=(
            Size("ball", "Diameter of the ball", ball, print_quantity(ball, rule), print_quantity(inches(1.5), rule), print_quantity(inches(3), rule)),
            Size("ribs", "Number of ribs", ribs, print_quantity(ribs, rule), choices=("6", "8")),
            Size("bore", "Hole through the axis", bore, print_quantity(bore, rule)),
        ),
        groups=(own, octagon, around, holes, groove, fit, profile_group(rule=rule)),
        parts=(
            Part("lantern", "Lantern", "walnut, black", "along the axis", stock("round", ("diameter", inches(2.5)), ("length", inches(3))), lantern),
            Part("drop", "Drop", "maple, hard", "along the axis", stock("square", ("width", inches(1)), ("length", inches(6))), drop),
        ),
        supplies=("wood glue", "friction polish", "hanging cord"),
        pictures=(),
        findings=(
            Finding(Level.MIND, "Grooves", "the wood left over the bore is thin, 1/8 in (3.2 mm)", "take the last cuts lightly", Place("projects/lantern.yml", 40, 5, "groove")),
            Finding(Level.NOTE, "Drop in the bore", "the fit closes a little in a humid room", "", Place("projects/lantern.yml", 50, 5, "fit")),
        ),
        boxes=(SHIELD,),
        papers=WORDS,
        closing="The lathe's manual, local codes and club rules come first. Teaching beginners is for those approved to do it.",
    )  # fmt: skip
