"""The trade's arithmetic, one module a chapter, and the outline of a turned part."""

from handouts_build.trade.abrasive import GRIT_SEQUENCE
from handouts_build.trade.cross_holes import CROSS_HOLES
from handouts_build.trade.divisions import DIVISIONS
from handouts_build.trade.drilling import DRILLING
from handouts_build.trade.drying import DRYING
from handouts_build.trade.finish import FINISH
from handouts_build.trade.fit import FIT
from handouts_build.trade.flutes import FLUTES
from handouts_build.trade.groove import GROOVE
from handouts_build.trade.hollow_reach import HOLLOW_REACH
from handouts_build.trade.law import (
    Chapter,
    ChapterInput,
    ChapterRemark,
    Demand,
    Law,
    LookupResult,
    Word,
    WordFault,
    WordVerdict,
)
from handouts_build.trade.log_layout import LOG_LAYOUT
from handouts_build.trade.movement import MOVEMENT
from handouts_build.trade.off_axis import OFF_AXIS
from handouts_build.trade.rings import RINGS
from handouts_build.trade.snap_fit import SNAP_FIT
from handouts_build.trade.speed import SPEED
from handouts_build.trade.sphere import SPHERE
from handouts_build.trade.spiral import SPIRAL
from handouts_build.trade.staves import STAVES
from handouts_build.trade.threads import THREADS
from handouts_build.trade.wood import WOOD

__all__ = [
    "CHAPTERS",
    "Chapter",
    "ChapterInput",
    "ChapterRemark",
    "Demand",
    "Law",
    "LookupResult",
    "Word",
    "WordFault",
    "WordVerdict",
]

CHAPTERS: dict[str, Chapter] = {
    chapter.name: chapter
    for chapter in (
        SPHERE,
        DIVISIONS,
        CROSS_HOLES,
        GROOVE,
        FLUTES,
        SPIRAL,
        OFF_AXIS,
        HOLLOW_REACH,
        FIT,
        LOG_LAYOUT,
        THREADS,
        SNAP_FIT,
        RINGS,
        STAVES,
        SPEED,
        DRILLING,
        WOOD,
        MOVEMENT,
        DRYING,
        GRIT_SEQUENCE,
        FINISH,
    )
}
"""Every chapter by the name a project file calls it by."""
