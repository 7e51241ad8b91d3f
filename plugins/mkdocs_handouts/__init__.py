"""The MkDocs plugin `handouts`: a doorway to the library, and the only home of MkDocs."""
