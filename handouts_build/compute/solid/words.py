"""What the workpiece finds, in the turner's words.

This module owns the wording, the gravity and the remedy of each finding, with its
numbers in both units. What is found is the workpiece's to say.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from handouts_build.language import tr, tr_count, tr_later
from handouts_build.quantities import UNITS, Err, Kind, Rule, decimal, millimetres, of_kind, print_quantity
from handouts_build.sheet import Level
from handouts_build.workpiece import Code, Subject, TextureBand, TextureTool, Thing, Verdict

__all__ = ["FACETS", "Said", "alike", "held", "length", "marked", "named", "oval", "said", "textured", "the"]


@dataclass(frozen=True)
class Said:
    """A finding in words."""

    level: Level
    message: str
    remedy: str


_SLIVER_MM3 = 16.0
_OF_SETS = frozenset({Code.THIN_WEB, Code.UNMEANT_BREAK_THROUGH, Code.THIN_INLAY, Code.INLAY_SUNK, Code.INLAY_PROUD})
"""What is found of every hole of a set."""
_ALIKE_MM, _ALIKE = 0.1, 0.05
"""Webs that differ by less, and by less of the thicker, are like places."""
_ROUND = 0.1
"""A hole whose walls differ by less of their distance is stood in at its middle: a polygon's opening has corners."""
FACETS = 0.002
"""An outline is drawn with chords and read at places: its diameter is out by no more than this share."""


@dataclass(frozen=True)
class _Case:
    """One finding: what it is about, numbers, the unit that leads, and in how many like places it is."""

    about: tuple[Thing, ...]
    numbers: Mapping[str, float]
    rule: Rule
    thin_because: str = ""
    places: int = 1

    @property
    def names(self) -> list[str]:
        """What it is about, as a sentence has it."""
        return [named(subject) for subject in self.about]

    @property
    def subject(self) -> Subject | None:
        """What the first of these is."""
        return self.about[0].subject if self.about else None

    @property
    def plural(self) -> bool:
        """Whether the first name is taken for a plural, for the sake of its verb: the windows."""
        name = str(self.about[0])
        return name.endswith("s") and not name.endswith("ss")

    def says(self, singular: str, plural: str, **values: object) -> str:
        """A sentence about the first name, which stands in it as `{it}`, in the form that its verb takes.

        Args:
            singular: In English, where the name is of one thing.
            plural: In English, where it is of several.
            **values: What else is put in.
        """
        return tr_count(singular, plural, 2 if self.plural else 1, it=self.names[0], **values)

    def mm(self, name: str) -> str:
        """A length in both units."""
        return length(self.numbers[name], self.rule)


def length(value_mm: float, rule: Rule) -> str:
    """A length read off the solid, in both units: no mark of a rule is fine enough for it.

    Args:
        value_mm: The length, mm.
        rule: For printing.
    """
    return str(print_quantity(millimetres(value_mm), rule, fine=True))


def marked(value_mm: float, rule: Rule, err: Err) -> str:
    """A length of the drawn solid at a mark of the rule; one that is on a mark but for its facets stays there.

    The other unit follows from that mark, as it does for a size that an author gives at one.

    Args:
        value_mm: As it was measured, mm.
        rule: The marks of the rule that it is printed by.
        err: The side that is safe, where it lies between two marks.
    """
    nearest, safe = (print_quantity(millimetres(value_mm), rule, err=side).rounded for side in (Err.NEAREST, err))
    near = abs(float(nearest.m_as(UNITS["mm"])) - value_mm) <= FACETS * value_mm
    return str(print_quantity(nearest if near else safe, rule))


def oval(numbers: Mapping[str, float], rule: Rule) -> str:
    """Both diameters of an oval, rounded as the chapter of drying has them; one, where they are alike.

    Args:
        numbers: Of a verdict: `least_mm` and `most_mm`, mm.
        rule: The marks of the rule that they are printed by.
    """
    least, most = (
        print_quantity(millimetres(numbers[name]), rule, err=side)
        for name, side in (("least_mm", Err.UNDER), ("most_mm", Err.OVER))
    )
    return tr("{least} by {most}", least=least, most=most) if _is_oval(numbers) else str(least)


def _is_oval(numbers: Mapping[str, float]) -> bool:
    """Whether two diameters differ by more than the corners of a drawn circle."""
    return numbers["most_mm"] - numbers["least_mm"] >= FACETS * numbers["most_mm"]


def _ratio(value: float, limit: float) -> str:
    """A ratio that is over its limit, to one decimal and never as small as the limit."""
    near = round(value, 1)
    return decimal(near if near > limit else math.ceil(value * 10) / 10, 1)


def the(name: str) -> str:
    """A cut as a sentence names it: the bore, hole 3."""
    return name if name.startswith("the ") or name[-1:].isdigit() else tr("the {name}", name=name)


_HELD = {
    "hand": tr_later("Held by hand"),
    "bench": tr_later("Held at the bench"),
    "between centers": tr_later("Held between centers"),
}
_NO_ARTICLE = ("off-axis centers", "wide jaws", "double-sided tape", "hot-melt glue")


def held(hold: str) -> str:
    """How the wood is held, as the beginning of a sentence.

    Args:
        hold: As a step prints it: `chuck: tenon in the jaws`.

    Returns:
        Such as `Held with a chuck: tenon in the jaws`.
    """
    by, _, how = hold.partition(": ")
    if by in _HELD:
        sentence = tr(_HELD[by])
    elif by.startswith(_NO_ARTICLE):
        sentence = tr("Held with {holding}", holding=by)
    else:
        sentence = tr("Held with a {holding}", holding=by)
    return tr("{told}: {how}", told=sentence, how=how) if how else sentence


_UNNAMED = {
    Subject.CUT: tr_later("the cut"),
    Subject.FEATURE: tr_later("the feature"),
    Subject.JAWS: tr_later("the jaws"),
    Subject.OUTSIDE: tr_later("the outside"),
    Subject.HELD_END: tr_later("the held end"),
    Subject.FACEPLATE: tr_later("the faceplate"),
    Subject.DRIVE_CENTER: tr_later("the drive center"),
    Subject.TAIL_CENTER: tr_later("the tail center"),
    Subject.LATHE: tr_later("the lathe"),
}
"""What the trade calls a thing that nobody gave a name."""


_TEXTURED = {
    TextureTool.CHATTER: tr_later("{band} with a chatter tool"),
    TextureTool.WHEEL: tr_later("{band} with a texturing wheel"),
    TextureTool.BRUSH: tr_later("{band} with a wire brush"),
    TextureTool.GOUGE: tr_later("{band} with a carving gouge"),
    TextureTool.ROTARY: tr_later("{band} with a rotary tool"),
}


def textured(mark: TextureBand) -> str:
    """A band and the tool that it is textured with.

    Args:
        mark: The band.

    Returns:
        Such as `the shoulder with a chatter tool`.
    """
    return tr(_TEXTURED[mark.tool], band=the(mark.name))


def named(subject: Thing) -> str:
    """A thing as a sentence names it: by the author's name, or as the trade does."""
    return the(subject.name) if subject.name else tr(_UNNAMED[subject.subject])


def alike(verdicts: Sequence[Verdict]) -> list[tuple[Verdict, int]]:
    """Findings, each with the number of like places it is found in: five webs of one ring are one finding.

    Like places are of one kind and much the same size, between things whose names differ by their numbers alone.

    Args:
        verdicts: Of one step, in the order they were found.

    Returns:
        The gravest of each set, in that order, and how many it stands for.
    """
    sets: list[list[Verdict]] = []
    for verdict in verdicts:
        for known in sets:
            if _are_alike(known[0], verdict):
                known.append(verdict)
                break
        else:
            sets.append([verdict])
    groups = [(min(known, key=lambda found: found.numbers.get("left_mm", 0.0)), len(known)) for known in sets]
    return [(found, max(places, round(found.numbers.get("places", 1)))) for found, places in groups]


def _are_alike(first: Verdict, second: Verdict) -> bool:
    if first.code not in _OF_SETS or first.code is not second.code:
        return False
    if first.cut != second.cut or sorted(map(_base, first.about)) != sorted(map(_base, second.about)):
        return False
    left, other = (found.numbers.get("left_mm", 0.0) for found in (first, second))
    return abs(left - other) <= _ALIKE_MM + _ALIKE * max(left, other)


def _base(subject: Thing) -> tuple[str, str]:
    """What a thing is, without the number that tells it from others of its set."""
    return subject.subject.value, re.sub(r" \d+$", "", subject.name)


def said(found: Verdict, rule: Rule, *, thin_because: str = "", places: int = 1) -> Said:
    """A finding in words.

    Args:
        found: As the workpiece tells it.
        rule: The unit that leads.
        thin_because: How the limit came about under which wood is thin.
        places: In how many like places it is found.
    """
    return _WORDS[found.code](_Case(found.about, found.numbers, rule, thin_because, places))


def _web(case: _Case) -> Said:
    where = tr("between {first} and {second}", first=case.names[0], second=case.names[1])
    if case.places > 1:
        where = tr("in {places} like places, at the thinnest {where}", places=case.places, where=where)
    sentence = tr(
        "only {left} of wood is left {where}; less than {limit} is thin here",
        left=case.mm("left_mm"), where=where, limit=case.mm("limit_mm"),
    )  # fmt: skip
    return Said(
        Level.MIND,
        tr("{told}: {because}", told=sentence, because=case.thin_because) if case.thin_because else sentence,
        tr("make one of them smaller or move them apart"),
    )


def _break(case: _Case) -> Said:
    if case.about[1].subject is Subject.OUTSIDE:
        return Said(
            Level.STOP,
            case.says(
                "{it} comes out of the wood where nothing says so", "{it} come out of the wood where nothing says so"
            ),
            tr("make it shallower, or say that it is meant: {line}", line="meets: [the outside]"),
        )
    if "over_mm" in case.numbers:
        sentence = case.says(
            "{it} breaks into {other} over {over}, and nothing says that the two should meet",
            "{it} break into {other} over {over}, and nothing says that the two should meet",
            other=case.names[1], over=case.mm("over_mm"),
        )  # fmt: skip
    else:
        sentence = case.says(
            "{it} breaks into {other}, and nothing says that the two should meet",
            "{it} break into {other}, and nothing says that the two should meet",
            other=case.names[1],
        )
    if case.places > 1:
        sentence = tr("{told}; so do {more} more like these", told=sentence, more=case.places - 1)
    return Said(
        Level.STOP,
        sentence,
        tr(
            "make one of them smaller or shallower, or say that it is meant: {line}",
            line=f"meets: [{case.about[1].name}]",
        ),
    )


def _missing(case: _Case) -> Said:
    sentence = case.says(
        "{it} should meet {other} and does not", "{it} should meet {other} and do not", other=case.names[1]
    )
    if "gap_mm" in case.numbers:
        sentence = tr("{told}: {gap} of wood stays between them", told=sentence, gap=case.mm("gap_mm"))
    return Said(
        Level.STOP, sentence, tr("go deeper or make one of them larger, or take the name out of '{key}'", key="meets")
    )


def _hold(case: _Case) -> Said:
    """A hold and the wood that do not fit each other; which words are due follows from what it is about."""
    if case.subject is Subject.LATHE:
        return Said(
            Level.STOP,
            tr(
                "the wood is {have} long, and the lathe takes {most} between centers",
                have=case.mm("have_mm"), most=case.mm("most_mm"),
            ),
            tr("use a shorter blank or a longer lathe"),
        )  # fmt: skip
    if case.subject is Subject.FACEPLATE:
        return Said(
            Level.MIND,
            tr(
                "the faceplate is {have} across, and the whole wood it lies on only {most}",
                have=case.mm("have_mm"), most=case.mm("most_mm"),
            ),
            tr("use a smaller faceplate"),
        )  # fmt: skip
    if case.subject is Subject.DRIVE_CENTER:
        return Said(
            Level.MIND,
            tr(
                "the drive center is {have} across, and the whole wood under it only {most}",
                have=case.mm("have_mm"), most=case.mm("most_mm"),
            ),
            tr("use a smaller drive center, or leave more wood around it"),
        )  # fmt: skip
    if "least_mm" in case.numbers:
        return _beyond_jaws(case)
    if case.subject is Subject.HELD_END:
        return Said(
            Level.MIND,
            tr(
                "{have} of the wood is to be in the jaws, and they are {most} deep",
                have=case.mm("have_mm"), most=case.mm("most_mm"),
            ),
            tr("put less of it in the jaws, or use deeper jaws"),
        )  # fmt: skip
    return Said(
        Level.MIND,
        tr(
            "at {what} there is room for {most}, and {have} is needed",
            what=case.names[0], most=case.mm("most_mm"), have=case.mm("have_mm"),
        ),
        tr(
            "a tenon must not touch the bottom of the jaws, and a drive center must bear on whole wood: change its size"
        ),
    )  # fmt: skip


def _beyond_jaws(case: _Case) -> Said:
    """What is to be held is wider or narrower than the jaws take."""
    have, least, most = (case.mm(name) for name in ("have_mm", "least_mm", "most_mm"))
    if len(case.names) > 1:
        sentence = tr(
            "{what} is {have} across, and the jaws of {jaws} take {least} to {most}",
            what=case.names[0], have=have, jaws=case.names[1], least=least, most=most,
        )  # fmt: skip
    else:
        sentence = tr(
            "{what} is {have} across, and the jaws take {least} to {most}",
            what=case.names[0], have=have, least=least, most=most,
        )  # fmt: skip
    return Said(Level.STOP, sentence, tr("turn it to a size that the jaws take, or use other jaws"))


def _loose(case: _Case) -> Said:
    volume, pieces = case.numbers["loose_mm3"], f"{case.numbers['pieces']:.0f}"
    if volume < _SLIVER_MM3:
        sentence = case.says(
            "{it} cuts the piece into {pieces}: a sliver comes loose",
            "{it} cut the piece into {pieces}: a sliver comes loose",
            pieces=pieces,
        )
    else:
        sentence = case.says(
            "{it} cuts the piece into {pieces}: {loose} comes loose",
            "{it} cut the piece into {pieces}: {loose} comes loose",
            pieces=pieces, loose=print_quantity(of_kind(volume, Kind.VOLUME), case.rule),
        )  # fmt: skip
    return Said(Level.STOP, sentence, tr("cut less deep or less wide"))


def _slender(case: _Case) -> Said:
    return Said(
        Level.MIND,
        # Not at its thinnest: a notch between two places that are looked at is thinner, and bends little.
        tr(
            "the spindle is {long} long and, where it is thin, {neck} across, {ratio} to 1; over {limit} to 1 it can "
            "whip",
            long=marked(case.numbers["long_mm"], case.rule, Err.OVER),
            neck=marked(case.numbers["neck_mm"], case.rule, Err.UNDER),
            ratio=_ratio(case.numbers["ratio"], case.numbers["limit"]),
            limit=decimal(case.numbers["limit"], 1),
        ),
        tr("support it with a steady rest, and leave the thin place for the last"),
    )


def _overhang(case: _Case) -> Said:
    return Said(
        Level.MIND,
        tr(
            "the wood stands {overhang} out of a hold {across} across, with its end free: {ratio} to 1; over {limit} "
            "to 1 is long",
            overhang=marked(case.numbers["overhang_mm"], case.rule, Err.OVER),
            across=marked(case.numbers["diameter_mm"], case.rule, Err.UNDER),
            ratio=_ratio(case.numbers["ratio"], case.numbers["limit"]),
            limit=decimal(case.numbers["limit"], 1),
        ),
        tr("bring up the tailstock or a steady rest"),
    )


def _loose_fit(case: _Case) -> Said:
    part, on = case.names
    return Said(
        Level.MIND,
        tr(
            "{on} has {play} of play in the joint by which {part} is held: only the tail center keeps it on",
            on=on, play=case.mm("play_mm"), part=part,
        ),
        tr("a friction fit for this step, eased afterwards, or a turn of tissue paper in the joint"),
    )  # fmt: skip


def _flies_off(case: _Case) -> Said:
    part, on = case.names
    return Said(
        Level.STOP,
        tr(
            "{on} has {play} of play in the joint by which {part} is held, and no tail center is up: nothing turns it, "
            "and it flies off",
            on=on, play=case.mm("play_mm"), part=part,
        ),
        tr(
            "bring up the tailstock, with a friction fit for this step, eased afterwards, or a turn of tissue paper in "
            "the joint"
        ),
    )  # fmt: skip


def _neck(case: _Case) -> Said:
    return Said(
        Level.MIND,
        case.says(
            "{it} is made {out} out from a neck {neck} across, with its end free: {ratio} to 1; over {limit} to 1 it "
            "whips and breaks there",
            "{it} are made {out} out from a neck {neck} across, with its end free: {ratio} to 1; over {limit} to 1 it "
            "whips and breaks there",
            out=case.mm("out_mm"),
            neck=case.mm("neck_mm"),
            ratio=_ratio(case.numbers["ratio"], case.numbers["limit"]),
            limit=decimal(case.numbers["limit"], 1),
        ),
        tr("make it before the neck, or bring up the tailstock or a steady rest"),
    )


def _on_nothing(case: _Case) -> Said:
    hole, free = case.numbers["hole_mm"], case.numbers["free_mm"]
    # About its own middle a hole has a width; beside it, a far side.
    about = hole <= (1 + _ROUND) * free
    if case.subject is Subject.FACEPLATE:
        return _plate_on_nothing(case, about=about)
    where = tr("a hole {wide} across", wide=case.mm("hole_mm")) if about else tr("a hole, not at its middle")
    if "have_mm" in case.numbers:
        sentence = tr(
            "{center}, {have} across, would stand in {where}: it bears on nothing",
            center=case.names[0], have=case.mm("have_mm"), where=where,
        )  # fmt: skip
    else:
        sentence = tr("{center} would stand in {where}: it bears on nothing", center=case.names[0], where=where)
    if case.subject is Subject.TAIL_CENTER:
        remedy = tr(
            "put a pad or a wider cone before it and say how wide it is, {line}, or take the tailstock away",
            line="tail: 3 in",
        )
    else:
        remedy = tr(
            "put a pad or a wider cone before it and say how wide it is, {line}, or plug the hole", line="drive: 3 in"
        )
    return Said(Level.STOP, sentence, remedy)


def _plate_on_nothing(case: _Case, *, about: bool) -> Said:
    have, free = case.mm("have_mm"), case.mm("free_mm")
    if about:
        sentence = tr(
            "the faceplate is {have} across, and the hole under it {free}: it bears on nothing", have=have, free=free
        )
    else:
        sentence = tr(
            "the faceplate is {have} across, and the nearest wood under it is on a circle of {free}: it bears on "
            "nothing",
            have=have, free=free,
        )  # fmt: skip
    return Said(Level.STOP, sentence, tr("use a larger faceplate, or glue on a waste block"))


def _held_by(case: _Case) -> Said:
    if case.about[1].subject is Subject.FACEPLATE:
        return Said(
            Level.STOP,
            case.says(
                "{it} takes away wood under the faceplate, by which the wood is held while it is cut",
                "{it} take away wood under the faceplate, by which the wood is held while it is cut",
            ),
            tr("mind the screws: stop the cut short of it, use a smaller faceplate, or glue on a waste block"),
        )
    return Said(
        Level.STOP,
        case.says(
            "{it} takes away {other}, by which the wood is held while it is cut",
            "{it} take away {other}, by which the wood is held while it is cut",
            other=case.names[1],
        ),
        tr("stop the cut short of it, or hold the wood by something else"),
    )


def _center(case: _Case) -> Said:
    return Said(
        Level.STOP,
        case.says("{it} is cut where {other} stands", "{it} are cut where {other} stands", other=case.names[1]),
        tr("take the tailstock away before it, and say so at the cut: {line}", line="tailstock away: true")
        if case.about[1].subject is Subject.TAIL_CENTER
        else tr("hold the wood by something else for this step"),
    )


def _speed(case: _Case) -> Said:
    rpm = f"{case.numbers['rpm']:,.0f}"
    if "least_rpm" in case.numbers:
        bound = f"{case.numbers['least_rpm']:,.0f}"
        sentence = tr("{rpm} rpm is slower than the lathe turns, {bound} rpm", rpm=rpm, bound=bound)
    else:
        bound = f"{case.numbers['most_rpm']:,.0f}"
        sentence = tr("{rpm} rpm is faster than the lathe turns, {bound} rpm", rpm=rpm, bound=bound)
    return Said(Level.MIND, sentence, tr("choose a speed the lathe has"))


def _area(case: _Case) -> str:
    """The area that a finding tells."""
    return str(print_quantity(of_kind(case.numbers["area_mm2"], Kind.AREA), case.rule))


def _unreached(case: _Case) -> Said:
    return Said(
        Level.STOP,
        tr(
            "no tool reaches {cut}: one that cuts {out} out to the side, {deep} in, needs {need} to pass, and the "
            "opening is {mouth}",
            cut=case.names[0],
            out=case.mm("out_mm"),
            deep=case.mm("deep_mm"),
            need=case.mm("need_mm"),
            mouth=case.mm("mouth_mm"),
        ),
        tr("make the opening wider, or the cut shallower or nearer to it"),
    )


def _off(case: _Case) -> Said:
    side = tr("the wood on its right") if case.numbers["right"] else tr("the wood on its left")
    if case.numbers["most_mm"]:
        sentence = case.says(
            "{it} comes off: its hole is {bore} across, and {side} is nowhere thicker than {most}",
            "{it} come off: its hole is {bore} across, and {side} is nowhere thicker than {most}",
            bore=case.mm("bore_mm"), side=side, most=case.mm("most_mm"),
        )  # fmt: skip
    else:
        sentence = case.says(
            "{it} comes off: its hole is {bore} across, and {side} is gone",
            "{it} come off: its hole is {bore} across, and {side} is gone",
            bore=case.mm("bore_mm"), side=side,
        )  # fmt: skip
    remedy = (
        tr("leave thicker wood on its right, or make its hole smaller")
        if case.numbers["right"]
        else tr("leave thicker wood on its left, or make its hole smaller")
    )
    return Said(Level.STOP, sentence, remedy)


def _jams(case: _Case) -> Said:
    least = case.mm("least_mm")
    if case.numbers["play_mm"] <= case.numbers["run_mm"]:
        return Said(
            Level.MIND,
            tr(
                "{ring} has only {play} of play on its stem; with less than {least} it jams as the wood moves",
                ring=case.names[0], play=case.mm("play_mm"), least=least,
            ),
            tr("make its hole wider or the stem thinner"),
        )  # fmt: skip
    return Said(
        Level.MIND,
        tr(
            "{ring} has only {way} to move along its stem; with less than {least} it jams as the wood moves",
            ring=case.names[0], way=case.mm("run_mm"), least=least,
        ),
        tr("make the thin part of the stem longer"),
    )  # fmt: skip


def _angles(case: _Case) -> Said:
    have, jaws = (decimal(case.numbers[name], 1) if case.numbers[name] else "" for name in ("have_deg", "jaws_deg"))
    what = case.names[0]
    if have and jaws:
        sentence = tr(
            "{what} leans {have}°, and the jaws lean {jaws}°: they bear on an edge alone",
            what=what, have=have, jaws=jaws,
        )  # fmt: skip
    elif have:
        sentence = tr(
            "{what} leans {have}°, and the jaws are straight: they bear on an edge alone", what=what, have=have
        )
    elif jaws:
        sentence = tr("{what} is straight, and the jaws lean {jaws}°: they bear on an edge alone", what=what, jaws=jaws)
    else:
        sentence = tr("{what} is straight, and the jaws are straight: they bear on an edge alone", what=what)
    remedy = (
        tr("cut it as the jaws are, {line}, or use other jaws", line=f"dovetail: {jaws} deg")
        if jaws
        else tr("cut it as the jaws are, without a dovetail, or use other jaws")
    )
    return Said(Level.MIND, sentence, remedy)


def _dried(case: _Case) -> Said:
    what = case.names[0]
    if "least_mm" not in case.numbers:
        sentence = tr(
            "{what} was turned in green wood, which has dried since: it is oval now, and does not run true", what=what
        )
    elif _is_oval(case.numbers):
        sentence = tr(
            "{what} was turned in green wood, which has dried since: it is oval now, about {across}, and does not run "
            "true",
            what=what, across=oval(case.numbers, case.rule),
        )  # fmt: skip
    else:
        sentence = tr(
            "{what} was turned in green wood, which has dried since: it is about {across} across now, and does not run "
            "true",
            what=what, across=oval(case.numbers, case.rule),
        )  # fmt: skip
    return Said(Level.MIND, sentence, tr("true it between centers or against a jam chuck before the jaws close on it"))


def _thread_dried(case: _Case) -> Said:
    what = case.names[0]
    if "least_mm" in case.numbers and _is_oval(case.numbers):
        sentence = tr(
            "{what} is cut in green wood, which dries here: it goes oval, about {across}, and binds or has play in its "
            "other half",
            what=what, across=oval(case.numbers, case.rule),
        )  # fmt: skip
    else:
        sentence = tr(
            "{what} is cut in green wood, which dries here: it gets smaller, and binds or has play in its other half",
            what=what,
        )
    return Said(Level.MIND, sentence, tr("rough the wood out larger, let it dry, and cut the thread after that"))


def _thin_inlay(case: _Case) -> Said:
    if case.numbers["left_mm"] <= 0:
        return Said(
            Level.STOP,
            tr("later cuts go right through {inlay}, at the edge of {hole}", inlay=case.names[0], hole=case.names[1]),
            tr("let it in deeper, or cut less there"),
        )
    return Said(
        Level.MIND,
        tr(
            "only {left} of {inlay} is left in {hole}; less than {limit} is sanded through before long",
            left=case.mm("left_mm"), inlay=case.names[0], hole=case.names[1], limit=case.mm("limit_mm"),
        ),
        tr("let it in deeper, or cut less there"),
    )  # fmt: skip


_WORDS: Mapping[Code, Callable[[_Case], Said]] = {
    Code.SHORT_GRIP: lambda case: Said(
        Level.MIND,
        tr(
            "{have} of the wood is in the jaws, and it is {across} across there; less than {least}, a quarter of that, "
            "is a short grip with no tailstock up",
            have=case.mm("have_mm"),
            across=case.mm("diameter_mm"),
            least=case.mm("least_mm"),
        ),
        tr("put more of it in the jaws, bring up the tailstock, or turn a tenon"),
    ),
    Code.NOT_ROUND: lambda case: Said(
        Level.NOTE,
        tr(
            "the jaws close on wood that is neither round nor square, {least} across at its narrowest and {most} at "
            "its widest: only two of them bear on it",
            least=case.mm("least_mm"),
            most=case.mm("most_mm"),
        ),
        tr("bring up the tailstock, or turn a tenon on it first"),
    ),
    Code.PITH_LEFT: lambda case: Said(
        Level.MIND,
        tr(
            "the pith runs {long} through the finished part: wood with its pith in it cracks as it dries",
            long=case.mm("long_mm"),
        ),
        tr("lay the piece out so that its pith is sawn, turned or bored away, or dry it slowly and expect a crack"),
    ),
    Code.BARK_LEFT: lambda _: Said(
        Level.MIND,
        tr("bark stays on the finished part: it may come loose as the wood dries, and fly while it turns"),
        tr(
            "turn it away, or see that it is tight all around before each start; where it is meant, write under a "
            "step: {line}",
            line="shape: [natural edge]",
        ),
    ),
    Code.SAW_LEFT: lambda case: Said(
        Level.MIND,
        tr(
            "the log is too small for this part: {area} of its side stays as the saw left it, beside the bark",
            area=_area(case),
        ),
        tr("choose a larger or longer log, saw nearer to its middle, or draw the profile in"),
    ),
    Code.THIN_WEB: _web,
    Code.UNMEANT_BREAK_THROUGH: _break,
    Code.MEANT_MEETING_MISSING: _missing,
    Code.HOLD_OUT_OF_RANGE: _hold,
    Code.TWO_PIECES: _loose,
    Code.SLENDER: _slender,
    Code.OVERHANG: _overhang,
    Code.THIN_NECK: _neck,
    Code.BEARS_ON_NOTHING: _on_nothing,
    Code.CUTS_ITS_HOLD: _held_by,
    Code.CENTER_IN_THE_WAY: _center,
    Code.HOLD_IN_THE_WAY: lambda case: Said(
        Level.STOP,
        case.says(
            "{it} is cut from the end by which the wood is held: no tool reaches it there",
            "{it} are cut from the end by which the wood is held: no tool reaches it there",
        ),
        tr("cut it from the other end, or hold the wood the other way round"),
    ),
    Code.DRIED_OVAL: _dried,
    Code.THREAD_DRIED: _thread_dried,
    Code.ANGLES_DIFFER: _angles,
    Code.NO_TOOL_REACHES: _unreached,
    Code.RING_COMES_OFF: _off,
    Code.RING_JAMS: _jams,
    Code.LOOSE_FIT: _loose_fit,
    Code.FLIES_OFF: _flies_off,
    Code.TEXTURE_CUT_AWAY: lambda case: Said(
        Level.MIND,
        tr(
            "{share} % of {band}, which was textured before, is cut away or sunk into by this step",
            share=decimal(100 * (1 - case.numbers["left"]), 0),
            band=case.names[0],
        ),
        tr("texture it after this step, or keep the cuts off it"),
    ),
    Code.THIN_INLAY: _thin_inlay,
    Code.INLAY_SUNK: lambda case: Said(
        Level.MIND,
        tr(
            "{hole} is deeper than {inlay} is thick: it lies {under} under the wood around it",
            hole=case.names[1],
            inlay=case.names[0],
            under=case.mm("under_mm"),
        ),
        tr("cut the hole less deep, or what goes into it longer"),
    ),
    Code.INLAY_PROUD: lambda case: Said(
        Level.MIND,
        tr(
            "{inlay} stands {over} over the wood around it, in {hole}, when all is done",
            inlay=case.names[0],
            over=case.mm("over_mm"),
            hole=case.names[1],
        ),
        tr("turn or pare it flush in a step after the one that glues it in"),
    ),
    Code.NARROW_MOUTH: lambda case: Said(
        Level.MIND,
        tr(
            "the mouth of {hollow} is {mouth} across: a tool that reaches {deep} deep, to where it is {wide} wide, "
            "needs {need} to pass",
            hollow=case.names[0],
            mouth=case.mm("mouth_mm"),
            deep=case.mm("deep_mm"),
            wide=case.mm("wide_mm"),
            need=case.mm("need_mm"),
        ),
        tr("make the mouth wider or the hollow less deep"),
    ),
    Code.PARTED_BETWEEN_CENTERS: lambda case: Said(
        Level.STOP,
        case.says(
            "{it} goes right through wood that turns between centers: it lets go of one of them and is thrown",
            "{it} go right through wood that turns between centers: it lets go of one of them and is thrown",
        ),
        tr("leave a stub that holds, stop the lathe and saw it through"),
    ),
    Code.SPEED_OUTSIDE_LATHE: _speed,
    Code.NOTHING_TO_HOLD: lambda case: Said(
        Level.STOP,
        tr(
            "it is to be held by {what}, of whose wood {share} % is there",
            what=case.names[0],
            share=decimal(100 * case.numbers["left"], 0),
        ),
        tr("hold by something that is whole at this step, or make it earlier and cut it away later"),
    ),
    Code.PARTED_FROM_ITS_CENTER: lambda _: Said(
        Level.STOP,
        tr("it goes on between centers, and the step before parted it from one of them"),
        tr("give this step a hold that the wood still has"),
    ),
    Code.BIT_TOO_SHORT: lambda case: Said(
        Level.STOP,
        case.says(
            "{it} is {need} deep, and a bit of {bit} reaches {have}",
            "{it} are {need} deep, and a bit of {bit} reaches {have}",
            need=case.mm("need_mm"),
            bit=case.mm("bit_mm"),
            have=case.mm("have_mm"),
        ),
        tr("use a longer bit or an extension, or drill from both ends"),
    ),
    Code.CUTS_NOTHING: lambda case: Said(
        Level.MIND,
        case.says("{it} cuts nothing: there is no wood there", "{it} cut nothing: there is no wood there"),
        tr("check its size and place, and what the steps before it leave"),
    ),
    Code.DOES_NOT_CLEAR_BED: lambda case: Said(
        Level.STOP,
        tr(
            "the wood swings {across}, and the lathe takes {swing} over its bed",
            across=length(2 * case.numbers["radius_mm"], case.rule),
            swing=case.mm("swing_mm"),
        ),
        tr("use a smaller blank or a larger lathe"),
    ),
}
