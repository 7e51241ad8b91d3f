"""Pictures of solids: from a mesh to a shaded still with what is taken away hatched."""
