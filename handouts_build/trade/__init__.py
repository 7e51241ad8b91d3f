"""The trade's arithmetic, one module a chapter, and the outline of a turned part."""

from handouts_build.trade.cross_holes import CROSS_HOLES
from handouts_build.trade.divisions import DIVISIONS
from handouts_build.trade.fit import FIT
from handouts_build.trade.groove import GROOVE
from handouts_build.trade.law import Chapter, Demand, Given, Law, Remark
from handouts_build.trade.sphere import SPHERE

__all__ = ["CHAPTERS", "Chapter", "Demand", "Given", "Law", "Remark"]

CHAPTERS: dict[str, Chapter] = {chapter.name: chapter for chapter in (SPHERE, DIVISIONS, CROSS_HOLES, GROOVE, FIT)}
"""Every chapter by the name a project file calls it by."""
