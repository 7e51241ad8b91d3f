"""The words in which a step is described to the safety rules.

This module owns the closed vocabulary: which facts there are, what kind each is
and which words it may hold. Rules and callers both speak it, and a word that is
not here is refused; the words for holds alone are declared with the holds. It leaves
the rules themselves to `cautions`.
"""

from __future__ import annotations

import enum
from collections.abc import Mapping
from types import MappingProxyType

from handouts_build.tables.finishes import finishes
from handouts_build.tables.woods import REACTION_WORDS

__all__ = ["WORDS", "Fact", "FactKind"]


class FactKind(enum.Enum):
    """How a fact is written and compared."""

    WORD = "word"
    """One word or several of a closed list; any of them may match."""
    DECLARED = "declared word"
    """The same, of words that are declared with what they stand for, above these tables: whoever says one has checked
    it, and a test holds the rules to them."""
    NAME = "name"
    """A wood's name, in any case and either order; it need not be in the table."""
    NUMBER = "number"
    """A plain number in the unit the fact's name ends in; a rule asks for over or under."""
    FLAG = "flag"
    """True or false. A fact that is not given matches neither."""


class Fact(enum.StrEnum):
    """What may be said of a step or a project."""

    ALWAYS = "always"
    """True on every handout."""
    OPERATION = "operation"
    """What is done in the step."""
    TOOL = "tool"
    """What it is done with."""
    HOLD = "hold"
    """What holds the work; several while the tailstock helps a chuck, say."""
    ON_LATHE = "on_lathe"
    """Whether the lathe holds the work; false where it is held in the hand or at the bench."""
    TURNING = "turning"
    """Whether the lathe turns the work in the step."""
    TURNED_AFTER = "turned_after"
    """Whether the work is turned in the step or in a later one."""
    TAILSTOCK = "tailstock"
    """Whether the tailstock bears on the work."""
    SHAPE = "shape"
    """What in the shape of the work matters to fingers and tools."""
    GLUED_AFTER = "glued_after"
    """Whether something is glued in the step or in a later one."""
    METRIC = "metric"
    """Whether the reader's unit is metric."""
    MATERIAL = "material"
    """What the part is made of, broadly."""
    WOOD = "wood"
    """The wood's name."""
    WOOD_REACTION = "wood_reaction"
    """Reactions reported to the wood: `Wood.reaction_words` in the state it is in."""
    WOOD_LISTED = "wood_listed"
    """Whether the chart of reactions lists the wood at all."""
    WOOD_KNOWN = "wood_known"
    """Whether the table of woods has the wood at all."""
    CONDITION = "condition"
    """What state the wood is in: green, spalted, cracked."""
    FINISH = "finish"
    """Kind of finish: an id of the table of finishes."""
    FINISH_TRAIT = "finish_trait"
    """What the finish brings with it: `Finish.traits`, and sprayed where the step sprays it."""
    ADHESIVE = "adhesive"
    """Kind of glue."""
    ABRASIVE = "abrasive"
    """How it is sanded."""
    PUT_ON = "put_on"
    """What alone holds a part that is put on the one that the lathe holds."""
    FINDING = "finding"
    """What the project was found to do that needs care."""
    PIECE = "piece"
    """What the finished piece is or is for."""
    AUDIENCE = "audience"
    """Who is in the room besides the turner."""
    SETTING = "setting"
    """Where and how the turning takes place."""
    DIAMETER_MM = "diameter_mm"
    """Largest diameter about the present axis, millimeters."""
    LENGTH_TO_DIAMETER = "length_to_diameter"
    """Length between supports over the least diameter."""
    OVERHANG_TO_DIAMETER = "overhang_to_diameter"
    """Length beyond the hold, with no support at its end, over the diameter at the hold."""
    WALL_MM = "wall_mm"
    """Least wall, millimeters."""
    AIR_SHARE = "air_share"
    """Share of a turn in which the tool meets no wood, 0 to 1."""
    RIM_SPEED_M_MIN = "rim_speed_m_min"
    """Speed at the rim, meters per minute."""
    MASS_KG = "mass_kg"
    """Mass of the work on the lathe, kilograms."""
    DRILL_MM = "drill_mm"
    """Diameter of the bit, millimeters."""
    DRILL_DEPTH_TO_DIAMETER = "drill_depth_to_diameter"
    """Depth of the hole over its diameter."""

    @property
    def kind(self) -> FactKind:
        """How it is written and compared."""
        if self in _FLAGS:
            return FactKind.FLAG
        if self is Fact.WOOD:
            return FactKind.NAME
        if self is Fact.HOLD:
            return FactKind.DECLARED
        return FactKind.WORD if self in WORDS else FactKind.NUMBER


_FLAGS = frozenset(
    {
        Fact.ALWAYS, Fact.ON_LATHE, Fact.TURNING, Fact.TURNED_AFTER, Fact.TAILSTOCK, Fact.WOOD_LISTED, Fact.WOOD_KNOWN,
        Fact.GLUED_AFTER, Fact.METRIC,
    }
)  # fmt: skip


def _words(text: str) -> frozenset[str]:
    return frozenset(" ".join(word.split()) for word in text.split(","))


WORDS: Mapping[Fact, frozenset[str]] = MappingProxyType(
    {
        Fact.OPERATION: _words(
            """marking, measuring, mounting, indexing, roughing, spindle turning, faceplate turning,
            off-axis turning, cross-axis turning, reverse turning, reverse running, hollowing, boring, grooving,
            drilling, drilling across, parting, threading, texturing, carving, sanding, sanding at rest, power sanding,
            burning, fitting ferrule, gluing, assembling, finishing, buffing, sawing, sharpening, changing speed,
            changing wheel, drying, heat drying, boiling, demonstrating"""
        ),
        Fact.TOOL: _words(
            """spindle roughing gouge, spindle gouge, bowl gouge, skew chisel, scraper, parting tool, hollowing tool,
            drill bit, drill chuck, knife, carving gouge, rotary tool, wire, burning wire, cloth, calipers, bandsaw,
            chainsaw, table saw, miter saw, powered saw, handsaw, bench grinder, angle grinder, buffing wheel,
            power sander, disk sander, drill press, hand-held drill, router, vacuum cleaner, other powered tool"""
        ),
        Fact.SHAPE: _words(
            """thin wall, slender, open work, broken edge, square edge, natural edge, hollow form, segmented,
            small piece, out of balance, round blank, not yet round, loose ring"""
        ),
        Fact.MATERIAL: _words("wood, metal, resin, bone, shell, stone"),
        Fact.WOOD_REACTION: frozenset(REACTION_WORDS.values()),
        Fact.CONDITION: _words(
            """green, dry, dried after roughing, spalted, cracked, repaired, bark inclusion, loose knots, burl, punky,
            pith, reclaimed, treated, unknown wood"""
        ),
        Fact.FINISH: frozenset(finish.id for finish in finishes()),
        Fact.FINISH_TRAIT: _words("self-heating rags, solvent vapor, flammable, sprayed, tree nut, other allergen"),
        Fact.ADHESIVE: _words(
            """wood glue, hide glue, cyanoacrylate, epoxy, polyurethane glue, hot-melt glue, double-sided tape"""
        ),
        Fact.ABRASIVE: _words("paper, cloth-backed, mesh, wet, steel wool"),
        Fact.PUT_ON: _words("friction, snap, thread"),
        Fact.FINDING: _words(
            """nothing to hold, hold too small, cuts meet, thin wood, breaks through, bit too short, speed too high,
            overhang, out of balance"""
        ),
        Fact.PIECE: _words(
            """toy, spinning top, food, drink, candle, lamp, jewelry, tool handle, walking stick, box, bowl, vessel,
            ornament"""
        ),
        Fact.AUDIENCE: _words("onlookers, beginners, children"),
        Fact.SETTING: _words("demonstration, hands-on, own shop, alone, outdoors, video"),
    }
)
"""The words each word fact may hold."""
