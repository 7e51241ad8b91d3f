"""The kinds of blank, cut and mark there are, each by its word in the order that the reference has.

This is the list that all else goes by: a kind that stands here has its keys in the project
file, its place in the reference and in the editor's schema, its way to the workpiece, and
its part in cautions and speeds.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from handouts_build.workpiece.blanks import BaseBlank, Board, Branch, GluedRing, Round, Square, Staves
from handouts_build.workpiece.cut import BaseCut
from handouts_build.workpiece.cuts.behind import InsideCove, InsideGroove, Undercut
from handouts_build.workpiece.cuts.bored import Bore, Enlarge, Recess
from handouts_build.workpiece.cuts.captive import CaptiveRing
from handouts_build.workpiece.cuts.carved import CarveSlots, Flutes
from handouts_build.workpiece.cuts.drilled import AxialHoles, HolesAround
from handouts_build.workpiece.cuts.groove import Groove
from handouts_build.workpiece.cuts.hollow import Hollow
from handouts_build.workpiece.cuts.parting import PartOff
from handouts_build.workpiece.cuts.profile import ProfileCut
from handouts_build.workpiece.cuts.snap import SnapBead
from handouts_build.workpiece.cuts.staved import StaveGroove
from handouts_build.workpiece.cuts.still import CarveOval, Flat, Prism
from handouts_build.workpiece.cuts.thread import InsideThread, OutsideThread
from handouts_build.workpiece.cuts.turned import Ball, Cylinder, Facets, Tenon
from handouts_build.workpiece.glued_stack import GluedStack
from handouts_build.workpiece.laminated import Laminated
from handouts_build.workpiece.logs import HalfLog, LogSection, QuarterLog
from handouts_build.workpiece.marks import AlongLine, BaseMark, Dots, EndCircle, RingLine, TextureBand

__all__ = ["BLANKS", "CUTS", "MARKS"]

_BLANKS: tuple[type[BaseBlank], ...] = (
    Round, Square, Board, Branch, HalfLog, QuarterLog, LogSection, GluedRing, Staves, GluedStack,
    Laminated,
)  # fmt: skip
_CUTS: tuple[type[BaseCut], ...] = (
    Cylinder, Facets, Ball, Tenon, ProfileCut, PartOff, Bore, Recess, HolesAround, AxialHoles, Groove, Hollow,
    Enlarge, InsideGroove, InsideCove, Undercut, InsideThread, OutsideThread, SnapBead, CaptiveRing, Flat, Prism,
    CarveOval, Flutes, CarveSlots, StaveGroove,
)  # fmt: skip
_MARKS: tuple[type[BaseMark], ...] = (RingLine, AlongLine, EndCircle, Dots, TextureBand)

BLANKS: Mapping[str, type[BaseBlank]] = MappingProxyType({kind.word: kind for kind in _BLANKS})
"""The shapes of blank by what the sheet calls them."""
CUTS: Mapping[str, type[BaseCut]] = MappingProxyType({kind.word: kind for kind in _CUTS})
"""The kinds of cut by the author's word."""
MARKS: Mapping[str, type[BaseMark]] = MappingProxyType({kind.word: kind for kind in _MARKS})
"""The kinds of mark by the author's word."""
