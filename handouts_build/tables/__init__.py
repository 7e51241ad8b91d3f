"""Published values as data, a source on every row."""

from handouts_build.tables.loading import (
    IndexWheel,
    Movement,
    Source,
    Standing,
    index_wheels,
    movement,
    movements,
    sources,
)

__all__ = ["IndexWheel", "Movement", "Source", "Standing", "index_wheels", "movement", "movements", "sources"]
