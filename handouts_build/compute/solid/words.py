"""What the workpiece finds, in the turner's words.

This module owns the wording, the gravity and the remedy of each finding, with its
numbers in both units. What is found is the workpiece's to say.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from handouts_build.quantities import UNITS, Err, Kind, Rule, decimal, millimetres, of_kind, print_quantity
from handouts_build.sheet import Level
from handouts_build.workpiece import Code, Subject, Thing, Verdict

__all__ = ["FACETS", "Said", "alike", "held", "length", "marked", "named", "oval", "said", "the"]


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
        return self.names[0].endswith("s") and not self.names[0].endswith("ss")

    def does(self, singular: str, plural: str) -> str:
        """The first name with its verb."""
        return f"{self.names[0]} {plural if self.plural else singular}"

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
    """
    nearest, safe = (print_quantity(millimetres(value_mm), rule, err=side).rounded for side in (Err.NEAREST, err))
    near = abs(float(nearest.m_as(UNITS["mm"])) - value_mm) <= FACETS * value_mm
    return str(print_quantity(nearest if near else safe, rule))


def oval(numbers: Mapping[str, float], rule: Rule) -> str:
    """Both diameters of an oval, rounded as the chapter of drying has them; one, where they are alike."""
    least, most = (
        print_quantity(millimetres(numbers[name]), rule, err=side)
        for name, side in (("least_mm", Err.UNDER), ("most_mm", Err.OVER))
    )
    alike_mm = FACETS * numbers["most_mm"]
    return str(least) if numbers["most_mm"] - numbers["least_mm"] < alike_mm else f"{least} by {most}"


def _ratio(value: float, limit: float) -> str:
    """A ratio that is over its limit, to one decimal and never as small as the limit."""
    near = round(value, 1)
    return decimal(near if near > limit else math.ceil(value * 10) / 10, 1)


def the(name: str) -> str:
    """A cut as a sentence names it: the bore, hole 3."""
    return name if name.startswith("the ") or name[-1:].isdigit() else f"the {name}"


_HELD = {"hand": "by hand", "bench": "at the bench", "between centers": "between centers"}
_NO_ARTICLE = ("off-axis centers", "wide jaws", "double-sided tape", "hot-melt glue")


def held(hold: str) -> str:
    """How the wood is held, as the beginning of a sentence.

    Args:
        hold: As a step prints it: `chuck: tenon in the jaws`.

    Returns:
        Such as `Held with a chuck: tenon in the jaws`.
    """
    by, colon, how = hold.partition(": ")
    way = _HELD.get(by, f"with {by}" if by.startswith(_NO_ARTICLE) else f"with a {by}")
    return f"Held {way}{colon}{how}"


def named(subject: Thing) -> str:
    """A thing as a sentence names it: by the author's name, or as the trade does."""
    return the(subject.name) if subject.name else the(subject.subject.value)


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
    told = [(min(known, key=lambda found: found.numbers.get("left_mm", 0.0)), len(known)) for known in sets]
    return [(found, max(places, round(found.numbers.get("places", 1)))) for found, places in told]


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
    because = f": {case.thin_because}" if case.thin_because else ""
    where = f"between {case.names[0]} and {case.names[1]}"
    if case.places > 1:
        where = f"in {case.places} like places, at the thinnest {where}"
    return Said(
        Level.MIND,
        f"only {case.mm('left_mm')} of wood is left {where}; less than {case.mm('limit_mm')} is thin here{because}",
        "make one of them smaller or move them apart",
    )


def _break(case: _Case) -> Said:
    if case.about[1].subject is Subject.OUTSIDE:
        return Said(
            Level.STOP,
            f"{case.does('comes', 'come')} out of the wood where nothing says so",
            "make it shallower, or say that it is meant: meets: [the outside]",
        )
    over = f" over {case.mm('over_mm')}" if "over_mm" in case.numbers else ""
    again = f"; so do {case.places - 1} more like these" if case.places > 1 else ""
    return Said(
        Level.STOP,
        f"{case.does('breaks', 'break')} into {case.names[1]}{over}, and nothing says that the two should meet{again}",
        f"make one of them smaller or shallower, or say that it is meant: meets: [{case.about[1].name}]",
    )


def _missing(case: _Case) -> Said:
    left = f": {case.mm('gap_mm')} of wood stays between them" if "gap_mm" in case.numbers else ""
    return Said(
        Level.STOP,
        f"{case.names[0]} should meet {case.names[1]} and {'do' if case.plural else 'does'} not{left}",
        "go deeper or make one of them larger, or take the name out of 'meets'",
    )


def _hold(case: _Case) -> Said:
    """A hold and the wood that do not fit each other; which words are due follows from what it is about."""
    if case.subject is Subject.LATHE:
        return Said(
            Level.STOP,
            f"the wood is {case.mm('have_mm')} long, and the lathe takes {case.mm('most_mm')} between centers",
            "use a shorter blank or a longer lathe",
        )
    if case.subject is Subject.FACEPLATE:
        return Said(
            Level.MIND,
            f"the faceplate is {case.mm('have_mm')} across, and the whole wood it lies on only {case.mm('most_mm')}",
            "use a smaller faceplate",
        )
    if case.subject is Subject.DRIVE_CENTER:
        return Said(
            Level.MIND,
            f"the drive center is {case.mm('have_mm')} across, and the whole wood under it only {case.mm('most_mm')}",
            "use a smaller drive center, or leave more wood around it",
        )
    if "least_mm" in case.numbers:
        which = f" of {case.names[1]}" if len(case.names) > 1 else ""
        return Said(
            Level.STOP,
            f"{case.names[0]} is {case.mm('have_mm')} across, and the jaws{which} take {case.mm('least_mm')} "
            f"to {case.mm('most_mm')}",
            "turn it to a size that the jaws take, or use other jaws",
        )
    if case.subject is Subject.HELD_END:
        return Said(
            Level.MIND,
            f"{case.mm('have_mm')} of the wood is to be in the jaws, and they are {case.mm('most_mm')} deep",
            "put less of it in the jaws, or use deeper jaws",
        )
    return Said(
        Level.MIND,
        f"at {case.names[0]} there is room for {case.mm('most_mm')}, and {case.mm('have_mm')} is needed",
        "a tenon must not touch the bottom of the jaws, and a drive center must bear on whole wood: change its size",
    )


def _loose(case: _Case) -> Said:
    volume = case.numbers["loose_mm3"]
    loose = "a sliver" if volume < _SLIVER_MM3 else str(print_quantity(of_kind(volume, Kind.VOLUME), case.rule))
    return Said(
        Level.STOP,
        f"{case.does('cuts', 'cut')} the piece into {case.numbers['pieces']:.0f}: {loose} comes loose",
        "cut less deep or less wide",
    )


def _slender(case: _Case) -> Said:
    return Said(
        Level.MIND,
        # Not at its thinnest: a notch between two places that are looked at is thinner, and bends little.
        f"the spindle is {marked(case.numbers['long_mm'], case.rule, Err.OVER)} long and, where it is thin, "
        f"{marked(case.numbers['neck_mm'], case.rule, Err.UNDER)} across, "
        f"{_ratio(case.numbers['ratio'], case.numbers['limit'])} to 1; "
        f"over {decimal(case.numbers['limit'], 1)} to 1 it can whip",
        "support it with a steady rest, and leave the thin place for the last",
    )


def _overhang(case: _Case) -> Said:
    return Said(
        Level.MIND,
        f"the wood stands {marked(case.numbers['overhang_mm'], case.rule, Err.OVER)} out of a hold "
        f"{marked(case.numbers['diameter_mm'], case.rule, Err.UNDER)} across, with its end free: "
        f"{_ratio(case.numbers['ratio'], case.numbers['limit'])} to 1; "
        f"over {decimal(case.numbers['limit'], 1)} to 1 is long",
        "bring up the tailstock or a steady rest",
    )


_TIGHTER = "a friction fit for this step, eased afterwards, or a turn of tissue paper in the joint"


def _loose_fit(case: _Case) -> Said:
    part, on = case.names
    return Said(
        Level.MIND,
        f"{on} has {case.mm('play_mm')} of play in the joint by which {part} is held: only the tail center keeps it on",
        _TIGHTER,
    )


def _flies_off(case: _Case) -> Said:
    part, on = case.names
    return Said(
        Level.STOP,
        f"{on} has {case.mm('play_mm')} of play in the joint by which {part} is held, and no tail center is up: "
        "nothing turns it, and it flies off",
        f"bring up the tailstock, with {_TIGHTER}",
    )


def _neck(case: _Case) -> Said:
    return Said(
        Level.MIND,
        f"{case.names[0]} {'are' if case.plural else 'is'} made {case.mm('out_mm')} out from a neck "
        f"{case.mm('neck_mm')} across, with its end free: {_ratio(case.numbers['ratio'], case.numbers['limit'])} to 1; "
        f"over {decimal(case.numbers['limit'], 1)} to 1 it whips and breaks there",
        "make it before the neck, or bring up the tailstock or a steady rest",
    )


def _on_nothing(case: _Case) -> Said:
    hole, free = case.numbers["hole_mm"], case.numbers["free_mm"]
    # About its own middle a hole has a width; beside it, a far side.
    about = hole <= (1 + _ROUND) * free
    where = f"a hole {case.mm('hole_mm')} across" if about else "a hole, not at its middle"
    if case.subject is Subject.FACEPLATE:
        under = "the hole under it" if about else "the nearest wood under it is on a circle of"
        return Said(
            Level.STOP,
            f"the faceplate is {case.mm('have_mm')} across, and {under} {case.mm('free_mm')}: it bears on nothing",
            "use a larger faceplate, or glue on a waste block",
        )
    tail = case.subject is Subject.TAIL_CENTER
    wide = f", {case.mm('have_mm')} across," if "have_mm" in case.numbers else ""
    key = "tail" if tail else "drive"
    return Said(
        Level.STOP,
        f"{case.names[0]}{wide} would stand in {where}: it bears on nothing",
        f"put a pad or a wider cone before it and say how wide it is, {key}: 3 in, or "
        + ("take the tailstock away" if tail else "plug the hole"),
    )


def _held_by(case: _Case) -> Said:
    if case.about[1].subject is Subject.FACEPLATE:
        return Said(
            Level.STOP,
            f"{case.does('takes', 'take')} away wood under the faceplate, by which the wood is held while it is cut",
            "mind the screws: stop the cut short of it, use a smaller faceplate, or glue on a waste block",
        )
    return Said(
        Level.STOP,
        f"{case.does('takes', 'take')} away {case.names[1]}, by which the wood is held while it is cut",
        "stop the cut short of it, or hold the wood by something else",
    )


def _center(case: _Case) -> Said:
    return Said(
        Level.STOP,
        f"{case.does('is', 'are')} cut where {case.names[1]} stands",
        "take the tailstock away before it, and say so at the cut: tailstock away: true"
        if case.about[1].subject is Subject.TAIL_CENTER
        else "hold the wood by something else for this step",
    )


def _speed(case: _Case) -> Said:
    slow = "least_rpm" in case.numbers
    bound = case.numbers["least_rpm" if slow else "most_rpm"]
    return Said(
        Level.MIND,
        f"{case.numbers['rpm']:,.0f} rpm is {'slower' if slow else 'faster'} than the lathe turns, {bound:,.0f} rpm",
        "choose a speed the lathe has",
    )


def _area(case: _Case) -> str:
    """The area that a finding tells."""
    return str(print_quantity(of_kind(case.numbers["area_mm2"], Kind.AREA), case.rule))


def _unreached(case: _Case) -> Said:
    return Said(
        Level.STOP,
        f"no tool reaches {case.names[0]}: one that cuts {case.mm('out_mm')} out to the side, {case.mm('deep_mm')} in, "
        f"needs {case.mm('need_mm')} to pass, and the opening is {case.mm('mouth_mm')}",
        "make the opening wider, or the cut shallower or nearer to it",
    )


def _off(case: _Case) -> Said:
    side = "right" if case.numbers["right"] else "left"
    most = f"nowhere thicker than {case.mm('most_mm')}" if case.numbers["most_mm"] else "gone"
    return Said(
        Level.STOP,
        f"{case.does('comes', 'come')} off: its hole is {case.mm('bore_mm')} across, and the wood on its {side} is "
        f"{most}",
        f"leave thicker wood on its {side}, or make its hole smaller",
    )


def _jams(case: _Case) -> Said:
    play = case.numbers["play_mm"] <= case.numbers["run_mm"]
    told = f"{case.mm('play_mm')} of play on its stem" if play else f"{case.mm('run_mm')} to move along its stem"
    return Said(
        Level.MIND,
        f"{case.names[0]} has only {told}; with less than {case.mm('least_mm')} it jams as the wood moves",
        "make its hole wider or the stem thinner" if play else "make the thin part of the stem longer",
    )


def _angles(case: _Case) -> Said:
    have, jaws = case.numbers["have_deg"], case.numbers["jaws_deg"]
    lean = f"leans {decimal(have, 1)}°" if have else "is straight"
    jaw = f"lean {decimal(jaws, 1)}°" if jaws else "are straight"
    return Said(
        Level.MIND,
        f"{case.names[0]} {lean}, and the jaws {jaw}: they bear on an edge alone",
        f"cut it as the jaws are, {'dovetail: ' + decimal(jaws, 1) + ' deg' if jaws else 'without a dovetail'}, "
        "or use other jaws",
    )


def _dried(case: _Case) -> Said:
    now = f"{case.names[0]} was turned in green wood, which has dried since: it is"
    remedy = "true it between centers or against a jam chuck before the jaws close on it"
    if "least_mm" not in case.numbers:
        return Said(Level.MIND, f"{now} oval now, and does not run true", remedy)
    across = oval(case.numbers, case.rule)
    if " by " not in across:
        return Said(Level.MIND, f"{now} about {across} across now, and does not run true", remedy)
    return Said(Level.MIND, f"{now} oval now, about {across}, and does not run true", remedy)


def _thin_inlay(case: _Case) -> Said:
    if case.numbers["left_mm"] <= 0:
        return Said(
            Level.STOP,
            f"later cuts go right through {case.names[0]}, at the edge of {case.names[1]}",
            "let it in deeper, or cut less there",
        )
    return Said(
        Level.MIND,
        f"only {case.mm('left_mm')} of {case.names[0]} is left in {case.names[1]}; less than {case.mm('limit_mm')} is "
        "sanded through before long",
        "let it in deeper, or cut less there",
    )


_WORDS: Mapping[Code, Callable[[_Case], Said]] = {
    Code.SHORT_GRIP: lambda case: Said(
        Level.MIND,
        f"{case.mm('have_mm')} of the wood is in the jaws, and it is {case.mm('diameter_mm')} across there; "
        f"less than {case.mm('least_mm')}, a quarter of that, is a short grip with no tailstock up",
        "put more of it in the jaws, bring up the tailstock, or turn a tenon",
    ),
    Code.NOT_ROUND: lambda case: Said(
        Level.NOTE,
        f"the jaws close on wood that is neither round nor square, {case.mm('least_mm')} across at its narrowest and "
        f"{case.mm('most_mm')} at its widest: only two of them bear on it",
        "bring up the tailstock, or turn a tenon on it first",
    ),
    Code.PITH_LEFT: lambda case: Said(
        Level.MIND,
        f"the pith runs {case.mm('long_mm')} through the finished part: wood with its pith in it cracks as it dries",
        "lay the piece out so that its pith is sawn, turned or bored away, or dry it slowly and expect a crack",
    ),
    Code.BARK_LEFT: lambda _: Said(
        Level.MIND,
        "bark stays on the finished part: it may come loose as the wood dries, and fly while it turns",
        "turn it away, or see that it is tight all around before each start; where it is meant, write under a step: "
        "shape: [natural edge]",
    ),
    Code.SAW_LEFT: lambda case: Said(
        Level.MIND,
        f"the log is too small for this part: {_area(case)} of its side stays as the saw left it, beside the bark",
        "choose a larger or longer log, saw nearer to its middle, or draw the profile in",
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
        f"{case.does('is', 'are')} cut from the end by which the wood is held: no tool reaches it there",
        "cut it from the other end, or hold the wood the other way round",
    ),
    Code.DRIED_OVAL: _dried,
    Code.ANGLES_DIFFER: _angles,
    Code.NO_TOOL_REACHES: _unreached,
    Code.RING_COMES_OFF: _off,
    Code.RING_JAMS: _jams,
    Code.LOOSE_FIT: _loose_fit,
    Code.FLIES_OFF: _flies_off,
    Code.TEXTURE_CUT_AWAY: lambda case: Said(
        Level.MIND,
        f"{decimal(100 * (1 - case.numbers['left']), 0)} % of {case.names[0]}, which was textured before, is cut "
        "away or sunk into by this step",
        "texture it after this step, or keep the cuts off it",
    ),
    Code.THIN_INLAY: _thin_inlay,
    Code.INLAY_SUNK: lambda case: Said(
        Level.MIND,
        f"{case.names[1]} is deeper than {case.names[0]} is thick: it lies {case.mm('under_mm')} under the wood around "
        "it",
        "cut the hole less deep, or what goes into it longer",
    ),
    Code.INLAY_PROUD: lambda case: Said(
        Level.MIND,
        f"{case.names[0]} stands {case.mm('over_mm')} over the wood around it, in {case.names[1]}, when all is done",
        "turn or pare it flush in a step after the one that glues it in",
    ),
    Code.NARROW_MOUTH: lambda case: Said(
        Level.MIND,
        f"the mouth of {case.names[0]} is {case.mm('mouth_mm')} across: a tool that reaches {case.mm('deep_mm')} deep, "
        f"to where it is {case.mm('wide_mm')} wide, needs {case.mm('need_mm')} to pass",
        "make the mouth wider or the hollow less deep",
    ),
    Code.PARTED_BETWEEN_CENTERS: lambda case: Said(
        Level.STOP,
        f"{case.does('goes', 'go')} right through wood that turns between centers: it lets go of one of them "
        "and is thrown",
        "leave a stub that holds, stop the lathe and saw it through",
    ),
    Code.SPEED_OUTSIDE_LATHE: _speed,
    Code.NOTHING_TO_HOLD: lambda case: Said(
        Level.STOP,
        f"it is to be held by {case.names[0]}, of whose wood {decimal(100 * case.numbers['left'], 0)} % is there",
        "hold by something that is whole at this step, or make it earlier and cut it away later",
    ),
    Code.PARTED_FROM_ITS_CENTER: lambda _: Said(
        Level.STOP,
        "it goes on between centers, and the step before parted it from one of them",
        "give this step a hold that the wood still has",
    ),
    Code.BIT_TOO_SHORT: lambda case: Said(
        Level.STOP,
        f"{case.does('is', 'are')} {case.mm('need_mm')} deep, and a bit of {case.mm('bit_mm')} "
        f"reaches {case.mm('have_mm')}",
        "use a longer bit or an extension, or drill from both ends",
    ),
    Code.CUTS_NOTHING: lambda case: Said(
        Level.MIND,
        f"{case.does('cuts', 'cut')} nothing: there is no wood there",
        "check its size and place, and what the steps before it leave",
    ),
    Code.DOES_NOT_CLEAR_BED: lambda case: Said(
        Level.STOP,
        f"the wood swings {length(2 * case.numbers['radius_mm'], case.rule)}, and the lathe takes "
        f"{case.mm('swing_mm')} over its bed",
        "use a smaller blank or a larger lathe",
    ),
}
