"""The MkDocs plugin `handouts`: a doorway to the library, and the only home of MkDocs."""

from handouts_build.disk.workers import one_thread

# Before the plugin loads what loads numpy.
one_thread()
