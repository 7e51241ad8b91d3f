"""What the solid finds: its kind, what it is about, and numbers.

This module owns the list of findings the solid can make and the limits they are
judged by. Wording, units and remedies belong to whoever prints them.
"""

from __future__ import annotations

import enum
from collections.abc import Mapping
from dataclasses import dataclass, field

from handouts_build.workpiece.axes import Vector

__all__ = ["Bit", "Code", "Jaws", "Limits", "ShopLimits", "Subject", "Thing", "Verdict", "cut_named"]


class Subject(enum.Enum):
    """What a finding may be about. Gravity, words and remedies go by this, and by no name that an author gives."""

    CUT = "cut"
    """A cut or one of its holes, by the author's name."""
    FEATURE = "feature"
    """A tenon, recess or hole that a hold uses, by the author's name."""
    JAWS = "jaws"
    """A set of jaws, by the shop's name."""
    OUTSIDE = "the outside"
    """The blank's own surface, and the air around it."""
    HELD_END = "held end"
    """The wood that bare jaws close on, or that is pressed into a jam chuck."""
    FACEPLATE = "faceplate"
    DRIVE_CENTER = "drive center"
    TAIL_CENTER = "tail center"
    LATHE = "between centers"
    """The length that the lathe takes."""


@dataclass(frozen=True)
class Thing:
    """One thing that a finding is about."""

    subject: Subject
    name: str = ""
    """The author's or the shop's, where it has one."""

    def __str__(self) -> str:
        return self.name or self.subject.value


def cut_named(name: str) -> Thing:
    """A cut, or one of its holes, by its name."""
    return Thing(Subject.CUT, name)


class Code(enum.Enum):
    """What was found."""

    NOTHING_TO_HOLD = "nothing to hold"
    """What the hold grips or bears on is not there, or cut away. Numbers: left (share, 0 to 1)."""
    HOLD_OUT_OF_RANGE = "hold out of range"
    """The hold and the wood do not fit. Numbers: have_mm, and least_mm or most_mm."""
    BEARS_ON_NOTHING = "bears on nothing"
    """A faceplate or a center lies within a hole. Numbers: hole_mm (twice the way to its farthest wall), free_mm (to
    its nearest), and have_mm where it is known."""
    CUTS_ITS_HOLD = "cuts its hold"
    """A cut takes away what holds the wood while it is made. About: the cut, and what holds. Numbers: left (share)."""
    CENTER_IN_THE_WAY = "center in the way"
    """A cut takes the wood that a center bears on, or comes from the end where it stands."""
    HOLD_IN_THE_WAY = "hold in the way"
    """A cut comes from the end that is held."""
    DRIED_OVAL = "dried oval"
    """What the hold closes on was turned green and has dried since. Numbers, where its wood's shrinkage is known:
    least_mm and most_mm, the diameters of the oval."""
    THREAD_DRIED = "thread dried"
    """A thread was cut in green wood, and dries in this step. Numbers: as above."""
    NARROW_MOUTH = "narrow mouth"
    """A hollow whose mouth lets no tool of the strength that its depth asks for pass. Numbers: mouth_mm, deep_mm,
    wide_mm (inside), need_mm."""
    PARTED_BETWEEN_CENTERS = "parted between centers"
    """A parting cut goes right through wood that two centers hold."""
    PARTED_FROM_ITS_CENTER = "parted from its center"
    """The wood goes on in a hold that the step before parted it from."""
    LOOSE_FIT = "loose fit"
    """A part that is put on another has play in the joint that holds it, and the tail center alone keeps it on. About:
    that part, then what it sits on. Numbers: play_mm."""
    FLIES_OFF = "flies off"
    """The same, where no tail center bears on it. About and numbers: as above."""
    THIN_NECK = "thin neck"
    """What is cut stands free on a place much thinner. Numbers: ratio, limit, neck_mm, out_mm."""
    SHORT_GRIP = "short grip"
    """Little of the wood's outside is in the jaws. Numbers: have_mm, least_mm, diameter_mm."""
    NOT_ROUND = "not round"
    """The jaws close on wood that is neither round nor square. Numbers: least_mm, most_mm (across it)."""
    PITH_LEFT = "pith left"
    """The pith of a branch or log runs in the finished piece. Numbers: long_mm."""
    BARK_LEFT = "bark left"
    """There is bark on the finished piece. Numbers: bark_mm3."""
    SAW_LEFT = "left from the saw"
    """A side of a log as the saw left it stands on the finished piece. Numbers: area_mm2."""
    THIN_WEB = "thin web"
    """Little wood between two cuts, or between a cut and the outside. Numbers: left_mm, limit_mm."""
    UNMEANT_BREAK_THROUGH = "unmeant break-through"
    """Two cuts meet, or a cut comes out, where the author did not say so. Numbers: depth_mm where known."""
    BIT_TOO_SHORT = "bit too short"
    """Numbers: need_mm, have_mm, bit_mm."""
    CUTS_NOTHING = "cuts nothing"
    """A cut meets no wood."""
    TWO_PIECES = "two pieces"
    """Wood comes loose. Numbers: pieces, loose_mm3 (the largest that comes off)."""
    SLENDER = "slender"
    """Numbers: ratio, limit, long_mm, neck_mm, at_mm."""
    OVERHANG = "overhang"
    """Long and unsupported for what holds it. Numbers: ratio, limit, overhang_mm, diameter_mm."""
    SPEED_OUTSIDE_LATHE = "speed outside the lathe's"
    """Numbers: rpm, least_rpm or most_rpm."""
    DOES_NOT_CLEAR_BED = "does not clear the bed"
    """Numbers: radius_mm, swing_mm."""
    ANGLES_DIFFER = "angles differ"
    """Jaws and the dovetail that they close on, or open into, lean differently. Numbers: have_deg, jaws_deg."""
    NO_TOOL_REACHES = "no tool reaches"
    """A cut behind a mouth that no bent tool passes and cuts. Numbers: mouth_mm, need_mm, out_mm, deep_mm."""
    RING_COMES_OFF = "ring comes off"
    """A loose ring is wider than all the wood on one side of it. Numbers: bore_mm, most_mm (of that side)."""
    RING_JAMS = "ring jams"
    """A loose ring has little play on its stem, or little way along it. Numbers: play_mm, run_mm, least_mm."""
    TEXTURE_CUT_AWAY = "texture cut away"
    """Cuts take away a surface that was textured before. About: the texture, then the step's cuts. Numbers: left
    (share)."""
    THIN_INLAY = "thin inlay"
    """Later cuts leave little of what was let in, or nothing. About: its part, then its hole. Numbers: left_mm,
    limit_mm."""
    INLAY_SUNK = "inlay sunk"
    """In the finished part it lies under the wood around it. About: as above. Numbers: under_mm."""
    INLAY_PROUD = "inlay proud"
    """In the finished part it stands over the wood around it. About: as above. Numbers: over_mm."""
    MEANT_MEETING_MISSING = "meant meeting missing"
    """Two cuts do not meet that should. Numbers: gap_mm where known."""

    @property
    def acceptable(self) -> bool:
        """Whether an author may accept it with a reason; what cannot be made or held may not be."""
        return self in _ACCEPTABLE


_ACCEPTABLE = frozenset(
    {
        Code.THIN_WEB, Code.SLENDER, Code.OVERHANG, Code.THIN_NECK, Code.CUTS_NOTHING, Code.SHORT_GRIP, Code.PITH_LEFT,
        Code.BARK_LEFT, Code.SAW_LEFT, Code.DRIED_OVAL, Code.NARROW_MOUTH, Code.ANGLES_DIFFER, Code.RING_JAMS,
        Code.INLAY_SUNK, Code.INLAY_PROUD, Code.LOOSE_FIT, Code.THREAD_DRIED,
    }
)  # fmt: skip


@dataclass(frozen=True)
class Verdict:
    """One finding on a stage."""

    code: Code
    about: tuple[Thing, ...] = ()
    """Cuts, features or kit it concerns; what is at fault first."""
    numbers: Mapping[str, float] = field(default_factory=dict)
    """Plain numbers by name; the unit ends the name."""
    step: int = 0
    """Which step, counting from 0."""
    cut: int | None = None
    """Which of its cuts, or None for the hold."""
    at_mm: Vector | None = None
    """Where, in part coordinates."""

    @property
    def names(self) -> tuple[str, ...]:
        """What each thing that it is about is called."""
        return tuple(map(str, self.about))


@dataclass(frozen=True, kw_only=True)
class Jaws:
    """A set of chuck jaws."""

    name: str
    grip_mm: tuple[float, float] | None = None
    """Least and greatest diameter they close on."""
    open_mm: tuple[float, float] | None = None
    """Least and greatest diameter they open into."""
    deep_mm: float | None = None
    """How deep they reach: a longer tenon bottoms out and its shoulder does not seat."""
    dovetail_deg: float | None = None
    """How far their faces lean; nought where they are straight, none where that is not told."""


@dataclass(frozen=True, kw_only=True)
class Bit:
    """A drill bit."""

    diameter_mm: float
    reach_mm: float
    """Greatest depth it drills."""


@dataclass(frozen=True, kw_only=True)
class ShopLimits:
    """What the shop can hold, swing and drill; what is not told is not judged."""

    swing_mm: float | None = None
    """Greatest diameter over the bed."""
    between_centers_mm: float | None = None
    rpm: tuple[float, float] | None = None
    """Slowest and fastest turn of the lathe."""
    jaws: tuple[Jaws, ...] = ()
    drive_centers_mm: tuple[float, ...] = ()
    """Diameters of the drive centers."""
    bits: tuple[Bit, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Limits:
    """Where minding begins. Common practice, no published source; the wood and the author may say otherwise."""

    web_mm: float = 25.4 / 8
    """Less wood between two cuts is thin."""
    near_mm: float = 12.0
    """Wood between cuts is measured where it is less than this."""
    slender: float = 10.0
    """Length over least diameter of a spindle."""
    overhang: float = 4.0
    """Overhang over the diameter held, with no tailstock."""
    grip: float = 0.25
    """Wood in the jaws over its diameter, where they close on the wood's own outside, with no tailstock."""
    round: float = 1.05
    """Greatest width over least: wood that is further out than this is not round to a chuck's jaws."""
    square: float = 1.45
    """The same, of a square across its corners and its flats: four jaws close on four flats, and on two of a board."""
    pith_mm: float = 1.0
    """Less pith than this in the finished part is none."""
    bark_mm3: float = 100.0
    """Less bark than this on it is none: a tenth of a cubic centimetre."""
    saw_mm2: float = 20.0
    """Less of the saw's own faces on it is none: a fifth of a square centimetre."""
    mouth_mm: float = 6.0
    """A hollowing tool is no thinner than this where it passes the mouth."""
    reach: float = 15.0
    """Depth of a hollow over the thickness of the tool that it asks for."""
    hook_mm: float = 3.0
    """The bar of a small bent tool is no thinner than this, nor than its reach over `reach`."""
    dovetail_deg: float = 2.0
    """Jaws that lean otherwise by more bear on an edge."""
    inlay_mm: float = 1.0
    """What is left of an inlay that is thinner is sanded through: common practice, no published source."""
    flush_mm: float = 0.15
    """An inlay that lies lower, or stands higher, is not flush: a fingernail feels a tenth of a millimetre, and a round
    is drawn with straight sides. Common practice, no published source."""
    ring_play_mm: float = 1.5
    """A loose ring with less play on its stem, or less way along it, jams as the wood moves."""
    center_mm: float = 25.4
    """A center of which no width is told, at either end, does not span a wider hole than this."""
    grips_mm: float = 0.03
    """A lid with more play on its spigot than this is not gripped: a push fit is one that has none, and solids are
    drawn to some hundredths. Common practice, no published source."""
    left: float = 0.75
    """Share of a tenon's or hole's wood that must still be there to hold by it."""
    bears: float = 0.4
    """Share of a whole tenon's or hole's wood that must be there, whatever was there as it was made: the corners of a
    square blank in four jaws hold, the edge of a log does not. Common practice, no published source."""
