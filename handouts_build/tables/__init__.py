"""Published values as data, a source on every row."""

from handouts_build.tables.abrasives import CAMI, FEPA, Grit, grit, grits
from handouts_build.tables.bits import BitKind, bits
from handouts_build.tables.caution_facts import WORDS, Fact, FactKind
from handouts_build.tables.cautions import (
    CLOSING,
    CautionRule,
    Criterion,
    Facts,
    Signal,
    Where,
    fired,
    read_rules,
    rules,
)
from handouts_build.tables.finishes import Finish, SourcedNote, finishes, lookup_finish, suggest_finish
from handouts_build.tables.loading import (
    COMMON_PRACTICE,
    IndexWheel,
    Source,
    Standing,
    index_wheels,
    source,
    sources,
)
from handouts_build.tables.published import Published, published
from handouts_build.tables.speeds import ANY, MANUAL, TEXTBOOK, SpeedRow, SpeedRule, speed_row, speed_rows, speed_rules
from handouts_build.tables.woods import REACTION_WORDS, SITE_WORDS, Reaction, Wood, lookup_wood, suggest_wood, woods

__all__ = [
    "ANY",
    "CAMI",
    "CLOSING",
    "COMMON_PRACTICE",
    "FEPA",
    "MANUAL",
    "REACTION_WORDS",
    "SITE_WORDS",
    "TEXTBOOK",
    "WORDS",
    "BitKind",
    "CautionRule",
    "Criterion",
    "Fact",
    "FactKind",
    "Facts",
    "Finish",
    "Grit",
    "IndexWheel",
    "Published",
    "Reaction",
    "Signal",
    "Source",
    "SourcedNote",
    "SpeedRow",
    "SpeedRule",
    "Standing",
    "Where",
    "Wood",
    "bits",
    "finishes",
    "fired",
    "grit",
    "grits",
    "index_wheels",
    "lookup_finish",
    "lookup_wood",
    "published",
    "read_rules",
    "rules",
    "source",
    "sources",
    "speed_row",
    "speed_rows",
    "speed_rules",
    "suggest_finish",
    "suggest_wood",
    "woods",
]
