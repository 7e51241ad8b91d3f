"""The workpiece as a solid: blanks, holds, cuts, and the stages they leave.

The rest of the library knows solids through this package alone. It takes plain
millimetres and degrees; `in_mm` and `in_deg` strip units at its door.
"""

from handouts_build.workpiece.axes import PART_AXIS, Axis, Vector
from handouts_build.workpiece.blanks import Blank, Board, Branch, GluedRing, Grain, Round, Square, Staves
from handouts_build.workpiece.cut import Nature, Reach
from handouts_build.workpiece.cuts_hollow import Hollow, hollow_to_wall
from handouts_build.workpiece.cuts_inside import (
    AxialHoles,
    Bore,
    Enlarge,
    Groove,
    HolesAround,
    Recess,
)
from handouts_build.workpiece.cuts_outside import Ball, Cylinder, Facets, PartOff, ProfileCut, Stub, Tenon
from handouts_build.workpiece.cuts_still import CarveOval, Flat, Prism
from handouts_build.workpiece.doors import in_deg, in_mm
from handouts_build.workpiece.export import Look, glb, stl
from handouts_build.workpiece.faults import WorkpieceFault
from handouts_build.workpiece.features import Feature, FeatureKind
from handouts_build.workpiece.gaps import Web
from handouts_build.workpiece.holds import (
    BetweenCenters,
    BetweenHoles,
    Datum,
    End,
    Faceplate,
    Hold,
    InHand,
    JamChuck,
    JawsInRecess,
    JawsOnBlank,
    JawsOnTenon,
    Jig,
    OffsetCenters,
    ScrewChuck,
    held_end,
)
from handouts_build.workpiece.join import Assembly, Clash, Fit, Hanging, Joint, Piece, Placed, assemble
from handouts_build.workpiece.marks import AlongLine, Dots, EndCircle, Mark, RingLine
from handouts_build.workpiece.measures import AirCut, Held, Spindle, radius_about_mm
from handouts_build.workpiece.silhouette import silhouette
from handouts_build.workpiece.solid import Mesh, Solid, round_factor
from handouts_build.workpiece.stage import Cut, Stage, Step
from handouts_build.workpiece.stages import Kept, Offcut, carry
from handouts_build.workpiece.verdicts import HELD_END, Bit, Code, Jaws, Limits, ShopLimits, Verdict

__all__ = [
    "HELD_END",
    "PART_AXIS",
    "AirCut",
    "AlongLine",
    "Assembly",
    "AxialHoles",
    "Axis",
    "Ball",
    "BetweenCenters",
    "BetweenHoles",
    "Bit",
    "Blank",
    "Board",
    "Bore",
    "Branch",
    "CarveOval",
    "Clash",
    "Code",
    "Cut",
    "Cylinder",
    "Datum",
    "Dots",
    "End",
    "EndCircle",
    "Enlarge",
    "Faceplate",
    "Facets",
    "Feature",
    "FeatureKind",
    "Fit",
    "Flat",
    "GluedRing",
    "Grain",
    "Groove",
    "Hanging",
    "Held",
    "Hold",
    "HolesAround",
    "Hollow",
    "InHand",
    "JamChuck",
    "Jaws",
    "JawsInRecess",
    "JawsOnBlank",
    "JawsOnTenon",
    "Jig",
    "Joint",
    "Kept",
    "Limits",
    "Look",
    "Mark",
    "Mesh",
    "Nature",
    "Offcut",
    "OffsetCenters",
    "PartOff",
    "Piece",
    "Placed",
    "Prism",
    "ProfileCut",
    "Reach",
    "Recess",
    "RingLine",
    "Round",
    "ScrewChuck",
    "ShopLimits",
    "Solid",
    "Spindle",
    "Square",
    "Stage",
    "Staves",
    "Step",
    "Stub",
    "Tenon",
    "Vector",
    "Verdict",
    "Web",
    "WorkpieceFault",
    "assemble",
    "carry",
    "glb",
    "held_end",
    "hollow_to_wall",
    "in_deg",
    "in_mm",
    "radius_about_mm",
    "round_factor",
    "silhouette",
    "stl",
]
