"""The workpiece as a solid: blanks, holds, cuts, and the stages they leave.

The rest of the library knows solids through this package alone. It takes plain
millimetres and degrees; `in_mm` and `in_deg` strip units at its door.
"""

from handouts_build.workpiece.axes import PART_AXIS, Axis, Vector, vector
from handouts_build.workpiece.blanks import BaseBlank, Board, Branch, Glued, GluedRing, Grain, Round, Square, Staves
from handouts_build.workpiece.cut import BaseCut, LooseRing, Nature, Reach
from handouts_build.workpiece.cuts.bored import BitType, Bore, Enlarge, Recess
from handouts_build.workpiece.cuts.carved import CarveSlots, Flutes
from handouts_build.workpiece.cuts.drilled import AxialHoles, HolesAround
from handouts_build.workpiece.cuts.groove import Groove
from handouts_build.workpiece.cuts.hollow import Hollow
from handouts_build.workpiece.cuts.parting import PartOff
from handouts_build.workpiece.cuts.profile import ProfileCut, Stub
from handouts_build.workpiece.cuts.staved import StaveGroove
from handouts_build.workpiece.cuts.still import CarveOval, Flat, Prism
from handouts_build.workpiece.cuts.turned import Ball, Cylinder, Facets, Tenon
from handouts_build.workpiece.doors import in_deg, in_mm
from handouts_build.workpiece.export import ColoredSolid, glb, stl
from handouts_build.workpiece.faults import WorkpieceFault
from handouts_build.workpiece.features import Feature, FeatureKind
from handouts_build.workpiece.glued_stack import GluedStack, StackCourse
from handouts_build.workpiece.helix import has_threads, true_threads
from handouts_build.workpiece.holds import (
    HELPING,
    HOLDS,
    BaseHold,
    BetweenCenters,
    BetweenHoles,
    Datum,
    End,
    Faceplate,
    InHand,
    JamChuck,
    JawsInRecess,
    JawsOnBlank,
    JawsOnTenon,
    Jig,
    Mandrel,
    OffsetCenters,
    ScrewChuck,
    held_end,
)
from handouts_build.workpiece.inlaid import Inset
from handouts_build.workpiece.join import (
    Assembly,
    Clash,
    EdgeFit,
    Fit,
    Hanging,
    Joint,
    Piece,
    Placed,
    SnapFit,
    ThreadFit,
    assemble,
)
from handouts_build.workpiece.kinds import BLANKS, CUTS, MARKS
from handouts_build.workpiece.laminated import Laminated, Layer
from handouts_build.workpiece.let_in import Edge
from handouts_build.workpiece.lids import Lid
from handouts_build.workpiece.logs import HalfLog, Log, LogSection, QuarterLog
from handouts_build.workpiece.lying import lying
from handouts_build.workpiece.marks import (
    AlongLine,
    BaseMark,
    Dots,
    EndCircle,
    RingLine,
    Texture,
    TextureBand,
    TextureTool,
)
from handouts_build.workpiece.measures import AirCut, Held, Spindle, radius_about_mm
from handouts_build.workpiece.shrinkage import AS_GROWN, Drying, Shrinkage
from handouts_build.workpiece.silhouette import silhouette
from handouts_build.workpiece.solid import Mesh, Solid, round_factor
from handouts_build.workpiece.stage import LetIn, PutOn, Stage, WorkStep
from handouts_build.workpiece.stages import Offcut, StageCache, carry
from handouts_build.workpiece.verdicts import Bit, Code, Jaws, Limits, ShopLimits, Subject, Thing, Verdict
from handouts_build.workpiece.views import (
    HalfSection,
    Line,
    across_axis,
    along_axis,
    half_section,
    on_wings,
    round_diameter,
    square_side,
)
from handouts_build.workpiece.web import Web

__all__ = [
    "AS_GROWN",
    "BLANKS",
    "CUTS",
    "HELPING",
    "HOLDS",
    "MARKS",
    "PART_AXIS",
    "AirCut",
    "AlongLine",
    "Assembly",
    "AxialHoles",
    "Axis",
    "Ball",
    "BaseBlank",
    "BaseCut",
    "BaseHold",
    "BaseMark",
    "BetweenCenters",
    "BetweenHoles",
    "Bit",
    "BitType",
    "Board",
    "Bore",
    "Branch",
    "CarveOval",
    "CarveSlots",
    "Clash",
    "Code",
    "ColoredSolid",
    "Cylinder",
    "Datum",
    "Dots",
    "Drying",
    "Edge",
    "EdgeFit",
    "End",
    "EndCircle",
    "Enlarge",
    "Faceplate",
    "Facets",
    "Feature",
    "FeatureKind",
    "Fit",
    "Flat",
    "Flutes",
    "Glued",
    "GluedRing",
    "GluedStack",
    "Grain",
    "Groove",
    "HalfLog",
    "HalfSection",
    "Hanging",
    "Held",
    "HolesAround",
    "Hollow",
    "InHand",
    "Inset",
    "JamChuck",
    "Jaws",
    "JawsInRecess",
    "JawsOnBlank",
    "JawsOnTenon",
    "Jig",
    "Joint",
    "Laminated",
    "Layer",
    "LetIn",
    "Lid",
    "Limits",
    "Line",
    "Log",
    "LogSection",
    "LooseRing",
    "Mandrel",
    "Mesh",
    "Nature",
    "Offcut",
    "OffsetCenters",
    "PartOff",
    "Piece",
    "Placed",
    "Prism",
    "ProfileCut",
    "PutOn",
    "QuarterLog",
    "Reach",
    "Recess",
    "RingLine",
    "Round",
    "ScrewChuck",
    "ShopLimits",
    "Shrinkage",
    "SnapFit",
    "Solid",
    "Spindle",
    "Square",
    "StackCourse",
    "Stage",
    "StageCache",
    "StaveGroove",
    "Staves",
    "Stub",
    "Subject",
    "Tenon",
    "Texture",
    "TextureBand",
    "TextureTool",
    "Thing",
    "ThreadFit",
    "Vector",
    "Verdict",
    "Web",
    "WorkStep",
    "WorkpieceFault",
    "across_axis",
    "along_axis",
    "assemble",
    "carry",
    "glb",
    "half_section",
    "has_threads",
    "held_end",
    "in_deg",
    "in_mm",
    "lying",
    "on_wings",
    "radius_about_mm",
    "round_diameter",
    "round_factor",
    "silhouette",
    "square_side",
    "stl",
    "true_threads",
    "vector",
]
