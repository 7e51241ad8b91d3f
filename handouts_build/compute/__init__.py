"""Does it hold together? A project's model in, its sheet out."""

from handouts_build.compute.ready import compute

__all__ = ["compute"]
